//! What a person is told: a rule's message with its values filled in.
//!
//! Here values are only gathered. In which unit and with how many digits a number is shown is for whoever
//! prints it to say, through [`Show`].

use crate::base::number::{Dimension, Number, Quantity, Ratio};
use crate::base::truth::Truth;
use crate::base::value::{Answer, Missing, Value};
use crate::base::vocabulary::{FactId, Thing, WordId, WordsId};
use crate::rulebook::checked::{Message, Piece, Sides};
use crate::rulebook::expr::typed::{Expr, ExprType, Node};

use super::amount::Amount;
use super::eval::{Named, Scope};
use super::missing::why;

/// A piece of a message with its value.
#[derive(Clone, PartialEq, Debug)]
pub enum Part {
    /// Words.
    Words(String),
    /// What is known of a number.
    Number {
        /// What is known of it.
        amount: Box<Amount>,
        /// What it is a number of.
        dimension: Dimension,
        /// The rule's own number, when it is one, as its author wrote it.
        written: Option<Box<Quantity>>,
        /// The fact it is, when it is a plain one.
        fact: Option<(FactId, Thing)>,
        /// The entries that would tell it exactly.
        missing: Vec<Missing>,
        /// The words for its sides, where it is shown without its sign.
        sides: Option<Box<Sides>>,
    },
    /// A thing, by its name in the file.
    Thing(Thing, String),
    /// Whether something holds.
    Truth(bool),
    /// A word, or other text from the file.
    Text(String),
    /// Names of things.
    Names(Vec<String>),
    /// A value that is not known, for want of these.
    NotStated(Vec<Missing>),
}

/// How values are shown: in whose units, with how many digits.
pub trait Show {
    /// The number with its unit. It is never a range.
    fn number(&mut self, number: &Number, dimension: Dimension, written: Option<&Quantity>) -> String;

    /// Whether something holds.
    fn truth(&mut self, holds: bool) -> String {
        if holds { "yes".to_owned() } else { "no".to_owned() }
    }

    /// What a thing is called.
    fn thing(&mut self, _thing: Thing, name: &str) -> String {
        name.to_owned()
    }
}

/// A message with its values, for what is bound in the scope.
pub fn fill(scope: &mut Scope<'_>, message: &Message) -> Vec<Part> {
    message
        .0
        .iter()
        .map(|piece| match piece {
            Piece::Words(words) => Part::Words(words.clone()),
            Piece::Value(expr) => value(scope, expr),
            Piece::Sided(expr, words) => {
                let mut part = value(scope, expr);
                if let Part::Number { sides, .. } = &mut part {
                    *sides = Some(Box::new(words.clone()));
                }
                part
            }
        })
        .collect()
}

/// What an expression comes to, to be shown.
pub fn value(scope: &mut Scope<'_>, expr: &Expr) -> Part {
    match expr.of_type {
        ExprType::Number(dimension) => number(scope, expr, dimension),
        ExprType::Truth => match scope.truth(expr) {
            Truth::Unknown => Part::NotStated(why(scope, expr)),
            truth => Part::Truth(truth == Truth::True),
        },
        ExprType::Word(words) => match scope.word(expr).and_then(|word| word_of(scope, words, word)) {
            Some(word) => Part::Text(word),
            None => Part::NotStated(why(scope, expr)),
        },
        ExprType::Thing(_) => match scope.thing(expr) {
            Named::Thing(thing) => Part::Thing(thing, scope.answers.name_of(thing)),
            Named::Unknown(missing) => Part::NotStated(missing),
            Named::Unseen => Part::NotStated(Vec::new()),
        },
        ExprType::Things(_) => {
            let found = scope.things(expr);
            if found.items.is_empty() && found.open {
                return Part::NotStated(found.missing);
            }
            Part::Names(found.items.into_iter().map(|thing| scope.answers.name_of(thing)).collect())
        }
        ExprType::Text => text_of(scope, expr),
    }
}

fn number(scope: &mut Scope<'_>, expr: &Expr, dimension: Dimension) -> Part {
    let amount = scope.amount(expr);
    let missing = why(scope, expr);
    if amount == Amount::UNKNOWN {
        return Part::NotStated(missing);
    }
    let written = match &expr.node {
        Node::Limit(limit) => scope.rule().limit(*limit).map(|limit| Box::new(limit.value.clone())),
        _ => None,
    };
    let fact = match &expr.node {
        Node::Fact(of, fact) => scope.asked_of(of.as_deref()).map(|thing| (*fact, thing)),
        _ => None,
    };
    Part::Number { amount: Box::new(amount), dimension, written, fact, missing, sides: None }
}

fn text_of(scope: &mut Scope<'_>, expr: &Expr) -> Part {
    let Node::Fact(of, fact) = &expr.node else { return Part::NotStated(Vec::new()) };
    match scope.fact(of.as_deref(), *fact) {
        Answer::Known { value: Value::Text(text), .. } => Part::Text(text),
        Answer::Known { .. } => Part::NotStated(Vec::new()),
        Answer::Unknown(missing) => Part::NotStated(missing),
    }
}

/// A word as it is written in a file.
pub(crate) fn word_of(scope: &Scope<'_>, words: WordsId, word: WordId) -> Option<String> {
    let list = scope.answers.vocabulary().word_list(words)?;
    list.words.get(usize::from(word.0)).map(|(word, _)| word.clone())
}

/// The message as one line of text.
pub fn text(parts: &[Part], show: &mut dyn Show) -> String {
    parts.iter().map(|part| part_text(part, show)).collect()
}

/// One piece of a message as text.
pub fn part_text(part: &Part, show: &mut dyn Show) -> String {
    match part {
        Part::Words(words) | Part::Text(words) => words.clone(),
        Part::Truth(holds) => show.truth(*holds),
        Part::Thing(thing, name) => show.thing(*thing, name),
        Part::Names(names) => names.join(", "),
        Part::NotStated(missing) => not_stated(missing),
        Part::Number { amount, dimension, written, missing, sides, .. } => {
            let mut one = |number: &Number| {
                let shown = show.number(number, *dimension, written.as_deref());
                match sides {
                    Some(sides) => on_its_side(number, &shown, sides),
                    None => shown,
                }
            };
            match amount.as_ref() {
                Amount::Known(Number::Range(low, high)) => {
                    between(one(&Number::Exact(low.clone())), one(&Number::Exact(high.clone())))
                }
                Amount::Known(number) => one(number),
                Amount::Within(low, high) => {
                    let low = low.as_ref().map(|low| one(&Number::Exact(low.low())));
                    let high = high.as_ref().map(|high| one(&Number::Exact(high.high())));
                    match (low, high) {
                        (Some(low), Some(high)) => between(low, high),
                        (Some(low), None) => format!("at least {low}"),
                        (None, Some(high)) => format!("at most {high}"),
                        (None, None) => not_stated(missing),
                    }
                }
            }
        }
    }
}

/// A number that is shown, without its sign and with the words for its side.
fn on_its_side(number: &Number, shown: &str, sides: &Sides) -> String {
    let nothing = number.as_exact().is_some_and(Ratio::is_zero);
    match (&sides.level, shown.strip_prefix(['-', '\u{2212}'])) {
        (Some(level), _) if nothing => level.clone(),
        (_, Some(unsigned)) => format!("{unsigned} {}", sides.below),
        (_, None) => format!("{shown} {}", sides.above),
    }
}

fn between(low: String, high: String) -> String {
    if low == high { low } else { format!("between {low} and {high}") }
}

fn not_stated(missing: &[Missing]) -> String {
    let entries: Vec<&str> = missing.iter().map(|missing| missing.entry.as_str()).collect();
    if entries.is_empty() { "not stated".to_owned() } else { format!("not stated: {}", entries.join(", ")) }
}
