//! The walk on a terminal.

use super::{CAUTIONS, Line, told};
use crate::render::phrases::count;
use crate::render::tell::told::Weighs;
use crate::render::terminal::Look;
use crate::render::terminal::sheet::{Sheet, Tone};
use crate::render::visible::one_line;
use crate::review::walk::Walk;

/// The page.
#[must_use]
pub fn page(walk: &Walk<'_>, look: &Look) -> String {
    let stops = told(walk);
    let rows: usize = stops.iter().map(|stop| stop.lines.len()).sum();
    let mut sheet = Sheet::new(look);
    let title =
        walk.now.job.title.as_deref().map(|title| format!(": {}", one_line(title))).unwrap_or_default();
    sheet.paragraph(0, &format!("Walk round the house{title}"), Tone::Heading);
    sheet.paragraph(0, &one_line(walk.now.name()), Tone::Quiet);
    let things = count(rows, "thing", "things");
    sheet.paragraph(
        0,
        &format!("{things} to look at, in the order in which one walks. To print: --as html. To type into: --as notes."),
        Tone::Ink,
    );
    for stop in &stops {
        sheet.rule(&stop.heading);
        stop.lines.iter().for_each(|line| row(&mut sheet, line));
    }
    sheet.rule("Careful");
    CAUTIONS.iter().for_each(|line| sheet.item(line, Tone::Ink));
    sheet.finish()
}

fn row(sheet: &mut Sheet<'_>, line: &Line) {
    let thing = if line.thing.is_empty() { String::new() } else { format!(": {}", line.thing) };
    let tone = if line.weighs == Weighs::Stops { Tone::Unmet } else { Tone::Heading };
    sheet.blank();
    sheet.paragraph(0, &format!("{}. {}{thing} ({})", line.number, line.title, line.waits), tone);
    for find in &line.find {
        sheet.row("find", &find.words());
    }
    for (label, words) in &line.numbers {
        sheet.row(label, words);
    }
    for clause in &line.clauses {
        sheet.row("clause", clause);
    }
}
