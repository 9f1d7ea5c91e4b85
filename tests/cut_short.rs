//! A fault in the writing of a file takes knowledge away and never adds any: whatever is still decided is
//! decided as it would be without the fault.

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
