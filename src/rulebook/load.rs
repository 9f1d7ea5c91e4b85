//! From the files of a book to the book, checked. It never half-succeeds: either every rule of it can be
//! used, or its faults are told and there are no verdicts by it.

use std::sync::Arc;

use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::{SourceId, Sources, Span};
use crate::base::vocabulary::Vocabulary;
use crate::yaml::scan;
use crate::yaml::tree::NodeId;

use super::amend::Patch;
use super::below;
use super::checked::{BaseDesign, Basis, CheckedBook, CheckedRule, Print, SourceDocument};
use super::expr::source_map::Texts;
use super::keys;
use super::read::{Reader, is_name};
use super::rule::{self, Surroundings};
use super::rules::Rules;
use super::scope;

/// A file of a book: its text, its path with `/` between folders, and what stands in it.
pub type BookFile<'a> = (SourceId, &'a str, &'a str);

/// The books that a book builds on, and the texts of all books.
#[derive(Clone, Copy, Debug)]
pub struct Below<'a> {
    /// The books, in the order in which the book names them.
    pub books: &'a [&'a CheckedBook],
    /// Designs of other books from which its cases may start.
    pub lent: &'a [BaseDesign],
    /// The texts of their files and of this book's.
    pub sources: &'a Sources,
    /// The day up to which an amendment of the book has to be decided to be taken; without one each is.
    pub until: Option<&'a str>,
}

impl Below<'_> {
    /// What was written down of a text, if it is the very one that is kept under this number.
    fn noted(&self, source: SourceId, text: &str) -> &'static [u8] {
        self.sources
            .get(source)
            .filter(|kept| std::ptr::eq(kept.text(), text))
            .map_or(&[], |kept| kept.noted())
    }
}

/// What a file is in its book, by where it lies.
enum Place<'a> {
    Book,
    Rule(&'a str),
    Amendment(&'a str),
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
        ["amendments", name] => Place::Amendment(name),
        [_, name] => Place::Rule(name),
        _ => Place::Elsewhere,
    }
}

impl CheckedBook {
    /// Reads and checks a book that builds on no other. See [`CheckedBook::load_on`].
    ///
    /// # Errors
    /// Every fault of the book, each on its own place, in the order of files and places.
    pub fn load(files: &[BookFile<'_>], vocabulary: &Vocabulary) -> Result<CheckedBook, Vec<Problem>> {
        CheckedBook::load_on(
            files,
            Below { books: &[], lent: &[], sources: &Sources::new(), until: None },
            vocabulary,
        )
    }

    /// Reads and checks a book from all its files: `<book>/book.yaml`, `<book>/<topic>/<rule>.yaml`,
    /// `<book>/amendments/<amendment>.yaml` and `<book>/cases/<design>.yaml`, in whatever order. It takes over
    /// the rules of the books below, as it amends them. Files that do not end in `.yaml` are passed over; base
    /// designs are only noted.
    ///
    /// # Errors
    /// Every fault of the book, each on its own place, in the order of files and places.
    pub fn load_on(
        files: &[BookFile<'_>],
        below: Below<'_>,
        vocabulary: &Vocabulary,
    ) -> Result<CheckedBook, Vec<Problem>> {
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
        let (mut book, covers_when, mut problems) = book((*source, text), name, below, vocabulary);
        problems.extend(below::take_documents(&mut book, below));
        let around = Surroundings { book: name, vocabulary, sources: &book.sources };
        let mut rules: Vec<CheckedRule> = Vec::new();
        let mut patches: Vec<Patch> = Vec::new();
        let mut base_designs = Vec::new();
        for (source, path, text) in files {
            let start = Span::new(*source, 0, 0);
            match place(root, path) {
                Place::Book | Place::Ignored => {}
                Place::Design(design) => {
                    base_designs.push(BaseDesign {
                        name: design.to_owned(),
                        book: name.to_owned(),
                        source: *source,
                    });
                }
                Place::Elsewhere => problems.push(
                    Problem::new(ProblemKind::BadRule, start)
                        .found(format!("`{path}` lies where no file of a rulebook belongs"))
                        .accepts(format!(
                            "`{root}book.yaml`, `{root}<topic>/<rule>.yaml`, \
                             `{root}amendments/<amendment>.yaml`, `{root}cases/<design>.yaml`"
                        )),
                ),
                Place::Amendment(amendment) => {
                    match super::amend::read(name, (*source, text, below.noted(*source, text)), amendment) {
                        Ok(patch)
                            if below.until.is_some_and(|day| patch.amendment.decided.on.as_str() > day) => {}
                        Ok(patch) => patches.push(patch),
                        Err(more) => problems.extend(more),
                    }
                }
                Place::Rule(rule) => {
                    match rule::load((*source, text, below.noted(*source, text)), rule, &around) {
                        Ok(rule) => rules.push(rule),
                        Err(more) => problems.extend(more),
                    }
                }
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
        let taken = below::take_rules(&rules, patches, below, &around);
        problems.extend(taken.problems);
        if !problems.is_empty() {
            problems.sort_by_key(|problem| (problem.at.source, problem.at.start, problem.at.end));
            return Err(problems);
        }
        let mut rules: Vec<Arc<CheckedRule>> = rules.into_iter().map(Arc::new).chain(taken.rules).collect();
        rules.sort_by(|a, b| a.name.cmp(&b.name));
        base_designs.extend(below::base_designs(below));
        base_designs.extend(below.lent.iter().cloned());
        let mut book = CheckedBook {
            rules: rules.into_iter().collect(),
            base_designs,
            withdrawn: taken.withdrawn,
            doubts: taken.doubts,
            ..book
        };
        let covers_when = covers_when.or_else(|| below::covers_when(below));
        scope::lay(&mut book, covers_when);
        Ok(book)
    }
}

/// Reads `book.yaml`; the rules come later. With it come what it covers, as an expression.
fn book(
    (source, text): (SourceId, &str),
    name: &str,
    below: Below<'_>,
    vocabulary: &Vocabulary,
) -> (CheckedBook, Option<scope::Covers>, Vec<Problem>) {
    let (tree, mut problems) = scan::read_noted(source, text, below.noted(source, text));
    let texts = [(source, text)];
    let mut reader = Reader::new(&tree, Texts(&texts));
    let root = tree.root().unwrap_or(NodeId(0));
    if tree.root().is_some() && problems.is_empty() {
        reader.record(root, keys::BOOK, &"a rulebook");
        rule::name_of_file(&mut reader, root, "book", name, "the folder");
        rule::name_of_file(&mut reader, root, "in_place_of", name, "the folder");
    }
    if !is_name(name) {
        let found = format!("the folder of the rulebook is called `{name}`");
        reader.report(Span::new(source, 0, 0), found, "a name in small letters, digits and hyphens");
    }
    let date = |key: &str| {
        let in_force = reader.get(root, "in_force")?;
        reader.get(in_force, key).map(|node| reader.text_of(node))
    };
    let (from, until) = (date("from"), date("until"));
    if let (Some(first), Some(last), Some(node)) = (&from, &until, reader.get(root, "in_force"))
        && last < first
    {
        let found = format!("`in_force` ends on `{last}`, before it begins on `{first}`");
        reader.report(reader.span(node), found, "a last day that is not before the first");
    }
    let builds_on = reader.texts(root, "builds_on");
    if let Some(node) = reader.get(root, "builds_on") {
        let there = |name: &String| below.books.iter().any(|book| book.name == *name);
        if let Some(missing) = builds_on.iter().find(|name| !there(name)) {
            let problem = Problem::new(ProblemKind::BookBelow, reader.span(node))
                .found(format!("`{missing}`, which is not at hand"));
            reader.problems.push(problem);
        }
    }
    let sources = reader.get(root, "sources").map(|node| tree.pairs(node)).unwrap_or_default();
    let sources = sources.iter().map(|pair| SourceDocument {
        name: pair.key.clone(),
        title: reader.text(pair.value, "title"),
        publisher: reader.text(pair.value, "publisher"),
        year: reader.text(pair.value, "year"),
        where_to_read: reader.text(pair.value, "read_at"),
        basis: reader.word(pair.value, "basis", Basis::WORDS).unwrap_or(Basis::Memory),
        at: pair.key_span,
    });
    let sources = sources.collect();
    let clauses = |list: &str, what: &str| -> Vec<(String, String)> {
        let items = reader.get(root, list).map(|node| tree.items(node)).unwrap_or_default();
        items.iter().map(|item| (reader.text(*item, "section"), reader.text(*item, what))).collect()
    };
    let book = CheckedBook {
        name: name.to_owned(),
        title: reader.text(root, "title"),
        publisher: reader.text(root, "publisher"),
        edition: reader.text(root, "edition"),
        from,
        until,
        legal_nature: reader.text(root, "legal_nature"),
        covers: reader.text(root, "covers"),
        covers_when: None,
        sources,
        left_to_the_eye: clauses("left_to_the_eye", "look_for"),
        not_held: clauses("not_held", "subject"),
        always: reader.yes(root, "always"),
        in_place: reader.get(root, "in_place_of").is_some(),
        base_designs: Vec::new(),
        builds_on,
        rules: Rules::default(),
        withdrawn: Vec::new(),
        doubts: Vec::new(),
        print: Print::default(),
        at: reader.span(root),
    };
    let covers_when = scope::read(&mut reader, root, vocabulary);
    problems.extend(reader.problems);
    (book, covers_when, problems)
}
