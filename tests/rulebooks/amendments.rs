//! Amendments: what they change, what they leave alone, and what is said when they cannot be laid over a rule.

use std::fmt::Write as _;

use undercroft::base::problem::{ProblemKind, Weight};
use undercroft::rulebook::cases::{Outcome, cases};
use undercroft::rulebook::checked::Obligation;

use super::dice::Dice;
use super::garden::{RULE, vocabulary};
use super::towns::{Desk, amendment, amendment_of, fingerprint};

const FILE: &str = "town/amendments/hedges.yaml";

fn with(middle: &str) -> Desk {
    Desk::town(RULE, &[(FILE, &amendment(middle))])
}

#[test]
fn a_book_takes_over_the_rules_of_the_one_it_builds_on() {
    let desk = Desk::town(RULE, &[]);
    let (parks, town) = (desk.book("parks"), desk.book("town"));
    assert_eq!(town.rules, parks.rules);
    assert_eq!(town.builds_on, ["parks"]);
    assert_eq!(town.not_held, parks.not_held);
    assert!(town.sources.iter().any(|document| document.name == "by-law"));
    assert!(town.base_design("plot", "parks").is_some());
    assert_ne!(town.digest(&vocabulary()), parks.digest(&vocabulary()));
}

#[test]
fn an_amended_limit_is_the_new_one_and_remembers_the_old_one() {
    let desk = with("change: {limits.clearance: {was: 3 ft, to: 5 ft}}\n");
    let rule = desk.rule();
    assert_eq!(rule.limits[0].value.to_string(), "5 ft");
    assert_eq!(rule.limits[1].value.to_string(), "2 ft");
    assert_ne!(rule.fingerprint(&vocabulary()), fingerprint(RULE));
    let author = &rule.authors.fields["limits.clearance"];
    assert_eq!((author.book.as_str(), author.text.as_str()), ("town", "5 ft"));
    assert_eq!(desk.sources.slice(author.at), "5 ft");
    assert_eq!(desk.sources.get(author.at.source).unwrap().name(), FILE);
    let by = author.amendment.as_ref().unwrap();
    assert_eq!((by.decided.by.as_str(), by.decided.on.as_str()), ("Town council", "2025-03-01"));
    let old = author.replaced.as_ref().unwrap();
    assert_eq!((old.book.as_str(), old.text.as_str()), ("parks", "3 ft"));
    assert_eq!(desk.sources.slice(old.at), "3 ft");
    assert_eq!(desk.book("parks").rules[0].limits[0].value.to_string(), "3 ft", "the base is as it was");
}

#[test]
fn verb_reason_and_condition_can_be_amended_and_fields_can_come_and_go() {
    let desk = with(
        "change:
  obligation: {was: shall, to: should}
  because: {was: A hedge that leans over a path wets everybody who walks by., to: Snow slides off high hedges.}
  applies: {was: hedge.in.sunny and open_to_visitors, to: open_to_visitors}
  requires: {was: hedge.clearance >= clearance or hedge.height <= low, to: hedge.clearance >= clearance}
  limits.low: {was: 24 in, to: none}
  note: {was: none, to: Measured from the leaves.}
  corrections: {was: none, to: none}
",
    );
    assert!(desk.refused().contains("`corrections`"), "{}", desk.refused());
    let desk = with(
        "change:
  obligation: {was: shall, to: should}
  applies: {was: hedge.in.sunny and open_to_visitors, to: none}
  limits.low.words: {was: at most, to: less than}
  requires: {was: hedge.clearance >= clearance or hedge.height <= low, to: hedge.clearance >= clearance or hedge.height < low}
  note: {was: none, to: Measured from the leaves.}
",
    );
    let rule = desk.rule();
    assert_eq!((rule.obligation, rule.applies.as_ref()), (Obligation::Should, None));
    assert_eq!(rule.note, "Measured from the leaves.");
    assert_eq!(desk.sources.slice(rule.requires.at), "hedge.clearance >= clearance or hedge.height < low");
    let gone = &rule.authors.fields["applies"];
    assert!(gone.text.is_empty() && gone.replaced.is_some());
    assert!(rule.authors.fields["note"].replaced.is_none());
    assert_eq!(rule.authors.amended().count(), 5);
}

#[test]
fn a_limit_can_be_added_and_used() {
    let desk = with(
        "change:
  limits.high: {was: none, to: 6 ft}
  limits.high.words: {was: none, to: at most}
  requires: {was: hedge.clearance >= clearance or hedge.height <= low, to: hedge.height <= high and (hedge.clearance >= clearance or hedge.height <= low)}
",
    );
    assert_eq!(desk.rule().limits[2].value.to_string(), "6 ft");
    assert!(desk.rule().authors.fields["limits.high"].replaced.is_none());
}

#[test]
fn a_rule_can_be_withdrawn_and_one_of_its_name_put_in_its_place() {
    let desk = with("withdraw: yes\n");
    let town = desk.book("town");
    assert!(town.rules.is_empty());
    assert_eq!(town.withdrawn[0].rule, "hedge-clear-of-path");
    assert_eq!(town.withdrawn[0].amendment.because, "Snow slides off high hedges.");
    assert_eq!(desk.book("parks").rules.len(), 1);
    let own = RULE.replace("value: 3 ft", "value: 4 ft");
    let path = "town/hedges/hedge-clear-of-path.yaml";
    let desk = Desk::town(RULE, &[(FILE, &amendment("withdraw: yes\n")), (path, &own)]);
    assert_eq!(desk.rule().limits[0].value.to_string(), "4 ft");
    let desk = Desk::town(RULE, &[(path, &own)]);
    assert_eq!(desk.faults("town")[0].kind, ProblemKind::RulesCollide);
}

/// What is changed, by the amendments of one book, and what is said of it.
const REFUSED: &[(&str, &[&str])] = &[
    ("a value that was never there", &["change: {limits.clearance: {was: 4 ft, to: 5 ft}}\n"]),
    ("a reason that was never there", &["change: {because: {was: It is nicer., to: It is nicest.}}\n"]),
    (
        "a condition that was never there",
        &["change: {applies: {was: open_to_visitors, to: hedge.clipped}}\n"],
    ),
    ("a note that is not there", &["change: {note: {was: a note, to: another}}\n"]),
    ("a limit misspelt", &["change: {limits.clearence: {was: 3 ft, to: 5 ft}}\n"]),
    ("a field misspelt", &["change: {obligtion: {was: shall, to: should}}\n"]),
    ("another unit", &["change: {limits.clearance: {was: 3 ft, to: 5 sq ft}}\n"]),
    ("no quantity", &["change: {limits.clearance: {was: 3 ft, to: far}}\n"]),
    ("a verb that is none", &["change: {obligation: {was: shall, to: must}}\n"]),
    (
        "a condition misspelt",
        &["change: {applies: {was: open_to_visitors and hedge.in.sunny, to: hedge.cliped}}\n"],
    ),
    ("a limit that is used goes", &["change: {limits.low: {was: 2 ft, to: none}}\n"]),
    (
        "the reason goes",
        &[
            "change: {because: {was: A hedge that leans over a path wets everybody who walks by., to: none}}\n",
        ],
    ),
    (
        "withdrawn and changed in one file",
        &["withdraw: yes\nchange: {obligation: {was: shall, to: should}}\n"],
    ),
    (
        "withdrawn and changed in two files",
        &["withdraw: yes\n", "change: {obligation: {was: shall, to: should}}\n"],
    ),
    (
        "two that disagree",
        &["change: {limits.low: {was: 2 ft, to: 3 ft}}\n", "change: {limits.low: {was: 2 ft, to: 1 ft}}\n"],
    ),
];

#[test]
fn what_is_said_of_amendments_that_cannot_be_laid_over_their_rule() {
    let mut page = String::new();
    for (what, middles) in REFUSED {
        let texts: Vec<(String, String)> = middles
            .iter()
            .enumerate()
            .map(|(at, middle)| (format!("town/amendments/a{at}.yaml"), amendment(middle)))
            .collect();
        let files: Vec<(&str, &str)> =
            texts.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
        let _ = writeln!(page, "# {what}\n{}", Desk::town(RULE, &files).refused());
    }
    let own = amendment_of("town/hedge-clear-of-path", &fingerprint(RULE), "withdraw: yes\n");
    let far = amendment_of("state/hedge-clear-of-path", &fingerprint(RULE), "withdraw: yes\n");
    let misspelt = amendment_of("parks/hedge-clear-of-paths", &fingerprint(RULE), "withdraw: yes\n");
    let (nobody, _) = misspelt.rsplit_once("decided").unwrap();
    let short = amendment_of("parks/hedge-clear-of-path", "r-12", "withdraw: yes\n");
    for (what, text) in [
        ("a rule of one's own", own.as_str()),
        ("a rule of a book that is not below", far.as_str()),
        ("a rule that nothing is called", misspelt.as_str()),
        ("a fingerprint cut short", short.as_str()),
        ("nobody's decision", nobody),
    ] {
        let _ = writeln!(page, "# {what}\n{}", Desk::town(RULE, &[(FILE, text)]).refused());
    }
    insta::assert_snapshot!(page);
}

#[test]
fn when_the_rule_has_changed_since_the_amendment_does_not_apply_and_nothing_else_does() {
    let written = amendment("change: {limits.clearance: {was: 3 ft, to: 5 ft}}\n");
    let moved = RULE.replace("value: 3 ft", "value: 4 ft");
    let desk = Desk::town(&moved, &[(FILE, &written)]);
    assert_eq!(desk.faults("town").len(), 1, "{}", desk.refused());
    let problem = &desk.faults("town")[0];
    assert_eq!((problem.kind, problem.kind.weight()), (ProblemKind::BaseMoved, Weight::Whole));
    assert!(problem.found.contains("`limits.clearance` was `3 ft` and is `4 ft`"), "{}", problem.found);
    assert_eq!(desk.sources.slice(problem.also[0].0), "4 ft");
    assert!(problem.accepts.contains(&fingerprint(&moved)), "{}", problem.accepts);
    let elsewhere = Desk::town(&RULE.replace("due: design", "due: installed"), &[(FILE, &written)]);
    assert!(elsewhere.faults("town")[0].found.contains("something else of it changed"));
    // What is no part of the meaning may move.
    let same = Desk::town(&RULE.replace("title: Hedges kept", "title: Hedges are kept"), &[(FILE, &written)]);
    assert_eq!(same.rule().limits[0].value.to_string(), "5 ft");
}

#[test]
fn amending_with_the_values_of_the_base_changes_no_verdict_and_is_told() {
    for (field, same) in [
        ("limits.clearance", "{was: 3 ft, to: 36 in}"),
        ("limits.clearance.words", "{was: at least, to: at least}"),
        ("obligation", "{was: shall, to: shall}"),
        ("disputed", "{was: none, to: no}"),
        ("source.section", "{was: 4.2, to: 4.2}"),
        ("applies", "{was: open_to_visitors and hedge.in.sunny, to: hedge.in.sunny and open_to_visitors}"),
        (
            "requires",
            "{was: hedge.clearance >= clearance or hedge.height <= low, to: low >= hedge.height or hedge.clearance >= clearance}",
        ),
        ("note", "{was: none, to: none}"),
    ] {
        let desk = with(&format!("change: {{{field}: {same}}}\n"));
        // A rule judges by nothing but what stands in it.
        assert_eq!(desk.book("town").rules, desk.book("parks").rules, "{field}");
        let doubts = &desk.book("town").doubts;
        assert_eq!(doubts.len(), 1, "{field}: {}", desk.shown(doubts));
        assert_eq!(doubts[0].kind, ProblemKind::ChangesNothing);
        assert_eq!(doubts[0].kind.weight(), Weight::Doubt);
        assert_eq!(doubts[0].also.len(), 1, "both places");
    }
    let nothing = with("");
    assert_eq!(nothing.book("town").doubts[0].kind, ProblemKind::ChangesNothing);
}

#[test]
fn two_amendments_that_say_the_same_are_one_and_the_second_is_told() {
    let one = amendment("change: {limits.low: {was: 2 ft, to: 1 ft}}\n");
    let other = amendment("change: {limits.low: {was: 2 ft, to: 12 in}}\n");
    let files = [("town/amendments/a.yaml", one.as_str()), ("town/amendments/b.yaml", other.as_str())];
    let (this, that) = (Desk::town(RULE, &files), Desk::town(RULE, &[files[1], files[0]]));
    for desk in [&this, &that] {
        let author = &desk.rule().authors.fields["limits.low"];
        assert_eq!(author.text, "1 ft", "the first by name, whatever was read first");
        assert_eq!(desk.book("town").doubts.len(), 1);
    }
}

#[test]
fn a_case_of_the_base_that_an_amendment_turns_is_said_anew() {
    let desk = with("change: {limits.clearance: {was: 3 ft, to: 5 ft}}\n");
    assert_eq!(cases(desk.book("town"), desk.rule(), &desk.sources).unwrap().len(), 2);
    let text = amendment("change: {limits.clearance: {was: 3 ft, to: 5 ft}}\n")
        + "cases:\n  - {claim: a low hedge may stand close, verdict: unmet}\n\
           \x20 - {claim: a new one, from: plot, at: front, verdict: met}\n";
    let desk = Desk::town(RULE, &[(FILE, &text)]);
    let found = cases(desk.book("town"), desk.rule(), &desk.sources).unwrap();
    assert_eq!(found.len(), 3);
    assert_eq!((found[0].verdict, found[0].with.len()), (Outcome::Unmet, 2));
    assert_eq!(desk.sources.get(found[0].verdict_at.source).unwrap().name(), FILE);
    assert_eq!((found[2].claim.as_str(), found[2].book.as_str()), ("a new one", "town"));
    for broken in [
        "cases:\n  - {claim: a low hedge may stand closer, verdict: unmet}\n",
        "cases:\n  - {claim: a low hedge may stand close, at: front, verdict: unmet}\n",
    ] {
        let text = amendment("change: {limits.clearance: {was: 3 ft, to: 5 ft}}\n") + broken;
        let desk = Desk::town(RULE, &[(FILE, &text)]);
        assert!(cases(desk.book("town"), desk.rule(), &desk.sources).is_err(), "{broken}");
    }
}

/// Fields of the rule, each with what stands there and two things that could.
const FIELDS: &[(&str, &str, [&str; 2])] = &[
    ("limits.clearance", "3 ft", ["4 ft", "90 cm"]),
    ("limits.low", "2 ft", ["1 ft", "30 in"]),
    ("obligation", "shall", ["should", "may"]),
    ("due", "design", ["installed", "operating"]),
    ("stops", "none", ["drilling", "start_up"]),
    ("title", "Hedges kept clear of the path", ["Hedges", "Clear paths"]),
    ("because", "A hedge that leans over a path wets everybody who walks by.", ["Snow.", "Rain."]),
    ("applies", "open_to_visitors and hedge.in.sunny", ["hedge.clipped", "none"]),
    ("note", "none", ["One.", "Two."]),
    ("source.section", "4.2", ["5", "none"]),
    ("interpretation", "none", ["So.", "Or so."]),
    (
        "requires",
        "hedge.clearance >= clearance or hedge.height <= low",
        [
            "hedge.clearance >= clearance and hedge.height <= low",
            "hedge.height <= low or not hedge.clearance < clearance",
        ],
    ),
];

/// Promise 8, over random amendments on two levels: each field says who put it there, and changing one changes
/// no other.
#[test]
fn every_field_knows_its_author_and_changing_one_changes_no_other() {
    let mut dice = Dice::new();
    for round in 0..400 {
        // What each field is after each book, and in which file that was said.
        let mut stands: Vec<(String, String)> =
            FIELDS.iter().map(|(_, was, _)| ((*was).to_owned(), "parks".to_owned())).collect();
        let mut files = vec![("parks/book.yaml".to_owned(), super::garden::BOOK.to_owned())];
        files.push((super::towns::RULE_FILE.to_owned(), RULE.to_owned()));
        files.push(("parks/cases/plot.yaml".to_owned(), "beds: {}\n".to_owned()));
        let mut below = "parks".to_owned();
        for book in ["county", "town"] {
            let text = super::towns::TOWN
                .replace("book: town", &format!("book: {book}"))
                .replace("builds_on: parks", &format!("builds_on: {below}"))
                .replace("by-law-7", &format!("by-law-of-{book}"));
            files.push((format!("{book}/book.yaml"), text));
            let desk = desk_of(&files);
            let fingerprint = desk.book(&below).rules[0].fingerprint(&vocabulary());
            let mut changed = Vec::new();
            for _ in 0..dice.below(4) {
                let field = dice.below(FIELDS.len());
                if !changed.contains(&field) {
                    changed.push(field);
                }
            }
            for (number, field) in changed.iter().enumerate() {
                let (name, _, others) = FIELDS[*field];
                let (was, _) = stands[*field].clone();
                let to = others[dice.below(2)];
                if to == was {
                    continue;
                }
                let middle = format!("change:\n  {name}:\n    was: \"{was}\"\n    to: \"{to}\"\n");
                let path = format!("{book}/amendments/a{number}.yaml");
                let rule = format!("{below}/hedge-clear-of-path");
                files.push((path.clone(), amendment_of(&rule, &fingerprint, &middle)));
                stands[*field] = (to.to_owned(), path);
            }
            below = book.to_owned();
        }
        // Whatever order the files are read in.
        for last in (1..files.len()).rev() {
            files.swap(last, dice.below(last + 1));
        }
        let desk = desk_of(&files);
        let rule = desk.rule();
        let base = &desk.book("parks").rules[0];
        for ((name, was, _), (text, path)) in FIELDS.iter().zip(&stands) {
            let Some(author) = rule.authors.fields.get(*name) else {
                assert_eq!((text.as_str(), path.as_str()), ("none", "parks"), "{round}: {name}");
                continue;
            };
            let said = if author.text.is_empty() { "none".to_owned() } else { author.text.clone() };
            assert_eq!(said.split_whitespace().collect::<Vec<_>>().join(" "), *text, "{round}: {name}");
            let file = desk.sources.get(author.at.source).unwrap().name();
            if path == "parks" {
                assert!(author.amendment.is_none(), "{round}: {name}");
                assert_eq!(Some(author), base.authors.fields.get(*name), "{round}: {name}");
            } else {
                assert_eq!(file, path, "{round}: {name}");
                assert_eq!(desk.sources.slice(author.at).trim_matches('"'), text, "{round}: {name}");
                // Back through what was replaced one comes to the rule's own file, or to nothing.
                let mut first = author;
                while let Some(old) = &first.replaced {
                    first = old;
                }
                assert_eq!(first.amendment.is_some(), *was == "none", "{round}: {name}");
            }
        }
        let others = |name: &&String| !FIELDS.iter().any(|(field, ..)| field == name);
        for name in base.authors.fields.keys().filter(others) {
            assert_eq!(rule.authors.fields.get(name), base.authors.fields.get(name), "{round}: {name}");
        }
        let alike = |one: usize| stands[one].1 == "parks";
        assert!(!alike(0) || rule.limits[0] == base.limits[0]);
        assert!(!alike(2) || rule.obligation == base.obligation);
        assert!(!alike(7) || rule.applies == base.applies);
        assert!(!alike(11) || rule.requires == base.requires);
        assert_eq!(
            (&rule.unmet, &rule.each, &rule.corrections),
            (&base.unmet, &base.each, &base.corrections)
        );
    }
}

fn desk_of(files: &[(String, String)]) -> Desk {
    let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
    Desk::of(&files)
}
