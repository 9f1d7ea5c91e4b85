//! Exact ratios of whole numbers.

/// An exact ratio in lowest terms.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Ratio(num_rational::BigRational);
