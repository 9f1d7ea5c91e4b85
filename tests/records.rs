//! Records of reviews as a person sees them, and their forms against the schemas.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use serde_json::Value;
use sha2::{Digest as _, Sha256};
use undercroft::app::host::memory::Memory;
use undercroft::findings::compare::account::Program;

use crate::commands::{call, example};
use crate::terminal::{keys_in, keys_of};

const RECORD: [&str; 6] =
    ["review", "a.yaml", "--record", "signed.json", "--reviewed-by", "R. Cole, Town of Alder"];

/// A design with its record, made by a program that is named the same whatever it was built from.
fn recorded() -> Memory {
    let mut world = Memory::with([("a.yaml", example("07").as_str())]);
    let built_from = format!("sha256:{}", "0".repeat(64));
    world.program = Some(Program { version: "0.1.0".into(), built_from });
    let came = call(&mut world, &RECORD);
    assert_eq!(came.status, 0, "{}", came.told);
    world
}

fn moved(world: &mut Memory) {
    let text = example("07").replacen("straight: 8 ft 3 in", "straight: 8 ft", 1);
    world.files.insert("a.yaml".into(), text.into_bytes());
}

/// Every file under a folder, by its path.
fn files(folder: &Path, prefix: &str, found: &mut Vec<String>) {
    for entry in fs::read_dir(folder).unwrap() {
        let entry = entry.unwrap();
        let name = format!("{prefix}/{}", entry.file_name().to_str().unwrap());
        if entry.path().is_dir() { files(&entry.path(), &name, found) } else { found.push(name) }
    }
}

#[test]
fn the_digest_of_the_program_is_of_every_file_that_shapes_a_page() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut paths = vec!["Cargo.toml".to_owned(), "Cargo.lock".to_owned()];
    files(&root.join("src"), "src", &mut paths);
    paths.sort();
    for shapes in ["src/render/pdf/fonts/SourceSans3-Regular.ttf", "src/render/html/page.css", "src/lib.rs"] {
        assert!(paths.iter().any(|path| path == shapes), "{shapes}");
    }
    let mut whole = Sha256::new();
    for path in paths {
        let bytes = fs::read(root.join(&path)).unwrap();
        whole.update(format!("{path} {}\n", bytes.len()));
        whole.update(bytes);
    }
    let digest: String = whole.finalize().iter().map(|byte| format!("{byte:02x}")).collect();
    assert_eq!(Program::own().built_from, format!("sha256:{digest}"));
}

#[test]
fn pages_of_a_record_look_as_they_should() {
    let mut world = recorded();
    insta::assert_snapshot!(
        "stands",
        call(&mut world, &["review", "a.yaml", "--against", "signed.json"]).printed
    );
    moved(&mut world);
    let came = call(&mut world, &["review", "a.yaml", "--against", "signed.json"]);
    assert_eq!(came.status, 1);
    insta::assert_snapshot!("stale", came.printed);
    let plain = call(&mut world, &["review", "a.yaml", "--against", "signed.json", "--plain"]).printed;
    assert!(plain.is_ascii() && !plain.lines().any(|line| line.starts_with(' ')), "{plain}");
}

#[test]
fn a_record_leaves_the_review_beside_it_as_it_is() {
    for options in [&[][..], &["--as", "json"], &["--show", "summary"]] {
        let mut world = Memory::with([("a.yaml", example("07").as_str())]);
        let mut arguments = vec!["review", "a.yaml"];
        arguments.extend(options);
        let alone = call(&mut world, &arguments);
        arguments.extend(&RECORD[2..]);
        let recorded = call(&mut world, &arguments);
        assert_eq!(alone.status, recorded.status);
        // The report for machines says why for everything then, as the record does.
        if !options.contains(&"json") {
            assert_eq!(alone.printed, recorded.printed);
        }
    }
}

#[test]
fn records_and_their_standing_follow_the_published_schemas() {
    let schema = |name: &str| -> Value {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("schemas").join(name);
        serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
    };
    let holds = |name: &str, all: &[&Value]| {
        let schema = schema(name);
        let validator = jsonschema::validator_for(&schema).unwrap();
        let mut seen = BTreeSet::new();
        for one in all {
            let faults: Vec<String> = validator.iter_errors(one).map(|fault| fault.to_string()).collect();
            assert!(faults.is_empty(), "{name}: {faults:#?}");
            keys_in(one, &mut seen);
        }
        let mut known = BTreeSet::new();
        keys_of(&schema, "", &mut known);
        let stale: Vec<&String> = known.difference(&seen).collect();
        assert!(stale.is_empty(), "{name}: keys that no report has: {stale:?}");
    };
    let mut world = recorded();
    let record: Value = serde_json::from_slice(&world.files["signed.json"]).unwrap();
    holds("record.schema.json", &[&record]);
    let inner = schema("review.schema.json");
    assert!(jsonschema::validator_for(&inner).unwrap().is_valid(&record["review"]));
    let against = ["review", "a.yaml", "--against", "signed.json", "--as", "json"];
    let stands: Value = serde_json::from_str(&call(&mut world, &against).printed).unwrap();
    moved(&mut world);
    let stale: Value = serde_json::from_str(&call(&mut world, &against).printed).unwrap();
    assert_eq!((&stands["stands"], &stale["stands"]), (&true.into(), &false.into()));
    holds("record-standing.schema.json", &[&stands, &stale]);
    let comparison = schema("compare.schema.json");
    assert!(jsonschema::validator_for(&comparison).unwrap().is_valid(&stale["comparison"]));
}
