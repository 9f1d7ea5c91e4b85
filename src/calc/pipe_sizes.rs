//! Outside diameters of pipe by trade size.

use crate::base::number::Ratio;

/// The series by which a pipe is made, as far as it fixes the outside diameter.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Series {
    /// Iron pipe size: schedules 20, 30, 40 and 80 in plastic, and steel.
    IronPipe,
    /// Thin sewer and drain pipe of plastic.
    SewerPipe,
}

/// Thousandths of an inch in metres.
const MIL: (i128, i128) = (254, 10_000_000);

/// The outside diameter of a pipe, in metres.
///
/// # Meaning
/// The width over all of the straight pipe; the trade size is a name and not a measure.
/// # Formula
/// A table by trade size, in tenths of an inch of that size: 15 for one and a half.
/// # Valid for
/// Iron pipe size: 1 1/2, 2, 3, 4, 6 and 8. Sewer pipe: 3, 4 and 6.
/// # Accuracy
/// The nominal figure of the standard; pipe as made differs by some thousandths of an inch.
/// # Source
/// From memory of ASTM D1785, table 1 (iron pipe size, schedules 40 and 80; the same in ASTM F891 and ASME B36.10),
/// and of ASTM D2729 and D3034 (sewer pipe). The documents themselves were not at hand.
/// # Errors
/// `None` for a size outside the table.
/// # Example
/// ```
/// use undercroft::base::number::Ratio;
/// use undercroft::calc::pipe_sizes::{Series, outside_diameter};
/// // 4.500 in is 114.3 mm
/// assert_eq!(outside_diameter(Series::IronPipe, 40), Ratio::new(1143, 10_000));
/// ```
#[must_use]
pub fn outside_diameter(series: Series, tenths: u32) -> Option<Ratio> {
    let mils = match (series, tenths) {
        (Series::IronPipe, 15) => 1_900,
        (Series::IronPipe, 20) => 2_375,
        (Series::IronPipe, 30) => 3_500,
        (Series::IronPipe, 40) => 4_500,
        (Series::IronPipe, 60) => 6_625,
        (Series::IronPipe, 80) => 8_625,
        (Series::SewerPipe, 30) => 3_250,
        (Series::SewerPipe, 40) => 4_215,
        (Series::SewerPipe, 60) => 6_275,
        _ => return None,
    };
    Ratio::new(mils * MIL.0, MIL.1)
}

/// The widest pipe of the table: a bound for one whose size is not stated.
#[must_use]
pub fn widest() -> Ratio {
    outside_diameter(Series::IronPipe, 80).unwrap_or_default()
}
