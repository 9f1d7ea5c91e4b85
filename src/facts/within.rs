//! Places within an area whose own shape is known, though it is not said where on the site it lies.
//!
//! The size of a slab and what is taped off its walls tell how things lie in it without its corner. That is the frame of the area
//! alone: its west wall is nought east, its south wall nought north. It serves only what asks for places within the area. What is
//! given by the plan of the site has no place in it and asks for the corner; nothing told in it ever meets a place on the site.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::geometry::{Outline, PlanPoint};
use crate::design::model::foundation::Area;
use crate::design::model::place::{FromWalls, Place};
use crate::yaml::entry::{Entry, Here};

use super::ask::Ask;
use super::kinds::Kind;
use super::places::{self, Along};
use super::statements::settle;
use super::things::kind_of;
use super::walls::{self, off_walls_by, reach_of};

/// Whether an area has a size and no corner, so that only the frame of the area alone is left.
pub(super) fn alone<'d>(ask: &mut Ask<'d>, area: &'d Area) -> bool {
    area.outline.is_missing() && area.size.known().is_some() && ask.peek(&area.here, &area.corner).is_none()
}

/// What is missing for a place on the site.
pub(super) fn corner<T>(area: &Area) -> Answer<T> {
    Answer::missing(area.corner.want(&area.here))
}

/// The outline of an area, where it lies on the site or in the frame of the area alone.
pub(super) fn outline<'d>(ask: &mut Ask<'d>, area: &'d Area) -> Answer<Outline> {
    if !alone(ask, area) {
        return walls::outline_of(ask, area);
    }
    let nought = PlanPoint::new(Ratio::ZERO, Ratio::ZERO);
    walls::size_of(ask, area).then(|size| match walls::outline_at(&nought, size) {
        Some(outline) => Answer::known(outline),
        None => Answer::missing(Missing { reason: Reason::Imprecise, ..area.size.want(&area.here) }),
    })
}

/// The area that a suction point or a test hole is in. Where that is not known, what is missing of its place is told too.
pub(super) fn area_of(ask: &mut Ask<'_>, it: Thing) -> Answer<Thing> {
    match ask.one(it, "area") {
        Answer::Unknown(missing) => {
            let east = places::coordinate(ask, it, Along::East);
            let both = east.both(places::coordinate(ask, it, Along::North));
            both.both(Answer::Unknown(missing)).map(|(_, area)| area)
        }
        known => known,
    }
}

/// What says where something lies in plan.
#[derive(Clone, Copy)]
pub(super) struct Taped<'d> {
    pub(super) name: &'d str,
    pub(super) here: &'d Here,
    pub(super) at: &'d Entry<Place>,
    pub(super) from_walls: Option<&'d Entry<FromWalls>>,
}

/// What says where a suction point, a sump or a test hole lies, and in which area.
fn taped<'d>(ask: &mut Ask<'d>, it: Thing) -> Option<(Taped<'d>, Option<&'d Area>)> {
    let at = it.number as usize;
    let of = |name, here, at, from_walls| Taped { name, here, at, from_walls: Some(from_walls) };
    let taped = match kind_of(it)? {
        Kind::SuctionPoint => {
            let point = ask.things().suction_points.get(at).copied()?;
            of(point.name, &point.it.here, &point.it.at, &point.it.from_walls)
        }
        Kind::TestHole => {
            let hole = ask.things().test_holes.get(at).copied()?;
            of(hole.name, &hole.it.here, &hole.it.at, &hole.it.from_walls)
        }
        Kind::Sump => {
            let sump = ask.things().sumps.get(at).copied()?;
            let taped = of(sump.name, &sump.it.here, &sump.it.at, &sump.it.from_walls);
            let want = sump.it.space.want(&sump.it.here);
            let space = ask.value(&sump.it.here, &sump.it.space);
            return Some((taped, space.then(|name| walls::area_called(ask, name.as_str(), want)).value()));
        }
        _ => return None,
    };
    let area = ask.one(it, "area").value();
    let area = area.and_then(|area| ask.things().areas.get(area.number as usize).map(|area| area.it));
    Some((taped, area))
}

/// A coordinate of a suction point, a sump or a test hole, in the frame in which [`outline`] tells an area.
pub(super) fn coordinate<'d>(ask: &mut Ask<'d>, it: Thing, area: &'d Area, along: Along) -> Answer<Number> {
    let on_site = |ask: &mut Ask<'d>| places::coordinate(ask, it, along);
    if !alone(ask, area) {
        return on_site(ask);
    }
    match taped(ask, it).filter(|(_, own)| own.is_some_and(|own| std::ptr::eq(own, area))) {
        Some((taped, _)) => off_own_walls(ask, &taped, area, along, on_site),
        None => on_site(ask).then(|_| corner(area)),
    }
}

/// The same of something that is no thing of its own, said to be in the area of this name.
pub(super) fn coordinate_of<'d>(
    ask: &mut Ask<'d>,
    taped: &Taped<'d>,
    name: &str,
    area: &'d Area,
    along: Along,
) -> Answer<Number> {
    let Taped { here, at, from_walls, .. } = *taped;
    let on_site =
        |ask: &mut Ask<'d>| places::of_the_rest(ask, taped.name, here, at, from_walls, Some(name), along);
    if alone(ask, area) { off_own_walls(ask, taped, area, along, on_site) } else { on_site(ask) }
}

/// Where a suction point, a sump or a test hole lies in plan, in the frame in which [`outline`] tells an area.
pub(super) fn plan<'d>(ask: &mut Ask<'d>, it: Thing, area: &'d Area) -> Answer<PlanPoint> {
    let want = ask.of_thing(it, Reason::Imprecise);
    let (east, north) = (coordinate(ask, it, area, Along::East), coordinate(ask, it, area, Along::North));
    exactly(east, north, want)
}

/// The same of something that is no thing of its own, said to be in the area of this name.
pub(super) fn plan_of<'d>(
    ask: &mut Ask<'d>,
    taped: &Taped<'d>,
    name: &str,
    area: &'d Area,
) -> Answer<PlanPoint> {
    let want = Missing { reason: Reason::Imprecise, ..taped.at.want(taped.here) };
    let mut of = |along| coordinate_of(ask, taped, name, area, along);
    let (east, north) = (of(Along::East), of(Along::North));
    exactly(east, north, want)
}

fn exactly(east: Answer<Number>, north: Answer<Number>, want: Missing) -> Answer<PlanPoint> {
    east.both(north).then(|(east, north)| match (east.as_exact(), north.as_exact()) {
        (Some(x), Some(y)) => Answer::known(PlanPoint::new(x.clone(), y.clone())),
        _ => Answer::missing(want),
    })
}

/// A coordinate in the frame of the area alone, by what is taped off its walls. Without that, what is missing for a place on the site.
fn off_own_walls<'d>(
    ask: &mut Ask<'d>,
    taped: &Taped<'d>,
    area: &'d Area,
    along: Along,
    on_site: impl FnOnce(&mut Ask<'d>) -> Answer<Number>,
) -> Answer<Number> {
    let between = |ask: &mut Ask<'d>| {
        outline(ask, area).then(|outline| match reach_of(&outline, along) {
            Some(reach) => Answer::known(reach),
            None => corner(area),
        })
    };
    let mut found = Vec::new();
    if let Some(place) = ask.peek(taped.here, taped.at) {
        found.extend(off_walls_by(ask, &place.here, &place.from_walls, along, between));
    }
    if let Some(walls) = taped.from_walls {
        found.extend(off_walls_by(ask, taped.here, walls, along, between));
    }
    if found.is_empty() {
        return on_site(ask).then(|_| corner(area));
    }
    let what = |_: &Ask<'d>| {
        let (way, wall) = if along == Along::East { ("east", "west") } else { ("north", "south") };
        format!("the place of {} {way} of the {wall} wall", taped.name)
    };
    settle(ask, what, Dimension::LENGTH, found, || area.corner.want(&area.here))
}
