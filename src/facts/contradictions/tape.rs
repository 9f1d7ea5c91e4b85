//! A tape that cannot reach: one drawn straight that is shorter than a distance it has to span, or one drawn round
//! something that is shorter than the straight one.

use crate::base::number::{Comparison, Number, Ratio};
use crate::base::truth::Truth;
use crate::base::value::Missing;
use crate::design::model::place::{FromDischarge, Place};
use crate::yaml::entry::{Entry, Here};
use crate::yaml::measure::{Measure, Wanted};

use super::super::statements::half_step;
use super::impossible::Impossible;

/// A distance as it is stated: how long, how closely written, by which entry.
struct Stated {
    length: Number,
    slack: Ratio,
    want: Missing,
    key: &'static str,
}

fn stated<W: Wanted>(here: &Here, entry: &Entry<Measure<W>>) -> Option<Stated> {
    let length = entry.known()?.number();
    Some(Stated { length, slack: half_step(entry), want: entry.want(here), key: entry.key })
}

/// What is wrong with the tapes from the discharge to one thing.
pub(in crate::facts) fn from_discharge(name: &str, tape: &FromDischarge) -> Vec<Impossible> {
    let here = &tape.here;
    let parts = [
        stated(here, &tape.left),
        stated(here, &tape.right),
        stated(here, &tape.out),
        stated(here, &tape.away),
        stated(here, &tape.top_below),
        stated(here, &tape.bottom_above),
    ];
    let parts: Vec<Stated> = parts.into_iter().flatten().collect();
    let mut found = Vec::new();
    found.extend(stated(here, &tape.straight).and_then(|straight| too_short(name, &straight, &parts)));
    if found.is_empty() {
        found.extend(stated(here, &tape.around).and_then(|around| too_short(name, &around, &parts)));
    }
    if let (Some(around), Some(straight)) = (stated(here, &tape.around), stated(here, &tape.straight)) {
        found.extend(too_short(name, &around, &[straight]));
    }
    found
}

/// What is wrong with a straight tape from another thing to a place.
pub(super) fn place(name: &str, place: &Place) -> Option<Impossible> {
    let here = &place.here;
    let all = [&place.north, &place.south, &place.east, &place.west, &place.up, &place.down];
    let parts: Vec<Stated> = all.into_iter().filter_map(|entry| stated(here, entry)).collect();
    too_short(name, &stated(here, &place.straight)?, &parts)
}

/// The longest part that a tape cannot span, in words.
fn too_short(name: &str, tape: &Stated, parts: &[Stated]) -> Option<Impossible> {
    let longer = |part: &&Stated| {
        let reach = &tape.length + &Number::exact(&tape.slack + &part.slack);
        part.length.compare(Comparison::More, &reach) == Truth::True
    };
    let part = parts.iter().filter(longer).max_by(|a, b| a.length.low().cmp(&b.length.low()))?;
    let (tape_key, part_key) = (tape.key.replace('_', " "), part.key.replace('_', " "));
    let what = format!(
        "The tape to {name} ({tape_key}) is shorter than a distance that it has to span ({part_key}): nothing so \
         far off is so near"
    );
    let todo = "Measure both again. A tape drawn straight is at least as long as each of its parts, and one drawn \
                round something at least as long as the straight one";
    Some(
        Impossible::new(what, todo)
            .at(tape.want.clone(), "the tape")
            .at(part.want.clone(), "more than the tape can span"),
    )
}
