//! The catalogue on the page: what a rule can ask of each kind of thing.

use super::Look;
use super::sheet::{Sheet, Tone};
use crate::base::near::nearest;
use crate::base::number::Dimension;
use crate::base::vocabulary::{FactShape, FactType, KindId, Vocabulary};
use crate::render::phrases::count;

/// The kinds of things there are, one line each.
#[must_use]
pub fn kinds(vocabulary: &Vocabulary, look: &Look) -> String {
    let mut sheet = Sheet::new(look);
    sheet.paragraph(0, "What a rule can speak of", Tone::Heading);
    sheet.blank();
    let rows: Vec<Vec<String>> = vocabulary
        .kinds
        .iter()
        .enumerate()
        .map(|(at, kind)| {
            let id = KindId(u16::try_from(at).unwrap_or(u16::MAX));
            let facts = vocabulary.facts_of(id).count();
            vec![kind.name.clone(), count(facts, "fact", "facts"), kind.meaning.clone()]
        })
        .collect();
    sheet.table(&rows, Tone::Ink);
    sheet.blank();
    sheet.paragraph(0, "See the facts of one kind with: undercroft rulebook words KIND", Tone::Quiet);
    sheet.finish()
}

/// The facts of one kind; `None` if there is no such kind, then with the nearest name.
///
/// # Errors
/// When no kind has this name; the nearest one is offered.
pub fn facts(vocabulary: &Vocabulary, kind: &str, look: &Look) -> Result<String, Option<String>> {
    let wanted = kind.trim().replace(' ', "_");
    let Some(at) = vocabulary.kinds.iter().position(|shape| shape.name == wanted || shape.name == kind)
    else {
        return Err(nearest(kind, vocabulary.kinds.iter().map(|shape| shape.name.as_str())));
    };
    let id = KindId(u16::try_from(at).unwrap_or(u16::MAX));
    let mut sheet = Sheet::new(look);
    if let Some(shape) = vocabulary.kind(id) {
        sheet.paragraph(0, &shape.name, Tone::Heading);
        sheet.paragraph(0, &shape.meaning, Tone::Ink);
    }
    for fact in vocabulary.facts_of(id) {
        sheet.blank();
        sheet.paragraph(0, &fact.name, Tone::Heading);
        sheet.paragraph(2, &fact.meaning, Tone::Ink);
        sheet.row("is", &type_words(vocabulary, fact));
        sheet.row("worked", &fact.formula);
        sheet.row("source", &fact.source);
        sheet.row("rests on", &fact.needs.join(", "));
    }
    Ok(sheet.finish())
}

/// What type of value a fact has, in words.
fn type_words(vocabulary: &Vocabulary, fact: &FactShape) -> String {
    let kind = |id: KindId| vocabulary.kind(id).map_or("thing", |shape| shape.name.as_str());
    match fact.of_type {
        FactType::Number(dimension) => dimension_words(dimension).to_owned(),
        FactType::Truth => "yes or no".to_owned(),
        FactType::Word(id) => match vocabulary.word_list(id) {
            Some(list) => {
                let words: Vec<&str> = list.words.iter().map(|(word, _)| word.as_str()).collect();
                let joined = if list.ordered { "one of, in order of size" } else { "one of" };
                format!("{joined}: {}", words.join(", "))
            }
            None => "a word".to_owned(),
        },
        FactType::One(id) => format!("one {}", kind(id)),
        FactType::Things(id) => format!("things of the kind {}", kind(id)),
        FactType::Text => "words to show".to_owned(),
    }
}

/// What a number is a number of, in words.
#[must_use]
pub fn dimension_words(dimension: Dimension) -> &'static str {
    const NAMES: [(Dimension, &str); 22] = [
        (Dimension::ONE, "a plain number, a slope or a share"),
        (Dimension::LENGTH, "a length"),
        (Dimension::AREA, "an area"),
        (Dimension::VOLUME, "a volume"),
        (Dimension::MASS, "a mass"),
        (Dimension::TIME, "a length of time"),
        (Dimension::TEMPERATURE_DIFFERENCE, "a difference of temperatures"),
        (Dimension::TEMPERATURE, "a temperature"),
        (Dimension::CURRENT, "an electric current"),
        (Dimension::SPEED, "a speed"),
        (Dimension::FLOW, "a flow of air or water"),
        (Dimension::PRESSURE, "a pressure or suction"),
        (Dimension::POWER, "a power"),
        (Dimension::ENERGY, "an energy"),
        (Dimension::VOLTAGE, "a voltage"),
        (Dimension::RESISTANCE, "an electric resistance"),
        (Dimension::INSULATION, "an insulation value"),
        (Dimension::PERMEANCE, "a permeance"),
        (Dimension::DENSITY, "a density"),
        (Dimension::CONCENTRATION, "a radon concentration"),
        (Dimension::LOUDNESS, "a loudness"),
        (Dimension::MONEY, "an amount of money"),
    ];
    NAMES.iter().find(|(one, _)| *one == dimension).map_or("a quantity", |(_, name)| *name)
}
