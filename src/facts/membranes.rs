//! Facts of membranes over bare soil.

use crate::base::number::{Comparison, Dimension, Number};
use crate::base::truth::Truth;
use crate::base::value::{Answer, unite};
use crate::base::vocabulary::Thing;
use crate::design::model::foundation::Area;
use crate::design::model::membrane::{ClosedBy, HeldBy, Membrane, RetarderClass, Seams};

use super::ask::{Ask, as_stated, word_id};
use super::catalogue::{Fact, Get, words};
use super::foundation::AREA_SPACE;
use super::join::agree;
use super::kinds::Kind;
use super::things::of;
use super::whole::cut_short;

/// The area over which a membrane lies, and the membrane.
fn membrane<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Membrane, &'d Area) -> Answer<R>,
) -> Answer<R> {
    of(
        ask,
        it,
        |things| &things.membranes,
        |ask, area: &'d Area| match area.membrane.known() {
            Some(membrane) => get(ask, membrane, area),
            None => Answer::missing(area.membrane.want(&area.here)),
        },
    )
}

fn seams_sealed(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    membrane(ask, it, |ask, membrane, _| {
        ask.value(&membrane.here, &membrane.seams).map(|seams| *seams != Seams::Loose)
    })
}

fn has_piers(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    membrane(ask, it, |ask, membrane, area| {
        let counted = ask.read(&area.here, &area.piers).map(|count| count.is_some_and(|count| count.0 > 0));
        if membrane.piers.is_missing() {
            return counted;
        }
        let met = ask.is_there(&membrane.here, &membrane.piers);
        agree(counted, met, &[area.piers.want(&area.here), membrane.piers.want(&membrane.here)])
    })
}

fn lap(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    membrane(ask, it, |ask, membrane, _| {
        let want = membrane.lap.want(&membrane.here);
        ask.value(&membrane.here, &membrane.lap).then(|lap| as_stated(lap.measure.number(), || want))
    })
}

fn below_wood(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    membrane(ask, it, |ask, membrane, _| {
        ask.value_inside(&membrane.here, &membrane.edges, "below_wood", |e| (&e.here, &e.below_wood))
            .then(|below| as_stated(below.measure.number(), || membrane.edges.want(&membrane.here)))
    })
}

/// Whether a membrane touches wood: as stated, and one that ends some way below the wood does not.
fn touches_wood(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    membrane(ask, it, |ask, membrane, _| {
        let edges = &membrane.edges;
        let stated =
            ask.yes_or_no_inside(&membrane.here, edges, "touches_wood", |e| (&e.here, &e.touches_wood));
        let Some(written) = edges.known().filter(|written| !written.below_wood.is_missing()) else {
            return stated;
        };
        let clear =
            below_wood(ask, it).then(|below| match below.compare(Comparison::More, &Number::whole(0)) {
                Truth::True => Answer::known(false),
                _ => Answer::missing(written.touches_wood.want(&written.here)),
            });
        agree(
            stated,
            clear,
            &[written.touches_wood.want(&written.here), written.below_wood.want(&written.here)],
        )
    })
}

/// Whether all that is written to pass a membrane is sealed to it.
fn penetrations_sealed(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    membrane(ask, it, |ask, membrane, _| {
        ask.read(&membrane.here, &membrane.penetrations).then(|written| {
            let mut open = cut_short(&membrane.here, &membrane.penetrations);
            for (_, one) in written.into_iter().flat_map(|list| list.things()) {
                match ask.yes_or_no(&one.here, &one.sealed) {
                    Answer::Known { value: false, .. } => return Answer::known(false),
                    Answer::Known { .. } => {}
                    Answer::Unknown(missing) => open = unite(open, missing),
                }
            }
            if open.is_empty() { Answer::known(true) } else { Answer::Unknown(open) }
        })
    })
}

/// Facts of membranes.
pub(super) const MEMBRANES: &[Fact] = &[
    Fact::stated(
        Kind::Membrane,
        "area",
        "The area over which the membrane lies.",
        &[],
        Get::One(Kind::Area, |ask, it| match ask.things().area_of_sheet(it) {
            Some(area) => Answer::known(area),
            None => ask.cannot(it, "its area is not known"),
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "in",
        "The space in which the membrane lies; the space named like the area when none is stated.",
        &[AREA_SPACE],
        Get::One(Kind::Space, |ask, it| {
            let area = ask.things().area_of_sheet(it);
            match area {
                Some(area) => ask.one(area, "in"),
                None => ask.cannot(it, "its area is not known"),
            }
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "stands_vapours",
        "Whether the membrane stands the chemical vapours that are under the house.",
        &[&["foundation.areas.*.membrane.stands_vapours"]],
        Get::Truth(|ask, it| membrane(ask, it, |ask, m, _| ask.yes_or_no(&m.here, &m.stands_vapours))),
    ),
    Fact::stated(
        Kind::Membrane,
        "thickness",
        "How thick the membrane is.",
        &[&["foundation.areas.*.membrane.thickness"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            membrane(ask, it, |ask, m, _| ask.quantity(&m.here, &m.thickness))
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "cross_laminated",
        "Whether layers of the membrane are pressed together crosswise.",
        &[&["foundation.areas.*.membrane.cross_laminated"]],
        Get::Truth(|ask, it| membrane(ask, it, |ask, m, _| ask.yes_or_no(&m.here, &m.cross_laminated))),
    ),
    Fact::stated(
        Kind::Membrane,
        "reinforced",
        "Whether threads strengthen the membrane.",
        &[&["foundation.areas.*.membrane.reinforced"]],
        Get::Truth(|ask, it| membrane(ask, it, |ask, m, _| ask.yes_or_no(&m.here, &m.reinforced))),
    ),
    Fact::stated(
        Kind::Membrane,
        "black",
        "Whether the membrane is black.",
        &[&["foundation.areas.*.membrane.black"]],
        Get::Truth(|ask, it| membrane(ask, it, |ask, m, _| ask.yes_or_no(&m.here, &m.black))),
    ),
    Fact::stated(
        Kind::Membrane,
        "class",
        "The class of the membrane by the standard for retarders under slabs.",
        &[&["foundation.areas.*.membrane.class"]],
        Get::Word(words::<RetarderClass>, |ask, it| {
            membrane(ask, it, |ask, m, _| ask.stated_word(&m.here, &m.class))
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "classed",
        "Whether the membrane is of a class of the standard for retarders under slabs.",
        &[&["foundation.areas.*.membrane.class"]],
        Get::Truth(|ask, it| membrane(ask, it, |ask, m, _| ask.is_there(&m.here, &m.class))),
    ),
    Fact::stated(
        Kind::Membrane,
        "permeance",
        "How readily vapour passes the membrane.",
        &[&["foundation.areas.*.membrane.permeance"]],
        Get::Number(Dimension::PERMEANCE, |ask, it| {
            membrane(ask, it, |ask, m, _| ask.quantity(&m.here, &m.permeance))
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "lap",
        "How far the sheets of the membrane lie over each other.",
        &[&["foundation.areas.*.membrane.lap"]],
        Get::Number(Dimension::LENGTH, lap),
    ),
    Fact::stated(
        Kind::Membrane,
        "seams_sealed",
        "Whether the seams of the membrane are sealed, taped or welded.",
        &[&["foundation.areas.*.membrane.seams"]],
        Get::Truth(seams_sealed),
    ),
    Fact::stated(
        Kind::Membrane,
        "edges_sealed",
        "Whether the edges of the membrane are sealed to the walls.",
        &[&["foundation.areas.*.membrane.edges.sealed"]],
        Get::Truth(|ask, it| {
            membrane(ask, it, |ask, m, _| {
                ask.yes_or_no_inside(&m.here, &m.edges, "sealed", |e| (&e.here, &e.sealed))
            })
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "edges_fixed",
        "Whether the edges of the membrane are fixed so that they stay.",
        &[&["foundation.areas.*.membrane.edges.fixed"]],
        Get::Truth(|ask, it| {
            membrane(ask, it, |ask, m, _| {
                ask.yes_or_no_inside(&m.here, &m.edges, "fixed", |e| (&e.here, &e.fixed))
            })
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "edges_held_by",
        "What holds the edges of the membrane.",
        &[&["foundation.areas.*.membrane.edges.held_by"]],
        Get::Word(words::<HeldBy>, |ask, it| {
            membrane(ask, it, |ask, m, _| {
                ask.value_inside(&m.here, &m.edges, "held_by", |e| (&e.here, &e.held_by))
                    .map(|word| word_id(*word))
            })
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "edges_sealed_with",
        "What the edges of the membrane are sealed with.",
        &[&["foundation.areas.*.membrane.edges.sealed_with"]],
        Get::Word(words::<ClosedBy>, |ask, it| {
            membrane(ask, it, |ask, m, _| {
                ask.value_inside(&m.here, &m.edges, "sealed_with", |e| (&e.here, &e.sealed_with))
                    .map(|word| word_id(*word))
            })
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "below_wood",
        "How far below the wood of the frame the edges of the membrane end.",
        &[&["foundation.areas.*.membrane.edges.below_wood"]],
        Get::Number(Dimension::LENGTH, below_wood),
    ),
    Fact {
        of: Kind::Membrane,
        name: "touches_wood",
        meaning: "Whether the membrane touches wood of the frame that is not treated.",
        formula: "as stated, or that it ends some way below the wood",
        source: "the meaning of the words",
        needs: &[&[
            "foundation.areas.*.membrane.edges.touches_wood",
            "foundation.areas.*.membrane.edges.below_wood",
        ]],
        get: Get::Truth(touches_wood),
    },
    Fact::stated(
        Kind::Membrane,
        "battens_last",
        "Whether wood that holds the edges of the membrane is treated or resists rot and insects.",
        &[&["foundation.areas.*.membrane.edges.battens_last"]],
        Get::Truth(|ask, it| {
            membrane(ask, it, |ask, m, _| {
                ask.yes_or_no_inside(&m.here, &m.edges, "battens_last", |e| (&e.here, &e.battens_last))
            })
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "turn_up",
        "How far the membrane is turned up the walls.",
        &[&["foundation.areas.*.membrane.edges.turn_up"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            membrane(ask, it, |ask, m, _| {
                ask.value_inside(&m.here, &m.edges, "turn_up", |e| (&e.here, &e.turn_up))
                    .then(|turn_up| as_stated(turn_up.measure.number(), || m.edges.want(&m.here)))
            })
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "piers",
        "Whether piers or posts stand in the membrane.",
        &[&["foundation.areas.*.piers", "foundation.areas.*.membrane.piers"]],
        Get::Truth(has_piers),
    ),
    Fact::stated(
        Kind::Membrane,
        "piers_sealed",
        "Whether the membrane is sealed to the piers and posts in it.",
        &[&["foundation.areas.*.membrane.piers.sealed"]],
        Get::Truth(|ask, it| {
            membrane(ask, it, |ask, m, _| {
                ask.value_inside(&m.here, &m.piers, "sealed", |p| (&p.here, &p.sealed)).map(|sealed| *sealed)
            })
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "pier_turn_up",
        "How far the membrane is turned up the piers and posts in it.",
        &[&["foundation.areas.*.membrane.piers.turn_up"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            membrane(ask, it, |ask, m, _| {
                ask.value_inside(&m.here, &m.piers, "turn_up", |p| (&p.here, &p.turn_up))
                    .then(|turn_up| as_stated(turn_up.measure.number(), || m.piers.want(&m.here)))
            })
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "seams_with",
        "What the seams of the membrane are closed with.",
        &[&["foundation.areas.*.membrane.seams_with"]],
        Get::Word(words::<ClosedBy>, |ask, it| {
            membrane(ask, it, |ask, m, _| ask.stated_word(&m.here, &m.seams_with))
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "penetrations_sealed",
        "Whether the membrane is sealed round every pipe, post and cable that passes it; complete as written.",
        &[&["foundation.areas.*.membrane.penetrations", "foundation.areas.*.membrane.penetrations.*.sealed"]],
        Get::Truth(penetrations_sealed),
    ),
    Fact::stated(
        Kind::Membrane,
        "torn",
        "Whether the membrane has tears or holes that are stated.",
        &[&["foundation.areas.*.membrane.tears"]],
        Get::Truth(|ask, it| membrane(ask, it, |ask, m, _| ask.is_there(&m.here, &m.tears))),
    ),
    Fact::stated(
        Kind::Membrane,
        "tears_closed_with",
        "What tears in the membrane are closed with.",
        &[&["foundation.areas.*.membrane.tears.closed_with"]],
        Get::Word(words::<ClosedBy>, |ask, it| {
            membrane(ask, it, |ask, m, _| {
                ask.value_inside(&m.here, &m.tears, "closed_with", |t| (&t.here, &t.closed_with))
                    .map(|word| word_id(*word))
            })
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "patch_lap",
        "How far patches over tears in the membrane lap on all sides.",
        &[&["foundation.areas.*.membrane.tears.patch_lap"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            membrane(ask, it, |ask, m, _| {
                ask.quantity_inside(&m.here, &m.tears, "patch_lap", |t| (&t.here, &t.patch_lap))
            })
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "covers_all",
        "Whether the membrane covers all the soil of its area.",
        &[&["foundation.areas.*.membrane.covers_all"]],
        Get::Truth(|ask, it| membrane(ask, it, |ask, m, _| ask.yes_or_no(&m.here, &m.covers_all))),
    ),
    Fact::stated(
        Kind::Membrane,
        "covers_walls",
        "Whether the membrane also covers the walls.",
        &[&["foundation.areas.*.membrane.covers_walls"]],
        Get::Truth(|ask, it| membrane(ask, it, |ask, m, _| ask.yes_or_no(&m.here, &m.covers_walls))),
    ),
    Fact::stated(
        Kind::Membrane,
        "shielded",
        "Whether something shields the membrane where people crawl or things are stored.",
        &[&["foundation.areas.*.membrane.traffic_cover"]],
        Get::Truth(|ask, it| membrane(ask, it, |ask, m, _| ask.is_there(&m.here, &m.traffic_cover))),
    ),
    Fact::stated(
        Kind::Membrane,
        "held_down_by",
        "What keeps the membrane from lifting.",
        &[&["foundation.areas.*.membrane.held_down_by"]],
        Get::Word(words::<HeldBy>, |ask, it| {
            membrane(ask, it, |ask, m, _| ask.stated_word(&m.here, &m.held_down_by))
        }),
    ),
    Fact::stated(
        Kind::Membrane,
        "held_down",
        "Whether something keeps the membrane from lifting.",
        &[&["foundation.areas.*.membrane.held_down_by"]],
        Get::Truth(|ask, it| membrane(ask, it, |ask, m, _| ask.is_there(&m.here, &m.held_down_by))),
    ),
];
