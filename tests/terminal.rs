//! How the pages look: at 80 and 120 columns, without colour, and in the narrated form; and the report for
//! machines against its schema.

use std::collections::BTreeSet;

use serde_json::Value;
use undercroft::app::host::memory::Memory;
use undercroft::app::library::gather;
use undercroft::app::review::text;
use undercroft::render::terminal::{Look, Show};
use undercroft::review::{Explained, Input, review};
use undercroft::yaml::splice::lay_over;
use unicode_width::UnicodeWidthStr;

use crate::commands::{
    call, call_examples, call_with_their_books, example, example_names, example_paths, example_rulebooks,
    examples,
};

#[test]
fn pages_of_the_examples_look_as_they_should() {
    for (name, path) in example_names().iter().zip(example_paths()) {
        for (form, options) in
            [("80", &["--width", "80"][..]), ("120", &["--width", "120"]), ("plain", &["--plain"])]
        {
            let mut arguments = vec!["review", path.as_str()];
            arguments.extend(options);
            let came = call_examples(&arguments);
            insta::assert_snapshot!(format!("{name}-{form}"), came.printed);
        }
    }
}

#[test]
fn pages_with_field_notes_look_as_they_should() {
    let folder = "examples/06-as-built-and-retested";
    let [design, installed, retested] =
        ["design", "installed", "retested"].map(|name| format!("{folder}/{name}.yaml"));
    let mut arguments = vec!["review", design.as_str()];
    for (name, notes) in [("installed", &installed), ("retested", &retested)] {
        arguments.extend(["--field-notes", notes.as_str()]);
        let came = call_examples(&arguments);
        assert_eq!(came.status, 0, "{}", came.printed);
        insta::assert_snapshot!(format!("06-{name}-80"), came.printed);
    }
}

#[test]
fn colour_adds_nothing_but_colour() {
    let strip = |text: &str| {
        let mut out = String::new();
        let mut rest = text;
        while let Some((before, after)) = rest.split_once("\u{1b}[") {
            out.push_str(before);
            rest = after.split_once('m').map_or("", |(_, rest)| rest);
        }
        out + rest
    };
    for path in example_paths() {
        let bare = call_examples(&["review", &path]).printed;
        let coloured = call_examples(&["review", "--colour", "always", &path]).printed;
        assert!(coloured.contains("\u{1b}["));
        assert_eq!(strip(&coloured), bare);
        let plain = call_examples(&["review", "--colour", "always", "--plain", &path]).printed;
        assert!(!plain.contains('\u{1b}'));
    }
}

#[test]
fn the_narrated_form_is_plain_letters_without_drawing() {
    for (path, bytes) in examples().files {
        if !path.ends_with("design.yaml") {
            continue;
        }
        let came = call_examples(&["review", "--plain", "--show", "everything", &path]);
        let own: BTreeSet<char> =
            String::from_utf8(bytes).unwrap().chars().filter(|c| !c.is_ascii()).collect();
        // The sign of degrees is read out as a word.
        let plain = |c: &char| c.is_ascii() || *c == '°' || own.contains(c);
        let strange: BTreeSet<char> = came.printed.chars().filter(|c| !plain(c)).collect();
        assert!(strange.is_empty(), "{path}: {strange:?}");
        for line in came.printed.lines() {
            assert!(!line.starts_with(' '), "{path}: a line set in: {line:?}");
            for drawing in ["---", "===", "|", "^", "__"] {
                assert!(!line.contains(drawing), "{path}: {line:?}");
            }
        }
    }
}

#[test]
fn verdicts_promise_nothing() {
    for path in example_paths() {
        let printed = call_examples(&["review", "--show", "everything", &path]).printed;
        let verdicts = ["(unmet", "(met", "(can't tell yet", "(not applicable", "(not yet due"];
        let shown =
            printed.lines().filter(|line| verdicts.iter().any(|verdict| line.contains(verdict))).count();
        assert!(shown > 20, "{path}: {shown}");
        for word in ["pass", "fail", "ok", "error", "warning", "approved", "safe"] {
            assert!(
                !printed.lines().any(|line| line.trim_start().starts_with(&format!("{word}:"))
                    || line.contains(&format!("({word})"))),
                "{path}: {word}"
            );
        }
    }
}

fn report(arguments: &[&str]) -> Value {
    let mut all = vec!["review", "--as", "json"];
    all.extend(arguments);
    let came = call_examples(&all);
    serde_json::from_str(&came.printed).unwrap()
}

fn schema() -> Value {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("schemas/review.schema.json");
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// Every key that the schema knows, as the path of definitions that leads to it.
pub(crate) fn keys_of(schema: &Value, path: &str, into: &mut BTreeSet<String>) {
    match schema {
        Value::Object(map) => {
            if let Some(Value::Object(properties)) = map.get("properties") {
                into.extend(properties.keys().cloned());
            }
            map.iter().for_each(|(key, value)| keys_of(value, &format!("{path}/{key}"), into));
        }
        Value::Array(list) => list.iter().for_each(|value| keys_of(value, path, into)),
        _ => {}
    }
}

pub(crate) fn keys_in(value: &Value, into: &mut BTreeSet<String>) {
    match value {
        Value::Object(map) => {
            into.extend(map.keys().cloned());
            map.values().for_each(|value| keys_in(value, into));
        }
        Value::Array(list) => list.iter().for_each(|value| keys_in(value, into)),
        _ => {}
    }
}

#[test]
fn reports_follow_the_published_schema_and_the_schema_follows_the_reports() {
    let schema = schema();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let paths = example_paths();
    let mut seen = BTreeSet::new();
    for show in ["summary", "open-items", "everything"] {
        let mut arguments: Vec<&str> = paths.iter().map(String::as_str).collect();
        arguments.extend(["--show", show]);
        let report = report(&arguments);
        let faults: Vec<String> = validator
            .iter_errors(&report)
            .map(|fault| format!("{}: {fault}", fault.instance_path()))
            .collect();
        assert!(faults.is_empty(), "{faults:#?}");
        keys_in(&report, &mut seen);
    }
    let broken =
        "undercroft: 1\njob: {stge: design, title: a, by: J. Ames, by: R. Cole}\nbuilding: {stories: 3 ft}\n";
    let notes = "undercroft: 1\njob: {title: c, date: 2026-06-03, by: R. Cole}\nchecked: {the paint: {found: no, note: it peels}}\n";
    let mut world =
        undercroft::app::host::memory::Memory::with([("broken.yaml", broken), ("notes.yaml", notes)]);
    let arguments = ["review", "--as", "json", "broken.yaml", "--field-notes", "notes.yaml"];
    let report: Value = serde_json::from_str(&call(&mut world, &arguments).printed).unwrap();
    assert!(validator.is_valid(&report), "{report:#}");
    keys_in(&report, &mut seen);
    let part = call_examples(&["review", "--as", "json", paths[0].as_str(), "--about", "fan"]).printed;
    let part: Value = serde_json::from_str(&part).unwrap();
    assert!(validator.is_valid(&part), "{part:#}");
    keys_in(&part, &mut seen);
    let outgrown = crate::variances::with_variance().replacen("straight: 8 ft 3 in", "straight: 8 ft", 1);
    let mut world = undercroft::app::host::memory::Memory::with([("outgrown.yaml", outgrown.as_str())]);
    let report: Value =
        serde_json::from_str(&call(&mut world, &["review", "--as", "json", "outgrown.yaml"]).printed)
            .unwrap();
    assert!(validator.is_valid(&report), "{report:#}");
    keys_in(&report, &mut seen);
    let mut world = super::living_books::town(super::living_books::CHANGE, super::living_books::CASES);
    let arguments = ["review", "--as", "json", "a.yaml", "--rulebooks", "books"];
    let report: Value = serde_json::from_str(&call(&mut world, &arguments).printed).unwrap();
    assert!(validator.is_valid(&report), "{report:#}");
    keys_in(&report, &mut seen);
    let mut known = BTreeSet::new();
    keys_of(&schema, "", &mut known);
    let stale: Vec<&String> = known.difference(&seen).collect();
    assert!(stale.is_empty(), "keys of the schema that no report has: {stale:?}");
}

#[test]
fn identities_hold_no_line_and_survive_a_shift_of_lines() {
    let mut world = examples();
    for path in example_paths() {
        let text = String::from_utf8(world.files[&path].clone()).unwrap();
        let shifted = format!("# one\n# two\n\n{}", text.replace("\n", "\r\n"));
        world.files.insert("shifted.yaml".into(), shifted.into_bytes());
        let read = |world: &mut undercroft::app::host::memory::Memory, path: &str| -> Value {
            let arguments = ["review", "--as", "json", path];
            serde_json::from_str(&call_with_their_books(world, &arguments).printed).unwrap()
        };
        let of = |report: &Value| -> Vec<(String, String)> {
            report["reviews"][0]["findings"]
                .as_array()
                .unwrap()
                .iter()
                .map(|one| {
                    (
                        one["identity"].as_str().unwrap().to_owned(),
                        one["verdict"].as_str().unwrap().to_owned(),
                    )
                })
                .collect()
        };
        let (before, after) = (read(&mut world, &path), read(&mut world, "shifted.yaml"));
        let (before, after) = (of(&before), of(&after));
        assert_eq!(before, after, "{path}");
        let names: BTreeSet<&String> = before.iter().map(|(identity, _)| identity).collect();
        assert_eq!(names.len(), before.len(), "{path}: two findings of one identity");
    }
}

#[test]
fn every_place_in_a_report_holds_what_stands_there() {
    fn places<'v>(value: &'v Value, into: &mut Vec<&'v Value>) {
        match value {
            Value::Object(map) => {
                if map.contains_key("start") && map.contains_key("end") {
                    into.push(value);
                }
                map.values().for_each(|value| places(value, into));
            }
            Value::Array(list) => list.iter().for_each(|value| places(value, into)),
            _ => {}
        }
    }
    let world = examples();
    for path in example_paths() {
        let report = report(&["--show", "everything", &path]);
        let mut found = Vec::new();
        places(&report, &mut found);
        assert!(found.len() > 20, "{path}");
        for place in found.iter().filter(|place| place["file"] == path.as_str()) {
            let text = std::str::from_utf8(&world.files[&path]).unwrap();
            let byte = |end: &str| usize::try_from(place[end]["byte"].as_u64().unwrap()).unwrap();
            assert!(text.get(byte("start")..byte("end")).is_some(), "{path}: {place}");
            let before = &text[..byte("start")];
            let line = before.matches('\n').count() + 1;
            let column = before.rsplit('\n').next().unwrap().chars().count() + 1;
            assert_eq!(place["start"]["line"], line, "{place}");
            assert_eq!(place["start"]["column"], column, "{place}");
        }
    }
}

/// Every page of the examples in every form, at these widths.
fn pages_at(widths: &[usize], mut look: impl FnMut(&str, bool, usize, &str)) {
    let library = gather(&examples(), &example_rulebooks()).unwrap();
    for (path, bytes) in examples().files.iter().filter(|(path, _)| path.ends_with("design.yaml")) {
        for shows in [&[Show::Summary, Show::OpenItems][..], &[Show::Everything]] {
            let everything = shows.contains(&Show::Everything);
            let explained = if everything { Explained::Everything } else { Explained::OnThePage };
            let review = review(&Input { name: path, bytes, explained, ..Input::default() }, &library);
            for (show, width) in shows.iter().flat_map(|show| widths.iter().map(move |width| (*show, *width)))
            {
                for plain in [false, true] {
                    let page = text(&review, show, Look { colour: false, plain, width });
                    look(path, plain, width, &page);
                }
            }
        }
    }
}

#[test]
fn no_line_is_wider_than_asked_and_nothing_acts_on_the_screen() {
    pages_at(&[40, 60, 80, 120, 160, 200], |path, plain, width, page| {
        for line in page.lines() {
            assert!(line.width() <= width, "{path} at {width}, plain {plain}: {line:?}");
            assert_eq!(line, line.trim_end(), "{path} at {width}");
        }
        assert!(!page.chars().any(|c| c.is_control() && c != '\n'), "{path}");
        assert!(!page.contains("\n\n\n"), "{path}");
    });
}

#[test]
fn nothing_is_cut_where_it_can_be_wrapped() {
    pages_at(&[40, 60, 80, 120, 200], |path, plain, width, page| {
        for line in page.lines() {
            // Only lines of the file itself, drawn with their number, are shown in part.
            let of_the_file = !plain && line.contains('│');
            assert!(of_the_file || !line.contains("..."), "{path} at {width}, plain {plain}: {line:?}");
        }
    });
}

#[test]
fn the_narrated_form_says_each_place_of_a_finding_once() {
    pages_at(&[200], |path, plain, _, page| {
        let mut places: BTreeSet<&str> = BTreeSet::new();
        for line in page.lines().filter(|_| plain) {
            if let Some((place, _)) = line.starts_with("Line ").then(|| line.rsplit_once("\": ")).flatten() {
                assert!(places.insert(place), "{path}: {line}");
            } else if line.starts_with('"') {
                places.clear();
            }
        }
    });
}

#[test]
fn every_page_ends_with_one_plain_word_and_the_count_of_what_is_not_yet_due() {
    pages_at(&[200], |path, _, _, page| {
        let lines: Vec<&str> = page.lines().rev().take(2).collect();
        assert!(lines[0].ends_with("not yet due at this stage."), "{path}: {lines:?}");
        let words = ["unmet or open", "not met", "cannot be told yet", "Not decided", "Nothing is decided"];
        assert!(words.iter().any(|word| lines[1].contains(word)), "{path}: {lines:?}");
        for word in ["approved", "certified", "safe", "complies", "compliant"] {
            assert!(!lines.iter().any(|line| line.contains(word)), "{path}: {word}");
        }
    });
}

#[test]
fn an_entry_that_is_missing_is_told_with_its_section_and_marks_no_other_line() {
    let paths = example_paths();
    let half = paths.iter().find(|path| path.contains("03")).unwrap();
    let text = String::from_utf8(examples().files[half].clone()).unwrap();
    let printed = call_examples(&["review", "--show", "everything", "--width", "200", half]).printed;
    assert!(!printed.lines().any(|line| line.contains('↑') && line.ends_with("not stated")), "{printed}");
    let mut told = 0;
    for line in printed.lines() {
        let Some((_, rest)) = line.split_once("add under ") else { continue };
        let (places, keys) = rest.split_once("): ").unwrap();
        for place in places.split("), ") {
            let (section, number) = place.split_once(" (line ").unwrap();
            let there = text.lines().nth(number.parse::<usize>().unwrap() - 1).unwrap();
            let key = section.rsplit('.').next().unwrap();
            assert!(there.contains(&format!("{key}:")), "{line}: {there}");
            let missing = keys.split(": ").next().unwrap();
            assert!(!there.contains(&format!("{missing}:")), "{line}: {there}");
            told += 1;
        }
    }
    assert!(told > 20, "{told}");
}

#[test]
fn how_many_ask_for_an_entry_is_how_many_findings_name_it() {
    let mut asked = 0;
    for path in example_paths() {
        let report = report(&[&path]);
        let review = &report["reviews"][0];
        let page = call_examples(&["review", "--plain", "--width", "200", &path]).printed;
        assert!(!page.contains("settles "), "{path}");
        for next in review["next"].as_array().unwrap() {
            let names = |finding: &&Value| {
                finding["clauses"].as_array().unwrap().iter().any(|clause| {
                    clause["missing"].as_array().unwrap().iter().any(|one| one["entry"] == next["entry"])
                })
            };
            let findings: Vec<&Value> = review["findings"]
                .as_array()
                .unwrap()
                .iter()
                .filter(names)
                .map(|one| &one["identity"])
                .collect();
            let said: Vec<&Value> = next["asked_for_by"].as_array().unwrap().iter().collect();
            assert_eq!(said, findings, "{path}: {}", next["entry"]);
            // A question that is asked of several things stands there once, for all of them together.
            let key = |one: &Value| one["entry"].as_str().unwrap().rsplit('.').next().unwrap().to_owned();
            let again = |one: &&Value| key(one) == key(next) && one["entry"] != next["entry"];
            if review["next"].as_array().unwrap().iter().any(|one| again(&one)) {
                continue;
            }
            assert!(page.contains(&format!("Asked for by {},", said.len())), "{path}: {}", next["entry"]);
            asked += 1;
        }
    }
    assert!(asked > 20, "{asked}");
}

/// A pipe of 2 in, whose system moves more than is small and pulls no harder than usual: wide enough it would be with 3 in, or
/// with little air, or with much suction.
#[test]
fn of_needs_of_which_one_is_enough_it_says_or() {
    let text = lay_over(
        &example("01"),
        &[
            ("job.rulebooks", "{sgm-sf-2020: adopted}"),
            ("systems.main.runs.crawl_drop.abreast", "1"),
            ("systems.main.design_point", "{flow: 90 cfm, suction: 1.8 in WC}"),
        ],
        &[],
    )
    .unwrap();
    let mut world = Memory::with([("a.yaml", text.as_str())]);
    let came = call(&mut world, &["review", "a.yaml", "--plain", "--width", "200"]);
    let card =
        came.printed.split("Pipe wide enough").find(|part| part.contains("is 2.067 in wide inside")).unwrap();
    let lines = card.lines().map(|line| line.trim().to_lowercase());
    let needs: Vec<String> = lines.filter(|line| line.contains("needed:")).collect();
    assert!(needs[0].starts_with("needed") && needs[0].contains("at least 3 in"), "{needs:?}\n{card}");
    assert!(needs[1].starts_with("or needed") && needs[1].contains("at most 40 cfm"), "{needs:?}\n{card}");
    assert!(needs[2].starts_with("or needed") && needs[2].contains("more than 6 in wc"), "{needs:?}\n{card}");
}

#[test]
fn a_book_that_is_not_in_force_never_makes_a_success() {
    let paths = example_paths();
    let first = paths.iter().find(|path| path.contains("01")).unwrap();
    assert_eq!(call_examples(&["review", first]).status, 0);
    for show in ["summary", "open-items"] {
        for accept in [&[][..], &["--accept-undetermined"]] {
            let mut arguments = vec!["review", "--on", "2018-06-01", "--width", "200", "--show", show, first];
            arguments.extend(accept);
            let came = call_examples(&arguments);
            assert_eq!(came.status, 3, "{}", came.printed);
            let first = came.printed.lines().take(25).collect::<Vec<_>>().join("\n");
            // The day from which the book holds is that of its own file.
            let why =
                "pennsylvania-2019 (adopted, but not in force on 1 June 2018, only from 24 January 2019)";
            assert!(first.contains(why), "{first}");
            assert!(came.printed.contains("Nothing is decided, because pennsylvania-2019 is not in force"));
        }
    }
}

#[test]
fn duties_advice_and_what_is_disputed_are_counted_and_shown_apart() {
    let paths = example_paths();
    let faulty = paths.iter().find(|path| path.contains("02")).unwrap();
    let mut world = examples();
    let text = String::from_utf8(world.files[faulty].clone()).unwrap();
    let both = text.replace("epa-1994: for information", "epa-1994: adopted");
    assert_ne!(both, text);
    world.files.insert("both.yaml".into(), both.into_bytes());
    for (file, has_disputed, has_advice) in [(faulty.as_str(), true, false), ("both.yaml", true, true)] {
        let report: Value =
            serde_json::from_str(&call(&mut world, &["review", "--as", "json", file]).printed).unwrap();
        let findings = report["reviews"][0]["findings"].as_array().unwrap();
        let counted = || findings.iter().filter(|one| one["counts"] == true);
        let number = |word: &str| counted().filter(|one| one["comes_to"] == word).count();
        // What a finding comes to follows from its verdicts and verbs, worked out here once more.
        for one in counted() {
            let has = |verdict: &str, verb: &str, disputed: bool| {
                one["clauses"].as_array().unwrap().iter().any(|clause| {
                    clause["standing"] != "for information"
                        && clause["verdict"] == verdict
                        && clause["obligation"] == verb
                        && clause["disputed"] == disputed
                })
            };
            assert_eq!(one["comes_to"] == "unmet", has("unmet", "shall", false), "{one:#}");
            assert!(one["comes_to"] != "advice not followed" || has("unmet", "should", false), "{one:#}");
            assert!(one["comes_to"] != "disputed" || has("undetermined", "shall", true), "{one:#}");
        }
        let (unmet, disputed, advice) = (number("unmet"), number("disputed"), number("advice not followed"));
        assert!(unmet > 0 && has_disputed == (disputed > 0) && has_advice == (advice > 0));
        let page = call(&mut world, &["review", "--width", "200", file]).printed;
        let mut count = format!("findings: {unmet} unmet, ");
        if has_disputed {
            count.push_str(&format!("{disputed} not as asked, disputed whether a duty, "));
        }
        assert!(page.contains(&count), "{page}");
        assert_eq!(page.contains(&format!(" {advice} pieces of advice not followed")), has_advice, "{page}");
        assert_eq!(page.matches("(not as asked; disputed whether it is a duty)").count(), disputed);
        assert_eq!(
            page.matches("Sources disagree whether these are duties").count(),
            usize::from(has_disputed)
        );
    }
}

#[test]
fn at_the_design_stage_the_page_names_the_flue_test_and_what_comes_due_later() {
    for path in example_paths() {
        let report = report(&[&path]);
        let page = call_examples(&["review", "--width", "200", &path]).printed;
        let page = page.split_whitespace().collect::<Vec<_>>().join(" ");
        for one in report["reviews"][0]["findings"].as_array().unwrap() {
            if one["verdict"] == "not yet due" && one["counts"] == true {
                let title = format!("\"{}\"", one["title"].as_str().unwrap());
                assert!(page.contains(&title), "{path}: {title}");
            }
        }
    }
    let paths = example_paths();
    let first = paths.iter().find(|path| path.contains("01")).unwrap();
    let summary = call_examples(&["review", "--show", "summary", first]).printed;
    assert!(summary.contains("Still to come before the fan is left running"), "{summary}");
}

#[test]
fn numbers_are_told_as_a_person_would_say_them() {
    let silly = [
        "least not known",      // what is needed and not known is called by its name
        "than not known",       //
        "most not known",       //
        "lacks more than 0 ",   // what is just on the edge lacks no amount
        "more than 0 too",      //
        "00 %)",                // a count is no share
        "(0 ",                  // nothing is nothing in any unit
        "needed    at least -", // nobody measures less than nothing
        "of the thing times",   // a sum in words is read by nobody
    ];
    for path in example_paths() {
        for command in ["review", "walkthrough", "worksheet"] {
            let everything = ["--show", "everything"];
            let more = if command == "review" { &everything[..] } else { &[] };
            let printed =
                call_examples(&[&[command, path.as_str(), "--width", "120"], more].concat()).printed;
            // Lines of the file are shown as they are.
            for line in printed.lines().filter(|line| !line.contains(['│', '|'])) {
                for words in silly {
                    assert!(!line.contains(words), "{command} {path}: {words}: {line}");
                }
                // For the sign of degrees there is no key, but there is one on paper.
                let is_told = ["found ", "needed ", "asked as ", "stated "]
                    .iter()
                    .any(|label| line.trim_start().starts_with(label));
                assert!(!(is_told && line.contains("degF")), "{command} {path}: {line}");
            }
        }
    }
}
