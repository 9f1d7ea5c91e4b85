//! Promise 2: the smallest list of what is missing. Stating what is listed decides; leaving any one of it out does
//! not.

use std::collections::BTreeSet;

use undercroft::base::value::Reason;
use undercroft::design::Design;
use undercroft::judge::Verdict;
use undercroft::review::{Library, read_text};

use super::sampling::{with_each_value, with_values};
use super::{Tried, by_all_hands, by_rule, every_case, judged_here, judged_text};

/// Whether some of the designs in which all of these entries are stated, with values of their own in turn, is one that is
/// looked for. No more than so many are looked at; they are counted.
fn some(
    tried: &Tried,
    text: &str,
    entries: &[&str],
    (most, seen): (usize, &mut usize),
    wanted: &dyn Fn(&Design) -> bool,
) -> bool {
    let Some((first, rest)) = entries.split_first() else {
        *seen += 1;
        return wanted(&read_text(text).0);
    };
    let start = *seen;
    for with in with_each_value(text, first, tried.rule, 8) {
        let found = if rest.is_empty() {
            *seen += 1;
            wanted(&with.design)
        } else {
            some(tried, &with.text, rest, (most / 2, seen), wanted)
        };
        if found || *seen - start >= most {
            return found;
        }
    }
    false
}

/// The same, looked for here and there among all that the entries may hold together.
fn here_and_there(tried: &Tried, text: &str, entries: &[&str], wanted: &dyn Fn(&Design) -> bool) -> bool {
    let values = |entry: &&str| with_each_value(text, entry, tried.rule, 12).map(|with| with.value).collect();
    let values: Vec<Vec<String>> = entries.iter().map(values).collect();
    let mut dice = 1_u64;
    let mut one_of = |values: &[String]| {
        dice = dice.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        values.get((dice >> 33) as usize % values.len().max(1)).cloned()
    };
    let sound = read_text(text).1.len();
    (0..128).any(|_| {
        let drawn: Option<Vec<String>> = values.iter().map(|values| one_of(values)).collect();
        drawn.is_some_and(|drawn| {
            let stated: Vec<(&str, &str)> =
                entries.iter().copied().zip(drawn.iter().map(String::as_str)).collect();
            with_values(text, &stated, sound).is_some_and(|design| wanted(&design))
        })
    })
}

/// Rules that ask of a number which is only reckoned: where nobody tested the ground, no statement of what it is narrows the
/// number enough to decide, and a test in the place of the list does. A row that no case needs is an error.
const RECKONED: [&str; 3] = [
    "illinois-vapor/suction-reckoned-at-point",
    "sizing/air-slow-enough-as-worked-out",
    "sizing/air-to-spare",
];

/// Lists that were looked at, and what is wrong with them.
#[derive(Default)]
struct Seen {
    lists: usize,
    faults: Vec<String>,
}

/// Looks at every list that the cases of a rule leave, each once.
fn lists_of(cases: &[Tried]) -> Seen {
    let mut seen = Seen::default();
    let mut done = BTreeSet::new();
    for tried in cases {
        for (name, one) in judged_text(tried, &tried.text) {
            if one.verdict != Verdict::Undetermined {
                continue;
            }
            assert!(!one.missing.is_empty(), "{}/{}: {name}", tried.book.name, tried.rule.name);
            let plain = |reason: &Reason| {
                matches!(
                    reason,
                    Reason::NotStated
                        | Reason::StatedUnknown
                        | Reason::Unreadable
                        | Reason::NotSaidComplete
                        | Reason::LookedOnly(_)
                )
            };
            let entries: Vec<&str> = one.missing.iter().map(|missing| missing.entry.as_str()).collect();
            let known = !done.insert((name.clone(), entries.join(" ")));
            if known || !one.missing.iter().all(|missing| plain(&missing.reason)) {
                continue;
            }
            seen.lists += 1;
            let says = |what: String| {
                format!(
                    "{}/{}, case \"{}\", {name}: {what}",
                    tried.book.name, tried.rule.name, tried.case.claim
                )
            };
            let is_open = |design: &Design| {
                let all = judged_here(tried, design);
                all.iter().any(|(own, one)| *own == name && one.verdict == Verdict::Undetermined)
            };
            let mut stated = 0;
            let decided = |design: &Design| !is_open(design);
            let found = some(tried, &tried.text, &entries, (48, &mut stated), &decided)
                || (stated > 0 && here_and_there(tried, &tried.text, &entries, &decided));
            if !found {
                let what = if stated == 0 { "no value can be stated for" } else { "it is not decided by" };
                seen.faults.push(says(format!("{what} {entries:?}")));
                continue;
            }
            for (at, left_out) in entries.iter().enumerate() {
                let mut rest = entries.clone();
                rest.remove(at);
                let found = some(tried, &tried.text, &rest, (48, &mut 0), &is_open)
                    || here_and_there(tried, &tried.text, &rest, &is_open);
                if !found {
                    seen.faults
                        .push(says(format!("without {left_out} the rest of {entries:?} decides always")));
                }
            }
        }
    }
    seen
}

#[test]
fn stating_what_is_listed_decides_and_less_does_not() {
    let seen = by_all_hands(&by_rule(every_case()), |cases| lists_of(cases));
    let lists: usize = seen.iter().map(|seen| seen.lists).sum();
    let faults: Vec<String> = seen.into_iter().flat_map(|seen| seen.faults).collect();
    println!("{lists} lists, {} faults", faults.len());
    assert!(lists > 30, "{lists}");
    let of = |fault: &String, rule: &&&str| fault.starts_with(&format!("{rule}, case"));
    let unneeded: Vec<&&str> =
        RECKONED.iter().filter(|rule| !faults.iter().any(|fault| of(fault, rule))).collect();
    assert!(unneeded.is_empty(), "these keep what is listed: {unneeded:#?}");
    let faults: Vec<String> =
        faults.into_iter().filter(|fault| !RECKONED.iter().any(|rule| of(fault, &rule))).collect();
    assert!(faults.is_empty(), "{} faults:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn what_to_measure_next_is_sorted_by_how_many_ask_for_it() {
    let text = crate::commands::example("03");
    let library = Library::with(&[]);
    let input = undercroft::review::Input { name: "a.yaml", bytes: text.as_bytes(), ..Default::default() };
    let review = undercroft::review::review(&input, &library);
    assert!(review.wanted.len() > 5);
    let stops = review.wanted.iter().take_while(|wanted| wanted.stops.is_some()).count();
    let rest: Vec<usize> = review.wanted.iter().skip(stops).map(|wanted| wanted.asked_for_by.len()).collect();
    assert!(rest.is_sorted_by(|a, b| a >= b), "{rest:?}");
    assert!(review.wanted.iter().skip(stops).all(|wanted| wanted.stops.is_none()));
    // Each entry stands once.
    let mut entries: Vec<&str> = review.wanted.iter().map(|wanted| wanted.missing.entry.as_str()).collect();
    entries.sort_unstable();
    let count = entries.len();
    entries.dedup();
    assert_eq!(entries.len(), count);
}
