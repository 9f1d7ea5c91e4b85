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

use super::around::around;
use super::desk::{Desk, as_written, slope_as_written, spoken, spot, with_its_kind};
use super::floors::{apart, areas, sides};
use super::scene::{Frame, Layer, Part, Pen, Spot};
use super::signs::Key;
use super::spots::Spots;
use super::view::View;

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
    let waiting = areas(desk, &mut view, &mut twin, &mut outlines);
    under_floor(desk, &mut view, &mut twin);
    openings(desk, &mut view, &mut twin);
    let mut spots = Spots::default();
    around(desk, &mut view, &mut spots, &mut twin);
    apart(desk, &mut view, &mut twin, &mut outlines, waiting);
    sides(desk, &mut view, &outlines);
    pipes(desk, &mut view, &mut spots, &mut twin);
    points(desk, &mut view, &mut spots, &mut twin, &outlines);
    fans(desk, &mut spots, &mut twin);
    spots.draw(&mut view);
    if desk.all(Kind::Area).is_empty() {
        desk.left_out
            .push("floors of the foundation: not known: which there are, and the size of each".to_owned());
    }
    Shown { view, twin }
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

/// Openings and intakes whose edges are known on the plan.
fn openings(desk: &mut Desk<'_, '_>, view: &mut View, twin: &mut Vec<Part>) {
    let mut lines = Vec::new();
    for kind in [Kind::Opening, Kind::Intake] {
        for (it, name) in each_once(desk, kind) {
            if let Some(found) = on_plan(desk, &name, it, &mut lines) {
                opening(desk, view, (kind, it), &name, found, &mut lines);
            }
        }
    }
    if !lines.is_empty() {
        twin.push(Part { title: "Openings and intakes".to_owned(), lines });
    }
}

/// The things of a kind that are seen from one discharge or another, each once, with their names.
pub(super) fn each_once(desk: &mut Desk<'_, '_>, kind: Kind) -> Vec<(Thing, String)> {
    let mut found: Vec<(Thing, String)> = Vec::new();
    for it in desk.all(kind) {
        let name = desk.name(it);
        if !found.iter().any(|(_, known)| *known == name) {
            found.push((it, name));
        }
    }
    found
}

/// The south-west and the north-east corner of an opening on the plan, if they are known.
pub(super) fn on_plan(
    desk: &mut Desk<'_, '_>,
    name: &str,
    it: Thing,
    lines: &mut Vec<String>,
) -> Option<((Number, Number), (Number, Number))> {
    let [(x0, x1), (y0, y1), _] = drawn::edges(desk.ask, it)?;
    match x0.both(y0).both(x1.both(y1)) {
        Answer::Known { value, .. } => Some(value),
        Answer::Unknown(missing) => {
            desk.leave_out(name, &missing);
            lines.push(format!("{name}: where it is on the plan is not known"));
            None
        }
    }
}

/// An opening or intake between two corners.
pub(super) fn opening(
    desk: &mut Desk<'_, '_>,
    view: &mut View,
    (kind, it): (Kind, Thing),
    name: &str,
    ((x0, y0), (x1, y1)): ((Number, Number), (Number, Number)),
    lines: &mut Vec<String>,
) {
    let low = Spot::at(x0.to_f64_mid(), y0.to_f64_mid());
    let high = Spot::at(x1.to_f64_mid(), y1.to_f64_mid());
    let opens = drawn::opening(desk.ask, it).and_then(|record| record.opens.known().copied());
    let (key, how) = match (kind, opens) {
        (Kind::Intake, _) => (Key::Intake, ", air intake"),
        (_, Some(true)) => (Key::Opening, ""),
        (_, Some(false)) => (Key::Fixed, ", does not open"),
        (_, None) => (Key::Fixed, ", not known whether it opens"),
    };
    view.keys.insert(key);
    window(view, low, high, key);
    let middle = low.toward(high, 0.5);
    view.label(middle, 6.0, 3, vec![name.to_owned()]);
    desk.keep(kind, it, middle);
    let (east, north) = (desk.length(&x0), desk.length(&y0));
    lines.push(format!("{name}{how}: its south-west corner {east} east and {north} north of the origin"));
}

/// An opening in a wall, as a box as thick as a wall is drawn; crossed out where it does not open, with a slat where air
/// is drawn in.
fn window(view: &mut View, low: Spot, high: Spot, key: Key) {
    let thick = 0.12;
    let (dx, dy) = (high.x - low.x, high.y - low.y);
    let (low, high) = match (dx < thick, dy < thick) {
        (true, false) => (low.moved(-thick, 0.0), high.moved(thick, 0.0)),
        (false, true) => (low.moved(0.0, -thick), high.moved(0.0, thick)),
        _ => (low, high),
    };
    let corners = vec![low, Spot::at(high.x, low.y), high, Spot::at(low.x, high.y)];
    view.path(Layer::Building, Pen::White, corners, true);
    view.opening(Frame { low, high }, Pen::Edge);
    match key {
        Key::Fixed => view.path(Layer::Building, Pen::Hair, vec![low, high], false),
        Key::Intake => {
            let (x, y) = (f64::midpoint(low.x, high.x), f64::midpoint(low.y, high.y));
            let slat = match dx < dy {
                true => vec![Spot::at(x, low.y), Spot::at(x, high.y)],
                false => vec![Spot::at(low.x, y), Spot::at(high.x, y)],
            };
            view.path(Layer::Building, Pen::Hair, slat, false);
        }
        _ => {}
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
        said.push(slope_as_written(slope));
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
        let mut said = vec![with_its_kind(&name, record.kind.known().map(|kind| kind.spelling()))];
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
        match desk.in_its_area(&format!("suction point {name}"), it) {
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
            if let Some(at) = desk.in_its_area(&words, it) {
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
    // A point that stands on the site has no distance from the walls of an area that is drawn apart.
    let apart = desk.apart.iter().any(|(own, _)| *own == area);
    if apart && drawn::stands_apart(desk.ask, it, area).is_none() {
        return String::new();
    }
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
