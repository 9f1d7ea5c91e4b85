//! Membrane from rolls over a floor of any outline.

use crate::calc::amounts::{Area, Length, Made, OutOfRange, within};
use crate::calc::geometry::Outline;

/// What a floor is covered with.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Cover {
    /// How far the membrane goes up the walls.
    pub turn_up: Length,
    /// The width of the roll.
    pub roll: Length,
    /// How far one strip lies over the next.
    pub lap: Length,
}

/// Which way strips lie.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Lie {
    /// From west to east.
    Eastward,
    /// From south to north.
    Northward,
}

/// Strips over a floor.
#[derive(Clone, PartialEq, Debug)]
pub struct Strips {
    /// The length of each strip, in the order they are laid; a row that the floor parts is several.
    pub strips: Vec<Length>,
    /// All that is cut off the roll.
    pub off_the_roll: Area,
    /// The seams between strips.
    pub seams: Length,
    /// The edge along the walls.
    pub edge: Length,
}

/// The strips, seams and edge of a floor with any outline.
///
/// # Meaning
/// Strips lie side by side, each over the next by the lap; the membrane goes up every wall. Of each strip as much is cut as
/// the floor under it is long, where it is longest, and the turn-ups at its ends.
/// # Formula
/// Rows: `(W + 2 t - lap) / (roll - lap)`, up to the next whole one. A row is as long as what lies under it, or within a
/// turn-up of it, and `2 t` more.
/// # Valid for
/// Outlines up to 200 m across, turn-ups of 0 to 3 m, rolls of 0.3 to 20 m, laps of less than half a roll.
/// # Accuracy
/// Exact for outlines with square corners. The ends of strips along slanting walls are cut square.
/// # Source
/// Geometry.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::base::number::Ratio;
/// use undercroft::calc::{amounts::*, geometry::{Outline, PlanPoint}, takeoff::{Cover, Lie, strips}};
/// let m = |value: i64| Ratio::from(value);
/// // an L of 10 x 6 m, with 4 x 2 m more against its east side, flush with its south side
/// let floor = Outline::ell(&PlanPoint::new(m(0), m(0)), (&m(10), &m(6)), (&m(4), &m(2))).unwrap();
/// let none = Length::written("0 m").unwrap();
/// let cover = Cover { turn_up: none, roll: Length::written("2 m").unwrap(), lap: none };
/// // the southern row is 14 m long, the other two 10 m
/// let laid = strips(&floor, &cover, Lie::Eastward).unwrap();
/// assert_eq!(laid.strips.iter().map(|strip| strip.to_si().round()).collect::<Vec<_>>(), [14.0, 10.0, 10.0]);
/// assert!((laid.seams.to_si() - 20.0).abs() < 1e-9);
/// ```
pub fn strips(floor: &Outline, cover: &Cover, lie: Lie) -> Result<Strips, OutOfRange> {
    let corners: Vec<(f64, f64)> = floor
        .corners()
        .iter()
        .map(|corner| {
            let (x, y) = (corner.x.to_f64(), corner.y.to_f64());
            if lie == Lie::Eastward { (x, y) } else { (y, x) }
        })
        .collect();
    let across = |pick: fn(f64, f64) -> f64, start: f64| corners.iter().map(|(_, v)| *v).fold(start, pick);
    let (first, last) = (across(f64::min, f64::INFINITY), across(f64::max, f64::NEG_INFINITY));
    let wide = within("the width of the floor", Length::new(last - first), 0.01, 200.0)?;
    let t = within("the turn-up", cover.turn_up, 0.0, 3.0)?;
    let roll = within("the width of the roll", cover.roll, 0.3, 20.0)?;
    let lap = within("the lap", cover.lap, 0.0, 0.5 * roll)?;
    let rows = ((wide + 2.0 * t - lap) / (roll - lap) - 1e-9).ceil().max(1.0) as u32;
    let laid: Vec<Vec<(f64, f64)>> = (0..rows)
        .map(|row| {
            let from = first - t + f64::from(row) * (roll - lap);
            let under = spans(&corners, (from - t).max(first), (from + roll + t).min(last));
            joined(under.into_iter().map(|(low, high)| (low - t, high + t)).collect())
        })
        .collect();
    let lengths = || laid.iter().flatten().map(|(low, high)| high - low);
    let seams = laid.iter().zip(laid.iter().skip(1)).map(|(one, next)| shared(one, next)).sum();
    let edge = floor.sides().map(|(a, b)| a.distance_squared(b).to_f64().sqrt()).sum();
    Ok(Strips {
        strips: lengths().map(Length::new).collect(),
        off_the_roll: Area::new(lengths().sum::<f64>() * roll),
        seams: Length::new(seams),
        edge: Length::new(edge),
    })
}

/// The stretches of a floor that lie anywhere between two lines across.
fn spans(corners: &[(f64, f64)], from: f64, to: f64) -> Vec<(f64, f64)> {
    // Strips that lie on a wall alone take what lies just inside of it.
    let hair = 1e-6;
    let (from, to) = if to - from < hair { (from.min(to) - hair, from.max(to) + hair) } else { (from, to) };
    let mut cuts: Vec<f64> = corners.iter().map(|(_, v)| *v).filter(|v| from < *v && *v < to).collect();
    cuts.extend([from, to]);
    cuts.sort_by(f64::total_cmp);
    let mut found = Vec::new();
    // What is thinner than half of that is only a matter of rounding.
    let bands = cuts.iter().zip(cuts.iter().skip(1)).filter(|(low, high)| *high - *low > 0.5 * hair);
    for (low, high) in bands {
        let middle = 0.5 * (low + high);
        let ends = corners.iter().zip(corners.iter().cycle().skip(1));
        let mut sides: Vec<(f64, f64, f64)> = ends
            .filter(|((_, a), (_, b))| (*a <= middle) != (*b <= middle))
            .map(|((x, a), (y, b))| {
                let at = |v: f64| x + (y - x) * (v - a) / (b - a);
                (at(middle), at(*low), at(*high))
            })
            .collect();
        sides.sort_by(|a, b| a.0.total_cmp(&b.0));
        let pairs = sides.iter().step_by(2).zip(sides.iter().skip(1).step_by(2));
        found.extend(pairs.map(|(left, right)| (left.1.min(left.2), right.1.max(right.2))));
    }
    joined(found)
}

/// Stretches with those put together that touch.
fn joined(mut spans: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut found: Vec<(f64, f64)> = Vec::new();
    for (low, high) in spans {
        match found.last_mut() {
            Some((_, end)) if low <= *end + 1e-9 => *end = end.max(high),
            _ => found.push((low, high)),
        }
    }
    found
}

/// How far two rows lie beside each other.
fn shared(one: &[(f64, f64)], next: &[(f64, f64)]) -> f64 {
    let pairs = one.iter().flat_map(|a| next.iter().map(move |b| (a, b)));
    pairs.map(|(a, b)| (a.1.min(b.1) - a.0.max(b.0)).max(0.0)).sum()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::base::number::Ratio;
    use crate::calc::amounts::Amount;
    use crate::calc::geometry::PlanPoint;
    use crate::calc::takeoff::{Floor, sheets};

    fn feet(value: f64) -> Length {
        Length::new(value * 0.3048)
    }

    fn plan(corners: &[(i64, i64)]) -> Outline {
        let foot = Ratio::new(3_048, 10_000).unwrap();
        let at = |value: i64| &foot * &Ratio::from(value);
        Outline::new(corners.iter().map(|(x, y)| PlanPoint::new(at(*x), at(*y))).collect()).unwrap()
    }

    fn in_feet(strips: &Strips) -> Vec<f64> {
        strips.strips.iter().map(|strip| (strip.to_si() / 0.3048 * 100.0).round() / 100.0).collect()
    }

    #[test]
    fn a_step_in_the_wall_is_turned_up_too() {
        // An L: 20 ft along the south, 10 ft along the north; the step lies 10 ft up. Rolls of 10 ft, a turn-up of 1 ft,
        // no lap: rows from -1 to 9, 9 to 19, 19 to 21. The second covers the foot of the step, 10 ft up, and the third
        // only the turn-up of the north wall.
        let floor = plan(&[(0, 0), (20, 0), (20, 10), (10, 10), (10, 20), (0, 20)]);
        let cover = Cover { turn_up: feet(1.0), roll: feet(10.0), lap: feet(0.0) };
        assert_eq!(in_feet(&strips(&floor, &cover, Lie::Eastward).unwrap()), [22.0, 22.0, 12.0]);
    }

    #[test]
    fn a_row_that_the_floor_parts_is_two_strips() {
        // A U with legs 6 ft wide and 8 ft between them, over a bar of 4 ft.
        let floor = plan(&[(0, 0), (20, 0), (20, 12), (14, 12), (14, 4), (6, 4), (6, 12), (0, 12)]);
        let cover = Cover { turn_up: feet(0.0), roll: feet(4.0), lap: feet(0.0) };
        let laid = strips(&floor, &cover, Lie::Eastward).unwrap();
        assert_eq!(in_feet(&laid), [20.0, 6.0, 6.0, 6.0, 6.0]);
        // The seams: 12 ft between the bar and the legs, 12 ft between the rows of the legs.
        assert!((laid.seams.to_si() / 0.3048 - 24.0).abs() < 1e-6);
        // Round it: 20 + 12 + 6 + 8 + 8 + 8 + 6 + 12.
        assert!((laid.edge.to_si() / 0.3048 - 80.0).abs() < 1e-6);
    }

    #[test]
    fn a_slanting_wall_is_covered_to_its_farthest_point() {
        let floor = plan(&[(0, 0), (12, 0), (0, 12)]);
        let cover = Cover { turn_up: feet(0.0), roll: feet(4.0), lap: feet(0.0) };
        assert_eq!(in_feet(&strips(&floor, &cover, Lie::Eastward).unwrap()), [12.0, 8.0, 4.0]);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn a_rectangle_takes_what_the_rule_for_rectangles_says(
            long in 10..80_i64, wide in 8..60_i64, up in 0..3_u8, roll in 6..20_u8, lap in 0..2_u8,
        ) {
            let floor = plan(&[(0, 0), (long, 0), (long, wide), (0, wide)]);
            let cover = Cover { turn_up: feet(up.into()), roll: feet(roll.into()), lap: feet(lap.into()) };
            let plain = sheets(&Floor {
                length: feet(long as f64), width: feet(wide as f64),
                turn_up: cover.turn_up, roll: cover.roll, lap: cover.lap, piers: Vec::new(),
            }).unwrap();
            let laid = strips(&floor, &cover, Lie::Eastward).unwrap();
            prop_assert_eq!(laid.strips.len() as u32, plain.strips);
            for strip in &laid.strips {
                prop_assert!((strip.to_si() - plain.strip.to_si()).abs() < 1e-6);
            }
            prop_assert!((laid.seams.to_si() - plain.seams.to_si()).abs() < 1e-6);
            prop_assert!((laid.edge.to_si() - plain.edge.to_si()).abs() < 1e-6);
        }
    }
}
