//! What made a difference, in words.

use super::was_is;
use crate::findings::compare::account::Account;
use crate::findings::compare::{Cause, Change, Comparison, Factor, How, OfBook, RuleChange, Why};
use crate::render::phrases::{count, day, spoken};
use crate::render::visible::{cut, one_line};

/// Longer values than this are cut where they are told within a sentence.
const MOST_WORDS: usize = 60;

/// No more entries than this are named for one verdict.
const MOST_ENTRIES: usize = 4;

/// The causes of one verdict, a row for each; the last row says how they are known, where that has to be said.
#[must_use]
pub fn rows(why: &Why) -> Vec<(String, String)> {
    let mut rows = Vec::new();
    for (at, cause) in why.causes.iter().enumerate() {
        let label = match (at, why.how) {
            (0, How::OneOf) => "perhaps",
            (0, _) => "because",
            (_, How::Each | How::OneOf) => "or",
            (_, _) => "and",
        };
        rows.push((label.to_owned(), one(cause)));
    }
    let known = how(why);
    if !known.is_empty() {
        rows.push(("known by".to_owned(), known.to_owned()));
    }
    rows
}

/// How a cause is known.
fn how(why: &Why) -> &'static str {
    match (why.how, why.causes.len()) {
        // That it was tried alone is said once, above all of them.
        (How::Only | How::Alone, _) => "",
        (How::Each, _) => "judging anew: each of them turns the verdict by itself",
        (How::Together, 1) => "judging anew: without it the verdict stays, and by itself it does not turn it",
        (How::Together, _) => "judging anew: only all of them together turn the verdict",
        (How::Told, 1) => "what the verdict rests on, in the two reviews",
        (How::Told, _) => {
            "what the verdict rests on, in the two reviews; they do not tell whether one would have done"
        }
        (How::OneOf, _) => "nothing; these moved, and the two reviews do not tell which of them did it",
        (How::NotTold, _) => "nothing: the two reviews hold nothing that moved, so the cause cannot be told",
    }
}

/// One cause.
#[must_use]
pub fn one(cause: &Cause) -> String {
    match cause {
        Cause::Design(entries) if entries.is_empty() => {
            "the design; which entry it was cannot be told".to_owned()
        }
        Cause::Design(entries) => format!("the design: {}", listed(entries)),
        Cause::SomeOfDesign(entries) => format!(
            "the design: one or several of {}; which cannot be told, for it is not kept what the verdict rested on: {}",
            count(entries.len(), "entry", "entries"),
            listed(entries)
        ),
        Cause::Variance(name, _) if name.is_empty() => "the variances of the design".to_owned(),
        Cause::Variance(name, entries) if entries.is_empty() => format!("the variance {}", spoken(name)),
        Cause::Variance(_, entries) => format!("the variance on file: {}", listed(entries)),
        Cause::Book(book, OfBook::Something) => format!("the book {book}"),
        Cause::Book(book, OfBook::Silent) => format!(
            "the book {book}: it gave verdicts on one side alone; on the other it has a fault or is not at hand"
        ),
        Cause::Book(book, OfBook::Covers(covers)) => {
            let (was, is) = (covers.was.as_deref(), covers.is.as_deref());
            format!("the book {book}: what it covers {}", was_is(was, is))
        }
        Cause::Book(book, OfBook::Rule(rule)) => format!("the book {book}: {}", of_rule(rule)),
        Cause::Date(was, is, variance) => {
            let said = |on: &Option<String>| on.as_deref().map_or_else(|| "none".to_owned(), day);
            let by = variance.as_ref().map_or_else(String::new, |name| {
                format!("; the variance {} holds on one of them only", spoken(name))
            });
            format!("the day of the review: was {}, is {}{by}", said(was), said(is))
        }
        Cause::Program(was, is) if was == is => format!("the program: version {was} built from other code"),
        Cause::Program(was, is) => format!("the program: was version {was}, is {is}"),
    }
}

/// Entries that moved, the first few of them.
fn listed(entries: &[Change]) -> String {
    let mut said: Vec<String> = entries.iter().take(MOST_ENTRIES).map(entry).collect();
    if let Some(more) = entries.len().checked_sub(MOST_ENTRIES).filter(|more| *more > 0) {
        said.push(format!("and {}", count(more, "more entry", "more entries")));
    }
    said.join("; ")
}

/// An entry that moved, with what was and is.
#[must_use]
pub fn entry(change: &Change) -> String {
    let short = |text: &Option<String>| text.as_ref().map(|text| cut(&one_line(text), MOST_WORDS));
    let of = if change.is.is_some() { "" } else { " of the older" };
    let place = match (&change.file, change.line) {
        (_, 0) => String::new(),
        (Some(file), line) => format!(" ({}, line {line})", one_line(file)),
        (None, line) => format!(" (line {line}{of})"),
    };
    if change.is_thing {
        let what = if change.is.is_some() { "is new" } else { "is gone" };
        return format!("{} {what}{place}", change.entry);
    }
    let (was, is) = (short(&change.was), short(&change.is));
    format!("{}: {}{place}", change.entry, was_is(was.as_deref(), is.as_deref()))
}

/// What moved in a requirement, in one phrase.
#[must_use]
pub fn of_rule(change: &RuleChange) -> String {
    let name = change.rule().map_or("", |rule| rule.name.as_str());
    match (&change.was, &change.is) {
        (None, _) => format!("{name} is new in it"),
        (_, None) => format!("{name} was withdrawn"),
        _ => {
            let moved = |one: &crate::findings::compare::books::FieldMove| {
                let (was, is) = (one.was.as_deref(), one.is.as_deref());
                let short = |text: Option<&str>| text.map(|text| cut(&one_line(text), MOST_WORDS));
                let (was, is) = (short(was), short(is));
                format!("{}: {}", spoken(&one.field), was_is(was.as_deref(), is.as_deref()))
            };
            let said: Vec<String> = change.limits.iter().chain(asked(change)).map(moved).collect();
            if said.is_empty() {
                format!("{name} means something else")
            } else {
                format!("{name}, {}", said.join("; "))
            }
        }
    }
}

/// The fields of a requirement that are part of what it asks, in the order told.
fn asked(change: &RuleChange) -> impl Iterator<Item = &crate::findings::compare::books::FieldMove> {
    const ASKED: [&str; 7] = ["verb", "disputed", "due", "stops", "asked of", "asked when", "requires"];
    change.fields.iter().filter(|one| ASKED.contains(&one.field.as_str()))
}

/// What moved between the two at all, and what did not, in two sentences.
#[must_use]
pub fn moved(comparison: &Comparison, old: &Account, new: &Account) -> String {
    let stated = &comparison.stated;
    let has = |factor: Factor| comparison.moved.contains(&factor);
    let mut moved: Vec<String> = Vec::new();
    let mut kept: Vec<&str> = Vec::new();
    let mut note = |moves: bool, said: String, word: &'static str| {
        if moves { moved.push(said) } else { kept.push(word) }
    };
    let papers = stated.entries.iter().filter(|one| one.entry.starts_with("variances")).count();
    let entries = count(stated.entries.len().saturating_sub(papers), "entry", "entries");
    let design = if stated.known {
        format!("the design ({entries})")
    } else {
        "the design (the reviews do not hold its entries)".to_owned()
    };
    note(has(Factor::Design), design, "the design");
    let variances = format!("the variances ({})", count(papers, "entry", "entries"));
    note(has(Factor::Variance), variances, "the variances");
    let books: Vec<&str> = comparison.books.iter().map(|book| book.name.as_str()).collect();
    note(has(Factor::Book), format!("the books ({})", books.join(", ")), "the books");
    let said = |on: &Option<String>| on.as_deref().map_or_else(|| "no day".to_owned(), day);
    note(has(Factor::Date), format!("the day (from {} to {})", said(&old.day), said(&new.day)), "the day");
    let (was, is) = (&old.program.version, &new.program.version);
    let program = if was == is {
        format!("the program (version {was}, built from other code)")
    } else {
        format!("the program (version {was} to {is})")
    };
    note(has(Factor::Program), program, "the program");
    let mut said = if moved.is_empty() {
        "Nothing that is stated or asked moved.".to_owned()
    } else {
        format!("Moved: {}.", moved.join(", "))
    };
    if !moved.is_empty() && !kept.is_empty() {
        said.push_str(&format!(" As before: {}.", kept.join(", ")));
    }
    said
}
