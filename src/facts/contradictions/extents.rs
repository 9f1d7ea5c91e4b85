//! A run that is said to go up to something that does not lie that way.

use crate::base::vocabulary::Thing;
use crate::design::model::extent::{Extent, Until};
use crate::design::model::pipe::Run;
use crate::yaml::entry::Entry;
use crate::yaml::words::Words;

use super::super::ask::Ask;
use super::super::extents::{can_lie, extents, until, what_it_meets};
use super::super::kinds::Kind;
use super::super::places::{self, Along};
use super::super::statements::surely_less;
use super::impossible::Impossible;

/// What a run is said to go up to, in words.
fn the(what: Until) -> String {
    match what {
        Until::Soil | Until::Membrane | Until::Slab | Until::Roof | Until::Fan | Until::Discharge => {
            format!("the {}", what.spelling())
        }
        Until::Wall | Until::Ceiling | Until::Pit | Until::Lid => format!("a {}", what.spelling()),
    }
}

/// Which way a run is said to go.
fn toward(along: Along, rising: bool) -> &'static str {
    match (along, rising) {
        (Along::Up, true) => "up",
        (Along::Up, false) => "down",
        (Along::North, true) => "north",
        (Along::North, false) => "south",
        (Along::East, true) => "east",
        (Along::East, false) => "west",
    }
}

/// Whether a run is said to go up to something along an axis that surely does not lie that way.
pub(in crate::facts) fn not_that_way<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    run: &'d Run,
    along: Along,
) -> Option<Impossible> {
    let (what, entry, rising) = until(run, along)?;
    let (name, way, want) = (ask.things().name(it), toward(along, rising), entry.want(&run.here));
    if !can_lie(what, along) {
        let level = along != Along::Up;
        let how = if level { "level" } else { "straight up or down" };
        let found = format!(
            "{name} is said to go {way} to {}, and such a thing is never met by going {how}",
            the(what)
        );
        let todo = if level {
            "Say how far it goes as a length. A level run can go to wall, to fan or to discharge"
        } else {
            "Say how far it goes as a length. A wall is met by going north, south, east or west"
        };
        return Some(Impossible::new(found, todo).at(want, "goes there"));
    }
    let from = run.from.want(&run.here);
    let start = ask.statement(from.clone(), |ask| places::run_start(ask, it, along));
    let met = what_it_meets(ask, it, run, along)?;
    let behind =
        met.iter().find(|met| if rising { surely_less(met, &start) } else { surely_less(&start, met) })?;
    let found = format!(
        "{name} is said to go {way} to {}, and yet that lies the other way from where it begins",
        the(what)
    );
    let todo = "Correct which way it goes or where it begins, or the height or place of what it goes to";
    let found = Impossible::new(found, todo).at(want.clone(), "goes there").at(from, "begins here");
    Some(if behind.want == want { found } else { found.at(behind.want.clone(), "what it goes to") })
}

/// Every run that is said to go up to something that does not lie that way.
pub(super) fn ways(ask: &mut Ask<'_>) -> Vec<Impossible> {
    let mut found = Vec::new();
    for it in ask.things().all(Kind::Run) {
        let Some(run) = ask.things().runs.get(it.number as usize).map(|member| member.it) else { continue };
        for along in [Along::Up, Along::North, Along::East] {
            found.extend(not_that_way(ask, it, run, along));
        }
    }
    found
}

/// Every run that is said to go no distance at all.
pub(super) fn nowhere(ask: &Ask<'_>) -> Vec<Impossible> {
    let mut found = Vec::new();
    for member in &ask.things().runs {
        let stated: Vec<_> = extents(member.it).into_iter().filter(|way| !way.is_missing()).collect();
        let is_nothing = |way: &&Entry<Extent>| match way.known() {
            Some(Extent::Length(length)) => length.number().high().is_zero(),
            _ => false,
        };
        let Some(first) = stated.first().filter(|_| stated.iter().all(is_nothing)) else { continue };
        let what = format!("{} is said to go no distance at all", member.name);
        let todo = "Correct its length, or take the run out and let the next begin where it began";
        found.push(Impossible::new(what, todo).at(first.want(&member.it.here), "nothing"));
    }
    found
}
