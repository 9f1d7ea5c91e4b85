//! Where the suction points of an area draw on the layer: in pits, and how wide these are; along drains, and where these run. What draws
//! from a block wall has a page of its own, [`super::hollow_walls`].

use crate::base::number::Number;
use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::calc::amounts::{Amount, Length, Volume};
use crate::calc::geometry::PlanPoint;
use crate::design::model::drainage::InOrOut;
use crate::design::model::foundation::Area;
use crate::design::model::suction::{SuctionKind, SuctionPoint};
use crate::facts::ask::Ask;
use crate::facts::catalogue::Entries;
use crate::facts::foundation::area as in_area;
use crate::facts::kinds::Kind;
use crate::facts::suction::point;
use crate::facts::within;

use super::bounds::stretches_in;
use super::{Draw, Stretch, cannot_of};

/// What the pits are read from, but for their places.
pub(in crate::facts) const PITS: Entries = &[
    "systems",
    "systems.*.suction_points",
    "systems.*.suction_points.*.in",
    "systems.*.suction_points.*.kind",
    "systems.*.suction_points.*.pit",
    "systems.*.suction_points.*.pit.width",
    "systems.*.suction_points.*.pit.volume",
    "systems.*.suction_points.*.hole",
    "systems.*.suction_points.*.hole.width",
    "systems.*.suction_points.*.perforated",
    "systems.*.suction_points.*.inlet",
    "systems.*.suction_points.*.inlet.kind",
    "systems.*.suction_points.*.inlet.length",
    "systems.*.suction_points.*.sump",
    "systems.*.suction_points.*.drain_loop",
    "systems.*.suction_points.*.collector",
    "systems.*.suction_points.*.wall",
    "foundation.walls",
    "foundation.walls.*.line",
    "foundation.walls.*.line.**",
    "foundation.walls.*.side",
    "foundation.walls.*.length",
    "foundation.walls.*.height",
    "foundation.walls.*.top",
    "foundation.walls.*.holes",
    "foundation.walls.*.holes_closed",
    "foundation.walls.*.coated_inside",
    "foundation.areas",
    "foundation.areas.*.in",
    "foundation.areas.*.collectors.*.line",
    "foundation.areas.*.collectors.*.line.**",
    "foundation.drain_loops",
    "foundation.drain_loops.*.side",
    "foundation.drain_loops.*.closed",
    "foundation.drain_loops.*.line",
    "foundation.drain_loops.*.line.**",
    "foundation.sumps",
    "foundation.sumps.*.width",
];

/// Where the suction points of an area draw, of all systems.
pub(super) fn draws_of(ask: &mut Ask<'_>, area: Thing) -> Answer<Vec<Draw>> {
    ask.several(area, "suction_points").then(|points| {
        if !points.open.is_empty() {
            return Answer::Unknown(points.open);
        }
        let mut draws = Vec::new();
        for it in points.items {
            draws.push(draw(ask, it, area));
        }
        Answer::all(draws).map(|draws| draws.into_iter().flatten().collect())
    })
}

/// Where a suction point draws; nothing where it draws on something else than the layer.
fn draw(ask: &mut Ask<'_>, it: Thing, area: Thing) -> Answer<Option<Draw>> {
    point(ask, it, |ask, record| {
        ask.value(&record.here, &record.kind).then(|kind| {
            let radius = match kind {
                SuctionKind::Slab => of_slab(ask, record),
                SuctionKind::Membrane => of_pipe(ask, it),
                SuctionKind::Sump => of_sump(ask, record),
                SuctionKind::Crawlspace | SuctionKind::Outdoors => return Answer::known(None),
                SuctionKind::DrainLoop | SuctionKind::Collector => {
                    let drains = drains(ask, record, *kind, area);
                    return drains.map(|drains| Some(Draw { point: it, pit: None, drains, cores: None }));
                }
                SuctionKind::BlockWall => return super::hollow_walls::draw(ask, it, record, area),
            };
            let at = in_area(ask, area, |ask, area| place(ask, it, record, *kind, area));
            radius.both(at).map(|(radius, at)| {
                Some(Draw { point: it, pit: Some((at, radius)), drains: Vec::new(), cores: None })
            })
        })
    })
}

/// The drains along which a suction point draws: the loop or the collector it names, by the line on the plan. A loop inside the footing
/// that closes on itself runs along the edge.
fn drains<'d>(
    ask: &mut Ask<'d>,
    record: &'d SuctionPoint,
    kind: SuctionKind,
    area: Thing,
) -> Answer<Vec<Stretch>> {
    let found = if kind == SuctionKind::DrainLoop {
        let want = record.drain_loop.want(&record.here);
        let foundation = &ask.design().foundation;
        let _ = ask.read(&foundation.here, &foundation.drain_loops);
        ask.value(&record.here, &record.drain_loop).then(|name| {
            let Some(drain_loop) = foundation.drain_loops.thing(name.as_str()) else {
                return Answer::missing(want);
            };
            let inside =
                ask.read(&drain_loop.here, &drain_loop.side).value().flatten() == Some(&InOrOut::Inside);
            let closed = ask.read(&drain_loop.here, &drain_loop.closed).value().flatten() == Some(&true);
            if drain_loop.line.is_missing() && inside && closed {
                ask.assume(
                    "a drain loop inside the footing that closes on itself runs along the edge of its area",
                );
                return in_area(ask, area, within::outline)
                    .map(|outline| outline.sides().map(|(from, to)| (from.clone(), to.clone())).collect());
            }
            ask.value(&drain_loop.here, &drain_loop.line)
                .then(|line| in_area(ask, area, |ask, area| stretches_in(ask, area, line)))
        })
    } else {
        let want = record.collector.want(&record.here);
        ask.value(&record.here, &record.collector).then(|name| {
            let collector =
                ask.things().collectors.iter().find(|it| it.name == name.as_str()).map(|it| it.it);
            match collector {
                Some(collector) => ask
                    .value(&collector.here, &collector.line)
                    .then(|line| in_area(ask, area, |ask, area| stretches_in(ask, area, line))),
                None => Answer::missing(want),
            }
        })
    };
    if matches!(found, Answer::Known { .. }) {
        ask.assume(
            "gas crosses a hand's breadth, a tenth of a metre, of fill on its way into a drain or collector",
        );
    }
    found
}

/// The place of a pit: that of its suction point, or that of the sump through whose lid it draws.
fn place<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    record: &'d SuctionPoint,
    kind: SuctionKind,
    area: &'d Area,
) -> Answer<PlanPoint> {
    if kind == SuctionKind::Sump {
        let named = ask.value(&record.here, &record.sump).value().map(|name| name.as_str().to_owned());
        let sump = named.and_then(|name| ask.things().named(Kind::Sump, None, &name));
        if let Some(sump) = sump
            && let Answer::Known { value, doubts } = within::plan(ask, sump, area)
        {
            return Answer::Known { value, doubts };
        }
    }
    within::plan(ask, it, area)
}

fn length(ask: &Ask<'_>, it: Thing, si: f64) -> Answer<Length> {
    match Length::from_si(si) {
        Some(length) => Answer::known(length),
        None => ask.cannot(it, "it is too wide"),
    }
}

fn half(number: &Number) -> Option<Length> {
    Length::from_si(0.5 * number.to_f64_mid())
}

/// The radius of a pit under a slab: half its width; by its volume, that of half a ball; without a pit, half the hole.
fn of_slab<'d>(ask: &mut Ask<'d>, record: &'d SuctionPoint) -> Answer<Length> {
    let here = &record.here;
    let halved = |of: Answer<Number>| {
        of.then(|number| match half(&number) {
            Some(length) => Answer::known(length),
            None => cannot_of(record.pit.want(here), "it is too wide"),
        })
    };
    if record.pit.is_none() {
        let _ = ask.read(here, &record.pit);
        return halved(ask.quantity_inside(here, &record.hole, "width", |hole| (&hole.here, &hole.width)));
    }
    let width = ask.quantity_inside(here, &record.pit, "width", |pit| (&pit.here, &pit.width));
    if let Answer::Known { .. } = width {
        return halved(width);
    }
    ask.quantity_inside(here, &record.pit, "volume", |pit| (&pit.here, &pit.volume)).then(|volume| {
        ask.assume("a pit of which only the volume is stated is hollowed out as half a ball");
        let ball = Volume::from_number(&volume).map(|volume| volume.to_si() * 1.5 / std::f64::consts::PI);
        match ball.and_then(|cube| Length::from_si(cube.cbrt())) {
            Some(length) => Answer::known(length),
            None => cannot_of(record.pit.want(here), "it is too large"),
        }
    })
}

/// A pipe with holes that lies in the layer draws like a round pit of a quarter of its length in radius: so much is the
/// logarithmic capacity of a stretch.
fn of_pipe(ask: &mut Ask<'_>, it: Thing) -> Answer<Length> {
    let long = ask.number(it, "perforated");
    long.then(|long| length(ask, it, 0.25 * long.to_f64_mid()))
}

/// The radius of a sump.
fn of_sump<'d>(ask: &mut Ask<'d>, record: &'d SuctionPoint) -> Answer<Length> {
    let foundation = &ask.design().foundation;
    let want = record.sump.want(&record.here);
    let _ = ask.read(&foundation.here, &foundation.sumps);
    ask.value(&record.here, &record.sump).then(|name| {
        let Some(sump) = foundation.sumps.thing(name.as_str()) else { return Answer::missing(want.clone()) };
        ask.quantity(&sump.here, &sump.width).then(|width| match half(&width) {
            Some(length) => Answer::known(length),
            None => cannot_of(sump.width.want(&sump.here), "it is too wide"),
        })
    })
}
