//! Facts of labels and of the storeys on which pipe can be seen.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Missing, Reason, unite};
use crate::base::vocabulary::Thing;
use crate::design::model::controls::{Label, LabelOn, LabelSays};

use super::ask::Ask;
use super::catalogue::{Entries, Fact, Get, words as word_list};
use super::fan::of_its_system;
use super::kinds::Kind;
use super::radon_tests::SECONDS_OF_A_DAY;
use super::system::system_of;
use super::things::{SpaceMember, of, thing};
use super::whole::lacking;

fn label<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Label) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.labels, get)
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

/// # Meaning
/// How long after the installation a label was put up.
/// # Formula
/// The calendar days from the day of installation to the day it was put up; negative where it was there before.
/// # Valid for
/// Labels and systems that state their days.
/// # Accuracy
/// Whole days.
/// # Source
/// The calendar.
/// # Errors
/// Unknown when either day is not stated.
/// # Example
/// Installed 2026-06-08, put up 2026-06-10: two days.
fn days_late(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let installed =
        of_its_system(ask, it, |ask, system| ask.value(&system.here, &system.installed).map(|day| *day));
    let put_up = label(ask, it, |ask, label| ask.value(&label.here, &label.on_day).map(|day| *day));
    installed.both(put_up).map(|(installed, put_up)| {
        Number::exact(Ratio::from(installed.days_until(put_up)) * Ratio::from(SECONDS_OF_A_DAY))
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

/// The facts of a label that say what it tells, each with what that is.
pub const SHOWN: [(&str, LabelSays); 18] = [
    ("shows_title", LabelSays::WhatItIs),
    ("shows_name", LabelSays::Installer),
    ("shows_phone", LabelSays::Phone),
    ("shows_number", LabelSays::Licence),
    ("shows_date", LabelSays::InstallDate),
    ("shows_retest", LabelSays::RetestAdvice),
    ("shows_reading", LabelSays::StartReading),
    ("shows_gauge", LabelSays::WhatGaugeShows),
    ("shows_responsible", LabelSays::Responsible),
    ("shows_information", LabelSays::Information),
    ("shows_address", LabelSays::Address),
    ("shows_leave_alone", LabelSays::DoNotDisturb),
    ("shows_state_number", LabelSays::StateNumber),
    ("shows_what_to_do", LabelSays::WhatToDo),
    ("shows_circuit", LabelSays::Circuit),
    ("shows_state_office", LabelSays::StateOffice),
    ("shows_kind", LabelSays::SystemKind),
    ("shows_replacement", LabelSays::ReplacementDate),
];

/// The labels on pipe of a system on a storey that it passes, with the number of the system.
pub fn labels_on(ask: &mut Ask<'_>, level: Thing) -> (Option<usize>, Vec<Thing>) {
    let Some(level) = ask.things().levels.get(level.number as usize).copied() else {
        return (None, Vec::new());
    };
    let labels: Vec<_> = ask.things().labels.iter().map(|label| (label.owner, label.it)).collect();
    let mut found = Vec::new();
    for (number, (owner, label)) in (0..).zip(labels) {
        let here = || label.on.known() == Some(&LabelOn::Pipe);
        if owner == level.system && here() && story_of_label(ask, label) == Answer::known(level.storey) {
            found.push(thing(Kind::Label, number));
        }
    }
    (Some(level.system as usize), found)
}

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
        "in",
        "The space in which the label is.",
        &[&["systems.*.labels.*.in"]],
        Get::One(Kind::Space, |ask, it| {
            label(ask, it, |ask, label| {
                let want = label.space.want(&label.here);
                ask.value(&label.here, &label.space).then(|name| ask.space_called(want, name.as_str()))
            })
        }),
    ),
    Fact::stated(
        Kind::Label,
        "from_gauge",
        "How far from the gauge the label is.",
        &[&["systems.*.labels.*.from_gauge"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            label(ask, it, |ask, l| ask.quantity(&l.here, &l.from_gauge))
        }),
    ),
    Fact::stated(
        Kind::Label,
        "from_panel",
        "How far from the electrical panel the label is.",
        &[&["systems.*.labels.*.from_panel"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            label(ask, it, |ask, l| ask.quantity(&l.here, &l.from_panel))
        }),
    ),
    Fact::stated(
        Kind::Label,
        "spacing",
        "How far it is from one label to the next, for those repeated along a pipe.",
        &[&["systems.*.labels.*.spacing"]],
        Get::Number(Dimension::LENGTH, |ask, it| label(ask, it, |ask, l| ask.quantity(&l.here, &l.spacing))),
    ),
    Fact::stated(
        Kind::Label,
        "at_turns",
        "Whether the label is repeated at each change of direction of the pipe.",
        &[&["systems.*.labels.*.at_turns"]],
        Get::Truth(|ask, it| label(ask, it, |ask, l| ask.yes_or_no(&l.here, &l.at_turns))),
    ),
    Fact::stated(
        Kind::Label,
        "in_plain_sight",
        "Whether the label is seen without moving or opening anything.",
        &[&["systems.*.labels.*.in_plain_sight"]],
        Get::Truth(|ask, it| label(ask, it, |ask, l| ask.yes_or_no(&l.here, &l.in_plain_sight))),
    ),
    Fact::stated(
        Kind::Label,
        "stands_out",
        "Whether the label's letters stand out in colour from what is behind them.",
        &[&["systems.*.labels.*.stands_out"]],
        Get::Truth(|ask, it| label(ask, it, |ask, l| ask.yes_or_no(&l.here, &l.stands_out))),
    ),
    Fact::stated(
        Kind::Label,
        "numbered",
        "Whether a number stands on the label: that of a tag given out by the state.",
        &[&["systems.*.labels.*.number"]],
        Get::Truth(|ask, it| label(ask, it, |ask, l| ask.is_there(&l.here, &l.number))),
    ),
    Fact {
        of: Kind::Label,
        name: "days_late",
        meaning: "The calendar days from the day the system was installed to the day the label was put up.",
        formula: "the day it was put up less the day of installation, as a stretch of time",
        source: "the calendar",
        needs: &[&["systems.*.labels.*.put_up", "systems.*.installed"]],
        get: Get::Number(Dimension::TIME, days_late),
    },
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
    shows(
        "shows_gauge",
        "Whether the label tells what the gauge or alarm shows when all is well.",
        |ask, it| tells(ask, it, LabelSays::WhatGaugeShows),
    ),
    shows("shows_responsible", "Whether the label tells who answers for the system.", |ask, it| {
        tells(ask, it, LabelSays::Responsible)
    }),
    shows("shows_information", "Whether the label tells where people learn more of radon.", |ask, it| {
        tells(ask, it, LabelSays::Information)
    }),
    shows("shows_address", "Whether the label tells an address.", |ask, it| {
        tells(ask, it, LabelSays::Address)
    }),
    shows(
        "shows_leave_alone",
        "Whether the label tells people not to switch off or take away.",
        |ask, it| tells(ask, it, LabelSays::DoNotDisturb),
    ),
    shows("shows_state_number", "Whether the label tells a number given by the state.", |ask, it| {
        tells(ask, it, LabelSays::StateNumber)
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
    shows("shows_kind", "Whether the label tells what kind of system it is.", |ask, it| {
        tells(ask, it, LabelSays::SystemKind)
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
    Fact::stated(
        Kind::Level,
        "story",
        "The number of the storey: 1 for the ground floor, 0 for a basement or crawlspace.",
        &[],
        Get::Number(Dimension::ONE, |ask, it| match ask.things().levels.get(it.number as usize) {
            Some(level) => Answer::known(Number::exact(Ratio::from(i64::from(level.storey)))),
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
