//! A part of a review: what is told of it, what stays whole, and what is said when nothing answers to a name.

use serde_json::Value;
use undercroft::app::host::memory::Memory;

use crate::commands::{call, example, examples};

const FILE: &str = "examples/02-a-dozen-faults/design.yaml";

fn report(part: &[&str]) -> Value {
    let mut arguments = vec!["review", "--as", "json", FILE];
    arguments.extend(part);
    let came = call(&mut examples(), &arguments);
    assert_eq!(came.told, "");
    let document: Value = serde_json::from_str(&came.printed).unwrap();
    document["reviews"][0].clone()
}

fn findings(review: &Value) -> Vec<&Value> {
    review["findings"].as_array().unwrap().iter().collect()
}

/// Whether a finding belongs to the part, told from what the finding says of itself.
type Belongs = fn(&Value) -> bool;

fn of_clauses(finding: &Value, holds: fn(&Value) -> bool) -> bool {
    finding["clauses"].as_array().unwrap().iter().any(holds)
}

fn is_of_epa(clause: &Value) -> bool {
    clause["requirement"].as_str().unwrap().starts_with("epa-1994/")
}

#[test]
fn a_part_holds_every_finding_that_belongs_to_it_and_no_other() {
    let whole = report(&[]);
    let parts: [(&[&str], Belongs); 6] = [
        (&["--about", "discharge"], |one| one["subject"].as_str().unwrap().starts_with("discharge/")),
        (&["--about", "fan", "--about", "gauge"], |one| {
            let subject = one["subject"].as_str().unwrap();
            subject.starts_with("fan/") || subject.starts_with("gauge/")
        }),
        (&["--place", "kitchen window"], |one| one["about"]["name"] == "kitchen_window"),
        (&["--book", "epa-1994"], |one| of_clauses(one, is_of_epa)),
        (&["--due", "installed"], |one| of_clauses(one, |clause| clause["due"] == "installed")),
        (&["--book", "epa-1994", "--weight", "should"], |one| {
            of_clauses(one, |clause| is_of_epa(clause) && clause["obligation"] == "should")
        }),
    ];
    for (part, belongs) in parts {
        let told = report(part);
        let wanted: Vec<&Value> = findings(&whole).into_iter().filter(|one| belongs(one)).collect();
        assert!(!wanted.is_empty(), "{part:?}");
        assert!(wanted.len() < findings(&whole).len(), "{part:?}");
        assert_eq!(findings(&told), wanted, "{part:?}");
        assert_eq!(told["outcome"], whole["outcome"]);
        assert_eq!(told["part"]["of_findings"], findings(&whole).len());
    }
}

#[test]
fn a_space_brings_what_is_in_it() {
    let names: Vec<String> = findings(&report(&["--place", "basement"]))
        .iter()
        .filter_map(|one| one["about"]["name"].as_str().map(str::to_owned))
        .collect();
    for inside in ["s1", "fan", "channel", "water_heater"] {
        assert!(names.iter().any(|name| name == inside), "{inside}: {names:?}");
    }
    assert!(!names.iter().any(|name| name == "kitchen_window"), "{names:?}");
}

#[test]
fn the_page_says_that_it_is_a_part_and_what_the_whole_comes_to() {
    let whole = call(&mut examples(), &["review", FILE]);
    let part = call(&mut examples(), &["review", FILE, "--about", "fan/conditioned"]);
    assert_eq!(part.status, whole.status);
    assert!(part.printed.contains("a part of this review: about fan/conditioned."), "{}", part.printed);
    let headline =
        whole.printed.lines().find(|line| line.contains("that have to be met are not met")).unwrap();
    assert!(part.printed.contains(headline));
    assert!(part.printed.len() < whole.printed.len() / 2);
}

#[test]
fn a_name_that_nothing_answers_to_is_told_with_those_there_are() {
    let cases = [
        ("--about", "dischrge", "no subject called \"dischrge\". The nearest is discharge."),
        ("--about", "fan/colour", "There is: fan/"),
        ("--place", "tower", "no place called \"tower\""),
        ("--book", "epa-1995", "no book called \"epa-1995\". The nearest is epa-1994."),
        ("--weight", "must", "shall, should, may"),
        ("--due", "later", "design, installed, operating"),
    ];
    for (option, name, said) in cases {
        let came = call(&mut examples(), &["review", FILE, option, name]);
        assert_eq!(came.status, 2, "{option} {name}");
        let told = came.told.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(told.contains(said), "{option} {name}: {told}");
        assert_eq!(came.printed, "");
    }
}

#[test]
fn a_part_is_neither_recorded_nor_compared() {
    let came = call(
        &mut examples(),
        &["review", FILE, "--about", "fan", "--record", "r.json", "--reviewed-by", "R. Cole"],
    );
    assert_eq!(came.status, 2);
    let part = call(&mut examples(), &["review", "--as", "json", FILE, "--about", "fan"]).printed;
    let design = example("02");
    let mut world = Memory::with([("part.json", part.as_str()), ("design.yaml", design.as_str())]);
    let came = call(&mut world, &["compare", "part.json", "design.yaml"]);
    assert_eq!(came.status, 2);
    assert!(came.told.contains("part.json is a part of a review"), "{}", came.told);
}
