//! Promise 11: whole messages. Every rule, in every case where something is left to do: thing, place, found and
//! needed with units, reason, clause with edition and basis, interpretation where there was a choice, next step.

use std::collections::{BTreeMap, BTreeSet};

use undercroft::base::problem::{Problem, ProblemKind};
use undercroft::base::text::{SourceId, Span};
use undercroft::findings::finding::{Subject, is_open};
use undercroft::judge::verdict::Role;
use undercroft::render::phrases::basis_short;
use undercroft::render::tell::finding::{Background, card};
use undercroft::render::tell::numbers::Styles;
use undercroft::render::words;
use undercroft::review::books::vocabulary;
use undercroft::review::{Input, review};
use undercroft::rulebook::cases::Outcome;
use undercroft::yaml::splice::lay_over;

use super::{BOOKS, Tried, by_all_hands, every_case};

/// Holds what is said of some cases of one book that have the same text and the same stage against what belongs to it.
/// Gives the rules of which something was said.
fn told_of(cases: &[&Tried]) -> BTreeSet<String> {
    let mut told = BTreeSet::new();
    let Tried { book, case, text, .. } = cases[0];
    let books = format!("{{{}: adopted}}", book.name);
    let mut values = vec![("job.rulebooks", books.as_str())];
    if let Some(stage) = case.stage {
        values.push(("job.stage", stage.word()));
    }
    let text = lay_over(text, &values, &[]).unwrap();
    let review = review(&Input { name: "a.yaml", bytes: text.as_bytes(), ..Input::default() }, &BOOKS);
    let styles = Styles::default();
    let background = Background {
        styles: &styles,
        sources: &review.sources,
        used: &review.used,
        vocabulary: vocabulary(),
        on_file: &review.variances,
        name_of: &review,
    };
    for tried in cases {
        let own = name_of(tried);
        for finding in &review.findings {
            let Some(clause) = finding.headline() else { continue };
            let Some(rule) = background.rule(clause) else { continue };
            let cited = |one: &undercroft::findings::Clause| {
                let by = background.rule(one).is_some_and(|rule| rule.name == tried.rule.name);
                by && review.used[one.book].book.name == tried.book.name && is_open(one.shown())
            };
            if !finding.clauses.iter().any(cited) {
                continue;
            }
            let card = card(finding, &background);
            // Where another book's clause gives the headline, this one is told beside it.
            if let Some(beside) = finding.clauses.iter().skip(1).find(|one| cited(one)) {
                let section = &background.rule(beside).unwrap().source.section;
                assert!(
                    card.rows.iter().any(|(label, text)| label == "and" && text.contains(section)),
                    "{own}: {card:#?}"
                );
                told.insert(own.clone());
            }
            if !cited(clause) {
                continue;
            }
            told.insert(own.clone());
            let says = |label: &str| {
                card.rows
                    .iter()
                    .filter(|(own, _)| own == label)
                    .map(|(_, text)| text.as_str())
                    .collect::<Vec<_>>()
            };
            let case = format!("{own}, case \"{}\": {card:#?}", tried.case.claim);
            assert!(!card.title.is_empty() && !card.verdict.is_empty(), "{case}");
            if let Subject::Thing { kind, name } = &finding.of {
                assert!(kind == name || !card.thing.is_empty(), "{case}");
                assert!(card.place.starts_with("line "), "{case}");
            }
            assert!(card.sentence.len() > 15 && card.sentence.ends_with(['.', '!', '?']), "{case}");
            assert!(!card.sentence.contains(['{', '}', '`']), "{case}");
            assert!(says("why").iter().all(|why| why.len() > 20), "{case}");
            let book = review.used.iter().find(|used| used.book.name == tried.book.name).unwrap().book;
            let clause_row = says("clause").join(" ");
            assert!(clause_row.contains(&book.name), "{case}");
            assert!(clause_row.contains(basis_short(rule.source.basis)), "{case}");
            assert!(rule.source.section.is_empty() || clause_row.contains(&rule.source.section), "{case}");
            if !rule.interpretation.is_empty() {
                assert!(
                    says("read as").iter().any(|said| said.contains(rule.interpretation.trim())),
                    "{case}"
                );
            }
            let trace = clause.trace.as_ref().unwrap();
            if clause.missing.is_empty() {
                assert!(!says("to mend").is_empty() || rule.corrections.is_empty(), "{case}");
            } else {
                let settle = [says("to settle"), says("and")].concat().join(" ");
                for missing in &clause.missing {
                    for key in missing.entry.as_str().split('.') {
                        assert!(settle.contains(key), "{case}");
                    }
                }
            }
            if !trace.compared.is_empty() {
                // What makes a requirement be asked is never shown as what it demands.
                let demands = trace.compared.iter().any(|one| one.role == Role::Requires);
                assert!(demands || says("needed").is_empty(), "{case}");
                // Of two numbers that are both not stated nothing is said but that they are missing.
                let told = !says("needed").is_empty() && !says("found").is_empty();
                assert!(!demands || told || !clause.missing.is_empty(), "{case}");
                for needed in says("needed") {
                    // A limit that the design itself sets may be one that it does not state; and where a side of nothing is
                    // asked for, or anything will do, no number says it.
                    let without = ["not known", "above", "below", "toward", "away from", "any at all"];
                    let digit = needed.chars().any(|c| c.is_ascii_digit());
                    assert!(digit || without.iter().any(|words| needed.contains(words)), "{case}");
                }
            }
            assert!(!card.marks.is_empty() || finding.at.is_none() || !clause.missing.is_empty(), "{case}");
        }
    }
    told
}

fn name_of(tried: &Tried) -> String {
    format!("{}/{}", tried.book.name, tried.rule.name)
}

#[test]
fn every_rule_says_all_that_belongs_to_it() {
    let rules: BTreeSet<String> = every_case().iter().map(name_of).collect();
    // Cases of a book that have the same text are looked at in one review.
    let mut alike: BTreeMap<(&str, &str, Option<&str>), Vec<&Tried>> = BTreeMap::new();
    for tried in every_case() {
        // Where nothing is left to do nothing is said of it.
        if !matches!(tried.case.verdict, Outcome::Met | Outcome::NotApplicable) {
            let of = (tried.book.name.as_str(), &*tried.text, tried.case.stage.map(|stage| stage.word()));
            alike.entry(of).or_default().push(tried);
        }
    }
    let alike: Vec<Vec<&Tried>> = alike.into_values().collect();
    let told: BTreeSet<String> = by_all_hands(&alike, |cases| told_of(cases)).into_iter().flatten().collect();
    let silent: Vec<&String> = rules.difference(&told).collect();
    assert!(silent.is_empty(), "rules that no case shows open: {silent:?}");
}

#[test]
fn every_kind_of_problem_is_said_with_its_place_and_what_to_do() {
    for kind in ProblemKind::ALL {
        let problem = Problem::new(*kind, Span::new(SourceId(0), 0, 4));
        let said = words::of(&problem);
        assert!(said.what.len() > 15 && said.why.len() > 15 && said.todo.len() > 10, "{kind:?}: {said:?}");
    }
}
