//! How a value is written in a design: as what stands nearest to it is written.

use crate::base::number::{Dimension, Number, Quantity, Style};
use crate::yaml::path::{Path, Step};
use crate::yaml::tree::{NodeId, NodeKind, Tree};

/// A number as it can be built, in the style of the entry at this path, else of the nearest entry of its kind: the
/// nearest value first. Nothing for one that is not known to the last digit that matters.
pub(super) fn number(tree: &Tree, path: &Path, number: &Number, dimension: Dimension) -> Vec<String> {
    let own = path.resolve(tree).and_then(|(node, _)| tree.text(node)).map(str::trim);
    // Words behind the number, as in `12 in everywhere`, stay; another number, as in `16 in x 24 in`, is none of it.
    if let Some((quantity, length)) = own.and_then(Quantity::longest_prefix)
        && quantity.dimension == dimension
        && let Some(words) = own
            .and_then(|own| own.get(length..))
            .filter(|words| words.starts_with(' ') && !words.contains(|c: char| c.is_ascii_digit()))
    {
        let texts = quantity.style.to_build(number, dimension);
        return texts.into_iter().map(|text| format!("{text}{words}")).collect();
    }
    style(tree, path, number, dimension).to_build(number, dimension)
}

/// By how much a number may differ from another and still be of its sort: a sheet is not written like a wall.
const OF_A_SORT: f64 = 50.0;

/// The style of the entry, or of the one nearest to it that holds a number of this kind.
fn style(tree: &Tree, path: &Path, number: &Number, dimension: Dimension) -> Style {
    let size = number.low().to_f64().abs();
    let mut best: Option<(usize, Style)> = None;
    walk(tree, NodeId(0), &mut Vec::new(), &mut |steps, text| {
        let Some(quantity) = Quantity::of_kind(text, dimension) else { return };
        let common = steps.iter().zip(&path.steps).take_while(|(a, b)| a == b).count();
        let own = common == path.steps.len() && steps.len() == common;
        let same_key = steps.last() == path.steps.last();
        let other = quantity.number.low().to_f64().abs();
        let of_a_sort = other <= size * OF_A_SORT && size <= other * OF_A_SORT;
        let near = match (own, of_a_sort) {
            (true, _) => usize::MAX,
            (false, true) => 2 * common + usize::from(same_key) * 3 + 1,
            (false, false) => 0,
        };
        if best.as_ref().is_none_or(|(known, _)| near > *known) {
            best = Some((near, quantity.style));
        }
    });
    best.filter(|(near, _)| *near > 0).map_or_else(|| Style::default_for(dimension), |(_, style)| style)
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
