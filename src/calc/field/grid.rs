//! The grid: lines through the corners of what is drawn, and others between them, no wider apart than asked.

use crate::calc::amounts::{Length, Made, OutOfRange, within};

use super::Fill;

/// A point in plan, in metres.
pub(super) type Spot = (f64, f64);

/// More cells than this are not worked out.
pub(super) const MOST_CELLS: usize = 200_000;

/// Lines of one direction, rising.
fn lines(mut at: Vec<f64>, step: f64) -> Vec<f64> {
    at.sort_by(f64::total_cmp);
    let (Some(first), Some(last)) = (at.first().copied(), at.last().copied()) else { return Vec::new() };
    // lines that lie very close are one; what lies between them is cut by the outline anyway
    let mut kept = vec![first];
    for line in at {
        if line - kept.last().copied().unwrap_or(first) > 0.2 * step && last - line > 0.2 * step {
            kept.push(line);
        }
    }
    kept.push(last);
    let mut all = vec![first];
    for (a, b) in kept.iter().zip(kept.iter().skip(1)) {
        let parts = ((b - a) / step - 1e-9).ceil().max(1.0);
        let mut n = 1.0;
        while n <= parts {
            all.push(a + (b - a) * n / parts);
            n += 1.0;
        }
    }
    all
}

/// Rows and columns of cells.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Grid {
    pub(super) x: Vec<f64>,
    pub(super) y: Vec<f64>,
}

fn spots(outline: &crate::calc::geometry::Outline) -> Vec<Spot> {
    outline.corners().iter().map(|corner| (corner.x.to_f64(), corner.y.to_f64())).collect()
}

/// All edges that bound the fill, the fill on their left.
pub(super) fn edges(area: &Fill) -> Vec<(Spot, Spot)> {
    let ring = |corners: Vec<Spot>| -> Vec<(Spot, Spot)> {
        corners.iter().copied().zip(corners.iter().copied().cycle().skip(1)).collect()
    };
    let mut all = ring(spots(&area.outline));
    for hole in &area.holes {
        let mut corners = spots(hole);
        corners.reverse();
        all.extend(ring(corners));
    }
    all
}

/// Whether a spot lies in the fill.
pub(super) fn inside(edges: &[(Spot, Spot)], at: Spot) -> bool {
    let crossed = edges.iter().filter(|(a, b)| {
        let upward = a.1 <= at.1 && b.1 > at.1;
        let downward = b.1 <= at.1 && a.1 > at.1;
        (upward || downward) && a.0 + (at.1 - a.1) / (b.1 - a.1) * (b.0 - a.0) > at.0
    });
    crossed.count() % 2 == 1
}

impl Grid {
    /// The grid of an area with cells no wider than a step.
    pub(super) fn new(area: &Fill, step: Length) -> Result<Grid, OutOfRange> {
        let step = within("the width of the cells", step, 0.01, 10.0)?;
        let mut corners: Vec<Spot> = edges(area).into_iter().map(|(a, _)| a).collect();
        let (low, high) =
            corners.iter().fold(((f64::MAX, f64::MAX), (f64::MIN, f64::MIN)), |(low, high), (x, y)| {
                ((low.0.min(*x), low.1.min(*y)), (high.0.max(*x), high.1.max(*y)))
            });
        for (from, to) in &area.barriers {
            for end in [from, to] {
                let (x, y) = (end.x.to_f64(), end.y.to_f64());
                corners.push((x.clamp(low.0, high.0), y.clamp(low.1, high.1)));
            }
        }
        let x = lines(corners.iter().map(|corner| corner.0).collect(), step);
        let y = lines(corners.iter().map(|corner| corner.1).collect(), step);
        let cells = (x.len() * y.len()) as f64;
        let most = MOST_CELLS as f64;
        if cells > most {
            let least = step * (cells / most).sqrt();
            within("the width of the cells", Length::new(step), least.max(step * 1.001), 10.0)?;
        }
        Ok(Grid { x, y })
    }

    /// How many cells lie side by side.
    pub(super) fn wide(&self) -> usize {
        self.x.len().saturating_sub(1)
    }

    /// How many cells there are, inside or not.
    pub(super) fn count(&self) -> usize {
        self.wide() * self.y.len().saturating_sub(1)
    }

    /// The low and the high corner of a cell.
    pub(super) fn cell(&self, at: usize) -> Option<(Spot, Spot)> {
        let (column, row) = (at % self.wide().max(1), at / self.wide().max(1));
        let low = (*self.x.get(column)?, *self.y.get(row)?);
        Some((low, (*self.x.get(column + 1)?, *self.y.get(row + 1)?)))
    }

    /// The cell that holds a spot.
    pub(super) fn holding(&self, at: Spot) -> Option<usize> {
        let place = |lines: &[f64], value: f64| -> Option<usize> {
            if lines.first()? > &value || lines.last()? < &value {
                return None;
            }
            Some(lines.partition_point(|line| *line <= value).saturating_sub(1).min(lines.len() - 2))
        };
        Some(place(&self.y, at.1)? * self.wide() + place(&self.x, at.0)?)
    }
}

/// The part of a polygon, given by its edges, that lies in a box: its area. The edges are cut to the box, and what runs outside
/// is pressed against its sides, which leaves the area within as it is.
pub(super) fn area_within(edges: &[(Spot, Spot)], low: Spot, high: Spot) -> f64 {
    // area to the left of each edge, down to the foot of the box, within the box's columns
    let mut area = 0.0;
    for (a, b) in edges {
        let (left, right) = (a.0.min(b.0).max(low.0), a.0.max(b.0).min(high.0));
        if right <= left {
            continue;
        }
        let height = |x: f64| a.1 + (b.1 - a.1) * (x - a.0) / (b.0 - a.0) - low.1;
        let top = high.1 - low.1;
        // the mean of a line clipped to the box's height, over its stretch
        let mut cuts = vec![left, right];
        if (b.1 - a.1).abs() > 0.0 {
            for level in [0.0, top] {
                let x = a.0 + (level + low.1 - a.1) * (b.0 - a.0) / (b.1 - a.1);
                if left < x && x < right {
                    cuts.push(x);
                }
            }
        }
        cuts.sort_by(f64::total_cmp);
        let mut under = 0.0;
        for (from, to) in cuts.iter().zip(cuts.iter().skip(1)) {
            under += (to - from) * height(0.5 * (from + to)).clamp(0.0, top);
        }
        // an edge with the fill on its left that runs west has the fill below it
        area += if b.0 < a.0 { under } else { -under };
    }
    area.clamp(0.0, (high.0 - low.0) * (high.1 - low.1))
}

/// How much of an upright or level stretch lies in the fill.
pub(super) fn length_within(edges: &[(Spot, Spot)], from: Spot, to: Spot) -> f64 {
    let upright = (from.0 - to.0).abs() < (from.1 - to.1).abs();
    let turn = |spot: Spot| if upright { (spot.1, spot.0) } else { spot };
    let (from, to) = (turn(from), turn(to));
    // just inside the stretch's own side, so that an edge along it is not met
    let level = from.1;
    let mut cuts = vec![from.0, to.0];
    for (a, b) in edges {
        let (a, b) = (turn(*a), turn(*b));
        if (a.1 - level) * (b.1 - level) < 0.0 {
            let x = a.0 + (level - a.1) / (b.1 - a.1) * (b.0 - a.0);
            if from.0 < x && x < to.0 {
                cuts.push(x);
            }
        }
        for end in [a, b] {
            if (end.1 - level).abs() < 1e-12 && from.0 < end.0 && end.0 < to.0 {
                cuts.push(end.0);
            }
        }
    }
    cuts.sort_by(f64::total_cmp);
    let mut length = 0.0;
    let width = to.0 - from.0;
    for (a, b) in cuts.iter().zip(cuts.iter().skip(1)) {
        if b - a < 1e-12 {
            continue;
        }
        // open only where both sides are fill
        let nudge = 1e-7 * width;
        let both =
            [level - nudge, level + nudge].iter().all(|beside| inside(edges, turn((0.5 * (a + b), *beside))));
        if both {
            length += b - a;
        }
    }
    length
}
