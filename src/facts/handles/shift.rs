//! What has to be written otherwise for a thing to stand elsewhere.
//!
//! A design file may say one place in many ways: by coordinates, by heights, by how far the last run of pipe goes, by
//! tapes drawn to it and from it. Whoever moves a thing has to move all of these together, or the file contradicts
//! itself. What stands where it stands - windows, grade, the neighbour's house - is never moved: where it is taped from
//! a discharge that moves, the tape is worked out anew.

use crate::base::number::Ratio;
use crate::base::value::EntryPath;
use crate::yaml::path::Path;

/// One entry written otherwise.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Change {
    /// This entry has this value, whether it was there or not.
    Set {
        /// The entry.
        entry: Path,
        /// Its value, as a person would write it.
        to: String,
    },
    /// This entry is taken away: what it says is not so any more, and what is so cannot be told.
    Remove {
        /// The entry.
        entry: Path,
    },
}

impl Change {
    /// The entry.
    #[must_use]
    pub fn entry(&self) -> &Path {
        match self {
            Change::Set { entry, .. } | Change::Remove { entry } => entry,
        }
    }
}

/// By how much something moves along each axis.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Shift {
    /// To the east, as the plan is drawn.
    pub east: Ratio,
    /// To the north.
    pub north: Ratio,
    /// Up.
    pub up: Ratio,
}

impl Shift {
    /// Straight up, or down where it is negative.
    #[must_use]
    pub fn up(by: Ratio) -> Self {
        Shift { up: by, ..Shift::default() }
    }

    /// Level.
    #[must_use]
    pub fn level(east: Ratio, north: Ratio) -> Self {
        Shift { east, north, up: Ratio::ZERO }
    }

    /// The square of how far it is.
    #[must_use]
    pub fn squared(&self) -> Ratio {
        self.level_squared() + self.up.squared()
    }

    /// The square of how far it is as seen from above.
    #[must_use]
    pub fn level_squared(&self) -> Ratio {
        self.east.squared() + self.north.squared()
    }

    /// Whether it is no move at all.
    #[must_use]
    pub fn is_nothing(&self) -> bool {
        self.squared().is_zero()
    }
}

/// Why a thing cannot be moved by writing other numbers.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Stuck {
    /// This entry cannot be read.
    Unreadable(EntryPath),
    /// This entry was measured; what was measured is not changed, it is measured again.
    Measured(EntryPath),
    /// This run leads there and would have to be laid otherwise.
    Pipe(EntryPath),
    /// By this entry it would come to stand past what it is measured from.
    Past(EntryPath),
    /// Nothing in the file says where it is.
    NotStated(EntryPath),
}

impl Stuck {
    /// The entry in the way.
    #[must_use]
    pub fn entry(&self) -> &EntryPath {
        match self {
            Stuck::Unreadable(entry)
            | Stuck::Measured(entry)
            | Stuck::Pipe(entry)
            | Stuck::Past(entry)
            | Stuck::NotStated(entry) => entry,
        }
    }
}
