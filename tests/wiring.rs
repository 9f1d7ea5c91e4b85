//! The voltage lost on the way to a fan, and what a fan's curve tells, on the ranch of the examples, worked out by hand.

use undercroft::base::number::{Dimension, Number, Quantity};
use undercroft::base::value::{Answer, Listed, Value};
use undercroft::base::vocabulary::{Answers, ROOT, Thing};
use undercroft::facts::{Facts, vocabulary};

use super::facts::ranch;

const CIRCUIT: &str = "systems.main.wiring.circuit";

fn fact(facts: &mut Facts<'_>, of: Thing, name: &str) -> Answer<Value> {
    facts.ask(vocabulary().find_fact(of.kind, name).unwrap_or_else(|| panic!("no fact {name}")), of)
}

fn things(answer: Answer<Value>) -> Listed<Thing> {
    match answer {
        Answer::Known { value: Value::Things(things), .. } => things,
        other => panic!("{other:?} are no things"),
    }
}

/// A number, and what it is in doubt for.
fn number(answer: Answer<Value>) -> (Number, Vec<String>) {
    match answer {
        Answer::Known { value: Value::Number(number), doubts } => {
            (number, doubts.into_iter().map(|doubt| doubt.entry.to_string()).collect())
        }
        other => panic!("{other:?} is no number"),
    }
}

fn quantity(text: &str, dimension: Dimension) -> Number {
    Quantity::parse(text, dimension).unwrap().number
}

/// The voltage lost on 100 ft of 14 AWG to a fan that takes 0.75 A.
fn lost(changes: &[(&str, &str)]) -> (Number, Vec<String>) {
    let all: Vec<(&str, &str)> = [
        ("systems.main.fan.current", "0.75 A"),
        ("systems.main.wiring.circuit.wire", "14 AWG"),
        ("systems.main.wiring.circuit.length", "100 ft"),
    ]
    .iter()
    .chain(changes)
    .copied()
    .collect();
    let design = ranch(&all, &[]);
    let mut facts = Facts::new(&design);
    let circuits = things(fact(&mut facts, ROOT, "circuits"));
    number(fact(&mut facts, circuits.items[0], "voltage_drop"))
}

#[test]
fn the_voltage_lost_is_exact_for_a_fan_alone_on_wire_that_is_known() {
    // 2 x 100 ft x 0.75 A x 3.07 ohms for 1000 ft = 0.4605 V
    let alone = format!("{CIRCUIT}.other_loads");
    let strands = format!("{CIRCUIT}.strands");
    let (drop, doubts) = lost(&[(&alone, "none"), (&strands, "solid")]);
    assert_eq!(drop, quantity("0.4605 V", Dimension::VOLTAGE));
    assert_eq!(doubts, [""; 0]);
}

#[test]
fn what_is_not_known_of_the_wire_and_the_other_loads_leaves_a_range() {
    // At least the fan alone on solid wire, 0.4605 V; at most 2.4 A of lamps at the far end as well, on stranded wire:
    // 2 x 100 ft x 3.15 A x 3.14 ohms for 1000 ft = 1.9782 V
    let (drop, doubts) = lost(&[]);
    assert_eq!(Number::exact(drop.low()), quantity("0.4605 V", Dimension::VOLTAGE));
    assert_eq!(Number::exact(drop.high()), quantity("1.9782 V", Dimension::VOLTAGE));
    assert_eq!(doubts, [format!("{CIRCUIT}.other_loads"), format!("{CIRCUIT}.strands")]);
}

#[test]
fn a_curve_is_complete_only_from_no_air_to_no_suction() {
    let whole = "[[0 cfm, 4 in WC], [60 cfm, 2 in WC], [100 cfm, 0 in WC]]";
    let backwards = "[[100 cfm, 0 in WC], [60 cfm, 2 in WC], [0 cfm, 4 in WC]]";
    let short = "[[0 cfm, 4 in WC], [60 cfm, 2 in WC]]";
    for (curve, pieces, complete) in [(whole, 2, true), (backwards, 2, true), (short, 1, false)] {
        let design = ranch(&[("systems.main.fan.curve", curve)], &[]);
        let mut facts = Facts::new(&design);
        let fan = things(fact(&mut facts, ROOT, "fans")).items[0];
        let found = things(fact(&mut facts, fan, "curve"));
        assert_eq!(found.items.len(), pieces, "{curve}");
        assert_eq!(found.open.is_empty(), complete, "{curve}");
        for piece in found.items {
            let (least, _) = number(fact(&mut facts, piece, "least_air"));
            let (most, _) = number(fact(&mut facts, piece, "most_air"));
            let (at_least, _) = number(fact(&mut facts, piece, "suction_at_least_air"));
            let (at_most, _) = number(fact(&mut facts, piece, "suction_at_most_air"));
            assert!(least.high() < most.low() && at_least.low() > at_most.high(), "{curve}");
        }
    }
}
