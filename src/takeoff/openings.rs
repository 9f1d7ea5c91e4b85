//! Where runs go through something: the hole, and what keeps out water, air and fire.

use crate::base::value::Answer;
use crate::design::model::membrane::ClosedBy;
use crate::design::model::pipe::{FireStop, Penetration, Pierced};
use crate::facts::kinds::Kind;
use crate::yaml::words::Words;

use super::desk::{Desk, most, spoken, want};
use super::pipe::Laid;
use super::sealing::{Opening, Ring, ring};
use super::{Group, Line};

/// Counts what runs need where they go through something.
pub(super) fn openings(desk: &mut Desk<'_, '_>, laid: &[Laid<'_>]) {
    for run in laid {
        if run.run.pierces.known().is_none() && !run.run.pierces.is_none() {
            let what = format!("what {} needs where it goes through something", run.name);
            desk.lacks(Group::Holes, what, want(&run.run.pierces, &run.run.here, None));
        }
        for (key, one) in run.run.pierces.things() {
            opening(desk, run, key, one);
        }
    }
}

fn opening(desk: &mut Desk<'_, '_>, run: &Laid<'_>, key: &str, one: &Penetration) {
    let name = format!("{} ({})", run.name, spoken(key));
    let Some(it) = desk.thing(Kind::Penetration, run.it.number as usize, key) else { return };
    let kind = desk.word::<Pierced>(it, "what");
    let Some(kind) = desk.or_lacks(Group::Holes, format!("the hole of {name}"), kind) else { return };
    let size = run.size.map_or_else(|| "pipe".to_owned(), |size| format!("{} pipe", size.spelling()));
    // The hole at a suction point is counted with the point.
    let to_point = run.run.to.known().map(|to| to.as_str()).filter(|to| {
        let point = desk.thing(Kind::SuctionPoint, run.system, to);
        point.is_some() && matches!(kind, Pierced::Slab | Pierced::FoundationWall)
    });
    let count = run.abreast;
    if to_point.is_none() {
        let part = if matches!(kind, Pierced::Slab | Pierced::FoundationWall) { "core hole" } else { "hole" };
        let wide = one.hole.known().map_or_else(|| format!("for {size}"), |hole| hole.quantity.to_string());
        let line = Line::of(Group::Holes, part, format!("{wide}, through {}", kind.spelling()));
        desk.add(line.count(count, name.clone(), &one.here));
        closed(desk, run, &name, one);
    }
    match (kind, one.flashing.known()) {
        (_, Some(true)) => {
            let part = if kind == Pierced::Roof { "roof flashing" } else { "flashing" };
            desk.add(Line::of(Group::Holes, part, format!("for {size}")).count(
                count,
                name.clone(),
                &one.here,
            ));
        }
        (Pierced::Roof, None) => {
            desk.lacks(Group::Holes, format!("the flashing of {name}"), want(&one.flashing, &one.here, None));
        }
        _ => {}
    }
    fire(desk, run, &name, one, &size);
    if one.nail_plate.known() == Some(&true) {
        desk.add(Line::of(Group::Holes, "nail plate", "").count(count, name, &one.here));
    }
}

/// The width of the hole, or what is missing of it.
fn hole(one: &Penetration) -> Answer<crate::base::number::Ratio> {
    match one.hole.known() {
        Some(hole) => Answer::known(most(&hole.number())),
        None => Answer::Unknown(want(&one.hole, &one.here, None)),
    }
}

fn closed(desk: &mut Desk<'_, '_>, run: &Laid<'_>, name: &str, one: &Penetration) {
    let Some(with) = one.sealed_with.known().copied() else {
        if one.sealed.known() == Some(&true) && !one.sealed_with.is_none() {
            let what = format!("what closes the gap round {name}");
            desk.lacks(Group::Sealing, what, want(&one.sealed_with, &one.here, None));
        }
        return;
    };
    let of = Opening { what: name.to_owned(), here: &one.here, with };
    ring(desk, of, Ring { run, hole: hole(one), backer: None, count: run.abreast });
}

fn fire(desk: &mut Desk<'_, '_>, run: &Laid<'_>, name: &str, one: &Penetration, size: &str) {
    let rated = one.fire_rated.known().map(|rated| spoken(rated.as_str()));
    let Some(stop) = one.fire_stop.known() else {
        if rated.is_some() && !one.fire_stop.is_none() {
            desk.lacks(
                Group::Holes,
                format!("the fire stop of {name}"),
                want(&one.fire_stop, &one.here, None),
            );
        }
        return;
    };
    let part = match stop {
        FireStop::Collar => "fire collar",
        FireStop::WrapStrip => "fire wrap strip",
        FireStop::Shaft => return,
        FireStop::Sealant => {
            if one.sealed_with.known() != Some(&ClosedBy::FireSealant) {
                let of = Opening { what: name.to_owned(), here: &one.here, with: ClosedBy::FireSealant };
                ring(desk, of, Ring { run, hole: hole(one), backer: None, count: run.abreast });
            }
            return;
        }
    };
    let mut line =
        Line::of(Group::Holes, part, format!("for {size}")).count(run.abreast, name.to_owned(), &one.here);
    if let Some(rated) = rated {
        line = line.note(format!("{name}: in {rated}, which is fire-rated"));
    }
    if let Some(listing) = one.fire_stop_listing.known() {
        line = line.note(format!("Listing: {}", listing.as_str()));
    }
    desk.add(
        line.note("Only a product listed for this wall or floor and this pipe, put in as its listing shows."),
    );
}
