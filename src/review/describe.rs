//! What an entry of a design says, in one sentence.

use crate::design::keys::{Key, steps};

/// What the entry at this path says, its first sentence without the full stop; nothing for a path that leads
/// nowhere.
#[must_use]
pub fn describe(path: &str) -> Option<String> {
    let first = Key::at(steps(path))?.first_sentence()?;
    (!first.is_empty()).then(|| first.to_owned())
}

#[cfg(test)]
mod tests {
    use super::describe;

    #[test]
    fn entries_are_described_through_names_and_alternatives() {
        for path in [
            "job.title",
            "building.roof.edge",
            "building.openings.kitchen_window.opens",
            "systems.main.discharge.above_roof",
            "systems.main.suction_points.s1.kind",
            "before_drilling.post_tension",
            "looked_for.openings",
        ] {
            let said = describe(path).unwrap_or_default();
            assert!(said.len() > 10 && !said.contains('\n'), "{path}: {said:?}");
        }
        assert_eq!(describe("building.colour"), None);
    }
}
