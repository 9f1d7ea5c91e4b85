//! The walk as a form to print.

use super::{CAUTIONS, Find, Line, TICKS, told};
use crate::findings::compare::account::Program;
use crate::render::papers::report::{made_of, running};
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
            "{} to look at, in the order in which one walks. Write a number as the tape or the gauge shows it; where it could \
             be told only nearly, write within how much. Numbers in the field notes are those of this form.",
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
        parts.extend(alike(&stop.lines).filter_map(row).map(|told| Part::Finding(Box::new(told))));
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
        running: running(review, program),
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

/// Lines that ask the same of several things, behind one another.
fn alike(lines: &[Line]) -> impl Iterator<Item = &[Line]> {
    lines.chunk_by(|a, b| {
        let of_things = !a.thing.is_empty() && !b.thing.is_empty();
        of_things && a.title == b.title && a.waits == b.waits && a.weighs == b.weighs && a.cited == b.cited
    })
}

/// A row of the form: what is alike for all its things once, and for each of them what is its own.
fn row(lines: &[Line]) -> Option<Told> {
    let (first, more) = lines.split_first()?;
    let one = more.is_empty();
    let in_all = |find: &&Find| more.iter().all(|line| line.find.iter().any(|other| other.what == find.what));
    let of_all = |find: &Find| more.iter().all(|line| line.find.iter().any(|other| other.of == find.of));
    let shared = |number: &&(String, String)| more.iter().all(|line| line.numbers.contains(number));
    let common: Vec<&Find> = first.find.iter().filter(in_all).collect();
    let same: Vec<&(String, String)> = first.numbers.iter().filter(shared).collect();
    let mut rows: Vec<(String, String)> = Vec::new();
    for (at, find) in common.iter().enumerate() {
        let words = if of_all(find) { find.words() } else { find.what.clone() };
        rows.push((if at == 0 { "find" } else { "and" }.to_owned(), words));
    }
    rows.extend(same.iter().map(|number| (*number).clone()));
    let answer = |line: &Line| {
        let found = line.find.iter().filter(|find| !common.iter().any(|other| other.what == find.what));
        let found = found.map(|find| format!("find {}", find.words()));
        let numbers = line.numbers.iter().filter(|number| !same.contains(number));
        let numbers = numbers.map(|(label, words)| format!("{label} {words}"));
        Answer {
            of: (!one).then(|| (line.number, line.thing.clone())),
            said: found.chain(numbers).collect::<Vec<_>>().join("; "),
            ticks: TICKS.map(str::to_owned).to_vec(),
            write: vec!["found".to_owned()],
        }
    };
    Some(Told {
        number: one.then_some(first.number),
        anchor: anchor("row", &first.name),
        weighs: first.weighs,
        verdict: first.waits.clone(),
        title: first.title.clone(),
        thing: if one { first.thing.clone() } else { String::new() },
        sentence: String::new(),
        rows,
        books: first.books.clone(),
        shown: Vec::new(),
        cited: first.cited.clone(),
        answers: lines.iter().map(answer).collect(),
    })
}
