//! What people are told, as plain data.
