//! Runs the cases of every rule, moves every limit, and changes the rules to see whether their cases notice.

use super::host::Host;
use super::{Status, library};
use crate::judge::mutants::Tried;
use crate::judge::prove::{Came, ProofReport};
use crate::render::terminal::sheet::{Sheet, Tone};
use crate::render::terminal::{Look, problems, proof};
use crate::review::proving::prove_book;
use crate::rulebook::checked::CheckedBook;

/// Proves one book, or all of them. It leaves with 1 when a rule is not proven.
pub fn run(host: &mut dyn Host, book: Option<&str>, tried: Tried, folders: &[String], look: Look) -> Status {
    let library = match library::or_tell(host, folders, look) {
        Ok(library) => library,
        Err(status) => return status,
    };
    let (all, _) = library.all();
    let chosen: Vec<&CheckedBook> =
        all.iter().copied().filter(|one| book.is_none_or(|name| one.name == name)).collect();
    if let (Some(name), true) = (book, chosen.is_empty()) {
        return library::tell_no_book(host, &library, name);
    }
    let mut status = Status::Fine;
    for book in chosen {
        match prove_book(&library, book, tried) {
            Ok(report) => {
                if !report.holds() {
                    status = status.worst(Status::Unmet);
                }
                host.print(&proof::page(&report, &library.sources, &look));
                if turned_by_amendment(book, &report) {
                    host.print(
                        "\nA case from below comes out otherwise because an amendment turns it. If that is\n\
                         meant, say it anew under cases in the amendment, with the claim of the case and\n\
                         the verdict that comes of it now.\n",
                    );
                }
            }
            Err(faults) => {
                let mut sheet = Sheet::new(&look);
                sheet.paragraph(0, &format!("{}: cases that cannot be read", book.name), Tone::Unmet);
                for fault in &faults {
                    problems::problem(&mut sheet, &library.sources, None, fault);
                }
                host.tell(&sheet.finish());
                status = status.worst(Status::CouldNotRead);
            }
        }
    }
    status
}

/// Whether a case of an amended rule comes out otherwise than said.
fn turned_by_amendment(book: &CheckedBook, report: &ProofReport) -> bool {
    report.rules.iter().any(|proof| {
        let amended = book.rules.get(proof.rule).is_some_and(|rule| !rule.authors.amendments.is_empty());
        amended && proof.cases.iter().any(|case| matches!(case.came, Came::Otherwise(_)))
    })
}
