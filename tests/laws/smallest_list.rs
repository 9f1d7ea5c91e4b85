//! The list of what is missing: stating it decides, and nothing on it can be left out.

use std::collections::BTreeSet;

use undercroft::base::number::Ratio;
use undercroft::base::value::{Listed, Value};
use undercroft::base::vocabulary::{Answers, FactId, FactType, Thing};
use undercroft::judge::{About, Verdict, judge_rule};
use undercroft::rulebook::checked::{CheckedRule, Stage};

use super::random::{Kind, Lots, a_rule, all_keys, all_values, know_less, whole_garden};
use super::toy::{Cell, Garden, say_rule};

fn verdict(rule: &CheckedRule, garden: &Garden, about: About) -> Verdict {
    let all = judge_rule(rule, Stage::Operating, &mut garden.clone());
    let decided = all.iter().find(|one| one.about == about).map(|one| one.verdict);
    // A list that is now complete leaves no outcome about what is not on it.
    decided.unwrap_or(Verdict::NotApplicable)
}

/// What an entry may be stated as, given what is already known of it.
fn statements(garden: &Garden, fact: FactId, thing: Thing, of_type: FactType) -> Vec<Value> {
    all_values(of_type)
        .into_iter()
        .filter(|value| match (garden.cells.get(&(fact, thing)), value) {
            (Some(Cell::Within(low, high)), Value::Number(number)) => {
                let value = number.as_exact().unwrap();
                Ratio::from_int(*low) <= *value && *value <= Ratio::from_int(*high)
            }
            (Some(Cell::Open(known) | Cell::OpenBelow(known, _)), Value::Things(listed)) => {
                listed.items.starts_with(known)
            }
            _ => true,
        })
        .collect()
}

/// States an entry. With a list come the fields of the things that are new on it, with a reference those of
/// the thing it names; `kind` says whether rules go on from these to the things that they name.
fn state(garden: &mut Garden, all: &Garden, kind: Kind, (fact, thing): (FactId, Thing), value: &Value) {
    let known = match garden.cells.get(&(fact, thing)) {
        Some(Cell::Open(known) | Cell::OpenBelow(known, _)) => known.clone(),
        _ => Vec::new(),
    };
    let new: Vec<Thing> = match value {
        Value::Things(Listed { items, .. }) => {
            items.iter().filter(|item| !known.contains(item)).copied().collect()
        }
        Value::Thing(thing) => vec![*thing],
        _ => Vec::new(),
    };
    garden.set(fact, thing, Cell::Known(value.clone()));
    for ((fact, of), cell) in &all.cells {
        if new.contains(of) {
            garden.set(*fact, *of, cell.clone());
            if let (Cell::Known(Value::Thing(next)), Kind::Rich) = (cell, kind) {
                for ((fact, of), cell) in &all.cells {
                    if of == next {
                        garden.set(*fact, *of, cell.clone());
                    }
                }
            }
        }
    }
}

type Key = (FactId, Thing, FactType);

fn keys_of(garden: &Garden, entries: &BTreeSet<String>) -> Vec<Key> {
    all_keys(garden)
        .into_iter()
        .filter(|(fact, thing, _)| entries.contains(garden.entry(*fact, *thing).as_str()))
        .collect()
}

/// Every way to state some entries; `None` when there are too many to try.
fn every_way(garden: &Garden, keys: &[Key]) -> Option<Vec<Vec<Value>>> {
    let mut ways: Vec<Vec<Value>> = vec![Vec::new()];
    for (fact, thing, of_type) in keys {
        let values = statements(garden, *fact, *thing, *of_type);
        if ways.len() * values.len() > 1_000 {
            return None;
        }
        ways = ways
            .into_iter()
            .flat_map(|way| {
                values.iter().map(move |value| {
                    let mut longer = way.clone();
                    longer.push(value.clone());
                    longer
                })
            })
            .collect();
    }
    Some(ways)
}

fn stated(garden: &Garden, all: &Garden, kind: Kind, keys: &[Key], values: &[Value]) -> Garden {
    let mut garden = garden.clone();
    // Lists first: stating one states fields that an entry of its own may state otherwise.
    for lists_first in [true, false] {
        for ((fact, thing, of_type), value) in keys.iter().zip(values) {
            if matches!(of_type, FactType::Things(_) | FactType::One(_)) == lists_first {
                state(&mut garden, all, kind, (*fact, *thing), value);
            }
        }
    }
    garden
}

#[test]
fn stating_what_is_missing_decides_whatever_it_turns_out_to_be() {
    let mut tried = 0;
    for seed in 0..3_000 {
        let mut lots = Lots::new(3_000_000 + seed);
        let rule = a_rule(&mut lots, Kind::Rich);
        let all = whole_garden(&mut lots);
        let garden = know_less(&all, &mut lots, 3);
        for one in judge_rule(&rule, Stage::Operating, &mut garden.clone()) {
            if one.verdict != Verdict::Undetermined {
                continue;
            }
            let entries: BTreeSet<String> =
                one.missing.iter().map(|missing| missing.entry.to_string()).collect();
            if entries.contains("") {
                continue; // The rule divides by nought: no entry has a part in it.
            }
            let keys = keys_of(&garden, &entries);
            assert_eq!(keys.len(), entries.len(), "seed {seed}: an entry that nobody has: {entries:?}");
            let whole = keys.iter().map(|(fact, thing, of_type)| {
                let values = statements(&garden, *fact, *thing, *of_type);
                (values.len(), values)
            });
            let whole: Vec<_> = whole.collect();
            for _ in 0..4 {
                let values: Vec<Value> = whole.iter().map(|(_, values)| lots.pick(values)).collect();
                let after = stated(&garden, &all, Kind::Rich, &keys, &values);
                tried += 1;
                let now = verdict(&rule, &after, one.about);
                let hopeless = divides_by_nought(&rule) || least_of_none(&rule);
                assert!(
                    now != Verdict::Undetermined || hopeless,
                    "seed {seed}, {:?}: {entries:?} as {values:?} does not decide\n{}\n{}",
                    one.about,
                    say_rule(&rule),
                    garden.say()
                );
            }
        }
    }
    assert!(tried > 3_000, "{tried} statements prove little");
}

fn mentions(rule: &CheckedRule, wanted: impl Fn(&undercroft::rulebook::expr::typed::Node) -> bool) -> bool {
    let mut found = false;
    for expr in rule.applies.iter().chain([&rule.requires]) {
        expr.walk(&mut |part| found |= wanted(&part.node));
    }
    found
}

/// Dividing by what turns out to be nought cannot be told, whatever is stated.
fn divides_by_nought(rule: &CheckedRule) -> bool {
    use undercroft::rulebook::expr::typed::{Arithmetic, Node};
    mentions(rule, |node| matches!(node, Node::Calculate(Arithmetic::Divide, _, _)))
}

/// The least of none cannot be told either.
fn least_of_none(rule: &CheckedRule) -> bool {
    use undercroft::rulebook::expr::typed::Node;
    mentions(rule, |node| matches!(node, Node::Least(..) | Node::Greatest(..)))
}

#[test]
fn nothing_on_the_list_can_be_left_out() {
    let (mut lists, mut longest) = (0, 0);
    let others: Vec<Garden> = (0..40).map(|seed| whole_garden(&mut Lots::new(5_000_000 + seed))).collect();
    for seed in 0..3_000 {
        let mut lots = Lots::new(4_000_000 + seed);
        let rule = a_rule(&mut lots, Kind::Plain);
        let all = whole_garden(&mut lots);
        let garden = know_less(&all, &mut lots, 4);
        for one in judge_rule(&rule, Stage::Operating, &mut garden.clone()) {
            if one.verdict != Verdict::Undetermined {
                continue;
            }
            let entries: BTreeSet<String> =
                one.missing.iter().map(|missing| missing.entry.to_string()).collect();
            let keys = keys_of(&garden, &entries);
            let Some(ways) = every_way(&garden, &keys) else { continue };
            for values in &ways {
                let after = stated(&garden, &all, Kind::Plain, &keys, values);
                assert_ne!(
                    verdict(&rule, &after, one.about),
                    Verdict::Undetermined,
                    "seed {seed}, {:?}: {entries:?} as {values:?} does not decide\n{}\n{}",
                    one.about,
                    say_rule(&rule),
                    garden.say()
                );
            }
            for left_out in 0..keys.len() {
                let mut fewer = keys.clone();
                let (fact, thing, _) = fewer.remove(left_out);
                let Some(ways) = every_way(&garden, &fewer) else { continue };
                // Things that come to light may be like anything.
                let needed = others.iter().chain([&all]).any(|all| {
                    ways.iter().any(|values| {
                        let after = stated(&garden, all, Kind::Plain, &fewer, values);
                        verdict(&rule, &after, one.about) == Verdict::Undetermined
                    })
                });
                assert!(
                    needed,
                    "seed {seed}, {:?}: of {entries:?}, {} of {} can be left out\n{}\n{}",
                    one.about,
                    garden.vocabulary.fact(fact).unwrap().name,
                    garden.name_of(thing),
                    say_rule(&rule),
                    garden.say()
                );
            }
            lists += 1;
            longest = longest.max(keys.len());
        }
    }
    assert!(lists > 500 && longest >= 4, "{lists} lists, the longest of {longest}, prove little");
}
