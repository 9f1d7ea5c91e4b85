//! The check values: every file of this folder that ends in `.json` is a list of inputs, what comes out, how near, and
//! where that is from. The numbers stand there and nowhere in the code.

use std::path::Path;

use serde_json::Value;
use undercroft::base::number::Number;

mod around;
mod electrical;
mod gas;
mod geometry;
mod inputs;
mod networks;
mod pipes;
mod underground;
mod units;

/// What the program makes of one entry, by its topic; `None` when nothing here answers it.
fn answer(case: &Value) -> Option<Number> {
    match case["topic"].as_str()? {
        "units" => units::answer(case),
        "electrical" => electrical::answer(case),
        "geometry" => geometry::answer(&case["inputs"]),
        "air" => gas::air(case),
        "friction" => gas::friction(case),
        "fittings" => gas::fittings(case),
        "fan" => gas::fan(case),
        "pipe" => pipes::answer(case),
        "network" => networks::answer(case),
        "condensate" => around::condensate(case),
        "energy" => around::energy(case),
        "radon" => around::radon(case),
        "membrane" => around::membrane(case),
        "sealant" => around::sealant(case),
        "subslab" => underground::answer(case),
        _ => None,
    }
}

/// What is wrong with the answer to one entry; nothing if it is as near as the entry asks.
fn fault(case: &Value) -> Option<String> {
    let name = format!("{} (source: {})", case["id"], case["source"]);
    let (Some(expected), Some(absolute), Some(relative)) =
        (case["expected"].as_f64(), case["tolerance"]["abs"].as_f64(), case["tolerance"]["rel"].as_f64())
    else {
        return Some(format!("{name}: not a number with a tolerance"));
    };
    if case["source"].as_str().is_none_or(str::is_empty) {
        return Some(format!("{name}: no source"));
    }
    let Some(number) = answer(case) else {
        return Some(format!("{name}: nothing answers inputs of this kind: {}", case["inputs"]));
    };
    let allowed = absolute.max(relative * expected.abs());
    let (low, high) = number.to_f64_bounds();
    let near = (low - expected).abs() <= allowed && (high - expected).abs() <= allowed;
    (!near).then(|| format!("{name}: between {low} and {high}, expected {expected} within {allowed}"))
}

#[test]
fn every_check_value_comes_out_as_its_source_says() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/verification");
    let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.retain(|path| path.extension().is_some_and(|extension| extension == "json"));
    files.sort();
    let mut faults = Vec::new();
    let mut count = 0;
    for path in &files {
        let cases: Vec<Value> = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
        assert!(!cases.is_empty(), "{} is empty", path.display());
        count += cases.len();
        faults.extend(cases.iter().filter_map(fault));
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(count >= 440, "only {count} check values: none may be dropped");
}

#[test]
fn an_entry_of_an_unknown_kind_or_a_wrong_value_is_a_fault() {
    let unknown = serde_json::json!({
        "id": "x", "topic": "units", "inputs": {"length_furlong": 1.0}, "expected": 1.0, "unit": "m",
        "tolerance": {"abs": 0, "rel": 0.1}, "source": "none",
    });
    assert!(fault(&unknown).is_some_and(|fault| fault.contains("nothing answers")));
    let wrong = serde_json::json!({
        "id": "x", "topic": "units", "inputs": {"volume_us_gal": 1.0}, "expected": 4.546, "unit": "L",
        "tolerance": {"abs": 0, "rel": 0.01}, "source": "the imperial gallon",
    });
    assert!(fault(&wrong).is_some_and(|fault| fault.contains("the imperial gallon")));
}
