//! Air: how heavy it is, how it flows, how much water it holds.

use super::amounts::{
    Density, Length, Made, OutOfRange, Plain, Pressure, SpecificHeat, Temperature, Viscosity, within,
};

/// Standard gravity, in m/s2 (exact by convention: CGPM 1901).
pub(in crate::calc) const GRAVITY: f64 = 9.806_65;
/// Pressure of the standard atmosphere at sea level, in Pa (exact by convention).
const SEA_LEVEL: f64 = 101_325.0;
/// The gas constant as the standard atmosphere has it, in J/(kmol K).
const GAS_CONSTANT: f64 = 8_314.32;
/// Weight of a kilomole of dry air, in kg.
const DRY_AIR: f64 = 28.964_4;
/// Weight of a kilomole of water over that of dry air.
pub(in crate::calc) const WATER_TO_AIR: f64 = 0.621_945;
/// Nought degrees Celsius, in K.
pub(in crate::calc) const FREEZING: f64 = 273.15;

/// Air in a pipe, as far as its flow depends on it.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Air {
    /// How heavy it is.
    pub density: Density,
    /// How much it resists shear.
    pub viscosity: Viscosity,
}

/// The pressure of the open air at a height above the sea.
///
/// # Meaning
/// What a barometer shows on a standard day; weather moves it by some 3 %.
/// # Formula
/// `101325 (1 - 0.0065 H / 288.15)^5.25588`, with `H = 6356766 z / (6356766 + z)`.
/// # Valid for
/// -500 m to 11 000 m.
/// # Accuracy
/// Exact to the standard atmosphere.
/// # Source
/// US Standard Atmosphere 1976, equations 18 and 33a.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{air, amounts::{Amount, Length}};
/// let denver = air::pressure_at(Length::written("1609.344 m").unwrap()).unwrap();
/// assert!((denver.to_si() - 83_431.8).abs() < 0.1);
/// ```
pub fn pressure_at(altitude: Length) -> Result<Pressure, OutOfRange> {
    const EARTH: f64 = 6_356_766.0;
    let z = within("the height above the sea", altitude, -500.0, 11_000.0)?;
    let height = EARTH * z / (EARTH + z);
    let power = GRAVITY * DRY_AIR / (GAS_CONSTANT * 0.0065);
    Ok(Pressure::new(SEA_LEVEL * (1.0 - 0.0065 * height / 288.15).powf(power)))
}

fn temperature_si(temperature: Temperature) -> Result<f64, OutOfRange> {
    within("the temperature of the air", temperature, FREEZING - 60.0, FREEZING + 80.0)
}

fn barometer_si(pressure: Pressure) -> Result<f64, OutOfRange> {
    within("the pressure of the air", pressure, 20_000.0, 120_000.0)
}

/// The temperature at which soil gas comes out from under a house, from the least to the greatest that is usual.
///
/// # Meaning
/// What may be taken where nobody measured it.
/// # Formula
/// 5 to 20 °C.
/// # Valid for
/// Lived-in houses in climates with a winter.
/// # Accuracy
/// A range. The soil at some depth is about as warm as the air over the year, and a heated house warms it.
/// # Source
/// Maps of the temperature of shallow ground water, from memory; common practice.
/// # Errors
/// None.
/// # Example
/// ```
/// use undercroft::calc::{air, amounts::Amount};
/// let [least, greatest] = air::usual_soil_gas_temperature();
/// assert!(least.to_si() < greatest.to_si());
/// ```
#[must_use]
pub fn usual_soil_gas_temperature() -> [Temperature; 2] {
    [Temperature::new(FREEZING + 5.0), Temperature::new(FREEZING + 20.0)]
}

/// How damp soil gas is as it comes into the pipe, from the least to the greatest relative humidity that is usual.
///
/// # Meaning
/// What may be taken where nobody measured it.
/// # Formula
/// 0.8 to 1.
/// # Valid for
/// Gas out of the soil, with some air of the house in it.
/// # Accuracy
/// A range. Soil in which plants just wilt still holds its air at 99 %; air drawn in through cracks is drier.
/// # Source
/// Kelvin's equation at the wilting point, -1.5 MPa: exp(-1.5e6 x 1.8e-5 / (8.314 x 283)) = 0.989; the rest is common
/// practice.
/// # Errors
/// None.
/// # Example
/// ```
/// use undercroft::calc::{air, amounts::Amount};
/// let [_, greatest] = air::usual_soil_gas_humidity();
/// assert!((greatest.to_si() - 1.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn usual_soil_gas_humidity() -> [Plain; 2] {
    [Plain::new(0.8), Plain::new(1.0)]
}

/// The heat that air takes, dry.
///
/// # Meaning
/// For a kilogram and a degree; vapour in it adds a hundredth at most, so that damp gas stays a little warmer.
/// # Formula
/// 1006 J/(kg K).
/// # Valid for
/// -60 to 80 °C.
/// # Accuracy
/// 0.2 %.
/// # Source
/// ASHRAE Fundamentals, chapter Psychrometrics.
/// # Errors
/// None.
/// # Example
/// ```
/// use undercroft::calc::{air, amounts::Amount};
/// assert!((air::heat_taken().to_si() - 1006.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn heat_taken() -> SpecificHeat {
    SpecificHeat::new(1_006.0)
}

/// The density of dry air.
///
/// # Meaning
/// Weight of a cubic metre.
/// # Formula
/// `p M / (R T)`, M = 28.9644 kg/kmol, R = 8314.32 J/(kmol K).
/// # Valid for
/// -60 to 80 °C, 20 to 120 kPa.
/// # Accuracy
/// 0.1 % against an independent equation of state.
/// # Source
/// US Standard Atmosphere 1976, equation 42.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{air, amounts::{Amount, Pressure, Temperature}};
/// let warm = Temperature::written("20 °C").unwrap();
/// let rho = air::dry_density(warm, Pressure::written("1 atm").unwrap()).unwrap();
/// // 101325 x 28.9644 / (8314.32 x 293.15)
/// assert!((rho.to_si() - 1.2041).abs() < 1e-4);
/// ```
pub fn dry_density(temperature: Temperature, pressure: Pressure) -> Result<Density, OutOfRange> {
    let (t, p) = (temperature_si(temperature)?, barometer_si(pressure)?);
    Ok(Density::new(p * DRY_AIR / (GAS_CONSTANT * t)))
}

/// The viscosity of air.
///
/// # Meaning
/// Dynamic viscosity; pressure and dampness hardly move it.
/// # Formula
/// `1.458e-6 T^1.5 / (T + 110.4)`
/// # Valid for
/// -60 to 80 °C.
/// # Accuracy
/// 1 % against an independent equation of state.
/// # Source
/// US Standard Atmosphere 1976, equation 51 (Sutherland).
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{air, amounts::{Amount, Temperature}};
/// let mu = air::viscosity(Temperature::written("10 °C").unwrap()).unwrap();
/// assert!((mu.to_si() - 1.7652e-5).abs() < 1e-9);
/// ```
pub fn viscosity(temperature: Temperature) -> Result<Viscosity, OutOfRange> {
    let t = temperature_si(temperature)?;
    Ok(Viscosity::new(1.458e-6 * t.powf(1.5) / (t + 110.4)))
}

/// The pressure of saturated water vapour, over ice below the freezing point.
pub(in crate::calc) fn saturation_si(t: f64) -> f64 {
    if t < 273.16 {
        // over ice
        return (-5_674.535_9 / t + 6.392_524_7 - 9.677_843e-3 * t
            + 6.221_570_1e-7 * t.powi(2)
            + 2.074_782_5e-9 * t.powi(3)
            - 9.484_024e-13 * t.powi(4)
            + 4.163_501_9 * t.ln())
        .exp();
    }
    (-5_800.220_6 / t + 1.391_499_3 - 4.864_023_9e-2 * t + 4.176_476_8e-5 * t.powi(2)
        - 1.445_209_3e-8 * t.powi(3)
        + 6.545_967_3 * t.ln())
    .exp()
}

/// The pressure at which water vapour is saturated.
///
/// # Meaning
/// Over water from the triple point upward, over ice below it.
/// # Formula
/// The six- and seven-term polynomials in T and ln T of Hyland and Wexler.
/// # Valid for
/// -60 to 80 °C.
/// # Accuracy
/// 0.2 %.
/// # Source
/// ASHRAE Fundamentals, chapter Psychrometrics, equations 5 and 6 (Hyland and Wexler 1983).
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{air, amounts::{Amount, Temperature}};
/// let p = air::saturation_pressure(Temperature::written("20 °C").unwrap()).unwrap();
/// assert!((p.to_si() - 2338.8).abs() < 1.0);
/// ```
pub fn saturation_pressure(temperature: Temperature) -> Result<Pressure, OutOfRange> {
    Ok(Pressure::new(saturation_si(temperature_si(temperature)?)))
}

/// How much water goes with a kilogram of dry air.
///
/// # Meaning
/// Humidity ratio at a relative humidity; 1 for gas drawn from damp soil.
/// # Formula
/// `0.621945 e / (p - e)`, e = relative humidity times saturation pressure.
/// # Valid for
/// -60 to 80 °C, 20 to 120 kPa, relative humidity 0 to 1, and vapour below half of the whole pressure.
/// # Accuracy
/// 0.6 %: the slight attraction of air and vapour is left out.
/// # Source
/// ASHRAE Fundamentals, chapter Psychrometrics, equation 20.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{air, amounts::{Amount, Plain, Pressure, Temperature}};
/// let soil = Temperature::written("13 °C").unwrap();
/// let w = air::humidity_ratio(soil, Pressure::written("1 atm").unwrap(), Plain::written("100 %").unwrap());
/// // 0.621945 x 1497.8 / (101325 - 1497.8)
/// assert!((w.unwrap().to_si() - 0.009332).abs() < 1e-5);
/// ```
pub fn humidity_ratio(
    temperature: Temperature,
    pressure: Pressure,
    humidity: Plain,
) -> Result<Plain, OutOfRange> {
    let (t, p) = (temperature_si(temperature)?, barometer_si(pressure)?);
    let share = within("the relative humidity", humidity, 0.0, 1.0)?;
    let vapour = within("the pressure of the vapour", Pressure::new(share * saturation_si(t)), 0.0, 0.5 * p)?;
    Ok(Plain::new(WATER_TO_AIR * vapour / (p - vapour)))
}

/// The density of damp air.
///
/// # Meaning
/// Weight of a cubic metre of air and vapour together; damp air is the lighter.
/// # Formula
/// `(p - e) / (287.042 T) + e / (461.524 T)`
/// # Valid for
/// -60 to 80 °C, 20 to 120 kPa, relative humidity 0 to 1.
/// # Accuracy
/// 0.2 % against an independent equation of state.
/// # Source
/// ASHRAE Fundamentals, chapter Psychrometrics: two perfect gases side by side.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{air, amounts::{Amount, Plain, Pressure, Temperature}};
/// let soil = Temperature::written("13 °C").unwrap();
/// let rho = air::damp_density(soil, Pressure::written("1 atm").unwrap(), Plain::written("100 %").unwrap());
/// assert!((rho.unwrap().to_si() - 1.2266).abs() < 1e-3);
/// ```
pub fn damp_density(
    temperature: Temperature,
    pressure: Pressure,
    humidity: Plain,
) -> Result<Density, OutOfRange> {
    let (t, p) = (temperature_si(temperature)?, barometer_si(pressure)?);
    let vapour = within("the relative humidity", humidity, 0.0, 1.0)? * saturation_si(t);
    let dry = GAS_CONSTANT / DRY_AIR;
    Ok(Density::new((p - vapour) / (dry * t) + vapour * WATER_TO_AIR / (dry * t)))
}

/// The gas in the pipe: its density and viscosity at a temperature, a height above the sea and a humidity.
///
/// # Meaning
/// What friction, fan and draught are worked out with.
/// # Formula
/// [`pressure_at`], [`damp_density`] and [`viscosity`] put together.
/// # Valid for
/// -60 to 80 °C, -500 to 11 000 m, relative humidity 0 to 1.
/// # Accuracy
/// 0.2 % in density, 1 % in viscosity; weather moves the density by 3 %.
/// # Source
/// As the three.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{air, amounts::{Amount, Length, Plain, Temperature}};
/// let dry = Plain::written("0 %").unwrap();
/// let air = air::at(Temperature::written("10 °C").unwrap(), Length::written("0 m").unwrap(), dry).unwrap();
/// assert!((air.density.to_si() - 1.24663).abs() < 1e-4);
/// ```
pub fn at(temperature: Temperature, altitude: Length, humidity: Plain) -> Result<Air, OutOfRange> {
    Ok(Air {
        density: damp_density(temperature, pressure_at(altitude)?, humidity)?,
        viscosity: viscosity(temperature)?,
    })
}

/// The pull that a column of lighter air gives.
///
/// # Meaning
/// Pressure outside less pressure inside at the foot of a column, counted from where both are the same: the draught
/// of a passive stack, or of a warm house below its neutral height. Negative when the column is the heavier.
/// # Formula
/// `g h (rho outside - rho inside)`
/// # Valid for
/// Heights 0 to 200 m, densities 0.2 to 3 kg/m3.
/// # Accuracy
/// As the densities; still air.
/// # Source
/// Hydrostatics; g = 9.80665 m/s2.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{air, amounts::{Amount, Density, Length}};
/// let rho = |value| Density::from_si(value).unwrap();
/// let pull = air::draught(Length::written("10 m").unwrap(), rho(1.3), rho(1.2)).unwrap();
/// // 9.80665 x 10 x 0.1
/// assert!((pull.to_si() - 9.80665).abs() < 1e-9);
/// ```
pub fn draught(height: Length, outside: Density, inside: Density) -> Result<Pressure, OutOfRange> {
    let h = within("the height of the column", height, 0.0, 200.0)?;
    let outside = within("the density of the air outside", outside, 0.2, 3.0)?;
    let inside = within("the density of the air inside", inside, 0.2, 3.0)?;
    Ok(Pressure::new(GRAVITY * h * (outside - inside)))
}
