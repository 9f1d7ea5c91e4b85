//! The design file: what reads, what is refused and how it is told, and the schema that describes it.

use std::path::Path;

use undercroft::base::problem::{Problem, ProblemKind};
use undercroft::base::text::Sources;
use undercroft::design::{self, Design};
use undercroft::yaml::scan;

const RANCH: &str = include_str!("design_files/ranch.yaml");

/// Reads a design; the problems of the tree come first.
fn read(text: &str) -> (Design, Vec<Problem>, Sources) {
    let mut sources = Sources::new();
    let id = sources.add("design.yaml", text);
    let (tree, mut problems) = scan::read(id, text);
    let source = sources.get(id).unwrap();
    let (design, more) = design::read(source, &tree);
    problems.extend(more);
    (design, problems, sources)
}

#[test]
fn the_ranch_reads_without_a_problem() {
    let (_, problems, sources) = read(RANCH);
    let told: Vec<String> =
        problems.iter().map(|problem| format!("{problem:?} at {}", sources.slice(problem.at))).collect();
    assert!(told.is_empty(), "{told:#?}");
}

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
        ("design.schema.json", design::design_schema_text()),
        ("shop.schema.json", design::shop_schema_text()),
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

#[test]
fn a_bare_number_is_refused() {
    let text = RANCH.replace("altitude: 820 ft", "altitude: 820");
    let (design, problems, _) = read(&text);
    assert_eq!(problems.len(), 1);
    assert_eq!(problems[0].kind, ProblemKind::NoUnit);
    assert!(design.site.altitude.known().is_none());
}
