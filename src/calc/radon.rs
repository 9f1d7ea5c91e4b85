//! Radon results: averages of hours, and the digits in which they are told.

use crate::base::number::{Number, Ratio, Rounding};

/// A tenth of a picocurie per litre, in becquerels per cubic metre.
const TENTH_OF_A_PICOCURIE: (i128, i128) = (37, 10);

/// The result in the digits in which it is reported.
///
/// # Meaning
/// What stands on a report, and what is held against a level at which one must act.
/// # Formula
/// To the nearest tenth of a picocurie per litre; a half goes up.
/// # Valid for
/// Every result that is not negative.
/// # Accuracy
/// Exact. A result known within bounds comes out within bounds.
/// # Source
/// ANSI/AARST MAH-2019, 8.5.2 b.
/// # Errors
/// None: what is not above nought comes out as nought.
/// # Example
/// ```
/// use undercroft::base::number::{Number, Ratio};
/// use undercroft::calc::radon::reported;
/// // 3.95 pCi/L is 146.15 Bq/m3 and is reported as 4.0 pCi/L, which is 148 Bq/m3
/// let found = Number::exact(Ratio::new(14_615, 100).unwrap());
/// assert_eq!(reported(&found), Number::whole(148));
/// ```
#[must_use]
pub fn reported(result: &Number) -> Number {
    let (top, bottom) = TENTH_OF_A_PICOCURIE;
    let step = Ratio::new(top, bottom).unwrap_or_else(Ratio::one);
    let round = |value: Ratio| value.round_to(&step, Rounding::Nearest).unwrap_or(value);
    let (low, high) = result.bounds();
    Number::between(round(low), round(high))
}

/// The average of the results of hours.
///
/// # Meaning
/// The radon over the hours that count.
/// # Formula
/// Their sum divided by their number.
/// # Valid for
/// Hours of the same length.
/// # Accuracy
/// Exact for exact hours.
/// # Source
/// The meaning of the word.
/// # Errors
/// `None` when there are no hours.
/// # Example
/// ```
/// use undercroft::base::number::Number;
/// use undercroft::calc::radon::average;
/// assert_eq!(average(&[Number::whole(3), Number::whole(5)]), Some(Number::whole(4)));
/// assert_eq!(average(&[]), None);
/// ```
#[must_use]
pub fn average(hours: &[Number]) -> Option<Number> {
    let count = i64::try_from(hours.len()).ok()?;
    Number::sum(hours).divide(&Number::whole(count))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn picocuries(text: &str) -> Number {
        Number::exact(Ratio::parse_decimal(text).unwrap() * Ratio::from(37))
    }

    /// MAH-2019, 8.5.2 b: one decimal, and 3.95 is 4.0. The others follow from it by hand.
    #[test]
    fn a_half_of_a_tenth_goes_up() {
        let table = [
            ("3.95", "4.0"),
            ("3.949", "3.9"),
            ("3.94", "3.9"),
            ("4.04", "4.0"),
            ("4.05", "4.1"),
            ("0.04", "0"),
            ("0.05", "0.1"),
            ("12", "12"),
            ("1.4", "1.4"),
        ];
        for (found, told) in table {
            assert_eq!(reported(&picocuries(found)), picocuries(told), "{found}");
        }
    }

    #[test]
    fn a_result_within_bounds_is_told_within_bounds() {
        let (low, high) = (picocuries("3.9").low(), picocuries("3.97").low());
        let told = reported(&Number::between(low, high));
        assert_eq!(told.bounds(), (picocuries("3.9").low(), picocuries("4").low()));
    }

    /// By hand: (2.0 + 1.0 + 1.2) / 3 = 1.4.
    #[test]
    fn hours_are_averaged() {
        let hours = [picocuries("2.0"), picocuries("1.0"), picocuries("1.2")];
        assert_eq!(average(&hours), Some(picocuries("1.4")));
    }
}
