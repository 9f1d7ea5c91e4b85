//! Reading what would mend a requirement: words for a person, and the changes of entries that they stand for.

use std::collections::BTreeSet;

use crate::base::near::nearest;
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::{SourceId, Span};
use crate::base::vocabulary::{FactId, FactShape, FactType, Need, Vocabulary};
use crate::yaml::path::{Path, Step};
use crate::yaml::scan;
use crate::yaml::tree::{NodeId, NodeKind};

use super::checked::{Each, Message, Piece};
use super::expr::check::Checker;
use super::expr::described;
use super::expr::parse::parse;
use super::expr::source_map::SourceMap;
use super::expr::typed::{Expr, ExprType, Node};
use super::read::Reader;
use super::rule::expression;

/// One way to mend what is unmet: in words, and as changes that are made together. Without changes it is advice only.
#[derive(Clone, PartialEq, Debug)]
pub struct Advice {
    /// What one would do, as a phrase: `move it farther off`.
    pub title: String,
    /// The changes of entries, all of them together.
    pub changes: Vec<Change>,
    /// Where it stands.
    pub at: Span,
}

/// One change of an entry. The path of an entry holds things in the places of their names, and `*` for a name that
/// the thing the rule is asked of settles.
#[derive(Clone, PartialEq, Debug)]
pub enum Change {
    /// An entry that is there gets another value.
    Set {
        /// The path of the entry.
        path: Message,
        /// The value.
        to: To,
    },
    /// An entry that is not there is written: a key, one more of a named section, or with `[]` one more of a list.
    Add {
        /// The path of the entry.
        path: Message,
        /// What is written there.
        value: Message,
    },
    /// An entry is taken away.
    Remove {
        /// The path of the entry.
        path: Message,
    },
    /// A fact is brought to a value by whichever entries move it.
    Reach {
        /// The fact, with the thing it is a fact of.
        fact: Expr,
        /// The value; nothing for the nearest at which the rule itself is met.
        to: Option<Expr>,
    },
}

/// What an entry is set to.
#[derive(Clone, PartialEq, Debug)]
pub enum To {
    /// What an expression comes to.
    Value(Expr),
    /// This, as it is written in a design.
    Written(Message),
}

/// What stands in place of a value where the nearest is wanted at which the rule is met.
const MET: &str = "met";

/// One more entry of a list, at the end of a path.
pub const ONE_MORE: &str = "[]";

/// The corrections of a rule.
pub(super) fn corrections(
    reader: &mut Reader<'_>,
    root: NodeId,
    each: Option<&Each>,
    checker: &mut Checker<'_>,
) -> Vec<Advice> {
    let Some(node) = reader.get(root, "corrections") else { return Vec::new() };
    // Without the rule's own thing, a path with a name in braces says nothing.
    let each_unread = each.is_none() && reader.get(root, "each").is_some();
    let tree = reader.tree;
    let mut found = Vec::new();
    for item in tree.items(node) {
        let at = reader.span(*item);
        if tree.text(*item).is_some() {
            found.push(Advice { title: reader.text_of(*item), changes: Vec::new(), at });
        }
        for pair in tree.pairs(*item) {
            let written = match tree.node(pair.value).map(|node| &node.kind) {
                Some(NodeKind::List(items)) => items.clone(),
                _ => vec![pair.value],
            };
            let mut desk = Desk { reader, checker, each_unread };
            let changes = written.into_iter().filter_map(|node| desk.change(node)).collect();
            found.push(Advice { title: pair.key.trim().to_owned(), changes, at });
        }
    }
    found
}

struct Desk<'r, 'a, 'c, 'v> {
    reader: &'r mut Reader<'a>,
    checker: &'c mut Checker<'v>,
    each_unread: bool,
}

impl Desk<'_, '_, '_, '_> {
    fn change(&mut self, node: NodeId) -> Option<Change> {
        if let Some(path) = self.reader.get(node, "set") {
            return self.set(node, path);
        }
        if let Some(path) = self.reader.get(node, "add") {
            let value = self.reader.get(node, "as")?;
            let path = self.path(path, Fits::Leads)?;
            return Some(Change::Add { path, value: self.written(value)? });
        }
        if let Some(path) = self.reader.get(node, "remove") {
            return Some(Change::Remove { path: self.path(path, Fits::Leads)? });
        }
        let (fact, to) = (self.reader.get(node, "reach")?, self.reader.get(node, "to")?);
        self.reach(fact, to)
    }

    fn set(&mut self, node: NodeId, path: NodeId) -> Option<Change> {
        if let Some(value) = self.reader.get(node, "as") {
            let path = self.path(path, Fits::Leads)?;
            return Some(Change::Set { path, to: To::Written(self.written(value)?) });
        }
        let to = self.reader.get(node, "to")?;
        let path = self.path(path, Fits::Rests)?;
        let vocabulary = self.checker.vocabulary();
        let steps = steps_of(&pattern(&path)).unwrap_or_default();
        let led = needs_at(vocabulary, &steps).filter(|need| leads(need, &steps, true));
        let resting: BTreeSet<FactId> = led.flat_map(|need| &need.facts).copied().collect();
        let resting: Vec<&FactShape> = resting.into_iter().filter_map(|id| vocabulary.fact(id)).collect();
        let text = self.reader.text_of(to);
        if is_word(&text, &resting, vocabulary) {
            let text = text.replace('_', " ");
            return Some(Change::Set { path, to: To::Written(Message(vec![Piece::Words(text)])) });
        }
        let expr = expression(self.reader, to, self.checker).and_then(|ast| self.checker.any(&ast))?;
        let straight = resting.iter().find(|fact| fact.is_straight());
        if let Some(fact) = straight
            && ExprType::from(fact.of_type) != expr.of_type
            && !matches!(fact.of_type, FactType::Text)
        {
            let wanted = described(vocabulary, fact.of_type.into());
            self.checker.differ(&expr, format!("{wanted}, for `{}`", pattern(&path)));
        }
        Some(Change::Set { path, to: To::Value(expr) })
    }

    fn reach(&mut self, fact: NodeId, to: NodeId) -> Option<Change> {
        let fact = expression(self.reader, fact, self.checker).and_then(|ast| self.checker.any(&ast))?;
        let until_met = self.reader.text_of(to).trim() == MET;
        let to = match until_met {
            true => None,
            false => Some(expression(self.reader, to, self.checker).and_then(|ast| self.checker.any(&ast))?),
        };
        let moves = |shape: &FactShape| if until_met { shape.by_place } else { shape.handle };
        let shape = match &fact.node {
            Node::Fact(_, id) => self.checker.vocabulary().fact(*id),
            _ => None,
        };
        if !shape.is_some_and(moves) {
            let handled = self.checker.vocabulary().facts.iter().filter(|fact| moves(fact));
            let mut some: Vec<String> =
                handled.filter(|fact| !fact.is_straight()).map(|fact| format!("`{}`", fact.name)).collect();
            some.sort();
            some.dedup();
            let among = if some.is_empty() { String::new() } else { format!(", or {}", some.join(", ")) };
            let wanted = match until_met {
                true => format!("a fact that changes when something is put elsewhere{among}"),
                false => format!(
                    "a fact that is moved by entries known to the program: one read straight from one entry{among}"
                ),
            };
            self.checker.differ(&fact, wanted);
            return None;
        }
        if let Some(to) = to.as_ref().filter(|to| to.of_type != fact.of_type) {
            let wanted = described(self.checker.vocabulary(), fact.of_type);
            self.checker.differ(to, wanted);
            return None;
        }
        Some(Change::Reach { fact, to })
    }

    /// The path of an entry, things standing in it for their names.
    fn path(&mut self, node: NodeId, fits: Fits) -> Option<Message> {
        let written = self.reader.written(node)?;
        let map = self.reader.map_of(&written);
        if self.each_unread && written.text.contains('{') {
            return None;
        }
        let path = self.template(written.text.trim(), &map, true)?;
        let shown = pattern(&path);
        let Some(steps) = steps_of(&shown) else {
            let found = format!("`{}`, which is no path of an entry", written.text.trim());
            self.report(map.whole(), found, "keys with dots between them, as in `beds.north.soil`", None);
            return None;
        };
        let vocabulary = self.checker.vocabulary();
        if !needs_at(vocabulary, &steps).any(|need| leads(need, &steps, fits == Fits::Rests)) {
            let found = format!("`{}`, an entry that no fact of the catalogue rests on", written.text.trim());
            let accepts = "the path of an entry, with `*` or the rule's own thing in braces for a name";
            let known = vocabulary.needs().iter().map(|need| need.path.as_str());
            self.report(map.whole(), found, accepts, nearest(&shown, known));
        }
        Some(path)
    }

    /// What is to stand in a design, things and values standing in it in braces.
    fn written(&mut self, node: NodeId) -> Option<Message> {
        let Some(written) = self.reader.written(node) else {
            let at = self.reader.span(node);
            let accepts =
                "the text that is to stand in the design, in quotes: `\"{plant: yew, height: 4 ft}\"`";
            self.report(at, "what is to be written is no text".to_owned(), accepts, None);
            return None;
        };
        let map = self.reader.map_of(&written);
        if self.each_unread && written.text.contains('{') {
            return None;
        }
        let value = self.template(written.text.trim(), &map, false)?;
        let (tree, problems) =
            scan::read(SourceId(u32::MAX), &format!("x: {}\n", pattern(&value).replace('*', "x")));
        if !problems.is_empty() || tree.root().is_none() {
            let found = format!("`{}`, which cannot stand behind a key", written.text.trim());
            self.report(
                map.whole(),
                found,
                "what would be typed behind the key in a design, on one line",
                None,
            );
        }
        Some(value)
    }

    /// Words with values in braces. In a path all braces hold a thing; in a text those that hold no name are braces.
    fn template(&mut self, text: &str, map: &SourceMap, path: bool) -> Option<Message> {
        let mut pieces = Vec::new();
        let mut words = String::new();
        let mut at = 0;
        while let Some(c) = text.get(at..).and_then(|rest| rest.chars().next()) {
            let inside = text.get(at + 1..).filter(|_| c == '{').and_then(|rest| rest.split_once('}'));
            match inside.map(|(inside, _)| inside).filter(|inside| path || is_name(inside)) {
                Some(inside) => {
                    if !words.is_empty() {
                        pieces.push(Piece::Words(std::mem::take(&mut words)));
                    }
                    let place = map.part(at + 1, at + 1 + inside.len());
                    let (ast, problems) = parse(inside, &place);
                    self.checker.problems.extend(problems);
                    let expr = self.checker.any(&ast)?;
                    let shown = matches!(expr.of_type, ExprType::Number(_) | ExprType::Word(_));
                    if !matches!(expr.of_type, ExprType::Thing(_)) && (path || !shown) {
                        self.checker.differ(&expr, "a thing, whose name stands there");
                        return None;
                    }
                    pieces.push(Piece::Value(expr));
                    at += inside.len() + 2;
                }
                None => {
                    words.push(c);
                    at += c.len_utf8();
                }
            }
        }
        if !words.is_empty() {
            pieces.push(Piece::Words(words));
        }
        Some(Message(pieces))
    }

    fn report(&mut self, at: Span, found: String, accepts: &str, near: Option<String>) {
        let problem = Problem::new(ProblemKind::UnknownInExpression, at);
        self.checker.problems.push(problem.found(found).accepts(accepts).nearest(near));
    }
}

/// What a path has to come to.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Fits {
    /// A fact rests on the entry itself.
    Rests,
    /// A fact rests on the entry, or on one inside of it.
    Leads,
}

/// Whether what stands in braces is a name, with dots behind it.
fn is_name(inside: &str) -> bool {
    let name = |part: &str| {
        part.starts_with(|c: char| c.is_ascii_lowercase())
            && part.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_')
    };
    inside.split('.').all(name)
}

/// The text of a path with `*` for each thing.
#[must_use]
pub fn pattern(path: &Message) -> String {
    let piece = |piece: &Piece| match piece {
        Piece::Words(words) => words.clone(),
        _ => "*".to_owned(),
    };
    path.0.iter().map(piece).collect()
}

/// The steps of a path as the catalogue writes them: `*` for a place in a list.
fn steps_of(path: &str) -> Option<Vec<String>> {
    let (path, more) = match path.strip_suffix(ONE_MORE) {
        Some(list) => (list, true),
        None => (path, false),
    };
    let step = |step: Step| match step {
        Step::Key(key) => key,
        Step::Item(_) => "*".to_owned(),
    };
    let mut steps: Vec<String> = Path::parse(path).ok()?.steps.into_iter().map(step).collect();
    if more {
        steps.push("*".to_owned());
    }
    (!steps.is_empty()).then_some(steps)
}

/// The entries facts rest on in the section in which these steps begin.
fn needs_at<'v>(vocabulary: &'v Vocabulary, steps: &[String]) -> impl Iterator<Item = &'v Need> {
    steps.first().map(|section| vocabulary.needs_in(section)).unwrap_or_default().iter()
}

/// Whether an entry that a fact rests on is the one at these steps, or also one inside of it. The entries of a list
/// of words have no facts of their own.
fn leads(need: &Need, steps: &[String], to_its_end: bool) -> bool {
    let mut needed = need.steps.iter().map(String::as_str);
    for (at, step) in steps.iter().enumerate() {
        match needed.next() {
            Some("**") => return true,
            Some("*" | "") => {}
            Some(known) if known == step => {}
            // Whatever stands in a list of words, the list is what is needed.
            None => return step == "*" && at + 1 == steps.len(),
            Some(_) => return false,
        }
    }
    !to_its_end || needed.next().is_none()
}

/// Whether a text is a word that a design can hold there: of a list, yes or no, or `none`.
fn is_word(text: &str, resting: &[&FactShape], vocabulary: &Vocabulary) -> bool {
    let spoken = text.replace('_', " ");
    text == "none"
        || resting.iter().any(|fact| match fact.of_type {
            FactType::Truth => matches!(text, "yes" | "no"),
            FactType::Word(list) => vocabulary
                .word_list(list)
                .is_some_and(|list| list.words.iter().any(|(word, _)| *word == spoken)),
            _ => false,
        })
}
