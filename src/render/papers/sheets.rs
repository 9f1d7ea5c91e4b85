//! A sheet of drawings as a paper, with what it shows in words.

use super::report::{made_of, running};
use super::{Item, Paper, Part, anchor};
use crate::drawing::Sheet;
use crate::findings::compare::account::Program;
use crate::render::tell::told::Weighs;
use crate::render::tell::whole::IS_NOT;
use crate::review::Review;

/// The sheet as a paper.
#[must_use]
pub fn sheet(review: &Review<'_>, program: &Program, sheet: Sheet) -> Paper {
    let title = sheet.title.clone();
    let heading = |depth, words: &str| Part::Heading(depth, words.to_owned(), anchor("part", words));
    let mut words = vec![heading(2, "What it shows, in words")];
    for part in sheet.twin.iter().filter(|part| !part.lines.is_empty()) {
        words.push(heading(3, &part.title));
        let item = |line: &String| Item { weighs: Weighs::Silent, words: line.clone(), leads: Vec::new() };
        words.push(Part::List(part.lines.iter().map(item).collect()));
    }
    let mut parts = vec![Part::Drawing("sheet".to_owned(), Box::new(sheet))];
    parts.extend(words);
    parts.push(heading(2, "What this page is not"));
    parts.push(Part::Words(IS_NOT.to_owned()));
    Paper {
        title,
        about: Vec::new(),
        parts,
        foot: made_of(review, program),
        running: running(review, program),
        quoted: Vec::new(),
    }
}
