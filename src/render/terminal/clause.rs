//! One requirement on the page: what it asks, why, where it comes from, how sure that is, its numbers and
//! its cases.

use super::Look;
use super::in_force::amended_rows;
use super::sheet::{Sheet, Tone, sentence};
use crate::base::text::Sources;
use crate::base::vocabulary::Vocabulary;
use crate::render::amended;
use crate::render::asked::{self, Asked};
use crate::render::phrases;
use crate::rulebook::checked::{CheckedBook, CheckedRule};
use crate::rulebook::corrections::Advice;

/// A case of a rule as its author claims it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Claim {
    /// What is claimed.
    pub words: String,
    /// What it should come to.
    pub verdict: String,
    /// What is stated in it: the design it starts from, what is laid over that, what is taken away.
    pub how: String,
}

/// What the page of a requirement is made from.
#[derive(Clone, Copy, Debug)]
pub struct ClauseSheet<'a> {
    /// The book.
    pub book: &'a CheckedBook,
    /// The rule.
    pub rule: &'a CheckedRule,
    /// What the rule speaks of.
    pub vocabulary: &'a Vocabulary,
    /// The texts of the books.
    pub sources: &'a Sources,
    /// Its cases.
    pub claims: &'a [Claim],
}

/// The page of one requirement.
#[must_use]
pub fn clause(of: &ClauseSheet<'_>, look: &Look) -> String {
    let ClauseSheet { book, rule, vocabulary, sources, claims } = *of;
    let mut sheet = Sheet::new(look);
    sheet.paragraph(0, &rule.title, Tone::Heading);
    sheet.paragraph(0, &format!("{}, in {} ({})", rule.name, book.title, book.name), Tone::Quiet);
    sheet.blank();
    sheet.row("weight", &phrases::obligation(rule.obligation, rule.disputed));
    sheet.row("due", phrases::due(rule.due));
    if let Some(stops) = rule.stops {
        sheet.toned_row("first", phrases::stops(stops), Tone::Stop);
    }
    sheet.row("about", &phrases::spoken(&rule.subject.replace('/', ", ")));
    sheet.blank();
    sheet.row("asked of", &asked::each(rule, vocabulary).unwrap_or_default());
    if let Some(when) = asked::applies(rule, vocabulary) {
        parts(&mut sheet, "if", &when);
    }
    parts(&mut sheet, "asks", &asked::requires(rule, vocabulary));
    limits(&mut sheet, rule);
    sheet.blank();
    sheet.row("why", &sentence(&rule.because));
    sheet.row("read as", &rule.interpretation);
    sheet.row("note", &rule.note);
    sheet.blank();
    provenance(&mut sheet, book, rule);
    mending(&mut sheet, &rule.corrections);
    sheet
        .row("careful", &rule.cautions.iter().map(|one| phrases::spoken(one)).collect::<Vec<_>>().join(", "));
    amended_rows(&mut sheet, rule, sources);
    if !claims.is_empty() {
        sheet.heading("Cases that prove it", Tone::Heading);
        let told = |claim: &Claim| {
            [vec![claim.verdict.clone(), claim.words.clone()], vec![String::new(), claim.how.clone()]]
        };
        let rows: Vec<Vec<String>> = claims.iter().flat_map(told).collect();
        sheet.table(&rows, Tone::Ink);
    }
    sheet.blank();
    sheet.row("identity", &format!("{}/{}, meaning {}", book.name, rule.name, rule.fingerprint(vocabulary)));
    sheet.finish()
}

/// What is asked, a row for each part.
fn parts(sheet: &mut Sheet<'_>, label: &str, asked: &Asked) {
    let next = if asked.any { "or" } else { "and" };
    for (at, part) in asked.parts.iter().enumerate() {
        sheet.row(if at == 0 { label } else { next }, part);
    }
}

fn limits(sheet: &mut Sheet<'_>, rule: &CheckedRule) {
    for (at, limit) in rule.limits.iter().enumerate() {
        let mut said = format!("{}: {}", phrases::spoken(&limit.name), asked::limit(limit));
        let own = format!("limits.{}", limit.name);
        let of =
            |path: &str| path == own || path.strip_prefix(&own).is_some_and(|rest| rest.starts_with('.'));
        let changed = rule.authors.amended().find(|(path, _)| of(path));
        if let Some(amendment) = changed.and_then(|(_, author)| author.amendment.as_ref()) {
            said.push_str(&format!(" (by {})", amended::decision(amendment)));
        }
        sheet.row(if at == 0 { "numbers" } else { "and" }, &said);
    }
}

/// Where a requirement comes from and how sure its author is.
fn provenance(sheet: &mut Sheet<'_>, book: &CheckedBook, rule: &CheckedRule) {
    let document = book.sources.iter().find(|source| source.name == rule.source.document);
    let title = document.map_or(rule.source.document.as_str(), |source| source.title.as_str());
    let section = if rule.source.section.is_empty() {
        String::new()
    } else {
        format!(", section {}", rule.source.section)
    };
    sheet.row("clause", &format!("{title}{section}"));
    if let Some(source) = document {
        let from: Vec<&str> = [source.publisher.as_str(), source.year.as_str()]
            .into_iter()
            .filter(|part| !part.is_empty())
            .collect();
        sheet.row("from", &from.join(", "));
        sheet.row("to read", &source.where_to_read);
    }
    let sure = phrases::basis(rule.source.basis);
    match amended::decisions(rule) {
        // How well a text is known says nothing of what was decided afterwards.
        Some(by) => {
            sheet.row("how sure", &format!("{sure}, as it was before the amendment; amended by {by}"))
        }
        None => sheet.row("how sure", sure),
    }
    sheet.row("book", &format!("{}, {}; {}", book.title, book.edition, book.legal_nature));
}

fn mending(sheet: &mut Sheet<'_>, advice: &[Advice]) {
    for (at, one) in advice.iter().enumerate() {
        sheet.row(if at == 0 { "to mend" } else { "or" }, &one.title);
    }
}

/// Every requirement whose name or title holds what was asked for, one line each.
#[must_use]
pub fn several(wanted: &str, found: &[(&CheckedBook, &CheckedRule)], look: &Look) -> String {
    let mut sheet = Sheet::new(look);
    let heading = format!("{} with \"{wanted}\"", phrases::count(found.len(), "requirement", "requirements"));
    sheet.paragraph(0, &heading, Tone::Heading);
    sheet.blank();
    let rows: Vec<Vec<String>> = found
        .iter()
        .map(|(book, rule)| vec![format!("{}/{}", book.name, rule.name), rule.title.clone()])
        .collect();
    sheet.table(&rows, Tone::Ink);
    sheet.blank();
    sheet.paragraph(0, "See one with: undercroft clause NAME", Tone::Quiet);
    sheet.finish()
}
