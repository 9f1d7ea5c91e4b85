//! The list on a page, in the order in which a truck is loaded.

use super::{caution, eighths, part, quantity, title, to_state, uses_in_words};
use crate::base::number::{Dimension, Number, Quantity, Ratio};
use crate::base::value::Missing;
use crate::render::phrases::count;
use crate::render::terminal::Look;
use crate::render::terminal::problems;
use crate::render::terminal::sheet::{Sheet, Tone, sentence};
use crate::render::visible::one_line;
use crate::review::DESIGN;
use crate::review::takeoff::Counted;
use crate::takeoff::{Cutting, Group, Line};

const CAUTION: &str = "Counted from what the file says. Measure on site before you buy, and take what your hand knows is \
always short. This is no permit, no approval and no radon measurement. Local code and licensed practice come first.";

/// The page.
#[must_use]
pub fn page(of: &Counted, look: &Look) -> String {
    let mut sheet = Sheet::new(look);
    let job = of.title.as_deref().map_or_else(String::new, |title| format!(": {title}"));
    sheet.paragraph(0, &format!("What to put on the truck{job}"), Tone::Heading);
    sheet.paragraph(0, &one_line(of.name()), Tone::Quiet);
    for note in &of.notes {
        sheet.paragraph(0, note, Tone::Open);
    }
    at_a_glance(&mut sheet, of);
    for group in Group::ALL {
        let own: Vec<&Line> = of.takeoff.lines.iter().filter(|line| line.group == group).collect();
        if !own.is_empty() {
            part_of_list(&mut sheet, group, &own);
        }
    }
    if !of.takeoff.cuttings.is_empty() {
        sheet.rule("How to cut the pipe");
        for cutting in &of.takeoff.cuttings {
            cut(&mut sheet, cutting);
        }
        granted(&mut sheet, of.takeoff.cuttings.iter().flat_map(|cutting| &cutting.assumed));
    }
    not_counted(&mut sheet, of);
    if !of.problems.is_empty() {
        sheet.rule("What could not be read");
        for problem in &of.problems {
            problems::problem(&mut sheet, &of.sources, of.sources.get(DESIGN), problem);
        }
    }
    sheet.blank();
    sheet.paragraph(0, CAUTION, Tone::Quiet);
    sheet.finish()
}

/// What a person has to know before they read the list.
fn at_a_glance(sheet: &mut Sheet<'_>, of: &Counted) {
    let missing = of.takeoff.uncounted.len();
    if of.takeoff.lines.is_empty() {
        sheet.heading("There is nothing to count: the file has no system, membrane or joint.", Tone::Open);
    }
    if missing > 0 {
        let what = count(missing, "thing", "things");
        let said = format!(
            "{what} could not be counted for want of an entry. The list at the end says which, and what to state."
        );
        sheet.heading(&said, Tone::Open);
    }
    if !of.problems.is_empty() {
        let what = count(of.problems.len(), "place", "places");
        sheet.heading(
            &format!("{what} of the file could not be read or taken as written; told below."),
            Tone::Unmet,
        );
    }
}

fn part_of_list(sheet: &mut Sheet<'_>, group: Group, own: &[&Line]) {
    sheet.rule(title(group));
    if let Some(caution) = caution(group) {
        sheet.paragraph(0, caution, Tone::Open);
        sheet.blank();
    }
    // What is said of several lines is said once below them.
    let times = |note: &String| own.iter().filter(|line| line.notes.contains(note)).count();
    let mut shared: Vec<&String> = Vec::new();
    for note in own.iter().flat_map(|line| &line.notes).filter(|note| times(note) > 1) {
        if !shared.contains(&note) {
            shared.push(note);
        }
    }
    let mut rows = Vec::new();
    for line in own {
        let uses = uses_in_words(line);
        let what = if uses.is_empty() { part(line) } else { format!("{}: {uses}", part(line)) };
        rows.push(vec![quantity(line), what]);
        let alone = line.notes.iter().filter(|note| !shared.contains(note));
        rows.extend(alone.map(|note| vec![String::new(), sentence(note)]));
    }
    sheet.table(&rows, Tone::Ink);
    if !shared.is_empty() {
        sheet.blank();
    }
    for note in shared {
        sheet.hanging(2, 4, &sentence(note), Tone::Ink);
    }
    granted(sheet, own.iter().flat_map(|line| &line.assumed));
}

/// What was taken for granted, each once.
fn granted<'s>(sheet: &mut Sheet<'_>, all: impl Iterator<Item = &'s String>) {
    let mut assumed: Vec<&str> = Vec::new();
    for said in all {
        if !assumed.contains(&said.as_str()) {
            assumed.push(said);
        }
    }
    if !assumed.is_empty() {
        sheet.blank();
        sheet.hanging(2, 4, &sentence(&format!("Taken for granted: {}", assumed.join("; "))), Tone::Quiet);
    }
}

fn shown(length: &Ratio) -> String {
    Quantity::of(Number::exact(length.clone()), Dimension::LENGTH).to_string()
}

fn cut(sheet: &mut Sheet<'_>, cutting: &Cutting) {
    let stock = shown(&cutting.stock);
    let lengths = count(cutting.lengths.len(), "length", "lengths");
    sheet.heading(&format!("{}: {lengths} of {stock}", cutting.of), Tone::Heading);
    let rows: Vec<Vec<String>> = cutting
        .lengths
        .iter()
        .enumerate()
        .map(|(at, length)| {
            let pieces: Vec<String> =
                length.pieces.iter().map(|(what, long)| format!("{what} {}", shown(long))).collect();
            let left = if length.left.is_zero() {
                "nothing left".to_owned()
            } else {
                format!("{} left", shown(&length.left))
            };
            vec![format!("length {}", at + 1), format!("{}; {left}", pieces.join(", "))]
        })
        .collect();
    sheet.table(&rows, Tone::Ink);
    let left: Ratio = cutting.lengths.iter().map(|length| length.left.clone()).sum();
    let left = shown(&eighths(&Number::exact(left)).high());
    let fewest =
        if cutting.fewest { "fewer lengths are not possible" } else { "not every other way was tried" };
    sheet.hanging(2, 4, &format!("Left over altogether: {left}; {fewest}."), Tone::Quiet);
}

fn not_counted(sheet: &mut Sheet<'_>, of: &Counted) {
    if of.takeoff.uncounted.is_empty() {
        return;
    }
    sheet.rule("Could not be counted");
    // What waits for the same entries is told together.
    let mut waiting: Vec<(Vec<&str>, &[Missing])> = Vec::new();
    for one in &of.takeoff.uncounted {
        match waiting.iter_mut().find(|(_, missing)| **missing == *one.missing) {
            Some((what, _)) => what.push(&one.what),
            None => waiting.push((vec![&one.what], &one.missing)),
        }
    }
    for (what, missing) in waiting {
        sheet.item(&what.join("; "), Tone::Open);
        for one in missing {
            sheet.hanging(4, 6, &sentence(&to_state(one, &of.sources)), Tone::Ink);
        }
    }
}
