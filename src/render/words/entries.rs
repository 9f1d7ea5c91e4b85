//! What is said of entries that cannot be read: keys, words, names, dates.

use super::{NOT_STATED, Said, plainly, quoted};
use crate::base::problem::{Problem, ProblemKind};

/// The sentences of a problem with an entry.
pub(super) fn entry(problem: &Problem) -> Said {
    use ProblemKind as K;
    let found = quoted(&problem.found);
    let or = |instead: &str| if found.is_empty() { instead.to_owned() } else { found.clone() };
    match problem.kind {
        K::UnknownKey => (
            format!("{} is not a key that belongs here.", or("This")),
            "A key that is not known is not read. What stands under it counts as not stated.".into(),
            "Correct its spelling or move it to where it belongs.".into(),
        ),
        K::KeyMissing => (
            format!("{} has to be stated here and is not.", or("An entry")),
            NOT_STATED.into(),
            "Add it. If nobody knows it yet, write: unknown".into(),
        ),
        K::NoVersion => (
            "The first line of a design is missing. It says in which form the file is written.".into(),
            "Without it a later form of the file could be taken for this one.".into(),
            "Write at the top of the file: undercroft: 1".into(),
        ),
        K::WrongShape => (
            format!("{} has another form than this entry takes.", or("What stands here")),
            NOT_STATED.into(),
            "Write it in the form that is accepted.".into(),
        ),
        K::UnknownWord => (
            format!("{} is not one of the words this entry takes.", or("This")),
            NOT_STATED.into(),
            match remark(problem) {
                Some(word) => format!("If the rest is a remark, put a # in front of it: {word}   # remark. Else choose one of the words that are accepted, or write: unknown"),
                None => "Choose one of the words that are accepted, or write: unknown".into(),
            },
        ),
        K::NoneSaysNothing => (
            "The word none is no answer here.".into(),
            "The word none says that a thing is not there, and this entry does not ask for a thing. It counts as not stated.".into(),
            "Write what it is. If nobody knows it yet, write: unknown".into(),
        ),
        K::UnknownName => (
            format!("{} is a name that nothing in this file has.", or("This")),
            "An entry that points at nothing says nothing, so it counts as not stated.".into(),
            "Correct its spelling, or add the thing that it names.".into(),
        ),
        K::NotInDesign => (
            format!("{} is nothing that the design has here.", or("This")),
            "Field notes tell of what the design names. What stands under a name that it does not have counts as not stated.".into(),
            "Write the name as the design has it. For a thing that is new, take a name that is like no other, and say what kind it is.".into(),
        ),
        K::NamesUnread => (
            format!("Some names belong to things that were not read: {}.", plainly(&problem.found)),
            "The lines that describe them stand in the file, but a fault in front of them or a wrong place keeps them from being read.".into(),
            "Nothing here. Mend the other places first, and these names will be known.".into(),
        ),
        K::UnknownVersion => (
            format!("This file is written in form {} of the design file, and this program reads form 1.", or("another")),
            "Entries may mean something else there, so nothing was judged.".into(),
            "Use a program of the same age as the file. If the number is a slip, write at the top: undercroft: 1".into(),
        ),
        K::BadText => (
            format!("{} cannot stand here.", or("This text")),
            NOT_STATED.into(),
            "Write it again in plain words.".into(),
        ),
        K::BadTime => (
            format!("{} cannot be read as a date or a time.", or("This")),
            "Time limits count days and hours, so a date must be beyond doubt.".into(),
            if problem.accepts.is_empty() {
                "Write the date as year-month-day.".into()
            } else {
                String::new()
            },
        ),
        K::ClockChange => (
            format!("{} is an hour that the clocks there show twice, or skip.", or("This")),
            "Hours are counted exactly, and this one could be either of two moments, or none.".into(),
            "Add the offset from universal time.".into(),
        ),
        _ => (
            format!("{} cannot stand together with another entry here.", or("This")),
            NOT_STATED.into(),
            "Keep one of the two.".into(),
        ),
    }
}

/// The word that was meant, where more than it stands there.
fn remark(problem: &Problem) -> Option<&str> {
    let word = problem.nearest.as_deref()?;
    let rest = problem.found.strip_prefix(word)?;
    let apart = rest.starts_with([',', ';', ' ', '(']);
    (apart && rest.len() > 1).then_some(word)
}
