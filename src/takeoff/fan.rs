//! The fan with what couples it, the outlet, and what an electrician brings.

use crate::design::model::controls::AlarmPower;
use crate::design::model::fan::{Fan, Mount};
use crate::design::model::pipe::FittingKind;
use crate::design::model::systems::System;
use crate::design::model::wiring::{Connection, DisconnectKind};
use crate::yaml::words::Words;

use super::desk::{Desk, want};
use super::pipe::Laid;
use super::{Group, Line};

/// Counts what goes with fans and outlets.
pub(super) fn fans(desk: &mut Desk<'_, '_>, laid: &[Laid<'_>]) {
    let systems: Vec<_> = desk.design.systems.things().enumerate().collect();
    for (owner, (name, system)) in systems {
        let own: Vec<&Laid<'_>> = laid.iter().filter(|run| run.system == owner).collect();
        match system.fan.known() {
            Some(fan) => {
                the_fan(desk, name, fan, &own);
                wiring(desk, name, system);
            }
            None if !system.fan.is_none() => {
                desk.lacks(Group::Fan, format!("the fan of {name}"), want(&system.fan, &system.here, None));
            }
            None => {}
        }
        outlet(desk, name, system, &own);
    }
}

fn the_fan(desk: &mut Desk<'_, '_>, name: &str, fan: &Fan, own: &[&Laid<'_>]) {
    let called = desk.called("fan", name);
    let mut size = Vec::new();
    if let Some(model) = fan.model.known() {
        size.push(model.as_str().to_owned());
    }
    let most = fan.curve.members().find(|point| {
        point.flow.known().is_some_and(|flow| flow.number() == crate::base::number::Number::whole(0))
    });
    let no_flow = fan.shut_off.known().or(most.and_then(|point| point.pressure.known()));
    if let Some(suction) = no_flow {
        size.push(format!("one that pulls {} at no flow", suction.quantity));
    }
    if let Some(place) = fan.space.known() {
        size.push(format!("for {}", super::desk::spoken(place.as_str())));
    }
    if let Some(voltage) = fan.voltage.known() {
        size.push(voltage.quantity.to_string());
    }
    desk.add(Line::of(Group::Fan, "fan", size.join(", ")).count(1, called.clone(), &fan.here));
    let at_fan = |run: &&&Laid<'_>| {
        let at = |end: Option<&str>| end == Some("fan");
        at(run.run.from.known().map(|from| from.as_str())) || at(run.run.to.known().map(|to| to.as_str()))
    };
    match fan.couplings.known() {
        Some(kind) => {
            let ends: Vec<&&Laid<'_>> = own.iter().filter(at_fan).take(2).collect();
            for run in &ends {
                let line = Line::of(Group::Fan, kind.spelling(), run.pipe());
                desk.add(line.count(1, format!("{called} to {}", run.name), &fan.here));
            }
            let left = 2_u32.saturating_sub(u32::try_from(ends.len()).unwrap_or(2));
            desk.add(Line::of(Group::Fan, kind.spelling(), "").count(left, called.clone(), &fan.here));
        }
        None if !fan.couplings.is_none() => {
            let what = format!("the two couplings of {called}");
            desk.lacks(Group::Fan, what, want(&fan.couplings, &fan.here, None));
        }
        None => {}
    }
    if fan.condensate_bypass.known() == Some(&true) {
        desk.add(Line::of(Group::Fan, FittingKind::CondensateBypass.spelling(), "").count(
            1,
            called.clone(),
            &fan.here,
        ));
    }
    match fan.mount.known() {
        Some(Mount::Bracket) => {
            desk.add(Line::of(Group::Fan, "bracket for the fan", "").count(1, called.clone(), &fan.here));
        }
        Some(Mount::Hung) => {
            desk.add(Line::of(Group::Fan, "hanger set for the fan", "").count(1, called.clone(), &fan.here));
        }
        Some(Mount::Pad) => {
            desk.add(Line::of(Group::Fan, "pad under the fan", "").count(1, called.clone(), &fan.here));
        }
        Some(Mount::OnPipe) | None => {}
    }
    if let Some(enclosure) = fan.enclosure.known() {
        let line = Line::of(Group::Fan, "enclosure of the fan", "").count(1, called, &enclosure.here);
        desk.add(line.note("A closet or shaft that is there already needs none."));
    }
}

fn outlet(desk: &mut Desk<'_, '_>, name: &str, system: &System, own: &[&Laid<'_>]) {
    let Some(discharge) = system.discharge.known() else { return };
    let called = desk.called("outlet", name);
    let at = |end: Option<&str>| end == Some("discharge");
    let last = own.iter().find(|run| {
        at(run.run.to.known().map(|to| to.as_str())) || at(run.run.from.known().map(|from| from.as_str()))
    });
    let size = last.map_or(String::new(), |run| run.pipe());
    if let Some(screen) = discharge.screen.known() {
        let mesh = screen.mesh.known().map(|mesh| format!("mesh of {}", mesh.quantity));
        let size = [Some(size.clone()).filter(|size| !size.is_empty()), mesh].into_iter().flatten();
        let size = size.collect::<Vec<_>>().join(", ");
        desk.add(Line::of(Group::Fan, "screen", size).count(1, called.clone(), &screen.here));
    }
    if let Some(cap) = discharge.cap.known() {
        desk.add(Line::of(Group::Fan, cap.spelling(), size).count(1, called, &discharge.here));
    }
}

fn wiring(desk: &mut Desk<'_, '_>, name: &str, system: &System) {
    let group = Group::Electrician;
    let called = desk.called("fan", name);
    let Some(wiring) = system.wiring.known() else {
        if !system.wiring.is_none() {
            let missing = want(&system.wiring, &system.here, Some("disconnect"));
            desk.lacks(group, format!("the disconnect of {called}"), missing);
        }
        return;
    };
    match wiring.disconnect.known() {
        Some(disconnect) => {
            let what = match disconnect.kind.known() {
                Some(DisconnectKind::Switch) | None => "disconnect switch",
                Some(DisconnectKind::LockableBreaker) => "breaker that locks open",
                Some(DisconnectKind::Plug | DisconnectKind::Breaker) => "",
            };
            let outdoors = if disconnect.weatherproof.known() == Some(&true) { "weatherproof" } else { "" };
            if !what.is_empty() {
                let line = Line::of(group, what, outdoors).count(1, called.clone(), &disconnect.here);
                desk.add(line);
            }
        }
        None if !wiring.disconnect.is_none()
            && wiring.connection.known() != Some(&Connection::CordAndPlug) =>
        {
            let what = format!("the disconnect of {called}");
            desk.lacks(group, what, want(&wiring.disconnect, &wiring.here, None));
        }
        None => {}
    }
    if let Some(cord) = wiring.cord.known() {
        let size = cord.length.known().map_or(String::new(), |length| length.quantity.to_string());
        let line = Line::of(group, "cord with plug", size).count(1, called.clone(), &cord.here);
        desk.add(line.note("Usually comes on the fan."));
    }
    if let Some(receptacle) = wiring.receptacle.known() {
        let space =
            receptacle.space.known().map(|space| format!("in {}", super::desk::spoken(space.as_str())));
        let line =
            Line::of(group, "receptacle", space.unwrap_or_default()).count(1, called, &receptacle.here);
        desk.add(line.note("Not needed where there is one already."));
    }
    let powered = system.alarm.known().and_then(|alarm| alarm.power.known());
    if let Some(AlarmPower::OtherCircuit | AlarmPower::OtherCircuitAndBattery) = powered
        && let Some(alarm) = system.alarm.known()
    {
        let alarmed = desk.called("alarm", name);
        let line =
            Line::of(group, "supply from another circuit", "for the alarm").count(1, alarmed, &alarm.here);
        desk.add(line);
    }
}
