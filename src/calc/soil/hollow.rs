//! Walls of hollow block whose cores are held under suction: what leaks into the cores, as a range.
//!
//! The inner face leaks from the room, the outer one through the soil from the open air, an open top or hole from where it opens to.
//! What a test of the wall itself shows takes the place of all this.

use crate::base::number::{Number, Ratio};
use crate::calc::amounts::{Area, Conductance, Length, Made, OutOfRange, within};

/// What a face of the wall is known to be.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Face {
    /// Bare block.
    Bare,
    /// Coated.
    Coated,
    /// Either.
    Unsaid,
}

/// What the top of the cores is known to be.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Top {
    /// Closed.
    Closed,
    /// A plate lies over it.
    Plate,
    /// Open.
    Open,
    /// Any of these.
    Unsaid,
}

/// A hollow wall within bounds.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct HollowWall {
    /// Its least and greatest length.
    pub long: (Length, Length),
    /// Its least and greatest height.
    pub high: (Length, Length),
    /// The face to the room.
    pub inner: Face,
    /// The top of its cores.
    pub top: Top,
    /// The least and the greatest area of its open holes.
    pub holes: (Area, Area),
}

/// What passes one face of block, in m/(s Pa).
///
/// # Meaning
/// Flow for a square metre and a pascal between the cores and the air at that face.
/// # Formula
/// 0.63 to 35 L/min for each square metre at 3 Pa was measured through block; through one of its two faces it may be twice that.
/// A coating leaves from a two-hundredth of the least to a tenth of the most.
/// # Valid for
/// Suctions at which the flow rises as the suction; the tests were at 1 to 12 Pa.
/// # Accuracy
/// The range is the accuracy.
/// # Source
/// Ruppersberger 1995, Journal of Environmental Engineering 121 (4), 348: block of several makers, and coatings that kept back 98 to
/// 99.5 % where enough was put on with care. The tenth for one put on with less is ours, no source.
/// # Errors
/// None.
/// # Example
/// ```
/// use undercroft::calc::soil::hollow::{Face, face};
/// // 0.63 / 60 000 / 3 and 2 x 35 / 60 000 / 3
/// let (low, high) = face(Face::Bare).to_f64_bounds();
/// assert!((low - 3.5e-6).abs() < 1e-9 && (high - 3.889e-4).abs() < 1e-7);
/// ```
#[must_use]
pub fn face(face: Face) -> Number {
    let of = |liters: i128, parts: i128| Ratio::new(liters, parts).unwrap_or_default();
    // hundredths of a litre in a minute at 3 Pa: 100 x 60 000 x 3
    let parts = 18_000_000;
    let (least, most) = (of(63, parts), of(7_000, parts));
    let (coated_least, coated_most) = (of(63, 200 * parts), of(7_000, 10 * parts));
    match face {
        Face::Bare => Number::between(least, most),
        Face::Coated => Number::between(coated_least, coated_most),
        Face::Unsaid => Number::between(coated_least, most),
    }
}

/// Least and most flow through an opening of one square metre for a pascal, in m/(s Pa): `0.6 sqrt(2/1.2)` at 1 Pa, and as much over the
/// root of a thousand at 1000 Pa.
const OPENING: (f64, f64) = (0.0245, 0.7746);

/// Open cores for each metre of wall, in m2: a quarter of a wall of 100 mm, three fifths of one of 300 mm.
const CORES: (f64, f64) = (0.025, 0.18);

/// What a plate leaves open at most, in m2 for each metre: a slit of 5 mm.
const SLIT: f64 = 0.005;

fn top(top: Top) -> (f64, f64) {
    let open = (CORES.0 * OPENING.0, CORES.1 * OPENING.1);
    match top {
        Top::Closed => (0.0, 0.0),
        Top::Plate => (0.0, SLIT * OPENING.1),
        Top::Open => open,
        Top::Unsaid => (0.0, open.1),
    }
}

/// What leaks into the cores of a wall.
///
/// # Meaning
/// Flow for a pascal of suction in all its cores, at the least and at the most.
/// # Formula
/// Length times height times what passes the inner face, and at the most the outer face too, as soil that keeps all back or nothing lies
/// before it; length times the top; holes. A hole lets `0.6 A sqrt(2 dp / 1.2)` through, which for each pascal is most at 1 Pa and least at
/// 1000 Pa.
/// # Valid for
/// Walls of 0.1 to 200 m, 0.1 to 10 m high, holes of up to 10 m2, suctions of 1 to 1000 Pa. More than 1 m3/(s Pa) counts as that: no fan
/// holds suction on it.
/// # Accuracy
/// The range is the accuracy.
/// # Source
/// Faces as [`face`]; flow through sharp-edged holes (ASHRAE Fundamentals, chapter Ventilation and Infiltration). Cores open over a
/// quarter to three fifths of walls of 100 to 300 mm, and a slit of 5 mm under a plate, are ours: ASTM C90 has at least a quarter of a
/// hollow block open.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, soil::hollow::{Face, HollowWall, Top, leaks}};
/// let l = |text| Length::written(text).unwrap();
/// let none = Area::from_si(0.0).unwrap();
/// let wall = HollowWall {
///     long: (l("10 m"), l("10 m")), high: (l("2 m"), l("2 m")), inner: Face::Bare, top: Top::Closed, holes: (none, none),
/// };
/// // 20 x 3.5e-6 and 20 x 2 x 3.889e-4
/// let (low, high) = leaks(&wall).unwrap();
/// assert!((low.to_si() - 7e-5).abs() < 1e-9 && (high.to_si() - 0.01556).abs() < 1e-5);
/// ```
pub fn leaks(wall: &HollowWall) -> Result<(Conductance, Conductance), OutOfRange> {
    let length = |it: Length| within("the length of the wall", it, 0.0, 200.0);
    let height = |it: Length| within("the height of the wall", it, 0.0, 10.0);
    let open = |it: Area| within("the open holes of the wall", it, 0.0, 10.0);
    let (inner, outer, tops) =
        (face(wall.inner).to_f64_bounds(), face(Face::Unsaid).to_f64_bounds(), top(wall.top));
    let (short, low) = (length(wall.long.0)?, height(wall.high.0)?);
    let (long, high) = (length(wall.long.1)?, height(wall.high.1)?);
    let least = short * low * inner.0 + short * tops.0 + open(wall.holes.0)? * OPENING.0;
    let most = long * high * (inner.1 + outer.1) + long * tops.1 + open(wall.holes.1)? * OPENING.1;
    Ok((Conductance::new(least.min(1.0)), Conductance::new(most.min(1.0))))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::amounts::Amount;

    fn wall(inner: Face, top: Top) -> (f64, f64) {
        let of = |si: f64| Length::from_si(si).unwrap();
        let holes = (Area::from_si(0.0).unwrap(), Area::from_si(0.0).unwrap());
        let wall = HollowWall { long: (of(10.0), of(10.0)), high: (of(2.0), of(2.0)), inner, top, holes };
        let (least, most) = leaks(&wall).unwrap();
        (least.to_si(), most.to_si())
    }

    #[test]
    fn what_is_not_said_of_a_wall_holds_all_that_it_can_be() {
        let unsaid = wall(Face::Unsaid, Top::Unsaid);
        for inner in [Face::Bare, Face::Coated, Face::Unsaid] {
            for top in [Top::Closed, Top::Plate, Top::Open, Top::Unsaid] {
                let (least, most) = wall(inner, top);
                assert!(least <= most && unsaid.0 <= least && most <= unsaid.1, "{inner:?} {top:?}");
            }
        }
    }

    #[test]
    fn a_house_that_was_tried_lies_within() {
        // 40 cfm at 0.1 in WC off a wall of 30 ft by 7 ft: 0.0189 / 24.9 / 19.5 = 3.9e-5 m/(s Pa); common practice, no source
        let (least, most) = wall(Face::Bare, Top::Closed);
        let tried = 0.0189 / 24.9;
        assert!(least < tried && tried < most, "{least} {most}");
    }

    #[test]
    fn open_tops_let_in_a_hundred_times_what_bare_faces_do_at_least() {
        assert!(wall(Face::Bare, Top::Open).0 > 50.0 * wall(Face::Bare, Top::Closed).0);
    }
}
