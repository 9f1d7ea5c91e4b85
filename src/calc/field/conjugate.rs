//! Large systems of cells that pass gas to those beside them, worked out in one fixed order.

/// The steps after which it is given up.
const MOST_STEPS: usize = 4_000;

/// A symmetric matrix whose entries off the diagonal are none above nought. A row has two entries left of the diagonal at most: one
/// for the row just before it, which is the cell to its west, and one for a row further before, the cell to its south.
#[derive(Clone, PartialEq, Debug, Default)]
pub(super) struct Matrix {
    pub(super) diagonal: Vec<f64>,
    west: Vec<f64>,
    south: Vec<f64>,
    /// Which row the entry to the south stands for.
    south_of: Vec<usize>,
}

/// A system worked out.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Solved {
    pub(super) values: Vec<f64>,
    /// What is left over of the equations with these values, as a share of their right side.
    pub(super) left_over: f64,
    pub(super) steps: usize,
}

fn of(list: &[f64], at: usize) -> f64 {
    list.get(at).copied().unwrap_or(0.0)
}

fn add(list: &mut [f64], at: usize, value: f64) {
    if let Some(entry) = list.get_mut(at) {
        *entry += value;
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

impl Matrix {
    /// A matrix of noughts.
    pub(super) fn empty(count: usize) -> Self {
        let noughts = || vec![0.0; count];
        Matrix { diagonal: noughts(), west: noughts(), south: noughts(), south_of: vec![0; count] }
    }

    /// Lets gas pass between a cell and one further on, east or north of it.
    pub(super) fn join(&mut self, cell: usize, further: usize, by: f64) {
        add(&mut self.diagonal, cell, by);
        add(&mut self.diagonal, further, by);
        if further == cell + 1 {
            add(&mut self.west, further, -by);
        } else {
            add(&mut self.south, further, -by);
            if let Some(place) = self.south_of.get_mut(further) {
                *place = cell;
            }
        }
    }

    /// Each row: its entry on the diagonal, to the west, to the south, and the row which that stands for.
    fn rows(&self) -> impl DoubleEndedIterator<Item = (f64, f64, f64, usize)> + ExactSizeIterator {
        let left = self.west.iter().zip(&self.south).zip(&self.south_of);
        self.diagonal.iter().zip(left).map(|(own, ((west, south), at))| (*own, *west, *south, *at))
    }

    /// The matrix times a list.
    fn times(&self, x: &[f64], out: &mut Vec<f64>) {
        out.clear();
        let mut before = 0.0;
        for (row, ((own, west, south, at), here)) in self.rows().zip(x).enumerate() {
            out.push(own * here + west * before + south * of(x, at));
            add(out, row.wrapping_sub(1), west * here);
            add(out, at, south * here);
            before = *here;
        }
    }

    /// One over the diagonal of an incomplete factor, in which what would fill further places is taken off the diagonal instead, so
    /// that rows keep their sums (Gustafsson 1978): `d_i = a_ii - sum of a_ik (sum of all below k) / d_k`.
    fn factor(&self) -> Vec<f64> {
        let mut below = vec![0.0; self.diagonal.len()];
        for (row, (_, west, south, at)) in self.rows().enumerate() {
            add(&mut below, row.wrapping_sub(1), west);
            add(&mut below, at, south);
        }
        let mut d: Vec<f64> = Vec::with_capacity(self.diagonal.len());
        for (row, (own, west, south, at)) in self.rows().enumerate() {
            let before = row.wrapping_sub(1);
            let taken = west * of(&below, before) * of(&d, before) + south * of(&below, at) * of(&d, at);
            // of a layer that hardly leaks nothing may be left
            d.push(1.0 / (own - taken).max(1e-6 * own));
        }
        d
    }

    /// The factor's answer to a right side.
    fn by_factor(&self, d: &[f64], right: &[f64], out: &mut Vec<f64>) {
        out.clear();
        let mut before = 0.0;
        for (((_, west, south, at), d), right) in self.rows().zip(d).zip(right) {
            before = (right - west * before - south * of(out, at)) * d;
            out.push(before);
        }
        // from the last row on, each takes its share off those before it
        let mut from_east = 0.0;
        for (row, ((_, west, south, at), own)) in self.rows().zip(d).enumerate().rev() {
            let here = of(out, row) - own * from_east;
            if let Some(entry) = out.get_mut(row) {
                *entry = here;
            }
            from_east = west * here;
            add(out, at, -of(d, at) * south * here);
        }
    }

    /// The values with which the matrix comes to a right side, but for a share of it.
    ///
    /// Conjugate gradients with an incomplete factor; every sum runs from the first entry to the last. What is left over is worked out
    /// anew from the values in the end, not carried along.
    ///
    /// # Errors
    /// What was left over after each step, as a share of the right side, when the steps do not come to an end.
    pub(super) fn solve(&self, right: &[f64], near: f64) -> Result<Solved, Vec<f64>> {
        let whole = dot(right, right).sqrt();
        let mut values = vec![0.0; right.len()];
        if whole < f64::MIN_POSITIVE {
            return Ok(Solved { values, left_over: 0.0, steps: 0 });
        }
        let d = self.factor();
        let mut rest = right.to_vec();
        let (mut z, mut bent) = (Vec::with_capacity(right.len()), Vec::with_capacity(right.len()));
        self.by_factor(&d, &rest, &mut z);
        let mut way = z.clone();
        let mut fit = dot(&rest, &z);
        let mut history = Vec::new();
        while history.len() < MOST_STEPS {
            self.times(&way, &mut bent);
            let share = fit / dot(&way, &bent);
            for ((value, way), (rest, bent)) in values.iter_mut().zip(&way).zip(rest.iter_mut().zip(&bent)) {
                *value += share * way;
                *rest -= share * bent;
            }
            let left = dot(&rest, &rest).sqrt() / whole;
            history.push(left);
            if left < near {
                self.times(&values, &mut bent);
                let left: f64 =
                    right.iter().zip(&bent).map(|(right, bent)| (right - bent) * (right - bent)).sum();
                return Ok(Solved { values, left_over: left.sqrt() / whole, steps: history.len() });
            }
            if !left.is_finite() {
                break;
            }
            self.by_factor(&d, &rest, &mut z);
            let next = dot(&rest, &z);
            let keep = next / fit;
            fit = next;
            for (way, z) in way.iter_mut().zip(&z) {
                *way = z + keep * *way;
            }
        }
        Err(history)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::linear::symmetric_si;

    /// A board of cells, a wall across it with a gap, some cells leaking to the room.
    fn board(wide: usize, deep: usize, leaks: impl Fn(usize) -> f64) -> Matrix {
        let mut matrix = Matrix::empty(wide * deep);
        for cell in 0..wide * deep {
            matrix.diagonal[cell] += leaks(cell);
            let (x, y) = (cell % wide, cell / wide);
            if x + 1 < wide && (x != wide / 2 || y == 0) {
                matrix.join(cell, cell + 1, 1.0 + 0.1 * (x % 7) as f64);
            }
            if y + 1 < deep {
                matrix.join(cell, cell + wide, 1.0 + 0.2 * (y % 5) as f64);
            }
        }
        matrix
    }

    fn eliminated(matrix: &Matrix, right: &[f64]) -> Vec<f64> {
        let mut rows = vec![std::collections::BTreeMap::new(); right.len()];
        for (row, (own, west, south, at)) in matrix.rows().enumerate() {
            rows[row].insert(row, own);
            for (column, value) in [(row.wrapping_sub(1), west), (at, south)] {
                if value < 0.0 {
                    rows[row].insert(column, value);
                    rows[column].insert(row, value);
                }
            }
        }
        symmetric_si(rows, right.to_vec()).unwrap()
    }

    #[test]
    fn three_cells_come_out_by_hand() {
        // 3x - 2y = 1, -2x + 6y - 3z = 1, -3y + 4z = 1, so that x = y = z = 1
        let mut matrix = Matrix::empty(3);
        matrix.join(0, 1, 2.0);
        matrix.join(1, 2, 3.0);
        matrix.diagonal.iter_mut().for_each(|own| *own += 1.0);
        let mut product = Vec::new();
        matrix.times(&[1.0, 1.0, 1.0], &mut product);
        assert_eq!(product, [1.0, 1.0, 1.0]);
        let solved = matrix.solve(&[1.0, 1.0, 1.0], 1e-12).unwrap();
        assert!(solved.values.iter().all(|value| (value - 1.0).abs() < 1e-12), "{solved:?}");
        assert!(solved.left_over < 1e-12 && solved.steps <= 3);
    }

    #[test]
    fn elimination_of_one_row_after_the_other_comes_to_the_same() {
        // boards of one row, of one column, and large; leaking everywhere, or hardly at all but in one place
        for (wide, deep) in [(30, 1), (1, 30), (24, 17)] {
            for tight in [false, true] {
                let leaks = |cell: usize| if tight && cell != 5 { 1e-9 } else { 0.01 };
                let matrix = board(wide, deep, leaks);
                let right: Vec<f64> = (0..wide * deep).map(|cell| (cell * 37 % 11) as f64 - 2.0).collect();
                let solved = matrix.solve(&right, 1e-12).unwrap();
                let other = eliminated(&matrix, &right);
                let most = other.iter().fold(0.0_f64, |most, value| most.max(value.abs()));
                for (value, other) in solved.values.iter().zip(&other) {
                    assert!((value - other).abs() < 1e-8 * most, "{wide} {deep} {tight}: {value} {other}");
                }
            }
        }
    }

    #[test]
    fn steps_grow_more_slowly_than_the_cells_of_one_side() {
        let steps = |wide: usize| {
            // as wide a slab whatever the number of its cells: what a cell leaks falls with its area
            let matrix = board(wide, wide, |_| 25.0 / (wide * wide) as f64);
            let mut right = vec![0.0; wide * wide];
            right[wide + 1] = 1.0;
            let solved = matrix.solve(&right, 1e-10).unwrap();
            assert!(solved.left_over < 1e-9, "{}", solved.left_over);
            solved.steps
        };
        let (few, many) = (steps(16), steps(64));
        assert!(many < 3 * few, "{few} {many}");
    }

    #[test]
    fn what_does_not_come_to_an_end_hands_over_its_history_and_no_values() {
        let matrix = board(12, 9, |_| 0.01);
        let mut right = vec![0.0; 108];
        right[7] = 1.0;
        let history = matrix.solve(&right, 0.0).unwrap_err();
        assert!(history.len() > 20 && history.iter().take(10).all(|left| left.is_finite()));
        assert!(history.iter().fold(1.0_f64, |least, left| least.min(*left)) < 1e-12, "{history:?}");
    }
}
