//! What the program promises, held against the real books, their cases and the examples.
//!
//! Each module is one promise. The numbers of the promises are those of the project's list; the ones that
//! wait for later work are not here.

mod calm_first_run;
mod corrections_proven;
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
mod walk_and_back;
mod whole_messages;

use std::collections::BTreeMap;
use std::fmt::{self, Debug, Formatter};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::{Arc, LazyLock};

use undercroft::base::hands;
use undercroft::base::vocabulary::Answers;
use undercroft::design::Design;
use undercroft::facts::ask::Ask;
use undercroft::judge::{About, Judged, judge_rule};
use undercroft::review::proving::{CaseDesigns, cases_of};
use undercroft::review::{Library, read_text, stage};
use undercroft::rulebook::cases::Case;
use undercroft::rulebook::checked::{CheckedBook, CheckedRule, Stage};

/// The books of the program, read once for all that only look at them.
pub(crate) static BOOKS: LazyLock<Library> = LazyLock::new(|| Library::with(&[]));

/// One case of one rule, with the text of its design.
pub(crate) struct Tried {
    pub(crate) book: &'static CheckedBook,
    pub(crate) rule: &'static CheckedRule,
    pub(crate) case: Case,
    pub(crate) text: Arc<str>,
}

impl Debug for Tried {
    fn fmt(&self, said: &mut Formatter<'_>) -> fmt::Result {
        write!(said, "{}/{}: {}", self.book.name, self.rule.name, self.case.claim)
    }
}

/// Every case of every rule of every book, those of one rule behind each other.
pub(crate) fn every_case() -> &'static [Tried] {
    static ALL: LazyLock<Vec<Tried>> = LazyLock::new(put_together);
    &ALL
}

/// The cases with their texts. Cases that change the same house in the same way have the same text, which is made once.
fn put_together() -> Vec<Tried> {
    let (books, faults) = BOOKS.all();
    assert!(faults.is_empty(), "{faults:#?}");
    let mut all: Vec<(&CheckedBook, &CheckedRule, Case, usize)> = Vec::new();
    let mut changes = BTreeMap::new();
    let mut first_with: Vec<(usize, &CheckedBook, Case)> = Vec::new();
    for book in books {
        // What a book takes over as it is was tried in the book that it comes from.
        for (_, rule) in book.own_rules() {
            for case in cases_of(&BOOKS, book, rule).unwrap() {
                let house = book.base_design(&case.from, &case.book).map(|house| house.source);
                let with: Vec<_> = case.with.iter().map(|one| (one.path.clone(), one.text.clone())).collect();
                let gone: Vec<_> = case.missing.iter().map(|(path, _)| path.clone()).collect();
                let number = *changes.entry((house, with, gone)).or_insert_with(|| {
                    first_with.push((first_with.len(), book, case.clone()));
                    first_with.len() - 1
                });
                all.push((book, rule, case, number));
            }
        }
    }
    let designs = CaseDesigns::of(&BOOKS);
    let texts: BTreeMap<usize, Arc<str>> = by_all_hands(&first_with, |(number, book, case)| {
        (*number, Arc::from(designs.text(book, case).unwrap()))
    })
    .into_iter()
    .collect();
    assert!(all.len() >= 4_000, "{} cases", all.len());
    all.into_iter()
        .map(|(book, rule, case, number)| Tried { book, rule, case, text: Arc::clone(&texts[&number]) })
        .collect()
}

/// Some things looked at by as many hands as there are, and what was seen of each, in their order.
pub(crate) fn by_all_hands<A: Sync, T: Send>(all: &[A], look: impl Fn(&A) -> T + Sync) -> Vec<T> {
    hands::each(all, || (), |(), one| look(one))
}

/// The same, where a fault in one does not keep the others from being looked at: all faults are told at the end.
pub(crate) fn by_all_hands_to_the_end<A: Sync + Debug, T: Send>(
    all: &[A],
    look: impl Fn(&A) -> T + Sync,
) -> Vec<T> {
    let seen = by_all_hands(all, |one| {
        catch_unwind(AssertUnwindSafe(|| look(one))).map_err(|fault| {
            let said = fault.downcast_ref::<String>().map(String::as_str);
            format!("{one:?}: {}", said.or_else(|| fault.downcast_ref().copied()).unwrap_or("panicked"))
        })
    });
    let faults: Vec<&String> = seen.iter().filter_map(|one| one.as_ref().err()).collect();
    assert!(faults.is_empty(), "{} of {} are at fault: {faults:#?}", faults.len(), all.len());
    seen.into_iter().flatten().collect()
}

/// The cases of each rule.
pub(crate) fn by_rule(all: &'static [Tried]) -> Vec<&'static [Tried]> {
    all.chunk_by(|a, b| std::ptr::eq(a.rule, b.rule)).collect()
}

/// What a rule comes to in a design for what a case is about, each with the name of its thing.
pub(crate) fn judged(tried: &Tried, ask: &mut Ask<'_>) -> Vec<(String, Judged)> {
    let all = judge_rule(tried.rule, stage_of(tried, ask.design()), ask);
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

/// The stage that a design states, or that of the case.
pub(crate) fn stage_of(tried: &Tried, design: &Design) -> Stage {
    tried.case.stage.unwrap_or_else(|| stage(design))
}

/// The same for a design that is asked nothing else.
pub(crate) fn judged_here(tried: &Tried, design: &Design) -> Vec<(String, Judged)> {
    judged(tried, &mut Ask::new(design))
}

/// The same for a text.
pub(crate) fn judged_text(tried: &Tried, text: &str) -> Vec<(String, Judged)> {
    judged_here(tried, &read_text(text).0)
}
