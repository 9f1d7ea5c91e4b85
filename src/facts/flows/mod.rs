//! What the pipes, the fan and the ground come to together: air, speed, suction and loss at every part, as ranges.

mod built;
mod laws;
mod left;
mod losses;
mod piping;
mod set;
mod sized;
mod worked;

use crate::base::number::{Dimension, Number};
use crate::base::value::Answer;
use crate::base::vocabulary::Thing;

use super::ask::Ask;
use super::catalogue::{Entries, Fact, Get, with_places};
use super::ground::{BOUNDS, LAYER, PITS, TESTS};
use super::kinds::Kind;
use super::system::system_of;
use left::left_at;
use set::opening;
use sized::{smallest_size, to_spare};
use worked::{FanDoes, Worked, held, worked};

/// What the way of the air through pipe and fan is read from.
pub(super) const PIPES: Entries = &[
    "site.altitude",
    "site.soil_gas_temperature",
    "site.soil_gas_humidity",
    "systems",
    "systems.*.design_point.**",
    "systems.*.pipe.**",
    "systems.*.fan",
    "systems.*.fan.**",
    "systems.*.discharge.**",
    "systems.*.runs",
    "systems.*.runs.**",
    "systems.*.suction_points",
    "systems.*.suction_points.**",
];

/// What air and suction rest on: the pipes, where they are, and the ground on which they draw.
const NEEDS: &[Entries] = with_places![PIPES, BOUNDS, PITS, LAYER, TESTS];

fn of_its_system(
    ask: &mut Ask<'_>,
    it: Thing,
    get: impl FnOnce(&Ask<'_>, &Worked) -> Answer<Number>,
) -> Answer<Number> {
    system_of(ask, it).then(|system| worked(ask, system).then(|worked| get(ask, &worked)))
}

fn of_fan(ask: &mut Ask<'_>, it: Thing, get: fn(&FanDoes) -> Option<Number>) -> Answer<Number> {
    of_its_system(ask, it, |ask, worked| match worked.fans.get(&it).and_then(get) {
        Some(number) => Answer::known(number),
        None => ask.cannot(it, "the sheet of the fan does not tell"),
    })
}

/// # Meaning
/// How fast the air goes in a run by what was worked out.
/// # Formula
/// The air worked out over the area that the run leaves to it.
/// # Valid for
/// As the air.
/// # Accuracy
/// A range.
/// # Source
/// The meaning of a mean speed.
/// # Errors
/// Unknown where the air or the area is.
/// # Example
/// 60 cfm in 0.0884 sq ft: 679 fpm.
fn speed(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let abreast = super::runs::run(ask, it, |ask, run| match run.abreast.is_missing() {
        true => Answer::known(Number::whole(1)),
        false => ask.value(&run.here, &run.abreast).map(|count| Number::whole(i64::from(count.0))),
    });
    let area = ask.number(it, "open_area").both(abreast).map(|(area, many)| &area * &many);
    ask.number(it, "worked_flow").both(area).then(|(flow, area)| match flow.divide(&area) {
        Some(speed) => Answer::known(speed),
        None => ask.cannot(it, "it leaves no room to the air"),
    })
}

/// # Meaning
/// The suction that is left at a suction point when every point draws the air that it is designed to draw.
/// # Formula
/// What the fan makes at the air of all points, less what the pipe takes from the point to the outlet, each run at the air that it
/// is designed to carry.
/// # Valid for
/// Systems whose points state the air they are designed to draw.
/// # Accuracy
/// A range: the fan's sheet, friction and fittings are each taken at both ends of what they are good to.
/// # Source
/// The budget of pressure as any duct is reckoned; parts as in [`worked`].
/// # Errors
/// Unknown where the designed air, the way or the fan's curve is; where the fan's sheet does not reach; past a valve that was set
/// by its gauge.
/// # Example
/// A fan that makes 2 in WC at 60 cfm over pipe that takes 0.3 in WC leaves 1.7 in WC.
fn suction_left(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    system_of(ask, it).then(|system| left_at(ask, system, it))
}

const BALANCE: &str = "at every junction as much air comes as goes, and along every part the pressure falls by what it takes: \
friction by Darcy and Weisbach with Colebrook, fittings by their coefficients, the fan by its curve at the density of the gas, \
the ground by its test or by what lets through least and most";
const SOURCES: &str =
    "Darcy and Weisbach; Colebrook 1939; Crane TP-410; fan laws (AMCA 210); Todini and Pilati 1987";

const SOURCES_ALONG: &str = "Darcy and Weisbach; Colebrook 1939; Crane TP-410; fan laws (AMCA 210)";

type Asked = fn(&mut Ask<'_>, Thing) -> Answer<Number>;

const fn balanced(
    of: Kind,
    name: &'static str,
    meaning: &'static str,
    dimension: Dimension,
    get: Asked,
) -> Fact {
    Fact {
        of,
        name,
        meaning,
        formula: BALANCE,
        source: SOURCES,
        needs: NEEDS,
        get: Get::Estimate(dimension, get),
    }
}

/// Facts of what pipes, fan and ground come to together.
pub(super) const FLOWS: &[Fact] = &[
    balanced(
        Kind::Fan,
        "worked_flow",
        "The air that the fan moves, as pipe and ground let it.",
        Dimension::FLOW,
        |ask, it| of_fan(ask, it, |does| does.flow.number()),
    ),
    balanced(
        Kind::Fan,
        "worked_suction",
        "The suction in the pipe just before the fan, as pipe and ground let it.",
        Dimension::PRESSURE,
        |ask, it| of_fan(ask, it, |does| does.suction.number()),
    ),
    balanced(
        Kind::Fan,
        "worked_rise",
        "The pressure that the fan makes, from its inlet to its outlet.",
        Dimension::PRESSURE,
        |ask, it| of_fan(ask, it, |does| does.rise.number()),
    ),
    balanced(
        Kind::Fan,
        "worked_power",
        "The electric power that the fan draws where it works.",
        Dimension::POWER,
        |ask, it| of_fan(ask, it, |does| does.power.and_then(|power| power.number())),
    ),
    balanced(
        Kind::Fan,
        "flow_left",
        "How much of the air at the end of the fan's curve is still to be had, as a share of it.",
        Dimension::ONE,
        |ask, it| of_fan(ask, it, |does| does.flow_left.number()),
    ),
    Fact {
        of: Kind::Fan,
        name: "suction_to_spare",
        meaning: "How much more suction the fan makes at the designed air than pipe and suction points take, at the point that has least over.",
        formula: "the least of the suctions left at the points less those that they are designed to have",
        source: SOURCES_ALONG,
        needs: NEEDS,
        get: Get::Estimate(Dimension::PRESSURE, to_spare),
    },
    balanced(
        Kind::Run,
        "worked_flow",
        "The air that goes through the run, as fan and ground let it.",
        Dimension::FLOW,
        |ask, it| of_its_system(ask, it, |ask, worked| held(ask, &worked.flows, it)),
    ),
    Fact {
        of: Kind::Run,
        name: "worked_speed",
        meaning: "How fast the air goes in the run, on the average over its section, as fan and ground let it.",
        formula: "the air worked out for it over the area it leaves to it",
        source: "the meaning of a mean speed",
        needs: NEEDS,
        get: Get::Estimate(Dimension::SPEED, speed),
    },
    balanced(
        Kind::Run,
        "worked_loss",
        "The pressure that the run takes with its fittings and its valve, from one end to the other.",
        Dimension::PRESSURE,
        |ask, it| {
            of_its_system(ask, it, |ask, worked| match worked.losses.get(&it) {
                None if worked.flows.contains_key(&it) => {
                    ask.cannot(it, "its valve was set by its gauge and not by how far it is open")
                }
                _ => held(ask, &worked.losses, it),
            })
        },
    ),
    balanced(
        Kind::SuctionPoint,
        "worked_flow",
        "The air that the suction point draws, as fan, pipe and ground let it.",
        Dimension::FLOW,
        |ask, it| of_its_system(ask, it, |ask, worked| held(ask, &worked.point_flows, it)),
    ),
    balanced(
        Kind::SuctionPoint,
        "worked_suction",
        "The suction in the pit or space at the suction point, as fan, pipe and ground let it.",
        Dimension::PRESSURE,
        |ask, it| of_its_system(ask, it, |ask, worked| held(ask, &worked.suctions, it)),
    ),
    Fact {
        of: Kind::SuctionPoint,
        name: "suction_left",
        meaning: "The suction that is left at the suction point when every point draws the air it is designed to draw.",
        formula: "what the fan makes at the air of all points, less what the pipe takes from the point to the outlet",
        source: SOURCES_ALONG,
        needs: NEEDS,
        get: Get::Estimate(Dimension::PRESSURE, suction_left),
    },
    Fact {
        of: Kind::Run,
        name: "smallest_size",
        meaning: "The smallest trade size of the run with which every suction point behind it keeps the suction it is designed for, and the air the speed that is stated.",
        formula: "for each size from the smallest up, what the fan makes at the designed air less what the pipe takes; the designed air over the clear area",
        source: SOURCES_ALONG,
        needs: NEEDS,
        get: Get::Estimate(Dimension::LENGTH, smallest_size),
    },
    Fact::stated(
        Kind::Run,
        "has_valve",
        "Whether there is a valve in the run.",
        &[&["systems.*.runs.*.valve"]],
        Get::Truth(|ask, it| super::runs::run(ask, it, |ask, run| ask.is_there(&run.here, &run.valve))),
    ),
    Fact {
        of: Kind::Run,
        name: "valve_opening",
        meaning: "How far the valve of the run is to be open for the suction point behind it to have the suction it is designed for.",
        formula: "the fall of pressure over the valve with every such point at its suction, over the pressure of the speed; the opening that takes so much",
        source: "Weisbach's table of valves, as handbooks reprint it; Todini and Pilati 1987",
        needs: NEEDS,
        get: Get::Estimate(Dimension::ONE, opening),
    },
];
