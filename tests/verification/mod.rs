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

/// How far the answer to one entry lies off what its source says: as a share of it, and as a share of what is allowed.
fn off(case: &Value) -> Option<(f64, f64)> {
    let (expected, absolute, relative) =
        (case["expected"].as_f64()?, case["tolerance"]["abs"].as_f64()?, case["tolerance"]["rel"].as_f64()?);
    let (low, high) = answer(case)?.to_f64_bounds();
    let off = (low - expected).abs().max((high - expected).abs());
    let share = if expected == 0.0 { off } else { off / expected.abs() };
    Some((share, off / absolute.max(relative * expected.abs())))
}

/// A line for each topic: how many check values, and those that lie furthest off what the source says and off what is allowed. Shown
/// with `cargo test verification -- --nocapture`.
fn table(cases: &[Value]) -> String {
    let mut topics: std::collections::BTreeMap<&str, Vec<&Value>> = std::collections::BTreeMap::new();
    for case in cases {
        topics.entry(case["topic"].as_str().unwrap_or("?")).or_default().push(case);
    }
    let mut lines = vec!["topic | values | worst error | at | most of what is allowed | at".to_owned()];
    for (topic, cases) in topics {
        let worst = |pick: fn((f64, f64)) -> f64| {
            let each = cases.iter().filter_map(|case| Some((pick(off(case)?), case["id"].as_str()?)));
            each.max_by(|a, b| a.0.total_cmp(&b.0)).unwrap_or((0.0, "none"))
        };
        let (error, allowed) = (worst(|off| off.0), worst(|off| off.1));
        lines.push(format!(
            "{topic} | {} | {:.2e} | {} | {:.0} % | {}",
            cases.len(),
            error.0,
            error.1,
            100.0 * allowed.0,
            allowed.1
        ));
    }
    lines.join("\n")
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
    let mut all = Vec::new();
    for path in &files {
        let cases: Vec<Value> = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
        assert!(!cases.is_empty(), "{} is empty", path.display());
        faults.extend(cases.iter().filter_map(fault));
        all.extend(cases);
    }
    println!("{}", table(&all));
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(all.len() >= 440, "only {} check values: none may be dropped", all.len());
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
