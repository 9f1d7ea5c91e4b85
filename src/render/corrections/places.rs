//! Where discharges and suction points may stand, in words.

use crate::base::number::Ratio;
use crate::base::number::quantity::Style;
use crate::correct::Corrections;
use crate::correct::places::moved;
use crate::facts::handles::{Stuck, length_text, style};
use crate::render::phrases::{count, reason};
use crate::render::terminal::sheet::{Sheet, Tone, capital, sentence};
use crate::render::visible::one_line;
use crate::review::DESIGN;
use crate::review::placing::{Asked, Doing, Edge, Layout, Line, Needed, Placing, Way, Why};
use crate::yaml::draft::Draft;

/// What is known of where things may stand.
pub(super) fn places(sheet: &mut Sheet<'_>, all: &Corrections<'_>) {
    let draft = Draft::new(DESIGN, &all.text);
    let style = style(draft.tree());
    for placing in &all.places.discharges {
        discharge(sheet, all, placing, &style);
    }
    let points = &all.places.points;
    if !points.is_empty() || !all.places.needed.is_empty() {
        sheet.rule("Where suction points may be");
        points.iter().for_each(|layout| point(sheet, all, layout, &style));
        all.places.needed.iter().for_each(|needed| more(sheet, all, needed));
    }
}

/// What a requirement is called, with its book.
fn called(all: &Corrections<'_>, asked: &Asked) -> String {
    let used = all.review.used.get(asked.book);
    match used.and_then(|used| Some((used.book, used.book.rules.get(asked.rule)?))) {
        Some((book, rule)) => format!("{} ({}/{})", rule.title, book.name, rule.name),
        None => String::new(),
    }
}

fn all_called(all: &Corrections<'_>, asked: &[Asked]) -> String {
    let mut names: Vec<String> = asked.iter().map(|one| called(all, one)).collect();
    names.sort();
    names.dedup();
    names.join("; ")
}

fn discharge(sheet: &mut Sheet<'_>, all: &Corrections<'_>, placing: &Placing, style: &Style) {
    sheet.rule(&one_line(&format!("Where the discharge of {} may stand", placing.system)));
    let of = match placing.doing {
        Doing::Everything => "every requirement and all advice on its place, of every book the file names",
        Doing::Duties => {
            "every duty on its place, of the books that count; no place follows all advice as well"
        }
    };
    sheet.paragraph(0, &format!("Tried at {}, by {of}.", count(placing.tried, "place", "places")), Tone::Ink);
    if placing.now.is_met() {
        sheet.row("as drawn", "everything asked of its place is met.");
    }
    for (way, line) in &placing.lines {
        spans(sheet, all, *way, line, style);
    }
    let Some(why) = &placing.why else { return };
    sheet.row("no offer", &sentence(&capital(&one_line(&why_none(all, why)))));
}

/// Why no place is offered.
pub(super) fn why_none(all: &Corrections<'_>, why: &Why) -> String {
    match why {
        Why::Excluded(pair) => match pair.as_slice() {
            [one] => format!("no place that was tried meets this: {}", called(all, one)),
            pair => format!("no place that was tried meets all of these: {}", all_called(all, pair)),
        },
        Why::NotKnown(missing) => {
            let entries: Vec<String> =
                missing.iter().map(|one| format!("{} ({})", one.entry, reason(&one.reason))).collect();
            format!("for no place can it be told as long as this is not known: {}", entries.join("; "))
        }
        Why::Stuck(stuck) => why_stuck(stuck),
    }
}

/// Why something is not moved.
pub(super) fn why_stuck(stuck: &Stuck) -> String {
    let entry = stuck.entry();
    match stuck {
        Stuck::Unreadable(_) => format!("what stands at {entry} cannot be written for another place"),
        Stuck::Measured(_) => {
            format!("{entry} was measured from where it is drawn; measure from the new place instead")
        }
        Stuck::Pipe(_) => format!("the pipe at {entry} leads there and has to be laid otherwise by hand"),
        Stuck::Past(_) => format!("it would come to stand past what {entry} is measured from"),
        Stuck::NotStated(_) => format!("nothing at {entry} says where it is"),
    }
}

/// The stretches along one way in which it may stand.
fn spans(sheet: &mut Sheet<'_>, all: &Corrections<'_>, way: Way, line: &Line, style: &Style) {
    let label = match way {
        Way::Height => "height",
        Way::EastWest => "east, west",
        Way::NorthSouth => "north, south",
    };
    for (at, stretch) in line.stretches().iter().enumerate() {
        let (from, to) = (place(way, line, &stretch.from, style), place(way, line, &stretch.to, style));
        let said = if from == to { from } else { format!("from {from} to {to}") };
        sheet.row(if at == 0 { label } else { "" }, &sentence(&said));
        let ends = match way {
            Way::Height => ["lower", "higher"],
            Way::EastWest => ["farther west", "farther east"],
            Way::NorthSouth => ["farther south", "farther north"],
        };
        for (edge, end) in [&stretch.from, &stretch.to].into_iter().zip(ends) {
            if !edge.stops.is_empty() {
                sheet.row(
                    "",
                    &sentence(&format!("{end} it is not as asked: {}", all_called(all, &edge.stops))),
                );
            }
        }
    }
}

fn place(way: Way, line: &Line, edge: &Edge, style: &Style) -> String {
    let by = &line.step * &Ratio::from(edge.steps);
    let length = length_text(&by.abs(), style).unwrap_or_default();
    let toward = match (way, edge.steps.signum()) {
        (_, 0) => return "as drawn".to_owned(),
        (Way::Height, 1) => "higher",
        (Way::Height, _) => "lower",
        (Way::EastWest, 1) => "to the east",
        (Way::EastWest, _) => "to the west",
        (Way::NorthSouth, 1) => "to the north",
        (Way::NorthSouth, _) => "to the south",
    };
    format!("{length} {toward}")
}

fn point(sheet: &mut Sheet<'_>, all: &Corrections<'_>, layout: &Layout, style: &Style) {
    let name = one_line(&layout.point);
    match (&layout.offer, &layout.stuck) {
        (Some(offer), _) => {
            sheet.row(&name, &sentence(&capital(&moved(&name, &offer.by, style))));
            if !offer.stops.is_empty() {
                sheet.row(
                    "",
                    &sentence(&format!("less far it is not as asked: {}", all_called(all, &offer.stops))),
                );
            }
        }
        (None, Some(stuck)) => sheet.row(&name, &sentence(&capital(&one_line(&why_stuck(stuck))))),
        (None, None) => {
            let unmet = all_called(all, &layout.unmet);
            sheet.row(&name, &sentence(&format!("no place that was tried meets {unmet}")));
        }
    }
}

fn more(sheet: &mut Sheet<'_>, all: &Corrections<'_>, needed: &Needed) {
    let area = needed.area.as_deref().map_or_else(String::new, |area| format!(" in {}", one_line(area)));
    let many = count(needed.more, "more suction point", "more suction points");
    sheet.row("number", &sentence(&format!("{}{area}: {}", capital(&many), called(all, &needed.asked))));
}
