//! Facts of the places where runs go through walls, floors, ceilings and roofs.

use crate::base::number::Dimension;
use crate::base::value::{Answer, Listed, unite};
use crate::base::vocabulary::Thing;
use crate::design::model::pipe::{Cut, FireStop, Member as FrameMember, Penetration, Pierced};

use super::ask::{Ask, word_id};
use super::catalogue::{Fact, Get, words};
use super::join::either;
use super::kinds::Kind;
use super::runs::run;
use super::things::{of, thing};

fn penetration<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Penetration) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.penetrations, get)
}

pub(super) fn own_penetrations(ask: &mut Ask<'_>, it: Thing) -> Answer<Listed<Thing>> {
    run(ask, it, |ask, run| {
        let open = super::whole::lacking(ask, &run.here, &run.pierces);
        Answer::known(Listed::open(ask.things().owned(Kind::Penetration, it.number), open))
    })
}

/// What a penetration goes through: as stated, or as its name tells.
fn what(ask: &mut Ask<'_>, it: Thing) -> Answer<Pierced> {
    let name = ask.things().name(it).replace('_', " ");
    penetration(ask, it, |ask, p| {
        let stated = ask.value(&p.here, &p.kind).map(|kind| *kind);
        let by_name = match <Pierced as crate::yaml::words::Words>::find(&name) {
            Some(kind) if p.kind.is_missing() => {
                ask.assume("what a penetration goes through, by its name");
                Answer::known(kind)
            }
            _ => Answer::missing(p.kind.want(&p.here)),
        };
        either(stated, by_name)
    })
}

/// Whether a run pierces a floor, a ceiling or the roof.
pub(super) fn pierces_floor(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    own_penetrations(ask, it).then(|found| {
        let mut missing = found.open;
        for one in found.items {
            match what(ask, one) {
                Answer::Known { value: Pierced::Floor | Pierced::Ceiling | Pierced::Roof, .. } => {
                    return Answer::known(true);
                }
                Answer::Known { .. } => {}
                Answer::Unknown(more) => missing = unite(missing, more),
            }
        }
        if missing.is_empty() { Answer::known(false) } else { Answer::Unknown(missing) }
    })
}

/// Whether a run pierces the roof, which makes its discharge one through the roof.
pub(super) fn pierces_roof(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    own_penetrations(ask, it).then(|found| {
        let mut missing = found.open;
        for one in found.items {
            match what(ask, one) {
                Answer::Known { value: Pierced::Roof, .. } => return Answer::known(true),
                Answer::Known { .. } => {}
                Answer::Unknown(more) => missing = unite(missing, more),
            }
        }
        if missing.is_empty() { Answer::known(false) } else { Answer::Unknown(missing) }
    })
}

fn fire_rated(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    penetration(ask, it, |ask, p| ask.is_there(&p.here, &p.fire_rated))
}

/// Facts of penetrations.
pub(super) const PENETRATIONS: &[Fact] = &[
    Fact::stated(
        Kind::Penetration,
        "run",
        "The run that goes through.",
        &[],
        Get::One(Kind::Run, |ask, it| match ask.things().owner(it) {
            Some(owner) => Answer::known(thing(Kind::Run, owner)),
            None => ask.cannot(it, "it belongs to no run"),
        }),
    ),
    Fact::stated(
        Kind::Penetration,
        "what",
        "What the run goes through: as stated, or as the name tells.",
        &[&["systems.*.runs.*.pierces.*.kind"]],
        Get::Word(words::<Pierced>, |ask, it| what(ask, it).map(word_id)),
    ),
    Fact::stated(
        Kind::Penetration,
        "fire_rated",
        "Whether what the run goes through has to resist fire.",
        &[&["systems.*.runs.*.pierces.*.fire_rated"]],
        Get::Truth(fire_rated),
    ),
    Fact::stated(
        Kind::Penetration,
        "fire_stopped",
        "Whether something keeps fire from passing beside the pipe.",
        &[&["systems.*.runs.*.pierces.*.fire_stop"]],
        Get::Truth(|ask, it| penetration(ask, it, |ask, p| ask.is_there(&p.here, &p.fire_stop))),
    ),
    Fact::stated(
        Kind::Penetration,
        "fire_stop",
        "What keeps fire from passing beside the pipe.",
        &[&["systems.*.runs.*.pierces.*.fire_stop"]],
        Get::Word(words::<FireStop>, |ask, it| {
            penetration(ask, it, |ask, p| ask.stated_word(&p.here, &p.fire_stop))
        }),
    ),
    Fact::stated(
        Kind::Penetration,
        "sealed",
        "Whether the gap round the pipe is closed.",
        &[&["systems.*.runs.*.pierces.*.sealed"]],
        Get::Truth(|ask, it| penetration(ask, it, |ask, p| ask.yes_or_no(&p.here, &p.sealed))),
    ),
    Fact::stated(
        Kind::Penetration,
        "flashed",
        "Whether a flashing keeps water out.",
        &[&["systems.*.runs.*.pierces.*.flashing"]],
        Get::Truth(|ask, it| penetration(ask, it, |ask, p| ask.yes_or_no(&p.here, &p.flashing))),
    ),
    Fact::stated(
        Kind::Penetration,
        "cuts_frame",
        "Whether a member of the frame is cut for the pipe.",
        &[&["systems.*.runs.*.pierces.*.framing"]],
        Get::Truth(|ask, it| penetration(ask, it, |ask, p| ask.is_there(&p.here, &p.framing))),
    ),
    Fact::stated(
        Kind::Penetration,
        "member",
        "The member of the frame that is cut.",
        &[&["systems.*.runs.*.pierces.*.framing.member"]],
        Get::Word(words::<FrameMember>, |ask, it| {
            penetration(ask, it, |ask, p| {
                ask.value_inside(&p.here, &p.framing, "member", |f| (&f.here, &f.member))
                    .map(|word| word_id(*word))
            })
        }),
    ),
    Fact::stated(
        Kind::Penetration,
        "cut",
        "How the member of the frame is cut.",
        &[&["systems.*.runs.*.pierces.*.framing.cut"]],
        Get::Word(words::<Cut>, |ask, it| {
            penetration(ask, it, |ask, p| {
                ask.value_inside(&p.here, &p.framing, "cut", |f| (&f.here, &f.cut)).map(|word| word_id(*word))
            })
        }),
    ),
    Fact::stated(
        Kind::Penetration,
        "member_depth",
        "The real depth of the member of the frame that is cut.",
        &[&["systems.*.runs.*.pierces.*.framing.depth"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            penetration(ask, it, |ask, p| {
                ask.quantity_inside(&p.here, &p.framing, "depth", |f| (&f.here, &f.depth))
            })
        }),
    ),
    Fact::stated(
        Kind::Penetration,
        "cut_size",
        "How wide the hole or how deep the notch in the member is.",
        &[&["systems.*.runs.*.pierces.*.framing.size"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            penetration(ask, it, |ask, p| {
                ask.quantity_inside(&p.here, &p.framing, "size", |f| (&f.here, &f.size))
            })
        }),
    ),
    Fact::stated(
        Kind::Penetration,
        "cut_from_edge",
        "How far the cut in the member is from its nearest edge.",
        &[&["systems.*.runs.*.pierces.*.framing.from_edge"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            penetration(ask, it, |ask, p| {
                ask.quantity_inside(&p.here, &p.framing, "from_edge", |f| (&f.here, &f.from_edge))
            })
        }),
    ),
    Fact::stated(
        Kind::Penetration,
        "cut_from_end",
        "How far the cut in the member is from the nearest end of its span.",
        &[&["systems.*.runs.*.pierces.*.framing.from_end"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            penetration(ask, it, |ask, p| {
                ask.quantity_inside(&p.here, &p.framing, "from_end", |f| (&f.here, &f.from_end))
            })
        }),
    ),
    Fact::stated(
        Kind::Penetration,
        "span",
        "The span of the member that is cut.",
        &[&["systems.*.runs.*.pierces.*.framing.span"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            penetration(ask, it, |ask, p| {
                ask.quantity_inside(&p.here, &p.framing, "span", |f| (&f.here, &f.span))
            })
        }),
    ),
    Fact::stated(
        Kind::Penetration,
        "cut_allowed",
        "Whether the maker of the member or an engineer allows the cut.",
        &[&["systems.*.runs.*.pierces.*.framing.allowed_by"]],
        Get::Truth(|ask, it| {
            penetration(ask, it, |ask, p| {
                ask.read_inside(&p.here, &p.framing, "allowed_by", |f| (&f.here, &f.allowed_by))
                    .map(|by| by.is_some())
            })
        }),
    ),
];
