//! Bytes in, a review out: the one pipeline that every command uses.

pub mod books;
mod run;

use std::collections::BTreeMap;

use crate::base::problem::{Problem, ProblemKind, Weight};
use crate::base::text::Sources;
use crate::base::vocabulary::Thing;
use crate::findings::{Coverage, Finding, Standing, Used, Wanted};
use crate::judge::verdict::Verdict;
use crate::rulebook::checked::Stage;

pub use books::{BookFile, DESIGN, Library, SHOP};
pub use run::{problems_of, review};

/// What is reviewed.
#[derive(Clone, Debug, Default)]
pub struct Input<'a> {
    /// The name of the design file, as the person gave it.
    pub name: &'a str,
    /// What stands in it.
    pub bytes: &'a [u8],
    /// The shop file: its name and what stands in it.
    pub shop: Option<(&'a str, &'a [u8])>,
    /// The day of the review, as 2026-05-12; without it the date of the job.
    pub on: Option<&'a str>,
    /// Whether to work out why for everything, and not only for what is unmet or open.
    pub everything: bool,
    /// What else has to be said of this review, such as that its file is a link.
    pub notes: Vec<String>,
}

/// The job in a few words, as far as the file says.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct JobWords {
    /// What it is called.
    pub title: Option<String>,
    /// What kind of work it is.
    pub work: Option<String>,
    /// How far it has come.
    pub stage: Option<String>,
}

/// What a review was made of: digests of bytes, so that it can be told whether it still holds.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Digests {
    /// Of the design file.
    pub design: String,
    /// Of the shop file.
    pub shop: Option<String>,
}

/// A review.
#[derive(Clone, Debug)]
pub struct Review<'l> {
    /// Every text it speaks of: the design first, then the shop file, then the books.
    pub sources: Sources,
    /// The job in a few words.
    pub job: JobWords,
    /// At which stage it was reviewed.
    pub stage: Stage,
    /// For which day, if any is known.
    pub on: Option<String>,
    /// What else has to be said of it.
    pub notes: Vec<String>,
    /// What is wrong with the file and the shop file.
    pub problems: Vec<Problem>,
    /// What is wrong with the rulebooks that the design names. With any of these there are no verdicts.
    pub book_problems: Vec<Problem>,
    /// The books that were used.
    pub used: Vec<Used<'l>>,
    /// What the clauses come to, by place.
    pub findings: Vec<Finding>,
    /// What to measure or settle next.
    pub wanted: Vec<Wanted>,
    /// What was checked of each book.
    pub coverage: Vec<Coverage>,
    /// What it was made of.
    pub digests: Digests,
    /// What the things that decided are called in the file.
    pub names: BTreeMap<Thing, String>,
}

/// What a review comes to as a whole.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Outcome {
    /// An entry or a rulebook could not be read.
    CouldNotRead,
    /// Something that has to be is unmet.
    Unmet,
    /// Something that has to be cannot be told yet; `accepted` may be so, what stops work may not.
    Undetermined {
        /// Whether a person may accept it for now.
        may_be_accepted: bool,
    },
    /// No requirement was judged.
    NothingJudged,
    /// All that has to be is met, as far as it was asked.
    Met,
}

impl Review<'_> {
    /// The name of the design file, as the person gave it.
    #[must_use]
    pub fn name(&self) -> &str {
        self.sources.get(DESIGN).map_or("", |source| source.name())
    }

    /// Whether a book that the design names was held against it.
    #[must_use]
    pub fn was_judged(&self) -> bool {
        let named = |at: usize| self.used.get(at).is_some_and(|used| used.standing != Standing::Always);
        self.findings.iter().flat_map(|finding| &finding.clauses).any(|clause| {
            named(clause.book)
                && clause.verdict != Verdict::NotApplicable
                && clause.verdict != Verdict::NotYetDue
        })
    }

    /// What it comes to as a whole.
    #[must_use]
    pub fn outcome(&self) -> Outcome {
        let unread = |problem: &Problem| problem.kind.weight() >= Weight::Entry;
        let at = |verdict| self.findings.iter().filter(move |finding| finding.binds_at(verdict));
        let names_none =
            |problem: &Problem| problem.kind == ProblemKind::UnknownBook && problem.found.is_empty();
        if !self.book_problems.iter().all(names_none) || self.problems.iter().any(unread) {
            Outcome::CouldNotRead
        } else if at(Verdict::Unmet).next().is_some() {
            Outcome::Unmet
        } else if !self.was_judged() {
            Outcome::NothingJudged
        } else if at(Verdict::Undetermined).next().is_some() {
            Outcome::Undetermined {
                may_be_accepted: self.findings.iter().all(|finding| finding.stops().is_none()),
            }
        } else {
            Outcome::Met
        }
    }
}
