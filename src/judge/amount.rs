//! What is known of a number while a rule is held against things: the number, or what bounds it.

use crate::base::number::{Comparison, Number};
use crate::base::truth::Truth;

/// What is known of a number.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Amount {
    /// The number itself, which may be a range.
    Known(Number),
    /// No less than the first and no more than the second, as far as either can be told.
    Within(Option<Number>, Option<Number>),
}

impl Amount {
    /// Nothing is known.
    pub const UNKNOWN: Amount = Amount::Within(None, None);

    /// A whole number.
    #[must_use]
    pub fn whole(count: usize) -> Self {
        Amount::Known(Number::whole(i64::try_from(count).unwrap_or(i64::MAX)))
    }

    /// No less than the number this returns, if it can be told. It may itself be a range.
    #[must_use]
    pub fn low(&self) -> Option<&Number> {
        match self {
            Amount::Known(number) => Some(number),
            Amount::Within(low, _) => low.as_ref(),
        }
    }

    /// No more than the number this returns, if it can be told. It may itself be a range.
    #[must_use]
    pub fn high(&self) -> Option<&Number> {
        match self {
            Amount::Known(number) => Some(number),
            Amount::Within(_, high) => high.as_ref(),
        }
    }

    /// The number, if it is known; it may be a range.
    #[must_use]
    pub fn number(&self) -> Option<&Number> {
        match self {
            Amount::Known(number) => Some(number),
            Amount::Within(..) => None,
        }
    }

    /// Whether nothing is left to know about it.
    #[must_use]
    pub fn is_point(&self) -> bool {
        matches!(self, Amount::Known(number) if number.is_point())
    }

    /// Whether one stands to the other as asked, whatever the two turn out to be.
    #[must_use]
    pub fn compare(&self, how: Comparison, other: &Amount) -> Truth {
        if let (Amount::Known(a), Amount::Known(b)) = (self, other) {
            return a.compare(how, b);
        }
        let ends = |a: Option<&Number>, how: Comparison, b: Option<&Number>| match (a, b) {
            (Some(a), Some(b)) => a.compare(how, b),
            _ => Truth::Unknown,
        };
        let (low_on_high, high_on_low) =
            (|how| ends(self.low(), how, other.high()), |how| ends(self.high(), how, other.low()));
        let (holds, fails) = match how {
            Comparison::More | Comparison::AtLeast => {
                (low_on_high(how) == Truth::True, high_on_low(how) == Truth::False)
            }
            Comparison::Less | Comparison::AtMost => {
                (high_on_low(how) == Truth::True, low_on_high(how) == Truth::False)
            }
            Comparison::Equal => (
                low_on_high(Comparison::AtLeast) == Truth::True
                    && high_on_low(Comparison::AtMost) == Truth::True,
                low_on_high(Comparison::More) == Truth::True || high_on_low(Comparison::Less) == Truth::True,
            ),
        };
        match (holds, fails) {
            (true, _) => Truth::True,
            (_, true) => Truth::False,
            _ => Truth::Unknown,
        }
    }

    /// The two added.
    #[must_use]
    pub fn add(&self, other: &Amount) -> Amount {
        if let (Amount::Known(a), Amount::Known(b)) = (self, other) {
            return Amount::Known(a + b);
        }
        let sum = |a: Option<&Number>, b: Option<&Number>| Some(a? + b?);
        Amount::Within(sum(self.low(), other.low()), sum(self.high(), other.high()))
    }

    /// The sign turned.
    #[must_use]
    pub fn negate(&self) -> Amount {
        match self {
            Amount::Known(number) => Amount::Known(number.negate()),
            Amount::Within(low, high) => {
                Amount::Within(high.as_ref().map(Number::negate), low.as_ref().map(Number::negate))
            }
        }
    }

    /// The other taken from this.
    #[must_use]
    pub fn subtract(&self, other: &Amount) -> Amount {
        match (self, other) {
            (Amount::Known(a), Amount::Known(b)) => Amount::Known(a - b),
            _ => self.add(&other.negate()),
        }
    }

    /// The two multiplied. Nought times anything is nought.
    #[must_use]
    pub fn multiply(&self, other: &Amount) -> Amount {
        if let (Amount::Known(a), Amount::Known(b)) = (self, other) {
            return Amount::Known(a * b);
        }
        if self.is_nought() || other.is_nought() {
            return Amount::whole(0);
        }
        match (self.at_least_nought(), other.at_least_nought()) {
            (true, true) => {
                let times = |a: Option<&Number>, b: Option<&Number>| Some(a? * b?);
                Amount::Within(times(self.low(), other.low()), times(self.high(), other.high()))
            }
            _ => Amount::UNKNOWN,
        }
    }

    /// This divided by the other; not known where the divisor may be nought.
    #[must_use]
    pub fn divide(&self, other: &Amount) -> Amount {
        let one_over = match other {
            Amount::Known(divisor) => match self {
                Amount::Known(number) => {
                    return number.divide(divisor).map_or(Amount::UNKNOWN, Amount::Known);
                }
                Amount::Within(..) => Number::whole(1).divide(divisor),
            },
            Amount::Within(..) => None,
        };
        one_over.map_or(Amount::UNKNOWN, |inverse| self.multiply(&Amount::Known(inverse)))
    }

    /// Whether it is surely not below nought.
    #[must_use]
    pub fn at_least_nought(&self) -> bool {
        self.compare(Comparison::AtLeast, &Amount::whole(0)) == Truth::True
    }

    fn is_nought(&self) -> bool {
        self.compare(Comparison::Equal, &Amount::whole(0)) == Truth::True
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn within(low: Option<i64>, high: Option<i64>) -> Amount {
        Amount::Within(low.map(Number::whole), high.map(Number::whole))
    }

    #[test]
    fn one_known_end_decides_what_it_can() {
        let at_least_three = within(Some(3), None);
        let three = Amount::whole(3);
        let two = Amount::whole(2);
        assert_eq!(at_least_three.compare(Comparison::AtLeast, &three), Truth::True);
        assert_eq!(at_least_three.compare(Comparison::More, &three), Truth::Unknown);
        assert_eq!(at_least_three.compare(Comparison::Less, &three), Truth::False);
        assert_eq!(at_least_three.compare(Comparison::Equal, &two), Truth::False);
        assert_eq!(at_least_three.compare(Comparison::Equal, &three), Truth::Unknown);
        assert_eq!(two.compare(Comparison::Less, &at_least_three), Truth::True);
        assert_eq!(Amount::UNKNOWN.compare(Comparison::AtMost, &three), Truth::Unknown);
    }

    #[test]
    fn ends_go_through_sums_and_turn_with_the_sign() {
        let sum = within(Some(1), None).add(&Amount::whole(2));
        assert_eq!(sum, within(Some(3), None));
        assert_eq!(sum.negate(), within(None, Some(-3)));
        assert_eq!(Amount::whole(5).subtract(&sum), within(None, Some(2)));
    }

    #[test]
    fn nought_times_the_unknown_is_nought_and_nothing_else_is_guessed() {
        assert_eq!(Amount::whole(0).multiply(&Amount::UNKNOWN), Amount::whole(0));
        assert_eq!(Amount::whole(2).multiply(&Amount::UNKNOWN), Amount::UNKNOWN);
        assert_eq!(Amount::whole(2).multiply(&within(Some(1), Some(4))), within(Some(2), Some(8)));
        assert_eq!(Amount::whole(2).multiply(&within(Some(-1), Some(4))), Amount::UNKNOWN);
        assert_eq!(Amount::whole(2).divide(&Amount::whole(0)), Amount::UNKNOWN);
        assert_eq!(Amount::whole(2).divide(&Amount::UNKNOWN), Amount::UNKNOWN);
    }
}
