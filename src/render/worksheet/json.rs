//! The worksheet as a document for machines; `schemas/worksheet.schema.json` describes it.

use serde::Serialize;

use super::Hand;
use crate::base::value::{Answer, Missing, Value};
use crate::findings::compare::account::Program;
use crate::render::json::wire;
use crate::render::json::{Places, program, to_text};
use crate::review::worksheet::{Figure, Member, Worksheet};

/// The version of the form of the document. It changes when a reader of the old one would go wrong.
pub const FORM: u32 = 1;

#[derive(Serialize)]
struct Document {
    form: &'static str,
    version: u32,
    program: wire::Program,
    file: String,
    digest: String,
    title: Option<String>,
    notes: Vec<String>,
    problems: Vec<wire::Problem>,
    parts: Vec<Part>,
}

#[derive(Serialize)]
struct Part {
    title: &'static str,
    things: Vec<Thing>,
}

#[derive(Serialize)]
struct Thing {
    kind: String,
    name: String,
    place: Option<wire::Place>,
    numbers: Vec<Number>,
}

/// One number; `low` and `high` in SI base units, as far as it is known.
#[derive(Serialize)]
struct Number {
    fact: String,
    label: String,
    means: String,
    known: bool,
    shown: Option<String>,
    low: Option<f64>,
    high: Option<f64>,
    formula: String,
    source: String,
    from: Vec<Input>,
    entries: Vec<Entry>,
    taken_for_granted: Vec<String>,
    missing: Vec<wire::Missing>,
    in_doubt_for: Vec<wire::Missing>,
}

#[derive(Serialize)]
struct Input {
    fact: String,
    of: String,
    shown: String,
}

#[derive(Serialize)]
struct Entry {
    entry: String,
    says: String,
    place: Option<wire::Place>,
}

/// The document as text with an end of line.
#[must_use]
pub fn document(sheet: &Worksheet, made_by: &Program) -> String {
    let hand = Hand::of(sheet);
    let places = Places { sources: &sheet.sources };
    let parts = sheet.parts.iter().map(|part| Part {
        title: part.title,
        things: part.things.iter().map(|thing| member(&hand, &places, thing)).collect(),
    });
    let mut text = to_text(&Document {
        form: "undercroft worksheet",
        version: FORM,
        program: program(made_by),
        file: sheet.name().to_owned(),
        digest: format!("sha256:{}", sheet.digest),
        title: sheet.title.clone(),
        notes: sheet.notes.clone(),
        problems: sheet.problems.iter().map(|one| places.problem(one)).collect(),
        parts: parts.collect(),
    });
    text.push('\n');
    text
}

fn member(hand: &Hand<'_>, places: &Places<'_>, of: &Member) -> Thing {
    Thing {
        kind: hand.vocabulary.kind(of.thing.kind).map_or_else(String::new, |kind| kind.name.clone()),
        name: of.name.clone(),
        place: of.at.and_then(|at| places.place(at)),
        numbers: of.figures.iter().filter_map(|one| number(hand, places, one)).collect(),
    }
}

fn number(hand: &Hand<'_>, places: &Places<'_>, figure: &Figure) -> Option<Number> {
    let shape = hand.vocabulary.fact(figure.fact)?;
    let value = match &figure.answer {
        Answer::Known { value, .. } => Some(value),
        Answer::Unknown(_) => None,
    };
    let bounds = match value {
        Some(Value::Number(number)) => Some(number.to_f64_bounds()),
        _ => None,
    };
    let (missing, doubts): (&[Missing], &[Missing]) = match &figure.answer {
        Answer::Known { doubts, .. } => (&[], doubts),
        Answer::Unknown(missing) => (missing, &[]),
    };
    Some(Number {
        fact: shape.name.clone(),
        label: shape.label(),
        means: shape.meaning.clone(),
        known: value.is_some(),
        shown: value.map(|value| hand.value(shape, value, Some(&figure.origin))),
        low: bounds.map(|(low, _)| low),
        high: bounds.map(|(_, high)| high),
        formula: shape.formula.clone(),
        source: shape.source.clone(),
        from: figure
            .inputs
            .iter()
            .filter_map(|input| {
                let shape = hand.vocabulary.fact(input.fact)?;
                let shown = hand.value(shape, &input.value, None);
                Some(Input { fact: shape.name.clone(), of: input.name.clone(), shown })
            })
            .collect(),
        entries: figure
            .origin
            .stated
            .iter()
            .map(|one| Entry {
                entry: one.entry.to_string(),
                says: hand.sources.slice(one.at).to_owned(),
                place: places.place(one.at),
            })
            .collect(),
        taken_for_granted: figure.origin.assumed.clone(),
        missing: missing.iter().map(|one| places.missing(one)).collect(),
        in_doubt_for: doubts.iter().map(|one| places.missing(one)).collect(),
    })
}
