//! Pipe cut from stock lengths.

use crate::base::number::Ratio;

/// What one stock length is cut into.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Stick {
    /// The pieces, each by its place in the list that was asked for and its length.
    pub pieces: Vec<(usize, Ratio)>,
    /// What is left over.
    pub left: Ratio,
}

/// A plan by which pieces are cut.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct CutPlan {
    /// The stock lengths, each with its cuts.
    pub sticks: Vec<Stick>,
    /// How many couplings join pieces that are longer than a stock length.
    pub couplings: usize,
    /// Whether fewer stock lengths are known to be impossible.
    pub fewest: bool,
}

/// Why there is no plan.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum NotCut {
    /// The stock length is not above the width of a cut.
    Stock,
    /// The width of a cut is below nought.
    Saw,
    /// This piece has no length.
    Piece(usize),
    /// More than two thousand pieces.
    TooMany,
}

/// How many placements are tried before a plan is taken that may not be the best.
const MOST_TRIES: usize = 20_000;

struct Search<'a> {
    /// Lengths with a cut each, from the longest.
    sizes: &'a [Ratio],
    room: &'a Ratio,
    best: Vec<usize>,
    fewest: usize,
    least: usize,
    tries: usize,
}

impl Search<'_> {
    /// Tries every stick for the next piece, the fullest first, as long as that can still be better.
    fn place(&mut self, at: usize, so_far: &mut Vec<usize>, left: &mut Vec<Ratio>) {
        self.tries += 1;
        if self.tries > MOST_TRIES || self.fewest == self.least || left.len() >= self.fewest {
            return;
        }
        let Some(size) = self.sizes.get(at) else {
            self.fewest = left.len();
            self.best.clone_from(so_far);
            return;
        };
        let mut order: Vec<usize> = (0..left.len()).filter(|stick| left.get(*stick) >= Some(size)).collect();
        order.sort_by(|a, b| left.get(*a).cmp(&left.get(*b)));
        // sticks with the same room are the same try
        order.dedup_by(|a, b| left.get(*a) == left.get(*b));
        for stick in order {
            let Some(room) = left.get_mut(stick) else { continue };
            let before = room.clone();
            *room = &before - size;
            so_far.push(stick);
            self.place(at + 1, so_far, left);
            so_far.pop();
            if let Some(room) = left.get_mut(stick) {
                *room = before;
            }
        }
        if left.len() + 1 < self.fewest {
            left.push(self.room - size);
            so_far.push(left.len() - 1);
            self.place(at + 1, so_far, left);
            so_far.pop();
            left.pop();
        }
    }
}

/// A plan by which pieces are cut from stock lengths.
///
/// # Meaning
/// Every piece once; what is longer than a stock length is made of whole lengths and a rest, with a coupling at each joint. A
/// saw takes its width with every cut. All in one unit of length, whichever.
/// # Formula
/// The longest pieces first, each where it fits best; then every other way is tried until the plan is as short as the sum of all
/// pieces allows, or 20 000 placements were tried.
/// # Valid for
/// Up to 2000 pieces.
/// # Accuracy
/// Exact; whether fewer lengths are possible is told. Never more than 11/9 of the fewest and one more.
/// # Source
/// First fit decreasing (Johnson 1973) and branch and bound.
/// # Errors
/// [`NotCut`]
/// # Example
/// ```
/// use undercroft::base::number::Ratio;
/// use undercroft::calc::takeoff::cut_plan;
/// let feet = Ratio::from;
/// // 6 + 4 and 5 + 5 fill two lengths of 10
/// let plan = cut_plan(&[feet(5), feet(4), feet(6), feet(5)], &feet(10), &feet(0)).unwrap();
/// assert_eq!((plan.sticks.len(), plan.fewest, plan.couplings), (2, true, 0));
/// ```
pub fn cut_plan(pieces: &[Ratio], stock: &Ratio, saw: &Ratio) -> Result<CutPlan, NotCut> {
    if saw.is_negative() {
        return Err(NotCut::Saw);
    }
    if stock <= saw {
        return Err(NotCut::Stock);
    }
    if pieces.len() > 2_000 {
        return Err(NotCut::TooMany);
    }
    let mut sticks = Vec::new();
    let mut parts: Vec<(usize, Ratio)> = Vec::new();
    let mut couplings = 0;
    for (at, piece) in pieces.iter().enumerate() {
        if piece.signum() <= 0 {
            return Err(NotCut::Piece(at));
        }
        let mut rest = piece.clone();
        while rest > *stock {
            if sticks.len() > 10_000 {
                return Err(NotCut::TooMany);
            }
            sticks.push(Stick { pieces: vec![(at, stock.clone())], left: Ratio::ZERO });
            couplings += 1;
            rest = rest - stock;
        }
        parts.push((at, rest));
    }
    parts.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(&b.0)));
    // the last piece of a stick needs no cut of its own: every stick is so much longer
    let sizes: Vec<Ratio> = parts.iter().map(|(_, size)| size + saw).collect();
    let room = stock + saw;
    let (first, used) = first_fit(&sizes, &room);
    let total: Ratio = sizes.iter().cloned().sum();
    let least = total.checked_div(&room).and_then(|lengths| lengths.ceil().to_int()).unwrap_or(1);
    let least = usize::try_from(least).unwrap_or(1);
    let mut search = Search { sizes: &sizes, room: &room, best: first, fewest: used, least, tries: 0 };
    // a deep search of very many pieces would not end anyway
    if sizes.len() <= 60 {
        search.place(0, &mut Vec::new(), &mut Vec::new());
    }
    let fewest = search.fewest == least || (sizes.len() <= 60 && search.tries <= MOST_TRIES);
    let start = sticks.len();
    sticks.resize(start + search.fewest, Stick { pieces: Vec::new(), left: room.clone() });
    for ((part, size), stick) in parts.into_iter().zip(&sizes).zip(&search.best) {
        if let Some(stick) = sticks.get_mut(start + stick) {
            stick.left = &stick.left - size;
            stick.pieces.push(part);
        }
    }
    for stick in sticks.iter_mut().skip(start) {
        // the cut after the last piece is only made where something is left
        stick.left = (&stick.left - saw).max(Ratio::ZERO);
    }
    Ok(CutPlan { sticks, couplings, fewest })
}

/// The stick of each size, the first with room, and how many sticks there are.
fn first_fit(sizes: &[Ratio], room: &Ratio) -> (Vec<usize>, usize) {
    let mut left: Vec<Ratio> = Vec::new();
    let places = sizes
        .iter()
        .map(|size| {
            let fits = left.iter().position(|room| room >= size);
            let stick = fits.unwrap_or_else(|| {
                left.push(room.clone());
                left.len() - 1
            });
            if let Some(room) = left.get_mut(stick) {
                *room = &*room - size;
            }
            stick
        })
        .collect();
    (places, left.len())
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn n(value: i64) -> Ratio {
        Ratio::from(value)
    }

    #[test]
    fn the_longest_first_is_not_always_the_fewest() {
        // 6 5 4 3 2 2 2 in lengths of 12: by hand 6+4+2, 5+3+2+2
        let sizes: Vec<Ratio> = [6, 5, 4, 3, 2, 2, 2].map(n).to_vec();
        let plan = cut_plan(&sizes, &n(12), &n(0)).unwrap();
        assert_eq!((plan.sticks.len(), plan.fewest), (2, true));
        // 4+4, 3+3+3, 3 by the longest first; by hand 4+3+3 twice
        let hard: Vec<Ratio> = [4, 4, 3, 3, 3, 3].map(n).to_vec();
        let plan = cut_plan(&hard, &n(10), &n(0)).unwrap();
        assert_eq!(first_fit(&hard, &n(10)).1, 3);
        assert_eq!((plan.sticks.len(), plan.fewest), (2, true));
    }

    #[test]
    fn what_is_longer_than_a_length_is_joined_by_couplings() {
        let plan = cut_plan(&[n(23)], &n(10), &n(0)).unwrap();
        assert_eq!((plan.sticks.len(), plan.couplings), (3, 2));
        assert_eq!(plan.sticks[2].left, n(7));
        // just one length needs no coupling and no cut
        let plan = cut_plan(&[n(10)], &n(10), &n(1)).unwrap();
        assert_eq!((plan.sticks.len(), plan.couplings, plan.sticks[0].left.clone()), (1, 0, n(0)));
    }

    #[test]
    fn the_saw_takes_its_width() {
        assert_eq!(cut_plan(&[n(5), n(5)], &n(10), &n(0)).unwrap().sticks.len(), 1);
        let eighth = Ratio::new(1, 96).unwrap();
        assert_eq!(cut_plan(&[n(5), n(5)], &n(10), &eighth).unwrap().sticks.len(), 2);
    }

    #[test]
    fn what_cannot_be_cut_says_why() {
        assert_eq!(cut_plan(&[n(1)], &n(0), &n(0)), Err(NotCut::Stock));
        assert_eq!(cut_plan(&[n(1), n(0)], &n(10), &n(0)), Err(NotCut::Piece(1)));
        assert_eq!(cut_plan(&[n(1)], &n(10), &n(-1)), Err(NotCut::Saw));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        #[test]
        fn every_piece_is_cut_once_and_no_stick_is_longer_than_it_is(
            sizes in proptest::collection::vec(1..400_i64, 1..30), saw in 0..3_i64,
        ) {
            let pieces: Vec<Ratio> = sizes.iter().copied().map(n).collect();
            let plan = cut_plan(&pieces, &n(120), &n(saw)).unwrap();
            let mut cut = vec![Ratio::ZERO; pieces.len()];
            for stick in &plan.sticks {
                let used: Ratio = stick.pieces.iter().map(|(_, size)| size.clone()).sum();
                let cuts = i64::try_from(stick.pieces.len() - 1).unwrap();
                prop_assert!(&used + &n(cuts * saw) + &stick.left <= n(120));
                for (at, size) in &stick.pieces {
                    cut[*at] = &cut[*at] + size;
                }
            }
            prop_assert_eq!(cut, pieces);
        }
    }
}
