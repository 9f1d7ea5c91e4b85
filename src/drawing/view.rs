//! A view of a house before it is laid on paper: shapes in metres, to the right and upward, with the labels they want.

use std::collections::BTreeSet;

use super::hatch::{Hatching, strokes};
use super::labels::{Label, Obstacle};
use super::scene::{Frame, Layer, Mark, Pen, Spot};
use super::signs::{Key, arrow, chevron, ground_ticks, head};

/// The size of the letters of labels, in points.
pub(crate) const LABEL: f64 = 7.5;

/// Something in a view.
#[derive(Clone, PartialEq, Debug)]
pub(crate) enum Shape {
    /// A line or an outline.
    Path { layer: Layer, pen: Pen, points: Vec<Spot>, closed: bool },
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
    pub(crate) flags: Vec<(Spot, String)>,
}

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
        self.labels.push(Label { at, within: None, lines, size: LABEL, off, turn, flag: false });
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
        }))
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

/// A view on paper: its marks, its labels, and what labels had better not cover.
#[derive(Clone, PartialEq, Default, Debug)]
pub(crate) struct Laid {
    pub(crate) marks: Vec<Mark>,
    pub(crate) labels: Vec<Label>,
    pub(crate) obstacles: Vec<Obstacle>,
}

/// Lays a view on paper.
pub(crate) fn laid(view: &View, onto: Onto) -> Laid {
    let mut laid = Laid::default();
    for shape in &view.shapes {
        lay(&mut laid, shape, onto);
    }
    for label in &view.labels {
        let within = label.within.map(|frame| onto.frame(frame));
        laid.labels.push(Label { at: onto.spot(label.at), within, ..label.clone() });
    }
    laid
}

fn keep_off(laid: &mut Laid, from: Spot, to: Spot, weight: f64) {
    laid.obstacles.push(Obstacle { from, to, weight });
}

fn keep_off_path(laid: &mut Laid, points: &[Spot], closed: bool, weight: f64) {
    for (from, to) in points.iter().zip(points.iter().skip(1)) {
        keep_off(laid, *from, *to, weight);
    }
    if let (true, Some(first), Some(last)) = (closed, points.first(), points.last()) {
        keep_off(laid, *last, *first, weight);
    }
}

fn lay(laid: &mut Laid, shape: &Shape, onto: Onto) {
    let on = |at: &Spot| onto.spot(*at);
    match shape {
        Shape::Path { layer, pen, points, closed } => {
            let points: Vec<Spot> = points.iter().map(on).collect();
            let weight = match pen {
                Pen::Wall | Pen::Edge => 3.0,
                Pen::Zone => 1.5,
                _ => 2.0,
            };
            keep_off_path(laid, &points, *closed, weight);
            laid.marks.push(Mark::path(*layer, *pen, points, *closed));
        }
        Shape::Ring { layer, pen, middle, radius } => {
            let (middle, radius) = (on(middle), radius * onto.scale);
            let round: Vec<Spot> = (0..24)
                .map(|n| f64::from(n) * std::f64::consts::TAU / 24.0)
                .map(|turn| middle.moved(radius * turn.cos(), radius * turn.sin()))
                .collect();
            keep_off_path(laid, &round, true, 1.5);
            laid.marks.push(Mark::ring(*layer, *pen, middle, radius));
        }
        Shape::Pipe { from, to, pressure } => {
            let (from, to) = (on(from), on(to));
            keep_off(laid, from, to, 5.0);
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
        Shape::Sign { at, key } => {
            let at = on(at);
            let frame = Frame { low: at, high: at }.wider(key.reach());
            keep_off(laid, frame.low, frame.high, 12.0);
            keep_off(laid, Spot::at(frame.low.x, frame.high.y), Spot::at(frame.high.x, frame.low.y), 12.0);
            laid.marks.extend(key.sign(at));
        }
        Shape::Falls { from, to } => {
            let (from, to) = (on(from), on(to));
            if from.away(to) > 20.0 {
                // Beside the pipe, in the middle of it.
                let long = from.away(to);
                let (x, y) = ((to.x - from.x) / long, (to.y - from.y) / long);
                let middle = from.toward(to, 0.5).moved(y * 5.0, -x * 5.0);
                let (start, end) = (middle.moved(-x * 9.0, -y * 9.0), middle.moved(x * 9.0, y * 9.0));
                keep_off(laid, start, end, 5.0);
                laid.marks.extend(arrow(Layer::Sizes, start, end));
            }
        }
        Shape::Flows { from, to } => {
            let (from, to) = (on(from), on(to));
            laid.marks.push(chevron(from.toward(to, 0.5), Spot::at(to.x - from.x, to.y - from.y)));
        }
        Shape::Ground { from, to } => {
            let (from, to) = (on(from), on(to));
            keep_off(laid, from, to, 3.0);
            laid.marks.push(Mark::line(Layer::Building, Pen::Wall, from, to));
            laid.marks.extend(ground_ticks(from, to));
        }
        Shape::Size { from, to, aside, words } => size(laid, on(from), on(to), *aside, words),
    }
}

/// A dimension: a line with a head at either end, strokes out to it from what it measures, and its words beside it.
fn size(laid: &mut Laid, from: Spot, to: Spot, aside: f64, words: &str) {
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
            keep_off(laid, stroke.0, stroke.1, 1.0);
            laid.marks.push(Mark::line(Layer::Sizes, Pen::Size, stroke.0, stroke.1));
        }
    }
    if long > 16.0 {
        laid.marks.push(Mark::line(Layer::Sizes, Pen::Size, start, end));
        laid.marks.push(head(Layer::Sizes, start, end));
        laid.marks.push(head(Layer::Sizes, end, start));
        keep_off(laid, start, end, 2.0);
    } else {
        // Too short for heads between: they point from outside.
        for (tip, way) in [(start, -1.0), (end, 1.0)] {
            let tail = tip.moved(x * way * 11.0, y * way * 11.0);
            laid.marks.push(Mark::line(Layer::Sizes, Pen::Size, tail, tip));
            laid.marks.push(head(Layer::Sizes, tail, tip));
            keep_off(laid, tail, tip, 2.0);
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
    });
}
