//! Statements of one design that cannot all be true.
//!
//! Two sorts are told. Where one number is stated in several ways, the facts settle it and keep what disagreed; here
//! it gets its words (`told`). What cannot be at all, whatever the numbers, has one file for each subject. Nothing
//! here reads a value anew: what is in the file goes by way of [`Ask`], as everywhere among the facts.

use crate::base::problem::Problem;
use crate::base::text::Sources;
use crate::base::value::{Answer, EntryPath, Missing, Reason};
use crate::base::vocabulary::{FactId, ROOT};

use super::ask::Ask;
use super::catalogue;
use impossible::Impossible;

pub(super) mod between;
pub(super) mod days;
pub(super) mod extents;
pub(super) mod fan;
pub(super) mod gauges;
pub(super) mod impossible;
mod neighbours;
mod one_place;
pub(super) mod outlet;
mod rings;
mod sizes;
mod storeys;
mod suction;
pub(super) mod tape;
mod told;
mod under_floor;
mod whereabouts;

/// Every contradiction of a design, once, at its place, with all that it rests on.
#[must_use]
pub fn contradictions(ask: &mut Ask<'_>, sources: &Sources) -> Vec<Problem> {
    let undecided = ask_everything(ask);
    let cannot_be = impossible(ask);
    let mut problems: Vec<Problem> =
        ask.disagreements().iter().filter_map(|one| told::disagreement(one, sources)).collect();
    let mut told: Vec<EntryPath> = ask.disagreements().iter().flat_map(|one| one.entries()).collect();
    told.extend(cannot_be.iter().flat_map(|one| one.doubts()).map(|one| one.entry));
    for (meaning, against) in undecided {
        if against.iter().all(|one| told.contains(&one.entry)) {
            continue;
        }
        told.extend(against.iter().map(|one| one.entry.clone()));
        problems.extend(told::undecided(meaning, &against, sources));
    }
    problems.extend(cannot_be.iter().filter_map(|one| one.problem(sources)));
    problems.sort_by(|a, b| (a.at, a.kind, &a.found).cmp(&(b.at, b.kind, &b.found)));
    problems.dedup();
    problems
}

/// All that cannot be as it is written, whatever the numbers.
fn impossible(ask: &mut Ask<'_>) -> Vec<Impossible> {
    let mut found = Vec::new();
    let _ = ask.aside("contradictions", ROOT, |ask| {
        sizes::sizes(ask);
        found.extend(sizes::counts(ask));
        found.extend(rings::rings(ask));
        found.extend(extents::ways(ask));
        found.extend(extents::nowhere(ask));
        found.extend(outlet::ways_out(ask));
        found.extend(fan::fans(ask));
        found.extend(suction::points(ask));
        found.extend(days::days(ask));
        found.extend(gauges::marks(ask));
        found.extend(one_place::taken_twice(ask));
        found.extend(storeys::left_out(ask));
        found.extend(between::nothing_between(ask));
        found.extend(neighbours::nearer(ask));
        found.extend(whereabouts::suction_points(ask));
        found.extend(whereabouts::runs(ask));
        found.extend(whereabouts::places_of_the_rest(ask));
        found.extend(under_floor::outlines_of_areas(ask));
        found.extend(under_floor::openings(ask));
        found.extend(under_floor::test_holes(ask));
        Some(())
    });
    found
}

/// Asks every fact that something stated may be held against, so that all that disagrees is come across. Those that
/// statements which are no numbers leave undecided are told, each with its meaning, those against each other by the
/// fewest entries first.
fn ask_everything(ask: &mut Ask<'_>) -> Vec<(&'static str, Vec<Missing>)> {
    let mut undecided = Vec::new();
    for (number, fact) in catalogue::all().enumerate() {
        // What is reckoned rests on facts that are asked here as well, and costs more than all of them.
        if fact.is_reckoned() {
            continue;
        }
        let id = FactId(u16::try_from(number).unwrap_or(u16::MAX));
        for thing in ask.things().all(fact.of) {
            if let Answer::Unknown(missing) = ask.fact(id, thing) {
                let against: Vec<Missing> =
                    missing.into_iter().filter(|one| one.reason == Reason::Contradiction).collect();
                if !against.is_empty() {
                    undecided.push((fact.meaning, against));
                }
            }
        }
    }
    undecided.sort_by_key(|(_, against)| against.len());
    undecided
}
