//! The suction that pits and drains spread in the fill under a slab or the air under a membrane, on the real outline.
//!
//! The layer is thin and leaks: `T (p_xx + p_yy) = c p`, p the suction, T how freely gas flows along it, c what leaks in for a
//! unit of suction. Nothing flows through the outline, holes in it or footings; cracks and drains are lines that leak, to the
//! room or to a pipe under suction. Near a pit the suction rises as a logarithm, which no grid can follow; so every pit's own
//! field in a boundless layer is written down (K0), and only what the outline adds to it, which is smooth, is worked out on a
//! grid. Equations are solved in one fixed order: the same input gives the same bits.

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
