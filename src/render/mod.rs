//! A review turned into bytes: words on a terminal, or a machine-readable report.

pub mod terminal;
pub mod visible;
pub mod words;
