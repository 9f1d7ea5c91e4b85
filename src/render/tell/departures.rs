//! What was built otherwise than designed, in words.

use super::finding::{Background, thing, title};
use super::told::{Card, Cause, Section, Weighs};
use crate::design::said::in_words;
use crate::findings::Finding;
use crate::findings::departure::{Departs, Departure, Saying};
use crate::render::phrases::day;
use crate::render::terminal::excerpt::Mark;
use crate::render::terminal::sheet::capital;
use crate::render::visible::{cut, one_line};
use crate::yaml::entry::Stands;

/// Longer values than this are cut where they are told within a sentence.
const MOST_WORDS: usize = 48;

/// The heading of departures that a requirement asked for.
const HEADING: &str = "Built otherwise than designed";

/// The line of the first part.
#[must_use]
pub fn cause(departures: &[Departure]) -> Option<Cause> {
    let names: Vec<String> =
        departures.iter().filter(|one| one.is_told()).map(|one| in_words(one.entry.as_str())).collect();
    (!names.is_empty()).then(|| Cause { weighs: Weighs::Open, what: HEADING.to_owned(), names })
}

/// The departures that are findings of their own.
#[must_use]
pub fn section(departures: &[Departure], list: &[Finding], background: &Background<'_>) -> Option<Section> {
    let cards: Vec<Card> =
        departures.iter().filter(|one| one.is_told()).map(|one| card(one, list, background)).collect();
    let lead = "What was built counts. Whether it is as asked stands under each requirement.".to_owned();
    (!cards.is_empty()).then(|| Section {
        heading: HEADING.to_owned(),
        weighs: Weighs::Open,
        decides: false,
        lead,
        cards,
    })
}

/// The other departures, a line for each.
#[must_use]
pub fn lines(departures: &[Departure]) -> Option<(String, Vec<String>)> {
    let lines: Vec<String> = departures
        .iter()
        .filter(|one| !one.is_told())
        .map(|one| format!("{}: {}{}.", capital(&in_words(one.entry.as_str())), in_short(one), last_of(one)))
        .collect();
    let heading = "Other differences between design and field notes".to_owned();
    (!lines.is_empty()).then_some((heading, lines))
}

fn card(one: &Departure, list: &[Finding], background: &Background<'_>) -> Card {
    let entry = one.entry.as_str();
    let mut rows = vec![("entry".to_owned(), entry.to_owned())];
    for said in &one.said {
        let of = if said.designed { "designed" } else { on_site(one) };
        rows.push((of.to_owned(), format!("{}{}", value(said), of_whom(said))));
    }
    let asked: Vec<String> = list
        .iter()
        .filter(|finding| one.asked_by.contains(&finding.identity))
        .map(|finding| {
            let thing = thing(finding, background.vocabulary);
            let title = title(finding, background);
            if thing.is_empty() { title } else { format!("{title}: {thing}") }
        })
        .collect();
    if !asked.is_empty() {
        rows.push(("asked by".to_owned(), asked.join("; ")));
    }
    let place = one.said.last().and_then(|said| {
        let source = background.sources.get(said.at.source)?;
        Some(format!("{}, line {}", source.name(), source.line_column(said.at.start).line))
    });
    let marks = one.said.iter().map(|said| Mark {
        at: said.at,
        words: if said.designed { "designed".to_owned() } else { on_site(one).to_owned() },
    });
    Card {
        identity: one.identity.clone(),
        weighs: Weighs::Open,
        verdict: in_short(one),
        title: capital(&in_words(entry)),
        thing: String::new(),
        place: place.unwrap_or_default(),
        sentence: String::new(),
        rows,
        marks: marks.collect(),
        books: Vec::new(),
    }
}

/// How it departs, with both values.
fn in_short(one: &Departure) -> String {
    let first = one.said.first().map(value).unwrap_or_default();
    let last = one.said.last().map(value).unwrap_or_default();
    let designed = one.said.first().is_some_and(|said| said.designed);
    let site = on_site(one);
    match (one.departs(), designed) {
        (Departs::Otherwise, true) => format!("designed {first}, {site} {last}"),
        (Departs::Otherwise, false) => format!("{site} {first}, later {last}"),
        (Departs::NotThere, _) if site == "built" => "designed, not built".to_owned(),
        (Departs::NotThere, _) => "in the design, not there".to_owned(),
        (Departs::NotDesigned, _) => "on site, not in the design".to_owned(),
        (Departs::NotTold, _) => format!("designed {first}, on site {last}"),
        (Departs::SaidAnew, _) => format!("designed {first}, on site stated in another way"),
    }
}

fn last_of(one: &Departure) -> String {
    one.said.last().map(of_whom).unwrap_or_default()
}

/// Of a part of the system one says that it is built, of the building that it is found so.
fn on_site(one: &Departure) -> &'static str {
    let entry = one.entry.as_str();
    if entry.starts_with("systems.") || entry.starts_with("seals") { "built" } else { "found" }
}

fn value(said: &Saying) -> String {
    match said.stands {
        Stands::Known => cut(&one_line(&said.words), MOST_WORDS),
        Stands::None => "none".to_owned(),
        Stands::Unknown => "not known".to_owned(),
        Stands::Unreadable => "not readable".to_owned(),
        Stands::Missing => "not stated".to_owned(),
    }
}

fn of_whom(said: &Saying) -> String {
    let by = said.by.as_ref().map(|by| format!(", {}", one_line(by))).unwrap_or_default();
    let on = said.on.as_ref().map(|on| format!(", {}", day(on))).unwrap_or_default();
    format!("{by}{on}")
}
