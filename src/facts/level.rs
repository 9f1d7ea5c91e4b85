//! Level distances from an outlet to what is drawn on the plan, and the tops of walls above the roof.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::geometry::{Outline, PlanPoint, Segment, Whereabouts};
use crate::design::model::building::WallAbove;
use crate::design::model::openings::WalkingSurface;
use crate::design::model::place::Line;
use crate::yaml::entry::{Entry, Here};
use crate::yaml::shape::Size;

use super::ask::Ask;
use super::heights::{self, Near};
use super::outlet::{self, Level as Rim};
use super::outlines::{self, Bounds};
use super::places::{self, Along};
use super::roofs::{self, Stands};
use super::statements::{half_of, settle};

/// The level distance from the middle of an outlet to the nearest point of something in plan, by its square.
fn from_middle<'d>(
    ask: &mut Ask<'d>,
    discharge: Thing,
    squared: impl FnOnce(&PlanPoint) -> Ratio,
) -> Answer<Number> {
    let east = places::coordinate(ask, discharge, Along::East);
    let north = places::coordinate(ask, discharge, Along::North);
    let want = ask.of_thing(discharge, Reason::Imprecise);
    east.both(north).then(|(east, north)| match east.as_exact().zip(north.as_exact()) {
        Some((x, y)) => Answer::known(Number::root(squared(&PlanPoint::new(x.clone(), y.clone())))),
        None => Answer::missing(want),
    })
}

/// The level distance from the nearest edge of an outlet to the nearest point of something in plan, by the square of
/// how far that is from the middle of the outlet.
fn from_rim<'d>(
    ask: &mut Ask<'d>,
    discharge: Thing,
    squared: impl FnOnce(&PlanPoint) -> Ratio,
) -> Answer<Number> {
    let middle = from_middle(ask, discharge, squared);
    middle.both(outlet::level_reach(ask, discharge)).map(|(middle, rim)| {
        let least = |number: Number| {
            Number::greatest(&[number, Number::whole(0)]).unwrap_or_else(|| Number::whole(0))
        };
        match rim {
            Rim::AllRound(radius) => least(&middle - &radius),
            Rim::UpTo(radius) => least(&middle - &radius).hull(&middle),
        }
    })
}

/// The level distance from the nearest edge of an outlet to a line on the plan.
pub(super) fn to_line<'d>(
    ask: &mut Ask<'d>,
    discharge: Thing,
    here: &'d Here,
    line: &'d Entry<Line>,
) -> Answer<Number> {
    ask.value(here, line).then(|line| {
        points_of(ask, line).then(|points| {
            from_rim(ask, discharge, |at| {
                let flat = |point: &PlanPoint| point.at(Ratio::ZERO);
                let ends = points.iter().zip(points.iter().skip(1));
                let away = ends.map(|(a, b)| Segment::new(flat(a), flat(b)).distance_squared(&flat(at)));
                away.min()
                    .or_else(|| points.first().map(|only| only.distance_squared(at)))
                    .unwrap_or_default()
            })
        })
    })
}

/// The points of a line, where all of them are known exactly.
fn points_of<'d>(ask: &mut Ask<'d>, line: &'d Line) -> Answer<Vec<PlanPoint>> {
    let want = line.points.want(&line.here);
    let found = ask.value(&line.here, &line.points);
    ask.is_number(None, outlines::slack_in_plan(&line.points));
    let all = found.then(|points| {
        points.all().then(|points| Answer::all(points.into_iter().map(|point| point.coordinates())))
    });
    all.then(|points| {
        let exact =
            points.iter().map(|(x, y)| Some(PlanPoint::new(x.as_exact()?.clone(), y.as_exact()?.clone())));
        match exact.collect::<Option<Vec<_>>>() {
            Some(points) if !points.is_empty() => Answer::known(points),
            _ => Answer::missing(Missing { reason: Reason::Imprecise, ..want }),
        }
    })
}

/// The level distance from the nearest edge of an outlet to an outline on the plan; nought above it.
pub(super) fn to_outline<'d>(ask: &mut Ask<'d>, discharge: Thing, outline: &Outline) -> Answer<Number> {
    from_rim(ask, discharge, |at| outside_of(outline, at))
}

/// The square of how far a point lies outside an outline; nought inside it.
fn outside_of(outline: &Outline, at: &PlanPoint) -> Ratio {
    match outline.whereabouts(at) {
        Whereabouts::Outside => outline.edge_distance_squared(at),
        Whereabouts::Inside | Whereabouts::OnEdge => Ratio::ZERO,
    }
}

/// The level distance from the nearest edge of an outlet to a box.
pub(super) fn to_box<'d>(ask: &mut Ask<'d>, discharge: Thing, bounds: &Bounds) -> Answer<Number> {
    let want = ask.of_thing(discharge, Reason::Imprecise);
    match bounds.exact() {
        Some(block) => from_rim(ask, discharge, |at| block.plan_distance_squared(&at.at(Ratio::ZERO))),
        None => Answer::missing(want),
    }
}

/// The level distance from the nearest edge of an outlet to a walking surface: by its outline, or by its middle and size.
pub(super) fn to_surface<'d>(
    ask: &mut Ask<'d>,
    discharge: Thing,
    it: Thing,
    surface: &'d WalkingSurface,
) -> Answer<Number> {
    outline_of(ask, it, surface).then(|outline| to_outline(ask, discharge, &outline))
}

/// The level distance from the middle of an outlet to a walking surface, by its outline or by its middle and size.
pub(super) fn middle_to_surface<'d>(
    ask: &mut Ask<'d>,
    discharge: Thing,
    it: Thing,
    surface: &'d WalkingSurface,
) -> Answer<Number> {
    let outline = outline_of(ask, it, surface);
    outline.then(|outline| from_middle(ask, discharge, |at| outside_of(&outline, at)))
}

fn outline_of<'d>(ask: &mut Ask<'d>, it: Thing, surface: &'d WalkingSurface) -> Answer<Outline> {
    let outline = outlines::outline(ask, &surface.here, &surface.outline);
    ask.is_number(None, outlines::slack_in_plan(&surface.outline));
    if surface.outline.is_missing() { by_middle(ask, it, surface) } else { outline }
}

fn by_middle<'d>(ask: &mut Ask<'d>, it: Thing, surface: &'d WalkingSurface) -> Answer<Outline> {
    let here = &surface.here;
    let east = places::middle(ask, it, here, &surface.at, None, Along::East);
    let north = places::middle(ask, it, here, &surface.at, None, Along::North);
    let size = ask.value(here, &surface.size);
    east.both(north).both(size).then(|((east, north), size)| {
        let Size::Rectangle(sides) = size else { return Answer::missing(surface.outline.want(here)) };
        ask.is_number(None, half_of(sides.first.step()).max(half_of(sides.second.step())));
        let half = Ratio::new(1, 2).unwrap_or_default();
        let made = || {
            let (wide, deep) = (sides.first.number.as_exact()?, sides.second.number.as_exact()?);
            let corner = PlanPoint::new(east.as_exact()? - wide * &half, north.as_exact()? - deep * &half);
            Outline::rectangle(&corner, wide, deep).ok()
        };
        match made() {
            Some(outline) => Answer::known(outline),
            None => Answer::missing(Missing { reason: Reason::Imprecise, ..surface.at.want(here) }),
        }
    })
}

/// The height of the top of a wall that rises above the roof: as stated, or so high above the roof at its foot.
pub(super) fn top_of_wall<'d>(ask: &mut Ask<'d>, wall: &'d WallAbove) -> Answer<Number> {
    let here = &wall.here;
    let stated =
        ask.statement(wall.top.want(here), |ask| heights::level_near(ask, here, &wall.top, &Near::default()));
    if wall.height.is_missing() {
        let _ = ask.read(here, &wall.height);
        return stated.value;
    }
    let above_roof = ask.statement(wall.height.want(here), |ask| {
        let foot = foot_of(ask, wall);
        ask.quantity(here, &wall.height).both(foot).map(|(height, foot)| &foot + &height)
    });
    let found = if wall.top.is_missing() { vec![above_roof] } else { vec![stated, above_roof] };
    let what = |_: &Ask<'d>| format!("the height of {}", heights::spoken(here, "top"));
    settle(ask, what, Dimension::LENGTH, found, || wall.top.want(here))
}

/// The height of the roof at the foot of a wall: the range over both ends of its line where the roof slopes along it.
fn foot_of<'d>(ask: &mut Ask<'d>, wall: &'d WallAbove) -> Answer<Number> {
    let here = &wall.here;
    let points = ask.value(here, &wall.line).then(|line| points_of(ask, line));
    let feet: Vec<Stands> = match points {
        Answer::Known { value, .. } => value
            .into_iter()
            .map(|point| Stands {
                east: Answer::known(Number::exact(point.x)),
                north: Answer::known(Number::exact(point.y)),
            })
            .collect(),
        // A flat roof is as high everywhere.
        Answer::Unknown(missing) => {
            vec![Stands { east: Answer::Unknown(missing.clone()), north: Answer::Unknown(missing) }]
        }
    };
    let mut heights = Vec::new();
    for foot in feet {
        heights.push(roofs::height_at(ask, &foot));
    }
    let want = wall.line.want(here);
    Answer::all(heights).then(|heights| match (Number::least(&heights), Number::greatest(&heights)) {
        (Some(least), Some(most)) if least == most => Answer::known(least),
        (Some(least), Some(most)) => Answer::Known {
            value: least.hull(&most),
            doubts: vec![Missing { reason: Reason::Imprecise, ..want }],
        },
        _ => Answer::missing(want),
    })
}
