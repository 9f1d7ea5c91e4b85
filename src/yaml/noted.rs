//! The events of a text written down, so that a text that goes with the program is taken apart once, when the program is
//! built, and not each time it starts.
//!
//! Each event is one byte for what it is, then how far behind the start of the one before it begins, then its length. A
//! value is the very words of its stretch, those within one quotation mark at each end, or else stands behind with its
//! length. Only what such texts hold is written down; a text with anything else is read as any other.

use std::borrow::Cow;

use granit_parser::Placement;

use super::events::{Event, Events, Fault, Read, ScalarStyle, StructureStyle};

const COMMENT: u8 = 0;
const LIST: u8 = 1;
const MAP: u8 = 2;
const LIST_END: u8 = 3;
const MAP_END: u8 = 4;
/// A value that is its stretch.
const AS_IT_STANDS: u8 = 5;
/// A value that is its stretch without the first and the last byte.
const QUOTED: u8 = 6;
/// A value that is written down.
const WRITTEN: u8 = 7;

/// So many styles there are room for.
const STYLES: u8 = 8;

/// The styles of values, each by its place.
const VALUES: [ScalarStyle; 5] = [
    ScalarStyle::Plain,
    ScalarStyle::SingleQuoted,
    ScalarStyle::DoubleQuoted,
    ScalarStyle::Literal,
    ScalarStyle::Folded,
];

/// Writes down the events of a text, whose lists and maps lie in each other at most so deep; nothing for a text that has a
/// fault, or marks, tags or several documents.
#[must_use]
pub fn note(text: &str, deepest: usize) -> Option<Vec<u8>> {
    let mut noted = Vec::new();
    number(&mut noted, text.len());
    let mut last = 0_usize;
    let mut documents = 0;
    for read in Events::of(text, deepest) {
        let Read { event, range, tag } = read.ok()?;
        let (sort, style, written) = match event {
            Event::StreamStart | Event::StreamEnd | Event::DocumentEnd => continue,
            Event::DocumentStart(..) if documents == 0 => {
                documents += 1;
                continue;
            }
            Event::Comment(..) => (COMMENT, 0, None),
            Event::SequenceStart(style, 0, None) => (LIST, u8::from(style == StructureStyle::Flow), None),
            Event::MappingStart(style, 0, None) => (MAP, u8::from(style == StructureStyle::Flow), None),
            Event::SequenceEnd => (LIST_END, 0, None),
            Event::MappingEnd => (MAP_END, 0, None),
            Event::Scalar(value, style, 0, None) => {
                let style = u8::try_from(VALUES.iter().position(|one| *one == style)?).ok()?;
                let stretch = text.get(range.clone())?;
                if *value == *stretch {
                    (AS_IT_STANDS, style, None)
                } else if stretch.get(1..stretch.len().saturating_sub(1)) == Some(&*value) {
                    (QUOTED, style, None)
                } else {
                    (WRITTEN, style, Some(value))
                }
            }
            _ => return None,
        };
        if tag.is_some() {
            return None;
        }
        noted.push(sort * STYLES + style);
        // Forward is even, backward is odd: a list may be seen to begin behind its first value.
        number(
            &mut noted,
            if range.start >= last { (range.start - last) * 2 } else { (last - range.start) * 2 - 1 },
        );
        number(&mut noted, range.end.checked_sub(range.start)?);
        last = range.start;
        if let Some(value) = written {
            number(&mut noted, value.len());
            noted.extend_from_slice(value.as_bytes());
        }
    }
    Some(noted)
}

/// Writes a number in as many bytes as it takes, seven bits in each, the last bits first.
fn number(to: &mut Vec<u8>, mut number: usize) {
    while number > 0x7f {
        to.push((number & 0x7f) as u8 | 0x80);
        number >>= 7;
    }
    to.push(number as u8);
}

/// The events of a text as they were written down, one after the other.
#[derive(Debug)]
pub(super) struct Noted<'t> {
    text: &'t str,
    rest: &'t [u8],
    last: usize,
}

impl<'t> Noted<'t> {
    /// What was written down of this text; nothing if it is not of this text.
    #[must_use]
    pub(super) fn of(text: &'t str, noted: &'t [u8]) -> Option<Self> {
        let mut noted = Noted { text, rest: noted, last: 0 };
        (noted.number()? == text.len()).then_some(noted)
    }

    fn byte(&mut self) -> Option<u8> {
        let (first, rest) = self.rest.split_first()?;
        self.rest = rest;
        Some(*first)
    }

    fn number(&mut self) -> Option<usize> {
        let mut number = 0;
        let mut shift = 0;
        loop {
            let byte = self.byte()?;
            number |= usize::from(byte & 0x7f).checked_shl(shift)?;
            if byte < 0x80 {
                return Some(number);
            }
            shift += 7;
        }
    }

    fn read(&mut self) -> Option<Read<'t>> {
        let byte = self.byte()?;
        let (sort, style) = (byte / STYLES, byte % STYLES);
        let way = self.number()?;
        let start = if way % 2 == 0 {
            self.last.checked_add(way / 2)?
        } else {
            self.last.checked_sub(way / 2 + 1)?
        };
        let end = start.checked_add(self.number()?)?;
        self.last = start;
        let structure = if style == 0 { StructureStyle::Block } else { StructureStyle::Flow };
        let event = match sort {
            COMMENT => Event::Comment(Cow::Borrowed(""), Placement::Free),
            LIST => Event::SequenceStart(structure, 0, None),
            MAP => Event::MappingStart(structure, 0, None),
            LIST_END => Event::SequenceEnd,
            MAP_END => Event::MappingEnd,
            _ => {
                let value = match sort {
                    AS_IT_STANDS => self.text.get(start..end)?,
                    QUOTED => self.text.get(start + 1..end.checked_sub(1)?)?,
                    _ => {
                        let length = self.number()?;
                        let (value, rest) = self.rest.split_at_checked(length)?;
                        self.rest = rest;
                        std::str::from_utf8(value).ok()?
                    }
                };
                Event::Scalar(Cow::Borrowed(value), *VALUES.get(usize::from(style))?, 0, None)
            }
        };
        Some(Read { event, range: start..end, tag: None })
    }
}

impl<'t> Iterator for Noted<'t> {
    type Item = Result<Read<'t>, Fault>;

    fn next(&mut self) -> Option<Self::Item> {
        self.read().map(Ok)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The events that a reader of the text makes something of.
    fn told<'t>(events: impl Iterator<Item = Result<Read<'t>, Fault>>) -> Vec<String> {
        let events = events.map(Result::unwrap).filter_map(|read| {
            let event = match read.event {
                Event::StreamStart | Event::StreamEnd | Event::DocumentStart(..) | Event::DocumentEnd => {
                    return None;
                }
                Event::Comment(..) => "comment".to_owned(),
                other => format!("{other:?}"),
            };
            Some(format!("{event} {:?}", read.range))
        });
        events.collect()
    }

    #[test]
    fn what_is_written_down_is_what_is_read() {
        let text = "# on top\na: plain # behind\nb: 'it''s'\nc: \"x\"\n\"d\": [1, {e: }, \"\\u00bd\"]\nf: |\n  two\n  lines\n\
                    g: >-\n  folded\n  words\nh:\n- - ü\n  - ~\n- one\n  more\n";
        let noted = note(text, 16).unwrap();
        assert_eq!(told(Noted::of(text, &noted).unwrap()), told(Events::of(text, 16)));
    }

    #[test]
    fn what_is_no_plain_text_is_not_written_down() {
        for text in ["a: &m 1\n", "a: !x 1\n", "a: *m\n", "a: 1\n---\nb: 2\n", "a: 'x\n", "a: [[[[1]]]]\n"] {
            assert!(note(text, 3).is_none(), "{text}");
        }
        assert!(Noted::of("a: 12\n", &note("a: 1\n", 3).unwrap()).is_none());
        assert!(Noted::of("a: 1\n", &[]).is_none());
    }
}
