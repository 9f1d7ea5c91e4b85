//! What cannot be as it is written: the shape in which each subject hands it over.

use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::Sources;
use crate::base::value::{Answer, Missing, Reason};

use super::told;

/// Something that cannot be as it is written.
#[derive(Clone, Debug)]
pub(in crate::facts) struct Impossible {
    /// What is wrong, as a sentence without its full stop.
    pub(super) what: String,
    /// What to do, as a sentence without its full stop.
    pub(super) todo: String,
    /// The entries that do not go together, the one to look at first, each with what it says there.
    pub(super) places: Vec<(Missing, String)>,
}

impl Impossible {
    /// Something that cannot be, with what to do about it.
    pub(in crate::facts) fn new(what: impl Into<String>, todo: impl Into<String>) -> Self {
        Impossible { what: what.into(), todo: todo.into(), places: Vec::new() }
    }

    /// Points to an entry that has a part in it.
    pub(in crate::facts) fn at(mut self, want: Missing, says: impl Into<String>) -> Self {
        self.places.push((want, says.into()));
        self
    }

    /// The answer to whatever turns on it: not known until it is settled.
    pub(in crate::facts) fn unknown<T>(&self) -> Answer<T> {
        Answer::Unknown(self.doubts())
    }

    /// The entries that are in doubt because of it.
    pub(in crate::facts) fn doubts(&self) -> Vec<Missing> {
        let against =
            |(want, _): &(Missing, String)| Missing { reason: Reason::Contradiction, ..want.clone() };
        self.places.iter().map(against).collect()
    }

    /// It as a problem, with the lines of all its places.
    pub(super) fn problem(&self, sources: &Sources) -> Option<Problem> {
        let places: Vec<_> =
            self.places.iter().filter_map(|(want, says)| want.at.map(|at| (at, says.clone()))).collect();
        let (first, _) = places.first()?;
        let spans: Vec<_> = places.iter().map(|(at, _)| *at).collect();
        let problem = Problem::new(ProblemKind::CannotBe, *first)
            .found(format!("{} ({})", self.what, told::lines(&spans, sources)))
            .accepts(self.todo.clone());
        Some(places.into_iter().fold(problem, |problem, (at, says)| problem.also(at, says)))
    }
}
