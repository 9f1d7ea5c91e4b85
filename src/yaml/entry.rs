//! What stands under one key: one of five things, never guessed. And lists of such things.

use crate::base::text::{SourceId, Span};
use crate::base::value::{Answer, EntryPath, Missing, Reason};

/// Where a record stands and what its path is.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Here {
    /// Its place in the text.
    pub at: Span,
    /// Its path from the top of the file. Members of a list count from nought: `corners[0]`.
    pub path: EntryPath,
}

impl Here {
    /// Of a record that stands in no text.
    #[must_use]
    pub fn nowhere() -> Self {
        Here { at: Span::new(SourceId(0), 0, 0), path: EntryPath::new("") }
    }
}

/// What stands under a key.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum State<T> {
    /// The key is not there, or nothing is written under it.
    Missing,
    /// `unknown`: somebody looked and could not tell.
    Unknown,
    /// Something that could not be read; a problem says so.
    Unreadable,
    /// `none`: there is none.
    None,
    /// This.
    Known(T),
}

impl<T> State<T> {
    /// The value, if it is known.
    #[must_use]
    pub fn known(&self) -> Option<&T> {
        match self {
            State::Known(value) => Some(value),
            _ => None,
        }
    }

    /// Which of the five it is.
    #[must_use]
    pub fn stands(&self) -> Stands {
        match self {
            State::Missing => Stands::Missing,
            State::Unknown => Stands::Unknown,
            State::Unreadable => Stands::Unreadable,
            State::None => Stands::None,
            State::Known(_) => Stands::Known,
        }
    }

    /// Why it does not tell what was asked of it. `NotStated` for a known value: something about it is wanting.
    #[must_use]
    pub fn reason(&self) -> Reason {
        match self {
            State::Unknown => Reason::StatedUnknown,
            State::Unreadable => Reason::Unreadable,
            _ => Reason::NotStated,
        }
    }
}

/// Which of the five things stands under a key, whatever its type.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Stands {
    /// The key is not there, or nothing is written under it.
    Missing,
    /// `unknown`
    Unknown,
    /// Something that could not be read.
    Unreadable,
    /// `none`
    None,
    /// A value.
    Known,
}

/// What a value means, however it is written.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Meaning {
    /// It holds entries of its own, which mean something each.
    Parts,
    /// A single value, in one spelling: two that say the same have the same.
    Value(String),
    /// The name of a thing of the file.
    Name(String),
}

/// An entry as it is come across on a walk through a file, whatever its type.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Met {
    /// Its path from the top of the file.
    pub path: EntryPath,
    /// Which of the five it is.
    pub stands: Stands,
    /// What it means; `Parts` for one that is not known.
    pub means: Meaning,
    /// Whether it is a thing with a name of its own, one of several.
    pub is_thing: bool,
    /// Who answers for it, as far as it says itself.
    pub vouched: Vouched,
    /// Where it stands.
    pub at: Span,
}

/// Who answers for a value, as far as the value says itself.
#[derive(Clone, PartialEq, Eq, Default, Debug)]
pub struct Vouched {
    /// Who measured it.
    pub by: Option<String>,
    /// The day on which that was, as 2026-05-12.
    pub on: Option<String>,
    /// How it was come by, in a word of the file.
    pub how: Option<&'static str>,
    /// Who checked it independently.
    pub verified_by: Option<String>,
}

/// One entry of a record.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Entry<T> {
    /// The key, as written in a file.
    pub key: &'static str,
    /// What stands under it.
    pub state: State<T>,
    /// The place of the value; of the key when nothing is written under it; of the record when the key is missing.
    pub at: Span,
    /// Whether all that is written under the key was read. False where a fault in the file cut it short: what was
    /// read of a list of things stands, but it is not known to be all of them.
    pub whole: bool,
}

impl<T> Entry<T> {
    /// An entry whose key is not there.
    #[must_use]
    pub fn missing(key: &'static str, of: Span) -> Self {
        Entry { key, state: State::Missing, at: of, whole: true }
    }

    /// The value, if it is known.
    #[must_use]
    pub fn known(&self) -> Option<&T> {
        self.state.known()
    }

    /// Whether `none` is written there.
    #[must_use]
    pub fn is_none(&self) -> bool {
        matches!(self.state, State::None)
    }

    /// Whether the key is not there.
    #[must_use]
    pub fn is_missing(&self) -> bool {
        matches!(self.state, State::Missing)
    }

    /// Why it does not tell what was asked of it.
    #[must_use]
    pub fn reason(&self) -> Reason {
        match self.state.reason() {
            Reason::Unreadable if !self.whole => Reason::CutOff,
            other => other,
        }
    }

    /// What would have to be stated to know it.
    #[must_use]
    pub fn want(&self, of: &Here) -> Missing {
        Missing { entry: of.path.key(self.key), reason: self.reason(), at: Some(self.at) }
    }

    /// The value, or what is missing. `None` inside means that `none` is written.
    pub fn answer(&self, of: &Here) -> Answer<Option<&T>> {
        match &self.state {
            State::Known(value) => Answer::known(Some(value)),
            State::None => Answer::known(None),
            _ => Answer::missing(self.want(of)),
        }
    }
}

impl<T> Entry<Named<T>> {
    /// The named things that can be read, in the order written; empty unless the list is known.
    pub fn things(&self) -> impl Iterator<Item = (&str, &T)> {
        self.known().into_iter().flat_map(Named::things)
    }

    /// The thing with this name, if it can be read.
    #[must_use]
    pub fn thing(&self, name: &str) -> Option<&T> {
        self.known().and_then(|list| list.get(name))
    }
}

impl<T> Entry<ListOf<T>> {
    /// The members that can be read, in the order written; empty unless the list is known.
    pub fn members(&self) -> impl Iterator<Item = &T> {
        self.known().into_iter().flat_map(ListOf::members)
    }
}

impl<T> Entry<OneOrList<T>> {
    /// The members that can be read, in the order written; empty unless the list is known.
    pub fn members(&self) -> impl Iterator<Item = &T> {
        self.known().into_iter().flat_map(|list| list.0.members())
    }
}

/// One member of a list or of a set of named things.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Item<T> {
    /// Its name; in a list without names its number, counted from one.
    pub name: String,
    /// Where the name stands; in a list without names the place of the member.
    pub name_at: Span,
    /// The place of the value; of the name when nothing is written under it.
    pub at: Span,
    /// Its path from the top of the file.
    pub path: EntryPath,
    /// What stands there. A record is never missing, unknown or unreadable here: its entries are.
    pub state: State<T>,
}

impl<T> Item<T> {
    /// What would have to be stated to know it.
    #[must_use]
    pub fn want(&self) -> Missing {
        Missing { entry: self.path.clone(), reason: self.state.reason(), at: Some(self.at) }
    }

    /// The value, or what is missing. `None` inside means that `none` is written.
    pub fn answer(&self) -> Answer<Option<&T>> {
        match &self.state {
            State::Known(value) => Answer::known(Some(value)),
            State::None => Answer::known(None),
            _ => Answer::missing(self.want()),
        }
    }
}

/// Things keyed by name, in the order written.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Named<T> {
    /// The things with their names.
    pub items: Vec<Item<T>>,
}

impl<T> Named<T> {
    /// The things that can be read, with their names.
    pub fn things(&self) -> impl Iterator<Item = (&str, &T)> {
        self.items.iter().filter_map(|item| Some((item.name.as_str(), item.state.known()?)))
    }

    /// The thing with this name, if it can be read.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&T> {
        self.item(name)?.state.known()
    }

    /// What stands under this name.
    #[must_use]
    pub fn item(&self, name: &str) -> Option<&Item<T>> {
        self.items.iter().find(|item| item.name == name)
    }
}

/// Members in the order written.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ListOf<T> {
    /// The members.
    pub items: Vec<Item<T>>,
}

impl<T> ListOf<T> {
    /// The members that can be read.
    pub fn members(&self) -> impl Iterator<Item = &T> {
        self.items.iter().filter_map(|item| item.state.known())
    }

    /// All members, or what is missing of them. A member `none` is left out.
    pub fn all(&self) -> Answer<Vec<&T>> {
        Answer::all(self.items.iter().map(Item::answer)).map(|found| found.into_iter().flatten().collect())
    }
}

/// Members in the order written, or a single one without brackets.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct OneOrList<T>(pub ListOf<T>);
