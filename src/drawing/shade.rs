//! The shading of the suction under a floor: bands of it, put together to as few boxes as they take.

use crate::base::number::Number;
use crate::facts::drawn::Shading;

use super::desk::spot;
use super::hatch::Hatching;
use super::scene::{Frame, Pen};

/// A band of suction.
pub(crate) struct Band {
    /// Where it lies.
    pub(crate) boxes: Vec<Frame>,
    /// How it is hatched; nothing for the weakest, which is left white.
    pub(crate) how: Option<Hatching>,
    /// What it means.
    pub(crate) words: String,
}

/// How far apart the strokes of the bands are, the strongest first.
const APART: [f64; 3] = [3.4, 5.6, 9.5];

/// Steps of suction by tens, the strongest first: in pascals, and how each is written.
struct Steps {
    unit: &'static str,
    pascals: f64,
    amounts: [(f64, &'static str); 6],
}

const BY_WATER: Steps = Steps {
    unit: "in WC",
    pascals: 249.088_91,
    amounts: [(10.0, "10"), (1.0, "1"), (0.1, "0.1"), (0.01, "0.01"), (0.001, "0.001"), (0.0001, "0.0001")],
};
const BY_PASCALS: Steps = Steps {
    unit: "Pa",
    pascals: 1.0,
    amounts: [(1000.0, "1000"), (100.0, "100"), (10.0, "10"), (1.0, "1"), (0.1, "0.1"), (0.01, "0.01")],
};

fn suction(number: &Number) -> f64 {
    number.to_f64_mid()
}

/// The bands of a shading.
pub(crate) fn bands(shading: &Shading, metric: bool) -> Vec<Band> {
    let steps = if metric { BY_PASCALS } else { BY_WATER };
    let greatest = shading.parts.iter().map(|part| suction(&part.least)).fold(0.0, f64::max);
    let limits: Vec<(f64, &str)> = steps
        .amounts
        .iter()
        .map(|(amount, written)| (amount * steps.pascals, *written))
        .filter(|(limit, _)| *limit < greatest)
        .take(APART.len())
        .collect();
    let mut bands = Vec::new();
    let mut above = f64::INFINITY;
    let ends = limits.iter().map(|(limit, written)| (*limit, Some(*written))).chain([(0.0, None)]);
    let mut over: Option<&str> = None;
    for (number, (limit, written)) in ends.enumerate() {
        let within = |part: &&crate::facts::drawn::Shade| {
            let there = suction(&part.least);
            there >= limit && there < above
        };
        let boxes: Vec<Frame> = shading
            .parts
            .iter()
            .filter(within)
            .map(|part| Frame { low: spot(&part.low), high: spot(&part.high) })
            .collect();
        let boxes = together(boxes);
        let unit = steps.unit;
        let words = match (written, over) {
            (Some(least), None) => format!("suction {least} {unit} or more"),
            (Some(least), Some(most)) => format!("suction {least} to {most} {unit}"),
            (None, Some(most)) => format!("suction less than {most} {unit} (left white)"),
            (None, None) => "hardly any suction (left white)".to_owned(),
        };
        let how = written.and_then(|_| APART.get(number).copied()).map(|apart| Hatching {
            apart,
            leftward: false,
            pen: if shading.tested { Pen::Hatch } else { Pen::Assumed },
        });
        if !boxes.is_empty() {
            bands.push(Band { boxes, how, words });
        }
        (above, over) = (limit, written);
    }
    bands
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6
}

/// Boxes that lie side by side in a row put together, and then rows of the same breadth.
pub(crate) fn together(mut boxes: Vec<Frame>) -> Vec<Frame> {
    let order = |a: &Frame, b: &Frame| {
        a.low.y.total_cmp(&b.low.y).then(a.high.y.total_cmp(&b.high.y)).then(a.low.x.total_cmp(&b.low.x))
    };
    boxes.sort_by(order);
    let mut rows: Vec<Frame> = Vec::new();
    for one in boxes {
        match rows.last_mut() {
            Some(last)
                if near(last.low.y, one.low.y)
                    && near(last.high.y, one.high.y)
                    && near(last.high.x, one.low.x) =>
            {
                last.high.x = one.high.x;
            }
            _ => rows.push(one),
        }
    }
    let mut found: Vec<Frame> = Vec::new();
    for row in rows {
        let below = found.iter_mut().find(|one| {
            near(one.high.y, row.low.y) && near(one.low.x, row.low.x) && near(one.high.x, row.high.x)
        });
        match below {
            Some(one) => one.high.y = row.high.y,
            None => found.push(row),
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_side_by_side_become_one_box() {
        let cell = |x: f64, y: f64| Frame::of(x, y, x + 1.0, y + 1.0);
        let cells = (0..4).flat_map(|y| (0..6).map(move |x| cell(f64::from(x), f64::from(y)))).collect();
        assert_eq!(together(cells), [Frame::of(0.0, 0.0, 6.0, 4.0)]);
        // A step: two boxes.
        let stepped = vec![cell(0.0, 0.0), cell(1.0, 0.0), cell(0.0, 1.0)];
        assert_eq!(together(stepped).len(), 2);
    }
}
