//! Every number of a design that is worked out.

use super::Form;
use super::designs;
use super::host::Host;
use super::{Status, designs::no_day};
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
    /// The design file.
    pub file: String,
    /// What comes out.
    pub form: Form,
    /// Field notes that lie over the design.
    pub field_notes: Vec<String>,
    /// The shop file.
    pub shop: Option<String>,
    /// The day for which it is worked out.
    pub on: Option<String>,
}

/// Works out the numbers of one design.
pub fn run(host: &mut dyn Host, request: &Request, look: Look) -> Status {
    if let Some(said) = request.on.as_deref().and_then(no_day) {
        host.tell(&said);
        return Status::CouldNotRead;
    }
    let papers = match designs::gathered(host, &request.file, request.shop.as_deref(), &request.field_notes) {
        Ok(papers) => papers,
        Err(said) => {
            host.tell(&said);
            return Status::CouldNotRead;
        }
    };
    let sheet = worksheet(&papers.input(request.on.as_deref(), Explained::OnThePage));
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
