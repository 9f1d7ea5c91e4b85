//! Which requirements exclude one another, by what came of every place that was tried.

use std::collections::BTreeSet;

use super::bench::{Asked, Tried};

/// The fewest requirements of which no place that was tried meets all: one alone, or two, or as few as are left when
/// one after the other is left out.
pub(super) fn excluded<'t>(tried: impl Iterator<Item = &'t Tried>) -> Vec<Asked> {
    let places: Vec<BTreeSet<Asked>> = tried
        .filter(|tried| !matches!(tried, Tried::Stuck(_)))
        .map(|tried| tried.against().into_iter().collect())
        .collect();
    if places.is_empty() || places.iter().any(BTreeSet::is_empty) {
        return Vec::new();
    }
    let all: BTreeSet<Asked> = places.iter().flatten().copied().collect();
    let barred = |some: &[Asked]| places.iter().all(|against| some.iter().any(|one| against.contains(one)));
    if let Some(one) = all.iter().find(|one| barred(&[**one])) {
        return vec![*one];
    }
    for a in &all {
        if let Some(b) = all.iter().find(|b| *b > a && barred(&[*a, **b])) {
            return vec![*a, *b];
        }
    }
    let mut left: Vec<Asked> = all.into_iter().collect();
    let mut at = 0;
    while at < left.len() {
        let mut fewer = left.clone();
        fewer.remove(at);
        if barred(&fewer) {
            left = fewer;
        } else {
            at += 1;
        }
    }
    left
}
