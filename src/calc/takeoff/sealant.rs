//! Sealant by the joint and the hole, tape by the roll.

use crate::calc::amounts::{Amount, Area, Length, Made, OutOfRange, Plain, Volume, within};
use crate::calc::holes::around;

/// How far a cartridge goes.
///
/// # Meaning
/// The length of a joint that one cartridge fills.
/// # Formula
/// Its volume over the area of the bead.
/// # Valid for
/// 0.01 to 20 L, beads of 0.1 to 100 cm2.
/// # Accuracy
/// Exact for the bead as drawn; 10 % is usually left in the nozzle and on the knife.
/// # Source
/// Geometry.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, takeoff::run_of_cartridge};
/// // 300 mL in a bead of 1 cm2: 3 m
/// let run = run_of_cartridge(Volume::written("300 mL").unwrap(), Area::written("1 cm2").unwrap()).unwrap();
/// assert!((run.to_si() - 3.0).abs() < 1e-9);
/// ```
pub fn run_of_cartridge(cartridge: Volume, bead: Area) -> Result<Length, OutOfRange> {
    let v = within("the volume of the cartridge", cartridge, 1e-5, 0.02)?;
    Ok(Length::new(v / within("the area of the bead", bead, 1e-5, 0.01)?))
}

/// How many cartridges a joint takes.
///
/// # Meaning
/// Whole ones.
/// # Formula
/// `L A (1 + waste) / V`, up to the next whole one.
/// # Valid for
/// Joints of 0 to 10 km, waste of 0 to 2, otherwise as [`run_of_cartridge`].
/// # Accuracy
/// As the waste.
/// # Source
/// Geometry.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, takeoff::cartridges};
/// let (bead, tube) = (Area::written("1 cm2").unwrap(), Volume::written("300 mL").unwrap());
/// // 10 m and a tenth: 11 m at 3 m each
/// let count = cartridges(Length::written("10 m").unwrap(), bead, tube, Plain::written("10 %").unwrap());
/// assert_eq!(count, Ok(4));
/// ```
pub fn cartridges(joint: Length, bead: Area, cartridge: Volume, waste: Plain) -> Result<u32, OutOfRange> {
    let each = run_of_cartridge(cartridge, bead)?.to_si();
    let length = within("the length of the joint", joint, 0.0, 10_000.0)?;
    let waste = within("the waste", waste, 0.0, 2.0)?;
    Ok((length * (1.0 + waste) / each - 1e-9).ceil().max(0.0) as u32)
}

/// The sealant that fills the ring between a hole and a pipe.
///
/// # Meaning
/// Over a backer at this depth.
/// # Formula
/// Area of the ring times the depth.
/// # Valid for
/// As [`around`]; depths of 0 to 1 m.
/// # Accuracy
/// Exact for a pipe in the middle of its hole.
/// # Source
/// Geometry.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, takeoff::ring_of_sealant};
/// let inch = |text| Length::written(text).unwrap();
/// let fill = ring_of_sealant(inch("5 in"), inch("4.5 in"), inch("1 in")).unwrap();
/// // pi/4 (25 - 20.25) = 3.731 in3
/// assert!((fill.to_si() / 0.0254_f64.powi(3) - 3.731).abs() < 1e-3);
/// ```
pub fn ring_of_sealant(hole: Length, outside: Length, depth: Length) -> Result<Volume, OutOfRange> {
    let ring = around(hole, outside)?.area.to_si();
    Ok(Volume::new(ring * within("the depth of the sealant", depth, 0.0, 1.0)?))
}

/// How many rolls of tape a length takes.
///
/// # Meaning
/// Whole ones.
/// # Formula
/// `L (1 + waste) / roll`, up to the next whole one.
/// # Valid for
/// Lengths of 0 to 10 km, rolls of 1 to 1000 m, waste of 0 to 2.
/// # Accuracy
/// As the waste.
/// # Source
/// Arithmetic.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, takeoff::rolls};
/// let feet = |text| Length::written(text).unwrap();
/// // 94 ft and a twentieth: 98.7 ft of 60 ft rolls
/// assert_eq!(rolls(feet("94 ft"), feet("60 ft"), Plain::written("5 %").unwrap()), Ok(2));
/// ```
pub fn rolls(length: Length, roll: Length, waste: Plain) -> Result<u32, OutOfRange> {
    let length = within("the length to be taped", length, 0.0, 10_000.0)?;
    let roll = within("the length of a roll", roll, 1.0, 1_000.0)?;
    let waste = within("the waste", waste, 0.0, 2.0)?;
    Ok((length * (1.0 + waste) / roll - 1e-9).ceil().max(0.0) as u32)
}
