//! Facts of what all exhausts together do to the pressure in the house. They are a caution, and never take the place of
//! the test of a flue.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::{ROOT, Thing};
use crate::calc::amounts::{Amount, Flow, Plain, Pressure};
use crate::calc::house::{Tightness, at_fifty, fall_of_pressure, usual_exponent};
use crate::design::model::appliances::Venting;
use crate::design::model::building::{AirMover, MoverKind};
use crate::yaml::entry::{Entry, Here};
use crate::yaml::measure::{Flow as FlowWanted, Measure};

use super::ask::{Ask, as_stated, in_doubt};
use super::catalogue::{Entries, Fact, Get, with_air};
use super::kinds::Kind;
use super::spaces::appliance;
use super::system::system;
use super::things::of;
use super::worked::{air_of_system, worked};

/// A flow of a mover of air; the word `none` says that it moves none that way.
fn moved<'d>(ask: &mut Ask<'d>, here: &'d Here, entry: &'d Entry<Measure<FlowWanted>>) -> Answer<Number> {
    let want = entry.want(here);
    ask.read(here, entry).then(|flow| match flow {
        Some(flow) => as_stated(flow.number(), || want),
        None => Answer::known(Number::whole(0)),
    })
}

/// What a mover of air blows out of the house with everything on.
fn blown_by(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    of(
        ask,
        it,
        |things| &things.air_movers,
        |ask, mover: &AirMover| {
            let here = &mover.here;
            ask.value(here, &mover.kind).then(|kind| match kind {
                MoverKind::WholeHouseFan => {
                    ask.assume("a fan that airs the whole house runs with windows open only");
                    Answer::known(Number::whole(0))
                }
                MoverKind::AirHandler => {
                    ask.assume("the blower of the heating moves air round in the house and blows none out");
                    Answer::known(Number::whole(0))
                }
                MoverKind::HeatRecovery => {
                    let (out, back) = (moved(ask, here, &mover.exhaust), moved(ask, here, &mover.supply));
                    out.both(back).map(|(out, back)| {
                        Number::greatest(&[&out - &back, Number::whole(0)])
                            .unwrap_or_else(|| Number::whole(0))
                    })
                }
                MoverKind::AtticFan => {
                    ask.assume("of what a fan in the attic blows out, anything from nothing to all may come out of the house");
                    let want = mover.exhaust.want(here);
                    moved(ask, here, &mover.exhaust)
                        .then(|all| in_doubt(Number::between(Ratio::ZERO, all.high()), || want))
                }
                _ => moved(ask, here, &mover.exhaust),
            })
        },
    )
}

/// # Meaning
/// The air that a system draws out of the rooms of the house through cracks and joints.
/// # Formula
/// The air that it moves times the share of it that comes out of the house; between none and all where that is not stated.
/// # Valid for
/// Systems whose flow is stated.
/// # Accuracy
/// How much comes from the rooms is seldom known within half.
/// # Source
/// The meaning of a share.
/// # Errors
/// Unknown when the air that the system moves is.
/// # Example
/// 60 cfm of which 30 %: 18 cfm.
fn house_air(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let all = air_of_system(ask, it);
    system(ask, it, |ask, system| {
        let stated = ask
            .quantity_inside(&system.here, &system.design_point, "from_house", |d| (&d.here, &d.from_house));
        let share = match stated {
            Answer::Unknown(missing) => {
                ask.assume(
                    "of the air that a system moves, anything from none to all may come out of the house",
                );
                let doubts = missing.into_iter().map(|one| Missing { reason: Reason::Imprecise, ..one });
                Answer::Known { value: Number::between(Ratio::ZERO, Ratio::one()), doubts: doubts.collect() }
            }
            stated => stated,
        };
        all.both(share).map(|(all, share)| &all * &share)
    })
}

/// # Meaning
/// The air that everything blows out of the house when it all runs: fans, hood, dryer, vacuum, and what the systems draw
/// out of it.
/// # Formula
/// All of it added up. A ventilator that recovers heat counts with what it blows out over what it brings in.
/// # Valid for
/// Houses for which everything that moves air is listed.
/// # Accuracy
/// As the flows.
/// # Source
/// What goes out has to come in.
/// # Errors
/// Unknown when the list may lack some, or a flow is not stated.
/// # Example
/// A dryer of 150 cfm and a hood of 200 cfm: 350 cfm.
fn blown_out(ask: &mut Ask<'_>, _: Thing) -> Answer<Number> {
    let movers = ask.several(ROOT, "air_movers").then(|movers| {
        let open = movers.open;
        let all: Vec<Answer<Number>> = movers.items.into_iter().map(|one| blown_by(ask, one)).collect();
        let listed = if open.is_empty() { Answer::known(Number::whole(0)) } else { Answer::Unknown(open) };
        Answer::all(all).both(listed).map(|(all, _)| Number::sum(&all))
    });
    let systems = ask.several(ROOT, "systems").then(|systems| {
        if !systems.open.is_empty() {
            return Answer::Unknown(systems.open);
        }
        let all: Vec<Answer<Number>> =
            systems.items.into_iter().map(|one| ask.number(one, "house_air")).collect();
        Answer::all(all).map(|all| Number::sum(&all))
    });
    movers.both(systems).map(|(movers, systems)| &movers + &systems)
}

/// # Meaning
/// How far the pressure in the house falls below that outdoors when everything blows out at once. A caution: it never
/// takes the place of the test of a flue.
/// # Formula
/// `50 Pa (Q / Q50)^(1/n)`, with the leakage at 50 Pa.
/// # Valid for
/// The house as one, all doors in it open, on a calm day.
/// # Accuracy
/// 20 %; a closed door makes it worse where the flue is.
/// # Source
/// Power law of leakage, ASTM E779.
/// # Errors
/// Unknown when the leakage of the house or what is blown out is.
/// # Example
/// 350 cfm out of a house of 1400 cfm at 50 Pa and n = 0.65: 50 (1/4)^(1/0.65) = 5.9 Pa.
fn pressure_fall(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let building = &ask.design().building;
    let here = &building.here;
    let leaks = ask.quantity_inside(here, &building.leakage, "flow", |l| (&l.here, &l.flow));
    let at = ask.quantity_inside(here, &building.leakage, "at", |l| (&l.here, &l.at));
    ask.assume("the leaks of the house take air with a power of the pressure from 0.6 to 0.7, the day is calm, and doors within the house stand open");
    let blown = ask.number(it, "blown_out");
    let exponent = usual_exponent();
    let exponent = exponent[0].to_number().hull(&exponent[1].to_number());
    let want = ask.of_thing(it, Reason::Imprecise);
    let inputs = [leaks, at, in_doubt(exponent, || want), blown];
    worked(ask, it, inputs, |[leaks, at, exponent, blown]| {
        let exponent = Plain::from_number(exponent)?;
        let (leaks, at) = (Flow::from_number(leaks)?, Pressure::from_number(at)?);
        let blown = Flow::from_number(blown)?;
        let house = at_fifty(leaks, at, exponent).map(|flow_at_50| Tightness { flow_at_50, exponent });
        Some(house.and_then(|house| fall_of_pressure(&house, blown)))
    })
}

/// Whether the gases of an appliance leave by their own warmth, so that the house can draw them back.
fn draws_by_itself(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    appliance(ask, it, |ask, appliance| {
        ask.value(&appliance.here, &appliance.venting)
            .map(|venting| matches!(venting, Venting::NaturalDraft | Venting::FanAssisted))
    })
}

const MOVED: Entries = &[
    "building.air_movers",
    "building.air_movers.*.kind",
    "building.air_movers.*.exhaust",
    "building.air_movers.*.supply",
    "looked_for.air_movers",
    "looked_for.air_movers.within",
    "looked_for.air_movers.not_seen",
    "systems",
];
const SHARE: Entries = &["systems.*.design_point.from_house"];
const LEAKS: Entries = &["building.leakage", "building.leakage.flow", "building.leakage.at"];
const LEAKAGE: &str = "power law of leakage, ASTM E779";

/// Facts of the air that is drawn and blown out of the house.
pub(super) const HOUSE_AIR: &[Fact] = &[
    Fact {
        of: Kind::System,
        name: "house_air",
        meaning: "The air that the system draws out of the rooms of the house through cracks and joints.",
        formula: "the air that it moves times the share of it that comes out of the house; anything from none to all where that is not stated",
        source: "the meaning of a share",
        needs: with_air![SHARE],
        get: Get::Estimate(Dimension::FLOW, house_air),
    },
    Fact {
        of: Kind::Building,
        name: "blown_out",
        meaning: "The air that is blown out of the house when every exhaust, the dryer and the systems run at once.",
        formula: "the exhausts of all air movers and what the systems draw out of the house, added up",
        source: "what goes out has to come in",
        needs: with_air![MOVED, SHARE],
        get: Get::Estimate(Dimension::FLOW, blown_out),
    },
    Fact {
        of: Kind::Building,
        name: "pressure_fall",
        meaning: "How far the pressure in the house falls when every exhaust, the dryer and the systems run at once; a caution that never takes the place of the flue test.",
        formula: "the pressure of the leakage test x (what is blown out / the leakage at that pressure) ^ (1 / n)",
        source: LEAKAGE,
        needs: with_air![LEAKS, MOVED, SHARE],
        get: Get::Estimate(Dimension::PRESSURE, pressure_fall),
    },
    Fact {
        of: Kind::Appliance,
        name: "draws_by_itself",
        meaning: "Whether the gases of the appliance leave by their own warmth, so that the house can draw them back.",
        formula: "it vents by natural draft, or by a fan into a flue that draws by itself",
        source: "the meaning of the words",
        needs: &[&["building.appliances.*.venting"]],
        get: Get::Truth(draws_by_itself),
    },
    Fact {
        of: Kind::Appliance,
        name: "pressure_fall",
        meaning: "How far the pressure falls round the appliance when every exhaust, the dryer and the systems run at once, with doors in the house open; a caution that never takes the place of the flue test.",
        formula: "as for the house as a whole",
        source: LEAKAGE,
        needs: with_air![LEAKS, MOVED, SHARE],
        get: Get::Estimate(Dimension::PRESSURE, |ask, _| {
            ask.one(ROOT, "building").then(|building| ask.number(building, "pressure_fall"))
        }),
    },
];
