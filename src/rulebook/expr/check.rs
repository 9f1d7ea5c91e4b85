//! From the form of an expression to its meaning, held against a vocabulary.
//!
//! What passes has every name resolved, every kind and dimension known to fit, and a word said about empty
//! lists. A misspelt name is a fault of the rule, found when its book is loaded; it is never an unknown.

use std::collections::BTreeSet;

use crate::base::near::nearest;
use crate::base::number::{Comparison, Dimension};
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::Span;
use crate::base::vocabulary::{KindId, ROOT_KIND, Vocabulary, WordId, WordsId};

use super::super::checked::Limit;
use super::ast::{Ast, Form, Gather, Word};
use super::lexer::RESERVED;
use super::names::{a_thing, described, quoted};
use super::source_map::Texts;
use super::typed::{Arithmetic, Binding, Expr, ExprType, LimitId, Node, VarId};

/// A variable that can be named where the checker stands.
#[derive(Clone, Debug)]
struct Bound {
    name: String,
    var: VarId,
    /// What it is; nothing if that could not be read.
    kind: Option<KindId>,
    at: Span,
}

/// Which names are missing because of a fault that was told already.
#[derive(Clone, Debug, Default)]
struct Unread {
    names: BTreeSet<String>,
    /// One of which even the name could not be read.
    nameless: bool,
}

/// Checks the expressions of one rule, one after the other.
#[derive(Debug)]
pub struct Checker<'a> {
    vocabulary: &'a Vocabulary,
    texts: Texts<'a>,
    limits: &'a [Limit],
    bound: Vec<Bound>,
    /// Names that could not be read where they are made known; they are not reported again where they are used.
    unread: Unread,
    /// The names of all variables met so far, by their numbers.
    pub variables: Vec<String>,
    /// The limits that were used.
    pub used: BTreeSet<LimitId>,
    /// The limits that were compared by order, each with the place.
    pub compared: Vec<(LimitId, Span)>,
    /// What was found wrong.
    pub problems: Vec<Problem>,
}

impl<'a> Checker<'a> {
    /// A checker for a rule with these limits, written in these files.
    #[must_use]
    pub fn new(vocabulary: &'a Vocabulary, texts: Texts<'a>, limits: &'a [Limit]) -> Self {
        Checker {
            vocabulary,
            texts,
            limits,
            bound: Vec::new(),
            unread: Unread::default(),
            variables: Vec::new(),
            used: BTreeSet::new(),
            compared: Vec::new(),
            problems: Vec::new(),
        }
    }

    /// What the rule is checked against.
    #[must_use]
    pub fn vocabulary(&self) -> &'a Vocabulary {
        self.vocabulary
    }

    /// Notes a name that is used but could not be read where it is made known; `None` if not even the name
    /// could.
    pub fn unread(&mut self, name: Option<&str>) {
        match name {
            Some(name) => {
                self.unread.names.insert(name.to_owned());
            }
            None => self.unread.nameless = true,
        }
    }

    /// Reports limits whose names belong to something else already.
    pub fn limits_clash(&mut self) {
        for (at, limit) in self.limits.iter().enumerate() {
            let earlier = self.limits.iter().take(at).find(|other| other.name == limit.name);
            self.clash(
                &limit.name,
                limit.at,
                earlier.map(|other| (other.at, "a limit of this name".to_owned())),
            );
        }
    }

    /// Binds a variable for all that is checked from now on: the thing that a rule is asked of.
    pub fn bind(&mut self, word: &Word, kind: Option<KindId>) -> VarId {
        let other = self.other_use(&word.text);
        self.clash(&word.text, word.at, other);
        let var = VarId(u16::try_from(self.variables.len()).unwrap_or(u16::MAX));
        self.variables.push(word.text.clone());
        self.bound.push(Bound { name: word.text.clone(), var, kind, at: word.at });
        var
    }

    fn other_use(&self, name: &str) -> Option<(Span, String)> {
        let bound = self.bound.iter().find(|bound| bound.name == name);
        let limit = self.limits.iter().find(|limit| limit.name == name);
        bound
            .map(|bound| (bound.at, "a variable of this name".to_owned()))
            .or_else(|| limit.map(|limit| (limit.at, "a limit of this name".to_owned())))
    }

    /// Reports a name that is taken: by the grammar, by the root, or by `other`.
    fn clash(&mut self, name: &str, at: Span, other: Option<(Span, String)>) {
        let accepts = "a name that nothing else here has";
        let problem = Problem::new(ProblemKind::NameClash, at).accepts(accepts);
        if RESERVED.contains(&name) {
            self.problems.push(problem.found(format!("`{name}`, which is a word of the rule language")));
        } else if self.vocabulary.find_fact(ROOT_KIND, name).is_some() {
            self.problems.push(problem.found(format!("`{name}`, which is in the catalogue already")));
        } else if let Some((span, what)) = other {
            self.problems.push(problem.found(format!("`{name}`, for the second time")).also(span, what));
        }
    }

    fn report(&mut self, kind: ProblemKind, at: Span, found: impl Into<String>, accepts: impl Into<String>) {
        self.problems.push(Problem::new(kind, at).found(found).accepts(accepts));
    }

    /// What is written at a place, on one line.
    fn written(&self, at: Span) -> String {
        let line = self.texts.slice(at).split_whitespace().collect::<Vec<_>>().join(" ");
        if line.chars().count() <= 60 {
            return format!("`{line}`");
        }
        format!("`{}…`", line.chars().take(58).collect::<String>())
    }

    /// What is written and what it is: `` `bed.length`, a length ``.
    fn said(&self, expr: &Expr) -> String {
        format!("{}, {}", self.written(expr.at), described(self.vocabulary, expr.of_type))
    }

    /// Reports an expression that has another type than is wanted.
    pub fn differ(&mut self, expr: &Expr, accepts: impl Into<String>) {
        let found = self.said(expr);
        self.report(ProblemKind::KindsDiffer, expr.at, found, accepts);
    }

    // What is wanted from outside.

    /// An expression that holds or does not.
    pub fn truth(&mut self, ast: &Ast) -> Option<Expr> {
        let expr = self.any(ast)?;
        match expr.of_type {
            ExprType::Truth => return Some(expr),
            ExprType::Word(list) => {
                let example = self.vocabulary.word_list(list).and_then(|list| list.words.first());
                let word = example.map_or_else(|| "…".to_owned(), |(word, _)| word.replace(' ', "_"));
                self.differ(&expr, format!("a question about it, such as `… is {word}`"));
            }
            ExprType::Things(_) => self.differ(&expr, "`every … in … has (…)` or `some … in … has (…)`"),
            _ => self.differ(&expr, "something that holds or does not, such as a comparison"),
        }
        None
    }

    /// Things, with their kind.
    pub fn things(&mut self, ast: &Ast) -> Option<(Expr, KindId)> {
        let expr = self.any(ast)?;
        if let ExprType::Things(kind) = expr.of_type {
            return Some((expr, kind));
        }
        self.differ(&expr, "a list of things");
        None
    }

    /// A number, with its dimension.
    pub fn number(&mut self, ast: &Ast) -> Option<(Expr, Dimension)> {
        let expr = self.any(ast)?;
        if let ExprType::Number(dimension) = expr.of_type {
            return Some((expr, dimension));
        }
        self.differ(&expr, "a number");
        None
    }

    /// An expression of whatever type.
    pub fn any(&mut self, ast: &Ast) -> Option<Expr> {
        let (node, of_type) = match &ast.form {
            Form::Unreadable(parts) => {
                // Their names are checked all the same; what they make together is not known.
                for part in parts {
                    let _ = self.any(part);
                }
                return None;
            }
            Form::Quantity(quantity) => {
                (Node::Literal(quantity.number.clone()), ExprType::Number(quantity.dimension))
            }
            Form::Name(name) => self.name(name, ast.at)?,
            Form::Dot(of, name) => self.fact(of, name)?,
            Form::Not(a) => (Node::Not(Box::new(self.truth(a)?)), ExprType::Truth),
            Form::And(all) => (Node::And(self.truths(all)?), ExprType::Truth),
            Form::Or(all) => (Node::Or(self.truths(all)?), ExprType::Truth),
            Form::Compare(comparison, a, b) => (self.compare(*comparison, a, b)?, ExprType::Truth),
            Form::Between(a, low, high) => (self.between(a, low, high)?, ExprType::Truth),
            Form::Is(a, b, not) => (self.is(a, b, *not)?, ExprType::Truth),
            Form::IsOneOf(a, words, not) => (self.is_one_of(a, words, *not)?, ExprType::Truth),
            Form::Calculate(sign, a, b) => self.calculate(*sign, a, b, ast.at)?,
            Form::Negate(a) => {
                let (a, dimension) = self.number(a)?;
                if dimension.point {
                    self.differ(&a, "a sign written right before the number, as in `-5 degF`");
                    return None;
                }
                (Node::Negate(Box::new(a)), ExprType::Number(dimension))
            }
            Form::Every(word, things, holds, if_none) => {
                if if_none.is_none() {
                    let found = "`every` without a word on what holds when there are none";
                    let accepts =
                        "`, or met if there are none` behind the bracket (or unmet, or undetermined)";
                    self.report(ProblemKind::EmptyNotSaid, ast.at, found, accepts);
                }
                let (binding, holds) = self.within(word, things, |checker| checker.truth(holds))?;
                (Node::Every(binding, Box::new(holds), (*if_none)?), ExprType::Truth)
            }
            Form::Some(word, things, holds) => {
                let (binding, holds) = self.within(word, things, |checker| checker.truth(holds))?;
                (Node::Some(binding, Box::new(holds)), ExprType::Truth)
            }
            Form::Count(things, None) => {
                let (things, kind) = self.things(things)?;
                let var = VarId(u16::try_from(self.variables.len()).unwrap_or(u16::MAX));
                let name = self.vocabulary.kind(kind).map_or("", |kind| &kind.name);
                self.variables.push(name.to_owned());
                let binding = Binding { var, things: Box::new(things) };
                (Node::Count(binding, None), ExprType::Number(Dimension::ONE))
            }
            Form::Count(things, Some((word, holds))) => {
                let (binding, holds) = self.within(word, things, |checker| checker.truth(holds))?;
                (Node::Count(binding, Some(Box::new(holds))), ExprType::Number(Dimension::ONE))
            }
            Form::Gather(gather, value, word, things) => {
                let (binding, (value, dimension)) =
                    self.within(word, things, |checker| checker.number(value))?;
                if *gather == Gather::Sum && dimension.point {
                    self.differ(&value, "something that can be added up; temperatures cannot");
                    return None;
                }
                let value = Box::new(value);
                let node = match gather {
                    Gather::Sum => Node::Sum(binding, value),
                    Gather::Least => Node::Least(binding, value),
                    Gather::Greatest => Node::Greatest(binding, value),
                };
                (node, ExprType::Number(dimension))
            }
        };
        Some(Expr { node, of_type, at: ast.at })
    }

    fn truths(&mut self, all: &[Ast]) -> Option<Vec<Expr>> {
        let checked: Vec<Option<Expr>> = all.iter().map(|ast| self.truth(ast)).collect();
        checked.into_iter().collect()
    }

    /// Checks something with a variable bound to each of some things.
    fn within<T>(
        &mut self,
        word: &Word,
        things: &Ast,
        check: impl FnOnce(&mut Self) -> Option<T>,
    ) -> Option<(Binding, T)> {
        let things = self.things(things);
        let kind = things.as_ref().map(|(_, kind)| *kind);
        let outside = self.bound.len();
        let var = self.bind(word, kind);
        let checked = check(self);
        self.bound.truncate(outside);
        let (things, _) = things?;
        Some((Binding { var, things: Box::new(things) }, checked?))
    }

    // Names.

    fn name(&mut self, name: &str, at: Span) -> Option<(Node, ExprType)> {
        if let Some(bound) = self.bound.iter().rev().find(|bound| bound.name == name) {
            return Some((Node::Var(bound.var), ExprType::Thing(bound.kind?)));
        }
        if let Some((place, limit)) = self.limits.iter().enumerate().find(|(_, limit)| limit.name == name) {
            let id = LimitId(u16::try_from(place).unwrap_or(u16::MAX));
            self.used.insert(id);
            return Some((Node::Limit(id), ExprType::Number(limit.value.dimension)));
        }
        if let Some(id) = self.vocabulary.find_fact(ROOT_KIND, name) {
            let fact = self.vocabulary.fact(id)?;
            return Some((Node::Fact(None, id), fact.of_type.into()));
        }
        self.no_such_name(name, at);
        None
    }

    fn no_such_name(&mut self, name: &str, at: Span) {
        if self.unread.nameless || self.unread.names.contains(name) {
            return;
        }
        let vocabulary = self.vocabulary;
        let offered: Vec<&str> = (self.bound.iter().map(|bound| bound.name.as_str()))
            .chain(self.limits.iter().map(|limit| limit.name.as_str()))
            .chain(vocabulary.facts_of(ROOT_KIND).map(|fact| fact.name.as_str()))
            .collect();
        let mut problem = Problem::new(ProblemKind::UnknownInExpression, at)
            .found(format!("`{name}`, which nothing here is called"))
            .accepts(quoted(offered.iter().copied()))
            .nearest(nearest(name, offered.iter().copied()));
        if matches!(name, "yes" | "no" | "true" | "false") {
            problem = problem.accepts("a fact by itself, or with `not` before it");
        } else if let Some((of, _)) = name.split_once('-').filter(|(of, _)| offered.contains(of)) {
            let rest = name.get(of.len() + 1..).unwrap_or("");
            problem = problem.accepts("`-` with a space on both sides, to subtract");
            problem = problem.nearest(Some(format!("{of} - {rest}")));
        }
        self.problems.push(problem);
    }

    fn fact(&mut self, of: &Ast, name: &Word) -> Option<(Node, ExprType)> {
        let of = self.any(of)?;
        let kind = match of.of_type {
            ExprType::Thing(kind) => kind,
            ExprType::Things(_) => {
                let written = self.written(of.at);
                let accepts =
                    format!("`every x in xs has (…)` or `some x in xs has (…)`, with {written} for xs");
                self.differ(&of, accepts);
                return None;
            }
            _ => {
                self.differ(&of, "a thing, for only a thing has facts");
                return None;
            }
        };
        let vocabulary = self.vocabulary;
        if let Some(id) = vocabulary.find_fact(kind, &name.text) {
            let of_type = vocabulary.fact(id)?.of_type.into();
            return Some((Node::Fact(Some(Box::new(of)), id), of_type));
        }
        let offered = || vocabulary.facts_of(kind).map(|fact| fact.name.as_str());
        let thing = a_thing(vocabulary, kind);
        let problem = Problem::new(ProblemKind::UnknownInExpression, name.at)
            .found(format!("`{}`, which is no fact of {thing}", name.text))
            .accepts(quoted(offered()))
            .nearest(nearest(&name.text, offered()));
        self.problems.push(problem);
        None
    }

    fn word(&mut self, list: WordsId, word: &Word) -> Option<WordId> {
        let vocabulary = self.vocabulary;
        let shape = vocabulary.word_list(list)?;
        let spelled = |known: &str| known.replace(' ', "_");
        if let Some(place) = shape.words.iter().position(|(known, _)| spelled(known) == word.text) {
            return u16::try_from(place).ok().map(WordId);
        }
        let offered: Vec<String> = shape.words.iter().map(|(known, _)| spelled(known)).collect();
        let problem = Problem::new(ProblemKind::UnknownInExpression, word.at)
            .found(format!("`{}`, which is no word of the list `{}`", word.text, shape.name))
            .accepts(quoted(offered.iter().map(String::as_str)))
            .nearest(nearest(&word.text, offered.iter().map(String::as_str)));
        self.problems.push(problem);
        None
    }

    // Comparing.

    fn compare(&mut self, comparison: Comparison, a: &Ast, b: &Ast) -> Option<Node> {
        let Some(left) = self.any(a) else {
            // A single name on the right may be a word of what could not be read on the left.
            let may_be_a_word = match &b.form {
                Form::Name(name) => !self.limits.iter().any(|limit| limit.name == *name),
                _ => false,
            };
            if !may_be_a_word {
                let _ = self.any(b);
            }
            return None;
        };
        let right = match (left.of_type, &b.form) {
            (ExprType::Word(list), Form::Name(word)) => {
                let node = Node::Word(self.word(list, &Word { text: word.clone(), at: b.at })?);
                Expr { node, of_type: ExprType::Word(list), at: b.at }
            }
            _ => self.any(b)?,
        };
        match (left.of_type, right.of_type) {
            (ExprType::Number(one), ExprType::Number(other)) if one == other => {
                if comparison != Comparison::Equal {
                    self.limit_compared(&left);
                    self.limit_compared(&right);
                }
            }
            (ExprType::Word(list), ExprType::Word(other)) if list == other => {
                let shape = self.vocabulary.word_list(list)?;
                if comparison == Comparison::Equal {
                    self.differ(&left, "`is` and a word, or `is one of` and several; `=` compares numbers");
                    return None;
                }
                if !shape.ordered {
                    self.differ(&left, format!("`is`; the words of the list `{}` have no order", shape.name));
                    return None;
                }
            }
            (ExprType::Truth, _) => {
                self.differ(&left, "the fact by itself, or with `not` before it");
                return None;
            }
            (ExprType::Number(_) | ExprType::Word(_), _) => {
                let accepts = format!("{}, to compare with {}", self.like(&left), self.written(left.at));
                let found = self.said(&right);
                let also = self.said(&left);
                let problem = Problem::new(ProblemKind::KindsDiffer, right.at);
                self.problems.push(problem.found(found).accepts(accepts).also(left.at, also));
                return None;
            }
            _ => {
                self.differ(
                    &left,
                    "a number, or a word of a list that has an order; things are compared with `is`",
                );
                return None;
            }
        }
        Some(Node::Compare(comparison, Box::new(left), Box::new(right)))
    }

    /// What another value of the same type is, for an offer, with ways to write one.
    fn like(&self, expr: &Expr) -> String {
        let is = described(self.vocabulary, expr.of_type);
        match expr.of_type {
            ExprType::Number(dimension) if dimension != Dimension::ONE => match dimension.words() {
                Some((_, ways)) => format!("{is} ({ways})"),
                None => is,
            },
            _ => is,
        }
    }

    fn limit_compared(&mut self, expr: &Expr) {
        if let Node::Limit(id) = expr.node {
            self.compared.push((id, expr.at));
        }
    }

    fn between(&mut self, a: &Ast, low: &Ast, high: &Ast) -> Option<Node> {
        let (a, low, high) = (self.number(a), self.number(low), self.number(high));
        let ((a, wanted), low, high) = (a?, low?, high?);
        for (end, dimension) in [&low, &high] {
            if *dimension != wanted {
                let accepts = format!("{}, to compare with {}", self.like(&a), self.written(a.at));
                self.differ(end, accepts);
                return None;
            }
            self.limit_compared(end);
        }
        self.limit_compared(&a);
        Some(Node::Between(Box::new(a), Box::new(low.0), Box::new(high.0)))
    }

    fn is(&mut self, a: &Ast, b: &Ast, not: bool) -> Option<Node> {
        let left = self.any(a)?;
        match (left.of_type, &b.form) {
            (ExprType::Word(list), Form::Name(word)) => {
                let word = self.word(list, &Word { text: word.clone(), at: b.at })?;
                Some(Node::IsWord(Box::new(left), vec![word], not))
            }
            (ExprType::Word(_), _) => {
                let found = self.written(b.at);
                let accepts = "a word of the list, for `is` compares with a word that is written out";
                self.report(ProblemKind::KindsDiffer, b.at, found, accepts);
                None
            }
            (ExprType::Thing(kind), _) => {
                let right = self.any(b)?;
                if right.of_type != ExprType::Thing(kind) {
                    let accepts =
                        format!("{}, as {} is", a_thing(self.vocabulary, kind), self.written(left.at));
                    self.differ(&right, accepts);
                    return None;
                }
                Some(Node::IsThing(Box::new(left), Box::new(right), not))
            }
            (ExprType::Truth, _) => {
                self.differ(&left, "the fact by itself, or with `not` before it");
                None
            }
            (ExprType::Number(_), _) => {
                self.differ(&left, "`=`, `<`, `<=`, `>` or `>=`, for it is a number");
                None
            }
            (ExprType::Things(_), _) => {
                self.differ(
                    &left,
                    "`every x in xs has (x is …), or met if there are none`, or `some x in xs has (…)`",
                );
                None
            }
            (ExprType::Text, _) => {
                self.differ(&left, "a fact with words of a list; this one is only for messages");
                None
            }
        }
    }

    fn is_one_of(&mut self, a: &Ast, words: &[Word], not: bool) -> Option<Node> {
        let left = self.any(a)?;
        let ExprType::Word(list) = left.of_type else {
            self.differ(&left, "a fact whose value is a word of a list");
            return None;
        };
        let found: Vec<Option<WordId>> = words.iter().map(|word| self.word(list, word)).collect();
        let ids: Vec<WordId> = found.into_iter().collect::<Option<_>>()?;
        for (at, word) in words.iter().enumerate() {
            if let Some(earlier) = words.iter().take(at).find(|other| other.text == word.text) {
                let problem = Problem::new(ProblemKind::BadExpression, word.at)
                    .found(format!("`{}` for the second time", word.text))
                    .accepts("each word once")
                    .also(earlier.at, "the first time");
                self.problems.push(problem);
                return None;
            }
        }
        Some(Node::IsWord(Box::new(left), ids, not))
    }

    // Calculating.

    fn calculate(&mut self, sign: Arithmetic, a: &Ast, b: &Ast, at: Span) -> Option<(Node, ExprType)> {
        let (a, b) = (self.number(a), self.number(b));
        let ((a, one), (b, other)) = (a?, b?);
        let result = match sign {
            Arithmetic::Add => sum(one, other),
            Arithmetic::Subtract => difference(one, other),
            Arithmetic::Multiply => one.times(other),
            Arithmetic::Divide => other.inverse().and_then(|other| one.times(other)),
        };
        let Some(dimension) = result else {
            let found = format!("{}, and {}", self.said(&a), self.said(&b));
            let accepts = match sign {
                Arithmetic::Add | Arithmetic::Subtract if one.point || other.point => {
                    "a temperature and a difference of temperature, or two temperatures to subtract; two temperatures do not add"
                }
                Arithmetic::Add | Arithmetic::Subtract => "two numbers of the same kind",
                _ if one.point || other.point => {
                    "differences of temperature; a temperature itself is neither multiplied nor divided"
                }
                _ => "a product of fewer factors",
            };
            self.report(ProblemKind::KindsDiffer, at, found, accepts);
            return None;
        };
        Some((Node::Calculate(sign, Box::new(a), Box::new(b)), ExprType::Number(dimension)))
    }
}

fn sum(one: Dimension, other: Dimension) -> Option<Dimension> {
    let point = one.point || other.point;
    let same = Dimension { point: false, ..one } == Dimension { point: false, ..other };
    (same && !(one.point && other.point)).then_some(Dimension { point, ..one })
}

fn difference(one: Dimension, other: Dimension) -> Option<Dimension> {
    let same = Dimension { point: false, ..one } == Dimension { point: false, ..other };
    (same && (one.point || !other.point)).then_some(Dimension { point: one.point && !other.point, ..one })
}
