//! The keys of a design file: what there is to write, part by part.

use super::Status;
use super::host::Host;
use crate::base::near::nearest;
use crate::design::keys::{parts, parts_called};
use crate::render::pages::keys;
use crate::render::terminal::Look;
use crate::render::visible::one_line;

/// Shows the parts there are, or the keys of the one asked for.
pub fn run(host: &mut dyn Host, wanted: Option<&str>, look: Look) -> Status {
    let Some(wanted) = wanted else {
        host.print(&keys::contents(&look));
        return Status::Fine;
    };
    let found = parts_called(wanted);
    if found.is_empty() {
        let parts = parts();
        let steps =
            parts.iter().flat_map(|part| part.path.iter().chain(part.keys.iter().map(|(key, _)| key)));
        let near = nearest(wanted, steps.map(String::as_str));
        let hint = near.map(|near| format!(" Perhaps {near} was meant.")).unwrap_or_default();
        host.tell(&format!(
            "No part of a design file and no key is called \"{}\".{hint}\nSee what there is with: undercroft site-visit --keys\n",
            one_line(wanted)
        ));
        return Status::CouldNotRead;
    }
    host.print(&keys::some(&found, &look));
    Status::Fine
}
