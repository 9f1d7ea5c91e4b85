//! What a place says: each coordinate from heights, walls, distances from other things, and the tape from the discharge.

use crate::base::number::{Dimension, Number};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::design::model::foundation::Area;
use crate::design::model::place::{FromDischarge, Place, Side};
use crate::yaml::entry::{Entry, Here};

use super::ask::Ask;
use super::heights::{self, Near};
use super::kinds::Kind;
use super::places::{Along, coordinate, plan_of};
use super::roofs::{self, Stands};
use super::statements::{Statement, settle};
use super::walls::off_walls;

/// What a place is the place of.
pub(super) struct Of<'d> {
    /// The system it belongs to, whose fan and discharge it may be measured from.
    pub(super) system: Option<u32>,
    /// The space it is in, for heights above the floor.
    pub(super) space: Option<Answer<Thing>>,
    /// The thing itself, for choosing the nearest ground and roof edge.
    pub(super) it: Option<Thing>,
    /// The area it is in, for distances off the walls.
    pub(super) area: Option<Answer<&'d Area>>,
}

/// What an entry of a place says of one coordinate; nothing where it is not there.
pub(super) fn at<'d>(
    ask: &mut Ask<'d>,
    of: &'d Here,
    entry: &'d Entry<Place>,
    along: Along,
    about: &Of<'d>,
) -> Vec<Statement<'d>> {
    match ask.read(of, entry) {
        Answer::Known { value: Some(place), .. } => place_statements(ask, place, along, about),
        Answer::Known { .. } => Vec::new(),
        Answer::Unknown(missing) if entry.is_missing() => {
            let _ = missing;
            Vec::new()
        }
        Answer::Unknown(missing) => vec![ask.statement(entry.want(of), |_| Answer::Unknown(missing))],
    }
}

/// What a place says of one coordinate.
fn place_statements<'d>(
    ask: &mut Ask<'d>,
    place: &'d Place,
    along: Along,
    about: &Of<'d>,
) -> Vec<Statement<'d>> {
    let here = &place.here;
    let mut found = Vec::new();
    if !place.point.is_missing() {
        found.push(ask.statement(place.point.want(here), |ask| {
            ask.value(here, &place.point).then(|point| {
                let entry = match along {
                    Along::East => &point.x,
                    Along::North => &point.y,
                    Along::Up => &point.z,
                };
                ask.quantity(&point.here, entry)
            })
        }));
    }
    if !place.plan.is_missing() && along != Along::Up {
        found.push(ask.statement(place.plan.want(here), |ask| {
            ask.value(here, &place.plan).then(|point| {
                let entry = if along == Along::East { &point.x } else { &point.y };
                ask.quantity(&point.here, entry)
            })
        }));
    }
    if along == Along::Up {
        found.extend(heights_of(ask, place, about));
        found.extend(over_the_roof(ask, place, about));
    }
    found.extend(seen_from_discharge(ask, place, along, about));
    if let Some(area) = &about.area {
        found.extend(off_walls(ask, here, &place.from_walls, along, area.clone()));
    }
    found.extend(measured_from(ask, place, along, about));
    found
}

fn heights_of<'d>(ask: &mut Ask<'d>, place: &'d Place, about: &Of<'d>) -> Vec<Statement<'d>> {
    let here = &place.here;
    let near = match about.it {
        Some(it) => Near { plan: plan_of(ask, it), side: place.side.known().copied() },
        None => Near::default(),
    };
    let floor = |ask: &mut Ask<'d>| match &about.space {
        Some(space) => space.clone().then(|space| heights::floor_of(ask, space)),
        None => Answer::missing(place.above_floor.want(here)),
    };
    let edge = |ask: &mut Ask<'d>| heights::nearest_edge(ask, &near);
    let mut found = Vec::new();
    found.extend(heights::counted(ask, here, &place.z, |_| Answer::known(Number::whole(0)), true));
    found.extend(heights::counted(
        ask,
        here,
        &place.above_ground,
        |ask| heights::nearest_ground(ask, &near),
        true,
    ));
    found.extend(heights::counted(ask, here, &place.above_floor, floor, true));
    found.extend(heights::counted(ask, here, &place.above_roof_edge, edge, true));
    found.extend(heights::counted(ask, here, &place.below_roof_edge, edge, false));
    found
}

/// What a place says by how high it is above the roof straight below, where the roof there can be told.
fn over_the_roof<'d>(ask: &mut Ask<'d>, place: &'d Place, about: &Of<'d>) -> Option<Statement<'d>> {
    heights::counted_if_told(ask, &place.here, &place.above_roof, |ask| {
        let stands = match about.it {
            Some(it) => {
                Stands { east: coordinate(ask, it, Along::East), north: coordinate(ask, it, Along::North) }
            }
            None => Stands {
                east: told_alone(ask, place, Along::East, about),
                north: told_alone(ask, place, Along::North, about),
            },
        };
        roofs::height_at(ask, &stands)
    })
}

/// A coordinate as far as a place tells it by itself.
fn told_alone<'d>(ask: &mut Ask<'d>, place: &'d Place, along: Along, about: &Of<'d>) -> Answer<Number> {
    let found = place_statements(ask, place, along, about);
    settle(
        ask,
        |_| format!("the {}", along.in_words()),
        Dimension::LENGTH,
        found,
        || place.plan.want(&place.here),
    )
}

/// What a place says by distances from the discharge: its height by how far it lies below or above the outlet, and its
/// place along the wall where the side is said on which one stood.
fn seen_from_discharge<'d>(
    ask: &mut Ask<'d>,
    place: &'d Place,
    along: Along,
    about: &Of<'d>,
) -> Vec<Statement<'d>> {
    let here = &place.here;
    let Some(tape) = ask.read(here, &place.from_discharge).value().flatten() else { return Vec::new() };
    let found = in_system(ask, Kind::Discharge, about);
    let Some(outlet) = found.filter(|outlet| about.it != Some(*outlet)) else { return Vec::new() };
    if along == Along::Up {
        let base = |ask: &mut Ask<'d>| coordinate(ask, outlet, Along::Up);
        let mut said = Vec::new();
        for (entry, up) in [
            (&tape.top_below, false),
            (&tape.bottom_below, false),
            (&tape.top_above, true),
            (&tape.bottom_above, true),
        ] {
            said.extend(heights::counted(ask, &tape.here, entry, base, up));
        }
        return said;
    }
    along_the_wall(ask, place, tape, along, outlet).into_iter().collect()
}

/// What left, right and out say of a coordinate. Whoever stands outside before the north wall has east on the left.
fn along_the_wall<'d>(
    ask: &mut Ask<'d>,
    place: &'d Place,
    tape: &'d FromDischarge,
    along: Along,
    outlet: Thing,
) -> Option<Statement<'d>> {
    let side = ask.read(&place.here, &place.side).value().flatten().copied()?;
    let (left_is, out_is, sideways) = match side {
        Side::North => (1, 1, Along::East),
        Side::South => (-1, -1, Along::East),
        Side::East => (-1, 1, Along::North),
        Side::West => (1, -1, Along::North),
    };
    let (entry, way) = if along == sideways {
        if tape.left.is_missing() { (&tape.right, -left_is) } else { (&tape.left, left_is) }
    } else {
        (&tape.out, out_is)
    };
    if entry.is_missing() {
        return None;
    }
    Some(ask.statement(entry.want(&tape.here), |ask| {
        let middle = coordinate(ask, outlet, along);
        let rim = super::outlet::radius(ask, outlet);
        let away = ask.quantity(&tape.here, entry);
        middle.both(rim).both(away).map(|((middle, rim), away)| {
            // From the nearest edge of the outlet; what stands before it may be anywhere within its width.
            let reach = match away.as_exact() {
                Some(nought) if nought.is_zero() => rim.hull(&rim.negate()),
                _ => &away + &rim,
            };
            if way > 0 { &middle + &reach } else { &middle - &reach }
        })
    }))
}

/// What a place says by distances from another thing.
fn measured_from<'d>(
    ask: &mut Ask<'d>,
    place: &'d Place,
    along: Along,
    about: &Of<'d>,
) -> Vec<Statement<'d>> {
    let here = &place.here;
    if place.from.is_missing() {
        return Vec::new();
    }
    let (plus, minus) = match along {
        Along::East => (&place.east, &place.west),
        Along::North => (&place.north, &place.south),
        Along::Up => (&place.up, &place.down),
    };
    let all = [&place.north, &place.south, &place.east, &place.west, &place.up, &place.down];
    if all.into_iter().all(Entry::is_missing) {
        return Vec::new();
    }
    let want = if plus.is_missing() { minus.want(here) } else { plus.want(here) };
    vec![ask.statement(want, |ask| {
        let base = ask
            .value(here, &place.from)
            .then(|name| of_anything(ask, name.as_str(), along, about, &place.from.want(here)));
        let mut moved = base;
        if !plus.is_missing() {
            let by = ask.quantity(here, plus);
            moved = moved.both(by).map(|(base, by)| &base + &by);
        }
        if !minus.is_missing() {
            let by = ask.quantity(here, minus);
            moved = moved.both(by).map(|(base, by)| &base - &by);
        }
        moved
    })]
}

/// The fan or discharge of the system that something belongs to, or the only one there is.
fn in_system(ask: &Ask<'_>, kind: Kind, about: &Of<'_>) -> Option<Thing> {
    match about.system {
        Some(system) => ask.things().owned(kind, system).first().copied(),
        None => match ask.things().all(kind).as_slice() {
            [only] => Some(*only),
            _ => None,
        },
    }
}

/// A coordinate of a thing that is given by name.
pub(super) fn of_anything(
    ask: &mut Ask<'_>,
    name: &str,
    along: Along,
    about: &Of<'_>,
    want: &Missing,
) -> Answer<Number> {
    let found = match name {
        "origin" => return Answer::known(Number::whole(0)),
        "fan" => in_system(ask, Kind::Fan, about),
        "discharge" => in_system(ask, Kind::Discharge, about),
        name => {
            let things = ask.things();
            let run = things.named(Kind::Run, about.system, name);
            let point = run.or_else(|| things.named(Kind::SuctionPoint, about.system, name));
            let in_floor = [Kind::Sump, Kind::Drain].into_iter();
            point.or_else(|| in_floor.filter_map(|kind| things.named(kind, None, name)).next())
        }
    };
    match found {
        Some(found) => coordinate(ask, found, along),
        None => {
            let why = format!("where {name} is cannot be worked out");
            Answer::missing(Missing { reason: Reason::NotComputable(why), ..want.clone() })
        }
    }
}
