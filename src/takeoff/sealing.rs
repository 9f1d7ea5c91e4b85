//! Sealant by the joint and the hole, backer for wide gaps, tape along seams: gathered from everywhere, and counted in
//! cartridges and rolls at the end.

use crate::base::number::Ratio;
use crate::base::value::{Answer, unite};
use crate::calc::amounts::{Amount as _, Length as Long};
use crate::calc::holes::around;
use crate::calc::takeoff::ring_of_sealant;
use crate::design::model::foundation::Joint;
use crate::design::model::membrane::ClosedBy;
use crate::facts::fittings::outside_of;
use crate::yaml::entry::Here;
use crate::yaml::words::Words;

use super::desk::{Desk, most, spoken, want};
use super::pipe::Laid;
use super::usual;
use super::{Group, Line};

/// Gaps and seams to be closed, as they are come across.
#[derive(Default)]
pub(super) struct Seals {
    gaps: Vec<Gap>,
}

/// A gap to be filled, or a seam to be taped.
struct Gap {
    with: ClosedBy,
    /// How much it takes: a volume, or a length for tape.
    takes: Ratio,
    what: String,
    here: Here,
    assumed: Vec<String>,
}

/// A gap to be closed.
pub(super) struct Opening<'a> {
    pub(super) what: String,
    pub(super) here: &'a Here,
    pub(super) with: ClosedBy,
}

/// Closes a gap of so much length, width and depth.
pub(super) fn fill(
    desk: &mut Desk<'_, '_>,
    of: Opening<'_>,
    section: &Ratio,
    length: &Ratio,
    assumed: Vec<String>,
) {
    let takes = if of.with == ClosedBy::Tape { length.clone() } else { section * length };
    desk.seals.gaps.push(Gap { with: of.with, takes, what: of.what, here: of.here.clone(), assumed });
}

/// Closes the edge or the seams of a sheet, by tape or by a bead.
pub(super) fn along(desk: &mut Desk<'_, '_>, of: Opening<'_>, length: &Ratio) {
    let bead = usual::bead();
    let assumed = if of.with == ClosedBy::Tape { Vec::new() } else { vec![bead.said.clone()] };
    fill(desk, of, &bead.value.squared(), length, assumed);
}

/// A gap round a pipe.
pub(super) struct Ring<'a, 'd> {
    pub(super) run: &'a Laid<'d>,
    /// How wide the hole is; what is missing where that is not known.
    pub(super) hole: Answer<Ratio>,
    /// Whether a backer is stated.
    pub(super) backer: Option<bool>,
    /// How many there are.
    pub(super) count: u32,
}

/// Closes the gap round a pipe in its hole, with a backer where it is wide.
pub(super) fn ring(desk: &mut Desk<'_, '_>, of: Opening<'_>, ring: Ring<'_, '_>) {
    match of.with {
        ClosedBy::Boot | ClosedBy::Gasket => {
            let part = if of.with == ClosedBy::Boot { "pipe boot with clamps" } else { "gasket" };
            let line = Line::of(Group::Holes, part, format!("for {} pipe", ring.run.pipe()));
            desk.add(line.count(ring.count, of.what, of.here));
            return;
        }
        ClosedBy::Weld | ClosedBy::Tape => return,
        _ => {}
    }
    let what = format!("what closes the gap round {}", of.what);
    let both = ring.hole.both(outside_of(desk.facts, ring.run.it));
    let Some((hole, outside)) = desk.or_lacks(Group::Sealing, what.clone(), both) else { return };
    let depth = usual::depth();
    let long = |ratio: &Ratio| Long::from_number(&crate::base::number::Number::exact(ratio.clone()));
    let found =
        long(&hole).zip(long(&outside.high())).zip(long(&depth.value)).and_then(|((hole, pipe), depth)| {
            Some((around(hole, pipe).ok()?, ring_of_sealant(hole, pipe, depth).ok()?))
        });
    let Some((gap, fills)) = found else {
        let why = "the pipe is wider than its hole".to_owned();
        let missing = crate::base::value::Missing {
            entry: of.here.path.clone(),
            reason: crate::base::value::Reason::NotComputable(why),
            at: Some(of.here.at),
        };
        desk.lacks(Group::Sealing, what, vec![missing]);
        return;
    };
    let count = Ratio::from(i64::from(ring.count));
    let wide = gap.width.to_number().high();
    let round = (hole + outside.high()) * crate::base::number::Number::pi().high();
    let round = round.checked_div(&Ratio::from(2)).unwrap_or_default() * &count;
    backer(desk, &of, &wide, &round, ring.backer);
    let takes = fills.to_number().high() * &count;
    desk.seals.gaps.push(Gap {
        with: of.with,
        takes,
        what: of.what,
        here: of.here.clone(),
        assumed: vec![depth.said, "pipes stand in the middle of their holes".to_owned()],
    });
}

/// Backer for a gap that is wide, or is said to have one.
fn backer(desk: &mut Desk<'_, '_>, of: &Opening<'_>, wide: &Ratio, length: &Ratio, stated: Option<bool>) {
    let backed = usual::backed();
    let needs = stated.unwrap_or(*wide > backed.value);
    if !needs {
        return;
    }
    let waste = usual::waste(desk.shop);
    let inches = super::desk::shown_length(wide);
    let length = usual::to_the_inch(&(length * &(&Ratio::ONE + &waste.value)));
    let mut line = Line::of(Group::Sealing, "backer rod", format!("for gaps of {inches}"))
        .length(&length, of.what.clone(), of.here)
        .assumes(waste.said)
        .note("Rod is bought a quarter wider than the gap.");
    if stated.is_none() {
        line = line.assumes(backed.said);
    }
    desk.add(line);
}

/// Counts the joints, cracks and holes that are to be closed.
pub(super) fn joints(desk: &mut Desk<'_, '_>) {
    let joints: Vec<(&str, &Joint)> = desk.design.foundation.joints.things().collect();
    for (name, joint) in joints {
        if joint.closed.known() == Some(&false) || joint.closed_with.is_none() {
            continue;
        }
        let what = format!("what closes {}", spoken(name));
        if joint.closed.known().is_none() && joint.closed_with.known().is_none() {
            desk.lacks(Group::Sealing, what, want(&joint.closed, &joint.here, None));
            continue;
        }
        let Some(with) = joint.closed_with.known().copied() else {
            desk.lacks(Group::Sealing, what, want(&joint.closed_with, &joint.here, None));
            continue;
        };
        let line = joint.line.known().and_then(|line| line.length.known());
        let length = joint.length.known().or(line).map(|length| most(&length.number()));
        let width = joint.width.known().map(|width| most(&width.number()));
        let (Some(length), Some(width)) = (length.clone(), width.clone()) else {
            let mut missing = Vec::new();
            if length.is_none() {
                missing = unite(missing, want(&joint.length, &joint.here, None));
            }
            if width.is_none() {
                missing = unite(missing, want(&joint.width, &joint.here, None));
            }
            desk.lacks(Group::Sealing, what, missing);
            continue;
        };
        let length = length * Ratio::from(i64::from(joint.count.known().map_or(1, |count| count.0)));
        let of = Opening { what: spoken(name), here: &joint.here, with };
        backer(desk, &of, &width, &length, joint.backer.known().copied());
        let (depth, assumed) = match joint.depth.known() {
            Some(depth) => (most(&depth.number()), Vec::new()),
            None => {
                let usual = usual::depth();
                (usual.value, vec![usual.said])
            }
        };
        fill(desk, of, &(width * depth), &length, assumed);
    }
}

/// Puts on the list what closes all gaps: sealants in cartridges, tape in rolls.
pub(super) fn sealant(desk: &mut Desk<'_, '_>) {
    let gaps = std::mem::take(&mut desk.seals.gaps);
    let waste = usual::waste(desk.shop);
    for (with, spelling, _) in ClosedBy::ALL {
        let own: Vec<&Gap> = gaps.iter().filter(|gap| gap.with == *with).collect();
        if own.is_empty() {
            continue;
        }
        let all: Ratio = own.iter().map(|gap| gap.takes.clone()).sum();
        let all = all * (&Ratio::ONE + &waste.value);
        let whole = |one: &Ratio| {
            all.checked_div(one).and_then(|count| usize::try_from(count.ceil().to_int()?).ok()).unwrap_or(0)
        };
        let mut line = match with {
            ClosedBy::Tape => {
                let (roll, called) = usual::tape(desk.shop);
                Line::of(Group::Sealing, "tape for the sheet", "")
                    .packs(whole(&roll.value), format!("roll of {called}"), format!("rolls of {called}"))
                    .assumes(roll.said)
            }
            ClosedBy::Foam => Line::of(Group::Sealing, "expanding foam", "")
                .packs(1, "can".to_owned(), "cans".to_owned())
                .note("How far a can goes is printed on it.")
                .assumes("one can"),
            ClosedBy::Mortar => Line::of(Group::Sealing, "mortar or grout", ""),
            ClosedBy::Weld | ClosedBy::Gasket | ClosedBy::Boot => Line::of(
                Group::Sealing,
                format!("to close by {spelling}"),
                "",
            )
            .packs(own.len(), "place".to_owned(), "places".to_owned()),
            _ => {
                let (cartridge, called) = usual::cartridge(desk.shop);
                let name = if spelling.contains("sealant") || spelling.contains("cement") {
                    (*spelling).to_owned()
                } else {
                    format!("{spelling} sealant")
                };
                Line::of(Group::Sealing, name, "")
                    .packs(
                        whole(&cartridge.value),
                        format!("cartridge of {called}"),
                        format!("cartridges of {called}"),
                    )
                    .assumes(cartridge.said)
            }
        };
        if *with == ClosedBy::Mortar {
            line.quantity = crate::base::number::Number::exact(all);
            line.unit = super::Unit::Volume;
        }
        line = line.assumes(waste.said.clone());
        for gap in own {
            line = line.used(gap.what.clone(), &gap.here);
            for said in &gap.assumed {
                if !line.assumed.contains(said) {
                    line = line.assumes(said.clone());
                }
            }
        }
        desk.add(line);
    }
}
