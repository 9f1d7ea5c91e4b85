//! Moving a suction point: where it is, and the pipe that leads to it.

use crate::yaml::path::Path;
use crate::yaml::tree::{NodeKind, Tree};

use super::discharge::Desk;
use super::pipes::Pipes;
use super::{Change, Shift, Stuck};

/// What has to be written for a suction point of a system to stand elsewhere under the same floor.
///
/// # Errors
/// What stands in the way of telling the move by other numbers alone.
pub fn suction_point(tree: &Tree, system: &str, point: &str, by: &Shift) -> Result<Vec<Change>, Stuck> {
    let own = Path::root().key("systems").key(system);
    let path = own.key("suction_points").key(point);
    let not_there = || Stuck::NotStated((&path).into());
    let (node, _) = path.resolve(tree).ok_or_else(not_there)?;
    let NodeKind::Map(_) = tree.node(node).ok_or_else(not_there)?.kind else { return Err(not_there()) };
    // Where a sump is, there the point is that draws through its lid.
    if tree.get(node, "sump").is_some() {
        return Err(Stuck::Pipe((&path.key("sump")).into()));
    }
    let mut desk = Desk { tree, by, facing: None, alone: false, measured: false, changes: Vec::new() };
    if let Some(pair) = tree.get(node, "at") {
        desk.place(pair.value, &path.key("at"))?;
    }
    desk.off_walls(node, &path)?;
    if let Some(pipes) = Pipes::of(&desk, &own) {
        pipes.follow(&mut desk, point)?;
    }
    if desk.changes.is_empty() && !by.is_nothing() { Err(not_there()) } else { Ok(desk.changes) }
}
