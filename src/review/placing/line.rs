//! Places along one way, in steps that can be built.

use std::collections::BTreeMap;

use crate::base::number::Ratio;

use super::bench::{Asked, Tried};

/// Where a stretch of places that will do ends.
#[derive(Clone, PartialEq, Debug)]
pub struct Edge {
    /// By how much it is moved there, as a number of steps.
    pub steps: i64,
    /// What is not met one step farther; nothing where nobody looked farther.
    pub stops: Vec<Asked>,
}

/// Places next to one another that will all do, as far as every step that was tried tells.
#[derive(Clone, PartialEq, Debug)]
pub struct Stretch {
    /// The end on the side where numbers are less.
    pub from: Edge,
    /// The other end.
    pub to: Edge,
}

/// What came of moving something along one way.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Line {
    /// How long a step is.
    pub step: Ratio,
    /// What came of it, by the number of steps.
    pub tried: BTreeMap<i64, Tried>,
}

impl Line {
    /// Tries places: the present one, and to both sides every so many steps as far as it goes; then between each that
    /// will do and its neighbour that will not, down to one step.
    pub(super) fn walk(
        step: Ratio,
        coarse: i64,
        (down, up): (i64, i64),
        mut at: impl FnMut(&Ratio) -> Tried,
    ) -> Self {
        let mut line = Line { step, tried: BTreeMap::new() };
        line.try_at(0, &mut at);
        for (way, count) in [(1, up), (-1, down)] {
            for stride in 1..=count {
                if matches!(line.try_at(way * stride * coarse, &mut at), Tried::Stuck(_)) {
                    break;
                }
            }
        }
        let marks: Vec<(i64, bool)> = line.tried.iter().map(|(at, tried)| (*at, tried.is_met())).collect();
        for ((a, met), (b, other)) in marks.iter().zip(marks.iter().skip(1)) {
            if met != other {
                line.close_in(*a, *b, *met, &mut at);
            }
        }
        line
    }

    fn try_at(&mut self, steps: i64, at: &mut impl FnMut(&Ratio) -> Tried) -> &Tried {
        let by = &self.step * &Ratio::from(steps);
        self.tried.entry(steps).or_insert_with(|| at(&by))
    }

    /// Halves what lies between two places, one of which will do.
    fn close_in(&mut self, a: i64, b: i64, low_is_met: bool, at: &mut impl FnMut(&Ratio) -> Tried) {
        let (mut low, mut high) = (a, b);
        while high - low > 1 {
            let middle = low + (high - low) / 2;
            if self.try_at(middle, at).is_met() == low_is_met {
                low = middle;
            } else {
                high = middle;
            }
        }
    }

    /// The stretches that will do, from the least number to the greatest.
    #[must_use]
    pub fn stretches(&self) -> Vec<Stretch> {
        let mut found: Vec<Stretch> = Vec::new();
        let mut before: Option<&Tried> = None;
        for (steps, tried) in &self.tried {
            let stops = before.filter(|before| !before.is_met()).map(Tried::against).unwrap_or_default();
            match (tried.is_met(), before.is_some_and(Tried::is_met)) {
                (true, false) => {
                    let from = Edge { steps: *steps, stops };
                    found.push(Stretch { from, to: Edge { steps: *steps, stops: Vec::new() } });
                }
                (true, true) => {
                    if let Some(last) = found.last_mut() {
                        last.to.steps = *steps;
                    }
                }
                (false, true) => {
                    if let Some(last) = found.last_mut() {
                        last.to.stops = tried.against();
                    }
                }
                (false, false) => {}
            }
            before = Some(tried);
        }
        found
    }

    /// The nearest place that will do on the side where numbers grow, or on the other, with what keeps it from being
    /// nearer still.
    #[must_use]
    pub fn nearest(&self, growing: bool) -> Option<Edge> {
        let beyond = |edge: &Edge| if growing { edge.steps > 0 } else { edge.steps < 0 };
        let stretches = self.stretches();
        let ends = stretches.into_iter().map(|one| if growing { one.from } else { one.to });
        ends.filter(beyond).min_by_key(|edge| edge.steps.abs())
    }

    /// Every place that was tried.
    pub fn all(&self) -> impl Iterator<Item = &Tried> {
        self.tried.values()
    }
}
