//! A finding: what the clauses of all books come to on one subject, for one thing.

use crate::base::number::{Dimension, Number};
use crate::base::text::Span;
use crate::base::value::{EntryPath, Missing};
use crate::judge::trace::Trace;
use crate::judge::verdict::{About, Verdict};
use crate::rulebook::checked::{Basis, Obligation, Stops};

/// What a book is for this design.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Standing {
    /// Used in every review, whatever the design names.
    Always,
    /// It is law where the building stands.
    Adopted,
    /// The contract asks for it.
    ByContract,
    /// It is to decide and cannot: it is not in force on the day of the review, or its own cases do not bear it out.
    Withheld,
    /// It is shown and does not count.
    ForInformation,
}

impl Standing {
    /// Whether its verdicts count.
    #[must_use]
    pub fn counts(self) -> bool {
        self.is_to_decide() && self != Standing::Withheld
    }

    /// Whether the design names it as one that decides, be it that it cannot.
    #[must_use]
    pub fn is_to_decide(self) -> bool {
        self != Standing::ForInformation
    }
}

/// What a clause or a finding comes to for people: its verdict, with what is not as asked told apart by whether
/// it has to be.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Comes {
    /// A duty is not as asked.
    Unmet,
    /// It is not as asked, and sources disagree whether it is a duty.
    Disputed,
    /// It is not known yet.
    Open,
    /// A piece of advice, or an offer, is not as asked.
    NotFollowed,
    /// It is as asked.
    Met,
    /// It is not asked here.
    NotApplicable,
    /// It cannot be asked yet.
    NotYetDue,
    /// It is not as asked, and a variance on file permits it.
    Varied,
}

impl Comes {
    /// All of them, in the order in which they are counted.
    pub const ALL: [Comes; 8] = [
        Comes::Unmet,
        Comes::Disputed,
        Comes::Open,
        Comes::NotFollowed,
        Comes::Met,
        Comes::NotApplicable,
        Comes::NotYetDue,
        Comes::Varied,
    ];
}

/// What one clause of one book comes to.
#[derive(Clone, PartialEq, Debug)]
pub struct Clause {
    /// The book, by its place among those that were used.
    pub book: usize,
    /// The rule, by its place in the book.
    pub rule: usize,
    /// What the book is for this design, and [`Standing::Withheld`] where it would decide and cannot.
    pub standing: Standing,
    /// The verb of its source.
    pub obligation: Obligation,
    /// Whether sources disagree about the verb.
    pub disputed: bool,
    /// How sure its author is of the source.
    pub basis: Basis,
    /// Work that waits for it.
    pub stops: Option<Stops>,
    /// What of the rule it is about.
    pub about: About,
    /// What it comes to.
    pub verdict: Verdict,
    /// For an undetermined one: the smallest list of entries that would decide it.
    pub missing: Vec<Missing>,
    /// Why it came out so; worked out for what is shown.
    pub trace: Option<Box<Trace>>,
    /// For an unmet one: the values that decided, as a variance would have to name them.
    pub excusable: Vec<Excused>,
    /// The live variance that excuses it, by its place among the variances.
    pub variance: Option<usize>,
}

/// A value that decided an unmet requirement.
#[derive(Clone, PartialEq, Debug)]
pub struct Excused {
    /// What a variance calls it.
    pub name: String,
    /// The value in words.
    pub words: String,
    /// The number that it is, if it is one.
    pub number: Option<(Number, Dimension)>,
    /// Whether it is read straight from the file, and not computed.
    pub declared: bool,
}

impl Clause {
    /// What it comes to on the page: where sources disagree whether it is a duty at all, a failure is held at
    /// "can't tell yet"; one that a live variance excuses is on file.
    #[must_use]
    pub fn shown(&self) -> Verdict {
        if self.variance.is_some() && self.verdict == Verdict::Unmet {
            return Verdict::Varied;
        }
        if self.disputed && self.verdict == Verdict::Unmet { Verdict::Undetermined } else { self.verdict }
    }

    /// What it comes to for people.
    #[must_use]
    pub fn comes(&self) -> Comes {
        match self.verdict {
            Verdict::Unmet if self.variance.is_some() => Comes::Varied,
            Verdict::Unmet if self.disputed => Comes::Disputed,
            Verdict::Unmet if self.obligation == Obligation::Shall => Comes::Unmet,
            Verdict::Unmet => Comes::NotFollowed,
            Verdict::Undetermined => Comes::Open,
            Verdict::Met => Comes::Met,
            Verdict::NotApplicable => Comes::NotApplicable,
            Verdict::NotYetDue => Comes::NotYetDue,
            Verdict::Varied => Comes::Varied,
        }
    }

    /// Whether it is a duty that counts for this design.
    #[must_use]
    pub fn binds(&self) -> bool {
        self.standing.counts() && self.obligation == Obligation::Shall
    }
}

/// What a finding is about.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Subject {
    /// The whole design.
    Whole,
    /// One thing: its kind and its name in the file.
    Thing {
        /// The kind.
        kind: String,
        /// The name.
        name: String,
    },
    /// A list of things of this kind: whether it is complete, or that it is empty.
    List {
        /// The kind.
        kind: String,
    },
}

/// What the clauses of all books come to on one subject, for one thing.
#[derive(Clone, PartialEq, Debug)]
pub struct Finding {
    /// What it is known by, in this review and the next: subject, kind and name. It holds no value and no line.
    pub identity: String,
    /// What the clauses have in common, as their rules name it.
    pub subject: String,
    /// What it is about.
    pub of: Subject,
    /// Where that stands in the file.
    pub at: Option<Span>,
    /// The entry that it is, if it is one.
    pub entry: Option<EntryPath>,
    /// The clauses: the one that gives the headline first, then by order of books.
    pub clauses: Vec<Clause>,
}

impl Finding {
    /// The clause that gives the headline.
    #[must_use]
    pub fn headline(&self) -> Option<&Clause> {
        self.clauses.first()
    }

    /// What the finding comes to.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        self.headline().map_or(Verdict::NotApplicable, Clause::shown)
    }

    /// What the finding comes to for people.
    #[must_use]
    pub fn comes(&self) -> Comes {
        self.headline().map_or(Comes::NotApplicable, Clause::comes)
    }

    /// Whether the clause that gives the headline is a duty of a book that counts.
    #[must_use]
    pub fn binds(&self) -> bool {
        self.headline().is_some_and(Clause::binds)
    }

    /// Whether a book that counts speaks of it.
    #[must_use]
    pub fn counts(&self) -> bool {
        self.clauses.iter().any(|clause| clause.standing.counts())
    }

    /// The work that waits for it: that of any clause which is not met, be it of a book that is to decide and cannot.
    #[must_use]
    pub fn stops(&self) -> Option<Stops> {
        self.clauses
            .iter()
            .filter(|clause| {
                clause.stops.is_some() && clause.standing.is_to_decide() && is_open(clause.shown())
            })
            .filter_map(|clause| clause.stops)
            .min()
    }

    /// Whether a duty that counts comes to this.
    #[must_use]
    pub fn binds_at(&self, verdict: Verdict) -> bool {
        self.clauses.iter().any(|clause| clause.binds() && clause.shown() == verdict)
    }
}

/// Whether something is left to do about it now.
#[must_use]
pub fn is_open(verdict: Verdict) -> bool {
    matches!(verdict, Verdict::Unmet | Verdict::Undetermined)
}

/// Which clause of a finding gives the headline: the lowest. A duty that cannot be told yet comes before advice that
/// is not followed, because only the duty can decide.
#[must_use]
pub fn rank(clause: &Clause) -> u8 {
    let duty = clause.obligation == Obligation::Shall;
    match (clause.comes(), duty) {
        (Comes::Unmet, _) => 0,
        (Comes::Disputed, true) => 1,
        (Comes::Open, true) => 2,
        (Comes::NotFollowed, _) => 3,
        (Comes::Disputed, false) => 4,
        (Comes::Open, false) => 5,
        (Comes::Varied, _) => 6,
        (Comes::NotYetDue, _) => 7,
        (Comes::Met, _) => 8,
        (Comes::NotApplicable, _) => 9,
    }
}
