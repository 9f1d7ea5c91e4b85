//! Facts of rounds: what was found and changed after a radon test that did not come out, and what was read and
//! tested afterwards.

use crate::base::value::{Answer, Listed, Missing, unite};
use crate::base::vocabulary::Thing;
use crate::design::model::readings::Round;
use crate::yaml::entry::{Entry, Here};

use super::ask::Ask;
use super::catalogue::{Fact, Get};
use super::kinds::Kind;
use super::things::{of, thing};
use super::whole::lacking;

fn round<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Round) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.rounds, get)
}

/// Whether an entry of a round says something: `none` says that there was nothing.
fn says<'d, T>(ask: &mut Ask<'d>, it: Thing, get: fn(&'d Round) -> (&'d Here, &'d Entry<T>)) -> Answer<bool> {
    round(ask, it, |ask, round| {
        let (here, entry) = get(round);
        ask.is_there(here, entry)
    })
}

/// # Meaning
/// Whether no other round is of a later day.
/// # Formula
/// The day of the round against the days of all others.
/// # Valid for
/// Every round; two of one day are both the last.
/// # Accuracy
/// Calendar days.
/// # Source
/// The record of the rounds.
/// # Errors
/// Unknown while a day that could be later is not stated; then that day is missing.
/// # Example
/// `rounds: {first: {on: 2026-06-20}, second: {on: 2026-07-02}}`: the second is the last, the first is not.
fn is_last(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    let rounds: Vec<&Round> = ask.things().rounds.iter().map(|round| round.it).collect();
    let own = round(ask, it, |ask, round| ask.value(&round.here, &round.on).map(|day| *day));
    let mut all = own.clone().map(|_| true);
    for (other, number) in rounds.into_iter().zip(0..) {
        if number == it.number {
            continue;
        }
        let day = ask.value(&other.here, &other.on).map(|day| *day);
        let not_later = own.clone().both(day).map(|(own, day)| day <= own);
        all = match (all, not_later) {
            (known @ Answer::Known { value: false, .. }, _)
            | (_, known @ Answer::Known { value: false, .. }) => known,
            (Answer::Unknown(a), Answer::Unknown(b)) => Answer::Unknown(unite(a, b)),
            (Answer::Unknown(a), _) | (_, Answer::Unknown(a)) => Answer::Unknown(a),
            (known, _) => known,
        };
    }
    all
}

/// # Meaning
/// The rounds that a test led to.
/// # Formula
/// All rounds that name the test as what led to them.
/// # Valid for
/// Every test made after start-up.
/// # Accuracy
/// Names.
/// # Source
/// The record of the rounds, which is complete as written.
/// # Errors
/// Not known to be all of them while the list of rounds is not stated, or one does not say which test led to it.
/// # Example
/// `rounds: {first: {because_of: after}}`: one round of the test `after`.
pub(super) fn of_test(ask: &mut Ask<'_>, it: Thing) -> Answer<Listed<Thing>> {
    let name = ask.things().name(it);
    let design = ask.design();
    let mut open: Vec<Missing> = lacking(ask, &design.here, &design.rounds);
    let mut items = Vec::new();
    let rounds: Vec<&Round> = ask.things().rounds.iter().map(|round| round.it).collect();
    for (round, number) in rounds.into_iter().zip(0..) {
        match ask.read(&round.here, &round.because_of) {
            Answer::Known { value: Some(of), .. } if of.as_str() == name => {
                items.push(thing(Kind::Round, number))
            }
            Answer::Known { .. } => {}
            Answer::Unknown(missing) => open = unite(open, missing),
        }
    }
    Answer::known(Listed::open(items, open))
}

/// Facts of rounds.
pub(super) const ROUNDS: &[Fact] = &[
    Fact::stated(
        Kind::Round,
        "found",
        "Whether anything is written of what was found.",
        &[&["rounds.*.found"]],
        Get::Truth(|ask, it| says(ask, it, |round| (&round.here, &round.found))),
    ),
    Fact::stated(
        Kind::Round,
        "changed",
        "Whether anything was changed.",
        &[&["rounds.*.changed"]],
        Get::Truth(|ask, it| says(ask, it, |round| (&round.here, &round.changed))),
    ),
    Fact::stated(
        Kind::Round,
        "read_again",
        "Whether suction or air in the pipe was read afterwards.",
        &[&["rounds.*.readings"]],
        Get::Truth(|ask, it| says(ask, it, |round| (&round.here, &round.readings))),
    ),
    Fact::stated(
        Kind::Round,
        "flues_tried_again",
        "Whether flues were tried again afterwards.",
        &[&["rounds.*.spillage"]],
        Get::Truth(|ask, it| says(ask, it, |round| (&round.here, &round.spillage))),
    ),
    Fact::stated(
        Kind::Round,
        "tested_again",
        "Whether radon was tested afterwards.",
        &[&["rounds.*.test"]],
        Get::Truth(|ask, it| says(ask, it, |round| (&round.here, &round.test))),
    ),
    Fact {
        of: Kind::Round,
        name: "is_last",
        meaning: "Whether no other round is of a later day.",
        formula: "the day of the round against the days of all others",
        source: "the record of the rounds",
        needs: &[&["rounds.*.on"]],
        get: Get::Truth(is_last),
    },
];
