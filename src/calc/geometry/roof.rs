//! Sloping planes.

use crate::base::number::Ratio;

/// How steeply a plane climbs: so much up for so much across.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Pitch(pub Ratio);

/// How far a sloping plane has climbed above its lower edge at some distance in from that edge.
///
/// # Meaning
/// The height of a roof's surface above its eave, measured straight up. The distance is counted level and
/// square to the eave; a negative one lies outside the edge, where the plane is carried on downward.
/// # Formula
/// `distance * pitch`, with the pitch as a ratio: 6 in 12 is 1/2.
/// # Valid for
/// Plane roofs, between eave and ridge. Beyond the ridge the caller has to know better.
/// # Accuracy
/// Exact.
/// # Source
/// The meaning of a pitch.
/// # Errors
/// None.
/// # Example
/// ```
/// use undercroft::base::number::Ratio;
/// use undercroft::calc::geometry::{Pitch, rise_above_eave};
/// let six_in_twelve = Pitch(Ratio::new(1, 2).unwrap());
/// assert_eq!(rise_above_eave(&six_in_twelve, &Ratio::from(8)), Ratio::from(4));
/// ```
#[must_use]
pub fn rise_above_eave(pitch: &Pitch, in_from_edge: &Ratio) -> Ratio {
    in_from_edge * &pitch.0
}
