//! The digits of a quantity: whole numbers, decimals, fractions, and what commas may mean in them.

use super::super::Ratio;
use super::Digits;

/// More digits than this are refused: no tape, gauge or code needs them, and with a bound on digits every
/// exact computation is bounded too.
pub(super) const MOST_DIGITS: usize = 18;

/// A number as it stands in a text, its sign left out.
#[derive(Clone, Debug)]
pub(super) struct Amount {
    pub(super) value: Ratio,
    pub(super) digits: Digits,
    /// The smallest difference it tells apart.
    pub(super) step: Ratio,
    /// The byte behind it.
    pub(super) end: usize,
    pub(super) comma: Comma,
    /// A fraction that is not in lowest terms or counts twelfths, as roofers write a pitch: `6/12`; its lower term.
    pub(super) pitch: Option<i64>,
    /// A whole number joined to a fraction by a dash, which only makes sense before a unit: `3-1/2 in`.
    pub(super) dashed: bool,
}

/// What a comma in a number means.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Comma {
    /// There is none.
    None,
    /// It surely parts thousands: `1,300,000`, `1,300.5`.
    Thousands,
    /// It parts thousands, unless the writer puts a comma where others put a point: `1,300`.
    Either,
    /// It stands for a point: `1,5`.
    Point,
}

/// How many bytes of white space a text starts with.
pub(super) fn spaces(text: &str) -> usize {
    text.len() - text.trim_start().len()
}

fn digit_run(text: &str) -> usize {
    text.bytes().take_while(u8::is_ascii_digit).count()
}

/// A whole or decimal number.
struct Numeral {
    plain: String,
    places: u32,
    length: usize,
    comma: Comma,
}

fn numeral(text: &str, commas: bool) -> Option<Numeral> {
    let lead = digit_run(text);
    let mut plain = text.get(..lead)?.to_owned();
    let mut length = lead;
    let mut comma = Comma::None;
    let tail = |length: usize| text.get(length..).unwrap_or("");
    if lead > 0 && tail(length).starts_with(',') && digit_run(tail(length + 1)) > 0 {
        let mut groups = Vec::new();
        let mut at = length;
        while tail(at).starts_with(',') && digit_run(tail(at + 1)) > 0 {
            let run = digit_run(tail(at + 1));
            groups.push(text.get(at + 1..at + 1 + run)?);
            at += 1 + run;
        }
        let thousands = lead <= 3 && !plain.starts_with('0') && groups.iter().all(|group| group.len() == 3);
        if thousands || commas {
            comma = match (thousands, groups.len()) {
                (true, 1) => Comma::Either,
                (true, _) => Comma::Thousands,
                (false, 1) => Comma::Point,
                (false, _) => return None,
            };
            if comma == Comma::Point {
                plain.push('.');
            }
            plain.extend(groups);
            length = at;
        }
    }
    let mut places = plain.split_once('.').map_or(0, |(_, fraction)| fraction.len());
    if comma != Comma::Point && tail(length).starts_with('.') {
        let run = digit_run(tail(length + 1));
        if run > 0 {
            plain.push_str(text.get(length..length + 1 + run)?);
            length += 1 + run;
            places = run;
            if comma == Comma::Either {
                comma = Comma::Thousands;
            }
        }
    }
    if length == 0 {
        return None;
    }
    Some(Numeral { plain, places: u32::try_from(places).ok()?, length, comma })
}

/// How many digits of a text count toward the bound: leading noughts do not.
pub(super) fn counted_digits(text: &str) -> usize {
    let digits: String = text.chars().filter(char::is_ascii_digit).collect();
    digits.trim_start_matches('0').len()
}

/// A fraction in one character.
fn single_fraction(text: &str) -> Option<(i64, i64, usize)> {
    let first = text.chars().next()?;
    let (num, den) = match first {
        '½' => (1, 2),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅐' => (1, 7),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        _ => return None,
    };
    Some((num, den, first.len_utf8()))
}

/// A fraction with a stroke, its lower term not nought.
fn stroke_fraction(text: &str) -> Option<(i64, i64, usize)> {
    let upper = digit_run(text);
    let num: i64 = text.get(..upper)?.parse().ok()?;
    let rest = text.get(upper..)?;
    let stroke = rest.chars().next().filter(|c| matches!(c, '/' | '\u{2044}'))?.len_utf8();
    let rest = rest.get(stroke..)?;
    let lower = digit_run(rest);
    let den: i64 = rest.get(..lower)?.parse().ok()?;
    (den != 0).then_some((num, den, upper + stroke + lower))
}

/// Every way in which a number can be read at a place, the longest first; empty when none stands there.
/// `commas` says whether a comma may stand for a point.
pub(super) fn amounts(text: &str, at: usize, commas: bool) -> Vec<Amount> {
    let rest = text.get(at..).unwrap_or("");
    let mut found: Vec<Amount> = Vec::new();
    let mut add = |whole: Ratio, num: i64, den: i64, length: usize, dashed: bool, comma: Comma| {
        let Some(part) = Ratio::new(num.into(), den.into()) else { return };
        let lowest = part.terms().is_some_and(|(_, lower)| lower == i128::from(den));
        let alone = whole.is_zero();
        found.push(Amount {
            value: whole + part,
            digits: Digits::Fraction(den),
            step: Ratio::new(1, den.into()).unwrap_or(Ratio::ONE),
            end: at + length,
            comma,
            pitch: (alone && (den == 12 || !lowest)).then_some(den),
            dashed,
        });
    };
    if let Some((num, den, length)) = single_fraction(rest).or_else(|| stroke_fraction(rest)) {
        add(Ratio::ZERO, num, den, length, false, Comma::None);
    }
    if let Some(numeral) = numeral(rest, commas)
        && let Some(value) = Ratio::parse_decimal(&numeral.plain)
    {
        let tail = rest.get(numeral.length..).unwrap_or("");
        if numeral.places == 0 && numeral.comma != Comma::Point {
            let gap = spaces(tail);
            let after_gap = tail.get(gap..).unwrap_or("");
            let dash = tail.chars().next().filter(|c| matches!(c, '-' | '\u{2010}' | '\u{2011}' | '–'));
            let after_dash = dash.and_then(|dash| tail.get(dash.len_utf8()..)).unwrap_or("");
            let proper = |fraction: &(i64, i64, usize)| 0 < fraction.0 && fraction.0 < fraction.1;
            let spaced = single_fraction(after_gap)
                .or_else(|| stroke_fraction(after_gap).filter(|_| gap > 0))
                .filter(proper)
                .map(|part| (part, gap, false));
            let joined = single_fraction(after_dash)
                .or_else(|| stroke_fraction(after_dash))
                .filter(proper)
                .map(|part| (part, dash.map_or(0, char::len_utf8), true));
            if let Some(((num, den, length), between, dashed)) = spaced.or(joined) {
                add(value.clone(), num, den, numeral.length + between + length, dashed, numeral.comma);
            }
        }
        let step =
            Ratio::from_int(10).pow(-i8::try_from(numeral.places).unwrap_or(i8::MAX)).unwrap_or(Ratio::ONE);
        found.push(Amount {
            value,
            digits: if numeral.places == 0 { Digits::Whole } else { Digits::Decimal(numeral.places) },
            step,
            end: at + numeral.length,
            comma: numeral.comma,
            pitch: None,
            dashed: false,
        });
    }
    found.sort_by_key(|amount| std::cmp::Reverse(amount.end));
    found
}
