//! How it is said who made a rule what it is.

use super::asked::{self, Asked};
use super::phrases::{day, spoken};
use super::visible::{cut, one_line};
use crate::base::text::{Sources, Span};
use crate::base::vocabulary::Vocabulary;
use crate::rulebook::authors::{Amendment, Author};
use crate::rulebook::checked::CheckedRule;

/// The document an amendment rests on, whose it is and of which day.
#[must_use]
pub fn decision(amendment: &Amendment) -> String {
    let decided = &amendment.decided;
    format!("{}, {}, {}", one_line(&decided.document), one_line(&decided.by), day(&decided.on))
}

/// The decisions by which a rule was amended, those of the deepest book first; nothing when it was not.
#[must_use]
pub fn decisions(rule: &CheckedRule) -> Option<String> {
    let mut said: Vec<String> = Vec::new();
    for amendment in rule.authors.amendments.iter().filter(|amendment| !amendment.changes.is_empty()) {
        let one = decision(amendment);
        if !said.contains(&one) {
            said.push(one);
        }
    }
    (!said.is_empty()).then(|| said.join("; "))
}

/// The documents by which a rule was amended; nothing when it was not.
#[must_use]
pub fn documents(rule: &CheckedRule) -> Option<String> {
    let changing = rule.authors.amendments.iter().filter(|amendment| !amendment.changes.is_empty());
    let mut said: Vec<&str> = changing.map(|amendment| amendment.decided.document.as_str()).collect();
    said.dedup();
    (!said.is_empty()).then(|| one_line(&said.join("; ")).into_owned())
}

/// The file and line of a place.
#[must_use]
pub fn place(sources: &Sources, at: Span) -> String {
    match sources.get(at.source) {
        Some(source) => {
            format!("{}, line {}", one_line(source.name()), source.line_column(at.start).line)
        }
        None => "no file".to_owned(),
    }
}

/// A field of a rule as one says it: `clearance`, `words of clearance`, `obligation`.
#[must_use]
pub fn field(path: &str) -> String {
    match path.strip_prefix("limits.") {
        Some(limit) => match limit.strip_suffix(".words") {
            Some(limit) => format!("words of {}", spoken(limit)),
            None => spoken(limit),
        },
        None => spoken(&path.replace('.', ", ")),
    }
}

/// What an amendment put into a field and what it replaced: `5 ft, was 3 ft`.
#[must_use]
pub fn change(author: &Author) -> String {
    let short = |text: &str| cut(&text.split_whitespace().collect::<Vec<_>>().join(" "), 120);
    let now = if author.text.is_empty() { "taken away".to_owned() } else { short(&author.text) };
    match &author.replaced {
        Some(old) if old.text.is_empty() => format!("{now}, was taken away"),
        Some(old) => format!("{now}, was {}", short(&old.text)),
        None => format!("{now}, which is new"),
    }
}

/// What the amendments of a rule change of what is asked, for whoever has no file of a book in front of them: old and new
/// figures, verbs and days; of a condition what it is now.
#[must_use]
pub fn in_words(rule: &CheckedRule, vocabulary: &Vocabulary) -> Vec<String> {
    let joined = |asked: Asked| asked.parts.join(if asked.any { "; or " } else { "; and " });
    let mut said = Vec::new();
    for (path, author) in rule.authors.amended() {
        let first = path.split('.').next().unwrap_or(path);
        said.push(match first {
            "limits" => format!("{}: {}", field(path), from_to(author)),
            "obligation" => format!("the verb: {}", from_to(author)),
            "due" => format!("when it can first be asked: {}", from_to(author)),
            "source" => format!("the clause it stands in: {}", from_to(author)),
            "applies" => match asked::applies(rule, vocabulary) {
                Some(now) => format!("when it is asked; now if {}", joined(now)),
                None => "when it is asked; now always".to_owned(),
            },
            "requires" => format!("what has to hold; now {}", joined(asked::requires(rule, vocabulary))),
            "disputed" => "whether it is disputed that it is a duty".to_owned(),
            "stops" => "which work waits for it".to_owned(),
            // A title and a reason change nothing of what is asked.
            _ => continue,
        });
    }
    said
}

/// What stands there now and what stood there before: `24 in, before the amendment 12 in`.
fn from_to(author: &Author) -> String {
    let mut first = author;
    while let Some(older) = first.replaced.as_deref() {
        first = older;
    }
    let plain = |text: &str| if text.is_empty() { "none".to_owned() } else { one_line(text).into_owned() };
    if std::ptr::eq(first, author) {
        return format!("{}, which is new", plain(&author.text));
    }
    format!("{}, before the amendment {}", plain(&author.text), plain(&first.text))
}

/// Each change of a rule on one line, the last one first for a field that was changed more than once.
#[must_use]
pub fn changes(rule: &CheckedRule, sources: &Sources) -> Vec<(String, String)> {
    let mut lines = Vec::new();
    for (path, author) in rule.authors.amended() {
        let mut here = Some(author);
        while let Some(author) = here {
            if let Some(amendment) = &author.amendment {
                let said = format!(
                    "{}: {} ({}; {})",
                    field(path),
                    change(author),
                    place(sources, author.at),
                    decision(amendment)
                );
                lines.push((path.to_owned(), said));
            }
            here = author.replaced.as_deref();
        }
    }
    lines
}
