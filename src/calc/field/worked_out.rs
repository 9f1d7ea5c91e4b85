//! The field worked out: what each pit draws, and the suction anywhere.

use crate::base::number::Ratio;
use crate::calc::amounts::{Amount, Conductance, Flow, Length, Made, OutOfRange, Plain, Pressure, within};
use crate::calc::geometry::PlanPoint;
use crate::calc::linear::full_si;

use super::assemble::Equations;
use super::grid::{Spot, inside};
use super::{Fill, Pull};

/// How small the rest of the equations has to become, as a share of the right side.
const NEAR: f64 = 1e-10;

/// Why there is no field.
#[derive(Clone, PartialEq, Debug)]
pub enum NoField {
    /// This pit does not stand in the fill.
    PitOutside(usize),
    /// These two pits touch.
    PitsTouch(usize, usize),
    /// A figure is out of range.
    OutOfRange(OutOfRange),
    /// The pits, or what they draw, cannot be told apart.
    NotToldApart,
    /// The steps did not come to an end.
    NotConverged {
        /// What was left over of the equations after each step, as a share of their right side.
        history: Vec<Plain>,
    },
}

impl From<OutOfRange> for NoField {
    fn from(error: OutOfRange) -> Self {
        NoField::OutOfRange(error)
    }
}

/// Where the suction is least.
#[derive(Clone, PartialEq, Debug)]
pub struct Weakest {
    /// The place, in metres.
    pub at: PlanPoint,
    /// The suction there.
    pub suction: Pressure,
}

/// The suction in the fill.
#[derive(Clone, PartialEq, Debug)]
pub struct Field {
    equations: Equations,
    flows: Vec<f64>,
    /// What is worked out on the grid, all pits and lines together.
    rest: Vec<f64>,
    /// The suction on the other side of each line.
    lines: Vec<f64>,
    /// The suction in each pit for a unit of flow into each.
    mutual: Vec<Vec<f64>>,
    /// What is left over of the equations with the values handed over, as a share of their right side: the most of all solutions.
    pub left_over: Plain,
    /// How many steps the longest of the solutions took.
    pub steps: usize,
}

fn spot(point: &PlanPoint) -> Spot {
    (point.x.to_f64(), point.y.to_f64())
}

fn point(spot: Spot) -> Option<PlanPoint> {
    Some(PlanPoint::new(Ratio::from_f64(spot.0)?, Ratio::from_f64(spot.1)?))
}

fn checked(area: &Fill, equations: &Equations) -> Result<(), NoField> {
    for (at, pit) in area.pits.iter().enumerate() {
        within("the radius of the pit", pit.radius, 0.005, 5.0)?;
        match pit.pull {
            Pull::Suction(suction) => within("the suction in the pit", suction, 0.0, 20_000.0)?,
            Pull::Flow(flow) => within("the flow into the pit", flow, 0.0, 10.0)?,
        };
        if !inside(&equations.edges, spot(&pit.at)) {
            return Err(NoField::PitOutside(at));
        }
    }
    for (i, one) in equations.sources.iter().enumerate() {
        for (j, other) in equations.sources.iter().enumerate().skip(i + 1) {
            if (one.at.0 - other.at.0).hypot(one.at.1 - other.at.1) <= one.radius + other.radius {
                return Err(NoField::PitsTouch(i, j));
            }
        }
    }
    for line in &area.lines {
        within("the leakage of a line", line.by, 1e-15, 1.0)?;
        within("the suction of a line", line.suction, 0.0, 20_000.0)?;
    }
    Ok(())
}

/// Works out the field of an area on cells no wider than a step.
///
/// # Meaning
/// Suction is counted against the room above. Pits held at a suction draw what that takes, with all the others pulling too.
/// # Formula
/// `T (p_xx + p_yy) = c p` in the fill; no flow through edges and barriers; lines leak `g (p - p line)` for each metre; each pit's own
/// field `q K0(r/L) / (2 pi T)` is written down and the rest worked out by balances over cells, cut where an edge runs aslant.
/// # Valid for
/// Reaches of 0.1 m to 10 km, pits of 5 mm to 5 m that do not touch, steps of 1 cm to 10 m with 200 000 cells at most.
/// # Accuracy
/// Falls with the square of the step: at a twentieth of the width some 0.2 % of the pit's suction. Barriers that run aslant are
/// followed in steps as wide as a cell. What the ground really is decides far more.
/// # Source
/// Leaky-layer flow (Jacob 1946); cut cells after Ng, Min and Gibou 2009; held against Bessel solutions and their images.
/// # Errors
/// [`NoField`]
/// # Example
/// ```
/// use undercroft::base::number::Ratio;
/// use undercroft::calc::{amounts::*, field::*, geometry::{Outline, PlanPoint}, soil::ground::Layer};
/// let at = |x, y| PlanPoint::new(Ratio::from(x), Ratio::from(y));
/// let layer = Layer {
///     transmissivity: Transmissivity::from_si(5e-5).unwrap(), leakage: Leakage::from_si(5e-7).unwrap(),
/// };
/// let area = Fill {
///     outline: Outline::rectangle(&at(0, 0), &Ratio::from(10), &Ratio::from(10)).unwrap(),
///     holes: vec![], barriers: vec![], layer, lines: vec![],
///     pits: vec![Pit { at: at(5, 5), radius: Length::from_si(0.1).unwrap(), pull: Pull::Flow(Flow::from_si(0.001).unwrap()) }],
/// };
/// let field = work_out(&area, Length::from_si(0.5).unwrap()).unwrap();
/// // all that is drawn leaks in through 100 m2: 0.001 = 5e-7 x 100 x the mean suction, which is 20 Pa
/// assert!((field.mean().to_si() - 20.0).abs() < 0.1);
/// ```
pub fn work_out(area: &Fill, step: Length) -> Result<Field, NoField> {
    let equations = Equations::new(area, step)?;
    checked(area, &equations)?;
    let mut worked = Vec::with_capacity(equations.sources.len());
    let (mut left_over, mut steps) = (0.0_f64, 0);
    for right in equations.by_pit.iter().chain([&equations.by_lines]) {
        let not_converged = |history: Vec<f64>| NoField::NotConverged {
            history: history.into_iter().filter_map(Plain::from_si).collect(),
        };
        let solved = equations.matrix.solve(right, NEAR).map_err(not_converged)?;
        left_over = left_over.max(solved.left_over);
        steps = steps.max(solved.steps);
        worked.push(solved.values);
    }
    let by_lines = worked.pop().unwrap_or_default();
    // the suction in each pit for a unit of flow into each
    let mut mutual = Vec::new();
    let mut from_lines = Vec::new();
    for (i, pit) in equations.sources.iter().enumerate() {
        let row: Option<Vec<f64>> = equations
            .sources
            .iter()
            .zip(&worked)
            .map(|(source, values)| Some(source.suction(pit.at) + equations.at(values, pit.at)?))
            .collect();
        mutual.push(row.ok_or(NoField::PitOutside(i))?);
        from_lines.push(equations.at(&by_lines, pit.at).ok_or(NoField::PitOutside(i))?);
    }
    let mut matrix = Vec::new();
    let mut right = Vec::new();
    for (i, ((pit, row), lines)) in area.pits.iter().zip(&mutual).zip(&from_lines).enumerate() {
        match pit.pull {
            Pull::Suction(suction) => {
                matrix.push(row.clone());
                right.push(suction.to_si() - lines);
            }
            Pull::Flow(flow) => {
                matrix.push((0..area.pits.len()).map(|j| f64::from(u8::from(i == j))).collect());
                right.push(flow.to_si());
            }
        }
    }
    let flows = full_si(matrix, right).ok_or(NoField::NotToldApart)?;
    let mut rest = by_lines;
    for (values, flow) in worked.iter().zip(&flows) {
        for (sum, value) in rest.iter_mut().zip(values) {
            *sum += flow * value;
        }
    }
    let lines = area.lines.iter().map(|line| line.suction.to_si()).collect();
    Ok(Field { equations, flows, rest, lines, mutual, left_over: Plain::new(left_over), steps })
}

impl Field {
    fn at(&self, at: Spot) -> Option<f64> {
        let own = self.equations.sources.iter().zip(&self.flows);
        let written: f64 = own.map(|(source, flow)| flow * source.suction(at)).sum();
        Some(written + self.equations.at(&self.rest, at)?)
    }

    /// The suction at a place in the fill; `None` outside it. Within a pit, at its rim.
    #[must_use]
    pub fn suction(&self, at: &PlanPoint) -> Option<Pressure> {
        self.at(spot(at)).map(Pressure::new)
    }

    /// What each pit draws, in the order they were given.
    #[must_use]
    pub fn flows(&self) -> Vec<Flow> {
        self.flows.iter().map(|flow| Flow::new(*flow)).collect()
    }

    /// What each line draws out of the fill, in the order they were given; below nought where it lets in.
    #[must_use]
    pub fn line_flows(&self) -> Vec<Flow> {
        let mut drawn = vec![0.0; self.lines.len()];
        for (line, cell, by) in &self.equations.pieces {
            let middle = self.equations.cells.get(*cell).map(super::assemble::Cell::middle);
            let (Some(middle), Some(rest), Some(behind)) =
                (middle, self.rest.get(*cell), self.lines.get(*line))
            else {
                continue;
            };
            let own = self.equations.sources.iter().zip(&self.flows);
            let written: f64 = own.map(|(source, flow)| flow * source.suction(middle)).sum();
            if let Some(sum) = drawn.get_mut(*line) {
                *sum += by * (behind - written - rest);
            }
        }
        drawn.into_iter().map(Flow::new).collect()
    }

    /// Each cell's middle, how much of it is fill, and the suction in its middle.
    fn each(&self) -> impl Iterator<Item = (Spot, f64, f64)> {
        self.equations.cells.iter().filter_map(|cell| {
            let middle = cell.middle();
            Some((middle, cell.area, self.at(middle)?))
        })
    }

    /// The mean suction over the fill.
    #[must_use]
    pub fn mean(&self) -> Pressure {
        let (area, sum) = self.each().fold((0.0, 0.0), |(area, sum), (_, a, p)| (area + a, sum + a * p));
        Pressure::new(sum / area)
    }

    /// The share of the fill where the suction is at least so much, counted by whole cells.
    #[must_use]
    pub fn share_beyond(&self, wanted: Pressure) -> Plain {
        let (all, beyond) = self.each().fold((0.0, 0.0), |(all, beyond), (_, area, suction)| {
            (all + area, beyond + if suction >= wanted.to_si() { area } else { 0.0 })
        });
        Plain::new(beyond / all)
    }

    /// The suction that a share of the fill has at least, counted by whole cells: that of its least part for all of it.
    #[must_use]
    pub fn at_least(&self, share: Plain) -> Pressure {
        let mut cells: Vec<(f64, f64)> = self.each().map(|(_, area, suction)| (suction, area)).collect();
        cells.sort_by(|a, b| b.0.total_cmp(&a.0));
        let wanted = share.to_si() * cells.iter().map(|(_, area)| area).sum::<f64>();
        let mut so_far = 0.0;
        let reaches = cells.iter().find(|(_, area)| {
            so_far += area;
            so_far >= wanted * (1.0 - 1e-12)
        });
        Pressure::new(reaches.or(cells.last()).map_or(0.0, |(suction, _)| *suction))
    }

    /// The place of the least suction: a corner of the outline or the middle of a cell.
    #[must_use]
    pub fn weakest(&self) -> Option<Weakest> {
        let corners = self.equations.edges.iter().filter_map(|(corner, _)| {
            // just off the corner, into the fill
            let near = |x: f64, y: f64| (corner.0 + x, corner.1 + y);
            let off = 1e-6;
            let spots = [near(off, off), near(-off, off), near(off, -off), near(-off, -off)];
            let within = spots.into_iter().find(|spot| inside(&self.equations.edges, *spot))?;
            Some((*corner, self.at(within)?))
        });
        let cells = self
            .each()
            .filter(|(middle, ..)| inside(&self.equations.edges, *middle))
            .map(|(middle, _, suction)| (middle, suction));
        let least = corners.chain(cells).min_by(|a, b| a.1.total_cmp(&b.1))?;
        Some(Weakest { at: point(least.0)?, suction: Pressure::new(least.1) })
    }

    /// How pits hang together in the ground: the conductance of each to the room, and between each two, by which a network of
    /// pipes takes them in. The pull of lines is left out.
    ///
    /// # Errors
    /// [`NoField::NotToldApart`] when the pits cannot be told apart.
    pub fn conductances(&self) -> Result<Vec<Vec<Conductance>>, NoField> {
        let count = self.mutual.len();
        let mut columns = Vec::with_capacity(count);
        for column in 0..count {
            let unit = (0..count).map(|row| f64::from(u8::from(row == column))).collect();
            columns.push(full_si(self.mutual.clone(), unit).ok_or(NoField::NotToldApart)?);
        }
        let entry = |row: usize, column: usize| -> f64 {
            let value = |a: usize, b: usize| columns.get(b).and_then(|c| c.get(a)).copied().unwrap_or(0.0);
            0.5 * (value(row, column) + value(column, row))
        };
        let row = |i: usize| {
            let each = (0..count).map(|j| {
                let to_room = (0..count).map(|k| entry(i, k)).sum();
                Conductance::new(if i == j { to_room } else { -entry(i, j) })
            });
            each.collect()
        };
        Ok((0..count).map(row).collect())
    }

    /// The suction over the fill for a drawing: the low and high corner of each cell and what it has in its middle.
    #[must_use]
    pub fn shading(&self) -> Vec<(PlanPoint, PlanPoint, Pressure)> {
        let cells = self.equations.cells.iter();
        cells
            .filter_map(|cell| {
                let suction = Pressure::new(self.at(cell.middle())?);
                Some((point(cell.low)?, point(cell.high)?, suction))
            })
            .collect()
    }
}
