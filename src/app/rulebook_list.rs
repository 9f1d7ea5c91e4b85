//! The books there are, and how each stands in a design.

use std::collections::BTreeMap;

use super::host::Host;
use super::{Status, library};
use crate::render::tell::finding::standing;
use crate::render::terminal::{Look, books};
use crate::render::visible::one_line;
use crate::review::{self, Input};

/// Lists the books.
pub fn run(host: &mut dyn Host, file: Option<&str>, folders: &[String], look: Look) -> Status {
    let library = match library::or_tell(host, folders, look) {
        Ok(library) => library,
        Err(status) => return status,
    };
    let (list, _) = library.all();
    let mut standings = BTreeMap::new();
    if let Some(file) = file {
        let bytes = match host.read(file) {
            Ok(bytes) => bytes,
            Err(refusal) => {
                host.tell(&format!("{} {}. {}\n", one_line(file), refusal.words(), refusal.advice()));
                return Status::CouldNotRead;
            }
        };
        let review = review::review(&Input { name: file, bytes: &bytes, ..Input::default() }, &library);
        for used in &review.used {
            standings.insert(used.book.name.clone(), standing(used.standing).to_owned());
        }
    }
    host.print(&books::list(&list, &standings, file, &look));
    Status::Fine
}
