//! A replayed outcome is the outcome, and what it keeps is enough to come to it again.

use undercroft::judge::{Verdict, judge_rule, replay};
use undercroft::rulebook::checked::Stage;

use super::random::{Kind, Lots, a_rule, know_less, whole_garden};
use super::toy::{Garden, say_rule};

#[test]
fn whoever_knows_only_what_a_trace_keeps_comes_to_the_same_verdict() {
    let mut decided = 0;
    for seed in 0..5_000 {
        let mut lots = Lots::new(2_000_000 + seed);
        let rule = a_rule(&mut lots, Kind::Rich);
        let all = whole_garden(&mut lots);
        let mut garden = know_less(&all, &mut lots, 4);
        for one in judge_rule(&rule, Stage::Operating, &mut garden) {
            let trace = replay(&rule, one.about, Stage::Operating, &mut garden);
            assert_eq!(trace.verdict, one.verdict, "seed {seed}, {:?}", one.about);
            if one.verdict == Verdict::Undetermined {
                if one.missing.iter().any(|missing| missing.entry.as_str().is_empty()) {
                    continue; // The rule divides by nought: no fact has a part in it.
                }
                assert!(!trace.decisive.is_empty(), "seed {seed}: nothing left it open\n{}", say_rule(&rule));
                continue;
            }
            decided += 1;
            let mut only = Garden::new();
            for kept in &trace.decisive {
                if let Some(cell) = garden.cells.get(&(kept.fact, kept.thing)) {
                    only.set(kept.fact, kept.thing, cell.clone());
                }
            }
            let again = replay(&rule, one.about, Stage::Operating, &mut only);
            assert_eq!(again.verdict, one.verdict, "seed {seed}, {:?}: {}", one.about, say_rule(&rule));
        }
    }
    assert!(decided > 2_000, "{decided} decided outcomes prove little");
}
