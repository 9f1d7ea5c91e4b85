//! A design as it is drawn: where one thing has to be taken for granted so that anything can be drawn at all, it is
//! laid over the design like a field note, and said.

use std::sync::Arc;

use super::run::read_design;
use super::{Input, Review};
use crate::base::number::Ratio;
use crate::base::text::Sources;
use crate::calc::geometry::{Outline, PlanPoint};
use crate::design::Design;
use crate::facts::ask::Ask;
use crate::facts::drawn;
use crate::facts::kinds::Kind;

/// The name of a text that is laid over a design for a drawing.
const TAKEN: &str = "taken for granted for the drawing";

/// A design as it is drawn.
#[derive(Clone, Debug)]
pub struct AsDrawn {
    /// The design.
    pub design: Arc<Design>,
    /// The area whose south-west corner is taken to lie at the origin, because nobody said where it lies.
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
    let taken = read_design(&mut sources, &over).design;
    // Where it would lie over another one, it does not lie there.
    if any_overlap(&taken) {
        return AsDrawn { design, at_origin: Vec::new() };
    }
    AsDrawn { design: Arc::new(taken), at_origin: unplaced }
}

/// Whether the boxes round two areas have more than an edge in common.
fn any_overlap(design: &Design) -> bool {
    let mut ask = Ask::new(design);
    let areas = ask.things().all(Kind::Area);
    let outlines: Vec<Outline> =
        areas.into_iter().filter_map(|it| drawn::outline(&mut ask, it).value()).collect();
    let reach = |outline: &Outline, of: fn(&PlanPoint) -> &Ratio| {
        let all = || outline.corners().iter().map(of);
        all().min().cloned().zip(all().max().cloned())
    };
    let meet = |one: &Outline, other: &Outline, of: fn(&PlanPoint) -> &Ratio| {
        reach(one, of).zip(reach(other, of)).is_some_and(|((a, b), (c, d))| a < d && c < b)
    };
    outlines.iter().enumerate().any(|(at, one)| {
        outlines
            .iter()
            .skip(at + 1)
            .any(|other| meet(one, other, |point| &point.x) && meet(one, other, |point| &point.y))
    })
}
