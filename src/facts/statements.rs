//! Statements of one number: what they come to together, and which of them contradict each other.
//!
//! Whoever works a number out from several places of the file makes a [`Statement`] of each and has them settled
//! here. What cannot all be true is kept as a [`Disagreement`], with all that each side rests on, so that it can be
//! told once and in full.

use std::sync::LazyLock;

use crate::base::number::quantity::Style;
use crate::base::number::{Comparison, Dimension, Number, Ratio};
use crate::base::text::{SourceId, Span};
use crate::base::truth::Truth;
use crate::base::value::{Answer, EntryPath, Missing, Reason, unite};
use crate::yaml::entry::Entry;
use crate::yaml::measure::{Measure, Wanted};

use super::ask::Ask;
use super::join::agree_numbers;

/// A number of the file on which a statement rests.
#[derive(Clone, Debug)]
pub(super) struct Said<'d> {
    /// Where it stands.
    pub(super) at: Span,
    /// Its path.
    pub(super) entry: EntryPath,
    /// The way it was written, where it is a single quantity.
    pub(super) style: Option<&'d Style>,
    /// By how much what is made of it can be off, because it is written only so closely.
    pub(super) slack: Ratio,
}

/// One statement of a number.
#[derive(Clone, Debug)]
pub(super) struct Statement<'d> {
    /// What it comes to.
    pub(super) value: Answer<Number>,
    /// The entry that makes it.
    pub(super) want: Missing,
    /// The numbers it is made of, each once, in the order they stand.
    pub(super) by: Vec<Said<'d>>,
    /// By how much it can be off, where that is not the sum over the numbers it is made of.
    pub(super) own_slack: Option<Ratio>,
}

/// Statements of one number that cannot all be true.
#[derive(Clone, Debug)]
pub(super) struct Disagreement<'d> {
    /// What the number is, as a phrase: "the height of the discharge".
    pub(super) what: String,
    /// What it is a number of.
    pub(super) dimension: Dimension,
    /// The statements, each with what it comes to.
    pub(super) sides: Vec<(Number, Statement<'d>)>,
}

impl Disagreement<'_> {
    /// The entries that make the statements, in order, each once.
    pub(super) fn entries(&self) -> Vec<EntryPath> {
        let mut entries: Vec<EntryPath> =
            self.sides.iter().map(|(_, side)| side.want.entry.clone()).collect();
        entries.sort();
        entries.dedup();
        entries
    }
}

impl Statement<'_> {
    /// The same, off by no more than this for the way it is written.
    pub(super) fn off_by(mut self, slack: Ratio) -> Self {
        self.own_slack = Some(slack);
        self
    }

    /// The same, off by so much more.
    pub(super) fn off_by_more(self, slack: &Ratio) -> Self {
        let all = &self.slack() + slack;
        self.off_by(all)
    }

    /// By how much it can be off, for how closely it is written.
    pub(super) fn slack(&self) -> Ratio {
        self.own_slack.clone().unwrap_or_else(|| self.by.iter().map(|said| said.slack.clone()).sum())
    }

    /// How far this statement and another may lie apart for no other reason than that people write to a fraction:
    /// half the last fraction of each number in them. What both rest on is off the same way in both.
    fn slack_with(&self, other: &Statement<'_>) -> Ratio {
        let alone = |one: &Statement<'_>, other: &Statement<'_>| -> Ratio {
            if let Some(own) = &one.own_slack {
                return own.clone();
            }
            let shared = |said: &Said<'_>| other.by.iter().any(|of| of.entry == said.entry);
            one.by.iter().filter(|said| !shared(said)).map(|said| said.slack.clone()).sum()
        };
        &alone(self, other) + &alone(other, self)
    }
}

/// Half of the last fraction that a measure is written to. Whole feet are written to the inch, for that is how they
/// are taped; where a tolerance is stated, that holds instead and is in the number itself.
pub(super) fn half_step<W: Wanted>(entry: &Entry<Measure<W>>) -> Ratio {
    match entry.known() {
        Some(measure) if measure.within.is_none() => half_of(measure.quantity.step()),
        _ => Ratio::ZERO,
    }
}

/// Half of a step, whole feet taken as written to the inch.
pub(super) fn half_of(step: Option<&Ratio>) -> Ratio {
    static FOOT: LazyLock<Ratio> = LazyLock::new(|| Ratio::new(3_048, 10_000).unwrap_or_default());
    static INCH: LazyLock<Ratio> = LazyLock::new(|| Ratio::new(254, 10_000).unwrap_or_default());
    match step {
        Some(step) if *step == *FOOT => INCH.half(),
        Some(step) => step.half(),
        None => Ratio::ZERO,
    }
}

/// Several statements of one number, or what is missing when there is none. Those that go together come to the
/// closest of them; where two contradict each other, the number lies anywhere from the least to the greatest.
pub(super) fn settle<'d>(
    ask: &mut Ask<'d>,
    what: impl FnOnce(&Ask<'d>) -> String,
    dimension: Dimension,
    found: Vec<Statement<'d>>,
    none: impl FnOnce() -> Missing,
) -> Answer<Number> {
    let found = as_found_on_site(ask, found);
    let known: Vec<(Number, Vec<Missing>, &Statement<'d>)> = found
        .iter()
        .filter_map(|one| match &one.value {
            Answer::Known { value, doubts } => Some((value.clone(), doubts.clone(), one)),
            Answer::Unknown(_) => None,
        })
        .collect();
    let contradict = |(at, (a, _, one)): (usize, &(Number, Vec<Missing>, &Statement<'d>))| {
        known.iter().skip(at + 1).any(|(b, _, other)| differ(a, b, &one.slack_with(other)))
    };
    if known.iter().enumerate().any(contradict) {
        let design = ask.design().here.at.source;
        let built = |one: &Statement<'_>| is_built(one, design);
        // What was found on site counts in place of what the drawing said. That they differ is told as a difference.
        if known.iter().any(|(.., one)| built(one)) && known.iter().any(|(.., one)| !built(one)) {
            drop(known);
            let found = found.into_iter().filter(built).collect();
            return settle(ask, what, dimension, found, none);
        }
        let value = hull_of(known.iter().map(|(number, ..)| number));
        let against =
            known.iter().map(|(_, _, one)| Missing { reason: Reason::Contradiction, ..one.want.clone() });
        let doubts = known.iter().fold(against.collect(), |all, (_, doubts, _)| unite(all, doubts.clone()));
        let sides = known.iter().map(|(number, _, one)| (number.clone(), (*one).clone())).collect();
        let what = what(ask);
        ask.disagree(Disagreement { what, dimension, sides });
        return Answer::Known { value, doubts: unite(doubts, Vec::new()) };
    }
    // What is in doubt because of a statement is no second witness for that statement.
    let leans_on = |(_, doubts, _): &(Number, Vec<Missing>, &Statement<'d>), other: &Statement<'d>| {
        doubts.iter().filter(|doubt| doubt.reason == Reason::Contradiction).any(|doubt| {
            other.want.entry == doubt.entry || other.by.iter().any(|said| said.entry == doubt.entry)
        })
    };
    let circular = known.iter().enumerate().any(|(at, one)| {
        known.iter().enumerate().any(|(beside, (.., other))| at != beside && leans_on(one, other))
    });
    if circular {
        let value = hull_of(known.iter().map(|(number, ..)| number));
        let doubts = known.iter().fold(Vec::new(), |all, (_, doubts, _)| unite(all, doubts.clone()));
        return Answer::Known { value, doubts };
    }
    drop(known);
    let mut all = found.into_iter();
    let Some(mut last) = all.next() else { return Answer::missing(none()) };
    let mut so_far = last.value.clone();
    for one in all {
        so_far = agree_numbers(so_far, one.value.clone(), &[last.want.clone(), one.want.clone()]);
        last = one;
    }
    so_far
}

/// Whether a number in a statement comes from field notes.
fn is_built(one: &Statement<'_>, design: SourceId) -> bool {
    one.by.iter().any(|said| said.at.source != design)
}

/// Statements of one number, without those that only the drawing makes, where field notes put another value in place
/// of one that told the same number: what was drawn beside it was true of what was not built. They go even where what
/// was found tells less than they did.
fn as_found_on_site<'d>(ask: &Ask<'d>, found: Vec<Statement<'d>>) -> Vec<Statement<'d>> {
    let design = ask.design();
    if design.overruled.is_empty() || found.len() < 2 {
        return found;
    }
    let tells = |one: &Statement<'_>| matches!(one.value, Answer::Known { .. });
    let overrules = |one: &Statement<'_>| {
        let by_itself = design.is_overruled(&one.want.entry);
        by_itself || tells(one) && one.by.iter().any(|said| design.is_overruled(&said.entry))
    };
    if !found.iter().any(overrules) {
        return found;
    }
    found.into_iter().filter(|one| overrules(one) || is_built(one, design.here.at.source)).collect()
}

/// From the least to the greatest of some numbers.
fn hull_of<'n>(mut numbers: impl Iterator<Item = &'n Number>) -> Number {
    let first = numbers.next().cloned().unwrap_or_else(|| Number::whole(0));
    numbers.fold(first, |hull, next| hull.hull(next))
}

/// Whether the number of one statement is surely less than that of another, by more than people round.
pub(super) fn surely_less(one: &Statement<'_>, other: &Statement<'_>) -> bool {
    let (Answer::Known { value: a, .. }, Answer::Known { value: b, .. }) = (&one.value, &other.value) else {
        return false;
    };
    &a.high() + &one.slack_with(other) < b.low()
}

/// Whether two numbers surely lie farther apart than so much.
fn differ(a: &Number, b: &Number, slack: &Ratio) -> bool {
    (a - b).abs().compare(Comparison::More, &Number::exact(slack.clone())) == Truth::True
}
