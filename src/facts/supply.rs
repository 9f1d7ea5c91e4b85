//! Facts of what brings power to a fan: its receptacle, its lamp, buried wire, and the voltage lost on the way.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Listed, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::electrical::{Strands, resistance, voltage_drop};
use crate::design::model::wiring::{Circuit, Guard, Receptacle, Strand, WireGauge, WiringMethod};
use crate::yaml::entry::Entry;

use super::ask::Ask;
use super::catalogue::{Entries, Fact, Get, words};
use super::fan::of_its_system;
use super::kinds::Kind;
use super::system::{self, lacking_receptacle};
use super::things::{SpaceMember, of, thing};
use super::wiring::{circuit, either_holds};

fn receptacle<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Receptacle) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.receptacles, get)
}

fn receptacle_truth<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&'d Receptacle) -> &'d Entry<bool>,
) -> Answer<bool> {
    receptacle(ask, it, |ask, receptacle| ask.yes_or_no(&receptacle.here, get(receptacle)))
}

fn receptacle_space(ask: &mut Ask<'_>, it: Thing) -> Answer<Thing> {
    receptacle(ask, it, |ask, receptacle| {
        let want = receptacle.space.want(&receptacle.here);
        ask.value(&receptacle.here, &receptacle.space).then(|name| ask.space_called(want, name.as_str()))
    })
}

/// Whether a guard is one against current to ground; the word `none` is not.
fn to_ground(guard: Option<&Guard>) -> bool {
    matches!(guard, Some(Guard::GroundFault | Guard::Both))
}

fn circuit_guarded(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    circuit(ask, it, |ask, circuit| ask.read(&circuit.here, &circuit.guard).map(to_ground))
}

/// Whether a receptacle is guarded against current to ground: by itself, or by the circuit it hangs on.
fn receptacle_guarded(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    let own = receptacle(ask, it, |ask, it| ask.read(&it.here, &it.guard).map(to_ground));
    if matches!(own, Answer::Known { value: true, .. }) {
        return own;
    }
    let by_circuit = of_its_system(ask, it, |ask, system| {
        let circuit = system.wiring.known().and_then(|wiring| wiring.circuit.known());
        match circuit {
            Some(circuit) => ask.read(&circuit.here, &circuit.guard).map(to_ground),
            None => Answer::missing(Missing {
                entry: system.here.path.key("wiring").key("circuit").key("guard"),
                ..system.wiring.want(&system.here)
            }),
        }
    });
    either_holds(own, by_circuit)
}

const fn number_of(gauge: WireGauge) -> u32 {
    match gauge {
        WireGauge::Awg18 => 18,
        WireGauge::Awg16 => 16,
        WireGauge::Awg14 => 14,
        WireGauge::Awg12 => 12,
        WireGauge::Awg10 => 10,
        WireGauge::Awg8 => 8,
    }
}

/// The least and the greatest resistance of the wire of a circuit, for each metre.
fn resistances<'d>(ask: &mut Ask<'d>, circuit: &'d Circuit) -> Answer<(Ratio, Ratio)> {
    let want = circuit.wire.want(&circuit.here);
    let strands = match ask.read(&circuit.here, &circuit.strands).value().flatten() {
        Some(Strand::Solid) => (Strands::Solid, Strands::Solid),
        Some(Strand::Stranded) => (Strands::Stranded, Strands::Stranded),
        None => (Strands::Solid, Strands::Stranded),
    };
    ask.value(&circuit.here, &circuit.wire).then(|gauge| {
        let of = |strands| resistance(number_of(*gauge), strands);
        match (of(strands.0), of(strands.1)) {
            (Some(least), Some(greatest)) => Answer::known((least, greatest)),
            _ => {
                let why = "the resistance of that wire is not in the table".to_owned();
                Answer::missing(Missing { reason: Reason::NotComputable(why), ..want })
            }
        }
    })
}

/// # Meaning
/// The voltage that is lost between the panel and the fan.
/// # Formula
/// Twice the length of the wire, times the current, times the resistance of the wire. At least with the fan's current alone,
/// at most with everything else on the circuit hanging at the far end as well.
/// # Valid for
/// Circuits of two copper wires.
/// # Accuracy
/// A range, unless the fan has the circuit to itself and the wire is said to be solid or stranded.
/// # Source
/// Ohm's law; resistances of the National Electrical Code, chapter 9, table 8.
/// # Errors
/// Unknown when the wire, its length or a current is not stated.
/// # Example
/// 100 ft of solid 14 AWG with 0.75 A: 0.4605 V.
fn drop(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let fan = ask.number(it, "fan_load");
    let all = ask.number(it, "load");
    circuit(ask, it, |ask, circuit| {
        let length = ask.quantity(&circuit.here, &circuit.length);
        let by_metre = resistances(ask, circuit);
        let others = circuit.other_loads.want(&circuit.here);
        let strands = circuit.strands.want(&circuit.here);
        length.both(by_metre).both(fan.both(all)).then(|((length, (least, greatest)), (fan, all))| {
            let low = voltage_drop(&length, &fan, &least).low();
            let high = voltage_drop(&length, &all, &greatest).high();
            let mut doubts = Vec::new();
            if fan != all {
                doubts.push(Missing { reason: Reason::Imprecise, ..others });
            }
            if least != greatest {
                doubts.push(Missing { reason: Reason::Imprecise, ..strands });
            }
            Answer::Known { value: Number::between(low, high), doubts }
        })
    })
}

fn light_switched(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    of_its_system(ask, it, |ask, system| {
        let light = system.wiring.known().map(|wiring| (&wiring.here, &wiring.light));
        match light {
            Some((here, light)) => {
                ask.yes_or_no_inside(here, light, "switched", |light| (&light.here, &light.switched))
            }
            None => ask
                .read_inside(&system.here, &system.wiring, "light", |wiring| (&wiring.here, &wiring.light))
                .map(|_| false),
        }
    })
}

fn has_receptacle(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    of_its_system(ask, it, |ask, system| {
        ask.read_inside(&system.here, &system.wiring, "receptacle", |wiring| {
            (&wiring.here, &wiring.receptacle)
        })
        .map(|receptacle| receptacle.is_some())
    })
}

fn wire_buried(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    of_its_system(ask, it, |ask, system| {
        ask.read_inside(&system.here, &system.wiring, "burial", |wiring| (&wiring.here, &wiring.burial))
            .map(|burial| burial.is_some())
    })
}

fn burial(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    of_its_system(ask, it, |ask, system| {
        ask.quantity_inside(&system.here, &system.wiring, "burial", |wiring| (&wiring.here, &wiring.burial))
    })
}

fn lockable(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    of_its_system(ask, it, |ask, system| {
        let disconnect = system.wiring.known().map(|wiring| (&wiring.here, &wiring.disconnect));
        match disconnect {
            Some((here, disconnect)) => {
                ask.yes_or_no_inside(here, disconnect, "lockable", |it| (&it.here, &it.lockable))
            }
            None => ask
                .read_inside(&system.here, &system.wiring, "disconnect", |wiring| {
                    (&wiring.here, &wiring.disconnect)
                })
                .map(|_| false),
        }
    })
}

fn own_receptacles(ask: &mut Ask<'_>, it: Thing) -> Answer<Listed<Thing>> {
    of_its_system(ask, it, |ask, system| {
        let open = lacking_receptacle(ask, system);
        let owner = ask.things().system_of(it).map(|owner| owner.number);
        let items = owner.map(|owner| ask.things().owned(Kind::Receptacle, owner)).unwrap_or_default();
        Answer::known(Listed::open(items, open))
    })
}

fn all_receptacles(ask: &mut Ask<'_>) -> Answer<Listed<Thing>> {
    let open = super::whole::of_systems(ask, |ask, system, _| lacking_receptacle(ask, system));
    Answer::known(Listed::open(ask.things().all(Kind::Receptacle), open))
}

const RECEPTACLE: Entries = &["systems.*.wiring.receptacle"];

const fn of_receptacle(
    name: &'static str,
    meaning: &'static str,
    needs: &'static [Entries],
    get: fn(&mut Ask<'_>, Thing) -> Answer<bool>,
) -> Fact {
    Fact::stated(Kind::Receptacle, name, meaning, needs, Get::Truth(get))
}

/// Facts of what brings power to a fan.
pub(super) const SUPPLY: &[Fact] = &[
    Fact::stated(
        Kind::Design,
        "receptacles",
        "The receptacles at all fans; complete as written.",
        &[&["systems"], system::FAN, RECEPTACLE],
        Get::Things(Kind::Receptacle, |ask, _| all_receptacles(ask)),
    ),
    Fact::stated(
        Kind::Fan,
        "receptacles",
        "The receptacle at the fan: none or one.",
        &[system::FAN, RECEPTACLE],
        Get::Things(Kind::Receptacle, own_receptacles),
    ),
    Fact::stated(
        Kind::Fan,
        "has_receptacle",
        "Whether there is a receptacle at the fan.",
        &[RECEPTACLE],
        Get::Truth(has_receptacle),
    ),
    Fact::stated(
        Kind::Fan,
        "light_switched",
        "Whether there is a lamp at the fan that a switch turns on.",
        &[&["systems.*.wiring.light", "systems.*.wiring.light.switched"]],
        Get::Truth(light_switched),
    ),
    Fact::stated(
        Kind::Fan,
        "disconnect_lockable",
        "Whether what cuts the fan off can be locked open.",
        &[&["systems.*.wiring.disconnect", "systems.*.wiring.disconnect.lockable"]],
        Get::Truth(lockable),
    ),
    Fact::stated(
        Kind::Fan,
        "wiring_method",
        "How the wires to the fan are run.",
        &[&["systems.*.wiring.method"]],
        Get::Word(words::<WiringMethod>, |ask, it| {
            of_its_system(ask, it, |ask, system| {
                ask.value_inside(&system.here, &system.wiring, "method", |w| (&w.here, &w.method))
                    .map(|method| super::ask::word_id(*method))
            })
        }),
    ),
    Fact::stated(
        Kind::Fan,
        "wire_buried",
        "Whether wire to the fan is buried in the ground.",
        &[&["systems.*.wiring.burial"]],
        Get::Truth(wire_buried),
    ),
    Fact::stated(
        Kind::Fan,
        "burial",
        "How deep the wire to the fan is buried.",
        &[&["systems.*.wiring.burial"]],
        Get::Number(Dimension::LENGTH, burial),
    ),
    Fact::stated(
        Kind::Fan,
        "buried_as",
        "How the buried wire is run.",
        &[&["systems.*.wiring.buried_as"]],
        Get::Word(words::<WiringMethod>, |ask, it| {
            of_its_system(ask, it, |ask, system| {
                ask.value_inside(&system.here, &system.wiring, "buried_as", |w| (&w.here, &w.buried_as))
                    .map(|method| super::ask::word_id(*method))
            })
        }),
    ),
    Fact::stated(
        Kind::Fan,
        "wire_under_drive",
        "Whether cars drive over the buried wire.",
        &[&["systems.*.wiring.under_drive"]],
        Get::Truth(|ask, it| super::fan::wiring_truth(ask, it, "under_drive", |wiring| &wiring.under_drive)),
    ),
    Fact::stated(
        Kind::Circuit,
        "voltage",
        "The voltage of the circuit.",
        &[&["systems.*.wiring.circuit.voltage"]],
        Get::Number(Dimension::VOLTAGE, |ask, it| {
            circuit(ask, it, |ask, c| ask.quantity(&c.here, &c.voltage))
        }),
    ),
    Fact {
        of: Kind::Circuit,
        name: "voltage_drop",
        meaning: "The voltage that is lost between the panel and the fan.",
        formula: "twice the length times the current times the resistance of the wire; from the fan alone to all loads at the far end",
        source: "Ohm's law, with the resistances of the National Electrical Code, chapter 9, table 8",
        needs: &[&[
            "systems.*.fan",
            "systems.*.fan.current",
            "systems.*.wiring.circuit.other_loads",
            "systems.*.wiring.circuit.length",
            "systems.*.wiring.circuit.wire",
            "systems.*.wiring.circuit.strands",
        ]],
        get: Get::Number(Dimension::VOLTAGE, drop),
    },
    Fact::stated(
        Kind::Circuit,
        "ground_fault_guarded",
        "Whether the circuit is guarded against current to ground.",
        &[&["systems.*.wiring.circuit.guard"]],
        Get::Truth(circuit_guarded),
    ),
    Fact::stated(
        Kind::Receptacle,
        "fan",
        "The fan at which the receptacle is.",
        &[&["systems.*.fan"]],
        Get::One(Kind::Fan, super::wiring::its_fan),
    ),
    Fact::stated(
        Kind::Receptacle,
        "in",
        "The space in which the receptacle is.",
        &[&["systems.*.wiring.receptacle.in"]],
        Get::One(Kind::Space, receptacle_space),
    ),
    of_receptacle(
        "outdoors",
        "Whether the receptacle is in the open air.",
        &[&["systems.*.wiring.receptacle.in"]],
        |ask, it| {
            receptacle_space(ask, it)
                .map(|space| matches!(ask.things().space(space), Some(SpaceMember::Outdoors)))
        },
    ),
    Fact::stated(
        Kind::Receptacle,
        "from_fan",
        "How far from the fan the receptacle is.",
        &[&["systems.*.wiring.receptacle.from_fan"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            receptacle(ask, it, |ask, r| ask.quantity(&r.here, &r.from_fan))
        }),
    ),
    Fact {
        of: Kind::Receptacle,
        name: "ground_fault_guarded",
        meaning: "Whether the receptacle is guarded against current to ground.",
        formula: "by itself, or by the circuit it hangs on",
        source: "the meaning of the words",
        needs: &[&["systems.*.wiring.receptacle.guard", "systems.*.wiring.circuit.guard"]],
        get: Get::Truth(receptacle_guarded),
    },
    of_receptacle(
        "covered",
        "Whether the cover of the receptacle keeps rain off with the plug in.",
        &[&["systems.*.wiring.receptacle.cover_in_use"]],
        |ask, it| receptacle_truth(ask, it, |r| &r.cover_in_use),
    ),
    of_receptacle(
        "reachable",
        "Whether the receptacle can be reached without tools or ladder.",
        &[&["systems.*.wiring.receptacle.reachable"]],
        |ask, it| receptacle_truth(ask, it, |r| &r.reachable),
    ),
    of_receptacle(
        "guard_reachable",
        "Whether what guards the receptacle can be reached to be tested and set again.",
        &[&["systems.*.wiring.receptacle.guard_reachable"]],
        |ask, it| receptacle_truth(ask, it, |r| &r.guard_reachable),
    ),
    Fact::stated(
        Kind::Receptacle,
        "system",
        "The system at whose fan the receptacle is.",
        &[],
        Get::One(Kind::System, |ask, it| match ask.things().owner(it) {
            Some(owner) => Answer::known(thing(Kind::System, owner)),
            None => ask.cannot(it, "it belongs to no system"),
        }),
    ),
];
