//! Reading YAML without losing anything: every key and value keeps its place. Knows no radon.

pub mod entry;
pub mod tree;
