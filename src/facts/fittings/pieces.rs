//! What a run is cut from: how long its pieces are, and how wide its pipe is outside.

use crate::base::number::Number;
use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::calc::pipe_sizes::outside_diameter;
use crate::design::model::pipe::{PipeMaterial, Run};

use crate::facts::ask::Ask;
use crate::facts::extents::along_axis;
use crate::facts::laid;
use crate::facts::outlet::{series, tenths};
use crate::facts::places::Along;
use crate::facts::runs::{material, run, schedule, size};

use super::legs;

/// The lengths of the straight pieces of a run, from its beginning.
///
/// # Meaning
/// From turn to turn. What goes into the fittings is not taken off.
/// # Formula
/// The distances between its points; or its whole length; or, where it is not known where it lies, what its tape comes to.
/// # Valid for
/// Runs that are straight between their points.
/// # Accuracy
/// Exact, or the root of an exact number.
/// # Source
/// Pythagoras.
/// # Errors
/// Unknown when neither its points nor its length are known.
/// # Example
/// `{points: [[0 ft, 0 ft, 8 ft], [0 ft, 0 ft, 0 ft], [3 ft, 4 ft, 0 ft]]}`: 8 ft and 5 ft.
pub fn pieces_of<'d>(ask: &mut Ask<'d>, it: Thing) -> Answer<Vec<Number>> {
    run(ask, it, |ask, run: &'d Run| match legs::lengths(ask, run) {
        Some(lengths) => lengths,
        None => match laid::length(ask, it) {
            Answer::Unknown(missing) => taped(ask, it, run).map_or(Answer::Unknown(missing), Answer::known),
            known => known.map(|length| vec![length]),
        },
    })
}

/// The length of a run by the lengths of its tape, wherever it lies.
fn taped<'d>(ask: &mut Ask<'d>, it: Thing, run: &'d Run) -> Option<Vec<Number>> {
    let mut squares = Vec::new();
    for along in [Along::East, Along::North, Along::Up] {
        if let Some(reach) = along_axis(ask, it, run, along) {
            squares.push(reach.value()?.squared());
        }
    }
    let length = Number::sum(&squares).sqrt()?;
    (length.low().signum() > 0).then(|| vec![length])
}

/// The outside diameter of the pipe of a run.
///
/// # Meaning
/// The width over all of the straight pipe.
/// # Formula
/// By the trade size and the series.
/// # Valid for
/// The sizes of the table.
/// # Accuracy
/// The nominal figure.
/// # Source
/// `calc::pipe_sizes`.
/// # Errors
/// Unknown when size, material or schedule is, or the table does not hold it.
/// # Example
/// 4 in of schedule 40: 4.500 in.
pub fn outside_of(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let series_of = |ask: &mut Ask<'_>, material: PipeMaterial| match material {
        PipeMaterial::Steel => Answer::known(series(material, None)),
        _ => schedule(ask, it).map(|schedule| series(material, Some(schedule))),
    };
    let series = material(ask, it).then(|material| series_of(ask, material));
    series.both(size(ask, it)).then(|(series, size)| {
        match series.and_then(|series| outside_diameter(series, tenths(size))) {
            Some(diameter) => Answer::known(Number::exact(diameter)),
            None => ask.cannot(it, "the outside diameter of that pipe is not in the table"),
        }
    })
}
