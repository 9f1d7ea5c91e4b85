//! What bounds the fill of an area: its outline, what stands in the middle of it, and footings.

use crate::base::number::Ratio;
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::geometry::{Outline, PlanPoint, Whereabouts};
use crate::design::model::foundation::{Area, Footing, FootingKind};
use crate::design::model::place::Line;
use crate::facts::ask::Ask;
use crate::facts::catalogue::Entries;
use crate::facts::foundation::area as in_area;
use crate::facts::places::Along;
use crate::facts::walls::{outline_of, reach_of};
use crate::facts::whole::lacking;
use crate::facts::within;
use crate::yaml::shape;

use super::Stretch;

/// What the bounds of the fill are read from.
pub(in crate::facts) const BOUNDS: Entries = &[
    "foundation.areas",
    "foundation.areas.*.outline",
    "foundation.areas.*.size",
    "foundation.areas.*.corner",
    "foundation.footings",
    "foundation.footings.*.kind",
    "foundation.footings.*.line",
    "foundation.footings.*.line.points",
    "foundation.footings.*.line.points.**",
    "foundation.footings.*.passes_gas",
    "foundation.footings.*.opening",
    "foundation.footings.*.opening.**",
];

/// The bounds of the fill.
#[derive(Clone, Debug)]
pub(super) struct Bounds {
    pub(super) outline: Outline,
    pub(super) holes: Vec<Outline>,
    pub(super) barriers: Vec<Stretch>,
    pub(super) doubtful: Vec<Stretch>,
}

/// The bounds of the fill of an area.
pub(super) fn bounds_of(ask: &mut Ask<'_>, area: Thing) -> Answer<Bounds> {
    in_area(ask, area, |ask, record| {
        within::outline(ask, record).then(|outline| {
            let holes = holes(ask, record, &outline);
            let footings = footings(ask, record, &outline);
            holes.both(footings).map(|(holes, (barriers, doubtful))| Bounds {
                outline,
                holes,
                barriers,
                doubtful,
            })
        })
    })
}

/// Other areas that lie wholly in the middle of this one. One without an outline cannot be seen to; where it is not said where on
/// the site this one lies, one that has room in it may.
fn holes<'d>(ask: &mut Ask<'d>, own: &'d Area, outline: &Outline) -> Answer<Vec<Outline>> {
    let alone = within::alone(ask, own);
    let others: Vec<&'d Area> = ask.things().areas.iter().map(|area| area.it).collect();
    let mut found: Vec<Outline> = Vec::new();
    for other in others {
        if std::ptr::eq(other, own) || other.outline.is_missing() {
            continue;
        }
        let Answer::Known { value, .. } = outline_of(ask, other) else { continue };
        if alone {
            if has_room(outline, &value) {
                return within::corner(own);
            }
            continue;
        }
        if value.corners().iter().all(|corner| outline.whereabouts(corner) == Whereabouts::Inside) {
            found.push(value);
        }
    }
    Answer::known(found)
}

/// Whether one outline reaches less far than another, both ways.
fn has_room(outline: &Outline, other: &Outline) -> bool {
    [Along::East, Along::North].into_iter().all(|along| {
        let of = |outline| reach_of(outline, along).map(|(low, high)| &high - &low);
        of(other).zip(of(outline)).is_some_and(|(less, more)| less.high() < more.low())
    })
}

/// The points of a line on the plan, where they are known exactly.
pub(super) fn points_of<'d>(ask: &mut Ask<'d>, line: &'d Line) -> Answer<Vec<PlanPoint>> {
    let want = line.points.want(&line.here);
    ask.value(&line.here, &line.points).then(|list| {
        list.all().then(|points| {
            Answer::all(points.into_iter().map(shape::PlanPoint::coordinates)).then(|points| {
                let exact: Option<Vec<PlanPoint>> = points
                    .iter()
                    .map(|(x, y)| Some(PlanPoint::new(x.as_exact()?.clone(), y.as_exact()?.clone())))
                    .collect();
                match exact {
                    Some(points) => Answer::known(points),
                    None => Answer::missing(Missing { reason: Reason::Imprecise, ..want.clone() }),
                }
            })
        })
    })
}

/// The stretches of footings that run through the fill: those that keep gas back, and those of which it is not said. A pad under a
/// single column keeps nothing back. Footings along the edge are the edge.
fn footings<'d>(ask: &mut Ask<'d>, own: &'d Area, outline: &Outline) -> Answer<(Vec<Stretch>, Vec<Stretch>)> {
    let alone = within::alone(ask, own);
    let foundation = &ask.design().foundation;
    let _ = lacking(ask, &foundation.here, &foundation.footings);
    let (mut sure, mut doubtful) = (Vec::new(), Vec::new());
    for (_, footing) in foundation.footings.things() {
        if ask.read(&footing.here, &footing.kind).value().flatten() == Some(&FootingKind::Pad) {
            continue;
        }
        let passes = ask.read(&footing.here, &footing.passes_gas).value().flatten().copied();
        if passes == Some(true) {
            continue;
        }
        let stretches = match stretches(ask, footing) {
            Answer::Known { value, .. } => value,
            // One whose line is not stated may run anywhere; only those that divide two areas are edges of both.
            Answer::Unknown(_) => continue,
        };
        if alone {
            return within::corner(own);
        }
        let inside = stretches.into_iter().filter(|stretch| runs_inside(outline, stretch));
        if passes == Some(false) { sure.extend(inside) } else { doubtful.extend(inside) }
    }
    Answer::known((sure, doubtful))
}

/// The stretches of a line on the plan of the site, where an area lies on it too.
pub(super) fn stretches_in<'d>(ask: &mut Ask<'d>, area: &'d Area, line: &'d Line) -> Answer<Vec<Stretch>> {
    let stretches = stretches_of(ask, line);
    if within::alone(ask, area) { stretches.then(|_| within::corner(area)) } else { stretches }
}

/// The stretches of a line on the plan.
pub(super) fn stretches_of<'d>(ask: &mut Ask<'d>, line: &'d Line) -> Answer<Vec<Stretch>> {
    points_of(ask, line).map(|points| points.iter().cloned().zip(points.iter().skip(1).cloned()).collect())
}

/// The stretches of a footing, less its opening.
fn stretches<'d>(ask: &mut Ask<'d>, footing: &'d Footing) -> Answer<Vec<Stretch>> {
    let whole = ask.value(&footing.here, &footing.line).then(|line| stretches_of(ask, line));
    let Some(opening) = ask.read(&footing.here, &footing.opening).value().flatten() else { return whole };
    let gap = ends_of(ask, opening);
    whole.both(gap).map(|(whole, gap)| whole.iter().flat_map(|stretch| without(stretch, &gap)).collect())
}

/// The two ends of an opening.
pub(in crate::facts) fn ends_of<'d>(ask: &mut Ask<'d>, opening: &'d Line) -> Answer<Stretch> {
    points_of(ask, opening).then(|points| match (points.first(), points.last()) {
        (Some(from), Some(to)) if points.len() > 1 => Answer::known((from.clone(), to.clone())),
        _ => Answer::missing(opening.points.want(&opening.here)),
    })
}

/// How far along a stretch a spot lies, as a share of it, if it lies in line with it.
fn along(stretch: &Stretch, spot: &PlanPoint) -> Option<Ratio> {
    let (from, to) = stretch;
    let (dx, dy) = (&to.x - &from.x, &to.y - &from.y);
    let (x, y) = (&spot.x - &from.x, &spot.y - &from.y);
    let square = &(&dx * &dx) + &(&dy * &dy);
    // within a fiftieth of the way to the side
    let aside = (&(&dx * &y) - &(&dy * &x)).abs();
    if aside > square.checked_div(&Ratio::from(50))? {
        return None;
    }
    (&(&dx * &x) + &(&dy * &y)).checked_div(&square)
}

/// A stretch less an opening that lies in it.
fn without(stretch: &Stretch, gap: &Stretch) -> Vec<Stretch> {
    let (Some(a), Some(b)) = (along(stretch, &gap.0), along(stretch, &gap.1)) else {
        return vec![stretch.clone()];
    };
    let (low, high) = (a.clone().min(b.clone()), a.max(b));
    let at = |share: &Ratio| {
        let (from, to) = stretch;
        let part = |from: &Ratio, to: &Ratio| from + &(&(to - from) * share);
        PlanPoint::new(part(&from.x, &to.x), part(&from.y, &to.y))
    };
    let mut left = Vec::new();
    if low > Ratio::ZERO {
        left.push((stretch.0.clone(), at(&low.min(Ratio::ONE))));
    }
    if high < Ratio::ONE {
        left.push((at(&high.max(Ratio::ZERO)), stretch.1.clone()));
    }
    left
}

/// The footings with an opening, each with whether the opening reaches beyond the footing.
pub(in crate::facts) fn gaps<'d>(ask: &mut Ask<'d>) -> Vec<(&'d str, &'d Footing, bool)> {
    let foundation = &ask.design().foundation;
    let mut found = Vec::new();
    for (name, footing) in foundation.footings.things() {
        let (Some(line), Some(opening)) = (footing.line.known(), footing.opening.known()) else { continue };
        let (Answer::Known { value: line, .. }, Answer::Known { value: gap, .. }) =
            (stretches_of(ask, line), ends_of(ask, opening))
        else {
            continue;
        };
        let on = |spot: &PlanPoint| {
            line.iter().any(|stretch| {
                along(stretch, spot).is_some_and(|share| share >= Ratio::ZERO && share <= Ratio::ONE)
            })
        };
        found.push((name, footing, !(on(&gap.0) && on(&gap.1))));
    }
    found
}

/// Whether some of a stretch runs through the fill rather than along its edge: an end or its middle lies within.
fn runs_inside(outline: &Outline, (from, to): &Stretch) -> bool {
    let half = |a: &Ratio, b: &Ratio| (a + b).checked_div(&Ratio::from(2)).unwrap_or_default();
    let middle = PlanPoint::new(half(&from.x, &to.x), half(&from.y, &to.y));
    [from, to, &middle].into_iter().any(|spot| outline.whereabouts(spot) == Whereabouts::Inside)
}
