//! A view of a house before it is laid on paper: shapes in metres, to the right and upward, with the labels they want.

use std::collections::BTreeSet;

use super::hatch::{Hatching, strokes};
use super::labels::{Filled, Label, Obstacle, Of};
use super::scene::{Frame, Layer, Mark, Pen, Spot};
use super::signs::{Key, arrow, chevron, ground_ticks, head, height_ticks};
use super::stand::{Standing, stand};

/// The size of the letters of labels, in points.
pub(crate) const LABEL: f64 = 7.5;

/// Something in a view.
#[derive(Clone, PartialEq, Debug)]
pub(crate) enum Shape {
    /// A line or an outline.
    Path { layer: Layer, pen: Pen, points: Vec<Spot>, closed: bool },
    /// An opening in a wall.
    Opening { frame: Frame, pen: Pen },
    /// A ring.
    Ring { layer: Layer, pen: Pen, middle: Spot, radius: f64 },
    /// A stretch of pipe.
    Pipe { from: Spot, to: Spot, pressure: bool },
    /// Hatching over boxes as far as they lie within an outline.
    Shade { boxes: Vec<Frame>, within: Vec<Spot>, how: Hatching },
    /// A sign.
    Sign { at: Spot, key: Key },
    /// An arrow beside a stretch, the way it falls.
    Falls { from: Spot, to: Spot },
    /// A wedge in the middle of a stretch, the way the air goes.
    Flows { from: Spot, to: Spot },
    /// The line of the ground.
    Ground { from: Spot, to: Spot },
    /// A dimension between two places, its line moved aside by so many points.
    Size { from: Spot, to: Spot, aside: f64, words: String },
}

/// A view.
#[derive(Clone, PartialEq, Default, Debug)]
pub(crate) struct View {
    /// Its shapes.
    pub(crate) shapes: Vec<Shape>,
    /// The labels they want.
    pub(crate) labels: Vec<Label>,
    /// What has to be told in the legend.
    pub(crate) keys: BTreeSet<Key>,
    /// Shades that have to be told in the legend: how they are hatched, and what they mean.
    pub(crate) shades: Vec<(Hatching, String)>,
    /// Flags with numbers of findings, each at what it is about.
    pub(crate) flags: Vec<Flag>,
    /// How many shapes there were when the last label was put to them.
    told: usize,
}

/// The numbers of findings on a thing.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Flag {
    /// Where the thing is.
    pub(crate) at: Spot,
    /// With which sign it is drawn, if it has one.
    pub(crate) sign: Option<Key>,
    /// The numbers.
    pub(crate) words: String,
}

/// What a label names is no farther from its place than this, in metres.
const ON: f64 = 0.02;

impl View {
    pub(crate) fn path(&mut self, layer: Layer, pen: Pen, points: Vec<Spot>, closed: bool) {
        self.shapes.push(Shape::Path { layer, pen, points, closed });
    }

    pub(crate) fn sign(&mut self, at: Spot, key: Key) {
        self.keys.insert(key);
        self.shapes.push(Shape::Sign { at, key });
    }

    pub(crate) fn pipe(&mut self, from: Spot, to: Spot, pressure: bool) {
        self.keys.insert(if pressure { Key::Pressure } else { Key::Suction });
        self.shapes.push(Shape::Pipe { from, to, pressure });
    }

    pub(crate) fn size(&mut self, from: Spot, to: Spot, aside: f64, words: String) {
        self.shapes.push(Shape::Size { from, to, aside, words });
    }

    /// A label beside a place.
    pub(crate) fn label(&mut self, at: Spot, off: f64, turn: u8, lines: Vec<String>) {
        let own = self.named(at, self.told);
        self.told = self.shapes.len();
        self.labels.push(Label { at, within: None, lines, size: LABEL, off, turn, flag: false, own });
    }

    /// An opening.
    pub(crate) fn opening(&mut self, frame: Frame, pen: Pen) {
        self.shapes.push(Shape::Opening { frame, pen });
    }

    /// The shapes that a label at a place names: of those from a certain one on the pipe, or else what lies there; and
    /// where none of these does, whatever does.
    fn named(&self, at: Spot, since: usize) -> Vec<usize> {
        let fresh = || self.shapes.iter().enumerate().skip(since);
        let pipe = fresh().filter(|(_, shape)| matches!(shape, Shape::Pipe { .. }));
        let pipe: Vec<usize> = pipe.map(|(number, _)| number).collect();
        if !pipe.is_empty() {
            return pipe;
        }
        let here: Vec<usize> =
            fresh().filter(|(_, shape)| shape.lies_at(at)).map(|(number, _)| number).collect();
        let here = if here.is_empty() && since > 0 { self.at(at) } else { here };
        // An opening lies in a wall, and a sign on what it stands on.
        for is_it in
            [|it: &Shape| matches!(it, Shape::Sign { .. }), |it: &Shape| matches!(it, Shape::Opening { .. })]
        {
            let such: Vec<usize> =
                here.iter().copied().filter(|number| self.shapes.get(*number).is_some_and(is_it)).collect();
            if !such.is_empty() {
                return such;
            }
        }
        here
    }

    /// The shapes that lie at a place.
    pub(crate) fn at(&self, at: Spot) -> Vec<usize> {
        let here = self.shapes.iter().enumerate().filter(|(_, shape)| shape.lies_at(at));
        here.map(|(number, _)| number).collect()
    }

    /// The box round all of it.
    pub(crate) fn extent(&self) -> Option<Frame> {
        Frame::round(self.shapes.iter().flat_map(|shape| match shape {
            Shape::Path { points, .. } => points.clone(),
            Shape::Ring { middle, radius, .. } => {
                vec![middle.moved(-radius, -radius), middle.moved(*radius, *radius)]
            }
            Shape::Pipe { from, to, .. }
            | Shape::Falls { from, to }
            | Shape::Flows { from, to }
            | Shape::Ground { from, to }
            | Shape::Size { from, to, .. } => vec![*from, *to],
            Shape::Shade { boxes, .. } => boxes.iter().flat_map(|one| [one.low, one.high]).collect(),
            Shape::Sign { at, .. } => vec![*at],
            Shape::Opening { frame, .. } => vec![frame.low, frame.high],
        }))
    }
}

impl Shape {
    /// Whether it lies at a place, as far as a label could name it.
    fn lies_at(&self, at: Spot) -> bool {
        let on = |from: &Spot, to: &Spot| at.off(*from, *to) < ON;
        match self {
            Shape::Path { points, closed, pen, .. } => {
                let back = points.last().zip(points.first()).filter(|_| *closed);
                *pen != Pen::White
                    && (points.iter().zip(points.iter().skip(1)).any(|(from, to)| on(from, to))
                        || back.is_some_and(|(from, to)| on(from, to)))
            }
            Shape::Opening { frame, .. } => frame.wider(ON).holds(Frame { low: at, high: at }),
            Shape::Ring { middle, radius, .. } => (middle.away(at) - radius).abs() < ON,
            Shape::Pipe { from, to, .. } | Shape::Ground { from, to } => on(from, to),
            Shape::Sign { at: own, .. } => own.away(at) < 0.05,
            Shape::Shade { .. } | Shape::Falls { .. } | Shape::Flows { .. } | Shape::Size { .. } => false,
        }
    }
}

/// How a view lies on paper.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Onto {
    /// Points for a metre.
    pub(crate) scale: f64,
    /// Where the view's own nought lies on paper.
    pub(crate) origin: Spot,
}

impl Onto {
    pub(crate) fn spot(&self, at: Spot) -> Spot {
        Spot::at(self.origin.x + at.x * self.scale, self.origin.y - at.y * self.scale)
    }

    fn frame(&self, of: Frame) -> Frame {
        Frame { low: self.spot(of.low), high: self.spot(of.low) }.with(self.spot(of.high))
    }
}

/// A view on paper: its marks, its labels, its signs, and what labels had better not cover.
#[derive(Clone, PartialEq, Default, Debug)]
pub(crate) struct Laid {
    pub(crate) marks: Vec<Mark>,
    pub(crate) labels: Vec<Label>,
    pub(crate) filled: Filled,
    pub(crate) signs: Vec<Standing>,
    /// The shape that is being laid.
    shape: usize,
}

/// Lays a view on paper, in a room.
pub(crate) fn laid(view: &View, onto: Onto, room: Frame) -> Laid {
    let mut laid = Laid::default();
    let all = || view.shapes.iter().enumerate();
    for (number, shape) in all() {
        laid.shape = number;
        lay(&mut laid, shape, onto);
    }
    let signs: Vec<(usize, Spot, Key)> = all()
        .filter_map(|(number, shape)| match shape {
            Shape::Sign { at, key } => Some((number, onto.spot(*at), *key)),
            _ => None,
        })
        .collect();
    laid.signs = stand(&signs, room, &laid.filled.obstacles);
    for one in laid.signs.clone() {
        sign(&mut laid, &one);
    }
    for (number, shape) in all() {
        if let Shape::Size { from, to, aside, words } = shape {
            laid.shape = number;
            size(&mut laid, (onto.spot(*from), onto.spot(*to)), *aside, words);
        }
    }
    for label in &view.labels {
        let within = label.within.map(|frame| onto.frame(frame));
        let own = |one: &&Standing| one.is_set_off() && label.own.contains(&one.shape);
        let at = laid.signs.iter().find(own).map_or(onto.spot(label.at), |one| one.at);
        laid.labels.push(Label { at, within, ..label.clone() });
    }
    laid
}

/// A sign where it stands, with a stroke to its spot where that is beside it.
fn sign(laid: &mut Laid, one: &Standing) {
    laid.shape = one.shape;
    laid.filled.signs.push(one.shape);
    let (frame, middle) = (one.frame(), one.at);
    laid.filled.boxes.push((frame.wider(0.5), one.shape));
    keep_off(laid, Spot::at(frame.low.x, middle.y), Spot::at(frame.high.x, middle.y), (0.0, Some(Of::Thing)));
    keep_off(laid, Spot::at(middle.x, frame.low.y), Spot::at(middle.x, frame.high.y), (0.0, Some(Of::Thing)));
    if one.is_set_off() {
        keep_off(laid, one.spot, one.at, (6.0, None));
        laid.marks.push(Mark::line(Layer::Pipe, Pen::Hair, one.spot, one.at));
    }
    laid.marks.extend(one.key.sign(one.at));
}

fn keep_off(laid: &mut Laid, from: Spot, to: Spot, (weight, of): (f64, Option<Of>)) {
    let shape = laid.shape;
    laid.filled.obstacles.push(Obstacle { from, to, weight, of, shape });
}

fn keep_off_path(laid: &mut Laid, points: &[Spot], closed: bool, how: (f64, Option<Of>)) {
    for (from, to) in points.iter().zip(points.iter().skip(1)) {
        keep_off(laid, *from, *to, how);
    }
    if let (true, Some(first), Some(last)) = (closed, points.first(), points.last()) {
        keep_off(laid, *last, *first, how);
    }
}

fn lay(laid: &mut Laid, shape: &Shape, onto: Onto) {
    let on = |at: &Spot| onto.spot(*at);
    match shape {
        Shape::Path { layer, pen, points, closed } => {
            let points: Vec<Spot> = points.iter().map(on).collect();
            let how = match (layer, pen) {
                (Layer::Building, Pen::Wall | Pen::Edge) => (6.0, Some(Of::House)),
                (Layer::Building, _) => (3.0, Some(Of::House)),
                (Layer::Zones, Pen::Zone | Pen::Height) => (3.0, Some(Of::Zone)),
                _ => (3.0, None),
            };
            keep_off_path(laid, &points, *closed, how);
            if let (Pen::Height, [from, .., to]) = (pen, points.as_slice()) {
                laid.marks.extend(height_ticks(*from, *to));
            }
            laid.marks.push(Mark::path(*layer, *pen, points, *closed));
        }
        Shape::Opening { frame, pen } => {
            let frame = onto.frame(*frame);
            let corners = [
                frame.low,
                Spot::at(frame.high.x, frame.low.y),
                frame.high,
                Spot::at(frame.low.x, frame.high.y),
            ];
            keep_off_path(laid, &corners, true, (3.0, Some(Of::Thing)));
            let own = laid.shape;
            laid.filled.boxes.push((frame, own));
            laid.marks.push(Mark::frame(Layer::Building, *pen, frame));
        }
        Shape::Ring { layer, pen, middle, radius } => {
            let (middle, radius) = (on(middle), radius * onto.scale);
            let round: Vec<Spot> = (0..24)
                .map(|n| f64::from(n) * std::f64::consts::TAU / 24.0)
                .map(|turn| middle.moved(radius * turn.cos(), radius * turn.sin()))
                .collect();
            keep_off_path(laid, &round, true, (2.0, Some(Of::Zone)));
            laid.marks.push(Mark::ring(*layer, *pen, middle, radius));
        }
        Shape::Pipe { from, to, pressure } => {
            let (from, to) = (on(from), on(to));
            keep_off(laid, from, to, (f64::INFINITY, Some(Of::Thing)));
            if *pressure {
                laid.marks.push(Mark::line(Layer::Pipe, Pen::Pressure, from, to));
                laid.marks.push(Mark::line(Layer::Pipe, Pen::Core, from, to));
            } else {
                laid.marks.push(Mark::line(Layer::Pipe, Pen::Suction, from, to));
            }
        }
        Shape::Shade { boxes, within, how } => {
            let boxes: Vec<Frame> = boxes.iter().map(|one| onto.frame(*one)).collect();
            let within: Vec<Spot> = within.iter().map(on).collect();
            let within = if within.is_empty() { Vec::new() } else { vec![within] };
            laid.marks.push(Mark::strokes(Layer::Shading, how.pen, strokes(&boxes, &within, *how)));
        }
        Shape::Falls { from, to } => {
            let (from, to) = (on(from), on(to));
            if from.away(to) > 20.0 {
                // Beside the pipe, in the middle of it.
                let long = from.away(to);
                let (x, y) = ((to.x - from.x) / long, (to.y - from.y) / long);
                let middle = from.toward(to, 0.5).moved(y * 5.0, -x * 5.0);
                let (start, end) = (middle.moved(-x * 9.0, -y * 9.0), middle.moved(x * 9.0, y * 9.0));
                keep_off(laid, start, end, (5.0, None));
                laid.marks.extend(arrow(Layer::Sizes, start, end));
            }
        }
        Shape::Flows { from, to } => {
            let (from, to) = (on(from), on(to));
            let (middle, long) = (from.toward(to, 0.5), from.away(to).max(1e-9));
            let (x, y) = ((to.x - from.x) / long * 4.0, (to.y - from.y) / long * 4.0);
            keep_off(laid, middle.moved(-y, x), middle.moved(y, -x), (8.0, None));
            laid.marks.push(chevron(middle, Spot::at(x, y)));
        }
        Shape::Ground { from, to } => {
            let (from, to) = (on(from), on(to));
            keep_off(laid, from, to, (6.0, Some(Of::House)));
            laid.marks.push(Mark::line(Layer::Building, Pen::Wall, from, to));
            laid.marks.extend(ground_ticks(from, to));
        }
        // These stand where all else is known.
        Shape::Sign { .. } | Shape::Size { .. } => {}
    }
}

/// A dimension: a line with a head at either end, strokes out to it from what it measures, and its words beside it.
fn size(laid: &mut Laid, (from, to): (Spot, Spot), aside: f64, words: &str) {
    let (from, to) = if aside.abs() > 1.0 { (from, to) } else { to_the_rims(&laid.signs, from, to) };
    let long = from.away(to);
    if long < 1e-6 {
        return;
    }
    let (x, y) = ((to.x - from.x) / long, (to.y - from.y) / long);
    let out = |at: Spot, by: f64| at.moved(y * by, -x * by);
    let (start, end) = (out(from, aside), out(to, aside));
    let beyond = aside + 3.0 * aside.signum();
    if aside.abs() > 1.0 {
        for at in [from, to] {
            let stroke = (out(at, 2.0 * aside.signum()), out(at, beyond));
            keep_off(laid, stroke.0, stroke.1, (1.0, None));
            laid.marks.push(Mark::line(Layer::Sizes, Pen::Size, stroke.0, stroke.1));
        }
    }
    if long > 16.0 {
        laid.marks.push(Mark::line(Layer::Sizes, Pen::Size, start, end));
        laid.marks.push(head(Layer::Sizes, start, end));
        laid.marks.push(head(Layer::Sizes, end, start));
        keep_off(laid, start, end, (4.0, Some(Of::Size)));
    } else {
        // Too short for heads between: they point from outside.
        laid.marks.push(Mark::line(Layer::Sizes, Pen::Size, start, end));
        keep_off(laid, start, end, (4.0, Some(Of::Size)));
        for (tip, way) in [(start, -1.0), (end, 1.0)] {
            let tail = tip.moved(x * way * 11.0, y * way * 11.0);
            laid.marks.push(Mark::line(Layer::Sizes, Pen::Size, tail, tip));
            laid.marks.push(head(Layer::Sizes, tail, tip));
            keep_off(laid, tail, tip, (4.0, Some(Of::Size)));
        }
    }
    laid.labels.push(Label {
        at: start.toward(end, 0.5),
        within: None,
        lines: words.lines().map(str::to_owned).collect(),
        size: LABEL,
        off: 2.0,
        turn: 1,
        flag: false,
        own: vec![laid.shape],
    });
}

/// A dimension from or to the middle of a sign is drawn up to its rim, so that neither covers the other.
fn to_the_rims(signs: &[Standing], from: Spot, to: Spot) -> (Spot, Spot) {
    let long = from.away(to);
    let rim = |end: Spot| {
        let here = signs.iter().filter(|one| !one.is_set_off() && one.at.away(end) < 1.0);
        here.map(|one| one.key.reach()).fold(0.0, f64::max)
    };
    let (start, end) = (rim(from), rim(to));
    if long < start + end + 12.0 {
        return (from, to);
    }
    (from.toward(to, start / long), to.toward(from, end / long))
}
