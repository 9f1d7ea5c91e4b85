//! Resistance of copper wire, and the voltage that is lost along it.

use crate::base::number::{Number, Ratio};

/// Whether a wire is one thread or several.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Strands {
    /// One thread.
    Solid,
    /// Several threads, which take a little more length.
    Stranded,
}

/// The resistance of uncoated copper wire, in ohms per metre.
///
/// # Meaning
/// What one wire of a circuit sets against the current, for each metre of it, at 75 degrees Celsius.
/// # Formula
/// A table by gauge, in milliohms for a thousand feet.
/// # Valid for
/// Gauges 18, 16, 14, 12, 10 and 8, for direct current; at these sizes alternating current differs by less than the table
/// shows.
/// # Accuracy
/// The figures of the table. Cooler wire has less, by about 0.3 % for each degree.
/// # Source
/// National Electrical Code, chapter 9, table 8, as read in two reprints; 14 stranded, 10 solid and 18 stranded from memory
/// of the same table.
/// # Errors
/// `None` for a gauge outside the table.
/// # Example
/// ```
/// use undercroft::base::number::Ratio;
/// use undercroft::calc::electrical::{Strands, resistance};
/// // 14 solid: 3.07 ohms for 1000 ft, which is 304.8 m
/// assert_eq!(resistance(14, Strands::Solid), Ratio::new(307, 30_480));
/// ```
#[must_use]
pub fn resistance(gauge: u32, strands: Strands) -> Option<Ratio> {
    let (solid, stranded) = match gauge {
        18 => (7_770, 7_950),
        16 => (4_890, 4_990),
        14 => (3_070, 3_140),
        12 => (1_930, 1_980),
        10 => (1_210, 1_240),
        8 => (764, 778),
        _ => return None,
    };
    let milliohms = match strands {
        Strands::Solid => solid,
        Strands::Stranded => stranded,
    };
    Ratio::new(milliohms, 304_800)
}

/// The voltage lost along the two wires of a circuit, in volts.
///
/// # Meaning
/// What is lacking of the voltage at the far end, against the voltage at the panel.
/// # Formula
/// Twice the length one way, times the current, times the resistance of one wire for each metre.
/// # Valid for
/// Circuits of two wires; the current in phase with the voltage.
/// # Accuracy
/// As the inputs. A motor's current is somewhat out of phase, which makes the loss smaller.
/// # Source
/// Ohm's law.
/// # Errors
/// None.
/// # Example
/// 100 ft of 14 solid with 0.75 A: 2 x 100 x 0.75 x 3.07 / 1000 = 0.4605 V.
#[must_use]
pub fn voltage_drop(one_way: &Number, current: &Number, resistance: &Ratio) -> Number {
    let both_wires = &Number::whole(2) * one_way;
    &(&both_wires * current) * &Number::exact(resistance.clone())
}
