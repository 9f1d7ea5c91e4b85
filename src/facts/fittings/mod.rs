//! The fittings of a run: those it states, or else those that follow from the way the pipe goes.
//!
//! A run that states fittings states all of them; `none` says that it has none. For one that states nothing they are
//! worked out: an elbow where it turns between two of its points, at its beginning an elbow where it goes on from
//! another run in another direction, a tee or wye where several runs meet, a reducer where the sizes differ. That they
//! were worked out is an assumption, and kept as one.
//!
//! Where several runs meet, the one that turns least goes straight on through the tee; of several that turn alike the
//! widest. The others come in from the side, each by a tee of its own in the line of the pipe they leave. Two that leave
//! it in opposite directions share one tee in which both turn.

mod joint;
mod legs;
mod meetings;
mod pieces;

pub use pieces::{outside_of, pieces_of};

use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::calc::amounts::Angle;
use crate::design::model::pipe::{FittingKind, PipeSize, Run};

use super::ask::Ask;
use super::runs::{run, size};

/// Why a fitting is there.
#[derive(Clone, PartialEq, Debug)]
pub enum Why {
    /// The run states it: the member of its list with this number, from nought.
    Stated(usize),
    /// The run turns so far at the end of one of its legs, counted from nought.
    Turn {
        /// The leg before the turn.
        leg: usize,
        /// How far it turns.
        angle: Angle,
    },
    /// The run goes on from another, turning so far.
    GoesOn {
        /// The run from whose end it goes on.
        from: Thing,
        /// How far it turns.
        angle: Angle,
    },
    /// The run leaves the fan in a direction across its axis.
    AtFan {
        /// How far it turns.
        angle: Angle,
    },
    /// Several runs meet.
    Meets {
        /// The others, in the order they are written.
        others: Vec<Thing>,
        /// How far this run turns from the pipe that it leaves.
        angle: Angle,
    },
    /// It is of another size than what it goes on from: this run, or the fan where there is none.
    Size {
        /// The other run.
        from: Option<Thing>,
    },
}

/// A fitting of a run.
#[derive(Clone, PartialEq, Debug)]
pub struct Fitted {
    /// What it is. A tee or wye by the way this run's air takes through it.
    pub kind: FittingKind,
    /// How many of it.
    pub count: u32,
    /// Its size; of a reducer or of a tee, at this run.
    pub size: PipeSize,
    /// Of a reducer the other size; of a tee or wye its size where that is another.
    pub other_size: Option<PipeSize>,
    /// Why it is there.
    pub why: Why,
    /// The run among whose fittings the same piece stands as well, and is counted: this run's air only passes it.
    pub counted_with: Option<Thing>,
}

impl Fitted {
    /// Whether it was worked out and not stated.
    #[must_use]
    pub fn is_implied(&self) -> bool {
        !matches!(self.why, Why::Stated(_))
    }
}

/// The fittings of a run, from its beginning to its end.
///
/// # Meaning
/// Every fitting that this run's air passes between its beginning and its end, what joins it to the others at its
/// beginning with it. The couplings of the fan are the fan's, those that make a pipe longer than a stock length are of
/// the cutting.
/// # Formula
/// As stated; or elbows by the angle of each turn, tees and wyes by the angle at which a run leaves the other, a reducer
/// where sizes differ, a coupling where a run goes straight on from another.
/// # Valid for
/// Runs of which the way, the size and the beginning are known.
/// # Accuracy
/// A turn within 5 degrees of what an elbow makes is made by that elbow, less than 5 degrees by none; any other
/// by two that are turned against each other.
/// # Source
/// The meaning of the words; elbows and tees are sold at 22 1/2, 45 and 90 degrees. How far a joint gives: common
/// practice, no source.
/// # Errors
/// Unknown when the way, the size or the beginning of the run is, or of a run that it meets.
/// # Example
/// `{from: fan, down: 8 ft}` and from its end `{north: 6 ft}`: a quarter bend at the beginning of the second.
pub fn fittings_of(ask: &mut Ask<'_>, it: Thing) -> Answer<Vec<Fitted>> {
    ask.between("fittings", it, |ask| {
        run(ask, it, |ask, run| {
            let _ = ask.read(&run.here, &run.fittings);
            if run.fittings.is_missing() { implied(ask, it, run) } else { stated(ask, it, run) }
        })
    })
}

fn stated<'d>(ask: &mut Ask<'d>, it: Thing, run: &'d Run) -> Answer<Vec<Fitted>> {
    ask.read(&run.here, &run.fittings).then(|list| {
        let mut found = Vec::new();
        for (number, item) in list.into_iter().flat_map(|list| &list.items).enumerate() {
            found.push(item.answer().then(|fitting| {
                let Some(fitting) = fitting else { return Answer::missing(item.want()) };
                let kind = ask.value(&fitting.here, &fitting.kind);
                let own = if fitting.size.is_missing() {
                    size(ask, it)
                } else {
                    ask.value(&fitting.here, &fitting.size).map(|size| *size)
                };
                let other = if fitting.to_size.is_missing() {
                    Answer::known(None)
                } else {
                    ask.value(&fitting.here, &fitting.to_size).map(|size| Some(*size))
                };
                let count = if fitting.count.is_missing() {
                    Answer::known(1)
                } else {
                    ask.value(&fitting.here, &fitting.count).map(|count| count.0)
                };
                kind.both(own).both(other.both(count)).map(|((kind, size), (other_size, count))| Fitted {
                    kind: *kind,
                    count,
                    size,
                    other_size,
                    why: Why::Stated(number),
                    counted_with: None,
                })
            }));
        }
        Answer::all(found)
    })
}

fn implied<'d>(ask: &mut Ask<'d>, it: Thing, run: &'d Run) -> Answer<Vec<Fitted>> {
    ask.assume("the fittings, worked out from where the pipe turns, meets other pipe or changes size");
    let begins = meetings::beginning(ask, it, run).then(|at| joint::fittings(ask, it, at, true));
    let ends = meetings::end(ask, it, run).then(|at| match at {
        Some(at) => joint::fittings(ask, it, at, false),
        None => Answer::known(Vec::new()),
    });
    let turns = legs::legs(ask, it, run).both(size(ask, it)).map(|(legs, size)| {
        let turns = legs.iter().zip(legs.iter().skip(1)).enumerate();
        turns
            .flat_map(|(leg, (one, next))| {
                joint::elbows(next.turn_si(*one), size, |angle| Why::Turn { leg, angle })
            })
            .collect::<Vec<_>>()
    });
    begins.both(turns).both(ends).map(|((mut found, turns), ends)| {
        found.extend(turns);
        found.extend(ends);
        found
    })
}
