//! The gas that comes out of the soil: how warm and how damp it is, and what follows for its weight and its flow.
//!
//! Where nobody measured it, it is anything that is usual under a house; everything that turns on it takes it from here.

use crate::base::number::Number;
use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::calc::air;
use crate::calc::amounts::{Amount, Length, Temperature, Viscosity};

use super::ask::{Ask, in_doubt};
use super::catalogue::Entries;
use super::worked::worked;

/// What it is read from.
pub(super) const SOIL_GAS: Entries =
    &["site.soil_gas_temperature", "site.soil_gas_humidity", "site.altitude"];

/// A range that nature gives where nobody measured.
pub(super) fn usual<A: Amount>([least, greatest]: [A; 2]) -> Number {
    least.to_number().hull(&greatest.to_number())
}

/// The temperature of the soil gas as it comes in: as stated, or what is usual.
pub(super) fn soil_gas(ask: &mut Ask<'_>) -> Answer<Number> {
    let site = &ask.design().site;
    let want = site.soil_gas_temperature.want(&site.here);
    match ask.quantity(&site.here, &site.soil_gas_temperature) {
        Answer::Unknown(_) => {
            ask.assume("soil gas comes in at a temperature that is usual under a house, from 41 to 68 degrees Fahrenheit (5 to 20 degrees Celsius)");
            in_doubt(usual(air::usual_soil_gas_temperature()), || want)
        }
        stated => stated,
    }
}

/// How damp the soil gas is as it comes in: as stated, or what is usual.
pub(super) fn dampness(ask: &mut Ask<'_>) -> Answer<Number> {
    let site = &ask.design().site;
    let want = site.soil_gas_humidity.want(&site.here);
    match ask.quantity(&site.here, &site.soil_gas_humidity) {
        Answer::Unknown(_) => {
            ask.assume(
                "soil gas comes in saturated with water, or four fifths so where it holds air of the house",
            );
            in_doubt(usual(air::usual_soil_gas_humidity()), || want)
        }
        stated => stated,
    }
}

/// The pressure of the open air, by the height above the sea.
pub(super) fn barometer(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let site = &ask.design().site;
    let altitude = ask.quantity(&site.here, &site.altitude);
    worked(ask, it, [altitude], |[altitude]| Some(air::pressure_at(Length::from_number(altitude)?)))
}

/// How much the soil gas resists being moved, at the least and at the most: the warmer it is, the more.
pub(super) fn viscosities(ask: &mut Ask<'_>, it: Thing) -> Answer<(Viscosity, Viscosity)> {
    soil_gas(ask).then(|warm| {
        let (low, high) = warm.to_f64_bounds();
        let at = |kelvin: f64| air::viscosity(Temperature::from_si(kelvin)?).ok();
        match at(low).zip(at(high)) {
            Some(both) => Answer::known(both),
            None => ask.cannot(it, "the temperature of the soil gas is none that soil gas has"),
        }
    })
}
