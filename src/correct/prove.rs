//! The proof of a correction: the design judged anew with it made.

use crate::base::problem::Problem;
use crate::base::value::Missing;
use crate::review::judged::{Came, Judged, badness, judged};
use crate::review::{Input, Library};
use crate::yaml::path::Path;

use super::{Step, WhyNot};

/// What comes of a correction that holds.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Holds {
    /// What it leaves to be measured or said.
    pub measure: Vec<Missing>,
    /// The identities of all findings that it mends.
    pub mended: Vec<String>,
}

/// Judges a design with steps made, held against what it came to before: what was wrong with these findings is gone under
/// every book, no clause of any book comes out worse, nothing new is wrong, and nothing new is open but for what the steps
/// themselves left blank.
///
/// # Errors
/// Which of that does not hold.
pub fn proven(
    input: &Input<'_>,
    library: &Library,
    before: &Judged,
    (text, steps): (&str, &[Step]),
    findings: &[&str],
) -> Result<Holds, WhyNot> {
    let after = judged(&Input { bytes: text.as_bytes(), ..input.clone() }, library);
    if let Some(new) = new_problem(&before.problems, &after.problems) {
        return Err(WhyNot::NewProblem(new));
    }
    let added: Vec<&Path> =
        steps.iter().filter(|step| !matches!(step, Step::Remove(_))).map(Step::path).collect();
    let own_blanks = |came: &Came| {
        !came.missing.is_empty()
            && came.missing.iter().all(|missing| added.iter().any(|path| is_inside(missing, path)))
    };
    let mut holds = Holds::default();
    let (mut still, mut worse) = (Vec::new(), Vec::new());
    for ((identity, requirement), came) in &after.clauses {
        let was = before.clauses.get(&(identity.clone(), requirement.clone()));
        let bad = badness(came.comes);
        let was_bad = was.map_or(0, |was| badness(was.comes));
        // What was not as asked and cannot be told now is newly not known, which only a blank of the steps' own may be.
        let newly_open = bad == 1 && was_bad != 1 && !own_blanks(came);
        let is_target = findings.contains(&identity.as_str());
        if is_target && (bad == 2 || newly_open && was_bad == 2) {
            still.push(requirement.clone());
        } else if newly_open || bad == 2 && was_bad < 2 {
            worse.push((identity.clone(), requirement.clone()));
        }
        if bad == 1 && was.is_none_or(|was| was.missing != came.missing) && own_blanks(came) {
            holds.measure.extend(came.missing.iter().cloned());
        }
    }
    if !still.is_empty() {
        return Err(WhyNot::StillUnmet(still));
    }
    if !worse.is_empty() {
        return Err(WhyNot::Worse(worse));
    }
    holds.measure.sort();
    holds.measure.dedup();
    let bad = |judged: &Judged, identity: &str| {
        judged.clauses.iter().any(|((of, _), came)| of == identity && badness(came.comes) == 2)
    };
    let mut mended: Vec<String> = before
        .clauses
        .iter()
        .filter(|(_, came)| badness(came.comes) == 2)
        .map(|((identity, _), _)| identity.clone())
        .filter(|identity| !bad(&after, identity))
        .collect();
    mended.dedup();
    holds.mended = mended;
    Ok(holds)
}

/// Whether an entry is one that a step wrote, or lies in one.
fn is_inside(missing: &Missing, path: &Path) -> bool {
    Path::parse(missing.entry.as_str()).is_ok_and(|entry| entry.steps.starts_with(&path.steps))
}

/// What is wrong now and was not before, if anything: places move, so that only what is said is compared.
fn new_problem(before: &[Problem], after: &[Problem]) -> Option<String> {
    let mut left: Vec<&Problem> = before.iter().collect();
    for problem in after {
        let same = |known: &&Problem| known.kind == problem.kind && known.found == problem.found;
        match left.iter().position(same) {
            Some(at) => {
                left.swap_remove(at);
            }
            None => return Some(problem.found.clone()),
        }
    }
    None
}
