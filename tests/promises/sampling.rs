//! Values that an entry may have: the ends of its domain, every word of its list, the limits of a rule and one
//! step to either side. What the reader refuses at that entry is no value of it.

use std::collections::BTreeSet;
use std::sync::Mutex;

use serde_json::Value;

use undercroft::base::number::quantity::show;
use undercroft::base::number::{Number, Ratio};
use undercroft::base::problem::{Problem, ProblemKind};
use undercroft::base::text::SourceId;
use undercroft::design::long::with_room;
use undercroft::design::{Design, design_schema_text};
use undercroft::review::read_text;
use undercroft::rulebook::checked::CheckedRule;
use undercroft::yaml::path::Path;
use undercroft::yaml::scan;
use undercroft::yaml::splice::put;
use undercroft::yaml::tree::Tree;

/// Values of many kinds, of which an entry takes those of its own.
const OF_ALL_KINDS: &[&str] = &[
    "yes",
    "no",
    "0 in",
    "1 in",
    "11 in",
    "40 ft",
    "0 cfm",
    "400 cfm",
    "0 in WC",
    "9 in WC",
    "1 mil",
    "40 mil",
    "0 %",
    "100 %",
    "0 in per ft",
    "1 in per ft",
    "1 A",
    "30 A",
    "120 V",
    "90 W",
    "0.1 pCi/L",
    "90 pCi/L",
    "1 gal",
    "40 gal",
    "20 degF",
    "90 degF",
    "0",
    "3",
    "2026-05-12",
    "2026-05-12 08:00",
    "2026-12-12 08:00",
    "J. Ames",
    "40 ft x 24 ft",
    "{within: whole building, by: J. Ames, on: 2026-05-12}",
    "{within: 40 ft of building, by: J. Ames, on: 2026-05-12}",
    "whole building",
    "3 ft of discharge",
    "40 ft of discharge",
    "[[0 ft, 0 ft, 9 ft], [3 ft, 0 ft, 12 ft]]",
    "[0 ft, 0 ft, 12 ft]",
    "none",
    "{main: 0 in}",
    "{main: 9 ft}",
    "outdoors",
    "{one: {of: fan, suction: 1 in WC}}",
    "1 sq ft",
    "40 sq ft",
    "2026-12-12",
    "[[-200 ft, -200 ft], [200 ft, -200 ft], [200 ft, 200 ft], [-200 ft, 200 ft]]",
    "[[500 ft, 500 ft], [510 ft, 500 ft], [510 ft, 510 ft]]",
    "[[0 cfm, 4 in WC], [400 cfm, 3 in WC]]",
    "[[0 cfm, 0.2 in WC], [400 cfm, 0 in WC]]",
];

/// Entries that take the name of something that has to be in the file as well: where it is, and how it is written.
const GOES_WITH: &[(&str, &str, &str)] =
    &[(".analysis", "diagnostics.communication", "{test: {flow: 30 cfm}}")];

/// The names of all spaces, areas and communication tests of a design, which an entry may refer to.
fn names(design: &Design) -> Vec<String> {
    let spaces = design.building.spaces.things().map(|(name, _)| name);
    let areas = design.foundation.areas.things().map(|(name, _)| name);
    let tests = design.diagnostics.communication.things().map(|(name, _)| name);
    spaces.chain(areas).chain(tests).map(|name| name.to_string()).collect()
}

/// The moments that are written in a text: what happens at one that is told already is a case of its own.
fn moments(text: &str) -> BTreeSet<String> {
    let is_moment = |one: &&str| {
        one.bytes()
            .zip("dddd-dd-dd dd:dd".bytes())
            .all(|(own, like)| if like == b'd' { own.is_ascii_digit() } else { own == like })
    };
    let starts = text.match_indices("20").filter_map(|(at, _)| text.get(at..at + 16));
    starts.filter(is_moment).map(str::to_owned).collect()
}

/// A design into which an entry was put.
pub(crate) struct With {
    /// The value it was given.
    pub(crate) value: String,
    /// The text.
    pub(crate) text: String,
    /// What it reads as.
    pub(crate) design: Design,
}

/// A text and its tree in which there is room for an entry.
fn with_room_for(text: &str, path: &str) -> (String, Tree) {
    let read = |text: &str| scan::read(SourceId(0), text).0;
    let whole = |text: String| {
        let tree = read(&text);
        (text, tree)
    };
    let mut here = whole(text.to_owned());
    let roomy = Path::parse(path).ok().and_then(|path| with_room(&here.1, text, &path));
    if let Some(roomy) = roomy {
        here = whole(roomy);
    }
    for (_, place, written) in GOES_WITH.iter().filter(|(end, ..)| path.ends_with(end)) {
        let place = Path::parse(place).unwrap();
        if place.resolve(&here.1).is_none() {
            let beside = put(&here.1, &here.0, &place, written).unwrap().apply(&here.0);
            here = whole(beside);
        }
    }
    here
}

/// A text in which there is room for an entry, read once for all that is put there.
struct Base {
    text: String,
    tree: Tree,
    names: Vec<String>,
    sound: usize,
}

impl Base {
    fn of(text: &str, path: &str) -> Base {
        let (text, tree) = with_room_for(text, path);
        let (design, problems) = read_text(&text);
        Base { text, tree, names: names(&design), sound: problems.len() }
    }

    /// The design with this value at this entry, if the reader takes it there. A value that cannot be read there is
    /// read in no design, so that is remembered; one that only does not go with the rest of a design may go with
    /// another.
    fn with(&self, path: &str, value: &str) -> Option<With> {
        static REFUSED: Mutex<BTreeSet<(String, String)>> = Mutex::new(BTreeSet::new());
        let key = (path.to_owned(), value.to_owned());
        if REFUSED.lock().unwrap().contains(&key) {
            return None;
        }
        let text = put(&self.tree, &self.text, &Path::parse(path).ok()?, value).ok()?.apply(&self.text);
        let (design, problems) = read_text(&text);
        if problems.len() > self.sound {
            let unreadable = |problem: &Problem| {
                matches!(
                    problem.kind,
                    ProblemKind::WrongShape
                        | ProblemKind::UnknownWord
                        | ProblemKind::NoneSaysNothing
                        | ProblemKind::BadTime
                        | ProblemKind::NotAWholeNumber
                        | ProblemKind::NoUnit
                        | ProblemKind::UnknownUnit
                        | ProblemKind::WrongDimension
                        | ProblemKind::NotAQuantity
                )
            };
            if self.sound == 0 && problems.iter().all(unreadable) {
                REFUSED.lock().unwrap().insert(key);
            }
            return None;
        }
        Some(With { value: value.to_owned(), text, design })
    }
}

/// The parts of the schema that stand for a path.
fn parts(path: &str) -> Vec<&'static Value> {
    fn step(at: &'static Value, key: &str, depth: usize) -> Vec<&'static Value> {
        if depth > 8 {
            return Vec::new();
        }
        if let Some(own) = at.get("properties").and_then(|keys| keys.get(key)) {
            return vec![own];
        }
        let mut found: Vec<&Value> =
            inside(at).into_iter().flat_map(|part| step(part, key, depth + 1)).collect();
        if found.is_empty() {
            found.extend(
                ["additionalProperties", "items"]
                    .iter()
                    .filter_map(|any| at.get(any))
                    .filter(|v| v.is_object()),
            );
        }
        found
    }
    let mut here = vec![design_schema_text()];
    for key in path.split(['.', '[']) {
        here = here.into_iter().flat_map(|at| step(at, key.trim_end_matches(']'), 0)).collect();
    }
    here
}

/// What a part of the schema refers to or offers.
fn inside(at: &'static Value) -> Vec<&'static Value> {
    let target = at
        .get("$ref")
        .and_then(Value::as_str)
        .and_then(|to| design_schema_text().pointer(to.strip_prefix('#')?));
    let lists = ["anyOf", "oneOf", "allOf"].iter().filter_map(|key| at.get(key)?.as_array()).flatten();
    target.into_iter().chain(lists).collect()
}

/// The words that an entry takes.
fn words(path: &str) -> Vec<String> {
    fn gather(at: &'static Value, depth: usize, into: &mut Vec<String>) {
        for word in at.get("enum").and_then(Value::as_array).into_iter().flatten() {
            into.extend(word.as_str().filter(|word| *word != "unknown").map(str::to_owned));
        }
        if depth < 8 {
            inside(at).into_iter().for_each(|part| gather(part, depth + 1, into));
        }
    }
    let mut words = Vec::new();
    parts(path).into_iter().for_each(|part| gather(part, 0, &mut words));
    words.sort();
    words.dedup();
    words
}

/// The limits of a rule and one step to either side, as one writes them.
fn limits(rule: &CheckedRule) -> Vec<String> {
    let step = Ratio::new(1, 1000).unwrap();
    let mut texts = Vec::new();
    for limit in &rule.limits {
        let Some(value) = limit.value.number.as_exact() else { continue };
        for number in [value.clone(), value - &(value * &step), value + &(value * &step)] {
            texts.push(show(&Number::exact(number), limit.value.dimension, &limit.value.style));
        }
    }
    texts
}

/// Designs in which this entry has one of the values it may have, one after the other.
pub(crate) fn with_each_value<'t>(
    text: &'t str,
    path: &'t str,
    rule: &CheckedRule,
    most: usize,
) -> impl Iterator<Item = With> + use<'t> {
    let base = Base::of(text, path);
    let mut candidates = words(path);
    candidates.extend(limits(rule));
    candidates.extend(OF_ALL_KINDS.iter().map(|value| (*value).to_owned()));
    candidates.extend(base.names.iter().cloned());
    candidates.extend(moments(text));
    candidates.into_iter().filter_map(move |value| base.with(path, &value)).take(most)
}

/// The design in which each of these entries has its value, if the reader takes them all there, which has this many
/// problems as it is.
pub(crate) fn with_values(text: &str, values: &[(&str, &str)], sound: usize) -> Option<Design> {
    let mut text = text.to_owned();
    for (path, value) in values {
        let (roomy, tree) = with_room_for(&text, path);
        text = put(&tree, &roomy, &Path::parse(path).ok()?, value).ok()?.apply(&roomy);
    }
    let (design, problems) = read_text(&text);
    (problems.len() <= sound).then_some(design)
}
