//! Whether the rules of a book do what their authors say: every case is run, and every limit is moved onto
//! the value that a case holds against it, and a step to either side.
//!
//! Hand-written cases are for meaning. That "at least" includes the limit and "more than" does not is shown
//! by moving the limit, not by writing cases that sit on it.

use crate::base::number::{Number, Ratio};
use crate::base::problem::Problem;
use crate::base::text::Span;
use crate::base::vocabulary::{Answers, Vocabulary};
use crate::rulebook::cases::{self, Case};
use crate::rulebook::checked::{CheckedBook, CheckedRule, Limit, LimitWords, Stage};
use crate::rulebook::expr::typed::{Binding, Expr, ExprType, LimitId, Node};

use super::applies::{Judged, bind_about, judge_rule, verdict_here};
use super::eval::{Bound, Scope};
use super::mutants::{Change, Tried, mutants};
use super::verdict::{About, Verdict};

/// What is done with the design of a case: it is asked, at the stage it is at.
pub type Act<'a> = &'a mut dyn FnMut(&mut dyn Answers, Stage);

/// Whoever can lay a case over its base design.
pub trait Designs {
    /// What the rules are written in.
    fn vocabulary(&self) -> &Vocabulary;

    /// Lays a case over its base design and lets `act` ask of what comes out, once.
    ///
    /// # Errors
    /// What is wrong with the case or its base design; then nothing is asked.
    fn with_case(&mut self, book: &CheckedBook, case: &Case, act: Act<'_>) -> Result<(), Vec<Problem>>;
}

/// How a case came out.
#[derive(Clone, PartialEq, Debug)]
pub enum Came {
    /// As its author says.
    AsSaid,
    /// Otherwise: with this verdict.
    Otherwise(Verdict),
    /// The rule is asked of no thing of that name.
    NoSuchThing,
    /// The rule is asked of several things that come out differently, and the case does not say which it means.
    SeveralThings,
    /// The case could not be laid over its base design.
    NotLaid(Vec<Problem>),
}

/// A case that was run.
#[derive(Clone, PartialEq, Debug)]
pub struct CaseRun {
    /// What it shows, as its author says.
    pub claim: String,
    /// Where it stands.
    pub at: Span,
    /// What must come out.
    pub expected: Verdict,
    /// How it came out.
    pub came: Came,
}

/// What was seen of one limit.
#[derive(Clone, PartialEq, Debug)]
pub struct LimitProof {
    /// Its name.
    pub name: String,
    /// Where it stands.
    pub at: Span,
    /// How its words place it.
    pub words: LimitWords,
    /// In how many cases moving it turned the verdict exactly where its words say.
    pub turned: usize,
    /// In how many cases moving it turned the verdict, but its value is only known within bounds, so that the
    /// limit itself could not be put to the test.
    pub turned_about: usize,
    /// Claims of the cases in which the verdict on the limit itself is not what the words say.
    pub wrong: Vec<String>,
}

impl LimitProof {
    /// Whether some case decides it and none contradicts its words.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.wrong.is_empty() && self.turned + self.turned_about > 0
    }
}

/// What was seen of one rule.
#[derive(Clone, PartialEq, Debug)]
pub struct RuleProof {
    /// The rule, by its place in the book.
    pub rule: usize,
    /// Its name.
    pub name: String,
    /// Its cases.
    pub cases: Vec<CaseRun>,
    /// The verdicts for which it has no case that came out as said.
    pub lacking: Vec<Verdict>,
    /// Its limits; those that have no words are not moved.
    pub limits: Vec<LimitProof>,
    /// In how many ways it was changed to see whether its cases notice.
    pub tried: usize,
    /// The changes that no case noticed.
    pub survivors: Vec<Survivor>,
}

/// A change of a rule that none of its cases noticed.
#[derive(Clone, PartialEq, Debug)]
pub struct Survivor {
    /// What was changed.
    pub change: Change,
    /// Where.
    pub at: Span,
}

impl RuleProof {
    /// Whether a case comes out otherwise than its author says, or a limit turns where its words do not. A case that is
    /// lacking contradicts nothing.
    #[must_use]
    pub fn is_contradicted(&self) -> bool {
        self.cases.iter().any(|case| case.came != Came::AsSaid)
            || self.limits.iter().any(|limit| !limit.wrong.is_empty())
    }

    /// Whether nothing is wrong with it.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.lacking.is_empty()
            && self.cases.iter().all(|case| case.came == Came::AsSaid)
            && self.limits.iter().all(LimitProof::holds)
    }
}

/// What was seen of a book.
#[derive(Clone, PartialEq, Debug)]
pub struct ProofReport {
    /// The book's name.
    pub book: String,
    /// Its rules, in the order of the book.
    pub rules: Vec<RuleProof>,
}

impl ProofReport {
    /// Whether nothing is wrong with any of its rules.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.rules.iter().all(RuleProof::holds)
    }

    /// In how many ways its rules were changed, and how many of these changes their cases noticed.
    #[must_use]
    pub fn changes(&self) -> (usize, usize) {
        let tried = self.rules.iter().map(|rule| rule.tried).sum();
        let unseen: usize = self.rules.iter().map(|rule| rule.survivors.len()).sum();
        (tried, tried - unseen)
    }

    /// How many cases were run.
    #[must_use]
    pub fn cases(&self) -> usize {
        self.rules.iter().map(|rule| rule.cases.len()).sum()
    }
}

/// Proves one rule of a book.
pub fn prove_rule(
    book: &CheckedBook,
    at: usize,
    rule: &CheckedRule,
    cases: &[Case],
    tried: Tried,
    designs: &mut dyn Designs,
) -> RuleProof {
    let mut own = Trial::of(rule);
    let mutants = mutants(rule, tried, designs.vocabulary());
    let mut others: Vec<Trial<'_>> = mutants.iter().map(|mutant| Trial::of(&mutant.rule)).collect();
    for case in cases {
        let laid = designs.with_case(book, case, &mut |answers, stage| {
            own.run(case, stage, answers);
            for other in others.iter_mut().filter(|other| !other.failed()) {
                other.run(case, stage, answers);
            }
        });
        if let Err(problems) = laid {
            own.note(case, Came::NotLaid(problems));
        }
    }
    let (lacking, runs, limits) = own.end();
    let mut proof = RuleProof {
        rule: at,
        name: rule.name.clone(),
        lacking,
        cases: runs,
        limits,
        tried: mutants.len(),
        survivors: Vec::new(),
    };
    // Of a rule that is not proven nothing can be said by changing it.
    if proof.holds() {
        let unseen = others.into_iter().map(Trial::holds).zip(&mutants);
        proof.survivors = unseen
            .filter(|(holds, _)| *holds)
            .map(|(_, mutant)| Survivor { change: mutant.change.clone(), at: mutant.at })
            .collect();
    }
    proof
}

/// One rule going through its cases.
struct Trial<'r> {
    rule: &'r CheckedRule,
    runs: Vec<CaseRun>,
    limits: Vec<Option<LimitProof>>,
}

impl<'r> Trial<'r> {
    fn of(rule: &'r CheckedRule) -> Self {
        let limit = |limit: &Limit| {
            let (name, at, words) = (limit.name.clone(), limit.at, limit.words?);
            Some(LimitProof { name, at, words, turned: 0, turned_about: 0, wrong: Vec::new() })
        };
        Trial { rule, runs: Vec::new(), limits: rule.limits.iter().map(limit).collect() }
    }

    fn run(&mut self, case: &Case, stage: Stage, answers: &mut dyn Answers) {
        let judged = judge_rule(self.rule, stage, answers);
        let (about, came) = outcome_of(case, &judged, answers);
        if let Some(about) = about {
            for (id, limit) in (0u16..).map(LimitId).zip(&mut self.limits) {
                if let Some(limit) = limit {
                    move_limit(self.rule, stage, about, id, case, limit, answers);
                }
            }
        }
        self.note(case, came);
    }

    fn note(&mut self, case: &Case, came: Came) {
        self.runs.push(CaseRun { claim: case.claim.clone(), at: case.at, expected: verdict_of(case), came });
    }

    /// Whether a case already speaks against it.
    fn failed(&self) -> bool {
        let wrong = |limit: &LimitProof| !limit.wrong.is_empty();
        self.runs.iter().any(|run| run.came != Came::AsSaid) || self.limits.iter().flatten().any(wrong)
    }

    /// Whether every case came out as said and every limit turned where its words say.
    fn holds(self) -> bool {
        !self.failed() && self.limits.iter().flatten().all(LimitProof::holds)
    }

    fn end(self) -> (Vec<Verdict>, Vec<CaseRun>, Vec<LimitProof>) {
        (lacking(self.rule, &self.runs), self.runs, self.limits.into_iter().flatten().collect())
    }
}

/// The verdicts for which there is no case that came out as said.
fn lacking(rule: &CheckedRule, runs: &[CaseRun]) -> Vec<Verdict> {
    let mut wanted = vec![Verdict::Met, Verdict::Unmet, Verdict::Undetermined];
    if rule.applies.is_some() || rule.each.is_some() {
        wanted.push(Verdict::NotApplicable);
    }
    wanted.retain(|verdict| !runs.iter().any(|run| run.expected == *verdict && run.came == Came::AsSaid));
    wanted
}

fn verdict_of(case: &Case) -> Verdict {
    match case.verdict {
        cases::Outcome::Met => Verdict::Met,
        cases::Outcome::Unmet => Verdict::Unmet,
        cases::Outcome::Undetermined => Verdict::Undetermined,
        cases::Outcome::NotApplicable => Verdict::NotApplicable,
        cases::Outcome::NotYetDue => Verdict::NotYetDue,
    }
}

/// Which outcome a case means, and how it came out.
fn outcome_of(case: &Case, judged: &[Judged], answers: &dyn Answers) -> (Option<About>, Came) {
    let expected = verdict_of(case);
    let came = |one: &Judged| {
        let came = if one.verdict == expected { Came::AsSaid } else { Came::Otherwise(one.verdict) };
        (Some(one.about), came)
    };
    if let Some(name) = &case.thing {
        let named =
            |one: &&Judged| matches!(one.about, About::Thing(thing) if answers.name_of(thing) == *name);
        return judged.iter().find(named).map_or((None, Came::NoSuchThing), came);
    }
    let Some(first) = judged.first() else { return (None, Came::NoSuchThing) };
    let of_list = judged.iter().find(|one| one.about == About::List && one.verdict == expected);
    if let Some(of_list) = of_list {
        return came(of_list);
    }
    if judged.iter().all(|one| one.verdict == first.verdict) {
        return came(first);
    }
    (None, Came::SeveralThings)
}

/// Moves a limit onto each value that the case holds against it, and a step to either side.
fn move_limit(
    rule: &CheckedRule,
    stage: Stage,
    about: About,
    id: LimitId,
    case: &Case,
    limit: &mut LimitProof,
    answers: &mut dyn Answers,
) {
    let mut scope = Scope::new(rule, answers);
    bind_about(&mut scope, about);
    let mut values = Vec::new();
    for expr in rule.conditions().chain([&rule.requires]) {
        meet(&mut scope, expr, id, &mut values);
    }
    let mut verdict_at = |value: Number| {
        let mut scope = Scope::new(rule, answers).with_limit(id, value);
        bind_about(&mut scope, about);
        verdict_here(&mut scope, stage)
    };
    for value in values {
        let (low, high) = value.bounds();
        let step = step(&high);
        let below = verdict_at(Number::Exact(&low - &step));
        let above = verdict_at(Number::Exact(&high + &step));
        let decided = |verdict| matches!(verdict, Verdict::Met | Verdict::Unmet | Verdict::NotApplicable);
        if below == above || !decided(below) || !decided(above) {
            continue;
        }
        if !value.is_point() {
            limit.turned_about += 1;
            continue;
        }
        let expected = match limit.words {
            LimitWords::AtLeast | LimitWords::LessThan => below,
            LimitWords::AtMost | LimitWords::MoreThan => above,
        };
        if verdict_at(value) == expected {
            limit.turned += 1;
        } else if !limit.wrong.contains(&case.claim) {
            limit.wrong.push(case.claim.clone());
        }
    }
}

/// A thousandth of a value; of one, when the value is nought.
fn step(value: &Ratio) -> Ratio {
    let thousandth = Ratio::new(1, 1000).unwrap_or_default();
    if value.is_zero() { thousandth } else { value.abs() * thousandth }
}

/// Gathers the values a limit would have to have to stand exactly where it is compared.
fn meet(scope: &mut Scope<'_>, expr: &Expr, limit: LimitId, values: &mut Vec<Number>) {
    match &expr.node {
        Node::Compare(_, left, right) => pair(scope, left, right, limit, values),
        Node::Between(value, low, high) => {
            pair(scope, value, low, limit, values);
            pair(scope, value, high, limit, values);
        }
        _ => {}
    }
    match &expr.node {
        Node::Every(binding, body, _)
        | Node::Some(binding, body)
        | Node::Sum(binding, body)
        | Node::Least(binding, body)
        | Node::Greatest(binding, body) => of_each(scope, binding, body, limit, values),
        Node::Count(binding, Some(body)) => of_each(scope, binding, body, limit, values),
        _ => {
            for part in expr.parts() {
                meet(scope, part, limit, values);
            }
        }
    }
}

fn of_each(scope: &mut Scope<'_>, binding: &Binding, body: &Expr, limit: LimitId, values: &mut Vec<Number>) {
    for item in scope.things(&binding.things).items {
        scope.with(binding.var, Bound::Thing(item), |scope| meet(scope, body, limit, values));
    }
}

fn pair(scope: &mut Scope<'_>, left: &Expr, right: &Expr, limit: LimitId, values: &mut Vec<Number>) {
    if !matches!(left.of_type, ExprType::Number(_)) {
        return;
    }
    let is_limit = |expr: &Expr| expr.node == Node::Limit(limit);
    let value = match (is_limit(left), is_limit(right)) {
        (true, false) if !mentions(right, limit) => scope.amount(right).number().cloned(),
        (false, true) if !mentions(left, limit) => scope.amount(left).number().cloned(),
        _ if mentions(left, limit) || mentions(right, limit) => balance(scope, left, right, limit),
        _ => None,
    };
    if let Some(value) = value
        && !values.contains(&value)
    {
        values.push(value);
    }
}

fn mentions(expr: &Expr, limit: LimitId) -> bool {
    let mut found = false;
    expr.walk(&mut |part| found |= part.node == Node::Limit(limit));
    found
}

/// Where two sides are equal that both, or one of them with more around it, depend on the limit: exact where
/// they depend on it evenly, otherwise none.
fn balance(scope: &mut Scope<'_>, left: &Expr, right: &Expr, limit: LimitId) -> Option<Number> {
    let mut difference = |at: Ratio| {
        scope.with_limit_at(limit, Number::Exact(at), |scope| {
            let difference = scope.amount(left).subtract(&scope.amount(right));
            difference.number().and_then(Number::as_exact).cloned()
        })
    };
    let at_nought = difference(Ratio::ZERO)?;
    let slope = difference(Ratio::ONE)? - &at_nought;
    let value = (-&at_nought).checked_div(&slope)?;
    difference(value.clone())?.is_zero().then_some(Number::Exact(value))
}
