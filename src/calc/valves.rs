//! Valves that share the suction: what they take at an opening, and which opening takes so much.

use super::amounts::{Amount, Length, Made, OutOfRange, Plain, within};
use super::fittings::{Crane, crane};

/// How a valve closes.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum ValveKind {
    /// A blade slid across: gate, blast gate. Its opening is the share of the diameter left free.
    Gate,
    /// A disc turned on its axis. Its opening is the share of the quarter turn from closed to open.
    Butterfly,
    /// A bored ball or plug turned on its axis. Its opening is the share of the quarter turn from closed to open.
    Ball,
}

/// Opening and coefficient, from the smallest opening that was measured upward.
const GATE: &[(f64, f64)] =
    &[(0.125, 97.8), (0.25, 17.0), (0.375, 5.52), (0.5, 2.06), (0.625, 0.81), (0.75, 0.26), (0.875, 0.07)];
/// Angle from open in degrees, and coefficient.
const BUTTERFLY: &[(f64, f64)] = &[
    (70.0, 751.0),
    (65.0, 256.0),
    (60.0, 118.0),
    (50.0, 32.6),
    (45.0, 18.7),
    (40.0, 10.8),
    (30.0, 3.91),
    (25.0, 2.51),
    (20.0, 1.54),
    (15.0, 0.90),
    (10.0, 0.52),
    (5.0, 0.24),
];
const BALL: &[(f64, f64)] = &[
    (65.0, 486.0),
    (60.0, 206.0),
    (50.0, 52.6),
    (40.0, 17.3),
    (30.0, 5.47),
    (20.0, 1.56),
    (10.0, 0.29),
    (5.0, 0.05),
];

/// Opening as a share and what the valve adds to its own open loss, from the smallest opening upward to full open.
fn added(kind: ValveKind) -> Vec<(f64, f64)> {
    let turned = |table: &[(f64, f64)]| table.iter().map(|(angle, k)| (1.0 - angle / 90.0, *k)).collect();
    let mut table: Vec<(f64, f64)> = match kind {
        ValveKind::Gate => GATE.to_vec(),
        ValveKind::Butterfly => turned(BUTTERFLY),
        ValveKind::Ball => turned(BALL),
    };
    table.push((1.0, 0.0));
    table
}

/// Loss of an open valve.
fn open_si(kind: ValveKind, inside: Length) -> Result<f64, OutOfRange> {
    let open = match kind {
        ValveKind::Gate => Crane::Gate,
        ValveKind::Butterfly => Crane::Butterfly,
        ValveKind::Ball => Crane::Ball,
    };
    Ok(crane(open, inside)?.to_si())
}

/// What a valve takes at an opening.
///
/// # Meaning
/// A coefficient on the pressure of the speed in the pipe. A closed valve has none: it lets nothing pass.
/// # Formula
/// The loss of the open valve, plus Weisbach's table of what a partly closed one takes; between its points a straight line in
/// the logarithm of `1 + K`.
/// # Valid for
/// Openings from the smallest that was measured (gate 1/8, butterfly 2/9, ball 5/18 of the way) to full open; inside
/// diameters of 12 mm to 0.6 m.
/// # Accuracy
/// 30 %; makers differ more than that at small openings, so a valve is set by its gauge and not by its mark.
/// # Source
/// Weisbach's experiments as handbooks reprint them (gate, disc and cock in a round pipe; from memory, points held against two
/// reprints); open valve after Crane TP-410.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, valves::{ValveKind, coefficient}};
/// let d = Length::written("3.068 in").unwrap();
/// let half = coefficient(ValveKind::Gate, Plain::written("50 %").unwrap(), d).unwrap();
/// // 2.06 and the 0.138 of the open gate
/// assert!((half.to_si() - 2.198).abs() < 0.001);
/// ```
pub fn coefficient(kind: ValveKind, opening: Plain, inside: Length) -> Result<Plain, OutOfRange> {
    let table = added(kind);
    let least = table.first().map_or(0.0, |point| point.0);
    let at = within("the opening of the valve", opening, least, 1.0)?;
    let open = open_si(kind, inside)?;
    let pairs = || table.iter().zip(table.iter().skip(1));
    let piece = pairs().find(|(_, next)| at <= next.0).or_else(|| pairs().next_back());
    let add = piece.map_or(0.0, |(one, next)| {
        let (low, high) = (one.1.ln_1p(), next.1.ln_1p());
        (low + (high - low) * (at - one.0) / (next.0 - one.0)).exp_m1()
    });
    Ok(Plain::new(open + add))
}

/// The opening at which a valve takes so much.
///
/// # Meaning
/// [`coefficient`] turned round.
/// # Formula
/// As [`coefficient`].
/// # Valid for
/// Coefficients from that of the open valve to that of the smallest opening measured.
/// # Accuracy
/// As [`coefficient`].
/// # Source
/// As [`coefficient`].
/// # Errors
/// [`OutOfRange`], with the coefficients that the valve can have.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, valves::{ValveKind, coefficient, opening}};
/// let d = Length::written("3.068 in").unwrap();
/// let k = coefficient(ValveKind::Ball, Plain::written("60 %").unwrap(), d).unwrap();
/// assert!((opening(ValveKind::Ball, k, d).unwrap().to_si() - 0.6).abs() < 1e-9);
/// ```
pub fn opening(kind: ValveKind, coefficient: Plain, inside: Length) -> Result<Plain, OutOfRange> {
    let table = added(kind);
    let open = open_si(kind, inside)?;
    let most = table.first().map_or(0.0, |point| point.1);
    let add =
        within("the coefficient of the valve", coefficient, open, (open + most) * (1.0 + 1e-12))? - open;
    let add = add.min(most);
    let pairs = || table.iter().zip(table.iter().skip(1));
    let piece = pairs().find(|(_, next)| add >= next.1).or_else(|| pairs().next_back());
    Ok(Plain::new(piece.map_or(1.0, |(one, next)| {
        let (low, high) = (one.1.ln_1p(), next.1.ln_1p());
        one.0 + (next.0 - one.0) * (add.ln_1p() - low) / (high - low)
    })))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn opening_a_valve_always_takes_less_and_comes_back_the_same() {
        let d = Length::new(0.0779272);
        for kind in [ValveKind::Gate, ValveKind::Butterfly, ValveKind::Ball] {
            let least = added(kind)[0].0;
            let mut last = f64::INFINITY;
            for step in 0..=50 {
                let at = Plain::new(least + (1.0 - least) * f64::from(step) / 50.0);
                let k = coefficient(kind, at, d).unwrap();
                assert!(k.to_si() < last);
                last = k.to_si();
                assert!((opening(kind, k, d).unwrap().to_si() - at.to_si()).abs() < 1e-9);
            }
            assert!(coefficient(kind, Plain::new(least * 0.9), d).is_err());
        }
    }
}
