//! Small systems of linear equations, worked out in one fixed order, so that the same input gives the same bits.

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
}
