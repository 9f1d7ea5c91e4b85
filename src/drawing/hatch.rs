//! Strokes that fill an outline, so that shades can be told apart without colour.

use super::scene::{Frame, Pen, Spot};

/// How a shade is hatched.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Hatching {
    /// How far apart the strokes are.
    pub(crate) apart: f64,
    /// Whether they rise to the left rather than to the right.
    pub(crate) leftward: bool,
    /// The pen that draws them.
    pub(crate) pen: Pen,
}

/// Where a level line at a height passes through the inside of rings, as stretches.
fn inside(rings: &[Vec<Spot>], y: f64) -> Vec<(f64, f64)> {
    let mut cuts = Vec::new();
    for ring in rings {
        for (a, b) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            if (a.y <= y) != (b.y <= y) {
                cuts.push(a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x));
            }
        }
    }
    cuts.sort_by(f64::total_cmp);
    let (odd, even): (Vec<_>, Vec<_>) = cuts.into_iter().enumerate().partition(|(at, _)| at % 2 == 0);
    odd.into_iter().zip(even).map(|((_, from), (_, to))| (from, to)).collect()
}

fn both(some: &[(f64, f64)], others: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut found = Vec::new();
    for (a, b) in some {
        for (c, d) in others {
            let (from, to) = (a.max(*c), b.min(*d));
            if to > from {
                found.push((from, to));
            }
        }
    }
    found
}

/// Stretches that touch, put together.
fn joined(mut stretches: Vec<(f64, f64)>) -> Vec<(f64, f64)> {
    stretches.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut found: Vec<(f64, f64)> = Vec::new();
    for (from, to) in stretches {
        match found.last_mut() {
            Some(last) if from <= last.1 + 1e-6 => last.1 = last.1.max(to),
            _ => found.push((from, to)),
        }
    }
    found
}

/// Strokes over all of several boxes, as far as they lie within an outline.
pub(crate) fn strokes(boxes: &[Frame], within: &[Vec<Spot>], how: Hatching) -> Vec<(Spot, Spot)> {
    // Everything is turned so that the strokes lie level, and turned back.
    let sign = if how.leftward { -1.0 } else { 1.0 };
    let half = std::f64::consts::FRAC_1_SQRT_2;
    let turn = |spot: Spot| Spot::at((spot.x - sign * spot.y) * half, (sign * spot.x + spot.y) * half);
    let back = |spot: Spot| Spot::at((spot.x + sign * spot.y) * half, (spot.y - sign * spot.x) * half);
    let ring = |frame: &Frame| -> Vec<Spot> {
        let Frame { low, high } = *frame;
        [low, Spot::at(high.x, low.y), high, Spot::at(low.x, high.y)].into_iter().map(turn).collect()
    };
    let outline: Vec<Vec<Spot>> =
        within.iter().map(|ring| ring.iter().copied().map(turn).collect()).collect();
    let boxes: Vec<Vec<Spot>> = boxes.iter().map(ring).collect();
    let Some(extent) = Frame::round(boxes.iter().flatten().copied()) else { return Vec::new() };
    let mut found = Vec::new();
    let mut y = (extent.low.y / how.apart).floor() * how.apart + how.apart / 2.0;
    while y < extent.high.y {
        let near =
            boxes.iter().filter(|ring| ring.iter().any(|at| at.y <= y) && ring.iter().any(|at| at.y > y));
        let over = joined(near.flat_map(|one| inside(std::slice::from_ref(one), y)).collect());
        let over = if outline.is_empty() { over } else { both(&over, &inside(&outline, y)) };
        for (from, to) in over {
            found.push((back(Spot::at(from, y)), back(Spot::at(to, y))));
        }
        y += how.apart;
    }
    found
}

/// What is left of strokes outside of boxes, so that words in them are read without a hole in what is behind.
pub(crate) fn clear_of(strokes: &[(Spot, Spot)], boxes: &[Frame]) -> Vec<(Spot, Spot)> {
    let mut left = strokes.to_vec();
    let all = Frame::round(strokes.iter().flat_map(|(from, to)| [*from, *to]));
    for frame in boxes.iter().filter(|one| all.is_some_and(|all| all.wider(1.0).meets(one))) {
        let mut parts = Vec::with_capacity(left.len());
        for (from, to) in left {
            match frame.cut(from, to) {
                None => parts.push((from, to)),
                Some((enters, leaves)) => {
                    let ends = [(0.0, enters), (leaves, 1.0)].into_iter().filter(|(a, b)| b - a > 1e-6);
                    parts.extend(ends.map(|(a, b)| (from.toward(to, a), from.toward(to, b))));
                }
            }
        }
        left = parts;
    }
    left
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strokes_leave_out_boxes_and_nothing_else() {
        // A box from 4 to 6 takes two tenths out of a stroke of ten through it, and nothing of one beside it.
        let (through, beside) =
            ((Spot::at(0.0, 5.0), Spot::at(10.0, 5.0)), (Spot::at(0.0, 7.0), Spot::at(10.0, 7.0)));
        let found = clear_of(&[through, beside], &[Frame::of(4.0, 4.0, 6.0, 6.0)]);
        let long: Vec<f64> = found.iter().map(|(a, b)| a.away(*b)).collect();
        assert_eq!(long, [4.0, 4.0, 10.0]);
    }

    #[test]
    fn strokes_stay_within_the_outline_and_fill_it() {
        // A square of 10 with strokes 1 apart: together they are as long as its area, 100.
        let square = Frame::of(0.0, 0.0, 10.0, 10.0);
        let how = Hatching { apart: 1.0, leftward: false, pen: Pen::Hatch };
        let found = strokes(&[square], &[], how);
        let long: f64 = found.iter().map(|(a, b)| a.away(*b)).sum();
        assert!((long - 100.0).abs() < 3.0, "{long}");
        assert!(found.iter().all(|(a, b)| square.wider(1e-9).holds(Frame { low: *a, high: *a }.with(*b))));
        // Half of it, by a triangle.
        let triangle = vec![Spot::at(0.0, 0.0), Spot::at(10.0, 0.0), Spot::at(0.0, 10.0)];
        for leftward in [false, true] {
            let found = strokes(&[square], std::slice::from_ref(&triangle), Hatching { leftward, ..how });
            let long: f64 = found.iter().map(|(a, b)| a.away(*b)).sum();
            assert!((long - 50.0).abs() < 4.0, "{long}");
        }
    }
}
