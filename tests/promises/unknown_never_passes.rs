//! Promise 1: unknown never passes. Whatever entry a verdict rests on is taken away; "met" and "not applicable"
//! may stay only if every value the entry may have gives the same.

use std::collections::BTreeSet;

use undercroft::facts::ask::Ask;
use undercroft::judge::{Verdict, replay};
use undercroft::review::{Library, read_text, stage};
use undercroft::yaml::splice::lay_over;

use super::sampling::with_each_value;
use super::{Tried, every_case, judged, judged_text};
use crate::commands::{call, example};
use undercroft::app::host::memory::Memory;

/// The entries that the verdicts of a case rest on.
fn inputs(tried: &Tried<'_>) -> BTreeSet<String> {
    let (design, _) = read_text(&tried.text);
    let at = tried.case.stage.unwrap_or_else(|| stage(&design));
    let all = judged(tried, &design, at);
    let mut ask = Ask::new(&design);
    let mut entries = BTreeSet::new();
    for (_, one) in all {
        for decisive in replay(tried.rule, one.about, at, &mut ask).decisive {
            entries.extend(decisive.origin.stated.into_iter().map(|stated| stated.entry.to_string()));
        }
    }
    entries
}

fn passes(verdict: Verdict) -> bool {
    matches!(verdict, Verdict::Met | Verdict::NotApplicable)
}

#[test]
fn taking_an_input_away_never_lets_a_requirement_pass() {
    let library = Library::with(&[]);
    let mut taken = 0;
    let mut sampled = 0;
    let mut faults = Vec::new();
    for tried in every_case(&library) {
        for path in inputs(&tried) {
            let Ok(without) = lay_over(&tried.text, &[], &[&path]) else { continue };
            taken += 1;
            let passing: Vec<(String, Verdict)> = judged_text(&tried, &without)
                .into_iter()
                .filter(|(_, one)| passes(one.verdict))
                .map(|(name, one)| (name, one.verdict))
                .collect();
            if passing.is_empty() {
                continue;
            }
            for (value, with) in with_each_value(&without, &path, tried.rule, 24) {
                sampled += 1;
                for (name, one) in judged_text(&tried, &with) {
                    let other =
                        passing.iter().find(|(passed, verdict)| *passed == name && *verdict != one.verdict);
                    if let Some((_, verdict)) = other {
                        faults.push(format!(
                            "{}/{}, case \"{}\": without {path} {name} is {verdict:?}, with {path}: {value} it is {:?}",
                            tried.book.name, tried.rule.name, tried.case.claim, one.verdict
                        ));
                    }
                }
            }
        }
    }
    println!("{taken} inputs taken away, {sampled} values put in their place, {} faults", faults.len());
    assert!(taken > 300, "{taken}");
    faults.sort();
    faults.dedup();
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn nothing_to_review_is_never_a_success() {
    let clean = example("01");
    let none = lay_over(&clean, &[], &["job.rulebooks"]).unwrap();
    let empty = lay_over(&clean, &[("job.rulebooks", "{}")], &[]).unwrap();
    let unknown = lay_over(&clean, &[("job.rulebooks", "unknown")], &[]).unwrap();
    let aside = lay_over(&clean, &[("job.rulebooks", "{epa-1994: for information}")], &[]).unwrap();
    let standing = lay_over(&clean, &[("job.rulebooks", "{pennsylvania-2019: unknown}")], &[]).unwrap();
    for text in ["", "# nothing", "undercroft: 1\n", &none, &empty, &unknown, &aside, &standing] {
        for accept in [&["review", "a.yaml"][..], &["review", "--accept-undetermined", "a.yaml"]] {
            let mut world = Memory::with([("a.yaml", text)]);
            let came = call(&mut world, accept);
            assert_ne!(came.status, 0, "{text}\n{}", came.printed);
        }
    }
    assert_ne!(call(&mut Memory::default(), &["review", "a.yaml"]).status, 0);
    assert_ne!(call(&mut Memory::default(), &["review"]).status, 0);
}
