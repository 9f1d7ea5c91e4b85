//! What stands under one key: one of five things, never guessed.

use crate::base::text::Span;
use crate::base::value::{Answer, EntryPath, Missing, Reason};

/// Where a record stands and what its path is.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Here {
    /// Its place in the text.
    pub at: Span,
    /// Its path from the top of the file.
    pub path: EntryPath,
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

/// One entry of a record.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Entry<T> {
    /// The key, as written in a file.
    pub key: &'static str,
    /// What stands under it.
    pub state: State<T>,
    /// The place of the value; of the record when the key is missing.
    pub at: Span,
}

impl<T> Entry<T> {
    /// An entry whose key is not there.
    #[must_use]
    pub fn missing(key: &'static str, of: Span) -> Self {
        Entry { key, state: State::Missing, at: of }
    }

    /// The value, if it is known.
    #[must_use]
    pub fn known(&self) -> Option<&T> {
        match &self.state {
            State::Known(value) => Some(value),
            _ => None,
        }
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

    /// What would have to be stated to know it.
    #[must_use]
    pub fn want(&self, of: &Here) -> Missing {
        let reason = match self.state {
            State::Unknown => Reason::StatedUnknown,
            State::Unreadable => Reason::Unreadable,
            _ => Reason::NotStated,
        };
        Missing { entry: of.path.key(self.key), reason, at: Some(self.at) }
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
