//! What cannot be under a floor: an outline that is none, a test hole off its area, an opening that reaches beyond its
//! footing.

use crate::base::number::Ratio;
use crate::base::value::{Answer, Missing, Reason};
use crate::calc::geometry::{PlanPoint, Whereabouts};
use crate::design::model::foundation::Area;
use crate::design::model::place::{FromWalls, Place};
use crate::yaml::entry::{Entry, Here};

use super::super::ask::Ask;
use super::super::ground::gaps;
use super::super::outlines;
use super::super::places::Along;
use super::super::walls::only_area;
use super::super::within::{self, Taped};
use super::impossible::Impossible;

/// Outlines of areas whose corners make none: one that crosses itself, or that has a corner twice.
pub(super) fn outlines_of_areas(ask: &mut Ask<'_>) -> Vec<Impossible> {
    let areas: Vec<(&str, &Area)> = ask.things().areas.iter().map(|area| (area.name, area.it)).collect();
    let mut found = Vec::new();
    for (name, area) in areas {
        if area.outline.known().is_none() {
            continue;
        }
        let Answer::Unknown(missing) = outlines::outline(ask, &area.here, &area.outline) else { continue };
        for one in missing {
            let Reason::NotComputable(why) = one.reason else { continue };
            let what = format!("The corners of {name} make no outline: {why}");
            let todo = "Write the corners in the order in which one walks along the walls, each once; the last joins the first";
            found.push(Impossible::new(what, todo).at(area.outline.want(&area.here), "the outline"));
        }
    }
    found
}

/// Openings of footings that reach beyond the footing.
pub(super) fn openings(ask: &mut Ask<'_>) -> Vec<Impossible> {
    let beyond = gaps(ask).into_iter().filter(|(.., beyond)| *beyond);
    let told = beyond.map(|(name, footing, _)| {
        let what = format!("The opening in {name} reaches beyond the footing");
        let todo = "Give two points of the opening that lie on the line of the footing, or correct that line";
        Impossible::new(what, todo)
            .at(footing.opening.want(&footing.here), "the opening")
            .at(footing.line.want(&footing.here), "the footing")
    });
    told.collect()
}

/// Test holes whose place in plan is surely off the area that they are said to go through.
pub(super) fn test_holes(ask: &mut Ask<'_>) -> Vec<Impossible> {
    let design = ask.design();
    let mut found = Vec::new();
    for (_, test) in design.diagnostics.communication.things() {
        let tested = test.area.known().map(|area| area.as_str());
        for (name, hole) in test.holes.things() {
            let area = hole.area.known().map(|area| area.as_str()).or(tested);
            found.extend(off(ask, name, area, &hole.here, (&hole.at, &hole.from_walls)));
        }
    }
    for (name, hole) in design.start_up.field.things() {
        let area = hole.area.known().map(|area| area.as_str());
        found.extend(off(ask, name, area, &hole.here, (&hole.at, &hole.from_walls)));
    }
    found
}

fn off<'d>(
    ask: &mut Ask<'d>,
    name: &'d str,
    area: Option<&str>,
    here: &'d Here,
    (at, walls): (&'d Entry<Place>, &'d Entry<FromWalls>),
) -> Option<Impossible> {
    let known_as = area?;
    let member = only_area(ask, known_as)?;
    let outline = within::outline(ask, member.it).value()?;
    let taped = Taped { name, here, at, from_walls: Some(walls) };
    let place: Missing = if walls.is_missing() { at.want(here) } else { walls.want(here) };
    let mut of = |along: Along| {
        ask.statement(place.clone(), |ask| within::coordinate_of(ask, &taped, known_as, member.it, along))
    };
    let (east, north) = (of(Along::East), of(Along::North));
    let slack: Ratio = &east.slack() + &north.slack();
    let (east, north) = (east.value.value()?, north.value.value()?);
    let spot = PlanPoint::new(east.as_exact()?.clone(), north.as_exact()?.clone());
    let outside = outline.whereabouts(&spot) == Whereabouts::Outside
        && outline.edge_distance_squared(&spot) > &slack * &slack;
    outside.then(|| {
        let what = format!("By what is stated the test hole {name} lies outside of {}", member.name);
        let todo = "Measure again how far it is off the walls, and correct its place or the size of the area";
        let extent = if member.it.outline.is_missing() {
            member.it.size.want(&member.it.here)
        } else {
            member.it.outline.want(&member.it.here)
        };
        Impossible::new(what, todo).at(place, "the place").at(extent, "the area")
    })
}
