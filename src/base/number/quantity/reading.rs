//! From text to quantity.
//!
//! Every way in which a text can be read is tried, and then the choice is made: the whole text must be used
//! up, the dimension must be the one wanted, and a comma must not be able to mean two things.

use std::ops::Range;

use crate::base::problem::ProblemKind;

use super::super::unit::{Named, System, UNITS};
use super::super::{Dimension, Number, Ratio};
use super::amount::{Amount, Comma, MOST_DIGITS, amounts, counted_digits, spaces};
use super::{Digits, Layout, Mark, Quantity, QuantityFault, Size, Style, fault};

/// Longer texts than this are no quantities.
const LONGEST: usize = 120;

/// One way to read the start of a text.
#[derive(Clone, Debug)]
pub(super) struct Reading {
    /// In SI base units.
    value: Ratio,
    pub(super) dimension: Dimension,
    style: Style,
    end: usize,
    pub(super) comma: Comma,
    /// Whether no unit stands there, nor anything else that says what the number is.
    pub(super) bare: bool,
}

impl Reading {
    fn quantity(&self) -> Quantity {
        Quantity {
            number: Number::exact(self.value.clone()),
            dimension: self.dimension,
            style: self.style.clone(),
        }
    }

    /// Whether it is of the kind that is wanted.
    fn fits(&self, wanted: Option<Dimension>) -> bool {
        wanted.is_none_or(|wanted| self.dimension == wanted)
    }

    /// A reading of another kind, as which the same text could be meant.
    fn other_kind<'r>(&self, full: &'r [Reading]) -> Option<&'r Reading> {
        let shared = Dimension::TEMPERATURE_DIFFERENCE;
        full.iter().find(|other| other.dimension != self.dimension && other.dimension != shared)
    }

    /// What it is, as a phrase.
    pub(super) fn name(&self) -> &'static str {
        match &self.style.layout {
            Layout::Per { .. } | Layout::Run { .. } => "a slope",
            Layout::After(_) if self.dimension == Dimension::ONE => "a share",
            Layout::Plain => "a plain number",
            _ => self.dimension.name(),
        }
    }
}

/// How a text is gone about.
#[derive(Clone, Copy)]
struct Manner {
    /// The text is a quantity and nothing else, so that more forms can be told from other things.
    whole: bool,
    /// Capital letters do not count.
    loose: bool,
}

/// Large and small units that are written one after the other.
const PAIRS: &[(&str, &str)] = &[
    ("ft", "in"),
    ("yd", "ft"),
    ("m", "cm"),
    ("m", "mm"),
    ("lb", "oz wt"),
    ("h", "min"),
    ("min", "s"),
    ("day", "h"),
    ("week", "day"),
];

/// Reads a whole text.
pub(super) fn whole(text: &str, wanted: Option<Dimension>) -> Result<Quantity, QuantityFault> {
    let lead = spaces(text);
    let body = text.trim();
    let at = lead..lead + body.len();
    if body.is_empty() || body.len() > LONGEST {
        return Err(fault::no_quantity(body, at, wanted));
    }
    if longest_numeral(body) > MOST_DIGITS {
        return Err(fault::too_many_digits(body, at));
    }
    read(body, wanted).ok_or_else(|| blamed(&full(body, false), body, &at, wanted))
}

/// The same, where it is of no matter what is wrong with a text that cannot be read.
pub(super) fn of_kind(text: &str, wanted: Dimension) -> Option<Quantity> {
    let body = text.trim();
    if body.is_empty() || body.len() > LONGEST || longest_numeral(body) > MOST_DIGITS {
        return None;
    }
    read(body, Some(wanted))
}

/// With its capital letters, or else without regard to them.
fn read(body: &str, wanted: Option<Dimension>) -> Option<Quantity> {
    [false, true].into_iter().find_map(|loose| chosen(&full(body, loose), wanted).map(Reading::quantity))
}

/// The readings that use up a whole text.
fn full(body: &str, loose: bool) -> Vec<Reading> {
    let mut found = readings(body, Manner { whole: true, loose });
    found.retain(|reading| reading.end == body.len());
    found
}

/// The digits of the longest number in a text.
fn longest_numeral(text: &str) -> usize {
    text.split(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')))
        .map(counted_digits)
        .max()
        .unwrap_or(0)
}

/// The reading that fits, if there is one and it can mean nothing else.
fn chosen(full: &[Reading], wanted: Option<Dimension>) -> Option<&Reading> {
    let best = full.iter().find(|reading| reading.fits(wanted))?;
    let open = matches!(best.comma, Comma::Either | Comma::Point);
    let impossible = best.dimension.point && best.value.is_negative();
    let ambiguous = wanted.is_none() && best.other_kind(full).is_some();
    (!open && !impossible && !ambiguous).then_some(best)
}

/// What is wrong where no reading was chosen.
fn blamed(full: &[Reading], body: &str, at: &Range<usize>, wanted: Option<Dimension>) -> QuantityFault {
    let Some(best) = full.iter().find(|reading| reading.fits(wanted)) else {
        return match (full.first(), wanted) {
            (Some(other), Some(wanted)) if other.bare => fault::no_unit(body, at.clone(), wanted),
            (Some(other), Some(wanted)) => fault::other_kind(body, at.clone(), other, wanted),
            _ => fault::diagnose(body, at.clone(), wanted),
        };
    };
    match best.other_kind(full) {
        Some(other) if wanted.is_none() => {
            fault::two_kinds(body, at.clone(), best.dimension, other.dimension)
        }
        _ if matches!(best.comma, Comma::Either | Comma::Point) => fault::comma(body, at.clone(), best),
        _ => fault::below_absolute_nought(body, at.clone()),
    }
}

/// The longest quantity a text starts with.
pub(super) fn prefix(text: &str) -> Option<(Quantity, usize)> {
    let first = text.chars().next()?;
    let starts = first.is_ascii_digit()
        || first.is_numeric() && !amounts(text, 0, false).is_empty()
        || first == '.' && text.get(1..).is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()));
    if !starts {
        return None;
    }
    let closed = |reading: &Reading| {
        let next = text.get(reading.end..).and_then(|rest| rest.chars().next());
        let goes_on =
            |c: char| c.is_alphanumeric() || matches!(c, '_' | '/' | '%' | '°' | '·' | '^' | '\'' | '"');
        let bound = longest_numeral(text.get(..reading.end).unwrap_or("")) <= MOST_DIGITS;
        let sure = matches!(reading.comma, Comma::None | Comma::Thousands);
        !next.is_some_and(goes_on)
            && bound
            && sure
            && !(reading.dimension.point && reading.value.is_negative())
    };
    let found = readings(text, Manner { whole: false, loose: false }).into_iter().filter(closed);
    let best = found.reduce(|best, other| if other.end > best.end { other } else { best })?;
    let quantity =
        Quantity { number: Number::exact(best.value), dimension: best.dimension, style: best.style };
    Some((quantity, best.end))
}

/// Reads two lengths joined by a sign for "by".
pub(super) fn size(text: &str) -> Result<Size, QuantityFault> {
    let joined = |at: usize, sign: &str| {
        let left = text.get(..at).unwrap_or("");
        let right = text.get(at + sign.len()..).unwrap_or("");
        let before = left.chars().next_back().is_some_and(|c| !c.is_alphabetic());
        let after = right.chars().next().is_some_and(|c| !c.is_alphabetic());
        before && after
    };
    let place = ["x", "X", "×", "by", "BY"]
        .into_iter()
        .find_map(|sign| text.match_indices(sign).find(|(at, _)| joined(*at, sign)));
    let Some((cut, sign)) = place else {
        return Err(fault::no_size(text));
    };
    let left = text.get(..cut).unwrap_or("");
    let offset = cut + sign.len();
    let right = text.get(offset..).unwrap_or("");
    let second = Quantity::parse(right, Dimension::LENGTH).map_err(|mut fault| {
        fault.at = fault.at.start + offset..fault.at.end + offset;
        fault
    })?;
    let first = match Quantity::parse(left, Dimension::LENGTH) {
        Err(fault) if fault.kind == ProblemKind::NoUnit => match &second.style.layout {
            Layout::After(mark) => {
                let shared = format!("{} {}", left.trim(), mark.named.spelling.many);
                Quantity::parse(&shared, Dimension::LENGTH).map_err(|_| fault)?
            }
            _ => return Err(fault),
        },
        other => other?,
    };
    Ok(Size { first, second })
}

/// Every way in which the start of a text can be read.
fn readings(text: &str, manner: Manner) -> Vec<Reading> {
    let mut found = Vec::new();
    let sign = text.chars().next().filter(|c| manner.whole && matches!(c, '-' | '\u{2212}' | '–' | '+'));
    let start = sign.map_or(0, char::len_utf8);
    if manner.whole {
        unit_first(text, start, manner, &mut found);
    }
    for amount in amounts(text, start, manner.whole) {
        number_first(text, &amount, manner, &mut found);
    }
    if sign.is_some_and(|sign| sign != '+') {
        for reading in &mut found {
            let turned = |unit: Named| -> Ratio {
                let reading_in_unit = &reading.value * &unit.unit.factor.reciprocal().unwrap_or(Ratio::ONE);
                unit.unit.to_si(&-(reading_in_unit - &unit.unit.shift))
            };
            reading.value = match &reading.style.layout {
                Layout::After(mark) => turned(mark.named),
                _ => -&reading.value,
            };
        }
    }
    found
}

/// Readings of `R-4` and `$0.16/kWh`.
fn unit_first(text: &str, start: usize, manner: Manner, found: &mut Vec<Reading>) {
    let tail = |at: usize| text.get(at..).unwrap_or("");
    for (name, left) in [("RSI", "RSI"), ("R", "R"), ("rsi", "RSI"), ("r", "R")] {
        if !tail(start).starts_with(name) || start > 0 || (name != left && !manner.loose) {
            continue;
        }
        let behind = start + name.len();
        let dashed = tail(behind).starts_with('-');
        let gap = if dashed { 1 } else { spaces(tail(behind)) };
        let shown = match (left, dashed, gap) {
            ("R", true, _) => "R-",
            ("R", _, 0) => "R",
            ("R", ..) => "R ",
            (_, true, _) => "RSI-",
            (_, _, 0) => "RSI",
            _ => "RSI ",
        };
        let Some(named) = UNITS.spelled(left).next() else { continue };
        for amount in amounts(text, behind + gap, true) {
            found.push(reading(&amount, named, Layout::Before(named, shown, ""), amount.end));
        }
    }
    for sign in ["$", "€", "£"] {
        if !tail(start).starts_with(sign) {
            continue;
        }
        let behind = start + sign.len();
        for amount in amounts(text, behind + spaces(tail(behind)), true) {
            let rest = tail(amount.end);
            let full = format!("{sign}{}", rest.split_whitespace().collect::<Vec<_>>().join(" "));
            let spaced = full.replacen(sign, &format!("{sign} "), 1);
            for named in UNITS.spelled(&full).chain(UNITS.spelled(&spaced)) {
                let shown = named.spelling.many.strip_prefix(sign).unwrap_or("");
                found.push(reading(&amount, named, Layout::Before(named, sign, shown), text.len()));
            }
        }
    }
}

/// A reading of one number in one unit.
fn reading(amount: &Amount, named: Named, layout: Layout, end: usize) -> Reading {
    let comma = match amount.comma {
        Comma::Either if named.unit.system == System::UnitedStates => Comma::Thousands,
        other => other,
    };
    Reading {
        value: named.unit.to_si(&amount.value),
        dimension: named.unit.dimension,
        style: Style { layout, digits: amount.digits, step: Some(&amount.step * &named.unit.factor) },
        end,
        comma,
        bare: false,
    }
}

/// Readings that start with a number.
fn number_first(text: &str, amount: &Amount, manner: Manner, found: &mut Vec<Reading>) {
    let tail = |at: usize| text.get(at..).unwrap_or("");
    if !amount.dashed {
        let layout = match amount.pitch {
            Some(run) => Layout::Run { sign: "/", run: Ratio::from_int(run), rise_is_one: false },
            None => Layout::Plain,
        };
        found.push(plain(amount, amount.value.clone(), layout, amount.end, amount.pitch.is_none()));
    }
    let plain_number = matches!(amount.comma, Comma::None);
    for sign in [":", " : ", " on "] {
        if plain_number && tail(amount.end).starts_with(sign) && (manner.whole || sign == ":") {
            runs(text, amount, amount.end + sign.len(), if sign == " on " { sign } else { ":" }, found);
        }
    }
    for (named, end) in units_at(text, amount.end, manner) {
        let before = ["R", "RSI"].contains(&named.spelling.many);
        if before {
            continue;
        }
        let tight = spaces(tail(amount.end)) == 0;
        let mark = Mark { named, tight };
        found.push(reading(amount, named, Layout::After(mark), end));
        if plain_number {
            pairs(text, amount, mark, end, manner, found);
            if named.unit.dimension == Dimension::LENGTH {
                slopes(text, amount, mark, end, manner, found);
                let gap = spaces(tail(end));
                if named.spelling.one == "in" && gap > 0 && !tight {
                    runs(text, amount, end + gap, " in ", found);
                }
            }
        }
    }
}

/// A reading of a number that has no unit.
fn plain(amount: &Amount, value: Ratio, layout: Layout, end: usize, bare: bool) -> Reading {
    let style = Style { layout, digits: amount.digits, step: Some(amount.step.clone()) };
    Reading { value, dimension: Dimension::ONE, style, end, comma: amount.comma, bare }
}

/// Rise and run without units: `6 in 12`, `1:48`.
fn runs(text: &str, rise: &Amount, at: usize, sign: &'static str, found: &mut Vec<Reading>) {
    for run in amounts(text, at, false) {
        let followed = units_at(text, run.end, Manner { whole: false, loose: false }).next().is_some();
        let usable = !matches!(run.digits, Digits::Fraction(_)) && run.comma == Comma::None && !rise.dashed;
        if let Some(slope) = rise.value.checked_div(&run.value).filter(|_| usable && !followed) {
            let rise_is_one = rise.value == Ratio::ONE;
            let layout = Layout::Run { sign, run: run.value.clone(), rise_is_one };
            let mut reading = plain(rise, slope, layout, run.end, false);
            reading.style.step = rise.step.checked_div(&run.value);
            found.push(reading);
        }
    }
}

/// So much rise per so much run: `1/4 in per ft`, `20 mm/m`, `1 in per 4 ft`.
fn slopes(text: &str, rise: &Amount, mark: Mark, at: usize, manner: Manner, found: &mut Vec<Reading>) {
    let tail = |at: usize| text.get(at..).unwrap_or("");
    let gap = spaces(tail(at));
    let rest = tail(at + gap);
    let (joiner, behind) = if gap > 0 && rest.starts_with("per ") {
        (" per ", at + gap + 3 + spaces(tail(at + gap + 3)))
    } else if rest.starts_with('/') && (gap == 0 || manner.whole) {
        let next = at + gap + 1;
        ("/", if manner.whole { next + spaces(tail(next)) } else { next })
    } else {
        return;
    };
    let mut add = |run: Option<Ratio>, from: usize| {
        for (run_unit, end) in units_at(text, from, manner) {
            let length = run_unit.unit.factor.clone() * run.clone().unwrap_or(Ratio::ONE);
            let (Dimension::LENGTH, Some(slope), Some(step)) = (
                run_unit.unit.dimension,
                mark.named.unit.to_si(&rise.value).checked_div(&length),
                (&rise.step * &mark.named.unit.factor).checked_div(&length),
            ) else {
                continue;
            };
            let layout = Layout::Per { rise: mark, joiner, run: run.clone(), run_unit };
            let mut reading = plain(rise, slope, layout, end, false);
            reading.style.step = Some(step);
            found.push(reading);
        }
    };
    add(None, behind);
    for run in amounts(text, behind, false) {
        if run.comma == Comma::None {
            add(Some(run.value.clone()), run.end);
        }
    }
}

/// A large unit followed by a small one: `10 ft 6 in`, `5'-6 1/2"`, `2 lb 3 oz`.
fn pairs(text: &str, amount: &Amount, large: Mark, at: usize, manner: Manner, found: &mut Vec<Reading>) {
    if amount.digits != Digits::Whole {
        return;
    }
    let large_name = large.named.unit.usual().one;
    let tail = |at: usize| text.get(at..).unwrap_or("");
    let gap = spaces(tail(at));
    let mut ways = vec![(at + gap, if gap == 0 { "" } else { " " })];
    if tail(at).starts_with('-') {
        ways.push((at + 1, "-"));
    }
    if manner.whole {
        if tail(at).starts_with(", ") {
            ways.push((at + 1 + spaces(tail(at + 1)), ", "));
        }
        if tail(at + gap).starts_with("- ") {
            ways.push((at + gap + 1 + spaces(tail(at + gap + 1)), " - "));
        }
    }
    for (from, joiner) in ways {
        for part in amounts(text, from, false) {
            if part.comma != Comma::None || !tail(from).starts_with(|c: char| c.is_numeric()) {
                continue;
            }
            for (named, end) in units_at(text, part.end, manner) {
                let fits = PAIRS.contains(&(large_name, named.unit.usual().one))
                    && named.unit.dimension == large.named.unit.dimension;
                let small_value = named.unit.to_si(&part.value);
                if !fits || small_value >= large.named.unit.factor {
                    continue;
                }
                let small = Mark { named, tight: spaces(tail(part.end)) == 0 };
                let mut reading = reading(&part, named, Layout::Pair { large, joiner, small }, end);
                reading.value = small_value + large.named.unit.to_si(&amount.value);
                found.push(reading);
            }
        }
    }
}

/// The units whose spelling stands at a place, after any white space, the longest spelling first.
fn units_at(text: &str, at: usize, manner: Manner) -> impl Iterator<Item = (Named, usize)> {
    let rest = text.get(at..).unwrap_or("");
    let start = at + spaces(rest);
    let mut found: Vec<(Named, usize)> = Vec::new();
    let mut spelled = String::new();
    let mut characters = text.get(start..).unwrap_or("").char_indices().peekable();
    while let Some((offset, c)) = characters.next() {
        let next = characters.peek().map(|(_, next)| *next);
        if c.is_whitespace() {
            if next.is_none_or(char::is_whitespace) {
                continue;
            }
            spelled.push(' ');
            continue;
        }
        spelled.push(c);
        if spelled.chars().count() > UNITS.longest() {
            break;
        }
        if c.is_alphabetic() && next.is_some_and(char::is_alphabetic) {
            continue;
        }
        let end = start + offset + c.len_utf8();
        if manner.loose {
            found.extend(UNITS.spelled_loosely(&spelled).map(|named| (named, end)));
        } else {
            found.extend(UNITS.spelled(&spelled).map(|named| (named, end)));
        }
    }
    found.sort_by_key(|(_, end)| std::cmp::Reverse(*end));
    found.into_iter()
}
