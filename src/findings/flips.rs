//! What would come out otherwise on one design if another book counted.

use super::finding::{Comes, Finding};

/// A finding that comes to something else.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Flip {
    /// What it is known by.
    pub identity: String,
    /// What it comes to under the first book, with its place among the findings; nothing where it is not asked.
    pub was: Option<(Comes, usize)>,
    /// The same under the second.
    pub is: Option<(Comes, usize)>,
}

/// The findings that come to something else: those of the first in their order, then those of the second alone. What is
/// not applicable is as good as not asked.
#[must_use]
pub fn flips(old: &[Finding], new: &[Finding]) -> Vec<Flip> {
    let asked = |finding: &Finding| finding.comes() != Comes::NotApplicable;
    let find = |list: &[Finding], identity: &str| {
        let at = list.iter().position(|one| one.identity == identity && asked(one))?;
        list.get(at).map(|one| (one.comes(), at))
    };
    let here = old.iter().enumerate().filter(|(_, one)| asked(one)).map(|(at, one)| Flip {
        identity: one.identity.clone(),
        was: Some((one.comes(), at)),
        is: find(new, &one.identity),
    });
    let there = new.iter().enumerate().filter(|(_, one)| asked(one)).map(|(at, one)| Flip {
        identity: one.identity.clone(),
        was: find(old, &one.identity),
        is: Some((one.comes(), at)),
    });
    let there = there.filter(|flip| flip.was.is_none());
    here.chain(there)
        .filter(|flip| flip.was.map(|(comes, _)| comes) != flip.is.map(|(comes, _)| comes))
        .collect()
}
