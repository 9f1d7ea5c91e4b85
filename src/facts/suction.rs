//! Facts of suction points.

use crate::base::number::{Dimension, Number};
use crate::base::value::{Answer, Missing, unite};
use crate::base::vocabulary::{Thing, WordId};
use crate::design::model::drainage::{DrainGuard, DrainLoop, WaterGoes};
use crate::design::model::membrane::ClosedBy;
use crate::design::model::suction::{CarriedBy, InletKind, Role, SuctionKind, SuctionPoint};

use super::ask::{Ask, word_id};
use super::catalogue::{Entries, Fact, Get, words};
use super::join::{agree, either};
use super::kinds::Kind;
use super::places;
use super::system::system_of;
use super::things::{of, space_or_area};
use super::whole::lacking;
use super::words::Outlet;

pub(super) fn point<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d SuctionPoint) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.suction_points, get)
}

/// Whether any system draws through a sump: yes as soon as one suction point names it.
pub(super) fn draws_on_sump(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    let name = ask.things().name(it);
    draws(ask, |ask, point| {
        let named =
            ask.read(&point.here, &point.sump).map(|sump| sump.is_some_and(|sump| sump.as_str() == name));
        by_kind(ask, point, SuctionKind::Sump, named)
    })
}

/// Whether any system draws on a block wall: yes as soon as one suction point names it.
pub(super) fn draws_on_wall(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    let name = ask.things().name(it);
    draws(ask, |ask, point| {
        let named =
            ask.read(&point.here, &point.wall).map(|wall| wall.is_some_and(|wall| wall.as_str() == name));
        by_kind(ask, point, SuctionKind::BlockWall, named)
    })
}

/// Whether any suction point is in a space or under its floor.
pub(super) fn draws_in(ask: &mut Ask<'_>, space: Thing) -> Answer<bool> {
    draws(ask, |ask, point| {
        let (here, entry) = places::lies_in(ask, point);
        space_or_area(ask, here, entry).map(|own| own == space)
    })
}

/// What a suction point does not name is not asked for where it draws on something else.
fn by_kind<'d>(
    ask: &mut Ask<'d>,
    point: &'d SuctionPoint,
    kind: SuctionKind,
    named: Answer<bool>,
) -> Answer<bool> {
    match named {
        Answer::Unknown(missing) => {
            let other = ask.read(&point.here, &point.kind).value().flatten().is_some_and(|own| *own != kind);
            if other { Answer::known(false) } else { Answer::Unknown(missing) }
        }
        known => known,
    }
}

/// Whether some suction point is as asked: yes as soon as one is, no where all are written and none is.
fn draws<'d>(
    ask: &mut Ask<'d>,
    is_so: impl Fn(&mut Ask<'d>, &'d SuctionPoint) -> Answer<bool>,
) -> Answer<bool> {
    let design = ask.design();
    let mut open: Vec<Missing> = lacking(ask, &design.here, &design.systems);
    let systems: Vec<_> = ask.things().systems.iter().map(|system| system.it).collect();
    for system in systems {
        open = unite(open, lacking(ask, &system.here, &system.suction_points));
    }
    let points: Vec<_> = ask.things().suction_points.iter().map(|point| point.it).collect();
    for point in points {
        match is_so(ask, point) {
            Answer::Known { value: true, .. } => return Answer::known(true),
            Answer::Known { .. } => {}
            Answer::Unknown(missing) => open = unite(open, missing),
        }
    }
    if open.is_empty() { Answer::known(false) } else { Answer::Unknown(open) }
}

/// The drain loop that a suction point draws from.
fn drain_loop<'d>(ask: &mut Ask<'d>, point: &'d SuctionPoint) -> Answer<&'d DrainLoop> {
    let want = point.drain_loop.want(&point.here);
    ask.value(&point.here, &point.drain_loop).then(|name| {
        match ask.design().foundation.drain_loops.thing(name.as_str()) {
            Some(drain_loop) => Answer::known(drain_loop),
            None => Answer::missing(want),
        }
    })
}

/// The outlets of the drain loop that a suction point draws from, each with its guard.
fn outlet_goes(ask: &mut Ask<'_>, it: Thing) -> Answer<WordId> {
    point(ask, it, |ask, point| {
        drain_loop(ask, point).then(|drain_loop| {
            let outlets = ask.read(&drain_loop.here, &drain_loop.outlets);
            outlets.then(|outlets| {
                let mut places = Vec::new();
                for (_, outlet) in outlets.into_iter().flat_map(|outlets| outlets.things()) {
                    places.push(ask.value(&outlet.here, &outlet.to));
                }
                Answer::all(places).then(|places| match places.as_slice() {
                    [] => Answer::known(word_id(Outlet::None)),
                    [first, rest @ ..] if rest.iter().all(|place| place == first) => {
                        Answer::known(word_id(outlet_word(**first)))
                    }
                    _ => Answer::known(word_id(Outlet::Several)),
                })
            })
        })
    })
}

fn outlet_word(to: WaterGoes) -> Outlet {
    match to {
        WaterGoes::Sump => Outlet::Sump,
        WaterGoes::Sewer => Outlet::Sewer,
        WaterGoes::Daylight | WaterGoes::Ground => Outlet::Daylight,
        WaterGoes::Soil | WaterGoes::DryWell | WaterGoes::DrainLoop => Outlet::Soakaway,
    }
}

/// Whether every outlet of the drain loop holds air back.
fn outlet_guarded(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    point(ask, it, |ask, point| {
        drain_loop(ask, point).then(|drain_loop| {
            let outlets = ask.read(&drain_loop.here, &drain_loop.outlets);
            outlets.then(|outlets| {
                let mut missing = Vec::new();
                for (_, outlet) in outlets.into_iter().flat_map(|outlets| outlets.things()) {
                    match ask.read(&outlet.here, &outlet.guard) {
                        Answer::Known { value: Some(guard), .. } if *guard != DrainGuard::Plug => {}
                        Answer::Known { .. } => return Answer::known(false),
                        Answer::Unknown(more) => missing = unite(missing, more),
                    }
                }
                if missing.is_empty() { Answer::known(true) } else { Answer::Unknown(missing) }
            })
        })
    })
}

/// # Meaning
/// Whether the gap round the pipe at a suction point is closed for good.
/// # Formula
/// Something is stated that closes it, at the point itself or at its hole; `none` means that it is open.
/// # Valid for
/// Every suction point.
/// # Accuracy
/// Yes or no.
/// # Source
/// The entries.
/// # Errors
/// Unknown when neither is stated; unknown when the two contradict each other.
/// # Example
/// `sealed_with: polyurethane`: yes.
fn gap_sealed(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    point(ask, it, |ask, point| {
        let here = &point.here;
        let by_point = ask.is_there(here, &point.sealed_with);
        let by_hole = ask
            .read_inside(here, &point.hole, "closed_with", |hole| (&hole.here, &hole.closed_with))
            .map(|closed| closed.is_some());
        if says_no_hole(point) {
            return by_point;
        }
        agree(by_point, by_hole, &[point.sealed_with.want(here), point.hole.want(here)])
    })
}

fn says_no_hole(point: &SuctionPoint) -> bool {
    point.hole.is_none()
}

/// Whether the pipe is carried so that it cannot drop into the pit.
fn pipe_held_up(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    point(ask, it, |ask, point| {
        ask.value(&point.here, &point.carried_by)
            .map(|carried| matches!(carried, CarriedBy::Hangers | CarriedBy::Slab))
    })
}

fn perforated(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    point(ask, it, |ask, point| {
        let here = &point.here;
        let own = ask.quantity(here, &point.perforated);
        let inlet = ask.value_inside(here, &point.inlet, "kind", |inlet| (&inlet.here, &inlet.kind));
        let with_holes = inlet.then(|kind| match kind {
            InletKind::PerforatedPipe => {
                ask.quantity_inside(here, &point.inlet, "length", |inlet| (&inlet.here, &inlet.length))
            }
            _ => Answer::missing(point.perforated.want(here)),
        });
        either(own, with_holes)
    })
}

const SPACE: Entries = &["systems.*.suction_points.*.in", "foundation.areas.*.in"];

const LOOP: Entries = &[
    "systems.*.suction_points.*.drain_loop",
    "foundation.drain_loops.*.outlets",
    "foundation.drain_loops.*.outlets.*.to",
];

const LOOP_GUARDS: Entries = &[
    "systems.*.suction_points.*.drain_loop",
    "foundation.drain_loops.*.outlets",
    "foundation.drain_loops.*.outlets.*.guard",
];

/// Facts of suction points.
pub(super) const SUCTION_POINTS: &[Fact] = &[
    Fact::stated(
        Kind::SuctionPoint,
        "system",
        "The system that draws at the suction point.",
        &[],
        Get::One(Kind::System, system_of),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "kind",
        "What the suction point draws from.",
        &[&["systems.*.suction_points.*.kind"]],
        Get::Word(words::<SuctionKind>, |ask, it| point(ask, it, |ask, p| ask.stated_word(&p.here, &p.kind))),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "role",
        "What part the suction point plays.",
        &[&["systems.*.suction_points.*.role"]],
        Get::Word(words::<Role>, |ask, it| point(ask, it, |ask, p| ask.stated_word(&p.here, &p.role))),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "in",
        "The space in which the suction point is.",
        &[SPACE],
        Get::One(Kind::Space, |ask, it| {
            point(ask, it, |ask, p| {
                let (here, entry) = places::lies_in(ask, p);
                space_or_area(ask, here, entry)
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "pit_volume",
        "How much was dug out under the suction point; nothing where there is no pit.",
        &[&["systems.*.suction_points.*.pit.volume"]],
        Get::Number(Dimension::VOLUME, |ask, it| {
            point(ask, it, |ask, p| {
                let stated = ask.read_inside(&p.here, &p.pit, "volume", |pit| (&pit.here, &pit.volume));
                let want = || Missing {
                    entry: p.here.path.key("pit").key("volume"),
                    reason: crate::base::value::Reason::NotStated,
                    at: Some(p.pit.at),
                };
                stated.then(|volume| match volume {
                    Some(volume) => super::ask::as_stated(volume.number(), want),
                    None if p.pit.is_none() => Answer::known(Number::whole(0)),
                    None => Answer::missing(want()),
                })
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "pipe_off_bottom",
        "How far the end of the pipe stays off the bottom of the pit.",
        &[&["systems.*.suction_points.*.pit.pipe_off_bottom"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            point(ask, it, |ask, p| {
                ask.quantity_inside(&p.here, &p.pit, "pipe_off_bottom", |pit| {
                    (&pit.here, &pit.pipe_off_bottom)
                })
            })
        }),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "hole",
        "How wide the hole through the slab or wall is.",
        &[&["systems.*.suction_points.*.hole.width"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            point(ask, it, |ask, p| {
                ask.quantity_inside(&p.here, &p.hole, "width", |hole| (&hole.here, &hole.width))
            })
        }),
    ),
    Fact {
        of: Kind::SuctionPoint,
        name: "gap_sealed",
        meaning: "Whether the gap round the pipe at the suction point is closed.",
        formula: "something is stated that closes it, at the point or at its hole",
        source: "the entries",
        needs: &[&["systems.*.suction_points.*.sealed_with", "systems.*.suction_points.*.hole.closed_with"]],
        get: Get::Truth(gap_sealed),
    },
    Fact::stated(
        Kind::SuctionPoint,
        "sealed_with",
        "What the pipe is sealed with at the suction point.",
        &[&["systems.*.suction_points.*.sealed_with"]],
        Get::Word(words::<ClosedBy>, |ask, it| {
            point(ask, it, |ask, p| ask.stated_word(&p.here, &p.sealed_with))
        }),
    ),
    Fact {
        of: Kind::SuctionPoint,
        name: "pipe_held_up",
        meaning: "Whether the pipe is carried so that it cannot drop into the pit or the soil.",
        formula: "hangers or the slab carry it, rather than the seal or the bottom of the pit",
        source: "the entries",
        needs: &[&["systems.*.suction_points.*.carried_by"]],
        get: Get::Truth(pipe_held_up),
    },
    Fact {
        of: Kind::SuctionPoint,
        name: "perforated",
        meaning: "How long the pipe with holes is in which the suction point ends.",
        formula: "as stated, or the length of an inlet of perforated pipe",
        source: "the entries",
        needs: &[&[
            "systems.*.suction_points.*.perforated",
            "systems.*.suction_points.*.inlet.kind",
            "systems.*.suction_points.*.inlet.length",
        ]],
        get: Get::Number(Dimension::LENGTH, perforated),
    },
    Fact::stated(
        Kind::SuctionPoint,
        "detachable",
        "Whether the pipe can be taken off at the suction point.",
        &[&["systems.*.suction_points.*.detachable"]],
        Get::Truth(|ask, it| point(ask, it, |ask, p| ask.yes_or_no(&p.here, &p.detachable))),
    ),
    Fact::stated(
        Kind::SuctionPoint,
        "water_still_drains",
        "Whether water can still drain past the suction point.",
        &[&["systems.*.suction_points.*.water_still_drains"]],
        Get::Truth(|ask, it| point(ask, it, |ask, p| ask.yes_or_no(&p.here, &p.water_still_drains))),
    ),
    Fact {
        of: Kind::SuctionPoint,
        name: "outlet",
        meaning: "Where the water of the drain loop goes that the suction point draws from.",
        formula: "the place of all its outlets, when they are alike",
        source: "the entries",
        needs: &[LOOP],
        get: Get::Word(words::<Outlet>, outlet_goes),
    },
    Fact {
        of: Kind::SuctionPoint,
        name: "outlet_valve",
        meaning: "Whether a trap or one-way device at every outlet of the drain loop holds air back.",
        formula: "every outlet has one",
        source: "the entries",
        needs: &[LOOP_GUARDS],
        get: Get::Truth(outlet_guarded),
    },
];
