//! Sheets of drawings of one design: one of them, or for paper all.

use super::Status;
use super::designs::Named;
use super::host::Host;
use super::out::{as_pdf, hand_over, no_file};
use crate::base::problem::Weight;
use crate::design::model::place::Side;
use crate::drawing::{Paper, Which, drawn};
use crate::render::papers::sheets::sheets as on_paper;
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

/// A sheet by its name.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum SheetName {
    /// The house from above.
    Plan,
    /// The house from a side.
    Elevation,
    /// The pipe, not to scale.
    Riser,
}

impl SheetName {
    /// All of them.
    const ALL: [SheetName; 3] = [SheetName::Plan, SheetName::Elevation, SheetName::Riser];

    fn name(self) -> &'static str {
        match self {
            SheetName::Plan => "plan",
            SheetName::Elevation => "elevation",
            SheetName::Riser => "riser",
        }
    }

    fn which(self, seen_from: Option<Side>) -> Which {
        match self {
            SheetName::Plan => Which::Plan,
            SheetName::Elevation => Which::Elevation(seen_from),
            SheetName::Riser => Which::Riser,
        }
    }
}

/// What is wanted of a drawing.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Request {
    /// The design.
    pub design: Named,
    /// Which sheet; without it the plan, or for paper all of them.
    pub sheet: Option<SheetName>,
    /// For an elevation, from which side it is seen.
    pub seen_from: Option<Side>,
    /// On which paper.
    pub paper: Paper,
    /// What comes out.
    pub form: Form,
    /// The new file it goes into; without it, it is printed.
    pub out: Option<String>,
}

/// What is told where nobody said which sheet and one was drawn.
const OTHERS: &str = "This is the plan. --sheet elevation and --sheet riser draw the others; --as pdf without --sheet puts all of them into one file.\n";

/// Draws sheets of one design. What can be drawn is drawn, whatever is wrong with the rest.
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
    let taken = as_drawn(&review, &input);
    let draw = |name: SheetName| drawn(&review, &taken, name.which(request.seen_from)).on(request.paper);
    // Whoever says from which side means an elevation.
    let alone = request.sheet.or(request.seen_from.map(|_| SheetName::Elevation));
    let one = alone.unwrap_or(SheetName::Plan);
    let bytes = match request.form {
        Form::Svg => Ok(svg::document(&draw(one)).into_bytes()),
        Form::Text => Ok(sheet_words::page(&draw(one), &look).into_bytes()),
        Form::Pdf => {
            let names = alone.map_or(SheetName::ALL.to_vec(), |one| vec![one]);
            let sheets = names.into_iter().map(|name| (name.name().to_owned(), draw(name))).collect();
            as_pdf(&on_paper(&review, &host.program(), sheets), request.paper)
        }
    };
    if let Err(said) = bytes.and_then(|bytes| hand_over(host, request.out.as_deref(), &bytes)) {
        host.tell(&said);
        return Status::CouldNotRead;
    }
    if alone.is_none() && request.form != Form::Pdf {
        host.tell(OTHERS);
    }
    let unread = review.problems.iter().any(|problem| problem.kind.weight() != Weight::Doubt);
    if unread {
        host.tell("Part of the file could not be read, and what stands there is not drawn. The review tells where.\n");
        return Status::CouldNotRead;
    }
    Status::Fine
}
