//! Where a discharge may stand.

use super::bench::{Asked, Bench, Doing, Speaks, Tried};
use super::excluded::excluded;
use super::line::Line;
use crate::base::number::Ratio;
use crate::base::text::Source;
use crate::base::value::Missing;
use crate::design::model::place::Side;
use crate::facts::handles::{self, Along, Change, Shift, Stuck, is_metric};
use crate::findings::Used;
use crate::review::{DESIGN, Review};
use crate::yaml::scan;
use crate::yaml::tree::Tree;

/// How a discharge is moved.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Way {
    /// Straight up, or down.
    Height,
    /// East or west, as the plan is drawn.
    EastWest,
    /// North or south.
    NorthSouth,
}

impl Way {
    /// The move by so much.
    #[must_use]
    pub fn shift(self, by: &Ratio) -> Shift {
        match self {
            Way::Height => Shift::up(by.clone()),
            Way::EastWest => Shift::level(by.clone(), Ratio::ZERO),
            Way::NorthSouth => Shift::level(Ratio::ZERO, by.clone()),
        }
    }
}

/// A place at which everything asked is met.
#[derive(Clone, PartialEq, Debug)]
pub struct Offer {
    /// By how much the discharge moves.
    pub by: Shift,
    /// Along which way to look for what keeps it from being nearer.
    pub way: Way,
    /// What has to be written.
    pub changes: Vec<Change>,
    /// What is not met one step nearer to where it stands now.
    pub stops: Vec<Asked>,
}

/// Why no place is offered.
#[derive(Clone, PartialEq, Debug)]
pub enum Why {
    /// No place that was tried meets these together.
    Excluded(Vec<Asked>),
    /// It cannot be told of any place as long as this is not known.
    NotKnown(Vec<Missing>),
    /// Where the discharge is cannot be told by other numbers alone.
    Stuck(Stuck),
}

/// Where the discharge of a system may stand.
#[derive(Clone, PartialEq, Debug)]
pub struct Placing {
    /// The system.
    pub system: String,
    /// Which requirements are met at the places that are offered.
    pub doing: Doing,
    /// What came of leaving it where it is.
    pub now: Tried,
    /// What came of moving it along each way.
    pub lines: Vec<(Way, Line)>,
    /// Places at which everything asked is met: the nearest first. None where it is met as it stands.
    pub offers: Vec<Offer>,
    /// Why none is offered.
    pub why: Option<Why>,
    /// How many places were tried.
    pub tried: usize,
}

impl Placing {
    /// The lowest height at the present place in plan at which everything asked is met, as a move, with what keeps it
    /// from being lower.
    #[must_use]
    pub fn lowest(&self) -> Option<(Ratio, Vec<Asked>)> {
        let (_, line) = self.lines.iter().find(|(way, _)| *way == Way::Height)?;
        let first = line.stretches().into_iter().next()?;
        Some((&line.step * &Ratio::from(first.from.steps), first.from.stops))
    }
}

/// What is asked of the place of a discharge.
pub(super) const SPEAKS: Speaks = Speaks {
    of: "discharge/",
    on_place: |entry| entry.starts_with("systems.*.discharge.height") || entry.contains("from_discharge"),
};

/// Steps that can be built, and strides in which to look.
pub(super) struct Steps {
    pub(super) step: Ratio,
    pub(super) coarse: i64,
    pub(super) high: i64,
    pub(super) wide: i64,
}

pub(super) fn steps(tree: &Tree) -> Steps {
    let step = handles::step(tree);
    if is_metric(&handles::style(tree)) {
        Steps { step, coarse: 50, high: 24, wide: 28 }
    } else {
        Steps { step, coarse: 96, high: 20, wide: 24 }
    }
}

/// Where each discharge of a reviewed design may stand. Nothing for a design over which field notes lie: what was
/// found is not moved by writing the drawing otherwise.
#[must_use]
pub fn placings(review: &Review<'_>) -> Vec<Placing> {
    let Some(source) = review.sources.get(DESIGN) else { return Vec::new() };
    if review.refusal().is_some() || !review.digests.field_notes.is_empty() {
        return Vec::new();
    }
    let (tree, _) = scan::read(DESIGN, source.text());
    let steps = steps(&tree);
    let systems = review.design.systems.things();
    let with_one = systems.filter(|(_, system)| system.discharge.known().is_some());
    with_one
        .filter_map(|(name, system)| {
            let side = system.discharge.known().and_then(|discharge| discharge.side.known().copied());
            placing(review, source, &tree, name, side, &steps)
        })
        .collect()
}

fn placing(
    review: &Review<'_>,
    source: &Source,
    tree: &Tree,
    system: &str,
    side: Option<Side>,
    steps: &Steps,
) -> Option<Placing> {
    let all = placing_for(review, source, tree, (system, side), steps, Doing::Everything)?;
    if all.now.is_met() || !all.offers.is_empty() {
        return Some(all);
    }
    // Where no place follows all advice as well, one may yet meet every duty.
    let duties = placing_for(review, source, tree, (system, side), steps, Doing::Duties)?;
    let met = duties.now.is_met() || !duties.offers.is_empty();
    Some(if met { duties } else { all })
}

fn placing_for(
    review: &Review<'_>,
    source: &Source,
    tree: &Tree,
    (system, side): (&str, Option<Side>),
    steps: &Steps,
    doing: Doing,
) -> Option<Placing> {
    let used: Vec<Used<'_>> = review.used.clone();
    let is_own = |ask: &crate::facts::ask::Ask<'_>, thing| {
        let things = ask.things();
        things.system_of(thing).is_none_or(|own| things.name(own) == system)
    };
    let mut bench = Bench::new(source, tree, review.stage, &used, (SPEAKS, doing), is_own);
    if bench.asks_nothing() {
        return None;
    }
    let now = bench.with(Ok(Vec::new()));
    let mut lines = Vec::new();
    let ways: Vec<Way> = std::iter::once(Way::Height).chain(level_ways(side)).collect();
    for way in &ways {
        let count = if *way == Way::Height { steps.high } else { steps.wide };
        let line = Line::walk(steps.step.clone(), steps.coarse, (count, count), |by| {
            bench.with(handles::discharge(tree, system, &way.shift(by)))
        });
        lines.push((*way, line));
    }
    let mut offers = Vec::new();
    if !now.is_met() {
        for (way, line) in &lines {
            for growing in [true, false] {
                let Some(edge) = line.nearest(growing) else { continue };
                let by = way.shift(&(&line.step * &Ratio::from(edge.steps)));
                if let Ok(changes) = handles::discharge(tree, system, &by) {
                    offers.push(Offer { by, way: *way, changes, stops: edge.stops });
                }
            }
        }
        offers.sort_by_key(|offer| offer.by.squared());
    }
    let mut beside = Vec::new();
    let mut because = if now.is_met() || !offers.is_empty() { None } else { why(&now, &lines, &beside) };
    if matches!(because, Some(Why::Excluded(_))) {
        offers.extend(both_ways(&mut bench, tree, system, &ways, steps, &mut beside));
        because = if offers.is_empty() { why(&now, &lines, &beside) } else { None };
    }
    let tried = bench.tried;
    Some(Placing { system: system.to_owned(), doing, now, lines, offers, why: because, tried })
}

/// The ways along the side of the building on which a discharge is.
fn level_ways(side: Option<Side>) -> Vec<Way> {
    match side {
        Some(Side::North | Side::South) => vec![Way::EastWest],
        Some(Side::East | Side::West) => vec![Way::NorthSouth],
        None => vec![Way::EastWest, Way::NorthSouth],
    }
}

/// What has to be written for the discharge of a system to stand at the nearest places at which one requirement is met,
/// higher up or aside: the nearest first.
///
/// # Errors
/// Where there is none: what stands in the way, if it could be put nowhere else at all.
pub fn nearest(
    review: &Review<'_>,
    tree: &Tree,
    system: &str,
    along: Along,
    asked: Asked,
) -> Result<Vec<Vec<Change>>, Option<Stuck>> {
    let source = review.sources.get(DESIGN).ok_or(None)?;
    if !review.digests.field_notes.is_empty() {
        return Err(None);
    }
    let known = review.design.systems.things().find(|(name, _)| *name == system);
    let side = known.and_then(|(_, system)| system.discharge.known()?.side.known().copied());
    let Steps { step, coarse, high, wide } = steps(tree);
    let (ways, count) = match along {
        Along::Up => (vec![Way::Height], (0, high)),
        Along::Level => (level_ways(side), (wide, wide)),
    };
    let mut bench = Bench::of_one(source, tree, review.stage, &review.used, asked);
    let (mut found, mut stuck, mut moved) = (Vec::new(), None, 0);
    for way in ways {
        let line = Line::walk(step.clone(), coarse, count, |by| {
            bench.with(handles::discharge(tree, system, &way.shift(by)))
        });
        for tried in line.all() {
            match tried {
                Tried::Stuck(why) => stuck = stuck.or(Some(why.clone())),
                _ => moved += 1,
            }
        }
        // Where it stands now is no move.
        moved -= 1;
        for edge in [true, false].into_iter().filter_map(|growing| line.nearest(growing)) {
            found.push((edge.steps.abs(), way.shift(&(&step * &Ratio::from(edge.steps)))));
        }
    }
    if found.is_empty() {
        return Err(stuck.filter(|_| moved == 0));
    }
    found.sort_by_key(|(steps, _)| *steps);
    Ok(found.iter().filter_map(|(_, by)| handles::discharge(tree, system, by).ok()).collect())
}

/// The nearest place that is reached by going aside and up, where neither alone will do.
fn both_ways(
    bench: &mut Bench<'_>,
    tree: &Tree,
    system: &str,
    ways: &[Way],
    steps: &Steps,
    beside: &mut Vec<Line>,
) -> Option<Offer> {
    let mut best: Option<Offer> = None;
    for aside in ways.iter().filter(|way| **way != Way::Height) {
        for stride in 1..=steps.wide / 2 {
            for signed in [2 * stride, -2 * stride] {
                let level = aside.shift(&(&steps.step * &Ratio::from(signed * steps.coarse)));
                if best.as_ref().is_some_and(|best| best.by.squared() <= level.squared()) {
                    continue;
                }
                let line = Line::walk(steps.step.clone(), steps.coarse, (0, steps.high), |by| {
                    let shift = Shift { up: by.clone(), ..level.clone() };
                    bench.with(handles::discharge(tree, system, &shift))
                });
                if let Some(edge) = line.nearest(true) {
                    let up = &line.step * &Ratio::from(edge.steps);
                    let by = Shift { up, ..level };
                    let nearer = best.as_ref().is_none_or(|best| by.squared() < best.by.squared());
                    if nearer && let Ok(changes) = handles::discharge(tree, system, &by) {
                        best = Some(Offer { by, way: Way::Height, changes, stops: edge.stops });
                    }
                }
                beside.push(line);
            }
        }
    }
    best
}

/// Why no place will do.
fn why(now: &Tried, lines: &[(Way, Line)], beside: &[Line]) -> Option<Why> {
    let all = || lines.iter().map(|(_, line)| line).chain(beside).flat_map(Line::all);
    // What is open wherever it is put has to be known first.
    if let Tried::Not { open, missing, .. } = now {
        let always = |one: &Asked| {
            all().all(|tried| match tried {
                Tried::Not { open, .. } => open.contains(one),
                Tried::Met => false,
                Tried::Stuck(_) => true,
            })
        };
        if open.iter().any(always) {
            return Some(Why::NotKnown(missing.clone()));
        }
    }
    let moved = all().filter(|tried| !matches!(tried, Tried::Stuck(_))).count();
    let stuck = all().find_map(|tried| match tried {
        Tried::Stuck(stuck) => Some(stuck.clone()),
        _ => None,
    });
    match (moved > lines.len(), stuck) {
        (false, Some(stuck)) => Some(Why::Stuck(stuck)),
        _ => Some(Why::Excluded(excluded(all()))).filter(|why| *why != Why::Excluded(Vec::new())),
    }
}
