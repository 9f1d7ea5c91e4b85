//! A part of a review to look at: some subjects, places, books, stages or weights. The review itself stays whole, and
//! so does what it comes to.

use std::collections::BTreeSet;

use super::finding::{Finding, Subject};
use super::gather::Used;
use crate::base::near::nearest;
use crate::rulebook::checked::{Obligation, Stage};

/// What is looked at; where nothing is named, all of it.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Narrow {
    /// Subjects, `discharge` or `discharge/openings`.
    pub about: Vec<String>,
    /// Things, and spaces and areas with what is in them, by their names in the file.
    pub places: Vec<String>,
    /// Books.
    pub books: Vec<String>,
    /// From which stages a requirement is due.
    pub due: Vec<Stage>,
    /// How strongly a requirement is asked.
    pub weights: Vec<Obligation>,
}

/// The part of a review that was asked for.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Narrowed {
    /// What was asked for.
    pub asked: Narrow,
    /// The identities of the findings that belong to it.
    pub shown: BTreeSet<String>,
}

/// A name that nothing in the review answers to.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NothingThere {
    /// What it should have named: a subject, a place, a book.
    pub what: &'static str,
    /// The name.
    pub named: String,
    /// The nearest name that there is.
    pub nearest: Option<String>,
    /// The names that there are.
    pub there_are: Vec<String>,
}

impl Narrow {
    /// Whether nothing is left out.
    #[must_use]
    pub fn is_everything(&self) -> bool {
        *self == Narrow::default()
    }

    /// The findings that belong to it. `within` tells in which spaces and areas the thing of a finding is.
    ///
    /// # Errors
    /// When it names a subject, a place or a book that the review does not speak of.
    pub fn of(
        &self,
        findings: &[Finding],
        used: &[Used<'_>],
        within: &dyn Fn(&Finding) -> BTreeSet<String>,
    ) -> Result<Narrowed, NothingThere> {
        let spots: Vec<BTreeSet<String>> =
            findings.iter().map(|finding| places_of(finding, within)).collect();
        let subjects = findings.iter().flat_map(|finding| {
            let topic = finding.subject.split('/').next().unwrap_or("");
            [topic.to_owned(), finding.subject.clone()]
        });
        let named = |name: &String| spelled(name);
        known("subject", &self.about, &subjects.collect())?;
        known(
            "place",
            &self.places.iter().map(named).collect::<Vec<_>>(),
            &spots.iter().flatten().cloned().collect(),
        )?;
        known("book", &self.books, &used.iter().map(|one| one.book.name.clone()).collect())?;
        let places: BTreeSet<String> = self.places.iter().map(named).collect();
        let shown = findings
            .iter()
            .zip(&spots)
            .filter(|(finding, spots)| {
                let about = |wanted: &String| {
                    finding.subject == *wanted
                        || finding
                            .subject
                            .strip_prefix(wanted.as_str())
                            .is_some_and(|rest| rest.starts_with('/'))
                };
                (self.about.is_empty() || self.about.iter().any(about))
                    && (places.is_empty() || !places.is_disjoint(spots))
                    && self.asked_by_a_clause(finding, used)
            })
            .map(|(finding, _)| finding.identity.clone())
            .collect();
        Ok(Narrowed { asked: self.clone(), shown })
    }

    /// Whether one clause of the finding is of the books, the stages and the weights that are looked at.
    fn asked_by_a_clause(&self, finding: &Finding, used: &[Used<'_>]) -> bool {
        finding.clauses.iter().any(|clause| {
            let book = used.get(clause.book).map(|used| used.book);
            let due = book.and_then(|book| book.rules.get(clause.rule)).map(|rule| rule.due);
            (self.books.is_empty() || book.is_some_and(|book| self.books.contains(&book.name)))
                && (self.due.is_empty() || due.is_some_and(|due| self.due.contains(&due)))
                && (self.weights.is_empty() || self.weights.contains(&clause.obligation))
        })
    }
}

/// The names that a finding can be found under: its thing, what that is part of, and where it is.
fn places_of(finding: &Finding, within: &dyn Fn(&Finding) -> BTreeSet<String>) -> BTreeSet<String> {
    let mut names = within(finding);
    if let Subject::Thing { name, .. } = &finding.of {
        names.insert(name.clone());
    }
    names
}

/// A name as a file spells it.
fn spelled(name: &str) -> String {
    name.trim().replace(' ', "_")
}

/// Whether every name is one of those there are.
fn known(what: &'static str, names: &[String], there: &BTreeSet<String>) -> Result<(), NothingThere> {
    match names.iter().find(|name| !there.contains(*name)) {
        None => Ok(()),
        Some(name) => {
            let close = |one: &&String| match name.split_once('/') {
                Some((topic, _)) if there.contains(topic) => {
                    one.strip_prefix(topic).is_some_and(|rest| rest.starts_with('/'))
                }
                _ => !one.contains('/') && !one.is_empty(),
            };
            Err(NothingThere {
                what,
                named: name.clone(),
                nearest: nearest(name, there.iter().map(String::as_str)),
                there_are: there.iter().filter(close).cloned().collect(),
            })
        }
    }
}
