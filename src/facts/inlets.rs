//! Facts of suction points: the pit, the gap round the pipe, and what the pipe ends in.

use crate::base::number::{Dimension, Number};
use crate::base::value::Answer;
use crate::design::model::foundation::FillKind;
use crate::design::model::suction::{InletKind, SuctionPoint};
use crate::yaml::entry::{Entry, Here};
use crate::yaml::words::Count;

use super::ask::{Ask, word_id};
use super::catalogue::{Fact, Get, words};
use super::kinds::Kind;
use super::suction::point;

fn counted<'d, P>(
    ask: &mut Ask<'d>,
    record: &'d SuctionPoint,
    parent: &'d Entry<P>,
    key: &'static str,
    get: impl FnOnce(&'d P) -> (&'d Here, &'d Entry<Count>),
) -> Answer<Number> {
    ask.value_inside(&record.here, parent, key, get).map(|count| Number::whole(i64::from(count.0)))
}

/// Facts of suction points that turn on the pit, the gap and the inlet.
pub(super) const INLETS: &[Fact] = &[
    Fact::stated(
        Kind::SuctionPoint,
        "pit_width",
        "How wide the pit under the suction point is.",
        &[&["systems.*.suction_points.*.pit.width"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            point(ask, it, |ask, p| {
                ask.quantity_inside(&p.here, &p.pit, "width", |pit| (&pit.here, &pit.width))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "pit_depth",
        "How deep the pit under the suction point is, from the underside of the slab.",
        &[&["systems.*.suction_points.*.pit.depth"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            point(ask, it, |ask, p| {
                ask.quantity_inside(&p.here, &p.pit, "depth", |pit| (&pit.here, &pit.depth))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "pit_filled",
        "Whether the pit under the suction point was filled again.",
        &[&["systems.*.suction_points.*.pit.filled_with"]],
        Get::Truth(|ask, it| {
            point(ask, it, |ask, p| {
                let filled =
                    ask.read_inside(&p.here, &p.pit, "filled_with", |pit| (&pit.here, &pit.filled_with));
                filled.map(|filled| filled.is_some())
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "pit_fill",
        "What the pit under the suction point was filled with.",
        &[&["systems.*.suction_points.*.pit.filled_with"]],
        Get::Word(words::<FillKind>, |ask, it| {
            point(ask, it, |ask, p| {
                ask.value_inside(&p.here, &p.pit, "filled_with", |pit| (&pit.here, &pit.filled_with))
                    .map(|word| word_id(*word))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "pit_stone",
        "How large the stones in the pit are.",
        &[&["systems.*.suction_points.*.pit.stone"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            point(ask, it, |ask, p| {
                ask.quantity_inside(&p.here, &p.pit, "stone", |pit| (&pit.here, &pit.stone))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "reason_for_no_pit",
        "Whether the file says why no pit, or none of the usual size, could be dug at the suction point.",
        &[&["systems.*.suction_points.*.no_pit_because"]],
        Get::Truth(|ask, it| point(ask, it, |ask, p| ask.is_there(&p.here, &p.no_pit_because))),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "gap",
        "How wide the gap round the pipe at the suction point is.",
        &[&["systems.*.suction_points.*.hole.gap"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            point(ask, it, |ask, p| {
                ask.quantity_inside(&p.here, &p.hole, "gap", |hole| (&hole.here, &hole.gap))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "backer",
        "Whether a backer was put into the gap round the pipe before the sealant.",
        &[&["systems.*.suction_points.*.hole.backer"]],
        Get::Truth(|ask, it| {
            point(ask, it, |ask, p| {
                ask.yes_or_no_inside(&p.here, &p.hole, "backer", |hole| (&hole.here, &hole.backer))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "sealant_class",
        "The class of movement of the sealant round the pipe at the suction point.",
        &[&["systems.*.suction_points.*.hole.sealant_class"]],
        Get::Number(Dimension::ONE, |ask, it| {
            point(ask, it, |ask, p| {
                counted(ask, p, &p.hole, "sealant_class", |hole| (&hole.here, &hole.sealant_class))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "inlet",
        "What the pipe ends in at the suction point.",
        &[&["systems.*.suction_points.*.inlet.kind"]],
        Get::Word(words::<InletKind>, |ask, it| {
            point(ask, it, |ask, p| {
                ask.value_inside(&p.here, &p.inlet, "kind", |inlet| (&inlet.here, &inlet.kind))
                    .map(|word| word_id(*word))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "inlet_nominal",
        "The trade size of what the pipe ends in, as a length.",
        &[&["systems.*.suction_points.*.inlet.size"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            point(ask, it, |ask, p| {
                ask.value_inside(&p.here, &p.inlet, "size", |inlet| (&inlet.here, &inlet.size))
                    .map(|size| super::bores::nominal(*size))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "inlet_openings",
        "How many openings the fitting at the suction point has.",
        &[&["systems.*.suction_points.*.inlet.openings"]],
        Get::Number(Dimension::ONE, |ask, it| {
            point(ask, it, |ask, p| {
                counted(ask, p, &p.inlet, "openings", |inlet| (&inlet.here, &inlet.openings))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "inlet_arms",
        "How many level arms with holes the fitting at the suction point has.",
        &[&["systems.*.suction_points.*.inlet.arm_count"]],
        Get::Number(Dimension::ONE, |ask, it| {
            point(ask, it, |ask, p| {
                counted(ask, p, &p.inlet, "arm_count", |inlet| (&inlet.here, &inlet.arm_count))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "arm_length",
        "How long each arm of the fitting at the suction point is.",
        &[&["systems.*.suction_points.*.inlet.arms"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            point(ask, it, |ask, p| {
                ask.quantity_inside(&p.here, &p.inlet, "arms", |inlet| (&inlet.here, &inlet.arms))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "inlet_open_area",
        "The area of all openings in what the pipe ends in.",
        &[&["systems.*.suction_points.*.inlet.open_area"]],
        Get::Number(Dimension::AREA, |ask, it| {
            point(ask, it, |ask, p| {
                ask.quantity_inside(&p.here, &p.inlet, "open_area", |inlet| (&inlet.here, &inlet.open_area))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "inlet_fastened",
        "Whether what the pipe ends in is held so that nothing shifts it while concrete is poured.",
        &[&["systems.*.suction_points.*.inlet.fastened"]],
        Get::Truth(|ask, it| {
            point(ask, it, |ask, p| {
                ask.yes_or_no_inside(&p.here, &p.inlet, "fastened", |inlet| (&inlet.here, &inlet.fastened))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "flow",
        "The air that the suction point is designed to draw.",
        &[&["systems.*.suction_points.*.flow"]],
        Get::Number(Dimension::FLOW, |ask, it| point(ask, it, |ask, p| ask.quantity(&p.here, &p.flow))),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "designed_suction",
        "The suction that the suction point is designed to have.",
        &[&["systems.*.suction_points.*.suction"]],
        Get::Number(Dimension::PRESSURE, |ask, it| {
            point(ask, it, |ask, p| ask.quantity(&p.here, &p.suction))
        }),
    ),
];
