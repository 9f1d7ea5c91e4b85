//! Pure engineering: typed quantities in, typed quantities or a typed error out.
//!
//! Amounts come first; then gas and what carries it, from air to the network of pipes; then what goes with it: water, the
//! house, current, radon, what to buy. Geometry stands by itself.

pub mod amounts;
mod linear;
pub mod air;
pub mod section;
pub mod friction;
pub mod fittings;
pub mod valves;
pub mod fan_curve;
pub mod suction_law;
pub mod network;
pub mod water;
pub mod house;
pub mod energy;
pub mod electrical;
pub mod radon_decay;
pub mod takeoff;
pub mod soil;
pub mod holes;
pub mod pipe_sizes;
pub mod geometry;
pub mod field;
pub mod radon;
