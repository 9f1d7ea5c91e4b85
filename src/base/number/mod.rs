//! Numbers that decide, and how the trade writes them.
//!
//! Whatever a person declares is kept exactly. A distance keeps its exact square. Whatever is computed
//! is a range that surely holds the true value. No number here is ever infinite or not a number.

pub mod dimension;
pub mod quantity;
pub mod ratio;

pub use dimension::Dimension;
pub use quantity::Quantity;
pub use ratio::Ratio;

/// A number in SI base units times a dimension that is known beside it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Number {
    /// This, to the last digit.
    Exact(Ratio),
    /// The square root of this; never of a negative.
    Root(Ratio),
    /// Something between the two, ends included.
    Range(Ratio, Ratio),
}

/// How two numbers are compared.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Comparison {
    /// `=`
    Equal,
    /// `<`
    Less,
    /// `<=`
    AtMost,
    /// `>`
    More,
    /// `>=`
    AtLeast,
}
