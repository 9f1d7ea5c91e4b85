//! Pages for paper and for a browser, as plain text with marks for headings and lists: the keys of a design file, what a
//! rule can speak of, a whole book. All three are made from the program and the books, and kept on file beside them.

pub mod book;
pub mod keys;
pub mod vocabulary;

use super::terminal::sheet::wrap;
use super::visible::one_line;

/// How wide the pages are.
const WIDTH: usize = 110;

/// A page being written.
#[derive(Debug, Default)]
struct Paper(String);

impl Paper {
    fn heading(&mut self, depth: usize, text: &str) {
        let gap = if self.0.is_empty() || self.0.ends_with("\n\n") { "" } else { "\n" };
        self.0.push_str(&format!("{gap}{} {}\n\n", "#".repeat(depth), one_line(text)));
    }

    fn paragraph(&mut self, text: &str) {
        for line in wrap(&one_line(text), WIDTH, WIDTH) {
            self.0.push_str(&format!("{line}\n"));
        }
    }

    /// An item of a list with a word in front; nothing when there is nothing to say.
    fn item(&mut self, label: &str, text: &str) {
        if text.trim().is_empty() {
            return;
        }
        let whole = one_line(text);
        let whole = if label.is_empty() { whole.into_owned() } else { format!("{label}: {whole}") };
        for (at, line) in wrap(&whole, WIDTH - 2, WIDTH - 2).iter().enumerate() {
            self.0.push_str(&format!("{} {line}\n", if at == 0 { "-" } else { " " }));
        }
    }

    /// A table; a bar in a cell would end it, so it is written as a stroke.
    fn table(&mut self, head: &[&str], rows: &[Vec<String>]) {
        let line = |cells: Vec<String>| format!("| {} |\n", cells.join(" | "));
        self.0.push_str(&line(head.iter().map(|cell| (*cell).to_owned()).collect()));
        self.0.push_str(&line(head.iter().map(|_| "---".to_owned()).collect()));
        for row in rows {
            self.0.push_str(&line(row.iter().map(|cell| one_line(cell).replace('|', "/")).collect()));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::Library;
    use crate::review::books::vocabulary;

    /// Every page on file is what the program makes now; one that is not is written anew, and the test fails.
    #[test]
    fn the_pages_on_file_are_made_from_the_program_and_the_books() {
        let library = Library::with(&[]);
        let mut pages = vec![
            ("schemas/design.md".to_owned(), keys::page()),
            ("rules/vocabulary.md".to_owned(), vocabulary::page(vocabulary())),
        ];
        let (books, faults) = library.all();
        assert!(faults.is_empty() && books.len() >= 3);
        for book in books {
            let text = book::page(book, vocabulary(), &library.sources);
            pages.push((format!("rules/{}/book.md", book.name), text));
        }
        let mut stale = Vec::new();
        for (path, wanted) in pages {
            let full = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(&path);
            if std::fs::read_to_string(&full).unwrap_or_default() != wanted {
                std::fs::write(&full, &wanted).unwrap();
                stale.push(path);
            }
        }
        assert!(
            stale.is_empty(),
            "these pages were stale and have been written anew; look at what changed and run again: {stale:?}"
        );
    }

    #[test]
    fn nothing_of_a_file_acts_on_a_page() {
        let mut paper = Paper::default();
        paper.heading(2, "a\u{1b}[31m\nb");
        paper.item("why", "red\u{202e}txt\n# not a heading");
        paper.table(&["a", "b"], &[vec!["one | two".to_owned(), "x\ny".to_owned()]]);
        assert_eq!(
            paper.0,
            "## a<U+001B>[31m b\n\n- why: red<U+202E>txt # not a heading\n| a | b |\n| --- | --- |\n\
             | one / two | x y |\n"
        );
    }
}
