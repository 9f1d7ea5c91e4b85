//! How each entry of a design file is written: in which words, with which example. All of it comes from the
//! declarations of the keys, by way of the schema that they make.

mod parts;
mod tree;

use std::collections::BTreeMap;

use serde_json::Value;

use super::design_schema_text;

pub use parts::{MEMBER, NAME, Part, parts, parts_called};
pub use tree::Key;

/// How deep one definition may lead to another.
const DEEPEST: usize = 10;

/// How an entry is written.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Way {
    /// What the entry says, in whole sentences.
    pub about: String,
    /// What may stand there: any one of these.
    pub sorts: Vec<Sort>,
    /// An example of what may stand there, on one line.
    pub example: String,
    /// Whether the word `none` says something there: that there is no such thing.
    pub none: bool,
}

/// A sort of thing that may stand under a key.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Sort {
    /// One of these words, each with its meaning.
    Words(Vec<(String, String)>),
    /// A single value: `a length with its unit`.
    Value(String),
    /// Keys of its own: those of the record with this name.
    Record(String),
    /// Things by names that a person chooses, each one of these.
    Named(Vec<Sort>),
    /// A list, each member one of these.
    List(Vec<Sort>),
}

impl Way {
    /// The first sentence of what the entry says, without its full stop.
    #[must_use]
    pub fn first_sentence(&self) -> &str {
        first_sentence(&self.about)
    }

    /// What may be written there as it stands: the words there are to choose from, or else an example.
    #[must_use]
    pub fn offered(&self) -> Vec<&str> {
        let mut offered = if self.none { vec!["none"] } else { Vec::new() };
        match self.sorts.as_slice() {
            [Sort::Words(words)] => offered.extend(words.iter().map(|(word, _)| word.as_str())),
            // Which names there are the file says, and no example does.
            _ if self.names().is_some() => {}
            _ => offered.push(&self.example),
        }
        offered
    }

    /// The same, short enough for the end of a line: `none, up or down`; `none, or for instance 22 in`.
    #[must_use]
    pub fn short(&self) -> String {
        let none = if self.none { "none, or " } else { "" };
        match self.sorts.as_slice() {
            [Sort::Words(_)] => choice(&self.offered()),
            _ => match self.names() {
                Some(what) => format!("{none}{what}"),
                None => format!("{none}for instance {}", self.example),
            },
        }
    }

    /// Which names it takes, where it takes nothing else.
    fn names(&self) -> Option<String> {
        let each: Option<Vec<String>> = self.sorts.iter().map(names).collect();
        each.filter(|each| !each.is_empty()).map(|each| each.join(", or several "))
    }

    /// The same, with whoever fills in this file and the day in place of those of an example.
    #[must_use]
    pub fn told_by(mut self, by: Option<&str>, on: Option<&str>) -> Self {
        let plain = |c: char| c.is_alphanumeric() || matches!(c, ' ' | '.' | '-');
        let by = match by {
            None => "YOUR NAME".to_owned(),
            Some(by) if by.starts_with(char::is_alphabetic) && by.chars().all(plain) => by.to_owned(),
            Some(by) => format!("'{}'", by.replace('\'', "''")),
        };
        self.example = self.example.replace(EXAMPLE_BY, &format!("by: {by}"));
        if let Some(on) = on {
            self.example = self.example.replace(EXAMPLE_ON, &format!("on: {on}"));
        }
        self
    }
}

/// The first sentence of what an entry says, without its full stop.
fn first_sentence(about: &str) -> &str {
    let first = about.split_once(". ").map_or(about, |(first, _)| first);
    first.lines().next().unwrap_or(first).trim().trim_end_matches('.')
}

/// What is referred to by name: one thing, or a list of them in brackets.
fn names(sort: &Sort) -> Option<String> {
    match sort {
        Sort::Value(what) if what.starts_with(NAME_OF) => Some(what.clone()),
        Sort::List(each) => match each.as_slice() {
            [one] => names(one).map(|what| format!("in brackets, each {what}")),
            _ => None,
        },
        _ => None,
    }
}

/// How what is referred to by name begins.
const NAME_OF: &str = "the name of";

/// Who did something, in the examples of the keys, and on which day.
const EXAMPLE_BY: &str = "by: J. Ames";
const EXAMPLE_ON: &str = "on: 2026-05-14";

/// Words to choose from: `a, b or c`.
fn choice(words: &[&str]) -> String {
    match words {
        [rest @ .., last] if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        _ => words.concat(),
    }
}

/// The steps of a path, without the brackets and quotation marks round some of them.
pub fn steps(path: &str) -> impl Iterator<Item = &str> {
    path.split(['.', '[']).map(|step| step.trim_matches([']', '"', '\'']))
}

/// How the entry at this path is written; nothing for a path that leads nowhere.
#[must_use]
pub fn way(path: &str) -> Option<&'static Way> {
    Key::at(steps(path))?.way()
}

/// The definition that a part of the schema refers to, with its name.
fn definition(part: &Value) -> Option<(&str, &'static Value)> {
    let name = part.get("$ref")?.as_str()?.strip_prefix("#/$defs/")?;
    Some((name, design_schema_text().get("$defs")?.get(name)?))
}

/// The parts of which any one may stand there.
fn branches(part: &Value) -> &[Value] {
    part.get("anyOf").and_then(Value::as_array).map_or(&[], Vec::as_slice)
}

/// The text under a key of a part of the schema.
fn text<'v>(part: &'v Value, key: &str) -> &'v str {
    part.get(key).and_then(Value::as_str).unwrap_or("")
}

/// How what a part of the schema describes is written.
fn way_of(part: &Value) -> Way {
    let sorts = sorts(part, 0);
    let about = described(part, 0);
    let lists =
        sorts.iter().any(|sort| matches!(sort, Sort::Named(_))) && !about.contains("omplete as written");
    Way { example: example(part, 0), none: about.contains("`none`") || lists, about, sorts }
}

/// What the first definition behind a part of the schema says of itself.
fn described(part: &Value, depth: usize) -> String {
    let own = text(part, "description");
    if !own.is_empty() || depth > DEEPEST {
        return own.to_owned();
    }
    let behind = definition(part).map(|(_, to)| to);
    let mut said = behind.into_iter().chain(branches(part)).map(|to| described(to, depth + 1));
    said.find(|said| !said.is_empty()).unwrap_or_default()
}

/// What may stand where a part of the schema is asked for.
fn sorts(part: &Value, depth: usize) -> Vec<Sort> {
    if depth > DEEPEST {
        return Vec::new();
    }
    if let Some((name, to)) = definition(part) {
        return match name {
            "not_known" | "unknown" => Vec::new(),
            _ if name.ends_with("_or_not") || name.ends_with("_or_unknown") => sorts(to, depth + 1),
            _ => named_sort(name, to),
        };
    }
    if !branches(part).is_empty() {
        return branches(part).iter().flat_map(|part| sorts(part, depth + 1)).collect();
    }
    if let Some(each) = part.get("additionalProperties").filter(|each| each.is_object()) {
        return vec![Sort::Named(sorts(each, depth + 1))];
    }
    part.get("items").map(|each| Sort::List(sorts(each, depth + 1))).into_iter().collect()
}

/// What a definition lets one write.
fn named_sort(name: &str, to: &Value) -> Vec<Sort> {
    if to.get("enum").is_some() {
        return vec![Sort::Words(words(name, to))];
    }
    if to.get("properties").is_some() {
        return vec![Sort::Record(name.to_owned())];
    }
    let about = text(to, "description");
    let what = match name {
        "text" => "text".to_owned(),
        "version" => "the number 1".to_owned(),
        "number" => "a number without a unit".to_owned(),
        "point" => "three lengths in brackets: east, north and up of the origin".to_owned(),
        "plan_point" => "two lengths in brackets: east and north of the origin".to_owned(),
        "curve_point" => "air, pressure and electric power in brackets".to_owned(),
        "size" => "two lengths with x between them".to_owned(),
        "extent" => {
            let ends: Vec<&str> =
                about.lines().skip(1).filter_map(|line| line.split_once(':')).map(|(word, _)| word).collect();
            format!("a length with its unit, or {}", choice(&ends))
        }
        _ if name.starts_with("name_of_") => text(to, "title").replace("of a a", "of an a"),
        _ if about.contains("{value:") => {
            let name = name.replace('_', " ");
            let article = if name.starts_with(['a', 'e', 'i', 'o']) { "an" } else { "a" };
            format!("{article} {name} with its unit")
        }
        _ => about.split(": ").next().unwrap_or(about).trim_end_matches('.').to_owned(),
    };
    vec![Sort::Value(what)]
}

/// The words of a closed list, each with its meaning.
fn words(name: &str, to: &Value) -> Vec<(String, String)> {
    if name == "yes_or_no" {
        return ["yes", "no"].map(|word| (word.to_owned(), String::new())).to_vec();
    }
    let meanings: BTreeMap<&str, &str> =
        text(to, "description").lines().filter_map(|line| line.split_once(": ")).collect();
    let options = to.get("enum").and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_str);
    options.map(|word| (word.to_owned(), meanings.get(word).copied().unwrap_or("").to_owned())).collect()
}

/// The names that examples use for things of the file that are referred to by name.
const NAMES: &[(&str, &str)] = &[
    ("name_of_SpaceOrOutdoors", "attic"),
    ("name_of_Space", "basement"),
    ("name_of_AreaOrSpace", "basement"),
    ("name_of_Area", "slab"),
    ("name_of_RunStart", "fan"),
    ("name_of_RunEnd", "discharge"),
    ("name_of_PipePlace", "fan"),
    ("name_of_AnyThing", "discharge"),
    ("name_of_SuctionPoint", "s1"),
    ("name_of_Sump", "pit"),
    ("name_of_System", "main"),
    ("name_of_Appliance", "water_heater"),
    ("name_of_Chimney", "chimney"),
    ("name_of_Collector", "loop"),
    ("name_of_DrainLoop", "loop"),
    ("name_of_FireRated", "garage_wall"),
    ("name_of_FoundationWall", "north_wall"),
    ("name_of_RadonTest", "first_test"),
];

/// An example of what may stand where a part of the schema is asked for: one that its own description shows, or
/// else one put together from what it is made of.
fn example(part: &Value, depth: usize) -> String {
    let sorts = sorts(part, depth);
    let shown = |said: &str| {
        let spans = said.split('`').skip(1).step_by(2);
        spans.filter(|span| sorts.iter().any(|sort| fits(span, sort))).map(str::to_owned).next()
    };
    shown(text(part, "description")).or_else(|| made(part, depth)).unwrap_or_default()
}

/// Whether what a description shows is an example of this sort of thing.
fn fits(span: &str, sort: &Sort) -> bool {
    let open = span.chars().next().unwrap_or(' ');
    let plain = !matches!(open, '{' | '[') && !matches!(span, "none" | "unknown");
    match sort {
        Sort::Words(words) => words.iter().any(|(word, _)| word == span),
        Sort::Value(what) if what.ends_with("with its unit") => {
            plain && span.contains(|c: char| c.is_ascii_digit())
        }
        Sort::Value(what) if what.contains("in brackets") => open == '[',
        // A word that stands for itself is told already where the names are told of.
        Sort::Value(what) if what.starts_with(NAME_OF) => plain && !what.contains(span),
        Sort::Value(_) => plain,
        Sort::Record(_) | Sort::Named(_) => open == '{',
        Sort::List(_) => open == '[',
    }
}

/// An example put together from the parts of a definition.
fn made(part: &Value, depth: usize) -> Option<String> {
    if depth > DEEPEST {
        return None;
    }
    if let Some((name, to)) = definition(part) {
        return match name {
            "not_known" | "unknown" => None,
            "text" => Some("in your own words".to_owned()),
            "version" => Some("1".to_owned()),
            "count" => Some("2".to_owned()),
            "number" => Some("0.5".to_owned()),
            "extent" => Some("11 ft 2 in".to_owned()),
            "size" => Some("40 ft x 24 ft".to_owned()),
            "reach" => Some("whole building".to_owned()),
            "zone" => Some("America/New_York".to_owned()),
            "date" => Some("2026-05-14".to_owned()),
            "moment" => Some("2026-05-14 14:30".to_owned()),
            _ if name.ends_with("_or_not") || name.ends_with("_or_unknown") => Some(example(to, depth + 1)),
            _ if name.starts_with("name_of_") => {
                NAMES.iter().find(|(own, _)| *own == name).map(|(_, example)| (*example).to_owned())
            }
            _ if to.get("enum").is_some() => words(name, to).into_iter().next().map(|(word, _)| word),
            _ if to.get("properties").is_some() => Some(example_of_record(to, depth)),
            _ => bracketed(text(to, "description")).or_else(|| first_of(text(to, "description"))),
        };
    }
    if !branches(part).is_empty() {
        // A record that can be written as one value shows so where it describes itself.
        let sorts = sorts(part, depth);
        let alone = branches(part).iter().map(|part| described(part, 0)).find_map(|said| {
            let spans = said.split('`').skip(1).step_by(2).filter(|span| !span.starts_with(['{', '[']));
            spans.filter(|span| sorts.iter().any(|sort| fits(span, sort))).map(str::to_owned).next()
        });
        if alone.is_some() {
            return alone;
        }
        let made = branches(part).iter().map(|part| example(part, depth + 1)).filter(|made| !made.is_empty());
        let made: Vec<String> = made.collect();
        // Whatever can be said in a word is said in a word.
        return made.iter().find(|made| !made.starts_with(['{', '['])).or(made.first()).cloned();
    }
    if let Some(each) = part.get("additionalProperties").filter(|each| each.is_object()) {
        return Some(format!("{{NAME: {}}}", example(each, depth + 1)));
    }
    part.get("items").map(|each| format!("[{}]", example(each, depth + 1)))
}

/// The first example of a measure: its description is `A length: 10 ft 6 in, 3 1/2 in. Or …`.
fn first_of(about: &str) -> Option<String> {
    let (_, shown) = about.split_once(": ")?;
    Some(shown.split(", ").next()?.split(". ").next()?.to_owned())
}

/// What a description shows in brackets at its end: `A point as …: [18 ft, 24 ft].`
fn bracketed(about: &str) -> Option<String> {
    let (_, shown) = about.split_once(": [")?;
    Some(format!("[{}]", shown.split_once(']')?.0))
}

/// A record on one line: the example that its description shows, or else its first two keys that are single values.
fn example_of_record(to: &Value, depth: usize) -> String {
    let shown = text(to, "description").split('`').skip(1).step_by(2).find(|span| span.starts_with('{'));
    if let Some(shown) = shown {
        return shown.to_owned();
    }
    let keys = to.get("properties").and_then(Value::as_object).into_iter().flatten();
    let single = |part: &Value| {
        let sorts = sorts(part, depth + 1);
        let plain = |sort: &Sort| matches!(sort, Sort::Words(_) | Sort::Value(_)) && names(sort).is_none();
        !sorts.is_empty() && sorts.iter().all(plain)
    };
    let mut chosen: Vec<(&String, &Value)> = keys.clone().filter(|(_, part)| single(part)).take(2).collect();
    if chosen.is_empty() {
        chosen = keys.take(1).collect();
    }
    let entries: Vec<String> =
        chosen.iter().map(|(key, part)| format!("{key}: {}", example(part, depth + 1))).collect();
    format!("{{{}}}", entries.join(", "))
}

#[cfg(test)]
mod tests {
    use super::way;

    #[test]
    fn somebody_who_sees_one_line_knows_what_to_write() {
        for (path, wanted) in [
            ("systems.main.discharge.direction", "up, slanting up, level or down"),
            ("systems.main.discharge.above_roof", "for instance 22 in"),
            ("building.openings.bath.opens", "yes or no"),
            ("looked_for.drains", "for instance {within: whole building, by: J. Ames, on: 2026-05-14}"),
            (
                "looked_for.neighbours",
                "for instance {within: 40 ft of building, by: J. Ames, on: 2026-05-14}",
            ),
            ("systems.main.fan.in", "the name of a space, or the word outdoors"),
            ("foundation.areas.slab.size", "for instance 40 ft x 24 ft"),
            ("job.date", "for instance 2026-05-12"),
            ("site.ground", "none, or for instance {main: 0 ft}"),
            ("systems.main.wiring.connection", "hard-wired or cord and plug"),
        ] {
            assert_eq!(way(path).map(|way| way.short()).as_deref(), Some(wanted), "{path}");
        }
        assert_eq!(way("building.colour"), None);
    }
}
