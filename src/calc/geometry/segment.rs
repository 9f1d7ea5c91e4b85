//! Straight stretches between two points.

use crate::base::number::{Number, Ratio};

use super::point::Point;

/// A straight stretch between two points, which may be one and the same.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Segment {
    /// Where it starts.
    pub from: Point,
    /// Where it ends.
    pub to: Point,
}

/// What leads from one point to another, along the three axes.
struct Arrow {
    x: Ratio,
    y: Ratio,
    z: Ratio,
}

impl Arrow {
    fn between(from: &Point, to: &Point) -> Arrow {
        Arrow { x: &to.x - &from.x, y: &to.y - &from.y, z: &to.z - &from.z }
    }

    fn dot(&self, other: &Arrow) -> Ratio {
        &self.x * &other.x + &self.y * &other.y + &self.z * &other.z
    }
}

/// The share of the way, held between nought and one.
fn held(share: Ratio) -> Ratio {
    share.max(Ratio::from(0)).min(Ratio::from(1))
}

impl Segment {
    /// The stretch between these points.
    #[must_use]
    pub fn new(from: Point, to: Point) -> Self {
        Segment { from, to }
    }

    /// Its length, as the root of its exact square.
    #[must_use]
    pub fn length(&self) -> Number {
        self.from.distance(&self.to)
    }

    /// How much higher it ends than it starts.
    #[must_use]
    pub fn rise(&self) -> Ratio {
        &self.to.z - &self.from.z
    }

    /// The point after this share of the way.
    #[must_use]
    pub fn after(&self, share: &Ratio) -> Point {
        let way = Arrow::between(&self.from, &self.to);
        self.from.moved(&(&way.x * share), &(&way.y * share), &(&way.z * share))
    }

    /// The square of the straight distance from a point to the nearest point of the stretch.
    ///
    /// # Meaning
    /// Nought on the stretch; beyond its ends, the distance to the nearer end.
    /// # Formula
    /// The point's foot on the line, as a share `((p - a) . (b - a)) / |b - a|^2` held between 0 and 1;
    /// then Pythagoras.
    /// # Valid for
    /// All points; a stretch of no length counts as its one point.
    /// # Accuracy
    /// Exact.
    /// # Source
    /// Projection on a line.
    /// # Errors
    /// None.
    /// # Example
    /// ```
    /// use undercroft::base::number::Ratio;
    /// use undercroft::calc::geometry::{Point, Segment};
    /// let at = |x, y, z| Point::new(Ratio::from(x), Ratio::from(y), Ratio::from(z));
    /// let pipe = Segment::new(at(0, 0, 0), at(10, 0, 0));
    /// assert_eq!(pipe.distance_squared(&at(4, 3, 4)), Ratio::from(25));
    /// ```
    #[must_use]
    pub fn distance_squared(&self, point: &Point) -> Ratio {
        let way = Arrow::between(&self.from, &self.to);
        let foot = Arrow::between(&self.from, point).dot(&way).checked_div(&way.dot(&way));
        self.after(&held(foot.unwrap_or_else(|| Ratio::from(0)))).distance_squared(point)
    }

    /// The square of the straight distance between the nearest points of two stretches.
    ///
    /// # Meaning
    /// Nought when they cross or touch.
    /// # Formula
    /// The least of: the distance between the two lines, where both feet lie on the stretches, and the
    /// distances of the four ends to the other stretch.
    /// # Valid for
    /// All stretches, parallel ones and single points too.
    /// # Accuracy
    /// Exact.
    /// # Source
    /// The distance between two stretches, as a function of the two shares, is convex; its least lies
    /// inside or on the rim of the square of shares.
    /// # Errors
    /// None.
    /// # Example
    /// ```
    /// use undercroft::base::number::Ratio;
    /// use undercroft::calc::geometry::{Point, Segment};
    /// let at = |x, y, z| Point::new(Ratio::from(x), Ratio::from(y), Ratio::from(z));
    /// let one = Segment::new(at(0, 0, 0), at(10, 0, 0));
    /// let two = Segment::new(at(5, -5, 3), at(5, 5, 3));
    /// assert_eq!(one.distance_squared_to(&two), Ratio::from(9));
    /// ```
    #[must_use]
    pub fn distance_squared_to(&self, other: &Segment) -> Ratio {
        let d1 = Arrow::between(&self.from, &self.to);
        let d2 = Arrow::between(&other.from, &other.to);
        let r = Arrow::between(&other.from, &self.from);
        let (a, b, c) = (d1.dot(&d1), d1.dot(&d2), d2.dot(&d2));
        let (d, e) = (d1.dot(&r), d2.dot(&r));
        let mut least = self
            .distance_squared(&other.from)
            .min(self.distance_squared(&other.to))
            .min(other.distance_squared(&self.from))
            .min(other.distance_squared(&self.to));
        let spread = &a * &c - &b * &b;
        let s = (&b * &e - &c * &d).checked_div(&spread);
        let t = (&a * &e - &b * &d).checked_div(&spread);
        if let (Some(s), Some(t)) = (s, t)
            && held(s.clone()) == s
            && held(t.clone()) == t
        {
            least = least.min(self.after(&s).distance_squared(&other.after(&t)));
        }
        least
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: i64, y: i64, z: i64) -> Point {
        Point::new(Ratio::from(x), Ratio::from(y), Ratio::from(z))
    }

    #[test]
    fn beyond_an_end_the_end_is_nearest() {
        let pipe = Segment::new(at(0, 0, 0), at(10, 0, 0));
        assert_eq!(pipe.distance_squared(&at(13, 4, 0)), Ratio::from(25));
        assert_eq!(pipe.distance_squared(&at(-3, 0, 4)), Ratio::from(25));
        let dot = Segment::new(at(1, 1, 1), at(1, 1, 1));
        assert_eq!(dot.distance_squared(&at(1, 4, 5)), Ratio::from(25));
    }

    #[test]
    fn parallel_and_crossing_stretches() {
        let one = Segment::new(at(0, 0, 0), at(10, 0, 0));
        assert_eq!(one.distance_squared_to(&Segment::new(at(2, 3, 4), at(20, 3, 4))), Ratio::from(25));
        assert_eq!(one.distance_squared_to(&Segment::new(at(13, 4, 0), at(20, 4, 0))), Ratio::from(25));
        assert_eq!(one.distance_squared_to(&Segment::new(at(5, -1, -1), at(5, 1, 1))), Ratio::from(0));
    }
}
