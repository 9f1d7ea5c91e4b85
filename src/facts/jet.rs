//! Facts of what lies before a discharge: how far ahead of it, how far aside of the line on which the gas leaves, and
//! how far off level.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::geometry::{Jet, Throw};
use crate::design::model::fan::{Cap, Direction};
use crate::design::model::place::{FromDischarge, Side};

use super::ask::Ask;
use super::catalogue::{Entries, Fact, Get};
use super::heights;
use super::kinds::Kind;
use super::level;
use super::lies::{bounds_of, lies};
use super::outlet::{self, discharge};
use super::places::{self, Along};
use super::roofs;
use super::seen::{self, seen_from, settle_seen, statements_of};
use super::statements::{Statement, settle};
use super::tape::{as_far_as_tapes_can_be, drop_by_tape, level_by_tape, want_tape};
use super::things::kind_of;

/// Which way a discharge throws the gas, where that is along an axis of the plan or straight up.
fn throw(ask: &mut Ask<'_>, it: Thing) -> Answer<Throw> {
    discharge(ask, it, |ask, record| {
        let here = &record.here;
        ask.value(here, &record.direction).then(|direction| match direction {
            Direction::Up => Answer::known(Throw::Up),
            Direction::Level => ask.value(here, &record.toward).map(|side| match side {
                Side::East => Throw::East,
                Side::West => Throw::West,
                Side::North => Throw::North,
                Side::South => Throw::South,
            }),
            Direction::SlantingUp | Direction::Down => {
                let why =
                    "what lies before an outlet is worked out only where it points straight up or level";
                let reason = Reason::NotComputable(why.to_owned());
                Answer::missing(Missing { reason, ..record.direction.want(here) })
            }
        })
    })
}

/// What the word for a direction says of the angle from straight up.
fn by_word(direction: Direction) -> Number {
    let between = |a: i64, b: i64| Number::between(Ratio::from(a), Ratio::from(b));
    match direction {
        Direction::Up => Number::whole(0),
        Direction::SlantingUp => between(0, 90),
        Direction::Level => Number::whole(90),
        Direction::Down => between(90, 180),
    }
}

/// # Meaning
/// The angle between the way the gas leaves and straight up.
/// # Formula
/// As stated; else nought for up, a right angle for level, and anything between for what slants.
/// # Valid for
/// Every outlet.
/// # Accuracy
/// As stated.
/// # Source
/// The meaning of the words.
/// # Errors
/// Unknown when neither the angle nor the direction is stated; in doubt when they do not agree.
/// # Example
/// `direction: level`: 90 degrees.
fn slant(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    discharge(ask, it, |ask, record| {
        let here = &record.here;
        let want = record.slant.want(here);
        let stated = ask.statement(want.clone(), |ask| ask.quantity(here, &record.slant));
        let told = ask.statement(record.direction.want(here), |ask| {
            ask.value(here, &record.direction).then(|direction| match by_word(*direction) {
                range @ Number::Range(..) => Answer::Known { value: range, doubts: vec![want.clone()] },
                point => Answer::known(point),
            })
        });
        let found = match (record.slant.is_missing(), &told.value) {
            (true, _) => vec![told],
            // A slant that is stated lies within what the word leaves open, or contradicts it.
            (false, Answer::Known { value: Number::Range(low, high), .. })
                if stated
                    .value
                    .clone()
                    .value()
                    .is_some_and(|angle| angle.low() >= low.clone() && angle.high() <= high.clone()) =>
            {
                vec![stated]
            }
            (false, Answer::Unknown(_)) => vec![stated],
            (false, Answer::Known { .. }) => vec![stated, told],
        };
        let what = |ask: &Ask<'_>| format!("the angle of {} from straight up", ask.things().name(it));
        settle(ask, what, Dimension::ANGLE, found, || record.direction.want(here))
    })
}

/// The level distance by the tape; where there is none, what the straight tape and the drop leave for it.
fn level_or_by_straight<'d>(ask: &mut Ask<'d>, tape: &'d FromDischarge, alone: bool) -> Vec<Statement<'d>> {
    let level = level_by_tape(ask, tape);
    // Where nothing is measured yet, a straight tape tells with the drop how far it is and how far aside.
    if level.is_some() || !alone {
        return level.into_iter().collect();
    }
    if tape.straight.is_missing() && matches!(drop_by_tape(ask, tape), Answer::Unknown(_)) {
        return Vec::new();
    }
    let want = tape.straight.want(&tape.here);
    vec![ask.statement(want.clone(), |ask| {
        let straight = ask.quantity(&tape.here, &tape.straight);
        straight.both(drop_by_tape(ask, tape)).then(|(straight, drop)| {
            match (&straight.squared() - &drop.squared()).sqrt() {
                Some(level) => Answer::known(level),
                None => Answer::missing(Missing { reason: Reason::Imprecise, ..want }),
            }
        })
    })]
}

/// # Meaning
/// The level distance from the nearest edge of the outlet to the nearest point of an opening or intake.
/// # Formula
/// As measured; or from the corners and the place of the outlet; or from the straight tape and the drop:
/// `sqrt(straight^2 - drop^2)`.
/// # Valid for
/// Things seen from a single discharge by tape, or whose corners are stated.
/// # Accuracy
/// As measured; worked out, a range where something is known only within bounds.
/// # Source
/// Measured from the nearest edge of the outlet: ANSI/AARST CC-1000 9.1.1; elementary geometry.
/// # Errors
/// Unknown when no statement is complete.
/// # Example
/// A straight tape of 13 ft to a window whose top lies 5 ft below: 12 ft.
fn across(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let Some(lies) = lies(ask, it) else { return ask.cannot(it, "its place is not worked out") };
    let found = statements_of(ask, it, &lies, level::to_box, level_or_by_straight);
    let settled = settle_seen(ask, it, "level distance", found, || want_tape(&lies, "away"));
    as_far_as_tapes_can_be(&lies, settled, |tape| tape)
}

/// What is asked of the middle of an outlet and the box that the edges of a thing make.
fn of_the_box(
    ask: &mut Ask<'_>,
    it: Thing,
    (from, throw): (Thing, Throw),
    get: fn(&Jet, &[Number; 3], &[Number; 3]) -> Number,
) -> Answer<Number> {
    let lies = lies(ask, it);
    let Some((lies, edges)) = lies.and_then(|lies| lies.edges.map(|edges| (lies, edges))) else {
        return ask.cannot(it, "what lies before a level outlet is worked out only for openings and intakes");
    };
    let middle = [Along::East, Along::North, Along::Up].map(|along| places::coordinate(ask, from, along));
    let bounds = bounds_of(ask, it, &lies, &edges);
    let [x, y, z] = middle;
    x.both(y).both(z).both(bounds).map(|(((x, y), z), bounds)| {
        let of = |corner: [(Ratio, Ratio); 3]| corner.map(|(low, high)| Number::between(low, high));
        get(&Jet { from: [x, y, z], throw }, &of(bounds.low), &of(bounds.high))
    })
}

/// # Meaning
/// How far a thing reaches ahead of the outlet, along the line on which the gas leaves; negative where all of it lies
/// behind. Ahead of an outlet that points up is what is higher.
/// # Formula
/// See `calc::geometry::Jet::ahead`; for an outlet that points up, how far its top stands above the outlet.
/// # Valid for
/// Outlets that point up; level ones for openings and intakes whose corners are stated.
/// # Accuracy
/// Exact for exact places.
/// # Source
/// The centre line square to the plane of the opening: ANSI/AARST CC-1000 9.1.4.
/// # Errors
/// Unknown where the direction is not stated or slants, or the place of the thing is not.
/// # Example
/// An outlet that points up at 24 ft and a dormer whose top is at 31 ft: 7 ft.
fn ahead(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    seen_from(ask, it).then(|from| {
        throw(ask, from).then(|throw| match throw {
            Throw::Up => ask.number(it, "top_below_discharge").map(|drop| drop.negate()),
            level => of_the_box(ask, it, (from, level), Jet::ahead),
        })
    })
}

/// # Meaning
/// How far a thing lies aside of the line on which the gas leaves; nought where the line, carried on, meets it.
/// # Formula
/// See `calc::geometry::Jet::aside`. For an outlet that points up: the level distance from its middle.
/// # Valid for
/// As `ahead`.
/// # Accuracy
/// Exact for exact places; by tape, to the width of the outlet.
/// # Source
/// A cone from the centre of the opening: ANSI/AARST CC-1000 9.1.5.
/// # Errors
/// As `ahead`.
/// # Example
/// An outlet 4 1/2 in wide that points up, and a dormer 8 ft from its nearest edge: 8 ft 2 1/4 in.
fn aside(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let drawn = lies(ask, it).is_some_and(|lies| lies.edges.is_some_and(|edges| edges.on_plan()));
    seen_from(ask, it).then(|from| {
        throw(ask, from).then(|throw| match throw {
            Throw::Up if !drawn => {
                if let plan @ Answer::Known { .. } = over_a_floor(ask, it, from) {
                    return plan;
                }
                let level = ask.number(it, "across");
                level.both(outlet::radius(ask, from)).map(|(level, radius)| {
                    let nothing = Number::whole(0);
                    // Over the outlet itself it may lie anywhere up to its edge.
                    let over = level.low() <= Ratio::ZERO;
                    let aside = &level + &radius;
                    if over { aside.hull(&nothing) } else { aside }
                })
            }
            other => of_the_box(ask, it, (from, other), Jet::aside),
        })
    })
}

/// How far a walking surface that is drawn on the plan lies from the middle of an outlet that points up.
fn over_a_floor(ask: &mut Ask<'_>, it: Thing, from: Thing) -> Answer<Number> {
    let floor = (kind_of(it) == Some(Kind::WalkingSurface))
        .then(|| ask.things().walking_surfaces.get(it.number as usize).map(|member| member.it))
        .flatten();
    match floor {
        Some(floor) => level::middle_to_surface(ask, from, it, floor),
        None => ask.cannot(it, "it is not drawn on the plan"),
    }
}

const DIRECTION: Entries = &["systems.*.discharge.direction", "systems.*.discharge.slant"];
const TO_LEVEL: &str = "as measured; or from corners and the outlet's place; or the root of straight distance squared less drop squared";
const AHEAD_OF: &str = "the farthest it reaches along the way the gas leaves";
const ASIDE_OF: &str = "the nearest distance to the straight line out of the middle of the outlet";

macro_rules! needs {
    ($($own:expr),+) => {
        &[
            $($own,)+
            outlet::FACING,
            places::PLACES,
            outlet::WIDTH,
            roofs::EDGES,
            roofs::SLOPES,
            heights::GROUND,
        ]
    };
}

/// Facts of how things lie before a discharge.
pub(super) const AHEAD: &[Fact] = &[
    Fact {
        of: Kind::Discharge,
        name: "slant",
        meaning: "The angle between the way the gas leaves and straight up.",
        formula: "as stated; nought for up, a right angle for level",
        source: "the meaning of the words",
        needs: &[DIRECTION],
        get: Get::Number(Dimension::ANGLE, slant),
    },
    Fact {
        of: Kind::Discharge,
        name: "obstructed",
        meaning: "Whether something over the outlet turns the gas aside or down, or closes in the wind.",
        formula: "it carries a rain cap or a flapper",
        source: "the entries",
        needs: &[&["systems.*.discharge.cap"]],
        get: Get::Truth(|ask, it| {
            discharge(ask, it, |ask, record| {
                let cap = ask.read(&record.here, &record.cap);
                cap.map(|cap| cap.is_some_and(|cap| matches!(cap, Cap::RainCap | Cap::Flapper)))
            })
        }),
    },
    Fact::stated(
        Kind::Discharge,
        "strikes_something",
        "Whether a soffit, a wall or another surface is named that the gas strikes as it leaves.",
        &[&["systems.*.discharge.strikes"]],
        Get::Truth(|ask, it| discharge(ask, it, |ask, record| ask.is_there(&record.here, &record.strikes))),
    ),
    seen::distance(
        Kind::Opening,
        "across",
        "The level distance from the nearest edge of the outlet to the nearest point of the opening.",
        TO_LEVEL,
        needs!(seen::OPENING),
        across,
    ),
    seen::distance(
        Kind::Opening,
        "ahead",
        "How far the opening reaches ahead of the outlet, the way the gas leaves; negative where it lies behind.",
        AHEAD_OF,
        needs!(seen::OPENING),
        ahead,
    ),
    seen::distance(
        Kind::Opening,
        "aside",
        "How far the opening lies aside of the straight line on which the gas leaves; nought where the line meets it.",
        ASIDE_OF,
        needs!(seen::OPENING),
        aside,
    ),
    seen::distance(
        Kind::NeighbourOpening,
        "across",
        "The level distance from the nearest edge of the outlet to the nearest point of the neighbour's opening.",
        TO_LEVEL,
        needs!(seen::NEIGHBOUR),
        across,
    ),
    seen::distance(
        Kind::NeighbourOpening,
        "ahead",
        "How far the neighbour's opening reaches ahead of the outlet, the way the gas leaves; negative where it lies behind.",
        AHEAD_OF,
        needs!(seen::NEIGHBOUR),
        ahead,
    ),
    seen::distance(
        Kind::NeighbourOpening,
        "aside",
        "How far the neighbour's opening lies aside of the straight line on which the gas leaves; nought where the line meets it.",
        ASIDE_OF,
        needs!(seen::NEIGHBOUR),
        aside,
    ),
    seen::distance(
        Kind::Intake,
        "across",
        "The level distance from the nearest edge of the outlet to the nearest point of the intake.",
        TO_LEVEL,
        needs!(seen::INTAKE),
        across,
    ),
    seen::distance(
        Kind::Intake,
        "ahead",
        "How far the intake reaches ahead of the outlet, the way the gas leaves; negative where it lies behind.",
        AHEAD_OF,
        needs!(seen::INTAKE),
        ahead,
    ),
    seen::distance(
        Kind::Intake,
        "aside",
        "How far the intake lies aside of the straight line on which the gas leaves; nought where the line meets it.",
        ASIDE_OF,
        needs!(seen::INTAKE),
        aside,
    ),
    seen::distance(
        Kind::WallAboveRoof,
        "ahead",
        "How far the wall reaches ahead of the outlet, the way the gas leaves; negative where it lies behind.",
        AHEAD_OF,
        needs!(seen::WALL, seen::WALL_PLAN),
        ahead,
    ),
    seen::distance(
        Kind::WallAboveRoof,
        "aside",
        "How far the wall lies aside of the straight line on which the gas leaves; nought where the line meets it.",
        ASIDE_OF,
        needs!(seen::WALL, seen::WALL_PLAN),
        aside,
    ),
    seen::distance(
        Kind::WalkingSurface,
        "ahead",
        "How far the walking surface lies ahead of the outlet, the way the gas leaves; negative where it lies behind.",
        AHEAD_OF,
        needs!(seen::SURFACE, seen::SURFACE_PLAN),
        ahead,
    ),
    seen::distance(
        Kind::WalkingSurface,
        "aside",
        "How far the walking surface lies aside of the straight line on which the gas leaves; nought where the line meets it.",
        ASIDE_OF,
        needs!(seen::SURFACE, seen::SURFACE_PLAN),
        aside,
    ),
];
