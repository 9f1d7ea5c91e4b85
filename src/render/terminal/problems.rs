//! Problems with a file, on the page: what is wrong, where, why it matters, what to do.

use super::excerpt::{Mark, excerpt};
use super::sheet::{Sheet, Tone};
use crate::base::problem::{Problem, Weight};
use crate::base::text::{Source, Sources};
use crate::render::{visible, words};

/// One problem with its place.
pub fn problem(sheet: &mut Sheet<'_>, sources: &Sources, home: Option<&Source>, problem: &Problem) {
    let said = words::of(problem);
    let tone = match problem.kind.weight() {
        Weight::Doubt => Tone::Open,
        Weight::Entry | Weight::Whole => Tone::Unmet,
    };
    sheet.blank();
    sheet.paragraph(0, &said.what, tone);
    let mut marks = Vec::new();
    if problem.also.iter().all(|(at, _)| *at != problem.at) {
        marks.push(Mark { at: problem.at, words: mark_words(problem) });
    }
    marks.extend(problem.also.iter().map(|(at, what)| Mark { at: *at, words: what.clone() }));
    let drawn = excerpt(sources, home, &marks, sheet.look());
    // The lines that are shown say where it is.
    if drawn.is_empty() {
        sheet.row("where", &place(sources, problem));
    }
    sheet.raw(&drawn);
    sheet.row("why", &said.why);
    sheet.row("to mend", &said.todo);
}

/// The file and line of a problem, as one says it.
#[must_use]
pub fn place(sources: &Sources, problem: &Problem) -> String {
    match sources.get(problem.at.source) {
        Some(source) => {
            let at = source.line_column(problem.at.start);
            format!("{}, line {}", visible::one_line(source.name()), at.line)
        }
        None => "no file".to_owned(),
    }
}

fn mark_words(problem: &Problem) -> String {
    match problem.kind.weight() {
        Weight::Doubt => "look at this".to_owned(),
        Weight::Entry | Weight::Whole => "here".to_owned(),
    }
}
