//! What a book covers: a condition on the whole design that goes before each of its rules.

use std::sync::Arc;

use crate::base::vocabulary::Vocabulary;
use crate::yaml::tree::NodeId;

use super::checked::{CheckedBook, CheckedRule};
use super::expr::check::Checker;
use super::expr::parse::parse;
use super::expr::typed::{Binding, Expr, Node, VarId};
use super::read::Reader;

/// A condition on the whole design, with the names of the variables it binds.
#[derive(Clone, PartialEq, Debug)]
pub struct Covers {
    /// The condition.
    pub expr: Expr,
    /// The same as its author wrote it, on one line.
    pub text: String,
    /// The names of its variables, by their numbers.
    pub variables: Vec<String>,
}

/// Reads what a book covers; without limits and without a thing to be asked of.
pub(super) fn read(reader: &mut Reader<'_>, root: NodeId, vocabulary: &Vocabulary) -> Option<Covers> {
    let written = reader.get(root, "covers_when").and_then(|node| reader.written(node))?;
    let (ast, problems) = parse(written.text, &reader.map_of(&written));
    reader.problems.extend(problems);
    let mut checker = Checker::new(vocabulary, reader.texts, &[]);
    let expr = checker.truth(&ast);
    let (variables, problems) = (checker.variables, checker.problems);
    reader.problems.extend(problems);
    let text = written.text.split_whitespace().collect::<Vec<_>>().join(" ");
    expr.map(|expr| Covers { expr, text, variables })
}

/// Puts the condition before every rule of the book.
pub(super) fn lay(book: &mut CheckedBook, covers: Option<Covers>) {
    for rule in book.rules.iter_mut() {
        if carries(rule, covers.as_ref()) {
            continue;
        }
        let rule = Arc::make_mut(rule);
        // A rule that was taken over still carries what the book below covers.
        if let Some(old) = rule.covered.take() {
            let own = rule.variables.len().saturating_sub(old.variables.len());
            rule.variables.truncate(own);
        }
        if let Some(covers) = &covers {
            rule.covered = Some(behind(covers, rule.variables.len()));
            rule.variables.extend(covers.variables.iter().cloned());
        }
    }
    book.covers_when = covers;
}

/// Whether a rule has this condition before it already, as one that is taken over from a book of the same scope.
fn carries(rule: &CheckedRule, covers: Option<&Covers>) -> bool {
    match (&rule.covered, covers) {
        (None, None) => true,
        (Some(old), Some(new)) => {
            let own = rule.variables.len().saturating_sub(old.variables.len());
            *old == behind(new, own)
        }
        _ => false,
    }
}

/// The condition with its variables numbered behind so many others.
fn behind(covers: &Covers, others: usize) -> Covers {
    let mut own = covers.clone();
    renumber(&mut own.expr, u16::try_from(others).unwrap_or(u16::MAX));
    own
}

/// Moves the numbers of all variables up.
fn renumber(expr: &mut Expr, by: u16) {
    let moved = |var: &mut VarId| var.0 = var.0.saturating_add(by);
    match &mut expr.node {
        Node::Var(var) => moved(var),
        Node::Every(Binding { var, .. }, _, _)
        | Node::Some(Binding { var, .. }, _)
        | Node::Count(Binding { var, .. }, _)
        | Node::Sum(Binding { var, .. }, _)
        | Node::Least(Binding { var, .. }, _)
        | Node::Greatest(Binding { var, .. }, _) => moved(var),
        _ => {}
    }
    for part in expr.parts_mut() {
        renumber(part, by);
    }
}
