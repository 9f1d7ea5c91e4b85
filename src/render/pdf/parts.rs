//! The parts of a paper, turned into pieces that are laid on pages.

use super::face::{Faces, Weight};
use super::flow::{Beside, Drawn, Mark, Piece, SIDE, Shape, Slab, upright};
use super::lines::{Run, SOME_PAGE, Span, Style, Tone, broken};
use super::tree::{Kind, Tree};
use crate::drawing::{Paper as Size, Sheet};
use crate::render::papers::{Item, Paper, Part, anchor};
use crate::render::tell::told::Weighs;

/// How high letters are, and how far line lies from line.
#[derive(Clone, Copy)]
pub(super) struct Type {
    pub(super) size: f64,
    pub(super) lead: f64,
}

const TITLE: Type = Type { size: 20.0, lead: 24.0 };
const PART: Type = Type { size: 14.0, lead: 18.0 };
pub(super) const BELOW: Type = Type { size: 11.0, lead: 14.5 };
pub(super) const BODY: Type = Type { size: 9.5, lead: 12.6 };
pub(super) const SMALL: Type = Type { size: 8.5, lead: 11.2 };
/// What is there to be held against another sheet, and not to be read.
const FINE: Type = Type { size: 7.0, lead: 8.6 };

/// How far a finding is set in from the line beside it.
pub(super) const SET_IN: f64 = 12.0;
/// Room for the page at the end of a line.
const PAGES: f64 = 50.0;
/// White between columns.
pub(super) const GAP: f64 = 9.0;

/// A paper in pieces.
pub(super) struct Pieces<'a> {
    pub(super) pieces: Vec<Piece<'a>>,
    pub(super) heads: Vec<Vec<Slab>>,
    pub(super) tree: Tree,
}

/// Columns of lines that stand side by side.
pub(super) type Columns = Vec<(f64, Vec<Vec<Run>>)>;

pub(super) struct Desk<'a> {
    pub(super) faces: &'a Faces,
    pub(super) paper: &'a Paper,
    pub(super) tree: Tree,
    pub(super) pieces: Vec<Piece<'a>>,
    pub(super) heads: Vec<Vec<Slab>>,
    /// Where the right edge of what is told lies.
    pub(super) right: f64,
    /// Headings that wait for what they head.
    headings: Vec<(u8, String, String)>,
    /// What runs down beside the pieces that are told now, and how many there were.
    pub(super) beside: Option<(usize, Beside)>,
    besides: usize,
}

pub(super) fn span(words: impl Into<String>, weight: Weight, tone: Tone, part: usize) -> Span {
    Span { words: words.into(), style: Style { weight, tone, part: Some(part), ..Style::default() } }
}

/// The page on which a name is, between these.
pub(super) fn page_of(to: &str, (before, after): (&str, &str), part: usize) -> [Span; 1] {
    let mut page = span(format!("{before}{SOME_PAGE}{after}"), Weight::Plain, Tone::Quiet, part);
    page.style.page_of = Some(to.to_owned());
    [page]
}

/// The paper in pieces, for pages of this size.
pub(super) fn told<'a>(faces: &'a Faces, paper: &'a Paper, size: Size) -> Pieces<'a> {
    let mut desk = Desk {
        faces,
        paper,
        tree: Tree::default(),
        pieces: Vec::new(),
        heads: Vec::new(),
        right: upright(size).0 - SIDE,
        headings: Vec::new(),
        beside: None,
        besides: 0,
    };
    let first = paper.parts.iter().find(|part| !matches!(part, Part::Heading(..)));
    if matches!(first, Some(Part::Drawing(..))) {
        // No page for the title alone: it stands above the drawing.
        desk.headings.push((1, faces.shown(&paper.title), String::new()));
    } else {
        desk.title();
    }
    for part in &paper.parts {
        desk.part(part);
    }
    desk.foot();
    Pieces { pieces: desk.pieces, heads: desk.heads, tree: desk.tree }
}

impl<'a> Desk<'a> {
    pub(super) fn wide(&self, from: f64) -> f64 {
        self.right - from
    }

    /// Puts columns side by side, a piece for each line.
    pub(super) fn put(&mut self, columns: Columns, of: Type, before: f64, whole: bool, tied: bool) {
        let rows = columns.iter().map(|(_, lines)| lines.len()).max().unwrap_or(0);
        let mut slabs: Vec<Slab> = (0..rows).map(|_| Slab { high: of.lead, ..Slab::default() }).collect();
        for (x, lines) in columns {
            for (slab, line) in slabs.iter_mut().zip(lines) {
                let y = (of.lead - of.size) / 2.0 + of.size * 0.8;
                slab.runs.extend(line.into_iter().map(|run| Run { x: run.x + x, y, ..run }));
            }
        }
        for (at, slab) in slabs.iter_mut().enumerate() {
            // Neither the first line of several nor the last stands alone on a page.
            slab.tied = if at + 1 == rows { tied } else { whole || at == 0 || at + 2 == rows };
            slab.beside = self.beside;
            if at == 0 {
                slab.before = before;
            }
        }
        self.pieces.extend(slabs.into_iter().map(Piece::Slab));
    }

    /// Words from here to the right edge.
    pub(super) fn words(&mut self, spans: &[Span], of: Type, x: f64, before: f64, tied: bool) {
        let lines = broken(self.faces, spans, of.size, self.wide(x));
        self.put(vec![(x, lines)], of, before, false, tied);
    }

    /// The piece that was put last.
    pub(super) fn last(&mut self) -> Option<&mut Slab> {
        self.pieces.iter_mut().rev().find_map(|piece| match piece {
            Piece::Slab(slab) => Some(slab),
            Piece::Drawn(_) | Piece::Turn => None,
        })
    }

    /// The piece at this place, if it is one.
    pub(super) fn at(&mut self, number: usize) -> Option<&mut Slab> {
        match self.pieces.get_mut(number) {
            Some(Piece::Slab(slab)) => Some(slab),
            _ => None,
        }
    }

    fn title(&mut self) {
        let words = self.faces.shown(&self.paper.title);
        let part = self.tree.add(Kind::Heading(1, words.clone()), None);
        let first = self.pieces.len();
        self.words(&[span(words.clone(), Weight::Strong, Tone::Ink, part)], TITLE, SIDE, 0.0, true);
        if let Some(slab) = self.at(first) {
            slab.mark = Some(Mark { depth: 1, words });
        }
        for line in self.paper.about.iter().filter(|line| !line.is_empty()) {
            let part = self.tree.add(Kind::Words, None);
            let words = self.faces.shown(line);
            self.words(&[span(words, Weight::Plain, Tone::Quiet, part)], BODY, SIDE, 1.0, true);
        }
        let right = self.right;
        if let Some(slab) = self.last() {
            slab.tied = false;
            slab.high += 6.0;
            let y = slab.high - 1.0;
            slab.shapes.push(Shape::Rule { from: SIDE, to: right, y, thick: 1.0, tone: Tone::Ink });
        }
    }

    fn part(&mut self, part: &'a Part) {
        match part {
            Part::Heading(depth, words, name) => {
                self.headings.push((*depth, self.faces.shown(words), name.clone()));
            }
            Part::Drawing(name, sheet) => self.drawing(name, sheet),
            Part::NewSheet => self.pieces.push(Piece::Turn),
            _ => {
                self.head();
                match part {
                    Part::Words(words) => self.paragraph(words),
                    Part::Banner(weighs, words, more) => self.banner(*weighs, words, more),
                    Part::List(items) => self.list(items),
                    Part::Table(table) => self.table(table),
                    Part::Finding(told) => self.finding(told),
                    Part::Fault(fault) => self.fault(fault),
                    Part::Blanks(blanks) => self.blanks(blanks),
                    Part::Sign(sign) => self.sign(sign),
                    Part::Measure(length) => self.measure(length),
                    Part::Heading(..) | Part::Drawing(..) | Part::NewSheet => {}
                }
            }
        }
    }

    /// The headings that wait.
    fn head(&mut self) {
        let headings = std::mem::take(&mut self.headings);
        for (depth, words, name) in headings.into_iter().filter(|(_, words, _)| !words.is_empty()) {
            let part = self.tree.add(Kind::Heading(depth.max(2), words.clone()), None);
            let (of, before) = if depth <= 2 { (PART, 16.0) } else { (BELOW, 11.0) };
            let first = self.pieces.len();
            self.words(&[span(words.clone(), Weight::Strong, Tone::Ink, part)], of, SIDE, before, true);
            if let Some(slab) = self.at(first) {
                slab.names.push(name);
                slab.mark = Some(Mark { depth: depth.max(2), words });
            }
            let right = self.right;
            if let (true, Some(slab)) = (depth <= 2, self.last()) {
                slab.high += 3.0;
                let y = slab.high - 1.5;
                slab.shapes.push(Shape::Rule { from: SIDE, to: right, y, thick: 1.0, tone: Tone::Ink });
            }
        }
    }

    fn paragraph(&mut self, words: &str) {
        let part = self.tree.add(Kind::Words, None);
        // What leads on to a list stands on the page where that begins.
        let leads = words.ends_with(':');
        let words = self.faces.shown(words);
        self.words(&[span(words, Weight::Plain, Tone::Ink, part)], BODY, SIDE, 3.0, leads);
    }

    /// Begins something that has a line or a frame beside it.
    pub(super) fn begin(&mut self, look: Beside) {
        self.besides += 1;
        self.beside = Some((self.besides, look));
    }

    fn banner(&mut self, weighs: Weighs, words: &str, more: &[String]) {
        let double = matches!(weighs, Weighs::Stops | Weighs::Unmet);
        self.begin(Beside::Frame { from: SIDE, to: self.right, double });
        let section = self.tree.add(Kind::Section, None);
        self.right -= SET_IN;
        let part = self.tree.add(Kind::Words, Some(section));
        let words = self.faces.shown(words);
        let first = Type { size: 12.0, lead: 16.0 };
        let some = !more.is_empty();
        self.words(&[span(words, Weight::Strong, Tone::Ink, part)], first, SIDE + SET_IN, 20.0, some);
        for (at, line) in more.iter().enumerate() {
            let part = self.tree.add(Kind::Words, Some(section));
            let words = self.faces.shown(line);
            let tied = at + 1 < more.len();
            self.words(&[span(words, Weight::Plain, Tone::Ink, part)], BODY, SIDE + SET_IN, 3.0, tied);
        }
        self.right += SET_IN;
        self.beside = None;
        if let Some(slab) = self.last() {
            slab.high += 2.0;
        }
        // White below the frame, so that nothing stands on it.
        self.pieces.push(Piece::Slab(Slab { high: 6.0, ..Slab::default() }));
    }

    fn list(&mut self, items: &'a [Item]) {
        let list = self.tree.add(Kind::List, None);
        for item in items {
            self.item(item, list, SIDE, BODY);
        }
    }

    fn item(&mut self, item: &Item, list: usize, x: f64, of: Type) {
        let one = self.tree.add(Kind::Item, Some(list));
        let label = self.tree.add(Kind::Label, Some(one));
        let body = self.tree.add(Kind::Body, Some(one));
        let mut spans = Vec::new();
        let several = item.leads.len() > 1;
        for (at, (to, called)) in item.leads.iter().enumerate() {
            if at > 0 {
                spans.push(span(", ", Weight::Plain, Tone::Ink, body));
            }
            spans.push(self.lead(to, called, body));
            if several {
                spans.extend(page_of(to, (" (", ")"), body));
            }
        }
        let words = self.faces.shown(&item.words);
        match (item.leads.is_empty(), words.is_empty()) {
            (true, _) => spans.push(span(words, Weight::Plain, Tone::Ink, body)),
            (false, false) => spans.push(span(format!(" ({words})"), Weight::Plain, Tone::Quiet, body)),
            (false, true) => {}
        }
        let within = x + 11.0;
        let dot = [span("\u{2022}", Weight::Plain, Tone::Ink, label)];
        let mut columns = vec![(x + 2.0, broken(self.faces, &dot, of.size, 20.0))];
        let mut room = self.wide(within);
        if let (false, Some((to, _))) = (several, item.leads.first()) {
            room -= PAGES;
            let page = page_of(to, ("", ""), body);
            columns.push((self.right - PAGES + GAP, broken(self.faces, &page, of.size, PAGES)));
        }
        columns.insert(1, (within, broken(self.faces, &spans, of.size, room)));
        self.put(columns, of, if of.lead < SMALL.lead { 0.0 } else { 1.5 }, false, false);
    }

    /// Words that lead somewhere.
    pub(super) fn lead(&mut self, to: &str, called: &str, under: usize) -> Span {
        let part = self.tree.add(Kind::Link, Some(under));
        let mut lead = span(self.faces.shown(called), Weight::Plain, Tone::Leads, part);
        lead.style.to = Some(to.to_owned());
        lead
    }

    fn drawing(&mut self, name: &str, sheet: &'a Sheet) {
        let mut headings = Vec::new();
        for (depth, words, name) in std::mem::take(&mut self.headings) {
            let part = self.tree.add(Kind::Heading(depth, words.clone()), None);
            headings.push((depth, words, name, part));
        }
        if headings.is_empty() {
            let part = self.tree.add(Kind::Words, None);
            headings.push((3, self.faces.shown(&sheet.title), anchor("drawing", name), part));
        }
        let said = sheet.twin.iter().filter(|part| !part.lines.is_empty());
        let said = said.map(|part| format!("{}. {}.", part.title, part.lines.join(". ")));
        let words = format!("{}. {}", sheet.title, said.collect::<Vec<_>>().join(" "));
        let part = self.tree.add(Kind::Drawing(words), None);
        let leads = self.tree.add(Kind::Words, None);
        self.pieces.push(Piece::Drawn(Drawn { sheet, headings, part, leads }));
    }

    /// What the paper was made of, and which letters it shows by their numbers.
    fn foot(&mut self) {
        let words = "What this page was made of";
        let part = self.tree.add(Kind::Heading(2, words.to_owned()), None);
        let first = self.pieces.len();
        self.words(&[span(words, Weight::Strong, Tone::Ink, part)], BELOW, SIDE, 9.0, true);
        if let Some(slab) = self.at(first) {
            slab.mark = Some(Mark { depth: 2, words: words.to_owned() });
        }
        let list = self.tree.add(Kind::List, None);
        let item = |words: String| Item { weighs: Weighs::Silent, words, leads: Vec::new() };
        let first = self.pieces.len();
        for line in &self.paper.foot {
            self.item(&item(line.clone()), list, SIDE, FINE);
        }
        let many = self.pieces.len();
        for number in first..many.saturating_sub(1) {
            if let Some(slab) = self.at(number) {
                slab.tied = true;
            }
        }
        for part in &self.paper.parts {
            if let Part::Drawing(_, sheet) = part {
                for mark in &sheet.marks {
                    if let crate::drawing::scene::Form::Words { words, .. } = &mark.form {
                        let _ = self.faces.drawn(words);
                    }
                }
            }
        }
        let lacking = self.faces.lacking();
        if !lacking.is_empty() {
            let numbers: Vec<String> =
                lacking.iter().map(|letter| format!("U+{:04X}", u32::from(*letter))).collect();
            let words = format!(
                "The typeface of this paper has no sign for {}. In words the number stands in its place, on drawings a box.",
                numbers.join(", ")
            );
            self.item(&item(words), list, SIDE, SMALL);
        }
    }
}
