//! The verdicts on one or more designs.

use super::host::{Host, Sort, folder_of, join};
use super::{Status, library};
use crate::base::near::nearest;
use crate::base::time::Date;
use crate::render::terminal::page::page;
use crate::render::terminal::refused::refused;
use crate::render::terminal::{Look, Show};
use crate::render::visible::one_line;
use crate::render::{json, tell, variance_entry};
use crate::review::{self, Input, Review};

/// What comes out.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Form {
    /// Words for people.
    Text,
    /// A report for machines.
    Json,
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
    /// Field notes that lie over the design.
    pub field_notes: Vec<String>,
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

/// The shop file that is looked for beside a design.
const SHOP_FILE: &str = "shop.yaml";

/// A file with what stands in it, or why not.
pub(super) type Taken = Result<Vec<u8>, String>;

/// Reviews every file, and leaves with the worst status.
pub fn run(host: &mut dyn Host, request: &Request, look: Look) -> Status {
    if let Some(day) = &request.on
        && Date::parse(day).is_err()
    {
        host.tell(&format!("\"{}\" is not a day. Write it as 2026-05-12.\n", one_line(day)));
        return Status::CouldNotRead;
    }
    if request.files.len() > 1 && !request.field_notes.is_empty() {
        host.tell("Field notes lie over one design. Name one design file with them.\n");
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
    let mut status = Status::Fine;
    let mut reports = Vec::new();
    for (at, file) in request.files.iter().enumerate() {
        let bytes = match take(host, file) {
            Ok(bytes) => bytes,
            Err(said) => {
                host.tell(&format!("{said}\n"));
                status = status.worst(Status::CouldNotRead);
                continue;
            }
        };
        let (shop, notes) = match shop_file(host, file, request.shop.as_deref()) {
            Ok(found) => found,
            Err(said) => {
                host.tell(&format!("{said}\n"));
                status = status.worst(Status::CouldNotRead);
                continue;
            }
        };
        let mut papers = Vec::with_capacity(request.field_notes.len());
        let mut refused = false;
        for name in &request.field_notes {
            match take(host, name) {
                Ok(bytes) => papers.push((name.as_str(), bytes)),
                Err(said) => {
                    host.tell(&format!("{said}\n"));
                    refused = true;
                }
            }
        }
        if refused {
            status = status.worst(Status::CouldNotRead);
            continue;
        }
        let input = Input {
            name: file,
            bytes: &bytes,
            shop: shop.as_ref().map(|(name, bytes)| (name.as_str(), bytes.as_slice())),
            field_notes: papers.iter().map(|(name, bytes)| (*name, bytes.as_slice())).collect(),
            on: request.on.as_deref(),
            everything: request.show == Show::Everything,
            notes,
        };
        let review = review::review(&input, &library);
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
        status = status.worst(of(&review, request.accept_undetermined));
        match request.form {
            Form::Text => {
                if at > 0 {
                    host.print(&between(look));
                }
                host.print(&text(&review, request.show, look));
            }
            Form::Json => reports.push(json::report(&review)),
        }
    }
    if request.form == Form::Json && request.variance_for.is_none() {
        host.print(&json::document(reports));
    }
    status
}

/// The page of one review.
#[must_use]
pub fn text(review: &Review<'_>, show: Show, look: Look) -> String {
    if let Some(problem) = review.refusal() {
        return refused(problem, &review.sources, review.sources.get(review::DESIGN), &look);
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

/// Reads a design file, or says why not, with the designs that lie beside it.
pub(super) fn take(host: &dyn Host, file: &str) -> Taken {
    host.read(file).map_err(|refusal| {
        let mut said = format!("{} {}. {}", one_line(file), refusal.words(), refusal.advice());
        let folder = if host.sort_of(file) == Sort::Folder { file } else { folder_of(file) };
        if let Ok(names) = host.list(folder) {
            let designs: Vec<String> = names
                .iter()
                .filter(|(name, sort)| {
                    *sort == Sort::File && (name.ends_with(".yaml") || name.ends_with(".yml"))
                })
                .map(|(name, _)| join(folder, name))
                .collect();
            if let Some(near) = nearest(file, designs.iter().map(String::as_str)) {
                said.push_str(&format!(" Perhaps {} was meant.", one_line(&near)));
            } else if !designs.is_empty() && designs.len() <= 6 {
                said.push_str(&format!(" There is: {}.", one_line(&designs.join(", "))));
            }
        }
        said
    })
}

type Shop = (Option<(String, Vec<u8>)>, Vec<String>);

/// The shop file: the one that is named, else the one beside the design; with what has to be said of links.
fn shop_file(host: &dyn Host, file: &str, named: Option<&str>) -> Result<Shop, String> {
    let mut notes = Vec::new();
    if host.sort_of(file) == Sort::LinkElsewhere {
        notes.push(format!("{file} is a link to a file in another folder; that file was read."));
    }
    if let Some(named) = named {
        let bytes = host
            .read(named)
            .map_err(|refusal| format!("{} {}. {}", one_line(named), refusal.words(), refusal.advice()))?;
        return Ok((Some((named.to_owned(), bytes)), notes));
    }
    let beside = join(folder_of(file), SHOP_FILE);
    if beside == file {
        return Ok((None, notes));
    }
    match host.sort_of(&beside) {
        Sort::File | Sort::LinkInside => {
            let bytes = host.read(&beside).map_err(|refusal| {
                format!("{} {}. {}", one_line(&beside), refusal.words(), refusal.advice())
            })?;
            Ok((Some((beside, bytes)), notes))
        }
        Sort::LinkElsewhere => {
            notes.push(format!(
                "{beside} is a link to another folder and was not read. To use that file, name it with --shop."
            ));
            Ok((None, notes))
        }
        Sort::Folder | Sort::Other | Sort::Absent => Ok((None, notes)),
    }
}
