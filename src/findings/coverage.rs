//! What was checked of each book, and what was not.

use std::collections::{BTreeMap, BTreeSet};

use crate::judge::verdict::Verdict;
use crate::rulebook::checked::Basis;

use super::finding::{Clause, Comes, Finding, Standing};
use super::gather::Used;

/// What was checked of one book.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Coverage {
    /// The book's name.
    pub book: String,
    /// What it is for this design.
    pub standing: Standing,
    /// How many requirements it has.
    pub requirements: usize,
    /// How many times each came out: every requirement is asked of every thing that it speaks of.
    pub came: BTreeMap<Comes, usize>,
    /// Names of requirements that are met on the word of a memory or of a standard of the same family alone: the
    /// source was not read, nor a text that tells what it says.
    pub met_on_trust: Vec<String>,
    /// How many clauses it leaves to the eye.
    pub left_to_the_eye: usize,
    /// How many clauses it does not hold the text of.
    pub not_held: usize,
}

/// Counts, per book, what came of it.
#[must_use]
pub fn coverage(used: &[Used<'_>], findings: &[Finding]) -> Vec<Coverage> {
    let mut of_each: Vec<Vec<&Clause>> = vec![Vec::new(); used.len()];
    for clause in findings.iter().flat_map(|finding| &finding.clauses) {
        if let Some(own) = of_each.get_mut(clause.book) {
            own.push(clause);
        }
    }
    used.iter()
        .zip(of_each)
        .map(|(Used { book, standing, .. }, clauses)| {
            let mut came = BTreeMap::new();
            let mut on_trust = BTreeSet::new();
            for clause in clauses {
                *came.entry(clause.comes()).or_default() += 1;
                if clause.verdict == Verdict::Met && is_trust(clause.basis) {
                    on_trust.extend(book.rules.get(clause.rule).map(|rule| rule.name.clone()));
                }
            }
            Coverage {
                book: book.name.clone(),
                standing: *standing,
                requirements: book.rules.len(),
                came,
                met_on_trust: on_trust.into_iter().collect(),
                left_to_the_eye: book.left_to_the_eye.len(),
                not_held: book.not_held.len(),
            }
        })
        .collect()
}

/// Whether a figure rests on a memory or on a standard of the same family.
#[must_use]
pub fn is_trust(basis: Basis) -> bool {
    matches!(basis, Basis::Memory | Basis::SimilarStandard)
}
