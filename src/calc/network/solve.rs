//! Finding flows and pressures.
//!
//! As every law takes more the more flows, the flows sought are those at which the energy spent is least among all that balance
//! at the junctions. Newton's steps toward it are taken whole where the energy still falls at their end, and shortened to where
//! it is least otherwise, so that each step comes nearer and no start is a bad one.

use std::collections::BTreeMap;

use crate::calc::amounts::{Amount, Flow, Made, Pressure};
use crate::calc::fan_curve::{OffCurve, Operating};
use crate::calc::linear::symmetric_si;

use super::law::{bound_si, taken_si};
use super::{Law, LinkId, Network, NodeId};

/// No more steps than this; ten are usual.
const MOST_STEPS: usize = 200;
/// Solved when no link is further from its law than this, in Pa.
const NEAR: f64 = 1e-8;
/// And no junction out of balance by more than this, in m3/s.
const BALANCED: f64 = 1e-12;

/// Flows and pressures that satisfy a network, with what is left of the equations.
#[derive(Clone, PartialEq, Debug)]
pub struct Solution {
    flows: Vec<Flow>,
    pressures: Vec<Option<Pressure>>,
    fans: Vec<(LinkId, Operating)>,
    /// The link that is furthest from its law, and by how much.
    pub worst_law: Option<(LinkId, Pressure)>,
    /// The junction that is most out of balance, and by how much.
    pub worst_balance: Option<(NodeId, Flow)>,
    /// How many steps it took.
    pub steps: usize,
}

impl Solution {
    /// The flow through a link, from its first node to its second.
    #[must_use]
    pub fn flow(&self, link: LinkId) -> Option<Flow> {
        self.flows.get(link.0).copied()
    }

    /// The pressure at a node; `None` where it is cut off from every place whose pressure is given.
    #[must_use]
    pub fn pressure(&self, node: NodeId) -> Option<Pressure> {
        self.pressures.get(node.0).copied().flatten()
    }

    /// The suction at a node: its pressure with the sign turned.
    #[must_use]
    pub fn suction(&self, node: NodeId) -> Option<Pressure> {
        Some(Pressure::new(-self.pressure(node)?.to_si()))
    }

    /// What each fan does.
    #[must_use]
    pub fn fans(&self) -> &[(LinkId, Operating)] {
        &self.fans
    }
}

/// Why there is no solution to hand over.
#[derive(Clone, PartialEq, Debug)]
pub enum NotSolved {
    /// No node has a given pressure.
    NothingHeld,
    /// Set flows into this node and what is behind it do not balance, and no other way leads there.
    CutOff(NodeId),
    /// A fan would work where its sheet says nothing.
    OffCurve {
        /// The fan.
        fan: LinkId,
        /// The flow it would have.
        flow: Flow,
        /// Which end of the sheet it leaves.
        how: OffCurve,
    },
    /// A link would carry gas faster than the laws hold: 100 m/s.
    TooFast(LinkId),
    /// The steps did not come to an end.
    NotConverged {
        /// The link that is furthest from its law, and by how much.
        worst: (LinkId, Pressure),
        /// The distance of the worst link after each step.
        history: Vec<Pressure>,
    },
}

/// What a node is to the solver.
#[derive(Clone, Copy, PartialEq)]
enum Part {
    /// Its pressure is known.
    Known(f64),
    /// It is the unknown with this number.
    Unknown(usize),
}

/// Nodes as the solver sees them, and whether each hangs together with a given pressure.
fn parts(network: &Network) -> Result<(Vec<Part>, Vec<bool>), NotSolved> {
    let count = network.nodes.len();
    let mut group: Vec<usize> = (0..count).collect();
    let open = || network.links.iter().filter(|link| bound_si(&link.law).is_none());
    // every node takes the least number of those it hangs together with
    let mut changed = true;
    while changed {
        changed = false;
        for link in open() {
            let (a, b) = (group.get(link.from).copied(), group.get(link.to).copied());
            let (Some(a), Some(b)) = (a, b) else { continue };
            for node in [link.from, link.to] {
                if let Some(own) = group.get_mut(node).filter(|own| **own > a.min(b)) {
                    *own = a.min(b);
                    changed = true;
                }
            }
        }
    }
    let mut held = vec![false; count];
    for (node, own) in network.nodes.iter().zip(&group) {
        if let (Some(_), Some(flag)) = (node, held.get_mut(*own)) {
            *flag = true;
        }
    }
    if !network.nodes.iter().any(Option::is_some) {
        return Err(NotSolved::NothingHeld);
    }
    let reached: Vec<bool> = group.iter().map(|own| held.get(*own).copied().unwrap_or(false)).collect();
    // what is bound to flow into a part that hangs on nothing has to balance
    for (first, own) in group.iter().enumerate().filter(|(node, own)| node == *own) {
        if reached.get(first).copied().unwrap_or(true) {
            continue;
        }
        let inside = |node: usize| group.get(node) == Some(own);
        let into: f64 = network
            .links
            .iter()
            .filter_map(|link| Some((link, bound_si(&link.law)?)))
            .map(|(link, flow)| match (inside(link.from), inside(link.to)) {
                (true, false) => -flow,
                (false, true) => flow,
                _ => 0.0,
            })
            .sum();
        if into.abs() > BALANCED {
            return Err(NotSolved::CutOff(NodeId(first)));
        }
    }
    let mut unknown = 0;
    let list = network.nodes.iter().zip(&group).zip(&reached).enumerate();
    let parts = list
        .map(|(at, ((given, own), reached))| match given {
            Some(pressure) => Part::Known(*pressure),
            // the first node of a part that hangs on nothing stands for nought
            None if !reached && at == *own => Part::Known(0.0),
            None => {
                unknown += 1;
                Part::Unknown(unknown - 1)
            }
        })
        .collect();
    Ok((parts, reached))
}

/// The state of the search.
struct Search<'a> {
    network: &'a Network,
    parts: Vec<Part>,
    flows: Vec<f64>,
}

impl Search<'_> {
    fn ends(&self, link: usize) -> Option<(Part, Part)> {
        let link = self.network.links.get(link)?;
        Some((*self.parts.get(link.from)?, *self.parts.get(link.to)?))
    }

    fn taken(&self, link: usize, flow: f64) -> Option<(f64, f64)> {
        taken_si(&self.network.links.get(link)?.law, &self.network.air, flow)
    }

    /// The pressures of the unknown nodes at which flows one Newton step on would balance.
    fn pressures(&self) -> Option<Vec<f64>> {
        let count = self.parts.iter().filter(|part| matches!(part, Part::Unknown(_))).count();
        let mut matrix: Vec<BTreeMap<usize, f64>> = vec![BTreeMap::new(); count];
        let mut right = vec![0.0; count];
        for (link, flow) in self.flows.iter().enumerate() {
            let (from, to) = self.ends(link)?;
            // the flow after the step is `fixed + gain (p from - p to)`
            let (fixed, gain) = match self.taken(link, *flow) {
                Some((loss, slope)) => (flow - loss / slope, 1.0 / slope),
                None => (*flow, 0.0),
            };
            for (own, other, sign) in [(from, to, 1.0), (to, from, -1.0)] {
                let Part::Unknown(row) = own else { continue };
                *right.get_mut(row)? -= sign * fixed;
                if gain <= 0.0 {
                    continue;
                }
                *matrix.get_mut(row)?.entry(row).or_insert(0.0) += gain;
                match other {
                    Part::Unknown(column) => *matrix.get_mut(row)?.entry(column).or_insert(0.0) -= gain,
                    Part::Known(pressure) => *right.get_mut(row)? += gain * pressure,
                }
            }
        }
        symmetric_si(matrix, right)
    }

    /// The fall of pressure over a link.
    fn fall(&self, link: usize, pressures: &[f64]) -> Option<f64> {
        let (from, to) = self.ends(link)?;
        let of = |part: Part| match part {
            Part::Known(pressure) => Some(pressure),
            Part::Unknown(at) => pressures.get(at).copied(),
        };
        Some(of(from)? - of(to)?)
    }

    /// The link furthest from its law.
    fn worst(&self, pressures: &[f64]) -> (usize, f64) {
        let mut worst = (0, 0.0);
        for (link, flow) in self.flows.iter().enumerate() {
            let (Some((loss, _)), Some(fall)) = (self.taken(link, *flow), self.fall(link, pressures)) else {
                continue;
            };
            if (loss - fall).abs() > worst.1 {
                worst = (link, (loss - fall).abs());
            }
        }
        worst
    }

    /// One step: to its end, or to where the energy is least on the way.
    fn step(&mut self, pressures: &[f64], whole: bool) {
        let ways: Vec<(f64, f64)> = (0..self.flows.len())
            .zip(&self.flows)
            .map(|(link, flow)| {
                let law = self.taken(link, *flow).zip(self.fall(link, pressures));
                law.map_or((0.0, 0.0), |((loss, slope), fall)| ((fall - loss) / slope, fall))
            })
            .collect();
        // how the energy changes at a share of the way
        let change = |share: f64| -> f64 {
            let each = self.flows.iter().enumerate().zip(&ways).map(|((link, flow), (way, fall))| {
                let loss = self.taken(link, flow + share * way).map_or(*fall, |(loss, _)| loss);
                (loss - fall) * way
            });
            each.sum()
        };
        let mut share = 1.0;
        if !whole && change(1.0) > 0.0 {
            let start = change(0.0).abs();
            let (mut low, mut high) = (0.0, 1.0);
            for _ in 0..60 {
                share = 0.5 * (low + high);
                let here = change(share);
                if here.abs() < 0.05 * start {
                    break;
                }
                if here > 0.0 {
                    high = share;
                } else {
                    low = share;
                }
            }
        }
        for (flow, (way, _)) in self.flows.iter_mut().zip(&ways) {
            *flow += share * way;
        }
    }
}

/// The flows, the pressures of all nodes and how far they are from the laws, whatever the fans' sheets say.
pub(super) fn found(network: &Network) -> Result<Solution, NotSolved> {
    found_within(network, MOST_STEPS)
}

/// The same, with no more steps than given.
pub(super) fn found_within(network: &Network, most: usize) -> Result<Solution, NotSolved> {
    let (parts, reached) = parts(network)?;
    let start = |law: &Law| bound_si(law).unwrap_or(1e-3);
    let flows = network.links.iter().map(|link| start(&link.law)).collect();
    let mut search = Search { network, parts, flows };
    let mut history = Vec::new();
    let mut worst = (0, f64::MAX);
    for step in 0..most {
        let Some(pressures) = search.pressures() else { break };
        if step > 1 {
            worst = search.worst(&pressures);
            history.push(Pressure::new(worst.1));
            if worst.1 < NEAR {
                return Ok(handed_over(&search, &pressures, &reached, worst, step));
            }
        }
        search.step(&pressures, step == 0);
    }
    Err(NotSolved::NotConverged { worst: (LinkId(worst.0), Pressure::new(worst.1)), history })
}

fn handed_over(
    search: &Search,
    pressures: &[f64],
    reached: &[bool],
    worst: (usize, f64),
    steps: usize,
) -> Solution {
    let links = &search.network.links;
    let all = search.parts.iter().zip(reached).map(|(part, reached)| {
        let value = match part {
            Part::Known(pressure) => Some(*pressure),
            Part::Unknown(at) => pressures.get(*at).copied(),
        };
        value.filter(|_| *reached).map(Pressure::new)
    });
    let free = search.network.nodes.iter().enumerate().filter(|(_, given)| given.is_none());
    let mut balance: Option<(NodeId, f64)> = None;
    for (node, _) in free {
        let into: f64 = links
            .iter()
            .zip(&search.flows)
            .map(|(link, flow)| match (link.from == node, link.to == node) {
                (true, _) => -flow,
                (_, true) => *flow,
                _ => 0.0,
            })
            .sum();
        if balance.is_none_or(|(_, most)| into.abs() > most) {
            balance = Some((NodeId(node), into.abs()));
        }
    }
    Solution {
        flows: search.flows.iter().map(|flow| Flow::new(*flow)).collect(),
        pressures: all.collect(),
        fans: Vec::new(),
        worst_law: (!links.is_empty()).then(|| (LinkId(worst.0), Pressure::new(worst.1))),
        worst_balance: balance.map(|(node, flow)| (node, Flow::new(flow))),
        steps,
    }
}

/// Flows and pressures of a network.
///
/// # Meaning
/// Flows count from the first node of a link to its second, pressures from the room. A closed valve carries nothing, and what
/// hangs behind one with no other way out has no pressure.
/// # Formula
/// At each junction the flows sum to nought; along each link `p from - p to` is what its law takes. Newton's method on the flows
/// with steps shortened to where the energy is least (Todini and Pilati 1987, with a line search).
/// # Valid for
/// Up to 2000 links; speeds up to 100 m/s; fans on their sheets.
/// # Accuracy
/// Laws kept to 1e-8 Pa, junctions balanced to 1e-12 m3/s; the answer is as good as the laws. Coefficients of tees do not change
/// with the split of the flow: take those of the split that comes out.
/// # Source
/// Kirchhoff's two laws; Todini and Pilati, A gradient algorithm for the analysis of pipe networks, 1987.
/// # Errors
/// [`NotSolved`], with the place; never the last try.
/// # Example
/// ```
/// use undercroft::calc::{air::Air, amounts::*, network::*, suction_law::SuctionLaw};
/// let air = Air { density: Density::from_si(1.2).unwrap(), viscosity: Viscosity::from_si(1.8e-5).unwrap() };
/// let mut network = Network::new(air).unwrap();
/// let pa = |value| Pressure::from_si(value).unwrap();
/// let soil = network.held(pa(0.0)).unwrap();
/// let pit = network.junction();
/// let drawn = network.held(pa(-100.0)).unwrap();
/// // two equal laws one behind the other: half of the pull on each
/// let one = Plain::written("1").unwrap();
/// let law = SuctionLaw::through(Flow::from_si(0.01).unwrap(), pa(50.0), one).unwrap();
/// let first = network.suction_point(soil, pit, law).unwrap();
/// network.suction_point(pit, drawn, law).unwrap();
/// let solution = solve(&network).unwrap();
/// assert!((solution.suction(pit).unwrap().to_si() - 50.0).abs() < 1e-6);
/// assert!((solution.flow(first).unwrap().to_si() - 0.01).abs() < 1e-9);
/// ```
pub fn solve(network: &Network) -> Result<Solution, NotSolved> {
    checked(network, found(network)?)
}

/// A solution, if every fan is on its sheet and nothing is too fast.
pub(super) fn checked(network: &Network, mut solution: Solution) -> Result<Solution, NotSolved> {
    for (at, (link, flow)) in network.links.iter().zip(&solution.flows).enumerate() {
        match &link.law {
            Law::Fan(curve) => {
                // a fan against a closed pipe has no flow but for the last digits
                let flow = if flow.to_si().abs() < BALANCED { Flow::new(0.0) } else { *flow };
                let at = LinkId(at);
                let does = curve.operating(flow).map_err(|how| NotSolved::OffCurve { fan: at, flow, how })?;
                solution.fans.push((at, does));
            }
            Law::Run(run) if run.section.speed(*flow).is_ok_and(|v| v.to_si().abs() > 100.0) => {
                return Err(NotSolved::TooFast(LinkId(at)));
            }
            Law::Valve(section, _) if section.speed(*flow).is_ok_and(|v| v.to_si().abs() > 100.0) => {
                return Err(NotSolved::TooFast(LinkId(at)));
            }
            _ => {}
        }
    }
    Ok(solution)
}
