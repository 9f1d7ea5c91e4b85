//! Pipe by material, schedule and size, in stock lengths, with the way it is cut; and the insulation round it.

use std::cmp::Reverse;

use crate::base::number::{Number, Ratio};
use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::calc::takeoff::{CutPlan, cut_plan};
use crate::design::model::pipe::{PipeInsulation, PipeMaterial, PipeSize, Run, Schedule};
use crate::design::model::systems::System;
use crate::facts::fittings::pieces_of;
use crate::facts::kinds::Kind;
use crate::yaml::words::Words;

use super::desk::{Desk, most};
use super::usual::{self, to_the_eighth};
use super::{Amount, Cutting, Group, Line, StockLength};

/// A run, with what of it is known that many lines ask for.
pub(super) struct Laid<'d> {
    pub(super) it: Thing,
    /// The number of its system.
    pub(super) system: usize,
    pub(super) run: &'d Run,
    /// What it is called in the file.
    pub(super) key: &'d str,
    /// What it is called on the list.
    pub(super) name: String,
    pub(super) size: Option<PipeSize>,
    pub(super) material: Option<PipeMaterial>,
    /// How long it is altogether; the most that it can be.
    pub(super) length: Option<Ratio>,
    /// How many such pipes lie side by side.
    pub(super) abreast: u32,
}

impl Laid<'_> {
    /// The size and material of its pipe, as far as they are known: `4 in PVC`.
    pub(super) fn pipe(&self) -> String {
        let size = self.size.map(|size| size.spelling());
        let material = self.material.map(|material| material.spelling());
        size.into_iter().chain(material).collect::<Vec<_>>().join(" ")
    }
}

/// Pipe of one kind, with the runs cut from it.
struct Kin {
    size: PipeSize,
    material: PipeMaterial,
    schedule: Option<Schedule>,
    /// The run of each piece, by its place in the list of runs, with the length of the piece.
    pieces: Vec<(usize, Ratio)>,
}

/// Counts the pipe of all runs.
pub(super) fn pipe<'d>(desk: &mut Desk<'_, 'd>) -> Vec<Laid<'d>> {
    let mut laid: Vec<Laid<'d>> = Vec::new();
    let mut kins: Vec<Kin> = Vec::new();
    let systems: Vec<(usize, (&str, &System))> = desk.design.systems.things().enumerate().collect();
    for (owner, (system_name, system)) in systems {
        if system.runs.is_missing() {
            desk.lacks(
                Group::Pipe,
                format!("the pipe of {system_name}"),
                vec![system.runs.want(&system.here)],
            );
        }
        for (key, run) in system.runs.things() {
            let Some(it) = desk.thing(Kind::Run, owner, key) else { continue };
            let name = desk.called(key, system_name);
            let size = desk.word::<PipeSize>(it, "size");
            let material = desk.word::<PipeMaterial>(it, "material");
            let pieces = pieces_of(desk.facts, it);
            let abreast = run.abreast.known().map_or(1, |count| count.0);
            let known = Laid {
                it,
                system: owner,
                run,
                key,
                name: name.clone(),
                size: size.clone().value(),
                material: material.clone().value(),
                length: pieces.clone().value().map(|pieces| pieces.iter().map(most).sum()),
                abreast,
            };
            let schedule = schedule(desk, it, known.material, &name);
            let whole = size.both(material).both(pieces);
            if let Some(((size, material), pieces)) =
                desk.or_lacks(Group::Pipe, format!("the pipe of {name}"), whole)
            {
                let same =
                    |kin: &&mut Kin| kin.size == size && kin.material == material && kin.schedule == schedule;
                let cut = pieces
                    .iter()
                    .map(to_the_eighth)
                    .filter(|piece| piece.signum() > 0)
                    .map(|piece| (laid.len(), piece));
                let cut: Vec<_> = std::iter::repeat_n(cut, abreast as usize).flatten().collect();
                match kins.iter_mut().find(same) {
                    Some(kin) => kin.pieces.extend(cut),
                    None => kins.push(Kin { size, material, schedule, pieces: cut }),
                }
            }
            insulation(desk, system, &known);
            laid.push(known);
        }
    }
    kins.sort_by_key(|kin| (Reverse(kin.size), kin.material, kin.schedule));
    for kin in &kins {
        lengths(desk, kin, &laid);
    }
    laid
}

/// The schedule of a run; plastic pipe without one is counted all the same, and it is told.
fn schedule(
    desk: &mut Desk<'_, '_>,
    it: Thing,
    material: Option<PipeMaterial>,
    name: &str,
) -> Option<Schedule> {
    let plastic = matches!(material, Some(PipeMaterial::Pvc | PipeMaterial::Abs));
    match desk.word::<Schedule>(it, "wall") {
        Answer::Known { value, .. } => Some(value),
        Answer::Unknown(missing) => {
            if plastic {
                desk.lacks(Group::Pipe, format!("the schedule of {name}"), missing);
            }
            None
        }
    }
}

/// What a pipe is called: `4 in PVC schedule 40`.
fn called(kin: &Kin) -> String {
    let base = format!("{} {}", kin.size.spelling(), kin.material.spelling());
    match kin.schedule {
        None => base,
        Some(schedule) => {
            let spelling = schedule.spelling();
            let numbered = spelling.starts_with(|c: char| c.is_ascii_digit());
            format!("{base} {}{spelling}", if numbered { "schedule " } else { "" })
        }
    }
}

/// The stock lengths of one kind of pipe, and how they are cut.
fn lengths(desk: &mut Desk<'_, '_>, kin: &Kin, laid: &[Laid<'_>]) {
    let of = called(kin);
    let stock = usual::pipe(desk.shop, kin.material, kin.size, kin.schedule);
    let saw = usual::saw();
    let pieces: Vec<Ratio> = kin.pieces.iter().map(|(_, length)| length.clone()).collect();
    let Ok(plan) = cut_plan(&pieces, &stock.value, &saw.value) else { return };
    let shown = Number::exact(stock.value.clone());
    let shown = crate::base::number::Quantity::of(shown, crate::base::number::Dimension::LENGTH);
    let mut line = Line::of(Group::Pipe, "pipe", of.clone())
        .packs(plan.sticks.len(), format!("length of {shown}"), format!("lengths of {shown}"))
        .assumes(stock.said.clone())
        .assumes(saw.said.clone())
        .assumes("runs are counted from turn to turn; what goes into the fittings is not taken off");
    for (at, run) in laid.iter().enumerate() {
        let own: Ratio =
            kin.pieces.iter().filter(|(of, _)| *of == at).map(|(_, length)| length.clone()).sum();
        if own.signum() > 0 {
            let amount = Some(Amount::Length(Number::exact(own)));
            line.uses.push(super::desk::used(run.name.clone(), amount, &run.run.here));
        }
    }
    desk.add(line);
    couplings(desk, kin, laid, &stock);
    desk.cuttings.push(Cutting {
        of,
        stock: stock.value,
        lengths: lengths_of(&plan, kin, laid),
        fewest: plan.fewest,
        assumed: vec![stock.said, saw.said],
    });
}

fn lengths_of(plan: &CutPlan, kin: &Kin, laid: &[Laid<'_>]) -> Vec<StockLength> {
    let name = |piece: usize| {
        let run = kin.pieces.get(piece).and_then(|(run, _)| laid.get(*run));
        run.map(|run| run.name.clone()).unwrap_or_default()
    };
    plan.sticks
        .iter()
        .map(|stick| StockLength {
            pieces: stick.pieces.iter().map(|(piece, length)| (name(*piece), length.clone())).collect(),
            left: stick.left.clone(),
        })
        .collect()
}

/// The couplings of pieces that are longer than the pipe comes.
fn couplings(desk: &mut Desk<'_, '_>, kin: &Kin, laid: &[Laid<'_>], stock: &usual::Usual) {
    for (at, run) in laid.iter().enumerate() {
        let joints: i64 = kin
            .pieces
            .iter()
            .filter(|(of, _)| *of == at)
            .filter_map(|(_, length)| length.checked_div(&stock.value)?.ceil().to_int())
            .map(|lengths| (lengths - 1).max(0))
            .sum();
        let joints = u32::try_from(joints).unwrap_or(0);
        if joints > 0 {
            let line = Line::of(Group::Fittings, "coupling", run.pipe())
                .count(joints, run.name.clone(), &run.run.here)
                .note("Couplings join runs that are longer than the pipe comes, and those that go straight on from another.")
                .assumes(stock.said.clone());
            desk.add(line);
        }
    }
}

/// The insulation round a run.
fn insulation<'d>(desk: &mut Desk<'_, 'd>, system: &'d System, run: &Laid<'d>) {
    let of_all = system.pipe.known().and_then(|pipe| pipe.insulation.known());
    let own = if run.run.insulation.is_missing() { of_all } else { run.run.insulation.known() };
    let Some(own) = own else { return };
    let what = format!("the insulation of {}", run.name);
    let Some(length) = &run.length else {
        desk.lacks(Group::Insulation, what, vec![run.run.length.want(&run.run.here)]);
        return;
    };
    let mut said = vec![thickness(own)];
    let size = run.size.map_or_else(|| "pipe".to_owned(), |size| format!("{} pipe", size.spelling()));
    if own.vapour_jacket.known() == Some(&true) {
        said.push("vapour jacket".to_owned());
    }
    if own.weather_jacket.known() == Some(&true) {
        said.push("weather jacket".to_owned());
    }
    said.retain(|part| !part.is_empty());
    said.insert(0, format!("for {size}"));
    let length = length * &Ratio::from(i64::from(run.abreast));
    desk.add(
        Line::of(Group::Insulation, "pipe insulation", said.join(", "))
            .length(&to_the_eighth(&Number::exact(length)), run.name.clone(), &run.run.here)
            .assumes("insulation over the whole length of each run that has any; fittings are covered from the same")
            .note("With what closes its seams."),
    );
}

fn thickness(of: &PipeInsulation) -> String {
    let r = of.r.known().map(|r| r.quantity.to_string());
    let thick = of.thickness.known().map(|thick| format!("{} thick", thick.quantity));
    r.into_iter().chain(thick).collect::<Vec<_>>().join(", ")
}
