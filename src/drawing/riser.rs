//! The riser: every run of a system from its suction points to its discharge, not to scale, with sizes, air, speeds and
//! pressures on both sides of the fan.

use crate::base::number::Dimension;
use crate::base::value::{Answer, Missing, unite};
use crate::base::vocabulary::Thing;
use crate::facts::drawn;
use crate::facts::kinds::Kind;
use crate::facts::worksheet;
use crate::yaml::words::Words;

use super::desk::{Desk, as_written, slope_as_written, with_its_kind};
use super::plan::Shown;
use super::scene::{Part, Spot};
use super::signs::Key;
use super::view::{Shape, View};

/// How far apart columns and rows stand, in the view's own units.
const COLUMN: f64 = 3.4;
const ROW: f64 = 2.4;

/// Deeper than this no branch is followed: the file may say that runs go on from each other in a ring.
const DEEPEST: usize = 60;

/// A run in its place among the others.
struct Branch {
    run: Thing,
    /// What it ends at, as the file names it.
    to: Option<String>,
    /// Those that go on from its end.
    next: Vec<Branch>,
}

/// Where a tree is drawn.
struct Grown {
    view: View,
    lines: Vec<String>,
    /// The next free column.
    column: f64,
    /// Whether it grows upward.
    up: bool,
    lacks: Vec<Missing>,
}

/// The riser of all systems of a design.
pub(crate) fn riser(desk: &mut Desk<'_, '_>) -> Shown {
    let mut grown =
        Grown { view: View::default(), lines: Vec::new(), column: 0.0, up: false, lacks: Vec::new() };
    let mut twin = Vec::new();
    let systems = desk.all(Kind::System);
    for system in systems {
        let name = desk.name(system);
        one(desk, &mut grown, system);
        if !grown.lacks.is_empty() {
            let lacks = std::mem::take(&mut grown.lacks);
            desk.leave_out(&format!("air and pressures of {name} that are not shown"), &lacks);
        }
        twin.push(Part { title: format!("System {name}"), lines: std::mem::take(&mut grown.lines) });
    }
    if twin.is_empty() {
        desk.left_out.push("no system is written down: state systems".to_owned());
    }
    Shown { view: grown.view, twin }
}

/// The runs that begin at a place, each with those that go on from it.
fn branches(desk: &Desk<'_, '_>, runs: &[(Thing, String)], from: &str, deep: usize) -> Vec<Branch> {
    if deep > DEEPEST {
        return Vec::new();
    }
    let begins = |run: &Thing| {
        drawn::run(desk.ask, *run).and_then(|run| run.from.known()).is_some_and(|own| own.as_str() == from)
    };
    let own = runs.iter().filter(|(run, _)| begins(run));
    own.map(|(run, name)| Branch {
        run: *run,
        to: drawn::run(desk.ask, *run).and_then(|run| run.to.known()).map(|to| to.as_str().to_owned()),
        next: branches(desk, runs, name, deep + 1),
    })
    .collect()
}

/// One system, beside those that stand there already.
fn one(desk: &mut Desk<'_, '_>, grown: &mut Grown, system: Thing) {
    let design = desk.ask.design();
    let Some((_, record)) = design.systems.things().nth(system.number as usize) else { return };
    let runs: Vec<(Thing, String)> = desk
        .ask
        .things()
        .owned(Kind::Run, system.number)
        .into_iter()
        .zip(record.runs.things())
        .map(|(run, (name, _))| (run, name.to_owned()))
        .collect();
    let from_fan = branches(desk, &runs, "fan", 0);
    let (over, under): (Vec<Branch>, Vec<Branch>) = from_fan
        .into_iter()
        .partition(|branch| desk.ask.truth(branch.run, "downstream").value() == Some(true));
    let under =
        if under.is_empty() && over.is_empty() { branches(desk, &runs, "discharge", 0) } else { under };
    if under.is_empty() && over.is_empty() {
        grown.lines.push("no run of pipe is written down from the fan or the discharge on".to_owned());
        return;
    }
    let passive = over.is_empty() && record.fan.known().is_none();
    let start = grown.column;
    let columns = grow_all(desk, grown, &under, -1.0);
    let middle = mean(&columns).unwrap_or(start);
    for (branch, column) in under.iter().zip(&columns) {
        stroke(desk, grown, branch, Spot::at(middle, 0.0), *column, -1.0);
    }
    let below = grown.column;
    grown.up = true;
    if !over.is_empty() {
        grown.column = middle;
        let columns = grow_all(desk, grown, &over, 1.0);
        for (branch, column) in over.iter().zip(&columns) {
            stroke(desk, grown, branch, Spot::at(middle, 0.0), *column, 1.0);
        }
    }
    grown.up = false;
    grown.column = below.max(grown.column) + COLUMN * 0.3;
    let at = Spot::at(middle, 0.0);
    if passive {
        top(desk, grown, system, at);
    } else {
        fan(desk, grown, system, at);
    }
}

fn mean(columns: &[f64]) -> Option<f64> {
    let count = u32::try_from(columns.len()).ok().filter(|count| *count > 0)?;
    Some(columns.iter().sum::<f64>() / f64::from(count))
}

/// Draws what hangs on branches, and hands back the column of each.
fn grow_all(desk: &mut Desk<'_, '_>, grown: &mut Grown, list: &[Branch], row: f64) -> Vec<f64> {
    let mut columns = Vec::new();
    for branch in list {
        let toward = if grown.up { row + 1.0 } else { row - 1.0 };
        let inner = grow_all(desk, grown, &branch.next, toward);
        let column = match mean(&inner) {
            Some(column) => column,
            None => {
                let own = grown.column;
                grown.column += COLUMN;
                own
            }
        };
        for (next, there) in branch.next.iter().zip(&inner) {
            stroke(desk, grown, next, Spot::at(column, row * ROW), *there, toward);
        }
        if branch.next.is_empty() {
            end(desk, grown, branch, Spot::at(column, row * ROW));
        }
        columns.push(column);
    }
    columns
}

/// A number of a thing in words, or nothing, and then what is missing.
fn said(
    desk: &mut Desk<'_, '_>,
    grown: &mut Grown,
    it: Thing,
    fact: &'static str,
    dimension: Dimension,
) -> Option<String> {
    match desk.ask.number(it, fact) {
        Answer::Known { value, .. } => {
            desk.rests_on(it, fact);
            Some(desk.worked(&value, dimension))
        }
        Answer::Unknown(missing) => {
            let lacks = std::mem::take(&mut grown.lacks);
            grown.lacks = unite(lacks, missing);
            None
        }
    }
}

/// The first of several numbers that is known.
fn first(
    desk: &mut Desk<'_, '_>,
    grown: &mut Grown,
    it: Thing,
    facts: &[&'static str],
    dimension: Dimension,
) -> Option<String> {
    facts.iter().find_map(|fact| said(desk, grown, it, fact, dimension))
}

/// A run as it goes from a place to its column and up or down to its row, with what is known of it.
fn stroke(desk: &mut Desk<'_, '_>, grown: &mut Grown, branch: &Branch, from: Spot, column: f64, row: f64) {
    let Some(run) = drawn::run(desk.ask, branch.run) else { return };
    let corner = Spot::at(column, from.y);
    let foot = Spot::at(column, row * ROW);
    let pressure = desk.ask.truth(branch.run, "downstream").value() == Some(true);
    if from.away(corner) > 1e-9 {
        grown.view.pipe(from, corner, pressure);
    }
    grown.view.pipe(corner, foot, pressure);
    // The air goes from the soil to the fan, and from the fan out.
    grown.view.keys.insert(Key::Flows);
    let (upper, lower) = (foot.toward(corner, 0.35), foot.toward(corner, 0.25));
    let (tail, tip) = if grown.up { (upper, lower) } else { (lower, upper) };
    grown.view.shapes.push(Shape::Flows { from: tail, to: tip });
    let middle = corner.toward(foot, 0.5);
    desk.keep(Kind::Run, branch.run, middle);
    let name = desk.name(branch.run);
    let mut head = vec![name];
    head.extend(desk.pipe_size(branch.run, run).map(str::to_owned));
    if let Answer::Known { value, .. } = desk.ask.number(branch.run, "length") {
        head.push(desk.length(&value));
    }
    head.extend(run.slope.known().map(slope_as_written));
    let mut lines = vec![head.join(", ")];
    let air = first(desk, grown, branch.run, &["worked_flow", "flow"], Dimension::FLOW);
    let speed = first(desk, grown, branch.run, &["worked_speed", "air_speed"], Dimension::SPEED);
    lines.extend(air.map(|air| format!("air {air}")));
    lines.extend(speed.map(|speed| format!("speed {speed}")));
    lines.extend(
        said(desk, grown, branch.run, "worked_loss", Dimension::PRESSURE).map(|loss| format!("takes {loss}")),
    );
    if let Some(valve) = run.valve.known() {
        let at = corner.toward(foot, 0.25);
        grown.view.sign(at, Key::Valve);
        let open = valve.open.known().map(|open| format!("valve {} open", as_written(open)));
        let set = valve.set_to.known().map(|set| format!("valve set to {}", as_written(set)));
        lines.push(open.or(set).unwrap_or_else(|| "valve, its setting is not stated".to_owned()));
        if let Answer::Known { value, .. } = desk.ask.number(branch.run, "valve_opening") {
            desk.rests_on(branch.run, "valve_opening");
            lines.push(format!("to be open by {}", desk.share(&value)));
        }
    }
    grown.lines.push(lines.join("; "));
    let lines = lines.iter().flat_map(|line| super::font::wrapped(line, super::view::LABEL, 140.0)).collect();
    grown.view.label(middle, 6.0, 3, lines);
}

/// What a branch ends at: a suction point, the discharge, or nothing that is stated.
fn end(desk: &mut Desk<'_, '_>, grown: &mut Grown, branch: &Branch, at: Spot) {
    let system = desk.ask.things().system_of(branch.run);
    let Some(to) = branch.to.as_deref() else {
        grown.view.label(at, 4.0, 2, vec!["where it ends is not stated".to_owned()]);
        return;
    };
    if to == "discharge" {
        if let Some(system) = system {
            top(desk, grown, system, at);
        }
        return;
    }
    let point = desk.ask.things().named(Kind::SuctionPoint, system.map(|system| system.number), to);
    let Some(point) = point else {
        grown.view.label(at, 4.0, 2, vec![super::desk::spoken(to)]);
        return;
    };
    let name = desk.name(point);
    let kind = drawn::suction_point(desk.ask, point)
        .and_then(|point| point.kind.known())
        .map(|kind| kind.spelling());
    let mut lines = vec![with_its_kind(&name, kind)];
    let air = first(desk, grown, point, &["worked_flow", "flow"], Dimension::FLOW);
    lines.extend(air.map(|air| format!("draws {air}")));
    lines.extend(
        said(desk, grown, point, "worked_suction", Dimension::PRESSURE)
            .map(|suction| format!("suction {suction}")),
    );
    grown.lines.push(lines.join("; "));
    grown.view.sign(at, Key::Point);
    desk.keep(Kind::SuctionPoint, point, at);
    let lines = lines.iter().flat_map(|line| super::font::wrapped(line, super::view::LABEL, 140.0)).collect();
    grown.view.label(at, 8.0, 2, lines);
}

/// The discharge of a system.
fn top(desk: &mut Desk<'_, '_>, grown: &mut Grown, system: Thing, at: Spot) {
    grown.view.sign(at, Key::Discharge);
    let Some(it) = desk.ask.things().owned(Kind::Discharge, system.number).first().copied() else { return };
    desk.keep(Kind::Discharge, it, at);
    let name = desk.name(it);
    let over_ground = desk.ask.number(it, "above_nearest_ground").value();
    let high = match over_ground.filter(|high| high.to_f64_mid() >= 0.0) {
        Some(high) => Some(format!(", {} above the ground nearest to it", desk.length(&high))),
        None => drawn::stands(desk.ask, it).up.value().map(|up| format!(", {} up", desk.length(&up))),
    };
    let words = format!("{name}{}", high.unwrap_or_default());
    grown.lines.push(words.clone());
    grown.view.label(at, 8.0, 2, vec![words]);
}

/// The fan of a system, with the pressures on both its sides.
fn fan(desk: &mut Desk<'_, '_>, grown: &mut Grown, system: Thing, at: Spot) {
    let Some(it) = desk.ask.things().owned(Kind::Fan, system.number).first().copied() else {
        grown.view.label(at, 4.0, 2, vec!["no fan is written down".to_owned()]);
        return;
    };
    grown.view.sign(at, Key::Fan);
    desk.keep(Kind::Fan, it, at);
    let mut lines = vec![desk.name(it)];
    for (fact, words, dimension) in [
        ("worked_flow", "moves", Dimension::FLOW),
        ("worked_suction", "suction before it", Dimension::PRESSURE),
        ("worked_rise", "makes", Dimension::PRESSURE),
        ("shut_off", "with no air moving", Dimension::PRESSURE),
    ] {
        lines.extend(said(desk, grown, it, fact, dimension).map(|number| format!("{words} {number}")));
    }
    let design = desk.ask.design();
    if let Some((_, record)) = design.systems.things().nth(system.number as usize) {
        if let Some(point) = record.design_point.known() {
            let flow = point.flow.known().map(as_written);
            let suction = point.suction.known().map(as_written);
            let both: Vec<String> = flow.into_iter().chain(suction).collect();
            if !both.is_empty() {
                lines.push(format!("designed for {}", both.join(" at ")));
                at_odds(desk, it, &both.join(" at "));
            }
        }
        if let Some(gauge) = record.gauge.known() {
            let tap = gauge.tap.known().map(|tap| format!(", tap at {}", super::desk::spoken(tap.as_str())));
            let range = gauge.range.known().map(|range| format!(", up to {}", as_written(range)));
            lines.push(format!("gauge{}{}", tap.unwrap_or_default(), range.unwrap_or_default()));
        }
    }
    grown.lines.push(lines.join("; "));
    let lines = lines.iter().flat_map(|line| super::font::wrapped(line, super::view::LABEL, 140.0)).collect();
    grown.view.label(at, 9.0, 1, lines);
}

/// Says so where the air that a fan is designed for lies far from what was worked out.
fn at_odds(desk: &mut Desk<'_, '_>, fan: Thing, designed: &str) {
    let Some((_, worked)) = worksheet::at_odds(desk.ask, fan) else { return };
    let (name, worked) = (desk.name(fan), desk.worked(&worked, Dimension::FLOW));
    desk.at_odds.push(format!(
        "{name}: the file states that it is designed for {designed}; worked out of its curve, the pipe and the ground it moves {worked}. Rules on the size of pipe and the speed of air go by what is stated; the air, speeds and pressures on this sheet are those worked out. Which of them is right has to be settled before pipe or fan is bought"
    ));
}
