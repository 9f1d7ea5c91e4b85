//! What changed from one version of a design to the next, and because of what. Each side is a design, judged now, or
//! a review made before.

use super::Form;
use super::designs::{Papers, beside, no_day, take};
use super::host::Host;
use super::{Status, library};
use crate::findings::Comes;
use crate::findings::compare::causes::moved_between;
use crate::findings::compare::{Account, Comparison, compare};
use crate::render::compared::{self, SideName, Sides};
use crate::render::json::{self, NotAReview};
use crate::render::terminal::Look;
use crate::render::visible::one_line;
use crate::review::trial::{self, trials};
use crate::review::{self, Explained, Library, Review};

/// What is wanted of one side.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Wanted {
    /// A design file, or a review made before.
    pub file: String,
    /// Field notes that lie over the design.
    pub field_notes: Vec<String>,
    /// The day of the review.
    pub on: Option<String>,
    /// Folders with more rulebooks.
    pub rulebooks: Vec<String>,
}

/// What is wanted of a comparison.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Request {
    /// The older side.
    pub old: Wanted,
    /// The newer side.
    pub new: Wanted,
    /// What comes out.
    pub form: Form,
}

/// One side as it was read: a design with its books, or what a review says.
enum Side {
    Design(Box<Papers>, Box<Library>),
    Review(Box<Account>),
}

/// Compares, prints, and says whether something turned for the worse.
pub fn run(host: &mut dyn Host, request: &Request, look: Look) -> Status {
    let read = (side(host, &request.old, look), side(host, &request.new, look));
    let (old, new) = match read {
        (Ok(old), Ok(new)) => (old, new),
        (old, new) => {
            [old.err(), new.err()].into_iter().flatten().for_each(|said| host.tell(&said));
            return Status::CouldNotRead;
        }
    };
    let program = host.program();
    let reviews = (reviewed(&old, &request.old), reviewed(&new, &request.new));
    let accounts = [(&old, &reviews.0), (&new, &reviews.1)].map(|(side, review)| match (side, review) {
        (Side::Review(account), _) => Some((**account).clone()),
        (Side::Design(..), Some(review)) => json::account(review, &program),
        (Side::Design(..), None) => None,
    });
    let [Some(was), Some(is)] = accounts else { return Status::CouldNotRead };
    let tried = match (&old, &reviews.0, &new, &reviews.1) {
        (Side::Design(_, old_books), Some(old), Side::Design(_, new_books), Some(new)) => trials(
            trial::Side { review: old, library: old_books },
            trial::Side { review: new, library: new_books },
            &moved_between(&was, &is),
        ),
        _ => Vec::new(),
    };
    let comparison = compare(&was, &is, &tried);
    let sides = Sides {
        old: name(&request.old, &old, &was),
        new: name(&request.new, &new, &is),
        tried: reviews.0.is_some() && reviews.1.is_some(),
    };
    host.print(&match request.form {
        Form::Text => compared::page(&comparison, &was, &is, &sides, &look),
        Form::Json => compared::json::document(&comparison, (&was, &is), &sides, &program),
    });
    status(&comparison, &was, &is)
}

/// With which status a comparison leaves.
#[must_use]
pub fn status(comparison: &Comparison, was: &Account, is: &Account) -> Status {
    const COULD_NOT: &str = "could not read";
    let newly = |comes: Comes| comparison.findings.iter().any(|one| one.newly(comes));
    let decides = |account: &Account| !matches!(account.outcome.as_str(), "not proven" | "not in force");
    if was.outcome == COULD_NOT || is.outcome == COULD_NOT {
        Status::CouldNotRead
    } else if newly(Comes::Unmet) {
        Status::Unmet
    } else if newly(Comes::Open) || newly(Comes::Disputed) || (decides(was) && !decides(is)) {
        Status::Undetermined
    } else {
        Status::Fine
    }
}

fn name(wanted: &Wanted, side: &Side, account: &Account) -> SideName {
    SideName {
        file: wanted.file.clone(),
        is_review: matches!(side, Side::Review(_)),
        notes: wanted.field_notes.clone(),
        stage: account.stage.clone(),
        day: account.day.clone(),
        outcome: account.outcome.clone(),
    }
}

/// The review of a side that is a design.
fn reviewed<'s>(side: &'s Side, wanted: &'s Wanted) -> Option<Review<'s>> {
    match side {
        Side::Design(papers, books) => {
            Some(review::review(&papers.input(wanted.on.as_deref(), Explained::Everything), books))
        }
        Side::Review(_) => None,
    }
}

/// Reads one side, or says why it cannot be used.
fn side(host: &dyn Host, wanted: &Wanted, look: Look) -> Result<Side, String> {
    if let Some(said) = wanted.on.as_deref().and_then(no_day) {
        return Err(said);
    }
    let bytes = take(host, &wanted.file).map_err(|said| format!("{said}\n"))?;
    let text = String::from_utf8_lossy(&bytes);
    match json::accounts(&text) {
        Ok(accounts) => from_review(accounts, wanted).map(|account| Side::Review(Box::new(account))),
        Err(NotAReview::NotJson) if !wanted.file.ends_with(".json") => {
            let papers = beside(host, &wanted.file, bytes, None, &wanted.field_notes)?;
            let books = library::gather(host, &wanted.rulebooks)?;
            if let Some(said) = library::faults(&books, look) {
                return Err(said);
            }
            Ok(Side::Design(Box::new(papers), Box::new(books)))
        }
        Err(why) => Err(not_a_review(&wanted.file, &why)),
    }
}

/// The one review that a file holds.
fn from_review(accounts: Vec<Account>, wanted: &Wanted) -> Result<Account, String> {
    let file = one_line(&wanted.file);
    if !wanted.field_notes.is_empty() {
        return Err(format!(
            "{file} is a review made before, and field notes lie over a design. Name the design instead.\n"
        ));
    }
    let files: Vec<String> = accounts.iter().map(|account| account.file.clone()).collect();
    match <[Account; 1]>::try_from(accounts) {
        Ok([one]) => Ok(one),
        Err(_) if files.is_empty() => {
            Err(format!("{file} holds no review. Make one with: undercroft review FILE --as json\n"))
        }
        Err(_) => Err(format!(
            "{file} holds several reviews, of {}. Two are compared at a time: make a file of each with undercroft review FILE --as json\n",
            one_line(&files.join(", "))
        )),
    }
}

/// Why a file is no review, and what to do.
#[must_use]
pub fn not_a_review(file: &str, why: &NotAReview) -> String {
    let file = one_line(file);
    let make = "A review is made with: undercroft review FILE --as json";
    match why {
        NotAReview::NotJson => {
            format!(
                "{file} is neither a design nor a review. Its name says that it is JSON, and it holds no review. {make}\n"
            )
        }
        NotAReview::OtherForm(found) => {
            format!("{file} is no review: it says that it is \"{}\". {make}\n", one_line(found))
        }
        NotAReview::OtherVersion(found) => format!(
            "{file} is a review of the form {}, and this program reads form {}. Make it anew, or use the program that wrote it.\n",
            one_line(found),
            json::FORM
        ),
        NotAReview::Part => format!(
            "{file} is a part of a review, so what it leaves out cannot be compared. Make it anew without --about, --place, \
             --book, --due and --weight. {make}\n"
        ),
        NotAReview::Broken(key) => format!(
            "{file} is a review of which a part is missing or not as it was written: \"{key}\". Make it anew. {make}\n"
        ),
    }
}
