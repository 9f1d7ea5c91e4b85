//! Amounts of physical things, each kind a type of its own.
//!
//! Inside, an amount is a finite float in SI base units: formulas of nature are approximate, so nothing is gained
//! by exact ratios here. What is declared comes in through [`Quantity`] or [`Number`], what is worked out goes out
//! the same way, and no bare float passes between.

use crate::base::number::{Dimension, Number, Quantity, Style};

/// What all kinds of amount have in common.
pub trait Amount: Copy {
    /// What it is an amount of.
    const DIMENSION: Dimension;

    /// The amount in SI base units.
    fn to_si(self) -> f64;

    /// The amount as a number of its dimension.
    fn to_number(self) -> Number {
        number(self.to_si())
    }

    /// The amount with its unit, in the usual metric style.
    fn to_quantity(self) -> Quantity {
        Quantity {
            number: self.to_number(),
            dimension: Self::DIMENSION,
            style: Style::metric_for(Self::DIMENSION),
        }
    }
}

/// Making an amount of a value that is known to be finite.
pub(in crate::calc) trait Made: Sized {
    /// So much in SI base units.
    fn new(value: f64) -> Self;
}

/// An input that lies outside the range in which a formula holds. It carries the range.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct OutOfRange {
    /// Which input, as a phrase: `the inside diameter`.
    pub what: &'static str,
    /// What the input and the range are numbers of.
    pub dimension: Dimension,
    given: f64,
    low: f64,
    high: f64,
}

fn number(value: f64) -> Number {
    Number::from_f64_range(value, value).unwrap_or_else(|| Number::whole(0))
}

impl OutOfRange {
    /// What was given.
    #[must_use]
    pub fn given(&self) -> Number {
        number(self.given)
    }

    /// The least that is allowed.
    #[must_use]
    pub fn low(&self) -> Number {
        number(self.low)
    }

    /// The most that is allowed.
    #[must_use]
    pub fn high(&self) -> Number {
        number(self.high)
    }
}

/// The amount in SI base units, if it lies between two bounds, ends included.
pub(in crate::calc) fn within<A: Amount>(
    what: &'static str,
    given: A,
    low: f64,
    high: f64,
) -> Result<f64, OutOfRange> {
    let value = given.to_si();
    if low <= value && value <= high {
        return Ok(value);
    }
    Err(OutOfRange { what, dimension: A::DIMENSION, given: value, low, high })
}

macro_rules! amounts {
    ($($(#[$doc:meta])* $name:ident = $dimension:expr;)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, PartialEq, PartialOrd, Debug)]
        pub struct $name(f64);

        impl $name {
            /// None of it.
            pub const ZERO: Self = Self(0.0);

            /// So much in SI base units; `None` when it is not finite.
            #[must_use]
            pub fn from_si(value: f64) -> Option<Self> {
                value.is_finite().then_some(Self(value))
            }

            /// The middle of a number of this kind; `None` when it is too large for a float.
            #[must_use]
            pub fn from_number(number: &Number) -> Option<Self> {
                Self::from_si(number.to_f64_mid())
            }

            /// The middle of a quantity; `None` when it is a quantity of something else.
            #[must_use]
            pub fn from_quantity(quantity: &Quantity) -> Option<Self> {
                if quantity.dimension != Self::DIMENSION {
                    return None;
                }
                Self::from_number(&quantity.number)
            }

            /// Reads it as it is written: a number with a unit. `None` when the text is something else.
            #[must_use]
            pub fn written(text: &str) -> Option<Self> {
                Self::from_quantity(&Quantity::parse(text, Self::DIMENSION).ok()?)
            }
        }

        impl Made for $name {
            fn new(value: f64) -> Self {
                debug_assert!(value.is_finite());
                Self(value)
            }
        }

        impl Amount for $name {
            const DIMENSION: Dimension = $dimension;

            fn to_si(self) -> f64 {
                self.0
            }
        }
    )*};
}

amounts! {
    /// A plain number: a share, a slope, a coefficient.
    Plain = Dimension::ONE;
    /// A length.
    Length = Dimension::LENGTH;
    /// An area.
    Area = Dimension::AREA;
    /// A volume.
    Volume = Dimension::VOLUME;
    /// A weight.
    Mass = Dimension::MASS;
    /// A length of time.
    Time = Dimension::TIME;
    /// A point on the temperature scale.
    Temperature = Dimension::TEMPERATURE;
    /// A speed.
    Speed = Dimension::SPEED;
    /// A flow by volume.
    Flow = Dimension::FLOW;
    /// A flow by weight.
    MassFlow = Dimension { mass: 1, time: -1, ..Dimension::ONE };
    /// A pressure, or a suction where the name says so.
    Pressure = Dimension::PRESSURE;
    /// A loss of pressure along a way.
    Gradient = Dimension::PRESSURE_GRADIENT;
    /// A density.
    Density = Dimension::DENSITY;
    /// A dynamic viscosity.
    Viscosity = Dimension { length: -1, mass: 1, time: -1, ..Dimension::ONE };
    /// A power.
    Power = Dimension::POWER;
    /// An energy.
    Energy = Dimension::ENERGY;
    /// An angle, in degrees.
    Angle = Dimension::ANGLE;
    /// So often in a time.
    Rate = Dimension::RATE;
    /// Heat lost through an area for each degree of difference.
    Transmittance = Dimension { mass: 1, time: -3, temperature: -1, ..Dimension::ONE };
    /// An insulating value: area and difference of temperature for a unit of heat lost.
    Insulation = Dimension::INSULATION;
    /// Heat that a unit of weight takes for a degree.
    SpecificHeat = Dimension { length: 2, time: -2, temperature: -1, ..Dimension::ONE };
    /// Degrees of difference, summed over time.
    DegreeTime = Dimension::DEGREE_TIME;
    /// A radon level.
    Concentration = Dimension::CONCENTRATION;
    /// A radon source.
    Activity = Dimension { activity: 1, time: -1, ..Dimension::ONE };
    /// A level of decay products in air.
    DecayEnergy = Dimension::DECAY_ENERGY;
    /// How easily gas passes through a porous stuff.
    Permeability = Dimension::AREA;
    /// Resistance of a porous stuff to fast flow.
    Inertia = Dimension { length: -1, ..Dimension::ONE };
    /// Flow through a whole layer, for a unit of width and of pressure gradient: permeability times depth over viscosity.
    Transmissivity = Dimension { length: 4, mass: -1, time: 1, ..Dimension::ONE };
    /// Flow through a unit of area for a unit of pressure.
    Leakage = Dimension { length: 2, mass: -1, time: 1, ..Dimension::ONE };
    /// Flow through a unit of length for a unit of pressure.
    LineLeakage = Dimension { length: 3, mass: -1, time: 1, ..Dimension::ONE };
    /// Flow for a unit of pressure.
    Conductance = Dimension { length: 4, mass: -1, time: 1, ..Dimension::ONE };
    /// An amount of money.
    Money = Dimension::MONEY;
    /// A price of energy.
    EnergyPrice = Dimension::PRICE_OF_ENERGY;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_comes_back_the_same() {
        let flow = Flow::written("60 cfm").unwrap();
        assert!((flow.to_si() - 0.028_316_846_592).abs() < 1e-15);
        assert_eq!(Flow::from_quantity(&flow.to_quantity()), Some(flow));
        assert_eq!(Flow::written("60 Pa"), None);
        assert_eq!(Pressure::from_quantity(&flow.to_quantity()), None);
    }

    #[test]
    fn nothing_that_is_not_finite_is_an_amount() {
        for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert_eq!(Length::from_si(value), None);
        }
    }

    #[test]
    fn what_is_out_of_range_carries_the_range() {
        let error = within("the length", Length::new(3.0), 0.0, 2.0).unwrap_err();
        let whole = Number::whole;
        assert_eq!((error.given(), error.low(), error.high()), (whole(3), whole(0), whole(2)));
        assert_eq!(error.dimension, Dimension::LENGTH);
        assert_eq!(within("the length", Length::new(2.0), 0.0, 2.0), Ok(2.0));
    }
}
