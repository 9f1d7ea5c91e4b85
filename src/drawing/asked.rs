//! What the books ask of the place of a discharge: lengths that their rules weigh against distances and heights. They
//! are read off the rules that were judged, so that an amended rule is drawn as amended.

use std::collections::BTreeSet;

use crate::base::number::{Comparison, Dimension, Number, Quantity};
use crate::base::truth::Truth;

use crate::facts::kinds::Kind;
use crate::facts::vocabulary;
use crate::judge::verdict::Verdict;
use crate::review::Review;
use crate::rulebook::expr::typed::{Expr, Node};

/// A length that a book asks for at least.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Asked {
    /// Of which kind of thing.
    pub(crate) kind: Kind,
    /// Which of its facts is weighed.
    pub(crate) fact: String,
    /// How much it takes.
    pub(crate) least: Quantity,
    /// The books that ask for as much, each with a word where it does not count.
    pub(crate) books: Vec<String>,
}

/// The facts that can be drawn.
const DRAWN: [(Kind, &str); 9] = [
    (Kind::Opening, "clearance"),
    (Kind::NeighbourOpening, "clearance"),
    (Kind::Intake, "clearance"),
    (Kind::Chimney, "clearance"),
    (Kind::WallAboveRoof, "across"),
    (Kind::Discharge, "above_nearest_ground"),
    (Kind::Discharge, "above_roof_edge"),
    (Kind::Discharge, "above_highest_eave"),
    (Kind::Discharge, "above_roof_surface"),
];

/// The lengths that the judged rules ask for, the greatest first.
pub(crate) fn asked(review: &Review<'_>) -> Vec<Asked> {
    let judged: BTreeSet<(usize, usize)> = review
        .findings
        .iter()
        .flat_map(|finding| &finding.clauses)
        .filter(|clause| clause.verdict != Verdict::NotApplicable)
        .map(|clause| (clause.book, clause.rule))
        .collect();
    let mut found: Vec<Asked> = Vec::new();
    for (book, rule) in judged {
        let Some(used) = review.used.get(book) else { continue };
        let Some(rule) = used.book.rules.get(rule) else { continue };
        let said = match used.standing.counts() {
            true => used.book.name.clone(),
            false => format!("{} (for information)", used.book.name),
        };
        rule.requires.walk(&mut |expr| {
            let Some((kind, fact, least)) = length_in(expr, &rule.limits) else { return };
            let same =
                |one: &&mut Asked| one.kind == kind && one.fact == fact && one.least.number == least.number;
            match found.iter_mut().find(same) {
                Some(one) if one.books.contains(&said) => {}
                Some(one) => one.books.push(said.clone()),
                None => found.push(Asked { kind, fact, least, books: vec![said.clone()] }),
            }
        });
    }
    let high = |one: &Asked| one.least.number.high();
    found.sort_by(|a, b| high(b).cmp(&high(a)).then(a.kind.cmp(&b.kind)).then(a.fact.cmp(&b.fact)));
    found
}

/// The length that an expression asks of something that can be drawn, if it does.
fn length_in(expr: &Expr, limits: &[crate::rulebook::checked::Limit]) -> Option<(Kind, String, Quantity)> {
    let Node::Compare(how, left, right) = &expr.node else { return None };
    let (fact, limit, how) = match (&left.node, &right.node) {
        (Node::Fact(_, fact), Node::Limit(limit)) => (fact, limit, *how),
        (Node::Limit(limit), Node::Fact(_, fact)) => (fact, limit, how.mirrored()),
        _ => return None,
    };
    if !matches!(how, Comparison::AtLeast | Comparison::More) {
        return None;
    }
    let shape = vocabulary().fact(*fact)?;
    let (kind, _) = DRAWN.iter().find(|(kind, name)| kind.id() == shape.of && *name == shape.name)?;
    let limit = limits.get(usize::from(limit.0))?;
    let nought = Number::whole(0);
    let drawn = limit.value.dimension == Dimension::LENGTH
        && limit.value.number.compare(Comparison::More, &nought) == Truth::True;
    drawn.then(|| (*kind, shape.name.clone(), limit.value.clone()))
}
