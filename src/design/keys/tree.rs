//! The keys of a design file as a tree that is laid out as far as it is walked, so that a path is looked up step by
//! step, and what a key says is put together once.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde_json::Value;

use super::{DEEPEST, Sort, Way, branches, definition, described, first_sentence, sorts, way_of};
use crate::design::design_schema_text;
use crate::yaml::record::SHORT_FOR;

/// What the schema says of all entries at one place of the file, whatever the names on the way there.
#[derive(Debug)]
pub struct Key {
    /// The parts of the schema that lead there.
    parts: Vec<&'static Value>,
    further: OnceLock<Further>,
    told: OnceLock<Option<Told>>,
    way: OnceLock<Option<Way>>,
}

/// Where one comes from a key.
#[derive(Debug, Default)]
struct Further {
    keys: BTreeMap<&'static str, Key>,
    /// By a name that a person chooses, or a place in a list.
    any: Option<Box<Key>>,
}

#[derive(Debug)]
struct Told {
    about: String,
    holds_names: bool,
}

impl Key {
    /// The key to which these steps lead from the top of the file; nothing where they lead nowhere.
    #[must_use]
    pub fn at<'p>(steps: impl IntoIterator<Item = &'p str>) -> Option<&'static Key> {
        steps.into_iter().try_fold(Key::top(), Key::step)
    }

    /// The file as a whole.
    #[must_use]
    pub fn top() -> &'static Key {
        static TOP: OnceLock<Key> = OnceLock::new();
        TOP.get_or_init(|| Key::of(vec![design_schema_text()]))
    }

    fn of(parts: Vec<&'static Value>) -> Key {
        Key { parts, further: OnceLock::new(), told: OnceLock::new(), way: OnceLock::new() }
    }

    /// Where one step more leads.
    #[must_use]
    pub fn step(&'static self, step: &str) -> Option<&'static Key> {
        let further = self.further.get_or_init(|| further(&self.parts));
        further.keys.get(step).or(further.any.as_deref())
    }

    /// The first sentence of what the entry says, without its full stop; nothing where nothing is said of it.
    #[must_use]
    pub fn first_sentence(&'static self) -> Option<&'static str> {
        self.told().map(|told| first_sentence(&told.about))
    }

    /// Whether what stands there are things by names that a person chooses.
    #[must_use]
    pub fn holds_names(&'static self) -> bool {
        self.told().is_some_and(|told| told.holds_names)
    }

    /// How the entry is written.
    #[must_use]
    pub fn way(&'static self) -> Option<&'static Way> {
        self.way.get_or_init(|| self.saying().map(|(part, _)| way_of(part))).as_ref()
    }

    /// The keys that can stand there, in the order in which one writes them.
    #[must_use]
    pub fn order(&self) -> Vec<&'static str> {
        self.parts.iter().map(|part| order(part, 0)).find(|keys| !keys.is_empty()).unwrap_or_default()
    }

    /// The key of the record there for which a value stands that is written in place of the whole record; nothing where no
    /// value can.
    #[must_use]
    pub fn short_for(&'static self) -> Option<&'static str> {
        self.parts.iter().find_map(|part| short_for(part, 0))
    }

    fn told(&'static self) -> Option<&'static Told> {
        let tell = || {
            let (part, about) = self.saying()?;
            let holds_names = sorts(part, 0).iter().any(|sort| matches!(sort, Sort::Named(_)));
            Some(Told { about, holds_names })
        };
        self.told.get_or_init(tell).as_ref()
    }

    /// The first part that says something, and what.
    fn saying(&self) -> Option<(&'static Value, String)> {
        let said = self.parts.iter().map(|part| (*part, described(part, 0)));
        said.into_iter().find(|(_, about)| !about.is_empty())
    }
}

/// For which key a value stands that is written in place of a record that part of the schema describes.
fn short_for(part: &'static Value, depth: usize) -> Option<&'static str> {
    if depth > DEEPEST {
        return None;
    }
    let own = part.get(SHORT_FOR).and_then(Value::as_str);
    own.or_else(|| {
        let behind = definition(part).map(|(_, to)| to).into_iter().chain(branches(part));
        behind.into_iter().find_map(|part| short_for(part, depth + 1))
    })
}

/// Where some parts of the schema lead: a key that only some of them have leads on from the others as any name does.
fn further(parts: &[&'static Value]) -> Further {
    let each: Vec<Steps> = parts.iter().map(|part| steps(part, 0)).collect();
    let any: Vec<&Value> = each.iter().flat_map(|steps| &steps.any).copied().collect();
    let mut keys = BTreeMap::new();
    for key in each.iter().flat_map(|steps| steps.keys.keys()) {
        keys.entry(*key).or_insert_with(|| {
            let there = each.iter().flat_map(|steps| steps.keys.get(key).unwrap_or(&steps.any));
            Key::of(there.copied().collect())
        });
    }
    Further { keys, any: (!any.is_empty()).then(|| Box::new(Key::of(any))) }
}

/// The keys of the first record behind a part of the schema.
fn order(at: &'static Value, depth: usize) -> Vec<&'static str> {
    if let Some(keys) = at.get("properties").and_then(Value::as_object) {
        return keys.keys().map(String::as_str).collect();
    }
    if depth > DEEPEST {
        return Vec::new();
    }
    let behind = definition(at).map(|(_, to)| to).into_iter().chain(branches(at));
    behind.map(|part| order(part, depth + 1)).find(|keys| !keys.is_empty()).unwrap_or_default()
}

/// Where one part of the schema leads.
#[derive(Default)]
struct Steps {
    keys: BTreeMap<&'static str, Vec<&'static Value>>,
    any: Vec<&'static Value>,
}

fn steps(at: &'static Value, depth: usize) -> Steps {
    if depth > DEEPEST {
        return Steps::default();
    }
    let behind = definition(at).map(|(_, to)| to).into_iter().chain(branches(at));
    let behind: Vec<Steps> = behind.map(|part| steps(part, depth + 1)).collect();
    let mut found = Steps::default();
    for key in behind.iter().flat_map(|steps| steps.keys.keys()) {
        found.keys.entry(*key).or_insert_with(|| {
            behind.iter().flat_map(|steps| steps.keys.get(key).unwrap_or(&steps.any)).copied().collect()
        });
    }
    found.any = behind.into_iter().flat_map(|steps| steps.any).collect();
    if found.any.is_empty() {
        let any = ["additionalProperties", "items"].iter().filter_map(|any| at.get(any));
        found.any = any.filter(|any| any.is_object()).collect();
    }
    let own = at.get("properties").and_then(Value::as_object).into_iter().flatten();
    found.keys.extend(own.map(|(key, part)| (key.as_str(), vec![part])));
    found
}
