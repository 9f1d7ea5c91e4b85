//! The clauses of a book in the order of its code: what each comes to, its numbers, who answers for them, and room for
//! the inspector.

use std::collections::BTreeMap;

use super::Parts;
use super::order::by_section;
use super::vouched::Vouchers;
use crate::base::vocabulary::Vocabulary;
use crate::design::said::of;
use crate::findings::finding::{Clause, Finding};
use crate::findings::gather::Used;
use crate::judge::verdict::{About, Role, Verdict};
use crate::render::amended::{documents, in_words};
use crate::render::papers::{Part, Table};
use crate::render::phrases::{basis_short, comes, reason};
use crate::render::tell::finding::{Background, card, thing_of};
use crate::render::tell::spot;
use crate::render::tell::wanted::said_of;
use crate::rulebook::checked::{CheckedBook, CheckedRule, Citation};

/// What is told of a clause for one thing or several that come to the same.
#[derive(Clone, PartialEq, Eq, Debug)]
struct Row {
    things: Vec<String>,
    verdict: String,
    numbers: String,
    who: String,
}

/// The clauses of one book, document by document.
pub(super) fn of_book(
    parts: &mut Parts,
    at: usize,
    used: &Used<'_>,
    findings: &[Finding],
    background: &Background<'_>,
    vouchers: &Vouchers,
) {
    let mut asked: BTreeMap<usize, Vec<(&Finding, &Clause)>> = BTreeMap::new();
    for finding in findings {
        for clause in finding.clauses.iter().filter(|clause| clause.book == at) {
            asked.entry(clause.rule).or_default().push((finding, clause));
        }
    }
    let mut rules: Vec<(usize, &CheckedRule)> = used.book.rules.iter().enumerate().collect();
    let place = |rule: &CheckedRule| {
        let sources = used.book.sources.iter();
        sources.clone().position(|source| source.name == rule.source.document).unwrap_or(sources.len())
    };
    rules.sort_by(|(_, a), (_, b)| {
        let sections = by_section(&a.source.section, &b.source.section);
        place(a).cmp(&place(b)).then(sections).then(a.name.cmp(&b.name))
    });
    for group in rules.chunk_by(|(_, a), (_, b)| a.source.document == b.source.document) {
        let Some((_, first)) = group.first() else { continue };
        let mut rows = Vec::new();
        for (number, rule) in group {
            let of = asked.get(number).map(Vec::as_slice).unwrap_or_default();
            rows.extend(cells(rule, &told(of, background, vouchers), background.vocabulary));
        }
        parts.0.push(Part::Table(Table {
            caption: document(used, first),
            head: ["section", "what is asked", "verdict", "found and needed", "who says so", "inspector"]
                .map(str::to_owned)
                .to_vec(),
            rows,
            shares: vec![12, 25, 10, 26, 12, 15],
            ruled: true,
        }));
    }
}

/// The document that a rule comes from, by its title.
fn document(used: &Used<'_>, rule: &CheckedRule) -> String {
    document_of(used.book, &rule.source)
}

/// The document of a clause, by its title.
pub(super) fn document_of(book: &CheckedBook, clause: &Citation) -> String {
    let source = book.sources.iter().find(|source| source.name == clause.document);
    match source {
        Some(source) if source.year.is_empty() => source.title.clone(),
        Some(source) => format!("{}, {}", source.title, source.year),
        None => clause.document.clone(),
    }
}

/// What a rule comes to, things that come to the same together.
fn told(of: &[(&Finding, &Clause)], background: &Background<'_>, vouchers: &Vouchers) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for (finding, clause) in of {
        let thing = thing_of(&finding.of, background.vocabulary);
        let (verdict, numbers) = (in_short(clause), numbers(finding, clause, background));
        let who = who(clause, vouchers);
        match rows.iter_mut().find(|row| row.verdict == verdict && row.numbers == numbers && row.who == who) {
            Some(row) => row.things.push(thing),
            None => rows.push(Row { things: vec![thing], verdict, numbers, who }),
        }
    }
    rows
}

/// What was found and what is needed, or what would settle it.
fn numbers(finding: &Finding, clause: &Clause, background: &Background<'_>) -> String {
    let alone = Finding { clauses: vec![clause.clone()], ..(*finding).clone() };
    let card = card(&alone, background);
    let wanted: &[&str] = match clause.verdict {
        Verdict::NotApplicable => &["asked as"],
        Verdict::NotYetDue => &[],
        _ => &["found", "needed", "or needed", "and needed", "variance"],
    };
    let mut said: Vec<String> = Vec::new();
    for (label, words) in card.rows.iter().filter(|(label, _)| wanted.contains(&label.as_str())) {
        match label.as_str() {
            needed if needed.ends_with("needed") => match said.last_mut() {
                Some(found) => found.push_str(&format!(" ({needed}: {words})")),
                None => said.push(format!("{needed}: {words}")),
            },
            "variance" => said.push(format!("variance: {words}")),
            _ => said.push(words.clone()),
        }
    }
    if clause.verdict == Verdict::Undetermined {
        said.extend(not_known(clause));
    }
    if said.is_empty() && clause.about == About::List && clause.verdict == Verdict::NotApplicable {
        return "none of the sort that is asked about".to_owned();
    }
    if said.is_empty() {
        return match clause.verdict {
            Verdict::Unmet | Verdict::Undetermined | Verdict::NotYetDue => card.sentence,
            _ => String::new(),
        };
    }
    said.join("; ")
}

/// What is not known, in words for whoever has no file in front of them.
fn not_known(clause: &Clause) -> Option<String> {
    let mut said: Vec<String> = Vec::new();
    for missing in clause.missing.iter().filter(|missing| !missing.entry.as_str().is_empty()) {
        let what = said_of(&of(missing.entry.as_str()), &spot::meaning(missing));
        let words = format!("{what} ({})", reason(&missing.reason));
        if !said.contains(&words) {
            said.push(words);
        }
    }
    (!said.is_empty()).then(|| format!("open: {}", said.join("; ")))
}

/// What a clause comes to, in a word or two: whether it is disputed stands beside its verb.
fn in_short(clause: &Clause) -> String {
    let said = comes(clause.comes());
    said.split_once(';').map_or(said, |(first, _)| first).to_owned()
}

/// Who answers for what decided.
fn who(clause: &Clause, vouchers: &Vouchers) -> String {
    let Some(trace) = &clause.trace else { return String::new() };
    let asked = clause.verdict != Verdict::NotApplicable;
    let decided = trace.decisive.iter().filter(|one| (one.role == Role::Requires) == asked);
    let stated = decided.filter(|one| one.role != Role::Covers).flat_map(|one| &one.origin.stated);
    vouchers.of_entries(stated)
}

/// The rows of a rule; only the first names it.
fn cells(rule: &CheckedRule, told: &[Row], vocabulary: &Vocabulary) -> Vec<Vec<String>> {
    let section = if rule.source.section.is_empty() { "no section" } else { rule.source.section.as_str() };
    let section = section.to_owned();
    let verb = rule.obligation.word();
    let verb = if rule.disputed { format!("{verb}, disputed") } else { verb.to_owned() };
    let weight = match documents(rule) {
        Some(by) => {
            // The table of what the book changes tells the conditions in full.
            let changed = in_words(rule, vocabulary).into_iter();
            let changed: Vec<String> = changed
                .map(|one| one.split_once("; now").map_or(one.as_str(), |(what, _)| what).to_owned())
                .collect();
            let changed =
                if changed.is_empty() { String::new() } else { format!(": {}", changed.join("; ")) };
            format!("({verb}; amended by {by}{changed})")
        }
        None => format!("({verb}; {})", basis_short(rule.source.basis)),
    };
    let title = rule.title.clone();
    let room = String::new();
    let Some((first, rest)) = told.split_first() else {
        let none = "nothing of its sort is in the file".to_owned();
        let title = format!("{title} {weight}");
        return vec![vec![section, title, "not asked".to_owned(), none, room.clone(), room]];
    };
    let things = |row: &Row| {
        let named: Vec<&str> =
            row.things.iter().map(String::as_str).filter(|name| !name.is_empty()).collect();
        named.join(", ")
    };
    let head = match things(first) {
        of if of.is_empty() => format!("{title} {weight}"),
        of => format!("{title}: {of} {weight}"),
    };
    let mut rows = vec![vec![
        section,
        head,
        first.verdict.clone(),
        first.numbers.clone(),
        first.who.clone(),
        room.clone(),
    ]];
    for row in rest {
        let words = [String::new(), format!("the same: {}", things(row)), row.verdict.clone()];
        rows.push(words.into_iter().chain([row.numbers.clone(), row.who.clone(), room.clone()]).collect());
    }
    rows
}
