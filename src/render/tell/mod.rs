//! From a review to words.

pub mod told;
pub mod numbers;
pub mod finding;
pub mod departures;
pub mod whole;

pub use told::Told;
pub use whole::tell;
