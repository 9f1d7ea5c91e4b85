//! Undercroft reads a plain design of a soil-gas mitigation system and says, for every requirement of the
//! rulebooks it names, whether it is met.
//!
//! The modules below stand in reading order: each uses only those above it.

#[cfg(not(test))]
#[doc(inline)]
pub use undercroft_groundwork::{base, yaml};
#[cfg(test)]
pub mod base;
#[cfg(test)]
pub mod yaml;
pub mod calc;
pub mod design;
pub mod facts;
pub mod takeoff;
pub mod rulebook;
pub mod judge;
pub mod findings;
pub mod review;
pub mod correct;
pub mod drawing;
pub mod labels;
pub mod render;
pub mod app;
pub mod cli;

/// A review is made of many small pieces of text and lists; a fifth of its time goes when these are handed out by the
/// platform's own allocator.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;
