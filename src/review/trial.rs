//! Judging anew with only some of what moved taken from the newer side, so that a cause can be told from another.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::books::Library;
use super::run::books;
use super::{Review, stage};
use crate::base::text::Sources;
use crate::design::Design;
use crate::facts::ask::Ask;
use crate::findings::compare::{Factor, Trial};
use crate::findings::gather;
use crate::findings::variance::{requirement_of, variances};
use crate::judge;

/// One side of a comparison: a review and the books it was made with.
#[derive(Clone, Copy, Debug)]
pub struct Side<'l> {
    /// The review.
    pub review: &'l Review<'l>,
    /// The books it was made with.
    pub library: &'l Library,
}

/// Judges with each of these moved alone, and with each of them left behind alone. Of one that moved by itself there
/// is nothing to tell apart.
#[must_use]
pub fn trials(old: Side<'_>, new: Side<'_>, moved: &[Factor]) -> Vec<Trial> {
    let all: BTreeSet<Factor> = moved.iter().copied().collect();
    if all.len() < 2 {
        return Vec::new();
    }
    let alone = all.iter().map(|one| BTreeSet::from([*one]));
    let without = all.iter().map(|one| all.iter().copied().filter(|other| other != one).collect());
    let sets: BTreeSet<BTreeSet<Factor>> = alone.chain(without).collect();
    sets.into_iter().map(|moved| trial(old, new, moved)).collect()
}

fn trial(old: Side<'_>, new: Side<'_>, moved: BTreeSet<Factor>) -> Trial {
    let from = |factor: Factor| if moved.contains(&factor) { new } else { old };
    let designed = from(Factor::Design).review;
    let mut design = Arc::clone(&designed.design);
    if moved.contains(&Factor::Variance) != moved.contains(&Factor::Design) {
        let mut other = (*design).clone();
        other.variances = from(Factor::Variance).review.design.variances.clone();
        design = Arc::new(other);
    }
    let day = from(Factor::Date).review.on.as_deref();
    let came = came(&design, from(Factor::Book).library, day, &designed.sources);
    Trial { moved, came }
}

/// What every clause comes to, by finding and requirement.
fn came(
    design: &Design,
    library: &Library,
    day: Option<&str>,
    sources: &Sources,
) -> BTreeMap<(String, String), crate::findings::Comes> {
    let (used, ..) = books(design, library, day);
    let list: Vec<_> = used.iter().map(|used| used.book).collect();
    let mut ask = Ask::new(design);
    let stage = stage(design);
    let outcomes = judge::judge(&list, stage, &mut ask);
    let mut findings = gather(&used, outcomes, &ask);
    variances(design, &mut findings, &used, (stage, day), sources, &mut ask);
    let clauses = findings.iter().flat_map(|finding| finding.clauses.iter().map(move |one| (finding, one)));
    clauses
        .filter_map(|(finding, clause)| {
            let requirement = requirement_of(clause, &used)?;
            Some(((finding.identity.clone(), requirement), clause.comes()))
        })
        .collect()
}
