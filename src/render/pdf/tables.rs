//! Tables: how wide their columns are, their rows, and the head that comes again.

use super::face::Weight;
use super::flow::{Piece, SIDE, Shape, Slab};
use super::lines::{Tone, broken};
use super::parts::{Columns, Desk, GAP, SMALL, span};
use super::tree::Kind;
use crate::render::papers::Table;

impl<'a> Desk<'a> {
    /// How wide the columns of a table are: as their shares say, but none narrower than its longest word if that can be.
    fn widths(&self, table: &Table) -> Vec<f64> {
        let columns = table.head.len();
        let all = self.wide(SIDE);
        let share = |at: usize| f64::from(table.shares.get(at).copied().unwrap_or(1).max(1));
        let sum: f64 = (0..columns).map(share).sum();
        let longest = |words: &str, weight| {
            let wide = |word: &str| self.faces.width_of(word, weight, SMALL.size);
            self.faces.shown(words).split(' ').map(wide).fold(0.0, f64::max) + GAP
        };
        let needs = |at: usize| {
            let head = table.head.get(at).map_or(0.0, |head| longest(head, Weight::Strong));
            let cells = table.rows.iter().filter_map(|row| row.get(at));
            cells.map(|cell| longest(cell, Weight::Plain)).fold(head, f64::max).min(all * 0.3)
        };
        let widths: Vec<(f64, f64)> = (0..columns).map(|at| (all * share(at) / sum, needs(at))).collect();
        let lacks: f64 = widths.iter().map(|(wide, needs)| (needs - wide).max(0.0)).sum();
        let spare: f64 = widths.iter().map(|(wide, needs)| (wide - needs).max(0.0)).sum();
        let given = if spare > 0.0 { (lacks / spare).min(1.0) } else { 0.0 };
        let fits = lacks <= spare;
        widths
            .into_iter()
            .map(|(wide, needs)| match (fits, wide < needs) {
                (false, _) => wide,
                (true, true) => needs,
                (true, false) => wide - (wide - needs) * given,
            })
            .collect()
    }

    pub(super) fn table(&mut self, table: &'a Table) {
        let part = self.tree.add(Kind::Table, None);
        if !table.caption.is_empty() {
            let caption = self.tree.add(Kind::Caption, Some(part));
            let words = self.faces.shown(&table.caption);
            self.words(&[span(words, Weight::Plain, Tone::Quiet, caption)], SMALL, SIDE, 4.0, true);
        }
        let widths = self.widths(table);
        let head = self.tree.add(Kind::Head, Some(part));
        let first = self.pieces.len();
        self.row(&table.head, &widths, Some(head), true, table.ruled);
        let mut again: Vec<Slab> = Vec::new();
        for piece in self.pieces.iter().skip(first) {
            if let Piece::Slab(slab) = piece {
                let mut slab = slab.clone();
                slab.runs.iter_mut().for_each(|run| run.style.part = None);
                again.push(slab);
            }
        }
        self.heads.push(again);
        let which = self.heads.len() - 1;
        let rows = self.tree.add(Kind::Rows, Some(part));
        for row in &table.rows {
            let first = self.pieces.len();
            self.row(row, &widths, Some(rows), false, table.ruled);
            for piece in self.pieces.iter_mut().skip(first) {
                if let Piece::Slab(slab) = piece {
                    slab.head = Some(which);
                }
            }
        }
        if table.rows.is_empty()
            && let Some(slab) = self.last()
        {
            slab.tied = false;
        }
    }

    fn row(&mut self, cells: &[String], widths: &[f64], under: Option<usize>, head: bool, ruled: bool) {
        let first = self.pieces.len();
        let row = self.tree.add(Kind::Row, under);
        let (kind, weight) =
            if head { (Kind::HeadCell, Weight::Strong) } else { (Kind::Cell, Weight::Plain) };
        let mut columns: Columns = Vec::new();
        let mut x = SIDE;
        for (cell, wide) in cells.iter().zip(widths) {
            let part = self.tree.add(kind.clone(), Some(row));
            let spans = [span(self.faces.shown(cell), weight, Tone::Ink, part)];
            columns.push((x, broken(self.faces, &spans, SMALL.size, (wide - GAP).max(1.0))));
            x += wide;
        }
        if columns.iter().all(|(_, lines)| lines.is_empty()) {
            // A row to be filled in.
            columns.push((SIDE, vec![Vec::new(), Vec::new()]));
        }
        self.put(columns, SMALL, 2.5, true, head);
        let right = self.right;
        if let Some(slab) = self.last() {
            slab.high += 3.0;
            let y = slab.high - 0.5;
            let (thick, tone) = if head { (1.0, Tone::Ink) } else { (0.4, Tone::Quiet) };
            slab.shapes.push(Shape::Rule { from: SIDE, to: right, y, thick, tone });
        }
        if ruled {
            // Cells that are written in have a frame.
            let edges = widths.iter().scan(SIDE, |x, wide| {
                *x += wide;
                Some(*x - GAP / 2.0)
            });
            let edges: Vec<f64> = edges.take(widths.len().saturating_sub(1)).collect();
            for piece in self.pieces.iter_mut().skip(first) {
                if let Piece::Slab(slab) = piece {
                    let (from, to) = (-slab.before, slab.high);
                    slab.shapes.extend(edges.iter().map(|x| Shape::Post { x: *x, from, to }));
                }
            }
        }
    }
}
