//! Sumps and drains: lids, what seals them, guards against air.

use crate::base::number::{Number, Ratio};
use crate::design::model::drainage::{Drain, DrainGuard, Lid, Sump};
use crate::design::model::membrane::ClosedBy;
use crate::yaml::words::Words;

use super::desk::{Desk, most, spoken, want};
use super::sealing::{Opening, along};
use super::{Group, Line};

pub(super) const THERE: &str =
    "Counted whether or not it is there already: the file does not tell what is new.";

/// Counts what sumps, drains and drain loops take.
pub(super) fn water(desk: &mut Desk<'_, '_>) {
    let foundation = &desk.design.foundation;
    let sumps: Vec<(&str, &Sump)> = foundation.sumps.things().collect();
    for (name, sump) in sumps {
        of_sump(desk, &spoken(name), sump);
    }
    let drains: Vec<(&str, &Drain)> = foundation.drains.things().collect();
    for (name, drain) in drains {
        let size = drain.size.known().map_or("", |size| size.spelling());
        let line = guard(drain.guard.known(), size, false);
        if let Some(line) = line {
            desk.add(line.count(1, spoken(name), &drain.here).note(THERE));
        }
    }
    let loops: Vec<_> = foundation.drain_loops.things().collect();
    for (name, one) in loops {
        for (outlet, record) in one.outlets.things() {
            let size = one.size.known().map_or("", |size| size.spelling());
            if let Some(line) = guard(record.guard.known(), size, false) {
                let what = format!("{}, outlet {}", spoken(name), spoken(outlet));
                desk.add(line.count(1, what, &record.here).note(THERE));
            }
        }
    }
}

/// What guards a drain; a trap of a drain is part of it, that of a lid is not.
fn guard(guard: Option<&DrainGuard>, size: &str, of_lid: bool) -> Option<Line> {
    let part = match guard? {
        DrainGuard::WaterTrap if of_lid => "trapped inlet for a sump lid",
        DrainGuard::WaterTrap => return None,
        DrainGuard::PrimedTrap if of_lid => "inlet for a sump lid, with a trap that is filled by itself",
        DrainGuard::PrimedTrap => "trap primer",
        DrainGuard::OneWay => "one-way device for a drain",
        DrainGuard::Plug => "gasketed drain plug",
    };
    Some(Line::of(Group::Water, part, size))
}

fn of_sump(desk: &mut Desk<'_, '_>, name: &str, sump: &Sump) {
    if let Some(lid) = sump.lid.known() {
        the_lid(desk, name, sump, lid);
    } else if !sump.lid.is_none() {
        desk.lacks(Group::Water, format!("the lid of {name}"), want(&sump.lid, &sump.here, None));
    }
    if sump.check_valve.known() == Some(&true) {
        let size = sump.pump_pipe.known().map_or("", |size| size.spelling());
        let line = Line::of(Group::Water, "check valve for the pump's pipe", size);
        desk.add(line.count(1, name, &sump.here).note(THERE));
    }
}

fn the_lid(desk: &mut Desk<'_, '_>, name: &str, sump: &Sump, lid: &Lid) {
    let mut size: Vec<String> = Vec::new();
    if let Some(width) = sump.width.known() {
        size.push(format!("for a sump {} wide", width.quantity));
    } else if !sump.width.is_none() {
        desk.lacks(
            Group::Water,
            format!("the size of the lid of {name}"),
            want(&sump.width, &sump.here, None),
        );
    }
    if let Some(material) = lid.material.known() {
        size.push(material.as_str().to_owned());
    }
    if lid.view_port.known() == Some(&true) {
        size.push("one can see through".to_owned());
    }
    let mut line = Line::of(Group::Water, "sump lid", size.join(", ")).count(1, name, &lid.here).note(THERE);
    if lid.fastened.known() == Some(&true) {
        line = line.note("With its bolts or screws.");
    }
    if lid.penetrations_sealed.known() == Some(&true) {
        line = line.note("With grommets for the pump's cable and pipe.");
    }
    desk.add(line);
    if let Some(line) = guard(lid.floor_inlet.known(), "", true) {
        desk.add(line.count(1, name, &lid.here).note(THERE));
    }
    let Some(with) = lid.sealed_with.known().copied() else {
        if lid.sealed.known() == Some(&true) && !lid.sealed_with.is_none() {
            let what = format!("what seals the lid of {name}");
            desk.lacks(Group::Sealing, what, want(&lid.sealed_with, &lid.here, None));
        }
        return;
    };
    let edge = sump.width.known().map(|width| most(&width.number()) * Number::pi().high());
    if with == ClosedBy::Gasket {
        let line = Line::of(Group::Water, "gasket for a sump lid", "");
        desk.add(match edge {
            Some(edge) => line.length(&edge, name, &lid.here).assumes("the sump is round"),
            None => line.count(1, name, &lid.here),
        });
        return;
    }
    let what = format!("the lid of {name}");
    match edge {
        Some(edge) => along(desk, Opening { what, here: &lid.here, with }, &round_up(&edge)),
        None => desk.lacks(Group::Sealing, format!("what seals {what}"), want(&sump.width, &sump.here, None)),
    }
}

fn round_up(length: &Ratio) -> Ratio {
    super::usual::to_the_eighth(&Number::exact(length.clone()))
}
