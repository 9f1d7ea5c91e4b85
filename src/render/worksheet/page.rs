//! The worksheet on a page: the numbers first, then what was taken for granted, what is still to be stated, and the
//! formula and source of each.

use std::collections::BTreeSet;

use super::{Hand, at_odds, figures};
use crate::base::text::{Sources, Span};
use crate::base::value::{Answer, Reason, Value};
use crate::base::vocabulary::{FactId, FactShape};
use crate::design::said::in_words;
use crate::render::phrases::{count, named, spoken};
use crate::render::tell::spot::to_settle;
use crate::render::terminal::Look;
use crate::render::terminal::problems;
use crate::render::terminal::sheet::{Sheet, Tone, capital, sentence};
use crate::render::visible::one_line;
use crate::review::DESIGN;
use crate::review::worksheet::{Figure, Member, Worksheet, wanted};

/// No more inputs than this are told of one number; where there are more, the report for machines has them all.
const MOST_INPUTS: usize = 3;
/// No more lines than this are named.
const MOST_LINES: usize = 8;

const CAUTION: &str = "Worked out from what the file states. It takes the place of no measurement: the gauge, the \
readings at the test holes, the flue test and the radon test decide. Local code and licensed practice come first.";

/// The page.
#[must_use]
pub fn page(of: &Worksheet, look: &Look) -> String {
    let hand = Hand::of(of);
    let granted = granted(of);
    let mut sheet = Sheet::new(look);
    let title = of.title.as_deref().map_or_else(String::new, |title| format!(": {title}"));
    sheet.paragraph(0, &format!("Worksheet{title}"), Tone::Heading);
    sheet.paragraph(0, &one_line(of.name()), Tone::Quiet);
    for note in &of.notes {
        sheet.paragraph(0, note, Tone::Open);
    }
    for problem in &of.problems {
        problems::problem(&mut sheet, &of.sources, of.sources.get(DESIGN), problem);
    }
    for said in at_odds(of, &hand) {
        sheet.paragraph(0, &said, Tone::Open);
    }
    for part in &of.parts {
        let things: Vec<&Member> =
            part.things.iter().filter(|thing| thing.figures.iter().any(known)).collect();
        if things.is_empty() {
            continue;
        }
        sheet.rule(part.title);
        for thing in things {
            let name = capital(&named(hand.vocabulary, thing.thing.kind, &thing.name));
            sheet.heading(&format!("{name}{}", line_of(&of.sources, thing.at)), Tone::Heading);
            sheet.table(&rows(&hand, thing, &granted), Tone::Ink);
        }
    }
    if !figures(of).any(known) {
        sheet.heading("There is nothing to work out from what the file states so far.", Tone::Open);
    }
    taken_for_granted(&mut sheet, &granted);
    still_to_state(&mut sheet, of);
    formulas(&mut sheet, &hand, of);
    sheet.blank();
    sheet.paragraph(0, CAUTION, Tone::Quiet);
    sheet.finish()
}

pub(super) fn known(figure: &Figure) -> bool {
    matches!(figure.answer, Answer::Known { .. })
}

/// The numbers of a thing, and below each what it was worked out from, unless that of the next is the same.
fn rows(hand: &Hand<'_>, of: &Member, granted: &[&str]) -> Vec<Vec<String>> {
    let mut rows = Vec::new();
    let mut from_of_last = String::new();
    for figure in of.figures.iter().filter(|figure| known(figure)) {
        let (Some(shape), Answer::Known { value, .. }) = (hand.vocabulary.fact(figure.fact), &figure.answer)
        else {
            continue;
        };
        let from = from(hand, of, figure);
        if from != from_of_last && !from_of_last.is_empty() {
            rows.push(vec![String::new(), from_of_last]);
        }
        let shown = hand.value(shape, value, Some(&figure.origin));
        rows.push(vec![shape.label(), format!("{shown}{}", marks(figure, granted))]);
        from_of_last = from;
    }
    if !from_of_last.is_empty() {
        rows.push(vec![String::new(), from_of_last]);
    }
    rows
}

/// The numbers under which stands what was taken for granted: `  [1-4, 6]`.
pub(super) fn marks(figure: &Figure, granted: &[&str]) -> String {
    let own = figure.origin.assumed.iter();
    let list: BTreeSet<usize> =
        own.filter_map(|own| granted.iter().position(|one| one == own)).map(|at| at + 1).collect();
    let mut stretches: Vec<(usize, usize)> = Vec::new();
    for at in list {
        match stretches.last_mut() {
            Some((_, last)) if *last + 1 == at => *last = at,
            _ => stretches.push((at, at)),
        }
    }
    let said: Vec<String> = stretches
        .into_iter()
        .map(|(first, last)| if first == last { first.to_string() } else { format!("{first}-{last}") })
        .collect();
    if said.is_empty() { String::new() } else { format!("  [{}]", said.join(", ")) }
}

/// What a number was worked out from, in a few words.
fn from(hand: &Hand<'_>, of: &Member, figure: &Figure) -> String {
    let mut said = Vec::new();
    if figure.inputs.len() > MOST_INPUTS {
        said.push(count(figure.inputs.len(), "other number", "other numbers"));
    } else {
        for input in &figure.inputs {
            let Some(shape) = hand.vocabulary.fact(input.fact) else { continue };
            if let Value::Truth(holds) = input.value {
                let thing = spoken(&input.name);
                said.push(if holds { shape.said_of(&thing) } else { shape.denied_of(&thing) });
                continue;
            }
            let whose = if input.thing == of.thing || input.name.is_empty() {
                String::new()
            } else {
                format!(" of {}", spoken(&input.name))
            };
            said.push(format!("{}{whose} {}", shape.label(), hand.value(shape, &input.value, None)));
        }
    }
    let lines: BTreeSet<u32> = figure
        .entries
        .iter()
        .filter(|entry| entry.at.source == DESIGN)
        .filter_map(|entry| Some(hand.sources.get(DESIGN)?.line(entry.at.start)))
        .collect();
    if !lines.is_empty() {
        said.push(lines_in_words(&lines));
    }
    if said.is_empty() { String::new() } else { format!("from {}", said.join("; ")) }
}

fn lines_in_words(lines: &BTreeSet<u32>) -> String {
    let (Some(first), Some(last)) = (lines.first(), lines.last()) else { return String::new() };
    if lines.len() > MOST_LINES {
        return format!("{} lines between {first} and {last}", lines.len());
    }
    let list: Vec<String> = lines.iter().map(u32::to_string).collect();
    format!("{} {}", if lines.len() == 1 { "line" } else { "lines" }, list.join(", "))
}

fn line_of(sources: &Sources, at: Option<Span>) -> String {
    let line = at.and_then(|at| Some(sources.get(at.source)?.line(at.start)));
    line.map_or_else(String::new, |line| format!(" (line {line})"))
}

/// What was taken for granted anywhere, each once.
pub(super) fn granted(sheet: &Worksheet) -> Vec<&str> {
    let mut all = Vec::new();
    for assumed in figures(sheet).filter(|figure| known(figure)).flat_map(|figure| &figure.origin.assumed) {
        if !all.contains(&assumed.as_str()) {
            all.push(assumed.as_str());
        }
    }
    all
}

fn taken_for_granted(sheet: &mut Sheet<'_>, granted: &[&str]) {
    if granted.is_empty() {
        return;
    }
    sheet.rule("Taken for granted");
    let rows: Vec<Vec<String>> = granted
        .iter()
        .enumerate()
        .map(|(at, one)| vec![format!("[{}]", at + 1), sentence(&capital(one))])
        .collect();
    sheet.table(&rows, Tone::Ink);
}

fn still_to_state(sheet: &mut Sheet<'_>, of: &Worksheet) {
    let wanted = wanted(of);
    if wanted.is_empty() {
        return;
    }
    sheet.rule("Still to be stated, for the numbers that are not known yet");
    for (missing, waiting) in wanted {
        let says = in_words(missing.entry.as_str());
        let waiting = count(waiting, "number waits for it", "numbers wait for it");
        let to_do = match missing.reason {
            Reason::TakenForGranted => format!("state {}; until then it is taken as a range", missing.entry),
            _ => to_settle(&missing, &of.sources),
        };
        sheet.item(&format!("{says}: {waiting}; {to_do}"), Tone::Open);
    }
}

/// The formula and source of every number that is shown.
fn formulas(sheet: &mut Sheet<'_>, hand: &Hand<'_>, of: &Worksheet) {
    let mut shown: Vec<FactId> = Vec::new();
    for figure in figures(of).filter(|figure| known(figure)) {
        if !shown.contains(&figure.fact) {
            shown.push(figure.fact);
        }
    }
    if shown.is_empty() {
        return;
    }
    sheet.rule("How the numbers are worked out");
    for together in alike(hand, &shown) {
        let Some((first, _)) = together.first() else { continue };
        let source =
            if first.source.is_empty() { String::new() } else { format!(" Source: {}.", first.source) };
        let formula = if first.formula.is_empty() { "as stated" } else { first.formula.as_str() };
        let called: Vec<String> = together
            .iter()
            .map(|(shape, of)| format!("{} ({of}: {})", shape.label(), shape.meaning.trim_end_matches('.')))
            .collect();
        let words = format!("{}. Worked out so: {}{source}", capital(&called.join("; ")), sentence(formula));
        sheet.item(&words, Tone::Ink);
    }
}

/// Facts that are worked out in the same way, together; each with the kind of thing it is of.
fn alike<'a>(hand: &Hand<'a>, shown: &[FactId]) -> Vec<Vec<(&'a FactShape, String)>> {
    let mut all: Vec<Vec<(&FactShape, String)>> = Vec::new();
    for fact in shown {
        let Some(shape) = hand.vocabulary.fact(*fact) else { continue };
        let of = hand.vocabulary.kind(shape.of).map_or_else(String::new, |kind| kind.label());
        let same = |group: &&mut Vec<(&FactShape, String)>| {
            group.first().is_some_and(|(first, _)| {
                !first.formula.is_empty() && first.formula == shape.formula && first.source == shape.source
            })
        };
        match all.iter_mut().find(same) {
            Some(group) => group.push((shape, of)),
            None => all.push(vec![(shape, of)]),
        }
    }
    all
}
