//! What goes on paper, laid on pages one piece behind the other. A piece is a line or a rule with what adorns it; pieces
//! that are tied stay on one page, and the head of a table comes again on each page that the table goes on to.

use super::lines::{Run, Tone};
use crate::drawing::{Paper as Size, Sheet};

/// White at the left and the right of a page.
pub(super) const SIDE: f64 = 54.0;
/// Where what is told begins, down from the top of a page.
pub(super) const TOP: f64 = 58.0;
/// Where it ends, up from the foot of a page.
pub(super) const FOOT: f64 = 74.0;

/// How wide and high a page is that stands on its short side.
pub(super) fn upright(size: Size) -> (f64, f64) {
    let (wide, high) = size.points();
    (high, wide)
}

/// A shape that adorns a piece, from where the piece begins.
#[derive(Clone, Debug)]
pub(super) enum Shape {
    /// A level line: from, to, how far down, how thick.
    Rule { from: f64, to: f64, y: f64, thick: f64, tone: Tone },
    /// A box: its left, top, right, bottom; filled with ink, or drawn round.
    Box { frame: [f64; 4], filled: bool },
    /// An upright line: where, from and to how far down.
    Post { x: f64, from: f64, to: f64 },
    /// A ring: its middle and radius.
    Ring { x: f64, y: f64, radius: f64 },
}

/// What runs down beside pieces for as long as they follow each other.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) enum Beside {
    /// One line on their left.
    Line { x: f64, thick: f64, broken: bool },
    /// Two lines on their left.
    Two { x: f64 },
    /// A frame round them, of one line or of two.
    Frame { from: f64, to: f64, double: bool },
}

/// A heading in the list of what is where.
#[derive(Clone, Debug)]
pub(super) struct Mark {
    pub(super) depth: u8,
    pub(super) words: String,
}

/// A piece that is not broken.
#[derive(Clone, Debug, Default)]
pub(super) struct Slab {
    /// White above it, unless it begins a page.
    pub(super) before: f64,
    pub(super) high: f64,
    pub(super) runs: Vec<Run>,
    pub(super) shapes: Vec<Shape>,
    /// Whether the next piece has to stand on the same page.
    pub(super) tied: bool,
    /// What runs down beside it: which one, and its look.
    pub(super) beside: Option<(usize, Beside)>,
    /// Names by which it can be led to.
    pub(super) names: Vec<String>,
    pub(super) mark: Option<Mark>,
    /// Which head stands above it where it begins a page.
    pub(super) head: Option<usize>,
}

/// A sheet of drawings, on a page of its own, with the headings that lead to it.
#[derive(Clone, Debug)]
pub(super) struct Drawn<'a> {
    pub(super) sheet: &'a Sheet,
    /// The headings above it: depth, words, name, place in the tree of parts.
    pub(super) headings: Vec<(u8, String, String, usize)>,
    /// Its own place in the tree of parts.
    pub(super) part: usize,
    /// The place for what leads away from it.
    pub(super) leads: usize,
}

/// What is laid on pages.
#[derive(Clone, Debug)]
pub(super) enum Piece<'a> {
    Slab(Slab),
    Drawn(Drawn<'a>),
    /// What follows begins a page.
    Turn,
}

/// What runs down beside pieces, as it lies on a page.
#[derive(Clone, Copy, Debug)]
pub(super) struct Laid {
    which: usize,
    pub(super) look: Beside,
    pub(super) from: f64,
    pub(super) to: f64,
}

/// A page.
#[derive(Clone, Debug)]
pub(super) enum Leaf<'a> {
    /// Pieces, each with how far down it lies.
    Text { slabs: Vec<(f64, Slab)>, beside: Vec<Laid> },
    /// A sheet of drawings.
    Drawn(Drawn<'a>),
}

/// So far the end of a paper may go down below where all else ends.
const MOST_BELOW: f64 = 10.0;
/// So much of the white between pieces can be spared.
const MOST_LESS: f64 = 0.6;

struct Desk<'a, 'h> {
    heads: &'h [Vec<Slab>],
    bottom: f64,
    leaves: Vec<Leaf<'a>>,
    slabs: Vec<(f64, Slab)>,
    beside: Vec<Laid>,
    y: f64,
}

/// Lays pieces on pages.
pub(super) fn laid<'a>(pieces: Vec<Piece<'a>>, heads: &[Vec<Slab>], size: Size) -> Vec<Leaf<'a>> {
    let (_, high) = upright(size);
    let mut desk = Desk {
        heads,
        bottom: high - FOOT,
        leaves: Vec::new(),
        slabs: Vec::new(),
        beside: Vec::new(),
        y: TOP,
    };
    let mut together: Vec<Slab> = Vec::new();
    let many = pieces.len();
    for (at, piece) in pieces.into_iter().enumerate() {
        match piece {
            Piece::Slab(slab) => {
                let tied = slab.tied;
                together.push(slab);
                if at + 1 == many {
                    desk.make_room(&together);
                }
                if !tied {
                    desk.put(std::mem::take(&mut together));
                }
            }
            Piece::Turn => {
                desk.put(std::mem::take(&mut together));
                desk.turn();
            }
            Piece::Drawn(drawn) => {
                desk.put(std::mem::take(&mut together));
                desk.turn();
                desk.leaves.push(Leaf::Drawn(drawn));
            }
        }
    }
    desk.put(together);
    desk.turn();
    desk.leaves
}

impl Desk<'_, '_> {
    /// Ends the page, unless nothing stands on it.
    fn turn(&mut self) {
        if !self.slabs.is_empty() {
            let slabs = std::mem::take(&mut self.slabs);
            self.leaves.push(Leaf::Text { slabs, beside: std::mem::take(&mut self.beside) });
        }
        self.y = TOP;
    }

    /// Makes the white between the pieces of the page less where these lack little room on it, so that the end of a paper
    /// needs no page of its own.
    fn make_room(&mut self, end: &[Slab]) {
        // It may reach a little into the white above the foot.
        self.bottom += MOST_BELOW;
        let needs: f64 = end.iter().map(|slab| slab.before + slab.high).sum();
        let lacks = needs - (self.bottom - self.y);
        let white: f64 = self.slabs.iter().skip(1).map(|(_, slab)| slab.before).sum();
        if lacks <= 0.0 || lacks > white * MOST_LESS {
            return;
        }
        // A hair more, so that rounding leaves no line over.
        let less = (lacks + 0.05) / white;
        self.beside.clear();
        self.y = TOP;
        for (_, mut slab) in std::mem::take(&mut self.slabs) {
            slab.before *= 1.0 - less;
            self.lay(slab);
        }
    }

    /// Lays pieces that stay together; those that no page can hold are broken where the page ends.
    fn put(&mut self, slabs: Vec<Slab>) {
        let heads = self.heads;
        let needs: f64 = slabs.iter().map(|slab| slab.before + slab.high).sum();
        let room = self.bottom - self.y;
        if needs > room && (needs < (self.bottom - TOP) * 0.85 || room < (self.bottom - TOP) * 0.25) {
            self.turn();
        }
        for slab in slabs {
            if self.y + slab.before + slab.high > self.bottom {
                self.turn();
            }
            if self.slabs.is_empty()
                && let Some(head) = slab.head.and_then(|head| heads.get(head))
            {
                for one in head {
                    self.lay(one.clone());
                }
            }
            self.lay(slab);
        }
    }

    fn lay(&mut self, slab: Slab) {
        let top = if self.slabs.is_empty() { self.y } else { self.y + slab.before };
        let bottom = top + slab.high;
        if let Some((which, look)) = slab.beside {
            match self.beside.last_mut() {
                Some(last) if last.which == which => last.to = bottom,
                _ => self.beside.push(Laid { which, look, from: top, to: bottom }),
            }
        }
        self.y = bottom;
        self.slabs.push((top, slab));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn slab(high: f64, tied: bool) -> Piece<'static> {
        Piece::Slab(Slab { high, tied, ..Slab::default() })
    }

    fn heights(pieces: Vec<Piece<'_>>, heads: &[Vec<Slab>]) -> Vec<Vec<f64>> {
        let height = |leaf: Leaf<'_>| match leaf {
            Leaf::Text { slabs, .. } => slabs.into_iter().map(|(_, slab)| slab.high).collect(),
            Leaf::Drawn(_) => Vec::new(),
        };
        laid(pieces, heads, Size::Letter).into_iter().map(height).collect()
    }

    // A page of letter paper is 792 points high; 792 - 58 - 74 = 660 of them hold what is told.

    #[test]
    fn a_heading_goes_with_what_it_heads() {
        assert_eq!(
            heights(vec![slab(640.0, false), slab(15.0, true), slab(20.0, false)], &[]),
            [vec![640.0], vec![15.0, 20.0]]
        );
        assert_eq!(heights(vec![slab(640.0, false), slab(15.0, false)], &[]), [vec![640.0, 15.0]]);
    }

    #[test]
    fn what_no_page_holds_is_broken_and_no_page_is_empty() {
        let many = (0..100).map(|_| slab(20.0, true)).collect();
        let pages = heights(many, &[]);
        assert_eq!(pages.iter().map(Vec::len).collect::<Vec<_>>(), [33, 33, 33, 1]);
        assert!(heights(Vec::new(), &[]).is_empty());
    }

    #[test]
    fn the_end_of_a_paper_finds_room_in_the_white_of_the_page_before() {
        let line = |high: f64, before: f64, tied| Piece::Slab(Slab { high, before, tied, ..Slab::default() });
        // 600 of lines with 40 of white leave 20; the end needs 50, which half of the white and ten below give.
        let page = || (0..11).map(|at| line(600.0 / 11.0, if at == 0 { 0.0 } else { 4.0 }, false));
        let end =
            |high: f64| page().chain([line(high / 2.0, 0.0, true), line(high / 2.0, 0.0, false)]).collect();
        assert_eq!(laid(end(50.0), &[], Size::Letter).len(), 1);
        let Some(Leaf::Text { slabs, .. }) = laid(end(50.0), &[], Size::Letter).pop() else { panic!() };
        let (y, last) = slabs.last().unwrap();
        assert!((y + last.high - 728.0).abs() < 0.1, "it ends where the page does");
        // Of 40 more than 24 cannot be spared.
        assert_eq!(laid(end(56.0), &[], Size::Letter).len(), 2);
    }

    #[test]
    fn the_head_of_a_table_comes_again() {
        let row = |high: f64| Piece::Slab(Slab { high, head: Some(0), ..Slab::default() });
        let heads = [vec![Slab { high: 9.0, ..Slab::default() }]];
        assert_eq!(
            heights(vec![slab(30.0, true), row(500.0), row(400.0), row(90.0)], &heads),
            [vec![30.0, 500.0], vec![9.0, 400.0, 90.0]]
        );
    }
}
