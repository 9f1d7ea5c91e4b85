//! From a review to words.

pub mod told;
pub mod numbers;
pub mod spot;
pub mod entry_words;
mod decided;
pub mod finding;
pub mod departures;
pub mod looked;
pub mod wanted;
pub mod first;
pub mod variances;
pub mod whole;

pub use told::Told;
pub use whole::tell;
