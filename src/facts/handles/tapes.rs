//! Tapes from a discharge to what stands about it, after the discharge has moved.
//!
//! What can be reckoned from the tape and the move is; what is then known only within bounds is written with them; what
//! cannot be told any more is taken away.

use crate::base::number::Ratio;
use crate::yaml::path::Path;
use crate::yaml::tree::{NodeId, NodeKind};

use super::Stuck;
use super::discharge::{Desk, Facing};
use super::lengths::{Stated, written_between};

/// The tape under `from_discharge` of this record.
pub(super) fn moved(desk: &mut Desk<'_>, holder: NodeId, tape: NodeId, path: &Path) -> Result<(), Stuck> {
    let here = path.key("from_discharge");
    let level = desk.level_at_most();
    match desk.tree.node(tape).map(|node| &node.kind) {
        Some(NodeKind::Map(pairs)) if !pairs.iter().any(|pair| pair.key == "value") => {}
        // A number alone is a level distance.
        Some(NodeKind::Scalar { .. } | NodeKind::Map(_)) => {
            return if level.is_zero() {
                Ok(())
            } else {
                desk.either_way(holder, path, "from_discharge", &level)
            };
        }
        _ => return Ok(()),
    }
    let beside = beside(desk, tape, &here)?;
    let (up, down) = (desk.by.up.clone(), -&desk.by.up);
    for key in ["top_below", "bottom_below"] {
        desk.add(tape, &here, key, &up)?;
    }
    for key in ["top_above", "bottom_above"] {
        desk.add(tape, &here, key, &down)?;
    }
    for key in ["straight", "around"] {
        // What somebody signed is not taken away either.
        desk.at(tape, &here, key)?;
        desk.remove(tape, &here, key);
    }
    if level.is_zero() {
        if let Beside::Straight { low, high, like } = &beside {
            desk.set(here.key("away"), written_between(low, high, &like.style))?;
        }
        return Ok(());
    }
    match beside {
        Beside::Straight { low, high, like } | Beside::Away { low, high, like } => {
            let to = written_between(&(&low - &level), &(&high + &level), &like.style);
            desk.set(here.key("away"), to)
        }
        Beside::AlongTheWall => along_the_wall(desk, holder, tape, &here),
        Beside::NotTold => Ok(()),
    }
}

/// What a tape says of how far aside a thing lies.
pub(super) enum Beside {
    /// So far, whichever way.
    Away { low: Ratio, high: Ratio, like: Stated },
    /// So much to the left or right, and out.
    AlongTheWall,
    /// Only the straight tape and the drop say it.
    Straight { low: Ratio, high: Ratio, like: Stated },
    /// Nothing says it.
    NotTold,
}

pub(super) fn beside(desk: &Desk<'_>, tape: NodeId, here: &Path) -> Result<Beside, Stuck> {
    if let Some(like) = desk.at(tape, here, "away")? {
        let (low, high) = like.bounds();
        return Ok(Beside::Away { low, high, like });
    }
    if ["left", "right"].iter().any(|key| desk.tree.get(tape, key).is_some()) {
        return Ok(Beside::AlongTheWall);
    }
    let Some(like) = desk.at(tape, here, "straight")? else { return Ok(Beside::NotTold) };
    let Some((least, most)) = drop(desk, tape, here)? else { return Ok(Beside::NotTold) };
    let (low, high) = like.bounds();
    let across = |straight: Ratio, drop: Ratio| (straight.squared() - drop.squared()).max(Ratio::ZERO);
    let low = across(low, most).root_bounds_within(40);
    let high = across(high, least).root_bounds_within(40);
    match (low, high) {
        (Some((low, _)), Some((_, high))) => Ok(Beside::Straight { low, high, like }),
        _ => Ok(Beside::NotTold),
    }
}

/// Between what the outlet lies above or below the nearest height of a thing.
fn drop(desk: &Desk<'_>, tape: NodeId, here: &Path) -> Result<Option<(Ratio, Ratio)>, Stuck> {
    let above = |below: &str, above: &str| -> Result<Option<(Ratio, Ratio)>, Stuck> {
        if let Some(found) = desk.at(tape, here, below)? {
            return Ok(Some(found.bounds()));
        }
        Ok(desk.at(tape, here, above)?.map(|found| {
            let (low, high) = found.bounds();
            (-high, -low)
        }))
    };
    let bottom = above("bottom_below", "bottom_above")?;
    let Some((low, high)) = above("top_below", "top_above")? else {
        return Ok(bottom.filter(|(_, high)| high.is_negative()).map(|(low, high)| (-high, -low)));
    };
    let nothing = Ratio::ZERO;
    if !low.is_negative() {
        return Ok(Some((low, high)));
    }
    // The outlet may be lower than the top: then the nearest height is its own, or the bottom.
    let (least_up, most_up) = match bottom {
        Some((low, high)) => ((-high).max(Ratio::ZERO), (-low).max(Ratio::ZERO)),
        None => (nothing.clone(), (-&low).max(Ratio::ZERO)),
    };
    Ok(Some((least_up, most_up.max(high).max(nothing))))
}

/// So much to the left or right and out, by the side of the building the discharge is on.
fn along_the_wall(desk: &mut Desk<'_>, holder: NodeId, tape: NodeId, here: &Path) -> Result<(), Stuck> {
    // What lies on another side of the building may be taped before that one.
    let side = desk.tree.get(holder, "side").map(|pair| desk.tree.text(pair.value).and_then(Facing::of));
    let facing = desk.facing.filter(|facing| side.is_none_or(|side| side == Some(*facing)));
    let Some(facing) = facing else {
        for key in ["left", "right", "out"] {
            desk.remove(tape, here, key);
        }
        return Ok(());
    };
    let (left, out) = facing.seen(desk.by);
    for (key, by) in [("left", -&left), ("right", left.clone())] {
        let above = desk.at(tape, here, key)?.filter(|found| found.number.is_zero());
        match above {
            // One stands above the other, by how much is not told.
            Some(found) if !by.is_zero() => {
                let to = written_between(&Ratio::ZERO, &by.abs(), &found.style);
                desk.set(here.key(key), to)?;
            }
            _ => {
                desk.add_length(tape, here, key, &by)?;
            }
        }
    }
    desk.add_length(tape, here, "out", &-out)?;
    Ok(())
}
