//! What is left of a rule once everything known has been worked in: a formula over what is not known.
//!
//! Everything in it is finite, so that it can be tried out: which of the open questions have to be
//! answered so that, whatever the answers are, the rule comes out one way or the other.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::number::{Comparison, Number, Ratio};
use crate::base::truth::Truth;
use crate::base::value::Missing;
use crate::base::vocabulary::{FactId, Thing, WordId};
use crate::rulebook::expr::typed::Expr;

use super::amount::Amount;

/// An open question, by its place among those of one formula.
pub type QuestionId = usize;

/// Beyond this many open questions no list is shortened.
const MOST_QUESTIONS: usize = 10;

/// Beyond this many combinations of answers no list is shortened.
const MOST_COMBINATIONS: usize = 4096;

/// More things than any rule counts.
const MANY: usize = 1_000_000_000;

/// What makes two open questions the same one.
#[derive(Clone, PartialEq, Debug)]
pub enum Subject {
    /// A fact of a thing.
    Fact(FactId, Thing),
    /// What an expression comes to, its variables replaced by what they stand for.
    Asked(Expr),
    /// Whether a list holds other things than those that are known.
    Others(Expr),
}

/// An open question: something that is not known, and the entries that would tell.
#[derive(Clone, PartialEq, Debug)]
pub struct Question {
    /// What it is about.
    pub subject: Subject,
    /// The entries that would tell; never empty.
    pub missing: Vec<Missing>,
    /// For a number that is known within bounds: the bounds.
    pub bounds: (Option<Ratio>, Option<Ratio>),
    /// For a word: how many there are to choose from.
    pub words: usize,
}

/// What is asked of the answer to an open question.
#[derive(Clone, PartialEq, Debug)]
pub enum Test {
    /// That it holds.
    Holds,
    /// That it is one of these words.
    Words(BTreeSet<WordId>),
    /// That the number stands so to this one.
    Number(Comparison, Ratio),
}

/// What is left of an expression.
#[derive(Clone, PartialEq, Debug)]
pub enum Formula {
    /// It is known.
    Known(bool),
    /// It is what a test of an open question comes to.
    Open(QuestionId, Test),
    /// It is what cannot be told whatever is answered, though these entries bear on it.
    Never(QuestionId),
    /// The contrary.
    Not(Box<Formula>),
    /// All of them.
    All(Vec<Formula>),
    /// Any of them.
    Any(Vec<Formula>),
    /// How many of them hold, compared with a number. With them may come others that nobody has listed: how
    /// many is an open question, and what is left for one of them stands beside it.
    Tally(Vec<Formula>, Option<(QuestionId, Box<Formula>)>, Comparison, Ratio),
}

/// An answer to an open question.
#[derive(Clone, PartialEq, Debug)]
enum Answered {
    Holds(bool),
    /// So many things more than are listed.
    More(usize),
    /// A word, or one that no test speaks of.
    Word(Option<WordId>),
    Number(Ratio),
}

impl Formula {
    /// What it comes to when some questions are answered.
    fn truth(&self, answers: &[Option<&Answered>]) -> Truth {
        match self {
            Formula::Known(holds) => Truth::from(*holds),
            Formula::Never(_) => Truth::Unknown,
            Formula::Open(question, test) => match answers.get(*question).copied().flatten() {
                Some(answer) => Truth::from(test.holds(answer)),
                None => Truth::Unknown,
            },
            Formula::Not(inner) => !inner.truth(answers),
            Formula::All(parts) => {
                parts.iter().fold(Truth::True, |so_far, part| so_far.and(part.truth(answers)))
            }
            Formula::Any(parts) => {
                parts.iter().fold(Truth::False, |so_far, part| so_far.or(part.truth(answers)))
            }
            Formula::Tally(parts, others, how, limit) => {
                let (mut low, mut high) = (0, Some(0));
                let mut count = |truth: Truth, times: Option<usize>| {
                    if truth == Truth::True {
                        low += times.unwrap_or(0);
                    }
                    if truth != Truth::False {
                        high = high.and_then(|high| Some(high + times?));
                    }
                };
                for part in parts {
                    count(part.truth(answers), Some(1));
                }
                if let Some((question, of_others)) = others {
                    let more = match answers.get(*question).copied().flatten() {
                        Some(Answered::More(more)) => Some(*more),
                        _ => None,
                    };
                    count(of_others.truth(answers), more);
                }
                let end = |count: usize| Amount::whole(count).number().cloned();
                let counted = Amount::Within(end(low), high.and_then(end));
                counted.compare(*how, &Amount::Known(Number::Exact(limit.clone())))
            }
        }
    }

    /// Shows every test in it.
    fn tests<'f>(&'f self, see: &mut impl FnMut(QuestionId, Option<&'f Test>)) {
        match self {
            Formula::Known(_) => {}
            Formula::Open(question, test) => see(*question, Some(test)),
            Formula::Never(question) => see(*question, None),
            Formula::Not(inner) => inner.tests(see),
            Formula::All(parts) | Formula::Any(parts) => parts.iter().for_each(|part| part.tests(see)),
            Formula::Tally(parts, others, _, _) => {
                parts.iter().for_each(|part| part.tests(see));
                if let Some((question, of_others)) = others {
                    see(*question, Some(&Test::Holds));
                    of_others.tests(see);
                }
            }
        }
    }
}

impl Test {
    fn holds(&self, answer: &Answered) -> bool {
        match (self, answer) {
            (Test::Holds, Answered::Holds(holds)) => *holds,
            (Test::Holds, Answered::More(more)) => *more > 0,
            (Test::Words(words), Answered::Word(word)) => word.is_some_and(|word| words.contains(&word)),
            (Test::Number(how, limit), Answered::Number(number)) => match how {
                Comparison::Equal => number == limit,
                Comparison::Less => number < limit,
                Comparison::AtMost => number <= limit,
                Comparison::More => number > limit,
                Comparison::AtLeast => number >= limit,
            },
            _ => false,
        }
    }
}

/// What is left of a rule: when it applies, what it requires, and the questions both leave open.
#[derive(Clone, PartialEq, Debug)]
pub struct Open {
    /// Whether it applies.
    pub applies: Formula,
    /// What has to hold.
    pub requires: Formula,
    /// The open questions of both.
    pub questions: Vec<Question>,
}

impl Open {
    /// The smallest list of entries that decides the rule, whatever they turn out to be: none of them can be
    /// left out. Where questions are too many or too tangled to try out, a list that decides and may hold
    /// more than it has to.
    #[must_use]
    pub fn smallest(&self) -> Vec<Missing> {
        let mut tests: BTreeMap<QuestionId, Vec<&Test>> = BTreeMap::new();
        let mut seen = 0;
        let mut see = |question, test| {
            seen += 1;
            tests.entry(question).or_default().extend(test);
        };
        self.applies.tests(&mut see);
        self.requires.tests(&mut see);

        let mut entries: BTreeMap<&str, &Missing> = BTreeMap::new();
        for question in tests.keys().filter_map(|id| self.questions.get(*id)) {
            for missing in &question.missing {
                let kept = entries.entry(missing.entry.as_str()).or_insert(missing);
                *kept = (*kept).min(missing);
            }
        }
        let read_once = tests.len() == seen;
        if !read_once && tests.len() <= MOST_QUESTIONS {
            let answers: BTreeMap<QuestionId, Vec<Answered>> = tests
                .iter()
                .filter_map(|(id, tests)| Some((*id, possible_answers(self.questions.get(*id)?, tests))))
                .collect();
            let all: Vec<&str> = entries.keys().copied().collect();
            for entry in all.into_iter().rev() {
                let kept: BTreeSet<&str> = entries.keys().copied().filter(|kept| *kept != entry).collect();
                if self.is_decided_by(&kept, &answers) {
                    entries.remove(entry);
                }
            }
        }
        entries.into_values().cloned().collect()
    }

    /// Whether stating these entries decides the rule, whatever they turn out to be.
    fn is_decided_by(&self, stated: &BTreeSet<&str>, answers: &BTreeMap<QuestionId, Vec<Answered>>) -> bool {
        let answered: Vec<(QuestionId, &[Answered])> = answers
            .iter()
            .filter(|(id, _)| {
                self.questions.get(**id).is_some_and(|question| {
                    question.missing.iter().all(|missing| stated.contains(missing.entry.as_str()))
                })
            })
            .map(|(id, possible)| (*id, possible.as_slice()))
            .collect();
        let combinations =
            answered.iter().try_fold(1usize, |so_far, (_, possible)| so_far.checked_mul(possible.len()));
        let Some(combinations) = combinations.filter(|count| *count <= MOST_COMBINATIONS) else {
            return false;
        };
        let mut chosen: Vec<Option<&Answered>> = vec![None; self.questions.len()];
        (0..combinations).all(|combination| {
            let mut rest = combination;
            for (id, possible) in &answered {
                let of = possible.len().max(1);
                if let Some(slot) = chosen.get_mut(*id) {
                    *slot = possible.get(rest % of);
                }
                rest /= of;
            }
            match self.applies.truth(&chosen) {
                Truth::False => true,
                Truth::Unknown => false,
                Truth::True => self.requires.truth(&chosen).is_known(),
            }
        })
    }
}

/// Answers that stand for all there can be, as far as the tests can tell them apart.
fn possible_answers(question: &Question, tests: &[&Test]) -> Vec<Answered> {
    let mut words: BTreeSet<WordId> = BTreeSet::new();
    let mut numbers: BTreeSet<Ratio> = BTreeSet::new();
    for test in tests {
        match test {
            Test::Holds => {}
            Test::Words(some) => words.extend(some),
            Test::Number(_, limit) => {
                numbers.insert(limit.clone());
            }
        }
    }
    if !words.is_empty() {
        let other = (words.len() < question.words).then_some(Answered::Word(None));
        return words.into_iter().map(|word| Answered::Word(Some(word))).chain(other).collect();
    }
    if !numbers.is_empty() {
        return possible_numbers(&question.bounds, &numbers);
    }
    if let Subject::Others(_) = question.subject {
        return [0, 1, MANY].map(Answered::More).to_vec();
    }
    vec![Answered::Holds(false), Answered::Holds(true)]
}

/// Numbers on, between and beyond those that are compared with, within the bounds.
fn possible_numbers(
    (low, high): &(Option<Ratio>, Option<Ratio>),
    compared: &BTreeSet<Ratio>,
) -> Vec<Answered> {
    let inside = |number: &Ratio| {
        low.as_ref().is_none_or(|low| low <= number) && high.as_ref().is_none_or(|high| number <= high)
    };
    let mut points: BTreeSet<Ratio> = compared.iter().filter(|number| inside(number)).cloned().collect();
    points.extend(low.iter().chain(high).cloned());
    let half = Ratio::new(1, 2).unwrap_or_default();
    let mut between: Vec<Ratio> =
        points.iter().zip(points.iter().skip(1)).map(|(a, b)| (a + b) * &half).collect();
    if low.is_none() {
        between.extend(points.first().map(|first| first - Ratio::ONE));
    }
    if high.is_none() {
        between.extend(points.last().map(|last| last + Ratio::ONE));
    }
    points.extend(between);
    points.into_iter().map(Answered::Number).collect()
}
