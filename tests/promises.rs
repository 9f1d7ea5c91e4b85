//! What the program promises, held against the real books, their cases and the examples.
//!
//! Each module is one promise. The numbers of the promises are those of the project's list; the ones that
//! wait for later work are not here.

mod calm_first_run;
mod difference_names_its_cause;
mod edition_flips;
mod hostile_input;
mod rulebooks_earn_trust;
mod sampling;
mod signed_review_goes_stale;
mod smallest_list;
mod units_as_spoken;
mod unknown_never_passes;
mod variances_hold_on;
mod whole_messages;

use std::sync::atomic::{AtomicUsize, Ordering};

use undercroft::base::vocabulary::Answers;
use undercroft::design::Design;
use undercroft::facts::ask::Ask;
use undercroft::judge::{About, Judged, judge_rule};
use undercroft::review::proving::{CaseDesigns, cases_of};
use undercroft::review::{Library, read_text, stage};
use undercroft::rulebook::cases::Case;
use undercroft::rulebook::checked::{CheckedBook, CheckedRule, Stage};

/// One case of one rule, with the text of its design.
pub(crate) struct Tried<'l> {
    pub(crate) book: &'l CheckedBook,
    pub(crate) rule: &'l CheckedRule,
    pub(crate) case: Case,
    pub(crate) text: String,
}

/// Every case of every rule of every book.
pub(crate) fn every_case(library: &Library) -> Vec<Tried<'_>> {
    let (books, faults) = library.all();
    assert!(faults.is_empty(), "{faults:#?}");
    let designs = CaseDesigns::of(library);
    let mut all = Vec::new();
    for book in books {
        // What a book takes over as it is was tried in the book that it comes from.
        for (_, rule) in book.own_rules() {
            for case in cases_of(library, book, rule).unwrap() {
                let text = designs.text(book, &case).unwrap();
                all.push(Tried { book, rule, case, text });
            }
        }
    }
    assert!(all.len() >= 120, "{} cases", all.len());
    all
}

/// The cases of each rule looked at by two hands, and what was seen of each rule, in no order.
pub(crate) fn by_two_hands<T: Send>(all: &[Tried<'_>], look: fn(&[Tried<'_>]) -> T) -> Vec<T> {
    let rules: Vec<&[Tried<'_>]> = all.chunk_by(|a, b| std::ptr::eq(a.rule, b.rule)).collect();
    let next = AtomicUsize::new(0);
    let hand = || {
        let mut seen = Vec::new();
        while let Some(cases) = rules.get(next.fetch_add(1, Ordering::Relaxed)) {
            seen.push(look(cases));
        }
        seen
    };
    std::thread::scope(|scope| {
        let other = scope.spawn(hand);
        let mut seen = hand();
        seen.extend(other.join().unwrap());
        seen
    })
}

/// What a rule comes to in a design for what a case is about, each with the name of its thing.
pub(crate) fn judged(tried: &Tried<'_>, design: &Design, at: Stage) -> Vec<(String, Judged)> {
    let mut ask = Ask::new(design);
    let all = judge_rule(tried.rule, at, &mut ask);
    all.into_iter()
        .map(|one| {
            let name = match one.about {
                About::Thing(thing) => ask.name_of(thing),
                About::Whole => "the whole".to_owned(),
                About::List => "the list".to_owned(),
            };
            (name, one)
        })
        .filter(|(name, _)| tried.case.thing.as_ref().is_none_or(|thing| thing == name))
        .collect()
}

/// The same for a design at the stage it states, or that of the case.
pub(crate) fn judged_here(tried: &Tried<'_>, design: &Design) -> Vec<(String, Judged)> {
    judged(tried, design, tried.case.stage.unwrap_or_else(|| stage(design)))
}

/// The same for a text.
pub(crate) fn judged_text(tried: &Tried<'_>, text: &str) -> Vec<(String, Judged)> {
    judged_here(tried, &read_text(text).0)
}
