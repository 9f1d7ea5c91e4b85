//! Promise 2: the smallest list of what is missing. Stating what is listed decides; leaving any one of it out does
//! not.

use undercroft::base::value::Reason;
use undercroft::judge::Verdict;
use undercroft::review::Library;

use super::sampling::with_each_value;
use super::{Tried, every_case, judged_text};

/// Some texts in which all of these entries are stated, with values of their own in turn.
fn stated(tried: &Tried<'_>, text: &str, entries: &[String], most: usize) -> Vec<String> {
    let Some((first, rest)) = entries.split_first() else { return vec![text.to_owned()] };
    let mut texts = Vec::new();
    for (_, with) in with_each_value(text, first, tried.rule, 8) {
        texts.extend(stated(tried, &with, rest, most / 2));
        if texts.len() >= most {
            break;
        }
    }
    texts.truncate(most);
    texts
}

fn open(tried: &Tried<'_>, text: &str, name: &str) -> bool {
    judged_text(tried, text).iter().any(|(own, one)| own == name && one.verdict == Verdict::Undetermined)
}

#[test]
fn stating_what_is_listed_decides_and_less_does_not() {
    let library = Library::with(&[]);
    let mut lists = 0;
    let mut faults = Vec::new();
    for tried in every_case(&library) {
        for (name, one) in judged_text(&tried, &tried.text) {
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
            if !one.missing.iter().all(|missing| plain(&missing.reason)) {
                continue;
            }
            lists += 1;
            let entries: Vec<String> = one.missing.iter().map(|missing| missing.entry.to_string()).collect();
            let says = |what: String| {
                format!(
                    "{}/{}, case \"{}\", {name}: {what}",
                    tried.book.name, tried.rule.name, tried.case.claim
                )
            };
            let all = stated(&tried, &tried.text, &entries, 48);
            if all.is_empty() {
                faults.push(says(format!("no value can be stated for {entries:?}")));
                continue;
            }
            if all.iter().all(|text| open(&tried, text, &name)) {
                faults.push(says(format!("stating {entries:?} does not decide")));
            }
            for (at, left_out) in entries.iter().enumerate() {
                let mut rest = entries.clone();
                rest.remove(at);
                let some = stated(&tried, &tried.text, &rest, 48);
                if !some.iter().any(|text| open(&tried, text, &name)) {
                    faults.push(says(format!("without {left_out} the rest decides always")));
                }
            }
        }
    }
    println!("{lists} lists, {} faults", faults.len());
    assert!(lists > 30, "{lists}");
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
