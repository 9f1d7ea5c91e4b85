//! What is built, line by line, as far as the design says: for the scope of work and for the people of the house.

use super::text;
use crate::design::Design;
use crate::design::model::fan::{Discharge, Fan};
use crate::design::model::pipe::Pipe;
use crate::design::model::suction::SuctionPoint;
use crate::design::model::systems::{System, SystemKind};
use crate::render::phrases::{count, spoken};
use crate::yaml::words::Words;

/// The scope of work.
pub(super) fn scope(design: &Design) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(work) = design.job.work.known() {
        lines.push(format!("Kind of work: {}", work.spelling()));
    }
    if let Some(target) = design.job.target.known() {
        lines.push(format!("The radon level that the job promises to reach: {}", target.quantity));
    }
    for (name, system) in design.systems.things() {
        let front = if design.systems.things().count() > 1 {
            format!("System {}: ", spoken(name))
        } else {
            String::new()
        };
        lines.extend(of_system(system, design).into_iter().map(|line| format!("{front}{line}")));
    }
    let areas = design.foundation.areas.things();
    let covered: Vec<String> =
        areas.filter(|(_, area)| area.membrane.known().is_some()).map(|(name, _)| spoken(name)).collect();
    if !covered.is_empty() {
        lines.push(format!("Sheet over the soil: {}", covered.join(", ")));
    }
    let joints: Vec<String> = design
        .foundation
        .joints
        .things()
        .filter(|(_, joint)| joint.closed.known() == Some(&true))
        .map(|(name, _)| spoken(name))
        .collect();
    if !joints.is_empty() {
        lines.push(format!("Joints and cracks closed: {}", joints.join(", ")));
    }
    lines
}

/// A system, outward from the soil.
fn of_system(system: &System, design: &Design) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(kind) = system.kind.known() {
        lines.push(match kind {
            SystemKind::Active => "driven by a fan".to_owned(),
            SystemKind::Passive => "driven by the warmth of the house alone".to_owned(),
            SystemKind::RoughIn => "pipe for a later system, driven by nothing yet".to_owned(),
        });
    }
    for (name, point) in system.suction_points.things() {
        lines.push(suction(name, point));
    }
    if let Some(pipe) = system.pipe.known() {
        let kind = [
            pipe.schedule.known().map(|schedule| format!("schedule {}", schedule.spelling())),
            pipe.material.known().map(|material| material.spelling().to_owned()),
            pipe.joints.known().map(|joints| format!("joined by {}", joints.spelling())),
        ];
        let said: Vec<String> =
            runs_by_size(system, pipe).into_iter().chain(kind.into_iter().flatten()).collect();
        lines.push(format!("pipe: {}", said.join(", ")));
    }
    lines.extend(system.fan.known().map(fan));
    lines.extend(system.discharge.known().map(|end| discharge(end, design)));
    if let Some(gauge) = system.gauge.known() {
        let kind = gauge.kind.known().map_or("kind not stated", |kind| kind.spelling());
        let place = gauge.space.known().map(|space| format!(" in the {}", spoken(space.as_str())));
        lines.push(format!("gauge: {kind}{}", place.unwrap_or_default()));
    }
    if system.alarm.known().is_some() {
        lines.push("an alarm that warns when it stops".to_owned());
    }
    if let Some(wiring) = system.wiring.known() {
        let how = wiring.connection.known().map(|how| how.spelling().to_owned());
        let number = wiring.circuit.known().and_then(|circuit| text(&circuit.number));
        let circuit = number.map(|number| format!("circuit {number}"));
        let said: Vec<String> = how.into_iter().chain(circuit).collect();
        if !said.is_empty() {
            lines.push(format!("power: {}", said.join(", ")));
        }
    }
    lines
}

/// How many runs there are of each size, that of most runs first: `3 runs of 4 in`.
fn runs_by_size(system: &System, pipe: &Pipe) -> Vec<String> {
    let mut sizes: Vec<(&str, usize)> = Vec::new();
    for (_, run) in system.runs.things() {
        let own = run.size.known().or(pipe.size.known());
        let size = own.map_or("a size that is not stated", |size| size.spelling());
        match sizes.iter_mut().find(|(known, _)| *known == size) {
            Some((_, runs)) => *runs += 1,
            None => sizes.push((size, 1)),
        }
    }
    sizes.sort_by_key(|(_, runs)| std::cmp::Reverse(*runs));
    sizes.into_iter().map(|(size, runs)| format!("{} of {size}", count(runs, "run", "runs"))).collect()
}

/// A suction point in a few words.
pub(super) fn suction(name: &str, point: &SuctionPoint) -> String {
    let kind = point.kind.known().map_or("kind not stated", |kind| kind.spelling());
    let place = point.space.known().map(|space| format!(" in the {}", spoken(space.as_str())));
    format!("suction point {}: {kind}{}", spoken(name), place.unwrap_or_default())
}

fn fan(fan: &Fan) -> String {
    let place = fan.space.known().map(|space| match space.as_str() {
        "outdoors" => " outdoors".to_owned(),
        space => format!(" in the {}", spoken(space)),
    });
    let model = text(&fan.model).map(|model| format!(", {model}"));
    format!("fan{}{}", place.unwrap_or_default(), model.unwrap_or_default())
}

fn discharge(discharge: &Discharge, design: &Design) -> String {
    let roof = discharge.above_roof.known().map(|above| format!("{} above the roof", above.quantity));
    let height = discharge.height.known().and_then(|height| height.z.known());
    let from = text(&design.site.origin);
    let from =
        from.map_or_else(|| "where heights are measured from".to_owned(), |from| format!("the {from}"));
    let height = height.map(|height| format!("{} above {from}", height.quantity));
    let direction =
        discharge.direction.known().map(|direction| format!("the air goes {}", direction.spelling()));
    let said: Vec<String> = [height, roof, direction].into_iter().flatten().collect();
    if said.is_empty() { "discharge".to_owned() } else { format!("discharge: {}", said.join(", ")) }
}
