//! Facts of the suction that spreads under the floor: at test holes, at the weakest place, over shares of an area.

use std::rc::Rc;

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::amounts::{Amount, Conductance, Plain, Pressure, Viscosity};
use crate::calc::field::Field;
use crate::calc::geometry::PlanPoint;
use crate::calc::soil::ground::{Layer, reach};

use super::ask::Ask;
use super::catalogue::{Entries, Fact, Get, with_places};
use super::flows::PIPES;
use super::foundation::area;
use super::ground::{BOUNDS, Beside, Ground, LAYER, PITS, TESTS, conductances, ground_of};
use super::kinds::Kind;
use super::soil_gas::viscosities;
use super::within;

/// The fields of an area at the ends of what is known.
type Fields = Rc<[Field]>;

/// The fields of an area: with the layer in which suction carries least far and the least suction at the points, and with the
/// layer in which it carries furthest and the most; each with and without the footings of which it is not known whether they keep gas
/// back.
///
/// Pits and drains are held at their suctions. The suction anywhere is then a mean of theirs and of the room's nought, weighted by the
/// layer alone, so that it rises with each of them; it rises with the reach; and a joint that lets in air lowers it. A footing may lessen or
/// raise it, so both are looked at. The cores of a block wall have along the wall anything from none of the suction to all of it, and pass
/// it on to the fill or not: least is a wall that lets in the room, most the greater of one that pulls and one that is not there.
fn fields(ask: &mut Ask<'_>, it: Thing) -> Answer<Fields> {
    ask.between("field", it, |ask| {
        ground_of(ask, it).then(|ground| {
            if ground.draws.is_empty() {
                return ask.cannot(it, "no suction point draws on what lies under it");
            }
            let mut suctions = Vec::new();
            for draw in &ground.draws {
                suctions.push(ask.number(draw.point, "worked_suction"));
            }
            Answer::all(suctions).then(|suctions| solved(ask, it, &ground, &suctions))
        })
    })
}

fn solved(ask: &Ask<'_>, it: Thing, ground: &Ground, suctions: &[Number]) -> Answer<Fields> {
    let pressure = |si: f64| Pressure::from_si(si.max(0.0)).unwrap_or(Pressure::ZERO);
    let mut weak: Vec<Pressure> = suctions.iter().map(|it| pressure(it.to_f64_bounds().0)).collect();
    for (suction, draw) in weak.iter_mut().zip(&ground.draws) {
        if draw.cores.is_some() {
            *suction = Pressure::ZERO;
        }
    }
    let strong = suctions.iter().map(|it| pressure(it.to_f64_bounds().1)).collect();
    let ends: [(Layer, bool, Vec<Pressure>); 2] =
        [(ground.layers.near, true, weak), (ground.layers.far, false, strong)];
    let footings: &[bool] = if ground.doubtful.is_empty() { &[false] } else { &[false, true] };
    let mut fields = Vec::new();
    for (layer, least, held) in &ends {
        // a wall without suction that passes gas is the least there can be; one with all of it may bring suction here and take it there
        let walls: &[bool] = if *least || !ground.has_walls() { &[true] } else { &[false, true] };
        for footings in footings.iter().copied() {
            for walls in walls.iter().copied() {
                let beside = Beside { footings, slits: *least, walls };
                fields.push(ground.field(ask, it, *layer, beside, held));
            }
        }
    }
    Answer::all(fields).map(Rc::from)
}

/// What a number of the fields comes to over all of them.
fn over_all(ask: &mut Ask<'_>, it: Thing, of: impl Fn(&Field) -> Option<f64>, why: &str) -> Answer<Number> {
    fields(ask, it).then(|fields| match hull(fields.iter().map(of)) {
        Some(number) => Answer::known(number),
        None => ask.cannot(it, why),
    })
}

pub(super) fn hull(mut numbers: impl Iterator<Item = Option<f64>>) -> Option<Number> {
    let (low, high) = numbers.try_fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), next| {
        next.map(|next| (low.min(next), high.max(next)))
    })?;
    Number::from_f64_range(low, high)
}

/// What an end of a layer comes to, over all ends.
fn of_layers(ask: &mut Ask<'_>, it: Thing, of: fn(&Layer) -> Option<f64>) -> Answer<Number> {
    ground_of(ask, it).then(|ground| {
        let ends = ground.layers;
        match hull([ends.near, ends.far, ends.least, ends.most].iter().map(of)) {
            Some(number) => Answer::known(number),
            None => ask.cannot(it, "it is out of range"),
        }
    })
}

fn suction_reach(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    of_layers(ask, it, |layer| reach(layer).ok().map(Amount::to_si))
}

fn air_leaking_in(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let leaks = of_layers(ask, it, |layer| Some(layer.leakage.to_si()));
    leaks.both(ask.number(it, "size")).map(|(leaks, size)| &leaks * &size)
}

/// With all points at one suction nothing passes between them: what each takes from the room adds up.
fn air_given(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    conductances(ask, it).then(|by| {
        if by.points.is_empty() {
            return ask.cannot(it, "no suction point draws on what lies under it");
        }
        let all = |by: &[Vec<Conductance>]| -> Option<f64> {
            Some(by.iter().enumerate().filter_map(|(at, row)| row.get(at)).map(|own| own.to_si()).sum())
        };
        match hull([all(&by.low), all(&by.high)].into_iter()) {
            Some(number) => Answer::known(number),
            None => ask.cannot(it, "it is out of range"),
        }
    })
}

/// A suction in pascals. The field is solved to so many digits; what lies below them, far below what any gauge feels, is none.
fn no_less_than_is_felt(suction: Pressure) -> f64 {
    const LEAST: f64 = 1e-4;
    let pascals = suction.to_si();
    if pascals.abs() < LEAST { 0.0 } else { pascals }
}

fn weakest_suction(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    over_all(ask, it, |field| Some(no_less_than_is_felt(field.weakest()?.suction)), "it has no weakest place")
}

fn at_least(ask: &mut Ask<'_>, it: Thing, share: f64) -> Answer<Number> {
    over_all(ask, it, |field| Some(field.at_least(Plain::from_si(share)?).to_si()), "it has no fill")
}

fn wanted_suction(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    area(ask, it, |ask, record| ask.quantity(&record.here, &record.wanted_suction))
}

/// A wanted suction that is a range is weighed at both its ends.
fn share_held(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    wanted_suction(ask, it).both(fields(ask, it)).then(|(wanted, fields)| {
        let (low, high) = wanted.to_f64_bounds();
        let share = |field: &Field, wanted: f64| Some(field.share_beyond(Pressure::from_si(wanted)?).to_si());
        match hull(fields.iter().flat_map(|field| [share(field, low), share(field, high)])) {
            Some(number) => Answer::known(number),
            None => ask.cannot(it, "it has no fill"),
        }
    })
}

/// # Meaning
/// The suction that is worked out at a test hole.
/// # Formula
/// The field of the leaky layer there; the room is nought.
/// # Valid for
/// Holes within an area whose field can be worked out.
/// # Accuracy
/// A range from the least to the most that what is known of the ground allows.
/// # Source
/// Leaky-layer flow (Jacob 1946).
/// # Errors
/// Unknown where the place of the hole is, or the field.
/// # Example
/// A hole in the middle between two like pits reads what each of them brings there, twice.
fn worked_suction(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let both = within::area_of(ask, it).then(|its| {
        let at = area(ask, its, |ask, area| within::plan(ask, it, area));
        at.both(fields(ask, its))
    });
    both.then(|(at, fields)| {
        let there =
            |at: &PlanPoint| hull(fields.iter().map(|field| field.suction(at).map(no_less_than_is_felt)));
        match there(&at) {
            Some(number) => Answer::known(number),
            None => {
                let why = Reason::NotComputable(
                    "it does not lie within its area; a hole goes through the floor inside the walls"
                        .to_owned(),
                );
                Answer::missing(hole_place(ask, it, why))
            }
        }
    })
}

/// The entry that says where a hole is.
fn hole_place(ask: &Ask<'_>, it: Thing, reason: Reason) -> Missing {
    let hole = ask.things().test_holes.get(it.number as usize).map(|hole| hole.it);
    match hole {
        Some(hole) if hole.from_walls.is_missing() => Missing { reason, ..hole.at.want(&hole.here) },
        Some(hole) => Missing { reason, ..hole.from_walls.want(&hole.here) },
        None => ask.of_thing(it, reason),
    }
}

/// A cell of a field: its corners, and a suction in its middle.
type Cell = (PlanPoint, PlanPoint, Pressure);

/// The least suction that the fields allow, cell by cell on the plan of the site, and whether a test told the ground.
pub(super) fn least_all_over(ask: &mut Ask<'_>, it: Thing) -> Answer<(Vec<Cell>, bool)> {
    let outline = area(ask, it, within::outline);
    outline.both(fields(ask, it)).both(ground_of(ask, it)).map(|((_, fields), ground)| {
        let (first, others) = fields.split_first().map_or((None, &[][..]), |(one, more)| (Some(one), more));
        let half = Ratio::new(1, 2).unwrap_or_default();
        let mut cells = first.map(Field::shading).unwrap_or_default();
        for (low, high, least) in &mut cells {
            let middle = PlanPoint::new(&(&low.x + &high.x) * &half, &(&low.y + &high.y) * &half);
            for there in others.iter().filter_map(|field| field.suction(&middle)) {
                if there.to_si() < least.to_si() {
                    *least = there;
                }
            }
        }
        (cells, ground.tested)
    })
}

/// The suction that was read at a hole, less that worked out.
fn beyond_worked(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let read = ask.number(it, "pressure");
    read.both(ask.number(it, "worked_suction")).map(|(read, worked)| &read.negate() - &worked)
}

/// # Meaning
/// How readily air passes what lies under an area.
/// # Formula
/// `k = T mu / h`, T how freely it flows along the layer, h how deep that is; a darcy is 9.869233e-13 m2.
/// # Valid for
/// Layers of fill whose depth is stated.
/// # Accuracy
/// A range, as the layer.
/// # Source
/// Darcy's law.
/// # Errors
/// Unknown where depth or layer is.
/// # Example
/// Clean stone of which nothing was tested: 1,000 to 1,000,000 darcys.
fn permeability(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    const DARCY: f64 = 9.869_233e-13;
    let along = of_layers(ask, it, |layer| Some(layer.transmissivity.to_si()));
    let depth = ask.number(it, "under_slab_depth");
    let tested = ground_of(ask, it).map(|ground| ground.tested);
    let air = viscosities(ask, it);
    along.both(depth).both(air.both(tested)).then(|((along, depth), ((cold, warm), tested))| {
        let ((low, high), (thin, thick)) = (along.to_f64_bounds(), depth.to_f64_bounds());
        // How freely gas flows along a layer that nobody tested was reckoned with just these; a test tells it whatever the air was.
        let (least, most) = if tested { (cold, warm) } else { (warm, cold) };
        let in_darcys = |along: f64, air: Viscosity, depth: f64| Some(along * air.to_si() / depth / DARCY);
        match hull(
            [
                in_darcys(low, least, thin),
                in_darcys(low, least, thick),
                in_darcys(high, most, thin),
                in_darcys(high, most, thick),
            ]
            .into_iter(),
        ) {
            Some(number) => Answer::known(number),
            None => ask.cannot(it, "it is out of range"),
        }
    })
}

pub(super) const LEAKY: &str =
    "leaky-layer flow (Jacob 1946); what is assumed is named, what was tested takes its place";

/// What the ground is read from.
const GROUND: &[Entries] = with_places![BOUNDS, PITS, LAYER, TESTS];

/// What the field is read from, the ground and the suctions at the points.
pub(super) const FIELD: &[Entries] = with_places![BOUNDS, PITS, LAYER, TESTS, PIPES];

/// What the field at a hole is read from.
const HOLE_FIELD: &[Entries] = with_places![BOUNDS, PITS, LAYER, TESTS, PIPES, HOLES];

/// Where a test hole is.
const HOLES: Entries = &[
    "start_up.field.*.in",
    "start_up.field.*.at",
    "start_up.field.*.at.**",
    "start_up.field.*.from_walls",
    "start_up.field.*.from_walls.**",
];

/// Facts of the ground and the field under areas.
pub(super) const AREAS: &[Fact] = &[
    Fact::stated(
        Kind::Area,
        "wanted_suction",
        "The suction that is wanted everywhere under the area.",
        &[&["foundation.areas.*.wanted_suction"]],
        Get::Number(Dimension::PRESSURE, wanted_suction),
    ),
    Fact {
        of: Kind::Area,
        name: "permeability",
        meaning: "How readily air passes what lies under the area, in darcys: some thousand and more for clean stone, less than one for clay.",
        formula: "how freely gas flows along the layer, times the viscosity of air, over how deep the layer is",
        source: "Darcy's law; what is assumed is named, what was tested takes its place",
        needs: GROUND,
        get: Get::Estimate(Dimension::ONE, permeability),
    },
    Fact {
        of: Kind::Area,
        name: "suction_reach",
        meaning: "How far suction carries under the area before leaks have eaten two thirds of it.",
        formula: "the root of how freely gas flows along the layer over what leaks into it",
        source: LEAKY,
        needs: GROUND,
        get: Get::Estimate(Dimension::LENGTH, suction_reach),
    },
    Fact {
        of: Kind::Area,
        name: "air_leaking_in",
        meaning: "The air that leaks in under the area while all of it is held at a suction of one pascal.",
        formula: "what leaks in through a unit of area, times the size of the area",
        source: LEAKY,
        needs: GROUND,
        get: Get::Estimate(Dimension::FLOW, air_leaking_in),
    },
    Fact {
        of: Kind::Area,
        name: "air_given",
        meaning: "The air that the suction points in the area draw together from the ground while all are held at one pascal.",
        formula: "the flows into all pits in the field of the leaky layer",
        source: LEAKY,
        needs: GROUND,
        get: Get::Estimate(Dimension::FLOW, air_given),
    },
    Fact {
        of: Kind::Area,
        name: "weakest_suction",
        meaning: "The suction at the weakest place under the area.",
        formula: "the field of the leaky layer, at the corner or cell where it is least",
        source: LEAKY,
        needs: FIELD,
        get: Get::Estimate(Dimension::PRESSURE, weakest_suction),
    },
    Fact {
        of: Kind::Area,
        name: "half_suction",
        meaning: "The suction that half of the area has at least.",
        formula: "the field of the leaky layer, cell by cell, the greatest first",
        source: LEAKY,
        needs: FIELD,
        get: Get::Estimate(Dimension::PRESSURE, |ask, it| at_least(ask, it, 0.5)),
    },
    Fact {
        of: Kind::Area,
        name: "most_suction",
        meaning: "The suction that nine tenths of the area have at least.",
        formula: "the field of the leaky layer, cell by cell, the greatest first",
        source: LEAKY,
        needs: FIELD,
        get: Get::Estimate(Dimension::PRESSURE, |ask, it| at_least(ask, it, 0.9)),
    },
    Fact {
        of: Kind::Area,
        name: "share_held",
        meaning: "The share of the area that has at least the suction that is wanted under it.",
        formula: "the cells of the field with that suction, over all",
        source: LEAKY,
        needs: with_places![BOUNDS, PITS, LAYER, TESTS, &["foundation.areas.*.wanted_suction"], PIPES],
        get: Get::Estimate(Dimension::ONE, share_held),
    },
];

/// Facts of the field at test holes.
pub(super) const TEST_HOLES: &[Fact] = &[
    Fact {
        of: Kind::TestHole,
        name: "worked_suction",
        meaning: "The suction that is worked out at the hole.",
        formula: "the field of the leaky layer there",
        source: LEAKY,
        needs: HOLE_FIELD,
        get: Get::Estimate(Dimension::PRESSURE, worked_suction),
    },
    Fact {
        of: Kind::TestHole,
        name: "beyond_worked",
        meaning: "The suction that was read at the hole less that which is worked out there.",
        formula: "the pressure of the room less that under the floor, less the suction worked out",
        source: LEAKY,
        needs: with_places![BOUNDS, PITS, LAYER, TESTS, &["start_up.field.*.on"], PIPES, HOLES],
        get: Get::Estimate(Dimension::PRESSURE, beyond_worked),
    },
];
