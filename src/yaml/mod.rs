//! Reading YAML without losing anything: every key and value keeps its place. Knows no radon.

pub mod tree;
mod events;
pub mod noted;
mod fault;
mod build;
mod odd_line;
pub mod scan;
mod seems;
pub mod path;
mod explain;
pub mod validate;
pub mod schema;
mod layout;
pub mod edits;
pub mod compare;
pub mod splice;
pub mod draft;
pub mod entry;
pub mod lay;
pub mod name;
pub mod time;
pub mod words;
pub mod record;
pub mod measure;
pub mod shape;
