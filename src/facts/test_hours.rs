//! Facts of the hours of a radon test that count, of their average, and of what is told of the result.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::radon;

use super::ask::{Ask, as_stated};
use super::catalogue::{Entries, Fact, Get};
use super::kinds::Kind;
use super::radon_tests::{CALENDAR, CLOCKS, SECONDS_OF_A_DAY, instant, test};

/// An hour, in seconds.
const HOUR: i64 = 3600;

/// What was left out of the average at the beginning: nothing where the file says `none`.
fn left_out(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    test(ask, it, |ask, test| {
        let want = test.left_out.want(&test.here);
        ask.read(&test.here, &test.left_out).then(|time| match time {
            Some(time) => as_stated(time.number(), || want),
            None => Answer::known(Number::whole(0)),
        })
    })
}

/// # Meaning
/// The average over the hours that count, in the digits of a report.
/// # Formula
/// The results of the hours, those at the beginning that were left out taken away, added up and divided by their number.
/// # Valid for
/// Results hour by hour from which nothing else was left out.
/// # Accuracy
/// Exact for exact hours.
/// # Source
/// ANSI/AARST MAH-2019, 8.5.2 and 8.5.3.
/// # Errors
/// Unknown when the hours or what was left out is not stated, when that is no whole number of hours, and when nothing is
/// left.
/// # Example
/// Hours of 9.0, 2.0 and 1.0 pCi/L of which the first was left out: 1.5 pCi/L.
fn average(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let left_out = left_out(ask, it);
    let others = test(ask, it, |ask, test| ask.yes_or_no(&test.here, &test.others_left_out));
    test(ask, it, |ask, test| {
        let want = test.hours.want(&test.here);
        let cannot = |why: &str| -> Answer<Number> {
            Answer::missing(Missing { reason: Reason::NotComputable(why.to_owned()), ..want.clone() })
        };
        let hours = ask.value(&test.here, &test.hours).then(|list| list.all());
        hours.both(left_out).both(others).then(|((hours, left_out), others)| {
            if others {
                return cannot("other hours than the first were left out of the average");
            }
            let skip = left_out.as_exact().and_then(|time| time.checked_div(&Ratio::from(HOUR)));
            let Some(skip) =
                skip.and_then(|hours| hours.to_int()).and_then(|hours| usize::try_from(hours).ok())
            else {
                return cannot("what was left out is no whole number of hours");
            };
            let used: Vec<Number> = hours.into_iter().skip(skip).map(|hour| hour.number()).collect();
            match radon::average(&used) {
                Some(average) => as_stated(radon::reported(&average), || want.clone()),
                None => cannot("no hour is left to average"),
            }
        })
    })
}

/// The calendar days from the day the house was first lived in to the start of a test.
fn days_after_occupancy(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let building = &ask.design().building;
    let from = ask.value(&building.here, &building.occupied_from).map(|day| *day);
    let start = test(ask, it, |ask, test| instant(ask, &test.here, &test.start));
    from.both(start).map(|(from, start)| {
        Number::exact(Ratio::from(from.days_until(start.date())) * Ratio::from(SECONDS_OF_A_DAY))
    })
}

const LEFT_OUT: Entries = &["radon_tests.*.left_out"];

/// Facts of the hours of tests and of results.
pub(super) const TEST_HOURS: &[Fact] = &[
    Fact::stated(
        Kind::Test,
        "left_out",
        "How much at its beginning was left out of the average.",
        &[LEFT_OUT],
        Get::Number(Dimension::TIME, left_out),
    ),
    Fact {
        of: Kind::Test,
        name: "hours_used",
        meaning: "The time of the test that counts, in one piece.",
        formula: "from its start to its end, less what was left out at its beginning",
        source: CLOCKS,
        needs: &[LEFT_OUT, &["site.zone", "radon_tests.*.start", "radon_tests.*.stop"]],
        get: Get::Number(Dimension::TIME, |ask, it| {
            let duration = ask.number(it, "duration");
            duration.both(left_out(ask, it)).map(|(duration, left_out)| &duration - &left_out)
        }),
    },
    Fact::stated(
        Kind::Test,
        "others_left_out",
        "Whether other hours than those at its beginning were left out of the average.",
        &[&["radon_tests.*.others_left_out"]],
        Get::Truth(|ask, it| test(ask, it, |ask, t| ask.yes_or_no(&t.here, &t.others_left_out))),
    ),
    Fact::stated(
        Kind::Test,
        "indoors",
        "The temperature that the house was kept at.",
        &[&["radon_tests.*.indoors"]],
        Get::Number(Dimension::TEMPERATURE, |ask, it| {
            test(ask, it, |ask, t| ask.quantity(&t.here, &t.indoors))
        }),
    ),
    Fact {
        of: Kind::Test,
        name: "reported",
        meaning: "The radon that was found, in the digits in which a report gives it.",
        formula: "to the nearest tenth of a picocurie per litre; a half goes up",
        source: "ANSI/AARST MAH-2019, 8.5.2 b",
        needs: &[&["radon_tests.*.result"]],
        get: Get::Number(Dimension::CONCENTRATION, |ask, it| {
            test(ask, it, |ask, t| {
                let want = t.result.want(&t.here);
                ask.quantity(&t.here, &t.result).then(|found| as_stated(radon::reported(&found), || want))
            })
        }),
    },
    Fact::stated(
        Kind::Test,
        "hours_logged",
        "Whether the result of every hour is listed.",
        &[&["radon_tests.*.hours"]],
        Get::Truth(|ask, it| test(ask, it, |ask, t| ask.is_there(&t.here, &t.hours))),
    ),
    Fact {
        of: Kind::Test,
        name: "average",
        meaning: "The average over the hours that count, in the digits in which a report gives it.",
        formula: "the results of the hours that were not left out, added up and divided by their number; to the nearest tenth of a picocurie per litre",
        source: "ANSI/AARST MAH-2019, 8.5.2 and 8.5.3",
        needs: &[LEFT_OUT, &["radon_tests.*.hours", "radon_tests.*.others_left_out"]],
        get: Get::Number(Dimension::CONCENTRATION, average),
    },
    Fact {
        of: Kind::Test,
        name: "days_after_occupancy",
        meaning: "The calendar days from the day the house was first lived in to the start of the test, as a stretch of time.",
        formula: "the day of its start less the day on which the house was first lived in",
        source: CALENDAR,
        needs: &[&["building.occupied_from", "site.zone", "radon_tests.*.start"]],
        get: Get::Number(Dimension::TIME, days_after_occupancy),
    },
];
