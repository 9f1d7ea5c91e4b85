//! Two books beside each other on the page.

use super::{Difference, OnDesign, Row, Told, Turn};
use crate::findings::Comes;
use crate::render::phrases::{self, count};
use crate::render::terminal::Look;
use crate::render::terminal::sheet::{Sheet, Tone, capital};

/// The page.
#[must_use]
pub fn page(told: &Told, look: &Look) -> String {
    let [(old, old_title), (new, new_title)] = &told.books;
    let mut sheet = Sheet::new(look);
    sheet.paragraph(0, &format!("{old} beside {new}"), Tone::Heading);
    sheet.item(&format!("{old}: {old_title}"), Tone::Quiet);
    sheet.item(&format!("{new}: {new_title}"), Tone::Quiet);
    sheet.blank();
    sheet.paragraph(0, &counts(told), Tone::Ink);
    let mut topic = String::new();
    for row in told.rows.iter().filter(|row| !is_alike(row)) {
        let own = row.subject.split('/').next().unwrap_or_default();
        if own != topic {
            topic = own.to_owned();
            sheet.rule(&capital(&phrases::spoken(own)));
        }
        requirement(&mut sheet, row, (old, new));
    }
    for design in &told.designs {
        on_design(&mut sheet, design, (old, new));
    }
    sheet.finish()
}

fn is_alike(row: &Row) -> bool {
    row.old.is_some() && row.new.is_some() && row.moved.is_empty()
}

fn counts(told: &Told) -> String {
    let [(old, _), (new, _)] = &told.books;
    let number = |wanted: &dyn Fn(&&Row) -> bool| told.rows.iter().filter(wanted).count();
    let both = number(&|row| row.old.is_some() && row.new.is_some());
    let alike = number(&|row| is_alike(row));
    format!(
        "{} in both: {alike} alike, {} otherwise. {} in {old} alone, {} in {new} alone.",
        count(both, "requirement", "requirements"),
        both - alike,
        number(&|row| row.new.is_none()),
        number(&|row| row.old.is_none()),
    )
}

fn requirement(sheet: &mut Sheet<'_>, row: &Row, (old, new): (&str, &str)) {
    sheet.blank();
    match (&row.old, &row.new) {
        (Some(was), Some(is)) => {
            let names = if was.requirement.split('/').nth(1) == is.requirement.split('/').nth(1) {
                was.requirement.split('/').nth(1).unwrap_or_default().to_owned()
            } else {
                format!("{} and {}", was.requirement, is.requirement)
            };
            sheet.paragraph(0, &format!("{} ({names})", is.title), Tone::Heading);
            for one in &row.moved {
                difference(sheet, one, (old, new));
            }
        }
        (Some(only), None) | (None, Some(only)) => {
            let book = if row.new.is_none() { old } else { new };
            sheet.paragraph(
                0,
                &format!("{} ({}), in {book} alone", only.title, only.requirement),
                Tone::Heading,
            );
            sheet.row("verb", &only.verb);
            sheet.row("numbers", &only.numbers);
        }
        (None, None) => {}
    }
}

fn difference(sheet: &mut Sheet<'_>, Difference { what, was, is }: &Difference, (old, new): (&str, &str)) {
    let shown = |text: &str| if text.is_empty() { "nothing".to_owned() } else { text.to_owned() };
    let (label, name) = match what.split_once(' ') {
        Some(("number", name)) => ("number", format!("{name}, ")),
        _ => (what.as_str(), String::new()),
    };
    if was.chars().count() + is.chars().count() < 50 {
        sheet.row(label, &format!("{name}{old}: {}; {new}: {}", shown(was), shown(is)));
    } else {
        sheet.row(label, &format!("{name}{old}: {}", shown(was)));
        sheet.row("", &format!("{new}: {}", shown(is)));
    }
}

fn on_design(sheet: &mut Sheet<'_>, design: &OnDesign, (old, new): (&str, &str)) {
    sheet.rule(&format!("On {}", design.file));
    sheet.paragraph(0, &design.stands, Tone::Quiet);
    for local in &design.local {
        if local.amiss.is_empty() {
            let kept = count(local.changes, "change", "changes");
            sheet.item(
                &format!("{} keeps its {kept}: each fits {new} as it fitted {old}.", local.book),
                Tone::Met,
            );
            continue;
        }
        let what = format!(
            "{} cannot build on {new} as it stands, so what would turn cannot be told until this is settled:",
            local.book
        );
        sheet.item(&what, Tone::Unmet);
        for amiss in &local.amiss {
            sheet.hanging(4, 6, amiss, Tone::Open);
        }
    }
    if design.local.iter().any(|local| !local.amiss.is_empty()) {
        return;
    }
    if design.turns.is_empty() {
        sheet.paragraph(0, "No verdict would turn.", Tone::Met);
        return;
    }
    let turn = count(design.turns.len(), "verdict would turn", "verdicts would turn");
    sheet.paragraph(0, &format!("{turn}, {} would not.", design.alike), Tone::Ink);
    let rows: Vec<Vec<String>> = design
        .turns
        .iter()
        .map(|turn| {
            let of = if turn.thing.is_empty() { String::new() } else { format!(", {}", turn.thing) };
            vec![format!("{} to {}", came(turn.was), came(turn.is)), format!("\"{}\"{of}", turn.title)]
        })
        .collect();
    sheet.table(&rows, Tone::Ink);
    let worse = |turn: &&Turn| turn.is == Some(Comes::Unmet);
    let worse = design.turns.iter().filter(worse).count();
    if worse > 0 {
        sheet.paragraph(0, &format!("{worse} of them would be unmet under {new}."), Tone::Unmet);
    }
}

fn came(comes: Option<Comes>) -> &'static str {
    comes.map_or("not asked", phrases::comes)
}
