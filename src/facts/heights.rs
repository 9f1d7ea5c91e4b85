//! Heights above the origin: of the ground, of the roof's edges, of whatever a height is stated for.

use std::iter::once;

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Missing, Reason, unite};
use crate::base::vocabulary::Thing;
use crate::calc::geometry::{Outline, PlanPoint, Point, Segment, Whereabouts};
use crate::design::model::building::{Roof, RoofEdge};
use crate::design::model::foundation::AreaKind;
use crate::design::model::place::{Level, Line, Side};
use crate::design::model::site::Ground;
use crate::yaml::entry::{Entry, Here};
use crate::yaml::measure::{Measure, Wanted};

use super::ask::Ask;
use super::catalogue::Entries;
use super::outlines;
use super::roofs::{self, Stands};
use super::statements::{Statement, settle};
use super::things::SpaceMember;
use super::walls;

/// What the height of the ground is read from.
pub(super) const GROUND: Entries = &["site.ground", "site.ground.*.height", "site.ground.*.outline"];

/// Where something is in plan, as far as it is known, for choosing the nearest of several.
#[derive(Clone, Debug, Default)]
pub(super) struct Near {
    /// East and north of the origin.
    pub(super) plan: Option<PlanPoint>,
    /// The side of the building it is on.
    pub(super) side: Option<Side>,
}

/// The lowest and the highest of several heights.
#[derive(Clone, Debug)]
pub(super) struct Spread {
    /// The lowest.
    pub(super) lowest: Number,
    /// The highest.
    pub(super) highest: Number,
}

fn spread(heights: &[Number]) -> Option<Spread> {
    Some(Spread { lowest: Number::least(heights)?, highest: Number::greatest(heights)? })
}

/// The heights of all the finished ground that is stated, each with what else is said of it.
fn grounds<'d>(ask: &mut Ask<'d>) -> Answer<Vec<(Number, &'d Ground)>> {
    let site = &ask.design().site;
    ask.value(&site.here, &site.ground).then(|list| {
        let found: Vec<Answer<(Number, &'d Ground)>> = list
            .things()
            .map(|(_, ground)| ask.quantity(&ground.here, &ground.height).map(|height| (height, ground)))
            .collect();
        if found.is_empty() {
            return Answer::missing(ask.want_at("site.ground.main"));
        }
        Answer::all(found)
    })
}

/// The lowest and the highest finished ground that is stated.
pub(super) fn all_ground(ask: &mut Ask<'_>) -> Answer<Spread> {
    grounds(ask).then(|list| {
        let heights: Vec<Number> = list.into_iter().map(|(height, _)| height).collect();
        match spread(&heights) {
            Some(spread) => Answer::known(spread),
            None => Answer::missing(ask.want_at("site.ground.main")),
        }
    })
}

/// The hull of several heights, in doubt because it cannot be told which of them is meant.
fn one_of(heights: &[Number], why: Vec<Missing>) -> Answer<Number> {
    match spread(heights) {
        Some(spread) => {
            let value = spread.lowest.hull(&spread.highest);
            let doubts = if value.is_point() { Vec::new() } else { why };
            Answer::Known { value, doubts }
        }
        None => Answer::Unknown(why),
    }
}

/// The height of the finished ground nearest to a place: the ground whose outline holds it or comes nearest.
/// Where that cannot be told, the range over all ground that is stated.
pub(super) fn nearest_ground(ask: &mut Ask<'_>, near: &Near) -> Answer<Number> {
    grounds(ask).then(|list| {
        if let [(only, _)] = list.as_slice() {
            return Answer::known(only.clone());
        }
        let mut unplaced = Vec::new();
        let mut placed: Vec<(Ratio, Number)> = Vec::new();
        for (height, ground) in &list {
            let outline = outlines::outline(ask, &ground.here, &ground.outline);
            match (outline, &near.plan) {
                (Answer::Known { value, .. }, Some(at)) => placed.push((away(&value, at), height.clone())),
                (Answer::Unknown(missing), _) => unplaced = unite(unplaced, missing),
                _ => {}
            }
        }
        placed.sort_by(|(a, _), (b, _)| a.cmp(b));
        let nearest = placed.first().map(|(distance, _)| distance.clone());
        let heights: Vec<Number> = if placed.len() == list.len() {
            placed
                .into_iter()
                .filter(|(at, _)| Some(at) == nearest.as_ref())
                .map(|(_, height)| height)
                .collect()
        } else {
            list.iter().map(|(height, _)| height.clone()).collect()
        };
        let doubts = if unplaced.is_empty() { vec![imprecise(ask.want_at("site.ground"))] } else { unplaced };
        one_of(&heights, doubts)
    })
}

fn imprecise(missing: Missing) -> Missing {
    Missing { reason: Reason::Imprecise, ..missing }
}

/// The square of how far a place lies from an outline in plan; nought inside it.
fn away(outline: &Outline, at: &PlanPoint) -> Ratio {
    match outline.whereabouts(at) {
        Whereabouts::Outside => outline.edge_distance_squared(at),
        Whereabouts::Inside | Whereabouts::OnEdge => Ratio::ZERO,
    }
}

fn roof<'d, T>(
    ask: &mut Ask<'d>,
    key: &'static str,
    get: impl FnOnce(&'d Roof) -> &'d Entry<T>,
) -> Option<(&'d Here, &'d Entry<T>)> {
    let building = &ask.design().building;
    let roof = building.roof.known();
    if roof.is_none() {
        let _ = ask.read_inside(&building.here, &building.roof, key, |roof| (&roof.here, get(roof)));
        return None;
    }
    roof.map(|roof| (&roof.here, get(roof)))
}

/// The heights of the roof's edges, each with what else is said of it.
fn edges<'d>(ask: &mut Ask<'d>) -> Answer<Vec<(Number, Option<&'d RoofEdge>)>> {
    let missing = || {
        Answer::missing(Missing {
            entry: crate::base::value::EntryPath::new("building.roof.edge"),
            reason: Reason::NotStated,
            at: None,
        })
    };
    let all_round = match roof(ask, "edge", |roof| &roof.edge) {
        Some((here, edge)) => level_alone(ask, here, edge).map(|height| (height, None)),
        None => missing(),
    };
    let Some((here, list)) = roof(ask, "edges", |roof| &roof.edges) else {
        return all_round.map(|one| vec![one]);
    };
    let by_place = ask.value(here, list).then(|list| {
        let found: Vec<_> = list
            .things()
            .map(|(_, edge)| level_alone(ask, &edge.here, &edge.height).map(|height| (height, Some(edge))))
            .collect();
        Answer::all(found)
    });
    match (all_round, by_place) {
        (Answer::Known { value: one, .. }, Answer::Known { value: mut more, doubts }) => {
            more.push(one);
            Answer::Known { value: more, doubts }
        }
        (one, Answer::Unknown(missing)) if list.is_missing() => {
            let _ = missing;
            one.map(|one| vec![one])
        }
        (_, more) => more,
    }
}

/// The lowest and the highest edge of the roof.
pub(super) fn all_edges(ask: &mut Ask<'_>) -> Answer<Spread> {
    edges(ask).then(|list| {
        let heights: Vec<Number> = list.into_iter().map(|(height, _)| height).collect();
        match spread(&heights) {
            Some(spread) => Answer::known(spread),
            None => Answer::missing(ask.want_at("building.roof.edge")),
        }
    })
}

/// The square of how far a place lies from a line in plan.
fn from_line<'d>(ask: &mut Ask<'d>, line: &'d Line, at: &PlanPoint) -> Option<Ratio> {
    let _ = ask.read(&line.here, &line.points);
    let points: Vec<Point> = line
        .points
        .members()
        .filter_map(|point| {
            let (x, y) = point.coordinates().value()?;
            Some(Point::new(x.as_exact()?.clone(), y.as_exact()?.clone(), Ratio::ZERO))
        })
        .collect();
    let flat = at.at(Ratio::ZERO);
    points
        .iter()
        .zip(points.iter().skip(1))
        .map(|(from, to)| Segment::new(from.clone(), to.clone()).distance_squared(&flat))
        .min()
}

/// The height of the edge of the roof nearest to a place: the only one; or the one whose line comes nearest;
/// or the one on the same side. Where that cannot be told, the range over all edges.
pub(super) fn nearest_edge(ask: &mut Ask<'_>, near: &Near) -> Answer<Number> {
    edges(ask).then(|list| {
        if let [(only, _)] = list.as_slice() {
            return Answer::known(only.clone());
        }
        let mut by_line: Vec<(Ratio, Number)> = Vec::new();
        let mut same_side: Vec<Number> = Vec::new();
        let mut sides_known = 0;
        for (height, edge) in &list {
            let Some(edge) = edge else { continue };
            let line = ask.read(&edge.here, &edge.line).value().flatten();
            if let (Some(line), Some(at)) = (line, &near.plan)
                && let Some(distance) = from_line(ask, line, at)
            {
                by_line.push((distance, height.clone()));
            }
            if let Some(side) = ask.read(&edge.here, &edge.side).value().flatten() {
                sides_known += 1;
                if Some(*side) == near.side {
                    same_side.push(height.clone());
                }
            }
        }
        if by_line.len() == list.len() {
            by_line.sort_by(|(a, _), (b, _)| a.cmp(b));
            if let Some((_, height)) = by_line.into_iter().next() {
                return Answer::known(height);
            }
        }
        if sides_known == list.len()
            && let [only] = same_side.as_slice()
        {
            return Answer::known(only.clone());
        }
        let heights: Vec<Number> = list.iter().map(|(height, _)| height.clone()).collect();
        one_of(&heights, vec![imprecise(ask.want_at("building.roof.edges"))])
    })
}

/// The height of the ridge: as stated, or by the pitch of a gable over half its width.
pub(super) fn ridge(ask: &mut Ask<'_>) -> Answer<Number> {
    let Some((here, entry)) = roof(ask, "ridge", |roof| &roof.ridge) else {
        return Answer::missing(ask.want_at("building.roof.ridge"));
    };
    let stated = ask.statement(entry.want(here), |ask| level_alone(ask, here, entry));
    let Some(roof) = ask.design().building.roof.known() else { return stated.value };
    let by_pitch = ask.told(roof.pitch.want(here), |ask| roofs::ridge_by_pitch(ask, roof));
    let found = std::iter::once(stated).chain(by_pitch).collect();
    let what = |_: &Ask<'_>| "the height of the ridge of the roof".to_owned();
    settle(ask, what, Dimension::LENGTH, found, || entry.want(here))
}

/// One statement of a height: so much above or below something.
pub(super) fn counted<'d, W: Wanted>(
    ask: &mut Ask<'d>,
    of: &'d Here,
    entry: &'d Entry<Measure<W>>,
    from: impl FnOnce(&mut Ask<'d>) -> Answer<Number>,
    up: bool,
) -> Option<Statement<'d>> {
    if entry.is_missing() {
        let _ = ask.read(of, entry);
        return None;
    }
    Some(ask.statement(entry.want(of), |ask| match ask.quantity(of, entry) {
        Answer::Unknown(missing) => Answer::Unknown(missing),
        known => known.both(from(ask)).map(|(by, base)| if up { &base + &by } else { &base - &by }),
    }))
}

/// The same, where it tells.
pub(super) fn counted_if_told<'d, W: Wanted>(
    ask: &mut Ask<'d>,
    of: &'d Here,
    entry: &'d Entry<Measure<W>>,
    from: impl FnOnce(&mut Ask<'d>) -> Answer<Number>,
) -> Option<Statement<'d>> {
    if entry.is_missing() {
        return None;
    }
    ask.told(entry.want(of), |ask| ask.quantity(of, entry).both(from(ask)).map(|(by, base)| &base + &by))
}

/// A height that says by itself above what: above the origin, the ground, or the roof's edge or ridge as a whole.
fn level_alone<'d>(ask: &mut Ask<'d>, of: &'d Here, entry: &'d Entry<Level>) -> Answer<Number> {
    level_near(ask, of, entry, &Near::default())
}

/// The height above the origin that an entry states for something near a place, which is in no space.
pub(super) fn level_near<'d>(
    ask: &mut Ask<'d>,
    of: &'d Here,
    entry: &'d Entry<Level>,
    near: &Near,
) -> Answer<Number> {
    level_in(ask, of, entry, near, |_| {
        let why = "it is in no space whose floor could be meant".to_owned();
        Answer::missing(Missing { reason: Reason::NotComputable(why), ..entry.want(of) })
    })
}

/// The height above the origin that an entry states for something near a place, in the space with this floor.
pub(super) fn level_in<'d>(
    ask: &mut Ask<'d>,
    of: &'d Here,
    entry: &'d Entry<Level>,
    near: &Near,
    floor: impl FnOnce(&mut Ask<'d>) -> Answer<Number>,
) -> Answer<Number> {
    ask.value(of, entry).then(|level| {
        let zero = |_: &mut Ask<'d>| Answer::known(Number::whole(0));
        let mut found = Vec::new();
        found.extend(counted(ask, &level.here, &level.z, zero, true));
        found.extend(counted(ask, &level.here, &level.above_floor, floor, true));
        found.extend(by_ground_and_roof(ask, of, level, near));
        let what = |_: &Ask<'_>| format!("the height of {}", spoken(of, entry.key));
        settle(ask, what, Dimension::LENGTH, found, || entry.want(of))
    })
}

/// What a level says by the ground and by the roof.
fn by_ground_and_roof<'d>(
    ask: &mut Ask<'d>,
    of: &'d Here,
    level: &'d Level,
    near: &Near,
) -> Vec<Statement<'d>> {
    let here = &level.here;
    let ground = |ask: &mut Ask<'d>| nearest_ground(ask, near);
    let mut found = Vec::new();
    found.extend(counted(ask, here, &level.above_ground, ground, true));
    found.extend(counted(ask, here, &level.above_roof_edge, |ask| guarded_edge(ask, of, near), true));
    found.extend(counted(ask, here, &level.below_roof_edge, |ask| guarded_edge(ask, of, near), false));
    found.extend(counted(ask, here, &level.below_ridge, |ask| guarded_ridge(ask, of), false));
    if let Some(at) = near.plan.clone().filter(|_| !is_of_the_roof(of)) {
        let stands = Stands { east: known_at(at.x), north: known_at(at.y) };
        // Where the roof there cannot be told, the others are asked for.
        found.extend(counted_if_told(ask, here, &level.above_roof, |ask| roofs::height_at(ask, &stands)));
    }
    found
}

fn known_at(coordinate: Ratio) -> Answer<Number> {
    Answer::known(Number::exact(coordinate))
}

/// What an entry is called where nothing has a name: "roof edge", "floor of attic".
pub(super) fn spoken(of: &Here, key: &str) -> String {
    let thing = of.path.as_str().rsplit('.').next().unwrap_or_default();
    format!("{key} ({thing})").replace('_', " ")
}

/// Whether a height is the roof's own, which cannot be counted from the roof's edge or ridge.
fn is_of_the_roof(of: &Here) -> bool {
    of.path.as_str().starts_with("building.roof")
}

fn guarded_edge(ask: &mut Ask<'_>, of: &Here, near: &Near) -> Answer<Number> {
    if is_of_the_roof(of) { circular(of) } else { nearest_edge(ask, near) }
}

fn guarded_ridge(ask: &mut Ask<'_>, of: &Here) -> Answer<Number> {
    if is_of_the_roof(of) { circular(of) } else { ridge(ask) }
}

fn circular(of: &Here) -> Answer<Number> {
    Answer::missing(Missing { entry: of.path.clone(), reason: Reason::Circular, at: Some(of.at) })
}

/// The height of the floor of a space, as stated for it.
pub(super) fn floor<'d>(ask: &mut Ask<'d>, of: &'d Here, entry: &'d Entry<Level>) -> Answer<Number> {
    level_near(ask, of, entry, &Near::default())
}

/// The height of the floor of a space: as stated for it, or that of the slab or soil of the only area under it.
pub(super) fn floor_of(ask: &mut Ask<'_>, space: Thing) -> Answer<Number> {
    let Some(SpaceMember::Named(name, record)) = ask.things().space(space) else {
        return ask.cannot(space, "the open air has no floor");
    };
    let (here, want) = (&record.here, record.floor.want(&record.here));
    let stated = ask.statement(want.clone(), |ask| floor(ask, here, &record.floor));
    let under = match walls::areas_under(ask, name).as_slice() {
        [only] => Some(only.it),
        _ => None,
    };
    let laid = under.and_then(|area| {
        let entry = match area.kind.known() {
            Some(AreaKind::Slab | AreaKind::GarageSlab) => &area.top,
            Some(AreaKind::Crawlspace | AreaKind::EarthFloor) => &area.soil,
            _ => return None,
        };
        let _ = (ask.read(&area.here, &area.kind), ask.read(&area.here, &area.space));
        let laid =
            ask.statement(entry.want(&area.here), |ask| level_near(ask, &area.here, entry, &Near::default()));
        (!entry.is_missing()).then_some(laid)
    });
    let found = if record.floor.is_missing() {
        laid.into_iter().collect()
    } else {
        once(stated).chain(laid).collect()
    };
    let what = |ask: &Ask<'_>| format!("the height of the floor of {}", ask.things().name(space));
    settle(ask, what, Dimension::LENGTH, found, || want)
}

/// The height of the ceiling of a space; written alone it is counted from the floor of that space.
pub(super) fn ceiling_of(ask: &mut Ask<'_>, space: Thing) -> Answer<Number> {
    let Some(SpaceMember::Named(_, record)) = ask.things().space(space) else {
        return ask.cannot(space, "the open air has no ceiling");
    };
    let (here, entry) = (&record.here, &record.ceiling);
    ask.value(here, entry).then(|level| {
        let mut found = Vec::new();
        for above_floor in [&level.z, &level.above_floor] {
            found.extend(counted(ask, &level.here, above_floor, |ask| floor_of(ask, space), true));
        }
        found.extend(by_ground_and_roof(ask, here, level, &Near::default()));
        let what = |ask: &Ask<'_>| format!("the height of the ceiling of {}", ask.things().name(space));
        settle(ask, what, Dimension::LENGTH, found, || entry.want(here))
    })
}
