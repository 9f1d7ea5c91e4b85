//! A whole book on one page: what it is, its clauses in their order, every requirement with its numbers, what is left
//! to the eye and what is not held.

use std::collections::BTreeMap;

use super::Paper;
use crate::base::text::Sources;
use crate::base::vocabulary::Vocabulary;
use crate::render::amended::{changes, decision};
use crate::render::asked::{self, Asked};
use crate::render::phrases::{basis, basis_short, count, due, in_force, obligation, spoken, stops};
use crate::render::terminal::sheet::{capital, sentence};
use crate::rulebook::checked::{CheckedBook, CheckedRule};

/// The page.
#[must_use]
pub fn page(book: &CheckedBook, vocabulary: &Vocabulary, sources: &Sources) -> String {
    let mut paper = Paper::default();
    paper.heading(1, &book.title);
    paper.paragraph(&format!(
        "The book `{}` on one page, made from its rules; a change is made there, not here. It says what the program \
         checks and how sure its authors are of the text. It is not the text of any code: where they differ, the \
         code as adopted at the site counts, and whoever enforces it.",
        book.name
    ));
    paper.0.push('\n');
    paper.item("publisher", &book.publisher);
    paper.item("edition", &book.edition);
    paper.item("in force", &in_force(book));
    paper.item("in law", &book.legal_nature);
    paper.item("covers", &book.covers);
    paper.item("builds on", &book.builds_on.join(", "));
    paper.heading(2, "Sources");
    for source in &book.sources {
        let said = [&source.title, &source.publisher, &source.year].map(String::as_str);
        let said: Vec<&str> = said.into_iter().filter(|part| !part.is_empty()).collect();
        let read = match source.where_to_read.as_str() {
            "" => String::new(),
            place => format!("; to read: {place}"),
        };
        paper.item(&source.name, &format!("{} ({}{read})", said.join(", "), basis_short(source.basis)));
    }
    paper.heading(2, &format!("Clauses: {}", count(book.rules.len(), "requirement", "requirements")));
    clauses(&mut paper, book);
    let mut topics: BTreeMap<&str, Vec<&CheckedRule>> = BTreeMap::new();
    for rule in book.rules.iter().filter(|rule| lent_by(rule, book).is_none()) {
        topics.entry(rule.subject.split('/').next().unwrap_or_default()).or_default().push(rule);
    }
    for (topic, rules) in topics {
        paper.heading(2, &capital(&spoken(topic)));
        for rule in rules {
            requirement(&mut paper, rule, vocabulary, sources);
        }
    }
    list(&mut paper, "Left to the eye", &book.left_to_the_eye);
    list(&mut paper, "Text not held", &book.not_held);
    if !book.withdrawn.is_empty() {
        paper.heading(2, "Withdrawn");
        for one in &book.withdrawn {
            let why = sentence(&one.amendment.because);
            paper.item(&one.rule, &format!("{}; {}. {why}", one.title, decision(&one.amendment)));
        }
    }
    paper.0
}

/// The clause table, in the order in which each document numbers its sections.
fn clauses(paper: &mut Paper, book: &CheckedBook) {
    let mut rules: Vec<&CheckedRule> = book.rules.iter().collect();
    rules.sort_by_key(|rule| {
        let document = book.sources.iter().position(|source| source.name == rule.source.document);
        (document, section_order(&rule.source.section), rule.name.clone())
    });
    let row = |rule: &CheckedRule| {
        let numbers: Vec<String> = rule.limits.iter().map(asked::limit).collect();
        vec![
            format!("{} {}", rule.source.document, rule.source.section).trim().to_owned(),
            match lent_by(rule, book) {
                None => format!("[{}](#{})", rule.title, rule.name),
                Some(other) => format!("[{}](../{other}/book.md#{})", rule.title, rule.name),
            },
            format!("{}{}", rule.obligation.word(), if rule.disputed { ", disputed" } else { "" }),
            numbers.join("; "),
            basis_short(rule.source.basis).to_owned(),
        ]
    };
    let rows: Vec<Vec<String>> = rules.into_iter().map(row).collect();
    paper.table(&["Clause", "Requirement", "Verb", "Numbers", "How sure"], &rows);
}

/// The book on whose page a requirement stands that this one takes over as it is.
fn lent_by<'a>(rule: &'a CheckedRule, book: &CheckedBook) -> Option<&'a str> {
    let taken_over = rule.authors.book != book.name && rule.authors.amendments.is_empty();
    taken_over.then_some(rule.authors.book.as_str())
}

/// A section's number so that 14.2 stands before 14.10.
fn section_order(section: &str) -> Vec<(u64, String)> {
    section
        .split(['.', ',', '(', ')', ' ', '-'])
        .filter(|part| !part.is_empty())
        .map(|part| (part.parse().unwrap_or(u64::MAX), part.to_owned()))
        .collect()
}

fn requirement(paper: &mut Paper, rule: &CheckedRule, vocabulary: &Vocabulary, sources: &Sources) {
    paper.heading(3, &rule.name);
    paper.paragraph(&sentence(&rule.title));
    paper.0.push('\n');
    paper.item("weight", &obligation(rule.obligation, rule.disputed));
    paper.item("due", due(rule.due));
    paper.item("first", rule.stops.map_or("", stops));
    paper.item("asked of", &asked::each(rule, vocabulary).unwrap_or_default());
    paper.item("if", &asked::applies(rule, vocabulary).map(joined).unwrap_or_default());
    paper.item("asks", &joined(asked::requires(rule, vocabulary)));
    let numbers: Vec<String> =
        rule.limits.iter().map(|limit| format!("{} {}", spoken(&limit.name), asked::limit(limit))).collect();
    paper.item("numbers", &numbers.join("; "));
    paper.item("why", &sentence(&rule.because));
    paper.item("read as", &rule.interpretation);
    paper.item("note", &rule.note);
    let mending: Vec<&str> = rule.corrections.iter().map(|advice| advice.title.as_str()).collect();
    paper.item("to mend", &mending.join("; or "));
    let section = match rule.source.section.as_str() {
        "" => String::new(),
        section => format!(", section {section}"),
    };
    paper.item("clause", &format!("{}{section}: {}", rule.source.document, basis(rule.source.basis)));
    for (_, said) in changes(rule, sources) {
        paper.item("amended", &said);
    }
}

fn joined(asked: Asked) -> String {
    asked.parts.join(if asked.any { "; or " } else { "; and " })
}

fn list(paper: &mut Paper, heading: &str, clauses: &[(String, String)]) {
    if clauses.is_empty() {
        return;
    }
    paper.heading(2, heading);
    for (section, what) in clauses {
        paper.item(section, what);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sections_stand_in_the_order_of_their_numbers() {
        let mut sections = ["14.10", "14.2.8", "9", "14.2", "250.50(4)", "250.50(4)(iii)", "A", ""];
        sections.sort_by_key(|section| section_order(section));
        assert_eq!(sections, ["", "9", "14.2", "14.2.8", "14.10", "250.50(4)", "250.50(4)(iii)", "A"]);
    }
}
