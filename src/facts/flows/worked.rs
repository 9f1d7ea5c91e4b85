//! What comes of it: for every run, suction point and fan the least and the most that can be, whichever way what is not
//! known turns out.
//!
//! More air comes through a run the less the pipe on its own way takes and the more its own ground gives, and the more the
//! rest takes and the less the rest gives; so each bound is one network with every part at the side that counts for it. The
//! suction at a point is greatest where its own way takes least, the rest takes most and no ground gives much.

use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use crate::base::number::Number;
use crate::base::number::quantity::{Style, show};
use crate::base::value::{Answer, Listed, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::air::Air;
use crate::calc::amounts::{Amount, Flow};
use crate::calc::fan_curve::{InvalidCurve, OffCurve};
use crate::calc::fittings;
use crate::calc::friction;
use crate::calc::network::{BadLink, NotSet, NotSolved};
use crate::calc::valves;
use crate::facts::ask::Ask;
use crate::facts::ground;
use crate::facts::kinds::Kind;
use crate::facts::worked::out_of_range;

use super::built::{Ground, Side, Sides, Solved, Together, WhyNot, solved};
use super::laws::{self, Gives};
use super::piping::{Begins, Bounds, Ends, Pipe, Stands, gas, piping};

/// Least and most.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Span {
    pub(super) low: f64,
    pub(super) high: f64,
}

impl Span {
    pub(super) fn of(value: f64) -> Self {
        Span { low: value, high: value }
    }

    pub(super) fn with(self, value: f64) -> Self {
        Span { low: self.low.min(value), high: self.high.max(value) }
    }

    pub(super) fn number(self) -> Option<Number> {
        Number::from_f64_range(self.low, self.high)
    }
}

/// What a fan does.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct FanDoes {
    pub(super) flow: Span,
    pub(super) suction: Span,
    pub(super) rise: Span,
    pub(super) power: Option<Span>,
    /// How much of the air at the end of its sheet is left.
    pub(super) flow_left: Span,
}

/// What was worked out of the systems that hang together by the ground.
#[derive(Clone, PartialEq, Debug, Default)]
pub(super) struct Worked {
    pub(super) flows: BTreeMap<Thing, Span>,
    pub(super) losses: BTreeMap<Thing, Span>,
    pub(super) point_flows: BTreeMap<Thing, Span>,
    pub(super) suctions: BTreeMap<Thing, Span>,
    pub(super) fans: BTreeMap<Thing, FanDoes>,
}

/// What was worked out of a system, and of those that draw on the same ground.
pub(super) fn worked(ask: &mut Ask<'_>, system: Thing) -> Answer<Rc<Worked>> {
    ask.between("worked", system, |ask| {
        together(ask, system).then(|together| {
            ask.assume("the house is at the pressure of the open air, and what the warmth of the gas adds or takes in the pipe is left out");
            ask.assume("friction is good to 10 %, what fittings take to 25 %, the sheet of the fan to 5 %");
            match bounds(&together) {
                Ok(worked) => Answer::known(Rc::new(worked)),
                Err(why) => not_worked(ask, system, &why),
            }
        })
    })
}

/// The systems that draw on the same ground as this one, and all that decides about their air.
pub(super) fn together(ask: &mut Ask<'_>, system: Thing) -> Answer<Together> {
    let mut found = vec![system];
    let mut points: Vec<(Thing, Gives)> = Vec::new();
    let mut areas: BTreeSet<Thing> = BTreeSet::new();
    let mut next = 0;
    while let Some(one) = found.get(next).copied() {
        next += 1;
        let own = ask.things().owned(Kind::SuctionPoint, one.number);
        match laws::of_system(ask, &own) {
            Answer::Known { value, .. } => points.extend(value),
            Answer::Unknown(missing) => return Answer::Unknown(missing),
        }
        for (_, gives) in points.clone() {
            let Gives::Ground(area) = gives else { continue };
            if !areas.insert(area) {
                continue;
            }
            let all: Listed<Thing> = match ask.several(area, "suction_points") {
                Answer::Known { value, .. } => value,
                Answer::Unknown(missing) => return Answer::Unknown(missing),
            };
            if !all.open.is_empty() {
                return Answer::Unknown(all.open);
            }
            for point in all.items {
                let other = ask.things().system_of(point);
                found.extend(other.filter(|other| !found.contains(other)));
            }
        }
    }
    let grounds: Vec<Answer<Ground>> = areas
        .iter()
        .map(|area| {
            let tested: Vec<Thing> = points
                .iter()
                .filter(|(_, gives)| matches!(gives, Gives::Tested { .. }))
                .map(|(point, _)| *point)
                .collect();
            ground::conductances(ask, *area).map(|ground| Ground {
                area: *area,
                by: Bounds {
                    least: without(&ground.points, &tested, &ground.low),
                    most: without(&ground.points, &tested, &ground.high),
                },
                points: ground.points.into_iter().filter(|point| !tested.contains(point)).collect(),
            })
        })
        .collect();
    let read: Vec<_> = found.iter().map(|one| piping(ask, *one)).collect();
    let air = gas(ask, system);
    air.both(Answer::all(read)).both(Answer::all(grounds)).map(|((air, systems), grounds)| Together {
        air,
        systems,
        points,
        grounds,
    })
}

/// The part of the ground that belongs to points that were not tested by themselves.
fn without<T: Copy>(points: &[Thing], tested: &[Thing], by: &[Vec<T>]) -> Vec<Vec<T>> {
    let kept = |at: usize| points.get(at).is_some_and(|point| !tested.contains(point));
    let row = |row: &Vec<T>| row.iter().enumerate().filter(|(at, _)| kept(*at)).map(|(_, by)| *by).collect();
    by.iter().enumerate().filter(|(at, _)| kept(*at)).map(|(_, own)| row(own)).collect()
}

/// Whether the two laws of points that were tested at one suction are taken as they are, changed about, or each in turn: a fan
/// that pulls more than was tried can work on either side of the suction at which the two cross.
pub(super) fn variants(of: &Together) -> &'static [bool] {
    let crosses = of.points.iter().any(|(_, gives)| match gives {
        Gives::Tested { only_at: Some(read), .. } => {
            let mut points = of.systems.iter().flat_map(|system| &system.curve);
            points.any(|point| point.pressure.to_si() > read.to_si())
        }
        _ => false,
    });
    if crosses { &[false, true] } else { &[false] }
}

/// The bounds of everything.
fn bounds(of: &Together) -> Result<Worked, WhyNot> {
    let mut worked = Worked::default();
    let mut ways: BTreeMap<(BTreeSet<Thing>, BTreeSet<Thing>, bool), [Solved; 2]> = BTreeMap::new();
    let variants = variants(of);
    for system in &of.systems {
        for (at, pipe) in system.pipes.iter().enumerate() {
            let way = way(&system.pipes, at);
            let behind: BTreeSet<Thing> = points_of(&system.pipes, &way, pipe);
            let own: BTreeSet<Thing> =
                way.iter().filter_map(|at| system.pipes.get(*at)).map(|pipe| pipe.it).collect();
            for swapped in variants.iter().copied() {
                let key = (own.clone(), behind.clone(), swapped);
                let flows = match ways.get(&key) {
                    Some(known) => known.clone(),
                    None => {
                        let known = [
                            flow_at(of, &own, &behind, system.fan, Side::Least, swapped)?,
                            flow_at(of, &own, &behind, system.fan, Side::Most, swapped)?,
                        ];
                        ways.insert(key, known.clone());
                        known
                    }
                };
                for solved in &flows {
                    let Some(flow) = solved.flows.get(&pipe.it) else { continue };
                    widen(&mut worked.flows, pipe.it, flow.to_si());
                    if let (Ends::Point(point), false) = (pipe.ends, pipe.after) {
                        widen(&mut worked.point_flows, point, flow.to_si());
                    }
                    if pipe.begins == Begins::Fan {
                        let does = solved.fans.get(&system.fan);
                        does.into_iter().for_each(|does| fan(&mut worked, system.fan, does));
                    }
                }
            }
            let is_set_by_gauge = matches!(pipe.valve, Some(Stands::SetTo(..) | Stands::ToGive(..)));
            if let Some(flow) = worked.flows.get(&pipe.it).copied()
                && !is_set_by_gauge
            {
                let (low, high) = (
                    taken(&of.air.least, pipe, Side::Least, flow.low)?,
                    taken(&of.air.most, pipe, Side::Most, flow.high)?,
                );
                worked.losses.insert(pipe.it, Span { low, high });
            }
            let Ends::Point(point) = pipe.ends else { continue };
            for swapped in variants.iter().copied() {
                for side in [Side::Least, Side::Most] {
                    // The way itself at one side, the rest and the ground at the other.
                    let sides = Sides {
                        pipe: &|it| if own.contains(&it) { side } else { side.other() },
                        ground: &|_| side,
                        fan: &|it| if it == system.fan { side.other() } else { side },
                        air: side.other(),
                        swapped,
                    };
                    let solved = solved(of, &sides)?;
                    if let Some(suction) = solved.suctions.get(&point) {
                        widen(&mut worked.suctions, point, suction.to_si());
                    }
                    solved
                        .fans
                        .get(&system.fan)
                        .into_iter()
                        .for_each(|does| fan(&mut worked, system.fan, does));
                }
            }
        }
    }
    Ok(worked)
}

fn widen(map: &mut BTreeMap<Thing, Span>, it: Thing, value: f64) {
    map.entry(it).and_modify(|span| *span = span.with(value)).or_insert_with(|| Span::of(value));
}

fn fan(
    worked: &mut Worked,
    it: Thing,
    (does, suction): &(crate::calc::fan_curve::Operating, crate::calc::amounts::Pressure),
) {
    let (flow, rise, left) = (does.flow.to_si(), does.pressure.to_si(), does.flow_left.to_si());
    let power = does.power.map(|power| power.to_si());
    let span = worked.fans.entry(it).or_insert_with(|| FanDoes {
        flow: Span::of(flow),
        suction: Span::of(suction.to_si()),
        rise: Span::of(rise),
        power: power.map(Span::of),
        flow_left: Span::of(left),
    });
    span.flow = span.flow.with(flow);
    span.suction = span.suction.with(suction.to_si());
    span.rise = span.rise.with(rise);
    span.flow_left = span.flow_left.with(left);
    span.power = match (span.power, power) {
        (Some(span), Some(power)) => Some(span.with(power)),
        _ => None,
    };
}

/// The network in which the air through a way is least or most.
fn flow_at(
    of: &Together,
    way: &BTreeSet<Thing>,
    behind: &BTreeSet<Thing>,
    fan: Thing,
    side: Side,
    swapped: bool,
) -> Result<Solved, WhyNot> {
    let sides = Sides {
        pipe: &|it| if way.contains(&it) { side.other() } else { side },
        ground: &|point| if behind.contains(&point) { side } else { side.other() },
        fan: &|it| if it == fan { side } else { side.other() },
        air: side,
        swapped,
    };
    solved(of, &sides)
}

/// The runs on the way of the air through one: those behind it, those before it as far as the fan, and those after the fan.
pub(super) fn way(pipes: &[Pipe], at: usize) -> BTreeSet<usize> {
    let mut way = BTreeSet::from([at]);
    if pipes.get(at).is_some_and(|pipe| pipe.after) {
        return (0..pipes.len()).collect();
    }
    let mut before = at;
    while let Some(Begins::At(one)) = pipes.get(before).map(|pipe| pipe.begins) {
        if !way.insert(one) {
            break;
        }
        before = one;
    }
    let mut behind = vec![at];
    while let Some(one) = behind.pop() {
        for (other, pipe) in pipes.iter().enumerate() {
            if pipe.begins == Begins::At(one) && way.insert(other) {
                behind.push(other);
            }
        }
    }
    way.extend(pipes.iter().enumerate().filter(|(_, pipe)| pipe.after).map(|(at, _)| at));
    way
}

/// The suction points whose air goes that way.
pub(super) fn points_of(pipes: &[Pipe], way: &BTreeSet<usize>, pipe: &Pipe) -> BTreeSet<Thing> {
    let all = pipe.after;
    let on_way = pipes.iter().enumerate().filter(|(at, _)| all || way.contains(at));
    on_way
        .filter_map(|(_, pipe)| match pipe.ends {
            Ends::Point(point) => Some(point),
            _ => None,
        })
        .collect()
}

/// What a run takes at a flow with its fittings and with its valve, where that stands open by so much, in Pa. A valve that was
/// set by its gauge is left out.
pub(super) fn taken(air: &Air, pipe: &Pipe, side: Side, all: f64) -> Result<f64, WhyNot> {
    let link = pipe.link(side);
    let each = all / f64::from(pipe.abreast);
    let bad = |range| WhyNot::OutOfRange(pipe.it, range);
    let Some(flow) = Flow::from_si(each) else { return Ok(0.0) };
    let along = friction::gradient(&link.section, flow, air, link.roughness).map_err(bad)?;
    let speed = link.section.speed(flow).map_err(bad)?;
    let fittings = fittings::loss(link.fittings, air.density, speed).map_err(bad)?;
    let by_valve = match pipe.valve {
        Some(Stands::Open(closes, opening)) => {
            // All pipes of the run come together before its valve, and it is as wide as one of them.
            let section = pipe.section.least;
            let by = valves::coefficient(closes, opening, section.hydraulic_diameter()).map_err(bad)?;
            let all = Flow::from_si(all).unwrap_or(Flow::ZERO);
            let speed = section.speed(all).map_err(bad)?;
            fittings::loss(by, air.density, speed).map_err(bad)?.to_si()
        }
        _ => 0.0,
    };
    Ok(along.to_si() * link.length.to_si() + fittings.to_si() + by_valve)
}

/// Why it cannot be worked out, in words.
pub(super) fn not_worked<T>(ask: &mut Ask<'_>, system: Thing, why: &WhyNot) -> Answer<T> {
    let curve = |ask: &Ask<'_>, fan: Thing, says: &str| -> Answer<T> {
        let fan_here = ask.things().fans.get(fan.number as usize).map(|fan| fan.it);
        match fan_here {
            Some(record) => Answer::missing(Missing {
                reason: Reason::NotComputable(says.to_owned()),
                ..record.curve.want(&record.here)
            }),
            None => ask.cannot(fan, says),
        }
    };
    match why {
        WhyNot::Curve(fan, why) => curve(ask, *fan, &curve_words(*why)),
        WhyNot::OffCurve(fan, flow, how) => curve(ask, *fan, &off_curve(*flow, *how)),
        WhyNot::OutOfRange(it, range) => out_of_range(ask, *it, range),
        WhyNot::Bad(it, BadLink::OutOfRange(range)) => out_of_range(ask, *it, range),
        WhyNot::Bad(it, BadLink::TooMany) => ask.cannot(*it, "there are too many runs and suction points"),
        WhyNot::Bad(it, BadLink::SameEnds(_) | BadLink::NoSuchNode(_)) => {
            ask.cannot(*it, "it begins where it ends")
        }
        WhyNot::NotSolved(place, why) => {
            let place = place.unwrap_or(system);
            match why {
                NotSolved::OffCurve { flow, how, .. } => curve(ask, place, &off_curve(*flow, *how)),
                NotSolved::TooFast(_) => ask.cannot(place, "its air would go faster than 100 m/s"),
                NotSolved::NothingHeld | NotSolved::CutOff(_) => {
                    ask.cannot(place, "no open way leads from the suction points to the discharge")
                }
                NotSolved::NotConverged { worst, history } => {
                    let off = shown(worst.1);
                    let why = format!(
                        "after {} rounds of reckoning it still does not come out even: it is {off} off",
                        history.len()
                    );
                    ask.cannot(place, &why)
                }
            }
        }
        WhyNot::NotSet(place, why) => {
            let place = place.unwrap_or(system);
            let says = match why {
                NotSet::TooLittleLeft(_, lacking) => {
                    format!("even open, the valve leaves {} too little for that suction", shown(*lacking))
                }
                NotSet::NotReached(_, off) => {
                    format!("no setting of the valve comes nearer to that suction than {}", shown(*off))
                }
                NotSet::NoValve(_) => "it has no valve".to_owned(),
                NotSet::NotSolved(_) => "with the valves so set it does not come out even".to_owned(),
            };
            ask.cannot(place, &says)
        }
    }
}

fn shown<A: Amount>(amount: A) -> String {
    let number = amount.to_number();
    show(&number, A::DIMENSION, &Style::default_for(A::DIMENSION))
}

fn off_curve(flow: Flow, how: OffCurve) -> String {
    match how {
        OffCurve::ShortOfItsStart(first) => format!(
            "the fan would move {}, less than the first point of its curve, which is at {}",
            shown(flow),
            shown(first)
        ),
        OffCurve::PastItsEnd(last) => format!(
            "the fan would move {}, more than the last point of its curve, which is at {}",
            shown(flow),
            shown(last)
        ),
    }
}

fn curve_words(why: InvalidCurve) -> String {
    match why {
        InvalidCurve::TooFewPoints => "a curve takes at least two points".to_owned(),
        InvalidCurve::TooManyPoints => "the curve has more than 200 points".to_owned(),
        InvalidCurve::BelowNought(at) => format!("point {} of the curve is below nought", at + 1),
        InvalidCurve::FlowDoesNotRise(at) => {
            format!("point {} of the curve has no more air than the one before it; each has more", at + 1)
        }
        InvalidCurve::PressureRises(at) => {
            format!(
                "at point {} of the curve the pressure is higher than with less air; with more air a fan makes less, or as much",
                at + 1
            )
        }
        InvalidCurve::Density => "the density of air for which the curve holds is not that of air".to_owned(),
    }
}

/// What a map holds of a thing.
pub(super) fn held(ask: &Ask<'_>, map: &BTreeMap<Thing, Span>, it: Thing) -> Answer<Number> {
    match map.get(&it).and_then(|span| span.number()) {
        Some(number) => Answer::known(number),
        None => ask.cannot(it, "no air of the system comes by it"),
    }
}
