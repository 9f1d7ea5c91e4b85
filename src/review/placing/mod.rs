//! Where something may stand so that every requirement on its place is met at once.
//!
//! The requirements are the rules themselves. So the design is judged anew with the thing put elsewhere, by every rule
//! that speaks of its place, and a place counts only where all of them are known to be met: a small loss of room is
//! taken, a false yes is not. Between a place that will do and one that will not the edge is found to a step that can
//! be built.

mod bench;
mod discharge;
mod excluded;
mod line;
mod points;
mod region;
mod rows;

pub use bench::{Asked, Doing, Tried};
pub use discharge::{Offer, Placing, Way, Why, nearest, placings};
pub use line::{Edge, Line, Stretch};
pub use points::{Layout, Needed, layouts};
pub use region::{Bound, NoRegion, Patch, Plane, Region, region};
pub use rows::Row;
