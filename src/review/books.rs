//! The shelf of rulebooks: those carried inside the program, and those a person brings along. A book is read
//! and checked when it is first asked for, and kept.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::{SourceId, Sources, Span};
use crate::base::vocabulary::Vocabulary;
use crate::rulebook::checked::CheckedBook;
use crate::yaml::scan;

include!(concat!(env!("OUT_DIR"), "/carried_books.rs"));

/// The number under which every review keeps the text of its design.
pub const DESIGN: SourceId = SourceId(0);

/// The number under which every review keeps the text of its shop file.
pub const SHOP: SourceId = SourceId(1);

/// A file of a book that a person brings along.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BookFile {
    /// Its path in the folder of books, with `/` between folders; the first part is the book's name.
    pub path: String,
    /// The name to show it under.
    pub shown: String,
    /// What stands in it.
    pub bytes: Vec<u8>,
}

/// A book, read or not yet read.
#[derive(Debug)]
struct Shelved {
    name: String,
    files: Vec<(SourceId, String)>,
    always: bool,
    read: OnceLock<Result<CheckedBook, Vec<Problem>>>,
}

/// All the books at hand.
#[derive(Debug)]
pub struct Library {
    /// The texts of all books; the first two places are kept free for a design and a shop file.
    pub sources: Sources,
    /// What is wrong with the folders themselves.
    pub problems: Vec<Problem>,
    shelf: Vec<Shelved>,
}

impl Library {
    /// The books carried inside the program, and these.
    #[must_use]
    pub fn with(brought: &[BookFile]) -> Self {
        let mut library = Library { sources: Sources::new(), problems: Vec::new(), shelf: Vec::new() };
        library.sources.add("", "");
        library.sources.add("", "");
        let carried = CARRIED.iter().map(|(path, text)| (*path, format!("rules/{path}"), *text));
        library.shelve(carried, &[]);
        let own: Vec<String> = library.shelf.iter().map(|book| book.name.clone()).collect();
        let mut texts = Vec::new();
        for file in brought {
            match std::str::from_utf8(&file.bytes) {
                Ok(text) => texts.push((file.path.as_str(), file.shown.clone(), text)),
                Err(_) => {
                    let id = library.sources.add(file.shown.clone(), "");
                    library.problems.push(Problem::new(ProblemKind::NotText, Span::new(id, 0, 0)));
                }
            }
        }
        library.shelve(texts.into_iter(), &own);
        library
    }

    /// Puts files on the shelf, each into the book that its path names. Names that are taken are a fault.
    fn shelve<'a>(&mut self, files: impl Iterator<Item = (&'a str, String, &'a str)>, taken: &[String]) {
        let mut books: BTreeMap<&str, Vec<(SourceId, String)>> = BTreeMap::new();
        for (path, shown, text) in files {
            let Some((book, _)) = path.split_once('/') else { continue };
            let id = self.sources.add(shown, text);
            books.entry(book).or_default().push((id, path.to_owned()));
        }
        for (name, files) in books {
            let main = files.iter().find(|(_, path)| path.strip_prefix(name) == Some("/book.yaml"));
            let Some((main, _)) = main else { continue };
            if taken.iter().any(|one| one == name) {
                let problem = Problem::new(ProblemKind::NameClash, Span::new(*main, 0, 1))
                    .found(name)
                    .accepts("a name that no book carried inside the program has");
                self.problems.push(problem);
                continue;
            }
            let always = self.sources.get(*main).is_some_and(|source| is_always(*main, source.text()));
            self.shelf.push(Shelved { name: name.to_owned(), files, always, read: OnceLock::new() });
        }
    }

    /// The names of the books, in order.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.shelf.iter().map(|book| book.name.as_str())
    }

    /// The names of the books that every review uses.
    pub fn always(&self) -> impl Iterator<Item = &str> {
        self.shelf.iter().filter(|book| book.always).map(|book| book.name.as_str())
    }

    /// The book of this name, read and checked; or its faults.
    ///
    /// # Errors
    /// The faults of the book.
    #[must_use]
    pub fn book(&self, name: &str) -> Option<Result<&CheckedBook, &[Problem]>> {
        let shelved = self.shelf.iter().find(|book| book.name == name)?;
        let read = shelved.read.get_or_init(|| {
            let files: Vec<(SourceId, &str, &str)> = shelved
                .files
                .iter()
                .map(|(id, path)| {
                    (*id, path.as_str(), self.sources.get(*id).map_or("", |source| source.text()))
                })
                .collect();
            CheckedBook::load(&files, vocabulary())
        });
        Some(read.as_ref().map_err(Vec::as_slice))
    }

    /// Every book that can be used, and the faults of the others.
    #[must_use]
    pub fn all(&self) -> (Vec<&CheckedBook>, Vec<&Problem>) {
        let mut books = Vec::new();
        let mut faults: Vec<&Problem> = self.problems.iter().collect();
        for shelved in &self.shelf {
            match self.book(&shelved.name) {
                Some(Ok(book)) => books.push(book),
                Some(Err(problems)) => faults.extend(problems),
                None => {}
            }
        }
        (books, faults)
    }
}

/// Whether a `book.yaml` says that every review uses it.
fn is_always(id: SourceId, text: &str) -> bool {
    let (tree, _) = scan::read(id, text);
    let Some(root) = tree.root() else { return false };
    tree.get(root, "always")
        .and_then(|pair| tree.text(pair.value))
        .is_some_and(|text| matches!(text, "yes" | "true"))
}

/// What a rule can speak of.
pub fn vocabulary() -> &'static Vocabulary {
    crate::facts::catalogue::vocabulary()
}
