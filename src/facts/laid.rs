//! How a run is laid: how long it is, how it slopes, how it is held.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::design::model::pipe::{Hangers, Run};
use crate::yaml::entry::State;

use super::ask::Ask;
use super::downstream::downstream;
use super::extents::{along_axis, extents, level_reach, moved, says_a_way};
use super::join::agree;
use super::outlines;
use super::places::{self, Along};
use super::runs::run;
use super::statements::{half_of, settle};

/// Half the last fraction of a length.
pub(super) fn step_of(length: &crate::yaml::measure::Measure<crate::yaml::measure::Length>) -> Ratio {
    half_of(length.quantity.step().filter(|_| length.within.is_none()))
}

/// Whether a run goes straight up or down.
pub(super) fn upright(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    run(ask, it, |ask, run| {
        for extent in extents(run) {
            let _ = ask.read(&run.here, extent);
        }
        let level =
            [&run.north, &run.south, &run.east, &run.west].into_iter().any(|extent| !extent.is_missing());
        let plumb = !run.up.is_missing() || !run.down.is_missing();
        let unread = extents(run).into_iter().find(|extent| matches!(extent.state, State::Unreadable));
        let by_tape = match (unread, plumb, level) {
            (Some(extent), _, _) => Answer::missing(extent.want(&run.here)),
            (None, true, false) => Answer::known(true),
            (None, _, true) => Answer::known(false),
            (None, false, false) => Answer::missing(run.points.want(&run.here)),
        };
        let points: Vec<_> = ask
            .read(&run.here, &run.points)
            .value()
            .flatten()
            .into_iter()
            .flat_map(|p| p.members())
            .collect();
        let by_points = match (points.first(), points.last()) {
            (Some(first), Some(last)) => {
                let across = ask
                    .quantity(&first.here, &first.x)
                    .both(ask.quantity(&last.here, &last.x))
                    .both(ask.quantity(&first.here, &first.y).both(ask.quantity(&last.here, &last.y)));
                across.map(|((x0, x1), (y0, y1))| x0 == x1 && y0 == y1)
            }
            _ => Answer::missing(run.points.want(&run.here)),
        };
        agree(by_tape, by_points, &[run.points.want(&run.here)])
    })
}

/// # Meaning
/// How much a run falls per length toward the suction points, so that water runs back to the soil. Negative where it
/// runs the wrong way.
/// # Formula
/// As stated; or the drop from the end nearer the discharge to the other, over the level distance between them.
/// # Valid for
/// Runs that are not upright.
/// # Accuracy
/// Exact for exact lengths along an axis.
/// # Source
/// The meaning of a slope.
/// # Errors
/// Unknown when neither is stated; in doubt when the two differ; cannot be told of an upright run.
/// # Example
/// `slope: 1/4 in per ft`: 1/48.
pub(super) fn slope_to_soil<'d>(ask: &mut Ask<'d>, it: Thing) -> Answer<Number> {
    run(ask, it, |ask, run| {
        let here = &run.here;
        let stated = ask.statement(run.slope.want(here), |ask| ask.quantity(here, &run.slope));
        let points: Vec<_> =
            ask.read(here, &run.points).value().flatten().into_iter().flat_map(|p| p.members()).collect();
        let (Some(first), Some(last)) = (points.first(), points.last()) else { return stated.value };
        let between = |ask: &mut Ask<'d>, along: Along| {
            let from = places::point_coordinate(ask, first, along);
            from.both(places::point_coordinate(ask, last, along)).map(|(from, to)| &to - &from)
        };
        let off = &outlines::slack(&run.points) * &Ratio::from(2);
        let mut reach = Ratio::ZERO;
        let by_points = ask.statement(run.points.want(here), |ask| {
            let level = between(ask, Along::East).both(between(ask, Along::North)).then(|(x, y)| {
                match (&x.squared() + &y.squared()).sqrt() {
                    Some(level) => Answer::known(level),
                    None => Answer::missing(run.points.want(here)),
                }
            });
            let rise = between(ask, Along::Up)
                .both(downstream(ask, it))
                .map(|(rise, after)| if after { rise } else { rise.negate() });
            rise.both(level).then(|(rise, level)| {
                reach = level.low();
                match rise.divide(&level) {
                    Some(slope) => Answer::known(slope),
                    None => ask.cannot(it, "a run straight up or down has no slope"),
                }
            })
        });
        let found = vec![
            stated.off_by(half_of(run.slope.known().and_then(|slope| slope.quantity.step()))),
            by_points.off_by(off.checked_div(&reach).unwrap_or_default()),
        ];
        let what = |ask: &Ask<'_>| format!("the slope of {}", ask.things().name(it));
        settle(ask, what, Dimension::ONE, found, || run.slope.want(here))
    })
}

/// # Meaning
/// How long a run is, along the pipe.
/// # Formula
/// As stated; or the straight distance between its ends; or, where points are given, from each to the next, added up.
/// # Valid for
/// Runs that are straight between their ends, or between the points that are given.
/// # Accuracy
/// The root of an exact square for exact lengths.
/// # Source
/// Pythagoras.
/// # Errors
/// Unknown when neither its length nor its way is stated; in doubt when the two differ.
/// # Example
/// `{east: 12 ft}`: 12 ft, but for the slope.
pub(super) fn length(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    run(ask, it, |ask, run| {
        let here = &run.here;
        let stated = ask.statement(run.length.want(here), |ask| ask.quantity(here, &run.length));
        if !run.points.is_missing() {
            let off = &outlines::slack(&run.points)
                * &Ratio::from(i64::try_from(2 * run.points.members().count()).unwrap_or(i64::MAX));
            let by_points = ask.statement(run.points.want(here), |ask| point_by_point(ask, run)).off_by(off);
            let mut found =
                if run.length.is_missing() { vec![by_points, stated] } else { vec![stated, by_points] };
            if says_a_way(run) {
                let written = extents(run).into_iter().find(|extent| !extent.is_missing()).unwrap_or(&run.up);
                found.push(ask.statement(written.want(here), |ask| by_its_way(ask, it, run)));
            }
            let what = |ask: &Ask<'_>| format!("the length of {}", ask.things().name(it));
            return settle(ask, what, Dimension::LENGTH, found, || run.length.want(here));
        }
        if !says_a_way(run) {
            return stated.value;
        }
        let written = extents(run).into_iter().find(|extent| !extent.is_missing()).unwrap_or(&run.up);
        let by_tape = ask.statement(written.want(here), |ask| by_its_way(ask, it, run));
        let found = if run.length.is_missing() { vec![by_tape, stated] } else { vec![stated, by_tape] };
        let what = |ask: &Ask<'_>| format!("the length of {}", ask.things().name(it));
        settle(ask, what, Dimension::LENGTH, found, || run.length.want(here))
    })
}

/// How long a run is from each of its points to the next.
fn point_by_point<'d>(ask: &mut Ask<'d>, run: &'d Run) -> Answer<Number> {
    let list = ask.value(&run.here, &run.points);
    ask.is_number(None, Ratio::ZERO);
    let points = list.then(|list| {
        list.all().then(|points| {
            Answer::all(points.into_iter().map(|point| {
                let [x, y, z] = [Along::East, Along::North, Along::Up]
                    .map(|along| places::point_coordinate(ask, point, along));
                x.both(y).both(z)
            }))
        })
    });
    points.then(|points| {
        let squared = |a: &Number, b: &Number| (a - b).squared();
        let legs = points
            .iter()
            .zip(points.iter().skip(1))
            .map(|(((a, b), c), ((x, y), z))| (&(&squared(a, x) + &squared(b, y)) + &squared(c, z)).sqrt());
        match legs.collect::<Option<Vec<Number>>>() {
            Some(legs) if !legs.is_empty() => Answer::known(Number::sum(&legs)),
            _ => Answer::missing(run.points.want(&run.here)),
        }
    })
}

/// How long a run is by the way that it goes.
fn by_its_way<'d>(ask: &mut Ask<'d>, it: Thing, run: &'d Run) -> Answer<Number> {
    let here = &run.here;
    let level = level_reach(ask, it, run).map(|reach| reach.squared());
    let up = match along_axis(ask, it, run, Along::Up) {
        None => match ask.quantity(here, &run.slope) {
            Answer::Known { value: slope, .. } => level.clone().map(|level| &level * &slope.squared()),
            Answer::Unknown(missing) => Answer::Unknown(missing),
        },
        Some(_) => {
            let start = places::run_start(ask, it, Along::Up);
            let end = places::coordinate(ask, it, Along::Up);
            // Where nobody says how high it begins, the tape alone tells how far it goes.
            match start.both(end).map(|(start, end)| &end - &start) {
                Answer::Unknown(_) => moved(ask, it, run, Along::Up),
                known => known,
            }
            .map(|rise| rise.squared())
        }
    };
    level.both(up).then(|(level, up)| match (&level + &up).sqrt() {
        Some(length) => Answer::known(length),
        None => Answer::missing(run.length.want(here)),
    })
}

/// The greatest distance between supports: as stated, by the places, or the whole run where there are none.
pub(super) fn hanger_spacing(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    run(ask, it, |ask, run| {
        let here = &run.here;
        if run.hangers.is_none() {
            let _ = ask.read(here, &run.hangers);
            return length(ask, it);
        }
        let Some(hangers) = run.hangers.known().filter(|hangers| !hangers.places.is_missing()) else {
            return ask.quantity_inside(here, &run.hangers, "spacing", |h| (&h.here, &h.spacing));
        };
        let stated = ask.statement(hangers.spacing.want(&hangers.here), |ask| {
            ask.quantity(&hangers.here, &hangers.spacing)
        });
        let greatest =
            ask.statement(hangers.places.want(&hangers.here), |ask| greatest_gap(ask, it, hangers));
        let what = |ask: &Ask<'_>| format!("the spacing of the hangers of {}", ask.things().name(it));
        settle(ask, what, Dimension::LENGTH, vec![stated, greatest], || hangers.spacing.want(&hangers.here))
    })
}

/// The greatest gap that the places of hangers leave, the ends of the run counted.
fn greatest_gap<'d>(ask: &mut Ask<'d>, it: Thing, hangers: &'d Hangers) -> Answer<Number> {
    let places = ask.value(&hangers.here, &hangers.places);
    let off = hangers.places.members().map(step_of).max().unwrap_or_default();
    ask.is_number(hangers.places.members().next().map(|place| &place.quantity.style), off);
    let places = places.then(|places| {
        Answer::all(places.items.iter().map(|item| {
            item.answer().then(|place| match place {
                Some(place) => Answer::known(place.number()),
                None => Answer::missing(item.want()),
            })
        }))
    });
    places.both(length(ask, it)).then(|(places, length)| {
        let ends: Vec<Number> = std::iter::once(Number::whole(0)).chain(places).chain([length]).collect();
        let gaps: Vec<Number> = ends.iter().zip(ends.iter().skip(1)).map(|(a, b)| b - a).collect();
        match Number::greatest(&gaps) {
            Some(greatest) => Answer::known(greatest),
            None => Answer::missing(hangers.places.want(&hangers.here)),
        }
    })
}
