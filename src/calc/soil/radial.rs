//! Suction round pits in a wide layer that leaks, where the answer can be written down.
//!
//! The field on a real outline is held against what stands here.

use std::f64::consts::PI;

use crate::calc::amounts::{Amount, Flow, Length, Made, OutOfRange, Plain, Pressure, Transmissivity, within};
use crate::calc::linear::full_si;

use super::bessel::{i0_si, i1_si, k0_si, k1_si};
use super::ground::{Layer, reach};

/// Where a round layer ends.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum Edge {
    /// Nowhere near.
    None,
    /// At this radius, open: no suction there.
    Open(Length),
    /// At this radius, sealed: nothing flows through.
    Sealed(Length),
}

/// A round pit in the middle of a layer.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Pit {
    /// Its radius.
    pub radius: Length,
    /// The suction in it.
    pub suction: Pressure,
}

/// What stands beside K0: the coefficient of I0 by which the edge is met.
fn from_edge(edge: Edge, pit: f64, lambda: f64) -> Result<(f64, f64), OutOfRange> {
    let bound = |radius: Length| within("the radius of the edge", radius, pit, (50.0 * lambda).max(pit));
    Ok(match edge {
        Edge::None => (0.0, 400.0 * lambda),
        Edge::Open(radius) => {
            let at = bound(radius)?;
            (-k0_si(at / lambda) / i0_si(at / lambda), at)
        }
        Edge::Sealed(radius) => {
            let at = bound(radius)?;
            (k1_si(at / lambda) / i1_si(at / lambda), at)
        }
    })
}

fn pit_si(layer: &Layer, pit: &Pit) -> Result<(f64, f64, f64), OutOfRange> {
    let lambda = reach(layer)?.to_si();
    let radius = within("the radius of the pit", pit.radius, 0.005, 5.0)?;
    Ok((lambda, radius, within("the suction in the pit", pit.suction, 0.0, 20_000.0)?))
}

/// The suction at a distance from the middle of a pit.
///
/// # Meaning
/// In a layer of one kind, leaking everywhere alike.
/// # Formula
/// `p (K0(r/L) + B I0(r/L)) / (K0(a/L) + B I0(a/L))`, L the reach of the layer, B for the edge: nought, `-K0(R/L)/I0(R/L)` or
/// `K1(R/L)/I1(R/L)`.
/// # Valid for
/// Pits of 5 mm to 5 m, reaches of 0.1 m to 10 km, distances from the pit to the edge.
/// # Accuracy
/// Exact for the layer; the layer is seldom so even.
/// # Source
/// Jacob 1946, radial flow in a leaky layer.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, soil::{ground::Layer, radial::{Edge, Pit, suction}}};
/// let layer = Layer {
///     transmissivity: Transmissivity::from_si(5e-5).unwrap(), leakage: Leakage::from_si(5e-7).unwrap(),
/// };
/// let pit = Pit { radius: Length::from_si(0.15).unwrap(), suction: Pressure::from_si(100.0).unwrap() };
/// let at = suction(&layer, &pit, Edge::None, Length::from_si(3.0).unwrap()).unwrap();
/// // K0(0.3)/K0(0.015) = 1.3725/4.3159
/// assert!((at.to_si() - 31.80).abs() < 0.01);
/// ```
pub fn suction(layer: &Layer, pit: &Pit, edge: Edge, distance: Length) -> Result<Pressure, OutOfRange> {
    let (lambda, a, p) = pit_si(layer, pit)?;
    let (b, end) = from_edge(edge, a, lambda)?;
    let r = within("the distance from the pit", distance, a, end)?;
    let at = |r: f64| k0_si(r / lambda) + if b.abs() > 0.0 { b * i0_si(r / lambda) } else { 0.0 };
    Ok(Pressure::new(p * at(r) / at(a)))
}

/// The flow into a pit.
///
/// # Meaning
/// All that leaks into the layer.
/// # Formula
/// `2 pi T p (a/L) (K1(a/L) - B I1(a/L)) / (K0(a/L) + B I0(a/L))`
/// # Valid for
/// As [`suction`].
/// # Accuracy
/// As [`suction`].
/// # Source
/// As [`suction`].
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, soil::{ground::Layer, radial::{Edge, Pit, inflow}}};
/// let layer = Layer {
///     transmissivity: Transmissivity::from_si(5e-5).unwrap(), leakage: Leakage::from_si(5e-7).unwrap(),
/// };
/// let pit = Pit { radius: Length::from_si(0.15).unwrap(), suction: Pressure::from_si(100.0).unwrap() };
/// assert!((inflow(&layer, &pit, Edge::None).unwrap().to_si() - 0.007_275).abs() < 1e-6);
/// ```
pub fn inflow(layer: &Layer, pit: &Pit, edge: Edge) -> Result<Flow, OutOfRange> {
    let (lambda, a, p) = pit_si(layer, pit)?;
    let (b, _) = from_edge(edge, a, lambda)?;
    let x = a / lambda;
    let slope = x * (k1_si(x) - b * i1_si(x)) / (k0_si(x) + b * i0_si(x));
    Ok(Flow::new(2.0 * PI * layer.transmissivity.to_si() * p * slope))
}

/// How far from a pit there still is a suction, in a wide layer.
///
/// # Meaning
/// The radius of the circle within which the suction is at least the wanted one.
/// # Formula
/// [`suction`] turned round by halving.
/// # Valid for
/// Wanted suctions from a millionth of the pit's up to the pit's own.
/// # Accuracy
/// As [`suction`].
/// # Source
/// As [`suction`].
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, soil::{ground::Layer, radial::{Pit, radius_of}}};
/// let layer = Layer {
///     transmissivity: Transmissivity::from_si(5e-5).unwrap(), leakage: Leakage::from_si(5e-7).unwrap(),
/// };
/// let pit = Pit { radius: Length::from_si(0.15).unwrap(), suction: Pressure::from_si(100.0).unwrap() };
/// let far = radius_of(&layer, &pit, Pressure::from_si(5.0).unwrap()).unwrap();
/// assert!((far.to_si() - 14.93).abs() < 0.01);
/// ```
pub fn radius_of(layer: &Layer, pit: &Pit, wanted: Pressure) -> Result<Length, OutOfRange> {
    let (lambda, a, p) = pit_si(layer, pit)?;
    let share = within("the wanted suction", wanted, 1e-6 * p, p)? / p;
    let (mut low, mut high) = (a, a + 30.0 * lambda);
    let whole = k0_si(a / lambda);
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if k0_si(middle / lambda) > share * whole {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(Length::new(0.5 * (low + high)))
}

/// A layer that does not leak, between a pit and an open edge.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Tight {
    /// Flow along it.
    pub transmissivity: Transmissivity,
    /// The pit.
    pub pit: Pit,
    /// Where the open edge is.
    pub edge: Length,
}

fn tight_si(tight: &Tight) -> Result<(f64, f64, f64), OutOfRange> {
    let a = within("the radius of the pit", tight.pit.radius, 0.005, 5.0)?;
    let end = within("the radius of the edge", tight.edge, a * (1.0 + 1e-9), 1_000.0)?;
    Ok((a, end, within("the suction in the pit", tight.pit.suction, 0.0, 20_000.0)?))
}

/// The flow into a pit in a layer that does not leak, from an open edge.
///
/// # Meaning
/// All gas comes from the edge.
/// # Formula
/// `2 pi T p / ln(R/a)`
/// # Valid for
/// Pits of 5 mm to 5 m, edges of up to 1 km.
/// # Accuracy
/// Exact for the layer.
/// # Source
/// Thiem 1906.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, soil::radial::{Pit, Tight, tight_inflow}};
/// let pit = Pit { radius: Length::from_si(0.15).unwrap(), suction: Pressure::from_si(100.0).unwrap() };
/// let tight = Tight { transmissivity: Transmissivity::from_si(5e-5).unwrap(), pit, edge: Length::from_si(6.0).unwrap() };
/// // 0.031416 / ln 40
/// assert!((tight_inflow(&tight).unwrap().to_si() - 0.008_516).abs() < 1e-6);
/// ```
pub fn tight_inflow(tight: &Tight) -> Result<Flow, OutOfRange> {
    let (a, end, p) = tight_si(tight)?;
    let t = within("how freely gas flows along the layer", tight.transmissivity, 1e-15, 10.0)?;
    Ok(Flow::new(2.0 * PI * t * p / (end / a).ln()))
}

/// The suction at a distance from a pit in a layer that does not leak.
///
/// # Meaning
/// As [`tight_inflow`].
/// # Formula
/// `p ln(R/r) / ln(R/a)`
/// # Valid for
/// Distances from the pit to the edge.
/// # Accuracy
/// Exact for the layer.
/// # Source
/// Thiem 1906.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, soil::radial::{Pit, Tight, tight_suction}};
/// let pit = Pit { radius: Length::from_si(0.1).unwrap(), suction: Pressure::from_si(100.0).unwrap() };
/// let tight = Tight { transmissivity: Transmissivity::from_si(5e-5).unwrap(), pit, edge: Length::from_si(10.0).unwrap() };
/// // ln 10 / ln 100
/// assert!((tight_suction(&tight, Length::from_si(1.0).unwrap()).unwrap().to_si() - 50.0).abs() < 1e-9);
/// ```
pub fn tight_suction(tight: &Tight, distance: Length) -> Result<Pressure, OutOfRange> {
    let (a, end, p) = tight_si(tight)?;
    let r = within("the distance from the pit", distance, a, end)?;
    Ok(Pressure::new(p * (end / r).ln() / (end / a).ln()))
}

/// Several pits in one wide layer, each held at its suction.
#[derive(Clone, PartialEq, Debug)]
pub struct Pits {
    lambda: f64,
    /// Place, radius, and what each gives to the field.
    sources: Vec<(f64, f64, f64, f64)>,
    flows: Vec<Flow>,
}

impl Pits {
    /// Works out how much each pit draws, so that every one has its suction with all the others pulling too.
    ///
    /// # Meaning
    /// Each pit stands at a place in plan; the pits do not touch.
    /// # Formula
    /// `p_j = sum of q_i K0(r_ij/L) / (2 pi T)`, r the pit's own radius for itself.
    /// # Valid for
    /// Up to 100 pits, each further from the others than their radii together.
    /// # Accuracy
    /// Pits as thin sources: 0.1 % where they are ten radii apart.
    /// # Source
    /// Superposition of [`suction`].
    /// # Errors
    /// [`OutOfRange`] outside the range; for pits that touch, their distance.
    /// # Example
    /// ```
    /// use undercroft::calc::{amounts::*, soil::{ground::Layer, radial::{Pit, Pits}}};
    /// let layer = Layer {
    ///     transmissivity: Transmissivity::from_si(5e-5).unwrap(), leakage: Leakage::from_si(5e-7).unwrap(),
    /// };
    /// let si = |value| Length::from_si(value).unwrap();
    /// let pit = Pit { radius: si(0.15), suction: Pressure::from_si(100.0).unwrap() };
    /// let pits = Pits::new(&layer, &[((si(0.0), si(0.0)), pit), ((si(8.0), si(0.0)), pit)]).unwrap();
    /// // less than the 51.6 Pa of the two fields laid over each other
    /// assert!((pits.suction((si(4.0), si(0.0))).to_si() - 45.665).abs() < 1e-3);
    /// ```
    pub fn new(layer: &Layer, pits: &[((Length, Length), Pit)]) -> Result<Pits, OutOfRange> {
        let lambda = reach(layer)?.to_si();
        within("the count of pits", Plain::new(pits.len() as f64), 1.0, 100.0)?;
        let scale = 2.0 * PI * layer.transmissivity.to_si();
        let mut places = Vec::with_capacity(pits.len());
        for ((x, y), pit) in pits {
            let (_, radius, p) = pit_si(layer, pit)?;
            places.push((x.to_si(), y.to_si(), radius, p));
        }
        let mut matrix = Vec::with_capacity(pits.len());
        for (i, one) in places.iter().enumerate() {
            let mut row = Vec::with_capacity(pits.len());
            for (j, other) in places.iter().enumerate() {
                let apart = Length::new((one.0 - other.0).hypot(one.1 - other.1));
                let r = if i == j {
                    one.2
                } else {
                    within("the distance between pits", apart, one.2 + other.2, 400.0 * lambda)?
                };
                row.push(k0_si(r / lambda) / scale);
            }
            matrix.push(row);
        }
        let right: Vec<f64> = places.iter().map(|place| place.3).collect();
        // pits that do not touch always have one answer
        let flows = full_si(matrix, right).unwrap_or_else(|| vec![0.0; places.len()]);
        let sources =
            places.iter().zip(&flows).map(|(place, flow)| (place.0, place.1, place.2, flow / scale));
        Ok(Pits {
            lambda,
            sources: sources.collect(),
            flows: flows.iter().map(|flow| Flow::new(*flow)).collect(),
        })
    }

    /// What each pit draws, in the order they were given.
    #[must_use]
    pub fn flows(&self) -> &[Flow] {
        &self.flows
    }

    /// The suction at a place; within a pit, at its rim.
    #[must_use]
    pub fn suction(&self, at: (Length, Length)) -> Pressure {
        let (x, y) = (at.0.to_si(), at.1.to_si());
        let each = self.sources.iter().map(|(a, b, radius, strength)| {
            strength * k0_si((x - a).hypot(y - b).max(*radius).min(500.0 * self.lambda) / self.lambda)
        });
        Pressure::new(each.sum())
    }
}
