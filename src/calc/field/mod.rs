//! The suction that pits and drains spread in the fill under a slab or the air under a membrane, on the real outline.
//!
//! The layer is thin and leaks: `T (p_xx + p_yy) = c p`, p the suction, T how freely gas flows along it, c what leaks in for a
//! unit of suction. Nothing flows through the outline, holes in it or footings; cracks and drains are lines that leak, to the
//! room or to a pipe under suction. Near a pit the suction rises as a logarithm, which no grid can follow; so every pit's own
//! field in a boundless layer is written down (K0), and only what the outline adds to it, which is smooth, is worked out on a
//! grid. Equations are solved in one fixed order: the same input gives the same bits.
//!
//! How fast it comes nearer to what can be written down, as the tests of this module measure it and print it
//! (`cargo test --lib calc::field -- --nocapture`): the worst error over several places, in Pa, with cells of these widths, and the order
//! from the widest to the narrowest. The suction in the pits is 12 to 13 Pa, in the drain 50 Pa; from one step to the next the order
//! is uneven, as the places lie otherwise in their cells.
//!
//! | Held against | 1 m | 1/2 m | 1/4 m | 1/8 m | Order |
//! |---|---|---|---|---|---|
//! | a pit in a sealed rectangle: its images | 1.9e-2 | 5.0e-3 | 1.4e-3 | 1.5e-4 | 2.3 |
//! | the same rectangle aslant to the grid | 3.2e-2 | 5.9e-3 | 1.1e-3 | 6.6e-4 | 1.9 |
//! | a pit in a round slab: Bessel functions | 3.3e-3 | 9.0e-4 | 4.1e-4 | 9.9e-5 | 1.7 |
//! | a drain along one wall: a cosh | 2.1e-1 | 1.4e-2 | 8.5e-3 | 3.2e-3 | 2.0 |

mod assemble;
mod conjugate;
mod fitted;
mod grid;
#[cfg(test)]
mod tests;
mod worked_out;

pub use fitted::{Between, FittedLayer, NoFit, Reached, Reading, fitted, reaches};
pub use worked_out::{Field, NoField, Weakest, work_out};

use super::amounts::{Flow, Length, LineLeakage, Pressure};
use super::geometry::{Outline, PlanPoint};
use super::soil::ground::Layer;

/// What a pit is known by.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Pull {
    /// It is held at this suction.
    Suction(Pressure),
    /// It draws this flow.
    Flow(Flow),
}

/// A suction pit.
#[derive(Clone, PartialEq, Debug)]
pub struct Pit {
    /// The middle of it, in metres.
    pub at: PlanPoint,
    /// Its radius.
    pub radius: Length,
    /// How it pulls.
    pub pull: Pull,
}

/// A line along which the layer leaks: a crack to the room, a drain or a hollow wall under suction.
#[derive(Clone, PartialEq, Debug)]
pub struct Line {
    /// Its one end, in metres.
    pub from: PlanPoint,
    /// Its other end.
    pub to: PlanPoint,
    /// Flow for a unit of length and of difference.
    pub by: LineLeakage,
    /// The suction on its other side: nought for the room.
    pub suction: Pressure,
}

/// A layer with all that bounds it and pulls on it. Lengths in plan are in metres.
#[derive(Clone, PartialEq, Debug)]
pub struct Fill {
    /// Its edge.
    pub outline: Outline,
    /// What is not fill: other foundations in the middle of it.
    pub holes: Vec<Outline>,
    /// Footings that part the fill.
    pub barriers: Vec<(PlanPoint, PlanPoint)>,
    /// The fill.
    pub layer: Layer,
    /// Where it leaks along a line.
    pub lines: Vec<Line>,
    /// What pulls on it.
    pub pits: Vec<Pit>,
}
