//! Whether a record of a review still stands, in words and as a report for machines.

use serde::Serialize;
use serde_json::Value;

use super::Sides;
use crate::findings::compare::Comparison;
use crate::findings::compare::account::{Account, Program};
use crate::findings::record::{Made, Moved, Now};
use crate::render::json::{Signed, program, to_text, wire};
use crate::render::phrases::{count, day};
use crate::render::terminal::Look;
use crate::render::terminal::sheet::{Sheet, Tone};
use crate::render::visible::one_line;

/// The version of the form. It changes when a reader of the old one would go wrong.
pub const FORM: u32 = 1;

/// A record held against what is there now.
#[derive(Clone, Copy, Debug)]
pub struct Standing<'a> {
    /// The file of the record.
    pub record: &'a str,
    /// The design that was named.
    pub file: &'a str,
    /// Who reviewed, and when.
    pub signed: &'a Signed,
    /// What is not what it was.
    pub moved: &'a [Moved],
    /// What turned; nothing where the record came out again to the last byte.
    pub comparison: Option<&'a Comparison>,
    /// The review as recorded, and as it is now.
    pub accounts: (&'a Account, &'a Account),
    /// Their names.
    pub sides: &'a Sides,
    /// The program that looked.
    pub program: &'a Program,
}

const NO_SIGNATURE: &str = "A digest shows that something changed. It does not show who wrote the record, or that they \
agreed: anybody can write one under any name. Where that matters, sign the file by the means of your office.";

/// What is said when a record was written.
#[must_use]
pub fn written(into: &str, signed: &Signed, made: &Made) -> String {
    let books = made.books.iter().map(|book| book.files.len()).sum();
    format!(
        "{} records this review, by {} on {}: {} and {} with their digests, and the program.\n\
         {NO_SIGNATURE}\n\
         Whether it still stands: undercroft review FILE --against {}\n",
        one_line(into),
        one_line(&signed.by),
        day(&signed.on),
        count(made.files.len(), "file of the design", "files of the design"),
        count(books, "file of the books", "files of the books"),
        one_line(into)
    )
}

/// The page.
#[must_use]
pub fn page(standing: &Standing<'_>, look: &Look) -> String {
    let mut sheet = Sheet::new(look);
    let Signed { by, on, .. } = standing.signed;
    let who = format!("{}, reviewed by {by} on {}", standing.record, day(on));
    let (old, new) = standing.accounts;
    let Some(comparison) = standing.comparison else {
        sheet.paragraph(0, &format!("The record stands: {who}"), Tone::Met);
        let said = format!(
            "Nothing moved: {}, its other files, every file of the books and the program are what they were. The review was made anew and is the same to the last byte.",
            standing.file
        );
        sheet.paragraph(0, &said, Tone::Ink);
        sheet.paragraph(0, &format!("It came to: {}.", outcome(&new.outcome)), Tone::Ink);
        sheet.blank();
        sheet.paragraph(0, NO_SIGNATURE, Tone::Quiet);
        return sheet.finish();
    };
    sheet.paragraph(0, &format!("The record no longer stands: {who}"), Tone::Unmet);
    if standing.moved.is_empty() {
        let said = "Its files, books and program are what they were, and the review made anew reads otherwise all the same. Please report this.";
        sheet.paragraph(0, said, Tone::Unmet);
    }
    for one in standing.moved {
        sheet.item(&told(one), Tone::Ink);
    }
    let turned = comparison.findings.iter().filter(|one| !one.clauses.is_empty()).count();
    let said = match turned {
        0 => "No verdict turned by it. The record is of other bytes all the same: look at it again and record anew.".to_owned(),
        n => format!("{} by it. What turned, and because of what, stands below.", count(n, "finding turned", "findings turned")),
    };
    sheet.paragraph(0, &said, Tone::Heading);
    sheet.paragraph(0, NO_SIGNATURE, Tone::Quiet);
    sheet.blank();
    sheet.raw(&super::page(comparison, old, new, standing.sides, look));
    sheet.finish()
}

/// What a review came to, as the outcome of a report names it.
fn outcome(word: &str) -> &str {
    match word {
        "met" => "nothing that has to be met is unmet or open",
        "undetermined" => "something that has to be met cannot be told yet",
        "unmet" => "something that has to be met is unmet",
        other => other,
    }
}

fn told(moved: &Moved) -> String {
    let how = |now: Now| match now {
        Now::Otherwise => "has other bytes than when it was reviewed",
        Now::Come => "is there now and was not when it was reviewed",
        Now::Gone => "was there when it was reviewed and is not now",
    };
    match moved {
        Moved::Record => {
            "the record itself was changed after it was written: it is not what its own digest says"
                .to_owned()
        }
        Moved::File(role, name, now) => {
            let what = match role.as_str() {
                "design" => "the design",
                "shop" => "the shop file",
                _ => "the field notes",
            };
            format!("{what} {}: {}", one_line(name), how(*now))
        }
        Moved::Book(book, now) => match now {
            Now::Gone => format!("the book {book}: it was used when it was reviewed and is not now"),
            _ => format!("the book {book}: it is used now and was not when it was reviewed"),
        },
        Moved::BookFile(book, file, now) => {
            format!("the book {book}: its file {} {}", one_line(file), how(*now))
        }
        Moved::Program(was, is) if was == is => {
            format!("the program: version {was}, built from other code than the one that made the record")
        }
        Moved::Program(was, is) => format!("the program: was version {was}, is {is}"),
        Moved::Day(was, is) => {
            let said = |on: &Option<String>| on.as_deref().map_or_else(|| "none".to_owned(), day);
            format!("the day of the review: was {}, is {}", said(was), said(is))
        }
    }
}

#[derive(Serialize)]
struct Document<'a> {
    form: &'static str,
    version: u32,
    program: wire::Program,
    record: &'a str,
    file: &'a str,
    reviewed_by: &'a str,
    reviewed_on: &'a str,
    stands: bool,
    moved: Vec<Line<'a>>,
    comparison: Option<Value>,
}

#[derive(Serialize, Default)]
struct Line<'a> {
    what: &'static str,
    how: &'static str,
    book: Option<&'a str>,
    file: Option<&'a str>,
    was: Option<&'a str>,
    is: Option<&'a str>,
}

/// The same as a report for machines, as text with an end of line.
#[must_use]
pub fn report(standing: &Standing<'_>) -> String {
    let comparison = standing.comparison.and_then(|comparison| {
        let text = super::json::document(comparison, standing.accounts, standing.sides, standing.program);
        serde_json::from_str(&text).ok()
    });
    let document = Document {
        form: "undercroft standing of a record",
        version: FORM,
        program: program(standing.program),
        record: standing.record,
        file: standing.file,
        reviewed_by: &standing.signed.by,
        reviewed_on: &standing.signed.on,
        stands: standing.comparison.is_none(),
        moved: standing.moved.iter().map(line).collect(),
        comparison,
    };
    to_text(&document) + "\n"
}

fn line(moved: &Moved) -> Line<'_> {
    let how = |now: Now| match now {
        Now::Otherwise => "changed",
        Now::Come => "added",
        Now::Gone => "gone",
    };
    match moved {
        Moved::Record => Line { what: "record", how: "changed", ..Line::default() },
        Moved::File(role, name, now) => Line {
            what: match role.as_str() {
                "design" => "design",
                "shop" => "shop",
                _ => "field notes",
            },
            how: how(*now),
            file: Some(name),
            ..Line::default()
        },
        Moved::Book(book, now) => Line { what: "book", how: how(*now), book: Some(book), ..Line::default() },
        Moved::BookFile(book, file, now) => {
            Line { what: "book", how: how(*now), book: Some(book), file: Some(file), ..Line::default() }
        }
        Moved::Program(was, is) => {
            Line { what: "program", how: "changed", was: Some(was), is: Some(is), ..Line::default() }
        }
        Moved::Day(was, is) => {
            Line { what: "day", how: "changed", was: was.as_deref(), is: is.as_deref(), ..Line::default() }
        }
    }
}
