//! Books of rules: read, checked against a vocabulary, and kept. Knows no radon; the vocabulary is data.

pub mod checked;
pub mod expr;
