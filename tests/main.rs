//! One binary for all integration tests.
