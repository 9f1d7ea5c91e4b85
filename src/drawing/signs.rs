//! Signs: plain shapes that stand for things, each told in the legend of the sheet it is on.

use super::scene::{Frame, Layer, Mark, Pen, Spot};

/// What can stand in a legend.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub(crate) enum Key {
    /// The inner face of a wall.
    Wall,
    /// An edge that was not measured.
    Unsure,
    /// A footing under the floor.
    Footing,
    /// A drain loop or a collector.
    Loop,
    /// A floor of the foundation, seen from the side.
    Floor,
    /// Finished ground.
    Ground,
    /// Pipe under suction.
    Suction,
    /// Pipe under pressure.
    Pressure,
    /// Which way a level run falls.
    Falls,
    /// Which way the air goes.
    Flows,
    /// A pipe that rises out of the plan.
    Rises,
    /// A pipe that drops out of the plan.
    Drops,
    /// A suction point.
    Point,
    /// A fan.
    Fan,
    /// The outlet.
    Discharge,
    /// A sump.
    Sump,
    /// A drain.
    Drain,
    /// A test hole.
    TestHole,
    /// A valve.
    Valve,
    /// A gauge or an alarm.
    Gauge,
    /// A disconnect.
    Disconnect,
    /// A window, a door or another opening.
    Opening,
    /// Fixed glass.
    Fixed,
    /// An opening on the side that is turned away.
    Far,
    /// An opening of which only the tape is known.
    Turned,
    /// An air intake.
    Intake,
    /// A chimney or another vent.
    Chimney,
    /// A neighbour's building.
    Neighbour,
    /// A line of the property.
    Property,
    /// A wall or parapet above the roof.
    Above,
    /// Something solid near the discharge.
    Solid,
    /// Something on which people walk.
    Walked,
    /// What a rule keeps clear.
    Zone,
    /// A line at which a height is asked for.
    Height,
    /// A line on which a discharge may stand.
    Plumb,
    /// The number of a finding.
    Flag,
    /// What a variance permits.
    Permitted,
}

impl Key {
    /// What it means.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Key::Wall => "inner face of a wall",
            Key::Unsure => "not measured, or taken for granted",
            Key::Footing => "footing or beam under the floor",
            Key::Loop => "drain loop or collector",
            Key::Floor => "floor of the foundation",
            Key::Ground => "finished ground",
            Key::Suction => "pipe under suction",
            Key::Pressure => "pipe under pressure",
            Key::Falls => "falls this way (water runs)",
            Key::Flows => "the air goes this way",
            Key::Rises => "pipe rises here",
            Key::Drops => "pipe drops here",
            Key::Point => "suction point",
            Key::Fan => "fan",
            Key::Discharge => "discharge",
            Key::Sump => "sump",
            Key::Drain => "drain",
            Key::TestHole => "test hole",
            Key::Valve => "valve",
            Key::Gauge => "gauge or alarm",
            Key::Disconnect => "disconnect",
            Key::Opening => "opening that opens",
            Key::Fixed => "opening that does not open, or not known",
            Key::Far => "opening on the far side",
            Key::Turned => "turned into this plane, by its tape",
            Key::Intake => "air intake",
            Key::Chimney => "chimney or other vent",
            Key::Neighbour => "neighbour's building",
            Key::Property => "line of the property",
            Key::Above => "wall or parapet above the roof",
            Key::Solid => "something solid near the discharge",
            Key::Walked => "place where people walk",
            Key::Zone => "clearance that a book asks for",
            Key::Height => "height that a book asks for",
            Key::Plumb => "the discharge may stand on this line",
            Key::Flag => "number of a finding, see the list",
            Key::Permitted => "permitted by a variance, see the list",
        }
    }

    /// Which of several signs on one spot matters most: the least.
    pub(crate) fn rank(self) -> u8 {
        match self {
            Key::Fan => 0,
            Key::Discharge => 1,
            Key::Point => 2,
            Key::Sump => 3,
            Key::Drain => 4,
            Key::Chimney | Key::Valve => 5,
            Key::Gauge | Key::Disconnect => 6,
            Key::TestHole => 7,
            _ => 8,
        }
    }

    /// Half of how wide its sign is on paper.
    pub(crate) fn reach(self) -> f64 {
        match self {
            Key::Fan => 7.0,
            Key::Discharge | Key::Sump => 5.5,
            Key::Point | Key::Valve | Key::Gauge | Key::Disconnect => 5.0,
            Key::Drain => 4.5,
            Key::Rises | Key::Drops => 3.6,
            Key::TestHole => 3.2,
            _ => 5.0,
        }
    }

    /// Its sign at a place.
    pub(crate) fn sign(self, at: Spot) -> Vec<Mark> {
        let r = self.reach();
        let ring = |pen, radius| Mark::ring(Layer::Signs, pen, at, radius);
        let hair = |x0, y0, x1, y1| Mark::line(Layer::Signs, Pen::Hair, at.moved(x0, y0), at.moved(x1, y1));
        let square = |by: f64| Mark::frame(Layer::Signs, Pen::Sign, Frame { low: at, high: at }.wider(by));
        let solid = |corners: &[(f64, f64)]| {
            let points = corners.iter().map(|(x, y)| at.moved(*x, *y)).collect();
            Mark::path(Layer::Signs, Pen::Ink, points, true)
        };
        match self {
            Key::Fan => vec![
                ring(Pen::Sign, r),
                hair(-r * 0.87, r * 0.5, r * 0.5, -r * 0.87),
                hair(r * 0.87, r * 0.5, -r * 0.5, -r * 0.87),
            ],
            Key::Discharge => vec![
                ring(Pen::Sign, r),
                solid(&[(0.0, -r * 0.75), (r * 0.6, r * 0.35), (-r * 0.6, r * 0.35)]),
            ],
            Key::Point => vec![ring(Pen::Sign, r), ring(Pen::Ink, r * 0.45)],
            Key::Sump => vec![square(r), hair(-r, -r, r, r), hair(-r, r, r, -r)],
            Key::Drain => vec![
                ring(Pen::Sign, r),
                hair(-r * 0.9, -1.5, r * 0.9, -1.5),
                hair(-r * 0.9, 1.5, r * 0.9, 1.5),
                hair(-1.5, -r * 0.9, -1.5, r * 0.9),
                hair(1.5, -r * 0.9, 1.5, r * 0.9),
            ],
            Key::TestHole => vec![ring(Pen::Sign, r), ring(Pen::Ink, 0.9)],
            Key::Rises => vec![ring(Pen::Sign, r), ring(Pen::Ink, 1.3)],
            Key::Drops => {
                let d = r * std::f64::consts::FRAC_1_SQRT_2;
                vec![ring(Pen::Sign, r), hair(-d, -d, d, d), hair(-d, d, d, -d)]
            }
            Key::Valve => vec![Mark::path(
                Layer::Signs,
                Pen::Sign,
                [(-r, -r * 0.6), (r, r * 0.6), (r, -r * 0.6), (-r, r * 0.6)]
                    .iter()
                    .map(|(x, y)| at.moved(*x, *y))
                    .collect(),
                true,
            )],
            Key::Gauge => vec![
                ring(Pen::Sign, r),
                hair(0.0, 0.0, r * 0.6, -r * 0.6),
                hair(-r * 0.7, r * 0.4, r * 0.7, r * 0.4),
            ],
            Key::Chimney => vec![square(r), ring(Pen::Sign, r * 0.6)],
            Key::Disconnect => vec![
                square(r),
                hair(-r * 0.6, r * 0.3, r * 0.5, -r * 0.5),
                hair(r * 0.6, r * 0.3, r * 0.9, r * 0.3),
            ],
            _ => Vec::new(),
        }
    }

    /// What stands for it in the legend, in a box about a place.
    pub(crate) fn sample(self, at: Spot) -> Vec<Mark> {
        let line = |pen, layer| Mark::line(layer, pen, at.moved(-9.0, 0.0), at.moved(9.0, 0.0));
        let opening = |pen| {
            Mark::frame(Layer::Building, pen, Frame::of(at.x - 7.0, at.y - 3.5, at.x + 7.0, at.y + 3.5))
        };
        match self {
            Key::Wall => vec![line(Pen::Wall, Layer::Building)],
            Key::Unsure => vec![line(Pen::Unsure, Layer::Building)],
            Key::Footing => vec![line(Pen::Footing, Layer::Building)],
            Key::Floor => vec![line(Pen::Floor, Layer::Building)],
            Key::Loop => vec![line(Pen::Loop, Layer::Building)],
            Key::Ground => {
                let mut marks = vec![line(Pen::Wall, Layer::Building)];
                marks.extend(ground_ticks(at.moved(-9.0, 0.0), at.moved(9.0, 0.0)));
                marks
            }
            Key::Suction => vec![line(Pen::Suction, Layer::Pipe)],
            Key::Pressure => vec![line(Pen::Pressure, Layer::Pipe), line(Pen::Core, Layer::Pipe)],
            Key::Falls => arrow(Layer::Sizes, at.moved(-9.0, 0.0), at.moved(9.0, 0.0)),
            Key::Flows => vec![chevron(at, Spot::at(1.0, 0.0))],
            Key::Opening => vec![opening(Pen::Edge)],
            Key::Fixed => {
                let mut marks = vec![opening(Pen::Edge)];
                marks.push(Mark::line(Layer::Building, Pen::Hair, at.moved(-7.0, 3.5), at.moved(7.0, -3.5)));
                marks
            }
            Key::Far => vec![opening(Pen::Far)],
            Key::Turned => vec![opening(Pen::Unsure)],
            Key::Intake => {
                let mut marks = vec![opening(Pen::Edge)];
                for y in [-1.2, 1.2] {
                    let ends = (at.moved(-7.0, y), at.moved(7.0, y));
                    marks.push(Mark::line(Layer::Building, Pen::Hair, ends.0, ends.1));
                }
                marks
            }
            Key::Neighbour | Key::Solid => {
                vec![Mark::frame(
                    Layer::Building,
                    Pen::Edge,
                    Frame::of(at.x - 9.0, at.y - 4.5, at.x + 9.0, at.y + 4.5),
                )]
            }
            Key::Walked => {
                vec![Mark::frame(
                    Layer::Building,
                    Pen::Unsure,
                    Frame::of(at.x - 9.0, at.y - 4.5, at.x + 9.0, at.y + 4.5),
                )]
            }
            Key::Property => vec![line(Pen::Property, Layer::Building)],
            Key::Above => vec![line(Pen::Above, Layer::Building)],
            Key::Zone => vec![line(Pen::Zone, Layer::Zones)],
            Key::Plumb => vec![line(Pen::Plumb, Layer::Zones)],
            Key::Height => {
                let mut marks = vec![line(Pen::Height, Layer::Zones)];
                marks.extend(height_ticks(at.moved(-9.0, 0.0), at.moved(9.0, 0.0)));
                marks
            }
            Key::Flag => flag(at, "1"),
            Key::Permitted => flag(at, "V1"),
            sign => sign.sign(at),
        }
    }
}

/// How high the letters of a flag are.
const FLAG: f64 = 7.0;

/// How wide the flag of a finding is.
pub(crate) fn flag_width(number: &str) -> f64 {
    super::font::width_of(number, FLAG) + 8.0
}

/// The numbers that stand on a flag, such as 4-6, 9.
fn numbers(on_flag: &str) -> Vec<usize> {
    let row = |row: &str| {
        let (from, to) = row.split_once('-').unwrap_or((row, row));
        Some(from.trim().parse().ok()?..=to.trim().parse().ok()?)
    };
    on_flag.split(',').filter_map(row).flatten().collect()
}

/// The flag with the number of a finding, about a place: a six-sided box.
pub(crate) fn flag(at: Spot, number: &str) -> Vec<Mark> {
    let wide = super::font::width_of(number, FLAG);
    let (half, point) = (wide / 2.0 + 1.0, 3.0);
    let corners =
        [(-half - point, 0.0), (-half, -5.0), (half, -5.0), (half + point, 0.0), (half, 5.0), (-half, 5.0)];
    let points = corners.iter().map(|(x, y)| at.moved(*x, *y)).collect();
    let words = Mark::words(Layer::Labels, Pen::Words, at.moved(-wide / 2.0, FLAG * 0.34), FLAG, number);
    vec![Mark::path(Layer::Labels, Pen::Flag, points, true), Mark { flags: numbers(number), ..words }]
}

/// An arrow from one place to another, its head black.
pub(crate) fn arrow(layer: Layer, from: Spot, to: Spot) -> Vec<Mark> {
    vec![Mark::line(layer, Pen::Size, from, to), head(layer, from, to)]
}

/// The head of an arrow.
pub(crate) fn head(layer: Layer, from: Spot, to: Spot) -> Mark {
    let long = from.away(to).max(1e-9);
    let (x, y) = ((to.x - from.x) / long, (to.y - from.y) / long);
    let corner = |along: f64, aside: f64| to.moved(-x * along - y * aside, -y * along + x * aside);
    Mark::path(layer, Pen::Ink, vec![to, corner(5.0, 1.6), corner(5.0, -1.6)], true)
}

/// A black wedge on a pipe that shows which way the air goes.
pub(crate) fn chevron(at: Spot, way: Spot) -> Mark {
    let long = way.x.hypot(way.y).max(1e-9);
    let (x, y) = (way.x / long, way.y / long);
    let corner = |along: f64, aside: f64| at.moved(x * along - y * aside, y * along + x * aside);
    Mark::path(Layer::Signs, Pen::Ink, vec![corner(4.0, 0.0), corner(-2.5, 3.2), corner(-2.5, -3.2)], true)
}

/// Short strokes upward from a line above which a discharge has to stand.
pub(crate) fn height_ticks(from: Spot, to: Spot) -> Vec<Mark> {
    let tick = |at: Spot| Mark::line(Layer::Zones, Pen::Height, at, at.moved(0.0, -4.0));
    vec![tick(from), tick(to)]
}

/// Short strokes under the line of the ground.
pub(crate) fn ground_ticks(from: Spot, to: Spot) -> Vec<Mark> {
    let long = from.away(to);
    let mut strokes = Vec::new();
    let mut at = 4.0;
    while at < long {
        let top = from.toward(to, at / long);
        strokes.push((top, top.moved(-4.0, 4.0)));
        at += 7.0;
    }
    vec![Mark::strokes(Layer::Building, Pen::Hatch, strokes)]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_flag_flags_every_finding_whose_number_it_stands_for() {
        assert_eq!(numbers("4-6, 9"), [4, 5, 6, 9]);
        assert_eq!(numbers("7"), [7]);
        assert_eq!(numbers(""), Vec::<usize>::new());
    }
}
