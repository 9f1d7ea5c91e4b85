//! The other way round: the smallest ordinary size of a run that keeps what is designed, and what a fan has to spare.

use crate::base::number::Number;
use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::calc::air::Air;
use crate::calc::amounts::{Amount, Length};
use crate::calc::section::Section;
use crate::design::model::pipe::PipeSize;
use crate::facts::ask::Ask;
use crate::facts::bores::{by_name, nominal};
use crate::facts::kinds::Kind;
use crate::facts::runs::{material, schedule};
use crate::facts::suction::point;
use crate::facts::system::{system, system_of};
use crate::yaml::words::Words;

use super::built::Side;
use super::left::{GOOD_TO, Way, left, way_from};
use super::piping::{Bounds, Piping, gas, piping};
use super::worked::{not_worked, points_of, way};

/// A size that is offered: what it is called, and its clear opening.
struct Offered {
    called: Number,
    section: Bounds<Section>,
}

/// What a size has to keep.
struct Kept {
    /// The way of each point behind the run, and the suction that the point is designed to have.
    points: Vec<(Way, Number)>,
    /// The air through the run.
    flow: Number,
    /// The fastest that it is to go, where that is said.
    fastest: Option<Number>,
}

/// The suction that a point is designed to have.
fn designed(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    point(ask, it, |ask, record| ask.quantity(&record.here, &record.suction))
}

/// The fastest that the air of a system is to go; nothing where no such bound is stated.
fn fastest(ask: &mut Ask<'_>, it: Thing) -> Answer<Option<Number>> {
    system(ask, it, |ask, record| {
        let stated = record.design_point.known().is_some_and(|point| !point.air_speed.is_missing());
        let fastest = ask.quantity_inside(&record.here, &record.design_point, "air_speed", |point| {
            (&point.here, &point.air_speed)
        });
        if stated {
            return fastest.map(Some);
        }
        ask.assume("no speed is stated that the air has to stay below, so that suction alone decides");
        Answer::known(None)
    })
}

/// The sizes in which pipe of the run's sort is made.
fn offered(ask: &mut Ask<'_>, it: Thing) -> Answer<Vec<Offered>> {
    let walls = match schedule(ask, it) {
        Answer::Known { value, .. } => Some(value),
        Answer::Unknown(_) => None,
    };
    material(ask, it).then(|material| {
        let each = PipeSize::ALL.iter().filter_map(|(size, ..)| {
            let (narrow, wide) = by_name(material, walls, *size)?.0.to_f64_bounds();
            let round = |wide: f64| Section::round(Length::from_si(wide)?).ok();
            let section = Bounds { least: round(wide)?, most: round(narrow)? };
            Some(Offered { called: nominal(*size), section })
        });
        let each: Vec<Offered> = each.collect();
        match each.is_empty() {
            true => ask.cannot(it, "no table says how wide the sizes of its sort of pipe are"),
            false => Answer::known(each),
        }
    })
}

/// # Meaning
/// The smallest trade size of a run with which every suction point behind it keeps the suction that it is designed for, and the air of
/// the run the speed that is stated for the system, all other runs as they are drawn.
/// # Formula
/// For each size from the smallest up: what the fan makes at the designed air less what the pipe takes, as for `suction_left`; the designed
/// air over the clear area.
/// # Valid for
/// Pipe in series whose widths are in the tables; systems whose points state the air and suction they are designed for.
/// # Accuracy
/// From the size that is enough where pipe takes least and the fan is at its best to that which is enough where it is the other way about.
/// Fittings take what those of the drawn size take.
/// # Source
/// As [`super::suction_left`]; widths as in `calc::pipe_sizes`.
/// # Errors
/// Unknown where something designed is; where even the widest size is not enough.
/// # Example
/// 60 cfm, at most 1,000 fpm: 3 in of schedule 40 has 0.0513 sq ft, 1,169 fpm; 4 in has 0.0884 sq ft, 679 fpm, and is the smallest.
pub(super) fn smallest_size(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    system_of(ask, it).then(|system| {
        let air = gas(ask, system);
        air.both(piping(ask, system)).both(offered(ask, it)).then(|((air, piping), offered)| {
            ask.assume(GOOD_TO);
            ask.assume(
                "the other runs are as they are drawn, and fittings of another size take what these do",
            );
            let Some(at) = piping.pipes.iter().position(|pipe| pipe.it == it) else {
                return ask.cannot(it, "it is no pipe of its system");
            };
            kept(ask, system, &piping, at).then(|kept| {
                let ends = [Side::Least, Side::Most]
                    .map(|takes| smallest(&piping, &air, at, &kept, &offered, takes));
                let [Some(low), Some(high)] = ends else {
                    // What the widest does, where the fan or a formula does not reach, is told of itself.
                    for (way, _) in &kept.points {
                        if let Err(why) = left(&piping, air.at(Side::Least), way, Side::Most) {
                            return not_worked(ask, system, &why);
                        }
                    }
                    return ask.cannot(
                        it,
                        "it is not certain that even the widest ordinary size keeps what is designed",
                    );
                };
                Answer::known(low.hull(&high))
            })
        })
    })
}

/// What a run has to keep.
fn kept(ask: &mut Ask<'_>, system: Thing, piping: &Piping, at: usize) -> Answer<Kept> {
    let Some(pipe) = piping.pipes.get(at) else { return ask.cannot(system, "it has no such run") };
    let behind = points_of(&piping.pipes, &way(&piping.pipes, at), pipe);
    if behind.is_empty() {
        return ask.cannot(pipe.it, "no suction point draws by way of it");
    }
    let mut points = Vec::new();
    for point in behind {
        points.push(way_from(ask, piping, point).both(designed(ask, point)));
    }
    let flow = ask.number(pipe.it, "flow");
    Answer::all(points).both(flow).both(fastest(ask, system)).map(|((points, flow), fastest)| {
        let each = f64::from(pipe.abreast);
        let (low, high) = flow.to_f64_bounds();
        let flow = Number::from_f64_range(low / each, high / each).unwrap_or(flow);
        Kept { points, flow, fastest }
    })
}

/// The smallest size that keeps all of it, with pipe that takes least and a fan at its best, or the other way about.
fn smallest(
    piping: &Piping,
    air: &Bounds<Air>,
    at: usize,
    kept: &Kept,
    offered: &[Offered],
    takes: Side,
) -> Option<Number> {
    let easier = takes == Side::Least;
    // Whatever is known as a range counts at the end that asks for less pipe, or at that which asks for more.
    let low_or_high = |number: &Number, low: bool| {
        let (least, most) = number.to_f64_bounds();
        if low { least } else { most }
    };
    let slow_enough = |size: &Offered| {
        let Some(fastest) = &kept.fastest else { return true };
        let section = if easier { size.section.least } else { size.section.most };
        low_or_high(&kept.flow, easier) <= low_or_high(fastest, !easier) * section.area().to_si()
    };
    let strong_enough = |size: &Offered| {
        let mut resized = piping.clone();
        if let Some(pipe) = resized.pipes.get_mut(at) {
            pipe.section = size.section;
        }
        kept.points.iter().all(|(way, wanted)| {
            left(&resized, air.at(takes.other()), way, takes)
                .is_ok_and(|left| left >= low_or_high(wanted, easier))
        })
    };
    offered.iter().find(|size| slow_enough(size) && strong_enough(size)).map(|size| size.called.clone())
}

/// # Meaning
/// How much more suction the fan makes at the designed air than pipe and suction points take, at the point that has least over.
/// # Formula
/// The least of the suctions left at the points less those that they are designed to have.
/// # Valid for
/// As `suction_left`.
/// # Accuracy
/// As `suction_left`. Below nought all the way the fan does not fit; above it all the way it does.
/// # Source
/// As [`super::suction_left`].
/// # Errors
/// Unknown where the suction left at a point is, or that which it is designed to have.
/// # Example
/// 1.7 in WC are left at one point that is designed for 1 in WC, 1.5 in WC at another that is designed for 1.2 in WC: 0.3 in WC.
pub(super) fn to_spare(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    system_of(ask, it).then(|system| {
        let mut each = Vec::new();
        for point in ask.things().owned(Kind::SuctionPoint, system.number) {
            let spare = ask.number(point, "suction_left").both(designed(ask, point));
            each.push(spare.map(|(left, wanted)| &left - &wanted));
        }
        Answer::all(each).then(|each| match Number::least(&each) {
            Some(least) => Answer::known(least),
            None => ask.cannot(it, "no suction point of its system is in the file"),
        })
    })
}
