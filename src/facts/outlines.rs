//! Outlines and boxes from the corners of the file.

use crate::base::number::Ratio;
use crate::base::value::{Answer, Missing, Reason};
use crate::calc::geometry::{Block, InvalidOutline, Outline, PlanPoint, Point};
use crate::yaml::entry::{Entry, Here, ListOf};
use crate::yaml::shape;

use super::ask::Ask;
use super::statements::half_step;

/// Why corners make no outline, in a person's words.
fn in_words(why: InvalidOutline) -> String {
    match why {
        InvalidOutline::TooFewCorners => "an outline has at least three corners".to_owned(),
        InvalidOutline::TooManyCorners => "the outline has too many corners".to_owned(),
        InvalidOutline::CornerTwice(a, b) => format!("corner {} and corner {} are the same", a + 1, b + 1),
        InvalidOutline::TurnsBack(at) => format!("the outline turns back on itself at corner {}", at + 1),
        InvalidOutline::SidesMeet(a, b) => {
            format!(
                "the side after corner {} meets the side after corner {}; corners stand in the order in which one walks along the walls",
                a + 1,
                b + 1
            )
        }
    }
}

/// How closely the corners of an outline are written: half the last fraction of the coarsest.
pub(super) fn slack_in_plan(entry: &Entry<ListOf<shape::PlanPoint>>) -> Ratio {
    entry.members().flat_map(|point| [half_step(&point.x), half_step(&point.y)]).max().unwrap_or_default()
}

/// How closely corners are written: half the last fraction of the coarsest.
pub(super) fn slack(entry: &Entry<ListOf<shape::Point>>) -> Ratio {
    let of = |point: &shape::Point| [half_step(&point.x), half_step(&point.y), half_step(&point.z)];
    entry.members().flat_map(of).max().unwrap_or_default()
}

/// The outline whose corners an entry lists. A corner known only within bounds gives no outline.
pub(super) fn outline<'d>(
    ask: &mut Ask<'d>,
    of: &'d Here,
    entry: &'d Entry<ListOf<shape::PlanPoint>>,
) -> Answer<Outline> {
    let want = entry.want(of);
    ask.value(of, entry).then(|list| {
        let corners =
            list.all().then(|corners| Answer::all(corners.into_iter().map(shape::PlanPoint::coordinates)));
        corners.then(|corners| {
            let exact: Option<Vec<PlanPoint>> = corners
                .iter()
                .map(|(x, y)| Some(PlanPoint::new(x.as_exact()?.clone(), y.as_exact()?.clone())))
                .collect();
            match exact.map(Outline::new) {
                Some(Ok(outline)) => Answer::known(outline),
                Some(Err(why)) => {
                    Answer::missing(Missing { reason: Reason::NotComputable(in_words(why)), ..want })
                }
                None => Answer::missing(Missing { reason: Reason::Imprecise, ..want }),
            }
        })
    })
}

/// A box whose corners are each known within bounds: inside the one and around the other for certain.
#[derive(Clone, Debug)]
pub(super) struct Bounds {
    /// The low corner, as the least and the most it can be along each axis.
    pub(super) low: [(Ratio, Ratio); 3],
    /// The high corner, likewise.
    pub(super) high: [(Ratio, Ratio); 3],
}

impl Bounds {
    /// The box itself, when its corners are known exactly.
    pub(super) fn exact(&self) -> Option<Block> {
        let at = |corner: &[(Ratio, Ratio); 3]| {
            let [(x, x1), (y, y1), (z, z1)] = corner;
            (x == x1 && y == y1 && z == z1).then(|| Point::new(x.clone(), y.clone(), z.clone()))
        };
        Some(Block::between(&at(&self.low)?, &at(&self.high)?))
    }
}

/// The box around the corners that an entry lists: two opposite ones, or all.
pub(super) fn bounds<'d>(
    ask: &mut Ask<'d>,
    of: &'d Here,
    entry: &'d Entry<ListOf<shape::Point>>,
) -> Answer<Bounds> {
    let want = entry.want(of);
    ask.value(of, entry).then(|list| {
        let corners =
            list.all().then(|corners| Answer::all(corners.into_iter().map(shape::Point::coordinates)));
        corners.then(|corners| {
            let axis = |pick: fn(
                &(crate::base::number::Number, crate::base::number::Number, crate::base::number::Number),
            ) -> &crate::base::number::Number| {
                let ends: Vec<(Ratio, Ratio)> = corners.iter().map(|corner| pick(corner).bounds()).collect();
                let lows = (ends.iter().map(|(low, _)| low).min()?, ends.iter().map(|(_, high)| high).min()?);
                let highs =
                    (ends.iter().map(|(low, _)| low).max()?, ends.iter().map(|(_, high)| high).max()?);
                Some(((lows.0.clone(), lows.1.clone()), (highs.0.clone(), highs.1.clone())))
            };
            let (Some(x), Some(y), Some(z)) = (axis(|c| &c.0), axis(|c| &c.1), axis(|c| &c.2)) else {
                return Answer::missing(want);
            };
            if corners.len() < 2 {
                let reason = Reason::NotComputable("it takes at least two opposite corners".to_owned());
                return Answer::missing(Missing { reason, ..want });
            }
            let value = Bounds { low: [x.0, y.0, z.0], high: [x.1, y.1, z.1] };
            let doubts = match value.exact() {
                Some(_) => Vec::new(),
                None => vec![Missing { reason: Reason::Imprecise, ..want }],
            };
            Answer::Known { value, doubts }
        })
    })
}
