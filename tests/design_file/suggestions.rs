//! What a review offers to write is taken where it stands, from the examples and from whatever a site visit starts.

use std::collections::BTreeSet;

use undercroft::review::{Input, Library, problems_of, review};
use undercroft::yaml::splice::lay_over;

use crate::commands::{example, example_names};
use crate::site_visit::{HOUSES, started};

/// Files in which much is still open: every example, with the fullest of its sections taken away one at a time, and what
/// a site visit starts from no answers and from those about each foundation.
fn files() -> Vec<String> {
    let mut files = Vec::new();
    for name in example_names() {
        let text = example(&name);
        for section in
            ["looked_for", "before_drilling", "systems.main.wiring", "systems.main.fan", "foundation.sumps"]
        {
            files.extend(lay_over(&text, &[], &[section]));
        }
        files.push(text);
    }
    files.push(started(&[]));
    for house in HOUSES {
        files.push(started(&[house, &[("adopted", "pennsylvania-2019"), ("contract", "epa-1994")]].concat()));
    }
    files
}

#[test]
fn whatever_a_review_offers_to_write_is_taken_where_it_belongs() {
    let library = Library::with(&[]);
    let mut tried = BTreeSet::new();
    let mut refused = Vec::new();
    for (file, text) in files().iter().enumerate() {
        let before = problems_of(text).len();
        let input = Input { name: "house.yaml", bytes: text.as_bytes(), ..Input::default() };
        for wanted in review(&input, &library).wanted {
            let entry = wanted.missing.entry.as_str();
            let Some(way) = wanted.way else { panic!("{entry}: nobody says how it is written") };
            for offered in way.offered() {
                // Once in a file is enough for what is written the same way in several places.
                let key = entry.rsplit('.').next().unwrap_or(entry);
                if !tried.insert(format!("{file} {key}: {offered}")) {
                    continue;
                }
                match lay_over(text, &[(entry, offered)], &[]) {
                    Ok(filled) => {
                        let problems = problems_of(&filled);
                        if problems.len() > before {
                            refused.push(format!("{entry}: {offered}: {:?}", problems.last()));
                        }
                    }
                    Err(problem) => refused.push(format!("{entry}: {offered}: {problem:?}")),
                }
            }
        }
    }
    refused.sort();
    refused.dedup();
    assert!(refused.is_empty(), "{} {refused:#?}", refused.len());
    assert!(tried.len() > 100, "{tried:#?}");
}
