//! Outlines of floors, slabs and roofs: simple polygons. One that is not valid cannot be made, so that
//! nobody can ask its area.

use crate::base::number::Ratio;

use super::point::{PlanPoint, side};
use super::segment::Segment;

/// A simple polygon with an area, its corners counted leftward round it.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Outline {
    corners: Vec<PlanPoint>,
}

/// Why corners do not make an outline. Corners are counted from nought in the order given.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum InvalidOutline {
    /// Fewer than three corners.
    TooFewCorners,
    /// More corners than an outline may have.
    TooManyCorners,
    /// The same corner stands twice.
    CornerTwice(usize, usize),
    /// Three corners in a row where the outline turns straight back on itself.
    TurnsBack(usize),
    /// The side that starts at the one corner crosses or touches the side that starts at the other.
    SidesMeet(usize, usize),
}

/// Where a point lies as to an outline.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Whereabouts {
    /// Within it.
    Inside,
    /// On its edge.
    OnEdge,
    /// Beyond it.
    Outside,
}

/// More corners than any house has; it bounds the work of checking one.
const MOST_CORNERS: usize = 500;

/// Whether `c`, known to be in line with `a` and `b`, lies between them or at one of them.
fn between_in_line(a: &PlanPoint, b: &PlanPoint, c: &PlanPoint) -> bool {
    let within = |a: &Ratio, b: &Ratio, c: &Ratio| (a <= c && c <= b) || (b <= c && c <= a);
    within(&a.x, &b.x, &c.x) && within(&a.y, &b.y, &c.y)
}

/// Whether two stretches in plan have a point in common.
fn meet(a: &PlanPoint, b: &PlanPoint, c: &PlanPoint, d: &PlanPoint) -> bool {
    let (abc, abd) = (side(a, b, c).signum(), side(a, b, d).signum());
    let (cda, cdb) = (side(c, d, a).signum(), side(c, d, b).signum());
    if abc * abd < 0 && cda * cdb < 0 {
        return true;
    }
    (abc == 0 && between_in_line(a, b, c))
        || (abd == 0 && between_in_line(a, b, d))
        || (cda == 0 && between_in_line(c, d, a))
        || (cdb == 0 && between_in_line(c, d, b))
}

impl Outline {
    /// The outline with these corners, in order round it, whichever way; the last joins the first.
    ///
    /// # Errors
    /// What is wrong with the corners, and with which of them.
    pub fn new(corners: Vec<PlanPoint>) -> Result<Self, InvalidOutline> {
        let count = corners.len();
        if count < 3 {
            return Err(InvalidOutline::TooFewCorners);
        }
        if count > MOST_CORNERS {
            return Err(InvalidOutline::TooManyCorners);
        }
        for (i, a) in corners.iter().enumerate() {
            for (j, b) in corners.iter().enumerate().skip(i + 1) {
                if a == b {
                    return Err(InvalidOutline::CornerTwice(i, j));
                }
            }
        }
        let sides: Vec<(&PlanPoint, &PlanPoint)> =
            corners.iter().zip(corners.iter().cycle().skip(1)).take(count).collect();
        let nexts = sides.iter().cycle().skip(1);
        for (i, ((a, b), (_, c))) in sides.iter().zip(nexts).enumerate() {
            let straight_on = (&b.x - &a.x) * (&c.x - &b.x) + (&b.y - &a.y) * (&c.y - &b.y);
            if side(a, b, c).is_zero() && straight_on.is_negative() {
                return Err(InvalidOutline::TurnsBack((i + 1) % count));
            }
        }
        for (i, (a, b)) in sides.iter().enumerate() {
            for (j, (c, d)) in sides.iter().enumerate().skip(i + 2) {
                let neighbours = i == 0 && j == count - 1;
                if !neighbours && meet(a, b, c, d) {
                    return Err(InvalidOutline::SidesMeet(i, j));
                }
            }
        }
        let mut outline = Outline { corners };
        if outline.twice_signed_area().is_negative() {
            outline.corners.reverse();
        }
        Ok(outline)
    }

    /// A rectangle whose south-west corner is given, so long eastward and so wide northward.
    ///
    /// # Errors
    /// When a side is nought or negative.
    pub fn rectangle(corner: &PlanPoint, east: &Ratio, north: &Ratio) -> Result<Self, InvalidOutline> {
        if east.signum() <= 0 || north.signum() <= 0 {
            return Err(InvalidOutline::TurnsBack(0));
        }
        let (x1, y1) = (&corner.x + east, &corner.y + north);
        Outline::new(vec![
            corner.clone(),
            PlanPoint::new(x1.clone(), corner.y.clone()),
            PlanPoint::new(x1, y1.clone()),
            PlanPoint::new(corner.x.clone(), y1),
        ])
    }

    /// An L: a rectangle, with a second one against its east side, flush with its south side.
    ///
    /// # Errors
    /// When a side is nought or negative, or the second is as wide northward as the first or wider.
    pub fn ell(
        corner: &PlanPoint,
        first: (&Ratio, &Ratio),
        second: (&Ratio, &Ratio),
    ) -> Result<Self, InvalidOutline> {
        let all = [first.0, first.1, second.0, second.1];
        if all.iter().any(|side| side.signum() <= 0) || second.1 >= first.1 {
            return Err(InvalidOutline::TurnsBack(0));
        }
        let (inner, outer) = (&corner.x + first.0, &corner.x + first.0 + second.0);
        let (step, top) = (&corner.y + second.1, &corner.y + first.1);
        Outline::new(vec![
            corner.clone(),
            PlanPoint::new(outer.clone(), corner.y.clone()),
            PlanPoint::new(outer, step.clone()),
            PlanPoint::new(inner.clone(), step),
            PlanPoint::new(inner, top.clone()),
            PlanPoint::new(corner.x.clone(), top),
        ])
    }

    /// Its corners, counted leftward round it.
    #[must_use]
    pub fn corners(&self) -> &[PlanPoint] {
        &self.corners
    }

    /// Its sides, each from one corner to the next.
    pub fn sides(&self) -> impl Iterator<Item = (&PlanPoint, &PlanPoint)> {
        self.corners.iter().zip(self.corners.iter().cycle().skip(1)).take(self.corners.len())
    }

    /// Its corners that point outward, counted leftward round it.
    pub fn outward_corners(&self) -> impl Iterator<Item = &PlanPoint> {
        let count = self.corners.len();
        let before = self.corners.iter().cycle().skip(count.saturating_sub(1));
        let turns = before.zip(&self.corners).zip(self.corners.iter().cycle().skip(1));
        turns.filter(|((a, b), c)| side(a, b, c).signum() > 0).map(|((_, corner), _)| corner)
    }

    fn twice_signed_area(&self) -> Ratio {
        self.sides().map(|(a, b)| &a.x * &b.y - &b.x * &a.y).sum()
    }

    /// The area inside.
    ///
    /// # Meaning
    /// The floor that the outline takes up, as seen from above.
    /// # Formula
    /// Half the sum of `x1 y2 - x2 y1` over the sides.
    /// # Valid for
    /// Every outline; one that crosses itself cannot be made.
    /// # Accuracy
    /// Exact.
    /// # Source
    /// The surveyor's area formula (Gauss).
    /// # Errors
    /// None.
    /// # Example
    /// ```
    /// use undercroft::base::number::Ratio;
    /// use undercroft::calc::geometry::{Outline, PlanPoint};
    /// let n = Ratio::from;
    /// // 40 x 24 and 16 x 20: 960 + 320
    /// let ell = Outline::ell(&PlanPoint::new(n(0), n(0)), (&n(40), &n(24)), (&n(16), &n(20))).unwrap();
    /// assert_eq!(ell.area(), n(1280));
    /// ```
    #[must_use]
    pub fn area(&self) -> Ratio {
        self.twice_signed_area().checked_div(&Ratio::from(2)).unwrap_or_default()
    }

    /// Whether a point lies inside, on the edge or outside.
    ///
    /// # Meaning
    /// Seen from above.
    /// # Formula
    /// The count of sides that pass the point on its east, each counted once at its lower end.
    /// # Valid for
    /// All points.
    /// # Accuracy
    /// Exact: a point on the edge is always told to be on it.
    /// # Source
    /// The crossing-number rule.
    /// # Errors
    /// None.
    /// # Example
    /// ```
    /// use undercroft::base::number::Ratio;
    /// use undercroft::calc::geometry::{Outline, PlanPoint, Whereabouts};
    /// let n = Ratio::from;
    /// let room = Outline::rectangle(&PlanPoint::new(n(0), n(0)), &n(4), &n(3)).unwrap();
    /// assert_eq!(room.whereabouts(&PlanPoint::new(n(4), n(1))), Whereabouts::OnEdge);
    /// ```
    #[must_use]
    pub fn whereabouts(&self, point: &PlanPoint) -> Whereabouts {
        let mut inside = false;
        for (a, b) in self.sides() {
            let turn = side(a, b, point);
            if turn.is_zero() && between_in_line(a, b, point) {
                return Whereabouts::OnEdge;
            }
            let upward = a.y <= point.y && b.y > point.y;
            let downward = b.y <= point.y && a.y > point.y;
            if (upward && turn.signum() > 0) || (downward && turn.signum() < 0) {
                inside = !inside;
            }
        }
        if inside { Whereabouts::Inside } else { Whereabouts::Outside }
    }

    /// The square of the distance, in plan, from a point to the nearest point of the edge; exact, and
    /// counted from the inside as well as from the outside.
    #[must_use]
    pub fn edge_distance_squared(&self, point: &PlanPoint) -> Ratio {
        let flat = |p: &PlanPoint| p.at(Ratio::ZERO);
        let at = flat(point);
        self.sides()
            .map(|(a, b)| Segment::new(flat(a), flat(b)).distance_squared(&at))
            .min()
            .unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: i64, y: i64) -> PlanPoint {
        PlanPoint::new(Ratio::from(x), Ratio::from(y))
    }

    fn made(corners: &[(i64, i64)]) -> Result<Outline, InvalidOutline> {
        Outline::new(corners.iter().map(|(x, y)| at(*x, *y)).collect())
    }

    #[test]
    fn what_is_no_outline_says_why() {
        assert_eq!(made(&[(0, 0), (1, 0)]), Err(InvalidOutline::TooFewCorners));
        assert_eq!(made(&[(0, 0), (4, 0), (4, 3), (0, 0)]), Err(InvalidOutline::CornerTwice(0, 3)));
        assert_eq!(made(&[(0, 0), (4, 4), (4, 0), (0, 4)]), Err(InvalidOutline::SidesMeet(0, 2)));
        assert_eq!(made(&[(0, 0), (4, 0), (2, 0), (2, 3)]), Err(InvalidOutline::TurnsBack(1)));
        assert_eq!(made(&[(0, 0), (1, 1), (2, 2)]), Err(InvalidOutline::TurnsBack(2)));
        // a spike that only touches the first side with its tip
        assert_eq!(made(&[(0, 0), (6, 0), (6, 4), (3, 0), (0, 4)]), Err(InvalidOutline::SidesMeet(0, 2)));
        let many: Vec<PlanPoint> = (0..600).map(|n| at(n, n * n)).collect();
        assert_eq!(Outline::new(many), Err(InvalidOutline::TooManyCorners));
    }

    #[test]
    fn either_way_round_is_the_same_outline() {
        let one = made(&[(0, 0), (4, 0), (4, 3), (0, 3)]).unwrap();
        let other = made(&[(0, 3), (4, 3), (4, 0), (0, 0)]).unwrap();
        assert_eq!(one, other);
        assert_eq!(one.area(), Ratio::from(12));
    }

    #[test]
    fn corners_in_a_straight_line_are_allowed() {
        assert_eq!(made(&[(0, 0), (2, 0), (4, 0), (4, 3), (0, 3)]).unwrap().area(), Ratio::from(12));
    }

    #[test]
    fn the_inner_corner_of_an_ell_does_not_point_outward() {
        let ell = made(&[(0, 0), (56, 0), (56, 20), (40, 20), (40, 24), (0, 24)]).unwrap();
        let outward: Vec<&PlanPoint> = ell.outward_corners().collect();
        assert_eq!(outward, [&at(0, 0), &at(56, 0), &at(56, 20), &at(40, 24), &at(0, 24)]);
        // one that lies in a straight line is no corner at all
        assert_eq!(made(&[(0, 0), (2, 0), (4, 0), (4, 3), (0, 3)]).unwrap().outward_corners().count(), 4);
    }

    #[test]
    fn points_in_the_notch_of_an_ell_are_outside() {
        let ell = made(&[(0, 0), (56, 0), (56, 20), (40, 20), (40, 24), (0, 24)]).unwrap();
        assert_eq!(ell.whereabouts(&at(50, 22)), Whereabouts::Outside);
        assert_eq!(ell.whereabouts(&at(50, 20)), Whereabouts::OnEdge);
        assert_eq!(ell.whereabouts(&at(50, 19)), Whereabouts::Inside);
        assert_eq!(ell.whereabouts(&at(40, 22)), Whereabouts::OnEdge);
        assert_eq!(ell.whereabouts(&at(-1, 20)), Whereabouts::Outside);
        assert_eq!(ell.edge_distance_squared(&at(43, 24)), Ratio::from(9));
        assert_eq!(ell.edge_distance_squared(&at(20, 12)), Ratio::from(144));
    }
}
