//! What stands about the house on the plan: neighbours, lines of the property, chimneys and other vents, walls and parapets above
//! the roof, whatever solid stands or is walked on near the discharge.

use crate::base::value::Answer;
use crate::calc::geometry::PlanPoint;
use crate::design::model::place::Line;
use crate::facts::drawn;
use crate::facts::kinds::Kind;
use crate::yaml::entry::{Entry, Here, ListOf};
use crate::yaml::shape;
use crate::yaml::words::Words;

use super::desk::{Desk, as_written, spoken, spot};
use super::plan::{each_once, on_plan, opening};
use super::scene::{Frame, Layer, Part, Pen, Spot};
use super::signs::Key;
use super::spots::Spots;
use super::view::View;

/// The plan as far as it is drawn: the house and as much again on every side.
pub(crate) struct Sheet {
    /// The house.
    house: Frame,
    /// How far is drawn.
    reach: Frame,
}

impl Sheet {
    /// The plan about what is drawn of the house; nothing where nothing of it is.
    pub(crate) fn about(view: &View) -> Option<Self> {
        let house = view.extent()?;
        Some(Sheet { house, reach: house.wider(house.wide().max(house.high())) })
    }

    /// Whether something is near enough to be drawn. What is not is said.
    fn shows(&self, desk: &mut Desk<'_, '_>, what: &str, points: &[Spot]) -> bool {
        let shown = Frame::round(points.iter().copied());
        // What was cut to the sheet ends at its edge.
        let shown = shown.is_some_and(|frame| self.reach.wider(0.01).holds(frame));
        if !shown {
            desk.beyond.push(what.to_owned());
        }
        shown
    }
}

/// What a line or an outline stands for.
struct Drawn<'a> {
    /// What it is called.
    words: String,
    key: Key,
    pen: Pen,
    closed: bool,
    points: &'a [Spot],
}

/// All that stands about the house.
pub(crate) fn around(desk: &mut Desk<'_, '_>, view: &mut View, spots: &mut Spots, twin: &mut Vec<Part>) {
    let Some(sheet) = Sheet::about(view) else { return };
    let mut lines = Vec::new();
    property(desk, view, &sheet, &mut lines);
    neighbours(desk, view, &sheet, &mut lines);
    above_the_roof(desk, view, &sheet, &mut lines);
    near_the_discharge(desk, view, &sheet, &mut lines);
    chimneys(desk, &sheet, spots, &mut lines);
    if !lines.is_empty() {
        twin.push(Part { title: "About the house".to_owned(), lines });
    }
}

/// Draws a line or an outline, and says where it is.
fn put(desk: &mut Desk<'_, '_>, view: &mut View, sheet: &Sheet, it: &Drawn<'_>, lines: &mut Vec<String>) {
    if !sheet.shows(desk, &it.words, it.points) {
        lines.push(format!("{}: beyond this sheet", it.words));
        return;
    }
    view.keys.insert(it.key);
    view.path(Layer::Building, it.pen, it.points.to_vec(), it.closed);
    let middle = match (it.closed, it.points) {
        (true, points) => Frame::round(points.iter().copied()).map(Frame::middle),
        (false, [first, second, ..]) => Some(first.toward(*second, 0.3)),
        _ => None,
    };
    if let Some(middle) = middle {
        view.label(middle, if it.closed { 0.0 } else { 3.0 }, 4, vec![it.words.clone()]);
    }
    lines.push(format!("{}: {}", it.words, beside(desk, sheet.house, it.points)));
}

/// On which side of the house something lies, and how far off.
fn beside(desk: &Desk<'_, '_>, house: Frame, points: &[Spot]) -> String {
    let Some(frame) = Frame::round(points.iter().copied()) else { return "drawn".to_owned() };
    let sides = [
        (frame.low.x - house.high.x, "east"),
        (house.low.x - frame.high.x, "west"),
        (frame.low.y - house.high.y, "north"),
        (house.low.y - frame.high.y, "south"),
    ];
    let off: Vec<String> = sides
        .into_iter()
        .filter(|(away, _)| *away > 1e-6)
        .map(|(away, side)| format!("{} {side} of what is drawn of the house", desk.length_of(away)))
        .collect();
    if off.is_empty() { "within what is drawn of the house".to_owned() } else { off.join(" and ") }
}

/// The points of a line, or what is missing of it.
fn along<'d>(
    desk: &mut Desk<'_, 'd>,
    what: &str,
    here: &'d Here,
    line: &'d Entry<Line>,
) -> Option<Vec<Spot>> {
    known(desk, what, drawn::line(here, line))
}

fn known(desk: &mut Desk<'_, '_>, what: &str, found: Answer<Vec<PlanPoint>>) -> Option<Vec<Spot>> {
    match found {
        Answer::Known { value, .. } => Some(value.iter().map(spot).collect()),
        Answer::Unknown(missing) => {
            desk.leave_out(what, &missing);
            None
        }
    }
}

/// The corners of an outline, or what is missing of it.
fn outline<'d>(
    desk: &mut Desk<'_, 'd>,
    what: &str,
    here: &'d Here,
    entry: &'d Entry<ListOf<shape::PlanPoint>>,
) -> Option<Vec<Spot>> {
    let found = drawn::listed_outline(desk.ask, here, entry);
    known(desk, what, found.map(|outline| outline.corners().to_vec()))
}

fn property(desk: &mut Desk<'_, '_>, view: &mut View, sheet: &Sheet, lines: &mut Vec<String>) {
    let site = &desk.ask.design().site;
    for (name, line) in site.property_lines.things() {
        let words = format!("{}, line of the property", spoken(name));
        let Some(points) = known(desk, &words, drawn::points(line)) else {
            lines.push(format!("{words}: where it runs is not known"));
            continue;
        };
        let points = cut_to(&points, sheet.reach);
        let it = Drawn { words, key: Key::Property, pen: Pen::Property, closed: false, points: &points };
        put(desk, view, sheet, &it, lines);
    }
}

/// As much of a line as lies within a box, where it is straight.
fn cut_to(points: &[Spot], room: Frame) -> Vec<Spot> {
    let [from, to] = points else { return points.to_vec() };
    let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
    for (start, step, low, high) in
        [(from.x, to.x - from.x, room.low.x, room.high.x), (from.y, to.y - from.y, room.low.y, room.high.y)]
    {
        if step.abs() > 1e-9 {
            let (a, b) = ((low - start) / step, (high - start) / step);
            enters = enters.max(a.min(b));
            leaves = leaves.min(a.max(b));
        }
    }
    if enters >= leaves { points.to_vec() } else { vec![from.toward(*to, enters), from.toward(*to, leaves)] }
}

fn neighbours(desk: &mut Desk<'_, '_>, view: &mut View, sheet: &Sheet, lines: &mut Vec<String>) {
    let building = &desk.ask.design().building;
    for (name, neighbour) in building.neighbours.things() {
        let kind = neighbour.kind.known().map_or("neighbour", |kind| kind.spelling());
        let words = format!("{}, {kind}", spoken(name));
        match outline(desk, &words, &neighbour.here, &neighbour.outline) {
            Some(points) => {
                let it = Drawn { words, key: Key::Neighbour, pen: Pen::Edge, closed: true, points: &points };
                put(desk, view, sheet, &it, lines);
            }
            None => lines.push(format!("{words}: where it stands is not known")),
        }
    }
    for (it, name) in each_once(desk, Kind::NeighbourOpening) {
        let name = format!("{name}, of a neighbour");
        let Some(found) = on_plan(desk, &name, it, lines) else { continue };
        let ((x0, y0), (x1, y1)) = &found;
        let corners = [(x0, y0), (x1, y1)].map(|(x, y)| Spot::at(x.to_f64_mid(), y.to_f64_mid()));
        if sheet.shows(desk, &name, &corners) {
            opening(desk, view, (Kind::NeighbourOpening, it), &name, found, lines);
        } else {
            lines.push(format!("{name}: beyond this sheet"));
        }
    }
}

/// Walls and parapets that rise above the roof.
fn above_the_roof(desk: &mut Desk<'_, '_>, view: &mut View, sheet: &Sheet, lines: &mut Vec<String>) {
    let Some(roof) = desk.ask.design().building.roof.known() else { return };
    let walls = roof.walls_above.things().map(|(name, wall)| {
        (name, "wall above the roof", &wall.here, &wall.line, wall.height.known().map(as_written))
    });
    let parapets = roof.parapets.things().map(|(name, parapet)| {
        (name, "parapet", &parapet.here, &parapet.line, parapet.height.known().map(as_written))
    });
    for (name, what, here, line, high) in walls.chain(parapets).collect::<Vec<_>>() {
        let high = high.map(|high| format!(" {high} high")).unwrap_or_default();
        let words = format!("{}, {what}{high}", spoken(name));
        match along(desk, &words, here, line) {
            Some(points) => {
                let it = Drawn { words, key: Key::Above, pen: Pen::Above, closed: false, points: &points };
                put(desk, view, sheet, &it, lines);
            }
            None => lines.push(format!("{words}: where it runs is not known")),
        }
    }
}

/// What is solid or walked on near the discharge.
fn near_the_discharge(desk: &mut Desk<'_, '_>, view: &mut View, sheet: &Sheet, lines: &mut Vec<String>) {
    let building = &desk.ask.design().building;
    let mut found = Vec::new();
    for (name, obstacle) in building.obstacles.things() {
        let what = obstacle.what.known().map(|what| format!(", {}", what.0)).unwrap_or_default();
        let words = format!("{}{what}", spoken(name));
        if obstacle.outline.is_missing() && !obstacle.line.is_missing() {
            found.push((along(desk, &words, &obstacle.here, &obstacle.line), words, Key::Solid, false));
        } else {
            let points = outline(desk, &words, &obstacle.here, &obstacle.outline);
            found.push((points, words, Key::Solid, true));
        }
    }
    for (name, surface) in building.walking_surfaces.things() {
        let kind = surface.kind.known().map(|kind| format!(", {}", kind.spelling())).unwrap_or_default();
        let words = format!("{}{kind}", spoken(name));
        let points = outline(desk, &words, &surface.here, &surface.outline);
        found.push((points, words, Key::Walked, true));
    }
    for (points, words, key, closed) in found {
        match points {
            Some(points) => {
                let pen = if key == Key::Walked { Pen::Unsure } else { Pen::Edge };
                put(desk, view, sheet, &Drawn { words, key, pen, closed, points: &points }, lines);
            }
            None => lines.push(format!("{words}: where it stands is not known")),
        }
    }
}

/// Chimneys, flues and other vents.
fn chimneys(desk: &mut Desk<'_, '_>, sheet: &Sheet, spots: &mut Spots, lines: &mut Vec<String>) {
    let building = &desk.ask.design().building;
    for (name, chimney) in building.chimneys.things() {
        let kind = chimney.kind.known().map(|kind| format!(", {}", kind.spelling())).unwrap_or_default();
        let mut words = format!("{}{kind}", spoken(name));
        if !words.contains("chimney") && !words.contains("vent") {
            words.push_str(" chimney");
        }
        let stands = drawn::stands_by_place(desk.ask, &chimney.here, &chimney.at, None);
        match desk.on_plan(&words, &stands) {
            Some(at) if sheet.shows(desk, &words, &[at]) => {
                spots.add(at, Some(Key::Chimney), Some(words.clone()));
                for it in desk.all(Kind::Chimney) {
                    if desk.name(it) == spoken(name) {
                        desk.keep(Kind::Chimney, it, at);
                    }
                }
                lines.push(format!("{words}: {}", beside(desk, sheet.house, &[at])));
            }
            Some(_) => lines.push(format!("{words}: beyond this sheet")),
            None => lines.push(format!("{words}: where it stands on the plan is not known")),
        }
    }
}
