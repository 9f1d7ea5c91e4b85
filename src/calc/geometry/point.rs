//! Points in space and in plan.

use crate::base::number::{Number, Ratio};

/// A point in space: x east, y north, z up.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Point {
    /// Eastward.
    pub x: Ratio,
    /// Northward.
    pub y: Ratio,
    /// Upward.
    pub z: Ratio,
}

/// A point in plan: x east, y north.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct PlanPoint {
    /// Eastward.
    pub x: Ratio,
    /// Northward.
    pub y: Ratio,
}

/// The number times itself.
pub(crate) fn square(of: &Ratio) -> Ratio {
    of * of
}

impl Point {
    /// The point with these coordinates.
    #[must_use]
    pub fn new(x: Ratio, y: Ratio, z: Ratio) -> Self {
        Point { x, y, z }
    }

    /// The point seen from above.
    #[must_use]
    pub fn plan(&self) -> PlanPoint {
        PlanPoint { x: self.x.clone(), y: self.y.clone() }
    }

    /// The point moved by the three lengths.
    #[must_use]
    pub fn moved(&self, east: &Ratio, north: &Ratio, up: &Ratio) -> Point {
        Point { x: &self.x + east, y: &self.y + north, z: &self.z + up }
    }

    /// The square of the straight distance between two points.
    ///
    /// # Meaning
    /// The length, squared, of a string drawn tight from one to the other with nothing in between.
    /// # Formula
    /// `(x2 - x1)^2 + (y2 - y1)^2 + (z2 - z1)^2`
    /// # Valid for
    /// All points.
    /// # Accuracy
    /// Exact.
    /// # Source
    /// Pythagoras.
    /// # Errors
    /// None.
    /// # Example
    /// ```
    /// use undercroft::base::number::Ratio;
    /// use undercroft::calc::geometry::Point;
    /// let at = |x, y, z| Point::new(Ratio::from(x), Ratio::from(y), Ratio::from(z));
    /// assert_eq!(at(0, 0, 0).distance_squared(&at(3, 4, 12)), Ratio::from(169));
    /// ```
    #[must_use]
    pub fn distance_squared(&self, to: &Point) -> Ratio {
        square(&(&self.x - &to.x)) + square(&(&self.y - &to.y)) + square(&(&self.z - &to.z))
    }

    /// The straight distance between two points, kept as the root of its exact square.
    #[must_use]
    pub fn distance(&self, to: &Point) -> Number {
        Number::root(self.distance_squared(to))
    }
}

impl PlanPoint {
    /// The point with these coordinates.
    #[must_use]
    pub fn new(x: Ratio, y: Ratio) -> Self {
        PlanPoint { x, y }
    }

    /// The point at this height.
    #[must_use]
    pub fn at(&self, z: Ratio) -> Point {
        Point { x: self.x.clone(), y: self.y.clone(), z }
    }

    /// The square of the distance between two points in plan; exact, by Pythagoras.
    #[must_use]
    pub fn distance_squared(&self, to: &PlanPoint) -> Ratio {
        square(&(&self.x - &to.x)) + square(&(&self.y - &to.y))
    }
}

/// On which side of the line from `a` to `b` the point `c` lies: positive to the left, negative to the
/// right, nought on the line.
///
/// # Meaning
/// Twice the area of the triangle a, b, c, counted positive when one walks round it leftward.
/// # Formula
/// `(bx - ax)(cy - ay) - (by - ay)(cx - ax)`
/// # Valid for
/// All points.
/// # Accuracy
/// Exact, so that "on the line" is never a matter of rounding.
/// # Source
/// The cross product.
/// # Errors
/// None.
/// # Example
/// ```
/// use undercroft::base::number::Ratio;
/// use undercroft::calc::geometry::{point::side, PlanPoint};
/// let at = |x, y| PlanPoint::new(Ratio::from(x), Ratio::from(y));
/// assert_eq!(side(&at(0, 0), &at(4, 0), &at(1, 3)), Ratio::from(12));
/// ```
#[must_use]
pub fn side(a: &PlanPoint, b: &PlanPoint, c: &PlanPoint) -> Ratio {
    (&b.x - &a.x) * (&c.y - &a.y) - (&b.y - &a.y) * (&c.x - &a.x)
}
