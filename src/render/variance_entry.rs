//! A started variance: the entry of a design file, filled in as far as the program can.

use crate::findings::finding::Excused;
use crate::findings::gather::clause_identity;
use crate::findings::variance::{name_of, requirement_of};
use crate::findings::{Clause, Finding};
use crate::judge::verdict::Verdict;
use crate::render::tell::finding::thing;
use crate::render::visible::one_line;
use crate::review::{Review, books};

/// The entries to paste for the unmet requirements that somebody means by these words: the identity of a finding or of
/// one of its clauses, a requirement or its title, or either of them `of` a thing or with a colon and the thing behind
/// it, as a page has it.
///
/// # Errors
/// What to say when nothing that can be excused is meant: with what there is.
pub fn started(review: &Review<'_>, meant: &str) -> Result<String, String> {
    let unmet: Vec<(&Finding, &Clause)> = review
        .findings
        .iter()
        .flat_map(|finding| finding.clauses.iter().map(move |clause| (finding, clause)))
        .filter(|(_, clause)| clause.verdict == Verdict::Unmet)
        .collect();
    let found: Vec<&(&Finding, &Clause)> =
        unmet.iter().filter(|(finding, clause)| is_meant(finding, clause, review, meant)).collect();
    if found.is_empty() {
        return Err(format!(
            "No unmet requirement is called \"{}\". {}\n",
            one_line(meant),
            there(&unmet, review)
        ));
    }
    let (stopped, open): (Vec<_>, Vec<_>) = found.into_iter().partition(|(_, clause)| clause.stops.is_some());
    if open.is_empty() {
        let what = stopped.first().and_then(|(finding, clause)| short(finding, clause, review));
        return Err(format!(
            "{} cannot be excused by anybody: work has to wait for it.\n",
            what.unwrap_or_default()
        ));
    }
    // What a book for information says needs no excuse, unless nothing else is meant.
    let counts = open.iter().any(|(_, clause)| clause.standing.counts());
    let open: Vec<_> = open.into_iter().filter(|(_, clause)| clause.standing.counts() == counts).collect();
    let mut names: Vec<String> = Vec::new();
    let mut text = format!(
        "# Add this to {}. If it has variances already, add only what is set in under them.\n# Fill in what is left blank; until then it excuses nothing.\nvariances:\n",
        review.name()
    );
    for (finding, clause) in open {
        text.push_str(&entry(finding, clause, review, &mut names));
    }
    Ok(text)
}

/// What is unmet: first what counts and can be excused, then what nobody can excuse, then what counts nowhere here.
fn there(unmet: &[(&Finding, &Clause)], review: &Review<'_>) -> String {
    let named = |wanted: &dyn Fn(&Clause) -> bool| {
        let mut names: Vec<String> = unmet
            .iter()
            .filter(|(_, clause)| wanted(clause))
            .filter_map(|(finding, clause)| short(finding, clause, review))
            .collect();
        names.sort();
        names
    };
    let mut said = Vec::new();
    for (heading, names) in [
        ("Unmet here", named(&|one| one.stops.is_none() && one.standing.counts())),
        ("Unmet, and excused by nobody, because work has to wait for it", named(&|one| one.stops.is_some())),
        (
            "Unmet in books that decide nothing here",
            named(&|one| one.stops.is_none() && !one.standing.counts()),
        ),
    ] {
        if !names.is_empty() {
            said.push(format!("{heading}:\n  {}", names.join("\n  ")));
        }
    }
    if said.is_empty() { "Nothing here is unmet that could be excused.".to_owned() } else { said.join("\n") }
}

fn is_meant(finding: &Finding, clause: &Clause, review: &Review<'_>, meant: &str) -> bool {
    let Some(requirement) = requirement_of(clause, &review.used) else { return false };
    let (book, bare) = requirement.split_once('/').unwrap_or_default();
    let plain = |words: &str| {
        words.replace(['"', '_'], " ").split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
    };
    let (meant_plainly, name) = (plain(meant), plain(name_of(finding)));
    let said = plain(&thing(finding, books::vocabulary()));
    let title = review.used.get(clause.book).and_then(|used| used.book.rules.get(clause.rule));
    let title = title.map(|rule| rule.title.as_str()).unwrap_or_default();
    let of = |rule: &str| {
        let rest = meant_plainly.strip_prefix(&plain(rule)).map(str::trim);
        rest.is_some_and(|rest| {
            let thing = rest.strip_prefix("of ").or(rest.strip_prefix(": ")).or(rest.strip_prefix(", "));
            rest.is_empty() || thing.is_some_and(|thing| thing == name || thing == said)
        })
    };
    finding.identity == meant
        || clause_identity(&finding.identity, book, bare) == meant
        || [requirement.as_str(), bare, title].into_iter().any(of)
}

/// The shortest words that mean one unmet requirement.
fn short(finding: &Finding, clause: &Clause, review: &Review<'_>) -> Option<String> {
    let requirement = requirement_of(clause, &review.used)?;
    let name = name_of(finding);
    Some(if name.is_empty() { requirement } else { format!("{requirement} of {name}") })
}

fn entry(finding: &Finding, clause: &Clause, review: &Review<'_>, names: &mut Vec<String>) -> String {
    let requirement = requirement_of(clause, &review.used).unwrap_or_default();
    let rule = review.used.get(clause.book).and_then(|used| used.book.rules.get(clause.rule));
    let (book, bare) = requirement.split_once('/').unwrap_or_default();
    let thing = name_of(finding);
    let mut name = if thing.is_empty() { bare.to_owned() } else { format!("{thing} {bare}") };
    if names.contains(&name) {
        name = format!("{name} by {book}");
    }
    names.push(name.clone());
    let mut text = format!("  {}:\n    rule: {requirement}\n", quoted(&name));
    let for_what = if thing.is_empty() { "none".to_owned() } else { quoted(thing) };
    text.push_str(&format!("    for: {for_what}\n    excuses:\n"));
    for Excused { name, words, .. } in &clause.excusable {
        text.push_str(&format!("      {}: {}\n", quoted(name), quoted(words)));
    }
    let fingerprint = rule.map(|rule| rule.fingerprint(books::vocabulary())).unwrap_or_default();
    text.push_str(&format!("    written_against: {fingerprint}\n"));
    text.push_str(
        "    reason:            # why it is permitted\n    document:          # the number of the paper\n    granted_by:        # who permits it\n    on:                # the day, as 2026-05-14\n    until:             # the last day, or none\n",
    );
    text
}

/// A text as YAML reads it back: plainly where that is sure, else in quotes.
fn quoted(text: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || " _-/.".contains(c);
    let edge = |c: Option<char>| c.is_some_and(|c| c.is_ascii_alphanumeric());
    if text.chars().all(plain) && edge(text.chars().next()) && edge(text.chars().next_back()) {
        return text.to_owned();
    }
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}
