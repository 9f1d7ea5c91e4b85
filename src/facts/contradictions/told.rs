//! What is told of statements that contradict each other: which, where, what each comes to, by how much they differ.

use crate::base::number::quantity::{Style, show};
use crate::base::number::{Number, Ratio};
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::{Sources, Span};
use crate::base::value::Missing;

use super::super::statements::{Disagreement, Said, Statement};

/// No more of the numbers behind one statement are named than this.
const MOST_NAMED: usize = 5;

/// Statements of one number, as a problem: each with its lines and what it comes to, and how far they are apart.
pub(super) fn disagreement(of: &Disagreement<'_>, sources: &Sources) -> Option<Problem> {
    let mut sides: Vec<&(Number, Statement<'_>)> = of.sides.iter().collect();
    // What is said outright comes before what is worked out, and of the like what stands first in the file.
    sides.sort_by_key(|(_, side)| (side.by.len() > 1, place(side)));
    let style = sides
        .iter()
        .flat_map(|(_, side)| &side.by)
        .find_map(|said| said.style)
        .cloned()
        .unwrap_or_else(|| Style::default_for(of.dimension));
    let shown = |number: &Number| show(number, of.dimension, &style);
    let parts: Vec<String> =
        sides.iter().map(|(number, side)| one_side(side, &shown(number), sources)).collect();
    let lines = format!("{}; they differ by {}", parts.join("; "), apart(&sides, &shown));
    let (first, rest) = sides.split_first()?;
    let mut problem = Problem::new(ProblemKind::Contradiction, place(&first.1)?)
        .found(format!("{}: {lines}", of.what))
        .accepts(String::new());
    problem = also(problem, first, &shown(&first.0));
    for side in rest {
        problem = also(problem, side, &shown(&side.0));
    }
    Some(problem)
}

/// Where a statement stands: its only number, or the entry that makes it.
fn place(side: &Statement<'_>) -> Option<Span> {
    match side.by.as_slice() {
        [only] => Some(only.at),
        _ => side.want.at.or_else(|| side.by.last().map(|said| said.at)),
    }
}

/// Points to every place that a statement rests on, the last with what it comes to.
fn also(mut problem: Problem, (_, side): &(Number, Statement<'_>), shown: &str) -> Problem {
    let count = side.by.len();
    for (at, said) in side.by.iter().enumerate() {
        let words = match (count, at + 1 == count) {
            (1, _) => format!("{shown} by this"),
            (_, true) => format!("with this, {shown}"),
            (_, false) => "from this".to_owned(),
        };
        problem = problem.also(said.at, words);
    }
    problem
}

/// "line 101 says 24 ft"; "fan (line 92) and stack (line 107) give 27 ft 6 in".
fn one_side(side: &Statement<'_>, shown: &str, sources: &Sources) -> String {
    match side.by.as_slice() {
        [] => match side.want.at {
            Some(at) => format!("{} gives {shown}", line(at, sources)),
            None => format!("what is said elsewhere gives {shown}"),
        },
        [only] => format!("{} says {shown}", line(only.at, sources)),
        several => format!("{} give {shown}", named(several, sources)),
    }
}

/// The numbers behind a statement by the names of their things, with their lines.
fn named(by: &[Said<'_>], sources: &Sources) -> String {
    let mut things: Vec<(String, Vec<Span>)> = Vec::new();
    for said in by {
        let name = short_name(said.entry.as_str());
        match things.iter_mut().find(|(known, _)| *known == name) {
            Some((_, places)) => places.push(said.at),
            None => things.push((name, vec![said.at])),
        }
    }
    let more = things.len().saturating_sub(MOST_NAMED);
    let mut parts: Vec<String> = things
        .iter()
        .take(MOST_NAMED)
        .map(|(name, places)| format!("{name} ({})", lines(places, sources)))
        .collect();
    if more > 0 {
        parts.push(format!("{more} more"));
    }
    and(&parts)
}

fn and(parts: &[String]) -> String {
    match parts.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        Some((last, _)) => last.clone(),
        None => String::new(),
    }
}

/// How far the outermost statements lie apart.
fn apart(sides: &[&(Number, Statement<'_>)], shown: &dyn Fn(&Number) -> String) -> String {
    let numbers = || sides.iter().map(|(number, _)| number);
    let lowest = numbers().min_by(|a, b| a.high().cmp(&b.high()));
    let highest = numbers().max_by(|a, b| a.low().cmp(&b.low()));
    let (Some(lowest), Some(highest)) = (lowest, highest) else { return String::new() };
    if lowest.is_point() && highest.is_point() {
        return shown(&(highest - lowest));
    }
    let least: Ratio = highest.low() - lowest.high();
    format!("at least {}", shown(&Number::exact(least)))
}

/// The name by which a person knows the thing that an entry belongs to: `stack`, `fan`, `roof edge`, `ground main`.
fn short_name(entry: &str) -> String {
    const ROOTS: [&str; 10] = [
        "systems",
        "building",
        "foundation",
        "site",
        "diagnostics",
        "runs",
        "suction_points",
        "spaces",
        "openings",
        "areas",
    ];
    const ENDS: [&str; 14] = [
        "z", "at", "point", "up", "down", "north", "south", "east", "west", "slope", "length", "height",
        "from", "to",
    ];
    let mut steps: Vec<&str> = entry.split(['.', '[']).filter(|step| !step.ends_with(']')).collect();
    if steps.first() == Some(&"systems") {
        steps.drain(..steps.len().min(2));
    }
    let mut steps: Vec<&str> = steps.into_iter().filter(|step| !ROOTS.contains(step)).collect();
    while steps.len() > 1 && steps.last().is_some_and(|step| ENDS.contains(step)) {
        steps.pop();
    }
    steps.join(" ").replace('_', " ")
}

/// Facts that are no numbers and that statements leave undecided.
pub(super) fn undecided(meaning: &str, against: &[Missing], sources: &Sources) -> Option<Problem> {
    let mut places: Vec<(&Missing, Span)> =
        against.iter().filter_map(|one| one.at.map(|at| (one, at))).collect();
    places.sort_by_key(|(_, at)| *at);
    let (first, rest) = places.split_first()?;
    let parts: Vec<String> = places
        .iter()
        .map(|(one, at)| format!("{} ({})", short_name(one.entry.as_str()), line(*at, sources)))
        .collect();
    let meaning = meaning.trim_end_matches('.').split(": ").next().unwrap_or_default();
    let what = if rest.is_empty() {
        format!("{meaning}: {} does not go with what is stated elsewhere", parts.join(""))
    } else {
        format!("{meaning}: {} do not go together", and(&parts))
    };
    let problem = Problem::new(ProblemKind::Contradiction, first.1)
        .found(what)
        .accepts("Look which of these lines is right, and correct the others");
    Some(rest.iter().fold(problem, |problem, (_, at)| problem.also(*at, "does not go with this")))
}

/// The line of a place, with the file where it is not the design itself.
fn line(at: Span, sources: &Sources) -> String {
    lines(&[at], sources)
}

/// The lines of several places, each once.
pub(super) fn lines(places: &[Span], sources: &Sources) -> String {
    let mut found: Vec<String> = Vec::new();
    for at in places {
        let Some(source) = sources.get(at.source) else { continue };
        let number = source.line_column(at.start).line.to_string();
        let said = if at.source.0 == 0 { number } else { format!("{number} of {}", source.name()) };
        if !found.contains(&said) {
            found.push(said);
        }
    }
    let word = if found.len() == 1 { "line" } else { "lines" };
    format!("{word} {}", and(&found))
}
