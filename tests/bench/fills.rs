//! Fields to be worked out: under an ordinary house, and under a large slab in great detail.

use undercroft::base::number::Ratio;
use undercroft::calc::amounts::{Leakage, Length, LineLeakage, Pressure, Transmissivity};
use undercroft::calc::field::{Fill, Line, Pit, Pull};
use undercroft::calc::geometry::{Outline, PlanPoint};
use undercroft::calc::soil::ground::Layer;

use super::pipes::si;

fn at(x: i128, y: i128) -> PlanPoint {
    PlanPoint::new(Ratio::new(x, 10).unwrap(), Ratio::new(y, 10).unwrap())
}

fn pit(x: i128, y: i128) -> Pit {
    let radius = si(Length::from_si(0.15));
    Pit { at: at(x, y), radius, pull: Pull::Suction(si(Pressure::from_si(250.0))) }
}

/// Fill in which suction carries four metres.
fn layer() -> Layer {
    Layer { transmissivity: si(Transmissivity::from_si(5e-5)), leakage: si(Leakage::from_si(3.125e-6)) }
}

/// An ordinary house, 12 m by 8 m with a corner cut out: a footing across it, two pits, an open joint; the width of its cells is that
/// with which a review works.
pub(super) fn house() -> (Fill, Length) {
    let corners = [(0, 0), (120, 0), (120, 50), (80, 50), (80, 80), (0, 80)];
    let joint = Line {
        from: at(0, 1),
        to: at(120, 1),
        by: si(LineLeakage::from_si(1e-5)),
        suction: si(Pressure::from_si(0.0)),
    };
    let fill = Fill {
        outline: Outline::new(corners.iter().map(|(x, y)| at(*x, *y)).collect()).unwrap(),
        holes: vec![],
        barriers: vec![(at(50, 0), at(50, 60))],
        layer: layer(),
        lines: vec![joint],
        pits: vec![pit(23, 31), pit(97, 18)],
    };
    (fill, si(Length::from_si(0.45)))
}

/// A slab of 20 m by 20 m with one pit, on cells of 5 cm: 160,000 of them.
pub(super) fn slab() -> (Fill, Length) {
    let outline = Outline::rectangle(&at(0, 0), &Ratio::from(20), &Ratio::from(20)).unwrap();
    let fill = Fill {
        outline,
        holes: vec![],
        barriers: vec![],
        layer: layer(),
        lines: vec![],
        pits: vec![pit(73, 88)],
    };
    (fill, si(Length::from_si(0.05)))
}
