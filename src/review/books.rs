//! The shelf of rulebooks: those carried inside the program, and those a person brings along. A book is read
//! and checked when it is first asked for, and kept.

use std::collections::BTreeSet;

use crate::base::hands;
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::{SourceId, Sources, Span};
use crate::base::vocabulary::Vocabulary;
use crate::rulebook::authors::Amendment;
use crate::rulebook::bookcase::Bookcase;
use crate::rulebook::checked::CheckedBook;

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

/// All the books at hand.
#[derive(Debug)]
pub struct Library {
    /// The texts of all books; the first two places are kept free for a design and a shop file.
    pub sources: Sources,
    /// What is wrong with the folders themselves.
    pub problems: Vec<Problem>,
    books: Bookcase,
    brought: BTreeSet<String>,
}

impl Library {
    /// The books carried inside the program, and these.
    #[must_use]
    pub fn with(brought: &[BookFile]) -> Self {
        let mut sources = Sources::new();
        sources.add("", "");
        sources.add("", "");
        let mut problems = Vec::new();
        let carried = CARRIED
            .iter()
            .map(|(path, text, noted)| {
                let inside = path.strip_prefix("rules/").unwrap_or(path);
                (sources.add_carried(path, text, NOTED.get(noted.clone()).unwrap_or(&[])), inside.to_owned())
            })
            .collect();
        let mut filed = Vec::new();
        for file in brought {
            match std::str::from_utf8(&file.bytes) {
                Ok(text) => filed.push((sources.add(file.shown.clone(), text), file.path.clone())),
                Err(_) => {
                    let id = sources.add(file.shown.clone(), "");
                    problems.push(Problem::new(ProblemKind::NotText, Span::new(id, 0, 0)));
                }
            }
        }
        let books = Bookcase::of(carried, filed, &sources);
        problems.extend(books.problems.iter().cloned());
        let brought =
            brought.iter().filter_map(|file| file.path.split('/').next()).map(str::to_owned).collect();
        Library { sources, problems, books, brought }
    }

    /// The names of the books, in order.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.books.names()
    }

    /// The names of the books that every review uses.
    pub fn always(&self) -> impl Iterator<Item = &str> {
        self.books.always()
    }

    /// Whether the book of this name was brought along.
    #[must_use]
    pub fn was_brought(&self, name: &str) -> bool {
        self.brought.contains(name)
    }

    /// The folder that was named for the book of this name to be brought along, as a person would write it.
    #[must_use]
    pub fn brought_from(&self, name: &str) -> Option<String> {
        let (id, path) = self.files(name).filter(|_| self.was_brought(name))?.first()?;
        let folder = self.sources.get(*id)?.name().strip_suffix(path.as_str())?.trim_end_matches(['/', '\\']);
        Some(match folder {
            "" => ".".to_owned(),
            spaced if spaced.contains(' ') => format!("\"{spaced}\""),
            plain => plain.to_owned(),
        })
    }

    /// The files of a book, each with its path, which begins with the book's name.
    #[must_use]
    pub fn files(&self, name: &str) -> Option<&[(SourceId, String)]> {
        self.books.files(name)
    }

    /// The book of this name, read and checked; or its faults.
    ///
    /// # Errors
    /// The faults of the book.
    #[must_use]
    pub fn book(&self, name: &str) -> Option<Result<&CheckedBook, &[Problem]>> {
        self.books.book(name, &self.sources, vocabulary())
    }

    /// The same as it counts on a day: what is decided only afterwards is not in it.
    ///
    /// # Errors
    /// The faults of the book.
    #[must_use]
    pub fn book_on(&self, name: &str, day: Option<&str>) -> Option<Result<&CheckedBook, &[Problem]>> {
        self.books.book_on(name, day, &self.sources, vocabulary())
    }

    /// The amendments of a book that are decided only after a day, those of the books it builds on with them.
    #[must_use]
    pub fn decided_after(&self, name: &str, day: &str) -> Vec<&Amendment> {
        let all = self.books.amendments(name, &self.sources, vocabulary()).into_iter().map(AsRef::as_ref);
        all.filter(|one: &&Amendment| one.decided.on.as_str() > day).collect()
    }

    /// Reads and checks these books beside each other, so that they are at hand when they are asked for.
    pub fn put_up(&self, names: &[&str]) {
        hands::each(names, || (), |(), name| self.book(name).is_some());
    }

    /// Every book that can be used, and the faults of the others.
    #[must_use]
    pub fn all(&self) -> (Vec<&CheckedBook>, Vec<&Problem>) {
        self.put_up(&self.names().collect::<Vec<_>>());
        let mut books = Vec::new();
        let mut faults: Vec<&Problem> = self.problems.iter().collect();
        for name in self.names() {
            match self.book(name) {
                Some(Ok(book)) => books.push(book),
                // A fault of a book is one of each book that builds on it too, and is told once.
                Some(Err(problems)) => {
                    for problem in problems {
                        if !faults.contains(&problem) {
                            faults.push(problem);
                        }
                    }
                }
                None => {}
            }
        }
        (books, faults)
    }
}

/// What a rule can speak of.
pub fn vocabulary() -> &'static Vocabulary {
    crate::facts::catalogue::vocabulary()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::yaml::noted::note;
    use crate::yaml::scan;

    #[test]
    fn what_was_written_down_of_a_book_when_the_program_was_built_is_what_its_text_says() {
        let library = Library::with(&[]);
        let carried = library.sources.iter().filter(|(_, source)| source.name().starts_with("rules/"));
        let mut files = 0;
        for (id, source) in carried {
            let (name, text, noted) = (source.name(), source.text(), source.noted());
            if name.split('/').nth(2) == Some("cases") {
                assert!(noted.is_empty(), "{name} is read only when a case asks for it");
                continue;
            }
            let cases = text.find("\ncases:").filter(|_| !name.ends_with("/book.yaml"));
            let head = &text[..cases.map_or(text.len(), |at| at + 1)];
            assert_eq!(note(head, 32).as_deref(), Some(noted), "{name}");
            let (tree, problems) = scan::read(id, head);
            assert_eq!(scan::read_noted(id, head, noted), (tree, problems), "{name}");
            files += 1;
        }
        assert!(files > 700);
    }
}
