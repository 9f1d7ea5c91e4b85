//! Knowing more never turns a decided verdict, and what is not known never passes.

use undercroft::base::vocabulary::{Answers, ROOT};
use undercroft::judge::{About, Judged, Verdict, judge_rule};
use undercroft::rulebook::checked::{CheckedRule, Stage};

use super::random::{Kind, Lots, a_rule, all_keys, all_values, know_less, whole_garden};
use super::toy::{self, Cell, Garden, say_rule};

fn judged(rule: &CheckedRule, garden: &Garden) -> Vec<Judged> {
    judge_rule(rule, Stage::Operating, &mut garden.clone())
}

fn verdict_on(all: &[Judged], about: About) -> Option<Verdict> {
    all.iter().find(|one| one.about == about).map(|one| one.verdict)
}

/// Says how the verdicts of one who knows less and one who knows more differ, if they may not.
fn contradiction(rule: &CheckedRule, less: &Garden, more: &Garden) -> Option<String> {
    let (before, after) = (judged(rule, less), judged(rule, more));
    for one in &before {
        if one.verdict == Verdict::Undetermined {
            continue;
        }
        let now = match one.about {
            About::List => {
                // What is said of things that nobody has listed holds of all that come to light.
                let new: Vec<Verdict> = after
                    .iter()
                    .filter(|now| matches!(now.about, About::Thing(_)))
                    .filter(|now| verdict_on(&before, now.about).is_none())
                    .map(|now| now.verdict)
                    .collect();
                let farther = matches!(less.cells.get(&(toy::BEDS, ROOT)), Some(Cell::OpenBelow(..)));
                let fits = |verdict: Verdict| {
                    // Enough is known of the rest to say that they are no matter to the rule: it holds of them, or
                    // does not apply to them. Which of the two may stay open of one that comes to light.
                    let no_matter = farther && one.verdict == Verdict::NotApplicable;
                    verdict == one.verdict || (no_matter && verdict != Verdict::Unmet)
                };
                let bad = new.iter().find(|verdict| !fits(**verdict));
                bad.copied().or(Some(one.verdict))
            }
            _ => verdict_on(&after, one.about),
        };
        if now != Some(one.verdict) {
            return Some(format!("{:?} was {:?} and is now {now:?}", one.about, one.verdict));
        }
    }
    None
}

#[test]
fn knowing_more_never_turns_a_decided_verdict() {
    let (mut decided, mut open) = (0, 0);
    for seed in 0..6_000 {
        let mut lots = Lots::new(seed);
        let rule = a_rule(&mut lots, Kind::Rich);
        let all = whole_garden(&mut lots);
        let some = know_less(&all, &mut lots, 3);
        let little = know_less(&some, &mut lots, 3);
        for (less, more) in [(&little, &some), (&some, &all), (&little, &all)] {
            if let Some(found) = contradiction(&rule, less, more) {
                panic!("seed {seed}: {found}\n{}", say_rule(&rule));
            }
        }
        for one in judged(&rule, &little) {
            if one.verdict == Verdict::Undetermined {
                open += 1;
                assert!(!one.missing.is_empty(), "seed {seed}: undetermined, and nothing is missing");
            } else {
                decided += 1;
                assert!(one.missing.is_empty(), "seed {seed}: decided, and something is missing");
            }
        }
    }
    assert!(decided > 1_000 && open > 1_000, "{decided} decided and {open} open prove little");
}

#[test]
fn what_is_not_known_passes_only_when_no_value_of_it_would_change_that() {
    let (mut stayed, mut fell) = (0, 0);
    for seed in 0..800 {
        let mut lots = Lots::new(1_000_000 + seed);
        let rule = a_rule(&mut lots, Kind::Rich);
        let all = whole_garden(&mut lots);
        let mut watch = all.clone();
        watch.asked.clear();
        judge_rule(&rule, Stage::Operating, &mut watch);
        let asked = std::mem::take(&mut watch.asked);
        for (fact, thing, of_type) in all_keys(&all) {
            if !asked.contains(&(fact, thing)) {
                continue;
            }
            let mut without = all.clone();
            without.set(fact, thing, Cell::Hidden);
            let verdicts = judged(&rule, &without);
            for one in &verdicts {
                if one.verdict == Verdict::Undetermined {
                    fell += 1;
                    continue;
                }
                stayed += 1;
            }
            for value in all_values(of_type) {
                let mut with = all.clone();
                with.set(fact, thing, Cell::Known(value.clone()));
                if let Some(found) = contradiction(&rule, &without, &with) {
                    panic!("seed {seed}, {fact:?} of {} as {value:?}: {found}", all.name_of(thing));
                }
            }
        }
    }
    assert!(stayed > 200 && fell > 200, "{stayed} stayed and {fell} fell: that proves little");
}
