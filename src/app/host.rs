//! The outside world as the program sees it: files by the name a person gave, and a screen.
//!
//! Everything that touches a disk or a terminal passes through here, so that the same code serves a
//! shell, a test and whatever comes later. The day is not part of it: it is an argument.

use crate::findings::compare::account::Program;

pub mod disk;
pub mod memory;

/// More bytes than this are not read from one file.
pub const MOST_BYTES: usize = 8 * 1024 * 1024;

/// What a name stands for.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Sort {
    /// A file that can be read.
    File,
    /// A folder.
    Folder,
    /// A link to a file in the same folder or further in.
    LinkInside,
    /// A link to a file somewhere else.
    LinkElsewhere,
    /// Something that is neither a file nor a folder: a pipe, a device.
    Other,
    /// Nothing.
    Absent,
}

/// Why the outside world did not do what was asked.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Refusal {
    /// There is nothing of that name.
    Absent,
    /// It is a folder.
    Folder,
    /// It is neither a file nor a folder.
    NotAFile,
    /// It may not be read or written.
    Forbidden,
    /// It is larger than the program reads.
    TooLarge,
    /// There is already something of that name.
    Exists,
    /// What stands there is not what was put there before.
    Changed,
    /// The disk or the network refused.
    Failed,
}

impl Refusal {
    /// What happened, as the end of a sentence that begins with the name.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Refusal::Absent => "is not there",
            Refusal::Folder => "is a folder, not a file",
            Refusal::NotAFile => "is not an ordinary file",
            Refusal::Forbidden => "may not be read or written by you",
            Refusal::TooLarge => "is larger than 8 MB, which no design is",
            Refusal::Exists => "is already there",
            Refusal::Changed => "was changed by somebody else meanwhile",
            Refusal::Failed => "could not be read or written; the disk or the network refused",
        }
    }

    /// What a person can do about it.
    #[must_use]
    pub fn advice(self) -> &'static str {
        match self {
            Refusal::Absent => "Check the spelling and the folder you are in.",
            Refusal::Folder => "Name the design file inside it.",
            Refusal::NotAFile => "Save it as an ordinary file first, then name that file.",
            Refusal::Forbidden => "Change its permissions, or copy it to a folder of your own.",
            Refusal::TooLarge => "Check that this is the file you mean.",
            Refusal::Exists => "Choose another name, or move the old file away first. Nothing was changed.",
            Refusal::Changed => "It is left as it is now. Look at it before you go on.",
            Refusal::Failed => "Try again, or copy the file to a disk of your own.",
        }
    }
}

/// Files and a screen.
pub trait Host {
    /// What a name stands for, links looked at and not followed silently.
    fn sort_of(&self, name: &str) -> Sort;
    /// The bytes of a file.
    ///
    /// # Errors
    /// When it is absent, no ordinary file, forbidden or too large.
    fn read(&self, name: &str) -> Result<Vec<u8>, Refusal>;
    /// The names in a folder, in order, each with what it stands for.
    ///
    /// # Errors
    /// When it is absent, no folder or forbidden.
    fn list(&self, name: &str) -> Result<Vec<(String, Sort)>, Refusal>;
    /// Writes a file that is not there yet: wholly or not at all.
    ///
    /// # Errors
    /// When something of that name is there, or it cannot be written.
    fn create(&mut self, name: &str, bytes: &[u8]) -> Result<(), Refusal>;
    /// Puts new bytes into a file in place of these: wholly or not at all.
    ///
    /// # Errors
    /// When something else stands there by now, or it cannot be written.
    fn replace(&mut self, name: &str, was: &[u8], bytes: &[u8]) -> Result<(), Refusal>;
    /// Writes a folder that is not there yet, with these files by their paths in it: wholly or not at all.
    ///
    /// # Errors
    /// When something of that name is there, or it cannot be written.
    fn create_folder(&mut self, name: &str, files: &[(String, Vec<u8>)]) -> Result<(), Refusal>;
    /// The program that runs here.
    fn program(&self) -> Program {
        Program::own()
    }
    /// Whether the program ends with the command: then nothing that it holds has to be put away piece by piece before.
    fn ends_here(&self) -> bool {
        false
    }
    /// Shows a result: standard output.
    fn print(&mut self, text: &str);
    /// Says something beside the result: standard error.
    fn tell(&mut self, text: &str);
    /// The next line a person types, its end taken off; nothing when there is no more.
    fn next_line(&mut self) -> Option<String>;
}

/// The name of a file in a folder, as a person would write it.
#[must_use]
pub fn join(folder: &str, name: &str) -> String {
    if folder.is_empty() || folder == "." {
        return name.to_owned();
    }
    if folder.ends_with(['/', '\\']) { format!("{folder}{name}") } else { format!("{folder}/{name}") }
}

/// The folder of a file, as a person would write it; empty for the folder they are in.
#[must_use]
pub fn folder_of(name: &str) -> &str {
    let cut = name.rfind(['/', '\\']);
    match cut {
        Some(0) => name.get(..1).unwrap_or(""),
        Some(at) => name.get(..at).unwrap_or(""),
        None => "",
    }
}
