//! A rule with one thing changed, as a slip of the pen would change it: whether its cases notice shows
//! whether they hold what the rule says.

use crate::base::number::{Comparison, Number, Quantity, Ratio};
use crate::base::text::Span;
use crate::base::vocabulary::{Vocabulary, WordId, WordsId};
use crate::rulebook::checked::CheckedRule;
use crate::rulebook::expr::typed::{Arithmetic, Expr, ExprType, IfNone, Node};

/// Which changes are tried.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Tried {
    /// No change: the cases are run and the limits moved.
    Nothing,
    /// Parts are left out: what no case notices decides in none.
    Parts,
    /// Every change there is.
    Everything,
}

/// What was changed in a rule.
#[derive(Clone, PartialEq, Debug)]
pub enum Change {
    /// A part was left out.
    LeftOut,
    /// A comparison was read as another.
    Compared(Comparison, Comparison),
    /// `and` was read as `or`, or the other way.
    Joined,
    /// It was turned into its contrary.
    Turned,
    /// A word stood in place of another.
    Word(WordsId, WordId, WordId),
    /// A word among several was left out.
    WordLess(WordsId, WordId),
    /// A word more was let pass.
    WordMore(WordsId, WordId),
    /// `every` was read as `some`, or `least` as `greatest`, or the other way.
    Quantified,
    /// It meant something else when there are none.
    IfNone(IfNone, IfNone),
    /// Numbers were put together in another way.
    Calculated,
    /// A number stood in place of another.
    Number(Box<(Quantity, Quantity)>),
}

/// A rule with one thing changed.
#[derive(Clone, PartialEq, Debug)]
pub struct Mutant {
    /// What was changed.
    pub change: Change,
    /// Where.
    pub at: Span,
    /// The rule as it then is.
    pub rule: CheckedRule,
}

/// Every change of a rule that is to be tried, in the order in which the rule is written.
#[must_use]
pub fn mutants(rule: &CheckedRule, tried: Tried, vocabulary: &Vocabulary) -> Vec<Mutant> {
    let mut found = Vec::new();
    if tried == Tried::Nothing {
        return found;
    }
    if let Some(applies) = &rule.applies {
        let without = CheckedRule { applies: None, ..rule.clone() };
        found.push(Mutant { change: Change::LeftOut, at: applies.at, rule: without });
        for (change, at, applies) in changed(applies, None, vocabulary) {
            found.push(Mutant { change, at, rule: CheckedRule { applies: Some(applies), ..rule.clone() } });
        }
    }
    for (change, at, requires) in changed(&rule.requires, rule.applies.as_ref(), vocabulary) {
        found.push(Mutant { change, at, rule: CheckedRule { requires, ..rule.clone() } });
    }
    for (place, limit) in rule.limits.iter().enumerate() {
        for number in other_numbers(&limit.value.number) {
            let moved = Quantity { number, ..limit.value.clone() };
            let mut other = rule.clone();
            if let Some(limit) = other.limits.get_mut(place) {
                limit.value = moved.clone();
            }
            let change = Change::Number(Box::new((limit.value.clone(), moved)));
            found.push(Mutant { change, at: limit.at, rule: other });
        }
    }
    if tried == Tried::Parts {
        found.retain(|mutant| matches!(mutant.change, Change::LeftOut | Change::WordLess(..)));
    }
    found
}

/// Half as much again and half of it; one more and one less than nothing.
fn other_numbers(number: &Number) -> Vec<Number> {
    let Some(exact) = number.as_exact() else { return Vec::new() };
    if exact.is_zero() {
        return vec![Number::Exact(Ratio::ONE), Number::Exact(-&Ratio::ONE)];
    }
    let half = Ratio::new(1, 2).unwrap_or_default();
    vec![Number::Exact(exact * &half + exact), Number::Exact(exact * &half)]
}

/// An expression with each of its places changed in each way that place can be, when it is asked on a condition.
fn changed(whole: &Expr, asked_when: Option<&Expr>, vocabulary: &Vocabulary) -> Vec<(Change, Span, Expr)> {
    let mut places = Vec::new();
    whole.walk(&mut |expr| places.push(expr));
    let mut all = Vec::new();
    for (place, expr) in places.into_iter().enumerate() {
        for (change, at, node) in changes(expr, asked_when, vocabulary) {
            let mut copy = whole.clone();
            let mut left = place;
            replace(&mut copy, &mut left, &node);
            all.push((change, at, copy));
        }
    }
    all
}

/// Puts another node in the place that is `left` places further on, the outer counted first.
fn replace(expr: &mut Expr, left: &mut usize, node: &Node) -> bool {
    if *left == 0 {
        expr.node = node.clone();
        return true;
    }
    *left -= 1;
    expr.parts_mut().into_iter().any(|part| replace(part, left, node))
}

/// Whether two comparisons differ only where the two numbers are the same.
fn same_way(one: Comparison, other: Comparison) -> bool {
    let rises = |how| match how {
        Comparison::More | Comparison::AtLeast => Some(true),
        Comparison::Less | Comparison::AtMost => Some(false),
        Comparison::Equal => None,
    };
    rises(one).is_some() && rises(one) == rises(other)
}

/// Whether an expression rests on a number that is only reckoned.
fn is_estimated(expr: &Expr, vocabulary: &Vocabulary) -> bool {
    let mut found = false;
    expr.walk(&mut |part| {
        if let Node::Fact(_, fact) = &part.node {
            found |= vocabulary.fact(*fact).is_some_and(|shape| shape.estimated);
        }
    });
    found
}

/// The ways in which one place can be changed, and where each stands.
fn changes(expr: &Expr, asked_when: Option<&Expr>, vocabulary: &Vocabulary) -> Vec<(Change, Span, Node)> {
    let here = |change, node| (change, expr.at, node);
    match &expr.node {
        Node::Fact(_, _) if expr.of_type == ExprType::Truth => {
            vec![here(Change::Turned, Node::Not(Box::new(expr.clone())))]
        }
        Node::Not(inner) => vec![here(Change::Turned, inner.node.clone())],
        Node::Negate(inner) => vec![here(Change::Calculated, inner.node.clone())],
        Node::And(all) => joined(expr, all, Node::And, Node::Or),
        Node::Or(any) => joined(expr, any, Node::Or, Node::And),
        Node::Compare(how, left, right) => other_comparisons(*how)
            .iter()
            .filter(|other| {
                // What is only reckoned never lies just at a limit, so no case can tell these two apart.
                !same_way(*how, **other)
                    || ![left, right].into_iter().any(|side| is_estimated(side, vocabulary))
            })
            .map(|other| {
                here(Change::Compared(*how, *other), Node::Compare(*other, left.clone(), right.clone()))
            })
            .collect(),
        Node::Between(value, low, high) => {
            let only = |how, end: &Expr| Node::Compare(how, value.clone(), Box::new(end.clone()));
            vec![
                (Change::LeftOut, low.at, only(Comparison::AtMost, high)),
                (Change::LeftOut, high.at, only(Comparison::AtLeast, low)),
            ]
        }
        Node::IsWord(value, words, not) => {
            let mut all = vec![here(Change::Turned, Node::IsWord(value.clone(), words.clone(), !not))];
            if let ExprType::Word(list) = value.of_type {
                let count = vocabulary.word_list(list).map_or(0, |list| list.words.len());
                let absent = (0u16..).map(WordId).take(count).find(|word| {
                    !words.contains(word) && asked_when.is_none_or(|when| leaves_open(when, value, *word))
                });
                other_words(list, words, absent).into_iter().for_each(|(change, words)| {
                    all.push(here(change, Node::IsWord(value.clone(), words, *not)));
                });
            }
            all
        }
        Node::IsThing(left, right, not) => {
            vec![here(Change::Turned, Node::IsThing(left.clone(), right.clone(), !not))]
        }
        Node::Every(binding, body, if_none) => {
            let mut all = vec![here(Change::Quantified, Node::Some(binding.clone(), body.clone()))];
            let other = if *if_none == IfNone::Met { IfNone::Unmet } else { IfNone::Met };
            let node = Node::Every(binding.clone(), body.clone(), other);
            all.push(here(Change::IfNone(*if_none, other), node));
            all
        }
        Node::Some(binding, body) => {
            vec![here(Change::Quantified, Node::Every(binding.clone(), body.clone(), IfNone::Unmet))]
        }
        Node::Count(binding, Some(body)) => {
            vec![(Change::LeftOut, body.at, Node::Count(binding.clone(), None))]
        }
        Node::Least(binding, body) => {
            vec![here(Change::Quantified, Node::Greatest(binding.clone(), body.clone()))]
        }
        Node::Greatest(binding, body) => {
            vec![here(Change::Quantified, Node::Least(binding.clone(), body.clone()))]
        }
        Node::Sum(binding, body) => {
            vec![here(Change::Quantified, Node::Greatest(binding.clone(), body.clone()))]
        }
        Node::Calculate(how, left, right) => {
            let other = match how {
                Arithmetic::Add => Arithmetic::Subtract,
                Arithmetic::Subtract => Arithmetic::Add,
                Arithmetic::Multiply => Arithmetic::Divide,
                Arithmetic::Divide => Arithmetic::Multiply,
            };
            vec![here(Change::Calculated, Node::Calculate(other, left.clone(), right.clone()))]
        }
        Node::Literal(number) => match expr.of_type {
            ExprType::Number(dimension) => other_numbers(number)
                .into_iter()
                .map(|other| {
                    let of = |number: Number| Quantity::of(number, dimension);
                    here(
                        Change::Number(Box::new((of(number.clone()), of(other.clone())))),
                        Node::Literal(other),
                    )
                })
                .collect(),
            _ => Vec::new(),
        },
        Node::Fact(_, _)
        | Node::Count(_, None)
        | Node::Limit(_)
        | Node::Var(_)
        | Node::Thing(_)
        | Node::Word(_) => Vec::new(),
    }
}

/// Each part left out, and the parts joined the other way.
fn joined(
    expr: &Expr,
    parts: &[Expr],
    same: fn(Vec<Expr>) -> Node,
    other: fn(Vec<Expr>) -> Node,
) -> Vec<(Change, Span, Node)> {
    let mut all = Vec::with_capacity(parts.len() + 1);
    for (place, part) in parts.iter().enumerate() {
        let mut rest = parts.to_vec();
        rest.remove(place);
        let node = match rest.pop() {
            Some(only) if rest.is_empty() => only.node,
            last => same(rest.into_iter().chain(last).collect()),
        };
        all.push((Change::LeftOut, part.at, node));
    }
    all.push((Change::Joined, expr.at, other(parts.to_vec())));
    all
}

/// The limit itself counted otherwise, and the comparison turned round.
fn other_comparisons(how: Comparison) -> [Comparison; 2] {
    match how {
        Comparison::AtLeast => [Comparison::More, Comparison::AtMost],
        Comparison::More => [Comparison::AtLeast, Comparison::Less],
        Comparison::AtMost => [Comparison::Less, Comparison::AtLeast],
        Comparison::Less => [Comparison::AtMost, Comparison::More],
        Comparison::Equal => [Comparison::AtLeast, Comparison::AtMost],
    }
}

/// Each word in turn left out or, if it stands alone, one that is absent in its place; and that one let pass too.
fn other_words(list: WordsId, words: &[WordId], absent: Option<WordId>) -> Vec<(Change, Vec<WordId>)> {
    let mut all = Vec::new();
    match (words, absent) {
        ([only], Some(absent)) => all.push((Change::Word(list, *only, absent), vec![absent])),
        ([_], None) => {}
        _ => {
            for word in words {
                let rest = words.iter().copied().filter(|other| other != word).collect();
                all.push((Change::WordLess(list, *word), rest));
            }
        }
    }
    if let Some(absent) = absent {
        let more = words.iter().copied().chain([absent]).collect();
        all.push((Change::WordMore(list, absent), more));
    }
    all
}

/// Whether a condition leaves it open that a value is this word. Where it does not, a rule that would let the word
/// pass is never asked, and no design could tell the difference.
fn leaves_open(when: &Expr, value: &Expr, word: WordId) -> bool {
    match &when.node {
        Node::And(parts) => parts.iter().all(|part| leaves_open(part, value, word)),
        Node::IsWord(of, words, not) if is_same(of, value) => words.contains(&word) != *not,
        _ => true,
    }
}

/// Whether two expressions ask for one fact of one thing, wherever they stand.
fn is_same(one: &Expr, other: &Expr) -> bool {
    match (&one.node, &other.node) {
        (Node::Var(one), Node::Var(other)) => one == other,
        (Node::Fact(None, one), Node::Fact(None, other)) => one == other,
        (Node::Fact(Some(of), one), Node::Fact(Some(from), other)) => one == other && is_same(of, from),
        _ => false,
    }
}
