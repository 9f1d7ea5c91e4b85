//! What a fact is worth, what it rests on, and what is missing when it cannot be told.

use std::cmp::Ordering;
use std::sync::Arc;

use super::number::Number;
use super::text::Span;
use super::vocabulary::{FactId, Thing, WordId};

/// The path of an entry in a file, as a person would say it: `building.openings.bath_window.kind`.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct EntryPath(pub Arc<str>);

impl Ord for EntryPath {
    fn cmp(&self, other: &Self) -> Ordering {
        // Most that are compared are one and the same text.
        if Arc::ptr_eq(&self.0, &other.0) { Ordering::Equal } else { self.0.cmp(&other.0) }
    }
}

impl PartialOrd for EntryPath {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl EntryPath {
    /// The path spelled this way.
    #[must_use]
    pub fn new(path: impl AsRef<str>) -> Self {
        EntryPath(Arc::from(path.as_ref()))
    }

    /// The path one key further in. A key in brackets, `[2]`, is a place in a list.
    #[must_use]
    pub fn key(&self, key: &str) -> Self {
        let between = if self.0.is_empty() || key.starts_with('[') { "" } else { "." };
        EntryPath::new([&self.0, between, key].concat())
    }

    /// The path of a member of a list, counted from nought.
    #[must_use]
    pub fn item(&self, number: usize) -> Self {
        EntryPath::new(format!("{}[{number}]", self.0))
    }

    /// The path as text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl std::fmt::Display for EntryPath {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(&self.0)
    }
}

/// Why an entry does not tell what was asked of it.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Reason {
    /// Nothing is written there.
    NotStated,
    /// `unknown` is written there: somebody looked and could not tell.
    StatedUnknown,
    /// Something is written there that could not be read.
    Unreadable,
    /// It may stand in lines that were not read, behind a fault in the writing of the file.
    CutOff,
    /// A list that nobody has said to be complete.
    NotSaidComplete,
    /// Somebody looked, though only so far; the text says how far.
    LookedOnly(String),
    /// A value that is known only within bounds, and the bounds straddle what was asked.
    Imprecise,
    /// Nothing is written there; what was taken for granted in its stead straddles what was asked.
    TakenForGranted,
    /// A number that is only reckoned, and what was asked lies within what it can be.
    Reckoned,
    /// Two statements that contradict each other.
    Contradiction,
    /// The value asks for itself, by way of others.
    Circular,
    /// It could not be worked out; the phrase says why.
    NotComputable(String),
}

/// An entry that would have to be stated, or stated better, to tell.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Missing {
    /// The entry.
    pub entry: EntryPath,
    /// What is wrong with it as it stands.
    pub reason: Reason,
    /// Where it stands, or the place it belongs to when nothing is written.
    pub at: Option<Span>,
}

/// A list of things, and whether it is all of them.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Listed<T> {
    /// Those that are listed.
    pub items: Vec<T>,
    /// What would have to be stated before the list counts as complete; empty when it is complete.
    pub open: Vec<Missing>,
    /// What is known of any that are not listed: somebody who looked for all within a distance knows that
    /// whatever else there is lies farther off.
    pub others: Others,
}

/// Numbers of things that nobody has listed, each with what it is never below. Usually there are none.
pub type Others = Arc<[AtLeast]>;

/// That a number of a thing is never below another.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct AtLeast {
    /// The number of the thing.
    pub fact: FactId,
    /// What it is never below.
    pub number: Number,
    /// Nought where that always holds. Otherwise it holds in one of several ways in which a thing can be, which are
    /// numbered from one: each thing is in one of them, and nobody knows in which.
    pub way: u8,
}

impl<T> Listed<T> {
    /// A complete list.
    #[must_use]
    pub fn closed(items: Vec<T>) -> Self {
        Listed::open(items, Vec::new())
    }

    /// A list of which this would have to be stated before it counts as complete. Nothing is known of those
    /// that are not on it.
    #[must_use]
    pub fn open(items: Vec<T>, open: Vec<Missing>) -> Self {
        Listed { items, open, others: Arc::default() }
    }

    /// Whether it is known to be all of them.
    #[must_use]
    pub fn is_closed(&self) -> bool {
        self.open.is_empty()
    }
}

/// An answer to a question about the design.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Answer<T> {
    /// It can be told.
    Known {
        /// What it is.
        value: T,
        /// For a number that is a range: the entries that make it one.
        doubts: Vec<Missing>,
    },
    /// It cannot be told, for want of these. Never empty.
    Unknown(Vec<Missing>),
}

impl<T> Answer<T> {
    /// A plain known value.
    pub fn known(value: T) -> Self {
        Answer::Known { value, doubts: Vec::new() }
    }

    /// Not known for want of one entry.
    pub fn missing(missing: Missing) -> Self {
        Answer::Unknown(vec![missing])
    }

    /// The same answer with its value changed.
    pub fn map<U>(self, change: impl FnOnce(T) -> U) -> Answer<U> {
        match self {
            Answer::Known { value, doubts } => Answer::Known { value: change(value), doubts },
            Answer::Unknown(missing) => Answer::Unknown(missing),
        }
    }

    /// The answer to a question that needs this one's value; doubts are carried on.
    pub fn then<U>(self, next: impl FnOnce(T) -> Answer<U>) -> Answer<U> {
        match self {
            Answer::Known { value, doubts } => match next(value) {
                Answer::Known { value, doubts: more } => Answer::Known { value, doubts: unite(doubts, more) },
                unknown => unknown,
            },
            Answer::Unknown(missing) => Answer::Unknown(missing),
        }
    }

    /// Both answers at once: what is missing of either is missing of both.
    pub fn both<U>(self, other: Answer<U>) -> Answer<(T, U)> {
        match (self, other) {
            (Answer::Known { value: a, doubts }, Answer::Known { value: b, doubts: more }) => {
                Answer::Known { value: (a, b), doubts: unite(doubts, more) }
            }
            (Answer::Unknown(a), Answer::Unknown(b)) => Answer::Unknown(unite(a, b)),
            (Answer::Unknown(a), _) | (_, Answer::Unknown(a)) => Answer::Unknown(a),
        }
    }

    /// All answers at once: what is missing of any is missing of all.
    pub fn all(answers: impl IntoIterator<Item = Answer<T>>) -> Answer<Vec<T>> {
        let (mut values, mut doubts, mut missing) = (Vec::new(), Vec::new(), Vec::new());
        let mut unknown = 0;
        for answer in answers {
            match answer {
                Answer::Known { value, doubts: more } => {
                    values.push(value);
                    doubts.extend(more);
                }
                Answer::Unknown(more) => {
                    unknown += 1;
                    missing.extend(more);
                }
            }
        }
        match unknown {
            0 => Answer::Known { value: values, doubts: in_order(doubts) },
            1 => Answer::Unknown(missing),
            _ => Answer::Unknown(in_order(missing)),
        }
    }

    /// The value, if it can be told.
    pub fn value(self) -> Option<T> {
        match self {
            Answer::Known { value, .. } => Some(value),
            Answer::Unknown(_) => None,
        }
    }
}

/// Two lists of what is missing, each entry once, in order.
#[must_use]
pub fn unite(a: Vec<Missing>, b: Vec<Missing>) -> Vec<Missing> {
    let (mut all, more) = if a.is_empty() { (b, a) } else { (a, b) };
    all.extend(more);
    in_order(all)
}

/// What is missing, each entry once, in order.
fn in_order(mut all: Vec<Missing>) -> Vec<Missing> {
    if !all.is_sorted_by(|one, next| one < next) {
        all.sort();
        all.dedup();
    }
    all
}

/// A value of one of the types a rule can speak of.
#[derive(Clone, PartialEq, Debug)]
pub enum Value {
    /// A number with the dimension of its fact.
    Number(Number),
    /// True or false.
    Truth(bool),
    /// A word of its fact's list of words.
    Word(WordId),
    /// A thing.
    Thing(Thing),
    /// Things.
    Things(Listed<Thing>),
    /// Words to show, which no rule compares.
    Text(String),
}

/// An entry that a value rests on.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Stated {
    /// Where it stands.
    pub at: Span,
    /// Its path.
    pub entry: EntryPath,
}

/// What a value rests on: for showing, worked out only for what is shown.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Origin {
    /// The entries that were read, in the order they stand; each once.
    pub stated: Vec<Stated>,
    /// The facts it was worked out from, the nearest first.
    pub computed_from: Vec<(FactId, Thing)>,
    /// What was taken for granted, in words a person reads.
    pub assumed: Vec<String>,
}
