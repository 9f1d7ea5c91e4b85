//! The shape of the house: what each layer may use, and what must not be found in it.
//!
//! The code is read as text, comments and test modules left out, so that every `crate::` path counts and
//! not only `use` lines.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// The layers in reading order, as `src/lib.rs` lists them: each may use those before it.
const LAYERS: [&str; 16] = [
    "base", "yaml", "calc", "design", "facts", "takeoff", "rulebook", "judge", "findings", "review",
    "correct", "drawing", "labels", "render", "app", "cli",
];

/// What a layer may use where that is less than everything before it.
const ONLY: [(&str, &[&str]); 4] = [
    ("yaml", &["base"]),
    ("calc", &["base"]),
    ("rulebook", &["base", "yaml"]),
    ("judge", &["base", "rulebook"]),
];

struct SourceFile {
    /// The path below `src`, with forward slashes.
    path: String,
    /// The code without comments, text literals kept.
    code: String,
    /// The code without comments and without text literals.
    bare: String,
}

fn rust_files(folder: &Path, into: &mut Vec<PathBuf>) {
    let mut entries: Vec<_> = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            rust_files(&path, into);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            into.push(path);
        }
    }
}

/// The program's own source, test modules cut off: by the habit of this project they close a file.
fn sources() -> Vec<SourceFile> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut paths = Vec::new();
    rust_files(&root, &mut paths);
    assert!(paths.len() > 30, "the source folder was not found where it should be");
    paths
        .into_iter()
        .filter(|path| !path.file_name().is_some_and(|name| name == "tests.rs" || name == "toy.rs"))
        .map(|path| {
            let text = fs::read_to_string(&path).unwrap();
            let program = text.split("\n#[cfg(test)]\nmod ").next().unwrap().to_owned();
            let relative = path.strip_prefix(&root).unwrap().to_string_lossy().replace('\\', "/");
            SourceFile { path: relative, code: strip(&program, false), bare: strip(&program, true) }
        })
        .collect()
}

/// The text without comments, and without the inside of text literals when `literals` is set.
fn strip(text: &str, literals: bool) -> String {
    let mut out = String::with_capacity(text.len());
    let chars: Vec<char> = text.chars().collect();
    let mut at = 0;
    while at < chars.len() {
        let rest = &chars[at..];
        if rest.starts_with(&['/', '/']) {
            while at < chars.len() && chars[at] != '\n' {
                at += 1;
            }
        } else if let Some(hashes) = raw_literal(rest) {
            let close: Vec<char> = std::iter::once('"').chain(std::iter::repeat_n('#', hashes)).collect();
            let start = at;
            at += hashes + 2;
            while at < chars.len() && !chars[at..].starts_with(&close) {
                at += 1;
            }
            at = (at + close.len()).min(chars.len());
            if literals {
                out.push_str("\"\"");
            } else {
                out.extend(&chars[start..at]);
            }
        } else if chars[at] == '"' {
            let start = at;
            at += 1;
            while at < chars.len() && chars[at] != '"' {
                at += if chars[at] == '\\' { 2 } else { 1 };
            }
            at = (at + 1).min(chars.len());
            if literals {
                out.push_str("\"\"");
            } else {
                out.extend(&chars[start..at]);
            }
        } else if chars[at] == '\'' && rest.get(2) == Some(&'\'') {
            at += 3;
        } else if rest.starts_with(&['\'', '\\']) {
            at += 2;
            while at < chars.len() && chars[at] != '\'' {
                at += 1;
            }
            at += 1;
        } else {
            out.push(chars[at]);
            at += 1;
        }
    }
    out
}

/// How many `#` a raw text literal starts with, if one starts here.
fn raw_literal(rest: &[char]) -> Option<usize> {
    if rest.first() != Some(&'r') {
        return None;
    }
    let hashes = rest[1..].iter().take_while(|c| **c == '#').count();
    (rest.get(1 + hashes) == Some(&'"')).then_some(hashes)
}

fn layer_of(path: &str) -> Option<&'static str> {
    let first = path.split('/').next().unwrap().trim_end_matches(".rs");
    LAYERS.into_iter().find(|layer| *layer == first)
}

/// The first names of all paths that start at the crate.
fn crate_paths(code: &str) -> Vec<String> {
    let mut found = Vec::new();
    for start in ["crate::", "undercroft::"] {
        for (at, _) in code.match_indices(start) {
            let rest = &code[at + start.len()..];
            if let Some(group) = rest.strip_prefix('{') {
                let inside = &group[..group.find(';').unwrap_or(group.len())];
                let mut depth = 0;
                let mut name = String::new();
                for c in inside.chars() {
                    match c {
                        '{' => depth += 1,
                        '}' => depth -= 1,
                        ',' if depth == 0 => name.clear(),
                        ':' if depth == 0 && !name.is_empty() => found.push(std::mem::take(&mut name)),
                        c if depth == 0 && (c.is_alphanumeric() || c == '_') => name.push(c),
                        _ => {}
                    }
                }
            } else {
                found.push(rest.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect());
            }
        }
    }
    found
}

#[test]
fn the_layers_stand_in_the_order_the_library_lists_them() {
    let text = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("src/lib.rs")).unwrap();
    let listed: Vec<&str> =
        text.lines().filter_map(|line| line.strip_prefix("pub mod ")?.strip_suffix(';')).collect();
    assert_eq!(listed, LAYERS);
}

#[test]
fn a_layer_uses_only_the_layers_above_it() {
    let mut wrong = Vec::new();
    for file in sources() {
        let Some(layer) = layer_of(&file.path) else { continue };
        let place = LAYERS.iter().position(|name| *name == layer).unwrap();
        let only = ONLY.iter().find(|(name, _)| *name == layer).map(|(_, allowed)| *allowed);
        for used in crate_paths(&file.code) {
            let Some(target) = LAYERS.iter().position(|name| *name == used) else { continue };
            let allowed = used == layer || only.map_or(target < place, |list| list.contains(&used.as_str()));
            if !allowed {
                wrong.push(format!("{} uses {used}", file.path));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn no_path_climbs_out_of_its_layer() {
    let mut wrong = Vec::new();
    for file in sources() {
        let folders = file.path.matches('/').count();
        let depth = if file.path.ends_with("/mod.rs") { folders - 1 } else { folders };
        let deepest = (1..12).rev().find(|n| file.bare.contains(&"super::".repeat(*n))).unwrap_or(0);
        if deepest > depth {
            wrong.push(format!("{} climbs {deepest} steps", file.path));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn only_the_rim_touches_files_clock_environment_and_terminal() {
    let rim = ["app/host/disk.rs", "cli/", "main.rs", "embed.rs"];
    let outside = [
        "std::fs",
        "std::env",
        "std::time",
        "std::net",
        "std::process",
        "std::io::stdin",
        "std::io::stdout",
        "print!",
        "println!",
        "eprint!",
        "eprintln!",
        "dbg!",
        "Zoned::now",
        "Timestamp::now",
    ];
    let mut wrong = Vec::new();
    for file in sources() {
        if rim.iter().any(|place| file.path.starts_with(place)) {
            continue;
        }
        for name in outside {
            let hits = file
                .bare
                .match_indices(name)
                .filter(|(at, _)| !file.bare[..*at].ends_with(|c: char| c.is_alphanumeric() || c == '_'));
            wrong.extend(hits.map(|_| format!("{} touches {name}", file.path)));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn the_engine_knows_no_word_of_the_trade() {
    let words = [
        "radon",
        "discharge",
        "suction",
        "slab",
        "membrane",
        "crawlspace",
        "basement",
        "sump",
        "manometer",
        "exhaust",
        "attic",
        "mitigation",
        "soil gas",
        "depressuri",
        "riser",
        " eave",
    ];
    let mut wrong = Vec::new();
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    for layer in ["base", "yaml", "rulebook", "judge"] {
        let mut paths = Vec::new();
        rust_files(&root.join(layer), &mut paths);
        assert!(!paths.is_empty(), "nothing found under {layer}");
        for path in paths {
            let relative = path.strip_prefix(&root).unwrap().to_string_lossy().into_owned();
            // Units are named as the trade and the standards write them.
            if layer == "base" && relative.contains("number") {
                continue;
            }
            let text = fs::read_to_string(&path).unwrap().to_lowercase();
            let documented_purpose = text.replace("knows no radon", "");
            for word in words {
                if documented_purpose.contains(word) {
                    wrong.push(format!("{relative} says {word}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn no_number_of_a_code_stands_in_the_program() {
    // A limit is recognised by a quantity in a text literal, the way a person writes one.
    let units = [" ft", " in", " mil", " cfm", " inWC", " in WC", " psi", " Pa", " pCi/L", " hours", " days"];
    let allowed: BTreeMap<&str, &[&str]> = BTreeMap::new();
    let mut wrong = Vec::new();
    for file in sources() {
        if !["facts", "drawing"].contains(&layer_of(&file.path).unwrap_or("")) {
            continue;
        }
        for literal in literals(&file.code) {
            let bytes = literal.as_bytes();
            let quantity = units.iter().any(|unit| {
                literal.match_indices(unit).any(|(at, _)| {
                    let ends = literal[at + unit.len()..].chars().next().is_none_or(|c| !c.is_alphanumeric());
                    at > 0 && bytes[at - 1].is_ascii_digit() && ends
                })
            });
            let listed = allowed.get(file.path.as_str()).is_some_and(|list| list.contains(&literal.as_str()));
            if quantity && !listed {
                wrong.push(format!("{}: {literal:?}", file.path));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// The plain text literals of a file.
fn literals(code: &str) -> Vec<String> {
    let mut found = Vec::new();
    let mut inside: Option<String> = None;
    let mut chars = code.chars();
    while let Some(c) = chars.next() {
        match (&mut inside, c) {
            (None, '"') => inside = Some(String::new()),
            (None, _) => {}
            (Some(_), '"') => found.extend(inside.take()),
            (Some(text), '\\') => text.extend(chars.next()),
            (Some(text), c) => text.push(c),
        }
    }
    found
}

#[test]
fn no_bare_float_crosses_a_public_signature() {
    let allowed = ["from_f64", "to_f64", "f64", "_si"];
    let mut wrong = Vec::new();
    for file in sources() {
        for (at, _) in file.bare.match_indices("pub fn ") {
            let rest = &file.bare[at + "pub fn ".len()..];
            let signature = &rest[..rest.find(['{', ';']).unwrap_or(rest.len())];
            let name: String = signature.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            let known = allowed.iter().any(|part| name.contains(part));
            if (signature.contains("f64") || signature.contains("f32")) && !known {
                wrong.push(format!("{}: {name}", file.path));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn what_people_are_told_is_given_a_form_only_by_the_renderers() {
    let mut wrong = Vec::new();
    for file in sources() {
        if layer_of(&file.path) == Some("findings")
            && (file.bare.contains("serde") || file.bare.contains("miette"))
        {
            wrong.push(file.path);
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn nothing_can_panic_outside_tests() {
    let mut wrong = Vec::new();
    for file in sources() {
        for name in
            [".unwrap()", ".expect(", "panic!(", "unreachable!(", "todo!(", "unimplemented!(", "assert!("]
        {
            let hits = file
                .bare
                .match_indices(name)
                .filter(|(at, _)| !file.bare[..*at].ends_with("debug_") && file.path != "embed.rs");
            wrong.extend(hits.map(|_| format!("{}: {name}", file.path)));
        }
        if file.bare.contains("allow(clippy::") && file.path != "embed.rs" {
            wrong.push(format!("{}: a lint is switched off", file.path));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn no_file_has_grown_into_two_things() {
    let long: Vec<String> = sources()
        .into_iter()
        .map(|file| (file.path, file.code.lines().filter(|line| !line.trim().is_empty()).count()))
        .filter(|(_, lines)| *lines > 700)
        .map(|(path, lines)| format!("{path}: {lines} lines"))
        .collect();
    assert!(long.is_empty(), "{long:#?}");
}

#[test]
fn the_top_level_holds_what_it_is_said_to_hold() {
    let expected = [
        "Cargo.lock",
        "Cargo.toml",
        "DEVELOPERS.md",
        "LICENSE-APACHE",
        "LICENSE-MIT",
        "README.md",
        "examples",
        "rules",
        "schemas",
        "src",
        "target",
        "tests",
    ];
    let unexpected: Vec<String> = fs::read_dir(env!("CARGO_MANIFEST_DIR"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .filter(|name| !name.starts_with('.') && !expected.contains(&name.as_str()))
        .collect();
    assert!(unexpected.is_empty(), "{unexpected:#?}");
}
