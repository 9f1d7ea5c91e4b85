//! The layer as a communication test shows it.

use crate::calc::amounts::{
    Amount, Flow, Leakage, Length, LineLeakage, Made, Plain, Pressure, Transmissivity, within,
};
use crate::calc::geometry::PlanPoint;
use crate::calc::soil::ground::Layer;

use super::{Fill, NoField, Pull, work_out};

/// A reading at a test hole.
#[derive(Clone, PartialEq, Debug)]
pub struct Reading {
    /// The hole, in metres.
    pub at: PlanPoint,
    /// The suction read there.
    pub suction: Pressure,
}

/// A layer that fits readings.
#[derive(Clone, PartialEq, Debug)]
pub struct FittedLayer {
    /// The fill with that layer.
    pub fill: Fill,
    /// How far suction carries in it.
    pub reach: Length,
    /// The greatest difference between a reading and the field.
    pub stray: Pressure,
    /// The same as a share of the greatest reading.
    pub stray_share: Plain,
}

/// Why no layer fits.
#[derive(Clone, PartialEq, Debug)]
pub enum NoFit {
    /// No readings, or none above nought: the test shows no communication at all.
    NothingRead,
    /// The pits of a test are held at a suction; this one draws a flow.
    PitByFlow(usize),
    /// This hole is not in the fill.
    HoleOutside(usize),
    /// The readings want suction to carry less far, or further, than any layer within range does.
    BeyondRange,
    /// The field cannot be worked out.
    NoField(NoField),
}

impl From<NoField> for NoFit {
    fn from(error: NoField) -> Self {
        NoFit::NoField(error)
    }
}

/// Least and greatest reach that is tried, in metres.
const REACHES: (f64, f64) = (0.2, 200.0);
/// How many are tried before the best is looked at closely, and how often the stretch round it is cut.
const TRIES: u32 = 15;
const CUTS: u32 = 24;

/// The fill whose flow along it is so many times as free, and which leaks so that suction carries so far.
fn with_reach(fill: &Fill, reach: f64, times: f64) -> Fill {
    let along = fill.layer.transmissivity.to_si() * times;
    let mut fill = fill.clone();
    fill.layer =
        Layer { transmissivity: Transmissivity::new(along), leakage: Leakage::new(along / (reach * reach)) };
    for line in &mut fill.lines {
        line.by = LineLeakage::new(line.by.to_si() * times);
    }
    fill
}

/// The layer of a fill as readings at test holes show it, and how freely gas flows along it if the flow of the test is known.
///
/// # Meaning
/// The fill is given as in the test, its pits held at the suctions of the vacuum. Where the test's flow is known, the whole is made
/// so much freer that the pits draw just that flow together; suctions do not change by that.
/// # Formula
/// The reach for which the squares of the differences at the holes sum to least; the leakage is then `T / reach^2`.
/// # Valid for
/// Reaches of 0.2 to 200 m; lines keep their share of the flow.
/// # Accuracy
/// Told as the greatest stray: ground that is not of one kind strays.
/// # Source
/// Least squares on [`work_out`].
/// # Errors
/// [`NoFit`]
/// # Example
/// ```
/// use undercroft::base::number::Ratio;
/// use undercroft::calc::{amounts::*, field::*, geometry::{Outline, PlanPoint}, soil::ground::{Layer, reach}};
/// let at = |x, y| PlanPoint::new(Ratio::from(x), Ratio::from(y));
/// let layer = Layer {
///     transmissivity: Transmissivity::from_si(5e-5).unwrap(), leakage: Leakage::from_si(2e-6).unwrap(),
/// };
/// let pit = Pit {
///     at: at(2, 2), radius: Length::from_si(0.1).unwrap(), pull: Pull::Suction(Pressure::from_si(500.0).unwrap()),
/// };
/// let outline = Outline::rectangle(&at(0, 0), &Ratio::from(10), &Ratio::from(6)).unwrap();
/// let fill = Fill { outline, holes: vec![], barriers: vec![], layer, lines: vec![], pits: vec![pit] };
/// let step = Length::from_si(1.0).unwrap();
/// // read off the field of a layer whose reach is 5 m, and find it again
/// let read = work_out(&fill, step).unwrap().suction(&at(8, 4)).unwrap();
/// let found = fitted(&fill, &[Reading { at: at(8, 4), suction: read }], None, step).unwrap();
/// assert!((found.reach.to_si() - 5.0).abs() < 0.01);
/// ```
pub fn fitted(
    fill: &Fill,
    readings: &[Reading],
    drawn: Option<Flow>,
    step: Length,
) -> Result<FittedLayer, NoFit> {
    for (at, pit) in fill.pits.iter().enumerate() {
        if matches!(pit.pull, Pull::Flow(_)) {
            return Err(NoFit::PitByFlow(at));
        }
    }
    let most = readings.iter().map(|reading| reading.suction.to_si()).fold(0.0, f64::max);
    if most <= 0.0 {
        return Err(NoFit::NothingRead);
    }
    let off = |reach: f64| -> Result<(f64, f64), NoFit> {
        let field = work_out(&with_reach(fill, reach, 1.0), step)?;
        let (mut sum, mut worst) = (0.0, 0.0_f64);
        for (at, reading) in readings.iter().enumerate() {
            let found = field.suction(&reading.at).ok_or(NoFit::HoleOutside(at))?;
            let off = found.to_si() - reading.suction.to_si();
            sum += off * off;
            worst = worst.max(off.abs());
        }
        Ok((sum, worst))
    };
    let ratio = (REACHES.1 / REACHES.0).powf(1.0 / f64::from(TRIES - 1));
    let mut best = (0, f64::MAX);
    for n in 0..TRIES {
        let (sum, _) = off(REACHES.0 * ratio.powf(f64::from(n)))?;
        if sum < best.1 {
            best = (n, sum);
        }
    }
    if best.0 == 0 || best.0 + 1 == TRIES {
        return Err(NoFit::BeyondRange);
    }
    // the golden cut, in the logarithm
    let golden = 0.5 * (5.0_f64.sqrt() - 1.0);
    let place = |share: f64| REACHES.0 * ratio.powf(share);
    let (mut low, mut high) = (f64::from(best.0) - 1.0, f64::from(best.0) + 1.0);
    let (mut a, mut b) = (high - golden * (high - low), low + golden * (high - low));
    let (mut at_a, mut at_b) = (off(place(a))?.0, off(place(b))?.0);
    for _ in 0..CUTS {
        if at_a < at_b {
            (high, b, at_b) = (b, a, at_a);
            a = high - golden * (high - low);
            at_a = off(place(a))?.0;
        } else {
            (low, a, at_a) = (a, b, at_b);
            b = low + golden * (high - low);
            at_b = off(place(b))?.0;
        }
    }
    let reach = place(0.5 * (low + high));
    let stray = off(reach)?.1;
    let times = match drawn {
        None => 1.0,
        Some(flow) => {
            let flow = within("the flow of the test", flow, 1e-7, 10.0).map_err(NoField::from)?;
            let field = work_out(&with_reach(fill, reach, 1.0), step)?;
            let sum: f64 = field.flows().iter().map(|flow| flow.to_si()).sum();
            within("the flow that pits draw", Flow::new(sum), f64::MIN_POSITIVE, 1e6)
                .map_err(NoField::from)?;
            flow / sum
        }
    };
    Ok(FittedLayer {
        fill: with_reach(fill, reach, times),
        reach: Length::new(reach),
        stray: Pressure::new(stray),
        stray_share: Plain::new(stray / most),
    })
}

/// What one hole was read to have, between bounds.
#[derive(Clone, PartialEq, Debug)]
pub struct Between {
    /// The hole, in metres.
    pub at: PlanPoint,
    /// The least suction that it can have had.
    pub least: Pressure,
    /// The most.
    pub most: Pressure,
}

/// A reach with the flow that the pits draw with it when gas flows along the layer as freely as in the fill given.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Reached {
    /// The reach.
    pub reach: Length,
    /// What all pits draw together.
    pub drawn: Flow,
}

/// The shortest and the longest reach that readings at test holes allow: each hole by itself has one that gives its reading.
///
/// # Meaning
/// Ground is not of one kind, and no single reach gives all readings; what it is like lies between what single holes say.
/// # Formula
/// The suction at a hole rises with the reach; the reaches at which it is the least and the most that was read are looked up in a row of
/// fields and then cut closer. The shortest of all and the longest of all are given.
/// # Valid for
/// Pits held at a suction; reaches of 0.2 to 200 m: readings beyond what these give count as the end.
/// # Accuracy
/// 1 % of the reach; that of the field beside what ground is like is small.
/// # Source
/// [`work_out`], regula falsi.
/// # Errors
/// [`NoFit`]
/// # Example
/// As [`fitted`]: a reading taken off a field gives the reach of that field, twice.
pub fn reaches(fill: &Fill, readings: &[Between], step: Length) -> Result<(Reached, Reached), NoFit> {
    for (at, pit) in fill.pits.iter().enumerate() {
        if matches!(pit.pull, Pull::Flow(_)) {
            return Err(NoFit::PitByFlow(at));
        }
    }
    if readings.iter().all(|reading| reading.most.to_si() <= 0.0) {
        return Err(NoFit::NothingRead);
    }
    let look = |reach: f64| -> Result<Vec<f64>, NoFit> {
        let field = work_out(&with_reach(fill, reach, 1.0), step)?;
        let each = readings.iter().enumerate().map(|(at, reading)| {
            field.suction(&reading.at).map(|found| found.to_si()).ok_or(NoFit::HoleOutside(at))
        });
        each.collect()
    };
    let ratio = (REACHES.1 / REACHES.0).powf(1.0 / f64::from(TRIES - 1));
    let mut rows = Vec::new();
    for n in 0..TRIES {
        let log = (REACHES.0 * ratio.powf(f64::from(n))).ln();
        rows.push((log, look(log.exp())?));
    }
    // the stretch of the row in which a hole comes to what was read
    let stretch = |hole: usize, wanted: f64| -> ((f64, f64), (f64, f64)) {
        let of = |(log, row): &(f64, Vec<f64>)| (*log, row.get(hole).copied().unwrap_or(0.0) - wanted);
        let ends = rows.iter().zip(rows.iter().skip(1)).map(|(a, b)| (of(a), of(b)));
        let last = rows.last().map(of).unwrap_or_default();
        let first = rows.first().map(of).unwrap_or_default();
        if first.1 >= 0.0 {
            return (first, first);
        }
        ends.into_iter().find(|(_, b)| b.1 >= 0.0).unwrap_or((last, last))
    };
    let guess = |((a, fa), (b, fb)): ((f64, f64), (f64, f64))| {
        if b - a < 1e-9 { a } else { a - fa * (b - a) / (fb - fa) }
    };
    let closer = |hole: usize, wanted: f64| -> Result<f64, NoFit> {
        let mut ends = stretch(hole, wanted);
        for _ in 0..6 {
            if ends.1.0 - ends.0.0 < 0.01 {
                break;
            }
            // not too near to either end, so that the stretch shrinks from both
            let width = ends.1.0 - ends.0.0;
            let next = guess(ends).clamp(ends.0.0 + 0.1 * width, ends.1.0 - 0.1 * width);
            let off = look(next.exp())?.get(hole).copied().unwrap_or(0.0) - wanted;
            if off >= 0.0 { ends.1 = (next, off) } else { ends.0 = (next, off) }
        }
        Ok(guess(ends))
    };
    let ends = |pick: fn(&Between) -> Pressure| {
        readings.iter().enumerate().map(move |(hole, reading)| {
            let wanted = pick(reading).to_si();
            (guess(stretch(hole, wanted)), hole, wanted)
        })
    };
    let short = ends(|reading| reading.least).min_by(|a, b| a.0.total_cmp(&b.0)).ok_or(NoFit::NothingRead)?;
    let long = ends(|reading| reading.most).max_by(|a, b| a.0.total_cmp(&b.0)).ok_or(NoFit::NothingRead)?;
    let reached = |(_, hole, wanted): (f64, usize, f64)| -> Result<Reached, NoFit> {
        let reach = closer(hole, wanted)?.exp();
        let field = work_out(&with_reach(fill, reach, 1.0), step)?;
        let drawn = field.flows().iter().map(|flow| flow.to_si()).sum();
        Ok(Reached { reach: Length::new(reach), drawn: Flow::new(drawn) })
    };
    Ok((reached(short)?, reached(long)?))
}
