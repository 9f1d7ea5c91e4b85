//! What somebody says was looked for: when a list of what the building has is complete, and what is known of things
//! that are not on it.
//!
//! A look goes only so far. Whoever looked for windows within 20 ft of the discharge knows that any other window is
//! 20 ft away or more, and no more of it than that. So such a list stays open, with that distance.

use crate::base::number::{Comparison, Number, Quantity, Ratio};
use crate::base::truth::Truth;
use crate::base::value::{Answer, AtLeast, Listed, Missing, Others, Reason, unite};
use crate::base::vocabulary::Thing;
use crate::design::model::reach::Reach;
use crate::design::model::site::{Looked, LookedFor};
use crate::yaml::entry::{Entry, Here, Named};

use super::ask::Ask;
use super::catalogue;
use super::kinds::Kind;
use super::whole::cut_short;

/// One of the statements that something was looked for.
pub(super) type Statement = fn(&LookedFor) -> &Entry<Looked>;

/// Where the things of a list can be, and so what a look at them has to cover.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Lies {
    /// In the building. That they were looked for means in all of it.
    Within,
    /// On the outside of the building, seen from the discharge.
    OnIt,
    /// Anywhere out of doors, seen from the discharge.
    AroundIt,
}

fn lies(kind: Kind) -> Lies {
    match kind {
        Kind::Opening | Kind::Intake | Kind::Chimney | Kind::WallAboveRoof => Lies::OnIt,
        Kind::NeighbourOpening | Kind::WalkingSurface => Lies::AroundIt,
        _ => Lies::Within,
    }
}

/// The numbers of a kind of thing that are no less than the distance to which it was looked for.
fn distances(kind: Kind) -> &'static [&'static str] {
    match kind {
        Kind::WallAboveRoof | Kind::WalkingSurface => &["across"],
        Kind::Opening | Kind::NeighbourOpening => &["clearance", "around"],
        Kind::Intake | Kind::Chimney => &["clearance"],
        _ => &[],
    }
}

/// How far the things that were not listed are known to lie from the discharge.
fn no_nearer(kind: Kind, reach: &Reach, than: &Quantity) -> Others {
    let far = than.number.low();
    let at_least = |(name, number, way): (&str, Ratio, u8)| {
        let fact = catalogue::number_of(kind.id(), name)?;
        Some(AtLeast { fact, number: Number::exact(number), way })
    };
    let plain = distances(kind).iter().map(|name| (*name, far.clone(), 0));
    let mut found: Vec<AtLeast> = plain.filter_map(at_least).collect();
    if kind == Kind::NeighbourOpening {
        found.extend(aside_or_below(reach, &far).into_iter().filter_map(at_least));
    }
    found.into()
}

/// How far to the side of the discharge, or below it, whatever opens in a building next door lies that was not come
/// upon. A building stands on the ground and was looked for as well as its openings: under an opening that lies higher
/// than the discharge it comes down to the height of that, and so it lies as far to the side as was looked. Off our own
/// building, with the pipe that goes down it or into it, that holds at every height. Off the discharge alone, what lies
/// lower can be near it to the side, and then it lies the deeper: of the two sides of a right angle one is at least
/// seven tenths of the long side.
fn aside_or_below(reach: &Reach, far: &Ratio) -> Vec<(&'static str, Ratio, u8)> {
    match (reach, Ratio::new(7, 10)) {
        (Reach::OfBuilding(_), _) => vec![("across", far.clone(), 0)],
        (Reach::OfDischarge(_), Some(share)) => {
            let side = far * &share;
            vec![("across", side.clone(), 1), ("top_below_discharge", side, 2)]
        }
        _ => Vec::new(),
    }
}

/// A list that is not complete, of which more is known: what else there may be lies at least so far from the discharge.
/// Where it is open for another reason, the nearer of the two distances counts.
pub(super) fn and_others(
    listed: Listed<Thing>,
    kind: Kind,
    open: Vec<Missing>,
    beyond: Ratio,
) -> Listed<Thing> {
    let facts: Vec<_> =
        distances(kind).iter().filter_map(|name| catalogue::number_of(kind.id(), name)).collect();
    let others = if listed.open.is_empty() {
        facts
            .into_iter()
            .map(|fact| AtLeast { fact, number: Number::exact(beyond.clone()), way: 0 })
            .collect()
    } else {
        let nearer = |known: &AtLeast| known.number.low().min(beyond.clone());
        let known = listed.others.iter().filter(|known| known.way == 0 && facts.contains(&known.fact));
        known.map(|known| AtLeast { number: Number::exact(nearer(known)), ..known.clone() }).collect()
    };
    Listed { items: listed.items, open: unite(listed.open, open), others }
}

/// A list of what the building has: complete where `none` is written for it, or where it was looked for far enough.
pub(super) fn list_of<'d, T>(
    ask: &mut Ask<'d>,
    kind: Kind,
    (of, entry): (&'d Here, &'d Entry<Named<T>>),
    statement: Statement,
) -> Answer<Listed<Thing>> {
    let listed = ask.read(of, entry).map(|list| list.is_some());
    listed_as(ask, kind, listed, cut_short(of, entry), statement)
}

/// The same for a list that was read: whether there is one, and what a fault in the file cut off.
pub(super) fn listed_as(
    ask: &mut Ask<'_>,
    kind: Kind,
    listed: Answer<bool>,
    cut_short: Vec<Missing>,
    statement: Statement,
) -> Answer<Listed<Thing>> {
    let items = ask.things().all(kind);
    let unreadable = match listed {
        Answer::Known { value: false, .. } => return Answer::known(Listed::closed(items)),
        Answer::Known { .. } => cut_short,
        Answer::Unknown(missing) => missing.into_iter().filter(|it| it.reason != Reason::NotStated).collect(),
    };
    let (open, others) = said_complete(ask, kind, statement);
    let others = if unreadable.is_empty() { others } else { Others::default() };
    Answer::known(Listed { items, open: unite(unreadable, open), others })
}

/// What somebody says of having looked. Unknown where nobody says so, or where some of it was not seen.
fn look<'d>(ask: &mut Ask<'d>, statement: Statement) -> Answer<&'d Looked> {
    let looked_for = &ask.design().looked_for;
    let said = match ask.value(&looked_for.here, statement(looked_for)) {
        Answer::Unknown(missing) => Answer::Unknown(
            missing
                .into_iter()
                .map(|missing| match missing.reason {
                    Reason::NotStated => Missing { reason: Reason::NotSaidComplete, ..missing },
                    _ => missing,
                })
                .collect(),
        ),
        said => said,
    };
    said.then(|looked| match ask.read(&looked.here, &looked.not_seen) {
        Answer::Known { value: Some(_), .. } => {
            let want = looked.not_seen.want(&looked.here);
            Answer::missing(Missing { reason: Reason::NotSaidComplete, ..want })
        }
        Answer::Unknown(missing) if !looked.not_seen.is_missing() => Answer::Unknown(missing),
        _ => Answer::known(looked),
    })
}

/// That it was looked only so far.
fn only(looked: &Looked, reach: &Reach) -> Missing {
    Missing { reason: Reason::LookedOnly(reach.to_string()), ..looked.within.want(&looked.here) }
}

/// What is lacking before a look counts for the whole list, and what it tells of things that are not on it.
fn said_complete(ask: &mut Ask<'_>, kind: Kind, statement: Statement) -> (Vec<Missing>, Others) {
    let lies = lies(kind);
    let covered = look(ask, statement).then(|looked| match ask.value(&looked.here, &looked.within) {
        Answer::Unknown(_) if lies == Lies::Within && looked.within.is_missing() => Answer::known(None),
        within => within.map(|reach| Some((looked, reach))),
    });
    match covered {
        Answer::Unknown(missing) => (missing, Others::default()),
        Answer::Known { value: None, .. } => (Vec::new(), Others::default()),
        Answer::Known { value: Some((looked, reach)), .. } => match reach {
            Reach::WholeBuilding if lies == Lies::AroundIt => (vec![only(looked, reach)], Others::default()),
            Reach::WholeBuilding => (Vec::new(), Others::default()),
            Reach::OfBuilding(_) if lies != Lies::AroundIt => (Vec::new(), Others::default()),
            Reach::OfDischarge(far) | Reach::OfBuilding(far) => {
                (vec![only(looked, reach)], no_nearer(kind, reach, far))
            }
        },
    }
}

/// That things out of doors were looked for at least this far from the discharge.
pub(super) fn as_far_as(ask: &mut Ask<'_>, distance: &Number, statement: Statement) -> Answer<()> {
    look(ask, statement).then(|looked| {
        ask.value(&looked.here, &looked.within).then(|reach| match reach {
            Reach::OfDischarge(far) | Reach::OfBuilding(far)
                if distance.compare(Comparison::AtMost, &far.number) == Truth::True =>
            {
                Answer::known(())
            }
            _ => Answer::missing(only(looked, reach)),
        })
    })
}
