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
const BELOW_IT: [&str; 2] = ["top_below_discharge", "below_discharge"];

/// How far it stands from what is seen from it.
const FROM_IT: [&str; 4] = ["clearance", "around", "across", "aside"];

/// Which way a discharge is moved.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Along {
    /// Up.
    Up,
    /// Aside, at the height it has.
    Level,
}

/// Whether a fact is a height that grows by as much as the discharge is raised.
pub(super) fn is_height(fact: &Fact) -> bool {
    let of_discharge = fact.of == Kind::Discharge && OF_DISCHARGE.contains(&fact.name);
    of_discharge || is_seen(fact) && BELOW_IT.contains(&fact.name)
}

/// Which way a discharge is moved for a fact to change, where it is known.
#[must_use]
pub fn along(fact: &Fact) -> Option<Along> {
    if is_height(fact) {
        return Some(Along::Up);
    }
    (is_seen(fact) && FROM_IT.contains(&fact.name)).then_some(Along::Level)
}

/// Whether a fact is one of what is seen from a discharge.
fn is_seen(fact: &Fact) -> bool {
    matches!(
        fact.of,
        Kind::Opening
            | Kind::NeighbourOpening
            | Kind::Intake
            | Kind::Chimney
            | Kind::WallAboveRoof
            | Kind::WalkingSurface
            | Kind::Ground
    )
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
