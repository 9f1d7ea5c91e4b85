//! Reviews as logs of the open standard SARIF 2.1.0, held against the standard's own schema.
//!
//! `tests/sarif/sarif-schema-2.1.0.json` is the schema of the OASIS standard "Static Analysis Results Interchange
//! Format (SARIF) Version 2.1.0", as the MIT-licensed crate serde-sarif 0.8.0 ships it.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use serde_json::{Value, json};

use undercroft::app::host::memory::Memory;

use crate::commands::{call, call_examples, call_with_their_books, example_paths, examples};

fn log(arguments: &[&str]) -> Value {
    let mut all = vec!["review", "--as", "sarif"];
    all.extend(arguments);
    serde_json::from_str(&call_examples(&all).printed).unwrap()
}

/// The whole log of each example; made once, for corrections are proven for it.
fn logs() -> &'static [(String, Value)] {
    static LOGS: LazyLock<Vec<(String, Value)>> = LazyLock::new(|| {
        let log = |path: String| (path.clone(), log(&["--show", "everything", &path]));
        example_paths().into_iter().map(log).collect()
    });
    &LOGS
}

fn schema() -> jsonschema::Validator {
    // The pattern of a language has one bracket too many in it, which no strict reader takes.
    let text = include_str!("sarif/sarif-schema-2.1.0.json").replace("{2}]?$", "{2}?$");
    jsonschema::validator_for(&serde_json::from_str(&text).unwrap()).unwrap()
}

fn results(log: &Value) -> Vec<Value> {
    log["runs"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|run| run["results"].as_array().unwrap().clone())
        .collect()
}

#[test]
fn logs_follow_the_schema_of_the_standard() {
    let schema = schema();
    let mut kinds = BTreeSet::new();
    for (path, log) in logs() {
        let faults: Vec<String> =
            schema.iter_errors(log).map(|fault| format!("{}: {fault}", fault.instance_path())).collect();
        assert!(faults.is_empty(), "{path}: {faults:#?}");
        for result in results(log) {
            kinds.insert(result["kind"].as_str().unwrap().to_owned());
            // Section 3.27.10 of the standard: a level goes with a failure only.
            assert_eq!(result.get("level").is_some(), result["kind"] == "fail", "{path}: {result:#}");
        }
    }
    let all = ["fail", "informational", "notApplicable", "open", "pass"];
    assert!(all.iter().all(|kind| kinds.contains(*kind)), "{kinds:?}");
}

#[test]
fn every_region_holds_its_snippet() {
    let world = examples();
    let mut seen = 0;
    for (path, log) in logs() {
        let text = std::str::from_utf8(&world.files[path]).unwrap();
        for result in results(log) {
            let places = [&result["locations"], &result["relatedLocations"]];
            for place in places.into_iter().filter_map(Value::as_array).flatten() {
                let physical = &place["physicalLocation"];
                if physical["artifactLocation"]["uri"] != path.as_str() {
                    continue;
                }
                let region = &physical["region"];
                let number = |name: &str| usize::try_from(region[name].as_u64().unwrap()).unwrap();
                let from = number("byteOffset");
                let stands = &text[from..from + number("byteLength")];
                assert_eq!(region["snippet"]["text"], stands, "{path}");
                // The same stretch by lines and columns, both from one, columns in characters.
                let at = |line: usize, column: usize| {
                    let before: usize = text.split_inclusive('\n').take(line - 1).map(str::len).sum();
                    let inside: usize = text[before..].chars().take(column - 1).map(char::len_utf8).sum();
                    before + inside
                };
                let (start, end) = (
                    at(number("startLine"), number("startColumn")),
                    at(number("endLine"), number("endColumn")),
                );
                assert_eq!(&text[start..end], stands, "{path}");
                seen += 1;
            }
        }
    }
    assert!(seen > 500, "{seen}");
}

#[test]
fn every_open_or_unmet_clause_is_a_result_of_its_own() {
    for (path, log) in logs() {
        let report: Value =
            serde_json::from_str(&call_examples(&["review", "--as", "json", path]).printed).unwrap();
        let review = &report["reviews"][0];
        let clauses: Vec<(String, String)> = review["findings"]
            .as_array()
            .unwrap()
            .iter()
            .flat_map(|finding| finding["clauses"].as_array().unwrap())
            .filter(|clause| {
                let open = ["unmet", "disputed", "undetermined", "advice not followed", "variance on file"];
                open.contains(&clause["comes_to"].as_str().unwrap())
            })
            .map(|clause| {
                let word = |key: &str| clause[key].as_str().unwrap().to_owned();
                (word("requirement"), word("comes_to"))
            })
            .collect();
        let open = ["fail", "open", "review"];
        let said: Vec<(String, String)> = results(log)
            .iter()
            .filter(|result| !result["ruleId"].as_str().unwrap().starts_with("writing/"))
            .filter(|result| open.contains(&result["kind"].as_str().unwrap()))
            .map(|result| {
                let comes = result["properties"]["comesTo"].as_str().unwrap();
                (result["ruleId"].as_str().unwrap().to_owned(), comes.to_owned())
            })
            .collect();
        assert_eq!(said, clauses, "{path}");
        for run in log["runs"].as_array().unwrap() {
            for result in run["results"].as_array().unwrap() {
                let at = usize::try_from(result["ruleIndex"].as_u64().unwrap()).unwrap();
                assert_eq!(run["tool"]["driver"]["rules"][at]["id"], result["ruleId"]);
            }
        }
    }
}

/// A fix made to the text by its bytes.
fn fixed(text: &str, fix: &Value) -> String {
    let replacements = fix["artifactChanges"][0]["replacements"].as_array().unwrap();
    let mut out = text.to_owned();
    // They stand in the order of the text; made from the back, their places hold.
    for one in replacements.iter().rev() {
        let number = |name: &str| usize::try_from(one["deletedRegion"][name].as_u64().unwrap()).unwrap();
        let from = number("byteOffset");
        out.replace_range(
            from..from + number("byteLength"),
            one["insertedContent"]["text"].as_str().unwrap(),
        );
    }
    out
}

#[test]
fn a_fix_makes_its_result_go() {
    let world = examples();
    let mut made = 0;
    for (path, log) in logs() {
        let text = std::str::from_utf8(&world.files[path]).unwrap();
        for result in results(log) {
            let Some(fix) = result["fixes"].as_array().and_then(|fixes| fixes.first()) else { continue };
            made += 1;
            let mut after = examples();
            after.files.insert(path.clone(), fixed(text, fix).into_bytes());
            let came = call_with_their_books(&mut after, &["review", "--as", "json", path]);
            let report: Value = serde_json::from_str(&came.printed).unwrap();
            let findings = report["reviews"][0]["findings"].as_array().unwrap();
            let finding = findings.iter().find(|one| one["identity"] == result["properties"]["finding"]);
            let clauses = finding.map(|one| one["clauses"].as_array().unwrap().clone()).unwrap_or_default();
            let clause = clauses.iter().find(|one| one["requirement"] == result["ruleId"]);
            let comes = clause.map_or("gone", |one| one["comes_to"].as_str().unwrap());
            assert!(!["unmet", "advice not followed"].contains(&comes), "{path}: {result:#}");
        }
    }
    assert!(made >= 3, "{made}");
}

#[test]
fn what_a_variance_permits_is_suppressed_by_it() {
    let mut varied = 0;
    for result in logs().iter().flat_map(|(_, log)| results(log)) {
        if result["properties"]["comesTo"] != "variance on file" {
            assert!(result.get("suppressions").is_none(), "{result:#}");
            continue;
        }
        varied += 1;
        let suppression = &result["suppressions"][0];
        assert_eq!(suppression["status"], "accepted", "{result:#}");
        let stands = &suppression["location"]["physicalLocation"]["region"]["snippet"]["text"];
        assert!(stands.as_str().unwrap().starts_with("bath_window"), "{stands}");
        assert!(!result["message"]["text"].as_str().unwrap().contains("To mend it"), "{result:#}");
    }
    assert!(varied > 0);
}

#[test]
fn a_file_that_could_not_be_read_is_a_failed_run_with_its_fault() {
    let mut world = Memory::with([("a:b.yaml", "job: {title: x\nsite: [")]);
    let came = call(&mut world, &["review", "--as", "sarif", "a:b.yaml"]);
    let log: Value = serde_json::from_str(&came.printed).unwrap();
    assert!(schema().is_valid(&log));
    let run = &log["runs"][0];
    assert_eq!(run["invocations"][0]["executionSuccessful"], json!(false));
    assert_eq!(run["artifacts"][0]["location"]["uri"], "a%3Ab.yaml");
    assert_eq!(run["results"][0]["level"], "error");
    assert!(run["results"][0]["message"]["text"].as_str().unwrap().len() > 40);
}

#[test]
fn several_files_are_runs_of_one_log_and_a_record_is_not_told_as_one() {
    let paths = example_paths();
    let two = log(&[&paths[0], &paths[1]]);
    assert_eq!(two["runs"].as_array().unwrap().len(), 2);
    let kinds: Vec<Value> = results(&two).iter().map(|result| result["kind"].clone()).collect();
    assert!(
        !kinds.is_empty()
            && kinds.iter().all(|kind| ["fail", "open", "review"].contains(&kind.as_str().unwrap()))
    );
    let came = call_examples(&["review", "--as", "sarif", "--against", "old.json", &paths[0]]);
    assert_eq!((came.status, came.printed.as_str()), (2, ""));
    assert!(came.told.contains("text or as json"), "{}", came.told);
}
