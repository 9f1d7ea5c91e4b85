//! What the building takes: stone under new floors, gaskets of hatches, what closes the tops of hollow walls.

use crate::base::number::{Number, Ratio};
use crate::design::model::building::{Passage, PassageKind};
use crate::design::model::foundation::{Area, AreaKind, FillKind, FoundationWall, TopCourse, WallKind};
use crate::design::model::job::Work;
use crate::facts::kinds::Kind;
use crate::yaml::words::Words;

use super::desk::{Desk, most, spoken, want};
use super::usual;
use super::water::THERE;
use super::{Group, Line};

/// Counts what the building takes.
pub(super) fn building(desk: &mut Desk<'_, '_>) {
    let design = desk.design;
    if design.job.work.known() == Some(&Work::NewHouse) {
        let areas: Vec<(&str, &Area)> = design.foundation.areas.things().collect();
        for (name, area) in areas {
            stone(desk, name, area);
        }
    }
    let walls: Vec<(&str, &FoundationWall)> = design.foundation.walls.things().collect();
    for (name, wall) in walls {
        top(desk, &spoken(name), wall);
    }
    let passages: Vec<(&str, &Passage)> = design.building.passages.things().collect();
    for (name, passage) in passages {
        hatch(desk, &spoken(name), passage);
    }
}

/// The stone under a slab that is still to be poured.
fn stone(desk: &mut Desk<'_, '_>, key: &str, area: &Area) {
    let poured = matches!(area.kind.known(), Some(AreaKind::Slab | AreaKind::GarageSlab));
    let Some(under) = area.under_slab.known().filter(|_| poured) else { return };
    let kinds = [FillKind::Gravel, FillKind::CoarseSand, FillKind::Sand];
    let Some(kind) = under.kind.known().filter(|kind| kinds.contains(kind)) else { return };
    let what = format!("the {} under {}", kind.spelling(), spoken(key));
    let Some(it) = desk.facts.things().named(Kind::Area, None, key) else { return };
    let size = desk.facts.number(it, "size");
    let both = size.both(desk.facts.number(it, "under_slab_depth"));
    let Some((size, depth)) = desk.or_lacks(Group::Points, what, both) else { return };
    let waste = usual::waste(desk.shop);
    let volume = size.high() * depth.high() * (&Ratio::ONE + &waste.value);
    let kind = under.stone_number.known().map_or(kind.spelling(), |number| number.spelling());
    let line = Line::of(Group::Points, kind, "to lay under floors");
    desk.add(
        line.volume(&volume, spoken(key), &under.here)
            .assumes(waste.said)
            .assumes("the stone is not yet laid"),
    );
}

/// What closes the tops of a hollow wall.
fn top(desk: &mut Desk<'_, '_>, name: &str, wall: &FoundationWall) {
    if wall.kind.known() != Some(&WallKind::Block) {
        return;
    }
    let part = match wall.top.known() {
        Some(TopCourse::Sealed) => "foam or sealant for the tops of hollow block",
        Some(TopCourse::Grouted) => "grout for the tops of hollow block",
        Some(TopCourse::Capped) => "cap for the tops of hollow block",
        Some(TopCourse::Open | TopCourse::Solid | TopCourse::SillPlate | TopCourse::Beam) => return,
        None => {
            let what = format!("what closes the top of {name}");
            return desk.lacks(Group::Sealing, what, want(&wall.top, &wall.here, None));
        }
    };
    let along = wall.line.known().and_then(|line| line.length.known());
    match wall.length.known().or(along) {
        Some(length) => {
            let line = Line::of(Group::Sealing, part, "along the wall");
            desk.add(line.length(&most(&length.number()), name, &wall.here).note(THERE));
        }
        None => desk.lacks(
            Group::Sealing,
            format!("the {part} along {name}"),
            want(&wall.length, &wall.here, None),
        ),
    }
}

/// The gasket of a hatch: all round it.
fn hatch(desk: &mut Desk<'_, '_>, name: &str, passage: &Passage) {
    if passage.kind.known() != Some(&PassageKind::Hatch) || passage.gasket.known() == Some(&false) {
        return;
    }
    let what = format!("the gasket of {name}");
    if passage.gasket.known().is_none() {
        return desk.lacks(Group::Sealing, what, want(&passage.gasket, &passage.here, None));
    }
    let Some(size) = passage.size.known() else {
        return desk.lacks(Group::Sealing, what, want(&passage.size, &passage.here, None));
    };
    let crate::yaml::shape::Size::Rectangle(sides) = size else {
        return desk.lacks(Group::Sealing, what, want(&passage.size, &passage.here, None));
    };
    let round = (&(&sides.first.number + &sides.second.number) * &Number::whole(2)).high();
    let line = Line::of(Group::Sealing, "gasket strip for a hatch", "");
    desk.add(line.length(&usual::to_the_inch(&round), name, &passage.here).note(THERE));
}
