//! How far the tubing of a gauge goes.

use crate::base::number::{Comparison, Number, Ratio};
use crate::base::truth::Truth;
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::design::model::controls::Gauge;

use super::ask::Ask;
use super::kinds::Kind;
use super::places::{self, Along};

/// # Meaning
/// How much tubing leads from a gauge to the pipe or suction point whose pressure it shows.
/// # Formula
/// East, north and up from the gauge to the nearest place of what it is tapped to, added up: tubing goes along walls.
/// # Valid for
/// Gauges whose place is stated, tapped to something whose place is.
/// # Accuracy
/// What bends take is not in it.
/// # Source
/// Elementary geometry.
/// # Errors
/// Unknown where the tap, the place of the gauge or that of the pipe is.
/// # Example
/// A gauge 2 ft beside an upright pipe and 1 ft in front of it, at a height that the pipe passes: 3 ft.
pub(crate) fn tubing<'d>(ask: &mut Ask<'d>, system: usize, gauge: &'d Gauge) -> Answer<Number> {
    let here = &gauge.here;
    let owner = u32::try_from(system).ok();
    let named = ask.value(here, &gauge.tap).map(|tap| tap.as_str());
    named.then(|tap| {
        let things = ask.things();
        let run = things.named(Kind::Run, owner, tap);
        let point = things.named(Kind::SuctionPoint, owner, tap);
        let space = gauge.space.known().map(|space| space.as_str());
        let mut gaps = Vec::new();
        for along in [Along::East, Along::North, Along::Up] {
            let own = places::of_the_rest(ask, "the gauge", here, &gauge.at, None, space, along);
            let reach = reach(ask, run, point, along, || Missing {
                reason: Reason::NotComputable("nothing of that name has a place".to_owned()),
                ..gauge.tap.want(here)
            });
            gaps.push(own.both(reach).map(|(own, (low, high))| gap(&own, &low, &high)));
        }
        Answer::all(gaps).map(|gaps| Number::sum(&gaps))
    })
}

/// From where to where what is tapped reaches along an axis.
fn reach(
    ask: &mut Ask<'_>,
    run: Option<Thing>,
    point: Option<Thing>,
    along: Along,
    none: impl FnOnce() -> Missing,
) -> Answer<(Number, Number)> {
    match (run, point) {
        (Some(run), _) => {
            let start = places::run_start(ask, run, along);
            start.both(places::coordinate(ask, run, along)).map(|(a, b)| {
                let rising = a.compare(Comparison::AtMost, &b) == Truth::True;
                if rising { (a, b) } else { (b, a) }
            })
        }
        (None, Some(point)) => places::coordinate(ask, point, along).map(|at| (at.clone(), at)),
        (None, None) => Answer::missing(none()),
    }
}

/// How far a place lies off a stretch; at the most.
fn gap(own: &Number, low: &Number, high: &Number) -> Number {
    let below = (low - own).high();
    let above = (own - high).high();
    Number::exact(below.max(above).max(Ratio::ZERO))
}
