//! The events of a YAML text, each with the bytes it stands on.

use std::ops::Range;

use granit_parser::{Parser, StrInput};

pub(super) use granit_parser::{ErrorKind, Event, ScalarStyle, StructureStyle};

/// Something that was read.
#[derive(Debug)]
pub(super) struct Read<'t> {
    /// What it is.
    pub(super) event: Event<'t>,
    /// Where it stands.
    pub(super) range: Range<usize>,
    /// Where its tag stands.
    pub(super) tag: Option<Range<usize>>,
}

/// What ends the reading.
#[derive(Debug)]
pub(super) struct Fault {
    /// What is wrong.
    pub(super) kind: ErrorKind,
    /// Where.
    pub(super) at: usize,
}

/// The events of a text, one after the other.
pub(super) struct Events<'t> {
    parser: Parser<'t, StrInput<'t>>,
    length: usize,
}

impl<'t> Events<'t> {
    /// Begins to read a text, whose lists and maps lie in each other at most so deep.
    #[must_use]
    pub(super) fn of(text: &'t str, deepest: usize) -> Self {
        let options = granit_parser::options! {
            emit_anchor_events: true,
            emit_unresolved_aliases: true,
            disallow_directives: true,
            max_buffered_comment_events: usize::MAX,
            flow_nesting_limit: deepest,
            block_nesting_limit: deepest,
        };
        Events { parser: Parser::new_from_str_with_options(text, options), length: text.len() }
    }
}

impl<'t> Iterator for Events<'t> {
    type Item = Result<Read<'t>, Fault>;

    fn next(&mut self) -> Option<Self::Item> {
        Some(match self.parser.next()? {
            Ok((event, span)) => {
                let tag = event.tag().and_then(|_| span.tag_span()).and_then(|tag| tag.byte_range());
                Ok(Read { event, range: span.byte_range().unwrap_or(0..0), tag })
            }
            Err(error) => Err(Fault {
                kind: error.kind().clone(),
                at: error.marker().byte_offset().unwrap_or(self.length),
            }),
        })
    }
}
