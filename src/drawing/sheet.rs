//! The sheet: a view at a scale that fits, its labels, its legend, what is said beside it, and the title block.

use super::desk::NOT_KNOWN;
use super::font::{cut, width_of, wrapped};
use super::hatch::{clear_of, strokes};
use super::labels::{Label, Placed, placed};
use super::paper::{Paper, Scale};
use super::scene::{Form, Frame, Layer, Mark, Named, Part, Pen, Sheet, Spot};
use super::signs::flag;
use super::stand::Standing;
use super::view::{Flag, LABEL, Laid, Onto, View, laid};

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
/// The size of notes.
const NOTE: f64 = 7.2;
/// How high a line of notes is.
const ROW: f64 = 8.8;
/// Room for labels round what is drawn.
const ABOUT: f64 = 25.0;

fn notes_mark(at: Spot, words: &str) -> Mark {
    Mark::words(Layer::Sheet, Pen::Words, at, NOTE, words)
}

/// A note, or the title of several, on as many lines as it takes.
struct Entry {
    title: bool,
    lines: Vec<String>,
}

/// The notes, each with its title before it.
fn entries(notes: &[Part], wide: f64) -> Vec<Entry> {
    let mut found = Vec::new();
    for part in notes.iter().filter(|part| !part.lines.is_empty()) {
        found.push(Entry { title: true, lines: wrapped(&part.title, NOTE, wide) });
        for line in &part.lines {
            let pieces = wrapped(line, NOTE, wide - 7.0).into_iter().enumerate();
            let lines =
                pieces.map(|(at, piece)| format!("{}{piece}", if at == 0 { "- " } else { "  " })).collect();
            found.push(Entry { title: false, lines });
        }
    }
    found
}

/// Where notes are written: column by column, from the top of each down.
struct Pencil<'a> {
    columns: &'a [Frame],
    column: usize,
    y: f64,
    marks: Vec<Mark>,
}

impl Pencil<'_> {
    fn at(&self) -> Option<Frame> {
        self.columns.get(self.column).copied()
    }

    fn is_fresh(&self) -> bool {
        self.at().is_none_or(|column| self.y <= column.low.y)
    }

    /// How many lines still fit into the column.
    fn rows(&self) -> usize {
        self.at().map_or(0, |column| (((column.high.y - self.y) / ROW) + 1e-6).floor().max(0.0) as usize)
    }

    fn turn(&mut self) {
        self.column += 1;
        self.y = self.at().map_or(0.0, |column| column.low.y);
    }

    fn write(&mut self, line: &str, title: bool) {
        let Some(column) = self.at() else { return };
        self.y += ROW;
        let x = if line.starts_with("  ") { column.low.x + 5.0 } else { column.low.x };
        self.marks.push(notes_mark(Spot::at(x, self.y), line.trim_start()));
        if title {
            let (from, wide) = (Spot::at(column.low.x, self.y + 2.0), width_of(line, NOTE));
            self.marks.push(Mark::line(Layer::Sheet, Pen::Size, from, from.moved(wide, 0.0)));
        }
    }

    /// Writes an entry where it stays together, with the room it wants below it. Hands back whether it found a place.
    fn put(&mut self, entry: &Entry, below: usize) -> bool {
        let wanted = entry.lines.len() + below;
        if self.rows() < wanted && !self.is_fresh() {
            self.turn();
        }
        for line in &entry.lines {
            if self.rows() == 0 {
                self.turn();
            }
            if self.at().is_none() {
                return false;
            }
            self.write(line, entry.title);
        }
        true
    }
}

/// Writes notes into columns one after the other. Hands back how many found no place.
fn flow(entries: &[Entry], columns: &[Frame], marks: &mut Vec<Mark>) -> usize {
    let y = columns.first().map_or(0.0, |column| column.low.y);
    let mut pencil = Pencil { columns, column: 0, y, marks: Vec::new() };
    let mut lost = 0;
    for (number, entry) in entries.iter().enumerate() {
        if entry.title && !pencil.is_fresh() {
            pencil.y += 3.0;
        }
        let below = entries.get(number + 1).filter(|_| entry.title).map_or(0, |next| next.lines.len().min(4));
        if !pencil.put(entry, below) {
            lost = entries.len() - number;
            break;
        }
    }
    marks.extend(pencil.marks);
    lost
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
        let mut row = y + 3.4;
        for line in wrapped(key.words(), NOTE, wide) {
            marks.push(notes_mark(Spot::at(words_at, row), &line));
            row += ROW;
        }
        y = row.max(y + 12.6 + 3.4) - 3.4;
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

/// A line of the title block: its words, how high its letters are, how far down the next one stands, its pen.
type TitleLine = (String, f64, f64, Pen);

/// What stands in the title block. Words that are longer than the block is wide go on to the next line.
fn title_lines(content: &Content, scale: &str) -> Vec<TitleLine> {
    let wide = COLUMN - 12.0;
    let mut found = Vec::new();
    let mut put = |words: &str, size: f64, step: f64, most: usize, pen| {
        let lines = wrapped(words, size, wide);
        let over = lines.len() > most;
        for (at, line) in lines.into_iter().take(most).enumerate() {
            let line =
                if over && at + 1 == most { cut(&format!("{line} \u{2026}"), size, wide) } else { line };
            found.push((line, size, step, pen));
        }
    };
    put(&content.name, 12.0, 12.5, 3, Pen::Words);
    put(&content.job, 9.0, 11.0, 5, Pen::Words);
    for words in &content.particulars {
        put(words, NOTE, 9.2, 4, Pen::Notes);
    }
    put(scale, NOTE, 10.5, 2, Pen::Words);
    put(CAUTION, 7.0, 8.4, 4, Pen::Notes);
    found
}

/// How high the title block is.
fn title_high(lines: &[TitleLine]) -> f64 {
    lines.iter().map(|(_, _, step, _)| step).sum::<f64>() + 12.0
}

fn title_block(lines: &[TitleLine], frame: Frame, marks: &mut Vec<Mark>) {
    marks.push(Mark::frame(Layer::Sheet, Pen::Frame, frame));
    let mut y = frame.low.y + 15.0;
    for (words, size, step, pen) in lines {
        marks.push(Mark::words(Layer::Sheet, *pen, Spot::at(frame.low.x + 6.0, y), *size, words));
        y += step;
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
fn flags(view: &View, onto: Onto, signs: &[Standing]) -> Vec<Label> {
    let label = |flag: &Flag| {
        let spot = onto.spot(flag.at);
        let sign = signs.iter().find(|one| Some(one.key) == flag.sign && one.spot.away(spot) < 1.0);
        Label {
            at: sign.map_or(spot, |one| one.at),
            within: None,
            lines: vec![flag.words.clone()],
            size: 7.0,
            off: sign.map_or(7.0, |one| one.key.reach() + 1.5),
            turn: 0,
            flag: true,
            own: sign.map_or_else(|| view.at(flag.at), |one| vec![one.shape]),
        }
    };
    view.flags.iter().map(label).collect()
}

/// Lays a sheet out.
pub(crate) fn sheet(content: &Content, paper: Paper) -> Sheet {
    let (width, height) = paper.points();
    let page = Frame::of(MARGIN, Paper::HEAD, width - MARGIN, height - MARGIN);
    let mut marks = vec![Mark::frame(Layer::Sheet, Pen::Frame, page)];
    let column = Frame::of(page.high.x - COLUMN, page.low.y, page.high.x, page.high.y);
    marks.push(Mark::line(Layer::Sheet, Pen::Frame, column.low, Spot::at(column.low.x, page.high.y)));
    let below_legend = legend(&content.view, column.low.moved(6.0, 2.0), &mut marks);
    // The scale is not known yet; it takes one line whichever it is.
    let title = title_high(&title_lines(content, "Scale"));
    let beside =
        Frame::of(column.low.x + 6.0, below_legend + 2.0, column.high.x - 6.0, page.high.y - title - 4.0);
    let (room, columns) = rooms(&content.notes, page, column, beside);
    if room.high.y < page.high.y {
        let from = Spot::at(page.low.x, room.high.y);
        marks.push(Mark::line(Layer::Sheet, Pen::Frame, from, Spot::at(column.low.x, room.high.y)));
    }
    let (onto, scale) = scaled(content, room, paper);
    let mut notes = content.notes.clone();
    let mut own = Own::default();
    if let Some(onto) = onto {
        own = drawn(content, onto, room, &mut marks);
    } else {
        nothing(content, room, &mut marks);
    }
    let Own { labels, signs, kept_free, left } = own;
    if !left.is_empty() {
        let title = "For which there was no room on the drawing".to_owned();
        notes.push(Part { title, lines: left.into_iter().map(|label| label.lines.join(", ")).collect() });
    }
    write_notes(&notes, &columns, &mut marks);
    let block = Frame::of(column.low.x, page.high.y - title, page.high.x, page.high.y);
    title_block(&title_lines(content, &scale), block, &mut marks);
    marks.sort_by_key(|mark| mark.layer);
    let title = format!("{}: {}", content.name, content.job);
    Sheet { title, width, height, marks, labels, signs, kept_free, twin: content.twin.clone() }
}

/// Writes all notes, and what is lost where the paper is too small for them.
fn write_notes(notes: &[Part], columns: &[Frame], marks: &mut Vec<Mark>) {
    let wide = columns.iter().map(|column| column.wide()).fold(f64::INFINITY, f64::min);
    let entries = entries(notes, wide);
    let mut written = Vec::new();
    let lost = flow(&entries, columns, &mut written);
    if lost == 0 {
        marks.extend(written);
        return;
    }
    // The last line is kept for saying so.
    let mut shorter = columns.to_vec();
    let Some(last) = shorter.last_mut() else { return };
    last.high.y -= ROW;
    let at = Spot::at(last.low.x, last.high.y + ROW);
    let lost = flow(&entries, &shorter, marks);
    let words = format!("and {lost} notes more: they stand in the words of this sheet (--as text).");
    marks.push(notes_mark(at, &cut(&words, NOTE, wide)));
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
        line("What has to be known and written down to have it drawn:", 9.0, 14.0);
    }
    for words in &lines {
        line(words, LABEL, 10.5);
    }
}

/// The room for the view, and the columns for notes: the one beside it, and as many below as the notes need.
fn rooms(notes: &[Part], page: Frame, column: Frame, beside: Frame) -> (Frame, Vec<Frame>) {
    let view = Frame::of(page.low.x, page.low.y, column.low.x, page.high.y);
    let holds = |columns: &[Frame]| {
        let wide = columns.iter().map(|column| column.wide()).fold(f64::INFINITY, f64::min);
        flow(&entries(notes, wide), columns, &mut Vec::new()) == 0
    };
    let below = |rows: u8| {
        let top = page.high.y - f64::from(rows) * ROW - 8.0;
        let apart = view.wide() / 3.0;
        let one = |number: f64| {
            let x = view.low.x + apart * number + 6.0;
            Frame::of(x, top + 2.0, x + (apart - 9.0).min(beside.wide()), page.high.y - 4.0)
        };
        (Frame { high: Spot::at(view.high.x, top), ..view }, vec![beside, one(0.0), one(1.0), one(2.0)])
    };
    if holds(&[beside]) {
        return (view, vec![beside]);
    }
    let found = (2..=36).map(below).find(|(_, columns)| holds(columns));
    found.unwrap_or_else(|| below(36))
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

/// What is on a sheet beside its marks, and the labels that found no place.
#[derive(Default)]
struct Own {
    labels: Vec<Named>,
    signs: Vec<(Frame, &'static str)>,
    kept_free: Vec<Frame>,
    left: Vec<Label>,
}

/// Draws the view with its labels.
fn drawn(content: &Content, onto: Onto, room: Frame, marks: &mut Vec<Mark>) -> Own {
    let Laid { marks: mut own, mut labels, mut filled, signs, .. } =
        laid(&content.view, onto, room.wider(-3.0));
    let kept_free = filled.boxes.iter().map(|(frame, _)| *frame).collect();
    if content.north {
        filled.boxes.push((north_arrow(Spot::at(room.high.x - 16.0, room.low.y + 10.0), marks), usize::MAX));
    }
    if content.to_scale {
        let at = Spot::at(room.low.x + 10.0, room.high.y - 24.0);
        filled.boxes.push((scale_bar(at, onto.scale, marks), usize::MAX));
    }
    if let Some(words) = &content.levels {
        let x = filled.boxes.last().map_or(room.low.x, |(bar, _)| bar.high.x) + 14.0;
        let lines = wrapped(words, NOTE, room.high.x - x - 10.0);
        let mut at = Spot::at(x, room.high.y - 18.0);
        let mut box_of = Frame { low: at.moved(-2.0, -ROW), high: at.moved(2.0, 2.0) };
        for line in lines.iter().take(2) {
            marks.push(notes_mark(at, line));
            box_of = box_of.with(at.moved(width_of(line, NOTE), 2.0));
            at.y += ROW;
        }
        filled.boxes.push((box_of, usize::MAX));
    }
    labels.extend(flags(&content.view, onto, &signs));
    let (placed, left) = placed(labels, room.wider(-3.0), &filled);
    let words: Vec<Frame> = placed.iter().flat_map(Placed::boxes).collect();
    for mark in &mut own {
        if let Form::Strokes(strokes) = &mut mark.form {
            *strokes = clear_of(strokes, &words);
        }
    }
    marks.extend(own);
    for one in &placed {
        if let Some(led) = one.leader {
            marks.push(Mark::line(Layer::Sizes, Pen::Hair, led.from, led.to));
            if led.dot {
                marks.push(Mark::ring(Layer::Sizes, Pen::Ink, led.to, 1.3));
            }
        }
        if one.flag {
            marks.extend(flag(one.frame.middle(), &one.lines.concat()));
            continue;
        }
        // White only where words would be struck through.
        for white in one.boxes() {
            if filled.obstacles.iter().any(|line| white.is_crossed(line.from, line.to)) {
                marks.push(Mark::frame(Layer::Labels, Pen::White, white));
            }
        }
        for (at, line) in one.lines() {
            marks.push(Mark::words(Layer::Labels, Pen::Words, at, one.size, line));
        }
    }
    let named = |one: Placed| Named {
        frame: one.frame,
        leader: one.leader.map(|led| (led.from, led.to)),
        own: one.own,
        others: one.others,
    };
    Own {
        labels: placed.into_iter().map(named).collect(),
        signs: signs.iter().map(|one| (one.frame(), one.key.words())).collect(),
        kept_free,
        left,
    }
}
