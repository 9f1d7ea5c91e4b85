//! The schema that describes the file, and that it describes what is read.

use std::path::Path;

use serde_json::{Value, json};
use undercroft::base::problem::ProblemKind;
use undercroft::design;
use undercroft::yaml::entry::Stands;

use super::read;

/// A schema as it is written into its file.
fn written(schema: &serde_json::Value) -> String {
    let mut bytes = Vec::new();
    let form = serde_json::ser::PrettyFormatter::with_indent(b" ");
    let mut writer = serde_json::Serializer::with_formatter(&mut bytes, form);
    serde::Serialize::serialize(schema, &mut writer).unwrap();
    String::from_utf8(bytes).unwrap() + "\n"
}

#[test]
fn the_schemas_on_file_are_those_of_the_types() {
    let mut stale = Vec::new();
    for (name, schema) in [
        ("design.schema.json", design::design_schema_text().clone()),
        ("shop.schema.json", design::shop_schema_text()),
        ("field-notes.schema.json", design::field_notes_schema_text()),
    ] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("schemas").join(name);
        let wanted = written(&schema);
        let stands = std::fs::read_to_string(&path).unwrap_or_default();
        if stands != wanted {
            std::fs::write(&path, &wanted).unwrap();
            stale.push(name);
        }
    }
    assert!(
        stale.is_empty(),
        "{stale:?} were stale and have been written anew; look at what changed and run again"
    );
}

/// Something that the schema accepts, with every key of every record.
fn everything(schema: &Value, part: &Value) -> Value {
    if let Some(name) = part.get("$ref").and_then(Value::as_str) {
        let name = name.trim_start_matches("#/$defs/");
        let text = match name {
            "text" | "AnyThing" => "some text".to_owned(),
            "version" => "1".to_owned(),
            "date" => "2026-05-14".to_owned(),
            "moment" => "2026-05-14 14:30".to_owned(),
            "zone" => "America/New_York".to_owned(),
            "count" => "2".to_owned(),
            "size" => "L of 40 ft x 24 ft and 16 ft x 20 ft".to_owned(),
            "reach" => "30 ft of building".to_owned(),
            name if name.starts_with("name_of_") => "a".to_owned(),
            name => {
                let part = &schema["$defs"][name];
                // A measure says in its description how it is written.
                let description = part["description"].as_str().unwrap_or("");
                match description.split_once(": ").filter(|_| description.contains("{value:")) {
                    Some((_, examples)) => {
                        examples.split(", ").next().unwrap().split(". ").next().unwrap().to_owned()
                    }
                    None => return everything(schema, part),
                }
            }
        };
        return Value::String(text);
    }
    if let Some(words) = part.get("enum").and_then(Value::as_array) {
        return words[0].clone();
    }
    if let Some(branches) = part.get("anyOf").and_then(Value::as_array) {
        return everything(schema, &branches[0]);
    }
    if let Some(keys) = part.get("properties").and_then(Value::as_object) {
        let keys = keys.iter().map(|(key, part)| (key.clone(), everything(schema, part)));
        return Value::Object(keys.collect());
    }
    if part.get("type") == Some(&Value::from("object")) {
        return json!({ "a": everything(schema, &part["additionalProperties"]) });
    }
    if let Some(kinds) = part.get("prefixItems").and_then(Value::as_array) {
        return kinds.iter().map(|kind| everything(schema, kind)).collect();
    }
    if part.get("type") == Some(&Value::from("array")) {
        let members = part.get("minItems").and_then(Value::as_u64).unwrap_or(1);
        return (0..members).map(|_| everything(schema, &part["items"])).collect();
    }
    panic!("a part of the schema that is not understood: {part}")
}

#[test]
fn every_key_of_the_schema_is_read_and_every_key_that_is_read_is_in_the_schema() {
    let schema = design::design_schema_text();
    let text = serde_json::to_string_pretty(&everything(schema, schema)).unwrap();
    let (design, problems, sources) = read(&text);
    // A file in which everything is called `a` names many things badly, and says both of what can only be one.
    let by_chance = [ProblemKind::UnknownName, ProblemKind::NotTogether, ProblemKind::Contradiction];
    let others: Vec<String> = problems
        .iter()
        .filter(|problem| !by_chance.contains(&problem.kind))
        .map(|problem| format!("{problem:?} at {}", sources.slice(problem.at)))
        .collect();
    assert!(others.is_empty(), "{} {:#?}", others.len(), others.iter().take(12).collect::<Vec<_>>());
    let left: Vec<String> = design
        .entries()
        .iter()
        .filter(|entry| entry.stands != Stands::Known)
        .map(|entry| format!("{} {:?}", entry.path, entry.stands))
        .collect();
    assert!(left.is_empty(), "{} {:#?}", left.len(), left.iter().take(12).collect::<Vec<_>>());
}

#[test]
fn every_key_has_a_description_and_nothing_but_the_keys_is_accepted() {
    for schema in [design::design_schema_text(), &design::shop_schema_text()] {
        let mut keys = 0;
        for (name, record) in schema["$defs"].as_object().unwrap() {
            let Some(properties) = record.get("properties").and_then(Value::as_object) else { continue };
            assert_eq!(record["additionalProperties"], Value::Bool(false), "{name}");
            assert!(!record["description"].as_str().unwrap().is_empty(), "{name}");
            for (key, part) in properties {
                let description = part["description"].as_str().unwrap_or("");
                assert!(description.len() > 8 && description.ends_with('.'), "{name}.{key}: {description}");
                let of = part["$ref"]
                    .as_str()
                    .unwrap_or("")
                    .trim_start_matches("#/$defs/")
                    .trim_end_matches("_or_not")
                    .trim_end_matches("_or_unknown");
                let written = schema["$defs"][of]["description"].as_str().unwrap_or("");
                if written.contains("{value:") || matches!(of, "date" | "moment" | "point" | "size") {
                    let example = description.split('`').nth(1);
                    assert!(example.is_some(), "{name}.{key} shows nobody how it is written");
                }
                keys += 1;
            }
        }
        assert!(keys > 100);
    }
}
