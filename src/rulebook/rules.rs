//! The rules of a book. A rule that a book takes over as it is stands in both books and is kept once.

use std::fmt::{Debug, Formatter, Result};
use std::iter::Map;
use std::ops::Deref;
use std::slice::Iter;
use std::sync::Arc;

use super::checked::CheckedRule;

/// The rules of a book, those of a checked book in the order of their names. As a slice they are what is shared.
#[derive(Clone, PartialEq, Default)]
pub struct Rules(Vec<Arc<CheckedRule>>);

impl Rules {
    /// The rules, one after the other.
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = &CheckedRule> + ExactSizeIterator {
        self.0.iter().map(Arc::as_ref)
    }

    /// The rule at this place.
    #[must_use]
    pub fn get(&self, place: usize) -> Option<&CheckedRule> {
        self.0.get(place).map(Arc::as_ref)
    }

    /// The rules, to be changed where they stand.
    pub(super) fn iter_mut(&mut self) -> impl Iterator<Item = &mut Arc<CheckedRule>> {
        self.0.iter_mut()
    }
}

impl Debug for Rules {
    fn fmt(&self, to: &mut Formatter<'_>) -> Result {
        to.debug_list().entries(self.iter()).finish()
    }
}

impl FromIterator<Arc<CheckedRule>> for Rules {
    fn from_iter<T: IntoIterator<Item = Arc<CheckedRule>>>(rules: T) -> Self {
        Rules(rules.into_iter().collect())
    }
}

impl FromIterator<CheckedRule> for Rules {
    fn from_iter<T: IntoIterator<Item = CheckedRule>>(rules: T) -> Self {
        rules.into_iter().map(Arc::new).collect()
    }
}

impl Deref for Rules {
    type Target = [Arc<CheckedRule>];

    fn deref(&self) -> &[Arc<CheckedRule>] {
        &self.0
    }
}

impl<'a> IntoIterator for &'a Rules {
    type Item = &'a CheckedRule;
    type IntoIter = Map<Iter<'a, Arc<CheckedRule>>, fn(&'a Arc<CheckedRule>) -> &'a CheckedRule>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.iter().map(Arc::as_ref)
    }
}
