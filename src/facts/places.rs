//! Where things are: each coordinate from whatever was measured, by tape or otherwise.
//!
//! A coordinate is worked out by itself, so that a height can be known where the place in plan is not. Several
//! measurements of one coordinate are held against each other.

use crate::base::number::{Dimension, Number};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::geometry::PlanPoint;
use crate::design::model::extent::Until;
use crate::design::model::foundation::Area;
use crate::design::model::place::{FromWalls, Place};
use crate::design::model::suction::SuctionPoint;
use crate::yaml::entry::{Entry, Here};

use super::ask::Ask;
use super::catalogue::Entries;
use super::extents::{self, goes_until};
use super::heights::{self, Near};
use super::kinds::Kind;
use super::statements::{Statement, settle};
use super::things::kind_of;
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

/// What the place of a fan is read from.
pub(super) const FAN_PLACE: Entries = &[
    "systems.*.fan.at",
    "systems.*.fan.at.**",
    "systems.*.fan.in",
    "building.spaces.*.floor",
    "building.spaces.*.floor.**",
];

/// What the way of the runs is read from.
pub(super) const RUN_PLACES: Entries = &[
    "systems.*.runs.*.from",
    "systems.*.runs.*.to",
    "systems.*.runs.*.up",
    "systems.*.runs.*.down",
    "systems.*.runs.*.north",
    "systems.*.runs.*.south",
    "systems.*.runs.*.east",
    "systems.*.runs.*.west",
    "systems.*.runs.*.points",
    "systems.*.runs.*.points.**",
    "systems.*.runs.*.slope",
    "systems.*.runs.*.through",
    "systems.*.fan",
    "systems.*.suction_points.**",
    "foundation.areas.**",
    "foundation.sumps.**",
    "building.spaces.**",
    "building.roof",
    "building.roof.**",
];

/// What the place of a discharge is read from.
pub(super) const DISCHARGE_PLACE: Entries = &[
    "systems.*.discharge.at",
    "systems.*.discharge.at.**",
    "systems.*.discharge.height",
    "systems.*.discharge.height.**",
    "systems.*.discharge.above_roof_edge",
    "systems.*.discharge.above_ground",
    "systems.*.discharge.side",
    "building.roof.**",
    "site.ground",
    "site.ground.**",
];

/// What a place is the place of.
struct Of<'d> {
    /// The system it belongs to, whose fan and discharge it may be measured from.
    system: Option<u32>,
    /// The space it is in, for heights above the floor.
    space: Option<Answer<Thing>>,
    /// The thing itself, for choosing the nearest ground and roof edge.
    it: Option<Thing>,
    /// The area it is in, for distances off the walls.
    area: Option<Answer<&'d Area>>,
}

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

fn at<'d>(
    ask: &mut Ask<'d>,
    of: &'d Here,
    entry: &'d Entry<Place>,
    along: Along,
    about: &Of<'d>,
) -> Vec<Statement<'d>> {
    match ask.read(of, entry) {
        Answer::Known { value: Some(place), .. } => place_statements(ask, place, along, about),
        Answer::Known { .. } => Vec::new(),
        Answer::Unknown(missing) if entry.is_missing() => {
            let _ = missing;
            Vec::new()
        }
        Answer::Unknown(missing) => vec![ask.statement(entry.want(of), |_| Answer::Unknown(missing))],
    }
}

/// What a place says of one coordinate.
fn place_statements<'d>(
    ask: &mut Ask<'d>,
    place: &'d Place,
    along: Along,
    about: &Of<'d>,
) -> Vec<Statement<'d>> {
    let here = &place.here;
    let mut found = Vec::new();
    if !place.point.is_missing() {
        found.push(ask.statement(place.point.want(here), |ask| {
            ask.value(here, &place.point).then(|point| {
                let entry = match along {
                    Along::East => &point.x,
                    Along::North => &point.y,
                    Along::Up => &point.z,
                };
                ask.quantity(&point.here, entry)
            })
        }));
    }
    if !place.plan.is_missing() && along != Along::Up {
        found.push(ask.statement(place.plan.want(here), |ask| {
            ask.value(here, &place.plan).then(|point| {
                let entry = if along == Along::East { &point.x } else { &point.y };
                ask.quantity(&point.here, entry)
            })
        }));
    }
    if along == Along::Up {
        found.extend(heights_of(ask, place, about));
    }
    if let Some(area) = &about.area {
        found.extend(off_walls(ask, here, &place.from_walls, along, area.clone()));
    }
    found.extend(measured_from(ask, place, along, about));
    found
}

fn heights_of<'d>(ask: &mut Ask<'d>, place: &'d Place, about: &Of<'d>) -> Vec<Statement<'d>> {
    let here = &place.here;
    let near = match about.it {
        Some(it) => Near { plan: plan_of(ask, it), side: place.side.known().copied() },
        None => Near::default(),
    };
    let floor = |ask: &mut Ask<'d>| match &about.space {
        Some(space) => space.clone().then(|space| heights::floor_of(ask, space)),
        None => Answer::missing(place.above_floor.want(here)),
    };
    let edge = |ask: &mut Ask<'d>| heights::nearest_edge(ask, &near);
    let mut found = Vec::new();
    found.extend(heights::counted(ask, here, &place.z, |_| Answer::known(Number::whole(0)), true));
    found.extend(heights::counted(
        ask,
        here,
        &place.above_ground,
        |ask| heights::nearest_ground(ask, &near),
        true,
    ));
    found.extend(heights::counted(ask, here, &place.above_floor, floor, true));
    found.extend(heights::counted(ask, here, &place.above_roof_edge, edge, true));
    found.extend(heights::counted(ask, here, &place.below_roof_edge, edge, false));
    found
}

/// What a place says by distances from another thing.
fn measured_from<'d>(
    ask: &mut Ask<'d>,
    place: &'d Place,
    along: Along,
    about: &Of<'d>,
) -> Vec<Statement<'d>> {
    let here = &place.here;
    if place.from.is_missing() {
        return Vec::new();
    }
    let (plus, minus) = match along {
        Along::East => (&place.east, &place.west),
        Along::North => (&place.north, &place.south),
        Along::Up => (&place.up, &place.down),
    };
    let all = [&place.north, &place.south, &place.east, &place.west, &place.up, &place.down];
    if all.into_iter().all(Entry::is_missing) {
        return Vec::new();
    }
    let want = if plus.is_missing() { minus.want(here) } else { plus.want(here) };
    vec![ask.statement(want, |ask| {
        let base = ask
            .value(here, &place.from)
            .then(|name| of_anything(ask, name.as_str(), along, about, &place.from.want(here)));
        let mut moved = base;
        if !plus.is_missing() {
            let by = ask.quantity(here, plus);
            moved = moved.both(by).map(|(base, by)| &base + &by);
        }
        if !minus.is_missing() {
            let by = ask.quantity(here, minus);
            moved = moved.both(by).map(|(base, by)| &base - &by);
        }
        moved
    })]
}

/// A coordinate of a thing that is given by name.
fn of_anything(
    ask: &mut Ask<'_>,
    name: &str,
    along: Along,
    about: &Of<'_>,
    want: &Missing,
) -> Answer<Number> {
    let in_system = |ask: &Ask<'_>, kind: Kind| match about.system {
        Some(system) => ask.things().owned(kind, system).first().copied(),
        None => match ask.things().all(kind).as_slice() {
            [only] => Some(*only),
            _ => None,
        },
    };
    let found = match name {
        "origin" => return Answer::known(Number::whole(0)),
        "fan" => in_system(ask, Kind::Fan),
        "discharge" => in_system(ask, Kind::Discharge),
        name => {
            let things = ask.things();
            let run = things.named(Kind::Run, about.system, name);
            run.or_else(|| things.named(Kind::SuctionPoint, about.system, name))
        }
    };
    match found {
        Some(found) => coordinate(ask, found, along),
        None => {
            let why = format!("where {name} is cannot be worked out");
            Answer::missing(Missing { reason: Reason::NotComputable(why), ..want.clone() })
        }
    }
}

/// The runs that end in a discharge or at a suction point.
fn runs_to(ask: &mut Ask<'_>, system: u32, end: &str) -> Vec<Thing> {
    let all = ask.things().owned(Kind::Run, system);
    all.into_iter()
        .filter(|run| {
            let Some(run) = ask.things().runs.get(run.number as usize).map(|run| run.it) else {
                return false;
            };
            ask.read(&run.here, &run.to).value().flatten().is_some_and(|to| to.as_str() == end)
        })
        .collect()
}

/// The run that ends in a discharge.
pub(super) fn run_to_discharge(ask: &mut Ask<'_>, discharge: Thing) -> Option<Thing> {
    let system = ask.things().owner(discharge)?;
    runs_to(ask, system, "discharge").first().copied()
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

/// Where a discharge is in plan, for choosing the nearest of several.
pub(super) fn near(ask: &mut Ask<'_>, discharge: Thing) -> Near {
    let member = ask.things().discharges.get(discharge.number as usize).copied();
    let side =
        member.and_then(|member| ask.read(&member.it.here, &member.it.side).value().flatten().copied());
    Near { plan: plan_of(ask, discharge), side }
}

/// The area in which a suction point is: the one it names, or the one over which the space lies that it names.
pub(super) fn area_of<'d>(ask: &mut Ask<'d>, point: &'d SuctionPoint) -> Answer<&'d Area> {
    let want = point.space.want(&point.here);
    ask.value(&point.here, &point.space).then(|name| area_called(ask, name.as_str(), want))
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
