//! The plan: the house seen from above with its floors, and all of the system that has a place on them.

use crate::base::number::{Dimension, Number};
use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::calc::geometry::Outline;
use crate::design::model::extent::Extent;
use crate::design::model::pipe::Run;
use crate::facts::drawn;
use crate::facts::kinds::Kind;
use crate::yaml::words::Words;

use super::desk::{Desk, as_written, size_as_written, spoken, spot};
use super::labels::Label;
use super::scene::{Frame, Layer, Part, Pen, Spot};
use super::shade::bands;
use super::signs::Key;
use super::spots::Spots;
use super::view::{LABEL, View};

/// A view with what it shows in words.
pub(crate) struct Shown {
    pub(crate) view: View,
    pub(crate) twin: Vec<Part>,
}

/// The plan of a design.
pub(crate) fn plan(desk: &mut Desk<'_, '_>) -> Shown {
    let mut view = View::default();
    let mut twin = Vec::new();
    let mut outlines = Vec::new();
    for it in desk.all(Kind::Area) {
        area(desk, &mut view, &mut twin, it, &mut outlines);
    }
    sides(desk, &mut view, &outlines);
    under_floor(desk, &mut view, &mut twin);
    openings(desk, &mut view, &mut twin);
    let mut spots = Spots::default();
    pipes(desk, &mut view, &mut spots, &mut twin);
    points(desk, &mut view, &mut spots, &mut twin, &outlines);
    fans(desk, &mut spots, &mut twin);
    spots.draw(&mut view);
    Shown { view, twin }
}

/// An area with its outline, its size, its shading, and what is in it without a place of its own.
fn area(
    desk: &mut Desk<'_, '_>,
    view: &mut View,
    twin: &mut Vec<Part>,
    it: Thing,
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
    match drawn::outline(desk.ask, it) {
        Answer::Known { value: outline, .. } => {
            let corners: Vec<Spot> = outline.corners().iter().map(spot).collect();
            if let Some(frame) = Frame::round(corners.iter().copied()) {
                shading(desk, view, it, &name, &corners, &mut told);
                let taken =
                    desk.assumed.iter().any(|said| said.starts_with(&format!("{name}: its south-west")));
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
fn sides(desk: &Desk<'_, '_>, view: &mut View, outlines: &[(Thing, Outline)]) {
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
            desk.leave_out(&format!("suction under {name}"), &missing);
            return;
        }
    };
    let how_known = if shading.tested { "by the communication test" } else { "assumed" };
    for band in bands(&shading, desk.is_metric()) {
        let words = format!("{}, {how_known}", band.words);
        told.push(format!("the least that may be under it: {words}, {}", where_to(&band.boxes, corners)));
        let Some(how) = band.how else { continue };
        if !view.shades.iter().any(|(known, _)| *known == how) {
            view.shades.push((how, words));
        }
        view.shapes.push(super::view::Shape::Shade { boxes: band.boxes, within: corners.to_vec(), how });
    }
    if !shading.tested {
        desk.assume(format!(
            "suction under {name}: the ground was not tested, so the least is shaded that such ground may give; broken strokes mean assumed"
        ));
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

/// Footings, drain loops and collectors.
fn under_floor(desk: &mut Desk<'_, '_>, view: &mut View, twin: &mut Vec<Part>) {
    let foundation = &desk.ask.design().foundation;
    let mut lines = Vec::new();
    let mut line = |desk: &mut Desk<'_, '_>,
                    what: String,
                    found: Answer<Vec<crate::calc::geometry::PlanPoint>>,
                    key,
                    pen| match found {
        Answer::Known { value: points, .. } => {
            let points: Vec<Spot> = points.iter().map(spot).collect();
            if let (Some(first), Some(second)) = (points.first(), points.get(1)) {
                view.label(first.toward(*second, 0.3), 3.0, 4, vec![what.clone()]);
            }
            view.keys.insert(key);
            view.path(Layer::Building, pen, points, false);
            lines.push(format!("{what} is drawn"));
        }
        Answer::Unknown(missing) => {
            desk.leave_out(&what, &missing);
            lines.push(format!("{what}: where it runs is not known"));
        }
    };
    for (name, footing) in foundation.footings.things() {
        let kind = footing.kind.known().map_or("footing", |kind| kind.spelling());
        let found = drawn::line(&footing.here, &footing.line);
        line(desk, format!("{} ({kind})", spoken(name)), found, Key::Footing, Pen::Footing);
    }
    for (name, drains) in foundation.drain_loops.things() {
        let found = drawn::line(&drains.here, &drains.line);
        line(desk, format!("drain loop {}", spoken(name)), found, Key::Loop, Pen::Loop);
    }
    for (_, area) in foundation.areas.things() {
        for (name, collector) in area.collectors.things() {
            let found = drawn::line(&collector.here, &collector.line);
            line(desk, format!("collector {}", spoken(name)), found, Key::Loop, Pen::Loop);
        }
    }
    if !lines.is_empty() {
        twin.push(Part { title: "Under the floor".to_owned(), lines });
    }
}

/// Openings whose edges are known on the plan.
fn openings(desk: &mut Desk<'_, '_>, view: &mut View, twin: &mut Vec<Part>) {
    let mut lines = Vec::new();
    let mut seen = Vec::new();
    for it in desk.all(Kind::Opening) {
        let Some(record) = drawn::opening(desk.ask, it) else { continue };
        if seen.iter().any(|one| std::ptr::eq(*one, record)) {
            continue;
        }
        seen.push(record);
        let name = desk.name(it);
        let Some([(x0, x1), (y0, y1), _]) = drawn::edges(desk.ask, it) else { continue };
        match x0.both(x1).both(y0.both(y1)) {
            Answer::Known { value: ((x0, x1), (y0, y1)), .. } => {
                let low = Spot::at(x0.to_f64_mid(), y0.to_f64_mid());
                let high = Spot::at(x1.to_f64_mid(), y1.to_f64_mid());
                let opens = record.opens.known().copied() == Some(true);
                view.keys.insert(if opens { Key::Opening } else { Key::Fixed });
                window(view, low, high, opens);
                let middle = low.toward(high, 0.5);
                view.label(middle, 6.0, 3, vec![name.clone()]);
                desk.keep(Kind::Opening, it, middle);
                let (east, north) = (desk.length(&x0), desk.length(&y0));
                lines.push(format!(
                    "{name}: its south-west corner {east} east and {north} north of the origin"
                ));
            }
            Answer::Unknown(missing) => {
                desk.leave_out(&name, &missing);
                lines.push(format!("{name}: where it is on the plan is not known"));
            }
        }
    }
    if !lines.is_empty() {
        twin.push(Part { title: "Openings".to_owned(), lines });
    }
}

/// An opening in a wall, as a box as thick as a wall is drawn; crossed out where it does not open.
fn window(view: &mut View, low: Spot, high: Spot, opens: bool) {
    let thick = 0.12;
    let (dx, dy) = (high.x - low.x, high.y - low.y);
    let (low, high) = match (dx < thick, dy < thick) {
        (true, false) => (low.moved(-thick, 0.0), high.moved(thick, 0.0)),
        (false, true) => (low.moved(0.0, -thick), high.moved(0.0, thick)),
        _ => (low, high),
    };
    let corners = vec![low, Spot::at(high.x, low.y), high, Spot::at(low.x, high.y)];
    view.path(Layer::Building, Pen::White, corners.clone(), true);
    view.path(Layer::Building, Pen::Edge, corners, true);
    if !opens {
        view.path(Layer::Building, Pen::Hair, vec![low, high], false);
    }
}

/// What a run is in a few words: its size, how far it goes, how it falls.
pub(crate) fn run_in_words(desk: &mut Desk<'_, '_>, it: Thing, run: &Run) -> Vec<String> {
    let mut said: Vec<String> = desk.pipe_size(it, run).map(str::to_owned).into_iter().collect();
    for (entry, way) in [
        (&run.up, "up"),
        (&run.down, "down"),
        (&run.north, "north"),
        (&run.south, "south"),
        (&run.east, "east"),
        (&run.west, "west"),
    ] {
        match entry.known() {
            Some(Extent::Length(length)) => said.push(format!("{way} {}", as_written(length))),
            Some(Extent::Until(until)) => {
                let length = desk.ask.number(it, "length");
                said.push(match length {
                    Answer::Known { value, .. } => {
                        format!("{way} to {}, {}", until.spelling(), desk.length(&value))
                    }
                    Answer::Unknown(_) => format!("{way} to {}", until.spelling()),
                });
            }
            None => {}
        }
    }
    if !run.points.is_missing()
        && let Answer::Known { value, .. } = desk.ask.number(it, "length")
    {
        said.push(desk.length(&value));
    }
    if let Some(slope) = run.slope.known() {
        said.push(as_written(slope));
    }
    if let Some(valve) = run.valve.known() {
        let open = valve.open.known().map(|open| format!(" {} open", as_written(open)));
        said.push(format!("valve{}", open.unwrap_or_default()));
    }
    said
}

/// The runs of all systems.
fn pipes(desk: &mut Desk<'_, '_>, view: &mut View, spots: &mut Spots, twin: &mut Vec<Part>) {
    let mut lines = Vec::new();
    for it in desk.all(Kind::Run) {
        let Some(run) = drawn::run(desk.ask, it) else { continue };
        let name = desk.name(it);
        let words = run_in_words(desk, it, run);
        let said = format!("{name}: {}", words.join(", "));
        lines.push(said.clone());
        let way = drawn::way(desk.ask, it);
        let mut places = Vec::new();
        for stands in &way {
            places.push(desk.on_plan(&format!("run {name}"), stands));
        }
        let Some(places) = places.into_iter().collect::<Option<Vec<Spot>>>() else { continue };
        let (Some(first), Some(last)) = (places.first().copied(), places.last().copied()) else { continue };
        let pressure = desk.ask.truth(it, "downstream").value() == Some(true);
        desk.keep(Kind::Run, it, first.toward(last, 0.5));
        if first.away(last) < 0.05 {
            let rises = !run.up.is_missing();
            spots.add(first, Some(if rises { Key::Rises } else { Key::Drops }), Some(said));
            continue;
        }
        for (from, to) in places.iter().zip(places.iter().skip(1)) {
            view.pipe(*from, *to, pressure);
        }
        // Water runs toward the suction points; on the discharge side a run rises away from the fan.
        if let Answer::Known { value: slope, .. } = desk.ask.number(it, "slope_to_soil") {
            let down = slope.to_f64_mid() > 0.0;
            let (from, to) = if down == pressure { (last, first) } else { (first, last) };
            if slope.to_f64_mid().abs() > 1e-9 {
                view.keys.insert(Key::Falls);
                view.shapes.push(super::view::Shape::Falls { from, to });
            }
        }
        if let Some(valve) = run.valve.known() {
            let at = valve_place(desk, &name, valve, first.toward(last, 0.5));
            spots.add(at, Some(Key::Valve), None);
        }
        view.label(first.toward(last, 0.5), 5.0, 3, in_lines(&name, &words));
    }
    if !lines.is_empty() {
        twin.push(Part { title: "Pipe, outward from the fan".to_owned(), lines });
    }
}

/// A name and what is said of it on two short lines.
fn in_lines(name: &str, words: &[String]) -> Vec<String> {
    let (first, more) = words.split_at(words.len().min(1));
    let head = std::iter::once(name.to_owned()).chain(first.iter().cloned()).collect::<Vec<_>>().join(", ");
    if more.is_empty() { vec![head] } else { vec![head, more.join(", ")] }
}

/// Where a valve stands: as measured, or else in the middle of its run, which is said.
fn valve_place(
    desk: &mut Desk<'_, '_>,
    run: &str,
    valve: &crate::design::model::pipe::Valve,
    middle: Spot,
) -> Spot {
    // A place by tape rests on the area it is measured in, which a valve does not name; a point tells by itself.
    let point = valve.at.known().and_then(|at| at.point.known());
    let known = point.and_then(|point| point.coordinates().value());
    match known {
        Some((x, y, _)) => Spot::at(x.to_f64_mid(), y.to_f64_mid()),
        None => {
            desk.assume(format!(
                "valve of {run}: where along the run it sits is not stated, and it is drawn in the middle"
            ));
            middle
        }
    }
}

/// Suction points, sumps, drains and test holes.
fn points(
    desk: &mut Desk<'_, '_>,
    view: &mut View,
    spots: &mut Spots,
    twin: &mut Vec<Part>,
    outlines: &[(Thing, Outline)],
) {
    let mut lines = Vec::new();
    for it in desk.all(Kind::SuctionPoint) {
        let Some(record) = drawn::suction_point(desk.ask, it) else { continue };
        let name = desk.name(it);
        let mut said = vec![name.clone()];
        said.extend(record.kind.known().map(|kind| kind.spelling().to_owned()));
        said.extend(
            record
                .hole
                .known()
                .and_then(|hole| hole.width.known())
                .map(|wide| format!("hole {}", as_written(wide))),
        );
        said.extend(
            record
                .pit
                .known()
                .and_then(|pit| pit.volume.known())
                .map(|pit| format!("pit {}", as_written(pit))),
        );
        said.extend(record.perforated.known().map(|long| format!("{} of pipe with holes", as_written(long))));
        let words = said.join(", ");
        let stands = drawn::stands(desk.ask, it);
        match desk.on_plan(&format!("suction point {name}"), &stands) {
            Some(at) => {
                spots.add(at, Some(Key::Point), Some(words.clone()));
                desk.keep(Kind::SuctionPoint, it, at);
                let off = off_the_walls(desk, view, it, at, outlines);
                lines.push(if off.is_empty() { words } else { format!("{words}; {off}") });
            }
            None => lines.push(format!("{words}; where it is on the plan is not known")),
        }
    }
    for (kind, key, called) in [
        (Kind::Sump, Key::Sump, "sump"),
        (Kind::Drain, Key::Drain, "drain"),
        (Kind::TestHole, Key::TestHole, "test hole"),
    ] {
        for it in desk.all(kind) {
            let name = desk.name(it);
            let mut words = if name.contains(called) { name.clone() } else { format!("{called} {name}") };
            if kind == Kind::TestHole
                && let Answer::Known { value, .. } = desk.ask.number(it, "pressure")
            {
                words = format!("{words}: {}", desk.worked(&value, Dimension::PRESSURE));
            }
            let stands = drawn::stands(desk.ask, it);
            if let Some(at) = desk.on_plan(&words, &stands) {
                spots.add(at, Some(key), Some(words.clone()));
                desk.keep(kind, it, at);
                lines.push(words);
            } else {
                lines.push(format!("{words}; where it is on the plan is not known"));
            }
        }
    }
    if !lines.is_empty() {
        twin.push(Part { title: "Suction points, sumps, drains and test holes".to_owned(), lines });
    }
}

/// How far a suction point is off the nearest walls, drawn as dimensions. Hands back the same in words.
fn off_the_walls(
    desk: &mut Desk<'_, '_>,
    view: &mut View,
    it: Thing,
    at: Spot,
    outlines: &[(Thing, Outline)],
) -> String {
    let Answer::Known { value: area, .. } = desk.ask.one(it, "area") else { return String::new() };
    let Some((_, outline)) = outlines.iter().find(|(own, _)| *own == area) else { return String::new() };
    let mut said = Vec::new();
    for level in [true, false] {
        // The nearest wall that stands square to this way, and whose stretch reaches past the point.
        let turn = |spot: Spot| if level { spot } else { Spot::at(spot.y, spot.x) };
        let own = turn(at);
        let walls = outline.sides().map(|(a, b)| (turn(spot(a)), turn(spot(b))));
        let square = walls.filter(|(a, b)| {
            (a.x - b.x).abs() < 1e-9 && a.y.min(b.y) <= own.y + 1e-9 && a.y.max(b.y) >= own.y - 1e-9
        });
        let nearest = square.map(|(a, _)| a.x).min_by(|a, b| (a - own.x).abs().total_cmp(&(b - own.x).abs()));
        let Some(wall) = nearest else { continue };
        let away = (wall - own.x).abs();
        let Some(number) = Number::from_f64_range(away, away).filter(|_| away > 0.02) else { continue };
        let words = desk.length_near(&number);
        let side = match (level, wall > own.x) {
            (true, true) => "east",
            (true, false) => "west",
            (false, true) => "north",
            (false, false) => "south",
        };
        said.push(format!("{words} off the {side} wall"));
        // Beside a pipe that lies along it.
        let along = view.shapes.iter().any(|shape| match shape {
            super::view::Shape::Pipe { from, to, .. } => {
                let (from, to) = (turn(*from), turn(*to));
                let (low, high) =
                    (from.x.min(to.x).max(wall.min(own.x)), from.x.max(to.x).min(wall.max(own.x)));
                (from.y - own.y).abs() < 0.05 && (to.y - own.y).abs() < 0.05 && high - low > 0.05
            }
            _ => false,
        });
        view.size(turn(Spot::at(wall, own.y)), at, if along { 13.0 } else { 0.0 }, words);
    }
    said.join(", ")
}

/// Fans, discharges, gauges and disconnects.
fn fans(desk: &mut Desk<'_, '_>, spots: &mut Spots, twin: &mut Vec<Part>) {
    let mut lines = Vec::new();
    for (kind, key) in [(Kind::Fan, Key::Fan), (Kind::Discharge, Key::Discharge)] {
        for it in desk.all(kind) {
            let name = desk.name(it);
            let stands = drawn::stands(desk.ask, it);
            let high = stands.up.clone().value().map(|up| format!(", {} up", desk.length(&up)));
            let words = format!("{name}{}", high.unwrap_or_default());
            match desk.on_plan(&name, &stands) {
                Some(at) => {
                    spots.add(at, Some(key), Some(words.clone()));
                    desk.keep(kind, it, at);
                    lines.push(words);
                }
                None => lines.push(format!("{words}; where it is on the plan is not known")),
            }
        }
    }
    for (system, record) in desk.systems() {
        let mut devices = Vec::new();
        if let Some(gauge) = record.gauge.known().filter(|gauge| !gauge.at.is_missing()) {
            let space = gauge.space.known().map(|space| space.as_str());
            devices.push(("gauge", &gauge.here, &gauge.at, space, Key::Gauge));
        }
        let disconnect = record.wiring.known().and_then(|wiring| wiring.disconnect.known());
        if let Some(disconnect) = disconnect.filter(|it| !it.at.is_missing()) {
            let space = disconnect.space.known().map(|space| space.as_str());
            devices.push(("disconnect", &disconnect.here, &disconnect.at, space, Key::Disconnect));
        }
        for (what, here, place, space, key) in devices {
            let stands = drawn::stands_by_place(desk.ask, here, place, space);
            let words = format!("{what} of {}", spoken(system));
            if let Some(at) = desk.on_plan(&words, &stands) {
                spots.add(at, Some(key), Some(what.to_owned()));
                lines.push(words);
            }
        }
    }
    if !lines.is_empty() {
        twin.push(Part { title: "Fan and discharge".to_owned(), lines });
    }
}
