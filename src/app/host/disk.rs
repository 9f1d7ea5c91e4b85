//! The real disk and terminal.

use std::fs::{self, File, OpenOptions};
use std::io::{self, BufRead, Read, Write};
use std::path::{Path, PathBuf};

use super::{Host, MOST_BYTES, Refusal, Sort};

/// The real disk and terminal.
#[derive(Debug, Default)]
pub struct Disk;

impl Disk {
    /// Takes hold of the disk and the terminal of this process.
    #[must_use]
    pub fn new() -> Self {
        Disk
    }
}

/// What an error of the operating system comes to, without its own words, which differ by machine.
fn refusal(error: &io::Error) -> Refusal {
    match error.kind() {
        io::ErrorKind::NotFound | io::ErrorKind::NotADirectory => Refusal::Absent,
        io::ErrorKind::PermissionDenied => Refusal::Forbidden,
        io::ErrorKind::AlreadyExists => Refusal::Exists,
        io::ErrorKind::IsADirectory => Refusal::Folder,
        _ => Refusal::Failed,
    }
}

/// Whether a link leads to somewhere outside the folder it lies in.
fn leads_elsewhere(path: &Path) -> bool {
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_path_buf(),
        _ => PathBuf::from("."),
    };
    match (fs::canonicalize(&folder), fs::canonicalize(path)) {
        (Ok(folder), Ok(target)) => !target.starts_with(folder),
        _ => true,
    }
}

fn sort_of(path: &Path) -> Sort {
    let Ok(about) = fs::symlink_metadata(path) else { return Sort::Absent };
    if about.file_type().is_symlink() {
        return match fs::metadata(path) {
            Ok(target) if target.is_file() => {
                if leads_elsewhere(path) {
                    Sort::LinkElsewhere
                } else {
                    Sort::LinkInside
                }
            }
            Ok(target) if target.is_dir() => {
                if leads_elsewhere(path) {
                    Sort::LinkElsewhere
                } else {
                    Sort::Folder
                }
            }
            Ok(_) => Sort::Other,
            Err(_) => Sort::Absent,
        };
    }
    if about.is_file() {
        Sort::File
    } else if about.is_dir() {
        Sort::Folder
    } else {
        Sort::Other
    }
}

/// The name under which a file waits until it is whole.
fn waiting_name(target: &Path) -> PathBuf {
    let mut waiting = target.as_os_str().to_owned();
    waiting.push(".part");
    PathBuf::from(waiting)
}

/// Makes a file of that name and puts these bytes into it, down to the disk.
fn put(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// Asks the disk to keep the new name of a file. Where a folder cannot be asked, the file is whole all the same.
fn settle(target: &Path) {
    let folder = target.parent().map(File::open);
    if let Some(Ok(folder)) = folder {
        let _ = folder.sync_all();
    }
}

impl Host for Disk {
    fn ends_here(&self) -> bool {
        true
    }

    fn sort_of(&self, name: &str) -> Sort {
        sort_of(Path::new(name))
    }

    fn read(&self, name: &str) -> Result<Vec<u8>, Refusal> {
        let about = fs::metadata(name).map_err(|error| refusal(&error))?;
        if about.is_dir() {
            return Err(Refusal::Folder);
        }
        if !about.is_file() {
            return Err(Refusal::NotAFile);
        }
        let file = File::open(name).map_err(|error| refusal(&error))?;
        let mut bytes = Vec::new();
        let most = u64::try_from(MOST_BYTES).unwrap_or(u64::MAX);
        file.take(most.saturating_add(1)).read_to_end(&mut bytes).map_err(|error| refusal(&error))?;
        if bytes.len() > MOST_BYTES {
            return Err(Refusal::TooLarge);
        }
        Ok(bytes)
    }

    fn list(&self, name: &str) -> Result<Vec<(String, Sort)>, Refusal> {
        let folder = if name.is_empty() { "." } else { name };
        let mut names = Vec::new();
        for entry in fs::read_dir(folder).map_err(|error| refusal(&error))? {
            let entry = entry.map_err(|error| refusal(&error))?;
            let sort = sort_of(&entry.path());
            names.push((entry.file_name().to_string_lossy().into_owned(), sort));
        }
        names.sort_by(|a, b| a.0.cmp(&b.0));
        Ok(names)
    }

    fn create(&mut self, name: &str, bytes: &[u8]) -> Result<(), Refusal> {
        let target = Path::new(name);
        if fs::symlink_metadata(target).is_ok() {
            return Err(Refusal::Exists);
        }
        let waiting = waiting_name(target);
        let placed = put(&waiting, bytes).and_then(|()| {
            // A second name fails if the first is taken, where a plain renaming would write over it.
            fs::hard_link(&waiting, target).or_else(|error| {
                if error.kind() == io::ErrorKind::AlreadyExists {
                    return Err(error);
                }
                // Some disks know no second names: write it in place, still refusing what is there.
                put(target, bytes)
            })
        });
        let ours = !matches!(&placed, Err(error) if error.kind() == io::ErrorKind::AlreadyExists && !waiting.exists());
        if ours {
            let _ = fs::remove_file(&waiting);
        }
        placed.map_err(|error| refusal(&error))
    }

    fn replace(&mut self, name: &str, was: &[u8], bytes: &[u8]) -> Result<(), Refusal> {
        // Where the name is a link, the file it leads to is written anew, and the link stays.
        let target = fs::canonicalize(name).map_err(|error| refusal(&error))?;
        let about = fs::metadata(&target).map_err(|error| refusal(&error))?;
        if about.permissions().readonly() {
            return Err(Refusal::Forbidden);
        }
        if self.read(name)? != was {
            return Err(Refusal::Changed);
        }
        // One that was left behind when a writer was cut off has another number, and is in nobody's way.
        let waiting = waiting_name(&target.with_added_extension(std::process::id().to_string()));
        let placed = put(&waiting, bytes)
            .and_then(|()| fs::set_permissions(&waiting, about.permissions()))
            .map_err(|error| refusal(&error))
            .and_then(|()| if self.read(name)? == was { Ok(()) } else { Err(Refusal::Changed) })
            .and_then(|()| fs::rename(&waiting, &target).map_err(|error| refusal(&error)));
        match placed {
            Ok(()) => settle(&target),
            Err(_) => drop(fs::remove_file(&waiting)),
        }
        placed
    }

    fn create_folder(&mut self, name: &str, files: &[(String, Vec<u8>)]) -> Result<(), Refusal> {
        let target = Path::new(name.trim_end_matches(['/', '\\']));
        if fs::symlink_metadata(target).is_ok() {
            return Err(Refusal::Exists);
        }
        let mut waiting = target.as_os_str().to_owned();
        waiting.push(".part");
        let waiting = PathBuf::from(waiting);
        if let Some(above) = target.parent().filter(|above| !above.as_os_str().is_empty()) {
            fs::create_dir_all(above).map_err(|error| refusal(&error))?;
        }
        fs::create_dir(&waiting).map_err(|error| refusal(&error))?;
        let filled = files.iter().try_for_each(|(path, bytes)| {
            let file = waiting.join(path);
            if let Some(folder) = file.parent() {
                fs::create_dir_all(folder)?;
            }
            fs::write(&file, bytes)
        });
        let placed = filled.and_then(|()| fs::rename(&waiting, target));
        if placed.is_err() {
            let _ = fs::remove_dir_all(&waiting);
        }
        placed.map_err(|error| refusal(&error))
    }

    fn print(&mut self, text: &str) {
        // A reader that has gone away, as at the end of a pipe, is no fault of ours.
        let mut out = io::stdout().lock();
        let _ = out.write_all(text.as_bytes());
        let _ = out.flush();
    }

    fn tell(&mut self, text: &str) {
        let mut out = io::stderr().lock();
        let _ = out.write_all(text.as_bytes());
        let _ = out.flush();
    }

    fn next_line(&mut self) -> Option<String> {
        let mut line = Vec::new();
        let mut input = io::stdin().lock().take(64 * 1024);
        match input.read_until(b'\n', &mut line) {
            Ok(0) | Err(_) => None,
            Ok(_) => {
                let text = String::from_utf8_lossy(&line);
                Some(text.trim_end_matches(['\n', '\r']).to_owned())
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_made_once_and_never_written_over() {
        let folder = tempfile::tempdir().unwrap();
        let name = folder.path().join("new.yaml").to_string_lossy().into_owned();
        let mut disk = Disk::new();
        assert_eq!(disk.create(&name, b"one"), Ok(()));
        assert_eq!(disk.create(&name, b"two"), Err(Refusal::Exists));
        assert_eq!(disk.read(&name), Ok(b"one".to_vec()));
        let left = disk.list(&folder.path().to_string_lossy()).unwrap();
        assert_eq!(left, vec![("new.yaml".to_owned(), Sort::File)]);
    }

    #[test]
    fn a_file_is_replaced_only_while_it_is_as_it_was_left() {
        let folder = tempfile::tempdir().unwrap();
        let name = folder.path().join("new.yaml").to_string_lossy().into_owned();
        let mut disk = Disk::new();
        assert_eq!(disk.replace(&name, b"", b"one"), Err(Refusal::Absent));
        assert_eq!(disk.create(&name, b"one"), Ok(()));
        assert_eq!(disk.replace(&name, b"one", b"two"), Ok(()));
        assert_eq!(disk.replace(&name, b"one", b"three"), Err(Refusal::Changed));
        assert_eq!(disk.read(&name), Ok(b"two".to_vec()));
        let left = disk.list(&folder.path().to_string_lossy()).unwrap();
        assert_eq!(left, vec![("new.yaml".to_owned(), Sort::File)]);
    }

    #[test]
    fn a_folder_is_made_whole_and_never_written_over() {
        let folder = tempfile::tempdir().unwrap();
        let name = folder.path().join("books/town").to_string_lossy().into_owned();
        let files =
            [("book.yaml".to_owned(), b"book".to_vec()), ("hedges/a.yaml".to_owned(), b"rule".to_vec())];
        let mut disk = Disk::new();
        assert_eq!(disk.create_folder(&name, &files), Ok(()));
        assert_eq!(disk.read(&format!("{name}/hedges/a.yaml")), Ok(b"rule".to_vec()));
        assert_eq!(disk.create_folder(&name, &files), Err(Refusal::Exists));
        let left = disk.list(&folder.path().join("books").to_string_lossy()).unwrap();
        assert_eq!(left, vec![("town".to_owned(), Sort::Folder)], "nothing half done is left");
    }

    #[test]
    fn folders_absent_files_and_large_files_are_refused() {
        let folder = tempfile::tempdir().unwrap();
        let disk = Disk::new();
        let at = |name: &str| folder.path().join(name).to_string_lossy().into_owned();
        assert_eq!(disk.read(&at("")), Err(Refusal::Folder));
        assert_eq!(disk.read(&at("no")), Err(Refusal::Absent));
        std::fs::File::create(folder.path().join("big")).unwrap().set_len(MOST_BYTES as u64 + 1).unwrap();
        assert_eq!(disk.read(&at("big")), Err(Refusal::TooLarge));
    }

    #[cfg(unix)]
    #[test]
    fn a_link_says_whether_it_leaves_its_folder() {
        let folder = tempfile::tempdir().unwrap();
        let inner = folder.path().join("inner");
        std::fs::create_dir(&inner).unwrap();
        std::fs::write(folder.path().join("far"), "x").unwrap();
        std::fs::write(inner.join("near"), "x").unwrap();
        std::os::unix::fs::symlink("../far", inner.join("out")).unwrap();
        std::os::unix::fs::symlink("near", inner.join("in")).unwrap();
        std::os::unix::fs::symlink("gone", inner.join("dangling")).unwrap();
        let sort = |name: &str| Disk::new().sort_of(&inner.join(name).to_string_lossy());
        assert_eq!(sort("out"), Sort::LinkElsewhere);
        assert_eq!(sort("in"), Sort::LinkInside);
        assert_eq!(sort("near"), Sort::File);
        assert_eq!(sort("dangling"), Sort::Absent);
    }
}
