//! Gas through pipes, fans, valves and suction points that hang together in any way, trees and loops alike.
//!
//! A network is nodes and links. At some nodes the pressure is given (the soil, the open air); at the others it is found, such that as
//! much flows in as out, and along every link the pressure falls by what its law takes at its flow. Pressures are counted
//! from the room, losses only: where a column of lighter gas draws, the run says so. Flows are by volume at one density.
//!
//! Nothing is handed over that is not solved: see [`solve()`] for how that is known.

mod law;
mod settings;
mod size;
mod solve;
#[cfg(test)]
mod tests;

pub use settings::{NotSet, Settings, Want, Wanted, settings};
pub use size::{Limits, NoSize, Shortfall, smallest_size};
pub use solve::{NotSolved, Solution, solve};

use super::air::Air;
use super::amounts::{Amount, Conductance, Flow, Length, OutOfRange, Plain, Pressure, within};
use super::fan_curve::FanCurve;
use super::section::Section;
use super::suction_law::SuctionLaw;

/// A place where links meet.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct NodeId(usize);

/// What joins two nodes. Its flow counts from the first to the second.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct LinkId(usize);

/// A run of pipe with its fittings.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Run {
    /// Its clear opening.
    pub section: Section,
    /// Its length.
    pub length: Length,
    /// How rough it is.
    pub roughness: Length,
    /// The coefficients of its fittings, summed, on the pressure of the speed in this opening.
    pub fittings: Plain,
    /// What the column of gas in it gives toward its second end; nought where draught is left out.
    pub draught: Pressure,
}

/// How a valve is set.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Setting {
    /// It lets nothing pass.
    Closed,
    /// It takes this coefficient.
    Takes(Plain),
    /// It is set so that this flow passes, whatever that takes.
    Lets(Flow),
}

/// A link.
#[derive(Clone, PartialEq, Debug)]
enum Law {
    Run(Run),
    Fan(FanCurve),
    Point(SuctionLaw),
    Seep(f64),
    Valve(Section, Setting),
}

#[derive(Clone, PartialEq, Debug)]
struct Link {
    from: usize,
    to: usize,
    law: Law,
}

/// Why a link cannot be put in.
#[derive(Clone, PartialEq, Debug)]
pub enum BadLink {
    /// It starts where it ends.
    SameEnds(NodeId),
    /// One of its nodes is not of this network.
    NoSuchNode(NodeId),
    /// The network would have more than two thousand links.
    TooMany,
    /// One of its figures is out of range.
    OutOfRange(OutOfRange),
}

impl From<OutOfRange> for BadLink {
    fn from(error: OutOfRange) -> Self {
        BadLink::OutOfRange(error)
    }
}

/// Nodes and links, and the gas in them.
#[derive(Clone, PartialEq, Debug)]
pub struct Network {
    air: Air,
    /// The pressure, where it is given.
    nodes: Vec<Option<f64>>,
    links: Vec<Link>,
}

impl Network {
    /// An empty network with this gas in it.
    ///
    /// # Errors
    /// [`OutOfRange`] for a density outside 0.2 to 3 kg/m3 or a viscosity outside 5e-6 to 5e-5 Pa s.
    pub fn new(air: Air) -> Result<Network, OutOfRange> {
        within("the density of the air", air.density, 0.2, 3.0)?;
        within("the viscosity of the air", air.viscosity, 5e-6, 5e-5)?;
        Ok(Network { air, nodes: Vec::new(), links: Vec::new() })
    }

    /// A place whose pressure is given: the soil or the open air.
    ///
    /// # Errors
    /// [`OutOfRange`] beyond 20 kPa either way.
    pub fn held(&mut self, pressure: Pressure) -> Result<NodeId, OutOfRange> {
        let value = within("the pressure", pressure, -20_000.0, 20_000.0)?;
        self.nodes.push(Some(value));
        Ok(NodeId(self.nodes.len() - 1))
    }

    /// A place whose pressure is to be found.
    pub fn junction(&mut self) -> NodeId {
        self.nodes.push(None);
        NodeId(self.nodes.len() - 1)
    }

    /// Puts in a run of pipe.
    ///
    /// # Errors
    /// [`BadLink`]: lengths of 0 to 500 m, fittings of 0 to 1e5 (a run of no length needs some), roughness of up to a
    /// twentieth of the width, draught of 1 kPa either way.
    pub fn run(&mut self, from: NodeId, to: NodeId, run: Run) -> Result<LinkId, BadLink> {
        let length = within("the length of the run", run.length, 0.0, 500.0)?;
        let least = if length > 0.0 { 0.0 } else { 1e-3 };
        within("the coefficients of the fittings", run.fittings, least, 1e5)?;
        let wide = run.section.hydraulic_diameter().to_si();
        within("the roughness", run.roughness, 0.0, 0.05 * wide)?;
        within("the draught", run.draught, -1_000.0, 1_000.0)?;
        self.link(from, to, Law::Run(run))
    }

    /// Puts in a fan that draws from the first node and blows into the second. Its curve has to be that of this gas: see
    /// [`FanCurve::in_air_of`].
    ///
    /// # Errors
    /// [`BadLink`]
    pub fn fan(&mut self, from: NodeId, to: NodeId, curve: FanCurve) -> Result<LinkId, BadLink> {
        self.link(from, to, Law::Fan(curve))
    }

    /// Puts in a suction point: gas comes from the first node, the soil, by this law.
    ///
    /// # Errors
    /// [`BadLink`]
    pub fn suction_point(&mut self, from: NodeId, to: NodeId, law: SuctionLaw) -> Result<LinkId, BadLink> {
        self.link(from, to, Law::Point(law))
    }

    /// Puts in a way through the ground, by which points of one or several systems take from each other.
    ///
    /// # Errors
    /// [`BadLink`]: conductances of 1e-12 to 1 m3/(s Pa).
    pub fn seep(&mut self, from: NodeId, to: NodeId, by: Conductance) -> Result<LinkId, BadLink> {
        let by = within("the conductance of the ground", by, 1e-12, 1.0)?;
        self.link(from, to, Law::Seep(by))
    }

    /// Puts in the ground in which points stand, as a field hands it over: how each hangs together with the room and with each
    /// other ([`crate::calc::field::Field::conductances`]). Ways that let less than 1e-12 m3/(s Pa) through are left out.
    ///
    /// # Errors
    /// [`BadLink`]
    pub fn ground(
        &mut self,
        room: NodeId,
        points: &[NodeId],
        by: &[Vec<Conductance>],
    ) -> Result<Vec<LinkId>, BadLink> {
        let mut links = Vec::new();
        for (i, (point, row)) in points.iter().zip(by).enumerate() {
            for (j, (other, by)) in points.iter().zip(row).enumerate().take(i + 1) {
                if by.to_si() >= 1e-12 {
                    let from = if i == j { room } else { *other };
                    links.push(self.seep(from, *point, *by)?);
                }
            }
        }
        Ok(links)
    }

    /// Puts in a valve in a pipe of this opening.
    ///
    /// # Errors
    /// [`BadLink`]: coefficients of 1e-3 to 1e9, flows of 0 to 10 m3/s either way.
    pub fn valve(
        &mut self,
        from: NodeId,
        to: NodeId,
        section: Section,
        setting: Setting,
    ) -> Result<LinkId, BadLink> {
        match setting {
            Setting::Closed => {}
            Setting::Takes(k) => {
                within("the coefficient of the valve", k, 1e-3, 1e9)?;
            }
            Setting::Lets(flow) => {
                within("the flow through the valve", flow, -10.0, 10.0)?;
            }
        }
        self.link(from, to, Law::Valve(section, setting))
    }

    fn link(&mut self, from: NodeId, to: NodeId, law: Law) -> Result<LinkId, BadLink> {
        for node in [from, to] {
            if node.0 >= self.nodes.len() {
                return Err(BadLink::NoSuchNode(node));
            }
        }
        if from == to {
            return Err(BadLink::SameEnds(from));
        }
        if self.links.len() >= 2_000 {
            return Err(BadLink::TooMany);
        }
        self.links.push(Link { from: from.0, to: to.0, law });
        Ok(LinkId(self.links.len() - 1))
    }

    /// The same network with a valve set otherwise; unchanged where the link is no valve.
    #[must_use]
    fn set(&self, valve: LinkId, new: Setting) -> Network {
        let mut network = self.clone();
        if let Some(Link { law: Law::Valve(_, setting), .. }) = network.links.get_mut(valve.0) {
            *setting = new;
        }
        network
    }
}
