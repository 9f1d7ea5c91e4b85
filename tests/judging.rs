//! The judge, the findings and the proving of books, on the toy garden of `laws`.

use undercroft::base::number::{Comparison, Dimension, Number, Quantity};
use undercroft::base::problem::Problem;
use undercroft::base::text::{SourceId, Span};
use undercroft::base::truth::Truth;
use undercroft::base::value::{Reason, Value};
use undercroft::base::vocabulary::{ROOT, Vocabulary, WordId};
use undercroft::findings::{Comes, Exit, Finding, Standing, Used, coverage, exit, gather, wanted};
use undercroft::judge::message::{self, Show};
use undercroft::judge::mutants::{Change, Tried, mutants};
use undercroft::judge::prove::{Act, Came, Designs, ProofReport, prove_rule};
use undercroft::judge::{About, Outcome, Verdict, judge, judge_rule, replay};
use undercroft::rulebook::cases::{self, Case};
use undercroft::rulebook::checked::{
    Basis, CheckedBook, CheckedRule, LimitWords, Message, Obligation, Piece, Sides, Stage, Stops,
};
use undercroft::rulebook::expr::typed::{Arithmetic, Expr, ExprType, IfNone, Node};

use crate::laws::toy::{
    self, BED, BEDS, Cell, DEPTH, FENCED, Garden, HEIGHT, LABEL, PATH, SOIL, SOILS, SUNNY, WATERED, WIDTH,
    a_limit, bed, book, compare, each, hedge, limit, not, number, of, or, root, rule, some, things, var,
};

fn at(start: usize) -> Span {
    Span::new(SourceId(1), start, start + 1)
}

/// "Every bed is at least 3 deep, or the garden is watered."
fn deep_beds() -> CheckedRule {
    let deep = compare(Comparison::AtLeast, of(var(0, BED), DEPTH), limit(0));
    CheckedRule {
        each: Some(each(0, "bed", root(BEDS))),
        variables: vec!["bed".to_owned()],
        limits: vec![a_limit("least_depth", 3, LimitWords::AtLeast)],
        unmet: Message(vec![
            Piece::Value(var(0, BED)),
            Piece::Words(" is ".to_owned()),
            Piece::Value(of(var(0, BED), DEPTH)),
            Piece::Words(" deep, not ".to_owned()),
            Piece::Value(limit(0)),
            Piece::Words("; label ".to_owned()),
            Piece::Value(of(var(0, BED), LABEL)),
        ]),
        ..rule("deep-beds", or(vec![deep, root(WATERED)]))
    }
}

fn two_beds() -> Garden {
    Garden::new()
        .with(BEDS, ROOT, things(&[bed(0), bed(1)]))
        .with(WATERED, ROOT, Value::Truth(false))
        .with(DEPTH, bed(0), number(2))
        .with(DEPTH, bed(1), number(3))
}

fn verdicts(rule: &CheckedRule, stage: Stage, garden: &mut Garden) -> Vec<(About, Verdict)> {
    judge_rule(rule, stage, garden).into_iter().map(|one| (one.about, one.verdict)).collect()
}

/// The entries that are missing, outcome by outcome.
fn missing(rule: &CheckedRule, garden: &mut Garden) -> Vec<Vec<String>> {
    judge_rule(rule, Stage::Operating, garden)
        .into_iter()
        .map(|one| one.missing.into_iter().map(|missing| missing.entry.to_string()).collect())
        .collect()
}

struct Plain;

impl Show for Plain {
    fn number(&mut self, number: &Number, _: Dimension, written: Option<&Quantity>) -> String {
        let mark = if written.is_some() { "*" } else { "" };
        format!("{}{mark}", number.as_exact().unwrap())
    }
}

#[test]
fn a_rule_is_asked_of_each_thing_and_a_limit_includes_itself() {
    assert_eq!(
        verdicts(&deep_beds(), Stage::Design, &mut two_beds()),
        [(About::Thing(bed(0)), Verdict::Unmet), (About::Thing(bed(1)), Verdict::Met)]
    );
}

#[test]
fn an_open_list_leaves_one_outcome_more_that_asks_for_the_statement() {
    let mut garden = two_beds();
    garden.set(BEDS, ROOT, Cell::Open(vec![bed(1)]));
    let all = judge_rule(&deep_beds(), Stage::Design, &mut garden);
    assert_eq!(all[0].verdict, Verdict::Met);
    assert_eq!((all[1].about, all[1].verdict), (About::List, Verdict::Undetermined));
    assert_eq!(all[1].missing[0].entry.as_str(), "beds");
    assert_eq!(all[1].missing[0].reason, Reason::NotSaidComplete);
}

#[test]
fn an_open_list_asks_for_nothing_where_nothing_on_it_could_matter() {
    let mut garden = two_beds().with(WATERED, ROOT, Value::Truth(true));
    garden.set(BEDS, ROOT, Cell::Open(Vec::new()));
    assert_eq!(verdicts(&deep_beds(), Stage::Design, &mut garden), [(About::List, Verdict::Met)]);
    let rule = CheckedRule { applies: Some(not(root(WATERED))), ..deep_beds() };
    assert_eq!(verdicts(&rule, Stage::Design, &mut garden), [(About::List, Verdict::NotApplicable)]);
}

#[test]
fn a_complete_empty_list_is_not_applicable_and_an_unknown_one_cannot_be_told() {
    let mut garden = two_beds().with(BEDS, ROOT, things(&[]));
    assert_eq!(verdicts(&deep_beds(), Stage::Design, &mut garden), [(About::List, Verdict::NotApplicable)]);
    garden.set(BEDS, ROOT, Cell::Hidden);
    assert_eq!(verdicts(&deep_beds(), Stage::Design, &mut garden), [(About::List, Verdict::Undetermined)]);
    assert_eq!(missing(&deep_beds(), &mut garden), [["beds"]]);
}

#[test]
fn what_is_due_later_is_not_yet_due_unless_it_surely_does_not_apply() {
    let rule = CheckedRule {
        due: Stage::Installed,
        applies: Some(root(FENCED)),
        each: None,
        ..rule("watered", root(WATERED))
    };
    let mut garden = Garden::new();
    assert_eq!(verdicts(&rule, Stage::Design, &mut garden), [(About::Whole, Verdict::NotYetDue)]);
    assert_eq!(verdicts(&rule, Stage::Installed, &mut garden), [(About::Whole, Verdict::Undetermined)]);
    let mut garden = garden.with(FENCED, ROOT, Value::Truth(false));
    assert_eq!(verdicts(&rule, Stage::Design, &mut garden), [(About::Whole, Verdict::NotApplicable)]);
}

#[test]
fn a_condition_that_cannot_be_told_asks_for_itself_and_for_what_it_would_bring_up() {
    let rule = CheckedRule { applies: Some(root(FENCED)), ..rule("watered", root(WATERED)) };
    assert_eq!(missing(&rule, &mut Garden::new()), [["fenced", "watered"]]);
    let mut garden = Garden::new().with(WATERED, ROOT, Value::Truth(true));
    assert_eq!(missing(&rule, &mut garden), [["fenced"]]);
}

#[test]
fn a_range_that_straddles_its_limit_asks_to_be_measured_closer() {
    let mut garden = two_beds();
    garden.set(DEPTH, bed(1), Cell::Within(2, 4));
    let all = judge_rule(&deep_beds(), Stage::Design, &mut garden);
    assert_eq!(all[1].verdict, Verdict::Undetermined);
    assert_eq!(all[1].missing[0].reason, Reason::Imprecise);
    assert_eq!(all[1].missing[0].entry.as_str(), "bed_1.depth");
    garden.set(DEPTH, bed(1), Cell::Within(3, 4));
    assert_eq!(verdicts(&deep_beds(), Stage::Design, &mut garden)[1].1, Verdict::Met);
}

#[test]
fn known_parts_decide_a_count_and_a_sum_where_they_can() {
    let sunny = |how, count: i64| {
        let limit = toy::expr(
            undercroft::rulebook::expr::typed::Node::Literal(Number::whole(count)),
            toy::count(0, root(BEDS), of(var(0, BED), SUNNY)).of_type,
        );
        let count = toy::count(0, root(BEDS), of(var(0, BED), SUNNY));
        CheckedRule { variables: vec!["bed".to_owned()], ..rule("sunny", compare(how, count, limit)) }
    };
    let mut garden = Garden::new().with(SUNNY, bed(0), Value::Truth(true));
    garden.set(BEDS, ROOT, Cell::Open(vec![bed(0), bed(1)]));
    let mut verdict = |rule: &CheckedRule| verdicts(rule, Stage::Design, &mut garden)[0].1;
    assert_eq!(verdict(&sunny(Comparison::AtLeast, 1)), Verdict::Met);
    assert_eq!(verdict(&sunny(Comparison::AtLeast, 2)), Verdict::Undetermined);
    assert_eq!(verdict(&sunny(Comparison::Less, 1)), Verdict::Unmet);
    assert_eq!(verdict(&sunny(Comparison::AtMost, 2)), Verdict::Undetermined);
}

#[test]
fn a_list_that_is_empty_means_what_the_rule_says_it_means() {
    let every = |if_none| {
        let body = of(var(0, BED), SUNNY);
        CheckedRule {
            variables: vec!["bed".to_owned()],
            ..rule("all-sunny", toy::every(0, root(BEDS), body, if_none))
        }
    };
    let mut garden = Garden::new().with(BEDS, ROOT, things(&[]));
    for (if_none, verdict) in [
        (IfNone::Met, Verdict::Met),
        (IfNone::Unmet, Verdict::Unmet),
        (IfNone::Undetermined, Verdict::Undetermined),
    ] {
        assert_eq!(verdicts(&every(if_none), Stage::Design, &mut garden)[0].1, verdict);
    }
    let all = judge_rule(&every(IfNone::Undetermined), Stage::Design, &mut garden);
    assert_eq!(all[0].missing[0].entry.as_str(), "beds");
    assert!(matches!(all[0].missing[0].reason, Reason::NotComputable(_)));
}

#[test]
fn a_reference_that_is_not_known_is_missing_and_not_the_field_beyond_it() {
    let height = of(of(var(0, BED), toy::NEXT_HEDGE), HEIGHT);
    let low = compare(Comparison::Less, height, toy::literal(2));
    let body = some(0, root(BEDS), low);
    let rule = CheckedRule { variables: vec!["bed".to_owned()], ..rule("low-hedge", body) };
    let mut garden = Garden::new().with(BEDS, ROOT, things(&[bed(0)])).with(HEIGHT, hedge(0), number(1));
    assert_eq!(missing(&rule, &mut garden), [["bed_0.next_hedge"]]);
    let mut garden = garden.with(toy::NEXT_HEDGE, bed(0), Value::Thing(hedge(0)));
    assert_eq!(verdicts(&rule, Stage::Design, &mut garden)[0].1, Verdict::Met);
}

#[test]
fn more_than_a_rule_may_take_is_undetermined_and_says_so() {
    let beds: Vec<_> = (0..110).map(bed).collect();
    let mut garden = Garden::new().with(BEDS, ROOT, things(&beds));
    for one in &beds {
        garden.set(SUNNY, *one, Cell::Known(Value::Truth(true)));
    }
    let inner = toy::every(2, root(BEDS), of(var(2, BED), SUNNY), IfNone::Met);
    let middle = toy::every(1, root(BEDS), inner, IfNone::Met);
    let outer = toy::every(0, root(BEDS), middle, IfNone::Met);
    let names = ["a", "b", "c"].map(str::to_owned).to_vec();
    let rule = CheckedRule { variables: names, ..rule("cubed", outer) };
    let all = judge_rule(&rule, Stage::Design, &mut garden);
    assert_eq!(all[0].verdict, Verdict::Undetermined);
    assert!(matches!(all[0].missing[0].reason, Reason::NotComputable(_)));
}

#[test]
fn an_expression_too_deep_to_follow_is_undetermined() {
    let deep = (0..400).fold(root(WATERED), |inner, _| not(inner));
    let mut garden = Garden::new().with(WATERED, ROOT, Value::Truth(true));
    assert_eq!(
        verdicts(&rule("deep", deep), Stage::Design, &mut garden),
        [(About::Whole, Verdict::Undetermined)]
    );
}

#[test]
fn a_trace_keeps_all_that_decided_and_the_numbers_that_were_compared() {
    let mut garden = two_beds();
    let trace = replay(&deep_beds(), About::Thing(bed(0)), Stage::Design, &mut garden);
    assert_eq!(trace.verdict, Verdict::Unmet);
    let kept: Vec<_> = trace.decisive.iter().map(|one| (one.fact, one.thing)).collect();
    assert_eq!(kept, [(DEPTH, bed(0)), (WATERED, ROOT)]);
    assert_eq!(trace.decisive[0].origin.stated[0].entry.as_str(), "bed_0.depth");
    assert_eq!(trace.compared.len(), 1);
    assert_eq!(trace.compared[0].holds, Truth::False);
    assert_eq!(trace.compared[0].left.fact, Some((DEPTH, bed(0))));
    assert!(trace.compared[0].right.limit.is_some());
    let met = replay(&deep_beds(), About::Thing(bed(1)), Stage::Design, &mut garden);
    let kept: Vec<_> = met.decisive.iter().map(|one| (one.fact, one.thing)).collect();
    assert_eq!(kept, [(DEPTH, bed(1))], "what did not matter is not kept");
}

#[test]
fn a_message_shows_values_bounds_and_what_is_not_stated() {
    let mut garden = two_beds();
    let said = |garden: &mut Garden| {
        let trace = replay(&deep_beds(), About::Thing(bed(0)), Stage::Design, garden);
        message::text(&trace.message, &mut Plain)
    };
    assert_eq!(said(&mut garden), "bed_0 is 2 deep, not 3*; label not stated: bed_0.label");
    garden.set(LABEL, bed(0), Cell::Known(Value::Text("peas".to_owned())));
    garden.set(DEPTH, bed(0), Cell::Within(1, 2));
    assert_eq!(said(&mut garden), "bed_0 is between 1 and 2 deep, not 3*; label peas");
    garden.set(DEPTH, bed(0), Cell::Hidden);
    assert_eq!(said(&mut garden), "bed_0 is not stated: bed_0.depth deep, not 3*; label peas");
}

#[test]
fn a_number_with_words_for_its_sides_is_shown_without_a_sign() {
    let mut garden = two_beds();
    let level = Node::Calculate(
        Arithmetic::Subtract,
        Box::new(of(var(0, BED), DEPTH)),
        Box::new(of(var(0, BED), PATH)),
    );
    let level = Expr { node: level, of_type: ExprType::Number(Dimension::LENGTH), at: at(0) };
    let words = |level: Option<&str>| Sides {
        above: "above".to_owned(),
        below: "below".to_owned(),
        level: level.map(str::to_owned),
    };
    let mut said = |own: i64, path: Cell, level_words: Option<&str>| {
        garden.set(DEPTH, bed(0), Cell::Known(number(own)));
        garden.set(PATH, bed(0), path);
        let rule = CheckedRule {
            unmet: Message(vec![Piece::Sided(level.clone(), words(level_words))]),
            ..deep_beds()
        };
        let trace = replay(&rule, About::Thing(bed(0)), Stage::Design, &mut garden);
        message::text(&trace.message, &mut Plain)
    };
    let known = |n| Cell::Known(number(n));
    assert_eq!(said(5, known(3), None), "2 above");
    assert_eq!(said(3, known(5), None), "2 below");
    assert_eq!(said(3, known(3), None), "0 above");
    assert_eq!(said(3, known(3), Some("level with")), "level with");
    assert_eq!(said(3, Cell::Within(1, 5), None), "between 2 below and 2 above");
}

#[test]
fn outcomes_come_by_place_and_name_whatever_the_order_of_books_and_rules() {
    let mut garden = two_beds();
    garden.places.insert(bed(0), at(40));
    garden.places.insert(bed(1), at(10));
    let other = || CheckedRule { name: "a-rule".to_owned(), ..deep_beds() };
    let named = |books: &[&CheckedBook], garden: &mut Garden| -> Vec<(String, About, Verdict)> {
        judge(books, Stage::Design, garden)
            .into_iter()
            .map(|one| {
                let of = books[one.book];
                (format!("{}/{}", of.name, of.rules[one.rule].name), one.about, one.verdict)
            })
            .collect()
    };
    let whole = || rule("watered", root(WATERED));
    let one = book("one", vec![deep_beds(), other(), whole()]);
    let two = book("two", vec![deep_beds()]);
    let turned = book("one", vec![whole(), other(), deep_beds()]);
    let first = named(&[&one, &two], &mut garden);
    assert_eq!(first, named(&[&two, &turned], &mut garden));
    let order: Vec<_> = first.iter().map(|(name, about, _)| (name.as_str(), *about)).collect();
    let (near, far) = (About::Thing(bed(1)), About::Thing(bed(0)));
    assert_eq!(
        order,
        [
            ("one/watered", About::Whole),
            ("one/a-rule", near),
            ("one/deep-beds", near),
            ("two/deep-beds", near),
            ("one/a-rule", far),
            ("one/deep-beds", far),
            ("two/deep-beds", far),
        ]
    );
}

// Findings.

fn found(books: &[(&CheckedBook, Standing)], garden: &mut Garden) -> Vec<Finding> {
    let used: Vec<Used<'_>> = books
        .iter()
        .map(|(book, standing)| Used { book, standing: *standing, in_force: true, proven: true })
        .collect();
    let list: Vec<&CheckedBook> = books.iter().map(|(book, _)| *book).collect();
    let outcomes: Vec<Outcome> = judge(&list, Stage::Design, garden);
    gather(&used, outcomes, garden)
}

#[test]
fn clauses_of_several_books_on_one_thing_make_one_finding_without_value_or_line() {
    let stricter = CheckedRule {
        limits: vec![a_limit("least_depth", 4, LimitWords::AtLeast)],
        obligation: Obligation::Should,
        ..deep_beds()
    };
    let (law, advice) = (book("law", vec![deep_beds()]), book("advice", vec![stricter]));
    let books = [(&advice, Standing::ForInformation), (&law, Standing::Adopted)];
    let mut garden = two_beds();
    let before = found(&books, &mut garden);
    assert_eq!(before.len(), 2);
    assert_eq!(before[1].identity, "garden/deep-beds of bed bed_1");
    assert_eq!(before[1].clauses.len(), 2);
    assert_eq!(before[1].verdict(), Verdict::Met, "a book for information does not set the headline");
    assert_eq!(before[1].clauses[1].verdict, Verdict::Unmet);
    garden.places.insert(bed(0), at(7));
    garden.set(DEPTH, bed(0), Cell::Known(number(1)));
    let mut after: Vec<String> = found(&books, &mut garden).into_iter().map(|one| one.identity).collect();
    after.sort();
    assert_eq!(after, before.iter().map(|one| one.identity.clone()).collect::<Vec<_>>());
}

#[test]
fn the_headline_is_the_worst_verdict_then_the_verb_then_the_order_of_books() {
    let weaker = CheckedRule { obligation: Obligation::Should, ..deep_beds() };
    let (first, second) = (book("first", vec![weaker]), book("second", vec![deep_beds()]));
    let books = [(&first, Standing::Adopted), (&second, Standing::ByContract)];
    let all = found(&books, &mut two_beds());
    assert_eq!(all[0].headline().unwrap().book, 1, "shall before should");
    let kinder = CheckedRule { limits: vec![a_limit("least_depth", 1, LimitWords::AtLeast)], ..deep_beds() };
    let second = book("second", vec![kinder]);
    let all = found(&[(&first, Standing::Adopted), (&second, Standing::Adopted)], &mut two_beds());
    assert_eq!(all[0].headline().unwrap().book, 0, "unmet before met, whatever the verb");
}

#[test]
fn where_sources_disagree_about_the_verb_a_failure_is_held_at_undetermined() {
    let disputed = book("law", vec![CheckedRule { disputed: true, ..deep_beds() }]);
    let all = found(&[(&disputed, Standing::Adopted)], &mut two_beds());
    assert_eq!(all[0].clauses[0].verdict, Verdict::Unmet);
    assert_eq!(all[0].verdict(), Verdict::Undetermined);
    assert_eq!(all[0].comes(), Comes::Disputed);
    assert_eq!(exit(true, None, &all), Exit::Undetermined { may_be_accepted: true });
}

#[test]
fn what_to_measure_next_puts_first_what_stops_work_then_what_most_ask_for() {
    let stops = CheckedRule { stops: Some(Stops::Drilling), ..rule("fenced", root(FENCED)) };
    let wide = |name: &str| rule(name, compare(Comparison::More, root(WIDTH), toy::literal(1)));
    let tall = rule("watered", root(WATERED));
    let law = book("law", vec![wide("wide"), wide("broad"), tall, stops]);
    let all = found(&[(&law, Standing::Adopted)], &mut Garden::new());
    let list: Vec<_> = wanted(&all, None, None)
        .into_iter()
        .map(|one| (one.missing.entry.to_string(), one.asked_for_by.len()))
        .collect();
    let expected = [("fenced", 1), ("width", 2), ("watered", 1)];
    assert_eq!(list, expected.map(|(entry, count)| (entry.to_owned(), count)));
}

#[test]
fn coverage_counts_verdicts_and_keeps_apart_what_is_met_on_memory() {
    let mut memory = deep_beds();
    memory.source.basis = Basis::Memory;
    let mut law = book("law", vec![deep_beds(), CheckedRule { name: "deep-too".to_owned(), ..memory }]);
    law.left_to_the_eye = vec![("4".to_owned(), "edges".to_owned())];
    let used = [Used { book: &law, standing: Standing::Adopted, in_force: true, proven: true }];
    let mut garden = two_beds();
    let outcomes = judge(&[&law], Stage::Design, &mut garden);
    let all = gather(&used, outcomes, &garden);
    let counted = coverage(&used, &all);
    assert_eq!(counted[0].came.get(&Comes::Met), Some(&2));
    assert_eq!(counted[0].came.get(&Comes::Unmet), Some(&2));
    assert_eq!(counted[0].met_on_trust, ["deep-too"]);
    assert_eq!((counted[0].left_to_the_eye, counted[0].not_held), (1, 0));
}

#[test]
fn the_status_is_the_first_that_holds_of_unreadable_unmet_undetermined() {
    let status = |rules: Vec<CheckedRule>, standing, garden: &mut Garden, accept| {
        let law = book("law", rules);
        let all = found(&[(&law, standing)], garden);
        exit(true, None, &all).status(accept)
    };
    let watered = || vec![rule("watered", root(WATERED))];
    let known = |holds| Garden::new().with(WATERED, ROOT, Value::Truth(holds));
    assert_eq!(exit(false, None, &[]).status(false), 2);
    assert_eq!(status(watered(), Standing::Adopted, &mut known(true), false), 0);
    assert_eq!(status(watered(), Standing::Adopted, &mut known(false), true), 1);
    assert_eq!(status(watered(), Standing::Adopted, &mut Garden::new(), false), 3);
    assert_eq!(status(watered(), Standing::Adopted, &mut Garden::new(), true), 0);
    // Nothing judged is never a success, and a book for information judges nothing.
    assert_eq!(status(Vec::new(), Standing::Adopted, &mut known(true), true), 3);
    assert_eq!(status(watered(), Standing::ForInformation, &mut known(true), true), 3);
    assert_eq!(status(watered(), Standing::Always, &mut known(true), true), 3);
    // Advice never fails.
    let advice = || vec![CheckedRule { obligation: Obligation::Should, ..rule("watered", root(WATERED)) }];
    assert_eq!(status(advice(), Standing::Adopted, &mut known(false), false), 0);
    // What work waits for is never accepted away, and fails whatever its verb.
    let stops = || {
        vec![CheckedRule {
            stops: Some(Stops::Drilling),
            obligation: Obligation::Should,
            ..rule("watered", root(WATERED))
        }]
    };
    assert_eq!(status(stops(), Standing::Adopted, &mut Garden::new(), true), 3);
    assert_eq!(status(stops(), Standing::Adopted, &mut known(false), true), 1);
}

// Proving.

/// Cases whose designs are gardens, by the name of the base design.
struct Gardens(Vec<(&'static str, Garden)>);

impl Designs for Gardens {
    fn vocabulary(&self) -> &Vocabulary {
        &self.0[0].1.vocabulary
    }

    fn with_case(&mut self, _: &CheckedBook, case: &Case, act: Act<'_>) -> Result<(), Vec<Problem>> {
        let (_, garden) = self.0.iter().find(|(name, _)| *name == case.from).unwrap();
        act(&mut garden.clone(), Stage::Operating);
        Ok(())
    }
}

fn case(from: &str, thing: Option<&str>, verdict: cases::Outcome) -> Case {
    Case {
        claim: format!("{from} is {verdict:?}"),
        from: from.to_owned(),
        with: Vec::new(),
        missing: Vec::new(),
        thing: thing.map(str::to_owned),
        stage: None,
        verdict,
        at: toy::nowhere(),
        verdict_at: toy::nowhere(),
        book: "law".to_owned(),
    }
}

fn gardens() -> Gardens {
    let mut open = two_beds();
    open.set(BEDS, ROOT, Cell::Open(Vec::new()));
    Gardens(vec![
        ("two", two_beds()),
        ("open", open),
        ("bare", two_beds().with(BEDS, ROOT, things(&[]))),
        ("wet", two_beds().with(WATERED, ROOT, Value::Truth(true))),
    ])
}

fn all_cases() -> Vec<Case> {
    use cases::Outcome::{Met, NotApplicable, Undetermined, Unmet};
    vec![
        case("two", Some("bed_0"), Unmet),
        case("two", Some("bed_1"), Met),
        case("open", None, Undetermined),
        case("bare", None, NotApplicable),
        case("wet", None, Met),
    ]
}

fn proof(requires: Expr, words: LimitWords, cases: Vec<Case>) -> ProofReport {
    let limits = vec![a_limit("least_depth", 3, words)];
    proof_of(CheckedRule { requires, limits, ..deep_beds() }, cases, Tried::Parts)
}

fn proof_of(rule: CheckedRule, cases: Vec<Case>, tried: Tried) -> ProofReport {
    let law = book("law", vec![rule]);
    let rule = prove_rule(&law, 0, &law.rules[0], &cases, tried, &mut gardens());
    ProofReport { book: law.name, rules: vec![rule] }
}

fn depth_is(how: Comparison) -> Expr {
    or(vec![compare(how, of(var(0, BED), DEPTH), limit(0)), root(WATERED)])
}

#[test]
fn a_rule_with_a_case_of_each_kind_and_a_limit_that_turns_as_it_says_is_proven() {
    let report = proof(depth_is(Comparison::AtLeast), LimitWords::AtLeast, all_cases());
    assert!(report.holds(), "{report:#?}");
    assert_eq!(report.cases(), 5);
    assert_eq!(report.rules[0].limits[0].turned, 2, "where it is watered the limit decides nothing");
}

#[test]
fn a_limit_that_turns_elsewhere_than_its_words_say_is_found() {
    for (how, words) in [
        (Comparison::More, LimitWords::AtLeast),
        (Comparison::AtLeast, LimitWords::MoreThan),
        (Comparison::AtLeast, LimitWords::AtMost),
    ] {
        let report = proof(depth_is(how), words, all_cases());
        assert!(!report.rules[0].limits[0].wrong.is_empty(), "{how:?} as {words:?}");
        assert!(!report.holds());
    }
    let right = [
        (Comparison::More, LimitWords::MoreThan),
        (Comparison::Less, LimitWords::LessThan),
        (Comparison::AtMost, LimitWords::AtMost),
    ];
    for (how, words) in right {
        let report = proof(depth_is(how), words, all_cases());
        assert!(report.rules[0].limits[0].holds(), "{how:?} as {words:?}: {report:#?}");
    }
}

#[test]
fn a_limit_is_found_inside_a_sum_and_one_that_no_case_decides_is_told() {
    use undercroft::rulebook::expr::typed::Arithmetic;
    let sum = toy::calculate(Arithmetic::Add, limit(0), toy::literal(1));
    let deep = compare(Comparison::AtLeast, of(var(0, BED), DEPTH), sum);
    let report = proof(or(vec![deep, root(WATERED)]), LimitWords::AtLeast, all_cases());
    assert_eq!(report.rules[0].limits[0].turned, 2);
    let wet = vec![case("wet", None, cases::Outcome::Met)];
    let report = proof(depth_is(Comparison::AtLeast), LimitWords::AtLeast, wet);
    assert!(!report.rules[0].limits[0].holds());
    assert_eq!(report.rules[0].lacking, [Verdict::Unmet, Verdict::Undetermined, Verdict::NotApplicable]);
}

#[test]
fn a_case_that_comes_out_otherwise_or_means_no_one_thing_is_told() {
    use cases::Outcome::{Met, Unmet};
    let cases =
        vec![case("two", Some("bed_0"), Met), case("two", None, Unmet), case("two", Some("bed_9"), Unmet)];
    let report = proof(depth_is(Comparison::AtLeast), LimitWords::AtLeast, cases);
    let came: Vec<&Came> = report.rules[0].cases.iter().map(|case| &case.came).collect();
    assert_eq!(came, [&Came::Otherwise(Verdict::Unmet), &Came::SeveralThings, &Came::NoSuchThing]);
}

#[test]
fn a_rule_that_always_applies_to_the_whole_needs_no_case_where_it_does_not() {
    let report = proof_of(rule("watered", root(WATERED)), Vec::new(), Tried::Parts);
    assert_eq!(report.rules[0].lacking, [Verdict::Met, Verdict::Unmet, Verdict::Undetermined]);
}

#[test]
fn a_part_that_decides_in_no_case_is_named() {
    let report = proof_of(deep_beds(), all_cases(), Tried::Parts);
    assert_eq!(report.changes(), (2, 2), "{report:#?}");
    let dry = all_cases().into_iter().filter(|case| case.from != "wet").collect();
    let report = proof_of(deep_beds(), dry, Tried::Parts);
    assert!(report.holds(), "cases that say too little are still right");
    let unseen: Vec<&Change> = report.rules[0].survivors.iter().map(|one| &one.change).collect();
    assert_eq!(unseen, [&Change::LeftOut]);
    assert_eq!(report.changes(), (2, 1));
}

#[test]
fn a_changed_operator_word_or_number_is_noticed_by_cases_that_hold_it() {
    let report = proof_of(deep_beds(), all_cases(), Tried::Everything);
    // Two parts left out and joined otherwise; two other comparisons; one contrary; two other limits.
    assert_eq!(report.changes(), (8, 8), "{report:#?}");
    // With a single bed far over the limit, moving the limit a little is not noticed.
    let deeper = Garden::new()
        .with(BEDS, ROOT, things(&[bed(0)]))
        .with(WATERED, ROOT, Value::Truth(false))
        .with(DEPTH, bed(0), number(30));
    let mut gardens = Gardens(vec![("deeper", deeper)]);
    let law = book("law", vec![deep_beds()]);
    let cases = vec![case("deeper", None, cases::Outcome::Met)];
    let proof = prove_rule(&law, 0, &law.rules[0], &cases, Tried::Everything, &mut gardens);
    assert!(proof.survivors.is_empty(), "of a rule that is not proven nothing is said: {proof:#?}");
}

#[test]
fn each_form_is_changed_in_each_way_it_can_be() {
    let vocabulary = toy::vocabulary();
    let changes = |requires: Expr| -> Vec<Change> {
        let rule = rule("form", requires);
        mutants(&rule, Tried::Everything, &vocabulary).into_iter().map(|mutant| mutant.change).collect()
    };
    let loam = |words: &[u16]| toy::is_word(of(var(0, BED), SOIL), words);
    assert_eq!(
        changes(loam(&[1])),
        [Change::Turned, Change::Word(SOILS, WordId(1), WordId(0)), Change::WordMore(SOILS, WordId(0))]
    );
    assert_eq!(
        changes(loam(&[0, 2])),
        [
            Change::Turned,
            Change::WordLess(SOILS, WordId(0)),
            Change::WordLess(SOILS, WordId(2)),
            Change::WordMore(SOILS, WordId(1))
        ]
    );
    assert_eq!(changes(loam(&[0, 1, 2])).len(), 4, "no word is left to let pass");
    assert_eq!(changes(not(root(FENCED))), [Change::Turned, Change::Turned]);
    assert_eq!(
        changes(toy::every(0, root(BEDS), of(var(0, BED), SUNNY), IfNone::Unmet)),
        [Change::Quantified, Change::IfNone(IfNone::Unmet, IfNone::Met), Change::Turned]
    );
    assert_eq!(changes(some(0, root(BEDS), of(var(0, BED), SUNNY))), [Change::Quantified, Change::Turned]);
}

#[test]
fn a_word_of_which_a_rule_is_never_asked_is_not_let_pass() {
    let vocabulary = toy::vocabulary();
    let soil = |words: &[u16]| toy::is_word(of(var(0, BED), SOIL), words);
    let changes = |applies: Expr, requires: Expr| -> Vec<Change> {
        let rule = CheckedRule { applies: Some(applies), ..rule("soils", requires) };
        mutants(&rule, Tried::Everything, &vocabulary).into_iter().map(|mutant| mutant.change).collect()
    };
    let dug = || toy::and(vec![of(var(0, BED), SUNNY), soil(&[1, 2])]);
    // Where the rule is asked may be put otherwise; what it asks there is of these two alone.
    let [more, in_place] = [Change::WordMore(SOILS, WordId(0)), Change::Word(SOILS, WordId(1), WordId(0))];
    let all = changes(dug(), soil(&[1]));
    assert!(all.contains(&Change::Word(SOILS, WordId(1), WordId(2))) && !all.contains(&in_place), "{all:?}");
    let all = changes(dug(), soil(&[1, 2]));
    assert_eq!(all.iter().filter(|change| **change == more).count(), 1, "{all:?}");
    let unlike = changes(dug(), toy::is_word(of(var(1, BED), SOIL), &[1]));
    assert!(unlike.contains(&in_place), "of another bed nothing is said: {unlike:?}");
    let wet = changes(of(var(0, BED), SUNNY), soil(&[1]));
    assert!(wet.contains(&in_place), "{wet:?}");
}

/// Two beds that are deep enough, and more of which it is only known that none is less deep than this.
fn deep_down(depth: i64, listed: &[u32]) -> Garden {
    let mut garden = two_beds();
    garden.set(DEPTH, bed(0), Cell::Known(number(9)));
    garden.set(BEDS, ROOT, Cell::OpenBelow(listed.iter().copied().map(bed).collect(), depth));
    garden
}

#[test]
fn what_is_known_of_the_rest_of_a_list_can_settle_it() {
    let rule = deep_beds();
    let limit = rule.limits[0].value.number.as_exact().unwrap().to_int().unwrap();
    for (depth, enough) in [(limit - 1, false), (limit, true), (limit + 1, true)] {
        let came = verdicts(&rule, Stage::Design, &mut deep_down(depth, &[0, 1]));
        let rest = came.iter().find(|(about, _)| *about == About::List).map(|(_, verdict)| *verdict);
        // What is no matter is not told of.
        assert_eq!(rest, (!enough).then_some(Verdict::Undetermined), "{depth}");
        let alone = if enough { Verdict::NotApplicable } else { Verdict::Undetermined };
        assert_eq!(verdicts(&rule, Stage::Design, &mut deep_down(depth, &[])), [(About::List, alone)]);
    }
    let all = judge_rule(&rule, Stage::Design, &mut deep_down(limit - 1, &[0, 1]));
    assert_eq!(all[2].missing[0].reason, Reason::LookedOnly(format!("{} m down", limit - 1)));
    // It is no thing that is counted, and nothing else is known of it.
    let sunny = CheckedRule { requires: of(var(0, BED), SUNNY), ..deep_beds() };
    let came = verdicts(&sunny, Stage::Design, &mut deep_down(limit + 1, &[]));
    assert_eq!(came, [(About::List, Verdict::Undetermined)]);
}
