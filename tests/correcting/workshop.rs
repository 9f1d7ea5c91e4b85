//! The rules of a workshop: a small book of our own, whose corrections say changes of every form, and a house under it.

use undercroft::review::{BookFile, Library};
use undercroft::yaml::splice::lay_over;

use crate::commands::example;

const BOOK: &str = "\
book: workshop
title: Rules of the workshop
publisher: The workshop
edition: first
legal_nature: What the workshop has agreed on.
covers: Systems that the workshop builds.
sources:
  wall: {title: The sheet on the wall, publisher: The workshop, year: 2026, read_at: the workshop, basis: read}
";

/// A rule of the workshop.
macro_rules! rule {
    ($name:literal, $rest:literal) => {
        concat!(
            "rule: ",
            $name,
            "\ntitle: ",
            $name,
            " as agreed\nobligation: shall\ndue: design\nsubject: workshop/",
            $name,
            "\nsource: {document: wall, basis: read}\nbecause: So it was agreed.\nunmet: It is not so.\n",
            $rest
        )
    };
}

/// The files of the book.
pub(crate) const FILES: &[(&str, &str)] = &[
    ("workshop/book.yaml", BOOK),
    (
        "workshop/rules/runs-hung.yaml",
        rule!(
            "runs-hung",
            "each: run in runs\nlimits:\n  spacing: {value: 6 ft, words: at most}\nrequires: run.hanger_spacing <= spacing\ncorrections:\n  - hang it closer: {set: \"systems.*.runs.{run}.hangers.spacing\", to: spacing}\n"
        ),
    ),
    (
        "workshop/rules/lapped.yaml",
        rule!(
            "lapped",
            "each: membrane in membranes\nlimits:\n  lap: {value: 302 mm, words: at least}\nrequires: membrane.lap >= lap\ncorrections:\n  - lap it wider: {reach: membrane.lap, to: lap}\n"
        ),
    ),
    (
        "workshop/rules/upward.yaml",
        rule!(
            "upward",
            "each: discharge in discharges\nrequires: discharge.direction is up\ncorrections:\n  - turn it up:\n      - {set: systems.*.discharge.direction, to: up}\n      - {remove: systems.*.discharge.slant}\n"
        ),
    ),
    (
        "workshop/rules/fan-labelled.yaml",
        rule!(
            "fan-labelled",
            "each: system in systems\nlimits:\n  letters: {value: 1/4 in, words: at least}\nrequires: |\n  count of system.labels >= 3\n  or some label in system.labels has (label.kind is fan and label.letters >= letters)\ncorrections:\n  - put up a label: {add: systems.*.labels.fan_label, as: \"{on: fan, says: [what it is], letters: unknown}\"}\n"
        ),
    ),
    (
        "workshop/rules/fan-signed.yaml",
        rule!(
            "fan-signed",
            "each: system in systems\napplies: site.moisture is marine\nrequires: some label in system.labels has (label.kind is fan and label.shows_name)\ncorrections:\n  - sign the fan: {add: systems.*.labels.fan_label, as: \"{on: fan, says: [what it is, installer], letters: 1/8 in}\"}\n"
        ),
    ),
    (
        "workshop/rules/low-country.yaml",
        rule!(
            "low-country",
            "limits:\n  high: {value: 8000 ft, words: at most}\nrequires: site.altitude <= high\ncorrections:\n  - build it lower down: {set: site.altitude, to: high}\n"
        ),
    ),
    (
        "workshop/rules/strong.yaml",
        rule!(
            "strong",
            "each: system in systems\napplies: system.design_air >= busy\nlimits:\n  busy: {value: 100 cfm, words: at least}\n  strong: {value: 2 in WC, words: at least}\nrequires: system.design_suction >= strong\ncorrections:\n  - ask for more: {set: systems.*.design_point.suction, to: strong}\n"
        ),
    ),
    (
        "workshop/rules/gentle.yaml",
        rule!(
            "gentle",
            "each: system in systems\nlimits:\n  gentle: {value: 1.9 in WC, words: at most}\nrequires: system.design_suction <= gentle\ncorrections:\n  - ask for less\n"
        ),
    ),
    (
        "workshop/rules/thick.yaml",
        rule!(
            "thick",
            "each: membrane in membranes\napplies: site.moisture is humid\nlimits:\n  thick: {value: 5 mil, words: at least}\nrequires: membrane.thickness >= thick\ncorrections:\n  - take sheet as thick as the snow asks for: {set: \"foundation.areas.*.membrane.thickness\", to: site.snow / 5000}\n"
        ),
    ),
    (
        "workshop/rules/sealed-round.yaml",
        rule!(
            "sealed-round",
            "each: membrane in membranes\napplies: site.moisture is dry\nrequires: membrane.penetrations_sealed\ncorrections:\n  - seal the sheet round it: {set: \"foundation.areas.{membrane.area}.membrane.penetrations.*.sealed\", to: yes}\n"
        ),
    ),
    (
        "workshop/rules/ends-in-a-tee.yaml",
        rule!(
            "ends-in-a-tee",
            "each: suction in suction_points\napplies: site.moisture is dry and suction.kind is membrane\nrequires: suction.inlet is tee\ncorrections:\n  - end it in a tee: {set: \"systems.{suction.system}.suction_points.{suction}.inlet.kind\", to: tee}\n"
        ),
    ),
];

/// The library with that book alone brought along.
pub(crate) fn library() -> Library {
    let file = |(path, text): &(&str, &str)| BookFile {
        path: (*path).to_owned(),
        shown: format!("books/{path}"),
        bytes: text.as_bytes().to_vec(),
    };
    let files: Vec<BookFile> = FILES.iter().map(file).collect();
    Library::with(&files)
}

/// The first example under the rules of the workshop, with these entries laid over it.
pub(crate) fn design(changes: &[(&str, &str)]) -> String {
    let mut all = vec![("job.rulebooks", "{workshop: adopted}")];
    all.extend(changes);
    lay_over(&example("01"), &all, &[]).unwrap()
}
