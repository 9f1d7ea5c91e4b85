//! Two reviews held against each other: what is settled, what is new, what is still open, and what made the
//! difference. What stands on another line, in another order or in another spelling is no difference.
//!
//! A difference names its cause: the design, a book, the program, a variance or the day. A cause is read off the
//! two reviews or tried by judging anew, and never guessed: where it cannot be told, what moved is told.

pub mod account;
pub mod books;
pub mod causes;
pub mod stated;
pub mod verdicts;

use account::VarianceSaid;

pub use account::Account;
pub use books::{BookChange, RuleChange};
pub use causes::{Cause, Factor, How, OfBook, Trial, Why};
pub use stated::{Change, Changes, Renamed};
pub use verdicts::{ClauseChange, FindingChange, NumberChange, Turn};

/// What two reviews come to beside each other.
#[derive(Clone, PartialEq, Debug)]
pub struct Comparison {
    /// What the designs state otherwise.
    pub stated: Changes,
    /// The books that are not what they were.
    pub books: Vec<BookChange>,
    /// Variances that stand otherwise: the name, how it stood, how it stands; nothing where there was or is none.
    pub variances: Vec<(String, Option<String>, Option<String>)>,
    /// What moved between the two at all.
    pub moved: Vec<Factor>,
    /// The findings that are not as they were, and those that are still open: in the order of the newer review.
    pub findings: Vec<FindingChange>,
    /// How many findings are as they were and not open.
    pub as_before: usize,
}

/// Holds two reviews against each other. What was tried by judging anew helps to tell causes apart.
#[must_use]
pub fn compare(old: &Account, new: &Account, trials: &[Trial]) -> Comparison {
    let stated = stated::changes(old, new);
    let books = books::changes(old, new, &stated);
    let variances = variances(old, new, &stated);
    let moved = causes::moved(old, new, &stated, &books);
    let (mut findings, as_before) = verdicts::changes(old, new, &stated);
    causes::name(
        &mut findings,
        &causes::Moves { old, new, stated: &stated, books: &books, moved: &moved, trials },
    );
    Comparison { stated, books, variances, moved, findings, as_before }
}

fn variances(
    old: &Account,
    new: &Account,
    stated: &Changes,
) -> Vec<(String, Option<String>, Option<String>)> {
    let name = |one: &VarianceSaid| {
        let entry = stated.now_called(&format!("variances.{}", one.name()));
        entry.strip_prefix("variances.").unwrap_or(&entry).to_owned()
    };
    let was: Vec<(String, String)> = old.variances.iter().map(|one| (name(one), one.holds.clone())).collect();
    let is: Vec<(String, String)> =
        new.variances.iter().map(|one| (one.name().to_owned(), one.holds.clone())).collect();
    let holds = |list: &[(String, String)], name: &str| {
        list.iter().find(|(own, _)| own == name).map(|(_, holds)| holds.clone())
    };
    let gone = was.iter().filter(|(name, _)| holds(&is, name).is_none());
    is.iter()
        .chain(gone)
        .map(|(name, _)| (name.clone(), holds(&was, name), holds(&is, name)))
        .filter(|(_, was, is)| was != is)
        .collect()
}

impl Comparison {
    /// The findings that turned so.
    pub fn of(&self, turn: Turn) -> impl Iterator<Item = &FindingChange> {
        self.findings.iter().filter(move |one| one.turn == turn)
    }
}
