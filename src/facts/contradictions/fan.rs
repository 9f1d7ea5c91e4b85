//! A fan at a height that is not in the space in which it is said to stand.

use crate::base::number::{Number, Ratio};
use crate::base::value::{Answer, Missing};
use crate::base::vocabulary::Thing;
use crate::design::model::building::{Space, SpaceKind};
use crate::design::model::fan::Fan;
use crate::design::model::openings::{Opening, OpeningKind};

use super::super::ask::Ask;
use super::super::fan::fan_space;
use super::super::heights::{self, Near};
use super::super::kinds::Kind;
use super::super::lies;
use super::super::places::{self, Along};
use super::super::statements::{Statement, surely_less};
use super::super::things::SpaceMember;
use super::impossible::Impossible;

/// Whether the height of a fan cannot be in the space where it is said to be.
pub(in crate::facts) fn out_of_its_space(ask: &mut Ask<'_>, it: Thing) -> Option<Impossible> {
    let fan = ask.things().fans.get(it.number as usize)?.it;
    let space = fan_space(ask, it).value()?;
    let height = ask.statement(fan.at.want(&fan.here), |ask| places::coordinate(ask, it, Along::Up));
    match ask.things().space(space)? {
        SpaceMember::Outdoors => under_the_ground(ask, it, fan, &height),
        SpaceMember::Named(name, record) => {
            let low = floors(ask, name, record);
            let high = ceilings(ask, name, record);
            let below = low.iter().find(|(low, _)| surely_less(&height, low));
            let above = high.iter().find(|(high, _)| surely_less(high, &height));
            let (bound, words) = below.or(above)?;
            let how = if below.is_some() { "below" } else { "above" };
            let what = format!("The fan is said to stand in {name}, and its height is {how} {words}");
            let todo = format!(
                "Correct its height or the space that it stands in. Where {name} does reach so far, \
                                state its floor or ceiling"
            );
            Some(
                Impossible::new(what, todo)
                    .at(fan.space.want(&fan.here), "in this space")
                    .at(height.want.clone(), "at this height")
                    .at(bound.want.clone(), words.clone()),
            )
        }
    }
}

/// A fan in the open air that is lower than the ground, where it is said to stand in no well.
fn under_the_ground<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    fan: &'d Fan,
    height: &Statement<'d>,
) -> Option<Impossible> {
    if fan.in_well.known() != Some(&false) {
        return None;
    }
    let near = Near { plan: places::plan_of(ask, it), side: None };
    let site = &ask.design().site;
    let ground = ask.statement(site.ground.want(&site.here), |ask| heights::nearest_ground(ask, &near));
    if !surely_less(height, &ground) {
        return None;
    }
    let what = "The fan is said to stand in the open air and in no well, and yet lower than the ground there";
    let todo = "Correct its height or that of the ground, or say in_well: yes";
    Some(
        Impossible::new(what, todo)
            .at(fan.in_well.want(&fan.here), "in no well")
            .at(height.want.clone(), "at this height")
            .at(ground.want.clone(), "the ground"),
    )
}

/// Heights that a space lies wholly above, each with what it is.
fn floors<'d>(ask: &mut Ask<'d>, name: &str, space: &'d Space) -> Vec<(Statement<'d>, String)> {
    let mut found = Vec::new();
    if !space.floor.is_missing() {
        let floor = ask
            .statement(space.floor.want(&space.here), |ask| heights::floor(ask, &space.here, &space.floor));
        found.push((floor, format!("the floor of {name}")));
        return found;
    }
    let design = ask.design();
    for (area_name, area) in design.foundation.areas.things() {
        let over = area.space.known().map_or(area_name, |space| space.as_str());
        if over != name {
            continue;
        }
        let entry = if area.top.is_missing() { &area.soil } else { &area.top };
        if !entry.is_missing() {
            let floor = ask.statement(entry.want(&area.here), |ask| {
                heights::level_near(ask, &area.here, entry, &Near::default())
            });
            found.push((floor, format!("the floor of {name}")));
        }
    }
    for (other, below) in design.building.spaces.things() {
        let lies_below = below.under.members().any(|above| above.as_str() == name)
            || space.above.members().any(|below| below.as_str() == other);
        if !lies_below || other == name {
            continue;
        }
        if !below.floor.is_missing() {
            let floor = ask.statement(below.floor.want(&below.here), |ask| {
                heights::floor(ask, &below.here, &below.floor)
            });
            found.push((floor, format!("the floor of {other}, over which it lies")));
        }
        for window in ask.things().all(Kind::Opening) {
            let Some(member) = ask.things().openings.get(window.number as usize).copied() else { continue };
            // Seen from one discharge or another, it is the same window.
            let (once, opening) = (member.owner == 0, member.it);
            // A skylight lies in the roof, at the top of a shaft through the attic; hoods, vents and hatches may as well.
            let of_walls = [OpeningKind::Window, OpeningKind::Door, OpeningKind::GarageDoor];
            let in_a_wall = opening.kind.known().is_some_and(|kind| of_walls.contains(kind));
            if once && in_a_wall && opening.into.known().is_some_and(|into| into.as_str() == other) {
                let want = top_said(opening);
                let top = ask.statement(want, |ask| lies::top(ask, window));
                found.push((top, format!("the top of {} in {other}, over which it lies", member.name)));
            }
        }
    }
    if space.kind.known() == Some(&SpaceKind::Attic) {
        found.push((knee_wall(ask), "what can be an attic under this roof".to_owned()));
    }
    found
}

/// The entry that says how high the top of an opening is.
fn top_said(opening: &Opening) -> Missing {
    let here = &opening.here;
    if opening.corners.is_missing() { opening.top.want(here) } else { opening.corners.want(here) }
}

/// The lowest that the floor of an attic is taken to be where nobody states it. Under an attic lie all the storeys
/// above ground, and the wall between its floor and the edge of the roof is never higher than one of them. Common
/// practice, no source.
fn knee_wall<'d>(ask: &mut Ask<'d>) -> Statement<'d> {
    let building = &ask.design().building;
    let storeys = building.stories.known().map_or(1, |count| i64::from(count.0)).max(1);
    ask.statement(building.roof.want(&building.here), |ask| {
        heights::all_edges(ask).both(heights::all_ground(ask)).then(|(edges, ground)| {
            let all = &edges.lowest - &ground.lowest;
            match Ratio::new(i128::from(storeys), i128::from(storeys + 1)) {
                Some(share) => Answer::known(&ground.lowest + &(&all * &Number::exact(share))),
                None => Answer::known(ground.lowest),
            }
        })
    })
}

/// Heights that a space lies wholly below, each with what it is.
fn ceilings<'d>(ask: &mut Ask<'d>, name: &str, space: &'d Space) -> Vec<(Statement<'d>, String)> {
    let mut found = Vec::new();
    let design = ask.design();
    for (other, above) in design.building.spaces.things() {
        let lies_above = space.under.members().any(|over| over.as_str() == other)
            || above.above.members().any(|below| below.as_str() == name);
        if lies_above && other != name && !above.floor.is_missing() {
            let floor = ask.statement(above.floor.want(&above.here), |ask| {
                heights::floor(ask, &above.here, &above.floor)
            });
            found.push((floor, format!("the floor of {other}, under which it lies")));
        }
    }
    let building = &design.building;
    if let Some(roof) = building.roof.known().filter(|roof| !roof.ridge.is_missing()) {
        let ridge = ask.statement(roof.ridge.want(&roof.here), heights::ridge);
        found.push((ridge, "the ridge of the roof".to_owned()));
    }
    found
}

/// Every fan that cannot stand where it is said to.
pub(super) fn fans(ask: &mut Ask<'_>) -> Vec<Impossible> {
    ask.things().all(Kind::Fan).into_iter().filter_map(|fan| out_of_its_space(ask, fan)).collect()
}
