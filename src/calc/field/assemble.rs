//! The equations of the cells.

use std::f64::consts::PI;

use crate::calc::amounts::{Amount, Length, OutOfRange};
use crate::calc::soil::bessel::{k0_si, k1_si};
use crate::calc::soil::ground::reach;

use super::Fill;
use super::conjugate::Matrix;
use super::grid::{Grid, Spot, area_within, edges, inside, length_within};

/// A pit as its own field is written down.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Source {
    pub(super) at: Spot,
    pub(super) radius: f64,
    lambda: f64,
    along: f64,
}

impl Source {
    /// The suction that a unit of flow into this pit makes in a boundless layer.
    pub(super) fn suction(&self, at: Spot) -> f64 {
        let far = (at.0 - self.at.0).hypot(at.1 - self.at.1).max(self.radius);
        k0_si((far / self.lambda).min(600.0)) / (2.0 * PI * self.along)
    }

    /// The flow of that field through a stretch, to its right as one goes from `a` to `b`, for a unit of flow into the pit.
    fn through(&self, a: Spot, b: Spot) -> f64 {
        let length = (b.0 - a.0).hypot(b.1 - a.1);
        let (dx, dy) = (b.0 - a.0, b.1 - a.1);
        let middle = (0.5 * (a.0 + b.0), 0.5 * (a.1 + b.1));
        let near = (middle.0 - self.at.0).hypot(middle.1 - self.at.1);
        if length > near && length > 1e-3 * self.radius.max(1e-3) {
            return self.through(a, middle) + self.through(middle, b);
        }
        // Gauss, three points
        const PLACES: [(f64, f64); 3] =
            [(-0.774_596_669_241_483_4, 5.0), (0.0, 8.0), (0.774_596_669_241_483_4, 5.0)];
        let sum: f64 = PLACES
            .iter()
            .map(|(place, weight)| {
                let spot = (middle.0 + 0.5 * place * dx, middle.1 + 0.5 * place * dy);
                let (x, y) = (spot.0 - self.at.0, spot.1 - self.at.1);
                let far = x.hypot(y).max(1e-9);
                let slope = -k1_si((far / self.lambda).clamp(1e-8, 600.0)) / self.lambda / (2.0 * PI);
                // the stretch's right is (dy, -dx)
                weight / 18.0 * slope * (x * dy - y * dx) / far
            })
            .sum();
        sum
    }
}

/// A cell that holds fill.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Cell {
    pub(super) low: Spot,
    pub(super) high: Spot,
    /// How much of it is fill, in m2.
    pub(super) area: f64,
    /// The cells it passes gas to: west, east, south, north.
    pub(super) next: [Option<usize>; 4],
}

impl Cell {
    pub(super) fn middle(&self) -> Spot {
        (0.5 * (self.low.0 + self.high.0), 0.5 * (self.low.1 + self.high.1))
    }
}

/// The equations of an area: for each pit the suction that its flow makes beside its own field, and for the lines.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Equations {
    pub(super) grid: Grid,
    pub(super) edges: Vec<(Spot, Spot)>,
    pub(super) cells: Vec<Cell>,
    /// The cell with fill that each cell of the grid is.
    pub(super) number: Vec<Option<usize>>,
    pub(super) matrix: Matrix,
    pub(super) sources: Vec<Source>,
    /// For each pit, the right side for a unit of its flow.
    pub(super) by_pit: Vec<Vec<f64>>,
    /// The right side for what the lines pull.
    pub(super) by_lines: Vec<f64>,
    /// The pieces of lines: which line, in which cell, and how much it leaks for a unit of difference.
    pub(super) pieces: Vec<(usize, usize, f64)>,
}

fn spot(point: &crate::calc::geometry::PlanPoint) -> Spot {
    (point.x.to_f64(), point.y.to_f64())
}

/// Whether a barrier stands between two spots.
fn parted(barriers: &[(Spot, Spot)], a: Spot, b: Spot) -> bool {
    let left = |p: Spot, q: Spot, r: Spot| (q.0 - p.0) * (r.1 - p.1) - (q.1 - p.1) * (r.0 - p.0) >= 0.0;
    barriers.iter().any(|(p, q)| left(*p, *q, a) != left(*p, *q, b) && left(a, b, *p) != left(a, b, *q))
}

/// The stretch cut at every line of the grid.
fn pieces(grid: &Grid, a: Spot, b: Spot) -> Vec<(Spot, Spot)> {
    let mut cuts = vec![0.0, 1.0];
    for (lines, from, to) in [(&grid.x, a.0, b.0), (&grid.y, a.1, b.1)] {
        if (to - from).abs() < 1e-12 {
            continue;
        }
        let crossed = lines.iter().map(|line| (line - from) / (to - from));
        cuts.extend(crossed.filter(|share| *share > 1e-9 && *share < 1.0 - 1e-9));
    }
    cuts.sort_by(f64::total_cmp);
    let at = |share: f64| (a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1));
    let stretches = cuts.iter().zip(cuts.iter().skip(1)).filter(|(from, to)| *to - *from > 1e-9);
    stretches.map(|(from, to)| (at(*from), at(*to))).collect()
}

impl Equations {
    pub(super) fn new(area: &Fill, step: Length) -> Result<Equations, OutOfRange> {
        let lambda = reach(&area.layer)?.to_si();
        let along = area.layer.transmissivity.to_si();
        let grid = Grid::new(area, step)?;
        let source =
            |pit: &super::Pit| Source { at: spot(&pit.at), radius: pit.radius.to_si(), lambda, along };
        let count = grid.count();
        let mut all = Equations {
            edges: edges(area),
            cells: Vec::new(),
            number: vec![None; count],
            matrix: Matrix::default(),
            sources: area.pits.iter().map(source).collect(),
            by_pit: Vec::new(),
            by_lines: Vec::new(),
            pieces: Vec::new(),
            grid,
        };
        for at in 0..count {
            let Some((low, high)) = all.grid.cell(at) else { continue };
            let fill = area_within(&all.edges, low, high);
            if fill > 1e-8 * (high.0 - low.0) * (high.1 - low.1) {
                if let Some(number) = all.number.get_mut(at) {
                    *number = Some(all.cells.len());
                }
                all.cells.push(Cell { low, high, area: fill, next: [None; 4] });
            }
        }
        all.matrix = Matrix::empty(all.cells.len());
        all.by_pit = vec![vec![0.0; all.cells.len()]; all.sources.len()];
        all.by_lines = vec![0.0; all.cells.len()];
        for (entry, cell) in all.matrix.diagonal.iter_mut().zip(&all.cells) {
            *entry = area.layer.leakage.to_si() * cell.area;
        }
        all.join_cells(area, along);
        all.seal_edges();
        all.put_lines(area, along);
        Ok(all)
    }

    /// What flows from cell to cell, and what a barrier between two keeps back.
    fn join_cells(&mut self, area: &Fill, along: f64) {
        let barriers: Vec<(Spot, Spot)> =
            area.barriers.iter().map(|(from, to)| (spot(from), spot(to))).collect();
        let wide = self.grid.wide();
        for at in 0..self.grid.count() {
            // the stretch between this cell and the one to its east or north, its right side turned away from this one
            let Some((low, high)) = self.grid.cell(at) else { continue };
            let east = ((at + 1) % wide.max(1) != 0).then_some((at + 1, (high.0, low.1), high, 1));
            let north = Some((at + wide, high, (low.0, high.1), 3));
            for (other, from, to, way) in [east, north].into_iter().flatten() {
                let own = self.number.get(at).copied().flatten();
                let beside = self.number.get(other).copied().flatten();
                let (Some(own), Some(beside)) = (own, beside) else { continue };
                let (Some(one), Some(two)) = (self.cells.get(own), self.cells.get(beside)) else { continue };
                let whole = |cell: &Cell| {
                    cell.area > (1.0 - 1e-9) * (cell.high.0 - cell.low.0) * (cell.high.1 - cell.low.1)
                };
                let open = if whole(one) && whole(two) {
                    (to.0 - from.0).hypot(to.1 - from.1)
                } else if way == 1 {
                    length_within(&self.edges, from, to)
                } else {
                    length_within(&self.edges, to, from)
                };
                let (a, b) = (one.middle(), two.middle());
                if open < 1e-12 {
                    continue;
                }
                if parted(&barriers, a, b) {
                    self.keep_back(own, beside, from, to);
                    continue;
                }
                self.matrix.join(own, beside, along * open / (b.0 - a.0).hypot(b.1 - a.1));
                for (cell, next, side) in [(own, beside, way), (beside, own, way - 1)] {
                    if let Some(place) = self.cells.get_mut(cell).and_then(|cell| cell.next.get_mut(side)) {
                        *place = Some(next);
                    }
                }
            }
        }
    }

    /// A barrier: the field of each pit does not pass, so what is worked out has to take it back.
    fn keep_back(&mut self, own: usize, beside: usize, from: Spot, to: Spot) {
        for (source, right) in self.sources.iter().zip(&mut self.by_pit) {
            let out = source.through(from, to);
            if let Some(entry) = right.get_mut(own) {
                *entry -= out;
            }
            if let Some(entry) = right.get_mut(beside) {
                *entry += out;
            }
        }
    }

    /// The cell with fill that holds a spot.
    pub(super) fn cell_of(&self, at: Spot) -> Option<usize> {
        self.number.get(self.grid.holding(at)?).copied().flatten()
    }

    /// The edges let nothing through.
    fn seal_edges(&mut self) {
        for (a, b) in self.edges.clone() {
            let length = (b.0 - a.0).hypot(b.1 - a.1).max(1e-12);
            let inward = (-(b.1 - a.1) / length, (b.0 - a.0) / length);
            for (from, to) in pieces(&self.grid, a, b) {
                let small = 1e-6 * (to.0 - from.0).hypot(to.1 - from.1);
                let middle =
                    (0.5 * (from.0 + to.0) + small * inward.0, 0.5 * (from.1 + to.1) + small * inward.1);
                let Some(cell) = self.cell_of(middle) else { continue };
                for (source, right) in self.sources.iter().zip(&mut self.by_pit) {
                    if let Some(entry) = right.get_mut(cell) {
                        *entry -= source.through(from, to);
                    }
                }
            }
        }
    }

    /// Lines leak from the middle of a cell to what is on their other side.
    fn put_lines(&mut self, area: &Fill, along: f64) {
        for (number, line) in area.lines.iter().enumerate() {
            let (a, b) = (spot(&line.from), spot(&line.to));
            let length = (b.0 - a.0).hypot(b.1 - a.1).max(1e-12);
            let aside = (-(b.1 - a.1) / length, (b.0 - a.0) / length);
            for (from, to) in pieces(&self.grid, a, b) {
                let piece = (to.0 - from.0).hypot(to.1 - from.1);
                let middle = (0.5 * (from.0 + to.0), 0.5 * (from.1 + to.1));
                let small = 1e-6 * piece;
                let mut sides: Vec<usize> = [small, -small]
                    .iter()
                    .map(|by| (middle.0 + by * aside.0, middle.1 + by * aside.1))
                    .filter(|spot| inside(&self.edges, *spot))
                    .filter_map(|spot| self.cell_of(spot))
                    .collect();
                sides.dedup();
                let share = piece / sides.len().max(1) as f64;
                for cell in sides {
                    let Some(place) = self.cells.get(cell).map(Cell::middle) else { continue };
                    // through the line, then through the fill to the middle of the cell
                    let way = ((place.0 - middle.0) * aside.0 + (place.1 - middle.1) * aside.1).abs();
                    let by = share / (1.0 / line.by.to_si() + way / along);
                    self.pieces.push((number, cell, by));
                    if let Some(entry) = self.matrix.diagonal.get_mut(cell) {
                        *entry += by;
                    }
                    if let Some(entry) = self.by_lines.get_mut(cell) {
                        *entry += by * line.suction.to_si();
                    }
                    for (source, right) in self.sources.iter().zip(&mut self.by_pit) {
                        if let Some(entry) = right.get_mut(cell) {
                            *entry -= by * source.suction(place);
                        }
                    }
                }
            }
        }
    }

    /// A worked-out quantity at a spot in the fill: that of its cell, and as it slopes there.
    pub(super) fn at(&self, values: &[f64], spot: Spot) -> Option<f64> {
        let cell = self.cell_of(spot).or_else(|| {
            // on an edge: the nearest cell round about
            let nudges = [(1e-6, 1e-6), (-1e-6, 1e-6), (1e-6, -1e-6), (-1e-6, -1e-6)];
            nudges.iter().find_map(|(x, y)| self.cell_of((spot.0 + x, spot.1 + y)))
        })?;
        let here = *values.get(cell)?;
        let own = self.cells.get(cell)?;
        let middle = own.middle();
        let beside = |side: usize| -> Option<(f64, f64)> {
            let other = (*own.next.get(side)?)?;
            let place = self.cells.get(other)?.middle();
            let far = (place.0 - middle.0) + (place.1 - middle.1);
            Some((far, *values.get(other)? - here))
        };
        let slope = |before: Option<(f64, f64)>, after: Option<(f64, f64)>| match (before, after) {
            (Some((a, da)), Some((b, db))) => (da / a * b - db / b * a) / (b - a),
            (Some((a, da)), None) => da / a,
            (None, Some((b, db))) => db / b,
            (None, None) => 0.0,
        };
        let (x, y) = (slope(beside(0), beside(1)), slope(beside(2), beside(3)));
        Some(here + x * (spot.0 - middle.0) + y * (spot.1 - middle.1))
    }
}
