//! What everything else stands on. Knows no radon and does no input or output.

pub mod near;
pub mod digest;
pub mod number;
pub mod problem;
pub mod text;
pub mod truth;
pub mod value;
pub mod vocabulary;
