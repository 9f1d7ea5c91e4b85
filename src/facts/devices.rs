//! Facts of gauges and alarms.

use crate::base::number::Dimension;
use crate::base::value::Answer;
use crate::base::vocabulary::{Thing, WordId, WordsShape};
use crate::design::model::controls::{Alarm, AlarmPower, Gauge, GaugeKind, Warns, Watches};
use crate::yaml::words::Words;

use super::ask::{Ask, word_id};
use super::catalogue::{Fact, Get, words as word_list};
use super::contradictions::gauges;
use super::kinds::Kind;
use super::system::system_of;
use super::things::Teller;
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

fn runs_on(power: AlarmPower) -> WordId {
    word_id(match power {
        AlarmPower::Battery => Power::Battery,
        AlarmPower::FanCircuit | AlarmPower::OtherCircuit => Power::House,
        AlarmPower::OtherCircuitAndBattery => Power::HouseAndBattery,
    })
}

fn power(ask: &mut Ask<'_>, it: Thing) -> Answer<WordId> {
    teller(
        ask,
        it,
        |ask, gauge| {
            ask.value(&gauge.here, &gauge.kind).then(|kind| match kind {
                GaugeKind::UTube | GaugeKind::Dial | GaugeKind::FlowIndicator => {
                    Answer::known(word_id(Power::None))
                }
                GaugeKind::Digital | GaugeKind::Lamp => {
                    ask.value(&gauge.here, &gauge.power).map(|power| runs_on(*power))
                }
            })
        },
        |ask, alarm| ask.value(&alarm.here, &alarm.power).map(|power| runs_on(*power)),
    )
}

fn without_a_scale<R>(ask: &mut Ask<'_>, it: Thing) -> Answer<R> {
    ask.cannot(it, "an alarm has no scale")
}

/// Whether it calls for attention by itself when the system stops: a lamp does, and an alarm that warns somehow. Any other
/// gauge waits until somebody looks at it.
fn alerts(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    teller(
        ask,
        it,
        |ask, gauge| ask.value(&gauge.here, &gauge.kind).map(|kind| *kind == GaugeKind::Lamp),
        |ask, alarm| ask.is_there(&alarm.here, &alarm.warns),
    )
}

/// Whether it warns in a certain way when the system stops: only an alarm does.
fn warns_by(ask: &mut Ask<'_>, it: Thing, way: Warns) -> Answer<bool> {
    teller(
        ask,
        it,
        |_, _| Answer::known(false),
        |ask, alarm| {
            ask.read(&alarm.here, &alarm.warns).then(|ways| match ways {
                Some(ways) => ways.0.all().map(|ways| ways.contains(&&way)),
                None => Answer::known(false),
            })
        },
    )
}

/// Whether it shows to the eye that the system has stopped: any gauge does, and an alarm that warns by light.
fn shows(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    match ask.word(it, "kind") {
        Answer::Known { value, .. } if value != alarm_word() => Answer::known(true),
        Answer::Known { .. } => warns_by(ask, it, Warns::Visible),
        Answer::Unknown(missing) => Answer::Unknown(missing),
    }
}

/// What it watches: air for a flow indicator, pressure for any other gauge, and what is stated for an alarm.
fn watches(ask: &mut Ask<'_>, it: Thing) -> Answer<WordId> {
    teller(
        ask,
        it,
        |ask, gauge| {
            ask.value(&gauge.here, &gauge.kind).map(|kind| match kind {
                GaugeKind::FlowIndicator => word_id(Watches::Flow),
                _ => word_id(Watches::Pressure),
            })
        },
        |ask, alarm| ask.stated_word(&alarm.here, &alarm.watches),
    )
}

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
            teller(ask, it, |ask, g| ask.quantity(&g.here, &g.range), |ask, _| without_a_scale(ask, it))
        }),
    ),
    Fact::stated(
        Kind::Gauge,
        "mark",
        "The reading at start-up that is marked on the gauge.",
        &[&["systems.*.gauge.mark"]],
        Get::Number(Dimension::PRESSURE, |ask, it| {
            let cannot = ask
                .things()
                .system_of(it)
                .and_then(|system| ask.aside("mark", system, |ask| gauges::beyond(ask, system)));
            if let Some(cannot) = cannot {
                return cannot.unknown();
            }
            teller(ask, it, |ask, g| ask.quantity(&g.here, &g.mark), |ask, _| without_a_scale(ask, it))
        }),
    ),
    Fact {
        of: Kind::Gauge,
        name: "alerts",
        meaning: "Whether it calls for attention by itself when the system stops pulling.",
        formula: "a lamp does, and an alarm that warns somehow; any other gauge waits until somebody looks",
        source: "what a gauge is",
        needs: &[&["systems.*.gauge.kind", "systems.*.alarm.warns"]],
        get: Get::Truth(alerts),
    },
    Fact {
        of: Kind::Gauge,
        name: "sounds",
        meaning: "Whether it sounds when the system stops pulling.",
        formula: "an alarm that warns by sound does, a gauge never",
        source: "what a gauge is",
        needs: &[&["systems.*.alarm.warns"]],
        get: Get::Truth(|ask, it| warns_by(ask, it, Warns::Audible)),
    },
    Fact {
        of: Kind::Gauge,
        name: "shows",
        meaning: "Whether it shows to the eye that the system has stopped pulling.",
        formula: "any gauge shows it, and an alarm that warns by light",
        source: "what a gauge is",
        needs: &[&["systems.*.gauge.kind", "systems.*.alarm.warns"]],
        get: Get::Truth(shows),
    },
    Fact {
        of: Kind::Gauge,
        name: "messages",
        meaning: "Whether it sends a message when the system stops pulling.",
        formula: "an alarm that warns by message does, a gauge never",
        source: "what a gauge is",
        needs: &[&["systems.*.alarm.warns"]],
        get: Get::Truth(|ask, it| warns_by(ask, it, Warns::Message)),
    },
    Fact::stated(
        Kind::Gauge,
        "loudness",
        "How loud the alarm is where it should be heard.",
        &[&["systems.*.alarm.loudness"]],
        Get::Number(Dimension::LOUDNESS, |ask, it| {
            teller(
                ask,
                it,
                |ask, _| ask.cannot(it, "a gauge makes no sound"),
                |ask, a| ask.quantity(&a.here, &a.loudness),
            )
        }),
    ),
    Fact {
        of: Kind::Gauge,
        name: "watches",
        meaning: "What the gauge or alarm watches.",
        formula: "air for a flow indicator, pressure for any other gauge, as stated for an alarm",
        source: "what a gauge is",
        needs: &[&["systems.*.gauge.kind", "systems.*.alarm.watches"]],
        get: Get::Word(word_list::<Watches>, watches),
    },
    Fact {
        of: Kind::Gauge,
        name: "power",
        meaning: "What the gauge or alarm runs on.",
        formula: "nothing for a tube, a dial or a flow indicator; as stated for any other gauge and for an alarm",
        source: "what a gauge is",
        needs: &[&["systems.*.gauge.kind", "systems.*.gauge.power", "systems.*.alarm.power"]],
        get: Get::Word(word_list::<Power>, power),
    },
    Fact::stated(
        Kind::Gauge,
        "unswitched",
        "Whether the circuit that the gauge or alarm runs on has no switch.",
        &[&["systems.*.gauge.unswitched", "systems.*.alarm.unswitched"]],
        Get::Truth(|ask, it| {
            teller(
                ask,
                it,
                |ask, g| ask.yes_or_no(&g.here, &g.unswitched),
                |ask, a| ask.yes_or_no(&a.here, &a.unswitched),
            )
        }),
    ),
    Fact::stated(
        Kind::Gauge,
        "resets",
        "Whether the gauge or alarm comes back by itself after a power failure.",
        &[&["systems.*.gauge.resets", "systems.*.alarm.resets"]],
        Get::Truth(|ask, it| {
            teller(
                ask,
                it,
                |ask, g| ask.yes_or_no(&g.here, &g.resets),
                |ask, a| ask.yes_or_no(&a.here, &a.resets),
            )
        }),
    ),
    Fact::stated(
        Kind::Gauge,
        "low_battery_warning",
        "Whether the gauge or alarm warns when its battery is low.",
        &[&["systems.*.gauge.low_battery_warning", "systems.*.alarm.low_battery_warning"]],
        Get::Truth(|ask, it| {
            teller(
                ask,
                it,
                |ask, g| ask.yes_or_no(&g.here, &g.low_battery_warning),
                |ask, a| ask.yes_or_no(&a.here, &a.low_battery_warning),
            )
        }),
    ),
];
