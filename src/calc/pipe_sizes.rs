//! Diameters of pipe and conduit by trade size.

use crate::base::number::{Number, Ratio};

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

/// The series by which a pipe is made, as far as it fixes the thickness of the wall.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Wall {
    /// Schedule 40, with a solid wall or a core of foam.
    Forty,
    /// Schedule 80.
    Eighty,
    /// Thin drain and vent pipe of ASTM D2949.
    ThinVent,
    /// Thin drain pipe.
    ThinDrain,
    /// Sewer pipe with a wall of one thirty-fifth of its width.
    Sdr35,
    /// Sewer pipe with a wall of one twenty-sixth of its width.
    Sdr26,
}

/// The least wall of a pipe, in metres.
///
/// # Meaning
/// The thickness below which the standard lets no wall be.
/// # Formula
/// A table by trade size, in tenths of an inch of that size: 15 for one and a half.
/// # Valid for
/// Schedules 40 and 80: 1 1/2, 2, 3, 4, 6 and 8. Thin vent: 3. Thin drain: 3, 4 and 6. SDR 35 and 26: 4 and 6.
/// # Accuracy
/// Walls as made are up to an eighth thicker.
/// # Source
/// ASTM D1785, table 2, by reprints (schedule 40) and from memory (schedule 80); from memory of ASTM D2949, D2729 and
/// D3034, to be confirmed before a rule depends on them.
/// # Errors
/// `None` for a size outside the table.
/// # Example
/// ```
/// use undercroft::base::number::Ratio;
/// use undercroft::calc::pipe_sizes::{Wall, least_wall};
/// // 0.216 in
/// assert_eq!(least_wall(Wall::Forty, 30), Ratio::new(54_864, 10_000_000));
/// ```
#[must_use]
pub fn least_wall(wall: Wall, tenths: u32) -> Option<Ratio> {
    let mils = match (wall, tenths) {
        (Wall::Forty, 15) => 145,
        (Wall::Forty, 20) => 154,
        (Wall::Forty, 30) => 216,
        (Wall::Forty, 40) => 237,
        (Wall::Forty, 60) => 280,
        (Wall::Forty, 80) => 322,
        (Wall::Eighty, 15) => 200,
        (Wall::Eighty, 20) => 218,
        (Wall::Eighty, 30) => 300,
        (Wall::Eighty, 40) => 337,
        (Wall::Eighty, 60) => 432,
        (Wall::Eighty, 80) => 500,
        (Wall::ThinVent, 30) => 125,
        (Wall::ThinDrain, 30) => 70,
        (Wall::ThinDrain, 40) => 75,
        (Wall::ThinDrain, 60) => 100,
        (Wall::Sdr35, 40) => 120,
        (Wall::Sdr35, 60) => 180,
        (Wall::Sdr26, 40) => 162,
        (Wall::Sdr26, 60) => 241,
        _ => return None,
    };
    Ratio::new(mils * MIL.0, MIL.1)
}

/// The inside diameter of a pipe, in metres.
///
/// # Meaning
/// The clear width of the straight pipe: the outside diameter less two walls.
/// # Formula
/// Outside diameter less twice [`least_wall`].
/// # Valid for
/// The sizes of [`least_wall`].
/// # Accuracy
/// By the least wall of the standard. Walls as made are up to an eighth thicker, the pipe inside so much narrower.
/// # Source
/// As [`outside_diameter`] and [`least_wall`]; for schedules 40 and 80 the inside diameters are those of ASME B36.10 as
/// handbooks of steel pipe print them.
/// # Errors
/// `None` for a size outside the table.
/// # Example
/// ```
/// use undercroft::base::number::Ratio;
/// use undercroft::calc::pipe_sizes::{Wall, inside_diameter};
/// // 4.026 in is 102.2604 mm
/// assert_eq!(inside_diameter(Wall::Forty, 40), Ratio::new(1_022_604, 10_000_000));
/// ```
#[must_use]
pub fn inside_diameter(wall: Wall, tenths: u32) -> Option<Ratio> {
    let series = match wall {
        Wall::Forty | Wall::Eighty => Series::IronPipe,
        Wall::ThinVent | Wall::ThinDrain | Wall::Sdr35 | Wall::Sdr26 => Series::SewerPipe,
    };
    let wall = least_wall(wall, tenths)?;
    Some(outside_diameter(series, tenths)? - &wall - &wall)
}

/// The clear width that pipe can have whose outside and wall lie within bands.
///
/// # Meaning
/// From the least outside with the thickest wall to the greatest outside with the thinnest.
/// # Formula
/// `OD - 2 w` at the ends of both bands; the middle of the range is the middle outside less twice the middle wall.
/// # Valid for
/// Bands that leave a clear width.
/// # Accuracy
/// Exact.
/// # Source
/// Arithmetic.
/// # Errors
/// `None` when nothing clear is left.
/// # Example
/// ```
/// use undercroft::base::number::{Number, Ratio};
/// use undercroft::calc::pipe_sizes::inside_range;
/// let n = |from, to| Number::between(Ratio::from(from), Ratio::from(to));
/// assert_eq!(inside_range(&n(88, 90), &n(5, 7)), Some(n(74, 80)));
/// ```
#[must_use]
pub fn inside_range(outside: &Number, wall: &Number) -> Option<Number> {
    let ((thin, thick), (narrow, wide)) = (wall.bounds(), outside.bounds());
    let least = narrow - &thick - &thick;
    (least.signum() > 0).then(|| Number::between(least, wide - &thin - &thin))
}

/// The outside diameter and the wall of electrical metallic tubing, in metres.
///
/// # Meaning
/// Nominal figures; what wires have inside is the outside less twice the wall.
/// # Formula
/// A table by trade size, in hundredths of an inch of that size.
/// # Valid for
/// 1/2, 3/4, 1, 1 1/4, 1 1/2, 2, 2 1/2, 3, 3 1/2 and 4.
/// # Accuracy
/// Tubing as made differs by 0.005 in outside.
/// # Source
/// Steel Tube Institute, table of weights and dimensions of electrical metallic tubing; the walls of 1 1/4 and 3 from memory.
/// # Errors
/// `None` for a size outside the table.
/// # Example
/// ```
/// use undercroft::base::number::Ratio;
/// use undercroft::calc::pipe_sizes::metallic_tubing;
/// // 0.706 in
/// assert_eq!(metallic_tubing(50).map(|(outside, _)| outside), Ratio::new(179_324, 10_000_000));
/// ```
#[must_use]
pub fn metallic_tubing(hundredths: u32) -> Option<(Ratio, Ratio)> {
    let (outside, wall) = match hundredths {
        50 => (706, 42),
        75 => (922, 49),
        100 => (1_163, 57),
        125 => (1_510, 65),
        150 => (1_740, 65),
        200 => (2_197, 65),
        250 => (2_875, 72),
        300 => (3_500, 72),
        350 => (4_000, 83),
        400 => (4_500, 83),
        _ => return None,
    };
    Some((Ratio::new(outside * MIL.0, MIL.1)?, Ratio::new(wall * MIL.0, MIL.1)?))
}

/// The widest pipe of the table: a bound for one whose size is not stated.
#[must_use]
pub fn widest() -> Ratio {
    outside_diameter(Series::IronPipe, 80).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Inside diameters as tables of steel pipe print them (ASME B36.10, standard and extra strong weight; from memory),
    /// in thousandths of an inch: by trade size in tenths of an inch, schedule 40, schedule 80.
    const PRINTED: [(u32, i128, i128); 6] = [
        (15, 1_610, 1_500),
        (20, 2_067, 1_939),
        (30, 3_068, 2_900),
        (40, 4_026, 3_826),
        (60, 6_065, 5_761),
        (80, 7_981, 7_625),
    ];

    #[test]
    fn inside_diameters_are_those_that_handbooks_print() {
        for (tenths, forty, eighty) in PRINTED {
            let mils = |mils: i128| Ratio::new(mils * MIL.0, MIL.1);
            assert_eq!(inside_diameter(Wall::Forty, tenths), mils(forty), "{tenths}");
            assert_eq!(inside_diameter(Wall::Eighty, tenths), mils(eighty), "{tenths}");
        }
    }

    #[test]
    fn the_wall_of_sewer_pipe_is_the_share_of_its_width_that_its_name_says() {
        for (wall, ratio) in [(Wall::Sdr35, 35), (Wall::Sdr26, 26)] {
            for tenths in [40, 60] {
                let outside = outside_diameter(Series::SewerPipe, tenths).unwrap();
                let inside = inside_diameter(wall, tenths).unwrap();
                let wall = (&outside - &inside).checked_div(&Ratio::from(2)).unwrap();
                let named = outside.checked_div(&Ratio::from(ratio)).unwrap();
                let off = (&wall - &named).abs();
                // to a thousandth of an inch, by which the table is kept
                assert!(off <= Ratio::new(MIL.0, MIL.1).unwrap(), "{ratio} {tenths}");
            }
        }
        assert_eq!(inside_diameter(Wall::Sdr35, 30), None);
        assert_eq!(inside_diameter(Wall::Forty, 50), None);
    }
}
