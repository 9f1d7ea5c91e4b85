//! What fans and dryers do to the pressure in a house.
//!
//! A result here is a caution and never a leave to skip the test of the flues.

use super::amounts::{Flow, Made, OutOfRange, Plain, Pressure, within};

/// How leaky a house is: the flow that holds it at 50 Pa, and an exponent.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Tightness {
    /// The flow of a fan in the door at 50 Pa.
    pub flow_at_50: Flow,
    /// The exponent of its leaks: 0.65 where none was fitted.
    pub exponent: Plain,
}

/// The leakage of a house at 50 Pa, from a test at another pressure.
///
/// # Meaning
/// What [`Tightness`] holds, where the fan in the door was read at some other pressure.
/// # Formula
/// `Q (50 Pa / p)^n`
/// # Valid for
/// 10 to 100 Pa, flows of 0 to 10 m3/s, exponents of 0.5 to 1.
/// # Accuracy
/// 5 % from 25 Pa on.
/// # Source
/// Power law of leakage, ASTM E779.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, house::at_fifty};
/// let (flow, half) = (Flow::written("500 cfm").unwrap(), Plain::written("0.5").unwrap());
/// // at a quarter of the pressure half of the air: 500 cfm at 12.5 Pa are 1000 cfm at 50 Pa
/// let at_50 = at_fifty(flow, Pressure::written("12.5 Pa").unwrap(), half).unwrap();
/// assert!((at_50.to_si() - 2.0 * flow.to_si()).abs() < 1e-12);
/// ```
pub fn at_fifty(flow: Flow, at: Pressure, exponent: Plain) -> Result<Flow, OutOfRange> {
    let q = within("the leakage of the house", flow, 0.0, 10.0)?;
    let p = within("the pressure of the leakage test", at, 10.0, 100.0)?;
    let n = within("the exponent of the leakage", exponent, 0.5, 1.0)?;
    Ok(Flow::new(q * (50.0 / p).powf(n)))
}

/// The exponent of the leaks of a house, from the least to the greatest that is usual.
///
/// # Meaning
/// What may be taken where none was fitted.
/// # Formula
/// 0.6 to 0.7.
/// # Valid for
/// Houses as a whole.
/// # Accuracy
/// A range.
/// # Source
/// Leakage tests gathered by laboratories, mean 0.65; from memory.
/// # Errors
/// None.
/// # Example
/// ```
/// use undercroft::calc::{amounts::Amount, house::usual_exponent};
/// let [least, greatest] = usual_exponent();
/// assert!(least.to_si() < 0.65 && greatest.to_si() > 0.65);
/// ```
#[must_use]
pub fn usual_exponent() -> [Plain; 2] {
    [Plain::new(0.6), Plain::new(0.7)]
}

/// How far the pressure in a house falls when more is blown out than let in.
///
/// # Meaning
/// Pressure outside less pressure inside, on a calm day and with no draught of its own; below nought when more is let in.
/// # Formula
/// `50 Pa (Q / Q50)^(1/n)`
/// # Valid for
/// 10 L/s to 10 m3/s at 50 Pa, exponents of 0.5 to 1, net flows that move the house by 100 Pa at most.
/// # Accuracy
/// 20 %; the leakage law is drawn out below the pressures at which it was measured.
/// # Source
/// Power law of leakage, ASTM E779; worst-case depressurization as in the flue tests of the trade.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, house::{Tightness, fall_of_pressure}};
/// let flow = |text| Flow::written(text).unwrap();
/// let house = Tightness { flow_at_50: flow("1000 cfm"), exponent: Plain::written("0.5").unwrap() };
/// // a tenth of the flow, a hundredth of the pressure
/// assert!((fall_of_pressure(&house, flow("100 cfm")).unwrap().to_si() - 0.5).abs() < 1e-9);
/// ```
pub fn fall_of_pressure(house: &Tightness, net_exhaust: Flow) -> Result<Pressure, OutOfRange> {
    let leak = within("the leakage of the house", house.flow_at_50, 0.01, 10.0)?;
    let n = within("the exponent of the leakage", house.exponent, 0.5, 1.0)?;
    let most = leak * 2.0_f64.powf(n);
    let q = within("the flow blown out", net_exhaust, -most, most)?;
    Ok(Pressure::new(q.signum() * 50.0 * (q.abs() / leak).powf(1.0 / n)))
}

/// The worst case for a flue that draws by itself.
///
/// # Meaning
/// The fall of pressure with all that blows out on and nothing letting in, and whether the flue's own draught is less. A
/// `false` is no leave to skip the test of the flue.
/// # Formula
/// [`fall_of_pressure`] of the sum of all flows.
/// # Valid for
/// As [`fall_of_pressure`].
/// # Accuracy
/// As [`fall_of_pressure`].
/// # Source
/// As [`fall_of_pressure`].
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, house::{Tightness, worst_case}};
/// let flow = |text| Flow::written(text).unwrap();
/// let house = Tightness { flow_at_50: flow("1000 cfm"), exponent: Plain::written("0.5").unwrap() };
/// let fans = [flow("150 cfm"), flow("50 cfm")];
/// // 200 cfm: 2 Pa, more than a draught of 1.5 Pa
/// let (fall, pulled_back) = worst_case(&house, &fans, Pressure::written("1.5 Pa").unwrap()).unwrap();
/// assert!((fall.to_si() - 2.0).abs() < 1e-9 && pulled_back);
/// ```
pub fn worst_case(
    house: &Tightness,
    exhausts: &[Flow],
    draught: Pressure,
) -> Result<(Pressure, bool), OutOfRange> {
    let mut sum = 0.0;
    for flow in exhausts {
        sum += within("the flow blown out", *flow, 0.0, 10.0)?;
    }
    let fall = fall_of_pressure(house, Flow::new(sum))?;
    Ok((fall, fall > draught))
}
