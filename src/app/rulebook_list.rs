//! The books there are, and how each stands in a design.

use std::collections::BTreeMap;

use super::designs::no_day;
use super::host::Host;
use super::{Status, library};
use crate::render::tell::finding::standing;
use crate::render::terminal::books::Asked;
use crate::render::terminal::{Look, books};
use crate::render::visible::one_line;
use crate::review::{self, Input};

/// Lists the books; of a design also every requirement that is in force in it, with who made it so.
pub fn run(
    host: &mut dyn Host,
    file: Option<&str>,
    on: Option<&str>,
    folders: &[String],
    look: Look,
) -> Status {
    if let Some(said) = on.and_then(no_day) {
        host.tell(&said);
        return Status::CouldNotRead;
    }
    let library = match library::or_tell(host, folders, look) {
        Ok(library) => library,
        Err(status) => return status,
    };
    let (list, _) = library.all();
    let mut standings = BTreeMap::new();
    let mut used = Vec::new();
    let mut day = on.map(str::to_owned);
    if let Some(file) = file {
        let bytes = match host.read(file) {
            Ok(bytes) => bytes,
            Err(refusal) => {
                host.tell(&format!("{} {}. {}\n", one_line(file), refusal.words(), refusal.advice()));
                return Status::CouldNotRead;
            }
        };
        let review = review::review(&Input { name: file, bytes: &bytes, on, ..Input::default() }, &library);
        for one in &review.used {
            standings.insert(one.book.name.clone(), standing(one.standing).to_owned());
            used.push(one.book);
        }
        day = review.on;
    }
    let asked = Asked { design: file, standings: &standings, used: &used, on: day.as_deref() };
    host.print(&books::list(&list, &asked, &library.sources, &look));
    if host.ends_here() {
        std::mem::forget(library);
    }
    Status::Fine
}
