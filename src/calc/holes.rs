//! Holes that pipes pass through, and what is left round them.

use std::f64::consts::PI;

use super::amounts::{Area, Length, Made, OutOfRange, within};

/// What is left of a round hole round a pipe in its middle.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Around {
    /// The width of the ring.
    pub width: Length,
    /// The area of the ring.
    pub area: Area,
}

/// The ring that a round hole leaves round a pipe.
///
/// # Meaning
/// The pipe stands in the middle of the hole.
/// # Formula
/// Width `(H - OD)/2`, area `pi/4 (H^2 - OD^2)`.
/// # Valid for
/// Holes of up to 2 m, pipes that fit.
/// # Accuracy
/// Exact.
/// # Source
/// Geometry.
/// # Errors
/// [`OutOfRange`] when the pipe does not fit.
/// # Example
/// ```
/// use undercroft::calc::{amounts::{Amount, Length}, holes::around};
/// let inch = |text| Length::written(text).unwrap();
/// let ring = around(inch("5 in"), inch("4.5 in")).unwrap();
/// assert!((ring.width.to_si() - 0.25 * 0.0254).abs() < 1e-12);
/// ```
pub fn around(hole: Length, outside: Length) -> Result<Around, OutOfRange> {
    let hole = within("the width of the hole", hole, 0.0, 2.0)?;
    let pipe = within("the outside diameter of the pipe", outside, 0.0, hole)?;
    Ok(Around {
        width: Length::new((hole - pipe) / 2.0),
        area: Area::new(PI / 4.0 * (hole * hole - pipe * pipe)),
    })
}
