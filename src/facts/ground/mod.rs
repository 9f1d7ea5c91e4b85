//! The ground under an area: what bounds it, what pulls on it, and what is known of the layer that gas flows along.
//!
//! Nothing here is a default. What lies where is read from the file or is missing; only how freely fill and cover let gas pass
//! may be assumed, as a range, and every such assumption is noted. Whatever is worked out of the ground is worked out at the
//! ends of what is known of it, so that a number is a range that holds all that can be.

mod bounds;
mod layer;
mod pits;

use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::amounts::{Amount, Conductance, Length, Pressure};
use crate::calc::field::{Field, Fill, NoField, Pit, Pull, work_out};
use crate::calc::geometry::{Outline, PlanPoint};
use crate::calc::soil::assumed::Ends;
use crate::calc::soil::ground::Layer;

use super::ask::Ask;

pub(super) use bounds::BOUNDS;
pub(super) use layer::{LAYER, air_of_soil};
pub(super) use pits::PITS;

/// A pit in the ground.
#[derive(Clone, Debug)]
pub(super) struct Hollow {
    /// The suction point.
    pub(super) point: Thing,
    /// Its middle.
    pub(super) at: PlanPoint,
    /// Its radius.
    pub(super) radius: Length,
}

/// A stretch of footing in the fill.
pub(super) type Stretch = (PlanPoint, PlanPoint);

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
    /// The pits of all systems.
    pub(super) pits: Vec<Hollow>,
    /// The layer at the ends of what is known of it.
    pub(super) layers: Ends,
}

/// Which footings are taken to keep gas back.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Footings {
    /// Those that do for certain.
    Sure,
    /// Those that may as well.
    All,
}

impl Ground {
    /// The width of the cells: some four hundred of them.
    ///
    /// Held against cells a quarter as wide, on rectangles and an L with a pit in the middle, off it and near a corner, for reaches of 1 m
    /// to 100 m: no suction was off by more than 0.5 % of the pit's, no conductance by more than 1 %.
    fn step(&self) -> Option<Length> {
        let all = self.outline.area().to_f64() - self.holes.iter().map(|it| it.area().to_f64()).sum::<f64>();
        Length::from_si((all / 400.0).sqrt().clamp(0.01, 10.0))
    }

    /// The fill with a layer, its pits pulling so.
    fn fill(&self, layer: Layer, footings: Footings, pulls: &[Pull]) -> Fill {
        let mut barriers = self.barriers.clone();
        if footings == Footings::All {
            barriers.extend(self.doubtful.iter().cloned());
        }
        let pits = self.pits.iter().zip(pulls);
        Fill {
            outline: self.outline.clone(),
            holes: self.holes.clone(),
            barriers,
            layer,
            lines: Vec::new(),
            pits: pits
                .map(|(pit, pull)| Pit { at: pit.at.clone(), radius: pit.radius, pull: *pull })
                .collect(),
        }
    }

    /// The field of a layer, its pits pulling so.
    pub(super) fn field(
        &self,
        ask: &Ask<'_>,
        area: Thing,
        layer: Layer,
        footings: Footings,
        pulls: &[Pull],
    ) -> Answer<Field> {
        let Some(step) = self.step() else { return ask.cannot(area, "its outline is too large") };
        match work_out(&self.fill(layer, footings, pulls), step) {
            Ok(field) => Answer::known(field),
            Err(why) => self.no_field(ask, area, &why),
        }
    }

    /// Why there is no field, in a person's words.
    fn no_field<T>(&self, ask: &Ask<'_>, area: Thing, why: &NoField) -> Answer<T> {
        let called = |at: &usize| {
            self.pits.get(*at).map_or_else(|| "a pit".to_owned(), |pit| ask.things().name(pit.point))
        };
        let missing = |at: &usize, why: String| match self.pits.get(*at) {
            Some(pit) => Answer::missing(ask.of_thing(pit.point, Reason::NotComputable(why))),
            None => ask.cannot(area, &why),
        };
        match why {
            NoField::PitOutside(at) => missing(at, format!("{} is not within the area", called(at))),
            NoField::PitsTouch(one, other) => {
                missing(other, format!("the pits of {} and {} touch", called(one), called(other)))
            }
            NoField::OutOfRange(range) => {
                ask.cannot(area, &format!("{} is beyond what can be worked out", range.what))
            }
            NoField::NotConverged => ask.cannot(area, "its field could not be solved"),
        }
    }
}

/// The ground under an area.
pub(super) fn ground_of(ask: &mut Ask<'_>, area: Thing) -> Answer<Ground> {
    ask.between("ground", area, |ask| {
        let bounds = bounds::bounds_of(ask, area);
        let pits = pits::pits_of(ask, area);
        let layers = layer::layers_of(ask, area);
        bounds.both(pits).both(layers).map(|((bounds, pits), layers)| Ground {
            outline: bounds.outline,
            holes: bounds.holes,
            barriers: bounds.barriers,
            doubtful: bounds.doubtful,
            pits,
            layers,
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
        let pits = pits::pits_of(ask, area);
        if matches!(&pits, Answer::Known { value, .. } if value.is_empty()) {
            return pits.map(|_| Conductances { points: Vec::new(), low: Vec::new(), high: Vec::new() });
        }
        ground_of(ask, area).then(|ground| {
            let one =
                Pressure::from_si(1.0).map_or(Vec::new(), |one| vec![Pull::Suction(one); ground.pits.len()]);
            let by = |layer: Layer, footings: Footings| {
                ground.field(ask, area, layer, footings, &one).then(|field| match field.conductances() {
                    Ok(by) => Answer::known(by),
                    Err(why) => ground.no_field(ask, area, &why),
                })
            };
            let low = by(ground.layers.least, Footings::All);
            let high = by(ground.layers.most, Footings::Sure);
            let points = ground.pits.iter().map(|pit| pit.point).collect();
            low.both(high).map(|(low, high)| {
                let all = |by: &[Vec<Conductance>]| by.iter().flatten().map(|by| by.to_si()).sum::<f64>();
                let (low, high) = if all(&low) <= all(&high) { (low, high) } else { (high, low) };
                Conductances { points, low, high }
            })
        })
    })
}

/// What is missing where something cannot be worked out of an entry.
fn cannot_of<T>(want: Missing, why: &str) -> Answer<T> {
    Answer::missing(Missing { reason: Reason::NotComputable(why.to_owned()), ..want })
}
