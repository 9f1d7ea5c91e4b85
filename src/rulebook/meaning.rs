//! What a rule means and a book says, written in one way only, and the digests of that.
//!
//! Two rules that ask for the same have the same meaning text, whatever their comments, cases, places, the
//! order of their keys and limits, and the names of their variables. Facts and words stand by name, so a
//! vocabulary that has grown changes nothing.

use std::fmt::Write as _;

use crate::base::digest::sha256_hex;
use crate::base::number::{Comparison, Dimension, Number};
use crate::base::vocabulary::{KindId, Vocabulary, WordId};

use super::authors::Amendment;
use super::checked::{CheckedBook, CheckedRule, Message, Piece, SourceDocument};
use super::corrections::{Change, To};
use super::expr::typed::{Arithmetic, Binding, Expr, ExprType, IfNone, Node, VarId};

/// `r-` and the digest of what a rule means: what it asks, of what, when, how strongly and by which numbers.
/// Words for people are not part of it.
pub(super) fn fingerprint(rule: &CheckedRule, vocabulary: &Vocabulary) -> String {
    format!("r-{}", sha256_hex(of_rule(rule, vocabulary).as_bytes()))
}

/// `b-` and the digest of all that a book says, its words for people included.
pub(super) fn digest(book: &CheckedBook, vocabulary: &Vocabulary) -> String {
    format!("b-{}", sha256_hex(of_book(book, vocabulary).as_bytes()))
}

/// One line for each part of a rule's meaning.
fn of_rule(rule: &CheckedRule, vocabulary: &Vocabulary) -> String {
    let writer = Writer { vocabulary, rule };
    let mut text = String::new();
    let mut line = |key: &str, value: &str| {
        let _ = writeln!(text, "{key} {value}");
    };
    line("rule", &rule.name);
    line("obligation", rule.obligation.word());
    line("disputed", if rule.disputed { "yes" } else { "no" });
    line("due", rule.due.word());
    line("subject", &rule.subject);
    line("stops", rule.stops.map_or("", |stops| stops.word()));
    let mut inside = Vec::new();
    if let Some(each) = &rule.each {
        line("each", &writer.expr(&each.binding.things, &mut inside));
        inside.push(each.binding.var);
    }
    if let Some(applies) = &rule.applies {
        line("applies", &writer.expr(applies, &mut inside));
    }
    let mut limits: Vec<String> = (rule.limits.iter())
        .map(|limit| {
            let words = limit.words.map_or("", |words| words.word());
            let number = number(&limit.value.number, limit.value.dimension);
            format!("{} {number} {words}", limit.name)
        })
        .collect();
    limits.sort();
    limits.iter().for_each(|limit| line("limit", limit));
    line("requires", &writer.expr(&rule.requires, &mut inside));
    text
}

/// The expressions of a rule, each written in one way only, with its limits by name.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Parts {
    /// What it is asked of; empty for the whole.
    pub(super) each: String,
    /// When it is asked; empty for always.
    pub(super) applies: String,
    /// What has to hold.
    pub(super) requires: String,
}

pub(super) fn parts(rule: &CheckedRule, vocabulary: &Vocabulary) -> Parts {
    let writer = Writer { vocabulary, rule };
    let mut inside = Vec::new();
    let each = rule.each.as_ref().map(|each| writer.expr(&each.binding.things, &mut inside));
    inside.extend(rule.each.iter().map(|each| each.binding.var));
    let applies = rule.applies.as_ref().map(|applies| writer.expr(applies, &mut inside));
    let requires = writer.expr(&rule.requires, &mut inside);
    Parts { each: each.unwrap_or_default(), applies: applies.unwrap_or_default(), requires }
}

/// All that a book says, in one order whatever order it stands in.
fn of_book(book: &CheckedBook, vocabulary: &Vocabulary) -> String {
    let mut said = vec![
        joined("book", &[&book.name, &book.title, &book.publisher, &book.edition]),
        joined("in force", &[book.from.as_deref().unwrap_or(""), book.until.as_deref().unwrap_or("")]),
        joined("nature", &[&book.legal_nature, &book.covers, if book.always { "always" } else { "" }]),
    ];
    said.extend(book.sources.iter().map(|source| {
        let SourceDocument { name, title, publisher, year, where_to_read, basis, at: _ } = source;
        joined("source", &[name, title, publisher, year, where_to_read, basis.word()])
    }));
    said.extend(
        book.left_to_the_eye.iter().map(|(section, what)| joined("left to the eye", &[section, what])),
    );
    said.extend(book.builds_on.iter().map(|below| joined("builds on", &[below])));
    said.extend(
        book.withdrawn
            .iter()
            .map(|one| joined("withdrawn", &[&one.book, &one.rule]) + &decision(&one.amendment)),
    );
    said.extend(book.not_held.iter().map(|(section, subject)| joined("not held", &[section, subject])));
    said.extend(book.rules.iter().map(|rule| {
        let writer = Writer { vocabulary, rule };
        let mut inside: Vec<VarId> = rule.each.iter().map(|each| each.binding.var).collect();
        let mut text = joined(
            "rule",
            &[&rule.fingerprint(vocabulary), &rule.title, &rule.because, &rule.note, &rule.interpretation],
        );
        text += &joined("cited", &[&rule.source.document, &rule.source.section, rule.source.basis.word()]);
        if let Some(covers) = &rule.covered {
            text += &joined("covered", &[&writer.expr(&covers.expr, &mut Vec::new())]);
        }
        for amendment in &rule.authors.amendments {
            text += &decision(amendment);
        }
        text += &joined("unmet", &[&writer.message(&rule.unmet, &mut inside)]);
        for advice in &rule.corrections {
            // The author's name for the thing is no part of what is said.
            let changes: String =
                advice.changes.iter().map(|change| writer.change(change, &mut inside)).collect();
            text += &joined("correction", &[&advice.title, &changes]);
        }
        text + &rule.cautions.iter().map(|caution| joined("caution", &[caution])).collect::<String>()
    }));
    said.sort();
    said.concat()
}

/// Whose decision an amendment is, and why.
fn decision(amendment: &Amendment) -> String {
    let decided = &amendment.decided;
    joined("amended", &[&amendment.book, &decided.by, &decided.document, &decided.on, &amendment.because])
}

/// Texts on one line, each behind its length, so that two of them cannot run into each other.
fn joined(key: &str, values: &[&str]) -> String {
    let length: usize = values.iter().map(|value| value.len() + 8).sum();
    let mut line = String::with_capacity(key.len() + length + 1);
    join(&mut line, key, values);
    line
}

/// The same, behind what stands there.
fn join(line: &mut String, key: &str, values: &[&str]) {
    line.push_str(key);
    for value in values {
        let _ = write!(line, " {}:", value.len());
        line.push_str(value);
    }
    line.push('\n');
}

struct Writer<'a> {
    vocabulary: &'a Vocabulary,
    rule: &'a CheckedRule,
}

impl Writer<'_> {
    fn change(&self, change: &Change, inside: &mut Vec<VarId>) -> String {
        match change {
            Change::Set { path, to: To::Value(to) } => {
                joined("set", &[&self.message(path, inside), &self.expr(to, inside)])
            }
            Change::Set { path, to: To::Written(text) } => {
                joined("set as", &[&self.message(path, inside), &self.message(text, inside)])
            }
            Change::Add { path, value } => {
                joined("add", &[&self.message(path, inside), &self.message(value, inside)])
            }
            Change::Remove { path } => joined("remove", &[&self.message(path, inside)]),
            Change::Reach { fact, to } => {
                let to = to.as_ref().map_or_else(|| "met".to_owned(), |to| self.expr(to, inside));
                joined("reach", &[&self.expr(fact, inside), &to])
            }
        }
    }

    fn message(&self, message: &Message, inside: &mut Vec<VarId>) -> String {
        let pieces = message.0.iter().map(|piece| match piece {
            Piece::Words(words) => format!("{}:{words}", words.len()),
            Piece::Value(expr) => self.expr(expr, inside),
            Piece::Sided(expr, sides) => {
                let level = sides.level.as_deref().unwrap_or("");
                format!(
                    "{}{}",
                    self.expr(expr, inside),
                    joined("sides", &[&sides.above, &sides.below, level])
                )
            }
        });
        pieces.collect()
    }

    fn kind(&self, kind: KindId) -> &str {
        self.vocabulary.kind(kind).map_or("", |kind| &kind.name)
    }

    fn word(&self, of: ExprType, word: WordId) -> String {
        let ExprType::Word(list) = of else { return String::new() };
        let words = self.vocabulary.word_list(list).map(|list| &list.words);
        words
            .and_then(|words| words.get(usize::from(word.0)))
            .map_or_else(String::new, |(word, _)| format!("{word:?}"))
    }

    /// The parts, each written, in one order whatever order they stand in.
    fn sorted<'e>(
        &self,
        parts: impl IntoIterator<Item = &'e Expr>,
        inside: &mut Vec<VarId>,
        to: &mut String,
    ) {
        let mut written: Vec<String> = parts.into_iter().map(|part| self.expr(part, inside)).collect();
        written.sort();
        for part in written {
            to.push(' ');
            to.push_str(&part);
        }
    }

    /// The parts, each written, in the order they stand in.
    fn in_order<'e>(
        &self,
        parts: impl IntoIterator<Item = &'e Expr>,
        inside: &mut Vec<VarId>,
        to: &mut String,
    ) {
        for part in parts {
            to.push(' ');
            self.write(part, inside, to);
        }
    }

    fn within(&self, binding: &Binding, body: Option<&Expr>, inside: &mut Vec<VarId>, to: &mut String) {
        self.in_order([&*binding.things], inside, to);
        inside.push(binding.var);
        match body {
            Some(body) => self.in_order([body], inside, to),
            None => to.push_str(" all"),
        }
        inside.pop();
    }

    /// An expression in one way only: variables by how many are bound around them.
    fn expr(&self, expr: &Expr, inside: &mut Vec<VarId>) -> String {
        let mut text = String::new();
        self.write(expr, inside, &mut text);
        text
    }

    /// Writes an expression behind what stands there.
    fn write(&self, expr: &Expr, inside: &mut Vec<VarId>, to: &mut String) {
        match &expr.node {
            Node::Literal(value) => {
                let dimension = match expr.of_type {
                    ExprType::Number(dimension) => dimension,
                    _ => Dimension::ONE,
                };
                to.push_str(&number(value, dimension));
                return;
            }
            Node::Word(word) => {
                to.push_str(&self.word(expr.of_type, *word));
                return;
            }
            _ => {}
        }
        to.push('(');
        match &expr.node {
            Node::Literal(_) | Node::Word(_) => {}
            Node::Limit(id) => {
                to.push_str("limit ");
                to.push_str(self.rule.limit(*id).map_or("", |limit| &limit.name));
            }
            Node::Var(var) => {
                to.push_str("thing");
                if let Some(depth) = inside.iter().position(|bound| bound == var) {
                    let _ = write!(to, " {depth}");
                }
            }
            Node::Thing(thing) => {
                let _ = write!(to, "thing {} {}", self.kind(thing.kind), thing.number);
            }
            Node::Fact(of, fact) => {
                let (kind, name) = self
                    .vocabulary
                    .fact(*fact)
                    .map_or(("", ""), |fact| (self.kind(fact.of), fact.name.as_str()));
                to.extend(["fact ", kind, ".", name]);
                match of {
                    Some(of) => self.in_order([&**of], inside, to),
                    None => to.push_str(" root"),
                }
            }
            Node::Not(a) => {
                to.push_str("not");
                self.in_order([&**a], inside, to);
            }
            Node::And(all) => {
                to.push_str("and");
                self.sorted(all, inside, to);
            }
            Node::Or(all) => {
                to.push_str("or");
                self.sorted(all, inside, to);
            }
            Node::Compare(comparison, a, b) => {
                let (sign, parts) = match comparison {
                    Comparison::Equal => ("=", [a, b]),
                    Comparison::Less => ("<", [a, b]),
                    Comparison::AtMost => ("<=", [a, b]),
                    Comparison::More => ("<", [b, a]),
                    Comparison::AtLeast => ("<=", [b, a]),
                };
                to.push_str(sign);
                let parts = parts.map(|part| &**part);
                match comparison {
                    Comparison::Equal => self.sorted(parts, inside, to),
                    _ => self.in_order(parts, inside, to),
                }
            }
            Node::Between(a, low, high) => {
                to.push_str("between");
                self.in_order([&**a, &**low, &**high], inside, to);
            }
            Node::IsWord(a, words, not) => {
                to.push_str(if *not { "not (is" } else { "is" });
                self.in_order([&**a], inside, to);
                let mut words: Vec<String> = words.iter().map(|word| self.word(a.of_type, *word)).collect();
                words.sort();
                to.push(' ');
                to.push_str(&words.join(" "));
                to.push_str(if *not { ")" } else { "" });
            }
            Node::IsThing(a, b, not) => {
                to.push_str(if *not { "not (same" } else { "same" });
                self.sorted([&**a, &**b], inside, to);
                to.push_str(if *not { ")" } else { "" });
            }
            Node::Every(binding, a, if_none) => {
                to.push_str(match if_none {
                    IfNone::Met => "every or met",
                    IfNone::Unmet => "every or unmet",
                    IfNone::Undetermined => "every or undetermined",
                });
                self.within(binding, Some(a), inside, to);
            }
            Node::Some(binding, a) => {
                to.push_str("some");
                self.within(binding, Some(a), inside, to);
            }
            Node::Count(binding, a) => {
                to.push_str("count");
                self.within(binding, a.as_deref(), inside, to);
            }
            Node::Sum(binding, a) => {
                to.push_str("sum");
                self.within(binding, Some(a), inside, to);
            }
            Node::Least(binding, a) => {
                to.push_str("least");
                self.within(binding, Some(a), inside, to);
            }
            Node::Greatest(binding, a) => {
                to.push_str("greatest");
                self.within(binding, Some(a), inside, to);
            }
            Node::Calculate(sign, a, b) => {
                let parts = [&**a, &**b];
                match sign {
                    Arithmetic::Add => to.push('+'),
                    Arithmetic::Subtract => to.push('-'),
                    Arithmetic::Multiply => to.push('*'),
                    Arithmetic::Divide => to.push('/'),
                }
                match sign {
                    Arithmetic::Add | Arithmetic::Multiply => self.sorted(parts, inside, to),
                    Arithmetic::Subtract | Arithmetic::Divide => self.in_order(parts, inside, to),
                }
            }
            Node::Negate(a) => {
                to.push_str("negative");
                self.in_order([&**a], inside, to);
            }
        }
        to.push(')');
    }
}

/// A number in SI base units with the exponents of its dimension.
fn number(number: &Number, dimension: Dimension) -> String {
    // Only what is not nought is named: a dimension that is thought of later changes no digest.
    let exponents = [
        ("length", dimension.length),
        ("mass", dimension.mass),
        ("time", dimension.time),
        ("temperature", dimension.temperature),
        ("current", dimension.current),
        ("activity", dimension.activity),
        ("loudness", dimension.loudness),
        ("money", dimension.money),
        ("angle", dimension.angle),
        ("alpha", dimension.alpha),
        ("point", i8::from(dimension.point)),
    ];
    let mut text = format!("[{}", number.in_one_way());
    for (name, power) in exponents.iter().filter(|(_, power)| *power != 0) {
        let _ = write!(text, " {name}^{power}");
    }
    text + "]"
}
