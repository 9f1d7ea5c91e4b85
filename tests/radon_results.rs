//! What is worked out of radon tests, of papers and of test holes: averages of hours, months of the calendar, which test
//! speaks of which part of the house. Every figure was counted by hand.

use undercroft::base::number::{Number, Ratio};
use undercroft::base::text::{Source, SourceId};
use undercroft::base::value::{Answer, Value};
use undercroft::base::vocabulary::{Answers, ROOT, Thing};
use undercroft::design::{Design, read};
use undercroft::facts::{Facts, vocabulary};

fn design(text: &str) -> Design {
    let text = format!("undercroft: 1\nsite: {{zone: America/New_York}}\n{text}");
    let source = Source::new("design.yaml", text.as_str());
    let (tree, problems) = undercroft::yaml::scan::read(SourceId(0), source.text());
    assert!(problems.is_empty(), "{problems:#?}");
    let (design, problems) = read(&source, &tree);
    assert!(problems.is_empty(), "{problems:#?}");
    design
}

fn ask(facts: &mut Facts<'_>, it: Thing, name: &str) -> Answer<Value> {
    facts.ask(vocabulary().find_fact(it.kind, name).unwrap(), it)
}

fn several(facts: &mut Facts<'_>, it: Thing, name: &str) -> Vec<Thing> {
    match ask(facts, it, name) {
        Answer::Known { value: Value::Things(things), .. } => things.items,
        other => panic!("{name}: {other:?}"),
    }
}

fn names(facts: &mut Facts<'_>, it: Thing, name: &str) -> Vec<String> {
    several(facts, it, name).into_iter().map(|thing| facts.name_of(thing)).collect()
}

/// A number, or the entries that are wanted for it.
fn number(facts: &mut Facts<'_>, it: Thing, name: &str) -> Result<Number, Vec<String>> {
    match ask(facts, it, name) {
        Answer::Known { value: Value::Number(number), .. } => Ok(number),
        Answer::Unknown(missing) => Err(missing.iter().map(|one| one.entry.to_string()).collect()),
        other => panic!("{name}: {other:?}"),
    }
}

fn picocuries(text: &str) -> Result<Number, Vec<String>> {
    Ok(Number::exact(Ratio::parse_decimal(text).unwrap() * Ratio::from(37)))
}

fn first_test(design: &Design) -> (Facts<'_>, Thing) {
    let mut facts = Facts::new(design);
    let test = several(&mut facts, ROOT, "tests")[0];
    (facts, test)
}

#[test]
fn the_hours_that_count_are_averaged_and_told_to_a_tenth() {
    // Hours, what was left out, the average in the digits of a report.
    let table = [
        ("[9.0 pCi/L, 2.0 pCi/L, 1.0 pCi/L]", "1 h", "1.5"),
        ("[9.0 pCi/L, 2.0 pCi/L, 1.0 pCi/L]", "none", "4.0"),
        // (3.9 + 4.0) / 2 = 3.95, a half goes up.
        ("[3.9 pCi/L, 4.0 pCi/L]", "none", "4.0"),
        // (1.0 + 1.0 + 1.1) / 3 = 1.033…
        ("[1.0 pCi/L, 1.0 pCi/L, 1.1 pCi/L]", "0 h", "1.0"),
    ];
    for (hours, left_out, told) in table {
        let text = format!(
            "radon_tests: {{t: {{of: air, when: after, hours: {hours}, left_out: {left_out}, others_left_out: no}}}}\n"
        );
        let design = design(&text);
        let (mut facts, test) = first_test(&design);
        assert_eq!(number(&mut facts, test, "average"), picocuries(told), "{hours} less {left_out}");
    }
}

#[test]
fn an_average_is_not_made_up_where_hours_are_lacking() {
    let table = [
        ("left_out: 4 h, others_left_out: no", "radon_tests.t.hours"),
        ("hours: [1 pCi/L], others_left_out: no", "radon_tests.t.left_out"),
        ("hours: [1 pCi/L], left_out: none", "radon_tests.t.others_left_out"),
        ("hours: [1 pCi/L], left_out: none, others_left_out: yes", "radon_tests.t.hours"),
        ("hours: [1 pCi/L], left_out: 30 min, others_left_out: no", "radon_tests.t.hours"),
        ("hours: [1 pCi/L], left_out: 1 h, others_left_out: no", "radon_tests.t.hours"),
    ];
    for (said, wanted) in table {
        let design = design(&format!("radon_tests: {{t: {{of: air, when: after, {said}}}}}\n"));
        let (mut facts, test) = first_test(&design);
        assert_eq!(number(&mut facts, test, "average"), Err(vec![wanted.to_owned()]), "{said}");
    }
}

#[test]
fn a_test_speaks_of_the_part_of_the_house_under_its_room() {
    let design = design(
        "building:
  spaces:
    cellar: {kind: basement, occupied: yes, under: parlor}
    crawl: {kind: crawlspace, occupied: no, under: [den]}
    den: {occupied: yes, under: none}
    parlor: {occupied: yes, under: none}
foundation:
  areas:
    cellar: {kind: slab}
    crawl: {kind: crawlspace}
radon_tests:
  one: {of: air, when: after, in: cellar}
  two: {of: air, when: after, in: den}
  three: {of: air, when: after, in: parlor}
  vapours: {of: chemical vapours, when: after, in: cellar}
",
    );
    let mut facts = Facts::new(&design);
    let areas = several(&mut facts, ROOT, "areas");
    assert_eq!(names(&mut facts, areas[0], "tests"), ["one"]);
    assert_eq!(names(&mut facts, areas[1], "tests"), ["two"]);
}

#[test]
fn months_are_those_of_the_calendar_and_one_that_is_begun_counts() {
    // When the last of two tests ended, the next one, the months between.
    let table = [
        ("2026-06-19", "2028-06-19", 24),
        ("2026-06-19", "2028-06-20", 25),
        ("2026-06-19", "2028-06-18", 24),
        ("2026-01-31", "2026-02-28", 1),
        ("2026-01-31", "2026-03-01", 2),
        ("2026-06-19", "2026-06-19", 0),
    ];
    for (last, next, months) in table {
        let text = format!(
            "radon_tests: {{a: {{of: air, when: after, stop: 2025-06-01 09:00}}, b: {{of: air, when: retest, stop: {last} 09:00}}}}\npapers: {{upkeep: {{next_test: {next}}}}}\n"
        );
        let design = design(&text);
        let mut facts = Facts::new(&design);
        let papers = match ask(&mut facts, ROOT, "papers") {
            Answer::Known { value: Value::Thing(papers), .. } => papers,
            other => panic!("{other:?}"),
        };
        let found = number(&mut facts, papers, "months_to_next_test");
        assert_eq!(found, Ok(Number::whole(months)), "{last} to {next}");
    }
}
