//! Two versions of a design beside each other as a person sees them, and the report for machines against its schema.

use std::collections::BTreeSet;

use serde_json::Value;
use undercroft::app::host::memory::Memory;
use undercroft::yaml::splice::lay_over;
use unicode_width::UnicodeWidthStr;

use crate::commands::{call, example, examples};
use crate::terminal::{keys_in, keys_of};

/// A first submission with faults, and what came back: some mended, some not, one new, one thing renamed.
fn resubmitted() -> Memory {
    let old = example("07");
    let old = old.replacen("direction: up", "direction: level", 1);
    let window = "{kind: window, opens: yes, into: hall, from_discharge: {straight: 6 ft, top_below: 1 ft}}";
    let new = old.replacen("direction: level", "direction: up", 1).replace("hall_closet", "coat_closet");
    let new = lay_over(
        &new,
        &[
            ("building.openings.stair_window", window),
            ("variances.bath_window discharge-clear-of-openings.until", "2026-06-01"),
        ],
        &["before_drilling.post_tension"],
    )
    .unwrap();
    Memory::with([("first.yaml", old.as_str()), ("second.yaml", &new)])
}

#[test]
fn pages_of_a_comparison_look_as_they_should() {
    for (form, options) in
        [("80", &["--width", "80"][..]), ("120", &["--width", "120"]), ("plain", &["--plain"])]
    {
        let mut arguments = vec!["compare", "first.yaml", "second.yaml"];
        arguments.extend(options);
        let came = call(&mut resubmitted(), &arguments);
        assert_eq!(came.status, 1, "{}", came.told);
        insta::assert_snapshot!(format!("resubmitted-{form}"), came.printed);
    }
    let folder = "examples/06-as-built-and-retested";
    let [design, notes] = ["design", "retested"].map(|name| format!("{folder}/{name}.yaml"));
    let came = call(&mut examples(), &["compare", &design, &design, "--field-notes", &notes]);
    insta::assert_snapshot!("built", came.printed);
}

#[test]
fn no_line_of_a_comparison_is_wider_than_asked_and_the_narrated_form_draws_nothing() {
    for width in ["40", "60", "80", "120", "200"] {
        for plain in [false, true] {
            let mut arguments = vec!["compare", "first.yaml", "second.yaml", "--width", width];
            arguments.extend(plain.then_some("--plain"));
            let came = call(&mut resubmitted(), &arguments);
            for line in came.printed.lines() {
                assert!(line.width() <= width.parse().unwrap(), "{width}: {line:?}");
                assert_eq!(line, line.trim_end());
                assert!(!plain || (line.is_ascii() && !line.starts_with(' ')), "{line:?}");
            }
            assert!(!came.printed.contains("\n\n\n"));
        }
    }
}

#[test]
fn comparisons_follow_the_published_schema_and_the_schema_follows_the_comparisons() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("schemas/compare.schema.json");
    let schema: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let mut seen = BTreeSet::new();
    let mut world = resubmitted();
    let came = call(&mut world, &["rulebook", "export", "pennsylvania-2019", "books", "--in-place"]);
    assert_eq!(came.status, 0);
    let rule = world.files.get_mut("books/pennsylvania-2019/discharge/discharge-points-up.yaml").unwrap();
    *rule = String::from_utf8(rule.clone()).unwrap().replacen("shall", "should", 1).into_bytes();
    for options in [
        &[][..],
        &["--old-on", "2026-05-31"],
        &["--new-rulebooks", "books"],
        &["--old-rulebooks", "books", "--on", "2026-06-02"],
    ] {
        let mut arguments = vec!["compare", "first.yaml", "second.yaml", "--as", "json"];
        arguments.extend(options);
        let printed = call(&mut world, &arguments).printed;
        assert_eq!(printed, call(&mut world, &arguments).printed, "the same input gives the same bytes");
        let report: Value = serde_json::from_str(&printed).unwrap();
        let faults: Vec<String> = validator
            .iter_errors(&report)
            .map(|fault| format!("{}: {fault}", fault.instance_path()))
            .collect();
        assert!(faults.is_empty(), "{faults:#?}");
        keys_in(&report, &mut seen);
    }
    let other = example("07").replace("bath_window", "bath_light").replacen(
        "straight: 8 ft 3 in",
        "straight: 9 ft",
        1,
    );
    world.files.insert("second.yaml".into(), other.into_bytes());
    let report = call(&mut world, &["compare", "first.yaml", "second.yaml", "--as", "json"]).printed;
    let report: Value = serde_json::from_str(&report).unwrap();
    assert!(validator.is_valid(&report), "{report:#}");
    keys_in(&report, &mut seen);
    let mut known = BTreeSet::new();
    keys_of(&schema, "", &mut known);
    let stale: Vec<&String> = known.difference(&seen).collect();
    assert!(stale.is_empty(), "keys of the schema that no report has: {stale:?}");
}

#[test]
fn each_way_to_leave_a_comparison_has_its_own_status() {
    let clean = example("01");
    let worse = lay_over(&clean, &[("systems.main.discharge.direction", "level")], &[]).unwrap();
    let open = lay_over(&clean, &[], &["systems.main.discharge.direction"]).unwrap();
    let unread = lay_over(&clean, &[("building.stories", "[1, 2]")], &[]).unwrap();
    let mut world = Memory::with([
        ("clean.yaml", clean.as_str()),
        ("worse.yaml", &worse),
        ("open.yaml", &open),
        ("unread.yaml", &unread),
        ("other.json", "{\"form\": \"undercroft comparison\", \"version\": 1}"),
        ("strange.json", "[]"),
        ("broken.json", "{\"form\": \"undercroft review\", \"version\": 1, \"reviews\": 3}"),
        ("later.json", "{\"form\": \"undercroft review\", \"version\": 7}"),
    ]);
    for design in ["clean", "worse"] {
        let printed = call(&mut world, &["review", "--as", "json", &format!("{design}.yaml")]).printed;
        world.files.insert(format!("{design}.json"), printed.into_bytes());
    }
    let two = call(&mut world, &["review", "--as", "json", "clean.yaml", "worse.yaml"]).printed;
    world.files.insert("two.json".into(), two.into_bytes());
    for (old, new, status, said) in [
        ("clean.yaml", "clean.yaml", 0, "The files are the same to the last byte."),
        ("clean.yaml", "worse.yaml", 1, "newly unmet"),
        ("clean.json", "worse.yaml", 1, "newly unmet"),
        ("clean.yaml", "worse.json", 1, "newly unmet"),
        ("clean.json", "worse.json", 1, "newly unmet"),
        ("worse.yaml", "worse.yaml", 0, "1 still open"),
        ("worse.yaml", "clean.yaml", 0, "1 settled"),
        ("clean.yaml", "open.yaml", 3, "newly open"),
        ("worse.yaml", "open.yaml", 3, "Still open, in another way"),
        ("clean.yaml", "unread.yaml", 2, "could not be read"),
        ("clean.yaml", "absent.yaml", 2, "is not there"),
        ("two.json", "clean.yaml", 2, "holds several reviews"),
        ("other.json", "clean.yaml", 2, "it says that it is \"undercroft comparison\""),
        ("strange.json", "clean.yaml", 2, "neither a design nor a review"),
        ("broken.json", "clean.yaml", 2, "\"program\""),
        ("later.json", "clean.yaml", 2, "reads form 1"),
    ] {
        let came = call(&mut world, &["compare", old, new, "--width", "160"]);
        let all = format!("{}{}", came.printed, came.told);
        assert_eq!(came.status, status, "{old} {new}\n{all}");
        assert!(all.contains(said), "{old} {new}: {said}\n{all}");
    }
    let came = call(&mut world, &["compare", "clean.yaml", "clean.yaml", "--on", "soon"]);
    assert_eq!((came.status, came.told.contains("is not a day")), (2, true));
    let came = call(&mut world, &["compare", "clean.yaml", "clean.json", "--field-notes", "worse.yaml"]);
    assert_eq!((came.status, came.told.contains("field notes lie over a design")), (2, true));
}
