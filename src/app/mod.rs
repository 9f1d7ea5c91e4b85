//! The use-cases, one per command, written once; and the outside world they run in.

pub mod host;
