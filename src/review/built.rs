//! What was built otherwise than designed, and which verdicts rest on it.

use super::DESIGN;
use crate::base::text::Sources;
use crate::base::vocabulary::Answers;
use crate::findings::departure::{Departure, Saying};
use crate::findings::{Finding, Used};
use crate::judge::trace::replay;
use crate::judge::verdict::Verdict;
use crate::rulebook::checked::Stage;
use crate::yaml::lay::{Difference, Said};

/// The parts of a file that say what the building has and what is built; of the others, such as tests, more is
/// always to be expected on site.
const BUILT: [&str; 3] = ["building.", "foundation.", "systems."];

/// The departures of what was built from the design, each with the findings that rest on it.
pub(super) fn departures(
    differences: &[Difference],
    findings: &[Finding],
    used: &[Used<'_>],
    stage: Stage,
    sources: &Sources,
    ask: &mut dyn Answers,
) -> Vec<Departure> {
    let mut departures: Vec<Departure> = differences
        .iter()
        .map(|one| {
            let said = one.said.iter().map(|said| saying(said, sources)).collect();
            Departure::of(one.entry.clone(), said)
        })
        .filter(|one| {
            let alone = one.said.len() == 1 && one.said.iter().all(|said| !said.designed);
            !alone || BUILT.iter().any(|part| one.entry.as_str().starts_with(part))
        })
        .collect();
    if departures.is_empty() {
        return departures;
    }
    for finding in findings {
        for clause in finding.clauses.iter().filter(|clause| clause.verdict != Verdict::NotYetDue) {
            let Some(rule) = used.get(clause.book).and_then(|used| used.book.rules.get(clause.rule)) else {
                continue;
            };
            let worked_out = match &clause.trace {
                Some(_) => None,
                None => Some(replay(rule, clause.about, stage, ask)),
            };
            let Some(trace) = clause.trace.as_deref().or(worked_out.as_ref()) else { continue };
            let stated = trace.decisive.iter().flat_map(|one| &one.origin.stated).map(|stated| &stated.entry);
            let missing = clause.missing.iter().chain(&trace.doubts).map(|missing| &missing.entry);
            for entry in stated.chain(missing) {
                for departure in &mut departures {
                    departure.note(&finding.identity, entry);
                }
            }
        }
    }
    departures
}

fn saying(said: &Said, sources: &Sources) -> Saying {
    let words = said.words.clone().unwrap_or_else(|| {
        sources.get(said.at.source).map_or("", |source| source.slice(said.at)).trim().to_owned()
    });
    Saying {
        designed: said.at.source == DESIGN,
        stands: said.stands,
        words,
        at: said.at,
        by: said.by.clone(),
        on: said.on.map(|day| day.to_string()),
    }
}
