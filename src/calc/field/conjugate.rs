//! Large systems with few entries in each row, worked out in one fixed order.

/// A symmetric matrix whose entries off the diagonal are none above nought: the diagonal, and for each row its entries to the
/// left of the diagonal.
#[derive(Clone, PartialEq, Debug, Default)]
pub(super) struct Sparse {
    pub(super) diagonal: Vec<f64>,
    /// Column and value, columns rising.
    pub(super) left: Vec<Vec<(usize, f64)>>,
}

/// How much of what would fill further places of the factor is taken off its diagonal. With all of it steps are fewest, and a layer
/// that hardly leaks comes near to dividing by nought.
const TAKEN_OFF: f64 = 0.97;

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

impl Sparse {
    /// A matrix of noughts.
    pub(super) fn empty(count: usize) -> Self {
        Sparse { diagonal: vec![0.0; count], left: vec![Vec::new(); count] }
    }

    /// Adds a conductance between two rows.
    pub(super) fn join(&mut self, a: usize, b: usize, by: f64) {
        add(&mut self.diagonal, a, by);
        add(&mut self.diagonal, b, by);
        let (low, high) = (a.min(b), a.max(b));
        if let Some(row) = self.left.get_mut(high) {
            match row.iter_mut().find(|(column, _)| *column == low) {
                Some(entry) => entry.1 -= by,
                None => {
                    row.push((low, -by));
                    row.sort_by_key(|(column, _)| *column);
                }
            }
        }
    }

    fn times(&self, x: &[f64]) -> Vec<f64> {
        let mut out: Vec<f64> = self.diagonal.iter().zip(x).map(|(d, x)| d * x).collect();
        for (row, entries) in self.left.iter().enumerate() {
            let mut sum = 0.0;
            let here = of(x, row);
            for (column, value) in entries {
                sum += value * of(x, *column);
                add(&mut out, *column, value * here);
            }
            add(&mut out, row, sum);
        }
        out
    }

    /// One over the diagonal of an incomplete factor, in which most of what would fill further places is taken off the
    /// diagonal instead (Gustafsson 1978): `d_i = a_ii - sum of a_ik (a_ik + share of the others below k) / d_k`.
    fn factor(&self) -> Vec<f64> {
        let mut below = vec![0.0; self.diagonal.len()];
        for (column, value) in self.left.iter().flatten() {
            add(&mut below, *column, *value);
        }
        let mut d = Vec::with_capacity(self.diagonal.len());
        for (own, entries) in self.diagonal.iter().zip(&self.left) {
            let taken = entries.iter().map(|(column, value)| {
                value * (value + TAKEN_OFF * (of(&below, *column) - value)) * of(&d, *column)
            });
            let left: f64 = own - taken.sum::<f64>();
            d.push(1.0 / left.max(1e-6 * own));
        }
        d
    }

    fn by_factor(&self, d: &[f64], right: &[f64]) -> Vec<f64> {
        let mut x = right.to_vec();
        for (row, entries) in self.left.iter().enumerate() {
            let taken: f64 =
                entries.iter().map(|(column, value)| value * of(&x, *column) * of(d, *column)).sum();
            add(&mut x, row, -taken);
        }
        for (row, entries) in self.left.iter().enumerate().rev() {
            let here = of(&x, row) * of(d, row);
            if let Some(entry) = x.get_mut(row) {
                *entry = here;
            }
            for (column, value) in entries {
                add(&mut x, *column, -value * here);
            }
        }
        x
    }

    /// The answer, with the share of the right side that is left over and the steps it took; `None` when the steps do not end.
    ///
    /// Conjugate gradients with an incomplete factor, sums from the first entry to the last.
    pub(super) fn solve(&self, right: &[f64], near: f64) -> Option<(Vec<f64>, f64, usize)> {
        let whole = dot(right, right).sqrt();
        let mut x = vec![0.0; right.len()];
        if whole < f64::MIN_POSITIVE {
            return Some((x, 0.0, 0));
        }
        let d = self.factor();
        let mut rest = right.to_vec();
        let mut z = self.by_factor(&d, &rest);
        let mut way = z.clone();
        let mut fit = dot(&rest, &z);
        for step in 1..4_000 {
            let bent = self.times(&way);
            let share = fit / dot(&way, &bent);
            for ((x, way), (rest, bent)) in x.iter_mut().zip(&way).zip(rest.iter_mut().zip(&bent)) {
                *x += share * way;
                *rest -= share * bent;
            }
            let left = dot(&rest, &rest).sqrt() / whole;
            if left < near {
                return Some((x, left, step));
            }
            z = self.by_factor(&d, &rest);
            let next = dot(&rest, &z);
            let keep = next / fit;
            fit = next;
            for (way, z) in way.iter_mut().zip(&z) {
                *way = z + keep * *way;
            }
        }
        None
    }
}
