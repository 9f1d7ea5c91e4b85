//! Openings and intakes on an elevation: where their edges are known as they are; where only the tape is, turned into the
//! plane of the paper.

use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::design::model::place::Side;
use crate::facts::drawn;
use crate::facts::kinds::Kind;

use super::asked::{Asked, lacking_of};
use super::desk::Desk;
use super::elevation::{Seen, across_from, faces, on_elevation};
use super::font::wrapped;
use super::scene::{Frame, Layer, Part, Pen, Spot};
use super::signs::Key;
use super::view::{LABEL, View};

/// Openings: where their edges are known as they are; where only the tape is, turned into the plane of the paper.
pub(super) fn openings(
    desk: &mut Desk<'_, '_>,
    view: &mut View,
    twin: &mut Vec<Part>,
    seen: Seen,
    asked: &[Asked],
) {
    let mut lines = Vec::new();
    let mut turned = 0;
    for kind in [Kind::Opening, Kind::NeighbourOpening, Kind::Intake] {
        for it in desk.all(kind) {
            let name = desk.name(it);
            let opens =
                drawn::opening(desk.ask, it).map(|it| it.opens.known().copied()).unwrap_or(Some(true));
            let how = match opens {
                Some(true) => "opens",
                Some(false) => "does not open",
                None => "not known whether it opens",
            };
            let away = desk.ask.number(it, "clearance");
            let said =
                away.clone().value().map(|away| format!(", {} from the discharge", desk.length(&away)));
            let words = format!("{name}{}", said.clone().unwrap_or_default());
            let outlet = desk.ask.things().seen_from(it).and_then(|from| {
                let stands = drawn::stands(desk.ask, from);
                on_elevation(desk, seen, "discharge", &stands)
            });
            let edges = drawn::edges(desk.ask, it);
            let known = edges.and_then(|[x, y, z]| {
                let level = if matches!(seen.from, Side::North | Side::South) { x } else { y };
                level.0.both(level.1).both(z.0.both(z.1)).value()
            });
            let reach = known.as_ref().map(|(_, (bottom, top))| {
                format!(", from {} to {} up", desk.length(bottom), desk.length(top))
            });
            lines.push(format!("{words}{} ({how})", reach.unwrap_or_default()));
            let lacks = lacking_of(desk, asked, it);
            lines.extend(lacks.iter().map(|lack| format!("{name} is {lack}")));
            let frame = if let Some(((low, high), (bottom, top))) = known {
                let (a, b) = (low.to_f64_mid(), high.to_f64_mid());
                let frame = Frame {
                    low: Spot::at(seen.across(a, a), bottom.to_f64_mid()),
                    high: Spot::at(seen.across(a, a), bottom.to_f64_mid()),
                };
                let frame = frame.with(Spot::at(seen.across(b, b), top.to_f64_mid()));
                let far = kind == Kind::Opening && faces(desk, it) == Some(across_from(seen.from));
                let key = match (far, opens) {
                    (true, _) => Key::Far,
                    (false, Some(true)) => Key::Opening,
                    (false, _) => Key::Fixed,
                };
                box_of(view, frame, opens == Some(true), if far { Pen::Far } else { Pen::Edge });
                view.keys.insert(key);
                frame
            } else {
                let drop = desk.ask.number(it, "top_below_discharge");
                let Some(outlet) = outlet else {
                    desk.left_out
                        .push(format!("{name}: it is measured from the discharge, which has no place yet"));
                    continue;
                };
                let (away, drop) = match away.both(drop) {
                    Answer::Known { value: (away, drop), .. } => (away.to_f64_mid(), drop.to_f64_mid()),
                    Answer::Unknown(missing) => {
                        desk.leave_out(&name, &missing);
                        continue;
                    }
                };
                let frame = turned_in(desk, it, outlet, (away, drop), turned);
                turned += 1;
                box_of(view, frame, opens == Some(true), Pen::Unsure);
                view.keys.insert(Key::Turned);
                if opens != Some(true) {
                    view.keys.insert(Key::Fixed);
                }
                frame
            };
            let middle = frame.middle();
            desk.keep(kind, it, middle);
            view.label(Spot::at(middle.x, frame.low.y), 3.0, 3, vec![name.clone()]);
            if let (Some(outlet), Some(said)) = (outlet, said) {
                let near = Spot::at(
                    outlet.x.clamp(frame.low.x, frame.high.x),
                    outlet.y.clamp(frame.low.y, frame.high.y),
                );
                let said = said.trim_start_matches(", ").replace(" from the discharge", "");
                let lacks = lacks.iter().flat_map(|line| wrapped(line, LABEL, 120.0));
                let said: Vec<String> = std::iter::once(said).chain(lacks).collect();
                view.size(near, outlet, 0.0, said.join("\n"));
            }
        }
    }
    if turned > 0 {
        desk.assume(
            "openings drawn with broken lines: their side and size are not stated; each is turned about the pipe into this plane, at the height and the straight distance of the tape"
                .to_owned(),
        );
    }
    if !lines.is_empty() {
        twin.push(Part { title: "Openings and intakes".to_owned(), lines });
    }
}

/// The box of an opening of which the tape alone is known, to the right and to the left of the outlet in turn.
fn turned_in(
    desk: &mut Desk<'_, '_>,
    it: Thing,
    outlet: Spot,
    (away, drop): (f64, f64),
    turned: usize,
) -> Frame {
    let stated = drawn::opening(desk.ask, it).map(|opening| {
        let of = |entry: &crate::yaml::entry::Entry<
            crate::yaml::measure::Measure<crate::yaml::measure::Length>,
        >| { entry.known().map(|long| long.number().to_f64_mid()) };
        (of(&opening.width), of(&opening.height))
    });
    let (wide, high) = stated.unwrap_or((None, None));
    let (wide, high) = (wide.unwrap_or(0.6), high.unwrap_or(0.6));
    let level = (away * away - drop.max(0.0) * drop.max(0.0)).max(0.0).sqrt();
    let top = outlet.y - drop;
    let near = if turned.is_multiple_of(2) { outlet.x + level } else { outlet.x - level };
    let far = if turned.is_multiple_of(2) { near + wide } else { near - wide };
    Frame { low: Spot::at(near, top - high), high: Spot::at(near, top - high) }.with(Spot::at(far, top))
}

fn box_of(view: &mut View, frame: Frame, opens: bool, pen: Pen) {
    let Frame { low, high } = frame;
    view.opening(frame, pen);
    if !opens {
        view.path(Layer::Building, Pen::Hair, vec![low, high], false);
    }
}
