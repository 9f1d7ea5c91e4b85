//! What was found and built otherwise than designed: both values, and which requirements asked for it.

use crate::base::text::Span;
use crate::base::value::EntryPath;
use crate::yaml::entry::Stands;

/// What one file says of an entry.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Saying {
    /// Whether it is the design that says so, and not field notes.
    pub designed: bool,
    /// Which of the five things stands there.
    pub stands: Stands,
    /// What stands there, in the writer's words.
    pub words: String,
    /// Where it stands.
    pub at: Span,
    /// Who says so, as far as it is stated.
    pub by: Option<String>,
    /// Of which day it is, as far as it is stated.
    pub on: Option<String>,
}

/// How what was built departs from the design.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Departs {
    /// It was built, but otherwise.
    Otherwise,
    /// It was not built, or is not there.
    NotThere,
    /// It is there, and the design does not have it.
    NotDesigned,
    /// On site nobody could tell.
    NotTold,
    /// What the design says gives way to another statement of the same thing.
    SaidAnew,
}

/// An entry of which design and field notes do not say the same.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Departure {
    /// What it is known by, in this review and the next. It holds no value and no line.
    pub identity: String,
    /// The entry.
    pub entry: EntryPath,
    /// What was said of it, the earliest first; the last counts.
    pub said: Vec<Saying>,
    /// The identities of the findings whose requirements asked for it.
    pub asked_by: Vec<String>,
}

impl Departure {
    /// The departure of this entry.
    #[must_use]
    pub fn of(entry: EntryPath, said: Vec<Saying>) -> Self {
        Departure { identity: format!("built as designed: {entry}"), entry, said, asked_by: Vec::new() }
    }

    /// How what was built departs from the design.
    #[must_use]
    pub fn departs(&self) -> Departs {
        match self.said.as_slice() {
            [only] if only.designed => Departs::SaidAnew,
            [only] if only.stands == Stands::Known => Departs::NotDesigned,
            said => match said.last().map(|last| last.stands) {
                Some(Stands::Known) => Departs::Otherwise,
                Some(Stands::None) => Departs::NotThere,
                _ => Departs::NotTold,
            },
        }
    }

    /// Whether it is told as a finding of its own: a requirement asked for it, or it is a thing that is there and was
    /// not designed, or was designed and is not there. All others are listed.
    #[must_use]
    pub fn is_told(&self) -> bool {
        !self.asked_by.is_empty() || matches!(self.departs(), Departs::NotDesigned | Departs::NotThere)
    }

    /// Notes that a finding rests on an entry, if it is this one or lies in it.
    pub fn note(&mut self, finding: &str, entry: &EntryPath) {
        let rest = entry.as_str().strip_prefix(self.entry.as_str());
        let lies_in = rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']));
        if lies_in && !self.asked_by.iter().any(|own| own == finding) {
            self.asked_by.push(finding.to_owned());
        }
    }
}
