//! The sheet: a view at a scale that fits, its labels, its legend, what is said beside it, and the title block.

use super::desk::NOT_KNOWN;
use super::font::{cut, width_of, wrapped};
use super::hatch::strokes;
use super::labels::{Label, placed};
use super::paper::{Paper, Scale};
use super::scene::{Frame, Layer, Mark, Part, Pen, Sheet, Spot};
use super::signs::flag;
use super::view::{LABEL, Laid, Onto, View, laid};

/// What goes on a sheet.
#[derive(Clone, Debug)]
pub(crate) struct Content {
    /// What it shows: `Plan`.
    pub(crate) name: String,
    /// What the job is called.
    pub(crate) job: String,
    /// What else stands in the title block.
    pub(crate) particulars: Vec<String>,
    /// The view.
    pub(crate) view: View,
    /// Whether it is drawn to a scale.
    pub(crate) to_scale: bool,
    /// Whether it lies with north upward.
    pub(crate) north: bool,
    /// From where heights are measured, where it shows any.
    pub(crate) levels: Option<String>,
    /// What is said beside it.
    pub(crate) notes: Vec<Part>,
    /// What it shows in words.
    pub(crate) twin: Vec<Part>,
}

/// White at the edge of the paper.
const MARGIN: f64 = 24.0;
/// How wide the column beside the view is.
const COLUMN: f64 = 188.0;
/// How high the title block is.
const TITLE: f64 = 104.0;
/// The size of notes.
const NOTE: f64 = 7.2;
/// How high a line of notes is.
const ROW: f64 = 8.8;
/// Room for labels round what is drawn.
const ABOUT: f64 = 25.0;

fn notes_mark(at: Spot, words: &str) -> Mark {
    Mark::words(Layer::Sheet, Pen::Words, at, NOTE, words)
}

/// Lines of notes, each with whether it is a title.
fn note_lines(notes: &[Part], wide: f64) -> Vec<(bool, String)> {
    let mut lines = Vec::new();
    for part in notes.iter().filter(|part| !part.lines.is_empty()) {
        lines.extend(wrapped(&part.title, NOTE, wide).into_iter().map(|line| (true, line)));
        for line in &part.lines {
            let mut first = true;
            for piece in wrapped(line, NOTE, wide - 7.0) {
                lines.push((false, format!("{}{piece}", if first { "- " } else { "  " })));
                first = false;
            }
        }
    }
    lines
}

/// Writes lines into columns one after the other; what does not fit is counted in the last line.
fn flow(lines: &[(bool, String)], columns: &[Frame], marks: &mut Vec<Mark>) {
    let mut left = lines.iter().peekable();
    for (number, column) in columns.iter().enumerate() {
        let last = number + 1 == columns.len();
        let mut y = column.low.y + ROW;
        while y <= column.high.y {
            let Some((is_title, line)) = left.peek() else { return };
            let room_below = column.high.y - y;
            if *is_title && y > column.low.y + ROW {
                y += 3.0;
            }
            // A title is not left alone at the foot of a column.
            if *is_title && room_below < ROW && !last {
                break;
            }
            if last && room_below < ROW && left.len() > 1 {
                let words = format!(
                    "and {} lines more: they stand in the words of this sheet (--as text).",
                    left.len()
                );
                marks.push(notes_mark(Spot::at(column.low.x, y), &cut(&words, NOTE, column.wide())));
                return;
            }
            let x = if line.starts_with("  ") { column.low.x + 5.0 } else { column.low.x };
            marks.push(notes_mark(Spot::at(x, y), line.trim_start()));
            if *is_title {
                let under = Spot::at(column.low.x, y + 2.0);
                marks.push(Mark::line(
                    Layer::Sheet,
                    Pen::Size,
                    under,
                    under.moved(width_of(line, NOTE), 0.0),
                ));
            }
            left.next();
            y += ROW;
        }
    }
}

/// How many lines columns hold.
fn room_for(columns: &[Frame]) -> usize {
    let rows = |column: &Frame| ((column.high() / ROW).floor().max(0.0)) as usize;
    columns.iter().map(rows).sum()
}

/// The legend, from a place down. Hands back where it ends.
fn legend(view: &View, at: Spot, marks: &mut Vec<Mark>) -> f64 {
    let mut y = at.y + ROW;
    marks.push(notes_mark(Spot::at(at.x, y), "Legend"));
    marks.push(Mark::line(Layer::Sheet, Pen::Size, Spot::at(at.x, y + 2.0), Spot::at(at.x + 24.0, y + 2.0)));
    y += 10.0;
    let words_at = at.x + 30.0;
    let wide = COLUMN - 40.0;
    for key in &view.keys {
        let middle = Spot::at(at.x + 13.0, y + 1.0);
        marks.extend(key.sample(middle).into_iter().map(|mark| Mark {
            layer: Layer::Sheet,
            flags: Vec::new(),
            ..mark
        }));
        marks.push(notes_mark(Spot::at(words_at, y + 3.4), &cut(key.words(), NOTE, wide)));
        y += 12.6;
    }
    for (how, words) in &view.shades {
        let patch = Frame::of(at.x + 2.0, y - 4.0, at.x + 24.0, y + 6.0);
        marks.push(Mark::strokes(Layer::Sheet, how.pen, strokes(&[patch], &[], *how)));
        marks.push(Mark::frame(Layer::Sheet, Pen::Size, patch));
        let mut row = y + 3.4;
        for line in wrapped(words, NOTE, wide) {
            marks.push(notes_mark(Spot::at(words_at, row), &line));
            row += ROW;
        }
        y = row.max(y + 12.6 + 3.4) - 3.4;
    }
    y
}

fn title_block(content: &Content, frame: Frame, scale: &str, marks: &mut Vec<Mark>) {
    marks.push(Mark::frame(Layer::Sheet, Pen::Frame, frame));
    let x = frame.low.x + 6.0;
    let wide = frame.wide() - 12.0;
    let mut y = frame.low.y + 15.0;
    let mut line = |words: &str, size: f64, step: f64, pen| {
        marks.push(Mark::words(Layer::Sheet, pen, Spot::at(x, y), size, &cut(words, size, wide)));
        y += step;
    };
    line(&content.name, 12.0, 12.5, Pen::Words);
    line(&content.job, 9.0, 11.0, Pen::Words);
    for words in content.particulars.iter().take(3) {
        line(words, NOTE, 9.2, Pen::Notes);
    }
    line(scale, NOTE, 10.5, Pen::Words);
    for words in wrapped(CAUTION, 7.0, wide).iter().take(3) {
        line(words, 7.0, 8.4, Pen::Notes);
    }
}

/// What a drawing is not.
const CAUTION: &str = "Not a permit and not an approval. Measure on site before you cut; local code and licensed practice come first.";

/// The bar that shows how long feet and metres are.
fn scale_bar(at: Spot, points_for_a_metre: f64, marks: &mut Vec<Mark>) -> Frame {
    let foot = points_for_a_metre * 0.3048;
    let feet = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 500.0]
        .into_iter()
        .find(|n| n * foot >= 60.0)
        .unwrap_or(1000.0);
    let metres = [0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0]
        .into_iter()
        .find(|n| n * points_for_a_metre >= 50.0)
        .unwrap_or(500.0);
    let mut long: f64 = 0.0;
    for (y, unit, amount, words) in [(0.0, foot, feet, "ft"), (14.0, points_for_a_metre, metres, "m")] {
        let start = at.moved(0.0, y);
        let end = start.moved(unit * amount, 0.0);
        let middle = start.toward(end, 0.5);
        marks.push(Mark::frame(Layer::Sheet, Pen::Size, Frame { low: start.moved(0.0, -3.0), high: end }));
        marks.push(Mark::path(
            Layer::Sheet,
            Pen::Ink,
            vec![start.moved(0.0, -3.0), middle.moved(0.0, -3.0), middle, start],
            true,
        ));
        let said = format!("{amount} {words}");
        marks.push(notes_mark(end.moved(4.0, 0.0), &said));
        long = long.max(unit * amount + 4.0 + width_of(&said, NOTE));
    }
    Frame { low: at.moved(-2.0, -8.0), high: at.moved(long + 2.0, 17.0) }
}

fn north_arrow(at: Spot, marks: &mut Vec<Mark>) -> Frame {
    let up = |x: f64, y: f64| at.moved(x, y);
    marks.push(Mark::path(Layer::Sheet, Pen::Ink, vec![up(0.0, 0.0), up(-5.0, 22.0), up(0.0, 17.0)], true));
    marks.push(Mark::path(Layer::Sheet, Pen::Sign, vec![up(0.0, 0.0), up(5.0, 22.0), up(0.0, 17.0)], true));
    marks.push(Mark::words(Layer::Sheet, Pen::Words, up(-3.0, 32.0), 9.0, "N"));
    Frame { low: up(-8.0, -2.0), high: up(8.0, 36.0) }
}

/// The flags of findings: beside what they are about, wherever there is room.
fn flags(view: &View, onto: Onto) -> Vec<Label> {
    view.flags
        .iter()
        .map(|(at, number)| Label {
            at: onto.spot(*at),
            within: None,
            lines: vec![number.clone()],
            size: 7.0,
            off: 7.0,
            turn: 0,
            flag: true,
        })
        .collect()
}

/// Lays a sheet out.
pub(crate) fn sheet(content: &Content, paper: Paper) -> Sheet {
    let (width, height) = paper.points();
    let page = Frame::of(MARGIN, MARGIN, width - MARGIN, height - MARGIN);
    let mut marks = vec![Mark::frame(Layer::Sheet, Pen::Frame, page)];
    let column = Frame::of(page.high.x - COLUMN, page.low.y, page.high.x, page.high.y);
    marks.push(Mark::line(Layer::Sheet, Pen::Frame, column.low, Spot::at(column.low.x, page.high.y)));
    let below_legend = legend(&content.view, column.low.moved(6.0, 2.0), &mut marks);
    let beside =
        Frame::of(column.low.x + 6.0, below_legend + 2.0, column.high.x - 6.0, page.high.y - TITLE - 4.0);
    let (room, columns) = rooms(content, page, column, beside);
    if room.high.y < page.high.y {
        let from = Spot::at(page.low.x, room.high.y);
        marks.push(Mark::line(Layer::Sheet, Pen::Frame, from, Spot::at(column.low.x, room.high.y)));
    }
    let (onto, scale) = scaled(content, room, paper);
    let mut notes = content.notes.clone();
    let (labels, left) = if let Some(onto) = onto {
        drawn(content, onto, room, &mut marks)
    } else {
        nothing(content, room, &mut marks);
        (Vec::new(), Vec::new())
    };
    if !left.is_empty() {
        let title = "For which there was no room on the drawing".to_owned();
        notes.push(Part { title, lines: left.into_iter().map(|label| label.lines.join(", ")).collect() });
    }
    flow(&note_lines(&notes, beside.wide()), &columns, &mut marks);
    let block = Frame::of(column.low.x, page.high.y - TITLE, page.high.x, page.high.y);
    title_block(content, block, &scale, &mut marks);
    marks.sort_by_key(|mark| mark.layer);
    let title = format!("{}: {}", content.name, content.job);
    Sheet { title, width, height, marks, labels, twin: content.twin.clone() }
}

/// Says in the middle of a sheet that nothing can be drawn yet, and what would have to be stated.
fn nothing(content: &Content, room: Frame, marks: &mut Vec<Mark>) {
    let missing = content.notes.iter().filter(|part| part.title == NOT_KNOWN).flat_map(|part| &part.lines);
    let wide = room.wide() * 0.7;
    let lines: Vec<String> = missing.flat_map(|line| wrapped(&format!("- {line}"), LABEL, wide)).collect();
    let mut at = Spot::at(room.low.x + room.wide() * 0.15, room.low.y + room.high() * 0.3);
    let mut line = |words: &str, size: f64, step: f64| {
        if at.y < room.high.y - 12.0 {
            marks.push(Mark::words(Layer::Labels, Pen::Words, at, size, words));
        }
        at.y += step;
    };
    line("Nothing of this can be drawn yet.", 12.0, 18.0);
    if !lines.is_empty() {
        line("To have it drawn:", 9.0, 14.0);
    }
    for words in &lines {
        line(words, LABEL, 10.5);
    }
}

/// The room for the view, and the columns for notes: the one beside it, and as many below as the notes need.
fn rooms(content: &Content, page: Frame, column: Frame, beside: Frame) -> (Frame, Vec<Frame>) {
    let wanted = note_lines(&content.notes, beside.wide()).len() + 3;
    let view = Frame::of(page.low.x, page.low.y, column.low.x, page.high.y);
    let below = |rows: usize| {
        let mut high = 0.0;
        for _ in 0..rows {
            high += ROW;
        }
        let top = page.high.y - high - 8.0;
        let apart = view.wide() / 2.0;
        let one = |x: f64| Frame::of(x + 6.0, top + 2.0, x + 6.0 + beside.wide(), page.high.y - 4.0);
        let columns = vec![beside, one(view.low.x), one(view.low.x + apart)];
        (Frame { high: Spot::at(view.high.x, top), ..view }, columns)
    };
    if room_for(&[beside]) >= wanted {
        return (view, vec![beside]);
    }
    let found = (2..=15).map(below).find(|(_, columns)| room_for(columns) >= wanted);
    found.unwrap_or_else(|| below(15))
}

/// How the view lies in its room, and its scale in words.
fn scaled(content: &Content, room: Frame, paper: Paper) -> (Option<Onto>, String) {
    let Some(extent) = content.view.extent() else { return (None, "Not to scale".to_owned()) };
    let (wide, high) = (extent.wide().max(0.3), extent.high().max(0.3));
    let most = ((room.wide() - 2.0 * ABOUT) / wide).min((room.high() - 2.0 * ABOUT - 30.0) / high);
    let (scale, words) = if content.to_scale {
        let Scale { points_for_a_metre, words } = paper.scale_within(most);
        (points_for_a_metre, format!("Scale {words}"))
    } else {
        (most, "Not to scale".to_owned())
    };
    let middle = room.middle();
    let own = extent.middle();
    let origin = Spot::at(middle.x - own.x * scale, middle.y + own.y * scale);
    (Some(Onto { scale, origin }), words)
}

/// Draws the view with its labels. Hands back the boxes of the labels, and those that found no place.
fn drawn(content: &Content, onto: Onto, room: Frame, marks: &mut Vec<Mark>) -> (Vec<Frame>, Vec<Label>) {
    let Laid { marks: own, mut labels, obstacles } = laid(&content.view, onto);
    marks.extend(own);
    let mut taken = Vec::new();
    if content.north {
        taken.push(north_arrow(Spot::at(room.high.x - 16.0, room.low.y + 10.0), marks));
    }
    if content.to_scale {
        let at = Spot::at(room.low.x + 10.0, room.high.y - 24.0);
        taken.push(scale_bar(at, onto.scale, marks));
    }
    if let Some(words) = &content.levels {
        let x = taken.last().map_or(room.low.x, |bar| bar.high.x) + 14.0;
        let lines = wrapped(words, NOTE, room.high.x - x - 10.0);
        let mut at = Spot::at(x, room.high.y - 18.0);
        let mut box_of = Frame { low: at.moved(-2.0, -ROW), high: at.moved(2.0, 2.0) };
        for line in lines.iter().take(2) {
            marks.push(notes_mark(at, line));
            box_of = box_of.with(at.moved(width_of(line, NOTE), 2.0));
            at.y += ROW;
        }
        taken.push(box_of);
    }
    labels.extend(flags(&content.view, onto));
    let (placed, left) = placed(labels, room.wider(-3.0), &taken, obstacles);
    for one in &placed {
        if let Some((from, to)) = one.leader {
            marks.push(Mark::line(Layer::Sizes, Pen::Size, from, to));
        }
        if one.flag {
            marks.extend(flag(one.frame.middle(), &one.lines.concat()));
            continue;
        }
        marks.push(Mark::frame(Layer::Labels, Pen::White, one.frame));
        for (at, line) in one.lines() {
            marks.push(Mark::words(Layer::Labels, Pen::Words, at, one.size, line));
        }
    }
    (placed.into_iter().map(|one| one.frame).collect(), left)
}
