//! What an entry of a design says, in one sentence: the description of its key in the schema of design files.

use std::sync::OnceLock;

use serde_json::Value;

use crate::design::design_schema_text;

/// The schema as it is published.
fn schema() -> &'static Value {
    static SCHEMA: OnceLock<Value> = OnceLock::new();
    SCHEMA.get_or_init(design_schema_text)
}

/// What the entry at this path says, its first sentence without the full stop; nothing for a path that leads
/// nowhere.
#[must_use]
pub fn describe(path: &str) -> Option<String> {
    let mut here = vec![schema()];
    for key in path.split(['.', '[']) {
        let key = key.trim_end_matches(']').trim_matches(['"', '\'']);
        here = here.into_iter().flat_map(|at| step(at, key, 0)).collect();
    }
    let said = here.into_iter().find_map(|at| at.get("description").and_then(Value::as_str))?;
    let first = said.split_once(". ").map_or(said, |(first, _)| first);
    let first = first.lines().next().unwrap_or(first).trim().trim_end_matches('.');
    (!first.is_empty()).then(|| first.to_owned())
}

/// Where a key leads from a part of the schema.
fn step<'s>(at: &'s Value, key: &str, depth: usize) -> Vec<&'s Value> {
    if depth > 8 {
        return Vec::new();
    }
    if let Some(own) = at.get("properties").and_then(|keys| keys.get(key)) {
        return vec![own];
    }
    let mut found = Vec::new();
    if let Some(target) = at.get("$ref").and_then(Value::as_str).and_then(|to| to.strip_prefix('#')) {
        found.extend(schema().pointer(target).into_iter().flat_map(|to| step(to, key, depth + 1)));
    }
    for list in ["anyOf", "oneOf", "allOf"] {
        let parts = at.get(list).and_then(Value::as_array).into_iter().flatten();
        found.extend(parts.flat_map(|part| step(part, key, depth + 1)));
    }
    if found.is_empty() {
        for any in ["additionalProperties", "items"] {
            found.extend(at.get(any).filter(|value| value.is_object()));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::describe;

    #[test]
    fn entries_are_described_through_names_and_alternatives() {
        for path in [
            "job.title",
            "building.roof.edge",
            "building.openings.kitchen_window.opens",
            "systems.main.discharge.above_roof",
            "systems.main.suction_points.s1.kind",
            "before_drilling.post_tension",
            "looked_for.openings",
        ] {
            let said = describe(path).unwrap_or_default();
            assert!(said.len() > 10 && !said.contains('\n'), "{path}: {said:?}");
        }
        assert_eq!(describe("building.colour"), None);
    }
}
