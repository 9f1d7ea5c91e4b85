//! The report for machines.

use std::collections::BTreeSet;
use std::path::Path;

use serde_json::Value;

use super::{correct, world};
use crate::placing::{HOUSE, SLAB, aside, low_town};
use undercroft::app::host::memory::Memory;
use undercroft::yaml::splice::lay_over;

const CHANGES: &[(&str, &str)] = &[
    ("job.title", "Häuschen ½ 🏠"),
    ("site.moisture", "marine"),
    ("systems.main.runs.ceiling.hangers", "{spacing: 9 ft, fixed_to: building}"),
    ("foundation.areas.crawl.membrane.lap", "{value: 8 in, by: J. Ames, on: 2026-05-12}"),
    ("systems.main.labels", "{basement_pipe: {on: pipe, says: [what it is]}}"),
];

fn keys(value: &Value, at: &str, seen: &mut BTreeSet<String>) {
    match value {
        Value::Object(map) => {
            for (key, value) in map {
                let path = format!("{at}.{key}");
                keys(value, &path, seen);
                seen.insert(path);
            }
        }
        Value::Array(items) => items.iter().for_each(|item| keys(item, at, seen)),
        _ => {}
    }
}

/// The keys that a schema describes, by the same paths.
fn keys_of(schema: &Value, whole: &Value, at: &str, known: &mut BTreeSet<String>) {
    if let Some(name) = schema.get("$ref").and_then(Value::as_str) {
        keys_of(&whole["$defs"][name.trim_start_matches("#/$defs/")], whole, at, known);
    }
    for (key, part) in schema.get("properties").and_then(Value::as_object).into_iter().flatten() {
        let path = format!("{at}.{key}");
        keys_of(part, whole, &path, known);
        known.insert(path);
    }
    if let Some(items) = schema.get("items") {
        keys_of(items, whole, at, known);
    }
    for one in schema.get("anyOf").and_then(Value::as_array).into_iter().flatten() {
        keys_of(one, whole, at, known);
    }
}

/// Reports of houses of which something has to stand elsewhere, each with what has to be said of it.
fn with_places() -> Vec<(Value, &'static str)> {
    // No place in it is 6 ft from both long walls, wherever the pipe leads.
    let too_small = [
        ("foundation.areas.floor.size", "16 ft x 10 ft"),
        ("systems.main.runs.aside", "{from: fan, west: 30 ft, through: hall}"),
        ("systems.main.runs.along", "{from: aside, south: 30 ft, through: hall}"),
        ("systems.main.suction_points.s1", "{kind: slab, in: floor, at: [4 ft, 7 ft, 0 ft]}"),
    ];
    let large = [("foundation.areas.floor.size", "60 ft x 50 ft")];
    let towns = [("job.rulebooks", "{pennsylvania-2019: adopted, low-town: adopted}")];
    [
        (HOUSE.to_owned(), &[][..], "a place"),
        (HOUSE.to_owned(), &towns, "excluded"),
        (SLAB.to_owned(), &[], "a point"),
        (SLAB.to_owned(), &too_small, "no point"),
        (SLAB.to_owned(), &large, "more points"),
        (aside(), &[], "along the wall"),
    ]
    .into_iter()
    .map(|(house, changes, says)| {
        let text = lay_over(&house, changes, &[]).unwrap();
        let books = low_town()
            .into_iter()
            .map(|file| (format!("books/{}", file.path), String::from_utf8(file.bytes).unwrap()));
        let mut there = Memory::with(books.chain([("design.yaml".to_owned(), text)]));
        let printed = correct(&mut there, &["--as", "json"]).printed;
        (serde_json::from_str(&printed).unwrap(), says)
    })
    .collect()
}

/// The places of `placing`, where they are worked out by hand.
#[test]
fn a_report_says_where_things_may_stand_what_bounds_it_and_what_excludes_what() {
    let shown = |value: &Value| value["shown"].as_str().unwrap().to_owned();
    let names = |list: &Value| -> BTreeSet<String> {
        let list = list.as_array().unwrap().iter();
        list.map(|one| one["requirement"].as_str().unwrap().to_owned()).collect()
    };
    for (report, says) in with_places() {
        let places = &report["places"];
        let (discharge, point) = (&places["discharges"][0], &places["suction_points"][0]);
        match says {
            "a place" => {
                let offer = &discharge["offers"][0];
                assert_eq!(shown(&offer["up"]), "4 ft");
                let openings = BTreeSet::from(["pennsylvania-2019/discharge-clear-of-openings".to_owned()]);
                assert_eq!(
                    (names(&offer["bounded_by"]), names(&discharge["not_as_asked"])),
                    (openings.clone(), openings)
                );
                let number = &offer["number"];
                let choices = report["findings"]
                    .as_array()
                    .unwrap()
                    .iter()
                    .flat_map(|finding| finding["choices"].as_array().unwrap());
                let own = choices.filter(|choice| choice["number"] == *number && !number.is_null()).count();
                assert_eq!(own, 1, "the place is one of the changes");
            }
            "excluded" => {
                let excluded = names(&discharge["no_offer"]["excluded"]);
                let wanted =
                    ["low-town/discharge-not-too-high", "pennsylvania-2019/discharge-clear-of-openings"];
                assert_eq!(excluded, wanted.map(str::to_owned).into());
            }
            "a point" => assert_eq!(shown(&point["offer"]["north"]), "-3 ft"),
            "no point" => {
                let excluded = names(&point["no_offer"]["excluded"]);
                let wanted = BTreeSet::from(["florida-existing/points-off-the-perimeter".to_owned()]);
                assert!(point["offer"].is_null() && excluded == wanted, "{point}");
            }
            // The rim of the pipe has to be 10 ft from the jamb, to both sides.
            "along the wall" => {
                let east =
                    discharge["stretches"].as_array().unwrap().iter().filter(|one| one["way"] == "east");
                let ends: Vec<String> = east.map(|one| shown(&one["to"]["by"])).collect();
                assert_eq!(ends[0], "-12 ft 1 3/4 in");
            }
            _ => assert_eq!(places["more_suction_points"][0]["more"], 2),
        }
    }
}

#[test]
fn reports_follow_the_published_schema_and_the_schema_follows_them() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("schemas/corrections.schema.json");
    let schema: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let mut seen = BTreeSet::new();
    for more in [&["--as", "json"][..], &["--as", "json", "--choose", "all"]] {
        let printed = correct(&mut world(CHANGES), more).printed;
        let report: Value = serde_json::from_str(&printed).unwrap();
        let faults: Vec<String> = validator
            .iter_errors(&report)
            .map(|fault| format!("{}: {fault}", fault.instance_path()))
            .collect();
        assert!(faults.is_empty(), "{faults:#?}");
        keys(&report, "", &mut seen);
    }
    for (report, _) in with_places() {
        let faults: Vec<String> = validator.iter_errors(&report).map(|fault| fault.to_string()).collect();
        assert!(faults.is_empty(), "{faults:#?}");
        keys(&report, "", &mut seen);
    }
    let mut known = BTreeSet::new();
    keys_of(&schema, &schema, "", &mut known);
    let stale: Vec<&String> = known.difference(&seen).collect();
    assert!(stale.is_empty(), "keys of the schema that no report has: {stale:?}");
}

#[test]
fn the_edits_of_a_report_come_to_the_same_counted_in_bytes_in_characters_and_as_editors_count() {
    let mut there = world(CHANGES);
    let text = String::from_utf8(there.files["design.yaml"].clone()).unwrap();
    let printed = correct(&mut there, &["--as", "json", "--choose", "all"]).printed;
    let report: Value = serde_json::from_str(&printed).unwrap();
    let edits = report["chosen"]["edits"].as_array().unwrap();
    assert!(edits.len() >= 2);
    let number = |value: &Value| usize::try_from(value.as_u64().unwrap()).unwrap();
    let byte_of_character = |at: usize| text.char_indices().nth(at).map_or(text.len(), |(byte, _)| byte);
    let byte_of_utf16 = |point: &Value| {
        let line = number(&point["utf16"]["line"]);
        let start: usize = text.split_inclusive('\n').take(line).map(str::len).sum();
        let (mut at, mut units) = (start, 0);
        for c in text[start..].chars() {
            if units == number(&point["utf16"]["unit"]) {
                break;
            }
            units += c.len_utf16();
            at += c.len_utf8();
        }
        at
    };
    let mut by_bytes = text.clone();
    for edit in edits.iter().rev() {
        for end in ["start", "end"] {
            let point = &edit[end];
            let byte = number(&point["byte"]);
            assert_eq!(byte_of_character(number(&point["character"])), byte, "{edit}");
            assert_eq!(byte_of_utf16(point), byte, "{edit}");
        }
        by_bytes.replace_range(
            number(&edit["start"]["byte"])..number(&edit["end"]["byte"]),
            edit["text"].as_str().unwrap(),
        );
    }
    correct(&mut there, &["--choose", "all", "--write"]);
    assert_eq!(there.files["design.yaml"], by_bytes.as_bytes());
}
