//! The keys of a design file: what there is to write, part by part.

use super::Status;
use super::host::Host;
use crate::base::near::nearest;
use crate::design::keys::{Sort, parts, parts_called};
use crate::render::pages::keys;
use crate::render::terminal::Look;
use crate::render::visible::one_line;

/// Shows the parts there are, or the keys of the one asked for.
pub fn run(host: &mut dyn Host, wanted: Option<&str>, look: Look) -> Status {
    let Some(wanted) = wanted else {
        host.print(&keys::contents(&look));
        return Status::Fine;
    };
    let found = parts_called(wanted);
    if found.is_empty() {
        let parts = parts();
        let steps =
            parts.iter().flat_map(|part| part.path.iter().chain(part.keys.iter().map(|(key, _)| key)));
        let steps: Vec<&str> = steps.map(String::as_str).collect();
        let near = nearest(wanted, steps.iter().copied());
        let hint = match near {
            Some(near) => format!(" Perhaps {near} was meant."),
            None => speaks_of(wanted).map(|of| format!(" It is spoken of under: {of}.")).unwrap_or_default(),
        };
        host.tell(&format!(
            "No part of a design file and no key is called \"{}\".{hint}\nSee what there is with: undercroft site-visit --keys\n",
            one_line(wanted)
        ));
        return Status::CouldNotRead;
    }
    host.print(&keys::some(&found, &look));
    Status::Fine
}

/// The keys whose words or meaning speak of what was asked for.
fn speaks_of(wanted: &str) -> Option<String> {
    const MOST: usize = 4;
    let wanted = wanted.to_lowercase();
    let mut found: Vec<String> = Vec::new();
    for part in parts() {
        for (key, way) in &part.keys {
            let in_words = |sort: &Sort| match sort {
                Sort::Words(words) => words.iter().any(|(word, _)| word.to_lowercase().contains(&wanted)),
                _ => false,
            };
            if wanted.len() > 3
                && (way.sorts.iter().any(in_words) || way.about.to_lowercase().contains(&wanted))
            {
                found.push(format!("{}.{key}", part.title()).trim_start_matches('.').to_owned());
            }
        }
    }
    found.truncate(MOST);
    (!found.is_empty()).then(|| found.join(", "))
}
