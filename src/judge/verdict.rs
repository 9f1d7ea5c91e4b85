//! What comes of holding one rule against one thing.

use std::sync::Arc;

use crate::base::value::{Answer, Missing, Origin, Value};
use crate::base::vocabulary::{FactId, Thing};

/// What a requirement comes to.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Verdict {
    /// Known to be as asked.
    Met,
    /// Known not to be as asked.
    Unmet,
    /// Cannot be told from what is stated.
    Undetermined,
    /// Known not to be asked here.
    NotApplicable,
    /// Can only be asked at a later stage.
    NotYetDue,
    /// Known not to be as asked, and permitted by a variance on file. The judge never says so: it does not know of
    /// variances.
    Varied,
}

/// What of a rule the outcome is about.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum About {
    /// The whole, for a rule that is asked once.
    Whole,
    /// One thing of the rule's list.
    Thing(Thing),
    /// The rule's list itself: whether it is complete, or that it is empty.
    List,
}

impl About {
    /// The same as a number, which is another for whatever else it may be about. The numbers are in the order of what
    /// they stand for.
    #[must_use]
    pub fn number(self) -> u64 {
        match self {
            About::Whole => 0,
            About::Thing(Thing { kind, number }) => 1 + ((u64::from(kind.0) << 32) | u64::from(number)),
            About::List => u64::MAX,
        }
    }
}

/// The outcome of one rule for one thing.
#[derive(Clone, PartialEq, Debug)]
pub struct Outcome {
    /// The book, by its place in the list that was judged.
    pub book: usize,
    /// The rule, by its place in the book.
    pub rule: usize,
    /// What it is about.
    pub about: About,
    /// What it comes to.
    pub verdict: Verdict,
    /// For an undetermined one: the smallest list of entries that would decide it.
    pub missing: Vec<Missing>,
}

/// Which part of a rule a fact decided.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Role {
    /// What it requires.
    Requires,
    /// Whether it applies.
    Applies,
    /// Whether its book covers the design at all.
    Covers,
    /// What it is asked of.
    List,
}

/// A fact that decided a verdict, with what it was; worked out by replay for what is shown.
#[derive(Clone, PartialEq, Debug)]
pub struct Decisive {
    /// The fact.
    pub fact: FactId,
    /// The thing it was asked of.
    pub thing: Thing,
    /// Which part of the rule it decided.
    pub role: Role,
    /// What it was.
    pub value: Answer<Value>,
    /// What that rests on.
    pub origin: Arc<Origin>,
}
