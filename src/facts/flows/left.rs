//! The suction that is left at a suction point, reckoned from the fan along the pipe at the air that is designed.

use crate::base::number::Number;
use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::calc::air::Air;
use crate::calc::amounts::{Amount, Flow, Pressure};
use crate::facts::ask::Ask;

use super::built::{Side, WhyNot, curve};
use super::piping::{Begins, Ends, Pipe, Piping, Stands, gas, piping};
use super::worked::{Span, not_worked, taken, way};

/// To what the parts of this reckoning are good.
pub(super) const GOOD_TO: &str =
    "friction is good to 10 %, what fittings take to 25 %, the sheet of the fan to 5 %";

/// The way of the air from a suction point to the outlet: the runs by their places, each with the air that it is designed to carry.
pub(super) struct Way {
    runs: Vec<(usize, Number)>,
    /// The air that passes the fan.
    total: Number,
}

/// The way from a point of a system.
pub(super) fn way_from(ask: &mut Ask<'_>, piping: &Piping, point: Thing) -> Answer<Way> {
    let Some(at) = piping.pipes.iter().position(|pipe| pipe.ends == Ends::Point(point)) else {
        return ask.cannot(point, "no run is said to end at it");
    };
    // Runs behind this one are not on the way from it to the fan; there are none, as it ends at the point.
    let way: Vec<(usize, &Pipe)> =
        way(&piping.pipes, at).iter().filter_map(|at| Some((*at, piping.pipes.get(*at)?))).collect();
    let flows: Vec<Answer<Number>> = way.iter().map(|(_, pipe)| ask.number(pipe.it, "flow")).collect();
    Answer::all(flows).then(|flows| {
        if way.iter().any(|(_, pipe)| matches!(pipe.valve, Some(Stands::SetTo(..) | Stands::ToGive(..)))) {
            return ask.cannot(point, "a valve on its way was set by its gauge and not by its opening");
        }
        let total = way.iter().zip(&flows).find(|((_, pipe), _)| pipe.after && pipe.begins == Begins::Fan);
        match total.map(|(_, flow)| flow.clone()) {
            Some(total) => {
                Answer::known(Way { runs: way.iter().map(|(at, _)| *at).zip(flows).collect(), total })
            }
            None => ask.cannot(point, "its way does not lead to the fan"),
        }
    })
}

/// The suction left at a point of a system.
pub(super) fn left_at(ask: &mut Ask<'_>, system: Thing, point: Thing) -> Answer<Number> {
    gas(ask, system).both(piping(ask, system)).then(|(air, piping)| {
        ask.assume(GOOD_TO);
        way_from(ask, &piping, point).then(|way| {
            let ends =
                [Side::Most, Side::Least].map(|takes| left(&piping, air.at(takes.other()), &way, takes));
            match ends {
                [Ok(low), Ok(high)] => match (Span { low: low.min(high), high: high.max(low) }).number() {
                    Some(left) => Answer::known(left),
                    None => ask.cannot(point, "it is too great"),
                },
                [Err(why), _] | [_, Err(why)] => not_worked(ask, system, &why),
            }
        })
    })
}

/// What is left with pipe that takes least or most, and a fan that is then as strong or as weak as it can be.
pub(super) fn left(piping: &Piping, air: &Air, way: &Way, takes: Side) -> Result<f64, WhyNot> {
    let at_end = |flow: &Number| match takes {
        Side::Least => flow.to_f64_bounds().0,
        Side::Most => flow.to_f64_bounds().1,
    };
    let curve = curve(piping, air, takes.other())?;
    let moved = Flow::from_si(at_end(&way.total)).unwrap_or(Flow::ZERO);
    let made: Pressure = curve.pressure(moved).map_err(|how| WhyNot::OffCurve(piping.fan, moved, how))?;
    let mut left = made.to_si();
    for (at, flow) in &way.runs {
        let Some(pipe) = piping.pipes.get(*at) else { continue };
        left -= taken(air, pipe, takes, at_end(flow))?;
    }
    Ok(left)
}
