//! A paper as PDF: drawings as lines to scale on pages of their own, a list of what is where, parts that a screen reader
//! finds its way by (the library holds what is written to PDF/UA-1), and the same bytes whenever it is written.

mod face;
mod findings;
mod flow;
mod forms;
mod ink;
mod lines;
mod marks;
mod parts;
mod tables;
mod tree;

use super::papers::Paper;
use crate::drawing::Paper as Size;

/// That a paper could not be written, and why in the words of the library that writes it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct NotWritten(pub String);

/// The paper on sheets of this size.
///
/// # Errors
/// When the library that writes it refuses: no paper is known with which it does.
pub fn write(paper: &Paper, size: Size) -> Result<Vec<u8>, NotWritten> {
    let Some(faces) = face::Faces::read() else {
        return Err(NotWritten("the typeface could not be read".to_owned()));
    };
    let told = parts::told(&faces, paper, size);
    let leaves = flow::laid(told.pieces, &told.heads, size);
    ink::written(&faces, paper, size, &leaves, told.tree)
}
