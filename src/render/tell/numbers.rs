//! Numbers in the writer's own units, with as many digits as it takes to tell two unequal ones apart.

use std::cell::RefCell;
use std::collections::HashMap;

use super::entry_words::Worded;
use super::finding::Background;
use crate::base::number::quantity::{Style, show, show_pair, show_worked_out};
use crate::base::number::{Comparison, Dimension, Number, Quantity};
use crate::base::text::{Sources, Span};
use crate::base::truth::Truth;
use crate::base::value::Origin;
use crate::base::vocabulary::{FactId, FactShape, Thing, Vocabulary};
use crate::judge::amount::Amount;
use crate::judge::message::Show;
use crate::judge::trace::{Compared, Side, Trace};
use crate::judge::verdict::Role;
use crate::render::phrases;

/// With how many signs a number that a rule works out is still shown whole.
const MOST_DIGITS: usize = 14;
/// What is said of a number of which nothing is known.
pub const NOT_KNOWN: &str = "not known";

/// The style of the first quantity of a dimension at a place, if there is one.
type Found = (Dimension, Option<Style>);

/// How quantities are written at the places of the files that were looked at so far, and how entries are said.
#[derive(Debug, Default)]
pub struct Styles {
    found: RefCell<HashMap<Span, Vec<Found>>>,
    pub(super) worded: Worded,
}

impl Styles {
    /// The way in which the first quantity of this dimension is written at a place.
    fn at(&self, place: Span, dimension: Dimension, sources: &Sources) -> Option<Style> {
        let mut found = self.found.borrow_mut();
        let here = found.entry(place).or_default();
        if let Some((_, style)) = here.iter().find(|(of, _)| *of == dimension) {
            return style.clone();
        }
        let style = style_in(sources.slice(place), dimension);
        here.push((dimension, style.clone()));
        style
    }
}

/// The one comparison that is asked for.
struct Only<'c> {
    compared: &'c Compared,
    found: &'c Number,
    needed: &'c Number,
    /// How what was found has to stand to what is needed.
    how: Comparison,
}

/// How the numbers of one finding are shown.
#[derive(Clone, Debug)]
pub struct Numbers<'a> {
    sources: &'a Sources,
    styles: &'a Styles,
    vocabulary: &'a Vocabulary,
    compared: &'a [Compared],
    origins: Vec<(FactId, Thing, &'a Origin)>,
}

impl<'a> Numbers<'a> {
    /// For the numbers that decided in this trace.
    #[must_use]
    pub fn of(trace: &'a Trace, background: &Background<'a>) -> Self {
        let Background { sources, styles, vocabulary, .. } = *background;
        let origins = trace.decisive.iter().map(|one| (one.fact, one.thing, one.origin.as_ref())).collect();
        Numbers { sources, styles, vocabulary, compared: &trace.compared, origins }
    }

    /// The writer's way of writing a quantity of this dimension: of the styles of the entries this fact rests on, or
    /// else of all that decided, the one in which the number is shortest.
    #[must_use]
    pub fn style(&self, number: &Number, dimension: Dimension, of: Option<(FactId, Thing)>) -> Option<Style> {
        let own = |origin: &&(FactId, Thing, &Origin)| of == Some((origin.0, origin.1));
        let styles = |list: &mut dyn Iterator<Item = &(FactId, Thing, &'a Origin)>| -> Vec<Style> {
            let stated = list.flat_map(|(_, _, origin)| &origin.stated);
            let mut styles = Vec::new();
            for style in stated.filter_map(|stated| self.styles.at(stated.at, dimension, self.sources)) {
                if !styles.contains(&style) {
                    styles.push(style);
                }
            }
            styles
        };
        let mut found = styles(&mut self.origins.iter().filter(own));
        // A share that somebody wrote elsewhere does not tell how this number is written, which may be a count.
        if found.is_empty() && dimension != Dimension::ONE {
            found = styles(&mut self.origins.iter());
        }
        let shortest = match found.len() {
            0 | 1 => found.pop()?,
            _ => found.into_iter().min_by_key(|style| show(number, dimension, style).chars().count())?,
        };
        Some(if is_long_for_inches(number, dimension, &shortest) { by_the_foot() } else { shortest })
    }

    /// One side of a comparison: in the writer's style, told apart from the other side. A number that has no unit, such as
    /// a share, is written as the limit that it is held against.
    #[must_use]
    pub fn side(&self, side: &Side, other: &Side, dimension: Dimension, limit: Option<&Quantity>) -> String {
        let like = limit.filter(|_| dimension == Dimension::ONE).map(|limit| limit.style.clone());
        amount(&side.amount, &mut |number| {
            let style = self.style(number, dimension, side.fact).or_else(|| like.clone());
            let style = style.unwrap_or_else(|| Style::default_for(dimension));
            let shown = apart(number, other, dimension, &style);
            // A product has more digits than anybody measured.
            let is_worked_out = side.fact.is_none() && side.limit.is_none();
            match number {
                Number::Exact(_) if is_worked_out && shown.chars().count() > MOST_DIGITS => {
                    show_worked_out(number, dimension, &style)
                }
                _ => shown,
            }
        })
    }

    /// The one comparison that is asked for, where nothing else that can be counted is, both sides are known, and it comes to this.
    fn only(&self, holds: Truth) -> Option<Only<'_>> {
        let mut required = self.compared.iter().filter(|one| one.role == Role::Requires);
        let (compared, None) = (required.next()?, required.next()) else { return None };
        let (Amount::Known(left), Amount::Known(right)) = (&compared.left.amount, &compared.right.amount)
        else {
            return None;
        };
        if compared.holds != holds || !left.is_point() || !right.is_point() {
            return None;
        }
        Some(match compared.left.limit {
            Some(_) => Only { compared, found: right, needed: left, how: compared.how.mirrored() },
            None => Only { compared, found: left, needed: right, how: compared.how },
        })
    }

    /// By how much what was found lies on the wrong side of what is needed, as a sentence: where nothing else that can
    /// be counted is asked for, and both are known.
    #[must_use]
    pub fn lacking(&self) -> Option<String> {
        let Only { compared: only, found, needed, how } = self.only(Truth::False)?;
        let fact = only.left.fact.or(only.right.fact);
        let said = |by: &Number| {
            let style = self.style(by, only.dimension, fact);
            show(by, only.dimension, &style.unwrap_or_else(|| Style::default_for(only.dimension)))
        };
        Some(match how {
            Comparison::Equal => return None,
            // What is just on the edge lacks no amount that could be told.
            Comparison::More | Comparison::Less
                if found.compare(Comparison::Equal, needed) == Truth::True =>
            {
                return None;
            }
            Comparison::AtLeast => format!("It lacks {}.", said(&(needed - found))),
            Comparison::More => format!("It lacks more than {}.", said(&(needed - found))),
            Comparison::AtMost => format!("It is {} too much.", said(&(found - needed))),
            Comparison::Less => format!("It is more than {} too much.", said(&(found - needed))),
        })
    }

    /// By how much what was found may come out otherwise and still be as needed, as a phrase: where nothing else that can
    /// be counted is asked for, and both are known.
    #[must_use]
    pub fn to_spare(&self) -> Option<String> {
        let Only { compared: only, found, needed, how } = self.only(Truth::True)?;
        let fact = only.left.fact.or(only.right.fact);
        // What is told by its side, such as below a roof edge, is not called less or more; what is counted is as it is.
        let nought = Number::whole(0);
        if only.dimension == Dimension::ONE || found.compare(Comparison::More, &nought) != Truth::True {
            return None;
        }
        // Where anything at all will do, no amount of it can be lost.
        let has_sides = |fact| self.vocabulary.fact(fact).is_some_and(|shape| shape.said.sides.is_some());
        let at_least = matches!(how, Comparison::AtLeast | Comparison::More);
        if at_least
            && needed.compare(Comparison::AtMost, &nought) == Truth::True
            && !fact.is_some_and(|(fact, _)| has_sides(fact))
        {
            return None;
        }
        let by = match how {
            Comparison::Equal => return None,
            Comparison::AtLeast | Comparison::More => found - needed,
            Comparison::AtMost | Comparison::Less => needed - found,
        };
        if by == nought {
            return Some("nothing to spare: measure closely".to_owned());
        }
        let style = self.style(&by, only.dimension, fact);
        let by = show(&by, only.dimension, &style.unwrap_or_else(|| Style::default_for(only.dimension)));
        Some(match how {
            Comparison::AtLeast => format!("up to {by} less than stated is still enough"),
            Comparison::More => format!("anything less than {by} below what is stated is still enough"),
            Comparison::AtMost => format!("up to {by} more than stated is still right"),
            _ => format!("anything less than {by} above what is stated is still right"),
        })
    }

    /// A limit of a rule as its author wrote it; in the writer's own units behind it where those differ.
    #[must_use]
    pub fn limit(&self, limit: &Quantity, other: &Side) -> String {
        let written = apart(&limit.number, other, limit.dimension, &limit.style.clone().for_reading());
        // Nothing is nothing in any unit.
        if limit.number == Number::whole(0) {
            return written;
        }
        match self.style(&limit.number, limit.dimension, other.fact) {
            Some(style) if !same_units(&style, &limit.style, limit.dimension) => {
                let own = apart(&limit.number, other, limit.dimension, &style);
                if own == written { written } else { format!("{written} ({own})") }
            }
            _ => written,
        }
    }
}

/// The units in which a style writes a quantity.
fn units(style: &Style, dimension: Dimension) -> Vec<String> {
    let text = show(&Number::whole(7), dimension, style);
    let words = text.split(|c: char| !c.is_alphabetic() && c != '%').filter(|word| !word.is_empty());
    words.map(str::to_owned).collect()
}

/// Whether a length that would be told in inches alone is so long that nobody says it so: "150 in".
fn is_long_for_inches(number: &Number, dimension: Dimension, style: &Style) -> bool {
    let yard = || Quantity::parse("3 ft", Dimension::LENGTH).map(|quantity| quantity.number);
    dimension == Dimension::LENGTH
        && units(style, dimension) == ["in"]
        && yard().is_ok_and(|yard| {
            number.compare(Comparison::AtLeast, &yard) == Truth::True
                || number.negate().compare(Comparison::AtLeast, &yard) == Truth::True
        })
}

/// Feet and inches, as a tape is read.
fn by_the_foot() -> Style {
    let tape = Quantity::parse("1 ft 6 1/2 in", Dimension::LENGTH).map(|quantity| quantity.style);
    tape.unwrap_or_else(|_| Style::default_for(Dimension::LENGTH))
}

/// Whether two styles write a quantity in units that a person reads side by side: the same ones, or feet and inches.
fn same_units(a: &Style, b: &Style, dimension: Dimension) -> bool {
    let (a, b) = (units(a, dimension), units(b, dimension));
    let by_the_foot =
        |units: &[String]| units.iter().all(|unit| matches!(unit.as_str(), "ft" | "in" | "yd" | "mil"));
    a == b || (by_the_foot(&a) && by_the_foot(&b))
}

fn apart(number: &Number, other: &Side, dimension: Dimension, style: &Style) -> String {
    match &other.amount {
        Amount::Known(other) => show_pair(number, other, dimension, style).0,
        Amount::Within(..) => show(number, dimension, style),
    }
}

/// What is known of a number, in words.
pub fn amount(amount: &Amount, one: &mut dyn FnMut(&Number) -> String) -> String {
    match amount {
        Amount::Known(number) => one(number),
        Amount::Within(None, None) => NOT_KNOWN.to_owned(),
        Amount::Within(Some(low), None) => format!("at least {}", one(&Number::exact(low.low()))),
        Amount::Within(None, Some(high)) => format!("at most {}", one(&Number::exact(high.high()))),
        Amount::Within(Some(low), Some(high)) => one(&Number::between(low.low(), high.high())),
    }
}

/// The way in which the first quantity of this dimension is written in a text.
#[must_use]
pub fn style_in(text: &str, dimension: Dimension) -> Option<Style> {
    let text = text.get(..text.floor_char_boundary(400)).unwrap_or(text);
    let plain = text.trim_matches(['"', '\'', ' ']);
    // A text that begins with a word or a bracket is no quantity, though there may be one in it.
    let begins = |c: char| c.is_numeric() || matches!(c, '-' | '\u{2212}' | '+' | '.');
    if plain.starts_with(begins)
        && let Some(quantity) = Quantity::of_kind(plain, dimension)
    {
        return Some(quantity.style.for_reading());
    }
    let mut at = 0;
    while let Some(rest) = text.get(at..) {
        let step = rest.find(|c: char| c.is_ascii_digit())?;
        let rest = rest.get(step..)?;
        match Quantity::longest_prefix(rest) {
            Some((quantity, _)) if quantity.dimension == dimension => {
                return Some(quantity.style.for_reading());
            }
            Some((_, taken)) => at += step + taken.max(1),
            None => at += step + 1,
        }
    }
    None
}

/// Whether who wrote these texts measures in metres: more lengths are written so than in feet and inches.
#[must_use]
pub fn is_metric<'a>(texts: impl Iterator<Item = &'a str>) -> bool {
    let (mut metric, mut other) = (0_usize, 0_usize);
    for text in texts {
        let Some(style) = style_in(text, Dimension::LENGTH) else { continue };
        let units = units(&style, Dimension::LENGTH);
        if units.iter().any(|unit| matches!(unit.as_str(), "m" | "mm" | "cm")) {
            metric += 1;
        } else {
            other += 1;
        }
    }
    metric > other
}

impl Show for Numbers<'_> {
    fn number(&mut self, number: &Number, dimension: Dimension, written: Option<&Quantity>) -> String {
        let of =
            self.compared.iter().flat_map(|one| [&one.left, &one.right]).find(|side| holds(side, number));
        let style = match written {
            Some(quantity) => quantity.style.clone().for_reading(),
            None => self
                .style(number, dimension, of.and_then(|side| side.fact))
                .unwrap_or_else(|| Style::default_for(dimension)),
        };
        let other = self.compared.iter().filter(|one| one.dimension == dimension).find_map(|one| {
            if holds(&one.left, number) {
                Some(&one.right)
            } else if holds(&one.right, number) {
                Some(&one.left)
            } else {
                None
            }
        });
        match other {
            Some(other) => apart(number, other, dimension, &style),
            None => show(number, dimension, &style),
        }
    }

    fn thing(&mut self, thing: Thing, name: &str) -> String {
        phrases::called(self.vocabulary, thing.kind, name)
    }
}

/// A number as it is shown, with words for its side where its fact has two.
#[must_use]
pub fn with_sides(shown: &str, shape: Option<&FactShape>) -> String {
    match shape.and_then(|shape| shape.said.sides.as_ref()) {
        Some(sides) => on_their_sides(shown, sides),
        None => shown.to_owned(),
    }
}

/// Numbers as they are shown, without their signs and with the words for the side on which each lies.
#[must_use]
fn on_their_sides(shown: &str, (above, below): &(String, String)) -> String {
    let one = |shown: &str| match shown.strip_prefix(['-', '\u{2212}']) {
        Some(unsigned) => format!("{unsigned} {below}"),
        None => format!("{shown} {above}"),
    };
    match shown.strip_prefix("between ").and_then(|range| range.split_once(" and ")) {
        Some((low, high)) => format!("between {} and {}", one(low), one(high)),
        None if shown.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '\u{2212}')) => {
            one(shown)
        }
        None => shown.to_owned(),
    }
}

/// Whether one side of a comparison is this number, or has it for an end.
fn holds(side: &Side, number: &Number) -> bool {
    match &side.amount {
        Amount::Known(known) if known == number => true,
        Amount::Known(known) => {
            matches!(known, Number::Range(..))
                && number.as_exact().is_some_and(|n| *n == known.low() || *n == known.high())
        }
        Amount::Within(..) => false,
    }
}
