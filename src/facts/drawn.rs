//! What a drawing asks of a design: where its things lie, and the suction under its floors. No rule can ask these.

use crate::base::number::Number;
use crate::base::value::{Answer, Missing};
use crate::base::vocabulary::Thing;
use crate::calc::amounts::{Amount, Pressure};
use crate::calc::geometry::{Outline, PlanPoint};
use crate::design::model::foundation::Area;
use crate::design::model::openings::Opening;
use crate::design::model::pipe::Run;
use crate::design::model::place::{Level, Line, Place, Side};
use crate::design::model::suction::SuctionPoint;
use crate::yaml::entry::{Entry, Here, ListOf};
use crate::yaml::shape;

use super::ask::Ask;
use super::kinds::Kind;
use super::places::{self, Along};
use super::things::kind_of;
use super::{field, heights, lies, outlines, walls, within};

/// Where something stands, each coordinate as far as it can be told.
#[derive(Clone, Debug)]
pub struct Stands {
    /// East of the origin.
    pub east: Answer<Number>,
    /// North of the origin.
    pub north: Answer<Number>,
    /// Above the origin.
    pub up: Answer<Number>,
}

impl Stands {
    fn of(mut along: impl FnMut(Along) -> Answer<Number>) -> Self {
        Stands { east: along(Along::East), north: along(Along::North), up: along(Along::Up) }
    }
}

/// Where a fan, a discharge, a suction point, a sump, a drain or a test hole stands, or where a run ends.
pub fn stands(ask: &mut Ask<'_>, it: Thing) -> Stands {
    Stands::of(|along| places::coordinate(ask, it, along))
}

/// Where something stands of which no fact speaks: a valve, a gauge, a disconnect.
pub fn stands_by_place<'d>(
    ask: &mut Ask<'d>,
    of: &'d Here,
    place: &'d Entry<Place>,
    area: Option<&str>,
) -> Stands {
    Stands::of(|along| places::of_the_rest(ask, "it", of, place, None, area, along))
}

/// The way of a run: where it begins, the points between that are written down, and where it ends.
pub fn way(ask: &mut Ask<'_>, it: Thing) -> Vec<Stands> {
    let mut way = vec![Stands::of(|along| places::run_start(ask, it, along))];
    let points: Vec<&shape::Point> = run(ask, it).into_iter().flat_map(|run| run.points.members()).collect();
    for point in points.iter().skip(1).take(points.len().saturating_sub(2)) {
        way.push(Stands::of(|along| places::point_coordinate(ask, point, along)));
    }
    way.push(stands(ask, it));
    way
}

/// What is written of a run.
#[must_use]
pub fn run<'d>(ask: &Ask<'d>, it: Thing) -> Option<&'d Run> {
    ask.things().runs.get(it.number as usize).map(|run| run.it)
}

/// What is written of an area.
#[must_use]
pub fn area<'d>(ask: &Ask<'d>, it: Thing) -> Option<&'d Area> {
    ask.things().areas.get(it.number as usize).map(|area| area.it)
}

/// What is written of a suction point.
#[must_use]
pub fn suction_point<'d>(ask: &Ask<'d>, it: Thing) -> Option<&'d SuctionPoint> {
    ask.things().suction_points.get(it.number as usize).map(|point| point.it)
}

/// What is written of an opening of the building or of a neighbour.
#[must_use]
pub fn opening<'d>(ask: &Ask<'d>, it: Thing) -> Option<&'d Opening> {
    let at = it.number as usize;
    match kind_of(it)? {
        Kind::Opening => ask.things().openings.get(at).map(|opening| opening.it),
        Kind::NeighbourOpening => ask.things().neighbour_openings.get(at).map(|opening| opening.it),
        _ => None,
    }
}

/// The outline of an area inside its walls.
pub fn outline(ask: &mut Ask<'_>, it: Thing) -> Answer<Outline> {
    match area(ask, it) {
        Some(area) => walls::outline_of(ask, area),
        None => ask.cannot(it, "it is not in the file"),
    }
}

/// The outline of an area of which the size is known and not where on the site it lies, put with its south-west corner
/// at a place. Nothing for any other.
pub fn outline_apart(ask: &mut Ask<'_>, it: Thing, corner: &PlanPoint) -> Option<Outline> {
    let area = area(ask, it)?;
    within::alone(ask, area).then_some(())?;
    walls::outline_at(corner, area.size.known()?)
}

/// Where a suction point, a sump or a test hole lies in such an area, east and north of its south-west corner.
pub fn stands_apart(ask: &mut Ask<'_>, it: Thing, of: Thing) -> Option<PlanPoint> {
    let area = area(ask, of)?;
    within::plan(ask, it, area).value()
}

/// The height of the floor of an area: the top of its slab, or its soil.
pub fn area_level(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let Some(area) = area(ask, it) else { return ask.cannot(it, "it is not in the file") };
    let entry = if area.top.is_missing() { &area.soil } else { &area.top };
    heights::level_near(ask, &area.here, entry, &heights::Near::default())
}

/// The outline whose corners an entry lists.
pub fn listed_outline<'d>(
    ask: &mut Ask<'d>,
    of: &'d Here,
    entry: &'d Entry<ListOf<shape::PlanPoint>>,
) -> Answer<Outline> {
    outlines::outline(ask, of, entry)
}

/// The points of a line on the plan.
pub fn line(of: &Here, entry: &Entry<Line>) -> Answer<Vec<PlanPoint>> {
    match entry.known() {
        Some(line) => points(line),
        None => Answer::missing(entry.want(of)),
    }
}

/// The points of a line on the plan that is written down.
pub fn points(line: &Line) -> Answer<Vec<PlanPoint>> {
    let want = || -> Missing { line.points.want(&line.here) };
    let points: Option<Vec<PlanPoint>> = line
        .points
        .members()
        .map(|point| {
            let (x, y) = point.coordinates().value()?;
            Some(PlanPoint::new(x.as_exact()?.clone(), y.as_exact()?.clone()))
        })
        .collect();
    match points {
        Some(points) if points.len() > 1 => Answer::known(points),
        _ => Answer::missing(want()),
    }
}

/// Where the edges of an opening or intake lie: the lesser and the greater coordinate east, north and up.
pub fn edges(ask: &mut Ask<'_>, it: Thing) -> Option<[(Answer<Number>, Answer<Number>); 3]> {
    let lies = lies::lies(ask, it)?;
    let edges = lies.edges?;
    let mut both = |along| {
        let low = lies::edge(ask, it, &lies, &edges, along, false);
        (low, lies::edge(ask, it, &lies, &edges, along, true))
    };
    Some([both(Along::East), both(Along::North), both(Along::Up)])
}

/// The side of the building on which something is, as stated.
#[must_use]
pub fn side_of_discharge(ask: &Ask<'_>, it: Thing) -> Option<Side> {
    ask.things().discharges.get(it.number as usize)?.it.side.known().copied()
}

/// The heights of the lowest and the highest finished ground.
pub fn ground(ask: &mut Ask<'_>) -> Answer<(Number, Number)> {
    heights::all_ground(ask).map(|ground| (ground.lowest, ground.highest))
}

/// The heights of the lowest and the highest edge of the roof.
pub fn roof_edges(ask: &mut Ask<'_>) -> Answer<(Number, Number)> {
    heights::all_edges(ask).map(|edges| (edges.lowest, edges.highest))
}

/// A height that is written down of something, by itself.
pub fn level<'d>(ask: &mut Ask<'d>, of: &'d Here, entry: &'d Entry<Level>) -> Answer<Number> {
    heights::level_near(ask, of, entry, &heights::Near::default())
}

/// The height of the ridge.
pub fn ridge(ask: &mut Ask<'_>) -> Answer<Number> {
    heights::ridge(ask)
}

/// The height of the floor of a space.
pub fn floor(ask: &mut Ask<'_>, space: Thing) -> Answer<Number> {
    heights::floor_of(ask, space)
}

/// A part of an area with the suction under it.
#[derive(Clone, Debug)]
pub struct Shade {
    /// Its south-west corner, in metres.
    pub low: PlanPoint,
    /// Its north-east corner.
    pub high: PlanPoint,
    /// The least suction that what is known of the ground allows in its middle.
    pub least: Number,
}

/// The suction under an area.
#[derive(Clone, Debug)]
pub struct Shading {
    /// Its parts, row by row.
    pub parts: Vec<Shade>,
    /// Whether a communication test told what the ground is like.
    pub tested: bool,
}

/// The least suction that what is known of the ground allows, all over an area.
pub fn shading(ask: &mut Ask<'_>, it: Thing) -> Answer<Shading> {
    field::least_all_over(ask, it).map(|(parts, tested)| {
        let shade = |(low, high, least): (PlanPoint, PlanPoint, Pressure)| Shade {
            low,
            high,
            least: least.to_number(),
        };
        Shading { parts: parts.into_iter().map(shade).collect(), tested }
    })
}
