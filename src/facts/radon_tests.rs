//! Facts of radon tests made after start-up, of papers, and of trials of flues.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::time::Instant;
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::{Thing, WordId};
use crate::design::model::papers::Papers;
use crate::design::model::readings::{Outcome, SpillageTest};
use crate::design::model::tests::{DeviceKind, RadonTest};
use crate::yaml::entry::{Entry, Here};
use crate::yaml::time::Moment;

use super::ask::{Ask, word_id};
use super::catalogue::{Entries, Fact, Get, words as word_list};
use super::join::agree;
use super::kinds::Kind;
use super::rounds;
use super::things::of;
use super::words::Spillage;

pub(super) fn test<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d RadonTest) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.tests, get)
}

/// A moment as an instant: by its own offset or the site's zone.
pub(super) fn instant<'d>(ask: &mut Ask<'d>, of: &'d Here, entry: &'d Entry<Moment>) -> Answer<Instant> {
    let want = entry.want(of);
    ask.value(of, entry).then(|moment| {
        let site = &ask.design().site;
        if let Ok(instant) = moment.instant(None) {
            return Answer::known(instant);
        }
        ask.value(&site.here, &site.zone).then(|zone| match moment.instant(Some(zone)) {
            Ok(instant) => Answer::known(instant),
            Err(_) => {
                let why = "the clocks there show that time twice or never".to_owned();
                Answer::missing(Missing { reason: Reason::NotComputable(why), ..want })
            }
        })
    })
}

pub(super) fn started<'d>(ask: &mut Ask<'d>) -> Answer<Instant> {
    let start_up = &ask.design().start_up;
    instant(ask, &start_up.here, &start_up.fan_started)
}

/// The time from start-up to one end of a test, clock changes counted.
fn after_start<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    end: fn(&'d RadonTest) -> &'d Entry<Moment>,
) -> Answer<Number> {
    let start = started(ask);
    let end = test(ask, it, |ask, test| instant(ask, &test.here, end(test)));
    start.both(end).map(|(start, end)| start.until(end))
}

/// The calendar days from start-up to one end of a test; the day of start-up is not counted.
fn days_after<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    end: fn(&'d RadonTest) -> &'d Entry<Moment>,
) -> Answer<Number> {
    let start = started(ask);
    let end = test(ask, it, |ask, test| instant(ask, &test.here, end(test)));
    start.both(end).map(|(start, end)| {
        let days = start.date().days_until(end.date());
        Number::exact(Ratio::from(days) * Ratio::from(SECONDS_OF_A_DAY))
    })
}

/// A calendar day as a stretch of time: so many hours, whatever the clocks do.
pub(super) const SECONDS_OF_A_DAY: i64 = 86_400;

/// The range from one end of a test to the other, in doubt because the whole test lies in it.
fn from_to(start: Answer<Number>, end: Answer<Number>, of: Missing) -> Answer<Number> {
    start.both(end).then(|(start, end)| {
        let value = start.hull(&end);
        let doubts =
            if value.is_point() { Vec::new() } else { vec![Missing { reason: Reason::Imprecise, ..of }] };
        Answer::Known { value, doubts }
    })
}

fn want_stop(ask: &Ask<'_>, it: Thing) -> Missing {
    match ask.things().tests.get(it.number as usize) {
        Some(member) => member.it.stop.want(&member.it.here),
        None => ask.of_thing(it, Reason::NotStated),
    }
}

/// # Meaning
/// What came of the trial whether the flue of an appliance still draws with the fan running.
/// # Formula
/// The outcome after the fan was switched on, of the trial named for the appliance.
/// # Valid for
/// Every appliance.
/// # Accuracy
/// A word.
/// # Source
/// The record of the trial.
/// # Errors
/// Unknown when there is no record of it.
/// # Example
/// `start_up: {spillage: {water_heater: {after: passed}}}`: no spillage.
fn spillage(ask: &mut Ask<'_>, it: Thing) -> Answer<WordId> {
    trial(ask, it, "after", |trial| &trial.after)
}

/// What came of one part of the trial that is named for an appliance.
fn trial(
    ask: &mut Ask<'_>,
    it: Thing,
    key: &str,
    get: for<'d> fn(&'d SpillageTest) -> &'d Entry<Outcome>,
) -> Answer<WordId> {
    let name = ask.things().name(it);
    let start_up = &ask.design().start_up;
    let want = {
        let want = start_up.spillage.want(&start_up.here);
        Missing { entry: want.entry.key(&name).key(key), ..want }
    };
    match ask.read(&start_up.here, &start_up.spillage) {
        Answer::Known { value: Some(list), .. } => {
            let mut so_far = Answer::missing(want.clone());
            for (own, trial) in list.things() {
                if ask.read(&trial.here, &trial.appliance).value().flatten().map_or(own, |of| of.as_str())
                    == name
                {
                    let outcome = outcome(ask, &trial.here, get(trial));
                    so_far = agree(so_far, outcome, std::slice::from_ref(&want));
                }
            }
            so_far
        }
        Answer::Known { value: None, .. } => Answer::known(word_id(Spillage::NotDone)),
        Answer::Unknown(missing) => {
            let reason = missing.first().map_or(Reason::NotStated, |missing| missing.reason.clone());
            Answer::missing(Missing { reason, ..want })
        }
    }
}

fn outcome<'d>(ask: &mut Ask<'d>, of: &'d Here, entry: &'d Entry<Outcome>) -> Answer<WordId> {
    ask.value(of, entry).map(|outcome| {
        word_id(match outcome {
            Outcome::Passed => Spillage::NoSpillage,
            Outcome::Failed => Spillage::Spilled,
            Outcome::NotDone => Spillage::NotDone,
        })
    })
}

fn papers<'d>(ask: &mut Ask<'d>, get: impl FnOnce(&'d Papers) -> &'d Entry<bool>) -> Answer<bool> {
    let papers = &ask.design().papers;
    ask.yes_or_no(&papers.here, get(papers))
}

pub(super) fn place<'d, W: crate::yaml::measure::Wanted>(
    ask: &mut Ask<'d>,
    it: Thing,
    key: &'static str,
    get: fn(&'d crate::design::model::tests::DevicePlace) -> &'d Entry<crate::yaml::measure::Measure<W>>,
) -> Answer<Number> {
    test(ask, it, |ask, test| {
        ask.quantity_inside(&test.here, &test.place, key, |place| (&place.here, get(place)))
    })
}

const ENDS: Entries = &["start_up.fan_started", "site.zone"];
const START: Entries = &["radon_tests.*.start"];
const STOP: Entries = &["radon_tests.*.stop"];

pub(super) const CLOCKS: &str =
    "instants, clock changes counted; the zone of the site where a time has no offset";
pub(super) const CALENDAR: &str = "calendar dates, the first day not counted";

/// Facts of tests.
pub(super) const TESTS: &[Fact] = &[
    Fact {
        of: Kind::Test,
        name: "hours_to_start",
        meaning: "The time from start-up to the start of the test.",
        formula: "the instant of its start less that of start-up",
        source: CLOCKS,
        needs: &[ENDS, START],
        get: Get::Number(Dimension::TIME, |ask, it| after_start(ask, it, |test| &test.start)),
    },
    Fact {
        of: Kind::Test,
        name: "hours_to_end",
        meaning: "The time from start-up to the end of the test.",
        formula: "the instant of its end less that of start-up",
        source: CLOCKS,
        needs: &[ENDS, STOP],
        get: Get::Number(Dimension::TIME, |ask, it| after_start(ask, it, |test| &test.stop)),
    },
    Fact {
        of: Kind::Test,
        name: "days_to_start",
        meaning: "The calendar days from start-up to the start of the test, as a stretch of time.",
        formula: "the day of its start less that of start-up",
        source: CALENDAR,
        needs: &[ENDS, START],
        get: Get::Number(Dimension::TIME, |ask, it| days_after(ask, it, |test| &test.start)),
    },
    Fact {
        of: Kind::Test,
        name: "days_to_end",
        meaning: "The calendar days from start-up to the end of the test, as a stretch of time.",
        formula: "the day of its end less that of start-up",
        source: CALENDAR,
        needs: &[ENDS, STOP],
        get: Get::Number(Dimension::TIME, |ask, it| days_after(ask, it, |test| &test.stop)),
    },
    Fact {
        of: Kind::Test,
        name: "hours_after_start_up",
        meaning: "The whole stretch of time after start-up over which the test was made, as a range.",
        formula: "from the time to its start to the time to its end",
        source: CLOCKS,
        needs: &[ENDS, START, STOP],
        get: Get::Number(Dimension::TIME, |ask, it| {
            let start = after_start(ask, it, |test| &test.start);
            let end = after_start(ask, it, |test| &test.stop);
            let want = want_stop(ask, it);
            from_to(start, end, want)
        }),
    },
    Fact {
        of: Kind::Test,
        name: "days_after_start_up",
        meaning: "The calendar days after start-up over which the test was made, as a range.",
        formula: "from the days to its start to the days to its end",
        source: CALENDAR,
        needs: &[ENDS, START, STOP],
        get: Get::Number(Dimension::TIME, |ask, it| {
            let start = days_after(ask, it, |test| &test.start);
            let end = days_after(ask, it, |test| &test.stop);
            let want = want_stop(ask, it);
            from_to(start, end, want)
        }),
    },
    Fact {
        of: Kind::Test,
        name: "duration",
        meaning: "The time from the start to the end of the test.",
        formula: "the instant of its end less that of its start",
        source: CLOCKS,
        needs: &[&["site.zone"], START, STOP],
        get: Get::Number(Dimension::TIME, |ask, it| {
            test(ask, it, |ask, test| {
                let start = instant(ask, &test.here, &test.start);
                let end = instant(ask, &test.here, &test.stop);
                start.both(end).map(|(start, end)| start.until(end))
            })
        }),
    },
    Fact {
        of: Kind::Test,
        name: "closed_before",
        meaning: "The time for which doors and windows had been shut when the test began; negative when they were shut later.",
        formula: "the instant of its start less that since which doors and windows were kept shut",
        source: CLOCKS,
        needs: &[&["site.zone", "radon_tests.*.closed_since"], START],
        get: Get::Number(Dimension::TIME, |ask, it| {
            test(ask, it, |ask, test| {
                let closed = instant(ask, &test.here, &test.closed_since);
                let start = instant(ask, &test.here, &test.start);
                closed.both(start).map(|(closed, start)| closed.until(start))
            })
        }),
    },
    Fact {
        of: Kind::Test,
        name: "rounds",
        meaning: "The rounds that the test led to; complete as written.",
        formula: "all rounds that name the test as what led to them",
        source: "the record of the rounds",
        needs: &[&["rounds", "rounds.*.because_of"]],
        get: Get::Things(Kind::Round, rounds::of_test),
    },
    Fact::stated(
        Kind::Test,
        "height",
        "How high above the floor the device stood.",
        &[&["radon_tests.*.place.above_floor"]],
        Get::Number(Dimension::LENGTH, |ask, it| place(ask, it, "above_floor", |place| &place.above_floor)),
    ),
    Fact::stated(
        Kind::Test,
        "from_outside_wall",
        "How far from the nearest outer wall the device stood.",
        &[&["radon_tests.*.place.from_outer_wall"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            place(ask, it, "from_outer_wall", |place| &place.from_outer_wall)
        }),
    ),
    Fact::stated(
        Kind::Test,
        "from_openings",
        "How far from the nearest opening to the outdoors the device stood.",
        &[&["radon_tests.*.place.from_openings"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            place(ask, it, "from_openings", |place| &place.from_openings)
        }),
    ),
    Fact::stated(
        Kind::Test,
        "in",
        "The space in which the device stood.",
        &[&["radon_tests.*.in"]],
        Get::One(Kind::Space, |ask, it| {
            test(ask, it, |ask, test| {
                let want = test.space.want(&test.here);
                ask.value(&test.here, &test.space).then(|name| ask.space_called(want, name.as_str()))
            })
        }),
    ),
    Fact::stated(
        Kind::Test,
        "device",
        "What the device is.",
        &[&["radon_tests.*.device"]],
        Get::Word(word_list::<DeviceKind>, |ask, it| {
            test(ask, it, |ask, t| ask.stated_word(&t.here, &t.device))
        }),
    ),
    Fact::stated(
        Kind::Test,
        "closed_house",
        "Whether doors and windows were kept shut to the end.",
        &[&["radon_tests.*.kept_closed"]],
        Get::Truth(|ask, it| test(ask, it, |ask, t| ask.yes_or_no(&t.here, &t.kept_closed))),
    ),
    Fact::stated(
        Kind::Test,
        "fan_on",
        "Whether the fan of the system ran all the time.",
        &[&["radon_tests.*.fan_on"]],
        Get::Truth(|ask, it| test(ask, it, |ask, t| ask.yes_or_no(&t.here, &t.fan_on))),
    ),
    Fact::stated(
        Kind::Test,
        "independent",
        "Whether whoever placed the device is independent of whoever installed the system.",
        &[&["radon_tests.*.independent"]],
        Get::Truth(|ask, it| test(ask, it, |ask, t| ask.yes_or_no(&t.here, &t.independent))),
    ),
    Fact::stated(
        Kind::Test,
        "result",
        "The radon that was found.",
        &[&["radon_tests.*.result"]],
        Get::Number(Dimension::CONCENTRATION, |ask, it| {
            test(ask, it, |ask, t| ask.quantity(&t.here, &t.result))
        }),
    ),
];

/// Facts of papers, of earlier tests, and of trials of flues.
pub(super) const PAPERS: &[Fact] = &[
    Fact::stated(
        Kind::Papers,
        "retest_advised",
        "Whether the owner was told in writing to test again.",
        &[&["papers.retest_advised"]],
        Get::Truth(|ask, _| papers(ask, |papers| &papers.retest_advised)),
    ),
    Fact::stated(
        Kind::Papers,
        "owner_package",
        "Whether the owner has been handed what he has to know of the system.",
        &[&["papers.owner_package"]],
        Get::Truth(|ask, _| papers(ask, |papers| &papers.owner_package)),
    ),
    Fact::stated(
        Kind::Papers,
        "permits_in_hand",
        "Whether the permits that are asked for here are in hand.",
        &[&["papers.permits_in_hand"]],
        Get::Truth(|ask, _| papers(ask, |papers| &papers.permits_in_hand)),
    ),
    Fact::stated(
        Kind::Job,
        "earlier_tests_seen",
        "Whether earlier radon results were looked at before the design.",
        &[&["job.earlier_tests_seen"]],
        Get::Truth(|ask, _| {
            let job = &ask.design().job;
            ask.yes_or_no(&job.here, &job.earlier_tests_seen)
        }),
    ),
    Fact {
        of: Kind::Appliance,
        name: "spillage",
        meaning: "What came of the trial whether the appliance's flue still draws with the fan running.",
        formula: "the outcome after the fan was switched on, of the trial named for the appliance",
        source: "the record of the trial",
        needs: &[&["start_up.spillage", "start_up.spillage.*.appliance", "start_up.spillage.*.after"]],
        get: Get::Word(word_list::<Spillage>, spillage),
    },
    Fact {
        of: Kind::Appliance,
        name: "spillage_before",
        meaning: "What came of the trial whether the appliance's flue drew before the fan was switched on.",
        formula: "the outcome before the fan was switched on, of the trial named for the appliance",
        source: "the record of the trial",
        needs: &[&["start_up.spillage", "start_up.spillage.*.appliance", "start_up.spillage.*.before"]],
        get: Get::Word(word_list::<Spillage>, |ask, it| trial(ask, it, "before", |trial| &trial.before)),
    },
];
