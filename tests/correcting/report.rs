//! The report for machines.

use std::collections::BTreeSet;
use std::path::Path;

use serde_json::Value;

use super::{correct, world};

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
