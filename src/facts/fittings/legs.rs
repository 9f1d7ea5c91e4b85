//! Which way a run goes, leg by leg.

use crate::base::number::Number;
use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::design::model::extent::Extent;
use crate::design::model::pipe::Run;

use crate::facts::ask::Ask;
use crate::facts::downstream::downstream;
use crate::facts::extents::{along_axis, extents, moved, ways};
use crate::facts::places::{self, Along};

const AXES: [Along; 3] = [Along::East, Along::North, Along::Up];

/// A way in space, of the length one.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Way([f64; 3]);

impl Way {
    /// Straight up.
    pub(super) const UP: Way = Way([0.0, 0.0, 1.0]);

    fn along(reach: [f64; 3]) -> Option<Way> {
        let length = reach.iter().map(|part| part * part).sum::<f64>().sqrt();
        // A tenth of a millimetre is no way.
        (length > 1e-4).then(|| Way(reach.map(|part| part / length)))
    }

    /// The other way.
    pub(super) fn back(self) -> Way {
        Way(self.0.map(|part| -part))
    }

    /// The same way on the level; nothing for one that goes straight up or down.
    pub(super) fn level(self) -> Option<Way> {
        let [east, north, _] = self.0;
        Way::along([east, north, 0.0]).filter(|_| east.hypot(north) > 0.1)
    }

    /// How far it turns from another, in degrees.
    pub(super) fn turn_si(self, from: Way) -> f64 {
        let dot: f64 = self.0.iter().zip(from.0).map(|(a, b)| a * b).sum();
        dot.clamp(-1.0, 1.0).acos().to_degrees()
    }
}

/// The ways of the legs of a run, from its beginning to its end: those between its points, or the one of its tape.
pub(super) fn legs<'d>(ask: &mut Ask<'d>, it: Thing, run: &'d Run) -> Answer<Vec<Way>> {
    let here = &run.here;
    let points: Vec<_> =
        ask.read(here, &run.points).value().flatten().into_iter().flat_map(|list| list.members()).collect();
    let found = if points.len() > 1 {
        let mut corners = Vec::new();
        for point in points {
            let all = AXES.map(|along| places::point_coordinate(ask, point, along));
            corners.push(Answer::all(all));
        }
        Answer::all(corners).map(|corners| {
            let between = corners.iter().zip(corners.iter().skip(1));
            between.filter_map(|(from, to)| Way::along(step(from, to))).collect::<Vec<_>>()
        })
    } else {
        by_tape(ask, it, run).map(|way| way.into_iter().collect())
    };
    found.then(
        |legs| if legs.is_empty() { Answer::missing(run.points.want(here)) } else { Answer::known(legs) },
    )
}

/// The lengths of the legs of a run that is drawn by its points; nothing of one that is not.
pub(super) fn lengths<'d>(ask: &mut Ask<'d>, run: &'d Run) -> Option<Answer<Vec<Number>>> {
    let here = &run.here;
    let points: Vec<_> =
        ask.read(here, &run.points).value().flatten().into_iter().flat_map(|list| list.members()).collect();
    if points.len() < 2 {
        return None;
    }
    let mut corners = Vec::new();
    for point in points {
        corners.push(Answer::all(AXES.map(|along| places::point_coordinate(ask, point, along))));
    }
    let want = run.points.want(here);
    Some(Answer::all(corners).then(|corners| {
        Answer::all(corners.iter().zip(corners.iter().skip(1)).map(|(from, to)| {
            let squares: Vec<Number> = from.iter().zip(to).map(|(from, to)| (to - from).squared()).collect();
            Number::sum(&squares).sqrt().map_or_else(|| Answer::missing(want.clone()), Answer::known)
        }))
    }))
}

fn step(from: &[Number], to: &[Number]) -> [f64; 3] {
    let mut reach = [0.0; 3];
    for ((part, from), to) in reach.iter_mut().zip(from).zip(to) {
        *part = to.to_f64_mid() - from.to_f64_mid();
    }
    reach
}

/// The way of a run that is laid by tape. One that goes along a single axis goes that way however far it is.
fn by_tape<'d>(ask: &mut Ask<'d>, it: Thing, run: &'d Run) -> Answer<Option<Way>> {
    let said: Vec<_> = extents(run).into_iter().filter(|extent| !extent.is_missing()).collect();
    let falls = falls(ask, it, run);
    if let [only] = said.as_slice() {
        return ask.value(&run.here, only).map(|extent| {
            let nowhere = matches!(extent, Extent::Length(length) if length.number().may_be_zero());
            let mut reach = [0.0; 3];
            for (along, part) in AXES.into_iter().zip(&mut reach) {
                let [rising, falling] = ways(run, along);
                *part = f64::from(i8::from(!rising.is_missing()) - i8::from(!falling.is_missing()));
            }
            if let [_, _, up @ 0.0] = &mut reach {
                *up = falls;
            }
            Way::along(reach).filter(|_| !nowhere)
        });
    }
    let plumb = along_axis(ask, it, run, Along::Up).is_some();
    let mut reach = Vec::new();
    for along in AXES {
        let level = along == Along::Up && !plumb;
        reach.push(if level { Answer::known(Number::whole(0)) } else { moved(ask, it, run, along) });
    }
    Answer::all(reach).map(|reach| {
        let mut found = step(&vec![Number::whole(0); 3], &reach);
        if let ([east, north, up], false) = (&mut found, plumb) {
            *up = falls * east.hypot(*north);
        }
        Way::along(found)
    })
}

/// How far a level run rises for each unit that it goes; nought where it does not say.
fn falls<'d>(ask: &mut Ask<'d>, it: Thing, run: &'d Run) -> f64 {
    match (ask.quantity(&run.here, &run.slope).value(), downstream(ask, it).value()) {
        (Some(slope), Some(true)) => slope.to_f64_mid(),
        (Some(slope), Some(false)) => -slope.to_f64_mid(),
        _ => 0.0,
    }
}
