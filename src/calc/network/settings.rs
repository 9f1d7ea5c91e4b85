//! The other way round: how valves are to be set so that points get what is wanted of them.

use crate::calc::amounts::{Amount, Flow, Made, Plain, Pressure};
use crate::calc::linear::full_si;

use super::solve::{checked, found};
use super::{Law, LinkId, Network, NodeId, NotSolved, Setting, Solution};

/// What a valve is to bring about.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Wanted {
    /// This suction at a node, which the flow through the valve has to reach.
    Suction(NodeId, Pressure),
    /// This flow through the valve, from its first node to its second.
    Flow(Flow),
}

/// A valve and what it is for.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Want {
    /// The valve, put in with the coefficient that it takes when open.
    pub valve: LinkId,
    /// What it is to bring about.
    pub wanted: Wanted,
}

/// Settings that bring about what is wanted.
#[derive(Clone, PartialEq, Debug)]
pub struct Settings {
    /// What each valve has to take, in the order of the wants.
    pub coefficients: Vec<Plain>,
    /// The network with the valves so set.
    pub network: Network,
    /// Its flows and pressures.
    pub solution: Solution,
}

/// Why there are no such settings.
#[derive(Clone, PartialEq, Debug)]
pub enum NotSet {
    /// The link of this want is no valve with a coefficient.
    NoValve(LinkId),
    /// Even open, the valve takes this much more than there is: what is wanted cannot be had by throttling.
    TooLittleLeft(LinkId, Pressure),
    /// No flow through the valves brings about what is wanted; how far the best try stayed off, for the want that is worst.
    NotReached(LinkId, Pressure),
    /// The network with the valves so set has no solution.
    NotSolved(NotSolved),
}

impl From<NotSolved> for NotSet {
    fn from(error: NotSolved) -> Self {
        NotSet::NotSolved(error)
    }
}

/// How far from the wanted suction counts as there, in Pa.
const NEAR: f64 = 1e-6;

fn valve(network: &Network, at: LinkId) -> Option<(f64, f64)> {
    match &network.links.get(at.0)?.law {
        Law::Valve(section, Setting::Takes(k)) => {
            let square = 0.5 * network.air.density.to_si() / section.area().to_si().powi(2);
            Some((square, k.to_si()))
        }
        _ => None,
    }
}

/// The network with these flows through the valves.
fn with_flows(network: &Network, wants: &[Want], flows: &[f64]) -> Network {
    let set = |network: Network, (want, flow): (&Want, &f64)| {
        network.set(want.valve, Setting::Lets(Flow::new(*flow)))
    };
    wants.iter().zip(flows).fold(network.clone(), set)
}

/// How far each want is from what it asks for, in Pa; nought for a wanted flow.
fn off(wants: &[Want], solution: &Solution) -> Vec<f64> {
    let each = |want: &Want| match want.wanted {
        Wanted::Flow(_) => 0.0,
        Wanted::Suction(node, suction) => {
            solution.suction(node).map_or(f64::MAX, |found| found.to_si() - suction.to_si())
        }
    };
    wants.iter().map(each).collect()
}

fn worst(off: &[f64]) -> (usize, f64) {
    let far = |best: (usize, f64), (at, value): (usize, &f64)| {
        if value.abs() > best.1 { (at, value.abs()) } else { best }
    };
    off.iter().enumerate().fold((0, 0.0), far)
}

/// The flows through the valves that bring about what is wanted, by Newton's method with slopes by small differences.
fn flows(network: &Network, wants: &[Want]) -> Result<Vec<f64>, NotSet> {
    let open = found(network)?;
    let start = wants.iter().map(|want| match want.wanted {
        Wanted::Flow(flow) => flow.to_si(),
        Wanted::Suction(..) => open.flow(want.valve).map_or(0.0, Amount::to_si),
    });
    let mut flows: Vec<f64> = start.collect();
    let free: Vec<usize> = wants
        .iter()
        .enumerate()
        .filter(|(_, want)| matches!(want.wanted, Wanted::Suction(..)))
        .map(|(at, _)| at)
        .collect();
    let away = |flows: &[f64]| -> Result<Vec<f64>, NotSet> {
        Ok(off(wants, &found(&with_flows(network, wants, flows))?))
    };
    let mut here = away(&flows)?;
    for _ in 0..60 {
        if worst(&here).1 < NEAR {
            return Ok(flows);
        }
        let mut slopes = vec![vec![0.0; free.len()]; free.len()];
        for (column, at) in free.iter().enumerate() {
            let mut moved = flows.clone();
            let step = 1e-5 * flows.get(*at).map_or(0.0, |flow| flow.abs()) + 1e-9;
            if let Some(flow) = moved.get_mut(*at) {
                *flow += step;
            }
            let there = away(&moved)?;
            for (row, of) in slopes.iter_mut().zip(&free) {
                let (before, after) = (here.get(*of).copied(), there.get(*of).copied());
                if let (Some(entry), Some(before), Some(after)) = (row.get_mut(column), before, after) {
                    *entry = (after - before) / step;
                }
            }
        }
        let right = free.iter().filter_map(|at| here.get(*at)).map(|value| -value).collect();
        let Some(steps) = full_si(slopes, right) else { break };
        let mut share = 1.0;
        let better = loop {
            let mut moved = flows.clone();
            for (at, step) in free.iter().zip(&steps) {
                if let Some(flow) = moved.get_mut(*at) {
                    *flow += share * step;
                }
            }
            let there = away(&moved)?;
            if worst(&there).1 < worst(&here).1 {
                break Some((moved, there));
            }
            share *= 0.5;
            if share < 1e-6 {
                break None;
            }
        };
        let Some((moved, there)) = better else { break };
        (flows, here) = (moved, there);
    }
    let (at, value) = worst(&here);
    let link = wants.get(at).map_or(LinkId(0), |want| want.valve);
    Err(NotSet::NotReached(link, Pressure::new(value)))
}

/// The settings of valves that bring about what is wanted at each.
///
/// # Meaning
/// A suction wanted at a point is what its gauge is to show; a flow is what is to pass the valve. Every valve is put into the
/// network with the coefficient it takes when open, which is the least that it can be set to.
/// # Formula
/// The flows through the valves are sought at which the wants hold; the coefficient of each is then the fall of pressure over
/// it, over the pressure of the speed.
/// # Valid for
/// As many wants as valves; a wanted flow of nought closes the valve and has no coefficient: close it instead.
/// # Accuracy
/// Suctions met to 1e-6 Pa.
/// # Source
/// As [`super::solve()`].
/// # Errors
/// [`NotSet`]: among others when even the open valve takes too much.
/// # Example
/// ```
/// use undercroft::calc::{air::Air, amounts::*, network::*, section::Section, suction_law::SuctionLaw};
/// let air = Air { density: Density::from_si(1.2).unwrap(), viscosity: Viscosity::from_si(1.8e-5).unwrap() };
/// let mut network = Network::new(air).unwrap();
/// let pa = |value| Pressure::from_si(value).unwrap();
/// let plain = |value| Plain::from_si(value).unwrap();
/// let (soil, fan) = (network.held(pa(0.0)).unwrap(), network.held(pa(-84.0)).unwrap());
/// let pit = network.junction();
/// let law = SuctionLaw::through(Flow::from_si(0.02).unwrap(), pa(60.0), plain(1.0)).unwrap();
/// network.suction_point(soil, pit, law).unwrap();
/// // a square duct of 100 cm2: 0.02 m3/s go at 2 m/s, whose pressure is 2.4 Pa
/// let wide = Length::from_si(0.1).unwrap();
/// let section = Section::rectangle(wide, wide).unwrap();
/// let valve = network.valve(pit, fan, section, Setting::Takes(plain(0.2))).unwrap();
/// let want = Want { valve, wanted: Wanted::Suction(pit, pa(60.0)) };
/// let set = settings(&network, &[want]).unwrap();
/// // 84 - 60 = 24 Pa = 10 x 2.4 Pa
/// assert!((set.coefficients[0].to_si() - 10.0).abs() < 1e-4);
/// ```
pub fn settings(network: &Network, wants: &[Want]) -> Result<Settings, NotSet> {
    for want in wants {
        valve(network, want.valve).ok_or(NotSet::NoValve(want.valve))?;
    }
    let flows = flows(network, wants)?;
    let given = found(&with_flows(network, wants, &flows))?;
    let mut coefficients = Vec::with_capacity(wants.len());
    let mut set = network.clone();
    for (want, flow) in wants.iter().zip(&flows) {
        let (square, least) = valve(network, want.valve).ok_or(NotSet::NoValve(want.valve))?;
        let link = network.links.get(want.valve.0).ok_or(NotSet::NoValve(want.valve))?;
        let of = |node| given.pressure(NodeId(node)).map_or(0.0, Amount::to_si);
        let fall = of(link.from) - of(link.to);
        let speed = square * flow * flow.abs();
        let lacking = least * speed.abs() - fall * flow.signum();
        if lacking > NEAR || speed.abs() < f64::MIN_POSITIVE {
            return Err(NotSet::TooLittleLeft(want.valve, Pressure::new(lacking)));
        }
        let takes = Plain::new((fall / speed).max(least));
        coefficients.push(takes);
        set = set.set(want.valve, Setting::Takes(takes));
    }
    let solution = checked(&set, found(&set)?)?;
    Ok(Settings { coefficients, network: set, solution })
}
