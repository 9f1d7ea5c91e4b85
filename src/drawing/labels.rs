//! Where labels go: beside what they name, over nothing that matters, and never over one another.

use super::font::width_of;
use super::scene::{Frame, Spot};
use super::signs::flag_width;

/// How high a line of a label is, as a multiple of the size of its letters.
const LINE: f64 = 1.18;
/// White round the words of a label.
const ROUND: f64 = 1.2;

/// Words that want a place.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Label {
    /// What they name: on paper, or in the view's own units until it is laid on paper.
    pub(crate) at: Spot,
    /// Where they may stand, if not about that place.
    pub(crate) within: Option<Frame>,
    /// The lines.
    pub(crate) lines: Vec<String>,
    /// How high the letters are.
    pub(crate) size: f64,
    /// How far they keep off, in points.
    pub(crate) off: f64,
    /// Which come first: the lesser.
    pub(crate) turn: u8,
    /// Whether it is the number of a finding, in its flag.
    pub(crate) flag: bool,
}

/// Words that have a place.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Placed {
    /// The box they fill.
    pub(crate) frame: Frame,
    /// The lines.
    pub(crate) lines: Vec<String>,
    /// How high the letters are.
    pub(crate) size: f64,
    /// A stroke to what they name, where that is not near.
    pub(crate) leader: Option<(Spot, Spot)>,
    /// Whether it is the number of a finding, in its flag.
    pub(crate) flag: bool,
}

impl Placed {
    /// Where each line begins.
    pub(crate) fn lines(&self) -> impl Iterator<Item = (Spot, &str)> {
        let start = Spot::at(self.frame.low.x + ROUND, self.frame.low.y + ROUND + self.size * 0.82);
        self.lines.iter().scan(start, move |at, line| {
            let here = *at;
            at.y += self.size * LINE;
            Some((here, line.as_str()))
        })
    }
}

/// Something that labels had better not cover, and how bad it is if they do.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Obstacle {
    /// Its one end.
    pub(crate) from: Spot,
    /// Its other end.
    pub(crate) to: Spot,
    /// How bad it is.
    pub(crate) weight: f64,
}

fn size_of(label: &Label) -> (f64, f64) {
    if label.flag {
        return (flag_width(&label.lines.concat()) + 1.0, 11.0);
    }
    let wide = label.lines.iter().map(|line| width_of(line, label.size)).fold(0.0, f64::max);
    let mut high = 0.0;
    for _ in &label.lines {
        high += label.size * LINE;
    }
    (wide + 2.0 * ROUND, high + 2.0 * ROUND)
}

/// The boxes a label might fill, the best first where nothing is in the way; each with what it costs to be there.
fn candidates(label: &Label, room: Frame) -> Vec<(Frame, f64)> {
    let (wide, high) = size_of(label);
    let mut found = Vec::new();
    if let Some(within) = label.within {
        let middle = within.middle();
        let mut up = 0;
        while f64::from(up) <= 14.0 {
            let mut along = 0;
            while f64::from(along) <= 14.0 {
                let share = |n: i32, low: f64, long: f64| low + long * f64::from(n) / 14.0;
                let x = share(along, within.low.x, (within.wide() - wide).max(0.0));
                let y = share(up, within.low.y, (within.high() - high).max(0.0));
                let frame = Frame::of(x, y, x + wide, y + high);
                found.push((frame, frame.middle().away(middle) * 0.02));
                along += 1;
            }
            up += 1;
        }
        return found;
    }
    let at = label.at;
    for (ring, more) in [0.0, 5.0, 12.0, 22.0, 34.0, 48.0, 66.0, 90.0, 120.0].into_iter().enumerate() {
        let off = label.off + more;
        let sides = [
            (at.x + off, at.y - high / 2.0, 0.0),
            (at.x + off * 0.7, at.y - off * 0.7 - high, 0.3),
            (at.x + off * 0.7, at.y + off * 0.7, 0.4),
            (at.x - off - wide, at.y - high / 2.0, 0.5),
            (at.x - wide / 2.0, at.y - off - high, 0.6),
            (at.x - wide / 2.0, at.y + off, 0.7),
            (at.x - off * 0.7 - wide, at.y - off * 0.7 - high, 0.8),
            (at.x - off * 0.7 - wide, at.y + off * 0.7, 0.9),
            (at.x + off * 0.9, at.y - off * 0.4 - high / 2.0, 1.0),
            (at.x + off * 0.9, at.y + off * 0.4 - high / 2.0, 1.0),
            (at.x - off * 0.9 - wide, at.y - off * 0.4 - high / 2.0, 1.1),
            (at.x - off * 0.9 - wide, at.y + off * 0.4 - high / 2.0, 1.1),
        ];
        for (x, y, cost) in sides {
            let reach = if ring == 0 { 0.0 } else { 0.6 + more * 0.06 };
            found.push((Frame::of(x, y, x + wide, y + high), cost + reach));
        }
    }
    found.retain(|(frame, _)| room.holds(*frame));
    found
}

/// The stroke from a box to what it names.
fn leader(frame: Frame, label: &Label) -> Option<(Spot, Spot)> {
    if label.within.is_some() {
        return None;
    }
    let near =
        Spot::at(label.at.x.clamp(frame.low.x, frame.high.x), label.at.y.clamp(frame.low.y, frame.high.y));
    let away = near.away(label.at);
    (away > label.off + 4.0).then(|| (near, label.at.toward(near, (label.off - 1.5).max(0.0) / away)))
}

/// Gives labels places in a room. Those that found none are handed back.
pub(crate) fn placed(
    mut labels: Vec<Label>,
    room: Frame,
    taken: &[Frame],
    mut obstacles: Vec<Obstacle>,
) -> (Vec<Placed>, Vec<Label>) {
    labels.sort_by_key(|label| label.turn);
    let mut found: Vec<Placed> = Vec::new();
    let mut left = Vec::new();
    for label in labels {
        let mut best: Option<(f64, Frame)> = None;
        for (frame, cost) in candidates(&label, room) {
            if best.is_some_and(|(least, _)| least <= cost) {
                continue;
            }
            let full = taken.iter().chain(found.iter().map(|one| &one.frame)).any(|one| one.meets(&frame));
            if full {
                continue;
            }
            let stroke = leader(frame, &label);
            let crosses =
                stroke.is_some_and(|(from, to)| found.iter().any(|one| one.frame.is_crossed(from, to)));
            let covers: f64 =
                obstacles.iter().filter(|one| frame.is_crossed(one.from, one.to)).map(|one| one.weight).sum();
            let cost = cost + covers + if crosses { 8.0 } else { 0.0 };
            if best.is_none_or(|(least, _)| cost < least) {
                best = Some((cost, frame));
            }
        }
        match best {
            Some((_, frame)) => {
                let leader = leader(frame, &label);
                if let Some((from, to)) = leader {
                    obstacles.push(Obstacle { from, to, weight: 6.0 });
                }
                found.push(Placed { frame, leader, lines: label.lines, size: label.size, flag: label.flag });
            }
            None => left.push(label),
        }
    }
    (found, left)
}
