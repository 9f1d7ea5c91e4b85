//! What a requirement asks, in plain words: the checked expression of a rule said with the words of the catalogue and
//! with the rule's numbers put in.

use crate::base::number::quantity::{Style, show};
use crate::base::number::{Comparison, Number};
use crate::base::vocabulary::{FactId, FactShape, Vocabulary, WordId};
use crate::rulebook::checked::{CheckedRule, Limit};
use crate::rulebook::expr::typed::{Arithmetic, Binding, Expr, ExprType, IfNone, Node, VarId};

/// What is asked, in sentences without a full stop, and how they belong together.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Asked {
    /// The sentences; one, or several.
    pub parts: Vec<String>,
    /// Whether one of them is enough.
    pub any: bool,
}

/// What has to hold.
#[must_use]
pub fn requires(rule: &CheckedRule, vocabulary: &Vocabulary) -> Asked {
    Teller::of(rule, vocabulary).parted(&rule.requires)
}

/// When it is asked; `None` if always.
#[must_use]
pub fn applies(rule: &CheckedRule, vocabulary: &Vocabulary) -> Option<Asked> {
    rule.applies.as_ref().map(|expr| Teller::of(rule, vocabulary).parted(expr))
}

/// What it is asked of: "each of the openings of the building"; `None` for the whole.
#[must_use]
pub fn each(rule: &CheckedRule, vocabulary: &Vocabulary) -> Option<String> {
    let each = rule.each.as_ref()?;
    Some(format!("each of {}", Teller::of(rule, vocabulary).things(&each.binding.things)))
}

/// A number of the rule as it is said: "at least 10 ft".
#[must_use]
pub fn limit(limit: &Limit) -> String {
    match limit.words {
        Some(words) => format!("{} {}", super::phrases::limit_words(words), limit.value.for_reading()),
        None => limit.value.for_reading(),
    }
}

/// What a number is that is counted or worked out within the rule, as a label: "number of radon tests".
#[must_use]
pub fn amount(rule: &CheckedRule, vocabulary: &Vocabulary, expr: &Expr) -> String {
    Teller::of(rule, vocabulary).amount(expr)
}

struct Teller<'a> {
    rule: &'a CheckedRule,
    vocabulary: &'a Vocabulary,
    /// Whether what the rule itself is asked of is bound already.
    inside: bool,
    /// The variables that are bound where the teller stands, each with what it is called.
    bound: Vec<(VarId, String)>,
}

impl<'a> Teller<'a> {
    fn of(rule: &'a CheckedRule, vocabulary: &'a Vocabulary) -> Self {
        let mut teller = Teller { rule, vocabulary, inside: false, bound: Vec::new() };
        if let Some(each) = &rule.each {
            let name = teller.name_for(&each.binding);
            teller.bound.push((each.binding.var, name));
        }
        teller.inside = true;
        teller
    }

    fn parted(&mut self, expr: &Expr) -> Asked {
        match &expr.node {
            Node::And(all) => {
                Asked { parts: all.iter().map(|one| self.truth(one, true)).collect(), any: false }
            }
            Node::Or(all) => {
                Asked { parts: all.iter().map(|one| self.truth(one, true)).collect(), any: true }
            }
            _ => Asked { parts: vec![self.truth(expr, true)], any: false },
        }
    }

    /// What one of the things is called: "it" inside a sentence on several, else its kind, told apart from an outer
    /// thing of the same kind.
    fn name_for(&self, binding: &Binding) -> String {
        let kind = match binding.things.of_type {
            ExprType::Things(kind) | ExprType::Thing(kind) => self.vocabulary.kind(kind),
            _ => None,
        };
        let label = kind.map_or_else(|| "thing".to_owned(), |kind| kind.label());
        if self.inside && !self.bound.iter().any(|(_, name)| name == "it") {
            return "it".to_owned();
        }
        let plain = format!("the {label}");
        if self.bound.iter().any(|(_, name)| *name == plain) { format!("that {label}") } else { plain }
    }

    fn within<T>(&mut self, binding: &Binding, tell: impl FnOnce(&mut Self) -> T) -> T {
        let name = self.name_for(binding);
        self.bound.push((binding.var, name));
        let told = tell(self);
        self.bound.pop();
        told
    }

    /// What is said when it holds, or when it does not.
    fn truth(&mut self, expr: &Expr, holds: bool) -> String {
        match &expr.node {
            Node::Not(inner) => self.truth(inner, !holds),
            Node::And(all) => self.joined(all, holds, holds),
            Node::Or(all) => self.joined(all, holds, !holds),
            Node::Fact(of, fact) => {
                let subject = of.as_deref().map(|of| self.thing(of)).unwrap_or_default();
                match self.vocabulary.fact(*fact) {
                    Some(shape) if holds => shape.said_of(&subject),
                    Some(shape) => shape.denied_of(&subject),
                    None => subject,
                }
            }
            Node::Compare(how, left, right) => self.compared(*how, left, right, holds),
            Node::Between(value, low, high) => {
                let (value, low, high) = (self.value(value), self.value(low), self.value(high));
                if holds {
                    format!("{value} is between {low} and {high}, or at one of them")
                } else {
                    format!("{value} is less than {low} or more than {high}")
                }
            }
            Node::IsWord(value, words, not) => {
                let is = if *not == holds { "is not" } else { "is" };
                let list: Vec<String> = words.iter().map(|word| self.word(value.of_type, *word)).collect();
                format!("{} {is} {}", self.value(value), either(&list, " or "))
            }
            Node::IsThing(one, other, not) => {
                let is = if *not == holds { "is not" } else { "is" };
                format!("{} {is} {}", self.thing(one), self.thing(other))
            }
            Node::Every(binding, body, none) => {
                let things = self.things(&binding.things);
                let said = self.within(binding, |teller| teller.truth(body, true));
                let whether = if holds { "for each of" } else { "it is not so that for each of" };
                let none = match none {
                    IfNone::Met => "where there are none, this holds",
                    IfNone::Unmet => "where there are none, this does not hold",
                    IfNone::Undetermined => "where there are none, this cannot be told",
                };
                format!("{whether} {things}: {said} ({none})")
            }
            Node::Some(binding, body) => {
                let things = self.things(&binding.things);
                let said = self.within(binding, |teller| teller.truth(body, true));
                let whether = if holds { "for at least one of" } else { "for none of" };
                format!("{whether} {things}: {said}")
            }
            _ => self.value(expr),
        }
    }

    /// Several parts in one sentence; `all` when every one of them has to be.
    fn joined(&mut self, parts: &[Expr], holds: bool, all: bool) -> String {
        let said: Vec<String> = parts.iter().map(|part| self.truth(part, holds)).collect();
        let nested = parts.iter().any(|part| matches!(bare(part).node, Node::And(_) | Node::Or(_)));
        match (all, nested) {
            (true, false) => either(&said, ", and "),
            (false, false) => either(&said, ", or "),
            (true, true) => format!("all of this: {}", said.join("; ")),
            (false, true) => format!("one of these: {}", said.join("; or ")),
        }
    }

    fn compared(&mut self, how: Comparison, left: &Expr, right: &Expr, holds: bool) -> String {
        let fixed = |expr: &Expr| matches!(expr.node, Node::Limit(_) | Node::Literal(_) | Node::Word(_));
        let (left, right, how) =
            if fixed(left) && !fixed(right) { (right, left, how.mirrored()) } else { (left, right, how) };
        let (how, not) = match (how, holds) {
            (how, true) => (how, false),
            (Comparison::Less, false) => (Comparison::AtLeast, false),
            (Comparison::AtLeast, false) => (Comparison::Less, false),
            (Comparison::More, false) => (Comparison::AtMost, false),
            (Comparison::AtMost, false) => (Comparison::More, false),
            (Comparison::Equal, false) => (Comparison::Equal, true),
        };
        let amount = match &right.node {
            Node::Word(word) => self.word(left.of_type, *word),
            _ => self.value(right),
        };
        let words = match (how, not) {
            (Comparison::Equal, false) => "exactly ",
            (Comparison::Equal, true) => "not ",
            (Comparison::Less, _) => "less than ",
            (Comparison::AtMost, _) => "at most ",
            (Comparison::More, _) => "more than ",
            (Comparison::AtLeast, _) => "at least ",
        };
        if let Some((subject, above, below)) = self.sided(left) {
            let nothing = self.fixed_number(right).is_some_and(|number| number == Number::whole(0));
            return match how {
                Comparison::More if nothing => format!("{subject} {above}, by however little"),
                Comparison::Less if nothing => format!("{subject} {below}, by however little"),
                _ => format!("{subject} {words}{amount} {above}"),
            };
        }
        format!("{} is {words}{amount}", self.value(left))
    }

    /// For a fact with two sides: its thing and what it does, and the words for either side.
    fn sided(&mut self, expr: &Expr) -> Option<(String, String, String)> {
        let Node::Fact(of, fact) = &expr.node else { return None };
        let (above, below) = self.vocabulary.fact(*fact)?.said.sides.clone()?;
        let subject = of.as_deref().map(|of| self.thing(of)).unwrap_or_default();
        Some((self.vocabulary.fact(*fact)?.said_of(&subject), above, below))
    }

    fn fixed_number(&self, expr: &Expr) -> Option<Number> {
        match &expr.node {
            Node::Literal(number) => Some(number.clone()),
            Node::Limit(id) => self.rule.limit(*id).map(|limit| limit.value.number.clone()),
            _ => None,
        }
    }

    /// A number, a word, a thing or a list, as a phrase.
    fn value(&mut self, expr: &Expr) -> String {
        match &expr.node {
            Node::Limit(id) => {
                self.rule.limit(*id).map(|limit| limit.value.for_reading()).unwrap_or_default()
            }
            Node::Literal(number) => match expr.of_type {
                ExprType::Number(dimension) => show(number, dimension, &Style::default_for(dimension)),
                _ => String::new(),
            },
            Node::Word(word) => self.word(expr.of_type, *word),
            Node::Var(_) | Node::Thing(_) => self.thing(expr),
            Node::Fact(of, fact) => self.fact(of.as_deref(), *fact),
            Node::Calculate(sign, left, right) => {
                let (left, right) = (self.value(left), self.value(right));
                match sign {
                    Arithmetic::Add => format!("{left} and {right} together"),
                    Arithmetic::Subtract => format!("{left} less {right}"),
                    Arithmetic::Multiply if left.ends_with('%') => format!("{left} of {right}"),
                    Arithmetic::Multiply => format!("{left} times {right}"),
                    Arithmetic::Divide => format!("{left} divided by {right}"),
                }
            }
            Node::Negate(inner) => format!("{} with its sign turned", self.value(inner)),
            Node::Count(binding, body) => {
                let things = self.things(&binding.things);
                match body {
                    None => format!("the number of {things}"),
                    Some(body) => {
                        let said = self.within(binding, |teller| teller.truth(body, true));
                        format!("the number of {things} for which {said}")
                    }
                }
            }
            Node::Sum(binding, body) => self.gathered("the sum", binding, body),
            Node::Least(binding, body) => self.gathered("the least", binding, body),
            Node::Greatest(binding, body) => self.gathered("the greatest", binding, body),
            Node::Not(_)
            | Node::And(_)
            | Node::Or(_)
            | Node::Compare(..)
            | Node::Between(..)
            | Node::IsWord(..)
            | Node::IsThing(..)
            | Node::Every(..)
            | Node::Some(..) => format!("whether {}", self.truth(expr, true)),
        }
    }

    /// The same as a label: short, and without the thing that everything is asked of.
    fn amount(&mut self, expr: &Expr) -> String {
        match &expr.node {
            Node::Fact(_, fact) => self.vocabulary.fact(*fact).map(FactShape::label).unwrap_or_default(),
            Node::Count(binding, None) => format!("number of {}", self.amount(&binding.things)),
            Node::Count(binding, Some(_)) => format!("number of {} that count", self.amount(&binding.things)),
            Node::Sum(binding, body) => self.amount_over("together", binding, body),
            Node::Least(binding, body) => self.amount_over("the least of all", binding, body),
            Node::Greatest(binding, body) => self.amount_over("the greatest of all", binding, body),
            _ => self.value(expr),
        }
    }

    fn amount_over(&mut self, what: &str, binding: &Binding, body: &Expr) -> String {
        let things = self.amount(&binding.things);
        let amount = self.within(binding, |teller| teller.amount(body));
        format!("{amount}, {things}, {what}")
    }

    fn gathered(&mut self, what: &str, binding: &Binding, body: &Expr) -> String {
        let things = self.things(&binding.things);
        let value = self.within(binding, |teller| teller.value(body));
        format!("{what}, over {things}, of {value}")
    }

    fn fact(&mut self, of: Option<&Expr>, fact: FactId) -> String {
        let subject = of.map(|of| self.thing(of)).unwrap_or_default();
        match self.vocabulary.fact(fact) {
            Some(shape) if shape.said.sides.is_some() => self.label_of(shape, &subject),
            Some(shape) => shape.said_of(&subject),
            None => subject,
        }
    }

    fn label_of(&self, shape: &FactShape, subject: &str) -> String {
        let (label, side) =
            (shape.label(), shape.said.sides.as_ref().map_or("", |(above, _)| above.as_str()));
        format!("the {label} of {subject} {side}")
    }

    fn thing(&mut self, expr: &Expr) -> String {
        match &expr.node {
            Node::Var(var) => match self.bound.iter().rev().find(|(bound, _)| bound == var) {
                Some((_, name)) => name.clone(),
                None => "the thing".to_owned(),
            },
            Node::Thing(thing) => match self.vocabulary.kind(thing.kind) {
                Some(kind) => format!("the {}", kind.label()),
                None => "the thing".to_owned(),
            },
            Node::Fact(of, fact) => self.fact(of.as_deref(), *fact),
            _ => self.value(expr),
        }
    }

    fn things(&mut self, expr: &Expr) -> String {
        self.thing(expr)
    }

    fn word(&self, of: ExprType, word: WordId) -> String {
        let ExprType::Word(list) = of else { return String::new() };
        let words = self.vocabulary.word_list(list).and_then(|list| list.words.get(usize::from(word.0)));
        words.map(|(word, _)| word.clone()).unwrap_or_default()
    }
}

/// The expression without the `not` around it.
fn bare(expr: &Expr) -> &Expr {
    match &expr.node {
        Node::Not(inner) => bare(inner),
        _ => expr,
    }
}

/// A list in words: "a, b or c".
fn either(list: &[String], last: &str) -> String {
    match list {
        [rest @ .., one] if !rest.is_empty() => format!("{}{last}{one}", rest.join(", ")),
        _ => list.concat(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::Library;
    use crate::review::books::vocabulary;

    /// Every sentence of every rule that travels with the program.
    #[test]
    fn every_rule_is_said_in_plain_words_with_its_numbers() {
        let library = Library::with(&[]);
        let (books, faults) = library.all();
        assert!(faults.is_empty());
        let mut rules = 0;
        for (book, rule) in books.iter().flat_map(|book| book.rules.iter().map(move |rule| (book, rule))) {
            rules += 1;
            let own = format!("{}/{}", book.name, rule.name);
            let mut said = requires(rule, vocabulary()).parts;
            said.extend(applies(rule, vocabulary()).map(|asked| asked.parts).unwrap_or_default());
            said.extend(each(rule, vocabulary()));
            assert_eq!(each(rule, vocabulary()).is_some(), rule.each.is_some());
            for sentence in &said {
                assert!(sentence.split(' ').count() >= 3, "{own}: {sentence:?}");
                let odd = ['_', '{', '}', '<', '>', '=', '*'];
                assert!(!sentence.contains(odd), "{own}: {sentence:?}");
                assert!(!sentence.contains("  ") && !sentence.contains("the the "), "{own}: {sentence:?}");
                let names =
                    rule.limits.iter().map(|limit| limit.name.as_str()).chain(["the thing", " of it "]);
                for name in names.filter(|name| name.contains(['_', ' '])) {
                    assert!(!sentence.contains(name), "{own}: {name} in {sentence:?}");
                }
            }
            let said = said.join("\n");
            for limit in &rule.limits {
                let nothing = limit.value.number == Number::whole(0) && said.contains("by however little");
                assert!(
                    nothing || said.contains(&limit.value.for_reading()),
                    "{own}: {}, {said}",
                    limit.name
                );
            }
        }
        assert!(rules > 90);
    }
}
