//! What a review comes to as a whole.

use crate::judge::verdict::Verdict;

use super::finding::{Clause, Finding, Standing, is_open};

/// What a review comes to as a whole: the first of these that holds.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Exit {
    /// An entry or a rulebook could not be read.
    CouldNotRead,
    /// Something that has to be is unmet, or something is that work has to wait for.
    Unmet,
    /// A book that is to decide is not in force on the day of the review, so nothing is decided.
    NotInForce,
    /// A book that is to decide does not come out as its own cases say, so nothing is decided.
    NotProven,
    /// No requirement of a book that counts was judged.
    NothingJudged,
    /// Something that has to be cannot be told yet, or something that work has to wait for.
    Undetermined {
        /// Whether a person may accept that for now; never what work has to wait for.
        may_be_accepted: bool,
    },
    /// All that has to be is met, as far as it was asked.
    Met,
}

impl Exit {
    /// The status the program leaves with.
    #[must_use]
    pub fn status(self, accept_undetermined: bool) -> u8 {
        match self {
            Exit::CouldNotRead => 2,
            Exit::Unmet => 1,
            Exit::NothingJudged | Exit::NotInForce | Exit::NotProven => 3,
            Exit::Undetermined { may_be_accepted } => {
                if may_be_accepted && accept_undetermined {
                    0
                } else {
                    3
                }
            }
            Exit::Met => 0,
        }
    }
}

/// What a review comes to: whether everything could be read, what keeps a book that is to decide from deciding, and
/// what the findings are. Books for information have no part in it, and books that every review uses do not make a
/// review of their own.
#[must_use]
pub fn exit(could_read: bool, withheld: Option<Exit>, findings: &[Finding]) -> Exit {
    let clauses = || findings.iter().flat_map(|finding| &finding.clauses);
    let judged = |clause: &Clause| {
        clause.standing.is_to_decide()
            && clause.standing != Standing::Always
            && (clause.verdict == Verdict::Met || is_open(clause.verdict))
    };
    let any = |verdict| clauses().any(|clause| weighs(clause) && clause.shown() == verdict);
    if !could_read {
        Exit::CouldNotRead
    } else if any(Verdict::Unmet) {
        Exit::Unmet
    } else if let Some(withheld) = withheld {
        withheld
    } else if !clauses().any(judged) {
        Exit::NothingJudged
    } else if any(Verdict::Undetermined) {
        Exit::Undetermined { may_be_accepted: findings.iter().all(|finding| finding.stops().is_none()) }
    } else {
        Exit::Met
    }
}

/// Whether a clause has a say: a duty that counts, or what work has to wait for, whatever its verb.
fn weighs(clause: &Clause) -> bool {
    clause.binds() || (clause.standing.counts() && clause.stops.is_some())
}
