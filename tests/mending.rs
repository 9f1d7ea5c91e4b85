//! What mends a requirement: which rules of a book speak of a change that a program can make, why the others have words
//! alone, and that every change leads to an entry that is designed. That what is offered holds is held by `promises`.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use undercroft::base::vocabulary::FactShape;
use undercroft::design::designed::is_designed;
use undercroft::design::model::job::Work;
use undercroft::facts::catalogue::vocabulary;
use undercroft::review::Library;
use undercroft::rulebook::checked::{CheckedRule, Stage};
use undercroft::rulebook::corrections::{Change, pattern};
use undercroft::rulebook::expr::typed::{Expr, Node};

use crate::promises::BOOKS;

/// Why a rule has no change for a program to make, told by what it asks for; the first that fits.
const WHY: [(&str, &[&str]); 4] = [
    ("measured or tested", &["radon_tests", "start_up", "rounds", "diagnostics", "job.worker_safety"]),
    ("found at the house", &["before_drilling", "looked_for", "site"]),
    ("on paper or on record", &["papers", "job"]),
    ("worked out from several entries", &[]),
];

/// What is left: the entry can be written, and what to write is for a person to choose.
const CHOICE: &str = "a choice between designs";

fn facts(expr: &Expr) -> Vec<&'static FactShape> {
    let mut found = Vec::new();
    expr.walk(&mut |one| {
        if let Node::Fact(_, id) = &one.node {
            found.extend(vocabulary().fact(*id));
        }
    });
    found
}

fn has_change(rule: &CheckedRule) -> bool {
    rule.corrections.iter().any(|advice| !advice.changes.is_empty())
}

/// Why the corrections of a rule are words alone.
fn why(rule: &CheckedRule) -> &'static str {
    let facts = facts(&rule.requires);
    for (word, sections) in WHY {
        let within = |need: &String| {
            sections.iter().any(|section| {
                need.strip_prefix(section).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
            })
        };
        let rests = |fact: &&FactShape| !fact.needs.is_empty() && fact.needs.iter().all(within);
        let worked_out = |fact: &&FactShape| !fact.formula.is_empty();
        let fits = if sections.is_empty() { facts.iter().any(worked_out) } else { facts.iter().any(rests) };
        if fits {
            return word;
        }
    }
    CHOICE
}

/// What of each book can be mended by a program, and why the rest cannot.
pub(crate) fn table(page: &mut String, library: &Library) {
    let reasons: Vec<&str> = WHY.iter().map(|(word, _)| *word).chain([CHOICE]).collect();
    let _ = writeln!(
        page,
        "\n## What mends a requirement\n\nRules of each book with a correction that a program can make, and those told in words alone, by \
         what they ask for.\n\n| Book | With a change | {} |\n|---|---|{}",
        reasons.join(" | "),
        "---|".repeat(reasons.len())
    );
    let (books, _) = library.all();
    let mut all: BTreeMap<&str, usize> = BTreeMap::new();
    let mut lists: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for book in books {
        let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
        for (_, rule) in book.own_rules() {
            let word = if has_change(rule) { "" } else { why(rule) };
            *counts.entry(word).or_default() += 1;
            *all.entry(word).or_default() += 1;
            if !word.is_empty() {
                lists.entry(word).or_default().push(format!("`{}/{}`", book.name, rule.name));
            }
        }
        if !counts.is_empty() {
            row(page, &format!("`{}`", book.name), &counts, &reasons);
        }
    }
    row(page, "all", &all, &reasons);
    for (word, rules) in lists {
        let _ = writeln!(page, "\nIn words alone, {word}: {}.", rules.join(", "));
    }
}

fn row(page: &mut String, name: &str, counts: &BTreeMap<&str, usize>, reasons: &[&str]) {
    let of = |word: &str| counts.get(word).copied().unwrap_or_default();
    let cells: Vec<String> = reasons.iter().map(|word| of(word).to_string()).collect();
    let _ = writeln!(page, "| {name} | {} | {} |", of(""), cells.join(" | "));
}

/// Whether some design can take a change: its entry is one that is designed, in a new house at least.
fn can_be_made(change: &Change) -> bool {
    let designed = |path: &str| {
        let steps: Vec<&str> = path.trim_end_matches("[]").split('.').collect();
        is_designed(&steps, Some(Work::NewHouse))
    };
    match change {
        Change::Set { path, .. } | Change::Add { path, .. } | Change::Remove { path } => {
            designed(&pattern(path))
        }
        Change::Reach { fact, .. } => {
            facts(fact).last().is_some_and(|fact| fact.needs.iter().any(|need| designed(need)))
        }
    }
}

#[test]
fn every_change_of_a_rule_for_the_drawing_can_be_made_in_some_design() {
    let (books, _) = BOOKS.all();
    let mut faults = Vec::new();
    for book in books {
        for (_, rule) in book.own_rules().filter(|(_, rule)| rule.due == Stage::Design) {
            let changes = rule.corrections.iter().flat_map(|advice| &advice.changes);
            if changes.clone().any(|change| !can_be_made(change)) {
                faults.push(format!("{}/{}", book.name, rule.name));
            }
        }
    }
    assert!(faults.is_empty(), "what these change was found, and is never changed: {faults:#?}");
}

#[test]
fn every_rule_says_what_would_mend_it() {
    let (books, _) = BOOKS.all();
    let without: Vec<String> = books
        .iter()
        .flat_map(|book| book.own_rules().map(move |(_, rule)| (book, rule)))
        .filter(|(_, rule)| rule.corrections.is_empty())
        .map(|(book, rule)| format!("{}/{}", book.name, rule.name))
        .collect();
    assert!(without.is_empty(), "{without:#?}");
}
