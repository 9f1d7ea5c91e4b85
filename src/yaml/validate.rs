//! Whether a file has the shape its format asks for: keys, lists, words. Stands on JSON Schema, draft
//! 2020-12, and speaks of it to nobody: a violation becomes a problem at the key or value it is about, in
//! the words of a person who fills in a form.
//!
//! Kept: the place of every violation. Where an entry may have one of several forms, the form that fits
//! best is the one explained: a section for a section, then the one whose telling word (`kind: hedge`) is
//! right, then the one that knows the most of its keys, then the one with the fewest wrong words, then the deepest,
//! then the one with the fewest faults. Lost: nothing is said inside of a part that could not be read to its end
//! about what is missing there. Cannot fail; only a schema can be refused.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use serde_json::{Map, Number, Value};

use super::explain::{self, Leaf};
use super::tree::{NodeId, NodeKind, Pair, Style, Tree};
use crate::base::near::nearest;
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::Span;

/// How deep the keys of a schema are followed to learn where each key belongs.
const DEEPEST_KEY: usize = 12;

/// The most parts of a schema that are looked at for that.
const MOST_PARTS: usize = 50_000;

/// A schema that is ready for use.
#[derive(Debug)]
pub struct CompiledSchema {
    validator: jsonschema::Validator,
    schema: Value,
    /// Every key, and the paths of the sections it belongs to; `*` stands for any name.
    homes: BTreeMap<String, BTreeSet<Vec<String>>>,
}

impl CompiledSchema {
    /// Takes a schema in. It fails, and says why, if that is no schema of draft 2020-12 or points outside
    /// of itself: nothing is ever fetched.
    pub fn new(schema: Value) -> Result<Self, String> {
        let validator = jsonschema::options()
            .with_draft(jsonschema::Draft::Draft202012)
            .offline()
            .with_pattern_options(jsonschema::PatternOptions::regex())
            .build(&schema)
            .map_err(|error| error.to_string())?;
        let mut homes = Homes { schema: &schema, found: BTreeMap::new(), left: MOST_PARTS };
        homes.walk(&schema, &mut Vec::new(), &mut Vec::new());
        let homes = homes.found;
        Ok(CompiledSchema { validator, schema, homes })
    }

    /// The schema itself.
    #[must_use]
    pub fn as_value(&self) -> &Value {
        &self.schema
    }

    /// Where a key belongs, as paths of sections, the nearest to `here` first; `here` itself left out.
    fn homes_of(&self, key: &str, here: &[String]) -> Vec<String> {
        let alike =
            |home: &[String]| home.iter().zip(here).take_while(|(a, b)| *a == *b || *a == "*").count();
        let mut homes: Vec<&Vec<String>> = self
            .homes
            .get(key)
            .into_iter()
            .flatten()
            .filter(|home| !(home.len() == here.len() && alike(home) == here.len()))
            .collect();
        homes.sort_by_key(|home| (std::cmp::Reverse(alike(home)), home.len()));
        homes.into_iter().map(|home| home.join(".")).collect()
    }
}

/// Walks a schema to learn which section each key belongs to.
struct Homes<'s> {
    schema: &'s Value,
    found: BTreeMap<String, BTreeSet<Vec<String>>>,
    left: usize,
}

impl<'s> Homes<'s> {
    fn walk(&mut self, part: &'s Value, path: &mut Vec<String>, open: &mut Vec<&'s str>) {
        if path.len() > DEEPEST_KEY || self.left == 0 {
            return;
        }
        self.left -= 1;
        if let Some(name) = part.get("$ref").and_then(Value::as_str)
            && !open.contains(&name)
            && let Some(target) = name.strip_prefix('#').and_then(|pointer| self.schema.pointer(pointer))
        {
            open.push(name);
            self.walk(target, path, open);
            open.pop();
        }
        for branches in ["anyOf", "oneOf", "allOf"] {
            for branch in part.get(branches).and_then(Value::as_array).into_iter().flatten() {
                self.walk(branch, path, open);
            }
        }
        for (key, value) in part.get("properties").and_then(Value::as_object).into_iter().flatten() {
            self.found.entry(key.clone()).or_default().insert(path.clone());
            path.push(key.clone());
            self.walk(value, path, open);
            path.pop();
        }
        for inner in ["additionalProperties", "items"] {
            if let Some(value) = part.get(inner).filter(|value| value.is_object()) {
                path.push("*".to_owned());
                self.walk(value, path, open);
                path.pop();
            }
        }
    }
}

/// A part of a tree as a JSON value. Without quotes, `true` and `false` are truth values and what looks
/// like a JSON number is one; nothing, `~` and `null` are null; everything else is text. Of a part that is
/// not in the tree it is null.
#[must_use]
pub fn to_value(tree: &Tree, id: NodeId) -> Value {
    match tree.node(id).map(|node| &node.kind) {
        None | Some(NodeKind::Nothing | NodeKind::Twice) => Value::Null,
        Some(NodeKind::Scalar { text, style: Style::Plain }) => plain_value(text),
        Some(NodeKind::Scalar { text, .. }) => Value::String(text.clone()),
        Some(NodeKind::List(items)) => items.iter().map(|item| to_value(tree, *item)).collect(),
        Some(NodeKind::Map(pairs)) => {
            let pairs = pairs.iter().map(|pair| (pair.key.clone(), to_value(tree, pair.value)));
            Value::Object(pairs.collect::<Map<_, _>>())
        }
    }
}

fn plain_value(text: &str) -> Value {
    match text {
        "true" => Value::Bool(true),
        "false" => Value::Bool(false),
        "null" | "~" | "" => Value::Null,
        _ if text.starts_with(|c: char| c == '-' || c.is_ascii_digit()) => {
            serde_json::from_str::<Number>(text)
                .map_or_else(|_| Value::String(text.to_owned()), Value::Number)
        }
        _ => Value::String(text.to_owned()),
    }
}

/// For so many unknown keys of one place it is looked what may have been meant; the others are told without. Whoever has
/// more in one place did not misspell them.
const LOOKED_FOR: usize = 200;

/// Checks a tree against a schema. The problems come in the order they stand, each once.
#[must_use]
pub fn validate(tree: &Tree, schema: &CompiledSchema) -> Vec<Problem> {
    let Some(root) = tree.root() else { return Vec::new() };
    let mut value = to_value(tree, root);
    let mut leaves = violations(&schema.validator, &value);
    if leaves.is_empty() {
        return Vec::new();
    }
    let ground = Ground::new(tree, schema);
    // A number or truth value that stands where text is wanted is text: `title: 1911`. The tree still has
    // its characters.
    let mut changed = false;
    for leaf in &leaves {
        let text = ground.node(&leaf.place).and_then(|node| tree.text(node));
        if let (Some(text), Some(here)) =
            (text.filter(|text| leaf.takes_text(text)), value.pointer_mut(&leaf.place))
            && (here.is_number() || here.is_boolean())
        {
            *here = Value::String(text.to_owned());
            changed = true;
        }
    }
    if changed {
        leaves = violations(&schema.validator, &value);
    }
    let mut problems: Vec<Problem> = leaves.iter().flat_map(|leaf| ground.problems(leaf)).collect();
    problems.sort_by(|a, b| (a.at, a.kind, &a.found).cmp(&(b.at, b.kind, &b.found)));
    problems.dedup_by(|a, b| (a.at, a.kind, &a.found) == (b.at, b.kind, &b.found));
    problems
}

/// What a value breaks. The one place where the checker is run: it is generic, and slow to compile.
fn violations(validator: &jsonschema::Validator, value: &Value) -> Vec<Leaf> {
    let mut leaves = Vec::new();
    for error in validator.iter_errors(value) {
        explain::leaves(&error, &mut leaves);
    }
    leaves
}

/// The tree and the schema that a violation is told about.
struct Ground<'t> {
    tree: &'t Tree,
    schema: &'t CompiledSchema,
    pairs: HashMap<(NodeId, &'t str), &'t Pair>,
}

impl<'t> Ground<'t> {
    fn new(tree: &'t Tree, schema: &'t CompiledSchema) -> Self {
        let mut pairs = HashMap::new();
        for (number, _) in tree.nodes.iter().enumerate() {
            let id = NodeId(u32::try_from(number).unwrap_or(u32::MAX));
            for pair in tree.pairs(id) {
                pairs.insert((id, pair.key.as_str()), pair);
            }
        }
        Ground { tree, schema, pairs }
    }

    /// The node a pointer leads to, the place of its key, and the steps on the way.
    fn find(&self, pointer: &str) -> Option<(NodeId, Option<Span>, Vec<String>)> {
        let mut here = self.tree.root()?;
        let mut key_span = None;
        let mut steps = Vec::new();
        for token in pointer.split('/').skip(1) {
            let token = token.replace("~1", "/").replace("~0", "~");
            if let NodeKind::List(items) = &self.tree.node(here)?.kind {
                here = *items.get(token.parse::<usize>().ok()?)?;
                key_span = None;
            } else {
                let pair = self.pairs.get(&(here, token.as_str()))?;
                here = pair.value;
                key_span = Some(pair.key_span);
            }
            steps.push(token);
        }
        Some((here, key_span, steps))
    }

    fn node(&self, pointer: &str) -> Option<NodeId> {
        self.find(pointer).map(|(node, ..)| node)
    }

    /// The part of the schema that holds the keyword a violation is about.
    fn part(&self, leaf: &Leaf) -> Option<&'t Value> {
        let (holder, _) = leaf.schema.rsplit_once('/')?;
        self.schema.schema.pointer(holder)
    }

    /// What the schema says a part is for, its first sentence.
    fn described(part: Option<&Value>) -> Option<String> {
        let text = part?.get("description")?.as_str()?;
        let first = text.split("\n\n").next().unwrap_or(text);
        let end = first.find(". ").map_or(first.len(), |end| end + 1);
        Some(first.get(..end).unwrap_or(first).trim_end_matches('.').to_owned())
    }

    /// What stands at a node, in words.
    fn found(&self, node: NodeId) -> String {
        match self.tree.node(node).map(|node| &node.kind) {
            Some(NodeKind::Scalar { text, .. }) => text.clone(),
            Some(NodeKind::List(_)) => "a list".to_owned(),
            Some(NodeKind::Map(_)) => "a section with keys of its own".to_owned(),
            Some(NodeKind::Nothing | NodeKind::Twice) | None => "nothing".to_owned(),
        }
    }

    /// The place that stands for a section: its key; without one, its first key.
    fn head(&self, node: NodeId, key: Option<Span>) -> Option<Span> {
        key.or_else(|| self.tree.pairs(node).first().map(|pair| pair.key_span))
            .or_else(|| self.tree.node(node).map(|node| node.span))
    }

    fn problems(&self, leaf: &Leaf) -> Vec<Problem> {
        let Some((node, key, steps)) = self.find(&leaf.place) else { return Vec::new() };
        let Some(here) = self.tree.node(node) else { return Vec::new() };
        if let explain::What::UnknownKeys(keys) = &leaf.what {
            let each = keys.iter().enumerate();
            return each
                .filter_map(|(at, key)| self.unknown_key(leaf, node, key, &steps, at < LOOKED_FOR))
                .collect();
        }
        if let explain::What::Missing(missing) = &leaf.what {
            return self.missing(leaf, node, key, missing).into_iter().collect();
        }
        if here.kind == NodeKind::Twice {
            return Vec::new();
        }
        if here.kind == NodeKind::Nothing {
            let name = steps.last().filter(|_| key.is_some() && self.tree.is_whole(node));
            let (Some(name), Some(key)) = (name, key) else {
                let at_item = self.tree.is_whole(node).then(|| self.form(leaf, node, here.span));
                return at_item.into_iter().collect();
            };
            let accepts = self.form(leaf, node, key).accepts;
            return vec![Problem::new(ProblemKind::KeyMissing, key).found(name.clone()).accepts(accepts)];
        }
        vec![self.form(leaf, node, here.span)]
    }

    fn unknown_key(
        &self,
        leaf: &Leaf,
        node: NodeId,
        key: &str,
        steps: &[String],
        meant: bool,
    ) -> Option<Problem> {
        let pair = self.pairs.get(&(node, key))?;
        if !meant {
            let problem = Problem::new(ProblemKind::UnknownKey, pair.key_span);
            return Some(problem.found(key).accepts("one of the keys of this section"));
        }
        let part = self.part(leaf);
        let known: Vec<&str> = part
            .and_then(|part| part.get("properties")?.as_object())
            .map(|keys| keys.keys().map(String::as_str).collect())
            .unwrap_or_default();
        let free: Vec<&str> =
            known.iter().copied().filter(|known| !self.pairs.contains_key(&(node, *known))).collect();
        let elsewhere = self.schema.homes_of(key, steps);
        // A key with one word too many: `soil_kind` for `soil`.
        let in_part = || key.split('_').find(|part| free.contains(part)).map(str::to_owned);
        let mut near = nearest(key, free.iter().copied())
            .or_else(|| nearest(key, known.iter().copied()))
            .or_else(in_part);
        let all = || {
            if known.is_empty() {
                "no key at all".to_owned()
            } else {
                format!("one of the keys {}", known.join(", "))
            }
        };
        let belongs = |key: &str, homes: &[String]| {
            let under = |home: &String| {
                if home.is_empty() {
                    "the top of the file".to_owned()
                } else {
                    format!("`{}`", home.replace('*', "NAME"))
                }
            };
            let places: Vec<String> = homes.iter().take(2).map(under).collect();
            format!("`{key}` under {}", places.join(" or "))
        };
        // Whoever finds the key that was meant, or its place, needs no list of the others.
        let mut accepts = String::new();
        if key.starts_with(|c: char| c.is_ascii_digit()) && key.split(' ').count() > 2 {
            accepts =
                "a key and a colon in front of each value; a comma parts one entry from the next".to_owned();
        } else if key.starts_with(|c: char| c.is_ascii_digit()) {
            accepts =
                "decimals with a point, such as 5.5 ft: in brackets a comma parts one entry from the next"
                    .to_owned();
        } else if !elsewhere.is_empty() {
            accepts = belongs(key, &elsewhere);
        } else if near.is_none() {
            near = nearest(key, self.schema.homes.keys().map(String::as_str))
                .filter(|_| key.chars().count() > 3);
            let homes = near.as_ref().map(|near| self.schema.homes_of(near, steps)).unwrap_or_default();
            match &near {
                Some(near) if !homes.is_empty() => accepts = belongs(near, &homes),
                _ => {
                    near = None;
                    accepts = all();
                }
            }
        }
        Some(Problem::new(ProblemKind::UnknownKey, pair.key_span).found(key).accepts(accepts).nearest(near))
    }

    fn missing(&self, leaf: &Leaf, node: NodeId, key: Option<Span>, missing: &str) -> Option<Problem> {
        if !self.tree.is_whole(node) {
            return None;
        }
        let at = self.head(node, key)?;
        let described =
            Self::described(self.part(leaf).and_then(|part| part.get("properties")?.get(missing)));
        let accepts =
            described.map_or_else(|| format!("`{missing}: …`"), |what| format!("`{missing}: …` ({what})"));
        Some(Problem::new(ProblemKind::KeyMissing, at).found(missing).accepts(accepts))
    }

    /// A value that has not the form wanted.
    fn form(&self, leaf: &Leaf, node: NodeId, at: Span) -> Problem {
        let found = self.found(node);
        match &leaf.what {
            explain::What::Value { shapes, words } => {
                let single = self.tree.text(node).is_some();
                let offered = || words.iter().map(String::as_str);
                let near =
                    nearest(&found, offered()).or_else(|| by_part(&found, offered())).filter(|_| single);
                let own_words = words.iter().any(|word| !explain::NOT_KNOWN.contains(&word.as_str()));
                let kind = if single && (near.is_some() || own_words || shapes.is_empty()) {
                    ProblemKind::UnknownWord
                } else {
                    ProblemKind::WrongShape
                };
                Problem::new(kind, at).found(found).accepts(explain::offered(shapes, words)).nearest(near)
            }
            explain::What::Other(kind, words) => {
                let accepts = match Self::described(self.part(leaf)) {
                    Some(what) if words.is_empty() => what,
                    Some(what) => format!("{words} ({what})"),
                    None => words.clone(),
                };
                Problem::new(*kind, at).found(found).accepts(accepts)
            }
            explain::What::UnknownKeys(_) | explain::What::Missing(_) => {
                Problem::new(ProblemKind::WrongShape, at).found(found)
            }
        }
    }
}

/// The one word that is meant by a part of it, or by more than it: `y` for yes, `4` for 4 in, `sch 40` for 40.
fn by_part<'w>(written: &str, words: impl Iterator<Item = &'w str>) -> Option<String> {
    let plain = |text: &str| text.to_lowercase().trim_matches(['#', '"', '“', '”', '\'', '.']).to_owned();
    let written = plain(written);
    let parts: Vec<String> = written.split([' ', '/', ',']).map(plain).collect();
    let fits = |word: &&str| {
        let word = plain(word);
        let inside = parts.len() > 1 && parts.contains(&word);
        let digits = written.chars().all(|c| c.is_ascii_digit());
        let starts = if digits {
            word.split(' ').next() == Some(written.as_str())
        } else {
            word.starts_with(&written)
        };
        inside || (starts && !written.is_empty())
    };
    let mut found = words.filter(fits);
    let only = found.next()?;
    found.next().is_none().then(|| only.to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::text::SourceId;
    use crate::yaml::scan::read;
    use serde_json::json;

    /// A format for gardens, put together as the formats of this program are.
    fn garden() -> CompiledSchema {
        let not_known = json!({ "enum": ["unknown", "none", null] });
        let entry = |of: Value| json!({ "anyOf": [of, { "$ref": "#/$defs/not_known" }] });
        let section =
            |keys: Value| json!({ "type": "object", "properties": keys, "additionalProperties": false });
        let schema = json!({
            "$schema": "https://json-schema.org/draft/2020-12/schema",
            "type": "object",
            "required": ["garden"],
            "additionalProperties": false,
            "properties": {
                "garden": { "description": "Version of the format. Always 1.", "enum": [1] },
                "owner": { "description": "Who owns it.", "type": "string" },
                "beds": entry(json!({ "type": "object", "additionalProperties": entry(json!({ "$ref": "#/$defs/bed" })) })),
                "shed": entry(section(json!({
                    "gauge": entry(json!({ "type": "string" })),
                    "area": entry(json!({ "type": "number", "minimum": 2 })),
                    "locked": entry(json!({ "enum": ["yes", "no", "Yes", "No", true, false] })),
                    "keys": entry(json!({ "type": "array", "items": { "type": "string" }, "minItems": 1 })),
                }))),
                "path": entry(json!({ "anyOf": [
                    { "type": ["string", "number"] },
                    { "type": "object", "required": ["width"], "properties": { "width": { "description": "How wide it is.", "type": "string" } }, "additionalProperties": false },
                ] })),
                "border": entry(json!({ "oneOf": [
                    { "type": "object", "required": ["kind"], "properties": { "kind": { "const": "hedge" }, "height": { "type": "string" } }, "additionalProperties": false },
                    { "type": "object", "required": ["kind"], "properties": { "kind": { "const": "fence" }, "boards": { "type": "number" } }, "additionalProperties": false },
                ] })),
            },
            "$defs": {
                "not_known": not_known,
                "bed": section(json!({
                    "soil": entry(json!({ "enum": ["clay", "loam", "sand"] })),
                    "rows": entry(json!({ "type": "array", "items": { "type": "string" } })),
                    "sown": entry(json!({ "type": "string", "pattern": "^[0-9]{4}-[0-9]{2}$", "description": "Month of sowing, as 2026-05." })),
                })),
            },
        });
        CompiledSchema::new(schema).unwrap()
    }

    /// What is told: the kind, the words it points at, what would be accepted, what may be meant.
    fn told(text: &str) -> Vec<(ProblemKind, String, String, Option<String>)> {
        let (tree, _) = read(SourceId(0), text);
        validate(&tree, &garden())
            .into_iter()
            .map(|problem| {
                (problem.kind, text[problem.at.range()].to_owned(), problem.accepts, problem.nearest)
            })
            .collect()
    }

    fn only(text: &str) -> (ProblemKind, String, String, Option<String>) {
        let mut told = told(text);
        assert_eq!(told.len(), 1, "{told:#?}");
        told.remove(0)
    }

    #[test]
    fn a_sound_file_raises_nothing() {
        let text = "garden: 1\nowner: 007\nbeds:\n  north: {soil: loam, rows: [leek, 12, yes], sown: unknown}\n  south: none\n  east:\n\
                    shed: {locked: true, area: 4.5, gauge:}\npath: 3\nborder: {kind: hedge, height: 2}\n";
        assert_eq!(told(text), []);
    }

    #[test]
    fn an_unknown_key_is_shown_with_the_nearest_known_one() {
        let (kind, at, accepts, near) = only("garden: 1\nbeds:\n  north: {siol: loam}\n");
        assert_eq!((kind, at.as_str(), near.as_deref()), (ProblemKind::UnknownKey, "siol", Some("soil")));
        assert_eq!(accepts, "", "with a near key the list is of no help");
    }

    #[test]
    fn a_key_that_belongs_elsewhere_is_sent_there() {
        let (kind, at, accepts, near) = only("garden: 1\ngauge: brass\n");
        assert_eq!((kind, at.as_str(), near), (ProblemKind::UnknownKey, "gauge", None));
        assert!(accepts.ends_with("`gauge` under `shed`"), "{accepts}");
        let (_, _, accepts, near) = only("garden: 1\nshed: {gauge: brass, souwn: x}\n");
        assert_eq!(near.as_deref(), Some("sown"));
        assert!(accepts.ends_with("`sown` under `beds.NAME`"), "{accepts}");
        let (_, _, accepts, _) = only("garden: 1\nshed: {owner: A. Fern}\n");
        assert!(accepts.ends_with("`owner` under the top of the file"), "{accepts}");
    }

    #[test]
    fn a_wrong_word_is_shown_with_the_words_that_are_right() {
        let (kind, at, accepts, near) = only("garden: 1\nbeds: {north: {soil: laom}}\n");
        assert_eq!((kind, at.as_str(), near.as_deref()), (ProblemKind::UnknownWord, "laom", Some("loam")));
        assert_eq!(accepts, "clay, loam, sand; or unknown, none");
        let (kind, _, accepts, _) = only("garden: 1\nshed: {locked: maybe}\n");
        assert_eq!((kind, accepts.as_str()), (ProblemKind::UnknownWord, "yes, no; or unknown, none"));
        let (kind, at, _, near) = only("garden: 1\nbeds: unkown\n");
        assert_eq!(
            (kind, at.as_str(), near.as_deref()),
            (ProblemKind::UnknownWord, "unkown", Some("unknown"))
        );
    }

    #[test]
    fn a_wrong_form_is_told_in_plain_words() {
        let (kind, at, accepts, _) = only("garden: 1\nbeds: {north: {rows: leek}}\n");
        assert_eq!((kind, at.as_str()), (ProblemKind::WrongShape, "leek"));
        assert!(accepts.starts_with("a list: entries below each other that start with `- `"), "{accepts}");
        let (kind, at, accepts, _) = only("garden: 1\nbeds:\n  - north\n");
        assert_eq!((kind, at.as_str()), (ProblemKind::WrongShape, "- north"));
        assert!(accepts.starts_with("a section: keys with their values"), "{accepts}");
        let (kind, at, accepts, _) = only("garden: 1\nowner: {name: x}\n");
        assert_eq!(
            (kind, at.as_str(), accepts.as_str()),
            (ProblemKind::WrongShape, "{name: x}", "one value")
        );
        let (kind, _, accepts, _) = only("garden: 1\npath: [1]\n");
        assert_eq!(kind, ProblemKind::WrongShape);
        assert!(accepts.starts_with("one value; or a section") && accepts.ends_with("; or unknown, none"));
    }

    #[test]
    fn a_missing_key_is_told_at_the_key_above_it() {
        let (kind, at, accepts, _) = only("garden: 1\npath: {}\n");
        assert_eq!((kind, at.as_str()), (ProblemKind::KeyMissing, "path"));
        assert_eq!(accepts, "`width: …` (How wide it is)");
        let (kind, at, ..) = only("owner: A. Fern\n");
        assert_eq!((kind, at.as_str()), (ProblemKind::KeyMissing, "owner"));
        let (kind, at, ..) = only("garden: 1\npath: {width: }\n");
        assert_eq!((kind, at.as_str()), (ProblemKind::KeyMissing, "width"));
    }

    #[test]
    fn of_several_kinds_the_one_that_is_named_is_explained() {
        let (kind, at, accepts, near) = only("garden: 1\nborder: {kind: fence, height: 2}\n");
        assert_eq!((kind, at.as_str(), near), (ProblemKind::UnknownKey, "height", None));
        assert!(accepts.starts_with("one of the keys kind, boards"), "{accepts}");
        let (kind, at, accepts, near) = only("garden: 1\nborder: {kind: fense, boards: 2}\n");
        assert_eq!((kind, at.as_str(), near.as_deref()), (ProblemKind::UnknownWord, "fense", Some("fence")));
        assert!(accepts.contains("fence") && accepts.contains("hedge"), "{accepts}");
    }

    #[test]
    fn patterns_and_bounds_are_told_by_what_they_are_for() {
        let (kind, at, accepts, _) = only("garden: 1\nbeds: {north: {sown: May}}\n");
        assert_eq!((kind, at.as_str()), (ProblemKind::BadText, "May"));
        assert_eq!(accepts, "Month of sowing, as 2026-05");
        let (kind, at, accepts, _) = only("garden: 1\nshed: {area: 1}\n");
        assert_eq!((kind, at.as_str(), accepts.as_str()), (ProblemKind::OutOfRange, "1", "2 or more"));
        let (kind, _, accepts, _) = only("garden: 1\nshed: {keys: []}\n");
        assert_eq!((kind, accepts.as_str()), (ProblemKind::WrongShape, "a list of at least 1 entries"));
    }

    #[test]
    fn problems_stand_in_the_order_of_the_file_and_each_once() {
        let told =
            told("garden: 2\nshed: {area: x, nope: 1}\nbeds: {north: {soil: mud, rows: {}}, south: 4}\n");
        let places: Vec<_> = told.iter().map(|told| told.1.as_str()).collect();
        assert_eq!(places, ["2", "x", "nope", "mud", "{}", "4"]);
    }

    #[test]
    fn no_word_of_programmers_is_said() {
        let text = "owner: []\nbeds: 4\nshed: {area: x, locked: [], keys: 1, gauge: {}, a: 1}\npath: []\nborder: {kind: 3}\n";
        let (tree, _) = read(SourceId(0), text);
        let problems = validate(&tree, &garden());
        assert!(problems.len() > 7, "{problems:#?}");
        for problem in problems {
            let words = format!("{} {}", problem.found, problem.accepts).to_lowercase();
            for jargon in
                ["schema", "object", "array", "property", "properties", "string", "boolean", "null", "json"]
            {
                assert!(!words.contains(jargon), "{words}");
            }
        }
    }

    #[test]
    fn nothing_is_said_to_be_missing_where_the_reading_broke_off() {
        let text = "owner: A. Fern\npath: {widht\nshed: {area: 4, locked\n";
        let (tree, problems) = read(SourceId(0), text);
        assert!(!problems.is_empty());
        let told = validate(&tree, &garden());
        assert!(told.iter().all(|problem| problem.kind != ProblemKind::KeyMissing), "{told:#?}");
    }

    #[test]
    fn a_schema_that_points_outside_is_refused() {
        assert!(CompiledSchema::new(json!({ "$ref": "https://example.com/other.json" })).is_err());
        assert!(CompiledSchema::new(json!({ "type": 7 })).is_err());
    }

    #[test]
    fn a_key_with_a_slash_or_tilde_is_found_again() {
        let (kind, at, ..) = only("garden: 1\nbeds: {\"a/b~c\": {soil: mud}}\n");
        assert_eq!((kind, at.as_str()), (ProblemKind::UnknownWord, "mud"));
    }

    #[test]
    fn a_thousand_faults_take_no_time_out_of_proportion() {
        let beds: String = (0..5_000).map(|n| format!("  b{n}: {{soil: mud, sial: 1}}\n")).collect();
        let text = format!("garden: 1\nbeds:\n{beds}");
        let (tree, problems) = read(SourceId(0), &text);
        assert_eq!(problems, []);
        let start = std::time::Instant::now();
        let told = validate(&tree, &garden());
        assert_eq!(told.len(), 10_000);
        assert!(start.elapsed().as_secs() < 20, "{:?}", start.elapsed());
    }
}
