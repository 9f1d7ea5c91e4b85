//! The page of a review: a calm first part of at most 25 lines, then the details.

use super::excerpt::excerpt;
use super::sheet::{Sheet, Tone};
use super::{Look, Show, problems};
use crate::base::text::{Source, Sources};
use crate::render::phrases::count;
use crate::render::tell::told::{Card, Cause, Section, Told, Weighs};
use crate::render::visible::cut;

/// The first part of a page has no more lines than this.
pub const FIRST_PART: usize = 25;

const MOST_BOOKS: usize = 4;
const MOST_STOPS: usize = 3;
const MOST_CAUSES: usize = 6;
const MOST_WANTED: usize = 4;

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
    if sheet.look().plain {
        sheet.paragraph(0, text, tone);
    } else {
        let room = sheet.look().width.saturating_sub(2);
        sheet.paragraph(2, &cut(text, room), tone);
    }
}

fn first_part(sheet: &mut Sheet<'_>, told: &Told, show: Show) {
    let width = sheet.look().width;
    sheet.paragraph(0, &cut(&told.title, width), Tone::Heading);
    sheet.paragraph(0, &cut(&told.about, width), Tone::Quiet);
    for book in told.books.iter().take(MOST_BOOKS) {
        short(sheet, &format!("{}: {}, {}", book.standing, book.title, book.nature), Tone::Ink);
    }
    more(sheet, told.books.len(), MOST_BOOKS, "more books");
    for note in told.notes.iter().take(2) {
        short(sheet, note, Tone::Open);
    }
    if !told.stops.is_empty() {
        sheet.blank();
        for stop in told.stops.iter().take(MOST_STOPS) {
            sheet.paragraph(0, &cut(stop, width), Tone::Stop);
        }
        more(sheet, told.stops.len(), MOST_STOPS, "more reasons to wait");
    }
    sheet.blank();
    sheet.paragraph(0, &cut(&told.counts, width), Tone::Heading);
    if !told.unread.is_empty() {
        sheet.paragraph(0, &cut(&told.unread, width), Tone::Unmet);
    }
    for cause in told.causes.iter().take(MOST_CAUSES) {
        short(sheet, &cause_line(cause), tone(cause.weighs));
    }
    more(sheet, told.causes.len(), MOST_CAUSES, "more causes");
    if !told.wanted.is_empty() {
        sheet.paragraph(0, "What to measure or settle next", Tone::Heading);
        for wanted in told.wanted.iter().take(MOST_WANTED) {
            short(sheet, &format!("settles {}: {}", wanted.settles, wanted.what), Tone::Open);
        }
        more(sheet, told.wanted.len(), MOST_WANTED, "more");
    }
    if show == Show::Summary {
        sheet.paragraph(0, "The details: leave out --show summary", Tone::Quiet);
    }
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
                vec![format!("settles {}", wanted.settles), format!("{} ({})", wanted.what, wanted.now)]
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
    for one in &of.cards {
        card(sheet, one, sources, home);
    }
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
