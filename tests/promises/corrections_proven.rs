//! Promise 4: corrections are proven over all rules in force before they are offered, and none ever invents a measurement.
//!
//! Held over every example and over designs of the books' own cases: a sample of those in each run,
//! `UNDERCROFT_CORRECTIONS=all` for every one.

use std::collections::BTreeSet;

use undercroft::correct::{Offer, Step};
use undercroft::design::designed::is_designed;
use undercroft::review::{Input, review};
use undercroft::yaml::path::Step as Way;
use undercroft::yaml::splice::lay_over;

use super::{BOOKS, Tried, by_two_hands, every_case};
use crate::commands::{example, example_names};
use crate::correcting::{laws, of};
use undercroft::rulebook::cases::Outcome;

/// Of how many cases one is looked at in an ordinary run.
const ONE_OF: usize = 40;

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
    let counts = by_two_hands(&numbers, |number| held(&example(number)));
    let (offered, words) = counts.iter().fold((0, 0), |(a, b), (c, d)| (a + c, b + d));
    println!("{} examples, {offered} corrections offered, {words} told in words", numbers.len());
    assert!(words + offered > 10, "{offered} and {words}");
}

#[test]
fn whatever_is_offered_for_a_case_of_the_books_keeps_the_laws() {
    let all = std::env::var("UNDERCROFT_CORRECTIONS").is_ok_and(|which| which == "all");
    let mends = |tried: &&Tried| tried.rule.corrections.iter().any(|advice| !advice.changes.is_empty());
    let unmet = |tried: &&Tried| tried.case.verdict == Outcome::Unmet;
    let cases: Vec<&Tried> = every_case().iter().filter(mends).filter(unmet).collect();
    let taken: Vec<&Tried> =
        cases.iter().enumerate().filter(|(at, _)| all || at % ONE_OF == 0).map(|(_, tried)| *tried).collect();
    let seen = by_two_hands(&taken, |tried| {
        let books = format!("{{{}: adopted}}", tried.book.name);
        let text = lay_over(&tried.text, &[("job.rulebooks", &books)], &[]).unwrap();
        let (offered, words) = held(&text);
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
}
