//! The worksheet in short as a part of a paper: every number that is known, and what was taken for granted.

use super::page::{granted, known, marks};
use super::{Hand, at_odds, figures};
use crate::base::value::Answer;
use crate::render::papers::{Part, Table};
use crate::render::phrases::{count, named};
use crate::render::terminal::sheet::{capital, sentence};
use crate::review::worksheet::{Member, Worksheet, wanted};

/// The parts, without a heading of their own.
#[must_use]
pub fn parts(of: &Worksheet) -> Vec<Part> {
    let hand = Hand::of(of);
    let assumed = granted(of);
    let mut parts = vec![Part::Words(
        "Worked out from what the file states. It takes the place of no measurement: the gauge, the readings at the test \
         holes, the flue test and the radon test decide. Numbers in brackets lead to what was taken for granted."
            .to_owned(),
    )];
    parts.extend(at_odds(of, &hand).map(Part::Words));
    for part in &of.parts {
        let rows: Vec<Vec<String>> =
            part.things.iter().flat_map(|thing| rows(&hand, thing, &assumed)).collect();
        if !rows.is_empty() {
            parts.push(Part::Table(Table {
                caption: part.title.to_owned(),
                head: ["of", "what", "worked out"].map(str::to_owned).to_vec(),
                rows,
                shares: vec![25, 40, 35],
                ruled: false,
            }));
        }
    }
    if !figures(of).any(known) {
        parts.push(Part::Words("There is nothing to work out from what the file states so far.".to_owned()));
    }
    if !assumed.is_empty() {
        let row = |(at, one): (usize, &&str)| vec![format!("[{}]", at + 1), sentence(&capital(one))];
        parts.push(Part::Table(Table {
            caption: "Taken for granted in these numbers".to_owned(),
            head: ["number", "what"].map(str::to_owned).to_vec(),
            rows: assumed.iter().enumerate().map(row).collect(),
            shares: vec![10, 90],
            ruled: false,
        }));
    }
    let open = wanted(of).len();
    if open > 0 {
        let what = count(open, "entry", "entries");
        parts.push(Part::Words(format!(
            "{what} would have to be stated for the numbers that are not known yet; the worksheet names them."
        )));
    }
    parts
}

/// The numbers of a thing; only the first row names it.
fn rows(hand: &Hand<'_>, of: &Member, granted: &[&str]) -> Vec<Vec<String>> {
    let mut rows = Vec::new();
    for figure in of.figures.iter().filter(|figure| known(figure)) {
        let (Some(shape), Answer::Known { value, .. }) = (hand.vocabulary.fact(figure.fact), &figure.answer)
        else {
            continue;
        };
        let name = match rows.is_empty() {
            true => capital(&named(hand.vocabulary, of.thing.kind, &of.name)),
            false => String::new(),
        };
        let shown = hand.value(shape, value, Some(&figure.origin));
        rows.push(vec![name, shape.label(), format!("{shown}{}", marks(figure, granted))]);
    }
    rows
}
