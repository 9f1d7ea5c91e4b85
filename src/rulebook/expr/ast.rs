//! An expression as it is written, before anything is known about its names.

use crate::base::number::{Comparison, Quantity};
use crate::base::text::Span;

use super::typed::{Arithmetic, IfNone};

/// A word with its place in the file.
#[derive(Clone, PartialEq, Debug)]
pub struct Word {
    /// The word.
    pub text: String,
    /// Where it stands.
    pub at: Span,
}

/// An expression with its place in the file.
#[derive(Clone, PartialEq, Debug)]
pub struct Ast {
    /// What it is.
    pub form: Form,
    /// Where it stands.
    pub at: Span,
    /// How many forms lie inside each other, this one included.
    pub depth: u16,
}

/// How the values of several things become one.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Gather {
    /// `sum of`
    Sum,
    /// `least of`
    Least,
    /// `greatest of`
    Greatest,
}

/// The forms of the grammar.
#[derive(Clone, PartialEq, Debug)]
pub enum Form {
    /// `10 ft 6 in`
    Quantity(Box<Quantity>),
    /// A name, or a word of a list.
    Name(String),
    /// `….name`
    Dot(Box<Ast>, Word),
    /// `not …`
    Not(Box<Ast>),
    /// `- …`
    Negate(Box<Ast>),
    /// `… and …`
    And(Vec<Ast>),
    /// `… or …`
    Or(Vec<Ast>),
    /// `… >= …`
    Compare(Comparison, Box<Ast>, Box<Ast>),
    /// `… between … and …`
    Between(Box<Ast>, Box<Ast>, Box<Ast>),
    /// `… is …`; `is not` when the flag is set.
    Is(Box<Ast>, Box<Ast>, bool),
    /// `… is one of …, …`; `is not one of` when the flag is set.
    IsOneOf(Box<Ast>, Vec<Word>, bool),
    /// `… + …`
    Calculate(Arithmetic, Box<Ast>, Box<Ast>),
    /// `every … in … has (…)`, perhaps with what holds of none
    Every(Word, Box<Ast>, Box<Ast>, Option<IfNone>),
    /// `some … in … has (…)`
    Some(Word, Box<Ast>, Box<Ast>),
    /// `count of …`, or `count of … in … where (…)`
    Count(Box<Ast>, Option<(Word, Box<Ast>)>),
    /// `sum of … over … in …`
    Gather(Gather, Box<Ast>, Word, Box<Ast>),
    /// What could not be read, with the parts that could; a problem says so.
    Unreadable(Vec<Ast>),
}

impl Form {
    /// The forms directly inside it.
    #[must_use]
    pub fn parts(&self) -> Vec<&Ast> {
        match self {
            Form::Quantity(_) | Form::Name(_) => Vec::new(),
            Form::Dot(a, _) | Form::Not(a) | Form::Negate(a) | Form::IsOneOf(a, _, _) => vec![a],
            Form::And(all) | Form::Or(all) | Form::Unreadable(all) => all.iter().collect(),
            Form::Compare(_, a, b)
            | Form::Is(a, b, _)
            | Form::Calculate(_, a, b)
            | Form::Every(_, a, b, _)
            | Form::Some(_, a, b)
            | Form::Gather(_, a, _, b) => vec![a, b],
            Form::Between(a, low, high) => vec![a, low, high],
            Form::Count(a, counted) => {
                std::iter::once(&**a).chain(counted.iter().map(|(_, b)| &**b)).collect()
            }
        }
    }

    /// The form with its place.
    #[must_use]
    pub fn at(self, at: Span) -> Ast {
        let deepest = self.parts().iter().map(|part| part.depth).max().unwrap_or(0);
        Ast { form: self, at, depth: deepest.saturating_add(1) }
    }
}

impl Ast {
    /// Whether the form, or one inside it, satisfies `test`.
    pub fn any(&self, test: &impl Fn(&Ast) -> bool) -> bool {
        test(self) || self.form.parts().iter().any(|part| part.any(test))
    }
}
