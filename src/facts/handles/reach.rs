//! Facts that rest on how high a discharge stands: brought to a value by raising or lowering it.

use crate::base::number::Rounding;
use crate::base::value::{Answer, Value};
use crate::base::vocabulary::{FactId, Thing};
use crate::facts::ask::Ask;
use crate::facts::catalogue::Fact;
use crate::facts::kinds::Kind;
use crate::yaml::tree::Tree;

use super::lengths::step;
use super::{Move, Shift, discharge};

/// Heights of a discharge, each of which grows by as much as the discharge is raised.
const OF_DISCHARGE: [&str; 6] = [
    "height",
    "above_nearest_ground",
    "above_highest_ground",
    "above_roof_edge",
    "above_highest_eave",
    "above_roof_surface",
];

/// How far the discharge stands above what is seen from it.
const BELOW_IT: &str = "top_below_discharge";

/// Whether a fact is one of these.
pub(super) fn is_height(fact: &Fact) -> bool {
    (fact.of == Kind::Discharge && OF_DISCHARGE.contains(&fact.name)) || fact.name == BELOW_IT
}

/// The least rise or drop that can be built and brings the fact to the value, and one step more, for a value that is
/// itself not enough.
pub(super) fn by_height(
    ask: &mut Ask<'_>,
    tree: &Tree,
    (fact, of): (FactId, &Fact),
    thing: Thing,
    wanted: &Value,
) -> Vec<Move> {
    let Value::Number(wanted) = wanted else { return Vec::new() };
    let Answer::Known { value: Value::Number(now), .. } = ask.fact(fact, thing) else { return Vec::new() };
    let outlet = if of.of == Kind::Discharge { Some(thing) } else { ask.things().seen_from(thing) };
    let Some(system) = outlet.and_then(|outlet| ask.things().system_of(outlet)) else { return Vec::new() };
    let system = ask.things().name(system);
    let step = step(tree);
    let rises = now.low() <= wanted.high();
    let (rounding, more) = if rises { (Rounding::Up, step.clone()) } else { (Rounding::Down, -&step) };
    let by = if rises { wanted.high() - now.low() } else { wanted.low() - now.high() };
    let Some(by) = by.round_to(&step, rounding) else { return Vec::new() };
    let further = &by + &more;
    [by, further]
        .into_iter()
        .filter(|by| !by.is_zero())
        .filter_map(|by| discharge(tree, &system, &Shift::up(by)).ok())
        .map(|written| Move { entries: Vec::new(), written })
        .collect()
}
