//! What joins runs where they meet.

use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::calc::amounts::Angle;
use crate::design::model::fan::Axis;
use crate::design::model::pipe::{FittingKind, PipeSize};

use crate::facts::ask::Ask;
use crate::facts::kinds::Kind;
use crate::facts::runs::size;

use super::legs::Way;
use super::meetings::{Arm, Meeting, arms};
use super::{Fitted, Why};

/// How far a joint gives, in degrees.
const GIVE: f64 = 5.0;

fn near(degrees: f64, made: f64) -> bool {
    (degrees - made).abs() <= GIVE
}

fn angle_of(degrees: f64) -> Angle {
    Angle::from_si(degrees).unwrap_or(Angle::ZERO)
}

/// The elbows that make a turn: one where there is one of that angle, otherwise two turned against each other.
pub(super) fn elbows(degrees: f64, size: PipeSize, why: impl Fn(Angle) -> Why) -> Vec<Fitted> {
    let made = [(22.5, FittingKind::Elbow22), (45.0, FittingKind::Elbow45), (90.0, FittingKind::Elbow90)];
    if degrees < GIVE {
        return Vec::new();
    }
    let single = made.into_iter().find(|(angle, _)| near(degrees, *angle)).map(|(_, kind)| (kind, 1));
    let double = made.into_iter().find(|(angle, _)| degrees <= 2.0 * angle).map(|(_, kind)| (kind, 2));
    let (kind, count) = single.or(double).unwrap_or((FittingKind::Elbow90, 2));
    let why = why(angle_of(degrees));
    vec![Fitted { kind, count, size, other_size: None, why, counted_with: None }]
}

/// A run that meets others, with its size and how far it turns from the pipe that it leaves.
#[derive(Clone, Copy, Debug)]
struct Leaving {
    arm: Arm,
    way: Way,
    size: PipeSize,
    turn: f64,
}

/// The fittings of a run at one of its ends.
pub(super) fn fittings(ask: &mut Ask<'_>, it: Thing, at: Meeting, begins: bool) -> Answer<Vec<Fitted>> {
    let arms = arms(ask, it, at);
    let alone = arms.len() < 2;
    if alone && matches!(at, Meeting::Discharge | Meeting::Point(_)) {
        return Answer::known(Vec::new());
    }
    let mut leaving = Vec::new();
    for arm in arms {
        let way = arm.way(ask);
        leaving.push(way.both(size(ask, arm.run)).map(|(way, size)| Leaving { arm, way, size, turn: 0.0 }));
    }
    let trunk = match at {
        Meeting::EndOf(run) => Arm { run, begins: false }.way(ask).map(|way| Some(way.back().into())),
        Meeting::Fan { outlet } => Answer::known(along_fan(ask, it, outlet)),
        Meeting::Discharge | Meeting::Point(_) => Answer::known(None),
    };
    let trunk_size = match at {
        Meeting::EndOf(run) => size(ask, run).map(Some),
        Meeting::Fan { outlet } => Answer::known(port(ask, it, outlet)),
        Meeting::Discharge | Meeting::Point(_) => Answer::known(None),
    };
    Answer::all(leaving).both(trunk.both(trunk_size)).map(|(mut leaving, (trunk, trunk_size))| {
        // Where nothing tells the way of the pipe, it goes on as the widest of them.
        let widest = leaving.iter().enumerate().max_by_key(|(at, one)| (one.size, std::cmp::Reverse(*at)));
        let widest = widest.map(|(_, one)| *one);
        let level = matches!(trunk, Some(Trunk::Level));
        let way = match trunk {
            Some(Trunk::Way(way)) => Some(way),
            Some(Trunk::Level) => widest.and_then(|one| one.way.level()),
            None => widest.map(|one| one.way),
        };
        for one in &mut leaving {
            // What goes straight up from a fan that lies level turns a quarter, whichever way the fan lies.
            one.turn = way.map_or(if level { 90.0 } else { 0.0 }, |way| one.way.turn_si(way));
        }
        let size = trunk_size.or(widest.map(|one| one.size));
        size.map(|size| share(&leaving, it, begins, at, size)).unwrap_or_default()
    })
}

/// Which way the pipe goes from which others leave.
#[derive(Clone, Copy, Debug)]
enum Trunk {
    /// That way.
    Way(Way),
    /// Level, in whichever direction.
    Level,
}

impl From<Way> for Trunk {
    fn from(way: Way) -> Self {
        Trunk::Way(way)
    }
}

/// What one run gets of the fittings where several meet.
fn share(all: &[Leaving], it: Thing, begins: bool, at: Meeting, trunk: PipeSize) -> Vec<Fitted> {
    let is_it = |one: &Leaving| one.arm.run == it && one.arm.begins == begins;
    let Some(own) = all.iter().find(|one| is_it(one)) else { return Vec::new() };
    let rank = |one: &Leaving| (one.turn.round() as i64, std::cmp::Reverse(one.size));
    let Some(main) = all.iter().min_by_key(|one| rank(one)) else { return Vec::new() };
    let opposite = |one: &&Leaving| near(main.turn, 90.0) && near(one.way.turn_si(main.way), 180.0);
    let pair = all.iter().find(opposite);
    let is =
        |one: &Leaving, other: &Leaving| one.arm.run == other.arm.run && one.arm.begins == other.arm.begins;
    let straight = |one: &Leaving| is(one, main) || pair.is_some_and(|pair| is(one, pair));
    let others =
        |but: &Leaving| all.iter().filter(|one| !is(one, but)).map(|one| one.arm.run).collect::<Vec<_>>();
    let meets = |angle: Angle| Why::Meets { others: others(own), angle };
    let tee = |kind, of: &Leaving, counted_with: Option<Thing>| {
        let wide = trunk.max(of.size);
        Fitted {
            kind,
            count: 1,
            size: own.size,
            other_size: (wide != own.size).then_some(wide),
            why: meets(angle_of(own.turn)),
            counted_with,
        }
    };
    let mut found = Vec::new();
    if straight(own) {
        let sides = all.iter().filter(|one| !straight(one));
        found.extend(sides.map(|side| {
            let through = match by_the_side(side.turn).0 {
                FittingKind::WyeSide => FittingKind::WyeThrough,
                _ => FittingKind::TeeThrough,
            };
            tee(through, side, Some(side.arm.run))
        }));
        match pair {
            Some(_) => {
                let counted_with = (!is(own, main)).then_some(main.arm.run);
                found.push(tee(FittingKind::TeeTurn, own, counted_with));
            }
            None => found.extend(elbows(own.turn, own.size, |angle| match at {
                Meeting::EndOf(from) => Why::GoesOn { from, angle },
                Meeting::Fan { .. } => Why::AtFan { angle },
                Meeting::Discharge | Meeting::Point(_) => meets(angle),
            })),
        }
    } else {
        let (kind, rest) = by_the_side(own.turn);
        found.push(tee(kind, own, None));
        found.extend(elbows(rest, own.size, meets));
    }
    let from = if let Meeting::EndOf(run) = at { Some(run) } else { None };
    let alone = all.len() == 1;
    if own.size != trunk {
        let why = Why::Size { from };
        let (kind, size) = (FittingKind::Reducer, own.size);
        found.push(Fitted { kind, count: 1, size, other_size: Some(trunk), why, counted_with: None });
    } else if let (true, true, Some(from)) = (alone, found.is_empty(), from) {
        let why = Why::GoesOn { from, angle: angle_of(own.turn) };
        let (kind, size) = (FittingKind::Coupling, own.size);
        found.push(Fitted { kind, count: 1, size, other_size: None, why, counted_with: None });
    }
    found
}

/// The tee or wye by which a run leaves another at an angle, and how far it still has to turn.
fn by_the_side(degrees: f64) -> (FittingKind, f64) {
    if degrees < 67.5 {
        (FittingKind::WyeSide, (degrees - 45.0).abs())
    } else {
        (FittingKind::TeeTurn, (degrees - 90.0).abs())
    }
}

/// The way of the pipe at the fan, where the fan says how it lies.
fn along_fan(ask: &mut Ask<'_>, it: Thing, outlet: bool) -> Option<Trunk> {
    let owner = ask.things().owner(it)?;
    let fan = *ask.things().owned(Kind::Fan, owner).first()?;
    let fan = ask.things().fans.get(fan.number as usize)?.it;
    match ask.read(&fan.here, &fan.axis).value().flatten()? {
        Axis::Vertical => Some(if outlet { Way::UP } else { Way::UP.back() }.into()),
        Axis::Horizontal => Some(Trunk::Level),
        Axis::Sloped => None,
    }
}

/// The size of pipe that fits the fan, where the fan says so.
fn port(ask: &mut Ask<'_>, it: Thing, outlet: bool) -> Option<PipeSize> {
    let owner = ask.things().owner(it)?;
    let fan = *ask.things().owned(Kind::Fan, owner).first()?;
    let fan = ask.things().fans.get(fan.number as usize)?.it;
    let entry = if outlet { &fan.outlet } else { &fan.inlet };
    ask.read(&fan.here, entry).value().flatten().copied()
}
