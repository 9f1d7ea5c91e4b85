//! The floors of the foundation on the plan: outline, size, the suction under them, and what is in them.

use crate::base::number::{Number, Ratio};
use crate::base::value::{Answer, Missing};
use crate::base::vocabulary::Thing;
use crate::calc::geometry::{Outline, PlanPoint};
use crate::facts::drawn;
use crate::facts::kinds::Kind;
use crate::yaml::words::Words;

use super::desk::{Desk, as_written, size_as_written, spoken, spot};
use super::labels::Label;
use super::scene::{Frame, Layer, Part, Pen, Spot};
use super::shade::bands;
use super::signs::Key;
use super::view::{LABEL, Shape, View};

/// The areas of which it is known where they lie. Hands back those of which it is not, and which can be drawn apart.
pub(super) fn areas(
    desk: &mut Desk<'_, '_>,
    view: &mut View,
    twin: &mut Vec<Part>,
    outlines: &mut Vec<(Thing, Outline)>,
) -> Vec<Thing> {
    let nought = PlanPoint::new(Ratio::ZERO, Ratio::ZERO);
    let mut waiting = Vec::new();
    for it in desk.all(Kind::Area) {
        if drawn::outline_apart(desk.ask, it, &nought).is_some() {
            waiting.push(it);
        } else {
            let outline = drawn::outline(desk.ask, it);
            area(desk, view, twin, (it, outline), outlines);
        }
    }
    waiting
}

/// Areas of which it is not known where on the site they lie, apart from all else.
pub(super) fn apart(
    desk: &mut Desk<'_, '_>,
    view: &mut View,
    twin: &mut Vec<Part>,
    outlines: &mut Vec<(Thing, Outline)>,
    waiting: Vec<Thing>,
) {
    for it in waiting {
        // A walk's breadth east of all that is drawn.
        let extent = view.extent();
        let at = extent.and_then(|extent| {
            let (x, y) = ((extent.high.x + 3.0).ceil(), extent.low.y.floor());
            Some(PlanPoint::new(Ratio::from_f64(x)?, Ratio::from_f64(y)?))
        });
        let at = at.unwrap_or_else(|| PlanPoint::new(Ratio::ZERO, Ratio::ZERO));
        let Some(outline) = drawn::outline_apart(desk.ask, it, &at) else { continue };
        let name = desk.name(it);
        desk.assume(format!("{name}: where on the site it lies is not stated, and it is drawn apart"));
        desk.apart.push((it, at));
        area(desk, view, twin, (it, Answer::known(outline)), outlines);
    }
}

/// An area with its outline, its size, its shading, and what is in it without a place of its own.
fn area(
    desk: &mut Desk<'_, '_>,
    view: &mut View,
    twin: &mut Vec<Part>,
    (it, outline): (Thing, Answer<Outline>),
    outlines: &mut Vec<(Thing, Outline)>,
) {
    let Some(record) = drawn::area(desk.ask, it) else { return };
    let name = desk.name(it);
    let mut lines = vec![name.clone()];
    let kind = record.kind.known().map(|kind| kind.spelling());
    let size = record.size.known().map(size_as_written);
    lines.extend(match (kind, &size) {
        (Some(kind), Some(size)) => Some(format!("{kind}, {size}")),
        (Some(one), None) => Some(one.to_owned()),
        (None, size) => size.clone(),
    });
    if let Some(under) = record.under_slab.known() {
        let deep = under.depth.known().map(as_written);
        let fill = under.kind.known().map(|kind| kind.spelling());
        let said: Vec<String> = deep.into_iter().chain(fill.map(str::to_owned)).collect();
        if !said.is_empty() {
            lines.push(format!("{} under it", said.join(" of ")));
        }
    }
    let inside = without_place(desk, it);
    if !inside.is_empty() {
        lines.push(format!("in it, no place stated: {}", inside.join(", ")));
    }
    let mut told = lines.iter().skip(1).cloned().collect::<Vec<_>>();
    match outline {
        Answer::Known { value: outline, .. } => {
            let corners: Vec<Spot> = outline.corners().iter().map(spot).collect();
            if let Some(frame) = Frame::round(corners.iter().copied()) {
                shading(desk, view, it, &name, &corners, &mut told);
                let taken =
                    desk.assumed.iter().any(|said| said.starts_with(&format!("{name}: its south-west")))
                        || desk.apart.iter().any(|(apart, _)| *apart == it);
                let pen = if taken { Pen::Unsure } else { Pen::Wall };
                view.keys.insert(if taken { Key::Unsure } else { Key::Wall });
                view.path(Layer::Building, pen, corners, true);
                desk.keep(Kind::Area, it, frame.middle());
                view.labels.push(Label {
                    at: frame.middle(),
                    within: Some(Frame {
                        low: frame.low.toward(frame.high, 0.04),
                        high: frame.high.toward(frame.low, 0.04),
                    }),
                    lines: lines.iter().flat_map(|line| super::font::wrapped(line, LABEL, 150.0)).collect(),
                    size: LABEL,
                    off: 0.0,
                    turn: 5,
                    flag: false,
                    own: Vec::new(),
                });
            }
            outlines.push((it, outline));
        }
        Answer::Unknown(missing) => {
            desk.leave_out(&name, &missing);
            told.push("its outline is not known".to_owned());
        }
    }
    twin.push(Part { title: format!("Floor area {name}"), lines: told });
}

/// How wide and how deep each outline is, beside it on the side where no other lies.
pub(super) fn sides(desk: &Desk<'_, '_>, view: &mut View, outlines: &[(Thing, Outline)]) {
    let frames: Vec<Frame> =
        outlines.iter().filter_map(|(_, outline)| Frame::round(outline.corners().iter().map(spot))).collect();
    let said = |metres: f64| Number::from_f64_range(metres, metres).map(|number| desk.length_near(&number));
    for own in &frames {
        let free = |beside: Frame| frames.iter().all(|other| !other.meets(&beside));
        let Frame { low, high } = *own;
        if let Some(words) = said(own.wide()) {
            if free(Frame { low: low.moved(0.1, -1.5), high: Spot::at(high.x - 0.1, low.y) }) {
                view.size(low, Spot::at(high.x, low.y), -16.0, words);
            } else {
                view.size(Spot::at(low.x, high.y), high, 16.0, words);
            }
        }
        if let Some(words) = said(own.high()) {
            if free(Frame { low: low.moved(-1.5, 0.1), high: Spot::at(low.x, high.y - 0.1) }) {
                view.size(low, Spot::at(low.x, high.y), 16.0, words);
            } else {
                view.size(Spot::at(high.x, low.y), high, -16.0, words);
            }
        }
    }
}

/// About how much of an outline boxes cover, in words.
fn where_to(boxes: &[Frame], corners: &[Spot]) -> String {
    let all = Frame::round(corners.iter().copied()).map_or(0.0, |frame| frame.wide() * frame.high());
    let part: f64 = boxes.iter().map(|one| one.wide() * one.high()).sum();
    format!("over about {:.0} % of it", (100.0 * part / all.max(1e-9)).min(100.0))
}

/// The suction under an area, where it can be worked out.
fn shading(
    desk: &mut Desk<'_, '_>,
    view: &mut View,
    it: Thing,
    name: &str,
    corners: &[Spot],
    told: &mut Vec<String>,
) {
    let shading = match drawn::shading(desk.ask, it) {
        Answer::Known { value, .. } => value,
        Answer::Unknown(missing) => {
            let of = drawn_with(desk, it, &missing);
            desk.leave_out(&format!("suction under {name}{of}"), &missing);
            return;
        }
    };
    let how_known = if shading.tested { "by the communication test" } else { "assumed" };
    for band in bands(&shading, desk.is_metric()) {
        let words = format!("{}, {how_known}", band.words);
        told.push(format!("the least that may be under it: {words}, {}", where_to(&band.boxes, corners)));
        let Some(how) = band.how else { continue };
        let corner = desk.apart.iter().find(|(apart, _)| *apart == it).map(|(_, at)| spot(at));
        let corner = corner.unwrap_or_default();
        let moved = |one: &Frame| Frame {
            low: one.low.moved(corner.x, corner.y),
            high: one.high.moved(corner.x, corner.y),
        };
        let boxes: Vec<Frame> = band.boxes.iter().map(moved).collect();
        if !view.shades.iter().any(|(known, _)| *known == how) {
            view.shades.push((how, words));
        }
        view.shapes.push(Shape::Shade { boxes, within: corners.to_vec(), how });
    }
    if !shading.tested {
        desk.assume(format!(
            "suction under {name}: the ground was not tested, so the least is shaded that such ground may give; broken strokes mean assumed"
        ));
    }
}

/// That what is missing is of other areas, where it is: the fan that draws on them shares its suction among all.
fn drawn_with(desk: &Desk<'_, '_>, it: Thing, missing: &[Missing]) -> String {
    let areas = &desk.ask.design().foundation.areas;
    let own = areas.things().nth(it.number as usize).map(|(name, _)| name);
    let other = |one: &Missing| {
        let area = one.entry.as_str().strip_prefix("foundation.areas.")?.split('.').next()?;
        (own != Some(area)).then(|| spoken(area))
    };
    let mut others: Vec<String> = missing.iter().filter_map(other).collect();
    others.dedup();
    match others.is_empty() {
        true => String::new(),
        false => format!(", where the same fan draws on {}", others.join(" and ")),
    }
}

/// What is in an area or in the space over it and has no place of its own in the file.
fn without_place(desk: &mut Desk<'_, '_>, it: Thing) -> Vec<String> {
    let design = desk.ask.design();
    let Some(record) = drawn::area(desk.ask, it) else { return Vec::new() };
    let area = design.foundation.areas.things().nth(it.number as usize).map_or("", |(name, _)| name);
    let space = record.space.known().map_or(area, |space| space.as_str());
    let here = |name: &str| name == area || name == space;
    let mut found = Vec::new();
    for (name, appliance) in design.building.appliances.things() {
        if appliance.space.known().is_some_and(|space| here(space.as_str())) {
            found.push(spoken(name));
        }
    }
    for (name, sump) in design.foundation.sumps.things() {
        let placed = !sump.at.is_missing() || !sump.from_walls.is_missing();
        if !placed && sump.space.known().is_some_and(|space| here(space.as_str())) {
            found.push(format!("sump {}", spoken(name)));
        }
    }
    for (name, drain) in design.foundation.drains.things() {
        if drain.at.is_missing() && drain.space.known().is_some_and(|space| here(space.as_str())) {
            found.push(spoken(name));
        }
    }
    for (name, system) in desk.systems() {
        let of = if desk.systems().len() > 1 { format!(" of {}", spoken(name)) } else { String::new() };
        if let Some(gauge) = system.gauge.known()
            && gauge.at.is_missing()
            && gauge.space.known().is_some_and(|space| here(space.as_str()))
        {
            found.push(format!("gauge{of}"));
        }
        if let Some(alarm) = system.alarm.known()
            && alarm.space.known().is_some_and(|space| here(space.as_str()))
        {
            found.push(format!("alarm{of}"));
        }
        let disconnect = system.wiring.known().and_then(|wiring| wiring.disconnect.known());
        if let Some(disconnect) = disconnect
            && disconnect.at.is_missing()
            && disconnect.space.known().is_some_and(|space| here(space.as_str()))
        {
            found.push(format!("disconnect{of}"));
        }
    }
    found
}
