//! Gas in the ground: what the fill lets through, and how far a pit pulls in a layer that leaks.

pub mod assumed;
pub mod bessel;
pub mod ground;
pub mod hollow;
pub mod radial;
