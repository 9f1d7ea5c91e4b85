//! What a review may conclude: nothing from a fault in the writing, which takes knowledge away and never adds any; and
//! nothing in silence from statements that disagree.

use std::path::Path;

use undercroft::judge::verdict::Verdict;
use undercroft::review::{Input, Library, review};

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
