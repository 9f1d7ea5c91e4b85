//! How far a run goes each way: so far by tape, or up to something.

use crate::base::number::Number;
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::geometry::Heading;
use crate::design::model::extent::{Extent, Until};
use crate::design::model::foundation::Area;
use crate::design::model::pipe::Run;
use crate::design::model::suction::SuctionPoint;
use crate::yaml::entry::Entry;

use super::ask::{Ask, as_stated};
use super::contradictions::extents::not_that_way;
use super::downstream::downstream;
use super::heights::{self, Near};
use super::kinds::Kind;
use super::laid::step_of;
use super::places::{self, Along};
use super::roofs::{self, Stands};
use super::statements::{Statement, half_step, settle};
use super::things::{Member, SpaceMember, space_or_area};
use super::walls::{self, Toward};

/// The six ways that a run can go.
pub(super) fn extents(run: &Run) -> [&Entry<Extent>; 6] {
    [&run.up, &run.down, &run.north, &run.south, &run.east, &run.west]
}

/// Whether a run says by tape which way it goes.
pub(super) fn says_a_way(run: &Run) -> bool {
    extents(run).into_iter().any(|extent| !extent.is_missing())
}

/// The two ways along an axis, the rising one first.
pub(super) fn ways(run: &Run, along: Along) -> [&Entry<Extent>; 2] {
    match along {
        Along::East => [&run.east, &run.west],
        Along::North => [&run.north, &run.south],
        Along::Up => [&run.up, &run.down],
    }
}

/// The entry that says how far a run goes along an axis: the one that is written, or the one for going the first way.
pub(super) fn way(run: &Run, along: Along) -> &Entry<Extent> {
    let [first, second] = ways(run, along);
    if first.is_missing() && !second.is_missing() { second } else { first }
}

/// What a run is said to go up to along an axis, by which entry, and whether that is the rising way.
pub(super) fn until(run: &Run, along: Along) -> Option<(Until, &Entry<Extent>, bool)> {
    let [first, second] = ways(run, along);
    [(first, true), (second, false)].into_iter().find_map(|(entry, rising)| match entry.known() {
        Some(Extent::Until(until)) => Some((*until, entry, rising)),
        _ => None,
    })
}

/// Whether a run says that it goes just as far as something whose own place may rest on the run.
pub(super) fn goes_until(run: &Run, what: Until) -> bool {
    extents(run)
        .into_iter()
        .any(|extent| matches!(extent.known(), Some(Extent::Until(found)) if *found == what))
}

/// Whether something of this sort can lie that way at all.
pub(super) fn can_lie(until: Until, along: Along) -> bool {
    match until {
        Until::Fan | Until::Discharge => true,
        Until::Wall => along != Along::Up,
        Until::Slab
        | Until::Membrane
        | Until::Soil
        | Until::Pit
        | Until::Lid
        | Until::Ceiling
        | Until::Roof => along == Along::Up,
    }
}

/// How far a run goes one way, the rising one along an axis or the other; nothing where nothing is said.
fn one_way<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    run: &'d Run,
    along: Along,
    rising: bool,
) -> Option<Answer<Number>> {
    let [first, second] = ways(run, along);
    let entry = if rising { first } else { second };
    match ask.read(&run.here, entry) {
        Answer::Known { value: Some(Extent::Length(length)), .. } => {
            ask.is_number(Some(&length.quantity.style), step_of(length));
            Some(as_stated(length.number(), || entry.want(&run.here)))
        }
        Answer::Known { value: Some(Extent::Until(_)), .. } => {
            let start = places::run_start(ask, it, along);
            let end = goes_to(ask, it, run, along).unwrap_or_else(|| Answer::missing(entry.want(&run.here)));
            Some(start.both(end).map(|(start, end)| if rising { &end - &start } else { &start - &end }))
        }
        Answer::Known { .. } => Some(Answer::known(Number::whole(0))),
        Answer::Unknown(_) if entry.is_missing() => None,
        Answer::Unknown(missing) => Some(Answer::Unknown(missing)),
    }
}

/// How far a run goes along an axis by the tape, either way; nothing where nothing is said.
pub(super) fn along_axis<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    run: &'d Run,
    along: Along,
) -> Option<Answer<Number>> {
    let (plus, minus) = (one_way(ask, it, run, along, true), one_way(ask, it, run, along, false));
    if plus.is_none() && minus.is_none() {
        return None;
    }
    let zero = || Answer::known(Number::whole(0));
    Some(plus.unwrap_or_else(zero).both(minus.unwrap_or_else(zero)).map(|(plus, minus)| &plus - &minus))
}

fn level_way<'d>(ask: &mut Ask<'d>, it: Thing, run: &'d Run, along: Along) -> Answer<Number> {
    along_axis(ask, it, run, along).unwrap_or_else(|| Answer::known(Number::whole(0)))
}

/// How far a run reaches level, along the pipe as seen from above.
pub(super) fn level_reach<'d>(ask: &mut Ask<'d>, it: Thing, run: &'d Run) -> Answer<Number> {
    let east = level_way(ask, it, run, Along::East);
    let north = level_way(ask, it, run, Along::North);
    east.both(north).then(|(east, north)| match (&east.squared() + &north.squared()).sqrt() {
        Some(reach) => Answer::known(reach),
        None => Answer::missing(run.length.want(&run.here)),
    })
}

/// How far the end of a run lies from its beginning along an axis, by the tape. A level run rises or falls by its
/// slope: away from the fan on the discharge side, toward the suction points on the other.
pub(super) fn moved<'d>(ask: &mut Ask<'d>, it: Thing, run: &'d Run, along: Along) -> Answer<Number> {
    let here = &run.here;
    if !says_a_way(run) {
        return Answer::missing(run.points.want(here));
    }
    if along != Along::Up {
        return level_way(ask, it, run, along);
    }
    if let Some(plumb) = along_axis(ask, it, run, Along::Up) {
        return plumb;
    }
    let reach = level_reach(ask, it, run);
    let slope = ask.quantity(here, &run.slope);
    if let (Answer::Known { value: reach, .. }, Some(slope)) = (&reach, run.slope.known()) {
        let off = half_step(&run.slope);
        ask.is_number(Some(&slope.quantity.style), &reach.high() * &off);
    }
    let fall = reach.both(slope).map(|(reach, slope)| &reach * &slope);
    fall.both(downstream(ask, it)).map(|(by, downstream)| if downstream { by } else { by.negate() })
}

/// The coordinate to which a run goes where it says up to what; nothing where it says no such thing along this axis.
/// Not known where that cannot be.
pub(super) fn goes_to<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    run: &'d Run,
    along: Along,
) -> Option<Answer<Number>> {
    let (_, entry, _) = until(run, along)?;
    if let Some(cannot) = ask.aside("not that way", it, |ask| not_that_way(ask, it, run, along)) {
        return Some(cannot.unknown());
    }
    let found = what_it_meets(ask, it, run, along)?;
    let what = |ask: &Ask<'d>| format!("the {} of the end of {}", along.in_words(), ask.things().name(it));
    let want = entry.want(&run.here);
    Some(settle(ask, what, crate::base::number::Dimension::LENGTH, found, || want))
}

/// What is said of where that lies which a run goes up to along an axis.
pub(super) fn what_it_meets<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    run: &'d Run,
    along: Along,
) -> Option<Vec<Statement<'d>>> {
    let (until, entry, rising) = until(run, along)?;
    let want = entry.want(&run.here);
    let owner = ask.things().owner(it)?;
    let cannot = |why: &str| {
        Answer::missing(Missing { reason: Reason::NotComputable(why.to_owned()), ..want.clone() })
    };
    let alone = |ask: &mut Ask<'d>, work: &dyn Fn(&mut Ask<'d>) -> Answer<Number>| {
        vec![ask.statement(want.clone(), work)]
    };
    if !can_lie(until, along) {
        return Some(alone(ask, &|_| cannot("no such thing lies that way")));
    }
    Some(match until {
        Until::Fan | Until::Discharge => alone(ask, &|ask| {
            let kind = if until == Until::Fan { Kind::Fan } else { Kind::Discharge };
            match ask.things().owned(kind, owner).first().copied() {
                Some(it) => places::coordinate(ask, it, along),
                None => cannot("there is none"),
            }
        }),
        Until::Slab | Until::Membrane | Until::Soil => alone(ask, &|ask| {
            area_below(ask, run, owner, &want).then(|area| {
                let entry = if until == Until::Slab { &area.top } else { &area.soil };
                heights::level_near(ask, &area.here, entry, &Near::default())
            })
        }),
        Until::Pit => alone(ask, &|ask| bottom_of_pit(ask, run, owner)),
        Until::Lid => alone(ask, &|ask| top_of_lid(ask, run, owner)),
        Until::Wall => match last_space(ask, run, owner) {
            Answer::Unknown(lacks) => alone(ask, &|_| Answer::Unknown(lacks.clone())),
            Answer::Known { value: space, .. } => {
                let toward = toward(it, along, rising);
                let both = [Along::East, Along::North]
                    .iter()
                    .all(|level| matches!(until_of(run, *level), Some(Until::Wall)));
                let toward = if both { Toward { across: no_side, ..toward } } else { toward };
                walls::wall_that_way(ask, space, &toward, &want)
            }
        },
        Until::Ceiling => alone(ask, &|ask| {
            last_space(ask, run, owner).then(|space| match ask.things().space_named(space) {
                Some(space) => match ask.things().space(space) {
                    Some(SpaceMember::Named(..)) => heights::ceiling_of(ask, space),
                    _ => cannot("the open air has no ceiling"),
                },
                None => cannot("no space of that name lies there"),
            })
        }),
        Until::Roof => {
            let stands = Stands {
                east: places::coordinate(ask, it, Along::East),
                north: places::coordinate(ask, it, Along::North),
            };
            roofs::surface(ask, &stands)
        }
    })
}

fn until_of(run: &Run, along: Along) -> Option<Until> {
    until(run, along).map(|(until, ..)| until)
}

/// The way of a run that ends at a wall.
fn toward<'d>(it: Thing, along: Along, rising: bool) -> Toward<'d> {
    let east: fn(&mut Ask<'d>, Thing) -> Answer<Number> = |ask, it| places::run_start(ask, it, Along::East);
    let north: fn(&mut Ask<'d>, Thing) -> Answer<Number> = |ask, it| places::run_start(ask, it, Along::North);
    let to_east: fn(&mut Ask<'d>, Thing) -> Answer<Number> =
        |ask, it| places::coordinate(ask, it, Along::East);
    let to_north: fn(&mut Ask<'d>, Thing) -> Answer<Number> =
        |ask, it| places::coordinate(ask, it, Along::North);
    match (along, rising) {
        (Along::East, true) => Toward { heading: Heading::East, from: east, across: to_north, it },
        (Along::East, false) => Toward { heading: Heading::West, from: east, across: to_north, it },
        (_, true) => Toward { heading: Heading::North, from: north, across: to_east, it },
        (_, false) => Toward { heading: Heading::South, from: north, across: to_east, it },
    }
}

/// How far to the side lies what goes into a corner, where that is not told by the walls alone.
fn no_side(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    ask.cannot(it, "it goes to a wall both ways, and which corner that is cannot be told")
}

/// The suction point at which a run ends.
fn suction_point<'d>(ask: &mut Ask<'d>, run: &'d Run, owner: u32) -> Answer<Member<'d, SuctionPoint>> {
    let want = run.to.want(&run.here);
    ask.value(&run.here, &run.to).then(|to| {
        let found = ask.things().named(Kind::SuctionPoint, Some(owner), to.as_str());
        match found.and_then(|it| ask.things().suction_points.get(it.number as usize)) {
            Some(point) => Answer::known(*point),
            None => {
                let why = "it does not end at a suction point".to_owned();
                Answer::missing(Missing { reason: Reason::NotComputable(why), ..want })
            }
        }
    })
}

/// The space in which a run ends: the last that it passes, or else that of the suction point it ends at.
fn last_space<'d>(ask: &mut Ask<'d>, run: &'d Run, owner: u32) -> Answer<&'d str> {
    let through = ask.value(&run.here, &run.through);
    if let (Answer::Known { .. }, Some(last)) = (&through, run.through.members().last()) {
        return Answer::known(last.as_str());
    }
    if !run.to.is_missing()
        && let Answer::Known { value: point, .. } = suction_point(ask, run, owner)
    {
        let (here, space) = places::lies_in(ask, point.it);
        return ask.value(here, space).map(|name| name.as_str());
    }
    Answer::missing(run.through.want(&run.here))
}

/// The height of the bottom of the pit of the suction point at which a run ends: its depth below the underside of
/// the slab.
fn bottom_of_pit<'d>(ask: &mut Ask<'d>, run: &'d Run, owner: u32) -> Answer<Number> {
    suction_point(ask, run, owner).then(|point| {
        let (point, want) = (point.it, point.it.pit.want(&point.it.here));
        if point.pit.is_none() {
            let _ = ask.read(&point.here, &point.pit);
            let why = "no pit is dug there".to_owned();
            return Answer::missing(Missing { reason: Reason::NotComputable(why), ..want });
        }
        let depth = ask.quantity_inside(&point.here, &point.pit, "depth", |pit| (&pit.here, &pit.depth));
        let slab = places::area_of(ask, point).then(|area| {
            let top = heights::level_near(ask, &area.here, &area.top, &Near::default());
            top.both(ask.quantity(&area.here, &area.thickness)).map(|(top, thick)| &top - &thick)
        });
        slab.both(depth).map(|(underside, depth)| &underside - &depth)
    })
}

/// The height of the top of the lid of the sump from which the suction point draws at which a run ends.
fn top_of_lid<'d>(ask: &mut Ask<'d>, run: &'d Run, owner: u32) -> Answer<Number> {
    suction_point(ask, run, owner).then(|point| {
        let (here, sump) = (&point.it.here, &point.it.sump);
        ask.value(here, sump).then(|name| match ask.design().foundation.sumps.thing(name.as_str()) {
            Some(found) => ask
                .value_inside(&found.here, &found.lid, "top", |lid| (&lid.here, &lid.top))
                .then(|_| match found.lid.known() {
                    Some(lid) => heights::level_in(ask, &lid.here, &lid.top, &Near::default(), |ask| {
                        space_or_area(ask, &found.here, &found.space)
                            .then(|space| heights::floor_of(ask, space))
                    }),
                    None => Answer::missing(found.lid.want(&found.here)),
                }),
            None => Answer::missing(sump.want(here)),
        })
    })
}

/// The area a run goes down to: that of the suction point it ends at, or of the last space it passes.
fn area_below<'d>(ask: &mut Ask<'d>, run: &'d Run, owner: u32, want: &Missing) -> Answer<&'d Area> {
    if let Some(to) = run.to.known()
        && let Some(it) = ask.things().named(Kind::SuctionPoint, Some(owner), to.as_str())
        && let Some(point) = ask.things().suction_points.get(it.number as usize).map(|point| point.it)
    {
        let _ = ask.read(&run.here, &run.to);
        return places::area_of(ask, point);
    }
    match run.through.members().last() {
        Some(space) => {
            let _ = ask.read(&run.here, &run.through);
            walls::area_called(ask, space.as_str(), want.clone())
        }
        None => Answer::missing(run.through.want(&run.here)),
    }
}
