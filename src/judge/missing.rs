//! What would have to be stated to decide a verdict that cannot be told: what of the rule is still open,
//! and the entries that would close it.

use std::collections::BTreeSet;

use crate::base::number::{Comparison, Number, Ratio};
use crate::base::text::{SourceId, Span};
use crate::base::truth::Truth;
use crate::base::value::{Answer, EntryPath, Missing, Reason, Value, unite};
use crate::base::vocabulary::{Answers, FactId, ROOT, Thing, WordId};
use crate::rulebook::expr::typed::{Binding, Expr, ExprType, IfNone, Node};

use super::amount::Amount;
use super::eval::{Bound, Named, Scope, words_stand};
use super::formula::{Formula, Open, Question, QuestionId, Subject, Test};

/// The smallest list of entries that decides the rule for what is bound in the scope.
pub fn smallest(scope: &mut Scope<'_>) -> Vec<Missing> {
    let spent = scope.is_spent();
    scope.refresh();
    let rule = scope.rule();
    let mut builder = Builder { scope, questions: Vec::new(), unseen: Vec::new() };
    let applies = rule.conditions().map(|condition| builder.formula(condition)).collect();
    let applies = all(applies);
    let requires = builder.formula(&rule.requires);
    let spent = spent || builder.scope.is_spent();
    let open = Open { applies, requires, questions: builder.questions };
    if spent {
        return vec![nothing_helps("there is more to compare than one rule may take")];
    }
    let missing = open.smallest();
    if missing.is_empty() {
        return vec![nothing_helps("a number of the rule cannot be worked out")];
    }
    missing
}

/// What would have to be stated before a list counts as complete.
pub(crate) fn of_list(scope: &mut Scope<'_>, list: &Expr) -> Vec<Missing> {
    let found = scope.things(list);
    let mut missing = unite(found.missing, Vec::new());
    if missing.is_empty() {
        missing = bearing_on(scope, list, &Reason::NotSaidComplete);
    }
    missing
}

/// Stands where no entry would help; the entry has no name.
fn nothing_helps(why: &str) -> Missing {
    Missing { entry: EntryPath::new(""), reason: Reason::NotComputable(why.to_owned()), at: None }
}

struct Builder<'s, 'a> {
    scope: &'s mut Scope<'a>,
    questions: Vec<Question>,
    /// What is missing of the things that nobody has listed, while one of them is spoken of.
    unseen: Vec<Missing>,
}

impl Builder<'_, '_> {
    /// What is left of a truth once everything known is worked in.
    fn formula(&mut self, expr: &Expr) -> Formula {
        match self.scope.truth(expr) {
            Truth::True => return Formula::Known(true),
            Truth::False => return Formula::Known(false),
            Truth::Unknown => {}
        }
        match &expr.node {
            Node::Not(inner) => Formula::Not(Box::new(self.formula(inner))),
            Node::And(parts) => all(parts.iter().map(|part| self.formula(part)).collect()),
            Node::Or(parts) => any(parts.iter().map(|part| self.formula(part)).collect()),
            Node::Every(binding, body, if_none) => self.every(binding, body, *if_none, expr),
            Node::Some(binding, body) => self.some(binding, body),
            Node::Between(value, low, high) => all(vec![
                self.comparison(Comparison::AtLeast, value, low),
                self.comparison(Comparison::AtMost, value, high),
            ]),
            Node::Compare(how, left, right) => self.comparison(*how, left, right),
            Node::IsWord(value, words, not) => {
                let open = self.word_question(value, words.iter().copied().collect());
                if *not { Formula::Not(Box::new(open)) } else { open }
            }
            Node::IsThing(left, right, not) => {
                let open = self.whole(Node::IsThing(left.clone(), right.clone(), false), expr);
                if *not { Formula::Not(Box::new(open)) } else { open }
            }
            Node::Fact(of, fact) => {
                let id = self.value_question(expr, of.as_deref(), *fact);
                Formula::Open(id, Test::Holds)
            }
            _ => self.whole(expr.node.clone(), expr),
        }
    }

    fn every(&mut self, binding: &Binding, body: &Expr, if_none: IfNone, whole: &Expr) -> Formula {
        let found = self.scope.things(&binding.things);
        if found.items.is_empty() && !found.open {
            // Only "undetermined if there are none" comes here: nothing that is stated can change it.
            let reason = Reason::NotComputable("there are none".to_owned());
            let missing = bearing_on(self.scope, &binding.things, &reason);
            let subject = Subject::Asked(settled(self.scope, whole));
            return Formula::Never(self.question(subject, missing, whole));
        }
        let mut parts = self.items(binding, &found.items, |builder| builder.formula(body));
        if found.open {
            let if_none = if parts.is_empty() { if_none } else { IfNone::Met };
            parts.push(self.others(binding, if_none, |builder| builder.formula(body)));
        }
        all(parts)
    }

    fn some(&mut self, binding: &Binding, body: &Expr) -> Formula {
        let found = self.scope.things(&binding.things);
        let mut parts = self.items(binding, &found.items, |builder| builder.formula(body));
        if found.open {
            parts.push(self.others(binding, IfNone::Unmet, |builder| builder.formula(body)));
        }
        any(parts)
    }

    fn items(
        &mut self,
        binding: &Binding,
        items: &[Thing],
        mut of: impl FnMut(&mut Self) -> Formula,
    ) -> Vec<Formula> {
        let before = self.scope.bound(binding.var);
        let mut parts = Vec::with_capacity(items.len());
        for item in items {
            self.scope.bind(binding.var, Bound::Thing(*item));
            parts.push(of(self));
        }
        self.scope.bind(binding.var, before);
        parts
    }

    /// Whether there are things that nobody has listed, and what is left for one of them.
    fn one_of_others(
        &mut self,
        binding: &Binding,
        of: impl FnOnce(&mut Self) -> Formula,
    ) -> (QuestionId, Formula) {
        let list = of_list(self.scope, &binding.things);
        let unseen = self.scope.things(&binding.things).unseen();
        let outside = self.unseen.clone();
        self.unseen = unite(list.clone(), outside.clone());
        let before = self.scope.bound(binding.var);
        self.scope.bind(binding.var, unseen);
        let of_others = of(self);
        self.scope.bind(binding.var, before);
        self.unseen = outside;
        let subject = Subject::Others(settled(self.scope, &binding.things));
        (self.question(subject, list, &binding.things), of_others)
    }

    /// What is left for things that nobody has listed: there may be none, or such that it holds, or not.
    fn others(
        &mut self,
        binding: &Binding,
        if_none: IfNone,
        of: impl FnOnce(&mut Self) -> Formula,
    ) -> Formula {
        let (question, of_others) = self.one_of_others(binding, of);
        let others = Formula::Open(question, Test::Holds);
        match (if_none, of_others) {
            (IfNone::Met, Formula::Known(true)) => Formula::Known(true),
            (IfNone::Unmet, Formula::Known(false)) => Formula::Known(false),
            (IfNone::Met, of_others) => any(vec![Formula::Not(Box::new(others)), of_others]),
            (IfNone::Unmet, of_others) => all(vec![others, of_others]),
            (IfNone::Undetermined, of_others) => any(vec![
                all(vec![others.clone(), of_others]),
                all(vec![Formula::Not(Box::new(others)), Formula::Never(question)]),
            ]),
        }
    }

    /// What is left of a comparison. The least of some is at least so much when each of them is.
    fn comparison(&mut self, how: Comparison, left: &Expr, right: &Expr) -> Formula {
        match self.scope.compare(how, left, right) {
            Truth::True => return Formula::Known(true),
            Truth::False => return Formula::Known(false),
            Truth::Unknown => {}
        }
        if matches!(left.of_type, ExprType::Word(_)) {
            return self.word_comparison(how, left, right);
        }
        if let Some(formula) = self.expanded(how, left, right) {
            return formula;
        }
        if let Some(formula) = self.expanded(how.mirrored(), right, left) {
            return formula;
        }
        let (how, left, right, not) = match how {
            Comparison::Less => (Comparison::AtLeast, left, right, true),
            Comparison::AtMost => (Comparison::AtLeast, right, left, false),
            Comparison::More => (Comparison::AtLeast, right, left, true),
            Comparison::Equal | Comparison::AtLeast => (how, left, right, false),
        };
        let node = Node::Compare(how, Box::new(left.clone()), Box::new(right.clone()));
        let missing = self.wanting(&[left, right]);
        let subject = self.asked(node, left);
        let open = Formula::Open(self.question(subject, missing, left), Test::Holds);
        if not { Formula::Not(Box::new(open)) } else { open }
    }

    /// A comparison whose left side can be taken apart: one fact against a number, the least or greatest
    /// of some, a count of those of which something holds.
    fn expanded(&mut self, how: Comparison, left: &Expr, right: &Expr) -> Option<Formula> {
        match &left.node {
            Node::Fact(of, fact) => {
                let Amount::Known(Number::Exact(limit)) = self.scope.amount(right) else { return None };
                let id = self.value_question(left, of.as_deref(), *fact);
                Some(Formula::Open(id, Test::Number(how, limit)))
            }
            Node::Least(binding, body) | Node::Greatest(binding, body) if how != Comparison::Equal => {
                let found = self.scope.things(&binding.things);
                if found.items.is_empty() {
                    return None;
                }
                let upward = matches!(how, Comparison::More | Comparison::AtLeast);
                let each_of_them = upward == matches!(left.node, Node::Least(..));
                let of = |builder: &mut Self| builder.comparison(how, body, right);
                let mut parts = self.items(binding, &found.items, of);
                if found.open {
                    let if_none = if each_of_them { IfNone::Met } else { IfNone::Unmet };
                    parts.push(self.others(binding, if_none, of));
                }
                Some(if each_of_them { all(parts) } else { any(parts) })
            }
            Node::Count(binding, body) => {
                let Amount::Known(Number::Exact(limit)) = self.scope.amount(right) else { return None };
                let found = self.scope.things(&binding.things);
                let of = |builder: &mut Self| match body {
                    Some(body) => builder.formula(body),
                    None => Formula::Known(true),
                };
                let parts = self.items(binding, &found.items, of);
                let others = found.open.then(|| self.one_of_others(binding, of));
                let others = others.map(|(question, of_others)| (question, Box::new(of_others)));
                Some(Formula::Tally(parts, others, how, limit))
            }
            _ => None,
        }
    }

    fn word_comparison(&mut self, how: Comparison, left: &Expr, right: &Expr) -> Formula {
        let fitting = |scope: &mut Scope<'_>, open: &Expr, how: Comparison, word: WordId| {
            let count = u16::try_from(scope.words_in(open)).unwrap_or(0);
            (0..count).map(WordId).filter(|other| words_stand(*other, how, word)).collect()
        };
        if let Some(word) = self.scope.word(right) {
            let words = fitting(self.scope, left, how, word);
            return self.word_question(left, words);
        }
        if let Some(word) = self.scope.word(left) {
            let words = fitting(self.scope, right, how.mirrored(), word);
            return self.word_question(right, words);
        }
        let node = Node::Compare(how, Box::new(left.clone()), Box::new(right.clone()));
        let missing = self.wanting(&[left, right]);
        let subject = self.asked(node, left);
        Formula::Open(self.question(subject, missing, left), Test::Holds)
    }

    fn word_question(&mut self, value: &Expr, words: BTreeSet<WordId>) -> Formula {
        if let Node::Fact(of, fact) = &value.node {
            let id = self.value_question(value, of.as_deref(), *fact);
            return Formula::Open(id, Test::Words(words));
        }
        let node = Node::IsWord(Box::new(value.clone()), words.into_iter().collect(), false);
        let missing = self.wanting(&[value]);
        let subject = self.asked(node, value);
        Formula::Open(self.question(subject, missing, value), Test::Holds)
    }

    /// The question what a fact is.
    fn value_question(&mut self, value: &Expr, of: Option<&Expr>, fact: FactId) -> QuestionId {
        let missing = self.wanting(&[value]);
        let subject = match self.scope.asked_of(of) {
            Some(thing) => Subject::Fact(fact, thing),
            None => Subject::Asked(settled(self.scope, value)),
        };
        self.question(subject, missing, value)
    }

    /// A question about a truth that is no test of a single fact.
    fn whole(&mut self, node: Node, expr: &Expr) -> Formula {
        let missing = self.wanting(&[expr]);
        let subject = self.asked(node, expr);
        Formula::Open(self.question(subject, missing, expr), Test::Holds)
    }

    fn asked(&mut self, node: Node, near: &Expr) -> Subject {
        Subject::Asked(settled(self.scope, &Expr { node, of_type: ExprType::Truth, at: near.at }))
    }

    /// The entries that would tell what some expressions come to.
    fn wanting(&mut self, of: &[&Expr]) -> Vec<Missing> {
        let mut missing = Vec::new();
        for expr in of {
            missing = unite(missing, why(self.scope, expr));
            if speaks_of_unseen(self.scope, expr) {
                missing = unite(missing, self.unseen.clone());
            }
        }
        if missing.is_empty() {
            for expr in of {
                missing = unite(missing, bearing_on(self.scope, expr, &Reason::Imprecise));
            }
        }
        missing
    }

    fn question(&mut self, subject: Subject, missing: Vec<Missing>, of: &Expr) -> QuestionId {
        if let Some(known) = self.questions.iter().position(|question| question.subject == subject) {
            return known;
        }
        let bounds = match of.of_type {
            ExprType::Number(_) => {
                let amount = self.scope.amount(of);
                (amount.low().map(Number::low), amount.high().map(Number::high))
            }
            _ => (None::<Ratio>, None),
        };
        let words = self.scope.words_in(of);
        self.questions.push(Question { subject, missing, bounds, words });
        self.questions.len() - 1
    }
}

fn all(parts: Vec<Formula>) -> Formula {
    let mut left: Vec<Formula> = parts.into_iter().filter(|part| *part != Formula::Known(true)).collect();
    match left.len() {
        1 => left.remove(0),
        _ => Formula::All(left),
    }
}

fn any(parts: Vec<Formula>) -> Formula {
    let mut left: Vec<Formula> = parts.into_iter().filter(|part| *part != Formula::Known(false)).collect();
    match left.len() {
        1 => left.remove(0),
        _ => Formula::Any(left),
    }
}

/// Why an expression is not known, or not known exactly: the entries that would tell.
pub(crate) fn why(scope: &mut Scope<'_>, expr: &Expr) -> Vec<Missing> {
    let is_known = match expr.of_type {
        ExprType::Number(_) => scope.amount(expr).is_point(),
        ExprType::Truth => scope.truth(expr).is_known(),
        _ => false,
    };
    if is_known {
        return Vec::new();
    }
    match &expr.node {
        Node::Literal(_) | Node::Limit(_) | Node::Var(_) | Node::Thing(_) | Node::Word(_) => Vec::new(),
        Node::Fact(of, fact) => match scope.fact(of.as_deref(), *fact) {
            Answer::Unknown(missing) => missing,
            Answer::Known { value: Value::Things(listed), .. } => listed.open,
            Answer::Known { doubts, .. } => doubts,
        },
        Node::Count(binding, body) => why_of_each(scope, binding, body.as_deref()),
        Node::Sum(binding, body) | Node::Least(binding, body) | Node::Greatest(binding, body) => {
            why_of_each(scope, binding, Some(body))
        }
        Node::Every(binding, body, _) | Node::Some(binding, body) => why_of_each(scope, binding, Some(body)),
        _ => expr.parts().into_iter().fold(Vec::new(), |so_far, part| unite(so_far, why(scope, part))),
    }
}

fn why_of_each(scope: &mut Scope<'_>, binding: &Binding, body: Option<&Expr>) -> Vec<Missing> {
    let found = scope.things(&binding.things);
    let mut missing = if found.open { of_list(scope, &binding.things) } else { Vec::new() };
    let Some(body) = body else { return missing };
    let unseen = found.open.then(|| found.unseen());
    for item in found.items.into_iter().map(Bound::Thing).chain(unseen) {
        missing = unite(missing, scope.with(binding.var, item, |scope| why(scope, body)));
    }
    missing
}

/// Whether an expression speaks of a thing that nobody has listed.
fn speaks_of_unseen(scope: &Scope<'_>, expr: &Expr) -> bool {
    let mut found = false;
    expr.walk(&mut |part| {
        found |= matches!(&part.node, Node::Var(var) if matches!(scope.bound(*var), Bound::Unseen(_)));
    });
    found
}

/// The entries that an expression rests on, for one that is not known though nothing says what is missing.
pub(crate) fn bearing_on(scope: &mut Scope<'_>, expr: &Expr, reason: &Reason) -> Vec<Missing> {
    let mut asked: Vec<(FactId, Thing)> = Vec::new();
    let mut facts = Vec::new();
    expr.walk(&mut |part| {
        if let Node::Fact(of, fact) = &part.node {
            facts.push((of.as_deref(), *fact));
        }
    });
    for (of, fact) in facts {
        if let Some(thing) = scope.asked_of(of) {
            asked.push((fact, thing));
        }
    }
    let mut missing = Vec::new();
    for (fact, thing) in &asked {
        let origin = scope.answers.origin(*fact, *thing);
        missing.extend(origin.stated.iter().map(|stated| Missing {
            entry: stated.entry.clone(),
            reason: reason.clone(),
            at: Some(stated.at),
        }));
    }
    if missing.is_empty() {
        let named = asked.last().copied();
        missing.extend(named.map(|(fact, thing)| Missing {
            entry: path_of(scope.answers, fact, thing),
            reason: reason.clone(),
            at: scope.answers.place_of(thing),
        }));
    }
    unite(missing, Vec::new())
}

/// The path by which a fact is spoken of when it rests on no entry: the thing and the fact's name.
pub(crate) fn path_of(answers: &dyn Answers, fact: FactId, thing: Thing) -> EntryPath {
    let name = answers.vocabulary().fact(fact).map_or("", |shape| shape.name.as_str());
    if thing == ROOT { EntryPath::new(name) } else { EntryPath::new(answers.name_of(thing)).key(name) }
}

/// An expression with its variables replaced by what they stand for and its places left out, so that two
/// that ask the same are the same.
fn settled(scope: &mut Scope<'_>, expr: &Expr) -> Expr {
    let mut settled = expr.clone();
    settle(scope, &mut settled);
    settled
}

fn settle(scope: &mut Scope<'_>, expr: &mut Expr) {
    expr.at = Span::new(SourceId(0), 0, 0);
    if matches!(expr.of_type, ExprType::Thing(_))
        && let Named::Thing(thing) = scope.thing(expr)
    {
        expr.node = Node::Thing(thing);
    }
    let inner = match &expr.node {
        Node::Every(binding, ..)
        | Node::Some(binding, _)
        | Node::Count(binding, _)
        | Node::Sum(binding, _)
        | Node::Least(binding, _)
        | Node::Greatest(binding, _) => Some(binding.var),
        _ => None,
    };
    let before = inner.map(|var| (var, scope.bound(var)));
    if let Some(var) = inner {
        scope.bind(var, Bound::Nothing);
    }
    for part in expr.parts_mut() {
        settle(scope, part);
    }
    if let Some((var, before)) = before {
        scope.bind(var, before);
    }
}
