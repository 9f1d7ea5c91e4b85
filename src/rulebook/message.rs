//! Reading what a person is told: words with places for values in braces.

use crate::base::problem::{Problem, ProblemKind};

use super::checked::{Message, Piece, Sides};
use super::expr::ast::{Ast, Form};
use super::expr::check::Checker;
use super::expr::parse::parse;
use super::expr::source_map::SourceMap;
use super::expr::typed::{Expr, ExprType};

/// Reads a message. `{{` and `}}` stand for braces that are meant as such.
pub(super) fn read(text: &str, map: &SourceMap, checker: &mut Checker<'_>) -> Message {
    let mut pieces = Vec::new();
    let mut words = String::new();
    let mut at = 0;
    loop {
        let rest = text.get(at..).unwrap_or("");
        let brace = rest.find(['{', '}']).unwrap_or(rest.len());
        // Lines of a block are joined: a message is shown as running words.
        for (number, line) in rest.get(..brace).unwrap_or("").split('\n').enumerate() {
            words.push_str(if number > 0 { " " } else { "" });
            words.push_str(line);
        }
        at += brace;
        let rest = text.get(at..).unwrap_or("");
        let Some(c) = rest.chars().next() else { break };
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
        } else {
            let problem = Problem::new(ProblemKind::BadMessage, map.span(at, at + 1))
                .found("a closing brace without an opening one")
                .accepts("`{name}`, or `}}` for a brace that is meant as such");
            checker.problems.push(problem);
            at += 1;
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
    let (text, words) = match text.split_once(',') {
        Some((value, words)) => (value, Some(words)),
        None => (text, None),
    };
    let map = &map.part(0, text.len());
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
    match words {
        None => Some(Piece::Value(expr)),
        Some(words) => sided(expr, words, checker),
    }
}

/// Reads the words for the two sides of a number: `above or below`, or `above or below or level with`.
fn sided(expr: Expr, words: &str, checker: &mut Checker<'_>) -> Option<Piece> {
    if !matches!(expr.of_type, ExprType::Number(_)) {
        checker.differ(&expr, "a number before a comma and the words for its two sides");
        return None;
    }
    let words: Vec<String> = words.split(" or ").map(|words| words.trim().to_owned()).collect();
    let sides = match words.as_slice() {
        [above, below] => Sides { above: above.clone(), below: below.clone(), level: None },
        [above, below, level] => {
            Sides { above: above.clone(), below: below.clone(), level: Some(level.clone()) }
        }
        _ => Sides { above: String::new(), below: String::new(), level: None },
    };
    let level_said = sides.level.as_ref().is_none_or(|level| !level.is_empty());
    if sides.above.is_empty() || sides.below.is_empty() || !level_said {
        let problem = Problem::new(ProblemKind::BadMessage, expr.at)
            .found(format!("a comma behind a value, and then `{}`", words.join(" or ")))
            .accepts(
                "the words for the two sides of the number, as in `{bed.level, above or below} the path`",
            );
        checker.problems.push(problem);
        return None;
    }
    Some(Piece::Sided(expr, sides))
}
