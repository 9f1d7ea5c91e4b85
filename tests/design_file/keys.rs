//! The examples of how entries are written: each of them is taken, with its key, where it belongs.

use std::collections::BTreeMap;

use undercroft::base::problem::ProblemKind;
use undercroft::design::keys::{MEMBER, NAME, Part, Sort, parts, parts_called, way};

use super::read;

/// Where a record stands, for one that is written the same way in several places: the first of them.
fn places(parts: &[Part]) -> BTreeMap<String, Vec<String>> {
    fn records(sort: &Sort, steps: &[&str], into: &mut Vec<(String, Vec<String>)>) {
        let (each, step) = match sort {
            Sort::Record(record) => {
                into.push((record.clone(), steps.iter().map(|step| (*step).to_owned()).collect()));
                return;
            }
            Sort::Named(each) => (each, NAME),
            Sort::List(each) => (each, MEMBER),
            Sort::Words(_) | Sort::Value(_) => return,
        };
        each.iter().for_each(|sort| records(sort, &[steps, &[step]].concat(), into));
    }
    let mut places: BTreeMap<String, Vec<String>> = parts
        .iter()
        .filter(|part| !part.path.is_empty())
        .map(|part| (part.record.clone(), part.path.clone()))
        .collect();
    places.insert("DesignFile".to_owned(), Vec::new());
    for _ in 0..4 {
        for part in parts {
            let Some(here) = places.get(&part.record).cloned() else { continue };
            for (key, way) in &part.keys {
                let mut found = Vec::new();
                way.sorts.iter().for_each(|sort| records(sort, &[], &mut found));
                for (record, steps) in found {
                    let path = [here.clone(), vec![key.clone()], steps].concat();
                    places.entry(record).or_insert(path);
                }
            }
        }
    }
    places
}

/// A file in which only this entry stands.
fn file(path: &[String], key: &str, value: &str) -> String {
    // On a line of its own a text may hold a comma; in braces it stands in quotes.
    let in_quotes = value.contains(", ") && !value.starts_with(['{', '[']);
    let value = if in_quotes { format!("'{value}'") } else { value.to_owned() };
    let mut text = format!("{key}: {value}");
    for step in path.iter().rev() {
        text = match step.as_str() {
            MEMBER => format!("[{{{text}}}]"),
            NAME => format!("a: {{{text}}}"),
            key if text.starts_with('[') => format!("{key}: {text}"),
            key => format!("{key}: {{{text}}}"),
        };
    }
    if path.is_empty() && key == "undercroft" { text } else { format!("undercroft: 1\n{text}\n") }
}

#[test]
fn every_example_of_every_key_is_taken_where_the_key_stands() {
    let parts = parts();
    let places = places(parts);
    let mut keys = 0;
    let mut refused = Vec::new();
    for part in parts {
        let place = places.get(&part.record).unwrap_or_else(|| panic!("{} stands nowhere", part.record));
        for (key, way) in &part.keys {
            let text = file(place, key, &way.example.replace("NAME", "a"));
            let (_, problems, sources) = read(&text);
            // An example refers to things that a file of one entry does not have.
            let wrong: Vec<String> = problems
                .iter()
                .filter(|problem| problem.kind != ProblemKind::UnknownName)
                .map(|problem| format!("{:?} at {}", problem.kind, sources.slice(problem.at)))
                .collect();
            if !wrong.is_empty() {
                refused.push(format!("{}.{key}: {} {wrong:?}", part.title(), way.example));
            }
            keys += 1;
        }
    }
    assert!(refused.is_empty(), "{refused:#?}");
    assert!(keys > 700, "{keys}");
}

#[test]
fn every_word_that_is_offered_is_taken() {
    let parts = parts();
    let places = places(parts);
    let mut told = std::collections::BTreeSet::new();
    for part in parts {
        for (key, way) in &part.keys {
            for sort in &way.sorts {
                let Sort::Words(words) = sort else { continue };
                if !told.insert(words.clone()) {
                    continue;
                }
                for (word, _) in words {
                    let (_, problems, _) = read(&file(&places[&part.record], key, word));
                    assert_eq!(problems, [], "{}.{key}: {word}", part.title());
                }
            }
        }
    }
    assert!(told.len() > 60, "{}", told.len());
}

#[test]
fn no_key_is_left_without_a_word_on_how_it_is_written() {
    for part in parts() {
        for (key, way) in &part.keys {
            assert!(!way.sorts.is_empty() && !way.example.is_empty(), "{}.{key}: {way:?}", part.title());
        }
    }
}

#[test]
fn a_part_is_found_by_its_path_its_last_word_or_a_key_in_it() {
    let titles = |wanted: &str| -> Vec<String> { parts_called(wanted).iter().map(Part::title).collect() };
    assert_eq!(titles("systems.main.discharge"), ["systems.NAME.discharge"]);
    assert_eq!(titles("discharge"), ["systems.NAME.discharge"]);
    assert_eq!(titles("looked"), ["looked"]);
    assert_eq!(titles("through_side_wall"), ["systems.NAME.discharge"]);
    assert_eq!(titles("colour of the door"), Vec::<String>::new());
}

#[test]
fn what_is_asked_for_in_the_list_of_a_review_can_be_looked_up_by_the_path_printed_there() {
    for path in
        ["systems", "systems.main.runs.stack.up", "building.spaces.attic.conditioned", "looked_for.drains"]
    {
        assert!(way(path).is_some_and(|way| !way.short().is_empty()), "{path}");
    }
}
