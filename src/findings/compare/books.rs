//! What two books, or two states of one book, ask for otherwise.

use super::account::{Account, BookSaid, LimitSaid, RuleSaid};
use super::causes::RULEBOOKS;
use super::stated::{Changes, lies_in};
use crate::facts::catalogue::vocabulary;
use crate::rulebook::checked::{CheckedBook, CheckedRule};

/// A field that is not what it was; nothing where nothing stood or stands.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct FieldMove {
    /// The field.
    pub field: String,
    /// What stood there.
    pub was: Option<String>,
    /// What stands there.
    pub is: Option<String>,
}

/// A requirement that came, went, or is not what it was.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct RuleChange {
    /// As it was; nothing for one that came.
    pub was: Option<RuleSaid>,
    /// As it is; nothing for one that went.
    pub is: Option<RuleSaid>,
    /// Its numbers that moved.
    pub limits: Vec<FieldMove>,
    /// Its other fields that moved.
    pub fields: Vec<FieldMove>,
}

impl RuleChange {
    /// The requirement as it is, or as it was when it went.
    #[must_use]
    pub fn rule(&self) -> Option<&RuleSaid> {
        self.is.as_ref().or(self.was.as_ref())
    }

    /// Whether it asks for something else than before; a mere change of words, source or section does not.
    #[must_use]
    pub fn asks_otherwise(&self) -> bool {
        match (&self.was, &self.is) {
            (Some(was), Some(is)) => was.fingerprint != is.fingerprint,
            _ => true,
        }
    }
}

/// A book that is not what it was.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BookChange {
    /// Its name.
    pub name: String,
    /// The edition and the digest as they were; nothing where it gave no verdicts although it was asked for.
    pub was: Option<(String, String)>,
    /// The same as they are.
    pub is: Option<(String, String)>,
    /// What it covers, where that moved.
    pub covers: Option<FieldMove>,
    /// Whether the reviews hold its requirements; else it is not known which moved.
    pub known: bool,
    /// Its requirements that moved.
    pub rules: Vec<RuleChange>,
}

/// The books that say something else than before, and those that gave verdicts on one side alone although the design
/// names them no otherwise: a book with a fault, or one that is not at hand, gives none.
#[must_use]
pub fn changes(old: &Account, new: &Account, stated: &Changes) -> Vec<BookChange> {
    let named_otherwise = |name: &str| {
        let entry = format!("{RULEBOOKS}.{name}");
        stated.entries.iter().any(|one| lies_in(&entry, &one.entry) || lies_in(&one.entry, &entry))
    };
    let left = |name: &str| (stated.known || !stated.bytes_moved) && !named_otherwise(name);
    let mut found = Vec::new();
    for is in &new.books {
        match old.book(&is.name) {
            Some(was) if was.digest != is.digest => found.push(between(was, is)),
            None if left(&is.name) => found.push(silent(None, Some(is))),
            _ => {}
        }
    }
    let gone = old.books.iter().filter(|was| new.book(&was.name).is_none() && left(&was.name));
    found.extend(gone.map(|was| silent(Some(was), None)));
    found
}

/// A book that gave verdicts on one side alone.
fn silent(was: Option<&BookSaid>, is: Option<&BookSaid>) -> BookChange {
    let said = |side: Option<&BookSaid>| side.map(|book| (book.edition.clone(), book.digest.clone()));
    let name = is.or(was).map_or_else(String::new, |book| book.name.clone());
    BookChange { name, was: said(was), is: said(is), covers: None, known: true, rules: Vec::new() }
}

/// What one book, or one edition of it, says otherwise than another.
#[must_use]
pub fn between(was: &BookSaid, is: &BookSaid) -> BookChange {
    let rules = match (&was.rules, &is.rules) {
        (Some(old), Some(new)) => rules(old, new),
        _ => Vec::new(),
    };
    BookChange {
        name: is.name.clone(),
        was: Some((was.edition.clone(), was.digest.clone())),
        is: Some((is.edition.clone(), is.digest.clone())),
        covers: moved("covers", &was.covers_when, &is.covers_when),
        known: was.rules.is_some() && is.rules.is_some(),
        rules,
    }
}

/// The requirements that moved: by name; of what is left, the only ones of one subject on both sides belong together.
fn rules(old: &[RuleSaid], new: &[RuleSaid]) -> Vec<RuleChange> {
    let unnamed = |rules: &[RuleSaid], others: &[RuleSaid]| -> Vec<RuleSaid> {
        rules.iter().filter(|rule| !others.iter().any(|other| other.name == rule.name)).cloned().collect()
    };
    let (went, came) = (unnamed(old, new), unnamed(new, old));
    let only = |rules: &[RuleSaid], subject: &str| -> Option<RuleSaid> {
        let mut found = rules.iter().filter(|rule| rule.subject == subject);
        let first = found.next()?;
        found.next().is_none().then(|| first.clone())
    };
    let twin = |rule: &RuleSaid| only(&went, &rule.subject).filter(|_| only(&came, &rule.subject).is_some());
    let mut paired: Vec<String> = Vec::new();
    let mut found = Vec::new();
    for is in new {
        let was = old.iter().find(|was| was.name == is.name).cloned().or_else(|| twin(is));
        paired.extend(was.iter().map(|was| was.name.clone()));
        found.extend(rule(was.as_ref(), Some(is)));
    }
    let left = old.iter().filter(|was| !paired.contains(&was.name));
    found.extend(left.filter_map(|was| rule(Some(was), None)));
    let place = |change: &RuleChange| change.rule().map(|rule| (rule.subject.clone(), rule.name.clone()));
    found.sort_by_key(place);
    found
}

/// What moved in a requirement; nothing when it is as it was.
#[must_use]
pub fn rule(was: Option<&RuleSaid>, is: Option<&RuleSaid>) -> Option<RuleChange> {
    let mut change =
        RuleChange { was: was.cloned(), is: is.cloned(), limits: Vec::new(), fields: Vec::new() };
    if let (Some(was), Some(is)) = (was, is) {
        change.limits = limits(&was.limits, &is.limits);
        let truth = |holds: bool| if holds { "yes" } else { "" };
        change.fields = [
            moved("name", &was.name, &is.name),
            moved("title", &was.title, &is.title),
            moved("verb", &was.obligation, &is.obligation),
            moved("disputed", truth(was.disputed), truth(is.disputed)),
            moved("due", &was.due, &is.due),
            moved("stops", &was.stops, &is.stops),
            moved("document", &was.document, &is.document),
            moved("section", &was.section, &is.section),
            moved("basis", &was.basis, &is.basis),
            moved("asked of", &was.each, &is.each),
            moved("asked when", &was.applies, &is.applies),
            moved("requires", &was.requires, &is.requires),
            moved("read as", &was.interpretation, &is.interpretation),
        ]
        .into_iter()
        .flatten()
        .collect();
        if change.limits.is_empty() && change.fields.is_empty() && was.fingerprint == is.fingerprint {
            return None;
        }
    }
    Some(change)
}

fn moved(field: &str, was: &str, is: &str) -> Option<FieldMove> {
    let text = |text: &str| (!text.is_empty()).then(|| text.to_owned());
    (was != is).then(|| FieldMove { field: field.to_owned(), was: text(was), is: text(is) })
}

impl LimitSaid {
    /// The number with the words that place it: `at least 10 ft`.
    #[must_use]
    pub fn in_words(&self) -> String {
        if self.words.is_empty() { self.shown.clone() } else { format!("{} {}", self.words, self.shown) }
    }
}

fn limits(was: &[LimitSaid], is: &[LimitSaid]) -> Vec<FieldMove> {
    let find = |list: &[LimitSaid], name: &str| list.iter().find(|one| one.name == name).cloned();
    let same = |a: &LimitSaid, b: &LimitSaid| a.means == b.means && a.words == b.words;
    let mut found = Vec::new();
    for now in is {
        let before = find(was, &now.name);
        if !before.as_ref().is_some_and(|before| same(before, now)) {
            let (was, is) = (before.map(|before| before.in_words()), Some(now.in_words()));
            found.push(FieldMove { field: now.name.clone(), was, is });
        }
    }
    for before in was.iter().filter(|before| find(is, &before.name).is_none()) {
        found.push(FieldMove { field: before.name.clone(), was: Some(before.in_words()), is: None });
    }
    found
}

impl RuleSaid {
    /// What a requirement of a book says.
    #[must_use]
    pub fn of(rule: &CheckedRule, book: &CheckedBook) -> Self {
        let field = |path: &str| {
            let text = rule.authors.fields.get(path).map_or("", |author| author.text.as_str());
            text.split_whitespace().collect::<Vec<_>>().join(" ")
        };
        let document = book.sources.iter().find(|source| source.name == rule.source.document);
        RuleSaid {
            name: rule.name.clone(),
            title: rule.title.clone(),
            subject: rule.subject.clone(),
            fingerprint: rule.fingerprint(vocabulary()),
            obligation: rule.obligation.word().to_owned(),
            disputed: rule.disputed,
            due: rule.due.word().to_owned(),
            stops: rule.stops.map_or("", |stops| stops.word()).to_owned(),
            document: document.map_or_else(|| rule.source.document.clone(), |source| source.title.clone()),
            section: rule.source.section.clone(),
            basis: rule.source.basis.word().to_owned(),
            limits: rule
                .limits
                .iter()
                .map(|limit| LimitSaid {
                    name: limit.name.clone(),
                    words: limit.words.map_or("", |words| words.word()).to_owned(),
                    shown: limit.value.to_string(),
                    means: limit.value.number.in_one_way(),
                })
                .collect(),
            each: field("each"),
            applies: field("applies"),
            requires: field("requires"),
            interpretation: rule.interpretation.trim().to_owned(),
        }
    }
}

impl BookSaid {
    /// What a book says, without any design.
    #[must_use]
    pub fn of(book: &CheckedBook) -> Self {
        BookSaid {
            name: book.name.clone(),
            title: book.title.clone(),
            edition: book.edition.clone(),
            standing: String::new(),
            in_force: true,
            digest: book.digest(vocabulary()),
            covers_when: book.covers_when.as_ref().map_or_else(String::new, |covers| covers.text.clone()),
            rules: Some(book.rules.iter().map(|rule| RuleSaid::of(rule, book)).collect()),
        }
    }
}
