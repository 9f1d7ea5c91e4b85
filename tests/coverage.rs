//! Which rule carries which row of what the sources ask, and why none does: `rules/coverage.md`, made from the lists
//! under `tests/books/rows/` and the books. A row is one requirement of a source, by the section it stands in; the rows
//! were counted when the sources were read, and none may be dropped.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use serde::Deserialize;
use undercroft::review::Library;

/// So many rows were read in each list of sources.
const ROWS: [(&str, usize); 2] = [("us-government", 242), ("consensus-and-foreign", 297)];

/// What the lists of sources are called on the page.
const CALLED: [(&str, &str); 2] = [
    ("us-government", "Requirements of the United States: federal guidance, states, local rules"),
    ("consensus-and-foreign", "Consensus standards, model codes and other countries"),
];

/// A row of what a source asks.
#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
struct Row {
    row: Place,
    #[serde(default)]
    carried_by: Vec<String>,
    left_out: Option<String>,
}

/// Where a row stands.
#[derive(Deserialize, Debug)]
#[serde(deny_unknown_fields)]
struct Place {
    book: String,
    at: usize,
    part: String,
    section: String,
    #[serde(default)]
    subject: String,
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Every row, in the order of the lists of sources.
fn rows() -> Vec<Row> {
    let mut files: Vec<_> = std::fs::read_dir(root().join("tests/books/rows"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    files.sort();
    let mut rows: Vec<Row> = Vec::new();
    for file in &files {
        let text = std::fs::read_to_string(file).unwrap();
        let more: Vec<Row> =
            serde_yaml::from_str(&text).unwrap_or_else(|fault| panic!("{}: {fault}", file.display()));
        rows.extend(more);
    }
    let rank = |row: &Row| ROWS.iter().position(|(book, _)| *book == row.row.book);
    rows.sort_by_key(|row| (rank(row), row.row.at));
    rows
}

/// The rules of every book that comes with the program, as `book/rule`; those that a book only takes over stand under
/// the book they come from.
fn rules(library: &Library) -> BTreeSet<String> {
    let (books, faults) = library.all();
    assert!(faults.is_empty(), "{faults:#?}");
    let mut rules = BTreeSet::new();
    for book in books {
        rules.extend(book.rules.iter().map(|rule| format!("{}/{}", book.name, rule.name)));
    }
    rules
}

#[test]
fn every_row_is_there_once_and_says_what_carries_it_or_why_nothing_does() {
    let rows = rows();
    for (book, count) in ROWS {
        let places: BTreeSet<usize> =
            rows.iter().filter(|row| row.row.book == book).map(|row| row.row.at).collect();
        assert_eq!(places.len(), count, "rows of {book}");
    }
    assert_eq!(rows.len(), ROWS.iter().map(|(_, count)| count).sum::<usize>());
    let library = Library::with(&[]);
    let rules = rules(&library);
    let mut faults = Vec::new();
    for row in &rows {
        let name = format!("{} {} {}", row.row.part, row.row.section, row.row.subject);
        match (&row.left_out, row.carried_by.as_slice()) {
            (None, []) => faults.push(format!("{name}: neither carried nor left out")),
            (Some(why), []) if why.trim().len() < 12 => faults.push(format!("{name}: no reason: {why}")),
            (Some(_), []) => {}
            (None, named) => faults.extend(
                named
                    .iter()
                    .filter(|rule| !rules.contains(*rule))
                    .map(|rule| format!("{name}: no rule {rule}")),
            ),
            (Some(_), _) => faults.push(format!("{name}: carried and left out")),
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn the_page_of_rows_is_as_the_lists_and_the_books_say() {
    let (rows, library) = (rows(), Library::with(&[]));
    let page = page(&rows, &library);
    let path = root().join("rules/coverage.md");
    if std::fs::read_to_string(&path).unwrap_or_default() != page {
        std::fs::write(&path, &page).unwrap();
        panic!("{} was written anew; look at what changed", short(&path));
    }
}

fn short(path: &Path) -> String {
    path.strip_prefix(root()).unwrap().display().to_string()
}

fn page(rows: &[Row], library: &Library) -> String {
    let carried = rows.iter().filter(|row| row.left_out.is_none()).count();
    let mut page = String::from("# What the sources ask, row by row\n\n");
    let _ = writeln!(
        page,
        "Every requirement that was read in the sources, with the rules that carry it, or why none does. Made from the \
         lists under `tests/books/rows/`; a change is made there.\n\n{} rows: {carried} carried, {} left out.\n",
        rows.len(),
        rows.len() - carried
    );
    books(&mut page, library);
    crate::mending::table(&mut page, library);
    for (book, called) in CALLED {
        let _ = writeln!(page, "\n## {called}");
        let mut part = "";
        for row in rows.iter().filter(|row| row.row.book == book) {
            if row.row.part != part {
                part = &row.row.part;
                let _ = writeln!(
                    page,
                    "\n### {part}\n\n| Section | Subject | Carried by, or why not |\n|---|---|---|"
                );
            }
            let by = match &row.left_out {
                Some(why) => why.trim().replace('\n', " "),
                None => row.carried_by.iter().map(|rule| format!("`{rule}`")).collect::<Vec<_>>().join(", "),
            };
            let cell = |text: &str| text.replace('|', "/");
            let _ =
                writeln!(page, "| {} | {} | {} |", cell(&row.row.section), cell(&row.row.subject), cell(&by));
        }
    }
    let named: BTreeSet<&str> = rows.iter().flat_map(|row| &row.carried_by).map(String::as_str).collect();
    let (books, _) = library.all();
    let mut unnamed: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for book in books.iter().filter(|book| book.builds_on.is_empty()) {
        for rule in &book.rules {
            if !named.contains(format!("{}/{}", book.name, rule.name).as_str()) {
                unnamed.entry(&book.name).or_default().push(&rule.name);
            }
        }
    }
    page.push_str("\n## Rules that no row asks for\n\n");
    for (book, rules) in unnamed {
        let rules: Vec<String> = rules.iter().map(|rule| format!("`{rule}`")).collect();
        let _ = writeln!(page, "- {book}: {}", rules.join(", "));
    }
    page
}

/// The books in numbers.
fn books(page: &mut String, library: &Library) {
    page.push_str("| Book | What it is | Builds on | Requirements of its own | In force with those below |\n|---|---|---|---|---|\n");
    let (books, _) = library.all();
    for book in books {
        let below: BTreeSet<&str> = book.builds_on.iter().map(String::as_str).collect();
        let taken = |name: &str| {
            below.iter().any(|one| {
                library.book(one).and_then(Result::ok).is_some_and(|book| book.rule(name).is_some())
            })
        };
        let own = book.rules.iter().filter(|rule| !taken(&rule.name)).count();
        let _ = writeln!(
            page,
            "| `{}` | {} | {} | {own} | {} |",
            book.name,
            book.title.replace('|', "/"),
            book.builds_on.iter().map(|one| format!("`{one}`")).collect::<Vec<_>>().join(", "),
            book.rules.len()
        );
    }
}
