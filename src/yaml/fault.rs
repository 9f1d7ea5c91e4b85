//! What is wrong with text that is not YAML, in words for people who never programmed.

use std::ops::Range;

use super::events::ErrorKind;

use super::scan::DEEPEST;
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::{SourceId, Span};

/// The text a fault was found in, and where.
struct Place<'t> {
    source: SourceId,
    text: &'t str,
    at: usize,
}

impl<'t> Place<'t> {
    /// The start of the line that holds a byte, behind a byte order mark.
    fn line_start(&self, at: usize) -> usize {
        let before = self.text.get(..at).unwrap_or("");
        let mark = if before.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
        before.rfind(['\n', '\r']).map_or(mark, |end| end + 1)
    }

    /// The line that starts here, its end left off.
    fn line_from(&self, start: usize) -> &'t str {
        let rest = self.text.get(start..).unwrap_or("");
        rest.split(['\n', '\r']).next().unwrap_or("")
    }

    /// From a byte to the end of its line, spaces at the end left off; the last character before it when
    /// nothing is left there.
    fn rest_of_line(&self, at: usize) -> Range<usize> {
        let line = self.line_from(at).trim_end();
        if !line.is_empty() {
            return at..at + line.len();
        }
        let before = self.text.get(..at).unwrap_or("").trim_end();
        let last = before.chars().next_back().map_or(0, char::len_utf8);
        before.len() - last..before.len()
    }

    fn problem(&self, range: Range<usize>, accepts: impl Into<String>) -> Problem {
        self.of(ProblemKind::NotYaml, range).accepts(accepts)
    }

    fn of(&self, kind: ProblemKind, range: Range<usize>) -> Problem {
        let found = self.text.get(range.clone()).unwrap_or("").to_owned();
        Problem::new(kind, Span::new(self.source, range.start, range.end)).found(found)
    }

    /// Where the line behind the one that starts here starts, if there is one.
    fn next_line(&self, start: usize) -> Option<usize> {
        let end = start + self.line_from(start).len();
        let rest = self.text.get(end..)?;
        let sign = if rest.starts_with("\r\n") { 2 } else { usize::from(!rest.is_empty()) };
        (sign > 0 && rest.len() > sign).then_some(end + sign)
    }

    /// Whether the line behind the one that starts here stands further in.
    fn is_above_lines_set_in(&self, start: usize) -> bool {
        let margin = |line: &str| line.len() - line.trim_start().len();
        let own = margin(self.line_from(start));
        self.next_line(start).is_some_and(|next| margin(self.line_from(next)) > own)
    }

    /// Where the nearest line starts that is not blank, before the one that starts here.
    fn line_before(&self, start: usize) -> Option<usize> {
        let mut at = start;
        for _ in 0..20 {
            at = self.line_start(at.checked_sub(1)?);
            let words = self.line_from(at).trim();
            if !words.is_empty() && !words.starts_with('#') {
                return Some(at);
            }
        }
        None
    }
}

/// A piece of text at the margin that should be a key and is none.
pub(super) fn not_a_key(source: SourceId, text: &str, piece: Range<usize>) -> Problem {
    let words = text.get(piece.clone()).unwrap_or("");
    let start = piece.end - words.trim_start_matches(['\u{feff}', ' ', '\n', '\r', '\t']).len();
    let place = Place { source, text, at: start };
    let line = place.line_start(start);
    tab(&place, line).or_else(|| no_colon(&place, line)).unwrap_or_else(|| {
        place.problem(place.rest_of_line(start), "a key, a colon, a space and a value, as in `key: value`")
    })
}

/// Says what is wrong, given what the parser stumbled over. `open` is where the innermost bracket stands
/// that was not closed by then.
pub(super) fn explain(
    source: SourceId,
    text: &str,
    piece: Range<usize>,
    kind: &ErrorKind,
    at: usize,
    open: Option<usize>,
) -> Problem {
    let mut at = at.min(piece.end);
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    let place = Place { source, text, at };
    if matches!(kind, ErrorKind::RecursionLimitExceeded) {
        let range = place.rest_of_line(at);
        let end = text
            .get(range.start..)
            .and_then(|rest| rest.chars().next())
            .map_or(range.end, |c| range.start + c.len_utf8());
        return Problem::new(ProblemKind::TooDeep, Span::new(source, range.start, end))
            .found(format!("lists and keys nested more than {DEEPEST} levels deep"))
            .accepts(format!("at most {DEEPEST} levels"));
    }
    if let Some(problem) = near_by(&place, tab) {
        return problem;
    }
    match kind {
        ErrorKind::UnclosedQuotedScalar
        | ErrorKind::DocumentIndicatorInQuotedScalar
        | ErrorKind::InvalidQuotedScalarIndent => {
            place.of(ProblemKind::NotClosed, place.rest_of_line(at))
        }
        ErrorKind::InvalidTrailingSingleQuotedScalar | ErrorKind::InvalidTrailingDoubleQuotedScalar => place.problem(
            place.rest_of_line(at),
            "nothing behind the closing quote; inches are written 6 in, and text that holds a quote is put in quotes of the other sort",
        ),
        ErrorKind::UnknownQuotedScalarEscape
        | ErrorKind::InvalidQuotedScalarHexEscape
        | ErrorKind::InvalidLowSurrogateHexEscape
        | ErrorKind::InvalidLowSurrogate
        | ErrorKind::MissingLowSurrogate
        | ErrorKind::UnpairedLowSurrogate
        | ErrorKind::InvalidUnicodeEscape => place.problem(
            place.rest_of_line(at),
            "single quotes around text that holds a backslash: within double quotes a backslash has a meaning of its own",
        ),
        ErrorKind::UnclosedFlowCollection { .. }
        | ErrorKind::MismatchedFlowCollectionEnd { .. }
        | ErrorKind::UnexpectedEofFlowSequence
        | ErrorKind::UnexpectedEofFlowMapping
        | ErrorKind::UnexpectedEofImplicitFlowMapping
        | ErrorKind::ExpectedFlowMappingSeparator
        | ErrorKind::ExpectedFlowSequenceSeparator
        | ErrorKind::BlockEntryInFlowCollection
        | ErrorKind::FlowMappingValueAdjacentCollection
        | ErrorKind::InvalidFlowScalarIndent
        | ErrorKind::InvalidColonPlacement => bracket(&place, open),
        ErrorKind::MisplacedFlowCollectionEnd => place.problem(
            place.rest_of_line(at),
            "a closing bracket only where one was opened; text that starts with a bracket in quotes",
        ),
        ErrorKind::UnexpectedCharacter { character } if character.is_control() => {
            let there = text.get(at..).is_some_and(|rest| rest.starts_with(*character));
            let range = if there { at..at + character.len_utf8() } else { place.rest_of_line(at) };
            let mut problem = place.problem(range, "text without it; delete the sign");
            problem.found = format!("an invisible control sign (U+{:04X})", u32::from(*character));
            problem
        }
        ErrorKind::UnexpectedCharacter { character } => place.problem(
            place.rest_of_line(at),
            format!("text that starts with `{}` in quotes", character.escape_default()),
        ),
        ErrorKind::DirectiveDisallowed => {
            place.problem(place.rest_of_line(at), "no line that starts with `%`; the file starts with its first key")
        }
        ErrorKind::CommentInterceptedScalar => place.problem(
            place.rest_of_line(at),
            "a comment only behind the last line of a value; the value in quotes if the `#` belongs to it",
        ),
        ErrorKind::CommentNotSeparated => {
            place.problem(place.rest_of_line(at), "a space in front of the `#` that starts a comment")
        }
        ErrorKind::BomInsideDocument => {
            let range = place.rest_of_line(at);
            let mut problem = place.problem(range, "no such mark inside the file; delete it");
            problem.found = "an invisible byte order mark (U+FEFF)".to_owned();
            problem
        }
        ErrorKind::BlockSequenceEntryNotAllowed => place.problem(
            place.rest_of_line(at),
            "a list that starts on a line of its own below its key, each entry with `- `; a lone `-` in quotes",
        ),
        ErrorKind::MappingValueNotAllowed => second_colon(&place),
        ErrorKind::ZeroBlockScalarIndent
        | ErrorKind::InvalidBlockScalarHeader
        | ErrorKind::TabAtBlockScalarStart
        | ErrorKind::InvalidBlockScalarIndent => place.problem(
            place.rest_of_line(at),
            "`|` or `>` alone at the end of the line, and below it the text, all lines further in than the key by the same number of spaces",
        ),
        ErrorKind::MissingAnchorOrAliasName => {
            place.problem(place.rest_of_line(at), "text that starts with `&` or `*` in quotes")
        }
        ErrorKind::InvalidGlobalTagCharacter
        | ErrorKind::UndeclaredTagHandle
        | ErrorKind::ExpectedTagBang
        | ErrorKind::InvalidTagTerminator
        | ErrorKind::MissingTagUri
        | ErrorKind::UnclosedVerbatimTag
        | ErrorKind::InvalidTagEscape
        | ErrorKind::InvalidTagUtf8LeadingByte
        | ErrorKind::InvalidTagUtf8TrailingByte
        | ErrorKind::InvalidTagUtf8 => {
            place.problem(place.rest_of_line(at), "text that starts with `!` in quotes")
        }
        _ => near_by(&place, no_colon).unwrap_or_else(|| indentation(&place)),
    }
}

/// Looks for what is wrong in the line of a fault, then in the one before it and the one behind it: the fault is often
/// noticed late.
fn near_by(place: &Place<'_>, look: impl Fn(&Place<'_>, usize) -> Option<Problem>) -> Option<Problem> {
    let own = place.line_start(place.at);
    let lines = [Some(own), place.line_before(own), place.next_line(own)];
    lines.into_iter().flatten().find_map(|line| look(place, line))
}

/// A tab where the line should start with spaces.
fn tab(place: &Place<'_>, start: usize) -> Option<Problem> {
    let line = place.line_from(start);
    let margin = line.len() - line.trim_start_matches([' ', '\t']).len();
    let lead = line.get(..margin)?;
    if !lead.contains('\t') || margin == line.len() {
        return None;
    }
    let mut problem = place.of(ProblemKind::Tab, start..start + line.trim_end().len());
    problem.found = line.trim().to_owned();
    Some(problem)
}

/// Whether a word could be a key.
fn is_key(word: &str) -> bool {
    word.starts_with(char::is_alphabetic)
        && word.chars().all(|c| c.is_alphanumeric() || matches!(c, '_' | '-'))
}

/// `key:value` without the space, `key value` without the colon, or a key alone above lines that are set in.
fn no_colon(place: &Place<'_>, start: usize) -> Option<Problem> {
    let line = place.line_from(start);
    let words = line.trim_start_matches([' ', '-']);
    let word_start = start + (line.len() - words.len());
    let words = words.split(" #").next().unwrap_or(words).trim_end();
    let meant = match words.split_once(':') {
        Some((key, value)) => {
            let plain =
                !key.is_empty() && key.chars().all(|c| c.is_alphanumeric() || matches!(c, '_' | '-' | ' '));
            let tight = !value.is_empty() && !value.starts_with([' ', '\t']) && !value.starts_with("//");
            (plain && tight).then(|| format!("{key}: {value}"))?
        }
        None if line.trim_start().starts_with('-') => return None,
        None => match words.split_once(['=', ';', ' ']) {
            Some((key, value)) if is_key(key) => {
                format!("{key}: {}", value.trim_start_matches(['=', ';', ' ']))
            }
            None if is_key(words) && place.is_above_lines_set_in(start) => format!("{words}:"),
            _ => return None,
        },
    };
    let range = word_start..word_start + words.len();
    Some(place.of(ProblemKind::NoColon, range).nearest(Some(meant)))
}

/// A second colon in one line, or a value that runs on into the next key.
fn second_colon(place: &Place<'_>) -> Problem {
    let start = place.line_start(place.at);
    let line = place.line_from(start);
    let words = line.trim_start_matches([' ', '-']);
    let word_start = start + (line.len() - words.len());
    let before = place.text.get(word_start..place.at).unwrap_or("");
    if before.contains(": ") {
        return place.problem(
            word_start..word_start + words.trim_end().len(),
            "one key to a line; text that holds a colon and a space in quotes",
        );
    }
    if before.chars().count() > 1000 {
        return place.problem(word_start..place.at, "a key of at most 1000 characters");
    }
    // The lines before may have run on into this one.
    let runs_on = |line: usize| {
        let words = place.line_from(line).trim_start_matches([' ', '-']);
        let words = words.split(" #").next().unwrap_or(words);
        let alone = !words.contains(": ") && !words.trim_end().ends_with(':');
        alone.then(|| no_colon(place, line)).flatten()
    };
    place.line_before(start).and_then(runs_on).unwrap_or_else(|| indentation(place))
}

/// A bracket or brace that was opened and not closed, or not parted by commas.
fn bracket(place: &Place<'_>, open: Option<usize>) -> Problem {
    let start = open.unwrap_or(place.at);
    if let Some(word) = missing_comma(place.text.get(start..place.at).unwrap_or("")) {
        let range = start + word.start..start + word.end;
        // A key that begins a line no farther in than the one with the bracket is the next entry of the section.
        let margin = |at: usize| {
            let line = place.line_from(place.line_start(at));
            line.len() - line.trim_start().len()
        };
        let begins = place.line_start(range.start) + margin(range.start) == range.start;
        if !begins || margin(range.start) > margin(start) {
            return place.of(ProblemKind::NoComma, range);
        }
    }
    let problem = place.of(ProblemKind::NotClosed, place.rest_of_line(start));
    if place.at <= start {
        return problem;
    }
    let stop = place.rest_of_line(place.at);
    problem.also(Span::new(place.source, stop.start, stop.end), "reading stopped here")
}

/// The word in front of which a comma is missing: the key that follows a value without one, `in: bath out: hall`.
fn missing_comma(inside: &str) -> Option<Range<usize>> {
    let entry = inside.rfind([',', '{', '[']).map_or(0, |at| at + 1);
    let last = inside.get(entry..)?;
    // The text ends where the second colon stands or right behind it.
    let last = last.trim_end_matches([' ', ':']);
    let (_, value) = last.split_once(": ")?;
    let word = value.rsplit([' ', '\n']).next().filter(|word| is_key(word))?;
    let end = entry + last.len();
    (value.trim() != word).then_some(end - word.len()..end)
}

/// A line that stands too far in or too far out.
fn indentation(place: &Place<'_>) -> Problem {
    let start = place.line_start(place.at);
    let line = place.line_from(start);
    let words = line.trim_start();
    let word_start = start + (line.len() - words.len());
    let range = place.rest_of_line(if words.trim_end().is_empty() { place.at } else { word_start });
    let value = words.split(" #").next().unwrap_or(words).trim_end();
    if value.ends_with(" ?") {
        return place.problem(range, "the word unknown in place of the question mark");
    }
    place.of(ProblemKind::NotInLine, range)
}
