//! The network of one or several systems that share the ground, with everything that is known only within bounds at one
//! end or the other.

use std::collections::BTreeMap;

use crate::base::vocabulary::Thing;
use crate::calc::air::Air;
use crate::calc::amounts::{Amount, Conductance, Flow, Length, OutOfRange, Plain, Pressure};
use crate::calc::fan_curve::{FanCurve, FanPoint, InvalidCurve, OffCurve, Operating};
use crate::calc::network::{
    BadLink, LinkId, Network, NodeId, NotSet, NotSolved, Run, Setting, Solution, Want, Wanted, settings,
    solve,
};
use crate::calc::valves::coefficient;

use super::laws::Gives;
use super::piping::{Begins, Bounds, Ends, Pipe, Piping, Stands};

/// What is worked out together: systems that draw on the same ground.
#[derive(Clone, Debug)]
pub(super) struct Together {
    /// The lightest and the heaviest gas there can be in the pipes.
    pub(super) air: Bounds<Air>,
    pub(super) systems: Vec<Piping>,
    pub(super) points: Vec<(Thing, Gives)>,
    /// For each area that is drawn on: its points, and how they hang together in ground that gives least and most.
    pub(super) grounds: Vec<Ground>,
}

/// The ground of an area.
#[derive(Clone, Debug)]
pub(super) struct Ground {
    pub(super) area: Thing,
    pub(super) points: Vec<Thing>,
    pub(super) by: Bounds<Vec<Vec<Conductance>>>,
}

/// At which end of what is known something is taken.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) enum Side {
    /// Pipe that takes least; ground that gives least.
    Least,
    /// Pipe that takes most; ground that gives most.
    Most,
}

impl Side {
    pub(super) fn other(self) -> Side {
        match self {
            Side::Least => Side::Most,
            Side::Most => Side::Least,
        }
    }
}

impl<T> Bounds<T> {
    /// What it is at one side.
    pub(super) fn at(&self, side: Side) -> &T {
        match side {
            Side::Least => &self.least,
            Side::Most => &self.most,
        }
    }
}

/// Which side each part is taken at.
pub(super) struct Sides<'a> {
    /// What a pipe takes.
    pub(super) pipe: &'a dyn Fn(Thing) -> Side,
    /// What the ground gives at a suction point.
    pub(super) ground: &'a dyn Fn(Thing) -> Side,
    /// What a fan makes, against its sheet.
    pub(super) fan: &'a dyn Fn(Thing) -> Side,
    /// The gas: heavy gas gets more pressure from a fan, and loses as much more to pipe, so that the ground gets more of both.
    pub(super) air: Side,
    /// Whether the two laws of points that were tested at one suction change places.
    pub(super) swapped: bool,
}

/// Friction along pipe, fittings, and the sheet of a fan are as good as this. Colebrook's formula: 5 %, and the roughness as
/// much again; fittings: 25 % from maker to maker (Crane TP-410); makers of fans allow themselves 5 %.
const FRICTION: f64 = 0.10;
const FITTINGS: f64 = 0.25;
const FANS: f64 = 0.05;

/// Why nothing can be worked out: a thing, and what is the matter with it.
#[derive(Clone, PartialEq, Debug)]
pub(super) enum WhyNot {
    /// The fan's sheet is no curve.
    Curve(Thing, InvalidCurve),
    /// A figure is out of range.
    OutOfRange(Thing, OutOfRange),
    /// The fan's sheet does not tell of this much air.
    OffCurve(Thing, Flow, OffCurve),
    /// A part cannot be put in.
    Bad(Thing, BadLink),
    /// The network has no solution.
    NotSolved(Option<Thing>, NotSolved),
    /// A valve cannot have been set so.
    NotSet(Option<Thing>, NotSet),
}

/// What came out for one choice of sides.
#[derive(Clone, Debug, Default)]
pub(super) struct Solved {
    /// The air through each run, toward the discharge.
    pub(super) flows: BTreeMap<Thing, Flow>,
    /// The suction at each suction point.
    pub(super) suctions: BTreeMap<Thing, Pressure>,
    /// What each fan does, with the suction at its inlet.
    pub(super) fans: BTreeMap<Thing, (Operating, Pressure)>,
    /// What the valve of each run that was to be set has to take.
    pub(super) valves: BTreeMap<Thing, Plain>,
}

/// What was put in, and where.
struct Built {
    network: Network,
    runs: BTreeMap<Thing, Vec<LinkId>>,
    points: BTreeMap<Thing, NodeId>,
    fans: BTreeMap<Thing, (LinkId, NodeId)>,
    wants: Vec<Want>,
    whose: BTreeMap<LinkId, Thing>,
}

impl Pipe {
    /// The pipe as a link, taken at one side.
    pub(super) fn link(&self, side: Side) -> Run {
        let (section, length, by) = match side {
            Side::Least => (self.section.least, self.length.least, -1.0),
            Side::Most => (self.section.most, self.length.most, 1.0),
        };
        let length = Length::from_si(length.to_si() * (1.0 + by * FRICTION)).unwrap_or(length);
        let fittings = Plain::from_si(self.fittings.to_si() * (1.0 + by * FITTINGS)).unwrap_or(self.fittings);
        Run { section, length, roughness: self.rough, fittings, draught: Pressure::ZERO }
    }
}

/// The fan's curve in this gas, taken at one side.
pub(super) fn curve(of: &Piping, air: &Air, side: Side) -> Result<FanCurve, WhyNot> {
    let by = match side {
        Side::Least => 1.0 - FANS,
        Side::Most => 1.0 + FANS,
    };
    let points: Vec<FanPoint> = of
        .curve
        .iter()
        .map(|point| FanPoint {
            pressure: Pressure::from_si(point.pressure.to_si() * by).unwrap_or(point.pressure),
            ..*point
        })
        .collect();
    let curve = FanCurve::new(&points, of.curve_density).map_err(|why| WhyNot::Curve(of.fan, why))?;
    curve.in_air_of(air.density).map_err(|range| WhyNot::OutOfRange(of.fan, range))
}

/// Puts all parts together and solves them.
pub(super) fn solved(of: &Together, sides: &Sides<'_>) -> Result<Solved, WhyNot> {
    let built = built(of, sides)?;
    let whose = |link: LinkId| built.whose.get(&link).copied();
    if built.wants.is_empty() {
        let solution = solve(&built.network);
        let solution = solution.map_err(|why| WhyNot::NotSolved(place(&built, &why), why))?;
        return Ok(read_off(&built, &solution));
    }
    let set = settings(&built.network, &built.wants);
    let set = set.map_err(|why| WhyNot::NotSet(set_place(&why).and_then(whose), why))?;
    let mut solved = read_off(&built, &set.solution);
    let valves = built.wants.iter().zip(&set.coefficients);
    solved.valves = valves.filter_map(|(want, takes)| Some((whose(want.valve)?, *takes))).collect();
    Ok(solved)
}

fn set_place(why: &NotSet) -> Option<LinkId> {
    match why {
        NotSet::NoValve(link) | NotSet::TooLittleLeft(link, _) | NotSet::NotReached(link, _) => Some(*link),
        NotSet::NotSolved(_) => None,
    }
}

fn place(built: &Built, why: &NotSolved) -> Option<Thing> {
    let link = match why {
        NotSolved::OffCurve { fan, .. } => *fan,
        NotSolved::TooFast(link) => *link,
        NotSolved::NotConverged { worst, .. } => worst.0,
        NotSolved::NothingHeld | NotSolved::CutOff(_) => return None,
    };
    built.whose.get(&link).copied()
}

fn read_off(built: &Built, solution: &Solution) -> Solved {
    let mut solved = Solved::default();
    for (run, links) in &built.runs {
        let sum = links.iter().filter_map(|link| solution.flow(*link)).map(Amount::to_si).sum();
        solved.flows.extend(Flow::from_si(sum).map(|flow| (*run, flow)));
    }
    for (point, node) in &built.points {
        solved.suctions.extend(solution.suction(*node).map(|suction| (*point, suction)));
    }
    for (fan, (link, inlet)) in &built.fans {
        let does = solution.fans().iter().find(|(own, _)| own == link).map(|(_, does)| *does);
        if let (Some(does), Some(suction)) = (does, solution.suction(*inlet)) {
            solved.fans.insert(*fan, (does, suction));
        }
    }
    solved
}

fn built(of: &Together, sides: &Sides<'_>) -> Result<Built, WhyNot> {
    let first = of.systems.first().map(|system| system.system);
    let bad = |range: OutOfRange| match first {
        Some(first) => WhyNot::OutOfRange(first, range),
        None => WhyNot::NotSolved(None, NotSolved::NothingHeld),
    };
    let air = of.air.at(sides.air);
    let mut network = Network::new(*air).map_err(bad)?;
    let open = network.held(Pressure::ZERO).map_err(bad)?;
    let mut built = Built {
        network,
        runs: BTreeMap::new(),
        points: BTreeMap::new(),
        fans: BTreeMap::new(),
        wants: Vec::new(),
        whose: BTreeMap::new(),
    };
    for system in &of.systems {
        lay(&mut built, system, air, open, sides)?;
    }
    draw(&mut built, of, open, sides)?;
    Ok(built)
}

/// Lays the fan and the pipes of one system.
fn lay(built: &mut Built, system: &Piping, air: &Air, open: NodeId, sides: &Sides<'_>) -> Result<(), WhyNot> {
    let (inlet, outlet) = (built.network.junction(), built.network.junction());
    let curve = curve(system, air, (sides.fan)(system.fan))?;
    let fan = built.network.fan(inlet, outlet, curve).map_err(|why| WhyNot::Bad(system.fan, why))?;
    built.whose.insert(fan, system.fan);
    built.fans.insert(system.fan, (fan, inlet));
    // Every run has a node at its end; a suction point is the end of the runs that lead to it.
    let mut ends = Vec::with_capacity(system.pipes.len());
    for pipe in &system.pipes {
        ends.push(match pipe.ends {
            Ends::Discharge => open,
            Ends::Point(point) => match built.points.get(&point) {
                Some(node) => *node,
                None => {
                    let node = built.network.junction();
                    built.points.insert(point, node);
                    node
                }
            },
            Ends::Open => built.network.junction(),
        });
    }
    for (pipe, end) in system.pipes.iter().zip(&ends) {
        let start = match pipe.begins {
            Begins::Fan if pipe.after => outlet,
            Begins::Fan => inlet,
            Begins::At(other) => ends.get(other).copied().unwrap_or(inlet),
        };
        let (from, to) = if pipe.after { (start, *end) } else { (*end, start) };
        let to = valve(built, pipe, to)?;
        for _ in 0..pipe.abreast {
            let link = pipe.link((sides.pipe)(pipe.it));
            let link = built.network.run(from, to, link).map_err(|why| WhyNot::Bad(pipe.it, why))?;
            built.whose.insert(link, pipe.it);
            built.runs.entry(pipe.it).or_default().push(link);
        }
    }
    Ok(())
}

/// Puts in the valve of a run, at the end at which its air leaves; the node before it.
fn valve(built: &mut Built, pipe: &Pipe, to: NodeId) -> Result<NodeId, WhyNot> {
    let Some(stands) = pipe.valve else { return Ok(to) };
    let section = pipe.section.least;
    let wide = section.hydraulic_diameter();
    let takes = |closes, opening: Plain| {
        coefficient(closes, opening, wide).map_err(|range| WhyNot::OutOfRange(pipe.it, range))
    };
    let whole = Plain::written("100 %").unwrap_or(Plain::ZERO);
    let (setting, wanted) = match stands {
        Stands::Closed => (Setting::Closed, None),
        Stands::Open(closes, opening) => (Setting::Takes(takes(closes, opening)?), None),
        Stands::SetTo(closes, suction) => (Setting::Takes(takes(closes, whole)?), Some((None, suction))),
        Stands::ToGive(closes, point, suction) => {
            (Setting::Takes(takes(closes, whole)?), Some((built.points.get(&point).copied(), suction)))
        }
    };
    let before = built.network.junction();
    let valve = built.network.valve(before, to, section, setting);
    let valve = valve.map_err(|why| WhyNot::Bad(pipe.it, why))?;
    built.whose.insert(valve, pipe.it);
    let want = wanted.map(|(at, suction)| {
        let wanted = Wanted::Suction(at.unwrap_or(before), suction);
        Want { valve, wanted }
    });
    built.wants.extend(want);
    Ok(before)
}

/// Lets every suction point draw on the ground.
fn draw(built: &mut Built, of: &Together, soil: NodeId, sides: &Sides<'_>) -> Result<(), WhyNot> {
    for (point, gives) in &of.points {
        let Gives::Tested { laws, only_at } = gives else { continue };
        let Some(node) = built.points.get(point).copied() else { continue };
        let side = match sides.swapped && only_at.is_some() {
            true => (sides.ground)(*point).other(),
            false => (sides.ground)(*point),
        };
        let law = if side == Side::Least { laws.least } else { laws.most };
        let link = built.network.suction_point(soil, node, law);
        let link = link.map_err(|why| WhyNot::Bad(*point, why))?;
        built.whose.insert(link, *point);
    }
    for ground in &of.grounds {
        let nodes: Option<Vec<NodeId>> =
            ground.points.iter().map(|point| built.points.get(point).copied()).collect();
        let (Some(nodes), Some(first)) = (nodes, ground.points.first()) else { continue };
        let most = ground.points.iter().any(|point| (sides.ground)(*point) == Side::Most);
        let by = if most { &ground.by.most } else { &ground.by.least };
        let links = built.network.ground(soil, &nodes, by).map_err(|why| WhyNot::Bad(ground.area, why))?;
        built.whose.extend(links.into_iter().map(|link| (link, *first)));
    }
    Ok(())
}
