//! What to put on the truck: pipe cut from stock lengths, membrane from rolls, sealant and tape.

mod cutting;
mod membrane;
mod sealant;
mod strips;

pub use cutting::{CutPlan, NotCut, Stick, cut_plan};
pub use membrane::{Floor, Pier, Sheets, sheets};
pub use sealant::{cartridges, ring_of_sealant, rolls, run_of_cartridge};
pub use strips::{Cover, Lie, Strips, strips};
