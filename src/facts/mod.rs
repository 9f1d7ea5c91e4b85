//! Facts worked out from a design, on demand, and remembered.
