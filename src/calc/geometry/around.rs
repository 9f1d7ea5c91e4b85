//! The shortest way round something solid: a string drawn tight that stays out of it.

use crate::base::number::{Number, Ratio};

use super::point::{PlanPoint, Point};
use super::solid::Block;

/// The shortest way in plan between two points that stays out of a rectangle.
///
/// # Meaning
/// The straight distance where nothing is in the way; otherwise the length of a string that touches the
/// rectangle at one or more corners. Sliding along a side is allowed.
/// # Formula
/// The least, over the corners and rows of neighbouring corners that can be reached without crossing the
/// inside, of the sum of the straight pieces.
/// # Valid for
/// Points outside the rectangle or on its sides.
/// # Accuracy
/// A single straight piece is the root of its exact square; a sum of pieces is exact where each is a ratio
/// and otherwise a range narrower than a nanometre.
/// # Source
/// The shortest way round a convex outline runs along its hull with the two ends.
/// # Errors
/// `None` when a point lies inside.
/// # Example
/// ```
/// use undercroft::base::number::{Number, Ratio};
/// use undercroft::calc::geometry::{around_in_plan, PlanPoint};
/// let at = |x, y| PlanPoint::new(Ratio::from(x), Ratio::from(y));
/// // past the corners (0, 0) and (10, 0): 5 + 10 + 5
/// let way = around_in_plan(&at(0, 0), &at(10, 9), &at(-3, 4), &at(13, 4));
/// assert_eq!(way, Some(Number::whole(20)));
/// ```
#[must_use]
pub fn around_in_plan(low: &PlanPoint, high: &PlanPoint, a: &PlanPoint, b: &PlanPoint) -> Option<Number> {
    let house = Block::between(&low.at(Ratio::ZERO), &high.at(Ratio::ONE));
    let middle = Ratio::new(1, 2)?;
    let (start, end) = (a.at(middle.clone()), b.at(middle.clone()));
    if is_inside(&house, &start) || is_inside(&house, &end) {
        return None;
    }
    if !house.blocks(&start, &end) {
        return Some(start.distance(&end));
    }
    let (l, h) = (house.low(), house.high());
    let corner = |x: &Ratio, y: &Ratio| Point::new(x.clone(), y.clone(), middle.clone());
    let round = [corner(&l.x, &l.y), corner(&h.x, &l.y), corner(&h.x, &h.y), corner(&l.x, &h.y)];
    let mut ways = Vec::new();
    for first in 0..round.len() {
        for leftward in [true, false] {
            let walk = round.iter().cycle().skip(first);
            let backward = round.iter().rev().cycle().skip(round.len() - 1 - first);
            let row: Vec<&Point> = if leftward { walk.take(3).collect() } else { backward.take(3).collect() };
            for length in 1..=row.len() {
                let touched = row.iter().take(length).copied();
                let way: Vec<&Point> = std::iter::once(&start).chain(touched).chain([&end]).collect();
                let pieces: Vec<(&Point, &Point)> =
                    way.iter().copied().zip(way.iter().copied().skip(1)).collect();
                if pieces.iter().all(|(from, to)| !house.blocks(from, to)) {
                    let lengths: Vec<Number> = pieces.iter().map(|(from, to)| from.distance(to)).collect();
                    ways.push(Number::sum(&lengths));
                }
            }
        }
    }
    Number::least(&ways)
}

fn is_inside(block: &Block, point: &Point) -> bool {
    let (l, h) = (block.low(), block.high());
    l.x < point.x && point.x < h.x && l.y < point.y && point.y < h.y && l.z < point.z && point.z < h.z
}

/// A straight edge of a box that is not on the ground, with the two faces that meet in it. Faces: 0 west,
/// 1 east, 2 south, 3 north, 4 top.
struct Edge {
    from: [f64; 3],
    to: [f64; 3],
    faces: [usize; 2],
}

/// The shortest way between two points that stays out of a box standing on the ground, and above the
/// ground it stands on.
///
/// # Meaning
/// The straight distance where the box is not in the way; otherwise the length of a string drawn tight
/// over its roof or round its corners, whichever is shorter.
/// # Formula
/// The least, over the rows of up to four edges of which each shares a face with the next, of the sum of
/// the straight pieces, each touching point free along its edge. That sum is convex in the places of the
/// touching points.
/// # Valid for
/// Points outside the box or on its faces, not below its foot. The box has a length, a width and a height.
/// # Accuracy
/// Straight: the root of the exact square. Otherwise a range 2e-10 of the length wide; the search goes on
/// until a whole round of moving every touching point gains less than 1e-15 of the length.
/// # Source
/// The shortest way round a convex body runs on the hull of the body and the two ends; on each face it is
/// straight, and it passes no corner of the body.
/// # Errors
/// `None` when a point lies inside or below the foot.
/// # Example
/// ```
/// use undercroft::base::number::Ratio;
/// use undercroft::calc::geometry::{around_block, Block, Point};
/// let at = |x, y, z| Point::new(Ratio::from(x), Ratio::from(y), Ratio::from(z));
/// let house = Block::between(&at(0, 0, 0), &at(10, 60, 8));
/// // over two roof edges, unfolded: sqrt((5 + 10 + 5)^2 + 21^2) = 29
/// let way = around_block(&house, &at(-3, 20, 4), &at(13, 41, 4)).unwrap();
/// assert!((way.to_f64_mid() - 29.0).abs() < 1e-9);
/// ```
#[must_use]
pub fn around_block(block: &Block, a: &Point, b: &Point) -> Option<Number> {
    let foot = &block.low().z;
    if is_inside(block, a) || is_inside(block, b) || &a.z < foot || &b.z < foot {
        return None;
    }
    if !block.blocks(a, b) {
        return Some(a.distance(b));
    }
    let best = shortest_round_si(block, a, b)?;
    let slack = best * 1e-10;
    Number::from_f64_range(best - slack, best + slack)
}

/// How finely a target is looked at: so many steps along each of its sides.
const STEPS: i64 = 4;

/// Between what the shortest way from a point to the nearest point of a target lies, round a box that stands on the
/// ground.
///
/// # Meaning
/// What a tape shows that is drawn tight from the point to whichever place of a window or a wall it reaches first.
/// # Formula
/// At most the shortest of the ways to the places of a grid on the target; at least that less the farthest that any
/// place of the target lies from the grid, because a way to one place is no longer than one to another and the straight
/// stretch between the two.
/// # Valid for
/// As `around_block`, for every place of the grid; the target may be flat.
/// # Accuracy
/// A range, half as wide as the diagonal of a step of the grid, of which there are four along each side.
/// # Source
/// The triangle inequality.
/// # Errors
/// `None` when a place of the grid or the point lies inside the box or below its foot.
/// # Example
/// ```
/// use undercroft::base::number::Ratio;
/// use undercroft::calc::geometry::{Block, Point, around_to};
/// let at = |x, y, z| Point::new(Ratio::from(x), Ratio::from(y), Ratio::from(z));
/// let house = Block::between(&at(0, 0, 0), &at(10, 60, 8));
/// // the way to the place (13, 41, 4) of the target is 29, over two roof edges
/// let way = around_to(&house, &at(-3, 20, 4), &Block::between(&at(13, 41, 4), &at(13, 45, 4))).unwrap();
/// assert!((way.high().to_f64() - 29.0).abs() < 1e-6 && (way.low().to_f64() - 28.5).abs() < 1e-6);
/// ```
#[must_use]
pub fn around_to(block: &Block, from: &Point, to: &Block) -> Option<Number> {
    let (low, high) = (to.low(), to.high());
    let steps = Ratio::from(STEPS);
    let step = |a: &Ratio, b: &Ratio| (b - a).checked_div(&steps);
    let (x, y, z) = (step(&low.x, &high.x)?, step(&low.y, &high.y)?, step(&low.z, &high.z)?);
    let count = |step: &Ratio| if step.is_zero() { 0 } else { STEPS };
    let mut ways = Vec::new();
    for i in 0..=count(&x) {
        for j in 0..=count(&y) {
            for k in 0..=count(&z) {
                let (i, j, k) = (Ratio::from(i), Ratio::from(j), Ratio::from(k));
                let place = low.moved(&(&x * &i), &(&y * &j), &(&z * &k));
                ways.push(around_block(block, from, &place)?);
            }
        }
    }
    let nearest = Number::least(&ways)?;
    let diagonal = Point::new(Ratio::ZERO, Ratio::ZERO, Ratio::ZERO).distance(&Point::new(x, y, z));
    let half = &diagonal * &Number::exact(Ratio::new(1, 2)?);
    Some(Number::between((&nearest - &half).low(), nearest.high()))
}

/// Which faces a point lies strictly behind: a straight piece from it to an edge of two such faces would
/// run through the inside. Decided on the exact coordinates.
fn behind(block: &Block, point: &Point) -> [bool; 5] {
    let (l, h) = (block.low(), block.high());
    [point.x > l.x, point.x < h.x, point.y > l.y, point.y < h.y, point.z < h.z]
}

fn edges(block: &Block) -> Vec<Edge> {
    let (l, h) = (block.low(), block.high());
    let (x, y, z) =
        ([l.x.to_f64(), h.x.to_f64()], [l.y.to_f64(), h.y.to_f64()], [l.z.to_f64(), h.z.to_f64()]);
    let [x0, x1] = x;
    let [y0, y1] = y;
    let [z0, z1] = z;
    let edge = |from, to, faces| Edge { from, to, faces };
    vec![
        edge([x0, y0, z0], [x0, y0, z1], [0, 2]),
        edge([x0, y1, z0], [x0, y1, z1], [0, 3]),
        edge([x1, y0, z0], [x1, y0, z1], [1, 2]),
        edge([x1, y1, z0], [x1, y1, z1], [1, 3]),
        edge([x0, y0, z1], [x0, y1, z1], [0, 4]),
        edge([x1, y0, z1], [x1, y1, z1], [1, 4]),
        edge([x0, y0, z1], [x1, y0, z1], [2, 4]),
        edge([x0, y1, z1], [x1, y1, z1], [3, 4]),
    ]
}

fn shortest_round_si(block: &Block, a: &Point, b: &Point) -> Option<f64> {
    let edges = edges(block);
    let coordinates = |p: &Point| [p.x.to_f64(), p.y.to_f64(), p.z.to_f64()];
    let search = Search {
        start: coordinates(a),
        end: coordinates(b),
        behind_start: behind(block, a),
        behind_end: behind(block, b),
        edges: &edges,
    };
    let mut best = None;
    for first in &edges {
        if search.reaches(&search.behind_start, first) {
            search.extend(&mut vec![first], &mut Vec::new(), &mut best);
        }
    }
    best
}

struct Search<'a> {
    start: [f64; 3],
    end: [f64; 3],
    behind_start: [bool; 5],
    behind_end: [bool; 5],
    edges: &'a [Edge],
}

impl<'a> Search<'a> {
    /// Whether a straight piece from a point so placed to this edge stays out of the inside.
    fn reaches(&self, behind: &[bool; 5], edge: &Edge) -> bool {
        !edge.faces.iter().all(|face| behind.get(*face).copied().unwrap_or(true))
    }

    /// Tries the row of edges as it stands, then every row one longer. `crossed` are the faces between them.
    fn extend(&self, row: &mut Vec<&'a Edge>, crossed: &mut Vec<usize>, best: &mut Option<f64>) {
        let Some(last) = row.last().copied() else { return };
        if self.reaches(&self.behind_end, last) {
            let length = self.tighten(row);
            if best.is_none_or(|so_far| length < so_far) {
                *best = Some(length);
            }
        }
        if row.len() >= 4 {
            return;
        }
        for face in last.faces.iter().copied().filter(|face| !crossed.contains(face)).collect::<Vec<_>>() {
            for next in self.edges.iter().filter(|edge| edge.faces.contains(&face)) {
                if row.iter().any(|known| std::ptr::eq(*known, next)) {
                    continue;
                }
                row.push(next);
                crossed.push(face);
                self.extend(row, crossed, best);
                row.pop();
                crossed.pop();
            }
        }
    }

    /// The length of the tightest string over these edges: each touching point in turn is moved to its
    /// best place between its neighbours, until nothing more is gained.
    fn tighten(&self, row: &[&Edge]) -> f64 {
        let mut touching: Vec<[f64; 3]> = row.iter().map(|edge| along(edge, 0.5)).collect();
        let mut length = self.length(&touching);
        for _ in 0..10_000 {
            for (at, edge) in row.iter().enumerate() {
                let before = at.checked_sub(1).and_then(|n| touching.get(n)).copied().unwrap_or(self.start);
                let after = touching.get(at + 1).copied().unwrap_or(self.end);
                if let Some(place) = touching.get_mut(at) {
                    *place = best_between(edge, before, after);
                }
            }
            let shorter = self.length(&touching);
            let gained = length - shorter;
            length = length.min(shorter);
            if gained <= length * 1e-15 {
                break;
            }
        }
        length
    }

    fn length(&self, touching: &[[f64; 3]]) -> f64 {
        let mut from = self.start;
        let mut sum = 0.0;
        for to in touching.iter().chain([&self.end]) {
            sum += apart(from, *to);
            from = *to;
        }
        sum
    }
}

fn apart(a: [f64; 3], b: [f64; 3]) -> f64 {
    a.iter().zip(b).map(|(a, b)| (a - b) * (a - b)).sum::<f64>().sqrt()
}

fn along(edge: &Edge, share: f64) -> [f64; 3] {
    let mut point = edge.from;
    for (value, to) in point.iter_mut().zip(edge.to) {
        *value += (to - *value) * share;
    }
    point
}

/// Where on the edge a string between two points touches it when it is drawn tight. The two points are
/// turned about the edge into one plane, where the string is straight.
fn best_between(edge: &Edge, before: [f64; 3], after: [f64; 3]) -> [f64; 3] {
    let length = apart(edge.from, edge.to);
    if length <= 0.0 {
        return edge.from;
    }
    let seen = |point: [f64; 3]| {
        let dot: f64 =
            point.iter().zip(edge.from).zip(edge.to).map(|((p, a), b)| (p - a) * (b - a)).sum::<f64>();
        let share = dot / (length * length);
        (share, apart(point, along(edge, share)))
    };
    let ((share_before, off_before), (share_after, off_after)) = (seen(before), seen(after));
    let off = off_before + off_after;
    let share = if off > 0.0 {
        (share_before * off_after + share_after * off_before) / off
    } else {
        (share_before + share_after) / 2.0
    };
    along(edge, share.clamp(0.0, 1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: i64, y: i64, z: i64) -> Point {
        Point::new(Ratio::from(x), Ratio::from(y), Ratio::from(z))
    }

    #[test]
    fn nothing_in_the_way_is_the_plain_distance() {
        let house = Block::between(&at(0, 0, 0), &at(10, 10, 8));
        assert_eq!(around_block(&house, &at(-3, 0, 0), &at(-3, 4, 0)), Some(Number::whole(4)));
        assert_eq!(around_block(&house, &at(5, 5, 8), &at(8, 9, 8)), Some(Number::whole(5)));
    }

    #[test]
    fn points_inside_or_underground_have_no_way() {
        let house = Block::between(&at(0, 0, 0), &at(10, 10, 8));
        assert_eq!(around_block(&house, &at(5, 5, 5), &at(20, 5, 5)), None);
        assert_eq!(around_block(&house, &at(-5, 5, -1), &at(20, 5, 5)), None);
        let low = PlanPoint::new(Ratio::ZERO, Ratio::ZERO);
        let high = PlanPoint::new(Ratio::from(10), Ratio::from(10));
        let middle = PlanPoint::new(Ratio::from(5), Ratio::from(5));
        assert_eq!(around_in_plan(&low, &high, &middle, &high), None);
    }

    #[test]
    fn the_way_to_a_target_lies_between_what_is_told_of_it() {
        // A wall 20 long and 8 high between a point 3 before it and a window 4 behind it, both at half its length: over
        // the top, from 6 up on the one side to 2 up on the other, that wall being 1 thick.
        let wall = Block::between(&at(0, 0, 0), &at(20, 1, 8));
        let window = Block::between(&at(8, 5, 0), &at(12, 5, 2));
        let way = around_to(&wall, &at(10, -3, 6), &window).unwrap();
        let over = 13_f64.sqrt() + 1.0 + 52_f64.sqrt();
        assert!(way.low().to_f64() <= over && over <= way.high().to_f64() + 1e-9, "{way:?} for {over}");
        // A step of the grid is 1 by 1/2.
        assert!((way.high().to_f64() - way.low().to_f64() - 1.25_f64.sqrt() / 2.0).abs() < 1e-6, "{way:?}");
        assert_eq!(around_to(&wall, &at(10, -3, 6), &Block::between(&at(8, 5, -1), &at(12, 5, 2))), None);
    }

    #[test]
    fn the_way_there_is_as_long_as_the_way_back_and_never_shorter_than_the_straight_one() {
        let house = Block::between(&at(0, 0, 0), &at(10, 14, 8));
        for (a, b) in [
            (at(-3, 2, 4), at(17, 9, 1)),
            (at(2, -5, 3), at(11, 12, 7)),
            (at(4, -1, 6), at(12, 5, 2)),
            (at(-2, 20, 0), at(9, -3, 7)),
        ] {
            let there = around_block(&house, &a, &b).unwrap().to_f64_mid();
            let back = around_block(&house, &b, &a).unwrap().to_f64_mid();
            assert!((there - back).abs() < 1e-9 * there, "{there} there, {back} back");
            assert!(there >= a.distance(&b).to_f64_mid() - 1e-9);
        }
    }
}
