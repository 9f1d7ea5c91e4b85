//! The runs of pipe that lead to something that moves.
//!
//! The last run is lengthened or shortened along the way of the move where it goes that way. Where it does not, the run
//! before it does, and whatever else branches off there keeps its end.

use crate::base::number::Ratio;
use crate::yaml::path::Path;
use crate::yaml::tree::NodeId;

use super::Stuck;
use super::discharge::Desk;

/// The ways along each axis: the one that grows, and the other.
pub(super) const WAYS: [[&str; 2]; 3] = [["east", "west"], ["north", "south"], ["up", "down"]];

/// So many runs may follow one another.
const MOST: usize = 64;

/// The runs of a system, and what moves about them.
pub(super) struct Pipes {
    all: Path,
    runs: NodeId,
}

impl Pipes {
    pub(super) fn of(desk: &Desk<'_>, own: &Path) -> Option<Self> {
        let all = own.key("runs");
        let (runs, _) = all.resolve(desk.tree)?;
        Some(Pipes { all, runs })
    }

    /// Lets every run that ends at something end elsewhere, and every run that begins there begin elsewhere.
    pub(super) fn follow(&self, desk: &mut Desk<'_>, what: &str) -> Result<(), Stuck> {
        let moves = [desk.by.east.clone(), desk.by.north.clone(), desk.by.up.clone()];
        let tree = desk.tree;
        for pair in tree.pairs(self.runs) {
            let ends = named(desk, pair.value, "to") == Some(what);
            let begins = named(desk, pair.value, "from") == Some(what);
            for (axis, by) in moves.iter().enumerate().filter(|(_, by)| !by.is_zero()) {
                if ends {
                    self.end(desk, &pair.key, pair.value, axis, by, 0)?;
                } else if begins {
                    self.start(desk, &pair.key, pair.value, axis, by)?;
                }
            }
        }
        Ok(())
    }

    fn path(&self, run: &str) -> Path {
        self.all.key(run)
    }

    /// The end of a run moves along an axis.
    fn end(
        &self,
        desk: &mut Desk<'_>,
        run: &str,
        node: NodeId,
        axis: usize,
        by: &Ratio,
        depth: usize,
    ) -> Result<(), Stuck> {
        let path = self.path(run);
        let pipe = || Stuck::Pipe((&path).into());
        if depth > MOST {
            return Err(pipe());
        }
        let points = desk.tree.get(node, "points").map(|pair| pair.value);
        if let Some(list) = points {
            let last = desk.tree.items(list).len().saturating_sub(1);
            self.point(desk, &path, list, last, axis, by)?;
        }
        let Some(ways) = WAYS.get(axis) else { return Err(pipe()) };
        if let Some((key, grows)) = said(desk, node, ways) {
            let by = if grows { by.clone() } else { -by };
            self.way(desk, node, &path, key, &by)?;
            return self.length(desk, node, &path, &by);
        }
        if points.is_some() {
            return Ok(());
        }
        if !says_a_way(desk, node) {
            // It does not say where it goes; nothing is told by it.
            return Ok(());
        }
        let Some(before) = named(desk, node, "from").map(str::to_owned) else { return Err(pipe()) };
        let Some(pair) = desk.tree.get(self.runs, &before) else { return Err(pipe()) };
        self.end(desk, &before, pair.value, axis, by, depth + 1)?;
        let tree = desk.tree;
        for other in tree.pairs(self.runs) {
            if other.key != run && named(desk, other.value, "from") == Some(before.as_str()) {
                self.start(desk, &other.key, other.value, axis, by)?;
            }
        }
        Ok(())
    }

    /// The beginning of a run moves along an axis while its end stays.
    fn start(
        &self,
        desk: &mut Desk<'_>,
        run: &str,
        node: NodeId,
        axis: usize,
        by: &Ratio,
    ) -> Result<(), Stuck> {
        let path = self.path(run);
        let points = desk.tree.get(node, "points").map(|pair| pair.value);
        if let Some(list) = points {
            self.point(desk, &path, list, 0, axis, by)?;
        }
        let Some(ways) = WAYS.get(axis) else { return Err(Stuck::Pipe((&path).into())) };
        if let Some((key, grows)) = said(desk, node, ways) {
            let by = if grows { -by } else { by.clone() };
            self.way(desk, node, &path, key, &by)?;
            return self.length(desk, node, &path, &by);
        }
        if points.is_some() || !says_a_way(desk, node) { Ok(()) } else { Err(Stuck::Pipe((&path).into())) }
    }

    fn point(
        &self,
        desk: &mut Desk<'_>,
        path: &Path,
        list: NodeId,
        number: usize,
        axis: usize,
        by: &Ratio,
    ) -> Result<(), Stuck> {
        match desk.tree.items(list).get(number).copied() {
            Some(point) => desk.add_item(point, &path.key("points").item(number), axis, by),
            None => Ok(()),
        }
    }

    /// How far a run goes one way: a length, or up to something.
    fn way(
        &self,
        desk: &mut Desk<'_>,
        node: NodeId,
        path: &Path,
        key: &str,
        by: &Ratio,
    ) -> Result<(), Stuck> {
        let entry = path.key(key);
        let stuck = || Stuck::Pipe((&entry).into());
        if desk.changes.iter().any(|change| *change.entry() == entry) {
            return Err(stuck());
        }
        let text = desk.tree.get(node, key).and_then(|pair| desk.tree.text(pair.value));
        match text.and_then(|text| text.strip_prefix("to ")).map(str::trim) {
            Some("discharge") => Ok(()),
            Some(_) => Err(stuck()),
            None => match desk.at(node, path, key)? {
                Some(found) if (&found.number + by).signum() > 0 => desk.add(node, path, key, by).map(|_| ()),
                _ => Err(stuck()),
            },
        }
    }

    /// The length of a run that goes one way alone grows with it; that of another cannot be told any more.
    fn length(&self, desk: &mut Desk<'_>, node: NodeId, path: &Path, by: &Ratio) -> Result<(), Stuck> {
        let ways = WAYS.iter().flatten().filter(|key| desk.tree.get(node, key).is_some()).count();
        if ways == 1 && desk.tree.get(node, "points").is_none() {
            desk.add_length(node, path, "length", by)?;
        } else if !desk.changes.iter().any(|change| *change.entry() == path.key("length")) {
            desk.remove(node, path, "length");
        }
        Ok(())
    }
}

fn named<'t>(desk: &Desk<'t>, node: NodeId, key: &str) -> Option<&'t str> {
    let tree = desk.tree;
    tree.get(node, key).and_then(|pair| tree.text(pair.value))
}

/// The way along an axis that a run says, and whether it is the one that grows.
fn said(desk: &Desk<'_>, node: NodeId, [plus, minus]: &[&'static str; 2]) -> Option<(&'static str, bool)> {
    let there = |key: &str| desk.tree.get(node, key).is_some();
    if there(plus) {
        return Some((plus, true));
    }
    there(minus).then_some((*minus, false))
}

fn says_a_way(desk: &Desk<'_>, node: NodeId) -> bool {
    WAYS.iter().flatten().any(|key| desk.tree.get(node, key).is_some())
}
