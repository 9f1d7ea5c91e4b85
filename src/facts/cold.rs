//! Facts of runs that pass the cold: how cold the gas in them grows in winter, the water that falls out of it, and where
//! it freezes.

use crate::base::number::{Comparison, Dimension, Number, Ratio};
use crate::base::truth::Truth;
use crate::base::value::{Answer, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::air;
use crate::calc::amounts::{
    Amount, Flow, Insulation, Length, Mass, MassFlow, Plain, Pressure, Temperature, Transmittance,
};
use crate::calc::water::{self, ColdPipe, Entering};

use super::ask::{Ask, in_doubt};
use super::bores::{BEHIND, BORE, FLOWS};
use super::catalogue::{Entries, Fact, Get, with_places};
use super::downstream::flows_back;
use super::flows::PIPES;
use super::ground::{BOUNDS, LAYER, PITS, TESTS};
use super::kinds::Kind;
use super::layout::stack_of;
use super::outlet::outside_diameter_of;
use super::runs::{CHAIN, RUN_SPACES, is_outdoors, passes, run, spaces};
use super::soil_gas::{SOIL_GAS, barometer, dampness, soil_gas, usual};
use super::things::SpaceMember;
use super::worked::{READ_AIR, air_of, is_of_air, worked};

/// Seconds of a day.
const DAY: i64 = 86_400;

/// The point at which water freezes.
fn freezing() -> Number {
    Number::exact(Ratio::new(27_315, 100).unwrap_or_default())
}

/// The soil gas that a run carries, by weight.
fn by_weight(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let (flow, gas, pressure) = (air_of(ask, it), soil_gas(ask), barometer(ask, it));
    let density = worked(ask, it, [gas, pressure], |[gas, pressure]| {
        Some(air::dry_density(Temperature::from_number(gas)?, Pressure::from_number(pressure)?))
    });
    flow.both(density).map(|(flow, density)| &flow * &density)
}

/// Whether a space lies outside of what is heated: the open air, or a room that is not heated.
fn is_cold(ask: &mut Ask<'_>, space: Thing) -> Answer<bool> {
    match is_outdoors(ask, space) {
        Answer::Known { value: false, .. } => ask.truth(space, "conditioned").map(|heated| !heated),
        outdoors => outdoors,
    }
}

fn passes_cold(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    run(ask, it, |ask, run| match ask.quantity(&run.here, &run.in_cold) {
        Answer::Known { value, doubts } if value.is_point() => {
            Answer::Known { value: value.low() != Ratio::ZERO, doubts }
        }
        _ => passes(ask, it, is_cold),
    })
}

/// # Meaning
/// How much of a run lies in the open air or in rooms that are not heated.
/// # Formula
/// As stated; all of it where it passes nothing else, none of it where it passes heated rooms alone.
/// # Valid for
/// Every run.
/// # Accuracy
/// Where it passes both, anything up to its length.
/// # Source
/// The entries.
/// # Errors
/// Unknown when its rooms are not stated, or whether they are heated.
/// # Example
/// 5 ft 6 in through an attic and the open air: 5 ft 6 in.
fn cold_length(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    run(ask, it, |ask, run| {
        let stated = ask.quantity(&run.here, &run.in_cold);
        if let Answer::Known { .. } = stated {
            return stated;
        }
        let want = run.in_cold.want(&run.here);
        spaces(ask, it).then(|spaces| {
            let cold = Answer::all(spaces.items.iter().map(|space| is_cold(ask, *space)));
            cold.then(|cold| {
                if cold.iter().all(|cold| !cold) {
                    return Answer::known(Number::whole(0));
                }
                let length = ask.number(it, "length");
                if cold.iter().all(|cold| *cold) {
                    return length;
                }
                length.then(|length| in_doubt(Number::between(Ratio::ZERO, length.high()), || want))
            })
        })
    })
}

/// # Meaning
/// The temperature round the cold part of a run on the coldest days that are designed for.
/// # Formula
/// The winter design temperature in the open air; in a room that is not heated what is stated for it in winter, or else
/// anything from that of the open air to that of the soil gas.
/// # Valid for
/// Runs that pass the cold.
/// # Accuracy
/// A range where it passes several.
/// # Source
/// The meaning of the words.
/// # Errors
/// Unknown when the winter design temperature is not stated.
/// # Example
/// `winter_design: 5 degF` and a run outdoors: 5 degF.
fn cold_around(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let site = &ask.design().site;
    let outdoors = ask.quantity(&site.here, &site.winter_design);
    spaces(ask, it).then(|spaces| {
        let mut found = Vec::new();
        for space in spaces.items {
            match is_cold(ask, space) {
                Answer::Known { value: true, .. } => found.push(winter_in(ask, space, &outdoors)),
                Answer::Known { .. } => {}
                Answer::Unknown(missing) => found.push(Answer::Unknown(missing)),
            }
        }
        Answer::all(found).then(|found| match found.into_iter().reduce(|a, b| a.hull(&b)) {
            Some(around) => in_doubt(around, || ask.of_thing(it, Reason::Reckoned)),
            None => outdoors,
        })
    })
}

fn winter_in(ask: &mut Ask<'_>, space: Thing, outdoors: &Answer<Number>) -> Answer<Number> {
    let Some(SpaceMember::Named(_, record)) = ask.things().space(space) else { return outdoors.clone() };
    let want = record.winter_temperature.want(&record.here);
    match ask.quantity(&record.here, &record.winter_temperature) {
        Answer::Unknown(_) => {
            ask.assume("a room that is not heated is in winter as cold as the open air at worst, and as warm as the soil gas at best");
            let soil = soil_gas(ask);
            outdoors.clone().both(soil).then(|(cold, warm)| in_doubt(cold.hull(&warm), || want))
        }
        stated => stated,
    }
}

/// # Meaning
/// The temperature at which gas comes into a run in winter.
/// # Formula
/// That of the soil gas at a suction point, and otherwise that at which it leaves the runs it comes from; where several
/// meet, `(m1 T1 + m2 T2) / (m1 + m2)`, and anything between them where the air that they carry is not known.
/// # Valid for
/// Runs that hang together with a suction point.
/// # Accuracy
/// What heated rooms and the fan give to it is left out, so that it is no colder than this.
/// # Source
/// Balance of heat where streams meet.
/// # Errors
/// Unknown when the way of the gas is not stated.
/// # Example
/// A run that begins at a suction point, with soil gas of 55 degF: 55 degF.
fn gas_in(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let Some(owner) = ask.things().owner(it) else { return ask.cannot(it, "it belongs to no system") };
    let soil = soil_gas(ask);
    let back = flows_back(ask, it);
    run(ask, it, |ask, record| {
        back.then(|back| {
            let begins = ask.read(&record.here, &record.from).value().flatten().map(|from| from.as_str());
            let ends = ask.read(&record.here, &record.to).value().flatten().map(|to| to.as_str());
            let name = ask.things().name(it);
            let point = |ask: &Ask<'_>, name: Option<&str>| {
                name.is_some_and(|name| ask.things().named(Kind::SuctionPoint, Some(owner), name).is_some())
            };
            let comes_from = match (back, begins) {
                (true, _) => Some(name.as_str()),
                (false, Some("fan")) => Some("fan"),
                (false, begins) => {
                    if point(ask, begins) {
                        return soil;
                    }
                    let before = begins.and_then(|name| ask.things().named(Kind::Run, Some(owner), name));
                    return match before {
                        Some(before) => ask.number(before, "gas_out"),
                        None => ask.cannot(it, "where its gas comes from is not stated"),
                    };
                }
            };
            let mut streams = Vec::new();
            let mut runs = Vec::new();
            if back && point(ask, ends) {
                streams.push(soil);
            }
            for other in ask.things().owned(Kind::Run, owner) {
                let Some(run) = ask.things().runs.get(other.number as usize).map(|run| run.it) else {
                    continue;
                };
                let from = ask.read(&run.here, &run.from).value().flatten().map(|from| from.as_str());
                if other != it && from == comes_from && flows_back(ask, other).value() == Some(true) {
                    streams.push(ask.number(other, "gas_out"));
                    runs.push(other);
                }
            }
            let all_are_runs = runs.len() == streams.len();
            let meet = streams.len() > 1;
            Answer::all(streams).then(|streams| match streams.into_iter().reduce(|a, b| a.hull(&b)) {
                Some(gas) if gas.is_point() || !meet => Answer::known(gas),
                Some(gas) => {
                    // Where nothing turns on it, what each of them carries is of no matter.
                    let may_freeze = gas.compare(Comparison::AtMost, &freezing()) == Truth::Unknown;
                    let met = if all_are_runs && may_freeze { where_they_meet(ask, it, &runs) } else { None };
                    met.unwrap_or_else(|| in_doubt(gas, || ask.of_thing(it, Reason::Reckoned)))
                }
                None => ask.cannot(it, "where its gas comes from is not stated"),
            })
        })
    })
}

/// The temperature of the gas where several runs have met, by what each of them carries; `None` where that is not known.
fn where_they_meet(ask: &mut Ask<'_>, it: Thing, runs: &[Thing]) -> Option<Answer<Number>> {
    let mut met: Option<(Answer<Number>, Answer<Number>)> = None;
    for run in runs {
        let (carried, gas) = (by_weight(ask, *run), ask.number(*run, "gas_out"));
        if matches!(carried, Answer::Unknown(_)) {
            return None;
        }
        met = Some(match met {
            None => (carried, gas),
            Some((so_far, warm)) => {
                let inputs = [so_far.clone(), warm, carried.clone(), gas];
                let mixed = worked(ask, it, inputs, |[m1, t1, m2, t2]| {
                    let one = (MassFlow::from_number(m1)?, Temperature::from_number(t1)?);
                    let other = (MassFlow::from_number(m2)?, Temperature::from_number(t2)?);
                    Some(water::where_streams_meet(one, other))
                });
                (so_far.both(carried).map(|(a, b)| &a + &b), mixed)
            }
        });
    }
    met.map(|(_, gas)| gas).filter(|gas| matches!(gas, Answer::Known { .. }))
}

/// Heat lost through the pipe of a run, with what is round it and with the films of air.
fn transmittance(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let round = ask.number(it, "insulation");
    let films = water::films();
    ask.assume("the films of air in and round the pipe take up as much heat as they usually do, from still air to wind");
    let inputs = [round, Answer::known(usual(films.inside)), Answer::known(usual(films.outside))];
    worked(ask, it, inputs, |[round, inside, outside]| {
        Some(water::transmittance(
            Insulation::from_number(round)?,
            Transmittance::from_number(inside)?,
            Transmittance::from_number(outside)?,
        ))
    })
}

/// # Meaning
/// The temperature at which gas leaves a run on the coldest days that are designed for.
/// # Formula
/// `T out + (T in - T out) exp(-U pi D L / (m cp))`
/// # Valid for
/// As `calc::water::exit_temperature`.
/// # Accuracy
/// No colder than this, but for the films of air: the heat of the water that falls out is left out.
/// # Source
/// Heat balance along a pipe (Incropera and DeWitt, section 8.3).
/// # Errors
/// Unknown when the air that the run carries, its insulation or the winter design temperature is.
/// # Example
/// A run that passes heated rooms alone: the temperature at which the gas comes in.
fn gas_out(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let gas = ask.number(it, "gas_in");
    ask.number(it, "cold_length").then(|length| {
        if length.is_point() && length.low() == Ratio::ZERO {
            return gas;
        }
        let around = ask.number(it, "cold_around");
        let (wide, loss, carried) =
            (outside_diameter_of(ask, it), transmittance(ask, it), by_weight(ask, it));
        let inputs = [Answer::known(length), gas, around, wide, loss, carried];
        worked(ask, it, inputs, |[length, gas, around, wide, loss, carried]| {
            let pipe = ColdPipe {
                outside: Length::from_number(wide)?,
                length: Length::from_number(length)?,
                transmittance: Transmittance::from_number(loss)?,
            };
            let (gas, around) = (Temperature::from_number(gas)?, Temperature::from_number(around)?);
            let carried = MassFlow::from_number(carried)?;
            Some(water::exit_temperature(&pipe, gas, around, carried, air::heat_taken()))
        })
    })
}

/// # Meaning
/// Whether the gas in a run is at or below freezing where it leaves it, on the coldest days that are designed for.
/// # Formula
/// The temperature at which it leaves is no more than that at which water freezes.
/// # Valid for
/// As the temperature. Rime at the rim of an outlet is not in it.
/// # Accuracy
/// As the temperature.
/// # Source
/// Water freezes at 0 °C.
/// # Errors
/// Unknown when the temperature may lie on both sides.
/// # Example
/// Gas that leaves at 45 degF: no.
fn freezes(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    match ask.number(it, "gas_out") {
        // Air that is only reckoned decides nothing: what is designed may be another.
        Answer::Known { doubts, .. } if doubts.iter().any(is_of_air) => {
            Answer::Unknown(doubts.into_iter().filter(is_of_air).collect())
        }
        Answer::Known { value, doubts } => match value.compare(Comparison::AtMost, &freezing()) {
            Truth::True => Answer::known(true),
            Truth::False => Answer::known(false),
            Truth::Unknown => Answer::Unknown(doubts),
        },
        Answer::Unknown(missing) => Answer::Unknown(missing),
    }
}

/// What falls out of gas between the soil and a temperature, by weight in a day.
fn falls_out(ask: &mut Ask<'_>, it: Thing, at: Answer<Number>) -> Answer<Number> {
    let (flow, gas, damp, pressure) = (air_of(ask, it), soil_gas(ask), dampness(ask), barometer(ask, it));
    let day = Number::whole(DAY);
    worked(ask, it, [flow, gas, damp, pressure, at], |[flow, gas, damp, pressure, at]| {
        let gas = Entering {
            flow: Flow::from_number(flow)?,
            temperature: Temperature::from_number(gas)?,
            humidity: Plain::from_number(damp)?,
            pressure: Pressure::from_number(pressure)?,
        };
        Some(water::condensate(&gas, Temperature::from_number(at)?))
    })
    .map(|a_second| &a_second * &day)
}

/// # Meaning
/// The water that falls out of the gas between the soil and the end of a run, in one of the coldest days that are
/// designed for.
/// # Formula
/// The dry air in the flow times what it brings less what it can hold at the end of the run.
/// # Valid for
/// As `calc::water::condensate`.
/// # Accuracy
/// The most there can be: some of it leaves as mist.
/// # Source
/// Balance of water by the humidity ratios of ASHRAE Fundamentals, chapter Psychrometrics.
/// # Errors
/// Unknown when the air that the run carries, the height above the sea or the winter design temperature is.
/// # Example
/// 20 cfm from 13 °C to 5 °C at sea level: 3.9 kg.
fn condensate(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let at = ask.number(it, "gas_out");
    falls_out(ask, it, at)
}

/// # Meaning
/// The ice that the gas leaves in the pipe by the end of a run, in one of the coldest days that are designed for.
/// # Formula
/// What falls out below freezing, over the density of ice; nothing where the gas stays above it.
/// # Valid for
/// As the water that falls out.
/// # Accuracy
/// The most there can be; rime takes up more room.
/// # Source
/// 917 kg/m3, density of ice at 0 °C (CRC Handbook).
/// # Errors
/// As the water that falls out.
/// # Example
/// Gas that leaves at 45 degF: none.
fn ice(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let out = ask.number(it, "gas_out");
    let (flow, gas, damp, pressure) = (air_of(ask, it), soil_gas(ask), dampness(ask), barometer(ask, it));
    let day = Number::whole(DAY);
    let freezing = Temperature::from_number(&freezing());
    let weight = worked(ask, it, [flow, gas, damp, pressure, out], |[flow, gas, damp, pressure, out]| {
        let gas = Entering {
            flow: Flow::from_number(flow)?,
            temperature: Temperature::from_number(gas)?,
            humidity: Plain::from_number(damp)?,
            pressure: Pressure::from_number(pressure)?,
        };
        let (out, freezing) = (Temperature::from_number(out)?, freezing?);
        let in_all = water::condensate(&gas, if out < freezing { out } else { freezing });
        let above = water::condensate(&gas, freezing);
        match (in_all, above) {
            (Ok(in_all), Ok(above)) => MassFlow::from_si(in_all.to_si() - above.to_si()).map(Ok),
            (Err(error), _) | (_, Err(error)) => Some(Err(error)),
        }
    });
    let weight = weight.map(|a_second| &a_second * &day);
    worked(ask, it, [weight], |[weight]| Some(water::ice(Mass::from_number(weight)?)))
}

/// The cold part of a run as the formulas want it: what goes into each of them, but for its length.
fn cold_pipe(ask: &mut Ask<'_>, it: Thing) -> [Answer<Number>; 5] {
    let (gas, around) = (ask.number(it, "gas_in"), ask.number(it, "cold_around"));
    [gas, around, outside_diameter_of(ask, it), transmittance(ask, it), by_weight(ask, it)]
}

/// # Meaning
/// How far the gas gets in the cold before it is at freezing, on the coldest days that are designed for.
/// # Formula
/// The temperature at the end of a run, turned round for the length.
/// # Valid for
/// Runs round which it freezes.
/// # Accuracy
/// No less than this, but for the films of air.
/// # Source
/// As the temperature at the end.
/// # Errors
/// Cannot be told where the gas never comes down to freezing, or may not.
/// # Example
/// Gas that comes in at freezing: nothing.
fn frost_reach(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let [gas, around, wide, loss, carried] = cold_pipe(ask, it);
    let above = match &around {
        Answer::Known { value, .. } => value.compare(Comparison::AtLeast, &freezing()),
        Answer::Unknown(_) => Truth::False,
    };
    match above {
        Truth::True => return ask.cannot(it, "round it water does not freeze"),
        Truth::Unknown => {
            let Answer::Known { doubts, .. } = around else { return around };
            return Answer::Unknown(doubts);
        }
        Truth::False => {}
    }
    worked(ask, it, [gas, around, wide, loss, carried], |[gas, around, wide, loss, carried]| {
        let pipe = ColdPipe {
            outside: Length::from_number(wide)?,
            length: Length::from_number(&Number::whole(1))?,
            transmittance: Transmittance::from_number(loss)?,
        };
        let (gas, around) = (Temperature::from_number(gas)?, Temperature::from_number(around)?);
        let carried = MassFlow::from_number(carried)?;
        let freezing = Temperature::from_number(&freezing())?;
        water::reach_before(&pipe, gas, around, carried, air::heat_taken(), freezing).transpose()
    })
}

/// # Meaning
/// The insulation with which the gas leaves a run above freezing, on the coldest days that are designed for.
/// # Formula
/// The temperature at the end of the run, turned round for the insulation; nothing where a bare pipe will do.
/// # Valid for
/// As the temperature.
/// # Accuracy
/// No more than this is needed, but for the films of air.
/// # Source
/// As the temperature at the end.
/// # Errors
/// Cannot be told where the gas comes in at freezing or below.
/// # Example
/// A run through heated rooms: nothing.
fn insulation_needed(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let [gas, around, wide, _, carried] = cold_pipe(ask, it);
    let length = ask.number(it, "cold_length");
    if let Answer::Known { value, .. } = &gas
        && value.compare(Comparison::More, &freezing()) != Truth::True
    {
        return ask.cannot(it, "the gas may come into it at freezing or below, and no insulation warms it");
    }
    let films = water::films();
    let [inside, outside] = [Answer::known(usual(films.inside)), Answer::known(usual(films.outside))];
    let inputs = [length, gas, around, wide, carried, inside, outside];
    worked(ask, it, inputs, |[length, gas, around, wide, carried, inside, outside]| {
        let films = [Transmittance::from_number(inside)?, Transmittance::from_number(outside)?];
        let pipe = ColdPipe {
            outside: Length::from_number(wide)?,
            length: Length::from_number(length)?,
            transmittance: Transmittance::from_number(inside)?,
        };
        let (gas, around) = (Temperature::from_number(gas)?, Temperature::from_number(around)?);
        let carried = MassFlow::from_number(carried)?;
        let freezing = Temperature::from_number(&freezing())?;
        water::insulation_for(&pipe, gas, around, carried, air::heat_taken(), freezing, films).transpose()
    })
}

/// A number of the run that ends at the discharge.
fn at_the_end(ask: &mut Ask<'_>, it: Thing, name: &str) -> Answer<Number> {
    stack_of(ask, it).then(|stack| ask.number(stack, name))
}

pub(super) const COLD: Entries = &["systems.*.runs.*.in_cold", "building.spaces.*.conditioned"];
pub(super) const WINTER: Entries = &["site.winter_design", "building.spaces.*.winter_temperature"];
const LENGTH: Entries = &["systems.*.runs.*.length"];
pub(super) const INSULATION: Entries = &[
    "systems.*.runs.*.insulation",
    "systems.*.runs.*.insulation.r",
    "systems.*.pipe.insulation",
    "systems.*.pipe.insulation.r",
];

/// What the temperature of the gas along the runs is read from.
const GAS: &[Entries] = with_places![
    COLD, WINTER, SOIL_GAS, LENGTH, INSULATION, RUN_SPACES, CHAIN, BEHIND, BORE, FLOWS, PIPES, BOUNDS, PITS,
    LAYER, TESTS, READ_AIR
];

const fn of_run(
    name: &'static str,
    meaning: &'static str,
    formula: &'static str,
    source: &'static str,
    get: Get,
) -> Fact {
    Fact { of: Kind::Run, name, meaning, formula, source, needs: GAS, get }
}

const PIPE_IN_COLD: &str =
    "heat balance along a pipe (Incropera and DeWitt, section 8.3); films of air by ISO 6946";
const WATER_IN_AIR: &str = "humidity ratios of ASHRAE Fundamentals, chapter Psychrometrics";

/// Facts of runs that pass the cold.
pub(super) const COLD_RUNS: &[Fact] = &[
    of_run(
        "passes_cold",
        "Whether the run passes the open air or a room that is not heated.",
        "some space that it passes is outdoors or not heated",
        "the meaning of the words",
        Get::Truth(passes_cold),
    ),
    of_run(
        "cold_length",
        "How much of the run lies in the open air or in rooms that are not heated.",
        "as stated; all of it where it passes nothing else, none of it where it passes heated rooms alone, and otherwise anything up to its length",
        "the entries",
        Get::Number(Dimension::LENGTH, cold_length),
    ),
    of_run(
        "cold_around",
        "The temperature round the cold part of the run, on the coldest days that are designed for.",
        "the winter design temperature outdoors; in a room that is not heated what is stated for it, or else anything from that to the temperature of the soil gas",
        "the meaning of the words",
        Get::Number(Dimension::TEMPERATURE, cold_around),
    ),
    of_run(
        "gas_in",
        "The temperature at which gas comes into the run in winter.",
        "that of the soil gas at a suction point, otherwise that at which it leaves the runs before; where several meet, anything between them",
        "balance of heat where streams meet",
        Get::Estimate(Dimension::TEMPERATURE, gas_in),
    ),
    of_run(
        "gas_out",
        "The temperature at which gas leaves the run, on the coldest days that are designed for; what heated rooms, the fan and the water that falls out give to it is left out, so that it is rather warmer.",
        "T around + (T in - T around) x exp(-U x pi x D x L / (m x cp))",
        PIPE_IN_COLD,
        Get::Estimate(Dimension::TEMPERATURE, gas_out),
    ),
    of_run(
        "freezes",
        "Whether the gas is at or below freezing where it leaves the run, on the coldest days that are designed for; rime at the rim of an outlet is not in it.",
        "the temperature at which it leaves is no more than that at which water freezes",
        PIPE_IN_COLD,
        Get::TruthReckoned(freezes),
    ),
    of_run(
        "frost_reach",
        "How far the gas gets in the cold before it is at freezing, on the coldest days that are designed for.",
        "ln((T in - T around) / (T freezing - T around)) x m x cp / (U x pi x D)",
        PIPE_IN_COLD,
        Get::Estimate(Dimension::LENGTH, frost_reach),
    ),
    of_run(
        "insulation_needed",
        "The insulation with which the gas leaves the run above freezing, on the coldest days that are designed for; nothing where bare pipe will do.",
        "pi x D x L / (m x cp x ln((T in - T around) / (T freezing - T around))), less the films of air",
        PIPE_IN_COLD,
        Get::Estimate(Dimension::INSULATION, insulation_needed),
    ),
    of_run(
        "condensate",
        "The most water that falls out of the gas between the soil and the end of the run, in one of the coldest days that are designed for.",
        "the dry air in the flow times what it brings less what it can hold at the end of the run",
        WATER_IN_AIR,
        Get::Estimate(Dimension::MASS, condensate),
    ),
    of_run(
        "ice",
        "The most ice that the gas leaves in the pipe by the end of the run, in one of the coldest days that are designed for.",
        "the water that falls out below freezing, over 917 kg/m3",
        "humidity ratios of ASHRAE Fundamentals, chapter Psychrometrics; density of ice of the CRC Handbook",
        Get::Estimate(Dimension::VOLUME, ice),
    ),
    Fact {
        of: Kind::System,
        name: "condensate",
        meaning: "The most water that falls out of the gas in all the pipe of the system, in one of the coldest days that are designed for.",
        formula: "what falls out between the soil and the end of the run at the discharge",
        source: WATER_IN_AIR,
        needs: GAS,
        get: Get::Estimate(Dimension::MASS, |ask, it| at_the_end(ask, it, "condensate")),
    },
    Fact {
        of: Kind::System,
        name: "ice",
        meaning: "The most ice that the gas leaves in all the pipe of the system, in one of the coldest days that are designed for.",
        formula: "what freezes by the end of the run at the discharge",
        source: WATER_IN_AIR,
        needs: GAS,
        get: Get::Estimate(Dimension::VOLUME, |ask, it| at_the_end(ask, it, "ice")),
    },
];
