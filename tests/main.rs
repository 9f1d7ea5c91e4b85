//! One binary for all integration tests.
mod architecture;
mod geometry_values;
mod rulebooks;
