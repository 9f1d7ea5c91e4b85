//! The JSON Schemas of the files of a book, a rule and an amendment, made from the table of their keys.

use serde_json::{Map, Value, json};

use super::keys::{self, Key, Shape};

/// The schema of a rule's file.
#[must_use]
pub fn rule() -> Value {
    document(
        "rule.schema.json",
        "A rule",
        "One requirement of a rulebook, with its reason, its source and its cases.",
        keys::RULE,
    )
}

/// The schema of a book's file.
#[must_use]
pub fn book() -> Value {
    document(
        "book.schema.json",
        "A rulebook",
        "What a rulebook is, what it draws on, and what of it is not held.",
        keys::BOOK,
    )
}

/// The schema of an amendment's file.
#[must_use]
pub fn amendment() -> Value {
    document(
        "amendment.schema.json",
        "An amendment",
        "A local change of a rule of another book, with whose decision it is and what the rule said before.",
        keys::AMENDMENT,
    )
}

fn document(file: &str, title: &str, meaning: &str, keys: &[Key]) -> Value {
    let mut schema = Map::new();
    schema.insert("$schema".to_owned(), json!("https://json-schema.org/draft/2020-12/schema"));
    schema.insert("$id".to_owned(), json!(file));
    schema.insert("title".to_owned(), json!(title));
    schema.insert("description".to_owned(), json!(meaning));
    schema.extend(record(keys));
    Value::Object(schema)
}

fn record(keys: &[Key]) -> Map<String, Value> {
    let mut properties = Map::new();
    for key in keys {
        let mut schema = shape(key.shape);
        schema.insert("description".to_owned(), json!(key.meaning));
        properties.insert(key.name.to_owned(), Value::Object(schema));
    }
    let needed: Vec<&str> = keys.iter().filter(|key| key.needed).map(|key| key.name).collect();
    let mut schema = object(json!({"type": "object", "additionalProperties": false}));
    if !needed.is_empty() {
        schema.insert("required".to_owned(), json!(needed));
    }
    schema.insert("properties".to_owned(), Value::Object(properties));
    schema
}

fn object(value: Value) -> Map<String, Value> {
    match value {
        Value::Object(map) => map,
        _ => Map::new(),
    }
}

/// A name of one's own for each entry of a map.
fn named(entry: Value) -> Value {
    json!({"type": "object", "minProperties": 1, "additionalProperties": entry})
}

fn shape(shape: Shape) -> Map<String, Value> {
    let text = json!({"type": ["string", "number"]});
    object(match shape {
        Shape::Text | Shape::Quantity => text,
        Shape::Name => json!({"type": ["string", "number"], "pattern": "^[a-z0-9]([a-z0-9._-]*[a-z0-9])?$"}),
        Shape::Topic => json!({"type": "string", "pattern": "^[a-z0-9][a-z0-9._/-]*$"}),
        Shape::Each | Shape::Message => json!({"type": "string", "minLength": 1}),
        // A bare number, such as 40, is an expression too.
        Shape::Expression => json!({"type": ["string", "number"], "minLength": 1}),
        Shape::Word(words) => json!({"enum": words()}),
        Shape::YesNo => json!({"enum": ["yes", "no", true, false]}),
        Shape::Day => json!({"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}),
        Shape::Texts => json!({"anyOf": [text, {"type": "array", "items": text}]}),
        Shape::Record(keys) => return record(keys),
        Shape::Records(keys) => json!({"type": "array", "items": record(keys)}),
        Shape::Named(keys) => named(Value::Object(record(keys))),
        Shape::Limits(keys) => named(json!({"anyOf": [text, record(keys)]})),
        Shape::Advice(forms) => {
            let forms: Vec<Map<String, Value>> = forms.iter().map(|keys| record(keys)).collect();
            let change = json!({"anyOf": forms});
            let changes = json!({"anyOf": [change, {"type": "array", "minItems": 1, "items": change}]});
            let advice = json!({
                "type": "object", "minProperties": 1, "maxProperties": 1, "additionalProperties": changes,
            });
            json!({"type": "array", "items": {"anyOf": [text, advice]}})
        }
        Shape::Changes => named(json!({"type": ["string", "number", "boolean", "array", "object"]})),
    })
}
