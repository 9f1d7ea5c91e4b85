//! The page of a review: a calm first part of at most 25 lines, then the details.

use super::excerpt::excerpt;
use super::sheet::{Sheet, Tone};
use super::{Look, Show, problems};
use crate::base::text::{Source, Sources};
use crate::render::phrases::count;
use crate::render::tell::told::{Card, Cause, Section, Told, Wanted, Weighs};
use crate::render::visible::{cut, one_line};

/// The first part of a page has no more lines than this.
pub const FIRST_PART: usize = 25;

/// No more findings than this are shown in full under one heading.
const MOST_CARDS: usize = 1_000;

/// The whole page.
#[must_use]
pub fn page(told: &Told, sources: &Sources, home: Option<&Source>, show: Show, look: &Look) -> String {
    let mut sheet = Sheet::new(look);
    first_part(&mut sheet, told, show);
    if show != Show::Summary {
        details(&mut sheet, told, sources, home);
    }
    sheet.blank();
    sheet.paragraph(0, &told.is_not, Tone::Quiet);
    sheet.paragraph(0, &told.last, Tone::Ink);
    sheet.finish()
}

/// One line of a list, cut to the page so that the first part keeps its length.
fn short(sheet: &mut Sheet<'_>, text: &str, tone: Tone) {
    let room = sheet.look().width.saturating_sub(2);
    sheet.paragraph(2, &cut(&one_line(text), room), tone);
}

/// How many entries of each list the first part shows.
#[derive(Clone, Copy)]
struct Shares {
    stops: usize,
    causes: usize,
    wanted: usize,
    books: usize,
}

/// Writes the first part: as much of each list as fits.
fn first_part(sheet: &mut Sheet<'_>, told: &Told, show: Show) {
    let draft = |shares: Shares| {
        let mut sheet = Sheet::new(sheet.look());
        first_lines(&mut sheet, told, show, shares);
        sheet.finish()
    };
    let mut shares = Shares { stops: 1, causes: 1, wanted: 1, books: 1 };
    let mut best = draft(shares);
    loop {
        let before = shares;
        for step in 0..4 {
            let mut more = shares;
            match step {
                0 => more.stops = (more.stops + 1).min(told.stops.len().max(1)),
                1 => more.causes = (more.causes + 1).min(told.causes.len().max(1)),
                2 => more.wanted = (more.wanted + 1).min(told.wanted.len().max(1)),
                _ => more.books = (more.books + 1).min(told.books.len().max(1)),
            }
            let text = draft(more);
            if text.lines().count() <= FIRST_PART {
                shares = more;
                best = text;
            }
        }
        let same = |a: Shares, b: Shares| {
            (a.stops, a.causes, a.wanted, a.books) == (b.stops, b.causes, b.wanted, b.books)
        };
        if same(before, shares) {
            break;
        }
    }
    sheet.raw(&best);
}

fn first_lines(sheet: &mut Sheet<'_>, told: &Told, show: Show, shares: Shares) {
    let width = sheet.look().width;
    sheet.paragraph(0, &cut(&told.title, width), Tone::Heading);
    sheet.paragraph(0, &cut(&told.about, 2 * width - 10), Tone::Quiet);
    for book in told.books.iter().take(shares.books) {
        let said = format!("{}: {}; {}; {}", book.standing, book.title, book.nature, book.edition);
        short(sheet, &said, Tone::Ink);
    }
    more(sheet, told.books.len(), shares.books, "more books");
    if let Some(note) = told.notes.first() {
        short(sheet, note, Tone::Open);
    }
    if !told.stops.is_empty() {
        sheet.blank();
        for stop in told.stops.iter().take(shares.stops) {
            sheet.paragraph(0, &cut(stop, 2 * width - 10), Tone::Stop);
        }
        more(sheet, told.stops.len(), shares.stops, "more reasons to wait");
    }
    sheet.blank();
    sheet.paragraph(0, &cut(&told.counts, 2 * width - 10), Tone::Heading);
    if !told.unread.is_empty() {
        sheet.paragraph(0, &cut(&told.unread, 4 * width - 10), Tone::Unmet);
    }
    for cause in told.causes.iter().take(shares.causes) {
        short(sheet, &cause_line(cause), tone(cause.weighs));
    }
    more(sheet, told.causes.len(), shares.causes, "more causes");
    if !told.wanted.is_empty() {
        sheet.paragraph(0, "What to measure or settle next", Tone::Heading);
        for wanted in told.wanted.iter().take(shares.wanted) {
            short(sheet, &format!("{}: {}", settles(wanted), wanted_line(wanted)), Tone::Open);
        }
        more(sheet, told.wanted.len(), shares.wanted, "more");
    }
    if show == Show::Summary {
        sheet.paragraph(0, "The details: leave out --show summary", Tone::Quiet);
    }
}

/// How much an entry settles, and what waits for it.
fn settles(wanted: &Wanted) -> String {
    if wanted.first.is_empty() {
        format!("settles {}", wanted.settles)
    } else {
        format!("settles {}, {}", wanted.settles, wanted.first)
    }
}

/// An entry to fill: where it stands, and what it says.
fn wanted_line(wanted: &Wanted) -> String {
    format!("{}: {}", wanted.entry, wanted.what)
}

/// What to write under an entry, as the end of its line.
fn to_write(wanted: &Wanted) -> String {
    if wanted.write.is_empty() { String::new() } else { format!(". Write: {}", wanted.write) }
}

fn more(sheet: &mut Sheet<'_>, all: usize, shown: usize, what: &str) {
    if all > shown {
        short(sheet, &format!("and {} {what}", all - shown), Tone::Quiet);
    }
}

fn cause_line(cause: &Cause) -> String {
    match cause.names.as_slice() {
        [] => cause.what.clone(),
        [one] => format!("{}: {one}", cause.what),
        several => format!("{}, {} places: {}", cause.what, several.len(), several.join(", ")),
    }
}

/// The tone in which something of this weight is written.
#[must_use]
pub fn tone(weighs: Weighs) -> Tone {
    match weighs {
        Weighs::Stops => Tone::Stop,
        Weighs::Unmet => Tone::Unmet,
        Weighs::Open => Tone::Open,
        Weighs::Met => Tone::Met,
        Weighs::Silent => Tone::Quiet,
    }
}

fn details(sheet: &mut Sheet<'_>, told: &Told, sources: &Sources, home: Option<&Source>) {
    let (first, rest): (Vec<&Section>, Vec<&Section>) =
        told.sections.iter().partition(|section| section.weighs == Weighs::Stops);
    for one in first {
        section(sheet, one, sources, home);
    }
    if !told.notes.is_empty() {
        sheet.rule("To know beforehand");
        for note in &told.notes {
            sheet.item(note, Tone::Ink);
        }
    }
    if !told.problems.is_empty() {
        sheet
            .rule(&format!("In the file: {}", count(told.problems.len(), "place to mend", "places to mend")));
        for one in &told.problems {
            problems::problem(sheet, sources, home, one);
        }
    }
    for one in rest {
        section(sheet, one, sources, home);
    }
    if !told.wanted.is_empty() {
        sheet.rule("What to measure or settle next");
        let rows: Vec<Vec<String>> = told
            .wanted
            .iter()
            .map(|wanted| {
                vec![
                    format!("settles {}", wanted.settles),
                    format!("{} ({}){}", wanted_line(wanted), wanted.now, to_write(wanted)),
                ]
            })
            .collect();
        sheet.table(&rows, Tone::Ink);
    }
    for (heading, lines) in &told.lists {
        sheet.rule(heading);
        for line in lines {
            sheet.item(line, Tone::Ink);
        }
    }
    if !told.coverage.is_empty() {
        sheet.rule("What was checked, and what was not");
        for one in &told.coverage {
            sheet.blank();
            sheet.paragraph(0, &one.book, Tone::Heading);
            sheet.row("checked", &one.checked);
            sheet.row("on trust", &one.on_memory);
            rows_under(sheet, "by eye", &one.to_the_eye);
            rows_under(sheet, "not held", &one.not_held);
        }
    }
    if !told.cautions.is_empty() {
        sheet.rule("Careful");
        for caution in &told.cautions {
            sheet.item(caution, Tone::Ink);
        }
    }
}

fn rows_under(sheet: &mut Sheet<'_>, label: &str, lines: &[String]) {
    for (at, line) in lines.iter().enumerate() {
        sheet.row(if at == 0 || sheet.look().plain { label } else { "" }, line);
    }
}

fn section(sheet: &mut Sheet<'_>, of: &Section, sources: &Sources, home: Option<&Source>) {
    sheet.rule(&of.heading);
    if !of.lead.is_empty() {
        sheet.paragraph(0, &of.lead, Tone::Quiet);
    }
    for one in of.cards.iter().take(MOST_CARDS) {
        card(sheet, one, sources, home);
    }
    more(sheet, of.cards.len(), MOST_CARDS, "of these");
}

/// One finding: what is asked of what, the verdict, the words, the lines that decided, the form below.
pub fn card(sheet: &mut Sheet<'_>, card: &Card, sources: &Sources, home: Option<&Source>) {
    sheet.blank();
    let of = if card.thing.is_empty() { String::new() } else { format!(": {}", card.thing) };
    let headline = format!("{}{of} ({})", card.title, card.verdict);
    sheet.paragraph(0, &headline, tone(card.weighs));
    if !card.sentence.is_empty() {
        sheet.paragraph(2, &card.sentence, Tone::Ink);
    }
    if !card.place.is_empty() {
        sheet.row("where", &card.place);
    }
    let drawn = excerpt(sources, home, &card.marks, sheet.look());
    sheet.raw(&drawn);
    for (label, text) in &card.rows {
        sheet.row(label, text);
    }
}
