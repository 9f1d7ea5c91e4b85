//! The cases of a rule: examples with the verdict that must come out. They are read only when somebody asks
//! for them, so that a review does not pay for them.

use crate::base::near::nearest;
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::{Sources, Span};
use crate::yaml::scan;
use crate::yaml::tree::NodeId;

use super::authors::Amendment;
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
    /// The book in whose folder it stands.
    pub book: String,
}

/// Reads the cases of a rule from its file, and from those of its amendments: a case with the claim of an older
/// one takes its place.
///
/// # Errors
/// Every fault of the cases, each on its own place, if there is one.
pub fn cases(book: &CheckedBook, rule: &CheckedRule, texts: &Sources) -> Result<Vec<Case>, Vec<Problem>> {
    let mut problems = Vec::new();
    let mut all = Vec::new();
    if let Some(at) = rule.cases_at {
        let home = Home { book, rule, of: &rule.authors.book, older: &[], amends: false };
        match block(at, &home, texts) {
            Ok(own) => all = own,
            Err(more) => problems.extend(more),
        }
    }
    let mut said_by: Vec<(usize, &Amendment)> = Vec::new();
    for amendment in &rule.authors.amendments {
        let Some(at) = amendment.cases_at else { continue };
        let home = Home { book, rule, of: &amendment.book, older: &all, amends: true };
        match block(at, &home, texts) {
            Ok(own) => put(own, amendment, &mut all, &mut said_by, &mut problems),
            Err(more) => problems.extend(more),
        }
    }
    if problems.is_empty() { Ok(all) } else { Err(problems) }
}

/// Puts the cases of an amendment among the others. Two amendments of one rank cannot both have the last word.
fn put<'a>(
    own: Vec<Case>,
    amendment: &'a Amendment,
    all: &mut Vec<Case>,
    said_by: &mut Vec<(usize, &'a Amendment)>,
    problems: &mut Vec<Problem>,
) {
    for case in own {
        let older = all.iter().position(|one| one.claim == case.claim);
        let same_rank =
            older.and_then(|at| said_by.iter().find(|(of, by)| *of == at && by.book == amendment.book));
        if let (Some(at), Some(_)) = (older, same_rank) {
            let also = all.get(at).map_or(case.at, |one| one.at);
            problems.push(
                Problem::new(ProblemKind::BadRule, case.at)
                    .found(format!("`{}` is a case of this book already", case.claim))
                    .accepts("one case of a claim")
                    .also(also, "the other case of this claim"),
            );
            continue;
        }
        said_by.push((older.unwrap_or(all.len()), amendment));
        match older.and_then(|at| all.get_mut(at)) {
            Some(slot) => *slot = case,
            None => all.push(case),
        }
    }
}

/// What the cases of one file are read against.
struct Home<'a> {
    book: &'a CheckedBook,
    rule: &'a CheckedRule,
    /// The book in whose folder the file lies.
    of: &'a str,
    /// The cases that there are already.
    older: &'a [Case],
    /// Whether it is the file of an amendment.
    amends: bool,
}

/// Reads the cases of one file.
fn block(block: Span, home: &Home<'_>, texts: &Sources) -> Result<Vec<Case>, Vec<Problem>> {
    let text = texts.get(block.source).map_or("", |source| source.text());
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
    let keys = if home.amends { ONLY_AMENDED_CASES } else { ONLY_CASES };
    reader.record(root, keys, &"the cases of a rule");
    let mut found = Vec::new();
    for item in reader.get(root, "cases").map(|node| tree.items(node)).unwrap_or_default() {
        found.extend(read(&mut reader, *item, home));
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

const ONLY_AMENDED_CASES: &[keys::Key] = &[keys::Key {
    name: "cases",
    needed: true,
    shape: keys::Shape::Records(keys::AMENDED_CASE),
    meaning: "Examples of the rule as amended.",
}];

fn read(reader: &mut Reader<'_>, node: NodeId, home: &Home<'_>) -> Option<Case> {
    let Home { book, rule, of, older, .. } = *home;
    let from = reader.text(node, "from");
    if reader.get(node, "from").is_none() && home.amends {
        return read_anew(reader, node, older);
    }
    if let Some(at) = reader.get(node, "from").map(|value| reader.span(value))
        && book.base_design(&from, of).is_none()
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
        book: of.to_owned(),
    })
}

/// An older case with another verdict.
fn read_anew(reader: &mut Reader<'_>, node: NodeId, older: &[Case]) -> Option<Case> {
    let claim = reader.text(node, "claim");
    let at = reader.span(node);
    let Some(case) = older.iter().find(|case| case.claim == claim) else {
        let names = || older.iter().map(|case| case.claim.as_str());
        let problem = Problem::new(ProblemKind::BadRule, at)
            .found(format!("no case of the rule claims `{claim}`, and this one says no `from`"))
            .accepts("the claim of a case that the rule has, or a case with `from`")
            .nearest(nearest(&claim, names()));
        reader.problems.push(problem);
        return None;
    };
    for key in ["with", "missing", "at", "stage"] {
        if let Some(value) = reader.get(node, key) {
            let at = reader.span(value);
            reader.report(
                at,
                format!("`{key}` in a case without `from`"),
                "a case with `from`, or no more than `claim` and `verdict`",
            );
        }
    }
    let verdict = reader.word(node, "verdict", Outcome::WORDS)?;
    let verdict_at = reader.span(reader.get(node, "verdict")?);
    Some(Case { verdict, verdict_at, at, ..case.clone() })
}
