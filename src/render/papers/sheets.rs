//! Sheets of drawings as a paper, with what they show in words.

use super::report::{made_of, running};
use super::{Item, Paper, Part, anchor};
use crate::drawing::Sheet;
use crate::findings::compare::account::Program;
use crate::render::tell::told::Weighs;
use crate::render::tell::whole::IS_NOT;
use crate::review::Review;

/// Sheets, each under its name, as a paper: the drawings first, then each in words.
#[must_use]
pub fn sheets(review: &Review<'_>, program: &Program, sheets: Vec<(String, Sheet)>) -> Paper {
    let title = match sheets.as_slice() {
        [(_, only)] => only.title.clone(),
        _ => format!("Drawings: {}", review.job.title.as_deref().unwrap_or("No title")),
    };
    let heading = |depth, words: &str| Part::Heading(depth, words.to_owned(), anchor("part", words));
    let several = sheets.len() > 1;
    let mut words = Vec::new();
    for (name, sheet) in &sheets {
        let under = |words: &str| Part::Heading(3, words.to_owned(), anchor(name, words));
        words.push(match several {
            true => heading(2, &format!("What the {name} shows, in words")),
            false => heading(2, "What it shows, in words"),
        });
        for part in sheet.twin.iter().filter(|part| !part.lines.is_empty()) {
            words.push(under(&part.title));
            let item =
                |line: &String| Item { weighs: Weighs::Silent, words: line.clone(), leads: Vec::new() };
            words.push(Part::List(part.lines.iter().map(item).collect()));
        }
    }
    let mut parts: Vec<Part> =
        sheets.into_iter().map(|(name, sheet)| Part::Drawing(name, Box::new(sheet))).collect();
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
