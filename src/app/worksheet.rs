//! Every number of a design that is worked out.

use super::Form;
use super::Status;
use super::designs::Named;
use super::host::Host;
use crate::base::problem::Weight;
use crate::render::terminal::Look;
use crate::render::terminal::refused::refused;
use crate::render::worksheet::{json, page};
use crate::review::DESIGN;
use crate::review::Explained;
use crate::review::worksheet::worksheet;

/// What is wanted of a worksheet.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Request {
    /// The design.
    pub design: Named,
    /// What comes out.
    pub form: Form,
}

/// Works out the numbers of one design.
pub fn run(host: &mut dyn Host, request: &Request, look: Look) -> Status {
    let papers = match request.design.papers(host) {
        Ok(papers) => papers,
        Err(status) => return status,
    };
    let sheet = worksheet(&papers.input(request.design.on.as_deref(), Explained::OnThePage));
    match (request.form, sheet.refusal()) {
        (Form::Json, _) => host.print(&json::document(&sheet, &host.program())),
        (Form::Text, Some(problem)) => {
            host.print(&refused(
                problem,
                &sheet.sources,
                sheet.sources.get(DESIGN),
                &look,
                "Nothing was worked out.",
            ));
        }
        (Form::Text, None) => host.print(&page::page(&sheet, &look)),
    }
    let unreadable = sheet.problems.iter().any(|problem| problem.kind.weight() != Weight::Doubt);
    if unreadable { Status::CouldNotRead } else { Status::Fine }
}
