//! The form for whoever walks round the house, and the field notes that it is typed back in with.

use super::Status;
use super::designs::Named;
use super::host::Host;
use super::out::{as_pdf, hand_over, no_file};
use crate::base::problem::Weight;
use crate::correct::form::form;
use crate::drawing::Paper as Size;
use crate::render::html;
use crate::render::terminal::Look;
use crate::render::terminal::refused::refused;
use crate::render::walkthrough::{InNotes, page, paper};
use crate::review::walk::walk;
use crate::review::{DESIGN, Explained};

/// What comes out.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Form {
    /// A page on the terminal.
    Text,
    /// One page for a browser or a printer.
    Html,
    /// Pages for paper.
    Pdf,
    /// Field notes to type into.
    Notes,
}

/// What is wanted of a walk.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Request {
    /// The design.
    pub design: Named,
    /// What comes out.
    pub form: Form,
    /// On which paper.
    pub size: Size,
    /// The new file it goes into; without it, it is printed.
    pub out: Option<String>,
}

/// Makes the form of one design. What can be asked is asked, whatever is wrong with the rest.
pub fn run(host: &mut dyn Host, request: &Request, look: Look) -> Status {
    if request.form == Form::Pdf && request.out.is_none() {
        host.tell(&no_file("walk.pdf"));
        return Status::CouldNotRead;
    }
    let (library, papers) = match request.design.laid_out(host, look) {
        Ok(both) => both,
        Err(status) => return status,
    };
    let input = papers.input(request.design.on.as_deref(), Explained::OnThePage);
    let walk = walk(&input, &library);
    if let Some(problem) = walk.now.refusal() {
        let home = walk.now.sources.get(DESIGN);
        host.tell(&refused(problem, &walk.now.sources, home, &look, "There is no form for it."));
        return Status::CouldNotRead;
    }
    let paper = || paper::paper(&walk, &host.program());
    let made = match request.form {
        Form::Text => Ok(page::page(&walk, &look).into_bytes()),
        Form::Html => Ok(html::page(&paper(), request.size).into_bytes()),
        Form::Pdf => as_pdf(&paper(), request.size),
        Form::Notes => Ok(form(&walk, &input, &library, &InNotes::of(&walk)).text.into_bytes()),
    };
    if let Err(said) = made.and_then(|bytes| hand_over(host, request.out.as_deref(), &bytes)) {
        host.tell(&said);
        return Status::CouldNotRead;
    }
    let unread = walk.now.problems.iter().any(|problem| problem.kind.weight() != Weight::Doubt);
    if unread {
        host.tell("Part of the file could not be read, and what stands there is not asked for. The review tells where.\n");
        return Status::CouldNotRead;
    }
    Status::Fine
}
