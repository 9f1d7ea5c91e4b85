//! Two reviews, or two books, beside each other: as a page and as a report for machines.

pub mod because;
pub mod books;
pub mod json;
pub mod page;
pub mod record;

pub use page::page;

use crate::findings::compare::account::FindingSaid;
use crate::findings::finding::{Comes, Subject};
use crate::render::phrases;
use crate::render::tell::finding::thing_of;
use crate::review::books::vocabulary;

/// The two sides of a comparison, as they are named to a person.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Sides {
    /// The older: its file, and what it is.
    pub old: SideName,
    /// The newer.
    pub new: SideName,
    /// Whether both were judged here, so that causes could be tried.
    pub tried: bool,
}

/// One side of a comparison, as it is named to a person.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SideName {
    /// The file that was named on the command line.
    pub file: String,
    /// Whether that is a review made before, and not a design judged now.
    pub is_review: bool,
    /// The field notes that lay over it.
    pub notes: Vec<String>,
    /// At which stage it was reviewed.
    pub stage: String,
    /// For which day.
    pub day: Option<String>,
    /// What was asked of it and could not be done, such as entries that could not be read.
    pub outcome: String,
}

/// What a finding asks for, and of what: `"Discharge kept clear of openings that open": bath window`.
#[must_use]
pub fn headline(finding: &FindingSaid) -> String {
    let of = match finding.scope.as_str() {
        "thing" => Subject::Thing { kind: finding.kind.clone(), name: finding.name.clone() },
        "list" => Subject::List { kind: finding.kind.clone() },
        _ => Subject::Whole,
    };
    let thing = thing_of(&of, vocabulary());
    let of = if thing.is_empty() { String::new() } else { format!(": {thing}") };
    format!("\"{}\"{of}", finding.title)
}

/// What something came to, said of one that may not have been there.
fn comes(comes: Option<Comes>) -> &'static str {
    comes.map_or("not asked", phrases::comes)
}

/// How something turned: `was met, is unmet`.
fn turned(was: Option<Comes>, is: Option<Comes>) -> String {
    format!("was {}, is {}", comes(was), comes(is))
}

/// What was and what is, of a text that may not have been there.
fn was_is(was: Option<&str>, is: Option<&str>) -> String {
    let bare = |text: &'_ str| text.trim_end_matches('.').to_owned();
    match (was.map(bare), is.map(bare)) {
        (Some(was), Some(is)) => format!("was {was}, is {is}"),
        (None, Some(is)) => format!("new: {is}"),
        (Some(was), None) => format!("was {was}, is gone"),
        (None, None) => String::new(),
    }
}
