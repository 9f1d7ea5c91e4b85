//! Points, boxes, rims, outlines and the distances between them. Exact wherever a distance decides something.
//!
//! Coordinates are lengths in one unit, whichever; the rest of the program uses metres, x east, y north,
//! z up. Distances are handed over as exact squares where they have one, and otherwise as a range that
//! surely holds the true value. Nothing here knows what the points belong to.

pub mod around;
pub mod crossing;
pub mod jet;
pub mod point;
pub mod polygon;
pub mod rim;
pub mod roof;
pub mod segment;
pub mod solid;
pub mod spread;
pub mod uncovered;

pub use around::{around_block, around_in_plan, around_to};
pub use crossing::{Heading, ways_out};
pub use jet::{Jet, Throw};
pub use point::{PlanPoint, Point};
pub use polygon::{InvalidOutline, Outline, Whereabouts};
pub use rim::{Facing, Rim};
pub use roof::{Pitch, plane_height, rise_above_eave};
pub use segment::Segment;
pub use solid::Block;
pub use spread::longest_link_squared;
pub use uncovered::uncovered;
