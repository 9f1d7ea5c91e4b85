//! From outcomes to findings.

use std::collections::HashMap;

use rustc_hash::{FxBuildHasher, FxHashMap};

use crate::base::text::Span;
use crate::base::value::EntryPath;
use crate::base::vocabulary::{Answers, KindId, Thing};
use crate::judge::verdict::{About, Outcome};
use crate::rulebook::checked::{CheckedBook, CheckedRule};
use crate::rulebook::expr::typed::ExprType;

use super::finding::{Clause, Finding, Standing, Subject, rank};

/// A book that was judged, and what it is for this design.
#[derive(Clone, Copy, Debug)]
pub struct Used<'a> {
    /// The book.
    pub book: &'a CheckedBook,
    /// What it is for this design.
    pub standing: Standing,
    /// Whether it is in force on the day of the review; without a day, or for a book that names none, it is taken so.
    pub in_force: bool,
    /// Whether its own cases bear it out; those of the books that come with the program do.
    pub proven: bool,
}

impl Used<'_> {
    /// What its clauses are for this design.
    fn weight(&self) -> Standing {
        let decides = self.in_force && self.proven;
        if decides || !self.standing.is_to_decide() { self.standing } else { Standing::Withheld }
    }
}

/// Puts the outcomes that speak of one subject and one thing together. `used` is in the order in which the
/// outcomes count the books. Findings come by place, those without one first, then by identity.
pub fn gather(used: &[Used<'_>], outcomes: Vec<Outcome>, answers: &dyn Answers) -> Vec<Finding> {
    let mut findings: Vec<Finding> = Vec::new();
    let mut by_identity: HashMap<String, usize> = HashMap::new();
    // What an outcome belongs to is put into words only where no other was asked the same of the same thing.
    let mut by_thing: FxHashMap<(usize, u64, Option<KindId>), usize> =
        FxHashMap::with_capacity_and_hasher(outcomes.len(), FxBuildHasher);
    let subjects = subjects(used);
    for outcome in outcomes {
        let Some(one @ Used { book, .. }) = used.get(outcome.book) else { continue };
        let Some(rule) = book.rules.get(outcome.rule) else { continue };
        let clause = Clause {
            book: outcome.book,
            rule: outcome.rule,
            standing: one.weight(),
            obligation: rule.obligation,
            disputed: rule.disputed,
            basis: rule.source.basis,
            stops: rule.stops,
            about: outcome.about,
            verdict: outcome.verdict,
            missing: outcome.missing,
            trace: None,
            excusable: Vec::new(),
            variance: None,
        };
        let number = subjects.get(outcome.book).and_then(|book| book.get(outcome.rule)).copied();
        let asked = (number.unwrap_or(0), outcome.about.number(), listed(rule));
        let at = *by_thing.entry(asked).or_insert_with(|| {
            let of = subject(rule, outcome.about, answers);
            *by_identity.entry(identity(&rule.subject, &of)).or_insert_with_key(|identity| {
                findings.push(Finding {
                    identity: identity.clone(),
                    subject: rule.subject.clone(),
                    of,
                    at: place(outcome.about, answers),
                    entry: entry(outcome.about, answers),
                    clauses: Vec::new(),
                });
                findings.len() - 1
            })
        });
        if let Some(finding) = findings.get_mut(at) {
            // Most findings have one clause.
            if finding.clauses.is_empty() {
                finding.clauses.reserve_exact(1);
            }
            finding.clauses.push(clause);
        }
    }
    findings.iter_mut().for_each(put_clauses_in_order);
    findings.sort_by(|a, b| a.at.cmp(&b.at).then_with(|| a.identity.cmp(&b.identity)));
    findings
}

/// A number for the subject of each rule of each book: the same for the same subject.
fn subjects(used: &[Used<'_>]) -> Vec<Vec<usize>> {
    let mut numbers: HashMap<&str, usize> = HashMap::new();
    let mut number = |rule| {
        let next = numbers.len();
        *numbers.entry(subject_of(rule)).or_insert(next)
    };
    used.iter().map(|used| used.book.rules.iter().map(&mut number).collect()).collect()
}

fn subject_of(rule: &CheckedRule) -> &str {
    &rule.subject
}

/// Puts the clause that gives the headline first.
pub fn put_clauses_in_order(finding: &mut Finding) {
    finding.clauses.sort_by_key(|clause| {
        let aside = (!clause.standing.counts(), !clause.standing.is_to_decide());
        (aside, rank(clause), clause.obligation, clause.book, clause.rule)
    });
}

/// What a finding is known by.
#[must_use]
pub fn identity(subject: &str, of: &Subject) -> String {
    match of {
        Subject::Whole => subject.to_owned(),
        Subject::Thing { kind, name } => format!("{subject} of {kind} {name}"),
        Subject::List { kind } => format!("{subject} of every {kind}"),
    }
}

/// What one clause of a finding is known by.
#[must_use]
pub fn clause_identity(finding: &str, book: &str, rule: &str) -> String {
    format!("{finding} by {book}/{rule}")
}

fn subject(rule: &CheckedRule, about: About, answers: &dyn Answers) -> Subject {
    let kind_name =
        |kind: KindId| answers.vocabulary().kind(kind).map_or(String::new(), |shape| shape.name.clone());
    match about {
        About::Whole => Subject::Whole,
        About::Thing(Thing { kind, .. }) => {
            Subject::Thing { kind: kind_name(kind), name: named(about, answers) }
        }
        About::List => match listed(rule) {
            Some(kind) => Subject::List { kind: kind_name(kind) },
            None => Subject::Whole,
        },
    }
}

/// The kind of the things that a rule is asked of.
fn listed(rule: &CheckedRule) -> Option<KindId> {
    match rule.each.as_ref()?.binding.things.of_type {
        ExprType::Things(kind) | ExprType::Thing(kind) => Some(kind),
        _ => None,
    }
}

fn named(about: About, answers: &dyn Answers) -> String {
    match about {
        About::Thing(thing) => answers.name_of(thing),
        About::Whole | About::List => String::new(),
    }
}

fn entry(about: About, answers: &dyn Answers) -> Option<EntryPath> {
    match about {
        About::Thing(thing) => answers.entry_of(thing),
        About::Whole | About::List => None,
    }
}

fn place(about: About, answers: &dyn Answers) -> Option<Span> {
    match about {
        About::Thing(thing) => answers.place_of(thing),
        About::Whole | About::List => None,
    }
}
