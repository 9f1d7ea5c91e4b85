//! Faults, one at a time, each told once.

use std::collections::HashMap;

use undercroft::base::problem::{Problem, ProblemKind};
use undercroft::base::text::{Sources, Span};
use undercroft::design::design_schema_text;
use undercroft::yaml::entry::{Met, Stands};
use undercroft::yaml::scan;
use undercroft::yaml::tree::{NodeId, NodeKind};
use undercroft::yaml::validate::{CompiledSchema, validate};

use super::{RANCH, read};

const FAULTS: &str = include_str!("../design_files/faults.txt");

/// One fault put into the ranch, and what is told of it.
struct Fault {
    was: String,
    is: String,
    kind: ProblemKind,
    at: String,
    found: String,
    accepts: String,
    nearest: Option<String>,
}

fn faults() -> Vec<Fault> {
    let lines = FAULTS.lines().filter(|line| !line.starts_with('#') && !line.is_empty());
    lines
        .map(|line| {
            let column = |at: usize| line.split(" |").nth(at).unwrap_or("").strip_prefix(' ').unwrap_or("");
            let kind = column(2);
            let named = |known: &&ProblemKind| format!("{known:?}") == kind;
            Fault {
                was: line.split(" | ").next().unwrap().replace("\\n", "\n"),
                is: column(1).replace("\\n", "\n"),
                kind: *ProblemKind::ALL
                    .iter()
                    .find(named)
                    .unwrap_or_else(|| panic!("no kind {kind:?} in {line}")),
                at: column(3).to_owned(),
                found: column(4).to_owned(),
                accepts: column(5).to_owned(),
                nearest: Some(column(6).to_owned()).filter(|nearest| !nearest.is_empty()),
            }
        })
        .collect()
}

#[test]
fn every_fault_is_told_once_at_its_place_with_what_would_be_accepted() {
    let mut wrong = Vec::new();
    for fault in faults() {
        assert!(RANCH.contains(&fault.was), "the ranch does not hold {:?}", fault.was);
        let (_, problems, sources) = read(&RANCH.replacen(&fault.was, &fault.is, 1));
        let fits = |problem: &Problem| {
            problem.kind == fault.kind
                && sources.slice(problem.at) == fault.at
                && problem.found.contains(&fault.found)
                && problem.accepts.contains(&fault.accepts)
                && problem.nearest == fault.nearest
        };
        if !matches!(problems.as_slice(), [only] if fits(only)) {
            let told: Vec<_> =
                problems.iter().map(|problem| (sources.slice(problem.at).to_owned(), problem)).collect();
            wrong.push(format!("{:?} told {told:#?}", fault.is));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_table_of_faults_is_not_empty() {
    assert!(faults().len() >= 50);
}

/// The spans of all single values of a text.
fn values(text: &str) -> Vec<Span> {
    let mut sources = Sources::new();
    let id = sources.add("design.yaml", text);
    let (tree, _) = scan::read(id, text);
    let single = |node: &&undercroft::yaml::tree::Node| matches!(node.kind, NodeKind::Scalar { .. });
    tree.nodes.iter().filter(single).map(|node| node.span).collect()
}

#[test]
fn one_bad_value_costs_that_entry_alone() {
    let before = read(RANCH).0.entries();
    let mut read_over = 0;
    for value in values(RANCH) {
        // As long as what stood there, so that nothing else moves.
        let garbage = "?".repeat(value.len().max(2) - 1) + "!";
        if garbage.len() != value.len() {
            continue;
        }
        let mut text = RANCH.to_owned();
        text.replace_range(value.range(), &garbage);
        let (design, problems, sources) = read(&text);
        let after = design.entries();
        let by_path: HashMap<&str, &Met> = after.iter().map(|entry| (entry.path.as_str(), entry)).collect();
        let unreadable: Vec<&Met> = after.iter().filter(|entry| entry.stands == Stands::Unreadable).collect();
        let what = RANCH.get(value.range()).unwrap();
        assert!(unreadable.len() <= 1, "{what}: {unreadable:?}");
        if unreadable.is_empty() {
            // Text, or a name that nothing has.
            read_over += 1;
        }
        for entry in &before {
            if !(entry.at.contains(value) || value.contains(entry.at)) {
                assert!(
                    by_path.get(entry.path.as_str()) == Some(&entry),
                    "{what} took {entry:?} along; {:?}",
                    problems.first().map(|p| sources.slice(p.at))
                );
            }
        }
    }
    assert!(read_over < 60, "{read_over} values are read whatever is written");
}

#[test]
fn a_bare_number_is_refused() {
    let text = RANCH.replace("altitude: 820 ft", "altitude: 820");
    let (design, problems, _) = read(&text);
    assert_eq!(problems.len(), 1);
    assert_eq!(problems[0].kind, ProblemKind::NoUnit);
    assert!(design.site.altitude.known().is_none());
}
/// A small even source of numbers, the same on every run.
struct Dice(u64);

impl Dice {
    fn throw(&mut self, below: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % below.max(1) as u64).unwrap()
    }
}

#[test]
fn what_the_schema_finds_is_told() {
    // The reader asks the schema only when it came across something that is left to it.
    let schema = CompiledSchema::new(design_schema_text().clone()).unwrap();
    let keys = ["size", "kind", "at", "value", "edge", "x", "undercroft"];
    let mut dice = Dice(0x2545_f491_4f6c_dd1d);
    let mut found = 0;
    for round in 0..110 {
        let mut text = RANCH.to_owned();
        let places = if round % 2 == 0 { values(&text) } else { key_spans(&text) };
        let place = places[dice.throw(places.len())];
        let with = if round % 2 == 0 { WORDS[dice.throw(WORDS.len())] } else { keys[dice.throw(keys.len())] };
        text.replace_range(place.range(), with);
        let (_, problems, sources) = read(&text);
        let (id, source) = sources.iter().next().unwrap();
        let (tree, _) = scan::read(id, source.text());
        for fault in validate(&tree, &schema) {
            found += 1;
            let told = |problem: &Problem| problem.at.contains(fault.at) || fault.at.contains(problem.at);
            assert!(problems.iter().any(told), "{fault:?} is not told in\n{text}");
        }
    }
    assert!(found > 50, "only {found} faults were made");
}

/// The spans of all keys of a text.
fn key_spans(text: &str) -> Vec<Span> {
    let mut sources = Sources::new();
    let id = sources.add("design.yaml", text);
    let (tree, _) = scan::read(id, text);
    let maps = (0..tree.nodes.len()).map(|number| NodeId(u32::try_from(number).unwrap()));
    maps.flat_map(|map| tree.pairs(map).iter().map(|pair| pair.key_span).collect::<Vec<_>>()).collect()
}

const WORDS: [&str; 11] =
    ["12", "-3 ft", "yes", "none", "[1 ft]", "{a: b}", "3 in", "\"x\"", "outdoors", "gravel", "2026-01-01"];

#[test]
fn nothing_is_unreadable_without_a_problem_that_says_so() {
    let mut dice = Dice(0x9e37_79b9_7f4a_7c15);
    for _ in 0..120 {
        let mut text = RANCH.to_owned();
        for _ in 0..=dice.throw(3) {
            let places = values(&text);
            if places.is_empty() {
                break;
            }
            let place = places[dice.throw(places.len())];
            text.replace_range(place.range(), WORDS[dice.throw(WORDS.len())]);
        }
        let (design, problems, _) = read(&text);
        for problem in &problems {
            assert!(text.get(problem.at.range()).is_some(), "{problem:?} lies outside of the text");
        }
        for entry in design.entries().iter().filter(|entry| entry.stands == Stands::Unreadable) {
            let told =
                problems.iter().any(|problem| problem.at.contains(entry.at) || entry.at.contains(problem.at));
            assert!(told, "nothing is said of {} in\n{text}", entry.path);
        }
    }
}
