//! Facts of the cord and the circuit of a fan.

use crate::base::number::{Dimension, Number};
use crate::base::value::{Answer, Listed};
use crate::base::vocabulary::Thing;
use crate::design::model::wiring::{Circuit, Cord, Guard};

use super::ask::Ask;
use super::catalogue::{Entries, Fact, Get, words};
use super::fan::of_its_system;
use super::kinds::Kind;
use super::things::{of, thing};

fn cord<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Cord) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.cords, get)
}

pub(super) fn circuit<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Circuit) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.circuits, get)
}

/// The fan of the system that a cord or circuit belongs to.
pub(super) fn its_fan(ask: &mut Ask<'_>, it: Thing) -> Answer<Thing> {
    let fan = ask.things().owner(it).and_then(|owner| ask.things().owned(Kind::Fan, owner).first().copied());
    match fan {
        Some(fan) => Answer::known(fan),
        None => of_its_system(ask, it, |ask, system| {
            let _ = ask.read(&system.here, &system.fan);
            Answer::missing(system.fan.want(&system.here))
        }),
    }
}

fn through_wall(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    cord(ask, it, |ask, cord| {
        let through = ask.yes_or_no(&cord.here, &cord.through_wall);
        let hidden = ask.yes_or_no(&cord.here, &cord.hidden);
        either_holds(through, hidden)
    })
}

/// Whether at least one of two holds: known as soon as one does.
pub(super) fn either_holds(one: Answer<bool>, other: Answer<bool>) -> Answer<bool> {
    match (&one, &other) {
        (Answer::Known { value: true, .. }, _) => one,
        (_, Answer::Known { value: true, .. }) => other,
        _ => one.both(other).map(|(a, b)| a || b),
    }
}

/// What else hangs on a circuit, in all.
fn other_loads(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    circuit(ask, it, |ask, circuit| {
        ask.read(&circuit.here, &circuit.other_loads).then(|loads| {
            let Some(loads) = loads else { return Answer::known(Number::whole(0)) };
            let found = loads.items.iter().map(|item| {
                item.answer().then(|load| match load {
                    Some(load) => super::ask::as_stated(load.number(), || item.want()),
                    None => Answer::known(Number::whole(0)),
                })
            });
            Answer::all(found).map(|loads| Number::sum(&loads))
        })
    })
}

fn fan_load(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    its_fan(ask, it).then(|fan| ask.number(fan, "current"))
}

/// # Meaning
/// The whole load on a circuit with the fan running.
/// # Formula
/// The fan's current and those of everything else on the circuit, added up.
/// # Valid for
/// Circuits that state what else hangs on them, or `none`.
/// # Accuracy
/// Exact for exact currents.
/// # Source
/// Currents of loads side by side add up; taken as all in phase, which is the greatest they can be.
/// # Errors
/// Unknown when the fan's current or the other loads are not stated.
/// # Example
/// 0.9 A and 2.4 A: 3.3 A.
fn load(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    fan_load(ask, it).both(other_loads(ask, it)).map(|(fan, others)| &fan + &others)
}

fn feeds_only_the_fan(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    circuit(ask, it, |ask, circuit| {
        ask.read(&circuit.here, &circuit.other_loads)
            .map(|loads| loads.is_none_or(|loads| loads.items.is_empty()))
    })
}

const LOADS: Entries = &["systems.*.fan.current", "systems.*.wiring.circuit.other_loads"];

/// Facts of cords and circuits.
pub(super) const WIRING: &[Fact] = &[
    Fact::stated(
        Kind::Cord,
        "fan",
        "The fan that the cord feeds.",
        &[&["systems.*.fan"]],
        Get::One(Kind::Fan, its_fan),
    ),
    Fact::stated(
        Kind::Cord,
        "length",
        "How long the cord is.",
        &[&["systems.*.wiring.cord.length"]],
        Get::Number(Dimension::LENGTH, |ask, it| cord(ask, it, |ask, c| ask.quantity(&c.here, &c.length))),
    ),
    Fact {
        of: Kind::Cord,
        name: "through_wall",
        meaning: "Whether the cord goes through a wall, a floor or a ceiling, or is hidden.",
        formula: "either is stated",
        source: "the entries",
        needs: &[&["systems.*.wiring.cord.through_wall", "systems.*.wiring.cord.hidden"]],
        get: Get::Truth(through_wall),
    },
    Fact::stated(
        Kind::Circuit,
        "rating",
        "The rating of the circuit's breaker.",
        &[&["systems.*.wiring.circuit.breaker"]],
        Get::Number(Dimension::CURRENT, |ask, it| {
            circuit(ask, it, |ask, c| ask.quantity(&c.here, &c.breaker))
        }),
    ),
    Fact {
        of: Kind::Circuit,
        name: "load",
        meaning: "The whole load on the circuit with the fan running.",
        formula: "the fan's current and those of everything else on the circuit, added up",
        source: "currents side by side add up, taken as all in phase",
        needs: &[LOADS, &["systems.*.fan"]],
        get: Get::Number(Dimension::CURRENT, load),
    },
    Fact {
        of: Kind::Circuit,
        name: "fan_load",
        meaning: "The current of the fan on the circuit.",
        formula: "the fan's current",
        source: "the maker's sheet",
        needs: &[&["systems.*.fan", "systems.*.fan.current"]],
        get: Get::Number(Dimension::CURRENT, fan_load),
    },
    Fact::stated(
        Kind::Circuit,
        "own",
        "Whether the circuit feeds the fan and nothing else.",
        &[&["systems.*.wiring.circuit.other_loads"]],
        Get::Truth(feeds_only_the_fan),
    ),
    Fact::stated(
        Kind::Circuit,
        "labelled",
        "Whether the panel says what the circuit feeds.",
        &[&["systems.*.wiring.circuit.panel_labelled"]],
        Get::Truth(|ask, it| circuit(ask, it, |ask, c| ask.yes_or_no(&c.here, &c.panel_labelled))),
    ),
    Fact::stated(
        Kind::Circuit,
        "guard",
        "What guards the circuit against shock and fire.",
        &[&["systems.*.wiring.circuit.guard"]],
        Get::Word(words::<Guard>, |ask, it| circuit(ask, it, |ask, c| ask.stated_word(&c.here, &c.guard))),
    ),
    Fact::stated(
        Kind::Circuit,
        "systems",
        "The system whose fan the circuit feeds, as a list of one.",
        &[],
        Get::Things(Kind::System, |ask, it| {
            let system = ask.things().owner(it).map(|owner| thing(Kind::System, owner));
            Answer::known(Listed::closed(system.into_iter().collect()))
        }),
    ),
];
