//! What stands about the house on an elevation: chimneys, walls and parapets above the roof, neighbours beside it, and
//! lines of the property that are seen end on.

use crate::base::value::Answer;
use crate::base::vocabulary::Answers;
use crate::calc::geometry::PlanPoint;
use crate::facts::drawn;
use crate::facts::kinds::Kind;
use crate::yaml::words::Words;

use super::asked::{Asked, lacking_of};
use super::desk::{Desk, as_written, spoken, spot};
use super::elevation::{Heights, Seen, on_elevation};
use super::font::wrapped;
use super::scene::{Frame, Layer, Part, Pen, Spot};
use super::signs::Key;
use super::spots::Spots;
use super::view::{LABEL, View};

/// All of it.
pub(super) fn beside(
    desk: &mut Desk<'_, '_>,
    view: &mut View,
    spots: &mut Spots,
    twin: &mut Vec<Part>,
    (seen, heights): (Seen, &Heights),
    asked: &[Asked],
) {
    let mut lines = Vec::new();
    above_the_roof(desk, view, &mut lines, (seen, heights), asked);
    chimneys(desk, view, spots, &mut lines, (seen, heights));
    neighbours(desk, view, &mut lines, (seen, heights));
    property(desk, view, &mut lines, (seen, heights));
    if !lines.is_empty() {
        twin.push(Part { title: "About the house".to_owned(), lines });
    }
}

/// From where to where points lie across the drawing.
fn across(
    desk: &mut Desk<'_, '_>,
    what: &str,
    seen: Seen,
    found: Answer<Vec<PlanPoint>>,
) -> Option<(f64, f64)> {
    match found {
        Answer::Known { value, .. } => {
            let places = value.iter().map(|point| {
                let at = spot(point);
                Spot::at(seen.across(at.x, at.y), 0.0)
            });
            Frame::round(places).map(|frame| (frame.low.x, frame.high.x))
        }
        Answer::Unknown(missing) => {
            desk.leave_out(what, &missing);
            None
        }
    }
}

fn upright(view: &mut View, pen: Pen, (left, right): (f64, f64), (low, high): (f64, f64)) {
    let corners =
        vec![Spot::at(left, low), Spot::at(right, low), Spot::at(right, high), Spot::at(left, high)];
    view.path(Layer::Building, pen, corners, true);
}

/// Walls and parapets above the roof, from its edge up.
fn above_the_roof(
    desk: &mut Desk<'_, '_>,
    view: &mut View,
    lines: &mut Vec<String>,
    (seen, heights): (Seen, &Heights),
    asked: &[Asked],
) {
    let Some(roof) = desk.ask.design().building.roof.known() else { return };
    let Some((_, edge)) = heights.edge else { return };
    for (name, wall) in roof.walls_above.things() {
        let words = format!("{}, wall above the roof", spoken(name));
        let top = match drawn::level(desk.ask, &wall.here, &wall.top) {
            Answer::Known { value, .. } => value,
            Answer::Unknown(missing) => {
                desk.leave_out(&words, &missing);
                lines.push(format!("{words}: how high it reaches is not known"));
                continue;
            }
        };
        let Some(reach) = across(desk, &words, seen, drawn::line(&wall.here, &wall.line)) else {
            lines.push(format!("{words}: its top is at {}; where it runs is not known", desk.length(&top)));
            continue;
        };
        view.keys.insert(Key::Above);
        upright(view, Pen::Above, reach, (edge, top.to_f64_mid()));
        lines.push(format!("{words}: its top is at {}", desk.length(&top)));
        let mut said = vec![words.clone()];
        for it in desk.all(Kind::WallAboveRoof) {
            if desk.ask.name_of(it) == name {
                let lacks = lacking_of(desk, asked, it);
                lines.extend(lacks.iter().map(|lack| format!("{words}: {lack}")));
                said.extend(lacks.iter().flat_map(|line| wrapped(line, LABEL, 130.0)));
                desk.keep(Kind::WallAboveRoof, it, Spot::at(reach.0, top.to_f64_mid()));
            }
        }
        view.label(Spot::at(reach.0, top.to_f64_mid()), 2.0, 4, said);
    }
    for (name, parapet) in roof.parapets.things() {
        let words = format!("{}, parapet", spoken(name));
        let Some(high) = parapet.height.known() else {
            desk.leave_out(&words, &[parapet.height.want(&parapet.here)]);
            continue;
        };
        let Some(reach) = across(desk, &words, seen, drawn::line(&parapet.here, &parapet.line)) else {
            continue;
        };
        view.keys.insert(Key::Above);
        upright(view, Pen::Above, reach, (edge, edge + high.number().to_f64_mid()));
        view.label(Spot::at(reach.0, edge), 2.0, 4, vec![words.clone()]);
        lines.push(format!("{words}: {} above the edge of the roof", as_written(high)));
    }
}

/// Chimneys and other vents, each with its sign at its top.
fn chimneys(
    desk: &mut Desk<'_, '_>,
    view: &mut View,
    spots: &mut Spots,
    lines: &mut Vec<String>,
    (seen, heights): (Seen, &Heights),
) {
    for (name, chimney) in desk.ask.design().building.chimneys.things() {
        let kind = chimney.kind.known().map(|kind| format!(", {}", kind.spelling())).unwrap_or_default();
        let words = format!("{}{kind}", spoken(name));
        let mut stands = drawn::stands_by_place(desk.ask, &chimney.here, &chimney.at, None);
        if !chimney.top.is_missing() {
            stands.up = drawn::level(desk.ask, &chimney.here, &chimney.top);
        }
        let Some(at) = on_elevation(desk, seen, &words, &stands) else {
            lines.push(format!("{words}: where its top is is not known"));
            continue;
        };
        let top = stands.up.value().map(|up| desk.length(&up)).unwrap_or_default();
        if let Some((_, edge)) = heights.edge.filter(|(_, edge)| *edge < at.y) {
            view.keys.insert(Key::Unsure);
            view.path(Layer::Building, Pen::Unsure, vec![Spot::at(at.x, edge), at], false);
        }
        spots.add(at, Some(Key::Chimney), Some(format!("{words}, {top} up")));
        lines.push(format!("{words}: its top is at {top}"));
    }
}

/// Neighbours that stand to the left or right of the house.
fn neighbours(
    desk: &mut Desk<'_, '_>,
    view: &mut View,
    lines: &mut Vec<String>,
    (seen, heights): (Seen, &Heights),
) {
    let (Some((left, right)), Some((foot, _))) = (heights.reach, heights.ground) else { return };
    for (name, neighbour) in desk.ask.design().building.neighbours.things() {
        let kind = neighbour.kind.known().map_or("neighbour", |kind| kind.spelling());
        let words = format!("{}, {kind}", spoken(name));
        let outline = drawn::listed_outline(desk.ask, &neighbour.here, &neighbour.outline);
        let outline = outline.map(|outline| outline.corners().to_vec());
        let Some(reach) = across(desk, &words, seen, outline) else { continue };
        if reach.1 > left && reach.0 < right {
            lines.push(format!("{words}: it stands before the house or behind it and is not drawn"));
            continue;
        }
        if reach.0 < left - (right - left) || reach.1 > right + (right - left) {
            desk.beyond.push(words.clone());
            lines.push(format!("{words}: beyond this sheet"));
            continue;
        }
        match drawn::level(desk.ask, &neighbour.here, &neighbour.roof_edge) {
            Answer::Known { value, .. } => {
                view.keys.insert(Key::Neighbour);
                upright(view, Pen::Edge, reach, (foot, value.to_f64_mid()));
                let middle = f64::midpoint(reach.0, reach.1);
                view.label(Spot::at(middle, value.to_f64_mid()), 2.0, 4, vec![words.clone()]);
                lines.push(format!("{words}: the edge of its roof is at {}", desk.length(&value)));
            }
            Answer::Unknown(missing) => {
                desk.leave_out(&words, &missing);
                lines.push(format!("{words}: the height of its roof is not known"));
            }
        }
    }
}

/// Lines of the property that run toward whoever looks.
fn property(
    desk: &mut Desk<'_, '_>,
    view: &mut View,
    lines: &mut Vec<String>,
    (seen, heights): (Seen, &Heights),
) {
    let (Some((left, right)), Some((foot, _))) = (heights.reach, heights.ground) else { return };
    let top = heights.edge.map_or(foot + 2.0, |(_, edge)| edge);
    for (name, line) in desk.ask.design().site.property_lines.things() {
        let words = format!("{}, line of the property", spoken(name));
        let Some((low, high)) = across(desk, &words, seen, drawn::points(line)) else { continue };
        let near = low > left - (right - left) && high < right + (right - left);
        if high - low > 0.05 || !near {
            continue;
        }
        view.keys.insert(Key::Property);
        view.path(Layer::Building, Pen::Property, vec![Spot::at(low, foot), Spot::at(low, top)], false);
        view.label(Spot::at(low, top), 2.0, 4, vec![words.clone()]);
        let (away, side) = if low > right { (low - right, "right") } else { (left - low, "left") };
        if away > 0.0 {
            lines.push(format!("{words}: {} to the {side} of the house", desk.length_of(away)));
        } else {
            lines.push(format!("{words}: within the width of the house"));
        }
    }
}
