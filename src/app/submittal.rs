//! What is handed in with a job, left with the people of the house, or put up on the parts.

use super::Status;
use super::designs::Named;
use super::host::Host;
use super::out::{as_pdf, hand_over, no_file};
use crate::base::problem::Weight;
use crate::drawing::{Paper as Size, Sheet, Which as Drawn, drawn};
use crate::render::html;
use crate::render::papers::labels;
use crate::render::papers::packet::{Made, owner, permit};
use crate::render::terminal::Look;
use crate::render::terminal::refused::refused;
use crate::review::as_drawn::as_drawn;
use crate::review::takeoff::counted;
use crate::review::worksheet::worksheet;
use crate::review::{DESIGN, Explained, Input, Review, review};

/// Which papers.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Which {
    /// Those for the office that permits it.
    Permit,
    /// Those for the people of the house.
    Owner,
    /// The labels alone.
    Labels,
}

/// What comes out.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Form {
    /// One page for a browser or a printer.
    Html,
    /// Pages for paper.
    Pdf,
}

/// What is wanted of a submittal.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Request {
    /// The design.
    pub design: Named,
    /// Which papers.
    pub which: Which,
    /// What comes out.
    pub form: Form,
    /// On which paper.
    pub size: Size,
    /// The new file it goes into; without it, it is printed.
    pub out: Option<String>,
}

/// Puts the papers of one design together.
pub fn run(host: &mut dyn Host, request: &Request, look: Look) -> Status {
    if request.form == Form::Pdf && request.out.is_none() {
        host.tell(&no_file("papers.pdf"));
        return Status::CouldNotRead;
    }
    let (library, papers) = match request.design.laid_out(host, look) {
        Ok(both) => both,
        Err(status) => return status,
    };
    let input = papers.input(request.design.on.as_deref(), Explained::Everything);
    let review = review(&input, &library);
    if let Some(problem) = review.refusal() {
        let home = review.sources.get(DESIGN);
        host.tell(&refused(problem, &review.sources, home, &look, "Nothing was put together."));
        return Status::CouldNotRead;
    }
    let paper = match request.which {
        Which::Permit => {
            let (worksheet, counted) = (worksheet(&input), counted(&input));
            let drawings = drawings(&review, &input, request.size);
            let (review, worksheet, counted) = (&review, &worksheet, &counted);
            permit(Made { review, worksheet, counted, drawings, program: host.program() })
        }
        Which::Owner => owner(&review, &host.program()),
        Which::Labels => labels::paper(&review, &host.program()),
    };
    let made = match request.form {
        Form::Html => Ok(html::page(&paper, request.size).into_bytes()),
        Form::Pdf => as_pdf(&paper, request.size),
    };
    if let Err(said) = made.and_then(|bytes| hand_over(host, request.out.as_deref(), &bytes)) {
        host.tell(&said);
        return Status::CouldNotRead;
    }
    if review.problems.iter().any(|problem| problem.kind.weight() != Weight::Doubt) {
        host.tell("Part of the file could not be read, and what stands there is not in the papers. The review tells where.\n");
        return Status::CouldNotRead;
    }
    Status::Fine
}

/// The drawings that go with it.
fn drawings(review: &Review<'_>, input: &Input<'_>, size: Size) -> Vec<(String, Sheet)> {
    let taken = as_drawn(review, input);
    let all = [("plan", Drawn::Plan), ("elevation", Drawn::Elevation(None)), ("riser", Drawn::Riser)];
    all.map(|(name, which)| (name.to_owned(), drawn(review, &taken, which).on(size))).into()
}
