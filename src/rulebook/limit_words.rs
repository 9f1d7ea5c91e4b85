//! The words with which a source places a limit, held against how a rule compares.

use crate::base::number::Comparison;
use crate::base::problem::{Problem, ProblemKind};

use super::authors::FieldChange;
use super::checked::{CheckedRule, LimitWords};
use super::expr::typed::{Expr, Node};

/// What is wrong with other words for a limit, where the rule goes on comparing as the old ones say.
pub(super) fn words_alone(base: &CheckedRule, rule: &CheckedRule, change: &FieldChange) -> Option<Problem> {
    let name = change.field.strip_prefix("limits.")?.strip_suffix(".words")?;
    let words = |rule: &CheckedRule| rule.limits.iter().find(|one| one.name == name)?.words;
    let (old, new) = (words(base)?, words(rule)?);
    let compared = compared_with(rule, name);
    if compared != [old] || old == new {
        return None;
    }
    let accepts = format!("`requires` changed along with it, so that it compares with {}", new.word());
    Some(
        Problem::new(ProblemKind::BadRule, change.to_at)
            .found(format!(
                "the words of `{name}` are to be `{}`, and what is required still compares with {}",
                new.word(),
                old.word()
            ))
            .accepts(accepts)
            .also(base.at, "the rule"),
    )
}

/// How a rule compares what it finds with one of its limits, each way once.
fn compared_with(rule: &CheckedRule, limit: &str) -> Vec<LimitWords> {
    let is_it = |expr: &Expr| match &expr.node {
        Node::Limit(id) => rule.limit(*id).is_some_and(|one| one.name == limit),
        _ => false,
    };
    let mut found = Vec::new();
    for expr in std::iter::once(&rule.requires).chain(&rule.applies) {
        expr.walk(&mut |part| {
            let how = match &part.node {
                Node::Compare(how, _, right) if is_it(right) => *how,
                Node::Compare(how, left, _) if is_it(left) => how.mirrored(),
                _ => return,
            };
            let words = match how {
                Comparison::AtLeast => LimitWords::AtLeast,
                Comparison::AtMost => LimitWords::AtMost,
                Comparison::More => LimitWords::MoreThan,
                Comparison::Less => LimitWords::LessThan,
                Comparison::Equal => return,
            };
            if !found.contains(&words) {
                found.push(words);
            }
        });
    }
    found
}
