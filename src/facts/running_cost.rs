//! Facts of what a system costs to run, and of what it takes of its circuit. The local code and a licensed electrician
//! have the last word on wiring.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::air;
use crate::calc::amounts::{
    DegreeTime, Density, Energy, EnergyPrice, Flow, Power, Pressure, Temperature, Time,
};
use crate::calc::energy;
use crate::design::model::fan::{CurvePoint, Fan};

use super::ask::{Ask, in_doubt};
use super::catalogue::{Entries, Fact, Get, with_air};
use super::fan::fan;
use super::kinds::Kind;
use super::soil_gas::{barometer, soil_gas};
use super::system::{self, system_of};
use super::worked::{air_of_system, worked};

/// Seconds of a year of 365 days, all of which a fan runs.
const YEAR: i64 = 8_760 * 3_600;

/// A part of a whole, both numbers of one thing.
fn share(ask: &mut Ask<'_>, it: Thing, part: &str, whole: &str) -> Answer<Number> {
    let (part, whole) = (ask.number(it, part), ask.number(it, whole));
    part.both(whole).then(|(part, whole)| match part.divide(&whole) {
        Some(share) => Answer::known(share),
        None => ask.cannot(it, "the whole is nothing"),
    })
}

/// One point of a fan's curve, with its power: its air, and the power with which it moves it.
fn drawn_at<'d>(ask: &mut Ask<'d>, point: &'d CurvePoint) -> Answer<(Number, Number)> {
    ask.quantity(&point.here, &point.flow).both(ask.quantity(&point.here, &point.power))
}

/// The power between the two points of a curve that lie round a flow.
fn by_curve<'d>(ask: &mut Ask<'d>, it: Thing, fan: &'d Fan, flow: &Number) -> Answer<Number> {
    let want = fan.curve.want(&fan.here);
    ask.value(&fan.here, &fan.curve).then(|curve| {
        let points: Vec<Answer<(Number, Number)>> =
            curve.members().map(|point| drawn_at(ask, point)).collect();
        Answer::all(points).then(|mut points| {
            points.sort_by_key(|(air, _)| air.low());
            let below = points.iter().rposition(|(air, _)| air.high() <= flow.low());
            let above = points.iter().position(|(air, _)| air.low() >= flow.high());
            let (Some(below), Some(above)) = (below, above) else {
                return ask.cannot(it, "the air that it moves lies beyond the ends of its curve");
            };
            let round = points
                .iter()
                .enumerate()
                .filter(|(at, _)| (below.min(above)..=below.max(above)).contains(at));
            match round.map(|(_, (_, power))| power.clone()).reduce(|a, b| a.hull(&b)) {
                Some(power) => in_doubt(power, || Missing { reason: Reason::Imprecise, ..want }),
                None => Answer::missing(want),
            }
        })
    })
}

/// # Meaning
/// The electric power that a fan draws at the air it moves.
/// # Formula
/// As read at start-up, where there is one fan; or what the curve says for the air that the system moves, between the two
/// points round it; or anything up to the most it can draw.
/// # Valid for
/// Fans with one of the three.
/// # Accuracy
/// As the maker's sheet.
/// # Source
/// The maker's sheet; the power of a fan between two points of its curve lies between theirs.
/// # Errors
/// Unknown when none of the three is stated.
/// # Example
/// 90 W at 40 cfm and 80 W at 90 cfm: at 60 cfm between 80 and 90 W.
fn power_drawn(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let start_up = &ask.design().start_up;
    if ask.things().count(Kind::Fan) == 1 {
        let read = ask.quantity(&start_up.here, &start_up.fan_power);
        if let Answer::Known { .. } = read {
            return read;
        }
    }
    let flow = system_of(ask, it).then(|system| air_of_system(ask, system));
    fan(ask, it, |ask, fan| {
        let by_curve = flow.then(|flow| by_curve(ask, it, fan, &flow));
        if let Answer::Known { .. } = by_curve {
            return by_curve;
        }
        let want = start_up.fan_power.want(&start_up.here);
        match ask.quantity(&fan.here, &fan.power) {
            Answer::Known { value, .. } => in_doubt(Number::between(Ratio::ZERO, value.high()), || want),
            Answer::Unknown(_) => by_curve,
        }
    })
}

fn energy_a_year(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    ask.assume("the fan runs day and night all the year");
    let inputs = [ask.number(it, "power_drawn"), Answer::known(Number::whole(YEAR))];
    worked(ask, it, inputs, |[power, year]| {
        Some(energy::used(Power::from_number(power)?, Time::from_number(year)?))
    })
}

fn cost_a_year(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let site = &ask.design().site;
    let price = ask.quantity(&site.here, &site.electricity_price);
    let inputs = [ask.number(it, "energy_a_year"), price];
    worked(ask, it, inputs, |[energy, price]| {
        Some(energy::cost(Energy::from_number(energy)?, EnergyPrice::from_number(price)?))
    })
}

/// # Meaning
/// The heat that goes in a year with the air that a system draws out of the rooms.
/// # Formula
/// `Q rho cp D`, D the heating degree days.
/// # Valid for
/// As `calc::energy::heat_lost`.
/// # Accuracy
/// As the air that comes out of the rooms; what the heating makes of its fuel is not in it.
/// # Source
/// Sensible heat; degree days as in ASHRAE Fundamentals, chapter Energy Estimating.
/// # Errors
/// Unknown when the air, the height above the sea or the degree days are not stated.
/// # Example
/// 10 L/s at 1.2 kg/m3 and 3000 C-days: 0.01 x 1.2 x 1006 x 3000 x 24 h = 869 kWh.
fn heat_lost(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let site = &ask.design().site;
    let degrees = ask.quantity(&site.here, &site.degree_days);
    let (air, gas, pressure) = (ask.number(it, "house_air"), soil_gas(ask), barometer(ask, it));
    let density = worked(ask, it, [gas, pressure], |[gas, pressure]| {
        Some(air::dry_density(Temperature::from_number(gas)?, Pressure::from_number(pressure)?))
    });
    worked(ask, it, [air, density, degrees], |[air, density, degrees]| {
        let (air, density) = (Flow::from_number(air)?, Density::from_number(density)?);
        let degrees = DegreeTime::from_number(degrees)?;
        Some(energy::heat_lost(air, density, air::heat_taken(), degrees))
    })
}

const DROP: Entries = &[
    "systems.*.fan",
    "systems.*.fan.current",
    "systems.*.wiring.circuit.other_loads",
    "systems.*.wiring.circuit.length",
    "systems.*.wiring.circuit.wire",
    "systems.*.wiring.circuit.strands",
    "systems.*.wiring.circuit.voltage",
];
const LOAD: Entries = &[
    "systems.*.fan",
    "systems.*.fan.current",
    "systems.*.wiring.circuit.other_loads",
    "systems.*.wiring.circuit.breaker",
];
const POWER: Entries =
    &["systems.*.fan.curve", "systems.*.fan.curve.**", "systems.*.fan.power", "start_up.fan_power"];
const PRICE: Entries = &["site.electricity_price"];
const HEAT: Entries =
    &["site.degree_days", "site.altitude", "site.soil_gas_temperature", "systems.*.design_point.from_house"];
const DESIGNED: Entries = &["systems.*.design_point"];

/// Facts of what a system costs to run and takes of its circuit.
pub(super) const RUNNING_COST: &[Fact] = &[
    Fact {
        of: Kind::Circuit,
        name: "drop_share",
        meaning: "The share of the voltage that is lost between the panel and the fan; the local code and a licensed electrician have the last word.",
        formula: "the voltage lost on the way over the voltage of the circuit",
        source: "Ohm's law",
        needs: &[DROP],
        get: Get::Number(Dimension::ONE, |ask, it| share(ask, it, "voltage_drop", "voltage")),
    },
    Fact {
        of: Kind::Circuit,
        name: "load_share",
        meaning: "The share of its breaker's rating that the circuit carries with the fan running; the local code and a licensed electrician have the last word.",
        formula: "the whole load over the rating of the breaker",
        source: "currents side by side add up, taken as all in phase",
        needs: &[LOAD],
        get: Get::Number(Dimension::ONE, |ask, it| share(ask, it, "load", "rating")),
    },
    Fact {
        of: Kind::Circuit,
        name: "fan_share",
        meaning: "The share of its breaker's rating that the fan alone takes; the local code and a licensed electrician have the last word.",
        formula: "the load of the fan over the rating of the breaker",
        source: "the meaning of a share",
        needs: &[LOAD],
        get: Get::Number(Dimension::ONE, |ask, it| share(ask, it, "fan_load", "rating")),
    },
    Fact {
        of: Kind::Fan,
        name: "power_drawn",
        meaning: "The electric power that the fan draws at the air it moves.",
        formula: "as read at start-up; or what its curve says for the air that the system moves, between the points round it; or anything up to the most it can draw",
        source: "the maker's sheet",
        needs: with_air![POWER, DESIGNED],
        get: Get::Estimate(Dimension::POWER, power_drawn),
    },
    Fact {
        of: Kind::Fan,
        name: "energy_a_year",
        meaning: "The electric energy that the fan takes in a year.",
        formula: "its power times 8760 h",
        source: "the meaning of power",
        needs: with_air![POWER, DESIGNED],
        get: Get::Estimate(Dimension::ENERGY, energy_a_year),
    },
    Fact {
        of: Kind::Fan,
        name: "cost_a_year",
        meaning: "What the electric energy of the fan costs in a year, at the price that is stated.",
        formula: "the energy times the price",
        source: "arithmetic",
        needs: with_air![POWER, DESIGNED, PRICE],
        get: Get::Estimate(Dimension::MONEY, cost_a_year),
    },
    Fact {
        of: Kind::System,
        name: "heat_lost",
        meaning: "The heat that goes in a year with the air that the system draws out of the rooms; what the heating makes of its fuel is not in it.",
        formula: "Q x rho x cp x the heating degree days",
        source: "sensible heat; degree days as in ASHRAE Fundamentals, chapter Energy Estimating",
        needs: with_air![HEAT, DESIGNED, system::FAN],
        get: Get::Estimate(Dimension::ENERGY, heat_lost),
    },
];
