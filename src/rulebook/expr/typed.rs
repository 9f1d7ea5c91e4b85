//! An expression after it passed the checker: every name resolved, every dimension known to fit.

use crate::base::number::{Comparison, Dimension, Number};
use crate::base::text::Span;
use crate::base::vocabulary::{FactId, FactType, KindId, Thing, WordId, WordsId};

/// A limit of the rule, by its place in the rule's list.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct LimitId(pub u16);

/// A bound variable: the thing a rule is asked of, or one bound by `every`, `some`, `count`, `sum`, ….
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct VarId(pub u16);

/// What type an expression has.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum ExprType {
    /// Holds or does not.
    Truth,
    /// A number.
    Number(Dimension),
    /// A word of a list.
    Word(WordsId),
    /// One thing.
    Thing(KindId),
    /// Things.
    Things(KindId),
    /// Words to show; only in messages.
    Text,
}

impl From<FactType> for ExprType {
    fn from(fact: FactType) -> Self {
        match fact {
            FactType::Number(dimension) => ExprType::Number(dimension),
            FactType::Truth => ExprType::Truth,
            FactType::Word(words) => ExprType::Word(words),
            FactType::One(kind) => ExprType::Thing(kind),
            FactType::Things(kind) => ExprType::Things(kind),
            FactType::Text => ExprType::Text,
        }
    }
}

/// An expression with its type and its place in the rule's file.
#[derive(Clone, PartialEq, Debug)]
pub struct Expr {
    /// What it is.
    pub node: Node,
    /// What type it has.
    pub of_type: ExprType,
    /// Where it stands.
    pub at: Span,
}

/// Plus, minus, times, divided by.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Arithmetic {
    /// `+`
    Add,
    /// `-`
    Subtract,
    /// `*`
    Multiply,
    /// `/`
    Divide,
}

/// What holds of "every" when there are none.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum IfNone {
    /// It holds.
    Met,
    /// It does not hold.
    Unmet,
    /// It cannot be told.
    Undetermined,
}

/// A variable bound to each of some things in turn.
#[derive(Clone, PartialEq, Debug)]
pub struct Binding {
    /// The variable.
    pub var: VarId,
    /// The things.
    pub things: Box<Expr>,
}

/// The forms an expression can have.
#[derive(Clone, PartialEq, Debug)]
pub enum Node {
    /// A quantity written in the rule.
    Literal(Number),
    /// A limit of the rule.
    Limit(LimitId),
    /// A bound variable.
    Var(VarId),
    /// A thing that is the same for the whole run (only made by the judge and by tests).
    Thing(Thing),
    /// A fact of a thing; the thing is `None` for a fact of the root.
    Fact(Option<Box<Expr>>, FactId),
    /// `not …`
    Not(Box<Expr>),
    /// All hold.
    And(Vec<Expr>),
    /// At least one holds.
    Or(Vec<Expr>),
    /// Two numbers, or two words of an ordered list, compared.
    Compare(Comparison, Box<Expr>, Box<Expr>),
    /// `a between low and high`, both ends included.
    Between(Box<Expr>, Box<Expr>, Box<Expr>),
    /// `a is word`, `a is one of word, word`; `not` when the flag is set.
    IsWord(Box<Expr>, Vec<WordId>, bool),
    /// A word standing for itself on the right of an ordered comparison.
    Word(WordId),
    /// `a is b` for two things of one kind; `not` when the flag is set.
    IsThing(Box<Expr>, Box<Expr>, bool),
    /// `every x in xs has (…), or … if there are none`
    Every(Binding, Box<Expr>, IfNone),
    /// `some x in xs has (…)`
    Some(Binding, Box<Expr>),
    /// `count of xs where (…)`; the variable is the thing that is counted.
    Count(Binding, Option<Box<Expr>>),
    /// `sum of … over x in xs`
    Sum(Binding, Box<Expr>),
    /// `least of … over x in xs`; unknown when there are none.
    Least(Binding, Box<Expr>),
    /// `greatest of … over x in xs`; unknown when there are none.
    Greatest(Binding, Box<Expr>),
    /// Two numbers put together.
    Calculate(Arithmetic, Box<Expr>, Box<Expr>),
    /// The number with its sign turned.
    Negate(Box<Expr>),
}

impl Expr {
    /// The expressions it is made of, in the order they are written in the grammar.
    #[must_use]
    pub fn parts(&self) -> Vec<&Expr> {
        match &self.node {
            Node::Literal(_) | Node::Limit(_) | Node::Var(_) | Node::Thing(_) | Node::Word(_) => Vec::new(),
            Node::Fact(of, _) => of.iter().map(|thing| &**thing).collect(),
            Node::Not(a) | Node::Negate(a) | Node::IsWord(a, _, _) => vec![&**a],
            Node::And(all) | Node::Or(all) => all.iter().collect(),
            Node::Compare(_, a, b) | Node::IsThing(a, b, _) | Node::Calculate(_, a, b) => vec![&**a, &**b],
            Node::Between(a, low, high) => vec![&**a, &**low, &**high],
            Node::Every(of, a, _)
            | Node::Some(of, a)
            | Node::Sum(of, a)
            | Node::Least(of, a)
            | Node::Greatest(of, a) => vec![&*of.things, &**a],
            Node::Count(of, a) => std::iter::once(&*of.things).chain(a.iter().map(|a| &**a)).collect(),
        }
    }

    /// The same, to be changed.
    pub fn parts_mut(&mut self) -> Vec<&mut Expr> {
        match &mut self.node {
            Node::Literal(_) | Node::Limit(_) | Node::Var(_) | Node::Thing(_) | Node::Word(_) => Vec::new(),
            Node::Fact(of, _) => of.iter_mut().map(|thing| &mut **thing).collect(),
            Node::Not(a) | Node::Negate(a) | Node::IsWord(a, _, _) => vec![&mut **a],
            Node::And(all) | Node::Or(all) => all.iter_mut().collect(),
            Node::Compare(_, a, b) | Node::IsThing(a, b, _) | Node::Calculate(_, a, b) => {
                vec![&mut **a, &mut **b]
            }
            Node::Between(a, low, high) => vec![&mut **a, &mut **low, &mut **high],
            Node::Every(of, a, _)
            | Node::Some(of, a)
            | Node::Sum(of, a)
            | Node::Least(of, a)
            | Node::Greatest(of, a) => vec![&mut *of.things, &mut **a],
            Node::Count(of, a) => {
                std::iter::once(&mut *of.things).chain(a.iter_mut().map(|a| &mut **a)).collect()
            }
        }
    }

    /// Shows it and everything it is made of to `see`, the outer first.
    pub fn walk<'e>(&'e self, see: &mut impl FnMut(&'e Expr)) {
        see(self);
        for part in self.parts() {
            part.walk(see);
        }
    }
}
