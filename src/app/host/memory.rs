//! A world in memory: for the proofs, and for whoever has bytes and no disk.

use std::collections::{BTreeMap, VecDeque};

use crate::findings::compare::account::Program;

use super::{Host, MOST_BYTES, Refusal, Sort};

/// A world in memory.
#[derive(Clone, Debug, Default)]
pub struct Memory {
    /// Its files, by name.
    pub files: BTreeMap<String, Vec<u8>>,
    /// Names that are links out of their folder.
    pub links: Vec<String>,
    /// What a person would type, line by line.
    pub typed: VecDeque<String>,
    /// The program that runs there, where it is another than this one.
    pub program: Option<Program>,
    /// What was printed.
    pub printed: String,
    /// What was told beside it.
    pub told: String,
}

impl Memory {
    /// A world with these files.
    #[must_use]
    pub fn with<N: Into<String>, B: Into<Vec<u8>>>(files: impl IntoIterator<Item = (N, B)>) -> Self {
        let files = files.into_iter().map(|(name, bytes)| (name.into(), bytes.into())).collect();
        Memory { files, ..Self::default() }
    }

    fn is_folder(&self, name: &str) -> bool {
        let inside = format!("{}/", name.trim_end_matches('/'));
        name.is_empty() || name == "." || self.files.keys().any(|file| file.starts_with(&inside))
    }
}

impl Host for Memory {
    fn sort_of(&self, name: &str) -> Sort {
        if self.links.iter().any(|link| link == name) {
            Sort::LinkElsewhere
        } else if self.files.contains_key(name) {
            Sort::File
        } else if self.is_folder(name) {
            Sort::Folder
        } else {
            Sort::Absent
        }
    }

    fn read(&self, name: &str) -> Result<Vec<u8>, Refusal> {
        match self.files.get(name) {
            Some(bytes) if bytes.len() > MOST_BYTES => Err(Refusal::TooLarge),
            Some(bytes) => Ok(bytes.clone()),
            None if self.is_folder(name) => Err(Refusal::Folder),
            None => Err(Refusal::Absent),
        }
    }

    fn list(&self, name: &str) -> Result<Vec<(String, Sort)>, Refusal> {
        if self.files.contains_key(name) {
            return Err(Refusal::NotAFile);
        }
        let here = name.is_empty() || name == ".";
        let inside = if here { String::new() } else { format!("{}/", name.trim_end_matches('/')) };
        let mut names = BTreeMap::new();
        for file in self.files.keys() {
            let Some(rest) = file.strip_prefix(&inside) else { continue };
            match rest.split_once('/') {
                Some((folder, _)) => names.insert(folder.to_owned(), Sort::Folder),
                None => names.insert(rest.to_owned(), self.sort_of(file)),
            };
        }
        if names.is_empty() && !here { Err(Refusal::Absent) } else { Ok(names.into_iter().collect()) }
    }

    fn create(&mut self, name: &str, bytes: &[u8]) -> Result<(), Refusal> {
        if self.sort_of(name) != Sort::Absent {
            return Err(Refusal::Exists);
        }
        self.files.insert(name.to_owned(), bytes.to_vec());
        Ok(())
    }

    fn replace(&mut self, name: &str, was: &[u8], bytes: &[u8]) -> Result<(), Refusal> {
        if self.read(name)? != was {
            return Err(Refusal::Changed);
        }
        self.files.insert(name.to_owned(), bytes.to_vec());
        Ok(())
    }

    fn create_folder(&mut self, name: &str, files: &[(String, Vec<u8>)]) -> Result<(), Refusal> {
        if self.sort_of(name) != Sort::Absent {
            return Err(Refusal::Exists);
        }
        for (path, bytes) in files {
            self.files.insert(super::join(name, path), bytes.clone());
        }
        Ok(())
    }

    fn program(&self) -> Program {
        self.program.clone().unwrap_or_else(Program::own)
    }

    fn print(&mut self, text: &str) {
        self.printed.push_str(text);
    }

    fn tell(&mut self, text: &str) {
        self.told.push_str(text);
    }

    fn next_line(&mut self) -> Option<String> {
        self.typed.pop_front()
    }
}
