//! The worksheet of a design: every number that is worked out, with its formula, what it rests on, and its source.

pub mod json;
pub mod page;
pub mod paper;

use crate::base::number::quantity::{Style, show_worked_out};
use crate::base::number::{Dimension, Number};
use crate::base::text::Sources;
use crate::base::value::{Origin, Value};
use crate::base::vocabulary::{FactShape, FactType, Vocabulary};
use crate::render::tell::numbers::{is_metric, style_in, with_sides};
use crate::review::worksheet::{Figure, Worksheet};

/// How values are written: in the writer's own units.
struct Hand<'a> {
    sources: &'a Sources,
    vocabulary: &'static Vocabulary,
    metric: bool,
}

impl<'a> Hand<'a> {
    fn of(sheet: &'a Worksheet) -> Self {
        let texts = figures(sheet)
            .flat_map(|figure| &figure.origin.stated)
            .map(|stated| sheet.sources.slice(stated.at));
        Hand { sources: &sheet.sources, vocabulary: sheet.vocabulary(), metric: is_metric(texts) }
    }

    /// A value in words.
    fn value(&self, shape: &FactShape, value: &Value, origin: Option<&Origin>) -> String {
        match (value, shape.of_type) {
            (Value::Number(number), FactType::Number(dimension)) => {
                let style = match dimension {
                    Dimension::ONE if shape.name.ends_with("_share") => Style::percent(),
                    Dimension::ONE if shape.name.contains("slope") => self.slope(),
                    _ => self.style(dimension, origin),
                };
                with_sides(&show_worked_out(number, dimension, &style), Some(shape))
            }
            (Value::Truth(truth), _) => if *truth { "yes" } else { "no" }.to_owned(),
            (Value::Word(word), FactType::Word(list)) => {
                let words = self.vocabulary.word_list(list);
                let word = words.and_then(|list| list.words.get(usize::from(word.0)));
                word.map_or_else(String::new, |(word, _)| word.clone())
            }
            (Value::Text(text), _) => text.clone(),
            _ => String::new(),
        }
    }

    /// How slopes are written.
    fn slope(&self) -> Style {
        if self.metric { Style::percent() } else { Style::inches_per_foot() }
    }

    /// The way in which a quantity of this kind is written by who wrote the design, or else as is usual.
    fn style(&self, dimension: Dimension, origin: Option<&Origin>) -> Style {
        let mut stated = origin.map(|origin| origin.stated.as_slice()).unwrap_or_default().iter();
        let own = |text: &str| style_in(text, dimension).filter(|_| dimension != Dimension::ONE);
        let found = stated.find_map(|stated| own(self.sources.slice(stated.at)));
        found.unwrap_or_else(|| match self.metric {
            true => Style::metric_for(dimension),
            false => Style::default_for(dimension),
        })
    }
}

/// Every number of a worksheet, in order.
fn figures(sheet: &Worksheet) -> impl Iterator<Item = &Figure> {
    sheet.parts.iter().flat_map(|part| &part.things).flat_map(|thing| &thing.figures)
}

/// What has to be said where the air that a fan is designed for lies far from what was worked out.
fn at_odds<'a>(of: &'a Worksheet, hand: &'a Hand<'_>) -> impl Iterator<Item = String> + 'a {
    of.at_odds.iter().map(|one| {
        let air = |number: &Number| show_worked_out(number, Dimension::FLOW, &hand.style(Dimension::FLOW, None));
        format!(
            "Stated and worked out lie far apart for {}: the file states that it is designed for {}, and worked out of \
             its curve, the pipe and the ground it moves {}. Rules on the size of pipe and the speed of air go by what \
             is stated; the air, speeds and pressures here are those worked out. Which of them is right has to be \
             settled before pipe or fan is bought.",
            one.name.replace('_', " "),
            air(&one.stated),
            air(&one.worked)
        )
    })
}
