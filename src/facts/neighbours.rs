//! Neighbouring buildings: how far they stand off, and so how far whatever opens in them is at least.

use crate::base::number::{Number, Ratio};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::design::model::openings::Neighbour;

use super::ask::Ask;
use super::kinds::Kind;
use super::level;
use super::outlines;
use super::statements::{Statement, surely_less};
use super::tape::level_by_tape;

/// What is said of how far a neighbour's building stands off a discharge: the straight tape, the level one, and the
/// level distance by its outline. None of them is more than the distance to anything in that building.
pub(super) fn distances<'d>(ask: &mut Ask<'d>, from: Thing, neighbour: &'d Neighbour) -> Vec<Statement<'d>> {
    let here = &neighbour.here;
    let one = ask.things().discharges.len() == 1;
    let mut found = Vec::new();
    let tape = ask.read(here, &neighbour.from_discharge).value().flatten();
    if let Some(tape) = tape.filter(|_| one) {
        let straight =
            ask.statement(tape.straight.want(&tape.here), |ask| ask.quantity(&tape.here, &tape.straight));
        found.push(straight);
        found.extend(level_by_tape(ask, tape));
    }
    found.push(ask.statement(neighbour.outline.want(here), |ask| {
        let outline = outlines::outline(ask, here, &neighbour.outline);
        ask.is_number(None, outlines::slack_in_plan(&neighbour.outline));
        outline.then(|outline| level::to_outline(ask, from, &outline))
    }));
    found.retain(|one| matches!(one.value, Answer::Known { .. }));
    found
}

/// How near to any discharge something in a neighbour's building can be: no nearer than the building. Nothing where
/// that cannot be told of some discharge.
pub(super) fn no_nearer<'d>(ask: &mut Ask<'d>, neighbour: &'d Neighbour) -> Option<Ratio> {
    let mut least: Option<Ratio> = None;
    for from in ask.things().all(Kind::Discharge) {
        let known = distances(ask, from, neighbour);
        // Where two statements differ, the nearer counts; a level distance is never more than a straight one.
        let taped: Vec<Number> = known.iter().filter_map(|one| one.value.clone().value()).collect();
        let near = Number::least(&taped)?.low();
        least = Some(least.map_or(near.clone(), |least| least.min(near)));
    }
    least
}

/// An opening of a neighbour that is said to be nearer than the building it is in, with the two statements.
pub(super) fn nearer_than_its_building<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    neighbour: &'d Neighbour,
) -> Option<(Statement<'d>, Statement<'d>)> {
    let from = ask.things().seen_from(it)?;
    let want = ask.of_thing(it, Reason::NotStated);
    let opening = ask.statement(want, |ask| ask.number(it, "clearance"));
    let building = distances(ask, from, neighbour);
    let nearer = building.into_iter().find(|building| surely_less(&opening, building))?;
    Some((opening, nearer))
}

/// That the openings of a neighbour are not said to be all of them.
pub(super) fn not_complete(neighbour: &Neighbour) -> Missing {
    Missing { reason: Reason::NotSaidComplete, ..neighbour.openings_complete.want(&neighbour.here) }
}
