//! Laws that hold of every rule and every design, tried on a toy world and on rules drawn by lot.

pub(crate) mod random;
pub(crate) mod toy;

mod knowing_more;
mod replaying;
mod smallest_list;
