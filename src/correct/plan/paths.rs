//! Which entry the path of a change means in a design.

use crate::base::value::EntryPath;
use crate::design::keys::Key;
use crate::rulebook::corrections::ONE_MORE;
use crate::yaml::path::{Path, Step as Way};
use crate::yaml::tree::{NodeKind, Tree};

use crate::correct::{Step, WhyNot};

/// A piece of a path: words, or a thing by the entry that it is.
pub(super) enum Piece {
    Words(String),
    Thing(EntryPath),
}

/// An entry, and whether one more of its list is meant.
pub(super) struct Meant {
    pub(super) path: Path,
    pub(super) one_more: bool,
}

/// The entry that a path means: `*` stands for the name before the thing that is spoken of, else for the only one there is.
pub(super) fn meant(pieces: &[Piece], about: Option<EntryPath>, tree: &Tree) -> Result<Meant, WhyNot> {
    let mut text = String::new();
    let mut known: Vec<Path> = Vec::new();
    for piece in pieces {
        match piece {
            Piece::Words(words) => text.push_str(words),
            Piece::Thing(entry) => {
                let path = Path::parse(entry.as_str()).unwrap_or_default();
                let name = path.steps.iter().rev().find_map(|step| match step {
                    Way::Key(key) => Some(key.clone()),
                    Way::Item(_) => None,
                });
                // A name is written as it has to be in a path, with quotes if need be.
                let named = Path::root().key(name.unwrap_or_default());
                text.push_str(&named.to_string());
                known.push(path);
            }
        }
    }
    known.extend(about.and_then(|entry| Path::parse(entry.as_str()).ok()));
    let (text, one_more) = match text.strip_suffix(ONE_MORE) {
        Some(list) => (list.to_owned(), true),
        None => (text, false),
    };
    let Ok(written) = Path::parse(&text) else { return Err(WhyNot::CannotBeWritten(EntryPath::new(text))) };
    let mut path = Path::root();
    for step in &written.steps {
        path.steps.push(match step {
            Way::Key(key) if key == "*" => the_one(&path, &known, tree)?,
            step => step.clone(),
        });
    }
    Ok(Meant { path, one_more })
}

/// What `*` stands for behind a path.
fn the_one(before: &Path, known: &[Path], tree: &Tree) -> Result<Way, WhyNot> {
    let at = before.steps.len();
    let of_known =
        known.iter().filter(|path| path.steps.starts_with(&before.steps)).find_map(|path| path.steps.get(at));
    if let Some(step) = of_known {
        return Ok(step.clone());
    }
    let node = before.resolve(tree).and_then(|(node, _)| tree.node(node));
    match node.map(|node| &node.kind) {
        Some(NodeKind::Map(pairs)) => match pairs.as_slice() {
            [one] => Ok(Way::Key(one.key.clone())),
            [] => Err(WhyNot::NotThere(EntryPath::from(before))),
            _ => Err(WhyNot::Several(before.to_string())),
        },
        Some(NodeKind::List(items)) if items.len() == 1 => Ok(Way::Item(0)),
        Some(NodeKind::List(items)) if !items.is_empty() => Err(WhyNot::Several(before.to_string())),
        _ => Err(WhyNot::NotThere(EntryPath::from(before))),
    }
}

/// The step that gives an entry a value: where only the section around it is written, and as one number, that is what is set.
/// Nothing of a section is set of which it is said that there is none.
pub(super) fn set(tree: &Tree, path: &Path, value: &str, is_number: bool) -> Result<Step, WhyNot> {
    if path.resolve(tree).is_some() {
        return Ok(Step::Set(path.clone(), value.to_owned()));
    }
    if let Some((parent, _)) = path.split_last()
        && let Some(text) = parent.resolve(tree).and_then(|(node, _)| tree.text(node))
    {
        if text == "none" {
            return Err(WhyNot::NotThere(EntryPath::from(&parent)));
        }
        if is_number {
            return Ok(Step::Set(parent, value.to_owned()));
        }
    }
    Ok(Step::Add(path.clone(), value.to_owned()))
}

/// The step that writes an entry that is not there.
pub(super) fn add(tree: &Tree, meant: &Meant, value: &str) -> Result<Step, WhyNot> {
    let Meant { path, one_more } = meant;
    let there = path.resolve(tree).and_then(|(node, _)| tree.node(node)).map(|node| &node.kind);
    if *one_more {
        return Ok(match there {
            Some(NodeKind::List(items)) => Step::Add(path.item(items.len()), value.to_owned()),
            Some(NodeKind::Scalar { text, .. }) if text == "none" => {
                Step::Set(path.clone(), format!("[{value}]"))
            }
            Some(NodeKind::Scalar { text, .. }) => Step::Set(path.clone(), format!("[{text}, {value}]")),
            Some(NodeKind::Nothing) => Step::Set(path.clone(), format!("[{value}]")),
            _ => Step::Add(path.clone(), format!("[{value}]")),
        });
    }
    let Some((parent, last)) = path.split_last() else {
        return Err(WhyNot::CannotBeWritten(EntryPath::from(path)));
    };
    match there {
        None => {
            let above = parent.resolve(tree).and_then(|(node, _)| tree.text(node));
            match (above, last) {
                // A section of which it is said that there is none begins with this.
                (Some("none"), Way::Key(key)) => Ok(Step::Set(parent, format!("{{{key}: {value}}}"))),
                _ => Ok(Step::Add(path.clone(), value.to_owned())),
            }
        }
        Some(NodeKind::Nothing) => Ok(Step::Set(path.clone(), value.to_owned())),
        Some(NodeKind::Scalar { text, .. }) if text == "none" => {
            Ok(Step::Set(path.clone(), value.to_owned()))
        }
        Some(_) => {
            let steps = parent.steps.iter().map(|step| match step {
                Way::Key(key) => key.as_str(),
                Way::Item(_) => "0",
            });
            let free = |name: &String| parent.key(name.clone()).resolve(tree).is_none();
            let (true, Way::Key(key)) = (Key::at(steps).is_some_and(Key::holds_names), last) else {
                return Err(WhyNot::AlreadyThere(EntryPath::from(path)));
            };
            let name = (2..100).map(|number| format!("{key}_{number}")).find(free);
            let name = name.ok_or_else(|| WhyNot::AlreadyThere(EntryPath::from(path)))?;
            Ok(Step::Add(parent.key(name), value.to_owned()))
        }
    }
}
