//! Build script: lists the files under `rules/` so that the books travel inside the program, and takes the digest of
//! what the program is built from, so that a review can say which program made it.
//!
//! It writes one table, `(path, text)`, in order of path, which `review::books` takes in. The digest is
//! of the code and of the list of libraries; the books have digests of their own.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

use sha2::{Digest as _, Sha256};

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
    table.push_str("pub(crate) static CARRIED: &[(&str, &str)] = &[\n");
    for path in &found {
        let path = format!("rules/{path}");
        let full = format!("/{path}");
        let _ =
            writeln!(table, "    ({path:?}, include_str!(concat!(env!(\"CARGO_MANIFEST_DIR\"), {full:?}))),");
    }
    table.push_str("];\n");
    let out = PathBuf::from(env::var_os("OUT_DIR").unwrap_or_default()).join("carried_books.rs");
    fs::write(out, table)
}

/// The digest of every file of the code and of the list of libraries, each with its path.
fn built_from() -> io::Result<String> {
    let root = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").unwrap_or_default());
    let mut paths = Vec::new();
    collect(&root.join("src"), "src", ".rs", &mut paths)?;
    for name in ["Cargo.toml", "Cargo.lock", "src/groundwork/Cargo.toml"] {
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
