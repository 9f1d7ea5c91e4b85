//! Facts of the looks that were taken at a running system.

use crate::base::number::Dimension;
use crate::base::value::{Answer, Listed};
use crate::base::vocabulary::Thing;
use crate::design::model::papers::Look;

use super::ask::Ask;
use super::catalogue::{Fact, Get};
use super::kinds::Kind;
use super::things::{of, thing};
use super::whole::cut_short;

fn look<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Look) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.looks, get)
}

fn looks(ask: &mut Ask<'_>) -> Answer<Listed<Thing>> {
    let papers = &ask.design().papers;
    let list = ask.read_inside(&papers.here, &papers.upkeep, "looks", |upkeep| (&upkeep.here, &upkeep.looks));
    let open = match list {
        Answer::Known { .. } => {
            papers.upkeep.known().map(|upkeep| cut_short(&upkeep.here, &upkeep.looks)).unwrap_or_default()
        }
        Answer::Unknown(missing) => missing,
    };
    Answer::known(Listed::open(ask.things().all(Kind::Look), open))
}

/// The system that was looked at: the one that is named, or the only one there is.
fn system(ask: &mut Ask<'_>, it: Thing) -> Answer<Thing> {
    look(ask, it, |ask, look| {
        let want = look.system.want(&look.here);
        if look.system.is_missing() && ask.things().count(Kind::System) == 1 {
            let _ = ask.read(&look.here, &look.system);
            return Answer::known(thing(Kind::System, 0));
        }
        ask.value(&look.here, &look.system).then(|name| {
            match ask.things().named(Kind::System, None, name.as_str()) {
                Some(system) => Answer::known(system),
                None => Answer::missing(want),
            }
        })
    })
}

/// Facts of looks.
pub(super) const LOOKS: &[Fact] = &[
    Fact::stated(
        Kind::Design,
        "looks",
        "The looks that were taken at the running systems; complete as written.",
        &[&["papers.upkeep", "papers.upkeep.looks"]],
        Get::Things(Kind::Look, |ask, _| looks(ask)),
    ),
    Fact::stated(
        Kind::Papers,
        "kept_by_occupants",
        "Whether those who live in the house look after the system themselves.",
        &[&["papers.upkeep", "papers.upkeep.by_occupants"]],
        Get::Truth(|ask, _| {
            let papers = &ask.design().papers;
            ask.yes_or_no_inside(&papers.here, &papers.upkeep, "by_occupants", |upkeep| {
                (&upkeep.here, &upkeep.by_occupants)
            })
        }),
    ),
    Fact {
        of: Kind::Look,
        name: "system",
        meaning: "The system that was looked at.",
        formula: "the one that is named, or the only one there is",
        source: "the entries",
        needs: &[&["papers.upkeep.looks.*.system"]],
        get: Get::One(Kind::System, system),
    },
    Fact::stated(
        Kind::Look,
        "reading",
        "What the gauge read.",
        &[&["papers.upkeep.looks.*.gauge"]],
        Get::Number(Dimension::PRESSURE, |ask, it| {
            look(ask, it, |ask, look| ask.quantity(&look.here, &look.gauge))
        }),
    ),
    Fact::stated(
        Kind::Look,
        "acted_on",
        "Whether something was done about what was found.",
        &[&["papers.upkeep.looks.*.done"]],
        Get::Truth(|ask, it| look(ask, it, |ask, look| ask.is_there(&look.here, &look.done))),
    ),
];
