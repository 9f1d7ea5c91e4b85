//! The lines of a file that decided, whole, with the marked parts told from the rest.

use crate::base::text::{Source, Sources};
use crate::render::terminal::excerpt::Mark;
use crate::render::visible::{cut, one_line};

/// A line that is longer than this was not written by hand; of one, only the marked parts are shown.
const LONGEST: usize = 400;

/// A line, or what is shown of it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Shown {
    /// The file.
    pub file: String,
    /// The line, from one.
    pub line: u32,
    /// What stands there, in pieces, each with whether it is marked.
    pub pieces: Vec<(String, bool)>,
    /// What is said to the marks.
    pub notes: Vec<String>,
}

/// The lines of these marks, in the order of files and lines.
#[must_use]
pub fn lines(sources: &Sources, marks: &[Mark]) -> Vec<Shown> {
    let mut marks: Vec<&Mark> = marks.iter().collect();
    marks.sort_by(|a, b| (a.at, &a.words).cmp(&(b.at, &b.words)));
    marks.dedup();
    let line_of = |mark: &&Mark| {
        let source = sources.get(mark.at.source)?;
        Some((mark.at.source, source.line(mark.at.start)))
    };
    marks
        .chunk_by(|a, b| line_of(a) == line_of(b))
        .filter_map(|group| {
            let first = group.first()?;
            let (_, line) = line_of(first)?;
            Some(shown(sources.get(first.at.source)?, line, group))
        })
        .collect()
}

fn shown(source: &Source, line: u32, marks: &[&Mark]) -> Shown {
    let range = source.line_range(line.saturating_sub(1) as usize).unwrap_or(0..0);
    let text = source.text();
    let mut cuts: Vec<(usize, usize)> = Vec::new();
    for mark in marks {
        let start = (mark.at.start as usize).clamp(range.start, range.end);
        let end = (mark.at.end as usize).clamp(start, range.end);
        match cuts.last_mut() {
            Some(last) if start < last.1 => last.1 = last.1.max(end),
            _ => cuts.push((start, end)),
        }
    }
    let whole = range.len() <= LONGEST;
    let piece = |from: usize, to: usize| one_line(text.get(from..to).unwrap_or("")).into_owned();
    let mut pieces = Vec::new();
    let mut at = range.start;
    for (start, end) in &cuts {
        if whole {
            pieces.push((piece(at, *start), false));
        } else {
            pieces.push((" ... ".to_owned(), false));
        }
        pieces.push((cut(&piece(*start, *end), LONGEST), true));
        at = *end;
    }
    pieces.push(if whole { (piece(at, range.end), false) } else { (" ...".to_owned(), false) });
    if let Some((text, _)) = pieces.first_mut() {
        *text = text.trim_start().to_owned();
    }
    pieces.retain(|(text, _)| !text.is_empty());
    let mut notes: Vec<String> = Vec::new();
    for mark in marks {
        let said = one_line(&mark.words).into_owned();
        if !said.is_empty() && !notes.contains(&said) {
            notes.push(said);
        }
    }
    Shown { file: one_line(source.name()).into_owned(), line, pieces, notes }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::text::Span;

    #[test]
    fn marked_parts_of_a_line_are_told_from_the_rest() {
        let mut sources = Sources::new();
        let id = sources.add("bed.yaml", "bed:\n  length: 4 ft  # by the path\n");
        let mark = |start, end, words: &str| Mark { at: Span::new(id, start, end), words: words.to_owned() };
        let found =
            lines(&sources, &[mark(15, 19, "too short"), mark(7, 13, "its length"), mark(15, 19, "again")]);
        let piece = |text: &str, marked| (text.to_owned(), marked);
        assert_eq!(
            found,
            [Shown {
                file: "bed.yaml".to_owned(),
                line: 2,
                pieces: vec![
                    piece("length", true),
                    piece(": ", false),
                    piece("4 ft", true),
                    piece("  # by the path", false)
                ],
                notes: vec!["its length".to_owned(), "again".to_owned(), "too short".to_owned()],
            }]
        );
    }
}
