//! The typed design: every section of the file, every entry with its place.

pub mod model;
pub mod designed;
pub mod check;
pub mod keys;
pub mod long;
pub mod said;
pub mod read;
pub mod overlay;
pub mod notes;
pub mod things;

pub use read::{
    Design, design_schema_text, field_notes_schema_text, read, read_built, read_shop, shop_schema_text,
};
