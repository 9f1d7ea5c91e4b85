//! What a book says otherwise than before, in words.

use super::was_is;
use crate::findings::compare::books::FieldMove;
use crate::findings::compare::{BookChange, RuleChange};
use crate::render::phrases::spoken;
use crate::render::terminal::sheet::{Sheet, Tone, capital};
use crate::render::visible::{cut, one_line};

/// Longer texts than this are cut.
const MOST_WORDS: usize = 300;

/// One book that is not what it was.
pub fn book(sheet: &mut Sheet<'_>, change: &BookChange) {
    sheet.blank();
    let edition = match (&change.was, &change.is) {
        (Some((was, _)), Some((is, _))) if was != is => format!("was {was}, is {is}"),
        (_, Some((edition, _))) | (Some((edition, _)), None) => edition.clone(),
        (None, None) => String::new(),
    };
    sheet.paragraph(0, &format!("{}: {edition}", change.name), Tone::Heading);
    if change.was.is_none() || change.is.is_none() {
        let side = if change.was.is_none() { "older" } else { "newer" };
        let said = format!("It gave no verdicts on the {side} side: it has a fault, or is not at hand.");
        sheet.paragraph(2, &said, Tone::Unmet);
        return;
    }
    if let Some(covers) = &change.covers {
        sheet.row("covers", &was_is(covers.was.as_deref(), covers.is.as_deref()));
    }
    if !change.known {
        sheet.paragraph(2, "Which of its requirements moved cannot be told from these reviews.", Tone::Open);
    } else if change.rules.is_empty() && change.covers.is_none() {
        sheet.paragraph(2, "Its words for people moved; what it asks is the same.", Tone::Ink);
    }
    change.rules.iter().for_each(|one| rule(sheet, one));
}

/// One requirement that moved.
fn rule(sheet: &mut Sheet<'_>, change: &RuleChange) {
    let Some(rule) = change.rule() else { return };
    let (what, tone) = match (&change.was, &change.is) {
        (None, _) => ("added", Tone::Open),
        (_, None) => ("withdrawn", Tone::Open),
        _ if change.asks_otherwise() => ("asks otherwise", Tone::Open),
        _ => ("asks the same, told otherwise", Tone::Ink),
    };
    sheet.item(&format!("{} ({what})", rule.name), tone);
    if change.was.is_none() || change.is.is_none() {
        let limits: Vec<String> =
            rule.limits.iter().map(|limit| format!("{} {}", spoken(&limit.name), limit.in_words())).collect();
        let limits = if limits.is_empty() { String::new() } else { format!("; {}", limits.join(", ")) };
        sheet.hanging(4, 6, &format!("{}; {}{limits}", rule.title, rule.obligation), Tone::Ink);
    }
    for one in change.limits.iter().chain(&change.fields) {
        sheet.hanging(4, 6, &moved(one), Tone::Ink);
    }
    if change.asks_otherwise() && change.was.is_some() && change.is.is_some() && nothing_shown(change) {
        sheet.hanging(4, 6, "what it means moved, though its fields read the same", Tone::Ink);
    }
}

fn nothing_shown(change: &RuleChange) -> bool {
    change.limits.is_empty() && change.fields.is_empty()
}

/// A field that moved.
fn moved(one: &FieldMove) -> String {
    let short = |text: &Option<String>| text.as_ref().map(|text| cut(&one_line(text), MOST_WORDS));
    let (was, is) = (short(&one.was), short(&one.is));
    capital(&format!("{}: {}", spoken(&one.field), was_is(was.as_deref(), is.as_deref())))
}
