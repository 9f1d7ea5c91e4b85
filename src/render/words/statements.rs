//! What is said of statements that cannot all be true.

use super::{Words, capital, plainly, quoted, with_hints};
use crate::base::problem::{Problem, ProblemKind};

/// The sentences of a problem between what several places say.
pub(super) fn statements(problem: &Problem) -> Words {
    let found = capital(plainly(&problem.found).trim_end_matches('.'));
    if problem.kind == ProblemKind::Contradiction {
        let what = if found.is_empty() {
            "Two statements about the same thing do not agree.".into()
        } else {
            format!("Not all that is stated can be true. {found}.")
        };
        return Words {
            what,
            why: "Until it is settled, a value counts as lying anywhere between what is stated, and a word as not known."
                .into(),
            todo: match problem.accepts.chars().next() {
                None => with_hints("Measure again, and correct whichever is wrong.", problem),
                Some(first) if first.is_uppercase() => format!("{}.", plainly(&problem.accepts).trim_end_matches('.')),
                Some(_) => with_hints("Correct whichever of the two is wrong.", problem),
            },
        };
    }
    let mut todo = match &problem.nearest {
        Some(nearest) if !nearest.is_empty() => format!("Perhaps {} was meant. ", quoted(nearest)),
        _ => String::new(),
    };
    let accepts = plainly(&problem.accepts);
    let accepts = accepts.trim_end_matches('.');
    if accepts.is_empty() {
        todo.push_str("Correct whichever of the places is wrong.");
    } else if accepts.starts_with(char::is_uppercase) {
        todo.push_str(&format!("{accepts}."));
    } else {
        todo.push_str(&format!("Accepted here: {accepts}."));
    }
    Words {
        what: if found.is_empty() { "What is written here cannot be.".into() } else { format!("This cannot be. {found}.") },
        why: "One of the places has to be wrong, and until it is settled nothing is concluded from them that turns on which."
            .into(),
        todo,
    }
}
