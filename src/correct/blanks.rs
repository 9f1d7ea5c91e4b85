//! The list of what to measure, put into the file as blanks that a person fills in on site: `unknown`, with a remark. The
//! file reads as before, and every verdict stays what it was.

use crate::base::value::Reason;
use crate::review::judged::{Judged, badness, judged};
use crate::review::{DESIGN, Input, Library, Review};
use crate::yaml::draft::Draft;
use crate::yaml::edits::Edits;
use crate::yaml::path::Path;

use super::make::add;

/// What is written at a blank.
const BLANK: &str = "unknown";

/// A file with blanks.
#[derive(Clone, PartialEq, Debug)]
pub struct Blanks {
    /// The entries that were put in.
    pub entries: Vec<Path>,
    /// Entries that are wanted and could not be put in without changing what the file says.
    pub left: Vec<Path>,
    /// The edits.
    pub edits: Edits,
    /// The text with them made.
    pub text: String,
}

/// Puts in a blank for everything that a review wants and that is not written yet. `remark` says in a few words what to
/// measure there.
#[must_use]
pub fn blanks(
    review: &Review<'_>,
    input: &Input<'_>,
    library: &Library,
    remark: &dyn Fn(&str) -> String,
) -> Blanks {
    let first = review.sources.get(DESIGN).map_or("", |source| source.text());
    let before = judged(input, library);
    let wanted: Vec<Path> = review
        .wanted
        .iter()
        .filter(|wanted| wanted.missing.reason == Reason::NotStated && wanted.way.is_some())
        .filter_map(|wanted| Path::parse(wanted.missing.entry.as_str()).ok())
        .collect();
    let mut draft = Draft::new(DESIGN, first);
    let (mut entries, mut left) = (Vec::new(), Vec::new());
    let mut all = draft.clone();
    if wanted.iter().all(|path| put(&mut all, path, remark)) && stands(&before, &all, input, library) {
        (draft, entries) = (all, wanted);
    } else {
        for path in wanted {
            let mut next = draft.clone();
            if put(&mut next, &path, remark) && stands(&before, &next, input, library) {
                draft = next;
                entries.push(path);
            } else {
                left.push(path);
            }
        }
    }
    let (edits, text) = (draft.edits(first), draft.text().to_owned());
    Blanks { entries, left, edits, text }
}

/// Puts in one blank; whether that could be done.
fn put(draft: &mut Draft, path: &Path, remark: &dyn Fn(&str) -> String) -> bool {
    if path.resolve(draft.tree()).is_some() {
        return false;
    }
    if add(draft, path, BLANK).is_err() {
        return false;
    }
    draft.remark(path, &remark(&path.to_string()));
    true
}

/// Whether every verdict is what it was.
fn stands(before: &Judged, draft: &Draft, input: &Input<'_>, library: &Library) -> bool {
    let after = judged(&Input { bytes: draft.text().as_bytes(), ..input.clone() }, library);
    let same = |(key, came): (&(String, String), &crate::review::judged::Came)| {
        before.clauses.get(key).map_or(badness(came.comes) == 0, |was| was.comes == came.comes)
    };
    after.problems.len() == before.problems.len()
        && before.clauses.keys().all(|key| after.clauses.contains_key(key))
        && after.clauses.iter().all(same)
}
