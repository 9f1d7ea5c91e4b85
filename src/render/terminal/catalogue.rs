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

/// The facts of one kind; or, for a fact's name or a word of a list, where it is asked and what it means.
///
/// # Errors
/// When nothing has this name; the nearest kind is offered.
pub fn facts(vocabulary: &Vocabulary, name: &str, look: &Look) -> Result<String, Option<String>> {
    let wanted = name.trim().replace(' ', "_");
    let Some(at) = vocabulary.kinds.iter().position(|shape| shape.name == wanted) else {
        let found = elsewhere(vocabulary, &wanted, look);
        return found.ok_or_else(|| nearest(name, vocabulary.kinds.iter().map(|shape| shape.name.as_str())));
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
        sheet.row("rests on", &rests_on(&fact.needs));
        sheet.row("handle", if fact.handle { HANDLE } else { "" });
    }
    Ok(sheet.finish())
}

/// What is said of a fact that a correction can bring to a value.
pub const HANDLE: &str = "a correction can bring it to a value: `reach`";

/// Where a name that is no kind's is used: as a fact, or as a word of a list.
fn elsewhere(vocabulary: &Vocabulary, wanted: &str, look: &Look) -> Option<String> {
    let mut rows = Vec::new();
    for fact in vocabulary.facts.iter().filter(|fact| fact.name == wanted) {
        let of = vocabulary.kind(fact.of).map_or("", |kind| kind.name.as_str());
        rows.push(vec![format!("{of}.{}", fact.name), fact.meaning.clone()]);
    }
    for list in &vocabulary.words {
        for (word, meaning) in list.words.iter().filter(|(word, _)| word.replace(' ', "_") == wanted) {
            let asked = vocabulary.facts.iter().filter_map(|fact| {
                let FactType::Word(id) = fact.of_type else { return None };
                let of = vocabulary.kind(fact.of)?;
                let same = vocabulary.word_list(id).is_some_and(|own| own.name == list.name);
                same.then(|| format!("{}.{}", of.name, fact.name))
            });
            let asked: Vec<String> = asked.collect();
            let meant = if meaning.is_empty() { String::new() } else { format!(": {meaning}") };
            rows.push(vec![
                format!("a {}", list.name),
                format!("{word}{meant}; asked by {}", asked.join(", ")),
            ]);
        }
    }
    if rows.is_empty() {
        return None;
    }
    let mut sheet = Sheet::new(look);
    sheet.paragraph(
        0,
        &format!("\"{}\" is no kind of thing; it is used so", wanted.replace('_', " ")),
        Tone::Heading,
    );
    sheet.blank();
    sheet.table(&rows, Tone::Ink);
    sheet.blank();
    sheet.paragraph(0, "See all facts of a kind with: undercroft rulebook words KIND", Tone::Quiet);
    Some(sheet.finish())
}

/// The entries that a fact is worked out from, those of one part of a file together: `site.ground: height, slope`.
#[must_use]
pub fn rests_on(needs: &[String]) -> String {
    let mut parts: Vec<(&str, Vec<&str>)> = Vec::new();
    for need in needs {
        let (part, key) = need.rsplit_once('.').unwrap_or(("", need));
        match parts.iter_mut().find(|(known, _)| *known == part) {
            Some((_, keys)) => keys.push(key),
            None => parts.push((part, vec![key])),
        }
    }
    let said = |(part, keys): &(&str, Vec<&str>)| match (*part, keys.as_slice()) {
        ("", keys) => keys.join(", "),
        (part, [key]) => format!("{part}.{key}"),
        (part, keys) => format!("{part}: {}", keys.join(", ")),
    };
    parts.iter().map(said).collect::<Vec<_>>().join("; ")
}

/// What type of value a fact has, in words.
#[must_use]
pub fn type_words(vocabulary: &Vocabulary, fact: &FactShape) -> String {
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
    const NAMES: [(Dimension, &str); 23] = [
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
        (Dimension::EXPOSURE, "an exposure to decay products"),
        (Dimension::LOUDNESS, "a loudness"),
        (Dimension::MONEY, "an amount of money"),
    ];
    NAMES.iter().find(|(one, _)| *one == dimension).map_or("a quantity", |(_, name)| *name)
}
