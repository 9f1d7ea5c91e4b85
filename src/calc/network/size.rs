//! The smallest pipe that keeps what is asked.

use crate::calc::amounts::{Amount, Flow, Gradient, Pressure, Speed};
use crate::calc::friction;
use crate::calc::section::Section;

use super::{Law, LinkId, Network, NodeId, NotSolved, Solution, solve};

/// What a size has to keep.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Limits {
    /// No faster in the runs that are sized.
    pub greatest_speed: Option<Speed>,
    /// No more lost along a metre of them.
    pub greatest_loss: Option<Gradient>,
    /// At least these suctions.
    pub least_suctions: Vec<(NodeId, Pressure)>,
}

/// Which limit a size does not keep, and what it comes to.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Shortfall {
    /// Faster than allowed.
    Speed(LinkId, Speed),
    /// More lost than allowed.
    Loss(LinkId, Gradient),
    /// Less suction than wanted; nought where the node is cut off.
    Suction(NodeId, Pressure),
}

/// Why there is no size.
#[derive(Clone, PartialEq, Debug)]
pub enum NoSize {
    /// A link to be sized is not a run.
    NoRun(LinkId),
    /// No sizes were offered.
    NothingOffered,
    /// None keeps the limits; what the largest falls short of.
    NoneKeeps(Shortfall),
    /// The network cannot be solved at the largest size.
    NotSolved(NotSolved),
}

fn resized(network: &Network, runs: &[LinkId], size: &Section) -> Result<Network, NoSize> {
    let mut network = network.clone();
    for link in runs {
        match network.links.get_mut(link.0).map(|link| &mut link.law) {
            Some(Law::Run(run)) => run.section = *size,
            _ => return Err(NoSize::NoRun(*link)),
        }
    }
    Ok(network)
}

fn shortfall(network: &Network, runs: &[LinkId], solution: &Solution, limits: &Limits) -> Option<Shortfall> {
    for link in runs {
        let Some(Law::Run(run)) = network.links.get(link.0).map(|link| &link.law) else { continue };
        let flow = Flow::from_si(solution.flow(*link)?.to_si().abs())?;
        if let (Some(most), Ok(speed)) = (limits.greatest_speed, run.section.speed(flow))
            && speed > most
        {
            return Some(Shortfall::Speed(*link, speed));
        }
        let loss = friction::gradient(&run.section, flow, &network.air, run.roughness);
        if let (Some(most), Ok(loss)) = (limits.greatest_loss, loss)
            && loss > most
        {
            return Some(Shortfall::Loss(*link, loss));
        }
    }
    limits.least_suctions.iter().find_map(|(node, least)| {
        let suction = solution.suction(*node).or(Pressure::from_si(0.0))?;
        (suction < *least).then_some(Shortfall::Suction(*node, suction))
    })
}

/// The smallest of the sizes offered at which runs keep limits; its place in the offer.
///
/// # Meaning
/// All the runs get one size. A size at which the network cannot be solved is passed over.
/// # Formula
/// The network is solved at each size, from the least area up, until all limits are kept.
/// # Valid for
/// As [`solve()`].
/// # Accuracy
/// As [`solve()`].
/// # Source
/// As [`solve()`].
/// # Errors
/// [`NoSize`], with what the largest falls short of.
/// # Example
/// ```
/// use undercroft::calc::{air::Air, amounts::*, network::*, section::Section};
/// let air = Air { density: Density::from_si(1.2).unwrap(), viscosity: Viscosity::from_si(1.8e-5).unwrap() };
/// let mut network = Network::new(air).unwrap();
/// let pa = |value| Pressure::from_si(value).unwrap();
/// let (open, drawn) = (network.held(pa(0.0)).unwrap(), network.held(pa(-60.0)).unwrap());
/// let round = |text| Section::round(Length::written(text).unwrap()).unwrap();
/// let run = Run {
///     section: round("50 mm"), length: Length::written("1 m").unwrap(), roughness: Length::written("0.0015 mm").unwrap(),
///     fittings: Plain::written("60").unwrap(), draught: pa(0.0),
/// };
/// let link = network.run(open, drawn, run).unwrap();
/// // 60 Pa over 60 speed pressures and a little pipe: just under sqrt(2 / 1.2) = 1.29 m/s at any size
/// let limits = Limits { greatest_speed: Speed::written("1.3 m/s"), ..Limits::default() };
/// assert_eq!(smallest_size(&network, &[link], &[round("75 mm"), round("50 mm")], &limits), Ok(1));
/// ```
pub fn smallest_size(
    network: &Network,
    runs: &[LinkId],
    sizes: &[Section],
    limits: &Limits,
) -> Result<usize, NoSize> {
    let mut order: Vec<(usize, &Section)> = sizes.iter().enumerate().collect();
    order.sort_by(|(_, a), (_, b)| a.area().to_si().total_cmp(&b.area().to_si()));
    let mut last = NoSize::NothingOffered;
    for (at, size) in order {
        let network = resized(network, runs, size)?;
        match solve(&network) {
            Err(error) => last = NoSize::NotSolved(error),
            Ok(solution) => match shortfall(&network, runs, &solution, limits) {
                None => return Ok(at),
                Some(short) => last = NoSize::NoneKeeps(short),
            },
        }
    }
    Err(last)
}
