//! How much soil of an area lies bare: its floor less membrane, slabs and piers.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::geometry::{Outline, uncovered};
use crate::design::model::foundation::{Area, AreaKind};
use crate::design::model::membrane::Membrane;

use super::ask::Ask;
use super::catalogue::Entries;
use super::foundation::area;
use super::outlines;
use super::statements::settle;

/// What bare soil is worked out from.
pub(super) const BARE_SOIL: Entries = &[
    "foundation.areas.*.kind",
    "foundation.areas.*.bare_soil",
    "foundation.areas.*.size",
    "foundation.areas.*.outline",
    "foundation.areas.*.piers",
    "foundation.areas.*.pier_area",
    "foundation.areas.*.membrane",
    "foundation.areas.*.membrane.covers_all",
    "foundation.areas.*.membrane.covers",
    "foundation.areas.*.membrane.outline",
];

fn is_slab(kind: AreaKind) -> bool {
    matches!(kind, AreaKind::Slab | AreaKind::GarageSlab | AreaKind::Porch)
}

/// # Meaning
/// How much soil of an area lies bare.
/// # Formula
/// As stated; nothing under a slab, and nothing where the membrane is said to cover all; the floor of the area less
/// what the membrane covers, less the slabs in it, less its piers. Piers that stand partly in the sheet take off no
/// more than their whole area, and no less than nothing.
/// # Valid for
/// Areas whose size or outline is known. Sheets and slabs with an outline are taken off where they lie.
/// # Accuracy
/// Exact, save for piers beside a sheet with an outline: then between the two ends.
/// # Source
/// Elementary geometry.
/// # Errors
/// Unknown where neither the soil nor what covers it is stated; in doubt where statements differ.
/// # Example
/// 320 sq ft with a sheet over 300 sq ft and piers of 20 sq ft: nothing bare.
pub(super) fn bare_soil(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    area(ask, it, |ask, area: &Area| {
        let want = || area.bare_soil.want(&area.here);
        let mut found = Vec::new();
        if !area.bare_soil.is_missing() {
            found.push(ask.statement(want(), |ask| ask.quantity(&area.here, &area.bare_soil)));
        }
        found.extend(ask.told(area.kind.want(&area.here), |ask| under_slab(ask, area)));
        found.extend(ask.told(area.membrane.want(&area.here), |ask| left_by_membrane(ask, it, area)));
        let what = |ask: &Ask<'_>| format!("the bare soil of {}", ask.things().name(it));
        settle(ask, what, Dimension::AREA, found, want)
    })
}

/// Under a slab no soil lies bare.
fn under_slab<'d>(ask: &mut Ask<'d>, area: &'d Area) -> Answer<Number> {
    ask.value(&area.here, &area.kind).then(|kind| match is_slab(*kind) {
        true => Answer::known(Number::whole(0)),
        false => Answer::missing(area.bare_soil.want(&area.here)),
    })
}

/// What the membrane, slabs and piers leave bare.
fn left_by_membrane<'d>(ask: &mut Ask<'d>, it: Thing, area: &'d Area) -> Answer<Number> {
    ask.read(&area.here, &area.membrane).then(|membrane| {
        let Some(membrane) = membrane else {
            return bare_floor(ask, it, area, &[]).then(|floor| less_piers(ask, area, floor, true));
        };
        if ask.read(&membrane.here, &membrane.covers_all).value() == Some(Some(&true)) {
            return Answer::known(Number::whole(0));
        }
        if !membrane.covers.is_missing() {
            return less_sheet(ask, it, area, membrane);
        }
        outlines::outline(ask, &membrane.here, &membrane.outline).then(|sheet| {
            bare_floor(ask, it, area, &[sheet]).then(|floor| less_piers(ask, area, floor, false))
        })
    })
}

fn less_sheet<'d>(ask: &mut Ask<'d>, it: Thing, area: &'d Area, membrane: &'d Membrane) -> Answer<Number> {
    let covers = ask.quantity(&membrane.here, &membrane.covers);
    let floor = bare_floor(ask, it, area, &[]);
    floor.both(covers).then(|(floor, covers)| less_piers(ask, area, &floor - &covers, true))
}

/// The floor of an area less the slabs and sheets that lie in it, as far as these have an outline.
fn bare_floor<'d>(ask: &mut Ask<'d>, it: Thing, area: &'d Area, sheets: &[Outline]) -> Answer<Number> {
    let areas: Vec<&'d Area> = ask.things().areas.iter().map(|area| area.it).collect();
    let mut covers = sheets.to_vec();
    for (other, number) in areas.into_iter().zip(0..) {
        let slab = other.kind.known().is_some_and(|kind| is_slab(*kind));
        if number == it.number || !slab || other.outline.is_missing() {
            continue;
        }
        let _ = ask.read(&other.here, &other.kind);
        if let Answer::Known { value, .. } = outlines::outline(ask, &other.here, &other.outline) {
            covers.push(value);
        }
    }
    if covers.is_empty() || (area.outline.is_missing() && sheets.is_empty()) {
        return ask.number(it, "size");
    }
    let want = area.outline.want(&area.here);
    outlines::outline(ask, &area.here, &area.outline).then(|floor| match uncovered(&floor, &covers) {
        Some(bare) => Answer::known(Number::exact(bare)),
        None => {
            let reason = Reason::NotComputable("the outlines have too many corners together".to_owned());
            Answer::missing(Missing { reason, ..want })
        }
    })
}

/// What is left when the piers are taken off: all of them where they stand on what is bare, else any part of them.
fn less_piers<'d>(ask: &mut Ask<'d>, area: &'d Area, bare: Number, all: bool) -> Answer<Number> {
    let none = ask.read(&area.here, &area.piers).map(|count| count.is_none_or(|count| count.0 == 0));
    let nothing = |number: Number| match number.low().is_negative() {
        true => Number::between(Ratio::ZERO, number.high().max(Ratio::ZERO)),
        false => number,
    };
    none.then(|none| {
        if none || bare.high().is_zero() {
            return Answer::known(nothing(bare));
        }
        ask.quantity(&area.here, &area.pier_area).map(|piers| {
            let less = nothing(&bare - &piers);
            if all { less } else { less.hull(&bare) }
        })
    })
}
