//! The books: what each is for this job and in law, how much of it is held, and what of it was not checked.

use super::order::by_section;
use super::{Parts, text};
use crate::findings::gather::Used;
use crate::render::papers::{Part, Table};
use crate::render::phrases::{count, in_force};
use crate::render::tell::finding::standing;
use crate::review::Review;
use crate::rulebook::checked::CheckedBook;

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
