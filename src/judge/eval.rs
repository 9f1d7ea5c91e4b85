//! What an expression comes to, given what can be told of the things it speaks of.
//!
//! Truth is three-valued and numbers are ranges, so that what is not known never decides anything. How
//! much work one rule may take is bounded: beyond that the outcome is unknown, never a guess.

use crate::base::number::{Comparison, Number};
use crate::base::truth::Truth;
use crate::base::value::{Answer, AtLeast, Listed, Missing, Others, Value};
use crate::base::vocabulary::{Answers, FactId, ROOT, Thing, WordId};
use crate::rulebook::checked::CheckedRule;
use crate::rulebook::expr::typed::{Arithmetic, Binding, Expr, ExprType, IfNone, LimitId, Node, VarId};

use super::amount::Amount;

/// How many expressions are looked at for one rule and thing before it is given up.
const STEPS: u32 = 300_000;

/// How deeply expressions may lie in one another.
const DEPTH: u16 = 200;

/// What a bound variable stands for at the moment.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Bound {
    /// Nothing yet.
    Nothing,
    /// This thing.
    Thing(Thing),
    /// A thing that nobody has listed, of which no more is known than this.
    Unseen(Others),
}

/// A thing that an expression names.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Named {
    /// This one.
    Thing(Thing),
    /// One that nobody has listed.
    Unseen,
    /// One of which it cannot be told which it is.
    Unknown(Vec<Missing>),
}

/// Things that an expression names, and whether they are all of them.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Found {
    /// Those that are known.
    pub items: Vec<Thing>,
    /// Whether there can be more.
    pub open: bool,
    /// What would have to be stated to know that there are no more.
    pub missing: Vec<Missing>,
    /// What is known of any more that there are.
    pub others: Others,
}

impl Found {
    /// Things of which nothing tells that they are all, nor anything of the rest.
    fn perhaps_more(missing: Vec<Missing>) -> Self {
        Found { items: Vec::new(), open: true, missing, others: Others::default() }
    }

    /// What a variable stands for that runs over things which nobody has listed.
    #[must_use]
    pub fn unseen(&self) -> Bound {
        if self.others.iter().all(|known| known.way == 0) {
            return Bound::Unseen(self.others.clone());
        }
        self.in_way(0)
    }

    /// The same in each of the ways in which such a thing can be.
    #[must_use]
    pub fn unseen_ways(&self) -> Vec<Bound> {
        match self.others.iter().map(|known| known.way).max() {
            None | Some(0) => vec![self.unseen()],
            Some(last) => (1..=last).map(|way| self.in_way(way)).collect(),
        }
    }

    fn in_way(&self, way: u8) -> Bound {
        let holds = |known: &&AtLeast| known.way == 0 || known.way == way;
        Bound::Unseen(self.others.iter().filter(holds).cloned().collect())
    }
}

/// One rule being held against things: what its variables stand for and what its limits are.
pub struct Scope<'a> {
    /// Whom the facts are asked of.
    pub answers: &'a mut dyn Answers,
    rule: &'a CheckedRule,
    bound: Vec<Bound>,
    moved: Option<(LimitId, Number)>,
    steps: u32,
    depth: u16,
}

impl<'a> Scope<'a> {
    /// The rule with nothing bound and its limits as they stand.
    pub fn new(rule: &'a CheckedRule, answers: &'a mut dyn Answers) -> Self {
        Scope {
            answers,
            rule,
            bound: vec![Bound::Nothing; rule.variables.len()],
            moved: None,
            steps: 0,
            depth: 0,
        }
    }

    /// The same with one limit moved elsewhere.
    #[must_use]
    pub fn with_limit(mut self, limit: LimitId, to: Number) -> Self {
        self.moved = Some((limit, to));
        self
    }

    /// Does something with one limit moved elsewhere, and puts it back.
    pub fn with_limit_at<R>(&mut self, limit: LimitId, to: Number, act: impl FnOnce(&mut Self) -> R) -> R {
        let before = self.moved.replace((limit, to));
        let result = act(self);
        self.moved = before;
        result
    }

    /// The rule.
    #[must_use]
    pub fn rule(&self) -> &'a CheckedRule {
        self.rule
    }

    /// Lets a variable stand for something.
    pub fn bind(&mut self, var: VarId, to: Bound) {
        let at = usize::from(var.0);
        if at >= self.bound.len() {
            self.bound.resize(at + 1, Bound::Nothing);
        }
        if let Some(slot) = self.bound.get_mut(at) {
            *slot = to;
        }
    }

    /// What a variable stands for.
    #[must_use]
    pub fn bound(&self, var: VarId) -> Bound {
        self.bound.get(usize::from(var.0)).cloned().unwrap_or(Bound::Nothing)
    }

    /// Does something with a variable bound, and lets go of it again.
    pub fn with<R>(&mut self, var: VarId, to: Bound, act: impl FnOnce(&mut Self) -> R) -> R {
        let before = self.bound(var);
        self.bind(var, to);
        let result = act(self);
        self.bind(var, before);
        result
    }

    /// What a limit is, moved or not.
    #[must_use]
    pub fn limit(&self, id: LimitId) -> Option<Number> {
        match &self.moved {
            Some((moved, to)) if *moved == id => Some(to.clone()),
            _ => self.rule.limit(id).map(|limit| limit.value.number.clone()),
        }
    }

    /// Whether the rule took more work than it may.
    #[must_use]
    pub fn is_spent(&self) -> bool {
        self.steps >= STEPS
    }

    /// Starts counting the work anew, for the next thing.
    pub fn refresh(&mut self) {
        self.steps = 0;
    }

    /// Counts one expression; false when it is one too many.
    fn enter(&mut self) -> bool {
        if self.is_spent() || self.depth >= DEPTH {
            self.steps = STEPS;
            return false;
        }
        self.steps += 1;
        self.depth += 1;
        true
    }

    fn leave(&mut self) {
        self.depth = self.depth.saturating_sub(1);
    }

    /// Whether an expression holds.
    pub fn truth(&mut self, expr: &Expr) -> Truth {
        if !self.enter() {
            return Truth::Unknown;
        }
        let truth = self.truth_inside(expr);
        self.leave();
        if self.is_spent() { Truth::Unknown } else { truth }
    }

    fn truth_inside(&mut self, expr: &Expr) -> Truth {
        match &expr.node {
            Node::Fact(of, fact) => match self.fact(of.as_deref(), *fact) {
                Answer::Known { value: Value::Truth(holds), .. } => Truth::from(holds),
                _ => Truth::Unknown,
            },
            Node::Not(inner) => !self.truth(inner),
            Node::And(all) => self.fold(all, Truth::True, Truth::and, Truth::False),
            Node::Or(any) => self.fold(any, Truth::False, Truth::or, Truth::True),
            Node::Compare(how, left, right) => self.compare(*how, left, right),
            Node::Between(value, low, high) => self
                .compare(Comparison::AtLeast, value, low)
                .and(self.compare(Comparison::AtMost, value, high)),
            Node::IsWord(value, words, not) => {
                let truth = match self.word(value) {
                    Some(word) => Truth::from(words.contains(&word)),
                    None => self.any_word(value, |word| words.contains(&word)),
                };
                if *not { !truth } else { truth }
            }
            Node::IsThing(left, right, not) => match (self.thing(left), self.thing(right)) {
                (Named::Thing(a), Named::Thing(b)) => Truth::from((a == b) != *not),
                _ => Truth::Unknown,
            },
            Node::Every(binding, body, if_none) => self.every(binding, body, *if_none),
            Node::Some(binding, body) => self.some(binding, body),
            _ => Truth::Unknown,
        }
    }

    fn fold(
        &mut self,
        parts: &[Expr],
        start: Truth,
        join: fn(Truth, Truth) -> Truth,
        settled: Truth,
    ) -> Truth {
        let mut so_far = start;
        for part in parts {
            so_far = join(so_far, self.truth(part));
            if so_far == settled {
                break;
            }
        }
        so_far
    }

    fn every(&mut self, binding: &Binding, body: &Expr, if_none: IfNone) -> Truth {
        let found = self.things(&binding.things);
        if found.items.is_empty() && !found.open {
            return none_means(if_none);
        }
        let mut so_far = Truth::True;
        for item in &found.items {
            so_far = so_far.and(self.with(binding.var, Bound::Thing(*item), |scope| scope.truth(body)));
            if so_far == Truth::False {
                return Truth::False;
            }
        }
        if !found.open {
            return so_far;
        }
        let of_others = self.with(binding.var, found.unseen(), |scope| scope.truth(body));
        if found.items.is_empty() {
            return if none_means(if_none) == of_others { of_others } else { Truth::Unknown };
        }
        so_far.and(if of_others == Truth::True { Truth::True } else { Truth::Unknown })
    }

    fn some(&mut self, binding: &Binding, body: &Expr) -> Truth {
        let found = self.things(&binding.things);
        let mut so_far = Truth::False;
        for item in &found.items {
            so_far = so_far.or(self.with(binding.var, Bound::Thing(*item), |scope| scope.truth(body)));
            if so_far == Truth::True {
                return Truth::True;
            }
        }
        if !found.open {
            return so_far;
        }
        let of_others = self.with(binding.var, found.unseen(), |scope| scope.truth(body));
        so_far.or(if of_others == Truth::False { Truth::False } else { Truth::Unknown })
    }

    /// Whether one stands to the other as asked; numbers, or words of an ordered list.
    pub fn compare(&mut self, how: Comparison, left: &Expr, right: &Expr) -> Truth {
        if matches!(left.of_type, ExprType::Word(_)) {
            return match (self.word(left), self.word(right)) {
                (Some(a), Some(b)) => Truth::from(words_stand(a, how, b)),
                (Some(a), None) => self.any_word(right, |b| words_stand(a, how, b)),
                (None, Some(b)) => self.any_word(left, |a| words_stand(a, how, b)),
                (None, None) => Truth::Unknown,
            };
        }
        let (left, right) = (self.amount(left), self.amount(right));
        left.compare(how, &right)
    }

    /// Whether something holds of a word that is not known, whichever of its list it is.
    fn any_word(&self, value: &Expr, holds: impl Fn(WordId) -> bool) -> Truth {
        let count = u16::try_from(self.words_in(value)).unwrap_or(0);
        match (0..count).map(WordId).filter(|word| holds(*word)).count() {
            _ if count == 0 => Truth::Unknown,
            0 => Truth::False,
            fitting if fitting == usize::from(count) => Truth::True,
            _ => Truth::Unknown,
        }
    }

    /// What a number comes to.
    pub fn amount(&mut self, expr: &Expr) -> Amount {
        if !self.enter() {
            return Amount::UNKNOWN;
        }
        let amount = self.amount_inside(expr);
        self.leave();
        if self.is_spent() { Amount::UNKNOWN } else { amount }
    }

    fn amount_inside(&mut self, expr: &Expr) -> Amount {
        match &expr.node {
            Node::Literal(number) => Amount::Known(number.clone()),
            Node::Limit(id) => self.limit(*id).map_or(Amount::UNKNOWN, Amount::Known),
            Node::Fact(of, fact) => match self.fact(of.as_deref(), *fact) {
                Answer::Known { value: Value::Number(number), .. } => Amount::Known(number),
                _ => {
                    let (low, high) = self.answers.domain(*fact);
                    Amount::Within(self.least_of_unseen(of.as_deref(), *fact).or(low), high)
                }
            },
            Node::Negate(inner) => self.amount(inner).negate(),
            Node::Calculate(how, left, right) => {
                let (left, right) = (self.amount(left), self.amount(right));
                match how {
                    Arithmetic::Add => left.add(&right),
                    Arithmetic::Subtract => left.subtract(&right),
                    Arithmetic::Multiply => left.multiply(&right),
                    Arithmetic::Divide => left.divide(&right),
                }
            }
            Node::Count(binding, body) => self.count(binding, body.as_deref()),
            Node::Sum(binding, body) => self.sum(binding, body),
            Node::Least(binding, body) => self.extreme(binding, body, false),
            Node::Greatest(binding, body) => self.extreme(binding, body, true),
            _ => Amount::UNKNOWN,
        }
    }

    /// What a number of a thing that nobody has listed is never below, where that is known.
    fn least_of_unseen(&self, of: Option<&Expr>, fact: FactId) -> Option<Number> {
        let Node::Var(var) = of?.node else { return None };
        let Bound::Unseen(others) = self.bound(var) else { return None };
        others.iter().find(|known| known.fact == fact).map(|known| known.number.clone())
    }

    fn count(&mut self, binding: &Binding, body: Option<&Expr>) -> Amount {
        let found = self.things(&binding.things);
        let holds = |scope: &mut Self, of: Bound| match body {
            Some(body) => scope.with(binding.var, of, |scope| scope.truth(body)),
            None => Truth::True,
        };
        let (mut surely, mut perhaps) = (0, 0);
        for item in &found.items {
            match holds(self, Bound::Thing(*item)) {
                Truth::True => surely += 1,
                Truth::Unknown => perhaps += 1,
                Truth::False => {}
            }
        }
        let more = found.open && holds(self, found.unseen()) != Truth::False;
        if !more && perhaps == 0 {
            return Amount::whole(surely);
        }
        let end = |count: usize| Amount::whole(count).number().cloned();
        Amount::Within(end(surely), if more { None } else { end(surely + perhaps) })
    }

    fn sum(&mut self, binding: &Binding, body: &Expr) -> Amount {
        let found = self.things(&binding.things);
        let mut so_far = Amount::whole(0);
        for item in &found.items {
            let next = self.with(binding.var, Bound::Thing(*item), |scope| scope.amount(body));
            so_far = so_far.add(&next);
        }
        if !found.open {
            return so_far;
        }
        let of_others = self.with(binding.var, found.unseen(), |scope| scope.amount(body));
        let low = if of_others.at_least_nought() { so_far.low().cloned() } else { None };
        let high = if of_others.negate().at_least_nought() { so_far.high().cloned() } else { None };
        Amount::Within(low, high)
    }

    /// The least or the greatest of some amounts: bounded on one side by those that are known.
    fn extreme(&mut self, binding: &Binding, body: &Expr, greatest: bool) -> Amount {
        let found = self.things(&binding.things);
        if found.items.is_empty() {
            return Amount::UNKNOWN;
        }
        let mut amounts = Vec::with_capacity(found.items.len() + 1);
        for item in &found.items {
            amounts.push(self.with(binding.var, Bound::Thing(*item), |scope| scope.amount(body)));
        }
        let pick = |list: Vec<&Number>| {
            if greatest { Number::greatest(list) } else { Number::least(list) }
        };
        if !found.open && amounts.iter().all(|amount| amount.number().is_some()) {
            let numbers = amounts.iter().filter_map(Amount::number).collect();
            return pick(numbers).map_or(Amount::UNKNOWN, Amount::Known);
        }
        // The end that any single known amount already gives.
        let near = |amount: &Amount| if greatest { amount.low().cloned() } else { amount.high().cloned() };
        // The end that only all of them together give.
        let far = |amount: &Amount| if greatest { amount.high().cloned() } else { amount.low().cloned() };
        let near_ends: Vec<Number> = amounts.iter().filter_map(near).collect();
        if found.open {
            amounts.push(self.with(binding.var, found.unseen(), |scope| scope.amount(body)));
        }
        let far_ends: Option<Vec<Number>> = amounts.iter().map(far).collect();
        let near = pick(near_ends.iter().collect());
        let far = far_ends.and_then(|ends| pick(ends.iter().collect()));
        if greatest { Amount::Within(near, far) } else { Amount::Within(far, near) }
    }

    /// The word a value is, if it can be told.
    pub fn word(&mut self, expr: &Expr) -> Option<WordId> {
        match &expr.node {
            Node::Word(word) => Some(*word),
            Node::Fact(of, fact) => match self.fact(of.as_deref(), *fact) {
                Answer::Known { value: Value::Word(word), .. } => Some(word),
                _ => None,
            },
            _ => None,
        }
    }

    /// The thing that is named.
    pub fn thing(&mut self, expr: &Expr) -> Named {
        match &expr.node {
            Node::Thing(thing) => Named::Thing(*thing),
            Node::Var(var) => match self.bound(*var) {
                Bound::Thing(thing) => Named::Thing(thing),
                Bound::Unseen(_) | Bound::Nothing => Named::Unseen,
            },
            Node::Fact(of, fact) => match self.fact(of.as_deref(), *fact) {
                Answer::Known { value: Value::Thing(thing), .. } => Named::Thing(thing),
                Answer::Known { .. } => Named::Unknown(Vec::new()),
                Answer::Unknown(missing) => Named::Unknown(missing),
            },
            _ => Named::Unknown(Vec::new()),
        }
    }

    /// The things that are named.
    pub fn things(&mut self, expr: &Expr) -> Found {
        match &expr.node {
            Node::Fact(of, fact) => match self.fact(of.as_deref(), *fact) {
                Answer::Known { value: Value::Things(Listed { items, open, others }), .. } => {
                    Found { items, open: !open.is_empty(), missing: open, others }
                }
                Answer::Known { .. } => Found::perhaps_more(Vec::new()),
                Answer::Unknown(missing) => Found::perhaps_more(missing),
            },
            _ => Found::perhaps_more(Vec::new()),
        }
    }

    /// What a fact is. Of a thing that cannot be told, what is missing is what would tell which it is.
    pub fn fact(&mut self, of: Option<&Expr>, fact: FactId) -> Answer<Value> {
        let thing = match of {
            None => ROOT,
            Some(expr) => {
                if !self.enter() {
                    return Answer::Unknown(Vec::new());
                }
                let named = self.thing(expr);
                self.leave();
                match named {
                    Named::Thing(thing) => thing,
                    Named::Unseen => return Answer::Unknown(Vec::new()),
                    Named::Unknown(missing) => return Answer::Unknown(missing),
                }
            }
        };
        self.answers.ask(fact, thing)
    }

    /// The thing a fact is asked of, if it can be told.
    pub fn asked_of(&mut self, of: Option<&Expr>) -> Option<Thing> {
        match of {
            None => Some(ROOT),
            Some(expr) => match self.thing(expr) {
                Named::Thing(thing) => Some(thing),
                _ => None,
            },
        }
    }

    /// From how many words a value is one; none for what is no word.
    #[must_use]
    pub fn words_in(&self, value: &Expr) -> usize {
        match value.of_type {
            ExprType::Word(list) => {
                self.answers.vocabulary().word_list(list).map_or(0, |list| list.words.len())
            }
            _ => 0,
        }
    }
}

/// What "every" comes to when there are none.
pub(crate) fn none_means(if_none: IfNone) -> Truth {
    match if_none {
        IfNone::Met => Truth::True,
        IfNone::Unmet => Truth::False,
        IfNone::Undetermined => Truth::Unknown,
    }
}

/// Whether two words of an ordered list stand as asked.
pub(crate) fn words_stand(a: WordId, how: Comparison, b: WordId) -> bool {
    match how {
        Comparison::Equal => a == b,
        Comparison::Less => a < b,
        Comparison::AtMost => a <= b,
        Comparison::More => a > b,
        Comparison::AtLeast => a >= b,
    }
}
