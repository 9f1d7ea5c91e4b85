//! Corrections: what is offered, that it was proven, what is only told, and how it is written.

mod blanks;
mod fuzz;
pub(crate) mod laws;
mod report;
mod workshop;
mod writing;

use undercroft::app::host::memory::Memory;
use undercroft::base::value::EntryPath;
use undercroft::correct::{Corrections, Offer, Step, WhyNot, corrections, written};
use undercroft::review::{Input, Library};
use undercroft::yaml::path::Path;
use undercroft::yaml::splice::lay_over;

use super::commands::{Came, call, example};
use laws::holds;
use workshop::{FILES, design, library};

/// The corrections of a text under the books of a library.
pub(crate) fn of<'l>(text: &str, library: &'l Library) -> Corrections<'l> {
    corrections(&Input { name: "design.yaml", bytes: text.as_bytes(), ..Input::default() }, library)
}

/// The first example under the rules of the workshop, changed so, as a world with their book.
fn world(changes: &[(&str, &str)]) -> Memory {
    let mut files: Vec<(String, String)> =
        FILES.iter().map(|(path, text)| (format!("books/{path}"), (*text).to_owned())).collect();
    files.push(("design.yaml".to_owned(), design(changes)));
    Memory::with(files)
}

/// What a call comes to in such a world.
fn correct(world: &mut Memory, more: &[&str]) -> Came {
    let mut arguments = vec!["correct", "design.yaml", "--rulebooks", "books"];
    arguments.extend(more);
    call(world, &arguments)
}

/// What every offer of a finding of this requirement changes, each as entry and new text, or why there is none.
fn offers(changes: &[(&str, &str)]) -> Vec<String> {
    let library = library();
    let text = design(changes);
    let all = of(&text, &library);
    holds(&all, &text, &library);
    let choices = all.mends.iter().flat_map(|mend| &mend.choices);
    choices
        .map(|choice| match &choice.offer {
            Offer::Edits(proven) => {
                let edits = proven.edits.as_slice().iter();
                let edits: Vec<String> = edits
                    .map(|edit| format!("«{}» becomes «{}»", &text[edit.span.range()], edit.text))
                    .collect();
                format!("{}: {}", choice.title, edits.join(" and "))
            }
            Offer::WorkOrder(entries) => format!("{}: work, {entries:?}", choice.title),
            Offer::Words(why) => format!("{}: {}", choice.title, word(why)),
        })
        .collect()
}

fn word(why: &WhyNot) -> &'static str {
    match why {
        WhyNot::NoChange => "words",
        WhyNot::NotKnown(_) => "not known",
        WhyNot::Found(_) => "found",
        WhyNot::Built(_) => "built",
        WhyNot::Measured(_) => "measured",
        WhyNot::NotThere(_) => "not there",
        WhyNot::AlreadyThere(_) => "already there",
        WhyNot::Several(_) => "several",
        WhyNot::NoHandle => "no handle",
        WhyNot::NoPlace(_) => "no place",
        WhyNot::CannotBeWritten(_) => "cannot be written",
        WhyNot::StillUnmet(_) => "still unmet",
        WhyNot::Worse(_) => "worse",
        WhyNot::NewProblem(_) => "new problem",
        WhyNot::LookAnew(_) => "look anew",
    }
}

#[test]
fn a_value_is_written_as_its_neighbours_are_and_on_the_side_that_meets_the_limit() {
    let spacing = "systems.main.runs.ceiling.hangers";
    for (changes, wanted) in [
        // The limits of the workshop: supports at most 6 ft apart, sheets that lap 302 mm.
        (&[(spacing, "{spacing: 9 ft, fixed_to: building}")][..], "hang it closer: «9 ft» becomes «6 ft»"),
        (&[(spacing, "{spacing: 110 in, fixed_to: building}")], "hang it closer: «110 in» becomes «72 in»"),
        // 6 ft is 1.8288 m: 1.825 m is the last 5 mm below it.
        (&[(spacing, "{spacing: 2.5 m, fixed_to: building}")], "hang it closer: «2.5 m» becomes «1.825 m»"),
        // 302 mm is 11.89 in: past 11 7/8 in, so 12 in. What stands behind the number stays.
        (
            &[("foundation.areas.crawl.membrane.lap", "8 in everywhere")],
            "lap it wider: «8 in everywhere» becomes «12 in everywhere»",
        ),
        // 302 mm to 5 mm: 305 mm.
        (&[("foundation.areas.crawl.membrane.lap", "20 cm")], "lap it wider: «20 cm» becomes «30.5 cm»"),
        (&[("systems.main.discharge.direction", "level")], "turn it up: «level» becomes «up»"),
    ] {
        assert_eq!(offers(changes), [wanted], "{changes:?}");
    }
}

#[test]
fn what_is_not_there_is_written_where_it_belongs_with_a_blank_for_what_must_be_measured() {
    let changes = &[("systems.main.labels", "{basement_pipe: {on: pipe, says: [what it is]}}")][..];
    let said = offers(changes);
    assert_eq!(said.len(), 1);
    assert!(
        said[0].starts_with(
            "put up a label: «» becomes «, fan_label: {on: fan, says: [what it is], letters: unknown}»"
        ),
        "{said:?}"
    );
    // A name that is taken gets a number.
    let taken = &[("systems.main.labels", "{fan_label: {on: pipe, says: [what it is]}}")][..];
    assert!(offers(taken)[0].contains("fan_label_2"), "{:?}", offers(taken));
    // Where it is said that there are none, they begin with this one.
    let none = &[("systems.main.labels", "none")][..];
    assert!(offers(none)[0].contains("«none» becomes «{fan_label: {on: fan"), "{:?}", offers(none));
    let library = library();
    let all = of(&design(changes), &library);
    let (_, _, proven) = all.offered().next().unwrap();
    let blanks: Vec<&str> = proven.measure.iter().map(|missing| missing.entry.as_str()).collect();
    assert_eq!(blanks, ["systems.main.labels.fan_label.letters"]);
}

#[test]
fn what_was_found_measured_or_is_not_known_is_told_in_words() {
    let lap = "foundation.areas.crawl.membrane.lap";
    assert_eq!(offers(&[(lap, "{value: 8 in, by: J. Ames, on: 2026-05-12}")]), ["lap it wider: measured"]);
    assert_eq!(offers(&[("site.altitude", "9000 ft")]), ["build it lower down: found"]);
    let spacing = ("systems.main.runs.ceiling.hangers", "{spacing: 9 ft, fixed_to: building}");
    assert_eq!(offers(&[spacing, ("systems.main.installed", "2026-05-01")]), ["hang it closer: built"]);
    // How thick the sheet should be turns on the snow, of which nothing is said.
    let thin = ("foundation.areas.crawl.membrane.thickness", "4 mil");
    assert_eq!(
        offers(&[("site.moisture", "humid"), thin]),
        ["take sheet as thick as the snow asks for: not known"]
    );
    // 30 in of snow over 5000 is 6 mil; a range of snow is no number to build by.
    assert_eq!(
        offers(&[("site.moisture", "humid"), ("site.snow", "30 in"), thin]),
        ["take sheet as thick as the snow asks for: «4 mil» becomes «6 mil»"]
    );
    assert_eq!(
        offers(&[("site.moisture", "humid"), ("site.snow", "{value: 30 in, within: 2 in}"), thin]),
        ["take sheet as thick as the snow asks for: not known"]
    );
}

#[test]
fn what_is_asked_of_several_is_written_at_each_that_is_not_so() {
    let round = "foundation.areas.crawl.membrane.penetrations";
    let tee = ("systems.main.suction_points.s2.inlet", "tee");
    let said = |all| offers(&[("site.moisture", "dry"), tee, (round, all)]);
    assert_eq!(
        said("{pipe: {sealed: no}, post: {sealed: yes}, pier: {sealed: no}}"),
        ["seal the sheet round it: «no» becomes «yes» and «no» becomes «yes»"]
    );
    assert_eq!(
        said("{pipe: {sealed: no}, post: {sealed: {value: no, by: J. Ames, on: 2026-05-12}}}"),
        ["seal the sheet round it: still unmet"]
    );
}

#[test]
fn one_value_that_stands_for_a_section_is_written_anew_as_one_value() {
    for (short, wanted) in [
        ("open end", "end it in a tee: «open end» becomes «tee»"),
        ("{kind: open end}", "end it in a tee: «open end» becomes «tee»"),
    ] {
        let changes = [("site.moisture", "dry"), ("systems.main.suction_points.s2.inlet", short)];
        assert_eq!(offers(&changes), [wanted]);
    }
}

#[test]
fn beside_another_change_what_is_not_there_need_not_be_taken_away() {
    let level = ("systems.main.discharge.direction", "level");
    assert_eq!(offers(&[level]), ["turn it up: «level» becomes «up»"]);
    let slant = ("systems.main.discharge.slant", "90 deg");
    assert_eq!(
        offers(&[level, slant]),
        ["turn it up: «level» becomes «up» and «, slant: 90 deg» becomes «»"]
    );
}

#[test]
fn a_correction_that_makes_something_else_worse_is_not_offered() {
    // For so much air one rule wants 2 in WC at least; another wants 1.9 in WC at most, always.
    assert_eq!(offers(&[("systems.main.design_point.flow", "120 cfm")]), ["ask for more: worse"]);
}

#[test]
fn what_is_built_is_mended_by_work_and_never_by_another_number() {
    let spacing = ("systems.main.runs.ceiling.hangers", "{spacing: 9 ft, fixed_to: building}");
    for stage in ["installed", "operating"] {
        let said = offers(&[spacing, ("job.stage", stage)]);
        assert_eq!(said.len(), 1, "{said:?}");
        assert!(
            said[0].starts_with("hang it closer: work, ") && said[0].contains("hangers.spacing"),
            "{said:?}"
        );
        let came = correct(&mut world(&[spacing, ("job.stage", stage)]), &["--choose", "all", "--write"]);
        assert_eq!(came.status, 2);
        assert!(came.told.contains("no change of the file"), "{}", came.told);
    }
}

#[test]
fn several_are_taken_together_and_those_that_do_not_agree_are_told() {
    let changes = &[
        ("systems.main.runs.ceiling.hangers", "{spacing: 9 ft, fixed_to: building}"),
        ("foundation.areas.crawl.membrane.lap", "8 in everywhere"),
        ("systems.main.discharge.direction", "level"),
    ][..];
    let mut there = world(changes);
    let before = String::from_utf8(there.files["design.yaml"].clone()).unwrap();
    let came = correct(&mut there, &["--choose", "all"]);
    assert!(came.told.contains("Nothing was written"), "{}", came.told);
    assert_eq!(there.files["design.yaml"], before.as_bytes());
    let came = correct(&mut there, &["--choose", "all", "--write"]);
    assert_eq!(came.status, 0, "{}{}", came.printed, came.told);
    let after = String::from_utf8(there.files["design.yaml"].clone()).unwrap();
    let wanted = before
        .replacen("spacing: 9 ft", "spacing: 6 ft", 1)
        .replacen("8 in everywhere", "12 in everywhere", 1)
        .replacen("direction: level", "direction: up", 1);
    assert_eq!(after, wanted, "every other byte stays");
    let again = correct(&mut there, &[]);
    assert!(again.printed.contains("nothing to mend"), "{}", again.printed);
}

#[test]
fn faults_in_the_writing_are_told_and_what_was_chosen_says_what_it_costs() {
    let changes = &[("systems.main.runs.ceiling.hangers", "{spacing: 9 ft, fixed_to: duct}")][..];
    let said = correct(&mut world(changes), &[]).printed;
    assert!(said.contains("1 entry could not be read."), "{said}");
    let sound = correct(&mut world(&[]), &[]).printed;
    assert!(!sound.contains("could not be read"), "{sound}");
    let chosen = correct(&mut world(changes), &["--choose", "1"]).printed;
    assert!(chosen.contains("hanger, for 4 in pipe: "), "{chosen}");
}

#[test]
fn a_change_that_comes_to_the_same_as_an_earlier_one_says_so() {
    let below = lay_over(&example("01"), &[("systems.main.fan.in", "basement")], &[]).unwrap();
    let mut world = Memory::with(vec![("design.yaml".to_owned(), below)]);
    let said = call(&mut world, &["correct", "design.yaml"]).printed;
    assert!(said.contains("Move the fan to the attic, the same as change "), "{said}");
}

#[test]
fn what_does_not_agree_is_left_out_of_all_and_told() {
    let changes = &[("site.moisture", "marine"), ("systems.main.labels", "none")][..];
    let came = correct(&mut world(changes), &["--choose", "all"]);
    assert!(came.printed.contains("1 and 2 want different things of"), "{}", came.printed);
    let came = correct(&mut world(changes), &["--choose", "1", "--choose", "2", "--write"]);
    assert_eq!(came.status, 2);
    assert!(
        came.told.contains("want different things") && came.told.contains("Nothing was written"),
        "{}",
        came.told
    );
}

#[test]
fn a_change_is_chosen_by_number_or_by_what_it_is_for() {
    let changes = &[
        ("systems.main.runs.ceiling.hangers", "{spacing: 9 ft, fixed_to: building}"),
        ("systems.main.runs.riser.hangers", "{spacing: 9 ft, fixed_to: building}"),
    ][..];
    for (word, line) in [
        ("1", "spacing: 6 ft"),
        ("runs-hung of ceiling", "spacing: 6 ft"),
        ("workshop/runs-hung of riser", "spacing: 6 ft"),
    ] {
        let came = correct(&mut world(changes), &["--choose", word]);
        assert!(came.printed.contains(line), "{word}: {}{}", came.printed, came.told);
    }
    for (word, told) in [
        ("9", "There is no change 9. There are changes 1 to 2."),
        ("runs-hung", "can be mended by changes 1, 2"),
        ("hedges", "No change is offered for \"hedges\""),
    ] {
        let came = correct(&mut world(changes), &["--choose", word]);
        assert_eq!(came.status, 2);
        assert!(came.told.contains(told), "{word}: {}", came.told);
    }
    let came = correct(&mut world(changes), &["--write"]);
    assert!(came.told.contains("Say which"), "{}", came.told);
}

/// A review that was made and a design that is judged without telling why come to the same.
#[test]
fn what_a_review_comes_to_is_what_judging_its_design_comes_to() {
    use undercroft::base::problem::Problem;
    use undercroft::review::judged::{Judged, judged};
    use undercroft::review::{Input, Library, review};
    let library = Library::with(&[]);
    let said = |problems: &[Problem]| {
        let mut said: Vec<String> =
            problems.iter().map(|one| format!("{} {} {:?}", one.kind.name(), one.found, one.at)).collect();
        said.sort();
        said
    };
    for name in crate::commands::example_names() {
        let text = crate::commands::example(&name);
        for text in [text.clone(), text.replacen("stories:", "storeys:", 1)] {
            let input = Input { name: "design.yaml", bytes: text.as_bytes(), ..Input::default() };
            let (of, anew) = (Judged::of(&review(&input, &library)), judged(&input, &library));
            assert_eq!(of.clauses, anew.clauses, "{name}");
            assert_eq!(said(&of.problems), said(&anew.problems), "{name}");
        }
    }
}

/// The pipe before the window of the house `placing::HOUSE` has to end 4 ft higher: at 15 ft, which is 2 ft above the head of
/// the window. Who looked 100 ft about the building has looked 96 ft about one that is 4 ft higher; that is still far enough.
#[test]
fn what_somebody_signed_to_have_looked_for_stays_as_it_is_to_the_last_byte() {
    let library = Library::with(&[]);
    let looked = |text: &str| -> Vec<String> {
        let inside = text.lines().skip_while(|line| !line.starts_with("looked_for:")).skip(1);
        inside.take_while(|line| line.starts_with(' ')).map(str::to_owned).collect()
    };
    let text = super::placing::HOUSE;
    let all = of(text, &library);
    let raises = all.offered().filter(|(_, _, proven)| !proven.looks.is_empty());
    let mut number = 0;
    for (_, choice, proven) in raises {
        number += 1;
        assert_eq!(looked(&proven.text), looked(text), "{}", choice.title);
        let told: Vec<String> = proven.measure.iter().map(|one| format!("{:?}", one.reason)).collect();
        assert!(told.iter().any(|one| one.contains("96 ft of building")), "{told:?}");
        assert!(proven.measure.iter().any(|one| one.entry.as_str() == "looked_for.neighbours.within"));
    }
    assert!(number > 0, "{:?}", all.mends);
    let mut world = Memory::with([("design.yaml", text)]);
    let page = call(&mut world, &["correct", "design.yaml", "--width", "200"]).printed;
    assert!(page.contains("what is signed in looked_for.neighbours.within goes 96 ft of building"), "{page}");
    assert!(!page.contains("becomes looked_for"), "{page}");
    // Where that were no longer as far as is asked, nothing would be written, and it is said what is to be looked at anew.
    let (mend, _, proven) = all.offered().find(|(_, _, proven)| !proven.looks.is_empty()).unwrap();
    let entry = Path::parse("looked_for.openings.within").unwrap();
    let mut steps = proven.steps.clone();
    steps.push(Step::Set(entry, "1 ft of discharge".to_owned()));
    let input = Input { name: "design.yaml", bytes: text.as_bytes(), ..Input::default() };
    let identity = all.review.findings[mend.finding].identity.as_str();
    let why = written(&all, &input, &library, &steps, &[identity]).unwrap_err();
    assert_eq!(why, WhyNot::LookAnew(vec![EntryPath::new("looked_for.openings.within")]));
    // What nobody signed is geometry of the drawing, and follows.
    let unsigned = lay_over(text, &[("looked_for.neighbours", "{within: 100 ft of building}")], &[]).unwrap();
    let all = of(&unsigned, &library);
    assert!(all.offered().all(|(_, _, one)| !one.text.contains("neighbours: {within: 100 ft of building}")));
}
