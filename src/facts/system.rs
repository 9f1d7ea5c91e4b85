//! Facts of a system, and what tells which parts it has.

use crate::base::number::{Dimension, Number};
use crate::base::value::{Answer, Listed, Missing, Reason, unite};
use crate::base::vocabulary::{Thing, WordId};
use crate::design::model::readings::PipeReading;
use crate::design::model::systems::{System, SystemKind};
use crate::design::model::wiring::{Connection, Wiring};
use crate::yaml::entry::{Entry, Here};

use super::ask::{Ask, word_id};
use super::catalogue::{Entries, Fact, Get, words as word_list};
use super::join::agree;
use super::kinds::Kind;
use super::things::{SpaceMember, of, thing};
use super::whole::{lacking, says_none};
use super::words::Operation;

/// What tells whether a system has a fan.
pub(super) const FAN: Entries = &["systems.*.fan", "systems.*.kind"];

/// What tells whether a fan has a cord.
pub(super) const CORD: Entries = &["systems.*.wiring.connection", "systems.*.wiring.cord"];

/// What tells which circuit feeds a fan.
pub(super) const CIRCUIT: Entries = &["systems.*.wiring.circuit"];

/// What tells which gauges and alarms a system has.
pub(super) const GAUGES: Entries = &["systems.*.gauge", "systems.*.alarm"];

/// What tells which storeys a system's pipe passes.
pub(super) const LEVELS: Entries = &["systems.*.runs", "systems.*.runs.*.through", "building.spaces.*.story"];

pub(super) fn system<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d System) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.systems, get)
}

/// Whether the file says that no fan drives the system, though the fan's own entry may be missing.
fn said_passive<'d>(ask: &mut Ask<'d>, system: &'d System) -> bool {
    let kind = ask.read(&system.here, &system.kind).value().flatten();
    matches!(kind, Some(SystemKind::Passive | SystemKind::RoughIn))
}

/// What is lacking to tell whether a system has a fan.
pub(super) fn lacking_fan<'d>(ask: &mut Ask<'d>, system: &'d System) -> Vec<Missing> {
    let missing = lacking(ask, &system.here, &system.fan);
    if !missing.is_empty() && said_passive(ask, system) { Vec::new() } else { missing }
}

fn in_wiring<'d, T: 'd>(
    ask: &mut Ask<'d>,
    system: &'d System,
    key: &'static str,
    get: impl FnOnce(&'d Wiring) -> &'d Entry<T>,
) -> Answer<Option<&'d T>> {
    ask.read_inside(&system.here, &system.wiring, key, |wiring| (&wiring.here, get(wiring)))
}

/// What is lacking to tell whether the fan of a system has a cord.
pub(super) fn lacking_cord<'d>(ask: &mut Ask<'d>, system: &'d System) -> Vec<Missing> {
    if says_none(&system.fan) {
        return lacking_fan(ask, system);
    }
    let without_fan = lacking_fan(ask, system);
    let connection = in_wiring(ask, system, "connection", |wiring| &wiring.connection).value().flatten();
    match in_wiring(ask, system, "cord", |wiring| &wiring.cord) {
        Answer::Known { .. } => without_fan,
        Answer::Unknown(_) if connection == Some(&Connection::HardWired) => without_fan,
        Answer::Unknown(missing) => unite(without_fan, missing),
    }
}

/// What is lacking to tell which circuit feeds the fan of a system.
pub(super) fn lacking_circuit<'d>(ask: &mut Ask<'d>, system: &'d System) -> Vec<Missing> {
    let without_fan = lacking_fan(ask, system);
    if says_none(&system.fan) {
        return without_fan;
    }
    match in_wiring(ask, system, "circuit", |wiring| &wiring.circuit) {
        Answer::Known { .. } => without_fan,
        Answer::Unknown(missing) => unite(without_fan, missing),
    }
}

/// What is lacking to tell whether there is a receptacle at the fan of a system.
pub(super) fn lacking_receptacle<'d>(ask: &mut Ask<'d>, system: &'d System) -> Vec<Missing> {
    let without_fan = lacking_fan(ask, system);
    if says_none(&system.fan) {
        return without_fan;
    }
    match in_wiring(ask, system, "receptacle", |wiring| &wiring.receptacle) {
        Answer::Known { .. } => without_fan,
        Answer::Unknown(missing) => unite(without_fan, missing),
    }
}

/// What is lacking to tell which gauges and alarms a system has.
pub(super) fn lacking_gauges<'d>(ask: &mut Ask<'d>, system: &'d System) -> Vec<Missing> {
    let gauge = lacking(ask, &system.here, &system.gauge);
    unite(gauge, lacking(ask, &system.here, &system.alarm))
}

/// What is lacking to tell which storeys the pipe of a system passes.
pub(super) fn lacking_levels<'d>(ask: &mut Ask<'d>, system: &'d System, number: u32) -> Vec<Missing> {
    let mut open = lacking(ask, &system.here, &system.runs);
    let runs: Vec<_> = ask.things().runs.iter().filter(|run| run.owner == number).map(|run| run.it).collect();
    for run in runs {
        open = unite(open, lacking(ask, &run.here, &run.through));
        let Some(through) = run.through.known() else { continue };
        let spaces = match ask.spaces_called(&through.0.items) {
            Answer::Known { value, .. } => value,
            Answer::Unknown(missing) => {
                open = unite(open, missing);
                continue;
            }
        };
        for space in spaces {
            if let Some(SpaceMember::Named(_, space)) = ask.things().space(space) {
                open = unite(open, lacking(ask, &space.here, &space.story));
            }
        }
    }
    open
}

/// # Meaning
/// Whether a fan drives a system.
/// # Formula
/// As stated by `kind`; otherwise active where a fan is written and passive where `fan: none` is.
/// # Valid for
/// Every system. A pipe roughed in for later counts as passive.
/// # Accuracy
/// A word.
/// # Source
/// The meaning of the words.
/// # Errors
/// Unknown when neither is stated, or when the two contradict each other.
/// # Example
/// `fan: {in: attic}` makes a system active.
fn operation(ask: &mut Ask<'_>, it: Thing) -> Answer<WordId> {
    system(ask, it, |ask, system| {
        let stated = ask.value(&system.here, &system.kind).map(|kind| match kind {
            SystemKind::Active => word_id(Operation::Active),
            SystemKind::Passive | SystemKind::RoughIn => word_id(Operation::Passive),
        });
        let by_fan = ask
            .is_there(&system.here, &system.fan)
            .map(|fan| word_id(if fan { Operation::Active } else { Operation::Passive }));
        let of = [system.fan.want(&system.here), system.kind.want(&system.here)];
        agree(by_fan, stated, &of)
    })
}

fn own(ask: &mut Ask<'_>, it: Thing, kind: Kind, open: Vec<Missing>) -> Answer<Listed<Thing>> {
    Answer::known(Listed::open(ask.things().owned(kind, it.number), open))
}

fn own_fans(ask: &mut Ask<'_>, it: Thing) -> Answer<Listed<Thing>> {
    system(ask, it, |ask, system| {
        let open = lacking_fan(ask, system);
        own(ask, it, Kind::Fan, open)
    })
}

fn discharge(ask: &mut Ask<'_>, it: Thing) -> Answer<Thing> {
    system(ask, it, |ask, system| {
        let found = ask.things().owned(Kind::Discharge, it.number).first().copied();
        ask.value(&system.here, &system.discharge).then(|_| match found {
            Some(discharge) => Answer::known(discharge),
            None => Answer::missing(system.discharge.want(&system.here)),
        })
    })
}

/// Whether a reading at start-up was taken on this system; with a single system all are.
fn is_of_system(ask: &Ask<'_>, it: Thing, name: &str, reading: &PipeReading) -> bool {
    if ask.things().systems.len() == 1 {
        return true;
    }
    let place = reading.of.known().map_or(name, |place| place.as_str());
    let things = ask.things();
    things.named(Kind::Run, Some(it.number), place).is_some()
        || things.named(Kind::SuctionPoint, Some(it.number), place).is_some()
}

/// # Meaning
/// The greatest suction that was read in the pipe of a system at start-up.
/// # Formula
/// The greatest of the readings that were taken on the system.
/// # Valid for
/// Readings named for a run or suction point; with a single system, all readings.
/// # Accuracy
/// As read.
/// # Source
/// The readings.
/// # Errors
/// Unknown when there is no reading, or one without a suction.
/// # Example
/// Readings of 1.1 in WC and 0.6 in WC: 1.1 in WC.
fn start_up_suction(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let start_up = &ask.design().start_up;
    let list = ask.value(&start_up.here, &start_up.readings);
    list.then(|list| {
        let mut found = Vec::new();
        for (name, reading) in list.things() {
            let _ = ask.read(&reading.here, &reading.of);
            if is_of_system(ask, it, name, reading) {
                found.push(ask.quantity(&reading.here, &reading.suction));
            }
        }
        Answer::all(found).then(|found| match Number::greatest(&found) {
            Some(most) => Answer::known(most),
            None => Answer::missing(ask.want_at("start_up.readings")),
        })
    })
}

/// A list of a system's things that is complete once its entry is there.
fn as_written<'d, T: 'd>(
    ask: &mut Ask<'d>,
    it: Thing,
    kind: Kind,
    get: impl FnOnce(&'d System) -> (&'d Here, &'d Entry<T>),
) -> Answer<Listed<Thing>> {
    system(ask, it, |ask, system| {
        let (here, entry) = get(system);
        let open = lacking(ask, here, entry);
        own(ask, it, kind, open)
    })
}

/// Facts of systems.
pub(super) const SYSTEMS: &[Fact] = &[
    Fact::stated(
        Kind::System,
        "kind",
        "What kind of system it is, as stated.",
        &[&["systems.*.kind"]],
        Get::Word(word_list::<SystemKind>, |ask, it| {
            system(ask, it, |ask, s| ask.stated_word(&s.here, &s.kind))
        }),
    ),
    Fact {
        of: Kind::System,
        name: "operation",
        meaning: "What drives the system: a fan, or none.",
        formula: "active where a fan is written, passive where none is said to be, or as stated",
        source: "the meaning of the words",
        needs: &[FAN],
        get: Get::Word(word_list::<Operation>, operation),
    },
    Fact::stated(
        Kind::System,
        "discharge",
        "The discharge of the system.",
        &[&["systems.*.discharge"]],
        Get::One(Kind::Discharge, discharge),
    ),
    Fact::stated(
        Kind::System,
        "fans",
        "The fan of the system: none or one.",
        &[FAN],
        Get::Things(Kind::Fan, own_fans),
    ),
    Fact::stated(
        Kind::System,
        "runs",
        "The runs of the system; complete as written.",
        &[&["systems.*.runs"]],
        Get::Things(Kind::Run, |ask, it| as_written(ask, it, Kind::Run, |s| (&s.here, &s.runs))),
    ),
    Fact::stated(
        Kind::System,
        "suction_points",
        "The suction points of the system; complete as written.",
        &[&["systems.*.suction_points"]],
        Get::Things(Kind::SuctionPoint, |ask, it| {
            as_written(ask, it, Kind::SuctionPoint, |s| (&s.here, &s.suction_points))
        }),
    ),
    Fact::stated(
        Kind::System,
        "gauges",
        "The gauge and the alarm of the system; complete as written.",
        &[GAUGES],
        Get::Things(Kind::Gauge, |ask, it| {
            system(ask, it, |ask, system| {
                let open = lacking_gauges(ask, system);
                own(ask, it, Kind::Gauge, open)
            })
        }),
    ),
    Fact::stated(
        Kind::System,
        "labels",
        "The labels of the system; complete as written.",
        &[&["systems.*.labels"]],
        Get::Things(Kind::Label, |ask, it| as_written(ask, it, Kind::Label, |s| (&s.here, &s.labels))),
    ),
    Fact::stated(
        Kind::System,
        "levels",
        "The floor levels that the pipe of the system passes indoors.",
        &[LEVELS],
        Get::Things(Kind::Level, |ask, it| {
            system(ask, it, |ask, system| {
                let open = lacking_levels(ask, system, it.number);
                own(ask, it, Kind::Level, open)
            })
        }),
    ),
    Fact::stated(
        Kind::System,
        "tests",
        "The tests of radon in air made after start-up; all of them, for every system.",
        &[&["radon_tests", "radon_tests.*.when"]],
        Get::Things(Kind::Test, |ask, _| ask.several(thing(Kind::Design, 0), "tests")),
    ),
    Fact::stated(
        Kind::System,
        "design_air",
        "The air that the system is designed to move.",
        &[&["systems.*.design_point", "systems.*.design_point.flow"]],
        Get::Number(Dimension::FLOW, |ask, it| {
            system(ask, it, |ask, system| {
                ask.quantity_inside(&system.here, &system.design_point, "flow", |it| (&it.here, &it.flow))
            })
        }),
    ),
    Fact::stated(
        Kind::System,
        "design_suction",
        "The suction at the fan that the system is designed for.",
        &[&["systems.*.design_point", "systems.*.design_point.suction"]],
        Get::Number(Dimension::PRESSURE, |ask, it| {
            system(ask, it, |ask, system| {
                ask.quantity_inside(&system.here, &system.design_point, "suction", |it| {
                    (&it.here, &it.suction)
                })
            })
        }),
    ),
    Fact {
        of: Kind::System,
        name: "start_up_suction",
        meaning: "The greatest suction that was read in the pipe of the system at start-up.",
        formula: "the greatest of the readings taken on the system",
        source: "the readings",
        needs: &[&["start_up.readings", "start_up.readings.*.of", "start_up.readings.*.suction"]],
        get: Get::Number(Dimension::PRESSURE, start_up_suction),
    },
];

/// The system that a thing belongs to, as an answer.
pub(super) fn system_of(ask: &mut Ask<'_>, it: Thing) -> Answer<Thing> {
    match ask.things().system_of(it) {
        Some(system) => Answer::known(system),
        None => {
            Answer::missing(ask.of_thing(it, Reason::NotComputable("it belongs to no system".to_owned())))
        }
    }
}
