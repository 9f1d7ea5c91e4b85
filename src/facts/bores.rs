//! Facts of runs: how wide they are inside, whose air they carry and how fast it goes, where their water runs.

use std::collections::BTreeSet;
use std::rc::Rc;

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Listed, Missing, unite};
use crate::base::vocabulary::Thing;
use crate::calc::pipe_sizes::{Series, Wall, inside_diameter, outside_diameter};
use crate::design::model::pipe::{PipeMaterial, PipeSize, Run, Schedule};
use crate::design::model::suction::Role;

use super::ask::Ask;
use super::catalogue::{Entries, Fact, Get};
use super::downstream::downstream;
use super::join::agree_numbers;
use super::kinds::Kind;
use super::outlet::{series, tenths};
use super::runs::{material, run, schedule, size};
use super::suction::point;
use super::system::system;
use super::things::{of, thing};
use super::whole::lacking;

/// What the width of a run inside is read from.
pub(super) const BORE: Entries = &[
    "systems.*.runs.*.inside_diameter",
    "systems.*.runs.*.inside_width",
    "systems.*.runs.*.inside_depth",
    "systems.*.runs.*.size",
    "systems.*.runs.*.material",
    "systems.*.runs.*.schedule",
    "systems.*.pipe.size",
    "systems.*.pipe.material",
    "systems.*.pipe.schedule",
];

/// What tells whose air a run carries.
pub(super) const BEHIND: Entries = &[
    "systems.*.fan",
    "systems.*.runs",
    "systems.*.runs.*.from",
    "systems.*.runs.*.to",
    "systems.*.suction_points",
];

const ROLES: Entries = &["systems.*.suction_points.*.role"];

pub(super) const FLOWS: Entries = &["systems.*.suction_points.*.flow", "systems.*.design_point.flow"];

/// The trade size as a length: the name of the pipe, which is not its width.
pub(super) fn nominal(size: PipeSize) -> Number {
    let inch = Ratio::new(254, 10_000).unwrap_or_default();
    let tenth = inch.checked_div(&Ratio::from(10)).unwrap_or_default();
    Number::exact(&tenth * &Ratio::from(i64::from(tenths(size))))
}

/// The inside diameter of a pipe by its name, from the least to the most that pipe of that name has.
pub(super) fn by_name(
    material: PipeMaterial,
    schedule: Option<Schedule>,
    size: PipeSize,
) -> Option<(Number, bool)> {
    let tenths = tenths(size);
    let inside = |wall| inside_diameter(wall, tenths);
    let exact = |diameter: Ratio| (Number::exact(diameter), true);
    match (material, schedule) {
        (PipeMaterial::Pvc | PipeMaterial::Abs | PipeMaterial::Steel, None) => {
            let widest = outside_diameter(Series::IronPipe, tenths)?;
            Some((Number::between(inside(Wall::Eighty)?, widest), false))
        }
        (PipeMaterial::Pvc | PipeMaterial::Abs | PipeMaterial::Steel, Some(schedule)) => match schedule {
            Schedule::Forty | Schedule::FoamCore => inside(Wall::Forty).map(exact),
            Schedule::Eighty => inside(Wall::Eighty).map(exact),
            Schedule::Sdr35 => inside(Wall::Sdr35).map(exact),
            Schedule::Sdr26 => inside(Wall::Sdr26).map(exact),
            Schedule::ThinDrain => inside(Wall::ThinDrain).map(exact),
            // Their walls are thinner than that of schedule 40.
            Schedule::Twenty | Schedule::Thirty => {
                let widest = outside_diameter(series(material, Some(Schedule::Twenty))?, tenths)?;
                Some((Number::between(inside(Wall::Forty)?, widest), true))
            }
        },
        _ => None,
    }
}

fn side(ask: &mut Ask<'_>, it: Thing, pick: fn(&[Number]) -> Option<Number>) -> Answer<Number> {
    run(ask, it, |ask, run| {
        let width = ask.quantity(&run.here, &run.inside_width);
        let depth = ask.quantity(&run.here, &run.inside_depth);
        width.both(depth).then(|(width, depth)| match pick(&[width, depth]) {
            Some(side) => Answer::known(side),
            None => Answer::missing(run.inside_width.want(&run.here)),
        })
    })
}

fn narrow_side(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    side(ask, it, |sides| Number::least(sides))
}

fn wide_side(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    side(ask, it, |sides| Number::greatest(sides))
}

fn divided(number: &Number, by: &Number) -> Number {
    number.divide(by).unwrap_or_else(|| Number::whole(0))
}

/// # Meaning
/// How wide a run is inside: the inside diameter of a round pipe, and for a rectangular downspout the diameter of a
/// round pipe with as much room.
/// # Formula
/// As stated; or by trade size and series, from a table; or the root of four times width times depth over pi.
/// # Valid for
/// Plastic and steel pipe of the series in the table, and downspouts whose sides are stated.
/// # Accuracy
/// The nominal figure of the table. Series thinner than schedule 40 lie between its inside and the outside diameter.
/// # Source
/// `calc::pipe_sizes`; elementary geometry.
/// # Errors
/// Unknown when the size is, or the material is one without a table and no diameter is stated.
/// # Example
/// PVC of schedule 40, 3 in: 3.068 in.
pub(super) fn bore(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    run(ask, it, |ask, record: &Run| {
        let here = &record.here;
        let made_of = material(ask, it);
        if made_of.clone().value() == Some(PipeMaterial::Downspout) {
            let area = narrow_side(ask, it).both(wide_side(ask, it)).map(|(a, b)| &a * &b);
            return area.then(|area| match divided(&(&area * &Number::whole(4)), &Number::pi()).sqrt() {
                Some(bore) => Answer::known(bore),
                None => Answer::missing(record.inside_width.want(here)),
            });
        }
        let stated = ask.quantity(here, &record.inside_diameter);
        let series = schedule(ask, it);
        let named = size(ask, it).both(made_of).then(|(size, material)| {
            let (schedule, lacks) = match series {
                Answer::Known { value, .. } => (Some(value), Vec::new()),
                Answer::Unknown(missing) => (None, missing),
            };
            match by_name(material, schedule, size) {
                Some((value, true)) => Answer::known(value),
                Some((value, false)) => Answer::Known { value, doubts: lacks },
                // No pipe of that series is in the table in this size: whatever is sold under the name lies between the
                // narrowest and the widest that are.
                None => match by_name(material, None, size) {
                    Some((value, _)) => {
                        Answer::Known { value, doubts: vec![record.inside_diameter.want(here)] }
                    }
                    None => Answer::missing(record.inside_diameter.want(here)),
                },
            }
        });
        let of = [record.inside_diameter.want(here), record.size.want(here)];
        agree_numbers(named, stated, &of)
    })
}

/// The area that a run leaves to the air.
fn open_area(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    if material(ask, it).value() == Some(PipeMaterial::Downspout) {
        return narrow_side(ask, it).both(wide_side(ask, it)).map(|(a, b)| &a * &b);
    }
    ask.between("open area", it, |ask| {
        bore(ask, it).map(|bore| divided(&(&bore.squared() * &Number::pi()), &Number::whole(4)))
    })
}

/// How wide one pipe would be with as much room as all that lie side by side.
fn bore_of_all(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    run(ask, it, |ask, run| {
        let want = run.abreast.want(&run.here);
        let many = ask.value(&run.here, &run.abreast).map(|count| Number::whole(i64::from(count.0)));
        bore(ask, it).both(many).then(|(bore, many)| match (&bore.squared() * &many).sqrt() {
            Some(all) => Answer::known(all),
            None => Answer::missing(want),
        })
    })
}

/// Which runs of a system go on from which, and what is missing to know it of all.
struct Beginnings {
    /// Each run that begins at another, and that other.
    at: Vec<(Thing, Thing)>,
    missing: Vec<Missing>,
}

fn beginnings(ask: &mut Ask<'_>, owner: u32) -> Answer<Rc<Beginnings>> {
    ask.between("where runs begin", thing(Kind::System, owner), |ask| {
        let mut found = Beginnings { at: Vec::new(), missing: Vec::new() };
        for one in ask.things().owned(Kind::Run, owner) {
            let Some(record) = ask.things().runs.get(one.number as usize).map(|run| run.it) else { continue };
            match ask.read(&record.here, &record.from) {
                Answer::Known { value: Some(from), .. } => {
                    let start = ask.things().named(Kind::Run, Some(owner), from.as_str());
                    found.at.extend(start.map(|start| (one, start)));
                }
                Answer::Known { .. } => {}
                Answer::Unknown(more) => found.missing.extend(more),
            }
        }
        found.missing = unite(found.missing, Vec::new());
        Answer::known(Rc::new(found))
    })
}

/// The suction points behind a run: those that it, or a run that goes on from its end, leads to. A run past the fan
/// carries the air of all.
fn behind(ask: &mut Ask<'_>, it: Thing) -> Answer<Listed<Thing>> {
    ask.between("behind", it, |ask| reached_from(ask, it))
}

fn reached_from(ask: &mut Ask<'_>, it: Thing) -> Answer<Listed<Thing>> {
    let Some(owner) = ask.things().owner(it) else { return ask.cannot(it, "it belongs to no system") };
    let Some(member) = ask.things().systems.get(owner as usize).copied() else {
        return ask.cannot(it, "it belongs to no system");
    };
    let all = ask.things().owned(Kind::SuctionPoint, owner);
    let open = lacking(ask, &member.it.here, &member.it.suction_points);
    if downstream(ask, it).value() == Some(true) && !from_discharge(ask, it) {
        return Answer::known(Listed::open(all, open));
    }
    let open = unite(open, lacking(ask, &member.it.here, &member.it.runs));
    let Answer::Known { value: beginnings, .. } = beginnings(ask, owner) else {
        return ask.cannot(it, "it belongs to no system");
    };
    let mut reached: BTreeSet<Thing> = BTreeSet::from([it]);
    loop {
        let before = reached.len();
        for (one, start) in &beginnings.at {
            if reached.contains(start) {
                reached.insert(*one);
            }
        }
        if reached.len() == before {
            break;
        }
    }
    let mut points = BTreeSet::new();
    for one in &reached {
        let Some(record) = ask.things().runs.get(one.number as usize).map(|run| run.it) else { continue };
        // A run that others go on from need not say where it ends.
        if let Answer::Known { value: Some(to), .. } = ask.read(&record.here, &record.to)
            && let Some(point) = ask.things().named(Kind::SuctionPoint, Some(owner), to.as_str())
        {
            points.insert(point);
        }
    }
    if points.is_empty() && beginnings.missing.is_empty() {
        return ask.cannot(it, "no suction point is said to lie at its end");
    }
    let points: Vec<Thing> = all.into_iter().filter(|point| points.contains(point)).collect();
    Answer::known(Listed::open(points, unite(open, beginnings.missing.clone())))
}

/// Whether a run begins at the discharge, as the stack of a system without a fan does.
fn from_discharge(ask: &mut Ask<'_>, it: Thing) -> bool {
    let Some(record) = ask.things().runs.get(it.number as usize).map(|run| run.it) else { return false };
    ask.read(&record.here, &record.from).value().flatten().is_some_and(|from| from.as_str() == "discharge")
}

/// # Meaning
/// Whether a run lies on the way from a primary suction point to the discharge.
/// # Formula
/// A suction point behind it is primary; the only suction point of a system is.
/// # Valid for
/// Runs written outward from the fan or the discharge.
/// # Accuracy
/// Yes or no.
/// # Source
/// The meaning of the words.
/// # Errors
/// Unknown when no role is stated where there are several suction points.
/// # Example
/// The stack: always.
fn main_way(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    let Some(owner) = ask.things().owner(it) else { return ask.cannot(it, "it belongs to no system") };
    let only = ask.things().owned(Kind::SuctionPoint, owner).len() == 1;
    behind(ask, it).then(|points| {
        if only && points.open.is_empty() {
            return Answer::known(true);
        }
        let mut missing = points.open;
        for point in points.items {
            match role(ask, point) {
                Answer::Known { value: Role::Primary, .. } => return Answer::known(true),
                Answer::Known { .. } => {}
                Answer::Unknown(more) => missing = unite(missing, more),
            }
        }
        if missing.is_empty() { Answer::known(false) } else { Answer::Unknown(missing) }
    })
}

fn role(ask: &mut Ask<'_>, it: Thing) -> Answer<Role> {
    point(ask, it, |ask, point| ask.value(&point.here, &point.role).map(|role| *role))
}

/// # Meaning
/// The air that a run is designed to carry.
/// # Formula
/// What the suction points behind it are designed to draw, added up; where all of them lie behind it, what the system
/// is designed to move, if that is stated.
/// # Valid for
/// Systems whose flows are stated.
/// # Accuracy
/// Exact for what is stated exactly; leaks and the warming of the air are left out.
/// # Source
/// What goes in comes out.
/// # Errors
/// Unknown when the flow of a suction point behind it is.
/// # Example
/// 25 cfm and 15 cfm behind it: 40 cfm.
fn flow(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let Some(owner) = ask.things().owner(it) else { return ask.cannot(it, "it belongs to no system") };
    let all = ask.things().owned(Kind::SuctionPoint, owner).len();
    behind(ask, it).then(|points| {
        if !points.open.is_empty() {
            return Answer::Unknown(points.open);
        }
        let whole = points.items.len() == all;
        let mut flows = Vec::new();
        for point in points.items {
            flows.push(of(
                ask,
                point,
                |things| &things.suction_points,
                |ask, point| ask.quantity(&point.here, &point.flow),
            ));
        }
        let added = Answer::all(flows).map(|flows| Number::sum(&flows));
        if !whole {
            return added;
        }
        let whole = thing(Kind::System, owner);
        let stated = system(ask, whole, |ask, system| {
            ask.quantity_inside(&system.here, &system.design_point, "flow", |d| (&d.here, &d.flow))
        });
        let here = ask.things().here(whole).map(|here| here.path.key("design_point").key("flow"));
        let of = [ask.want_at(here.as_ref().map_or("", |path| path.as_str()))];
        match (stated, added) {
            (Answer::Unknown(missing), Answer::Unknown(_)) => Answer::Unknown(missing),
            (stated, added) => agree_numbers(stated, added, &of),
        }
    })
}

fn air_speed(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    flow(ask, it).both(open_area(ask, it)).then(|(flow, area)| match flow.divide(&area) {
        Some(speed) => Answer::known(speed),
        None => ask.cannot(it, "it has no room for air"),
    })
}

fn goes_on_from(ask: &mut Ask<'_>, it: Thing) -> Answer<Listed<Thing>> {
    let owner = ask.things().owner(it);
    run(ask, it, |ask, run| {
        ask.value(&run.here, &run.from).map(|name| {
            Listed::closed(ask.things().named(Kind::Run, owner, name.as_str()).into_iter().collect())
        })
    })
}

/// Whether some low point of a run has a drain.
fn drained(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    run(ask, it, |ask, run| {
        ask.read(&run.here, &run.low_points).then(|points| {
            let Some(points) = points else { return Answer::known(false) };
            let mut missing = Vec::new();
            for (_, point) in points.things() {
                match ask.yes_or_no(&point.here, &point.drained) {
                    Answer::Known { value: true, .. } => return Answer::known(true),
                    Answer::Known { .. } => {}
                    Answer::Unknown(more) => missing = unite(missing, more),
                }
            }
            if missing.is_empty() { Answer::known(false) } else { Answer::Unknown(missing) }
        })
    })
}

/// # Meaning
/// Whether water in a run that goes straight up or down runs toward the suction points.
/// # Formula
/// Before the fan it goes down, counted from the fan; after the fan, or from the discharge on, the other end is the lower.
/// # Valid for
/// Runs laid by tape.
/// # Accuracy
/// Yes or no.
/// # Source
/// Water runs down.
/// # Errors
/// Unknown when it is not said whether it goes up or down.
/// # Example
/// `{from: fan, down: 11 ft}`: yes.
fn drops_to_soil(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    let backward = from_discharge(ask, it);
    let after = if backward { Answer::known(false) } else { downstream(ask, it) };
    run(ask, it, |ask, run| {
        let down = ask.read(&run.here, &run.down).value().flatten().is_some();
        let up = ask.read(&run.here, &run.up).value().flatten().is_some();
        match (up, down) {
            (false, true) => after.map(|after| !after),
            (true, false) => after,
            _ => Answer::missing(run.down.want(&run.here)),
        }
    })
}

/// Facts of runs that turn on their width and on the way of air and water.
pub(super) const BORES: &[Fact] = &[
    Fact {
        of: Kind::Run,
        name: "nominal",
        meaning: "The trade size of the run as a length, though its inside is not quite that.",
        formula: "the number in the name of the size",
        source: "the names of the sizes",
        needs: &[&["systems.*.runs.*.size", "systems.*.pipe.size"]],
        get: Get::Number(Dimension::LENGTH, |ask, it| size(ask, it).map(nominal)),
    },
    Fact {
        of: Kind::Run,
        name: "bore",
        meaning: "How wide the run is inside; for a downspout, the width of a round pipe with as much room.",
        formula: "as stated; or from a table by size and schedule; or the root of 4 x width x depth / pi",
        source: "ASTM D1785, D2729 and D3034, from memory",
        needs: &[BORE],
        get: Get::Number(Dimension::LENGTH, bore),
    },
    Fact {
        of: Kind::Run,
        name: "bore_of_all",
        meaning: "How wide one pipe would be with as much room as all pipes that lie side by side in this run.",
        formula: "the width inside times the root of how many there are",
        source: "elementary geometry",
        needs: &[BORE, &["systems.*.runs.*.abreast"]],
        get: Get::Number(Dimension::LENGTH, bore_of_all),
    },
    Fact {
        of: Kind::Run,
        name: "open_area",
        meaning: "The area that the run leaves to the air.",
        formula: "pi / 4 x the inside diameter squared, or width x depth of a downspout",
        source: "elementary geometry",
        needs: &[BORE],
        get: Get::Number(Dimension::AREA, open_area),
    },
    Fact {
        of: Kind::Run,
        name: "narrow_side",
        meaning: "The lesser inside side of a downspout.",
        formula: "the lesser of its width and its depth",
        source: "the entries",
        needs: &[&["systems.*.runs.*.inside_width", "systems.*.runs.*.inside_depth"]],
        get: Get::Number(Dimension::LENGTH, narrow_side),
    },
    Fact {
        of: Kind::Run,
        name: "wide_side",
        meaning: "The greater inside side of a downspout.",
        formula: "the greater of its width and its depth",
        source: "the entries",
        needs: &[&["systems.*.runs.*.inside_width", "systems.*.runs.*.inside_depth"]],
        get: Get::Number(Dimension::LENGTH, wide_side),
    },
    Fact {
        of: Kind::Run,
        name: "suction_points",
        meaning: "The suction points whose air the run carries.",
        formula: "those that it, or a run that goes on from its end, leads to; all of them past the fan",
        source: "the way the air goes",
        needs: &[BEHIND],
        get: Get::Things(Kind::SuctionPoint, behind),
    },
    Fact {
        of: Kind::Run,
        name: "on_main_way",
        meaning: "Whether the run lies on the way from a primary suction point to the discharge.",
        formula: "a suction point behind it is primary; the only one of a system is",
        source: "the meaning of the words",
        needs: &[BEHIND, ROLES],
        get: Get::Truth(main_way),
    },
    Fact {
        of: Kind::Run,
        name: "flow",
        meaning: "The air that the run is designed to carry.",
        formula: "what the suction points behind it draw, added up; or what the system moves, where all lie behind it",
        source: "what goes in comes out",
        needs: &[BEHIND, FLOWS],
        get: Get::Number(Dimension::FLOW, flow),
    },
    Fact {
        of: Kind::Run,
        name: "air_speed",
        meaning: "How fast the air goes in the run, on the average over its section.",
        formula: "the air it carries over the area it leaves to it",
        source: "the meaning of a mean speed",
        needs: &[BEHIND, FLOWS, BORE],
        get: Get::Number(Dimension::SPEED, air_speed),
    },
    Fact {
        of: Kind::Run,
        name: "drops_to_soil",
        meaning: "Whether water in an upright run drops toward the suction points.",
        formula: "its end nearer to them is the lower one",
        source: "water runs down",
        needs: &[BEHIND, &["systems.*.runs.*.up", "systems.*.runs.*.down"]],
        get: Get::Truth(drops_to_soil),
    },
    Fact {
        of: Kind::Run,
        name: "drained",
        meaning: "Whether a drain lets water out of a low point of the run.",
        formula: "some low point of it is drained",
        source: "the entries",
        needs: &[&["systems.*.runs.*.low_points", "systems.*.runs.*.low_points.*.drained"]],
        get: Get::Truth(drained),
    },
    Fact::stated(
        Kind::Run,
        "goes_on_from",
        "The run from whose end this one goes on: none or one.",
        &[&["systems.*.runs.*.from"]],
        Get::Things(Kind::Run, goes_on_from),
    ),
];
