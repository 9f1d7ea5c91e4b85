//! Variances on file, in words: what one excuses, and what is to be done about those that excuse nothing.

use super::finding::Background;
use super::told::{Card, Cause, Section, Weighs};
use crate::findings::variance::{Change, Holds, OnFile, Unused};
use crate::judge::verdict::Verdict;
use crate::render::phrases::{self, count, day, spoken};
use crate::render::terminal::excerpt::Mark;
use crate::rulebook::checked::Stops;

/// The rows that a live variance adds to the finding it excuses.
#[must_use]
pub fn rows(on_file: &OnFile) -> Vec<(String, String)> {
    let until = match &on_file.until {
        Some(until) => format!("until {}", day(until)),
        None => "without an end".to_owned(),
    };
    let on = on_file.on.as_deref().map(day).unwrap_or_default();
    let mut rows = vec![(
        "variance".to_owned(),
        format!("document {}, granted by {} on {on}, {until}", on_file.document, on_file.granted_by),
    )];
    if on_file.self_granted {
        rows.push((
            "careful".to_owned(),
            "self-granted, by whoever drew up the design or does the work; a permit office may not accept it"
                .to_owned(),
        ));
    }
    rows.push(("reason".to_owned(), on_file.reason.clone()));
    for condition in &on_file.conditions {
        rows.push(("in return".to_owned(), condition.clone()));
    }
    rows
}

/// The line of the first part.
#[must_use]
pub fn cause(list: &[OnFile]) -> Option<Cause> {
    let names: Vec<String> = idle(list).map(|one| one.name.clone()).collect();
    (!names.is_empty()).then(|| Cause {
        weighs: Weighs::Open,
        what: "Variances that excuse nothing".to_owned(),
        names,
    })
}

/// Variances that excuse nothing, each with why.
#[must_use]
pub fn section(list: &[OnFile], background: &Background<'_>) -> Option<Section> {
    let cards: Vec<Card> = idle(list).map(|one| card(one, background)).collect();
    (!cards.is_empty()).then(|| Section {
        heading: "Variances that excuse nothing".to_owned(),
        weighs: Weighs::Open,
        decides: false,
        lead: String::new(),
        cards,
    })
}

/// How many variances excuse something, for the last line; empty when none does.
#[must_use]
pub fn last(list: &[OnFile]) -> String {
    let live: Vec<&OnFile> = list.iter().filter(|one| one.holds == Holds::Live).collect();
    let own = live.iter().filter(|one| one.self_granted).count();
    match (live.len(), own) {
        (0, _) => String::new(),
        (n, 0) => format!("{} on file. ", count(n, "variance", "variances")),
        (n, own) => format!("{} on file, {own} of them self-granted. ", count(n, "variance", "variances")),
    }
}

fn idle(list: &[OnFile]) -> impl Iterator<Item = &OnFile> {
    list.iter().filter(|one| one.holds != Holds::Live)
}

fn card(one: &OnFile, background: &Background<'_>) -> Card {
    let place = background
        .sources
        .get(one.at.source)
        .map(|source| format!("{}, line {}", source.name(), source.line_column(one.at.start).line));
    let (verdict, sentence, to_mend) = words(one);
    let mut rows = vec![("rule".to_owned(), one.requirement.clone())];
    if !one.thing.is_empty() {
        rows.push(("for".to_owned(), one.thing.clone()));
    }
    if let Holds::Outgrown { values, requirement } = &one.holds {
        rows.extend(values.iter().map(changed));
        if let Some(now) = requirement {
            rows.push((
                "changed".to_owned(),
                format!("the requirement itself; its fingerprint is now {now}"),
            ));
        }
    }
    rows.push(("to mend".to_owned(), to_mend));
    Card {
        identity: one.identity.clone(),
        weighs: Weighs::Open,
        verdict,
        title: format!("Variance {}", spoken(&one.name)),
        thing: String::new(),
        place: place.unwrap_or_default(),
        sentence,
        rows,
        marks: vec![Mark { at: one.at, words: "this variance".to_owned() }],
        books: Vec::new(),
    }
}

fn changed(change: &Change) -> (String, String) {
    let was = match &change.was {
        Some(was) => format!("was {was}"),
        None => "was not named".to_owned(),
    };
    ("changed".to_owned(), format!("{}: {was}, is {}", spoken(&change.what), change.is))
}

/// Its state, a sentence on it, and what to do.
fn words(one: &OnFile) -> (String, String, String) {
    let all =
        |verdict: &str, sentence: String, to_mend: &str| (verdict.to_owned(), sentence, to_mend.to_owned());
    match &one.holds {
        Holds::Live => all("on file", String::new(), ""),
        Holds::Refused(stops) => all(
            "not possible",
            match stops {
                Stops::Drilling => {
                    "What has to be settled before drilling cannot be excused by anybody.".to_owned()
                }
                Stops::StartUp => {
                    "What has to be settled before the fan is left running cannot be excused by anybody."
                        .to_owned()
                }
            },
            "Meet the requirement, and take the variance out.",
        ),
        Holds::Incomplete(keys) => all(
            "incomplete",
            format!("It does not say: {}.", keys.join(", ")),
            "Copy what is missing from the document. Write none under until when it has no last day.",
        ),
        Holds::NotYet => all(
            "not in force",
            match &one.on {
                Some(on) => format!(
                    "It was granted on {}, and the review is for no day or for an earlier one.",
                    day(on)
                ),
                None => "It does not hold on the day of the review.".to_owned(),
            },
            "Check the day of the review and the day on the document.",
        ),
        Holds::Lapsed => all(
            "lapsed",
            format!("Its last day was {}.", one.until.as_deref().map(day).unwrap_or_default()),
            "Meet the requirement, or ask for the variance to be renewed and copy the new day.",
        ),
        Holds::Unused(Unused::NoRequirement { nearest }) => all(
            "unused",
            format!("No book of this review has that requirement.{}", perhaps(nearest.as_deref())),
            "Write book and requirement with a slash between them, as the finding cites them.",
        ),
        Holds::Unused(Unused::NoThing { nearest }) => all(
            "unused",
            format!("Nothing of that name is asked for it.{}", perhaps(nearest.as_deref())),
            "Write the name of the thing as the finding has it, or none for the job as a whole.",
        ),
        Holds::Unused(Unused::Comes(verdict)) => all(
            "unused",
            format!("There is nothing to excuse: the requirement is {}.", comes(*verdict)),
            "Take the variance out, or keep it in mind until it is needed.",
        ),
        Holds::Outgrown { .. } => all(
            "outgrown",
            "What it excused is no longer what it was, so the finding is back.".to_owned(),
            "Ask whoever granted it whether it still holds, and start a new entry with --variance-for.",
        ),
    }
}

fn comes(verdict: Verdict) -> String {
    match verdict {
        Verdict::Undetermined => "not known to be unmet".to_owned(),
        verdict => phrases::verdict(verdict).to_owned(),
    }
}

fn perhaps(nearest: Option<&str>) -> String {
    nearest.map(|name| format!(" Perhaps {name} was meant.")).unwrap_or_default()
}
