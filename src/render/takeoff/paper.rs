//! The list as a part of a paper: a table for each part of it, how pipe is cut, and what could not be counted.

use super::{caution, part, quantity, title, uses_in_words};
use crate::base::number::{Dimension, Number, Quantity, Ratio};
use crate::base::value::{Missing, Reason};
use crate::design::model::job::Work;
use crate::design::said::of;
use crate::render::papers::{Item, Part, Table};
use crate::render::phrases::reason;
use crate::render::tell::spot::meaning;
use crate::render::tell::told::Weighs;
use crate::render::tell::wanted::said_of;
use crate::render::terminal::sheet::sentence;
use crate::review::takeoff::Counted;
use crate::rulebook::checked::Stage;
use crate::takeoff::{Cutting, Group, Line};

/// The sections of the file in which things stand that a standing house may have had before.
const OF_THE_HOUSE: [&str; 3] = ["foundation.sumps.", "foundation.drains.", "building."];

/// The parts, without a heading of their own: what is new apart from what may have been there, as far as the file tells.
#[must_use]
pub fn parts(counted: &Counted, stage: Stage) -> Vec<Part> {
    let mut parts = Vec::new();
    if counted.takeoff.lines.is_empty() {
        parts.push(Part::Words(
            "There is nothing to count: the file has no system, membrane or joint.".to_owned(),
        ));
    }
    let old = |line: &&Line| counted.work == Some(Work::NewSystem) && is_of_the_house(line);
    let (house, new): (Vec<&Line>, Vec<&Line>) = counted.takeoff.lines.iter().partition(old);
    if !counted.takeoff.lines.is_empty() {
        parts.push(Part::Words(what_is_new(counted.work, stage, !house.is_empty()).to_owned()));
    }
    tables(&mut parts, &new);
    if !house.is_empty() {
        let perhaps = "In the house. The file does not tell what of this is new and what was there before:";
        parts.push(Part::Words(perhaps.to_owned()));
        tables(&mut parts, &house);
    }
    let cuttings: Vec<String> = counted.takeoff.cuttings.iter().map(cut).collect();
    listed(&mut parts, "How the pipe is cut:", cuttings);
    let lacking = counted.takeoff.uncounted.iter().map(|one| {
        let open = one.missing.iter().filter(|missing| !missing.entry.as_str().is_empty());
        let open: Vec<String> = open.map(not_known).collect();
        let why = if open.is_empty() { String::new() } else { format!(": {}", open.join("; ")) };
        sentence(&format!("{}{why}", one.what))
    });
    listed(&mut parts, "Could not be counted, because something is not stated:", lacking.collect());
    parts
}

/// What is not known, in words for whoever has no file in front of them.
fn not_known(missing: &Missing) -> String {
    let what = said_of(&of(missing.entry.as_str()), &meaning(missing));
    match &missing.reason {
        Reason::NotStated => what,
        other => format!("{what} ({})", reason(other)),
    }
}

/// Whether all that a line is for is of the house and not of the system.
fn is_of_the_house(line: &Line) -> bool {
    let of_it = |entry: &str| OF_THE_HOUSE.iter().any(|section| entry.starts_with(section));
    !line.uses.is_empty() && line.uses.iter().all(|one| of_it(one.entry.as_str()))
}

/// What of it is new, in a sentence, as far as the file says what kind of work it is.
fn what_is_new(work: Option<Work>, stage: Stage, some_of_the_house: bool) -> &'static str {
    let built = stage > Stage::Design;
    match (work, built, some_of_the_house) {
        (Some(Work::NewSystem | Work::NewHouse | Work::Temporary), false, false) => "All of this is new.",
        (Some(Work::NewSystem | Work::NewHouse | Work::Temporary), true, false) => {
            "All of this is new with this job, and built by now."
        }
        (Some(Work::NewSystem | Work::NewHouse | Work::Temporary), false, true) => {
            "All of this is new, but for what stands at the end as being in the house."
        }
        (Some(Work::NewSystem | Work::NewHouse | Work::Temporary), true, true) => {
            "All of this is new with this job, and built by now, but for what stands at the end as being in the house."
        }
        (Some(Work::TakenOver), true, _) => {
            "The system was there when it was taken over: all of this is there already, and the file names nothing new."
        }
        (Some(Work::FanSwap), ..) => "The fan is new. All else is there already and is counted with it.",
        (Some(Work::Activation), ..) => {
            "The fan, its gauge and alarm and its wiring are new. The stack and what else was roughed in is there already \
             and is counted with them."
        }
        (Some(Work::Alteration | Work::Repair | Work::TakenOver), ..) => {
            "The whole system is counted, also what is there already: the file does not tell which parts are new."
        }
        (None, ..) => {
            "The file does not say what kind of work this is, so it does not tell what of this is new."
        }
    }
}

fn tables(parts: &mut Vec<Part>, lines: &[&Line]) {
    for group in Group::ALL {
        let own: Vec<&Line> = lines.iter().copied().filter(|line| line.group == group).collect();
        if own.is_empty() {
            continue;
        }
        parts.push(table(group, &own));
        let said = caution(group).map(str::to_owned).into_iter().chain(granted(&own));
        parts.extend(said.map(Part::Words));
    }
}

fn table(group: Group, own: &[&Line]) -> Part {
    let row = |line: &&Line| {
        let notes: Vec<String> = line.notes.iter().map(|note| sentence(note)).collect();
        vec![quantity(line), part(line), uses_in_words(line), notes.join(" ")]
    };
    Part::Table(Table {
        caption: title(group).to_owned(),
        head: ["how much", "part", "for", "note"].map(str::to_owned).to_vec(),
        rows: own.iter().map(row).collect(),
        shares: vec![15, 27, 28, 30],
        ruled: false,
    })
}

/// What was taken for granted by lines, each once, in one sentence.
fn granted(own: &[&Line]) -> Option<String> {
    let mut assumed: Vec<&str> = Vec::new();
    for said in own.iter().flat_map(|line| &line.assumed) {
        if !assumed.contains(&said.as_str()) {
            assumed.push(said);
        }
    }
    (!assumed.is_empty()).then(|| sentence(&format!("Taken for granted: {}", assumed.join("; "))))
}

fn shown(length: &Ratio) -> String {
    Quantity::of(Number::exact(length.clone()), Dimension::LENGTH).to_string()
}

fn cut(cutting: &Cutting) -> String {
    let lengths: Vec<String> = cutting
        .lengths
        .iter()
        .enumerate()
        .map(|(at, length)| {
            let pieces: Vec<String> =
                length.pieces.iter().map(|(what, long)| format!("{what} {}", shown(long))).collect();
            format!("length {}: {} ({} left)", at + 1, pieces.join(", "), shown(&length.left))
        })
        .collect();
    sentence(&format!("{}, in lengths of {}. {}", cutting.of, shown(&cutting.stock), lengths.join("; ")))
}

fn listed(parts: &mut Vec<Part>, lead: &str, lines: Vec<String>) {
    if lines.is_empty() {
        return;
    }
    parts.push(Part::Words(lead.to_owned()));
    let item = |words: String| Item { weighs: Weighs::Silent, words, leads: Vec::new() };
    parts.push(Part::List(lines.into_iter().map(item).collect()));
}
