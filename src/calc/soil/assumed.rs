//! What is assumed of the ground where no test in the file tells it: ranges, never a figure.
//!
//! A result made from these is an assumption and is shown as one; a communication test takes their place
//! ([`crate::calc::field::fitted()`]).

use crate::base::number::{Number, Ratio};
use crate::calc::amounts::{Amount, Leakage, Made, Transmissivity};

use super::ground::Layer;

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

/// How wide the gap between a sheet and the soil it lies on can be.
///
/// # Meaning
/// Where nothing is laid under a membrane, gas flows between it and the soil.
/// # Formula
/// 0.5 to 10 mm.
/// # Valid for
/// Sheets that lie on raked soil.
/// # Accuracy
/// The range is the accuracy.
/// # Source
/// Common practice, no source.
/// # Errors
/// None.
/// # Example
/// ```
/// use undercroft::calc::soil::assumed::gap_under_sheet;
/// assert!(gap_under_sheet().to_f64_bounds().1 > 0.009);
/// ```
#[must_use]
pub fn gap_under_sheet() -> Number {
    let mm = |tenths| Ratio::new(tenths, 10_000).unwrap_or_default();
    Number::between(mm(5), mm(100))
}

/// What is known of a layer only within bounds: how freely gas flows along it, and what leaks in.
#[derive(Clone, PartialEq, Debug)]
pub struct Bounds {
    /// Least and most flow along it.
    pub along: (Transmissivity, Transmissivity),
    /// Least and most leakage.
    pub leaks: (Leakage, Leakage),
}

/// The layers at the ends of what a layer can be.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Ends {
    /// The one in which suction carries least far.
    pub near: Layer,
    /// The one in which it carries furthest.
    pub far: Layer,
    /// The one that gives the least air for the same suction.
    pub least: Layer,
    /// The one that gives most.
    pub most: Layer,
}

/// The least reach that a layer is given, in metres: less is as good as none a step away from the pit.
const LEAST_REACH: f64 = 0.1;

/// The layers at the ends of what is known of a layer.
///
/// # Meaning
/// With pits held at a suction, the suction anywhere rises with the reach, for the greatest of a leaky layer's suctions always lies
/// at a pit; the air rises with the flow along the layer and with the leakage, for each is one more way for it. So the ends of what is
/// known give the ends of every answer.
/// # Formula
/// `near`: least flow along, most leakage; `far`: the other way round; `least` and `most`: both least, both most.
/// # Valid for
/// Reaches of 10 km and less. One of less than 0.1 m is taken as 0.1 m: for `near` and `least` with less leakage, for `most` and `far`
/// with more flow along, so that no answer becomes narrower.
/// # Accuracy
/// As the bounds. Suction 1 m from a pit is 0.01 % of the pit's in a layer with a reach of 0.1 m.
/// # Source
/// Maximum principle and least work of linear flow.
/// # Errors
/// None.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, soil::assumed::{Bounds, ends}, soil::ground::reach};
/// let t = |v| Transmissivity::from_si(v).unwrap();
/// let c = |v| Leakage::from_si(v).unwrap();
/// let ends = ends(&Bounds { along: (t(1e-5), t(1e-3)), leaks: (c(1e-7), c(1e-5)) });
/// // 1 m and 100 m
/// assert!((reach(&ends.near).unwrap().to_si() - 1.0).abs() < 1e-9);
/// assert!((reach(&ends.far).unwrap().to_si() - 100.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn ends(known: &Bounds) -> Ends {
    let square = LEAST_REACH * LEAST_REACH;
    let tighter = |along: Transmissivity, leaks: Leakage| Layer {
        transmissivity: along,
        leakage: Leakage::new(leaks.to_si().min(along.to_si() / square)),
    };
    let freer = |along: Transmissivity, leaks: Leakage| Layer {
        transmissivity: Transmissivity::new(along.to_si().max(leaks.to_si() * square)),
        leakage: leaks,
    };
    Ends {
        near: tighter(known.along.0, known.leaks.1),
        far: freer(known.along.1, known.leaks.0),
        least: tighter(known.along.0, known.leaks.0),
        most: freer(known.along.1, known.leaks.1),
    }
}
