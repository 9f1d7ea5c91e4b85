//! The proof of a correction: the design judged anew with it made.

use crate::base::problem::Problem;
use crate::base::value::{EntryPath, Missing, Reason};
use crate::review::judged::{Came, Judged, badness, judged};
use crate::review::{DESIGN, Input, Library};
use crate::yaml::draft::Draft;
use crate::yaml::edits::Edits;
use crate::yaml::path::{Path, Step as Way};

use super::{Corrections, Proven, Step, WhyNot, made};

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

/// A correction that holds, as it is written.
#[derive(Clone, PartialEq, Debug)]
pub struct Written {
    /// The steps.
    pub steps: Vec<Step>,
    /// How far each look that somebody signed goes about the place where things come to stand. It is not written.
    pub looks: Vec<Step>,
    /// The same as edits of the text.
    pub edits: Edits,
    /// The text with the edits made.
    pub text: String,
    /// What comes of it.
    pub holds: Holds,
}

impl Written {
    /// The same as it is offered, with those of the findings that it mends which are told besides.
    #[must_use]
    pub fn proven(self, besides: impl Fn(&str) -> bool) -> Proven {
        let Written { steps, looks, edits, text, holds } = self;
        let besides = holds.mended.into_iter().filter(|one| besides(one)).collect();
        Proven { number: 0, steps, looks, edits, text, measure: holds.measure, besides }
    }
}

/// Proves steps as [`proven`] does, and writes them down. How far somebody looked is theirs to say: it is tried as it would be
/// about the new place, and stays in the file as they signed it.
///
/// # Errors
/// What does not hold; or what would hold only if somebody had looked farther.
pub fn written(
    all: &Corrections<'_>,
    input: &Input<'_>,
    library: &Library,
    steps: &[Step],
    findings: &[&str],
) -> Result<Written, WhyNot> {
    let (looks, own) = parted(all, steps);
    let draft = made(DESIGN, &all.text, &own)?;
    let prove = |text: &str, steps: &[Step]| proven(input, library, &all.before, (text, steps), findings);
    let mut holds = if looks.is_empty() {
        prove(draft.text(), &own)?
    } else {
        let tried = made(DESIGN, &all.text, steps)?;
        // A look that does not go far enough is no blank: the file would go on saying that it does.
        prove(tried.text(), &own).map_err(|why| match prove(draft.text(), &own) {
            Ok(_) => WhyNot::LookAnew(looks.iter().map(|step| EntryPath::from(step.path())).collect()),
            Err(_) => why,
        })?
    };
    holds.measure.extend(looks.iter().filter_map(|step| match step {
        Step::Set(path, far) | Step::Add(path, far) => {
            Some(Missing { entry: path.into(), reason: Reason::LookedOnly(far.clone()), at: None })
        }
        Step::Remove(_) => None,
    }));
    let edits = draft.edits(&all.text);
    Ok(Written { edits, text: draft.text().to_owned(), steps: own, looks, holds })
}

/// The steps that would change what somebody signed to have looked for, and all others.
pub(super) fn parted(all: &Corrections<'_>, steps: &[Step]) -> (Vec<Step>, Vec<Step>) {
    let draft = Draft::new(DESIGN, &all.text);
    let signed = |step: &&Step| {
        let mut look = step.path().clone();
        look.steps.truncate(2);
        let is_look = matches!(look.steps.first(), Some(Way::Key(key)) if key == "looked_for");
        let signs = |key: &str| look.key(key).resolve(draft.tree()).is_some();
        is_look && (signs("by") || signs("on"))
    };
    steps.iter().cloned().partition(|step| signed(&step))
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
