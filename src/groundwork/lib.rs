//! The two lowest layers as a package of their own, so that they run at full speed where the rest of the program is
//! compiled quickly: numbers and reading are most of what the tests do.
//!
//! The files stand where all layers stand. The library shows them under their own names, and its unit tests take them
//! in as modules like any other, so that theirs are among them.

#[path = "../base/mod.rs"]
pub mod base;
#[path = "../yaml/mod.rs"]
pub mod yaml;
