//! Facts of what moves air: fans, hoods, dryers, ventilators.

use crate::base::number::{Dimension, Number};
use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::design::model::building::{AirMover, MoverKind};
use crate::yaml::entry::Entry;
use crate::yaml::measure::{Measure, Wanted};

use super::ask::{Ask, word_id};
use super::catalogue::{Entries, Fact, Get, words};
use super::kinds::Kind;
use super::things::of;

fn mover<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d AirMover) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.air_movers, get)
}

fn of_mover<'d, W: Wanted>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&'d AirMover) -> &'d Entry<Measure<W>>,
) -> Answer<Number> {
    mover(ask, it, |ask, m| ask.quantity(&m.here, get(m)))
}

fn mover_truth<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&'d AirMover) -> &'d Entry<bool>,
) -> Answer<bool> {
    mover(ask, it, |ask, m| ask.yes_or_no(&m.here, get(m)))
}

const fn of_mover_number(
    name: &'static str,
    meaning: &'static str,
    needs: &'static [Entries],
    dimension: Dimension,
    get: fn(&mut Ask<'_>, Thing) -> Answer<Number>,
) -> Fact {
    Fact::stated(Kind::AirMover, name, meaning, needs, Get::Number(dimension, get))
}

const fn of_mover_truth(
    name: &'static str,
    meaning: &'static str,
    needs: &'static [Entries],
    get: fn(&mut Ask<'_>, Thing) -> Answer<bool>,
) -> Fact {
    Fact::stated(Kind::AirMover, name, meaning, needs, Get::Truth(get))
}

/// Facts of what moves air.
pub(super) const AIR_MOVERS: &[Fact] = &[
    Fact::stated(
        Kind::AirMover,
        "kind",
        "What the air mover is.",
        &[&["building.air_movers.*.kind"]],
        Get::Word(words::<MoverKind>, |ask, it| {
            mover(ask, it, |ask, m| ask.value(&m.here, &m.kind).map(|kind| word_id(*kind)))
        }),
    ),
    Fact::stated(
        Kind::AirMover,
        "in",
        "The space the air mover is in.",
        &[&["building.air_movers.*.in"]],
        Get::One(Kind::Space, |ask, it| {
            mover(ask, it, |ask, m| {
                let want = m.space.want(&m.here);
                ask.value(&m.here, &m.space).then(|name| ask.space_called(want, name.as_str()))
            })
        }),
    ),
    of_mover_number(
        "exhaust",
        "The air that the air mover blows out of the building.",
        &[&["building.air_movers.*.exhaust"]],
        Dimension::FLOW,
        |ask, it| of_mover(ask, it, |m| &m.exhaust),
    ),
    of_mover_number(
        "supply",
        "The air that the air mover brings into the building.",
        &[&["building.air_movers.*.supply"]],
        Dimension::FLOW,
        |ask, it| of_mover(ask, it, |m| &m.supply),
    ),
    of_mover_number(
        "indoor_ports_apart",
        "How far apart supply and exhaust of the air mover are indoors.",
        &[&["building.air_movers.*.indoor_ports_apart"]],
        Dimension::LENGTH,
        |ask, it| of_mover(ask, it, |m| &m.indoor_ports_apart),
    ),
    of_mover_number(
        "outdoor_ports_apart",
        "How far apart intake and exhaust of the air mover are outdoors.",
        &[&["building.air_movers.*.outdoor_ports_apart"]],
        Dimension::LENGTH,
        |ask, it| of_mover(ask, it, |m| &m.outdoor_ports_apart),
    ),
    of_mover_truth(
        "outdoor_ports_clear",
        "Whether snow and leaves cannot cover the openings of the air mover outdoors.",
        &[&["building.air_movers.*.outdoor_ports_clear"]],
        |ask, it| mover_truth(ask, it, |m| &m.outdoor_ports_clear),
    ),
    of_mover_truth(
        "screened",
        "Whether the openings of the air mover outdoors are screened.",
        &[&["building.air_movers.*.screened"]],
        |ask, it| mover_truth(ask, it, |m| &m.screened),
    ),
    of_mover_truth(
        "sealed",
        "Whether the housing of the air mover is sealed.",
        &[&["building.air_movers.*.sealed"]],
        |ask, it| mover_truth(ask, it, |m| &m.sealed),
    ),
    of_mover_truth(
        "ducts_sealed",
        "Whether the ducts of the air mover are sealed.",
        &[&["building.air_movers.*.ducts_sealed"]],
        |ask, it| mover_truth(ask, it, |m| &m.ducts_sealed),
    ),
    of_mover_truth(
        "ducts_below",
        "Whether ducts of the air mover run through the crawlspace or the soil.",
        &[&["building.air_movers.*.ducts_below"]],
        |ask, it| mover_truth(ask, it, |m| &m.ducts_below),
    ),
];
