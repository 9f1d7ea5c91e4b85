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

/// Entries, and whether one more of a list is meant.
pub(super) struct Meant {
    pub(super) paths: Vec<Path>,
    pub(super) one_more: bool,
}

impl Meant {
    /// The entry, where it is one alone.
    pub(super) fn one(&self) -> Result<&Path, WhyNot> {
        match self.paths.as_slice() {
            [one] => Ok(one),
            all => Err(WhyNot::Several(section_of(all))),
        }
    }
}

/// The section in which some entries stand under several names.
fn section_of(all: &[Path]) -> String {
    let steps = |path: &Path| path.steps.clone();
    let first = all.first().map(steps).unwrap_or_default();
    let alike = |at: &usize| all.iter().all(|path| path.steps.get(*at) == first.get(*at));
    Path { steps: (0..first.len()).take_while(alike).filter_map(|at| first.get(at).cloned()).collect() }
        .to_string()
}

/// The entries that a path means: `*` stands for the name before the thing that is spoken of, else for each there is.
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
    let mut paths = vec![Path::root()];
    for step in &written.steps {
        let mut longer = Vec::new();
        for path in paths {
            let ways = match step {
                Way::Key(key) if key == "*" => those(&path, &known, tree)?,
                step => vec![step.clone()],
            };
            longer.extend(ways.into_iter().map(|way| {
                let mut path = path.clone();
                path.steps.push(way);
                path
            }));
        }
        paths = longer;
    }
    Ok(Meant { paths, one_more })
}

/// What `*` stands for behind a path.
fn those(before: &Path, known: &[Path], tree: &Tree) -> Result<Vec<Way>, WhyNot> {
    let at = before.steps.len();
    let of_known =
        known.iter().filter(|path| path.steps.starts_with(&before.steps)).find_map(|path| path.steps.get(at));
    if let Some(step) = of_known {
        return Ok(vec![step.clone()]);
    }
    let node = before.resolve(tree).and_then(|(node, _)| tree.node(node));
    let all: Vec<Way> = match node.map(|node| &node.kind) {
        Some(NodeKind::Map(pairs)) => pairs.iter().map(|pair| Way::Key(pair.key.clone())).collect(),
        Some(NodeKind::List(items)) => (0..items.len()).map(Way::Item).collect(),
        _ => Vec::new(),
    };
    if all.is_empty() { Err(WhyNot::NotThere(EntryPath::from(before))) } else { Ok(all) }
}

/// Which of some entries a value is to be given, the fewest first: those that say nothing yet or deny it, then all that say
/// otherwise.
pub(super) fn to_be_set(tree: &Tree, paths: &[Path], value: &str) -> Vec<Vec<Path>> {
    let text = |path: &Path| path.resolve(tree).and_then(|(node, _)| tree.text(node));
    let denied = |path: &&Path| {
        path.resolve(tree).is_none()
            || text(path).is_some_and(|text| matches!(text, "no" | "none" | "unknown"))
    };
    let other = |path: &&Path| text(path) != Some(value);
    let first: Vec<Path> = paths.iter().filter(denied).filter(other).cloned().collect();
    let all: Vec<Path> = paths.iter().filter(other).cloned().collect();
    if first.is_empty() || first == all { vec![all] } else { vec![first, all] }
}

/// The step that gives an entry a value: where only the section around it is written, as one value that stands for this very
/// entry, that is what is set. Nothing of a section is set of which it is said that there is none.
pub(super) fn set(tree: &Tree, path: &Path, value: &str, is_number: bool) -> Result<Step, WhyNot> {
    if path.resolve(tree).is_some() {
        return Ok(Step::Set(path.clone(), value.to_owned()));
    }
    if let Some((parent, last)) = path.split_last()
        && let Some(text) = parent.resolve(tree).and_then(|(node, _)| tree.text(node))
    {
        if text == "none" {
            return Err(WhyNot::NotThere(EntryPath::from(&parent)));
        }
        if is_number || short_for(&parent).is_some_and(|key| *last == Way::Key(key.to_owned())) {
            return Ok(Step::Set(parent, value.to_owned()));
        }
    }
    Ok(Step::Add(path.clone(), value.to_owned()))
}

/// The key that one value in place of a section stands for.
fn short_for(section: &Path) -> Option<&'static str> {
    Key::at(section.steps.iter().map(|step| match step {
        Way::Key(key) => key.as_str(),
        Way::Item(_) => "0",
    }))?
    .short_for()
}

/// The step that writes an entry that is not there.
pub(super) fn add(tree: &Tree, meant: &Meant, value: &str) -> Result<Step, WhyNot> {
    let path = meant.one()?;
    let one_more = &meant.one_more;
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
