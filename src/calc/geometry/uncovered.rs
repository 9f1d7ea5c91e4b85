//! How much of an outline is left when others are laid over it.

use super::point::{PlanPoint, side};
use super::polygon::Outline;
use crate::base::number::Ratio;

/// The most sides all outlines together may have: the work grows with the cube of it.
const MOST_SIDES: usize = 160;

/// The area of an outline that none of the others covers.
///
/// # Meaning
/// The bare floor of a room, seen from above, with sheets and slabs lying on it.
/// # Formula
/// The plan is cut into strips at every corner and wherever two sides cross. In a strip no side begins, ends or crosses
/// another, so what is bare of it is its width times what is bare along its middle line.
/// # Valid for
/// Outlines that overlap, touch, lie apart or reach beyond the floor in any way.
/// # Accuracy
/// Exact.
/// # Source
/// Elementary geometry: the area of a trapezoid.
/// # Errors
/// Nothing when the outlines have too many sides together.
/// # Example
/// ```
/// use undercroft::base::number::Ratio;
/// use undercroft::calc::geometry::{Outline, PlanPoint, uncovered};
/// let n = Ratio::from;
/// let floor = Outline::rectangle(&PlanPoint::new(n(0), n(0)), &n(16), &n(20)).unwrap();
/// let sheet = Outline::rectangle(&PlanPoint::new(n(0), n(0)), &n(16), &n(15)).unwrap();
/// assert_eq!(uncovered(&floor, &[sheet]), Some(n(80)));
/// ```
#[must_use]
pub fn uncovered(floor: &Outline, covers: &[Outline]) -> Option<Ratio> {
    let all: Vec<&Outline> = std::iter::once(floor).chain(covers).collect();
    if all.iter().map(|outline| outline.corners().len()).sum::<usize>() > MOST_SIDES {
        return None;
    }
    let cuts = cuts(&all);
    let half = Ratio::new(1, 2)?;
    let strips = cuts.iter().zip(cuts.iter().skip(1));
    let areas =
        strips.map(|(west, east)| (east - west) * bare_along(&((west + east) * &half), floor, covers));
    Some(areas.sum())
}

/// Where strips begin and end, from west to east: every corner, and every place where sides of two outlines cross.
fn cuts(all: &[&Outline]) -> Vec<Ratio> {
    let mut cuts: Vec<Ratio> =
        all.iter().flat_map(|outline| outline.corners().iter().map(|corner| corner.x.clone())).collect();
    for (at, one) in all.iter().enumerate() {
        for other in all.iter().skip(at + 1) {
            for (a, b) in one.sides() {
                cuts.extend(other.sides().filter_map(|(c, d)| crossing(a, b, c, d)));
            }
        }
    }
    cuts.sort_unstable();
    cuts.dedup();
    cuts
}

/// How far east two sides cross, where they do so inside both.
fn crossing(a: &PlanPoint, b: &PlanPoint, c: &PlanPoint, d: &PlanPoint) -> Option<Ratio> {
    let (from, to) = (side(c, d, a), side(c, d, b));
    let (low, high) = (side(a, b, c), side(a, b, d));
    if from.signum() * to.signum() >= 0 || low.signum() * high.signum() >= 0 {
        return None;
    }
    let share = from.checked_div(&(&from - &to))?;
    Some(&a.x + &share * (&b.x - &a.x))
}

/// Where a line straight north goes into an outline and out of it again.
fn inside(outline: &Outline, x: &Ratio) -> Vec<(Ratio, Ratio)> {
    let mut meets: Vec<Ratio> = outline
        .sides()
        .filter(|(a, b)| (&a.x < x) != (&b.x < x))
        .filter_map(|(a, b)| {
            let share = (x - &a.x).checked_div(&(&b.x - &a.x))?;
            Some(&a.y + &share * (&b.y - &a.y))
        })
        .collect();
    meets.sort_unstable();
    let mut stretches = Vec::new();
    let mut rest = meets.into_iter();
    while let (Some(low), Some(high)) = (rest.next(), rest.next()) {
        stretches.push((low, high));
    }
    stretches
}

/// How much of a line straight north is floor that nothing covers.
fn bare_along(x: &Ratio, floor: &Outline, covers: &[Outline]) -> Ratio {
    let mut covered: Vec<(Ratio, Ratio)> = covers.iter().flat_map(|cover| inside(cover, x)).collect();
    covered.sort_unstable();
    let mut bare = Ratio::ZERO;
    for (low, high) in inside(floor, x) {
        let mut reached = low;
        for (from, to) in &covered {
            if from > &reached {
                bare = bare + (from.clone().min(high.clone()) - &reached);
            }
            reached = reached.max(to.clone().min(high.clone()));
            if reached >= high {
                break;
            }
        }
        if reached < high {
            bare = bare + (high - &reached);
        }
    }
    bare
}

#[cfg(test)]
mod tests {
    use super::*;

    fn made(corners: &[(i64, i64)]) -> Outline {
        Outline::new(corners.iter().map(|(x, y)| PlanPoint::new(Ratio::from(*x), Ratio::from(*y))).collect())
            .unwrap()
    }

    fn bare(floor: &[(i64, i64)], covers: &[&[(i64, i64)]]) -> Ratio {
        let covers: Vec<Outline> = covers.iter().map(|cover| made(cover)).collect();
        uncovered(&made(floor), &covers).unwrap()
    }

    const FLOOR: &[(i64, i64)] = &[(0, 0), (10, 0), (10, 10), (0, 10)];

    // By hand, with the areas of rectangles and triangles.
    #[test]
    fn what_is_left_is_as_worked_out_by_hand() {
        assert_eq!(bare(FLOOR, &[]), Ratio::from(100));
        assert_eq!(bare(FLOOR, &[FLOOR]), Ratio::ZERO);
        // a strip of 2 along the east side is left bare
        assert_eq!(bare(FLOOR, &[&[(0, 0), (8, 0), (8, 10), (0, 10)]]), Ratio::from(20));
        // two sheets that overlap: 6 x 10 and 5 x 10 from x = 5 cover all
        assert_eq!(
            bare(FLOOR, &[&[(0, 0), (6, 0), (6, 10), (0, 10)], &[(5, 0), (10, 0), (10, 10), (5, 10)]]),
            Ratio::ZERO
        );
        // half of the floor, cut from corner to corner
        assert_eq!(bare(FLOOR, &[&[(0, 0), (10, 0), (10, 10)]]), Ratio::from(50));
        // two triangles that cross at the middle cover three quarters
        assert_eq!(
            bare(FLOOR, &[&[(0, 0), (10, 0), (10, 10)], &[(0, 0), (10, 0), (0, 10)]]),
            Ratio::from(25)
        );
        // a sheet that reaches beyond the walls counts only as far as the floor goes
        assert_eq!(bare(FLOOR, &[&[(-5, -5), (5, -5), (5, 5), (-5, 5)]]), Ratio::from(75));
        // a slab in the middle that leaves a ring
        assert_eq!(bare(FLOOR, &[&[(2, 2), (8, 2), (8, 8), (2, 8)]]), Ratio::from(64));
        // something that lies elsewhere
        assert_eq!(bare(FLOOR, &[&[(20, 0), (30, 0), (30, 10), (20, 10)]]), Ratio::from(100));
    }

    #[test]
    fn an_l_shaped_floor_is_counted_without_its_notch() {
        let ell = &[(0, 0), (10, 0), (10, 4), (4, 4), (4, 10), (0, 10)];
        // 40 + 24 in all; the sheet over the whole square covers it
        assert_eq!(bare(ell, &[]), Ratio::from(64));
        assert_eq!(bare(ell, &[FLOOR]), Ratio::ZERO);
        assert_eq!(bare(ell, &[&[(0, 0), (10, 0), (10, 4), (0, 4)]]), Ratio::from(24));
    }

    #[test]
    fn too_many_sides_are_not_worked_out() {
        let many: Vec<(i64, i64)> = (0..170).map(|n| (n, n * n)).collect();
        assert_eq!(uncovered(&made(FLOOR), &[made(&many)]), None);
    }
}
