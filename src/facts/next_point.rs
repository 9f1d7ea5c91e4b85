//! The field the other way round: where a next suction point would help an area most.

use std::rc::Rc;

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::calc::amounts::{Amount, Length, Pressure};
use crate::calc::field::Field;
use crate::calc::geometry::PlanPoint;
use crate::calc::soil::ground::Layer;

use super::ask::Ask;
use super::catalogue::{Fact, Get};
use super::field::{FIELD, LEAKY, hull};
use super::foundation::area;
use super::ground::{Beside, Draw, Ground, ground_of};
use super::kinds::Kind;
use super::walls::outline_of;

/// A next suction point.
#[derive(Clone, Debug)]
struct Next {
    at: PlanPoint,
    /// The suction at the weakest place with it.
    weakest: Number,
}

/// The radius of the pit of a next suction point, in metres: one that is dug by hand.
const PIT: f64 = 0.15;

/// Places are tried on a grid of so many by so many, then half a step round the best.
const PLACES: i64 = 4;

/// The place of the next point at which the weakest place has most.
///
/// # Meaning
/// Where a further pit in the area helps its weakest place most, and what suction that place then has.
/// # Formula
/// The field of the leaky layer with one more pit, held at the least suction of those that are there; at places on a grid over the
/// outline, and about the best of them once more on half the grid.
/// # Valid for
/// Areas whose field can be worked out.
/// # Accuracy
/// The place to an eighth of the width of the area, by the layer in which suction carries least far; the suction as a range.
/// # Source
/// Leaky-layer flow (Jacob 1946).
/// # Errors
/// As the field; where no further pit has room.
/// # Example
/// A point near one end of a long slab: the next helps most near the other end.
fn next(ask: &mut Ask<'_>, area: Thing) -> Answer<Rc<Next>> {
    ask.between("next_point", area, |ask| {
        ground_of(ask, area).then(|ground| {
            let mut suctions = Vec::new();
            for draw in &ground.draws {
                suctions.push(ask.number(draw.point, "worked_suction"));
            }
            let Some(first) = ground.draws.first().map(|draw| draw.point) else {
                return ask.cannot(area, "no suction point draws on what lies under it");
            };
            Answer::all(suctions).then(|suctions| {
                ask.assume(
                    "a next suction point has the least suction of those that are there, which keep theirs, and a pit a foot (0.3 m) wide",
                );
                let looked = Looked { ground: &ground, suctions: &suctions, first };
                match looked.best(ask, area) {
                    Some(next) => Answer::known(Rc::new(next)),
                    None => ask.cannot(area, "no place for a further pit could be worked out"),
                }
            })
        })
    })
}

/// The ground in which places are looked at.
struct Looked<'g> {
    ground: &'g Ground,
    suctions: &'g [Number],
    first: Thing,
}

impl Looked<'_> {
    fn best(&self, ask: &Ask<'_>, area: Thing) -> Option<Next> {
        let corners = self.ground.outline.corners();
        let ends = |of: fn(&PlanPoint) -> &Ratio| {
            Some((corners.iter().map(of).min()?, corners.iter().map(of).max()?))
        };
        let ((west, east), (south, north)) = (ends(|corner| &corner.x)?, ends(|corner| &corner.y)?);
        // in halves of a step
        let count = Ratio::from(2 * PLACES);
        let along = |from: &Ratio, to: &Ratio, halves: i64| {
            Some(from + &(&(to - from) * &Ratio::from(halves)).checked_div(&count)?)
        };
        let place = |(x, y): (i64, i64)| Some(PlanPoint::new(along(west, east, x)?, along(south, north, y)?));
        let weakest = |halves: (i64, i64)| -> Option<f64> {
            let at = place(halves)?;
            Some(
                self.field(ask, area, &at, (self.ground.layers.near, true), (false, true))?
                    .weakest()?
                    .suction
                    .to_si(),
            )
        };
        let better = |best: Option<((i64, i64), f64)>, halves: (i64, i64)| match (best, weakest(halves)) {
            (Some((_, most)), Some(found)) if found <= most => best,
            (_, Some(found)) => Some((halves, found)),
            (best, None) => best,
        };
        let grid = (0..PLACES).flat_map(|x| (0..PLACES).map(move |y| (2 * x + 1, 2 * y + 1)));
        let (x, y) = grid.fold(None, better)?.0;
        let about = [(0, 0), (1, 0), (-1, 0), (0, 1), (0, -1), (1, 1), (1, -1), (-1, 1), (-1, -1)];
        let best = about.iter().map(|(dx, dy)| (x + dx, y + dy)).fold(None, better)?.0;
        let at = place(best)?;
        let mut all = Vec::new();
        for end in [(self.ground.layers.near, true), (self.ground.layers.far, false)] {
            let walls: &[bool] = if end.1 || !self.ground.has_walls() { &[true] } else { &[false, true] };
            for beside in walls.iter().flat_map(|walls| [(false, *walls), (true, *walls)]) {
                all.push(Some(self.field(ask, area, &at, end, beside)?.weakest()?.suction.to_si()));
            }
        }
        Some(Next { at, weakest: hull(all.into_iter())? })
    }

    /// The field with one more pit: in the layer in which suction carries least far, with the least suctions and open joints, or in the
    /// other.
    fn field(
        &self,
        ask: &Ask<'_>,
        area: Thing,
        at: &PlanPoint,
        (layer, near): (Layer, bool),
        (footings, walls): (bool, bool),
    ) -> Option<Field> {
        let at_end = |number: &Number| {
            let (low, high) = number.to_f64_bounds();
            if near { low.max(0.0) } else { high.max(0.0) }
        };
        let mut held: Vec<f64> = self.suctions.iter().map(at_end).collect();
        let next = held.iter().copied().fold(f64::INFINITY, f64::min);
        for (suction, draw) in held.iter_mut().zip(&self.ground.draws) {
            // A hollow wall may bring no suction at all to the fill, as for the field without a further point.
            if near && draw.cores.is_some() {
                *suction = 0.0;
            }
        }
        held.push(next);
        let held: Vec<Pressure> = held.into_iter().filter_map(Pressure::from_si).collect();
        let mut ground = self.ground.clone();
        let radius = Length::from_si(PIT)?;
        ground.draws.push(Draw {
            point: self.first,
            pit: Some((at.clone(), radius)),
            drains: Vec::new(),
            cores: None,
        });
        match ground.field(ask, area, layer, Beside { footings, slits: near, walls }, &held) {
            Answer::Known { value, .. } => Some(value),
            // No pit has room there: outside of the fill, or on another.
            Answer::Unknown(_) => None,
        }
    }
}

const fn of_next(name: &'static str, meaning: &'static str, dimension: Dimension, get: Asked) -> Fact {
    Fact {
        of: Kind::Area,
        name,
        meaning,
        formula: "the field of the leaky layer with one more pit, at places over the outline; that at which the weakest place has most",
        source: LEAKY,
        needs: FIELD,
        get: Get::Estimate(dimension, get),
    }
}

/// The place of the next point on the plan of the site.
fn on_site(ask: &mut Ask<'_>, it: Thing) -> Answer<PlanPoint> {
    let outline = area(ask, it, outline_of);
    outline.both(next(ask, it)).map(|(_, next)| next.at.clone())
}

type Asked = fn(&mut Ask<'_>, Thing) -> Answer<Number>;

/// Facts of where a next suction point helps most.
pub(super) const NEXT: &[Fact] = &[
    of_next(
        "next_point_east",
        "How far east of the origin a next suction point helps the area most.",
        Dimension::LENGTH,
        |ask, it| on_site(ask, it).map(|at| Number::exact(at.x)),
    ),
    of_next(
        "next_point_north",
        "How far north of the origin a next suction point helps the area most.",
        Dimension::LENGTH,
        |ask, it| on_site(ask, it).map(|at| Number::exact(at.y)),
    ),
    of_next(
        "weakest_with_next",
        "The suction at the weakest place under the area with a next suction point where it helps most.",
        Dimension::PRESSURE,
        |ask, it| next(ask, it).map(|next| next.weakest.clone()),
    ),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::text::{Source, SourceId};
    use crate::calc::amounts::{Leakage, Transmissivity};
    use crate::calc::geometry::Outline;
    use crate::calc::soil::assumed::Ends;
    use crate::facts::things::thing;

    fn at(x: f64, y: f64) -> PlanPoint {
        PlanPoint::new(Ratio::from_f64(x).unwrap(), Ratio::from_f64(y).unwrap())
    }

    /// A strip of 18 m by 6 m in which suction carries 3 m, with a pit near its west end.
    fn strip() -> Ground {
        let along = Transmissivity::from_si(9e-5).unwrap();
        let layer = Layer { transmissivity: along, leakage: Leakage::from_si(1e-5).unwrap() };
        let pit = Some((at(2.25, 3.0), Length::from_si(0.15).unwrap()));
        Ground {
            outline: Outline::rectangle(&at(0.0, 0.0), &Ratio::from(18), &Ratio::from(6)).unwrap(),
            holes: Vec::new(),
            barriers: Vec::new(),
            doubtful: Vec::new(),
            draws: vec![Draw { point: thing(Kind::SuctionPoint, 0), pit, drains: Vec::new(), cores: None }],
            slits: Vec::new(),
            layers: Ends { near: layer, far: layer, least: layer, most: layer },
            tested: false,
        }
    }

    /// Suction falls off alike from pits that are alike, so the weakest place is the farthest from any. From a second pit in the
    /// middle of the width at x, the east corners are `sqrt((18 - x)^2 + 3^2)` away, and the walls half way between the pits
    /// `sqrt(((x - 2.25) / 2)^2 + 3^2)`. Of the places at eighths of the length: at 11.25 m 7.4 m and 5.4 m, at 13.5 m 5.4 m and
    /// 6.4 m, at 15.75 m 3.8 m and 7.4 m: least far at 13.5 m.
    #[test]
    fn in_a_long_strip_the_next_point_helps_most_where_no_place_is_far_from_both() {
        let text = "undercroft: 1\n";
        let tree = crate::yaml::scan::read(SourceId(0), text).0;
        let design = crate::design::read(&Source::new("a.yaml", text), &tree).0;
        let ask = Ask::new(&design);
        let ground = strip();
        let suctions = [Number::whole(100)];
        let area = thing(Kind::Area, 0);
        let looked = Looked { ground: &ground, suctions: &suctions, first: thing(Kind::SuctionPoint, 0) };
        let next = looked.best(&ask, area).unwrap();
        assert_eq!(next.at, at(13.5, 3.0));
        let held = [Pressure::from_si(100.0).unwrap()];
        let beside = Beside { footings: false, slits: false, walls: true };
        let alone = ground.field(&ask, area, ground.layers.near, beside, &held).value().unwrap();
        let before = alone.weakest().unwrap().suction.to_si();
        assert!(next.weakest.to_f64_bounds().0 > 5.0 * before, "{before} {:?}", next.weakest);
    }
}
