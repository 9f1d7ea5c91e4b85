//! Where a result goes: onto the screen, or into a new file.

use super::host::Host;
use crate::drawing::Paper as Size;
use crate::render::papers::Paper;
use crate::render::pdf;
use crate::render::visible::one_line;

/// Puts a result into a file that is not there yet.
///
/// # Errors
/// What to tell when it cannot be written; nothing was then.
fn put(host: &mut dyn Host, into: &str, bytes: &[u8]) -> Result<(), String> {
    host.create(into, bytes)
        .map_err(|refusal| format!("{} {}. {}\n", one_line(into), refusal.words(), refusal.advice()))
}

/// Puts a result into a new file and says so; without one it is printed.
///
/// # Errors
/// What to tell when it cannot be written; nothing was then.
pub fn hand_over(host: &mut dyn Host, into: Option<&str>, bytes: &[u8]) -> Result<(), String> {
    match into {
        None => host.print(&String::from_utf8_lossy(bytes)),
        Some(into) => {
            put(host, into, bytes)?;
            host.tell(&format!("Written into {}.\n", one_line(into)));
        }
    }
    Ok(())
}

/// What is told where a PDF is asked for and no file is named.
#[must_use]
pub fn no_file(example: &str) -> String {
    format!(
        "A PDF is not made of words and cannot be printed on the screen. Name a new file for it: --out {example}\n"
    )
}

/// A paper as PDF.
///
/// # Errors
/// What to tell when it cannot be written.
pub fn as_pdf(paper: &Paper, size: Size) -> Result<Vec<u8>, String> {
    pdf::write(paper, size).map_err(|refused| {
        format!(
            "The PDF could not be written, and nothing was: {}. The other forms hold the same, such as --as html.\n",
            one_line(&refused.0)
        )
    })
}
