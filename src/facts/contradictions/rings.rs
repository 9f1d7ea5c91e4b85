//! Runs that hang on nothing: one that begins at its own end, or several that begin each at the end of another.

use crate::base::vocabulary::Thing;

use super::super::ask::Ask;
use super::super::kinds::Kind;
use super::impossible::Impossible;

/// Every ring of runs, once.
pub(super) fn rings(ask: &Ask<'_>) -> Vec<Impossible> {
    let mut found = Vec::new();
    let mut told: Vec<Thing> = Vec::new();
    for run in ask.things().all(Kind::Run) {
        if told.contains(&run) {
            continue;
        }
        let ring = ring_from(ask, run);
        told.extend(ring.iter().copied());
        found.extend(in_words(ask, &ring));
    }
    found
}

/// The run before another: the one at whose end it begins.
fn before(ask: &Ask<'_>, run: Thing) -> Option<Thing> {
    let member = ask.things().runs.get(run.number as usize)?;
    let from = member.it.from.known()?;
    ask.things().named(Kind::Run, Some(member.owner), from.as_str())
}

/// The runs on the ring that a run is on, beginning with it; empty when it is on none.
fn ring_from(ask: &Ask<'_>, run: Thing) -> Vec<Thing> {
    let mut chain = vec![run];
    let mut at = run;
    while let Some(next) = before(ask, at) {
        if next == run {
            return chain;
        }
        if chain.contains(&next) {
            return Vec::new();
        }
        chain.push(next);
        at = next;
    }
    Vec::new()
}

fn in_words(ask: &Ask<'_>, ring: &[Thing]) -> Option<Impossible> {
    let names: Vec<String> = ring.iter().map(|run| ask.things().name(*run)).collect();
    let what = match names.as_slice() {
        [] => return None,
        [only] => format!("{only} begins at its own end"),
        several => format!("{} begin each at the end of another of them, in a ring", several.join(", ")),
    };
    let todo = "Say where it begins: at the fan, or at the end of the run that is laid before it. Until then \
                nothing is known of where it goes";
    let places = ring.iter().filter_map(|run| ask.things().runs.get(run.number as usize));
    Some(places.fold(Impossible::new(what, todo), |found, member| {
        found.at(member.it.from.want(&member.it.here), "begins here")
    }))
}
