//! What is assumed of the ground where nobody tested it: ranges, never a figure.
//!
//! A result made from these is an assumption and is shown as one; a communication test takes their place
//! ([`crate::calc::field::fitted()`]).

use crate::base::number::{Number, Ratio};
use crate::calc::amounts::{Leakage, Length, Made, OutOfRange, Permeability, Viscosity};

use super::ground::{Layer, transmissivity};

/// What lies under a slab or membrane, as a probe hole shows it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Under {
    /// Clean broken stone or gravel.
    CleanStone,
    /// Gravel with sand and fines in it.
    DirtyGravel,
    /// Sand.
    Sand,
    /// Silt, loam or clay.
    TightSoil,
}

/// What covers it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Cover {
    /// A slab whose cracks and edge are sealed.
    SealedSlab,
    /// A slab as it was found.
    Slab,
    /// A membrane with sealed seams and edges.
    SealedMembrane,
    /// A membrane that only lies there.
    LooseMembrane,
}

fn powers(low: i8, high: i8) -> Number {
    let ten = |power| Ratio::from_int(10).pow(power).unwrap_or_default();
    Number::between(ten(low), ten(high))
}

/// The permeability that ground of a kind can have, in m2.
///
/// # Meaning
/// From the tightest to the loosest of its kind.
/// # Formula
/// A table: clean stone 1e-9 to 1e-6, gravel with fines 1e-11 to 1e-9, sand 1e-13 to 1e-10, tight soil 1e-16 to 1e-12.
/// # Valid for
/// Ground that is not under water.
/// # Accuracy
/// The range is the accuracy.
/// # Source
/// Soils: ranges of Nazaroff 1992, Reviews of Geophysics 30, from memory. Stone: Ergun's formula for stones of 6 to 20 mm gives 3e-8 to
/// 6e-7 (see [`super::ground::stone`]); widened at both ends for mixed sizes. Gravel with fines: between the two, no source.
/// # Errors
/// None.
/// # Example
/// ```
/// use undercroft::calc::soil::assumed::{Under, permeability};
/// let (low, high) = permeability(Under::Sand).to_f64_bounds();
/// assert!(low < 1e-12 && high > 9e-11);
/// ```
#[must_use]
pub fn permeability(under: Under) -> Number {
    match under {
        Under::CleanStone => powers(-9, -6),
        Under::DirtyGravel => powers(-11, -9),
        Under::Sand => powers(-13, -10),
        Under::TightSoil => powers(-16, -12),
    }
}

/// What leaks through a cover and the soil below into the layer, in m/(s Pa).
///
/// # Meaning
/// Flow for a square metre and a pascal.
/// # Formula
/// A table: sealed slab 1e-8 to 1e-6, slab as found 1e-7 to 1e-5, sealed membrane 1e-8 to 1e-5, loose membrane 1e-6 to 1e-3.
/// # Valid for
/// Whole floors; a crack or drain is a line of its own.
/// # Accuracy
/// The range is the accuracy.
/// # Source
/// No source: by hand from what is usual. A system that draws 20 L/s and holds 20 Pa under 100 m2 of slab has
/// 0.02 / (100 x 20) = 1e-5; one that draws 1 L/s at 50 Pa has 2e-7.
/// # Errors
/// None.
/// # Example
/// ```
/// use undercroft::calc::soil::assumed::{Cover, leakage};
/// let (low, high) = leakage(Cover::Slab).to_f64_bounds();
/// assert!(low < 2e-7 && high > 9e-6);
/// ```
#[must_use]
pub fn leakage(cover: Cover) -> Number {
    match cover {
        Cover::SealedSlab => powers(-8, -6),
        Cover::Slab => powers(-7, -5),
        Cover::SealedMembrane => powers(-8, -5),
        Cover::LooseMembrane => powers(-6, -3),
    }
}

/// The layer in which suction carries least and the one in which it carries furthest, of all that ground and cover can be.
///
/// # Meaning
/// Between the two lies what a test would find.
/// # Formula
/// Least permeability with the most leakage, and the other way round.
/// # Valid for
/// Layers of 1 mm to 10 m.
/// # Accuracy
/// The range is the accuracy.
/// # Source
/// [`permeability`], [`leakage`].
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, soil::assumed::{Cover, Under, layers}, soil::ground::reach};
/// let air = Viscosity::from_si(1.8e-5).unwrap();
/// let (short, long) = layers(Under::CleanStone, Length::written("4 in").unwrap(), Cover::Slab, air).unwrap();
/// assert!(reach(&short).unwrap() < reach(&long).unwrap());
/// ```
pub fn layers(
    under: Under,
    thickness: Length,
    cover: Cover,
    viscosity: Viscosity,
) -> Result<(Layer, Layer), OutOfRange> {
    let (tight, loose) = permeability(under).to_f64_bounds();
    let (sealed, open) = leakage(cover).to_f64_bounds();
    let layer = |k: f64, c: f64| -> Result<Layer, OutOfRange> {
        let along = transmissivity(Permeability::new(k), thickness, viscosity)?;
        Ok(Layer { transmissivity: along, leakage: Leakage::new(c) })
    };
    Ok((layer(tight, open)?, layer(loose, sealed)?))
}
