//! Handles: by which entries a fact can be brought to a value that is wanted. A fact read straight from one entry has
//! that entry; others have a function of their own, in the file of their kind.

use crate::base::value::{EntryPath, Value};
use crate::base::vocabulary::{FactId, Thing};
use crate::yaml::path::Path;
use crate::yaml::tree::Tree;

use super::ask::Ask;
use super::catalogue::{self, Fact, Get};

mod discharge;
mod lengths;
mod outlet;
mod pipes;
mod point;
mod reach;
mod shift;
mod tapes;
mod tried;

pub use discharge::discharge;
pub use lengths::{is_metric, length_text, step, style};
pub use outlet::{Reach, outlet};
pub use point::suction_point;
pub use reach::{Along, along};
pub use shift::{Change, Shift, Stuck};
pub use tried::laid_over;

/// Changes that together bring a fact to the value that is wanted: entries that are there, each with its new value.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Move {
    /// The entries, each with the value it gets.
    pub entries: Vec<(Path, Value)>,
    /// What is written so and not otherwise, where something is moved and all that tells of its place moves with it.
    pub written: Vec<Change>,
}

/// Whether it is known by which entries a fact can be moved.
#[must_use]
pub fn has(fact: &Fact) -> bool {
    is_straight(fact) || reach::is_height(fact)
}

/// The ways to bring a fact of a thing to a value, the smallest change first; none where it is not known how. Nothing
/// is promised of them: whoever offers one judges the design with it first.
#[must_use]
pub fn moves(ask: &mut Ask<'_>, tree: &Tree, fact: FactId, thing: Thing, wanted: &Value) -> Vec<Move> {
    let Some(known) = catalogue::numbered(fact) else { return Vec::new() };
    if is_straight(known) {
        return straight(ask, fact, thing, wanted);
    }
    if reach::is_height(known) {
        return reach::by_height(ask, tree, (fact, known), thing, wanted);
    }
    Vec::new()
}

fn is_straight(fact: &Fact) -> bool {
    let single = matches!(fact.get, Get::Number(..) | Get::Truth(_) | Get::Word(..) | Get::One(..));
    single && fact.formula.is_empty() && fact.entries().len() == 1
}

/// The one entry that a fact is read from.
fn straight(ask: &mut Ask<'_>, fact: FactId, thing: Thing, wanted: &Value) -> Vec<Move> {
    let looked: Vec<EntryPath> = ask.directly(fact, thing).1.into_iter().map(|stated| stated.entry).collect();
    match looked.as_slice() {
        [one] => Path::parse(one.as_str())
            .map(|path| Move { entries: vec![(path, wanted.clone())], written: Vec::new() })
            .into_iter()
            .collect(),
        _ => Vec::new(),
    }
}
