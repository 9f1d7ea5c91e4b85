//! Facts of the areas of the foundation.

use crate::base::number::quantity::Size as Sides;
use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Listed};
use crate::base::vocabulary::Thing;
use crate::calc::geometry::PlanPoint;
use crate::design::model::foundation::{Area, AreaKind, FillKind, Probe};
use crate::yaml::shape::Size;

use super::ask::{Ask, word_id};
use super::bare_soil;
use super::catalogue::{Entries, Fact, Get, words};
use super::kinds::Kind;
use super::outlines;
use super::sheets;
use super::statements::{half_of, settle};
use super::things::of;

/// What the space over an area is read from.
pub(super) const AREA_SPACE: Entries = &["foundation.areas.*.in"];
const AREA_SIZE: Entries = &["foundation.areas.*.size", "foundation.areas.*.outline"];

pub(super) fn area<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Area) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.areas, get)
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

/// The floor that a size makes: of one rectangle, or of both for an L.
pub(super) fn floor_of(size: &Size) -> Number {
    match size {
        Size::Rectangle(one) => sides(one),
        Size::L(one, other) => &sides(one) + &sides(other),
    }
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
            size.map(floor_of)
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
    Fact {
        of: Kind::Area,
        name: "bare_soil",
        meaning: "How much soil of the area lies bare.",
        formula: "as stated; or its floor less membrane, slabs and piers; nothing under a slab",
        source: "elementary geometry",
        needs: &[bare_soil::BARE_SOIL],
        get: Get::Number(Dimension::AREA, bare_soil::bare_soil),
    },
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
    Fact::stated(
        Kind::Area,
        "has_sheet",
        "Whether a sheet lies under the slab of the area.",
        &[&["foundation.areas.*.under_slab.sheet"]],
        Get::Truth(|ask, it| {
            area(ask, it, |ask, a| {
                ask.read_inside(&a.here, &a.under_slab, "sheet", |under| (&under.here, &under.sheet))
                    .map(|sheet| sheet.is_some())
            })
        }),
    ),
    Fact::stated(
        Kind::Area,
        "sheets",
        "The sheet under the slab of the area: none or one.",
        &[&["foundation.areas.*.under_slab.sheet"]],
        Get::Things(Kind::Sheet, |ask, it| {
            area(ask, it, |ask, a| {
                let found = ask.things().owned(Kind::Sheet, it.number);
                Answer::known(Listed::open(found, sheets::lacking(ask, a)))
            })
        }),
    ),
];
