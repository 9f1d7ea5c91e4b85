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
    /// Units of money.
    pub money: i8,
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
    /// J/m3, the energy of decay products in air (working level)
    pub const DECAY_ENERGY: Dimension = Dimension { length: -1, mass: 1, time: -2, ..NONE };
    /// dB
    pub const LOUDNESS: Dimension = Dimension { loudness: 1, ..NONE };
    /// money
    pub const MONEY: Dimension = Dimension { money: 1, ..NONE };
}
