//! The cases of a rule: examples with the verdict that must come out. They are read only when somebody asks
//! for them, so that a review does not pay for them.

use crate::base::near::nearest;
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::Span;
use crate::yaml::scan;
use crate::yaml::tree::NodeId;

use super::checked::{CheckedBook, CheckedRule, Stage};
use super::expr::source_map::Texts;
use super::keys;
use super::read::Reader;

/// The verdict a case says must come out.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Outcome {
    /// The requirement is met.
    Met,
    /// It is not met.
    Unmet,
    /// It cannot be told.
    Undetermined,
    /// It is not asked here.
    NotApplicable,
    /// It can only be asked at a later stage.
    NotYetDue,
}

impl Outcome {
    /// Every one of them, with the words by which a case names it.
    pub const WORDS: &'static [(&'static str, Outcome)] = &[
        ("met", Outcome::Met),
        ("unmet", Outcome::Unmet),
        ("undetermined", Outcome::Undetermined),
        ("not applicable", Outcome::NotApplicable),
        ("not yet due", Outcome::NotYetDue),
    ];
}

/// An entry that a case lays over its base design.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Change {
    /// The path of the entry.
    pub path: String,
    /// The text that is to stand there, as it would be written in a design.
    pub text: String,
    /// Where it stands in the rule's file.
    pub at: Span,
}

/// An example of a rule.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Case {
    /// What it shows, as a sentence.
    pub claim: String,
    /// The design it starts from, by its name among the book's base designs.
    pub from: String,
    /// What is laid over that design, in the order written.
    pub with: Vec<Change>,
    /// Entries that are taken away, each with its place.
    pub missing: Vec<(String, Span)>,
    /// The thing the rule is asked of, by its name in the design.
    pub thing: Option<String>,
    /// The stage the design is at, if another than it says.
    pub stage: Option<Stage>,
    /// What must come out.
    pub verdict: Outcome,
    /// Where the case stands.
    pub at: Span,
    /// Where its verdict stands.
    pub verdict_at: Span,
}

/// Reads the cases of a rule. `text` is the whole file the rule was read from.
///
/// # Errors
/// Every fault of the cases, each on its own place, if there is one.
pub fn cases(book: &CheckedBook, rule: &CheckedRule, text: &str) -> Result<Vec<Case>, Vec<Problem>> {
    let Some(block) = rule.cases_at else { return Ok(Vec::new()) };
    let (before, after) = text.split_at_checked(block.start as usize).unwrap_or(("", text));
    // Spaces in place of what stands before keep every place as it is in the file.
    let blank: String = before
        .bytes()
        .map(|byte| if matches!(byte, b'\n' | b'\r') { char::from(byte) } else { ' ' })
        .collect();
    let only_cases = format!("{blank}{after}");
    let (tree, mut problems) = scan::read(block.source, &only_cases);
    let Some(root) = tree.root().filter(|_| problems.is_empty()) else { return Err(problems) };
    let texts = [(block.source, text)];
    let mut reader = Reader::new(&tree, Texts(&texts));
    reader.record(root, ONLY_CASES, "the cases of a rule");
    let mut found = Vec::new();
    for item in reader.get(root, "cases").map(|node| tree.items(node)).unwrap_or_default() {
        found.extend(read(&mut reader, *item, book, rule));
    }
    problems.extend(reader.problems);
    if problems.is_empty() { Ok(found) } else { Err(problems) }
}

const ONLY_CASES: &[keys::Key] = &[keys::Key {
    name: "cases",
    needed: true,
    shape: keys::Shape::Records(keys::CASE),
    meaning: "Examples with the verdict that must come out.",
}];

fn read(reader: &mut Reader<'_>, node: NodeId, book: &CheckedBook, rule: &CheckedRule) -> Option<Case> {
    let from = reader.text(node, "from");
    if let Some(at) = reader.get(node, "from").map(|value| reader.span(value))
        && !book.base_designs.iter().any(|design| design.name == from)
    {
        let names = || book.base_designs.iter().map(|design| design.name.as_str());
        let problem = Problem::new(ProblemKind::BadRule, at)
            .found(format!("`{from}` is no design in the book's `cases` folder"))
            .accepts(super::expr::quoted(names()))
            .nearest(nearest(&from, names()));
        reader.problems.push(problem);
    }
    let thing = reader.get(node, "at").map(|value| (reader.text_of(value), reader.span(value)));
    if let (Some((_, at)), None) = (&thing, &rule.each) {
        reader.report(
            *at,
            "a case names a thing, but the rule is asked once for the whole",
            "a case without `at`",
        );
    }
    let with = reader.get(node, "with").map(|with| reader.tree.pairs(with)).unwrap_or_default();
    let with = with.iter().map(|pair| {
        let at = reader.span(pair.value);
        let text = match reader.tree.text(pair.value) {
            Some(text) => text.to_owned(),
            None => reader.texts.slice(at).to_owned(),
        };
        Change { path: pair.key.clone(), text, at }
    });
    let with = with.collect();
    let missing = reader.get(node, "missing").map(|missing| {
        let items = reader.tree.items(missing);
        if items.is_empty() { vec![missing] } else { items.to_vec() }
    });
    let missing = missing.unwrap_or_default();
    Some(Case {
        claim: reader.text(node, "claim"),
        from,
        with,
        missing: missing.into_iter().map(|node| (reader.text_of(node), reader.span(node))).collect(),
        thing: thing.map(|(name, _)| name),
        stage: reader.word(node, "stage", Stage::WORDS),
        verdict: reader.word(node, "verdict", Outcome::WORDS)?,
        at: reader.span(node),
        verdict_at: reader.span(reader.get(node, "verdict")?),
    })
}
