//! The list as a part of a paper: a table for each part of it, how pipe is cut, and what could not be counted.

use super::{caution, part, quantity, title, to_state, uses_in_words};
use crate::base::number::{Dimension, Number, Quantity, Ratio};
use crate::render::papers::{Item, Part, Table};
use crate::render::tell::told::Weighs;
use crate::render::terminal::sheet::sentence;
use crate::review::takeoff::Counted;
use crate::takeoff::{Cutting, Group, Line};

/// The parts, without a heading of their own.
#[must_use]
pub fn parts(of: &Counted) -> Vec<Part> {
    let mut parts = Vec::new();
    if of.takeoff.lines.is_empty() {
        parts.push(Part::Words(
            "There is nothing to count: the file has no system, membrane or joint.".to_owned(),
        ));
    }
    for group in Group::ALL {
        let own: Vec<&Line> = of.takeoff.lines.iter().filter(|line| line.group == group).collect();
        if own.is_empty() {
            continue;
        }
        parts.push(table(group, &own));
        let said = caution(group).map(str::to_owned).into_iter().chain(granted(&own));
        parts.extend(said.map(Part::Words));
    }
    let cuttings: Vec<String> = of.takeoff.cuttings.iter().map(cut).collect();
    listed(&mut parts, "How the pipe is cut:", cuttings);
    let lacking = of.takeoff.uncounted.iter().map(|one| {
        let state: Vec<String> = one.missing.iter().map(|missing| to_state(missing, &of.sources)).collect();
        sentence(&format!("{}: {}", one.what, state.join("; ")))
    });
    listed(&mut parts, "Could not be counted for want of an entry:", lacking.collect());
    parts
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
