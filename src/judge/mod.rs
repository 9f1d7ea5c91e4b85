//! Rules held against anything that answers the vocabulary. Knows no radon.
//!
//! [`judge`] is the run over all rules: verdicts and what is missing, nothing else. What decided a verdict
//! is worked out afterwards, by replaying those that are shown: [`trace::replay`].

pub mod amount;
pub mod applies;
pub mod eval;
pub mod formula;
pub mod message;
pub mod missing;
pub mod mutants;
pub mod prove;
pub mod trace;
pub mod verdict;

use std::collections::HashMap;
use std::ops::Range;

use crate::base::truth::Truth;
use crate::base::vocabulary::Answers;
use crate::rulebook::checked::{CheckedBook, CheckedRule, Stage};

use eval::Scope;

pub use applies::{Judged, judge_rule};
pub use trace::{Trace, replay};
pub use verdict::{About, Outcome, Verdict};

/// Holds every rule of some books against everything it is asked of, at one stage of the work. Outcomes
/// come by place, then by the names of book and rule.
pub fn judge(books: &[&CheckedBook], stage: Stage, answers: &mut dyn Answers) -> Vec<Outcome> {
    let mut outcomes: Vec<Outcome> = Vec::new();
    // A rule that several books share comes to the same in all of them.
    let mut known: HashMap<*const CheckedRule, Range<usize>> = HashMap::new();
    for (book, of) in books.iter().enumerate() {
        for (rule, checked) in of.rules.iter().enumerate() {
            let start = outcomes.len();
            if let Some(known) = known.get(&std::ptr::from_ref(checked)) {
                let same: Vec<Outcome> = outcomes.get(known.clone()).unwrap_or_default().to_vec();
                outcomes.extend(same.into_iter().map(|outcome| Outcome { book, rule, ..outcome }));
                continue;
            }
            for Judged { about, verdict, missing } in judge_rule(checked, stage, answers) {
                outcomes.push(Outcome { book, rule, about, verdict, missing });
            }
            known.insert(checked, start..outcomes.len());
        }
    }
    put_in_order(books, &mut outcomes, answers);
    outcomes
}

/// Whether a book covers what is judged; it covers everything when it does not say.
pub fn covers(book: &CheckedBook, answers: &mut dyn Answers) -> Truth {
    let Some(rule) = book.rules.first() else { return Truth::True };
    match &rule.covered {
        Some(covers) => Scope::new(rule, answers).truth(&covers.expr),
        None => Truth::True,
    }
}

/// Puts outcomes in order: by place (what has none comes first), then by the names of book and rule.
pub fn put_in_order(books: &[&CheckedBook], outcomes: &mut [Outcome], answers: &dyn Answers) {
    let place = |outcome: &Outcome| match outcome.about {
        About::Thing(thing) => answers.place_of(thing),
        About::Whole | About::List => None,
    };
    let mut places: Vec<_> = outcomes.iter().map(place).collect();
    places.sort_unstable();
    places.dedup();
    let ranks = ranks(books);
    // One number in which place, names and what it is about stand behind one another.
    let narrow = |number: usize| u128::from(u32::try_from(number).unwrap_or(u32::MAX));
    outcomes.sort_by_cached_key(|outcome| {
        let place = places.binary_search(&place(outcome)).unwrap_or_default();
        let rank = ranks.get(outcome.book).and_then(|ranks| ranks.get(outcome.rule)).copied();
        narrow(place) << 96 | narrow(rank.unwrap_or_default()) << 64 | u128::from(outcome.about.number())
    });
}

/// Which place each rule of each book has by their names, so that names are compared once for all outcomes.
fn ranks(books: &[&CheckedBook]) -> Vec<Vec<usize>> {
    let mut ranks: Vec<Vec<usize>> = books.iter().map(|book| vec![0; book.rules.len()]).collect();
    let mut named: Vec<(&str, &str, usize, usize)> = Vec::new();
    for (book, of) in books.iter().enumerate() {
        let rules = of.rules.iter().enumerate();
        named.extend(rules.map(|(rule, checked)| (of.name.as_str(), checked.name.as_str(), book, rule)));
    }
    named.sort_unstable();
    let same = |a: &(&str, &str, usize, usize), b: &(&str, &str, usize, usize)| (a.0, a.1) == (b.0, b.1);
    for (rank, alike) in named.chunk_by(same).enumerate() {
        for (_, _, book, rule) in alike {
            if let Some(slot) = ranks.get_mut(*book).and_then(|ranks| ranks.get_mut(*rule)) {
                *slot = rank;
            }
        }
    }
    ranks
}
