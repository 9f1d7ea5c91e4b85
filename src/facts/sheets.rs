//! Facts of the sheets between a slab and what lies under it.

use crate::base::number::{Dimension, Number};
use crate::base::value::{Answer, Missing};
use crate::base::vocabulary::Thing;
use crate::design::model::foundation::Area;
use crate::design::model::membrane::{ClosedBy, Retarder, RetarderClass, Seams};
use crate::yaml::entry::Entry;
use crate::yaml::measure::{Measure, Wanted};

use super::ask::{Ask, as_stated, word_id};
use super::catalogue::{Fact, Get, words};
use super::foundation::AREA_SPACE;
use super::kinds::Kind;
use super::things::of;

fn sheet<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Retarder) -> Answer<R>,
) -> Answer<R> {
    of(
        ask,
        it,
        |things| &things.sheets,
        |ask, area: &'d Area| match area.under_slab.known().map(|under| (under, under.sheet.known())) {
            Some((_, Some(sheet))) => get(ask, sheet),
            Some((under, None)) => Answer::missing(under.sheet.want(&under.here)),
            None => Answer::missing(area.under_slab.want(&area.here)),
        },
    )
}

fn number<'d, W: Wanted>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&'d Retarder) -> &'d Entry<Measure<W>>,
) -> Answer<Number> {
    sheet(ask, it, |ask, s| ask.quantity(&s.here, get(s)))
}

fn truth<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&'d Retarder) -> &'d Entry<bool>,
) -> Answer<bool> {
    sheet(ask, it, |ask, s| ask.yes_or_no(&s.here, get(s)))
}

/// The bed of fine stuff under a sheet: nothing where `none` is written.
fn bed(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    sheet(ask, it, |ask, s| match s.bed.is_none() {
        true => ask.read(&s.here, &s.bed).map(|_| Number::whole(0)),
        false => ask.quantity(&s.here, &s.bed),
    })
}

/// What is lacking of an area to tell whether a sheet lies under its slab.
pub(super) fn lacking<'d>(ask: &mut Ask<'d>, area: &'d Area) -> Vec<Missing> {
    match ask.read_inside(&area.here, &area.under_slab, "sheet", |under| (&under.here, &under.sheet)) {
        Answer::Known { .. } => Vec::new(),
        Answer::Unknown(missing) => missing,
    }
}

/// Facts of sheets under slabs.
pub(super) const SHEETS: &[Fact] = &[
    Fact::stated(
        Kind::Sheet,
        "in",
        "The space above the slab under which the sheet lies.",
        &[AREA_SPACE],
        Get::One(Kind::Space, |ask, it| match ask.things().area_of_sheet(it) {
            Some(area) => ask.one(area, "in"),
            None => ask.cannot(it, "its area is not known"),
        }),
    ),
    Fact::stated(
        Kind::Sheet,
        "area",
        "The area under whose slab the sheet lies.",
        &[],
        Get::One(Kind::Area, |ask, it| match ask.things().area_of_sheet(it) {
            Some(area) => Answer::known(area),
            None => ask.cannot(it, "its area is not known"),
        }),
    ),
    Fact::stated(
        Kind::Sheet,
        "thickness",
        "How thick the sheet is.",
        &[&["foundation.areas.*.under_slab.sheet.thickness"]],
        Get::Number(Dimension::LENGTH, |ask, it| number(ask, it, |s| &s.thickness)),
    ),
    Fact::stated(
        Kind::Sheet,
        "cross_laminated",
        "Whether layers of the sheet are pressed together crosswise.",
        &[&["foundation.areas.*.under_slab.sheet.cross_laminated"]],
        Get::Truth(|ask, it| truth(ask, it, |s| &s.cross_laminated)),
    ),
    Fact::stated(
        Kind::Sheet,
        "class",
        "The class of the sheet by the standard for retarders under slabs.",
        &[&["foundation.areas.*.under_slab.sheet.class"]],
        Get::Word(words::<RetarderClass>, |ask, it| {
            sheet(ask, it, |ask, s| ask.stated_word(&s.here, &s.class))
        }),
    ),
    Fact::stated(
        Kind::Sheet,
        "classed",
        "Whether the sheet is of a class of the standard for retarders under slabs.",
        &[&["foundation.areas.*.under_slab.sheet.class"]],
        Get::Truth(|ask, it| sheet(ask, it, |ask, s| ask.is_there(&s.here, &s.class))),
    ),
    Fact::stated(
        Kind::Sheet,
        "permeance",
        "How readily vapour passes the sheet.",
        &[&["foundation.areas.*.under_slab.sheet.permeance"]],
        Get::Number(Dimension::PERMEANCE, |ask, it| number(ask, it, |s| &s.permeance)),
    ),
    Fact::stated(
        Kind::Sheet,
        "lap",
        "How far the sheets lie over each other.",
        &[&["foundation.areas.*.under_slab.sheet.lap"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            sheet(ask, it, |ask, s| {
                let want = s.lap.want(&s.here);
                ask.value(&s.here, &s.lap).then(|lap| as_stated(lap.measure.number(), || want))
            })
        }),
    ),
    Fact::stated(
        Kind::Sheet,
        "seams_sealed",
        "Whether the seams of the sheet are sealed, taped or welded.",
        &[&["foundation.areas.*.under_slab.sheet.seams"]],
        Get::Truth(|ask, it| {
            sheet(ask, it, |ask, s| ask.value(&s.here, &s.seams).map(|seams| *seams != Seams::Loose))
        }),
    ),
    Fact::stated(
        Kind::Sheet,
        "seams_with",
        "What the seams of the sheet are closed with.",
        &[&["foundation.areas.*.under_slab.sheet.seams_with"]],
        Get::Word(words::<ClosedBy>, |ask, it| {
            sheet(ask, it, |ask, s| ask.stated_word(&s.here, &s.seams_with))
        }),
    ),
    Fact::stated(
        Kind::Sheet,
        "edges_sealed",
        "Whether the edges of the sheet are sealed to the foundation wall.",
        &[&["foundation.areas.*.under_slab.sheet.edges_sealed"]],
        Get::Truth(|ask, it| truth(ask, it, |s| &s.edges_sealed)),
    ),
    Fact::stated(
        Kind::Sheet,
        "turn_up",
        "How far the sheet is turned up at the wall.",
        &[&["foundation.areas.*.under_slab.sheet.turn_up"]],
        Get::Number(Dimension::LENGTH, |ask, it| number(ask, it, |s| &s.turn_up)),
    ),
    Fact::stated(
        Kind::Sheet,
        "penetrations_sealed",
        "Whether pipes through the sheet are sealed to it.",
        &[&["foundation.areas.*.under_slab.sheet.penetrations_sealed"]],
        Get::Truth(|ask, it| truth(ask, it, |s| &s.penetrations_sealed)),
    ),
    Fact::stated(
        Kind::Sheet,
        "bed",
        "How deep the fine sand or pea gravel is between the sheet and coarse stone below; nothing where there is none.",
        &[&["foundation.areas.*.under_slab.sheet.bed"]],
        Get::Number(Dimension::LENGTH, bed),
    ),
    Fact::stated(
        Kind::Sheet,
        "torn",
        "Whether the sheet has tears or holes that are stated.",
        &[&["foundation.areas.*.under_slab.sheet.tears"]],
        Get::Truth(|ask, it| sheet(ask, it, |ask, s| ask.is_there(&s.here, &s.tears))),
    ),
    Fact::stated(
        Kind::Sheet,
        "tears_closed_with",
        "What tears in the sheet are closed with.",
        &[&["foundation.areas.*.under_slab.sheet.tears.closed_with"]],
        Get::Word(words::<ClosedBy>, |ask, it| {
            sheet(ask, it, |ask, s| {
                ask.value_inside(&s.here, &s.tears, "closed_with", |t| (&t.here, &t.closed_with))
                    .map(|word| word_id(*word))
            })
        }),
    ),
    Fact::stated(
        Kind::Sheet,
        "patch_lap",
        "How far patches over tears in the sheet lap on all sides.",
        &[&["foundation.areas.*.under_slab.sheet.tears.patch_lap"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            sheet(ask, it, |ask, s| {
                ask.quantity_inside(&s.here, &s.tears, "patch_lap", |t| (&t.here, &t.patch_lap))
            })
        }),
    ),
];
