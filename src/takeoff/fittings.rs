//! Fittings by kind and size, and the joints they make.

use crate::base::value::Answer;
use crate::design::model::pipe::{CementStandard, FittingKind, PipeJoint};
use crate::design::model::systems::System;
use crate::facts::fittings::{Fitted, Why, fittings_of};
use crate::yaml::words::Words;

use super::desk::Desk;
use super::pipe::Laid;
use super::{Group, Line, Unit};

const WORKED_OUT: &str = "fittings are counted from where pipe turns, meets other pipe or changes size, for the runs that \
state none";

/// Counts the fittings of all runs.
pub(super) fn fittings(desk: &mut Desk<'_, '_>, laid: &[Laid<'_>]) {
    for run in laid {
        let answer = fittings_of(desk.facts, run.it);
        let Some(found) = desk.or_lacks(Group::Fittings, format!("the fittings of {}", run.name), answer)
        else {
            continue;
        };
        for one in found.iter().filter(|one| one.counted_with.is_none()) {
            fitting(desk, run, one);
        }
    }
}

fn fitting(desk: &mut Desk<'_, '_>, run: &Laid<'_>, one: &Fitted) {
    let part = match one.kind {
        FittingKind::TeeThrough | FittingKind::TeeTurn => "tee",
        FittingKind::WyeThrough | FittingKind::WyeSide => "wye",
        kind => kind.spelling(),
    };
    let material = run.material.map_or(String::new(), |material| format!(" {}", material.spelling()));
    let size = match (part, one.other_size) {
        ("tee" | "wye", Some(wide)) => wide.spelling().to_owned(),
        (_, Some(other)) => {
            let (wide, narrow) = (one.size.max(other), one.size.min(other));
            format!("{} x {}", wide.spelling(), narrow.spelling())
        }
        (_, None) => one.size.spelling().to_owned(),
    };
    let here = match &one.why {
        Why::Stated(at) => {
            let stated = run.run.fittings.known().and_then(|list| list.items.get(*at));
            stated.and_then(|item| item.state.known()).map_or(&run.run.here, |fitting| &fitting.here)
        }
        _ => &run.run.here,
    };
    let count = one.count * run.abreast;
    let mut line =
        Line::of(Group::Fittings, part, format!("{size}{material}")).count(count, run.name.clone(), here);
    if one.is_implied() {
        line = line.assumes(WORKED_OUT);
    }
    if part == "tee" || part == "wye" {
        if one.other_size.is_some() {
            line = line.note(
                "A tee or wye with the smaller size at its side takes the place of it and of the reducer.",
            );
        }
        if !one.is_implied() {
            line = line
                .note("Counted for each run that states it; a piece that two runs state is counted twice.");
        }
    }
    let long =
        matches!(&one.why, Why::Turn { .. } | Why::GoesOn { .. } | Why::AtFan { .. }) && one.count == 2;
    if long {
        line = line.note(format!(
            "{}: two turned against each other, for an angle that no single one makes",
            run.name
        ));
    }
    desk.add(line);
}

/// How many pipe ends go into a fitting.
fn sockets(part: &str) -> u32 {
    match part {
        "tee" | "wye" => 3,
        "cap" | "cleanout" => 1,
        "flexible coupling" | "condensate bypass" | "muffler" => 0,
        _ => 2,
    }
}

/// The joints to be cemented, and what it takes.
pub(super) fn joints(desk: &mut Desk<'_, '_>, laid: &[Laid<'_>]) {
    let systems: Vec<(&str, &System)> = desk.design.systems.things().collect();
    for (number, (name, system)) in systems.iter().enumerate() {
        let own: Vec<&Laid<'_>> = laid.iter().filter(|run| run.system == number).collect();
        let Some(first) = own.first() else { continue };
        let joint = match desk.word::<PipeJoint>(first.it, "joints") {
            Answer::Known { value, .. } => value,
            Answer::Unknown(missing) => {
                let what = if systems.len() > 1 {
                    format!("what joins the pipe of {name}")
                } else {
                    "what joins the pipe".to_owned()
                };
                desk.lacks(Group::Fittings, what, missing);
                continue;
            }
        };
        if joint != PipeJoint::Solvent {
            continue;
        }
        let count: u32 = desk
            .lines_of(Group::Fittings)
            .filter(|line| line.unit == Unit::Each)
            .map(|line| {
                let mine = line.uses.iter().filter(|one| own.iter().any(|run| one.what == run.name));
                let pieces: u32 = mine.filter_map(|one| one.amount.as_ref()?.as_count()).sum();
                pieces * sockets(&line.part)
            })
            .sum();
        let with_valves = own.iter().filter(|run| run.run.valve.known().is_some());
        let count = count + with_valves.map(|run| 2 * run.abreast).sum::<u32>();
        if count == 0 {
            continue;
        }
        let pipe = system.pipe.known();
        let standard = pipe.and_then(|pipe| pipe.cement_standard.known());
        let named = standard.filter(|standard| **standard != CementStandard::Other);
        let material =
            first.material.map_or(String::new(), |material| format!("for {}", material.spelling()));
        let size = named.map_or(material.clone(), |standard| format!("{material}, {}", standard.spelling()));
        let line = Line::of(Group::Fittings, "solvent cement", size)
            .packs(1, "can".to_owned(), "cans".to_owned())
            .used(format!("about {count} joints"), &system.here)
            .note("The label of the can says how many joints of a size it makes.")
            .assumes(
                "one can; every fitting and valve is cemented at each of its ends, flexible ones excepted",
            );
        desk.add(line);
        if pipe.is_some_and(|pipe| pipe.primer.known() == Some(&true)) {
            let line = Line::of(Group::Fittings, "primer", material)
                .packs(1, "can".to_owned(), "cans".to_owned())
                .used(format!("about {count} joints"), &system.here);
            desk.add(line);
        }
    }
}
