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

use crate::base::truth::Truth;
use crate::base::vocabulary::Answers;
use crate::rulebook::checked::{CheckedBook, Stage};

use eval::Scope;

pub use applies::{Judged, judge_rule};
pub use trace::{Trace, replay};
pub use verdict::{About, Outcome, Verdict};

/// Holds every rule of some books against everything it is asked of, at one stage of the work. Outcomes
/// come by place, then by the names of book and rule.
pub fn judge(books: &[&CheckedBook], stage: Stage, answers: &mut dyn Answers) -> Vec<Outcome> {
    let mut outcomes = Vec::new();
    for (book, of) in books.iter().enumerate() {
        for (rule, checked) in of.rules.iter().enumerate() {
            for Judged { about, verdict, missing } in judge_rule(checked, stage, answers) {
                outcomes.push(Outcome { book, rule, about, verdict, missing });
            }
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
    outcomes.sort_by_cached_key(|outcome| {
        let place = match outcome.about {
            About::Thing(thing) => answers.place_of(thing),
            About::Whole | About::List => None,
        };
        let book = books.get(outcome.book);
        let rule = book.and_then(|book| book.rules.get(outcome.rule));
        let names = (book.map(|book| book.name.as_str()), rule.map(|rule| rule.name.as_str()));
        (place, names, outcome.about)
    });
}
