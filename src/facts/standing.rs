//! Facts of water that stands: in low points of pipe, in traps that suction pulls on, in pits and sumps under suction.

use crate::base::number::{Comparison, Dimension, Number, Ratio};
use crate::base::truth::Truth;
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::{ROOT, Thing};
use crate::calc::amounts::{Density, Length, MassFlow, Plain, Pressure, Volume};
use crate::calc::water;
use crate::design::model::drainage::{DrainGuard, WaterGoes};

use super::ask::{Ask, in_doubt};
use super::bores::{BEHIND, BORE, FLOWS};
use super::catalogue::{Entries, Fact, Get, with_places};
use super::cold;
use super::flows::PIPES;
use super::ground::{BOUNDS, LAYER, PITS, TESTS};
use super::kinds::Kind;
use super::runs::{CHAIN, RUN_SPACES, run};
use super::soil_gas::SOIL_GAS;
use super::suction::point;
use super::system::{self, system_of};
use super::things::of;
use super::worked::{READ_AIR, suction_at, worked};

/// Half of a number.
fn half(number: &Number) -> Number {
    number * &Number::exact(Ratio::new(1, 2).unwrap_or_default())
}

/// How far the one end of a run lies below the other.
fn fall(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let (length, slope) = (ask.number(it, "length"), ask.number(it, "slope_to_soil"));
    length.both(slope).then(|(length, slope)| {
        let along = (&Number::whole(1) + &slope.squared()).sqrt();
        match along.and_then(|along| (&length * &slope).divide(&along)) {
            Some(fall) => Answer::known(fall),
            None => ask.cannot(it, "it stands upright"),
        }
    })
}

/// # Meaning
/// How deep water stands in the deepest low point of a run that no drain empties, before it runs on.
/// # Formula
/// How deep the low point hangs, less what the slope of the run takes off it: the slope times half the distance between
/// two supports.
/// # Valid for
/// Pipe that sags between two supports.
/// # Accuracy
/// The low point is taken to lie midway between the supports.
/// # Source
/// Elementary geometry.
/// # Errors
/// Unknown when the depth of a low point, the slope or the distance between the supports is not stated.
/// # Example
/// A sag of 1 in between supports 8 ft apart at 1/8 in per ft: 1 - 4/8 = 1/2 in.
fn standing_water(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    run(ask, it, |ask, run| {
        ask.read(&run.here, &run.low_points).then(|points| {
            let mut depths = vec![Answer::known(Number::whole(0))];
            for (_, point) in points.into_iter().flat_map(|points| points.things()) {
                if ask.yes_or_no(&point.here, &point.drained).value() != Some(true) {
                    depths.push(ask.quantity(&point.here, &point.sag));
                }
            }
            if depths.len() == 1 {
                return Answer::known(Number::whole(0));
            }
            ask.assume("a low point of pipe lies midway between two supports");
            let slope = ask.number(it, "slope_to_soil").map(|slope| slope.abs());
            let spacing = ask.number(it, "hanger_spacing");
            Answer::all(depths).both(slope.both(spacing)).map(|(depths, (slope, spacing))| {
                let deepest = Number::greatest(&depths).unwrap_or_else(|| Number::whole(0));
                let stands = &deepest - &(&slope * &half(&spacing));
                Number::greatest(&[stands, Number::whole(0)]).unwrap_or_else(|| Number::whole(0))
            })
        })
    })
}

fn closes(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    let (stands, bore) = (ask.number(it, "standing_water"), ask.number(it, "bore"));
    match stands.both(bore) {
        Answer::Known { value: (stands, bore), doubts } => match stands.compare(Comparison::AtLeast, &bore) {
            Truth::True => Answer::known(true),
            Truth::False => Answer::known(false),
            Truth::Unknown => Answer::Unknown(doubts),
        },
        Answer::Unknown(missing) => Answer::Unknown(missing),
    }
}

/// # Meaning
/// The water in the deepest low point of a run when it just closes the pipe.
/// # Formula
/// `(pi D^3 / 8) (1/s1 + 1/s2)`, with the slopes on both sides of the low point.
/// # Valid for
/// Low points that hang deep enough for water to close the pipe.
/// # Accuracy
/// Exact for straight pipe bent at the low point.
/// # Source
/// Geometry: half of a cylinder cut aslant on each side.
/// # Errors
/// Cannot be told where water does not come to close the pipe.
/// # Example
/// 4 in of bore and 4 % on both sides: 3.14 x 4^3 / 8 x 50 = 1257 cubic inches, 5.4 gal.
fn closing_pool(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    ask.truth(it, "closes").then(|closes| {
        if !closes {
            return ask.cannot(it, "water does not come to close it");
        }
        let slope = ask.number(it, "slope_to_soil").map(|slope| slope.abs());
        let half_way = ask.number(it, "hanger_spacing").map(|spacing| half(&spacing));
        let (stands, bore) = (ask.number(it, "standing_water"), ask.number(it, "bore"));
        let shallow = stands.both(half_way).then(|(stands, way)| match stands.divide(&way) {
            Some(slope) => Answer::known(slope),
            None => ask.cannot(it, "its supports stand in one place"),
        });
        let steep =
            shallow.clone().both(slope).map(|(shallow, slope)| &shallow + &(&slope * &Number::whole(2)));
        worked(ask, it, [bore, shallow, steep], |[bore, shallow, steep]| {
            let (one, other) = (Plain::from_number(shallow)?, Plain::from_number(steep)?);
            Some(water::sag(Length::from_number(bore)?, one, other).map(|pool| pool.volume))
        })
    })
}

/// # Meaning
/// The shortest time in which the water that falls out of the gas closes the pipe at the deepest low point of a run.
/// # Formula
/// The water that closes it, over the most that falls out in the pipe of the system in a day.
/// # Valid for
/// As the two.
/// # Accuracy
/// No sooner than this: all that falls out is taken to run there.
/// # Source
/// Arithmetic.
/// # Errors
/// As the two; cannot be told where no water falls out.
/// # Example
/// 10 L and 5 kg a day: 2 days.
fn closes_after(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let pool = ask.number(it, "closing_pool").map(|pool| Number::exact(pool.low()));
    let most = system_of(ask, it).then(|system| ask.number(system, "condensate"));
    let most = most.then(|most| match Number::exact(most.high()).divide(&Number::whole(86_400)) {
        Some(a_second) => Answer::known(a_second),
        None => ask.cannot(it, "no water falls out"),
    });
    worked(ask, it, [pool, most], |[pool, water]| {
        let density = Density::from_number(&Number::whole(1_000))?;
        Some(water::time_to_fill(Volume::from_number(pool)?, MassFlow::from_number(water)?, density))
    })
}

/// How high a suction lifts water. An inch of water lifts an inch to the last digit: what is just as deep has nothing to
/// spare, and not a little less than nothing.
fn lifted(ask: &Ask<'_>, it: Thing, suction: Answer<Number>) -> Answer<Number> {
    let near =
        worked(ask, it, [suction.clone()], |[suction]| Some(water::lifted(Pressure::from_number(suction)?)));
    let weight = Ratio::new(980_665, 100).map(Number::exact);
    near.both(suction)
        .map(|(near, suction)| weight.and_then(|weight| suction.divide(&weight)).unwrap_or(near))
}

/// The most suction that any fan of the design can pull; none where there is no fan.
fn strongest(ask: &mut Ask<'_>) -> Answer<Number> {
    ask.several(ROOT, "fans").then(|fans| {
        if !fans.open.is_empty() {
            return Answer::Unknown(fans.open);
        }
        let all = Answer::all(fans.items.into_iter().map(|fan| ask.number(fan, "shut_off")));
        all.map(|all| Number::greatest(&all).unwrap_or_else(|| Number::whole(0)))
    })
}

/// Whether a system can pull on the trap of a drain: it holds water, and beyond it lies the soil or a sump.
fn trap_pulled_on(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    of(
        ask,
        it,
        |things| &things.drains,
        |ask, drain| {
            let trap = ask
                .read(&drain.here, &drain.guard)
                .map(|guard| matches!(guard, Some(DrainGuard::WaterTrap | DrainGuard::PrimedTrap)));
            let beyond = ask.value(&drain.here, &drain.to).map(|to| {
                matches!(to, WaterGoes::Soil | WaterGoes::DryWell | WaterGoes::DrainLoop | WaterGoes::Sump)
            });
            match (&trap, &beyond) {
                (Answer::Known { value: false, .. }, _) => trap,
                (_, Answer::Known { value: false, .. }) => beyond,
                _ => trap.both(beyond).map(|(trap, beyond)| trap && beyond),
            }
        },
    )
}

/// # Meaning
/// By how much the water in the trap of a drain is deeper than the strongest fan of the design can lift it, with no air
/// moving: a trap with less than nothing to spare can be sucked dry.
/// # Formula
/// The depth of the water in the trap, less the suction as a height of water.
/// # Valid for
/// Traps beyond which lies the soil or a sump.
/// # Accuracy
/// The safe side: the suction at the drain is less than at the fan.
/// # Source
/// Hydrostatics.
/// # Errors
/// Unknown when the depth of the trap or the suction of a fan with no air moving is not stated.
/// # Example
/// 2 in of water and a fan of 1.6 in WC: 0.4 in to spare.
fn trap_margin(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    ask.truth(it, "trap_pulled_on").then(|pulled_on| {
        if !pulled_on {
            return ask.cannot(it, "no system pulls on a trap of it");
        }
        let suction = strongest(ask);
        let high = lifted(ask, it, suction);
        ask.number(it, "trap_seal").both(high).map(|(seal, high)| &seal - &high)
    })
}

/// How high the suction at a suction point lifts water.
fn lifted_at(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let suction = suction_at(ask, it);
    lifted(ask, it, suction)
}

/// The most that any suction point which names a sump lifts the water in it.
fn lifted_in(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let name = ask.things().name(it);
    let mut found = Vec::new();
    for one in ask.things().all(Kind::SuctionPoint) {
        let names = point(ask, one, |ask, point| {
            ask.read(&point.here, &point.sump).map(|sump| sump.is_some_and(|sump| sump.as_str() == name))
        });
        if names.value() == Some(true) {
            found.push(ask.number(one, "water_lifted"));
        }
    }
    Answer::all(found).then(|found| match Number::greatest(&found) {
        Some(most) => in_doubt(most, || Missing { ..ask.of_thing(it, Reason::Imprecise) }),
        None => ask.cannot(it, "no system draws through it"),
    })
}

const SAGS: Entries = &[
    "systems.*.runs.*.low_points",
    "systems.*.runs.*.low_points.*.drained",
    "systems.*.runs.*.low_points.*.sag",
    "systems.*.runs.*.slope",
    "systems.*.runs.*.points",
    "systems.*.runs.*.points.**",
    "systems.*.runs.*.hangers",
    "systems.*.runs.*.hangers.spacing",
    "systems.*.runs.*.hangers.places",
    "systems.*.runs.*.hangers.places.**",
];
const SUCTIONS: Entries = &[
    "systems.*.suction_points",
    "systems.*.suction_points.*.suction",
    "systems.*.fan.shut_off",
    "systems.*.fan.curve",
    "systems.*.fan.curve.**",
];
const TRAPS: Entries =
    &["foundation.drains.*.guard", "foundation.drains.*.to", "foundation.drains.*.trap_depth"];

/// What the depth of water in a run is read from: the length of the run too, where it hangs from its ends alone.
const SAGGING: &[Entries] = with_places![SAGS, CHAIN, &["systems.*.runs.*.length"]];

const CLOSING: &[Entries] = with_places![SAGS, CHAIN, BORE, &["systems.*.runs.*.length"]];

const CLOSES_AFTER: &[Entries] = with_places![
    SAGS,
    cold::COLD,
    cold::WINTER,
    SOIL_GAS,
    PIPES,
    BOUNDS,
    PITS,
    LAYER,
    TESTS,
    READ_AIR,
    cold::INSULATION,
    RUN_SPACES,
    CHAIN,
    BEHIND,
    BORE,
    FLOWS,
    &["systems.*.runs.*.length"]
];

/// Facts of water that stands.
pub(super) const STANDING: &[Fact] = &[
    Fact {
        of: Kind::Run,
        name: "fall",
        meaning: "How far the end of the run toward the suction points lies below the other; negative where it lies above.",
        formula: "the length times the slope, over the root of 1 + the slope squared",
        source: "Pythagoras",
        needs: SAGGING,
        get: Get::Number(Dimension::LENGTH, fall),
    },
    Fact {
        of: Kind::Run,
        name: "standing_water",
        meaning: "How deep water stands in the deepest low point of the run that no drain empties, before it runs on.",
        formula: "how deep it hangs, less the slope of the run times half the distance between two supports",
        source: "elementary geometry",
        needs: SAGGING,
        get: Get::Estimate(Dimension::LENGTH, standing_water),
    },
    Fact {
        of: Kind::Run,
        name: "closes",
        meaning: "Whether a low point of the run hangs so deep that water closes the pipe before it runs on.",
        formula: "water stands at least as deep as the run is wide inside",
        source: "elementary geometry",
        needs: CLOSING,
        get: Get::TruthReckoned(closes),
    },
    Fact {
        of: Kind::Run,
        name: "closing_pool",
        meaning: "The water in the deepest low point of the run when it just closes the pipe.",
        formula: "pi x D^3 / 8 x (1 / one slope + 1 / other slope)",
        source: "geometry: half of a cylinder cut aslant on each side",
        needs: CLOSING,
        get: Get::Estimate(Dimension::VOLUME, closing_pool),
    },
    Fact {
        of: Kind::Run,
        name: "closes_after",
        meaning: "The shortest time in which the water that falls out of the gas closes the pipe at the deepest low point of the run.",
        formula: "the water that closes it, over the most that falls out in the pipe of the system in a day",
        source: "arithmetic",
        needs: CLOSES_AFTER,
        get: Get::Estimate(Dimension::TIME, closes_after),
    },
    Fact {
        of: Kind::Drain,
        name: "trap_pulled_on",
        meaning: "Whether a system can pull on the trap of the drain: it holds water, and beyond it lies the soil, a drain loop or a sump.",
        formula: "by what guards it, and by where its water goes",
        source: "the meaning of the words",
        needs: &[TRAPS],
        get: Get::Truth(trap_pulled_on),
    },
    Fact {
        of: Kind::Drain,
        name: "trap_margin",
        meaning: "By how much the water in the trap of the drain is deeper than the strongest fan of the design can lift, with no air moving; below nothing, the trap can be sucked dry.",
        formula: "the depth of the water in the trap, less the suction as a height of water",
        source: "hydrostatics; 1000 kg/m3",
        needs: &[TRAPS, SUCTIONS, &["systems"], system::FAN],
        get: Get::Estimate(Dimension::LENGTH, trap_margin),
    },
    Fact {
        of: Kind::SuctionPoint,
        name: "water_lifted",
        meaning: "How high the suction at the suction point lifts water in the pit, the sump or the pipe.",
        formula: "the suction it is designed to have, or else anything up to what the fan pulls with no air moving, as a height of water",
        source: "hydrostatics; 1000 kg/m3",
        needs: with_places![SUCTIONS, system::FAN, PIPES, BOUNDS, PITS, LAYER, TESTS],
        get: Get::Estimate(Dimension::LENGTH, lifted_at),
    },
    Fact {
        of: Kind::Sump,
        name: "water_lifted",
        meaning: "How high the suction lifts the water in the sump over where it would stand.",
        formula: "the most that any suction point which names it lifts water",
        source: "hydrostatics; 1000 kg/m3",
        needs: with_places![
            SUCTIONS,
            system::FAN,
            &["systems.*.suction_points.*.sump"],
            PIPES,
            BOUNDS,
            PITS,
            LAYER,
            TESTS
        ],
        get: Get::Estimate(Dimension::LENGTH, lifted_in),
    },
];
