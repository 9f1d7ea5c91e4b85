//! What a correction costs: what the list for the truck and the worksheet say before and after.

use crate::base::number::Number;
use crate::base::value::{Answer, Value};
use crate::base::vocabulary::FactId;
use crate::review::Input;
use crate::review::takeoff::counted;
use crate::review::worksheet::{Worksheet, worksheet};
use crate::takeoff::{Group, Line};

/// What changes.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Cost {
    /// Lines of the list for the truck: the line, how much of it before and how much after.
    pub lines: Vec<(Line, Option<Number>, Option<Number>)>,
    /// Numbers of the worksheet that differ.
    pub figures: Vec<Figure>,
}

/// A number of the worksheet before and after.
#[derive(Clone, PartialEq, Debug)]
pub struct Figure {
    /// What it is a number of, as the file calls it.
    pub name: String,
    /// Which number.
    pub fact: FactId,
    /// What it was; nothing where it could not be told.
    pub before: Option<Number>,
    /// What it is then.
    pub after: Option<Number>,
}

/// The state of a design that costs are counted from.
#[derive(Clone, Debug)]
pub struct Counts {
    lines: Vec<Line>,
    sheet: Worksheet,
}

/// Counts a design.
#[must_use]
pub fn counts(input: &Input<'_>) -> Counts {
    Counts { lines: counted(input).takeoff.lines, sheet: worksheet(input) }
}

/// What changes from one state to another.
#[must_use]
pub fn cost(before: &Counts, after: &Counts) -> Cost {
    let same =
        |a: &Line, b: &Line| a.group == b.group && a.part == b.part && a.size == b.size && a.unit == b.unit;
    let mut cost = Cost::default();
    for line in &after.lines {
        let was = before.lines.iter().find(|old| same(old, line)).map(|old| old.quantity.clone());
        if was.as_ref() != Some(&line.quantity) {
            cost.lines.push((line.clone(), was, Some(line.quantity.clone())));
        }
    }
    for line in before.lines.iter().filter(|old| !after.lines.iter().any(|line| same(old, line))) {
        cost.lines.push((line.clone(), Some(line.quantity.clone()), None));
    }
    cost.lines.sort_by(|(a, ..), (b, ..)| (a.group, &a.part, &a.size).cmp(&(b.group, &b.part, &b.size)));
    let was: Vec<(String, FactId, Option<Number>)> = figures(&before.sheet);
    for (name, fact, after) in figures(&after.sheet) {
        let known = was.iter().find(|(of, one, _)| *of == name && *one == fact);
        let before = known.and_then(|(.., number)| number.clone());
        if before != after {
            cost.figures.push(Figure { name, fact, before, after });
        }
    }
    cost
}

/// Whether a line is one of those that cost the most to change.
#[must_use]
pub fn is_work(line: &Line) -> bool {
    matches!(
        line.group,
        Group::Pipe
            | Group::Fittings
            | Group::Hangers
            | Group::Fan
            | Group::Holes
            | Group::Points
            | Group::Water
            | Group::Membrane
            | Group::Signs
    )
}

/// Every number of a worksheet, with what it is a number of.
fn figures(sheet: &Worksheet) -> Vec<(String, FactId, Option<Number>)> {
    let things = sheet.parts.iter().flat_map(|part| &part.things);
    things
        .flat_map(|thing| thing.figures.iter().map(move |figure| (thing, figure)))
        .filter_map(|(thing, figure)| {
            let number = match &figure.answer {
                Answer::Known { value: Value::Number(number), .. } => Some(number.clone()),
                Answer::Known { .. } => return None,
                Answer::Unknown(_) => None,
            };
            Some((thing.name.clone(), figure.fact, number))
        })
        .collect()
}
