//! What a book asks of labels, read off its rules, so that an amended rule gives the label as amended.

use crate::base::number::{Comparison, Quantity};
use crate::design::model::controls::{LabelOn, LabelSays};
use crate::facts::kinds::Kind;
use crate::facts::labelling::SHOWN;
use crate::facts::vocabulary;
use crate::rulebook::checked::CheckedRule;
use crate::rulebook::expr::typed::{Expr, Node};
use crate::yaml::words::Words;

/// What a rule asks of a label.
#[derive(Clone, PartialEq, Default, Debug)]
pub(super) struct Asked {
    /// What it may be on; empty where any place will do.
    pub(super) on: Vec<LabelOn>,
    /// What it has to tell.
    pub(super) says: Vec<LabelSays>,
    /// How high its letters are at least.
    pub(super) letters: Option<Quantity>,
    /// From how far off it can be read at least.
    pub(super) readable_from: Option<Quantity>,
    /// What else is asked of it, in words.
    pub(super) more: Vec<String>,
}

/// Facts of a label that hold or not, each with what it asks.
const HOLDS: [(&str, &str); 5] = [
    ("durable", "stands up to weather and wear"),
    ("stands_out", "letters stand out in colour"),
    ("in_plain_sight", "seen without moving or opening anything"),
    ("at_turns", "one more at each turn"),
    ("numbered", "numbered"),
];

/// Lengths of a label that are asked for, each with the words before the number.
const LENGTHS: [(&str, &str); 3] = [
    ("from_gauge", "from the gauge"),
    ("from_panel", "where it is at the electrical panel, from the panel"),
    ("spacing", "from one to the next"),
];

/// What a rule asks of labels, one for each that it wants; nothing for a rule that does not speak of them.
pub(super) fn asked(rule: &CheckedRule) -> Vec<Asked> {
    let mut all = Vec::new();
    wanted(&rule.requires, rule, &mut all);
    let of_each = rule.each.as_ref().is_some_and(|each| is_label(&each.binding.things));
    if of_each {
        let mut own = Asked::default();
        gather(&rule.requires, rule, &mut own);
        if let Some(applies) = &rule.applies {
            gather(applies, rule, &mut own);
        }
        all.push(own);
    }
    all
}

/// The labels that an expression wants: by "some label has", or by a fact that says that something is labelled.
fn wanted(expr: &Expr, rule: &CheckedRule, all: &mut Vec<Asked>) {
    match &expr.node {
        Node::Some(binding, body) if is_label(&binding.things) => {
            let mut one = Asked::default();
            gather(body, rule, &mut one);
            all.push(one);
        }
        Node::Fact(_, fact) => {
            let named = vocabulary().fact(*fact).filter(|shape| shape.name == "labelled");
            let on = match named.map(|shape| shape.of) {
                Some(of) if of == Kind::Level.id() => LabelOn::Pipe,
                Some(of) if of == Kind::Circuit.id() => LabelOn::Panel,
                _ => return,
            };
            all.push(Asked { on: vec![on], says: vec![LabelSays::WhatItIs], ..Asked::default() });
        }
        _ => expr.parts().into_iter().for_each(|part| wanted(part, rule, all)),
    }
}

fn is_label(things: &Expr) -> bool {
    matches!(things.of_type, crate::rulebook::expr::typed::ExprType::Things(kind) if kind == Kind::Label.id())
}

/// Puts together what an expression asks of a label, what it denies left out.
fn gather(expr: &Expr, rule: &CheckedRule, into: &mut Asked) {
    let of_label = |fact| vocabulary().fact(fact).filter(|shape| shape.of == Kind::Label.id());
    match &expr.node {
        Node::Not(_) => {}
        Node::IsWord(of, words, false) => {
            let Node::Fact(_, fact) = &of.node else { return };
            if of_label(*fact).is_some_and(|shape| shape.name == "kind") {
                let named = words.iter().filter_map(|word| LabelOn::ALL.get(usize::from(word.0)));
                for (on, ..) in named {
                    add(&mut into.on, *on);
                }
            }
        }
        Node::Fact(_, fact) => {
            let Some(shape) = of_label(*fact) else { return };
            if let Some((_, says)) = SHOWN.iter().find(|(name, _)| *name == shape.name) {
                add(&mut into.says, *says);
            }
            if let Some((_, more)) = HOLDS.iter().find(|(name, _)| *name == shape.name) {
                add(&mut into.more, (*more).to_owned());
            }
        }
        Node::Compare(how, left, right) => {
            let (fact, limit, how) = match (&left.node, &right.node) {
                (Node::Fact(_, fact), Node::Limit(limit)) => (*fact, *limit, *how),
                (Node::Limit(limit), Node::Fact(_, fact)) => (*fact, *limit, how.mirrored()),
                _ => return,
            };
            if let (Some(shape), Some(limit)) = (of_label(fact), rule.limit(limit)) {
                length(&shape.name, how, &limit.value, into);
            }
        }
        _ => expr.parts().into_iter().for_each(|part| gather(part, rule, into)),
    }
}

fn length(fact: &str, how: Comparison, limit: &Quantity, into: &mut Asked) {
    let least = matches!(how, Comparison::AtLeast | Comparison::More);
    match fact {
        "letters" if least => into.letters = larger(into.letters.take(), limit),
        "readable_from" if least => into.readable_from = larger(into.readable_from.take(), limit),
        _ => {
            if let Some((_, words)) = LENGTHS.iter().find(|(name, _)| *name == fact) {
                let most = if least { "at least" } else { "at most" };
                add(&mut into.more, format!("{words} {most} {limit}"));
            }
        }
    }
}

/// The larger of two lengths.
pub(super) fn larger(known: Option<Quantity>, other: &Quantity) -> Option<Quantity> {
    match known {
        Some(known) if known.number.high() >= other.number.high() => Some(known),
        _ => Some(other.clone()),
    }
}

/// Adds what is not there yet.
pub(super) fn add<T: PartialEq>(list: &mut Vec<T>, one: T) {
    if !list.contains(&one) {
        list.push(one);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_fact_that_says_what_a_label_tells_has_its_word() {
        let facts = vocabulary().facts.iter().filter(|shape| shape.of == Kind::Label.id());
        let shown: Vec<&str> =
            facts.map(|shape| shape.name.as_str()).filter(|name| name.starts_with("shows_")).collect();
        let known: Vec<&str> = SHOWN.iter().map(|(name, _)| *name).collect();
        assert!(shown.iter().all(|name| known.contains(name)) && shown.len() == known.len(), "{shown:?}");
    }
}
