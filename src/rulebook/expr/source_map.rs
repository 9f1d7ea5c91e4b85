//! Where each character of an expression stands in its file.
//!
//! What a YAML reader gives is the text of a value, with quotes taken off, escapes resolved and lines
//! joined. A fault in the expression has to be shown on the line the author typed. This maps one to the
//! other by walking both: everything but white space stands in both in the same order.

use crate::base::text::{SourceId, Span};
use crate::yaml::tree::Style;

/// The files that the parts of a rule were read from: its own, and those of amendments.
#[derive(Clone, Copy, Debug)]
pub struct Texts<'a>(pub &'a [(SourceId, &'a str)]);

impl<'a> Texts<'a> {
    /// The text of a file; empty if it is none of these.
    #[must_use]
    pub fn of(&self, source: SourceId) -> &'a str {
        self.0.iter().find(|(id, _)| *id == source).map_or("", |(_, text)| text)
    }

    /// What is written at a place.
    #[must_use]
    pub fn slice(&self, at: Span) -> &'a str {
        self.of(at.source).get(at.range()).unwrap_or("")
    }
}

/// A stretch of the text without white space, and the bytes of the file it came from.
#[derive(Clone, Copy, Debug)]
struct Run {
    in_text: usize,
    /// How many bytes of the text it takes.
    length: usize,
    /// Where it stands in the file.
    start: usize,
    end: usize,
}

impl Run {
    /// Whether it is written as it reads, byte for byte; else it is one character that is written in another way.
    fn is_as_written(&self) -> bool {
        self.end.saturating_sub(self.start) == self.length
    }

    /// Where the text behind it begins.
    fn behind(&self) -> usize {
        self.in_text + self.length
    }
}

/// From places in a value's text to places in its file.
#[derive(Clone, Debug)]
pub struct SourceMap {
    whole: Span,
    runs: Vec<Run>,
}

impl SourceMap {
    /// The map of a value written in this style, which reads as `text` and stands at `at` in `file`.
    ///
    /// If the two cannot be brought together every place maps to the whole value.
    #[must_use]
    pub fn new(file: &str, at: Span, style: Style, text: &str) -> Self {
        let raw = file.get(at.range()).unwrap_or("");
        let start = at.start as usize;
        let runs = align(raw, start, style, text)
            .or_else(|| {
                // The stretch of a block value may begin with its header line.
                let header_end = raw.find('\n')? + 1;
                let block = matches!(style, Style::Literal | Style::Folded);
                if block { align(raw.get(header_end..)?, start + header_end, style, text) } else { None }
            })
            .unwrap_or_default();
        SourceMap { whole: at, runs }
    }

    /// The first character of the text at or behind a place that is not white space: where it stands in the text and
    /// in the file.
    fn from(&self, start: usize) -> Option<(usize, usize)> {
        let run = self.runs.get(self.runs.partition_point(|run| run.behind() <= start))?;
        let skipped = if run.is_as_written() { start.saturating_sub(run.in_text) } else { 0 };
        Some((run.in_text + skipped, run.start + skipped))
    }

    /// Where the last character before a place of the text that is not white space ends in the file.
    fn up_to(&self, end: usize) -> Option<usize> {
        let run = self.runs.get(self.runs.partition_point(|run| run.in_text < end).checked_sub(1)?)?;
        let inside = end < run.behind() && run.is_as_written();
        Some(if inside { run.start + (end - run.in_text) } else { run.end })
    }

    /// The place in the file of the bytes from `start` to `end` of the text.
    #[must_use]
    pub fn span(&self, start: usize, end: usize) -> Span {
        match (self.from(start), self.up_to(end)) {
            (Some((first, from)), Some(to)) if first < end => Span::new(self.whole.source, from, to),
            // Nothing but white space, or the end of the text: the place just behind what is before it.
            (_, Some(before)) => Span::new(self.whole.source, before, before),
            (Some((_, behind)), None) => Span::new(self.whole.source, behind, behind),
            (None, None) => self.whole,
        }
    }

    /// The map of the part of the text from `start` to `end`, as a text of its own.
    #[must_use]
    pub fn part(&self, start: usize, end: usize) -> SourceMap {
        let inside = self.runs.iter().filter(|run| start < run.behind() && run.in_text < end);
        let cut = inside.map(|run| {
            let mut run = *run;
            if run.is_as_written() {
                let before = start.saturating_sub(run.in_text);
                let after = run.behind().saturating_sub(end);
                run = Run {
                    in_text: run.in_text + before,
                    length: run.length.saturating_sub(before + after),
                    start: run.start + before,
                    end: run.end - after,
                };
            }
            Run { in_text: run.in_text.saturating_sub(start), ..run }
        });
        SourceMap { whole: self.span(start, end), runs: cut.collect() }
    }

    /// The whole value.
    #[must_use]
    pub fn whole(&self) -> Span {
        self.whole
    }
}

/// Pairs off the characters of both that are not white space; `None` if they differ.
fn align(raw: &str, offset: usize, style: Style, text: &str) -> Option<Vec<Run>> {
    let (inside, offset) = without_quotes(raw, offset, style);
    words_alike(inside, offset, text).or_else(|| characters_alike(inside, offset, style, text))
}

/// Pairs off words, for a value that is written as it reads but for white space, as nearly every one is.
fn words_alike(raw: &str, offset: usize, text: &str) -> Option<Vec<Run>> {
    let mut written = words(raw);
    let mut runs = Vec::new();
    for (in_text, word) in words(text) {
        let (at, other) = written.next()?;
        if other != word {
            return None;
        }
        let start = offset + at;
        runs.push(Run { in_text, length: word.len(), start, end: start + word.len() });
    }
    written.next().is_none().then_some(runs)
}

/// The stretches without white space, each with its place.
fn words(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let mut at = 0;
    std::iter::from_fn(move || {
        let start = at + text.get(at..)?.find(|c: char| !c.is_whitespace())?;
        let rest = text.get(start..)?;
        let word = rest.get(..rest.find(char::is_whitespace).unwrap_or(rest.len()))?;
        at = start + word.len();
        Some((start, word))
    })
}

/// Pairs off character by character.
fn characters_alike(raw: &str, offset: usize, style: Style, text: &str) -> Option<Vec<Run>> {
    let mut written = characters(raw, offset, style).into_iter();
    let mut runs = Vec::new();
    for (in_text, c) in text.char_indices().filter(|(_, c)| !c.is_whitespace()) {
        let (read, start, end) = written.next()?;
        if read != c {
            return None;
        }
        runs.push(Run { in_text, length: c.len_utf8(), start, end });
    }
    written.next().is_none().then_some(runs)
}

/// What stands inside the quotes, if there are any, and where it begins.
fn without_quotes(raw: &str, offset: usize, style: Style) -> (&str, usize) {
    let quote = match style {
        Style::SingleQuoted => Some('\''),
        Style::DoubleQuoted => Some('"'),
        Style::Plain | Style::Literal | Style::Folded => None,
    };
    let trimmed = match quote {
        Some(quote) => raw.strip_prefix(quote).unwrap_or(raw),
        None => raw,
    };
    let offset = offset + (raw.len() - trimmed.len());
    (quote.and_then(|quote| trimmed.strip_suffix(quote)).unwrap_or(trimmed), offset)
}

/// The characters a value's bytes stand for, white space left out, each with its bytes in the file.
fn characters(inside: &str, offset: usize, style: Style) -> Vec<(char, usize, usize)> {
    let mut found = Vec::new();
    let mut rest = inside.char_indices().peekable();
    while let Some((at, c)) = rest.next() {
        let mut meant = Some(c);
        if c == '\'' && style == Style::SingleQuoted {
            rest.next_if(|(_, next)| *next == '\'');
        } else if c == '\\' && style == Style::DoubleQuoted {
            meant = escaped(&mut rest);
        }
        let end = rest.peek().map_or(inside.len(), |(next, _)| *next);
        if let Some(meant) = meant.filter(|c| !c.is_whitespace()) {
            found.push((meant, offset + at, offset + end));
        }
    }
    found
}

/// The character an escape in double quotes stands for, the backslash already taken; `None` for a line end.
fn escaped(rest: &mut std::iter::Peekable<std::str::CharIndices<'_>>) -> Option<char> {
    let (_, letter) = rest.next()?;
    let digits = match letter {
        'x' => 2,
        'u' => 4,
        'U' => 8,
        '0' => return Some('\0'),
        'a' => return Some('\u{7}'),
        'b' => return Some('\u{8}'),
        'e' => return Some('\u{1b}'),
        'n' | 'r' | 't' | 'v' | 'f' | 'N' | 'L' | 'P' | '_' => return Some(' '),
        '\n' | '\r' => return None,
        other => return Some(other),
    };
    let mut number = 0_u32;
    for _ in 0..digits {
        let (_, digit) = rest.next_if(|(_, c)| c.is_ascii_hexdigit())?;
        number = number.checked_mul(16)?.checked_add(digit.to_digit(16)?)?;
    }
    char::from_u32(number)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::text::SourceId;

    /// Every non-space character of `text` has to be found in `file` where it stands.
    fn every_word_is_found(file: &str, raw: &str, style: Style, text: &str) {
        let start = file.find(raw).unwrap();
        let map = SourceMap::new(file, Span::new(SourceId(3), start, start + raw.len()), style, text);
        for (at, word) in
            text.split_whitespace().map(|word| (word.as_ptr() as usize - text.as_ptr() as usize, word))
        {
            let span = map.span(at, at + word.len());
            assert_eq!(file.get(span.range()), Some(word), "{word} of {text:?}");
        }
    }

    #[test]
    fn plain_values_map_over_joined_lines() {
        let file = "requires: bed.length >= 3 ft\n    and ½ é\n\n   or x\n";
        every_word_is_found(
            file,
            "bed.length >= 3 ft\n    and ½ é\n\n   or x",
            Style::Plain,
            "bed.length >= 3 ft and ½ é\nor x",
        );
    }

    #[test]
    fn block_values_map_with_and_without_their_header() {
        let file = "requires: |\n  a >= b\n    or c\n\nnext: 1";
        every_word_is_found(file, "a >= b\n    or c\n", Style::Literal, "a >= b\n  or c\n");
        every_word_is_found(file, "|\n  a >= b\n    or c\n", Style::Literal, "a >= b\n  or c\n");
        let file = "because: >-\n  > a\n  b\n";
        every_word_is_found(file, ">-\n  > a\n  b\n", Style::Folded, "> a b");
        every_word_is_found(file, "> a\n  b\n", Style::Folded, "> a b");
    }

    #[test]
    fn quoted_values_map_over_escapes() {
        every_word_is_found("k: 'a is b'", "'a is b'", Style::SingleQuoted, "a is b");
        let file = r#"k: "say \"x\" \u00bd a""#;
        let at = Span::new(SourceId(0), 3, file.len());
        let map = SourceMap::new(file, at, Style::DoubleQuoted, "say \"x\" ½ a");
        assert_eq!(&file[map.span(4, 7).range()], r#"\"x\""#);
        assert_eq!(&file[map.span(8, 10).range()], r"\u00bd");
        let file = "k: 'it''s'";
        let map = SourceMap::new(file, Span::new(SourceId(0), 3, file.len()), Style::SingleQuoted, "it's");
        assert_eq!(&file[map.span(2, 3).range()], "''");
    }

    #[test]
    fn the_end_of_the_text_lies_behind_its_last_character() {
        let file = "k: a or ";
        let map = SourceMap::new(file, Span::new(SourceId(0), 3, 7), Style::Plain, "a or");
        assert_eq!(map.span(4, 4), Span::new(SourceId(0), 7, 7));
    }

    #[test]
    fn what_cannot_be_brought_together_maps_to_the_whole() {
        let at = Span::new(SourceId(0), 3, 4);
        assert_eq!(SourceMap::new("k: a", at, Style::Plain, "b c").span(0, 1), at);
    }
}
