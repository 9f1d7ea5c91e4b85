//! What to put on the truck for one design.

use super::Status;
use super::designs::Named;
use super::host::Host;
use crate::base::problem::Weight;
use crate::render::takeoff::{csv, json, page};
use crate::render::terminal::Look;
use crate::render::terminal::refused::refused;
use crate::review::takeoff::{Counted, counted};
use crate::review::{DESIGN, Explained};

/// What comes out.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Form {
    /// A page for people.
    Text,
    /// A report for machines.
    Json,
    /// A table for a spreadsheet.
    Csv,
}

/// What is wanted of a takeoff.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Request {
    /// The design.
    pub design: Named,
    /// What comes out.
    pub form: Form,
}

/// Counts what one design takes. What can be counted is printed whatever is wrong with the rest.
pub fn run(host: &mut dyn Host, request: &Request, look: Look) -> Status {
    let papers = match request.design.papers(host) {
        Ok(papers) => papers,
        Err(status) => return status,
    };
    let counted = counted(&papers.input(None, Explained::OnThePage));
    host.print(&match (request.form, counted.refusal()) {
        (Form::Json, _) => json::document(&counted, &host.program()),
        (Form::Csv, _) => csv::document(&counted),
        (Form::Text, Some(problem)) => {
            refused(problem, &counted.sources, counted.sources.get(DESIGN), &look, "Nothing was counted.")
        }
        (Form::Text, None) => page::page(&counted, &look),
    });
    status(&counted)
}

/// With which status a takeoff leaves.
#[must_use]
pub fn status(counted: &Counted) -> Status {
    let unreadable = counted.problems.iter().any(|problem| problem.kind.weight() != Weight::Doubt);
    let nothing = counted.takeoff.lines.is_empty();
    match (unreadable, nothing || !counted.takeoff.uncounted.is_empty()) {
        (true, _) => Status::CouldNotRead,
        (false, true) => Status::Undetermined,
        (false, false) => Status::Fine,
    }
}
