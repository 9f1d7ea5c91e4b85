//! What decided one clause, in words: facts, and what was found beside what is needed.

use std::collections::BTreeSet;

use super::finding::Background;
use super::numbers::{NOT_KNOWN, Numbers, with_sides};
use crate::base::number::{Comparison, Number};
use crate::base::truth::Truth;
use crate::base::value::{Answer, Value};
use crate::base::vocabulary::{Called, FactId, FactShape, FactType, Thing};
use crate::judge::amount::Amount;
use crate::judge::message;
use crate::judge::trace::{Compared, Side};
use crate::judge::verdict::{Decisive, Role};
use crate::render::{asked, phrases};
use crate::rulebook::checked::CheckedRule;
use crate::rulebook::expr::typed::{Expr, Node};

/// How long a label of what was worked out may be, in letters.
const LONGEST: usize = 90;
/// What is said in place of a longer one.
const WORKED_OUT: &str = "what the rule works out";

/// A comparison in words.
pub(super) struct FoundAndNeeded {
    /// What it is a number of.
    pub(super) label: String,
    /// What was found.
    pub(super) value: String,
    /// What is needed.
    pub(super) needed: String,
}

/// Who tells what decided a clause.
pub(super) struct Teller<'a> {
    /// What it is told from.
    pub(super) background: &'a Background<'a>,
    /// How numbers are shown.
    pub(super) numbers: &'a Numbers<'a>,
    /// The thing that the clause is about.
    pub(super) about: Option<Thing>,
    /// The rule of the clause.
    pub(super) rule: &'a CheckedRule,
}

impl Teller<'_> {
    /// A fact as one says it: its name, and whose it is unless that goes without saying.
    fn fact(&self, fact: FactId, thing: Thing) -> String {
        let name = self.background.vocabulary.fact(fact).map(FactShape::label).unwrap_or_default();
        let owner = self.background.name_of.name(thing);
        if self.about == Some(thing) || owner.is_empty() || self.only_one(thing, &owner) {
            name
        } else {
            format!("{name} of {}", self.called(thing))
        }
    }

    /// Whether the thing is the only one of its kind, called what it is.
    fn only_one(&self, thing: Thing, name: &str) -> bool {
        let kind = self.background.vocabulary.kind(thing.kind);
        kind.is_some_and(|kind| kind.name == name || phrases::spoken(&kind.name) == name)
    }

    /// What a thing is called in a sentence.
    fn called(&self, thing: Thing) -> String {
        phrases::called(self.background.vocabulary, thing.kind, &self.background.name_of.name(thing))
    }

    /// What holds or does not, as a sentence about its thing.
    fn holds(&self, shape: &FactShape, thing: Thing, holds: bool) -> String {
        let kind = self.background.vocabulary.kind(thing.kind);
        let by_name = kind.is_some_and(|kind| kind.called == Called::Bare);
        let subject =
            if self.about == Some(thing) && !by_name { "it".to_owned() } else { self.called(thing) };
        if holds { shape.said_of(&subject) } else { shape.denied_of(&subject) }
    }

    /// A fact with what it came to, if that can be said in a few words.
    pub(super) fn decisive(&self, one: &Decisive) -> Option<String> {
        let fact = self.fact(one.fact, one.thing);
        let shape = self.background.vocabulary.fact(one.fact)?;
        if matches!(shape.of_type, FactType::One(_)) {
            // It only leads from one thing to the next.
            return None;
        }
        let value = match &one.value {
            Answer::Unknown(_) => return None,
            Answer::Known { value, .. } => match value {
                Value::Truth(holds) => return Some(self.holds(shape, one.thing, *holds)),
                Value::Word(word) => match shape.of_type {
                    FactType::Word(list) => {
                        let list = self.background.vocabulary.word_list(list)?;
                        list.words.get(usize::from(word.0))?.0.clone()
                    }
                    _ => return None,
                },
                Value::Number(number) => match shape.of_type {
                    FactType::Number(dimension) => {
                        let shown = message::Show::number(&mut self.numbers.clone(), number, dimension, None);
                        with_sides(&shown, Some(shape))
                    }
                    _ => return None,
                },
                Value::Text(text) => text.clone(),
                Value::Thing(thing) => self.called(*thing),
                Value::Things(things) if things.items.is_empty() => {
                    // Where nobody told all of them, there may be more.
                    if things.open.is_empty() { "none" } else { "none stated" }.to_owned()
                }
                Value::Things(things) => {
                    let names: Vec<String> =
                        things.items.iter().take(6).map(|thing| self.called(*thing)).collect();
                    let more = if things.items.len() > names.len() { ", and more" } else { "" };
                    // Things without names of their own are counted.
                    match names.as_slice() {
                        [first, rest @ ..] if !rest.is_empty() && rest.iter().all(|name| name == first) => {
                            things.items.len().to_string()
                        }
                        _ => format!("{}{more}", names.join(", ")),
                    }
                }
            },
        };
        Some(format!("{fact}: {value}"))
    }

    /// What was found and what is needed.
    pub(super) fn compared(&self, compared: &Compared) -> FoundAndNeeded {
        let (found, needed, how) = match (&compared.left.limit, &compared.right.limit) {
            (Some(_), None) => (&compared.right, &compared.left, compared.how.mirrored()),
            _ => (&compared.left, &compared.right, compared.how),
        };
        let label = match found.fact {
            Some((fact, thing)) => self.fact(fact, thing),
            None => self.counted(needed, compared).unwrap_or_else(|| "the value".to_owned()),
        };
        let known = matches!(&found.amount, Amount::Known(_)) || compared.holds.is_known();
        let found_text = if known || compared.holds == Truth::Unknown {
            let limit = needed.limit.and_then(|id| self.rule.limit(id)).map(|limit| &limit.value);
            self.numbers.side(found, needed, compared.dimension, limit)
        } else {
            NOT_KNOWN.to_owned()
        };
        let shape = found.fact.and_then(|(fact, _)| self.background.vocabulary.fact(fact));
        FoundAndNeeded {
            label,
            value: with_sides(&found_text, shape),
            needed: match needed_without_number(found, needed, how, shape) {
                Some(words) => words,
                None => {
                    let needed = with_sides(&self.needed(needed, found, compared), shape);
                    format!("{} {needed}", how_words(how))
                }
            },
        }
    }

    /// What was counted or worked out within the rule to be held against this.
    fn counted(&self, needed: &Side, compared: &Compared) -> Option<String> {
        let turned = compared.left.limit.is_some();
        let asked = match compared.role {
            Role::Requires => Some(&self.rule.requires),
            _ => self.rule.applies.as_ref(),
        };
        let is_needed = |expr: &Expr| match &expr.node {
            Node::Limit(id) => needed.limit == Some(*id),
            Node::Fact(_, fact) => needed.fact.is_some_and(|(known, _)| known == *fact),
            _ => needed.limit.is_none() && needed.fact.is_none(),
        };
        let mut labels: BTreeSet<String> = BTreeSet::new();
        asked?.walk(&mut |part| {
            let (one, others) = match &part.node {
                Node::Compare(_, left, right) if turned => (right, vec![left]),
                Node::Compare(_, left, right) => (left, vec![right]),
                Node::Between(value, low, high) => (value, vec![low, high]),
                _ => return,
            };
            for other in others {
                let is_counted = !matches!(one.node, Node::Limit(_) | Node::Literal(_) | Node::Word(_));
                if is_counted && is_needed(other) {
                    labels.insert(asked::amount(self.rule, self.background.vocabulary, one));
                }
            }
        });
        // Where one limit stands for several, it is told of either. A sum in words is longer than anybody reads.
        let told = labels.into_iter().collect::<Vec<_>>().join(" or ");
        (!told.is_empty()).then(|| if told.len() > LONGEST { WORKED_OUT.to_owned() } else { told })
    }

    fn needed(&self, needed: &Side, found: &Side, compared: &Compared) -> String {
        if let Some(limit) = needed.limit.and_then(|id| self.rule.limit(id)) {
            return self.numbers.limit(&limit.value, found);
        }
        let value = self.numbers.side(needed, found, compared.dimension, None);
        match needed.fact {
            Some((fact, thing)) if value == NOT_KNOWN => {
                format!("the {}, which is {NOT_KNOWN}", self.fact(fact, thing))
            }
            Some((fact, thing)) => format!("{value}, the {}", self.fact(fact, thing)),
            None => value,
        }
    }
}

/// What is needed where a number would say it badly: on which side of a thing, however little; or anything at all, where
/// what was worked out to be needed is below nothing.
fn needed_without_number(
    found: &Side,
    needed: &Side,
    how: Comparison,
    shape: Option<&FactShape>,
) -> Option<String> {
    let nothing = Number::whole(0);
    let Amount::Known(number) = &needed.amount else { return None };
    if let Some((above, below)) = shape.and_then(|shape| shape.said.sides.as_ref()) {
        return match how {
            Comparison::More if *number == nothing => Some(above.clone()),
            Comparison::Less if *number == nothing => Some(below.clone()),
            _ => None,
        };
    }
    let is_worked_out = needed.limit.is_none() && needed.fact.is_none();
    let is_below_nothing = number.compare(Comparison::Less, &nothing) == Truth::True;
    let is_there = match &found.amount {
        Amount::Known(found) => found.compare(Comparison::AtLeast, &nothing) == Truth::True,
        Amount::Within(..) => false,
    };
    (how == Comparison::AtLeast && is_worked_out && is_below_nothing && is_there)
        .then(|| "any at all will do here".to_owned())
}

fn how_words(how: Comparison) -> &'static str {
    match how {
        Comparison::Equal => "exactly",
        Comparison::Less => "less than",
        Comparison::AtMost => "at most",
        Comparison::More => "more than",
        Comparison::AtLeast => "at least",
    }
}
