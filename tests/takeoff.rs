//! What to put on the truck, held against what a person counts on a sketch; the pages of the examples as committed.

use std::collections::BTreeSet;
use std::path::Path;

use proptest::prelude::*;
use serde_json::Value;
use undercroft::app::host::memory::Memory;
use undercroft::base::number::{Dimension, Quantity, Ratio};
use undercroft::base::value::{Answer, Value as Told};
use undercroft::calc::takeoff::cut_plan;
use undercroft::facts::Facts;
use undercroft::takeoff::{Takeoff, Unit, takeoff};

use super::commands::{call, example_names, examples};
use super::terminal::{keys_in, keys_of};

/// What the program prints in the world of the examples.
fn listed(arguments: &[&str]) -> String {
    let came = call(&mut examples(), arguments);
    assert!(came.told.is_empty(), "{}", came.told);
    came.printed
}

/// What a design takes.
fn counted(text: &str) -> Takeoff {
    let design = super::facts::design(text);
    takeoff(&mut Facts::new(&design), None)
}

/// A system with these runs and whatever else of it.
fn system(runs: &str, more: &str) -> String {
    format!(
        "undercroft: 1\nsystems:\n  main:\n    pipe: {{material: PVC, schedule: 40, size: 4 in, joints: solvent cement}}\n    runs:\n{runs}{more}"
    )
}

/// How much there is of a part, in pieces, feet, square feet or gallons; of all sizes where none is given.
fn of(list: &Takeoff, part: &str, size: &str) -> f64 {
    let lines = list.lines.iter().filter(|line| line.part == part && line.size.contains(size));
    lines
        .map(|line| {
            let unit = match line.unit {
                Unit::Each | Unit::Of(..) => 1.0,
                Unit::Length => 0.3048,
                Unit::Area => 0.3048 * 0.3048,
                Unit::Volume => 0.003_785_411_784,
            };
            line.quantity.to_f64_mid() / unit
        })
        .sum()
}

fn near(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 0.01, "{found} and not {wanted}");
}

fn missing(list: &Takeoff) -> Vec<(String, Vec<String>)> {
    list.uncounted
        .iter()
        .map(|one| (one.what.clone(), one.missing.iter().map(|one| one.entry.to_string()).collect()))
        .collect()
}

#[test]
fn pipe_is_cut_from_fewer_lengths_than_in_the_order_it_is_drawn() {
    // 4 ft and 4 ft leave no room for 5 ft 10 in in a length of 10 ft: in the order drawn it takes three lengths, one of
    // 8 ft and two of 5 ft 10 in. 4 ft and 5 ft 10 in and a cut of 1/8 in are 9 ft 10 1/8 in: two lengths do.
    let list = counted(&system(
        "      a: {from: fan, down: 4 ft, fittings: none}\n      b: {from: a, down: 4 ft, fittings: none}\n      \
         c: {from: b, down: 5 ft 10 in, fittings: none}\n      d: {from: c, down: 5 ft 10 in, fittings: none}\n",
        "",
    ));
    near(of(&list, "pipe", "4 in PVC schedule 40"), 2.0);
    let [cutting] = list.cuttings.as_slice() else { panic!("{:?}", list.cuttings) };
    assert!(cutting.fewest);
    let mut pairs: Vec<Vec<&str>> = cutting
        .lengths
        .iter()
        .map(|length| {
            let mut names: Vec<&str> = length.pieces.iter().map(|(name, _)| name.as_str()).collect();
            names.sort_unstable();
            names
        })
        .collect();
    pairs.sort();
    assert!(pairs == [["a", "c"], ["b", "d"]] || pairs == [["a", "d"], ["b", "c"]], "{pairs:?}");
    let length = |text: &str| Quantity::parse(text, Dimension::LENGTH).unwrap().number.high();
    // 10 ft less 9 ft 10 in and the cuts behind both pieces.
    assert!(cutting.lengths.iter().all(|one| one.left == length("1 3/4 in")), "{:?}", cutting.lengths);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn a_cut_plan_takes_no_more_lengths_than_whoever_cuts_in_the_order_drawn(
        pieces in proptest::collection::vec(1..240_i64, 1..16),
    ) {
        let (stock, saw) = (240, 1);
        let mut left: Vec<i64> = Vec::new();
        for piece in &pieces {
            match left.iter_mut().find(|left| **left >= piece + saw) {
                Some(left) => *left -= piece + saw,
                None => left.push(stock + saw - piece - saw),
            }
        }
        let exact: Vec<Ratio> = pieces.iter().copied().map(Ratio::from).collect();
        let plan = cut_plan(&exact, &Ratio::from(stock), &Ratio::from(saw)).unwrap();
        prop_assert!(plan.sticks.len() <= left.len());
    }
}

#[test]
fn a_run_longer_than_the_pipe_comes_takes_couplings() {
    // 23 ft of pipe that comes in 10 ft: two whole lengths and 3 ft, joined twice.
    let list = counted(&system("      long: {from: fan, down: 23 ft, fittings: none}\n", ""));
    near(of(&list, "pipe", ""), 3.0);
    near(of(&list, "coupling", "4 in PVC"), 2.0);
}

#[test]
fn fittings_are_counted_once_however_many_runs_they_join() {
    // A riser with a branch of 2 in out of its side and an elbow below: one tee, one reducer, one elbow, then one elbow
    // where the line drops.
    let list = counted(&system(
        "      riser: {from: fan, down: 8 ft}\n      line: {from: riser, north: 6 ft}\n      \
         drop: {from: line, down: 4 ft, to: s1}\n      side: {from: riser, east: 6 ft, size: 2 in, to: s2}\n",
        "    suction_points: {s1: {kind: slab}, s2: {kind: slab}}\n",
    ));
    near(of(&list, "tee", "4 in PVC"), 1.0);
    near(of(&list, "reducer", "4 in x 2 in PVC"), 1.0);
    near(of(&list, "90 elbow", "4 in PVC"), 2.0);
    let elbows = list.lines.iter().find(|line| line.part == "90 elbow").unwrap();
    assert_eq!(elbows.uses.iter().map(|one| one.what.as_str()).collect::<Vec<_>>(), ["line", "drop"]);
    assert!(elbows.assumed.iter().any(|said| said.contains("counted from where pipe turns")));
    // A tee has three ends, the reducer and each elbow two: 3 + 2 + 4.
    let cement = list.lines.iter().find(|line| line.part == "solvent cement").unwrap();
    assert_eq!(cement.uses[0].what, "about 9 joints");
    // A valve has two ends more.
    let list = counted(&system(
        "      riser: {from: fan, down: 8 ft}\n      line: {from: riser, north: 6 ft, valve: {kind: ball}}\n      \
         drop: {from: line, down: 4 ft, to: s1}\n      side: {from: riser, east: 6 ft, size: 2 in, to: s2}\n",
        "    suction_points: {s1: {kind: slab}, s2: {kind: slab}}\n",
    ));
    near(of(&list, "ball valve", "4 in PVC"), 1.0);
    let cement = list.lines.iter().find(|line| line.part == "solvent cement").unwrap();
    assert_eq!(cement.uses[0].what, "about 11 joints");
}

#[test]
fn hangers_come_by_their_spacing_or_by_their_places() {
    // 13 ft at 4 ft: 3.25, so four. Places: as many as there are. None: none.
    let list = counted(&system(
        "      a: {from: fan, down: 13 ft, fittings: none, hangers: {spacing: 4 ft, kind: strap}}\n      \
         b: {from: a, north: 6 ft, fittings: none, hangers: {places: [1 ft, 3 ft, 5 ft], kind: strap}}\n      \
         c: {from: b, north: 2 ft, fittings: none, hangers: none}\n      d: {from: c, north: 2 ft, fittings: none}\n",
        "",
    ));
    near(of(&list, "strap", "for 4 in pipe"), 7.0);
    assert!(
        missing(&list).contains(&(
            "the hangers of d".to_owned(),
            vec!["systems.main.runs.d.hangers.spacing".to_owned()]
        )),
        "{:?}",
        missing(&list)
    );
}

#[test]
fn what_goes_through_something_takes_holes_flashing_collar_and_sealant() {
    let list = counted(&system(
        "      stack: {from: fan, up: 6 ft, to: discharge, fittings: none, pierces: {roof: {flashing: yes}, \
         garage: {kind: inner wall, hole: 5 in, fire_rated: wall, fire_stop: collar, sealed_with: polyurethane}}}\n",
        "",
    ));
    near(of(&list, "roof flashing", "for 4 in pipe"), 1.0);
    near(of(&list, "fire collar", "for 4 in pipe"), 1.0);
    near(of(&list, "hole", "through roof"), 1.0);
    near(of(&list, "hole", "5 in, through inner wall"), 1.0);
    // Round pipe of 4 1/2 in in a hole of 5 in, 1/2 in deep: pi/4 x (25 - 20.25) x 0.5 = 1.87 cu in, and a tenth more. A
    // cartridge of 10 fl oz holds 18 cu in: one. The gap is 1/4 in wide and takes no backer.
    near(of(&list, "polyurethane sealant", ""), 1.0);
    near(of(&list, "backer rod", ""), 0.0);
}

#[test]
fn joints_take_sealant_by_their_gap_and_backer_where_they_are_wide() {
    // 60 ft of 3/4 in, 1/2 in deep: 720 x 0.75 x 0.5 = 270 cu in; 10 % more is 297. A cartridge of 10 fl oz holds 10 x
    // 231/128 = 18.05 cu in: 16.5, so 17. Backer: 60 ft and a tenth.
    let list = counted(
        "undercroft: 1\nfoundation:\n  joints:\n    channel: {kind: floor-wall joint, length: 60 ft, width: 3/4 in, closed: yes, closed_with: polyurethane}\n    \
         left: {kind: crack, length: 9 ft, closed: no}\n    open: {kind: crack, width: 1/8 in, closed: yes, closed_with: silicone}\n",
    );
    near(of(&list, "polyurethane sealant", ""), 17.0);
    near(of(&list, "backer rod", "for gaps of 3/4 in"), 66.0);
    assert_eq!(
        missing(&list),
        [("what closes open".to_owned(), vec!["foundation.joints.open.length".to_owned()])]
    );
}

#[test]
fn a_pit_is_dug_and_a_hole_cored_at_a_suction_point() {
    let list = counted(&system(
        "      drop: {from: fan, down: 8 ft, to: s1, fittings: none, pierces: {slab: {sealed: yes}}}\n",
        "    suction_points:\n      s1: {kind: slab, pit: {volume: 12 gal}, hole: 6 in, sealed_with: polyurethane}\n",
    ));
    near(of(&list, "soil to dig out and carry off", ""), 12.0);
    // 12 gal in buckets of 5 gal: three.
    near(of(&list, "buckets for it", ""), 3.0);
    // Once, though the run says as well that it goes through the slab.
    near(of(&list, "core hole", "6 in, through slab"), 1.0);
    // The gap is (6 - 4.5)/2 = 3/4 in, wider than 1/2 in: backer round pi x 5.25 in = 16.5 in, a tenth more 18.1 in, to the next
    // inch 19 in: 1.58 ft.
    near(of(&list, "backer rod", "for gaps of 3/4 in"), 1.583);
}

#[test]
fn a_membrane_is_laid_in_strips_over_its_real_outline() {
    // 16 ft x 20 ft, turned up 8 in, laps of 12 in, rolls of 12 ft x 100 ft. Laid south to north: 17 ft 4 in across take
    // (17.33 - 1)/11 = 1.5, two strips of 21 ft 4 in: 512 sq ft off the roll. West to east: 21.33 across take 1.8, two
    // of 17 ft 4 in: 416 sq ft, which is less. One roll. Seam: 17 ft 4 in. Edge: 72 ft. A bead of 3/8 in x 3/8 in along
    // 89.3 ft holds 151 cu in, 10 % more is 166: 9.2 cartridges of 18.05 cu in, so ten.
    let text = "undercroft: 1\nfoundation:\n  areas:\n    crawl: {kind: crawlspace, size: 16 ft x 20 ft, membrane: {thickness: 6 mil, lap: 12 in, seams: sealed, seams_with: polyurethane, \
                edges: {sealed: yes, sealed_with: polyurethane, held_by: batten, turn_up: 8 in}}}\n";
    let list = counted(text);
    near(of(&list, "sheet", "6 mil"), 1.0);
    let line = list.lines.iter().find(|line| line.part == "sheet").unwrap();
    assert!(line.notes[0].contains("strips from west to east: 2 of 17 ft 4 in"), "{:?}", line.notes);
    near(of(&list, "polyurethane sealant", ""), 10.0);
    // Battens round it: 72 ft and a tenth, to the next inch.
    near(of(&list, "batten", ""), 79.25);
    // Without the lap no strips can be told; the floor still is: 320 sq ft.
    let list = counted(&text.replace("lap: 12 in, ", ""));
    near(of(&list, "sheet for the floor alone", ""), 320.0);
    assert!(missing(&list).iter().any(|(what, entries)| {
        what == "the strips of the crawl membrane" && *entries == ["foundation.areas.crawl.membrane.lap"]
    }));
}

#[test]
fn a_shop_file_says_in_what_its_stock_comes() {
    let design = system(
        "      long: {from: fan, down: 23 ft, fittings: none, pierces: none}\n",
        "foundation:\n  joints: {crack: {kind: crack, length: 60 ft, width: 3/4 in, closed: yes, closed_with: polyurethane}}\n",
    );
    let shop = "undercroft: 1\ndefaults: {waste: 0 %, hangers: {spacing: 6 ft}}\nstock:\n  pipe: {what: pipe, material: PVC, length: 20 ft}\n  \
                tubes: {what: cartridge of sealant, volume: 27 fl oz}\n";
    let mut world = Memory::with([("design.yaml", design.as_str()), ("shop.yaml", shop)]);
    let printed = call(&mut world, &["takeoff", "design.yaml"]).printed;
    // 23 ft of 20 ft: two lengths. 270 cu in in cartridges of 48.7 cu in: 5.5, so six. 23 ft at 6 ft: four hangers.
    for line in [
        "2 lengths of 20 ft",
        "6 cartridges of 27 fl oz",
        "pipe comes in lengths of 20 ft, as the shop file says",
    ] {
        assert!(printed.contains(line), "{line}\n{printed}");
    }
    let hangers = printed.lines().find(|line| line.contains("hanger, for 4 in pipe")).unwrap();
    assert!(hangers.trim_start().starts_with("4 "), "{hangers}");
}

#[test]
fn what_cannot_be_counted_names_its_entry_and_the_rest_still_comes_out() {
    let design =
        system("      riser: {from: fan, down: 8 ft}\n      line: {from: riser, fittings: none}\n", "");
    let mut world = Memory::with([("design.yaml", design.as_str())]);
    let came = call(&mut world, &["takeoff", "design.yaml"]);
    assert_eq!(came.status, 3);
    assert!(came.printed.contains("1 length of 10 ft"), "{}", came.printed);
    assert!(came.printed.contains("the pipe of line"), "{}", came.printed);
    let broken = design.replace("8 ft", "8 fathoms of it");
    world.files.insert("design.yaml".into(), broken.into_bytes());
    let came = call(&mut world, &["takeoff", "design.yaml"]);
    assert_eq!(came.status, 2);
    assert!(came.printed.contains("the pipe of riser"), "{}", came.printed);
    assert_eq!(call(&mut world, &["takeoff", "nothing.yaml"]).status, 2);
}

#[test]
fn where_there_are_several_systems_each_run_is_called_with_its_own() {
    let one = "    pipe: {material: PVC, schedule: 40, size: 3 in}\n    runs: {riser: {from: fan, down: 4 ft, fittings: none, pierces: none}}\n";
    let list = counted(&format!("undercroft: 1\nsystems:\n  east:\n{one}  west:\n{one}"));
    // 4 ft for each: one length of 10 ft holds both.
    near(of(&list, "pipe", "3 in PVC schedule 40"), 1.0);
    let pipe = list.lines.iter().find(|line| line.part == "pipe").unwrap();
    let names: Vec<&str> = pipe.uses.iter().map(|one| one.what.as_str()).collect();
    assert_eq!(names, ["riser of east", "riser of west"]);
}

#[test]
fn pipes_side_by_side_are_counted_each() {
    // Two pipes of 6 ft: two lengths of 10 ft. Two hangers for each (6 ft at 4 ft is 1.5).
    let list = counted(&system(
        "      twin: {from: fan, down: 6 ft, abreast: 2, fittings: [90 elbow], hangers: {spacing: 4 ft}}\n",
        "",
    ));
    near(of(&list, "pipe", ""), 2.0);
    near(of(&list, "90 elbow", ""), 2.0);
    near(of(&list, "hanger", ""), 4.0);
}

#[test]
fn what_field_notes_found_is_counted_in_place_of_what_was_drawn() {
    let design = system("      riser: {from: fan, down: 8 ft, fittings: none, pierces: none}\n", "");
    let notes = "undercroft: 1\njob: {date: 2026-06-03, by: R. Cole, stage: installed}\nsystems: {main: {runs: {riser: {down: 12 ft}}}}\n";
    let mut world = Memory::with([("design.yaml", design.as_str()), ("notes.yaml", notes)]);
    let printed = call(&mut world, &["takeoff", "design.yaml", "--field-notes", "notes.yaml"]).printed;
    assert!(printed.contains("2 lengths of 10 ft") && printed.contains("riser 12 ft"), "{printed}");
}

#[test]
fn a_list_names_no_price_and_is_the_same_each_time() {
    for name in example_names() {
        let path = format!("examples/{name}/design.yaml");
        let one = listed(&["takeoff", &path]);
        assert_eq!(one, listed(&["takeoff", &path]));
        assert!(!one.contains('$'), "{name}");
        assert!(one.lines().all(|line| line.chars().count() <= 80), "{name}");
        let narrated = listed(&["takeoff", &path, "--plain", "--width", "120"]);
        assert!(!narrated.contains("─") && !narrated.contains("  "), "{name}\n{narrated}");
    }
}

#[test]
fn the_lists_beside_the_examples_are_as_the_program_counts_them() {
    let mut changed = Vec::new();
    for name in example_names() {
        let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(&name).join("takeoff.txt");
        let printed = listed(&["takeoff", &format!("examples/{name}/design.yaml")]);
        if std::fs::read_to_string(&file).ok().as_deref() != Some(&printed) {
            std::fs::write(&file, &printed).unwrap();
            changed.push(name);
        }
    }
    assert!(changed.is_empty(), "written anew, look at them: {changed:?}");
}

#[test]
fn a_table_for_a_spreadsheet_has_six_columns_on_every_line() {
    for name in example_names() {
        let printed = listed(&["takeoff", &format!("examples/{name}/design.yaml"), "--as", "csv"]);
        let rows = parsed(&printed);
        assert_eq!(rows[0], ["part", "size", "quantity", "unit", "for", "note"]);
        assert!(rows.len() > 3 && rows.iter().all(|row| row.len() == 6), "{name}");
        let counted = rows.iter().skip(1).filter(|row| !row[2].is_empty());
        assert!(counted.clone().all(|row| row[2].parse::<f64>().is_ok() && !row[3].is_empty()), "{name}");
    }
}

/// The fields of a table by the standard: records end at CRLF, quotes are doubled.
fn parsed(text: &str) -> Vec<Vec<String>> {
    let (mut rows, mut row, mut field, mut quoted) = (Vec::new(), Vec::new(), String::new(), false);
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        match (quoted, c) {
            (true, '"') if chars.peek() == Some(&'"') => {
                chars.next();
                field.push('"');
            }
            (true, '"') => quoted = false,
            (false, '"') if field.is_empty() => quoted = true,
            (false, ',') => row.push(std::mem::take(&mut field)),
            (false, '\r') => {
                assert_eq!(chars.next(), Some('\n'));
                row.push(std::mem::take(&mut field));
                rows.push(std::mem::take(&mut row));
            }
            (_, c) => field.push(c),
        }
    }
    assert!(field.is_empty() && row.is_empty() && !quoted);
    rows
}

#[test]
fn lists_for_machines_follow_the_published_schema_and_the_schema_follows_them() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("schemas/takeoff.schema.json");
    let schema: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let mut seen = BTreeSet::new();
    for name in example_names() {
        let printed = listed(&["takeoff", &format!("examples/{name}/design.yaml"), "--as", "json"]);
        let report: Value = serde_json::from_str(&printed).unwrap();
        let faults: Vec<String> = validator
            .iter_errors(&report)
            .map(|fault| format!("{}: {fault}", fault.instance_path()))
            .collect();
        assert!(faults.is_empty(), "{name}: {faults:#?}");
        keys_in(&report, &mut seen);
    }
    let mut world = Memory::with([("design.yaml", "undercroft: 1\njob: {work: repair}\nsistems: 3\n")]);
    let report: Value =
        serde_json::from_str(&call(&mut world, &["takeoff", "design.yaml", "--as", "json"]).printed).unwrap();
    assert!(validator.is_valid(&report));
    keys_in(&report, &mut seen);
    let mut known = BTreeSet::new();
    keys_of(&schema, "", &mut known);
    let stale: Vec<&String> = known.difference(&seen).collect();
    assert!(stale.is_empty(), "keys of the schema that no list has: {stale:?}");
}

#[test]
fn a_run_given_by_points_is_as_long_as_they_lie_apart() {
    // 12 ft east, 5 ft north, and 9 ft over 12 ft aslant, which is 15 ft: 32 ft are four lengths of pipe.
    let run = "      long: {from: fan, points: [[0 ft, 0 ft, 0 ft], [12 ft, 0 ft, 0 ft], [12 ft, 5 ft, 0 ft], [12 ft, 17 ft, -9 ft]], fittings: none}\n";
    near(of(&counted(&system(run, "")), "pipe", ""), 4.0);
    let text = system(run, "");
    let design = super::facts::design(&text);
    let length = super::facts::ask(&mut Facts::new(&design), "runs", "long", "length");
    let Answer::Known { value: Told::Number(length), .. } = length else { panic!("{length:?}") };
    near(length.to_f64_mid() / 0.3048, 32.0);
}

#[test]
fn stone_gaskets_tops_of_walls_and_tubing_are_counted_or_say_what_is_missing() {
    let text = "\
undercroft: 1
job: {work: new house}
building:
  spaces: {cellar: {kind: basement}, crawl: {kind: crawlspace}}
  passages:
    crawl_hatch: {kind: hatch, between: [crawl, cellar], size: 16 in x 24 in, gasket: yes}
    stair_hatch: {kind: hatch, between: [crawl, cellar], gasket: yes}
foundation:
  areas:
    cellar: {kind: slab, in: cellar, size: 30 ft x 20 ft, under_slab: {kind: gravel, depth: 4 in}}
  walls:
    north: {kind: hollow block, of: cellar, side: north, length: 30 ft, top: sealed}
    south: {kind: hollow block, of: cellar, side: south, top: grouted}
    east: {kind: poured concrete, of: cellar, side: east, length: 20 ft}
systems:
  main:
    pipe: {material: PVC, schedule: 40, size: 4 in}
    fan: {at: [0 ft, 0 ft, 8 ft], in: cellar}
    runs:
      riser: {from: fan, down: 10 ft, fittings: none}
    gauge: {kind: U-tube manometer, at: [2 ft, 1 ft, 4 ft], tap: riser}
";
    let list = counted(text);
    // 30 ft x 20 ft x 4 in is 200 cu ft, with a tenth more 220 cu ft; a cubic foot is 7.480519 gal
    near(of(&list, "gravel", "to lay"), 220.0 * 7.480_519);
    // 16 + 24 + 16 + 24 in
    near(of(&list, "gasket strip for a hatch", ""), 80.0 / 12.0);
    near(of(&list, "foam or sealant for the tops of hollow block", ""), 30.0);
    // 2 ft east and 1 ft north of a pipe that passes its height: 3 ft and a tenth more, up to the next inch
    near(of(&list, "tubing for the gauge", ""), 40.0 / 12.0);
    let missing = missing(&list);
    let wants = |what: &str, entry: &str| {
        missing.iter().any(|(said, entries)| said.contains(what) && entries.iter().any(|one| one == entry))
    };
    assert!(wants("stair hatch", "building.passages.stair_hatch.size"), "{missing:?}");
    assert!(wants("along south", "foundation.walls.south.length"), "{missing:?}");
    assert!(!missing.iter().any(|(said, _)| said.contains("east")), "{missing:?}");
    // In a house that stands, the stone lies there already; a gauge without a place has no length of tubing.
    let standing =
        text.replace("work: new house", "work: new system").replace("at: [2 ft, 1 ft, 4 ft], ", "");
    let list = counted(&standing);
    near(of(&list, "gravel", "to lay"), 0.0);
    near(of(&list, "tubing for the gauge", ""), 1.0);
    let missing = self::missing(&list);
    assert!(
        missing.iter().any(|(said, entries)| said.contains("tubing")
            && entries.iter().any(|one| one == "systems.main.gauge.at")),
        "{missing:?}"
    );
}

#[test]
fn a_file_that_cannot_be_read_says_that_nothing_was_counted_or_worked_out() {
    for (command, words) in [
        ("takeoff", "Nothing was counted."),
        ("worksheet", "Nothing was worked out."),
        ("review", "Nothing was judged."),
    ] {
        let mut world = Memory::with([("a.yaml", "undercroft: 1\n---\nundercroft: 1\n")]);
        let printed = call(&mut world, &[command, "a.yaml"]).printed;
        assert!(printed.contains(words), "{command}: {printed}");
    }
}
