//! What stands about the discharge, and whether it can stand between the outlet and something else.

use crate::base::number::{Comparison, Number};
use crate::base::truth::Truth;
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::geometry::{Point, around_to};
use crate::design::model::openings::Obstacle;
use crate::design::model::place::FromDischarge;

use super::ask::Ask;
use super::contradictions::impossible::Impossible;
use super::heights::{self, Near};
use super::level;
use super::lies::{self, lies};
use super::looked;
use super::outlet;
use super::outlines;
use super::places::{self, Along};
use super::seen;
use super::statements::half_step;
use super::tape::level_by_tape;

/// The straight distance to a thing, once somebody looked for what stands between at least that far. What does stand
/// between is no farther off than the thing itself.
pub(super) fn looked_so_far(ask: &mut Ask<'_>, straight: Answer<Number>, want: Missing) -> Answer<Number> {
    let far = straight.clone().value().unwrap_or_else(|| Number::whole(0));
    match looked::as_far_as(ask, &far, |looked_for| &looked_for.obstacles) {
        Answer::Known { .. } => straight,
        Answer::Unknown(why) if why.iter().any(|it| matches!(it.reason, Reason::LookedOnly(_))) => {
            Answer::Unknown(why)
        }
        Answer::Unknown(_) => Answer::missing(want),
    }
}

/// Whether obstacles are listed, and each of them surely stands elsewhere than between the outlet and a thing at this
/// straight distance: farther off than the thing, lower than both of them, or higher.
pub(super) fn none_between(ask: &mut Ask<'_>, it: Thing, straight: &Answer<Number>) -> bool {
    let building = &ask.design().building;
    let listed = ask.read(&building.here, &building.obstacles).value().flatten();
    let (Some(listed), Answer::Known { value: straight, .. }) = (listed, straight) else { return false };
    let Some(from) = ask.things().seen_from(it) else { return false };
    if listed.items.is_empty() || !building.obstacles.whole || listed.things().count() != listed.items.len() {
        return false;
    }
    let all: Vec<&Obstacle> = listed.things().map(|(_, obstacle)| obstacle).collect();
    all.into_iter().all(|obstacle| {
        no_nearer(ask, from, obstacle, straight)
            || stands_lower(ask, it, from, obstacle)
            || hangs_higher(ask, it, from, obstacle)
    })
}

/// The way round the only obstacle that is listed, where it is drawn as a box that stands between: a range, as wide as
/// the outlet and as closely as the nearest place of the thing can be told.
pub(super) fn round_the_only_one<'d>(ask: &mut Ask<'d>, it: Thing, want: &Missing) -> Option<Answer<Number>> {
    let building = &ask.design().building;
    let listed = ask.read(&building.here, &building.obstacles).value().flatten()?;
    let mut all = listed.things();
    let (Some((_, only)), None, true) = (all.next(), all.next(), building.obstacles.whole) else {
        return None;
    };
    if listed.items.len() > 1 || only.corners.is_missing() {
        return None;
    }
    let from = ask.things().seen_from(it)?;
    let seen = lies(ask, it)?;
    let edges = seen.edges.filter(lies::Edges::on_plan)?;
    let to = lies::bounds_of(ask, it, &seen, &edges).value()?.exact()?;
    let block = outlines::bounds(ask, &only.here, &only.corners).value()?.exact()?;
    let [x, y, z] =
        [Along::East, Along::North, Along::Up].map(|along| places::coordinate(ask, from, along).value());
    let middle = Point::new(x?.as_exact()?.clone(), y?.as_exact()?.clone(), z?.as_exact()?.clone());
    let way = around_to(&block, &middle, &to)?;
    let radius = outlet::radius(ask, from).value()?;
    let value = Number::between((&way - &radius).low(), (&way + &radius).high());
    Some(Answer::Known { value, doubts: vec![want.clone()] })
}

fn surely(one: &Number, how: Comparison, other: &Number) -> bool {
    one.compare(how, other) == Truth::True
}

/// The tape to an obstacle, where there is but one discharge from which it can be.
fn tape<'d>(ask: &mut Ask<'d>, obstacle: &'d Obstacle) -> Option<&'d FromDischarge> {
    let one = ask.things().discharges.len() == 1;
    ask.read(&obstacle.here, &obstacle.from_discharge).value().flatten().filter(|_| one)
}

/// Whether an obstacle is surely no nearer to the outlet than so far.
fn no_nearer<'d>(ask: &mut Ask<'d>, from: Thing, obstacle: &'d Obstacle, far: &Number) -> bool {
    let here = &obstacle.here;
    let mut away = Vec::new();
    if let Some(tape) = tape(ask, obstacle) {
        away.push(ask.quantity(&tape.here, &tape.straight));
        away.extend(level_by_tape(ask, tape).map(|level| level.value));
    }
    let outline = outlines::outline(ask, here, &obstacle.outline);
    away.push(outline.then(|outline| level::to_outline(ask, from, &outline)));
    away.push(level::to_line(ask, from, here, &obstacle.line));
    let bounds = outlines::bounds(ask, here, &obstacle.corners);
    away.push(bounds.then(|bounds| outlet::distance(ask, from, &bounds)));
    let known: Vec<Number> = away.into_iter().filter_map(Answer::value).collect();
    // Where two statements differ, the nearer counts.
    Number::least(&known).is_some_and(|away| surely(&away, Comparison::AtLeast, far))
}

/// How far the outlet stands above the top of a thing, as far as it stands above it at all.
fn drop_to(ask: &mut Ask<'_>, it: Thing) -> Option<(Number, Number)> {
    let drop = ask.number(it, "top_below_discharge").value()?;
    let zero = Number::whole(0);
    Some((Number::greatest(&[drop.clone(), zero.clone()])?, Number::greatest(&[drop.negate(), zero])?))
}

/// Whether the top of an obstacle lies surely no higher than the lower end of a string from the outlet to a thing.
fn stands_lower<'d>(ask: &mut Ask<'d>, it: Thing, from: Thing, obstacle: &'d Obstacle) -> bool {
    let Some((below, _)) = drop_to(ask, it) else { return false };
    let mut drops = Vec::new();
    if let Some(tape) = tape(ask, obstacle) {
        drops.push(ask.quantity(&tape.here, &tape.top_below));
    }
    let top = heights::level_near(ask, &obstacle.here, &obstacle.top, &Near::default());
    drops.push(places::coordinate(ask, from, Along::Up).both(top).map(|(outlet, top)| &outlet - &top));
    let known: Vec<Number> = drops.into_iter().filter_map(Answer::value).collect();
    Number::least(&known).is_some_and(|drop| surely(&drop, Comparison::AtLeast, &below))
}

/// Whether the bottom of an obstacle hangs surely no lower than the higher end of a string from the outlet to a thing.
fn hangs_higher<'d>(ask: &mut Ask<'d>, it: Thing, from: Thing, obstacle: &'d Obstacle) -> bool {
    let Some((_, above)) = drop_to(ask, it) else { return false };
    let mut rises = Vec::new();
    if let Some(tape) = tape(ask, obstacle) {
        rises.push(ask.quantity(&tape.here, &tape.bottom_above));
    }
    let bottom = heights::level_near(ask, &obstacle.here, &obstacle.bottom, &Near::default());
    rises.push(
        places::coordinate(ask, from, Along::Up).both(bottom).map(|(outlet, bottom)| &bottom - &outlet),
    );
    let known: Vec<Number> = rises.into_iter().filter_map(Answer::value).collect();
    Number::least(&known).is_some_and(|rise| surely(&rise, Comparison::AtLeast, &above))
}

/// What is wrong with a tape drawn round something that is longer than the straight one, where everything that stands
/// about the discharge was looked for and there is nothing.
pub(super) fn goes_round_nothing(ask: &mut Ask<'_>, it: Thing) -> Option<Impossible> {
    let tape = lies(ask, it)?.from_discharge.known()?;
    let around = tape.around.known()?.number();
    let straight = seen::clearance(ask, it).value()?;
    let slack = &half_step(&tape.around) + &half_step(&tape.straight);
    if &straight.high() + &slack >= around.low() {
        return None;
    }
    let building = &ask.design().building;
    let roof = building.roof.known();
    let others = building.chimneys.things().count()
        + roof.map_or(0, |roof| roof.walls_above.things().count() + roof.parapets.things().count());
    let nothing = building.obstacles.things().next().is_none() && building.obstacles.whole && others == 0;
    let looked = building.obstacles.is_none()
        || looked::as_far_as(ask, &straight, |looked_for| &looked_for.obstacles).value().is_some();
    if !(nothing && looked) {
        return None;
    }
    let name = ask.things().name(it);
    let obstacles = if building.obstacles.is_none() {
        building.obstacles.want(&building.here)
    } else {
        let looked_for = &ask.design().looked_for;
        looked_for.obstacles.want(&looked_for.here)
    };
    let what = format!("The tape to {name} goes round something, and nothing is said to stand between");
    let todo = "List what stands between under building, obstacles (the ridge or a corner of the house itself counts \
                as well), or take `around` out: with nothing between, the straight distance counts";
    Some(
        Impossible::new(what, todo)
            .at(tape.around.want(&tape.here), "longer than the straight distance")
            .at(obstacles, "nothing was found to stand there"),
    )
}
