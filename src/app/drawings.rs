//! A sheet of drawings of one design.

use super::Status;
use super::designs::Named;
use super::host::Host;
use super::out::{as_pdf, hand_over, no_file};
use crate::base::problem::Weight;
use crate::drawing::{Paper, Which, drawn};
use crate::render::papers::sheets::sheet as on_paper;
use crate::render::terminal::Look;
use crate::render::terminal::refused::refused;
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
    /// The design.
    pub design: Named,
    /// Which sheet.
    pub which: Which,
    /// On which paper.
    pub paper: Paper,
    /// What comes out.
    pub form: Form,
    /// The new file it goes into; without it, it is printed.
    pub out: Option<String>,
}

/// Draws one sheet of one design. What can be drawn is drawn, whatever is wrong with the rest.
pub fn run(host: &mut dyn Host, request: &Request, look: Look) -> Status {
    if request.form == Form::Pdf && request.out.is_none() {
        host.tell(&no_file("drawing.pdf"));
        return Status::CouldNotRead;
    }
    let (library, papers) = match request.design.laid_out(host, look) {
        Ok(both) => both,
        Err(status) => return status,
    };
    let input = papers.input(request.design.on.as_deref(), Explained::OnThePage);
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
    let bytes = match request.form {
        Form::Svg => Ok(svg::document(&sheet).into_bytes()),
        Form::Text => Ok(sheet_words::page(&sheet, &look).into_bytes()),
        Form::Pdf => as_pdf(&on_paper(&review, &host.program(), sheet), request.paper),
    };
    if let Err(said) = bytes.and_then(|bytes| hand_over(host, request.out.as_deref(), &bytes)) {
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
