//! How suction points are laid out: over which area each one is, how far from its edge and from each other; pits,
//! inlets and the gap round the pipe.

use std::collections::BTreeSet;

use crate::base::number::{Dimension, Number};
use crate::base::value::{Answer, Listed, Missing, Reason, unite};
use crate::base::vocabulary::Thing;
use crate::calc::geometry::{PlanPoint, longest_link_squared};
use crate::design::model::foundation::{Area, FillKind};
use crate::design::model::suction::{InletKind, SuctionPoint};
use crate::yaml::entry::Entry;
use crate::yaml::words::Count;

use super::ask::{Ask, word_id};
use super::catalogue::{Entries, Fact, Get, words};
use super::kinds::Kind;
use super::places::{self, Along};
use super::things::of;
use super::walls::{only_area, outline_of};
use super::whole::lacking;
use super::{heights, outlet, roofs};

/// What tells which area a suction point is in.
const IN_AREA: Entries = &["systems.*.suction_points.*.in", "foundation.areas", "foundation.areas.*.in"];

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

fn point<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d SuctionPoint) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.suction_points, get)
}

/// The area that a suction point is in: the one it names, or the only one over which the space lies that it names.
fn area_of_point(ask: &mut Ask<'_>, it: Thing) -> Answer<Thing> {
    point(ask, it, |ask, record| {
        let want = record.space.want(&record.here);
        let foundation = &ask.design().foundation;
        let _ = ask.read(&foundation.here, &foundation.areas);
        let areas: Vec<&Area> = ask.things().areas.iter().map(|area| area.it).collect();
        for area in areas {
            let _ = ask.read(&area.here, &area.space);
        }
        ask.value(&record.here, &record.space).then(|name| {
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
        match area_of_point(ask, point) {
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
/// Unknown when the place or the outline is.
/// # Example
/// 10 ft off the west wall and 12 ft off the south wall of a room of 40 ft by 24 ft: 10 ft.
fn from_edge(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let at = in_plan(ask, it);
    let area = area_of_point(ask, it).then(|area| of(ask, area, |things| &things.areas, outline_of));
    at.both(area).map(|(at, outline)| Number::root(outline.edge_distance_squared(&at)))
}

fn in_plan(ask: &mut Ask<'_>, it: Thing) -> Answer<PlanPoint> {
    let east = places::coordinate(ask, it, Along::East);
    let north = places::coordinate(ask, it, Along::North);
    let want = ask.of_thing(it, Reason::Imprecise);
    east.both(north).then(|(east, north)| match (east.as_exact(), north.as_exact()) {
        (Some(x), Some(y)) => Answer::known(PlanPoint::new(x.clone(), y.clone())),
        _ => Answer::missing(want),
    })
}

/// The longest stretch in plan that has to be bridged so that all suction points of an area hang together.
fn longest_link(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    points_of_area(ask, it).then(|points| {
        if !points.open.is_empty() {
            return Answer::Unknown(points.open);
        }
        let mut places = Vec::new();
        if points.items.len() > 1 {
            for point in points.items {
                places.push(in_plan(ask, point));
            }
        }
        Answer::all(places).map(|places| Number::root(longest_link_squared(&places)))
    })
}

/// The areas that are joined with an area, by way of others too: through the footing, or by a collector.
fn joined(ask: &mut Ask<'_>, it: Thing) -> Answer<Listed<Thing>> {
    let mut pairs: Vec<(Thing, Thing)> = Vec::new();
    let foundation = &ask.design().foundation;
    let mut open = lacking(ask, &foundation.here, &foundation.areas);
    if ask.things().areas.len() == 1 {
        // There is none with which it could be joined.
        return Answer::known(Listed::open(Vec::new(), open));
    }
    for area in ask.things().all(Kind::Area) {
        let Some(record) = ask.things().areas.get(area.number as usize).map(|area| area.it) else { continue };
        let mut names: Vec<String> = Vec::new();
        match ask.read(&record.here, &record.joined_with) {
            Answer::Known { value, .. } => {
                names.extend(
                    value.into_iter().flat_map(|list| list.0.members()).map(|name| name.as_str().to_owned()),
                );
            }
            Answer::Unknown(missing) => open = unite(open, missing),
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
    let own = points_of_area(ask, it);
    let others = joined(ask, it);
    own.both(others).then(|(own, others)| {
        if !own.items.is_empty() {
            return Answer::known(true);
        }
        let mut missing = unite(own.open, others.open);
        for other in others.items {
            match points_of_area(ask, other) {
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
    of(
        ask,
        it,
        |things| &things.systems,
        |ask, system| {
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
                match area_of_point(ask, point) {
                    Answer::Known { value, .. } => {
                        if let Answer::Known { value: others, .. } = joined(ask, value) {
                            found.extend(others.items);
                            open = unite(open, others.open);
                        }
                        found.insert(value);
                    }
                    Answer::Unknown(missing) => open = unite(open, missing),
                }
            }
            Answer::known(Listed::open(found.into_iter().collect(), open))
        },
    )
}

/// The run of pipe that ends at a suction point, or begins there.
fn its_run(ask: &mut Ask<'_>, it: Thing) -> Answer<Thing> {
    let Some(owner) = ask.things().owner(it) else { return ask.cannot(it, "it belongs to no system") };
    let name = ask.things().name(it);
    for one in ask.things().owned(Kind::Run, owner) {
        let Some(record) = ask.things().runs.get(one.number as usize).map(|run| run.it) else { continue };
        let to = ask.read(&record.here, &record.to).value().flatten();
        let from = ask.read(&record.here, &record.from).value().flatten();
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
        let to = ask.read(&record.here, &record.to).value().flatten();
        let from = ask.read(&record.here, &record.from).value().flatten();
        if to.is_some_and(|to| to.as_str() == "discharge")
            || from.is_some_and(|from| from.as_str() == "discharge")
        {
            return Answer::known(one);
        }
    }
    ask.cannot(it, "no run of pipe is said to end at the discharge")
}

/// The run that ends at the discharge.
const STACK: Entries = &["systems.*.runs.*.to", "systems.*.runs.*.from"];

fn counted<'d, P>(
    ask: &mut Ask<'d>,
    record: &'d SuctionPoint,
    parent: &'d Entry<P>,
    key: &'static str,
    get: impl FnOnce(&'d P) -> (&'d crate::yaml::entry::Here, &'d Entry<Count>),
) -> Answer<Number> {
    ask.value_inside(&record.here, parent, key, get).map(|count| Number::whole(i64::from(count.0)))
}

/// Facts of suction points: layout, pit, gap and inlet.
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
        needs: &[IN_AREA, places::PLACES, outlet::WIDTH, roofs::EDGES, roofs::SLOPES, heights::GROUND],
        get: Get::Number(Dimension::LENGTH, from_edge),
    },
    Fact::stated(
        Kind::SuctionPoint,
        "run",
        "The run of pipe that ends at the suction point.",
        &[STACK],
        Get::One(Kind::Run, its_run),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "pit_width",
        "How wide the pit under the suction point is.",
        &[&["systems.*.suction_points.*.pit.width"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            point(ask, it, |ask, p| {
                ask.quantity_inside(&p.here, &p.pit, "width", |pit| (&pit.here, &pit.width))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "pit_depth",
        "How deep the pit under the suction point is, from the underside of the slab.",
        &[&["systems.*.suction_points.*.pit.depth"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            point(ask, it, |ask, p| {
                ask.quantity_inside(&p.here, &p.pit, "depth", |pit| (&pit.here, &pit.depth))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "pit_filled",
        "Whether the pit under the suction point was filled again.",
        &[&["systems.*.suction_points.*.pit.filled_with"]],
        Get::Truth(|ask, it| {
            point(ask, it, |ask, p| {
                let filled =
                    ask.read_inside(&p.here, &p.pit, "filled_with", |pit| (&pit.here, &pit.filled_with));
                filled.map(|filled| filled.is_some())
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "pit_fill",
        "What the pit under the suction point was filled with.",
        &[&["systems.*.suction_points.*.pit.filled_with"]],
        Get::Word(words::<FillKind>, |ask, it| {
            point(ask, it, |ask, p| {
                ask.value_inside(&p.here, &p.pit, "filled_with", |pit| (&pit.here, &pit.filled_with))
                    .map(|word| word_id(*word))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "pit_stone",
        "How large the stones in the pit are.",
        &[&["systems.*.suction_points.*.pit.stone"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            point(ask, it, |ask, p| {
                ask.quantity_inside(&p.here, &p.pit, "stone", |pit| (&pit.here, &pit.stone))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "reason_for_no_pit",
        "Whether the file says why no pit, or none of the usual size, could be dug at the suction point.",
        &[&["systems.*.suction_points.*.no_pit_because"]],
        Get::Truth(|ask, it| point(ask, it, |ask, p| ask.is_there(&p.here, &p.no_pit_because))),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "gap",
        "How wide the gap round the pipe at the suction point is.",
        &[&["systems.*.suction_points.*.hole.gap"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            point(ask, it, |ask, p| {
                ask.quantity_inside(&p.here, &p.hole, "gap", |hole| (&hole.here, &hole.gap))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "backer",
        "Whether a backer was put into the gap round the pipe before the sealant.",
        &[&["systems.*.suction_points.*.hole.backer"]],
        Get::Truth(|ask, it| {
            point(ask, it, |ask, p| {
                ask.yes_or_no_inside(&p.here, &p.hole, "backer", |hole| (&hole.here, &hole.backer))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "sealant_class",
        "The class of movement of the sealant round the pipe at the suction point.",
        &[&["systems.*.suction_points.*.hole.sealant_class"]],
        Get::Number(Dimension::ONE, |ask, it| {
            point(ask, it, |ask, p| {
                counted(ask, p, &p.hole, "sealant_class", |hole| (&hole.here, &hole.sealant_class))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "inlet",
        "What the pipe ends in at the suction point.",
        &[&["systems.*.suction_points.*.inlet.kind"]],
        Get::Word(words::<InletKind>, |ask, it| {
            point(ask, it, |ask, p| {
                ask.value_inside(&p.here, &p.inlet, "kind", |inlet| (&inlet.here, &inlet.kind))
                    .map(|word| word_id(*word))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "inlet_nominal",
        "The trade size of what the pipe ends in, as a length.",
        &[&["systems.*.suction_points.*.inlet.size"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            point(ask, it, |ask, p| {
                ask.value_inside(&p.here, &p.inlet, "size", |inlet| (&inlet.here, &inlet.size))
                    .map(|size| super::bores::nominal(*size))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "inlet_openings",
        "How many openings the fitting at the suction point has.",
        &[&["systems.*.suction_points.*.inlet.openings"]],
        Get::Number(Dimension::ONE, |ask, it| {
            point(ask, it, |ask, p| {
                counted(ask, p, &p.inlet, "openings", |inlet| (&inlet.here, &inlet.openings))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "inlet_arms",
        "How many level arms with holes the fitting at the suction point has.",
        &[&["systems.*.suction_points.*.inlet.arm_count"]],
        Get::Number(Dimension::ONE, |ask, it| {
            point(ask, it, |ask, p| {
                counted(ask, p, &p.inlet, "arm_count", |inlet| (&inlet.here, &inlet.arm_count))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "arm_length",
        "How long each arm of the fitting at the suction point is.",
        &[&["systems.*.suction_points.*.inlet.arms"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            point(ask, it, |ask, p| {
                ask.quantity_inside(&p.here, &p.inlet, "arms", |inlet| (&inlet.here, &inlet.arms))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "inlet_open_area",
        "The area of all openings in what the pipe ends in.",
        &[&["systems.*.suction_points.*.inlet.open_area"]],
        Get::Number(Dimension::AREA, |ask, it| {
            point(ask, it, |ask, p| {
                ask.quantity_inside(&p.here, &p.inlet, "open_area", |inlet| (&inlet.here, &inlet.open_area))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "inlet_fastened",
        "Whether what the pipe ends in is held so that nothing shifts it while concrete is poured.",
        &[&["systems.*.suction_points.*.inlet.fastened"]],
        Get::Truth(|ask, it| {
            point(ask, it, |ask, p| {
                ask.yes_or_no_inside(&p.here, &p.inlet, "fastened", |inlet| (&inlet.here, &inlet.fastened))
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "flow",
        "The air that the suction point is designed to draw.",
        &[&["systems.*.suction_points.*.flow"]],
        Get::Number(Dimension::FLOW, |ask, it| point(ask, it, |ask, p| ask.quantity(&p.here, &p.flow))),
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
        needs: &[ITS_POINTS, places::PLACES, outlet::WIDTH, roofs::EDGES, roofs::SLOPES, heights::GROUND],
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
            of(
                ask,
                it,
                |things| &things.systems,
                |ask, s| ask.quantity_inside(&s.here, &s.design_point, "flow", |d| (&d.here, &d.flow)),
            )
        }),
    ),
    Fact::stated(
        Kind::System,
        "fan_suction",
        "The suction that the fan of the system is designed to make.",
        &[&["systems.*.design_point.suction"]],
        Get::Number(Dimension::PRESSURE, |ask, it| {
            of(
                ask,
                it,
                |things| &things.systems,
                |ask, s| ask.quantity_inside(&s.here, &s.design_point, "suction", |d| (&d.here, &d.suction)),
            )
        }),
    ),
    Fact::stated(
        Kind::System,
        "analysed",
        "Whether the flow that the system is designed to move rests on a communication test in the file.",
        &[&["systems.*.design_point.analysis"]],
        Get::Truth(|ask, it| {
            of(
                ask,
                it,
                |things| &things.systems,
                |ask, s| {
                    ask.read_inside(&s.here, &s.design_point, "analysis", |d| (&d.here, &d.analysis))
                        .map(|analysis| analysis.is_some())
                },
            )
        }),
    ),
    Fact::stated(
        Kind::System,
        "sizes_justified",
        "Whether the owner has in writing why the pipe of the system has other sizes than usual.",
        &[&["systems.*.design_point.sizes_justified"]],
        Get::Truth(|ask, it| {
            of(
                ask,
                it,
                |things| &things.systems,
                |ask, s| {
                    ask.yes_or_no_inside(&s.here, &s.design_point, "sizes_justified", |d| {
                        (&d.here, &d.sizes_justified)
                    })
                },
            )
        }),
    ),
    Fact::stated(
        Kind::System,
        "laid_out_by_mitigator",
        "Whether a certified mitigator says how many stacks it takes and how large.",
        &[&["systems.*.design_point.laid_out_by"]],
        Get::Truth(|ask, it| {
            of(
                ask,
                it,
                |things| &things.systems,
                |ask, s| {
                    ask.read_inside(&s.here, &s.design_point, "laid_out_by", |d| (&d.here, &d.laid_out_by))
                        .map(|by| by.is_some())
                },
            )
        }),
    ),
];
