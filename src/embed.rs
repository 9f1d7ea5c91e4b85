//! Build script: lists the files under `rules/` so that the books travel inside the program.
//!
//! It writes one table, `(path from rules/, text)`, in order of path, which `review::books` takes in.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use std::{env, fs, io};

fn main() -> io::Result<()> {
    println!("cargo::rerun-if-changed=rules");
    println!("cargo::rerun-if-changed=src/embed.rs");
    let root = PathBuf::from(env::var_os("CARGO_MANIFEST_DIR").unwrap_or_default()).join("rules");
    let mut found = Vec::new();
    if root.is_dir() {
        collect(&root, "", &mut found)?;
    }
    found.sort();
    let mut table = String::from("/// Every file of the books, by its path under `rules/`.\n");
    table.push_str("pub(crate) static CARRIED: &[(&str, &str)] = &[\n");
    for path in &found {
        let full = format!("/rules/{path}");
        let _ =
            writeln!(table, "    ({path:?}, include_str!(concat!(env!(\"CARGO_MANIFEST_DIR\"), {full:?}))),");
    }
    table.push_str("];\n");
    let out = PathBuf::from(env::var_os("OUT_DIR").unwrap_or_default()).join("carried_books.rs");
    fs::write(out, table)
}

/// Gathers the rule files of a folder and of the folders in it. Links are not followed.
fn collect(folder: &Path, prefix: &str, found: &mut Vec<String>) -> io::Result<()> {
    println!("cargo::rerun-if-changed={}", folder.display());
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let name = entry.file_name().to_string_lossy().into_owned();
        let path = if prefix.is_empty() { name.clone() } else { format!("{prefix}/{name}") };
        let kind = entry.file_type()?;
        if kind.is_dir() {
            collect(&entry.path(), &path, found)?;
        } else if kind.is_file() && name.ends_with(".yaml") {
            found.push(path);
        }
    }
    Ok(())
}
