//! Two books beside each other as a report for machines: `schemas/rulebook-compare.schema.json`.

use serde::Serialize;

use super::{Told, Turn};
use crate::findings::Comes;
use crate::render::json::comes_word;

/// The version of the form of the report.
const FORM: u32 = 1;

#[derive(Serialize)]
struct Document {
    form: &'static str,
    version: u32,
    old: Book,
    new: Book,
    requirements: Vec<Requirement>,
    designs: Vec<Design>,
}

#[derive(Serialize)]
struct Book {
    name: String,
    title: String,
}

#[derive(Serialize)]
struct Requirement {
    subject: String,
    old: Option<Side>,
    new: Option<Side>,
    moved: Vec<Moved>,
}

#[derive(Serialize)]
struct Side {
    requirement: String,
    title: String,
    verb: String,
    numbers: String,
}

#[derive(Serialize)]
struct Moved {
    what: String,
    was: String,
    is: String,
}

#[derive(Serialize)]
struct Design {
    file: String,
    stands: String,
    local_books: Vec<Local>,
    turns: Vec<Flip>,
    alike: usize,
}

#[derive(Serialize)]
struct Local {
    book: String,
    changes: usize,
    amiss: Vec<String>,
}

#[derive(Serialize)]
struct Flip {
    identity: String,
    title: String,
    thing: String,
    was: &'static str,
    is: &'static str,
}

/// The report, as text with an end of line.
#[must_use]
pub fn document(told: &Told) -> String {
    let [old, new] = &told.books;
    let book = |(name, title): &(String, String)| Book { name: name.clone(), title: title.clone() };
    let side = |side: &super::Side| Side {
        requirement: side.requirement.clone(),
        title: side.title.clone(),
        verb: side.verb.clone(),
        numbers: side.numbers.clone(),
    };
    let document = Document {
        form: "undercroft rulebook compare",
        version: FORM,
        old: book(old),
        new: book(new),
        requirements: told
            .rows
            .iter()
            .map(|row| Requirement {
                subject: row.subject.clone(),
                old: row.old.as_ref().map(side),
                new: row.new.as_ref().map(side),
                moved: row
                    .moved
                    .iter()
                    .map(|one| Moved { what: one.what.clone(), was: one.was.clone(), is: one.is.clone() })
                    .collect(),
            })
            .collect(),
        designs: told
            .designs
            .iter()
            .map(|design| Design {
                file: design.file.clone(),
                stands: design.stands.clone(),
                local_books: design
                    .local
                    .iter()
                    .map(|one| Local {
                        book: one.book.clone(),
                        changes: one.changes,
                        amiss: one.amiss.clone(),
                    })
                    .collect(),
                turns: design.turns.iter().map(flip).collect(),
                alike: design.alike,
            })
            .collect(),
    };
    let mut text = serde_json::to_string_pretty(&document).unwrap_or_default();
    text.push('\n');
    text
}

fn flip(turn: &Turn) -> Flip {
    let word = |comes: Option<Comes>| comes.map_or("not asked", comes_word);
    Flip {
        identity: turn.identity.clone(),
        title: turn.title.clone(),
        thing: turn.thing.clone(),
        was: word(turn.was),
        is: word(turn.is),
    }
}
