//! What a rule can speak of, on one page: the kinds of things, every fact of each with its unit, formula and source, and
//! the lists of words.

use super::Paper;
use crate::base::vocabulary::{KindId, Vocabulary};
use crate::render::terminal::catalogue::{HANDLE, rests_on, type_words};

const ABOUT: &str = "Everything that an expression of a rule can ask, kind by kind. `language.md` says how expressions are \
written; `undercroft rulebook words KIND` shows a part of this page. What stands at the root is written by itself \
(`openings`), everything else behind a thing and a dot (`opening.clearance`). This page is made from the program itself.";

/// The page.
#[must_use]
pub fn page(vocabulary: &Vocabulary) -> String {
    let mut paper = Paper::default();
    paper.heading(1, "What a rule can speak of");
    paper.paragraph(ABOUT);
    for (at, kind) in vocabulary.kinds.iter().enumerate() {
        let id = KindId(u16::try_from(at).unwrap_or(u16::MAX));
        paper.heading(2, &kind.name);
        paper.paragraph(&kind.meaning);
        for fact in vocabulary.facts_of(id) {
            paper.heading(3, &format!("{}{}", prefix(at, &kind.name), fact.name));
            paper.paragraph(&fact.meaning);
            paper.0.push('\n');
            paper.item("is", &type_words(vocabulary, fact));
            paper.item("worked out", &fact.formula);
            paper.item("source", &fact.source);
            paper.item("rests on", &rests_on(&fact.needs));
            paper.item("handle", if fact.handle { HANDLE } else { "" });
        }
    }
    paper.heading(2, "Lists of words");
    for list in &vocabulary.words {
        let name = if list.ordered { format!("{} (in order)", list.name) } else { list.name.clone() };
        paper.heading(3, &name);
        for (word, meaning) in &list.words {
            paper.item(
                "",
                &if meaning.is_empty() { format!("`{word}`") } else { format!("`{word}`: {meaning}") },
            );
        }
    }
    paper.0
}

fn prefix(at: usize, kind: &str) -> String {
    if at == 0 { String::new() } else { format!("{kind}.") }
}
