//! An entry as one says it, in place of its keys: "stack: how far up it goes".

use super::keys::{Key, steps};

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
    let steps: Vec<&str> = steps(entry).collect();
    let (named, key) = names_among(&steps);
    let Some((last, before)) = steps.split_last() else { return String::new() };
    // A thing that a person has named is that thing, and needs no description.
    if named.last() == Some(&before.len()) {
        return spoken(last);
    }
    let of = of_what(before, &named);
    let says = key.and_then(Key::first_sentence).map(first_words).filter(|says| !says.is_empty());
    // Of a list is told what it lists: "Its openings, by name".
    let says = says.map(|says| says.strip_prefix("its ").map(str::to_owned).unwrap_or(says));
    let says = says.unwrap_or_else(|| spoken(last));
    if of.is_empty() { says } else { format!("{of}: {says}") }
}

/// What the entry is of; empty where its own words say so.
#[must_use]
pub fn of(entry: &str) -> String {
    let steps: Vec<&str> = steps(entry).collect();
    let Some((_, before)) = steps.split_last() else { return String::new() };
    of_what(before, &names_among(before).0)
}

/// What an entry under these keys is of: the last thing that has a name, and the parts of it that lead to the entry.
fn of_what(steps: &[&str], named: &[usize]) -> String {
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

/// A name as it is said.
fn spoken(name: &str) -> String {
    name.replace(['_', '-'], " ")
}

/// Which steps of a path are names that a person has chosen, and the key to which it leads.
fn names_among(steps: &[&str]) -> (Vec<usize>, Option<&'static Key>) {
    let mut named = Vec::new();
    let mut key = Some(Key::top());
    for (at, step) in steps.iter().enumerate() {
        if at > 0 && key.is_some_and(Key::holds_names) {
            named.push(at);
        }
        key = key.and_then(|key| key.step(step));
    }
    (named, key)
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
