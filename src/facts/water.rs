//! Facts of sumps, drains and joints: where water goes and soil gas may come.

use crate::base::number::{Dimension, Number};
use crate::base::value::{Answer, Listed};
use crate::base::vocabulary::Thing;
use crate::design::model::drainage::{Drain, DrainGuard, DrainKind, Lid, PumpKind, Sump, WaterGoes};
use crate::design::model::foundation::{Joint, JointKind};
use crate::design::model::membrane::ClosedBy;
use crate::yaml::entry::Entry;

use super::ask::{Ask, word_id};
use super::catalogue::{Fact, Get, words};
use super::foundation::AREA_SPACE;
use super::kinds::Kind;
use super::statements::settle;
use super::things::{of, space_or_area, thing};

fn sump<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Sump) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.sumps, get)
}

fn drain<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Drain) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.drains, get)
}

fn joint<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Joint) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.joints, get)
}

fn drain_to_soil(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    drain(ask, it, |ask, drain| {
        ask.value(&drain.here, &drain.to)
            .map(|to| matches!(to, WaterGoes::Soil | WaterGoes::DryWell | WaterGoes::DrainLoop))
    })
}

fn sump_pumps(ask: &mut Ask<'_>, it: Thing) -> Answer<Listed<Thing>> {
    sump(ask, it, |ask, sump| {
        let pump = thing(Kind::SumpPump, it.number);
        ask.read(&sump.here, &sump.pump).map(|kind| Listed::closed(kind.map(|_| pump).into_iter().collect()))
    })
}

fn lid_truth<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    key: &'static str,
    get: impl FnOnce(&'d Lid) -> &'d Entry<bool>,
) -> Answer<bool> {
    sump(ask, it, |ask, sump| ask.yes_or_no_inside(&sump.here, &sump.lid, key, |lid| (&lid.here, get(lid))))
}

/// Facts of sumps and their pumps.
pub(super) const SUMPS: &[Fact] = &[
    Fact::stated(
        Kind::Sump,
        "in",
        "The space in which the sump is.",
        &[&["foundation.sumps.*.in"], AREA_SPACE],
        Get::One(Kind::Space, |ask, it| sump(ask, it, |ask, s| space_or_area(ask, &s.here, &s.space))),
    ),
    Fact::stated(
        Kind::Sump,
        "open_to_soil",
        "Whether soil gas can come into the sump from the soil or from a drain loop.",
        &[&["foundation.sumps.*.open_to_soil"]],
        Get::Truth(|ask, it| sump(ask, it, |ask, s| ask.yes_or_no(&s.here, &s.open_to_soil))),
    ),
    Fact::stated(
        Kind::Sump,
        "suction",
        "Whether a system draws through the sump: a suction point names it.",
        &[&[
            "systems",
            "systems.*.suction_points",
            "systems.*.suction_points.*.kind",
            "systems.*.suction_points.*.sump",
        ]],
        Get::Truth(super::suction::draws_on_sump),
    ),
    Fact::stated(
        Kind::Sump,
        "lid",
        "Whether the sump has a lid.",
        &[&["foundation.sumps.*.lid"]],
        Get::Truth(|ask, it| sump(ask, it, |ask, s| ask.is_there(&s.here, &s.lid))),
    ),
    Fact::stated(
        Kind::Sump,
        "lid_sealed",
        "Whether the sump has a lid that is sealed airtight.",
        &[&["foundation.sumps.*.lid.sealed"]],
        Get::Truth(|ask, it| lid_truth(ask, it, "sealed", |lid| &lid.sealed)),
    ),
    Fact::stated(
        Kind::Sump,
        "lid_rigid",
        "Whether the sump has a lid that is rigid and durable.",
        &[&["foundation.sumps.*.lid.rigid"]],
        Get::Truth(|ask, it| lid_truth(ask, it, "rigid", |lid| &lid.rigid)),
    ),
    Fact::stated(
        Kind::Sump,
        "lid_removable",
        "Whether the lid of the sump can be taken off without breaking the seal for good.",
        &[&["foundation.sumps.*.lid.removable"]],
        Get::Truth(|ask, it| lid_truth(ask, it, "removable", |lid| &lid.removable)),
    ),
    Fact::stated(
        Kind::Sump,
        "lid_view_port",
        "Whether one can see through the lid of the sump or through a window in it.",
        &[&["foundation.sumps.*.lid.view_port"]],
        Get::Truth(|ask, it| lid_truth(ask, it, "view_port", |lid| &lid.view_port)),
    ),
    Fact::stated(
        Kind::Sump,
        "lid_penetrations_sealed",
        "Whether cables and pipes through the lid of the sump are sealed.",
        &[&["foundation.sumps.*.lid.penetrations_sealed"]],
        Get::Truth(|ask, it| lid_truth(ask, it, "penetrations_sealed", |lid| &lid.penetrations_sealed)),
    ),
    Fact::stated(
        Kind::Sump,
        "lid_trapped",
        "Whether a trap or valve in the lid of the sump lets floor water in and holds air back.",
        &[&["foundation.sumps.*.lid.floor_inlet"]],
        Get::Truth(|ask, it| {
            sump(ask, it, |ask, s| {
                ask.read_inside(&s.here, &s.lid, "floor_inlet", |lid| (&lid.here, &lid.floor_inlet))
                    .map(|guard| guard.is_some_and(|guard| *guard != DrainGuard::Plug))
            })
        }),
    ),
    Fact::stated(
        Kind::Sump,
        "lid_inlet",
        "What holds air back in the inlet of the lid of the sump.",
        &[&["foundation.sumps.*.lid.floor_inlet"]],
        Get::Word(words::<DrainGuard>, |ask, it| {
            sump(ask, it, |ask, s| {
                ask.value_inside(&s.here, &s.lid, "floor_inlet", |lid| (&lid.here, &lid.floor_inlet))
                    .map(|word| word_id(*word))
            })
        }),
    ),
    Fact::stated(
        Kind::Sump,
        "takes_surface_water",
        "Whether the sump also takes water from the floor.",
        &[&["foundation.sumps.*.takes_floor_water"]],
        Get::Truth(|ask, it| sump(ask, it, |ask, s| ask.yes_or_no(&s.here, &s.takes_floor_water))),
    ),
    Fact::stated(
        Kind::Sump,
        "pipe_detachable",
        "Whether a flexible coupling lets the suction pipe be taken off the sump.",
        &[&["foundation.sumps.*.pipe_detachable"]],
        Get::Truth(|ask, it| sump(ask, it, |ask, s| ask.yes_or_no(&s.here, &s.pipe_detachable))),
    ),
    Fact::stated(
        Kind::Sump,
        "lid_fastened",
        "Whether the sump has a lid that bolts or screws hold.",
        &[&["foundation.sumps.*.lid.fastened"]],
        Get::Truth(|ask, it| lid_truth(ask, it, "fastened", |lid| &lid.fastened)),
    ),
    Fact::stated(
        Kind::Sump,
        "lid_sealed_with",
        "What the lid of the sump is sealed with.",
        &[&["foundation.sumps.*.lid.sealed_with"]],
        Get::Word(words::<ClosedBy>, |ask, it| {
            sump(ask, it, |ask, s| {
                ask.value_inside(&s.here, &s.lid, "sealed_with", |lid| (&lid.here, &lid.sealed_with))
                    .map(|word| word_id(*word))
            })
        }),
    ),
    Fact::stated(
        Kind::Sump,
        "basin_sealed",
        "Whether the joint between the basin of the sump and the floor is closed.",
        &[&["foundation.sumps.*.basin_sealed"]],
        Get::Truth(|ask, it| sump(ask, it, |ask, s| ask.yes_or_no(&s.here, &s.basin_sealed))),
    ),
    Fact::stated(
        Kind::Sump,
        "check_valve",
        "Whether a valve keeps water and air from coming back through the pump's pipe.",
        &[&["foundation.sumps.*.check_valve"]],
        Get::Truth(|ask, it| sump(ask, it, |ask, s| ask.yes_or_no(&s.here, &s.check_valve))),
    ),
    Fact::stated(
        Kind::Sump,
        "pump_pipe_flexible",
        "Whether the pump's pipe is flexible.",
        &[&["foundation.sumps.*.pump_pipe_flexible"]],
        Get::Truth(|ask, it| sump(ask, it, |ask, s| ask.yes_or_no(&s.here, &s.pump_pipe_flexible))),
    ),
    Fact::stated(
        Kind::Sump,
        "still_pumps",
        "Whether the sump still pumps with the system built.",
        &[&["foundation.sumps.*.still_pumps"]],
        Get::Truth(|ask, it| sump(ask, it, |ask, s| ask.yes_or_no(&s.here, &s.still_pumps))),
    ),
    Fact::stated(
        Kind::Sump,
        "pumps",
        "The pump in the sump: none or one.",
        &[&["foundation.sumps.*.pump"]],
        Get::Things(Kind::SumpPump, sump_pumps),
    ),
    Fact::stated(
        Kind::SumpPump,
        "submersible",
        "Whether the motor of the pump is under water.",
        &[&["foundation.sumps.*.pump"]],
        Get::Truth(|ask, it| {
            let of_sump = thing(Kind::Sump, it.number);
            sump(ask, of_sump, |ask, s| {
                ask.value(&s.here, &s.pump).map(|pump| *pump == PumpKind::Submersible)
            })
        }),
    ),
];

/// Facts of drains.
pub(super) const DRAINS: &[Fact] = &[
    Fact::stated(
        Kind::Drain,
        "kind",
        "What the drain is.",
        &[&["foundation.drains.*.kind"]],
        Get::Word(words::<DrainKind>, |ask, it| drain(ask, it, |ask, d| ask.stated_word(&d.here, &d.kind))),
    ),
    Fact::stated(
        Kind::Drain,
        "in",
        "The space in which the drain is.",
        &[&["foundation.drains.*.in"], AREA_SPACE],
        Get::One(Kind::Space, |ask, it| drain(ask, it, |ask, d| space_or_area(ask, &d.here, &d.space))),
    ),
    Fact::stated(
        Kind::Drain,
        "goes",
        "Where the water of the drain goes.",
        &[&["foundation.drains.*.to"]],
        Get::Word(words::<WaterGoes>, |ask, it| drain(ask, it, |ask, d| ask.stated_word(&d.here, &d.to))),
    ),
    Fact::stated(
        Kind::Drain,
        "to_soil",
        "Whether the drain ends in the soil, a dry well or a drain loop.",
        &[&["foundation.drains.*.to"]],
        Get::Truth(drain_to_soil),
    ),
    Fact::stated(
        Kind::Drain,
        "trapped",
        "Whether a trap or another device keeps soil gas from coming up the drain.",
        &[&["foundation.drains.*.guard"]],
        Get::Truth(|ask, it| drain(ask, it, |ask, d| ask.is_there(&d.here, &d.guard))),
    ),
    Fact::stated(
        Kind::Drain,
        "guard",
        "What keeps soil gas from coming up the drain.",
        &[&["foundation.drains.*.guard"]],
        Get::Word(words::<DrainGuard>, |ask, it| drain(ask, it, |ask, d| ask.stated_word(&d.here, &d.guard))),
    ),
    Fact::stated(
        Kind::Drain,
        "trap_seal",
        "How deep the water stands in the trap of the drain; nothing where there is no trap.",
        &[&["foundation.drains.*.guard", "foundation.drains.*.trap_depth"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            drain(ask, it, |ask, d| {
                let depth = ask.quantity(&d.here, &d.trap_depth);
                if !d.guard.is_none() {
                    return depth;
                }
                let nothing = ask.read(&d.here, &d.guard).map(|_| Number::whole(0));
                match depth {
                    Answer::Unknown(_) if d.trap_depth.is_missing() => nothing,
                    depth => {
                        let found = vec![
                            ask.statement(d.guard.want(&d.here), |_| nothing),
                            ask.statement(d.trap_depth.want(&d.here), |_| depth),
                        ];
                        let what =
                            |ask: &Ask<'_>| format!("the water in the trap of {}", ask.things().name(it));
                        settle(ask, what, Dimension::LENGTH, found, || d.trap_depth.want(&d.here))
                    }
                }
            })
        }),
    ),
    Fact::stated(
        Kind::Drain,
        "solid_pipe",
        "Whether the pipe of the drain is without holes all the way.",
        &[&["foundation.drains.*.solid_pipe"]],
        Get::Truth(|ask, it| drain(ask, it, |ask, d| ask.yes_or_no(&d.here, &d.solid_pipe))),
    ),
    Fact::stated(
        Kind::Drain,
        "still_drains",
        "Whether the drain still drains with the system built.",
        &[&["foundation.drains.*.still_drains"]],
        Get::Truth(|ask, it| drain(ask, it, |ask, d| ask.yes_or_no(&d.here, &d.still_drains))),
    ),
];

/// Facts of joints, cracks and holes.
pub(super) const JOINTS: &[Fact] = &[
    Fact::stated(
        Kind::Joint,
        "kind",
        "What the joint is.",
        &[&["foundation.joints.*.kind"]],
        Get::Word(words::<JointKind>, |ask, it| joint(ask, it, |ask, j| ask.stated_word(&j.here, &j.kind))),
    ),
    Fact::stated(
        Kind::Joint,
        "in",
        "The space in which the joint is.",
        &[&["foundation.joints.*.in"], AREA_SPACE],
        Get::One(Kind::Space, |ask, it| joint(ask, it, |ask, j| space_or_area(ask, &j.here, &j.space))),
    ),
    Fact::stated(
        Kind::Joint,
        "width",
        "How wide the joint is.",
        &[&["foundation.joints.*.width"]],
        Get::Number(Dimension::LENGTH, |ask, it| joint(ask, it, |ask, j| ask.quantity(&j.here, &j.width))),
    ),
    Fact::stated(
        Kind::Joint,
        "reachable",
        "Whether the joint can be reached.",
        &[&["foundation.joints.*.reachable"]],
        Get::Truth(|ask, it| joint(ask, it, |ask, j| ask.yes_or_no(&j.here, &j.reachable))),
    ),
    Fact::stated(
        Kind::Joint,
        "sealed",
        "Whether the joint is closed, or is to be.",
        &[&["foundation.joints.*.closed"]],
        Get::Truth(|ask, it| joint(ask, it, |ask, j| ask.yes_or_no(&j.here, &j.closed))),
    ),
    Fact::stated(
        Kind::Joint,
        "sealant",
        "What the joint is closed with.",
        &[&["foundation.joints.*.closed_with"]],
        Get::Word(words::<ClosedBy>, |ask, it| {
            joint(ask, it, |ask, j| ask.stated_word(&j.here, &j.closed_with))
        }),
    ),
    Fact::stated(
        Kind::Joint,
        "backed",
        "Whether a backer was put into the joint before the sealant.",
        &[&["foundation.joints.*.backer"]],
        Get::Truth(|ask, it| joint(ask, it, |ask, j| ask.yes_or_no(&j.here, &j.backer))),
    ),
    Fact::stated(
        Kind::Joint,
        "depth",
        "How deep the sealant or fill of the joint is.",
        &[&["foundation.joints.*.depth"]],
        Get::Number(Dimension::LENGTH, |ask, it| joint(ask, it, |ask, j| ask.quantity(&j.here, &j.depth))),
    ),
    Fact::stated(
        Kind::Joint,
        "stretch_class",
        "How far the sealant of the joint can stretch, as a class of the standard for sealants.",
        &[&["foundation.joints.*.stretch_class"]],
        Get::Number(Dimension::ONE, |ask, it| {
            joint(ask, it, |ask, j| {
                ask.value(&j.here, &j.stretch_class).map(|class| Number::whole(i64::from(class.0)))
            })
        }),
    ),
    Fact::stated(
        Kind::Joint,
        "hot",
        "Whether a flue or hot pipe passes the joint.",
        &[&["foundation.joints.*.hot"]],
        Get::Truth(|ask, it| joint(ask, it, |ask, j| ask.yes_or_no(&j.here, &j.hot))),
    ),
    Fact::stated(
        Kind::Joint,
        "drains",
        "Whether the joint has to go on draining water.",
        &[&["foundation.joints.*.drains"]],
        Get::Truth(|ask, it| joint(ask, it, |ask, j| ask.yes_or_no(&j.here, &j.drains))),
    ),
    Fact::stated(
        Kind::Joint,
        "owner_told",
        "Whether the owner was told of a joint that cannot be closed.",
        &[&["foundation.joints.*.owner_told"]],
        Get::Truth(|ask, it| joint(ask, it, |ask, j| ask.yes_or_no(&j.here, &j.owner_told))),
    ),
];
