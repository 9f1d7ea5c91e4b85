//! Small systems of linear equations, worked out in one fixed order, so that the same input gives the same bits.

use std::collections::{BTreeMap, BTreeSet};

/// Solves `A x = b` for a full matrix by Gauss with the greatest pivot of each column. `None` when there is no one answer.
pub(in crate::calc) fn full_si(mut a: Vec<Vec<f64>>, mut b: Vec<f64>) -> Option<Vec<f64>> {
    let n = b.len();
    for column in 0..n {
        let size = |row: &usize| a.get(*row).and_then(|row| row.get(column)).map_or(0.0, |v| v.abs());
        let mut pivot = column;
        for row in column + 1..n {
            if size(&row) > size(&pivot) {
                pivot = row;
            }
        }
        if size(&pivot) < 1e-300 {
            return None;
        }
        a.swap(column, pivot);
        b.swap(column, pivot);
        let head = a.get(column)?.clone();
        let (top, first) = (*b.get(column)?, *head.get(column)?);
        for (row, value) in a.iter_mut().zip(b.iter_mut()).skip(column + 1) {
            let factor = row.get(column)? / first;
            if factor.abs() > 0.0 {
                for (entry, above) in row.iter_mut().zip(&head).skip(column) {
                    *entry -= factor * above;
                }
                *value -= factor * top;
            }
        }
    }
    for column in (0..n).rev() {
        let row = a.get(column)?;
        let known: f64 = row.iter().zip(&b).skip(column + 1).map(|(entry, value)| entry * value).sum();
        let value = (b.get(column)? - known) / row.get(column)?;
        *b.get_mut(column)? = value;
    }
    b.iter().all(|value| value.is_finite()).then_some(b)
}

/// Solves `A x = b` for a symmetric matrix of which few entries are not nought, each row given by its entries: the row with the
/// fewest neighbours left goes first, so that pipes that branch as a tree fill nothing in. `None` when a pivot is nought or less.
pub(in crate::calc) fn symmetric_si(mut a: Vec<BTreeMap<usize, f64>>, mut b: Vec<f64>) -> Option<Vec<f64>> {
    let mut left: BTreeSet<(usize, usize)> = a.iter().enumerate().map(|(at, row)| (row.len(), at)).collect();
    let mut done: Vec<(usize, f64, BTreeMap<usize, f64>)> = Vec::with_capacity(b.len());
    while let Some((_, pivot)) = left.pop_first() {
        let mut row = std::mem::take(a.get_mut(pivot)?);
        let own = row.remove(&pivot).filter(|own| *own > 1e-300)?;
        let top = *b.get(pivot)?;
        for (at, entry) in &row {
            let other = a.get_mut(*at)?;
            left.remove(&(other.len(), *at));
            other.remove(&pivot);
            let factor = entry / own;
            for (column, above) in &row {
                *other.entry(*column).or_insert(0.0) -= factor * above;
            }
            *b.get_mut(*at)? -= factor * top;
            left.insert((other.len(), *at));
        }
        done.push((pivot, own, row));
    }
    for (pivot, own, row) in done.iter().rev() {
        let known: f64 = row.iter().filter_map(|(at, entry)| Some(entry * b.get(*at)?)).sum();
        let value = (b.get(*pivot)? - known) / own;
        *b.get_mut(*pivot)? = value;
    }
    b.iter().all(|value| value.is_finite()).then_some(b)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn small_systems_come_out_by_hand() {
        // x + 2y = 5, 3x - y = 1
        let found = full_si(vec![vec![1.0, 2.0], vec![3.0, -1.0]], vec![5.0, 1.0]).unwrap();
        assert!((found[0] - 1.0).abs() < 1e-12 && (found[1] - 2.0).abs() < 1e-12);
        // the first pivot is nought
        let found = full_si(vec![vec![0.0, 1.0], vec![1.0, 0.0]], vec![3.0, 4.0]).unwrap();
        assert!((found[0] - 4.0).abs() < 1e-12 && (found[1] - 3.0).abs() < 1e-12);
        assert_eq!(full_si(vec![vec![1.0, 1.0], vec![1.0, 1.0]], vec![1.0, 2.0]), None);
    }
    #[test]
    fn a_matrix_with_few_entries_comes_out_as_a_full_one() {
        // a ring of springs with chords, held at one end; stiffnesses by a fixed rule
        for n in [1_usize, 2, 3, 10, 57] {
            let mut full = vec![vec![0.0; n]; n];
            let mut join = |i: usize, j: usize, by: f64| {
                full[i][i] += by;
                full[j][j] += by;
                full[i][j] -= by;
                full[j][i] -= by;
            };
            for i in 0..n {
                for (j, by) in [((i + 1) % n, 1.0 + i as f64), ((i * 7 + 3) % n, 0.3)] {
                    if i != j {
                        join(i, j, by);
                    }
                }
            }
            full[0][0] += 2.0;
            let right: Vec<f64> = (0..n).map(|i| (i as f64 * 0.7).sin() + 0.5).collect();
            let rows = full
                .iter()
                .map(|row| row.iter().copied().enumerate().filter(|(_, entry)| entry.abs() > 0.0).collect());
            let few = symmetric_si(rows.collect(), right.clone()).unwrap();
            let all = full_si(full, right).unwrap();
            for (one, other) in few.iter().zip(&all) {
                assert!((one - other).abs() < 1e-9 * (1.0 + other.abs()), "{n}: {one} {other}");
            }
        }
        // hangs on nothing
        let loose = vec![BTreeMap::from([(0, 1.0), (1, -1.0)]), BTreeMap::from([(0, -1.0), (1, 1.0)])];
        assert_eq!(symmetric_si(loose, vec![1.0, 2.0]), None);
    }
}
