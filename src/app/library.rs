//! The rulebooks that the commands work with: those carried inside the program and those of folders that a
//! person names.

use super::Status;
use super::host::{Host, Sort, folder_of, join};
use crate::base::near::nearest;
use crate::base::problem::Problem;
use crate::render::terminal::sheet::{Sheet, Tone};
use crate::render::terminal::{Look, problems};
use crate::render::visible::one_line;
use crate::review::books::{BookFile, Library};

/// More files than this are not read from one folder of books.
const MOST_FILES: usize = 5_000;

/// How many folders deep the files of a folder of books may lie.
const DEEPEST: usize = 4;

/// All the books, or what is wrong with a folder in words.
///
/// # Errors
/// When a folder cannot be read; then with what to tell.
pub fn gather(host: &dyn Host, folders: &[String]) -> Result<Library, String> {
    Ok(Library::with(&files(host, folders)?))
}

/// The files of all the books in these folders.
///
/// # Errors
/// When a folder cannot be read; then with what to tell.
pub fn files(host: &dyn Host, folders: &[String]) -> Result<Vec<BookFile>, String> {
    let mut files = Vec::new();
    for folder in folders {
        let before = files.len();
        collect(host, folder, "", 0, &mut files)?;
        // A folder that is a book itself stands for a folder that holds this one book.
        if files.iter().skip(before).any(|file| file.path == "book.yaml") {
            let own = folder.trim_end_matches(['/', '\\']);
            let name = own.rsplit(['/', '\\']).next().unwrap_or(own);
            files.iter_mut().skip(before).for_each(|file| file.path = format!("{name}/{}", file.path));
        }
        let is_book = |file: &BookFile| file.path == "book.yaml" || file.path.ends_with("/book.yaml");
        if !files.iter().skip(before).any(is_book) {
            return Err(format!(
                "There is no rulebook in {folder}. A book is a folder with a file book.yaml in it.\n"
            ));
        }
    }
    Ok(files)
}

fn collect(
    host: &dyn Host,
    root: &str,
    below: &str,
    depth: usize,
    files: &mut Vec<BookFile>,
) -> Result<(), String> {
    let here = if below.is_empty() { root.to_owned() } else { join(root, below) };
    let refused = |name: &str, refusal: super::host::Refusal| {
        format!("{name} {}. {}\n", refusal.words(), refusal.advice())
    };
    if depth == 0 && matches!(host.sort_of(&here), Sort::File | Sort::LinkInside) {
        let folder = folder_of(root);
        let instead = match root.ends_with("book.yaml") && !folder.is_empty() {
            true => format!("Name the folder in which it lies: --rulebooks {folder}"),
            false => {
                "A book is a folder with a file book.yaml in it; name that, or the folder that holds it."
                    .to_owned()
            }
        };
        return Err(format!("{root} is a file, and --rulebooks takes a folder. {instead}\n"));
    }
    let names = host.list(&here).map_err(|refusal| refused(&here, refusal))?;
    for (name, sort) in names {
        let path = if below.is_empty() { name.clone() } else { format!("{below}/{name}") };
        match sort {
            Sort::Folder if depth < DEEPEST && !name.starts_with('.') => {
                collect(host, root, &path, depth + 1, files)?;
            }
            Sort::File | Sort::LinkInside if name.ends_with(".yaml") => {
                if files.len() >= MOST_FILES {
                    return Err(format!(
                        "{root} holds more than {MOST_FILES} files, which no rulebook does.\n"
                    ));
                }
                let full = join(root, &path);
                let bytes = host.read(&full).map_err(|refusal| refused(&full, refusal))?;
                files.push(BookFile { path, shown: full, bytes });
            }
            Sort::LinkElsewhere => {
                let full = join(root, &path);
                return Err(format!(
                    "{full} is a link that leads out of its folder, and such a link is not followed. Copy the file into the folder.\n"
                ));
            }
            _ => {}
        }
    }
    Ok(())
}

/// What is wrong with the folders of books, each fault on its own lines, or nothing.
#[must_use]
pub fn faults(library: &Library, look: Look) -> Option<String> {
    told(&library.problems.iter().collect::<Vec<_>>(), library, look)
}

fn told(faults: &[&Problem], library: &Library, look: Look) -> Option<String> {
    if faults.is_empty() {
        return None;
    }
    let mut sheet = Sheet::new(&look);
    sheet.paragraph(0, "A rulebook has a fault, so there are no verdicts.", Tone::Unmet);
    for problem in faults {
        problems::problem(&mut sheet, &library.sources, None, problem);
    }
    Some(sheet.finish())
}

/// Gathers the books for a command about designs: those that no design names are not looked into. What is wrong is told.
///
/// # Errors
/// When a folder cannot be used; it is told already.
pub fn for_designs(host: &mut dyn Host, folders: &[String], look: Look) -> Result<Library, Status> {
    let gathered = gather(host, folders).and_then(|library| match faults(&library, look) {
        Some(said) => Err(said),
        None => Ok(library),
    });
    gathered.map_err(|said| {
        host.tell(&said);
        Status::CouldNotRead
    })
}

/// Gathers the books for a command that is of no use without all of them; what is wrong is told.
///
/// # Errors
/// When a folder or a book cannot be used; it is told already.
pub fn or_tell(host: &mut dyn Host, folders: &[String], look: Look) -> Result<Library, Status> {
    match gather(host, folders) {
        Ok(library) => whole_or_tell(host, library, look),
        Err(said) => {
            host.tell(&said);
            Err(Status::CouldNotRead)
        }
    }
}

/// The books, if nothing is wrong with any of them; what is wrong is told.
///
/// # Errors
/// When a book cannot be used; it is told already.
pub fn whole_or_tell(host: &mut dyn Host, library: Library, look: Look) -> Result<Library, Status> {
    let said = told(&library.all().1, &library, look);
    if let Some(said) = said {
        host.tell(&said);
        return Err(Status::CouldNotRead);
    }
    Ok(library)
}

/// Says that there is no book of this name, and which one was perhaps meant.
pub fn tell_no_book(host: &mut dyn Host, library: &Library, name: &str) -> Status {
    let near = nearest(name, library.names());
    let hint = near.map(|near| format!(" Perhaps {near} was meant.")).unwrap_or_default();
    host.tell(&format!(
        "There is no rulebook called \"{}\".{hint}\nSee them with: undercroft rulebook list\n",
        one_line(name)
    ));
    Status::CouldNotRead
}
