//! How suction points are laid out: over which area each one is, how far from its edge and from each other, and which
//! areas they serve.

use std::collections::BTreeSet;

use crate::base::number::{Dimension, Number};
use crate::base::value::{Answer, Listed, Missing, Reason, unite};
use crate::base::vocabulary::{ROOT, Thing};
use crate::calc::geometry::{Whereabouts, longest_link_squared};
use crate::design::model::foundation::Area;

use super::ask::Ask;
use super::catalogue::{Entries, Fact, Get, with_places};
use super::foundation::area;
use super::kinds::Kind;
use super::places;
use super::suction::point;
use super::system::system;
use super::walls::only_area;
use super::whole::lacking;
use super::within;

/// What tells which area a suction point is in.
const IN_AREA: Entries = &[
    "systems.*.suction_points.*.in",
    "systems.*.suction_points.*.sump",
    "foundation.sumps.*.in",
    "foundation.areas",
    "foundation.areas.*.in",
];

/// What tells which suction points an area has.
const ITS_POINTS: Entries = &[
    "systems",
    "systems.*.suction_points",
    "systems.*.suction_points.*.in",
    "foundation.areas",
    "foundation.areas.*.in",
];

/// What tells which areas hang together.
const JOINED: Entries = &[
    "foundation.areas",
    "foundation.areas.*.joined_with",
    "foundation.areas.*.collectors",
    "foundation.areas.*.collectors.*.joins",
];

/// The area that a suction point is in: the one it names, or the only one over which the space lies that it names.
fn area_of_point(ask: &mut Ask<'_>, it: Thing) -> Answer<Thing> {
    point(ask, it, |ask, record| {
        let (here, space) = places::lies_in(ask, record);
        let want = space.want(here);
        let foundation = &ask.design().foundation;
        let _ = ask.read(&foundation.here, &foundation.areas);
        let areas: Vec<&Area> = ask.things().areas.iter().map(|area| area.it).collect();
        for area in areas {
            let _ = ask.read(&area.here, &area.space);
        }
        ask.value(here, space).then(|name| {
            let only = only_area(ask, name.as_str()).map(|area| area.name);
            match only.and_then(|name| ask.things().named(Kind::Area, None, name)) {
                Some(area) => Answer::known(area),
                None => {
                    let reason = Reason::NotComputable("which area is meant cannot be told".to_owned());
                    Answer::missing(Missing { reason, ..want })
                }
            }
        })
    })
}

/// The suction points of all systems that are in an area.
pub(super) fn points_of_area(ask: &mut Ask<'_>, it: Thing) -> Answer<Listed<Thing>> {
    let design = ask.design();
    let mut open = lacking(ask, &design.here, &design.systems);
    let systems: Vec<_> = ask.things().systems.iter().map(|system| system.it).collect();
    for system in systems {
        open = unite(open, lacking(ask, &system.here, &system.suction_points));
    }
    let mut found = Vec::new();
    for point in ask.things().all(Kind::SuctionPoint) {
        match ask.one(point, "area") {
            Answer::Known { value, .. } if value == it => found.push(point),
            Answer::Known { .. } => {}
            Answer::Unknown(missing) => open = unite(open, missing),
        }
    }
    Answer::known(Listed::open(found, open))
}

/// # Meaning
/// How far a suction point is from the nearest edge of its area, in plan.
/// # Formula
/// The least distance from the point to the outline.
/// # Valid for
/// Suction points whose place is known, within areas whose outline is.
/// # Accuracy
/// The root of an exact square.
/// # Source
/// Elementary geometry.
/// # Errors
/// Unknown when the place or the outline is, and for a point that lies outside of it.
/// # Example
/// 10 ft off the west wall and 12 ft off the south wall of a room of 40 ft by 24 ft: 10 ft.
fn from_edge(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    within::area_of(ask, it).then(|its| {
        area(ask, its, |ask, area| {
            let at = within::plan(ask, it, area);
            at.both(within::outline(ask, area)).then(|(at, outline)| match outline.whereabouts(&at) {
                Whereabouts::Outside => {
                    ask.cannot(it, "it lies outside of the area that it is said to be in")
                }
                Whereabouts::Inside | Whereabouts::OnEdge => {
                    Answer::known(Number::root(outline.edge_distance_squared(&at)))
                }
            })
        })
    })
}

/// The longest stretch in plan that has to be bridged so that all suction points of an area hang together.
fn longest_link(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    ask.several(it, "suction_points").then(|points| {
        if !points.open.is_empty() {
            return Answer::Unknown(points.open);
        }
        area(ask, it, |ask, area| {
            let mut places = Vec::new();
            if points.items.len() > 1 {
                for point in points.items {
                    places.push(within::plan(ask, point, area));
                }
            }
            Answer::all(places).map(|places| Number::root(longest_link_squared(&places)))
        })
    })
}

/// Areas that are joined two by two, and what is not said of it.
fn joined_directly(ask: &mut Ask<'_>) -> (Vec<(Thing, Thing)>, Vec<Missing>) {
    let (mut pairs, mut open) = (Vec::new(), Vec::new());
    for area in ask.things().all(Kind::Area) {
        let Some(record) = ask.things().areas.get(area.number as usize).map(|area| area.it) else { continue };
        let mut names: Vec<String> = Vec::new();
        match ask.read(&record.here, &record.joined_with) {
            Answer::Known { value, .. } => {
                names.extend(
                    value.into_iter().flat_map(|list| list.0.members()).map(|name| name.as_str().to_owned()),
                );
            }
            Answer::Unknown(missing) => open.extend(missing),
        }
        if let Answer::Known { value: Some(collectors), .. } = ask.read(&record.here, &record.collectors) {
            for (_, collector) in collectors.things() {
                if let Answer::Known { value: Some(joins), .. } = ask.read(&collector.here, &collector.joins)
                {
                    names.extend(joins.0.members().map(|name| name.as_str().to_owned()));
                }
            }
        }
        let others: Vec<Thing> =
            names.iter().filter_map(|name| ask.things().named(Kind::Area, None, name)).collect();
        pairs.extend(others.into_iter().filter(|other| *other != area).map(|other| (area, other)));
    }
    (pairs, unite(open, Vec::new()))
}

/// The areas that are joined with an area, by way of others too: through the footing, or by a collector.
fn joined(ask: &mut Ask<'_>, it: Thing) -> Answer<Listed<Thing>> {
    let foundation = &ask.design().foundation;
    let mut open = lacking(ask, &foundation.here, &foundation.areas);
    if ask.things().areas.len() == 1 {
        // There is none with which it could be joined.
        return Answer::known(Listed::open(Vec::new(), open));
    }
    let all = ask.between("areas joined directly", ROOT, |ask| Answer::known(joined_directly(ask)));
    let (pairs, more) = all.value().unwrap_or_default();
    open = unite(open, more);
    let mut reached = BTreeSet::from([it]);
    loop {
        let before = reached.len();
        for (one, other) in &pairs {
            if reached.contains(one) || reached.contains(other) {
                reached.extend([*one, *other]);
            }
        }
        if reached.len() == before {
            break;
        }
    }
    reached.remove(&it);
    Answer::known(Listed::open(reached.into_iter().collect(), open))
}

/// # Meaning
/// Whether a suction point draws on an area, in it or by way of an area that is joined with it.
/// # Formula
/// Some suction point is in it, or in one that hangs together with it through footings or collectors.
/// # Valid for
/// Every area.
/// # Accuracy
/// Yes or no.
/// # Source
/// The entries.
/// # Errors
/// Unknown when no suction point is, and it is not said with which areas it is joined.
/// # Example
/// A collector that joins the den with the basement, where a suction point is: yes for both.
fn drawn_on(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    let own = ask.several(it, "suction_points");
    let others = ask.several(it, "joined");
    own.both(others).then(|(own, others)| {
        if !own.items.is_empty() {
            return Answer::known(true);
        }
        let mut missing = unite(own.open, others.open);
        for other in others.items {
            match ask.several(other, "suction_points") {
                Answer::Known { value, .. } if !value.items.is_empty() => return Answer::known(true),
                Answer::Known { value, .. } => missing = unite(missing, value.open),
                Answer::Unknown(more) => missing = unite(missing, more),
            }
        }
        if missing.is_empty() { Answer::known(false) } else { Answer::Unknown(missing) }
    })
}

/// The areas that a system serves: those it says, or those its suction points are in and those joined with them.
pub(super) fn areas_of_system(ask: &mut Ask<'_>, it: Thing) -> Answer<Listed<Thing>> {
    system(ask, it, |ask, system| {
        if !system.serves.is_missing() {
            let named = ask.value(&system.here, &system.serves);
            return named.map(|named| {
                let find = |name: &str| ask.things().named(Kind::Area, None, name);
                let found: BTreeSet<Thing> =
                    named.0.members().filter_map(|name| find(name.as_str())).collect();
                Listed::closed(found.into_iter().collect())
            });
        }
        let _ = ask.read(&system.here, &system.serves);
        let mut open = lacking(ask, &system.here, &system.suction_points);
        let mut found = BTreeSet::new();
        for point in ask.things().owned(Kind::SuctionPoint, it.number) {
            match ask.one(point, "area") {
                Answer::Known { value, .. } => {
                    if let Answer::Known { value: others, .. } = ask.several(value, "joined") {
                        found.extend(others.items);
                        open = unite(open, others.open);
                    }
                    found.insert(value);
                }
                Answer::Unknown(missing) => open = unite(open, missing),
            }
        }
        Answer::known(Listed::open(found.into_iter().collect(), open))
    })
}

/// The run of pipe that ends at a suction point, or begins there.
fn its_run(ask: &mut Ask<'_>, it: Thing) -> Answer<Thing> {
    let Some(owner) = ask.things().owner(it) else { return ask.cannot(it, "it belongs to no system") };
    let name = ask.things().name(it);
    for one in ask.things().owned(Kind::Run, owner) {
        let Some(record) = ask.things().runs.get(one.number as usize).map(|run| run.it) else { continue };
        let to = ask.peek(&record.here, &record.to);
        let from = ask.peek(&record.here, &record.from);
        if to.is_some_and(|to| to.as_str() == name) || from.is_some_and(|from| from.as_str() == name) {
            return Answer::known(one);
        }
    }
    ask.cannot(it, "no run of pipe is said to end there")
}

/// The run of a system's pipe that ends at the discharge, or begins there.
pub(super) fn stack_of(ask: &mut Ask<'_>, it: Thing) -> Answer<Thing> {
    for one in ask.things().owned(Kind::Run, it.number) {
        let Some(record) = ask.things().runs.get(one.number as usize).map(|run| run.it) else { continue };
        let to = ask.peek(&record.here, &record.to);
        let from = ask.peek(&record.here, &record.from);
        if to.is_some_and(|to| to.as_str() == "discharge")
            || from.is_some_and(|from| from.as_str() == "discharge")
        {
            return Answer::known(one);
        }
    }
    ask.cannot(it, "no run of pipe is said to end at the discharge")
}

/// The run that ends at the discharge.
pub(super) const STACK: Entries = &["systems.*.runs.*.to", "systems.*.runs.*.from"];

/// Facts of suction points that turn on where they are.
pub(super) const LAYOUT: &[Fact] = &[
    Fact::stated(
        Kind::SuctionPoint,
        "area",
        "The area that the suction point is in: the one it names, or the only one under the space it names.",
        &[IN_AREA],
        Get::One(Kind::Area, area_of_point),
    ),
    Fact {
        of: Kind::SuctionPoint,
        name: "from_edge",
        meaning: "How far the suction point is from the nearest edge of its area, in plan.",
        formula: "the least distance from the point to the outline of the area",
        source: "elementary geometry",
        needs: with_places![IN_AREA],
        get: Get::Number(Dimension::LENGTH, from_edge),
    },
    Fact::stated(
        Kind::SuctionPoint,
        "run",
        "The run of pipe that ends at the suction point.",
        &[STACK],
        Get::One(Kind::Run, its_run),
    ),
];

/// Facts of areas and systems that turn on where suction points are.
pub(super) const SERVED: &[Fact] = &[
    Fact::stated(
        Kind::Area,
        "suction_points",
        "The suction points in the area, of whichever system.",
        &[ITS_POINTS],
        Get::Things(Kind::SuctionPoint, points_of_area),
    ),
    Fact {
        of: Kind::Area,
        name: "longest_link",
        meaning: "The longest stretch in plan that has to be bridged so that all suction points of the area hang together.",
        formula: "the longest side of the shortest tree that joins them; nothing for a single one",
        source: "Jarnik's and Prim's tree",
        needs: with_places![ITS_POINTS],
        get: Get::Number(Dimension::LENGTH, longest_link),
    },
    Fact {
        of: Kind::Area,
        name: "joined",
        meaning: "The areas joined with the area, by way of others too.",
        formula: "those with which a footing lets it hang together, and those that a collector joins",
        source: "the entries",
        needs: &[JOINED],
        get: Get::Things(Kind::Area, joined),
    },
    Fact::stated(
        Kind::Area,
        "joining_accepted",
        "Whether the building official accepts that the area is drawn on by way of another with which it is joined.",
        &[&["foundation.areas.*.joining_accepted"]],
        Get::Truth(|ask, it| area(ask, it, |ask, a| ask.yes_or_no(&a.here, &a.joining_accepted))),
    ),
    Fact {
        of: Kind::Area,
        name: "drawn_on",
        meaning: "Whether a suction point draws on the area, in it or by way of an area joined with it.",
        formula: "some suction point is in it or in one that is joined with it",
        source: "the entries",
        needs: &[ITS_POINTS, JOINED],
        get: Get::Truth(drawn_on),
    },
    Fact {
        of: Kind::System,
        name: "areas",
        meaning: "The areas that the system serves.",
        formula: "those it says that it serves, or those of its suction points and those joined with them",
        source: "the entries",
        needs: &[ITS_POINTS, JOINED, &["systems.*.serves"]],
        get: Get::Things(Kind::Area, areas_of_system),
    },
    Fact::stated(
        Kind::System,
        "stack",
        "The run of pipe that ends at the discharge.",
        &[STACK],
        Get::One(Kind::Run, stack_of),
    ),
    Fact::stated(
        Kind::System,
        "flow",
        "The air that the system is designed to move.",
        &[&["systems.*.design_point.flow"]],
        Get::Number(Dimension::FLOW, |ask, it| {
            system(ask, it, |ask, s| {
                ask.quantity_inside(&s.here, &s.design_point, "flow", |d| (&d.here, &d.flow))
            })
        }),
    ),
    Fact::stated(
        Kind::System,
        "fan_suction",
        "The suction that the fan of the system is designed to make.",
        &[&["systems.*.design_point.suction"]],
        Get::Number(Dimension::PRESSURE, |ask, it| {
            system(ask, it, |ask, s| {
                ask.quantity_inside(&s.here, &s.design_point, "suction", |d| (&d.here, &d.suction))
            })
        }),
    ),
    Fact::stated(
        Kind::System,
        "analysed",
        "Whether the flow that the system is designed to move rests on a communication test in the file.",
        &[&["systems.*.design_point.analysis"]],
        Get::Truth(|ask, it| {
            system(ask, it, |ask, s| {
                ask.read_inside(&s.here, &s.design_point, "analysis", |d| (&d.here, &d.analysis))
                    .map(|analysis| analysis.is_some())
            })
        }),
    ),
    Fact::stated(
        Kind::System,
        "sizes_justified",
        "Whether the owner has in writing why the pipe of the system has other sizes than usual.",
        &[&["systems.*.design_point.sizes_justified"]],
        Get::Truth(|ask, it| {
            system(ask, it, |ask, s| {
                ask.yes_or_no_inside(&s.here, &s.design_point, "sizes_justified", |d| {
                    (&d.here, &d.sizes_justified)
                })
            })
        }),
    ),
    Fact::stated(
        Kind::System,
        "laid_out_by_mitigator",
        "Whether a certified mitigator says how many stacks it takes and how large.",
        &[&["systems.*.design_point.laid_out_by"]],
        Get::Truth(|ask, it| {
            system(ask, it, |ask, s| {
                ask.read_inside(&s.here, &s.design_point, "laid_out_by", |d| (&d.here, &d.laid_out_by))
                    .map(|by| by.is_some())
            })
        }),
    ),
];
