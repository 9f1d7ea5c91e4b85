//! The books: what each is for this job and in law, how much of it is held, and what of it was not checked.

use std::sync::Arc;

use super::clauses::document_of;
use super::order::by_section;
use super::{Parts, text};
use crate::facts::vocabulary;
use crate::findings::gather::Used;
use crate::render::amended::{decision, decisions, in_words};
use crate::render::papers::{Part, Table};
use crate::render::phrases::{count, in_force};
use crate::render::tell::finding::standing;
use crate::render::terminal::sheet::capital;
use crate::render::visible::one_line;
use crate::review::Review;
use crate::rulebook::authors::Amendment;
use crate::rulebook::checked::{CheckedBook, Citation};

/// The books that were used, on one table.
pub(super) fn used(parts: &mut Parts, review: &Review<'_>) {
    if review.used.is_empty() {
        return parts.words("No rulebook was used: the design names none.");
    }
    let row = |used: &Used<'_>| {
        let book = used.book;
        let standing = match (used.in_force, used.proven) {
            (true, true) => standing(used.standing).to_owned(),
            (false, _) => format!("{}, but not in force on the day of the review", standing(used.standing)),
            (_, false) => format!("{}, but its own cases do not bear it out", standing(used.standing)),
        };
        let by_eye = count(book.left_to_the_eye.len(), "clause", "clauses");
        let not_held = count(book.not_held.len(), "clause or stretch", "clauses or stretches");
        let held = format!(
            "{} carried, {by_eye} left to the eye, {not_held} of which the text is not held",
            count(book.rules.len(), "requirement", "requirements")
        );
        vec![
            format!("{}: {}", book.name, book.title),
            format!("{}; in force: {}", book.edition, in_force(book)),
            standing,
            book.legal_nature.trim().to_owned(),
            held,
        ]
    };
    parts.0.push(Part::Table(Table {
        caption: "Rulebooks that the design names, and what each is in law".to_owned(),
        head: ["rulebook", "edition", "for this job", "in law", "how much of it is held"]
            .map(str::to_owned)
            .to_vec(),
        rows: review.used.iter().map(row).collect(),
        shares: vec![22, 16, 13, 27, 22],
        ruled: false,
    }));
    if !review.design.job.codes.things().any(|(_, code)| text(&code.edition).is_some()) {
        parts.words("Which building and electrical codes are adopted here the design does not say; the cover has room.");
    }
}

/// What a book changes in the rules that it takes over from others, and what of them it does not ask, with who decided so
/// and why.
pub(super) fn changed(parts: &mut Parts, book: &CheckedBook) {
    let clause = |source: &Citation, title: &str| {
        let section = if source.section.is_empty() { String::new() } else { format!(", {}", source.section) };
        format!("{title} ({}{section})", document_of(book, source))
    };
    let why = |amendments: &[Arc<Amendment>]| {
        let said: Vec<String> =
            amendments.iter().map(|one| one_line(&one.because).trim().to_owned()).collect();
        said.join(" ")
    };
    let mut rows = Vec::new();
    for rule in &book.rules {
        if let Some(by) = decisions(rule) {
            let change = in_words(rule, vocabulary()).join("; ");
            let change = if change.is_empty() { "its wording".to_owned() } else { capital(&change) };
            rows.push(vec![clause(&rule.source, &rule.title), change, by, why(&rule.authors.amendments)]);
        }
    }
    for one in &book.withdrawn {
        rows.push(vec![
            clause(&one.source, &one.title),
            "Withdrawn: not asked any more".to_owned(),
            decision(&one.amendment),
            why(std::slice::from_ref(&one.amendment)),
        ]);
    }
    if rows.is_empty() {
        return;
    }
    let from = book.builds_on.join(" and ");
    parts.0.push(Part::Table(Table {
        caption: format!("What this book changes of what it takes over from {from}"),
        head: ["clause", "what is changed", "decided by", "why"].map(str::to_owned).to_vec(),
        rows,
        shares: vec![28, 26, 20, 26],
        ruled: false,
    }));
}

/// What of a book nothing here was held against: clauses for the eye with room for the inspector, and texts not held.
pub(super) fn not_checked(parts: &mut Parts, book: &CheckedBook) {
    if !book.left_to_the_eye.is_empty() {
        let mut list: Vec<&(String, String)> = book.left_to_the_eye.iter().collect();
        list.sort_by(|(a, _), (b, _)| by_section(a, b));
        let row = |(section, look): &(String, String)| vec![section.clone(), look.clone(), String::new()];
        parts.0.push(Part::Table(Table {
            caption: "Not checked here: look at it yourself".to_owned(),
            head: ["section", "what to look at", "inspector"].map(str::to_owned).to_vec(),
            rows: list.into_iter().map(row).collect(),
            shares: vec![18, 60, 22],
            ruled: true,
        }));
    }
    if !book.not_held.is_empty() {
        let mut list: Vec<&(String, String)> = book.not_held.iter().collect();
        list.sort_by(|(a, _), (b, _)| by_section(a, b));
        let row =
            |(section, subject): &(String, String)| vec![section.clone(), subject.clone(), String::new()];
        parts.0.push(Part::Table(Table {
            caption: "Not checked here: the text is not held, so read it in the code".to_owned(),
            head: ["section", "what it is about", "inspector"].map(str::to_owned).to_vec(),
            rows: list.into_iter().map(row).collect(),
            shares: vec![18, 60, 22],
            ruled: true,
        }));
    }
}
