//! Reading the records of a book by the table of their keys.
//!
//! Everything is checked here against the table, once; whoever takes values out afterwards need not ask
//! whether they have the right form. Nothing of a book with a fault is used, so a value that is missing
//! for one may be taken as empty.

use std::fmt::Display;

use crate::base::near::nearest;
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::Span;
use crate::yaml::tree::{NodeId, NodeKind, Style, Tree};

use super::expr::source_map::{SourceMap, Texts};
use super::keys::{Key, Shape};

/// A single value as it was written.
pub(super) struct Written<'a> {
    pub(super) text: &'a str,
    style: Style,
    pub(super) at: Span,
}

/// A tree that belongs to a book, with the faults found in it.
pub(super) struct Reader<'a> {
    pub(super) tree: &'a Tree,
    pub(super) texts: Texts<'a>,
    pub(super) problems: Vec<Problem>,
}

impl<'a> Reader<'a> {
    pub(super) fn new(tree: &'a Tree, texts: Texts<'a>) -> Self {
        Reader { tree, texts, problems: Vec::new() }
    }

    // Taking values out.

    pub(super) fn get(&self, record: NodeId, key: &str) -> Option<NodeId> {
        let pair = self.tree.get(record, key)?;
        let there = self.tree.node(pair.value).is_some_and(|node| node.kind != NodeKind::Nothing);
        there.then_some(pair.value)
    }

    pub(super) fn written(&self, node: NodeId) -> Option<Written<'a>> {
        let node = self.tree.node(node)?;
        match &node.kind {
            NodeKind::Scalar { text, style } => Some(Written { text, style: *style, at: node.span }),
            _ => None,
        }
    }

    pub(super) fn map_of(&self, written: &Written<'_>) -> SourceMap {
        SourceMap::new(self.texts.of(written.at.source), written.at, written.style, written.text)
    }

    /// The text under a key, its lines joined and its ends trimmed; empty if there is none.
    pub(super) fn text(&self, record: NodeId, key: &str) -> String {
        self.get(record, key).map(|node| self.text_of(node)).unwrap_or_default()
    }

    pub(super) fn text_of(&self, node: NodeId) -> String {
        self.tree.text(node).unwrap_or("").trim().to_owned()
    }

    /// The texts of a list, or the one text there is.
    pub(super) fn texts(&self, record: NodeId, key: &str) -> Vec<String> {
        let Some(node) = self.get(record, key) else { return Vec::new() };
        match self.tree.node(node).map(|node| &node.kind) {
            Some(NodeKind::List(items)) => items.iter().map(|item| self.text_of(*item)).collect(),
            _ => vec![self.text_of(node)],
        }
    }

    pub(super) fn yes(&self, record: NodeId, key: &str) -> bool {
        matches!(self.text(record, key).as_str(), "yes" | "true")
    }

    /// The value that the word under a key stands for.
    pub(super) fn word<T: Copy>(&self, record: NodeId, key: &str, table: &[(&str, T)]) -> Option<T> {
        let text = self.text(record, key);
        table.iter().find(|(word, _)| *word == text).map(|(_, value)| *value)
    }

    pub(super) fn span(&self, node: NodeId) -> Span {
        self.tree.node(node).map_or(Span::new(self.tree.source, 0, 0), |node| node.span)
    }

    // Checking forms.

    pub(super) fn report(&mut self, at: Span, found: impl Into<String>, accepts: impl Into<String>) {
        self.problems.push(Problem::new(ProblemKind::BadRule, at).found(found).accepts(accepts));
    }

    /// Checks a record against its keys.
    pub(super) fn record(&mut self, node: NodeId, keys: &'static [Key], what: &dyn Display) {
        if !self.is_map(node) {
            let accepts = format!("keys with their values: {}", names(keys));
            self.wrong_form(node, what, &accepts);
            return;
        }
        for pair in self.tree.pairs(node) {
            match keys.iter().find(|key| key.name == pair.key) {
                Some(key) if self.is_nothing(pair.value) => {
                    let found = format!("`{}` has nothing written under it", key.name);
                    self.report(pair.key_span, found, offer(key.shape));
                }
                Some(key) => self.shape(pair.value, key.shape, &format_args!("`{}`", key.name)),
                None if self.is_nothing(pair.value) && self.tree.node(node).is_some_and(|node| node.flow) => {
                    let found = format!("a comma before `{}`, which ends the text before it", pair.key);
                    self.report(
                        pair.key_span,
                        found,
                        "quotes around text with a comma in it, as in `\"a, b\"`",
                    );
                }
                None => {
                    let problem = Problem::new(ProblemKind::BadRule, pair.key_span)
                        .found(format!("`{}` is not a key of {what}", pair.key))
                        .accepts(names(keys))
                        .nearest(nearest(&pair.key, keys.iter().map(|key| key.name)));
                    self.problems.push(problem);
                }
            }
        }
        for key in keys.iter().filter(|key| key.needed && self.tree.get(node, key.name).is_none()) {
            let at = self.start_of(node);
            let found = format!("`{}` is missing from {what}", key.name);
            self.report(at, found, format!("{} ({})", offer(key.shape), key.meaning.trim_end_matches('.')));
        }
    }

    /// The first key of a record: the place of what is not there.
    fn start_of(&self, node: NodeId) -> Span {
        self.tree.pairs(node).first().map_or_else(|| self.span(node), |pair| pair.key_span)
    }

    fn is_map(&self, node: NodeId) -> bool {
        matches!(self.tree.node(node).map(|node| &node.kind), Some(NodeKind::Map(_)))
    }

    fn is_nothing(&self, node: NodeId) -> bool {
        matches!(self.tree.node(node).map(|node| &node.kind), None | Some(NodeKind::Nothing))
    }

    fn wrong_form(&mut self, node: NodeId, what: &dyn Display, accepts: &str) {
        let form = match self.tree.node(node).map(|node| &node.kind) {
            Some(NodeKind::Scalar { .. }) => "a single value",
            Some(NodeKind::List(_)) => "a list",
            Some(NodeKind::Map(_)) => "keys with values",
            _ => "nothing",
        };
        self.report(self.start_of(node), format!("{what} is {form}"), accepts);
    }

    fn shape(&mut self, node: NodeId, shape: Shape, what: &dyn Display) {
        match shape {
            Shape::Record(keys) => self.record(node, keys, what),
            Shape::Records(keys) => self.list(node, shape, what, |reader, item| {
                reader.record(item, keys, &format_args!("an entry of {what}"));
            }),
            Shape::Advice(forms) => {
                self.list(node, shape, what, |reader, item| reader.advice(item, forms, what))
            }
            Shape::Texts => match self.tree.node(node).map(|node| &node.kind) {
                Some(NodeKind::List(_)) => {
                    self.list(node, shape, what, |reader, item| reader.shape(item, Shape::Text, what));
                }
                _ => self.shape(node, Shape::Text, what),
            },
            Shape::Named(keys) => self.named(node, shape, what, |reader, value, name| {
                reader.record(value, keys, &format_args!("`{name}` under {what}"));
            }),
            Shape::Limits(keys) => self.named(node, shape, what, |reader, value, name| {
                if reader.is_map(value) {
                    reader.record(value, keys, &format_args!("the limit `{name}`"));
                } else {
                    reader.shape(value, Shape::Quantity, &format_args!("the limit `{name}`"));
                }
            }),
            Shape::Changes => self.named(node, shape, what, |reader, value, name| {
                let flow = reader.tree.node(value).is_some_and(|node| node.flow);
                if reader.tree.text(value).is_none() && !flow {
                    reader.wrong_form(
                        value,
                        &format_args!("`{name}` under {what}"),
                        "the text that is to stand there",
                    );
                }
            }),
            _ => self.single(node, shape, what),
        }
    }

    /// Checks a single value.
    fn single(&mut self, node: NodeId, shape: Shape, what: &dyn Display) {
        let Some(written) = self.written(node) else {
            self.wrong_form(node, what, &offer(shape));
            return;
        };
        let text = written.text.trim();
        let fits = match shape {
            Shape::Word(words) => words().contains(&text),
            Shape::YesNo => matches!(text, "yes" | "no" | "true" | "false"),
            Shape::Name => is_name(text),
            Shape::Topic => text.split('/').all(is_name),
            Shape::Day => is_day(text),
            _ => !text.is_empty(),
        };
        if fits {
            return;
        }
        let found =
            if text.is_empty() { format!("{what} has no text") } else { format!("{what} is `{text}`") };
        let near = match shape {
            Shape::Word(words) => nearest(text, words()),
            _ => None,
        };
        let problem =
            Problem::new(ProblemKind::BadRule, written.at).found(found).accepts(offer(shape)).nearest(near);
        self.problems.push(problem);
    }

    fn list(&mut self, node: NodeId, shape: Shape, what: &dyn Display, check: impl Fn(&mut Self, NodeId)) {
        let tree = self.tree;
        match tree.node(node).map(|node| &node.kind) {
            Some(NodeKind::List(items)) => items.iter().for_each(|item| check(self, *item)),
            _ => self.wrong_form(node, what, &offer(shape)),
        }
    }

    fn named(
        &mut self,
        node: NodeId,
        shape: Shape,
        what: &dyn Display,
        check: impl Fn(&mut Self, NodeId, &str),
    ) {
        if !self.is_map(node) {
            self.wrong_form(node, what, &offer(shape));
            return;
        }
        let tree = self.tree;
        for pair in tree.pairs(node) {
            check(self, pair.value, &pair.key);
        }
    }

    /// One piece of advice: words, or words with a change or a list of changes under them.
    fn advice(&mut self, item: NodeId, forms: &'static [&'static [Key]], what: &dyn Display) {
        let tree = self.tree;
        match (tree.pairs(item), tree.text(item)) {
            ([], Some(_)) => self.shape(item, Shape::Text, what),
            ([pair], None) => {
                let of = format!("the correction `{}`", pair.key);
                match tree.node(pair.value).map(|node| &node.kind) {
                    Some(NodeKind::List(changes)) if !changes.is_empty() => {
                        changes.iter().for_each(|change| self.change(*change, forms, &of));
                    }
                    _ => self.change(pair.value, forms, &of),
                }
            }
            _ => self.wrong_form(item, &format_args!("an entry of {what}"), &offer(Shape::Advice(forms))),
        }
    }

    /// One change: of the forms whose first key it has, the one with most of its keys.
    fn change(&mut self, node: NodeId, forms: &'static [&'static [Key]], of: &str) {
        let tree = self.tree;
        let has = |key: &Key| tree.get(node, key.name).is_some();
        let begun = forms.iter().filter(|form| form.first().is_some_and(has));
        let keys = begun.rev().max_by_key(|form| form.iter().filter(|key| has(key)).count());
        match keys {
            Some(keys) => self.record(node, keys, &of),
            None if self.is_map(node) => {
                let found = format!("{of} says no change");
                self.report(self.start_of(node), found, offer(Shape::Advice(forms)));
            }
            None => self.wrong_form(node, &of, &offer(Shape::Advice(forms))),
        }
    }
}

/// The names of keys, those that are needed first.
fn names(keys: &[Key]) -> String {
    let (needed, may): (Vec<&Key>, Vec<&Key>) = keys.iter().partition(|key| key.needed);
    let list = needed.into_iter().chain(may).map(|key| format!("`{}`", key.name));
    list.collect::<Vec<_>>().join(", ")
}

/// What a form looks like, for an offer.
fn offer(shape: Shape) -> String {
    match shape {
        Shape::Text => "words".to_owned(),
        Shape::Name => {
            "a name in small letters, digits and hyphens, such as `hedge-clear-of-path`".to_owned()
        }
        Shape::Topic => "names with `/` between them, such as `hedges/distance`".to_owned(),
        Shape::Expression => "an expression of the rule language".to_owned(),
        Shape::Each => "what it is asked of, as in `hedge in hedges`".to_owned(),
        Shape::Message => "words, with values in braces, as in `{hedge} is {hedge.height} high`".to_owned(),
        Shape::Word(words) => words().iter().map(|word| format!("`{word}`")).collect::<Vec<_>>().join(", "),
        Shape::YesNo => "`yes` or `no`".to_owned(),
        Shape::Day => "a date, such as `2026-05-12`".to_owned(),
        Shape::Quantity => "a quantity with its unit, such as `10 ft`".to_owned(),
        Shape::Texts => "words, or a list of them".to_owned(),
        Shape::Record(keys) => format!("keys with their values: {}", names(keys)),
        Shape::Records(keys) => format!("a list, each entry with {}", names(keys)),
        Shape::Named(keys) => format!("names of your own, each with {}", names(keys)),
        Shape::Limits(_) => "names of your own, each with a quantity, or with `value` and `words`, as in \
             `height: {value: 6 ft, words: at most}`"
            .to_owned(),
        Shape::Advice(_) => {
            "a list of advice: plain words, or words with changes under them, each `set` with `to` or `as`, `add` with `as`, \
             `remove`, or `reach` with `to`"
                .to_owned()
        }
        Shape::Changes => "entry paths, each with the text that is to stand there".to_owned(),
    }
}

/// Small letters, digits and single hyphens between them; a dot may stand between digits.
#[must_use]
pub fn is_name(text: &str) -> bool {
    let inner = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit();
    text.starts_with(inner)
        && text.ends_with(inner)
        && text.chars().all(|c| inner(c) || matches!(c, '-' | '.' | '_'))
        && !text.contains("--")
}

/// Four digits, a month, a day.
fn is_day(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let [year, month, day] = parts.as_slice() else { return false };
    let number = |part: &str, digits: usize| {
        if part.len() == digits && part.bytes().all(|b| b.is_ascii_digit()) {
            part.parse::<u32>().ok()
        } else {
            None
        }
    };
    number(year, 4).is_some()
        && number(month, 2).is_some_and(|month| (1..=12).contains(&month))
        && number(day, 2).is_some_and(|day| (1..=31).contains(&day))
}
