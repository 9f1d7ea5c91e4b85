//! A design as it is drawn: where one thing has to be taken for granted so that anything can be drawn at all, it is
//! laid over the design like a field note, and said.

use std::sync::Arc;

use super::run::read_design;
use super::{Input, Review};
use crate::base::text::Sources;
use crate::design::Design;

/// The name of a text that is laid over a design for a drawing.
const TAKEN: &str = "taken for granted for the drawing";

/// A design as it is drawn.
#[derive(Clone, Debug)]
pub struct AsDrawn {
    /// The design.
    pub design: Arc<Design>,
    /// The areas whose south-west corner is taken to lie at the origin, because nobody said where it lies.
    pub at_origin: Vec<String>,
}

/// The design of a review as it is drawn.
#[must_use]
pub fn as_drawn(review: &Review<'_>, input: &Input<'_>) -> AsDrawn {
    let design = Arc::clone(&review.design);
    let unplaced: Vec<String> = design
        .foundation
        .areas
        .things()
        .filter(|(_, area)| area.outline.is_missing() && area.corner.is_missing() && !area.size.is_missing())
        .map(|(name, _)| name.to_owned())
        .collect();
    let [only] = unplaced.as_slice() else { return AsDrawn { design, at_origin: Vec::new() } };
    // Written as JSON, which is YAML, so that no name can say anything else than a name.
    let origin = ["0 ft", "0 ft"];
    let laid = serde_json::json!({
        "undercroft": 1,
        "foundation": {"areas": {only.as_str(): {"corner": origin}}},
    });
    let laid = laid.to_string();
    let mut over = input.clone();
    over.field_notes.push((TAKEN, laid.as_bytes()));
    let mut sources = Sources::new();
    sources.add("", "");
    AsDrawn { design: Arc::new(read_design(&mut sources, &over).design), at_origin: unplaced }
}
