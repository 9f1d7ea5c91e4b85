//! Facts of the finished ground about a discharge, place by place.

use crate::base::number::{Dimension, Number};
use crate::base::value::{Answer, Listed};
use crate::base::vocabulary::Thing;

use super::ask::Ask;
use super::catalogue::{Fact, Get, with_places};
use super::kinds::Kind;
use super::level;
use super::outlet;
use super::outlines;
use super::places::{self, Along};
use super::seen::seen_from;
use super::things::of;
use super::whole::lacking;

/// The ground about a discharge: as much of it as is written.
fn about(ask: &mut Ask<'_>, it: Thing) -> Answer<Listed<Thing>> {
    let site = &ask.design().site;
    let open = match site.ground.is_missing() {
        true => {
            let _ = ask.read(&site.here, &site.ground);
            vec![ask.want_at("site.ground.main")]
        }
        false => lacking(ask, &site.here, &site.ground),
    };
    let items = ask.things().owned(Kind::Ground, it.number);
    Answer::known(if open.is_empty() { Listed::closed(items) } else { Listed::open(items, open) })
}

/// # Meaning
/// The level distance from the nearest edge of the outlet to a stretch of ground; nought above it.
/// # Formula
/// By its outline. Where only one height of ground is stated, that is the ground everywhere.
/// # Valid for
/// Ground with an outline, and the only ground there is.
/// # Accuracy
/// Exact for exact places of an upright outlet.
/// # Source
/// Elementary geometry; that one height holds all round is what the key says.
/// # Errors
/// Unknown when there is more than one height of ground and no outline.
/// # Example
/// `ground: {main: 6 ft 6 in}`: nought.
fn across(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let from = seen_from(ask, it);
    let only =
        from.clone().value().is_some_and(|from| ask.things().owned(Kind::Ground, from.number).len() == 1);
    if only {
        return Answer::known(Number::whole(0));
    }
    of(
        ask,
        it,
        |things| &things.grounds,
        |ask, ground| {
            let outline = outlines::outline(ask, &ground.here, &ground.outline);
            ask.is_number(None, outlines::slack_in_plan(&ground.outline));
            outline.both(from).then(|(outline, from)| level::to_outline(ask, from, &outline))
        },
    )
}

/// # Meaning
/// How far the outlet stands above a stretch of ground; negative where the ground is the higher.
/// # Formula
/// The height of the outlet less that of the ground.
/// # Valid for
/// Every stretch of ground.
/// # Accuracy
/// Exact for exact heights.
/// # Source
/// The meaning of the words.
/// # Errors
/// Unknown when a height is not stated.
/// # Example
/// An outlet at 24 ft, ground at 6 ft 6 in: 17 ft 6 in.
fn below_discharge(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let outlet = seen_from(ask, it).then(|from| places::coordinate(ask, from, Along::Up));
    let ground =
        of(ask, it, |things| &things.grounds, |ask, ground| ask.quantity(&ground.here, &ground.height));
    outlet.both(ground).map(|(outlet, ground)| &outlet - &ground)
}

/// Facts of the ground.
pub(super) const GROUNDS: &[Fact] = &[
    Fact::stated(
        Kind::Discharge,
        "grounds",
        "The finished ground about the discharge, place by place; complete as written.",
        &[&["site.ground"]],
        Get::Things(Kind::Ground, about),
    ),
    Fact {
        of: Kind::Ground,
        name: "across",
        meaning: "The level distance from the nearest edge of the outlet to the ground; nought above it.",
        formula: "by its outline; nought where only one height of ground is stated",
        source: "elementary geometry",
        needs: with_places![outlet::FACING],
        get: Get::Number(Dimension::LENGTH, across),
    },
    Fact {
        of: Kind::Ground,
        name: "below_discharge",
        meaning: "How far the outlet stands above the ground; negative where the ground is the higher.",
        formula: "the height of the outlet less that of the ground",
        source: "the meaning of the words",
        needs: with_places![],
        get: Get::Number(Dimension::LENGTH, below_discharge),
    },
];
