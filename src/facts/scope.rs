//! Facts that say whether a rule of a place holds there: country, map, municipality, what the building is, what was found
//! before the work, and for how long its records are kept.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::WordId;
use crate::design::model::job::{Country, Jurisdiction, WorkerSafety};
use crate::design::model::papers::Papers;
use crate::design::model::site::Site;
use crate::design::model::tests::{RadonTest, TestOf, TestWhen};
use crate::yaml::entry::Entry;
use crate::yaml::words::Count;

use super::ask::{Ask, word_id};
use super::catalogue::{Fact, Get, words};
use super::kinds::Kind;
use super::radon_tests::{SECONDS_OF_A_DAY, instant, started};
use super::things::of;

fn country(ask: &mut Ask<'_>) -> Answer<WordId> {
    let job = &ask.design().job;
    ask.value_inside(&job.here, &job.jurisdiction, "country", |it| (&it.here, &it.country))
        .map(|word: &Country| word_id(*word))
}

fn jurisdiction<'d>(
    ask: &mut Ask<'d>,
    key: &'static str,
    get: fn(&'d Jurisdiction) -> &'d Entry<bool>,
) -> Answer<bool> {
    let job = &ask.design().job;
    ask.yes_or_no_inside(&job.here, &job.jurisdiction, key, |it| (&it.here, get(it)))
}

fn safety<'d>(
    ask: &mut Ask<'d>,
    key: &'static str,
    get: fn(&'d WorkerSafety) -> &'d Entry<bool>,
) -> Answer<bool> {
    let job = &ask.design().job;
    ask.yes_or_no_inside(&job.here, &job.worker_safety, key, |it| (&it.here, get(it)))
}

fn site_count<'d>(ask: &mut Ask<'d>, get: fn(&'d Site) -> &'d Entry<Count>) -> Answer<Number> {
    let site = &ask.design().site;
    ask.value(&site.here, get(site)).map(|count| Number::whole(i64::from(count.0)))
}

fn papers<'d>(ask: &mut Ask<'d>, get: fn(&'d Papers) -> &'d Entry<bool>) -> Answer<bool> {
    let papers = &ask.design().papers;
    ask.yes_or_no(&papers.here, get(papers))
}

/// Calendar days as a stretch of time.
fn days(count: i64) -> Number {
    Number::exact(Ratio::from(count) * Ratio::from(SECONDS_OF_A_DAY))
}

/// The tests of air made before the work, and whether these are surely all of them.
fn before<'d>(ask: &mut Ask<'d>) -> Answer<Vec<&'d RadonTest>> {
    let design = ask.design();
    let list = ask.read(&design.here, &design.radon_tests);
    list.then(|_| {
        let mut found = Vec::new();
        for (_, test) in design.radon_tests.things() {
            if matches!(test.of.known(), Some(TestOf::Water | TestOf::Vapours)) {
                continue;
            }
            match ask.value(&test.here, &test.when) {
                Answer::Known { value: TestWhen::Before, .. } => found.push(test),
                Answer::Known { .. } => {}
                Answer::Unknown(missing) => return Answer::Unknown(missing),
            }
        }
        if found.is_empty() {
            return Answer::missing(Missing {
                reason: Reason::NotStated,
                ..design.radon_tests.want(&design.here)
            });
        }
        Answer::known(found)
    })
}

/// What two numbers span; the greater of them where only that is asked for.
fn gather(
    numbers: Vec<Answer<Number>>,
    of: Missing,
    put_together: fn(&Number, &Number) -> Number,
) -> Answer<Number> {
    Answer::all(numbers).then(|numbers| match numbers.into_iter().reduce(|a, b| put_together(&a, &b)) {
        Some(value) if value.is_point() => Answer::known(value),
        Some(value) => Answer::Known { value, doubts: vec![Missing { reason: Reason::Imprecise, ..of }] },
        None => Answer::missing(of),
    })
}

fn greater(a: &Number, b: &Number) -> Number {
    let (low, high) = (a.low().max(b.low()), a.high().max(b.high()));
    Number::between(low, high)
}

/// # Meaning
/// The most radon that was found in air before the work.
/// # Formula
/// The greatest result of the tests of air made before the work.
/// # Valid for
/// Every job whose earlier tests are written down.
/// # Accuracy
/// As stated.
/// # Source
/// The record of the tests, which is complete as written.
/// # Errors
/// Unknown while no such test or no result of one is stated.
/// # Example
/// `radon_tests: {a: {when: before, result: 6 pCi/L}, b: {when: before, result: 9 pCi/L}}`: 9 pCi/L.
fn radon_before(ask: &mut Ask<'_>) -> Answer<Number> {
    before(ask).then(|tests| {
        let design = ask.design();
        let results = tests.iter().map(|test| ask.quantity(&test.here, &test.result)).collect();
        gather(results, design.radon_tests.want(&design.here), greater)
    })
}

/// # Meaning
/// The calendar days from a test before the work to start-up.
/// # Formula
/// The day of start-up less the day on which the test ended; from the last of several to the first.
/// # Valid for
/// Every job whose earlier tests are written down.
/// # Accuracy
/// Calendar days.
/// # Source
/// Calendar dates, the first day not counted.
/// # Errors
/// Unknown while start-up, no such test or no end of one is stated.
/// # Example
/// A test that ended on 2026-04-16 and a fan started on 2026-06-08: 53 days.
fn days_to_start_up(ask: &mut Ask<'_>) -> Answer<Number> {
    before(ask).then(|tests| {
        let design = ask.design();
        let fan = started(ask);
        let apart = tests
            .iter()
            .map(|test| {
                let end = instant(ask, &test.here, &test.stop);
                fan.clone().both(end).map(|(fan, end)| days(end.date().days_until(fan.date())))
            })
            .collect();
        gather(apart, design.radon_tests.want(&design.here), Number::hull)
    })
}

/// Facts that say whether a rule of a place holds there.
pub(super) const SCOPE: &[Fact] = &[
    Fact::stated(
        Kind::Job,
        "country",
        "The country the building stands in.",
        &[&["job.jurisdiction.country"]],
        Get::Word(words::<Country>, |ask, _| country(ask)),
    ),
    Fact::stated(
        Kind::Job,
        "protection_asked_for",
        "Whether the law of the place asks for protection against radon in new houses.",
        &[&["job.jurisdiction.asks_for_protection"]],
        Get::Truth(|ask, _| jurisdiction(ask, "asks_for_protection", |it| &it.asks_for_protection)),
    ),
    Fact::stated(
        Kind::Job,
        "found_unneeded",
        "Whether the office has found that the building does not need protection against radon.",
        &[&["job.jurisdiction.found_unneeded"]],
        Get::Truth(|ask, _| jurisdiction(ask, "found_unneeded", |it| &it.found_unneeded)),
    ),
    Fact::stated(
        Kind::Job,
        "licensed_designer",
        "Whether a licensed architect or engineer answers for the design.",
        &[&["job.licensed_designer"]],
        Get::Truth(|ask, _| {
            let job = &ask.design().job;
            ask.yes_or_no(&job.here, &job.licensed_designer)
        }),
    ),
    Fact::stated(
        Kind::Job,
        "work_area_decay_products",
        "The decay products in the air of the work area before work.",
        &[&["job.worker_safety.work_area_decay_products"]],
        Get::Number(Dimension::DECAY_ENERGY, |ask, _| {
            let job = &ask.design().job;
            ask.quantity_inside(&job.here, &job.worker_safety, "work_area_decay_products", |it| {
                (&it.here, &it.work_area_decay_products)
            })
        }),
    ),
    Fact::stated(
        Kind::Job,
        "respirators",
        "Whether respirators are worn at work.",
        &[&["job.worker_safety.respirators"]],
        Get::Truth(|ask, _| safety(ask, "respirators", |it| &it.respirators)),
    ),
    Fact {
        of: Kind::Job,
        name: "radon_before",
        meaning: "The most radon that was found in air before the work.",
        formula: "the greatest result of the tests of air made before the work",
        source: "the record of the tests",
        needs: &[BEFORE, &["radon_tests.*.result"]],
        get: Get::Number(Dimension::CONCENTRATION, |ask, _| radon_before(ask)),
    },
    Fact {
        of: Kind::Job,
        name: "days_to_start_up",
        meaning: "The calendar days from the end of a test before the work to start-up; of several, as a range.",
        formula: "the day of start-up less the day on which the test ended",
        source: "calendar dates, the first day not counted",
        needs: &[BEFORE, &["radon_tests.*.stop", "site.zone", "start_up.fan_started"]],
        get: Get::Number(Dimension::TIME, |ask, _| days_to_start_up(ask)),
    },
    Fact::stated(
        Kind::Site,
        "radon_zone",
        "The radon zone of the map.",
        &[&["site.radon_zone"]],
        Get::Number(Dimension::ONE, |ask, _| site_count(ask, |it| &it.radon_zone)),
    ),
    Fact::stated(
        Kind::Site,
        "radon_tier",
        "The tier of radon that the state puts the municipality in.",
        &[&["site.radon_tier"]],
        Get::Number(Dimension::ONE, |ask, _| site_count(ask, |it| &it.radon_tier)),
    ),
    Fact::stated(
        Kind::Site,
        "county_mean",
        "The mean radon level of the county.",
        &[&["site.county_mean"]],
        Get::Number(Dimension::CONCENTRATION, |ask, _| {
            let site = &ask.design().site;
            ask.quantity(&site.here, &site.county_mean)
        }),
    ),
    Fact::stated(
        Kind::Site,
        "homes_above",
        "The share of homes there that are expected to lie above the action level.",
        &[&["site.homes_above"]],
        Get::Number(Dimension::ONE, |ask, _| {
            let site = &ask.design().site;
            ask.quantity(&site.here, &site.homes_above)
        }),
    ),
    Fact::stated(
        Kind::Building,
        "public",
        "Whether it is a public building, or one that the state puts first.",
        &[&["building.public"]],
        Get::Truth(|ask, _| {
            let building = &ask.design().building;
            ask.yes_or_no(&building.here, &building.public)
        }),
    ),
    Fact::stated(
        Kind::Test,
        "licensed",
        "Whether whoever placed the device holds a certificate for it: its number is stated.",
        &[&["radon_tests.*.licence"]],
        Get::Truth(|ask, it| {
            of(ask, it, |things| &things.tests, |ask, test| ask.is_there(&test.here, &test.licence))
        }),
    ),
    Fact {
        of: Kind::Test,
        name: "days_lived_in",
        meaning: "The calendar days from the day the building was first lived in to the end of the test.",
        formula: "the day on which the test ended less the day the building was first lived in",
        source: "calendar dates, the first day not counted",
        needs: &[&["building.occupied_from", "radon_tests.*.stop", "site.zone"]],
        get: Get::Number(Dimension::TIME, |ask, it| {
            let building = &ask.design().building;
            let lived_in = ask.value(&building.here, &building.occupied_from);
            let end = of(ask, it, |things| &things.tests, |ask, test| instant(ask, &test.here, &test.stop));
            lived_in.both(end).map(|(lived_in, end)| days(lived_in.days_until(end.date())))
        }),
    },
    Fact::stated(
        Kind::Papers,
        "years_kept",
        "For how many years the records of the job are kept.",
        &[&["papers.years_kept"]],
        Get::Number(Dimension::ONE, |ask, _| {
            let papers = &ask.design().papers;
            ask.value(&papers.here, &papers.years_kept).map(|count| Number::whole(i64::from(count.0)))
        }),
    ),
    Fact::stated(
        Kind::Papers,
        "test_waived",
        "Whether the owner has given up the radon test after the work in writing.",
        &[&["papers.test_waived"]],
        Get::Truth(|ask, _| papers(ask, |it| &it.test_waived)),
    ),
];

/// What tells which tests were made before the work.
const BEFORE: super::catalogue::Entries = &["radon_tests", "radon_tests.*.of", "radon_tests.*.when"];
