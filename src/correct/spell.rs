//! How a value is written in a design: as what stands nearest to it is written.

use crate::base::number::{Dimension, Number, Quantity, Style};
use crate::yaml::path::{Path, Step};
use crate::yaml::tree::{NodeId, NodeKind, Tree};

/// A number as it can be built, in the style of the entry at this path, else of the nearest entry of its kind: the
/// nearest value first. Nothing for one that is not known to the last digit that matters.
pub(super) fn number(tree: &Tree, path: &Path, number: &Number, dimension: Dimension) -> Vec<String> {
    style(tree, path, dimension).to_build(number, dimension)
}

/// The style of the entry, or of the one nearest to it that holds a number of this kind.
fn style(tree: &Tree, path: &Path, dimension: Dimension) -> Style {
    let mut best: Option<(usize, Style)> = None;
    walk(tree, NodeId(0), &mut Vec::new(), &mut |steps, text| {
        let Some(quantity) = Quantity::of_kind(text, dimension) else { return };
        let common = steps.iter().zip(&path.steps).take_while(|(a, b)| a == b).count();
        let own = common == path.steps.len() && steps.len() == common;
        let same_key = steps.last() == path.steps.last();
        let near = if own { usize::MAX } else { 2 * common + usize::from(same_key) * 3 };
        if best.as_ref().is_none_or(|(known, _)| near > *known) {
            best = Some((near, quantity.style));
        }
    });
    best.map_or_else(|| Style::default_for(dimension), |(_, style)| style)
}

/// Shows every single value with the steps that lead to it.
fn walk(tree: &Tree, node: NodeId, steps: &mut Vec<Step>, see: &mut impl FnMut(&[Step], &str)) {
    match tree.node(node).map(|node| &node.kind) {
        Some(NodeKind::Scalar { text, .. }) => see(steps, text),
        Some(NodeKind::Map(pairs)) => {
            for pair in pairs {
                steps.push(Step::Key(pair.key.clone()));
                walk(tree, pair.value, steps, see);
                steps.pop();
            }
        }
        Some(NodeKind::List(items)) => {
            for (at, item) in items.iter().enumerate() {
                steps.push(Step::Item(at));
                walk(tree, *item, steps, see);
                steps.pop();
            }
        }
        _ => {}
    }
}
