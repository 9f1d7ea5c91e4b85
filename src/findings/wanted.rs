//! What to measure or settle next: the entries that keep verdicts open, the most useful first.

use std::cmp::Reverse;
use std::collections::HashMap;
use std::ptr::from_ref;
use std::sync::Arc;

use crate::base::value::{EntryPath, Missing, Reason};
use crate::design::keys::{self, Way};
use crate::judge::verdict::Verdict;
use crate::rulebook::checked::Stops;

use super::finding::Finding;

/// An entry that would settle something.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Wanted {
    /// The entry, what is wrong with it as it stands, and where that is.
    pub missing: Missing,
    /// The identities of the findings that ask for it. What is then stated may settle them, or lead on to a further
    /// question; so this counts who asks, and promises nothing.
    pub asked_for_by: Vec<String>,
    /// How many clauses ask for nothing else.
    pub alone: usize,
    /// Work that waits for it.
    pub stops: Option<Stops>,
    /// Whether a duty that counts waits for it.
    pub binds: bool,
    /// How it is written; nothing for an entry that no design file has.
    pub way: Option<Arc<Way>>,
}

impl Wanted {
    /// What to write there, short enough for the end of a line: the words to choose from, or an example. Nothing for
    /// an entry that no design file has.
    #[must_use]
    pub fn write(&self) -> Option<String> {
        self.way.as_deref().map(Way::short)
    }
}

/// Gathers what is missing by entry: what stops work first, then by how many findings ask for it, then what a duty
/// waits for, then by how many ask for nothing else, then by place and path. Where an entry says who did something, it
/// is shown with who fills in the file and on which day.
#[must_use]
pub fn wanted(findings: &[Finding], by: Option<&str>, on: Option<&str>) -> Vec<Wanted> {
    let mut by_entry: HashMap<EntryPath, Wanted> = HashMap::new();
    // Hundreds of entries are written in one way, which is told once.
    let mut ways: HashMap<*const Way, Arc<Way>> = HashMap::new();
    let mut told = |way: &'static Way| {
        Arc::clone(ways.entry(from_ref(way)).or_insert_with(|| Arc::new(way.clone().told_by(by, on))))
    };
    for finding in findings {
        for clause in finding.clauses.iter().filter(|clause| clause.verdict == Verdict::Undetermined) {
            // An entry without a name stands for what no statement would settle.
            // One that may stand in lines that were not read is not asked for: it may well be there.
            let asked = |missing: &&Missing| {
                let to_write = !matches!(missing.reason, Reason::CutOff | Reason::Reckoned);
                !missing.entry.as_str().is_empty() && to_write
            };
            for missing in clause.missing.iter().filter(asked) {
                let wanted = by_entry.entry(missing.entry.clone()).or_insert_with(|| Wanted {
                    missing: missing.clone(),
                    asked_for_by: Vec::new(),
                    alone: 0,
                    stops: None,
                    binds: false,
                    way: keys::way(missing.entry.as_str()).map(&mut told),
                });
                if wanted.asked_for_by.last() != Some(&finding.identity) {
                    wanted.asked_for_by.push(finding.identity.clone());
                }
                wanted.alone += usize::from(clause.missing.len() == 1);
                wanted.binds |= clause.binds();
                if clause.standing.is_to_decide() {
                    wanted.stops = match (wanted.stops, clause.stops) {
                        (Some(a), Some(b)) => Some(a.min(b)),
                        (a, b) => a.or(b),
                    };
                }
            }
        }
    }
    let mut list: Vec<Wanted> = by_entry.into_values().collect();
    let rank = |wanted: &Wanted| {
        let counts = (Reverse(wanted.asked_for_by.len()), !wanted.binds, Reverse(wanted.alone));
        (wanted.stops.is_none(), wanted.stops, counts, wanted.missing.at)
    };
    list.sort_by(|a, b| rank(a).cmp(&rank(b)).then_with(|| a.missing.entry.cmp(&b.missing.entry)));
    list
}
