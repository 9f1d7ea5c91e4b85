//! Promise 10: a signed review goes stale when one byte of design, books or program changes, and says which; a recorded
//! one reproduces byte for byte.

use serde_json::Value;
use undercroft::app::host::memory::Memory;
use undercroft::findings::compare::account::Program;

use super::variances_hold_on::Dice;
use crate::commands::{Came, call, example};
use crate::living_books::{CASES, CHANGE, town};

const RECORD: [&str; 8] =
    ["review", "a.yaml", "--rulebooks", "books", "--record", "signed.json", "--reviewed-by", "R. Cole"];
const AGAINST: [&str; 6] = ["review", "a.yaml", "--rulebooks", "books", "--against", "signed.json"];

/// A town with a design, a shop file, two files of field notes and a record of the review.
fn recorded() -> Memory {
    let mut world = town(CHANGE, CASES);
    world.files.insert("shop.yaml".into(), b"undercroft: 1\n".to_vec());
    for (name, day) in [("first.yaml", "2026-06-03"), ("later.yaml", "2026-06-20")] {
        let notes = format!("undercroft: 1\njob: {{date: {day}, by: R. Cole, stage: installed}}\n");
        world.files.insert(name.into(), notes.into_bytes());
    }
    let came = call(&mut world, &with_notes(&RECORD));
    assert!(world.files.contains_key("signed.json"), "{}{}", came.printed, came.told);
    assert!(came.told.contains("signed.json records this review, by R. Cole on"), "{}", came.told);
    assert!(came.told.contains("It does not show who wrote the record"), "{}", came.told);
    world
}

fn with_notes<'a>(arguments: &[&'a str]) -> Vec<&'a str> {
    let mut all = arguments.to_vec();
    all.extend(["--field-notes", "first.yaml", "--field-notes", "later.yaml"]);
    all
}

fn against(world: &mut Memory, more: &[&str]) -> (Came, Value) {
    let mut arguments = with_notes(&AGAINST);
    arguments.extend(more);
    let page = call(world, &arguments);
    arguments.extend(["--as", "json"]);
    let came = call(world, &arguments);
    let report =
        serde_json::from_str(&came.printed).unwrap_or_else(|_| panic!("{}{}", came.printed, came.told));
    (page, report)
}

/// What moved, each as `what book file`.
fn moved(report: &Value) -> Vec<String> {
    let word = |value: &Value| value.as_str().unwrap_or("").to_owned();
    let moved = report["moved"].as_array().unwrap().iter();
    moved.map(|one| format!("{} {} {}", word(&one["what"]), word(&one["book"]), word(&one["file"]))).collect()
}

fn stale(world: &mut Memory, what: &str) {
    let (page, report) = against(world, &[]);
    assert_eq!(report["stands"], false, "{what}");
    assert_eq!(moved(&report), [what], "{what}");
    assert!(page.printed.contains("The record no longer stands"), "{}", page.printed);
    assert_ne!(page.status, 0, "{what}");
}

#[test]
fn a_record_stands_while_nothing_moved_and_reproduces_byte_for_byte() {
    let mut world = recorded();
    let own = call(&mut world.clone(), &with_notes(&["review", "a.yaml", "--rulebooks", "books"]));
    let (page, report) = against(&mut world, &[]);
    assert_eq!((report["stands"].clone(), moved(&report).len()), (true.into(), 0), "{}", page.printed);
    assert!(
        page.printed.contains("The record stands: signed.json, reviewed by R. Cole on"),
        "{}",
        page.printed
    );
    assert_eq!(page.status, own.status);
    // Made again under another name it is the same to the last byte.
    let mut again = with_notes(&RECORD);
    again[5] = "again.json";
    call(&mut world, &again);
    assert_eq!(world.files["signed.json"], world.files["again.json"]);
    // So it is with the notes named the other way round.
    let swapped: Vec<&str> = again
        .iter()
        .map(|one| match *one {
            "first.yaml" => "later.yaml",
            "later.yaml" => "first.yaml",
            "again.json" => "third.json",
            other => other,
        })
        .collect();
    call(&mut world, &swapped);
    assert_eq!(world.files["signed.json"], world.files["third.json"]);
}

#[test]
fn other_names_and_another_folder_are_no_change() {
    let mut world = recorded();
    for (from, to) in [
        ("a.yaml", "job/house.yaml"),
        ("shop.yaml", "job/shop.yaml"),
        ("first.yaml", "job/one.yaml"),
        ("later.yaml", "job/two.yaml"),
    ] {
        let bytes = world.files.remove(from).unwrap();
        world.files.insert(to.into(), bytes);
    }
    let books: Vec<String> = world.files.keys().filter(|name| name.starts_with("books/")).cloned().collect();
    for name in books {
        let bytes = world.files.remove(&name).unwrap();
        world.files.insert(name.replacen("books/", "office/rules/", 1), bytes);
    }
    let came = call(
        &mut world,
        &[
            "review",
            "job/house.yaml",
            "--rulebooks",
            "office/rules",
            "--against",
            "signed.json",
            "--field-notes",
            "job/two.yaml",
            "--field-notes",
            "job/one.yaml",
        ],
    );
    assert!(came.printed.contains("The record stands"), "{}{}", came.printed, came.told);
}

#[test]
fn one_byte_of_the_design_the_shop_file_the_notes_or_a_book_makes_it_stale_and_is_named() {
    let world = recorded();
    let mut dice = Dice(10);
    let files: Vec<String> = world.files.keys().filter(|name| *name != "signed.json").cloned().collect();
    assert!(files.len() >= 6, "{files:?}");
    for name in files {
        let what = match (name.as_str(), name.strip_prefix("books/town/")) {
            (_, Some(inside)) => format!("book town {inside}"),
            ("a.yaml", _) => "design  a.yaml".to_owned(),
            ("shop.yaml", _) => "shop  shop.yaml".to_owned(),
            (notes, _) => format!("field notes  {notes}"),
        };
        let text = String::from_utf8(world.files[&name].clone()).unwrap();
        // Bytes that change nothing of what is said, and so would pass any look at the meaning.
        let mut ends: Vec<usize> = text.match_indices('\n').map(|(at, _)| at).collect();
        let kept = if name == "a.yaml" { 6 } else { 2 };
        while ends.len() > kept {
            ends.remove(dice.below(ends.len()));
        }
        for at in ends {
            let mut other = world.clone();
            let changed = format!("{} {}", &text[..at], &text[at..]);
            other.files.insert(name.clone(), changed.into_bytes());
            stale(&mut other, &what);
        }
    }
}

#[test]
fn another_program_another_day_and_a_changed_record_make_it_stale_and_are_named() {
    let mut world = recorded();
    let own = Program::own();
    world.program = Some(Program { built_from: own.built_from.replace(['0', '1'], "2"), ..own.clone() });
    stale(&mut world, "program  ");
    world.program = Some(Program { version: "9.9.9".into(), ..own });
    stale(&mut world, "program  ");
    let mut world = recorded();
    let (page, report) = against(&mut world, &["--on", "2026-12-24"]);
    assert_eq!(moved(&report), ["day  "], "{}", page.printed);
    // A record that somebody touched.
    let world = recorded();
    let text = String::from_utf8(world.files["signed.json"].clone()).unwrap();
    for (from, to) in
        [("R. Cole", "R. Kole"), ("\"verdict\": \"met\"", "\"verdict\": \"unmet\""), ("\n}", "\n }")]
    {
        let mut other = world.clone();
        other.files.insert("signed.json".into(), text.replacen(from, to, 1).into_bytes());
        let (page, report) = against(&mut other, &[]);
        assert_eq!(report["stands"], false, "{from}");
        assert!(moved(&report).contains(&"record  ".to_owned()), "{from}: {}", page.printed);
        assert!(page.printed.contains("the record itself was changed"), "{}", page.printed);
    }
}

#[test]
fn a_rule_that_moved_is_named_with_the_verdicts_it_turned() {
    let design = example("07").replacen("straight: 8 ft 3 in", "straight: 11 ft", 1);
    let mut world = Memory::with([("a.yaml", design.as_str())]);
    assert_eq!(
        call(&mut world, &["rulebook", "export", "pennsylvania-2019", "books", "--in-place"]).status,
        0
    );
    call(&mut world, &RECORD);
    let rule = "books/pennsylvania-2019/discharge/discharge-clear-of-openings.yaml";
    let text = String::from_utf8(world.files[rule].clone()).unwrap();
    world.files.insert(rule.into(), text.replacen("{value: 10 ft", "{value: 12 ft", 1).into_bytes());
    let mut arguments = AGAINST.to_vec();
    arguments.extend(["--width", "160"]);
    let came = call(&mut world, &arguments);
    assert_ne!(came.status, 0);
    let file =
        "the book pennsylvania-2019: its file discharge/discharge-clear-of-openings.yaml has other bytes";
    let limit = "clearance: was at least 10 ft, is at least 12 ft";
    for said in [file, limit, "bath window (was met, is unmet)"] {
        assert!(came.printed.contains(said), "{said}\n{}", came.printed);
    }
    // The same file gone, or one added.
    world.files.insert(rule.into(), text.clone().into_bytes());
    let same = call(&mut world, &arguments);
    assert!(same.printed.contains("The record stands"), "{}", same.printed);
    world.files.remove(rule);
    let came = call(&mut world, &arguments);
    assert!(came.printed.contains("was there when it was reviewed and is not now"), "{}", came.printed);
}

#[test]
fn nothing_is_written_over_and_what_cannot_be_recorded_is_refused() {
    let mut world = recorded();
    let before = world.files.clone();
    let came = call(&mut world, &with_notes(&RECORD));
    assert_eq!((came.status, &world.files), (2, &before));
    assert!(came.told.contains("is already there, and a record is never written over"), "{}", came.told);
    world.files.insert("broken.yaml".into(), vec![0xff, 0xfe, 0x00, 0x41]);
    world.files.insert("undated.yaml".into(), b"undercroft: 1\njob: {title: x}\n".to_vec());
    let before = world.files.clone();
    for (arguments, said) in [
        (&["review", "a.yaml", "--record", "new.json"][..], "--reviewed-by"),
        (&["review", "a.yaml", "--record", "new.json", "--reviewed-by", " "], "says who reviewed"),
        (&["review", "a.yaml", "--record", "new.yaml", "--reviewed-by", "R. Cole"], "ends in .json"),
        (
            &["review", "a.yaml", "undated.yaml", "--record", "new.json", "--reviewed-by", "R. Cole"],
            "of one design",
        ),
        (
            &["review", "undated.yaml", "--record", "new.json", "--reviewed-by", "R. Cole"],
            "says of which day it is",
        ),
        (
            &["review", "broken.yaml", "--record", "new.json", "--reviewed-by", "R. Cole"],
            "cannot be taken as a whole",
        ),
        (
            &[
                "review",
                "a.yaml",
                "--record",
                "new.json",
                "--reviewed-by",
                "R. Cole",
                "--reviewed-on",
                "soon",
            ],
            "is not a day",
        ),
        (&["review", "a.yaml", "--against", "a.yaml"], "is no record of a review"),
        (&["review", "a.yaml", "--against", "absent.json"], "is not there"),
        (&["review", "a.yaml", "--against", "signed.json", "--record", "new.json"], "cannot be given here"),
    ] {
        let came = call(&mut world, arguments);
        assert_eq!(came.status, 2, "{arguments:?}\n{}", came.told);
        assert!(came.told.contains(said), "{arguments:?}: {said}\n{}", came.told);
        assert_eq!(world.files, before, "{arguments:?}");
    }
    // A day of its own for a design without one.
    let came = call(
        &mut world,
        &[
            "review",
            "undated.yaml",
            "--record",
            "new.json",
            "--reviewed-by",
            "R. Cole",
            "--reviewed-on",
            "2026-06-03",
        ],
    );
    assert!(came.told.contains("on 3 June 2026"), "{}", came.told);
}
