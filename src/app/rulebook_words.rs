//! The catalogue: what a rule can ask of each kind of thing.

use super::Status;
use super::host::Host;
use crate::render::terminal::Look;
use crate::render::terminal::catalogue;
use crate::render::visible::one_line;
use crate::review::books::vocabulary;

/// Lists the kinds, or the facts of one kind.
pub fn run(host: &mut dyn Host, kind: Option<&str>, look: Look) -> Status {
    let vocabulary = vocabulary();
    let Some(kind) = kind else {
        host.print(&catalogue::kinds(vocabulary, &look));
        return Status::Fine;
    };
    match catalogue::facts(vocabulary, kind, &look) {
        Ok(page) => {
            host.print(&page);
            Status::Fine
        }
        Err(near) => {
            let hint = near.map(|near| format!(" Perhaps {near} was meant.")).unwrap_or_default();
            host.tell(&format!(
                "No kind of thing, no fact and no word of a list is called \"{}\".{hint}\nSee them with: undercroft rulebook words\n",
                one_line(kind)
            ));
            Status::CouldNotRead
        }
    }
}
