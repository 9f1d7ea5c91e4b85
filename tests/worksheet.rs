//! The worksheet: every number with what it rests on; what is missing is told, and nothing is guessed.

use std::collections::BTreeSet;
use std::path::Path;

use serde_json::Value;
use undercroft::app::host::memory::Memory;

use super::commands::{Came, call, example, example_names, examples};
use super::terminal::{keys_in, keys_of};

fn paths() -> Vec<String> {
    example_names().iter().map(|name| format!("examples/{name}/design.yaml")).collect()
}

/// A call in the world of the examples.
fn call_examples(arguments: &[&str]) -> Came {
    call(&mut examples(), arguments)
}

fn document(came: &Came) -> Value {
    serde_json::from_str(&came.printed).unwrap()
}

/// The numbers of a document, each with its thing.
fn numbers(document: &Value) -> Vec<(&Value, &Value)> {
    let things =
        document["parts"].as_array().unwrap().iter().flat_map(|part| part["things"].as_array().unwrap());
    things
        .flat_map(|thing| thing["numbers"].as_array().unwrap().iter().map(move |one| (thing, one)))
        .collect()
}

#[test]
fn the_worksheets_beside_the_examples_are_as_the_program_works_them_out() {
    let mut changed = Vec::new();
    for name in example_names() {
        let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(&name).join("worksheet.txt");
        let printed = call_examples(&["worksheet", &format!("examples/{name}/design.yaml")]).printed;
        if std::fs::read_to_string(&file).ok().as_deref() != Some(&printed) {
            std::fs::write(&file, &printed).unwrap();
            changed.push(name);
        }
    }
    assert!(changed.is_empty(), "written anew, look at them: {changed:?}");
}

#[test]
fn documents_follow_the_published_schema_and_the_schema_follows_the_documents() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("schemas/worksheet.schema.json");
    let schema: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let mut seen = BTreeSet::new();
    for path in paths() {
        let document = document(&call_examples(&["worksheet", &path, "--as", "json"]));
        let faults: Vec<String> = validator
            .iter_errors(&document)
            .map(|fault| format!("{}: {fault}", fault.instance_path()))
            .collect();
        assert!(faults.is_empty(), "{path} {faults:#?}");
        keys_in(&document, &mut seen);
    }
    let mut twice = Memory::with([("a.yaml", "undercroft: 1\njob: {title: A}\njob: {title: B}\n")]);
    let came = call(&mut twice, &["worksheet", "a.yaml", "--as", "json"]);
    assert!(validator.is_valid(&document(&came)), "{}", came.printed);
    keys_in(&document(&came), &mut seen);
    let mut known = BTreeSet::new();
    keys_of(&schema, "", &mut known);
    let stale: Vec<&String> = known.difference(&seen).collect();
    assert!(stale.is_empty(), "keys of the schema that no document has: {stale:?}");
}

#[test]
fn a_number_is_known_with_its_bounds_or_says_what_it_wants() {
    for path in paths() {
        let document = document(&call_examples(&["worksheet", &path, "--as", "json"]));
        for (thing, number) in numbers(&document) {
            let known = number["known"].as_bool().unwrap();
            assert_eq!(known, number["missing"].as_array().unwrap().is_empty(), "{path} {thing} {number}");
            assert_eq!(known, number["shown"].is_string(), "{path} {number}");
            if let (Some(low), Some(high)) = (number["low"].as_f64(), number["high"].as_f64()) {
                assert!(low <= high, "{path} {number}");
                let is_range = low < high && (high - low) > 1e-9 * high.abs().max(low.abs());
                let doubts = !number["in_doubt_for"].as_array().unwrap().is_empty();
                assert!(!is_range || doubts, "a range says what makes it one: {path} {number}");
            }
            assert!(
                !known || !number["source"].as_str().unwrap().is_empty() || number["formula"] == "",
                "{number}"
            );
        }
    }
}

#[test]
fn every_entry_that_a_number_rests_on_stands_where_the_document_says() {
    let text = example("01");
    let mut world = Memory::with([("a.yaml", text.as_str())]);
    let document = document(&call(&mut world, &["worksheet", "a.yaml", "--as", "json"]));
    let mut seen = 0;
    for (_, number) in numbers(&document) {
        for entry in number["entries"].as_array().unwrap() {
            let byte = |end: &str| usize::try_from(entry["place"][end]["byte"].as_u64().unwrap()).unwrap();
            assert_eq!(&text[byte("start")..byte("end")], entry["says"].as_str().unwrap());
            seen += 1;
        }
    }
    assert!(seen > 100);
}

#[test]
fn what_was_taken_for_granted_is_told_with_the_number_and_once_in_words() {
    let text = example("01");
    let mut world = Memory::with([("a.yaml", text.as_str())]);
    let printed = call(&mut world, &["worksheet", "a.yaml"]).printed;
    let (above, below) = printed.split_once("Taken for granted").unwrap();
    assert!(above.contains("[1"), "{above}");
    let granted = below.split("\n\n").next().unwrap();
    let marks = granted.lines().filter(|line| line.trim_start().starts_with('[')).count();
    assert!(marks > 0);
    let document = document(&call(&mut world, &["worksheet", "a.yaml", "--as", "json"]));
    let all: BTreeSet<String> = numbers(&document)
        .into_iter()
        .filter(|(_, number)| number["known"] == true)
        .flat_map(|(_, number)| number["taken_for_granted"].as_array().unwrap().clone())
        .map(|one| one.as_str().unwrap().to_owned())
        .collect();
    assert_eq!(all.len(), marks);
}

#[test]
fn one_bad_entry_costs_what_rests_on_it_and_nothing_else() {
    let tests = "  communication:\n    \
         t1: {in: basement, suction_point: s1, steps: [{suction: 2 in WC, flow: 30 cfm}, {suction: 8 in WC, flow: 75 cfm}]}\n    \
         t2: {in: crawl, suction_point: s2, suction: 4 in WC, flow: 30 cfm}\n";
    let bad = example("01")
        .replace("[90 cfm, 1.6 in WC, 80 W]", "[90 cfm, 3.6 in WC, 80 W]")
        .replace("valve: {open: 40 %", "valve: {kind: gate, open: 40 %")
        .replace("  communication:\n", tests);
    let mut world = Memory::with([("a.yaml", bad.as_str())]);
    let came = call(&mut world, &["worksheet", "a.yaml"]);
    assert_eq!(came.status, 0);
    assert!(came.printed.contains("the pressure is higher than with less air"), "{}", came.printed);
    assert!(came.printed.contains("width inside"), "{}", came.printed);
    let unread = example("01").replace("altitude: 820 ft", "altitude: high");
    let mut world = Memory::with([("a.yaml", unread.as_str())]);
    let came = call(&mut world, &["worksheet", "a.yaml"]);
    assert_eq!(came.status, 2);
    assert!(came.printed.contains("width inside") && came.printed.contains("high"), "{}", came.printed);
}

#[test]
fn designed_air_far_from_what_is_worked_out_is_told_before_the_numbers() {
    // Designed for 50 cfm; by the communication test the ground gives no more than half of that at the most the fan can make.
    let path = "examples/04-two-books-two-verdicts/design.yaml";
    let told = |printed: &str| printed.split_whitespace().collect::<Vec<_>>().join(" ");
    let wanted = "lie far apart for fan: the file states that it is designed for 50 cfm";
    let page = told(&call_examples(&["worksheet", path]).printed);
    assert!(page.contains(wanted), "{page}");
    let permit = call_examples(&["submittal", "--for", "permit", "--as", "html", path]).printed;
    assert!(told(&permit).contains(wanted));
    // Where nobody says what it is designed for there is nothing to hold against it.
    let other = call_examples(&["worksheet", "examples/01-two-area-ranch/design.yaml"]).printed;
    assert!(!other.contains("lie far apart"), "{other}");
}

#[test]
fn a_file_without_a_system_says_that_there_is_nothing_to_work_out() {
    let mut world = Memory::with([("a.yaml", "undercroft: 1\njob: {title: Empty}\n")]);
    let came = call(&mut world, &["worksheet", "a.yaml"]);
    assert_eq!(came.status, 0);
    assert!(came.printed.contains("nothing to work out"), "{}", came.printed);
    let came = call(&mut Memory::default(), &["worksheet", "a.yaml"]);
    assert_eq!(came.status, 2);
}

#[test]
fn no_line_is_wider_than_asked_and_the_narrated_form_draws_nothing() {
    for path in paths() {
        for width in ["40", "80", "120"] {
            let printed = call_examples(&["worksheet", &path, "--width", width]).printed;
            let room: usize = width.parse().unwrap();
            assert!(printed.lines().all(|line| line.chars().count() <= room), "{path} {width}");
        }
        let plain = call_examples(&["worksheet", &path, "--plain"]).printed;
        assert!(!plain.contains('─') && !plain.contains("  "), "{path}");
    }
}

/// One fan on one pit, with a test hole and all that its numbers rest on.
const PLAIN: &str = "\
undercroft: 1
site: {altitude: 0 ft, soil_gas_temperature: 55 degF, winter_design: 10 degF}
building:
  spaces: {cellar: {kind: basement, conditioned: yes}}
  leakage: {flow: 1500 cfm, at: 50 Pa}
  air_movers: none
foundation:
  areas:
    cellar:
      kind: slab
      in: cellar
      outline: [[0 ft, 0 ft], [30 ft, 0 ft], [30 ft, 20 ft], [0 ft, 20 ft]]
      under_slab: {kind: gravel, depth: 4 in, probe: clean}
systems:
  main:
    fan:
      curve: [[0 cfm, 2 in WC, 80 W], [200 cfm, 0 in WC, 40 W]]
      curve_density: 0.075 lb/ft3
    discharge: {cap: none}
    pipe: {material: PVC, schedule: 40, size: 4 in}
    runs:
      stack: {from: fan, up: 20 ft, to: discharge, fittings: none}
      riser: {from: fan, down: 30 ft, to: s1, fittings: none}
    suction_points:
      s1: {kind: slab, in: cellar, at: {plan: [15 ft, 10 ft]}, pit: {width: 18 in}}
start_up:
  field:
    far: {in: cellar, at: {plan: [28 ft, 18 ft]}, on: -0.02 in WC}
";

/// A bad entry of a design: what is written instead of what, where it is told, in what words, what would be taken, which numbers it
/// costs, and which still come out.
struct Bad {
    instead: &'static str,
    written: &'static str,
    /// Text of the line that has to be named.
    line: &'static str,
    says: &'static str,
    takes: &'static str,
    costs: &'static [(&'static str, &'static str)],
    keeps: &'static [(&'static str, &'static str)],
}

const BAD: &[Bad] = &[
    Bad {
        instead: "[200 cfm, 0 in WC, 40 W]",
        written: "[200 cfm, 3 in WC, 40 W]",
        line: "curve: [[0 cfm",
        says: "the pressure is higher than with less air",
        takes: "with more air a fan makes less, or as much",
        costs: &[("fan", "worked_flow"), ("cellar", "weakest_suction")],
        keeps: &[("fan", "shut_off"), ("riser", "length"), ("cellar", "suction_reach")],
    },
    Bad {
        instead: ", [200 cfm, 0 in WC, 40 W]",
        written: "",
        line: "curve: [[0 cfm",
        says: "a curve takes at least two points",
        takes: "at least two",
        costs: &[("fan", "worked_flow")],
        keeps: &[("fan", "shut_off"), ("riser", "length"), ("cellar", "air_given")],
    },
    Bad {
        instead: "up: 20 ft",
        written: "up: 0 ft",
        line: "up: 0 ft",
        says: "it has no length",
        takes: "say how far it goes, or leave it out",
        costs: &[("fan", "worked_flow")],
        keeps: &[("riser", "length"), ("stack", "open_area"), ("cellar", "suction_reach")],
    },
    Bad {
        instead: "    suction_points:\n",
        written: "      round: {from: back, east: 4 ft, slope: 1/8 in per ft, fittings: none}\n      \
                  back: {from: round, west: 4 ft, slope: 1/8 in per ft, fittings: none}\n    suction_points:\n",
        line: "from: back",
        says: "it is given by way of itself",
        takes: "something in the round has to be given without the rest",
        costs: &[("fan", "worked_flow")],
        keeps: &[("riser", "length"), ("stack", "length"), ("cellar", "suction_reach")],
    },
    Bad {
        instead: "[30 ft, 0 ft], [30 ft, 20 ft]",
        written: "[30 ft, 20 ft], [30 ft, 0 ft]",
        line: "outline: [[",
        says: "the side after corner 1 meets the side after corner 3",
        takes: "corners stand in the order in which one walks along the walls",
        costs: &[("cellar", "suction_reach"), ("fan", "worked_flow")],
        keeps: &[("fan", "shut_off"), ("riser", "length"), ("stack", "open_area")],
    },
    Bad {
        instead: "[28 ft, 18 ft]",
        written: "[40 ft, 18 ft]",
        line: "far: {in: cellar",
        says: "it does not lie within its area",
        takes: "a hole goes through the floor inside the walls",
        costs: &[("far", "worked_suction"), ("far", "beyond_worked")],
        keeps: &[("fan", "worked_flow"), ("cellar", "weakest_suction"), ("riser", "worked_loss")],
    },
    Bad {
        instead: "flow: 1500 cfm",
        written: "flow: -1500 cfm",
        line: "leakage: {flow",
        says: "is outside what makes sense here",
        takes: "a flow that is not less than nothing",
        costs: &[("building", "pressure_fall")],
        keeps: &[("fan", "worked_flow"), ("cellar", "weakest_suction"), ("far", "worked_suction")],
    },
];

#[test]
fn a_bad_entry_is_named_on_its_line_with_what_would_be_taken_and_the_rest_still_comes_out() {
    let sheet = |text: &str| {
        let mut world = Memory::with([("a.yaml", text)]);
        let came = call(&mut world, &["worksheet", "a.yaml", "--plain", "--width", "200"]);
        let document = document(&call(&mut world, &["worksheet", "a.yaml", "--as", "json"]));
        (came, document)
    };
    let known = |document: &Value, thing: &str, fact: &str| {
        let all = numbers(document);
        let its = |(of, one): &&(&Value, &Value)| of["name"] == thing && one["fact"] == fact;
        all.iter().find(its).is_some_and(|(_, one)| one["known"] == true)
    };
    let whole = sheet(PLAIN).1;
    for bad in BAD {
        assert!(PLAIN.contains(bad.instead), "{}", bad.instead);
        let text = PLAIN.replace(bad.instead, bad.written);
        let line = text.lines().position(|line| line.contains(bad.line)).unwrap() + 1;
        let (came, document) = sheet(&text);
        let told = format!("{}{}", came.printed, came.told);
        let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
        let place = [format!("line {line})"), format!("line {line}:"), format!("a.yaml:{line}")];
        assert!(place.iter().any(|place| told.contains(place)), "{} on line {line}: {told}", bad.written);
        for words in [bad.says, bad.takes] {
            assert!(told.contains(words), "{}: {words}\n{told}", bad.written);
        }
        for (thing, fact) in bad.costs {
            assert!(known(&whole, thing, fact), "{thing} {fact} comes out of the plain design");
            assert!(!known(&document, thing, fact), "{}: {thing} {fact}", bad.written);
        }
        for (thing, fact) in bad.keeps {
            assert!(known(&document, thing, fact), "{}: {thing} {fact}\n{told}", bad.written);
        }
    }
}

/// Of two fans at 60 cfm the one makes 1.43 in WC, the other 0.31 in WC; the pipe takes 0.16 in WC and the pit is to have 0.8 in WC.
#[test]
fn each_fan_of_the_shop_tells_what_it_has_to_spare_in_place_of_the_one_that_is_drawn() {
    let wanted =
        [("s1: {kind: slab, in: cellar}", "s1: {kind: slab, in: cellar, flow: 60 cfm, suction: 0.8 in WC}")];
    let design = super::flows::design(&wanted);
    let shop = "undercroft: 1
fans:
  tall one: {curve: [[0 cfm, 2 in WC], [200 cfm, 0 in WC]]}
  flat one: {curve: [[0 cfm, 0.5 in WC], [150 cfm, 0 in WC]]}
  plain one: {power: 60 W}
";
    let mut world = Memory::with([("design.yaml", design.as_str()), ("shop.yaml", shop)]);
    let came = call(&mut world, &["worksheet", "design.yaml", "--shop", "shop.yaml", "--as", "json"]);
    let document = document(&came);
    let told: Vec<(&str, f64, f64)> = numbers(&document)
        .into_iter()
        .filter(|(thing, number)| {
            number["fact"] == "suction_to_spare" && thing["name"].as_str().unwrap().contains(" for ")
        })
        .map(|(thing, number)| {
            let end = |key: &str| number[key].as_f64().unwrap() / 249.088_91;
            (thing["name"].as_str().unwrap(), end("low"), end("high"))
        })
        .collect();
    let [(tall, low, high), (flat, weak_low, weak_high)] = told.as_slice() else { panic!("{told:?}") };
    assert!(tall.starts_with("tall one") && *low < 0.47 && 0.47 < *high && *low > 0.0, "{told:?}");
    assert!(
        flat.starts_with("flat one") && *weak_low < -0.65 && -0.65 < *weak_high && *weak_high < 0.0,
        "{told:?}"
    );
}
