//! Field notes over a design: what was built counts, what was designed is kept, nothing else changes.

use std::collections::BTreeMap;

use undercroft::base::problem::{Problem, ProblemKind};
use undercroft::base::value::Answer;
use undercroft::facts::Facts;
use undercroft::facts::kinds::Kind;
use undercroft::findings::departure::{Departs, Departure};
use undercroft::judge::verdict::Verdict;
use undercroft::review::{Input, Library, Review, review};
use undercroft::rulebook::checked::Stage;
use undercroft::yaml::splice::lay_over;

use crate::commands::{call, example, example_names};
use undercroft::app::host::memory::Memory;

/// A review with field notes.
fn built<'l>(library: &'l Library, design: &str, notes: &[&str]) -> Review<'l> {
    let names = ["first.yaml", "second.yaml", "third.yaml"];
    let field_notes = names.iter().zip(notes).map(|(name, text)| (*name, text.as_bytes())).collect();
    review(&Input { name: "design.yaml", bytes: design.as_bytes(), field_notes, ..Input::default() }, library)
}

/// Every finding's identity with the verdicts of its clauses.
fn verdicts(review: &Review<'_>) -> BTreeMap<String, Vec<(usize, usize, Verdict)>> {
    let of = |finding: &undercroft::findings::Finding| {
        let mut clauses: Vec<_> =
            finding.clauses.iter().map(|clause| (clause.book, clause.rule, clause.verdict)).collect();
        clauses.sort_unstable();
        (finding.identity.clone(), clauses)
    };
    review.findings.iter().map(of).collect()
}

fn notes(head: &str, rest: &str) -> String {
    format!("undercroft: 1\njob: {{{head}}}\n{rest}")
}

fn departure<'r>(review: &'r Review<'_>, entry: &str) -> &'r Departure {
    let found = review.departures.iter().find(|one| one.entry.as_str() == entry);
    found.unwrap_or_else(|| panic!("{entry} is not among {:#?}", review.departures))
}

fn verdict(review: &Review<'_>, identity: &str) -> Verdict {
    let found = review.findings.iter().find(|finding| finding.identity == identity);
    found.unwrap_or_else(|| panic!("no finding {identity}")).verdict()
}

#[test]
fn empty_field_notes_change_nothing() {
    let library = Library::with(&[]);
    for name in example_names() {
        let text = example(&name);
        let bare = built(&library, &text, &[]);
        let laid = built(&library, &text, &["undercroft: 1\n"]);
        assert_eq!(laid.findings, bare.findings, "{name}");
        assert_eq!(laid.problems, bare.problems, "{name}");
        assert_eq!((laid.stage, &laid.on), (bare.stage, &bare.on), "{name}");
        assert!(laid.departures.is_empty(), "{name}");
    }
}

#[test]
fn a_section_that_moves_from_the_design_to_the_notes_changes_no_identity_and_no_verdict() {
    let library = Library::with(&[]);
    for number in ["01", "05"] {
        let text = example(number);
        let whole = verdicts(&built(&library, &text, &[]));
        for section in ["site", "looked_for", "before_drilling", "building", "foundation", "systems"] {
            let moved = lay_over(&text, &[], &[section]).unwrap();
            let start = text.find(&format!("\n{section}:")).unwrap() + 1;
            let rest = &text[start..];
            let end = rest
                .lines()
                .skip(1)
                .scan(rest.find('\n').unwrap() + 1, |at, line| {
                    let here = *at;
                    *at += line.len() + 1;
                    Some((here, line))
                })
                .find(|(_, line)| !line.starts_with([' ', '#']))
                .map_or(rest.len(), |(at, _)| at);
            let own = format!("undercroft: 1\n{}", &rest[..end]);
            let laid = built(&library, &moved, &[&own]);
            assert!(
                laid.problems.iter().all(|problem| problem.at.source != undercroft::review::DESIGN
                    || problem.kind == ProblemKind::UnknownName),
                "{section}: {:?}",
                laid.problems
            );
            assert_eq!(verdicts(&laid), whole, "{number}: {section}");
        }
    }
}

#[test]
fn both_values_are_kept_with_place_person_and_day_and_the_built_one_counts() {
    let library = Library::with(&[]);
    let design = example("01");
    let text = notes(
        "date: 2026-06-03, by: R. Cole, stage: installed",
        "systems:\n  main:\n    discharge: {above_roof: {value: 9 in, by: T. Hale, on: 2026-06-02}, height: 22 ft 11 in}\n    runs: {stack: {up: 4 ft 5 in}}\n    gauge: {range: 60 in WC}\n",
    );
    let review = built(&library, &design, &[&text]);
    assert_eq!(
        verdict(&built(&library, &design, &[]), "discharge/roof-surface of discharge discharge"),
        Verdict::Met
    );
    assert_eq!(verdict(&review, "discharge/roof-surface of discharge discharge"), Verdict::Unmet);
    let one = departure(&review, "systems.main.discharge.above_roof");
    assert_eq!(one.departs(), Departs::Otherwise);
    assert!(one.asked_by.contains(&"discharge/roof-surface of discharge discharge".to_owned()), "{one:?}");
    assert!(one.is_told());
    let said: Vec<_> = one
        .said
        .iter()
        .map(|said| {
            let source = review.sources.get(said.at.source).unwrap();
            let shown = (source.name(), source.slice(said.at).contains("in"));
            (said.designed, said.words.as_str(), said.by.as_deref(), said.on.as_deref(), shown)
        })
        .collect();
    assert_eq!(
        said,
        [
            (true, "22 in", Some("J. Ames"), Some("2026-05-12"), ("design.yaml", true)),
            (false, "9 in", Some("T. Hale"), Some("2026-06-02"), ("first.yaml", true)),
        ]
    );
    let gauge = departure(&review, "systems.main.gauge.range");
    assert_eq!(
        gauge.said[1].by.as_deref(),
        Some("R. Cole"),
        "the notes' own author where the value names none"
    );
    assert!(!gauge.is_told() && gauge.asked_by.is_empty(), "no book here asks for it: {gauge:?}");
}

#[test]
fn what_is_known_none_and_unknown_lie_over_each_other_as_said() {
    // What the design says, what the notes say, and how it departs.
    let library = Library::with(&[]);
    let thickness = "foundation.areas.crawl.membrane.thickness";
    let screen = "systems.main.discharge.screen";
    let table: [(&str, &str, &str, Option<Departs>); 9] = [
        (thickness, "6 mil", "4 mil", Some(Departs::Otherwise)),
        (thickness, "6 mil", "6 mil", None),
        (thickness, "6 mil", "0.006 in", None),
        (thickness, "6 mil", "unknown", Some(Departs::NotTold)),
        // A thickness is never "none": it is refused, and counts as not told.
        (thickness, "6 mil", "none", Some(Departs::NotTold)),
        (thickness, "unknown", "6 mil", None),
        (screen, "1/2 in", "none", Some(Departs::NotThere)),
        (screen, "unknown", "1/2 in", None),
        (screen, "none", "1/2 in", Some(Departs::Otherwise)),
    ];
    for (path, designed, found, departs) in table {
        let design = lay_over(&example("01"), &[(path, designed)], &[]).unwrap();
        let mut text = notes("date: 2026-06-03", "");
        text = lay_over(&text, &[(path, found)], &[]).unwrap();
        let review = built(&library, &design, &[&text]);
        let one = review.departures.iter().find(|one| one.entry.as_str() == path);
        assert_eq!(one.map(Departure::departs), departs, "{path}: {designed} then {found}");
        let straight = lay_over(&design, &[(path, found)], &[]).unwrap();
        assert_eq!(
            verdicts(&review),
            verdicts(&built(&library, &straight, &[])),
            "{path}: {designed} then {found}"
        );
    }
}

#[test]
fn a_window_that_nobody_had_seen_counts_and_is_told() {
    let library = Library::with(&[]);
    let text = notes(
        "date: 2026-06-03",
        "building:\n  openings:\n    pantry_window: {kind: window, opens: yes, into: kitchen, from_discharge: {straight: 4 ft, top_below: 1 ft}}\n",
    );
    let review = built(&library, &example("01"), &[&text]);
    assert!(review.problems.is_empty(), "{:?}", review.problems);
    let one = departure(&review, "building.openings.pantry_window");
    assert_eq!(one.departs(), Departs::NotDesigned);
    assert!(one.is_told());
    assert_eq!(verdict(&review, "discharge/openings of opening pantry_window"), Verdict::Unmet);
}

#[test]
fn what_was_not_built_is_no_longer_there_and_is_told() {
    let library = Library::with(&[]);
    let text = notes("date: 2026-06-03", "systems: {main: {labels: {closet_pipe: none}}}\n");
    let review = built(&library, &example("01"), &[&text]);
    let one = departure(&review, "systems.main.labels.closet_pipe");
    assert_eq!(one.departs(), Departs::NotThere);
    assert!(one.is_told());
    let straight = lay_over(&example("01"), &[("systems.main.labels.closet_pipe", "none")], &[]).unwrap();
    assert_eq!(verdicts(&review), verdicts(&built(&library, &straight, &[])));
}

#[test]
fn a_thing_said_anew_in_another_way_does_away_with_what_was_designed() {
    let library = Library::with(&[]);
    let text = notes(
        "date: 2026-06-03",
        "building:\n  openings:\n    bath_window: {from_discharge: {straight: 15 ft, top_above: 6 in}}\nfoundation: {areas: {basement: {outline: [[0 ft, 0 ft], [40 ft, 0 ft], [40 ft, 24 ft], [0 ft, 24 ft]]}}}\n",
    );
    let review = built(&library, &example("01"), &[&text]);
    assert!(review.problems.is_empty(), "{:?}", review.problems);
    let gone = departure(&review, "building.openings.bath_window.from_discharge.top_below");
    assert_eq!(gone.departs(), Departs::SaidAnew);
    assert_eq!(departure(&review, "foundation.areas.basement.size").departs(), Departs::SaidAnew);
}

#[test]
fn the_order_in_which_independent_notes_are_named_is_of_no_matter() {
    let library = Library::with(&[]);
    let one = notes(
        "date: 2026-06-03, by: R. Cole",
        "systems: {main: {discharge: {screen: none}}}\nbuilding: {openings: {new_a: {kind: door, opens: yes, into: hall}}}\n",
    );
    let two = notes(
        "date: 2026-06-03, by: T. Hale",
        "systems: {main: {gauge: {in: crawl}}}\nbuilding: {openings: {new_b: {kind: door, opens: yes, into: den}}}\n",
    );
    let three =
        notes("date: 2026-06-09, stage: installed", "systems: {main: {discharge: {screen: 1/4 in}}}\n");
    let design = example("01");
    let names = |review: &Review<'_>| -> Vec<(String, usize, bool)> {
        review.departures.iter().map(|one| (one.entry.to_string(), one.said.len(), one.is_told())).collect()
    };
    let straight = built(&library, &design, &[&one, &two, &three]);
    assert!(straight.problems.is_empty(), "{:?}", straight.problems);
    assert_eq!(straight.stage, Stage::Installed);
    assert_eq!(straight.on.as_deref(), Some("2026-06-09"), "the day of the latest notes");
    let screen = departure(&straight, "systems.main.discharge.screen");
    assert_eq!(
        screen.said.iter().map(|said| said.words.as_str()).collect::<Vec<_>>(),
        ["1/2 in", "none", "1/4 in"]
    );
    for order in [[&one, &three, &two], [&two, &one, &three], [&three, &two, &one]] {
        let other = built(&library, &design, &order.map(String::as_str));
        assert_eq!(verdicts(&other), verdicts(&straight));
        assert_eq!(names(&other), names(&straight));
    }
}

#[test]
fn notes_of_one_day_that_differ_leave_the_value_unknown_and_say_so_at_both_places() {
    let library = Library::with(&[]);
    let text = |thickness: &str, date: &str| {
        notes(date, &format!("foundation: {{areas: {{crawl: {{membrane: {{thickness: {thickness}}}}}}}}}\n"))
    };
    let (one, two) = (text("6 mil", "date: 2026-06-03"), text("4 mil", "date: 2026-06-03"));
    for order in [[&one, &two], [&two, &one]] {
        let review = built(
            &library,
            &lay_over(&example("01"), &[], &["foundation.areas.crawl.membrane.thickness"]).unwrap(),
            &order.map(String::as_str),
        );
        let told: Vec<&Problem> =
            review.problems.iter().filter(|one| one.kind == ProblemKind::Contradiction).collect();
        assert_eq!(told.len(), 1, "{:?}", review.problems);
        let places = [told[0].at, told[0].also[0].0].map(|at| review.sources.slice(at).to_owned());
        assert!(places.contains(&"6 mil".to_owned()) && places.contains(&"4 mil".to_owned()), "{places:?}");
        assert_eq!(verdict(&review, "membrane/thickness of membrane crawl membrane"), Verdict::Undetermined);
    }
    let later = text("6 mil", "date: 2026-06-04");
    let settled = built(&library, &example("01"), &[&later, &two]);
    assert!(settled.problems.is_empty(), "{:?}", settled.problems);
    assert_eq!(verdict(&settled, "membrane/thickness of membrane crawl membrane"), Verdict::Met);
}

#[test]
fn the_notes_move_the_stage_and_what_was_not_yet_due_comes_due() {
    let library = Library::with(&[]);
    let design = example("01");
    let not_due = |review: &Review<'_>| {
        let of = |clause: &&undercroft::findings::Clause| clause.verdict == Verdict::NotYetDue;
        review.findings.iter().flat_map(|finding| &finding.clauses).filter(of).count()
    };
    let at = |stages: &[&str]| {
        let texts: Vec<String> = stages
            .iter()
            .enumerate()
            .map(|(day, stage)| notes(&format!("date: 2026-06-0{}, stage: {stage}", day + 3), ""))
            .collect();
        let review = built(&library, &design, &texts.iter().map(String::as_str).collect::<Vec<_>>());
        assert!(review.problems.is_empty(), "{:?}", review.problems);
        (review.stage, not_due(&review))
    };
    let (stage, drawn) = at(&[]);
    assert_eq!(stage, Stage::Design);
    let (stage, installed) = at(&["installed"]);
    assert_eq!(stage, Stage::Installed);
    let (stage, operating) = at(&["installed", "operating"]);
    assert_eq!(stage, Stage::Operating);
    assert!(drawn > installed && installed > operating && operating == 0, "{drawn} {installed} {operating}");
}

#[test]
fn notes_out_of_turn_are_told_on_their_own_lines() {
    let library = Library::with(&[]);
    let told = |design: &str, texts: &[&str]| -> Vec<(String, String)> {
        let review = built(&library, design, texts);
        let list = review.problems.iter().filter(|one| one.kind == ProblemKind::NotesOutOfTurn);
        list.map(|one| {
            let source = review.sources.get(one.at.source).unwrap();
            (source.name().to_owned(), source.slice(one.at).to_owned())
        })
        .collect()
    };
    let design = example("01");
    let running = lay_over(&design, &[("job.stage", "operating")], &[]).unwrap();
    let early = notes("date: 2026-05-01", "");
    assert_eq!(told(&design, &[&early]), [("first.yaml".into(), "2026-05-01".into())]);
    let behind = notes("date: 2026-06-01, stage: installed", "");
    assert_eq!(told(&running, &[&behind]), [("first.yaml".into(), "installed".into())]);
    assert_eq!(told(&design, &[&behind]), []);
    assert_eq!(built(&library, &running, &[&behind]).stage, Stage::Operating, "a stage is never gone back");
    let undated = "undercroft: 1\nnotes: looked at the den\n";
    assert_eq!(told(&design, &[undated]), []);
    let unsaid = "undercroft: 1\nsystems: {main: {discharge: {above_roof: 20 in}}}\n";
    assert_eq!(told(&design, &[unsaid]).len(), 1, "what was built, and not when");
    assert_eq!(told(&design, &[undated, &behind]).len(), 1);
}

#[test]
fn faults_of_the_notes_stand_on_the_notes_own_lines_and_cost_their_entry_alone() {
    let library = Library::with(&[]);
    let text = notes(
        "date: 2026-06-03",
        "foundation: {areas: {crawl: {membrane: {thickness: 6}}}}\nsystems: {main: {gague: none, suction_points: {s3: {in: cellar}}}}\n",
    );
    let review = built(&library, &example("01"), &[&text]);
    let told: Vec<(&str, ProblemKind, &str)> = review
        .problems
        .iter()
        .map(|one| {
            let source = review.sources.get(one.at.source).unwrap();
            (source.name(), one.kind, source.slice(one.at))
        })
        .collect();
    assert_eq!(
        told,
        [
            ("first.yaml", ProblemKind::NoUnit, "6"),
            ("first.yaml", ProblemKind::UnknownKey, "gague"),
            ("first.yaml", ProblemKind::UnknownName, "cellar"),
        ]
    );
    assert_eq!(verdict(&review, "membrane/thickness of membrane crawl membrane"), Verdict::Undetermined);
    assert_eq!(departure(&review, "foundation.areas.crawl.membrane.thickness").departs(), Departs::NotTold);
}

#[test]
fn field_notes_are_named_on_the_command_line_over_one_design() {
    let text = notes(
        "date: 2026-06-03, by: R. Cole, stage: installed",
        "systems: {main: {discharge: {above_roof: 9 in}, runs: {stack: {up: 4 ft 5 in}}}}\n",
    );
    let mut world =
        Memory::with([("a.yaml", example("01").as_str()), ("b.yaml", &example("05")), ("n.yaml", &text)]);
    let came = call(&mut world, &["review", "a.yaml", "--field-notes", "n.yaml"]);
    assert_eq!(came.status, 1, "{}", came.printed);
    let flat = came.printed.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains("designed 22 in, built 9 in"), "{}", came.printed);
    assert!(came.printed.contains("with field notes n.yaml"), "{}", came.printed);
    let came = call(&mut world, &["review", "a.yaml", "b.yaml", "--field-notes", "n.yaml"]);
    assert_eq!((came.status, came.printed.as_str()), (2, ""));
    assert!(came.told.contains("one design"), "{}", came.told);
    let came = call(&mut world, &["review", "a.yaml", "--field-notes", "absent.yaml"]);
    assert_eq!((came.status, came.printed.as_str()), (2, ""));
    assert!(came.told.contains("absent.yaml"), "{}", came.told);
}

/// The height of the discharge, in inches.
fn outlet(review: &Review<'_>) -> (f64, f64) {
    let mut facts = Facts::new(&review.design);
    let discharge = facts.things().all(Kind::Discharge)[0];
    let Answer::Known { value, .. } = facts.number(discharge, "height") else { panic!("no height") };
    (value.low().to_f64() / 0.0254, value.high().to_f64() / 0.0254)
}

#[test]
fn a_height_that_was_designed_is_not_known_once_another_was_measured_for_what_stands_beside_it() {
    let library = Library::with(&[]);
    let design = example("01");
    let over = |above_roof: &str| {
        let text = format!("systems: {{main: {{discharge: {{above_roof: {above_roof}}}}}}}\n");
        notes("date: 2026-06-03, by: R. Cole, stage: installed", &text)
    };
    let skylight = "discharge/openings of opening hall_skylight";
    let drawn = built(&library, &design, &[]);
    assert_eq!((outlet(&drawn), verdict(&drawn, skylight)), ((288.0, 288.0), Verdict::Met));
    // Designed 22 in above the roof and 24 ft high; 9 in were found. The roof there lies between its edge, at 17 ft 2 in,
    // and its ridge, at 23 ft 2 in: the outlet is at 206 + 8.5 = 214.5 in at the least, and at 278 + 9.5 = 287.5 in at
    // the most. The skylight is 1 ft 6 in below it at the most and may be too near.
    let found = built(&library, &design, &[&over("{value: 9 in, within: 1/2 in}")]);
    let (low, high) = outlet(&found);
    assert!((low - 214.5).abs() < 1e-6 && (high - 287.5).abs() < 1e-6, "{low} {high}");
    // What bears the drawing out leaves it as it was.
    let borne_out = built(&library, &design, &[&over("{value: 21 1/2 in, within: 1/2 in}")]);
    assert_eq!((outlet(&borne_out), verdict(&borne_out, skylight)), ((288.0, 288.0), Verdict::Met));
}

#[test]
fn a_name_that_the_design_does_not_have_is_told_and_makes_no_second_thing() {
    let library = Library::with(&[]);
    let design = example("01");
    let count = |review: &Review<'_>, of: &str| {
        let names: std::collections::BTreeSet<&str> =
            review.findings.iter().map(|one| one.identity.as_str()).filter(|one| one.ends_with(of)).collect();
        names.len()
    };
    let bare = built(&library, &design, &[]);
    for (slip, near, told) in [
        (
            "building: {appliances: {water_heatr: {venting: power vented}}}",
            Some("water_heater"),
            "appliance water_heatr",
        ),
        (
            "building: {appliances: {water_heatr: {kind: water heater}}}",
            Some("water_heater"),
            "appliance water_heatr",
        ),
        ("systems: {second: {discharge: {above_roof: 20 in}}}", None, "system second"),
        ("systems: {mian: {kind: active}}", Some("main"), "system mian"),
    ] {
        let text = notes("date: 2026-06-03, by: R. Cole, stage: installed", &format!("{slip}\n"));
        let review = built(&library, &design, &[&text]);
        let found: Vec<_> =
            review.problems.iter().filter(|one| one.kind == ProblemKind::NotInDesign).collect();
        assert_eq!(found.len(), 1, "{slip}: {:?}", review.problems);
        assert_eq!(found[0].nearest.as_deref(), near, "{slip}");
        assert_eq!(count(&review, told), 0, "{slip}");
        assert_eq!(review.findings.len(), bare.findings.len(), "{slip}");
    }
    // What says what it is, under a name of its own, was found on site; one more of a row is no slip.
    for new in [
        "building: {openings: {hatch: {kind: window, opens: yes}}}",
        "building: {appliances: {water_heater_2: {kind: water heater, venting: power vented}}}",
    ] {
        let text = notes("date: 2026-06-03, by: R. Cole, stage: installed", &format!("{new}\n"));
        let review = built(&library, &design, &[&text]);
        let found = review.problems.iter().any(|one| one.kind == ProblemKind::NotInDesign);
        assert!(!found, "{new}: {:?}", review.problems);
        assert!(review.findings.len() > bare.findings.len(), "{new}");
    }
}
