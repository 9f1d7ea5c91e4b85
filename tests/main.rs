//! One binary for all integration tests.
mod design_file;
mod architecture;
mod geometry_values;
mod rulebooks;
mod reading;
mod splicing;
