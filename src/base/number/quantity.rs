//! A number with its unit, as somebody wrote it.

use super::{Dimension, Number};

/// A number with what it is a number of and the way it was written.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Quantity {
    /// The number, in SI base units.
    pub number: Number,
    /// What it is a number of.
    pub dimension: Dimension,
}
