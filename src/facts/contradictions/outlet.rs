//! How the pipe leaves the building: by a side wall or above the roof, but not both.

use crate::base::vocabulary::Thing;
use crate::design::model::fan::Discharge;
use crate::design::model::pipe::{Pierced, Run};
use crate::yaml::words::Words;

use super::super::ask::Ask;
use super::super::kinds::Kind;
use super::super::places;
use super::impossible::Impossible;

/// Whether what is said of how the pipe leaves the building cannot be.
pub(in crate::facts) fn way_out(ask: &mut Ask<'_>, it: Thing) -> Option<Impossible> {
    let discharge = ask.things().discharges.get(it.number as usize)?.it;
    let by_wall = *discharge.through_side_wall.known()?;
    let last = places::run_to_discharge(ask, it)
        .and_then(|run| ask.things().runs.get(run.number as usize).map(|member| (member.name, member.it)));
    if by_wall { above_the_roof(discharge, last) } else { only_by_a_wall(discharge, last) }
}

const SAY_WHICH: &str = "Say which it is: through_side_wall is yes only for a pipe that ends at the wall and does not \
                         go up above the roof";

/// Said to come out of a side wall, and yet to stand above the roof or to go through it.
fn above_the_roof(discharge: &Discharge, last: Option<(&str, &Run)>) -> Option<Impossible> {
    let wall = discharge.through_side_wall.want(&discharge.here);
    let above = [
        Some(&discharge.above_roof)
            .filter(|entry| entry.known().is_some_and(|above| is_above(&above.number())))
            .map(|entry| entry.want(&discharge.here)),
        discharge.height.known().and_then(|level| {
            level.above_roof.known().filter(|above| is_above(&above.number()))?;
            Some(level.above_roof.want(&level.here))
        }),
        discharge.at.known().and_then(|place| {
            place.above_roof.known().filter(|above| is_above(&above.number()))?;
            Some(place.above_roof.want(&place.here))
        }),
    ];
    if let Some(above) = above.into_iter().flatten().next() {
        let what = "The outlet is said to come out of a side wall and not to go up above the roof, and yet to \
                    stand above the roof";
        return Some(
            Impossible::new(what, SAY_WHICH).at(wall, "out of a side wall").at(above, "above the roof"),
        );
    }
    let (name, run) = last?;
    if pierces(run, &[Pierced::Roof]) {
        let what =
            format!("The outlet is said to come out of a side wall, and yet {name} goes through the roof");
        return Some(
            Impossible::new(what, SAY_WHICH)
                .at(wall, "out of a side wall")
                .at(run.pierces.want(&run.here), "through the roof"),
        );
    }
    None
}

fn is_above(number: &crate::base::number::Number) -> bool {
    !number.low().is_negative() && !number.low().is_zero()
}

/// Said not to come out of a side wall, and yet the last run goes through a wall and through nothing else.
fn only_by_a_wall(discharge: &Discharge, last: Option<(&str, &Run)>) -> Option<Impossible> {
    let (name, run) = last?;
    let walls = [Pierced::OuterWall, Pierced::RimJoist, Pierced::FoundationWall];
    let other = [Pierced::Roof, Pierced::Floor, Pierced::Ceiling];
    let bends = run.points.members().count() > 2;
    if bends || !pierces(run, &walls) || pierces(run, &other) {
        return None;
    }
    let what = format!(
        "The outlet is said not to come out of a side wall, and yet {name}, which ends there, goes through a wall \
         and through nothing else"
    );
    let todo = "Say which it is. Where the pipe goes through the wall first and then up along it, write the part \
                that goes up as a run of its own that ends at the discharge";
    Some(
        Impossible::new(what, todo)
            .at(discharge.through_side_wall.want(&discharge.here), "not by a side wall")
            .at(run.pierces.want(&run.here), "through a wall"),
    )
}

/// Whether a run goes through something of these kinds: as stated, or as the name tells.
fn pierces(run: &Run, kinds: &[Pierced]) -> bool {
    run.pierces.things().any(|(name, through)| {
        let kind = match through.kind.known() {
            Some(kind) => Some(*kind),
            None if through.kind.is_missing() => Pierced::find(&name.replace('_', " ")),
            None => None,
        };
        kind.is_some_and(|kind| kinds.contains(&kind))
    })
}

/// Every discharge of which it is said that the pipe leaves in two ways.
pub(super) fn ways_out(ask: &mut Ask<'_>) -> Vec<Impossible> {
    ask.things().all(Kind::Discharge).into_iter().filter_map(|it| way_out(ask, it)).collect()
}
