//! Exact ratios of whole numbers.
//!
//! Nearly every number of a design fits two machine integers, and those are used while they suffice;
//! what outgrows them spills to integers of any size. There is one form for each value, so that equal
//! ratios are equal, hash alike and print alike however they came about.

use std::cmp::Ordering;
use std::ops::{Add, Mul, Neg, Sub};

use num_bigint::BigInt;
use num_integer::Integer;
use num_rational::BigRational;
use num_traits::{Float, One, Signed, ToPrimitive};

/// An exact ratio in lowest terms.
#[derive(Clone, PartialEq, Eq, Hash)]
pub struct Ratio(Form);

/// `Small` whenever both terms fit, with the denominator positive and the numerator never the least
/// integer there is, so that turning a sign cannot overflow; `Large` otherwise.
#[derive(Clone, PartialEq, Eq, Hash)]
enum Form {
    Small(i128, i128),
    Large(Box<BigRational>),
}

/// Which way a number is rounded when it does not lie on a step.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Rounding {
    /// Toward minus infinity.
    Down,
    /// Toward plus infinity.
    Up,
    /// To the nearer step; a tie goes away from zero.
    Nearest,
}

/// The greatest common divisor of two positive integers.
fn common_divisor(a: u128, b: u128) -> u128 {
    if let (Ok(a), Ok(b)) = (u64::try_from(a), u64::try_from(b)) {
        let (mut a, mut b) = (a, b);
        while b != 0 {
            (a, b) = (b, a % b);
        }
        return u128::from(a);
    }
    num_integer::gcd(a, b)
}

/// Two machine integers in lowest terms; `None` when the result would not fit or the denominator is zero.
fn reduced(num: i128, den: i128) -> Option<Ratio> {
    if den == 1 && num != i128::MIN {
        return Some(Ratio(Form::Small(num, 1)));
    }
    if den == 0 || num == i128::MIN || den == i128::MIN {
        return None;
    }
    let divisor = i128::try_from(common_divisor(num.unsigned_abs(), den.unsigned_abs())).ok()?;
    let (num, den) = (num / divisor, den / divisor);
    Some(Ratio(if den < 0 { Form::Small(-num, -den) } else { Form::Small(num, den) }))
}

/// The value of a float that fits two machine integers: one of them is a power of two.
fn small_float(value: f64) -> Option<Ratio> {
    if !value.is_finite() || value.abs() <= 0.0 {
        return None;
    }
    let (digits, power, sign) = Float::integer_decode(value);
    let zeros = digits.trailing_zeros();
    let num = i128::from(sign) * i128::from(digits >> zeros);
    match i64::from(power) + i64::from(zeros) {
        by @ 0..=64 => Some(Ratio(Form::Small(num << by, 1))),
        by @ -120..0 => Some(Ratio(Form::Small(num, 1 << -by))),
        _ => None,
    }
}

/// The order of two fractions of machine integers, by their whole parts and then by what is left of each: nothing is
/// multiplied, so nothing overflows.
fn order_of((mut a, mut b): (i128, i128), (mut c, mut d): (i128, i128)) -> Ordering {
    loop {
        let wholes = a.div_euclid(b).cmp(&c.div_euclid(d));
        let rests = (a.rem_euclid(b), c.rem_euclid(d));
        match rests {
            _ if wholes.is_ne() => return wholes,
            (0, _) | (_, 0) => return rests.0.cmp(&rests.1),
            // The greater of two that are less than one is the one whose inverse is the less.
            (left, right) => (a, b, c, d) = (d, right, b, left),
        }
    }
}

impl Ratio {
    /// Nought.
    pub const ZERO: Ratio = Ratio(Form::Small(0, 1));
    /// One.
    pub const ONE: Ratio = Ratio(Form::Small(1, 1));

    /// Nought.
    #[must_use]
    pub fn zero() -> Self {
        Ratio::ZERO
    }

    /// One.
    #[must_use]
    pub fn one() -> Self {
        Ratio::ONE
    }

    /// A whole number.
    #[must_use]
    pub const fn from_int(whole: i64) -> Self {
        Ratio(Form::Small(whole as i128, 1))
    }

    /// The ratio of two whole numbers; `None` when the second is nought.
    #[must_use]
    pub fn new(numerator: i128, denominator: i128) -> Option<Self> {
        if denominator == 0 {
            return None;
        }
        Some(
            reduced(numerator, denominator)
                .unwrap_or_else(|| Ratio::from_big(BigRational::new(numerator.into(), denominator.into()))),
        )
    }

    /// The value of a float, to the last bit; `None` when it is infinite or not a number.
    #[must_use]
    pub fn from_f64(value: f64) -> Option<Self> {
        if let Some(whole) = value.to_i64()
            && whole.unsigned_abs() < 1 << 53
            && value.fract().abs() <= 0.0
        {
            return Some(Ratio::from_int(whole));
        }
        small_float(value).or_else(|| BigRational::from_float(value).map(Ratio::from_big))
    }

    /// The value of digits with at most one point and perhaps a sign: `12.5`, `-.25`; `None` for anything
    /// else, and for more than a thousand digits.
    #[must_use]
    pub fn parse_decimal(text: &str) -> Option<Self> {
        let (negative, body) = match text.strip_prefix(['-', '\u{2212}']) {
            Some(rest) => (true, rest),
            None => (false, text.strip_prefix('+').unwrap_or(text)),
        };
        let (whole, fraction) = body.split_once('.').unwrap_or((body, ""));
        let digits = whole.len() + fraction.len();
        let plain = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
        if digits == 0 || digits > 1000 || !plain(whole) || !plain(fraction) {
            return None;
        }
        let together = format!("{whole}{fraction}");
        let places = u32::try_from(fraction.len()).ok()?;
        let value = match (together.parse::<i128>(), 10_i128.checked_pow(places)) {
            (Ok(num), Some(den)) => Ratio::new(num, den)?,
            _ => Ratio::from_big(BigRational::new(
                BigInt::parse_bytes(together.as_bytes(), 10)?,
                BigInt::from(10).pow(places),
            )),
        };
        Some(if negative { -value } else { value })
    }

    fn from_big(value: BigRational) -> Self {
        match (value.numer().to_i128(), value.denom().to_i128()) {
            (Some(num), Some(den)) if num != i128::MIN => Ratio(Form::Small(num, den)),
            _ => Ratio(Form::Large(Box::new(value))),
        }
    }

    pub(super) fn to_big(&self) -> BigRational {
        match &self.0 {
            Form::Small(num, den) => BigRational::new_raw((*num).into(), (*den).into()),
            Form::Large(value) => (**value).clone(),
        }
    }

    /// Both terms, when they fit machine integers.
    #[must_use]
    pub fn terms(&self) -> Option<(i128, i128)> {
        match &self.0 {
            Form::Small(num, den) => Some((*num, *den)),
            Form::Large(_) => None,
        }
    }

    /// The upper term, in digits.
    #[must_use]
    pub fn numerator(&self) -> String {
        match &self.0 {
            Form::Small(num, _) => num.to_string(),
            Form::Large(value) => value.numer().to_string(),
        }
    }

    /// The lower term, in digits; always positive.
    #[must_use]
    pub fn denominator(&self) -> String {
        match &self.0 {
            Form::Small(_, den) => den.to_string(),
            Form::Large(value) => value.denom().to_string(),
        }
    }

    /// The nearest float; the largest finite one for what lies beyond it.
    #[must_use]
    pub fn to_f64(&self) -> f64 {
        const EXACT: i128 = 1 << 53;
        if let Form::Small(num, den) = self.0
            && num.abs() <= EXACT
            && den <= EXACT
        {
            return num as f64 / den as f64;
        }
        let nearest = self.to_big().to_f64().unwrap_or(f64::MAX);
        nearest.clamp(f64::MIN, f64::MAX)
    }

    /// Less than, equal to or greater than nought, as -1, 0 or 1.
    #[must_use]
    pub fn signum(&self) -> i8 {
        match &self.0 {
            Form::Small(num, _) => match num.cmp(&0) {
                Ordering::Less => -1,
                Ordering::Equal => 0,
                Ordering::Greater => 1,
            },
            Form::Large(value) => {
                if value.is_negative() {
                    -1
                } else {
                    1
                }
            }
        }
    }

    /// Whether it is nought.
    #[must_use]
    pub fn is_zero(&self) -> bool {
        self.signum() == 0
    }

    /// Whether it is less than nought.
    #[must_use]
    pub fn is_negative(&self) -> bool {
        self.signum() < 0
    }

    /// Whether it is a whole number.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        match &self.0 {
            Form::Small(_, den) => *den == 1,
            Form::Large(value) => value.denom().is_one(),
        }
    }

    /// The whole number it is, if it is one and fits.
    #[must_use]
    pub fn to_int(&self) -> Option<i64> {
        match self.terms() {
            Some((num, 1)) => i64::try_from(num).ok(),
            _ => None,
        }
    }

    /// Its distance from nought.
    #[must_use]
    pub fn abs(&self) -> Self {
        if self.is_negative() { -self } else { self.clone() }
    }

    /// One divided by it; `None` for nought.
    #[must_use]
    pub fn reciprocal(&self) -> Option<Self> {
        match &self.0 {
            Form::Small(0, _) => None,
            Form::Small(num, den) if *num < 0 => Some(Ratio(Form::Small(-den, -num))),
            Form::Small(num, den) => Some(Ratio(Form::Small(*den, *num))),
            Form::Large(value) => Some(Ratio::from_big(value.recip())),
        }
    }

    /// The quotient; `None` when the divisor is nought.
    #[must_use]
    pub fn checked_div(&self, divisor: &Ratio) -> Option<Self> {
        Some(self * divisor.reciprocal()?)
    }

    /// The value times itself that many times, inverted when the exponent is negative; `None` for a negative
    /// power of nought.
    #[must_use]
    pub fn pow(&self, exponent: i8) -> Option<Self> {
        let base = if exponent < 0 { self.reciprocal()? } else { self.clone() };
        Some((0..exponent.unsigned_abs()).fold(Ratio::ONE, |product, _| product * &base))
    }

    /// The value times itself.
    #[must_use]
    pub fn squared(&self) -> Self {
        self * self
    }

    /// The greatest whole number not above it.
    #[must_use]
    pub fn floor(&self) -> Self {
        match &self.0 {
            Form::Small(num, den) => Ratio(Form::Small(num.div_euclid(*den), 1)),
            Form::Large(value) => Ratio::from_big(value.floor()),
        }
    }

    /// The least whole number not below it.
    #[must_use]
    pub fn ceil(&self) -> Self {
        -(-self).floor()
    }

    /// The whole number that the rounding leads to.
    #[must_use]
    pub fn rounded(&self, rounding: Rounding) -> Self {
        match rounding {
            Rounding::Down => self.floor(),
            Rounding::Up => self.ceil(),
            Rounding::Nearest => {
                let half_up = (self.abs() + half()).floor();
                if self.is_negative() { -half_up } else { half_up }
            }
        }
    }

    /// The multiple of a step that the rounding leads to; `None` when the step is not above nought.
    #[must_use]
    pub fn round_to(&self, step: &Ratio, rounding: Rounding) -> Option<Self> {
        if step.signum() <= 0 {
            return None;
        }
        Some(self.checked_div(step)?.rounded(rounding) * step)
    }

    /// Its square root when that is a ratio too; `None` otherwise, and for negatives.
    #[must_use]
    pub fn exact_root(&self) -> Option<Self> {
        if self.is_negative() {
            return None;
        }
        let root_of = |whole: &BigInt| {
            let root = whole.sqrt();
            (&root * &root == *whole).then_some(root)
        };
        if let Form::Small(num, den) = self.0 {
            let root_of = |whole: i128| {
                let root = whole.isqrt();
                (root * root == whole).then_some(root)
            };
            return Some(Ratio(Form::Small(root_of(num)?, root_of(den)?)));
        }
        let value = self.to_big();
        Some(Ratio::from_big(BigRational::new_raw(root_of(value.numer())?, root_of(value.denom())?)))
    }

    /// Two ratios close on either side of its square root, at most 1e-13 of it apart; `None` for negatives.
    #[must_use]
    pub fn root_bounds(&self) -> Option<(Self, Self)> {
        self.root_bounds_within(46)
    }

    /// Two ratios close on either side of its square root, so that they agree in about so many binary digits.
    #[must_use]
    pub fn root_bounds_within(&self, binary_digits: u16) -> Option<(Self, Self)> {
        if self.is_negative() {
            return None;
        }
        if let Some(root) = self.exact_root() {
            return Some((root.clone(), root));
        }
        let value = self.to_big();
        let scale = i64::from(binary_digits) - (bits(value.numer()) - bits(value.denom())) / 2;
        let (over, under) = doubled(value.numer(), value.denom(), 2 * scale);
        let scaled = over.div_floor(&under);
        let low = scaled.to_u128().map_or_else(|| scaled.sqrt(), |scaled| scaled.isqrt().into());
        Some((halved(low.clone(), scale), halved(low + 1, scale)))
    }

    /// Half of it.
    #[must_use]
    pub fn half(&self) -> Self {
        match self.0 {
            Form::Small(num, den) if num % 2 == 0 => Ratio(Form::Small(num / 2, den)),
            Form::Small(num, den) if den <= i128::MAX / 2 => Ratio(Form::Small(num, den * 2)),
            _ => half() * self,
        }
    }

    /// The same value, or, when its terms have outgrown the machine, a near one on the side asked for: at most
    /// 1e-24 of it away.
    #[must_use]
    pub fn shortened(&self, rounding: Rounding) -> Self {
        const ROOMY: i128 = 1 << 100;
        let value = match &self.0 {
            Form::Small(num, den) if num.abs() < ROOMY && *den < ROOMY => return self.clone(),
            _ => self.to_big(),
        };
        let scale = 82 - (bits(value.numer()) - bits(value.denom()));
        let (over, under) = doubled(value.numer(), value.denom(), scale);
        let whole = match rounding {
            Rounding::Down => over.div_floor(&under),
            Rounding::Up => over.div_ceil(&under),
            Rounding::Nearest => {
                let twice: BigInt = over.abs() << 1;
                let half_up = (twice + &under).div_floor(&(under << 1));
                if over.is_negative() { -half_up } else { half_up }
            }
        };
        halved(whole, scale)
    }
}

fn half() -> Ratio {
    Ratio(Form::Small(1, 2))
}

fn bits(whole: &BigInt) -> i64 {
    i64::try_from(whole.bits()).unwrap_or(i64::MAX / 4)
}

/// A whole number over two to a power: what the two have in common is twos and nothing else.
fn halved(whole: BigInt, power: i64) -> Ratio {
    let Some(twos) = whole.trailing_zeros() else { return Ratio::ZERO };
    let under = u64::try_from(power).unwrap_or(0);
    let common = twos.min(under);
    let (more, _) = doubled(&(whole >> common), &BigInt::one(), power.min(0).saturating_neg());
    Ratio::from_big(BigRational::new_raw(more, BigInt::one() << (under - common)))
}

/// A fraction times two to a power, its terms not shortened.
fn doubled(over: &BigInt, under: &BigInt, power: i64) -> (BigInt, BigInt) {
    let by = power.unsigned_abs();
    if power >= 0 { (over << by, under.clone()) } else { (over.clone(), under << by) }
}

impl Default for Ratio {
    fn default() -> Self {
        Ratio::ZERO
    }
}

impl From<i64> for Ratio {
    fn from(whole: i64) -> Self {
        Ratio::from_int(whole)
    }
}

impl std::fmt::Display for Ratio {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        if self.is_whole() {
            out.write_str(&self.numerator())
        } else {
            write!(out, "{}/{}", self.numerator(), self.denominator())
        }
    }
}

impl std::fmt::Debug for Ratio {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        std::fmt::Display::fmt(self, out)
    }
}

impl PartialOrd for Ratio {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Ratio {
    fn cmp(&self, other: &Self) -> Ordering {
        if let (Form::Small(a, b), Form::Small(c, d)) = (&self.0, &other.0) {
            if b == d {
                return a.cmp(c);
            }
            if let (Some(left), Some(right)) = (a.checked_mul(*d), c.checked_mul(*b)) {
                return left.cmp(&right);
            }
            return order_of((*a, *b), (*c, *d));
        }
        self.signum().cmp(&other.signum()).then_with(|| self.to_big().cmp(&other.to_big()))
    }
}

fn small_sum(a: &Ratio, b: &Ratio) -> Option<Ratio> {
    let ((a, b), (c, d)) = (a.terms()?, b.terms()?);
    if b == d {
        return reduced(a.checked_add(c)?, b);
    }
    reduced(a.checked_mul(d)?.checked_add(c.checked_mul(b)?)?, b.checked_mul(d)?)
}

fn small_product(a: &Ratio, b: &Ratio) -> Option<Ratio> {
    let ((a, b), (c, d)) = (a.terms()?, b.terms()?);
    if b == 1 && d == 1 {
        return reduced(a.checked_mul(c)?, 1);
    }
    let left = reduced(a, d)?.terms()?;
    let right = reduced(c, b)?.terms()?;
    reduced(left.0.checked_mul(right.0)?, left.1.checked_mul(right.1)?)
}

fn sum(a: &Ratio, b: &Ratio) -> Ratio {
    small_sum(a, b).unwrap_or_else(|| Ratio::from_big(a.to_big() + b.to_big()))
}

fn difference(a: &Ratio, b: &Ratio) -> Ratio {
    sum(a, &-b)
}

fn product(a: &Ratio, b: &Ratio) -> Ratio {
    small_product(a, b).unwrap_or_else(|| Ratio::from_big(a.to_big() * b.to_big()))
}

impl Neg for &Ratio {
    type Output = Ratio;
    fn neg(self) -> Ratio {
        match &self.0 {
            Form::Small(num, den) => Ratio(Form::Small(-num, *den)),
            Form::Large(value) => Ratio::from_big(-(**value).clone()),
        }
    }
}

impl Neg for Ratio {
    type Output = Ratio;
    fn neg(self) -> Ratio {
        -&self
    }
}

macro_rules! operator {
    ($trait:ident, $method:ident, $of:ident) => {
        impl $trait<&Ratio> for &Ratio {
            type Output = Ratio;
            fn $method(self, other: &Ratio) -> Ratio {
                $of(self, other)
            }
        }
        impl $trait<Ratio> for &Ratio {
            type Output = Ratio;
            fn $method(self, other: Ratio) -> Ratio {
                $of(self, &other)
            }
        }
        impl $trait<&Ratio> for Ratio {
            type Output = Ratio;
            fn $method(self, other: &Ratio) -> Ratio {
                $of(&self, other)
            }
        }
        impl $trait<Ratio> for Ratio {
            type Output = Ratio;
            fn $method(self, other: Ratio) -> Ratio {
                $of(&self, &other)
            }
        }
    };
}

operator!(Add, add, sum);
operator!(Sub, sub, difference);
operator!(Mul, mul, product);

impl std::iter::Sum for Ratio {
    fn sum<I: Iterator<Item = Ratio>>(list: I) -> Ratio {
        list.fold(Ratio::ZERO, |so_far, next| so_far + next)
    }
}

#[cfg(test)]
mod tests;
