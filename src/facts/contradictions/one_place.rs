//! Two fans, or two discharges, that are said to be at one place.

use crate::base::number::Ratio;
use crate::base::value::Missing;
use crate::base::vocabulary::Thing;

use super::super::ask::Ask;
use super::super::kinds::Kind;
use super::super::places::{self, Along};
use super::impossible::Impossible;

/// A place that is known exactly.
fn exactly(ask: &mut Ask<'_>, it: Thing) -> Option<[Ratio; 3]> {
    let mut at = |along| places::coordinate(ask, it, along).value()?.as_exact().cloned();
    Some([at(Along::East)?, at(Along::North)?, at(Along::Up)?])
}

/// The entry that says where a fan or a discharge is.
fn entry(ask: &Ask<'_>, it: Thing, kind: Kind) -> Option<Missing> {
    let at = it.number as usize;
    if kind == Kind::Fan {
        return ask.things().fans.get(at).map(|fan| fan.it.at.want(&fan.it.here));
    }
    let own = ask.things().discharges.get(at)?.it;
    Some(if own.at.is_missing() { own.height.want(&own.here) } else { own.at.want(&own.here) })
}

/// Every two of different systems that are at one place.
pub(super) fn taken_twice(ask: &mut Ask<'_>) -> Vec<Impossible> {
    let mut found = Vec::new();
    for (kind, what) in [(Kind::Fan, "fans"), (Kind::Discharge, "discharges")] {
        let mut before: Vec<(Thing, [Ratio; 3])> = Vec::new();
        for it in ask.things().all(kind) {
            let Some(place) = exactly(ask, it) else { continue };
            let other = before.iter().find(|(_, other)| *other == place).map(|(other, _)| *other);
            if let (Some(other), Some(own)) = (other, entry(ask, it, kind))
                && let Some(first) = entry(ask, other, kind)
            {
                let name = |thing| ask.things().system_of(thing).map(|own| ask.things().name(own));
                let (one, two) = (name(other).unwrap_or_default(), name(it).unwrap_or_default());
                let what = format!("The {what} of {one} and {two} are said to be at one and the same place");
                let todo = "Measure both again, and correct the one that is wrong";
                found.push(Impossible::new(what, todo).at(first, "one of them").at(own, "the other"));
            }
            before.push((it, place));
        }
    }
    found
}
