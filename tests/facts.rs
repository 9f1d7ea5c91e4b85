//! The catalogue of facts: what every fact says of itself, what it looks at, and what it comes to on designs that
//! were worked out by hand.

use std::collections::{BTreeMap, BTreeSet};

use undercroft::base::number::{Comparison, Dimension, Number, Quantity, Ratio};
use undercroft::base::text::Source;
use undercroft::base::text::SourceId;
use undercroft::base::truth::Truth;
use undercroft::base::value::{Answer, Listed, Reason, Value};
use undercroft::base::vocabulary::{Answers, FactId, FactType, KindId, ROOT, Thing};
use undercroft::design::{Design, read};
use undercroft::facts::{Facts, catalogue, vocabulary};

/// The designs under `examples/`, with their names.
fn examples() -> Vec<(String, String)> {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let mut found: Vec<(String, String)> = std::fs::read_dir(root)
        .unwrap()
        .filter_map(|folder| {
            let folder = folder.unwrap().path();
            let text = std::fs::read_to_string(folder.join("design.yaml")).ok()?;
            Some((folder.file_name().unwrap().to_string_lossy().into_owned(), text))
        })
        .collect();
    found.sort();
    assert!(found.len() >= 4, "the examples were not found");
    found
}

pub(super) fn design(text: &str) -> Design {
    let source = Source::new("design.yaml", text);
    let (tree, problems) = undercroft::yaml::scan::read(SourceId(0), source.text());
    assert!(problems.is_empty(), "{problems:#?}");
    read(&source, &tree).0
}

/// The value of a path such as `openings.kitchen_window.clearance`: a list at the root, a name in it, a fact.
pub(super) fn ask(facts: &mut Facts<'_>, list: &str, name: &str, fact: &str) -> Answer<Value> {
    let thing = thing(facts, list, name);
    let id = vocabulary().find_fact(thing.kind, fact).unwrap_or_else(|| panic!("no fact {fact}"));
    facts.ask(id, thing)
}

pub(super) fn listed(facts: &mut Facts<'_>, list: &str) -> Listed<Thing> {
    let id = vocabulary().find_fact(ROOT.kind, list).unwrap_or_else(|| panic!("no list {list}"));
    match facts.ask(id, ROOT) {
        Answer::Known { value: Value::Things(things), .. } => things,
        other => panic!("{list}: {other:?}"),
    }
}

pub(super) fn thing(facts: &mut Facts<'_>, list: &str, name: &str) -> Thing {
    let things = listed(facts, list);
    let found = things.items.iter().find(|it| facts.name_of(**it) == name).copied();
    found.unwrap_or_else(|| panic!("no {name} in {list}"))
}

pub(super) fn length(text: &str) -> Number {
    Quantity::parse(text, Dimension::LENGTH).unwrap().number
}

pub(super) fn known(answer: Answer<Value>) -> Value {
    match answer {
        Answer::Known { value, .. } => value,
        Answer::Unknown(missing) => panic!("unknown for want of {missing:#?}"),
    }
}

pub(super) fn number(answer: Answer<Value>) -> Number {
    match known(answer) {
        Value::Number(number) => number,
        other => panic!("{other:?} is no number"),
    }
}

pub(super) fn wanting(answer: Answer<Value>) -> Vec<String> {
    match answer {
        Answer::Unknown(missing) => missing.into_iter().map(|missing| missing.entry.to_string()).collect(),
        Answer::Known { value, .. } => panic!("known: {value:?}"),
    }
}

#[test]
fn every_fact_says_what_it_is_and_where_it_comes_from() {
    let mut seen = BTreeSet::new();
    for fact in catalogue::all() {
        let name = format!("{:?}.{}", fact.of, fact.name);
        assert!(seen.insert(name.clone()), "{name} stands twice");
        assert!(fact.meaning.ends_with('.') && fact.meaning.len() > 15, "{name}: {}", fact.meaning);
        assert_eq!(fact.formula.is_empty(), fact.source.is_empty(), "{name}: a formula has a source");
        let plain = fact.name.chars().all(|c| c.is_ascii_lowercase() || c == '_');
        assert!(plain, "{name} is not a plain word");
    }
    let vocabulary = vocabulary();
    assert_eq!(vocabulary.facts.len(), seen.len());
    let kinds: BTreeSet<&str> = vocabulary.kinds.iter().map(|kind| kind.name.as_str()).collect();
    assert_eq!(kinds.len(), vocabulary.kinds.len(), "two kinds of one name");
    let lists: BTreeSet<&str> = vocabulary.words.iter().map(|list| list.name.as_str()).collect();
    assert_eq!(lists.len(), vocabulary.words.len(), "two lists of words of one name");
    for list in &vocabulary.words {
        let words: BTreeSet<&str> = list.words.iter().map(|(word, _)| word.as_str()).collect();
        assert_eq!(words.len(), list.words.len(), "{}: a word stands twice", list.name);
        assert!(list.words.iter().all(|(_, meaning)| !meaning.is_empty()), "{}", list.name);
    }
    // Every kind but the whole is reached from somewhere.
    for (at, kind) in vocabulary.kinds.iter().enumerate().skip(1) {
        let id = KindId(u16::try_from(at).unwrap());
        let reached = vocabulary.facts.iter().any(|fact| match fact.of_type {
            FactType::One(kind) | FactType::Things(kind) => kind == id,
            _ => false,
        });
        assert!(reached, "nothing leads to {}", kind.name);
    }
}

/// Whether a path is one that a pattern speaks of: `*` is one name, `**` is any rest.
fn fits(pattern: &str, path: &str) -> bool {
    let path = path.replace('[', ".").replace(']', "");
    let pattern = pattern.replace('[', ".").replace(']', "");
    let (mut pattern, mut path) = (pattern.split('.'), path.split('.'));
    loop {
        match (pattern.next(), path.next()) {
            (Some("**"), _) => return true,
            (Some("*"), Some(_)) => {}
            (Some(a), Some(b)) if a == b => {}
            (None, None) => return true,
            _ => return false,
        }
    }
}

#[test]
fn a_fact_looks_at_no_entry_of_an_example_that_it_does_not_name() {
    let mut wrong = BTreeMap::new();
    for (name, text) in examples() {
        let design = design(&text);
        let mut facts = Facts::new(&design);
        for (number, fact) in catalogue::all().enumerate() {
            let id = undercroft::base::vocabulary::FactId(u16::try_from(number).unwrap());
            for thing in facts.things().all(fact.of) {
                for path in facts.looked_at(id, thing) {
                    let whole = path.as_str().split('[').next().unwrap();
                    let named = |path: &str| fact.entries().iter().any(|pattern| fits(pattern, path));
                    if !named(path.as_str()) && !named(whole) {
                        wrong
                            .entry(format!("{:?}.{}", fact.of, fact.name))
                            .or_insert_with(BTreeSet::new)
                            .insert(format!("{path} in {name}"));
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn what_is_told_from_what_is_reckoned_counts_as_reckoned() {
    let catalogued: Vec<_> = catalogue::all().collect();
    let mut wrong = BTreeSet::new();
    for (_, text) in examples() {
        let design = design(&text);
        let mut facts = Facts::new(&design);
        for (number, fact) in catalogued.iter().enumerate().filter(|(_, fact)| !fact.is_reckoned()) {
            let id = FactId(u16::try_from(number).unwrap());
            for thing in facts.things().all(fact.of) {
                for (asked, _) in facts.directly(id, thing).0 {
                    let asked = catalogued[usize::from(asked.0)];
                    if asked.is_reckoned() {
                        wrong.insert(format!("{:?}.{} asks {}", fact.of, fact.name, asked.name));
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn every_entry_that_a_fact_names_is_a_key_of_the_file() {
    let schema = include_str!("../schemas/design.schema.json");
    let mut wrong = BTreeSet::new();
    for fact in catalogue::all() {
        for pattern in fact.entries() {
            // The coordinates of a point stand in a list and have no keys; the members of a list are counted.
            let steps = pattern
                .split(['.', '[', ']'])
                .filter(|step| !matches!(*step, "" | "*" | "**" | "x" | "y" | "z"));
            for step in steps.filter(|step| step.parse::<usize>().is_err()) {
                if !schema.contains(&format!("\"{step}\": {{")) {
                    wrong.insert(format!("{pattern}: {step}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn asking_twice_works_nothing_out_twice() {
    let text = &examples()[0].1;
    let design = design(text);
    let mut facts = Facts::new(&design);
    let all = |facts: &mut Facts<'_>| {
        let mut answers = Vec::new();
        for (number, fact) in catalogue::all().enumerate() {
            let id = undercroft::base::vocabulary::FactId(u16::try_from(number).unwrap());
            for thing in facts.things().all(fact.of) {
                answers.push(facts.ask(id, thing));
            }
        }
        answers
    };
    let first = all(&mut facts);
    let worked_out = facts.worked_out();
    assert_eq!(all(&mut facts), first);
    assert_eq!(facts.worked_out(), worked_out);
}

/// The ranch of the examples, with another text in place of some of its own.
pub(super) fn ranch(changes: &[(&str, &str)], removals: &[&str]) -> Design {
    let text = &examples()[0].1;
    design(&undercroft::yaml::splice::lay_over(text, changes, removals).unwrap())
}

const KITCHEN: &str = "building.openings.kitchen_window";

#[test]
fn the_kitchen_window_of_the_ranch_is_as_far_off_as_by_hand() {
    // The stack rises 5 ft 6 in from the fan at (30, 14, 18.5) ft: its outlet is at (30, 14, 24) ft.
    // The window's nearest corner in plan is (21, 24): sqrt(9^2 + 10^2) = 13.45362 ft from the middle,
    // less half of 4 1/2 in (0.1875 ft) is 13.26612 ft. Its top is at 15 ft 4 in, 8 2/3 ft below.
    // sqrt(13.26612^2 + 8.66667^2) = 15.84617 ft
    let design = ranch(&[], &[]);
    let mut facts = Facts::new(&design);
    let (low, high) = number(ask(&mut facts, "openings", "kitchen_window", "clearance")).to_f64_bounds();
    let by_hand = 15.84617 * 0.3048;
    assert!((low - by_hand).abs() < 1e-5 && (high - by_hand).abs() < 1e-5, "{low} to {high}");
    assert!(high - low < 1e-9, "narrower than a nanometre");
    let drop = number(ask(&mut facts, "openings", "kitchen_window", "top_below_discharge"));
    assert_eq!(drop, length("8 ft 8 in"));
    // The string drawn tight is the straight tape where nothing solid stands about, and unknown until somebody says so.
    let nobody_looked = ranch(&[("looked_for.obstacles", "unknown")], &[]);
    let mut facts = Facts::new(&nobody_looked);
    let around = ask(&mut facts, "openings", "kitchen_window", "around");
    assert_eq!(wanting(around), [format!("{KITCHEN}.from_discharge.around")]);
    let nothing_stands = ranch(&[("building.obstacles", "none")], &[]);
    let mut facts = Facts::new(&nothing_stands);
    let straight = ask(&mut facts, "openings", "kitchen_window", "clearance");
    assert_eq!(ask(&mut facts, "openings", "kitchen_window", "around"), straight);
}

#[test]
fn a_window_that_faces_the_pipe_squarely_has_an_exact_distance() {
    // 10 ft north of the middle, less 2 1/4 in: 117.75 in; 8 ft 8 in below: 104 in.
    // 117.75^2 + 104^2 = 24681.0625 square inches, and a square inch is 0.0254^2 square metres.
    let corners = "[[28 ft, 24 ft, 11 ft 8 in], [32 ft, 24 ft, 15 ft 4 in]]";
    let design = ranch(&[(&format!("{KITCHEN}.corners"), corners)], &[]);
    let mut facts = Facts::new(&design);
    let square = Ratio::new(246_810_625, 10_000).unwrap() * Ratio::new(64_516, 100_000_000).unwrap();
    assert_eq!(number(ask(&mut facts, "openings", "kitchen_window", "clearance")), Number::root(square));
}

#[test]
fn heights_of_the_ranch_are_those_worked_out_by_hand() {
    let design = ranch(&[], &[]);
    let mut facts = Facts::new(&design);
    for (fact, by_hand) in [
        ("height", "24 ft"),
        ("above_nearest_ground", "17 ft 6 in"), // 24 ft less 6 ft 6 in
        ("above_highest_ground", "17 ft 6 in"),
        ("above_roof_edge", "6 ft 10 in"), // 24 ft less 17 ft 2 in
        ("above_highest_eave", "6 ft 10 in"),
        ("above_roof_surface", "22 in"),
        ("outside_diameter", "4 1/2 in"),
    ] {
        assert_eq!(number(ask(&mut facts, "discharges", "discharge", fact)), length(by_hand), "{fact}");
    }
    assert_eq!(known(ask(&mut facts, "discharges", "discharge", "through_roof")), Value::Truth(true));
    assert_eq!(known(ask(&mut facts, "fans", "fan", "below_ground")), Value::Truth(false));
    assert_eq!(
        number(ask(&mut facts, "circuits", "circuit", "load")),
        Quantity::parse("3.3 A", Dimension::CURRENT).unwrap().number
    );
}

#[test]
fn the_stack_alone_is_under_pressure() {
    let design = ranch(&[], &[]);
    let mut facts = Facts::new(&design);
    for (run, after_the_fan) in [
        ("stack", true),
        ("riser", false),
        ("ceiling", false),
        ("drop", false),
        ("crawl_side", false),
        ("crawl_drop", false),
    ] {
        assert_eq!(known(ask(&mut facts, "runs", run, "downstream")), Value::Truth(after_the_fan), "{run}");
    }
    // 8 ft at 1/4 in per ft falls 2 in; sqrt(96^2 + 2^2) = sqrt(9220) in.
    let square = Ratio::from(9220) * Ratio::new(64_516, 100_000_000).unwrap();
    assert_eq!(number(ask(&mut facts, "runs", "ceiling", "length")), Number::root(square));
}

#[test]
fn distances_by_tape_need_every_part() {
    let tape =
        |text: &str| ranch(&[(&format!("{KITCHEN}.from_discharge"), text)], &[&format!("{KITCHEN}.corners")]);
    let clearance = |text: &str| {
        let design = tape(text);
        let mut facts = Facts::new(&design);
        ask(&mut facts, "openings", "kitchen_window", "clearance")
    };
    // 12 ft along, 5 ft down: 13 ft. 3 ft along, 4 ft out, 12 ft down: 13 ft.
    assert_eq!(number(clearance("{left: 12 ft, out: 0 ft, top_below: 5 ft}")), length("13 ft"));
    assert_eq!(number(clearance("{right: 3 ft, out: 4 ft, top_below: 12 ft}")), length("13 ft"));
    assert_eq!(number(clearance("{away: 12 ft, top_below: 5 ft}")), length("13 ft"));
    assert_eq!(number(clearance("{straight: 9 ft 6 in}")), length("9 ft 6 in"));
    // An opening that stands across the height of the outlet is level with it.
    assert_eq!(number(clearance("{away: 12 ft, top_above: 1 ft, bottom_below: 2 ft}")), length("12 ft"));
    let part = |key: &str| vec![format!("{KITCHEN}.from_discharge.{key}")];
    assert_eq!(wanting(clearance("{left: 12 ft, top_below: 5 ft}")), part("out"));
    assert_eq!(wanting(clearance("{left: 12 ft, out: 0 ft}")), part("top_below"));
    assert_eq!(wanting(clearance("{top_below: 5 ft}")), part("straight"));
}

#[test]
fn two_statements_that_contradict_each_other_leave_the_range_between_them() {
    // The stack says 24 ft; the height says 23 ft.
    let design = ranch(&[("systems.main.discharge.height", "23 ft")], &[]);
    let mut facts = Facts::new(&design);
    let Answer::Known { value, doubts } = ask(&mut facts, "discharges", "discharge", "height") else {
        panic!("a range")
    };
    assert_eq!(value, Value::Number(Number::between(length("23 ft").low(), length("24 ft").high())));
    let told: Vec<&str> = doubts.iter().map(|doubt| doubt.entry.as_str()).collect();
    assert!(told.contains(&"systems.main.discharge.height"), "{told:?}");
    assert!(doubts.iter().all(|doubt| doubt.reason == Reason::Contradiction));
    let problems = undercroft::facts::contradictions::contradictions(&mut facts, &Default::default());
    let kinds: Vec<_> = problems.iter().map(|problem| problem.kind.name()).collect();
    assert_eq!(kinds, ["contradiction"], "{problems:#?}");
    // The window is then known only within bounds as well.
    let below = number(ask(&mut facts, "openings", "kitchen_window", "top_below_discharge"));
    assert_eq!(below, Number::between(length("7 ft 8 in").low(), length("8 ft 8 in").high()));
}

#[test]
fn a_ring_is_unknown_for_all_of_it_whoever_asks_first() {
    let design = ranch(&[("systems.main.runs.riser.from", "drop")], &[]);
    let runs = ["riser", "ceiling", "drop", "crawl_side"];
    for first in runs {
        let mut facts = Facts::new(&design);
        let _ = ask(&mut facts, "runs", first, "downstream");
        for run in runs {
            let Answer::Unknown(why) = ask(&mut facts, "runs", run, "downstream") else {
                panic!("{run} is known")
            };
            assert!(
                why.iter().all(|missing| missing.reason == Reason::Circular),
                "{run} after {first}: {why:?}"
            );
        }
        assert_eq!(known(ask(&mut facts, "runs", "stack", "downstream")), Value::Truth(true));
    }
}

#[test]
fn lists_of_what_the_building_has_are_open_until_somebody_looked() {
    let open = |design: &Design, list: &str| {
        let mut facts = Facts::new(design);
        listed(&mut facts, list)
            .open
            .into_iter()
            .map(|missing| (missing.entry.to_string(), missing.reason))
            .collect::<Vec<_>>()
    };
    let whole = ("looked_for.openings.within", "whole building");
    assert!(open(&ranch(&[whole], &[]), "openings").is_empty());
    assert!(open(&ranch(&[("looked_for.openings.within", "5 ft of building")], &[]), "openings").is_empty());
    let not_looked = ranch(&[], &["looked_for.openings"]);
    assert_eq!(open(&not_looked, "openings"), [("looked_for.openings".to_owned(), Reason::NotSaidComplete)]);
    let unknown = ranch(&[("looked_for.openings", "unknown")], &[]);
    assert_eq!(open(&unknown, "openings"), [("looked_for.openings".to_owned(), Reason::StatedUnknown)]);
    // `none` is a statement of its own.
    assert!(open(&ranch(&[("building.openings", "none")], &["looked_for.openings"]), "openings").is_empty());
    assert!(open(&ranch(&[], &[]), "sumps").is_empty());
    assert_eq!(open(&ranch(&[], &["foundation.sumps"]), "sumps")[0].0, "looked_for.sumps");
    // What is built is complete as written, once it is written.
    assert!(open(&ranch(&[], &[]), "runs").is_empty());
    let no_runs = ranch(&[], &["systems.main.runs"]);
    assert_eq!(open(&no_runs, "runs"), [("systems.main.runs".to_owned(), Reason::NotStated)]);
}

/// Numbers of things that are not on a list, with what each is never below, in feet.
type Farther = Vec<(String, i64)>;

/// The entries that keep a list open, with the reason, and what is known of things that are not on it, in feet.
fn beyond(design: &Design, list: &str) -> (Vec<(String, Reason)>, Farther) {
    let mut facts = Facts::new(design);
    let found = listed(&mut facts, list);
    let open = found.open.into_iter().map(|missing| (missing.entry.to_string(), missing.reason)).collect();
    let name = |fact: FactId| vocabulary().fact(fact).unwrap().name.clone();
    let foot = length("1 ft").as_exact().unwrap().reciprocal().unwrap();
    let feet = |number: &Number| (number.as_exact().unwrap() * &foot).to_int();
    let always = found.others.iter().filter(|known| known.way == 0);
    let others = always.map(|known| (name(known.fact), feet(&known.number).unwrap())).collect();
    (open, others)
}

#[test]
fn a_look_tells_how_far_the_others_are_and_no_more() {
    let looked = |list: &str, look: &str| {
        let path = format!("looked_for.{list}");
        let facts = if list == "neighbours" { "neighbour_openings" } else { list };
        let facts = if list == "walls_above" { "walls_above_roof" } else { facts };
        let own = format!("building.{list}");
        let own = ["openings", "intakes", "neighbours", "appliances"].contains(&list).then_some(own.as_str());
        beyond(&ranch(&[(&path, look)], own.as_slice()), facts)
    };
    let only = |list: &str, far: &str| {
        vec![(format!("looked_for.{list}.within"), Reason::LookedOnly(far.to_owned()))]
    };
    let named = |names: &[&str], feet: i64| -> Vec<(String, i64)> {
        names.iter().map(|name| ((*name).to_owned(), feet)).collect()
    };
    let near = "{within: 5 ft of discharge, by: J. Ames}";
    let far = "{within: 40 ft of building, by: J. Ames}";
    let whole = "{within: whole building, by: J. Ames}";
    let by_sight = ["clearance", "around"];
    for (list, facts) in [
        ("openings", &by_sight[..]),
        ("intakes", &by_sight[..1]),
        ("chimneys", &by_sight[..1]),
        ("walls_above", &["across"]),
    ] {
        assert_eq!(looked(list, near), (only(list, "5 ft of discharge"), named(facts, 5)), "{list}");
        assert_eq!(looked(list, far), (vec![], vec![]), "{list}");
        assert_eq!(looked(list, whole), (vec![], vec![]), "{list}");
    }
    for (list, facts) in [("neighbours", &by_sight[..]), ("walking_surfaces", &["across"])] {
        assert_eq!(looked(list, near), (only(list, "5 ft of discharge"), named(facts, 5)), "{list}");
        // What opens next door lies that far to the side at every height, for our building and the pipe on it do.
        let to_the_side = if list == "neighbours" { &["clearance", "around", "across"][..] } else { facts };
        let far_off = named(to_the_side, 40);
        assert_eq!(looked(list, far), (only(list, "40 ft of building"), far_off), "{list}");
        // What stands elsewhere is not in or at the building.
        assert_eq!(looked(list, whole), (only(list, "whole building"), vec![]), "{list}");
    }
    // What is in the building was looked for in all of it, unless somebody says otherwise.
    assert_eq!(looked("appliances", "{by: J. Ames}"), (vec![], vec![]));
    assert_eq!(looked("appliances", far), (vec![], vec![]));
    assert_eq!(looked("appliances", near), (only("appliances", "5 ft of discharge"), vec![]));
}

#[test]
fn a_look_without_its_distance_or_with_something_not_seen_closes_nothing() {
    let looked = |look: &str| beyond(&ranch(&[("looked_for.openings", look)], &[]), "openings");
    let lacks = |key: &str, reason: Reason| (vec![(format!("looked_for.openings.{key}"), reason)], vec![]);
    assert_eq!(looked("{by: J. Ames}"), lacks("within", Reason::NotStated));
    assert_eq!(looked("{within: unknown}"), lacks("within", Reason::StatedUnknown));
    let not_seen = "{within: whole building, not_seen: the north side}";
    assert_eq!(looked(not_seen), lacks("not_seen", Reason::NotSaidComplete));
    assert_eq!(
        looked("{within: 20 ft of discharge, not_seen: unknown}"),
        lacks("not_seen", Reason::StatedUnknown)
    );
    assert_eq!(looked("{within: whole building, not_seen: none}"), (vec![], vec![]));
    // What else is lacking of the list leaves the distance of the others unknown too.
    let near = ("looked_for.openings.within", "5 ft of discharge");
    let discharge = ranch(&[("systems.other", "{kind: passive, fan: none}"), near], &[]);
    let (open, others) = beyond(&discharge, "openings");
    assert_eq!((open.len(), others), (2, vec![]));
}

#[test]
fn what_stands_between_has_to_be_looked_for_as_far_as_the_thing_itself() {
    let around = |look: &str| {
        let obstacles = [("looked_for.obstacles", look)];
        ask(&mut Facts::new(&ranch(&obstacles, &[])), "openings", "hall_skylight", "around")
    };
    // The skylight is 10 ft 11 in off by the tape.
    assert_eq!(number(around("{within: 11 ft of discharge}")), length("10 ft 11 in"));
    assert_eq!(number(around("{within: 10 ft 11 in of building}")), length("10 ft 11 in"));
    for (look, reason) in [
        ("{within: 10 ft of discharge}", Reason::LookedOnly("10 ft of discharge".to_owned())),
        ("{within: whole building}", Reason::LookedOnly("whole building".to_owned())),
    ] {
        let Answer::Unknown(why) = around(look) else { panic!("{look}: known") };
        assert_eq!(why[0].entry.as_str(), "looked_for.obstacles.within");
        assert_eq!(why[0].reason, reason);
    }
    let Answer::Unknown(why) = around("{by: J. Ames}") else { panic!("known") };
    assert_eq!(why[0].entry.as_str(), "building.openings.hall_skylight.from_discharge.around");
}

#[test]
fn two_systems_see_every_opening_each_from_its_own_discharge() {
    let other = "{kind: passive, fan: none, discharge: {at: [30 ft, 4 ft, 22 ft], direction: up, outside_diameter: 4 1/2 in}}";
    let design = ranch(&[("systems.other", other)], &[]);
    let mut facts = Facts::new(&design);
    let names: Vec<String> =
        listed(&mut facts, "openings").items.iter().map(|it| facts.name_of(*it)).collect();
    assert_eq!(names.len(), 8);
    // From (30, 4, 22): sqrt(9^2 + 20^2) = 21.93171 ft, less 0.1875 is 21.74421; 6 2/3 ft below: 22.74320 ft.
    let far = number(ask(&mut facts, "openings", "kitchen_window from other", "clearance")).to_f64_mid();
    assert!((far / 0.3048 - 22.74320).abs() < 1e-4, "{far}");
    let near = number(ask(&mut facts, "openings", "kitchen_window from main", "clearance")).to_f64_mid();
    assert!((near / 0.3048 - 15.84617).abs() < 1e-4, "{near}");
    // A tape from "the discharge" does not say from which of two.
    let Answer::Unknown(why) = ask(&mut facts, "openings", "hall_skylight from main", "clearance") else {
        panic!("known")
    };
    assert!(matches!(why[0].reason, Reason::NotComputable(_)), "{why:?}");
}

#[test]
fn what_a_value_rests_on_is_remembered_through_all_facts() {
    let design = ranch(&[], &[]);
    let mut facts = Facts::new(&design);
    let window = thing(&mut facts, "openings", "kitchen_window");
    let id = vocabulary().find_fact(window.kind, "clearance").unwrap();
    let origin = facts.origin(id, window);
    let stated: Vec<&str> = origin.stated.iter().map(|stated| stated.entry.as_str()).collect();
    for entry in ["systems.main.runs.stack.up", "systems.main.pipe.size", "systems.main.discharge.direction"]
    {
        assert!(stated.contains(&entry), "{entry} is not in {stated:?}");
    }
    let mut sorted = origin.stated.clone();
    sorted.sort();
    assert_eq!(sorted, origin.stated);
}

/// Entries whose absence lets another entry speak, by the meaning of the file: what all pipe is, the space of the same
/// name, the name of a penetration, the members of lists that are complete as written, the air and suction that are designed, in whose
/// place the reckoned ones come.
const GIVE_WAY: [&str; 28] = [
    "start_up.readings.*.flow",
    "systems.*.design_point.flow",
    "systems.*.suction_points.*.flow",
    "systems.*.suction_points.*.suction",
    "diagnostics.communication.*",
    "systems.*",
    "systems.*.runs.*",
    "systems.*.runs.*.pierces.*",
    "systems.*.labels.*",
    "systems.*.suction_points.*",
    "systems.*.runs.*.size",
    "systems.*.runs.*.material",
    "systems.*.runs.*.schedule",
    "systems.*.runs.*.joints",
    "systems.*.runs.*.insulation",
    "systems.*.runs.*.insulation.**",
    "systems.*.runs.*.pierces.*.kind",
    "systems.*.wiring.circuit.other_loads.*",
    "systems.*.labels.*.story",
    "foundation.areas.*.in",
    "foundation.drain_loops.*.outlets.*",
    "systems.*.runs.*.low_points.*",
    "site.ground.*",
    "building.roof.edges.*",
    "start_up.readings.*",
    "start_up.spillage.*",
    "start_up.readings.*.of",
    "start_up.spillage.*.appliance",
];

#[test]
fn taking_an_entry_away_never_turns_what_is_known() {
    let mut wrong = Vec::new();
    let mut tried = 0;
    // The first whole, and a third of the keys of another.
    for ((name, text), step) in [(&examples()[0], 1), (&examples()[4], 3)] {
        let before = everything(&design(text));
        for path in keys(text).into_iter().step_by(step) {
            if GIVE_WAY.iter().any(|pattern| fits(pattern, &path)) {
                continue;
            }
            let Some(less) = turned_without(name, text, &before, &path) else { continue };
            tried += 1;
            wrong.extend(less);
        }
    }
    assert!(tried > 250, "only {tried} entries were taken away");
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn taking_the_corner_of_an_area_away_never_turns_what_is_known() {
    let mut tried = 0;
    for (name, text) in examples() {
        let corners: Vec<String> = keys(&text)
            .into_iter()
            .filter(|path| path.starts_with("foundation.areas.") && path.ends_with(".corner"))
            .collect();
        if corners.is_empty() {
            continue;
        }
        let before = everything(&design(&text));
        for path in corners {
            assert_eq!(turned_without(&name, &text, &before, &path), Some(vec![]));
            tried += 1;
        }
    }
    assert!(tried >= 5, "only {tried} corners were taken away");
}

/// What is known and otherwise than before once an entry is taken away; nothing where it cannot be.
fn turned_without(
    name: &str,
    text: &str,
    before: &BTreeMap<String, Answer<Value>>,
    path: &str,
) -> Option<Vec<String>> {
    let less = undercroft::yaml::splice::lay_over(text, &[], &[path]).ok()?;
    let turned = everything(&design(&less)).into_iter().filter_map(|(fact, after)| {
        let Some(Answer::Known { value: was, .. }) = before.get(&fact) else { return None };
        let Answer::Known { value: is, .. } = after else { return None };
        let turned = match (was, &is) {
            (Value::Number(a), Value::Number(b)) => a.compare(Comparison::Equal, b) == Truth::False,
            (Value::Truth(a), Value::Truth(b)) => a != b,
            (Value::Word(a), Value::Word(b)) => a != b,
            _ => false,
        };
        turned.then(|| format!("{name} without {path}: {fact} was {was:?} and is {is:?}"))
    });
    Some(turned.collect())
}

/// Every fact of every thing, by the names of the thing and the fact.
fn everything(design: &Design) -> BTreeMap<String, Answer<Value>> {
    let mut facts = Facts::new(design);
    let mut found = BTreeMap::new();
    for (number, fact) in catalogue::all().enumerate() {
        let id = undercroft::base::vocabulary::FactId(u16::try_from(number).unwrap());
        for thing in facts.things().all(fact.of) {
            let name = format!("{:?} {}.{}", fact.of, facts.name_of(thing), fact.name);
            found.insert(name, facts.ask(id, thing));
        }
    }
    found
}

/// The path of every key of a file.
fn keys(text: &str) -> Vec<String> {
    fn walk(
        tree: &undercroft::yaml::tree::Tree,
        node: undercroft::yaml::tree::NodeId,
        path: &str,
        into: &mut Vec<String>,
    ) {
        for pair in tree.pairs(node) {
            let own = if path.is_empty() { pair.key.clone() } else { format!("{path}.{}", pair.key) };
            into.push(own.clone());
            walk(tree, pair.value, &own, into);
        }
    }
    let (tree, _) = undercroft::yaml::scan::read(SourceId(0), text);
    let mut found = Vec::new();
    walk(&tree, tree.root().unwrap(), "", &mut found);
    found
}

#[test]
fn a_range_is_always_in_doubt_for_want_of_something() {
    // The sill of the window is measured to 1 in: its top, and so the drop, is known within 1 in as well.
    let corners = "[[18 ft, 24 ft, 11 ft 8 in], [21 ft, 24 ft, {value: 15 ft 4 in, within: 1 in}]]";
    let design = ranch(&[(&format!("{KITCHEN}.corners"), corners)], &[]);
    let mut facts = Facts::new(&design);
    let answer = ask(&mut facts, "openings", "kitchen_window", "top_below_discharge");
    let Answer::Known { value: Value::Number(drop), doubts } = answer else { panic!("a range") };
    assert_eq!(drop, Number::between(length("8 ft 7 in").low(), length("8 ft 9 in").high()));
    assert_eq!(doubts[0].entry.as_str(), format!("{KITCHEN}.corners"));
    for (name, answer) in everything(&design) {
        if let Answer::Known { value: Value::Number(number @ Number::Range(..)), doubts } = answer {
            assert!(!doubts.is_empty(), "{name} is {number:?} without a doubt");
        }
    }
}
