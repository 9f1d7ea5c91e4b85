//! Promise 1: unknown never passes. Whatever entry a verdict rests on is taken away; "met" and "not applicable"
//! may stay only if every value the entry may have gives the same.

use std::collections::BTreeSet;

use undercroft::facts::ask::Ask;
use undercroft::judge::{Verdict, replay};
use undercroft::review::{Library, read_text, stage};
use undercroft::yaml::splice::lay_over;

use super::sampling::{With, with_each_value};
use super::{Tried, by_two_hands, every_case, judged, judged_here, judged_text};
use crate::commands::{call, example};
use undercroft::app::host::memory::Memory;

/// Entries that are said a second time elsewhere, so that taking one away leaves the value known; and by what.
/// A row that no case needs is an error too.
const SAID_TWICE: &[(&str, &str)] = &[
    ("systems.main.discharge.height", "the run that ends in the discharge says how high it goes"),
    (
        "systems.main.discharge.above_roof_edge",
        "the height of the discharge and that of the roof edge say it",
    ),
    ("building.roof.edge", "the discharge says how far it stands above the roof edge"),
    ("systems.main.runs.stack.up", "the discharge says how high it stands"),
    ("systems.main.runs.stack.pierces.roof.kind", "what is called roof is the roof"),
    ("systems.main.runs.riser.size", "what is said of all pipe of the system"),
    ("systems.main.runs.crawl_drop.size", "what is said of all pipe of the system"),
    ("foundation.areas.crawl.in", "the area is called as the space is"),
    ("systems.main.runs.stack.schedule", "what is said of all pipe of the system"),
    ("systems.main.runs.riser.schedule", "what is said of all pipe of the system"),
    ("systems.main.runs.stack.material", "what is said of all pipe of the system"),
    ("systems.main.runs.main_line.schedule", "what is said of all pipe of the system"),
    ("systems.main.runs.riser.material", "what is said of all pipe of the system"),
    ("systems.main.runs.riser.joints", "what is said of all pipe of the system"),
    ("systems.main.runs.stack.joints", "what is said of all pipe of the system"),
    (
        "systems.main.wiring.connection",
        "a cord that is described, or said to be none, is how the fan is connected",
    ),
    ("systems.main.wiring.cord", "the connection says whether there is a cord"),
    ("building.spaces.attic.below_grade", "an attic is not below grade"),
    ("building.spaces.attic.under", "an attic has only the roof above it"),
    ("foundation.areas.crawl.piers", "the membrane says that there are none to seal it to"),
    ("systems.main.labels.closet_pipe.story", "the space it is in says its story"),
    ("job.investigated", "whoever walked through is named"),
];

/// The entries that the verdicts of a case rest on.
fn inputs(tried: &Tried<'_>) -> BTreeSet<String> {
    let (design, _) = read_text(&tried.text);
    let at = tried.case.stage.unwrap_or_else(|| stage(&design));
    let all = judged(tried, &design, at);
    let mut ask = Ask::new(&design);
    let mut entries = BTreeSet::new();
    for (_, one) in all {
        for decisive in replay(tried.rule, one.about, at, &mut ask).decisive {
            entries.extend(decisive.origin.stated.iter().map(|stated| stated.entry.to_string()));
        }
    }
    entries
}

fn passes(verdict: Verdict) -> bool {
    matches!(verdict, Verdict::Met | Verdict::NotApplicable)
}

/// What came of taking the inputs of some cases away.
#[derive(Default)]
struct Seen {
    taken: usize,
    sampled: usize,
    faults: Vec<String>,
    needed: BTreeSet<&'static str>,
}

/// Takes each input of the cases of a rule away. Where that leaves the same verdicts that pass as in a case before, the
/// values it may have were tried there.
fn without_each_input(cases: &[Tried<'_>]) -> Seen {
    let mut seen = Seen::default();
    // Cases of a rule that differ in one entry alone are the same once it is taken away.
    let mut done = BTreeSet::new();
    let mut sampled = BTreeSet::new();
    for tried in cases {
        for path in inputs(tried) {
            let Ok(without) = lay_over(&tried.text, &[], &[&path]) else { continue };
            let of = (&tried.case.thing, tried.case.stage);
            if !done.insert((of, path.clone(), without.clone())) {
                continue;
            }
            seen.taken += 1;
            let passing: Vec<(String, Verdict)> = judged_text(tried, &without)
                .into_iter()
                .filter(|(_, one)| passes(one.verdict))
                .map(|(name, one)| (name, one.verdict))
                .collect();
            let passed = passing.iter().map(|(name, verdict)| format!("{name} {verdict:?}"));
            if passing.is_empty() || !sampled.insert((of, path.clone(), passed.collect::<Vec<_>>())) {
                continue;
            }
            for With { value, design, .. } in with_each_value(&without, &path, tried.rule, 16) {
                seen.sampled += 1;
                for (name, one) in judged_here(tried, &design) {
                    let other =
                        passing.iter().find(|(passed, verdict)| *passed == name && *verdict != one.verdict);
                    if let Some((_, verdict)) = other {
                        if let Some((entry, _)) = SAID_TWICE.iter().find(|(entry, _)| *entry == path) {
                            seen.needed.insert(*entry);
                            continue;
                        }
                        seen.faults.push(format!(
                            "{}/{}, case \"{}\": without {path} {name} is {verdict:?}, with {path}: {value} it is {:?}",
                            tried.book.name, tried.rule.name, tried.case.claim, one.verdict
                        ));
                    }
                }
            }
        }
    }
    seen
}

/// The books that are tried each time; trying all of them takes long: `UNDERCROFT_BOOKS=all cargo test unknown_never`.
const TRIED: [&str; 13] = [
    "work-safety",
    "nec",
    "norway",
    "ireland",
    "kentucky",
    "iowa-existing",
    "ohio",
    "weatherization",
    "florida-new",
    "rhode-island",
    "boise",
    "west-virginia",
    "reference-levels",
];

#[test]
fn taking_an_input_away_never_lets_a_requirement_pass() {
    let library = Library::with(&[]);
    let mut seen = Seen::default();
    let mut cases = every_case(&library);
    let named = std::env::var("UNDERCROFT_BOOKS").ok();
    let named: Vec<&str> = named.as_deref().map_or(TRIED.to_vec(), |named| named.split(',').collect());
    cases.retain(|tried| named.contains(&"all") || named.contains(&tried.book.name.as_str()));
    for other in by_two_hands(&cases, without_each_input) {
        seen.taken += other.taken;
        seen.sampled += other.sampled;
        seen.faults.extend(other.faults);
        seen.needed.extend(other.needed);
    }
    let Seen { taken, sampled, mut faults, needed } = seen;
    let idle: Vec<&str> =
        SAID_TWICE.iter().map(|(entry, _)| *entry).filter(|entry| !needed.contains(entry)).collect();
    assert!(idle.is_empty() || !named.contains(&"all"), "said once only, as it turns out: {idle:?}");
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
