//! Who answers for the values that decided: stated in the file, measured by somebody, verified by somebody else.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::value::Stated;
use crate::render::phrases::day;
use crate::render::visible::one_line;
use crate::review::Review;
use crate::yaml::entry::{Meaning, Met, Stands, Vouched};

/// Every entry of a design by its path.
pub(super) struct Vouchers {
    entries: BTreeMap<String, Met>,
}

impl Vouchers {
    pub(super) fn of(review: &Review<'_>) -> Self {
        let met = review.design.entries().into_iter();
        let stated = met.filter(|met| met.stands != Stands::Missing);
        Vouchers { entries: stated.map(|met| (met.path.to_string(), met)).collect() }
    }

    /// Who answers for these entries.
    pub(super) fn of_entries<'s>(&self, stated: impl Iterator<Item = &'s Stated>) -> String {
        let by: BTreeSet<String> = stated.map(|one| self.who(one.entry.as_str())).collect();
        by.into_iter().collect::<Vec<_>>().join("; ")
    }

    /// Who answers for an entry: as it says itself, else whoever signed the part it stands in.
    fn who(&self, entry: &str) -> String {
        if let Some(own) = self.entries.get(entry).and_then(|met| words(&met.vouched)) {
            return own;
        }
        around(entry).find_map(|part| self.looked(part)).unwrap_or_else(|| "as stated".to_owned())
    }

    /// Who looked, as a part of the file says, and when.
    fn looked(&self, part: &str) -> Option<String> {
        let value = |key: &str| match &self.entries.get(&format!("{part}.{key}"))?.means {
            Meaning::Value(value) => Some(one_line(value).into_owned()),
            _ => None,
        };
        // The head of the file says who wrote it, and a variance who granted it: neither measured.
        let looks = !matches!(part.split('.').next(), Some("job" | "variances"));
        let by = value("by").filter(|_| looks)?;
        Some(on(format!("found by {by}"), value("on").as_deref()))
    }
}

/// The parts of a file in which an entry stands, the nearest first.
fn around(entry: &str) -> impl Iterator<Item = &str> {
    let cuts: Vec<usize> = entry.match_indices('.').map(|(at, _)| at).collect();
    cuts.into_iter().rev().filter_map(|at| entry.get(..at))
}

/// What a value says of itself, if it says anything.
pub(super) fn words(vouched: &Vouched) -> Option<String> {
    let how = match vouched.how {
        Some(how) => how.to_owned(),
        None if vouched.by.is_some() || vouched.on.is_some() => "measured".to_owned(),
        None => String::new(),
    };
    let by = vouched.by.as_deref().map(|by| format!(" by {}", one_line(by))).unwrap_or_default();
    let own = on(format!("{how}{by}"), vouched.on.as_deref());
    let verified = vouched.verified_by.as_deref().map(|by| format!("verified by {}", one_line(by)));
    let said: Vec<String> = Some(own).filter(|own| !own.is_empty()).into_iter().chain(verified).collect();
    (!said.is_empty()).then(|| said.join(", "))
}

fn on(said: String, on: Option<&str>) -> String {
    match on {
        Some(on) => format!("{said} on {}", day(on)),
        None => said,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn who_measured_and_who_verified_stand_beside_each_other() {
        let vouched = |by: Option<&str>, on: Option<&str>, how, verified: Option<&str>| Vouched {
            by: by.map(str::to_owned),
            on: on.map(str::to_owned),
            how,
            verified_by: verified.map(str::to_owned),
        };
        let said = |one: Vouched| words(&one).unwrap_or_default();
        let all = vouched(Some("J. Ames"), Some("2026-05-12"), None, Some("R. Cole"));
        assert_eq!(said(all), "measured by J. Ames on 12 May 2026, verified by R. Cole");
        assert_eq!(said(vouched(None, None, Some("told"), None)), "told");
        assert_eq!(said(vouched(None, None, None, Some("R. Cole"))), "verified by R. Cole");
        assert_eq!(said(Vouched::default()), "");
    }
}
