//! Lengths as they stand in a file, and written anew.

use crate::base::number::quantity::{Style, show};
use crate::base::number::{Dimension, Number, Quantity, Ratio, Rounding};
use crate::yaml::path::Path;
use crate::yaml::tree::{NodeId, NodeKind, Tree};

use super::Stuck;

/// A length that stands in a file.
#[derive(Clone, Debug)]
pub(super) struct Stated {
    pub(super) number: Ratio,
    pub(super) within: Option<Ratio>,
    pub(super) style: Style,
}

impl Stated {
    /// From where to where it lies.
    pub(super) fn bounds(&self) -> (Ratio, Ratio) {
        let off = self.within.clone().unwrap_or_default();
        (&self.number - &off, &self.number + &off)
    }
}

/// Words that say that a value was taken on site.
const TAKEN: [&str; 4] = ["by", "on", "how", "verified_by"];

fn of_text(tree: &Tree, node: NodeId) -> Option<Quantity> {
    Quantity::of_kind(tree.text(node)?, Dimension::LENGTH)
}

/// The length that stands at a node; nothing where none is stated. What was measured is not written otherwise.
pub(super) fn stated(tree: &Tree, node: NodeId, path: &Path) -> Result<Option<Stated>, Stuck> {
    if tree.pairs(node).iter().any(|pair| TAKEN.contains(&pair.key.as_str())) {
        return Err(Stuck::Measured(path.into()));
    }
    read(tree, node, path)
}

/// The length that stands at a node, measured or not; nothing where none is stated.
pub(super) fn read(tree: &Tree, node: NodeId, path: &Path) -> Result<Option<Stated>, Stuck> {
    let unreadable = || Stuck::Unreadable(path.into());
    let exact = |quantity: Quantity| match quantity.number.as_exact() {
        Some(number) => Ok((number.clone(), quantity.style)),
        None => Err(unreadable()),
    };
    match tree.node(node).map(|node| &node.kind) {
        Some(NodeKind::Nothing) => Ok(None),
        Some(NodeKind::Scalar { text, .. }) if matches!(text.as_str(), "unknown" | "none") => Ok(None),
        Some(NodeKind::Scalar { .. }) => {
            let (number, style) = exact(of_text(tree, node).ok_or_else(unreadable)?)?;
            Ok(Some(Stated { number, within: None, style }))
        }
        Some(NodeKind::Map(_)) => {
            let value = tree.get(node, "value").ok_or_else(unreadable)?.value;
            let (number, style) = exact(of_text(tree, value).ok_or_else(unreadable)?)?;
            let within = match tree.get(node, "within") {
                Some(pair) => Some(exact(of_text(tree, pair.value).ok_or_else(unreadable)?)?.0),
                None => None,
            };
            Ok(Some(Stated { number, within, style }))
        }
        _ => Err(unreadable()),
    }
}

fn inch() -> Ratio {
    Ratio::new(254, 10_000).unwrap_or_default()
}

/// So many parts of an inch.
pub(super) fn parts_of_an_inch(parts: i64) -> Ratio {
    inch().checked_div(&Ratio::from(parts)).unwrap_or_default()
}

/// So many inches.
pub(super) fn inches(count: i64) -> Ratio {
    &inch() * &Ratio::from(count)
}

/// A length in words that stand in a longer text.
pub(super) fn of_words(text: &str) -> Option<Stated> {
    let quantity = Quantity::of_kind(text.trim(), Dimension::LENGTH)?;
    Some(Stated { number: quantity.number.as_exact()?.clone(), within: None, style: quantity.style })
}

/// Whether a length is written in metres and not in feet and inches.
#[must_use]
pub fn is_metric(style: &Style) -> bool {
    let shown = show(&Number::exact(Ratio::from(1)), Dimension::LENGTH, style);
    !shown.contains("ft") && !shown.contains("in") && !shown.contains(['\'', '"', '′', '″', 'y'])
}

/// How lengths of a file are written: as the first one is, in metres or in feet and inches.
#[must_use]
pub fn style(tree: &Tree) -> Style {
    let first = (0..tree.nodes.len()).find_map(|at| {
        let text = tree.text(NodeId(u32::try_from(at).ok()?))?;
        Quantity::of_kind(text, Dimension::LENGTH).map(|quantity| quantity.style)
    });
    match first.filter(is_metric) {
        Some(_) => Style::metric_for(Dimension::LENGTH),
        None => Style::default_for(Dimension::LENGTH),
    }
}

/// A step that can be built: an eighth of an inch, or 5 mm where the file is written in metres.
#[must_use]
pub fn step(tree: &Tree) -> Ratio {
    if is_metric(&style(tree)) { Ratio::new(5, 1_000).unwrap_or_default() } else { parts_of_an_inch(8) }
}

/// A length as a person would write it beside another; nothing where no writing of it holds just that number.
#[must_use]
pub fn length_text(number: &Ratio, like: &Style) -> Option<String> {
    let usual = Style::default_for(Dimension::LENGTH);
    let metric = Style::metric_for(Dimension::LENGTH);
    let styles = if is_metric(like) { [like, &metric, &usual] } else { [&usual, like, &metric] };
    let whole = Number::exact(number.clone());
    styles.into_iter().find_map(|style| {
        let text = show(&whole, Dimension::LENGTH, style);
        let read = Quantity::of_kind(&text, Dimension::LENGTH)?;
        (read.number == whole).then_some(text)
    })
}

/// A length, with its tolerance where it has one.
pub(super) fn written(number: &Ratio, within: Option<&Ratio>, like: &Style) -> Option<String> {
    let value = length_text(number, like)?;
    match within.filter(|within| !within.is_zero()) {
        Some(within) => Some(format!("{{value: {value}, within: {}}}", length_text(within, like)?)),
        None => Some(value),
    }
}

/// A length known to lie between two others, written so that it surely does.
pub(super) fn written_between(low: &Ratio, high: &Ratio, like: &Style) -> Option<String> {
    let step = if is_metric(like) { Ratio::new(1, 1_000).unwrap_or_default() } else { parts_of_an_inch(16) };
    let two = Ratio::from(2);
    let low = low.clone().max(Ratio::ZERO).round_to(&step, Rounding::Down)?;
    let high = high.clone().max(Ratio::ZERO).round_to(&step, Rounding::Up)?;
    let middle = (&low + &high).checked_div(&two)?;
    let off = (&high - &low).checked_div(&two)?;
    written(&middle, Some(&off), like)
}
