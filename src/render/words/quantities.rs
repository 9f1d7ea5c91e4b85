//! What is said of numbers with units.

use super::{NOT_STATED, Said, quoted};
use crate::base::problem::{Problem, ProblemKind};

/// The sentences of a problem with a quantity.
pub(super) fn quantity(problem: &Problem) -> Said {
    use ProblemKind as K;
    let found = quoted(&problem.found);
    let or = |instead: &str| if found.is_empty() { instead.to_owned() } else { found.clone() };
    match problem.kind {
        K::NoUnit => (
            format!("{} has no unit.", or("This number")),
            match problem.accepts.contains(" per ft") {
                true => {
                    "A bare number could be inches to the foot or a share, and this program never guesses."
                        .into()
                }
                false => {
                    "A bare number could be feet, inches or millimetres, and this program never guesses."
                        .into()
                }
            },
            "Write the unit behind it.".into(),
        ),
        K::UnknownUnit => (
            format!("The unit in {} is not known.", or("this entry")),
            NOT_STATED.into(),
            "Write the unit as the trade writes it.".into(),
        ),
        K::WrongDimension => (
            format!("{} is a quantity of another kind than this entry takes.", or("This")),
            NOT_STATED.into(),
            "Check that the number stands under the right key and has the right unit.".into(),
        ),
        K::UnitsMixed => (
            format!("The units in {} cannot stand in one value.", or("this entry")),
            NOT_STATED.into(),
            "Write it in one of them.".into(),
        ),
        K::PrintersQuotes => (
            format!(
                "The marks round {} are printer's quotes, and they would be part of the value.",
                or("this")
            ),
            NOT_STATED.into(),
            "Leave them away.".into(),
        ),
        K::NotOneNumber => (
            format!("{} is not one number.", or("This")),
            "A verdict needs one value, or one value and how far off it can be.".into(),
            "Write one number, or the number and how far off it can be.".into(),
        ),
        K::NotAQuantity => (
            format!("{} cannot be read as a number with a unit.", or("This")),
            NOT_STATED.into(),
            "Write a number and its unit, or write: unknown".into(),
        ),
        K::NotAWholeNumber => (
            format!("{} is not a whole number.", or("This")),
            NOT_STATED.into(),
            "Write a whole number without a unit, or write: unknown".into(),
        ),
        K::OutOfRange => (
            format!("{} is outside what makes sense here.", or("This value")),
            "A value that cannot be right would make every verdict that rests on it wrong.".into(),
            "Check the number and its unit.".into(),
        ),
        _ => (
            format!("{} has more digits than this program keeps exactly.", or("This number")),
            "What was declared is compared to the last digit, so none may be dropped in silence.".into(),
            "Write it with at most 18 digits.".into(),
        ),
    }
}
