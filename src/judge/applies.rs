//! Of what a rule is asked, and what it comes to there.

use crate::base::truth::Truth;
use crate::base::value::Missing;
use crate::base::vocabulary::Answers;
use crate::rulebook::checked::{CheckedRule, Each, Stage};
use crate::rulebook::expr::typed::Expr;

use super::eval::{Bound, Found, Scope};
use super::missing;
use super::verdict::{About, Verdict};

/// What one rule comes to for one thing.
#[derive(Clone, PartialEq, Debug)]
pub struct Judged {
    /// What it is about.
    pub about: About,
    /// What it comes to.
    pub verdict: Verdict,
    /// For an undetermined one: the smallest list of entries that would decide it.
    pub missing: Vec<Missing>,
}

/// Holds one rule against everything it is asked of.
pub fn judge_rule(rule: &CheckedRule, stage: Stage, answers: &mut dyn Answers) -> Vec<Judged> {
    let mut scope = Scope::new(rule, answers);
    let Some(each) = &rule.each else {
        return vec![judge_here(&mut scope, stage, About::Whole)];
    };
    let found = scope.things(&each.binding.things);
    let mut all = Vec::with_capacity(found.items.len() + 1);
    for item in &found.items {
        scope.refresh();
        scope.bind(each.binding.var, Bound::Thing(*item));
        all.push(judge_here(&mut scope, stage, About::Thing(*item)));
    }
    scope.refresh();
    if let Some(verdict) = verdict_of_list(&mut scope, stage, each, &found) {
        let missing = match verdict {
            Verdict::Undetermined => missing::of_list(&mut scope, list_of(each)),
            _ => Vec::new(),
        };
        all.push(Judged { about: About::List, verdict, missing });
    }
    all
}

/// Lets the rule's variable stand for what an outcome is about.
pub(crate) fn bind_about(scope: &mut Scope<'_>, about: About) {
    if let Some(each) = &scope.rule().each {
        let to = match about {
            About::Thing(thing) => Bound::Thing(thing),
            About::List => scope.things(list_of(each)).unseen(),
            About::Whole => Bound::Nothing,
        };
        scope.bind(each.binding.var, to);
    }
}

/// Whether the rule applies to what is bound.
pub(crate) fn applies(scope: &mut Scope<'_>) -> Truth {
    let mut all = Truth::True;
    for condition in scope.rule().conditions() {
        all = all.and(scope.truth(condition));
        if all == Truth::False {
            break;
        }
    }
    all
}

/// What the rule comes to for what is bound.
pub(crate) fn verdict_here(scope: &mut Scope<'_>, stage: Stage) -> Verdict {
    match applies(scope) {
        Truth::False => Verdict::NotApplicable,
        _ if scope.rule().due > stage => Verdict::NotYetDue,
        Truth::Unknown => Verdict::Undetermined,
        Truth::True => match scope.truth(&scope.rule().requires) {
            Truth::True => Verdict::Met,
            Truth::False => Verdict::Unmet,
            Truth::Unknown => Verdict::Undetermined,
        },
    }
}

fn judge_here(scope: &mut Scope<'_>, stage: Stage, about: About) -> Judged {
    let verdict = verdict_here(scope, stage);
    let missing = match verdict {
        Verdict::Undetermined => missing::smallest(scope),
        _ => Vec::new(),
    };
    Judged { about, verdict, missing }
}

/// What the rule comes to for things that nobody has listed: usually it cannot be told until somebody says
/// that there are none. Nothing where the list is complete with some on it, or where enough is known of the rest
/// that it can be no matter to the rule.
pub(crate) fn verdict_of_list(
    scope: &mut Scope<'_>,
    stage: Stage,
    each: &Each,
    found: &Found,
) -> Option<Verdict> {
    let none_listed = found.items.is_empty().then_some(Verdict::NotApplicable);
    if !found.open {
        return none_listed;
    }
    if others_are_no_matter(scope, each, found) {
        return none_listed;
    }
    match verdict_here(scope, stage) {
        Verdict::Unmet => Some(Verdict::Undetermined),
        verdict => Some(verdict),
    }
}

/// Whether enough is known of things that nobody has listed that they can be no matter to the rule, in whichever way
/// they are. Whoever asks next finds them bound as such.
pub(crate) fn others_are_no_matter(scope: &mut Scope<'_>, each: &Each, found: &Found) -> bool {
    let no_matter = !found.others.is_empty()
        && found.unseen_ways().into_iter().all(|way| {
            scope.bind(each.binding.var, way);
            is_no_matter(scope)
        });
    scope.bind(each.binding.var, found.unseen());
    no_matter
}

/// Whether the rule cannot be unmet for what is bound: it does not apply, or what it requires holds anyway.
fn is_no_matter(scope: &mut Scope<'_>) -> bool {
    applies(scope) == Truth::False || scope.truth(&scope.rule().requires) == Truth::True
}

/// The things that a rule is asked of.
pub(crate) fn list_of(each: &Each) -> &Expr {
    &each.binding.things
}
