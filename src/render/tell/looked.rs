//! What was seen on site, in words: requirement by requirement, beside its verdict.

use super::finding::Background;
use super::first;
use crate::findings::Finding;
use crate::findings::looked::{Looked, LookedAt, Saw};
use crate::render::phrases::{self, count, day};
use crate::render::terminal::sheet::capital;
use crate::render::visible::one_line;

/// How a requirement was found.
#[must_use]
pub fn saw(saw: Saw) -> &'static str {
    match saw {
        Saw::AsItShouldBe => "as it should be",
        Saw::Otherwise => "not as it should be",
        Saw::CouldNotSee => "could not be seen",
    }
}

/// What is to be known beforehand where something was found to be not as it should be.
#[must_use]
pub fn note(looked: &[Looked]) -> Option<String> {
    let otherwise = looked.iter().filter(|one| one.saw == Saw::Otherwise).count();
    let said = count(otherwise, "requirement was", "requirements were");
    (otherwise > 0).then(|| {
        format!("{said} seen on site not to be as it should be. What was seen stands under \"{HEADING}\", and decides no verdict.")
    })
}

const HEADING: &str = "Seen on site";

/// A line for each look: what was found, what was looked at, who looked, and what the verdict is.
#[must_use]
pub fn lines(
    looked: &[Looked],
    findings: &[Finding],
    background: &Background<'_>,
) -> Option<(String, Vec<String>)> {
    let line = |one: &Looked| {
        let (of, verdict) = match &one.of {
            LookedAt::Finding(identity) => match findings.iter().find(|one| one.identity == *identity) {
                Some(finding) => {
                    let verdict = format!(" Verdict: {}.", phrases::comes(finding.comes()));
                    (first::of(finding, background), verdict)
                }
                None => (one_line(&one.name).into_owned(), String::new()),
            },
            LookedAt::Eye(look_for) => (one_line(look_for).into_owned(), " Left to the eye.".to_owned()),
            LookedAt::NotAsked => {
                (one_line(&one.name).into_owned(), " No book of this review asks for it.".to_owned())
            }
        };
        let note = one.note.as_deref().map(|note| format!(" ({})", one_line(note))).unwrap_or_default();
        format!("{}: {of}{note}{}.{verdict}", capital(saw(one.saw)), whose(one, background))
    };
    (!looked.is_empty()).then(|| (HEADING.to_owned(), looked.iter().map(line).collect()))
}

/// Who looked, on which day, and where that stands.
#[must_use]
pub fn whose(one: &Looked, background: &Background<'_>) -> String {
    let by = one.by.as_deref().map_or("nobody named".to_owned(), |by| one_line(by).into_owned());
    let on = one.on.as_deref().map_or("no day stated".to_owned(), day);
    let place = background.sources.get(one.at.source).map_or(String::new(), |source| {
        format!(" ({}, line {})", one_line(source.name()), source.line_column(one.at.start).line)
    });
    format!("; {by}, {on}{place}")
}
