//! Promise 7: a new edition shows what it flips on one's own designs, before one adopts it; local amendments are kept or
//! flagged.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;

use undercroft::app::host::memory::Memory;
use undercroft::yaml::splice::lay_over;

use crate::commands::{Came, call, example, examples};
use crate::living_books::{CASES, CHANGE, town};

const ROOF: &str = "books/pa-next/discharge/discharge-above-roof-surface.yaml";
const GROUND: &str = "books/pa-next/discharge/discharge-above-ground.yaml";
const OPENINGS: &str = "books/pa-next/discharge/discharge-clear-of-openings.yaml";

/// A world with a next edition of the state's book, its files changed so, and the first example under the present one.
fn next(mut world: Memory, changes: &[(&str, &[(&str, &str)])], removed: &[&str]) -> Memory {
    let came = call(&mut world, &["rulebook", "export", "pennsylvania-2019", "books", "--named", "pa-next"]);
    assert_eq!(came.status, 0, "{}", came.told);
    for (file, entries) in changes {
        let text = String::from_utf8(world.files[*file].clone()).unwrap();
        world.files.insert((*file).into(), lay_over(&text, entries, &[]).unwrap().into_bytes());
    }
    for file in removed {
        world.files.remove(*file).unwrap();
    }
    world
}

fn plain() -> Memory {
    let design = lay_over(&example("01"), &[("job.rulebooks", "{pennsylvania-2019: adopted}")], &[]).unwrap();
    Memory::with([("a.yaml", design.as_str())])
}

fn compare(world: &mut Memory, more: &[&str]) -> Came {
    let words = ["rulebook", "compare", "pennsylvania-2019", "pa-next", "--rulebooks", "books"];
    let came = call(world, &[&words, more].concat());
    assert_eq!(came.status, 0, "{}{}", came.printed, came.told);
    came
}

/// The comparison as a report, which has to be as its schema says.
fn report(world: &mut Memory) -> Value {
    let json = compare(world, &["--as", "json", "--on-designs", "a.yaml"]).printed;
    let report: Value = serde_json::from_str(&json).unwrap();
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/schemas/rulebook-compare.schema.json");
    let schema: Value = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let wrong: Vec<String> = validator.iter_errors(&report).map(|error| error.to_string()).collect();
    assert!(wrong.is_empty(), "{wrong:?}");
    report
}

/// What moved: the requirement in the second book, or the one that only the first has, and what of it.
fn moved(report: &Value) -> Vec<(String, Vec<String>)> {
    let rows = report["requirements"].as_array().unwrap();
    let name = |row: &Value| {
        let side = if row["new"].is_null() { &row["old"] } else { &row["new"] };
        side["requirement"].as_str().unwrap().to_owned()
    };
    rows.iter()
        .filter(|row| {
            row["old"].is_null() || row["new"].is_null() || row["moved"] != Value::Array(Vec::new())
        })
        .map(|row| {
            let said = |one: &Value| {
                let text = |key: &str| one[key].as_str().unwrap().to_owned();
                format!("{}: {} -> {}", text("what"), text("was"), text("is"))
            };
            (name(row), row["moved"].as_array().unwrap().iter().map(said).collect())
        })
        .collect()
}

/// The verdicts that would turn.
fn turns(report: &Value) -> Vec<(String, String, String)> {
    let text = |one: &Value, key: &str| one[key].as_str().unwrap().to_owned();
    let list = report["designs"][0]["turns"].as_array().unwrap();
    list.iter().map(|one| (text(one, "identity"), text(one, "was"), text(one, "is"))).collect()
}

#[test]
fn an_edition_that_asks_the_same_turns_nothing_in_whatever_units() {
    let same = next(plain(), &[(GROUND, &[("limits.height.value", "120 in")])], &[]);
    let report = report(&mut same.clone());
    assert_eq!(moved(&report), []);
    assert_eq!(turns(&report), []);
    assert!(report["designs"][0]["alike"].as_u64().unwrap() > 30);
    let page = compare(&mut same.clone(), &["--on-designs", "a.yaml"]).printed;
    assert!(page.contains("No verdict would turn."), "{page}");
}

/// The outlet of the example stands 22 in above the roof.
#[test]
fn a_limit_that_moves_is_told_with_both_numbers_and_with_what_it_turns() {
    for (limit, is) in [("30 in", Some("unmet")), ("22 in", None), ("18 in", None)] {
        let mut world = next(plain(), &[(ROOF, &[("limits.height.value", limit)])], &[]);
        let report = report(&mut world);
        let said = format!("number height: at least 12 in -> at least {limit}");
        assert_eq!(moved(&report), [("pa-next/discharge-above-roof-surface".into(), vec![said])]);
        let turned: Vec<String> =
            turns(&report).into_iter().map(|(_, was, is)| format!("{was} {is}")).collect();
        assert_eq!(turned, is.map(|is| format!("met {is}")).into_iter().collect::<Vec<_>>(), "{limit}");
    }
}

#[test]
fn a_verb_a_stage_and_a_condition_that_move_are_told() {
    let mut world = next(
        plain(),
        &[(
            ROOF,
            &[
                ("obligation", "should"),
                ("due", "installed"),
                ("requires", "discharge.above_roof_surface > height"),
            ],
        )],
        &[],
    );
    let report = report(&mut world);
    let [(name, moved)] = &moved(&report)[..] else { panic!("one") };
    assert_eq!(name, "pa-next/discharge-above-roof-surface");
    assert_eq!(moved[0], "verb: shall -> should");
    assert_eq!(moved[1], "due: on the drawing -> once it is built");
    assert!(moved[2].starts_with("asks: ") && moved.len() == 3, "{moved:?}");
    let turned = turns(&report);
    assert_eq!(turned.len(), 1, "{turned:?}");
    assert_eq!((turned[0].1.as_str(), turned[0].2.as_str()), ("met", "not yet due"));
}

#[test]
fn what_is_withdrawn_or_new_is_told_and_no_longer_asked_or_asked_anew() {
    let mut world = next(plain(), &[], &[ROOF]);
    let gone = report(&mut world);
    assert_eq!(moved(&gone), [("pennsylvania-2019/discharge-above-roof-surface".into(), vec![])]);
    let turned = turns(&gone);
    assert_eq!((turned.len(), turned[0].1.as_str(), turned[0].2.as_str()), (1, "met", "not asked"));
    // The other way round it is new.
    let words =
        ["rulebook", "compare", "pa-next", "pennsylvania-2019", "--rulebooks", "books", "--as", "json"];
    let back: Value = serde_json::from_str(&call(&mut world, &words).printed).unwrap();
    assert_eq!(moved(&back), [("pennsylvania-2019/discharge-above-roof-surface".into(), vec![])]);
}

#[test]
fn a_local_amendment_is_kept_where_its_rule_is_the_same_and_flagged_where_it_moved() {
    let mut kept = next(town(CHANGE, CASES), &[(ROOF, &[("limits.height.value", "30 in")])], &[]);
    let report = report(&mut kept);
    let local = &report["designs"][0]["local_books"][0];
    assert_eq!(
        (&local["book"], &local["changes"], &local["amiss"]),
        (&"town".into(), &1.into(), &Value::Array(vec![]))
    );
    let turned = turns(&report);
    assert_eq!(turned.len(), 1, "only what the state moved, the town's own number stays: {turned:?}");
    let mut flagged = next(town(CHANGE, CASES), &[(OPENINGS, &[("limits.clearance.value", "12 ft")])], &[]);
    let page = compare(&mut flagged, &["--on-designs", "a.yaml"]).printed;
    let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(page.contains("town cannot build on pa-next as it stands"), "{page}");
    assert!(page.contains("books/town/amendments/openings.yaml, line"), "{page}");
    assert!(page.contains("\"10 ft\" and is \"12 ft\""), "{page}");
    assert!(!page.contains("would turn, "), "nothing is told of verdicts that were not judged: {page}");
}

/// What a plain review of a design comes to with only this book named, but for what is not applicable.
fn reviewed(world: &mut Memory, text: &str, book: &str) -> BTreeMap<String, String> {
    let named = format!("{{{book}: adopted}}");
    let text = lay_over(text, &[("job.rulebooks", named.as_str())], &[]).unwrap();
    world.files.insert("plain.yaml".into(), text.into_bytes());
    let words = ["review", "plain.yaml", "--as", "json", "--rulebooks", TOWNS];
    let report: Value = serde_json::from_str(&call(world, &words).printed).unwrap();
    let text = |one: &Value, key: &str| one[key].as_str().unwrap().to_owned();
    let findings = report["reviews"][0]["findings"].as_array().unwrap().iter();
    let came: BTreeMap<_, _> = findings.map(|one| (text(one, "identity"), text(one, "comes_to"))).collect();
    assert!(came.len() > 50, "{}", came.len());
    came.into_iter().filter(|(_, comes)| comes != "not applicable").collect()
}

const TOWNS: &str = "examples/08-a-towns-own-book/rulebooks";

/// What two plain reviews say is what the comparison has to say, whichever of the two books the design names, the base first or
/// the book that builds on it, with a further book on top or none.
#[test]
fn a_book_beside_one_that_builds_on_it_turns_what_two_reviews_say() {
    for number in ["01", "08"] {
        let text = example(number);
        let mut world = examples();
        let state = reviewed(&mut world, &text, "pennsylvania-2019");
        let town = reviewed(&mut world, &text, "lanternmoor");
        for (old, new, was, is) in [
            ("pennsylvania-2019", "lanternmoor", &state, &town),
            ("lanternmoor", "pennsylvania-2019", &town, &state),
        ] {
            let asked: BTreeSet<&String> = was.keys().chain(is.keys()).collect();
            let came = |side: &BTreeMap<String, String>, one: &String| {
                side.get(one).cloned().unwrap_or_else(|| "not asked".into())
            };
            let expected: BTreeSet<_> = asked
                .into_iter()
                .map(|one| (one.clone(), came(was, one), came(is, one)))
                .filter(|(_, was, is)| was != is)
                .collect();
            assert!(expected.len() > 2, "{expected:?}");
            for named in ["{pennsylvania-2019: adopted}", "{lanternmoor: adopted}", "{}"] {
                let design = lay_over(&text, &[("job.rulebooks", named)], &[]).unwrap();
                world.files.insert("a.yaml".into(), design.into_bytes());
                let words = ["rulebook", "compare", old, new, "--rulebooks", TOWNS, "--as", "json"];
                let came = call(&mut world, &[&words[..], &["--on-designs", "a.yaml"]].concat());
                assert_eq!(came.status, 0, "{}", came.told);
                let report: Value = serde_json::from_str(&came.printed).unwrap();
                assert_eq!(report["designs"][0]["local_books"], Value::Array(vec![]), "{named}");
                let turned: BTreeSet<_> = turns(&report).into_iter().collect();
                assert_eq!(turned, expected, "{number}, {old} to {new}, {named}");
            }
        }
    }
}

#[test]
fn a_design_that_names_neither_book_is_asked_as_if_it_did() {
    let mut world = next(plain(), &[(ROOF, &[("limits.height.value", "30 in")])], &[]);
    let text = lay_over(&example("01"), &[("job.rulebooks", "{epa-1994: for information}")], &[]).unwrap();
    world.files.insert("a.yaml".into(), text.into_bytes());
    let report = report(&mut world);
    assert!(report["designs"][0]["stands"].as_str().unwrap().contains("names neither"));
    assert_eq!(turns(&report).len(), 1);
}

#[test]
fn what_cannot_be_compared_is_refused_in_words() {
    let mut world = next(plain(), &[], &[]);
    let came =
        call(&mut world, &["rulebook", "compare", "pennsylvania-2019", "pa-nxt", "--rulebooks", "books"]);
    assert_eq!(came.status, 2);
    assert!(came.told.contains("Perhaps pa-next was meant"), "{}", came.told);
    let words = [
        "rulebook",
        "compare",
        "pennsylvania-2019",
        "pa-next",
        "--rulebooks",
        "books",
        "--on-designs",
        "b.yaml",
    ];
    let came = call(&mut world, &words);
    assert_eq!(came.status, 2);
    assert!(came.told.contains("b.yaml"), "{}", came.told);
}
