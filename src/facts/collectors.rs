//! Facts of collectors, which gather the soil gas under a floor or a membrane, and of the layer in which they lie.

use crate::base::number::Dimension;
use crate::base::value::{Answer, Listed};
use crate::base::vocabulary::Thing;
use crate::design::model::foundation::{Collector, CollectorKind, StoneNumber, UnderSlab};
use crate::yaml::entry::{Entry, Here};

use super::ask::{Ask, word_id};
use super::catalogue::{Fact, Get, words};
use super::foundation::area;
use super::kinds::Kind;
use super::things::{of, thing};
use super::whole::lacking;

fn collector<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Collector) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.collectors, get)
}

/// An entry of the layer under an area.
fn layer<'d, T: 'd, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    key: &'static str,
    get: impl FnOnce(&'d UnderSlab) -> (&'d Here, &'d Entry<T>),
    found: impl FnOnce(&'d T) -> R,
) -> Answer<R> {
    area(ask, it, |ask, area| ask.value_inside(&area.here, &area.under_slab, key, get).map(found))
}

/// Facts of collectors.
pub(super) const COLLECTORS: &[Fact] = &[
    Fact::stated(
        Kind::Collector,
        "area",
        "The area in which the collector lies.",
        &[],
        Get::One(Kind::Area, |ask, it| match ask.things().owner(it) {
            Some(area) => Answer::known(thing(Kind::Area, area)),
            None => ask.cannot(it, "it lies in no area"),
        }),
    ),
    Fact::stated(
        Kind::Collector,
        "kind",
        "What the collector is.",
        &[&["foundation.areas.*.collectors.*.kind"]],
        Get::Word(words::<CollectorKind>, |ask, it| {
            collector(ask, it, |ask, c| ask.stated_word(&c.here, &c.kind))
        }),
    ),
    Fact::stated(
        Kind::Collector,
        "nominal",
        "The trade size of the collector's pipe as a length.",
        &[&["foundation.areas.*.collectors.*.size"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            collector(ask, it, |ask, c| ask.value(&c.here, &c.size).map(|size| super::bores::nominal(*size)))
        }),
    ),
    Fact::stated(
        Kind::Collector,
        "length",
        "How long the collector is altogether.",
        &[&["foundation.areas.*.collectors.*.length"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            collector(ask, it, |ask, c| ask.quantity(&c.here, &c.length))
        }),
    ),
    Fact::stated(
        Kind::Collector,
        "section",
        "The area of the collector's section.",
        &[&["foundation.areas.*.collectors.*.section"]],
        Get::Number(Dimension::AREA, |ask, it| {
            collector(ask, it, |ask, c| ask.quantity(&c.here, &c.section))
        }),
    ),
    Fact::stated(
        Kind::Collector,
        "open_area",
        "The area of all openings of the collector.",
        &[&["foundation.areas.*.collectors.*.open_area"]],
        Get::Number(Dimension::AREA, |ask, it| {
            collector(ask, it, |ask, c| ask.quantity(&c.here, &c.open_area))
        }),
    ),
    Fact::stated(
        Kind::Collector,
        "off_wall",
        "How far the collector stays off the foundation wall.",
        &[&["foundation.areas.*.collectors.*.off_wall"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            collector(ask, it, |ask, c| ask.quantity(&c.here, &c.off_wall))
        }),
    ),
    Fact::stated(
        Kind::Collector,
        "cover",
        "How deep the collector is covered.",
        &[&["foundation.areas.*.collectors.*.cover"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            collector(ask, it, |ask, c| ask.quantity(&c.here, &c.cover))
        }),
    ),
    Fact::stated(
        Kind::Collector,
        "in_gravel",
        "The share of the collector's round that lies in gravel.",
        &[&["foundation.areas.*.collectors.*.in_gravel"]],
        Get::Number(Dimension::ONE, |ask, it| {
            collector(ask, it, |ask, c| ask.quantity(&c.here, &c.in_gravel))
        }),
    ),
    Fact::stated(
        Kind::Collector,
        "all_round",
        "Whether the collector runs all round the area and closes on itself.",
        &[&["foundation.areas.*.collectors.*.closed_loop"]],
        Get::Truth(|ask, it| collector(ask, it, |ask, c| ask.yes_or_no(&c.here, &c.closed_loop))),
    ),
];

/// Facts of areas that turn on the layer and on the collectors in it.
pub(super) const LAYERS: &[Fact] = &[
    Fact::stated(
        Kind::Area,
        "collectors",
        "What gathers the soil gas in the area; complete as written.",
        &[&["foundation.areas.*.collectors"]],
        Get::Things(Kind::Collector, |ask, it| {
            area(ask, it, |ask, area| {
                let open = lacking(ask, &area.here, &area.collectors);
                Answer::known(Listed::open(ask.things().owned(Kind::Collector, it.number), open))
            })
        }),
    ),
    Fact::stated(
        Kind::Area,
        "stone_number",
        "The trade number of the stone under the slab or membrane.",
        &[&["foundation.areas.*.under_slab.stone_number"]],
        Get::Word(words::<StoneNumber>, |ask, it| {
            layer(ask, it, "stone_number", |u| (&u.here, &u.stone_number), |word| word_id(*word))
        }),
    ),
    Fact::stated(
        Kind::Area,
        "largest_stone",
        "How large the stones under the slab are at most.",
        &[&["foundation.areas.*.under_slab.largest"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            area(ask, it, |ask, a| {
                ask.quantity_inside(&a.here, &a.under_slab, "largest", |u| (&u.here, &u.largest))
            })
        }),
    ),
    Fact::stated(
        Kind::Area,
        "smallest_stone",
        "How large the stones under the slab are at least.",
        &[&["foundation.areas.*.under_slab.smallest"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            area(ask, it, |ask, a| {
                ask.quantity_inside(&a.here, &a.under_slab, "smallest", |u| (&u.here, &u.smallest))
            })
        }),
    ),
    Fact::stated(
        Kind::Area,
        "hollow",
        "The share of the layer under the slab or membrane that is hollow.",
        &[&["foundation.areas.*.under_slab.hollow"]],
        Get::Number(Dimension::ONE, |ask, it| {
            area(ask, it, |ask, a| {
                ask.quantity_inside(&a.here, &a.under_slab, "hollow", |u| (&u.here, &u.hollow))
            })
        }),
    ),
    Fact::stated(
        Kind::Area,
        "layer_proven",
        "Whether the layer under the floor was shown to pass soil gas under all of it.",
        &[&["foundation.areas.*.layer_proven"]],
        Get::Truth(|ask, it| area(ask, it, |ask, a| ask.yes_or_no(&a.here, &a.layer_proven))),
    ),
    Fact::stated(
        Kind::Area,
        "soil_damp",
        "Whether the soil of the area is damp or wet.",
        &[&["foundation.areas.*.soil_damp"]],
        Get::Truth(|ask, it| area(ask, it, |ask, a| ask.yes_or_no(&a.here, &a.soil_damp))),
    ),
];
