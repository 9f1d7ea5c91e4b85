//! Where lines and columns lie in a text that is about to be edited, and how a new value is written so that
//! it fits its surroundings.

use super::path::Step;
use super::scan;
use super::tree::{NodeId, NodeKind, Style, Tree};
use crate::base::text::SourceId;

/// The lines of a text.
#[derive(Clone, Copy)]
pub(super) struct Lines<'t> {
    pub(super) text: &'t str,
}

impl<'t> Lines<'t> {
    fn before(self, at: usize) -> &'t str {
        self.text.get(..at).unwrap_or("")
    }

    pub(super) fn after(self, at: usize) -> &'t str {
        self.text.get(at..).unwrap_or("")
    }

    /// Where the line that holds a byte starts, a byte order mark left off.
    pub(super) fn start(self, at: usize) -> usize {
        let start = self.before(at).rfind(['\n', '\r']).map_or(0, |end| end + 1);
        if start == 0 && self.text.starts_with('\u{feff}') { '\u{feff}'.len_utf8().min(at) } else { start }
    }

    /// Where the line that holds a byte ends, its line end left off.
    pub(super) fn end(self, at: usize) -> usize {
        at + self.after(at).find(['\n', '\r']).unwrap_or(self.after(at).len())
    }

    /// Where the next line starts; the end of the text on the last one.
    pub(super) fn next(self, at: usize) -> usize {
        let end = self.end(at);
        let rest = self.after(end);
        end + if rest.starts_with("\r\n") { 2 } else { usize::from(!rest.is_empty()) }
    }

    /// How many characters stand before a byte in its line.
    pub(super) fn column(self, at: usize) -> usize {
        self.text.get(self.start(at)..at).unwrap_or("").chars().count()
    }

    /// Whether only spaces stand before a byte in its line.
    pub(super) fn is_first(self, at: usize) -> bool {
        self.text.get(self.start(at)..at).unwrap_or("").chars().all(|c| c == ' ')
    }

    /// Where spaces in front of a byte begin.
    pub(super) fn trim_back(self, at: usize) -> usize {
        self.before(at).trim_end_matches([' ', '\t']).len()
    }

    /// How lines end around here: as this one does, else as the first one does.
    pub(super) fn line_end(self, at: usize) -> &'static str {
        let of = |rest: &str| match rest.as_bytes() {
            [b'\r', b'\n', ..] => Some("\r\n"),
            [b'\r', ..] => Some("\r"),
            [b'\n', ..] => Some("\n"),
            _ => None,
        };
        of(self.after(self.end(at))).or_else(|| of(self.after(self.end(0)))).unwrap_or("\n")
    }
}

/// How much further in the keys of a section stand than its own key, going by the first section of the text.
pub(super) fn step(tree: &Tree, lines: Lines<'_>) -> usize {
    let mut found = None;
    for (number, node) in tree.nodes.iter().enumerate() {
        let NodeKind::Map(pairs) = &node.kind else { continue };
        if node.flow || found.is_some() {
            continue;
        }
        found = pairs.iter().find_map(|pair| {
            let inner = tree.node(pair.value)?;
            let (key, value) = (pair.key_span.start as usize, inner.span.start as usize);
            let hangs = matches!(inner.kind, NodeKind::Map(_))
                && !inner.flow
                && lines.is_first(value)
                && number < pair.value.0 as usize;
            let (outer, inner) = (lines.column(key), lines.column(value));
            (hangs && inner > outer).then(|| inner - outer)
        });
    }
    found.unwrap_or(2)
}

/// How a value is set out.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) enum Form {
    /// Nothing behind the colon.
    Nothing,
    /// In one line, behind the colon.
    Inline(String),
    /// On lines of its own below the key.
    Below(Vec<String>),
    /// A sign (`|` or `>`) behind the colon, the text on lines below.
    Text(String, Vec<String>),
}

/// A value to be written.
#[derive(Clone, PartialEq, Eq, Debug)]
pub(super) struct Fresh {
    /// As it stands among lines.
    pub(super) form: Form,
    /// As it stands in brackets or braces.
    pub(super) flow: String,
    /// Whether it ends in a text of several lines, whose last line needs its line end.
    pub(super) ends_in_text: bool,
}

impl Fresh {
    /// The same value in one line.
    pub(super) fn in_one_line(&self) -> Self {
        Fresh { form: Form::Inline(self.flow.clone()), flow: self.flow.clone(), ends_in_text: false }
    }

    /// An empty section or list.
    pub(super) fn empty(brackets: &str) -> Self {
        Fresh { form: Form::Inline(brackets.to_owned()), flow: brackets.to_owned(), ends_in_text: false }
    }

    /// Takes in text as it would stand in a file. Nothing if it cannot be read on its own without a doubt.
    pub(super) fn read(text: &str) -> Option<Self> {
        let trimmed = text.trim_end();
        if trimmed.trim_start().is_empty() {
            return Some(Fresh { form: Form::Nothing, flow: String::new(), ends_in_text: false });
        }
        let (tree, problems) = scan::read(SourceId(u32::MAX), trimmed);
        if !problems.is_empty() {
            return None;
        }
        let root = tree.root()?;
        let node = tree.node(root)?;
        let flow = flow_text(&tree, root);
        let words = trimmed.get(node.span.range())?;
        let one_line = !trimmed.trim_start().contains(['\n', '\r']);
        let lines: Vec<&str> = trimmed.lines().collect();
        let form = match &node.kind {
            NodeKind::Nothing | NodeKind::Twice => Form::Nothing,
            NodeKind::Scalar { style: Style::Literal | Style::Folded, .. } => {
                let mut own = words.lines();
                let header = own.next().unwrap_or("|");
                if header.contains(|c: char| c.is_ascii_digit()) {
                    Form::Inline(flow.clone())
                } else {
                    Form::Text(header.trim_end().to_owned(), dedented(own))
                }
            }
            NodeKind::List(_) | NodeKind::Map(_) if !node.flow => Form::Below(dedented(lines.into_iter())),
            _ if one_line => Form::Inline(trimmed.trim_start().to_owned()),
            _ => Form::Inline(flow.clone()),
        };
        Some(Fresh { form, flow, ends_in_text: ends_in_text(&tree, root) })
    }

    /// The value with a step in front of it: a key with it below, or a list of it alone.
    pub(super) fn under(self, step: &Step, width: usize) -> Self {
        let lead = match step {
            Step::Key(key) => key_text(key),
            Step::Item(_) => "-".to_owned(),
        };
        let flow = match step {
            Step::Key(key) => format!("{{{}: {}}}", key_text(key), self.flow),
            Step::Item(_) => format!("[{}]", self.flow),
        };
        let lines = match step {
            Step::Key(_) => self.as_entry(&format!("{lead}:"), width),
            Step::Item(_) => self.as_item(),
        };
        Fresh { form: Form::Below(lines), flow, ends_in_text: self.ends_in_text }
    }

    /// The lines of a key with this value.
    pub(super) fn as_entry(&self, key: &str, width: usize) -> Vec<String> {
        let set_in =
            |line: &String| if line.is_empty() { String::new() } else { format!("{:width$}{line}", "") };
        match &self.form {
            Form::Nothing => vec![key.to_owned()],
            Form::Inline(words) => vec![format!("{key} {words}")],
            Form::Below(lines) => std::iter::once(key.to_owned()).chain(lines.iter().map(set_in)).collect(),
            Form::Text(sign, lines) => {
                std::iter::once(format!("{key} {sign}")).chain(lines.iter().map(set_in)).collect()
            }
        }
    }

    /// The lines of an entry of a list with this value.
    pub(super) fn as_item(&self) -> Vec<String> {
        let set_in = |line: &String| if line.is_empty() { String::new() } else { format!("  {line}") };
        match &self.form {
            Form::Nothing => vec!["-".to_owned()],
            Form::Inline(words) => vec![format!("- {words}")],
            Form::Below(lines) => {
                let rest = lines.iter().skip(1).map(set_in);
                let first = lines.first().map_or_else(|| "-".to_owned(), |line| format!("- {line}"));
                std::iter::once(first).chain(rest).collect()
            }
            Form::Text(sign, lines) => {
                std::iter::once(format!("- {sign}")).chain(lines.iter().map(set_in)).collect()
            }
        }
    }
}

/// Whether the last value within a node is a text of several lines.
fn ends_in_text(tree: &Tree, id: NodeId) -> bool {
    let last = match tree.node(id).map(|node| &node.kind) {
        Some(NodeKind::List(items)) => items.last().copied(),
        Some(NodeKind::Map(pairs)) => pairs.last().map(|pair| pair.value),
        Some(NodeKind::Scalar { style, .. }) => return matches!(style, Style::Literal | Style::Folded),
        _ => None,
    };
    last.is_some_and(|last| ends_in_text(tree, last))
}

/// Lines without the spaces that all of them start with.
fn dedented<'l>(lines: impl Iterator<Item = &'l str>) -> Vec<String> {
    let lines: Vec<&str> = lines.collect();
    let margin = |line: &&str| line.len() - line.trim_start_matches(' ').len();
    let common = lines.iter().filter(|line| !line.trim().is_empty()).map(margin).min().unwrap_or(0);
    lines.iter().map(|line| line.get(common..).unwrap_or("").to_owned()).collect()
}

/// Joins lines, each but the first set in by so many spaces.
pub(super) fn joined(lines: &[String], column: usize, line_end: &str) -> String {
    let mut out = String::new();
    for (at, line) in lines.iter().enumerate() {
        if at > 0 {
            out.push_str(line_end);
            if !line.is_empty() {
                out.push_str(&" ".repeat(column));
            }
        }
        out.push_str(line);
    }
    out
}

/// Whether a word can stand without quotes, in brackets too.
fn is_plain(word: &str) -> bool {
    let first = word.chars().next();
    let second = word.chars().nth(1);
    let starts = match first {
        Some('-' | '?' | ':') => second.is_some_and(|c| !c.is_whitespace()),
        Some(c) => !"#&*!|>'\"%@`,[]{}".contains(c),
        None => false,
    };
    starts
        && word.trim() == word
        && !word.contains([',', '[', ']', '{', '}', '\n', '\r', '\t', '\u{feff}'])
        && !word.contains(": ")
        && !word.contains(" #")
        && !word.ends_with(':')
        && !word.starts_with("---")
        && !word.starts_with("...")
        && !word.chars().any(char::is_control)
}

/// A word in double quotes.
fn quoted(word: &str) -> String {
    let mut out = String::from("\"");
    for c in word.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\r' => out.push_str("\\r"),
            '\t' => out.push_str("\\t"),
            c if c.is_control() || matches!(c, '\u{feff}' | '\u{2028}' | '\u{2029}') => {
                out.push_str(&format!("\\u{:04x}", u32::from(c)));
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

/// A key as it is written in a file: in quotes where it has to be.
#[must_use]
pub(super) fn key_text(key: &str) -> String {
    if is_plain(key) && key != "~" && !key.contains(':') { key.to_owned() } else { quoted(key) }
}

/// A value in brackets and braces.
fn flow_text(tree: &Tree, id: NodeId) -> String {
    match tree.node(id).map(|node| &node.kind) {
        None | Some(NodeKind::Nothing | NodeKind::Twice) => String::new(),
        Some(NodeKind::Scalar { text, style: Style::Plain }) if is_plain(text) => text.clone(),
        Some(NodeKind::Scalar { text, .. }) => quoted(text),
        Some(NodeKind::List(items)) => {
            let items: Vec<String> = items.iter().map(|item| flow_text(tree, *item)).collect();
            format!("[{}]", items.join(", "))
        }
        Some(NodeKind::Map(pairs)) => {
            let pair = |pair: &super::tree::Pair| {
                format!("{}: {}", key_text(&pair.key), flow_text(tree, pair.value))
            };
            format!("{{{}}}", pairs.iter().map(pair).collect::<Vec<_>>().join(", "))
        }
    }
}
