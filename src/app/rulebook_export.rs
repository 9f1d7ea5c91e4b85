//! A copy of a book to edit: under a name of its own, or in the place of the one that comes with the program.

use super::host::{Host, join};
use super::{Status, library};
use crate::base::text::SourceId;
use crate::render::terminal::Look;
use crate::render::visible::one_line;
use crate::rulebook::{is_book_name, naming};

/// What is wanted of a copy.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Request {
    /// The book.
    pub book: String,
    /// The folder of books that the copy is put into.
    pub folder: String,
    /// The name of the copy.
    pub named: Option<String>,
    /// Whether it keeps its name and stands in the place of the book that comes with the program.
    pub in_place: bool,
    /// Folders with more rulebooks.
    pub rulebooks: Vec<String>,
}

/// Writes the copy, or says why not.
pub fn run(host: &mut dyn Host, request: &Request, look: Look) -> Status {
    let library = match library::or_tell(host, &request.rulebooks, look) {
        Ok(library) => library,
        Err(status) => return status,
    };
    let Some(files) = library.files(&request.book) else {
        return library::tell_no_book(host, &library, &request.book);
    };
    let name = match (&request.named, request.in_place) {
        (Some(name), false) => name.as_str(),
        (None, true) => request.book.as_str(),
        _ => {
            host.tell(&format!(
                "A copy needs a name of its own, or has to say that it stands in the place of the book it is a copy of.\n\
                 Give it a name:  undercroft rulebook export {0} {1} --named my-{0}\n\
                 Or in its place: undercroft rulebook export {0} {1} --in-place\n",
                one_line(&request.book),
                one_line(&request.folder)
            ));
            return Status::CouldNotRead;
        }
    };
    if !is_book_name(name) {
        host.tell(&format!(
            "\"{}\" cannot be the name of a rulebook. Use small letters, digits and hyphens, such as my-town-2026.\n",
            one_line(name)
        ));
        return Status::CouldNotRead;
    }
    if !request.in_place && library.names().any(|taken| taken == name) {
        host.tell(&format!(
            "There is a rulebook called \"{name}\" already. Choose another name for the copy.\n"
        ));
        return Status::CouldNotRead;
    }
    let text = |id: SourceId| library.sources.get(id).map_or("", |source| source.text());
    let copied: Vec<(String, Vec<u8>)> = files
        .iter()
        .filter_map(|(id, path)| {
            let (_, inside) = path.split_once('/')?;
            let text = text(*id);
            let text =
                if inside == "book.yaml" { naming(text, name, request.in_place) } else { text.to_owned() };
            Some((inside.to_owned(), text.into_bytes()))
        })
        .collect();
    let target = join(&request.folder, name);
    if let Err(refusal) = host.create_folder(&target, &copied) {
        host.tell(&format!("{} {}. {}\n", one_line(&target), refusal.words(), refusal.advice()));
        return Status::CouldNotRead;
    }
    let folder = one_line(&request.folder);
    host.print(&format!(
        "{} holds a copy of {} to edit, {} files.\n\
         Prove it with:  undercroft rulebook prove {name} --rulebooks {folder}\n\
         Review with it: undercroft review FILE --rulebooks {folder}, with {name} named in the file under job, rulebooks\n",
        one_line(&target),
        one_line(&request.book),
        copied.len(),
    ));
    Status::Fine
}
