//! Radon in a room: how it comes, decays and is carried off, and how far a system takes it down.

use std::f64::consts::LN_2;

use super::amounts::{
    Activity, Concentration, DecayEnergy, Made, OutOfRange, Plain, Rate, Time, Volume, within,
};

/// The half-life of radon 222, in seconds: 3.8235 days.
const HALF_LIFE: f64 = 3.8235 * 86_400.0;
/// The most that any function here takes, in Bq/m3.
const MOST: f64 = 1e8;

/// The time in which half of the radon decays.
///
/// # Meaning
/// Of radon 222.
/// # Formula
/// 3.8235 days.
/// # Valid for
/// Radon 222.
/// # Accuracy
/// 0.01 %.
/// # Source
/// Decay Data Evaluation Project, Rn-222.
/// # Errors
/// None.
/// # Example
/// ```
/// use undercroft::calc::{amounts::Amount, radon_decay::half_life};
/// assert!((half_life().to_si() - 330_350.4).abs() < 0.1);
/// ```
#[must_use]
pub fn half_life() -> Time {
    Time::new(HALF_LIFE)
}

/// How much of it decays in a unit of time.
///
/// # Meaning
/// The decay constant.
/// # Formula
/// `ln 2 / T`
/// # Valid for
/// Half-lives of 1 s to 1e12 s.
/// # Accuracy
/// As the half-life.
/// # Source
/// Definition.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, radon_decay::decay_rate};
/// // ln 2 = 0.693147
/// assert!((decay_rate(Time::from_si(1.0).unwrap()).unwrap().to_si() - 0.693_147).abs() < 1e-6);
/// ```
pub fn decay_rate(half_life: Time) -> Result<Rate, OutOfRange> {
    Ok(Rate::new(LN_2 / within("the half-life", half_life, 1.0, 1e12)?))
}

/// How much is left after a time.
///
/// # Meaning
/// A share of what was there, with none coming.
/// # Formula
/// `2^(-t/T)`
/// # Valid for
/// Times of 0 to 1e12 s, half-lives of 1 s to 1e12 s.
/// # Accuracy
/// As the half-life.
/// # Source
/// Law of decay.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, radon_decay::{half_life, left}};
/// assert!((left(half_life(), half_life()).unwrap().to_si() - 0.5).abs() < 1e-12);
/// ```
pub fn left(after: Time, half_life: Time) -> Result<Plain, OutOfRange> {
    let t = within("the time", after, 0.0, 1e12)?;
    Ok(Plain::new((-LN_2 * t / within("the half-life", half_life, 1.0, 1e12)?).exp()))
}

/// By how much a level fell.
///
/// # Meaning
/// A share of what it was; below nought when it rose.
/// # Formula
/// `(before - after) / before`
/// # Valid for
/// Levels of up to 1e8 Bq/m3, the one before above 0.1.
/// # Accuracy
/// As its inputs: two short tests differ by a quarter on their own.
/// # Source
/// Definition.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, radon_decay::reduction};
/// let level = |text| Concentration::written(text).unwrap();
/// assert!((reduction(level("12 pCi/L"), level("1.5 pCi/L")).unwrap().to_si() - 0.875).abs() < 1e-12);
/// ```
pub fn reduction(before: Concentration, after: Concentration) -> Result<Plain, OutOfRange> {
    let before = within("the level before", before, 0.1, MOST)?;
    Ok(Plain::new((before - within("the level after", after, 0.0, MOST)?) / before))
}

/// Two tests side by side.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Pair {
    /// Their mean.
    pub mean: Concentration,
    /// Their difference, as a share of the mean.
    pub apart: Plain,
}

/// The mean of two tests side by side and how far they are apart.
///
/// # Meaning
/// The difference has no sign.
/// # Formula
/// `(a + b)/2` and `|a - b| / mean`
/// # Valid for
/// Levels of 0 to 1e8 Bq/m3, the first above 0.1.
/// # Accuracy
/// Exact.
/// # Source
/// Definition.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, radon_decay::pair};
/// let level = |text| Concentration::written(text).unwrap();
/// let two = pair(level("3 pCi/L"), level("5 pCi/L")).unwrap();
/// assert!((two.mean.to_si() - 148.0).abs() < 1e-9 && (two.apart.to_si() - 0.5).abs() < 1e-12);
/// ```
pub fn pair(one: Concentration, other: Concentration) -> Result<Pair, OutOfRange> {
    let a = within("the first level", one, 0.1, MOST)?;
    let b = within("the second level", other, 0.0, MOST)?;
    let mean = 0.5 * (a + b);
    Ok(Pair { mean: Concentration::new(mean), apart: Plain::new((a - b).abs() / mean) })
}

/// The level that settles in a house.
///
/// # Meaning
/// What comes in is carried off or decays; outdoor air without radon.
/// # Formula
/// `S / (V (n + ln 2 / T))`
/// # Valid for
/// Sources of 0 to 1e6 Bq/s, 1 to 1e5 m3, air changes of 0 to 100 per hour.
/// # Accuracy
/// One well-mixed room.
/// # Source
/// Balance of activity (Nazaroff and Nero 1988, chapter 1).
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, radon_decay::settled};
/// let source = Activity::from_si(20.0).unwrap();
/// let level = settled(source, Volume::written("500 m3").unwrap(), Rate::written("0.35 per hour").unwrap());
/// // 20 / (500 x (9.722e-5 + 2.098e-6))
/// assert!((level.unwrap().to_si() - 402.7).abs() < 0.1);
/// ```
pub fn settled(source: Activity, volume: Volume, air_changes: Rate) -> Result<Concentration, OutOfRange> {
    let s = within("the source", source, 0.0, 1e6)?;
    let v = within("the volume of the house", volume, 1.0, 1e5)?;
    let n = within("the air changes", air_changes, 0.0, 100.0 / 3_600.0)?;
    Ok(Concentration::new(s / (v * (n + LN_2 / HALF_LIFE))))
}

/// The share of radon in equilibrium with its products indoors, from the least to the greatest that is usual.
///
/// # Meaning
/// What may be taken where nobody measured it.
/// # Formula
/// 0.1 to 0.9.
/// # Valid for
/// Rooms people live in.
/// # Accuracy
/// A range; 0.4 is the middle of many houses.
/// # Source
/// UNSCEAR 2000, annex B, from memory.
/// # Errors
/// None.
/// # Example
/// ```
/// use undercroft::calc::{amounts::Amount, radon_decay::usual_equilibrium};
/// let [least, greatest] = usual_equilibrium();
/// assert!(least.to_si() < 0.4 && greatest.to_si() > 0.4);
/// ```
#[must_use]
pub fn usual_equilibrium() -> [Plain; 2] {
    [Plain::new(0.1), Plain::new(0.9)]
}

/// The level of decay products that goes with a level of radon.
///
/// # Meaning
/// What a working-level monitor shows.
/// # Formula
/// A hundredth of a working level for each picocurie per litre, times the equilibrium factor.
/// # Valid for
/// Levels of 0 to 1e8 Bq/m3, factors of 0 to 1.
/// # Accuracy
/// 1.5 %: the round figure of the trade; the factor itself is seldom known within a quarter.
/// # Source
/// Definition of the working level, from memory; 1.3e5 MeV per litre.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, radon_decay::decay_products};
/// let four = Concentration::written("4 pCi/L").unwrap();
/// let found = decay_products(four, Plain::written("0.5").unwrap()).unwrap();
/// assert!((found.to_si() / DecayEnergy::written("0.02 WL").unwrap().to_si() - 1.0).abs() < 1e-12);
/// ```
pub fn decay_products(radon: Concentration, equilibrium: Plain) -> Result<DecayEnergy, OutOfRange> {
    // 1.3e5 MeV/L in J/m3, for 3700 Bq/m3 in equilibrium
    const WORKING_LEVEL: f64 = 1.3e5 * 1.602_176_634e-13 * 1_000.0;
    let c = within("the level", radon, 0.0, MOST)?;
    Ok(DecayEnergy::new(
        c / 3_700.0 * within("the equilibrium factor", equilibrium, 0.0, 1.0)? * WORKING_LEVEL,
    ))
}
