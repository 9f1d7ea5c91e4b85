//! What is known of the layer under an area: assumed by what lies there and what covers it, as a range.

use crate::base::number::{Number, Ratio};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::amounts::{Amount, Leakage, Length, LineLeakage, OutOfRange, Permeability, Transmissivity};
use crate::calc::geometry::Outline;
use crate::calc::soil::assumed::{self, Bounds, Cover, Ends, Under, ends, gap_under_sheet};
use crate::calc::soil::ground::{gap, transmissivity};
use crate::design::model::foundation::{Area, AreaKind, FillKind, Joint, JointKind, Probe};
use crate::design::model::membrane::{Membrane, Seams};
use crate::facts::ask::Ask;
use crate::facts::catalogue::Entries;
use crate::facts::foundation::area as in_area;
use crate::facts::kinds::Kind;
use crate::facts::looked;
use crate::facts::soil_gas::viscosities;

use super::{Stretch, cannot_of};

/// What the layer is read from.
pub(in crate::facts) const LAYER: Entries = &[
    "site.soil_gas_temperature",
    "foundation.areas.*.kind",
    "foundation.areas.*.in",
    "foundation.areas.*.under_slab",
    "foundation.areas.*.under_slab.kind",
    "foundation.areas.*.under_slab.depth",
    "foundation.areas.*.under_slab.probe",
    "foundation.areas.*.membrane",
    "foundation.areas.*.membrane.seams",
    "foundation.areas.*.membrane.edges",
    "foundation.areas.*.membrane.edges.sealed",
    "foundation.joints",
    "foundation.joints.*.in",
    "foundation.joints.*.kind",
    "foundation.joints.*.closed",
    "foundation.joints.*.width",
    "foundation.areas.*.thickness",
    "looked_for.joints",
    "looked_for.joints.within",
    "looked_for.joints.not_seen",
];

/// The layer at the ends of what it can be, for want of a test.
pub(super) fn layers_of(ask: &mut Ask<'_>, area: Thing, wanting: Vec<Missing>) -> Answer<Ends> {
    in_area(ask, area, |ask, record| {
        let along = along(ask, area, record);
        let leaks = leaks(ask, area, record);
        along.both(leaks).then(|(along, leaks)| {
            let value = ends(&Bounds { along, leaks });
            Answer::Known { value, doubts: wanting }
        })
    })
}

/// The joint between floor and walls where it is said to be open and its width is stated, with what it lets in at most: as a clean slit
/// through the slab.
pub(super) fn slits<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    area: &'d Area,
    outline: &Outline,
) -> Vec<(Stretch, LineLeakage)> {
    let name = ask.things().name(it);
    let mut widest: Option<f64> = None;
    for (_, joint) in ask.design().foundation.joints.things() {
        let kind = ask.read(&joint.here, &joint.kind).value().flatten();
        if !matches!(kind, Some(JointKind::FloorWall | JointKind::Channel)) {
            continue;
        }
        let open = ask.read(&joint.here, &joint.closed).value().flatten() == Some(&false);
        if !open || lies_in(ask, it, &name, joint) != Some(true) {
            continue;
        }
        let width = ask.quantity(&joint.here, &joint.width).value().map(|width| width.to_f64_bounds().1);
        widest = widest.into_iter().chain(width).reduce(f64::max);
    }
    let Some(width) = widest else { return Vec::new() };
    let Answer::Known { value: thick, .. } = ask.quantity(&area.here, &area.thickness) else {
        return Vec::new();
    };
    let air = viscosities(ask, it).value().map(|(cold, _)| cold);
    let by = air
        .zip(Length::from_si(width.min(0.05)))
        .and_then(|(air, width)| gap(width, air).ok())
        .and_then(|slit| LineLeakage::from_si((slit.to_si() / thick.to_f64_bounds().0.max(0.01)).min(1.0)));
    let Some(by) = by else { return Vec::new() };
    ask.assume(
        "an open joint between floor and walls lets in anything from nothing to what a clean slit does",
    );
    outline.sides().map(|(from, to)| ((from.clone(), to.clone()), by)).collect()
}

/// Least and most flow along the layer: the colder the gas, the more.
pub(super) fn along<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    area: &'d Area,
) -> Answer<(Transmissivity, Transmissivity)> {
    if area.under_slab.is_none() && area.membrane.known().is_some() {
        let _ = ask.read(&area.here, &area.under_slab);
        ask.assume("between a membrane and bare soil is a gap of 0.5 to 10 mm that gas flows along");
        return viscosities(ask, it).then(|(thin, thick)| {
            let (low, high) = gap_under_sheet().to_f64_bounds();
            let of = |width: f64, air| Length::from_si(width).and_then(|width| gap(width, air).ok());
            match of(low, thick).zip(of(high, thin)) {
                Some(both) => Answer::known(both),
                None => ask.cannot(it, "the gap under the membrane is out of range"),
            }
        });
    }
    let under = under(ask, area);
    let depth = ask.quantity_inside(&area.here, &area.under_slab, "depth", |it| (&it.here, &it.depth));
    let air = viscosities(ask, it);
    under.both(depth).both(air).then(|((under, depth), (cold, warm))| {
        for one in &under {
            ask.assume(granted(*one));
        }
        let permeable = hull(under.into_iter().map(assumed::permeability));
        let ((tight, loose), (thin, thick)) = (permeable.to_f64_bounds(), depth.to_f64_bounds());
        let of = |k: f64, h: f64, air| -> Option<Result<Transmissivity, OutOfRange>> {
            Some(transmissivity(Permeability::from_si(k)?, Length::from_si(h)?, air))
        };
        match (of(tight, thin, warm), of(loose, thick, cold)) {
            (Some(Ok(low)), Some(Ok(high))) => Answer::known((low, high)),
            _ => {
                let why = "suction is worked out for layers of 1 mm to 10 m";
                cannot_of(
                    Missing {
                        entry: area.here.path.key("under_slab").key("depth"),
                        ..area.under_slab.want(&area.here)
                    },
                    why,
                )
            }
        }
    })
}

fn hull(numbers: impl Iterator<Item = Number>) -> Number {
    numbers.reduce(|one, other| one.hull(&other)).unwrap_or_else(|| Number::exact(Ratio::ZERO))
}

/// What can lie under the floor, by its kind and by what a small drill brought up. Where the two do not go together, either may be so.
fn under<'d>(ask: &mut Ask<'d>, area: &'d Area) -> Answer<Vec<Under>> {
    let here = &area.here;
    let kind = ask.value_inside(here, &area.under_slab, "kind", |it| (&it.here, &it.kind));
    let probe = ask.value_inside(here, &area.under_slab, "probe", |it| (&it.here, &it.probe)).value();
    let want = |reason: &str| Missing {
        entry: here.path.key("under_slab").key("kind"),
        reason: Reason::NotComputable(reason.to_owned()),
        at: Some(area.under_slab.at),
    };
    if probe == Some(&Probe::Water) {
        return Answer::missing(want("water stands under the floor, and soil gas does not pass through it"));
    }
    kind.then(|kind| {
        let by_kind: &[Under] = match kind {
            FillKind::Gravel => &[Under::CleanStone, Under::DirtyGravel],
            FillKind::CoarseSand | FillKind::Sand => &[Under::Sand],
            FillKind::Silt | FillKind::Clay => &[Under::TightSoil],
            FillKind::Soil => &[Under::Sand, Under::TightSoil],
            FillKind::Mat | FillKind::Rock => {
                return Answer::missing(want(
                    "nothing is assumed of a mat or of rock; a communication test tells",
                ));
            }
        };
        let by_probe: &[Under] = match probe {
            None | Some(Probe::Water | Probe::Void) => by_kind,
            Some(Probe::Clean) => &[Under::CleanStone],
            Some(Probe::Dusty) => &[Under::DirtyGravel, Under::Sand],
            Some(Probe::Damp) => &[Under::Sand, Under::TightSoil],
            Some(Probe::Mud) => &[Under::TightSoil],
        };
        let both: Vec<Under> = by_kind.iter().copied().filter(|one| by_probe.contains(one)).collect();
        let either = || by_kind.iter().chain(by_probe).copied().collect();
        Answer::known(if both.is_empty() { either() } else { both })
    })
}

fn granted(under: Under) -> &'static str {
    match under {
        Under::CleanStone => {
            "clean stone under the floor has a permeability of 1e-9 to 1e-6 m2; no test in the file tells it"
        }
        Under::DirtyGravel => {
            "gravel with fines under the floor has a permeability of 1e-11 to 1e-9 m2; no test in the file tells it"
        }
        Under::Sand => {
            "sand under the floor has a permeability of 1e-13 to 1e-10 m2; no test in the file tells it"
        }
        Under::TightSoil => {
            "tight soil under the floor has a permeability of 1e-16 to 1e-12 m2; no test in the file tells it"
        }
    }
}

/// Least and most leakage of the cover.
fn leaks<'d>(ask: &mut Ask<'d>, it: Thing, area: &'d Area) -> Answer<(Leakage, Leakage)> {
    cover(ask, it, area).then(|covers| {
        for one in &covers {
            ask.assume(leaks_so(*one));
        }
        let (low, high) = hull(covers.into_iter().map(assumed::leakage)).to_f64_bounds();
        match Leakage::from_si(low).zip(Leakage::from_si(high)) {
            Some(both) => Answer::known(both),
            None => ask.cannot(it, "its leakage is out of range"),
        }
    })
}

fn leaks_so(cover: Cover) -> &'static str {
    match cover {
        Cover::SealedSlab => "a sealed slab leaks 1e-8 to 1e-6 m/(s Pa); no test in the file tells it",
        Cover::Slab => "a slab as found leaks 1e-7 to 1e-5 m/(s Pa); no test in the file tells it",
        Cover::SealedMembrane => {
            "a sealed membrane leaks 1e-8 to 1e-5 m/(s Pa); no test in the file tells it"
        }
        Cover::LooseMembrane => "a loose membrane leaks 1e-6 to 1e-3 m/(s Pa); no test in the file tells it",
    }
}

/// What can cover the layer.
fn cover<'d>(ask: &mut Ask<'d>, it: Thing, area: &'d Area) -> Answer<Vec<Cover>> {
    ask.value(&area.here, &area.kind).then(|kind| match kind {
        AreaKind::Slab | AreaKind::GarageSlab | AreaKind::Porch | AreaKind::WoodFloor => {
            Answer::known(match slab_sealed(ask, it) {
                Some(true) => vec![Cover::SealedSlab],
                Some(false) => vec![Cover::Slab],
                None => vec![Cover::SealedSlab, Cover::Slab],
            })
        }
        AreaKind::Crawlspace | AreaKind::EarthFloor => {
            ask.read(&area.here, &area.membrane).then(|membrane| match membrane {
                Some(membrane) => Answer::known(match membrane_sealed(ask, membrane) {
                    Some(true) => vec![Cover::SealedMembrane],
                    Some(false) => vec![Cover::LooseMembrane],
                    None => vec![Cover::SealedMembrane, Cover::LooseMembrane],
                }),
                None => cannot_of(
                    area.membrane.want(&area.here),
                    "no membrane covers the soil, so that no suction holds under it",
                ),
            })
        }
        AreaKind::Piers => {
            cannot_of(area.kind.want(&area.here), "under a house on open piers nothing holds suction")
        }
    })
}

/// Whether all joints of a slab are closed; nothing where it is not said of all.
fn slab_sealed(ask: &mut Ask<'_>, it: Thing) -> Option<bool> {
    let foundation = &ask.design().foundation;
    let list = looked::list_of(ask, Kind::Joint, (&foundation.here, &foundation.joints), |it| &it.joints);
    let complete = matches!(&list, Answer::Known { value, .. } if value.is_closed());
    let name = ask.things().name(it);
    let mut all = complete;
    for (_, joint) in foundation.joints.things() {
        match lies_in(ask, it, &name, joint) {
            Some(false) => continue,
            Some(true) => {}
            None => all = false,
        }
        match ask.read(&joint.here, &joint.closed).value().flatten() {
            Some(false) => return Some(false),
            Some(true) => {}
            None => all = false,
        }
    }
    all.then_some(true)
}

/// Whether a joint is in an area, or in the space above it.
fn lies_in<'d>(ask: &mut Ask<'d>, it: Thing, name: &str, joint: &'d Joint) -> Option<bool> {
    let named = ask.value(&joint.here, &joint.space).value()?;
    if named.as_str() == name {
        return Some(true);
    }
    let space = ask.things().space_named(named.as_str())?;
    Some(ask.one(it, "in").value()? == space)
}

/// Whether seams and edges of a membrane are sealed; nothing where it is not said of both.
fn membrane_sealed<'d>(ask: &mut Ask<'d>, membrane: &'d Membrane) -> Option<bool> {
    let here = &membrane.here;
    let seams = ask.read(here, &membrane.seams).value().flatten().map(|seams| *seams != Seams::Loose);
    let edges = ask.yes_or_no_inside(here, &membrane.edges, "sealed", |it| (&it.here, &it.sealed)).value();
    match (seams, edges) {
        (Some(false), _) | (_, Some(false)) => Some(false),
        (Some(true), Some(true)) => Some(true),
        _ => None,
    }
}
