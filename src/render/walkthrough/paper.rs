//! The walk as a form to print.

use super::{CAUTIONS, Line, TICKS, told};
use crate::findings::compare::account::Program;
use crate::render::papers::report::made_of;
use crate::render::papers::{Answer, Item, Paper, Part, Table, Told, anchor};
use crate::render::phrases::{count, day};
use crate::render::tell::told::Weighs;
use crate::render::visible::one_line;
use crate::review::walk::Walk;

/// What the form is not.
const IS_NOT: &str = "What is ticked here decides no verdict by itself. Typed back in as field notes, the values decide, \
and what was seen stands beside the verdicts. This form is no permit, no approval and no radon measurement.";

/// The form.
#[must_use]
pub fn paper(walk: &Walk<'_>, program: &Program) -> Paper {
    let review = &walk.now;
    let stops = told(walk);
    let rows: usize = stops.iter().map(|stop| stop.lines.len()).sum();
    let on =
        review.on.as_deref().map_or("no day stated".to_owned(), |on| format!("reviewed for {}", day(on)));
    let mut parts = vec![
        Part::Words(format!(
            "{} to look at, in the order in which one walks. Numbers in the field notes are those of this form.",
            count(rows, "thing", "things")
        )),
        to_write("To fill in by hand", &["Who looked", "Licence or office", "Day", "Weather"]),
        heading("Careful"),
        list(CAUTIONS.iter().map(|line| (*line).to_owned())),
    ];
    if rows > 0 {
        parts.push(heading("The walk"));
        let line = |stop: &super::Stop| Item {
            weighs: Weighs::Silent,
            words: count(stop.lines.len(), "row", "rows"),
            leads: vec![(anchor("stop", &stop.heading), stop.heading.clone())],
        };
        parts.push(Part::List(stops.iter().map(line).collect()));
    }
    for stop in &stops {
        parts.push(Part::Heading(2, stop.heading.clone(), anchor("stop", &stop.heading)));
        parts.extend(stop.lines.iter().map(|line| Part::Finding(Box::new(row(line)))));
    }
    parts.push(heading("The rulebooks"));
    let book = |used: &crate::findings::Used<'_>| {
        let book = used.book;
        vec![book.name.clone(), book.title.clone(), book.edition.clone()]
    };
    parts.push(Part::Table(Table {
        caption: "What the requirements are taken from".to_owned(),
        head: ["book", "title", "edition"].map(str::to_owned).to_vec(),
        rows: review.used.iter().map(book).collect(),
        shares: vec![2, 5, 3],
        ruled: false,
    }));
    parts.push(heading("Signed"));
    parts.push(to_write("By whoever looked", &["Signature", "Day"]));
    parts.push(heading("What this form is not"));
    parts.push(Part::Words(IS_NOT.to_owned()));
    let title = review.job.title.as_deref().map(|title| format!(": {}", one_line(title))).unwrap_or_default();
    Paper {
        title: format!("Walk round the house{title}"),
        about: vec![format!("{}, {on}", one_line(review.name()))],
        parts,
        foot: made_of(review, program),
        running: Vec::new(),
        quoted: Vec::new(),
    }
}

fn heading(words: &str) -> Part {
    Part::Heading(2, words.to_owned(), anchor("part", words))
}

/// Cells to write into.
fn to_write(caption: &str, head: &[&str]) -> Part {
    Part::Table(Table {
        caption: caption.to_owned(),
        head: head.iter().map(|one| (*one).to_owned()).collect(),
        rows: vec![vec![String::new(); head.len()]],
        shares: vec![1; head.len()],
        ruled: false,
    })
}

fn list(lines: impl Iterator<Item = String>) -> Part {
    let item = |words| Item { weighs: Weighs::Silent, words, leads: Vec::new() };
    Part::List(lines.map(item).collect())
}

fn row(line: &Line) -> Told {
    let mut rows: Vec<(String, String)> = Vec::new();
    for (at, find) in line.find.iter().enumerate() {
        rows.push((if at == 0 { "find" } else { "and" }.to_owned(), find.clone()));
    }
    rows.extend(line.numbers.iter().cloned());
    for (at, clause) in line.clauses.iter().enumerate() {
        rows.push((if at == 0 { "clause" } else { "and" }.to_owned(), clause.clone()));
    }
    Told {
        number: Some(line.number),
        anchor: anchor("row", &line.name),
        weighs: line.weighs,
        verdict: line.waits.clone(),
        title: line.title.clone(),
        thing: line.thing.clone(),
        sentence: String::new(),
        rows,
        books: line.books.clone(),
        shown: Vec::new(),
        answer: Some(Answer { ticks: TICKS.map(str::to_owned).to_vec(), write: vec!["found".to_owned()] }),
    }
}
