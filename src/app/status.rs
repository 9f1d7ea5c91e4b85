//! With which status the program leaves.

/// With which status the program leaves. Of several, the first in this order that holds.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Status {
    /// A file, an entry or a rulebook could not be read, or the command line not be understood.
    CouldNotRead,
    /// Something that has to be is unmet.
    Unmet,
    /// Something that has to be cannot be told yet, or no requirement was judged.
    Undetermined,
    /// All that has to be is met, as far as it was asked.
    Fine,
}

impl Status {
    /// The number a shell sees.
    #[must_use]
    pub fn code(self) -> u8 {
        match self {
            Status::Fine => 0,
            Status::Unmet => 1,
            Status::CouldNotRead => 2,
            Status::Undetermined => 3,
        }
    }

    /// The one of two that counts.
    #[must_use]
    pub fn worst(self, other: Status) -> Status {
        self.min(other)
    }
}
