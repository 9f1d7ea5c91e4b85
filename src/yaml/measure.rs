//! Quantities in a file: as stated, or as measured, with who, when and how closely.

use std::marker::PhantomData;
use std::ops::Deref;

use serde_json::{Value, json};

use super::entry::{Meaning, Vouched};
use super::lay::{Said, measure_in_words};
use super::name::Text;
use super::record::{Reader, Reads};
use super::schema::Schemas;
use super::time::Date;
use super::tree::{NodeId, NodeKind};
use super::words::{Words, words};
use crate::base::number::{Dimension, Number, Quantity, Ratio};
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::Span;
use crate::base::value::EntryPath;

/// What an entry wants a quantity of.
pub trait Wanted: 'static {
    /// What it is called in the schema.
    const NAME: &'static str;
    /// The dimension it has.
    const DIMENSION: Dimension;
    /// How it is written, for descriptions and messages.
    const EXAMPLES: &'static str;
    /// The least it can be, in SI units, if there is a least.
    const LEAST: Option<i64> = Some(0);
    /// The most it can be, in SI units, if there is a most.
    const MOST: Option<i64> = None;
    /// The bounds in words, where there are others than nothing and a kilometre.
    const BOUNDS: &'static str = "";
    /// The units that a number without one may be in, where they are others than for anything of this dimension.
    const UNITS: Option<(&'static str, &'static str)> = None;
}

macro_rules! wanted {
    ($($(#[doc = $doc:literal])+ $Name:ident: $dimension:ident, $name:literal, $examples:literal $(, from $least:expr)? $(, to $most:expr)? $(, in $one:literal $other:literal)? $(, says $bounds:literal)?;)+) => {$(
        $(#[doc = $doc])+
        #[derive(Clone, Copy, PartialEq, Eq, Debug)]
        pub struct $Name;

        impl Wanted for $Name {
            const NAME: &'static str = $name;
            const DIMENSION: Dimension = Dimension::$dimension;
            const EXAMPLES: &'static str = $examples;
            $(const LEAST: Option<i64> = $least;)?
            $(const MOST: Option<i64> = $most;)?
            $(const UNITS: Option<(&'static str, &'static str)> = Some(($one, $other));)?
            $(const BOUNDS: &'static str = $bounds;)?
        }
    )+};
}

wanted! {
    /// A length about a house, never negative.
    Length: LENGTH, "length", "10 ft 6 in, 3 1/2 in, 90 mm", to Some(1_000);
    /// How thick a sheet is.
    SheetThickness: LENGTH, "sheet_thickness", "6 mil, 0.15 mm", in "mil" "mm";
    /// How thick something is that is built or wrapped round.
    Thickness: LENGTH, "thickness", "4 in, 100 mm", in "in" "mm";
    /// A height above something; negative below it.
    Height: LENGTH, "height", "17 ft 2 in, -8 in", from None, to Some(1_000);
    /// A height above the sea.
    Altitude: LENGTH, "altitude", "410 ft, 1600 m", from Some(-500), to Some(9_000), in "ft" "m", says "from -1,600 ft to 29,500 ft (-500 m to 9,000 m)";
    /// How far a sheet is turned up at a wall or a post.
    TurnUp: LENGTH, "turn_up", "8 in, 200 mm", to Some(3), says "of no more than 9 ft 10 in (3 m)";
    /// A coordinate.
    Coordinate: LENGTH, "coordinate", "18 ft, 11 ft 8 in, -4 ft", from None;
    /// An area.
    Area: AREA, "area", "960 sq ft, 12 sq in, 89 m2";
    /// A volume.
    Volume: VOLUME, "volume", "12 gal, 1.6 cu ft, 45 L";
    /// How much was dug out of a hole in the ground.
    PitVolume: VOLUME, "pit_volume", "12 gal, 1.6 cu ft, 45 L", to Some(2), says "of no more than 500 gal (2 m3)";
    /// A mass.
    Mass: MASS, "mass", "16 lb, 7 kg";
    /// A stretch of time.
    Duration: TIME, "duration", "48 h, 30 min, 2 days";
    /// A temperature: of air, weather or soil.
    Temperature: TEMPERATURE, "temperature", "5 degF, -15 degC", from Some(180), to Some(400), says "from -135 °F to 260 °F (-93 °C to 126 °C)";
    /// A difference of temperatures.
    TemperatureDifference: TEMPERATURE_DIFFERENCE, "temperature_difference", "10 degF, 5 K", from None;
    /// An electric current.
    Current: CURRENT, "current", "1.3 A";
    /// A speed.
    Speed: SPEED, "speed", "5 mph, 800 fpm, 4 m/s";
    /// An air flow.
    Flow: FLOW, "flow", "40 cfm, 19 L/s";
    /// A pressure as a magnitude.
    Pressure: PRESSURE, "pressure", "1.25 in WC, 250 Pa", to Some(120_000), says "of no more than 480 in WC (120 kPa)";
    /// A difference of pressures; negative where the first is the lower.
    PressureDifference: PRESSURE, "pressure_difference", "-0.012 in WC, -3 Pa", from None;
    /// A power.
    Power: POWER, "power", "75 W, 38 kBtu/h";
    /// An energy.
    Energy: ENERGY, "energy", "600 kWh";
    /// A voltage.
    Voltage: VOLTAGE, "voltage", "120 V";
    /// Thermal resistance of an insulating layer.
    Insulation: INSULATION, "insulation", "R-4, R-11, RSI 0.7";
    /// How readily vapour passes.
    Permeance: PERMEANCE, "permeance", "0.1 perm";
    /// A mass per volume.
    Density: DENSITY, "density", "120 lb/cu ft, 1.2 kg/m3";
    /// Activity per volume.
    Concentration: CONCENTRATION, "concentration", "4.0 pCi/L, 148 Bq/m3";
    /// Energy of decay products per volume of air.
    DecayEnergy: DECAY_ENERGY, "decay_energy", "0.02 WL";
    /// Decay products breathed over time.
    Exposure: EXPOSURE, "exposure", "0.6 WLM";
    /// Loudness.
    Loudness: LOUDNESS, "loudness", "45 dB";
    /// An amount of money.
    Money: MONEY, "money", "$0.16, 0.16 USD";
    /// A price of energy.
    PriceOfEnergy: PRICE_OF_ENERGY, "price_of_energy", "$0.16/kWh, 16 cents/kWh";
    /// Degrees of cold, summed over the days of a winter.
    DegreeDays: DEGREE_TIME, "degree_days", "5200 F-days, 2900 C-days";
    /// An angle.
    Angle: ANGLE, "angle", "45 deg";
    /// A slope: fall per length.
    Slope: ONE, "slope", "1/4 in per ft, 1 in 48, 2 %", from None, in "in per ft" "%";
    /// A share of a whole.
    Share: ONE, "share", "40 %", to Some(1);
    /// A plain number without a unit.
    Plain: ONE, "number", "0.63";
}

words! {
    /// How a value was come by.
    pub enum ComeBy = "how a value was come by" {
        /// read off an instrument or a tape
        Measured = "measured",
        /// what the designer intends
        Designed = "designed",
        /// taken for granted
        Assumed = "assumed",
        /// taken from a maker's sheet
        FromSheet = "from a sheet",
        /// told by the owner or another person
        Told = "told",
    }
}

/// A quantity with what is said of how it was come by.
#[derive(Clone, PartialEq, Debug)]
pub struct Measured {
    /// The quantity, as written.
    pub quantity: Quantity,
    /// Where it is written.
    pub at: Span,
    /// How closely it is known: the true value lies no farther off than this.
    pub within: Option<Quantity>,
    /// Who measured it.
    pub by: Option<String>,
    /// When.
    pub on: Option<Date>,
    /// How it was come by, if it is said.
    pub how: Option<ComeBy>,
    /// Who checked it independently.
    pub verified_by: Option<String>,
}

/// A quantity of one sort in a file.
#[derive(Clone, PartialEq, Debug)]
pub struct Measure<W>(Box<Measured>, PhantomData<fn() -> W>);

impl<W> Deref for Measure<W> {
    type Target = Measured;

    fn deref(&self) -> &Measured {
        &self.0
    }
}

impl<W: Wanted> Measure<W> {
    /// A quantity as stated, with no particulars.
    #[must_use]
    pub fn stated(quantity: Quantity, at: Span) -> Self {
        let measured =
            Measured { quantity, at, within: None, by: None, on: None, how: None, verified_by: None };
        Measure(Box::new(measured), PhantomData)
    }

    /// The number it stands for: exact as stated, or the range that the tolerance leaves.
    #[must_use]
    pub fn number(&self) -> Number {
        let exact = &self.quantity.number;
        let Some(tolerance) = self.within.as_ref().and_then(|within| within.number.as_exact()) else {
            return exact.clone();
        };
        let range = exact.within(tolerance);
        match W::LEAST.map(Ratio::from_int) {
            Some(least) if range.low() < least => Number::between(least, range.high()),
            _ => range,
        }
    }
}

/// What an entry wants, in words: `a length`, `an altitude`.
fn spoken<W: Wanted>() -> String {
    let article = if W::NAME.starts_with(['a', 'e', 'i', 'o']) { "an" } else { "a" };
    format!("{article} {}", W::NAME.replace('_', " "))
}

impl Reader<'_> {
    /// Reads a part of a single value as a quantity; a fault is reported on that part.
    pub fn quantity<W: Wanted>(&mut self, node: NodeId, part: std::ops::Range<usize>) -> Option<Quantity> {
        let text = self.text(node)?.get(part.clone())?;
        let trimmed = text.trim();
        let start = part.start + (text.len() - text.trim_start().len());
        let quantity = self.parse::<W>(node, trimmed, start, W::DIMENSION)?;
        if let Some((one, other)) =
            W::UNITS.filter(|_| quantity.is_bare() && !quantity.number.as_exact().is_some_and(Ratio::is_zero))
        {
            let accepts = match trimmed.split_once('/') {
                Some((rise, run)) => format!("{trimmed} {one} or {rise}:{run}"),
                None => format!("{trimmed} {one} or {trimmed} {other}, or of a roof {trimmed} in 12"),
            };
            let at = self.part(node, start..start + trimmed.len());
            self.report(Problem::new(ProblemKind::NoUnit, at).found(trimmed).accepts(accepts));
            return None;
        }
        let low = quantity.number.low();
        let high = quantity.number.high();
        let too_low = W::LEAST.is_some_and(|least| low < Ratio::from_int(least));
        let too_high = W::MOST.is_some_and(|most| high > Ratio::from_int(most));
        if too_low || too_high {
            let accepts = match W::DIMENSION {
                Dimension::ONE if W::MOST.is_some() => "something from 0 % to 100 %".to_owned(),
                _ if !W::BOUNDS.is_empty() => format!("{} {}", spoken::<W>(), W::BOUNDS),
                _ if too_high => format!("{} of no more than 1,000 m (3,280 ft)", spoken::<W>()),
                _ => format!("{} that is not less than nothing", spoken::<W>()),
            };
            let at = self.part(node, start..start + trimmed.len());
            let digits = trimmed.len() <= 2 && trimmed.bytes().all(|byte| byte.is_ascii_digit());
            let meant = match W::DIMENSION {
                Dimension::ONE if W::MOST.is_some() => digits.then(|| format!("{trimmed} %")),
                _ if W::LEAST != Some(0) => None,
                _ => trimmed.strip_prefix(['-', '\u{2212}', '–']).map(|rest| rest.trim().to_owned()),
            };
            let problem = Problem::new(ProblemKind::OutOfRange, at).found(trimmed).accepts(accepts);
            self.report(problem.nearest(meant));
            return None;
        }
        Some(quantity)
    }

    /// Reads the whole of a single value as a quantity.
    pub fn whole_quantity<W: Wanted>(&mut self, node: NodeId) -> Option<Quantity> {
        let length = self.text(node)?.len();
        self.quantity::<W>(node, 0..length)
    }

    fn parse<W: Wanted>(
        &mut self,
        node: NodeId,
        text: &str,
        start: usize,
        dimension: Dimension,
    ) -> Option<Quantity> {
        match Quantity::parse(text, dimension) {
            Ok(quantity) => Some(quantity),
            Err(mut fault) => {
                if let Some((one, other)) = W::UNITS {
                    let general = dimension.words().map(|(name, ways)| format!("{name}, such as {ways}"));
                    if fault.kind == ProblemKind::NoUnit {
                        fault.accepts = format!("{text} {one} or {text} {other}");
                    } else if general.is_some_and(|general| general == fault.accepts) {
                        fault.accepts = format!("{}, such as {}", spoken::<W>(), W::EXAMPLES);
                    }
                }
                let at = self.part(node, start + fault.at.start..start + fault.at.end);
                self.report(fault.problem(at));
                None
            }
        }
    }
}

impl<W: Wanted> Reads for Measure<W> {
    const MAY_BE_NONE: bool = false;

    fn written_as() -> String {
        W::EXAMPLES.to_owned()
    }

    fn read(reader: &mut Reader<'_>, node: NodeId, path: &EntryPath) -> Option<Self> {
        let tree = reader.tree();
        let at = reader.span(node);
        if !matches!(tree.node(node)?.kind, NodeKind::Map(_)) {
            return Some(Measure::stated(reader.whole_quantity::<W>(node)?, at));
        }
        reader.expect_keys(node, &["value", "within", "by", "on", "how", "verified_by"]);
        let mut measure = Measure::stated(reader.whole_quantity::<W>(tree.get(node, "value")?.value)?, at);
        let measured = &mut *measure.0;
        if let Some(within) = tree.get(node, "within") {
            measured.within = Some(reader.tolerance::<W>(within.value)?);
        }
        measured.by = particular::<Text>(reader, node, "by", path)?.map(|text| text.0);
        measured.on = particular::<Date>(reader, node, "on", path)?;
        measured.how = particular::<ComeBy>(reader, node, "how", path)?;
        measured.verified_by = particular::<Text>(reader, node, "verified_by", path)?.map(|text| text.0);
        Some(measure)
    }

    fn in_words(&self, place: Said) -> Said {
        measure_in_words(self, place)
    }

    fn means(&self) -> Meaning {
        let mut said = self.quantity.number.in_one_way();
        let within = self.within.as_ref().map(|within| within.number.in_one_way());
        let on = self.on.map(|on| on.to_string());
        let how = self.how.map(|how| how.as_str().to_owned());
        let particulars = [
            ("within", within),
            ("by", self.by.clone()),
            ("on", on),
            ("how", how),
            ("verified by", self.verified_by.clone()),
        ];
        for (what, value) in particulars {
            if let Some(value) = value {
                said.push_str(&format!("; {what} {value}"));
            }
        }
        Meaning::Value(said)
    }

    fn vouched(&self) -> Vouched {
        Vouched {
            by: self.by.clone(),
            on: self.on.map(|on| on.to_string()),
            how: self.how.map(ComeBy::as_str),
            verified_by: self.verified_by.clone(),
        }
    }

    fn schema(defs: &mut Schemas) -> Value {
        let name = W::NAME;
        defs.refer::<W>(name, |defs| {
            let text = Text::schema(defs);
            let date = Date::schema(defs);
            let how = ComeBy::schema(defs);
            json!({
                "description": format!("A {}: {}. Or {{value: …, within: …, by: …, on: …}}.", name.replace('_', " "), W::EXAMPLES),
                "anyOf": [
                    { "type": ["string", "number"] },
                    {
                        "type": "object",
                        "properties": {
                            "value": { "description": "The value, with its unit.", "type": ["string", "number"] },
                            "within": {
                                "description": "How closely it is known: the true value lies no farther off than this.",
                                "type": ["string", "number"],
                            },
                            "by": { "description": "Who measured it.", "anyOf": [text.clone()] },
                            "on": { "description": "The day it was measured.", "anyOf": [date] },
                            "how": { "description": "How the value was come by.", "anyOf": [how] },
                            "verified_by": { "description": "Who checked it independently.", "anyOf": [text] },
                        },
                        "required": ["value"],
                        "additionalProperties": false,
                    },
                ],
            })
        })
    }
}

/// A particular of a measured value: `None` when it is there and cannot be read.
fn particular<T: Reads>(
    reader: &mut Reader<'_>,
    node: NodeId,
    key: &str,
    path: &EntryPath,
) -> Option<Option<T>> {
    let Some(pair) = reader.tree().get(node, key) else { return Some(None) };
    T::read(reader, pair.value, &path.key(key)).map(Some)
}

impl Reader<'_> {
    /// Reads how closely a value is known: a quantity of its own sort, or a difference for a temperature.
    fn tolerance<W: Wanted>(&mut self, node: NodeId) -> Option<Quantity> {
        let dimension = Dimension { point: false, ..W::DIMENSION };
        let text = self.text(node)?;
        let quantity = self.parse::<W>(node, text, 0, dimension)?;
        if quantity.number.low().is_negative() {
            self.report_value(
                node,
                ProblemKind::OutOfRange,
                "how closely the value is known, as a positive amount",
            );
            return None;
        }
        Some(quantity)
    }
}

impl ComeBy {
    /// The word as written.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        self.spelling()
    }
}
