//! What types and things are called in messages to rule authors.

use crate::base::number::Dimension;
use crate::base::vocabulary::{KindId, Vocabulary};

use super::typed::ExprType;

/// Words in backquotes with commas between them.
pub(in crate::rulebook) fn quoted<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    let list: Vec<String> = words.into_iter().map(|word| format!("`{word}`")).collect();
    list.join(", ")
}

/// The noun with `a` or `an` before it.
pub(in crate::rulebook) fn with_article(noun: &str) -> String {
    let vowel = noun.starts_with(['a', 'e', 'i', 'o', 'u', 'A', 'E', 'I', 'O', 'U']);
    format!("{} {noun}", if vowel { "an" } else { "a" })
}

/// `a bed`, for the kind of that name.
pub(in crate::rulebook) fn a_thing(vocabulary: &Vocabulary, kind: KindId) -> String {
    vocabulary
        .kind(kind)
        .map_or_else(|| "a thing".to_owned(), |kind| with_article(&kind.name.replace('_', " ")))
}

/// What a value of a type is, as a phrase.
pub(in crate::rulebook) fn described(vocabulary: &Vocabulary, of_type: ExprType) -> String {
    match of_type {
        ExprType::Truth => "something that holds or does not".to_owned(),
        ExprType::Number(dimension) => described_number(dimension),
        ExprType::Word(list) => {
            let name = vocabulary.word_list(list).map_or("something", |list| &list.name);
            format!("a word of the list `{name}`")
        }
        ExprType::Thing(kind) => a_thing(vocabulary, kind),
        ExprType::Things(kind) => {
            let name = vocabulary.kind(kind).map_or("thing", |kind| &kind.name);
            format!("a list in which each is {}", with_article(&name.replace('_', " ")))
        }
        ExprType::Text => "words to show in a message".to_owned(),
    }
}

/// What a number is a number of, as a phrase.
pub(in crate::rulebook) fn described_number(dimension: Dimension) -> String {
    if dimension == Dimension::ONE {
        return "a plain number".to_owned();
    }
    if let Some((name, _)) = dimension.words() {
        return name.to_owned();
    }
    let parts = [
        ("m", dimension.length),
        ("kg", dimension.mass),
        ("s", dimension.time),
        ("K", dimension.temperature),
        ("A", dimension.current),
        ("Bq", dimension.activity),
        ("dB", dimension.loudness),
        ("money", dimension.money),
        ("degree", dimension.angle),
        ("alpha", dimension.alpha),
    ];
    let powers: Vec<String> = parts
        .iter()
        .filter(|(_, power)| *power != 0)
        .map(|(unit, power)| if *power == 1 { (*unit).to_owned() } else { format!("{unit}^{power}") })
        .collect();
    format!("a number in {}", powers.join(" "))
}
