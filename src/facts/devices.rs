//! Facts of gauges, alarms, labels and the storeys on which pipe can be seen.

use crate::base::number::Dimension;
use crate::base::value::{Answer, Missing, Reason, unite};
use crate::base::vocabulary::{Thing, WordId, WordsShape};
use crate::design::model::controls::{Alarm, AlarmPower, Gauge, GaugeKind, Label, LabelOn, LabelSays};
use crate::yaml::words::Words;

use super::ask::{Ask, word_id};
use super::catalogue::{Entries, Fact, Get, words as word_list};
use super::kinds::Kind;
use super::system::system_of;
use super::things::{SpaceMember, Teller, of, thing};
use super::whole::lacking;
use super::words::Power;

/// What tells whether a system draws: a kind of gauge, or an alarm.
fn teller_kinds() -> WordsShape {
    let mut shape = word_list::<GaugeKind>();
    shape.words.push(("alarm".to_owned(), "warns when the system stops pulling".to_owned()));
    shape
}

fn alarm_word() -> WordId {
    WordId(u16::try_from(GaugeKind::ALL.len()).unwrap_or(u16::MAX))
}

fn teller<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    gauge: impl FnOnce(&mut Ask<'d>, &'d Gauge) -> Answer<R>,
    alarm: impl FnOnce(&mut Ask<'d>, &'d Alarm) -> Answer<R>,
) -> Answer<R> {
    match ask.things().gauges.get(it.number as usize).map(|(_, teller, _)| *teller) {
        Some(Teller::Gauge(it)) => gauge(ask, it),
        Some(Teller::Alarm(it)) => alarm(ask, it),
        None => ask.cannot(it, "it is not in the file"),
    }
}

fn label<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Label) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.labels, get)
}

fn teller_space(ask: &mut Ask<'_>, it: Thing) -> Answer<Thing> {
    teller(
        ask,
        it,
        |ask, gauge| {
            let want = gauge.space.want(&gauge.here);
            ask.value(&gauge.here, &gauge.space).then(|name| ask.space_called(want, name.as_str()))
        },
        |ask, alarm| {
            let want = alarm.space.want(&alarm.here);
            ask.value(&alarm.here, &alarm.space).then(|name| ask.space_called(want, name.as_str()))
        },
    )
}

/// Whether it shows or sounds that the fan has failed: any gauge shows it, and an alarm when it warns somehow.
fn warns(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    teller(
        ask,
        it,
        |ask, gauge| ask.value(&gauge.here, &gauge.kind).map(|_| true),
        |ask, alarm| ask.is_there(&alarm.here, &alarm.warns),
    )
}

fn power(ask: &mut Ask<'_>, it: Thing) -> Answer<WordId> {
    teller(
        ask,
        it,
        |ask, gauge| {
            let want = gauge.kind.want(&gauge.here);
            ask.value(&gauge.here, &gauge.kind).then(|kind| match kind {
                GaugeKind::UTube | GaugeKind::Dial | GaugeKind::FlowIndicator => {
                    Answer::known(word_id(Power::None))
                }
                GaugeKind::Digital | GaugeKind::Lamp => {
                    let why = "what a gauge of that kind runs on is not stated".to_owned();
                    Answer::missing(Missing { reason: Reason::NotComputable(why), ..want })
                }
            })
        },
        |ask, alarm| {
            ask.value(&alarm.here, &alarm.power).map(|power| {
                word_id(match power {
                    AlarmPower::Battery => Power::Battery,
                    AlarmPower::FanCircuit | AlarmPower::OtherCircuit => Power::House,
                    AlarmPower::OtherCircuitAndBattery => Power::HouseAndBattery,
                })
            })
        },
    )
}

fn only_an_alarm<R>(ask: &mut Ask<'_>, it: Thing) -> Answer<R> {
    ask.cannot(it, "a gauge without power has no such thing")
}

/// Whether a label tells something: known as soon as its words are listed.
fn tells(ask: &mut Ask<'_>, it: Thing, what: LabelSays) -> Answer<bool> {
    label(ask, it, |ask, label| {
        ask.read(&label.here, &label.says).then(|says| {
            let Some(says) = says else { return Answer::known(false) };
            let mut missing = Vec::new();
            for item in &says.items {
                match item.answer() {
                    Answer::Known { value: Some(word), .. } if *word == what => return Answer::known(true),
                    Answer::Known { .. } => {}
                    Answer::Unknown(more) => missing = unite(missing, more),
                }
            }
            if missing.is_empty() { Answer::known(false) } else { Answer::Unknown(missing) }
        })
    })
}

/// The storey a label is on: as stated, or that of the space it is in.
fn story_of_label<'d>(ask: &mut Ask<'d>, label: &'d Label) -> Answer<u32> {
    let here = &label.here;
    let stated = ask.value(here, &label.story).map(|count| count.0);
    if !label.story.is_missing() {
        return stated;
    }
    if label.space.is_missing() {
        let _ = ask.read(here, &label.space);
        return stated;
    }
    let want = label.space.want(here);
    ask.value(here, &label.space).then(|name| ask.space_called(want.clone(), name.as_str())).then(|space| {
        match ask.things().space(space) {
            Some(SpaceMember::Named(_, space)) => ask.value(&space.here, &space.story).map(|count| count.0),
            _ => Answer::missing(Missing {
                reason: Reason::NotComputable("it is outdoors".to_owned()),
                ..want
            }),
        }
    })
}

/// # Meaning
/// Whether some label on pipe of the system stands on a storey.
/// # Formula
/// Some label of the system that is on a pipe is on that storey, as stated or by the space it is in.
/// # Valid for
/// Systems whose labels are listed.
/// # Accuracy
/// Yes or no.
/// # Source
/// The entries.
/// # Errors
/// Unknown when the labels are not listed, or one of them does not say what or where it is on.
/// # Example
/// `{on: pipe, story: 0}` labels storey 0.
fn labelled(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    let Some(level) = ask.things().levels.get(it.number as usize).copied() else {
        return ask.cannot(it, "it is not in the file");
    };
    let Some(system) = ask.things().systems.get(level.system as usize).map(|system| system.it) else {
        return ask.cannot(it, "it belongs to no system");
    };
    let mut missing = lacking(ask, &system.here, &system.labels);
    let labels: Vec<_> = ask
        .things()
        .labels
        .iter()
        .filter(|label| label.owner == level.system)
        .map(|label| label.it)
        .collect();
    for label in labels {
        let on = ask.value(&label.here, &label.on).map(|on| *on == LabelOn::Pipe);
        if on == Answer::known(false) {
            continue;
        }
        let here = story_of_label(ask, label).map(|story| story == level.storey);
        match (on, here) {
            (Answer::Known { .. }, Answer::Known { value: true, .. }) => return Answer::known(true),
            (_, Answer::Known { value: false, .. }) => {}
            (on, here) => {
                if let Answer::Unknown(more) = on.both(here) {
                    missing = unite(missing, more);
                }
            }
        }
    }
    if missing.is_empty() { Answer::known(false) } else { Answer::Unknown(missing) }
}

/// Whether pipe of the system can be seen on a storey: some run there is not hidden.
fn in_sight(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    let Some(level) = ask.things().levels.get(it.number as usize).copied() else {
        return ask.cannot(it, "it is not in the file");
    };
    let mut missing = Vec::new();
    for run in super::runs::of_system(ask, level.system) {
        let _ = ask.read(&run.it.here, &run.it.through);
        let passes = run.it.through.members().any(|name| {
            let space = ask.things().space_named(name.as_str()).and_then(|space| ask.things().space(space));
            matches!(space, Some(SpaceMember::Named(_, space)) if space.story.known().map(|count| count.0) == Some(level.storey))
        });
        if !passes {
            continue;
        }
        match ask.yes_or_no(&run.it.here, &run.it.hidden) {
            Answer::Known { value: false, .. } => return Answer::known(true),
            Answer::Known { .. } => {}
            Answer::Unknown(more) => missing = unite(missing, more),
        }
    }
    if missing.is_empty() { Answer::known(false) } else { Answer::Unknown(missing) }
}

const fn shows(
    name: &'static str,
    meaning: &'static str,
    get: fn(&mut Ask<'_>, Thing) -> Answer<bool>,
) -> Fact {
    Fact::stated(Kind::Label, name, meaning, SAYS, Get::Truth(get))
}

const SAYS: &[Entries] = &[&["systems.*.labels.*.says"]];

/// Facts of gauges and alarms.
pub(super) const GAUGES: &[Fact] = &[
    Fact::stated(
        Kind::Gauge,
        "system",
        "The system that the gauge or alarm watches.",
        &[],
        Get::One(Kind::System, system_of),
    ),
    Fact::stated(
        Kind::Gauge,
        "kind",
        "What the gauge is; an alarm is a kind of its own.",
        &[&["systems.*.gauge.kind"]],
        Get::Word(teller_kinds, |ask, it| {
            teller(ask, it, |ask, g| ask.stated_word(&g.here, &g.kind), |_, _| Answer::known(alarm_word()))
        }),
    ),
    Fact::stated(
        Kind::Gauge,
        "in",
        "The space in which the gauge or alarm is.",
        &[&["systems.*.gauge.in", "systems.*.alarm.in"]],
        Get::One(Kind::Space, teller_space),
    ),
    Fact::stated(
        Kind::Gauge,
        "in_sight",
        "Whether people of the house see or hear it where they come by.",
        &[&["systems.*.gauge.visible", "systems.*.alarm.visible"]],
        Get::Truth(|ask, it| {
            teller(
                ask,
                it,
                |ask, g| ask.yes_or_no(&g.here, &g.visible),
                |ask, a| ask.yes_or_no(&a.here, &a.visible),
            )
        }),
    ),
    Fact {
        of: Kind::Gauge,
        name: "warns",
        meaning: "Whether it shows or sounds that the system has stopped pulling.",
        formula: "a gauge of any kind shows it; an alarm warns by what is stated",
        source: "what a gauge is",
        needs: &[&["systems.*.gauge.kind", "systems.*.alarm.warns"]],
        get: Get::Truth(warns),
    },
    Fact::stated(
        Kind::Gauge,
        "protected",
        "Whether it is guarded against knocks.",
        &[&["systems.*.gauge.protected", "systems.*.alarm.protected"]],
        Get::Truth(|ask, it| {
            teller(
                ask,
                it,
                |ask, g| ask.yes_or_no(&g.here, &g.protected),
                |ask, a| ask.yes_or_no(&a.here, &a.protected),
            )
        }),
    ),
    Fact::stated(
        Kind::Gauge,
        "start_up_marked",
        "Whether the reading at start-up is marked on it or beside it.",
        &[&["systems.*.gauge.marked", "systems.*.alarm.marked"]],
        Get::Truth(|ask, it| {
            teller(
                ask,
                it,
                |ask, g| ask.yes_or_no(&g.here, &g.marked),
                |ask, a| ask.yes_or_no(&a.here, &a.marked),
            )
        }),
    ),
    Fact::stated(
        Kind::Gauge,
        "range",
        "The most that the gauge can show.",
        &[&["systems.*.gauge.range"]],
        Get::Number(Dimension::PRESSURE, |ask, it| {
            teller(ask, it, |ask, g| ask.quantity(&g.here, &g.range), |ask, _| only_an_alarm(ask, it))
        }),
    ),
    Fact {
        of: Kind::Gauge,
        name: "power",
        meaning: "What the gauge or alarm runs on.",
        formula: "nothing for a tube, a dial or a flow indicator; as stated for an alarm",
        source: "what a gauge is",
        needs: &[&["systems.*.gauge.kind", "systems.*.alarm.power"]],
        get: Get::Word(word_list::<Power>, power),
    },
    Fact::stated(
        Kind::Gauge,
        "unswitched",
        "Whether the circuit of the alarm has no switch.",
        &[&["systems.*.alarm.unswitched"]],
        Get::Truth(|ask, it| {
            teller(ask, it, |ask, _| only_an_alarm(ask, it), |ask, a| ask.yes_or_no(&a.here, &a.unswitched))
        }),
    ),
    Fact::stated(
        Kind::Gauge,
        "resets",
        "Whether the alarm comes back by itself after a power failure.",
        &[&["systems.*.alarm.resets"]],
        Get::Truth(|ask, it| {
            teller(ask, it, |ask, _| only_an_alarm(ask, it), |ask, a| ask.yes_or_no(&a.here, &a.resets))
        }),
    ),
    Fact::stated(
        Kind::Gauge,
        "low_battery_warning",
        "Whether the alarm warns when its battery is low.",
        &[&["systems.*.alarm.low_battery_warning"]],
        Get::Truth(|ask, it| {
            teller(
                ask,
                it,
                |ask, _| only_an_alarm(ask, it),
                |ask, a| ask.yes_or_no(&a.here, &a.low_battery_warning),
            )
        }),
    ),
];

/// Facts of labels and of the storeys that pipe passes.
pub(super) const LABELS: &[Fact] = &[
    Fact::stated(
        Kind::Label,
        "system",
        "The system that the label belongs to.",
        &[],
        Get::One(Kind::System, system_of),
    ),
    Fact::stated(
        Kind::Label,
        "kind",
        "What the label is on.",
        &[&["systems.*.labels.*.on"]],
        Get::Word(word_list::<LabelOn>, |ask, it| label(ask, it, |ask, l| ask.stated_word(&l.here, &l.on))),
    ),
    Fact::stated(
        Kind::Label,
        "readable_from",
        "How far off the label can still be read.",
        &[&["systems.*.labels.*.legible_from"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            label(ask, it, |ask, l| ask.quantity(&l.here, &l.legible_from))
        }),
    ),
    Fact::stated(
        Kind::Label,
        "letters",
        "The height of the label's letters.",
        &[&["systems.*.labels.*.letters"]],
        Get::Number(Dimension::LENGTH, |ask, it| label(ask, it, |ask, l| ask.quantity(&l.here, &l.letters))),
    ),
    Fact::stated(
        Kind::Label,
        "durable",
        "Whether the label stands up to weather and wear.",
        &[&["systems.*.labels.*.durable"]],
        Get::Truth(|ask, it| label(ask, it, |ask, l| ask.yes_or_no(&l.here, &l.durable))),
    ),
    Fact::stated(
        Kind::Label,
        "in_place",
        "Whether the label is put up already.",
        &[&["systems.*.labels.*.in_place"]],
        Get::Truth(|ask, it| label(ask, it, |ask, l| ask.yes_or_no(&l.here, &l.in_place))),
    ),
    shows("shows_title", "Whether the label tells what it is the label of.", |ask, it| {
        tells(ask, it, LabelSays::WhatItIs)
    }),
    shows("shows_name", "Whether the label tells who installed the system.", |ask, it| {
        tells(ask, it, LabelSays::Installer)
    }),
    shows("shows_phone", "Whether the label tells a telephone number.", |ask, it| {
        tells(ask, it, LabelSays::Phone)
    }),
    shows("shows_address", "Whether the label tells an address.", |ask, it| {
        tells(ask, it, LabelSays::Address)
    }),
    shows(
        "shows_number",
        "Whether the label tells the installer's licence or certificate number.",
        |ask, it| tells(ask, it, LabelSays::Licence),
    ),
    shows("shows_date", "Whether the label tells the day of installation.", |ask, it| {
        tells(ask, it, LabelSays::InstallDate)
    }),
    shows("shows_retest", "Whether the label tells that the house should be tested again.", |ask, it| {
        tells(ask, it, LabelSays::RetestAdvice)
    }),
    shows("shows_reading", "Whether the label tells the gauge reading at start-up.", |ask, it| {
        tells(ask, it, LabelSays::StartReading)
    }),
    shows("shows_what_to_do", "Whether the label tells what to do when the gauge reads wrong.", |ask, it| {
        tells(ask, it, LabelSays::WhatToDo)
    }),
    shows("shows_circuit", "Whether the label tells the number of the circuit.", |ask, it| {
        tells(ask, it, LabelSays::Circuit)
    }),
    shows("shows_state_office", "Whether the label tells the state office to call.", |ask, it| {
        tells(ask, it, LabelSays::StateOffice)
    }),
    shows(
        "shows_replacement",
        "Whether the label of a temporary system tells by which day it is to be replaced.",
        |ask, it| tells(ask, it, LabelSays::ReplacementDate),
    ),
    Fact::stated(
        Kind::Level,
        "system",
        "The system whose pipe passes the storey.",
        &[],
        Get::One(Kind::System, |ask, it| match ask.things().levels.get(it.number as usize) {
            Some(level) => Answer::known(thing(Kind::System, level.system)),
            None => ask.cannot(it, "it is not in the file"),
        }),
    ),
    Fact {
        of: Kind::Level,
        name: "labelled",
        meaning: "Whether some label on pipe of the system stands on the storey.",
        formula: "some label on a pipe is on that storey, as stated or by the space it is in",
        source: "the entries",
        needs: &[&[
            "systems.*.labels",
            "systems.*.labels.*.on",
            "systems.*.labels.*.story",
            "systems.*.labels.*.in",
            "building.spaces.*.story",
        ]],
        get: Get::Truth(labelled),
    },
    Fact {
        of: Kind::Level,
        name: "in_sight",
        meaning: "Whether pipe of the system can be seen on the storey.",
        formula: "some run that passes it is not hidden",
        source: "the entries",
        needs: &[&["systems.*.runs.*.through", "systems.*.runs.*.hidden"]],
        get: Get::Truth(in_sight),
    },
];
