//! Runs that are said to go from one space straight into another that lies two storeys or more off.

use crate::design::model::building::Space;

use super::super::ask::Ask;
use super::impossible::Impossible;

/// Every run whose spaces leave a storey out. A room of two storeys in height, which is said to lie under the upper
/// space or over the lower one, leaves none out.
pub(super) fn left_out(ask: &Ask<'_>) -> Vec<Impossible> {
    let design = ask.design();
    let spaces = &design.building.spaces;
    let mut found = Vec::new();
    for (_, system) in design.systems.things() {
        for (name, run) in system.runs.things() {
            let passed: Vec<&str> = run.through.members().map(|space| space.as_str()).collect();
            for (one, next) in passed.iter().zip(passed.iter().skip(1)) {
                let (Some(first), Some(second)) = (spaces.thing(one), spaces.thing(next)) else { continue };
                let (Some(a), Some(b)) = (first.story.known(), second.story.known()) else { continue };
                if a.0.abs_diff(b.0) < 2 {
                    continue;
                }
                let ((low, lower), (high, upper)) = if a.0 < b.0 {
                    ((*one, first), (*next, second))
                } else {
                    ((*next, second), (*one, first))
                };
                if !surely_apart((low, lower), (high, upper)) {
                    continue;
                }
                let between = (a.0.min(b.0) + 1..a.0.max(b.0)).map(|story| story.to_string());
                let what = format!(
                    "{name} is said to go from {one} straight into {next}, and between them lies story {}",
                    between.collect::<Vec<_>>().join(" and ")
                );
                let todo = "Name under `through` every space that it passes, one after the other";
                found.push(
                    Impossible::new(what, todo)
                        .at(run.through.want(&run.here), "what it passes")
                        .at(first.story.want(&first.here), format!("story {}", a.0))
                        .at(second.story.want(&second.here), format!("story {}", b.0)),
                );
            }
        }
    }
    found
}

/// Whether it is said what lies over the lower space, or under the upper one, and the other is not among it.
fn surely_apart((low, lower): (&str, &Space), (high, upper): (&str, &Space)) -> bool {
    let over = lower.under.members().any(|space| space.as_str() == high);
    let under = upper.above.members().any(|space| space.as_str() == low);
    let said = !lower.under.is_missing() || !upper.above.is_missing();
    said && !over && !under
}
