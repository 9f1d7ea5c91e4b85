//! The cover of what is handed in: names, numbers and editions as the design has them, and lines to fill in for all that
//! it does not have. Nothing on it is made up.

use super::{Parts, text};
use crate::design::model::job::{Job, Permit, Person};
use crate::render::papers::{Blank, Part};
use crate::render::phrases::spoken;
use crate::review::Review;
use crate::yaml::entry::Entry;
use crate::yaml::time::Date;
use crate::yaml::words::Words;

fn date(entry: &Entry<Date>) -> Option<String> {
    entry.known().map(Date::to_string)
}

fn together(parts: impl IntoIterator<Item = Option<String>>) -> Option<String> {
    let all: Vec<String> = parts.into_iter().flatten().collect();
    (!all.is_empty()).then(|| all.join(", "))
}

/// A person with all that is known of them but their licence.
pub(super) fn person(entry: &Entry<Person>) -> Option<String> {
    let person = entry.known()?;
    together([&person.name, &person.company, &person.phone, &person.email, &person.address].map(text))
}

fn licence(entry: &Entry<Person>) -> Option<String> {
    let person = entry.known()?;
    let until = date(&person.licence_until).map(|until| format!("until {until}"));
    text(&person.licence).map(|licence| together([Some(licence), until]).unwrap_or_default())
}

/// The cover.
pub(super) fn cover(parts: &mut Parts, review: &Review<'_>) {
    let job = &review.design.job;
    parts.heading("The job");
    parts.0.push(Part::Blanks(the_job(job)));
    parts.under("Permits", "cover");
    parts.0.push(Part::Blanks(permits(job)));
    parts.under("Adopted codes and their editions", "cover");
    parts.0.push(Part::Blanks(codes(job)));
    parts.under("For the office", "cover");
    let room = ["Received on", "Reviewed by", "Result", "Conditions", "Inspector", "Day", "Signature"];
    parts.0.push(Part::Blanks(room.map(|label| Blank::of(label, None)).to_vec()));
}

fn the_job(job: &Job) -> Vec<Blank> {
    let law = job.jurisdiction.known();
    let place = law.and_then(|place| {
        let country = place.country.known().map(|country| country.spelling().to_owned());
        together([text(&place.town), text(&place.county), text(&place.state), country])
    });
    let mut lines = vec![
        Blank::of("Job", text(&job.title)),
        Blank::of("Job number", text(&job.number)),
        Blank::of("Address", text(&job.address)),
        Blank::of("Jurisdiction", place),
        Blank::of("Office", law.and_then(|place| text(&place.office))),
        Blank::of("Owner", person(&job.owner)),
        Blank::of("Contractor", person(&job.contractor)),
        Blank::of("Contractor's licence", licence(&job.contractor)),
        Blank::of("Drawn up by", text(&job.by)),
        Blank::of("Designer's licence", text(&job.licence)),
    ];
    lines.push(Blank::of("Kind of work", job.work.known().map(|work| work.spelling().to_owned())));
    lines.push(Blank::of("Stage", job.stage.known().map(|stage| stage.spelling().to_owned())));
    lines.push(Blank::of("Day of the design", date(&job.date)));
    lines
}

fn permits(job: &Job) -> Vec<Blank> {
    let line = |(name, permit): (&str, &Permit)| {
        let number = text(&permit.number);
        let on = date(&permit.on).map(|on| format!("of {on}"));
        let until = date(&permit.until).map(|until| format!("until {until}"));
        Blank::of(&spoken(name), together([number, text(&permit.office), on, until]))
    };
    let lines: Vec<Blank> = job.permits.things().map(line).collect();
    if lines.is_empty() { vec![Blank::of("Permit number", None)] } else { lines }
}

fn codes(job: &Job) -> Vec<Blank> {
    let mut lines = Vec::new();
    for (name, code) in job.codes.things() {
        let on = date(&code.on).map(|on| format!("in force since {on}"));
        let edition = text(&code.edition).map(|edition| together([Some(edition), on]).unwrap_or_default());
        let mut line = Blank::of(&spoken(name), edition);
        line.note = text(&code.conflict).map(|conflict| format!("Conflict: {conflict}")).unwrap_or_default();
        lines.push(line);
    }
    if lines.is_empty() {
        lines = ["Building code", "Electrical code"].map(|label| Blank::of(label, None)).to_vec();
    }
    lines
}
