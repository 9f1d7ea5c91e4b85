//! What is wrong with a text that is not the quantity wanted, and what was likely meant.

use std::ops::Range;

use crate::base::near::nearest;
use crate::base::problem::ProblemKind;

use super::super::Dimension;
use super::super::unit::{UNITS, likely};
use super::amount::{Comma, MOST_DIGITS, amounts, spaces};
use super::reading::Reading;
use super::{Quantity, QuantityFault};

fn fault(kind: ProblemKind, at: Range<usize>, found: &str, accepts: String) -> QuantityFault {
    let found: String = found.chars().take(80).collect();
    QuantityFault { kind, at, found, accepts, nearest: None }
}

/// What would be accepted for a dimension, in words with examples.
fn accepted(wanted: Option<Dimension>) -> String {
    match wanted.and_then(Dimension::words) {
        Some((name, examples)) => format!("{name}, such as {examples}"),
        None => "a number with its unit, such as 10 ft 6 in, 40 cfm or 1.25 in WC".to_owned(),
    }
}

/// A number with a unit that stands where the writer would put it.
fn with_unit(number: &str, unit: &str) -> String {
    match unit {
        "R" | "RSI" => format!("{unit}-{number}"),
        "$" | "€" | "£" => format!("{unit}{number}"),
        _ => match unit.split_once('/') {
            Some((sign @ ("$" | "€" | "£"), rest)) => format!("{sign}{number}/{rest}"),
            _ => format!("{number} {unit}"),
        },
    }
}

pub(super) fn no_quantity(body: &str, at: Range<usize>, wanted: Option<Dimension>) -> QuantityFault {
    fault(ProblemKind::NotAQuantity, at, body, accepted(wanted))
}

pub(super) fn too_many_digits(body: &str, at: Range<usize>) -> QuantityFault {
    fault(ProblemKind::TooManyDigits, at, body, format!("a number of at most {MOST_DIGITS} digits"))
}

/// What is said of more than one number, or of a rough one: the value and how far off it can be, in one example.
fn roughly(body: &str, at: Range<usize>, example: Option<String>) -> QuantityFault {
    let example = example.unwrap_or_else(|| "{value: 11 ft, within: 1 in}".to_owned());
    let accepts =
        format!("one number with its unit, or the number and how far off it can be, such as {example}");
    fault(ProblemKind::NotOneNumber, at, body, accepts)
}

/// Two whole numbers joined by a dash or a word, and what stands behind them.
fn two_numbers(body: &str) -> Option<(i64, i64, &str)> {
    let (first, rest) = body.split_at_checked(body.find(|c: char| !c.is_ascii_digit())?)?;
    let rest = rest.trim_start();
    let rest = ["-", "–", "—", "to ", "or "].iter().find_map(|join| rest.strip_prefix(join))?.trim_start();
    let end = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
    let (second, unit) = rest.split_at_checked(end)?;
    Some((first.parse().ok()?, second.parse().ok()?, unit.trim()))
}

/// What is wrong with more than one number: `10-12 ft`, and `10-6` for feet and inches.
fn several(body: &str, at: Range<usize>, wanted: Option<Dimension>) -> QuantityFault {
    let Some((first, second, unit)) = two_numbers(body) else { return roughly(body, at, None) };
    if unit.is_empty() && wanted == Some(Dimension::LENGTH) && second < 12 {
        let meant = format!("{first} ft {second} in");
        if second < first {
            return QuantityFault {
                nearest: Some(meant),
                ..fault(ProblemKind::NotAQuantity, at, body, accepted(wanted))
            };
        }
        let accepts = format!("{meant} if feet and inches are meant, else one number with its unit");
        return fault(ProblemKind::NotOneNumber, at, body, accepts);
    }
    let example = (first < second && !unit.is_empty()).then(|| {
        let half = |sum: i64| match (sum / 2, sum % 2) {
            (0, 1) => "1/2".to_owned(),
            (whole, 1) => format!("{whole} 1/2"),
            (whole, _) => whole.to_string(),
        };
        let middle = half(first.saturating_add(second));
        format!("{{value: {middle} {unit}, within: {} {unit}}}", half(second.saturating_sub(first)))
    });
    roughly(body, at, example)
}

/// The value without the printer's quotes round it, if it can be read then.
fn without_quotes(body: &str, wanted: Option<Dimension>) -> Option<String> {
    let inner = body.strip_prefix(['“', '”', '„', '‘', '’', '«'])?;
    let inner = inner.strip_suffix(['“', '”', '‘', '’', '»']).unwrap_or(inner).trim();
    readable(inner, wanted).then(|| inner.to_owned())
}

fn readable(text: &str, wanted: Option<Dimension>) -> bool {
    match wanted {
        Some(wanted) => Quantity::parse(text, wanted).is_ok(),
        None => Quantity::parse_any(text).is_ok(),
    }
}

/// A bare number where a unit is needed: both likely readings are offered, neither is preferred.
pub(super) fn no_unit(body: &str, at: Range<usize>, wanted: Dimension) -> QuantityFault {
    let accepts = match likely(wanted) {
        Some((first, second)) => format!("{} or {}", with_unit(body, first), with_unit(body, second)),
        None => accepted(Some(wanted)),
    };
    fault(ProblemKind::NoUnit, at, body, accepts)
}

/// A quantity of another kind than is wanted.
pub(super) fn other_kind(body: &str, at: Range<usize>, other: &Reading, wanted: Dimension) -> QuantityFault {
    let found = format!("{body} ({})", other.name());
    let mut fault = fault(ProblemKind::WrongDimension, at, &found, accepted(Some(wanted)));
    let number = body.trim_end_matches(|c: char| !c.is_numeric()).trim_end();
    let unit = body.get(number.len()..).unwrap_or("").trim();
    let meant = match (unit, wanted) {
        ("in" | "in." | "\"" | "inch" | "inches", Dimension::PRESSURE) => Some("in WC"),
        ("deg" | "°" | "degrees", Dimension::TEMPERATURE) => Some("°F"),
        ("deg" | "°" | "degrees", Dimension::TEMPERATURE_DIFFERENCE) => Some("F deg"),
        ("ft", Dimension::AREA) => Some("sq ft"),
        ("m", Dimension::AREA) => Some("m2"),
        _ => None,
    };
    fault.nearest = meant.map(|unit| with_unit(number, unit));
    fault
}

/// A unit that two kinds of quantity share, where nothing says which is meant.
pub(super) fn two_kinds(body: &str, at: Range<usize>, one: Dimension, other: Dimension) -> QuantityFault {
    let number = body.trim_end_matches(|c: char| !c.is_numeric()).trim_end();
    let accepts = if (one, other) == (Dimension::VOLUME, Dimension::MASS) {
        format!("{number} fl oz for a volume or {number} oz wt for a weight")
    } else {
        format!("a unit that only {} or only {} has", one.name(), other.name())
    };
    fault(ProblemKind::UnknownUnit, at, body, accepts)
}

/// A comma that may part thousands or stand for a point.
pub(super) fn comma(body: &str, at: Range<usize>, reading: &Reading) -> QuantityFault {
    let thousands = body.replace(',', "");
    let point = body.replace(',', ".");
    if reading.comma == Comma::Either {
        let accepts = format!("{thousands} or {point}: here a comma can part thousands or stand for a point");
        return fault(ProblemKind::NotAQuantity, at, body, accepts);
    }
    let accepts = "decimals behind a point, not a comma".to_owned();
    QuantityFault { nearest: Some(point), ..fault(ProblemKind::NotAQuantity, at, body, accepts) }
}

pub(super) fn below_absolute_nought(body: &str, at: Range<usize>) -> QuantityFault {
    let accepts = "a temperature above absolute zero, -459.67 °F or -273.15 °C".to_owned();
    fault(ProblemKind::OutOfRange, at, body, accepts)
}

pub(super) fn no_size(text: &str) -> QuantityFault {
    let lead = spaces(text);
    let body = text.trim();
    let accepts = "two lengths, such as 40 ft x 24 ft".to_owned();
    fault(ProblemKind::NotAQuantity, lead..lead + body.len(), body, accepts)
}

/// What is wrong with a text that cannot be read as any quantity to its end.
pub(super) fn diagnose(body: &str, at: Range<usize>, wanted: Option<Dimension>) -> QuantityFault {
    let sign =
        body.chars().next().filter(|c| matches!(c, '-' | '+' | '\u{2212}' | '–')).map_or(0, char::len_utf8);
    if let Some(meant) = without_quotes(body, wanted) {
        return QuantityFault {
            nearest: Some(meant),
            ..fault(ProblemKind::PrintersQuotes, at, body, String::new())
        };
    }
    let Some(amount) = amounts(body, sign, true).into_iter().next() else {
        return no_number(body, at, wanted);
    };
    let number = body.get(..amount.end).unwrap_or("");
    let behind = body.get(amount.end..).unwrap_or("");
    let unit = behind.trim();
    if let Some(meant) = recast(body, wanted) {
        let accepts = accepted(wanted);
        return QuantityFault { nearest: Some(meant), ..fault(ProblemKind::NotAQuantity, at, body, accepts) };
    }
    let exponent = behind.starts_with(['e', 'E'])
        && behind.chars().nth(1).is_some_and(|c| c.is_ascii_digit() || matches!(c, '-' | '+'));
    if exponent {
        let accepts = format!("the digits written out: {}", accepted(wanted));
        return fault(ProblemKind::NotAQuantity, at, body, accepts);
    }
    if spread(unit) {
        return several(body, at, wanted);
    }
    if let Some(rest) = unit.strip_prefix('+') {
        // 15+ ft
        let example = format!("{{value: {number} {}, within: 1 in}}", rest.trim());
        return roughly(body, at, (wanted == Some(Dimension::LENGTH)).then_some(example));
    }
    if unit
        .strip_prefix(['x', 'X', '×'])
        .is_some_and(|rest| rest.trim_start().starts_with(|c: char| c.is_ascii_digit()))
    {
        // 2x4: the name of a size of lumber, not its measure
        let accepts = format!("the real measure of what is asked for, as {}", accepted(wanted));
        return fault(ProblemKind::NotOneNumber, at, body, accepts);
    }
    if let Some(cut) = unit.find(' ')
        && let (Some(first), Some(second)) = (unit.get(..cut), unit.get(cut..))
        && readable(&format!("{number} {first}"), wanted)
        && readable(second.trim(), wanted)
    {
        return fault(ProblemKind::UnitsMixed, at, body, accepted(wanted));
    }
    let starts_a_word =
        unit.starts_with(|c: char| c.is_alphabetic() || matches!(c, '°' | '%' | '$' | '/' | '\'' | '"'));
    if !starts_a_word {
        return fault(ProblemKind::NotAQuantity, at, body, accepted(wanted));
    }
    let start = at.start + body.len() - unit.len();
    let mut fault = fault(ProblemKind::UnknownUnit, start..at.end, unit, accepted(wanted));
    if let Some(words) = known_trap(unit, number) {
        fault.accepts = words;
        return fault;
    }
    if unit.eq_ignore_ascii_case("cfm50") || unit.eq_ignore_ascii_case("cfm 50") {
        fault.nearest = Some(format!("{number} cfm"));
        fault.accepts = "cfm; the pressure it was read at has an entry of its own".to_owned();
        return fault;
    }
    let spellings = |of: Option<Dimension>| {
        let fits = move |dimension| of.is_none_or(|of| of == dimension);
        let units = UNITS.iter().filter(move |unit| fits(unit.dimension));
        units.flat_map(|unit| unit.spellings.iter()).flat_map(|spelling| [spelling.one, spelling.many])
    };
    // What stands under a stroke has to be near by itself: Bq/L is no slip for Bq/m3.
    let under = |spelling: &str| spelling.rsplit_once('/').map(|(_, under)| under.to_owned());
    let near_below = |spelling: &&str| match (under(unit), under(spelling)) {
        (Some(written), Some(offered)) => nearest(&written, [offered.as_str()]).is_some(),
        _ => true,
    };
    let meant = nearest(unit, spellings(wanted).filter(near_below)).or_else(|| {
        // A short unit with one letter wrong has no near neighbour by letters; its capitals may tell.
        spellings(wanted).find(|spelling| spelling.eq_ignore_ascii_case(unit)).map(str::to_owned)
    });
    fault.nearest = meant.map(|unit| {
        let named = UNITS.spelled(&unit).find(|named| wanted.is_none_or(|of| of == named.unit.dimension));
        let several = named.map(|named| named.spelling.many).filter(|_| number != "1");
        with_unit(number, several.unwrap_or(&unit))
    });
    fault
}

/// A text that does not start with a number.
fn no_number(body: &str, at: Range<usize>, wanted: Option<Dimension>) -> QuantityFault {
    let lower = body.to_lowercase();
    let vague = [
        "~",
        "≈",
        "<",
        ">",
        "≤",
        "≥",
        "±",
        "about ",
        "approx",
        "ca. ",
        "circa ",
        "around ",
        "roughly ",
        "less than",
        "more than",
        "at least",
        "at most",
        "min.",
        "max.",
    ];
    if let Some(start) = vague.iter().find(|start| lower.starts_with(**start)) {
        let rest = lower.get(start.len()..).unwrap_or("").trim_start_matches(['.', ' ']);
        let example = format!("{{value: {rest}, within: 1 in}}");
        let fits = wanted == Some(Dimension::LENGTH) && readable(rest, wanted);
        return roughly(body, at, fits.then_some(example));
    }
    fault(ProblemKind::NotAQuantity, at, body, accepted(wanted))
}

/// Whether what follows a number makes it two numbers: `10-12 ft`, `10 to 12 ft`, `30 ft +/- 1 in`.
fn spread(behind: &str) -> bool {
    let joins = ["-", "–", "—", "to ", "or ", "±", "+/-", "..", "..."];
    joins.iter().any(|join| {
        behind.strip_prefix(join).is_some_and(|rest| rest.trim_start().starts_with(|c: char| c.is_numeric()))
    }) || behind.contains('±')
        || behind.contains("+/-")
}

/// Units that people write and that have no one meaning.
fn known_trap(unit: &str, number: &str) -> Option<String> {
    let lower = unit.to_lowercase();
    match lower.as_str() {
        "month" | "months" | "mo" | "year" | "years" | "yr" | "yrs" | "y" | "a" => Some(format!(
            "days or weeks, or two dates: not every month and year is equally long, so {number} {unit} is no fixed time"
        )),
        "mbtu/h" | "mbtu/hr" | "mbtuh" if !unit.starts_with("mm") => {
            Some(format!("{number} kBtu/h for thousands or {number} MMBtu/h for millions"))
        }
        "mbtu" => Some(format!("{number} kBtu for thousands or {number} MMBtu for millions")),
        "hdd" | "degree days" | "degree-days" | "hdd65" => {
            Some(format!("{number} F-days or {number} C-days"))
        }
        "ton" | "tons" => Some("kBtu/h for cooling, lb or kg for a weight".to_owned()),
        "r" => Some(format!("R-{number}")),
        "rsi" => Some(format!("RSI-{number}")),
        _ => None,
    }
}

/// Texts in which a person surely sees one quantity although they are not written as one, written as one; only
/// if that can be read.
fn recast(body: &str, wanted: Option<Dimension>) -> Option<String> {
    let words: Vec<&str> = body.split_whitespace().collect();
    let mut tries: Vec<String> = Vec::new();
    // 5'6 and 5 ft 6: the inches without their sign.
    if body.ends_with(|c: char| c.is_numeric()) {
        if body.contains(['\'', '′', '’']) {
            let (feet, inches) = body.split_once(['\'', '′', '’'])?;
            tries.push(format!("{feet}' {}\"", inches.trim_start_matches(['-', ' '])));
        } else if body.contains("ft") || body.contains("feet") || body.contains("foot") {
            let (feet, inches) = body.rsplit_once(|c: char| c.is_alphabetic() || c == '.')?;
            let kept = body.len() - inches.len();
            tries.push(format!("{} {} in", body.get(..kept).unwrap_or(feet).trim(), inches.trim()));
        }
    }
    // 1 300 m: a space that parts thousands.
    if let [first, second, rest @ ..] = words.as_slice()
        && second.len() == 3
        && first.len() <= 3
        && [first, second].iter().all(|word| word.bytes().all(|byte| byte.is_ascii_digit()))
    {
        tries.push(format!("{first}{second} {}", rest.join(" ")));
    }
    // 6 in 12 in: a pitch with a unit too many.
    if let [rise, "in", run, "in" | "in." | "inches"] = words.as_slice() {
        tries.push(format!("{rise} in {run}"));
    }
    // 12. ft: a point with nothing behind it.
    if let Some((whole, rest)) = body.split_once(". ") {
        tries.push(format!("{whole} {rest}"));
    }
    // 10 ft 14 in: more of the small unit than the large one holds.
    if let [feet, big, inches, small] = words.as_slice()
        && let (Ok(feet), Ok(inches)) = (feet.parse::<i64>(), inches.parse::<i64>())
        && big.to_lowercase().starts_with('f')
        && small.to_lowercase().starts_with('i')
        && inches >= 12
    {
        let (feet, inches) = (feet.saturating_add(inches / 12), inches % 12);
        tries.push(if inches == 0 {
            format!("{feet} {big}")
        } else {
            format!("{feet} {big} {inches} {small}")
        });
    }
    // 3 5/4 in: a fraction that is more than one.
    if let [whole, part, rest @ ..] = words.as_slice()
        && let Some((num, den)) = part.split_once('/')
        && let (Ok(whole), Ok(num), Ok(den)) = (whole.parse::<i64>(), num.parse::<i64>(), den.parse::<i64>())
        && den > 0
        && num >= den
    {
        let (whole, num) = (whole.saturating_add(num / den), num % den);
        let number = if num == 0 { format!("{whole}") } else { format!("{whole} {num}/{den}") };
        tries.push(format!("{number} {}", rest.join(" ")));
    }
    tries.into_iter().find(|text| readable(text, wanted))
}
