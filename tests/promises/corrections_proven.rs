//! Promise 4: corrections are proven over all rules in force before they are offered, and none ever invents a measurement.
//!
//! Held over every example and over designs of the books' own cases: a sample of those in each run,
//! `UNDERCROFT_CORRECTIONS=all` for every one, `3/8` for the third of eight parts of them.

use std::collections::BTreeSet;

use undercroft::correct::{Corrections, Offer, Step, corrections_of};
use undercroft::design::designed::is_designed;
use undercroft::review::{DESIGN, Input, review};
use undercroft::rulebook::checked::{CheckedRule, Stage};
use undercroft::yaml::path::{Path, Step as Way};
use undercroft::yaml::scan;
use undercroft::yaml::splice::lay_over;

use super::{BOOKS, Tried, by_all_hands, by_all_hands_to_the_end, by_rule, every_case};
use crate::commands::{example, example_names};
use crate::correcting::{laws, of};
use undercroft::rulebook::cases::Outcome;

/// Of how many cases one is looked at in an ordinary run.
const ONE_OF: usize = 40;

/// Which case is looked at first, and of how many one from there on.
fn wanted() -> (usize, usize) {
    let said = std::env::var("UNDERCROFT_CORRECTIONS").unwrap_or_default();
    if said == "all" {
        return (0, 1);
    }
    let part = said.split_once('/').and_then(|(part, of)| Some((part.parse().ok()?, of.parse().ok()?)));
    part.map_or((0, ONE_OF), |(part, of): (usize, usize)| (part.saturating_sub(1), of.max(1)))
}

/// Holds everything that is offered for a text against the laws; how many there are, and how many are told in words.
fn held(text: &str) -> (usize, usize) {
    let all = of(text, &BOOKS);
    let design = &review(&Input { bytes: text.as_bytes(), ..Input::default() }, &BOOKS).design;
    let work = design.job.work.known().copied();
    for (_, _, proven) in all.offered() {
        for step in &proven.steps {
            let steps: Vec<String> = step
                .path()
                .steps
                .iter()
                .map(|step| match step {
                    Way::Key(key) => key.clone(),
                    Way::Item(at) => at.to_string(),
                })
                .collect();
            let steps: Vec<&str> = steps.iter().map(String::as_str).collect();
            // What is taped from a discharge that is moved, or was looked for about it, is worked out anew.
            let taped = ["from_discharge", "from_property_line"].iter().any(|key| steps.contains(key));
            if taped || steps.first() == Some(&"looked_for") {
                continue;
            }
            assert!(is_designed(&steps, work), "{} was found", step.path());
            if let Step::Set(_, value) | Step::Add(_, value) = step {
                assert!(
                    !value.contains("by:") && !value.contains("within:"),
                    "{value} claims to be measured"
                );
            }
        }
        assert!(!all.is_built(), "what is built is mended by work");
    }
    let offered = laws::holds(&all, text, &BOOKS);
    let words = all.mends.iter().flat_map(|mend| &mend.choices);
    (offered, words.filter(|choice| matches!(choice.offer, Offer::Words(_))).count())
}

#[test]
fn whatever_is_offered_for_an_example_keeps_the_laws() {
    let numbers: Vec<String> =
        example_names().iter().filter_map(|name| name.split('-').next().map(str::to_owned)).collect();
    let counts = by_all_hands_to_the_end(&numbers, |number| held(&example(number)));
    let (offered, words) = counts.iter().fold((0, 0), |(a, b), (c, d)| (a + c, b + d));
    println!("{} examples, {offered} corrections offered, {words} told in words", numbers.len());
    assert!(words + offered > 10, "{offered} and {words}");
}

#[test]
fn whatever_is_offered_for_a_case_of_the_books_keeps_the_laws() {
    let (first, one_of) = wanted();
    let mends = |tried: &&Tried| tried.rule.corrections.iter().any(|advice| !advice.changes.is_empty());
    let unmet = |tried: &&Tried| tried.case.verdict == Outcome::Unmet;
    let cases: Vec<&Tried> = every_case().iter().filter(mends).filter(unmet).collect();
    let taken: Vec<&Tried> = cases.iter().skip(first).step_by(one_of).copied().collect();
    let seen = by_all_hands_to_the_end(&taken, |tried| {
        let (offered, words) = held(&drawn(tried));
        (format!("{}/{}", tried.book.name, tried.rule.name), offered, words)
    });
    let offered: usize = seen.iter().map(|(_, offered, _)| offered).sum();
    let words: usize = seen.iter().map(|(.., words)| words).sum();
    let rules: BTreeSet<&String> = seen.iter().map(|(rule, ..)| rule).collect();
    println!(
        "{} of {} cases of {} rules: {offered} corrections offered, {words} told in words",
        taken.len(),
        cases.len(),
        rules.len()
    );
    assert!(offered > taken.len() / 2, "{offered}");
}

/// The house of a case under its own book, while it is still being drawn.
fn drawn(tried: &Tried) -> String {
    let books = format!("{{{}: adopted}}", tried.book.name);
    let (tree, _) = scan::read(DESIGN, &tried.text);
    let systems = Path::root().key("systems");
    let pairs = systems.resolve(&tree).map(|(node, _)| tree.pairs(node)).unwrap_or_default();
    let built = pairs.iter().filter(|pair| tree.get(pair.value, "installed").is_some());
    let built: Vec<String> = built.map(|pair| systems.key(&pair.key).key("installed").to_string()).collect();
    let built: Vec<&str> = built.iter().map(String::as_str).collect();
    lay_over(&tried.text, &[("job.rulebooks", books.as_str()), ("job.stage", "design")], &built).unwrap()
}

/// Corrections of a case for what is unmet of its own rule.
fn of_case(tried: &Tried) -> Corrections<'static> {
    let text = drawn(tried);
    let input = Input { name: "design.yaml", bytes: text.as_bytes(), ..Input::default() };
    corrections_of(&input, &BOOKS, |review, finding| {
        finding.clauses.iter().any(|clause| {
            let rule = review.used[clause.book].book.rules.get(clause.rule);
            rule.is_some_and(|rule| rule.name == tried.rule.name)
        })
    })
}

/// The titles of what a rule would change.
fn changes(rule: &CheckedRule) -> BTreeSet<&str> {
    rule.corrections.iter().filter(|one| !one.changes.is_empty()).map(|one| one.title.as_str()).collect()
}

/// A change of a rule that is proven in none of its cases: the rule, the words of the change, and why it was not.
type Unproven = (String, String, String);

/// The changes of a rule that are proven in none of its cases.
fn never_proven(cases: &[Tried]) -> Vec<Unproven> {
    let mut left = changes(cases[0].rule);
    let mut why = Vec::new();
    let unmet = |tried: &&Tried| tried.case.verdict == Outcome::Unmet && tried.case.stage.is_none();
    for tried in cases.iter().filter(unmet) {
        if left.is_empty() {
            break;
        }
        let found = of_case(tried);
        for choice in found.mends.iter().flat_map(|mend| &mend.choices) {
            match &choice.offer {
                Offer::Edits(_) => _ = left.remove(choice.title.as_str()),
                offer => why.push((choice.title.clone(), format!("{}: {offer:?}", tried.case.claim))),
            }
        }
    }
    let rule = format!("{}/{}", cases[0].book.name, cases[0].rule.name);
    let of = |title: &&str| {
        let why: Vec<&str> = why.iter().filter(|(of, _)| of == title).map(|(_, why)| why.as_str()).collect();
        (rule.clone(), (*title).to_owned(), why.join("; "))
    };
    left.iter().map(of).collect()
}

/// Changes that are proven in no case of their rule, each with why: they are told in words there.
const IN_NO_CASE: &[(&str, &str, &str)] = &[
    (
        "epa-1994/pipe-kept-from-freezing",
        "insulate the run where it is cold",
        "how much it takes is reckoned, and from air and temperatures that nobody knows to the last digit",
    ),
    (
        "sgm-sf-2020/gas-leaves-above-freezing",
        "insulate the pipe past the fan",
        "it asks of what is only reckoned",
    ),
];

/// A change that no case of its rule bears out is one that nobody has seen to work.
#[test]
fn every_change_of_a_rule_is_proven_in_a_case_of_the_rule() {
    let of_design =
        |cases: &&[Tried]| cases[0].rule.due == Stage::Design && !changes(cases[0].rule).is_empty();
    let rules: Vec<&[Tried]> = by_rule(every_case()).into_iter().filter(of_design).collect();
    let count: usize = rules.iter().map(|cases| changes(cases[0].rule).len()).sum();
    let mut never: Vec<Unproven> =
        by_all_hands(&rules, |cases| never_proven(cases)).into_iter().flatten().collect();
    never.sort();
    println!("{} rules with {count} changes, {} of them proven in no case", rules.len(), never.len());
    assert!(rules.len() > 300, "{}", rules.len());
    let known =
        |(rule, title, _): &&Unproven| IN_NO_CASE.iter().any(|(of, words, _)| of == rule && words == title);
    let new: Vec<&Unproven> = never.iter().filter(|said| !known(said)).collect();
    assert!(new.is_empty(), "{new:#?}");
    let said = |of: &str, words: &str| never.iter().any(|(rule, title, _)| rule == of && title == words);
    let proven: Vec<(&str, &str)> = IN_NO_CASE
        .iter()
        .map(|(of, words, _)| (*of, *words))
        .filter(|(of, words)| !said(of, words))
        .collect();
    assert!(proven.is_empty(), "these are proven now: {proven:?}");
}
