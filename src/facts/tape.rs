//! What the tape says of how something lies from the discharge.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Missing, Reason, unite};
use crate::design::model::place::FromDischarge;
use crate::yaml::entry::{Entry, Here};
use crate::yaml::measure::{Height, Measure};

use super::ask::Ask;
use super::contradictions::tape;
use super::lies::Lies;
use super::statements::{Statement, settle};

/// What the tape says from the discharge; it must be clear from which.
pub(super) fn by_tape<'d>(ask: &mut Ask<'d>, lies: &Lies<'d>) -> Answer<Option<&'d FromDischarge>> {
    let want = lies.from_discharge.want(lies.here);
    let several = ask.things().discharges.len() > 1;
    ask.read(lies.here, lies.from_discharge).then(|tape| match tape {
        Some(_) if several => {
            let why = "it does not say from which of several discharges".to_owned();
            Answer::missing(Missing { reason: Reason::NotComputable(why), ..want })
        }
        tape => Answer::known(tape),
    })
}

/// What a person would measure: one of the distances from the discharge.
pub(super) fn want_tape(lies: &Lies<'_>, key: &str) -> Missing {
    match lies.from_discharge.known() {
        Some(tape) => {
            Missing { entry: tape.here.path.key(key), reason: Reason::NotStated, at: Some(tape.here.at) }
        }
        None => {
            let want = lies.from_discharge.want(lies.here);
            Missing { entry: want.entry.key(key), ..want }
        }
    }
}

/// A height below or above: the one, or the other with its sign turned.
pub(super) fn below_or_above<'d>(
    ask: &mut Ask<'d>,
    here: &'d Here,
    below: &'d Entry<Measure<Height>>,
    above: &'d Entry<Measure<Height>>,
) -> Option<Statement<'d>> {
    let mut found = Vec::new();
    for (entry, turn) in [(below, false), (above, true)] {
        let stated = ask.statement(entry.want(here), |ask| {
            let stated = ask.quantity(here, entry);
            if turn { stated.map(|number| number.negate()) } else { stated }
        });
        if !entry.is_missing() {
            found.push(stated);
        }
    }
    let want = found.first()?.want.clone();
    if found.len() < 2 {
        return found.pop();
    }
    let by = found.iter().flat_map(|one| one.by.clone()).collect();
    let what = |_: &Ask<'d>| format!("a height from the discharge ({})", want.entry);
    let value = settle(ask, what, Dimension::LENGTH, found, || want.clone());
    Some(Statement { value, want, by, own_slack: None })
}

/// How far the nearest point of a thing lies above or below the outlet, by the tape.
pub(super) fn drop_by_tape<'d>(ask: &mut Ask<'d>, tape: &'d FromDischarge) -> Answer<Number> {
    let here = &tape.here;
    let bottom = below_or_above(ask, here, &tape.bottom_below, &tape.bottom_above);
    let Some(top) = below_or_above(ask, here, &tape.top_below, &tape.top_above) else {
        return match bottom.map(|bottom| bottom.value) {
            Some(Answer::Known { value, doubts }) if value.high().is_negative() => {
                Answer::Known { value: value.negate(), doubts }
            }
            _ => Answer::missing(tape.top_below.want(here)),
        };
    };
    top.value.then(|top| {
        if !top.low().is_negative() {
            return Answer::known(top);
        }
        let zero = Number::whole(0);
        match bottom {
            Some(bottom) => bottom.value.map(|bottom| {
                let parts = [zero, top, bottom.negate()];
                Number::greatest(&parts).unwrap_or_else(|| Number::whole(0))
            }),
            None => {
                let most = top.negate().high().max(Ratio::ZERO);
                let doubts = vec![tape.bottom_below.want(here)];
                Answer::Known { value: Number::between(Ratio::ZERO, most), doubts }
            }
        }
    })
}

/// The level distance, by the tape: whatever way it lies, or along the wall and out from it.
pub(super) fn level_by_tape<'d>(ask: &mut Ask<'d>, tape: &'d FromDischarge) -> Option<Statement<'d>> {
    let here = &tape.here;
    if !tape.away.is_missing() {
        return Some(ask.statement(tape.away.want(here), |ask| ask.quantity(here, &tape.away)));
    }
    let _ = ask.read(here, &tape.away);
    let entry = match (tape.left.is_missing(), tape.right.is_missing()) {
        (true, true) => {
            let _ = (ask.quantity(here, &tape.left), ask.quantity(here, &tape.right));
            return None;
        }
        (true, false) => &tape.right,
        _ => &tape.left,
    };
    Some(ask.statement(entry.want(here), |ask| {
        let sideways = ask.quantity(here, entry);
        let out = ask.quantity(here, &tape.out);
        sideways.both(out).then(|(sideways, out)| match (&sideways.squared() + &out.squared()).sqrt() {
            Some(level) => Answer::known(level),
            None => Answer::missing(entry.want(here)),
        })
    }))
}

/// Where a tape cannot span what it has to, a distance lies anywhere from what the tape says to what it had to span.
/// A drop is between so much above and so much below.
pub(super) fn as_far_as_tapes_can_be(
    lies: &Lies<'_>,
    settled: Answer<Number>,
    at_least: impl FnOnce(Number) -> Number,
) -> Answer<Number> {
    let Some(tape) = lies.from_discharge.known() else { return settled };
    let Some(cannot) = tape::from_discharge("", tape).into_iter().next() else { return settled };
    let lengths = [
        tape.straight.known().map(|one| one.number()),
        tape.around.known().map(|one| one.number()),
        tape.left.known().map(|one| one.number()),
        tape.right.known().map(|one| one.number()),
        tape.out.known().map(|one| one.number()),
        tape.away.known().map(|one| one.number()),
        tape.top_below.known().map(|one| one.number().abs()),
        tape.bottom_above.known().map(|one| one.number().abs()),
    ];
    let lengths: Vec<Number> = lengths.into_iter().flatten().collect();
    let (Some(least), Some(most)) = (Number::least(&lengths), Number::greatest(&lengths)) else {
        return settled;
    };
    match settled {
        Answer::Known { value, doubts } => {
            let value = value.hull(&at_least(least)).hull(&most);
            Answer::Known { value, doubts: unite(doubts, cannot.doubts()) }
        }
        unknown => unknown,
    }
}

/// The straight distance, by the tape: measured, or from the level distance and the drop. The latter is told as
/// lacking something only where nothing else tells.
pub(super) fn straight<'d>(ask: &mut Ask<'d>, tape: &'d FromDischarge, alone: bool) -> Vec<Statement<'d>> {
    let here = &tape.here;
    let mut found = Vec::new();
    let measured = ask.statement(tape.straight.want(here), |ask| ask.quantity(here, &tape.straight));
    if !tape.straight.is_missing() {
        found.push(measured);
    }
    if let Some(level) = level_by_tape(ask, tape) {
        let drop = ask.statement(tape.top_below.want(here), |ask| drop_by_tape(ask, tape));
        let want = level.want.clone();
        let value = level.value.clone().both(drop.value).then(|(level, drop)| {
            match (&level.squared() + &drop.squared()).sqrt() {
                Some(straight) => Answer::known(straight),
                None => Answer::missing(want.clone()),
            }
        });
        let tells = matches!(value, Answer::Known { .. });
        if tells || (alone && found.is_empty()) {
            let mut by = level.by;
            by.extend(drop.by);
            found.push(Statement { value, want, by, own_slack: None });
        }
    }
    found
}
