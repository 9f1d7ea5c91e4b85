//! Where labels go: beside what they name, over nothing that matters, never over one another, and with a stroke to what
//! they name wherever something else of its kind is nearer.

use super::font::width_of;
use super::scene::{Frame, Spot};
use super::signs::flag_width;

/// How high a line of a label is, as a multiple of the size of its letters.
const LINE: f64 = 1.18;
/// White round the words of a label.
const ROUND: f64 = 1.2;
/// How far labels keep apart: beside each other so that two never read as one line, and above each other.
pub(crate) const APART: (f64, f64) = (5.0, 1.2);
/// How much farther than its ease a label may stand from what it names without a stroke to it.
const NEAR: f64 = 4.0;
/// What is no farther beyond what a label names than this is as near to it.
const DOUBT: f64 = 1.5;

/// What can be taken for one another: each label is read for the nearest of its own sort.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(crate) enum Of {
    /// Pipe, signs, openings.
    Thing,
    /// What books ask for.
    Zone,
    /// Dimensions.
    Size,
    /// Lines of the house and about it.
    House,
}

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
    /// The shapes that they name, by their places in the view.
    pub(crate) own: Vec<usize>,
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
    /// A stroke to what they name, where that is not near or something else is nearer.
    pub(crate) leader: Option<Leader>,
    /// Whether it is the number of a finding, in its flag.
    pub(crate) flag: bool,
    /// What they name.
    pub(crate) own: Vec<(Spot, Spot)>,
    /// What they could be taken to name.
    pub(crate) others: Vec<(Spot, Spot)>,
}

/// A stroke from words to what they name.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Leader {
    /// Where it leaves the words.
    pub(crate) from: Spot,
    /// Where it comes to what they name.
    pub(crate) to: Spot,
    /// Whether it ends on a line, with a dot, and not at the rim of a sign.
    pub(crate) dot: bool,
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

    /// The box of each line, no larger than its words.
    pub(crate) fn boxes(&self) -> Vec<Frame> {
        if self.flag {
            return vec![self.frame];
        }
        let of = |(at, line): (Spot, &str)| {
            let wide = width_of(line, self.size);
            Frame::of(at.x - 0.8, at.y - self.size * 0.78, at.x + wide + 0.8, at.y + self.size * 0.26)
        };
        self.lines().map(of).collect()
    }
}

/// Something that labels had better not cover.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Obstacle {
    /// Its one end.
    pub(crate) from: Spot,
    /// Its other end.
    pub(crate) to: Spot,
    /// How bad it is to cover it; what is never covered is infinitely bad.
    pub(crate) weight: f64,
    /// For what sort of thing a label beside it would be read.
    pub(crate) of: Option<Of>,
    /// The shape it belongs to.
    pub(crate) shape: usize,
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

/// A box that a label might fill, the place it would name from there, and what it costs to be there.
type Candidate = (Frame, Spot, f64);

/// The boxes within another that a label might fill.
fn inside(within: Frame, (wide, high): (f64, f64)) -> Vec<Candidate> {
    let middle = within.middle();
    let mut found = Vec::new();
    let steps: Vec<f64> = (0..=14).map(|n| f64::from(n) / 14.0).collect();
    for up in &steps {
        for along in &steps {
            let x = within.low.x + (within.wide() - wide).max(0.0) * along;
            let y = within.low.y + (within.high() - high).max(0.0) * up;
            let frame = Frame::of(x, y, x + wide, y + high);
            found.push((frame, middle, frame.middle().away(middle) * 0.02));
        }
    }
    found
}

/// The places along what is named from which a label might start, the best first.
fn anchors(label: &Label, own: &[(Spot, Spot)]) -> Vec<(Spot, f64)> {
    let mut found = vec![(label.at, 0.0)];
    let long: f64 = own.iter().map(|(from, to)| from.away(*to)).sum();
    if label.flag || long < 24.0 {
        return found;
    }
    for share in [0.5, 0.35, 0.65, 0.22, 0.78, 0.12, 0.88] {
        let mut left = long * share;
        for (from, to) in own {
            let stroke = from.away(*to);
            if left <= stroke {
                found.push((from.toward(*to, left / stroke.max(1e-9)), 0.35 + (share - 0.5_f64).abs()));
                break;
            }
            left -= stroke;
        }
    }
    found
}

/// The boxes a label might fill, the best first where nothing is in the way.
fn candidates(label: &Label, room: Frame, own: &[(Spot, Spot)]) -> Vec<Candidate> {
    let (wide, high) = size_of(label);
    if let Some(within) = label.within {
        return inside(within, (wide, high));
    }
    let mut found = Vec::new();
    for (at, aside) in anchors(label, own) {
        for more in [0.0, 5.0, 12.0, 22.0, 34.0, 48.0, 66.0, 90.0, 120.0, 160.0, 210.0] {
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
                (at.x - wide * 0.15, at.y - off - high, 0.9),
                (at.x - wide * 0.85, at.y - off - high, 0.9),
                (at.x - wide * 0.15, at.y + off, 0.9),
                (at.x - wide * 0.85, at.y + off, 0.9),
                (at.x + off * 0.9, at.y - off * 0.4 - high / 2.0, 1.0),
                (at.x + off * 0.9, at.y + off * 0.4 - high / 2.0, 1.0),
                (at.x - off * 0.9 - wide, at.y - off * 0.4 - high / 2.0, 1.1),
                (at.x - off * 0.9 - wide, at.y + off * 0.4 - high / 2.0, 1.1),
            ];
            for (x, y, cost) in sides {
                let reach = if more > 0.0 { 0.6 + more * 0.06 } else { 0.0 };
                found.push((Frame::of(x, y, x + wide, y + high), at, cost + reach + aside));
            }
        }
    }
    found.retain(|(frame, ..)| room.holds(*frame));
    found.sort_by(|one, other| one.2.total_cmp(&other.2));
    found
}

/// How far a box is from the nearest of some strokes.
fn nearest(frame: Frame, strokes: &[(Spot, Spot)]) -> f64 {
    strokes.iter().map(|(from, to)| frame.off(*from, *to)).fold(f64::INFINITY, f64::min)
}

/// Whether any of some strokes is nearer to a box than so far.
fn comes_nearer(frame: Frame, strokes: &[(Spot, Spot)], far: f64) -> bool {
    let about = frame.wider(far);
    strokes.iter().any(|(from, to)| about.is_crossed(*from, *to) && frame.off(*from, *to) < far)
}

/// What is round a label: what it names, and what it could be taken to name.
struct Round {
    own: Vec<(Spot, Spot)>,
    others: Vec<(Spot, Spot)>,
    /// Whether it names a sign.
    sign: bool,
}

fn round(label: &Label, obstacles: &[Obstacle], signs: &[usize]) -> Round {
    let is_own = |one: &&Obstacle| label.own.contains(&one.shape);
    let sort = obstacles.iter().filter(is_own).find_map(|one| one.of);
    let stroke = |one: &Obstacle| (one.from, one.to);
    let others = obstacles.iter().filter(|one| one.of.is_some() && one.of == sort && !is_own(one));
    Round {
        own: obstacles.iter().filter(is_own).filter(|one| one.of == sort).map(stroke).collect(),
        others: others.map(stroke).collect(),
        sign: label.flag || label.own.iter().any(|own| signs.contains(own)),
    }
}

/// The stroke from a box to what it names, where one is called for.
fn leader(frame: Frame, at: Spot, label: &Label, round: &Round) -> Option<Leader> {
    if label.within.is_some() {
        return None;
    }
    let from = Spot::at(at.x.clamp(frame.low.x, frame.high.x), at.y.clamp(frame.low.y, frame.high.y));
    let long = from.away(at);
    let off = if round.own.is_empty() { long } else { nearest(frame, &round.own) };
    let doubtful = comes_nearer(frame, &round.others, off + DOUBT);
    if !doubtful && off <= label.off + NEAR {
        return None;
    }
    let to = if round.sign { at.toward(from, (label.off - 1.5).max(0.0) / long.max(1e-9)) } else { at };
    Some(Leader { from, to, dot: !round.sign })
}

/// What labels are not laid over: boxes that they never meet, each with the shape it belongs to, strokes that they had better not cover, and which shapes are
/// signs.
#[derive(Clone, PartialEq, Default, Debug)]
pub(crate) struct Filled {
    pub(crate) boxes: Vec<(Frame, usize)>,
    pub(crate) obstacles: Vec<Obstacle>,
    pub(crate) signs: Vec<usize>,
}

/// Gives labels places in a room. Those that found none are handed back.
pub(crate) fn placed(mut labels: Vec<Label>, room: Frame, filled: &Filled) -> (Vec<Placed>, Vec<Label>) {
    labels.sort_by_key(|label| label.turn);
    let mut found: Vec<Placed> = Vec::new();
    let mut left = Vec::new();
    for label in labels {
        let round = round(&label, &filled.obstacles, &filled.signs);
        let mut best: Option<(f64, Frame, Option<Leader>)> = None;
        for (frame, at, cost) in candidates(&label, room, &round.own) {
            if best.is_some_and(|(least, ..)| least <= cost) {
                break;
            }
            let cost = cost + covers(frame, filled, &found);
            if !cost.is_finite() || best.is_some_and(|(least, ..)| least <= cost) {
                continue;
            }
            let stroke = leader(frame, at, &label, &round);
            let cost = cost + stroke.map_or(0.0, |led| passes(led, &label.own, filled, &found));
            if cost.is_finite() && best.is_none_or(|(least, ..)| cost < least) {
                best = Some((cost, frame, stroke));
            }
        }
        match best {
            Some((_, frame, leader)) => found.push(Placed {
                frame,
                leader,
                lines: label.lines,
                size: label.size,
                flag: label.flag,
                own: round.own,
                others: round.others,
            }),
            None => left.push(label),
        }
    }
    (found, left)
}

/// How bad it is for a label to fill a box.
fn covers(frame: Frame, filled: &Filled, found: &[Placed]) -> f64 {
    let wider = frame.grown(APART.0, APART.1);
    let meets = filled.boxes.iter().any(|(one, _)| one.meets(&frame))
        || found.iter().any(|one| {
            one.frame.meets(&wider) || one.leader.is_some_and(|led| frame.is_crossed(led.from, led.to))
        });
    if meets {
        return f64::INFINITY;
    }
    let lines = filled.obstacles.iter().filter(|one| one.weight > 0.0 && frame.is_crossed(one.from, one.to));
    lines.map(|one| one.weight).sum()
}

/// How bad it is for a stroke to a label to go where it goes.
fn passes(led: Leader, own: &[usize], filled: &Filled, found: &[Placed]) -> f64 {
    if found.iter().any(|one| one.frame.is_crossed(led.from, led.to)) {
        return f64::INFINITY;
    }
    // A stroke too short to be seen shows nothing.
    let mut cost = if led.from.away(led.to) < 5.0 { 6.0 } else { 1.2 };
    let tip = led.to.toward(led.from, (1.5 / led.from.away(led.to).max(1e-9)).min(0.5));
    let about = Frame { low: led.from, high: led.from }.with(led.to).wider(1.2);
    // Through a sign only where there is no other way.
    let through =
        filled.boxes.iter().any(|(one, shape)| !own.contains(shape) && one.is_crossed(led.from, tip));
    cost += if through { 20.0 } else { 0.0 };
    let near = filled.obstacles.iter().filter(|one| one.weight > 0.0 && about.is_crossed(one.from, one.to));
    for one in near {
        let crossed = cross((led.from, tip), (one.from, one.to));
        cost += if !crossed {
            0.0
        } else if one.weight.is_finite() {
            0.4
        } else {
            3.0
        };
        // In a line it would not be seen.
        cost += 2.5 * lies_in((led.from, led.to), (one.from, one.to));
    }
    for other in found.iter().filter_map(|one| one.leader) {
        cost += if cross((led.from, led.to), (other.from, other.to)) { 4.0 } else { 0.0 };
    }
    cost
}

/// Whether two strokes cross.
fn cross((a, b): (Spot, Spot), (c, d): (Spot, Spot)) -> bool {
    let side = |p: Spot, q: Spot, r: Spot| (q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

/// In how many of seven places along its way a stroke lies in another.
fn lies_in((from, to): (Spot, Spot), (a, b): (Spot, Spot)) -> f64 {
    let places = [0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875].into_iter();
    places.map(|share| if from.toward(to, share).off(a, b) < 1.2 { 1.0 } else { 0.0 }).sum::<f64>()
}
