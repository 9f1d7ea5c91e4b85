//! The first part of a page: calm, at most 25 lines, what must wait and what decides before all else.

use unicode_width::UnicodeWidthStr;

use super::Show;
use super::page::tone;
use super::sheet::{Sheet, Tone, capital};
use crate::render::phrases::count;
use crate::render::tell::told::{BookLine, Cause, Told, Wanted};
use crate::render::visible::{cut, one_line};

/// The first part of a page has no more lines than this.
pub const FIRST_PART: usize = 25;

/// A text of a file that runs on for more lines than this is cut: nobody wrote it to be read.
const MOST_LINES: usize = 6;

/// How much of each list the first part shows.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Shares {
    stops: usize,
    duties: usize,
    others: usize,
    wanted: usize,
    /// Of each book: its name and standing; its title as well; what it is in law and its edition as well.
    books: usize,
    /// In how many lines the names under one cause may stand.
    names: usize,
    later: bool,
}

impl Shares {
    /// What would be shown if there were room: the parts in the order in which room is given to them.
    fn wishes(told: &Told) -> Vec<fn(&mut Shares)> {
        let more_wanted: fn(&mut Shares) = |shares| shares.wanted += 1;
        let mut wishes: Vec<fn(&mut Shares)> = Vec::new();
        // What must wait and what decides, then the first thing to do, then more of what must wait.
        let wanted = told.wanted.iter().filter(|one| !one.told_above).count().min(FIRST_PART);
        let more_stops: fn(&mut Shares) = |shares| shares.stops += 1;
        let stops = told.stops.len().saturating_sub(1).min(FIRST_PART);
        wishes.extend(std::iter::repeat_n(more_stops, stops.min(2)));
        let duties = told.duties.len().saturating_sub(1).min(FIRST_PART);
        wishes.extend(std::iter::repeat_n((|shares| shares.duties += 1) as fn(&mut Shares), duties));
        wishes.extend(std::iter::repeat_n(more_wanted, wanted.min(1)));
        wishes.extend(std::iter::repeat_n(more_stops, stops.saturating_sub(2)));
        wishes.push(|shares| shares.books = 1);
        wishes.extend(told.others.iter().map(|_| -> fn(&mut Shares) { |shares| shares.others += 1 }));
        wishes.extend(std::iter::repeat_n(more_wanted, wanted.saturating_sub(1).min(3)));
        wishes.push(|shares| shares.later = true);
        wishes.push(|shares| shares.names = 4);
        wishes.push(|shares| shares.names = 8);
        wishes.push(|shares| shares.books = 2);
        wishes.extend(std::iter::repeat_n(more_wanted, wanted.saturating_sub(4)));
        wishes
    }
}

/// Writes the first part: as much of each list as fits.
/// Tells whether what comes later stands there.
pub(super) fn first_part(sheet: &mut Sheet<'_>, told: &Told, show: Show) -> bool {
    let draft = |shares: Shares| {
        let mut sheet = Sheet::new(sheet.look());
        first_lines(&mut sheet, told, shares);
        sheet.finish()
    };
    let mut shares = Shares { stops: 1, duties: 1, others: 0, wanted: 0, books: 0, names: 2, later: false };
    let mut best = draft(shares);
    for wish in Shares::wishes(told) {
        let mut more = shares;
        wish(&mut more);
        let text = draft(more);
        // One line is kept for the way to the details.
        if text.lines().count() < FIRST_PART {
            shares = more;
            best = text;
        }
    }
    sheet.raw(&best);
    if show == Show::Summary {
        sheet.paragraph(0, "The details: leave out --show summary", Tone::Quiet);
    }
    shares.later
}

/// A text of the file, whole unless it runs on and on; in the plain form always whole.
fn bounded(sheet: &Sheet<'_>, text: &str) -> String {
    let text = one_line(text);
    if sheet.look().plain { text.into_owned() } else { cut(&text, MOST_LINES * sheet.look().width) }
}

fn first_lines(sheet: &mut Sheet<'_>, told: &Told, shares: Shares) {
    sheet.paragraph(0, &bounded(sheet, &told.title), Tone::Heading);
    sheet.paragraph(0, &bounded(sheet, &told.about), Tone::Quiet);
    if !told.radon.is_empty() {
        sheet.paragraph(0, &bounded(sheet, &told.radon), Tone::Ink);
    }
    books(sheet, &told.books, shares.books);
    for note in told.notes.iter().take(2) {
        sheet.item(&bounded(sheet, note), Tone::Open);
    }
    more(sheet, told.notes.len(), 2, "more remark", "more remarks");
    if !told.stops.is_empty() {
        sheet.blank();
        for stop in told.stops.iter().take(shares.stops) {
            sheet.paragraph(0, &bounded(sheet, stop), Tone::Stop);
        }
        more(sheet, told.stops.len(), shares.stops, "more reason to wait", "more reasons to wait");
    }
    sheet.blank();
    sheet.paragraph(0, &told.headline, Tone::Heading);
    sheet.paragraph(0, &told.counts, Tone::Ink);
    if !told.part.is_empty() {
        sheet.paragraph(0, &bounded(sheet, &told.part), Tone::Open);
    }
    if !told.unread.is_empty() {
        sheet.paragraph(0, &bounded(sheet, &told.unread), Tone::Unmet);
    }
    for cause in told.duties.iter().take(shares.duties) {
        sheet.item(&cause_line(cause, shares.names * sheet.look().width), tone(cause.weighs));
    }
    more(sheet, told.duties.len(), shares.duties, "more that is unmet", "more that are unmet");
    for cause in told.others.iter().take(shares.others) {
        sheet.item(&cause_line(cause, shares.names * sheet.look().width), tone(cause.weighs));
    }
    let rest: Vec<&Wanted> = told.wanted.iter().filter(|one| !one.told_above).collect();
    if shares.wanted > 0 && !rest.is_empty() {
        sheet.paragraph(0, "What to measure or settle next", Tone::Heading);
        for wanted in rest.iter().take(shares.wanted) {
            let said = format!("{}; asked for by {}", capital(&wanted.says), wanted.asked_for_by);
            sheet.item(&bounded(sheet, &said), Tone::Open);
        }
        more(sheet, rest.len(), shares.wanted, "more entry", "more entries");
    } else if !rest.is_empty() {
        let entries = count(rest.len(), "entry", "entries");
        sheet.paragraph(0, &format!("What to measure or settle next: {entries}"), Tone::Heading);
    }
    for line in &told.before_running {
        sheet.paragraph(0, &bounded(sheet, line), Tone::Stop);
    }
    if shares.later {
        for line in &told.later {
            sheet.paragraph(0, line, Tone::Quiet);
        }
    }
}

/// The books, each with the name by which the findings cite it.
fn books(sheet: &mut Sheet<'_>, books: &[BookLine], shown: usize) {
    let standing = |book: &BookLine| {
        if book.decides_nothing.is_empty() {
            format!("{} ({})", book.name, book.standing)
        } else {
            format!("{} ({}, but {})", book.name, book.standing, book.decides_nothing)
        }
    };
    if shown > 0 {
        for book in books {
            let ink = if book.decides_nothing.is_empty() { Tone::Ink } else { Tone::Unmet };
            let mut said = format!("{}: {}", standing(book), book.title);
            for more in [&book.nature, &book.edition].into_iter().filter(|_| shown > 1) {
                said.push_str(&format!("; {more}"));
            }
            sheet.item(&said, ink);
        }
    } else if !books.is_empty() {
        let said: Vec<String> = books.iter().map(standing).collect();
        let out = books.iter().any(|book| !book.decides_nothing.is_empty());
        sheet.item(&said.join(", "), if out { Tone::Unmet } else { Tone::Ink });
    }
}

/// Says how many of a list are not shown: one of them, or several.
pub(super) fn more(sheet: &mut Sheet<'_>, all: usize, shown: usize, one: &str, several: &str) {
    if all > shown {
        sheet.item(&format!("and {}", count(all - shown, one, several)), Tone::Quiet);
    }
}

/// A cause with the things it touches: as many by name as there is room for.
fn cause_line(cause: &Cause, columns: usize) -> String {
    let mut line = match cause.names.as_slice() {
        [] => return cause.what.clone(),
        [one] => return format!("{}: {one}", cause.what),
        _ if cause.what.ends_with(')') => format!("{}: ", cause.what),
        several => format!("{}, {} places: ", cause.what, several.len()),
    };
    let room = columns.saturating_sub(24);
    for (at, name) in cause.names.iter().enumerate() {
        if at > 0 && line.width() + name.width() > room {
            line.push_str(&format!(" and {} more", cause.names.len() - at));
            break;
        }
        if at > 0 {
            line.push_str(", ");
        }
        line.push_str(name);
    }
    line
}
