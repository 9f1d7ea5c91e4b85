//! What is said of rules that cannot be used: each message on its own place, in words for an office.

use std::fmt::Write as _;

use undercroft::base::problem::Problem;
use undercroft::base::text::Sources;
use undercroft::rulebook::checked::CheckedBook;

use super::garden::{RULE, Shelf, vocabulary};

/// The problems one below the other: where, on what, and what is said of it.
pub(super) fn shown(problems: &[Problem], sources: &Sources) -> String {
    let mut out = String::new();
    for problem in problems {
        let source = sources.get(problem.at.source).unwrap();
        let place = source.line_column(problem.at.start);
        let slice = source.slice(problem.at).replace('\n', "⏎");
        let name = source.name().rsplit('/').next().unwrap_or("");
        let _ = writeln!(out, "{name} {}:{} «{slice}» {}", place.line, place.column, problem.kind.name());
        let _ = writeln!(out, "  found: {}", problem.found);
        let _ = writeln!(out, "  accepted here: {}", problem.accepts);
        if let Some(nearest) = &problem.nearest {
            let _ = writeln!(out, "  nearest: {nearest}");
        }
        for (at, what) in &problem.also {
            let place = sources.get(at.source).unwrap().line_column(at.start);
            let _ = writeln!(out, "  also {}:{} «{}» {what}", place.line, place.column, sources.slice(*at));
        }
    }
    out
}

/// What is changed in the rule that has no fault, and what is said of the result.
const BROKEN: &[(&str, &str, &str)] = &[
    ("a misspelt fact", "hedge.clearance >= clearance", "hedge.clearence >= clearance"),
    ("a misspelt name", "open_to_visitors and", "open_to_visitor and"),
    ("a misspelt limit", "hedge.height <= low", "hedge.height <= lou"),
    ("a misspelt word of a list", "hedge.in.sunny", "hedge.plant is yow"),
    ("a word with a space", "hedge.in.sunny", "hedge.in.soil is heavy clay"),
    ("a length against a plain number", "hedge.height <= low", "hedge.height <= 3"),
    ("a length against an area", "hedge.height <= low", "hedge.height <= lawn"),
    ("a sum of a length and an area", "hedge.height <= low", "hedge.height + lawn <= low"),
    ("a unit that nothing has", "hedge.height <= low", "hedge.height <= 3 fathoms"),
    ("a comparison without a right side", "hedge.height <= low", "hedge.height <="),
    ("a chain of comparisons", "hedge.height <= low", "1 ft < hedge.height <= low"),
    ("a sign from elsewhere", "hedge.height <= low", "hedge.height == low"),
    ("an order sign from elsewhere", "hedge.height <= low", "hedge.height ≤ low"),
    (
        "a grammar word in capitals",
        "hedge.clearance >= clearance\n  or",
        "hedge.clearance >= clearance\n  OR",
    ),
    ("a bracket left open", "hedge.height <= low", "(hedge.height <= low"),
    ("a bracket too many", "hedge.height <= low", "hedge.height <= low)"),
    ("division without spaces", "hedge.height <= low", "hedge.height/2 <= low"),
    ("subtraction without spaces", "hedge.height <= low", "hedge.height <= low-low"),
    ("a function", "open_to_visitors and", "known(hedge.height) and"),
    ("a truth compared", "open_to_visitors and", "open_to_visitors is yes and"),
    ("a number asked with is", "hedge.height <= low", "hedge.height is low"),
    ("words without an order compared", "hedge.in.sunny", "hedge.plant < yew"),
    ("a fact of a list", "hedge.in.sunny", "beds.sunny"),
    ("a fact of a number", "hedge.in.sunny", "hedge.height.sunny"),
    ("things of two kinds compared", "hedge.in.sunny", "hedge.in is main_path"),
    ("a thing where a truth is wanted", "hedge.in.sunny", "hedge.in"),
    ("a word where a truth is wanted", "hedge.in.sunny", "hedge.in.soil"),
    ("a list where a truth is wanted", "hedge.in.sunny", "beds"),
    ("every without a word on none", "hedge.in.sunny", "every bed in beds has (bed.sunny)"),
    (
        "every with a wrong word on none",
        "hedge.in.sunny",
        "every b in beds has (b.sunny), or fine if there are none",
    ),
    ("a count without a name", "hedge.in.sunny", "count of beds where (sunny) > 2"),
    ("a variable that is a name at the root", "hedge.in.sunny", "some lawn in beds has (lawn.sunny)"),
    ("a variable that is bound already", "hedge.in.sunny", "some hedge in hedges has (hedge.clipped)"),
    ("a variable that is a word of the grammar", "each: hedge in hedges", "each: every in hedges"),
    ("each of no list", "each: hedge in hedges", "each: hedge in main_path"),
    ("each with a condition", "each: hedge in hedges", "each: hedge in hedges where (hedge.clipped)"),
    ("a limit named like something at the root", "  low: {value", "  lawn: {value"),
    ("a limit that nothing uses", "  low: {value", "  spare: 1 ft\n  low: {value"),
    ("a limit without words", "low: {value: 2 ft, words: at most}", "low: 2 ft"),
    ("a limit with words that do not exist", "words: at most", "words: no more than"),
    ("a limit without a unit that exists", "value: 2 ft", "value: 2 fathoms"),
    ("a message that asks for a bound variable", "{hedge} is", "{bed} is"),
    ("a message that asks a question", "{hedge} is", "{hedge.height < low} is"),
    ("a message with a list", "{hedge} is", "{beds} is"),
    ("a message with an open brace", "is asked for.", "is asked for {"),
    ("a message with nothing in braces", "{hedge} is", "{} is"),
    ("a correction of another type", "to: low", "to: lawn"),
    (
        "a correction of an entry that does not exist",
        "set: hedges.{hedge}.height",
        "set: hedges.{hedge}.hieght",
    ),
    ("a correction that says no change", "set: hedges.{hedge}.height\n      to: low", "by: low"),
    ("a correction without a value", "      to: low\n", ""),
    ("a correction with two changes in one", "      to: low", "      to: low\n      remove: lawn"),
    (
        "a correction with a word that its list does not have",
        "set: hedges.{hedge}.height\n      to: low",
        "set: hedges.{hedge}.plant\n      to: yow",
    ),
    ("a correction of a path that holds a number", "hedges.{hedge}.height", "hedges.{hedge.height}.height"),
    ("a correction of what is no path", "hedges.{hedge}.height", "hedges..height"),
    (
        "a correction that adds what no fact rests on",
        "set: hedges.{hedge}.height\n      to: low",
        "add: hedges.{hedge}.hieght\n      as: 3 ft",
    ),
    (
        "a correction that adds what cannot be read",
        "set: hedges.{hedge}.height\n      to: low",
        "add: hedges.{hedge}.height\n      as: '{a: [}'",
    ),
    (
        "a correction that reaches what is worked out without a handle",
        "set: hedges.{hedge}.height\n      to: low",
        "reach: hedge.in.area\n      to: lawn",
    ),
    (
        "a correction that reaches another type",
        "set: hedges.{hedge}.height\n      to: low",
        "reach: hedge.height\n      to: lawn",
    ),
    (
        "a correction that reaches no fact",
        "set: hedges.{hedge}.height\n      to: low",
        "reach: low\n      to: low",
    ),
    ("a misspelt key", "because:", "becuase:"),
    ("a key without a value", "title: Hedges kept clear of the path", "title:"),
    ("an obligation that does not exist", "obligation: shall", "obligation: must"),
    ("a document the book does not have", "document: by-law", "document: bylaw"),
    ("a name that differs from the file's", "rule: hedge-clear-of-path", "rule: hedge-clear-of-paths"),
    ("cases that are not last", "because: A", "cases: []\nbecause: A"),
    (
        "corrections that are no list",
        "corrections:\n  - clip the hedge:\n      set: hedges.{hedge}.height\n      to: low\n  - plant it elsewhere",
        "corrections: clip it",
    ),
    ("a comma in braces", "section: 4.2", "section: 4.2, 4.3"),
    ("a key twice", "obligation: shall", "obligation: shall\nobligation: may"),
    ("no YAML", "cautions: [thorns]", "cautions: [thorns"),
];

#[test]
fn what_is_said_of_broken_rules() {
    let vocabulary = vocabulary();
    let mut page = String::new();
    for (what, from, to) in BROKEN {
        assert!(RULE.contains(from), "{what}: {from}");
        let rule = RULE.replacen(from, to, 1);
        let shelf = Shelf::with_rule(&rule);
        let problems = CheckedBook::load(&shelf.files(), &vocabulary).expect_err(what);
        for problem in &problems {
            let source = shelf.sources.get(problem.at.source).unwrap();
            assert!(source.text().get(problem.at.range()).is_some(), "{what}");
            let todo = undercroft::render::words::of(problem).todo;
            assert!(!problem.found.is_empty() && todo.len() > 10, "{what}: {problem:?}");
        }
        let _ = writeln!(page, "# {what}\n{}", shown(&problems, &shelf.sources));
    }
    insta::assert_snapshot!("broken_rules", page);
}
