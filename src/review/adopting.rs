//! One design reviewed under a book and under the one that would take its place, before anybody adopts it.

use super::books::{BookFile, Library};
use super::run::review;
use super::{Input, Review};
use crate::base::problem::Problem;
use crate::findings::Standing;
use crate::yaml::splice::lay_over;

/// A local book that builds on the first book.
#[derive(Clone, Debug)]
pub struct Town {
    /// Its name.
    pub book: String,
    /// How many requirements it changes or withdraws.
    pub changes: usize,
    /// What keeps its changes from fitting the second book.
    pub faults: Vec<Problem>,
}

/// One design under the one book and under the other.
#[derive(Debug)]
pub struct Adopted<'l> {
    /// Under the first.
    pub old: Review<'l>,
    /// Under the second.
    pub new: Review<'l>,
    /// How the book stands in the design, in words.
    pub stands: String,
    /// The local books named there that build on the first.
    pub towns: Vec<Town>,
}

/// Whether a book builds on another, be it by way of further ones.
fn rests(library: &Library, book: &str, on: &str) -> bool {
    let below = library.book(book).and_then(Result::ok).map(|book| book.builds_on.as_slice());
    below.into_iter().flatten().any(|below| below == on || rests(library, below, on))
}

/// Whether a book stands between the two or over the second, where the second builds on the first: it holds what they have in
/// common already, and is not made to build on anything else.
fn in_line(library: &Library, book: &str, (old, new): (&str, &str)) -> bool {
    rests(library, new, old)
        && (book == new
            || rests(library, book, new)
            || rests(library, new, book) && rests(library, book, old))
}

/// The books that were brought along, with those that build on the first book made to build on the second, but for the second
/// itself and what it stands on. The texts of their amendments stay as they are but for the book that they name.
#[must_use]
pub fn rebased(files: &[BookFile], library: &Library, old: &str, new: &str) -> Library {
    let builds = |name: &str| {
        let book = library.book(name).and_then(Result::ok);
        book.filter(|book| book.builds_on.iter().any(|b| b == old) && !in_line(library, name, (old, new)))
    };
    let moved = files.iter().map(|file| {
        let mut parts = file.path.split('/');
        let (Some(name), Some(inside)) = (parts.next(), parts.next()) else { return file.clone() };
        let (Some(book), Ok(text)) = (builds(name), std::str::from_utf8(&file.bytes)) else {
            return file.clone();
        };
        let turned = if inside == "book.yaml" {
            let below: Vec<&str> =
                book.builds_on.iter().map(|below| if below == old { new } else { below.as_str() }).collect();
            let value = match below.as_slice() {
                [one] => (*one).to_owned(),
                several => format!("[{}]", several.join(", ")),
            };
            lay_over(text, &[("builds_on", &value)], &[]).ok()
        } else if inside == "amendments" {
            amended(text, old)
                .and_then(|rule| lay_over(text, &[("amend", &format!("{new}/{rule}"))], &[]).ok())
        } else {
            None
        };
        match turned {
            Some(text) => BookFile { bytes: text.into_bytes(), ..file.clone() },
            None => file.clone(),
        }
    });
    Library::with(&moved.collect::<Vec<_>>())
}

/// The rule that an amendment changes, if it is one of this book.
fn amended<'t>(text: &'t str, book: &str) -> Option<&'t str> {
    let line = text.lines().find_map(|line| line.strip_prefix("amend:"))?;
    let named = line.split(" #").next()?.trim().trim_matches(['"', '\'']);
    named.strip_prefix(book)?.strip_prefix('/')
}

/// Reviews a design under both. Where it names neither book, nor one that builds on the first, each is taken as adopted.
#[must_use]
pub fn adopt<'l>(
    input: &Input<'_>,
    (old, new): (&str, &str),
    library: &'l Library,
    rebased: &'l Library,
) -> Adopted<'l> {
    let stated = review(input, library);
    let inside = |name: &str| name == old || name == new || in_line(library, name, (old, new));
    let builds = |name: &str| {
        let book = library.book(name).and_then(Result::ok)?;
        (!inside(name) && rests(library, name, old)).then_some(book)
    };
    let named: Vec<(&str, Standing)> = stated
        .used
        .iter()
        .filter(|used| used.standing != Standing::Always)
        .map(|used| (used.book.name.as_str(), used.standing))
        .collect();
    let towns = named.iter().filter_map(|(name, _)| builds(name)).map(|book| Town {
        book: book.name.clone(),
        changes: book.withdrawn.len()
            + book.rules.iter().filter(|rule| rule.authors.amended().next().is_some()).count(),
        faults: match rebased.book(&book.name) {
            Some(Err(faults)) => faults.to_vec(),
            _ => Vec::new(),
        },
    });
    let towns: Vec<Town> = towns.collect();
    let of = |name: &str| named.iter().copied().find(|(own, _)| *own == name);
    let counts = of(old).or_else(|| of(new)).or_else(|| named.iter().copied().find(|(own, _)| inside(own)));
    let standing = counts.map(|(_, standing)| standing);
    let stands = match (counts, towns.first()) {
        (_, Some(town)) => format!("{} stands here by way of {}, which builds on it.", old, town.book),
        (Some((name, standing)), None) if name == old || name == new => {
            format!("The one that it names counts here as it says: {}.", word(standing))
        }
        (Some((name, standing)), None) => format!(
            "It names {name}, which builds on {old}; each of the two is taken in its place, as it counts there: {}.",
            word(standing)
        ),
        (None, None) => {
            "It names neither of the two; each was taken as adopted for this comparison.".to_owned()
        }
    };
    let taken = standing.unwrap_or(Standing::Adopted);
    let with = |book: &str| -> String {
        let mut books: Vec<String> = named
            .iter()
            .filter(|(name, _)| !inside(name))
            .map(|(name, standing)| format!("{name}: {}", word(*standing)))
            .collect();
        if towns.is_empty() {
            books.push(format!("{book}: {}", word(taken)));
        }
        format!("{{{}}}", books.join(", "))
    };
    let text = String::from_utf8_lossy(input.bytes);
    let under = |book: &str, library: &'l Library| {
        let text =
            lay_over(&text, &[("job.rulebooks", &with(book))], &[]).unwrap_or_else(|_| text.to_string());
        review(&Input { bytes: text.as_bytes(), ..input.clone() }, library)
    };
    Adopted { old: under(old, library), new: under(new, rebased), stands, towns }
}

fn word(standing: Standing) -> &'static str {
    match standing {
        Standing::Always | Standing::Adopted => "adopted",
        Standing::ByContract => "by contract",
        // What a design names is never withheld; only its clauses are.
        Standing::Withheld | Standing::ForInformation => "for information",
    }
}
