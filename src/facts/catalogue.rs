//! The catalogue: every fact there is, in one table per kind of thing.
//!
//! A rule speaks only of what stands here. A fact is a name, what it means, how it is worked out, the
//! entries it may read, and the plain function that works it out.

use std::collections::HashMap;
use std::sync::LazyLock;

use crate::base::number::{Dimension, Number};
use crate::base::value::{Answer, Listed};
use crate::base::vocabulary::{
    FactId, FactShape, FactType, KindId, KindShape, Saying, Thing, Vocabulary, WordId, WordsId, WordsShape,
};

use crate::yaml::words::Words;

use super::ask::Ask;
use super::handles;
use super::kinds::{KINDS, Kind};
use super::tables::TABLES;

/// The words of a list of the design file, as the vocabulary holds them.
#[must_use]
pub fn words<W: Words>() -> WordsShape {
    let words = W::ALL.iter().map(|(_, word, meaning)| ((*word).to_owned(), (*meaning).to_owned()));
    WordsShape { name: W::ABOUT.to_owned(), words: words.collect(), ordered: W::ORDERED }
}

/// How a fact is worked out; the variant is its type.
#[derive(Clone, Copy, Debug)]
pub enum Get {
    /// A number of this dimension.
    Number(Dimension, fn(&mut Ask<'_>, Thing) -> Answer<Number>),
    /// A number of this dimension that is reckoned, and never known to the last digit.
    Estimate(Dimension, fn(&mut Ask<'_>, Thing) -> Answer<Number>),
    /// True or false.
    Truth(fn(&mut Ask<'_>, Thing) -> Answer<bool>),
    /// True or false, told from what is reckoned.
    TruthReckoned(fn(&mut Ask<'_>, Thing) -> Answer<bool>),
    /// A word of this list.
    Word(fn() -> WordsShape, fn(&mut Ask<'_>, Thing) -> Answer<WordId>),
    /// One thing of this kind.
    One(Kind, fn(&mut Ask<'_>, Thing) -> Answer<Thing>),
    /// Things of this kind.
    Things(Kind, fn(&mut Ask<'_>, Thing) -> Answer<Listed<Thing>>),
    /// Words to show.
    Text(fn(&mut Ask<'_>, Thing) -> Answer<String>),
}

/// Patterns of entries, `*` standing for a name or a place in a list.
pub type Entries = &'static [&'static str];

/// Lists of entries, and those that tell where things are.
macro_rules! with_places {
    ($($own:expr),* $(,)?) => {
        &[
            $($own,)*
            $crate::facts::places::PLACES,
            $crate::facts::outlet::WIDTH,
            $crate::facts::roofs::EDGES,
            $crate::facts::roofs::SLOPES,
            $crate::facts::heights::GROUND,
        ]
    };
}

/// Lists of entries, and those that the air of a system rests on: as designed, as read or as reckoned.
macro_rules! with_air {
    ($($own:expr),* $(,)?) => {
        $crate::facts::catalogue::with_places![
            $($own,)*
            $crate::facts::layout::STACK,
            $crate::facts::bores::BEHIND,
            $crate::facts::bores::FLOWS,
            $crate::facts::flows::PIPES,
            $crate::facts::ground::BOUNDS,
            $crate::facts::ground::PITS,
            $crate::facts::ground::LAYER,
            $crate::facts::ground::TESTS,
            $crate::facts::worked::READ_AIR,
        ]
    };
}

pub(super) use {with_air, with_places};

/// One fact.
#[derive(Clone, Copy, Debug)]
pub struct Fact {
    /// The kind it is asked of.
    pub of: Kind,
    /// Its name after the dot.
    pub name: &'static str,
    /// What it is, in one sentence.
    pub meaning: &'static str,
    /// How it is worked out; empty when it is read straight from the file.
    pub formula: &'static str,
    /// Where the formula comes from; empty when it is read straight from the file.
    pub source: &'static str,
    /// Every entry it may read, its own and those of the facts it asks, in groups.
    pub needs: &'static [Entries],
    /// How it is worked out.
    pub get: Get,
}

impl Fact {
    /// A fact that is read straight from the file.
    #[must_use]
    pub const fn stated(
        of: Kind,
        name: &'static str,
        meaning: &'static str,
        needs: &'static [Entries],
        get: Get,
    ) -> Fact {
        Fact { of, name, meaning, formula: "", source: "", needs, get }
    }

    /// Whether it is reckoned, or told from what is.
    #[must_use]
    pub const fn is_reckoned(&self) -> bool {
        matches!(self.get, Get::Estimate(..) | Get::TruthReckoned(_))
    }

    /// Every entry it may read, each once.
    #[must_use]
    pub fn entries(&self) -> Vec<&'static str> {
        let mut all: Vec<&str> = self.needs.iter().flat_map(|group| group.iter().copied()).collect();
        all.sort_unstable();
        all.dedup();
        all
    }
}

/// All facts in the order of their numbers.
pub fn all() -> impl Iterator<Item = &'static Fact> {
    TABLES.iter().flat_map(|table| table.iter())
}

/// The catalogue with its numbers given out.
struct Numbered {
    facts: Vec<&'static Fact>,
    by_name: HashMap<(KindId, &'static str), FactId>,
    vocabulary: Vocabulary,
}

static NUMBERED: LazyLock<Numbered> = LazyLock::new(|| {
    let facts: Vec<&'static Fact> = all().collect();
    let numbers = (0..u16::MAX).map(FactId);
    let by_name = facts.iter().zip(numbers).map(|(fact, id)| ((fact.of.id(), fact.name), id)).collect();
    let vocabulary = in_one(&facts);
    Numbered { facts, by_name, vocabulary }
});

fn in_one(facts: &[&'static Fact]) -> Vocabulary {
    let kinds = KINDS
        .iter()
        .map(|(kind, name, meaning)| {
            let (label, called) = kind.said();
            let (name, meaning, label) = ((*name).to_owned(), (*meaning).to_owned(), label.to_owned());
            KindShape { name, meaning, label, called }
        })
        .collect();
    let labels = labels();
    let mut words: Vec<WordsShape> = Vec::new();
    let mut number_of = |list: WordsShape| {
        let known = words.iter().position(|known| known.name == list.name);
        let at = known.unwrap_or_else(|| {
            words.push(list);
            words.len() - 1
        });
        WordsId(u16::try_from(at).unwrap_or(u16::MAX))
    };
    let facts = facts
        .iter()
        .map(|fact| FactShape {
            of: fact.of.id(),
            name: fact.name.to_owned(),
            of_type: match fact.get {
                Get::Number(dimension, _) | Get::Estimate(dimension, _) => FactType::Number(dimension),
                Get::Truth(_) | Get::TruthReckoned(_) => FactType::Truth,
                Get::Word(list, _) => FactType::Word(number_of(list())),
                Get::One(kind, _) => FactType::One(kind.id()),
                Get::Things(kind, _) => FactType::Things(kind.id()),
                Get::Text(_) => FactType::Text,
            },
            estimated: matches!(fact.get, Get::Estimate(..)),
            meaning: fact.meaning.to_owned(),
            formula: fact.formula.to_owned(),
            source: fact.source.to_owned(),
            needs: fact.entries().into_iter().map(str::to_owned).collect(),
            handle: handles::has(fact),
            by_place: handles::along(fact).is_some(),
            said: labels.get(&(fact.of, fact.name)).map(|words| saying(fact, words)).unwrap_or_default(),
        })
        .collect();
    Vocabulary::of(kinds, facts, words)
}

/// How every fact is said: one line for each, its words with bars between them.
const LABELS: &str = include_str!("labels.txt");

/// The words of each fact by its kind and name.
fn labels() -> HashMap<(Kind, &'static str), Vec<&'static str>> {
    let lines = LABELS.lines().filter(|line| !line.starts_with('#'));
    let read = lines.filter_map(|line| {
        let mut words = line.split('|').map(str::trim);
        let (kind, fact) = words.next()?.split_once('.')?;
        let kind = KINDS.iter().find(|(_, name, _)| *name == kind)?.0;
        Some(((kind, fact), words.collect()))
    });
    read.collect()
}

/// What the words of a line mean for a fact of this type.
fn saying(fact: &Fact, words: &[&str]) -> Saying {
    match (fact.get, words) {
        (Get::Truth(_) | Get::TruthReckoned(_), [phrase, fails]) => Saying {
            label: about_it(phrase),
            phrase: (*phrase).to_owned(),
            fails: (*fails).to_owned(),
            sides: None,
        },
        (Get::Number(..) | Get::Estimate(..), [label, phrase, above, below]) => Saying {
            label: (*label).to_owned(),
            phrase: (*phrase).to_owned(),
            fails: String::new(),
            sides: Some(((*above).to_owned(), (*below).to_owned())),
        },
        (Get::Truth(_) | Get::TruthReckoned(_), _) | (_, [] | [_]) => Saying::default(),
        (_, [label, phrase, ..]) => Saying {
            label: (*label).to_owned(),
            phrase: (*phrase).to_owned(),
            fails: String::new(),
            sides: None,
        },
    }
}

/// A phrase about a thing, said where it is plain which thing is meant.
fn about_it(phrase: &str) -> String {
    match phrase.strip_prefix("{} ") {
        Some(rest) => rest.to_owned(),
        None => phrase.replacen(" of {}", "", 1).replace("{}", "it"),
    }
}

/// Everything a rule may speak of.
#[must_use]
pub fn vocabulary() -> &'static Vocabulary {
    &NUMBERED.vocabulary
}

/// The number of a fact.
#[must_use]
pub fn number_of(kind: KindId, name: &str) -> Option<FactId> {
    // The map's keys live for ever, the name need not: a lookup only compares.
    NUMBERED.by_name.get(&(kind, name) as &(KindId, &str)).copied()
}

/// The fact with a number.
#[must_use]
pub fn numbered(id: FactId) -> Option<&'static Fact> {
    NUMBERED.facts.get(usize::from(id.0)).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_fact_is_said_once_and_in_the_form_of_its_type() {
        let lines: Vec<&str> =
            LABELS.lines().filter(|line| !line.starts_with('#') && !line.trim().is_empty()).collect();
        let labels = labels();
        assert_eq!(lines.len(), labels.len(), "a line that names no kind, or one fact said twice");
        let known: Vec<(Kind, &str)> = all().map(|fact| (fact.of, fact.name)).collect();
        for of in labels.keys() {
            assert!(known.contains(of), "{of:?} is said, but there is no such fact");
        }
        for fact in all() {
            let words = labels.get(&(fact.of, fact.name)).map_or(&[][..], Vec::as_slice);
            let said = saying(fact, words);
            let fits = match fact.get {
                Get::Truth(_) | Get::TruthReckoned(_) => words.len() == 2 && said.phrase != said.fails,
                Get::Number(..) | Get::Estimate(..) => matches!(words.len(), 2 | 4),
                _ => words.len() == 2,
            };
            assert!(fits, "{:?}.{}: {words:?}", fact.of, fact.name);
            assert!(!said.label.is_empty() && !said.label.contains(['{', '_']), "{said:?}");
            assert!(!words.iter().any(|word| word.contains('_') || word.is_empty()), "{words:?}");
        }
    }
}
