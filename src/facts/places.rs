//! Where things are: each coordinate from whatever was measured, by tape or otherwise.
//!
//! A coordinate is worked out by itself, so that a height can be known where the place in plan is not. Several
//! measurements of one coordinate are held against each other.

use std::collections::BTreeMap;
use std::rc::Rc;

use crate::base::number::{Dimension, Number};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::geometry::PlanPoint;
use crate::design::model::building::Space;
use crate::design::model::extent::Until;
use crate::design::model::fan::Discharge;
use crate::design::model::foundation::Area;
use crate::design::model::names::AreaOrSpace;
use crate::design::model::place::{FromWalls, Place};
use crate::design::model::suction::SuctionPoint;
use crate::yaml::entry::{Entry, Here};
use crate::yaml::name::NameOf;

use super::ask::Ask;
use super::catalogue::Entries;
use super::extents::{self, goes_until};
use super::heights::{self, Near};
use super::kinds::Kind;
use super::place::{Of, at, of_anything};
use super::roofs::{self, Stands};
use super::statements::{Statement, settle};
use super::things::{kind_of, thing};
use super::walls::{area_called, off_walls};

/// Along which axis.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) enum Along {
    /// East of the origin.
    East,
    /// North of the origin.
    North,
    /// Up from the origin.
    Up,
}

impl Along {
    /// What a coordinate along it is called.
    pub(super) fn in_words(self) -> &'static str {
        match self {
            Along::East => "place east of the origin",
            Along::North => "place north of the origin",
            Along::Up => "height above the origin",
        }
    }
}

/// What the place of a part of the pipe is read from. Each of them may be taped from another, or from what stands about
/// it, so that any may rest on all.
pub(super) const PLACES: Entries = &[
    "systems.*.fan",
    "systems.*.fan.at",
    "systems.*.fan.at.**",
    "systems.*.fan.in",
    "systems.*.runs.*.from",
    "systems.*.runs.*.to",
    "systems.*.runs.*.up",
    "systems.*.runs.*.down",
    "systems.*.runs.*.north",
    "systems.*.runs.*.south",
    "systems.*.runs.*.east",
    "systems.*.runs.*.west",
    "systems.*.runs.*.points",
    "systems.*.runs.*.slope",
    "systems.*.runs.*.through",
    "systems.*.discharge.at",
    "systems.*.discharge.at.**",
    "systems.*.discharge.height",
    "systems.*.discharge.height.**",
    "systems.*.discharge.above_roof",
    "systems.*.discharge.above_roof_edge",
    "systems.*.discharge.above_ground",
    "systems.*.discharge.side",
    "systems.*.suction_points.*.in",
    "systems.*.suction_points.*.at",
    "systems.*.suction_points.*.at.**",
    "systems.*.suction_points.*.from_walls",
    "systems.*.suction_points.*.from_walls.**",
    "systems.*.suction_points.*.pit",
    "systems.*.suction_points.*.pit.depth",
    "systems.*.suction_points.*.sump",
    "foundation.areas.*.in",
    "foundation.areas.*.kind",
    "foundation.areas.*.outline",
    "foundation.areas.*.size",
    "foundation.areas.*.corner",
    "foundation.areas.*.thickness",
    "foundation.areas.*.top",
    "foundation.areas.*.top.**",
    "foundation.areas.*.soil",
    "foundation.areas.*.soil.**",
    "foundation.sumps.*.in",
    "foundation.sumps.*.at",
    "foundation.sumps.*.at.**",
    "foundation.sumps.*.from_walls",
    "foundation.sumps.*.from_walls.**",
    "foundation.sumps.*.lid",
    "foundation.sumps.*.lid.top",
    "foundation.sumps.*.lid.top.**",
    "foundation.drains.*.at",
    "foundation.drains.*.at.**",
    "building.spaces.*.floor",
    "building.spaces.*.floor.**",
    "building.spaces.*.ceiling",
    "building.spaces.*.ceiling.**",
    "building.spaces.*.outline",
];

/// A coordinate of a fan, a discharge, a suction point, or the end of a run.
pub(super) fn coordinate(ask: &mut Ask<'_>, it: Thing, along: Along) -> Answer<Number> {
    let name = match along {
        Along::East => "east",
        Along::North => "north",
        Along::Up => "up",
    };
    match kind_of(it) {
        Some(Kind::Fan) => ask.between(name, it, |ask| fan(ask, it, along)),
        Some(Kind::Discharge) => ask.between(name, it, |ask| discharge(ask, it, along)),
        Some(Kind::SuctionPoint) => ask.between(name, it, |ask| suction_point(ask, it, along)),
        Some(Kind::Run) => ask.between(name, it, |ask| run_end(ask, it, along)),
        Some(Kind::Sump) => ask.between(name, it, |ask| sump(ask, it, along)),
        Some(Kind::Drain) => ask.between(name, it, |ask| drain(ask, it, along)),
        Some(Kind::TestHole) => ask.between(name, it, |ask| test_hole(ask, it, along)),
        _ => ask.cannot(it, "its place is not worked out"),
    }
}

/// Where a thing is in plan, when it is known exactly.
pub(super) fn plan_of(ask: &mut Ask<'_>, it: Thing) -> Option<PlanPoint> {
    let (east, north) = ask.choosing(|ask| {
        (coordinate(ask, it, Along::East).value(), coordinate(ask, it, Along::North).value())
    });
    let (east, north) = (east?, north?);
    Some(PlanPoint::new(east.as_exact()?.clone(), north.as_exact()?.clone()))
}

fn fan(ask: &mut Ask<'_>, it: Thing, along: Along) -> Answer<Number> {
    let Some(fan) = ask.things().fans.get(it.number as usize).copied() else {
        return ask.cannot(it, "it is not in the file");
    };
    let space = super::fan::fan_space(ask, it);
    let of = Of { system: Some(fan.owner), space: Some(space), it: Some(it), area: None };
    let found = at(ask, &fan.it.here, &fan.it.at, along, &of);
    settle_at(ask, it, along, found, || fan.it.at.want(&fan.it.here))
}

/// Statements of one coordinate of a thing, settled.
fn settle_at<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    along: Along,
    found: Vec<Statement<'d>>,
    none: impl FnOnce() -> Missing,
) -> Answer<Number> {
    let end = if kind_of(it) == Some(Kind::Run) { "the end of " } else { "" };
    let what = |ask: &Ask<'d>| format!("the {} of {end}{}", along.in_words(), ask.things().name(it));
    settle(ask, what, Dimension::LENGTH, found, none)
}

/// The runs that end in a discharge or at a suction point.
fn runs_to(ask: &mut Ask<'_>, system: u32, end: &str) -> Vec<Thing> {
    let ends = ask.between("where runs end", thing(Kind::System, system), |ask| {
        let mut ends: BTreeMap<String, Vec<Thing>> = BTreeMap::new();
        for one in ask.things().owned(Kind::Run, system) {
            let Some(run) = ask.things().runs.get(one.number as usize).map(|run| run.it) else { continue };
            if let Some(to) = ask.peek(&run.here, &run.to) {
                ends.entry(to.as_str().to_owned()).or_default().push(one);
            }
        }
        Answer::known(Rc::new(ends))
    });
    ends.value().and_then(|ends| ends.get(end).cloned()).unwrap_or_default()
}

/// The run that ends in a discharge, or that is drawn from there on.
pub(super) fn run_to_discharge(ask: &mut Ask<'_>, discharge: Thing) -> Option<Thing> {
    let system = ask.things().owner(discharge)?;
    if let Some(run) = runs_to(ask, system, "discharge").first() {
        return Some(*run);
    }
    let all = ask.things().owned(Kind::Run, system);
    all.into_iter().find(|run| {
        let run = ask.things().runs.get(run.number as usize).map(|run| run.it);
        run.is_some_and(|run| {
            ask.read(&run.here, &run.from).value().flatten().is_some_and(|from| from.as_str() == "discharge")
        })
    })
}

fn discharge(ask: &mut Ask<'_>, it: Thing, along: Along) -> Answer<Number> {
    let Some(member) = ask.things().discharges.get(it.number as usize).copied() else {
        return ask.cannot(it, "it is not in the file");
    };
    let (record, here) = (member.it, &member.it.here);
    let of =
        Of { system: Some(member.owner), space: None, it: (along == Along::Up).then_some(it), area: None };
    let mut found = Vec::new();
    if along == Along::Up {
        let near = near(ask, it);
        if !record.height.is_missing() {
            found.push(ask.statement(record.height.want(here), |ask| {
                heights::level_near(ask, here, &record.height, &near)
            }));
        } else {
            let _ = ask.read(here, &record.height);
        }
        let edge = |ask: &mut Ask<'_>| heights::nearest_edge(ask, &near);
        let ground = |ask: &mut Ask<'_>| heights::nearest_ground(ask, &near);
        found.extend(heights::counted(ask, here, &record.above_roof_edge, edge, true));
        found.extend(heights::counted(ask, here, &record.above_ground, ground, true));
        found.extend(above_the_roof(ask, it, record));
    }
    found.extend(at(ask, here, &record.at, along, &of));
    for run in runs_to(ask, member.owner, "discharge") {
        let Some(record) = ask.things().runs.get(run.number as usize).map(|run| run.it) else { continue };
        if goes_until(record, Until::Discharge) {
            continue;
        }
        let want = extents::way(record, along).want(&record.here);
        found.push(ask.statement(want, |ask| coordinate(ask, run, along)));
    }
    let want = if along == Along::Up { record.height.want(here) } else { record.at.want(here) };
    settle_at(ask, it, along, found, || want)
}

/// What a discharge says by how high it stands above the roof at the uphill side of its pipe, where the roof there can
/// be told: so much above the roof under its middle, and above what the roof rises over half the width of the pipe.
fn above_the_roof<'d>(ask: &mut Ask<'d>, it: Thing, record: &'d Discharge) -> Option<Statement<'d>> {
    let (here, entry) = (&record.here, &record.above_roof);
    let closely = heights::counted_if_told(ask, here, entry, |ask| uphill_of(ask, it));
    if closely.is_some() || !ask.design().is_overruled(&here.path.key(entry.key)) {
        return closely;
    }
    // It was built to another height above the roof than designed: the height that was designed is no longer the
    // outlet's, and of the roof there is known no more than that it lies between its lowest edge and its ridge.
    let roof = |ask: &mut Ask<'d>| {
        let reach = heights::all_edges(ask).both(heights::ridge(ask));
        reach.map(|(edges, ridge)| edges.lowest.hull(&ridge))
    };
    let why = "it was built to another height above the roof than designed; measure how high the outlet is"
        .to_owned();
    let again = Missing { reason: Reason::NotComputable(why), ..record.height.want(here) };
    let mut about = heights::counted(ask, here, entry, roof, true)?;
    about.value = match about.value {
        Answer::Known { value, .. } => Answer::Known { value, doubts: vec![again] },
        Answer::Unknown(_) => Answer::missing(again),
    };
    Some(about)
}

/// The height of the roof at the uphill side of the pipe of a discharge.
pub(super) fn uphill_of(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let stands = Stands { east: coordinate(ask, it, Along::East), north: coordinate(ask, it, Along::North) };
    let surface = roofs::height_at(ask, &stands);
    let rise =
        roofs::steepest(ask).both(super::outlet::radius(ask, it)).map(|(pitch, radius)| &pitch * &radius);
    surface.both(rise).map(|(surface, rise)| surface.hull(&(&surface + &rise)))
}

/// Where a discharge is in plan, for choosing the nearest of several.
pub(super) fn near(ask: &mut Ask<'_>, discharge: Thing) -> Near {
    let member = ask.things().discharges.get(discharge.number as usize).copied();
    let side =
        member.and_then(|member| ask.read(&member.it.here, &member.it.side).value().flatten().copied());
    Near { plan: plan_of(ask, discharge), side }
}

/// The entry that says where a suction point is: its own, or that of the sump on whose lid it stands.
pub(super) fn lies_in<'d>(
    ask: &mut Ask<'d>,
    point: &'d SuctionPoint,
) -> (&'d Here, &'d Entry<NameOf<AreaOrSpace>>) {
    let own = (&point.here, &point.space);
    if !point.space.is_missing() {
        return own;
    }
    let name = ask.peek(&point.here, &point.sump);
    let sump = name.and_then(|name| ask.design().foundation.sumps.thing(name.as_str()));
    match sump.filter(|sump| !sump.space.is_missing()) {
        Some(sump) => (&sump.here, &sump.space),
        None => own,
    }
}

/// The area in which a suction point is: the one it names, or the one over which the space lies that it names.
pub(super) fn area_of<'d>(ask: &mut Ask<'d>, point: &'d SuctionPoint) -> Answer<&'d Area> {
    let (here, space) = lies_in(ask, point);
    let want = space.want(here);
    ask.value(here, space).then(|name| area_called(ask, name.as_str(), want))
}

fn suction_point(ask: &mut Ask<'_>, it: Thing, along: Along) -> Answer<Number> {
    let Some(member) = ask.things().suction_points.get(it.number as usize).copied() else {
        return ask.cannot(it, "it is not in the file");
    };
    let (record, here) = (member.it, &member.it.here);
    let area = area_of(ask, record);
    let of = Of { system: Some(member.owner), space: None, it: None, area: Some(area.clone()) };
    let mut found = at(ask, here, &record.at, along, &of);
    found.extend(off_walls(ask, here, &record.from_walls, along, area));
    found.extend(of_its_sump(ask, record, along));
    for run in runs_to(ask, member.owner, member.name) {
        let Some(record) = ask.things().runs.get(run.number as usize).map(|run| run.it) else { continue };
        let want = extents::way(record, along).want(&record.here);
        found.push(ask.statement(want, |ask| coordinate(ask, run, along)));
    }
    settle_at(ask, it, along, found, || record.at.want(here))
}

/// What the place of the sump says, through whose lid a suction point draws.
fn of_its_sump<'d>(ask: &mut Ask<'d>, point: &'d SuctionPoint, along: Along) -> Vec<Statement<'d>> {
    let foundation = &ask.design().foundation;
    let Some(sump) = point.sump.known().and_then(|name| foundation.sumps.thing(name.as_str())) else {
        return Vec::new();
    };
    // The pipe comes through the lid, which is wider than the pipe and flush with the floor or not.
    if along == Along::Up || (sump.at.is_missing() && sump.from_walls.is_missing()) {
        return Vec::new();
    }
    let _ = ask.read(&point.here, &point.sump);
    let want = sump.space.want(&sump.here);
    let area = ask.value(&sump.here, &sump.space).then(|name| area_called(ask, name.as_str(), want));
    let of = Of { system: None, space: None, it: None, area: Some(area.clone()) };
    let mut found = at(ask, &sump.here, &sump.at, along, &of);
    found.extend(off_walls(ask, &sump.here, &sump.from_walls, along, area));
    // How far from its middle the pipe can stand: half its width.
    let width = sump.width.known().map(|width| width.number().high()).unwrap_or_default();
    let half = width.checked_div(&crate::base::number::Ratio::from(2)).unwrap_or_default();
    found.into_iter().filter(|_| !sump.width.is_missing()).map(|one| one.off_by_more(&half)).collect()
}

fn sump(ask: &mut Ask<'_>, it: Thing, along: Along) -> Answer<Number> {
    let Some(sump) = ask.things().sumps.get(it.number as usize).copied() else {
        return ask.cannot(it, "it is not in the file");
    };
    let (here, area) = (&sump.it.here, sump.it.space.known().map(|area| area.as_str()));
    of_the_rest(ask, sump.name, here, &sump.it.at, Some(&sump.it.from_walls), area, along)
}

fn drain(ask: &mut Ask<'_>, it: Thing, along: Along) -> Answer<Number> {
    let Some(drain) = ask.things().drains.get(it.number as usize).copied() else {
        return ask.cannot(it, "it is not in the file");
    };
    let (here, area) = (&drain.it.here, drain.it.space.known().map(|area| area.as_str()));
    of_the_rest(ask, drain.name, here, &drain.it.at, None, area, along)
}

fn test_hole(ask: &mut Ask<'_>, it: Thing, along: Along) -> Answer<Number> {
    let Some(hole) = ask.things().test_holes.get(it.number as usize).copied() else {
        return ask.cannot(it, "it is not in the file");
    };
    let (here, area) = (&hole.it.here, hole.it.area.known().map(|area| area.as_str()));
    of_the_rest(ask, hole.name, here, &hole.it.at, Some(&hole.it.from_walls), area, along)
}

/// Settles a straight tape from another thing to a place with the distance between the two, where both can be told.
pub(super) fn straight_tape<'d>(
    ask: &mut Ask<'d>,
    name: &str,
    place: &'d Place,
    system: Option<u32>,
    of: impl Fn(&mut Ask<'d>, Along) -> Answer<Number>,
) {
    let here = &place.here;
    let (Some(from), false) = (place.from.known(), place.straight.is_missing()) else { return };
    let about = Of { system, space: None, it: None, area: None };
    let taped = ask.statement(place.straight.want(here), |ask| ask.quantity(here, &place.straight));
    let worked_out = ask.statement(place.from.want(here), |ask| {
        let _ = ask.read(here, &place.from);
        let mut squares = Vec::new();
        for along in [Along::East, Along::North, Along::Up] {
            let other = of_anything(ask, from.as_str(), along, &about, &place.from.want(here));
            squares.push(of(ask, along).both(other).map(|(one, other)| (&one - &other).squared()));
        }
        Answer::all(squares).then(|squares| match Number::sum(&squares).sqrt() {
            Some(distance) => Answer::known(distance),
            None => Answer::missing(place.straight.want(here)),
        })
    });
    let what = |_: &Ask<'d>| format!("the straight distance from {} to {name}", from.as_str());
    let _ = settle(ask, what, Dimension::LENGTH, vec![taped, worked_out], || place.straight.want(here));
}

/// A coordinate of something that no fact speaks of, for the sake of what disagrees about it.
pub(super) fn of_the_rest<'d>(
    ask: &mut Ask<'d>,
    name: &str,
    here: &'d Here,
    place: &'d Entry<Place>,
    walls: Option<&'d Entry<FromWalls>>,
    area: Option<&str>,
    along: Along,
) -> Answer<Number> {
    let want = place.want(here);
    let lies_in = area.map(|area| area_called(ask, area, want.clone()));
    let space = area.and_then(|name| ask.things().space_named(name)).map(Answer::known);
    let of = Of { system: None, space, it: None, area: lies_in.clone() };
    let mut found = at(ask, here, place, along, &of);
    if let (Some(walls), Some(area)) = (walls, lies_in) {
        found.extend(off_walls(ask, here, walls, along, area));
    }
    let what = |_: &Ask<'d>| format!("the {} of {name}", along.in_words());
    settle(ask, what, Dimension::LENGTH, found, || want)
}

/// A coordinate of the middle of an opening or intake that is seen from a discharge.
pub(super) fn middle<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    here: &'d Here,
    place: &'d Entry<Place>,
    into: Option<&'d Entry<NameOf<Space>>>,
    along: Along,
) -> Answer<Number> {
    let system = ask.things().system_of(it).map(|system| system.number);
    let name = into.map(|into| (into.want(here), ask.value(here, into)));
    let space = name.clone().map(|(want, name)| name.then(|name| ask.space_called(want, name.as_str())));
    let area = name.map(|(want, name)| name.then(|name| area_called(ask, name.as_str(), want)));
    let of = Of { system, space, it: None, area };
    let found = at(ask, here, place, along, &of);
    let what = |ask: &Ask<'d>| format!("the {} of the middle of {}", along.in_words(), ask.things().name(it));
    settle(ask, what, Dimension::LENGTH, found, || place.want(here))
}

/// A coordinate of the beginning of a run.
pub(super) fn run_start(ask: &mut Ask<'_>, it: Thing, along: Along) -> Answer<Number> {
    let Some(member) = ask.things().runs.get(it.number as usize).copied() else {
        return ask.cannot(it, "it is not in the file");
    };
    let (run, here) = (member.it, &member.it.here);
    let first = ask.read(here, &run.points).value().flatten().and_then(|points| points.members().next());
    if let Some(point) = first {
        return point_coordinate(ask, point, along);
    }
    let about = Of { system: Some(member.owner), space: None, it: None, area: None };
    let want = run.from.want(here);
    ask.value(here, &run.from).then(|name| of_anything(ask, name.as_str(), along, &about, &want))
}

pub(super) fn point_coordinate<'d>(
    ask: &mut Ask<'d>,
    point: &'d crate::yaml::shape::Point,
    along: Along,
) -> Answer<Number> {
    let entry = match along {
        Along::East => &point.x,
        Along::North => &point.y,
        Along::Up => &point.z,
    };
    ask.quantity(&point.here, entry)
}

fn run_end(ask: &mut Ask<'_>, it: Thing, along: Along) -> Answer<Number> {
    let Some(member) = ask.things().runs.get(it.number as usize).copied() else {
        return ask.cannot(it, "it is not in the file");
    };
    let (run, here) = (member.it, &member.it.here);
    let last = ask.read(here, &run.points).value().flatten().and_then(|points| points.members().last());
    let mut found = Vec::new();
    if let Some(point) = last {
        found.push(ask.statement(run.points.want(here), |ask| point_coordinate(ask, point, along)));
    }
    if last.is_none() || extents::says_a_way(run) {
        let want = extents::way(run, along).want(here);
        found.push(ask.statement(want, |ask| match extents::goes_to(ask, it, run, along) {
            Some(met) => met,
            None => {
                let start = run_start(ask, it, along);
                start.both(extents::moved(ask, it, run, along)).map(|(start, by)| &start + &by)
            }
        }));
    }
    settle_at(ask, it, along, found, || run.points.want(here))
}
