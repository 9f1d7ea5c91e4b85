//! Several corrections together: proven anew as one, or told where they do not agree.

use crate::base::value::{EntryPath, Missing};
use crate::review::{Input, Library};
use crate::yaml::edits::Edits;
use crate::yaml::path::Path;

use super::{Corrections, Mend, Proven, Step, WhyNot, written};

/// Corrections that were chosen together, and hold together.
#[derive(Clone, PartialEq, Debug)]
pub struct Chosen {
    /// Their numbers.
    pub numbers: Vec<usize>,
    /// The edits of the text.
    pub edits: Edits,
    /// The text with the edits made.
    pub text: String,
    /// What has to be measured or said afterwards.
    pub measure: Vec<Missing>,
}

/// Why corrections cannot be made together.
#[derive(Clone, PartialEq, Debug)]
pub enum Conflict {
    /// Two of them want different things of one entry.
    OneEntry(usize, usize, EntryPath),
    /// Two of them mend the same finding, in different ways.
    OneFinding(usize, usize),
    /// Each holds alone, and all together do not.
    Together(WhyNot),
}

/// Makes corrections together, in the order of their numbers, and proves the result as one.
///
/// # Errors
/// Where they do not agree.
pub fn chosen(
    all: &Corrections<'_>,
    input: &Input<'_>,
    library: &Library,
    numbers: &[usize],
) -> Result<Chosen, Conflict> {
    let mut picked: Vec<(&Mend, &Proven)> = all
        .offered()
        .filter(|(_, _, proven)| numbers.contains(&proven.number))
        .map(|(mend, _, proven)| (mend, proven))
        .collect();
    picked.sort_by_key(|(_, proven)| proven.number);
    let mut steps: Vec<Step> = Vec::new();
    for (at, (mend, one)) in picked.iter().enumerate() {
        for (known_mend, known) in picked.iter().take(at) {
            if known_mend.finding == mend.finding {
                return Err(Conflict::OneFinding(known.number, one.number));
            }
            if let Some(entry) = quarrel(known, one) {
                return Err(Conflict::OneEntry(known.number, one.number, entry));
            }
        }
        let all_of_it = one.steps.iter().chain(&one.looks);
        steps.extend(all_of_it.filter(|step| !steps.contains(step)).cloned().collect::<Vec<_>>());
    }
    let steps = in_their_places(steps);
    let targets: Vec<&str> = picked
        .iter()
        .filter_map(|(mend, _)| Some(all.review.findings.get(mend.finding)?.identity.as_str()))
        .collect();
    let done = written(all, input, library, &steps, &targets).map_err(Conflict::Together)?;
    Ok(Chosen {
        numbers: picked.iter().map(|(_, proven)| proven.number).collect(),
        edits: done.edits,
        text: done.text,
        measure: done.holds.measure,
    })
}

/// Of each finding that has some, the first that is offered, as far as they agree: numbers, and those left out with why.
/// All of them are proven as one; only where that fails is it looked for in which half it does.
#[must_use]
pub fn first_of_each(
    all: &Corrections<'_>,
    input: &Input<'_>,
    library: &Library,
) -> (Option<Chosen>, Vec<(usize, Conflict)>) {
    let mut firsts: Vec<(&Mend, &Proven)> = Vec::new();
    for (mend, _, one) in all.offered() {
        if firsts.last().is_none_or(|(known, _)| known.finding != mend.finding) {
            firsts.push((mend, one));
        }
    }
    let mut desk = Desk { all, input, library, best: None, left_out: Vec::new() };
    desk.take(&firsts);
    (desk.best, desk.left_out)
}

/// Those that agree so far.
struct Desk<'a, 'l> {
    all: &'a Corrections<'l>,
    input: &'a Input<'a>,
    library: &'a Library,
    best: Option<Chosen>,
    left_out: Vec<(usize, Conflict)>,
}

impl Desk<'_, '_> {
    /// Takes some more, all at once or, where they do not agree, one half after the other.
    fn take(&mut self, some: &[(&Mend, &Proven)]) {
        let known = self.best.as_ref().map(|best| best.numbers.clone()).unwrap_or_default();
        let mut numbers = known.clone();
        for (mend, one) in some {
            if !self.is_mended(mend, &numbers) {
                numbers.push(one.number);
            }
        }
        if numbers == known {
            return;
        }
        match (chosen(self.all, self.input, self.library, &numbers), some) {
            (Ok(together), _) => self.best = Some(together),
            (Err(conflict), [(_, one)]) => self.left_out.push((one.number, conflict)),
            (Err(_), several) => {
                let (first, second) = several.split_at(several.len() / 2);
                self.take(first);
                self.take(second);
            }
        }
    }

    /// Whether one of these mends a finding besides, so that it needs no other.
    fn is_mended(&self, mend: &Mend, numbers: &[usize]) -> bool {
        let found = self.all.review.findings.get(mend.finding);
        let identity = found.map_or("", |finding| finding.identity.as_str());
        let mut taken = self.all.offered().filter(|(_, _, one)| numbers.contains(&one.number));
        taken.any(|(_, _, one)| one.besides.iter().any(|mended| mended == identity))
    }
}

/// The entry of which two corrections want different things: the same one, or one inside of what the other writes.
fn quarrel(one: &Proven, other: &Proven) -> Option<EntryPath> {
    let within = |a: &Path, b: &Path| a.steps.starts_with(&b.steps);
    one.steps.iter().chain(&one.looks).find_map(|first| {
        let clash = other.steps.iter().chain(&other.looks).find(|second| {
            let (a, b) = (first.path(), second.path());
            first != *second && (within(a, b) || within(b, a)) && !is_one_more(first, second)
        });
        clash.map(|_| EntryPath::from(first.path()))
    })
}

/// Whether both write one more entry of one list, which can be done one after the other.
fn is_one_more(one: &Step, other: &Step) -> bool {
    let item = |step: &Step| matches!(step, Step::Add(path, _) if matches!(path.steps.last(), Some(crate::yaml::path::Step::Item(_))));
    item(one) && item(other)
}

/// Steps that each write the next entry of a list get the places that come after each other.
fn in_their_places(steps: Vec<Step>) -> Vec<Step> {
    let mut done: Vec<Step> = Vec::new();
    for step in steps {
        let mut step = step;
        while done.iter().any(|known| is_one_more(known, &step) && known.path() == step.path()) {
            let Step::Add(path, value) = &step else { break };
            let Some((parent, crate::yaml::path::Step::Item(at))) = path.split_last() else { break };
            step = Step::Add(parent.item(at + 1), value.clone());
        }
        done.push(step);
    }
    done
}
