//! What made a difference: the design, a book, the program, a variance or the day.
//!
//! Where both designs and both shelves of books are at hand, each cause is moved alone and back again, and judged
//! anew. Else it is read off the two reviews: which entries a verdict rests on, which requirement has another
//! fingerprint, which variance ended. Where neither tells, all that moved is named, as what it is: possible.

use std::collections::{BTreeMap, BTreeSet};

use super::account::{Account, ClauseSaid};
use super::books::{BookChange, FieldMove, RuleChange};
use super::stated::{Change, Changes, lies_in};
use super::verdicts::{ClauseChange, FindingChange, pairs};
use crate::findings::finding::Comes;

/// What can move between two reviews.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Factor {
    /// What the design states, field notes laid over it.
    Design,
    /// The variances on file.
    Variance,
    /// What a book says.
    Book,
    /// The day of the review.
    Date,
    /// The program.
    Program,
}

/// The section of a design that holds the variances.
const VARIANCES: &str = "variances";
/// The entry of a design that names the books.
pub(super) const RULEBOOKS: &str = "job.rulebooks";
/// The entry of a design that names the stage.
const STAGE: &str = "job.stage";

/// What both would have come to if only some of what moved had moved.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Trial {
    /// What was taken from the newer side; all else is the older's.
    pub moved: BTreeSet<Factor>,
    /// What each clause came to, by finding and requirement.
    pub came: BTreeMap<(String, String), Comes>,
}

/// One cause.
#[derive(Clone, PartialEq, Debug)]
pub enum Cause {
    /// Entries of the design that the verdict rests on; none where the reviews do not hold what moved.
    Design(Vec<Change>),
    /// The design, and it is not known which of these: all that moved in it.
    SomeOfDesign(Vec<Change>),
    /// The paper of a variance itself: its name, and its entries that moved.
    Variance(String, Vec<Change>),
    /// A book, and what of it.
    Book(String, OfBook),
    /// The day: what it was and is, and the variance that began or ended by it.
    Date(Option<String>, Option<String>, Option<String>),
    /// The program: its versions.
    Program(String, String),
}

/// What of a book it was.
#[derive(Clone, PartialEq, Debug)]
pub enum OfBook {
    /// A requirement.
    Rule(Box<RuleChange>),
    /// What it covers.
    Covers(FieldMove),
    /// It gave verdicts on one side alone: it has a fault, or is not at hand.
    Silent,
    /// It is not known what.
    Something,
}

/// How it is known.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum How {
    /// Nothing else moved.
    Only,
    /// Judged anew with this alone moved, the verdict turns; and without it, it does not.
    Alone,
    /// Judged anew with any one of these alone moved, the verdict turns.
    Each,
    /// Judged anew, the verdict turns only with all of these moved.
    Together,
    /// What the verdict rests on says so, in the two reviews.
    Told,
    /// One or several of these; the two reviews do not tell which.
    OneOf,
    /// Nothing that the two reviews hold has moved.
    #[default]
    NotTold,
}

/// What made a difference, and how that is known.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Why {
    /// The causes.
    pub causes: Vec<Cause>,
    /// How they are known.
    pub how: How,
}

/// What moved between two reviews at all, before anything else is asked of them.
#[must_use]
pub fn moved_between(old: &Account, new: &Account) -> Vec<Factor> {
    let stated = super::stated::changes(old, new);
    let books = super::books::changes(old, new, &stated);
    moved(old, new, &stated, &books)
}

/// What moved between the two reviews at all.
pub(super) fn moved(old: &Account, new: &Account, stated: &Changes, books: &[BookChange]) -> Vec<Factor> {
    let mut found = Vec::new();
    let paper = |one: &&Change| lies_in(&one.entry, VARIANCES);
    let (papers, others): (Vec<_>, Vec<_>) = stated.entries.iter().partition(paper);
    // Renamed things alone move nothing; without the entries, other bytes may mean anything.
    if !others.is_empty() || (!stated.known && stated.bytes_moved) {
        found.push(Factor::Design);
    }
    if !papers.is_empty() {
        found.push(Factor::Variance);
    }
    if !books.is_empty() {
        found.push(Factor::Book);
    }
    if old.day != new.day {
        found.push(Factor::Date);
    }
    if old.program != new.program {
        found.push(Factor::Program);
    }
    found
}

/// All that is known when causes are named.
pub(super) struct Moves<'a> {
    pub(super) old: &'a Account,
    pub(super) new: &'a Account,
    pub(super) stated: &'a Changes,
    pub(super) books: &'a [BookChange],
    pub(super) moved: &'a [Factor],
    pub(super) trials: &'a [Trial],
}

/// Names the cause of every clause that turned.
pub(super) fn name(findings: &mut [FindingChange], moves: &Moves<'_>) {
    for finding in findings {
        let identity_was = finding.identity_was.clone().unwrap_or_else(|| finding.identity.clone());
        let sides: Vec<_> = pairs(finding.was.as_ref(), finding.is.as_ref())
            .into_iter()
            .map(|(was, is)| (was.cloned(), is.cloned()))
            .collect();
        let thing = [&finding.was, &finding.is]
            .into_iter()
            .flatten()
            .map(|one| one.entry.clone())
            .find(|entry| !entry.is_empty());
        for clause in &mut finding.clauses {
            let (was, is) = sides
                .iter()
                .find(|(was, is)| {
                    was.as_ref().map(|one| &one.requirement) == clause.requirement_was.as_ref()
                        && is.as_ref().map(|one| &one.requirement) == clause.requirement_is.as_ref()
                })
                .cloned()
                .unwrap_or_default();
            let turned = Turned {
                was: was.as_ref(),
                is: is.as_ref(),
                thing: thing.as_deref(),
                identities: (&identity_was, &finding.identity),
            };
            clause.why = moves.why(clause, &turned);
        }
    }
}

/// A clause that turned, from both sides.
struct Turned<'c> {
    was: Option<&'c ClauseSaid>,
    is: Option<&'c ClauseSaid>,
    /// The entry that the thing is which it is about.
    thing: Option<&'c str>,
    /// What the finding was and is known by.
    identities: (&'c str, &'c str),
}

impl Moves<'_> {
    fn why(&self, clause: &ClauseChange, turned: &Turned<'_>) -> Why {
        if let [only] = self.moved {
            return Why { causes: self.causes(&[*only], turned), how: How::Only };
        }
        if let Some((factors, how)) = self.tried(clause, turned) {
            return Why { causes: self.causes(&factors, turned), how };
        }
        let told: Vec<Factor> =
            self.moved.iter().copied().filter(|factor| self.is_told(*factor, turned)).collect();
        // Another program may have judged the same otherwise, whatever else moved.
        let (factors, how) = match (told.is_empty(), self.moved.contains(&Factor::Program)) {
            (false, false) => (told, How::Told),
            (false, true) => (told.into_iter().chain([Factor::Program]).collect(), How::OneOf),
            (true, _) if self.moved.is_empty() => (Vec::new(), How::NotTold),
            (true, _) => (self.moved.to_vec(), How::OneOf),
        };
        Why { causes: self.causes(&factors, turned), how }
    }

    /// What judging anew says: which of the causes does it alone, or which of them are needed together.
    fn tried(&self, clause: &ClauseChange, turned: &Turned<'_>) -> Option<(Vec<Factor>, How)> {
        if self.trials.is_empty() {
            return None;
        }
        let (identity_was, identity_is) = turned.identities;
        let all: BTreeSet<Factor> = self.moved.iter().copied().collect();
        let came = |moved: &BTreeSet<Factor>| {
            let trial = self.trials.iter().find(|trial| trial.moved == *moved)?;
            // Names are those of the design that was judged.
            let new = moved.contains(&Factor::Design);
            let identity = if new { identity_is } else { identity_was };
            let requirement =
                if new { clause.requirement_is.as_ref() } else { clause.requirement_was.as_ref() };
            let key = |requirement: &String| (identity.to_owned(), requirement.clone());
            let found = requirement.and_then(|requirement| trial.came.get(&key(requirement)));
            let either = || {
                let other = [&clause.requirement_is, &clause.requirement_was].into_iter().flatten();
                other.filter_map(|requirement| trial.came.get(&key(requirement))).next()
            };
            Some(found.or_else(either).copied())
        };
        let turns = |came: Option<Comes>| {
            let said = |comes: Option<Comes>| comes.filter(|comes| *comes != Comes::NotApplicable);
            said(came) == said(clause.is)
        };
        let mut alone = Vec::new();
        let mut needed = Vec::new();
        for factor in &all {
            if turns(came(&BTreeSet::from([*factor]))?) {
                alone.push(*factor);
            }
            let without: BTreeSet<Factor> = all.iter().copied().filter(|one| one != factor).collect();
            if !turns(came(&without)?) {
                needed.push(*factor);
            }
        }
        match (alone.len(), needed.len()) {
            (1, _) => Some((alone, How::Alone)),
            (2.., _) => Some((alone, How::Each)),
            (0, 1..) => Some((needed, How::Together)),
            (0, 0) => Some((self.moved.to_vec(), How::OneOf)),
        }
    }

    /// Whether the two reviews say that a clause rests on something of this sort that moved.
    fn is_told(&self, factor: Factor, turned: &Turned<'_>) -> bool {
        match factor {
            Factor::Design => !self.entries(turned).is_empty(),
            Factor::Variance => self.paper(turned).is_some_and(|(_, entries)| !entries.is_empty()),
            Factor::Book => self.book(turned).is_some(),
            Factor::Date => self.turned_by_date(turned).is_some(),
            Factor::Program => false,
        }
    }

    fn causes(&self, factors: &[Factor], turned: &Turned<'_>) -> Vec<Cause> {
        let one = |factor: &Factor| match factor {
            Factor::Design => self.design(turned),
            Factor::Variance => {
                let (name, entries) = self.paper(turned).unwrap_or_default();
                Cause::Variance(name, entries)
            }
            Factor::Book => {
                let (book, rule) = self.book(turned).unwrap_or_else(|| {
                    let all: Vec<&str> = self.books.iter().map(|book| book.name.as_str()).collect();
                    (all.join(", "), OfBook::Something)
                });
                Cause::Book(book, rule)
            }
            Factor::Date => {
                Cause::Date(self.old.day.clone(), self.new.day.clone(), self.turned_by_date(turned))
            }
            Factor::Program => {
                let versions = [self.old, self.new].map(|of| of.program.version.clone());
                let [was, is] = versions;
                Cause::Program(was, is)
            }
        };
        factors.iter().map(one).collect()
    }

    /// The entries of the design that did it, as far as that is known.
    fn design(&self, turned: &Turned<'_>) -> Cause {
        let entries = self.entries(turned);
        let moved = self.stated.entries.iter().filter(|one| !lies_in(&one.entry, VARIANCES));
        let moved: Vec<Change> = moved.cloned().collect();
        match (entries.is_empty(), moved.len()) {
            (true, 2..) => Cause::SomeOfDesign(moved),
            (true, _) => Cause::Design(moved),
            (false, _) => Cause::Design(entries),
        }
    }

    /// The entries of the design that moved and that a clause rests on.
    fn entries(&self, turned: &Turned<'_>) -> Vec<Change> {
        let was = turned.was.map(|one| one.rests_on.iter().map(|entry| self.stated.now_called(entry)));
        let is = turned.is.map(|one| one.rests_on.iter().cloned());
        let rests_on: BTreeSet<String> = was.into_iter().flatten().chain(is.into_iter().flatten()).collect();
        let designed = || self.stated.entries.iter().filter(|one| !lies_in(&one.entry, VARIANCES));
        let not_yet = [turned.was, turned.is].into_iter().flatten().any(|one| one.comes == Comes::NotYetDue);
        let named = turned.was.is_none() != turned.is.is_none();
        let touches = |one: &&Change| {
            let came_or_went = named && turned.thing.is_some_and(|thing| lies_in(thing, &one.entry));
            let books = named && lies_in(&one.entry, RULEBOOKS) && self.names_the_book(one, turned);
            let stage = not_yet && one.entry == STAGE;
            came_or_went || books || stage || rests_on.iter().any(|rest| touches(one, rest))
        };
        designed().filter(touches).cloned().collect()
    }

    /// Whether an entry under `job.rulebooks` names the book of a clause.
    fn names_the_book(&self, change: &Change, turned: &Turned<'_>) -> bool {
        let last = change.entry.rsplit('.').next().unwrap_or("");
        [turned.was, turned.is].into_iter().flatten().any(|one| one.book_and_rule().0 == last)
            || change.entry == RULEBOOKS
    }

    /// The variance that excuses the clause on one side, or that speaks of it.
    fn variance_of(&self, turned: &Turned<'_>) -> Option<String> {
        let clauses = || [turned.was, turned.is].into_iter().flatten();
        let excuses = clauses().find_map(|one| one.variance.clone());
        let speaks = |of: &Account, finding: &str| {
            let of_clause = |requirement: &str| clauses().any(|one| one.requirement == requirement);
            let found = of
                .variances
                .iter()
                .find(|one| one.finding.as_deref() == Some(finding) && of_clause(&one.requirement));
            found.map(|one| one.identity.clone())
        };
        let (was, is) = turned.identities;
        excuses.or_else(|| speaks(self.new, is)).or_else(|| speaks(self.old, was))
    }

    /// The variance that excuses the clause on one side, with its entries that moved.
    fn paper(&self, turned: &Turned<'_>) -> Option<(String, Vec<Change>)> {
        let identity = self.variance_of(turned)?;
        let name = identity.strip_prefix("variance ").unwrap_or(&identity);
        let own = format!("{VARIANCES}.{name}");
        let entries = self.stated.entries.iter().filter(|one| lies_in(&one.entry, &own)).cloned().collect();
        Some((name.to_owned(), entries))
    }

    /// The book that moved under a clause: with the requirement, or because of what it covers.
    fn book(&self, turned: &Turned<'_>) -> Option<(String, OfBook)> {
        for one in [turned.is, turned.was].into_iter().flatten() {
            let (book, rule) = one.book_and_rule();
            let Some(change) = self.books.iter().find(|change| change.name == book) else { continue };
            let moved = change.rules.iter().find(|change| {
                let named = |side: &Option<super::account::RuleSaid>| {
                    side.as_ref().is_some_and(|side| side.name == rule)
                };
                change.asks_otherwise() && (named(&change.was) || named(&change.is))
            });
            let of = match (moved, &change.covers) {
                _ if change.was.is_none() || change.is.is_none() => Some(OfBook::Silent),
                (Some(rule), _) => Some(OfBook::Rule(Box::new(rule.clone()))),
                (None, Some(covers)) => Some(OfBook::Covers(covers.clone())),
                (None, None) => None,
            };
            if let Some(of) = of {
                return Some((book.to_owned(), of));
            }
            // Without the requirements at hand the fingerprints of the clauses still tell.
            let prints = |side: Option<&ClauseSaid>| side.map(|one| one.fingerprint.clone());
            if !change.known && prints(turned.was) != prints(turned.is) {
                return Some((book.to_owned(), OfBook::Something));
            }
        }
        None
    }

    /// The variance that began or ended by the day alone.
    fn turned_by_date(&self, turned: &Turned<'_>) -> Option<String> {
        let identity = self.variance_of(turned)?;
        let holds = |of: &Account| of.variance(&identity).map(|one| one.holds.clone());
        let by_day = |holds: &Option<String>| {
            holds.as_deref().is_some_and(|holds| matches!(holds, "lapsed" | "not in force"))
        };
        let (was, is) = (holds(self.old), holds(self.new));
        (self.old.day != self.new.day && was != is && (by_day(&was) || by_day(&is)))
            .then(|| identity.strip_prefix("variance ").unwrap_or(&identity).to_owned())
    }
}

/// Whether an entry that moved touches one that a clause rests on: it is it or lies around it, or it is a thing that
/// came or went in a list that the clause rests on, or a place in a value that does.
fn touches(change: &Change, rest: &str) -> bool {
    if lies_in(rest, &change.entry) {
        return true;
    }
    let Some(inner) = change.entry.strip_prefix(rest) else { return false };
    let one_step = inner.strip_prefix('.').is_some_and(|name| !name.contains(['.', '[']));
    inner.starts_with('[') || (change.is_thing && one_step)
}
