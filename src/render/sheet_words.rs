//! What a sheet shows, in words: for those who do not see it, and for what found no room on it.

use crate::drawing::Sheet;
use crate::render::terminal::Look;
use crate::render::terminal::sheet::{Sheet as Page, Tone};

/// The words of a sheet.
#[must_use]
pub fn page(sheet: &Sheet, look: &Look) -> String {
    let mut out = Page::new(look);
    out.paragraph(0, &sheet.title, Tone::Heading);
    for part in sheet.twin.iter().filter(|part| !part.lines.is_empty()) {
        out.heading(&part.title, Tone::Heading);
        for line in &part.lines {
            out.item(line, Tone::Ink);
        }
    }
    out.finish()
}
