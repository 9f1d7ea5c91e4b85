//! What is said of rulebooks that cannot be used.

use super::{Said, also_found};
use crate::base::problem::ProblemKind;

const BOOK_STOPS: &str =
    "A rulebook with a fault in it gives no verdicts at all, so that none of them is wrong.";

/// The sentences of a problem with a rulebook.
pub(super) fn book(kind: ProblemKind, found: &str) -> Said {
    use ProblemKind as K;
    // Of a book that is not proven its name is found, and the requirements that it is about.
    let (name, wrong) = found.split_once(": ").unwrap_or((found, ""));
    match kind {
        K::UnknownBook => (
            if found.is_empty() {
                "The design names no rulebook.".into()
            } else {
                format!("The rulebook {found} is not one that this program holds.")
            },
            "Without a rulebook there is nothing to check against, and no check is never a success.".into(),
            "Name the books that count on this site under job: rulebooks:, each as adopted, by contract or for information. See them with: undercroft rulebook list".into(),
        ),
        K::NameDiffers => (
            format!("The name of this file and the name written in it differ{}.", also_found(found)),
            BOOK_STOPS.into(),
            "Give both the same name.".into(),
        ),
        K::BadExpression => (
            format!("The words of this rule cannot be read from here on{}.", also_found(found)),
            BOOK_STOPS.into(),
            "Write it as the page on the rule language shows.".into(),
        ),
        K::UnknownInExpression => (
            format!("A rule cannot ask for this here{}.", also_found(found)),
            BOOK_STOPS.into(),
            "Correct its spelling. What can be asked of each thing is listed by: undercroft rulebook words".into(),
        ),
        K::KindsDiffer => (
            format!("What stands here is not of the kind that is wanted{}.", also_found(found)),
            BOOK_STOPS.into(),
            "A length goes with a length, a word with the words of its own list, a thing with one of its own kind.".into(),
        ),
        K::NameClash => (
            format!("This name belongs to something else{}.", also_found(found)),
            BOOK_STOPS.into(),
            "Choose another name for the limit or for the thing.".into(),
        ),
        K::EmptyNotSaid => (
            "This rule does not say what holds when there are none.".into(),
            BOOK_STOPS.into(),
            "Add after it: , or met if there are none (or unmet, or undetermined).".into(),
        ),
        K::BadMessage => (
            format!("This message asks for something it may not{}.", also_found(found)),
            BOOK_STOPS.into(),
            "A message may use the thing the rule is asked of, the limits, and what stands at the top.".into(),
        ),
        K::UnusedLimit => (
            format!("The rule never uses this limit{}.", also_found(found)),
            "A number that decides nothing is a number that somebody believes in. A rulebook with a fault in it gives no verdicts.".into(),
            "Use it in the rule, or take it away.".into(),
        ),
        K::LimitWithoutWords => (
            format!("Nothing says whether the limit itself is enough{}.", also_found(found)),
            BOOK_STOPS.into(),
            "Say how the source places it: at least, at most, more than or less than.".into(),
        ),
        K::BadRule => (
            format!("This rule cannot be used as it stands{}.", also_found(found.trim_end_matches('.'))),
            BOOK_STOPS.into(),
            "Mend the entry that is marked.".into(),
        ),
        K::CaseFails => (
            format!("A case does not come out as its author says{}.", also_found(found)),
            "Either the rule or the case is wrong, and until that is known the rule proves nothing.".into(),
            "Mend whichever of the two is wrong, and run: undercroft rulebook prove".into(),
        ),
        K::BookUnproven => (
            format!(
                "{} is not borne out by its own cases{}.",
                if name.is_empty() { "A rulebook".to_owned() } else { format!("The rulebook {name}") },
                also_found(wrong)
            ),
            "What it asks and what its cases say differ, so its verdicts are shown and decide nothing."
                .into(),
            "Mend whichever of the two is wrong.".into(),
        ),
        K::BookOutOfDate => (
            format!(
                "{} is not in force on the day of this review.",
                if found.is_empty() { "A rulebook".to_owned() } else { format!("The rulebook {found}") }
            ),
            "Verdicts under it tell what it would ask for, not what counts on that day.".into(),
            "Check the date of the job, or name the edition that was in force.".into(),
        ),
        _ => (
            "This part of a rulebook cannot be used as it stands.".into(),
            BOOK_STOPS.into(),
            "Mend the entry that is marked.".into(),
        ),
    }
}
