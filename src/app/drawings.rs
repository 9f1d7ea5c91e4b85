//! A sheet of drawings of one design.

use super::designs::{self, no_day};
use super::host::Host;
use super::out::{as_pdf, no_file, put};
use super::{Status, library};
use crate::base::problem::Weight;
use crate::drawing::{Paper, Which, drawn};
use crate::render::papers::sheets::sheet as on_paper;
use crate::render::terminal::Look;
use crate::render::terminal::refused::refused;
use crate::render::visible::one_line;
use crate::render::{sheet_words, svg};
use crate::review::as_drawn::as_drawn;
use crate::review::{DESIGN, Explained, review};

/// What comes out.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Form {
    /// A picture to print.
    Svg,
    /// The same for paper, with what it shows in words.
    Pdf,
    /// What the picture shows, in words.
    Text,
}

/// What is wanted of a drawing.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Request {
    /// The design file.
    pub file: String,
    /// Which sheet.
    pub which: Which,
    /// On which paper.
    pub paper: Paper,
    /// What comes out.
    pub form: Form,
    /// The new file it goes into; without it, it is printed.
    pub out: Option<String>,
    /// The day of the review.
    pub on: Option<String>,
    /// The shop file.
    pub shop: Option<String>,
    /// Field notes that lie over the design.
    pub field_notes: Vec<String>,
    /// Folders with more rulebooks.
    pub rulebooks: Vec<String>,
}

/// Draws one sheet of one design. What can be drawn is drawn, whatever is wrong with the rest.
pub fn run(host: &mut dyn Host, request: &Request, look: Look) -> Status {
    if let Some(said) = request.on.as_deref().and_then(no_day) {
        host.tell(&said);
        return Status::CouldNotRead;
    }
    if request.form == Form::Pdf && request.out.is_none() {
        host.tell(&no_file("drawing.pdf"));
        return Status::CouldNotRead;
    }
    let library = match library::gather(host, &request.rulebooks) {
        Ok(library) => library,
        Err(said) => {
            host.tell(&said);
            return Status::CouldNotRead;
        }
    };
    if let Some(said) = library::faults(&library, look) {
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
    let input = papers.input(request.on.as_deref(), Explained::OnThePage);
    let review = review(&input, &library);
    if let Some(problem) = review.refusal() {
        host.tell(&refused(
            problem,
            &review.sources,
            review.sources.get(DESIGN),
            &look,
            "Nothing was drawn.",
        ));
        return Status::CouldNotRead;
    }
    let sheet = drawn(&review, &as_drawn(&review, &input), request.which).on(request.paper);
    let title = sheet.title.clone();
    let bytes = match request.form {
        Form::Svg => Ok(svg::document(&sheet).into_bytes()),
        Form::Text => Ok(sheet_words::page(&sheet, &look).into_bytes()),
        Form::Pdf => as_pdf(&on_paper(&review, &host.program(), sheet), request.paper),
    };
    let given = bytes.and_then(|bytes| match &request.out {
        None => {
            host.print(&String::from_utf8_lossy(&bytes));
            Ok(())
        }
        Some(out) => {
            put(host, out, &bytes)?;
            host.tell(&format!("Drawn into {}: {}.\n", one_line(out), one_line(&title)));
            Ok(())
        }
    });
    if let Err(said) = given {
        host.tell(&said);
        return Status::CouldNotRead;
    }
    let unread = review.problems.iter().any(|problem| problem.kind.weight() != Weight::Doubt);
    if unread {
        host.tell("Part of the file could not be read, and what stands there is not drawn. The review tells where.\n");
        return Status::CouldNotRead;
    }
    Status::Fine
}
