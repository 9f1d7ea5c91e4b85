//! How points on a plan hang together.

use crate::base::number::Ratio;

use super::point::PlanPoint;

/// The square of the longest stretch that has to be bridged so that all points hang together.
///
/// # Meaning
/// With stretches of this length and no longer, one gets from each point to every other by way of the rest. For two
/// points it is the square of their distance; for one or none it is nought.
/// # Formula
/// The longest side of a tree of least length that joins the points, grown from the first by the nearest that is left.
/// # Valid for
/// All points.
/// # Accuracy
/// Exact.
/// # Source
/// Jarnik's and Prim's tree; its longest side is as short as that of any tree.
/// # Errors
/// None.
/// # Example
/// ```
/// use undercroft::base::number::Ratio;
/// use undercroft::calc::geometry::{PlanPoint, longest_link_squared};
/// let at = |x: i64, y: i64| PlanPoint::new(Ratio::from(x), Ratio::from(y));
/// // 30 apart in a row, though the ends are 60 apart
/// assert_eq!(longest_link_squared(&[at(0, 0), at(30, 0), at(60, 0)]), Ratio::from(900));
/// ```
#[must_use]
pub fn longest_link_squared(points: &[PlanPoint]) -> Ratio {
    let Some((first, rest)) = points.split_first() else { return Ratio::ZERO };
    let mut left: Vec<(Ratio, &PlanPoint)> =
        rest.iter().map(|point| (point.distance_squared(first), point)).collect();
    let mut longest = Ratio::ZERO;
    while let Some(at) =
        (0..left.len()).min_by(|a, b| left.get(*a).map(|it| &it.0).cmp(&left.get(*b).map(|it| &it.0)))
    {
        let (link, joined) = left.swap_remove(at);
        longest = longest.max(link);
        for (nearest, point) in &mut left {
            let squared = point.distance_squared(joined);
            if squared < *nearest {
                *nearest = squared;
            }
        }
    }
    longest
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: i64, y: i64) -> PlanPoint {
        PlanPoint::new(Ratio::from(x), Ratio::from(y))
    }

    #[test]
    fn two_pairs_far_from_each_other_do_not_hang_together_by_their_short_sides() {
        // Each has a neighbour 3 off, and yet the pairs lie 40 apart.
        let pairs = [at(0, 0), at(3, 0), at(43, 0), at(46, 0)];
        assert_eq!(longest_link_squared(&pairs), Ratio::from(1600));
    }

    #[test]
    fn the_order_of_the_points_is_of_no_matter() {
        let points = [at(0, 0), at(5, 12), at(40, 0), at(9, 12)];
        // 0-0 to 5-12 is 13, 5-12 to 9-12 is 4, 9-12 to 40-0 is the root of 31^2 + 12^2 = 1105
        let mut turned = points.clone();
        turned.reverse();
        assert_eq!(longest_link_squared(&points), Ratio::from(1105));
        assert_eq!(longest_link_squared(&turned), Ratio::from(1105));
        assert_eq!(longest_link_squared(&points[..1]), Ratio::ZERO);
        assert_eq!(longest_link_squared(&[]), Ratio::ZERO);
    }
}
