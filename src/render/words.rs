//! What each sort of problem says to a person: what is wrong, why it matters, and what to do.
//!
//! Where it stands is shown by whoever prints it. The sentences are for people who never programmed.

use crate::base::problem::{Problem, ProblemKind, Weight};

use super::amendment_words;
use super::terminal::sheet::capital;
use super::visible::{cut, one_line};

/// A problem in words.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Words {
    /// What is wrong, one sentence.
    pub what: String,
    /// Why it matters, one sentence.
    pub why: &'static str,
    /// What to do, one or more sentences.
    pub todo: String,
}

/// How a problem of this weight is headed.
#[must_use]
pub fn weight_words(weight: Weight) -> &'static str {
    match weight {
        Weight::Doubt => "Read, but perhaps not as meant",
        Weight::Entry => "Could not be read; counts as not stated",
        Weight::Whole => "Could not be used at all",
    }
}

const NOT_STATED: &str = "What cannot be read counts as not stated, and no requirement can rest on it.";
const NOTHING_READ: &str = "Nothing of the file can be used until this is mended.";
const BOOK_STOPS: &str =
    "A rulebook with a fault in it gives no verdicts at all, so that none of them is wrong.";

/// The problem in words.
#[must_use]
pub fn of(problem: &Problem) -> Words {
    let found = quoted(&problem.found);
    let (what, why, todo) = match group(problem.kind) {
        Group::Text => text(problem.kind, &found, &plainly(&problem.found)),
        Group::Shape if problem.kind == ProblemKind::Contradiction => contradiction(&plainly(&problem.found)),
        Group::Shape if problem.kind == ProblemKind::CannotBe => return cannot_be(problem),
        Group::Shape => shape(problem.kind, &found),
        Group::Quantity => quantity(problem.kind, &found),
        Group::Book => {
            let found = plainly(&problem.found);
            amendment_words::of(problem.kind, &found).unwrap_or_else(|| book(problem.kind, &found))
        }
    };
    Words { what, why, todo: with_hints(todo, problem) }
}

enum Group {
    Text,
    Shape,
    Quantity,
    Book,
}

fn group(kind: ProblemKind) -> Group {
    use ProblemKind as K;
    match kind {
        K::NotText
        | K::TooLarge
        | K::NotYaml
        | K::TooDeep
        | K::TooManyAliases
        | K::AliasToItself
        | K::SeveralDocuments
        | K::Empty
        | K::DuplicateKey
        | K::KeyNotAWord
        | K::NotesOutOfTurn
        | K::SwallowedByComment => Group::Text,
        K::UnknownKey
        | K::KeyMissing
        | K::WrongShape
        | K::UnknownWord
        | K::UnknownName
        | K::UnknownVersion
        | K::BadText
        | K::BadTime
        | K::ClockChange
        | K::Contradiction
        | K::CannotBe
        | K::NotTogether => Group::Shape,
        K::NoUnit
        | K::UnknownUnit
        | K::WrongDimension
        | K::NotAQuantity
        | K::OutOfRange
        | K::TooManyDigits => Group::Quantity,
        _ => Group::Book,
    }
}

type Said = (String, &'static str, &'static str);

fn text(kind: ProblemKind, found: &str, plain: &str) -> Said {
    use ProblemKind as K;
    match kind {
        K::NotText => (
            format!("The file is not plain text{}.", also_found(plain)),
            NOTHING_READ,
            "Save it as plain text (UTF-8) and try again. A picture, a PDF or a word-processor file cannot be read.",
        ),
        K::TooLarge => (
            format!("The file is larger than this program reads{}.", also_found(plain)),
            NOTHING_READ,
            "Check that it is the file you mean. A design has a few thousand lines at most.",
        ),
        K::NotYaml => (
            if found.is_empty() {
                "The lines cannot be made sense of from here on.".into()
            } else {
                format!("The lines cannot be made sense of from here on: {found}.")
            },
            "What its section says after this place cannot be read, and nothing is concluded from its absence.",
            "Look for a key without its colon, a quote or bracket that is not closed, a tab in place of spaces, or a line that is not set under the one it belongs to.",
        ),
        K::TooDeep => (
            "Entries stand inside entries deeper than this program reads.".into(),
            NOTHING_READ,
            "No design needs more than a dozen steps. Look for brackets that are opened and never closed.",
        ),
        K::TooManyAliases => (
            "Repeats (* and &) would blow this file up beyond what this program reads.".into(),
            NOTHING_READ,
            "Write the repeated part out where it is needed.",
        ),
        K::AliasToItself => (
            format!("A repeat points at the entry that holds it{}.", also_found(found)),
            NOTHING_READ,
            "Write out what was meant there.",
        ),
        K::SeveralDocuments => (
            "The file holds more than one document (a line of three dashes parts them).".into(),
            NOTHING_READ,
            "Keep one design to a file; take out the line of dashes or split the file.",
        ),
        K::Empty => (
            "The file holds nothing.".into(),
            "There is nothing to review, and a review of nothing is never a success.",
            "Start one with: undercroft site-visit NAME.yaml",
        ),
        K::NotesOutOfTurn => (
            if plain.is_empty() {
                "These field notes are out of their turn.".into()
            } else {
                format!("These are {plain}.")
            },
            "Of design and field notes the latest counts, and what was built cannot come before it was drawn.",
            "Correct the day or the stage, or leave these notes away.",
        ),
        K::DuplicateKey => (
            format!("{} stands here a second time.", or(found, "A key")),
            "Of two entries of one name only one can be meant, and this program does not choose. The first is kept.",
            "Take one of the two away, or give it another name.",
        ),
        K::KeyNotAWord => (
            format!("A key has to be a word, and this is not one{}.", also_found(found)),
            NOT_STATED,
            "Write a name before the colon.",
        ),
        _ => (
            format!("The # cuts this line short: everything from it on is a comment{}.", also_found(found)),
            "Half of a value may be lost without anyone noticing.",
            "If the # belongs to the value, put the value in quotes. If it starts a comment, put it on a line of its own.",
        ),
    }
}

fn shape(kind: ProblemKind, found: &str) -> Said {
    use ProblemKind as K;
    match kind {
        K::UnknownKey => (
            format!("{} is not a key that belongs here.", or(found, "This")),
            "A key that is not known is not read: what stands under it counts as not stated.",
            "Correct its spelling or move it to where it belongs.",
        ),
        K::KeyMissing => (
            format!("{} has to be stated here and is not.", or(found, "An entry")),
            NOT_STATED,
            "Add it. If nobody knows it yet, write: unknown",
        ),
        K::WrongShape => (
            format!("{} has another form than this entry takes.", or(found, "What stands here")),
            NOT_STATED,
            "Write it in the form that is accepted.",
        ),
        K::UnknownWord => (
            format!("{} is not one of the words this entry takes.", or(found, "This")),
            NOT_STATED,
            "Choose one of the words that are accepted, or write: unknown",
        ),
        K::UnknownName => (
            format!("{} is a name that nothing in this file has.", or(found, "This")),
            "An entry that points at nothing says nothing, so it counts as not stated.",
            "Correct its spelling, or add the thing that it names.",
        ),
        K::UnknownVersion => (
            format!("{} is not a version of the file form that this program reads.", or(found, "This")),
            "Entries may mean something else in another version, so nothing of the file is used.",
            "Write at the top of the file: undercroft: 1",
        ),
        K::BadText => (
            format!("{} cannot stand here.", or(found, "This text")),
            NOT_STATED,
            "Write it again in plain words.",
        ),
        K::BadTime => (
            format!("{} cannot be read as a date or a time.", or(found, "This")),
            "Time limits count days and hours, so a date must be beyond doubt.",
            "Write dates as 2026-05-12, and times as 2026-05-12 14:30 with the site's zone stated.",
        ),
        K::ClockChange => (
            format!("{} is an hour that the clocks there show twice, or skip.", or(found, "This")),
            "Hours are counted exactly, and this one could be either of two moments, or none.",
            "Add the offset from universal time, for instance 2026-11-01 01:30 -04:00.",
        ),
        _ => (
            format!("{} cannot stand together with another entry here.", or(found, "This")),
            NOT_STATED,
            "Keep one of the two.",
        ),
    }
}

fn contradiction(found: &str) -> Said {
    (
        if found.is_empty() {
            "Two statements about the same thing do not agree.".into()
        } else {
            format!("Not all that is stated can be true. {}.", capital(found.trim_end_matches('.')))
        },
        "Until it is settled, a value counts as lying anywhere between what is stated, and a word as not known.",
        "Measure again, and correct whichever is wrong.",
    )
}

fn cannot_be(problem: &Problem) -> Words {
    let found = plainly(&problem.found);
    let mut todo = match &problem.nearest {
        Some(nearest) if !nearest.is_empty() => format!("Perhaps {} was meant. ", quoted(nearest)),
        _ => String::new(),
    };
    if problem.accepts.is_empty() {
        todo.push_str("Correct whichever of the places is wrong.");
    } else if problem.accepts.starts_with(char::is_uppercase) {
        todo.push_str(&format!("{}.", plainly(&problem.accepts).trim_end_matches('.')));
    } else {
        todo.push_str(&format!("Accepted here: {}.", plainly(&problem.accepts).trim_end_matches('.')));
    }
    Words {
        what: if found.is_empty() {
            "What is written here cannot be.".into()
        } else {
            format!("This cannot be. {}.", capital(found.trim_end_matches('.')))
        },
        why: "One of the places has to be wrong, and until it is settled nothing is concluded from them that turns \
              on which.",
        todo,
    }
}

fn quantity(kind: ProblemKind, found: &str) -> Said {
    use ProblemKind as K;
    match kind {
        K::NoUnit => (
            format!("{} has no unit.", or(found, "This number")),
            "A bare number could be feet, inches or millimetres, and this program never guesses.",
            "Write the unit behind it.",
        ),
        K::UnknownUnit => (
            format!("The unit in {} is not known.", or(found, "this entry")),
            NOT_STATED,
            "Write the unit as the trade writes it: ft, in, cfm, in WC, Pa, degF.",
        ),
        K::WrongDimension => (
            format!("{} is a quantity of another kind than this entry takes.", or(found, "This")),
            NOT_STATED,
            "Check that the number stands under the right key and has the right unit.",
        ),
        K::NotAQuantity => (
            format!("{} cannot be read as a quantity.", or(found, "This")),
            NOT_STATED,
            "Write a number and its unit, or write: unknown",
        ),
        K::OutOfRange => (
            format!("{} is outside what makes sense here.", or(found, "This value")),
            "A value that cannot be right would make every verdict that rests on it wrong.",
            "Check the number and its unit.",
        ),
        _ => (
            format!("{} has more digits than this program keeps exactly.", or(found, "This number")),
            "What was declared is compared to the last digit, so none may be dropped in silence.",
            "Write it with at most 18 digits.",
        ),
    }
}

fn book(kind: ProblemKind, found: &str) -> Said {
    use ProblemKind as K;
    match kind {
        K::UnknownBook => (
            if found.is_empty() {
                "The design names no rulebook.".into()
            } else {
                format!("The rulebook {found} is not one that this program holds.")
            },
            "Without a rulebook there is nothing to check against, and no check is never a success.",
            "Name the books that count on this site under job: rulebooks:, each as adopted, by contract or for information. See them with: undercroft rulebook list",
        ),
        K::NameDiffers => (
            format!("The name of this file and the name written in it differ{}.", also_found(found)),
            BOOK_STOPS,
            "Give both the same name.",
        ),
        K::BadExpression => (
            format!("The words of this rule cannot be read from here on{}.", also_found(found)),
            BOOK_STOPS,
            "Write it as the page on the rule language shows.",
        ),
        K::UnknownInExpression => (
            format!("A rule cannot ask for this here{}.", also_found(found)),
            BOOK_STOPS,
            "Correct its spelling. What can be asked of each thing is listed by: undercroft rulebook words",
        ),
        K::KindsDiffer => (
            format!("What stands here is not of the kind that is wanted{}.", also_found(found)),
            BOOK_STOPS,
            "A length goes with a length, a word with the words of its own list, a thing with one of its own kind.",
        ),
        K::NameClash => (
            format!("This name belongs to something else{}.", also_found(found)),
            BOOK_STOPS,
            "Choose another name for the limit or for the thing.",
        ),
        K::EmptyNotSaid => (
            "This rule does not say what holds when there are none.".into(),
            BOOK_STOPS,
            "Add after it: , or met if there are none (or unmet, or undetermined).",
        ),
        K::BadMessage => (
            format!("This message asks for something it may not{}.", also_found(found)),
            BOOK_STOPS,
            "A message may use the thing the rule is asked of, the limits, and what stands at the top.",
        ),
        K::UnusedLimit => (
            format!("The rule never uses this limit{}.", also_found(found)),
            "A number that decides nothing is a number that somebody believes in. A rulebook with a fault in it gives no verdicts.",
            "Use it in the rule, or take it away.",
        ),
        K::LimitWithoutWords => (
            format!("Nothing says whether the limit itself is enough{}.", also_found(found)),
            BOOK_STOPS,
            "Say how the source places it: at least, at most, more than or less than.",
        ),
        K::BadRule => (
            format!("This rule cannot be used as it stands{}.", also_found(found.trim_end_matches('.'))),
            BOOK_STOPS,
            "Mend the entry that is marked.",
        ),
        K::CaseFails => (
            format!("A case does not come out as its author says{}.", also_found(found)),
            "Either the rule or the case is wrong, and until that is known the rule proves nothing.",
            "Mend whichever of the two is wrong, and run: undercroft rulebook prove",
        ),
        K::BookOutOfDate => (
            format!(
                "{} is not in force on the day of this review.",
                if found.is_empty() { "A rulebook".to_owned() } else { format!("The rulebook {found}") }
            ),
            "Verdicts under it tell what it would ask for, not what counts on that day.",
            "Check the date of the job, or name the edition that was in force.",
        ),
        _ => (
            "This part of a rulebook cannot be used as it stands.".into(),
            BOOK_STOPS,
            "Mend the entry that is marked.",
        ),
    }
}

/// Adds the likely intent and what would be accepted.
fn with_hints(todo: &str, problem: &Problem) -> String {
    let mut out = String::new();
    if let Some(nearest) = &problem.nearest
        && !nearest.is_empty()
    {
        out.push_str(&format!("Perhaps {} was meant. ", quoted(nearest)));
    }
    out.push_str(todo);
    if !problem.accepts.is_empty() {
        if !out.ends_with('.') {
            out.push('.');
        }
        let accepts = plainly(&problem.accepts);
        out.push_str(&format!(" Accepted here: {}", accepts.trim_end_matches('.')));
    }
    if !out.ends_with('.') && !todo.contains(": undercroft") && !problem.accepts.is_empty() {
        out.push('.');
    }
    out
}

/// Words as they are, what stands in backticks put in quotes, with nothing in them that acts on a screen.
fn plainly(words: &str) -> String {
    cut(&one_line(words).replace('`', "\""), 400)
}

/// What was read, in quotes, shortened, with nothing in it that acts on a screen. What stands there in words
/// is left as it is.
fn quoted(found: &str) -> String {
    const IN_WORDS: [&str; 6] =
        ["a list", "a section", "nothing", "an invisible", "lists and keys", "aliases that"];
    if found.is_empty() || found.contains('`') || IN_WORDS.iter().any(|words| found.starts_with(words)) {
        return capital(&plainly(found));
    }
    format!("\"{}\"", cut(&one_line(found), 60))
}

fn or(found: &str, instead: &str) -> String {
    if found.is_empty() { instead.to_owned() } else { found.to_owned() }
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
                for part in [words.what.as_str(), words.why, words.todo.as_str()] {
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
