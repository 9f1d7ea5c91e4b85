//! Numbers that are to be built: as fine as a tape tells, and no finer.

use super::super::{Dimension, Number, Ratio, Rounding};
use super::{Layout, Mark, Quantity, Style, show};

/// How many significant digits a number has for which no tape says how fine it can be.
const DIGITS: i32 = 3;

impl Style {
    /// The step in which a number of about this size can be built when it is written in this style: an eighth of an inch
    /// where it is written in feet and inches, 5 mm or for small lengths 1 mm where it is metric, and otherwise one of the
    /// last of three significant digits.
    ///
    /// Source: the marks of a carpenter's tape; common practice, no source.
    #[must_use]
    pub fn step_to_build(&self, size: &Ratio, dimension: Dimension) -> Ratio {
        let part = |of: i128| Ratio::new(1, of).unwrap_or(Ratio::ONE);
        match &self.layout {
            Layout::Pair { small, .. } => &small.named.unit.factor * &part(8),
            Layout::After(mark) => by_unit(*mark, size),
            Layout::Per { rise, run, run_unit, .. } => {
                let length = &run_unit.unit.factor * &run.clone().unwrap_or(Ratio::ONE);
                let of = if rise.named.unit.usual().one == "in" { 16 } else { 1 };
                (&rise.named.unit.factor * &part(of)).checked_div(&length).unwrap_or(part(1000))
            }
            Layout::Run { run, .. } => part(4).checked_div(run).unwrap_or(part(100)),
            Layout::Fitting(_) if dimension == Dimension::LENGTH => metric(size),
            Layout::Plain | Layout::Before(..) | Layout::Fitting(_) | Layout::Base => significant(size),
        }
    }

    /// A number as it can be built, written in this style: exactly where it can be, else both numbers beside it and the
    /// next ones, the nearest first. Each reads as the number that is meant. Nothing for a number that is not known to the
    /// last digit that matters.
    #[must_use]
    pub fn to_build(&self, number: &Number, dimension: Dimension) -> Vec<String> {
        let (low, high) = match number {
            Number::Exact(value) => (value.clone(), value.clone()),
            Number::Root(square) => square.root_bounds().unwrap_or_default(),
            Number::Range(low, high) => (low.clone(), high.clone()),
        };
        let step = self.step_to_build(&low.abs(), dimension);
        if &high - &low > &step * &Ratio::new(1, 1000).unwrap_or(Ratio::ZERO) {
            return Vec::new();
        }
        let (Some(down), Some(up)) =
            (low.round_to(&step, Rounding::Down), high.round_to(&step, Rounding::Up))
        else {
            return Vec::new();
        };
        let nearer_up = &up - &high < &low - &down;
        let beside = if nearer_up { [up.clone(), down.clone()] } else { [down.clone(), up.clone()] };
        let mut values: Vec<Ratio> = beside.to_vec();
        if dimension != Dimension::LENGTH && low == high {
            values.insert(0, low.clone());
        }
        values.extend([&up + &step, &down - &step]);
        let mut texts = Vec::new();
        for value in values {
            // Nothing that is built is shorter than nothing because of its rounding.
            if value.is_negative() && !low.is_negative() {
                continue;
            }
            let text = show(&Number::exact(value.clone()), dimension, self);
            let reads =
                Quantity::of_kind(&text, dimension).is_some_and(|read| read.number == Number::exact(value));
            if reads && !texts.contains(&text) {
                texts.push(text);
            }
        }
        texts
    }
}

fn by_unit(mark: Mark, size: &Ratio) -> Ratio {
    let unit = mark.named.unit;
    let part = |of: i128| Ratio::new(1, of).unwrap_or(Ratio::ONE);
    match unit.usual().one {
        "in" => &unit.factor * &part(8),
        "ft" => &unit.factor * &part(96),
        "yd" => &unit.factor * &part(288),
        "mil" => unit.factor.clone(),
        "m" | "cm" | "mm" => metric(size),
        _ => {
            let value = size.checked_div(&unit.factor).unwrap_or(Ratio::ONE);
            &significant(&value) * &unit.factor
        }
    }
}

/// The step of a metric length.
fn metric(size: &Ratio) -> Ratio {
    let length = |over: i128| Ratio::new(1, over).unwrap_or(Ratio::ONE);
    if *size >= length(10) {
        length(200)
    } else if *size >= length(100) {
        length(1000)
    } else {
        length(20_000)
    }
}

/// One of the last of three significant digits.
fn significant(size: &Ratio) -> Ratio {
    let value = size.to_f64();
    let magnitude = if value > 0.0 { value.log10().floor().clamp(-100.0, 100.0) as i32 } else { 0 };
    let places = i8::try_from(magnitude + 1 - DIGITS).unwrap_or(0);
    Ratio::from_int(10).pow(places).unwrap_or(Ratio::ONE)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What is written for a number like this one by whoever writes like this.
    fn built(number: &str, like: &str) -> Vec<String> {
        let number = Quantity::parse_any(number).unwrap();
        Quantity::parse_any(like).unwrap().style.to_build(&number.number, number.dimension)
    }

    #[test]
    fn what_a_tape_shows_is_written_as_it_is() {
        assert_eq!(built("10 ft 6 in", "3 ft 2 in")[0], "10 ft 6 in");
        assert_eq!(built("10 ft", "22 in")[0], "120 in");
        assert_eq!(built("126 in", "6 ft")[0], "10 ft 6 in");
        assert_eq!(built("6 mil", "4 mil")[0], "6 mil");
        assert_eq!(built("1/8 in per ft", "1/4 in per ft")[0], "1/8 in per ft");
        assert_eq!(built("1.25 in WC", "2 in WC")[0], "1.25 in WC");
    }

    #[test]
    fn what_no_tape_shows_is_written_as_the_numbers_beside_it() {
        // 3.2004 m is 10 ft 6 in; 300 mm is 11.811 in, between 11 3/4 in and 11 7/8 in, nearer to the first.
        assert_eq!(built("10 ft 6 in", "1200 mm")[..2], ["3200 mm", "3205 mm"]);
        assert_eq!(built("300 mm", "1 ft 2 in")[..2], ["11 3/4 in", "11 7/8 in"]);
        assert_eq!(built("10 ft 6 in", "2.5 m")[..2], ["3.2 m", "3.205 m"]);
        assert_eq!(built("2 in", "40 mm")[..2], ["51 mm", "50 mm"]);
    }

    #[test]
    fn a_range_is_not_rounded_to_anything() {
        let (low, high) = (Ratio::ONE, Ratio::from_int(2));
        assert!(
            Style::default_for(Dimension::LENGTH)
                .to_build(&Number::between(low, high), Dimension::LENGTH)
                .is_empty()
        );
    }
}
