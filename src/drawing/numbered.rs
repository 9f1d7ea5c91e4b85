//! The findings that are not as asked, with the numbers by which all sheets of one design call them.

use crate::facts::kinds::{KINDS, Kind};
use crate::findings::finding::Subject;
use crate::findings::{Comes, Finding};
use crate::review::Review;

use super::desk::spoken;

/// A finding with its number.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Numbered {
    /// Its number, from one.
    pub(crate) number: usize,
    /// What it is known by.
    pub(crate) identity: String,
    /// What it comes to and what of, in a line.
    pub(crate) words: String,
    of: Subject,
}

impl Numbered {
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
    let title = |finding: &Finding| {
        let clause = finding.headline()?;
        Some(review.used.get(clause.book)?.book.rules.get(clause.rule)?.title.clone())
    };
    found
        .into_iter()
        .enumerate()
        .map(|(at, (_, finding, comes))| {
            let what = title(finding).unwrap_or_else(|| spoken(&finding.subject));
            let of = match &finding.of {
                Subject::Thing { name, .. } => format!(": {}", spoken(name)),
                Subject::Whole | Subject::List { .. } => String::new(),
            };
            Numbered {
                number: at + 1,
                identity: finding.identity.clone(),
                words: format!("{comes}: {what}{of}"),
                of: finding.of.clone(),
            }
        })
        .collect()
}
