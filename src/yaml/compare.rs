//! Whether two values are the same, in one tree or in two.

use super::path::Step;
use super::tree::{NodeId, NodeKind, Style, Tree};

/// Whether two values are the same, however they are written; a word in quotes and one without are not.
#[must_use]
pub fn same(a_tree: &Tree, a: NodeId, b_tree: &Tree, b: NodeId) -> bool {
    same_but(a_tree, a, b_tree, b, &[Step::Item(usize::MAX)], false)
}

/// Whether two values are the same but for what stands at the end of these steps, or has to stand on the way.
pub(super) fn same_but(
    a_tree: &Tree,
    a: NodeId,
    b_tree: &Tree,
    b: NodeId,
    but: &[Step],
    removed: bool,
) -> bool {
    let (Some(left), Some(right)) = (a_tree.node(a), b_tree.node(b)) else { return false };
    let Some((first, rest)) = but.split_first() else { return true };
    let never = &[Step::Item(usize::MAX)][..];
    match (&left.kind, &right.kind) {
        (NodeKind::Nothing, NodeKind::Nothing) | (NodeKind::Twice, NodeKind::Twice) => true,
        (NodeKind::Nothing, NodeKind::Map(_) | NodeKind::List(_)) => but != never,
        (NodeKind::Scalar { text: a, style: a_style }, NodeKind::Scalar { text: b, style: b_style }) => {
            a == b && (*a_style == Style::Plain) == (*b_style == Style::Plain)
        }
        (NodeKind::List(a_items), NodeKind::List(b_items)) => {
            let place = match first {
                Step::Item(number) => *number,
                Step::Key(_) => usize::MAX,
            };
            let gone = removed && rest.is_empty() && place < a_items.len();
            let mut b_items = b_items.iter();
            for (at, item) in a_items.iter().enumerate() {
                if gone && at == place {
                    continue;
                }
                let Some(other) = b_items.next() else { return false };
                let but = if at == place { rest } else { never };
                if !same_but(a_tree, *item, b_tree, *other, but, removed) {
                    return false;
                }
            }
            b_items.len() == 0 || (place == a_items.len() && b_items.len() == 1)
        }
        (NodeKind::Map(a_pairs), NodeKind::Map(b_pairs)) => {
            let on_way = |key: &str| matches!(first, Step::Key(step) if step == key);
            let known: std::collections::HashMap<&str, NodeId> =
                b_pairs.iter().map(|pair| (pair.key.as_str(), pair.value)).collect();
            let own: std::collections::HashSet<&str> = a_pairs.iter().map(|pair| pair.key.as_str()).collect();
            let kept = a_pairs.iter().all(|pair| match known.get(pair.key.as_str()) {
                Some(other) => {
                    let but = if on_way(&pair.key) { rest } else { never };
                    same_but(a_tree, pair.value, b_tree, *other, but, removed)
                }
                None => removed && rest.is_empty() && on_way(&pair.key),
            });
            kept && b_pairs.iter().all(|pair| own.contains(pair.key.as_str()) || on_way(&pair.key))
        }
        _ => false,
    }
}
