//! From what a schema checker reports to what there is to say: of several forms the one that fits best.

use std::cmp::Reverse;
use std::collections::{HashMap, HashSet};

use jsonschema::ValidationError;
use jsonschema::error::{TypeKind, ValidationErrorKind as Kind};
use serde_json::Value;

use crate::base::problem::ProblemKind;

/// The words that any entry may hold besides its own.
pub(super) const NOT_KNOWN: [&str; 2] = ["unknown", "none"];

/// The most words that a list of them shows.
const MOST_SHOWN: usize = 24;

/// A form that a value can have.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub(super) enum Shape {
    Text,
    Number,
    WholeNumber,
    Truth,
    List,
    Section,
}

/// One violation.
#[derive(Clone, Debug)]
pub(super) struct Leaf {
    /// The value it is about, as a pointer.
    pub(super) place: String,
    /// The keyword of the schema that it breaks, as a pointer.
    pub(super) schema: String,
    pub(super) what: What,
    /// Whether it is a wrong word.
    wrong_word: bool,
    /// Whether it is the one word that tells a form from the others.
    wrong_tag: bool,
    /// Whether what stands there has another form altogether.
    wrong_form: bool,
}

impl Leaf {
    /// Whether this text, taken as text, could do.
    pub(super) fn takes_text(&self, text: &str) -> bool {
        match &self.what {
            What::Value { shapes, words } => {
                shapes.contains(&Shape::Text) || words.iter().any(|word| word == text)
            }
            _ => false,
        }
    }
}

#[derive(Clone, Debug)]
pub(super) enum What {
    /// Keys that are not known.
    UnknownKeys(Vec<String>),
    /// A key that is not there.
    Missing(String),
    /// A value that is neither of these forms nor one of these words.
    Value { shapes: Vec<Shape>, words: Vec<String> },
    /// Anything else, with what would be accepted.
    Other(ProblemKind, String),
}

/// How deep a place lies.
fn depth(place: &str) -> usize {
    place.matches('/').count()
}

/// The violations that one report comes down to.
pub(super) fn leaves(error: &ValidationError<'_>, out: &mut Vec<Leaf>) {
    let leaf = |what: What| Leaf {
        place: error.instance_path().as_str().to_owned(),
        schema: error.schema_path().as_str().to_owned(),
        wrong_word: false,
        wrong_tag: false,
        wrong_form: false,
        what,
    };
    let other = |kind: ProblemKind, accepts: String| leaf(What::Other(kind, accepts));
    let shape = |accepts: String| other(ProblemKind::WrongShape, accepts);
    let range = |accepts: String| other(ProblemKind::OutOfRange, accepts);
    let several = error.instance().is_object() || error.instance().is_array();
    let next = match error.kind() {
        Kind::AnyOf { context } | Kind::OneOfNotValid { context } => {
            best_branch(error.instance_path().as_str(), context, out);
            return;
        }
        Kind::AdditionalProperties { unexpected } | Kind::UnevaluatedProperties { unexpected } => {
            leaf(What::UnknownKeys(unexpected.clone()))
        }
        Kind::Required { property } => leaf(What::Missing(word(property))),
        Kind::Constant { expected_value } => Leaf {
            wrong_word: true,
            wrong_tag: true,
            wrong_form: several,
            ..leaf(What::Value { shapes: Vec::new(), words: words([&**expected_value]) })
        },
        Kind::Enum { options } => {
            let options = options.as_array().map(words).unwrap_or_default();
            Leaf {
                wrong_word: true,
                wrong_form: several,
                ..leaf(What::Value { shapes: Vec::new(), words: options })
            }
        }
        Kind::Type { kind } => {
            Leaf { wrong_form: true, ..leaf(What::Value { shapes: shapes(kind), words: Vec::new() }) }
        }
        Kind::Pattern { .. } | Kind::Format { .. } => other(ProblemKind::BadText, String::new()),
        Kind::MinLength { limit } => other(ProblemKind::BadText, format!("at least {limit} characters")),
        Kind::MaxLength { limit } => other(ProblemKind::BadText, format!("at most {limit} characters")),
        Kind::Minimum { limit } => range(format!("{limit} or more")),
        Kind::Maximum { limit } => range(format!("{limit} or less")),
        Kind::ExclusiveMinimum { limit } => range(format!("more than {limit}")),
        Kind::ExclusiveMaximum { limit } => range(format!("less than {limit}")),
        Kind::MultipleOf { multiple_of } => range(format!("a multiple of {multiple_of}")),
        Kind::MinItems { limit } => shape(format!("a list of at least {limit} entries")),
        Kind::MaxItems { limit } => shape(format!("a list of at most {limit} entries")),
        Kind::AdditionalItems { limit } => shape(format!("a list of {limit} entries")),
        Kind::MinProperties { limit } => shape(format!("a section of at least {limit} keys")),
        Kind::MaxProperties { limit } => shape(format!("a section of at most {limit} keys")),
        Kind::UniqueItems => shape("a list in which each entry stands once".to_owned()),
        Kind::OneOfMultipleValid { .. } => shape("only one of the forms that are possible here".to_owned()),
        Kind::PropertyNames { error } => return leaves(error, out),
        _ => shape(String::new()),
    };
    out.push(next);
}

/// Takes of several forms the one that fits best, and adds to what it wants at a place the words and forms
/// that the others want at the same place.
fn best_branch(place: &str, branches: &[Vec<ValidationError<'static>>], out: &mut Vec<Leaf>) {
    let mut all: Vec<Vec<Leaf>> = Vec::new();
    for branch in branches {
        let mut found = Vec::new();
        branch.iter().for_each(|error| leaves(error, &mut found));
        all.push(found);
    }
    let rank = |branch: &Vec<Leaf>| {
        let count = |test: &dyn Fn(&Leaf) -> bool| branch.iter().filter(|leaf| test(leaf)).count();
        let inside = depth(place) + 1;
        let unknown = branch.iter().map(|leaf| match &leaf.what {
            What::UnknownKeys(keys) if leaf.place == place => keys.len(),
            _ => 0,
        });
        let deepest = branch.iter().map(|leaf| depth(&leaf.place)).max().unwrap_or(0);
        (
            count(&|leaf| leaf.wrong_form && leaf.place == place),
            count(&|leaf| leaf.wrong_tag && depth(&leaf.place) == inside),
            unknown.sum::<usize>(),
            count(&|leaf| leaf.wrong_word),
            Reverse(deepest),
            branch.len(),
        )
    };
    let best = (0..all.len()).min_by_key(|at| all.get(*at).map(&rank));
    let Some(mut best) = best.map(|at| all.swap_remove(at)) else { return };
    let mut others: HashMap<&str, Vec<&What>> = HashMap::new();
    for other in all.iter().flatten() {
        others.entry(other.place.as_str()).or_default().push(&other.what);
    }
    for leaf in &mut best {
        let wrong_word = leaf.wrong_word;
        let What::Value { shapes, words } = &mut leaf.what else { continue };
        if !wrong_word && leaf.place != place {
            continue;
        }
        for other in others.get(leaf.place.as_str()).into_iter().flatten() {
            if let What::Value { shapes: more, words: more_words } = other {
                shapes.extend(more);
                words.extend(more_words.iter().cloned());
            }
        }
        shapes.sort_unstable();
        shapes.dedup();
        let mut seen = HashSet::new();
        words.retain(|word| seen.insert(word.to_lowercase()));
        words.sort_by_key(|word| NOT_KNOWN.contains(&word.as_str()));
    }
    out.extend(best);
}

fn word(value: &Value) -> String {
    value.as_str().map_or_else(|| value.to_string(), str::to_owned)
}

fn words<'v>(options: impl IntoIterator<Item = &'v Value>) -> Vec<String> {
    let mut seen = HashSet::new();
    let single = |value: &&Value| !value.is_null() && !value.is_array() && !value.is_object();
    options.into_iter().filter(single).map(word).filter(|word| seen.insert(word.to_lowercase())).collect()
}

fn shapes(kind: &TypeKind) -> Vec<Shape> {
    use jsonschema::JsonType as T;
    let shape = |of: T| match of {
        T::String => Some(Shape::Text),
        T::Number => Some(Shape::Number),
        T::Integer => Some(Shape::WholeNumber),
        T::Boolean => Some(Shape::Truth),
        T::Array => Some(Shape::List),
        T::Object => Some(Shape::Section),
        T::Null => None,
    };
    let mut shapes: Vec<Shape> = match kind {
        TypeKind::Single(one) => shape(*one).into_iter().collect(),
        TypeKind::Multiple(several) => several.iter().filter_map(shape).collect(),
    };
    // Every single value can be written as text, so text stands for all of them.
    if shapes.contains(&Shape::Text) {
        shapes.retain(|shape| matches!(shape, Shape::Text | Shape::List | Shape::Section));
    }
    shapes.sort_unstable();
    shapes
}

/// Words one after the other.
pub(super) fn listed(words: &[&str]) -> String {
    let shown: Vec<&str> = words.iter().take(MOST_SHOWN).copied().collect();
    let more = words.len().saturating_sub(MOST_SHOWN);
    let tail = if more > 0 { format!(" and {more} more") } else { String::new() };
    format!("{}{tail}", shown.join(", "))
}

/// The forms and words that would be accepted, as a phrase.
pub(super) fn offered(shapes: &[Shape], words: &[String]) -> String {
    let mut phrases: Vec<String> = Vec::new();
    for shape in shapes {
        phrases.push(
            match shape {
                Shape::Text => "one value",
                Shape::Number => "a number",
                Shape::WholeNumber => "a whole number",
                Shape::Truth => "true or false",
                Shape::List => "a list: entries below each other that start with `- `, or `[first, second]`",
                Shape::Section => {
                    "a section: keys with their values on the lines below, set further in, or `{key: value}`"
                }
            }
            .to_owned(),
        );
    }
    let (not_known, own): (Vec<&str>, Vec<&str>) =
        words.iter().map(String::as_str).partition(|word| NOT_KNOWN.contains(word));
    let yes_or_no = own.contains(&"yes") && own.contains(&"no");
    let own: Vec<&str> =
        own.into_iter().filter(|word| !yes_or_no || !matches!(*word, "true" | "false")).collect();
    if !own.is_empty() {
        phrases.insert(0, listed(&own));
    }
    if phrases.is_empty() {
        return listed(&not_known);
    }
    let forms = phrases.join("; or ");
    if not_known.is_empty() { forms } else { format!("{forms}; or {}", not_known.join(", ")) }
}
