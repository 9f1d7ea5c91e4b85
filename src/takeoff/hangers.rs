//! Hangers by their spacing or their places, and valves.

use crate::base::number::Ratio;
use crate::design::model::pipe::{FixedTo, Hangers};
use crate::design::overlay;
use crate::yaml::words::Words;

use super::desk::{Desk, want};
use super::pipe::Laid;
use super::{Group, Line};

/// Counts hangers and valves of all runs.
pub(super) fn hangers(desk: &mut Desk<'_, '_>, laid: &[Laid<'_>]) {
    for run in laid {
        held(desk, run);
        valve(desk, run);
    }
    let systems: Vec<_> = desk.design.systems.things().collect();
    for (name, system) in systems {
        let Some(support) = system.discharge.known().and_then(|discharge| discharge.support.known()) else {
            continue;
        };
        let part = support.kind.known().map_or("support", |kind| kind.spelling());
        let what = desk.called("outlet", name);
        desk.add(Line::of(Group::Hangers, part, "for the pipe near the outlet").count(
            1,
            what,
            &support.here,
        ));
    }
}

fn held(desk: &mut Desk<'_, '_>, run: &Laid<'_>) {
    if run.run.hangers.is_none() {
        return;
    }
    let what = format!("the hangers of {}", run.name);
    let layers = overlay::hangers(&run.run.hangers, desk.shop);
    let places = layers.entry(|hangers: &Hangers| &hangers.places);
    let spacing = layers.entry(|hangers: &Hangers| &hangers.spacing);
    let (count, assumed) = if let Some(places) = places.over.and_then(|entry| entry.known()) {
        (u32::try_from(places.items.len()).unwrap_or(u32::MAX), None)
    } else {
        let Some(stated) = spacing.known() else {
            let missing = match run.run.hangers.known() {
                Some(hangers) => want(&hangers.spacing, &hangers.here, None),
                None => want(&run.run.hangers, &run.run.here, Some("spacing")),
            };
            desk.lacks(Group::Hangers, what, missing);
            return;
        };
        let Some(length) = &run.length else {
            desk.lacks(Group::Hangers, what, vec![run.run.length.want(&run.run.here)]);
            return;
        };
        let apart = stated.number().low();
        let Some(count) = begun(length, &apart) else { return };
        let from = if spacing.is_from_shop() { "; the spacing is the shop's" } else { "" };
        let said = format!("one hanger for each spacing that begins, and at least one to a run{from}");
        (count, Some(said))
    };
    let own = layers.entry(|hangers: &Hangers| &hangers.kind);
    let part = own.known().map_or("hanger", |kind| kind.spelling());
    let size = run.size.map_or_else(|| "pipe".to_owned(), |size| format!("{} pipe", size.spelling()));
    let at = run.run.hangers.known().map_or(&run.run.here, |hangers| &hangers.here);
    let mut line = Line::of(Group::Hangers, part, format!("for {size}")).count(
        count * run.abreast,
        run.name.clone(),
        at,
    );
    line.assumed.extend(assumed);
    let fixed = layers.entry(|hangers: &Hangers| &hangers.fixed_to).known().copied();
    if own.known().is_none() {
        line = line
            .note("Hangers: of which kind is not stated; take screws or anchors for what they are fixed to.");
    }
    if let Some(other) = fixed.filter(|fixed| *fixed != FixedTo::Building) {
        line = line.note(format!("{}: fixed to {}", run.name, other.spelling()));
    }
    desk.add(line);
}

fn valve(desk: &mut Desk<'_, '_>, run: &Laid<'_>) {
    let Some(valve) = run.run.valve.known() else { return };
    let (part, kind) = match valve.kind.known() {
        Some(kind) => (format!("{} valve", kind.spelling()), true),
        None => ("valve".to_owned(), false),
    };
    let part = part.replace("damper valve", "damper");
    let mut line =
        Line::of(Group::Hangers, part, run.pipe()).count(run.abreast, run.name.clone(), &valve.here);
    if !kind {
        line = line.note("Valve: of which kind is not stated.");
    }
    desk.add(line);
}

/// How many times a spacing begins within a length.
pub(super) fn begun(length: &Ratio, apart: &Ratio) -> Option<u32> {
    let count = length.checked_div(apart)?.ceil().to_int()?;
    u32::try_from(count.max(1)).ok()
}
