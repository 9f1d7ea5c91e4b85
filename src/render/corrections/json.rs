//! The corrections as a report for machines: `schemas/corrections.schema.json`. An edit says where it is made in three ways:
//! in bytes of the file, in characters, and as editors count.

use serde::Serialize;

use super::json_places::{Places, places};
use super::{called, conflict, costs, finding, named, why};
use crate::base::digest::sha256_hex;
use crate::base::text::Source;
use crate::correct::choose::{Chosen, Conflict};
use crate::correct::cost::Cost;
use crate::correct::{Choice, Corrections, Mend, Offer};
use crate::findings::compare::account::Program;
use crate::render::json::wire;
use crate::render::json::{program, to_text};
use crate::render::tell::finding::Background;
use crate::render::tell::numbers::Styles;
use crate::review::DESIGN;
use crate::yaml::edits::{Edit, Edits};

/// The version of the form of the report.
const FORM: u32 = 1;

#[derive(Serialize)]
struct Document {
    form: &'static str,
    version: u32,
    program: wire::Program,
    file: String,
    digest: String,
    built: bool,
    findings: Vec<Item>,
    places: Places,
    chosen: Option<Together>,
    left_out: Vec<LeftOut>,
}

#[derive(Serialize)]
struct Item {
    identity: String,
    says: String,
    choices: Vec<Way>,
}

#[derive(Serialize)]
struct Way {
    offer: &'static str,
    number: Option<usize>,
    title: String,
    requirement: String,
    why_not: Option<String>,
    edits: Vec<Change>,
    measure_afterwards: Vec<String>,
    also_mends: Vec<String>,
    costs: Vec<String>,
}

#[derive(Serialize)]
struct Change {
    start: Point,
    end: Point,
    text: String,
}

/// A place: the byte and the character counted from nought; line and unit as the editor protocol counts, from nought too.
#[derive(Serialize)]
struct Point {
    byte: u32,
    character: usize,
    utf16: Utf16,
}

#[derive(Serialize)]
struct Utf16 {
    line: u32,
    unit: u32,
}

#[derive(Serialize)]
struct Together {
    numbers: Vec<usize>,
    edits: Vec<Change>,
    measure_afterwards: Vec<String>,
    digest_then: String,
}

#[derive(Serialize)]
struct LeftOut {
    number: usize,
    why: String,
}

/// The report, as text with an end of line.
#[must_use]
pub fn document(
    all: &Corrections<'_>,
    counted: &[(usize, Cost)],
    together: Option<&Chosen>,
    left_out: &[(usize, Conflict)],
    own: &Program,
) -> String {
    let blank = Source::new("", "");
    let source = all.review.sources.get(DESIGN).unwrap_or(&blank);
    let styles = Styles::default();
    let background = super::page::background(all, &styles);
    let document = Document {
        form: "undercroft corrections",
        version: FORM,
        program: program(own),
        file: all.review.name().to_owned(),
        digest: format!("sha256:{}", all.review.digests.design),
        built: all.is_built(),
        findings: all
            .mends
            .iter()
            .filter_map(|mend| item(all, mend, source, (counted, &background)))
            .collect(),
        places: places(all),
        chosen: together.map(|chosen| Together {
            numbers: chosen.numbers.clone(),
            edits: edits(source, &chosen.edits),
            measure_afterwards: chosen.measure.iter().map(|one| one.entry.to_string()).collect(),
            digest_then: format!("sha256:{}", sha256_hex(chosen.text.as_bytes())),
        }),
        left_out: left_out
            .iter()
            .map(|(number, one)| LeftOut {
                number: *number,
                why: conflict(one, &|identity| named(all, identity, &background)),
            })
            .collect(),
    };
    let mut text = to_text(&document);
    text.push('\n');
    text
}

fn item(
    all: &Corrections<'_>,
    mend: &Mend,
    source: &Source,
    (counted, background): (&[(usize, Cost)], &Background<'_>),
) -> Option<Item> {
    let of = finding(all, mend)?;
    let way = |choice: &Choice| {
        let clause = of.clauses.get(choice.clause);
        let requirement =
            clause.and_then(|clause| crate::findings::variance::requirement_of(clause, &all.review.used));
        let mut way = Way {
            offer: "words",
            number: None,
            title: choice.title.clone(),
            requirement: requirement.unwrap_or_default(),
            why_not: None,
            edits: Vec::new(),
            measure_afterwards: Vec::new(),
            also_mends: Vec::new(),
            costs: Vec::new(),
        };
        match &choice.offer {
            Offer::Edits(proven) => {
                way.offer = "edits";
                way.number = Some(proven.number);
                way.edits = edits(source, &proven.edits);
                way.measure_afterwards = proven.measure.iter().map(|one| one.entry.to_string()).collect();
                way.also_mends.clone_from(&proven.besides);
                let own = counted.iter().find(|(number, _)| *number == proven.number);
                way.costs = own.map(|(_, cost)| costs(all, cost)).unwrap_or_default();
            }
            Offer::WorkOrder(entries) => {
                way.offer = "work order";
                way.measure_afterwards = entries.iter().map(ToString::to_string).collect();
            }
            Offer::Words(not) => way.why_not = Some(why(not, &|identity| named(all, identity, background))),
        }
        way
    };
    Some(Item {
        identity: of.identity.clone(),
        says: called(of, background),
        choices: mend.choices.iter().map(way).collect(),
    })
}

fn edits(source: &Source, edits: &Edits) -> Vec<Change> {
    let point = |byte: u32| {
        let at = source.utf16(byte);
        Point {
            byte,
            character: source.text().get(..byte as usize).map_or(0, |before| before.chars().count()),
            utf16: Utf16 { line: at.line, unit: at.unit },
        }
    };
    let change = |edit: &Edit| Change {
        start: point(edit.span.start),
        end: point(edit.span.end),
        text: edit.text.clone(),
    };
    edits.as_slice().iter().map(change).collect()
}
