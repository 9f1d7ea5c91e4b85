//! An entry as one says it, in place of its keys: "stack: how far up it goes".

use crate::design::keys::{holds_names, way};
use crate::render::phrases::spoken;

/// No first words of a description are longer than this where they stand for an entry.
const MOST_WORDS: usize = 64;

/// Sections of the file that say nothing of what an entry is of.
const SECTIONS: [&str; 12] = [
    "job",
    "site",
    "before_drilling",
    "building",
    "foundation",
    "systems",
    "seals",
    "diagnostics",
    "start_up",
    "papers",
    "radon_tests",
    "rounds",
];

/// The entry in words: what it is of, a colon, and the first words of what it says.
#[must_use]
pub fn in_words(entry: &str) -> String {
    let steps: Vec<&str> = entry.split(['.', '[']).map(|step| step.trim_matches([']', '"', '\''])).collect();
    let Some((last, before)) = steps.split_last() else { return String::new() };
    let of = of_what(before);
    // A thing that a person has named is that thing, and needs no description.
    if is_name(&steps, before.len()) {
        return spoken(last);
    }
    let says = way(entry).map(|way| first_words(way.first_sentence())).filter(|says| !says.is_empty());
    // Of a list is told what it lists: "Its openings, by name".
    let says = says.map(|says| says.strip_prefix("its ").map(str::to_owned).unwrap_or(says));
    let says = says.unwrap_or_else(|| spoken(last));
    if of.is_empty() { says } else { format!("{of}: {says}") }
}

/// What the entry is of; empty where its own words say so.
#[must_use]
pub fn of(entry: &str) -> String {
    let steps: Vec<&str> = entry.split(['.', '[']).map(|step| step.trim_matches([']', '"', '\''])).collect();
    steps.split_last().map(|(_, before)| of_what(before)).unwrap_or_default()
}

/// What an entry under these keys is of: the last thing that has a name, and the parts of it that lead to the entry.
fn of_what(steps: &[&str]) -> String {
    let named: Vec<usize> = (0..steps.len()).filter(|at| is_name(steps, *at)).collect();
    let start = match named.last() {
        // There is mostly one system, and what is in it has a name of its own.
        Some(1) if steps.first() == Some(&"systems") && steps.len() > 2 => 2,
        Some(at) => *at,
        None => usize::from(steps.first().is_some_and(|step| SECTIONS.contains(step))),
    };
    let of: Vec<String> = steps.iter().skip(start).map(|step| spoken(step)).collect();
    match (of.as_slice(), steps.first()) {
        ([system], Some(&"systems")) if named == [1] && steps.len() == 2 => format!("system {system}"),
        _ => of.join(" "),
    }
}

/// Whether a step of a path is a name that a person has chosen.
fn is_name(steps: &[&str], at: usize) -> bool {
    let Some(above) = steps.get(..at).filter(|above| !above.is_empty()) else { return false };
    holds_names(&above.join("."))
}

/// The first words of a description, up to where it draws breath.
fn first_words(said: &str) -> String {
    let end = said.find([',', ';', ':', '(']).unwrap_or(said.len());
    let said = said.get(..end).unwrap_or(said).trim().replace('`', "\"");
    if said.chars().count() > MOST_WORDS {
        return String::new();
    }
    let mut signs = said.chars();
    match signs.next() {
        Some(first) => first.to_lowercase().chain(signs).collect(),
        None => said,
    }
}

#[cfg(test)]
mod tests {
    use super::in_words;

    #[test]
    fn an_entry_is_said_without_its_keys() {
        for (entry, words) in [
            ("systems.main.runs.stack.up", "stack: how far up it goes"),
            ("systems.main.runs.main_line.hangers.fixed_to", "main line hangers: what they are fixed to"),
            ("systems.main.gauge.visible", "gauge: whether people of the house see it where they come by"),
            ("systems.main.runs.stack", "stack"),
            ("systems.main.kind", "system main: whether a fan drives it"),
            ("building.openings.bath_window.into", "bath window: the space it leads into"),
            ("building.roof.edge", "roof: the height of its edge"),
            ("site.winter_design", "the winter design temperature"),
            ("looked_for.drains", "looked for: drains in floors"),
            ("building.openings", "openings"),
            ("papers.list", "papers kept or handed over"),
            ("diagnostics.communication", "communication tests"),
        ] {
            assert_eq!(in_words(entry), words, "{entry}");
        }
    }
}
