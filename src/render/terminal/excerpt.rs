//! The lines of a file that decided, with a mark under each value and words to the mark.
//!
//! Drawn through miette, from a source of our own that holds only the lines that are shown: cut to the
//! width, with everything that could act on a screen made visible, and under their own line numbers.

use std::collections::BTreeSet;

use miette::{
    Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, MietteError, MietteSpanContents,
    SourceCode, SourceSpan, SpanContents, ThemeCharacters, ThemeStyles,
};
use unicode_width::UnicodeWidthStr;

use super::Look;
use super::sheet::wrap;
use crate::base::text::{Source, Sources, Span};
use crate::render::visible::{self, columns};

/// A place in a file, and what is said to it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Mark {
    /// The place.
    pub at: Span,
    /// The words.
    pub words: String,
}

/// More marks than this are not drawn for one finding.
const MOST_MARKS: usize = 8;

/// A line that is longer than this was not written by hand; in the plain form no more of it is read out.
const MOST_NARRATED: usize = 1_000;

/// The lines that hold the marks, drawn; in the plain form, one sentence to each mark.
/// Lines of another text than `home` are headed with its name.
#[must_use]
pub fn excerpt(sources: &Sources, home: Option<&Source>, marks: &[Mark], look: &Look) -> String {
    let mut marks: Vec<&Mark> = marks.iter().collect();
    marks.sort_by(|a, b| (a.at, &a.words).cmp(&(b.at, &b.words)));
    marks.dedup();
    let left_out = marks.split_off(marks.len().min(MOST_MARKS));
    let mut out = String::new();
    for group in marks.chunk_by(|a, b| a.at.source == b.at.source) {
        let Some(source) = group.first().and_then(|mark| sources.get(mark.at.source)) else { continue };
        let elsewhere = home.is_none_or(|home| home.name() != source.name());
        if look.plain {
            narrate(&mut out, source, elsewhere, group, look);
        } else {
            if elsewhere {
                let name = visible::one_line(source.name());
                let line = group.first().map_or(1, |mark| source.line_column(mark.at.start).line);
                let room = look.width.saturating_sub(2);
                for part in wrap(&format!("in {name}, line {line}"), room, room) {
                    out.push_str(&format!("  {part}\n"));
                }
            }
            out.push_str(&draw(source, group, look));
        }
    }
    let line_of =
        |mark: &&Mark| Some((mark.at.source, sources.get(mark.at.source)?.line_column(mark.at.start).line));
    let shown: BTreeSet<_> = marks.iter().filter_map(line_of).collect();
    let lines: BTreeSet<_> =
        left_out.iter().filter_map(line_of).filter(|line| !shown.contains(line)).collect();
    if !lines.is_empty() {
        let lines: Vec<String> = lines.iter().map(|(_, line)| line.to_string()).collect();
        let (indent, word) = if look.plain { ("", "Also") } else { ("  ", "also") };
        let noun = if lines.len() == 1 { "line" } else { "lines" };
        let said = format!("{word} {noun} {}", lines.join(", "));
        let room = look.width.saturating_sub(indent.len());
        for line in wrap(&said, room, room) {
            out.push_str(&format!("{indent}{line}\n"));
        }
    }
    out
}

/// One sentence to each place, with all that is said to it.
fn narrate(out: &mut String, source: &Source, elsewhere: bool, marks: &[&Mark], look: &Look) {
    let place = |mark: &Mark| {
        let (start, end) = first_line_of(source, mark.at);
        (with_its_key(source, start), end)
    };
    for group in marks.chunk_by(|a, b| place(a) == place(b)) {
        let Some(first) = group.first() else { continue };
        let (start, end) = place(first);
        let text = source.text().get(start..end).unwrap_or("");
        let shown = visible::cut(&visible::one_line(text.trim()), MOST_NARRATED);
        let file =
            if elsewhere { format!(" of {}", visible::one_line(source.name())) } else { String::new() };
        let mut said = format!("Line {}{file}", source.line_column(first.at.start).line);
        if !shown.is_empty() {
            said.push_str(&format!(", where it says \"{shown}\""));
        }
        let mut words: Vec<&str> = Vec::new();
        for mark in group {
            if !mark.words.is_empty() && !words.contains(&mark.words.as_str()) {
                words.push(&mark.words);
            }
        }
        if !words.is_empty() {
            said.push_str(&format!(": {}", visible::one_line(&words.join("; "))));
        }
        said.push('.');
        for line in wrap(&said, look.width, look.width) {
            out.push_str(&line);
            out.push('\n');
        }
    }
}

/// Where the key of a value begins that stands before it on the same line; else where the value begins.
fn with_its_key(source: &Source, start: usize) -> usize {
    let row = source.line_column(u32::try_from(start).unwrap_or(u32::MAX)).line.saturating_sub(1) as usize;
    let Some(range) = source.line_range(row) else { return start };
    let Some(before) = source.text().get(range.start..start) else { return start };
    match before.trim_end().strip_suffix(':') {
        Some(key) => range.start + key.rfind(['{', ',', '[', '\t', ' ']).map_or(0, |at| at + 1),
        None => start,
    }
}

/// The part of a stretch that lies on its first line, as bytes of the source; never empty unless the line is.
fn first_line_of(source: &Source, at: Span) -> (usize, usize) {
    let line = source.line_column(at.start).line.saturating_sub(1) as usize;
    let Some(range) = source.line_range(line) else { return (0, 0) };
    let text = source.text();
    let mut start = (at.start as usize).clamp(range.start, range.end);
    let mut end = (at.end as usize).clamp(start, range.end);
    start = text.floor_char_boundary(start);
    end = text.ceil_char_boundary(end);
    if text.get(start..).is_some_and(|rest| rest.starts_with('\u{feff}')) {
        start += '\u{feff}'.len_utf8();
        end = end.max(start);
    }
    if text.get(start..end).is_none_or(|part| part.trim().is_empty()) {
        // Nothing to underline: take the character at the place, or the last of the line.
        let rest = text.get(start..range.end).unwrap_or("");
        match rest.char_indices().find(|(_, c)| !c.is_whitespace()) {
            Some((at, c)) => {
                start += at;
                end = start + c.len_utf8();
            }
            None => {
                let before = text.get(range.start..start).unwrap_or("").trim_end();
                let last = before.chars().next_back().map_or(0, char::len_utf8);
                end = range.start + before.len();
                start = end - last;
            }
        }
    }
    let trimmed = text.get(start..end).map_or(0, |part| part.trim_end().len());
    (start, start + trimmed)
}

/// One line as it is shown.
struct Shown {
    number: usize,
    text: String,
    /// Per mark: where it lies in `text`, in bytes, and what is said to it.
    marks: Vec<(usize, usize, String)>,
}

/// Lays out one line; twice and more, each time with a part of its marks, where they do not fit beside each other.
fn lay_out(source: &Source, line: usize, marks: &[(usize, usize, &str)], room: usize, into: &mut Vec<Shown>) {
    let (shown, fits) = lay_out_once(source, line, marks, room);
    let (some, others) = marks.split_at(marks.len() / 2);
    if fits || some.is_empty() {
        into.push(shown);
    } else {
        lay_out(source, line, some, room, into);
        lay_out(source, line, others, room, into);
    }
}

/// Lays out one line: whole if it fits with the words to its marks, else the parts around the marks; tells whether
/// it fits.
fn lay_out_once(source: &Source, line: usize, marks: &[(usize, usize, &str)], room: usize) -> (Shown, bool) {
    let range = source.line_range(line).unwrap_or(0..0);
    let text = source.text();
    let lead = text.get(range.clone()).map_or(0, |all| {
        let all = all.strip_prefix('\u{feff}').map_or(all, |rest| rest);
        range.len() - all.trim_start().len()
    });
    let from = (range.start + lead).min(range.end);
    // To the left of a mark no more than leaves room for the words under it.
    let to_the_left = |(start, end, words): &(usize, usize, &str)| {
        let mark = text.get(*start..*end).map_or(0, columns);
        room.saturating_sub(5 + mark / 2 + least_room(words, room))
    };
    let parts_with = |reach: usize| -> Vec<(usize, usize)> {
        let mut parts: Vec<(usize, usize)> = Vec::new();
        for mark in marks {
            let (start, end, _) = mark;
            let back = text.get(from..*start).unwrap_or("");
            let far = reach.min(to_the_left(mark));
            let a = back.char_indices().rev().take(far).last().map_or(*start, |(at, _)| from + at);
            let a = begin_with_a_word(text, from, a, *start);
            let on = text.get(*end..range.end).unwrap_or("");
            let b = on.char_indices().nth(reach).map_or(range.end, |(at, _)| end + at);
            let b = end_with_a_word(text, *end, b, range.end);
            match parts.last_mut() {
                Some(last) if a <= last.1 + 3 => last.1 = last.1.max(b),
                _ => parts.push((a, b)),
            }
        }
        parts
    };
    let build = |parts: &[(usize, usize)]| -> Shown {
        let mut shown = Shown { number: line + 1, text: String::new(), marks: Vec::new() };
        let mut ends = vec![None; marks.len()];
        let mut starts = vec![None; marks.len()];
        let mut at_end = from;
        for (a, b) in parts {
            if *a > at_end {
                shown.text.push_str("... ");
            }
            let marked = marks.iter().flat_map(|mark| [mark.0, mark.1]);
            let inside = marked.filter(|at| a < at && at < b && text.is_char_boundary(*at));
            let mut cuts: Vec<usize> = inside.chain([*b]).collect();
            cuts.sort_unstable();
            let mut at = *a;
            for cut in cuts {
                if cut == at {
                    continue;
                }
                for (_, slot) in marks.iter().zip(&mut starts).filter(|(mark, _)| mark.0 == at) {
                    *slot = Some(shown.text.len());
                }
                visible::push_all(&mut shown.text, text.get(at..cut).unwrap_or(""));
                for (_, slot) in marks.iter().zip(&mut ends).filter(|(mark, _)| mark.1 == cut) {
                    *slot = Some(shown.text.len());
                }
                at = cut;
            }
            at_end = *b;
        }
        if at_end < range.end && text.get(at_end..range.end).is_some_and(|rest| !rest.trim().is_empty()) {
            shown.text.push_str(" ...");
        }
        for ((start, end), mark) in starts.into_iter().zip(ends).zip(marks) {
            if let (Some(start), Some(end)) = (start, end) {
                shown.marks.push((start, end, mark.2.to_owned()));
            }
        }
        shown
    };
    let fits = |shown: &Shown| {
        columns(&shown.text) <= room
            && shown.marks.iter().all(|(start, end, words)| {
                middle(&shown.text, *start, *end) + 5 + least_room(words, room) <= room
            })
    };
    // The widest reach around the marks that still fits: mostly all there is, else found by halving.
    let mut best = build(&parts_with(room));
    let mut does_fit = fits(&best);
    if !does_fit {
        best = build(&parts_with(0));
        does_fit = fits(&best);
        let (mut low, mut high) = (0, room);
        while low <= high {
            let reach = low.midpoint(high);
            let shown = build(&parts_with(reach));
            if fits(&shown) {
                best = shown;
                low = reach + 1;
            } else if reach == 0 {
                break;
            } else {
                high = reach - 1;
            }
        }
    }
    if best.text.trim().is_empty() {
        best.text = "(nothing is written here)".into();
        best.marks = marks.iter().map(|mark| (0, best.text.len(), mark.2.to_owned())).collect();
    }
    (best, does_fit)
}

/// Where a part of a line begins: at the place, or at the next word if that would break one.
fn begin_with_a_word(text: &str, from: usize, at: usize, mark: usize) -> usize {
    if at <= from || text.get(..at).is_some_and(|before| before.ends_with(char::is_whitespace)) {
        return at;
    }
    let rest = text.get(at..mark).unwrap_or("");
    rest.char_indices().find(|(_, c)| c.is_whitespace()).map_or(mark, |(step, c)| at + step + c.len_utf8())
}

/// Where a part of a line ends: at the place, or behind the last whole word before it.
fn end_with_a_word(text: &str, mark: usize, at: usize, end: usize) -> usize {
    if at >= end || text.get(at..).is_some_and(|rest| rest.starts_with(char::is_whitespace)) {
        return at;
    }
    let part = text.get(mark..at).unwrap_or("");
    mark + part.rfind(char::is_whitespace).unwrap_or(0)
}

/// How many columns the words to a mark need at the least: the longest of their parts, within reason.
fn least_room(words: &str, room: usize) -> usize {
    words.split("; ").map(columns).max().unwrap_or(0).min(room / 2)
}

/// The words to a mark in lines no wider than there is room: broken between its parts, then between a label and its
/// value, and only then elsewhere.
fn notes(words: &str, room: usize) -> Vec<String> {
    let parts: Vec<&str> = words.split_inclusive("; ").map(str::trim_end).collect();
    let mut lines: Vec<String> = Vec::new();
    for part in parts {
        match lines.last_mut() {
            Some(last) if last.width() + 1 + part.width() <= room => {
                last.push(' ');
                last.push_str(part);
            }
            _ if part.width() <= room => lines.push(part.to_owned()),
            _ => match part.split_once(": ") {
                Some((label, value)) => {
                    lines.extend(wrap(&format!("{label}:"), room, room));
                    lines.extend(wrap(value, room, room));
                }
                None => lines.extend(wrap(part, room, room)),
            },
        }
    }
    lines
}

/// The column under which the words to a mark begin.
fn middle(text: &str, start: usize, end: usize) -> usize {
    let before = columns(text.get(..start).unwrap_or(""));
    let inside = columns(text.get(start..end).unwrap_or(""));
    before + inside / 2
}

/// The longest stretch that is underlined; the rest of a longer one is left out.
fn shortened(source: &Source, start: usize, end: usize, room: usize) -> usize {
    let mut width = 0;
    for (at, c) in source.text().get(start..end).unwrap_or("").char_indices() {
        let mut one = String::new();
        visible::push(&mut one, c);
        width += one.width();
        if width > room {
            return start + at.max(1);
        }
    }
    end
}

fn draw(source: &Source, marks: &[&Mark], look: &Look) -> String {
    let last_line = marks.iter().map(|mark| source.line_column(mark.at.start).line).max().unwrap_or(1);
    let gutter = last_line.to_string().len() + 5;
    let room = look.width.saturating_sub(gutter).max(24);
    let mut lines: Vec<Shown> = Vec::new();
    let placed: Vec<(usize, (usize, usize), &str)> = marks
        .iter()
        .map(|mark| {
            let line = source.line_column(mark.at.start).line.saturating_sub(1) as usize;
            let (start, end) = first_line_of(source, mark.at);
            (line, (start, shortened(source, start, end, room / 3)), mark.words.as_str())
        })
        .collect();
    for group in placed.chunk_by(|a, b| a.0 == b.0) {
        let Some(line) = group.first().map(|first| first.0) else { continue };
        let mut on_line: Vec<(usize, usize, String)> = Vec::new();
        for (_, (start, end), words) in group {
            match on_line.last_mut() {
                // What lies inside another mark, or has the same place, joins its words.
                Some(last) if *start < last.1 => {
                    last.1 = last.1.max(*end);
                    if !last.2.contains(words) {
                        last.2.push_str("; ");
                        last.2.push_str(words);
                    }
                }
                _ => on_line.push((*start, *end, (*words).to_owned())),
            }
        }
        let borrowed: Vec<(usize, usize, &str)> = on_line.iter().map(|m| (m.0, m.1, m.2.as_str())).collect();
        lay_out(source, line, &borrowed, room, &mut lines);
    }
    let paper = Paper::new(&lines);
    let mut labels = Vec::new();
    for (shown, offset) in lines.iter().zip(&paper.starts) {
        for (start, end, words) in &shown.marks {
            let left = room.saturating_sub(middle(&shown.text, *start, *end) + 5).max(12);
            let words = notes(&visible::one_line(words), left).join("\n");
            let words = if words.is_empty() { None } else { Some(words) };
            labels.push(LabeledSpan::new(words, offset + start, end.saturating_sub(*start).max(1)));
        }
    }
    let sheet = Marked { paper, labels };
    let handler = GraphicalReportHandler::new_themed(theme(look))
        .with_width(10_000)
        .with_context_lines(0)
        .with_links(false)
        .with_urls(false)
        .without_primary_span_start()
        .without_syntax_highlighting();
    let mut drawn = String::new();
    if handler.render_report(&mut drawn, &sheet).is_err() {
        return String::new();
    }
    let mut out = String::new();
    for line in drawn.lines() {
        let line = line.replace("↑   ", "↑ ");
        let line = line.trim_end();
        // What is left of the frame, of which the theme keeps nothing but the arrow.
        if line.is_empty() || line.trim_start() == "↑" {
            continue;
        }
        out.push_str(line);
        out.push('\n');
    }
    out
}

/// Marks of our own: a line above the next row as under a word on paper, an arrow up to it, no frame.
fn theme(look: &Look) -> GraphicalTheme {
    let characters = ThemeCharacters {
        hbar: ' ',
        vbar: '│',
        xbar: ' ',
        vbar_break: ' ',
        uarrow: '↑',
        rarrow: ' ',
        ltop: ' ',
        mtop: ' ',
        rtop: ' ',
        lbot: '↑',
        rbot: ' ',
        mbot: ' ',
        lbox: ' ',
        rbox: ' ',
        lcross: ' ',
        rcross: ' ',
        underbar: '‾',
        underline: '‾',
        error: String::new(),
        warning: String::new(),
        advice: String::new(),
    };
    let mut styles = ThemeStyles::none();
    if look.colour {
        let coloured = ThemeStyles::ansi();
        styles.linum = coloured.linum;
        styles.highlights = coloured.highlights.into_iter().take(1).collect();
    }
    GraphicalTheme { characters, styles }
}

/// The shown lines, one under the other, each knowing its own number.
#[derive(Debug)]
struct Paper {
    text: String,
    starts: Vec<usize>,
    numbers: Vec<usize>,
}

impl Paper {
    fn new(lines: &[Shown]) -> Self {
        let mut paper = Paper { text: String::new(), starts: Vec::new(), numbers: Vec::new() };
        for line in lines {
            paper.starts.push(paper.text.len());
            paper.numbers.push(line.number);
            paper.text.push_str(&line.text);
            paper.text.push('\n');
        }
        paper
    }

    fn line_at(&self, byte: usize) -> usize {
        self.starts.partition_point(|start| *start <= byte).saturating_sub(1)
    }
}

impl SourceCode for Paper {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        _before: usize,
        _after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let first = self.line_at(span.offset());
        let last = self.line_at(span.offset() + span.len().saturating_sub(1));
        let number = *self.numbers.get(first).ok_or(MietteError::OutOfBounds)?;
        let last_number = *self.numbers.get(last).ok_or(MietteError::OutOfBounds)?;
        // Lines that do not follow each other in the file are drawn apart.
        if last_number - number != last - first {
            return Err(MietteError::OutOfBounds);
        }
        let start = *self.starts.get(first).ok_or(MietteError::OutOfBounds)?;
        let end = self.starts.get(last + 1).copied().unwrap_or(self.text.len());
        let body = self.text.get(start..end).ok_or(MietteError::OutOfBounds)?.trim_end_matches('\n');
        Ok(Box::new(MietteSpanContents::new(
            body.as_bytes(),
            (start, body.len()).into(),
            number.saturating_sub(1),
            0,
            last - first + 1,
        )))
    }
}

/// A drawing without words of its own.
#[derive(Debug)]
struct Marked {
    paper: Paper,
    labels: Vec<LabeledSpan>,
}

impl std::fmt::Display for Marked {
    fn fmt(&self, _: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        Ok(())
    }
}

impl std::error::Error for Marked {}

impl Diagnostic for Marked {
    fn source_code(&self) -> Option<&dyn SourceCode> {
        Some(&self.paper)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        Some(Box::new(self.labels.iter().cloned()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mark(sources: &Sources, id: crate::base::text::SourceId, part: &str, words: &str) -> Mark {
        let start = sources.get(id).unwrap().text().find(part).unwrap();
        Mark { at: Span::new(id, start, start + part.len()), words: words.into() }
    }

    #[test]
    fn lines_apart_are_drawn_apart_and_keep_their_numbers() {
        let mut sources = Sources::new();
        let id = sources.add("a.yaml", "one: 1 ft\ntwo: 2 ft\nthree: 3 ft\nfour: 4 ft, 5 ft\n");
        let marks = [
            mark(&sources, id, "1 ft", "the first"),
            mark(&sources, id, "2 ft", "the second"),
            mark(&sources, id, "4 ft", "the fourth"),
            mark(&sources, id, "5 ft", "the fifth"),
        ];
        let drawn = excerpt(&sources, sources.get(id), &marks, &Look::standard());
        assert_eq!(
            drawn,
            " 1 │ one: 1 ft\n          ‾‾‾‾\n            ↑ the first\n 2 │ two: 2 ft\n          ‾‾‾‾\n            ↑ the second\n 4 │ four: 4 ft, 5 ft\n           ‾‾‾‾  ‾‾‾‾\n             │     ↑ the fifth\n             ↑ the fourth\n"
        );
    }

    #[test]
    fn long_lines_are_cut_around_their_marks() {
        let mut sources = Sources::new();
        let filler = "x".repeat(400);
        let id = sources.add("a.yaml", format!("key: {{{filler}: 1, size: 9 ft 6 in, {filler}: 2}}\n"));
        for width in [40, 80, 120] {
            let look = Look::standard().wide(width);
            let marks =
                [mark(&sources, id, "9 ft 6 in", "how far it is from the discharge, along a straight tape")];
            let drawn = excerpt(&sources, sources.get(id), &marks, &look);
            assert!(drawn.contains("9 ft 6 in") && drawn.contains("... "), "{drawn}");
            for line in drawn.lines() {
                assert!(line.width() <= width, "{width}: {line}");
            }
        }
    }

    #[test]
    fn every_place_of_a_hostile_text_can_be_marked() {
        let text = "\u{feff}a: \u{1b}[31m\u{202e}½ in\t屋根\r\n\r\n  b: \u{0}\u{7f}\rc: \n\n";
        let mut sources = Sources::new();
        let id = sources.add("\u{1b}]0;x\u{7}.yaml", text);
        for look in [Look::standard().wide(40), Look { plain: true, ..Look::standard() }] {
            for start in 0..=text.len() + 3 {
                for len in [0, 1, 5, 400] {
                    let marks = [Mark { at: Span::new(id, start, start + len), words: "here\u{1b}".into() }];
                    let drawn = excerpt(&sources, None, &marks, &look);
                    assert!(drawn.contains("here"), "{start}+{len}: {drawn:?}");
                    assert!(!drawn.chars().any(|c| c.is_control() && c != '\n'), "{drawn:?}");
                    assert!(!drawn.contains("Failed"));
                }
            }
        }
    }

    #[test]
    fn a_hundred_marks_in_a_large_file_are_quick() {
        let mut sources = Sources::new();
        let text = "key: 1 ft\n".repeat(20_000);
        let id = sources.add("a.yaml", text);
        let look = Look::standard();
        for n in 0..1_000 {
            let marks = [Mark { at: Span::new(id, n * 200 + 5, n * 200 + 9), words: "x".into() }];
            assert!(excerpt(&sources, sources.get(id), &marks, &look).contains("1 ft"));
        }
    }

    #[test]
    fn the_narrated_form_has_no_drawing() {
        let mut sources = Sources::new();
        let id = sources.add("a.yaml", "one: 1 ft\n");
        let look = Look { plain: true, ..Look::standard() };
        let told = excerpt(&sources, sources.get(id), &[mark(&sources, id, "1 ft", "too short")], &look);
        assert_eq!(told, "Line 1, where it says \"one: 1 ft\": too short.\n");
    }
}
