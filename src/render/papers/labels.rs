//! The labels as parts of a paper: where each goes, and each to cut out at its true size. The words are plain ones of our
//! own, and only what is asked for stands on a label; names come from the design, and what it does not have is left blank.

use super::report::{made_of, running};
use super::{Paper, Part, Sign, Table, anchor};
use crate::base::number::{Dimension, Quantity};
use crate::design::model::controls::{GaugeKind, LabelOn, LabelSays};
use crate::design::model::job::Person;
use crate::design::model::systems::System;
use crate::findings::compare::account::Program;
use crate::labels::{AskedBy, Wanted, labels};
use crate::render::phrases::{floor, spoken};
use crate::render::tell::whole::IS_NOT;
use crate::render::visible::one_line;
use crate::review::Review;
use crate::rulebook::checked::{Basis, Obligation, Stage};
use crate::yaml::entry::Entry;
use crate::yaml::words::Words;

/// How high letters are printed where nothing asks for a height: read with ease at arm's length.
const PRINTED: &str = "5 mm";
/// A line to hold a rule against.
const MEASURE: &str = "4 in";
/// No more of one label are printed; of more, the page says how many.
const MOST_COPIES: usize = 8;

/// The labels of a design as a paper of their own.
#[must_use]
pub fn paper(review: &Review<'_>, program: &Program) -> Paper {
    let mut parts = parts(review);
    parts.insert(0, heading("To print and put up"));
    parts.push(heading("What this page is not"));
    parts.push(Part::Words(IS_NOT.to_owned()));
    Paper {
        title: review
            .job
            .title
            .as_ref()
            .map_or_else(|| "Labels".to_owned(), |title| format!("Labels: {title}")),
        about: vec![one_line(review.name()).into_owned()],
        parts,
        foot: made_of(review, program),
        running: running(review, program),
        quoted: Vec::new(),
    }
}

/// The parts, without a heading of their own.
#[must_use]
pub fn parts(review: &Review<'_>) -> Vec<Part> {
    let all = labels(review);
    if all.is_empty() {
        let none = "The design has no label, and no rulebook that counts for this job asks for one here.";
        return vec![Part::Words(none.to_owned())];
    }
    let mut parts = vec![
        Part::Words(
            "Print at actual size, that is at 100 % and not fitted to the page; then hold a rule to the line below. On \
             pipe, on a lid and outdoors use a sheet that stands up to water, light and wear. Lines that are empty are \
             filled in by hand."
                .to_owned(),
        ),
        Part::Measure(Box::new(length(MEASURE))),
        Part::Table(where_they_go(&all, review)),
    ];
    for (at, (sign, heading)) in signs(&all, review).into_iter().enumerate() {
        let name = anchor("sign", &(at + 1).to_string());
        parts.push(Part::Heading(3, heading, name));
        parts.push(Part::Sign(Box::new(sign)));
    }
    parts
}

fn heading(words: &str) -> Part {
    Part::Heading(2, words.to_owned(), anchor("part", words))
}

fn length(text: &str) -> Quantity {
    Quantity::parse(text, Dimension::LENGTH)
        .unwrap_or_else(|_| Quantity::of(crate::base::number::Number::whole(0), Dimension::LENGTH))
}

/// What a label is on, in words.
fn on(label: &Wanted) -> String {
    let on: Vec<&str> =
        label.on.iter().map(|on| if *on == LabelOn::Panel { "panel" } else { on.spelling() }).collect();
    match on.as_slice() {
        [] => "system".to_owned(),
        on => on.join(" or "),
    }
}

fn place(label: &Wanted) -> String {
    match label.place.strip_prefix("storey ") {
        Some(storey) => floor(storey),
        None => spoken(&label.place),
    }
}

fn where_they_go(all: &[Wanted], review: &Review<'_>) -> Table {
    let design = &review.design;
    let several = design.systems.things().count() > 1;
    let row = |label: &Wanted| {
        let system = label.system.and_then(|at| design.systems.things().nth(at)).filter(|_| several);
        let system = system.map(|(name, _)| format!(", system {}", spoken(name))).unwrap_or_default();
        let place = place(label);
        let place = if place.is_empty() { on(label) } else { format!("{}, {place}", on(label)) };
        let letters = match &label.letters {
            Some(letters) => letters.to_string(),
            None => format!("no height asked; printed {PRINTED}"),
        };
        let mut more: Vec<String> =
            label.readable_from.iter().map(|far| format!("readable from {far}")).collect();
        more.extend(label.more.iter().cloned());
        if label.on.contains(&LabelOn::StateTag) {
            more.push("given out by the state, so not printed here".to_owned());
        }
        let by = cited(&label.asked_by, review);
        let lacks: Vec<&str> = label.lacks.iter().map(|says| says.spelling()).collect();
        let by = match (by.is_empty(), label.designed, lacks.is_empty()) {
            (true, ..) => "the design alone".to_owned(),
            (false, false, _) => format!("{}; the design does not have it", by.join("; ")),
            (false, true, false) => {
                format!("{}; the design does not list: {}", by.join("; "), lacks.join(", "))
            }
            (false, true, true) => by.join("; "),
        };
        vec![format!("{place}{system}"), label.count.to_string(), letters, more.join("; "), by]
    };
    Table {
        caption: "Where each label goes, and who asks for it".to_owned(),
        head: ["where", "how many", "letters", "also", "asked for by"].map(str::to_owned).to_vec(),
        rows: all.iter().map(row).collect(),
        shares: vec![20, 8, 14, 20, 38],
        ruled: false,
    }
}

/// The clauses that ask for a label: book, document where that is another one, sections, and the verb where it is not a
/// plain duty.
fn cited(all: &[AskedBy], review: &Review<'_>) -> Vec<String> {
    let mut said: Vec<(String, Vec<&str>, String)> = Vec::new();
    for by in all {
        let Some(used) = review.used.get(by.book) else { continue };
        let document = used.book.sources.iter().find(|source| source.name == by.source.document);
        let title = document.map_or(by.source.document.as_str(), |source| source.title.as_str());
        let own = title == used.book.title || by.source.basis == Basis::CommonPractice;
        let front = if own { used.book.name.clone() } else { format!("{}: {title}", used.book.name) };
        let verb = match (by.disputed, by.obligation) {
            (true, verb) => format!(", {}, disputed whether it is a duty", verb.word()),
            (false, Obligation::Shall) => String::new(),
            (false, verb) => format!(", {}, which is no duty", verb.word()),
        };
        let section = by.source.section.as_str();
        match said.iter_mut().find(|(known, _, back)| *known == front && *back == verb) {
            Some((_, sections, _)) => sections.push(section),
            None => said.push((front, vec![section], verb)),
        }
    }
    let joined = |(front, mut sections, verb): (String, Vec<&str>, String)| {
        sections.retain(|section| !section.is_empty());
        sections.dedup();
        let comma = if sections.is_empty() { "" } else { ", " };
        format!("{front}{comma}{}{verb}", sections.join(" and "))
    };
    said.into_iter().map(joined).collect()
}

/// The labels to print, those that read alike together, each with what stands above it.
fn signs(all: &[Wanted], review: &Review<'_>) -> Vec<(Sign, String)> {
    let mut alike: Vec<(Sign, String, Vec<String>)> = Vec::new();
    for label in all.iter().filter(|label| !label.on.contains(&LabelOn::StateTag)) {
        let letters = label.letters.clone().unwrap_or_else(|| length(PRINTED));
        let sign = Sign { lines: lines(label, review), letters, copies: label.count as usize };
        let (what, place) = (on(label), place(label));
        let same = |(known, called, _): &&mut (Sign, String, Vec<String>)| {
            known.lines == sign.lines && known.letters == sign.letters && *called == what
        };
        match alike.iter_mut().find(same) {
            Some((known, _, places)) => {
                known.copies = known.copies.saturating_add(sign.copies);
                places.push(place);
            }
            None => alike.push((sign, what, vec![place])),
        }
    }
    let headed = |(mut sign, what, mut places): (Sign, String, Vec<String>)| {
        places.retain(|place| !place.is_empty());
        places.dedup();
        let places = if places.is_empty() { String::new() } else { format!(": {}", places.join(", ")) };
        let more =
            if sign.copies > MOST_COPIES { format!(" ({} of it)", sign.copies) } else { String::new() };
        sign.copies = sign.copies.clamp(1, MOST_COPIES);
        (sign, format!("For the {what}{places}{more}"))
    };
    alike.into_iter().map(headed).collect()
}

/// The lines of a label.
fn lines(label: &Wanted, review: &Review<'_>) -> Vec<(String, bool)> {
    let design = &review.design;
    let system = label.system.and_then(|at| design.systems.things().nth(at)).map(|(_, system)| system);
    let mut lines: Vec<(String, bool)> = label.text.iter().map(|text| (text.clone(), false)).collect();
    for says in &label.says {
        if *says == LabelSays::WhatItIs && label.text.is_some() {
            continue;
        }
        let (words, value) = line(*says, label, system, review);
        match value {
            Value::Words => lines.push((words.to_owned(), false)),
            Value::Known(value) => lines.push((format!("{words}: {value}"), false)),
            Value::Blank => lines.push((format!("{words}:"), true)),
        }
    }
    if lines.is_empty() {
        lines.push((String::new(), true));
    }
    lines
}

/// What stands behind the words of a line.
enum Value {
    /// Nothing: the words are all.
    Words,
    /// This.
    Known(String),
    /// Room to write.
    Blank,
}

fn name(entry: &Entry<Person>) -> Option<String> {
    let person = entry.known()?;
    [&person.name, &person.company].into_iter().find_map(super::packet::text)
}

fn of_person(
    entries: [Option<&Entry<Person>>; 2],
    get: impl Fn(&Person) -> Option<String>,
) -> Option<String> {
    entries.into_iter().flatten().find_map(|entry| get(entry.known()?))
}

/// One line: its words, and what stands behind them.
fn line(
    says: LabelSays,
    label: &Wanted,
    system: Option<&System>,
    review: &Review<'_>,
) -> (&'static str, Value) {
    use super::packet::text;
    let design = &review.design;
    let job = &design.job;
    let installer = [system.map(|system| &system.installed_by), Some(&job.contractor)];
    let known = |value: Option<String>| value.map_or(Value::Blank, Value::Known);
    let is_u_tube = || {
        system.and_then(|system| system.gauge.known()).and_then(|gauge| gauge.kind.known())
            == Some(&GaugeKind::UTube)
    };
    // Before start-up nobody has read it, so it is written by hand.
    let read = review.stage > Stage::Design;
    let mark = || system.filter(|_| read)?.gauge.known()?.mark.known().map(|mark| mark.quantity.to_string());
    match says {
        LabelSays::WhatItIs => (what_it_is(label), Value::Words),
        LabelSays::InstallDate => {
            let day = system.and_then(|system| system.installed.known()).map(ToString::to_string);
            ("Installed on", known(day))
        }
        LabelSays::Installer => ("Installed by", known(installer.into_iter().flatten().find_map(name))),
        LabelSays::Licence => {
            ("Licence or certificate no.", known(of_person(installer, |person| text(&person.licence))))
        }
        LabelSays::Phone => ("Telephone", known(of_person(installer, |person| text(&person.phone)))),
        LabelSays::Address => ("Address", known(of_person(installer, |person| text(&person.address)))),
        LabelSays::RetestAdvice => {
            let next = design.papers.upkeep.known().and_then(|upkeep| upkeep.next_test.known());
            ("Have the air tested for radon again. Next test", known(next.map(ToString::to_string)))
        }
        LabelSays::StartReading => ("Gauge at start-up", known(mark())),
        LabelSays::WhatGaugeShows if is_u_tube() => (
            "All is well while the fluid stands higher on one side of the gauge than on the other. Marked at",
            known(mark()),
        ),
        LabelSays::WhatGaugeShows if system.is_some_and(|system| system.alarm.known().is_some()) => {
            ("All is well while gauge and alarm show", Value::Blank)
        }
        LabelSays::WhatGaugeShows => ("All is well while the gauge shows", Value::Blank),
        LabelSays::WhatToDo => (
            if system.is_some_and(|system| system.alarm.known().is_some()) {
                "If gauge or alarm show anything else, see whether the fan has power, then call whoever answers for it."
            } else {
                "If it shows anything else, see whether the fan has power, then call whoever answers for it."
            },
            Value::Words,
        ),
        LabelSays::Responsible => ("Answers for the system", known(name(&job.responsible))),
        LabelSays::Circuit => {
            let circuit =
                system.and_then(|system| system.wiring.known()).and_then(|wiring| wiring.circuit.known());
            ("Circuit no.", known(circuit.and_then(|circuit| text(&circuit.number))))
        }
        LabelSays::DoNotDisturb => (leave_it(label, system), Value::Words),
        LabelSays::FlowDirection => ("The air goes this way \u{2192}", Value::Words),
        LabelSays::SystemKind => {
            let kind = system.and_then(|system| system.kind.known()).map(|kind| kind.spelling().to_owned());
            ("Kind of system", known(kind))
        }
        LabelSays::ReplacementDate => {
            let until = job.temporary_until.known().map(ToString::to_string);
            ("For a time only. To be replaced by", known(until))
        }
        LabelSays::StateNumber => ("Number given by the state", Value::Blank),
        LabelSays::StateOffice => ("State radon office", Value::Blank),
        LabelSays::Information => ("To learn more of radon", Value::Blank),
    }
}

/// What a label asks people not to do with what it is on.
fn leave_it(label: &Wanted, system: Option<&System>) -> &'static str {
    match label.on.first() {
        Some(LabelOn::SumpLid) => "Keep it closed and tight. If you had to open it, seal it again.",
        Some(LabelOn::Membrane) => "Do not cut it, lift it or put holes in it.",
        Some(LabelOn::CrawlAccess) => "Keep it closed.",
        Some(LabelOn::Pipe | LabelOn::RoughIn | LabelOn::Vent) => "Do not cut it, open it or connect to it.",
        Some(LabelOn::Discharge) => "Do not block it.",
        Some(LabelOn::Valve) => "Leave it as it is set.",
        Some(LabelOn::Fan | LabelOn::Disconnect | LabelOn::Panel) => "Leave it on.",
        Some(LabelOn::Gauge | LabelOn::Alarm) => "Leave it as it is. Do not open it or take it off.",
        Some(LabelOn::System | LabelOn::StateTag) | None
            if system.is_some_and(|system| system.fan.known().is_none()) =>
        {
            "Leave it as it is. Do not open it."
        }
        Some(LabelOn::System | LabelOn::StateTag) | None => {
            "Leave it as it is. Do not switch it off or open it."
        }
    }
}

/// What a label says that it is on.
fn what_it_is(label: &Wanted) -> &'static str {
    match label.on.first() {
        Some(LabelOn::Pipe) => "Radon pipe. It carries soil gas.",
        Some(LabelOn::Fan) => "Radon fan",
        Some(LabelOn::Disconnect) => "Switch of the radon fan",
        Some(LabelOn::Panel) => "Radon fan",
        Some(LabelOn::SumpLid) => "This lid is part of the radon system.",
        Some(LabelOn::Membrane) => "This sheet is part of the radon system.",
        Some(LabelOn::CrawlAccess) => "Radon system behind this door",
        Some(LabelOn::Gauge) => "Gauge of the radon system",
        Some(LabelOn::Alarm) => "Alarm of the radon system",
        Some(LabelOn::Valve) => "Valve of the radon system",
        Some(LabelOn::Discharge) => "Soil gas leaves here. Radon system",
        Some(LabelOn::RoughIn) => "Pipe for a radon system, and for nothing else",
        Some(LabelOn::Vent) => "Vent of the radon system",
        Some(LabelOn::System | LabelOn::StateTag) | None => "Radon system",
    }
}
