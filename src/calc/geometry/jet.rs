//! What lies before the end of a pipe: how far ahead along its line, and how far aside of it.

use crate::base::number::Number;

/// Which way the gas is thrown.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Throw {
    /// Straight up.
    Up,
    /// Level, eastward.
    East,
    /// Level, westward.
    West,
    /// Level, northward.
    North,
    /// Level, southward.
    South,
}

/// The middle of an outlet, as east, north and up, and the way the gas leaves it.
#[derive(Clone, Debug)]
pub struct Jet {
    /// The middle of the outlet.
    pub from: [Number; 3],
    /// Which way it throws.
    pub throw: Throw,
}

/// How far a place lies outside a stretch; nought inside it.
fn gap(at: &Number, low: &Number, high: &Number) -> Number {
    Number::greatest(&[Number::whole(0), low - at, at - high]).unwrap_or_else(|| Number::whole(0))
}

impl Jet {
    /// How far a box reaches ahead of the outlet.
    ///
    /// # Meaning
    /// The farthest that any of it lies along the line on which the gas leaves; negative where all of it lies behind.
    /// # Formula
    /// The far face of the box less the middle of the outlet, along the way the gas leaves.
    /// # Valid for
    /// Gas thrown straight up or level along an axis of the plan; boxes between a low and a high corner.
    /// # Accuracy
    /// Exact for exact places.
    /// # Source
    /// The centre line square to the plane of the opening: ANSI/AARST CC-1000 9.1.4.
    /// # Errors
    /// None.
    /// # Example
    /// ```
    /// use undercroft::base::number::Number;
    /// use undercroft::calc::geometry::{Jet, Throw};
    /// let at = |x: i64, y: i64, z: i64| [x, y, z].map(Number::whole);
    /// let jet = Jet { from: at(0, 0, 20), throw: Throw::Up };
    /// assert_eq!(jet.ahead(&at(4, -1, 12), &at(4, 1, 26)), Number::whole(6));
    /// ```
    #[must_use]
    pub fn ahead(&self, low: &[Number; 3], high: &[Number; 3]) -> Number {
        let [x, y, z] = &self.from;
        let ([x0, y0, _], [x1, y1, z1]) = (low, high);
        match self.throw {
            Throw::Up => z1 - z,
            Throw::East => x1 - x,
            Throw::West => x - x0,
            Throw::North => y1 - y,
            Throw::South => y - y0,
        }
    }

    /// How far a box lies aside of the line on which the gas leaves.
    ///
    /// # Meaning
    /// The distance of its nearest point from that line, however far ahead or behind; nought where the line meets it.
    /// # Formula
    /// With `a` and `b` how far the middle of the outlet lies outside the box along the two axes across the line:
    /// `sqrt(a^2 + b^2)`.
    /// # Valid for
    /// As `ahead`.
    /// # Accuracy
    /// The root of an exact square for exact places.
    /// # Source
    /// Pythagoras.
    /// # Errors
    /// None.
    /// # Example
    /// ```
    /// use undercroft::base::number::Number;
    /// use undercroft::calc::geometry::{Jet, Throw};
    /// let at = |x: i64, y: i64, z: i64| [x, y, z].map(Number::whole);
    /// let jet = Jet { from: at(0, 0, 20), throw: Throw::East };
    /// // 3 north of the line and 4 below it, wherever it stands to the east
    /// assert_eq!(jet.aside(&at(9, 3, 12), &at(9, 6, 16)), Number::whole(5));
    /// ```
    #[must_use]
    pub fn aside(&self, low: &[Number; 3], high: &[Number; 3]) -> Number {
        let [x, y, z] = &self.from;
        let ([x0, y0, z0], [x1, y1, z1]) = (low, high);
        let east = || gap(x, x0, x1);
        let north = || gap(y, y0, y1);
        let up = || gap(z, z0, z1);
        let (a, b) = match self.throw {
            Throw::Up => (east(), north()),
            Throw::East | Throw::West => (north(), up()),
            Throw::North | Throw::South => (east(), up()),
        };
        (&a.squared() + &b.squared()).sqrt().unwrap_or_else(|| Number::whole(0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: i64, y: i64, z: i64) -> [Number; 3] {
        [x, y, z].map(Number::whole)
    }

    #[test]
    fn a_window_in_the_wall_at_ones_back_lies_behind() {
        // A pipe that leaves a north wall level at 3 north of it; the window is in that wall, 6 to the east.
        let jet = Jet { from: at(0, 3, 10), throw: Throw::North };
        let (low, high) = (at(6, 0, 8), at(9, 0, 12));
        assert_eq!(jet.ahead(&low, &high), Number::whole(-3));
        assert_eq!(jet.aside(&low, &high), Number::whole(6));
        // Thrown the other way, the same window is before it.
        let back = Jet { throw: Throw::South, ..jet };
        assert_eq!(back.ahead(&low, &high), Number::whole(3));
    }

    #[test]
    fn what_the_line_meets_lies_nought_aside() {
        let (low, high) = (at(-2, 12, 8), at(2, 12, 12));
        assert_eq!(Jet { from: at(0, 0, 10), throw: Throw::North }.aside(&low, &high), Number::whole(0));
        // Eastward 12 to the north of the line and within its height.
        let east = Jet { from: at(-9, 0, 10), throw: Throw::East };
        assert_eq!(east.aside(&low, &high), Number::whole(12));
        assert_eq!(east.ahead(&low, &high), Number::whole(11));
        let west = Jet { from: at(9, 0, 10), throw: Throw::West };
        assert_eq!(west.ahead(&low, &high), Number::whole(11));
    }

    #[test]
    fn a_place_known_within_bounds_leaves_a_range() {
        use crate::base::number::Ratio;
        let somewhere = Number::between(Ratio::from(3), Ratio::from(4));
        let low = [somewhere.clone(), Number::whole(0), Number::whole(0)];
        let high = [somewhere, Number::whole(0), Number::whole(0)];
        let aside = Jet { from: at(0, 0, 0), throw: Throw::Up }.aside(&low, &high);
        assert_eq!(aside.bounds(), (Ratio::from(3), Ratio::from(4)));
    }
}
