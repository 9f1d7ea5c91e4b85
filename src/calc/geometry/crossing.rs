//! Where a straight level line leaves an outline.

use crate::base::number::Ratio;

use super::point::PlanPoint;
use super::polygon::{Outline, Whereabouts};

/// Which way a level line runs.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Heading {
    /// Where x grows.
    East,
    /// Where x falls.
    West,
    /// Where y grows.
    North,
    /// Where y falls.
    South,
}

impl Heading {
    fn along(self, point: &PlanPoint) -> &Ratio {
        if matches!(self, Heading::East | Heading::West) { &point.x } else { &point.y }
    }

    fn across(self, point: &PlanPoint) -> &Ratio {
        if matches!(self, Heading::East | Heading::West) { &point.y } else { &point.x }
    }

    fn point(self, along: Ratio, across: Ratio) -> PlanPoint {
        match self {
            Heading::East | Heading::West => PlanPoint::new(along, across),
            Heading::North | Heading::South => PlanPoint::new(across, along),
        }
    }
}

/// Where a level line meets the sides of an outline, each place once, in rising order.
fn meetings(outline: &Outline, heading: Heading, across: &Ratio) -> Vec<Ratio> {
    let mut found = Vec::new();
    for (a, b) in outline.sides() {
        let (from, to) = (heading.across(a) - across, heading.across(b) - across);
        if from.is_zero() {
            found.push(heading.along(a).clone());
        }
        if from.signum() * to.signum() < 0
            && let Some(share) = from.checked_div(&(&from - &to))
        {
            found.push(heading.along(a) + &share * (heading.along(b) - heading.along(a)));
        }
    }
    found.sort();
    found.dedup();
    found
}

/// The places at which a level line comes out of an outline.
///
/// # Meaning
/// The coordinates along the line at which what lies before is inside and what lies behind is outside, in the order in
/// which somebody meets them who goes that way. What goes along a wall is still inside; what only touches a corner from
/// outside never was.
/// # Formula
/// The line is cut at every side it meets; of each piece the middle is looked at.
/// # Valid for
/// Every outline. Empty where the line passes it by.
/// # Accuracy
/// Exact.
/// # Source
/// Elementary geometry.
/// # Errors
/// None.
/// # Example
/// ```
/// use undercroft::base::number::Ratio;
/// use undercroft::calc::geometry::{Heading, Outline, PlanPoint, ways_out};
/// let n = Ratio::from;
/// // An L of 40 x 24 and 16 x 20: at 22 north its east wall stands at 40, at 10 north at 56.
/// let ell = Outline::ell(&PlanPoint::new(n(0), n(0)), (&n(40), &n(24)), (&n(16), &n(20))).unwrap();
/// assert_eq!(ways_out(&ell, Heading::East, &n(22)), [n(40)]);
/// assert_eq!(ways_out(&ell, Heading::East, &n(10)), [n(56)]);
/// assert_eq!(ways_out(&ell, Heading::South, &n(50)), [n(0)]);
/// ```
#[must_use]
pub fn ways_out(outline: &Outline, heading: Heading, across: &Ratio) -> Vec<Ratio> {
    let mut met = meetings(outline, heading, across);
    if matches!(heading, Heading::West | Heading::South) {
        met.reverse();
    }
    let half = Ratio::new(1, 2).unwrap_or_default();
    let inside: Vec<bool> = met
        .iter()
        .zip(met.iter().skip(1))
        .map(|(from, to)| {
            let middle = heading.point((from + to) * &half, across.clone());
            outline.whereabouts(&middle) != Whereabouts::Outside
        })
        .collect();
    let before = std::iter::once(false).chain(inside.iter().copied());
    let behind = inside.iter().copied().chain(std::iter::once(false));
    let out = before.zip(behind).map(|(before, behind)| before && !behind);
    met.into_iter().zip(out).filter_map(|(place, out)| out.then_some(place)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: i64, y: i64) -> PlanPoint {
        PlanPoint::new(Ratio::from(x), Ratio::from(y))
    }

    fn out(corners: &[(i64, i64)], heading: Heading, across: i64) -> Vec<Ratio> {
        let outline = Outline::new(corners.iter().map(|(x, y)| at(*x, *y)).collect()).unwrap();
        ways_out(&outline, heading, &Ratio::from(across))
    }

    #[test]
    fn a_house_with_a_court_is_left_twice() {
        // A U open to the north: 30 wide, 20 deep, its court from 10 to 20 east and from 5 north on.
        let house = [(0, 0), (30, 0), (30, 20), (20, 20), (20, 5), (10, 5), (10, 20), (0, 20)];
        assert_eq!(out(&house, Heading::East, 12), [Ratio::from(10), Ratio::from(30)]);
        assert_eq!(out(&house, Heading::West, 12), [Ratio::from(20), Ratio::from(0)]);
        assert_eq!(out(&house, Heading::East, 2), [Ratio::from(30)]);
        // Along the wall of the court, which is still the house.
        assert_eq!(out(&house, Heading::East, 5), [Ratio::from(30)]);
        assert_eq!(out(&house, Heading::East, 21), []);
    }

    #[test]
    fn a_slanting_wall_is_met_where_it_stands() {
        // From (10, 0) to (6, 8): at 2 north a quarter of the way, 9 east.
        let room = [(0, 0), (10, 0), (6, 8), (0, 8)];
        assert_eq!(out(&room, Heading::East, 2), [Ratio::from(9)]);
        // A corner touched from outside was never gone through.
        assert_eq!(out(&[(0, 0), (4, 4), (0, 8)], Heading::North, 4), []);
    }
}
