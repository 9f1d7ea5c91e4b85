//! The page on a file of which nothing can be said: why, and what to do, and nothing else.

use super::Look;
use super::excerpt::{Mark, excerpt};
use super::problems::place;
use super::sheet::{Sheet, Tone};
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::{Source, Sources};
use crate::render::{visible, words};

/// The page, which ends with what was not done.
#[must_use]
pub fn refused(
    problem: &Problem,
    sources: &Sources,
    home: Option<&Source>,
    look: &Look,
    not_done: &str,
) -> String {
    let said = words::of(problem);
    let mut sheet = Sheet::new(look);
    sheet.paragraph(0, &said.what, Tone::Unmet);
    // Of what is no text there is no line to show.
    let has_lines = matches!(problem.kind, ProblemKind::SeveralDocuments | ProblemKind::UnknownVersion);
    let starts = problem.at.is_empty() || problem.kind == ProblemKind::Empty;
    let name = sources.get(problem.at.source).map_or("", Source::name);
    sheet.row("where", &if starts { visible::one_line(name).into_owned() } else { place(sources, problem) });
    if has_lines {
        let mut marks = vec![Mark { at: problem.at, words: "here".to_owned() }];
        marks.extend(problem.also.iter().map(|(at, what)| Mark { at: *at, words: what.clone() }));
        let drawn = excerpt(sources, home, &marks, look);
        sheet.raw(&drawn);
    }
    sheet.row("why", &said.why);
    sheet.row("to mend", &said.todo);
    sheet.paragraph(0, not_done, Tone::Ink);
    sheet.finish()
}
