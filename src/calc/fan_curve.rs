//! What a fan does: pressure and power over flow, from the maker's sheet.

use crate::base::number::Ratio;

use super::amounts::{Amount, Density, Flow, Made, OutOfRange, Plain, Power, Pressure, within};

/// A point of a maker's sheet.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct FanPoint {
    /// The flow.
    pub flow: Flow,
    /// The pressure the fan makes at it.
    pub pressure: Pressure,
    /// What it draws, where the sheet says so.
    pub power: Option<Power>,
}

/// Why points are no curve. Points are counted from nought in the order given.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum InvalidCurve {
    /// Fewer than two points.
    TooFewPoints,
    /// More than two hundred points.
    TooManyPoints,
    /// A flow, pressure or power below nought.
    BelowNought(usize),
    /// The flow of this point is not above that of the one before it.
    FlowDoesNotRise(usize),
    /// The pressure of this point is above that of the one before it: a fan that stalls there has no one flow.
    PressureRises(usize),
    /// The density at which the sheet was measured is not between 0.2 and 3 kg/m3.
    Density,
}

/// A flow that a curve does not reach.
#[derive(Clone, Copy, PartialEq, Debug)]
pub enum OffCurve {
    /// Short of the first point of the sheet, whose flow this is; where that is nought, air is pushed backward.
    ShortOfItsStart(Flow),
    /// Past the last point of the sheet, whose flow this is.
    PastItsEnd(Flow),
}

/// The curve of a fan at one speed and density: straight lines between the points of its sheet.
#[derive(Clone, PartialEq, Debug)]
pub struct FanCurve {
    points: Vec<FanPoint>,
    density: f64,
}

/// Where a fan works.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Operating {
    /// The flow through it.
    pub flow: Flow,
    /// The pressure it makes.
    pub pressure: Pressure,
    /// What it draws; `None` where the sheet does not say.
    pub power: Option<Power>,
    /// How much of the shut-off pressure is left: nought when nothing flows.
    pub pressure_left: Plain,
    /// How much of the flow at the end of the sheet is left.
    pub flow_left: Plain,
}

fn share(from: f64, to: f64, at: f64, low: f64, high: f64) -> f64 {
    low + (high - low) * (at - from) / (to - from)
}

impl FanCurve {
    /// A curve through the points of a sheet that was measured at a density.
    ///
    /// # Meaning
    /// Flow and pressure as the sheet gives them; 0.075 lb/ft3 where a sheet speaks of standard air.
    /// # Formula
    /// Straight lines between the points.
    /// # Valid for
    /// 2 to 200 points, the flow rising, the pressure never rising, nothing below nought.
    /// # Accuracy
    /// As the sheet; makers allow themselves some 5 to 10 %.
    /// # Source
    /// Standard air: AMCA 210, 0.075 lb/ft3.
    /// # Errors
    /// [`InvalidCurve`], with the point.
    /// # Example
    /// ```
    /// use undercroft::calc::{amounts::*, fan_curve::{FanCurve, FanPoint}};
    /// let point = |flow, pressure| FanPoint {
    ///     flow: Flow::written(flow).unwrap(), pressure: Pressure::written(pressure).unwrap(), power: None,
    /// };
    /// let sheet = [point("0 cfm", "4 in WC"), point("100 cfm", "2 in WC")];
    /// let fan = FanCurve::new(&sheet, Density::written("0.075 lb/ft3").unwrap()).unwrap();
    /// let at = fan.pressure(Flow::written("50 cfm").unwrap()).unwrap();
    /// // half way: 3 in WC = 3 x 249.089 Pa
    /// assert!((at.to_si() - 747.27).abs() < 0.01);
    /// ```
    pub fn new(points: &[FanPoint], density: Density) -> Result<FanCurve, InvalidCurve> {
        if points.len() < 2 {
            return Err(InvalidCurve::TooFewPoints);
        }
        if points.len() > 200 {
            return Err(InvalidCurve::TooManyPoints);
        }
        let density = within("the density", density, 0.2, 3.0).map_err(|_| InvalidCurve::Density)?;
        for (n, point) in points.iter().enumerate() {
            let power = point.power.map_or(0.0, Amount::to_si);
            if point.flow.to_si() < 0.0 || point.pressure.to_si() < 0.0 || power < 0.0 {
                return Err(InvalidCurve::BelowNought(n));
            }
        }
        for (n, (one, next)) in points.iter().zip(points.iter().skip(1)).enumerate() {
            if next.flow <= one.flow {
                return Err(InvalidCurve::FlowDoesNotRise(n + 1));
            }
            if next.pressure > one.pressure {
                return Err(InvalidCurve::PressureRises(n + 1));
            }
        }
        Ok(FanCurve { points: points.to_vec(), density })
    }

    /// The two points between which a flow lies: the first two before the curve, the last two past it.
    fn around(&self, flow: f64) -> Option<(&FanPoint, &FanPoint)> {
        let pairs = || self.points.iter().zip(self.points.iter().skip(1));
        pairs().find(|(_, next)| flow <= next.flow.to_si()).or_else(|| pairs().next_back())
    }

    /// Pressure and its slope at any flow: the end pieces of the curve are drawn out.
    pub(in crate::calc) fn drawn_out_si(&self, flow: f64) -> (f64, f64) {
        let Some((one, next)) = self.around(flow) else { return (0.0, 0.0) };
        let (a, b) = (one.flow.to_si(), next.flow.to_si());
        let (high, low) = (one.pressure.to_si(), next.pressure.to_si());
        (share(a, b, flow, high, low), (low - high) / (b - a))
    }

    /// Whether a flow lies on the curve, and if not, on which side of it.
    ///
    /// # Meaning
    /// The curve goes from the first to the last flow of the sheet.
    /// # Formula
    /// A comparison.
    /// # Valid for
    /// Every flow.
    /// # Accuracy
    /// Exact.
    /// # Source
    /// None needed.
    /// # Errors
    /// [`OffCurve`], with the end of the curve.
    /// # Example
    /// ```
    /// use undercroft::calc::{amounts::*, fan_curve::*};
    /// let point = |flow, pressure| FanPoint {
    ///     flow: Flow::written(flow).unwrap(), pressure: Pressure::written(pressure).unwrap(), power: None,
    /// };
    /// let sheet = [point("0 cfm", "4 in WC"), point("100 cfm", "2 in WC")];
    /// let fan = FanCurve::new(&sheet, Density::written("0.075 lb/ft3").unwrap()).unwrap();
    /// assert!(matches!(fan.reaches(Flow::written("101 cfm").unwrap()), Err(OffCurve::PastItsEnd(_))));
    /// ```
    pub fn reaches(&self, flow: Flow) -> Result<(), OffCurve> {
        let (first, last) = (self.first_flow(), self.last_flow());
        if flow < first {
            return Err(OffCurve::ShortOfItsStart(first));
        }
        if flow > last { Err(OffCurve::PastItsEnd(last)) } else { Ok(()) }
    }

    /// The pressure the fan makes at a flow.
    ///
    /// # Meaning
    /// As [`FanCurve::new`].
    /// # Formula
    /// Straight lines between the points.
    /// # Valid for
    /// Flows from the first to the last of the sheet.
    /// # Accuracy
    /// As the sheet.
    /// # Source
    /// The sheet.
    /// # Errors
    /// [`OffCurve`] elsewhere: a curve is never drawn out in silence.
    /// # Example
    /// See [`FanCurve::new`].
    pub fn pressure(&self, flow: Flow) -> Result<Pressure, OffCurve> {
        self.reaches(flow)?;
        Ok(Pressure::new(self.drawn_out_si(flow.to_si()).0))
    }

    /// What the fan draws at a flow; `None` off the curve and where the sheet does not say.
    #[must_use]
    pub fn power(&self, flow: Flow) -> Option<Power> {
        self.reaches(flow).ok()?;
        let (one, next) = self.around(flow.to_si())?;
        let (low, high) = (one.power?.to_si(), next.power?.to_si());
        Some(Power::new(share(one.flow.to_si(), next.flow.to_si(), flow.to_si(), low, high)))
    }

    /// The most it can pull: its pressure at the least flow of the sheet.
    #[must_use]
    pub fn shut_off(&self) -> Pressure {
        self.points.first().map_or(Pressure::new(0.0), |point| point.pressure)
    }

    /// The flow at which the sheet starts.
    #[must_use]
    pub fn first_flow(&self) -> Flow {
        self.points.first().map_or(Flow::new(0.0), |point| point.flow)
    }

    /// The flow at which the sheet ends.
    #[must_use]
    pub fn last_flow(&self) -> Flow {
        self.points.last().map_or(Flow::new(0.0), |point| point.flow)
    }

    /// The same fan in air of another density.
    ///
    /// # Meaning
    /// Thin air at a height, heavy air in winter.
    /// # Formula
    /// At the same flow by volume, pressure and power go with the density.
    /// # Valid for
    /// 0.2 to 3 kg/m3, the speed unchanged.
    /// # Accuracy
    /// 2 %; a motor that slips runs a little faster in thin air.
    /// # Source
    /// The fan laws (AMCA 210; Bleier, Fan Handbook 1998, chapter 5).
    /// # Errors
    /// [`OutOfRange`] outside the range.
    /// # Example
    /// ```
    /// use undercroft::calc::{amounts::*, fan_curve::*};
    /// let point = |flow, pressure| FanPoint {
    ///     flow: Flow::written(flow).unwrap(), pressure: Pressure::written(pressure).unwrap(), power: None,
    /// };
    /// let sheet = [point("0 cfm", "300 Pa"), point("100 cfm", "0 Pa")];
    /// let rho = |value| Density::from_si(value).unwrap();
    /// let thin = FanCurve::new(&sheet, rho(1.2)).unwrap().in_air_of(rho(1.0)).unwrap();
    /// assert!((thin.shut_off().to_si() - 250.0).abs() < 1e-9);
    /// ```
    pub fn in_air_of(&self, density: Density) -> Result<FanCurve, OutOfRange> {
        let density = within("the density of the air", density, 0.2, 3.0)?;
        Ok(self.scaled(1.0, density / self.density, density))
    }

    /// The same fan at another speed.
    ///
    /// # Meaning
    /// A speed control, as a share of the speed of the sheet.
    /// # Formula
    /// Flow goes with the speed, pressure with its square, power with its cube.
    /// # Valid for
    /// 0.2 to 1.5 times the speed.
    /// # Accuracy
    /// 3 % near full speed; power of a small motor falls less than the cube.
    /// # Source
    /// The fan laws.
    /// # Errors
    /// [`OutOfRange`] outside the range.
    /// # Example
    /// ```
    /// use undercroft::calc::{amounts::*, fan_curve::*};
    /// let point = |flow, pressure| FanPoint {
    ///     flow: Flow::written(flow).unwrap(), pressure: Pressure::written(pressure).unwrap(), power: None,
    /// };
    /// let sheet = [point("0 cfm", "300 Pa"), point("100 cfm", "0 Pa")];
    /// let fan = FanCurve::new(&sheet, Density::from_si(1.2).unwrap()).unwrap();
    /// let slow = fan.at_speed(Plain::written("80 %").unwrap()).unwrap();
    /// // 300 x 0.64
    /// assert!((slow.shut_off().to_si() - 192.0).abs() < 1e-9);
    /// ```
    pub fn at_speed(&self, ratio: Plain) -> Result<FanCurve, OutOfRange> {
        let ratio = within("the share of the speed", ratio, 0.2, 1.5)?;
        let curve = self.scaled(ratio, ratio * ratio, self.density);
        Ok(curve)
    }

    fn scaled(&self, flow: f64, pressure: f64, density: f64) -> FanCurve {
        let points = self.points.iter().map(|point| FanPoint {
            flow: Flow::new(point.flow.to_si() * flow),
            pressure: Pressure::new(point.pressure.to_si() * pressure),
            power: point.power.map(|power| Power::new(power.to_si() * pressure * flow)),
        });
        FanCurve { points: points.collect(), density }
    }

    /// Where the fan works against a system that it feeds alone.
    ///
    /// # Meaning
    /// The flow at which the fan makes just what the system takes.
    /// # Formula
    /// Curve less system, halved down to the last digits.
    /// # Valid for
    /// A system that takes more the more flows.
    /// # Accuracy
    /// As curve and system.
    /// # Source
    /// Definition.
    /// # Errors
    /// [`OffCurve`] when the system takes less than the fan makes even at the end of its sheet, or is pushed backward at
    /// its least flow.
    /// # Example
    /// ```
    /// use undercroft::calc::{amounts::*, fan_curve::*};
    /// let point = |flow, pressure| FanPoint {
    ///     flow: Flow::from_si(flow).unwrap(), pressure: Pressure::from_si(pressure).unwrap(), power: None,
    /// };
    /// let fan = FanCurve::new(&[point(0.0, 400.0), point(0.04, 0.0)], Density::from_si(1.2).unwrap()).unwrap();
    /// // 400 - 10 000 Q = 10 000 Q at 0.02 m3/s
    /// let at = fan.against(|flow| Pressure::from_si(1e4 * flow.to_si()).unwrap()).unwrap();
    /// assert!((at.flow.to_si() - 0.02).abs() < 1e-9);
    /// ```
    pub fn against(&self, system: impl Fn(Flow) -> Pressure) -> Result<Operating, OffCurve> {
        let surplus = |flow: f64| self.drawn_out_si(flow).0 - system(Flow::new(flow)).to_si();
        let (mut low, mut high) = (self.first_flow().to_si(), self.last_flow().to_si());
        if surplus(low) < 0.0 {
            return Err(OffCurve::ShortOfItsStart(self.first_flow()));
        }
        if surplus(high) > 0.0 {
            return Err(OffCurve::PastItsEnd(self.last_flow()));
        }
        for _ in 0..200 {
            let middle = 0.5 * (low + high);
            if surplus(middle) > 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        self.operating(Flow::new(0.5 * (low + high)))
    }

    /// What the fan does at a flow on its curve, and what it has left.
    ///
    /// # Meaning
    /// Margins are shares of the shut-off pressure and of the last flow.
    /// # Formula
    /// `1 - p / p shut off` and `1 - Q / Q last`
    /// # Valid for
    /// Flows on the curve.
    /// # Accuracy
    /// As the sheet.
    /// # Source
    /// Definition.
    /// # Errors
    /// [`OffCurve`] elsewhere.
    /// # Example
    /// ```
    /// use undercroft::calc::{amounts::*, fan_curve::*};
    /// let point = |flow, pressure| FanPoint {
    ///     flow: Flow::from_si(flow).unwrap(), pressure: Pressure::from_si(pressure).unwrap(), power: None,
    /// };
    /// let fan = FanCurve::new(&[point(0.0, 400.0), point(0.04, 0.0)], Density::from_si(1.2).unwrap()).unwrap();
    /// let at = fan.operating(Flow::from_si(0.01).unwrap()).unwrap();
    /// assert!((at.flow_left.to_si() - 0.75).abs() < 1e-9 && (at.pressure_left.to_si() - 0.25).abs() < 1e-9);
    /// ```
    pub fn operating(&self, flow: Flow) -> Result<Operating, OffCurve> {
        let pressure = self.pressure(flow)?;
        let left = |of: f64, whole: f64| if whole > 0.0 { 1.0 - of / whole } else { 0.0 };
        Ok(Operating {
            flow,
            pressure,
            power: self.power(flow),
            pressure_left: Plain::new(left(pressure.to_si(), self.shut_off().to_si())),
            flow_left: Plain::new(left(flow.to_si(), self.last_flow().to_si())),
        })
    }
}

/// The power a flow carries.
///
/// # Meaning
/// What the fan gives to the air; over what it draws it is the efficiency.
/// # Formula
/// `Q dp`
/// # Valid for
/// Flows of 0 to 100 m3/s, pressures of 0 to 10 kPa.
/// # Accuracy
/// Exact for air that is hardly compressed.
/// # Source
/// Mechanics.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, fan_curve::air_power};
/// let power = air_power(Flow::from_si(0.03).unwrap(), Pressure::written("340 Pa").unwrap()).unwrap();
/// assert!((power.to_si() - 10.2).abs() < 1e-12);
/// ```
pub fn air_power(flow: Flow, pressure: Pressure) -> Result<Power, OutOfRange> {
    let q = within("the flow", flow, 0.0, 100.0)?;
    Ok(Power::new(q * within("the pressure of the fan", pressure, 0.0, 10_000.0)?))
}

/// The density of standard air, at which makers measure: 0.075 lb/ft3.
#[must_use]
pub fn standard_air() -> Density {
    // 0.075 lb/ft3 in kg/m3, by the exact definitions of pound and foot
    let exact = Ratio::new(750 * 45_359_237, 28_316_846_592).map_or(1.2, |ratio| ratio.to_f64());
    Density::new(exact)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn point(flow: f64, pressure: f64, power: Option<f64>) -> FanPoint {
        FanPoint { flow: Flow::new(flow), pressure: Pressure::new(pressure), power: power.map(Power::new) }
    }

    fn made(points: &[(f64, f64)]) -> Result<FanCurve, InvalidCurve> {
        let points: Vec<_> = points.iter().map(|(q, p)| point(*q, *p, None)).collect();
        FanCurve::new(&points, Density::new(1.2))
    }

    #[test]
    fn what_is_no_curve_says_why() {
        assert_eq!(made(&[(0.0, 1.0)]), Err(InvalidCurve::TooFewPoints));
        assert_eq!(made(&[(0.0, 9.0), (1.0, 8.0), (1.0, 7.0)]), Err(InvalidCurve::FlowDoesNotRise(2)));
        assert_eq!(made(&[(0.0, 9.0), (1.0, 9.5), (2.0, 7.0)]), Err(InvalidCurve::PressureRises(1)));
        assert_eq!(made(&[(0.0, 9.0), (1.0, -1.0)]), Err(InvalidCurve::BelowNought(1)));
    }

    #[test]
    fn off_the_curve_is_told_and_never_drawn_out() {
        let fan = made(&[(0.01, 400.0), (0.05, 100.0)]).unwrap();
        assert_eq!(fan.pressure(Flow::new(0.06)), Err(OffCurve::PastItsEnd(Flow::new(0.05))));
        assert_eq!(fan.pressure(Flow::new(0.005)), Err(OffCurve::ShortOfItsStart(Flow::new(0.01))));
        let past = fan.against(|flow| Pressure::new(100.0 * flow.to_si()));
        assert_eq!(past, Err(OffCurve::PastItsEnd(Flow::new(0.05))));
        assert_eq!(fan.against(|_| Pressure::new(500.0)), Err(OffCurve::ShortOfItsStart(Flow::new(0.01))));
    }

    #[test]
    fn power_is_only_told_where_the_sheet_has_it() {
        let points = [point(0.0, 400.0, Some(90.0)), point(0.02, 300.0, Some(80.0)), point(0.04, 0.0, None)];
        let fan = FanCurve::new(&points, Density::new(1.2)).unwrap();
        assert!((fan.power(Flow::new(0.01)).unwrap().to_si() - 85.0).abs() < 1e-9);
        assert_eq!(fan.power(Flow::new(0.03)), None);
    }

    #[test]
    fn there_and_back_again_is_the_same_fan() {
        let fan = made(&[(0.0, 400.0), (0.05, 100.0)]).unwrap();
        let there = fan.at_speed(Plain::new(0.8)).unwrap().in_air_of(Density::new(1.0)).unwrap();
        let back = there.in_air_of(Density::new(1.2)).unwrap().at_speed(Plain::new(1.25)).unwrap();
        assert!((back.shut_off().to_si() - 400.0).abs() < 1e-9);
        assert!((back.last_flow().to_si() - 0.05).abs() < 1e-12);
    }
}
