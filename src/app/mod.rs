//! The use-cases, one per command, written once; and the outside world they run in.

pub mod host;
pub mod status;
pub mod keys;
pub mod library;
pub mod out;
pub mod designs;
pub mod drawings;
pub mod submittal;
pub mod review;
pub mod clause;
pub mod rulebook_compare;
pub mod compare;
pub mod rulebook_list;
pub mod rulebook_page;
pub mod rulebook_words;
pub mod rulebook_prove;
pub mod rulebook_export;
pub mod rulebook_amend;
pub mod record;
pub mod site_visit;
pub mod worksheet;
pub mod takeoff;
pub mod walkthrough;
pub mod correct;

pub use status::Status;

/// What comes out.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Form {
    /// Words for people.
    Text,
    /// A report for machines.
    Json,
}
