//! From the files of a book to the book, checked. It never half-succeeds: either every rule of it can be
//! used, or its faults are told and there are no verdicts by it.

use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::{SourceId, Span};
use crate::base::vocabulary::Vocabulary;
use crate::yaml::scan;
use crate::yaml::tree::NodeId;

use super::checked::{BaseDesign, Basis, CheckedBook, CheckedRule, SourceDocument};
use super::expr::source_map::Texts;
use super::keys;
use super::meaning;
use super::read::{Reader, is_name};
use super::rule::{self, Surroundings};

/// A file of a book: its text, its path with `/` between folders, and what stands in it.
pub type BookFile<'a> = (SourceId, &'a str, &'a str);

/// What a file is in its book, by where it lies.
enum Place<'a> {
    Book,
    Rule(&'a str),
    Design(&'a str),
    Elsewhere,
    Ignored,
}

/// Where a file lies in the book whose folder is `root`.
fn place<'a>(root: &str, path: &'a str) -> Place<'a> {
    let Some(inside) = path.strip_prefix(root) else { return Place::Elsewhere };
    let Some(inside) = inside.strip_suffix(".yaml") else { return Place::Ignored };
    match inside.split('/').collect::<Vec<_>>().as_slice() {
        ["book"] => Place::Book,
        ["cases", name] => Place::Design(name),
        [_, name] => Place::Rule(name),
        _ => Place::Elsewhere,
    }
}

impl CheckedBook {
    /// Reads and checks a book from all its files: `<book>/book.yaml`, `<book>/<topic>/<rule>.yaml` and
    /// `<book>/cases/<design>.yaml`, in whatever order. Files that do not end in `.yaml` are passed over;
    /// base designs are only noted.
    ///
    /// # Errors
    /// Every fault of the book, each on its own place, in the order of files and places.
    pub fn load(files: &[BookFile<'_>], vocabulary: &Vocabulary) -> Result<CheckedBook, Vec<Problem>> {
        let first =
            files.first().map_or(Span::new(SourceId(0), 0, 0), |(source, ..)| Span::new(*source, 0, 0));
        let main = files.iter().find(|(_, path, _)| *path == "book.yaml" || path.ends_with("/book.yaml"));
        let Some((source, path, text)) = main else {
            let problem = Problem::new(ProblemKind::BadRule, first)
                .found("a rulebook without its file `book.yaml`")
                .accepts("`book.yaml` in the folder of the book");
            return Err(vec![problem]);
        };
        let root = path.strip_suffix("book.yaml").unwrap_or("");
        let name = root.trim_end_matches('/').rsplit('/').next().unwrap_or("");
        let (book, mut problems) = book(*source, name, text);
        let around = Surroundings { book: name, vocabulary, sources: &book.sources };
        let mut rules: Vec<CheckedRule> = Vec::new();
        let mut base_designs = Vec::new();
        for (source, path, text) in files {
            let start = Span::new(*source, 0, 0);
            match place(root, path) {
                Place::Book | Place::Ignored => {}
                Place::Design(name) => {
                    base_designs.push(BaseDesign { name: name.to_owned(), source: *source })
                }
                Place::Elsewhere => problems.push(
                    Problem::new(ProblemKind::BadRule, start)
                        .found(format!("`{path}` lies where no file of a rulebook belongs"))
                        .accepts(format!(
                            "`{root}book.yaml`, `{root}<topic>/<rule>.yaml`, `{root}cases/<design>.yaml`"
                        )),
                ),
                Place::Rule(name) => match rule::load(*source, name, text, &around) {
                    Ok(rule) => rules.push(rule),
                    Err(more) => problems.extend(more),
                },
            }
        }
        rules.sort_by(|a, b| a.name.cmp(&b.name));
        base_designs.sort_by(|a, b| a.name.cmp(&b.name));
        for (one, other) in rules.iter().zip(rules.iter().skip(1)) {
            if one.name == other.name {
                let problem = Problem::new(ProblemKind::NameClash, other.at)
                    .found(format!("`{}`", other.name))
                    .accepts("a name that no other rule of the book has")
                    .also(one.at, "the other rule of this name");
                problems.push(problem);
            }
        }
        if !problems.is_empty() {
            problems.sort_by_key(|problem| (problem.at.source, problem.at.start, problem.at.end));
            return Err(problems);
        }
        let mut book = CheckedBook { rules, base_designs, ..book };
        book.digest = meaning::digest(&book, vocabulary);
        Ok(book)
    }
}

/// Reads `book.yaml`; the rules come later.
fn book(source: SourceId, name: &str, text: &str) -> (CheckedBook, Vec<Problem>) {
    let (tree, mut problems) = scan::read(source, text);
    let texts = [(source, text)];
    let mut reader = Reader::new(&tree, Texts(&texts));
    let root = tree.root().unwrap_or(NodeId(0));
    if tree.root().is_some() && problems.is_empty() {
        reader.record(root, keys::BOOK, "a rulebook");
        rule::name_of_file(&mut reader, root, "book", name, "the folder");
    }
    if !is_name(name) {
        let found = format!("the folder of the rulebook is called `{name}`");
        reader.report(Span::new(source, 0, 0), found, "a name in small letters, digits and hyphens");
    }
    let date = |key: &str| {
        let in_force = reader.get(root, "in_force")?;
        reader.get(in_force, key).map(|node| reader.text_of(node))
    };
    let sources = reader.get(root, "sources").map(|node| tree.pairs(node)).unwrap_or_default();
    let sources = sources.iter().map(|pair| SourceDocument {
        name: pair.key.clone(),
        title: reader.text(pair.value, "title"),
        publisher: reader.text(pair.value, "publisher"),
        year: reader.text(pair.value, "year"),
        where_to_read: reader.text(pair.value, "read_at"),
        basis: reader.word(pair.value, "basis", Basis::WORDS).unwrap_or(Basis::Memory),
    });
    let clauses = |list: &str, what: &str| -> Vec<(String, String)> {
        let items = reader.get(root, list).map(|node| tree.items(node)).unwrap_or_default();
        items.iter().map(|item| (reader.text(*item, "section"), reader.text(*item, what))).collect()
    };
    let book = CheckedBook {
        name: name.to_owned(),
        title: reader.text(root, "title"),
        publisher: reader.text(root, "publisher"),
        edition: reader.text(root, "edition"),
        from: date("from"),
        until: date("until"),
        legal_nature: reader.text(root, "legal_nature"),
        covers: reader.text(root, "covers"),
        sources: sources.collect(),
        left_to_the_eye: clauses("left_to_the_eye", "look_for"),
        not_held: clauses("not_held", "subject"),
        always: reader.yes(root, "always"),
        base_designs: Vec::new(),
        builds_on: Vec::new(),
        withdrawn: Vec::new(),
        rules: Vec::new(),
        digest: String::new(),
        at: reader.span(root),
    };
    problems.extend(reader.problems);
    (book, problems)
}
