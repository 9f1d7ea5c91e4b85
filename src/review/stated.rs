//! What a design states, entry by entry: as it is written, and in one spelling.

use super::{DESIGN, Review};
use crate::base::number::Quantity;
use crate::findings::compare::account::Stated;
use crate::yaml::entry::{Meaning, Met, Stands};

/// Every entry of which something is said, in the order of the format; things with names before what is said of them.
#[must_use]
pub fn stated(review: &Review<'_>) -> Vec<Stated> {
    let met = review.design.entries();
    let next = met.iter().skip(1).map(|next| next.path.as_str()).chain([""]);
    met.iter().zip(next).filter_map(|(one, next)| said(one, next, review)).collect()
}

/// A variance names its thing in plain text, because it may be a thing of any kind.
fn is_thing_of_a_variance(met: &Met) -> bool {
    let path = met.path.as_str();
    path.starts_with("variances.") && path.ends_with(".for")
}

/// An excused value of a variance is plain text too; where it is a quantity, it means that.
fn in_one_way(met: &Met, means: &str) -> String {
    let path = met.path.as_str();
    let excused = path.starts_with("variances.") && path.contains(".excuses.");
    let quantity = if excused { Quantity::parse_any(means).ok() } else { None };
    quantity.map_or_else(|| means.to_owned(), |quantity| quantity.number.in_one_way())
}

/// Whether it is a thing of which entries of its own say what it is.
fn is_thing(met: &Met) -> bool {
    met.is_thing && met.stands == Stands::Known && met.means == Meaning::Parts
}

fn said(met: &Met, next: &str, review: &Review<'_>) -> Option<Stated> {
    let holds_more = || {
        let rest = next.strip_prefix(met.path.as_str());
        rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
    };
    let written = || review.sources.slice(met.at).split_whitespace().collect::<Vec<_>>().join(" ");
    let (says, means, is_name) = match (met.stands, &met.means) {
        (Stands::Missing, _) => return None,
        (Stands::Unknown, _) => ("unknown".to_owned(), "unknown".to_owned(), false),
        (Stands::None, _) => ("none".to_owned(), "none".to_owned(), false),
        (Stands::Unreadable, _) => (written(), format!("not readable: {}", written()), false),
        (Stands::Known, Meaning::Value(means)) => {
            (written(), in_one_way(met, means), is_thing_of_a_variance(met))
        }
        (Stands::Known, Meaning::Name(name)) => (written(), name.clone(), true),
        (Stands::Known, Meaning::Parts) if is_thing(met) => (String::new(), String::new(), false),
        // A section says what its entries say; an empty list says that it is empty.
        (Stands::Known, Meaning::Parts) if holds_more() => return None,
        (Stands::Known, Meaning::Parts) => ("nothing in it".to_owned(), "nothing in it".to_owned(), false),
    };
    let source = review.sources.get(met.at.source);
    Some(Stated {
        entry: met.path.to_string(),
        says,
        means,
        is_name,
        is_thing: is_thing(met),
        line: source.map_or(0, |source| source.line(met.at.start)),
        file: source.filter(|_| met.at.source != DESIGN).map(|source| source.name().to_owned()),
    })
}
