//! How the pages look: at 80 and 120 columns, without colour, and in the narrated form; and the report for
//! machines against its schema.

use std::collections::BTreeSet;

use serde_json::Value;
use unicode_width::UnicodeWidthStr;

use crate::commands::{call, example_names, example_paths, examples};

#[test]
fn pages_of_the_examples_look_as_they_should() {
    for (name, path) in example_names().iter().zip(example_paths()) {
        for (form, options) in
            [("80", &["--width", "80"][..]), ("120", &["--width", "120"]), ("plain", &["--plain"])]
        {
            let mut arguments = vec!["review", path.as_str()];
            arguments.extend(options);
            let came = call(&mut examples(), &arguments);
            insta::assert_snapshot!(format!("{name}-{form}"), came.printed);
        }
    }
}

#[test]
fn no_line_is_wider_than_asked_and_nothing_acts_on_the_screen() {
    for path in example_paths() {
        for show in ["summary", "open-items", "everything"] {
            for width in ["80", "120", "160"] {
                let came = call(&mut examples(), &["review", "--width", width, "--show", show, &path]);
                for line in came.printed.lines() {
                    assert!(line.width() <= width.parse().unwrap(), "{path} at {width}: {line:?}");
                    assert_eq!(line, line.trim_end(), "{path} at {width}");
                }
                assert!(!came.printed.chars().any(|c| c.is_control() && c != '\n'), "{path}");
                assert!(!came.printed.contains("\n\n\n"), "{path}");
            }
        }
    }
}

#[test]
fn colour_adds_nothing_but_colour() {
    let strip = |text: &str| {
        let mut out = String::new();
        let mut rest = text;
        while let Some((before, after)) = rest.split_once("\u{1b}[") {
            out.push_str(before);
            rest = after.split_once('m').map_or("", |(_, rest)| rest);
        }
        out + rest
    };
    for path in example_paths() {
        let bare = call(&mut examples(), &["review", &path]).printed;
        let coloured = call(&mut examples(), &["review", "--colour", "always", &path]).printed;
        assert!(coloured.contains("\u{1b}["));
        assert_eq!(strip(&coloured), bare);
        let plain = call(&mut examples(), &["review", "--colour", "always", "--plain", &path]).printed;
        assert!(!plain.contains('\u{1b}'));
    }
}

#[test]
fn the_narrated_form_is_plain_letters_without_drawing() {
    for (path, bytes) in examples().files {
        if !path.ends_with("design.yaml") {
            continue;
        }
        let came = call(&mut examples(), &["review", "--plain", "--show", "everything", &path]);
        let own: BTreeSet<char> =
            String::from_utf8(bytes).unwrap().chars().filter(|c| !c.is_ascii()).collect();
        let strange: BTreeSet<char> =
            came.printed.chars().filter(|c| !c.is_ascii() && !own.contains(c)).collect();
        assert!(strange.is_empty(), "{path}: {strange:?}");
        for line in came.printed.lines() {
            assert!(!line.starts_with(' '), "{path}: a line set in: {line:?}");
            for drawing in ["---", "===", "|", "^", "__"] {
                assert!(!line.contains(drawing), "{path}: {line:?}");
            }
        }
    }
}

#[test]
fn every_page_counts_what_is_not_yet_due_on_its_last_line() {
    for path in example_paths() {
        for options in [&[][..], &["--plain"], &["--show", "summary"], &["--show", "everything"]] {
            let mut arguments = vec!["review", path.as_str()];
            arguments.extend(options);
            let printed = call(&mut examples(), &arguments).printed;
            let last = printed.lines().last().unwrap();
            assert!(last.ends_with("not yet due at this stage."), "{path}: {last:?}");
        }
    }
}

#[test]
fn verdicts_promise_nothing() {
    for path in example_paths() {
        let printed = call(&mut examples(), &["review", "--show", "everything", &path]).printed;
        let verdicts = ["(unmet", "(met", "(can't tell yet", "(not applicable", "(not yet due"];
        let shown =
            printed.lines().filter(|line| verdicts.iter().any(|verdict| line.contains(verdict))).count();
        assert!(shown > 20, "{path}: {shown}");
        for word in ["pass", "fail", "ok", "error", "warning", "approved", "safe"] {
            assert!(
                !printed.lines().any(|line| line.trim_start().starts_with(&format!("{word}:"))
                    || line.contains(&format!("({word})"))),
                "{path}: {word}"
            );
        }
    }
}

fn report(arguments: &[&str]) -> Value {
    let mut all = vec!["review", "--as", "json"];
    all.extend(arguments);
    let came = call(&mut examples(), &all);
    serde_json::from_str(&came.printed).unwrap()
}

fn schema() -> Value {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("schemas/review.schema.json");
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// Every key that the schema knows, as the path of definitions that leads to it.
fn keys_of(schema: &Value, path: &str, into: &mut BTreeSet<String>) {
    match schema {
        Value::Object(map) => {
            if let Some(Value::Object(properties)) = map.get("properties") {
                into.extend(properties.keys().cloned());
            }
            map.iter().for_each(|(key, value)| keys_of(value, &format!("{path}/{key}"), into));
        }
        Value::Array(list) => list.iter().for_each(|value| keys_of(value, path, into)),
        _ => {}
    }
}

fn keys_in(value: &Value, into: &mut BTreeSet<String>) {
    match value {
        Value::Object(map) => {
            into.extend(map.keys().cloned());
            map.values().for_each(|value| keys_in(value, into));
        }
        Value::Array(list) => list.iter().for_each(|value| keys_in(value, into)),
        _ => {}
    }
}

#[test]
fn reports_follow_the_published_schema_and_the_schema_follows_the_reports() {
    let schema = schema();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let paths = example_paths();
    let mut seen = BTreeSet::new();
    for show in ["summary", "open-items", "everything"] {
        let mut arguments: Vec<&str> = paths.iter().map(String::as_str).collect();
        arguments.extend(["--show", show]);
        let report = report(&arguments);
        let faults: Vec<String> = validator
            .iter_errors(&report)
            .map(|fault| format!("{}: {fault}", fault.instance_path()))
            .collect();
        assert!(faults.is_empty(), "{faults:#?}");
        keys_in(&report, &mut seen);
    }
    let broken = "undercroft: 1\njob: {stge: design, title: a, title: b}\nbuilding: {stories: 3 ft}\n";
    let notes = "undercroft: 1\njob: {title: c, date: 2026-06-03, by: R. Cole}\n";
    let mut world =
        undercroft::app::host::memory::Memory::with([("broken.yaml", broken), ("notes.yaml", notes)]);
    let arguments = ["review", "--as", "json", "broken.yaml", "--field-notes", "notes.yaml"];
    let report: Value = serde_json::from_str(&call(&mut world, &arguments).printed).unwrap();
    assert!(validator.is_valid(&report), "{report:#}");
    keys_in(&report, &mut seen);
    let mut known = BTreeSet::new();
    keys_of(&schema, "", &mut known);
    let stale: Vec<&String> = known.difference(&seen).collect();
    assert!(stale.is_empty(), "keys of the schema that no report has: {stale:?}");
}

#[test]
fn identities_hold_no_line_and_survive_a_shift_of_lines() {
    let mut world = examples();
    for path in example_paths() {
        let text = String::from_utf8(world.files[&path].clone()).unwrap();
        let shifted = format!("# one\n# two\n\n{}", text.replace("\n", "\r\n"));
        world.files.insert("shifted.yaml".into(), shifted.into_bytes());
        let read = |world: &mut undercroft::app::host::memory::Memory, path: &str| -> Value {
            serde_json::from_str(&call(world, &["review", "--as", "json", path]).printed).unwrap()
        };
        let of = |report: &Value| -> Vec<(String, String)> {
            report["reviews"][0]["findings"]
                .as_array()
                .unwrap()
                .iter()
                .map(|one| {
                    (
                        one["identity"].as_str().unwrap().to_owned(),
                        one["verdict"].as_str().unwrap().to_owned(),
                    )
                })
                .collect()
        };
        let (before, after) = (read(&mut world, &path), read(&mut world, "shifted.yaml"));
        let (before, after) = (of(&before), of(&after));
        assert_eq!(before, after, "{path}");
        let names: BTreeSet<&String> = before.iter().map(|(identity, _)| identity).collect();
        assert_eq!(names.len(), before.len(), "{path}: two findings of one identity");
    }
}

#[test]
fn every_place_in_a_report_holds_what_stands_there() {
    fn places<'v>(value: &'v Value, into: &mut Vec<&'v Value>) {
        match value {
            Value::Object(map) => {
                if map.contains_key("start") && map.contains_key("end") {
                    into.push(value);
                }
                map.values().for_each(|value| places(value, into));
            }
            Value::Array(list) => list.iter().for_each(|value| places(value, into)),
            _ => {}
        }
    }
    let world = examples();
    for path in example_paths() {
        let report = report(&["--show", "everything", &path]);
        let mut found = Vec::new();
        places(&report, &mut found);
        assert!(found.len() > 20, "{path}");
        for place in found.iter().filter(|place| place["file"] == path.as_str()) {
            let text = std::str::from_utf8(&world.files[&path]).unwrap();
            let byte = |end: &str| usize::try_from(place[end]["byte"].as_u64().unwrap()).unwrap();
            assert!(text.get(byte("start")..byte("end")).is_some(), "{path}: {place}");
            let before = &text[..byte("start")];
            let line = before.matches('\n').count() + 1;
            let column = before.rsplit('\n').next().unwrap().chars().count() + 1;
            assert_eq!(place["start"]["line"], line, "{place}");
            assert_eq!(place["start"]["column"], column, "{place}");
        }
    }
}
