//! The page of a review: a calm first part of at most 25 lines, then the details.

use super::excerpt::{Mark, excerpt};
use super::front::{self, more};
use super::sheet::{Sheet, Tone};
use super::{Look, Show, problems};
use crate::base::hands;
use crate::base::text::{Source, Sources};
use crate::render::phrases::count;
use crate::render::tell::told::{Card, Section, Told, Wanted, Weighs};

/// No more findings than this are shown in full under one heading.
const MOST_CARDS: usize = 1_000;

/// So many findings or problems are written at a time by one of the hands that share a page, and so many lines of a list.
const CARDS_AT_A_TIME: usize = 8;
const LINES_AT_A_TIME: usize = 100;

/// The whole page.
#[must_use]
pub fn page(told: &Told, sources: &Sources, home: Option<&Source>, show: Show, look: &Look) -> String {
    let mut sheet = Sheet::new(look);
    let later_is_told = front::first_part(&mut sheet, told, show);
    if show != Show::Summary {
        details(&mut sheet, told, sources, home, later_is_told);
    }
    sheet.blank();
    sheet.paragraph(0, &told.is_not, Tone::Quiet);
    sheet.paragraph(0, &told.verdict, Tone::Heading);
    sheet.paragraph(0, &told.last, Tone::Ink);
    sheet.finish()
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

fn details(
    sheet: &mut Sheet<'_>,
    told: &Told,
    sources: &Sources,
    home: Option<&Source>,
    later_is_told: bool,
) {
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
        apart(sheet, &told.problems, |part, one| problems::problem(part, sources, home, one));
    }
    let (deciding, rest): (Vec<&Section>, Vec<&Section>) = rest.into_iter().partition(|one| one.decides);
    for one in deciding {
        section(sheet, one, sources, home);
    }
    to_measure(sheet, &told.wanted);
    for (heading, lines) in &told.lists {
        sheet.rule(heading);
        shared(sheet, lines, LINES_AT_A_TIME, |part, line| part.item(line, Tone::Ink));
    }
    for one in rest {
        section(sheet, one, sources, home);
    }
    if !later_is_told && !told.later.is_empty() {
        sheet.rule("Later");
        for line in &told.later {
            sheet.item(line, Tone::Ink);
        }
    }
    if !told.coverage.is_empty() {
        sheet.rule("What was checked, and what was not");
        for one in &told.coverage {
            sheet.blank();
            sheet.paragraph(0, &one.book, Tone::Heading);
            sheet.row("in law", &one.in_law);
            sheet.row("checked", &one.checked);
            sheet.row("on trust", &one.on_memory);
            rows_under(sheet, "by eye", &one.to_the_eye);
            rows_under(sheet, "not held", &one.not_held);
            rows_under(sheet, "amended", &one.amended);
        }
    }
    if !told.cautions.is_empty() {
        sheet.rule("Careful");
        for caution in &told.cautions {
            sheet.item(caution, Tone::Ink);
        }
    }
}

/// The entries to fill: how many ask for each, what it says, and where to add it.
fn to_measure(sheet: &mut Sheet<'_>, wanted: &[Wanted]) {
    if wanted.is_empty() {
        return;
    }
    sheet.rule("What to measure or settle next");
    if sheet.look().plain {
        for one in wanted {
            let first = if one.first.is_empty() { String::new() } else { format!(" {},", one.first) };
            let said = format!(
                "Asked for by {},{first} {}: {}.{}",
                one.asked_for_by,
                one.what,
                one.to_do,
                to_write(one)
            );
            sheet.paragraph(0, &said, Tone::Ink);
        }
        return;
    }
    sheet.paragraph(0, "The number says how many requirements ask for the entry.", Tone::Quiet);
    let mut rows = Vec::new();
    for one in wanted {
        let first = if one.first.is_empty() { String::new() } else { format!(" ({})", one.first) };
        rows.push(vec![one.asked_for_by.to_string(), format!("{}{first}", one.what)]);
        rows.push(vec![String::new(), format!("{}.{}", one.to_do, to_write(one))]);
    }
    sheet.table(&rows, Tone::Ink);
}

/// What to write under an entry, as the end of its line.
fn to_write(wanted: &Wanted) -> String {
    if wanted.write.is_empty() { String::new() } else { format!(" Write: {}", wanted.write) }
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
    let cards = of.cards.get(..MOST_CARDS).unwrap_or(&of.cards);
    apart(sheet, cards, |part, one| card(part, one, sources, home));
    more(sheet, of.cards.len(), MOST_CARDS, "more of these", "more of these");
}

/// Writes what stands one under the other, shared by the hands there are.
fn shared<T: Sync>(
    sheet: &mut Sheet<'_>,
    all: &[T],
    at_a_time: usize,
    write: impl Fn(&mut Sheet<'_>, &T) + Sync,
) {
    for part in parts(sheet.look(), all, at_a_time, write) {
        sheet.raw(&part);
    }
}

/// The same of what begins with an empty line.
fn apart<T: Sync>(sheet: &mut Sheet<'_>, all: &[T], write: impl Fn(&mut Sheet<'_>, &T) + Sync) {
    for part in parts(sheet.look(), all, CARDS_AT_A_TIME, write) {
        sheet.blank();
        sheet.raw(&part);
    }
}

fn parts<T: Sync>(
    look: &Look,
    all: &[T],
    at_a_time: usize,
    write: impl Fn(&mut Sheet<'_>, &T) + Sync,
) -> Vec<String> {
    let all: Vec<&[T]> = all.chunks(at_a_time).collect();
    hands::each(
        &all,
        || (),
        |(), some| {
            let mut part = Sheet::new(look);
            some.iter().for_each(|one| write(&mut part, one));
            part.finish()
        },
    )
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
    let marked = |mark: &Mark| {
        let source = sources
            .get(mark.at.source)
            .filter(|source| home.is_some_and(|home| home.name() == source.name()));
        source.is_some_and(|source| format!("line {}", source.line_column(mark.at.start).line) == card.place)
    };
    if !card.marks.iter().any(marked) {
        sheet.row("where", &card.place);
    }
    let drawn = excerpt(sources, home, &card.marks, sheet.look());
    sheet.raw(&drawn);
    for (label, text) in &card.rows {
        sheet.row(label, text);
    }
}
