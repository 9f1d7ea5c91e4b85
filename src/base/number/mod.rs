//! Numbers that decide, and how the trade writes them.
//!
//! Whatever a person declares is kept exactly. A distance keeps its exact square. Whatever is computed
//! is a range that surely holds the true value. No number here is ever infinite or not a number.

use std::cmp::Ordering;
use std::ops::{Add, Mul, Neg, Sub};

use super::truth::Truth;

pub mod dimension;
pub mod quantity;
pub mod ratio;
pub mod unit;

pub use dimension::Dimension;
pub use quantity::{Quantity, Size, Style, show, show_pair};
pub use ratio::{Ratio, Rounding};

/// A number in SI base units times a dimension that is known beside it.
///
/// Made by [`Number::exact`], [`Number::root`] and [`Number::between`], which keep one form per value: no
/// root of a perfect square, no range of one point, no range upside down.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Number {
    /// This, to the last digit.
    Exact(Ratio),
    /// The square root of this; never of a negative.
    Root(Ratio),
    /// Something between the two, ends included.
    Range(Ratio, Ratio),
}

/// How two numbers are compared.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Comparison {
    /// `=`
    Equal,
    /// `<`
    Less,
    /// `<=`
    AtMost,
    /// `>`
    More,
    /// `>=`
    AtLeast,
}

impl Comparison {
    /// The comparison that holds of `b` and `a` when this one holds of `a` and `b`.
    #[must_use]
    pub fn mirrored(self) -> Self {
        match self {
            Comparison::Equal => Comparison::Equal,
            Comparison::Less => Comparison::More,
            Comparison::AtMost => Comparison::AtLeast,
            Comparison::More => Comparison::Less,
            Comparison::AtLeast => Comparison::AtMost,
        }
    }
}

/// One end of a number: a ratio, or the square root of one. Ends are put in order exactly.
#[derive(Clone, Copy)]
enum End<'a> {
    Ratio(&'a Ratio),
    Root(&'a Ratio),
}

impl End<'_> {
    fn order(self, other: End<'_>) -> Ordering {
        match (self, other) {
            (End::Ratio(a), End::Ratio(b)) | (End::Root(a), End::Root(b)) => a.cmp(b),
            (End::Root(square), End::Ratio(plain)) => root_against(square, plain),
            (End::Ratio(plain), End::Root(square)) => root_against(square, plain).reverse(),
        }
    }
}

/// The order of a square root and a plain ratio: by their squares, so to the last digit.
fn root_against(square: &Ratio, plain: &Ratio) -> Ordering {
    if plain.is_negative() { Ordering::Greater } else { square.cmp(&plain.squared()) }
}

impl Number {
    /// This number, to the last digit.
    #[must_use]
    pub fn exact(value: Ratio) -> Self {
        Number::Exact(value)
    }

    /// A whole number.
    #[must_use]
    pub fn whole(value: i64) -> Self {
        Number::Exact(Ratio::from_int(value))
    }

    /// The square root; an exact number when it is one. The root of a negative is taken for nought: squares
    /// of distances are never negative.
    #[must_use]
    pub fn root(square: Ratio) -> Self {
        if square.signum() <= 0 {
            return Number::Exact(Ratio::ZERO);
        }
        match square.exact_root() {
            Some(root) => Number::Exact(root),
            None => Number::Root(square),
        }
    }

    /// Something between two ratios, given in either order, ends included.
    #[must_use]
    pub fn between(a: Ratio, b: Ratio) -> Self {
        match a.cmp(&b) {
            Ordering::Equal => Number::Exact(a),
            Ordering::Less => Number::Range(a, b),
            Ordering::Greater => Number::Range(b, a),
        }
    }

    /// Something between two floats; `None` when one is not finite or they are upside down.
    #[must_use]
    pub fn from_f64_range(low: f64, high: f64) -> Option<Self> {
        let (low, high) = (Ratio::from_f64(low)?, Ratio::from_f64(high)?);
        (low <= high).then(|| Number::between(low, high))
    }

    /// The ratio of a circle's circumference to its diameter, between two ratios 1e-20 apart.
    #[must_use]
    pub fn pi() -> Self {
        const SCALE: i128 = 100_000_000_000_000_000_000;
        const LOW: i128 = 314_159_265_358_979_323_846;
        let end = |numerator| Ratio::new(numerator, SCALE).unwrap_or_default();
        Number::between(end(LOW), end(LOW + 1))
    }

    fn ends(&self) -> (End<'_>, End<'_>) {
        match self {
            Number::Exact(value) => (End::Ratio(value), End::Ratio(value)),
            Number::Root(square) => (End::Root(square), End::Root(square)),
            Number::Range(low, high) => (End::Ratio(low), End::Ratio(high)),
        }
    }

    /// Two ratios between which it surely lies: itself twice when exact, close on either side for a root.
    #[must_use]
    pub fn bounds(&self) -> (Ratio, Ratio) {
        match self {
            Number::Exact(value) => (value.clone(), value.clone()),
            Number::Root(square) => square.root_bounds().unwrap_or_default(),
            Number::Range(low, high) => (low.clone(), high.clone()),
        }
    }

    /// The number to the last digit and in one spelling, so that equal numbers have equal texts.
    #[must_use]
    pub fn in_one_way(&self) -> String {
        match self {
            Number::Exact(value) => value.to_string(),
            Number::Root(square) => format!("root {square}"),
            Number::Range(low, high) => format!("{low} to {high}"),
        }
    }

    /// The least ratio it can be; for a root, one close below.
    #[must_use]
    pub fn low(&self) -> Ratio {
        self.bounds().0
    }

    /// The greatest ratio it can be; for a root, one close above.
    #[must_use]
    pub fn high(&self) -> Ratio {
        self.bounds().1
    }

    /// The ratio it is, when it is exact.
    #[must_use]
    pub fn as_exact(&self) -> Option<&Ratio> {
        match self {
            Number::Exact(value) => Some(value),
            _ => None,
        }
    }

    /// Whether it is a single value, exact or a root, and not a range.
    #[must_use]
    pub fn is_point(&self) -> bool {
        !matches!(self, Number::Range(..))
    }

    /// Whether it is, or may be, nought.
    #[must_use]
    pub fn may_be_zero(&self) -> bool {
        match self {
            Number::Exact(value) => value.is_zero(),
            Number::Root(_) => false,
            Number::Range(low, high) => low.signum() <= 0 && high.signum() >= 0,
        }
    }

    /// The float nearest to its middle: for drawing and for arithmetic that is checked by other means.
    #[must_use]
    pub fn to_f64_mid(&self) -> f64 {
        match self {
            Number::Exact(value) => value.to_f64(),
            _ => {
                let (low, high) = self.bounds();
                ((low + high) * Ratio::new(1, 2).unwrap_or_default()).to_f64()
            }
        }
    }

    /// Two floats between which it surely lies.
    #[must_use]
    pub fn to_f64_bounds(&self) -> (f64, f64) {
        let (low, high) = self.bounds();
        let (mut below, mut above) = (low.to_f64(), high.to_f64());
        if Ratio::from_f64(below).is_none_or(|near| near > low) {
            below = below.next_down();
        }
        if Ratio::from_f64(above).is_none_or(|near| near < high) {
            above = above.next_up();
        }
        (below.max(f64::MIN), above.min(f64::MAX))
    }

    /// Whether one stands to the other as asked: true when it holds for the whole of both, false when it
    /// holds for none of either, otherwise unknown. Roots are compared by their squares, to the last digit.
    #[must_use]
    pub fn compare(&self, how: Comparison, other: &Number) -> Truth {
        let ((low, high), (other_low, other_high)) = (self.ends(), other.ends());
        let above = low.order(other_high);
        let below = high.order(other_low);
        let decide = |holds: bool, fails: bool| match (holds, fails) {
            (true, _) => Truth::True,
            (_, true) => Truth::False,
            _ => Truth::Unknown,
        };
        match how {
            Comparison::Less => decide(below.is_lt(), above.is_ge()),
            Comparison::AtMost => decide(below.is_le(), above.is_gt()),
            Comparison::More => decide(above.is_gt(), below.is_le()),
            Comparison::AtLeast => decide(above.is_ge(), below.is_lt()),
            Comparison::Equal => decide(above.is_eq() && below.is_eq(), above.is_gt() || below.is_lt()),
        }
    }

    /// The smallest number that holds both.
    #[must_use]
    pub fn hull(&self, other: &Number) -> Number {
        if self == other {
            return self.clone();
        }
        let ((low, high), (other_low, other_high)) = (self.bounds(), other.bounds());
        Number::between(low.min(other_low), high.max(other_high))
    }

    /// The number give or take a tolerance, as a measurement states it. The sign of the tolerance is of no matter.
    #[must_use]
    pub fn within(&self, tolerance: &Ratio) -> Number {
        if tolerance.is_zero() {
            return self.clone();
        }
        let (low, high) = self.bounds();
        let tolerance = tolerance.abs();
        Number::between(low - &tolerance, high + &tolerance)
    }

    /// The quotient; `None` when the divisor is, or may be, nought.
    #[must_use]
    pub fn divide(&self, divisor: &Number) -> Option<Number> {
        if divisor.may_be_zero() {
            return None;
        }
        let inverse = match divisor {
            Number::Exact(value) => Number::Exact(value.reciprocal()?),
            Number::Root(square) => Number::Root(square.reciprocal()?),
            Number::Range(low, high) => outward(high.reciprocal()?, low.reciprocal()?),
        };
        Some(self * &inverse)
    }

    /// The number with its sign turned.
    #[must_use]
    pub fn negate(&self) -> Number {
        match self {
            Number::Exact(value) => Number::Exact(-value),
            _ => {
                let (low, high) = self.bounds();
                Number::between(-high, -low)
            }
        }
    }

    /// Its distance from nought.
    #[must_use]
    pub fn abs(&self) -> Number {
        match self {
            Number::Exact(value) => Number::Exact(value.abs()),
            Number::Root(_) => self.clone(),
            Number::Range(low, high) => {
                let (near, far) = (low.abs(), high.abs());
                if self.may_be_zero() {
                    Number::between(Ratio::ZERO, near.max(far))
                } else {
                    Number::between(near, far)
                }
            }
        }
    }

    /// The number times itself; unlike a product with itself, a range of it is never below nought.
    #[must_use]
    pub fn squared(&self) -> Number {
        match self {
            Number::Exact(value) => Number::Exact(value.squared()),
            Number::Root(square) => Number::Exact(square.clone()),
            Number::Range(..) => {
                let (low, high) = self.abs().bounds();
                outward(low.squared(), high.squared())
            }
        }
    }

    /// The square root; `None` for what is surely negative. The part of a range below nought is left out.
    #[must_use]
    pub fn sqrt(&self) -> Option<Number> {
        if let Number::Exact(value) = self {
            return (!value.is_negative()).then(|| Number::root(value.clone()));
        }
        let (low, high) = self.bounds();
        let (_, high) = high.root_bounds()?;
        let (low, _) = low.max(Ratio::ZERO).root_bounds()?;
        Some(outward(low, high))
    }

    /// All of them together; nought when there are none.
    #[must_use]
    pub fn sum<'a>(list: impl IntoIterator<Item = &'a Number>) -> Number {
        list.into_iter().fold(Number::whole(0), |so_far, next| &so_far + next)
    }

    /// The least of them, whichever that turns out to be; `None` when there are none.
    #[must_use]
    pub fn least<'a>(list: impl IntoIterator<Item = &'a Number>) -> Option<Number> {
        list.into_iter().cloned().reduce(|a, b| {
            if a.ends().1.order(b.ends().0).is_le() {
                return a;
            }
            if b.ends().1.order(a.ends().0).is_le() {
                return b;
            }
            Number::between(a.low().min(b.low()), a.high().min(b.high()))
        })
    }

    /// The greatest of them, whichever that turns out to be; `None` when there are none.
    #[must_use]
    pub fn greatest<'a>(list: impl IntoIterator<Item = &'a Number>) -> Option<Number> {
        list.into_iter().cloned().reduce(|a, b| {
            if a.ends().0.order(b.ends().1).is_ge() {
                return a;
            }
            if b.ends().0.order(a.ends().1).is_ge() {
                return b;
            }
            Number::between(a.low().max(b.low()), a.high().max(b.high()))
        })
    }
}

impl From<Ratio> for Number {
    fn from(value: Ratio) -> Self {
        Number::Exact(value)
    }
}

/// A range whose ends are short, moved apart and never together.
fn outward(low: Ratio, high: Ratio) -> Number {
    Number::between(low.shortened(Rounding::Down), high.shortened(Rounding::Up))
}

fn add(a: &Number, b: &Number) -> Number {
    match (a, b) {
        (Number::Exact(a), Number::Exact(b)) => Number::Exact(a + b),
        (Number::Exact(nought), other) | (other, Number::Exact(nought)) if nought.is_zero() => other.clone(),
        _ => {
            let ((low, high), (other_low, other_high)) = (a.bounds(), b.bounds());
            outward(low + other_low, high + other_high)
        }
    }
}

fn subtract(a: &Number, b: &Number) -> Number {
    match (a, b) {
        (Number::Exact(a), Number::Exact(b)) => Number::Exact(a - b),
        (Number::Root(a), Number::Root(b)) if a == b => Number::whole(0),
        (other, Number::Exact(nought)) if nought.is_zero() => other.clone(),
        _ => {
            let ((low, high), (other_low, other_high)) = (a.bounds(), b.bounds());
            outward(low - other_high, high - other_low)
        }
    }
}

fn multiply(a: &Number, b: &Number) -> Number {
    match (a, b) {
        (Number::Exact(a), Number::Exact(b)) => Number::Exact(a * b),
        (Number::Root(a), Number::Root(b)) => Number::root(a * b),
        (Number::Root(square), Number::Exact(factor)) | (Number::Exact(factor), Number::Root(square))
            if !factor.is_negative() =>
        {
            Number::root(square * factor.squared())
        }
        _ => {
            let ((low, high), (other_low, other_high)) = (a.bounds(), b.bounds());
            let corners = [&low * &other_low, &low * &other_high, &high * &other_low, &high * &other_high];
            let least = corners.iter().min().cloned().unwrap_or_default();
            let greatest = corners.into_iter().max().unwrap_or_default();
            outward(least, greatest)
        }
    }
}

macro_rules! operator {
    ($trait:ident, $method:ident, $of:ident) => {
        impl $trait<&Number> for &Number {
            type Output = Number;
            fn $method(self, other: &Number) -> Number {
                $of(self, other)
            }
        }
        impl $trait<Number> for Number {
            type Output = Number;
            fn $method(self, other: Number) -> Number {
                $of(&self, &other)
            }
        }
    };
}

operator!(Add, add, add);
operator!(Sub, sub, subtract);
operator!(Mul, mul, multiply);

impl Neg for Number {
    type Output = Number;
    fn neg(self) -> Number {
        self.negate()
    }
}

#[cfg(test)]
mod tests;
