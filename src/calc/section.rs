//! The clear opening of a pipe or duct, as far as a flow notices it.

use std::f64::consts::PI;

use super::amounts::{Area, Flow, Length, Made, OutOfRange, Speed, within};

/// The shape of a clear opening. Made only from sides within range.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Section {
    area: f64,
    hydraulic: f64,
    roundish: f64,
}

/// The least and the greatest clear width, in metres: a gauge tube and a culvert.
const WIDTHS: (f64, f64) = (0.002, 2.0);

impl Section {
    /// The opening of a round pipe.
    ///
    /// # Meaning
    /// A circle of the inside diameter.
    /// # Formula
    /// Area `pi d^2 / 4`, hydraulic diameter `d`.
    /// # Valid for
    /// 2 mm to 2 m.
    /// # Accuracy
    /// Exact.
    /// # Source
    /// Geometry.
    /// # Errors
    /// [`OutOfRange`] outside the range.
    /// # Example
    /// ```
    /// use undercroft::calc::{amounts::{Amount, Length}, section::Section};
    /// let pipe = Section::round(Length::from_si(2.0).unwrap()).unwrap();
    /// assert!((pipe.area().to_si() - std::f64::consts::PI).abs() < 1e-12);
    /// ```
    pub fn round(inside: Length) -> Result<Section, OutOfRange> {
        let d = within("the inside diameter", inside, WIDTHS.0, WIDTHS.1)?;
        Ok(Section { area: PI * d * d / 4.0, hydraulic: d, roundish: d })
    }

    /// The opening of a rectangular duct or downspout.
    ///
    /// # Meaning
    /// A rectangle of the two inside widths.
    /// # Formula
    /// Area `a b`; hydraulic diameter `2 a b / (a + b)`; the round pipe of the same loss at the same flow
    /// `1.30 (a b)^0.625 / (a + b)^0.25`.
    /// # Valid for
    /// 2 mm to 2 m, sides as 1 to 8 at most.
    /// # Accuracy
    /// Area and hydraulic diameter exact; losses by them within some 8 % of measured ones.
    /// # Source
    /// Hydraulic diameter: definition. Round equivalent: Huebscher 1948, from memory of ASHRAE Fundamentals, chapter
    /// Duct Design.
    /// # Errors
    /// [`OutOfRange`] outside the range.
    /// # Example
    /// ```
    /// use undercroft::calc::{amounts::{Amount, Length}, section::Section};
    /// let inch = |text| Length::written(text).unwrap();
    /// let spout = Section::rectangle(inch("2 in"), inch("3 in")).unwrap();
    /// // 2 x 2 x 3 / 5 = 2.4 in
    /// assert!((spout.hydraulic_diameter().to_si() - 2.4 * 0.0254).abs() < 1e-12);
    /// ```
    pub fn rectangle(one: Length, other: Length) -> Result<Section, OutOfRange> {
        let a = within("the inside width", one, WIDTHS.0, WIDTHS.1)?;
        let b = within("the inside depth", other, (a / 8.0).max(WIDTHS.0), (a * 8.0).min(WIDTHS.1))?;
        Ok(Section {
            area: a * b,
            hydraulic: 2.0 * a * b / (a + b),
            roundish: 1.30 * (a * b).powf(0.625) / (a + b).powf(0.25),
        })
    }

    /// The clear area.
    #[must_use]
    pub fn area(&self) -> Area {
        Area::new(self.area)
    }

    /// Four times the area over the wetted edge: the inside diameter of a round pipe.
    #[must_use]
    pub fn hydraulic_diameter(&self) -> Length {
        Length::new(self.hydraulic)
    }

    /// The inside diameter of the round pipe that loses as much at the same flow.
    #[must_use]
    pub fn round_equivalent(&self) -> Length {
        Length::new(self.roundish)
    }

    /// The mean speed of a flow through it: flow over area.
    ///
    /// # Meaning
    /// Volume through the opening in a time, over the opening; the sign is that of the flow.
    /// # Formula
    /// `V = Q / A`
    /// # Valid for
    /// Flows of up to 100 m3/s either way.
    /// # Accuracy
    /// Exact.
    /// # Source
    /// Definition.
    /// # Errors
    /// [`OutOfRange`] outside the range.
    /// # Example
    /// ```
    /// use undercroft::calc::{amounts::{Amount, Flow, Length}, section::Section};
    /// let metre = Length::written("1 m").unwrap();
    /// let duct = Section::rectangle(metre, metre).unwrap();
    /// assert!((duct.speed(Flow::written("3 m3/s").unwrap()).unwrap().to_si() - 3.0).abs() < 1e-12);
    /// ```
    pub fn speed(&self, flow: Flow) -> Result<Speed, OutOfRange> {
        Ok(Speed::new(within("the flow", flow, -100.0, 100.0)? / self.area))
    }
}
