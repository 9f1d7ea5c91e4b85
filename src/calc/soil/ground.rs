//! What fill and soil let through.

use std::f64::consts::PI;

use crate::calc::air::{Air, GRAVITY};
use crate::calc::amounts::{
    Amount, Conductance, Flow, Gradient, Inertia, Leakage, Length, Made, OutOfRange, Permeability, Plain,
    Pressure, Speed, Transmissivity, Viscosity, within,
};

/// A layer that gas flows along and leaks into.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Layer {
    /// Flow along it.
    pub transmissivity: Transmissivity,
    /// Flow into it, from above and below.
    pub leakage: Leakage,
}

/// Permeabilities from clay to boulders, in m2.
const PERMEABILITIES: (f64, f64) = (1e-18, 1e-5);

/// How freely gas flows along a layer.
///
/// # Meaning
/// Flow for a unit of width and of gradient.
/// # Formula
/// `T = k h / mu`
/// # Valid for
/// Permeabilities of 1e-18 to 1e-5 m2, layers of 1 mm to 10 m, viscosities of 5e-6 to 5e-5 Pa s.
/// # Accuracy
/// As the permeability, which is seldom known within a factor of three.
/// # Source
/// Darcy's law.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, soil::ground::transmissivity};
/// let k = Permeability::from_si(1e-8).unwrap();
/// let t = transmissivity(k, Length::written("90 mm").unwrap(), Viscosity::from_si(1.8e-5).unwrap()).unwrap();
/// assert!((t.to_si() - 5e-5).abs() < 1e-17);
/// ```
pub fn transmissivity(
    permeability: Permeability,
    thickness: Length,
    viscosity: Viscosity,
) -> Result<Transmissivity, OutOfRange> {
    let k = permeable(permeability)?;
    let h = within("the thickness of the layer", thickness, 0.001, 10.0)?;
    Ok(Transmissivity::new(k * h / sticky(viscosity)?))
}

fn permeable(permeability: Permeability) -> Result<f64, OutOfRange> {
    within("the permeability", permeability, PERMEABILITIES.0, PERMEABILITIES.1)
}

fn sticky(viscosity: Viscosity) -> Result<f64, OutOfRange> {
    within("the viscosity of the air", viscosity, 5e-6, 5e-5)
}

/// How freely gas flows along a gap between two sheets.
///
/// # Meaning
/// Flow for a unit of width and of gradient.
/// # Formula
/// `T = h^3 / (12 mu)`
/// # Valid for
/// Gaps of 0.1 to 50 mm, viscosities of 5e-6 to 5e-5 Pa s.
/// # Accuracy
/// As the gap, whose cube counts; slow flow.
/// # Source
/// Flow between parallel plates (Poiseuille).
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, soil::ground::gap};
/// let t = gap(Length::written("1 mm").unwrap(), Viscosity::from_si(1.8e-5).unwrap()).unwrap();
/// // 1e-9 / 2.16e-4
/// assert!((t.to_si() - 4.6296e-6).abs() < 1e-10);
/// ```
pub fn gap(width: Length, viscosity: Viscosity) -> Result<Transmissivity, OutOfRange> {
    let h = within("the width of the gap", width, 1e-4, 0.05)?;
    Ok(Transmissivity::new(h.powi(3) / (12.0 * sticky(viscosity)?)))
}

/// How far suction carries in a layer before leaks have eaten it.
///
/// # Meaning
/// The length over which it falls to a third or so.
/// # Formula
/// `sqrt(T / c)`, c the leakage.
/// # Valid for
/// Answers of 0.1 m to 10 km.
/// # Accuracy
/// As its inputs.
/// # Source
/// Leaky-layer flow (Jacob 1946).
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, soil::ground::{Layer, reach}};
/// let layer = Layer {
///     transmissivity: Transmissivity::from_si(5e-5).unwrap(), leakage: Leakage::from_si(5e-7).unwrap(),
/// };
/// assert!((reach(&layer).unwrap().to_si() - 10.0).abs() < 1e-9);
/// ```
pub fn reach(layer: &Layer) -> Result<Length, OutOfRange> {
    let t = within("how freely gas flows along the layer", layer.transmissivity, 1e-15, 10.0)?;
    let c = within("the leakage", layer.leakage, t / 1.000_001e8, t / 0.009_999)?;
    Ok(Length::new((t / c).sqrt()))
}

/// Broken stone, as its flow is known: slow and fast.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Stone {
    /// What it lets through when the flow is slow.
    pub permeability: Permeability,
    /// What it sets against fast flow.
    pub inertia: Inertia,
}

/// What clean stone of one size lets through.
///
/// # Meaning
/// The gradient is `mu v / k + beta rho v^2`, v the flow over the whole section.
/// # Formula
/// `k = d^2 e^3 / (150 (1 - e)^2)`, `beta = 1.75 (1 - e) / (d e^3)`, d the size of the stones, e the share of voids.
/// # Valid for
/// Stones of 0.1 to 100 mm, voids of 0.25 to 0.6.
/// # Accuracy
/// 50 %: stone has many sizes and fines between.
/// # Source
/// Ergun 1952.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, soil::ground::stone};
/// let clean = stone(Length::written("12 mm").unwrap(), Plain::written("0.4").unwrap()).unwrap();
/// // 1.44e-4 x 0.064 / (150 x 0.36)
/// assert!((clean.permeability.to_si() - 1.7067e-7).abs() < 1e-11);
/// ```
pub fn stone(size: Length, voids: Plain) -> Result<Stone, OutOfRange> {
    let d = within("the size of the stones", size, 1e-4, 0.1)?;
    let e = within("the share of voids", voids, 0.25, 0.6)?;
    Ok(Stone {
        permeability: Permeability::new(d * d * e.powi(3) / (150.0 * (1.0 - e).powi(2))),
        inertia: Inertia::new(1.75 * (1.0 - e) / (d * e.powi(3))),
    })
}

/// What stone takes along the way.
///
/// # Meaning
/// At a flow over the whole section, voids and stones.
/// # Formula
/// `mu v / k + beta rho v^2`
/// # Valid for
/// Speeds of 0 to 10 m/s.
/// # Accuracy
/// As the stone.
/// # Source
/// Forchheimer 1901, Ergun 1952.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{air::Air, amounts::*, soil::ground::{loss_along, stone}};
/// let clean = stone(Length::written("12 mm").unwrap(), Plain::written("0.4").unwrap()).unwrap();
/// let air = Air { density: Density::from_si(1.2).unwrap(), viscosity: Viscosity::from_si(1.8e-5).unwrap() };
/// // 10.5 for the slow part and 16.4 for the fast
/// assert!((loss_along(&clean, Speed::written("0.1 m/s").unwrap(), &air).unwrap().to_si() - 26.95).abs() < 0.01);
/// ```
pub fn loss_along(stone: &Stone, speed: Speed, air: &Air) -> Result<Gradient, OutOfRange> {
    let v = within("the speed through the stone", speed, 0.0, 10.0)?;
    let k = permeable(stone.permeability)?;
    let rho = within("the density of the air", air.density, 0.2, 3.0)?;
    Ok(Gradient::new(sticky(air.viscosity)? * v / k + stone.inertia.to_si() * rho * v * v))
}

/// A ring of stone round a pit.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Ring {
    /// The stone.
    pub stone: Stone,
    /// How thick the layer is.
    pub thickness: Length,
    /// The pit's radius.
    pub inner: Length,
    /// Where the suction is counted from.
    pub outer: Length,
}

/// The two coefficients of a ring: pressure for the flow and for its square.
fn ring_si(ring: &Ring, air: &Air) -> Result<(f64, f64), OutOfRange> {
    let h = within("the thickness of the layer", ring.thickness, 0.001, 10.0)?;
    let inner = within("the radius of the pit", ring.inner, 0.005, 10.0)?;
    let outer = within("the outer radius", ring.outer, inner, 1_000.0)?;
    let k = permeable(ring.stone.permeability)?;
    let rho = within("the density of the air", air.density, 0.2, 3.0)?;
    let slow = sticky(air.viscosity)? * (outer / inner).ln() / (2.0 * PI * k * h);
    let fast = ring.stone.inertia.to_si() * rho * (1.0 / inner - 1.0 / outer) / (4.0 * PI * PI * h * h);
    Ok((slow, fast))
}

/// What a ring of stone takes between a pit and a distance from it.
///
/// # Meaning
/// All gas comes from beyond the ring.
/// # Formula
/// `mu Q ln(R/r)/(2 pi k h) + beta rho Q^2 (1/r - 1/R)/(4 pi^2 h^2)`
/// # Valid for
/// Flows of 0 to 10 m3/s, layers of 1 mm to 10 m, pits of 5 mm to 10 m.
/// # Accuracy
/// As the stone.
/// # Source
/// Forchheimer's law integrated round a well.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// See [`ring_flow`].
pub fn ring_loss(ring: &Ring, flow: Flow, air: &Air) -> Result<Pressure, OutOfRange> {
    let (slow, fast) = ring_si(ring, air)?;
    let q = within("the flow", flow, 0.0, 10.0)?;
    Ok(Pressure::new(slow * q + fast * q * q))
}

/// The flow that a pressure drives through a ring of stone.
///
/// # Meaning
/// [`ring_loss`] turned round.
/// # Formula
/// The positive root of its square equation.
/// # Valid for
/// 0 to 20 kPa.
/// # Accuracy
/// As [`ring_loss`].
/// # Source
/// As [`ring_loss`].
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{air::Air, amounts::*, soil::ground::*};
/// let si = |value| Length::from_si(value).unwrap();
/// let clean = stone(si(0.012), Plain::written("0.4").unwrap()).unwrap();
/// let air = Air { density: Density::from_si(1.2).unwrap(), viscosity: Viscosity::from_si(1.8e-5).unwrap() };
/// let ring = Ring { stone: clean, thickness: si(0.1), inner: si(0.15), outer: si(5.0) };
/// let flow = Flow::from_si(0.02).unwrap();
/// let back = ring_flow(&ring, ring_loss(&ring, flow, &air).unwrap(), &air).unwrap();
/// assert!((back.to_si() - 0.02).abs() < 1e-12);
/// ```
pub fn ring_flow(ring: &Ring, pressure: Pressure, air: &Air) -> Result<Flow, OutOfRange> {
    let (slow, fast) = ring_si(ring, air)?;
    let p = within("the pressure", pressure, 0.0, 20_000.0)?;
    Ok(Flow::new(2.0 * p / (slow + (slow * slow + 4.0 * fast * p).sqrt())))
}

/// Permeability from the speed at which water seeps through.
///
/// # Meaning
/// From hydraulic conductivity, as soil reports give it, at 20 °C.
/// # Formula
/// `k = K mu / (rho g)`, water of 1.002e-3 Pa s and 998.2 kg/m3.
/// # Valid for
/// 1e-12 to 10 m/s.
/// # Accuracy
/// Exact for the same voids; damp soil lets far less gas through than dry.
/// # Source
/// Definition; water by the CRC Handbook.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, soil::ground::by_seepage};
/// let k = by_seepage(Speed::from_si(1e-4).unwrap()).unwrap();
/// // 1e-4 x 1.002e-3 / (998.2 x 9.80665)
/// assert!((k.to_si() - 1.0236e-11).abs() < 1e-15);
/// ```
pub fn by_seepage(conductivity: Speed) -> Result<Permeability, OutOfRange> {
    let speed = within("the speed of seepage", conductivity, 1e-12, 10.0)?;
    Ok(Permeability::new(speed * 1.002e-3 / (998.2 * GRAVITY)))
}

/// Permeability told in darcys.
///
/// # Meaning
/// The unit of older reports.
/// # Formula
/// 1 darcy is 9.869233e-13 m2.
/// # Valid for
/// 0 to 1e9 darcys.
/// # Accuracy
/// Seven digits.
/// # Source
/// Definition: one centipoise, one atmosphere to the centimetre.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, soil::ground::darcys};
/// assert!((darcys(Plain::written("1000").unwrap()).unwrap().to_si() - 9.869_233e-10).abs() < 1e-16);
/// ```
pub fn darcys(count: Plain) -> Result<Permeability, OutOfRange> {
    Ok(Permeability::new(9.869_233e-13 * within("the count of darcys", count, 0.0, 1e9)?))
}

/// Permeability of soil from its grains, voids and dampness.
///
/// # Meaning
/// An estimate where nothing was measured.
/// # Formula
/// `(p/500)^2 d^(4/3) exp(-12 m^4)`, p the share of voids, d the mean grain in metres, m the share of the voids that is water.
/// # Valid for
/// Grains of 1e-7 to 0.01 m, voids of 0.05 to 0.7, dampness of 0 to 1.
/// # Accuracy
/// A factor of ten.
/// # Source
/// Rogers and Nielson 1991, from memory; the power of d is borne out by the abstract of EPA/600/8-91/039.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, soil::ground::by_grain};
/// let plain = |text| Plain::written(text).unwrap();
/// let k = by_grain(Length::written("1 mm").unwrap(), plain("0.5"), plain("0")).unwrap();
/// // 1e-6 x 1e-4
/// assert!((k.to_si() - 1e-10).abs() < 1e-16);
/// ```
pub fn by_grain(grain: Length, voids: Plain, dampness: Plain) -> Result<Permeability, OutOfRange> {
    let d = within("the size of the grains", grain, 1e-7, 0.01)?;
    let p = within("the share of voids", voids, 0.05, 0.7)?;
    let m = within("the share of the voids that is water", dampness, 0.0, 1.0)?;
    Ok(Permeability::new((p / 500.0).powi(2) * d.powf(4.0 / 3.0) * (-12.0 * m.powi(4)).exp()))
}

/// What a pit hollowed out under a tight slab draws from deep soil.
///
/// # Meaning
/// Flow for a unit of suction.
/// # Formula
/// A half ball: `2 pi k a / mu`.
/// # Valid for
/// Radii of 5 mm to 5 m.
/// # Accuracy
/// As the permeability; no leak through the slab.
/// # Source
/// Potential flow to a sphere, halved.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, soil::ground::hollow};
/// let (k, mu) = (Permeability::from_si(1e-11).unwrap(), Viscosity::from_si(1.8e-5).unwrap());
/// let c = hollow(k, mu, Length::written("9 in").unwrap()).unwrap();
/// // 500 Pa draw 0.4 L/s
/// assert!((c.to_si() * 500.0 - 3.99e-4).abs() < 1e-6);
/// ```
pub fn hollow(
    permeability: Permeability,
    viscosity: Viscosity,
    radius: Length,
) -> Result<Conductance, OutOfRange> {
    let a = within("the radius of the pit", radius, 0.005, 5.0)?;
    Ok(Conductance::new(2.0 * PI * permeable(permeability)? * a / sticky(viscosity)?))
}

/// The suction in deep soil at a distance from a hollow.
///
/// # Meaning
/// Counted from the middle of the hollow, under a slab that does not leak.
/// # Formula
/// `p a / r`
/// # Valid for
/// Radii of 5 mm to 5 m, distances from the rim to 1 km, suctions of 0 to 20 kPa.
/// # Accuracy
/// As [`hollow`].
/// # Source
/// As [`hollow`].
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, soil::ground::beyond_hollow};
/// let si = |value| Length::from_si(value).unwrap();
/// let at = beyond_hollow(si(0.2), Pressure::written("500 Pa").unwrap(), si(2.0)).unwrap();
/// assert!((at.to_si() - 50.0).abs() < 1e-9);
/// ```
pub fn beyond_hollow(radius: Length, suction: Pressure, distance: Length) -> Result<Pressure, OutOfRange> {
    let a = within("the radius of the pit", radius, 0.005, 5.0)?;
    let r = within("the distance from the pit", distance, a, 1_000.0)?;
    Ok(Pressure::new(within("the suction in the pit", suction, 0.0, 20_000.0)? * a / r))
}

/// What a bare hole through a tight slab draws from deep soil.
///
/// # Meaning
/// Flow for a unit of suction, with nothing hollowed out.
/// # Formula
/// A disc on a half space: `4 k a / mu`.
/// # Valid for
/// Radii of 5 mm to 5 m.
/// # Accuracy
/// As [`hollow`].
/// # Source
/// Potential flow to a disc (Weber 1873).
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, soil::ground::bare_hole};
/// let (k, mu) = (Permeability::from_si(1e-11).unwrap(), Viscosity::from_si(1.8e-5).unwrap());
/// let c = bare_hole(k, mu, Length::written("2 in").unwrap()).unwrap();
/// assert!((c.to_si() * 500.0 - 5.644e-5).abs() < 1e-8);
/// ```
pub fn bare_hole(
    permeability: Permeability,
    viscosity: Viscosity,
    radius: Length,
) -> Result<Conductance, OutOfRange> {
    let a = within("the radius of the hole", radius, 0.005, 5.0)?;
    Ok(Conductance::new(4.0 * permeable(permeability)? * a / sticky(viscosity)?))
}
