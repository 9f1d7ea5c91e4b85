//! Texts that were read, and places in them.
//!
//! A place is a byte offset inside the program. Two other counts exist only at the edges and are types
//! of their own, so that they cannot be mixed: the one-based line and column a person reads, and the
//! zero-based UTF-16 position the editor protocol asks for.

use std::borrow::Cow;
use std::sync::{Arc, OnceLock};

/// Which of the texts that were read.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct SourceId(pub u32);

/// A stretch of one text, in bytes from its start; `end` is not part of it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Span {
    /// The text it lies in.
    pub source: SourceId,
    /// The first byte of it.
    pub start: u32,
    /// The first byte after it; never before `start`.
    pub end: u32,
}

impl Span {
    /// The stretch from `start` to `end`. A reversed pair is put in order.
    #[must_use]
    pub fn new(source: SourceId, start: usize, end: usize) -> Self {
        let (start, end) = if start <= end { (start, end) } else { (end, start) };
        let clamp = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        Span { source, start: clamp(start), end: clamp(end) }
    }

    /// The stretch as a range of bytes.
    #[must_use]
    pub fn range(self) -> std::ops::Range<usize> {
        self.start as usize..self.end as usize
    }

    /// How many bytes it holds.
    #[must_use]
    pub fn len(self) -> usize {
        self.end.saturating_sub(self.start) as usize
    }

    /// Whether it holds nothing (a place between two bytes).
    #[must_use]
    pub fn is_empty(self) -> bool {
        self.start == self.end
    }

    /// Whether `other` lies inside it.
    #[must_use]
    pub fn contains(self, other: Span) -> bool {
        self.source == other.source && self.start <= other.start && other.end <= self.end
    }

    /// The smallest stretch that holds both; `self` when they lie in different texts.
    #[must_use]
    pub fn join(self, other: Span) -> Span {
        if self.source != other.source {
            return self;
        }
        Span { source: self.source, start: self.start.min(other.start), end: self.end.max(other.end) }
    }
}

/// A line and a column as a person counts them: both from one, the column in characters.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct LineColumn {
    /// The line, from one.
    pub line: u32,
    /// The character in the line, from one.
    pub column: u32,
}

/// A position as the editor protocol counts it: both from zero, the column in UTF-16 units.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Utf16Position {
    /// The line, from zero.
    pub line: u32,
    /// The UTF-16 unit in the line, from zero.
    pub unit: u32,
}

/// One text that was read, under the name the person gave it.
#[derive(Clone, Debug)]
pub struct Source {
    name: Cow<'static, str>,
    text: Cow<'static, str>,
    /// What was written down of the text when the program was built, for whoever reads it; empty if nothing was.
    noted: &'static [u8],
    /// Where each line begins; worked out when it is first asked for, which of most texts it never is.
    line_starts: OnceLock<Vec<u32>>,
}

impl Source {
    /// Takes a text in.
    #[must_use]
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Self {
        Source {
            name: Cow::Owned(name.into()),
            text: Cow::Owned(text.into()),
            noted: &[],
            line_starts: OnceLock::new(),
        }
    }

    /// Takes a text in that is part of the program, with what was written down of it when that was built.
    #[must_use]
    pub fn carried(name: &'static str, text: &'static str, noted: &'static [u8]) -> Self {
        let (name, text) = (Cow::Borrowed(name), Cow::Borrowed(text));
        Source { name, text, noted, line_starts: OnceLock::new() }
    }

    /// What was written down of the text when the program was built; empty if nothing was.
    #[must_use]
    pub fn noted(&self) -> &'static [u8] {
        self.noted
    }

    /// Where each line begins. Lines end at `\n`, `\r\n` or a lone `\r`.
    fn line_starts(&self) -> &[u32] {
        self.line_starts.get_or_init(|| {
            let bytes = self.text.as_bytes();
            let mut starts = vec![0];
            for (at, byte) in bytes.iter().enumerate() {
                let ends = *byte == b'\n' || (*byte == b'\r' && bytes.get(at + 1) != Some(&b'\n'));
                if ends {
                    starts.push(u32::try_from(at + 1).unwrap_or(u32::MAX));
                }
            }
            starts
        })
    }

    /// The name the person gave it: a path as typed, never an absolute one of our making.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The whole text, a byte order mark included.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The text of a stretch; empty if the stretch does not fit this text.
    #[must_use]
    pub fn slice(&self, span: Span) -> &str {
        self.text.get(span.range()).unwrap_or("")
    }

    /// How many lines it has; an empty text has one.
    #[must_use]
    pub fn line_count(&self) -> usize {
        self.line_starts().len()
    }

    /// The zero-based line that holds a byte, and where that line starts.
    fn line_of(&self, byte: u32) -> (usize, u32) {
        let starts = self.line_starts();
        let after = starts.partition_point(|start| *start <= byte);
        let line = after.saturating_sub(1);
        (line, starts.get(line).copied().unwrap_or(0))
    }

    /// The line that a byte stands on, from one; found without counting the characters before it.
    #[must_use]
    pub fn line(&self, byte: u32) -> u32 {
        u32::try_from(self.line_of(byte).0 + 1).unwrap_or(u32::MAX)
    }

    /// Where a byte stands, as a person counts.
    #[must_use]
    pub fn line_column(&self, byte: u32) -> LineColumn {
        let (line, start) = self.line_of(byte);
        let before = self.text.get(start as usize..byte as usize).unwrap_or("");
        let count = before.trim_start_matches('\u{feff}').chars().count();
        LineColumn {
            line: u32::try_from(line + 1).unwrap_or(u32::MAX),
            column: u32::try_from(count + 1).unwrap_or(u32::MAX),
        }
    }

    /// Where a byte stands, as the editor protocol counts.
    #[must_use]
    pub fn utf16(&self, byte: u32) -> Utf16Position {
        let (line, start) = self.line_of(byte);
        let before = self.text.get(start as usize..byte as usize).unwrap_or("");
        let units: usize = before.chars().map(char::len_utf16).sum();
        Utf16Position {
            line: u32::try_from(line).unwrap_or(u32::MAX),
            unit: u32::try_from(units).unwrap_or(u32::MAX),
        }
    }

    /// The bytes of a zero-based line, its line end not included.
    #[must_use]
    pub fn line_range(&self, line: usize) -> Option<std::ops::Range<usize>> {
        let starts = self.line_starts();
        let start = *starts.get(line)? as usize;
        let end = starts.get(line + 1).map_or(self.text.len(), |next| *next as usize);
        let body = self.text.get(start..end)?;
        let trimmed = body.trim_end_matches(['\n', '\r']);
        Some(start..start + trimmed.len())
    }
}

/// All the texts of one run. Copies share the texts.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    list: Vec<Arc<Source>>,
}

impl Sources {
    /// No texts yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Takes a text in and says which one it is.
    pub fn add(&mut self, name: impl Into<String>, text: impl Into<String>) -> SourceId {
        self.take(Source::new(name, text))
    }

    /// Takes a text in that is part of the program, and says which one it is. See [`Source::carried`].
    pub fn add_carried(&mut self, name: &'static str, text: &'static str, noted: &'static [u8]) -> SourceId {
        self.take(Source::carried(name, text, noted))
    }

    fn take(&mut self, source: Source) -> SourceId {
        let id = SourceId(u32::try_from(self.list.len()).unwrap_or(u32::MAX));
        self.list.push(Arc::new(source));
        id
    }

    /// Puts another text in the place of one that was taken in.
    pub fn replace(&mut self, id: SourceId, name: impl Into<String>, text: impl Into<String>) {
        if let Some(slot) = self.list.get_mut(id.0 as usize) {
            *slot = Arc::new(Source::new(name, text));
        }
    }

    /// The text with this number, if it is one of ours.
    #[must_use]
    pub fn get(&self, id: SourceId) -> Option<&Source> {
        self.list.get(id.0 as usize).map(Arc::as_ref)
    }

    /// The words of a stretch; empty if it does not fit.
    #[must_use]
    pub fn slice(&self, span: Span) -> &str {
        self.get(span.source).map_or("", |source| source.slice(span))
    }

    /// Every text, in the order they were taken in.
    pub fn iter(&self) -> impl Iterator<Item = (SourceId, &Source)> {
        self.list
            .iter()
            .enumerate()
            .map(|(at, source)| (SourceId(u32::try_from(at).unwrap_or(u32::MAX)), source.as_ref()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn positions_count_characters_for_people_and_utf16_units_for_editors() {
        let source = Source::new("a", "½ in\r\nx😀y\rz");
        let y = u32::try_from(source.text().find('y').unwrap()).unwrap();
        assert_eq!(source.line_column(y), LineColumn { line: 2, column: 3 });
        assert_eq!(source.utf16(y), Utf16Position { line: 1, unit: 3 });
        let z = u32::try_from(source.text().find('z').unwrap()).unwrap();
        assert_eq!(source.line_column(z), LineColumn { line: 3, column: 1 });
        assert_eq!(source.line_range(0), Some(0..5));
    }

    #[test]
    fn a_byte_order_mark_is_no_column() {
        let source = Source::new("a", "\u{feff}key: 1");
        assert_eq!(source.line_column(3), LineColumn { line: 1, column: 1 });
    }
}
