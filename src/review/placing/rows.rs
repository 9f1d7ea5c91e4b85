//! A region told row by row: from which height to which it reaches from where to where.

use super::region::{Patch, Region};
use crate::base::number::Ratio;

/// A row of a region: all of it between two heights, along the plane.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Row {
    /// From which height to which.
    pub up: (Ratio, Ratio),
    /// From where to where, once or several times.
    pub along: Vec<(Ratio, Ratio)>,
}

type Stretch = (i64, i64);

impl Region {
    /// Whether a place lies in it, or on its edge.
    #[must_use]
    pub fn holds(&self, along: &Ratio, up: &Ratio) -> bool {
        let within = |at: &Ratio, of: &(Ratio, Ratio)| of.0 <= *at && *at <= of.1;
        self.met.iter().any(|one| within(along, &one.along) && within(up, &one.up))
    }

    /// What lies in it row by row from the lowest: no more rows than this, or few. A row holds what lies in it at every height it
    /// reaches over, so that nothing is told that is not in the region.
    #[must_use]
    pub fn rows(&self, most: usize) -> Vec<Row> {
        let mut rows = Vec::new();
        for high in [1, 4, 8, 16, 32, 64] {
            rows = self.rows_of(high);
            if rows.len() <= most {
                break;
            }
        }
        rows
    }

    /// Rows of so many steps.
    fn rows_of(&self, high: i64) -> Vec<Row> {
        let squares: Vec<(Stretch, Stretch)> = self.met.iter().map(|one| self.in_steps(one)).collect();
        let low = squares.iter().map(|(_, up)| up.0).min().unwrap_or_default().div_euclid(high) * high;
        let top = squares.iter().map(|(_, up)| up.1).max().unwrap_or_default();
        let mut rows: Vec<(Stretch, Vec<Stretch>)> = Vec::new();
        let mut from = low;
        while from < top {
            let to = from + high;
            let mut all: Option<Vec<Stretch>> = None;
            for step in from..to {
                let here = squares.iter().filter(|(_, up)| up.0 <= step && step < up.1);
                let here = joined(here.map(|(along, _)| *along).collect());
                all = Some(match all {
                    Some(so_far) => both(&so_far, &here),
                    None => here,
                });
            }
            let all = all.unwrap_or_default();
            match rows.last_mut() {
                Some((up, along)) if up.1 == from && *along == all => up.1 = to,
                _ if !all.is_empty() => rows.push(((from, to), all)),
                _ => {}
            }
            from = to;
        }
        let metres = |(low, high): Stretch| (self.metres(low), self.metres(high));
        let row = |(up, along): (Stretch, Vec<Stretch>)| Row {
            up: metres(up),
            along: along.into_iter().map(metres).collect(),
        };
        rows.into_iter().map(row).collect()
    }

    fn metres(&self, steps: i64) -> Ratio {
        &self.step * &Ratio::from(steps)
    }

    fn in_steps(&self, one: &Patch) -> (Stretch, Stretch) {
        let of = |at: &Ratio| at.checked_div(&self.step).map_or(0, |steps| steps.to_f64().round() as i64);
        ((of(&one.along.0), of(&one.along.1)), (of(&one.up.0), of(&one.up.1)))
    }
}

/// Stretches that touch, put together.
fn joined(mut all: Vec<Stretch>) -> Vec<Stretch> {
    all.sort_unstable();
    let mut found: Vec<Stretch> = Vec::new();
    for (from, to) in all {
        match found.last_mut() {
            Some(last) if from <= last.1 => last.1 = last.1.max(to),
            _ => found.push((from, to)),
        }
    }
    found
}

/// What lies in both.
fn both(some: &[Stretch], others: &[Stretch]) -> Vec<Stretch> {
    let mut found = Vec::new();
    for (a, b) in some {
        for (c, d) in others {
            let (from, to) = (*a.max(c), *b.min(d));
            if from < to {
                found.push((from, to));
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::placing::Doing;

    fn region(squares: &[(i64, i64, i64)]) -> Region {
        let whole = Ratio::from;
        let met = squares.iter().map(|(x, y, side)| Patch {
            along: (whole(*x), whole(x + side)),
            up: (whole(*y), whole(y + side)),
        });
        Region {
            doing: Doing::Duties,
            books: Vec::new(),
            now: (Ratio::zero(), Ratio::zero()),
            stands: crate::base::truth::Truth::Unknown,
            at: Ratio::zero(),
            step: whole(1),
            met: met.collect(),
            open: Vec::new(),
            missing: Vec::new(),
            bounds: Vec::new(),
            plumb: Vec::new(),
            tried: 0,
        }
    }

    #[test]
    fn rows_tell_a_region_and_never_more_than_it() {
        // A square of 4 with one of 2 on its left half: two rows.
        let found = region(&[(0, 0, 4), (0, 4, 2)]).rows(9);
        let told: Vec<String> = found.iter().map(|row| format!("{:?}", row.along.len())).collect();
        assert_eq!(told, ["1", "1"]);
        assert_eq!(found[0].up, (Ratio::from(0), Ratio::from(4)));
        assert_eq!(found[1].along, [(Ratio::from(0), Ratio::from(2))]);
        // Stairs of eight steps told in few rows: each holds what all of its steps hold.
        let stairs: Vec<(i64, i64, i64)> =
            (0..8).flat_map(|up| (0..8 - up).map(move |along| (along, up, 1))).collect();
        let stairs = region(&stairs);
        for row in stairs.rows(3) {
            let (from, to) = (row.up.0.to_f64() as i64, row.up.1.to_f64() as i64);
            for up in from..to {
                for (low, high) in &row.along {
                    for along in low.to_f64() as i64..high.to_f64() as i64 {
                        let half = Ratio::from(1).half();
                        assert!(
                            stairs.holds(&(Ratio::from(along) + half.clone()), &(Ratio::from(up) + half))
                        );
                    }
                }
            }
        }
    }
}
