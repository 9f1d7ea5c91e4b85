//! A site visit, from the questions to the first verdicts: nothing is stated that nobody answered, nothing that is
//! asked for lacks a line, and nothing that was answered is lost.

use std::collections::BTreeSet;

use serde_json::Value;
use undercroft::app::host::memory::Memory;
use undercroft::app::site_visit::{QUESTIONS, Takes};
use undercroft::base::problem::{Problem, ProblemKind};
use undercroft::base::text::Sources;
use undercroft::design;
use undercroft::review::problems_of;
use undercroft::yaml::entry::Stands;
use undercroft::yaml::scan;

use super::commands::call;

/// The foundations that a house can have, each with its answers.
pub(crate) const HOUSES: [&[(&str, &str)]; 6] = [
    &[("foundation", "slab"), ("floor", "basement")],
    &[("foundation", "slab"), ("floor", "ground")],
    &[("foundation", "crawlspace")],
    &[("foundation", "both"), ("floor", "basement")],
    &[("foundation", "sump"), ("floor", "basement")],
    &[("foundation", "both and sump"), ("floor", "basement")],
];

/// The file that these answers start.
pub(crate) fn started(answers: &[(&str, &str)]) -> String {
    let mut world = Memory::default();
    let given: Vec<String> = answers.iter().map(|(name, words)| format!("{name}={words}")).collect();
    let mut arguments = vec!["site-visit", "house.yaml", "--without-asking"];
    for one in &given {
        arguments.extend(["--answer", one]);
    }
    let came = call(&mut world, &arguments);
    assert_eq!(came.status, 0, "{}", came.told);
    String::from_utf8(world.files["house.yaml"].clone()).unwrap()
}

/// The answers of a house, with the example of every other question.
fn all_answered<'a>(house: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let mut answers = house.to_vec();
    for question in QUESTIONS {
        if question.takes != Takes::Book && !answers.iter().any(|(name, _)| *name == question.name) {
            answers.push((question.name, question.example));
        }
    }
    answers
}

/// The file with the `#` taken away from every line to fill in, and its example filled in.
fn filled(text: &str) -> String {
    let fill = |line: &str| -> Option<String> {
        let pad = line.len() - line.trim_start().len();
        let (key, note) = line.trim_start().strip_prefix("# ")?.split_once(':')?;
        if key.contains(' ') {
            return None;
        }
        let (_, example) = note.trim_start().strip_prefix("# ")?.rsplit_once("; for instance: ")?;
        Some(format!("{}{key}: {example}", " ".repeat(pad)))
    };
    text.lines().map(|line| fill(line).unwrap_or_else(|| line.to_owned()) + "\n").collect()
}

#[test]
fn each_line_to_fill_in_is_taken_by_itself() {
    let mut refused = BTreeSet::new();
    for house in HOUSES.into_iter().chain([&[][..]]) {
        let text = started(house);
        let (blank, full) = (text.lines().map(str::to_owned).collect::<Vec<_>>(), filled(&text));
        for (at, line) in full.lines().enumerate().filter(|(at, line)| *line != blank[*at]) {
            let mut lines = blank.clone();
            line.clone_into(&mut lines[at]);
            // Pipe and suction points name each other, so one of the two stands first.
            let wrong = |problem: &Problem| problem.kind != ProblemKind::NamesUnread;
            for problem in problems_of(&(lines.join("\n") + "\n")).into_iter().filter(wrong) {
                refused.insert(format!("{}: {problem:?}", line.trim()));
            }
        }
    }
    assert!(refused.is_empty(), "{refused:#?}");
}

/// A review as a machine reads it.
fn reviewed(text: &str) -> Value {
    let mut world = Memory::with([("house.yaml", text)]);
    let came = call(&mut world, &["review", "house.yaml", "--as", "json"]);
    let report: Value = serde_json::from_str(&came.printed).unwrap();
    report["reviews"][0].clone()
}

/// The entries that a file states, whatever they say.
fn stated(text: &str) -> BTreeSet<String> {
    let mut sources = Sources::new();
    let id = sources.add("house.yaml", text);
    let (tree, _) = scan::read(id, text);
    let (design, _) = design::read(sources.get(id).unwrap(), &tree);
    let entries = design.entries();
    entries.iter().filter(|met| met.stands != Stands::Missing).map(|met| met.path.to_string()).collect()
}

const BOOK: (&str, &str) = ("adopted", "pennsylvania-2019");

#[test]
fn whatever_a_review_then_asks_for_has_a_line_to_fill_in() {
    let mut lacking = BTreeSet::new();
    for house in HOUSES {
        for answers in [house.to_vec(), all_answered(house)] {
            let text = started(&[answers, vec![BOOK, ("information", "epa-1994")]].concat());
            let lines = stated(&filled(&text));
            for next in reviewed(&text)["next"].as_array().unwrap() {
                let entry = next["entry"].as_str().unwrap();
                if !lines.contains(entry) {
                    lacking.insert(format!("{entry} ({})", house[0].1));
                }
            }
        }
    }
    assert!(lacking.is_empty(), "{lacking:#?}");
}

#[test]
fn filled_in_as_its_examples_show_a_file_reads_and_discharge_and_fan_are_judged() {
    for house in HOUSES {
        for answers in [house.to_vec(), all_answered(house)] {
            let text = filled(&started(&[answers, vec![BOOK]].concat()));
            let review = reviewed(&text);
            assert_eq!(review["problems"], serde_json::json!([]), "{text}");
            for kind in ["discharge", "fan"] {
                let findings = review["findings"].as_array().unwrap().iter();
                let about: Vec<(&str, &str)> = findings
                    .filter(|finding| finding["about"]["kind"] == kind)
                    .map(|finding| (finding["title"].as_str().unwrap(), finding["verdict"].as_str().unwrap()))
                    .collect();
                assert!(
                    about.iter().any(|(_, verdict)| matches!(*verdict, "met" | "unmet")),
                    "{kind} {about:?}\n{text}"
                );
                let open: Vec<_> = about.iter().filter(|(_, verdict)| *verdict == "undetermined").collect();
                assert!(open.is_empty(), "{kind}: {open:?}, wanted {:#?}\n{text}", review["next"]);
            }
        }
    }
}

#[test]
fn a_file_without_a_chosen_book_is_still_judged_and_says_by_which() {
    let text = started(&[("foundation", "slab")]);
    assert!(text.contains("epa-1994: for information"), "{text}");
    let mut world = Memory::default();
    let came = call(&mut world, &["site-visit", "house.yaml", "--without-asking"]);
    assert!(came.printed.contains("No rulebook was chosen"), "{}", came.printed);
    let books = reviewed(&text)["books"].as_array().unwrap().len();
    assert!(books >= 2, "{books}");
    assert!(!started(&[BOOK]).contains("epa-1994"));
}

/// What is printed when these lines are typed; and what is in the file after them.
fn typed(lines: &[&str]) -> (String, String) {
    let mut world =
        Memory { typed: lines.iter().map(|line| (*line).to_owned()).collect(), ..Memory::default() };
    let came = call(&mut world, &["site-visit", "house.yaml"]);
    assert_eq!(came.status, 0, "{}", came.told);
    (came.printed, String::from_utf8(world.files["house.yaml"].clone()).unwrap())
}

#[test]
fn a_question_is_put_until_it_is_answered_or_left_open() {
    let (page, text) =
        typed(&["Ranch", "", "05/12/2026", "12 May", "13", "2026-05-12", "1", "ranch", "slab", "?"]);
    assert!(text.contains("date: 2026-05-12") && text.contains("title: Ranch"), "{text}");
    assert!(text.contains("work: unknown"), "{text}");
    assert_eq!(page.matches("Left open.").count(), 1, "{page}");
    assert_eq!(page.matches("is not one of the answers").count(), 3, "{page}");
    let refused: Vec<&str> = page.lines().filter(|line| line.contains("> Write the day")).collect();
    assert_eq!(refused.len(), 3, "{page}");
    for line in refused {
        assert_eq!(line.matches('.').count(), 1, "one sentence: {line}");
    }
    assert!(page.contains("There was nothing more to read"), "{page}");
}

#[test]
fn a_person_goes_back_to_the_question_before_as_often_as_needed() {
    let (page, text) = typed(&["back", "Ranch", "J. Ames", "back", "back", "Cape", "R. Cole"]);
    assert!(page.contains("This is the first question."), "{page}");
    assert!(text.contains("title: Cape") && text.contains("by: R. Cole"), "{text}");
    assert!(!text.contains("Ranch") && !text.contains("Ames"), "{text}");
}

#[test]
fn numbers_without_a_unit_are_asked_back_and_a_height_above_is_told_as_such() {
    for (given, said) in [
        ("slab=32 x 24", "If feet are meant, write 32 ft x 24 ft."),
        ("crawl=20x16", "If feet are meant, write 20 ft x 16 ft."),
        ("above-roof=22", "Write 22 ft, or 22 in if inches are meant."),
    ] {
        let mut world = Memory::default();
        let arguments = ["site-visit", "house.yaml", "--answer", "foundation=both", "--answer", given];
        let came = call(&mut world, &arguments);
        assert!(came.status == 2 && came.told.contains(said), "{given}: {}", came.told);
    }
    let questions = QUESTIONS.iter().map(|question| question.name);
    let before: Vec<String> = questions
        .take_while(|name| *name != "opening-below")
        .map(|name| format!("{name}={}", if name == "opening" { "window" } else { "unknown" }))
        .collect();
    let mut world = Memory { typed: ["-2 ft".to_owned()].into(), ..Memory::default() };
    let mut arguments = vec!["site-visit", "house.yaml"];
    before.iter().for_each(|one| arguments.extend(["--answer", one.as_str()]));
    let came = call(&mut world, &arguments);
    assert!(
        came.printed.contains("so its top lies above the end of the pipe"),
        "{} {}",
        came.printed,
        came.told
    );
}

#[test]
fn what_people_say_for_a_word_is_taken_and_told() {
    for (question, said, kept) in [
        ("vermiculite", "N", "vermiculite: no"),
        ("fuel", "natural gas", "fuel: gas"),
        ("fuel", "electric", "appliances: none"),
        ("work", "Fan Swap", "work: fan swap"),
        ("work", "taken over", "work: taken over"),
    ] {
        assert!(started(&[(question, said)]).contains(kept), "{question}: {said}");
    }
    let (page, _) = typed(&["", "", "", "New System"]);
    assert!(page.contains("Taken as: new system"), "{page}");
}

#[test]
fn a_book_that_there_is_not_is_told_at_the_question() {
    let (page, text) =
        typed(&["", "", "", "", "", "pennsylvania", "pennsylvania-2019", "pennsylvania-2019", "none"]);
    assert!(page.contains("Perhaps pennsylvania-2019 was meant."), "{page}");
    assert!(page.contains("pennsylvania-2019 is named already"), "{page}");
    assert!(text.contains("pennsylvania-2019: adopted") && !text.contains("by contract"), "{text}");
}

#[test]
fn several_books_are_taken_at_once_and_a_wrong_one_does_not_bring_all_of_them_again() {
    let (page, text) =
        typed(&["", "", "", "", "", "nec and pennsilvania-2019", "nec, pennsylvania-2019", "no"]);
    assert!(page.contains("Perhaps pennsylvania-2019 was meant."), "{page}");
    assert!(text.contains("nec: adopted") && text.contains("pennsylvania-2019: adopted"), "{text}");
    assert!(!text.contains("by contract"), "{text}");
    // All of the books stand once at each question of which there are no more than three.
    assert!(page.matches("kentucky").count() <= 3, "{page}");
    let (page, _) = typed(&["", "", "", "", "", "the county's own"]);
    assert!(page.contains("There is no book \"the county's own\""), "{page}");
}

#[test]
fn the_file_is_written_after_every_answer_and_never_over_anything_else() {
    let (page, text) = typed(&["Ranch on Mill Road", "J. Ames"]);
    assert!(page.contains("nothing is lost"), "{page}");
    assert!(text.contains("title: Ranch on Mill Road") && text.contains("by: J. Ames"), "{text}");
    let mut world = Memory::with([("house.yaml", text.as_str())]);
    let came = call(&mut world, &["site-visit", "house.yaml"]);
    assert_eq!((came.status, world.files["house.yaml"].as_slice()), (2, text.as_bytes()));
}

#[test]
fn the_questions_are_listed_without_a_file_with_all_they_take() {
    let came = call(&mut Memory::default(), &["site-visit", "--questions"]);
    assert_eq!(came.status, 0, "{}", came.told);
    let page = came.printed.split_whitespace().collect::<Vec<_>>().join(" ");
    for question in QUESTIONS {
        assert!(page.contains(question.name) && page.contains(question.ask), "{}", question.name);
        if let Takes::Words(words) = question.takes {
            assert!(page.contains(&words.join(", ")), "{}", question.name);
        }
    }
    assert!(
        page.contains("epa-1994, ") && page.contains(", pennsylvania-2019, ") && page.contains(" or none"),
        "{page}"
    );
}

/// The example of the guide for newcomers is a discharge that can be judged.
#[test]
fn the_discharge_in_the_readme_can_be_judged_with_what_stands_there() {
    let readme = include_str!("../README.md");
    let example = readme.split("```yaml").map(|part| part.split("```").next().unwrap());
    let example = example.skip(1).find(|part| part.contains("discharge:")).unwrap();
    let text = format!(
        "undercroft: 1\njob: {{stage: design, rulebooks: {{pennsylvania-2019: adopted}}}}\n{example}"
    );
    let asked = reviewed(&text)["next"].to_string();
    for entry in ["through_side_wall", "discharge.direction", "runs.stack.pierces"] {
        assert!(!asked.contains(entry), "{entry}: {asked}");
    }
}

#[test]
fn the_keys_of_a_part_are_shown_without_a_file() {
    let shown = |part: &str| call(&mut Memory::default(), &["site-visit", "--keys", part]);
    let came = shown("discharge");
    for word in ["through_side_wall", "cap", "slanting up"] {
        assert!(came.printed.contains(word), "{word}\n{}", came.printed);
    }
    assert_eq!(came.status, 0);
    let came = shown("dischrge");
    assert!(came.status == 2 && came.told.contains("Perhaps discharge was meant."), "{}", came.told);
    let came = call(&mut Memory::default(), &["site-visit", "--keys"]);
    assert!(came.printed.contains("systems.NAME.discharge"), "{}", came.printed);
}
