//! Promise 1: unknown never passes. Whatever entry a verdict rests on is taken away; "met" and "not applicable"
//! may stay only if every value the entry may have gives the same.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use undercroft::base::text::{Source, SourceId};
use undercroft::design::{self, Design};
use undercroft::facts::ask::Ask;
use undercroft::judge::{Verdict, replay};
use undercroft::review::read_text;
use undercroft::yaml::path::{Path, Step};
use undercroft::yaml::scan;
use undercroft::yaml::splice::lay_over;
use undercroft::yaml::tree::Tree;

use super::sampling::{With, with_each_value};
use super::{Tried, by_all_hands, every_case, judged, judged_here, stage_of};
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
    ("systems.main.discharge.direction", "a bend at the outlet says where the air goes"),
    ("foundation.areas.basement.in", "the area is called as the space is"),
    ("foundation.areas.shop.in", "the area is called as the space is"),
    ("systems.main.runs.stack.size", "what is said of all pipe of the system"),
    ("systems.main.runs.main_line.size", "what is said of all pipe of the system"),
    ("systems.main.runs.sump_drop.size", "what is said of all pipe of the system"),
    ("systems.main.runs.crawl_side.size", "what is said of all pipe of the system"),
    ("systems.main.runs.drop.size", "what is said of all pipe of the system"),
    ("systems.main.runs.tip.size", "what is said of all pipe of the system"),
    ("systems.main.runs.drop.schedule", "what is said of all pipe of the system"),
    ("systems.main.runs.drop.material", "what is said of all pipe of the system"),
    ("systems.main.runs.crawl_drop.material", "what is said of all pipe of the system"),
    ("systems.main.runs.main_line.material", "what is said of all pipe of the system"),
    ("systems.main.runs.wall_pass.material", "what is said of all pipe of the system"),
    ("systems.main.runs.foot.material", "what is said of all pipe of the system"),
    ("systems.main.runs.drop.pierces.slab.kind", "what is called slab is the slab"),
    ("systems.main.discharge.above_roof", "the height of the discharge and the roof say it"),
    ("systems.main.discharge.at", "the run that ends in the discharge says where it is"),
    ("systems.main.discharge.through_side_wall", "a run that goes through the roof says that it is none"),
    (
        "building.neighbours.cottage.openings.cottage_window.from_discharge.straight",
        "the other parts of its tape say it",
    ),
    ("systems.main.design_point.flow", "what the suction points are designed to draw adds up to it"),
    ("systems.main.suction_points.s1.flow", "what the system is designed to move says it"),
    ("systems.main.suction_points.s2.flow", "what the system is designed to move says it"),
    ("radon_tests.before.spot", "where no spot is named, the room says it"),
    ("radon_tests.after.spot", "where no spot is named, the room says it"),
    ("systems.main.runs.crawl_side.valve", "a run of which no valve is described has none"),
    ("building.appliances.furnace.air_from", "a vent that is closed against the room says it"),
    ("systems.main.fan.leaks_to", "a fan of which no box is described stands free"),
];

/// The entries that the verdicts of a case rest on.
fn inputs(tried: &Tried, ask: &mut Ask<'_>) -> BTreeSet<String> {
    let at = stage_of(tried, ask.design());
    let mut entries = BTreeSet::new();
    for (_, one) in judged(tried, ask) {
        for decisive in replay(tried.rule, one.about, at, ask).decisive {
            entries.extend(decisive.origin.stated.iter().map(|stated| stated.entry.to_string()));
        }
    }
    entries
}

/// A text as it reads without one of its keys: only the tree is changed, which takes a third of the time that it takes to
/// change the text and read it anew.
fn without(source: &Source, tree: &Tree, path: &str) -> Option<Design> {
    let path = Path::parse(path).ok()?;
    path.resolve(tree)?;
    let (above, last) = path.split_last()?;
    let (Step::Key(key), (map, _)) = (last, above.resolve(tree)?) else { return None };
    let mut less = tree.clone();
    less.take_away(map, key);
    Some(design::read(source, &less).0)
}

/// What passes of a case, each with the name of its thing, though an entry is taken away.
struct Passes {
    case: usize,
    entry: String,
    passing: Vec<(String, Verdict)>,
}

/// Takes each input away of the cases that have a text, which are given by their places. How often, and what passes.
fn without_each_input(all: &[Tried], cases: &[usize]) -> (usize, Vec<Passes>) {
    let text = &all[cases[0]].text;
    let (source, tree) = (Source::new("", text.to_string()), scan::read(SourceId(0), text).0);
    let whole = design::read(&source, &tree).0;
    let mut ask = Ask::new(&whole);
    let mut wanted: BTreeMap<String, Vec<usize>> = BTreeMap::new();
    for case in cases {
        for entry in inputs(&all[*case], &mut ask) {
            wanted.entry(entry).or_default().push(*case);
        }
    }
    let (mut taken, mut passes) = (0, Vec::new());
    for (entry, cases) in wanted {
        let Some(less) = without(&source, &tree, &entry) else { continue };
        let mut ask = Ask::new(&less);
        for case in cases {
            taken += 1;
            let all = judged(&all[case], &mut ask).into_iter().map(|(name, one)| (name, one.verdict));
            let passing: Vec<_> =
                all.filter(|(_, verdict)| matches!(verdict, Verdict::Met | Verdict::NotApplicable)).collect();
            if !passing.is_empty() {
                passes.push(Passes { case, entry: entry.clone(), passing });
            }
        }
    }
    (taken, passes)
}

/// Gives the entry that is taken away each value it may have. How many, and where that turns what passes without it.
fn with_each_instead(all: &[Tried], passes: &Passes) -> (usize, Vec<String>) {
    let Passes { case, entry, passing } = passes;
    let tried = &all[*case];
    let (mut sampled, mut turned) = (0, Vec::new());
    let Ok(text) = lay_over(&tried.text, &[], &[entry]) else { return (sampled, turned) };
    for With { value, design, .. } in with_each_value(&text, entry, tried.rule, 16) {
        sampled += 1;
        for (name, one) in judged_here(tried, &design) {
            let other = passing.iter().find(|(passed, verdict)| *passed == name && *verdict != one.verdict);
            if let Some((_, verdict)) = other {
                turned.push(format!(
                    "{}/{}, case \"{}\": without {entry} {name} is {verdict:?}, with {entry}: {value} it is {:?}",
                    tried.book.name, tried.rule.name, tried.case.claim, one.verdict
                ));
            }
        }
    }
    (sampled, turned)
}

/// The books that are tried each time. `UNDERCROFT_BOOKS=ohio,norway cargo test unknown_never` tries those that it names,
/// and `UNDERCROFT_BOOKS=all` every one, which takes minutes.
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
    let named = std::env::var("UNDERCROFT_BOOKS").ok();
    let named: Vec<&str> = named.as_deref().map_or(TRIED.to_vec(), |named| named.split(',').collect());
    let every_one = named.contains(&"all");
    let is_named = |tried: &Tried| every_one || named.contains(&tried.book.name.as_str());
    let all = every_case();
    let mut alike: BTreeMap<Arc<str>, Vec<usize>> = BTreeMap::new();
    for (at, tried) in all.iter().enumerate().filter(|(_, tried)| is_named(tried)) {
        alike.entry(Arc::clone(&tried.text)).or_default().push(at);
    }
    let alike: Vec<Vec<usize>> = alike.into_values().collect();
    let (mut taken, mut passes) = (0, Vec::new());
    for (count, some) in by_all_hands(&alike, |cases| without_each_input(all, cases)) {
        taken += count;
        passes.extend(some);
    }
    // Where an entry of a rule leaves the same that passes as in a case before, its values are tried there.
    passes.sort_by(|a, b| (a.case, &a.entry).cmp(&(b.case, &b.entry)));
    let mut met = BTreeSet::new();
    passes.retain(|Passes { case, entry, passing }| {
        let Tried { book, rule, case, .. } = &all[*case];
        met.insert((&book.name, &rule.name, &case.thing, case.stage, entry.clone(), format!("{passing:?}")))
    });
    let (mut sampled, mut faults, mut needed) = (0, Vec::new(), BTreeSet::new());
    let tried = by_all_hands(&passes, |passes| (passes.entry.clone(), with_each_instead(all, passes)));
    for (entry, (count, turned)) in tried {
        sampled += count;
        match SAID_TWICE.iter().find(|(twice, _)| *twice == entry) {
            Some((twice, _)) if !turned.is_empty() => _ = needed.insert(*twice),
            _ => faults.extend(turned),
        }
    }
    println!("{taken} inputs taken away, {sampled} values put in their place, {} faults", faults.len());
    faults.sort();
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
    let idle: Vec<&str> =
        SAID_TWICE.iter().map(|(entry, _)| *entry).filter(|entry| !needed.contains(entry)).collect();
    assert!(idle.is_empty() || !every_one, "said once only, as it turns out: {idle:?}");
    assert!(taken > 300 || std::env::var("UNDERCROFT_BOOKS").is_ok(), "{taken}");
}

/// The tree without a key reads as the text without it does.
#[test]
fn a_key_taken_from_the_tree_is_a_key_taken_from_the_text() {
    let mut seen = 0;
    for tried in every_case().iter().step_by(97) {
        let (source, tree) =
            (Source::new("", tried.text.to_string()), scan::read(SourceId(0), &tried.text).0);
        let whole = read_text(&tried.text).0;
        for entry in inputs(tried, &mut Ask::new(&whole)) {
            let (Some(less), Ok(text)) =
                (without(&source, &tree, &entry), lay_over(&tried.text, &[], &[&entry]))
            else {
                continue;
            };
            seen += 1;
            let verdicts = |design: &Design| -> Vec<_> {
                let all = judged_here(tried, design).into_iter();
                all.map(|(name, one)| {
                    let missing: Vec<_> =
                        one.missing.into_iter().map(|one| (one.entry, one.reason)).collect();
                    (name, one.verdict, missing)
                })
                .collect()
            };
            assert_eq!(
                verdicts(&less),
                verdicts(&read_text(&text).0),
                "{} without {entry}",
                tried.case.claim
            );
        }
    }
    assert!(seen > 100, "{seen}");
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
