//! What a review may conclude: nothing from a fault in the writing, which takes knowledge away and never adds any; and
//! nothing in silence from statements that disagree.

use std::path::Path;

use undercroft::judge::verdict::Verdict;
use undercroft::review::{Input, Library, review};
use undercroft::yaml::splice;

/// A clause: finding, book and rule, and what it comes to.
struct Clause {
    finding: String,
    rule: String,
    verdict: Verdict,
}

fn clauses(library: &Library, text: &str) -> Vec<Clause> {
    let input =
        Input { name: "design.yaml", bytes: text.as_bytes(), on: Some("2026-05-12"), ..Input::default() };
    let review = review(&input, library);
    let mut found = Vec::new();
    for finding in &review.findings {
        for clause in &finding.clauses {
            let book = review.used[clause.book].book;
            let rule = format!("{}/{}", book.name, book.rules[clause.rule].name);
            found.push(Clause { finding: finding.identity.clone(), rule, verdict: clause.verdict });
        }
    }
    found
}

/// Whether a verdict that is left behind the fault agrees with those there were. One on a list as a whole agrees
/// when all things of the list came to the same.
fn agrees(left: &Clause, whole: &[Clause]) -> bool {
    let of_rule: Vec<&Clause> = whole.iter().filter(|clause| clause.rule == left.rule).collect();
    match of_rule.iter().find(|clause| clause.finding == left.finding) {
        Some(same) => same.verdict == left.verdict,
        None => !of_rule.is_empty() && of_rule.iter().all(|clause| clause.verdict == left.verdict),
    }
}

#[test]
fn a_fault_in_the_writing_never_decides_anything() {
    let library = Library::with(&[]);
    let faults = ["]: {", "\t x", "    'half a quote", "@@@", "  - : - ["];
    let mut compared = 0;
    for example in ["01-two-area-ranch", "02-a-dozen-faults", "05-sump-and-drain-loop"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(example).join("design.yaml");
        let text = std::fs::read_to_string(path).unwrap();
        let whole = clauses(&library, &text);
        let lines: Vec<&str> = text.lines().collect();
        for (turn, at) in (3..lines.len()).step_by(5).enumerate() {
            let fault = faults[turn % faults.len()];
            let mut broken = lines.clone();
            broken.insert(at, fault);
            for left in clauses(&library, &broken.join("\n")) {
                if matches!(left.verdict, Verdict::Met | Verdict::Unmet | Verdict::NotApplicable) {
                    let told = format!(
                        "{example}: with {fault:?} put in as line {}, {} of {} came out {:?}",
                        at + 1,
                        left.rule,
                        left.finding,
                        left.verdict
                    );
                    assert!(agrees(&left, &whole), "{told}");
                    compared += 1;
                }
            }
        }
    }
    assert!(compared > 500, "only {compared} verdicts were left to compare");
}

#[test]
fn statements_that_disagree_are_told_though_no_verdict_turns_on_them() {
    use undercroft::base::problem::ProblemKind;
    let library = Library::with(&[]);
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/01-two-area-ranch/design.yaml");
    let text = std::fs::read_to_string(path).unwrap();
    let told = |text: &str| {
        let input = Input { name: "design.yaml", bytes: text.as_bytes(), ..Input::default() };
        let review = review(&input, &library);
        review.problems.iter().filter(|problem| problem.kind == ProblemKind::Contradiction).count()
    };
    assert_eq!(told(&text), 0);
    // The stack then ends at 18 ft 6 in + 9 ft = 27 ft 6 in, and the discharge is said to be at 24 ft.
    let changed = text.replacen("up: 5 ft 6 in", "up: 9 ft", 1);
    assert_ne!(changed, text);
    assert!(told(&changed) > 0);
}

#[test]
fn what_is_stated_is_not_asked_for_again() {
    let library = Library::with(&[]);
    let text = "undercroft: 1\njob:\n  stage: design\n  date: 2026-05-12\n  rulebooks: {pennsylvania-2019: adopted}\n\
                systems:\n  main:\n    kind: active\n    fan: {in: outdoors}\n    discharge: {above_roof: 22 in, through_side_wall: no}\n";
    let input = Input { name: "design.yaml", bytes: text.as_bytes(), ..Input::default() };
    let review = review(&input, &library);
    assert!(review.problems.is_empty(), "{:?}", review.problems);
    let wanted: Vec<&str> = review.wanted.iter().map(|wanted| wanted.missing.entry.as_str()).collect();
    assert!(!wanted.contains(&"systems.main.discharge.through_side_wall"), "{wanted:?}");
    assert!(wanted.contains(&"systems.main.runs"), "{wanted:?}");
}

fn reviewed<'l>(library: &'l Library, bytes: &[u8]) -> undercroft::review::Review<'l> {
    review(&Input { name: "design.yaml", bytes, on: Some("2026-05-12"), ..Input::default() }, library)
}

fn ranch() -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/01-two-area-ranch/design.yaml");
    std::fs::read_to_string(path).unwrap()
}

#[test]
fn what_may_stand_in_lines_that_were_not_read_is_not_asked_for() {
    let library = Library::with(&[]);
    let text = ranch();
    let broken = text.replacen("      in_well: no", "\tin_well: no", 1);
    assert_ne!(broken, text);
    let review = reviewed(&library, broken.as_bytes());
    let lost: Vec<_> = review.problems.iter().filter_map(|problem| problem.lost.as_ref()).collect();
    assert_eq!(lost.len(), 1, "{:?}", review.problems);
    assert_eq!(lost[0].section, ["systems", "main", "fan"]);
    assert!(lost[0].last > lost[0].first + 20, "{lost:?}");
    let wanted: Vec<&str> = review.wanted.iter().map(|wanted| wanted.missing.entry.as_str()).collect();
    assert!(!wanted.iter().any(|entry| entry.starts_with("systems")), "{wanted:?}");
    assert_eq!(review.exit().status(true), 2);
}

#[test]
fn a_book_that_may_be_named_in_lines_that_were_not_read_is_not_missed() {
    let library = Library::with(&[]);
    let broken = ranch().replacen("  stage: design ", "  stage design ", 1);
    let review = reviewed(&library, broken.as_bytes());
    assert!(review.book_problems.is_empty(), "{:?}", review.book_problems);
    assert_eq!((review.problems.len(), review.exit().status(true)), (1, 2));
}

#[test]
fn a_key_that_stands_twice_decides_nothing() {
    let library = Library::with(&[]);
    let text = ranch();
    let is_on_axis = |clause: &&Clause| clause.rule.ends_with("fan-upright");
    let whole = clauses(&library, &text);
    let sure = whole.iter().filter(is_on_axis).count();
    let twice = text.replacen("      axis: vertical", "      axis: vertical\n      axis: vertical", 1);
    assert_ne!(twice, text);
    let review = reviewed(&library, twice.as_bytes());
    assert_eq!(review.problems.len(), 1, "{:?}", review.problems);
    assert_eq!(review.problems[0].also.len(), 1);
    let wanted: Vec<&str> = review.wanted.iter().map(|wanted| wanted.missing.entry.as_str()).collect();
    assert!(wanted.contains(&"systems.main.fan.axis"), "{wanted:?}");
    let now = clauses(&library, &twice);
    let left = now.iter().filter(is_on_axis).filter(|clause| clause.verdict == Verdict::Undetermined).count();
    assert_eq!(left, sure, "rules on the axis");
}

#[test]
fn a_file_that_cannot_be_taken_as_a_whole_is_not_judged_and_only_that_is_said() {
    use undercroft::render::terminal::{Look, Show};
    let library = Library::with(&[]);
    let text = ranch();
    let utf_16: Vec<u8> =
        [0xff, 0xfe].into_iter().chain(text.encode_utf16().flat_map(u16::to_le_bytes)).collect();
    for (name, bytes, words) in [
        (
            "another form",
            text.replacen("undercroft: 1", "undercroft: 2", 1).into_bytes(),
            "this program reads form 1",
        ),
        ("two documents", format!("{text}---\n{text}").into_bytes(), "more than one design"),
        ("two files put together", format!("{text}{text}").into_bytes(), "more than one design"),
        ("a picture", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR".to_vec(), "a picture"),
        ("a PDF", b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj".to_vec(), "a PDF"),
        ("a packed document", b"PK\x03\x04\x14\0\x06\0".to_vec(), "a word processor"),
        ("two bytes to a letter", utf_16, "save it as UTF-8"),
        ("nothing", Vec::new(), "holds nothing"),
        ("comments", b"# only\n".to_vec(), "holds nothing"),
    ] {
        let review = reviewed(&library, &bytes);
        assert_eq!(review.problems.len(), 1, "{name}: {:?}", review.problems);
        assert!(review.findings.is_empty() && review.book_problems.is_empty(), "{name}");
        assert_eq!(review.exit().status(true), 2, "{name}");
        let page = undercroft::app::review::text(&review, Show::OpenItems, Look::standard());
        let one_line = page.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(one_line.contains(words), "{name}: {page}");
        assert!(page.lines().count() <= 16 && !page.contains("Do not drill"), "{name}: {page}");
    }
}

/// What the requirement of this name comes to in an example with one entry changed.
fn verdict_of(example: &str, rule: &str, changes: &[(&str, &str)]) -> Vec<Verdict> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(example).join("design.yaml");
    let text = std::fs::read_to_string(path).unwrap();
    let text = undercroft::yaml::splice::lay_over(&text, changes, &[]).unwrap();
    let all = clauses(&Library::with(&[]), &text);
    all.into_iter().filter(|clause| clause.rule == rule).map(|clause| clause.verdict).collect()
}

/// The outlet stands at 28 ft by its height and by the run that ends there, and by the third statement 1 ft 6 in above
/// an edge of 30 ft. That statement makes the height doubtful; it is no witness for itself.
#[test]
fn a_statement_that_is_contradicted_decides_nothing() {
    let edge = |edge| {
        verdict_of(
            "05-sump-and-drain-loop",
            "pennsylvania-2019/discharge-above-roof-edge",
            &[("building.roof.edge", edge)],
        )
    };
    assert_eq!(edge("26 ft 6 in"), [Verdict::Met]);
    assert_eq!(edge("30 ft"), [Verdict::Undetermined]);
}

/// 12 in above the roof are asked for. The outlet at 24 ft under a ridge of 23 ft 2 in and over an edge of 17 ft 2 in
/// stands from 10 in to 6 ft 10 in above the roof, whichever part of it lies under the pipe: a tape of 8 in misses that by
/// no more than people round, and is too little by both.
#[test]
fn a_bound_that_is_missed_by_a_little_opens_nothing_else() {
    let above = |above| {
        verdict_of(
            "01-two-area-ranch",
            "pennsylvania-2019/discharge-above-roof-surface",
            &[("systems.main.discharge.above_roof", above)],
        )
    };
    assert_eq!(above("22 in"), [Verdict::Met]);
    for too_little in ["10 in", "9 in", "8 in"] {
        assert_eq!(above(too_little), [Verdict::Unmet], "{too_little}");
    }
}

/// 10 ft are asked for. A tape that is good to an inch tells from 10 ft 1 in on, and up to 9 ft 11 in (that is, short of
/// it); in between somebody has to measure closer.
#[test]
fn a_limit_inside_the_tolerance_of_a_measurement_stays_open() {
    let at = |measured: &str| {
        let tape = format!("{{straight: {{value: {measured}, within: 1 in}}, top_below: 1 ft}}");
        verdict_of(
            "01-two-area-ranch",
            "pennsylvania-2019/discharge-clear-of-openings",
            &[("building.openings.hall_skylight.from_discharge", &tape)],
        )
    };
    let worst = |measured: &str| {
        at(measured).into_iter().find(|one| *one != Verdict::Met && *one != Verdict::NotApplicable)
    };
    assert_eq!(worst("10 ft 1 in"), None);
    assert_eq!(worst("10 ft 1/2 in"), Some(Verdict::Undetermined));
    assert_eq!(worst("10 ft"), Some(Verdict::Undetermined));
    assert_eq!(worst("9 ft 11 in"), Some(Verdict::Undetermined), "the limit itself is enough");
    assert_eq!(worst("9 ft 10 7/8 in"), Some(Verdict::Unmet));
}

#[test]
fn a_look_round_the_discharge_tells_of_what_lies_next_door_either_to_the_side_or_below() {
    // The rule asks for 10 ft to the side or 4 ft of height. What was not come upon within 20 ft and lies less than 10 ft
    // to the side lies more than sqrt(20^2 - 10^2) = 17.3 ft below; within 10 ft of the discharge, an opening 9.9 ft to the
    // side and 1.4 ft below it was not come upon either. Off the building and the pipe on it, what was not come upon within
    // 40 ft lies that far to the side at every height.
    let library = Library::with(&[]);
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/01-two-area-ranch/design.yaml");
    let text = std::fs::read_to_string(path).unwrap();
    let of = |within: &str| {
        let changes = [("job.rulebooks", "{sgm-sf-2020: adopted}"), ("looked_for.neighbours.within", within)];
        let text = splice::lay_over(&text, &changes, &["building.neighbours"]).unwrap();
        let found = clauses(&library, &text);
        let of_rule = |clause: &&Clause| clause.rule == "sgm-sf-2020/discharge-clear-of-neighbours";
        found.iter().find(of_rule).map(|clause| clause.verdict)
    };
    for (within, verdict) in [
        ("20 ft of discharge", Verdict::NotApplicable),
        ("40 ft of building", Verdict::NotApplicable),
        ("10 ft of discharge", Verdict::Undetermined),
        ("9 ft of building", Verdict::Undetermined),
        ("whole building", Verdict::Undetermined),
    ] {
        assert_eq!(of(within), Some(verdict), "{within}");
    }
}
