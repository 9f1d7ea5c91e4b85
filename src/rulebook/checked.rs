//! Books that passed the checker. There is no other way to get one, so whoever holds one need not doubt it.

use std::sync::OnceLock;

use crate::base::number::Quantity;
use crate::base::problem::Problem;
use crate::base::text::{SourceId, Span};
use crate::base::vocabulary::Vocabulary;

use super::authors::{Authorship, Withdrawn};
use super::corrections::Advice;
use super::expr::typed::{Binding, Expr, LimitId, VarId};
use super::meaning;
use super::rules::Rules;
use super::scope::Covers;

/// The word that stands for a value in a table of words.
fn word_of<T: Copy + PartialEq>(table: &'static [(&'static str, T)], wanted: T) -> &'static str {
    table.iter().find(|(_, value)| *value == wanted).map_or("", |(word, _)| *word)
}

/// The verb of the source.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Obligation {
    /// Has to be.
    Shall,
    /// Ought to be.
    Should,
    /// Is permitted or offered.
    May,
}

impl Obligation {
    /// Every one of them, with the word by which a rule names it.
    pub const WORDS: &'static [(&'static str, Obligation)] =
        &[("shall", Obligation::Shall), ("should", Obligation::Should), ("may", Obligation::May)];

    /// The word by which a rule names it.
    #[must_use]
    pub fn word(self) -> &'static str {
        word_of(Self::WORDS, self)
    }
}

/// When a requirement can first be asked for. Later stages include the earlier ones.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Stage {
    /// On the drawing.
    Design,
    /// Once it is built.
    Installed,
    /// Once it runs.
    Operating,
}

impl Stage {
    /// Every one of them, with the word by which a rule names it.
    pub const WORDS: &'static [(&'static str, Stage)] =
        &[("design", Stage::Design), ("installed", Stage::Installed), ("operating", Stage::Operating)];

    /// The word by which a rule names it.
    #[must_use]
    pub fn word(self) -> &'static str {
        word_of(Self::WORDS, self)
    }
}

/// How sure the author is of what the source says.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Basis {
    /// The source's own text was read.
    Read,
    /// Part of the source's own text was read.
    ReadInPart,
    /// A text that tells what the source says was read.
    Secondary,
    /// A standard of the same family was read, and this one is taken to agree.
    SimilarStandard,
    /// From memory.
    Memory,
    /// Nothing written: what careful people of the trade do.
    CommonPractice,
}

impl Basis {
    /// Every one of them, with the word by which a rule names it.
    pub const WORDS: &'static [(&'static str, Basis)] = &[
        ("read", Basis::Read),
        ("read in part", Basis::ReadInPart),
        ("similar standard", Basis::SimilarStandard),
        ("secondary", Basis::Secondary),
        ("memory", Basis::Memory),
        ("common practice", Basis::CommonPractice),
    ];

    /// The word by which a rule names it.
    #[must_use]
    pub fn word(self) -> &'static str {
        word_of(Self::WORDS, self)
    }
}

/// Work that a requirement stops until it is met. Such a requirement is never accepted away.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Stops {
    /// No hole is drilled before.
    Drilling,
    /// The fan is not left running before.
    StartUp,
}

impl Stops {
    /// Every one of them, with the word by which a rule names it.
    pub const WORDS: &'static [(&'static str, Stops)] =
        &[("drilling", Stops::Drilling), ("start_up", Stops::StartUp)];

    /// The word by which a rule names it.
    #[must_use]
    pub fn word(self) -> &'static str {
        word_of(Self::WORDS, self)
    }
}

/// How a limit's words place the limit itself.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum LimitWords {
    /// "at least", "or more": the limit itself is enough.
    AtLeast,
    /// "at most", "no more than": the limit itself is allowed.
    AtMost,
    /// "more than", "above": the limit itself is not enough.
    MoreThan,
    /// "less than", "below": the limit itself is too much.
    LessThan,
}

impl LimitWords {
    /// Every one of them, with the word by which a rule names it.
    pub const WORDS: &'static [(&'static str, LimitWords)] = &[
        ("at least", LimitWords::AtLeast),
        ("at most", LimitWords::AtMost),
        ("more than", LimitWords::MoreThan),
        ("less than", LimitWords::LessThan),
    ];

    /// The word by which a rule names it.
    #[must_use]
    pub fn word(self) -> &'static str {
        word_of(Self::WORDS, self)
    }
}

/// A number of the source.
#[derive(Clone, PartialEq, Debug)]
pub struct Limit {
    /// Its name in the rule.
    pub name: String,
    /// What it is.
    pub value: Quantity,
    /// How the source's words place it; a limit that nothing compares (a share, a factor) has none.
    pub words: Option<LimitWords>,
    /// Where it stands.
    pub at: Span,
}

/// A piece of a message.
#[derive(Clone, PartialEq, Debug)]
pub enum Piece {
    /// Words.
    Words(String),
    /// A value, shown as it turns out.
    Value(Expr),
    /// A number, shown without its sign and with words that say on which side of nothing it lies.
    Sided(Expr, Sides),
}

/// What is said of a number above nothing, below it, and at it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Sides {
    /// Behind a number above nothing, or at it.
    pub above: String,
    /// Behind a number below nothing, shown without its sign.
    pub below: String,
    /// In place of a number that is nothing, if there are words for that.
    pub level: Option<String>,
}

/// What a person is told, with places for values.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Message(pub Vec<Piece>);

/// What is asked of: each thing of a list, by a variable.
#[derive(Clone, PartialEq, Debug)]
pub struct Each {
    /// The variable and the things.
    pub binding: Binding,
    /// The variable's name.
    pub name: String,
}

/// Where a requirement comes from.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Citation {
    /// The document, by its name in the book's list of sources.
    pub document: String,
    /// The section, as the document numbers it; empty where it has none.
    pub section: String,
    /// How sure the author is.
    pub basis: Basis,
}

/// The digest of what a rule means or a book says, once it was asked for. It follows from the rest: it tells no two rules
/// apart, and a copy, which may be changed, has its own.
#[derive(Debug, Default)]
pub struct Print(OnceLock<String>);

impl Clone for Print {
    fn clone(&self) -> Self {
        Print::default()
    }
}

impl PartialEq for Print {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

/// One requirement.
#[derive(Clone, PartialEq, Debug)]
pub struct CheckedRule {
    /// Its name: a phrase of what is asked for, equal to its file's name.
    pub name: String,
    /// What it asks for, in a few words.
    pub title: String,
    /// The verb of its source.
    pub obligation: Obligation,
    /// Whether sources disagree about the verb and the source's own text is not held.
    pub disputed: bool,
    /// When it can first be asked for.
    pub due: Stage,
    /// What it is about; rules of several books with one subject make one finding.
    pub subject: String,
    /// Work that it stops.
    pub stops: Option<Stops>,
    /// Where it comes from.
    pub source: Citation,
    /// The choice its author had to make where the source leaves one open; empty if none.
    pub interpretation: String,
    /// Why it is asked for.
    pub because: String,
    /// A note for whoever looks closer; empty if none.
    pub note: String,
    /// What it is asked of; once for the whole when there is none.
    pub each: Option<Each>,
    /// When it applies; always when there is none.
    pub applies: Option<Expr>,
    /// Its numbers.
    pub limits: Vec<Limit>,
    /// What has to hold.
    pub requires: Expr,
    /// What is said when it does not.
    pub unmet: Message,
    /// What would mend it.
    pub corrections: Vec<Advice>,
    /// Cautions for whoever does the work: `ladder`, `roof edge`.
    pub cautions: Vec<String>,
    /// Names of bound variables, by their numbers.
    pub variables: Vec<String>,
    /// Where the rule stands.
    pub at: Span,
    /// Where its cases stand in the same file, the key included; they are read only when asked for.
    pub cases_at: Option<Span>,
    /// What its book covers: it does not apply to a design that is outside of that.
    pub covered: Option<Covers>,
    /// Who put each of its fields there.
    pub authors: Authorship,
    /// Its fingerprint, once it was asked for.
    pub print: Print,
}

impl CheckedRule {
    /// `r-` and the digest of its meaning, worked out when it is first asked for: few rules ever are.
    #[must_use]
    pub fn fingerprint(&self, vocabulary: &Vocabulary) -> String {
        self.print.0.get_or_init(|| meaning::fingerprint(self, vocabulary)).clone()
    }

    /// The conditions under which it applies: what its book covers, then its own.
    pub fn conditions(&self) -> impl Iterator<Item = &Expr> {
        self.covered.iter().map(|covers| &covers.expr).chain(&self.applies)
    }

    /// The limit with this number.
    #[must_use]
    pub fn limit(&self, id: LimitId) -> Option<&Limit> {
        self.limits.get(usize::from(id.0))
    }

    /// The name of a bound variable.
    #[must_use]
    pub fn variable(&self, id: VarId) -> Option<&str> {
        self.variables.get(usize::from(id.0)).map(String::as_str)
    }
}

/// A document that a book draws on.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct SourceDocument {
    /// Its name in the book.
    pub name: String,
    /// Its title.
    pub title: String,
    /// Who published it.
    pub publisher: String,
    /// When.
    pub year: String,
    /// Where it can be read, or how it was come by.
    pub where_to_read: String,
    /// How sure the book's authors are of what it says.
    pub basis: Basis,
    /// Where the book names it.
    pub at: Span,
}

/// A design in the book's `cases` folder, over which the cases of its rules lay what they change.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BaseDesign {
    /// Its name: its file's name without the ending.
    pub name: String,
    /// The book in whose folder it lies.
    pub book: String,
    /// The text it stands in.
    pub source: SourceId,
}

/// A book.
#[derive(Clone, PartialEq, Debug)]
pub struct CheckedBook {
    /// Its name: its folder's name.
    pub name: String,
    /// What it is called.
    pub title: String,
    /// Who published what it carries.
    pub publisher: String,
    /// Which edition.
    pub edition: String,
    /// From when it is in force (a date as text), if it says.
    pub from: Option<String>,
    /// Until when, if it says.
    pub until: Option<String>,
    /// What it is in law, in one sentence a person reads.
    pub legal_nature: String,
    /// Which buildings and work it covers, in one sentence.
    pub covers: String,
    /// The same as a condition on the design, if it or the book it builds on says.
    pub covers_when: Option<Covers>,
    /// Documents it draws on.
    pub sources: Vec<SourceDocument>,
    /// Clauses left to the eye: section and what to look at.
    pub left_to_the_eye: Vec<(String, String)>,
    /// Clauses whose text is not held: section and subject.
    pub not_held: Vec<(String, String)>,
    /// Whether every review uses it without being asked: a book of what careful people of the trade do.
    pub always: bool,
    /// Whether it stands in the place of the book of its name that comes with the program.
    pub in_place: bool,
    /// The designs its cases start from: its own by name, then those of the books it builds on.
    pub base_designs: Vec<BaseDesign>,
    /// The books it builds on: it takes over their rules.
    pub builds_on: Vec<String>,
    /// Its rules, by name: its own and those it takes over, as amended.
    pub rules: Rules,
    /// Rules of the books it builds on that are no longer in force in it.
    pub withdrawn: Vec<Withdrawn>,
    /// What is odd about it and does not keep it from being used, such as an amendment that changes nothing.
    pub doubts: Vec<Problem>,
    /// Its digest, once it was asked for.
    pub print: Print,
    /// Where it stands.
    pub at: Span,
}

impl CheckedBook {
    /// `b-` and the digest of all that it says, worked out when it is first asked for.
    #[must_use]
    pub fn digest(&self, vocabulary: &Vocabulary) -> String {
        self.print.0.get_or_init(|| meaning::digest(self, vocabulary)).clone()
    }

    /// The rule with this name.
    #[must_use]
    pub fn rule(&self, name: &str) -> Option<&CheckedRule> {
        self.rules.iter().find(|rule| rule.name == name)
    }

    /// The rules that it writes or amends, each with its place; all others it takes over as they are.
    pub fn own_rules(&self) -> impl Iterator<Item = (usize, &CheckedRule)> {
        let own = |rule: &CheckedRule| {
            rule.authors.book == self.name
                || rule.authors.amendments.iter().any(|amendment| amendment.book == self.name)
        };
        self.rules.iter().enumerate().filter(move |(_, rule)| own(rule))
    }

    /// Whether it is in force on a day, given as 2026-05-12, as far as it says.
    #[must_use]
    pub fn is_in_force(&self, day: &str) -> bool {
        let from = self.from.as_deref().is_none_or(|from| from <= day);
        let until = self.until.as_deref().is_none_or(|until| day <= until);
        from && until
    }

    /// The design of this name that a case starts from which stands in the folder of this book: the design of the
    /// same folder, else the first of its own and of those of the books it builds on.
    #[must_use]
    pub fn base_design(&self, name: &str, case_of: &str) -> Option<&BaseDesign> {
        let mut named = self.base_designs.iter().filter(|design| design.name == name);
        let own = named.clone().find(|design| design.book == case_of);
        own.or_else(|| named.next())
    }
}
