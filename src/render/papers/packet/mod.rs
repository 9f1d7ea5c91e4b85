//! What is handed in with a job, or left with the people of the house: a packet of papers made of one review.

mod books;
mod clauses;
mod cover;
mod order;
mod owner;
mod permit;
mod scope;
mod vouched;

pub use owner::owner;
pub use permit::permit;

use super::{Item, Part, anchor};
use crate::drawing::Sheet;
use crate::findings::compare::account::Program;
use crate::render::tell::told::Weighs;
use crate::review::Review;
use crate::review::takeoff::Counted;
use crate::review::worksheet::Worksheet;
use crate::yaml::entry::Entry;
use crate::yaml::name::Text;

/// What a packet is made of.
#[derive(Debug)]
pub struct Made<'a> {
    /// The review, every clause explained.
    pub review: &'a Review<'a>,
    /// What was worked out.
    pub worksheet: &'a Worksheet,
    /// What it takes.
    pub counted: &'a Counted,
    /// The drawings, each under its name.
    pub drawings: Vec<(String, Sheet)>,
    /// The program.
    pub program: Program,
}

/// The parts of a packet as they are put one behind another.
#[derive(Default)]
struct Parts(Vec<Part>);

impl Parts {
    fn heading(&mut self, words: &str) {
        self.0.push(Part::Heading(2, words.to_owned(), anchor("part", words)));
    }

    fn under(&mut self, words: &str, front: &str) {
        self.0.push(Part::Heading(3, words.to_owned(), anchor(front, words)));
    }

    fn words(&mut self, words: impl Into<String>) {
        self.0.push(Part::Words(words.into()));
    }

    fn list(&mut self, lines: impl IntoIterator<Item = String>) {
        let item = |words: String| Item { weighs: Weighs::Silent, words, leads: Vec::new() };
        let items: Vec<Item> = lines.into_iter().map(item).collect();
        if !items.is_empty() {
            self.0.push(Part::List(items));
        }
    }

    fn new_sheet(&mut self) {
        self.0.push(Part::NewSheet);
    }
}

/// A text of the design, if it is stated.
pub(super) fn text(entry: &Entry<Text>) -> Option<String> {
    entry.known().map(|text| text.0.clone())
}
