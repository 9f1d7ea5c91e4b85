//! Why an outcome came out as it did: the rule held once more against the same thing, this time keeping
//! what decided. Done for what is shown, never during the run over all rules.
//!
//! What is kept is enough: whoever knew these facts and nothing else would come to the same verdict.

use crate::base::number::{Comparison, Dimension};
use crate::base::truth::Truth;
use crate::base::value::{Answer, Missing, Value, unite};
use crate::base::vocabulary::{Answers, FactId, Thing};
use crate::rulebook::checked::{CheckedRule, Stage};
use crate::rulebook::expr::typed::{Binding, Expr, ExprType, LimitId, Node};

use super::amount::Amount;
use super::applies::{applies, bind_about, list_of, others_are_no_matter, verdict_here, verdict_of_list};
use super::eval::{Bound, Scope};
use super::message::{Part, fill};
use super::verdict::{About, Decisive, Role, Verdict};

/// One side of a comparison that decided.
#[derive(Clone, PartialEq, Debug)]
pub struct Side {
    /// What it came to.
    pub amount: Amount,
    /// The rule's own number, when it is one.
    pub limit: Option<LimitId>,
    /// The fact, when it is a plain one.
    pub fact: Option<(FactId, Thing)>,
}

/// Two numbers whose comparison decided.
#[derive(Clone, PartialEq, Debug)]
pub struct Compared {
    /// The left one, as the rule is written.
    pub left: Side,
    /// How they are compared.
    pub how: Comparison,
    /// The right one.
    pub right: Side,
    /// What both are numbers of.
    pub dimension: Dimension,
    /// Whether it held.
    pub holds: Truth,
    /// What it was for.
    pub role: Role,
    /// Where it stands in the requirement: at each place where several parts come together, which of them, the outer first.
    pub under: Vec<Branch>,
}

/// One of several parts that come together.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Branch {
    /// Whether one of them is enough.
    pub any: bool,
    /// Which of them.
    pub part: usize,
}

/// Why an outcome came out as it did.
#[derive(Clone, PartialEq, Debug)]
pub struct Trace {
    /// What the rule came to, this time.
    pub verdict: Verdict,
    /// Whether it applies.
    pub applies: Truth,
    /// The facts that decided, each once: those of what is required first.
    pub decisive: Vec<Decisive>,
    /// The numbers whose comparison decided.
    pub compared: Vec<Compared>,
    /// The rule's message with its values.
    pub message: Vec<Part>,
    /// The entries that keep a decisive number from being known exactly.
    pub doubts: Vec<Missing>,
    /// What was taken for granted on the way, each once.
    pub assumed: Vec<String>,
}

/// Holds a rule against one thing once more, and keeps what decided.
pub fn replay(rule: &CheckedRule, about: About, stage: Stage, answers: &mut dyn Answers) -> Trace {
    let mut scope = Scope::new(rule, answers);
    bind_about(&mut scope, about);
    let list = match (about, &rule.each) {
        (About::List, Some(each)) => Some((each, scope.things(list_of(each)))),
        _ => None,
    };
    let verdict = match &list {
        Some((each, found)) => {
            verdict_of_list(&mut scope, stage, each, found).unwrap_or(Verdict::NotApplicable)
        }
        None => verdict_here(&mut scope, stage),
    };
    let applies = applies(&mut scope);
    let mut walk = Walk {
        scope,
        role: Role::Requires,
        decisive: Vec::new(),
        compared: Vec::new(),
        under: Vec::new(),
        turned: false,
    };
    match list {
        Some((each, found)) if !found.open || verdict == Verdict::Undetermined => {
            walk.role = Role::List;
            walk.facts(list_of(each));
        }
        Some((each, found)) if others_are_no_matter(&mut walk.scope, each, &found) => {
            walk.role = Role::List;
            walk.facts(list_of(each));
            for way in found.unseen_ways() {
                walk.scope.bind(each.binding.var, way);
                walk.verdict(if applies == Truth::False { verdict } else { Verdict::Met }, applies);
            }
        }
        _ => walk.verdict(verdict, applies),
    }
    let Walk { mut scope, mut decisive, compared, .. } = walk;
    for one in &mut decisive {
        one.origin = scope.answers.origin(one.fact, one.thing);
    }
    let mut assumed: Vec<String> =
        decisive.iter().flat_map(|one| one.origin.assumed.iter().cloned()).collect();
    assumed.sort();
    assumed.dedup();
    let doubts = decisive.iter().fold(Vec::new(), |so_far, one| match &one.value {
        Answer::Known { doubts, .. } => unite(so_far, doubts.clone()),
        Answer::Unknown(_) => so_far,
    });
    let message = fill(&mut scope, &rule.unmet);
    Trace { verdict, applies, decisive, compared, message, doubts, assumed }
}

struct Walk<'a> {
    scope: Scope<'a>,
    role: Role,
    decisive: Vec<Decisive>,
    compared: Vec<Compared>,
    under: Vec<Branch>,
    /// Whether the opposite is asked for, of which one of several parts is enough where all would be, and all where one would.
    turned: bool,
}

impl Walk<'_> {
    fn verdict(&mut self, verdict: Verdict, applies: Truth) {
        let rule = self.scope.rule();
        if matches!(verdict, Verdict::Met | Verdict::Unmet | Verdict::Undetermined) {
            let settled = verdict != Verdict::Undetermined;
            if settled || !self.scope.truth(&rule.requires).is_known() {
                self.role = Role::Requires;
                self.truth(&rule.requires);
            }
        }
        if verdict != Verdict::NotYetDue && (verdict != Verdict::Undetermined || !applies.is_known()) {
            let covered = rule.covered.iter().map(|covers| (Role::Covers, &covers.expr));
            for (role, condition) in covered.chain(rule.applies.iter().map(|own| (Role::Applies, own))) {
                if self.scope.truth(condition) == applies {
                    self.role = role;
                    self.truth(condition);
                }
            }
        }
    }

    /// Keeps what decided whether an expression holds: of its parts, those that came out as the whole did.
    fn truth(&mut self, expr: &Expr) {
        let whole = self.scope.truth(expr);
        match &expr.node {
            Node::Not(inner) => {
                self.turned = !self.turned;
                self.truth(inner);
                self.turned = !self.turned;
            }
            Node::And(parts) | Node::Or(parts) => {
                let any = matches!(expr.node, Node::Or(_)) != self.turned;
                for (number, part) in parts.iter().enumerate() {
                    if self.scope.truth(part) == whole {
                        self.within(any, number, |walk| walk.truth(part));
                    }
                }
            }
            Node::Every(binding, body, _) | Node::Some(binding, body) => {
                self.facts(&binding.things);
                let any = matches!(expr.node, Node::Some(..)) != self.turned;
                let mut number = 0;
                self.items(binding, |walk| {
                    number += 1;
                    if walk.scope.truth(body) == whole {
                        walk.within(any, number, |walk| walk.truth(body));
                    }
                });
            }
            Node::Compare(how, left, right) => self.compare(*how, left, right),
            Node::Between(value, low, high) => {
                self.compare(Comparison::AtLeast, value, low);
                self.compare(Comparison::AtMost, value, high);
            }
            _ => self.facts(expr),
        }
    }

    /// Does something within one of several parts that come together.
    fn within(&mut self, any: bool, part: usize, act: impl FnOnce(&mut Self)) {
        self.under.push(Branch { any, part });
        act(self);
        self.under.pop();
    }

    fn compare(&mut self, how: Comparison, left: &Expr, right: &Expr) {
        self.facts(left);
        self.facts(right);
        // What the book covers is no number of the requirement: its facts are kept, and say enough.
        if self.role == Role::Covers {
            return;
        }
        let ExprType::Number(dimension) = left.of_type else { return };
        let holds = self.scope.compare(how, left, right);
        let compared = Compared {
            left: self.side(left),
            how,
            right: self.side(right),
            dimension,
            holds,
            role: self.role,
            under: self.under.clone(),
        };
        let same = |known: &Compared| Compared { under: compared.under.clone(), ..known.clone() } == compared;
        if !self.compared.iter().any(same) {
            self.compared.push(compared);
        }
    }

    fn side(&mut self, expr: &Expr) -> Side {
        let amount = self.scope.amount(expr);
        let (limit, fact) = match &expr.node {
            Node::Limit(limit) => (Some(*limit), None),
            Node::Fact(of, fact) => (None, self.scope.asked_of(of.as_deref()).map(|thing| (*fact, thing))),
            _ => (None, None),
        };
        Side { amount, limit, fact }
    }

    /// Does something for each of the things of a binding, and for those that nobody has listed.
    fn items(&mut self, binding: &Binding, mut act: impl FnMut(&mut Self)) {
        let found = self.scope.things(&binding.things);
        let before = self.scope.bound(binding.var);
        let unseen = found.open.then(|| found.unseen());
        for item in found.items.into_iter().map(Bound::Thing).chain(unseen) {
            self.scope.bind(binding.var, item);
            act(self);
        }
        self.scope.bind(binding.var, before);
    }

    /// Keeps every fact that an expression asks for.
    fn facts(&mut self, expr: &Expr) {
        match &expr.node {
            Node::Fact(of, fact) => {
                if let Some(of) = of {
                    self.facts(of);
                }
                if let Some(thing) = self.scope.asked_of(of.as_deref()) {
                    self.keep(*fact, thing);
                }
            }
            Node::Count(binding, body) => {
                self.facts(&binding.things);
                if let Some(body) = body {
                    self.items(binding, |walk| walk.truth(body));
                }
            }
            Node::Sum(binding, body) | Node::Least(binding, body) | Node::Greatest(binding, body) => {
                self.facts(&binding.things);
                self.items(binding, |walk| walk.facts(body));
            }
            _ => {
                for part in expr.parts() {
                    self.facts(part);
                }
            }
        }
    }

    fn keep(&mut self, fact: FactId, thing: Thing) {
        if self.decisive.iter().any(|one| one.fact == fact && one.thing == thing) {
            return;
        }
        let value: Answer<Value> = self.scope.answers.ask(fact, thing);
        let role = self.role;
        self.decisive.push(Decisive { fact, thing, role, value, origin: Default::default() });
    }
}
