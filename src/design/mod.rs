//! The typed design: every section of the file, every entry with its place.

pub mod model;
pub mod check;
pub mod read;

pub use read::{Design, design_schema_text, read, read_shop, shop_schema_text};
