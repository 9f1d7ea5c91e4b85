//! Facts of the foundation: areas, membranes, sumps, drains, joints.

use crate::base::number::quantity::Size as Sides;
use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Listed};
use crate::base::vocabulary::Thing;
use crate::design::model::foundation::{
    Area, AreaKind, Drain, DrainGuard, DrainKind, FillKind, Joint, JointKind, Probe, Sump, WaterGoes,
};
use crate::design::model::membrane::{ClosedBy, HeldBy, Membrane, RetarderClass, Seams};
use crate::yaml::shape::Size;

use super::ask::{Ask, word_id};
use super::catalogue::{Entries, Fact, Get, words};
use super::join::{agree, agree_numbers};
use super::kinds::Kind;
use super::outlines;
use super::things::{of, space_or_area};

const AREA_SPACE: Entries = &["foundation.areas.*.in", "building.spaces"];
const AREA_SIZE: Entries = &["foundation.areas.*.size", "foundation.areas.*.outline"];

fn area<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Area) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.areas, get)
}

/// The area over which a membrane lies, and the membrane.
fn membrane<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Membrane, &'d Area) -> Answer<R>,
) -> Answer<R> {
    of(
        ask,
        it,
        |things| &things.membranes,
        |ask, area: &'d Area| match area.membrane.known() {
            Some(membrane) => get(ask, membrane, area),
            None => Answer::missing(area.membrane.want(&area.here)),
        },
    )
}

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

fn area_space(ask: &mut Ask<'_>, it: Thing) -> Answer<Thing> {
    let name = ask.things().name(it);
    area(ask, it, |ask, area| {
        if area.space.is_missing()
            && let Some(space) = ask.things().space_named(&name)
        {
            return Answer::known(space);
        }
        let want = area.space.want(&area.here);
        ask.value(&area.here, &area.space).then(|space| ask.space_called(want, space.as_str()))
    })
}

fn sides(size: &Sides) -> Number {
    &size.first.number * &size.second.number
}

/// # Meaning
/// The floor that an area takes up, in plan, inside its walls.
/// # Formula
/// Length times width; for an L, the two rectangles together; for an outline, the surveyor's formula.
/// # Valid for
/// Sizes and outlines that can be read. An outline that crosses itself has no area.
/// # Accuracy
/// Exact for what is stated exactly.
/// # Source
/// Elementary geometry.
/// # Errors
/// Unknown when neither size nor outline is stated; in doubt between the two when they differ.
/// # Example
/// `L of 40 ft x 24 ft and 16 ft x 20 ft` is 1280 sq ft.
fn area_size(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    area(ask, it, |ask, area| {
        let size = ask.value(&area.here, &area.size).map(|size| match size {
            Size::Rectangle(one) => sides(one),
            Size::L(one, other) => &sides(one) + &sides(other),
        });
        if area.outline.is_missing() {
            return size;
        }
        let outline =
            outlines::outline(ask, &area.here, &area.outline).map(|outline| Number::exact(outline.area()));
        let of = [area.size.want(&area.here), area.outline.want(&area.here)];
        agree_numbers(size, outline, &of, &Ratio::ZERO)
    })
}

fn seams_sealed(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    membrane(ask, it, |ask, membrane, _| {
        ask.value(&membrane.here, &membrane.seams).map(|seams| *seams != Seams::Loose)
    })
}

fn has_piers(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    membrane(ask, it, |ask, membrane, area| {
        let counted = ask.read(&area.here, &area.piers).map(|count| count.is_some_and(|count| count.0 > 0));
        if membrane.piers.is_missing() {
            return counted;
        }
        let met = ask.is_there(&membrane.here, &membrane.piers);
        agree(counted, met, &[area.piers.want(&area.here), membrane.piers.want(&membrane.here)])
    })
}

fn lap(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    membrane(ask, it, |ask, membrane, _| {
        ask.value(&membrane.here, &membrane.lap).map(|lap| lap.measure.number())
    })
}

fn drain_to_soil(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    drain(ask, it, |ask, drain| {
        ask.value(&drain.here, &drain.to)
            .map(|to| matches!(to, WaterGoes::Soil | WaterGoes::DryWell | WaterGoes::DrainLoop))
    })
}

fn sump_pumps(ask: &mut Ask<'_>, it: Thing) -> Answer<Listed<Thing>> {
    sump(ask, it, |ask, sump| {
        let pump = Thing { kind: Kind::SumpPump.id(), number: it.number };
        ask.read(&sump.here, &sump.pump).map(|kind| Listed::closed(kind.map(|_| pump).into_iter().collect()))
    })
}

fn lid_truth<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    key: &'static str,
    get: impl FnOnce(&'d crate::design::model::foundation::Lid) -> &'d crate::yaml::entry::Entry<bool>,
) -> Answer<bool> {
    sump(ask, it, |ask, sump| ask.yes_or_no_inside(&sump.here, &sump.lid, key, |lid| (&lid.here, get(lid))))
}

/// Facts of areas.
pub(super) const AREAS: &[Fact] = &[
    Fact::stated(
        Kind::Area,
        "kind",
        "What the floor of the area is.",
        &[&["foundation.areas.*.kind"]],
        Get::Word(words::<AreaKind>, |ask, it| area(ask, it, |ask, a| ask.stated_word(&a.here, &a.kind))),
    ),
    Fact::stated(
        Kind::Area,
        "in",
        "The space above the area; the space of the same name when none is stated.",
        &[AREA_SPACE],
        Get::One(Kind::Space, area_space),
    ),
    Fact {
        of: Kind::Area,
        name: "size",
        meaning: "The floor that the area takes up, in plan, inside its walls.",
        formula: "length times width, the sum of both for an L, or the area within the outline",
        source: "elementary geometry",
        needs: &[AREA_SIZE],
        get: Get::Number(Dimension::AREA, area_size),
    },
    Fact::stated(
        Kind::Area,
        "thickness",
        "How thick the slab is.",
        &[&["foundation.areas.*.thickness"]],
        Get::Number(Dimension::LENGTH, |ask, it| area(ask, it, |ask, a| ask.quantity(&a.here, &a.thickness))),
    ),
    Fact::stated(
        Kind::Area,
        "under_slab",
        "What lies under the slab.",
        &[&["foundation.areas.*.under_slab.kind"]],
        Get::Word(words::<FillKind>, |ask, it| {
            area(ask, it, |ask, a| {
                ask.value_inside(&a.here, &a.under_slab, "kind", |u| (&u.here, &u.kind))
                    .map(|kind| word_id(*kind))
            })
        }),
    ),
    Fact::stated(
        Kind::Area,
        "under_slab_depth",
        "How deep the material under the slab is.",
        &[&["foundation.areas.*.under_slab.depth"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            area(ask, it, |ask, a| {
                ask.quantity_inside(&a.here, &a.under_slab, "depth", |u| (&u.here, &u.depth))
            })
        }),
    ),
    Fact::stated(
        Kind::Area,
        "probe",
        "What a small drill brought up from under the slab.",
        &[&["foundation.areas.*.under_slab.probe"]],
        Get::Word(words::<Probe>, |ask, it| {
            area(ask, it, |ask, a| {
                ask.value_inside(&a.here, &a.under_slab, "probe", |u| (&u.here, &u.probe))
                    .map(|probe| word_id(*probe))
            })
        }),
    ),
    Fact::stated(
        Kind::Area,
        "asbestos_suspected",
        "Whether floor tile, mastic or the like on the area may hold asbestos.",
        &[&["foundation.areas.*.asbestos_suspected"]],
        Get::Truth(|ask, it| area(ask, it, |ask, a| ask.yes_or_no(&a.here, &a.asbestos_suspected))),
    ),
    Fact::stated(
        Kind::Area,
        "reachable",
        "Whether somebody can reach all of the area to work there.",
        &[&["foundation.areas.*.reachable"]],
        Get::Truth(|ask, it| area(ask, it, |ask, a| ask.yes_or_no(&a.here, &a.reachable))),
    ),
    Fact::stated(
        Kind::Area,
        "traffic",
        "Whether heavy things are stored on the area or cars stand on it.",
        &[&["foundation.areas.*.traffic"]],
        Get::Truth(|ask, it| area(ask, it, |ask, a| ask.yes_or_no(&a.here, &a.traffic))),
    ),
    Fact::stated(
        Kind::Area,
        "bare_soil",
        "How much soil of the area lies bare, as stated.",
        &[&["foundation.areas.*.bare_soil"]],
        Get::Number(Dimension::AREA, |ask, it| area(ask, it, |ask, a| ask.quantity(&a.here, &a.bare_soil))),
    ),
    Fact::stated(
        Kind::Area,
        "membranes",
        "The membrane over the area: none or one.",
        &[&["foundation.areas.*.membrane"]],
        Get::Things(Kind::Membrane, |ask, it| {
            area(ask, it, |ask, a| {
                let found = ask.things().membrane_of(it);
                ask.read(&a.here, &a.membrane).map(|_| Listed::closed(found.into_iter().collect()))
            })
        }),
    ),
];

/// Facts of membranes.
pub(super) const MEMBRANES: &[Fact] = &[
    Fact::stated(
        Kind::Membrane,
        "in",
        "The space in which the membrane lies; the space named like the area when none is stated.",
        &[AREA_SPACE],
        Get::One(Kind::Space, |ask, it| {
            let area = ask.things().area_of_membrane(it);
            match area {
                Some(area) => ask.one(area, "in"),
                None => ask.cannot(it, "its area is not known"),
            }
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "thickness",
        "How thick the membrane is.",
        &[&["foundation.areas.*.membrane.thickness"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            membrane(ask, it, |ask, m, _| ask.quantity(&m.here, &m.thickness))
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "cross_laminated",
        "Whether layers of the membrane are pressed together crosswise.",
        &[&["foundation.areas.*.membrane.cross_laminated"]],
        Get::Truth(|ask, it| membrane(ask, it, |ask, m, _| ask.yes_or_no(&m.here, &m.cross_laminated))),
    ),
    Fact::stated(
        Kind::Membrane,
        "reinforced",
        "Whether threads strengthen the membrane.",
        &[&["foundation.areas.*.membrane.reinforced"]],
        Get::Truth(|ask, it| membrane(ask, it, |ask, m, _| ask.yes_or_no(&m.here, &m.reinforced))),
    ),
    Fact::stated(
        Kind::Membrane,
        "class",
        "The class of the membrane by the standard for retarders under slabs.",
        &[&["foundation.areas.*.membrane.class"]],
        Get::Word(words::<RetarderClass>, |ask, it| {
            membrane(ask, it, |ask, m, _| ask.stated_word(&m.here, &m.class))
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "permeance",
        "How readily vapour passes the membrane.",
        &[&["foundation.areas.*.membrane.permeance"]],
        Get::Number(Dimension::PERMEANCE, |ask, it| {
            membrane(ask, it, |ask, m, _| ask.quantity(&m.here, &m.permeance))
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "lap",
        "How far the sheets of the membrane lie over each other.",
        &[&["foundation.areas.*.membrane.lap"]],
        Get::Number(Dimension::LENGTH, lap),
    ),
    Fact::stated(
        Kind::Membrane,
        "seams_sealed",
        "Whether the seams of the membrane are sealed, taped or welded.",
        &[&["foundation.areas.*.membrane.seams"]],
        Get::Truth(seams_sealed),
    ),
    Fact::stated(
        Kind::Membrane,
        "edges_sealed",
        "Whether the edges of the membrane are sealed to the walls.",
        &[&["foundation.areas.*.membrane.edges.sealed"]],
        Get::Truth(|ask, it| {
            membrane(ask, it, |ask, m, _| {
                ask.yes_or_no_inside(&m.here, &m.edges, "sealed", |e| (&e.here, &e.sealed))
            })
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "edges_fixed",
        "Whether the edges of the membrane are fixed so that they stay.",
        &[&["foundation.areas.*.membrane.edges.fixed"]],
        Get::Truth(|ask, it| {
            membrane(ask, it, |ask, m, _| {
                ask.yes_or_no_inside(&m.here, &m.edges, "fixed", |e| (&e.here, &e.fixed))
            })
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "edges_held_by",
        "What holds the edges of the membrane.",
        &[&["foundation.areas.*.membrane.edges.held_by"]],
        Get::Word(words::<HeldBy>, |ask, it| {
            membrane(ask, it, |ask, m, _| {
                ask.value_inside(&m.here, &m.edges, "held_by", |e| (&e.here, &e.held_by))
                    .map(|word| word_id(*word))
            })
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "turn_up",
        "How far the membrane is turned up the walls.",
        &[&["foundation.areas.*.membrane.edges.turn_up"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            membrane(ask, it, |ask, m, _| {
                ask.value_inside(&m.here, &m.edges, "turn_up", |e| (&e.here, &e.turn_up))
                    .map(|turn_up| turn_up.measure.number())
            })
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "piers",
        "Whether piers or posts stand in the membrane.",
        &[&["foundation.areas.*.piers", "foundation.areas.*.membrane.piers"]],
        Get::Truth(has_piers),
    ),
    Fact::stated(
        Kind::Membrane,
        "piers_sealed",
        "Whether the membrane is sealed to the piers and posts in it.",
        &[&["foundation.areas.*.membrane.piers.sealed"]],
        Get::Truth(|ask, it| {
            membrane(ask, it, |ask, m, _| {
                ask.value_inside(&m.here, &m.piers, "sealed", |p| (&p.here, &p.sealed)).map(|sealed| *sealed)
            })
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "covers_all",
        "Whether the membrane covers all the soil of its area.",
        &[&["foundation.areas.*.membrane.covers_all"]],
        Get::Truth(|ask, it| membrane(ask, it, |ask, m, _| ask.yes_or_no(&m.here, &m.covers_all))),
    ),
];

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
            let of_sump = Thing { kind: Kind::Sump.id(), number: it.number };
            sump(ask, of_sump, |ask, s| {
                ask.value(&s.here, &s.pump)
                    .map(|pump| *pump == crate::design::model::foundation::PumpKind::Submersible)
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
                        let of = [d.guard.want(&d.here), d.trap_depth.want(&d.here)];
                        agree_numbers(nothing, depth, &of, &Ratio::ZERO)
                    }
                }
            })
        }),
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
