//! What is said of files whose writing is at fault: lines, brackets, keys that stand twice, files that are no text.

use super::{Said, plainly, quoted};
use crate::base::problem::{Lost, Problem, ProblemKind};

const ALONE: &str = "A design is a file of plain text. Nothing is concluded from a file that cannot be read.";

/// The sentences of a problem with the writing of a file.
pub(super) fn writing(problem: &Problem) -> Said {
    use ProblemKind as K;
    let found = quoted(&problem.found);
    let plain = plainly(&problem.found);
    let lost = lost(problem.lost.as_deref());
    match problem.kind {
        K::NotText => not_text(&plain),
        K::StrayBytes => (
            format!("Some signs of this file cannot be read: {}.", or(&plain, "the marked one")),
            "The file was saved in an old encoding, and what the sign was meant to be is not guessed.".into(),
            "Write the sign anew, for instance 1/2 in place of a half sign, or save the file as UTF-8.".into(),
        ),
        K::TooLarge => (
            format!("The file is larger than this program reads: {}.", or(&plain, "it has too many entries")),
            lost,
            "Check that it is the file you mean. A design has a few thousand lines at most.".into(),
        ),
        K::Tab => (
            "A tab stands in front of this line.".into(),
            format!("How far in a line stands says what it belongs to, and a tab has no fixed width. {lost}"),
            "Take the tab out and put spaces there, as many as in front of the lines it belongs with.".into(),
        ),
        K::NoColon => (
            format!("Between a key and what it says belong a colon and a space: {found}."),
            lost,
            "Write the key, a colon, a space and then the value.".into(),
        ),
        K::NoComma => (
            format!("A comma is missing in front of {found}."),
            lost,
            "Put a comma between one entry and the next.".into(),
        ),
        K::NotClosed => (not_closed(&problem.found), lost, close_it(&problem.found)),
        K::NotInLine => (
            format!("This line stands too far in or too far out: {found}."),
            lost,
            match problem.also.is_empty() {
                true => "Set it exactly as far in as the other lines of its section. The line above may also lack its end.".into(),
                false => "Set it exactly as far in as the lines below it.".into(),
            },
        ),
        K::NotYaml => (
            format!("The lines cannot be made sense of from here on: {}.", or(&found, "see the mark")),
            lost,
            "Write one key to a line, then a colon, a space and the value.".into(),
        ),
        K::TooDeep => (
            "Entries stand inside entries deeper than this program reads.".into(),
            lost,
            "No design needs more than a dozen steps. Look for brackets that are opened and never closed.".into(),
        ),
        K::TooManyAliases => (
            "Repeats (* and &) would blow this file up beyond what this program reads.".into(),
            lost,
            "Write the repeated part out where it is needed.".into(),
        ),
        K::AliasToItself => (
            format!("A repeat points at the entry that holds it: {}.", or(&found, "see the mark")),
            lost,
            "Write out what was meant there.".into(),
        ),
        K::SeveralDocuments => (
            "This file holds more than one design.".into(),
            "Nobody can tell which of them is meant, so nothing was judged.".into(),
            "Keep one design to a file: take out the part that does not belong here, from the marked line on or before it."
                .into(),
        ),
        K::Empty => (
            "The file holds nothing.".into(),
            "There is nothing to review, and a review of nothing is never a success.".into(),
            "Start one with: undercroft site-visit NAME.yaml".into(),
        ),
        K::NotesOutOfTurn => (
            if plain.is_empty() {
                "These field notes are out of their turn.".into()
            } else {
                format!("These are {plain}.")
            },
            "Of design and field notes the latest counts, and what was built cannot come before it was drawn.".into(),
            "Write the day and the stage as they were, at the top of the notes: job: {date: 2026-06-03, by: R. Cole, stage: installed}.".into(),
        ),
        K::DuplicateKey => (
            format!("{} stands here a second time.", or(&found, "A key")),
            "Of two entries of one name only one can be meant. Neither is used until one is taken away, and what rests on it cannot be told.".into(),
            "Put the lines of both under one of them, or take one of the two away. Where the word is a name of your own choice, another name will do as well.".into(),
        ),
        K::KeyNotAWord => (
            format!("In front of the colon belongs a word, and there is none: {}.", or(&found, "see the mark")),
            super::NOT_STATED.into(),
            "Write a name before the colon.".into(),
        ),
        _ => (
            format!("The # cuts this line short. From it on all is a comment: {}.", or(&found, "see the mark")),
            "Half of a value may be lost without anyone noticing.".into(),
            "If the # belongs to the value, put the value in quotes. If it starts a comment, put it on a line of its own."
                .into(),
        ),
    }
}

fn or(found: &str, instead: &str) -> String {
    if found.is_empty() { instead.to_owned() } else { found.to_owned() }
}

/// What was not read because of it.
fn lost(lost: Option<&Lost>) -> String {
    let Some(Lost { section, first, last }) = lost else {
        return "What stands behind this place may not have been read, and nothing is concluded from its absence."
            .into();
    };
    let lines = if first == last { format!("Line {first}") } else { format!("Lines {first} to {last}") };
    let of = if section.is_empty() {
        String::new()
    } else {
        format!(" of the section {}", plainly(&section.join(".")))
    };
    let was = if first == last { "was" } else { "were" };
    format!("{lines}{of} {was} not read. What may stand there counts neither as stated nor as missing.")
}

/// A file that is no text, and what to do with what it seems to be.
fn not_text(seems: &str) -> Said {
    let utf_16 = seems.contains("UTF-16");
    let what = if utf_16 {
        "This file is text, but saved as UTF-16, which this program does not read.".to_owned()
    } else if seems.is_empty() {
        "This file is no plain text.".to_owned()
    } else {
        format!("This file is no plain text. It seems to be {seems}.")
    };
    let todo = if utf_16 {
        "Open it in the editor that wrote it and save it as UTF-8 (under save as, at encoding)."
    } else if seems.contains("document") || seems.contains("page") {
        "Open it in the program that wrote it and save it as plain text (.txt) with the encoding UTF-8, or write the design anew with: undercroft site-visit NAME.yaml"
    } else {
        "Check that it is the file you mean. To write a design as plain text, start with: undercroft site-visit NAME.yaml"
    };
    (what, ALONE.into(), todo.into())
}

fn not_closed(found: &str) -> String {
    let sort = match found.chars().next() {
        Some('{') => "brace {",
        Some('[') => "bracket [",
        Some('"' | '\'') => "quote",
        _ => "bracket or quote",
    };
    format!("The {sort} that opens here is never closed.")
}

fn close_it(found: &str) -> String {
    match found.chars().next() {
        Some('{') => "Write } behind its last entry.".into(),
        Some('[') => "Write ] behind its last entry.".into(),
        Some('"' | '\'') => "Close it behind the last word of the value, or take it away.".into(),
        _ => "Close it behind what belongs into it.".into(),
    }
}
