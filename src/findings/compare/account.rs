//! What a review says, without the form it was given: all that another one can be held against.

use crate::findings::finding::Comes;

/// A program that made a review.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Program {
    /// Its version.
    pub version: String,
    /// The digest of what it was built from.
    pub built_from: String,
}

impl Program {
    /// This program.
    #[must_use]
    pub fn own() -> Self {
        Program {
            version: env!("CARGO_PKG_VERSION").to_owned(),
            built_from: concat!("sha256:", env!("UNDERCROFT_BUILT_FROM")).to_owned(),
        }
    }
}

/// A file that a review was made of.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MadeOf {
    /// What it is: `design`, `shop` or `field notes`.
    pub role: String,
    /// Its name, as it was given.
    pub name: String,
    /// The digest of its bytes.
    pub digest: String,
}

/// An entry that a design states.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Stated {
    /// Its path.
    pub entry: String,
    /// What is written there, in the writer's words; empty for a thing, whose entries say it.
    pub says: String,
    /// The same in one spelling.
    pub means: String,
    /// Whether it is the name of another thing.
    pub is_name: bool,
    /// Whether it is a thing with a name of its own, one of several.
    pub is_thing: bool,
    /// On which line it stands.
    pub line: u32,
    /// The file, where that is not the design itself.
    pub file: Option<String>,
}

/// A number of a requirement.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct LimitSaid {
    /// Its name.
    pub name: String,
    /// How the words of the source place it; empty where nothing is held against it.
    pub words: String,
    /// The number as its author wrote it.
    pub shown: String,
    /// The same in one spelling.
    pub means: String,
}

/// A requirement as its book has it.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct RuleSaid {
    /// Its name.
    pub name: String,
    /// What it asks for in a few words.
    pub title: String,
    /// What it is about.
    pub subject: String,
    /// The digest of its meaning.
    pub fingerprint: String,
    /// The verb of its source.
    pub obligation: String,
    /// Whether sources disagree about the verb.
    pub disputed: bool,
    /// From which stage it is asked.
    pub due: String,
    /// Work that waits for it; empty if none does.
    pub stops: String,
    /// The document it comes from.
    pub document: String,
    /// The section of it.
    pub section: String,
    /// How sure its author is of that.
    pub basis: String,
    /// Its numbers.
    pub limits: Vec<LimitSaid>,
    /// What it is asked of; empty for the whole.
    pub each: String,
    /// When it is asked; empty for always.
    pub applies: String,
    /// What has to hold.
    pub requires: String,
    /// How its author reads what the source leaves open; empty if nothing.
    pub interpretation: String,
}

/// A book as a review used it.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct BookSaid {
    /// Its name.
    pub name: String,
    /// What it is called.
    pub title: String,
    /// Which edition.
    pub edition: String,
    /// What it is for the design; empty where there is no design.
    pub standing: String,
    /// Whether it is in force on the day.
    pub in_force: bool,
    /// The digest of all that it says.
    pub digest: String,
    /// What it covers, as a condition on the design; empty for everything.
    pub covers_when: String,
    /// Its requirements, by name; nothing where the review does not hold them.
    pub rules: Option<Vec<RuleSaid>>,
}

impl BookSaid {
    /// The requirement of this name.
    #[must_use]
    pub fn rule(&self, name: &str) -> Option<&RuleSaid> {
        self.rules.as_ref()?.iter().find(|rule| rule.name == name)
    }
}

/// A number that a verdict turned on.
#[derive(Clone, PartialEq, Debug)]
pub struct NumberSaid {
    /// The fact it is.
    pub fact: String,
    /// The thing it is of; empty for the whole.
    pub of: String,
    /// The number in the writer's units.
    pub shown: String,
    /// The same in one spelling: its ends.
    pub means: String,
}

/// What one clause of one book came to.
#[derive(Clone, PartialEq, Debug)]
pub struct ClauseSaid {
    /// The requirement, as book and name.
    pub requirement: String,
    /// The digest of its meaning.
    pub fingerprint: String,
    /// What it came to.
    pub comes: Comes,
    /// Whether its book counts.
    pub counts: bool,
    /// Whether it is a duty.
    pub is_duty: bool,
    /// What was found, as it was told; empty when nothing was.
    pub said: String,
    /// The numbers it turned on.
    pub numbers: Vec<NumberSaid>,
    /// The entries it rests on: those that decided, and those that are missing.
    pub rests_on: Vec<String>,
    /// The entries that would settle it.
    pub missing: Vec<String>,
    /// The variance that excuses it.
    pub variance: Option<String>,
}

impl ClauseSaid {
    /// The book of the requirement, and its name in it.
    #[must_use]
    pub fn book_and_rule(&self) -> (&str, &str) {
        self.requirement.split_once('/').unwrap_or((&self.requirement, ""))
    }
}

/// What a finding came to.
#[derive(Clone, PartialEq, Debug)]
pub struct FindingSaid {
    /// What it is known by.
    pub identity: String,
    /// What its requirements have in common.
    pub subject: String,
    /// What is asked for, in a few words.
    pub title: String,
    /// Whether it is about one thing, about a list of them, or about the whole.
    pub scope: String,
    /// The kind of thing it is about; empty for the whole.
    pub kind: String,
    /// The name of the thing; empty when it is about none.
    pub name: String,
    /// The entry that the thing is; empty when it is none.
    pub entry: String,
    /// What it came to.
    pub comes: Comes,
    /// Work that waits for it; empty if none does.
    pub stops: String,
    /// The clauses, the one that gives the headline first.
    pub clauses: Vec<ClauseSaid>,
}

/// A variance as it stood.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct VarianceSaid {
    /// What it is known by.
    pub identity: String,
    /// How it stood: `live`, `lapsed`, `outgrown` and so on.
    pub holds: String,
    /// The finding that it speaks of, by its identity, if there is one.
    pub finding: Option<String>,
    /// The requirement it speaks of, as book and name.
    pub requirement: String,
    /// Its last day, if it has one.
    pub until: Option<String>,
    /// The day it was granted.
    pub on: Option<String>,
    /// The excused values that were no longer what they had been: which, and what it was and is.
    pub changed: Vec<(String, String, String)>,
    /// Whether the requirement itself was no longer what it had been.
    pub requirement_moved: bool,
}

impl VarianceSaid {
    /// Its name in the design.
    #[must_use]
    pub fn name(&self) -> &str {
        self.identity.strip_prefix("variance ").unwrap_or(&self.identity)
    }
}

/// What a review says.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Account {
    /// The design file, as it was named.
    pub file: String,
    /// The program that made it.
    pub program: Program,
    /// The day it was made for.
    pub day: Option<String>,
    /// The stage it was made at.
    pub stage: String,
    /// What it came to as a whole.
    pub outcome: String,
    /// The files it was made of.
    pub made_of: Vec<MadeOf>,
    /// What the design states, field notes laid over it; nothing where the review does not hold it.
    pub stated: Option<Vec<Stated>>,
    /// The books it used.
    pub books: Vec<BookSaid>,
    /// What was found.
    pub findings: Vec<FindingSaid>,
    /// The variances of the design.
    pub variances: Vec<VarianceSaid>,
}

impl Account {
    /// The book of this name.
    #[must_use]
    pub fn book(&self, name: &str) -> Option<&BookSaid> {
        self.books.iter().find(|book| book.name == name)
    }

    /// The variance that is known by this.
    #[must_use]
    pub fn variance(&self, identity: &str) -> Option<&VarianceSaid> {
        self.variances.iter().find(|one| one.identity == identity)
    }
}
