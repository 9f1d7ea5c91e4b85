//! What everything else stands on. Knows no radon and does no input or output.

pub mod digest;
pub mod hands;
pub mod near;
pub mod number;
pub mod problem;
pub mod text;
pub mod time;
pub mod truth;
pub mod value;
pub mod vocabulary;
