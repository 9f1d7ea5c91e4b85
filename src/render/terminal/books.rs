//! The books on the page: what each is in law, how much of it is held, and how it stands in a design.

use std::collections::BTreeMap;

use super::sheet::{Sheet, Tone};
use super::{Look, in_force, problems};
use crate::base::problem::Problem;
use crate::base::text::Sources;
use crate::render::phrases::{basis_short, count, day, in_few_words, in_force as in_force_words};
use crate::rulebook::checked::{Basis, CheckedBook};

/// What is asked about the books.
#[derive(Clone, Copy, Debug)]
pub struct Asked<'a> {
    /// The design, if one was named.
    pub design: Option<&'a str>,
    /// How each book stands in it, by its name.
    pub standings: &'a BTreeMap<String, String>,
    /// The books it uses.
    pub used: &'a [&'a CheckedBook],
    /// The day asked about.
    pub on: Option<&'a str>,
}

/// The books: for a design those it uses in full, each of the others in a few words.
#[must_use]
pub fn list(books: &[&CheckedBook], of: &Asked<'_>, sources: &Sources, look: &Look) -> String {
    let mut sheet = Sheet::new(look);
    sheet.paragraph(0, &format!("The {}", count(books.len(), "rulebook", "rulebooks")), Tone::Heading);
    if let Some(design) = of.design {
        sheet.paragraph(0, &format!("as they stand in {design}"), Tone::Quiet);
    }
    let stands = |book: &&&CheckedBook| of.used.iter().any(|used| used.name == book.name);
    for book in books.iter().filter(stands) {
        in_full(&mut sheet, book, of);
    }
    let rest: Vec<&CheckedBook> = books.iter().filter(|book| !stands(book)).copied().collect();
    if of.design.is_some() && !rest.is_empty() {
        sheet.rule("Not named there");
    } else {
        sheet.blank();
    }
    in_brief(&mut sheet, &rest);
    in_force::in_force(&mut sheet, of.used, sources);
    let mut doubts: Vec<&Problem> = Vec::new();
    for doubt in books.iter().flat_map(|book| &book.doubts) {
        if !doubts.contains(&doubt) {
            doubts.push(doubt);
        }
    }
    for doubt in doubts {
        problems::problem(&mut sheet, sources, None, doubt);
    }
    sheet.blank();
    sheet.paragraph(
        0,
        "A design names the books that count on its site under job, rulebooks. None is switched on silently. The whole of \
         one: undercroft rulebook page BOOK",
        Tone::Quiet,
    );
    sheet.finish()
}

/// Books of which no more is asked than what they are.
fn in_brief(sheet: &mut Sheet<'_>, books: &[&CheckedBook]) {
    let said = |book: &CheckedBook| {
        let instead =
            if book.in_place { "; in the place of the one that comes with the program" } else { "" };
        format!(
            "{}; {}; {}{instead}",
            book.title,
            in_few_words(&book.legal_nature),
            count(book.rules.len(), "requirement", "requirements")
        )
    };
    if sheet.look().plain {
        for book in books {
            sheet.paragraph(0, &format!("{}: {}.", book.name, said(book)), Tone::Ink);
        }
        return;
    }
    let rows: Vec<Vec<String>> = books.iter().map(|book| vec![book.name.clone(), said(book)]).collect();
    sheet.table(&rows, Tone::Ink);
}

/// A book that a design uses: what it is, and how much of it is held.
fn in_full(sheet: &mut Sheet<'_>, book: &CheckedBook, of: &Asked<'_>) {
    sheet.heading(&format!("{}: {}", book.name, book.title), Tone::Heading);
    let standing = of.standings.get(&book.name).map_or("not named there", String::as_str);
    let standing = if book.always { "always reviewed, whatever the design names" } else { standing };
    sheet.row("stands", standing);
    if book.in_place {
        sheet.row("instead", "it stands in the place of the book of this name that comes with the program");
    }
    sheet.row("builds on", &book.builds_on.join(", "));
    sheet.row("edition", &format!("{}, {}", book.edition, book.publisher));
    sheet.row("in force", &in_force_words(book));
    if let Some(on) = of.on
        && !book.is_in_force(on)
    {
        sheet.toned_row("", &format!("not on {}, the day that is asked about", day(on)), Tone::Open);
    }
    sheet.row("in law", &book.legal_nature);
    sheet.row("covers", &book.covers);
    sheet.row("held", &held(book));
    for (at, source) in book.sources.iter().enumerate() {
        let said = [source.title.as_str(), source.publisher.as_str(), source.year.as_str()];
        let said: Vec<&str> = said.into_iter().filter(|part| !part.is_empty()).collect();
        sheet.row(
            if at == 0 { "sources" } else { "" },
            &format!("{} ({})", said.join(", "), basis_short(source.basis)),
        );
    }
}

/// How much of a book is held: requirements by how they are known, what is left to the eye, what is not held.
fn held(book: &CheckedBook) -> String {
    let mut by_basis: BTreeMap<Basis, usize> = BTreeMap::new();
    for rule in &book.rules {
        *by_basis.entry(rule.source.basis).or_default() += 1;
    }
    let known: Vec<String> =
        by_basis.iter().map(|(basis, n)| format!("{n} {}", basis_short(*basis))).collect();
    let mut said = format!("{} checked", count(book.rules.len(), "requirement", "requirements"));
    if !known.is_empty() {
        said.push_str(&format!(" ({})", known.join(", ")));
    }
    said.push_str(&format!("; {} left to the eye", count(book.left_to_the_eye.len(), "clause", "clauses")));
    said.push_str(&format!("; {} whose text is not held", count(book.not_held.len(), "clause", "clauses")));
    said
}
