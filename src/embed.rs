//! Build script: lists the files under `rules/` so that the books travel inside the program, and takes the digest of
//! what the program is built from, so that a review can say which program made it.
//!
//! It writes one table, `(path, text, events)`, in order of path, which `review::books` takes in. The events of the parts that
//! every reading of a book needs are written down in one file beside it, so that a start does not take the texts apart
//! anew; the third of a row says where in that file they stand. Cases and their designs are read only when somebody asks
//! for them, so nothing of them is written down. The digest is
//! of all files of the program, the typefaces and the style of its pages among them, and of the list of libraries; the books
//! have digests of their own.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

use sha2::{Digest as _, Sha256};
use undercroft_groundwork::yaml::noted::note;

/// Lists and maps of a book lie in each other less deep than this; a deeper file is read at the start.
const DEEPEST: usize = 32;

fn main() -> io::Result<()> {
    println!("cargo::rerun-if-changed=rules");
    println!("cargo::rerun-if-changed=src/embed.rs");
    let root = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").unwrap_or_default()).join("rules");
    let mut found = Vec::new();
    if root.is_dir() {
        collect(&root, "", ".yaml", &mut found)?;
    }
    found.sort();
    println!("cargo::rustc-env=UNDERCROFT_BUILT_FROM={}", built_from()?);
    let mut table = String::from("/// Every file of the books with its path.\n");
    table.push_str("pub(crate) static CARRIED: &[(&str, &str, std::ops::Range<usize>)] = &[\n");
    let mut noted = Vec::new();
    for path in &found {
        let start = noted.len();
        let text = fs::read_to_string(root.join(path))?;
        noted.extend(needed(path, &text).and_then(|text| note(text, DEEPEST)).unwrap_or_default());
        let path = format!("rules/{path}");
        let full = format!("/{path}");
        let _ = writeln!(
            table,
            "    ({path:?}, include_str!(concat!(env!(\"CARGO_MANIFEST_DIR\"), {full:?})), {start}..{}),",
            noted.len()
        );
    }
    table.push_str("];\n\n/// What was written down of them.\n");
    table.push_str(
        "pub(crate) static NOTED: &[u8] = include_bytes!(concat!(env!(\"OUT_DIR\"), \"/carried_events\"));\n",
    );
    let out = PathBuf::from(env::var_os("OUT_DIR").unwrap_or_default());
    fs::write(out.join("carried_events"), noted)?;
    fs::write(out.join("carried_books.rs"), table)
}

/// What of a file every reading of its book needs: all of `book.yaml`, what stands before the cases of a rule or an
/// amendment, nothing of a design that cases start from. Nothing is written down where a key stands behind the cases:
/// that is a fault, which is told when the book is read.
fn needed<'t>(path: &str, text: &'t str) -> Option<&'t str> {
    if path.split('/').nth(1) == Some("cases") {
        return None;
    }
    if path.ends_with("/book.yaml") {
        return Some(text);
    }
    let end = if text.starts_with("cases:") { Some(0) } else { text.find("\ncases:").map(|at| at + 1) };
    let (head, cases) = text.split_at_checked(end.unwrap_or(text.len()))?;
    let is_key = |line: &str| line.starts_with(|c: char| c.is_alphabetic() || matches!(c, '_' | '"' | '\''));
    if cases.lines().skip(1).any(is_key) { None } else { Some(head) }
}

/// The digest of every file that the program is made of, the books apart, and of the list of libraries, each with its path.
fn built_from() -> io::Result<String> {
    let root = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").unwrap_or_default());
    let mut paths = Vec::new();
    // What shapes a page without being code counts too: typefaces, style, labels of facts.
    collect(&root.join("src"), "src", "", &mut paths)?;
    for name in ["Cargo.toml", "Cargo.lock"] {
        println!("cargo::rerun-if-changed={name}");
        paths.push(name.to_owned());
    }
    paths.sort();
    let mut whole = Sha256::new();
    for path in paths {
        let bytes = fs::read(root.join(&path)).unwrap_or_default();
        whole.update(format!("{path} {}\n", bytes.len()));
        whole.update(bytes);
    }
    Ok(whole.finalize().iter().map(|byte| format!("{byte:02x}")).collect())
}

/// Gathers the files with this ending of a folder and of the folders in it. Links are not followed.
fn collect(folder: &Path, prefix: &str, ending: &str, found: &mut Vec<String>) -> io::Result<()> {
    println!("cargo::rerun-if-changed={}", folder.display());
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let name = entry.file_name().to_string_lossy().into_owned();
        let path = if prefix.is_empty() { name.clone() } else { format!("{prefix}/{name}") };
        let kind = entry.file_type()?;
        if kind.is_dir() {
            collect(&entry.path(), &path, ending, found)?;
        } else if kind.is_file() && name.ends_with(ending) {
            found.push(path);
        }
    }
    Ok(())
}
