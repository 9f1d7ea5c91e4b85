//! Findings, faults and rows of a form: a heading with number and verdict, the lines that decided, labels with what
//! belongs to them, clauses and answers.

use super::face::Weight;
use super::flow::{Beside, Mark, Piece, SIDE, Shape};
use super::lines::{Run, Style, Tone, broken};
use super::parts::{BELOW, BODY, Columns, Desk, GAP, SET_IN, SMALL, page_of, span};
use super::tree::Kind;
use crate::drawing::Sheet;
use crate::render::papers::excerpt::Shown;
use crate::render::papers::{Fault, Part, Told, anchor};
use crate::render::tell::told::Weighs;

/// How wide the column of labels is beside what belongs to them.
const LABELS: f64 = 82.0;
/// The same on a form, where labels are short.
const FORM_LABELS: f64 = 50.0;
/// A finding that is less high than this stays on one page.
const TOGETHER: f64 = 150.0;
/// The same for a row of a form: whoever fills it in has all of it before them.
const FORM_TOGETHER: f64 = 480.0;

/// A verdict that stands in a box, filled or drawn round.
struct Verdict {
    part: usize,
    words: String,
    filled: bool,
}

impl<'a> Desk<'a> {
    /// The line beside a finding, by how it weighs.
    fn line_for(weighs: Weighs) -> Beside {
        let x = SIDE + 1.5;
        match weighs {
            Weighs::Stops | Weighs::Unmet => Beside::Two { x },
            Weighs::Open => Beside::Line { x, thick: 2.5, broken: true },
            Weighs::Met | Weighs::Silent => Beside::Line { x, thick: 1.0, broken: false },
        }
    }

    pub(super) fn finding(&mut self, told: &'a Told) {
        let begins = self.pieces.len();
        self.begin(Self::line_for(told.weighs));
        let section = self.tree.add(Kind::Section, None);
        let x = SIDE + SET_IN;
        let title = match told.thing.as_str() {
            "" => self.faces.shown(&told.title),
            thing => self.faces.shown(&format!("{}: {thing}", told.title)),
        };
        let said = told.number.map_or_else(String::new, |number| format!("{number} "));
        let heading = self.tree.add(Kind::Heading(3, format!("{said}{title}")), Some(section));
        let form = !told.answers.is_empty();
        let before = if form { 9.0 } else { 14.0 };
        let verdict = Verdict {
            part: self.tree.add(Kind::Words, Some(section)),
            words: self.faces.shown(&told.verdict),
            filled: matches!(told.weighs, Weighs::Stops | Weighs::Unmet),
        };
        self.head_of(told.number, &title, heading, x, before, Some(verdict));
        if let Some(slab) = self.at(begins) {
            slab.names.push(told.anchor.clone());
            slab.mark = Some(Mark { depth: 3, words: format!("{said}{title}") });
        }
        self.shown_on(told, section, x);
        if !told.sentence.is_empty() {
            let part = self.tree.add(Kind::Words, Some(section));
            let words = self.faces.shown(&told.sentence);
            self.words(&[span(words, Weight::Plain, Tone::Ink, part)], BODY, x, 3.0, true);
        }
        self.excerpt(&told.shown, section, x);
        self.rows(&told.rows, section, x, if form { FORM_LABELS } else { LABELS });
        self.cited(&told.cited, section, x);
        let mut whole = begins;
        for (at, answer) in told.answers.iter().enumerate() {
            self.answer(answer, section, x);
            if at == 0 {
                whole = self.pieces.len().saturating_sub(1);
            }
        }
        self.finish(begins, whole, if form { FORM_TOGETHER } else { TOGETHER });
    }

    /// The heading of a finding, its number in a ring, its verdict in a box at the right edge.
    fn head_of(
        &mut self,
        number: Option<usize>,
        title: &str,
        part: usize,
        x: f64,
        before: f64,
        verdict: Option<Verdict>,
    ) {
        let title = [span(title, Weight::Strong, Tone::Ink, part)];
        let first = self.pieces.len();
        let mut columns: Columns = Vec::new();
        let mut from = x;
        let mut ring = None;
        if let Some(number) = number {
            let (run, radius) = self.number(number, part);
            from += radius * 2.0 + 5.0;
            columns.push((x + radius - run.wide / 2.0, vec![vec![run]]));
            ring = Some(radius);
        }
        let mut room = self.wide(from);
        let (mut frame, mut last) = (None, first);
        if let Some(Verdict { part, words, filled }) = verdict {
            let wide = self.faces.width_of(&words, Weight::Strong, SMALL.size);
            let tone = if filled { Tone::Ground } else { Tone::Ink };
            let style = Style { weight: Weight::Strong, tone, part: Some(part), ..Style::default() };
            let run = Run { x: 0.0, y: 0.0, size: SMALL.size, wide, words, style };
            let at = self.right - wide - 5.0;
            room -= wide + 10.0 + GAP;
            frame = Some((at, wide, filled));
            let lines = broken(self.faces, &title, BELOW.size, room);
            // Behind the last line, so that the words of the title follow each other.
            last = first + lines.len().saturating_sub(1);
            let mut beside = vec![Vec::new(); lines.len().saturating_sub(1)];
            beside.push(vec![run]);
            columns.push((from, lines));
            columns.push((at, beside));
        } else {
            columns.push((from, broken(self.faces, &title, BELOW.size, room)));
        }
        self.put(columns, BELOW, before, true, true);
        if let (Some(radius), Some(slab)) = (ring, self.at(first)) {
            let y = slab.runs.first().map_or(0.0, |run| run.y - SMALL.size * 0.33);
            slab.shapes.push(Shape::Ring { x: x + radius, y, radius });
        }
        if let (Some((at, wide, filled)), Some(slab)) = (frame, self.at(last)) {
            let y = (BELOW.lead - BELOW.size) / 2.0 + BELOW.size * 0.8;
            let frame = [at - 4.0, y - 9.0, at + wide + 4.0, y + 3.2];
            slab.shapes.push(Shape::Box { frame, filled });
        }
    }

    /// A number to stand in a ring, and how wide the ring is from its middle.
    pub(super) fn number(&self, number: usize, part: usize) -> (Run, f64) {
        let number = number.to_string();
        let wide = self.faces.width_of(&number, Weight::Strong, SMALL.size);
        let style = Style { weight: Weight::Strong, part: Some(part), ..Style::default() };
        let run = Run { x: 0.0, y: 0.0, size: SMALL.size, wide, words: format!("{number} "), style };
        (run, (wide / 2.0 + 2.5).max(7.0))
    }

    /// On which drawings a finding is shown.
    fn shown_on(&mut self, told: &Told, section: usize, x: f64) {
        let Some(number) = told.number else { return };
        let paper = self.paper;
        let drawings = paper.parts.iter().filter_map(|part| match part {
            Part::Drawing(name, sheet) => Some((name, sheet)),
            _ => None,
        });
        let shows = |sheet: &Sheet| sheet.marks.iter().any(|mark| mark.flags.contains(&number));
        let shown: Vec<_> = drawings.filter(|(_, sheet)| shows(sheet)).collect();
        if shown.is_empty() {
            return;
        }
        let part = self.tree.add(Kind::Words, Some(section));
        let mut spans = Vec::new();
        for (at, (name, sheet)) in shown.into_iter().enumerate() {
            spans.push(span(if at == 0 { "Shown on: " } else { "  " }, Weight::Plain, Tone::Quiet, part));
            let to = anchor("drawing", name);
            let called = sheet.title.split(':').next().unwrap_or("");
            let lead = self.lead(&to, called, part);
            spans.push(lead);
            spans.extend(page_of(&to, (" (", ")"), part));
        }
        self.words(&spans, BODY, x, 2.0, true);
    }

    /// The clauses that ask for what stands on a form, in small letters.
    fn cited(&mut self, clauses: &[String], section: usize, x: f64) {
        if clauses.is_empty() {
            return;
        }
        let list = self.tree.add(Kind::List, Some(section));
        for (at, clause) in clauses.iter().enumerate() {
            let item = self.tree.add(Kind::Item, Some(list));
            let label = if at == 0 { "clause" } else { "and" };
            let name = self.tree.add(Kind::Label, Some(item));
            let body = self.tree.add(Kind::Body, Some(item));
            let label = [span(label, Weight::Plain, Tone::Quiet, name)];
            let words = [span(self.faces.shown(clause), Weight::Plain, Tone::Quiet, body)];
            let within = x + FORM_LABELS;
            let columns = vec![
                (x, broken(self.faces, &label, SMALL.size, FORM_LABELS - GAP)),
                (within, broken(self.faces, &words, SMALL.size, self.wide(within))),
            ];
            // Below the ring of a number, where nothing stands between.
            self.put(columns, SMALL, if at == 0 { 4.0 } else { 0.5 }, false, true);
        }
    }

    /// The lines of the file that decided.
    fn excerpt(&mut self, shown: &[Shown], section: usize, x: f64) {
        let quoted = |file: &str| self.paper.quoted.iter().any(|quoted| quoted.name == file);
        let places: Vec<String> = shown
            .iter()
            .map(|one| match quoted(&one.file) {
                true => format!("line {}", one.line),
                false => format!("{}, line {}", one.file, one.line),
            })
            .collect();
        for (at, (one, place)) in shown.iter().zip(places).enumerate() {
            let part = self.tree.add(Kind::Words, Some(section));
            let mut spans =
                vec![span(format!("{}   ", self.faces.shown(&place)), Weight::Plain, Tone::Quiet, part)];
            for (text, marked) in &one.pieces {
                let weight = if *marked { Weight::Strong } else { Weight::Plain };
                let mut piece = span(self.faces.shown(text), weight, Tone::Ink, part);
                piece.style.under = *marked;
                spans.push(piece);
            }
            if !one.notes.is_empty() {
                let said = self.faces.shown(&one.notes.join("; "));
                spans.push(span(format!("   {said}"), Weight::Plain, Tone::Quiet, part));
            }
            self.words(&spans, SMALL, x + 8.0, if at == 0 { 3.0 } else { 1.0 }, true);
        }
    }

    /// Labels, and what belongs to them.
    fn rows(&mut self, rows: &[(String, String)], section: usize, x: f64, labels: f64) {
        let list = self.tree.add(Kind::List, Some(section));
        for (at, (label, words)) in rows.iter().filter(|(_, words)| !words.is_empty()).enumerate() {
            let item = self.tree.add(Kind::Item, Some(list));
            let name = self.tree.add(Kind::Label, Some(item));
            let body = self.tree.add(Kind::Body, Some(item));
            let label = [span(self.faces.shown(label), Weight::Plain, Tone::Quiet, name)];
            let words = [span(self.faces.shown(words), Weight::Plain, Tone::Ink, body)];
            let within = x + labels;
            let columns = vec![
                (x, broken(self.faces, &label, BODY.size, labels - GAP)),
                (within, broken(self.faces, &words, BODY.size, self.wide(within))),
            ];
            self.put(columns, BODY, if at == 0 { 4.0 } else { 1.0 }, false, false);
        }
    }

    /// Ends something with a line beside it. What is short stays on one page; of what is long, the beginning goes with
    /// the first of its rows, and of a form all that is alike with the first answer.
    fn finish(&mut self, begins: usize, whole: usize, together: f64) {
        self.beside = None;
        let slabs = || {
            self.pieces.iter().skip(begins).map(|piece| match piece {
                Piece::Slab(slab) => slab.before + slab.high,
                Piece::Drawn(_) | Piece::Turn => 0.0,
            })
        };
        let short = slabs().sum::<f64>() < together;
        let many = self.pieces.len();
        for number in begins..many {
            if let Some(slab) = self.at(number) {
                slab.tied = (slab.tied || short || number < whole) && number + 1 < many;
            }
        }
    }

    pub(super) fn fault(&mut self, fault: &'a Fault) {
        let begins = self.pieces.len();
        self.begin(Self::line_for(fault.weighs));
        let section = self.tree.add(Kind::Section, None);
        let x = SIDE + SET_IN;
        let title = self.faces.shown(&fault.what);
        let heading = self.tree.add(Kind::Heading(3, title.clone()), Some(section));
        self.head_of(None, &title, heading, x, 14.0, None);
        self.excerpt(&fault.shown, section, x);
        self.rows(&fault.rows, section, x, LABELS);
        self.finish(begins, begins, TOGETHER);
    }
}
