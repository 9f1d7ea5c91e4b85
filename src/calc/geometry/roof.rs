//! Sloping planes.

use crate::base::number::{Number, Ratio};

use super::point::{PlanPoint, Point, side};

/// How steeply a plane climbs: so much up for so much across.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Pitch(pub Ratio);

/// How far a sloping plane has climbed above its lower edge at some distance in from that edge.
///
/// # Meaning
/// The height of a roof's surface above its eave, measured straight up. The distance is counted level and
/// square to the eave; a negative one lies outside the edge, where the plane is carried on downward.
/// # Formula
/// `distance * pitch`, with the pitch as a ratio: 6 in 12 is 1/2.
/// # Valid for
/// Plane roofs, between eave and ridge. Beyond the ridge the caller has to know better.
/// # Accuracy
/// Exact.
/// # Source
/// The meaning of a pitch.
/// # Errors
/// None.
/// # Example
/// ```
/// use undercroft::base::number::Ratio;
/// use undercroft::calc::geometry::{Pitch, rise_above_eave};
/// let six_in_twelve = Pitch(Ratio::new(1, 2).unwrap());
/// assert_eq!(rise_above_eave(&six_in_twelve, &Ratio::from(8)), Ratio::from(4));
/// ```
#[must_use]
pub fn rise_above_eave(pitch: &Pitch, in_from_edge: &Ratio) -> Ratio {
    in_from_edge * &pitch.0
}

/// More corners than any slope of a roof has; it bounds the work.
const MOST_CORNERS: usize = 16;

/// How high the plane through some corners lies straight above a point in plan.
///
/// # Meaning
/// The height of a roof's slope where it is given by its corners.
/// # Formula
/// For three corners `a`, `b`, `c` that do not stand in line in plan: `za + u (zb - za) + v (zc - za)`, where the
/// point lies `u` of the way toward `b` and `v` of the way toward `c`.
/// # Valid for
/// Any point; that it lies within the slope is for the caller to see to.
/// # Accuracy
/// Exact where all corners lie in one plane. Corners that were measured seldom do: then the range over the planes
/// through any three of them.
/// # Source
/// Elementary geometry.
/// # Errors
/// `None` for fewer than three corners, for more than sixteen, and where all of them stand in line in plan.
/// # Example
/// ```
/// use undercroft::base::number::{Number, Ratio};
/// use undercroft::calc::geometry::{PlanPoint, Point, plane_height};
/// let n = Ratio::from;
/// let p = |x: i64, y: i64, z: i64| Point::new(n(x), n(y), n(z));
/// // From 17 at the eave to 23 at the ridge 12 further in: 2 below the ridge at 4 from it.
/// let slope = [p(0, 0, 17), p(40, 0, 17), p(40, 12, 23), p(0, 12, 23)];
/// assert_eq!(plane_height(&slope, &PlanPoint::new(n(30), n(8))), Some(Number::exact(n(21))));
/// ```
#[must_use]
pub fn plane_height(corners: &[Point], at: &PlanPoint) -> Option<Number> {
    if corners.len() > MOST_CORNERS {
        return None;
    }
    let mut heights = Vec::new();
    for (i, a) in corners.iter().enumerate() {
        for (j, b) in corners.iter().enumerate().skip(i + 1) {
            for c in corners.iter().skip(j + 1) {
                heights.extend(through_three(a, b, c, at).map(Number::exact));
            }
        }
    }
    let (least, most) = (Number::least(&heights)?, Number::greatest(&heights)?);
    Some(least.hull(&most))
}

/// The height above a point of the plane through three corners; nothing where they stand in line in plan.
fn through_three(a: &Point, b: &Point, c: &Point, at: &PlanPoint) -> Option<Ratio> {
    let (pa, pb, pc) = (a.plan(), b.plan(), c.plan());
    let whole = side(&pa, &pb, &pc);
    let toward_b = side(&pa, at, &pc).checked_div(&whole)?;
    let toward_c = side(&pa, &pb, at).checked_div(&whole)?;
    Some(&a.z + toward_b * (&b.z - &a.z) + toward_c * (&c.z - &a.z))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn corners_that_lie_in_no_one_plane_leave_a_range() {
        let p = |x: i64, y: i64, z: i64| Point::new(Ratio::from(x), Ratio::from(y), Ratio::from(z));
        let slope = [p(0, 0, 0), p(2, 0, 0), p(2, 2, 2), p(0, 2, 4)];
        // By the first three 1 above the middle, by the others 2 along one diagonal or 1 along the other.
        let middle = PlanPoint::new(Ratio::from(1), Ratio::from(1));
        let height = plane_height(&slope, &middle);
        assert_eq!(height, Some(Number::between(Ratio::from(1), Ratio::from(2))));
        assert_eq!(plane_height(&[p(0, 0, 0), p(1, 1, 3), p(2, 2, 6)], &middle), None);
    }
}
