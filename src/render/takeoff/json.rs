//! The list as a report for machines: `schemas/takeoff.schema.json`.

use serde::Serialize;

use super::{amount, plain, quantity, title};
use crate::base::number::{Dimension, Number, Quantity, Ratio};
use crate::base::text::Sources;
use crate::base::value::Missing;
use crate::findings::compare::account::Program;
use crate::render::json::wire;
use crate::render::json::{program, to_text};
use crate::render::phrases;
use crate::render::terminal::problems::place;
use crate::render::words;
use crate::review::takeoff::Counted;
use crate::takeoff::{Cutting, Line, Uncounted, Use};

/// The version of the form of the report.
const FORM: u32 = 1;

#[derive(Serialize)]
struct Document {
    form: &'static str,
    version: u32,
    program: wire::Program,
    file: String,
    digest: String,
    job: Option<String>,
    notes: Vec<String>,
    lines: Vec<Item>,
    cuts: Vec<Cuts>,
    not_counted: Vec<NotCounted>,
    problems: Vec<Fault>,
}

#[derive(Serialize)]
struct Item {
    group: &'static str,
    part: String,
    size: String,
    quantity: f64,
    unit: String,
    shown: String,
    #[serde(rename = "for")]
    uses: Vec<For>,
    notes: Vec<String>,
    taken_for_granted: Vec<String>,
}

#[derive(Serialize)]
struct For {
    what: String,
    amount: Option<String>,
    entry: String,
    file: Option<String>,
    line: Option<u32>,
}

#[derive(Serialize)]
struct Cuts {
    of: String,
    stock: String,
    lengths: Vec<StockLength>,
    fewest: bool,
    taken_for_granted: Vec<String>,
}

#[derive(Serialize)]
struct StockLength {
    pieces: Vec<Piece>,
    left: String,
}

#[derive(Serialize)]
struct Piece {
    what: String,
    length: String,
}

#[derive(Serialize)]
struct NotCounted {
    group: &'static str,
    what: String,
    missing: Vec<Lacking>,
}

#[derive(Serialize)]
struct Lacking {
    entry: String,
    why: String,
    file: Option<String>,
    line: Option<u32>,
}

#[derive(Serialize)]
struct Fault {
    place: String,
    what: String,
    to_do: String,
}

/// The report, as text with an end of line.
#[must_use]
pub fn document(of: &Counted, own: &Program) -> String {
    let sources = &of.sources;
    let document = Document {
        form: "undercroft takeoff",
        version: FORM,
        program: program(own),
        file: of.name().to_owned(),
        digest: format!("sha256:{}", of.digest),
        job: of.title.clone(),
        notes: of.notes.clone(),
        lines: of.takeoff.lines.iter().map(|line| item(line, sources)).collect(),
        cuts: of.takeoff.cuttings.iter().map(cuts).collect(),
        not_counted: of.takeoff.uncounted.iter().map(|one| not_counted(one, sources)).collect(),
        problems: of
            .problems
            .iter()
            .map(|problem| {
                let said = words::of(problem);
                Fault { place: place(sources, problem), what: said.what, to_do: said.todo }
            })
            .collect(),
    };
    let mut text = to_text(&document);
    text.push('\n');
    text
}

fn item(line: &Line, sources: &Sources) -> Item {
    let (count, unit) = plain(&line.quantity, &line.unit);
    Item {
        group: title(line.group),
        part: line.part.clone(),
        size: line.size.clone(),
        quantity: count.to_f64(),
        unit,
        shown: quantity(line),
        uses: line.uses.iter().map(|one| used(one, sources)).collect(),
        notes: line.notes.clone(),
        taken_for_granted: line.assumed.clone(),
    }
}

fn used(one: &Use, sources: &Sources) -> For {
    let source = sources.get(one.at.source);
    For {
        what: one.what.clone(),
        amount: one.amount.as_ref().map(amount),
        entry: one.entry.to_string(),
        file: source.map(|source| source.name().to_owned()),
        line: source.map(|source| source.line_column(one.at.start).line),
    }
}

fn cuts(of: &Cutting) -> Cuts {
    let shown = |length: &Ratio| Quantity::of(Number::exact(length.clone()), Dimension::LENGTH).to_string();
    Cuts {
        of: of.of.clone(),
        stock: shown(&of.stock),
        lengths: of
            .lengths
            .iter()
            .map(|length| StockLength {
                pieces: length
                    .pieces
                    .iter()
                    .map(|(what, long)| Piece { what: what.clone(), length: shown(long) })
                    .collect(),
                left: shown(&length.left),
            })
            .collect(),
        fewest: of.fewest,
        taken_for_granted: of.assumed.clone(),
    }
}

fn not_counted(one: &Uncounted, sources: &Sources) -> NotCounted {
    let lacking = |missing: &Missing| {
        let source = missing.at.and_then(|at| sources.get(at.source).map(|source| (source, at)));
        Lacking {
            entry: missing.entry.to_string(),
            why: phrases::reason(&missing.reason),
            file: source.map(|(source, _)| source.name().to_owned()),
            line: source.map(|(source, at)| source.line_column(at.start).line),
        }
    };
    NotCounted {
        group: title(one.group),
        what: one.what.clone(),
        missing: one.missing.iter().map(lacking).collect(),
    }
}
