//! Two books or editions beside each other, and what would turn on one's own designs.

use super::Form;
use super::designs::{no_day, take};
use super::host::Host;
use super::{Status, library};
use crate::findings::Comes;
use crate::findings::flips::flips;
use crate::render::editions::{json, on_design, page, told};
use crate::render::terminal::Look;
use crate::render::visible::one_line;
use crate::review::adopting::{adopt, rebased};
use crate::review::books::vocabulary;
use crate::review::{Input, Library};
use crate::rulebook::editions;

/// What is wanted of a comparison.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Request {
    /// The first book.
    pub old: String,
    /// The second.
    pub new: String,
    /// What comes out.
    pub form: Form,
    /// Designs on which to look for verdicts that would turn.
    pub designs: Vec<String>,
    /// The day to ask about.
    pub on: Option<String>,
    /// Folders with more rulebooks.
    pub rulebooks: Vec<String>,
}

/// Puts them beside each other.
pub fn run(host: &mut dyn Host, request: &Request, look: Look) -> Status {
    if let Some(said) = request.on.as_deref().and_then(no_day) {
        host.tell(&said);
        return Status::CouldNotRead;
    }
    let files = match library::files(host, &request.rulebooks) {
        Ok(files) => files,
        Err(said) => {
            host.tell(&said);
            return Status::CouldNotRead;
        }
    };
    let library = match library::whole_or_tell(host, Library::with(&files), look) {
        Ok(library) => library,
        Err(status) => return status,
    };
    let mut books = Vec::new();
    for name in [&request.old, &request.new] {
        match library.book(name) {
            Some(Ok(book)) => books.push(book),
            _ => return library::tell_no_book(host, &library, name),
        }
    }
    let [old, new] = books.as_slice() else { return Status::CouldNotRead };
    let mut said = told(old, new, &editions::compare(old, new, vocabulary()), vocabulary());
    let after = rebased(&files, &library, &old.name, &new.name);
    let mut status = Status::Fine;
    for file in &request.designs {
        let bytes = match take(host, file) {
            Ok(bytes) => bytes,
            Err(refusal) => {
                host.tell(&format!("{refusal}\n"));
                status = status.worst(Status::CouldNotRead);
                continue;
            }
        };
        let input = Input { name: file, bytes: &bytes, on: request.on.as_deref(), ..Input::default() };
        let adopted = adopt(&input, (&old.name, &new.name), &library, &after);
        if adopted.old.refusal().is_some() {
            host.tell(&format!(
                "{} cannot be reviewed, so nothing of it is compared. See why with: undercroft review\n",
                one_line(file)
            ));
            status = status.worst(Status::CouldNotRead);
            continue;
        }
        let turned = flips(&adopted.old.findings, &adopted.new.findings);
        let asked = adopted.old.findings.iter().filter(|one| one.comes() != Comes::NotApplicable).count();
        let alike = asked - turned.iter().filter(|flip| flip.was.is_some()).count();
        said.designs.push(on_design(file, &adopted, &turned, alike));
    }
    host.print(&match request.form {
        Form::Text => page::page(&said, &look),
        Form::Json => json::document(&said),
    });
    status
}
