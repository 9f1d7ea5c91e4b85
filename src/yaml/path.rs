//! The way to a value: keys and places in lists, as a person writes it: `beds.north.rows[2].plant`.
//!
//! A key that holds a dot, a bracket, a quote or spaces at its ends is written in double quotes:
//! `beds."no. 4".soil`. Reading a path and printing it gives the same steps back.

use std::fmt;

use super::tree::{NodeId, NodeKind, Tree};
use crate::base::text::Span;
use crate::base::value::EntryPath;

/// One step of a path.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Step {
    /// The value under this key.
    Key(String),
    /// The entry of a list, counted from nought.
    Item(usize),
}

/// The way from the top of a file to a value; without steps, the whole file.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub struct Path {
    /// Its steps, the outermost first.
    pub steps: Vec<Step>,
}

/// Why text is not a path.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BadPath {
    /// The byte at which it stops making sense.
    pub at: usize,
    /// What would be accepted there, as a phrase that completes "accepted here: …".
    pub accepts: &'static str,
}

impl fmt::Display for Path {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, step) in self.steps.iter().enumerate() {
            match step {
                Step::Item(number) => write!(out, "[{number}]")?,
                Step::Key(key) => {
                    if at > 0 {
                        out.write_str(".")?;
                    }
                    if is_plain(key) {
                        out.write_str(key)?;
                    } else {
                        write!(out, "\"{}\"", key.replace('\\', "\\\\").replace('"', "\\\""))?;
                    }
                }
            }
        }
        Ok(())
    }
}

impl From<&Path> for EntryPath {
    fn from(path: &Path) -> Self {
        EntryPath::new(path.to_string())
    }
}

/// Whether a key stands in a path without quotes.
fn is_plain(key: &str) -> bool {
    !key.is_empty() && key.trim() == key && !key.contains(['.', '[', ']', '"', '\\', '\n', '\r'])
}

impl Path {
    /// The path of the whole file.
    #[must_use]
    pub fn root() -> Self {
        Path::default()
    }

    /// Reads a path; it fails on a missing key, a bracket that holds no number, or an open quote.
    pub fn parse(text: &str) -> Result<Self, BadPath> {
        let mut steps = Vec::new();
        let mut at = 0;
        while let Some(rest) = text.get(at..).filter(|rest| !rest.is_empty()) {
            if let Some(inside) = rest.strip_prefix('[') {
                let accepts = "the number of an entry in brackets, counted from nought, such as `[0]`";
                let (number, _) = inside.split_once(']').ok_or(BadPath { at, accepts })?;
                let digits = !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit());
                let item = number.parse().ok().filter(|_| digits).ok_or(BadPath { at, accepts })?;
                steps.push(Step::Item(item));
                at += number.len() + 2;
                continue;
            }
            let rest = if steps.is_empty() {
                rest
            } else {
                at += 1;
                let accepts = "a dot and a key, or a number in brackets";
                rest.strip_prefix('.').ok_or(BadPath { at: at - 1, accepts })?
            };
            let (key, length) = match rest.strip_prefix('"') {
                Some(inside) => {
                    let (key, length) = quoted(inside).ok_or(BadPath { at, accepts: "a closing quote" })?;
                    (key, length + 2)
                }
                None => {
                    let length = rest.find(['.', '[']).unwrap_or(rest.len());
                    let key = rest.get(..length).unwrap_or("");
                    let accepts = "a key; one with dots, brackets or quotes in it in double quotes";
                    if !is_plain(key) {
                        return Err(BadPath { at, accepts });
                    }
                    (key.to_owned(), length)
                }
            };
            steps.push(Step::Key(key));
            at += length;
        }
        Ok(Path { steps })
    }

    /// The path one key further in.
    #[must_use]
    pub fn key(&self, key: impl Into<String>) -> Self {
        self.then(Step::Key(key.into()))
    }

    /// The path of an entry of the list that this path leads to.
    #[must_use]
    pub fn item(&self, number: usize) -> Self {
        self.then(Step::Item(number))
    }

    fn then(&self, step: Step) -> Self {
        let mut steps = self.steps.clone();
        steps.push(step);
        Path { steps }
    }

    /// The path of what holds it, and the last step; nothing for the whole file.
    #[must_use]
    pub fn split_last(&self) -> Option<(Path, &Step)> {
        let (last, before) = self.steps.split_last()?;
        Some((Path { steps: before.to_vec() }, last))
    }

    /// The node it leads to, and the place of the key in front of it (none for the entry of a list).
    #[must_use]
    pub fn resolve(&self, tree: &Tree) -> Option<(NodeId, Option<Span>)> {
        let (place, taken) = self.resolve_far(tree)?;
        (taken == self.steps.len()).then_some(place)
    }

    /// As far as it leads: the last node that is there, the place of its key, and how many steps lead to it.
    #[must_use]
    pub fn resolve_far(&self, tree: &Tree) -> Option<((NodeId, Option<Span>), usize)> {
        let mut place = (tree.root()?, None);
        for (taken, step) in self.steps.iter().enumerate() {
            let next = match step {
                Step::Key(key) => tree.get(place.0, key).map(|pair| (pair.value, Some(pair.key_span))),
                Step::Item(number) => tree.items(place.0).get(*number).map(|item| (*item, None)),
            };
            match next {
                Some(next) => place = next,
                None => return Some((place, taken)),
            }
        }
        Some((place, self.steps.len()))
    }

    /// The path of the innermost entry, its key included, that holds a place. Inside of an alias it is the
    /// path of the alias.
    #[must_use]
    pub fn of_span(tree: &Tree, at: Span) -> Path {
        let mut path = Path::root();
        let Some(mut here) = tree.root() else { return path };
        loop {
            let Some(node) = tree.node(here) else { return path };
            let holds = |id: NodeId| {
                tree.node(id).is_some_and(|inner| inner.span.contains(at) && inner.span != node.span)
            };
            let next = match &node.kind {
                NodeKind::List(items) => items
                    .iter()
                    .position(|item| holds(*item))
                    .and_then(|at| Some((Step::Item(at), *items.get(at)?))),
                NodeKind::Map(pairs) => pairs.iter().find_map(|pair| {
                    let value = tree.node(pair.value)?.span;
                    let inside = pair.key_span.join(value).contains(at) && pair.key_span != node.span;
                    inside.then(|| (Step::Key(pair.key.clone()), pair.value))
                }),
                _ => None,
            };
            let Some((step, value)) = next else { return path };
            path.steps.push(step);
            here = value;
        }
    }

    /// The path as a pointer of RFC 6901: `/beds/north/rows/2`.
    #[must_use]
    pub fn to_pointer(&self) -> String {
        let step = |step: &Step| match step {
            Step::Key(key) => format!("/{}", key.replace('~', "~0").replace('/', "~1")),
            Step::Item(number) => format!("/{number}"),
        };
        self.steps.iter().map(step).collect()
    }

    /// The path that a pointer of RFC 6901 means in a tree; nothing if it leads nowhere there.
    #[must_use]
    pub fn from_pointer(tree: &Tree, pointer: &str) -> Option<Path> {
        let mut path = Path::root();
        let mut here = tree.root()?;
        if pointer.is_empty() {
            return Some(path);
        }
        for token in pointer.strip_prefix('/')?.split('/') {
            let token = token.replace("~1", "/").replace("~0", "~");
            let (step, next) = match &tree.node(here)?.kind {
                NodeKind::List(items) => {
                    let number: usize =
                        token.parse().ok().filter(|number: &usize| number.to_string() == token)?;
                    (Step::Item(number), *items.get(number)?)
                }
                NodeKind::Map(_) => {
                    let value = tree.get(here, &token)?.value;
                    (Step::Key(token), value)
                }
                _ => return None,
            };
            path.steps.push(step);
            here = next;
        }
        Some(path)
    }
}

/// The key in double quotes that starts here, and how many bytes it takes without its quotes.
fn quoted(inside: &str) -> Option<(String, usize)> {
    let mut key = String::new();
    let mut chars = inside.char_indices();
    while let Some((at, c)) = chars.next() {
        match c {
            '"' => return Some((key, at)),
            '\\' => key.push(chars.next()?.1),
            c => key.push(c),
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::text::SourceId;
    use crate::yaml::scan::read;
    use proptest::prelude::*;

    const GARDEN: &str = "beds:\n  north: {rows: [[1, 2], {plant: leek}]}\n  \"no. 4\": wet\n  a/b~: dry\nmark: &m [x]\nagain: *m\n";

    #[test]
    fn a_path_reads_and_prints_as_a_person_writes_it() {
        for text in [
            "",
            "beds",
            "beds.north.rows[0][1]",
            "beds.\"no. 4\"",
            "[3].a",
            "raise the bed.to",
            "\"\".\"a\\\"b\\\\\"",
        ] {
            assert_eq!(Path::parse(text).unwrap().to_string(), text);
        }
    }

    #[test]
    fn what_is_no_path_is_refused_where_it_stops_making_sense() {
        for (text, at) in [
            ("a..b", 2),
            ("a.", 2),
            ("a[x]", 1),
            ("a[1", 1),
            ("a[1]b", 4),
            (".a", 0),
            ("a.\"b", 2),
            ("a[+1]", 1),
        ] {
            assert_eq!(Path::parse(text).map_err(|bad| bad.at), Err(at), "{text}");
        }
    }

    #[test]
    fn a_path_leads_to_the_value_and_its_key() {
        let (tree, problems) = read(SourceId(0), GARDEN);
        assert_eq!(problems, []);
        let (node, key) = Path::parse("beds.north.rows[1].plant").unwrap().resolve(&tree).unwrap();
        assert_eq!(tree.text(node), Some("leek"));
        assert_eq!(&GARDEN[key.unwrap().range()], "plant");
        assert_eq!(Path::parse("beds.south").unwrap().resolve(&tree), None);
        assert_eq!(Path::parse("beds.south.rows").unwrap().resolve_far(&tree).unwrap().1, 1);
        assert_eq!(Path::parse("again[0]").unwrap().resolve(&tree).unwrap().1, None);
    }

    #[test]
    fn a_place_has_the_path_of_the_innermost_entry() {
        let (tree, _) = read(SourceId(0), GARDEN);
        for (words, path) in [
            ("leek", "beds.north.rows[1].plant"),
            ("plant", "beds.north.rows[1].plant"),
            ("2", "beds.north.rows[0][1]"),
            ("rows", "beds.north.rows"),
            ("wet", "beds.\"no. 4\""),
            ("*m", "again"),
        ] {
            let start = GARDEN.find(words).unwrap();
            let span = Span::new(SourceId(0), start, start + words.len());
            assert_eq!(Path::of_span(&tree, span).to_string(), path);
        }
    }

    #[test]
    fn pointers_lead_to_the_same_values_and_back() {
        let (tree, _) = read(SourceId(0), GARDEN);
        for (pointer, path) in [
            ("", ""),
            ("/beds/north/rows/0/1", "beds.north.rows[0][1]"),
            ("/beds/a~1b~0", "beds.a/b~"),
            ("/again/0", "again[0]"),
        ] {
            let read = Path::from_pointer(&tree, pointer).unwrap();
            assert_eq!(read.to_string(), path);
            assert_eq!(read.to_pointer(), pointer);
        }
        for pointer in ["beds", "/beds/south", "/beds/north/rows/01", "/beds/north/rows/9"] {
            assert_eq!(Path::from_pointer(&tree, pointer), None, "{pointer}");
        }
    }

    proptest! {
        #[test]
        fn every_path_prints_so_that_it_reads_back(
            steps in prop::collection::vec(
                prop_oneof!["[a-z .\"\\\\\\[\\]ü]{0,6}".prop_map(Step::Key), (0_usize..999).prop_map(Step::Item)],
                0..6,
            )
        ) {
            let path = Path { steps };
            prop_assert_eq!(Path::parse(&path.to_string()), Ok(path));
        }
    }
}
