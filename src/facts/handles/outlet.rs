//! A discharge that may be anywhere within a box: what a design says of it and from it, made so wide that it holds for
//! every place in the box.
//!
//! A verdict on the design that comes of it holds for every such place, because knowing more turns no verdict. Nothing
//! of this is written into a file. The pipe to the outlet is left open, and what can no longer be told is taken away.

use crate::base::number::Ratio;
use crate::yaml::path::Path;
use crate::yaml::tree::{NodeId, NodeKind, Tree};

use super::discharge::{Desk, Facing, is_alone};
use super::lengths::{self, Stated, length_text, of_words, style, written, written_between};
use super::pipes::WAYS;
use super::tapes::{Beside, beside};
use super::{Change, Shift, Stuck};

/// From where to where something reaches along the three axes: east, north and up.
pub type Reach = [(Ratio, Ratio); 3];

/// What has to stand in the file for the discharge of a system, which stands at a place, to be anywhere within a box.
///
/// # Errors
/// Where the file says nothing of a discharge, or a length of the box cannot be written.
pub fn outlet(tree: &Tree, system: &str, now: &[Ratio; 3], within: &Reach) -> Result<Vec<Change>, Stuck> {
    let own = Path::root().key("systems").key(system);
    let path = own.key("discharge");
    let not_there = || Stuck::NotStated((&path).into());
    let (node, _) = path.resolve(tree).ok_or_else(not_there)?;
    if !matches!(tree.node(node).map(|node| &node.kind), Some(NodeKind::Map(_))) {
        return Err(not_there());
    }
    let mut by = now.iter().zip(within).map(|(now, (low, high))| (low - now, high - now));
    let (Some(east), Some(north), Some(up)) = (by.next(), by.next(), by.next()) else {
        return Err(not_there());
    };
    let side = tree.get(node, "side").and_then(|pair| Facing::of(tree.text(pair.value)?));
    // Off its wall, it may be on no side or on another one.
    let facing = side.filter(|side| match side {
        Facing::North | Facing::South => is_nothing(&north),
        Facing::East | Facing::West => is_nothing(&east),
    });
    let nowhere = Shift::default();
    let mut wide = Wide {
        desk: Desk { tree, by: &nowhere, facing, alone: is_alone(tree), measured: true, changes: Vec::new() },
        far: farthest(&east, &north),
        by: [east, north, up],
    };
    wide.itself(node, &path, within)?;
    if facing != side {
        wide.desk.remove(node, &path, "side");
    }
    wide.pipes(&own);
    if let Some(root) = tree.root() {
        wide.taped_from_it(root, &Path::root(), &own)?;
    }
    wide.looks()?;
    Ok(wide.desk.changes)
}

fn is_nothing((low, high): &(Ratio, Ratio)) -> bool {
    low.is_zero() && high.is_zero()
}

/// The greatest of how far it moves along two axes, put together.
fn farthest(east: &(Ratio, Ratio), north: &(Ratio, Ratio)) -> Ratio {
    let most = |(low, high): &(Ratio, Ratio)| low.abs().max(high.abs());
    let (east, north) = (most(east), most(north));
    match (east.is_zero(), north.is_zero()) {
        (_, true) => east,
        (true, _) => north,
        _ => east + north,
    }
}

/// A length between two others, whatever their signs.
fn between(low: &Ratio, high: &Ratio, like: &Stated) -> Option<String> {
    let middle = (low + high).half();
    written(&middle, Some(&(high - low).half()), &like.style)
}

struct Wide<'t> {
    desk: Desk<'t>,
    /// By how much it moves at least and at most, along each axis.
    by: Reach,
    /// How far it moves at most as seen from above.
    far: Ratio,
}

impl Wide<'_> {
    /// Sets what is between two lengths, or takes away what cannot be written.
    fn between(&mut self, map: NodeId, path: &Path, key: &str, to: Option<String>) {
        match to {
            Some(to) => self.desk.changes.push(Change::Set { entry: path.key(key), to }),
            None => self.desk.remove(map, path, key),
        }
    }

    /// What is stated under a key, if it can be read.
    fn at(&mut self, map: NodeId, path: &Path, key: &str) -> Option<Stated> {
        self.desk.at(map, path, key).unwrap_or_default()
    }

    /// Adds a range to what is stated under a key. What would then be less than nothing, and cannot be, is taken away.
    fn add(&mut self, map: NodeId, path: &Path, key: &str, (low, high): (&Ratio, &Ratio), signed: bool) {
        let Some(found) = self.at(map, path, key) else {
            return self.desk.remove(map, path, key);
        };
        let (least, most) = found.bounds();
        let (low, high) = (&least + low, &most + high);
        let past = low.is_negative() && !signed;
        let to = if past { None } else { between(&low, &high, &found) };
        self.between(map, path, key, to);
    }

    /// The other way: what grows shrinks.
    fn take(&mut self, map: NodeId, path: &Path, key: &str, (low, high): (&Ratio, &Ratio), signed: bool) {
        self.add(map, path, key, (&-high, &-low), signed);
    }

    /// A level distance of which it cannot be told whether it grows or shrinks.
    fn either_way(&mut self, map: NodeId, path: &Path, key: &str) {
        let Some(found) = self.at(map, path, key) else {
            return self.desk.remove(map, path, key);
        };
        let (low, high) = found.bounds();
        let to = written_between(&(&low - &self.far), &(&high + &self.far), &found.style);
        self.between(map, path, key, to);
    }

    fn itself(&mut self, node: NodeId, path: &Path, within: &Reach) -> Result<(), Stuck> {
        self.desk.remove(node, path, "height");
        let [_, _, (low, high)] = self.by.clone();
        for key in ["above_roof", "above_roof_edge", "above_ground"] {
            if self.far.is_zero() {
                self.add(node, path, key, (&low, &high), false);
            } else {
                // Aside, what it is counted from may be higher or lower.
                self.desk.remove(node, path, key);
            }
        }
        for key in ["from_roof_edge", "from_ridge", "from_property_line"] {
            self.either_way(node, path, key);
        }
        let entry = path.key("at");
        let like = style(self.desk.tree);
        let written = within.iter().map(|(low, high)| {
            let off = (high - low).half();
            let middle = length_text(&(low + high).half(), &like)?;
            let off = if off.is_zero() { None } else { Some(length_text(&off, &like)?) };
            Some(match off {
                Some(off) => format!("{{value: {middle}, within: {off}}}"),
                None => middle,
            })
        });
        let written: Option<Vec<String>> = written.collect();
        self.desk.set(entry, written.map(|all| format!("[{}]", all.join(", "))))
    }

    /// The runs that end or begin at the outlet may go there in any way.
    fn pipes(&mut self, own: &Path) {
        let all = own.key("runs");
        let tree = self.desk.tree;
        let Some((runs, _)) = all.resolve(tree) else { return };
        for pair in tree.pairs(runs) {
            let named = |key: &str| {
                tree.get(pair.value, key).and_then(|pair| tree.text(pair.value)) == Some("discharge")
            };
            if named("to") || named("from") {
                let path = all.key(&pair.key);
                for key in WAYS.iter().flatten().chain(&["points", "length"]) {
                    self.desk.remove(pair.value, &path, key);
                }
            }
        }
    }

    /// Whatever is measured from the discharge stays where it is.
    fn taped_from_it(&mut self, node: NodeId, path: &Path, own: &Path) -> Result<(), Stuck> {
        let tree = self.desk.tree;
        let inside = path.steps.starts_with(&own.steps);
        let in_another = path.steps.len() >= 2 && path.steps.first() == own.steps.first() && !inside;
        if in_another {
            return Ok(());
        }
        let is_run = path.steps.len() == 4 && inside;
        let from = tree.get(node, "from").and_then(|pair| tree.text(pair.value));
        if from == Some("discharge") && !is_run {
            for (ways, (low, high)) in WAYS.into_iter().zip(self.by.clone()) {
                let [plus, minus] = ways;
                if tree.get(node, plus).is_some() {
                    self.take(node, path, plus, (&low, &high), false);
                } else if tree.get(node, minus).is_some() {
                    self.add(node, path, minus, (&low, &high), false);
                } else if !(low.is_zero() && high.is_zero()) {
                    // It lay straight across or over; where it lies now cannot be said in its own words.
                    self.desk.remove(node, path, "from");
                }
            }
            self.desk.remove(node, path, "straight");
        }
        for pair in tree.pairs(node) {
            if pair.key != "from_discharge" {
                self.taped_from_it(pair.value, &path.key(&pair.key), own)?;
            } else if self.desk.alone || inside {
                self.tape(node, pair.value, path)?;
            } else {
                // From which of several it was taped is not said.
                self.desk.remove(node, path, "from_discharge");
            }
        }
        for (number, item) in tree.items(node).iter().enumerate() {
            self.taped_from_it(*item, &path.item(number), own)?;
        }
        Ok(())
    }

    /// The tape under `from_discharge` of a record.
    fn tape(&mut self, holder: NodeId, tape: NodeId, path: &Path) -> Result<(), Stuck> {
        let here = path.key("from_discharge");
        let tree = self.desk.tree;
        match tree.node(tape).map(|node| &node.kind) {
            Some(NodeKind::Map(pairs)) if !pairs.iter().any(|pair| pair.key == "value") => {}
            // A number alone is a level distance.
            Some(NodeKind::Scalar { .. } | NodeKind::Map(_)) => {
                self.either_way(holder, path, "from_discharge");
                return Ok(());
            }
            _ => return Ok(()),
        }
        let aside = beside(&self.desk, tape, &here).unwrap_or(Beside::NotTold);
        let [_, _, (low, high)] = self.by.clone();
        for key in ["top_below", "bottom_below"] {
            self.add(tape, &here, key, (&low, &high), true);
        }
        for key in ["top_above", "bottom_above"] {
            self.take(tape, &here, key, (&low, &high), true);
        }
        self.desk.remove(tape, &here, "straight");
        self.desk.remove(tape, &here, "around");
        match aside {
            Beside::Straight { low, high, like } | Beside::Away { low, high, like } => {
                let to = written_between(&(&low - &self.far), &(&high + &self.far), &like.style);
                self.between(tape, &here, "away", to);
            }
            Beside::AlongTheWall => self.along_the_wall(holder, tape, &here),
            Beside::NotTold => {}
        }
        Ok(())
    }

    fn along_the_wall(&mut self, holder: NodeId, tape: NodeId, here: &Path) {
        let tree = self.desk.tree;
        let side = tree.get(holder, "side").map(|pair| tree.text(pair.value).and_then(Facing::of));
        let facing = self.desk.facing.filter(|facing| side.is_none_or(|side| side == Some(*facing)));
        let Some(facing) = facing else {
            for key in ["left", "right", "out"] {
                self.desk.remove(tape, here, key);
            }
            return;
        };
        let [east, north, _] = self.by.clone();
        let ends = [(&east.0, &north.0), (&east.1, &north.1)];
        let seen = ends.map(|(east, north)| facing.seen(&Shift::level(east.clone(), north.clone())));
        let [(left, out), (other, farther)] = seen;
        let (least, most) = (left.clone().min(other.clone()), left.max(other));
        for key in ["left", "right"] {
            match self.at(tape, here, key) {
                // One stands above the other, by how much is not told.
                Some(found) if found.number.is_zero() => {
                    let to = written_between(&Ratio::ZERO, &least.abs().max(most.abs()), &found.style);
                    self.between(tape, here, key, to);
                }
                _ if key == "left" => self.take(tape, here, key, (&least, &most), false),
                _ => self.add(tape, here, key, (&least, &most), false),
            }
        }
        self.take(tape, here, "out", (&out.clone().min(farther.clone()), &out.max(farther)), false);
    }

    /// How far somebody looked about the discharge: about where it is tried, so much less.
    fn looks(&mut self) -> Result<(), Stuck> {
        let tree = self.desk.tree;
        let all = Path::root().key("looked_for");
        let Some((looks, _)) = all.resolve(tree) else { return Ok(()) };
        let [_, _, (low, high)] = self.by.clone();
        let far = &self.far + &low.abs().max(high.abs());
        let higher = high.max(Ratio::ZERO);
        for pair in tree.pairs(looks) {
            let here = all.key(&pair.key);
            let Some(within) = tree.get(pair.value, "within").and_then(|pair| tree.text(pair.value)) else {
                continue;
            };
            let Some((reach, of)) = within.split_once(" of ") else { continue };
            // The outlet is fastened to the building: one that is higher was not looked about.
            let less = if of.trim().ends_with("discharge") { &far } else { &higher };
            let Some(reach) = of_words(reach).filter(|_| !less.is_zero()) else { continue };
            let step = lengths::step(tree);
            let left = (&reach.number - less).round_to(&step, crate::base::number::Rounding::Down);
            let left = left.filter(|left| !left.is_negative());
            let to = left.and_then(|left| length_text(&left, &reach.style));
            let to = to.map(|text| format!("{text} of {}", of.trim()));
            self.between(pair.value, &here, "within", to);
        }
        Ok(())
    }
}
