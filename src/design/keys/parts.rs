//! The keys of a design file, record by record, in the order in which one writes them.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde_json::Value;

use super::{Sort, Way, text, way_of};
use crate::design::design_schema_text;

/// The keys that stand together under one heading.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Part {
    /// The record they make, by which other parts refer to it.
    pub record: String,
    /// Where they stand: the keys that lead there, [`NAME`] where a person chooses a name, [`MEMBER`] for each member
    /// of a list. Empty for one that is written the same way in several places.
    pub path: Vec<String>,
    /// What they say together.
    pub about: String,
    /// The keys, in order, each with how it is written.
    pub keys: Vec<(String, Way)>,
}

/// Stands in a path for a name that a person chooses.
pub const NAME: &str = "NAME";

/// The record that is the whole file.
const ROOT: &str = "DesignFile";

/// Stands in a path for each member of a list.
pub const MEMBER: &str = "-";

impl Part {
    /// What to call it: its path, or the name of what is written the same way in several places.
    #[must_use]
    pub fn title(&self) -> String {
        if self.path.is_empty() {
            return spoken(&self.record);
        }
        let steps: Vec<&str> = self.path.iter().map(String::as_str).filter(|step| *step != MEMBER).collect();
        steps.join(".")
    }
}

/// The name of a record in words: `FromDischarge` is `from discharge`.
#[must_use]
fn spoken(record: &str) -> String {
    let mut words = String::new();
    for c in record.chars() {
        if c.is_uppercase() && !words.is_empty() {
            words.push(' ');
        }
        words.extend(c.to_lowercase());
    }
    words
}

/// All keys of a design file: first those that stand in one place, in the order of the file, then those that are
/// written the same way in several places.
#[must_use]
pub fn parts() -> &'static [Part] {
    static PARTS: LazyLock<Vec<Part>> = LazyLock::new(made);
    &PARTS
}

fn made() -> Vec<Part> {
    let mut uses: BTreeMap<String, usize> = BTreeMap::new();
    for name in records() {
        for sort in keys_of(&name).iter().flat_map(|(_, way)| &way.sorts) {
            each_record(sort, &[], &mut |record, _| *uses.entry(record.to_owned()).or_default() += 1);
        }
    }
    let mut walk = Walk { uses, parts: Vec::new(), shared: Vec::new() };
    walk.record(ROOT, &[]);
    let mut at = 0;
    while let Some(record) = walk.shared.get(at).cloned() {
        walk.record(&record, &[]);
        at += 1;
    }
    walk.parts
}

/// The parts that a person means: by path, by the last word of it, or by a key that they hold.
#[must_use]
pub fn parts_called(wanted: &str) -> Vec<Part> {
    let wanted = wanted.trim().trim_end_matches(':');
    let parts = parts();
    let steps: Vec<&str> = wanted.split('.').collect();
    let same = |own: &str, step: &&str| own == *step || own == NAME;
    let is_path = |part: &&Part| {
        part.path.len() == steps.len() && part.path.iter().zip(&steps).all(|(own, step)| same(own, step))
    };
    let is_last = |part: &&Part| {
        let last = part.path.iter().rev().find(|step| !matches!(step.as_str(), NAME | MEMBER));
        last.is_some_and(|last| last == wanted) || part.title() == wanted
    };
    let holds = |part: &&Part| part.keys.iter().any(|(key, _)| key == wanted);
    let mut found: Vec<Part> = parts.iter().filter(is_path).cloned().collect();
    if found.is_empty() {
        found = parts.iter().filter(is_last).cloned().collect();
    }
    if found.is_empty() {
        found = parts.iter().filter(holds).cloned().collect();
        // Of a long part only the key that was asked for.
        found.iter_mut().for_each(|part| part.keys.retain(|(key, _)| key == wanted));
    }
    found
}

fn records() -> Vec<String> {
    let defs = design_schema_text().get("$defs").and_then(Value::as_object).into_iter().flatten();
    defs.filter(|(_, to)| to.get("properties").is_some()).map(|(name, _)| name.clone()).collect()
}

fn keys_of(record: &str) -> Vec<(String, Way)> {
    let keys = design_schema_text()
        .get("$defs")
        .and_then(|defs| defs.get(record))
        .and_then(|to| to.get("properties"));
    let keys = keys.and_then(Value::as_object).into_iter().flatten();
    keys.map(|(key, part)| (key.clone(), way_of(part))).collect()
}

/// Meets every record that a sort of thing leads to at once, with the steps on the way.
fn each_record(sort: &Sort, on_the_way: &[&'static str], meet: &mut dyn FnMut(&str, &[&'static str])) {
    let (each, step) = match sort {
        Sort::Record(record) => return meet(record, on_the_way),
        Sort::Named(each) => (each, NAME),
        Sort::List(each) => (each, MEMBER),
        Sort::Words(_) | Sort::Value(_) => return,
    };
    let further = [on_the_way, &[step]].concat();
    each.iter().for_each(|sort| each_record(sort, &further, meet));
}

struct Walk {
    uses: BTreeMap<String, usize>,
    parts: Vec<Part>,
    shared: Vec<String>,
}

impl Walk {
    fn record(&mut self, record: &str, path: &[String]) {
        let keys = keys_of(record);
        let about = design_schema_text()
            .get("$defs")
            .and_then(|defs| defs.get(record))
            .map_or("", |to| text(to, "description"));
        self.parts.push(Part {
            record: record.to_owned(),
            path: path.to_vec(),
            about: about.to_owned(),
            keys: keys.clone(),
        });
        for (key, way) in &keys {
            for sort in &way.sorts {
                each_record(sort, &[], &mut |inner, steps| {
                    // What only a shared part holds has no one place either.
                    let shared = path.is_empty() && record != ROOT;
                    if shared || self.uses.get(inner).copied().unwrap_or(0) > 1 {
                        if !self.shared.iter().any(|known| known == inner) {
                            self.shared.push(inner.to_owned());
                        }
                        return;
                    }
                    let mut below = path.to_vec();
                    below.push(key.clone());
                    below.extend(steps.iter().map(|step| (*step).to_owned()));
                    self.record(inner, &below);
                });
            }
        }
    }
}
