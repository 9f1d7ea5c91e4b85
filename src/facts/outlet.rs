//! The outlet of a discharge as a rim, and how far it is from things.

use crate::base::number::{Number, Ratio};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::geometry::{Facing, Point, Rim};
use crate::calc::pipe_sizes::{Series, outside_diameter, widest};
use crate::design::model::fan::{Direction, Discharge};
use crate::design::model::pipe::{PipeMaterial, PipeSize, Schedule};
use crate::design::model::place::Side;

use super::ask::Ask;
use super::catalogue::Entries;
use super::outlines::Bounds;
use super::places::{self, Along};
use super::runs;
use super::things::of;

/// What the width of an outlet is read from.
pub(super) const WIDTH: Entries = &[
    "systems.*.discharge.outside_diameter",
    "systems.*.runs.*.from",
    "systems.*.runs.*.to",
    "systems.*.runs.*.size",
    "systems.*.runs.*.material",
    "systems.*.runs.*.schedule",
    "systems.*.pipe.size",
    "systems.*.pipe.material",
    "systems.*.pipe.schedule",
];

/// What the way an outlet faces is read from.
pub(super) const FACING: Entries = &["systems.*.discharge.direction", "systems.*.discharge.toward"];

pub(super) fn discharge<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Discharge) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.discharges, get)
}

fn half(whole: &Number) -> Number {
    let half = Number::exact(Ratio::new(1, 2).unwrap_or_default());
    whole * &half
}

/// The tenths of an inch of a trade size, by which the table of diameters is kept.
pub(super) fn tenths(size: PipeSize) -> u32 {
    match size {
        PipeSize::OneAndAHalf => 15,
        PipeSize::Two => 20,
        PipeSize::Three => 30,
        PipeSize::Four => 40,
        PipeSize::Six => 60,
        PipeSize::Eight => 80,
    }
}

pub(super) fn series(material: PipeMaterial, schedule: Option<Schedule>) -> Option<Series> {
    match (material, schedule) {
        (PipeMaterial::Steel, _) => Some(Series::IronPipe),
        (PipeMaterial::Pvc | PipeMaterial::Abs, Some(schedule)) => match schedule {
            Schedule::Twenty | Schedule::Forty | Schedule::Eighty | Schedule::FoamCore => {
                Some(Series::IronPipe)
            }
            Schedule::Sdr35 | Schedule::Sdr26 | Schedule::ThinDrain => Some(Series::SewerPipe),
            Schedule::Thirty => None,
        },
        _ => None,
    }
}

/// The outside diameter of the pipe of a run, by its trade size, material and schedule.
pub(super) fn outside_diameter_of(ask: &mut Ask<'_>, run: Thing) -> Answer<Number> {
    let size = runs::size(ask, run);
    let material = runs::material(ask, run);
    let schedule = runs::schedule(ask, run);
    size.both(material).then(|(size, material)| {
        let series = match schedule {
            Answer::Known { value, .. } => Answer::known(series(material, Some(value))),
            Answer::Unknown(_) if material == PipeMaterial::Steel => Answer::known(series(material, None)),
            Answer::Unknown(missing) => Answer::Unknown(missing),
        };
        series.then(|series| match series.and_then(|series| outside_diameter(series, tenths(size))) {
            Some(diameter) => Answer::known(Number::exact(diameter)),
            None => ask.cannot(run, "the outside diameter of that pipe is not in the table"),
        })
    })
}

/// # Meaning
/// Half the outside width of the outlet.
/// # Formula
/// Half the outside diameter, as stated or from the trade size, material and schedule of the run that ends there.
/// # Valid for
/// Round pipe of the sizes in the table.
/// # Accuracy
/// The nominal figure. Where the size is not stated, the range from nothing to the widest pipe of the table, in
/// doubt for want of it.
/// # Source
/// `calc::pipe_sizes`.
/// # Errors
/// Never unknown.
/// # Example
/// Schedule 40 of 4 in trade size: 2 1/4 in.
pub(super) fn radius(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let stated = discharge(ask, it, |ask, record| {
        ask.quantity(&record.here, &record.outside_diameter).map(|diameter| half(&diameter))
    });
    if let Answer::Known { .. } = stated {
        return stated;
    }
    let last = places::run_to_discharge(ask, it);
    let by_size = match last {
        Some(run) => outside_diameter_of(ask, run).map(|diameter| half(&diameter)),
        None => stated,
    };
    match by_size {
        Answer::Unknown(doubts) => {
            Answer::Known { value: half(&Number::between(Ratio::ZERO, widest())), doubts }
        }
        known => known,
    }
}

/// Which way the outlet faces. One whose direction is not stated may face any way, in doubt for want of it.
fn facing(ask: &mut Ask<'_>, it: Thing) -> Answer<Facing> {
    discharge(ask, it, |ask, record| {
        let want = record.direction.want(&record.here);
        match ask.value(&record.here, &record.direction) {
            Answer::Known { value: Direction::Up, .. } => Answer::known(Facing::UpOrDown),
            Answer::Known { value: Direction::Level, .. } => {
                let side = ask.read(&record.here, &record.toward).value().flatten();
                match side {
                    Some(Side::East | Side::West) => Answer::known(Facing::EastOrWest),
                    Some(Side::North | Side::South) => Answer::known(Facing::NorthOrSouth),
                    None => Answer::Known {
                        value: Facing::Otherwise,
                        doubts: vec![record.toward.want(&record.here)],
                    },
                }
            }
            Answer::Known { .. } => Answer::Known {
                value: Facing::Otherwise,
                doubts: vec![Missing { reason: Reason::Imprecise, ..want }],
            },
            Answer::Unknown(doubts) => Answer::Known { value: Facing::Otherwise, doubts },
        }
    })
}

/// How far the rim of an outlet reaches level from its middle.
#[derive(Clone, Debug)]
pub(super) enum Level {
    /// So far whichever way one looks: it points up.
    AllRound(Number),
    /// So far at most.
    UpTo(Number),
}

/// How far the rim of an outlet reaches level from its middle.
pub(super) fn level_reach(ask: &mut Ask<'_>, it: Thing) -> Answer<Level> {
    let facing = facing(ask, it);
    radius(ask, it).both(facing).map(|(radius, facing)| match facing {
        Facing::UpOrDown => Level::AllRound(radius),
        Facing::EastOrWest | Facing::NorthOrSouth | Facing::Otherwise => Level::UpTo(radius),
    })
}

/// How far a coordinate lies outside a stretch; nought inside it.
fn gap(at: &Number, low: &(Ratio, Ratio), high: &(Ratio, Ratio)) -> Number {
    let low = Number::between(low.0.clone(), low.1.clone());
    let high = Number::between(high.0.clone(), high.1.clone());
    Number::greatest(&[Number::whole(0), &low - at, at - &high]).unwrap_or_else(|| Number::whole(0))
}

fn root_of(square: &Number) -> Number {
    let low = square.low().max(Ratio::ZERO);
    let held = Number::between(low, square.high().max(Ratio::ZERO));
    let square = if square.is_point() { square } else { &held };
    square.sqrt().unwrap_or_else(|| Number::whole(0))
}

/// The distance when something is known only within bounds: a range that surely holds it.
fn loosely(at: &[Number; 3], radius: &Number, facing: Facing, bounds: &Bounds) -> Number {
    let [x, y, z] = at;
    let [lx, ly, lz] = &bounds.low;
    let [hx, hy, hz] = &bounds.high;
    let (gx, gy, gz) = (gap(x, lx, hx), gap(y, ly, hy), gap(z, lz, hz));
    let (a, b, along) = match facing {
        Facing::UpOrDown => (gx, gy, gz),
        Facing::EastOrWest => (gy, gz, gx),
        Facing::NorthOrSouth => (gx, gz, gy),
        Facing::Otherwise => {
            let middle = root_of(&(&(&gx.squared() + &gy.squared()) + &gz.squared()));
            let low = (&middle - radius).low().max(Ratio::ZERO);
            let high = root_of(&(&middle.squared() + &radius.squared())).high();
            return Number::between(low, high);
        }
    };
    let across = &root_of(&(&a.squared() + &b.squared())) - radius;
    let across = if across.low().is_negative() {
        let most = across.high().abs().max(across.low().abs());
        Number::between(Ratio::ZERO, most)
    } else {
        across
    };
    root_of(&(&across.squared() + &along.squared()))
}

/// # Meaning
/// The straight distance from the nearest edge of the outlet to the nearest point of a box.
/// # Formula
/// See `calc::geometry::Rim::distance`.
/// # Valid for
/// Every outlet. Where its width or direction is not stated, the range of what it can be.
/// # Accuracy
/// Exact where everything is stated exactly and the box faces the pipe squarely; otherwise a range.
/// # Source
/// `calc::geometry`.
/// # Errors
/// Unknown when the place of the outlet cannot be told.
/// # Example
/// An outlet of 4 1/2 in at 24 ft and a window 10 ft north of its middle whose top is at 15 ft 4 in:
/// `sqrt((10 ft - 2 1/4 in)^2 + (8 ft 8 in)^2)`.
pub(super) fn distance(ask: &mut Ask<'_>, it: Thing, bounds: &Bounds) -> Answer<Number> {
    let x = places::coordinate(ask, it, Along::East);
    let y = places::coordinate(ask, it, Along::North);
    let z = places::coordinate(ask, it, Along::Up);
    let way = radius(ask, it).both(facing(ask, it));
    x.both(y).both(z).both(way).map(|(((x, y), z), (radius, facing))| {
        let exact = || {
            let centre = Point::new(x.as_exact()?.clone(), y.as_exact()?.clone(), z.as_exact()?.clone());
            let rim = Rim { centre, radius: radius.as_exact()?.clone(), facing };
            Some(rim.distance(&bounds.exact()?))
        };
        match exact() {
            Some(distance) => distance,
            None => loosely(&[x.clone(), y.clone(), z.clone()], &radius, facing, bounds),
        }
    })
}
