//! Books of one's own, as an office keeps them: a copy to edit, a town on top of a state, amendments, and what
//! commands and reviews tell of them.

use undercroft::app::host::memory::Memory;
use undercroft::yaml::splice::lay_over;

use super::commands::{Came, call, example};

const TOWN: &str = "\
book: town
title: Rules of the town
publisher: The town
edition: of 2025
in_force: {from: 2025-04-01, until: 2030-12-31}
legal_nature: An ordinance.
covers: Houses in the town.
builds_on: pennsylvania-2019
sources:
  ordinance-12-4: {title: Ordinance 12-4, publisher: The town, year: 2025, read_at: the town hall, basis: read}
";

pub(crate) const CHANGE: &str = "change: {limits.clearance: {was: 10 ft, to: 15 ft}}\n";

/// A change after which the windows of the example are neither far nor low enough: the nearest lies some 20 ft off.
const FAR: &str =
    "change: {limits.clearance: {was: 10 ft, to: 60 ft}, limits.height_exception: {was: 2 ft, to: 40 ft}}\n";

/// The older cases that this change turns, said anew.
pub(crate) const CASES: &str = "\
cases:
  - {claim: \"far off, its height is no matter\", verdict: unmet}
  - {claim: \"ten feet in a straight line are enough, whatever stands between\", verdict: undetermined}
  - {claim: \"near in a straight line, and far enough for a tape round the dormer\", verdict: unmet}
";

/// A world with the town, whose one amendment changes this, and the first example under its rules.
pub(crate) fn town(change: &str, cases: &str) -> Memory {
    let design = lay_over(&example("01"), &[("job.rulebooks", "{town: adopted}")], &[]).unwrap();
    let amendment = format!(
        "amend: pennsylvania-2019/discharge-clear-of-openings\nwritten_against: {}\n{change}because: Snow lies deep here.\n\
         decided: {{by: Town council, document: Ordinance 12-4, on: 2025-03-01}}\n{cases}",
        fingerprint("pennsylvania-2019/discharge-clear-of-openings")
    );
    Memory::with([
        ("a.yaml", design.as_str()),
        ("books/town/book.yaml", TOWN),
        ("books/town/amendments/openings.yaml", &amendment),
    ])
}

/// The fingerprint that `clause` shows.
fn fingerprint(rule: &str) -> String {
    let came = call(&mut Memory::default(), &["clause", rule, "--width", "160"]);
    let (_, rest) = came.printed.split_once("meaning r-").unwrap();
    format!("r-{}", rest.chars().take(64).collect::<String>())
}

fn flat(came: &Came) -> String {
    came.printed.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn the_list_tells_which_file_line_and_amendment_made_each_requirement_so() {
    let mut world = town(CHANGE, CASES);
    let came = call(&mut world, &["rulebook", "list", "a.yaml", "--rulebooks", "books", "--width", "160"]);
    assert_eq!(came.status, 0, "{}", came.told);
    let said = flat(&came);
    assert!(said.contains("builds on pennsylvania-2019"), "{said}");
    assert!(said.contains(
        "discharge-clear-of-openings: rules/pennsylvania-2019/discharge/discharge-clear-of-openings.yaml, line 1 \
         amended, clearance: 15 ft, was 10 ft (books/town/amendments/openings.yaml, line 3; Ordinance 12-4, Town council, 1 March 2025)"
    ), "{said}");
    assert!(
        said.contains(
            "discharge-points-up: rules/pennsylvania-2019/discharge/discharge-points-up.yaml, line 1"
        )
    );
    let mut world = town("withdraw: yes\n", "");
    let came = call(&mut world, &["rulebook", "list", "a.yaml", "--rulebooks", "books", "--width", "160"]);
    assert!(
        flat(&came).contains("withdrawn, not in force (books/town/amendments/openings.yaml, line 1;"),
        "{}",
        came.printed
    );
}

#[test]
fn an_amended_limit_decides_and_the_review_says_whose_it_is() {
    let mut world = town(CHANGE, CASES);
    let before = call(&mut world, &["review", "a.yaml", "--rulebooks", "books"]);
    let text = lay_over(
        &example("01"),
        &[
            ("job.rulebooks", "{town: adopted}"),
            ("building.openings.kitchen_window", "{kind: window, opens: yes, into: kitchen, from_discharge: {straight: 12 ft, top_below: 1 ft}}"),
        ],
        &[],
    )
    .unwrap();
    world.files.insert("a.yaml".into(), text.clone().into_bytes());
    let came = call(&mut world, &["review", "a.yaml", "--rulebooks", "books", "--width", "120"]);
    assert_eq!((before.status, came.status), (0, 1), "{}{}", before.printed, came.printed);
    let said = flat(&came);
    assert!(said.contains("15 ft"), "{said}");
    assert!(said.contains("as amended by Ordinance 12-4, Town council, 1 March 2025"), "{said}");
    // By the state alone the same window is far enough off.
    let state = lay_over(&text, &[("job.rulebooks", "{pennsylvania-2019: adopted}")], &[]).unwrap();
    world.files.insert("b.yaml".into(), state.into_bytes());
    assert_eq!(call(&mut world, &["review", "b.yaml", "--rulebooks", "books"]).status, 0);
    let came = call(&mut world, &["review", "a.yaml", "--rulebooks", "books", "--as", "json"]);
    let report: serde_json::Value = serde_json::from_str(&came.printed).unwrap();
    let clauses = report["reviews"][0]["findings"].as_array().unwrap().iter();
    let amended: Vec<&serde_json::Value> = clauses
        .flat_map(|finding| finding["clauses"].as_array().unwrap())
        .filter(|clause| clause["verdict"] == "unmet")
        .flat_map(|clause| clause["amended"].as_array().unwrap())
        .collect();
    assert_eq!(amended.len(), 1);
    assert_eq!((&amended[0]["was"], &amended[0]["is"]), (&"10 ft".into(), &"15 ft".into()));
    assert_eq!(amended[0]["place"]["file"], "books/town/amendments/openings.yaml");
}

#[test]
fn an_amendment_that_does_not_apply_leaves_no_verdict_and_never_the_unamended_rule() {
    for change in [
        "change: {limits.clearance: {was: 9 ft, to: 15 ft}}\n",
        "change: {limits.clearance: {was: 10 ft, to: 15 cfm}}\n",
        "change: {limits.clearence: {was: 10 ft, to: 15 ft}}\n",
    ] {
        let came = call(&mut town(change, ""), &["review", "a.yaml", "--rulebooks", "books"]);
        assert_eq!(came.status, 2, "{change}");
        no_verdict_of_the_town(&came);
    }
    let mut world = town(CHANGE, "");
    let path = "books/town/amendments/openings.yaml";
    let written = String::from_utf8(world.files[path].clone()).unwrap();
    let (before, after) = written.split_once("against: r-").unwrap();
    let other = format!("{before}against: r-{}{}", "0".repeat(64), &after[64..]);
    world.files.insert(path.into(), other.into_bytes());
    let came = call(&mut world, &["review", "a.yaml", "--rulebooks", "books", "--width", "120"]);
    assert_eq!(came.status, 2);
    assert!(
        flat(&came).contains("The requirement has changed since this amendment was written"),
        "{}",
        came.printed
    );
    no_verdict_of_the_town(&came);
}

/// A book with a fault is silent: neither what it amends nor what it takes over is judged.
fn no_verdict_of_the_town(came: &Came) {
    assert!(came.printed.contains("gave no verdict"), "{}", came.printed);
    assert!(
        !came.printed.contains("pennsylvania-2019:") && !came.printed.contains("town:"),
        "{}",
        came.printed
    );
}

#[test]
fn an_amendment_that_changes_nothing_is_told_and_changes_no_verdict() {
    let mut world = town("change: {limits.clearance: {was: 10 ft, to: 120 in}}\n", "");
    let came = call(&mut world, &["review", "a.yaml", "--rulebooks", "books"]);
    assert_eq!(came.status, 0, "{}", came.printed);
    assert!(flat(&came).contains("This amendment leaves everything as it is"), "{}", came.printed);
    let listed = call(&mut world, &["rulebook", "list", "--rulebooks", "books"]);
    assert!(flat(&listed).contains("This amendment leaves everything as it is"), "{}", listed.printed);
}

#[test]
fn a_book_that_counts_beside_the_one_it_builds_on_is_told() {
    let mut world = town(CHANGE, CASES);
    let both = "{town: adopted, pennsylvania-2019: adopted}";
    let text = lay_over(&example("01"), &[("job.rulebooks", both)], &[]).unwrap();
    world.files.insert("a.yaml".into(), text.into_bytes());
    let came = call(&mut world, &["review", "a.yaml", "--rulebooks", "books"]);
    assert!(flat(&came).contains("both count here"), "{}", came.printed);
    let came = call(&mut town(CHANGE, CASES), &["review", "a.yaml", "--rulebooks", "books"]);
    assert!(!flat(&came).contains("both count here"), "{}", came.printed);
}

#[test]
fn a_case_that_an_amendment_turns_is_told_by_prove_until_it_is_said_anew() {
    let prove = ["rulebook", "prove", "town", "--rulebooks", "books"];
    let came = call(&mut town(CHANGE, ""), &prove);
    assert_eq!(came.status, 1, "{}", came.printed);
    assert!(came.printed.contains("far off, its height is no matter"), "{}", came.printed);
    assert!(flat(&came).contains("say it anew under cases in the amendment"), "{}", came.printed);
    let came = call(&mut town(CHANGE, CASES), &prove);
    assert_eq!(came.status, 0, "{}{}", came.printed, came.told);
}

#[test]
fn a_requirement_is_shown_as_amended_with_what_it_was_and_whose_decision_it_is() {
    let mut world = town(CHANGE, CASES);
    let came = call(
        &mut world,
        &["clause", "town/discharge-clear-of-openings", "--rulebooks", "books", "--width", "120"],
    );
    assert_eq!(came.status, 0, "{}", came.told);
    let said = flat(&came);
    for part in [
        "clearance: at least 15 ft",
        "clearance: 15 ft, was 10 ft",
        "Ordinance 12-4, Town council, 1 March 2025",
        "Snow lies deep here.",
        "books/town/amendments/openings.yaml, line 1",
        "25 Pa. Code 240.308",
        "far off, its height is no matter",
    ] {
        assert!(said.contains(part), "{part}: {}", came.printed);
    }
}

#[test]
fn an_amendment_is_started_with_its_fingerprint_and_nothing_is_written_over() {
    let mut world = town(CHANGE, CASES);
    let rule = "pennsylvania-2019/discharge-points-up";
    let file = "books/town/amendments/up.yaml";
    let came = call(&mut world, &["rulebook", "amend", rule, file]);
    assert_eq!(came.status, 0, "{}", came.told);
    let text = String::from_utf8(world.files[file].clone()).unwrap();
    assert!(text.contains(&fingerprint(rule)), "{text}");
    // As it stands it says that it is not filled in; filled in, the book is sound.
    assert_eq!(call(&mut world, &["rulebook", "prove", "town", "--rulebooks", "books"]).status, 2);
    let filled = text
        .replace(
            "  # obligation: {was: \"shall\", to: \"\"}",
            "  obligation: {was: \"shall\", to: \"should\"}",
        )
        .replace("because: \"\"", "because: It is only advice here.")
        .replace(
            "by: \"\", document: \"\", on: \"\"",
            "by: Town council, document: Ordinance 12-5, on: 2025-03-02",
        );
    world.files.insert(file.into(), filled.clone().into_bytes());
    let came = call(&mut world, &["rulebook", "prove", "town", "--rulebooks", "books"]);
    assert_eq!(came.status, 0, "{}{}", came.printed, came.told);
    let again = call(&mut world, &["rulebook", "amend", rule, file]);
    assert_eq!(again.status, 2);
    assert_eq!(world.files[file], filled.into_bytes());
    let unknown = call(&mut world, &["rulebook", "amend", "discharge-point-up", "x.yaml"]);
    assert!(unknown.told.contains("Perhaps discharge-points-up was meant."), "{}", unknown.told);
    let both = call(&mut world, &["rulebook", "amend", "discharge-clear-of-openings", "x.yaml"]);
    assert!(both.told.contains("epa-1994/discharge-clear-of-openings"), "{}", both.told);
    assert!(!world.files.contains_key("x.yaml"));
}

#[test]
fn a_copy_of_a_book_proves_clean_at_once() {
    for book in ["pennsylvania-2019", "work-safety"] {
        let mut world = Memory::default();
        let came = call(&mut world, &["rulebook", "export", book, "books", "--named", "mine"]);
        assert_eq!(came.status, 0, "{}", came.told);
        let came = call(&mut world, &["rulebook", "prove", "mine", "--rulebooks", "books"]);
        assert_eq!((came.status, came.told.as_str()), (0, ""), "{}", came.printed);
        let again = call(&mut world, &["rulebook", "export", book, "books", "--named", "mine"]);
        assert_eq!(again.status, 2, "nothing is written over");
    }
    let mut world = Memory::default();
    for arguments in [
        &["rulebook", "export", "epa-1994", "books"][..],
        &["rulebook", "export", "epa-1994", "books", "--named", "My Book"],
        &["rulebook", "export", "epa-1994", "books", "--named", "work-safety"],
        &["rulebook", "export", "epa-1995", "books", "--in-place"],
    ] {
        let came = call(&mut world, arguments);
        assert_eq!((came.status, world.files.len()), (2, 0), "{arguments:?}: {}", came.printed);
    }
    let came = call(&mut world, &["rulebook", "export", "pennsylvania-2019", "books", "--in-place"]);
    assert_eq!(came.status, 0, "{}", came.told);
    let came = call(&mut world, &["rulebook", "prove", "pennsylvania-2019", "--rulebooks", "books"]);
    assert_eq!((came.status, came.told.as_str()), (0, ""), "{}", came.printed);
    let came = call(&mut world, &["rulebook", "list", "--rulebooks", "books"]);
    assert!(flat(&came).contains("in the place of the one that comes with the program"), "{}", came.printed);
    // Without the word it is refused, in plain words and with both ways out.
    let path = "books/pennsylvania-2019/book.yaml";
    let text = String::from_utf8(world.files[path].clone()).unwrap();
    world.files.insert(path.into(), text.replace("in_place_of: pennsylvania-2019\n", "").into_bytes());
    let came = call(&mut world, &["rulebook", "list", "--rulebooks", "books"]);
    assert_eq!(came.status, 2);
    let told = came.told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(told.contains("in_place_of: pennsylvania-2019"), "{told}");
}

#[test]
fn a_design_that_no_book_covers_is_told_so_and_is_no_success() {
    let design = |values: &[(&str, &str)], gone: &[&str]| {
        let mut all = vec![("job.rulebooks", "{pennsylvania-2019: adopted}")];
        all.extend(values);
        lay_over(&example("01"), &all, gone).unwrap()
    };
    let inside = design(&[], &[]);
    let outside = design(&[("building.stories", "4")], &[]);
    let unknown = design(&[], &["building.stories"]);
    let mut world = Memory::with([("in.yaml", inside), ("out.yaml", outside), ("unknown.yaml", unknown)]);
    assert_eq!(call(&mut world, &["review", "in.yaml"]).status, 0);
    let out = call(&mut world, &["review", "out.yaml"]);
    assert_eq!(out.status, 3, "{}", out.printed);
    assert!(flat(&out).contains("does not cover this design"), "{}", out.printed);
    let unknown = call(&mut world, &["review", "unknown.yaml"]);
    assert_eq!(unknown.status, 3, "{}", unknown.printed);
    assert!(
        flat(&unknown).contains("How many stories it has above ground; asked for by"),
        "{}",
        unknown.printed
    );
}

#[test]
fn a_book_that_is_not_in_force_on_the_day_is_told() {
    let mut world = town(CHANGE, CASES);
    for (day, told) in
        [("2025-03-31", true), ("2025-04-01", false), ("2030-12-31", false), ("2031-01-01", true)]
    {
        let review = call(&mut world, &["review", "a.yaml", "--rulebooks", "books", "--on", day]);
        assert_eq!(
            flat(&review).contains("is not in force on the day of this review"),
            told,
            "{day}: {}",
            review.printed
        );
        let list = call(&mut world, &["rulebook", "list", "a.yaml", "--rulebooks", "books", "--on", day]);
        assert_eq!(flat(&list).contains("the day that is asked about"), told, "{day}: {}", list.printed);
    }
}

#[test]
fn a_book_that_its_own_cases_do_not_bear_out_decides_nothing() {
    let review = |world: &mut Memory, more: &[&str]| {
        let words = [&["review", "a.yaml", "--rulebooks", "books", "--on", "2026-05-12"], more].concat();
        call(world, &words)
    };
    // The amendment turns older cases and does not say them anew.
    let mut world = town(CHANGE, "");
    let came = review(&mut world, &[]);
    assert_eq!(came.status, 3, "{}", came.printed);
    let said = flat(&came);
    assert!(said.contains("town is not borne out by its own cases: discharge-clear-of-openings"), "{said}");
    assert!(said.contains("Nothing is decided, because town is not borne out by its own cases."), "{said}");
    assert!(said.contains("undercroft rulebook prove town --rulebooks books"), "{said}");
    let json = review(&mut world, &["--as", "json"]).printed;
    let report: serde_json::Value = serde_json::from_str(&json).unwrap();
    let books = report["reviews"][0]["books"].as_array().unwrap();
    let proven = |name: &str| books.iter().find(|book| book["name"] == name).unwrap()["proven"].clone();
    assert_eq!((proven("town"), proven("work-safety")), (false.into(), true.into()));
    assert_eq!(report["reviews"][0]["outcome"], "not proven");
    // What it would have as unmet fails nothing, and neither makes a count nor the headline.
    let mut world = town(FAR, "");
    let came = review(&mut world, &[]);
    assert_eq!(came.status, 3, "{}", came.printed);
    let said = flat(&came);
    assert!(said.contains("Nothing is decided, because town is not borne out by its own cases."), "{said}");
    assert!(said.contains(": 0 unmet,") && said.contains(" more that decide nothing"), "{said}");
    assert!(said.contains("Not as asked in books that decide nothing"), "{said}");
    assert!(!said.contains("not met"), "{said}");
    let json = review(&mut world, &["--as", "json"]).printed;
    let report: serde_json::Value = serde_json::from_str(&json).unwrap();
    let unmet = |one: &&serde_json::Value| one["comes_to"] == "unmet";
    let findings = report["reviews"][0]["findings"].as_array().unwrap();
    let unmet: Vec<_> = findings.iter().filter(unmet).collect();
    assert!(!unmet.is_empty() && unmet.iter().all(|one| one["counts"] == false), "{unmet:?}");
    assert_eq!(unmet[0]["clauses"][0]["standing"], "decides nothing");
    // Beside it a book that its cases do bear out still fails.
    let design = lay_over(
        &example("01"),
        &[
            ("job.rulebooks", "{town: adopted, pennsylvania-2019: adopted}"),
            ("systems.main.discharge.direction", "down"),
        ],
        &[],
    )
    .unwrap();
    world.files.insert("a.yaml".into(), design.into_bytes());
    let came = review(&mut world, &[]);
    assert_eq!(came.status, 1, "{}", came.printed);
    // A limit that no length can be under is caught the same way.
    let mut world = town("change: {limits.clearance: {was: 10 ft, to: -12 ft}}\n", "");
    assert_eq!(review(&mut world, &[]).status, 3);
    // Said anew, it decides.
    let mut world = town(CHANGE, CASES);
    assert!(!flat(&review(&mut world, &[])).contains("borne out"));
}

#[test]
fn other_words_for_a_limit_than_the_rule_compares_with_are_told() {
    for (change, said) in [
        (
            "change: {limits.clearance.words: {was: at least, to: at most}}\n",
            "the words of \"clearance\" are to be \"at most\", and what is required still compares with at least",
        ),
        ("change: {limits.clearance: {was: 10 ft, to: at least 15 ft}}\n", "the number alone, \"15 ft\""),
    ] {
        let mut world = town(change, "");
        let came = call(&mut world, &["review", "a.yaml", "--rulebooks", "books"]);
        assert_eq!(came.status, 2);
        assert!(flat(&came).contains(said), "{}", came.printed);
    }
}

#[test]
fn a_rule_that_there_is_not_is_told_with_the_one_that_has_its_words() {
    for (written, meant) in [
        ("discharge-above-roof", &["discharge-above-roof-edge", "discharge-above-roof-surface"][..]),
        ("openings-clear-of-discharge", &["discharge-clear-of-openings"]),
    ] {
        let mut world = town(CHANGE, CASES);
        let openings = "books/town/amendments/openings.yaml";
        let text = String::from_utf8(world.files[openings].clone()).unwrap();
        let text = text.replace(
            "pennsylvania-2019/discharge-clear-of-openings",
            &format!("pennsylvania-2019/{written}"),
        );
        world.files.insert(openings.into(), text.into_bytes());
        let came = call(&mut world, &["review", "a.yaml", "--rulebooks", "books"]);
        let said = flat(&came);
        let meant: Vec<String> = meant.iter().map(|one| format!("\"pennsylvania-2019/{one}\"")).collect();
        assert!(said.contains(&format!("Perhaps {} was meant", meant.join(" or "))), "{said}");
    }
}

#[test]
fn a_file_that_is_no_folder_of_books_is_named_as_a_file() {
    let mut world = town(CHANGE, CASES);
    for (named, instead) in [
        ("a.yaml", "name that, or the folder that holds it"),
        ("books/town/book.yaml", "--rulebooks books/town"),
    ] {
        let came = call(&mut world, &["review", "a.yaml", "--rulebooks", named]);
        assert_eq!(came.status, 2);
        assert!(came.told.contains(&format!("{named} is a file")), "{}", came.told);
        assert!(came.told.contains(instead), "{}", came.told);
    }
}

#[test]
fn what_is_decided_after_the_day_of_a_review_does_not_count_yet_and_is_told() {
    let openings = "books/town/amendments/openings.yaml";
    for (change, later) in [
        (FAR, "is asked otherwise from 2027-03-01 on"),
        ("withdraw: yes\n", "is no longer asked from 2027-03-01 on"),
    ] {
        let mut world = town(change, "");
        let text = String::from_utf8(world.files[openings].clone()).unwrap();
        let text = text.replace("on: 2025-03-01", "on: 2027-03-01");
        assert!(text.contains("on: 2027-03-01"), "{text}");
        world.files.insert(openings.into(), text.into_bytes());
        let mut plain = Memory::with([("a.yaml", example("01").as_str())]);
        let named = lay_over(&example("01"), &[("job.rulebooks", "{pennsylvania-2019: adopted}")], &[]);
        plain.files.insert("a.yaml".into(), named.unwrap().into_bytes());
        let verdicts = |world: &mut Memory, more: &[&str], on: &str| -> Vec<(String, String)> {
            let words = [&["review", "a.yaml", "--as", "json", "--on", on], more].concat();
            let report: serde_json::Value = serde_json::from_str(&call(world, &words).printed).unwrap();
            let text = |one: &serde_json::Value, key: &str| one[key].as_str().unwrap().to_owned();
            let findings = report["reviews"][0]["findings"].as_array().unwrap().iter();
            findings.map(|one| (text(one, "identity"), text(one, "comes_to"))).collect()
        };
        let brought = ["--rulebooks", "books"];
        // Up to the day before, all is as under the state's book alone, and the review says from when it is not.
        assert_eq!(verdicts(&mut world, &brought, "2027-02-28"), verdicts(&mut plain, &[], "2027-02-28"));
        let review = |world: &mut Memory, on: &str| {
            flat(&call(world, &["review", "a.yaml", "--rulebooks", "books", "--on", on]))
        };
        let before = review(&mut world, "2027-02-28");
        assert!(before.contains(later) && before.contains("Ordinance 12-4, Town council"), "{before}");
        assert!(!before.contains("borne out"), "its cases are of what does not count yet: {before}");
        let permit = ["submittal", "a.yaml", "--for", "permit", "--as", "html", "--rulebooks", "books"];
        let permit = call(&mut world, &[&permit[..], &["--on", "2027-02-28"]].concat());
        assert!(permit.printed.contains(later), "{}", permit.told);
        // From the day on it counts, and nothing is left to be said of it.
        let on = review(&mut world, "2027-03-01");
        assert!(!on.contains("2027-03-01 on"), "{on}");
        assert_ne!(verdicts(&mut world, &brought, "2027-03-01"), verdicts(&mut plain, &[], "2027-03-01"));
        // A design with a day of its own says it as well.
        assert!(flat(&call(&mut world, &["review", "a.yaml", "--rulebooks", "books"])).contains(later));
    }
}

#[test]
fn what_a_book_changes_or_withdraws_stands_in_the_review_and_can_be_asked_for() {
    let mut world = town("withdraw: yes\n", "");
    let came = call(&mut world, &["review", "a.yaml", "--rulebooks", "books", "--on", "2026-05-12"]);
    let said = flat(&came);
    assert!(
        said.contains(
            "(\"discharge-clear-of-openings\"), no longer asked: Ordinance 12-4, Town council, 1 March 2025"
        ),
        "{said}"
    );
    let came = call(&mut world, &["clause", "town/discharge-clear-of-openings", "--rulebooks", "books"]);
    assert_eq!(came.status, 0);
    assert!(flat(&came).contains("is withdrawn in town and not asked there."), "{}", came.printed);
}
