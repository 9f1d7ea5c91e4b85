//! What each sort of problem says to a person: what is wrong, why it matters, and what to do.
//!
//! Where it stands is shown by whoever prints it. The sentences are for people who never programmed. They hold no
//! quotes within quotes, and one way to mend, not three.

use crate::base::problem::{Problem, ProblemKind};

use super::amendment_words;
use super::terminal::sheet::capital;
use super::visible::{cut, one_line};

mod books;
mod entries;
mod quantities;
mod statements;
mod writing;

/// A problem in words.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Words {
    /// What is wrong, one sentence.
    pub what: String,
    /// Why it matters.
    pub why: String,
    /// What to do, one or more sentences.
    pub todo: String,
}

const NOT_STATED: &str = "What cannot be read counts as not stated, and no requirement can rest on it.";

/// What is wrong, why, what to do.
type Said = (String, String, String);

/// The problem in words.
#[must_use]
pub fn of(problem: &Problem) -> Words {
    if let Group::Statements = group(problem.kind) {
        return statements::statements(problem);
    }
    let (what, why, todo) = match group(problem.kind) {
        Group::Writing => writing::writing(problem),
        Group::Entry | Group::Statements => entries::entry(problem),
        Group::Quantity => quantities::quantity(problem),
        Group::Book => {
            let found = plainly(&problem.found);
            let said = amendment_words::of(problem.kind, &found);
            said.map(|(what, why, todo)| (what, why.to_owned(), todo.to_owned()))
                .unwrap_or_else(|| books::book(problem.kind, &found))
        }
    };
    Words { what, why, todo: with_hints(&todo, problem) }
}

enum Group {
    Writing,
    Entry,
    Statements,
    Quantity,
    Book,
}

fn group(kind: ProblemKind) -> Group {
    use ProblemKind as K;
    match kind {
        K::NotText
        | K::TooLarge
        | K::StrayBytes
        | K::NotYaml
        | K::Tab
        | K::NoColon
        | K::NoComma
        | K::NotClosed
        | K::NotInLine
        | K::TooDeep
        | K::TooManyAliases
        | K::AliasToItself
        | K::SeveralDocuments
        | K::Empty
        | K::DuplicateKey
        | K::NotesOutOfTurn
        | K::KeyNotAWord
        | K::SwallowedByComment => Group::Writing,
        K::UnknownKey
        | K::KeyMissing
        | K::NoVersion
        | K::WrongShape
        | K::UnknownWord
        | K::NoneSaysNothing
        | K::UnknownName
        | K::NamesUnread
        | K::NotInDesign
        | K::UnknownVersion
        | K::BadText
        | K::BadTime
        | K::ClockChange
        | K::NotTogether => Group::Entry,
        K::Contradiction | K::CannotBe => Group::Statements,
        K::NoUnit
        | K::UnknownUnit
        | K::WrongDimension
        | K::NotAQuantity
        | K::NotAWholeNumber
        | K::NotOneNumber
        | K::UnitsMixed
        | K::PrintersQuotes
        | K::OutOfRange
        | K::TooManyDigits => Group::Quantity,
        _ => Group::Book,
    }
}

/// Adds the likely intent and what would be accepted.
fn with_hints(todo: &str, problem: &Problem) -> String {
    let mut parts: Vec<String> = Vec::new();
    if let Some(nearest) = problem.nearest.as_deref().filter(|nearest| !nearest.is_empty()) {
        parts.push(format!("Perhaps {} was meant.", quoted(nearest)));
    }
    let accepts = plainly(&problem.accepts);
    let accepts = accepts.trim_end_matches('.');
    // Where what is accepted says all there is to do, it is the advice.
    let says_all = matches!(group(problem.kind), Group::Quantity) || problem.kind == ProblemKind::BadTime;
    if accepts.is_empty() || !says_all {
        parts.push(todo.to_owned());
    }
    if !accepts.is_empty() {
        let lead = match problem.kind {
            _ if says_all => "Write",
            ProblemKind::UnknownKey if problem.accepts.starts_with('`') => "Elsewhere there is",
            _ => "Accepted here:",
        };
        parts.push(format!("{lead} {accepts}."));
    }
    let ends_in_a_word = |part: &String| part.ends_with(|c: char| c.is_alphanumeric());
    let last = parts.len().saturating_sub(1);
    for (at, part) in parts.iter_mut().enumerate() {
        if at < last && ends_in_a_word(part) {
            part.push('.');
        }
    }
    parts.retain(|part| !part.is_empty());
    parts.join(" ")
}

/// Words as they are, what stands in backticks put in quotes, with nothing in them that acts on a screen.
fn plainly(words: &str) -> String {
    cut(&one_line(words).replace('`', "\""), 800)
}

/// What was read, in quotes, shortened, with nothing in it that acts on a screen. What holds quotes of its own goes
/// without more of them, and what stands there in words is left as it is.
fn quoted(found: &str) -> String {
    const IN_WORDS: [&str; 6] =
        ["a list", "a section", "nothing", "an invisible", "lists and keys", "aliases that"];
    if found.is_empty() || found.contains('`') || IN_WORDS.iter().any(|words| found.starts_with(words)) {
        return capital(&plainly(found));
    }
    let found = cut(&one_line(found), 60);
    let has_quotes = found.contains(['"', '\'', '“', '”', '‘', '’', '″', '′', '„']);
    if has_quotes { found } else { format!("\"{found}\"") }
}

fn also_found(found: &str) -> String {
    if found.is_empty() { String::new() } else { format!(": {found}") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::text::{SourceId, Span};

    fn bare(kind: ProblemKind) -> Problem {
        Problem::new(kind, Span::new(SourceId(0), 0, 1))
    }

    #[test]
    fn every_kind_says_what_why_and_what_to_do() {
        let programmers_words = [
            "null",
            "parse",
            "token",
            "syntax",
            "schema",
            "invalid",
            "boolean",
            "string",
            "integer",
            "float",
            "array",
            "mapping",
            "scalar",
            "sequence",
            "identifier",
            "deserialize",
            "error",
            "exception",
            "unexpected",
            "expected",
        ];
        for kind in ProblemKind::ALL {
            for problem in [
                bare(*kind),
                bare(*kind).found("5 bananas").accepts("a length, such as 5 ft").nearest(Some("5 ft".into())),
            ] {
                let words = of(&problem);
                for part in [words.what.as_str(), words.why.as_str(), words.todo.as_str()] {
                    assert!(part.chars().count() >= 12, "{kind:?}: {part:?} says too little");
                    assert!(part.starts_with(|c: char| c.is_uppercase() || c == '"'), "{kind:?}: {part:?}");
                    assert!(!part.contains(".."), "{kind:?}: {part:?}");
                    assert!(!part.contains("  "), "{kind:?}: {part:?}");
                    let lower = part.to_lowercase();
                    for word in programmers_words {
                        assert!(
                            !lower.split(|c: char| !c.is_alphabetic()).any(|w| w == word),
                            "{kind:?}: {word:?} in {part:?}"
                        );
                    }
                }
                assert!(words.what.ends_with('.') && words.why.ends_with('.'), "{kind:?}: {words:?}");
                if !problem.accepts.is_empty() {
                    assert!(words.todo.contains("a length, such as 5 ft"), "{kind:?}: {words:?}");
                    assert!(words.todo.contains("Perhaps \"5 ft\" was meant."), "{kind:?}: {words:?}");
                }
            }
        }
    }

    #[test]
    fn no_two_kinds_say_the_same() {
        let mut said: Vec<_> = ProblemKind::ALL.iter().map(|kind| of(&bare(*kind)).what).collect();
        said.sort();
        let count = said.len();
        said.dedup();
        assert_eq!(said.len(), count);
    }

    #[test]
    fn what_was_read_cannot_act_on_the_screen() {
        let words = of(&bare(ProblemKind::UnknownWord).found("\u{1b}[2Jx".repeat(100)));
        assert!(!words.what.contains('\u{1b}'));
        assert!(words.what.chars().count() < 140, "{}", words.what);
    }
}
