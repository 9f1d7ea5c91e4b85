//! The shape of a catalogue: what kinds of things there are, what can be asked of them, and the one
//! interface by which it is asked. Rulebooks and the judge know the world only through this.

use std::cmp::Ordering;
use std::collections::{BTreeMap, HashMap};
use std::sync::{Arc, OnceLock};

use super::number::{Dimension, Number};
use super::text::Span;
use super::value::{Answer, EntryPath, Origin, Value};

/// A kind of thing, by its place in the vocabulary.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct KindId(pub u16);

/// A fact, by its place in the vocabulary.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct FactId(pub u16);

/// A list of words, by its place in the vocabulary.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct WordsId(pub u16);

/// A word, by its place in its list.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct WordId(pub u16);

/// One thing of the design: its kind and its number among them.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Thing {
    /// Which kind.
    pub kind: KindId,
    /// Which of that kind.
    pub number: u32,
}

/// The kind of the whole: what stands at the root of an expression is a fact of the one thing of this kind.
pub const ROOT_KIND: KindId = KindId(0);

/// The one thing of the root kind.
pub const ROOT: Thing = Thing { kind: ROOT_KIND, number: 0 };

/// What type of value a fact has.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum FactType {
    /// A number of this dimension.
    Number(Dimension),
    /// True or false.
    Truth,
    /// A word of this list.
    Word(WordsId),
    /// One thing of this kind; known or unknown, never absent.
    One(KindId),
    /// Things of this kind, perhaps none.
    Things(KindId),
    /// Words to show in a message; nothing compares them.
    Text,
}

/// How a thing of a kind is called in a sentence.
#[derive(Clone, Copy, PartialEq, Eq, Default, Hash, Debug)]
pub enum Called {
    /// By its name alone: `terrace 2`.
    Bare,
    /// By its name, which says what it is: `the herb bed`.
    #[default]
    ByName,
    /// With its kind before its name, unless the name says it: `the hedge "north"`.
    WithKind,
}

/// A kind of thing.
#[derive(Clone, Debug, Default)]
pub struct KindShape {
    /// What one is called in an expression or a message: `opening`.
    pub name: String,
    /// What it is, in one sentence.
    pub meaning: String,
    /// What one is called by people: the name, if this is empty.
    pub label: String,
    /// How one of them is called in a sentence.
    pub called: Called,
}

impl KindShape {
    /// What one is called by people.
    #[must_use]
    pub fn label(&self) -> String {
        if self.label.is_empty() { self.name.replace('_', " ") } else { self.label.clone() }
    }
}

/// How a fact is said to people. What is empty is said by the fact's name.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Saying {
    /// A few words to stand before its value: `distance by tape`.
    pub label: String,
    /// The same in a sentence, `{}` standing for the thing: `the height of {}`. For what holds or does not: what
    /// is said when it holds, `{} is clipped`. For a number with two sides: the thing and what it does, `{} reaches`.
    pub phrase: String,
    /// For what holds or does not: what is said when it does not hold.
    pub fails: String,
    /// For a number that is counted from a mark: what a positive one means, and a negative one.
    pub sides: Option<(String, String)>,
}

/// An entry that facts rest on.
#[derive(Clone, Debug)]
pub struct Need {
    /// Its path as a pattern: `building.openings.*.corners`.
    pub path: String,
    /// The steps of the path.
    pub steps: Vec<String>,
    /// The facts that rest on it.
    pub facts: Vec<FactId>,
}

/// A fact that can be asked of every thing of one kind.
#[derive(Clone, Debug)]
pub struct FactShape {
    /// The kind it is asked of.
    pub of: KindId,
    /// Its name after the dot.
    pub name: String,
    /// What type its value has.
    pub of_type: FactType,
    /// Whether it is a number that is reckoned, and never known to the last digit.
    pub estimated: bool,
    /// What it is, in one sentence.
    pub meaning: String,
    /// How it is worked out; empty when it is read straight from the file.
    pub formula: String,
    /// Where the formula comes from; empty when it is read straight from the file.
    pub source: String,
    /// The entries it is worked out from, as patterns: `building.openings.*.corners`.
    pub needs: Vec<String>,
    /// Whether it is known by which entries it can be brought to a value that is wanted.
    pub handle: bool,
    /// Whether it changes when a thing is put elsewhere, so that places can be tried until a rule is met.
    pub by_place: bool,
    /// How it is said to people.
    pub said: Saying,
}

impl FactShape {
    /// Whether it is read straight from one entry.
    #[must_use]
    pub fn is_straight(&self) -> bool {
        self.formula.is_empty() && self.needs.len() == 1
    }

    /// A few words to stand before its value.
    #[must_use]
    pub fn label(&self) -> String {
        if self.said.label.is_empty() { self.name.replace('_', " ") } else { self.said.label.clone() }
    }

    /// How it is said of a thing. What holds or does not is said as it holds.
    #[must_use]
    pub fn said_of(&self, thing: &str) -> String {
        if !self.said.phrase.is_empty() {
            return its(self.said.phrase.replace("{}", thing));
        }
        let name = self.name.replace('_', " ");
        match (self.of_type, self.of == ROOT_KIND) {
            (FactType::Truth, true) => format!("{name} holds"),
            (FactType::Truth, false) => format!("{thing} is {name}"),
            (FactType::Things(_), true) => name,
            (_, true) => format!("the {name}"),
            (_, false) => its(format!("the {name} of {thing}")),
        }
    }

    /// How it is said of a thing that it does not hold.
    #[must_use]
    pub fn denied_of(&self, thing: &str) -> String {
        if !self.said.fails.is_empty() {
            return its(self.said.fails.replace("{}", thing));
        }
        let name = self.name.replace('_', " ");
        if self.of == ROOT_KIND { format!("{name} does not hold") } else { format!("{thing} is not {name}") }
    }
}

/// "its kind" for "the kind of it".
fn its(said: String) -> String {
    let owned = said.strip_prefix("the ").and_then(|rest| rest.split_once(" of it"));
    match owned {
        Some((what, rest)) if !rest.starts_with(char::is_alphanumeric) => format!("its {what}{rest}"),
        _ => said,
    }
}

/// A closed list of words.
#[derive(Clone, Debug)]
pub struct WordsShape {
    /// What the words are about: `kind of opening`.
    pub name: String,
    /// The words, as written in a file (spaces allowed), each with its meaning.
    pub words: Vec<(String, String)>,
    /// Whether the order of the words is an order of size, so that `<` makes sense.
    pub ordered: bool,
}

/// Everything that can be spoken of.
#[derive(Clone, Debug, Default)]
pub struct Vocabulary {
    /// The kinds; the first is the root.
    pub kinds: Vec<KindShape>,
    /// The facts.
    pub facts: Vec<FactShape>,
    /// The lists of words.
    pub words: Vec<WordsShape>,
    /// The numbers of the facts of each kind by their names; made when a name is first looked for.
    by_name: OnceLock<Vec<HashMap<String, FactId>>>,
    /// The numbers of the facts that rest on each entry; made when an entry is first looked for.
    by_need: OnceLock<Vec<Need>>,
}

impl Vocabulary {
    /// These kinds, facts and lists of words.
    #[must_use]
    pub fn of(kinds: Vec<KindShape>, facts: Vec<FactShape>, words: Vec<WordsShape>) -> Self {
        Vocabulary { kinds, facts, words, by_name: OnceLock::new(), by_need: OnceLock::new() }
    }

    /// The kind with this number.
    #[must_use]
    pub fn kind(&self, id: KindId) -> Option<&KindShape> {
        self.kinds.get(usize::from(id.0))
    }

    /// The fact with this number.
    #[must_use]
    pub fn fact(&self, id: FactId) -> Option<&FactShape> {
        self.facts.get(usize::from(id.0))
    }

    /// The list of words with this number.
    #[must_use]
    pub fn word_list(&self, id: WordsId) -> Option<&WordsShape> {
        self.words.get(usize::from(id.0))
    }

    /// The fact of this kind that has this name.
    #[must_use]
    pub fn find_fact(&self, of: KindId, name: &str) -> Option<FactId> {
        let by_name = self.by_name.get_or_init(|| {
            let mut kinds = vec![HashMap::new(); self.kinds.len()];
            for (fact, id) in self.facts.iter().zip((0..u16::MAX).map(FactId)) {
                if let Some(names) = kinds.get_mut(usize::from(fact.of.0)) {
                    names.entry(fact.name.clone()).or_insert(id);
                }
            }
            kinds
        });
        by_name.get(usize::from(of.0))?.get(name).copied()
    }

    /// The entries that facts rest on, in order of their steps.
    pub fn needs(&self) -> &[Need] {
        self.by_need.get_or_init(|| {
            let mut needs: BTreeMap<&str, Vec<FactId>> = BTreeMap::new();
            for (fact, id) in self.facts.iter().zip((0..u16::MAX).map(FactId)) {
                for need in &fact.needs {
                    needs.entry(need).or_default().push(id);
                }
            }
            let steps = |path: &str| path.split('.').map(str::to_owned).collect();
            let need = |(path, facts): (&str, _)| Need { path: path.to_owned(), steps: steps(path), facts };
            let mut needs: Vec<Need> = needs.into_iter().map(need).collect();
            needs.sort_by(|a, b| a.steps.cmp(&b.steps));
            needs
        })
    }

    /// Those entries that stand in this section of a design.
    pub fn needs_in(&self, section: &str) -> &[Need] {
        let needs = self.needs();
        let begins =
            |need: &Need| need.steps.first().map_or(Ordering::Less, |step| step.as_str().cmp(section));
        let start = needs.partition_point(|need| begins(need).is_lt());
        let end = needs.partition_point(|need| begins(need).is_le());
        needs.get(start..end).unwrap_or_default()
    }

    /// The names of all facts of a kind, in catalogue order.
    pub fn facts_of(&self, of: KindId) -> impl Iterator<Item = &FactShape> {
        self.facts.iter().filter(move |fact| fact.of == of)
    }
}

/// Anything that can answer questions put in a vocabulary: a design, or a toy in a test.
pub trait Answers {
    /// What can be asked.
    fn vocabulary(&self) -> &Vocabulary;
    /// The value of a fact of a thing. Its type is the fact's. Asking twice costs nothing.
    fn ask(&mut self, fact: FactId, thing: Thing) -> Answer<Value>;
    /// Between what a number of this fact always lies, whatever is stated: a length is never below
    /// nought. Nothing is taken for granted of a fact that does not say.
    fn domain(&self, _fact: FactId) -> (Option<Number>, Option<Number>) {
        (None, None)
    }
    /// What that value rests on.
    fn origin(&mut self, fact: FactId, thing: Thing) -> Arc<Origin>;
    /// What the thing is called in the file: `bath_window`.
    fn name_of(&self, thing: Thing) -> String;
    /// Where the thing stands in the file.
    fn place_of(&self, thing: Thing) -> Option<Span>;
    /// The entry that the thing is, if it is one.
    fn entry_of(&self, _thing: Thing) -> Option<EntryPath> {
        None
    }
}
