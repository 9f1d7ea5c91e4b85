//! The small language in which a rule says what it asks for.
//!
//! A text becomes pieces (`lexer`), a form (`ast`, by `parse`), and a meaning (`typed`, by `check`).
//! `rules/language.md` is the page for those who write rules.

pub mod typed;
pub mod source_map;
mod lexer;
pub mod ast;
pub mod parse;
mod names;
pub mod check;

pub use lexer::RESERVED;
pub(super) use names::{described, described_number, quoted};
