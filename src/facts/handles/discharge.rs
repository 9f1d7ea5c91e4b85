//! Moving a discharge: everything in the file that says where it is, and everything that is said from it.

use crate::base::number::{Ratio, Rounding};
use crate::yaml::path::Path;
use crate::yaml::tree::{NodeId, NodeKind, Tree};

use super::lengths::{self, Stated, read, stated, written, written_between};
use super::pipes::{Pipes, WAYS};
use super::tapes;
use super::{Change, Shift, Stuck};

/// The side of the building on which a discharge is: before that wall one stands to tell left from right.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Facing {
    /// The side where y grows.
    North,
    /// The side opposite to it.
    South,
    /// The side where x grows.
    East,
    /// The side opposite to it.
    West,
}

impl Facing {
    pub(super) fn of(word: &str) -> Option<Self> {
        Some(match word {
            "north" => Facing::North,
            "south" => Facing::South,
            "east" => Facing::East,
            "west" => Facing::West,
            _ => return None,
        })
    }

    /// How far a move goes to the left of whoever stands before that wall, and how far toward them.
    pub(super) fn seen(self, by: &Shift) -> (Ratio, Ratio) {
        match self {
            Facing::North => (by.east.clone(), by.north.clone()),
            Facing::South => (-&by.east, -&by.north),
            Facing::East => (-&by.north, by.east.clone()),
            Facing::West => (by.north.clone(), -&by.east),
        }
    }
}

/// Heights above something, and below something.
pub(super) const ABOVE: [&str; 5] = ["z", "above_ground", "above_floor", "above_roof", "above_roof_edge"];
pub(super) const BELOW: [&str; 2] = ["below_roof_edge", "below_ridge"];

/// What has to be written for the discharge of a system to stand elsewhere.
///
/// # Errors
/// What stands in the way of telling the move by other numbers alone.
pub fn discharge(tree: &Tree, system: &str, by: &Shift) -> Result<Vec<Change>, Stuck> {
    let systems = Path::root().key("systems");
    let own = systems.key(system);
    let path = own.key("discharge");
    let not_there = || Stuck::NotStated((&path).into());
    let (node, _) = path.resolve(tree).ok_or_else(not_there)?;
    let NodeKind::Map(_) = tree.node(node).ok_or_else(not_there)?.kind else { return Err(not_there()) };
    let alone = is_alone(tree);
    let facing = tree.get(node, "side").and_then(|pair| Facing::of(tree.text(pair.value)?));
    let mut desk = Desk { tree, by, facing, alone, measured: false, changes: Vec::new() };
    desk.itself(node, &path)?;
    if let Some(pipes) = Pipes::of(&desk, &own) {
        pipes.follow(&mut desk, "discharge")?;
    }
    if let Some(root) = tree.root() {
        desk.taped_from_it(root, &Path::root(), &own)?;
    }
    desk.looks()?;
    Ok(desk.changes)
}

/// Whether no other system has a discharge.
pub(super) fn is_alone(tree: &Tree) -> bool {
    Path::root().key("systems").resolve(tree).is_some_and(|(all, _)| {
        tree.pairs(all).iter().filter(|pair| tree.get(pair.value, "discharge").is_some()).count() == 1
    })
}

pub(super) struct Desk<'t> {
    pub(super) tree: &'t Tree,
    pub(super) by: &'t Shift,
    /// Before which wall one stands to tell left from right.
    pub(super) facing: Option<Facing>,
    /// Whether there is no other discharge that a tape could be from.
    pub(super) alone: bool,
    /// Whether what was measured may be taken to be otherwise: where nothing is written back into the file.
    pub(super) measured: bool,
    pub(super) changes: Vec<Change>,
}

impl Desk<'_> {
    /// What is stated under a key of a record.
    pub(super) fn at(&self, map: NodeId, path: &Path, key: &str) -> Result<Option<Stated>, Stuck> {
        match self.tree.get(map, key) {
            Some(pair) if self.measured => read(self.tree, pair.value, &path.key(key)),
            Some(pair) => stated(self.tree, pair.value, &path.key(key)),
            None => Ok(None),
        }
    }

    pub(super) fn set(&mut self, entry: Path, to: Option<String>) -> Result<(), Stuck> {
        match to {
            Some(to) => {
                self.changes.push(Change::Set { entry, to });
                Ok(())
            }
            None => Err(Stuck::Unreadable((&entry).into())),
        }
    }

    pub(super) fn remove(&mut self, map: NodeId, path: &Path, key: &str) {
        if self.tree.get(map, key).is_some() {
            self.changes.push(Change::Remove { entry: path.key(key) });
        }
    }

    /// Adds to what is stated under a key; whether anything is.
    pub(super) fn add(&mut self, map: NodeId, path: &Path, key: &str, by: &Ratio) -> Result<bool, Stuck> {
        let Some(found) = self.at(map, path, key)? else { return Ok(false) };
        if !by.is_zero() {
            let to = written(&(&found.number + by), found.within.as_ref(), &found.style);
            self.set(path.key(key), to)?;
        }
        Ok(true)
    }

    /// The same for a length that cannot be less than nothing.
    pub(super) fn add_length(
        &mut self,
        map: NodeId,
        path: &Path,
        key: &str,
        by: &Ratio,
    ) -> Result<bool, Stuck> {
        if self.at(map, path, key)?.is_some_and(|found| (&found.number + by).is_negative()) {
            return Err(Stuck::Past((&path.key(key)).into()));
        }
        self.add(map, path, key, by)
    }

    /// Adds to a coordinate in a list of them.
    pub(super) fn add_item(
        &mut self,
        list: NodeId,
        path: &Path,
        number: usize,
        by: &Ratio,
    ) -> Result<(), Stuck> {
        let Some(item) = self.tree.items(list).get(number).copied().filter(|_| !by.is_zero()) else {
            return Ok(());
        };
        let entry = path.item(number);
        if let Some(found) = stated(self.tree, item, &entry)? {
            let to = written(&(&found.number + by), found.within.as_ref(), &found.style);
            self.set(entry, to)?;
        }
        Ok(())
    }

    fn add_point(&mut self, list: NodeId, path: &Path) -> Result<(), Stuck> {
        let Shift { east, north, up } = self.by;
        for (number, by) in [east, north, up].into_iter().enumerate() {
            self.add_item(list, path, number, by)?;
        }
        Ok(())
    }

    fn axes(&self) -> impl Iterator<Item = ([&'static str; 2], Ratio)> + use<> {
        WAYS.into_iter().zip([self.by.east.clone(), self.by.north.clone(), self.by.up.clone()])
    }

    /// How far it moves as seen from above, no less than it does.
    pub(super) fn level_at_most(&self) -> Ratio {
        self.by.level_squared().root_bounds_within(40).map_or_else(Ratio::zero, |(_, most)| most)
    }

    fn itself(&mut self, node: NodeId, path: &Path) -> Result<(), Stuck> {
        let up = self.by.up.clone();
        for key in ["above_roof", "above_roof_edge", "above_ground"] {
            if self.holds_there(key) {
                self.add_length(node, path, key, &up)?;
            } else {
                self.remove(node, path, key);
            }
        }
        if let Some(pair) = self.tree.get(node, "height") {
            let here = path.key("height");
            match self.tree.node(pair.value).map(|node| &node.kind) {
                Some(NodeKind::Map(pairs)) if !pairs.iter().any(|pair| pair.key == "value") => {
                    self.heights(pair.value, &here)?;
                }
                _ => {
                    self.add(node, path, "height", &up)?;
                }
            }
        }
        if let Some(pair) = self.tree.get(node, "at") {
            self.place(pair.value, &path.key("at"))?;
        }
        let level = self.level_at_most();
        if !level.is_zero() {
            for key in ["from_roof_edge", "from_ridge", "from_property_line"] {
                self.either_way(node, path, key, &level)?;
            }
        }
        Ok(())
    }

    /// A level distance of which it cannot be told whether it grows or shrinks: it lies between the two.
    pub(super) fn either_way(
        &mut self,
        map: NodeId,
        path: &Path,
        key: &str,
        by: &Ratio,
    ) -> Result<(), Stuck> {
        let Some(found) = self.at(map, path, key)? else { return Ok(()) };
        let (low, high) = found.bounds();
        let to = written_between(&(&low - by), &(&high + by), &found.style);
        self.set(path.key(key), to)
    }

    fn heights(&mut self, node: NodeId, path: &Path) -> Result<(), Stuck> {
        let (up, down) = (self.by.up.clone(), -&self.by.up);
        let above = ABOVE.into_iter().map(|key| (key, &up));
        for (key, by) in above.chain(BELOW.into_iter().map(|key| (key, &down))) {
            if self.holds_there(key) {
                self.add(node, path, key, by)?;
            } else {
                self.remove(node, path, key);
            }
        }
        Ok(())
    }

    /// Whether a height above or below something still says how high it stands once it has gone aside: what it is
    /// counted from must be known apart from it, or be the same everywhere.
    fn holds_there(&self, key: &str) -> bool {
        let told = |keys: [&str; 3]| {
            let path =
                keys.into_iter().filter(|key| !key.is_empty()).fold(Path::root(), |path, key| path.key(key));
            path.resolve(self.tree).is_some()
        };
        if self.by.level_squared().is_zero() {
            return true;
        }
        match key {
            "above_roof" => false,
            "above_roof_edge" | "below_roof_edge" => {
                told(["building", "roof", "edge"]) || told(["building", "roof", "edges"])
            }
            "above_ground" => told(["site", "ground", ""]),
            _ => true,
        }
    }

    pub(super) fn place(&mut self, node: NodeId, path: &Path) -> Result<(), Stuck> {
        if !self.tree.items(node).is_empty() {
            return self.add_point(node, path);
        }
        self.heights(node, path)?;
        for key in ["point", "plan"] {
            if let Some(pair) = self.tree.get(node, key) {
                self.add_point(pair.value, &path.key(key))?;
            }
        }
        for (ways, by) in self.axes() {
            self.ways(node, path, ways, &by)?;
        }
        self.off_walls(node, path)?;
        self.remove(node, path, "straight");
        Ok(())
    }

    /// Distances off the walls of a room: less to the one, more to the other.
    pub(super) fn off_walls(&mut self, node: NodeId, path: &Path) -> Result<(), Stuck> {
        let Some(pair) = self.tree.get(node, "from_walls") else { return Ok(()) };
        let here = path.key("from_walls");
        for ([plus, minus], by) in self.axes() {
            self.add_length(pair.value, &here, plus, &-&by)?;
            self.add_length(pair.value, &here, minus, &by)?;
        }
        Ok(())
    }

    /// Adds to how far something goes along an axis; whether anything is said of that.
    fn ways(&mut self, map: NodeId, path: &Path, ways: [&str; 2], by: &Ratio) -> Result<bool, Stuck> {
        let [plus, minus] = ways;
        let found = self.add_length(map, path, plus, by)?;
        if found {
            return Ok(true);
        }
        self.add_length(map, path, minus, &-by)
    }

    /// Whatever is measured from the discharge, anywhere in the file: it stays where it is.
    fn taped_from_it(&mut self, node: NodeId, path: &Path, own: &Path) -> Result<(), Stuck> {
        let systems = path.steps.len() == 2 && path.steps.first() == own.steps.first();
        if systems && path != own {
            return Ok(());
        }
        let is_run = path.steps.len() == 4 && path.steps.starts_with(&own.steps);
        let inside = path.steps.starts_with(&own.steps);
        let meant = self.alone || inside;
        let tree = self.tree;
        let from = tree.get(node, "from").and_then(|pair| tree.text(pair.value));
        if from == Some("discharge") && meant && !is_run {
            for (ways, by) in self.axes() {
                self.ways(node, path, ways, &-by)?;
            }
            self.remove(node, path, "straight");
        }
        for pair in tree.pairs(node) {
            let here = path.key(&pair.key);
            if pair.key != "from_discharge" {
                self.taped_from_it(pair.value, &here, own)?;
            } else if meant {
                tapes::moved(self, node, pair.value, path)?;
            }
        }
        for (number, item) in tree.items(node).iter().enumerate() {
            self.taped_from_it(*item, &path.item(number), own)?;
        }
        Ok(())
    }

    /// How far somebody looked about the discharge: about where it stands now, so much less.
    fn looks(&mut self) -> Result<(), Stuck> {
        let all = Path::root().key("looked_for");
        let Some((looks, _)) = all.resolve(self.tree) else { return Ok(()) };
        let far = self.by.squared().root_bounds_within(40).map_or_else(Ratio::zero, |(_, most)| most);
        let higher = self.by.up.clone().max(Ratio::ZERO);
        let tree = self.tree;
        for pair in tree.pairs(looks) {
            let here = all.key(&pair.key).key("within");
            let Some(within) = tree.get(pair.value, "within").map(|pair| pair.value) else { continue };
            let Some((reach, of)) = tree.text(within).and_then(|text| text.split_once(" of ")) else {
                continue;
            };
            // What is fastened to the building, the discharge among it, was looked about; a higher one was not.
            let less = if of.trim().ends_with("discharge") { &far } else { &higher };
            let Some(reach) = lengths::of_words(reach).filter(|_| !less.is_zero()) else { continue };
            let step = if lengths::is_metric(&reach.style) {
                Ratio::new(1, 10).unwrap_or_default()
            } else {
                lengths::inches(1)
            };
            let left = (&reach.number - less).round_to(&step, Rounding::Down);
            let left = left.filter(|left| !left.is_negative()).ok_or(Stuck::Past((&here).into()))?;
            let to = lengths::length_text(&left, &reach.style).map(|text| format!("{text} of {}", of.trim()));
            self.set(here, to)?;
        }
        Ok(())
    }
}
