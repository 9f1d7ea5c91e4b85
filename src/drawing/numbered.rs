//! The findings that are not as asked, with the numbers by which all sheets of one design call them.

use crate::facts::kinds::{KINDS, Kind};
use crate::findings::finding::Subject;
use crate::findings::{Clause, Comes, Finding};
use crate::review::Review;

use super::desk::spoken;

/// A finding with its number.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Numbered {
    /// Its number, from one; what a variance permits is numbered apart.
    pub(crate) number: usize,
    /// What it comes to.
    pub(crate) comes: Comes,
    /// What it is known by.
    pub(crate) identity: String,
    /// What it comes to and what of, in a line.
    pub(crate) words: String,
    of: Subject,
}

impl Numbered {
    /// Whether a variance permits it.
    pub(crate) fn is_permitted(&self) -> bool {
        self.comes == Comes::Varied
    }

    /// Its number as it stands on a sheet.
    pub(crate) fn mark(&self) -> String {
        if self.is_permitted() { format!("V{}", self.number) } else { self.number.to_string() }
    }

    /// Whether it stands on every sheet in full, whether or not the sheet shows what it is about.
    pub(crate) fn is_always_told(&self) -> bool {
        matches!(self.comes, Comes::Unmet | Comes::Disputed | Comes::Varied)
    }

    /// Whether it is about the thing of this kind and name.
    pub(crate) fn is_about(&self, kind: Kind, called: &str) -> bool {
        let kind = KINDS.iter().find(|(one, ..)| *one == kind).map_or("", |(_, name, _)| name);
        matches!(&self.of, Subject::Thing { kind: own, name } if own == kind && name == called)
    }
}

/// What a finding comes to, in a word; nothing for one that is not told on drawings.
fn comes(finding: &Finding) -> Option<&'static str> {
    match finding.comes() {
        Comes::Unmet => Some("unmet"),
        Comes::Disputed => Some("not as asked; disputed whether it is a duty"),
        Comes::Open if finding.binds() => Some("can't tell yet"),
        Comes::NotFollowed => Some("advice, not followed"),
        _ => None,
    }
}

/// Numbers the findings of a review: what is unmet first, then in the order of the file.
pub(crate) fn numbered(review: &Review<'_>) -> Vec<Numbered> {
    let mut found: Vec<(Comes, &Finding, &'static str)> = review
        .findings
        .iter()
        .filter(|finding| finding.counts())
        .filter_map(|finding| Some((finding.comes(), finding, comes(finding)?)))
        .collect();
    found.sort_by_key(|(comes, ..)| *comes);
    let numbered = (1..).zip(found).map(|(number, (comes, finding, words))| Numbered {
        number,
        comes,
        identity: finding.identity.clone(),
        words: format!("{words}: {}", what(review, finding, finding.headline())),
        of: finding.of.clone(),
    });
    numbered.chain(permitted(review)).collect()
}

/// What of a finding is asked, and of what.
fn what(review: &Review<'_>, finding: &Finding, clause: Option<&Clause>) -> String {
    let title = clause
        .and_then(|clause| Some(review.used.get(clause.book)?.book.rules.get(clause.rule)?.title.clone()))
        .unwrap_or_else(|| spoken(&finding.subject));
    match &finding.of {
        Subject::Thing { name, .. } => format!("{title}: {}", spoken(name)),
        Subject::Whole | Subject::List { .. } => title,
    }
}

/// What variances permit, numbered apart.
fn permitted(review: &Review<'_>) -> Vec<Numbered> {
    let mut found = Vec::new();
    for finding in &review.findings {
        let mut clauses = finding.clauses.iter().filter(|clause| clause.standing.counts());
        let Some(clause) = clauses.find(|clause| clause.comes() == Comes::Varied) else { continue };
        let Some(paper) = clause.variance.and_then(|at| review.variances.get(at)) else { continue };
        let until = paper.until.as_ref().map_or("with no last day".to_owned(), |day| format!("until {day}"));
        let words = format!(
            "permitted by a variance {until} ({}, {}): {}",
            paper.document,
            paper.granted_by,
            what(review, finding, Some(clause))
        );
        let (identity, of) = (finding.identity.clone(), finding.of.clone());
        found.push(Numbered { number: found.len() + 1, comes: Comes::Varied, identity, words, of });
    }
    found
}
