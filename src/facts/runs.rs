//! Facts of runs of pipe and of what they pierce.

use crate::base::number::{Dimension, Number};
use crate::base::value::{Answer, Listed, unite};
use crate::base::vocabulary::{Thing, WordId};
use crate::design::model::building::SpaceKind;
use crate::design::model::pipe::{FixedTo, Pipe, PipeJoint, PipeMaterial, PipeSize, Run, Schedule};
use crate::yaml::entry::Entry;

use super::ask::{Ask, word_id};
use super::catalogue::{Entries, Fact, Get, with_places, words};
use super::downstream::downstream;
use super::heights;
use super::join::either;
use super::kinds::Kind;
use super::laid::{hanger_spacing, length, slope_to_soil, upright};
use super::outlet;
use super::penetrations::{own_penetrations, pierces_floor};
use super::places;
use super::roofs;
use super::system::system_of;
use super::things::{Member, SpaceMember, of};

pub(super) fn run<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Run) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.runs, get)
}

/// Whether a run has a low point from which no drain lets the water out.
fn holds_water(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    run(ask, it, |ask, run| {
        ask.read(&run.here, &run.low_points).then(|points| {
            let Some(points) = points else { return Answer::known(false) };
            let mut missing = Vec::new();
            for (_, point) in points.things() {
                match ask.yes_or_no(&point.here, &point.drained) {
                    Answer::Known { value: false, .. } => return Answer::known(true),
                    Answer::Known { .. } => {}
                    Answer::Unknown(more) => missing = unite(missing, more),
                }
            }
            if missing.is_empty() { Answer::known(false) } else { Answer::Unknown(missing) }
        })
    })
}

/// What the run says of itself, or else what is said of all pipe of its system.
pub(super) fn of_pipe<'d, T: 'd>(
    ask: &mut Ask<'d>,
    it: Thing,
    key: &'static str,
    own: impl FnOnce(&'d Run) -> &'d Entry<T>,
    all: impl FnOnce(&'d Pipe) -> &'d Entry<T>,
) -> Answer<Option<&'d T>> {
    let system =
        ask.things().owner(it).and_then(|at| ask.things().systems.get(at as usize)).map(|system| system.it);
    run(ask, it, |ask, run| {
        let own = own(run);
        let stated = ask.read(&run.here, own);
        match system {
            Some(system) if own.is_missing() => {
                let of_all = ask.read_inside(&system.here, &system.pipe, key, |pipe| (&pipe.here, all(pipe)));
                match of_all {
                    Answer::Unknown(_) => either(stated, of_all),
                    known => known,
                }
            }
            _ => stated,
        }
    })
}

fn pipe_word<'d, W: crate::yaml::words::Words>(
    ask: &mut Ask<'d>,
    it: Thing,
    key: &'static str,
    own: fn(&'d Run) -> &'d Entry<W>,
    all: impl FnOnce(&'d Pipe) -> &'d Entry<W>,
) -> Answer<W> {
    let want = ask.things().here(it).map(|here| here.path.key(key));
    of_pipe(ask, it, key, own, all).then(|word| match word {
        Some(word) => Answer::known(*word),
        None => Answer::missing(ask.want_at(want.as_ref().map_or("", |path| path.as_str()))),
    })
}

pub(super) fn size(ask: &mut Ask<'_>, it: Thing) -> Answer<PipeSize> {
    pipe_word(ask, it, "size", |run| &run.size, |pipe| &pipe.size)
}

pub(super) fn material(ask: &mut Ask<'_>, it: Thing) -> Answer<PipeMaterial> {
    pipe_word(ask, it, "material", |run| &run.material, |pipe| &pipe.material)
}

pub(super) fn schedule(ask: &mut Ask<'_>, it: Thing) -> Answer<Schedule> {
    pipe_word(ask, it, "schedule", |run| &run.schedule, |pipe| &pipe.schedule)
}

/// The number of a schedule; the other series have none.
fn schedule_number(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    schedule(ask, it).then(|schedule| match schedule {
        Schedule::Twenty => Answer::known(Number::whole(20)),
        Schedule::Thirty => Answer::known(Number::whole(30)),
        Schedule::Forty | Schedule::FoamCore => Answer::known(Number::whole(40)),
        Schedule::Eighty => Answer::known(Number::whole(80)),
        Schedule::Sdr35 | Schedule::Sdr26 | Schedule::ThinDrain => {
            ask.cannot(it, "pipe of that series has no schedule")
        }
    })
}

fn joints(ask: &mut Ask<'_>, it: Thing) -> Answer<WordId> {
    pipe_word(ask, it, "joints", |run| &run.joints, |pipe| &pipe.joints).map(word_id)
}

fn insulated(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    of_pipe(ask, it, "insulation", |run| &run.insulation, |pipe| &pipe.insulation)
        .map(|known| known.is_some())
}

pub(super) fn spaces(ask: &mut Ask<'_>, it: Thing) -> Answer<Listed<Thing>> {
    run(ask, it, |ask, run| {
        ask.read(&run.here, &run.through).then(|through| match through {
            Some(through) => ask.spaces_called(&through.0.items).map(Listed::closed),
            None => Answer::known(Listed::closed(Vec::new())),
        })
    })
}

/// Whether a run passes a space of which something holds: known as soon as one is found.
pub(super) fn passes(
    ask: &mut Ask<'_>,
    it: Thing,
    holds: impl Fn(&mut Ask<'_>, Thing) -> Answer<bool>,
) -> Answer<bool> {
    spaces(ask, it).then(|spaces| {
        let mut missing = Vec::new();
        for space in spaces.items {
            match holds(ask, space) {
                Answer::Known { value: true, .. } => return Answer::known(true),
                Answer::Known { .. } => {}
                Answer::Unknown(more) => missing = unite(missing, more),
            }
        }
        if missing.is_empty() { Answer::known(false) } else { Answer::Unknown(missing) }
    })
}

fn is_of_kind(ask: &mut Ask<'_>, space: Thing, kind: SpaceKind) -> Answer<bool> {
    match ask.things().space(space) {
        Some(SpaceMember::Named(..)) => ask.word(space, "kind").map(|word| word == word_id(kind)),
        _ => Answer::known(false),
    }
}

pub(super) fn is_outdoors(ask: &mut Ask<'_>, space: Thing) -> Answer<bool> {
    Answer::known(matches!(ask.things().space(space), Some(SpaceMember::Outdoors)))
}

fn carried_by_others(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    run(ask, it, |ask, run| {
        ask.value_inside(&run.here, &run.hangers, "fixed_to", |h| (&h.here, &h.fixed_to))
            .map(|fixed| *fixed != FixedTo::Building)
    })
}

pub(super) const RUN_SPACES: Entries = &["systems.*.runs.*.through"];
const PIERCES: Entries = &["systems.*.runs.*.pierces", "systems.*.runs.*.pierces.*.kind"];
pub(super) const CHAIN: Entries = &["systems.*.fan", "systems.*.runs.*.from", "systems.*.runs.*.to"];
const EXTENTS: Entries = &[
    "systems.*.runs.*.up",
    "systems.*.runs.*.down",
    "systems.*.runs.*.north",
    "systems.*.runs.*.south",
    "systems.*.runs.*.east",
    "systems.*.runs.*.west",
    "systems.*.runs.*.points",
    "systems.*.runs.*.points.**",
];

/// Facts of runs.
pub(super) const RUNS: &[Fact] = &[
    Fact::stated(
        Kind::Run,
        "system",
        "The system the run belongs to.",
        &[],
        Get::One(Kind::System, system_of),
    ),
    Fact {
        of: Kind::Run,
        name: "upright",
        meaning: "Whether the run goes straight up or down.",
        formula: "it goes up or down and no other way, or its ends lie straight above each other",
        source: "the meaning of the words",
        needs: &[EXTENTS],
        get: Get::Truth(upright),
    },
    Fact {
        of: Kind::Run,
        name: "downstream",
        meaning: "Whether the run carries air under pressure: the air has passed the fan.",
        formula: "the runs that hang together from the fan on end at the discharge",
        source: "the way the air goes",
        needs: &[CHAIN],
        get: Get::Truth(downstream),
    },
    Fact {
        of: Kind::Run,
        name: "length",
        meaning: "How long the run is, along the pipe.",
        formula: "as stated; or the straight distance between its ends; or from each point that is given to the next, added up",
        source: "elementary geometry",
        needs: with_places![&["systems.*.runs.*.length"]],
        get: Get::Number(Dimension::LENGTH, length),
    },
    Fact {
        of: Kind::Run,
        name: "slope_to_soil",
        meaning: "How much the run falls per length toward the suction points; negative where it runs the wrong way.",
        formula: "as stated, or the drop between its ends over the level distance between them",
        source: "the meaning of a slope",
        needs: &[&["systems.*.runs.*.slope", "systems.*.runs.*.points"], CHAIN],
        get: Get::Number(Dimension::ONE, slope_to_soil),
    },
    Fact {
        of: Kind::Run,
        name: "holds_water",
        meaning: "Whether the run has a low point from which water cannot run off.",
        formula: "some low point has no drain",
        source: "the entries",
        needs: &[&["systems.*.runs.*.low_points", "systems.*.runs.*.low_points.*.drained"]],
        get: Get::Truth(holds_water),
    },
    Fact {
        of: Kind::Run,
        name: "hanger_spacing",
        meaning: "The greatest distance between the supports of the run.",
        formula: "as stated, or the greatest gap between the places of its supports, or its length where it has none",
        source: "the meaning of the words",
        needs: &[
            &[
                "systems.*.runs.*.hangers",
                "systems.*.runs.*.hangers.spacing",
                "systems.*.runs.*.hangers.places",
                "systems.*.runs.*.length",
            ],
            places::PLACES,
            outlet::WIDTH,
            roofs::EDGES,
            roofs::SLOPES,
            heights::GROUND,
        ],
        get: Get::Number(Dimension::LENGTH, hanger_spacing),
    },
    Fact::stated(
        Kind::Run,
        "carried_by_others",
        "Whether the run is hung from other pipes, ducts or equipment rather than from the building.",
        &[&["systems.*.runs.*.hangers.fixed_to"]],
        Get::Truth(carried_by_others),
    ),
    Fact::stated(
        Kind::Run,
        "secured_at_floors",
        "Whether the run is held above or below each floor, ceiling or roof it goes through.",
        &[&["systems.*.runs.*.secured_at_floors"]],
        Get::Truth(|ask, it| run(ask, it, |ask, r| ask.yes_or_no(&r.here, &r.secured_at_floors))),
    ),
    Fact::stated(
        Kind::Run,
        "penetrations",
        "The places where the run goes through something; complete as written.",
        &[&["systems.*.runs.*.pierces"]],
        Get::Things(Kind::Penetration, own_penetrations),
    ),
    Fact {
        of: Kind::Run,
        name: "pierces_floor",
        meaning: "Whether the run goes through a floor, a ceiling or the roof.",
        formula: "some penetration of it is one of these",
        source: "the entries",
        needs: &[PIERCES],
        get: Get::Truth(pierces_floor),
    },
    Fact::stated(
        Kind::Run,
        "size",
        "The trade size of the run, or that of all pipe where the run says nothing.",
        &[&["systems.*.runs.*.size", "systems.*.pipe.size"]],
        Get::Word(words::<PipeSize>, |ask, it| size(ask, it).map(word_id)),
    ),
    Fact::stated(
        Kind::Run,
        "material",
        "What the run is made of, or all pipe where the run says nothing.",
        &[&["systems.*.runs.*.material", "systems.*.pipe.material"]],
        Get::Word(words::<PipeMaterial>, |ask, it| material(ask, it).map(word_id)),
    ),
    Fact {
        of: Kind::Run,
        name: "schedule",
        meaning: "The schedule number of the run's pipe, or of all pipe where the run says nothing.",
        formula: "the number of the schedule; foam core counts as the schedule it is made to",
        source: "the names of the schedules",
        needs: &[&["systems.*.runs.*.schedule", "systems.*.pipe.schedule"]],
        get: Get::Number(Dimension::ONE, schedule_number),
    },
    Fact::stated(
        Kind::Run,
        "wall",
        "The series by which the wall of the run's pipe is made, or of all pipe where the run says nothing.",
        &[&["systems.*.runs.*.schedule", "systems.*.pipe.schedule"]],
        Get::Word(words::<Schedule>, |ask, it| schedule(ask, it).map(word_id)),
    ),
    Fact::stated(
        Kind::Run,
        "joints",
        "How the run is joined, or all pipe where the run says nothing.",
        &[&["systems.*.runs.*.joints", "systems.*.pipe.joints"]],
        Get::Word(words::<PipeJoint>, joints),
    ),
    Fact::stated(
        Kind::Run,
        "insulated",
        "Whether insulation goes round the run, or round all pipe where the run says nothing.",
        &[&["systems.*.runs.*.insulation", "systems.*.pipe.insulation"]],
        Get::Truth(insulated),
    ),
    Fact::stated(
        Kind::Run,
        "spaces",
        "The spaces the run passes; complete as written.",
        &[RUN_SPACES],
        Get::Things(Kind::Space, spaces),
    ),
    Fact {
        of: Kind::Run,
        name: "outdoors",
        meaning: "Whether the run passes the open air.",
        formula: "the open air is among the spaces it passes",
        source: "the entries",
        needs: &[RUN_SPACES],
        get: Get::Truth(|ask, it| passes(ask, it, is_outdoors)),
    },
    Fact {
        of: Kind::Run,
        name: "in_attic",
        meaning: "Whether the run passes an attic.",
        formula: "an attic is among the spaces it passes",
        source: "the entries",
        needs: &[RUN_SPACES, &["building.spaces.*.kind"]],
        get: Get::Truth(|ask, it| passes(ask, it, |ask, space| is_of_kind(ask, space, SpaceKind::Attic))),
    },
    Fact {
        of: Kind::Run,
        name: "in_garage",
        meaning: "Whether the run passes a garage.",
        formula: "a garage is among the spaces it passes",
        source: "the entries",
        needs: &[RUN_SPACES, &["building.spaces.*.kind"]],
        get: Get::Truth(|ask, it| passes(ask, it, |ask, space| is_of_kind(ask, space, SpaceKind::Garage))),
    },
    Fact {
        of: Kind::Run,
        name: "in_conditioned",
        meaning: "Whether the run passes a heated or cooled space.",
        formula: "a conditioned space is among those it passes",
        source: "the entries",
        needs: &[RUN_SPACES, &["building.spaces.*.conditioned"]],
        get: Get::Truth(|ask, it| passes(ask, it, |ask, space| ask.truth(space, "conditioned"))),
    },
    Fact::stated(
        Kind::Run,
        "hidden",
        "Whether the run is hidden in a wall or chase.",
        &[&["systems.*.runs.*.hidden"]],
        Get::Truth(|ask, it| run(ask, it, |ask, r| ask.yes_or_no(&r.here, &r.hidden))),
    ),
];

/// The runs of a system with what is written of them.
pub(super) fn of_system<'d>(ask: &Ask<'d>, system: u32) -> Vec<Member<'d, Run>> {
    ask.things().runs.iter().filter(|run| run.owner == system).copied().collect()
}
