//! Loss of pressure along straight pipe.

use std::f64::consts::{LN_10, PI};

use super::air::Air;
use super::amounts::{Amount, Flow, Gradient, Length, Made, OutOfRange, Plain, within};
use super::section::Section;

/// Below this Reynolds number the flow is smooth, above the other it is rough all over; between, nobody knows, and a
/// straight line joins the two.
pub(in crate::calc) const LAMINAR: f64 = 2_000.0;
pub(in crate::calc) const TURBULENT: f64 = 4_000.0;
/// The greatest Reynolds number and relative roughness of the Moody chart.
const MOST_REYNOLDS: f64 = 1e8;
const MOST_ROUGH: f64 = 0.05;

/// What a pipe is made of, as far as its inside is rough.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Surface {
    /// Drawn or extruded: plastic, glass, copper tube.
    Smooth,
    /// Plastic as installed, with its joints: the figure of duct design for plastic pipe.
    JointedPlastic,
    /// New steel pipe.
    Steel,
    /// Sheet metal duct with its seams.
    SheetMetal,
    /// Galvanized steel pipe.
    Galvanized,
}

/// How high the bumps of an inside surface are.
///
/// # Meaning
/// Absolute roughness, as the Colebrook formula means it.
/// # Formula
/// A table: 0.0015, 0.009, 0.04572, 0.09 and 0.15 mm.
/// # Valid for
/// New pipe; dirt, ice and burrs at joints make it rougher.
/// # Accuracy
/// Half to twice; in the sizes and flows of this trade that is some 5 % of the friction.
/// # Source
/// Moody 1944 for smooth, steel and galvanized pipe; ASHRAE Fundamentals, chapter Duct Design, for plastic with
/// joints (0.009144 mm) and sheet metal, both from memory.
/// # Errors
/// None.
/// # Example
/// ```
/// use undercroft::calc::{amounts::Amount, friction::{Surface, roughness}};
/// assert!((roughness(Surface::Smooth).to_si() - 1.5e-6).abs() < 1e-12);
/// ```
#[must_use]
pub fn roughness(surface: Surface) -> Length {
    Length::new(match surface {
        Surface::Smooth => 1.5e-6,
        Surface::JointedPlastic => 9.144e-6,
        Surface::Steel => 4.572e-5,
        Surface::SheetMetal => 9e-5,
        Surface::Galvanized => 1.5e-4,
    })
}

/// How the friction factor of rough flow is worked out.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Formula {
    /// Colebrook and White: what everything here is worked out with.
    Colebrook,
    /// Haaland's explicit form, 2 % off Colebrook at most.
    Haaland,
    /// Swamee and Jain's explicit form of 1976, 3 % off Colebrook at most.
    SwameeJain,
}

/// The friction factor of Colebrook and White and how it changes with the Reynolds number.
fn colebrook_si(reynolds: f64, rough: f64) -> (f64, f64) {
    let (a, b) = (rough / 3.7, 2.51 / reynolds);
    // x is one over the root of the factor
    let mut x = -1.8 * ((rough / 3.7).powf(1.11) + 6.9 / reynolds).log10();
    let mut slope = 1.0;
    for _ in 0..20 {
        slope = 1.0 + 2.0 * b / (LN_10 * (a + b * x));
        let step = (x + 2.0 * (a + b * x).log10()) / slope;
        x -= step;
        if step.abs() < 1e-15 * x {
            break;
        }
    }
    let by_reynolds = 2.0 * b * x / (LN_10 * reynolds * (a + b * x)) / slope;
    (1.0 / (x * x), -2.0 * by_reynolds / x.powi(3))
}

/// The friction factor over the whole range and how it changes with the Reynolds number.
pub(in crate::calc) fn factor_si(reynolds: f64, rough: f64) -> (f64, f64) {
    if reynolds <= LAMINAR {
        return (64.0 / reynolds, -64.0 / (reynolds * reynolds));
    }
    if reynolds < TURBULENT {
        let low = 64.0 / LAMINAR;
        let rise = (colebrook_si(TURBULENT, rough).0 - low) / (TURBULENT - LAMINAR);
        return (low + rise * (reynolds - LAMINAR), rise);
    }
    colebrook_si(reynolds, rough)
}

/// The Darcy friction factor.
///
/// # Meaning
/// Pressure lost along one diameter of pipe, over the pressure of the speed.
/// # Formula
/// `64/Re` up to Re 2000; from 4000 `1/sqrt f = -2 log10(e/(3.7 D) + 2.51/(Re sqrt f))`; between the two a straight line in Re.
/// # Valid for
/// Re above 0 up to 1e8, relative roughness 0 to 0.05. The explicit forms: Re from 4000.
/// # Accuracy
/// The formula is solved to the last digits; pipe keeps to it within 5 % for rough flow, worse between 2000 and 4000.
/// # Source
/// Hagen and Poiseuille; Colebrook 1939; Haaland 1983; Swamee and Jain 1976.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::{Amount, Plain}, friction::{Formula, factor}};
/// let plain = |value| Plain::from_si(value).unwrap();
/// // 64 / 1600
/// assert!((factor(plain(1600.0), plain(0.0), Formula::Colebrook).unwrap().to_si() - 0.04).abs() < 1e-12);
/// ```
pub fn factor(reynolds: Plain, rough: Plain, formula: Formula) -> Result<Plain, OutOfRange> {
    let least = if formula == Formula::Colebrook { f64::MIN_POSITIVE } else { TURBULENT };
    let re = within("the Reynolds number", reynolds, least, MOST_REYNOLDS)?;
    let rough = within("the relative roughness", rough, 0.0, MOST_ROUGH)?;
    Ok(Plain::new(match formula {
        Formula::Colebrook => factor_si(re, rough).0,
        Formula::Haaland => (-1.8 * ((rough / 3.7).powf(1.11) + 6.9 / re).log10()).powi(-2),
        Formula::SwameeJain => (-2.0 * (rough / 3.7 + (6.97 / re).powf(0.9)).log10()).powi(-2),
    }))
}

/// The Reynolds number of a flow.
///
/// # Meaning
/// Push of the flow over its stickiness; without sign.
/// # Formula
/// `rho V D / mu` with the hydraulic diameter.
/// # Valid for
/// Flows of up to 100 m3/s.
/// # Accuracy
/// As its inputs.
/// # Source
/// Definition.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{air::Air, amounts::*, friction::reynolds, section::Section};
/// let pipe = Section::round(Length::written("100 mm").unwrap()).unwrap();
/// let air = Air { density: Density::from_si(1.2).unwrap(), viscosity: Viscosity::from_si(1.8e-5).unwrap() };
/// // V = 0.00785398 / 0.00785398 = 1 m/s, and 1.2 x 1 x 0.1 / 1.8e-5 = 6667
/// let re = reynolds(&pipe, Flow::from_si(0.007_853_98).unwrap(), &air).unwrap();
/// assert!((re.to_si() - 6667.0).abs() < 1.0);
/// ```
pub fn reynolds(section: &Section, flow: Flow, air: &Air) -> Result<Plain, OutOfRange> {
    let speed = section.speed(flow)?.to_si().abs();
    let d = section.hydraulic_diameter().to_si();
    Ok(Plain::new(air.density.to_si() * speed * d / air.viscosity.to_si()))
}

/// What straight pipe loses along a metre.
///
/// # Meaning
/// Pressure lost along the way, with the sign of the flow.
/// # Formula
/// Darcy and Weisbach: `f rho V^2 / (2 D)` with [`factor`] by Colebrook.
/// # Valid for
/// Re up to 1e8, relative roughness up to 0.05, density as good as constant: losses small against the air's own pressure.
/// # Accuracy
/// 5 % for rough flow in round pipe, 8 % in rectangular duct.
/// # Source
/// Darcy and Weisbach; hydraulic diameter with the true mean speed for what is not round.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{air::Air, amounts::*, friction::gradient, section::Section};
/// let pipe = Section::round(Length::written("3.068 in").unwrap()).unwrap();
/// let air = Air { density: Density::from_si(1.24663).unwrap(), viscosity: Viscosity::from_si(1.76515e-5).unwrap() };
/// let loss = gradient(&pipe, Flow::written("60 cfm").unwrap(), &air, Length::from_si(4.572e-5).unwrap());
/// assert!((loss.unwrap().to_si() - 6.9347).abs() < 1e-3);
/// ```
pub fn gradient(section: &Section, flow: Flow, air: &Air, roughness: Length) -> Result<Gradient, OutOfRange> {
    let re = within("the Reynolds number", reynolds(section, flow, air)?, 0.0, MOST_REYNOLDS)?;
    let d = section.hydraulic_diameter().to_si();
    let rough = within("the roughness", roughness, 0.0, MOST_ROUGH * d)? / d;
    let speed = section.speed(flow)?.to_si();
    if re <= LAMINAR {
        return Ok(Gradient::new(32.0 * air.viscosity.to_si() * speed / (d * d)));
    }
    Ok(Gradient::new(factor_si(re, rough).0 * air.density.to_si() * speed * speed.abs() / (2.0 * d)))
}

/// The round pipe that carries a flow at a loss.
///
/// # Meaning
/// The inside diameter at which straight pipe loses just so much along the way.
/// # Formula
/// [`gradient`] turned round, by halving the interval.
/// # Valid for
/// Answers of 2 mm to 2 m; flow and loss above nought.
/// # Accuracy
/// As [`gradient`]; the halving ends at 1e-12 of the diameter.
/// # Source
/// As [`gradient`].
/// # Errors
/// [`OutOfRange`] when no diameter of the range will do, with the losses at its ends.
/// # Example
/// ```
/// use undercroft::calc::{air::Air, amounts::*, friction::diameter_for};
/// let air = Air { density: Density::from_si(1.204).unwrap(), viscosity: Viscosity::from_si(1.825e-5).unwrap() };
/// let loss = Gradient::written("0.1 in WC per 100 ft").unwrap();
/// let duct = diameter_for(Flow::written("1000 cfm").unwrap(), loss, &air, Length::from_si(9e-5).unwrap());
/// // the usual friction chart reads 13.5 to 14 in
/// assert!((duct.unwrap().to_si() / 0.0254 - 13.66).abs() < 0.02);
/// ```
pub fn diameter_for(flow: Flow, loss: Gradient, air: &Air, roughness: Length) -> Result<Length, OutOfRange> {
    let wanted = within("the flow", flow, 1e-9, 100.0)?;
    let at = |d: f64| gradient(&Section::round(Length::new(d))?, Flow::new(wanted), air, roughness);
    // narrow pipe only as far as the chart reaches
    let most_narrow = 4.0 * air.density.to_si() * wanted / (PI * air.viscosity.to_si() * MOST_REYNOLDS);
    let (mut low, mut high) =
        (most_narrow.max(roughness.to_si() / MOST_ROUGH).max(0.002) * (1.0 + 1e-9), 2.0);
    let loss = within("the loss along the way", loss, at(high)?.to_si(), at(low)?.to_si())?;
    while high - low > 1e-12 * high {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            break;
        }
        if at(middle)?.to_si() > loss {
            low = middle;
        } else {
            high = middle;
        }
    }
    Ok(Length::new(0.5 * (low + high)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_slope_is_that_of_the_factor() {
        for re in [1_000.0, 2_500.0, 3_900.0, 5_000.0, 40_000.0, 3e6] {
            for rough in [0.0, 0.0006, 0.04] {
                let step = re * 1e-5;
                let by_hand = (factor_si(re + step, rough).0 - factor_si(re - step, rough).0) / (2.0 * step);
                let slope = factor_si(re, rough).1;
                assert!(
                    (slope - by_hand).abs() < 1e-5 * slope.abs() + 1e-16,
                    "{re} {rough}: {slope} {by_hand}"
                );
            }
        }
    }

    #[test]
    fn the_factor_has_no_step() {
        for rough in [0.0, 0.001, 0.05] {
            for edge in [LAMINAR, TURBULENT] {
                let (below, above) =
                    (factor_si(edge * (1.0 - 1e-9), rough).0, factor_si(edge * (1.0 + 1e-9), rough).0);
                assert!((below - above).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn the_loss_grows_with_the_flow_all_the_way() {
        let pipe = Section::round(Length::new(0.05)).unwrap();
        let air = Air {
            density: crate::calc::amounts::Density::new(1.2),
            viscosity: crate::calc::amounts::Viscosity::new(1.8e-5),
        };
        let mut last = 0.0;
        for step in 1..400 {
            let flow = Flow::new(1e-5 * 1.03_f64.powi(step));
            let loss = gradient(&pipe, flow, &air, Length::new(1e-5)).unwrap().to_si();
            assert!(loss > last);
            last = loss;
        }
    }

    #[test]
    fn out_of_range_is_told_with_the_range() {
        let plain = Plain::new;
        let error = factor(plain(3_000.0), plain(0.001), Formula::Haaland).unwrap_err();
        assert!(error.what.contains("Reynolds"));
        assert!(factor(plain(1e5), plain(0.06), Formula::Colebrook).is_err());
        assert!(factor(plain(0.0), plain(0.0), Formula::Colebrook).is_err());
    }
}
