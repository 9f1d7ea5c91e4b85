//! Bytes in, a review out: the one pipeline that every command uses.

pub mod adopting;
pub mod as_drawn;
pub mod books;
mod built;
pub mod describe;
pub mod proving;
pub mod judged;
mod run;
pub mod made;
pub mod narrowed;
pub mod placing;
pub mod stated;
pub mod trial;
pub mod worksheet;
pub mod takeoff;
pub mod walk;

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;

use crate::base::problem::{Problem, ProblemKind, Weight};
use crate::base::text::Sources;
use crate::base::vocabulary::Thing;
use crate::design::Design;
use crate::findings::{Coverage, Departure, Exit, Finding, Looked, Used, Wanted, exit};
use crate::rulebook::checked::Stage;

use crate::findings::narrow::Narrowed;
use crate::findings::variance::OnFile;
pub use books::{BookFile, DESIGN, Library, SHOP};
pub use run::{problems_of, read_text, review, stage};
pub use stated::stated;

/// What is reviewed.
#[derive(Clone, Debug, Default)]
pub struct Input<'a> {
    /// The name of the design file, as the person gave it.
    pub name: &'a str,
    /// What stands in it.
    pub bytes: &'a [u8],
    /// The shop file: its name and what stands in it.
    pub shop: Option<(&'a str, &'a [u8])>,
    /// Field notes that lie over the design: the name of each file and what stands in it.
    pub field_notes: Vec<(&'a str, &'a [u8])>,
    /// The day of the review, as 2026-05-12; without it the date of the job.
    pub on: Option<&'a str>,
    /// The stage at which it is reviewed; without it that of the job.
    pub stage: Option<Stage>,
    /// For how much of it to work out why it came out so.
    pub explained: Explained,
    /// What else has to be said of this review, such as that its file is a link.
    pub notes: Vec<String>,
}

/// For how much of a review it is worked out why it came out so.
#[derive(Clone, Copy, PartialEq, Eq, Default, Hash, Debug)]
pub enum Explained {
    /// For what a page tells in full: the headlines of what is not as asked, and of what work waits for.
    OnThePage,
    /// For every clause that is unmet or open.
    #[default]
    Open,
    /// For every clause.
    Everything,
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
    /// The radon tests of its air that have a result, in the order of their ends.
    pub radon: Vec<RadonResult>,
}

/// The result of one radon test, as written.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct RadonResult {
    /// Its name.
    pub name: String,
    /// Why it was made: `before`, `after`.
    pub when: Option<String>,
    /// The result: `1.8 pCi/L`.
    pub result: String,
    /// The day on which it ended, as 2026-06-03.
    pub ended: Option<String>,
}

/// What a review was made of: digests of bytes, so that it can be told whether it still holds.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Digests {
    /// Of the design file.
    pub design: String,
    /// Of the shop file.
    pub shop: Option<String>,
    /// Of each file of field notes, in the order in which they were laid: its name and its digest.
    pub field_notes: Vec<(String, String)>,
}

/// A review.
#[derive(Clone, Debug)]
pub struct Review<'l> {
    /// The design that was judged, field notes laid over it.
    pub design: Arc<Design>,
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
    /// What is wrong with the rulebooks that the design names.
    pub book_problems: Vec<Problem>,
    /// The names of the books that gave no verdicts because something is wrong with them, each with how many faults.
    pub silent: Vec<(String, usize)>,
    /// The books that were used.
    pub used: Vec<Used<'l>>,
    /// What the clauses come to, by place.
    pub findings: Vec<Finding>,
    /// The variances of the design, each with how it stands.
    pub variances: Vec<OnFile>,
    /// What was found and built otherwise than designed.
    pub departures: Vec<Departure>,
    /// What was seen on site of requirements; it decides none of them.
    pub looked: Vec<Looked>,
    /// What to measure or settle next.
    pub wanted: Vec<Wanted>,
    /// What was checked of each book.
    pub coverage: Vec<Coverage>,
    /// What it was made of.
    pub digests: Digests,
    /// What the things that decided are called in the file.
    pub names: BTreeMap<Thing, String>,
    /// The part of it that is looked at, if not all.
    pub narrowed: Option<Narrowed>,
}

impl Review<'_> {
    /// The name of the design file, as the person gave it.
    #[must_use]
    pub fn name(&self) -> &str {
        self.sources.get(DESIGN).map_or("", |source| source.name())
    }

    /// The findings that are looked at.
    #[must_use]
    pub fn shown(&self) -> Cow<'_, [Finding]> {
        let Some(narrowed) = &self.narrowed else { return Cow::Borrowed(&self.findings) };
        let looked_at = |finding: &&Finding| narrowed.shown.contains(&finding.identity);
        Cow::Owned(self.findings.iter().filter(looked_at).cloned().collect())
    }

    /// What to measure or settle next for the findings that are looked at.
    pub fn wanted_here(&self) -> impl Iterator<Item = &Wanted> {
        self.wanted.iter().filter(|wanted| {
            self.narrowed
                .as_ref()
                .is_none_or(|narrowed| wanted.asked_for_by.iter().any(|one| narrowed.shown.contains(one)))
        })
    }

    /// Why nothing at all can be said of the file, if so.
    #[must_use]
    pub fn refusal(&self) -> Option<&Problem> {
        self.problems.iter().find(|problem| problem.kind.refuses_the_file())
    }

    /// What it comes to as a whole.
    #[must_use]
    pub fn exit(&self) -> Exit {
        let unread = |problem: &Problem| problem.kind.weight() >= Weight::Entry;
        let names_none =
            |problem: &Problem| problem.kind == ProblemKind::UnknownBook && problem.found.is_empty();
        let could_read = self.book_problems.iter().all(names_none) && !self.problems.iter().any(unread);
        exit(could_read, self.withheld(), &self.findings)
    }

    /// The books that are to decide and are not in force on the day of the review.
    pub fn out_of_force(&self) -> impl Iterator<Item = &Used<'_>> {
        self.used.iter().filter(|used| used.standing.counts() && !used.in_force)
    }

    /// The books that are to decide and whose own cases do not bear them out.
    pub fn unproven(&self) -> impl Iterator<Item = &Used<'_>> {
        self.used.iter().filter(|used| used.standing.counts() && !used.proven)
    }

    /// What keeps a book that is to decide from deciding.
    fn withheld(&self) -> Option<Exit> {
        let out_of_force = self.out_of_force().next().map(|_| Exit::NotInForce);
        out_of_force.or_else(|| self.unproven().next().map(|_| Exit::NotProven))
    }

    /// Whether a requirement of a book that counts was judged.
    #[must_use]
    pub fn was_judged(&self) -> bool {
        exit(true, None, &self.findings) != Exit::NothingJudged
    }
}
