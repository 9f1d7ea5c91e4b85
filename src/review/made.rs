//! What a review was made of, byte by byte: its files, every file of every book that it used or that one of these
//! stands on, and the program.

use std::collections::BTreeSet;

use super::{DESIGN, Library, Review, SHOP};
use crate::base::digest::sha256_hex;
use crate::findings::compare::account::{MadeOf, Program};
use crate::findings::record::{BookMade, Made};

/// What this review was made of.
#[must_use]
pub fn made(review: &Review<'_>, library: &Library, program: &Program) -> Made {
    let name = |id| review.sources.get(id).map_or_else(String::new, |source| source.name().to_owned());
    let file = |role: &str, name: String, digest: &str| MadeOf {
        role: role.to_owned(),
        name,
        digest: format!("sha256:{digest}"),
    };
    let mut files = vec![file("design", name(DESIGN), &review.digests.design)];
    files.extend(review.digests.shop.iter().map(|digest| file("shop", name(SHOP), digest)));
    files.extend(
        review.digests.field_notes.iter().map(|(name, digest)| file("field notes", name.clone(), digest)),
    );
    Made { program: program.clone(), day: review.on.clone(), files, books: books(review, library) }
}

fn books(review: &Review<'_>, library: &Library) -> Vec<BookMade> {
    let mut names: BTreeSet<String> = review.used.iter().map(|used| used.book.name.clone()).collect();
    names.extend(review.silent.iter().map(|(name, _)| name.clone()));
    let mut open: Vec<String> = names.iter().cloned().collect();
    while let Some(name) = open.pop() {
        let Some(Ok(book)) = library.book(&name) else { continue };
        for below in &book.builds_on {
            if names.insert(below.clone()) {
                open.push(below.clone());
            }
        }
    }
    names
        .into_iter()
        .map(|name| {
            let edition = match library.book(&name) {
                Some(Ok(book)) => book.edition.clone(),
                _ => String::new(),
            };
            let mut files: Vec<(String, String)> = library
                .files(&name)
                .unwrap_or_default()
                .iter()
                .map(|(id, path)| {
                    let text = library.sources.get(*id).map_or("", |source| source.text());
                    let inside = path.strip_prefix(&format!("{name}/")).unwrap_or(path);
                    (inside.to_owned(), format!("sha256:{}", sha256_hex(text.as_bytes())))
                })
                .collect();
            files.sort();
            BookMade { name, edition, files }
        })
        .collect()
}

/// The same review with every file of a book that was brought along under its path in the folder of books: where that
/// folder lies is no part of what was reviewed.
#[must_use]
pub fn without_folders<'l>(review: &Review<'l>, library: &Library) -> Review<'l> {
    let mut review = review.clone();
    let names: Vec<String> =
        library.names().filter(|name| library.was_brought(name)).map(str::to_owned).collect();
    for (id, path) in names.iter().filter_map(|name| library.files(name)).flatten() {
        let text = review.sources.get(*id).map(|source| source.text().to_owned());
        if let Some(text) = text {
            review.sources.replace(*id, path.clone(), text);
        }
    }
    review
}
