//! Facts of the holes at which pressure is read with the system running, of communication tests, and of tests of vapours.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::time::Date;
use crate::base::value::{Answer, Missing, Reason, unite};
use crate::base::vocabulary::{Thing, WordId};
use crate::design::model::readings::{Outcome, Quarter, Smoke, TestHole};
use crate::design::model::tests::{TestOf, TestWhen};

use super::ask::Ask;
use super::catalogue::{Fact, Get, words};
use super::foundation::AREA_SPACE;
use super::kinds::Kind;
use super::radon_tests::{CALENDAR, SECONDS_OF_A_DAY, instant, started};
use super::things::of;
use super::whole::lacking;

fn hole<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d TestHole) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.test_holes, get)
}

/// # Meaning
/// The area through whose floor or membrane a hole goes.
/// # Formula
/// The area it names, or the one over which the space lies that it names.
/// # Valid for
/// Every hole.
/// # Accuracy
/// Names.
/// # Source
/// The entries.
/// # Errors
/// Unknown when it is not stated, or no area is known under that space.
/// # Example
/// `{in: basement}`: the area `basement`.
fn area_of_hole(ask: &mut Ask<'_>, it: Thing) -> Answer<Thing> {
    hole(ask, it, |ask, hole| {
        let want = hole.area.want(&hole.here);
        ask.value(&hole.here, &hole.area).then(|name| {
            if let Some(area) = ask.things().named(Kind::Area, None, name.as_str()) {
                return Answer::known(area);
            }
            let space = match ask.space_called(want.clone(), name.as_str()) {
                Answer::Known { value, .. } => value,
                Answer::Unknown(missing) => return Answer::Unknown(missing),
            };
            let mut missing = Vec::new();
            for area in ask.things().all(Kind::Area) {
                match ask.one(area, "in") {
                    Answer::Known { value, .. } if value == space => return Answer::known(area),
                    Answer::Known { .. } => {}
                    Answer::Unknown(more) => missing = unite(missing, more),
                }
            }
            if missing.is_empty() {
                let why = "no area is under that space".to_owned();
                return Answer::missing(Missing { reason: Reason::NotComputable(why), ..want });
            }
            Answer::Unknown(missing)
        })
    })
}

/// # Meaning
/// Whether suction was tried at one hole of an area, to see how far it is felt.
/// # Formula
/// Some communication test names the area.
/// # Valid for
/// Every area.
/// # Accuracy
/// Names.
/// # Source
/// The record of what was read before the design.
/// # Errors
/// Unknown when no such list is stated, or a test does not say where it was made.
/// # Example
/// `diagnostics: {communication: {first: {in: basement}}}`: yes for the area `basement`.
fn communication_tested(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    let name = ask.things().name(it);
    let diagnostics = &ask.design().diagnostics;
    let mut missing = lacking(ask, &diagnostics.here, &diagnostics.communication);
    for (_, test) in diagnostics.communication.things() {
        match ask.value(&test.here, &test.area) {
            Answer::Known { value, .. } if value.as_str() == name => return Answer::known(true),
            Answer::Known { .. } => {}
            Answer::Unknown(more) => missing = unite(missing, more),
        }
    }
    if missing.is_empty() { Answer::known(false) } else { Answer::Unknown(missing) }
}

/// The calendar days from start-up to the first test of chemical vapours after the work.
fn days_to_vapour_test(ask: &mut Ask<'_>) -> Answer<Number> {
    let design = ask.design();
    let want = design.radon_tests.want(&design.here);
    let mut missing = lacking(ask, &design.here, &design.radon_tests);
    let mut first: Option<Date> = None;
    // Tests of which it is not known whether they are of vapours and after the work, with the day on which each began.
    let mut doubtful: Vec<(Option<Date>, Vec<Missing>)> = Vec::new();
    for (_, test) in design.radon_tests.things() {
        let of = ask.read(&test.here, &test.of).map(|of| of == Some(&TestOf::Vapours));
        let after = ask.read(&test.here, &test.when).map(|when| when != Some(&TestWhen::Before));
        let counts = match (of, after) {
            (Answer::Known { value: false, .. }, _) | (_, Answer::Known { value: false, .. }) => continue,
            (of, after) => of.both(after),
        };
        let day = instant(ask, &test.here, &test.start).map(|start| start.date());
        match (counts, day) {
            (Answer::Unknown(more), day) => doubtful.push((day.value(), more)),
            (Answer::Known { .. }, Answer::Known { value: day, .. }) => {
                first = Some(first.map_or(day, |first| first.min(day)));
            }
            (Answer::Known { .. }, Answer::Unknown(more)) => missing = unite(missing, more),
        }
    }
    for (day, more) in doubtful {
        if first.is_none_or(|first| day.is_none_or(|day| day < first)) {
            missing = unite(missing, more);
        }
    }
    let first = match first {
        Some(day) if missing.is_empty() => Answer::known(day),
        _ if missing.is_empty() => Answer::missing(Missing {
            reason: Reason::NotComputable("no test of chemical vapours is listed".to_owned()),
            ..want
        }),
        _ => Answer::Unknown(missing),
    };
    started(ask).both(first).map(|(start, first)| {
        Number::exact(Ratio::from(start.date().days_until(first)) * Ratio::from(SECONDS_OF_A_DAY))
    })
}

fn quarter(ask: &mut Ask<'_>, it: Thing) -> Answer<WordId> {
    hole(ask, it, |ask, hole| ask.stated_word(&hole.here, &hole.quarter))
}

/// Facts of holes, of communication tests and of tests of vapours.
pub(super) const TEST_HOLES: &[Fact] = &[
    Fact {
        of: Kind::TestHole,
        name: "area",
        meaning: "The area through whose floor or membrane the hole goes.",
        formula: "the area it names, or the one over which the space lies that it names",
        source: "the meaning of the words",
        needs: &[&["start_up.field.*.in"], AREA_SPACE],
        get: Get::One(Kind::Area, area_of_hole),
    },
    Fact::stated(
        Kind::TestHole,
        "pressure",
        "The pressure under the floor less that of the room, with the system running; below nought is suction.",
        &[&["start_up.field.*.on"]],
        Get::Number(Dimension::PRESSURE, |ask, it| hole(ask, it, |ask, h| ask.quantity(&h.here, &h.on))),
    ),
    Fact::stated(
        Kind::TestHole,
        "read",
        "Whether the pressure at the hole was read with the system running.",
        &[&["start_up.field.*.on"]],
        Get::Truth(|ask, it| hole(ask, it, |ask, h| ask.is_there(&h.here, &h.on))),
    ),
    Fact::stated(
        Kind::TestHole,
        "smoke_down",
        "Whether smoke was drawn down into the hole with the system running.",
        &[&["start_up.field.*.smoke"]],
        Get::Truth(|ask, it| {
            hole(ask, it, |ask, h| ask.value(&h.here, &h.smoke).map(|smoke| *smoke == Smoke::Down))
        }),
    ),
    Fact::stated(
        Kind::TestHole,
        "port",
        "Whether the hole stays as a port, with a plug that comes out.",
        &[&["start_up.field.*.port"]],
        Get::Truth(|ask, it| hole(ask, it, |ask, h| ask.yes_or_no(&h.here, &h.port))),
    ),
    Fact::stated(
        Kind::TestHole,
        "reachable",
        "Whether one can get at the hole.",
        &[&["start_up.field.*.reachable"]],
        Get::Truth(|ask, it| hole(ask, it, |ask, h| ask.yes_or_no(&h.here, &h.reachable))),
    ),
    Fact::stated(
        Kind::TestHole,
        "quarter",
        "The quarter of its area in which the hole is.",
        &[&["start_up.field.*.quarter"]],
        Get::Word(words::<Quarter>, quarter),
    ),
    Fact {
        of: Kind::Area,
        name: "communication_tested",
        meaning: "Whether suction was tried at one hole of the area, to see how far it is felt.",
        formula: "some communication test names the area",
        source: "the meaning of the words",
        needs: &[&["diagnostics.communication", "diagnostics.communication.*.in"]],
        get: Get::Truth(communication_tested),
    },
    Fact {
        of: Kind::Building,
        name: "days_to_vapour_test",
        meaning: "The calendar days from start-up to the first test of chemical vapours after the work, as a stretch of time.",
        formula: "the day of its start less that of start-up",
        source: CALENDAR,
        needs: &[&[
            "radon_tests",
            "radon_tests.*.of",
            "radon_tests.*.when",
            "radon_tests.*.start",
            "start_up.fan_started",
            "site.zone",
        ]],
        get: Get::Number(Dimension::TIME, |ask, _| days_to_vapour_test(ask)),
    },
    Fact::stated(
        Kind::Building,
        "joints_gone_over",
        "Whether fan joints and joints indoors were gone over once more after installation, and hold.",
        &[&["start_up.joints_gone_over"]],
        Get::Truth(|ask, _| {
            let start_up = &ask.design().start_up;
            ask.value(&start_up.here, &start_up.joints_gone_over).map(|outcome| *outcome == Outcome::Passed)
        }),
    ),
];
