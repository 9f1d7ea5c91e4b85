//! The ground under an area: what bounds it, what pulls on it, and what is known of the layer that gas flows along.
//!
//! Nothing here is a default. What lies where is read from the file or is missing; only how freely fill and cover let gas pass
//! may be assumed, as a range, and every such assumption is noted. Whatever is worked out of the ground is worked out at the
//! ends of what is known of it, so that a number is a range that holds all that can be.

mod bounds;
mod hollow_walls;
mod layer;
mod pits;
mod tested;
#[cfg(test)]
mod tests;

use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::amounts::{Amount, Conductance, Length, LineLeakage, Pressure};
use crate::calc::field::{Field, Fill, Line, NoField, Pit, Pull, work_out};
use crate::calc::geometry::{Outline, PlanPoint};
use crate::calc::soil::assumed::Ends;
use crate::calc::soil::ground::Layer;

use super::ask::Ask;
use super::foundation::area as in_area;

pub(super) use bounds::{BOUNDS, gaps};
pub(super) use layer::LAYER;
pub(super) use pits::PITS;
pub(super) use tested::TESTS;

/// A stretch in plan.
pub(super) type Stretch = (PlanPoint, PlanPoint);

/// What leaks into the cores of a hollow wall for a unit of suction, through its faces and its top.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cores {
    /// At the least.
    pub(super) least: Conductance,
    /// At the most.
    pub(super) most: Conductance,
}

/// Where a suction point draws on the layer: in a pit, along drains, or along a hollow wall.
#[derive(Clone, Debug)]
pub(super) struct Draw {
    /// The suction point.
    pub(super) point: Thing,
    /// The middle of its pit, and its radius.
    pub(super) pit: Option<(PlanPoint, Length)>,
    /// Its drains, or where its wall runs along the fill.
    pub(super) drains: Vec<Stretch>,
    /// The cores of its wall.
    pub(super) cores: Option<Cores>,
}

impl Draw {
    /// The lines along which it draws, where walls pass gas to the fill or where they do not.
    fn lines(&self, beside: Beside) -> &[Stretch] {
        if self.cores.is_some() && !beside.walls { &[] } else { &self.drains }
    }
}

/// The ground under an area.
#[derive(Clone, Debug)]
pub(super) struct Ground {
    /// The edge of the fill.
    pub(super) outline: Outline,
    /// What is not fill.
    pub(super) holes: Vec<Outline>,
    /// Footings that keep gas back for certain.
    pub(super) barriers: Vec<Stretch>,
    /// Footings of which it is not known.
    pub(super) doubtful: Vec<Stretch>,
    /// Where suction points of all systems draw.
    pub(super) draws: Vec<Draw>,
    /// Open joints, with what they can let in at most. They may let in nothing more than the floor does anyhow.
    pub(super) slits: Vec<(Stretch, LineLeakage)>,
    /// The layer at the ends of what is known of it.
    pub(super) layers: Ends,
    /// Whether a communication test told it.
    pub(super) tested: bool,
}

/// What else than the layer is known of the ground only as either of two.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) struct Beside {
    /// Whether footings of which it is not known keep gas back.
    pub(super) footings: bool,
    /// Whether open joints let in as much as they can.
    pub(super) slits: bool,
    /// Whether gas passes between hollow walls under suction and the fill beside them.
    pub(super) walls: bool,
}

/// The width of the cells: some four hundred of them.
///
/// Held against cells a quarter as wide in a test of this module, for reaches of 1 m to 100 m: no suction is off by more than 1 % of the
/// pit's, no flow by more than 2 %. Ranges of what is assumed are a hundred times as wide, those of a test five times.
fn step_of(outline: &Outline, holes: &[Outline]) -> Option<Length> {
    let all = outline.area().to_f64() - holes.iter().map(|it| it.area().to_f64()).sum::<f64>();
    Length::from_si((all / 400.0).sqrt().clamp(0.01, 10.0))
}

impl Ground {
    /// The fill with a layer, its points held at these suctions.
    fn fill(&self, layer: Layer, beside: Beside, suctions: &[Pressure]) -> Fill {
        let mut barriers = self.barriers.clone();
        if beside.footings {
            barriers.extend(self.doubtful.iter().cloned());
        }
        let (mut pits, mut lines) = (Vec::new(), Vec::new());
        // gas crosses 0.1 m of fill on its way into a drain
        let into_drain = LineLeakage::from_si((layer.transmissivity.to_si() / 0.1).min(1.0));
        for (draw, suction) in self.draws.iter().zip(suctions) {
            if let Some((at, radius)) = &draw.pit {
                pits.push(Pit { at: at.clone(), radius: *radius, pull: Pull::Suction(*suction) });
            }
            for ((from, to), by) in draw.lines(beside).iter().zip(std::iter::repeat(into_drain)) {
                let by = by.map(|by| Line { from: from.clone(), to: to.clone(), by, suction: *suction });
                lines.extend(by);
            }
        }
        if beside.slits {
            let room = Pressure::from_si(0.0);
            for ((from, to), by) in &self.slits {
                let line = |suction| Line { from: from.clone(), to: to.clone(), by: *by, suction };
                lines.extend(room.map(line));
            }
        }
        Fill { outline: self.outline.clone(), holes: self.holes.clone(), barriers, layer, lines, pits }
    }

    /// The field of a layer, its points held at these suctions.
    pub(super) fn field(
        &self,
        ask: &Ask<'_>,
        area: Thing,
        layer: Layer,
        beside: Beside,
        suctions: &[Pressure],
    ) -> Answer<Field> {
        let Some(step) = step_of(&self.outline, &self.holes) else {
            return ask.cannot(area, "its outline is too large");
        };
        match work_out(&self.fill(layer, beside, suctions), step) {
            Ok(field) => Answer::known(field),
            Err(why) => self.no_field(ask, area, &why),
        }
    }

    /// What each point draws in a field: in its pit and along its drains.
    fn drawn(&self, field: &Field, beside: Beside) -> Vec<f64> {
        let mut pits = field.flows().into_iter();
        let mut lines = field.line_flows().into_iter();
        let each = self.draws.iter().map(|draw| {
            let pit = draw.pit.as_ref().and_then(|_| pits.next()).map_or(0.0, Amount::to_si);
            pit + lines.by_ref().take(draw.lines(beside).len()).map(Amount::to_si).sum::<f64>()
        });
        each.collect()
    }

    /// How the points hang together: what each draws while one of them is held at 1 Pa and the others at none. Between two, what one
    /// draws backward from the other; from the room, what it draws while all are alike.
    fn by(&self, ask: &Ask<'_>, area: Thing, layer: Layer, beside: Beside) -> Answer<Vec<Vec<Conductance>>> {
        let mut columns = Vec::new();
        for pulling in 0..self.draws.len() {
            let suctions: Vec<Pressure> = (0..self.draws.len())
                .filter_map(|at| Pressure::from_si(f64::from(u8::from(at == pulling))))
                .collect();
            match self.field(ask, area, layer, beside, &suctions) {
                Answer::Known { value, .. } => columns.push(self.drawn(&value, beside)),
                Answer::Unknown(missing) => return Answer::Unknown(missing),
            }
        }
        let entry = |a: usize, b: usize| {
            let of = |a: usize, b: usize| columns.get(b).and_then(|it| it.get(a)).copied().unwrap_or(0.0);
            0.5 * (of(a, b) + of(b, a))
        };
        let count = columns.len();
        let row = |a: usize| -> Option<Vec<Conductance>> {
            let own = |b: usize| if a == b { (0..count).map(|k| entry(a, k)).sum() } else { -entry(a, b) };
            (0..count).map(|b| Conductance::from_si(own(b).max(0.0))).collect()
        };
        match (0..count).map(row).collect() {
            Some(rows) => Answer::known(rows),
            None => ask.cannot(area, "its air is out of range"),
        }
    }

    /// How the points hang together, what leaks into walls from elsewhere than the fill added to what each has from the room.
    fn with_cores(
        &self,
        mut by: Vec<Vec<Conductance>>,
        of: fn(&Cores) -> Conductance,
    ) -> Vec<Vec<Conductance>> {
        for (at, (row, draw)) in by.iter_mut().zip(&self.draws).enumerate() {
            if let (Some(own), Some(cores)) = (row.get_mut(at), &draw.cores) {
                *own = Conductance::from_si((own.to_si() + of(cores).to_si()).min(1.0)).unwrap_or(*own);
            }
        }
        by
    }

    /// Whether a hollow wall is among what draws.
    pub(super) fn has_walls(&self) -> bool {
        self.draws.iter().any(|draw| draw.cores.is_some())
    }

    /// Why there is no field, in a person's words.
    fn no_field<T>(&self, ask: &Ask<'_>, area: Thing, why: &NoField) -> Answer<T> {
        let pits: Vec<Thing> = self.draws.iter().filter(|it| it.pit.is_some()).map(|it| it.point).collect();
        let called = |at: &usize| pits.get(*at).map_or_else(String::new, |it| ask.things().name(*it));
        let missing = |at: &usize, why: String| match pits.get(*at) {
            Some(point) => Answer::missing(ask.of_thing(*point, Reason::NotComputable(why))),
            None => ask.cannot(area, &why),
        };
        match why {
            NoField::PitOutside(at) => missing(at, format!("{} does not lie within its area", called(at))),
            NoField::PitsTouch(one, other) => {
                missing(other, format!("the pits of {} and {} touch", called(one), called(other)))
            }
            NoField::OutOfRange(range) => {
                ask.cannot(area, &format!("{} is beyond what can be worked out", range.what))
            }
            NoField::NotToldApart => ask.cannot(area, "its suction points cannot be told apart"),
            NoField::NotConverged { history } => {
                let why = format!(
                    "after {} rounds of reckoning its field still does not come out even",
                    history.len()
                );
                ask.cannot(area, &why)
            }
        }
    }
}

/// The ground under an area.
pub(super) fn ground_of(ask: &mut Ask<'_>, area: Thing) -> Answer<Ground> {
    ask.between("ground", area, |ask| {
        let bounds = bounds::bounds_of(ask, area);
        let draws = pits::draws_of(ask, area);
        bounds.both(draws).then(|(bounds, draws)| {
            in_area(ask, area, |ask, record| {
                let (layers, tested) = match tested::told(ask, area, record, &bounds) {
                    tested::Told::Layer(layers) => (layers, true),
                    tested::Told::Nothing(wanting) => (layer::layers_of(ask, area, wanting), false),
                };
                layers.map(|layers| Ground {
                    slits: if tested { Vec::new() } else { layer::slits(ask, area, record, &bounds.outline) },
                    outline: bounds.outline,
                    holes: bounds.holes,
                    barriers: bounds.barriers,
                    doubtful: bounds.doubtful,
                    draws,
                    layers,
                    tested,
                })
            })
        })
    })
}

/// How the suction points of an area hang together in its ground: of each with the room, and between each two. Points that draw on
/// something else than the layer are not among them.
#[derive(Clone, Debug)]
pub(super) struct Conductances {
    /// The points, in the order of rows and columns.
    pub(super) points: Vec<Thing>,
    /// In the ground that gives least air.
    pub(super) low: Vec<Vec<Conductance>>,
    /// In the ground that gives most.
    pub(super) high: Vec<Vec<Conductance>>,
}

/// The conductances of the ground under an area, at the ends of what is known of it.
pub(super) fn conductances(ask: &mut Ask<'_>, area: Thing) -> Answer<Conductances> {
    ask.between("conductances", area, |ask| {
        let draws = pits::draws_of(ask, area);
        if matches!(&draws, Answer::Known { value, .. } if value.is_empty()) {
            return draws.map(|_| Conductances { points: Vec::new(), low: Vec::new(), high: Vec::new() });
        }
        ground_of(ask, area).then(|ground| {
            let least = Beside { footings: true, slits: false, walls: false };
            let most = Beside { footings: false, slits: true, walls: true };
            let low = ground.by(ask, area, ground.layers.least, least);
            let high = ground.by(ask, area, ground.layers.most, most);
            let points = ground.draws.iter().map(|draw| draw.point).collect();
            low.both(high).map(|(low, high)| {
                let (low, high) = if ground.tested { in_order(low, high) } else { (low, high) };
                let low = ground.with_cores(low, |cores| cores.least);
                let high = ground.with_cores(high, |cores| cores.most);
                Conductances { points, low, high }
            })
        })
    })
}

/// What a test's two reaches give, the lesser first. Which reach gives less depends on how wide the pits are beside the hole of the
/// test; the air of the test is known to within its closeness at either.
fn in_order(
    one: Vec<Vec<Conductance>>,
    other: Vec<Vec<Conductance>>,
) -> (Vec<Vec<Conductance>>, Vec<Vec<Conductance>>) {
    let all = |by: &[Vec<Conductance>]| by.iter().flatten().map(|by| by.to_si()).sum::<f64>();
    let share = (1.0 + tested::READ) / (1.0 - tested::READ);
    if all(&one) * share <= all(&other) {
        return (one, other);
    }
    let times = |by: Vec<Vec<Conductance>>, share: f64| -> Vec<Vec<Conductance>> {
        let scaled = |it: Conductance| Conductance::from_si(it.to_si() * share).unwrap_or(it);
        by.into_iter().map(|row| row.into_iter().map(scaled).collect()).collect()
    };
    (times(other, 1.0 / share), times(one, share))
}

/// What is missing where something cannot be worked out of an entry.
fn cannot_of<T>(want: Missing, why: &str) -> Answer<T> {
    Answer::missing(Missing { reason: Reason::NotComputable(why.to_owned()), ..want })
}
