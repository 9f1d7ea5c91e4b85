//! What a design comes to, clause by clause, and nothing told of why: for holding two states of one design against each
//! other many times over.

use std::collections::BTreeMap;

use super::books::Library;
use super::run::{books, read_design, read_shop};
use super::{Input, Review, stage};
use crate::base::problem::Problem;
use crate::base::value::Missing;
use crate::facts::ask::Ask;
use crate::facts::contradictions::contradictions;
use crate::findings::variance::{requirement_of, variances};
use crate::findings::{Comes, Finding, Used, gather};
use crate::judge;

/// What one clause comes to.
#[derive(Clone, PartialEq, Debug)]
pub struct Came {
    /// What it comes to for people.
    pub comes: Comes,
    /// For one that is open: what would decide it.
    pub missing: Vec<Missing>,
}

/// What a design comes to.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Judged {
    /// What is wrong with the files and what in them cannot all be true.
    pub problems: Vec<Problem>,
    /// Every clause, by the identity of its finding and its requirement. Where two have both in common, the worse.
    pub clauses: BTreeMap<(String, String), Came>,
    /// Whether the file cannot be taken as a whole.
    pub refused: bool,
}

/// How bad it is: nothing to do, something to find out, something not as asked.
#[must_use]
pub fn badness(comes: Comes) -> u8 {
    match comes {
        Comes::Met | Comes::NotApplicable | Comes::NotYetDue | Comes::Varied => 0,
        Comes::Open => 1,
        Comes::Unmet | Comes::Disputed | Comes::NotFollowed => 2,
    }
}

/// Judges a design.
#[must_use]
pub fn judged(input: &Input<'_>, library: &Library) -> Judged {
    let mut sources = library.sources.clone();
    let read = read_design(&mut sources, input);
    let mut judged = Judged { problems: read.problems, ..Judged::default() };
    judged.refused = judged.problems.iter().any(|problem| problem.kind.refuses_the_file());
    if judged.refused {
        return judged;
    }
    if let Some((name, bytes)) = input.shop {
        judged.problems.extend(read_shop(&mut sources, name, bytes).1);
    }
    let design = &read.design;
    let day = input.on.map(str::to_owned).or_else(|| design.job.date.known().map(ToString::to_string));
    let (used, faults, _) = books(design, library, day.as_deref());
    judged.problems.extend(faults);
    let mut ask = Ask::new(design);
    judged.problems.extend(contradictions(&mut ask, &sources));
    let list: Vec<_> = used.iter().map(|used| used.book).collect();
    let stage = stage(design);
    let outcomes = judge::judge(&list, stage, &mut ask);
    let mut findings = gather(&used, outcomes, &ask);
    variances(design, &mut findings, &used, (stage, day.as_deref()), &sources, &mut ask);
    judged.clauses = clauses(&findings, &used);
    judged
}

impl Judged {
    /// What a review that was made comes to: the same as judging its design.
    #[must_use]
    pub fn of(review: &Review<'_>) -> Self {
        Judged {
            problems: review.problems.iter().chain(&review.book_problems).cloned().collect(),
            clauses: clauses(&review.findings, &review.used),
            refused: review.refusal().is_some(),
        }
    }
}

fn clauses(findings: &[Finding], used: &[Used<'_>]) -> BTreeMap<(String, String), Came> {
    let mut all: BTreeMap<(String, String), Came> = BTreeMap::new();
    for finding in findings {
        for clause in &finding.clauses {
            let Some(requirement) = requirement_of(clause, used) else { continue };
            let came = Came { comes: clause.comes(), missing: clause.missing.clone() };
            let known = all.entry((finding.identity.clone(), requirement)).or_insert(came.clone());
            if badness(came.comes) > badness(known.comes) {
                *known = came;
            }
        }
    }
    all
}
