//! Pages as the library writes them: words, shapes, what leads where, the list of what is where, the tree of parts.

use std::collections::BTreeMap;

use krilla::annotation::{Annotation, LinkAnnotation, Target};
use krilla::configure::{Accessibility, ConfigurationBuilder};
use krilla::destination::XyzDestination;
use krilla::geom::{Point, Rect};
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::{Page, PageSettings};
use krilla::surface::Surface;
use krilla::tagging::{Artifact, ArtifactType, ContentTag, SpanTag};
use krilla::{Document, SerializeSettings};

use super::NotWritten;
use super::face::{Faces, Weight};
use super::flow::{Beside, Drawn, Laid, Leaf, SIDE, Shape, Slab, upright};
use super::lines::{Run, SOME_PAGE, Span, Style, Tone, broken};
use super::marks::{draw, fill, path, ring, stroke};
use super::tree::{Kind, Tree};
use crate::drawing::Paper as Size;
use crate::drawing::scene::{Colour, Form, Spot};
use crate::render::papers::{Paper, Part};

/// How high the letters are in the head and the foot of a page.
const MARGINAL: f64 = 7.0;
/// How high they are in the white above a drawing.
const ABOVE: f64 = 7.5;
/// How many lines of what every sheet of a paper has to say have room at its foot.
const RUNNING: usize = 4;
/// Room for the number of a page beside them.
const PAGE: f64 = 62.0;

fn colour(tone: Tone) -> Colour {
    match tone {
        Tone::Ink => [20, 20, 20],
        Tone::Quiet => [80, 80, 80],
        Tone::Leads => [11, 61, 120],
        Tone::Ground => [255, 255, 255],
    }
}

/// Where a name is: on which page, counted from nought, and how far down.
type Names = BTreeMap<String, (usize, f64)>;

/// What leads from a place on a page: its box, where to, what that is, and the part it belongs to.
struct Lead {
    frame: [f64; 4],
    to: (usize, f64),
    words: String,
    part: usize,
}

struct Desk<'a> {
    faces: &'a Faces,
    paper: &'a Paper,
    names: Names,
    many: usize,
    tree: Tree,
    leads: Vec<Lead>,
}

/// Writes the pages.
pub(super) fn written(
    faces: &Faces,
    paper: &Paper,
    size: Size,
    leaves: &[Leaf<'_>],
    tree: Tree,
) -> Result<Vec<u8>, NotWritten> {
    let refused = NotWritten;
    let configuration = ConfigurationBuilder::new()
        .with_accessibility_validator(Accessibility::UA1)
        .finish()
        .map_err(|error| refused(format!("{error:?}")))?;
    let mut document = Document::new_with(SerializeSettings { configuration, ..Default::default() });
    let mut desk = Desk { faces, paper, names: names(leaves), many: leaves.len(), tree, leads: Vec::new() };
    for (number, leaf) in leaves.iter().enumerate() {
        let (wide, high) = match leaf {
            Leaf::Text { .. } => upright(size),
            Leaf::Drawn(drawn) => (drawn.sheet.width, drawn.sheet.height),
        };
        let settings = PageSettings::from_wh(wide as f32, high as f32)
            .ok_or_else(|| refused("a page without extent".to_owned()))?;
        let mut page = document.start_page_with(settings);
        let mut surface = page.surface();
        match leaf {
            Leaf::Text { slabs, beside } => {
                desk.margins(&mut surface, number, wide, high);
                for laid in beside {
                    aside(&mut surface, laid);
                }
                for (y, slab) in slabs {
                    desk.slab(&mut surface, slab, *y);
                }
            }
            Leaf::Drawn(drawn) => desk.drawn(&mut surface, drawn, number),
        }
        surface.finish();
        desk.lead(&mut page);
    }
    document.set_outline(outline(leaves));
    document.set_tag_tree(desk.tree.written());
    let mut metadata = Metadata::new().title(title(faces, paper)).language("en".to_owned());
    if let Some(program) = paper.foot.first() {
        metadata = metadata.creator(faces.shown(program));
    }
    document.set_metadata(metadata);
    document.finish().map_err(|error| refused(format!("{error:?}")))
}

fn title(faces: &Faces, paper: &Paper) -> String {
    let title = faces.shown(&paper.title);
    if title.trim().is_empty() { "No title".to_owned() } else { title }
}

fn names(leaves: &[Leaf<'_>]) -> Names {
    let mut names = Names::new();
    for (number, leaf) in leaves.iter().enumerate() {
        match leaf {
            Leaf::Text { slabs, .. } => {
                for (y, slab) in slabs {
                    for name in slab.names.iter().filter(|name| !name.is_empty()) {
                        names.entry(name.clone()).or_insert((number, *y));
                    }
                }
            }
            Leaf::Drawn(drawn) => {
                for (_, _, name, _) in &drawn.headings {
                    names.entry(name.clone()).or_insert((number, 0.0));
                }
            }
        }
    }
    names
}

/// What is where: the parts, and below each its findings and drawings.
fn outline(leaves: &[Leaf<'_>]) -> Outline {
    let mut marks: Vec<(u8, String, usize, f64)> = Vec::new();
    for (number, leaf) in leaves.iter().enumerate() {
        match leaf {
            Leaf::Text { slabs, .. } => marks.extend(slabs.iter().filter_map(|(y, slab)| {
                let mark = slab.mark.as_ref()?;
                Some((mark.depth, mark.words.clone(), number, (*y - 8.0).max(0.0)))
            })),
            Leaf::Drawn(drawn) => {
                let heading =
                    |(depth, words, _, _): &(u8, String, String, usize)| (*depth, words.clone(), number, 0.0);
                marks.extend(drawn.headings.iter().map(heading));
            }
        }
    }
    let node = |(_, words, page, y): &(u8, String, usize, f64)| {
        OutlineNode::new(words.clone(), XyzDestination::new(*page, Point::from_xy(0.0, *y as f32)))
    };
    let mut outline = Outline::new();
    // Parts begin at a depth of two; the title stands beside them.
    for group in marks.chunk_by(|_, next| next.0 > 2) {
        let mut group = group.iter();
        let Some(first) = group.next() else { continue };
        let mut above = node(first);
        group.for_each(|mark| above.push_child(node(mark)));
        outline.push_child(above);
    }
    outline
}

fn adornment(kind: ArtifactType) -> ContentTag<'static> {
    ContentTag::Artifact(Artifact::with_kind(kind))
}

fn rule(surface: &mut Surface<'_>, from: Spot, to: Spot, thick: f64, tone: Tone) {
    shape(surface, &[from, to], false, None, Some((thick, tone, &[])));
}

fn shape(
    surface: &mut Surface<'_>,
    places: &[Spot],
    closed: bool,
    inside: Option<Tone>,
    line: Option<(f64, Tone, &[f64])>,
) {
    let Some(path) = path([(places, closed)]) else { return };
    surface.start_tagged(adornment(ArtifactType::Layout));
    surface.set_fill(inside.map(|tone| fill(colour(tone))));
    surface.set_stroke(line.map(|(thick, tone, dashes)| stroke(colour(tone), thick, dashes)));
    surface.draw_path(&path);
    surface.end_tagged();
}

fn corners([left, top, right, bottom]: [f64; 4]) -> [Spot; 4] {
    [Spot::at(left, top), Spot::at(right, top), Spot::at(right, bottom), Spot::at(left, bottom)]
}

/// What runs down beside pieces.
fn aside(surface: &mut Surface<'_>, laid: &Laid) {
    let (from, to) = (laid.from, laid.to);
    let down = |surface: &mut Surface<'_>, x: f64, thick: f64, tone: Tone, dashes: &[f64]| {
        let places = [Spot::at(x, from), Spot::at(x, to)];
        shape(surface, &places, false, None, Some((thick, tone, dashes)));
    };
    match laid.look {
        Beside::Line { x, thick, broken: true } => down(surface, x, thick, Tone::Quiet, &[5.0, 3.0]),
        Beside::Line { x, thick, broken: false } => down(surface, x, thick, Tone::Quiet, &[]),
        Beside::Two { x } => {
            down(surface, x - 1.0, 1.4, Tone::Ink, &[]);
            down(surface, x + 2.0, 1.4, Tone::Ink, &[]);
        }
        Beside::Frame { from: left, to: right, double } => {
            let frame = [left, from - 6.0, right, to + 4.0];
            shape(surface, &corners(frame), true, None, Some((1.2, Tone::Ink, &[])));
            if double {
                let [left, top, right, bottom] = frame;
                let inner = [left + 2.6, top + 2.6, right - 2.6, bottom - 2.6];
                shape(surface, &corners(inner), true, None, Some((0.8, Tone::Ink, &[])));
            }
        }
    }
}

impl Desk<'_> {
    /// Writes words of one look, and hands back how wide they came out.
    fn words(&mut self, surface: &mut Surface<'_>, run: &Run, at: Spot, adorns: ArtifactType) {
        let Style { weight, tone, part, .. } = run.style;
        let id = match part {
            Some(_) => surface.start_tagged(ContentTag::Span(SpanTag::empty())),
            None => surface.start_tagged(adornment(adorns)),
        };
        surface.set_fill(Some(fill(colour(tone))));
        surface.set_stroke(None);
        let glyphs = self.faces.glyphs(&run.words, weight, 1.0);
        let from = Point::from_xy(at.x as f32, at.y as f32);
        surface.draw_glyphs(from, &glyphs, self.faces.font(weight), &run.words, run.size as f32, false);
        surface.end_tagged();
        if let Some(part) = part {
            self.tree.holds(part, id);
        }
    }

    fn slab(&mut self, surface: &mut Surface<'_>, slab: &Slab, top: f64) {
        for one in &slab.shapes {
            match one {
                Shape::Rule { from, to, y, thick, tone } => {
                    rule(surface, Spot::at(*from, top + y), Spot::at(*to, top + y), *thick, *tone);
                }
                Shape::Box { frame: [left, up, right, down], filled } => {
                    let frame = corners([*left, top + up, *right, top + down]);
                    let inside = if *filled { Tone::Ink } else { Tone::Ground };
                    shape(surface, &frame, true, Some(inside), Some((0.8, Tone::Ink, &[])));
                }
                Shape::Post { x, from, to } => {
                    let places = [Spot::at(*x, top + from), Spot::at(*x, top + to)];
                    shape(surface, &places, false, None, Some((0.4, Tone::Quiet, &[])));
                }
                Shape::Ring { x, y, radius } => {
                    if let Some(path) = ring(Spot::at(*x, top + y), *radius) {
                        surface.start_tagged(adornment(ArtifactType::Layout));
                        surface.set_fill(None);
                        surface.set_stroke(Some(stroke(colour(Tone::Ink), 1.1, &[])));
                        surface.draw_path(&path);
                        surface.end_tagged();
                    }
                }
            }
        }
        for run in &slab.runs {
            self.run(surface, run, Spot::at(run.x, top + run.y));
        }
    }

    fn run(&mut self, surface: &mut Surface<'_>, run: &Run, at: Spot) {
        let mut run = run.clone();
        if let Some(name) = &run.style.page_of {
            let Some((page, _)) = self.names.get(name) else { return };
            run.words = run.words.replace(SOME_PAGE, &format!("page\u{a0}{}", page + 1));
        }
        self.words(surface, &run, at, ArtifactType::PaginationOther);
        if run.style.under {
            let y = at.y + 1.6;
            rule(surface, Spot::at(at.x, y), Spot::at(at.x + run.wide, y), 0.6, run.style.tone);
        }
        let to = run.style.to.as_ref().and_then(|name| self.names.get(name));
        if let (Some(to), Some(part)) = (to, run.style.part) {
            let frame = [at.x, at.y - run.size * 0.85, at.x + run.wide, at.y + run.size * 0.3];
            let words = run.words.trim().to_owned();
            self.leads.push(Lead { frame, to: *to, words, part });
        }
    }

    /// Puts what leads away from this page on it.
    fn lead(&mut self, page: &mut Page<'_>) {
        for lead in std::mem::take(&mut self.leads) {
            let [left, top, right, bottom] = lead.frame.map(|length| length as f32);
            let Some(frame) = Rect::from_ltrb(left, top, right, bottom) else { continue };
            let (number, down) = lead.to;
            let place = XyzDestination::new(number, Point::from_xy(0.0, (down - 8.0).max(0.0) as f32));
            let link = LinkAnnotation::new(frame, Target::Destination(place.into()));
            let words = format!("{}, page {}", lead.words, number + 1);
            let id = page.add_tagged_annotation(Annotation::new_link(link, Some(words)));
            self.tree.holds(lead.part, id);
        }
    }

    /// Words that adorn a page, cut to a width.
    fn marginal(
        &mut self,
        surface: &mut Surface<'_>,
        words: &str,
        (x, y): (f64, f64),
        wide: f64,
        weight: Weight,
        adorns: ArtifactType,
    ) {
        let words = self.faces.cut_to(words, weight, MARGINAL, wide);
        let style = Style { weight, tone: Tone::Quiet, ..Style::default() };
        let run = Run { x, y, size: MARGINAL, wide, words, style };
        self.words(surface, &run, Spot::at(x, y), adorns);
    }

    fn page_of_pages(&self, number: usize) -> (String, f64) {
        let words = format!("page {} of {}", number + 1, self.many);
        let wide = self.faces.width_of(&words, Weight::Strong, MARGINAL);
        (words, wide)
    }

    /// The head and the foot of a page.
    fn margins(&mut self, surface: &mut Surface<'_>, number: usize, wide: f64, high: f64) {
        let right = wide - SIDE;
        let room = right - SIDE;
        if number > 0 {
            let title = title(self.faces, self.paper);
            let about = self.paper.about.first().map(|line| self.faces.shown(line)).unwrap_or_default();
            let about = self.faces.cut_to(&about, Weight::Plain, MARGINAL, room * 0.6);
            let from = right - self.faces.width_of(&about, Weight::Plain, MARGINAL);
            let left = from - SIDE - 12.0;
            self.marginal(surface, &title, (SIDE, 38.0), left, Weight::Strong, ArtifactType::Header);
            self.marginal(surface, &about, (from, 38.0), room, Weight::Plain, ArtifactType::Header);
            rule(surface, Spot::at(SIDE, 43.0), Spot::at(right, 43.0), 0.5, Tone::Quiet);
        }
        rule(surface, Spot::at(SIDE, high - 58.0), Spot::at(right, high - 58.0), 0.5, Tone::Quiet);
        let running = self.faces.shown(&self.paper.running.join(" "));
        let spans = [Span { words: running, style: Style::default() }];
        let mut y = high - 48.0;
        for line in broken(self.faces, &spans, MARGINAL, room - PAGE).into_iter().take(RUNNING) {
            let words: String = line.into_iter().map(|run| run.words).collect();
            self.marginal(surface, words.trim_end(), (SIDE, y), room, Weight::Plain, ArtifactType::Footer);
            y += 8.5;
        }
        let (page, page_wide) = self.page_of_pages(number);
        let last = high - 29.0;
        let at = (right - page_wide, last);
        self.marginal(surface, &page, at, room, Weight::Strong, ArtifactType::Footer);
    }

    /// A sheet of drawings, with its headings in the white above it and the foot in the white below.
    fn drawn(&mut self, surface: &mut Surface<'_>, drawn: &Drawn<'_>, number: usize) {
        let sheet = drawn.sheet;
        let edge = 24.0;
        let right = sheet.width - edge;
        // The foot has room for one line: what is behind the first two stands at the head, behind the headings.
        let (foot, head) = self.paper.running.split_at(self.paper.running.len().min(2));
        let (foot, head) = (self.faces.shown(&foot.join(" ")), self.faces.shown(&head.join(" ")));
        let (mut x, mut headings) = (edge, Vec::new());
        for (at, (_, words, _, part)) in drawn.headings.iter().enumerate() {
            let parted = if at == 0 { words.clone() } else { format!("\u{2014} {words}") };
            let words = self.faces.cut_to(&format!("{parted} "), Weight::Strong, ABOVE, right - x);
            let wide = self.faces.width_of(&words, Weight::Strong, ABOVE);
            headings.push((x, wide, words, *part));
            x += wide;
        }
        let lines = self.head_lines(&head, (x + 12.0, right), edge);
        let mut y = Size::HEAD - 5.0 - 8.5 * lines.len().saturating_sub(1) as f64;
        for (x, wide, words, part) in headings {
            let style = Style { weight: Weight::Strong, part: Some(part), ..Style::default() };
            let run = Run { x, y, size: ABOVE, wide, words, style };
            self.words(surface, &run, Spot::at(x, y), ArtifactType::Header);
        }
        for (x, words) in lines {
            // Behind long headings there may be no room for the first line.
            if !words.is_empty() {
                self.marginal(surface, &words, (x, y), right - x, Weight::Plain, ArtifactType::Header);
            }
            y += 8.5;
        }
        let id = surface.start_tagged(ContentTag::Other);
        draw(surface, self.faces, sheet);
        surface.end_tagged();
        self.tree.holds(drawn.part, id);
        let (page, page_wide) = self.page_of_pages(number);
        let room = right - edge - page_wide - 12.0;
        let y = sheet.height - 13.0;
        self.marginal(surface, &foot, (edge, y), room, Weight::Plain, ArtifactType::Footer);
        let at = (right - page_wide, y);
        self.marginal(surface, &page, at, page_wide, Weight::Strong, ArtifactType::Footer);
        self.flags(drawn);
    }

    /// Words at the head of a sheet of drawings, line by line with where each begins: the first behind the headings, those
    /// that follow over the whole width. What is more than three lines is cut at the end of the last.
    fn head_lines(&self, head: &str, (from, right): (f64, f64), edge: f64) -> Vec<(f64, String)> {
        let mut lines = Vec::new();
        let mut left = head.trim();
        while !left.is_empty() {
            let x = if lines.is_empty() { from } else { edge };
            if lines.len() == 2 {
                lines.push((x, left.to_owned()));
                break;
            }
            let spans = [Span { words: left.to_owned(), style: Style::default() }];
            let first = broken(self.faces, &spans, MARGINAL, (right - x).max(0.0)).into_iter().next();
            let words: String = first.unwrap_or_default().into_iter().map(|run| run.words).collect();
            let wide = self.faces.width_of(words.trim_end(), Weight::Plain, MARGINAL);
            let fits = wide <= right - x && !words.trim().is_empty();
            match left.strip_prefix(words.trim_end()) {
                Some(more) if fits => {
                    left = more.trim_start();
                    lines.push((x, words.trim_end().to_owned()));
                }
                _ => lines.push((x, String::new())),
            }
        }
        lines
    }

    /// The flags of findings lead to where they are told.
    fn flags(&mut self, drawn: &Drawn<'_>) {
        let anchor = |number: usize| {
            self.paper.parts.iter().find_map(|part| match part {
                Part::Finding(told) if told.number == Some(number) => Some(&told.anchor),
                _ => None,
            })
        };
        let found: Vec<Lead> = drawn
            .sheet
            .marks
            .iter()
            .filter_map(|mark| {
                let to = *self.names.get(anchor(*mark.flags.first()?)?)?;
                let Form::Words { words, .. } = &mark.form else { return None };
                let frame = mark.extent()?.wider(3.0);
                let frame = [frame.low.x, frame.low.y, frame.high.x, frame.high.y];
                Some(Lead { frame, to, words: format!("finding {words}"), part: drawn.leads })
            })
            .collect();
        for lead in found {
            let part = self.tree.add(Kind::Link, Some(drawn.leads));
            self.leads.push(Lead { part, ..lead });
        }
    }
}
