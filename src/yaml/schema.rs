//! The JSON Schema of a file format, put together from the types that read it.

use std::collections::BTreeMap;

use serde_json::{Map, Value, json};

/// The parts of a schema that are defined once and referred to by name.
#[derive(Debug, Default)]
pub struct Schemas {
    defs: BTreeMap<String, Value>,
    clashes: Vec<String>,
    made_by: BTreeMap<String, &'static str>,
}

impl Schemas {
    /// A reference to the definition with this name, which is made when it is first asked for. `T` is the
    /// type it describes: two types that want one name are a clash.
    pub fn refer<T>(&mut self, name: &str, make: impl FnOnce(&mut Schemas) -> Value) -> Value {
        let made_by = std::any::type_name::<T>();
        match self.made_by.get(name) {
            Some(first) if *first != made_by => self.clashes.push(format!("{name}: {first}, {made_by}")),
            Some(_) => {}
            None => {
                self.made_by.insert(name.to_owned(), made_by);
                let definition = make(self);
                self.defs.insert(name.to_owned(), definition);
            }
        }
        reference(name)
    }

    /// The names that two types wanted. Empty for a sound format.
    #[must_use]
    pub fn clashes(&self) -> &[String] {
        &self.clashes
    }

    /// The whole schema, with `root` as what the file itself has to be.
    #[must_use]
    pub fn finish(self, title: &str, root: Value) -> Value {
        let mut whole = json!({
            "$schema": "https://json-schema.org/draft/2020-12/schema",
            "title": title,
        });
        if let (Value::Object(whole), Value::Object(root)) = (&mut whole, root) {
            whole.extend(root);
            whole.insert("$defs".to_owned(), Value::Object(self.defs.into_iter().collect()));
        }
        whole
    }
}

/// A reference to a definition.
fn reference(name: &str) -> Value {
    let mut to = Map::with_capacity(1);
    to.insert("$ref".to_owned(), Value::String(format!("#/$defs/{name}")));
    Value::Object(to)
}

/// A doc comment as the description of a key: lines that follow each other joined, paragraphs kept.
#[must_use]
pub fn description(lines: &[&str]) -> String {
    let mut out = String::new();
    for line in lines {
        let line = line.trim();
        if line.is_empty() {
            out.push_str("\n\n");
        } else {
            if !out.is_empty() && !out.ends_with('\n') {
                out.push(' ');
            }
            out.push_str(line);
        }
    }
    out.trim().to_owned()
}

/// What any entry can be besides its own values: `unknown`, `none`, or nothing written.
pub fn not_known(defs: &mut Schemas) -> Value {
    struct NotKnown;
    defs.refer::<NotKnown>("not_known", |_| {
        json!({
            "description": "unknown: somebody looked and could not tell. none: there is none. Nothing written: not stated.",
            "enum": ["unknown", "none", null],
        })
    })
}

/// A value of this schema, or that it is not known. A definition gets a twin that says so.
pub fn or_unknown(defs: &mut Schemas, of: Value) -> Value {
    struct Unknown;
    let unknown = |defs: &mut Schemas| {
        defs.refer::<Unknown>("unknown", |_| {
            json!({
                "description": "unknown: somebody looked and could not tell. Nothing written: not stated.",
                "enum": ["unknown", null],
            })
        })
    };
    either(defs, of, unknown, "or_unknown")
}

/// A value of this schema, or that it is not known or not there. A definition gets a twin that says so.
pub fn or_not_known(defs: &mut Schemas, of: Value) -> Value {
    either(defs, of, not_known, "or_not")
}

/// One schema or the other; for a definition, as a definition of its own.
fn either(
    defs: &mut Schemas,
    of: Value,
    other: impl FnOnce(&mut Schemas) -> Value,
    twin_name: &str,
) -> Value {
    let twin = of.get("$ref").and_then(Value::as_str).and_then(|name| name.strip_prefix("#/$defs/"));
    let Some(twin) = twin.map(|name| format!("{name}_{twin_name}")) else {
        return json!({ "anyOf": [of, other(defs)] });
    };
    let known = defs.defs.contains_key(&twin);
    if !known {
        let either = json!({ "anyOf": [of, other(defs)] });
        defs.defs.insert(twin.clone(), either);
    }
    reference(&twin)
}

/// One value as it may be written, whatever a YAML reader makes of it: text, a number, a truth value.
#[must_use]
pub fn single_value() -> Value {
    json!({ "type": ["string", "number", "boolean"] })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_definition_is_made_once() {
        let mut defs = Schemas::default();
        let first = defs.refer::<u8>("leaf", |_| json!({ "type": "string" }));
        let again = defs.refer::<u8>("leaf", |_| json!({ "type": "number" }));
        assert_eq!(first, again);
        assert!(defs.clashes().is_empty());
        let whole = defs.finish("Trees", json!({ "type": "object" }));
        assert_eq!(whole["$defs"]["leaf"]["type"], "string");
    }

    #[test]
    fn two_types_with_one_name_are_noticed() {
        let mut defs = Schemas::default();
        defs.refer::<u8>("leaf", |_| json!({}));
        defs.refer::<u16>("leaf", |_| json!({}));
        assert_eq!(defs.clashes().len(), 1);
    }

    #[test]
    fn doc_lines_become_one_description() {
        assert_eq!(description(&[" One", " two.", "", " Three."]), "One two.\n\nThree.");
    }
}
