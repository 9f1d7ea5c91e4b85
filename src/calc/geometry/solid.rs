//! Boxes whose faces look east, west, north, south, up and down; a window or a wall is a flat one.

use crate::base::number::{Number, Ratio};

use super::point::{Point, square};

/// A box between two corners. Any of its extents may be nought.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Block {
    low: Point,
    high: Point,
}

/// How far `value` lies outside the stretch from `low` to `high`; nought inside it.
fn outside(value: &Ratio, low: &Ratio, high: &Ratio) -> Ratio {
    if value < low {
        low - value
    } else if value > high {
        value - high
    } else {
        Ratio::from(0)
    }
}

/// How far two stretches lie apart; nought when they touch or overlap.
fn gap(low_a: &Ratio, high_a: &Ratio, low_b: &Ratio, high_b: &Ratio) -> Ratio {
    if high_a < low_b {
        low_b - high_a
    } else if high_b < low_a {
        low_a - high_b
    } else {
        Ratio::from(0)
    }
}

impl Block {
    /// The box that has these two points as opposite corners, in whichever order.
    #[must_use]
    pub fn between(a: &Point, b: &Point) -> Self {
        let order =
            |a: &Ratio, b: &Ratio| if a <= b { (a.clone(), b.clone()) } else { (b.clone(), a.clone()) };
        let (x0, x1) = order(&a.x, &b.x);
        let (y0, y1) = order(&a.y, &b.y);
        let (z0, z1) = order(&a.z, &b.z);
        Block { low: Point::new(x0, y0, z0), high: Point::new(x1, y1, z1) }
    }

    /// The smallest box that holds all the points; `None` when there are none.
    #[must_use]
    pub fn around(points: &[Point]) -> Option<Self> {
        let (first, rest) = points.split_first()?;
        Some(rest.iter().fold(Block::between(first, first), |so_far, point| {
            let low = Point {
                x: so_far.low.x.min(point.x.clone()),
                y: so_far.low.y.min(point.y.clone()),
                z: so_far.low.z.min(point.z.clone()),
            };
            let high = Point {
                x: so_far.high.x.max(point.x.clone()),
                y: so_far.high.y.max(point.y.clone()),
                z: so_far.high.z.max(point.z.clone()),
            };
            Block { low, high }
        }))
    }

    /// Its south-west lower corner.
    #[must_use]
    pub fn low(&self) -> &Point {
        &self.low
    }

    /// Its north-east upper corner.
    #[must_use]
    pub fn high(&self) -> &Point {
        &self.high
    }

    /// The height of its top.
    #[must_use]
    pub fn top(&self) -> &Ratio {
        &self.high.z
    }

    /// The square of the straight distance from a point to the nearest point of the box.
    ///
    /// # Meaning
    /// Nought inside the box and on its faces. A point behind a flat box is as far as one before it.
    /// # Formula
    /// The sum, over the three axes, of the square of how far the point lies outside the box's extent.
    /// # Valid for
    /// All points; boxes may be flat in one, two or three directions.
    /// # Accuracy
    /// Exact.
    /// # Source
    /// The nearest point of a box has each coordinate clamped to the box; then Pythagoras.
    /// # Errors
    /// None.
    /// # Example
    /// ```
    /// use undercroft::base::number::Ratio;
    /// use undercroft::calc::geometry::{Block, Point};
    /// let at = |x, y, z| Point::new(Ratio::from(x), Ratio::from(y), Ratio::from(z));
    /// let window = Block::between(&at(3, 0, 4), &at(6, 0, 8));
    /// // nearest on the sill, at (4, 0, 4): 5 away to the south and 12 below
    /// assert_eq!(window.distance_squared(&at(4, -5, -8)), Ratio::from(169));
    /// ```
    #[must_use]
    pub fn distance_squared(&self, point: &Point) -> Ratio {
        square(&outside(&point.x, &self.low.x, &self.high.x))
            + square(&outside(&point.y, &self.low.y, &self.high.y))
            + square(&outside(&point.z, &self.low.z, &self.high.z))
    }

    /// The straight distance from a point to the nearest point of the box, as the root of its exact square.
    #[must_use]
    pub fn distance(&self, point: &Point) -> Number {
        Number::root(self.distance_squared(point))
    }

    /// The square of the straight distance between the nearest points of two boxes; exact, nought when
    /// they touch.
    #[must_use]
    pub fn distance_squared_to_block(&self, other: &Block) -> Ratio {
        square(&gap(&self.low.x, &self.high.x, &other.low.x, &other.high.x))
            + square(&gap(&self.low.y, &self.high.y, &other.low.y, &other.high.y))
            + square(&gap(&self.low.z, &self.high.z, &other.low.z, &other.high.z))
    }

    /// The square of the distance from a point to the box as seen from above; exact.
    #[must_use]
    pub fn plan_distance_squared(&self, point: &Point) -> Ratio {
        square(&outside(&point.x, &self.low.x, &self.high.x))
            + square(&outside(&point.y, &self.low.y, &self.high.y))
    }

    /// Whether a straight line between two points passes through the inside of the box. Sliding along a
    /// face or an edge does not count; a flat box has no inside.
    ///
    /// # Meaning
    /// Whether something solid stands in the way of a string drawn tight.
    /// # Formula
    /// For each axis the part of the line, as a share of its length, that lies strictly between the two
    /// faces; the line is blocked if the three parts have more than a point in common.
    /// # Valid for
    /// All points, inside ones too.
    /// # Accuracy
    /// Exact.
    /// # Source
    /// Clipping a line by pairs of parallel planes.
    /// # Errors
    /// None.
    /// # Example
    /// ```
    /// use undercroft::base::number::Ratio;
    /// use undercroft::calc::geometry::{Block, Point};
    /// let at = |x, y, z| Point::new(Ratio::from(x), Ratio::from(y), Ratio::from(z));
    /// let house = Block::between(&at(0, 0, 0), &at(10, 10, 8));
    /// assert!(house.blocks(&at(-1, 5, 4), &at(11, 5, 4)));
    /// assert!(!house.blocks(&at(-1, 0, 4), &at(11, 0, 4)));
    /// ```
    #[must_use]
    pub fn blocks(&self, a: &Point, b: &Point) -> bool {
        let mut from = Ratio::from(0);
        let mut until = Ratio::from(1);
        let axes = [
            (&a.x, &b.x, &self.low.x, &self.high.x),
            (&a.y, &b.y, &self.low.y, &self.high.y),
            (&a.z, &b.z, &self.low.z, &self.high.z),
        ];
        for (start, end, low, high) in axes {
            let along = end - start;
            if along == Ratio::from(0) {
                if start <= low || start >= high {
                    return false;
                }
                continue;
            }
            let share = |face: &Ratio| (face - start).checked_div(&along).unwrap_or_else(|| Ratio::from(0));
            let (enters, leaves) =
                if along > Ratio::from(0) { (share(low), share(high)) } else { (share(high), share(low)) };
            from = from.max(enters);
            until = until.min(leaves);
            if from >= until {
                return false;
            }
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: i64, y: i64, z: i64) -> Point {
        Point::new(Ratio::from(x), Ratio::from(y), Ratio::from(z))
    }

    #[test]
    fn corners_may_be_given_in_any_order() {
        let one = Block::between(&at(1, 5, 2), &at(4, 0, 8));
        assert_eq!(one, Block::between(&at(4, 5, 2), &at(1, 0, 8)));
        assert_eq!(one.low(), &at(1, 0, 2));
        assert_eq!(one.top(), &Ratio::from(8));
        assert_eq!(Block::around(&[at(1, 5, 2), at(4, 0, 8), at(2, 2, 3)]), Some(one));
    }

    #[test]
    fn boxes_that_touch_are_nought_apart() {
        let one = Block::between(&at(0, 0, 0), &at(2, 2, 2));
        assert_eq!(
            one.distance_squared_to_block(&Block::between(&at(2, 1, 1), &at(5, 5, 5))),
            Ratio::from(0)
        );
        assert_eq!(
            one.distance_squared_to_block(&Block::between(&at(5, 6, 2), &at(7, 7, 3))),
            Ratio::from(25)
        );
    }

    #[test]
    fn a_line_that_slides_along_a_wall_is_not_blocked() {
        let house = Block::between(&at(0, 0, 0), &at(10, 10, 8));
        assert!(!house.blocks(&at(-5, 5, 8), &at(15, 5, 8)));
        assert!(!house.blocks(&at(0, -5, 0), &at(0, 15, 7)));
        assert!(house.blocks(&at(-5, 5, 7), &at(15, 5, 7)));
        assert!(!house.blocks(&at(-5, 5, 7), &at(-1, 5, 7)));
        let window = Block::between(&at(0, 0, 0), &at(0, 10, 8));
        assert!(!window.blocks(&at(-5, 5, 4), &at(5, 5, 4)), "a flat box has no inside");
    }
}
