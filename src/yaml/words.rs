//! Closed lists of words, each word with its meaning; and truth values and counts.

use serde_json::{Value, json};

use super::entry::Meaning;
use super::record::{Reader, Reads};
use super::schema::Schemas;
use super::tree::NodeId;
use crate::base::number::{Dimension, Quantity};
use crate::base::problem::ProblemKind;
use crate::base::value::EntryPath;

/// A closed list of words.
pub trait Words: Sized + Copy + PartialEq + 'static {
    /// What the words are about: `kind of hedge`.
    const ABOUT: &'static str;
    /// Whether their order is an order of size.
    const ORDERED: bool;
    /// Every word with its spelling and its meaning, in order.
    const ALL: &'static [(Self, &'static str, &'static str)];

    /// How the word is written in a file.
    fn spelling(self) -> &'static str {
        Self::ALL.iter().find(|(word, ..)| *word == self).map_or("", |(_, spelling, _)| spelling)
    }

    /// Its place in the list, from nought.
    fn number(self) -> usize {
        Self::ALL.iter().position(|(word, ..)| *word == self).unwrap_or(0)
    }

    /// The word with this spelling.
    fn find(spelling: &str) -> Option<Self> {
        Self::ALL.iter().find(|(_, own, _)| *own == spelling).map(|(word, ..)| *word)
    }
}

/// The schema of a list of words. A word that looks like a number may also be read as one.
pub fn words_schema<W: Words>(defs: &mut Schemas, name: &str) -> Value {
    defs.refer::<W>(name, |_| {
        let mut options = Vec::new();
        let mut meanings = Vec::new();
        for (_, spelling, meaning) in W::ALL {
            options.push(json!(spelling));
            if let Ok(number) = spelling.parse::<u32>() {
                options.push(json!(number));
            }
            meanings.push(format!("{spelling}: {meaning}"));
        }
        json!({ "title": W::ABOUT, "description": meanings.join("\n"), "enum": options })
    })
}

/// The word that says the same length in another way: `4"` for `4 in`.
pub fn same_length<W: Words>(reader: &mut Reader<'_>, node: NodeId, text: &str) -> Option<W> {
    let length = |text: &str| Quantity::parse(text, Dimension::LENGTH).ok().map(|quantity| quantity.number);
    let wanted = length(text).filter(|_| text.starts_with(|c: char| c.is_ascii_digit()))?;
    let (word, ..) = W::ALL.iter().find(|(_, spelling, _)| length(spelling).as_ref() == Some(&wanted))?;
    let at = reader.span(node);
    reader.settled.push(at);
    Some(*word)
}

/// Declares a closed list of words. `ordered` when their order is an order of size.
#[macro_export]
macro_rules! words {
    (
        $(#[doc = $about:literal])+
        $vis:vis enum $Name:ident = $what:literal { $($rest:tt)+ }
    ) => {
        $crate::yaml::words::words! { @ false $(#[doc = $about])+ [$vis] $Name $what { $($rest)+ } }
    };
    (
        $(#[doc = $about:literal])+
        $vis:vis ordered enum $Name:ident = $what:literal { $($rest:tt)+ }
    ) => {
        $crate::yaml::words::words! { @ true $(#[doc = $about])+ [$vis] $Name $what { $($rest)+ } }
    };
    (@ $ordered:literal $(#[doc = $about:literal])+ [$vis:vis] $Name:ident $what:literal {
        $($(#[doc = $doc:literal])+ $Word:ident = $spelling:literal,)+
    }) => {
        $(#[doc = $about])+
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
        $vis enum $Name { $($(#[doc = $doc])+ $Word,)+ }

        impl $crate::yaml::words::Words for $Name {
            const ABOUT: &'static str = $what;
            const ORDERED: bool = $ordered;
            const ALL: &'static [(Self, &'static str, &'static str)] =
                &[$(($Name::$Word, $spelling, concat!($($doc),+).trim_ascii()),)+];
        }

        impl $crate::yaml::lay::Same for $Name {
            fn same(&self, other: &Self) -> bool {
                self == other
            }
        }

        impl $crate::yaml::record::Reads for $Name {
            const MAY_BE_NONE: bool = false;

            fn written_as() -> String {
                let all = <Self as $crate::yaml::words::Words>::ALL.iter().map(|(_, spelling, _)| *spelling);
                all.collect::<Vec<_>>().join(", ")
            }

            fn read(
                reader: &mut $crate::yaml::record::Reader<'_>,
                node: $crate::yaml::tree::NodeId,
                _path: &$crate::base::value::EntryPath,
            ) -> Option<Self> {
                let text = reader.text(node)?;
                let found = <Self as $crate::yaml::words::Words>::find(text);
                found.or_else(|| $crate::yaml::words::same_length(reader, node, text))
            }

            fn means(&self) -> $crate::yaml::entry::Meaning {
                $crate::yaml::entry::Meaning::Value($crate::yaml::words::Words::spelling(*self).to_owned())
            }

            fn schema(defs: &mut $crate::yaml::schema::Schemas) -> serde_json::Value {
                $crate::yaml::words::words_schema::<$Name>(defs, stringify!($Name))
            }
        }
    };
}
pub use crate::words;

/// The spellings of a truth value.
const TRUTHS: [(&str, bool); 12] = [
    ("yes", true),
    ("no", false),
    ("true", true),
    ("false", false),
    ("Yes", true),
    ("No", false),
    ("True", true),
    ("False", false),
    ("YES", true),
    ("NO", false),
    ("TRUE", true),
    ("FALSE", false),
];

impl Reads for bool {
    const MAY_BE_NONE: bool = false;

    fn written_as() -> String {
        "yes or no".to_owned()
    }

    fn read(reader: &mut Reader<'_>, node: NodeId, _path: &EntryPath) -> Option<Self> {
        let text = reader.text(node)?;
        TRUTHS.iter().find(|(spelling, _)| *spelling == text).map(|(_, truth)| *truth)
    }

    fn means(&self) -> Meaning {
        Meaning::Value(if *self { "yes" } else { "no" }.to_owned())
    }

    fn schema(defs: &mut Schemas) -> Value {
        defs.refer::<bool>("yes_or_no", |_| {
            let mut options: Vec<Value> = TRUTHS.iter().map(|(spelling, _)| json!(spelling)).collect();
            options.extend([json!(true), json!(false)]);
            json!({ "description": "yes or no", "enum": options })
        })
    }
}

/// The next whole number after one with a half: 2 for `1.5`, `1 1/2` and `1½`.
fn with_a_half(text: &str) -> Option<u32> {
    let whole = ["1/2", "½", ".5"].iter().find_map(|half| text.strip_suffix(half))?;
    let whole = whole.trim_end_matches(['-', ' ']);
    if whole.is_empty() { Some(1) } else { whole.parse::<u32>().ok()?.checked_add(1) }
}

/// How many: a whole number, never negative.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Count(pub u32);

impl Reads for Count {
    const MAY_BE_NONE: bool = false;

    fn written_as() -> String {
        "a whole number, 0 if there are none".to_owned()
    }

    fn read(reader: &mut Reader<'_>, node: NodeId, _path: &EntryPath) -> Option<Self> {
        let text = reader.text(node)?;
        let count = text.parse().ok().map(Count);
        if count.is_none() {
            let accepts = match with_a_half(text) {
                Some(next) => format!("the next whole number, {next}: a half counts as one more"),
                None => "a whole number without a unit: 0, 1, 2 and so on".to_owned(),
            };
            reader.report_value(node, ProblemKind::NotAWholeNumber, &accepts);
        }
        count
    }

    fn means(&self) -> Meaning {
        Meaning::Value(self.0.to_string())
    }

    fn schema(defs: &mut Schemas) -> Value {
        defs.refer::<Count>("count", |_| {
            json!({ "description": "a whole number without a unit", "type": ["integer", "string", "number"] })
        })
    }
}
