//! Two books beside each other, requirement by requirement: what one has and the other has not, and what of a
//! requirement moved.

use crate::base::number::Comparison;
use crate::base::truth::Truth;
use crate::base::vocabulary::Vocabulary;

use super::checked::{CheckedBook, CheckedRule, Limit};
use super::meaning;

/// A part of a requirement that is not the same in both books.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Moved {
    /// The verb, or whether it is disputed.
    Verb,
    /// From which stage it can be asked.
    Due,
    /// The work that waits for it.
    Stops,
    /// What it is asked of.
    Each,
    /// When it is asked.
    Applies,
    /// A number, by its name in the rule; one of them may have none of this name.
    Limit(String),
    /// What has to hold, beside its numbers.
    Requires,
    /// Document, section, or how sure its author is.
    Source,
    /// The choice of its author where the source leaves one open.
    ReadAs,
}

/// A requirement that both books have: its place among the rules of each, and what of it moved.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Pair {
    /// Its place in the first book.
    pub old: usize,
    /// Its place in the second.
    pub new: usize,
    /// What of it is not the same; nothing when it asks alike.
    pub moved: Vec<Moved>,
}

/// Two books beside each other.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Editions {
    /// What both have, in the order of the first.
    pub pairs: Vec<Pair>,
    /// What the first has alone, by place.
    pub only_old: Vec<usize>,
    /// What the second has alone, by place.
    pub only_new: Vec<usize>,
}

/// Puts two books beside each other: requirements of one name together, and of those that are left the only ones on a
/// subject.
#[must_use]
pub fn compare(old: &CheckedBook, new: &CheckedBook, vocabulary: &Vocabulary) -> Editions {
    let mut partner: Vec<Option<usize>> =
        old.rules.iter().map(|rule| new.rules.iter().position(|other| other.name == rule.name)).collect();
    for (at, rule) in old.rules.iter().enumerate() {
        let free = |place: usize| !partner.contains(&Some(place));
        let alone = old
            .rules
            .iter()
            .zip(&partner)
            .filter(|(other, partner)| partner.is_none() && other.subject == rule.subject)
            .count();
        let mut same = (new.rules.iter().enumerate())
            .filter(|(place, other)| free(*place) && other.subject == rule.subject)
            .map(|(place, _)| place);
        let (first, second) = (same.next(), same.next());
        drop(same);
        if alone == 1
            && second.is_none()
            && let Some(slot) = partner.get_mut(at).filter(|slot| slot.is_none())
        {
            *slot = first;
        }
    }
    let mut editions = Editions::default();
    for (at, (rule, partner)) in old.rules.iter().zip(&partner).enumerate() {
        match partner.and_then(|place| Some((place, new.rules.get(place)?))) {
            Some((place, other)) => {
                editions.pairs.push(Pair { old: at, new: place, moved: moved(rule, other, vocabulary) });
            }
            None => editions.only_old.push(at),
        }
    }
    editions.only_new = (0..new.rules.len()).filter(|place| !partner.contains(&Some(*place))).collect();
    editions
}

fn moved(old: &CheckedRule, new: &CheckedRule, vocabulary: &Vocabulary) -> Vec<Moved> {
    let mut moved = Vec::new();
    let mut note = |differs: bool, what: Moved| moved.extend(differs.then_some(what));
    note((old.obligation, old.disputed) != (new.obligation, new.disputed), Moved::Verb);
    note(old.due != new.due, Moved::Due);
    note(old.stops != new.stops, Moved::Stops);
    let (was, is) = (meaning::parts(old, vocabulary), meaning::parts(new, vocabulary));
    note(was.each != is.each, Moved::Each);
    note(was.applies != is.applies, Moved::Applies);
    let named = |rule: &CheckedRule, name: &str| rule.limits.iter().position(|limit| limit.name == name);
    for limit in &old.limits {
        let other = named(new, &limit.name).and_then(|place| new.limits.get(place));
        note(other.is_none_or(|other| !same(limit, other)), Moved::Limit(limit.name.clone()));
    }
    for limit in new.limits.iter().filter(|limit| named(old, &limit.name).is_none()) {
        note(true, Moved::Limit(limit.name.clone()));
    }
    note(was.requires != is.requires, Moved::Requires);
    note(old.source != new.source, Moved::Source);
    note(old.interpretation.trim() != new.interpretation.trim(), Moved::ReadAs);
    moved
}

/// Whether two limits are the same number with the same words, whatever the units.
fn same(one: &Limit, other: &Limit) -> bool {
    one.words == other.words
        && one.value.dimension == other.value.dimension
        && one.value.number.compare(Comparison::Equal, &other.value.number) == Truth::True
}
