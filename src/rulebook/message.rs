//! Reading what a person is told: words with places for values in braces.

use crate::base::problem::{Problem, ProblemKind};

use super::checked::{Message, Piece};
use super::expr::ast::{Ast, Form};
use super::expr::check::Checker;
use super::expr::parse::parse;
use super::expr::source_map::SourceMap;
use super::expr::typed::ExprType;

/// Reads a message. `{{` and `}}` stand for braces that are meant as such.
pub(super) fn read(text: &str, map: &SourceMap, checker: &mut Checker<'_>) -> Message {
    let mut pieces = Vec::new();
    let mut words = String::new();
    let mut at = 0;
    while let Some(c) = text.get(at..).and_then(|rest| rest.chars().next()) {
        let rest = text.get(at..).unwrap_or("");
        if rest.starts_with("{{") || rest.starts_with("}}") {
            words.push(c);
            at += 2;
        } else if c == '{' {
            let Some(length) = rest.find('}') else {
                let problem = Problem::new(ProblemKind::BadMessage, map.span(at, text.len()))
                    .found("a brace that is never closed")
                    .accepts("`{name}`, or `{{` for a brace that is meant as such");
                checker.problems.push(problem);
                break;
            };
            if !words.is_empty() {
                pieces.push(Piece::Words(std::mem::take(&mut words)));
            }
            let inside = text.get(at + 1..at + length).unwrap_or("");
            if let Some(piece) = value(inside, &map.part(at + 1, at + length), checker) {
                pieces.push(piece);
            }
            at += length + 1;
        } else if c == '}' {
            let problem = Problem::new(ProblemKind::BadMessage, map.span(at, at + 1))
                .found("a closing brace without an opening one")
                .accepts("`{name}`, or `}}` for a brace that is meant as such");
            checker.problems.push(problem);
            at += 1;
        } else {
            // Lines of a block are joined: a message is shown as running words.
            words.push(if c == '\n' { ' ' } else { c });
            at += c.len_utf8();
        }
    }
    let words = words.trim_end();
    if !words.is_empty() {
        pieces.push(Piece::Words(words.to_owned()));
    }
    Message(pieces)
}

/// Reads what stands in one pair of braces.
fn value(text: &str, map: &SourceMap, checker: &mut Checker<'_>) -> Option<Piece> {
    if text.trim().is_empty() {
        let problem = Problem::new(ProblemKind::BadMessage, map.whole())
            .found("braces with nothing in them")
            .accepts("the name of a value in braces");
        checker.problems.push(problem);
        return None;
    }
    let (ast, problems) = parse(text, map);
    let readable = problems.is_empty();
    checker.problems.extend(problems);
    if !readable {
        return None;
    }
    let only_shown = |ast: &Ast| {
        !matches!(
            ast.form,
            Form::Name(_)
                | Form::Dot(..)
                | Form::Quantity(_)
                | Form::Calculate(..)
                | Form::Negate(_)
                | Form::Count(_, None)
        )
    };
    if ast.any(&only_shown) {
        let problem = Problem::new(ProblemKind::BadMessage, ast.at)
            .found(format!("`{}`", text.trim()))
            .accepts("a value of the thing the rule is asked of, a limit, or something at the root");
        checker.problems.push(problem);
        return None;
    }
    let expr = checker.any(&ast)?;
    if let ExprType::Things(_) = expr.of_type {
        let problem = Problem::new(ProblemKind::BadMessage, ast.at)
            .found(format!("`{}`, which is a list", text.trim()))
            .accepts(format!("one value, such as `{{count of {}}}`", text.trim()));
        checker.problems.push(problem);
        return None;
    }
    Some(Piece::Value(expr))
}
