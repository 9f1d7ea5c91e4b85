//! Sizes of paper, and the scales that people draw at on them.

/// A size of paper, lying on its long side.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Paper {
    /// Eight and a half by eleven inches.
    Letter,
    /// 210 by 297 millimetres (ISO 216).
    A4,
}

/// A scale.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Scale {
    /// How many points stand for a metre.
    pub(crate) points_for_a_metre: f64,
    /// How it is said.
    pub(crate) words: String,
}

/// Points in a metre of paper: 72 to the inch.
const POINTS: f64 = 72.0 / 0.0254;

/// The scales of letter paper: how many eighths of an inch stand for a foot, in halves, and how that is written.
const BY_THE_FOOT: [(f64, &str); 8] = [
    (1.0, "1"),
    (0.75, "3/4"),
    (0.5, "1/2"),
    (0.375, "3/8"),
    (0.25, "1/4"),
    (0.1875, "3/16"),
    (0.125, "1/8"),
    (0.09375, "3/32"),
];
/// Smaller ones.
const SMALL: [(f64, &str); 2] = [(0.0625, "1/16"), (0.03125, "1/32")];

/// The scales of A4 paper: one of paper to so many of the house.
const ONE_TO: [f64; 12] = [10.0, 20.0, 25.0, 40.0, 50.0, 75.0, 100.0, 125.0, 150.0, 200.0, 250.0, 500.0];

impl Paper {
    /// White above a sheet, where a paper that it is part of writes its head.
    pub(crate) const HEAD: f64 = 42.0;

    /// How wide and how high it is, in points.
    pub(crate) fn points(self) -> (f64, f64) {
        match self {
            Paper::Letter => (792.0, 612.0),
            Paper::A4 => (841.89, 595.28),
        }
    }

    /// The largest of its scales with no more than so many points for a metre.
    pub(crate) fn scale_within(self, most: f64) -> Scale {
        match self {
            Paper::Letter => {
                let all = BY_THE_FOOT.iter().chain(&SMALL);
                let points = |inches: f64| inches * 72.0 / 0.3048;
                let fits = all.clone().find(|(inches, _)| points(*inches) <= most + 1e-9);
                match fits {
                    Some((inches, written)) => {
                        let words = format!("{written} {} = {} ft (1:{})", "in", 1, 12.0 / inches);
                        Scale { points_for_a_metre: points(*inches), words }
                    }
                    None => smaller(most),
                }
            }
            Paper::A4 => match ONE_TO.iter().find(|to| POINTS / **to <= most + 1e-9) {
                Some(to) => Scale { points_for_a_metre: POINTS / to, words: format!("1:{to}") },
                None => smaller(most),
            },
        }
    }
}

/// A scale for what no usual one holds.
fn smaller(most: f64) -> Scale {
    let to = (POINTS / most.max(1e-6) / 100.0).ceil() * 100.0;
    Scale { points_for_a_metre: POINTS / to, words: format!("1:{to}") }
}
