//! A number with its unit, as somebody wrote it, and back again in the writer's own way.
//!
//! Reading never guesses: a text that can mean two things is refused with both, and whatever is accepted is
//! kept to the last digit.

use std::ops::Range;

use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::Span;

use super::unit::{Named, UNITS};
use super::{Dimension, Number, Ratio};

mod amount;
mod fault;
mod reading;
mod building;
mod showing;

pub use showing::{show, show_pair, show_worked_out};

/// A number with what it is a number of and the way it was written.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Quantity {
    /// The number, in SI base units.
    pub number: Number,
    /// What it is a number of.
    pub dimension: Dimension,
    /// The way it was written.
    pub style: Style,
}

/// Two lengths that say how large something flat is: `40 ft x 24 ft`.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Size {
    /// The length that stands first.
    pub first: Quantity,
    /// The length that stands second.
    pub second: Quantity,
}

/// Why a text is not the quantity that is wanted.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct QuantityFault {
    /// What sort of thing is wrong.
    pub kind: ProblemKind,
    /// Which bytes of the text it is about.
    pub at: Range<usize>,
    /// What was read there.
    pub found: String,
    /// What would be accepted, as a phrase that completes "accepted here: …".
    pub accepts: String,
    /// The nearest thing the writer may have meant.
    pub nearest: Option<String>,
}

impl QuantityFault {
    /// The fault as a problem at a place.
    #[must_use]
    pub fn problem(self, at: Span) -> Problem {
        Problem::new(self.kind, at).found(self.found).accepts(self.accepts).nearest(self.nearest)
    }
}

/// How a number is written: in which units, with a fraction or decimals, how joined.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Style {
    layout: Layout,
    digits: Digits,
    step: Option<Ratio>,
}

/// Where the units stand.
#[derive(Clone, PartialEq, Eq, Debug)]
enum Layout {
    /// No unit: `0.4`.
    Plain,
    /// After the number: `40 cfm`.
    After(Mark),
    /// Before the number: `R-4`, `$0.16/kWh`; the text before it and the text after it.
    Before(Named, &'static str, &'static str),
    /// A large and a small one: `10 ft 6 in`.
    Pair { large: Mark, joiner: &'static str, small: Mark },
    /// So much rise per so much run: `1/4 in per ft`, `2 ft per 100 ft`.
    Per { rise: Mark, joiner: &'static str, run: Option<Ratio>, run_unit: Named },
    /// Rise and run in whatever unit: `6 in 12`, `1:48`; either the run stays, or the one that rises does.
    Run { sign: &'static str, run: Ratio, rise_is_one: bool },
    /// The first of several units in which the number is at least one.
    Fitting(&'static [&'static str]),
    /// SI base units with their powers.
    Base,
}

/// A unit behind a number, with or without a space between.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
struct Mark {
    named: Named,
    tight: bool,
}

/// What follows the whole part of a number.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Digits {
    /// Nothing was written there.
    Whole,
    /// A fraction over this number.
    Fraction(i64),
    /// A point and so many digits.
    Decimal(u32),
}

impl Quantity {
    /// Whether it was written as a number alone.
    #[must_use]
    pub fn is_bare(&self) -> bool {
        matches!(self.style.layout, Layout::Plain)
    }

    /// A number in the usual style of the trade in the United States.
    #[must_use]
    pub fn of(number: Number, dimension: Dimension) -> Self {
        Quantity { number, dimension, style: Style::default_for(dimension) }
    }

    /// Reads a whole text as a quantity of a known dimension. White space around it is of no matter.
    pub fn parse(text: &str, wanted: Dimension) -> Result<Quantity, QuantityFault> {
        reading::whole(text, Some(wanted))
    }

    /// The same, where it is of no matter what is wrong with a text that cannot be read so.
    #[must_use]
    pub fn of_kind(text: &str, wanted: Dimension) -> Option<Quantity> {
        reading::of_kind(text, wanted)
    }

    /// Reads a whole text as a quantity of whichever dimension its unit says. A number without a unit is a
    /// plain number.
    pub fn parse_any(text: &str) -> Result<Quantity, QuantityFault> {
        reading::whole(text, None)
    }

    /// The longest quantity that a text starts with, and how many bytes it takes; `None` when the text does
    /// not start with a digit. Signs and operators are left to the caller: `10 ft + 2 in` starts with `10 ft`.
    #[must_use]
    pub fn longest_prefix(text: &str) -> Option<(Quantity, usize)> {
        reading::prefix(text)
    }

    /// The quantity for people to read, see [`Style::for_reading`].
    #[must_use]
    pub fn for_reading(&self) -> String {
        show(&self.number, self.dimension, &self.style.clone().for_reading())
    }

    /// The smallest difference that the writing tells apart: 1/2 in for `3 1/2 in`, 0.01 in WC for `1.25 in WC`.
    /// `None` when it was not read from a text.
    #[must_use]
    pub fn step(&self) -> Option<&Ratio> {
        self.style.step.as_ref()
    }

    /// Whether two amounts of money, or prices, are in one currency, so that they may be put together. True for
    /// anything that is not money.
    #[must_use]
    pub fn same_currency(&self, other: &Quantity) -> bool {
        self.style.currency() == other.style.currency()
    }
}

impl std::fmt::Display for Quantity {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(&show(&self.number, self.dimension, &self.style))
    }
}

impl Size {
    /// Reads two lengths joined by `x`, `×` or `by`: `40 ft x 24 ft`, `40' × 24'`. A first number without a unit
    /// takes the unit of the second: `40 x 24 ft`.
    pub fn parse(text: &str) -> Result<Size, QuantityFault> {
        reading::size(text)
    }
}

impl Style {
    /// The same style for people to read: degrees, which are typed as `degF` for want of a key, have their sign.
    #[must_use]
    pub fn for_reading(mut self) -> Style {
        if let Layout::After(mark) = &mut self.layout
            && mark.named.unit.dimension == Dimension::TEMPERATURE
        {
            *mark = Mark { named: Named { spelling: mark.named.unit.usual(), ..mark.named }, tight: false };
        }
        self
    }

    /// The usual style of the trade in the United States.
    #[must_use]
    pub fn default_for(dimension: Dimension) -> Style {
        match dimension {
            Dimension::ONE => Style::plain(),
            Dimension::LENGTH => Style::feet_and_inches(),
            Dimension::INSULATION => Style::before("R", "R-", ""),
            Dimension::MONEY => Style::before("$", "$", ""),
            Dimension::PRICE_OF_ENERGY => Style::before("$/kWh", "$", "/kWh"),
            _ => super::unit::likely(dimension).map_or_else(Style::base, |(first, _)| {
                Style::in_unit(dimension, first).unwrap_or_else(Style::base)
            }),
        }
    }

    /// The usual metric style.
    #[must_use]
    pub fn metric_for(dimension: Dimension) -> Style {
        let unit = match dimension {
            Dimension::LENGTH => return Style::fitting(&["m", "mm"]),
            Dimension::INSULATION => return Style::before("RSI", "RSI-", ""),
            Dimension::VOLUME => return Style::fitting(&["m3", "L"]),
            Dimension::AREA => "m2",
            Dimension::MASS => "kg",
            Dimension::TEMPERATURE => "°C",
            Dimension::TEMPERATURE_DIFFERENCE => "C deg",
            Dimension::SPEED => "m/s",
            Dimension::FLOW => "L/s",
            Dimension::PRESSURE => "Pa",
            Dimension::PERMEANCE => "ng/(s m2 Pa)",
            Dimension::DENSITY => "kg/m3",
            Dimension::CONCENTRATION => "Bq/m3",
            Dimension::PRESSURE_GRADIENT => "Pa/m",
            Dimension::RESISTANCE_PER_LENGTH => "ohm/km",
            Dimension::DEGREE_TIME => "C-days",
            _ => return Style::default_for(dimension),
        };
        Style::in_unit(dimension, unit).unwrap_or_else(Style::base)
    }

    /// A style in one unit, by one of its spellings, with decimals; with fractions for feet, inches and yards.
    #[must_use]
    pub fn in_unit(dimension: Dimension, spelling: &str) -> Option<Style> {
        let named = UNITS.spelled(spelling).find(|named| named.unit.dimension == dimension)?;
        Some(Style { layout: Layout::After(Mark { named, tight: false }), digits: Digits::Whole, step: None })
    }

    /// A share of the whole: `40 %`.
    #[must_use]
    pub fn percent() -> Style {
        Style::in_unit(Dimension::ONE, "%").unwrap_or_else(Style::plain)
    }

    /// A slope: `1/4 in per ft`.
    #[must_use]
    pub fn inches_per_foot() -> Style {
        let named = |spelling| UNITS.spelled(spelling).next();
        let (Some(rise), Some(run_unit)) = (named("in"), named("ft")) else { return Style::plain() };
        let rise = Mark { named: rise, tight: false };
        Style { layout: Layout::Per { rise, joiner: " per ", run: None, run_unit }, ..Style::plain() }
    }

    /// A roof pitch: `6 in 12`.
    #[must_use]
    pub fn pitch() -> Style {
        let run = Ratio::from_int(12);
        Style { layout: Layout::Run { sign: " in ", run, rise_is_one: false }, ..Style::plain() }
    }

    /// The sign of the currency, for money and prices.
    #[must_use]
    pub fn currency(&self) -> Option<&'static str> {
        match &self.layout {
            Layout::After(mark) => mark.named.unit.currency(),
            Layout::Before(named, ..) => named.unit.currency(),
            _ => None,
        }
    }

    fn plain() -> Style {
        Style { layout: Layout::Plain, digits: Digits::Whole, step: None }
    }

    fn base() -> Style {
        Style { layout: Layout::Base, ..Style::plain() }
    }

    fn fitting(units: &'static [&'static str]) -> Style {
        Style { layout: Layout::Fitting(units), ..Style::plain() }
    }

    fn before(unit: &str, left: &'static str, right: &'static str) -> Style {
        match UNITS.spelled(unit).next() {
            Some(named) => Style { layout: Layout::Before(named, left, right), ..Style::plain() },
            None => Style::base(),
        }
    }

    fn feet_and_inches() -> Style {
        let mark = |spelling| UNITS.spelled(spelling).next().map(|named| Mark { named, tight: false });
        match (mark("ft"), mark("in")) {
            (Some(large), Some(small)) => {
                Style { layout: Layout::Pair { large, joiner: " ", small }, ..Style::plain() }
            }
            _ => Style::base(),
        }
    }
}
