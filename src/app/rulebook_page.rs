//! A whole book on one page, to print or to keep beside it.

use super::host::Host;
use super::{Status, library};
use crate::render::pages::book;
use crate::render::terminal::Look;
use crate::review::books::vocabulary;

/// Prints the page of the book of this name.
pub fn run(host: &mut dyn Host, name: &str, folders: &[String], look: Look) -> Status {
    let library = match library::or_tell(host, folders, look) {
        Ok(library) => library,
        Err(status) => return status,
    };
    let (books, _) = library.all();
    let Some(book) = books.into_iter().find(|book| book.name == name) else {
        return library::tell_no_book(host, &library, name);
    };
    host.print(&book::page(book, vocabulary(), &library.sources));
    Status::Fine
}
