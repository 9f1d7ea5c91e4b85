//! One binary for all integration tests.
mod architecture;
