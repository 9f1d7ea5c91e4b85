//! Facts of runs of pipe and of what they pierce.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Listed, Missing, Reason, unite};
use crate::base::vocabulary::{Thing, WordId};
use crate::design::model::building::SpaceKind;
use crate::design::model::pipe::{FixedTo, Hangers, Pipe, PipeJoint, PipeMaterial, PipeSize, Run, Schedule};
use crate::yaml::entry::{Entry, State};

use super::ask::{Ask, word_id};
use super::catalogue::{Entries, Fact, Get, words};
use super::extents::{along_axis, extents, level_reach, says_a_way};
use super::join::{agree, either};
use super::kinds::Kind;
use super::outlines;
use super::penetrations::{own_penetrations, pierces_floor};
use super::places::{self, Along};
use super::statements::{half_of, settle};
use super::system::system_of;
use super::things::{Member, SpaceMember, of};

pub(super) fn run<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Run) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.runs, get)
}

/// Half the last fraction of a length.
pub(super) fn step_of(length: &crate::yaml::measure::Measure<crate::yaml::measure::Length>) -> Ratio {
    half_of(length.quantity.step().filter(|_| length.within.is_none()))
}

/// Where a run's chain of beginnings starts.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Root {
    /// At the fan, with this run.
    Fan(Thing),
    /// At the discharge.
    Discharge,
    /// At a suction point.
    SuctionPoint,
}

fn root(ask: &mut Ask<'_>, it: Thing) -> Answer<Root> {
    ask.between("root", it, |ask| {
        let owner = ask.things().owner(it);
        run(ask, it, |ask, run| {
            let want = run.from.want(&run.here);
            ask.value(&run.here, &run.from).then(|from| match from.as_str() {
                "fan" => Answer::known(Root::Fan(it)),
                "discharge" => Answer::known(Root::Discharge),
                name => {
                    let before = ask.things().named(Kind::Run, owner, name);
                    let point = ask.things().named(Kind::SuctionPoint, owner, name);
                    match (before, point) {
                        (Some(before), _) => root(ask, before),
                        (None, Some(_)) => Answer::known(Root::SuctionPoint),
                        (None, None) => {
                            let why = format!("where {name} hangs on the pipe is not stated");
                            Answer::missing(Missing { reason: Reason::NotComputable(why), ..want })
                        }
                    }
                }
            })
        })
    })
}

/// # Meaning
/// Whether a run carries air under pressure: the air has passed the fan.
/// # Formula
/// The runs that hang together from the fan on are followed to their ends: where one ends at the discharge they are
/// all after the fan, where one ends at a suction point all before it. Without a fan nothing is under pressure.
/// # Valid for
/// Runs written outward from the fan.
/// # Accuracy
/// Yes or no.
/// # Source
/// The way the air goes.
/// # Errors
/// Unknown when no end is stated, and when the same runs end at both.
/// # Example
/// `stack: {from: fan, up: 5 ft, to: discharge}` is after the fan.
pub(super) fn downstream(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    let Some(owner) = ask.things().owner(it) else { return ask.cannot(it, "it belongs to no system") };
    let system = ask.things().systems.get(owner as usize).map(|system| system.it);
    if let Some(system) = system
        && ask.read(&system.here, &system.fan).value() == Some(None)
    {
        return Answer::known(false);
    }
    root(ask, it).then(|root_of_it| {
        let first = match root_of_it {
            Root::Discharge => return Answer::known(true),
            Root::SuctionPoint => return Answer::known(false),
            Root::Fan(first) => first,
        };
        let (mut after, mut before, mut missing) = (Vec::new(), Vec::new(), Vec::new());
        for other in ask.things().owned(Kind::Run, owner) {
            if other != it && root(ask, other).value() != Some(Root::Fan(first)) {
                continue;
            }
            let Some(record) = ask.things().runs.get(other.number as usize).map(|run| run.it) else {
                continue;
            };
            let want = record.to.want(&record.here);
            match ask.read(&record.here, &record.to) {
                Answer::Known { value: Some(to), .. } => match to.as_str() {
                    "discharge" => after.push(want),
                    name if ask.things().named(Kind::SuctionPoint, Some(owner), name).is_some() => {
                        before.push(want)
                    }
                    _ => {}
                },
                Answer::Known { .. } => {}
                Answer::Unknown(more) => missing = unite(missing, more),
            }
        }
        match (after.is_empty(), before.is_empty()) {
            (false, true) => Answer::known(true),
            (true, false) => Answer::known(false),
            (false, false) => {
                let both = after.into_iter().chain(before);
                Answer::Unknown(both.map(|one| Missing { reason: Reason::Contradiction, ..one }).collect())
            }
            (true, true) => Answer::Unknown(missing),
        }
    })
}

/// Whether a run goes straight up or down.
fn upright(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    run(ask, it, |ask, run| {
        for extent in extents(run) {
            let _ = ask.read(&run.here, extent);
        }
        let level =
            [&run.north, &run.south, &run.east, &run.west].into_iter().any(|extent| !extent.is_missing());
        let plumb = !run.up.is_missing() || !run.down.is_missing();
        let unread = extents(run).into_iter().find(|extent| matches!(extent.state, State::Unreadable));
        let by_tape = match (unread, plumb, level) {
            (Some(extent), _, _) => Answer::missing(extent.want(&run.here)),
            (None, true, false) => Answer::known(true),
            (None, _, true) => Answer::known(false),
            (None, false, false) => Answer::missing(run.points.want(&run.here)),
        };
        let points: Vec<_> = ask
            .read(&run.here, &run.points)
            .value()
            .flatten()
            .into_iter()
            .flat_map(|p| p.members())
            .collect();
        let by_points = match (points.first(), points.last()) {
            (Some(first), Some(last)) => {
                let across = ask
                    .quantity(&first.here, &first.x)
                    .both(ask.quantity(&last.here, &last.x))
                    .both(ask.quantity(&first.here, &first.y).both(ask.quantity(&last.here, &last.y)));
                across.map(|((x0, x1), (y0, y1))| x0 == x1 && y0 == y1)
            }
            _ => Answer::missing(run.points.want(&run.here)),
        };
        agree(by_tape, by_points, &[run.points.want(&run.here)])
    })
}

/// # Meaning
/// How much a run falls per length toward the suction points, so that water runs back to the soil. Negative where it
/// runs the wrong way.
/// # Formula
/// As stated; or the drop from the end nearer the discharge to the other, over the level distance between them.
/// # Valid for
/// Runs that are not upright.
/// # Accuracy
/// Exact for exact lengths along an axis.
/// # Source
/// The meaning of a slope.
/// # Errors
/// Unknown when neither is stated; in doubt when the two differ; cannot be told of an upright run.
/// # Example
/// `slope: 1/4 in per ft`: 1/48.
fn slope_to_soil<'d>(ask: &mut Ask<'d>, it: Thing) -> Answer<Number> {
    run(ask, it, |ask, run| {
        let here = &run.here;
        let stated = ask.statement(run.slope.want(here), |ask| ask.quantity(here, &run.slope));
        let points: Vec<_> =
            ask.read(here, &run.points).value().flatten().into_iter().flat_map(|p| p.members()).collect();
        let (Some(first), Some(last)) = (points.first(), points.last()) else { return stated.value };
        let between = |ask: &mut Ask<'d>, along: Along| {
            let from = places::point_coordinate(ask, first, along);
            from.both(places::point_coordinate(ask, last, along)).map(|(from, to)| &to - &from)
        };
        let off = &outlines::slack(&run.points) * &Ratio::from(2);
        let mut reach = Ratio::ZERO;
        let by_points = ask.statement(run.points.want(here), |ask| {
            let level = between(ask, Along::East).both(between(ask, Along::North)).then(|(x, y)| {
                match (&x.squared() + &y.squared()).sqrt() {
                    Some(level) => Answer::known(level),
                    None => Answer::missing(run.points.want(here)),
                }
            });
            let rise = between(ask, Along::Up)
                .both(downstream(ask, it))
                .map(|(rise, after)| if after { rise } else { rise.negate() });
            rise.both(level).then(|(rise, level)| {
                reach = level.low();
                match rise.divide(&level) {
                    Some(slope) => Answer::known(slope),
                    None => ask.cannot(it, "a run straight up or down has no slope"),
                }
            })
        });
        let found = vec![
            stated.off_by(half_of(run.slope.known().and_then(|slope| slope.quantity.step()))),
            by_points.off_by(off.checked_div(&reach).unwrap_or_default()),
        ];
        let what = |ask: &Ask<'_>| format!("the slope of {}", ask.things().name(it));
        settle(ask, what, Dimension::ONE, found, || run.slope.want(here))
    })
}

/// # Meaning
/// How long a run is, along the pipe.
/// # Formula
/// As stated, or the straight distance between its ends.
/// # Valid for
/// Runs that are straight between their ends.
/// # Accuracy
/// The root of an exact square for exact lengths.
/// # Source
/// Pythagoras.
/// # Errors
/// Unknown when neither its length nor its way is stated; in doubt when the two differ.
/// # Example
/// `{east: 12 ft}`: 12 ft, but for the slope.
fn length(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    run(ask, it, |ask, run| {
        let here = &run.here;
        let stated = ask.statement(run.length.want(here), |ask| ask.quantity(here, &run.length));
        if !says_a_way(run) {
            return stated.value;
        }
        let written = extents(run).into_iter().find(|extent| !extent.is_missing()).unwrap_or(&run.up);
        let by_tape = ask.statement(written.want(here), |ask| by_its_way(ask, it, run));
        let found = if run.length.is_missing() { vec![by_tape, stated] } else { vec![stated, by_tape] };
        let what = |ask: &Ask<'_>| format!("the length of {}", ask.things().name(it));
        settle(ask, what, Dimension::LENGTH, found, || run.length.want(here))
    })
}

/// How long a run is by the way that it goes.
fn by_its_way<'d>(ask: &mut Ask<'d>, it: Thing, run: &'d Run) -> Answer<Number> {
    let here = &run.here;
    let level = level_reach(ask, it, run).map(|reach| reach.squared());
    let up = match along_axis(ask, it, run, Along::Up) {
        None => match ask.quantity(here, &run.slope) {
            Answer::Known { value: slope, .. } => level.clone().map(|level| &level * &slope.squared()),
            Answer::Unknown(missing) => Answer::Unknown(missing),
        },
        Some(_) => {
            let start = places::run_start(ask, it, Along::Up);
            let end = places::coordinate(ask, it, Along::Up);
            start.both(end).map(|(start, end)| (&end - &start).squared())
        }
    };
    level.both(up).then(|(level, up)| match (&level + &up).sqrt() {
        Some(length) => Answer::known(length),
        None => Answer::missing(run.length.want(here)),
    })
}

/// The greatest distance between supports: as stated, by the places, or the whole run where there are none.
fn hanger_spacing(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    run(ask, it, |ask, run| {
        let here = &run.here;
        if run.hangers.is_none() {
            let _ = ask.read(here, &run.hangers);
            return length(ask, it);
        }
        let Some(hangers) = run.hangers.known().filter(|hangers| !hangers.places.is_missing()) else {
            return ask.quantity_inside(here, &run.hangers, "spacing", |h| (&h.here, &h.spacing));
        };
        let stated = ask.statement(hangers.spacing.want(&hangers.here), |ask| {
            ask.quantity(&hangers.here, &hangers.spacing)
        });
        let greatest =
            ask.statement(hangers.places.want(&hangers.here), |ask| greatest_gap(ask, it, hangers));
        let what = |ask: &Ask<'_>| format!("the spacing of the hangers of {}", ask.things().name(it));
        settle(ask, what, Dimension::LENGTH, vec![stated, greatest], || hangers.spacing.want(&hangers.here))
    })
}

/// The greatest gap that the places of hangers leave, the ends of the run counted.
fn greatest_gap<'d>(ask: &mut Ask<'d>, it: Thing, hangers: &'d Hangers) -> Answer<Number> {
    let places = ask.value(&hangers.here, &hangers.places);
    let off = hangers.places.members().map(step_of).max().unwrap_or_default();
    ask.is_number(hangers.places.members().next().map(|place| &place.quantity.style), off);
    let places = places.then(|places| {
        Answer::all(places.items.iter().map(|item| {
            item.answer().then(|place| match place {
                Some(place) => Answer::known(place.number()),
                None => Answer::missing(item.want()),
            })
        }))
    });
    places.both(length(ask, it)).then(|(places, length)| {
        let ends: Vec<Number> = std::iter::once(Number::whole(0)).chain(places).chain([length]).collect();
        let gaps: Vec<Number> = ends.iter().zip(ends.iter().skip(1)).map(|(a, b)| b - a).collect();
        match Number::greatest(&gaps) {
            Some(greatest) => Answer::known(greatest),
            None => Answer::missing(hangers.places.want(&hangers.here)),
        }
    })
}

/// Whether a run has a low point from which no drain lets the water out.
fn holds_water(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    run(ask, it, |ask, run| {
        ask.read(&run.here, &run.low_points).then(|points| {
            let Some(points) = points else { return Answer::known(false) };
            let mut missing = Vec::new();
            for (_, point) in points.things() {
                match ask.yes_or_no(&point.here, &point.drained) {
                    Answer::Known { value: false, .. } => return Answer::known(true),
                    Answer::Known { .. } => {}
                    Answer::Unknown(more) => missing = unite(missing, more),
                }
            }
            if missing.is_empty() { Answer::known(false) } else { Answer::Unknown(missing) }
        })
    })
}

/// What the run says of itself, or else what is said of all pipe of its system.
pub(super) fn of_pipe<'d, T: 'd>(
    ask: &mut Ask<'d>,
    it: Thing,
    key: &'static str,
    own: impl FnOnce(&'d Run) -> &'d Entry<T>,
    all: impl FnOnce(&'d Pipe) -> &'d Entry<T>,
) -> Answer<Option<&'d T>> {
    let system =
        ask.things().owner(it).and_then(|at| ask.things().systems.get(at as usize)).map(|system| system.it);
    run(ask, it, |ask, run| {
        let own = own(run);
        let stated = ask.read(&run.here, own);
        match system {
            Some(system) if own.is_missing() => {
                let of_all = ask.read_inside(&system.here, &system.pipe, key, |pipe| (&pipe.here, all(pipe)));
                match of_all {
                    Answer::Unknown(_) => either(stated, of_all),
                    known => known,
                }
            }
            _ => stated,
        }
    })
}

fn pipe_word<'d, W: crate::yaml::words::Words>(
    ask: &mut Ask<'d>,
    it: Thing,
    key: &'static str,
    own: fn(&'d Run) -> &'d Entry<W>,
    all: impl FnOnce(&'d Pipe) -> &'d Entry<W>,
) -> Answer<W> {
    let want = ask.things().here(it).map(|here| here.path.key(key));
    of_pipe(ask, it, key, own, all).then(|word| match word {
        Some(word) => Answer::known(*word),
        None => Answer::missing(ask.want_at(want.as_ref().map_or("", |path| path.as_str()))),
    })
}

pub(super) fn size(ask: &mut Ask<'_>, it: Thing) -> Answer<PipeSize> {
    pipe_word(ask, it, "size", |run| &run.size, |pipe| &pipe.size)
}

pub(super) fn material(ask: &mut Ask<'_>, it: Thing) -> Answer<PipeMaterial> {
    pipe_word(ask, it, "material", |run| &run.material, |pipe| &pipe.material)
}

pub(super) fn schedule(ask: &mut Ask<'_>, it: Thing) -> Answer<Schedule> {
    pipe_word(ask, it, "schedule", |run| &run.schedule, |pipe| &pipe.schedule)
}

/// The number of a schedule; the other series have none.
fn schedule_number(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    schedule(ask, it).then(|schedule| match schedule {
        Schedule::Twenty => Answer::known(Number::whole(20)),
        Schedule::Thirty => Answer::known(Number::whole(30)),
        Schedule::Forty | Schedule::FoamCore => Answer::known(Number::whole(40)),
        Schedule::Eighty => Answer::known(Number::whole(80)),
        Schedule::Sdr35 | Schedule::Sdr26 | Schedule::ThinDrain => {
            ask.cannot(it, "pipe of that series has no schedule")
        }
    })
}

fn joints(ask: &mut Ask<'_>, it: Thing) -> Answer<WordId> {
    pipe_word(ask, it, "joints", |run| &run.joints, |pipe| &pipe.joints).map(word_id)
}

fn insulated(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    of_pipe(ask, it, "insulation", |run| &run.insulation, |pipe| &pipe.insulation)
        .map(|known| known.is_some())
}

fn spaces(ask: &mut Ask<'_>, it: Thing) -> Answer<Listed<Thing>> {
    run(ask, it, |ask, run| {
        ask.read(&run.here, &run.through).then(|through| match through {
            Some(through) => ask.spaces_called(&through.0.items).map(Listed::closed),
            None => Answer::known(Listed::closed(Vec::new())),
        })
    })
}

/// Whether a run passes a space of which something holds: known as soon as one is found.
fn passes(ask: &mut Ask<'_>, it: Thing, holds: impl Fn(&mut Ask<'_>, Thing) -> Answer<bool>) -> Answer<bool> {
    spaces(ask, it).then(|spaces| {
        let mut missing = Vec::new();
        for space in spaces.items {
            match holds(ask, space) {
                Answer::Known { value: true, .. } => return Answer::known(true),
                Answer::Known { .. } => {}
                Answer::Unknown(more) => missing = unite(missing, more),
            }
        }
        if missing.is_empty() { Answer::known(false) } else { Answer::Unknown(missing) }
    })
}

fn is_of_kind(ask: &mut Ask<'_>, space: Thing, kind: SpaceKind) -> Answer<bool> {
    match ask.things().space(space) {
        Some(SpaceMember::Named(..)) => ask.word(space, "kind").map(|word| word == word_id(kind)),
        _ => Answer::known(false),
    }
}

fn is_outdoors(ask: &mut Ask<'_>, space: Thing) -> Answer<bool> {
    Answer::known(matches!(ask.things().space(space), Some(SpaceMember::Outdoors)))
}

fn carried_by_others(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    run(ask, it, |ask, run| {
        ask.value_inside(&run.here, &run.hangers, "fixed_to", |h| (&h.here, &h.fixed_to))
            .map(|fixed| *fixed != FixedTo::Building)
    })
}

const RUN_SPACES: Entries = &["systems.*.runs.*.through"];
const PIERCES: Entries = &["systems.*.runs.*.pierces", "systems.*.runs.*.pierces.*.kind"];
const CHAIN: Entries = &["systems.*.fan", "systems.*.runs.*.from", "systems.*.runs.*.to"];
const EXTENTS: Entries = &[
    "systems.*.runs.*.up",
    "systems.*.runs.*.down",
    "systems.*.runs.*.north",
    "systems.*.runs.*.south",
    "systems.*.runs.*.east",
    "systems.*.runs.*.west",
    "systems.*.runs.*.points",
    "systems.*.runs.*.points.**",
];

/// Facts of runs.
pub(super) const RUNS: &[Fact] = &[
    Fact::stated(
        Kind::Run,
        "system",
        "The system the run belongs to.",
        &[],
        Get::One(Kind::System, system_of),
    ),
    Fact {
        of: Kind::Run,
        name: "upright",
        meaning: "Whether the run goes straight up or down.",
        formula: "it goes up or down and no other way, or its ends lie straight above each other",
        source: "the meaning of the words",
        needs: &[EXTENTS],
        get: Get::Truth(upright),
    },
    Fact {
        of: Kind::Run,
        name: "downstream",
        meaning: "Whether the run carries air under pressure: the air has passed the fan.",
        formula: "the runs that hang together from the fan on end at the discharge",
        source: "the way the air goes",
        needs: &[CHAIN],
        get: Get::Truth(downstream),
    },
    Fact {
        of: Kind::Run,
        name: "length",
        meaning: "How long the run is, along the pipe.",
        formula: "as stated, or the straight distance between its ends",
        source: "elementary geometry",
        needs: &[
            &["systems.*.runs.*.length"],
            places::RUN_PLACES,
            places::FAN_PLACE,
            places::DISCHARGE_PLACE,
        ],
        get: Get::Number(Dimension::LENGTH, length),
    },
    Fact {
        of: Kind::Run,
        name: "slope_to_soil",
        meaning: "How much the run falls per length toward the suction points; negative where it runs the wrong way.",
        formula: "as stated, or the drop between its ends over the level distance between them",
        source: "the meaning of a slope",
        needs: &[&["systems.*.runs.*.slope", "systems.*.runs.*.points"], CHAIN],
        get: Get::Number(Dimension::ONE, slope_to_soil),
    },
    Fact {
        of: Kind::Run,
        name: "holds_water",
        meaning: "Whether the run has a low point from which water cannot run off.",
        formula: "some low point has no drain",
        source: "the entries",
        needs: &[&["systems.*.runs.*.low_points", "systems.*.runs.*.low_points.*.drained"]],
        get: Get::Truth(holds_water),
    },
    Fact {
        of: Kind::Run,
        name: "hanger_spacing",
        meaning: "The greatest distance between the supports of the run.",
        formula: "as stated, or the greatest gap between the places of its supports, or its length where it has none",
        source: "the meaning of the words",
        needs: &[
            &[
                "systems.*.runs.*.hangers",
                "systems.*.runs.*.hangers.spacing",
                "systems.*.runs.*.hangers.places",
                "systems.*.runs.*.length",
            ],
            places::RUN_PLACES,
            places::FAN_PLACE,
            places::DISCHARGE_PLACE,
        ],
        get: Get::Number(Dimension::LENGTH, hanger_spacing),
    },
    Fact::stated(
        Kind::Run,
        "carried_by_others",
        "Whether the run is hung from other pipes, ducts or equipment rather than from the building.",
        &[&["systems.*.runs.*.hangers.fixed_to"]],
        Get::Truth(carried_by_others),
    ),
    Fact::stated(
        Kind::Run,
        "secured_at_floors",
        "Whether the run is held above or below each floor, ceiling or roof it goes through.",
        &[&["systems.*.runs.*.secured_at_floors"]],
        Get::Truth(|ask, it| run(ask, it, |ask, r| ask.yes_or_no(&r.here, &r.secured_at_floors))),
    ),
    Fact::stated(
        Kind::Run,
        "penetrations",
        "The places where the run goes through something; complete as written.",
        &[&["systems.*.runs.*.pierces"]],
        Get::Things(Kind::Penetration, own_penetrations),
    ),
    Fact {
        of: Kind::Run,
        name: "pierces_floor",
        meaning: "Whether the run goes through a floor, a ceiling or the roof.",
        formula: "some penetration of it is one of these",
        source: "the entries",
        needs: &[PIERCES],
        get: Get::Truth(pierces_floor),
    },
    Fact::stated(
        Kind::Run,
        "size",
        "The trade size of the run, or that of all pipe where the run says nothing.",
        &[&["systems.*.runs.*.size", "systems.*.pipe.size"]],
        Get::Word(words::<PipeSize>, |ask, it| size(ask, it).map(word_id)),
    ),
    Fact::stated(
        Kind::Run,
        "material",
        "What the run is made of, or all pipe where the run says nothing.",
        &[&["systems.*.runs.*.material", "systems.*.pipe.material"]],
        Get::Word(words::<PipeMaterial>, |ask, it| material(ask, it).map(word_id)),
    ),
    Fact {
        of: Kind::Run,
        name: "schedule",
        meaning: "The schedule number of the run's pipe, or of all pipe where the run says nothing.",
        formula: "the number of the schedule; foam core counts as the schedule it is made to",
        source: "the names of the schedules",
        needs: &[&["systems.*.runs.*.schedule", "systems.*.pipe.schedule"]],
        get: Get::Number(Dimension::ONE, schedule_number),
    },
    Fact::stated(
        Kind::Run,
        "wall",
        "The series by which the wall of the run's pipe is made, or of all pipe where the run says nothing.",
        &[&["systems.*.runs.*.schedule", "systems.*.pipe.schedule"]],
        Get::Word(words::<Schedule>, |ask, it| schedule(ask, it).map(word_id)),
    ),
    Fact::stated(
        Kind::Run,
        "joints",
        "How the run is joined, or all pipe where the run says nothing.",
        &[&["systems.*.runs.*.joints", "systems.*.pipe.joints"]],
        Get::Word(words::<PipeJoint>, joints),
    ),
    Fact::stated(
        Kind::Run,
        "insulated",
        "Whether insulation goes round the run, or round all pipe where the run says nothing.",
        &[&["systems.*.runs.*.insulation", "systems.*.pipe.insulation"]],
        Get::Truth(insulated),
    ),
    Fact::stated(
        Kind::Run,
        "spaces",
        "The spaces the run passes; complete as written.",
        &[RUN_SPACES],
        Get::Things(Kind::Space, spaces),
    ),
    Fact {
        of: Kind::Run,
        name: "outdoors",
        meaning: "Whether the run passes the open air.",
        formula: "the open air is among the spaces it passes",
        source: "the entries",
        needs: &[RUN_SPACES],
        get: Get::Truth(|ask, it| passes(ask, it, is_outdoors)),
    },
    Fact {
        of: Kind::Run,
        name: "in_attic",
        meaning: "Whether the run passes an attic.",
        formula: "an attic is among the spaces it passes",
        source: "the entries",
        needs: &[RUN_SPACES, &["building.spaces.*.kind"]],
        get: Get::Truth(|ask, it| passes(ask, it, |ask, space| is_of_kind(ask, space, SpaceKind::Attic))),
    },
    Fact {
        of: Kind::Run,
        name: "in_garage",
        meaning: "Whether the run passes a garage.",
        formula: "a garage is among the spaces it passes",
        source: "the entries",
        needs: &[RUN_SPACES, &["building.spaces.*.kind"]],
        get: Get::Truth(|ask, it| passes(ask, it, |ask, space| is_of_kind(ask, space, SpaceKind::Garage))),
    },
    Fact {
        of: Kind::Run,
        name: "in_conditioned",
        meaning: "Whether the run passes a heated or cooled space.",
        formula: "a conditioned space is among those it passes",
        source: "the entries",
        needs: &[RUN_SPACES, &["building.spaces.*.conditioned"]],
        get: Get::Truth(|ask, it| passes(ask, it, |ask, space| ask.truth(space, "conditioned"))),
    },
    Fact::stated(
        Kind::Run,
        "hidden",
        "Whether the run is hidden in a wall or chase.",
        &[&["systems.*.runs.*.hidden"]],
        Get::Truth(|ask, it| run(ask, it, |ask, r| ask.yes_or_no(&r.here, &r.hidden))),
    ),
];

/// The runs of a system with what is written of them.
pub(super) fn of_system<'d>(ask: &Ask<'d>, system: u32) -> Vec<Member<'d, Run>> {
    ask.things().runs.iter().filter(|run| run.owner == system).copied().collect()
}
