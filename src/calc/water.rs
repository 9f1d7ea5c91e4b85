//! Water that falls out of damp gas, where it stands, and when it freezes.

use std::f64::consts::PI;

use super::air::{FREEZING, GRAVITY, WATER_TO_AIR, saturation_si};
use super::amounts::{
    Density, Flow, Insulation, Length, Made, Mass, MassFlow, OutOfRange, Plain, Pressure, SpecificHeat,
    Temperature, Time, Transmittance, Volume, within,
};

/// Density of water as pressures are told in inches of it, in kg/m3.
const WATER: f64 = 1_000.0;
/// Density of ice at its melting point, in kg/m3.
const ICE: f64 = 917.0;

/// Gas as it enters a pipe.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Entering {
    /// Its flow by volume, as it enters.
    pub flow: Flow,
    /// Its temperature.
    pub temperature: Temperature,
    /// Its relative humidity: 1 out of damp soil.
    pub humidity: Plain,
    /// Its pressure, as good as that of the open air.
    pub pressure: Pressure,
}

/// The water that falls out of gas on its way from warm to cold.
///
/// # Meaning
/// What the pipe has to lead back to the soil; nought when the gas leaves warm enough to keep its water. Below freezing it
/// stays as ice.
/// # Formula
/// Dry air in the flow, `Q (p - e)/(287.042 T)`, times what it brings less what it can hold where it leaves.
/// # Valid for
/// -60 to 60 °C at both ends, 20 to 120 kPa, flows of 0 to 10 m3/s.
/// # Accuracy
/// 0.6 % for gas that leaves saturated; real pipe keeps some mist in the air, so this is the most there can be.
/// # Source
/// Balance of water by the humidity ratios of ASHRAE Fundamentals, chapter Psychrometrics.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, water::{Entering, condensate}};
/// let c = |text| Temperature::written(text).unwrap();
/// let gas = Entering {
///     flow: Flow::written("20 cfm").unwrap(), temperature: c("13 °C"), humidity: Plain::written("1").unwrap(),
///     pressure: Pressure::written("1 atm").unwrap(),
/// };
/// // 0.009439 m3/s carry 0.01145 kg/s of dry air, which gives up 0.00933 - 0.00540 of its weight
/// let a_day = condensate(&gas, c("5 °C")).unwrap().to_si() * 86_400.0;
/// assert!((a_day - 3.89).abs() < 0.02);
/// ```
pub fn condensate(gas: &Entering, leaves_at: Temperature) -> Result<MassFlow, OutOfRange> {
    let q = within("the flow", gas.flow, 0.0, 10.0)?;
    let warm = within("the temperature of the gas", gas.temperature, FREEZING - 60.0, FREEZING + 60.0)?;
    let cold = within("the temperature at the end", leaves_at, FREEZING - 60.0, FREEZING + 60.0)?;
    let p = within("the pressure of the air", gas.pressure, 20_000.0, 120_000.0)?;
    let brought = within("the relative humidity", gas.humidity, 0.0, 1.0)? * saturation_si(warm);
    let half = |vapour: f64| within("the pressure of the vapour", Pressure::new(vapour), 0.0, 0.5 * p);
    let (brought, kept) = (half(brought)?, half(saturation_si(cold))?);
    let dry = q * (p - brought) / (287.042 * warm);
    let ratio = |vapour: f64| WATER_TO_AIR * vapour / (p - vapour);
    Ok(MassFlow::new((dry * (ratio(brought) - ratio(kept))).max(0.0)))
}

/// A pipe that loses heat to the cold round it.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct ColdPipe {
    /// Its outside diameter, on which the transmittance is counted.
    pub outside: Length,
    /// Its length in the cold.
    pub length: Length,
    /// Heat lost through its outside.
    pub transmittance: Transmittance,
}

/// Heat that a cubic metre's worth of gas carries, and how fast the pipe takes it.
fn units_si(pipe: &ColdPipe, carried: MassFlow, heat: SpecificHeat) -> Result<f64, OutOfRange> {
    let u = within("the transmittance", pipe.transmittance, 0.01, 100.0)?;
    let d = within("the outside diameter", pipe.outside, 0.01, 2.0)?;
    let l = within("the length in the cold", pipe.length, 0.0, 200.0)?;
    let m = within("the flow by weight", carried, 1e-6, 100.0)?;
    let cp = within("the heat that the gas takes", heat, 500.0, 5_000.0)?;
    Ok(u * PI * d * l / (m * cp))
}

/// The temperature at which gas leaves a pipe that runs through the cold.
///
/// # Meaning
/// Colder than in truth, as the heat that water gives up when it falls out is left out: the safe side for ice.
/// # Formula
/// `T out + (T in - T out) exp(-U pi D L / (m cp))`
/// # Valid for
/// Transmittances of 0.01 to 100 W/(m2 K), outside diameters of 10 mm to 2 m, up to 200 m, flows of 1e-6 to 100 kg/s.
/// # Accuracy
/// 20 % of the fall; the films of air on both sides are only known so well.
/// # Source
/// Heat balance along a pipe (Incropera and DeWitt, section 8.3).
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, water::{ColdPipe, exit_temperature}};
/// let si = |value| Length::from_si(value).unwrap();
/// let pipe = ColdPipe { outside: si(0.1), length: si(10.0), transmittance: Transmittance::from_si(5.0).unwrap() };
/// // U pi D L = 15.708 W/K; m cp = 15.708 W/K too: what is left of 20 degrees is 20/e = 7.36
/// let (m, cp) = (MassFlow::from_si(0.015708).unwrap(), SpecificHeat::from_si(1000.0).unwrap());
/// let c = |text| Temperature::written(text).unwrap();
/// let t = exit_temperature(&pipe, c("10 °C"), c("-10 °C"), m, cp).unwrap();
/// assert!((t.to_si() - 273.15 + 2.64).abs() < 0.01);
/// ```
pub fn exit_temperature(
    pipe: &ColdPipe,
    gas: Temperature,
    outdoors: Temperature,
    carried: MassFlow,
    heat: SpecificHeat,
) -> Result<Temperature, OutOfRange> {
    let warm = within("the temperature of the gas", gas, FREEZING - 60.0, FREEZING + 80.0)?;
    let cold = within("the temperature outdoors", outdoors, FREEZING - 60.0, FREEZING + 80.0)?;
    let units = units_si(pipe, carried, heat)?;
    Ok(Temperature::new(cold + (warm - cold) * (-units).exp()))
}

/// The temperature of two streams of gas where they have met.
///
/// # Meaning
/// No heat goes to the pipe meanwhile.
/// # Formula
/// `(m1 T1 + m2 T2) / (m1 + m2)`
/// # Valid for
/// Temperatures from 60 degrees below freezing to 80 above it; flows of 1e-6 to 100 kg/s each.
/// # Accuracy
/// 1 %, as the heat that gas takes up is taken to be the same in both.
/// # Source
/// Balance of heat where streams meet (Moran and Shapiro, mixing at constant pressure).
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, water::where_streams_meet};
/// let (c, m) = (|text| Temperature::written(text).unwrap(), |si| MassFlow::from_si(si).unwrap());
/// // three parts at 10 degrees and one at -10 make four at 5
/// let met = where_streams_meet((m(0.03), c("10 °C")), (m(0.01), c("-10 °C"))).unwrap();
/// assert!((met.to_si() - 278.15).abs() < 1e-9);
/// ```
pub fn where_streams_meet(
    one: (MassFlow, Temperature),
    other: (MassFlow, Temperature),
) -> Result<Temperature, OutOfRange> {
    let stream = |(flow, gas): (MassFlow, Temperature)| {
        let gas = within("the temperature of the gas", gas, FREEZING - 60.0, FREEZING + 80.0)?;
        Ok((within("the flow", flow, 1e-6, 100.0)?, gas))
    };
    let ((m1, t1), (m2, t2)) = (stream(one)?, stream(other)?);
    Ok(Temperature::new((m1 * t1 + m2 * t2) / (m1 + m2)))
}

/// How far gas gets in the cold before it is at a temperature; `None` when it never is.
///
/// # Meaning
/// With 0 °C: where ice can begin.
/// # Formula
/// [`exit_temperature`] turned round.
/// # Valid for
/// As [`exit_temperature`]; the length of the pipe is of no matter.
/// # Accuracy
/// As [`exit_temperature`].
/// # Source
/// As [`exit_temperature`].
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, water::{ColdPipe, reach_before}};
/// let si = |value| Length::from_si(value).unwrap();
/// let pipe = ColdPipe { outside: si(0.1), length: si(1.0), transmittance: Transmittance::from_si(5.0).unwrap() };
/// let (m, cp) = (MassFlow::from_si(0.015708).unwrap(), SpecificHeat::from_si(1000.0).unwrap());
/// let c = |text| Temperature::written(text).unwrap();
/// // half of the 20 degrees is lost after ln 2 = 0.693 of 10 m
/// let reach = reach_before(&pipe, c("10 °C"), c("-10 °C"), m, cp, c("0 °C")).unwrap().unwrap();
/// assert!((reach.to_si() - 6.93).abs() < 0.01);
/// ```
pub fn reach_before(
    pipe: &ColdPipe,
    gas: Temperature,
    outdoors: Temperature,
    carried: MassFlow,
    heat: SpecificHeat,
    wanted: Temperature,
) -> Result<Option<Length>, OutOfRange> {
    let warm = within("the temperature of the gas", gas, FREEZING - 60.0, FREEZING + 80.0)?;
    let cold = within("the temperature outdoors", outdoors, FREEZING - 60.0, FREEZING + 80.0)?;
    let at = within("the temperature looked for", wanted, FREEZING - 60.0, FREEZING + 80.0)?;
    let metre = units_si(&ColdPipe { length: Length::new(1.0), ..*pipe }, carried, heat)?;
    if at >= warm {
        return Ok(Some(Length::new(0.0)));
    }
    if at <= cold {
        return Ok(None);
    }
    Ok(Some(Length::new(((warm - cold) / (at - cold)).ln() / metre)))
}

/// Heat lost through an insulated pipe's outside.
///
/// # Meaning
/// Insulation counted as on a flat wall, which for thick layers on thin pipe is a little too good; both films of air in it.
/// # Formula
/// `1 / (1/h in + R + 1/h out)`
/// # Valid for
/// Insulation of 0 to 10 m2 K/W, films of 2 to 100 W/(m2 K).
/// # Accuracy
/// 20 %, by the films.
/// # Source
/// Resistances one behind the other; films of some 10 inside and 25 in wind by ISO 6946 (8 and 25 for walls).
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, water::transmittance};
/// let film = |value| Transmittance::from_si(value).unwrap();
/// // 1 / (0.1 + 0.86 + 0.04)
/// let u = transmittance(Insulation::from_si(0.86).unwrap(), film(10.0), film(25.0)).unwrap();
/// assert!((u.to_si() - 1.0).abs() < 1e-12);
/// ```
pub fn transmittance(
    insulation: Insulation,
    inside_film: Transmittance,
    outside_film: Transmittance,
) -> Result<Transmittance, OutOfRange> {
    let r = within("the insulating value", insulation, 0.0, 10.0)?;
    let inside = within("the film of air inside", inside_film, 2.0, 100.0)?;
    let outside = within("the film of air outside", outside_film, 2.0, 100.0)?;
    Ok(Transmittance::new(1.0 / (1.0 / inside + r + 1.0 / outside)))
}

/// The films of air in and round a pipe that carries soil gas through the cold, from the least to the greatest that is usual.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Films {
    /// Inside, by the speed of the gas.
    pub inside: [Transmittance; 2],
    /// Outside, from a still attic to a windy wall.
    pub outside: [Transmittance; 2],
}

/// The films of air in and round a pipe that carries soil gas through the cold.
///
/// # Meaning
/// What may be taken for [`transmittance`]; the plastic of the pipe itself is counted with the insulation.
/// # Formula
/// 5 to 16 W/(m2 K) inside, 8 to 25 outside.
/// # Valid for
/// Pipe of 2 to 8 in with gas at 1 to 5 m/s.
/// # Accuracy
/// A range.
/// # Source
/// Inside: the law of Dittus and Boelter, `0.023 Re^0.8 Pr^0.3 k / D`, which gives 16 at 3.5 m/s in a bore of 100 mm and
/// less for slower gas. Outside: ISO 6946, 25 in wind and 8 in still air, radiation in it.
/// # Errors
/// None.
/// # Example
/// ```
/// use undercroft::calc::{amounts::Amount, water::films};
/// let films = films();
/// assert!(films.inside[0].to_si() < films.inside[1].to_si() && films.outside[0].to_si() < films.outside[1].to_si());
/// ```
#[must_use]
pub fn films() -> Films {
    let pair = |low: f64, high: f64| [Transmittance::new(low), Transmittance::new(high)];
    Films { inside: pair(5.0, 16.0), outside: pair(8.0, 25.0) }
}

/// The insulation with which gas leaves a pipe no colder than wanted; `None` where none is enough.
///
/// # Meaning
/// With 0 °C: what keeps a cold pipe free of ice. Nought where a bare pipe will do.
/// # Formula
/// [`exit_temperature`] turned round for the transmittance, and [`transmittance`] for the insulation:
/// `pi D L / (m cp ln((T in - T out)/(T wanted - T out))) - 1/h in - 1/h out`
/// # Valid for
/// As [`exit_temperature`], films as [`transmittance`].
/// # Accuracy
/// As [`exit_temperature`].
/// # Source
/// As [`exit_temperature`].
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, water::{ColdPipe, insulation_for}};
/// let si = |value| Length::from_si(value).unwrap();
/// let film = |value| Transmittance::from_si(value).unwrap();
/// let pipe = ColdPipe { outside: si(0.1), length: si(10.0), transmittance: film(5.0) };
/// let (m, cp) = (MassFlow::from_si(0.015708).unwrap(), SpecificHeat::from_si(1000.0).unwrap());
/// let c = |text| Temperature::written(text).unwrap();
/// // U pi D L = m cp ln 2 leaves half of the 20 degrees: 1/U = 3.1416/(15.708 x 0.6931) = 0.28854, less 0.1 and 0.04
/// let r = insulation_for(&pipe, c("10 °C"), c("-10 °C"), m, cp, c("0 °C"), [film(10.0), film(25.0)]);
/// assert!((r.unwrap().unwrap().to_si() - 0.14854).abs() < 1e-4);
/// ```
pub fn insulation_for(
    pipe: &ColdPipe,
    gas: Temperature,
    outdoors: Temperature,
    carried: MassFlow,
    heat: SpecificHeat,
    wanted: Temperature,
    [inside, outside]: [Transmittance; 2],
) -> Result<Option<Insulation>, OutOfRange> {
    let warm = within("the temperature of the gas", gas, FREEZING - 60.0, FREEZING + 80.0)?;
    let cold = within("the temperature outdoors", outdoors, FREEZING - 60.0, FREEZING + 80.0)?;
    let at = within("the temperature looked for", wanted, FREEZING - 60.0, FREEZING + 80.0)?;
    let unit = units_si(&ColdPipe { transmittance: Transmittance::new(1.0), ..*pipe }, carried, heat)?;
    let inside = within("the film of air inside", inside, 2.0, 100.0)?;
    let outside = within("the film of air outside", outside, 2.0, 100.0)?;
    if at <= cold {
        return Ok(Some(Insulation::new(0.0)));
    }
    if at >= warm {
        return Ok(None);
    }
    let resistance = unit / ((warm - cold) / (at - cold)).ln();
    Ok(Some(Insulation::new((resistance - 1.0 / inside - 1.0 / outside).max(0.0))))
}

/// How far a sloped run falls.
///
/// # Meaning
/// The height of its one end over the other, for the length along the level.
/// # Formula
/// `run x slope`
/// # Valid for
/// Runs of up to 500 m, slopes of up to 10 either way.
/// # Accuracy
/// Exact.
/// # Source
/// Definition of slope.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, water::fall};
/// let slope = Plain::written("1/8 in per ft").unwrap();
/// // 20 ft at 1/8 in per ft: 2 1/2 in
/// assert!((fall(Length::written("20 ft").unwrap(), slope).unwrap().to_si() - 2.5 * 0.0254).abs() < 1e-12);
/// ```
pub fn fall(run: Length, slope: Plain) -> Result<Length, OutOfRange> {
    let slope = within("the slope", slope, -10.0, 10.0)?;
    Ok(Length::new(within("the length of the run", run, 0.0, 500.0)? * slope))
}

/// The pool in the sag of a pipe when it just closes the bore.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Sag {
    /// The water in it.
    pub volume: Volume,
    /// Its length along the pipe.
    pub length: Length,
}

/// The pool that closes the bore where a pipe sags.
///
/// # Meaning
/// The pipe falls to a low point from both sides; water stands there until it touches the top of the bore.
/// # Formula
/// Volume `(pi D^3/8)(1/s1 + 1/s2)`, length `D/s1 + D/s2`.
/// # Valid for
/// Inside diameters of 10 mm to 1 m, slopes of 0.0005 to 0.5 on both sides.
/// # Accuracy
/// Exact for straight pipe bent at the low point.
/// # Source
/// Geometry: half of a cylinder cut aslant on each side.
/// # Errors
/// [`OutOfRange`] outside the range: level pipe has no low point.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, water::sag};
/// let slope = Plain::written("1 %").unwrap();
/// let pool = sag(Length::from_si(0.1).unwrap(), slope, slope).unwrap();
/// // pi/8 x 0.001 x 200 and 10 + 10
/// assert!((pool.volume.to_si() - 0.078_54).abs() < 1e-5 && (pool.length.to_si() - 20.0).abs() < 1e-9);
/// ```
pub fn sag(inside: Length, one: Plain, other: Plain) -> Result<Sag, OutOfRange> {
    let d = within("the inside diameter", inside, 0.01, 1.0)?;
    let one = within("the slope on the one side", one, 0.0005, 0.5)?;
    let other = within("the slope on the other side", other, 0.0005, 0.5)?;
    let both = 1.0 / one + 1.0 / other;
    Ok(Sag { volume: Volume::new(PI * d.powi(3) / 8.0 * both), length: Length::new(d * both) })
}

/// How long until water fills a volume.
///
/// # Meaning
/// With the pool of [`sag`]: the time until the pipe is blocked, if no water leaves.
/// # Formula
/// `V rho / m`
/// # Valid for
/// Volumes of 0 to 10 m3, flows of 1e-9 to 1 kg/s, densities of 900 to 1100 kg/m3.
/// # Accuracy
/// As its inputs.
/// # Source
/// Arithmetic.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, water::time_to_fill};
/// let ten_litres = Volume::written("10 L").unwrap();
/// let water = Density::from_si(1000.0).unwrap();
/// // 5 kg a day
/// let time = time_to_fill(ten_litres, MassFlow::from_si(5.0 / 86_400.0).unwrap(), water).unwrap();
/// assert!((time.to_si() - 2.0 * 86_400.0).abs() < 1e-6);
/// ```
pub fn time_to_fill(volume: Volume, water: MassFlow, density: Density) -> Result<Time, OutOfRange> {
    let v = within("the volume", volume, 0.0, 10.0)?;
    let rho = within("the density of the water", density, 900.0, 1_100.0)?;
    Ok(Time::new(v * rho / within("the flow of water", water, 1e-9, 1.0)?))
}

/// The ice that a weight of water makes.
///
/// # Meaning
/// Its volume, without air in it; rime takes up more.
/// # Formula
/// `m / 917 kg/m3`
/// # Valid for
/// 0 to 100 t.
/// # Accuracy
/// 0.5 % for clear ice.
/// # Source
/// Density of ice at 0 °C (CRC Handbook).
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, water::ice};
/// assert!((ice(Mass::from_si(917.0).unwrap()).unwrap().to_si() - 1.0).abs() < 1e-12);
/// ```
pub fn ice(water: Mass) -> Result<Volume, OutOfRange> {
    Ok(Volume::new(within("the weight of the water", water, 0.0, 100_000.0)? / ICE))
}

/// How high a suction lifts water.
///
/// # Meaning
/// How deep a trap has to be to hold against the suction, and how far water comes up in a pit under it. A trap whose seal is less
/// deep is sucked dry.
/// # Formula
/// `p / (rho g)` with water of 1000 kg/m3, as inches of water are counted.
/// # Valid for
/// 0 to 20 kPa.
/// # Accuracy
/// 0.2 % for cool water; the swing of a trap when a fan starts is not in it.
/// # Source
/// Hydrostatics.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, water::lifted};
/// let up = lifted(Pressure::written("2 in WC").unwrap()).unwrap();
/// assert!((up.to_si() - 2.0 * 0.0254).abs() < 1e-9);
/// ```
pub fn lifted(suction: Pressure) -> Result<Length, OutOfRange> {
    Ok(Length::new(within("the suction", suction, 0.0, 20_000.0)? / (WATER * GRAVITY)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::amounts::Amount;

    #[test]
    fn gas_that_stays_warm_keeps_its_water() {
        let gas = Entering {
            flow: Flow::new(0.02),
            temperature: Temperature::new(FREEZING + 13.0),
            humidity: Plain::new(0.5),
            pressure: Pressure::new(101_325.0),
        };
        assert!(condensate(&gas, Temperature::new(FREEZING + 10.0)).unwrap().to_si() < 1e-15);
        assert!(condensate(&gas, Temperature::new(FREEZING - 5.0)).unwrap().to_si() > 0.0);
    }

    #[test]
    fn insulation_keeps_the_gas_warmer_and_where_ice_begins_agrees_with_the_end() {
        let film = Transmittance::new;
        let pipe = |r: f64| ColdPipe {
            outside: Length::new(0.114),
            length: Length::new(6.0),
            transmittance: transmittance(Insulation::new(r), film(10.0), film(25.0)).unwrap(),
        };
        let (m, cp) = (MassFlow::new(0.02), SpecificHeat::new(1_006.0));
        let (gas, cold) = (Temperature::new(FREEZING + 13.0), Temperature::new(FREEZING - 15.0));
        let bare = exit_temperature(&pipe(0.0), gas, cold, m, cp).unwrap();
        let wrapped = exit_temperature(&pipe(0.7), gas, cold, m, cp).unwrap();
        assert!(cold < bare && bare < wrapped && wrapped < gas);
        let reach = reach_before(&pipe(0.0), gas, cold, m, cp, bare).unwrap().unwrap();
        assert!((reach.to_si() - 6.0).abs() < 1e-9);
        let never = reach_before(&pipe(0.0), gas, cold, m, cp, Temperature::new(FREEZING - 20.0));
        assert_eq!(never, Ok(None));
    }

    #[test]
    fn level_pipe_has_no_low_point() {
        assert!(sag(Length::new(0.1), Plain::new(0.0), Plain::new(0.01)).is_err());
    }
}
