//! Suction points that cannot draw from what they are said to draw from, or that no pipe reaches.

use crate::base::value::Missing;
use crate::design::model::foundation::{AreaKind, WallKind};
use crate::design::model::pipe::{Pierced, Run};
use crate::design::model::suction::{SuctionKind, SuctionPoint};
use crate::yaml::words::Words;

use super::super::ask::Ask;
use super::super::walls::only_area;
use super::impossible::Impossible;

/// Every suction point that cannot draw, with what is in its way.
pub(super) fn points(ask: &Ask<'_>) -> Vec<Impossible> {
    let design = ask.design();
    let mut found = Vec::new();
    for (_, system) in design.systems.things() {
        let runs: Vec<(&str, &Run)> = system.runs.things().collect();
        for (name, point) in system.suction_points.things() {
            found.extend(nothing_to_draw_from(ask, name, point));
            // A run whose end could not be read may end here.
            let may_end_here = |(_, run): &(&str, &Run)| match run.to.known() {
                Some(to) => to.as_str() == name,
                None => !run.to.is_missing(),
            };
            // One of which hardly anything is said yet is not on the drawing.
            if point.kind.is_missing()
                || runs.is_empty()
                || !system.runs.whole
                || runs.iter().any(may_end_here)
            {
                continue;
            }
            let what = format!("No run of pipe ends at {name}, so nothing draws there");
            let todo = format!("Write `to: {name}` in the run that ends there, or take {name} out");
            found.push(
                Impossible::new(what, todo)
                    .at(point.kind.want(&point.here), "the suction point")
                    .at(system.runs.want(&system.here), "the runs"),
            );
        }
        found.extend(runs.iter().filter_map(|(name, run)| down_and_through_the_roof(name, run)));
    }
    found
}

/// What a suction point is said to draw from, where that is said not to be there.
fn nothing_to_draw_from(ask: &Ask<'_>, name: &str, point: &SuctionPoint) -> Option<Impossible> {
    let foundation = &ask.design().foundation;
    let kind = *point.kind.known()?;
    let area =
        point.space.known().and_then(|space| only_area(ask, space.as_str())).map(|area| (area.name, area.it));
    let wall = point.wall.known().and_then(|wall| foundation.walls.thing(wall.as_str()));
    let (what, place, says): (String, Missing, &str) = match kind {
        SuctionKind::Membrane => {
            let (own, area) = area.filter(|(_, area)| area.membrane.is_none())?;
            let what = format!("{name} draws from under a membrane, and {own} is said to have none");
            (what, area.membrane.want(&area.here), "no membrane")
        }
        SuctionKind::Sump if foundation.sumps.is_none() => {
            let what =
                format!("{name} draws through the lid of a sump, and the house is said to have no sump");
            (what, foundation.sumps.want(&foundation.here), "no sump")
        }
        SuctionKind::DrainLoop if foundation.drain_loops.is_none() => {
            let what = format!("{name} draws from a drain loop, and the house is said to have none");
            (what, foundation.drain_loops.want(&foundation.here), "no drain loop")
        }
        SuctionKind::Slab => {
            let bare = [AreaKind::Crawlspace, AreaKind::EarthFloor, AreaKind::Piers];
            let (own, area) = area?;
            let of = area.kind.known().filter(|kind| bare.contains(kind))?;
            let what =
                format!("{name} draws from under a slab, and {own} has none: its kind is {}", of.spelling());
            (what, area.kind.want(&area.here), "no slab")
        }
        SuctionKind::BlockWall => {
            let wall = wall?;
            let solid = [
                WallKind::Poured,
                WallKind::FilledBlock,
                WallKind::Stone,
                WallKind::Wood,
                WallKind::FoamForm,
            ];
            let of = wall.kind.known().filter(|kind| solid.contains(kind))?;
            let what =
                format!("{name} draws from the cores of a block wall, and the wall is {}", of.spelling());
            (what, wall.kind.want(&wall.here), "no hollow block")
        }
        _ => return None,
    };
    let todo = format!("Correct what {name} draws from, or what is said of the house");
    Some(Impossible::new(what, todo).at(point.kind.want(&point.here), "draws from there").at(place, says))
}

/// A pipe that goes down to a suction point and is said to leave through the roof. One that begins at the
/// discharge comes down through it.
fn down_and_through_the_roof(name: &str, run: &Run) -> Option<Impossible> {
    if run.from.known().is_some_and(|from| from.as_str() == "discharge") {
        return None;
    }
    let down = run.down.known().is_some() && run.up.is_missing() && run.points.is_missing();
    let roof = run
        .pierces
        .things()
        .find(|(own, pierced)| pierced.kind.known().map_or(*own == "roof", |kind| *kind == Pierced::Roof));
    let (_, roof) = roof.filter(|_| down)?;
    let what = format!("{name} goes down, and is said to go through the roof");
    let todo = "Say what it does go through, such as a slab or a floor, or `pierces: none`";
    Some(
        Impossible::new(what, todo)
            .at(run.pierces.want(&run.here), "through the roof")
            .at(run.down.want(&run.here), "goes down")
            .at(roof.kind.want(&roof.here), "the roof"),
    )
}
