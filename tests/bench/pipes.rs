//! Networks of pipe to be solved: the house of every day, and five hundred links.

use undercroft::calc::air::Air;
use undercroft::calc::amounts::{Density, Flow, Length, Plain, Pressure, Viscosity};
use undercroft::calc::fan_curve::{FanCurve, FanPoint, standard_air};
use undercroft::calc::network::{Network, NodeId, Run};
use undercroft::calc::section::Section;
use undercroft::calc::suction_law::SuctionLaw;

pub(super) fn si<A>(made: Option<A>) -> A {
    made.unwrap()
}

fn run(inside: &str, length: &str) -> Run {
    Run {
        section: Section::round(Length::written(inside).unwrap()).unwrap(),
        length: Length::written(length).unwrap(),
        roughness: si(Length::from_si(9e-6)),
        fittings: si(Plain::from_si(1.0)),
        draught: si(Pressure::from_si(0.0)),
    }
}

/// A fan with a stack and a riser, that branches in two at the end of every run until there are so many points.
pub(super) fn branching(points: usize) -> Network {
    let air = Air { density: si(Density::from_si(1.2)), viscosity: si(Viscosity::from_si(1.8e-5)) };
    let mut network = Network::new(air).unwrap();
    let open = network.held(si(Pressure::from_si(0.0))).unwrap();
    let (inlet, outlet) = (network.junction(), network.junction());
    let point = |flow: &str, pressure: &str| FanPoint {
        flow: Flow::written(flow).unwrap(),
        pressure: Pressure::written(pressure).unwrap(),
        power: None,
    };
    let sheet = [point("0 cfm", "4 in WC"), point("100 cfm", "2 in WC"), point("2000 cfm", "0 in WC")];
    network.fan(inlet, outlet, FanCurve::new(&sheet, standard_air()).unwrap()).unwrap();
    network.run(outlet, open, run("4.026 in", "20 ft")).unwrap();
    let mut ends: Vec<NodeId> = vec![inlet];
    while ends.len() < points {
        let end = ends.remove(0);
        for _ in 0..2 {
            let next = network.junction();
            network.run(next, end, run("4.026 in", "8 ft")).unwrap();
            ends.push(next);
        }
    }
    let law = SuctionLaw::through(
        si(Flow::from_si(0.01)),
        si(Pressure::from_si(400.0)),
        Plain::written("0.7").unwrap(),
    );
    for end in ends {
        network.suction_point(open, end, law.unwrap()).unwrap();
    }
    network
}
