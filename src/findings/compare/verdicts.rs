//! Which findings turned, and how.

use std::collections::BTreeSet;

use super::account::{Account, ClauseSaid, FindingSaid, NumberSaid};
use super::causes::Why;
use super::stated::Changes;
use crate::findings::finding::Comes;

/// How a finding turned.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Turn {
    /// It is open now and was not.
    New,
    /// It is open now, and was open in another way.
    OpenOtherwise,
    /// It is open as it was.
    StillOpen,
    /// It was open and is not.
    Settled,
    /// It is not open and was not, but comes to something else.
    Otherwise,
    /// It comes to the same, is not open, and turns on other numbers.
    OtherNumbers,
}

/// A number that a verdict turned on and that moved.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NumberChange {
    /// The fact it is.
    pub fact: String,
    /// The thing it is of; empty for the whole.
    pub of: String,
    /// What it was.
    pub was: String,
    /// What it is.
    pub is: String,
}

/// A clause that does not come to what it came to.
#[derive(Clone, PartialEq, Debug)]
pub struct ClauseChange {
    /// The requirement as the older review has it, as book and name; nothing where it was not asked.
    pub requirement_was: Option<String>,
    /// The same as the newer review has it.
    pub requirement_is: Option<String>,
    /// What it came to.
    pub was: Option<Comes>,
    /// What it comes to.
    pub is: Option<Comes>,
    /// Whether it is a duty of a book that counts.
    pub binds: bool,
    /// What made the difference.
    pub why: Why,
}

/// A finding that turned, or is still open.
#[derive(Clone, PartialEq, Debug)]
pub struct FindingChange {
    /// What it is known by; for one that is gone, what it was known by.
    pub identity: String,
    /// What it was known by, where that is something else.
    pub identity_was: Option<String>,
    /// How it turned.
    pub turn: Turn,
    /// The finding as it was.
    pub was: Option<FindingSaid>,
    /// The finding as it is.
    pub is: Option<FindingSaid>,
    /// The clauses that turned.
    pub clauses: Vec<ClauseChange>,
    /// The numbers that moved.
    pub numbers: Vec<NumberChange>,
}

impl FindingChange {
    /// The finding as it is, or as it was when it is gone.
    #[must_use]
    pub fn finding(&self) -> Option<&FindingSaid> {
        self.is.as_ref().or(self.was.as_ref())
    }

    /// What it came to; nothing when it was not there.
    #[must_use]
    pub fn came(&self) -> Option<Comes> {
        self.was.as_ref().map(|one| one.comes)
    }

    /// What it comes to; nothing when it is gone.
    #[must_use]
    pub fn comes(&self) -> Option<Comes> {
        self.is.as_ref().map(|one| one.comes)
    }

    /// Whether a duty that counts, or what work waits for, now comes to this and did not before.
    #[must_use]
    pub fn newly(&self, comes: Comes) -> bool {
        let waits = |one: &FindingSaid| !one.stops.is_empty();
        let waits_now = self.is.as_ref().is_some_and(waits);
        self.clauses
            .iter()
            .any(|one| one.is == Some(comes) && one.was != Some(comes) && (one.binds || waits_now))
    }
}

/// Whether something is left to do about it.
fn is_open(comes: Option<Comes>) -> bool {
    matches!(comes, Some(Comes::Unmet | Comes::Disputed | Comes::Open | Comes::NotFollowed))
}

/// What is not asked here and what is not there at all are the same to a reader.
fn alike(was: Option<Comes>, is: Option<Comes>) -> bool {
    let said = |comes: Option<Comes>| comes.filter(|comes| *comes != Comes::NotApplicable);
    said(was) == said(is)
}

/// The findings that turned or are still open, and how many of the others are as they were.
pub(super) fn changes(old: &Account, new: &Account, stated: &Changes) -> (Vec<FindingChange>, usize) {
    let mut taken: BTreeSet<&str> = BTreeSet::new();
    let mut found = Vec::new();
    let mut as_before = 0;
    let mut note = |was: Option<&FindingSaid>, is: Option<&FindingSaid>| {
        let change = change(was, is, stated);
        match change {
            Some(change) => found.push(change),
            None => as_before += usize::from(was.is_some() && is.is_some()),
        }
    };
    for is in &new.findings {
        let was = old.findings.iter().find(|was| belongs(was, is, stated));
        taken.extend(was.map(|was| was.identity.as_str()));
        note(was, Some(is));
    }
    for was in old.findings.iter().filter(|was| !taken.contains(was.identity.as_str())) {
        note(Some(was), None);
    }
    (found, as_before)
}

/// Whether two findings are one: of the same identity, or of one subject and a thing that goes by another name.
fn belongs(was: &FindingSaid, is: &FindingSaid, stated: &Changes) -> bool {
    if was.entry.is_empty() || is.entry.is_empty() {
        return was.identity == is.identity;
    }
    let entry = stated.now_called(&was.entry);
    if entry == was.entry {
        return was.identity == is.identity;
    }
    was.subject == is.subject && was.scope == is.scope && was.kind == is.kind && entry == is.entry
}

fn change(was: Option<&FindingSaid>, is: Option<&FindingSaid>, stated: &Changes) -> Option<FindingChange> {
    let (came, comes) = (was.map(|one| one.comes), is.map(|one| one.comes));
    let clauses = clauses(was, is);
    let numbers = numbers(was, is, stated);
    let turn = match (is_open(came), is_open(comes)) {
        (false, true) => Turn::New,
        (true, false) => Turn::Settled,
        (true, true) if came != comes => Turn::OpenOtherwise,
        (true, true) => Turn::StillOpen,
        (false, false) if !alike(came, comes) || !clauses.is_empty() => Turn::Otherwise,
        (false, false) if !numbers.is_empty() => Turn::OtherNumbers,
        (false, false) => return None,
    };
    let identity_was = was.map(|one| one.identity.clone());
    let identity = is.map(|one| one.identity.clone()).or_else(|| identity_was.clone())?;
    Some(FindingChange {
        identity_was: identity_was.filter(|was| *was != identity),
        identity,
        turn,
        was: was.cloned(),
        is: is.cloned(),
        clauses,
        numbers,
    })
}

/// The clauses of both sides that belong together: of one requirement, or of one name where another book took over.
pub(super) fn pairs<'f>(
    was: Option<&'f FindingSaid>,
    is: Option<&'f FindingSaid>,
) -> Vec<(Option<&'f ClauseSaid>, Option<&'f ClauseSaid>)> {
    let clauses = |of: Option<&'f FindingSaid>| -> Vec<&'f ClauseSaid> {
        of.map(|one| one.clauses.iter().collect()).unwrap_or_default()
    };
    let (mut olds, news) = (clauses(was), clauses(is));
    let mut take = |fits: &dyn Fn(&ClauseSaid) -> bool| {
        let at = olds.iter().position(|old| fits(old))?;
        Some(olds.remove(at))
    };
    let mut found: Vec<(Option<&ClauseSaid>, Option<&ClauseSaid>)> =
        news.iter().map(|new| (take(&|old| old.requirement == new.requirement), Some(*new))).collect();
    for (old, new) in found.iter_mut().filter(|(old, _)| old.is_none()) {
        let Some(new) = new else { continue };
        *old = take(&|old| old.book_and_rule().1 == new.book_and_rule().1);
    }
    found.extend(olds.into_iter().map(|old| (Some(old), None)));
    found
}

fn clauses(was: Option<&FindingSaid>, is: Option<&FindingSaid>) -> Vec<ClauseChange> {
    pairs(was, is)
        .into_iter()
        .filter(|(was, is)| !alike(was.map(|one| one.comes), is.map(|one| one.comes)))
        .map(|(was, is)| ClauseChange {
            requirement_was: was.map(|one| one.requirement.clone()),
            requirement_is: is.map(|one| one.requirement.clone()),
            was: was.map(|one| one.comes),
            is: is.map(|one| one.comes),
            binds: is.or(was).is_some_and(|one| one.counts && one.is_duty),
            why: Why::default(),
        })
        .collect()
}

fn numbers(was: Option<&FindingSaid>, is: Option<&FindingSaid>, stated: &Changes) -> Vec<NumberChange> {
    let now_called = |name: &str| -> String {
        let last = |entry: &str| entry.rsplit('.').next().unwrap_or(entry).to_owned();
        let renamed = stated.renamed.iter().find(|one| last(&one.was) == name);
        renamed.map_or_else(|| name.to_owned(), |one| last(&one.is))
    };
    let mut found: Vec<NumberChange> = Vec::new();
    for (was, is) in pairs(was, is) {
        let (Some(was), Some(is)) = (was, is) else { continue };
        for (at, now) in is.numbers.iter().enumerate() {
            // Things of one name, as the stretches of a curve, are held against each other in their order.
            let alike = |one: &&NumberSaid| one.fact == now.fact && one.of == now.of;
            let nth = is.numbers.iter().take(at).filter(alike).count();
            let same_fact = |old: &&NumberSaid| old.fact == now.fact && now_called(&old.of) == now.of;
            let Some(before) = was.numbers.iter().filter(same_fact).nth(nth) else { continue };
            let change = NumberChange {
                fact: now.fact.clone(),
                of: now.of.clone(),
                was: before.shown.clone(),
                is: now.shown.clone(),
            };
            if before.means != now.means && !found.contains(&change) {
                found.push(change);
            }
        }
    }
    found
}
