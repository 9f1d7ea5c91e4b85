//! A tree with some entries written otherwise, to see what comes of it.

use crate::yaml::path::{Path, Step};
use crate::yaml::scan;
use crate::yaml::tree::{NodeId, NodeKind, Pair, Tree};

use super::Change;

/// The tree of a file with these changes. What is new stands where what holds it stands, so that every place is one of
/// the file. Nothing where a change belongs nowhere in the file.
#[must_use]
pub fn laid_over(tree: &Tree, changes: &[Change]) -> Option<Tree> {
    let mut new = tree.clone();
    for change in changes {
        match change {
            Change::Set { entry, to } => set(&mut new, entry, to)?,
            Change::Remove { entry } => {
                let (parent, Step::Key(key)) = entry.split_last()? else { return None };
                let (map, _) = parent.resolve(&new)?;
                new.take_away(map, key);
            }
        }
    }
    Some(new)
}

fn set(tree: &mut Tree, entry: &Path, to: &str) -> Option<()> {
    let (parent, last) = entry.split_last()?;
    let (holder, _) = parent.resolve(tree)?;
    let at = entry.resolve(tree).map_or(holder, |(node, _)| node);
    let span = tree.node(at)?.span;
    let (read, faults) = scan::read(tree.source, to);
    if !faults.is_empty() {
        return None;
    }
    let first = tree.nodes.len();
    let value = tree.graft(&read, read.root()?)?;
    for node in tree.nodes.iter_mut().skip(first) {
        node.span = span;
        if let NodeKind::Map(pairs) = &mut node.kind {
            pairs.iter_mut().for_each(|pair| pair.key_span = span);
        }
    }
    match last {
        Step::Key(key) => {
            let key_span = tree.get(holder, key).map_or(span, |pair| pair.key_span);
            tree.put(holder, Pair { key: key.clone(), key_span, value });
        }
        Step::Item(number) => put_item(tree, holder, *number, value)?,
    }
    Some(())
}

fn put_item(tree: &mut Tree, list: NodeId, number: usize, value: NodeId) -> Option<()> {
    let node = tree.nodes.get_mut(list.0 as usize)?;
    let NodeKind::List(items) = &mut node.kind else { return None };
    *items.get_mut(number)? = value;
    Some(())
}
