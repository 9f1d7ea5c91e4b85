//! What is told of books that build on others and of amendments.

use crate::base::problem::ProblemKind;

/// What, why and what to do; nothing for a problem of another sort.
pub(super) fn of(kind: ProblemKind, found: &str) -> Option<(String, &'static str, &'static str)> {
    use ProblemKind as K;
    let with = if found.is_empty() { String::new() } else { format!(": {found}") };
    let with = with.trim_end_matches('.');
    Some(match kind {
        K::BookBelow => (
            format!("This rulebook builds on one that cannot be used{with}."),
            "Without it most of its requirements are missing, and a book with a part missing gives no verdicts.",
            "Mend that book, correct its name, or name the folder it lies in with: --rulebooks",
        ),
        K::BookRing => (
            format!("This rulebook builds on itself, perhaps by way of others{with}."),
            "Books in a ring have no first one to take a requirement from, so none of them gives verdicts.",
            "Take one of the lines with \"builds_on\" away.",
        ),
        K::BookShadows => (
            format!("This rulebook has a name that it cannot have as it stands{with}."),
            "A book that took the place of another without a word could change verdicts behind everybody's back.",
            "Say in its book.yaml that it stands in the place of the one that comes with the program, or rename it.",
        ),
        K::RulesCollide => (
            format!("Two requirements of one name meet in this rulebook{with}."),
            "Which of the two counts would be a matter of luck, so the book gives no verdicts.",
            "Rename one, or withdraw the one that is not meant by an amendment.",
        ),
        K::AmendsNothing => (
            format!("This amendment changes something that is not there{with}."),
            "A change that reaches nothing leaves in force what somebody meant to change, so the book gives no verdicts.",
            "Correct the name. What is in force is listed by: undercroft rulebook list FILE",
        ),
        K::BaseMoved => (
            format!("The requirement has changed since this amendment was written{with}."),
            "Laid over another text than its author read, an amendment could mean something else. The book gives no verdicts until somebody has looked, and the unamended text is not used in its stead.",
            "Read the requirement as it stands now. If the amendment is still meant, write down what it finds today.",
        ),
        K::WasDiffers => (
            format!("What this amendment says was there is not what stands there{with}."),
            "Either the amendment was meant for another text, or a slip in it hides what it changes. The book gives no verdicts.",
            "Write under \"was\" what stands there, if the change is still meant.",
        ),
        K::AmendmentsDisagree => (
            format!("Two amendments of this rulebook want different things{with}."),
            "They are of the same rank, and this program does not choose between them. The book gives no verdicts.",
            "Take one of the two away.",
        ),
        K::WithdrawnAndChanged => (
            format!("A requirement is withdrawn and changed at once{with}."),
            "It cannot be out of force and in force with a change. The book gives no verdicts.",
            "Keep one of the two.",
        ),
        K::ChangesNothing => (
            format!("This amendment leaves everything as it is{with}."),
            "Verdicts are the same with it and without it; somebody may believe that it changes something.",
            "Take it away, or write what it is to change.",
        ),
        _ => return None,
    })
}
