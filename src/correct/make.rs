//! Steps done to a text.

use crate::base::problem::Problem;
use crate::base::text::SourceId;
use crate::base::value::EntryPath;
use crate::design::keys::Key;
use crate::design::long::long_form;
use crate::yaml::draft::Draft;
use crate::yaml::path::{Path, Step as Way};
use crate::yaml::tree::NodeKind;

use super::{Step, WhyNot};

/// A text with some steps done to it, one after the other.
///
/// # Errors
/// Which entry cannot be changed so.
pub fn made(source: SourceId, text: &str, steps: &[Step]) -> Result<Draft, WhyNot> {
    let mut draft = Draft::new(source, text);
    for step in steps {
        let done = match step {
            Step::Set(path, value) => draft.set(path, value),
            Step::Add(path, value) => add(&mut draft, path, value),
            Step::Remove(path) => draft.remove(path),
        };
        done.map_err(|_| WhyNot::CannotBeWritten(EntryPath::from(step.path())))?;
    }
    Ok(draft)
}

/// Writes an entry that is not there where it belongs; a section that is written as one value gets room for it.
pub(super) fn add(draft: &mut Draft, path: &Path, value: &str) -> Result<(), Problem> {
    if let Some((record, long)) = long_form(draft.tree(), draft.text(), path) {
        draft.set(&record, &long)?;
    }
    let after = after(draft, path);
    draft.add(path, value, after.as_deref())
}

/// The key of its section behind which a new one belongs, in the order in which one writes them. A name that a person
/// chooses comes last.
fn after(draft: &Draft, path: &Path) -> Option<String> {
    let (parent, Way::Key(key)) = path.split_last()? else { return None };
    let steps = parent.steps.iter().map(|step| match step {
        Way::Key(key) => key.as_str(),
        Way::Item(_) => "0",
    });
    let order = Key::at(steps).map(Key::order)?;
    let own = order.iter().position(|known| known == key)?;
    let (node, _) = parent.resolve(draft.tree())?;
    let NodeKind::Map(pairs) = &draft.tree().node(node)?.kind else { return None };
    let place = |key: &str| order.iter().position(|known| *known == key);
    // Behind the last of those that come before it, where the person keeps to that order.
    pairs.iter().rev().find(|pair| place(&pair.key).is_some_and(|at| at < own)).map(|pair| pair.key.clone())
}
