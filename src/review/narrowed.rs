//! A review of which a part is looked at.

use std::collections::{BTreeMap, BTreeSet};

use super::{Review, stated};
use crate::findings::Finding;
use crate::findings::narrow::{Narrow, NothingThere};

/// The keys under which a thing says where it is.
const WHERE: [&str; 4] = ["in", "into", "through", "of"];

/// Marks the part of a review that is looked at. What it comes to as a whole stays as it is.
///
/// # Errors
/// When a subject, a place or a book is named that the review does not speak of.
pub fn narrow(review: &mut Review<'_>, narrow: &Narrow) -> Result<(), NothingThere> {
    if !narrow.is_everything() {
        let spots = spots(review);
        let within = |finding: &Finding| {
            finding.entry.as_ref().map(|entry| places(entry.as_str(), &spots)).unwrap_or_default()
        };
        review.narrowed = Some(narrow.of(&review.findings, &review.used, &within)?);
    }
    Ok(())
}

/// The names that each entry of a thing gives for where it is, and its own.
fn spots(review: &Review<'_>) -> BTreeMap<String, BTreeSet<String>> {
    let mut spots: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for one in stated(review) {
        if one.is_thing {
            let own = one.entry.rsplit('.').next().unwrap_or("").to_owned();
            spots.entry(one.entry).or_default().insert(own);
        } else if one.is_name
            && let Some((thing, key)) = one.entry.rsplit_once('.')
            && WHERE.contains(&key.split('[').next().unwrap_or(""))
        {
            spots.entry(thing.to_owned()).or_default().insert(one.means);
        }
    }
    spots
}

/// The names under which a thing is found: those of everything that it is part of.
fn places(entry: &str, spots: &BTreeMap<String, BTreeSet<String>>) -> BTreeSet<String> {
    let ends = entry.match_indices(['.', '[']).map(|(at, _)| at).chain([entry.len()]);
    ends.filter_map(|end| spots.get(entry.get(..end)?)).flatten().cloned().collect()
}
