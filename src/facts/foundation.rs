//! Facts of the foundation: areas and membranes.

use crate::base::number::quantity::Size as Sides;
use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Listed};
use crate::base::vocabulary::Thing;
use crate::calc::geometry::PlanPoint;
use crate::design::model::foundation::{Area, AreaKind, FillKind, Probe};
use crate::design::model::membrane::{HeldBy, Membrane, RetarderClass, Seams};
use crate::yaml::shape::Size;

use super::ask::{Ask, in_doubt, word_id};
use super::catalogue::{Entries, Fact, Get, words};
use super::join::agree;
use super::kinds::Kind;
use super::outlines;
use super::statements::{half_of, settle};
use super::things::of;

/// What the space over an area is read from.
pub(super) const AREA_SPACE: Entries = &["foundation.areas.*.in"];
const AREA_SIZE: Entries = &["foundation.areas.*.size", "foundation.areas.*.outline"];

fn area<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Area) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.areas, get)
}

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

fn area_space(ask: &mut Ask<'_>, it: Thing) -> Answer<Thing> {
    let name = ask.things().name(it);
    area(ask, it, |ask, area| {
        if area.space.is_missing()
            && let Some(space) = ask.things().space_named(&name)
        {
            return Answer::known(space);
        }
        let want = area.space.want(&area.here);
        ask.value(&area.here, &area.space).then(|space| ask.space_called(want, space.as_str()))
    })
}

fn sides(size: &Sides) -> Number {
    &size.first.number * &size.second.number
}

/// # Meaning
/// The floor that an area takes up, in plan, inside its walls.
/// # Formula
/// Length times width; for an L, the two rectangles together; for an outline, the surveyor's formula.
/// # Valid for
/// Sizes and outlines that can be read. An outline that crosses itself has no area.
/// # Accuracy
/// Exact for what is stated exactly.
/// # Source
/// Elementary geometry.
/// # Errors
/// Unknown when neither size nor outline is stated; in doubt between the two when they differ.
/// # Example
/// `L of 40 ft x 24 ft and 16 ft x 20 ft` is 1280 sq ft.
fn area_size(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    area(ask, it, |ask, area| {
        let off = |side: &Sides| {
            let half = half_of(side.first.step()).max(half_of(side.second.step()));
            &half * &(&side.first.number.high() + &side.second.number.high())
        };
        let slack = match area.size.known() {
            Some(Size::Rectangle(one)) => off(one),
            Some(Size::L(one, other)) => &off(one) + &off(other),
            None => Ratio::ZERO,
        };
        let size = ask.statement(area.size.want(&area.here), |ask| {
            let size = ask.value(&area.here, &area.size);
            ask.is_number(None, Ratio::ZERO);
            size.map(|size| match size {
                Size::Rectangle(one) => sides(one),
                Size::L(one, other) => &sides(one) + &sides(other),
            })
        });
        if area.outline.is_missing() {
            return size.value;
        }
        let mut round = Ratio::ZERO;
        let outline = ask.statement(area.outline.want(&area.here), |ask| {
            let outline = outlines::outline(ask, &area.here, &area.outline);
            ask.is_number(None, Ratio::ZERO);
            outline.map(|outline| {
                let length = |(a, b): (&PlanPoint, &PlanPoint)| (&a.x - &b.x).abs() + (&a.y - &b.y).abs();
                round = outline.sides().map(length).sum();
                Number::exact(outline.area())
            })
        });
        let off = &outlines::slack_in_plan(&area.outline) * &round;
        let found = vec![size.off_by(slack), outline.off_by(off)];
        let what = |ask: &Ask<'_>| format!("the area of {}", ask.things().name(it));
        settle(ask, what, Dimension::AREA, found, || area.size.want(&area.here))
    })
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
        ask.value(&membrane.here, &membrane.lap).then(|lap| in_doubt(lap.measure.number(), || want))
    })
}

/// Facts of areas.
pub(super) const AREAS: &[Fact] = &[
    Fact::stated(
        Kind::Area,
        "kind",
        "What the floor of the area is.",
        &[&["foundation.areas.*.kind"]],
        Get::Word(words::<AreaKind>, |ask, it| area(ask, it, |ask, a| ask.stated_word(&a.here, &a.kind))),
    ),
    Fact::stated(
        Kind::Area,
        "in",
        "The space above the area; the space of the same name when none is stated.",
        &[AREA_SPACE],
        Get::One(Kind::Space, area_space),
    ),
    Fact {
        of: Kind::Area,
        name: "size",
        meaning: "The floor that the area takes up, in plan, inside its walls.",
        formula: "length times width, the sum of both for an L, or the area within the outline",
        source: "elementary geometry",
        needs: &[AREA_SIZE],
        get: Get::Number(Dimension::AREA, area_size),
    },
    Fact::stated(
        Kind::Area,
        "thickness",
        "How thick the slab is.",
        &[&["foundation.areas.*.thickness"]],
        Get::Number(Dimension::LENGTH, |ask, it| area(ask, it, |ask, a| ask.quantity(&a.here, &a.thickness))),
    ),
    Fact::stated(
        Kind::Area,
        "under_slab",
        "What lies under the slab.",
        &[&["foundation.areas.*.under_slab.kind"]],
        Get::Word(words::<FillKind>, |ask, it| {
            area(ask, it, |ask, a| {
                ask.value_inside(&a.here, &a.under_slab, "kind", |u| (&u.here, &u.kind))
                    .map(|kind| word_id(*kind))
            })
        }),
    ),
    Fact::stated(
        Kind::Area,
        "under_slab_depth",
        "How deep the material under the slab is.",
        &[&["foundation.areas.*.under_slab.depth"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            area(ask, it, |ask, a| {
                ask.quantity_inside(&a.here, &a.under_slab, "depth", |u| (&u.here, &u.depth))
            })
        }),
    ),
    Fact::stated(
        Kind::Area,
        "probe",
        "What a small drill brought up from under the slab.",
        &[&["foundation.areas.*.under_slab.probe"]],
        Get::Word(words::<Probe>, |ask, it| {
            area(ask, it, |ask, a| {
                ask.value_inside(&a.here, &a.under_slab, "probe", |u| (&u.here, &u.probe))
                    .map(|probe| word_id(*probe))
            })
        }),
    ),
    Fact::stated(
        Kind::Area,
        "asbestos_suspected",
        "Whether floor tile, mastic or the like on the area may hold asbestos.",
        &[&["foundation.areas.*.asbestos_suspected"]],
        Get::Truth(|ask, it| area(ask, it, |ask, a| ask.yes_or_no(&a.here, &a.asbestos_suspected))),
    ),
    Fact::stated(
        Kind::Area,
        "reachable",
        "Whether somebody can reach all of the area to work there.",
        &[&["foundation.areas.*.reachable"]],
        Get::Truth(|ask, it| area(ask, it, |ask, a| ask.yes_or_no(&a.here, &a.reachable))),
    ),
    Fact::stated(
        Kind::Area,
        "traffic",
        "Whether heavy things are stored on the area or cars stand on it.",
        &[&["foundation.areas.*.traffic"]],
        Get::Truth(|ask, it| area(ask, it, |ask, a| ask.yes_or_no(&a.here, &a.traffic))),
    ),
    Fact::stated(
        Kind::Area,
        "bare_soil",
        "How much soil of the area lies bare, as stated.",
        &[&["foundation.areas.*.bare_soil"]],
        Get::Number(Dimension::AREA, |ask, it| area(ask, it, |ask, a| ask.quantity(&a.here, &a.bare_soil))),
    ),
    Fact::stated(
        Kind::Area,
        "membranes",
        "The membrane over the area: none or one.",
        &[&["foundation.areas.*.membrane"]],
        Get::Things(Kind::Membrane, |ask, it| {
            area(ask, it, |ask, a| {
                let found = ask.things().membrane_of(it);
                ask.read(&a.here, &a.membrane).map(|_| Listed::closed(found.into_iter().collect()))
            })
        }),
    ),
];

/// Facts of membranes.
pub(super) const MEMBRANES: &[Fact] = &[
    Fact::stated(
        Kind::Membrane,
        "in",
        "The space in which the membrane lies; the space named like the area when none is stated.",
        &[AREA_SPACE],
        Get::One(Kind::Space, |ask, it| {
            let area = ask.things().area_of_membrane(it);
            match area {
                Some(area) => ask.one(area, "in"),
                None => ask.cannot(it, "its area is not known"),
            }
        }),
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
        "turn_up",
        "How far the membrane is turned up the walls.",
        &[&["foundation.areas.*.membrane.edges.turn_up"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            membrane(ask, it, |ask, m, _| {
                ask.value_inside(&m.here, &m.edges, "turn_up", |e| (&e.here, &e.turn_up))
                    .then(|turn_up| in_doubt(turn_up.measure.number(), || m.edges.want(&m.here)))
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
        "covers_all",
        "Whether the membrane covers all the soil of its area.",
        &[&["foundation.areas.*.membrane.covers_all"]],
        Get::Truth(|ask, it| membrane(ask, it, |ask, m, _| ask.yes_or_no(&m.here, &m.covers_all))),
    ),
];
