//! Facts of the fan, its cord and its circuit.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Listed};
use crate::base::vocabulary::{Thing, WordId};
use crate::design::model::fan::{Axis, Fan, Mount};
use crate::design::model::pipe::FittingKind;
use crate::design::model::systems::System;
use crate::design::model::wiring::{Connection, DisconnectKind, Wiring};
use crate::yaml::entry::Entry;
use crate::yaml::measure::{Measure, Wanted};

use super::ask::{Ask, word_id};
use super::catalogue::{Entries, Fact, Get, with_places, words};
use super::contradictions::fan::out_of_its_space;
use super::heights::{self, Near};
use super::join::agree;
use super::kinds::Kind;
use super::places::{self, Along};
use super::statements::{half_of, settle};
use super::system::{lacking_circuit, lacking_cord, system, system_of};
use super::things::{SpaceMember, of};

pub(super) fn fan<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Fan) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.fans, get)
}

/// The system of a fan, with what is written of it.
pub(super) fn of_its_system<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d System) -> Answer<R>,
) -> Answer<R> {
    system_of(ask, it).then(|owner| system(ask, owner, get))
}

pub(super) fn wiring_truth<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    key: &'static str,
    get: impl FnOnce(&'d Wiring) -> &'d Entry<bool>,
) -> Answer<bool> {
    of_its_system(ask, it, |ask, system| {
        ask.value_inside(&system.here, &system.wiring, key, |wiring| (&wiring.here, get(wiring)))
            .map(|known| *known)
    })
}

pub(super) fn fan_space(ask: &mut Ask<'_>, it: Thing) -> Answer<Thing> {
    fan(ask, it, |ask, fan| {
        let want = fan.space.want(&fan.here);
        ask.value(&fan.here, &fan.space).then(|name| ask.space_called(want, name.as_str()))
    })
}

/// The space in which a fan stands, as long as its height does not rule that out.
fn stands_in(ask: &mut Ask<'_>, it: Thing) -> Answer<Thing> {
    let space = fan_space(ask, it);
    match ask.aside("stands in", it, |ask| out_of_its_space(ask, it)) {
        Some(cannot) => cannot.unknown(),
        None => space,
    }
}

fn outdoors(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    stands_in(ask, it).map(|space| matches!(ask.things().space(space), Some(SpaceMember::Outdoors)))
}

/// # Meaning
/// Whether the middle of the fan is lower than the finished ground nearest to it.
/// # Formula
/// The fan's height above the origin less the height of the nearest finished ground is negative.
/// # Valid for
/// Fans whose height can be told; with several heights of ground, only where all agree or the nearest is known.
/// # Accuracy
/// Exact for exact heights.
/// # Source
/// The meaning of the words.
/// # Errors
/// Unknown when the fan's height or the ground is not stated.
/// # Example
/// A fan at 18 ft 6 in over ground at 6 ft 6 in is not below it.
fn below_ground(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    let near = Near { plan: places::plan_of(ask, it), side: None };
    let height = places::coordinate(ask, it, Along::Up);
    let want = ask.things().here(it).map(|here| here.path.key("at"));
    height.both(heights::nearest_ground(ask, &near)).then(|(height, ground)| {
        let above = &height - &ground;
        let zero = Number::whole(0);
        match above.compare(crate::base::number::Comparison::Less, &zero) {
            crate::base::truth::Truth::True => Answer::known(true),
            crate::base::truth::Truth::False => Answer::known(false),
            crate::base::truth::Truth::Unknown => {
                let mut missing = ask.want_at(want.as_ref().map_or("", |path| path.as_str()));
                missing.reason = crate::base::value::Reason::Imprecise;
                Answer::missing(missing)
            }
        }
    })
}

fn has_disconnect(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    of_its_system(ask, it, |ask, system| {
        ask.read_inside(&system.here, &system.wiring, "disconnect", |wiring| {
            (&wiring.here, &wiring.disconnect)
        })
        .map(|known| known.is_some())
    })
}

/// A fact of the disconnect of a fan.
fn disconnect<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d crate::design::model::wiring::Disconnect) -> Answer<R>,
) -> Answer<R> {
    of_its_system(ask, it, |ask, system| {
        ask.value_inside(&system.here, &system.wiring, "disconnect", |wiring| {
            (&wiring.here, &wiring.disconnect)
        })
        .then(|disconnect| get(ask, disconnect))
    })
}

/// How the fan is connected: as stated, or by whether a cord is written.
fn connection(ask: &mut Ask<'_>, it: Thing) -> Answer<WordId> {
    of_its_system(ask, it, |ask, system| {
        let stated = ask
            .value_inside(&system.here, &system.wiring, "connection", |wiring| {
                (&wiring.here, &wiring.connection)
            })
            .map(|connection| word_id(*connection));
        let by_cord =
            ask.read_inside(&system.here, &system.wiring, "cord", |wiring| (&wiring.here, &wiring.cord)).map(
                |cord| word_id(if cord.is_some() { Connection::CordAndPlug } else { Connection::HardWired }),
            );
        let of = match system.wiring.known() {
            Some(wiring) => vec![wiring.connection.want(&wiring.here), wiring.cord.want(&wiring.here)],
            None => vec![system.wiring.want(&system.here)],
        };
        agree(stated, by_cord, &of)
    })
}

/// # Meaning
/// The greatest suction the fan can pull, with no air moving.
/// # Formula
/// As stated, or the pressure of the point of its curve at no air.
/// # Valid for
/// Curves that have a point at no air.
/// # Accuracy
/// As the maker's sheet.
/// # Source
/// The maker's sheet.
/// # Errors
/// Unknown when neither is stated.
/// # Example
/// `[0 cfm, 4.2 in WC]` on the curve: 4.2 in WC.
fn shut_off(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    fan(ask, it, |ask, fan| {
        let want = fan.shut_off.want(&fan.here);
        let stated = ask.statement(want.clone(), |ask| ask.quantity(&fan.here, &fan.shut_off));
        let mut step = half_of(fan.shut_off.known().and_then(|stated| stated.quantity.step()));
        let by_curve = ask.statement(fan.curve.want(&fan.here), |ask| {
            ask.value(&fan.here, &fan.curve).then(|curve| {
                let at_no_air = curve.members().find(|point| {
                    let flow = point.flow.known();
                    flow.is_some_and(|flow| flow.number().as_exact().is_some_and(Ratio::is_zero))
                });
                match at_no_air {
                    Some(point) => {
                        step = &step
                            + &half_of(point.pressure.known().and_then(|stated| stated.quantity.step()));
                        ask.quantity(&point.here, &point.pressure)
                    }
                    None => Answer::missing(want.clone()),
                }
            })
        });
        let found = vec![stated.off_by(Ratio::ZERO), by_curve.off_by(step)];
        let what = |_: &Ask<'_>| "the most suction the fan can pull".to_owned();
        settle(ask, what, Dimension::PRESSURE, found, || want)
    })
}

fn fan_circuit(ask: &mut Ask<'_>, it: Thing) -> Answer<Thing> {
    of_its_system(ask, it, |ask, system| {
        let found = system_of(ask, it)
            .value()
            .and_then(|owner| ask.things().owned(Kind::Circuit, owner.number).first().copied());
        ask.value_inside(&system.here, &system.wiring, "circuit", |wiring| (&wiring.here, &wiring.circuit))
            .then(|_| match found {
                Some(circuit) => Answer::known(circuit),
                None => Answer::missing(system.wiring.want(&system.here)),
            })
    })
}

fn own_cords(ask: &mut Ask<'_>, it: Thing) -> Answer<Listed<Thing>> {
    of_its_system(ask, it, |ask, system| {
        let open = lacking_cord(ask, system);
        let items = match ask.things().system_of(it) {
            Some(owner) => ask.things().owned(Kind::Cord, owner.number),
            None => Vec::new(),
        };
        Answer::known(Listed::open(items, open))
    })
}

fn own_circuits(ask: &mut Ask<'_>, it: Thing) -> Answer<Listed<Thing>> {
    of_its_system(ask, it, |ask, system| {
        let open = lacking_circuit(ask, system);
        let items = match ask.things().system_of(it) {
            Some(owner) => ask.things().owned(Kind::Circuit, owner.number),
            None => Vec::new(),
        };
        Answer::known(Listed::open(items, open))
    })
}

pub(super) fn fan_number<'d, W: Wanted>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&'d Fan) -> &'d Entry<Measure<W>>,
) -> Answer<Number> {
    fan(ask, it, |ask, fan| ask.quantity(&fan.here, get(fan)))
}

pub(super) fn fan_truth<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&'d Fan) -> &'d Entry<bool>,
) -> Answer<bool> {
    fan(ask, it, |ask, fan| ask.yes_or_no(&fan.here, get(fan)))
}

const CIRCUIT_OF_FAN: Entries = &["systems.*.wiring.circuit"];
/// Facts of fans.
pub(super) const FANS: &[Fact] = &[
    Fact::stated(
        Kind::Fan,
        "system",
        "The system that the fan drives.",
        &[],
        Get::One(Kind::System, system_of),
    ),
    Fact::stated(
        Kind::Fan,
        "in",
        "The space in which the fan stands.",
        &[&["systems.*.fan.in"]],
        Get::One(Kind::Space, stands_in),
    ),
    Fact::stated(
        Kind::Fan,
        "outdoors",
        "Whether the fan stands in the open air.",
        &[&["systems.*.fan.in"]],
        Get::Truth(outdoors),
    ),
    Fact::stated(
        Kind::Fan,
        "in_well",
        "Whether the fan stands in a window well or an egress well.",
        &[&["systems.*.fan.in_well"]],
        Get::Truth(|ask, it| fan_truth(ask, it, |fan| &fan.in_well)),
    ),
    Fact {
        of: Kind::Fan,
        name: "height",
        meaning: "The height of the fan's middle above the origin.",
        formula: "as stated, or by tape from what it is measured from",
        source: "the measurements",
        needs: with_places![],
        get: Get::Number(Dimension::LENGTH, |ask, it| places::coordinate(ask, it, Along::Up)),
    },
    Fact {
        of: Kind::Fan,
        name: "below_ground",
        meaning: "Whether the middle of the fan is lower than the finished ground nearest to it.",
        formula: "its height less that of the nearest finished ground is negative",
        source: "the meaning of the words",
        needs: with_places![],
        get: Get::Truth(below_ground),
    },
    Fact::stated(
        Kind::Fan,
        "upright",
        "Whether the air goes straight up through the fan, so that water runs through it.",
        &[&["systems.*.fan.axis"]],
        Get::Truth(|ask, it| {
            fan(ask, it, |ask, fan| ask.value(&fan.here, &fan.axis).map(|axis| *axis == Axis::Vertical))
        }),
    ),
    Fact::stated(
        Kind::Fan,
        "outdoor_rated",
        "Whether the fan may stand in the rain, or a cover keeps rain off.",
        &[&["systems.*.fan.weatherproof"]],
        Get::Truth(|ask, it| fan_truth(ask, it, |fan| &fan.weatherproof)),
    ),
    Fact::stated(
        Kind::Fan,
        "couplings",
        "How the fan is coupled to the pipe.",
        &[&["systems.*.fan.couplings"]],
        Get::Word(words::<FittingKind>, |ask, it| {
            fan(ask, it, |ask, fan| ask.stated_word(&fan.here, &fan.couplings))
        }),
    ),
    Fact::stated(
        Kind::Fan,
        "removable",
        "Whether the fan can be taken out without cutting pipe.",
        &[&["systems.*.fan.removable"]],
        Get::Truth(|ask, it| fan_truth(ask, it, |fan| &fan.removable)),
    ),
    Fact::stated(
        Kind::Fan,
        "housing_sealed",
        "Whether the fan's housing is sealed so that soil gas does not leak out.",
        &[&["systems.*.fan.sealed_housing"]],
        Get::Truth(|ask, it| fan_truth(ask, it, |fan| &fan.sealed_housing)),
    ),
    Fact::stated(
        Kind::Fan,
        "isolated",
        "Whether couplings keep the fan's shaking from the pipe and the building.",
        &[&["systems.*.fan.isolated"]],
        Get::Truth(|ask, it| fan_truth(ask, it, |fan| &fan.isolated)),
    ),
    Fact::stated(
        Kind::Fan,
        "listed",
        "Whether the fan is listed for radon work or for moving damp air.",
        &[&["systems.*.fan.listed"]],
        Get::Truth(|ask, it| fan_truth(ask, it, |fan| &fan.listed)),
    ),
    Fact::stated(
        Kind::Fan,
        "reachable",
        "Whether one can get to the fan to service it.",
        &[&["systems.*.fan.reachable"]],
        Get::Truth(|ask, it| fan_truth(ask, it, |fan| &fan.reachable)),
    ),
    Fact::stated(
        Kind::Fan,
        "mount",
        "How the fan is carried.",
        &[&["systems.*.fan.mount"]],
        Get::Word(words::<Mount>, |ask, it| fan(ask, it, |ask, fan| ask.stated_word(&fan.here, &fan.mount))),
    ),
    Fact::stated(
        Kind::Fan,
        "current",
        "The electric current of the fan at most.",
        &[&["systems.*.fan.current"]],
        Get::Number(Dimension::CURRENT, |ask, it| fan_number(ask, it, |fan| &fan.current)),
    ),
    Fact::stated(
        Kind::Fan,
        "power",
        "The electric power of the fan at most.",
        &[&["systems.*.fan.power"]],
        Get::Number(Dimension::POWER, |ask, it| fan_number(ask, it, |fan| &fan.power)),
    ),
    Fact {
        of: Kind::Fan,
        name: "shut_off",
        meaning: "The most suction the fan can pull, with no air moving.",
        formula: "as stated, or the pressure of its curve at no air",
        source: "the maker's sheet",
        needs: &[&["systems.*.fan.shut_off", "systems.*.fan.curve", "systems.*.fan.curve.**"]],
        get: Get::Number(Dimension::PRESSURE, shut_off),
    },
    Fact {
        of: Kind::Fan,
        name: "connection",
        meaning: "How the fan is connected to the house's wiring.",
        formula: "as stated, or by whether a cord is written",
        source: "the meaning of the words",
        needs: &[super::system::CORD],
        get: Get::Word(words::<Connection>, connection),
    },
    Fact::stated(
        Kind::Fan,
        "wiring_in_pipe",
        "Whether wire runs inside the vent pipe or a duct.",
        &[&["systems.*.wiring.in_pipe"]],
        Get::Truth(|ask, it| wiring_truth(ask, it, "in_pipe", |wiring| &wiring.in_pipe)),
    ),
    Fact::stated(
        Kind::Fan,
        "disconnect",
        "Whether something is there that cuts the fan off for service.",
        &[&["systems.*.wiring.disconnect"]],
        Get::Truth(has_disconnect),
    ),
    Fact::stated(
        Kind::Fan,
        "disconnect_kind",
        "What cuts the fan off for service.",
        &[&["systems.*.wiring.disconnect", "systems.*.wiring.disconnect.kind"]],
        Get::Word(words::<DisconnectKind>, |ask, it| {
            disconnect(ask, it, |ask, d| ask.stated_word(&d.here, &d.kind))
        }),
    ),
    Fact::stated(
        Kind::Fan,
        "disconnect_in_sight",
        "Whether what cuts the fan off is seen from the fan.",
        &[&["systems.*.wiring.disconnect", "systems.*.wiring.disconnect.in_sight"]],
        Get::Truth(|ask, it| disconnect(ask, it, |ask, d| ask.yes_or_no(&d.here, &d.in_sight))),
    ),
    Fact::stated(
        Kind::Fan,
        "disconnect_distance",
        "How far from the fan is what cuts it off.",
        &[&["systems.*.wiring.disconnect", "systems.*.wiring.disconnect.from_fan"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            disconnect(ask, it, |ask, d| ask.quantity(&d.here, &d.from_fan))
        }),
    ),
    Fact::stated(
        Kind::Fan,
        "circuit",
        "The circuit that feeds the fan.",
        &[CIRCUIT_OF_FAN],
        Get::One(Kind::Circuit, fan_circuit),
    ),
    Fact::stated(
        Kind::Fan,
        "circuits",
        "The circuit that feeds the fan, as a list of at most one.",
        &[CIRCUIT_OF_FAN, super::system::FAN],
        Get::Things(Kind::Circuit, own_circuits),
    ),
    Fact::stated(
        Kind::Fan,
        "cords",
        "The cord of the fan: none or one.",
        &[super::system::CORD, super::system::FAN],
        Get::Things(Kind::Cord, own_cords),
    ),
];
