//! The laws that whatever is offered has to keep, held here by a whole review of both texts and not by the proof itself.

use std::collections::BTreeMap;

use undercroft::correct::{Corrections, Proven};
use undercroft::findings::Comes;
use undercroft::findings::variance::requirement_of;
use undercroft::review::{Explained, Input, Library, Review, review};
use undercroft::yaml::edits::Edits;
use undercroft::yaml::path::Path;

use super::of;

/// What every clause of a review comes to and what it lacks, by finding and requirement.
type Clauses = BTreeMap<(String, String), (u8, Vec<String>)>;

fn clauses(review: &Review<'_>) -> Clauses {
    let mut all = Clauses::new();
    for finding in &review.findings {
        for clause in &finding.clauses {
            let bad = match clause.comes() {
                Comes::Unmet | Comes::Disputed | Comes::NotFollowed => 2,
                Comes::Open => 1,
                _ => 0,
            };
            let missing = clause.missing.iter().map(|missing| missing.entry.to_string()).collect();
            let key = (finding.identity.clone(), requirement_of(clause, &review.used).unwrap());
            let known = all.entry(key).or_insert((bad, Vec::new()));
            if bad >= known.0 {
                *known = (bad, missing);
            }
        }
    }
    all
}

fn reviewed<'l>(text: &str, library: &'l Library) -> Review<'l> {
    let input = Input {
        name: "design.yaml",
        bytes: text.as_bytes(),
        explained: Explained::OnThePage,
        ..Input::default()
    };
    review(&input, library)
}

/// The text that edits make, put together here from what is kept and what is new.
fn by_hand(text: &str, edits: &Edits) -> String {
    let (mut made, mut at) = (String::new(), 0);
    for edit in edits.as_slice() {
        let range = edit.span.range();
        assert!(range.start >= at, "edits stand in order and apart from each other");
        made.push_str(&text[at..range.start]);
        made.push_str(&edit.text);
        at = range.end;
    }
    made.push_str(&text[at..]);
    made
}

/// Holds one correction of a text against the laws.
pub(crate) fn one_holds(
    text: &str,
    (identity, proven): (&str, &Proven),
    before: &Review<'_>,
    library: &Library,
) {
    let steps: Vec<String> = proven.steps.iter().map(|step| step.path().to_string()).collect();
    assert_eq!(by_hand(text, &proven.edits), proven.text, "{identity}: every other byte stays: {steps:?}");
    assert_ne!(proven.text, text, "{identity}");
    let after = reviewed(&proven.text, library);
    let told = |review: &Review<'_>| {
        let mut kinds: Vec<&str> = review.problems.iter().map(|problem| problem.kind.name()).collect();
        kinds.sort_unstable();
        kinds
    };
    let (old, new) = (told(before), told(&after));
    assert!(
        new.iter().all(|kind| new.iter().filter(|one| one == &kind).count()
            <= old.iter().filter(|one| one == &kind).count()),
        "{identity}: {steps:?}: {new:?} after {old:?}"
    );
    let inside = |entry: &String| {
        let entry = Path::parse(entry).unwrap();
        proven.steps.iter().any(|step| entry.steps.starts_with(&step.path().steps))
    };
    let old = clauses(before);
    for (key, (bad, missing)) in &clauses(&after) {
        let was = old.get(key).map_or(0, |(was, _)| *was);
        let blank = *bad == 1 && !missing.is_empty() && missing.iter().all(inside);
        if key.0 == identity {
            assert!(*bad < 2, "{key:?} is still unmet: {steps:?}");
        }
        assert!(*bad <= was || blank, "{key:?} was {was} and is {bad}: {steps:?}, {missing:?}");
        assert!(*bad != 1 || was == 1 || blank, "{key:?} is newly open: {steps:?}, {missing:?}");
    }
}

/// Holds every correction that is offered for a text against the laws, and that a second run offers nothing for the same.
pub(crate) fn holds(all: &Corrections<'_>, text: &str, library: &Library) -> usize {
    let before = reviewed(text, library);
    let mut count = 0;
    for (mend, _, proven) in all.offered() {
        let identity = all.review.findings[mend.finding].identity.as_str();
        one_holds(text, (identity, proven), &before, library);
        let again = of(&proven.text, library);
        let offered = again.mends.iter().any(|mend| again.review.findings[mend.finding].identity == identity);
        assert!(!offered, "{identity} is offered for again");
        count += 1;
    }
    count
}
