//! What a design says of itself that cannot all be true.

use super::model::systems::{System, SystemKind};
use super::model::tests::RadonTest;
use super::read::Design;
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::Span;
use crate::yaml::entry::Entry;
use crate::yaml::time::{Date, Moment};

/// Statements of a design that contradict each other. Distances that are stated twice are compared where they are
/// worked out, not here.
#[must_use]
pub fn check(design: &Design) -> Vec<Problem> {
    let mut problems = Vec::new();
    for (_, system) in design.systems.things() {
        problems.extend(kind_and_fan(system));
    }
    for (_, test) in design.radon_tests.things() {
        problems.extend(order_of_test(test, design));
    }
    for (name, variance) in design.variances.things() {
        let what = format!("the variance {name} ends before it was granted");
        problems.extend(dates(&variance.on, &variance.until, &what));
    }
    let job = &design.job;
    problems.extend(dates(
        &job.temporary_from,
        &job.temporary_until,
        "the temporary system ends before it begins",
    ));
    problems
}

fn contradiction(at: Span, found: &str, accepts: &str, with: Span) -> Problem {
    Problem::new(ProblemKind::Contradiction, at)
        .found(found)
        .accepts(accepts)
        .also(with, "does not go with this")
}

fn kind_and_fan(system: &System) -> Option<Problem> {
    let kind = system.kind.known()?;
    match (kind, system.fan.known().is_some(), system.fan.is_none()) {
        (SystemKind::Passive | SystemKind::RoughIn, true, _) => Some(contradiction(
            system.kind.at,
            "a system that no fan drives, with a fan",
            "active, or fan: none",
            system.fan.at,
        )),
        (SystemKind::Active, _, true) => Some(contradiction(
            system.kind.at,
            "a system that a fan drives, without a fan",
            "passive, or what is known of the fan",
            system.fan.at,
        )),
        _ => None,
    }
}

fn order_of_test(test: &RadonTest, design: &Design) -> Vec<Problem> {
    let zone = design.site.zone.known();
    let later = |first: &Entry<Moment>, second: &Entry<Moment>| {
        let (a, b) = (first.known()?, second.known()?);
        let turned = match (a.instant(zone), b.instant(zone)) {
            (Ok(a), Ok(b)) => a > b,
            _ => a.clock.is_after_on_the_same_clock(b.clock),
        };
        turned.then_some((first.at, second.at))
    };
    let mut problems = Vec::new();
    if let Some((start, stop)) = later(&test.start, &test.stop) {
        problems.push(contradiction(
            stop,
            "a test that ends before it begins",
            "a stop after the start",
            start,
        ));
    }
    if let Some((closed, stop)) = later(&test.closed_since, &test.stop) {
        let found = "doors and windows shut only after the test ended";
        problems.push(contradiction(closed, found, "a time before the test ended", stop));
    }
    problems
}

fn dates(first: &Entry<Date>, second: &Entry<Date>, what: &str) -> Option<Problem> {
    let (a, b) = (first.known()?, second.known()?);
    (a > b).then(|| contradiction(second.at, what, "a later day", first.at))
}
