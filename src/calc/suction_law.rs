//! How much gas a suction point gives for how much suction.

use super::amounts::{Amount, Flow, Made, OutOfRange, Plain, Pressure, within};

/// The law of a suction point: `Q = C dP^n`. Made only with figures in range.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct SuctionLaw {
    coefficient: f64,
    exponent: f64,
}

/// A law drawn through readings, and how far they stray from it.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Fitted {
    /// The law.
    pub law: SuctionLaw,
    /// The greatest distance of a reading's flow from the law, as a share of the law's flow.
    pub stray: Plain,
}

/// Why no law can be drawn through readings.
#[derive(Clone, PartialEq, Debug)]
pub enum NotFitted {
    /// Fewer than two readings, or all at one suction.
    TooFewReadings,
    /// A reading, or the exponent that comes out, lies outside its range.
    OutOfRange(OutOfRange),
}

impl From<OutOfRange> for NotFitted {
    fn from(error: OutOfRange) -> Self {
        NotFitted::OutOfRange(error)
    }
}

/// Least and greatest exponent: rough flow through a hole, smooth flow through soil. A little beyond either is allowed
/// for readings that stray.
const EXPONENTS: (f64, f64) = (0.45, 1.05);

impl SuctionLaw {
    /// The law by one reading and an exponent.
    ///
    /// # Meaning
    /// So much flow at so much suction. The exponent is near 1 for gas through tight soil and near 0.5 through holes and
    /// loose gravel.
    /// # Formula
    /// `C = Q / dP^n`
    /// # Valid for
    /// Suctions of 0.01 Pa to 20 kPa, flows of 1e-9 to 10 m3/s, exponents of 0.45 to 1.05.
    /// # Accuracy
    /// Near the reading as good as the reading; far from it the exponent decides.
    /// # Source
    /// Power law of leakage, as in ASTM E779.
    /// # Errors
    /// [`OutOfRange`] outside the range.
    /// # Example
    /// ```
    /// use undercroft::calc::{amounts::*, suction_law::SuctionLaw};
    /// let at = |text| Pressure::written(text).unwrap();
    /// let law = SuctionLaw::through(
    ///     Flow::written("10 L/s").unwrap(), at("25 Pa"), Plain::written("0.5").unwrap(),
    /// ).unwrap();
    /// // four times the suction, twice the flow
    /// assert!((law.flow(at("100 Pa")).unwrap().to_si() - 0.02).abs() < 1e-12);
    /// ```
    pub fn through(flow: Flow, suction: Pressure, exponent: Plain) -> Result<SuctionLaw, OutOfRange> {
        let q = within("the flow", flow, 1e-9, 10.0)?;
        let p = within("the suction", suction, 0.01, 20_000.0)?;
        let n = within("the exponent of the suction law", exponent, EXPONENTS.0, EXPONENTS.1)?;
        Ok(SuctionLaw { coefficient: q / p.powf(n), exponent: n })
    }

    /// The law that comes nearest to readings.
    ///
    /// # Meaning
    /// From a test with several vacuums: suction and flow at each.
    /// # Formula
    /// A straight line through the logarithms by least squares; through two readings exactly:
    /// `n = ln(Q2/Q1) / ln(P2/P1)`.
    /// # Valid for
    /// Readings within the range of [`SuctionLaw::through`], at two suctions at least.
    /// # Accuracy
    /// Told as the greatest stray.
    /// # Source
    /// As ASTM E779 draws leakage curves.
    /// # Errors
    /// [`NotFitted`]
    /// # Example
    /// ```
    /// use undercroft::calc::{amounts::*, suction_law::SuctionLaw};
    /// let reading = |p, q| (Pressure::from_si(p).unwrap(), Flow::from_si(q).unwrap());
    /// let fitted = SuctionLaw::fitted(&[reading(25.0, 0.01), reading(100.0, 0.02)]).unwrap();
    /// assert!((fitted.law.exponent().to_si() - 0.5).abs() < 1e-12);
    /// ```
    pub fn fitted(readings: &[(Pressure, Flow)]) -> Result<Fitted, NotFitted> {
        let mut logs = Vec::with_capacity(readings.len());
        for (suction, flow) in readings {
            let p = within("the suction", *suction, 0.01, 20_000.0)?;
            logs.push((p.ln(), within("the flow", *flow, 1e-9, 10.0)?.ln()));
        }
        let count = logs.len() as f64;
        let mean = |of: fn(&(f64, f64)) -> f64| logs.iter().map(of).sum::<f64>() / count;
        let (x, y) = (mean(|log| log.0), mean(|log| log.1));
        let spread: f64 = logs.iter().map(|log| (log.0 - x).powi(2)).sum();
        if logs.len() < 2 || spread < 1e-6 {
            return Err(NotFitted::TooFewReadings);
        }
        let both: f64 = logs.iter().map(|log| (log.0 - x) * (log.1 - y)).sum();
        let exponent = Plain::new(both / spread);
        let exponent = within("the exponent of the suction law", exponent, EXPONENTS.0, EXPONENTS.1)?;
        let law = SuctionLaw { coefficient: (y - exponent * x).exp(), exponent };
        let stray = |log: &(f64, f64)| (log.1 - (y + exponent * (log.0 - x))).exp_m1().abs();
        Ok(Fitted { law, stray: Plain::new(logs.iter().map(stray).fold(0.0, f64::max)) })
    }

    /// The flow at a suction; nought at nought, backward for a push.
    ///
    /// # Meaning
    /// Gas drawn out of the point.
    /// # Formula
    /// `C dP^n`
    /// # Valid for
    /// -20 to 20 kPa.
    /// # Accuracy
    /// As the law was made.
    /// # Source
    /// As [`SuctionLaw::through`].
    /// # Errors
    /// [`OutOfRange`] outside the range.
    /// # Example
    /// See [`SuctionLaw::through`].
    pub fn flow(&self, suction: Pressure) -> Result<Flow, OutOfRange> {
        let p = within("the suction", suction, -20_000.0, 20_000.0)?;
        Ok(Flow::new(p.signum() * self.coefficient * p.abs().powf(self.exponent)))
    }

    /// The suction that draws a flow.
    ///
    /// # Meaning
    /// [`SuctionLaw::flow`] turned round.
    /// # Formula
    /// `(Q/C)^(1/n)`
    /// # Valid for
    /// Answers within 20 kPa either way.
    /// # Accuracy
    /// As the law was made.
    /// # Source
    /// As [`SuctionLaw::through`].
    /// # Errors
    /// [`OutOfRange`] when it takes more.
    /// # Example
    /// ```
    /// use undercroft::calc::{amounts::*, suction_law::SuctionLaw};
    /// let flow = |text| Flow::written(text).unwrap();
    /// let half = Plain::written("0.5").unwrap();
    /// let law = SuctionLaw::through(flow("10 L/s"), Pressure::written("25 Pa").unwrap(), half).unwrap();
    /// assert!((law.suction(flow("20 L/s")).unwrap().to_si() - 100.0).abs() < 1e-9);
    /// ```
    pub fn suction(&self, flow: Flow) -> Result<Pressure, OutOfRange> {
        let most = self.coefficient * 20_000.0_f64.powf(self.exponent);
        within("the flow", flow, -most, most)?;
        Ok(Pressure::new(self.suction_si(flow.to_si()).0))
    }

    /// The suction for a flow and its slope; the slope is nought at nought where the exponent is below 1.
    pub(in crate::calc) fn suction_si(&self, flow: f64) -> (f64, f64) {
        let power = 1.0 / self.exponent;
        let ratio = flow.abs() / self.coefficient;
        let suction = flow.signum() * ratio.powf(power);
        (suction, power * ratio.powf(power - 1.0) / self.coefficient)
    }

    /// The exponent.
    #[must_use]
    pub fn exponent(&self) -> Plain {
        Plain::new(self.exponent)
    }

    /// The flow at one pascal: the coefficient, whose unit depends on the exponent.
    #[must_use]
    pub fn at_one_pascal(&self) -> Flow {
        Flow::new(self.coefficient)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reading(p: f64, q: f64) -> (Pressure, Flow) {
        (Pressure::new(p), Flow::new(q))
    }

    #[test]
    fn readings_at_one_suction_make_no_law() {
        assert_eq!(SuctionLaw::fitted(&[reading(20.0, 0.01)]), Err(NotFitted::TooFewReadings));
        let same = [reading(20.0, 0.01), reading(20.0, 0.011)];
        assert_eq!(SuctionLaw::fitted(&same), Err(NotFitted::TooFewReadings));
    }

    #[test]
    fn readings_that_no_ground_gives_are_out_of_range() {
        let steep = SuctionLaw::fitted(&[reading(10.0, 0.01), reading(20.0, 0.04)]);
        assert!(matches!(steep, Err(NotFitted::OutOfRange(error)) if error.what.contains("exponent")));
    }

    #[test]
    fn readings_on_a_law_give_it_back_and_strays_are_told() {
        let on = |p: f64| reading(p, 0.002 * p.powf(0.6));
        let fitted = SuctionLaw::fitted(&[on(10.0), on(40.0), on(200.0)]).unwrap();
        assert!((fitted.law.at_one_pascal().to_si() - 0.002).abs() < 1e-12);
        assert!(fitted.stray.to_si() < 1e-12);
        let off = SuctionLaw::fitted(&[on(10.0), reading(40.0, 0.024), on(200.0)]).unwrap();
        assert!(off.stray.to_si() > 0.05);
    }
}
