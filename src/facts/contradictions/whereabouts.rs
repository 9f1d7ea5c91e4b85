//! Things that are not where they are said to be: a suction point off its area, a run that leaves the space it is said
//! to pass or ends under the ground. And the places of all that no fact speaks of, settled so that what disagrees is
//! come across.

use crate::base::number::Number;
use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::calc::geometry::{Outline, PlanPoint, Whereabouts};
use crate::design::model::foundation::Area;
use crate::design::model::place::{FromWalls, Place};
use crate::design::model::suction::SuctionKind;
use crate::yaml::entry::{Entry, Here};

use super::super::ask::Ask;
use super::super::heights::{self, Near};
use super::super::kinds::Kind;
use super::super::places::{self, Along};
use super::super::statements::surely_less;
use super::super::things::Member;
use super::super::walls::{only_area, outline_of};
use super::super::within;
use super::impossible::Impossible;
use super::tape;

/// Suction points whose place in plan is surely not on the area that they draw from.
pub(super) fn suction_points(ask: &mut Ask<'_>) -> Vec<Impossible> {
    let mut found = Vec::new();
    for it in ask.things().all(Kind::SuctionPoint) {
        let Some(member) = ask.things().suction_points.get(it.number as usize).copied() else { continue };
        let under = [SuctionKind::Slab, SuctionKind::Membrane, SuctionKind::Collector, SuctionKind::Sump];
        if !member.it.kind.known().is_some_and(|kind| under.contains(kind)) {
            continue;
        }
        let (_, space) = places::lies_in(ask, member.it);
        let area = space.known().and_then(|name| only_area(ask, name.as_str()));
        let Some(Member { name, it: area, .. }) = area else { continue };
        let outline = within::outline(ask, area);
        if !surely_off(ask, it, outline, |ask, along| within::coordinate(ask, it, area, along)) {
            continue;
        }
        let here = &member.it.here;
        let place = if member.it.from_walls.is_missing() {
            member.it.at.want(here)
        } else {
            member.it.from_walls.want(here)
        };
        let what = format!("By what is stated {} lies outside of {name}, from which it draws", member.name);
        let todo = "Measure again how far it is off the walls, and correct its place or the size of the area";
        found.push(Impossible::new(what, todo).at(place, "the place").at(extent_of(area), "the area"));
    }
    found
}

/// Which end of a run is meant; everything else has but one place.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Ends {
    First,
    Last,
}

/// Runs whose ends are surely not in the spaces that they are said to pass there.
pub(super) fn runs(ask: &mut Ask<'_>) -> Vec<Impossible> {
    let mut found = Vec::new();
    for it in ask.things().all(Kind::Run) {
        let Some(member) = ask.things().runs.get(it.number as usize).copied() else { continue };
        let run = member.it;
        let spaces: Vec<&str> = run.through.members().map(|space| space.as_str()).collect();
        if run.through.known().is_none_or(|list| list.0.items.len() != spaces.len()) {
            continue;
        }
        let to = run.to.known().map(|to| to.as_str());
        let suction = to.and_then(|to| ask.things().named(Kind::SuctionPoint, Some(member.owner), to));
        let kind = suction
            .and_then(|point| ask.things().suction_points.get(point.number as usize))
            .and_then(|point| point.it.kind.known().copied());
        let into_the_ground = [SuctionKind::Outdoors, SuctionKind::DrainLoop, SuctionKind::BlockWall];
        let free =
            kind.is_some_and(|kind| into_the_ground.contains(&kind)) || (suction.is_some() && kind.is_none());
        let ends = [(Ends::First, spaces.first(), false), (Ends::Last, spaces.last(), free)];
        for (end, space, free) in ends {
            let (Some(space), false) = (space, free) else { continue };
            if end == Ends::First && goes_on(ask, it, space) {
                continue;
            }
            let which = if end == Ends::First { "begins" } else { "ends" };
            let through = run.through.want(&run.here);
            if *space == "outdoors" {
                if suction.is_none() && under_ground(ask, it, end) {
                    let what = format!(
                        "{} {which} in the open air, and yet lower than the ground there",
                        member.name
                    );
                    let todo = "Correct its length or height, or that of the ground. A run that goes through the \
                                wall below ground passes it from the inside";
                    let way = places_way(run, end);
                    let site = &ask.design().site;
                    let ground = site.ground.want(&site.here);
                    found.push(
                        Impossible::new(what, todo)
                            .at(way, format!("{which} here"))
                            .at(through, "in the open air")
                            .at(ground, "the ground"),
                    );
                    break;
                }
                continue;
            }
            let Some(Member { name, it: area, .. }) = only_area(ask, space) else { continue };
            let outline = outline_of(ask, area);
            if surely_off(ask, it, outline, |ask, along| coordinate(ask, it, end, along)) {
                let what = format!(
                    "{} is said to pass {space}, and yet by what is stated it {which} outside of {name}",
                    member.name
                );
                let todo = "Correct where it goes or what it passes. A run that comes in from the open air passes \
                            that as well, and goes through the wall";
                let extent = extent_of(area);
                found.push(
                    Impossible::new(what, todo)
                        .at(places_way(run, end), format!("{which} here"))
                        .at(through, "said to be in here")
                        .at(extent, "the area"),
                );
                break;
            }
        }
    }
    found
}

/// Whether a run begins at the end of another, in the space in which that one ends: then it is the other's end that is
/// looked at.
fn goes_on(ask: &Ask<'_>, it: Thing, space: &str) -> bool {
    let Some(member) = ask.things().runs.get(it.number as usize) else { return false };
    let from = member.it.from.known().map(|from| from.as_str());
    let before = from.and_then(|from| ask.things().named(Kind::Run, Some(member.owner), from));
    before
        .and_then(|before| ask.things().runs.get(before.number as usize))
        .and_then(|before| before.it.through.members().last())
        .is_some_and(|last| last.as_str() == space)
}

/// The entry that says where a run begins, or how far it goes.
fn places_way(run: &crate::design::model::pipe::Run, end: Ends) -> crate::base::value::Missing {
    if end == Ends::First {
        return run.from.want(&run.here);
    }
    let ways = [&run.up, &run.down, &run.north, &run.south, &run.east, &run.west];
    match ways.into_iter().find(|way| !way.is_missing()) {
        Some(way) => way.want(&run.here),
        None => run.points.want(&run.here),
    }
}

fn coordinate(ask: &mut Ask<'_>, it: Thing, end: Ends, along: Along) -> Answer<Number> {
    if end == Ends::First { places::run_start(ask, it, along) } else { places::coordinate(ask, it, along) }
}

/// Whether an end of a run is surely lower than the finished ground nearest to it.
fn under_ground(ask: &mut Ask<'_>, it: Thing, end: Ends) -> bool {
    let Some(here) = ask.things().here(it) else { return false };
    let want = ask.want_at(here.path.as_str());
    let plan = exactly(ask, it, end);
    let near = Near { plan, side: None };
    let height = ask.statement(want.clone(), |ask| coordinate(ask, it, end, Along::Up));
    let ground = ask.statement(want, |ask| heights::nearest_ground(ask, &near));
    surely_less(&height, &ground)
}

fn exactly(ask: &mut Ask<'_>, it: Thing, end: Ends) -> Option<PlanPoint> {
    let east = coordinate(ask, it, end, Along::East).value()?;
    let north = coordinate(ask, it, end, Along::North).value()?;
    Some(PlanPoint::new(east.as_exact()?.clone(), north.as_exact()?.clone()))
}

/// The entry that says how far an area reaches.
fn extent_of(area: &Area) -> crate::base::value::Missing {
    if area.outline.is_missing() { area.size.want(&area.here) } else { area.outline.want(&area.here) }
}

/// Whether something lies surely outside of an area in plan, by more than people round.
fn surely_off<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    outline: Answer<Outline>,
    of: impl Fn(&mut Ask<'d>, Along) -> Answer<Number>,
) -> bool {
    let Some(outline) = outline.value() else { return false };
    let Some(here) = ask.things().here(it) else { return false };
    let want = ask.want_at(here.path.as_str());
    let east = ask.statement(want.clone(), |ask| of(ask, Along::East));
    let north = ask.statement(want, |ask| of(ask, Along::North));
    let beyond = |statement: &super::super::statements::Statement<'_>,
                  ends: Vec<&crate::base::number::Ratio>| {
        let Answer::Known { value, .. } = &statement.value else { return false };
        let slack = statement.slack();
        let (Some(low), Some(high)) = (ends.iter().min(), ends.iter().max()) else { return false };
        &value.high() + &slack < **low || value.low() > *high + &slack
    };
    let corners = outline.corners();
    if beyond(&east, corners.iter().map(|corner| &corner.x).collect())
        || beyond(&north, corners.iter().map(|corner| &corner.y).collect())
    {
        return true;
    }
    let (Answer::Known { value: x, .. }, Answer::Known { value: y, .. }) = (&east.value, &north.value) else {
        return false;
    };
    let (Some(x), Some(y)) = (x.as_exact(), y.as_exact()) else { return false };
    let at = PlanPoint::new(x.clone(), y.clone());
    let slack = &east.slack() + &north.slack();
    outline.whereabouts(&at) == Whereabouts::Outside && outline.edge_distance_squared(&at) > &slack * &slack
}

/// Works out the places of all that no fact speaks of, so that what disagrees about them is come across, and looks at
/// the tapes to them.
pub(super) fn places_of_the_rest(ask: &mut Ask<'_>) -> Vec<Impossible> {
    let design = ask.design();
    let mut found = Vec::new();
    for (name, sump) in design.foundation.sumps.things() {
        let area = sump.space.known().map(|area| area.as_str());
        found.extend(one_place(ask, name, &sump.here, &sump.at, Some(&sump.from_walls), area));
    }
    for (name, drain) in design.foundation.drains.things() {
        let area = drain.space.known().map(|area| area.as_str());
        found.extend(one_place(ask, name, &drain.here, &drain.at, None, area));
    }
    for (_, test) in design.diagnostics.communication.things() {
        let tested = test.area.known().map(|area| area.as_str());
        for (name, hole) in test.holes.things() {
            let area = hole.area.known().map(|area| area.as_str()).or(tested);
            found.extend(one_place(ask, name, &hole.here, &hole.at, Some(&hole.from_walls), area));
        }
    }
    for (_, system) in design.systems.things() {
        let Some(gauge) = system.gauge.known() else { continue };
        let space = gauge.space.known().map(|space| space.as_str());
        found.extend(one_place(ask, "gauge", &gauge.here, &gauge.at, None, space));
    }
    found.extend(tapes(ask));
    found
}

/// One place that no fact speaks of.
fn one_place<'d>(
    ask: &mut Ask<'d>,
    name: &str,
    here: &'d Here,
    at: &'d Entry<Place>,
    walls: Option<&'d Entry<FromWalls>>,
    area: Option<&str>,
) -> Option<Impossible> {
    for along in [Along::East, Along::North, Along::Up] {
        let _ = places::of_the_rest(ask, name, here, at, walls, area, along);
    }
    let place = at.known()?;
    let cannot = tape::place(name, place);
    if cannot.is_none() {
        places::straight_tape(ask, name, place, None, |ask, along| {
            places::of_the_rest(ask, name, here, at, walls, area, along)
        });
    }
    cannot
}

/// The tapes from the discharge to what is seen from it.
fn tapes(ask: &mut Ask<'_>) -> Vec<Impossible> {
    let building = &ask.design().building;
    let mut found = Vec::new();
    let openings = building.openings.things();
    let next_door = building.neighbours.things().flat_map(|(_, neighbour)| neighbour.openings.things());
    for (name, opening) in openings.chain(next_door) {
        found.extend(
            opening.from_discharge.known().into_iter().flat_map(|one| tape::from_discharge(name, one)),
        );
    }
    for (name, intake) in building.intakes.things() {
        found.extend(
            intake.from_discharge.known().into_iter().flat_map(|one| tape::from_discharge(name, one)),
        );
    }
    for (name, chimney) in building.chimneys.things() {
        found.extend(
            chimney.from_discharge.known().into_iter().flat_map(|one| tape::from_discharge(name, one)),
        );
    }
    for (name, surface) in building.walking_surfaces.things() {
        found.extend(
            surface.from_discharge.known().into_iter().flat_map(|one| tape::from_discharge(name, one)),
        );
    }
    found.extend(straight_tapes(ask));
    found
}

/// The straight tapes to fans and suction points.
fn straight_tapes(ask: &mut Ask<'_>) -> Vec<Impossible> {
    let fans: Vec<_> = ask.things().fans.iter().map(|fan| &fan.it.at).collect();
    let points: Vec<_> = ask.things().suction_points.iter().map(|point| &point.it.at).collect();
    let mut found = Vec::new();
    for (kind, places) in [(Kind::Fan, fans), (Kind::SuctionPoint, points)] {
        for (it, at) in ask.things().all(kind).into_iter().zip(places) {
            let Some(place) = at.known() else { continue };
            let name = match kind {
                Kind::Fan => "the fan".to_owned(),
                _ => ask.things().name(it),
            };
            match tape::place(&name, place) {
                Some(cannot) => found.push(cannot),
                None => {
                    let system = ask.things().owner(it);
                    places::straight_tape(ask, &name, place, system, |ask, along| {
                        places::coordinate(ask, it, along)
                    });
                }
            }
        }
    }
    found
}
