//! What the grammar takes, how it binds, and that no input brings it down.

use undercroft::base::problem::{Problem, ProblemKind};
use undercroft::base::text::{SourceId, Span};
use undercroft::rulebook::expr::ast::{Ast, Form};
use undercroft::rulebook::expr::check::Checker;
use undercroft::rulebook::expr::parse::{DEEPEST, MOST_PIECES, parse};
use undercroft::rulebook::expr::source_map::{SourceMap, Texts};
use undercroft::rulebook::expr::typed::{Expr, ExprType};
use undercroft::yaml::tree::Style;

use super::dice::Dice;
use super::garden;

fn map_of(text: &str) -> SourceMap {
    SourceMap::new(text, Span::new(SourceId(0), 0, text.len()), Style::Literal, text)
}

fn read(text: &str) -> (Ast, Vec<Problem>) {
    parse(text, &map_of(text))
}

/// The form with every bracket written out.
fn outline(ast: &Ast) -> String {
    let list = |all: &[Ast], word: &str| {
        let parts: Vec<String> = all.iter().map(outline).collect();
        format!("({})", parts.join(&format!(" {word} ")))
    };
    match &ast.form {
        Form::Quantity(_) => "#".to_owned(),
        Form::Name(name) => name.clone(),
        Form::Dot(of, name) => format!("{}.{}", outline(of), name.text),
        Form::Not(a) => format!("(not {})", outline(a)),
        Form::Negate(a) => format!("(- {})", outline(a)),
        Form::And(all) => list(all, "and"),
        Form::Or(all) => list(all, "or"),
        Form::Compare(sign, a, b) => format!("({} {sign:?} {})", outline(a), outline(b)),
        Form::Between(a, low, high) => format!("({} between {} {})", outline(a), outline(low), outline(high)),
        Form::Is(a, b, not) => {
            format!("({} is{} {})", outline(a), if *not { " not" } else { "" }, outline(b))
        }
        Form::IsOneOf(a, words, not) => {
            let words: Vec<&str> = words.iter().map(|word| word.text.as_str()).collect();
            format!("({}{} in [{}])", outline(a), if *not { " not" } else { "" }, words.join(" "))
        }
        Form::Calculate(sign, a, b) => format!("({} {sign:?} {})", outline(a), outline(b)),
        Form::Every(x, xs, a, none) => format!("(every {} {} {} {none:?})", x.text, outline(xs), outline(a)),
        Form::Some(x, xs, a) => format!("(some {} {} {})", x.text, outline(xs), outline(a)),
        Form::Count(xs, None) => format!("(count {})", outline(xs)),
        Form::Count(xs, Some((x, a))) => format!("(count {} {} {})", x.text, outline(xs), outline(a)),
        Form::Gather(how, a, x, xs) => format!("({how:?} {} {} {})", outline(a), x.text, outline(xs)),
        Form::Unreadable(_) => "?".to_owned(),
    }
}

fn binds(text: &str, as_if: &str) {
    let (ast, problems) = read(text);
    assert_eq!(problems, [], "{text}");
    assert_eq!(outline(&ast), as_if, "{text}");
}

#[test]
fn or_binds_less_than_and_and_less_than_not_less_than_comparing() {
    binds("a or b and c", "(a or (b and c))");
    binds("not a and b", "((not a) and b)");
    binds("not a = b", "(not (a Equal b))");
    binds("(a or b) and c", "((a or b) and c)");
    binds("a and b and c or d", "((a and b and c) or d)");
}

#[test]
fn arithmetic_binds_as_at_school() {
    binds("a + b * c - d", "((a Add (b Multiply c)) Subtract d)");
    binds("a - b - c", "((a Subtract b) Subtract c)");
    binds("a / b / c", "((a Divide b) Divide c)");
    binds("-a * b", "((- a) Multiply b)");
    binds("a + b <= c * 2", "((a Add b) AtMost (c Multiply #))");
    binds("-a.b", "(- a.b)");
}

#[test]
fn words_of_the_grammar_are_free_behind_a_dot_and_behind_is() {
    binds("hedge.in.of.none", "hedge.in.of.none");
    binds("a is none", "(a is none)");
    binds("a.is is not in and b", "((a.is is not in) and b)");
    binds("a is b.c.d or e", "((a is b.c.d) or e)");
}

#[test]
fn words_may_hold_digits_slashes_and_hyphens() {
    binds("hose is 1/2_in", "(hose is 1/2_in)");
    binds("hose >= 1_1/4_in", "(hose AtLeast 1_1/4_in)");
    binds("a is one of x, well-known_box, heavy_clay", "(a in [x well-known_box heavy_clay])");
    binds("a is not one of x, y and b", "((a not in [x y]) and b)");
}

#[test]
fn forms_over_things_close_where_their_brackets_do() {
    binds(
        "every b in beds has (b.sunny or b.dry), or met if there are none and c",
        "((every b beds (b.sunny or b.dry) Some(Met)) and c)",
    );
    binds("some b in a.beds has (b.soil is one of x, y) or c", "((some b a.beds (b.soil in [x y])) or c)");
    binds("count of b in beds where (b.sunny) >= 2", "((count b beds b.sunny) AtLeast #)");
    binds("count of a.beds + 1 > 2", "(((count a.beds) Add #) More #)");
    binds("sum of b.length * 2 over b in beds < c", "((Sum (b.length Multiply #) b beds) Less c)");
    binds(
        "least of x.y over x in xs = greatest of x.y over x in xs",
        "((Least x.y x xs) Equal (Greatest x.y x xs))",
    );
}

#[test]
fn between_takes_its_own_and() {
    binds("a between 2 ft and 4 ft and b", "((a between # #) and b)");
    binds("a between b + 1 and c - 1 or d", "((a between (b Add #) (c Subtract #)) or d)");
}

#[test]
fn a_sign_before_a_number_belongs_to_it_unless_something_stands_before() {
    binds("-5 degF", "#");
    binds("a > -5 degF", "(a More #)");
    binds("a -5 ft", "(a Subtract #)");
    binds("hedge.in -5 ft", "(hedge.in Subtract #)");
    binds("(a) - 5 ft", "(a Subtract #)");
}

#[test]
fn several_faults_of_one_expression_are_told_at_once_each_on_its_place() {
    let text = "a >= and b ≥ 2 or (c d) and e <";
    let (_, problems) = read(text);
    let places: Vec<&str> = problems.iter().map(|problem| &text[problem.at.range()]).collect();
    assert_eq!(places, ["and", "≥", "d", ""]);
    assert!(problems.iter().all(|problem| problem.kind == ProblemKind::BadExpression));
}

#[test]
fn depth_and_size_are_bounded_with_a_word() {
    let deep = format!("{}a{}", "(".repeat(5000), ")".repeat(5000));
    let deep_forms = format!("a{}", " + a".repeat(usize::from(DEEPEST) + 1));
    let negated = format!("{}a", "not ".repeat(usize::from(DEEPEST) + 1));
    let far = format!("a{}", ".a".repeat(usize::from(DEEPEST) + 1));
    let nested = format!("{}a{}", "(".repeat(300), ")".repeat(300));
    let told = |text: &str, what: &str| {
        let [problem] = &read(text).1[..] else { panic!("one fault is told of {what}") };
        assert!(problem.kind == ProblemKind::BadExpression && problem.found.contains(what), "{problem:?}");
    };
    for text in [deep_forms, negated, far, nested] {
        told(&text, "inside each other");
    }
    let long = format!("a{}", " and a".repeat(MOST_PIECES));
    for text in [deep, long] {
        told(&text, "words and signs");
    }
    let wide = format!("a{}", " and a".repeat(MOST_PIECES / 2 - 1));
    assert_eq!(read(&wide).1, []);
}

/// Pieces that random expressions are made of: all of the grammar, and what does not belong to it.
const PIECES: &[&str] = &[
    "and",
    "or",
    "not",
    "is",
    "one",
    "of",
    "between",
    "every",
    "some",
    "in",
    "has",
    "count",
    "where",
    "sum",
    "over",
    "least",
    "greatest",
    "if",
    "there",
    "are",
    "none",
    "met",
    "hedges",
    "beds",
    "hedge",
    "bed",
    "soil",
    "clay",
    "length",
    "main_path",
    "width",
    "first_frost",
    "10 ft",
    "3",
    "-5 degF",
    "1/4 in",
    "1_1/4_in",
    "(",
    ")",
    "(",
    ")",
    ".",
    ".",
    ",",
    "=",
    "<",
    "<=",
    ">",
    ">=",
    "+",
    "-",
    "*",
    "/",
    "{",
    "\"",
    "≥",
    "½",
    "😀",
    "\u{a0}",
    "e\u{301}",
    "\\",
    "#",
    ": ",
    "9e99",
    "99999999999999999999 ft",
];

#[test]
fn no_input_brings_the_reader_down_and_every_place_lies_in_the_text() {
    let vocabulary = garden::vocabulary();
    let mut dice = Dice::new();
    let mut sound = 0;
    for _ in 0..100_000 {
        let mut text = String::new();
        for _ in 0..dice.below(16) {
            if dice.below(8) == 0 {
                text.extend(char::from_u32(u32::try_from(dice.below(0x300)).unwrap()));
            } else {
                text.push_str(PIECES[dice.below(PIECES.len())]);
            }
            if dice.below(6) > 0 {
                text.push(' ');
            }
        }
        let (ast, mut problems) = read(&text);
        let texts = [(SourceId(0), text.as_str())];
        let mut checker = Checker::new(&vocabulary, Texts(&texts), &[]);
        let checked = checker.truth(&ast);
        problems.extend(checker.problems);
        assert!(checked.is_some() || !problems.is_empty(), "{text:?}");
        sound += usize::from(problems.is_empty());
        for problem in &problems {
            assert!(text.get(problem.at.range()).is_some(), "{problem:?} in {text:?}");
            assert!(!problem.found.is_empty() && !problem.accepts.is_empty(), "{problem:?} in {text:?}");
        }
    }
    assert!(sound > 0, "some of them are sound");
}

fn checked(text: &str) -> Result<Expr, Vec<Problem>> {
    let (ast, mut problems) = read(text);
    let vocabulary = garden::vocabulary();
    let texts = [(SourceId(0), text)];
    let mut checker = Checker::new(&vocabulary, Texts(&texts), &[]);
    let expr = checker.any(&ast);
    problems.extend(checker.problems);
    expr.filter(|_| problems.is_empty()).ok_or(problems)
}

#[test]
fn a_typed_expression_keeps_its_place_type_and_parts() {
    let expr = checked("some bed in beds has (bed.soil is one of clay, heavy_clay)").unwrap();
    assert_eq!(expr.of_type, ExprType::Truth);
    let mut facts = 0;
    expr.walk(&mut |part| {
        facts += usize::from(matches!(part.node, undercroft::rulebook::expr::typed::Node::Fact(..)))
    });
    assert_eq!(facts, 2);
}

#[test]
fn temperatures_subtract_to_a_difference_and_do_not_add() {
    assert!(checked("last_frost - first_frost").is_ok());
    assert!(checked("first_frost < -5 degF").is_ok());
    for refused in
        ["last_frost + first_frost", "first_frost * 2", "-first_frost", "sum of first_frost over b in beds"]
    {
        let problems = checked(refused).unwrap_err();
        assert_eq!(problems.first().map(|problem| problem.kind), Some(ProblemKind::KindsDiffer), "{refused}");
    }
}

#[test]
fn dimensions_multiply_and_divide() {
    for fits in [
        "sum of bed.length * bed.width over bed in beds <= lawn",
        "lawn / main_path.width > 10 ft",
        "main_path.width / main_path.width = 1",
        "count of beds * 2 >= 3",
        "hose >= 3/4_in and hose < 1_1/4_in",
        "some bed in beds has (bed.beside is main_path)",
        "some bed in beds has (every hedge in bed.hedges has (hedge.in is bed), or unmet if there are none)",
    ] {
        assert!(checked(fits).is_ok(), "{fits}: {:?}", checked(fits));
    }
}
