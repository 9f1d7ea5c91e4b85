//! The small language in which a rule says what it asks for.

pub mod typed;
