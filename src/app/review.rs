//! The verdicts on one or more designs.

use super::designs::{self, no_day};
use super::host::Host;
use super::out::{as_pdf, hand_over, no_file};
use super::{Status, library, record};
use crate::correct::corrections;
use crate::drawing::{Paper, Sheet, Which, drawn};
use crate::findings::narrow::{Narrow, NothingThere};
use crate::render::papers::report::report;
use crate::render::terminal::page::page;
use crate::render::terminal::refused::refused;
use crate::render::terminal::{Look, Show};
use crate::render::visible::one_line;
use crate::render::{html, json, sarif, tell, variance_entry};
use crate::review::as_drawn::as_drawn;
use crate::review::narrowed::narrow;
use crate::review::{self, Explained, Input, Review};

/// What comes out.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Form {
    /// Words for people.
    Text,
    /// A report for machines.
    Json,
    /// A log of the open standard SARIF 2.1.0.
    Sarif,
    /// One page for a browser.
    Html,
    /// Pages for paper.
    Pdf,
}

/// What is wanted of a review.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Request {
    /// The design files.
    pub files: Vec<String>,
    /// What comes out.
    pub form: Form,
    /// How much of it.
    pub show: Show,
    /// Which part of it is told.
    pub narrow: Narrow,
    /// The new file it goes into; without it, it is printed.
    pub out: Option<String>,
    /// On which paper the pages and the drawings are.
    pub paper: Paper,
    /// Field notes that lie over the design.
    pub field_notes: Vec<String>,
    /// A file to record the review in.
    pub record: Option<String>,
    /// Who reviewed, for the record.
    pub reviewed_by: Option<String>,
    /// Of which day the record is.
    pub reviewed_on: Option<String>,
    /// A record that is held against what is there now, instead of the review.
    pub against: Option<String>,
    /// A finding for which a variance is to be started, instead of the review.
    pub variance_for: Option<String>,
    /// The day of the review.
    pub on: Option<String>,
    /// The shop file.
    pub shop: Option<String>,
    /// Whether what cannot be told yet is accepted.
    pub accept_undetermined: bool,
    /// Folders with more rulebooks.
    pub rulebooks: Vec<String>,
}

/// Reviews every file, and leaves with the worst status.
pub fn run(host: &mut dyn Host, request: &Request, look: Look) -> Status {
    if let Some(said) = request.on.as_deref().and_then(no_day) {
        host.tell(&said);
        return Status::CouldNotRead;
    }
    if request.files.len() > 1 && !request.field_notes.is_empty() {
        host.tell("Field notes lie over one design. Name one design file with them.\n");
        return Status::CouldNotRead;
    }
    let library = match library::for_designs(host, &request.rulebooks, look) {
        Ok(library) => library,
        Err(status) => return status,
    };
    if let Some(said) = record::wrongly_asked(request).or_else(|| wrongly_put(request)) {
        host.tell(&said);
        return Status::CouldNotRead;
    }
    if request.against.is_some() {
        return record::check(host, request, &library, look);
    }
    let mut status = Status::Fine;
    let mut out = Vec::new();
    let mut reports = Vec::new();
    let mut runs = Vec::new();
    for (at, file) in request.files.iter().enumerate() {
        let papers = match designs::gathered(host, file, request.shop.as_deref(), &request.field_notes) {
            Ok(papers) => papers,
            Err(said) => {
                host.tell(&said);
                status = status.worst(Status::CouldNotRead);
                continue;
            }
        };
        let input = papers.input(request.on.as_deref(), explained(request));
        let mut review = review::review(&input, &library);
        if let Err(nothing) = narrow(&mut review, &request.narrow) {
            host.tell(&not_there(file, &nothing));
            status = status.worst(Status::CouldNotRead);
            continue;
        }
        if let Some(meant) = &request.variance_for {
            match variance_entry::started(&review, meant) {
                Ok(entry) => host.print(&entry),
                Err(said) => {
                    host.tell(&said);
                    status = status.worst(Status::CouldNotRead);
                }
            }
            continue;
        }
        if let Some(into) = &request.record {
            match record::write(host, &review, &library, request, into) {
                Ok(said) => host.tell(&said),
                Err(said) => {
                    host.tell(&said);
                    return Status::CouldNotRead;
                }
            }
        }
        status = status.worst(of(&review, request.accept_undetermined));
        match request.form {
            Form::Text => {
                if at > 0 {
                    give(host, request, &mut out, &between(look));
                }
                give(host, request, &mut out, &text(&review, request.show, look));
            }
            Form::Json => reports.push(json::report(&review)),
            Form::Html | Form::Pdf => {
                let drawings = sheets(&review, &input, request.paper);
                let paper = report(&review, request.show, &host.program(), drawings);
                if request.form == Form::Html {
                    give(host, request, &mut out, &html::page(&paper, request.paper));
                } else {
                    match as_pdf(&paper, request.paper) {
                        Ok(bytes) => out = bytes,
                        Err(said) => {
                            host.tell(&said);
                            return Status::CouldNotRead;
                        }
                    }
                }
            }
            Form::Sarif => {
                let mends = corrections(&input, &library);
                runs.push(sarif::run(&review, &mends, request.show, &host.program()));
            }
        }
        if host.ends_here() && at + 1 == request.files.len() {
            std::mem::forget(review);
        }
    }
    match request.form {
        _ if request.variance_for.is_some() => {}
        Form::Text | Form::Html | Form::Pdf => {}
        Form::Json => {
            let document = json::document(reports, &host.program());
            give(host, request, &mut out, &document);
        }
        Form::Sarif => give(host, request, &mut out, &sarif::log(runs)),
    }
    if let (Some(into), false) = (&request.out, out.is_empty())
        && let Err(said) = hand_over(host, Some(into), &out)
    {
        host.tell(&said);
        status = status.worst(Status::CouldNotRead);
    }
    if host.ends_here() {
        std::mem::forget(library);
    }
    status
}

/// What is wrong with where a review is to be put, before anything is read.
fn wrongly_put(request: &Request) -> Option<String> {
    if request.form == Form::Pdf && request.out.is_none() {
        return Some(no_file("review.pdf"));
    }
    let of_one = matches!(request.form, Form::Html | Form::Pdf) && request.out.is_some();
    (of_one && request.files.len() > 1)
        .then(|| "A file holds the pages of one design. Name one design file with it.\n".to_owned())
}

/// Prints a result, or keeps it for the file it goes into.
fn give(host: &mut dyn Host, request: &Request, out: &mut Vec<u8>, text: &str) {
    match request.out {
        None => host.print(text),
        Some(_) => out.extend_from_slice(text.as_bytes()),
    }
}

/// The drawings that go with a review on paper.
fn sheets(review: &Review<'_>, input: &Input<'_>, paper: Paper) -> Vec<(String, Sheet)> {
    if review.refusal().is_some() {
        return Vec::new();
    }
    let taken = as_drawn(review, input);
    let all = [("plan", Which::Plan), ("elevation", Which::Elevation(None)), ("riser", Which::Riser)];
    all.map(|(name, which)| (name.to_owned(), drawn(review, &taken, which).on(paper))).into()
}

/// Of how much it has to be known why it came out so.
fn explained(request: &Request) -> Explained {
    if request.show == Show::Everything || request.record.is_some() {
        Explained::Everything
    } else if request.form == Form::Text {
        Explained::OnThePage
    } else {
        Explained::Open
    }
}

/// What is told when a part is asked for that the review does not have.
fn not_there(file: &str, nothing: &NothingThere) -> String {
    let near = nothing.nearest.as_ref().map(|near| format!(" The nearest is {near}.")).unwrap_or_default();
    format!(
        "The review of {} has no {} called \"{}\".{near} There is: {}.\n",
        one_line(file),
        nothing.what,
        one_line(&nothing.named),
        one_line(&nothing.there_are.join(", "))
    )
}

/// The page of one review.
#[must_use]
pub fn text(review: &Review<'_>, show: Show, look: Look) -> String {
    if let Some(problem) = review.refusal() {
        let home = review.sources.get(review::DESIGN);
        return refused(problem, &review.sources, home, &look, "Nothing was judged.");
    }
    let told = tell::tell(review, show);
    page(&told, &review.sources, review.sources.get(review::DESIGN), show, &look)
}

/// What parts the pages of two files.
fn between(look: Look) -> String {
    if look.plain { "\n\n".to_owned() } else { format!("\n{}\n\n", "═".repeat(look.width)) }
}

/// With which status one review leaves.
#[must_use]
pub fn of(review: &Review<'_>, accept_undetermined: bool) -> Status {
    match review.exit().status(accept_undetermined) {
        0 => Status::Fine,
        1 => Status::Unmet,
        3 => Status::Undetermined,
        _ => Status::CouldNotRead,
    }
}
