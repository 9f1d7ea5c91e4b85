//! Amendments: read, held against the rule they change, and laid over it.
//!
//! The tree of the rule takes over the values of the amendment, so that the amended rule is checked like any
//! other and each part of it still stands where its author wrote it.

use std::sync::Arc;

use crate::base::near::nearest;
use crate::base::number::Quantity;
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::{SourceId, Sources, Span};
use crate::yaml::tree::{Node, NodeId, NodeKind, Pair, Tree};

use super::authors::{Amendment, Author, Authorship, Decision, FieldChange};
use super::checked::CheckedRule;
use super::expr::described_number;
use super::expr::source_map::Texts;
use super::keys;
use super::limit_words::words_alone;
use super::read::Reader;
use super::rule::{self, Surroundings};

/// The fields that an amendment can change, limits aside, each with whether it may be absent.
const FIELDS: &[(&str, bool)] = &[
    ("title", false),
    ("obligation", false),
    ("disputed", true),
    ("due", false),
    ("stops", true),
    ("source.document", false),
    ("source.section", true),
    ("source.basis", false),
    ("interpretation", true),
    ("because", false),
    ("note", true),
    ("applies", true),
    ("requires", false),
    ("unmet", false),
];

/// So many digits of a fingerprint have to be written at least.
const DIGITS: usize = 12;

/// An amendment with the tree of its file.
pub(super) struct Patch {
    pub(super) amendment: Amendment,
    tree: Tree,
    /// Where it says that the rule is withdrawn.
    withdraw_at: Option<Span>,
    /// Where it says which rule it was written against.
    against_at: Span,
    /// Where it names the rule.
    pub(super) names_at: Span,
}

/// What comes of a rule under the amendments of one book.
pub(super) enum Amended {
    /// It is in force with what they change.
    Changed(Arc<CheckedRule>),
    /// It is no longer in force.
    Withdrawn(Arc<Amendment>),
}

/// Reads the file of an amendment. `name` is the file's name without its ending.
pub(super) fn read(
    book: &str,
    (source, text, noted): (SourceId, &str, &[u8]),
    name: &str,
) -> Result<Patch, Vec<Problem>> {
    let (tree, cases_at, problems) = rule::head(source, text, noted);
    let Some(root) = tree.root().filter(|_| problems.is_empty()) else { return Err(problems) };
    let texts = [(source, text)];
    let mut reader = Reader::new(&tree, Texts(&texts));
    reader.record(root, keys::AMENDMENT, &"an amendment");
    let place = |reader: &Reader<'_>, key: &str| {
        reader.get(root, key).map_or_else(|| reader.span(root), |node| reader.span(node))
    };
    let target = reader.text(root, "amend");
    let names_at = place(&reader, "amend");
    let (of_book, of_rule) = target.split_once('/').unwrap_or(("", ""));
    if !target.is_empty() && (of_rule.is_empty() || of_rule.contains('/')) {
        let found = format!("`amend` is `{target}`");
        reader.report(names_at, found, "a book and a rule of it, such as `parks/hedge-clear-of-path`");
    }
    let written_against = reader.text(root, "written_against");
    let against_at = place(&reader, "written_against");
    let digits = written_against.strip_prefix("r-").unwrap_or("");
    if !written_against.is_empty()
        && (digits.len() < DIGITS || !digits.bytes().all(|byte| byte.is_ascii_hexdigit()))
    {
        let found = format!("`written_against` is `{written_against}`");
        let accepts = format!(
            "the fingerprint of the rule, `r-` and at least {DIGITS} of its digits, as `clause` shows it"
        );
        reader.report(against_at, found, accepts);
    }
    let withdraws = reader.yes(root, "withdraw");
    let withdraw_at = withdraws.then(|| place(&reader, "withdraw"));
    if let (true, Some(at)) = (withdraws, cases_at) {
        let at = Span::new(source, at.start as usize, at.start as usize + "cases".len());
        reader.report(at, "cases of a rule that is withdrawn", "an amendment without `cases`");
    }
    let pairs = reader.get(root, "change").map(|node| tree.pairs(node)).unwrap_or_default();
    let value = |node: NodeId, key: &str| Some(reader.text(node, key)).filter(|text| text != "none");
    let changes = pairs.iter().map(|pair| FieldChange {
        field: pair.key.clone(),
        was: value(pair.value, "was"),
        to: value(pair.value, "to"),
        at: pair.key_span,
        to_at: reader.get(pair.value, "to").map_or(pair.key_span, |node| reader.span(node)),
    });
    let changes = changes.collect();
    let decided = reader.get(root, "decided");
    let decision = |key: &str| decided.map(|node| reader.text(node, key)).unwrap_or_default();
    let amendment = Amendment {
        book: book.to_owned(),
        name: name.to_owned(),
        of_book: of_book.to_owned(),
        of_rule: of_rule.to_owned(),
        written_against,
        changes,
        withdraws,
        because: reader.text(root, "because"),
        decided: Decision { by: decision("by"), document: decision("document"), on: decision("on") },
        at: reader.span(root),
        cases_at,
    };
    if !reader.problems.is_empty() {
        return Err(reader.problems);
    }
    Ok(Patch { amendment, tree, withdraw_at, against_at, names_at })
}

/// Lays the amendments of one book over a rule of a book below. Doubts come beside the result; with a fault
/// there is no rule at all, and never the unamended one.
pub(super) fn amend(
    base: &Arc<CheckedRule>,
    patches: Vec<Patch>,
    sources: &Sources,
    around: &Surroundings<'_>,
    doubts: &mut Vec<Problem>,
) -> Result<Amended, Vec<Problem>> {
    let moved: Vec<Problem> = patches.iter().filter_map(|patch| moved(base, patch, around)).collect();
    if !moved.is_empty() {
        return Err(moved);
    }
    if let Some(first) = patches.iter().find(|patch| patch.amendment.withdraws) {
        return withdraw(first, &patches, doubts);
    }
    let ids = std::iter::once(base.at.source)
        .chain(base.authors.amendments.iter().map(|amendment| amendment.at.source))
        .chain(patches.iter().map(|patch| patch.amendment.at.source));
    let texts: Vec<(SourceId, &str)> =
        ids.map(|id| (id, sources.get(id).map_or("", |source| source.text()))).collect();
    let desk = Desk { base, texts: Texts(&texts), around, tree: tree_as_amended(base, Texts(&texts)) };
    let mut problems = Vec::new();
    let mut taken: Vec<(usize, FieldChange)> = Vec::new();
    for (number, patch) in patches.iter().enumerate() {
        if patch.amendment.changes.is_empty() {
            let found = "nothing stands under `change`, and the rule is not withdrawn";
            doubts.push(idle(patch.names_at, found, base.at, "the rule, as it stands"));
        }
        for change in &patch.amendment.changes {
            match desk.hold(change, patch) {
                Err(problem) => problems.push(problem),
                Ok(Some(doubt)) => doubts.push(doubt),
                Ok(None) => match taken.iter().find(|(_, other)| other.field == change.field) {
                    None => taken.push((number, change.clone())),
                    Some((_, other)) => match desk.agree(change, other) {
                        Some(doubt) => doubts.push(doubt),
                        None => problems.push(
                            Problem::new(ProblemKind::AmendmentsDisagree, change.to_at)
                                .found(format!("`{}` is to be {}", change.field, said(change.to.as_deref())))
                                .accepts("one amendment of this field, in one of the two files")
                                .also(other.to_at, format!("is to be {}", said(other.to.as_deref()))),
                        ),
                    },
                },
            }
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    if taken.is_empty() && patches.iter().all(|patch| patch.amendment.cases_at.is_none()) {
        return Ok(Amended::Changed(Arc::clone(base)));
    }
    desk.lay(patches, taken).map(|rule| Amended::Changed(Arc::new(rule)))
}

/// What is told when the rule is no longer the one that its amendment was written against.
fn moved(base: &CheckedRule, patch: &Patch, around: &Surroundings<'_>) -> Option<Problem> {
    let Amendment { of_book, of_rule, written_against, changes, .. } = &patch.amendment;
    let fingerprint = base.fingerprint(around.vocabulary);
    if fingerprint.starts_with(written_against.as_str()) {
        return None;
    }
    let mut problem = Problem::new(ProblemKind::BaseMoved, patch.against_at)
        .accepts(format!("`written_against: {fingerprint}`, with the values that stand in the rule now"));
    let mut differ = Vec::new();
    for change in changes {
        let now = standing(base, &change.field);
        let text = now.map(|author| author.text.as_str());
        if text.map(squeezed) != change.was.as_deref().map(squeezed) {
            let was = said(change.was.as_deref());
            differ.push(format!("`{}` was {was} and is {}", change.field, said(text)));
            if let Some(author) = now {
                problem = problem.also(author.at, "as it stands now");
            }
        }
    }
    if differ.is_empty() {
        problem = problem.also(base.at, "the rule as it stands now");
        differ
            .push("the fields of this amendment stand as they did, but something else of it changed".into());
    }
    Some(problem.found(format!("`{of_book}/{of_rule}`, {}", differ.join("; "))))
}

fn withdraw(first: &Patch, patches: &[Patch], doubts: &mut Vec<Problem>) -> Result<Amended, Vec<Problem>> {
    let place = |patch: &Patch| patch.withdraw_at.unwrap_or(patch.names_at);
    let changed = patches.iter().flat_map(|patch| &patch.amendment.changes);
    let problems: Vec<Problem> = changed
        .map(|change| {
            Problem::new(ProblemKind::WithdrawnAndChanged, change.at)
                .found(format!("`{}`", change.field))
                .accepts("either `withdraw: yes` or `change`")
                .also(place(first), "withdrawn here")
        })
        .collect();
    if !problems.is_empty() {
        return Err(problems);
    }
    let again = patches.iter().filter(|patch| patch.withdraw_at.is_some()).skip(1);
    doubts
        .extend(again.map(|patch| {
            idle(place(patch), "the rule is withdrawn already", place(first), "withdrawn here")
        }));
    Ok(Amended::Withdrawn(Arc::new(first.amendment.clone())))
}

fn idle(at: Span, found: &str, other: Span, what: &str) -> Problem {
    Problem::new(ProblemKind::ChangesNothing, at).found(found).also(other, what)
}

/// The author of a field that is there.
fn standing<'a>(rule: &'a CheckedRule, field: &str) -> Option<&'a Author> {
    rule.authors.fields.get(field).filter(|author| !author.text.is_empty())
}

/// The same words whatever the lines they were written on.
fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn said(text: Option<&str>) -> String {
    text.map_or_else(|| "not there".to_owned(), |text| format!("`{}`", squeezed(text)))
}

/// The limit that a field belongs to, and whether the field is its words.
fn limit(field: &str) -> Option<(&str, bool)> {
    let name = field.strip_prefix("limits.")?;
    match name.strip_suffix(".words") {
        Some(name) => Some((name, true)),
        None => Some((name, false)),
    }
}

/// A rule on the desk, with what is needed to hold a change against it.
struct Desk<'a> {
    base: &'a CheckedRule,
    texts: Texts<'a>,
    around: &'a Surroundings<'a>,
    /// The rule's tree with the amendments of the books below laid over it.
    tree: Tree,
}

impl Desk<'_> {
    /// Holds one change against the rule: a doubt when it changes nothing.
    fn hold(&self, change: &FieldChange, patch: &Patch) -> Result<Option<Problem>, Problem> {
        self.is_field(change)?;
        let now = standing(self.base, &change.field);
        if !self.same(change.was.as_deref(), now, &change.field, patch, "was") {
            let mut problem = Problem::new(ProblemKind::WasDiffers, change.at)
                .found(format!(
                    "`{}` was {} says the amendment, and it is {}",
                    change.field,
                    said(change.was.as_deref()),
                    said(now.map(|author| author.text.as_str()))
                ))
                .accepts(match now {
                    Some(author) => format!("`was: {}`", squeezed(&author.text)),
                    None => "`was: none`".to_owned(),
                });
            problem = problem.also(now.map_or(self.base.at, |author| author.at), "as it stands");
            return Err(problem);
        }
        if self.same(change.to.as_deref(), now, &change.field, patch, "to") {
            let found = format!("`{}` is {} already", change.field, said(change.to.as_deref()));
            let at = now.map_or(self.base.at, |author| author.at);
            return Ok(Some(idle(change.to_at, &found, at, "as it stands")));
        }
        if let (Some(to), Some(author)) = (&change.to, now)
            && let (Ok(to), Ok(from)) = (Quantity::parse_any(to), Quantity::parse_any(&author.text))
            && limit(&change.field).is_some_and(|(_, words)| !words)
            && to.dimension != from.dimension
        {
            return Err(Problem::new(ProblemKind::KindsDiffer, change.to_at)
                .found(format!(
                    "`{}` is to be {}, {}",
                    change.field,
                    said(change.to.as_deref()),
                    described_number(to.dimension)
                ))
                .accepts(format!("{}, as `{}` is", described_number(from.dimension), squeezed(&author.text)))
                .also(author.at, "what stands there now"));
        }
        Ok(None)
    }

    /// Whether there is such a field, or may be one.
    fn is_field(&self, change: &FieldChange) -> Result<(), Problem> {
        let field = change.field.as_str();
        let there = standing(self.base, field).is_some();
        let optional = match limit(field) {
            Some(_) if there || change.was.is_none() => Some(true),
            Some(_) => None,
            None => FIELDS.iter().find(|(name, _)| *name == field).map(|(_, optional)| *optional),
        };
        let Some(optional) = optional else {
            let limits = self.base.authors.fields.keys().filter(|name| limit(name).is_some());
            let names = || FIELDS.iter().map(|(name, _)| *name).chain(limits.clone().map(String::as_str));
            let accepts = super::expr::quoted(names());
            return Err(Problem::new(ProblemKind::AmendsNothing, change.at)
                .found(format!("`{field}`, which is no field of `{}` that can be changed", self.base.name))
                .accepts(accepts)
                .nearest(nearest(field, names()))
                .also(self.base.at, "the rule"));
        };
        if change.to.is_none() && !optional {
            return Err(Problem::new(ProblemKind::BadRule, change.to_at)
                .found(format!("`{field}` is to go, and no rule can be without it"))
                .accepts("another value, or an amendment with `withdraw: yes`"));
        }
        Ok(())
    }

    /// Whether what an amendment says of a field means the same as what stands there.
    fn same(&self, text: Option<&str>, now: Option<&Author>, field: &str, patch: &Patch, key: &str) -> bool {
        let (text, now) = match (text, now) {
            (None, None) => return true,
            (Some("no" | "false"), None) if field == "disputed" => return true,
            (Some(text), Some(author)) => (squeezed(text), squeezed(&author.text)),
            _ => return false,
        };
        if text == now {
            return true;
        }
        match (limit(field), field) {
            (Some((_, false)), _) => match (Quantity::parse_any(&text), Quantity::parse_any(&now)) {
                (Ok(a), Ok(b)) => a.dimension == b.dimension && a.number == b.number,
                _ => false,
            },
            (_, "disputed") => matches!(
                (text.as_str(), now.as_str()),
                ("yes", "true") | ("true", "yes") | ("no", "false") | ("false", "no")
            ),
            (_, "applies" | "requires") => {
                let mut tree = self.tree.clone();
                let Some(value) = value_node(&patch.tree, field, key) else { return false };
                set(&mut tree, &patch.tree, field, Some(value), patch.names_at);
                let authors = Authorship::default();
                let print = |rule: &CheckedRule| rule.fingerprint(self.around.vocabulary);
                rule::check(&tree, self.texts, &self.base.name, None, authors, self.around)
                    .is_ok_and(|rule| print(&rule) == print(self.base))
            }
            _ => false,
        }
    }

    /// A doubt when two amendments of one field say the same; nothing when they disagree.
    fn agree(&self, change: &FieldChange, other: &FieldChange) -> Option<Problem> {
        let texts = (change.to.as_deref().map(squeezed), other.to.as_deref().map(squeezed));
        let alike = match &texts {
            (Some(a), Some(b)) if a != b && limit(&change.field).is_some_and(|(_, words)| !words) => {
                matches!((Quantity::parse_any(a), Quantity::parse_any(b)), (Ok(a), Ok(b)) if a.dimension == b.dimension && a.number == b.number)
            }
            (a, b) => a == b,
        };
        let found = format!("another amendment of this book says that `{}` already", change.field);
        alike.then(|| idle(change.to_at, &found, other.to_at, "said here"))
    }

    /// The rule with the changes laid over it, each field with its new author.
    fn lay(
        self,
        patches: Vec<Patch>,
        mut taken: Vec<(usize, FieldChange)>,
    ) -> Result<CheckedRule, Vec<Problem>> {
        let Desk { base, texts, around, mut tree } = self;
        // What goes, goes first; words follow the limit that they belong to.
        taken.sort_by(|(_, a), (_, b)| (a.to.is_some(), &a.field).cmp(&(b.to.is_some(), &b.field)));
        let mut authors = base.authors.clone();
        for (number, mut patch) in patches.into_iter().enumerate() {
            let own = |(of, _): &&(usize, FieldChange)| *of == number;
            patch.amendment.changes = taken.iter().filter(own).map(|(_, change)| change.clone()).collect();
            if patch.amendment.changes.is_empty() && patch.amendment.cases_at.is_none() {
                continue;
            }
            let amendment = Arc::new(patch.amendment);
            for change in &amendment.changes {
                lay_one(&mut tree, &patch.tree, change);
                let author = Author {
                    book: amendment.book.clone(),
                    at: change.to_at,
                    text: change.to.clone().unwrap_or_default(),
                    amendment: Some(Arc::clone(&amendment)),
                    replaced: authors.fields.get(&change.field).cloned().map(Box::new),
                };
                authors.fields = std::mem::take(&mut authors.fields).with(change.field.clone(), author);
            }
            authors.amendments.push(amendment);
        }
        let here: Vec<Span> = taken.iter().map(|(_, change)| change.at).collect();
        let rule = rule::check(&tree, texts, &base.name, base.cases_at, authors, around).map_err(
            |problems| -> Vec<Problem> {
                problems.into_iter().map(|problem| beside(problem, &here)).collect()
            },
        )?;
        let wrong: Vec<Problem> =
            taken.iter().filter_map(|(_, change)| words_alone(base, &rule, change)).collect();
        if wrong.is_empty() { Ok(rule) } else { Err(wrong) }
    }
}

/// A fault that shows in a file below is one of the amendment all the same: its place is told too.
fn beside(problem: Problem, changes: &[Span]) -> Problem {
    match changes.first() {
        Some(first) if changes.iter().all(|change| change.source != problem.at.source) => {
            problem.also(*first, "amended here")
        }
        _ => problem,
    }
}

/// The tree of a rule's own file with the amendments of the books below laid over it.
fn tree_as_amended(rule: &CheckedRule, texts: Texts<'_>) -> Tree {
    let (mut tree, _, _) = rule::head(rule.at.source, texts.of(rule.at.source), &[]);
    for amendment in &rule.authors.amendments {
        let (patch, _, _) = rule::head(amendment.at.source, texts.of(amendment.at.source), &[]);
        for change in &amendment.changes {
            lay_one(&mut tree, &patch, change);
        }
    }
    tree
}

fn lay_one(tree: &mut Tree, patch: &Tree, change: &FieldChange) {
    let value = change.to.is_some().then(|| value_node(patch, &change.field, "to")).flatten();
    set(tree, patch, &change.field, value, change.at);
}

/// What an amendment says of a field under `was` or `to`.
fn value_node(patch: &Tree, field: &str, key: &str) -> Option<NodeId> {
    let change = patch.get(patch.root()?, "change")?.value;
    Some(patch.get(patch.get(change, field)?.value, key)?.value)
}

/// Lets a field of a rule's tree have the value of a node of another tree; without one the field goes.
fn set(tree: &mut Tree, patch: &Tree, field: &str, value: Option<NodeId>, key_span: Span) {
    let Some(root) = tree.root() else { return };
    let value = value.and_then(|value| tree.graft(patch, value));
    let put = |tree: &mut Tree, map: NodeId, key: &str| match value {
        Some(value) => tree.put(map, Pair { key: key.to_owned(), key_span, value }),
        None => tree.take_away(map, key),
    };
    let Some((name, words)) = limit(field) else {
        match field.split_once('.') {
            Some((outer, inner)) => {
                let map = section(tree, root, outer, key_span);
                put(tree, map, inner);
            }
            None => put(tree, root, field),
        }
        return;
    };
    let limits = section(tree, root, "limits", key_span);
    let old = tree.get(limits, name).map(|pair| pair.value);
    let is_record = old.is_some_and(|old| !tree.pairs(old).is_empty());
    match (old, words) {
        (Some(old), false) if is_record && value.is_some() => put(tree, old, "value"),
        (_, false) => put(tree, limits, name),
        (Some(old), true) if is_record => put(tree, old, "words"),
        (Some(old), true) => {
            let key = tree.get(limits, name).map_or(key_span, |pair| pair.key_span);
            let value = Pair { key: "value".to_owned(), key_span: key, value: old };
            let record = tree.add(Node { kind: NodeKind::Map(vec![value]), span: key, flow: true });
            tree.put(limits, Pair { key: name.to_owned(), key_span: key, value: record });
            put(tree, record, "words");
        }
        // Words of a limit that is not there: the check says that they have no value.
        (None, true) => {
            let record = tree.add(Node { kind: NodeKind::Map(Vec::new()), span: key_span, flow: true });
            tree.put(limits, Pair { key: name.to_owned(), key_span, value: record });
            put(tree, record, "words");
        }
    }
    if tree.pairs(limits).is_empty() {
        tree.take_away(root, "limits");
    }
}

/// The record under a key of the root; an empty one is made where there is none.
fn section(tree: &mut Tree, root: NodeId, key: &str, key_span: Span) -> NodeId {
    if let Some(pair) = tree.get(root, key) {
        return pair.value;
    }
    let record = tree.add(Node { kind: NodeKind::Map(Vec::new()), span: key_span, flow: false });
    tree.put(root, Pair { key: key.to_owned(), key_span, value: record });
    record
}
