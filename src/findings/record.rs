//! What a recorded review was made of, and what of that is not what it was.

use std::collections::BTreeSet;

use super::compare::account::{MadeOf, Program};

/// A book that a review was made with, file by file.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BookMade {
    /// Its name.
    pub name: String,
    /// Which edition.
    pub edition: String,
    /// Each of its files by its path in its folder, with the digest of its bytes.
    pub files: Vec<(String, String)>,
}

/// All that a review was made of.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Made {
    /// The program.
    pub program: Program,
    /// The day it was made for.
    pub day: Option<String>,
    /// The design, the shop file and the field notes.
    pub files: Vec<MadeOf>,
    /// The books that were used and those they stand on, by name.
    pub books: Vec<BookMade>,
}

/// How something is not what it was.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Now {
    /// It has other bytes.
    Otherwise,
    /// It is there and was not.
    Come,
    /// It was there and is not.
    Gone,
}

/// Something that a recorded review was made of and that is not what it was.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Moved {
    /// The record itself was changed after it was written.
    Record,
    /// A file: what it is, and its name.
    File(String, String, Now),
    /// A book as a whole.
    Book(String, Now),
    /// A file of a book: the book, and the file's path in its folder.
    BookFile(String, String, Now),
    /// The program: its versions.
    Program(String, String),
    /// The day of the review.
    Day(Option<String>, Option<String>),
}

/// What is not what it was: files first, then books, the program and the day.
#[must_use]
pub fn moved(was: &Made, is: &Made) -> Vec<Moved> {
    let mut found = files(&was.files, &is.files);
    found.extend(books(&was.books, &is.books));
    if was.program != is.program {
        found.push(Moved::Program(was.program.version.clone(), is.program.version.clone()));
    }
    if was.day != is.day {
        found.push(Moved::Day(was.day.clone(), is.day.clone()));
    }
    found
}

/// Files of one sort belong together by their bytes, whatever they are called, and the rest in their order.
fn files(was: &[MadeOf], is: &[MadeOf]) -> Vec<Moved> {
    let mut found = Vec::new();
    let roles: BTreeSet<&str> = was.iter().chain(is).map(|one| one.role.as_str()).collect();
    for role in roles {
        let of = |list: &'_ [MadeOf], others: &'_ [MadeOf]| -> Vec<MadeOf> {
            let same =
                |one: &MadeOf| others.iter().any(|other| other.role == role && other.digest == one.digest);
            list.iter().filter(|one| one.role == role && !same(one)).cloned().collect()
        };
        let (old, new) = (of(was, is), of(is, was));
        let both = old.len().min(new.len());
        let told = |list: &[MadeOf], how: Now| -> Vec<Moved> {
            list.iter().map(|one| Moved::File(one.role.clone(), one.name.clone(), how)).collect()
        };
        found.extend(told(new.get(..both).unwrap_or_default(), Now::Otherwise));
        found.extend(told(old.get(both..).unwrap_or_default(), Now::Gone));
        found.extend(told(new.get(both..).unwrap_or_default(), Now::Come));
    }
    found
}

fn books(was: &[BookMade], is: &[BookMade]) -> Vec<Moved> {
    let mut found = Vec::new();
    for new in is {
        let Some(old) = was.iter().find(|old| old.name == new.name) else {
            found.push(Moved::Book(new.name.clone(), Now::Come));
            continue;
        };
        let digest = |files: &[(String, String)], path: &str| {
            files.iter().find(|(own, _)| own == path).map(|(_, digest)| digest.clone())
        };
        let paths: BTreeSet<&String> = old.files.iter().chain(&new.files).map(|(path, _)| path).collect();
        for path in paths {
            let how = match (digest(&old.files, path), digest(&new.files, path)) {
                (Some(was), Some(is)) if was == is => continue,
                (Some(_), Some(_)) => Now::Otherwise,
                (Some(_), None) => Now::Gone,
                (None, _) => Now::Come,
            };
            found.push(Moved::BookFile(new.name.clone(), path.clone(), how));
        }
    }
    let gone = was.iter().filter(|old| !is.iter().any(|new| new.name == old.name));
    found.extend(gone.map(|old| Moved::Book(old.name.clone(), Now::Gone)));
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn file(role: &str, name: &str, digest: &str) -> MadeOf {
        MadeOf { role: role.into(), name: name.into(), digest: digest.into() }
    }

    #[test]
    fn a_file_under_another_name_is_the_same_and_other_bytes_are_told() {
        let was =
            Made { files: vec![file("design", "a", "1"), file("field notes", "n", "2")], ..Made::default() };
        let is =
            Made { files: vec![file("field notes", "m", "2"), file("design", "b", "1")], ..Made::default() };
        assert_eq!(moved(&was, &is), []);
        let is = Made { files: vec![file("design", "b", "3"), file("shop", "s", "4")], ..Made::default() };
        assert_eq!(
            moved(&was, &is),
            [
                Moved::File("design".into(), "b".into(), Now::Otherwise),
                Moved::File("field notes".into(), "n".into(), Now::Gone),
                Moved::File("shop".into(), "s".into(), Now::Come),
            ]
        );
    }

    #[test]
    fn each_file_of_a_book_is_told() {
        let book = |files: &[(&str, &str)]| BookMade {
            name: "town".into(),
            edition: "first".into(),
            files: files.iter().map(|(path, digest)| ((*path).to_owned(), (*digest).to_owned())).collect(),
        };
        let made = |book: BookMade| Made { books: vec![book], ..Made::default() };
        let was = made(book(&[("book.yaml", "1"), ("a.yaml", "2")]));
        let is = made(book(&[("book.yaml", "1"), ("a.yaml", "3"), ("b.yaml", "4")]));
        assert_eq!(
            moved(&was, &is),
            [
                Moved::BookFile("town".into(), "a.yaml".into(), Now::Otherwise),
                Moved::BookFile("town".into(), "b.yaml".into(), Now::Come),
            ]
        );
        assert_eq!(moved(&was, &Made::default()), [Moved::Book("town".into(), Now::Gone)]);
    }
}
