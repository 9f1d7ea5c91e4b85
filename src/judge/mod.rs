//! Rules held against anything that answers the vocabulary. Knows no radon.

pub mod verdict;
