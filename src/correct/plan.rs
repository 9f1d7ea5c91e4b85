//! From the corrections of the rules to steps with values, tried in turn until one is proven.

mod paths;
mod values;

use crate::base::value::EntryPath;
use crate::design::Design;
use crate::design::designed::is_designed;
use crate::design::model::systems::System;
use crate::facts::Facts;
use crate::findings::{Clause, Comes};
use crate::judge::verdict::Role;
use crate::review::{DESIGN, Input, Library};
use crate::rulebook::corrections::Change;
use crate::yaml::draft::Draft;
use crate::yaml::path::{Path, Step as Way};
use crate::yaml::tree::{NodeKind, Tree};

use super::{Choice, Corrections, Offer, Proven, Step, WhyNot, made, written};
use values::Desk;

/// No correction is tried with more than so many values.
const MOST_TRIED: usize = 6;

/// Corrections of no more clauses than so are put together for one finding.
const MOST_TOGETHER: usize = 4;

/// A work order names no more entries than so to be measured again.
const MOST_MEASURED: usize = 6;

/// Steps that come to one correction, each way with other values.
type Ways = Vec<Vec<Step>>;

/// A correction of one clause, planned.
struct Planned {
    title: String,
    clause: usize,
    requirement: String,
    ways: Result<Ways, WhyNot>,
    touched: Vec<EntryPath>,
}

/// The ways to mend a finding, the smallest change of each clause first.
pub(super) fn choices(
    all: &Corrections<'_>,
    input: &Input<'_>,
    library: &Library,
    finding: usize,
    number: &mut usize,
) -> Vec<Choice> {
    let Some(of) = all.review.findings.get(finding) else { return Vec::new() };
    let mut planned = Vec::new();
    for (at, clause) in of.clauses.iter().enumerate() {
        if !matches!(clause.comes(), Comes::Unmet | Comes::Disputed | Comes::NotFollowed) {
            continue;
        }
        planned.extend(plan(all, at, clause));
    }
    let mut choices: Vec<Choice> = Vec::new();
    for one in &planned {
        let known =
            choices.iter().any(|choice| choice.title == one.title && matches!(choice.offer, Offer::Edits(_)));
        if known {
            continue;
        }
        let offer = offer(all, input, library, &of.identity, one, &planned);
        let repeats = choices.iter().any(|choice| match (&choice.offer, &offer) {
            (Offer::Edits(known), Offer::Edits(new)) => known.text == new.text,
            _ => choice.title == one.title,
        });
        if !repeats {
            choices.push(Choice { title: one.title.clone(), clause: one.clause, offer });
        } else if let Offer::Edits(_) = &offer
            && let Some(words) = choices
                .iter_mut()
                .find(|choice| choice.title == one.title && !matches!(choice.offer, Offer::Edits(_)))
        {
            // What one book's rule could only say in words, another's has shown.
            *words = Choice { title: one.title.clone(), clause: one.clause, offer };
        }
    }
    for choice in &mut choices {
        if let Offer::Edits(proven) = &mut choice.offer {
            *number += 1;
            proven.number = *number;
        }
    }
    choices
}

/// The corrections of one clause.
fn plan(all: &Corrections<'_>, at: usize, clause: &Clause) -> Vec<Planned> {
    let used = all.review.used.get(clause.book);
    let Some(rule) = used.and_then(|used| used.book.rules.get(clause.rule)) else { return Vec::new() };
    let requirement = used.map(|used| format!("{}/{}", used.book.name, rule.name)).unwrap_or_default();
    let design = &all.review.design;
    let mut facts = Facts::new(design);
    let draft = Draft::new(DESIGN, &all.text);
    let planned = rule.corrections.iter().map(|advice| {
        let drawn = (!all.is_built()).then_some(&all.review);
        let mut desk = Desk { facts: &mut facts, rule, clause, tree: draft.tree(), drawn };
        let ways = ways(&mut desk, &advice.changes, design);
        let mut touched: Vec<EntryPath> = match &ways {
            Ok(ways) => ways.iter().flatten().map(|step| EntryPath::from(step.path())).collect(),
            Err(WhyNot::Found(entry) | WhyNot::Measured(entry) | WhyNot::Built(entry)) => vec![entry.clone()],
            Err(_) => decided(clause, design),
        };
        touched.sort();
        touched.dedup();
        Planned { title: advice.title.clone(), clause: at, requirement: requirement.clone(), ways, touched }
    });
    planned.collect()
}

/// The entries that the verdict of a clause rests on, where they are few: those are to be measured again when it is mended.
/// What is built changes, and what was found besides stays as it is.
fn decided(clause: &Clause, design: &Design) -> Vec<EntryPath> {
    let decisive = clause.trace.iter().flat_map(|trace| &trace.decisive);
    let asked = decisive.filter(|one| one.role == Role::Requires);
    let mut entries: Vec<EntryPath> =
        asked.flat_map(|one| &one.origin.stated).map(|stated| stated.entry.clone()).collect();
    let work = design.job.work.known().copied();
    let built = |entry: &EntryPath| {
        let path = Path::parse(entry.as_str()).unwrap_or_default();
        let steps = names(&path);
        is_designed(&steps.iter().map(String::as_str).collect::<Vec<_>>(), work)
    };
    if entries.iter().any(built) {
        entries.retain(built);
    }
    if entries.len() <= MOST_MEASURED { entries } else { Vec::new() }
}

/// The ways to make some changes together: the first value of each, then the second of each, and so on.
fn ways(desk: &mut Desk<'_, '_>, changes: &[Change], design: &Design) -> Result<Ways, WhyNot> {
    if changes.is_empty() {
        return Err(WhyNot::NoChange);
    }
    let mut parts: Vec<Ways> = Vec::new();
    for change in changes {
        match desk.change(change) {
            // Of several that are made together, nothing is left to do for one that takes away what is not there.
            Err(WhyNot::NotThere(_)) if changes.len() > 1 && matches!(change, Change::Remove { .. }) => {}
            part => parts.push(part?),
        }
    }
    let most = parts.iter().map(Vec::len).max().unwrap_or(0);
    let way = |at: usize| {
        let of = |part: &Ways| part.get(at).or(part.last()).cloned().unwrap_or_default();
        parts.iter().flat_map(of).collect::<Vec<Step>>()
    };
    let mut allowed = Vec::new();
    let mut refused = None;
    for way in (0..most).map(way) {
        let barred = |step: &Step| !follows(step, &way) && off_limits(step, desk.tree, design).is_some();
        let first = way.iter().find(|step| barred(step));
        match first.and_then(|step| off_limits(step, desk.tree, design)) {
            None => allowed.push(way),
            Some(why) => refused = refused.or(Some(why)),
        }
    }
    match refused {
        Some(why) if allowed.is_empty() => Err(why),
        _ => Ok(allowed),
    }
}

/// Whether a step only keeps in its place what is taped from a discharge that the other steps move.
fn follows(step: &Step, way: &[Step]) -> bool {
    let key = |step: &Way, wanted: &str| matches!(step, Way::Key(key) if key == wanted);
    let path = &step.path().steps;
    let taped = path.iter().any(|step| key(step, "from_discharge"));
    let looked = path.first().is_some_and(|step| key(step, "looked_for"))
        && path.last().is_some_and(|step| key(step, "within"));
    let to_the_line = path.last().is_some_and(|step| key(step, "from_property_line"));
    let moves =
        |other: &Step| other != step && other.path().steps.get(2).is_some_and(|step| key(step, "discharge"));
    (taped || looked || to_the_line) && way.iter().any(moves)
}

/// The steps that lead to an entry, each as a word.
fn names(path: &Path) -> Vec<String> {
    let name = |step: &Way| match step {
        Way::Key(key) => key.clone(),
        Way::Item(at) => at.to_string(),
    };
    path.steps.iter().map(name).collect()
}

/// Why an entry is none that a correction may change, if so.
fn off_limits(step: &Step, tree: &Tree, design: &Design) -> Option<WhyNot> {
    let path = step.path();
    let steps = names(path);
    let steps: Vec<&str> = steps.iter().map(String::as_str).collect();
    if !is_designed(&steps, design.job.work.known().copied()) {
        return Some(WhyNot::Found(EntryPath::from(path)));
    }
    let stands = |(name, system): (&str, &System)| {
        steps.starts_with(&["systems", name]) && system.installed.known().is_some()
    };
    if design.systems.things().any(stands) {
        return Some(WhyNot::Built(EntryPath::from(path)));
    }
    is_measured(path, tree).then(|| WhyNot::Measured(EntryPath::from(path)))
}

/// Whether what stands at a path, or around it, was measured by somebody.
fn is_measured(path: &Path, tree: &Tree) -> bool {
    let mut at = Some(path.clone());
    while let Some(here) = at {
        if let Some((node, _)) = here.resolve(tree)
            && let Some(NodeKind::Map(pairs)) = tree.node(node).map(|node| &node.kind)
        {
            let has = |key: &str| pairs.iter().any(|pair| pair.key == key);
            let designed =
                pairs.iter().any(|pair| pair.key == "how" && tree.text(pair.value) == Some("designed"));
            if has("value")
                && !designed
                && (has("by") || has("on") || has("within") || has("how") || has("verified_by"))
            {
                return true;
            }
        }
        at = here.split_last().map(|(parent, _)| parent);
    }
    false
}

/// What is offered for a correction: the first of its ways that is proven, put together with corrections of other clauses
/// of the finding where it takes them too.
fn offer(
    all: &Corrections<'_>,
    input: &Input<'_>,
    library: &Library,
    identity: &str,
    planned: &Planned,
    others: &[Planned],
) -> Offer {
    if all.is_built() {
        return Offer::WorkOrder(planned.touched.clone());
    }
    let ways = match &planned.ways {
        Ok(ways) => ways,
        Err(why) => return Offer::Words(why.clone()),
    };
    let mut refused = None;
    for way in ways.iter().take(MOST_TRIED) {
        match prove(all, input, library, identity, way, (planned, others)) {
            Ok(proven) => return Offer::Edits(Box::new(proven)),
            Err(why) => {
                // That one value is not enough yet says less than why a farther one will not do.
                let too_little = |known: &WhyNot| matches!(known, WhyNot::StillUnmet(by) if by.contains(&planned.requirement));
                if refused.as_ref().is_none_or(too_little) {
                    refused = Some(why);
                }
            }
        }
    }
    Offer::Words(refused.unwrap_or(WhyNot::NoChange))
}

fn prove(
    all: &Corrections<'_>,
    input: &Input<'_>,
    library: &Library,
    identity: &str,
    way: &[Step],
    (planned, others): (&Planned, &[Planned]),
) -> Result<Proven, WhyNot> {
    let mut steps = way.to_vec();
    let mut taken = vec![planned.requirement.as_str()];
    loop {
        if made(DESIGN, &all.text, &steps)?.text() == all.text {
            return Err(WhyNot::StillUnmet(vec![planned.requirement.clone()]));
        }
        match written(all, input, library, &steps, &[identity]) {
            Ok(done) => return Ok(done.proven(|mended| mended != identity)),
            Err(WhyNot::StillUnmet(by))
                if !by.contains(&planned.requirement) && taken.len() < MOST_TOGETHER =>
            {
                let more = others.iter().find_map(|other| {
                    let wanted =
                        by.contains(&other.requirement) && !taken.contains(&other.requirement.as_str());
                    let way = other.ways.as_ref().ok().filter(|_| wanted)?.first()?;
                    Some((other.requirement.as_str(), way))
                });
                let Some((requirement, more)) = more else { return Err(WhyNot::StillUnmet(by)) };
                taken.push(requirement);
                steps = joined(&steps, more);
            }
            Err(why) => return Err(why),
        }
    }
}

/// Steps and further ones, which have the last word where both speak of one entry.
fn joined(steps: &[Step], more: &[Step]) -> Vec<Step> {
    let spoken = |step: &Step| more.iter().any(|other| other.path() == step.path());
    steps.iter().filter(|step| !spoken(step)).chain(more).cloned().collect()
}
