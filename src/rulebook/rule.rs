//! From the file of one rule to the rule, checked.

use crate::base::near::nearest;
use crate::base::number::Quantity;
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::{SourceId, Span};
use crate::base::vocabulary::Vocabulary;
use crate::yaml::scan;
use crate::yaml::tree::{NodeId, Tree};

use super::authors::{Authorship, Fields};
use super::checked::{
    Basis, CheckedRule, Citation, Each, Limit, LimitWords, Message, Obligation, Print, SourceDocument, Stage,
    Stops,
};
use super::corrections::corrections;
use super::expr::ast::Ast;
use super::expr::check::Checker;
use super::expr::parse::{parse, parse_each};
use super::expr::source_map::Texts;
use super::expr::typed::{Binding, Expr, LimitId};
use super::fields;
use super::keys;
use super::message;
use super::read::Reader;

/// What a rule is read against.
pub(super) struct Surroundings<'a> {
    /// The book that the rule belongs to.
    pub(super) book: &'a str,
    pub(super) vocabulary: &'a Vocabulary,
    pub(super) sources: &'a [SourceDocument],
}

/// Where the cases of a rule stand in its file, found without reading them: from the line that begins with
/// `cases:` to the end.
pub(super) fn find_cases(source: SourceId, text: &str) -> Option<Span> {
    let start = if text.starts_with("cases:") { Some(0) } else { text.find("\ncases:").map(|at| at + 1) };
    start.map(|start| Span::new(source, start, text.len()))
}

/// A key at the margin behind the line of the cases: cases come last.
fn key_after(text: &str, cases: Span) -> Option<Span> {
    let mut start = cases.start as usize;
    for (number, line) in text.get(cases.range()).unwrap_or("").split_inclusive('\n').enumerate() {
        let is_key = line.starts_with(|c: char| c.is_alphabetic() || matches!(c, '_' | '"' | '\''));
        if number > 0 && is_key {
            return Some(Span::new(cases.source, start, start + line.trim_end().len()));
        }
        start += line.len();
    }
    None
}

/// The tree of a file without its cases, where those stand, and what is wrong with it. The events of what stands before
/// the cases may have been written down; then no key stands behind them.
pub(super) fn head(source: SourceId, text: &str, noted: &[u8]) -> (Tree, Option<Span>, Vec<Problem>) {
    let cases_at = find_cases(source, text);
    let head = text.get(..cases_at.map_or(text.len(), |at| at.start as usize)).unwrap_or(text);
    let (tree, mut problems) = scan::read_noted(source, head, noted);
    if let Some(after) = cases_at.filter(|_| noted.is_empty()).and_then(|at| key_after(text, at)) {
        let problem = Problem::new(ProblemKind::BadRule, after)
            .found("a key stands behind `cases`")
            .accepts("`cases` as the last key of the file");
        problems.push(problem);
    }
    (tree, cases_at, problems)
}

/// Reads and checks the file of one rule. `name` is the file's name without its ending.
pub(super) fn load(
    (source, text, noted): (SourceId, &str, &[u8]),
    name: &str,
    around: &Surroundings<'_>,
) -> Result<CheckedRule, Vec<Problem>> {
    let (tree, cases_at, problems) = head(source, text, noted);
    let Some(root) = tree.root().filter(|_| problems.is_empty()) else { return Err(problems) };
    let texts = [(source, text)];
    let authors = Authorship {
        book: around.book.to_owned(),
        fields: Fields::written(around.book, fields::fields(&Reader::new(&tree, Texts(&texts)), root)),
        amendments: Vec::new(),
    };
    check(&tree, Texts(&texts), name, cases_at, authors, around)
}

/// Checks the tree of a rule, of which parts may stand in the files of amendments.
pub(super) fn check(
    tree: &Tree,
    texts: Texts<'_>,
    name: &str,
    cases_at: Option<Span>,
    authors: Authorship,
    around: &Surroundings<'_>,
) -> Result<CheckedRule, Vec<Problem>> {
    let mut reader = Reader::new(tree, texts);
    let Some(root) = tree.root() else { return Err(Vec::new()) };
    reader.record(root, keys::RULE, &"a rule");
    let rule = build(&mut reader, root, name, cases_at, authors, around);
    let mut problems = reader.problems;
    match rule {
        (Some(rule), more) if problems.is_empty() && more.is_empty() => Ok(rule),
        (_, more) => {
            problems.extend(more);
            Err(problems)
        }
    }
}

fn build(
    reader: &mut Reader<'_>,
    root: NodeId,
    name: &str,
    cases_at: Option<Span>,
    authors: Authorship,
    around: &Surroundings<'_>,
) -> (Option<CheckedRule>, Vec<Problem>) {
    name_of_file(reader, root, "rule", name, "the file");
    let (limits, unread) = limits(reader, root);
    let mut checker = Checker::new(around.vocabulary, reader.texts, &limits);
    unread.iter().for_each(|name| checker.unread(Some(name)));
    checker.limits_clash();
    let each = each(reader, root, &mut checker);
    let applies = truth(reader, root, "applies", &mut checker);
    let requires = truth(reader, root, "requires", &mut checker);
    let unmet = match reader.get(root, "unmet").and_then(|node| reader.written(node)) {
        Some(written) => message::read(written.text, &reader.map_of(&written), &mut checker),
        None => Message::default(),
    };
    let corrections = corrections(reader, root, each.as_ref(), &mut checker);
    limits_are_used(&limits, &unread, &mut checker);
    let source = citation(reader, root, around.sources);
    let (variables, problems) = (checker.variables, checker.problems);
    let Some(requires) = requires else { return (None, problems) };
    let rule = CheckedRule {
        name: reader.text(root, "rule"),
        title: reader.text(root, "title"),
        obligation: reader.word(root, "obligation", Obligation::WORDS).unwrap_or(Obligation::Shall),
        disputed: reader.yes(root, "disputed"),
        due: reader.word(root, "due", Stage::WORDS).unwrap_or(Stage::Design),
        subject: reader.text(root, "subject"),
        stops: reader.word(root, "stops", Stops::WORDS),
        source,
        interpretation: reader.text(root, "interpretation"),
        because: reader.text(root, "because"),
        note: reader.text(root, "note"),
        each,
        applies,
        limits,
        requires,
        unmet,
        corrections,
        cautions: reader.texts(root, "cautions"),
        variables,
        at: reader.span(root),
        cases_at,
        covered: None,
        authors,
        print: Print::default(),
    };
    (Some(rule), problems)
}

/// Reports a name that differs from the one its file or folder has.
pub(super) fn name_of_file(reader: &mut Reader<'_>, root: NodeId, key: &str, name: &str, of: &str) {
    let Some(node) = reader.get(root, key) else { return };
    let written = reader.text_of(node);
    if written != name {
        let problem = Problem::new(ProblemKind::NameDiffers, reader.span(node))
            .found(format!("`{written}`"))
            .accepts(format!("`{name}`, which is what {of} is called"));
        reader.problems.push(problem);
    }
}

/// The limits of a rule; and the names of those whose value, or whose words, could not be read.
fn limits(reader: &mut Reader<'_>, root: NodeId) -> (Vec<Limit>, Vec<String>) {
    let Some(node) = reader.get(root, "limits") else { return Default::default() };
    let tree = reader.tree;
    let mut limits = Vec::new();
    let mut unread = Vec::new();
    for pair in tree.pairs(node) {
        let fits = pair.key.starts_with(|c: char| c.is_ascii_lowercase())
            && pair.key.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_');
        if !fits {
            let found = format!("the limit `{}` has a name that no expression can hold", pair.key);
            reader.report(pair.key_span, found, "small letters, digits and `_`, as in `least_height`");
        }
        let value = reader.get(pair.value, "value").unwrap_or(pair.value);
        let Some(quantity) = quantity(reader, value, &pair.key) else {
            unread.push(pair.key.clone());
            continue;
        };
        let words = reader.word(pair.value, "words", LimitWords::WORDS);
        if words.is_none() && reader.get(pair.value, "words").is_some() {
            unread.push(pair.key.clone());
        }
        limits.push(Limit { name: pair.key.clone(), value: quantity, words, at: pair.key_span });
    }
    (limits, unread)
}

/// The quantity written as the value of a limit.
fn quantity(reader: &mut Reader<'_>, node: NodeId, name: &str) -> Option<Quantity> {
    let written = reader.written(node)?;
    match Quantity::parse_any(written.text) {
        Ok(quantity) => Some(quantity),
        Err(fault) => {
            let at = reader.map_of(&written).span(fault.at.start, fault.at.end);
            let text = written.text.trim();
            let bare = LimitWords::WORDS.iter().find_map(|(words, _)| text.strip_prefix(words));
            let accepts = match bare {
                Some(bare) => format!(
                    "the number alone, `{}`; how it is placed stands in the words of the limit",
                    bare.trim()
                ),
                None => fault.accepts,
            };
            let problem = Problem::new(ProblemKind::BadRule, at)
                .found(format!("the limit `{name}` is `{text}`"))
                .accepts(accepts)
                .nearest(fault.nearest);
            reader.problems.push(problem);
            None
        }
    }
}

/// The form of the expression under a key, if it could be read.
pub(super) fn expression(reader: &mut Reader<'_>, node: NodeId, checker: &mut Checker<'_>) -> Option<Ast> {
    let written = reader.written(node)?;
    let (ast, problems) = parse(written.text, &reader.map_of(&written));
    checker.problems.extend(problems);
    Some(ast)
}

fn truth(reader: &mut Reader<'_>, root: NodeId, key: &str, checker: &mut Checker<'_>) -> Option<Expr> {
    let node = reader.get(root, key)?;
    let ast = expression(reader, node, checker)?;
    checker.truth(&ast)
}

fn each(reader: &mut Reader<'_>, root: NodeId, checker: &mut Checker<'_>) -> Option<Each> {
    let written = reader.get(root, "each").and_then(|node| reader.written(node))?;
    let (each, problems) = parse_each(written.text, &reader.map_of(&written));
    checker.problems.extend(problems);
    let Some((word, things)) = each else {
        checker.unread(None);
        return None;
    };
    let things = checker.things(&things);
    let var = checker.bind(&word, things.as_ref().map(|(_, kind)| *kind));
    let (things, _) = things?;
    Some(Each { binding: Binding { var, things: Box::new(things) }, name: word.text })
}

/// Reports limits that nothing uses, and those that are compared without saying how the source places them.
fn limits_are_used(limits: &[Limit], unread: &[String], checker: &mut Checker<'_>) {
    for (at, limit) in limits.iter().enumerate() {
        let id = LimitId(u16::try_from(at).unwrap_or(u16::MAX));
        if !checker.used.contains(&id) {
            let problem = Problem::new(ProblemKind::UnusedLimit, limit.at)
                .found(format!("`{}`", limit.name))
                .accepts("limits that `applies`, `requires`, the message or a correction names");
            checker.problems.push(problem);
        }
        let compared = checker.compared.iter().find(|(compared, _)| *compared == id);
        if let (Some((_, place)), None) = (compared, limit.words)
            && !unread.contains(&limit.name)
        {
            let problem = Problem::new(ProblemKind::LimitWithoutWords, limit.at)
                .found(format!("`{}`", limit.name))
                .accepts(format!(
                    "`{}: {{value: …, words: at least}}`, or at most, more than, less than",
                    limit.name
                ))
                .also(*place, "compared here");
            checker.problems.push(problem);
        }
    }
}

fn citation(reader: &mut Reader<'_>, root: NodeId, sources: &[SourceDocument]) -> Citation {
    let basis = Basis::Memory;
    let Some(node) = reader.get(root, "source") else {
        return Citation { document: String::new(), section: String::new(), basis };
    };
    let document = reader.text(node, "document");
    if let Some(value) = reader.get(node, "document")
        && !sources.iter().any(|source| source.name == document)
    {
        let names = || sources.iter().map(|source| source.name.as_str());
        let problem = Problem::new(ProblemKind::BadRule, reader.span(value))
            .found(format!("`{document}` is no document among the book's sources"))
            .accepts(super::expr::quoted(names()))
            .nearest(nearest(&document, names()));
        reader.problems.push(problem);
    }
    Citation {
        document,
        section: reader.text(node, "section"),
        basis: reader.word(node, "basis", Basis::WORDS).unwrap_or(basis),
    }
}
