//! Suction points in the cores of a wall of hollow block: where the wall runs along the fill, and what leaks into its cores.

use crate::base::number::{Number, Ratio};
use crate::base::value::{Answer, Missing};
use crate::base::vocabulary::Thing;
use crate::calc::amounts::{self, Length};
use crate::calc::geometry::{Outline, PlanPoint, Whereabouts};
use crate::calc::soil::hollow::{Face, HollowWall, Top, leaks};
use crate::design::model::foundation::{FoundationWall, TopCourse};
use crate::design::model::place::Side;
use crate::design::model::suction::SuctionPoint;
use crate::facts::ask::{Ask, in_doubt};
use crate::facts::foundation::area as in_area;
use crate::facts::within;
use crate::facts::worked::{not_said, out_of_range};

use super::bounds::stretches_of;
use super::{Cores, Draw, Stretch};

/// Where a point in a block wall draws: along the wall, wherever it runs along the fill, and through its faces.
pub(super) fn draw<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    record: &'d SuctionPoint,
    area: Thing,
) -> Answer<Option<Draw>> {
    let wall = named(ask, record);
    let want = record.wall.want(&record.here);
    let outline = in_area(ask, area, |ask, area| {
        let lined = wall.filter(|wall| ask.peek(&wall.here, &wall.line).is_some());
        match lined {
            Some(_) if within::alone(ask, area) => within::corner(area),
            _ => within::outline(ask, area),
        }
    });
    outline.then(|outline| {
        let (stretches, known) = runs(ask, wall, &outline);
        let long = length(ask, wall, &stretches, known, want.clone());
        let high = height(ask, wall, want);
        let holes = holes(ask, wall);
        long.both(high).both(holes).then(|((long, high), holes)| {
            let (inner, top) = (inner(ask, wall), top(ask, wall));
            ask.assume(
                "the cores of a block wall have, along the wall, anything from none of the suction at the point to all of it",
            );
            ask.assume(
                "between the cores of a block wall and the fill beside it passes anything from nothing to what crosses a tenth of a metre of fill",
            );
            let ends = |number: &Number, of: fn(f64) -> Option<Length>| {
                let (low, high) = number.to_f64_bounds();
                of(low).zip(of(high))
            };
            let area_of = |number: &Number| {
                let (low, high) = number.to_f64_bounds();
                amounts::Area::from_si(low).zip(amounts::Area::from_si(high))
            };
            let (Some(long), Some(high), Some(holes)) =
                (ends(&long, Length::from_si), ends(&high, Length::from_si), area_of(&holes))
            else {
                return ask.cannot(it, "its wall is too large");
            };
            match leaks(&HollowWall { long, high, inner, top, holes }) {
                Ok((least, most)) => {
                    let cores = Some(Cores { least, most });
                    Answer::known(Some(Draw { point: it, pit: None, drains: stretches, cores }))
                }
                Err(range) => out_of_range(ask, it, &range),
            }
        })
    })
}

/// The wall that the point names.
fn named<'d>(ask: &mut Ask<'d>, record: &'d SuctionPoint) -> Option<&'d FoundationWall> {
    let foundation = &ask.design().foundation;
    let _ = ask.read(&foundation.here, &foundation.walls);
    let name = ask.read(&record.here, &record.wall).value().flatten()?;
    foundation.walls.thing(name.as_str())
}

/// Where the wall runs along the fill, and whether that is said: by its line, by its side, or anywhere along the edge.
fn runs<'d>(ask: &mut Ask<'d>, wall: Option<&'d FoundationWall>, outline: &Outline) -> (Vec<Stretch>, bool) {
    let all = || outline.sides().map(|(from, to)| (from.clone(), to.clone())).collect::<Vec<_>>();
    let Some(wall) = wall else { return (all(), false) };
    if let Answer::Known { value, .. } =
        ask.value(&wall.here, &wall.line).then(|line| stretches_of(ask, line))
        && value.iter().all(|stretch| along_the_fill(outline, stretch))
    {
        return (value, true);
    }
    match ask.read(&wall.here, &wall.side).value().flatten() {
        Some(side) => (all().into_iter().filter(|stretch| faces(stretch, *side)).collect(), true),
        None => (all(), false),
    }
}

/// Whether the middle of a stretch lies in the fill or on its edge.
fn along_the_fill(outline: &Outline, (from, to): &Stretch) -> bool {
    let half = |a: &Ratio, b: &Ratio| (a + b).checked_div(&Ratio::from(2)).unwrap_or_default();
    let middle = PlanPoint::new(half(&from.x, &to.x), half(&from.y, &to.y));
    outline.whereabouts(&middle) != Whereabouts::Outside
}

/// Whether a side of an outline faces that way. Outlines go round leftward, so that outside lies to the right.
fn faces((from, to): &Stretch, side: Side) -> bool {
    let (east, north) = (&to.y - &from.y, &from.x - &to.x);
    match side {
        Side::North => north.signum() > 0 && north > east.abs(),
        Side::South => north.signum() < 0 && north.abs() > east.abs(),
        Side::East => east.signum() > 0 && east >= north.abs(),
        Side::West => east.signum() < 0 && east.abs() >= north.abs(),
    }
}

/// How long the wall is: as stated, as it runs, or anything up to the whole edge.
fn length<'d>(
    ask: &mut Ask<'d>,
    wall: Option<&'d FoundationWall>,
    stretches: &[Stretch],
    known: bool,
    want: Missing,
) -> Answer<Number> {
    if let Some(wall) = wall
        && let Answer::Known { value, doubts } = ask.quantity(&wall.here, &wall.length)
    {
        return Answer::Known { value, doubts };
    }
    let along = |(from, to): &Stretch| {
        let (x, y) = (&to.x - &from.x, &to.y - &from.y);
        Number::root(&(&x * &x) + &(&y * &y))
    };
    let whole = stretches.iter().map(along).fold(Number::whole(0), |sum, next| &sum + &next);
    if known {
        return Answer::known(whole);
    }
    ask.assume(
        "a block wall of which it is not said where it runs is anything up to the whole edge of its area",
    );
    let want = wall.map_or(want, |wall| wall.side.want(&wall.here));
    in_doubt(Number::between(Ratio::ZERO, whole.high()), || want)
}

/// How high the wall is: as stated, or as foundation walls are.
fn height<'d>(ask: &mut Ask<'d>, wall: Option<&'d FoundationWall>, want: Missing) -> Answer<Number> {
    let want = wall.map_or(want, |wall| wall.height.want(&wall.here));
    match wall.map(|wall| ask.quantity(&wall.here, &wall.height)) {
        Some(Answer::Known { value, doubts }) => Answer::Known { value, doubts },
        Some(Answer::Unknown(missing)) if !not_said(&missing) => Answer::Unknown(missing),
        _ => {
            ask.assume("a foundation wall whose height is not stated is 0.6 to 3.6 m (2 to 12 feet) high");
            in_doubt(Number::between(ratio(6, 10), ratio(36, 10)), || want)
        }
    }
}

fn ratio(parts: i128, of: i128) -> Ratio {
    Ratio::new(parts, of).unwrap_or_default()
}

/// The holes that are open: as stated where it is said that they are, up to that where it is not said; none where they are closed.
fn holes<'d>(ask: &mut Ask<'d>, wall: Option<&'d FoundationWall>) -> Answer<Number> {
    let Some(wall) = wall else { return Answer::known(Number::whole(0)) };
    let closed = ask.read(&wall.here, &wall.holes_closed).value().flatten().copied();
    if closed == Some(true) {
        return Answer::known(Number::whole(0));
    }
    match ask.quantity(&wall.here, &wall.holes) {
        Answer::Known { value, doubts } if closed == Some(false) => Answer::Known { value, doubts },
        Answer::Known { value, .. } => {
            in_doubt(Number::between(Ratio::ZERO, value.high()), || wall.holes_closed.want(&wall.here))
        }
        Answer::Unknown(_) => {
            ask.assume(
                "a block wall of which no open holes are stated has none but those in the range of its faces",
            );
            Answer::known(Number::whole(0))
        }
    }
}

fn inner<'d>(ask: &mut Ask<'d>, wall: Option<&'d FoundationWall>) -> Face {
    let coated = wall.and_then(|wall| ask.read(&wall.here, &wall.coated_inside).value().flatten().copied());
    match coated {
        Some(true) => {
            ask.assume("a coated face of block lets 1.75e-8 to 3.9e-5 m/(s Pa) through; no test in the file tells it");
            Face::Coated
        }
        Some(false) => {
            ask.assume(
                "a bare face of block lets 3.5e-6 to 3.9e-4 m/(s Pa) through; no test in the file tells it",
            );
            Face::Bare
        }
        None => {
            ask.assume(
                "a face of block lets 1.75e-8 to 3.9e-4 m/(s Pa) through, coated or bare; no test in the file tells it",
            );
            Face::Unsaid
        }
    }
}

fn top<'d>(ask: &mut Ask<'d>, wall: Option<&'d FoundationWall>) -> Top {
    let top = wall.and_then(|wall| ask.read(&wall.here, &wall.top).value().flatten().copied());
    match top {
        Some(TopCourse::Open) => {
            ask.assume("open tops of hollow block let in 6e-4 to 0.14 m3/(s Pa) for each metre of wall");
            Top::Open
        }
        Some(TopCourse::SillPlate) => {
            ask.assume("a plate over the tops of hollow block leaves up to a slit of 5 mm open");
            Top::Plate
        }
        Some(_) => Top::Closed,
        None => {
            ask.assume("tops of hollow block of which it is not said are anything from closed to open");
            Top::Unsaid
        }
    }
}
