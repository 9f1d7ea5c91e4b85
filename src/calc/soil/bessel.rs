//! Bessel functions, in which the suction round a pit is told.

use crate::calc::amounts::{Made, OutOfRange, Plain, within};

/// One of the four functions that are needed.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Bessel {
    /// Modified, first kind, order nought.
    I0,
    /// Modified, first kind, order one.
    I1,
    /// Modified, second kind, order nought.
    K0,
    /// Modified, second kind, order one.
    K1,
}

/// Euler's constant.
const EULER: f64 = 0.577_215_664_901_532_9;

pub(in crate::calc) fn i0_si(x: f64) -> f64 {
    let quarter = 0.25 * x * x;
    let (mut term, mut sum) = (1.0, 1.0);
    for k in 1..200 {
        term *= quarter / f64::from(k * k);
        sum += term;
        if term < 1e-17 * sum {
            break;
        }
    }
    sum
}

pub(in crate::calc) fn i1_si(x: f64) -> f64 {
    let quarter = 0.25 * x * x;
    let (mut term, mut sum) = (0.5 * x, 0.5 * x);
    for k in 1..200 {
        term *= quarter / f64::from(k * (k + 1));
        sum += term;
        if term < 1e-17 * sum {
            break;
        }
    }
    sum
}

/// The integral of `exp(-x cosh t) cosh(order t)` from nought on: the trapezoid rule is exact to the last digits, as the
/// integrand dies twice over.
fn by_integral(x: f64, order: f64) -> f64 {
    const STEP: f64 = 0.125;
    let mut sum = 0.5;
    for n in 1..200 {
        let t = STEP * f64::from(n);
        let term = (-x * (t.cosh() - 1.0)).exp() * (order * t).cosh();
        sum += term;
        if term < 1e-17 * sum {
            break;
        }
    }
    STEP * sum * (-x).exp()
}

pub(in crate::calc) fn k0_si(x: f64) -> f64 {
    if x > 2.0 {
        return by_integral(x, 0.0);
    }
    let quarter = 0.25 * x * x;
    let (mut term, mut harmonic, mut sum) = (1.0, 0.0, 0.0);
    for k in 1..40 {
        term *= quarter / f64::from(k * k);
        harmonic += 1.0 / f64::from(k);
        sum += term * harmonic;
        if term * harmonic < 1e-18 {
            break;
        }
    }
    sum - ((0.5 * x).ln() + EULER) * i0_si(x)
}

pub(in crate::calc) fn k1_si(x: f64) -> f64 {
    if x > 2.0 {
        return by_integral(x, 1.0);
    }
    let quarter = 0.25 * x * x;
    let (mut term, mut harmonic) = (1.0, 0.0);
    // for k = 0: psi(1) + psi(2)
    let mut sum = 1.0 - 2.0 * EULER;
    for k in 1..40 {
        term *= quarter / f64::from(k * (k + 1));
        harmonic += 1.0 / f64::from(k);
        let next = term * (2.0 * harmonic + 1.0 / f64::from(k + 1) - 2.0 * EULER);
        sum += next;
        if next.abs() < 1e-18 {
            break;
        }
    }
    1.0 / x + (0.5 * x).ln() * i1_si(x) - 0.25 * x * sum
}

/// The value of a modified Bessel function.
///
/// # Meaning
/// K falls off round a pit in a leaky layer, I comes back from an edge.
/// # Formula
/// Power series; above 2, K by the integral of `exp(-x cosh t) cosh(n t)`.
/// # Valid for
/// 1e-8 to 500 for K, 0 to 50 for I.
/// # Accuracy
/// 1e-12 of the value.
/// # Source
/// Abramowitz and Stegun 1964, 9.6.10 to 9.6.13 and 9.6.24.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::{Amount, Plain}, soil::bessel::{Bessel, bessel}};
/// let k = bessel(Bessel::K0, Plain::from_si(1.0).unwrap()).unwrap();
/// assert!((k.to_si() - 0.421_024_438_2).abs() < 1e-10);
/// ```
pub fn bessel(kind: Bessel, at: Plain) -> Result<Plain, OutOfRange> {
    let range = match kind {
        Bessel::I0 | Bessel::I1 => (0.0, 50.0),
        Bessel::K0 | Bessel::K1 => (1e-8, 500.0),
    };
    let x = within("the argument of the Bessel function", at, range.0, range.1)?;
    Ok(Plain::new(match kind {
        Bessel::I0 => i0_si(x),
        Bessel::I1 => i1_si(x),
        Bessel::K0 => k0_si(x),
        Bessel::K1 => k1_si(x),
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_four_keep_wronskis_relation() {
        // I0 K1 + I1 K0 = 1/x (Abramowitz and Stegun 9.6.15)
        for x in [1e-6, 0.01, 0.5, 1.9999, 2.0001, 5.0, 30.0] {
            let product = x * (i0_si(x) * k1_si(x) + i1_si(x) * k0_si(x));
            assert!((product - 1.0).abs() < 1e-12, "{x}: {product}");
        }
    }
}
