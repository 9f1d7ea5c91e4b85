//! Joint corrections: places at which a discharge, or a suction point, meets everything that is asked of its place by
//! all books at once, offered beside what each rule says for itself.

use crate::base::number::Ratio;
use crate::base::number::quantity::Style;
use crate::base::value::EntryPath;
use crate::facts::handles::{Change, Shift, length_text, style};
use crate::findings::Clause;
use crate::review::placing::{Asked, Doing, Layout, Needed, Placing, Tried, layouts, placings};
use crate::review::{DESIGN, Input, Library};
use crate::yaml::draft::Draft;
use crate::yaml::tree::Tree;

use super::prove::parted;
use super::{Choice, Corrections, Offer, Proven, Step, WhyNot, made, written};

/// Where things may stand.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Places {
    /// Where each discharge may.
    pub discharges: Vec<Placing>,
    /// Where each suction point may that is not as asked.
    pub points: Vec<Layout>,
    /// How many more suction points are asked for.
    pub needed: Vec<Needed>,
}

/// No more than so many places are offered for one thing.
const MOST: usize = 4;

/// One place to offer.
struct Place<'p> {
    title: String,
    changes: &'p [Change],
    /// What is asked of the place and not met where it stands.
    mends: &'p [Asked],
    doing: Doing,
}

/// Works out where the discharges and suction points may stand of which something is not as asked, and adds the places
/// that are proven to the choices of the first finding that each mends.
pub fn add(all: &mut Corrections<'_>, input: &Input<'_>, library: &Library) {
    if all.is_built() || all.mends.is_empty() {
        return;
    }
    let speaks = |start: &str| {
        let findings = all.mends.iter().filter_map(|mend| all.review.findings.get(mend.finding));
        findings.into_iter().any(|finding| finding.subject.starts_with(start))
    };
    let mut places = Places::default();
    if speaks("discharge/") {
        places.discharges = placings(&all.review);
    }
    if speaks("suction/") {
        (places.points, places.needed) = layouts(&all.review);
    }
    let draft = Draft::new(DESIGN, &all.text);
    let style = style(draft.tree());
    let mut number = all.offered().map(|(_, _, proven)| proven.number).max().unwrap_or(0);
    for place in listed(&places, &style) {
        let steps = steps(place.changes, draft.tree());
        let Some(at) = all.mends.iter().position(|mend| is_mended(all, mend.finding, place.mends)) else {
            continue;
        };
        let Some(finding) = all.mends.get(at).map(|mend| mend.finding) else { continue };
        let clause = clause_of(all, finding, place.mends);
        let offer = match prove(all, (input, library), (finding, steps), &place) {
            Ok(mut proven) => {
                number += 1;
                proven.number = number;
                Offer::Edits(Box::new(proven))
            }
            Err(why) => Offer::Words(why),
        };
        let choice = Choice { title: place.title, clause, offer };
        if let Some(mend) = all.mends.get_mut(at) {
            let same = |known: &Choice| match (known.proven(), choice.proven()) {
                (Some(known), Some(new)) => known.text == new.text,
                _ => false,
            };
            match mend.choices.iter_mut().find(|known| same(known)) {
                // What a rule asks for itself comes to a place that meets everything: that is the more to say.
                Some(known) => {
                    number -= 1;
                    known.title = choice.title;
                }
                None => mend.choices.push(choice),
            }
        }
    }
    all.places = places;
}

fn listed<'p>(places: &'p Places, style: &Style) -> Vec<Place<'p>> {
    let mut list = Vec::new();
    for placing in &places.discharges {
        let mends: &[Asked] = match &placing.now {
            Tried::Not { unmet, .. } => unmet,
            _ => &[],
        };
        let several = places.discharges.len() > 1;
        let what =
            if several { format!("the discharge of {}", placing.system) } else { "the discharge".to_owned() };
        let all = match placing.doing {
            Doing::Everything => "everything asked of its place is met",
            Doing::Duties => "every duty about its place is met, but not all advice",
        };
        for offer in placing.offers.iter().take(MOST) {
            let title = format!("{}, where {all}", moved(&what, &offer.by, style));
            list.push(Place { title, changes: &offer.changes, mends, doing: placing.doing });
        }
    }
    for layout in &places.points {
        let Some(offer) = &layout.offer else { continue };
        let title = format!("{}, where its place is as asked", moved(&layout.point, &offer.by, style));
        let doing = Doing::Everything;
        list.push(Place { title, changes: &offer.changes, mends: &layout.unmet, doing });
    }
    list
}

/// A move in words: `raise the discharge by 4 ft`.
#[must_use]
pub fn moved(what: &str, by: &Shift, style: &Style) -> String {
    let length = |number: &Ratio| length_text(&number.abs(), style).unwrap_or_default();
    let toward = |number: &Ratio, plus: &str, minus: &str| {
        let word = if number.is_negative() { minus } else { plus };
        format!("{} {word}", length(number))
    };
    let mut level = Vec::new();
    if !by.east.is_zero() {
        level.push(toward(&by.east, "east", "west"));
    }
    if !by.north.is_zero() {
        level.push(toward(&by.north, "north", "south"));
    }
    if level.is_empty() {
        let verb = if by.up.is_negative() { "lower" } else { "raise" };
        return format!("{verb} {what} by {}", length(&by.up));
    }
    if !by.up.is_zero() {
        level.push(toward(&by.up, "up", "down"));
    }
    format!("move {what} {}", level.join(" and "))
}

/// The number of the correction that makes these changes, if it is offered.
#[must_use]
pub fn number_of(all: &Corrections<'_>, changes: &[Change]) -> Option<usize> {
    let draft = Draft::new(DESIGN, &all.text);
    let (_, own) = parted(all, &steps(changes, draft.tree()));
    let then = made(DESIGN, &all.text, &own).ok()?;
    all.offered().find(|(_, _, proven)| proven.text == then.text()).map(|(_, _, proven)| proven.number)
}

/// Changes as steps.
pub(super) fn steps(changes: &[Change], tree: &Tree) -> Vec<Step> {
    let step = |change: &Change| match change {
        Change::Set { entry, to } if entry.resolve(tree).is_some() => Step::Set(entry.clone(), to.clone()),
        Change::Set { entry, to } => Step::Add(entry.clone(), to.clone()),
        Change::Remove { entry } => Step::Remove(entry.clone()),
    };
    changes.iter().map(step).collect()
}

fn is_one_of(clause: &Clause, asked: &[Asked]) -> bool {
    asked.iter().any(|one| (one.book, one.rule, one.about) == (clause.book, clause.rule, clause.about))
}

fn is_mended(all: &Corrections<'_>, finding: usize, asked: &[Asked]) -> bool {
    let found = all.review.findings.get(finding);
    found.is_some_and(|finding| finding.clauses.iter().any(|clause| is_one_of(clause, asked)))
}

/// The first clause of a finding that is among what is asked.
fn clause_of(all: &Corrections<'_>, finding: usize, asked: &[Asked]) -> usize {
    let found = all.review.findings.get(finding);
    found.and_then(|found| found.clauses.iter().position(|clause| is_one_of(clause, asked))).unwrap_or(0)
}

fn prove(
    all: &Corrections<'_>,
    (input, library): (&Input<'_>, &Library),
    (finding, steps): (usize, Vec<Step>),
    place: &Place<'_>,
) -> Result<Proven, WhyNot> {
    // A run that ends elsewhere is drawn anew; a tape is worked out anew. None of it is a new measurement.
    let first = || steps.first().map_or_else(|| EntryPath::new(""), |step| EntryPath::from(step.path()));
    if made(DESIGN, &all.text, &steps)?.text() == all.text {
        return Err(WhyNot::CannotBeWritten(first()));
    }
    let mended: Vec<&str> = all
        .mends
        .iter()
        .filter(|mend| is_mended(all, mend.finding, place.mends))
        .filter_map(|mend| all.review.findings.get(mend.finding))
        .map(|finding| finding.identity.as_str())
        .collect();
    // Where advice is left, its clauses are still not followed; that nothing comes out worse holds all the same.
    let targets: &[&str] = if place.doing == Doing::Everything { &mended } else { &[] };
    let done = written(all, input, library, &steps, targets)?;
    let own = all.review.findings.get(finding).map(|finding| finding.identity.as_str());
    Ok(done.proven(|one| Some(one) != own))
}
