//! The catalogue: every fact there is, in one table per kind of thing.
//!
//! A rule speaks only of what stands here. A fact is a name, what it means, how it is worked out, the
//! entries it may read, and the plain function that works it out.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use crate::base::number::{Dimension, Number};
use crate::base::value::{Answer, Listed};
use crate::base::vocabulary::{
    FactId, FactShape, FactType, KindId, KindShape, Thing, Vocabulary, WordId, WordsId, WordsShape,
};

use crate::yaml::words::Words;

use super::ask::Ask;
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
    /// True or false.
    Truth(fn(&mut Ask<'_>, Thing) -> Answer<bool>),
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
    by_name: BTreeMap<(KindId, &'static str), FactId>,
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
        .map(|(_, name, meaning)| KindShape { name: (*name).to_owned(), meaning: (*meaning).to_owned() })
        .collect();
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
                Get::Number(dimension, _) => FactType::Number(dimension),
                Get::Truth(_) => FactType::Truth,
                Get::Word(list, _) => FactType::Word(number_of(list())),
                Get::One(kind, _) => FactType::One(kind.id()),
                Get::Things(kind, _) => FactType::Things(kind.id()),
                Get::Text(_) => FactType::Text,
            },
            meaning: fact.meaning.to_owned(),
            formula: fact.formula.to_owned(),
            source: fact.source.to_owned(),
            needs: fact.entries().into_iter().map(str::to_owned).collect(),
        })
        .collect();
    Vocabulary { kinds, facts, words }
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
