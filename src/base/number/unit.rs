//! The units of the trade, each by its exact definition.
//!
//! A definition is written as a product of decimal numbers, so that it can be held against the document it
//! comes from; it is worked out exactly when the table is first used.
//!
//! Sources: inch, foot, yard, pound, gallon and their kin: NIST Special Publication 811 (2008), appendix B,
//! and NIST Handbook 44, appendix C (0.0254 m to the inch, 0.45359237 kg to the pound, 231 cubic inches to
//! the gallon, all exact). Standard gravity 9.80665 m/s2: SP 811. Btu: the international one, 1055.05585262 J.
//! Inch of water: the conventional one, 1000 kg/m3; the one of water at 60 °F, 248.84 Pa (SP 811), only where it
//! is written out. Curie: 3.7e10 Bq, exact. Working level: 1.3e5 MeV per
//! litre, with the electronvolt exact since 2019. Perm: grain per hour, square foot and inch of mercury at 0 °C.

use std::collections::HashMap;
use std::sync::LazyLock;

use super::{Dimension, Ratio};

/// Where a unit is at home; decides how a comma in a number may be read.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum System {
    /// United States customary units.
    UnitedStates,
    /// Metric units.
    Metric,
    /// At home in both.
    Both,
}

/// A unit of measurement.
#[derive(Debug)]
pub struct Unit {
    /// What it is a unit of.
    pub dimension: Dimension,
    /// Where it is at home.
    pub system: System,
    /// How many SI base units one of it is.
    pub factor: Ratio,
    /// What is added to a reading in this unit before it is multiplied: nought but for temperatures.
    pub shift: Ratio,
    /// Its spellings, the usual one first.
    pub spellings: Vec<Spelling>,
}

impl PartialEq for Unit {
    fn eq(&self, other: &Self) -> bool {
        self.dimension == other.dimension && self.spellings == other.spellings
    }
}

impl Eq for Unit {}

/// A way to write a unit, for one of it and for several: `foot`, `feet`; the same word twice for a symbol.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Spelling {
    /// For exactly one.
    pub one: &'static str,
    /// For any other number.
    pub many: &'static str,
}

impl Unit {
    /// The usual spelling.
    #[must_use]
    pub fn usual(&self) -> Spelling {
        self.spellings.first().copied().unwrap_or(Spelling { one: "", many: "" })
    }

    /// A reading in this unit, in SI base units.
    #[must_use]
    pub fn to_si(&self, reading: &Ratio) -> Ratio {
        (reading + &self.shift) * &self.factor
    }

    /// The sign of the currency, for units that count money.
    #[must_use]
    pub fn currency(&self) -> Option<&'static str> {
        let first = self.usual().one;
        ["$", "€", "£"].into_iter().find(|sign| {
            self.dimension.money != 0 && (first.starts_with(sign) || (*sign == "$" && first.starts_with('¢')))
        })
    }
}

/// A unit in one of its spellings.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Named {
    /// The unit.
    pub unit: &'static Unit,
    /// How it is written.
    pub spelling: Spelling,
}

/// All units, with an index of their spellings.
pub struct Units {
    list: Vec<Unit>,
    index: HashMap<&'static str, Vec<(usize, Spelling)>>,
    folded: HashMap<String, Vec<(usize, Spelling)>>,
    longest: usize,
}

impl Units {
    /// Every unit, in the order of the table.
    pub fn iter(&self) -> impl Iterator<Item = &Unit> {
        self.list.iter()
    }

    /// The units spelled exactly like this, the likeliest first.
    pub fn spelled(&'static self, text: &str) -> impl Iterator<Item = Named> {
        let found = self.index.get(text).map_or(&[][..], Vec::as_slice);
        found
            .iter()
            .filter_map(|(at, spelling)| Some(Named { unit: self.list.get(*at)?, spelling: *spelling }))
    }

    /// The units spelled like this but for capital letters. A capital M is never taken for the small m that
    /// means a thousandth.
    pub fn spelled_loosely(&'static self, text: &str) -> impl Iterator<Item = Named> {
        let thousandth = text.starts_with('M');
        let short = text.chars().count() < 2;
        let found = self.folded.get(&text.to_lowercase()).filter(|_| !short).map_or(&[][..], Vec::as_slice);
        found.iter().filter_map(move |(at, spelling)| {
            let named = Named { unit: self.list.get(*at)?, spelling: *spelling };
            let milli = ["mA", "mL", "ml", "mV", "mWL", "mbar"].contains(&spelling.one);
            (!(thousandth && milli)).then_some(named)
        })
    }

    /// How many characters the longest spelling has.
    #[must_use]
    pub fn longest(&self) -> usize {
        self.longest
    }
}

/// The table, worked out once.
pub static UNITS: LazyLock<Units> = LazyLock::new(|| {
    let mut units = Units { list: Vec::new(), index: HashMap::new(), folded: HashMap::new(), longest: 0 };
    for (dimension, system, definition, spellings) in TABLE {
        let (definition, shift) = definition.split_once(" after ").unwrap_or((definition, "0"));
        let (Some(factor), Some(shift)) = (worked_out(definition), worked_out(shift)) else { continue };
        let spellings: Vec<Spelling> = spellings
            .split(", ")
            .map(|written| written.split_once('|').unwrap_or((written, written)))
            .map(|(one, many)| Spelling { one, many })
            .collect();
        let at = units.list.len();
        for spelling in &spellings {
            for text in [spelling.one, spelling.many] {
                units.longest = units.longest.max(text.chars().count());
                let known = units.index.entry(text).or_default();
                if known.iter().all(|(other, _)| *other != at) {
                    known.push((at, *spelling));
                }
                let known = units.folded.entry(text.to_lowercase()).or_default();
                if known.iter().all(|(other, _)| *other != at) {
                    known.push((at, *spelling));
                }
            }
        }
        units.list.push(Unit { dimension: *dimension, system: *system, factor, shift, spellings });
    }
    units
});

/// The value of a definition: decimal numbers joined by `*` and `/`, each perhaps with a power.
fn worked_out(definition: &str) -> Option<Ratio> {
    let mut value = Ratio::ONE;
    let mut divide = false;
    for piece in definition.split(' ') {
        match piece {
            "*" => divide = false,
            "/" => divide = true,
            _ => {
                let (base, power) = piece.split_once('^').unwrap_or((piece, "1"));
                let factor = Ratio::parse_decimal(base)?.pow(power.parse().ok()?)?;
                value = if divide { value.checked_div(&factor)? } else { value * factor };
            }
        }
    }
    Some(value)
}

/// The two units that a bare number was most likely meant in.
#[must_use]
pub fn likely(dimension: Dimension) -> Option<(&'static str, &'static str)> {
    LIKELY.iter().find(|(of, ..)| *of == dimension).map(|(_, first, second)| (*first, *second))
}

type D = Dimension;

const LIKELY: &[(Dimension, &str, &str)] = &[
    (D::LENGTH, "ft", "in"),
    (D::AREA, "sq ft", "m2"),
    (D::VOLUME, "gal", "L"),
    (D::MASS, "lb", "kg"),
    (D::TIME, "h", "days"),
    (D::TEMPERATURE_DIFFERENCE, "F deg", "C deg"),
    (D::TEMPERATURE, "°F", "°C"),
    (D::CURRENT, "A", "mA"),
    (D::SPEED, "fpm", "m/s"),
    (D::FLOW, "cfm", "L/s"),
    (D::PRESSURE, "in WC", "Pa"),
    (D::POWER, "W", "kBtu/h"),
    (D::ENERGY, "kWh", "kBtu"),
    (D::VOLTAGE, "V", "mV"),
    (D::RESISTANCE, "ohm", "kohm"),
    (D::INSULATION, "R", "RSI"),
    (D::PERMEANCE, "perm", "ng/(s m2 Pa)"),
    (D::DENSITY, "lb/ft3", "kg/m3"),
    (D::CONCENTRATION, "pCi/L", "Bq/m3"),
    (D::DECAY_ENERGY, "WL", "mWL"),
    (D::EXPOSURE, "WLM", "WL h"),
    (D::LOUDNESS, "dBA", "dB"),
    (D::MONEY, "$", "€"),
    (D::PRICE_OF_ENERGY, "$/kWh", "¢/kWh"),
    (D::ANGLE, "deg", "°"),
    (D::RATE, "per hour", "Hz"),
    (D::PRESSURE_GRADIENT, "in WC per 100 ft", "Pa/m"),
    (D::RESISTANCE_PER_LENGTH, "ohm/kft", "ohm/km"),
    (D::DEGREE_TIME, "F-days", "C-days"),
];

const US: System = System::UnitedStates;
const SI: System = System::Metric;
const BOTH: System = System::Both;

/// Dimension, system, how many SI base units (and what is added first), spellings with the usual one first.
/// Where two units share a spelling, the first is the likelier.
#[rustfmt::skip]
const TABLE: &[(Dimension, System, &str, &str)] = &[
    (D::LENGTH, US, "0.0254", "in, in., inch|inches, \", ″, ”, ''"),
    (D::LENGTH, US, "0.3048", "ft, ft., foot|feet, ', ′, ’"),
    (D::LENGTH, US, "0.9144", "yd, yd., yard|yards, yds"),
    (D::LENGTH, US, "0.0254 / 1000", "mil, mil|mils, thou"),
    (D::LENGTH, SI, "1", "m, meter|meters, metre|metres"),
    (D::LENGTH, SI, "0.01", "cm, centimeter|centimeters, centimetre|centimetres"),
    (D::LENGTH, SI, "0.001", "mm, millimeter|millimeters, millimetre|millimetres"),
    (D::LENGTH, SI, "0.000001", "µm, μm, um, micron|microns, micrometer|micrometers"),
    (D::LENGTH, SI, "1000", "km, kilometer|kilometers, kilometre|kilometres"),

    (D::AREA, US, "0.3048^2", "sq ft, ft2, ft², sq. ft., sq.ft., sq ft., sqft, sf, SF, ft^2, square foot|square feet"),
    (D::AREA, US, "0.0254^2", "sq in, in2, in², sq. in., sq.in., sq in., in^2, square inch|square inches"),
    (D::AREA, US, "0.9144^2", "sq yd, yd2, yd², sq. yd., square yard|square yards"),
    (D::AREA, SI, "1", "m2, m², sq m, sq. m, m^2, square meter|square meters, square metre|square metres"),
    (D::AREA, SI, "0.01^2", "cm2, cm², sq cm, cm^2"),
    (D::AREA, SI, "0.001^2", "mm2, mm², sq mm, mm^2"),

    (D::VOLUME, US, "231 * 0.0254^3", "gal, gal., gallon|gallons, US gal"),
    (D::VOLUME, US, "231 * 0.0254^3 / 4", "qt, qt., quart|quarts"),
    (D::VOLUME, US, "231 * 0.0254^3 / 8", "pt, pt., pint|pints"),
    (D::VOLUME, US, "231 * 0.0254^3 / 128", "fl oz, fl. oz., fl.oz., floz, fluid ounce|fluid ounces, oz, oz., ounce|ounces"),
    (D::VOLUME, US, "0.3048^3", "ft3, ft³, cu ft, cu. ft., cu.ft., ft^3, cubic foot|cubic feet"),
    (D::VOLUME, US, "0.0254^3", "in3, in³, cu in, cu. in., in^3, cubic inch|cubic inches"),
    (D::VOLUME, US, "0.9144^3", "cu yd, yd3, yd³, cu. yd., cubic yard|cubic yards"),
    (D::VOLUME, SI, "0.001", "L, l, liter|liters, litre|litres"),
    (D::VOLUME, SI, "0.000001", "mL, ml, milliliter|milliliters, millilitre|millilitres"),
    (D::VOLUME, SI, "0.1^3", "dm3, dm³, dm^3"),
    (D::VOLUME, SI, "1", "m3, m³, cu m, m^3, cubic meter|cubic meters, cubic metre|cubic metres"),
    (D::VOLUME, SI, "0.01^3", "cm3, cm³, cc, cm^3"),

    (D::MASS, US, "0.45359237", "lb, lbs, lb., lbs., pound|pounds"),
    (D::MASS, US, "0.45359237 / 16", "oz wt, oz, oz., ounce|ounces, oz av"),
    (D::MASS, SI, "1", "kg, kilogram|kilograms"),
    (D::MASS, SI, "0.001", "g, gram|grams"),

    (D::TIME, BOTH, "1", "s, sec, sec., second|seconds"),
    (D::TIME, BOTH, "60", "min, min., minute|minutes"),
    (D::TIME, BOTH, "3600", "h, hr, hr., hrs, hour|hours"),
    (D::TIME, BOTH, "86400", "day|days, d"),
    (D::TIME, BOTH, "7 * 86400", "week|weeks, wk|wks"),

    (D::TEMPERATURE, US, "5 / 9 after 459.67", "°F, degF, deg F, F, degrees F, ºF, ℉, degrees Fahrenheit"),
    (D::TEMPERATURE, SI, "1 after 273.15", "°C, degC, deg C, C, degrees C, ºC, ℃, degrees Celsius"),
    (D::TEMPERATURE, SI, "1", "K, kelvin|kelvins"),
    (D::TEMPERATURE_DIFFERENCE, US, "5 / 9", "F deg, F°, F degrees, delta °F, Δ°F, delta F, degF difference, °F difference, °F, degF, deg F, F, degrees F, ºF"),
    (D::TEMPERATURE_DIFFERENCE, SI, "1", "C deg, C°, C degrees, delta °C, Δ°C, delta C, degC difference, °C difference, °C, degC, deg C, C, degrees C, ºC, K, kelvin|kelvins"),

    (D::CURRENT, BOTH, "1", "A, amp|amps, ampere|amperes"),
    (D::CURRENT, BOTH, "0.001", "mA, milliamp|milliamps"),
    (D::VOLTAGE, BOTH, "1", "V, volt|volts, VAC, V AC"),
    (D::VOLTAGE, BOTH, "0.001", "mV, millivolt|millivolts"),
    (D::VOLTAGE, BOTH, "1000", "kV, kilovolt|kilovolts"),
    (D::RESISTANCE, BOTH, "1", "ohm, ohm|ohms, Ω, \u{2126}"),
    (D::RESISTANCE, BOTH, "1000", "kohm, kΩ, k\u{2126}"),
    (D::RESISTANCE, BOTH, "1000000", "Mohm, MΩ, M\u{2126}, megohm|megohms"),
    (D::RESISTANCE_PER_LENGTH, US, "1 / 304.8", "ohm/kft, ohms/kft, ohm/1000 ft, ohms per 1000 ft, Ω/kft, Ω/1000 ft"),
    (D::RESISTANCE_PER_LENGTH, SI, "0.001", "ohm/km, Ω/km, ohms per km"),

    (D::SPEED, US, "0.3048 / 60", "fpm, ft/min, FPM, feet per minute, ft per min"),
    (D::SPEED, US, "0.3048", "ft/s, fps, feet per second"),
    (D::SPEED, US, "1609.344 / 3600", "mph, mi/h, miles per hour"),
    (D::SPEED, SI, "1", "m/s, meters per second, metres per second"),
    (D::SPEED, SI, "1 / 3.6", "km/h, kph"),

    (D::FLOW, US, "0.3048^3 / 60", "cfm, CFM, ft3/min, ft³/min, cu ft/min, cu. ft./min, cubic feet per minute"),
    (D::FLOW, US, "231 * 0.0254^3 / 60", "gpm, gal/min, GPM, gallons per minute"),
    (D::FLOW, US, "231 * 0.0254^3 / 3600", "gal/h, gph, gal/hr, gallons per hour"),
    (D::FLOW, US, "231 * 0.0254^3 / 86400", "gal/day, gallons per day, gpd"),
    (D::FLOW, US, "231 * 0.0254^3 / 4 / 86400", "qt/day, quarts per day"),
    (D::FLOW, US, "231 * 0.0254^3 / 8 / 86400", "pt/day, pints per day"),
    (D::FLOW, SI, "0.001", "L/s, l/s, liters per second, litres per second"),
    (D::FLOW, SI, "0.001 / 60", "L/min, l/min"),
    (D::FLOW, SI, "0.001 / 3600", "L/h, l/h"),
    (D::FLOW, SI, "0.001 / 86400", "L/day, l/day, L/d, liters per day"),
    (D::FLOW, SI, "1", "m3/s, m³/s"),
    (D::FLOW, SI, "1 / 60", "m3/min, m³/min"),
    (D::FLOW, SI, "1 / 3600", "m3/h, m³/h, m3/hr, m³/hr, cubic meters per hour"),

    (D::PRESSURE, US, "0.0254 * 1000 * 9.80665",
        "in WC, in. WC, in wc, in. wc, in. w.c., in w.c., in W.C., in. W.C., inWC, inwc, in.WC, \"WC, \"wc, \" WC, \" wc, \"w.c., \" w.c., ″WC, ″ WC, \
         in H2O, in. H2O, in H₂O, inH2O, inH₂O, \"H2O, in wg, in. wg, in WG, in. w.g., in w.g., inWG, inwg, inch WC|inches WC, inch wc|inches wc, \
         inch of water|inches of water, in of water, in. of water, inch water column|inches water column, inch of water column|inches of water column"),
    (D::PRESSURE, US, "248.84", "in WC at 60 °F, in WC (60 °F), in. WC at 60 °F, in H2O at 60 °F, in H2O (60 °F)"),
    (D::PRESSURE, US, "0.3048 * 1000 * 9.80665", "ft WC, ft H2O, ft of water, feet of water"),
    (D::PRESSURE, SI, "0.001 * 1000 * 9.80665", "mm WC, mm H2O, mmH2O, mm H₂O"),
    (D::PRESSURE, SI, "1", "Pa, pascal|pascals"),
    (D::PRESSURE, SI, "100", "hPa, mbar, millibar|millibars"),
    (D::PRESSURE, SI, "1000", "kPa, kilopascal|kilopascals"),
    (D::PRESSURE, SI, "100000", "bar"),
    (D::PRESSURE, BOTH, "101325", "atm"),
    (D::PRESSURE, US, "0.45359237 * 9.80665 / 0.0254^2", "psi, lb/in2, lb/in², lbf/in2, PSI"),
    (D::PRESSURE, US, "0.0254 * 13595.1 * 9.80665", "in Hg, in. Hg, inHg, inches of mercury"),
    (D::PRESSURE, SI, "0.001 * 13595.1 * 9.80665", "mm Hg, mmHg"),
    (D::PRESSURE_GRADIENT, US, "1000 * 9.80665 / 1200",
        "in WC per 100 ft, in WC/100 ft, in. WC per 100 ft, in. WC/100 ft, in. w.c. per 100 ft, \"wc per 100 ft"),
    (D::PRESSURE_GRADIENT, SI, "1", "Pa/m, Pa per m, Pa per meter, Pa per metre"),

    (D::POWER, BOTH, "1", "W, watt|watts"),
    (D::POWER, BOTH, "1", "VA, volt-ampere|volt-amperes"),
    (D::POWER, BOTH, "1000", "kW, kilowatt|kilowatts"),
    (D::POWER, US, "550 * 0.3048 * 0.45359237 * 9.80665", "hp, HP, horsepower"),
    (D::POWER, US, "1055.05585262 / 3600", "Btu/h, BTU/h, Btu/hr, BTU/hr, BTUH, Btuh, BTU per hour, Btu per hour"),
    (D::POWER, US, "1055055.85262 / 3600", "kBtu/h, kBtu/hr, kBTU/h, kBTU/hr, MBH, MBh, thousand Btu/h"),
    (D::POWER, US, "1055055852.62 / 3600", "MMBtu/h, MMBtu/hr, MMBTU/h, million Btu/h"),
    (D::ENERGY, BOTH, "3600000", "kWh, kW h, kilowatt hour|kilowatt hours, kilowatt-hour|kilowatt-hours"),
    (D::ENERGY, BOTH, "3600", "Wh, W h, watt hour|watt hours, watt-hour|watt-hours"),
    (D::ENERGY, BOTH, "3600000000", "MWh"),
    (D::ENERGY, SI, "1", "J, joule|joules"),
    (D::ENERGY, SI, "1000", "kJ"),
    (D::ENERGY, SI, "1000000", "MJ"),
    (D::ENERGY, SI, "1000000000", "GJ"),
    (D::ENERGY, US, "1055.05585262", "Btu, BTU|BTUs, Btu|Btus"),
    (D::ENERGY, US, "1055055.85262", "kBtu, kBTU"),
    (D::ENERGY, US, "1055055852.62", "MMBtu, MMBTU, million Btu"),
    (D::ENERGY, US, "105505585.262", "therm|therms"),

    (D::INSULATION, US, "0.3048^2 * 5 * 3600 / 9 / 1055.05585262",
        "R, ft2·°F·h/Btu, ft²·°F·h/Btu, h·ft2·°F/Btu, h·ft²·°F/Btu, hr·ft2·°F/Btu, ft2 F h/Btu, h ft2 F/Btu, h ft2 °F/Btu"),
    (D::INSULATION, SI, "1", "RSI, m2·K/W, m²·K/W, m2 K/W, m² K/W, K·m2/W, K m2/W, m2K/W, m²K/W"),
    (D::PERMEANCE, US, "0.00006479891 / 3600 / 0.3048^2 / 0.0254 / 13595.1 / 9.80665", "perm, perm|perms, US perm|US perms"),
    (D::PERMEANCE, SI, "0.000000000001",
        "ng/(s m2 Pa), ng/(s·m2·Pa), ng/(s·m²·Pa), ng/(s m² Pa), ng/(Pa·s·m2), ng/(Pa·s·m²), ng/(Pa s m2), ng/(m2·s·Pa), ng/(m²·s·Pa), ng/(m2 s Pa), ng/Pa·s·m2, ng/s·m2·Pa"),
    (D::DENSITY, US, "0.45359237 / 0.3048^3", "lb/ft3, lb/ft³, lb/cu ft, pcf, lb per cu ft, pounds per cubic foot"),
    (D::DENSITY, SI, "1", "kg/m3, kg/m³, kilograms per cubic meter"),
    (D::DENSITY, SI, "1000", "g/cm3, g/cm³, kg/L"),

    (D::CONCENTRATION, US, "37", "pCi/L, pCi/l, pCi per L, picocurie per liter|picocuries per liter"),
    (D::CONCENTRATION, SI, "1", "Bq/m3, Bq/m³, Bq per m3, becquerels per cubic meter, becquerels per cubic metre"),
    (D::CONCENTRATION, SI, "1000", "kBq/m3, kBq/m³, Bq/L, Bq/l"),
    (D::DECAY_ENERGY, BOTH, "130000 * 1000 * 1000000 * 0.0000000000000000001602176634", "WL, working level|working levels"),
    (D::DECAY_ENERGY, BOTH, "130000 * 1000000 * 0.0000000000000000001602176634", "mWL"),
    (D::DECAY_ENERGY, SI, "0.000001", "µJ/m3, μJ/m3, µJ/m³, μJ/m³, uJ/m3"),
    (D::EXPOSURE, BOTH, "170 * 3600 * 130000 * 1000 * 1000000 * 0.0000000000000000001602176634", "WLM, working level month|working level months"),
    (D::EXPOSURE, BOTH, "3600 * 130000 * 1000 * 1000000 * 0.0000000000000000001602176634", "WL h, WL·h"),
    (D::LOUDNESS, BOTH, "1", "dB, dBA, dB(A), dB A, decibel|decibels"),

    (D::MONEY, US, "1", "$, USD, dollar|dollars"),
    (D::MONEY, US, "0.01", "¢, cent|cents"),
    (D::MONEY, BOTH, "1", "€, EUR, euro|euros"),
    (D::MONEY, BOTH, "1", "£, GBP"),
    (D::PRICE_OF_ENERGY, US, "1 / 3600000", "$/kWh, $ per kWh, USD/kWh, USD per kWh, dollars per kWh, dollars/kWh"),
    (D::PRICE_OF_ENERGY, US, "0.01 / 3600000", "¢/kWh, ¢ per kWh, cents/kWh, cents per kWh, cent/kWh"),
    (D::PRICE_OF_ENERGY, BOTH, "1 / 3600000", "€/kWh, € per kWh, EUR/kWh, EUR per kWh, euros per kWh"),
    (D::PRICE_OF_ENERGY, BOTH, "1 / 3600000", "£/kWh, £ per kWh, GBP/kWh, GBP per kWh"),
    (D::PRICE_OF_ENERGY, US, "1 / 105505585.262", "$/therm, $ per therm, USD/therm"),

    (D::ANGLE, BOTH, "1", "deg, °, degree|degrees, º"),
    (D::RATE, BOTH, "1 / 3600", "per hour, per h, 1/h, /h, air changes per hour, ACH"),
    (D::RATE, BOTH, "1", "Hz, hertz, per second, 1/s"),
    (D::RATE, BOTH, "1 / 60", "per minute, per min, 1/min"),
    (D::RATE, BOTH, "1 / 86400", "per day"),
    (D::DEGREE_TIME, US, "86400 * 5 / 9", "F-days, °F-days, °F·days, °F·day, °F days, F days, degF days"),
    (D::DEGREE_TIME, SI, "86400", "C-days, °C-days, °C·days, °C·day, °C days, C days, K·days, K days, degC days"),

    (D::ONE, BOTH, "0.01", "%, percent, per cent"),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_definition_is_worked_out() {
        assert_eq!(UNITS.list.len(), TABLE.len());
        assert!(UNITS.iter().all(|unit| unit.factor.signum() > 0));
    }

    #[test]
    fn the_likely_units_are_known_and_of_their_dimension() {
        for (dimension, first, second) in LIKELY {
            for text in [first, second] {
                assert!(UNITS.spelled(text).any(|named| named.unit.dimension == *dimension), "{text}");
            }
        }
    }

    #[test]
    fn a_spelling_is_shared_only_by_units_of_different_kinds() {
        for (text, readings) in &UNITS.index {
            let kinds: Vec<_> = readings.iter().filter_map(|(at, _)| UNITS.list.get(*at)).collect();
            for (at, unit) in kinds.iter().enumerate() {
                assert!(kinds.iter().skip(at + 1).all(|other| other.dimension != unit.dimension), "{text}");
            }
        }
    }

    #[test]
    fn currencies_are_told_apart() {
        let of = |text| UNITS.spelled(text).next().unwrap().unit.currency();
        assert_eq!(of("$/kWh"), Some("$"));
        assert_eq!(of("cents/kWh"), Some("$"));
        assert_eq!(of("euros"), Some("€"));
        assert_eq!(of("£"), Some("£"));
        assert_eq!(of("ft"), None);
    }
}
