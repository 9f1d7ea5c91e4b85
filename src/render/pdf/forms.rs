//! What is filled in by hand, and signs to cut out at their true size.

use super::face::Weight;
use super::flow::{Beside, Piece, SIDE, Shape, Slab};
use super::lines::{Run, Style, Tone, broken};
use super::parts::{BODY, Columns, Desk, GAP, SET_IN, SMALL, Type, span};
use super::tree::Kind;
use crate::base::number::{Number, Quantity};
use crate::render::papers::true_size::{hundredths, millimetres};
use crate::render::papers::{Answer, Blank, Sign};

/// How wide the labels are in front of lines of a form.
const LABELS: f64 = 128.0;
/// How high the line of a form is that is written on.
const WRITTEN_ON: f64 = 19.0;
/// How wide a line has to be so that one can write on it.
const ROOM: f64 = 190.0;
/// The same where the line stands for one thing among several.
const SHORT_ROOM: f64 = 80.0;
/// Room for a number and a thing in front of boxes.
const THING: f64 = 126.0;
/// How wide and high a box to tick is.
const TICK: f64 = 9.0;
/// How high capital letters of the typeface are beside its size, as its file says.
const CAPITALS: f64 = 0.66;
/// Points in an inch, and millimetres.
const POINTS: f64 = 72.0;
const MILLIMETRES: f64 = 25.4;

/// A length in points.
fn points(of: &Number) -> f64 {
    hundredths(of) as f64 / 100.0 / MILLIMETRES * POINTS
}

impl Desk<'_> {
    /// Lines of a form: what is not known is a line to write on.
    pub(super) fn blanks(&mut self, blanks: &[Blank]) {
        let list = self.tree.add(Kind::List, None);
        let (within, right) = (SIDE + LABELS, self.right);
        for blank in blanks {
            let item = self.tree.add(Kind::Item, Some(list));
            let name = self.tree.add(Kind::Label, Some(item));
            let body = self.tree.add(Kind::Body, Some(item));
            let label = [span(self.faces.shown(&blank.label), Weight::Plain, Tone::Quiet, name)];
            let words = [span(self.faces.shown(&blank.words), Weight::Plain, Tone::Ink, body)];
            let columns: Columns = vec![
                (SIDE, broken(self.faces, &label, BODY.size, LABELS - GAP)),
                (within, broken(self.faces, &words, BODY.size, self.wide(within))),
            ];
            let noted = !blank.note.is_empty();
            let first = self.pieces.len();
            self.put(columns, BODY, 5.0, true, noted);
            if blank.words.is_empty()
                && let Some(Piece::Slab(slab)) = self.pieces.get_mut(first)
            {
                let y = slab.high - 1.0;
                slab.shapes.push(Shape::Rule { from: within, to: right, y, thick: 0.6, tone: Tone::Ink });
            }
            if noted {
                let note = span(self.faces.shown(&blank.note), Weight::Plain, Tone::Quiet, body);
                self.words(&[note], SMALL, within, 1.0, false);
            }
        }
    }

    /// A sign, as often as it is printed.
    pub(super) fn sign(&mut self, sign: &Sign) {
        let size = points(&sign.letters.number) / CAPITALS;
        let of = Type { size, lead: size * 1.4 };
        let (from, right) = (SIDE + SET_IN, self.right);
        for _ in 0..sign.copies {
            self.begin(Beside::Frame { from: SIDE, to: right, double: false });
            let section = self.tree.add(Kind::Section, None);
            self.right -= SET_IN;
            let many = sign.lines.len();
            for (at, (words, room)) in sign.lines.iter().enumerate() {
                let part = self.tree.add(Kind::Words, Some(section));
                let words = [span(self.faces.shown(words), Weight::Strong, Tone::Ink, part)];
                let mut lines = broken(self.faces, &words, size, self.wide(from));
                let after = lines.last().and_then(|line| line.last()).map_or(0.0, |run| run.x + run.wide);
                // Room for a name is a hand wide, and begins a line of its own where there is less.
                let wraps = *room && self.wide(from) - after < 160.0;
                if wraps {
                    lines.push(Vec::new());
                }
                let begins = if wraps { from } else { from + after + size * 0.3 };
                let before = if at == 0 { 16.0 } else { 0.0 };
                self.put(vec![(from, lines)], of, before, true, at + 1 < many);
                let to = self.right;
                if let (true, Some(slab)) = (*room, self.last()) {
                    let y = (of.lead - of.size) / 2.0 + of.size * 0.85;
                    slab.shapes.push(Shape::Rule { from: begins, to, y, thick: 0.8, tone: Tone::Ink });
                }
            }
            self.right += SET_IN;
            self.beside = None;
            self.pieces.push(Piece::Slab(Slab { high: 8.0, ..Slab::default() }));
        }
    }

    /// A line of this length.
    pub(super) fn measure(&mut self, of: &Quantity) {
        let (long, millimetres) = (points(&of.number), millimetres(&of.number));
        let part = self.tree.add(Kind::Words, None);
        let words = format!("This line is {of} ({millimetres} mm) long.");
        let words = [span(self.faces.shown(&words), Weight::Plain, Tone::Ink, part)];
        self.words(&words, SMALL, SIDE, 8.0, false);
        if let Some(slab) = self.last() {
            slab.high += 8.0;
            let y = slab.high - 4.0;
            slab.shapes.push(Shape::Rule { from: SIDE, to: SIDE + long, y, thick: 0.8, tone: Tone::Ink });
            for x in [SIDE, SIDE + long] {
                slab.shapes.push(Shape::Post { x, from: y - 3.0, to: y + 3.0 });
            }
        }
    }

    /// Boxes to tick and lines to write on; where several are told together, with the number and the thing in front.
    pub(super) fn answer(&mut self, answer: &Answer, section: usize, x: f64) {
        let mut slab = Slab { high: BODY.lead + 4.0, before: 4.0, tied: true, ..Slab::default() };
        let mut at = x;
        let right = self.right;
        if let Some((number, of)) = &answer.of {
            let part = self.tree.add(Kind::Words, Some(section));
            let (run, radius) = self.number(*number, part);
            let from = x + radius * 2.0 + 5.0;
            let words = self.faces.shown(of);
            let wide = self.faces.width_of(&words, Weight::Plain, BODY.size);
            let middle = x + radius;
            let ring = |y: f64| Shape::Ring { x: middle, y: y - SMALL.size * 0.33, radius };
            let number = |y: f64| Run { x: middle - run.wide / 2.0, y, ..run.clone() };
            if answer.said.is_empty() && from + wide + 8.0 <= x + THING {
                slab.shapes.push(ring(10.0));
                slab.runs.push(number(10.0));
                let style = Style { part: Some(part), ..Style::default() };
                slab.runs.push(Run { x: from, y: 10.0, size: BODY.size, wide, words, style });
                at = x + THING;
            } else {
                // What is long, or of which more is said, has lines of its own.
                let first = self.pieces.len();
                self.words(&[span(words, Weight::Plain, Tone::Ink, part)], BODY, from, 5.0, true);
                if let Some(Piece::Slab(slab)) = self.pieces.get_mut(first) {
                    let y = (BODY.lead - BODY.size) / 2.0 + BODY.size * 0.8;
                    slab.shapes.push(ring(y));
                    slab.runs.insert(0, number(y));
                }
                if !answer.said.is_empty() {
                    let part = self.tree.add(Kind::Words, Some(section));
                    let said = [span(self.faces.shown(&answer.said), Weight::Plain, Tone::Ink, part)];
                    self.words(&said, SMALL, from, 0.5, true);
                }
                slab.before = 1.0;
                at = from;
            }
        }
        let begins = at;
        for tick in &answer.ticks {
            let part = self.tree.add(Kind::Words, Some(section));
            let words = self.faces.shown(tick);
            let wide = self.faces.width_of(&words, Weight::Plain, BODY.size);
            if at > begins && at + TICK + 5.0 + wide > right {
                self.lay(std::mem::replace(
                    &mut slab,
                    Slab { high: BODY.lead + 2.0, tied: true, ..Slab::default() },
                ));
                at = begins;
            }
            slab.shapes.push(Shape::Box { frame: [at, 2.0, at + TICK, 2.0 + TICK], filled: false });
            let style = Style { part: Some(part), ..Style::default() };
            slab.runs.push(Run { x: at + TICK + 5.0, y: 10.0, size: BODY.size, wide, words, style });
            at += TICK + 5.0 + wide + 12.0;
        }
        let mut write = answer.write.as_slice();
        let room = if answer.of.is_some() { SHORT_ROOM } else { ROOM };
        if let ([label], true) = (write, at > begins && at + room < right) {
            // Behind the boxes there is room to write.
            let run = self.label(label, section, at, 10.0);
            let from = at + run.wide + 6.0;
            slab.runs.push(run);
            slab.shapes.push(Shape::Rule { from, to: right, y: 12.0, thick: 0.6, tone: Tone::Ink });
            write = &[];
        }
        if !answer.ticks.is_empty() {
            self.lay(slab);
        }
        for label in write {
            let y = WRITTEN_ON - 4.0;
            let run = self.label(label, section, begins, y);
            let from = begins + run.wide + 6.0;
            let line = Shape::Rule { from, to: right, y: y + 2.0, thick: 0.6, tone: Tone::Ink };
            self.lay(Slab {
                high: WRITTEN_ON,
                runs: vec![run],
                shapes: vec![line],
                tied: true,
                ..Slab::default()
            });
        }
    }

    /// What stands in front of a line to write on.
    fn label(&mut self, label: &str, section: usize, x: f64, y: f64) -> Run {
        let part = self.tree.add(Kind::Words, Some(section));
        let words = self.faces.shown(label);
        let wide = self.faces.width_of(&words, Weight::Plain, BODY.size);
        let style = Style { tone: Tone::Quiet, part: Some(part), ..Style::default() };
        Run { x, y, size: BODY.size, wide, words, style }
    }

    /// Puts a piece that belongs to what is told now.
    fn lay(&mut self, slab: Slab) {
        let beside = self.beside;
        self.pieces.push(Piece::Slab(Slab { beside, ..slab }));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::number::Ratio;

    #[test]
    fn a_quarter_of_an_inch_is_eighteen_points() {
        // 6.35 mm of 25.4 mm to the inch; 72 points of PDF to the inch (ISO 32000).
        let quarter = Number::exact(Ratio::new(635, 100_000).unwrap());
        assert!((points(&quarter) - 18.0).abs() < 1e-9, "{}", points(&quarter));
    }
}
