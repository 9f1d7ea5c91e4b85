//! What a number is a number of: exponents over base units, known before anything is computed.

/// Exponents over the base units. Two numbers compare or add only when these are the same.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Dimension {
    /// Metres.
    pub length: i8,
    /// Kilograms.
    pub mass: i8,
    /// Seconds.
    pub time: i8,
    /// Kelvins of difference.
    pub temperature: i8,
    /// Amperes.
    pub current: i8,
    /// Becquerels.
    pub activity: i8,
    /// Decibels.
    pub loudness: i8,
    /// Units of money, whichever the currency.
    pub money: i8,
    /// Degrees of angle.
    pub angle: i8,
    /// Joules of alpha energy that the decay products in air have yet to give off. Kept apart from other
    /// energy, so that a working level is never taken for a pressure.
    pub alpha: i8,
    /// Whether it is a point on the temperature scale and not a difference. Points do not add.
    pub point: bool,
}

const NONE: Dimension = Dimension {
    length: 0,
    mass: 0,
    time: 0,
    temperature: 0,
    current: 0,
    activity: 0,
    loudness: 0,
    money: 0,
    angle: 0,
    alpha: 0,
    point: false,
};

impl Dimension {
    /// A plain number, a ratio, a slope, a share.
    pub const ONE: Dimension = NONE;
    /// m
    pub const LENGTH: Dimension = Dimension { length: 1, ..NONE };
    /// m2
    pub const AREA: Dimension = Dimension { length: 2, ..NONE };
    /// m3
    pub const VOLUME: Dimension = Dimension { length: 3, ..NONE };
    /// kg
    pub const MASS: Dimension = Dimension { mass: 1, ..NONE };
    /// s
    pub const TIME: Dimension = Dimension { time: 1, ..NONE };
    /// K, as a difference
    pub const TEMPERATURE_DIFFERENCE: Dimension = Dimension { temperature: 1, ..NONE };
    /// K, as a point
    pub const TEMPERATURE: Dimension = Dimension { temperature: 1, point: true, ..NONE };
    /// A
    pub const CURRENT: Dimension = Dimension { current: 1, ..NONE };
    /// m/s
    pub const SPEED: Dimension = Dimension { length: 1, time: -1, ..NONE };
    /// m3/s
    pub const FLOW: Dimension = Dimension { length: 3, time: -1, ..NONE };
    /// Pa
    pub const PRESSURE: Dimension = Dimension { length: -1, mass: 1, time: -2, ..NONE };
    /// W
    pub const POWER: Dimension = Dimension { length: 2, mass: 1, time: -3, ..NONE };
    /// J
    pub const ENERGY: Dimension = Dimension { length: 2, mass: 1, time: -2, ..NONE };
    /// V
    pub const VOLTAGE: Dimension = Dimension { length: 2, mass: 1, time: -3, current: -1, ..NONE };
    /// ohm
    pub const RESISTANCE: Dimension = Dimension { length: 2, mass: 1, time: -3, current: -2, ..NONE };
    /// m2 K/W
    pub const INSULATION: Dimension = Dimension { mass: -1, time: 3, temperature: 1, ..NONE };
    /// kg/(s m2 Pa)
    pub const PERMEANCE: Dimension = Dimension { length: -1, time: 1, ..NONE };
    /// kg/m3
    pub const DENSITY: Dimension = Dimension { length: -3, mass: 1, ..NONE };
    /// Bq/m3
    pub const CONCENTRATION: Dimension = Dimension { length: -3, activity: 1, ..NONE };
    /// J/m3 of alpha energy, of the decay products in air (working level)
    pub const DECAY_ENERGY: Dimension = Dimension { length: -3, alpha: 1, ..NONE };
    /// J s/m3 of alpha energy, breathed over time (working level months)
    pub const EXPOSURE: Dimension = Dimension { length: -3, time: 1, alpha: 1, ..NONE };
    /// dB
    pub const LOUDNESS: Dimension = Dimension { loudness: 1, ..NONE };
    /// money
    pub const MONEY: Dimension = Dimension { money: 1, ..NONE };
    /// money/J
    pub const PRICE_OF_ENERGY: Dimension = Dimension { length: -2, mass: -1, time: 2, money: 1, ..NONE };
    /// degrees of angle
    pub const ANGLE: Dimension = Dimension { angle: 1, ..NONE };
    /// 1/s: air changes, cycles
    pub const RATE: Dimension = Dimension { time: -1, ..NONE };
    /// Pa/m
    pub const PRESSURE_GRADIENT: Dimension = Dimension { length: -2, mass: 1, time: -2, ..NONE };
    /// ohm/m
    pub const RESISTANCE_PER_LENGTH: Dimension =
        Dimension { length: 1, mass: 1, time: -3, current: -2, ..NONE };
    /// K s, as degree days
    pub const DEGREE_TIME: Dimension = Dimension { time: 1, temperature: 1, ..NONE };

    /// The dimension of a product; `None` when an exponent leaves the machine or a temperature point is in it.
    #[must_use]
    pub fn times(self, other: Dimension) -> Option<Dimension> {
        if self.point || other.point {
            return None;
        }
        Some(Dimension {
            length: self.length.checked_add(other.length)?,
            mass: self.mass.checked_add(other.mass)?,
            time: self.time.checked_add(other.time)?,
            temperature: self.temperature.checked_add(other.temperature)?,
            current: self.current.checked_add(other.current)?,
            activity: self.activity.checked_add(other.activity)?,
            loudness: self.loudness.checked_add(other.loudness)?,
            money: self.money.checked_add(other.money)?,
            angle: self.angle.checked_add(other.angle)?,
            alpha: self.alpha.checked_add(other.alpha)?,
            point: false,
        })
    }

    /// The dimension of one divided by this; `None` for a temperature point.
    #[must_use]
    pub fn inverse(self) -> Option<Dimension> {
        if self.point {
            return None;
        }
        Some(Dimension {
            length: self.length.checked_neg()?,
            mass: self.mass.checked_neg()?,
            time: self.time.checked_neg()?,
            temperature: self.temperature.checked_neg()?,
            current: self.current.checked_neg()?,
            activity: self.activity.checked_neg()?,
            loudness: self.loudness.checked_neg()?,
            money: self.money.checked_neg()?,
            angle: self.angle.checked_neg()?,
            alpha: self.alpha.checked_neg()?,
            point: false,
        })
    }

    /// What a number of this dimension is, as a phrase, with ways to write one: `a length`, `10 ft 6 in or 90 mm`.
    /// `None` for dimensions that only occur on the way to others.
    #[must_use]
    pub fn words(self) -> Option<(&'static str, &'static str)> {
        PHRASES.iter().find(|(dimension, ..)| *dimension == self).map(|(_, name, ways)| (*name, *ways))
    }

    /// What a number of this dimension is, as a phrase: `a length`.
    #[must_use]
    pub fn name(self) -> &'static str {
        self.words().map_or("a quantity of a kind that has no name of its own", |(name, _)| name)
    }
}

const PHRASES: &[(Dimension, &str, &str)] = &[
    (Dimension::ONE, "a plain number, a share or a slope", "40 %, 0.4, 1/4 in per ft or 6 in 12"),
    (Dimension::LENGTH, "a length", "10 ft 6 in, 3 1/2 in or 90 mm"),
    (Dimension::AREA, "an area", "1,300 sq ft or 120 m2"),
    (Dimension::VOLUME, "a volume", "12 gal, 0.25 ft3 or 45 L"),
    (Dimension::MASS, "a weight", "12 lb or 5 kg"),
    (Dimension::TIME, "a length of time", "24 h, 90 min or 30 days"),
    (Dimension::TEMPERATURE_DIFFERENCE, "a difference of temperature", "10 F deg or 5 C deg"),
    (Dimension::TEMPERATURE, "a temperature", "5 °F or -15 °C"),
    (Dimension::CURRENT, "a current", "1.3 A or 90 mA"),
    (Dimension::SPEED, "a speed", "700 fpm or 3.5 m/s"),
    (Dimension::FLOW, "a flow of air or water", "40 cfm or 20 L/s"),
    (Dimension::PRESSURE, "a pressure", "1.25 in WC or 250 Pa"),
    (Dimension::POWER, "a power", "90 W or 38 kBtu/h"),
    (Dimension::ENERGY, "an energy", "700 kWh or 2400 kBtu"),
    (Dimension::VOLTAGE, "a voltage", "120 V"),
    (Dimension::RESISTANCE, "an electrical resistance", "0.4 ohm"),
    (Dimension::INSULATION, "an insulating value", "R-4 or RSI-0.7"),
    (Dimension::PERMEANCE, "a permeance", "0.1 perm or 5.7 ng/(s m2 Pa)"),
    (Dimension::DENSITY, "a density", "0.075 lb/ft3 or 1.2 kg/m3"),
    (Dimension::CONCENTRATION, "a radon level", "4 pCi/L or 148 Bq/m3"),
    (Dimension::DECAY_ENERGY, "a level of decay products", "0.02 WL"),
    (Dimension::EXPOSURE, "an exposure to decay products", "0.6 WLM"),
    (Dimension::LOUDNESS, "a sound level", "45 dBA"),
    (Dimension::MONEY, "an amount of money", "$120"),
    (Dimension::PRICE_OF_ENERGY, "a price of energy", "$0.16/kWh"),
    (Dimension::ANGLE, "an angle", "45 deg"),
    (Dimension::RATE, "a rate", "0.35 per hour or 60 Hz"),
    (Dimension::PRESSURE_GRADIENT, "a loss of pressure along a pipe", "0.1 in WC per 100 ft or 0.8 Pa/m"),
    (Dimension::RESISTANCE_PER_LENGTH, "a resistance along a wire", "1.6 ohm/kft or 5.2 ohm/km"),
    (Dimension::DEGREE_TIME, "degree days", "5200 F-days or 2900 C-days"),
];
