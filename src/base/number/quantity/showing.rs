//! From quantity to text, in the writer's own units.
//!
//! An exact number is written exactly when that takes no more digits than a person could have written. What
//! cannot be, is rounded, a range always outward; and two numbers that differ are given as many digits as it
//! takes to tell them apart.

use super::super::unit::{Named, Spelling, UNITS};
use super::super::{Comparison, Dimension, Number, Ratio, Rounding};
use super::amount::MOST_DIGITS;
use super::{Digits, Layout, Mark, Style};
use crate::base::truth::Truth;

/// How many significant digits a rounded number has, if no more are needed.
const USUAL: u16 = 4;
/// How many significant digits a number has that was worked out from others.
const EARNED: u16 = 3;
/// No pair of numbers is given more digits than this.
const MOST: u16 = 60;

/// A number in the given style: `10 ft 6 in`, or `between 10 ft 5 in and 10 ft 7 in` for a range. A style of
/// another dimension is passed over for the usual one.
#[must_use]
pub fn show(number: &Number, dimension: Dimension, style: &Style) -> String {
    in_digits(number, &fitting(style, dimension), dimension, USUAL).text
}

/// A number that was worked out, in the given style, with three digits: no more than such a number earns. A range has as
/// many as it takes to show that its ends differ.
#[must_use]
pub fn show_worked_out(number: &Number, dimension: Dimension, style: &Style) -> String {
    in_digits(number, &fitting(style, dimension), dimension, EARNED).text
}

/// Two numbers in the given style, with as many digits as it takes to tell them apart when they are known to
/// differ. Numbers that may be equal are shown as they are.
#[must_use]
pub fn show_pair(a: &Number, b: &Number, dimension: Dimension, style: &Style) -> (String, String) {
    let style = fitting(style, dimension);
    let differ = a.compare(Comparison::Equal, b) == Truth::False;
    let mut digits = USUAL;
    loop {
        let (first, second) =
            (in_digits(a, &style, dimension, digits), in_digits(b, &style, dimension, digits));
        let apart = first.high < second.low || second.high < first.low;
        if apart || !differ || digits >= MOST {
            return (first.text, second.text);
        }
        digits += if digits < 12 { 1 } else { 6 };
    }
}

/// A text, and the range of numbers that it states, in SI base units.
struct Shown {
    text: String,
    low: Ratio,
    high: Ratio,
}

/// A number that is to be written: exactly if possible, else rounded so.
struct Written<'a> {
    value: &'a Ratio,
    exact: bool,
    digits: u16,
    rounding: Rounding,
}

/// The style itself if it can write numbers of that dimension, otherwise the usual one.
fn fitting(style: &Style, dimension: Dimension) -> Style {
    let of = match &style.layout {
        Layout::Plain | Layout::Per { .. } | Layout::Run { .. } => Dimension::ONE,
        Layout::After(mark) | Layout::Pair { large: mark, .. } => mark.named.unit.dimension,
        Layout::Before(named, ..) => named.unit.dimension,
        Layout::Fitting(_) | Layout::Base => dimension,
    };
    if of == dimension { style.clone() } else { Style::default_for(dimension) }
}

fn in_digits(number: &Number, style: &Style, dimension: Dimension, digits: u16) -> Shown {
    let point = |value: &Ratio, exact: bool, digits: u16, rounding: Rounding| {
        let (text, stated) = one(&Written { value, exact, digits, rounding }, style, dimension);
        Shown { text, low: stated.clone(), high: stated }
    };
    match number {
        Number::Exact(value) => point(value, true, digits, Rounding::Nearest),
        Number::Root(square) => {
            let near = square.root_bounds_within(46 + 4 * digits).map(|(low, _)| low).unwrap_or_default();
            point(&near, false, digits, Rounding::Nearest)
        }
        Number::Range(low, high) => {
            let width = high - low;
            let narrow = Ratio::new(1, 1_000_000_000).unwrap_or(Ratio::ZERO) * low.abs().max(high.abs());
            if width <= narrow {
                let middle = (low + high) * Ratio::new(1, 2).unwrap_or(Ratio::ONE);
                return point(&middle, false, digits, Rounding::Nearest);
            }
            let mut digits = digits;
            loop {
                let below = point(low, short(low, style, dimension), digits, Rounding::Down);
                let above = point(high, short(high, style, dimension), digits, Rounding::Up);
                let slack = (low - &below.low).abs() + (&above.high - high).abs();
                if slack * Ratio::from_int(8) <= width || digits >= MOST {
                    let text = format!("between {} and {}", below.text, above.text);
                    return Shown { text, low: below.low, high: above.high };
                }
                digits += 1;
            }
        }
    }
}

/// Whether an end of a range is so round a number that it is written as it is.
fn short(value: &Ratio, style: &Style, dimension: Dimension) -> bool {
    let exact = Written { value, exact: true, digits: USUAL, rounding: Rounding::Nearest };
    let (text, stated) = one(&exact, style, dimension);
    stated == *value && text.chars().filter(char::is_ascii_digit).count() <= 8
}

/// One number in a style: the text and the number it states.
fn one(written: &Written<'_>, style: &Style, dimension: Dimension) -> (String, Ratio) {
    match &style.layout {
        Layout::Plain => plain_number(written, style.digits),
        Layout::After(mark) => after(written, *mark, style.digits),
        Layout::Before(named, left, right) => {
            let (text, stated) = scaled(written, &named.unit.factor, Digits::Decimal(0));
            let (sign, text) = text.strip_prefix('-').map_or(("", text.as_str()), |rest| ("-", rest));
            (format!("{sign}{left}{text}{right}"), stated)
        }
        Layout::Pair { large, joiner, small } => pair(written, *large, joiner, *small, style.digits),
        Layout::Per { rise, joiner, run, run_unit } => {
            let length = run_unit.unit.factor.clone() * run.clone().unwrap_or(Ratio::ONE);
            let per = rise.named.unit.factor.checked_div(&length).unwrap_or(Ratio::ONE);
            let (number, stated) = scaled(written, &per, fractions(style.digits, rise.named));
            let rise = unit_text(&number, *rise);
            let several = run.as_ref().is_some_and(|run| *run != Ratio::ONE);
            let count = run.as_ref().map(|run| format!("{} ", exact_text(run, Digits::Whole)));
            let count = count.unwrap_or_default();
            let unit = if several { run_unit.spelling.many } else { run_unit.spelling.one };
            (format!("{rise}{joiner}{count}{unit}"), stated)
        }
        Layout::Run { sign, run, rise_is_one } => {
            rise_and_run(written, sign, run, *rise_is_one, style.digits)
        }
        Layout::Fitting(units) => {
            let named =
                |spelling: &&str| UNITS.spelled(spelling).find(|named| named.unit.dimension == dimension);
            let large_enough = |named: &Named| written.value.abs() >= named.unit.factor;
            let chosen = units.iter().filter_map(named).find(large_enough);
            match chosen.or_else(|| units.last().and_then(named)) {
                Some(named) => after(written, Mark { named, tight: false }, Digits::Decimal(0)),
                None => base(written, dimension),
            }
        }
        Layout::Base => base(written, dimension),
    }
}

/// A number divided by how much one of its units is, and the number that the text states, multiplied back.
fn scaled(written: &Written<'_>, factor: &Ratio, digits: Digits) -> (String, Ratio) {
    let value = written.value.checked_div(factor).unwrap_or(Ratio::ZERO);
    let (text, stated) = plain_number(&Written { value: &value, ..*written }, digits);
    (text, stated * factor)
}

/// Fractions for whole numbers of feet, inches and yards; otherwise what the writer chose.
fn fractions(digits: Digits, named: Named) -> Digits {
    let usual = ["in", "ft", "yd"].contains(&named.unit.usual().one);
    match digits {
        Digits::Whole if usual => Digits::Fraction(16),
        Digits::Whole => Digits::Decimal(0),
        other => other,
    }
}

fn after(written: &Written<'_>, mark: Mark, digits: Digits) -> (String, Ratio) {
    let unit = mark.named.unit;
    let value = written.value * unit.factor.reciprocal().unwrap_or(Ratio::ONE) - &unit.shift;
    let feet = unit.usual().one == "ft" && !matches!(digits, Digits::Decimal(_));
    let as_written = written.exact && fraction_text(&value, fractions(digits, mark.named)).is_some();
    let whole_or_chosen = value.is_whole() || matches!(digits, Digits::Fraction(_));
    if feet
        && !(as_written && whole_or_chosen)
        && let Some(inches) = inches_beside(mark)
    {
        let joiner = " ";
        return pair(written, mark, joiner, inches, Digits::Whole);
    }
    let (text, stated) = plain_number(&Written { value: &value, ..*written }, fractions(digits, mark.named));
    (unit_text(&text, mark), unit.to_si(&stated))
}

/// How whoever writes feet like this writes inches.
fn inches_beside(feet: Mark) -> Option<Mark> {
    let spelling = match feet.named.spelling.many {
        "'" => "\"",
        "′" => "″",
        "’" => "”",
        "ft." => "in.",
        "feet" => "inches",
        _ => "in",
    };
    let inch = |named: &Named| named.unit.dimension == Dimension::LENGTH;
    Some(Mark { named: UNITS.spelled(spelling).find(inch)?, tight: feet.tight })
}

fn pair(written: &Written<'_>, large: Mark, joiner: &str, small: Mark, digits: Digits) -> (String, Ratio) {
    let (big, little) = (&large.named.unit.factor, &small.named.unit.factor);
    let in_small = written.value.checked_div(little).unwrap_or(Ratio::ZERO);
    let wanted = fractions(digits, small.named);
    let total = Written { value: &in_small, ..*written };
    let (_, stated) = plain_number(&total, wanted);
    let per = big.checked_div(little).unwrap_or(Ratio::ONE);
    let size = stated.abs();
    let count = size.checked_div(&per).unwrap_or(Ratio::ZERO).floor();
    let rest = &size - &count * per;
    let sign = if stated.is_negative() { "-" } else { "" };
    let rest_text = match &fraction_text(&rest, wanted) {
        Some(text) => text.clone(),
        None => decimals_of(&rest),
    };
    let text = match (count.is_zero(), rest.is_zero()) {
        (false, true) => format!("{sign}{}", unit_text(&exact_text(&count, Digits::Whole), large)),
        (true, _) => format!("{sign}{}", unit_text(&rest_text, small)),
        (false, false) => {
            let large = unit_text(&exact_text(&count, Digits::Whole), large);
            format!("{sign}{large}{joiner}{}", unit_text(&rest_text, small))
        }
    };
    (text, stated * little)
}

fn rise_and_run(
    written: &Written<'_>,
    sign: &str,
    run: &Ratio,
    rise_is_one: bool,
    digits: Digits,
) -> (String, Ratio) {
    let run_text = |run: &Ratio| exact_text(run, Digits::Whole);
    if rise_is_one && let Some(length) = written.value.abs().reciprocal() {
        let (text, stated) = plain_number(&Written { value: &length, ..*written }, Digits::Decimal(0));
        let turned = stated.reciprocal().unwrap_or(Ratio::ZERO);
        return if written.value.is_negative() {
            (format!("-1{sign}{text}"), -turned)
        } else {
            (format!("1{sign}{text}"), turned)
        };
    }
    let rise = written.value * run;
    let digits = match (sign, digits) {
        (" in " | " on ", Digits::Whole) => Digits::Fraction(16),
        (" in " | " on ", chosen) => chosen,
        _ => Digits::Decimal(0),
    };
    let (text, stated) = plain_number(&Written { value: &rise, ..*written }, digits);
    let sign = if sign == "/" && text.contains('.') { " in " } else { sign };
    let stated = stated.checked_div(run).unwrap_or(Ratio::ZERO);
    (format!("{text}{sign}{}", run_text(run)), stated)
}

/// A number with its unit, joined as the writer does.
fn unit_text(number: &str, mark: Mark) -> String {
    let Spelling { one, many } = mark.named.spelling;
    let size = number.trim_start_matches('-');
    let single = size == "1" || size.contains('/') && !size.contains(' ');
    let gap = if mark.tight { "" } else { " " };
    format!("{number}{gap}{}", if single { one } else { many })
}

/// A bare number: a fraction or the exact decimals where that can be, otherwise rounded.
fn plain_number(written: &Written<'_>, digits: Digits) -> (String, Ratio) {
    let value = written.value;
    if written.exact
        && let Some(text) = fraction_text(value, digits).or_else(|| exact_decimals(value))
    {
        return (text, value.clone());
    }
    let places = places_for(value, written.digits);
    let step = Ratio::from_int(10).pow(-places).unwrap_or(Ratio::ONE);
    let stated = value.round_to(&step, written.rounding).unwrap_or(Ratio::ZERO);
    (decimals(&stated, places), stated)
}

/// An exact number that is known to be short.
fn exact_text(value: &Ratio, digits: Digits) -> String {
    plain_number(&Written { value, exact: true, digits: USUAL, rounding: Rounding::Nearest }, digits).0
}

/// How many decimals a number needs to have so many significant digits.
fn places_for(value: &Ratio, digits: u16) -> i8 {
    let size = value.abs().to_f64();
    let magnitude = if size > 0.0 { size.log10().floor().clamp(-100.0, 100.0) as i32 } else { 0 };
    let places = (i32::from(digits) - 1 - magnitude).clamp(0, 120);
    i8::try_from(places).unwrap_or(i8::MAX)
}

/// A mixed fraction, if the style has fractions and the lower term is one that a tape, or the writer, has.
fn fraction_text(value: &Ratio, digits: Digits) -> Option<String> {
    let chosen = match digits {
        Digits::Fraction(chosen) => i128::from(chosen),
        _ => return value.is_whole().then(|| value.numerator()),
    };
    let (num, den) = value.terms()?;
    let on_a_tape = [1, 2, 4, 8, 16, 32, 64].contains(&den);
    if !on_a_tape && (den == 0 || chosen % den != 0) {
        return None;
    }
    let sign = if num < 0 { "-" } else { "" };
    let (whole, part) = (num.abs() / den, num.abs() % den);
    Some(match (whole, part) {
        (_, 0) => format!("{sign}{whole}"),
        (0, _) => format!("{sign}{part}/{den}"),
        _ => format!("{sign}{whole} {part}/{den}"),
    })
}

/// All decimals, if they end within as many digits as a person may write.
fn exact_decimals(value: &Ratio) -> Option<String> {
    let (_, mut den) = value.terms()?;
    let (mut twos, mut fives) = (0, 0);
    while den % 2 == 0 {
        den /= 2;
        twos += 1;
    }
    while den % 5 == 0 {
        den /= 5;
        fives += 1;
    }
    let places = twos.max(fives);
    let text =
        (den == 1 && places <= 18).then(|| decimals(value, i8::try_from(places).unwrap_or(i8::MAX)))?;
    (super::amount::counted_digits(&text) <= MOST_DIGITS).then_some(text)
}

/// The decimals of a number of which it is known that they end soon.
fn decimals_of(value: &Ratio) -> String {
    (0..i8::MAX)
        .find(|places| Ratio::from_int(10).pow(*places).is_some_and(|scale| (value * scale).is_whole()))
        .map_or_else(|| value.to_string(), |places| decimals(value, places))
}

/// A number with exactly so many decimals; it has to be a multiple of the last one.
fn decimals(value: &Ratio, places: i8) -> String {
    let scale = Ratio::from_int(10).pow(places).unwrap_or(Ratio::ONE);
    let digits = (value.abs() * scale).rounded(Rounding::Nearest).numerator();
    let sign = if value.is_negative() { "-" } else { "" };
    let places = usize::from(places.unsigned_abs());
    if places == 0 {
        return format!("{sign}{digits}");
    }
    let padded = format!("{digits:0>width$}", width = places + 1);
    let (whole, fraction) = padded.split_at(padded.len() - places);
    format!("{sign}{whole}.{fraction}")
}

/// SI base units with their powers, for what has no unit of its own.
fn base(written: &Written<'_>, dimension: Dimension) -> (String, Ratio) {
    let (mut text, stated) = plain_number(written, Digits::Decimal(0));
    let powers = [
        ("kg", dimension.mass),
        ("m", dimension.length),
        ("s", dimension.time),
        ("K", dimension.temperature),
        ("A", dimension.current),
        ("Bq", dimension.activity),
        ("dB", dimension.loudness),
        ("$", dimension.money),
        ("deg", dimension.angle),
        ("J(alpha)", dimension.alpha),
    ];
    for (unit, power) in powers.into_iter().filter(|(_, power)| *power != 0) {
        text.push(' ');
        text.push_str(unit);
        if power != 1 {
            text.push_str(&format!("^{power}"));
        }
    }
    (text, stated)
}
