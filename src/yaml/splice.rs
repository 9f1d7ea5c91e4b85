//! Changes to a file as edits of its text: everything outside of them keeps its bytes. Kept: indentation,
//! line ends, comments, whether a section is written in lines or in braces. Lost: comments inside of a
//! value that is replaced or taken away, and the one behind it in its line when it goes altogether.
//!
//! No edit is handed out that was not tried: the changed text has been read, the value is at its path, and
//! every other path has the value it had.

use super::compare::{same, same_but};
use super::edits::{Edit, Edits};
use super::layout::{Form, Fresh, Lines, joined, key_text, step};
use super::path::{Path, Step};
use super::scan;
use super::tree::{Node, NodeId, NodeKind, Pair, Style, Tree};
use crate::base::problem::{Problem, ProblemKind, Weight};
use crate::base::text::{SourceId, Span};

/// The changes that give the entry at `path`, which has to be there, the value that `new` reads as.
pub fn set_value(tree: &Tree, text: &str, path: &Path, new: &str) -> Result<Edits, Problem> {
    Work::new(tree, text).set_at(path, new).map(|changed| changed.edits)
}

/// The changes that put a new key with the value that `new` reads as into the section at `parent`: behind
/// the key `after`, or at the end. Sections that are not there yet are made.
pub fn insert_key(
    tree: &Tree,
    text: &str,
    parent: &Path,
    key: &str,
    new: &str,
    after: Option<&str>,
) -> Result<Edits, Problem> {
    let work = Work::new(tree, text);
    let path = parent.key(key);
    let fresh = work.fresh(&path, new)?;
    if let Some((node, Some(there))) = path.resolve(tree) {
        let span = tree.node(node).map_or(there, |node| there.join(node.span));
        return Err(Problem::new(ProblemKind::DuplicateKey, span)
            .found(key)
            .accepts("each key once in one place"));
    }
    work.either(&path, &fresh, |fresh| work.make(&path, fresh, after)).map(|changed| changed.edits)
}

/// The changes that give `path` the value that `new` reads as, whether it is there or not. A list takes a
/// new entry at its end only.
pub fn put(tree: &Tree, text: &str, path: &Path, new: &str) -> Result<Edits, Problem> {
    Work::new(tree, text).put(path, new).map(|changed| changed.edits)
}

/// The changes that take away the key at `path` with its value, or the entry of a list. The last one of a
/// section leaves `{}` behind, the last of a list `[]`.
pub fn remove_key(tree: &Tree, text: &str, path: &Path) -> Result<Edits, Problem> {
    Work::new(tree, text).remove(path).map(|changed| changed.edits)
}

/// A text with values laid over it, each at its path, and then some paths taken away. Problems have no place
/// in any file: where the paths were read from is for the caller to say.
pub fn lay_over(text: &str, values: &[(&str, &str)], removals: &[&str]) -> Result<String, Problem> {
    let source = SourceId(u32::MAX);
    let nowhere = Span::new(source, 0, 0);
    let path = |words: &str| {
        Path::parse(words)
            .map_err(|bad| Problem::new(ProblemKind::BadText, nowhere).found(words).accepts(bad.accepts))
    };
    let mut text = text.to_owned();
    let (mut tree, _) = scan::read(source, &text);
    let values = values.iter().map(|(words, value)| (*words, Some(*value)));
    for (words, value) in values.chain(removals.iter().map(|words| (*words, None))) {
        let path = path(words)?;
        let work = Work::new(&tree, &text);
        let changed = match value {
            Some(value) => work.put(&path, value),
            None => work.remove(&path),
        };
        let Changed { text: new_text, tree: new_tree, .. } =
            changed.map_err(|problem| Problem { at: nowhere, ..problem })?;
        (text, tree) = (new_text, new_tree);
    }
    Ok(text)
}

/// Changes that were tried, and what they make of the text.
struct Changed {
    edits: Edits,
    text: String,
    tree: Tree,
}

/// As far as a path leads.
struct Place {
    /// The nodes on the way, the whole file first; the last one is where the path ends, or stops.
    way: Vec<NodeId>,
    /// The key in front of the last one.
    key: Option<Span>,
    /// How many steps lead there.
    taken: usize,
}

struct Work<'t> {
    tree: &'t Tree,
    lines: Lines<'t>,
    width: usize,
}

impl<'t> Work<'t> {
    fn new(tree: &'t Tree, text: &'t str) -> Self {
        let lines = Lines { text };
        Work { tree, lines, width: step(tree, lines) }
    }

    fn put(&self, path: &Path, new: &str) -> Result<Changed, Problem> {
        if path.resolve(self.tree).is_some() {
            return self.set_at(path, new);
        }
        let fresh = self.fresh(path, new)?;
        self.either(path, &fresh, |fresh| self.make(path, fresh, None))
    }

    fn set_at(&self, path: &Path, new: &str) -> Result<Changed, Problem> {
        let fresh = self.fresh(path, new)?;
        let place = self.lead(path)?;
        if place.taken < path.steps.len() {
            return Err(self.not_there(path, &place));
        }
        self.either(path, &fresh, |fresh| Ok(self.set(&place, fresh)))
    }

    fn remove(&self, path: &Path) -> Result<Changed, Problem> {
        let place = self.lead(path)?;
        if place.taken < path.steps.len() || path.steps.is_empty() {
            return Err(self.not_there(path, &place));
        }
        // Blank lines behind it stay, unless a text above that keeps its blank lines would take them over.
        let first = self.tried(path, None, self.take_away(path, &place, false)?);
        if first.is_ok() {
            first
        } else {
            self.tried(path, None, self.take_away(path, &place, true)?).or(first)
        }
    }

    fn span(&self, start: usize, end: usize) -> Span {
        Span::new(self.tree.source, start, end)
    }

    fn edit(&self, start: usize, end: usize, text: impl Into<String>) -> Edit {
        Edit { span: self.span(start, end), text: text.into() }
    }

    fn node(&self, id: NodeId) -> Option<&'t Node> {
        self.tree.node(id)
    }

    fn start(&self, id: NodeId) -> usize {
        self.node(id).map_or(0, |node| node.span.start as usize)
    }

    fn fresh(&self, path: &Path, new: &str) -> Result<Fresh, Problem> {
        let at = path.resolve_far(self.tree).and_then(|((node, _), _)| self.node(node)).map(|node| node.span);
        let at = at.unwrap_or(self.span(0, 0));
        let problem = || {
            Problem::new(ProblemKind::BadText, at)
                .found(new)
                .accepts("text that reads as one value of a file")
        };
        Fresh::read(new).ok_or_else(problem)
    }

    /// Follows a path. It fails inside of what an alias repeats: a change there would be one elsewhere too.
    fn lead(&self, path: &Path) -> Result<Place, Problem> {
        let root = self.tree.root().ok_or_else(|| {
            Problem::new(ProblemKind::Empty, self.span(0, 0))
                .found(path.to_string())
                .accepts("a file with keys in it")
        })?;
        let mut place = Place { way: vec![root], key: None, taken: 0 };
        let mut here = root;
        for step in &path.steps {
            let next = match step {
                Step::Key(key) => self.tree.get(here, key).map(|pair| (pair.value, Some(pair.key_span))),
                Step::Item(number) => self.tree.items(here).get(*number).map(|item| (*item, None)),
            };
            if self.is_alias(here) {
                let at = self.node(here).map_or(self.span(0, 0), |node| node.span);
                return Err(Problem::new(ProblemKind::WrongShape, at)
                    .found(self.lines.text.get(at.range()).unwrap_or(""))
                    .accepts(
                        "the keys and values written out here, instead of an alias that repeats others",
                    ));
            }
            let Some((value, key)) = next else { break };
            place.way.push(value);
            place.key = key;
            place.taken += 1;
            here = value;
        }
        Ok(place)
    }

    fn is_alias(&self, id: NodeId) -> bool {
        let several = |node: &&Node| matches!(node.kind, NodeKind::List(_) | NodeKind::Map(_));
        self.node(id)
            .filter(several)
            .is_some_and(|node| self.lines.after(node.span.start as usize).starts_with('*'))
    }

    fn not_there(&self, path: &Path, place: &Place) -> Problem {
        let end = place.way.last().and_then(|id| self.node(*id)).map_or(self.span(0, 0), |node| node.span);
        let reached = Path { steps: path.steps.iter().take(place.taken).cloned().collect() };
        let accepts = if reached.steps.is_empty() {
            "the path of an entry that is there".to_owned()
        } else {
            format!("the path of an entry that is there, such as `{reached}`")
        };
        Problem::new(ProblemKind::UnknownName, place.key.unwrap_or(end))
            .found(path.to_string())
            .accepts(accepts)
    }

    /// Whether the last node of a way lies in brackets or braces.
    fn in_flow(&self, place: &Place) -> bool {
        let (_, above) = place.way.split_last().unwrap_or((&NodeId(0), &[]));
        above.iter().any(|id| self.node(*id).is_some_and(|node| node.flow))
    }

    /// Where a value really ends: a text that keeps its blank lines ends behind them.
    fn true_end(&self, id: NodeId) -> usize {
        let Some(node) = self.node(id) else { return 0 };
        let end = node.span.end as usize;
        match &node.kind {
            _ if node.flow => end,
            NodeKind::List(items) => items.last().map_or(end, |last| self.true_end(*last)),
            NodeKind::Map(pairs) => pairs.last().map_or(end, |last| self.true_end(last.value)).max(end),
            NodeKind::Scalar { style: Style::Literal | Style::Folded, .. } => {
                let header = self.lines.after(node.span.start as usize);
                let keeps = header.split([' ', '\n', '\r']).next().is_some_and(|header| header.contains('+'));
                let mut end = self.lines.end(end);
                loop {
                    let next = self.lines.next(end);
                    let line_end = self.lines.end(next);
                    let line = self.lines.text.get(next..line_end).unwrap_or("");
                    let more = keeps && next > end && !self.lines.after(next).is_empty();
                    if !more || !line.trim().is_empty() {
                        return end;
                    }
                    end = line_end;
                }
            }
            _ => end,
        }
    }

    /// The changes that give the node at the end of a way another value.
    fn set(&self, place: &Place, fresh: &Fresh) -> Vec<Edit> {
        let Some(node) = place.way.last().and_then(|id| self.node(*id)) else { return Vec::new() };
        let (start, end) = (node.span.start as usize, node.span.end as usize);
        if node.kind == NodeKind::Twice {
            return Vec::new(); // which of the two would it be?
        }
        let nothing = node.kind == NodeKind::Nothing;
        let head = self.lines.trim_back(start);
        if self.in_flow(place) {
            let colon = self.lines.text.get(..head).is_some_and(|before| before.ends_with(':'));
            let lead = match (nothing, place.key.is_some(), colon) {
                (true, true, false) => ": ",
                (true, true, true) => " ",
                _ => "",
            };
            return vec![self.edit(start, end, format!("{lead}{}", fresh.flow))];
        }
        let line_end = self.lines.line_end(start);
        let top = place.way.len() == 1;
        let hangs = !top && !nothing && self.lines.is_first(start);
        let owner = place.key.map(|key| self.lines.column(key.start as usize));
        let dash = owner.is_none() && !top;
        // The column for lines below: of the old lines if they hang there, else one step in.
        let column = match owner {
            Some(owner) if hangs && self.lines.column(start) > owner => self.lines.column(start),
            Some(owner) => owner + self.width,
            None if nothing => self.lines.column(head) + 1,
            None => self.lines.column(start),
        };
        let whole_lines = (self.lines.start(start), self.lines.end(self.true_end_of(node, place)));
        let below = |lines: &[String]| format!("{:column$}{}", "", joined(lines, column, line_end));
        let over = |text: String| self.edit(whole_lines.0, end, text);
        let drop_lines = || self.edit(whole_lines.0, self.lines.next(whole_lines.1), "");
        let head_of_hanging = || self.lines.text.get(..start).unwrap_or("").trim_end().len();
        let head_place = || place.key.map_or_else(head_of_hanging, |key| self.colon_end(key));
        match &fresh.form {
            Form::Nothing if hangs => vec![drop_lines()],
            Form::Nothing => vec![self.edit(head, end, "")],
            Form::Inline(words) if hangs => {
                vec![self.edit(head_place(), head_place(), format!(" {words}")), drop_lines()]
            }
            Form::Inline(words) if nothing => vec![self.edit(start, end, format!(" {words}"))],
            Form::Inline(words) => vec![self.edit(start, end, words.clone())],
            Form::Below(lines) if top => vec![self.edit(start, end, joined(lines, column, line_end))],
            Form::Below(lines) if hangs => vec![over(below(lines))],
            Form::Below(lines) if dash => {
                let space = if nothing { " " } else { "" };
                vec![self.edit(start, end, format!("{space}{}", joined(lines, column, line_end)))]
            }
            Form::Below(lines) => self.below_key(head, end, "", &below(lines), line_end),
            // A comment behind the old value would become part of the text.
            Form::Text(sign, lines) if hangs => vec![
                self.edit(head_place(), head_place(), format!(" {sign}")),
                self.edit(whole_lines.0, whole_lines.1, below(lines)),
            ],
            Form::Text(sign, lines) => {
                let column = if top || dash { column.max(1) } else { column };
                let lines = format!("{:column$}{}", "", joined(lines, column, line_end));
                let from = if top { start } else { head };
                let space = if top { "" } else { " " };
                self.below_key(from, end, &format!("{space}{sign}"), &lines, line_end)
            }
        }
    }

    fn true_end_of(&self, node: &Node, place: &Place) -> usize {
        place.way.last().map_or(node.span.end as usize, |id| self.true_end(*id))
    }

    /// Behind the colon of a key.
    fn colon_end(&self, key: Span) -> usize {
        let end = key.end as usize;
        let rest = self.lines.after(end);
        let colon = rest.trim_start_matches([' ', '\t', '\n', '\r', '?']);
        if colon.starts_with(':') { end + (rest.len() - colon.len()) + 1 } else { end }
    }

    /// Replaces what stands behind a key by a sign, and puts lines below the line it stands in.
    fn below_key(&self, head: usize, end: usize, sign: &str, lines: &str, line_end: &str) -> Vec<Edit> {
        let at = self.lines.end(end);
        if self.lines.text.get(end..at).is_some_and(|rest| rest.trim().is_empty()) {
            return vec![self.edit(head, end, format!("{sign}{line_end}{lines}"))];
        }
        vec![self.edit(head, end, sign), self.edit(at, at, format!("{line_end}{lines}"))]
    }

    /// The changes that make what is missing of a path.
    fn make(&self, path: &Path, fresh: &Fresh, after: Option<&str>) -> Result<Vec<Edit>, Problem> {
        if self.tree.root().is_none() {
            let fresh =
                path.steps.iter().rev().fold(fresh.clone(), |fresh, step| fresh.under(step, self.width));
            let Form::Below(lines) = fresh.form else { return Ok(Vec::new()) };
            let at = self.lines.text.len();
            let line_end = self.lines.line_end(0);
            let open = !self.lines.text.is_empty() && !self.lines.text.ends_with(['\n', '\r', '\u{feff}']);
            let lead = if open { line_end } else { "" };
            return Ok(vec![self.edit(at, at, format!("{lead}{}{line_end}", joined(&lines, 0, line_end)))]);
        }
        let place = self.lead(path)?;
        let missing = path.steps.get(place.taken..).unwrap_or(&[]);
        let (Some((first, deeper)), Some(holder)) = (missing.split_first(), place.way.last().copied()) else {
            return Ok(self.set(&place, fresh));
        };
        let fresh = deeper.iter().rev().fold(fresh.clone(), |fresh, step| fresh.under(step, self.width));
        let numbers = missing.iter().skip(1).any(|step| !matches!(step, Step::Key(_) | Step::Item(0)));
        let holder_kind = self.node(holder).map(|node| &node.kind);
        match (holder_kind, first) {
            _ if numbers => Err(self.not_there(path, &place)),
            (Some(NodeKind::Nothing), Step::Key(_) | Step::Item(0)) => {
                Ok(self.set(&place, &fresh.under(first, self.width)))
            }
            (Some(NodeKind::Map(pairs)), Step::Key(key)) => {
                Ok(self.add_key(&place, holder, pairs, key, &fresh, after))
            }
            (Some(NodeKind::List(items)), Step::Item(number)) if *number == items.len() => {
                Ok(self.add_item(&place, holder, items, &fresh))
            }
            (Some(NodeKind::Scalar { text, .. }), _) => {
                let at = self.node(holder).map_or(self.span(0, 0), |node| node.span);
                Err(Problem::new(ProblemKind::WrongShape, at)
                    .found(text.clone())
                    .accepts(format!("a section or a list there, for `{path}` to stand in")))
            }
            _ => Err(self.not_there(path, &place)),
        }
    }

    fn add_key(
        &self,
        place: &Place,
        holder: NodeId,
        pairs: &[Pair],
        key: &str,
        fresh: &Fresh,
        after: Option<&str>,
    ) -> Vec<Edit> {
        let Some(node) = self.node(holder) else { return Vec::new() };
        let at = after.and_then(|after| pairs.iter().position(|pair| pair.key == after));
        let before = at.map_or(pairs.last(), |at| pairs.get(at));
        let Some(before) = before else {
            // An empty one stands in braces, and what is put in stands in them too.
            let inside = node.span.start as usize + 1;
            let entry = format!("{}: {}", key_text(key), fresh.flow);
            return vec![self.edit(inside, inside, entry)];
        };
        if node.flow {
            let next = at.and_then(|at| pairs.get(at + 1)).map(|pair| pair.key_span.start as usize);
            let entry = format!("{}: {}", key_text(key), fresh.flow);
            return self.add_to_flow(holder, before.key_span.start as usize, before.value, next, &entry);
        }
        let column = self.lines.column(before.key_span.start as usize);
        let line_end = self.lines.line_end(before.key_span.start as usize);
        let lines = fresh.as_entry(&format!("{}:", key_text(key)), self.width);
        let _ = place;
        self.add_lines(
            self.true_end(before.value).max(before.key_span.end as usize),
            &lines,
            column,
            line_end,
        )
    }

    fn add_item(&self, _place: &Place, holder: NodeId, items: &[NodeId], fresh: &Fresh) -> Vec<Edit> {
        let Some(node) = self.node(holder) else { return Vec::new() };
        let start = node.span.start as usize;
        let Some(last) = items.last().copied() else {
            return vec![self.edit(start + 1, start + 1, fresh.flow.clone())];
        };
        if node.flow {
            return self.add_to_flow(holder, self.start(last), last, None, &fresh.flow);
        }
        let lines = fresh.as_item();
        self.add_lines(self.true_end(last), &lines, self.lines.column(start), self.lines.line_end(start))
    }

    /// Puts lines below the line that holds a byte.
    fn add_lines(&self, end: usize, lines: &[String], column: usize, line_end: &str) -> Vec<Edit> {
        let at = self.lines.end(end);
        vec![self.edit(at, at, format!("{line_end}{:column$}{}", "", joined(lines, column, line_end)))]
    }

    /// Puts an entry into brackets or braces: in front of `next`, else behind the entry that starts at
    /// `before` and has the value `value`. Where each entry has a line of its own, so has the new one.
    fn add_to_flow(
        &self,
        holder: NodeId,
        before: usize,
        value: NodeId,
        next: Option<usize>,
        entry: &str,
    ) -> Vec<Edit> {
        let own_line = |at: usize| {
            let lead = self.lines.text.get(self.lines.start(at)..at).unwrap_or("");
            (self.lines.is_first(at) && self.lines.start(at) > self.start(holder))
                .then(|| format!("{}{lead}", self.lines.line_end(at)))
        };
        if let Some(next) = next {
            let parting = own_line(next).unwrap_or_else(|| " ".to_owned());
            return vec![self.edit(next, next, format!("{entry},{parting}"))];
        }
        let end = self.node(value).map_or(before, |node| node.span.end as usize);
        let open = self.start(holder);
        if !self.lines.after(open).starts_with(['{', '[']) {
            // A pair without braces in a list: `[a: b]`.
            return vec![self.edit(open, open, "{"), self.edit(end, end, format!(", {entry}}}"))];
        }
        let rest_end = self.lines.end(end);
        let rest = self.lines.text.get(end..rest_end).unwrap_or("").trim();
        match own_line(before) {
            Some(parting) if rest.starts_with('#') => {
                vec![self.edit(end, end, ","), self.edit(rest_end, rest_end, format!("{parting}{entry}"))]
            }
            Some(parting) => vec![self.edit(end, end, format!(",{parting}{entry}"))],
            None => vec![self.edit(end, end, format!(", {entry}"))],
        }
    }

    /// The changes that take an entry away.
    fn take_away(&self, path: &Path, place: &Place, blanks: bool) -> Result<Vec<Edit>, Problem> {
        let holder =
            place.way.len().checked_sub(2).and_then(|at| place.way.get(at)).copied().unwrap_or(NodeId(0));
        let above = Place {
            way: place.way.iter().take(place.way.len().saturating_sub(1)).copied().collect(),
            key: path.split_last().and_then(|(parent, _)| parent.resolve(self.tree)).and_then(|(_, key)| key),
            taken: place.taken.saturating_sub(1),
        };
        let Some(node) = self.node(holder) else { return Ok(Vec::new()) };
        // Where each entry starts, and its value.
        let (entries, at): (Vec<(usize, NodeId)>, Option<usize>) = match (&node.kind, path.steps.last()) {
            (NodeKind::Map(pairs), Some(Step::Key(key))) => (
                pairs.iter().map(|pair| (pair.key_span.start as usize, pair.value)).collect(),
                pairs.iter().position(|pair| pair.key == *key),
            ),
            (NodeKind::List(items), Some(Step::Item(number))) => {
                (items.iter().map(|item| (self.dash(node.flow, *item), *item)).collect(), Some(*number))
            }
            _ => return Err(self.not_there(path, place)),
        };
        let Some((at, (start, value))) = at.and_then(|at| Some((at, *entries.get(at)?))) else {
            return Err(self.not_there(path, place));
        };
        if entries.len() == 1 {
            let empty = if matches!(node.kind, NodeKind::Map(_)) { "{}" } else { "[]" };
            return Ok(self.set(&above, &Fresh::empty(empty)));
        }
        let end = self.node(value).map_or(start, |node| node.span.end as usize);
        let next = entries.get(at + 1).map(|(next, _)| *next);
        let last = at.checked_sub(1).and_then(|at| entries.get(at)).map(|(_, value)| *value);
        if node.flow || !self.lines.is_first(start) {
            if let Some(next) = next {
                return Ok(vec![self.edit(start, next, "")]);
            }
            let from = last.and_then(|last| self.node(last)).map_or(start, |node| node.span.end as usize);
            return Ok(vec![self.edit(from, end, "")]);
        }
        let end = self.comments_of(self.true_end(value).max(start), self.lines.column(start), blanks);
        Ok(vec![self.edit(self.lines.start(start), self.lines.next(end), "")])
    }

    /// The end of the last comment line below an entry that stands further in than the entry itself, and so
    /// belongs to it, or with `blanks` of the last blank line; without one, the end of the line that holds `end`.
    fn comments_of(&self, end: usize, column: usize, blanks: bool) -> usize {
        let mut last = self.lines.end(end);
        let mut at = last;
        loop {
            let next = self.lines.next(at);
            let line_end = self.lines.end(next);
            let line = self.lines.text.get(next..line_end).unwrap_or("");
            let words = line.trim_start_matches(' ');
            let deeper = words.starts_with('#') && line.len() - words.len() > column;
            if next == at || self.lines.after(next).is_empty() || !(deeper || words.trim().is_empty()) {
                return last;
            }
            if deeper || blanks {
                last = line_end;
            }
            at = line_end;
        }
    }

    /// Where an entry of a list starts: at its dash, or in brackets at its value.
    fn dash(&self, flow: bool, item: NodeId) -> usize {
        let start = self.start(item);
        if flow {
            return start;
        }
        self.lines.text.get(..start).and_then(|before| before.rfind('-')).unwrap_or(start)
    }

    /// The changes that write a value as it is given; where that does not fit, for instance because a comment
    /// would become part of a text, those that write it in one line.
    fn either(
        &self,
        path: &Path,
        fresh: &Fresh,
        make: impl Fn(&Fresh) -> Result<Vec<Edit>, Problem>,
    ) -> Result<Changed, Problem> {
        let first = self.tried(path, Some(fresh), make(fresh)?);
        if first.is_ok() || fresh.form == Form::Nothing {
            return first;
        }
        let line = fresh.in_one_line();
        self.tried(path, Some(&line), make(&line)?).or(first)
    }

    /// The changes, if they do what they should and nothing else.
    fn tried(&self, path: &Path, fresh: Option<&Fresh>, mut list: Vec<Edit>) -> Result<Changed, Problem> {
        let at = path.resolve_far(self.tree).and_then(|((node, _), _)| self.node(node)).map(|node| node.span);
        let at = at.unwrap_or(self.span(0, 0));
        let refuse =
            |accepts: &str| Problem::new(ProblemKind::BadText, at).found(path.to_string()).accepts(accepts);
        let old = self.lines.text;
        let open = !old.ends_with(['\n', '\r']) && fresh.is_some_and(|fresh| fresh.ends_in_text);
        if let Some(last) = list.iter_mut().max().filter(|last| open && last.span.range().end == old.len()) {
            last.text.push_str(self.lines.line_end(old.len()));
        }
        let edits = Edits::new(list).map_err(|_| refuse("a change of one entry at a time"))?;
        let text = edits.apply(self.lines.text);
        let (after, problems) = scan::read(self.tree.source, &text);
        let faults = |problems: &[Problem]| {
            problems.iter().filter(|problem| problem.kind.weight() != Weight::Doubt).count()
        };
        // The old text is read once more only where there are faults to count.
        let faulty = faults(&problems);
        let worse = faulty > 0 && faulty > faults(&scan::read(self.tree.source, old).1);
        let wanted = fresh.map(|fresh| format!("x: {}", fresh.flow));
        let there = path.resolve(&after).map(|(node, _)| node);
        let as_wanted = match (&wanted, there) {
            (Some(wanted), Some(node)) => {
                let (wanted, _) = scan::read(self.tree.source, wanted);
                let value = wanted.get(NodeId(0), "x").map(|pair| pair.value);
                value.is_some_and(|value| same(&wanted, value, &after, node))
            }
            (None, None) => true,
            (None, Some(_)) => matches!(path.steps.last(), Some(Step::Item(_))),
            (Some(_), None) => false,
        };
        if !as_wanted || worse {
            return Err(refuse(
                "a value that can stand in this place; put it in quotes, or change the file by hand",
            ));
        }
        let removed = fresh.is_none();
        let same_elsewhere = match (self.tree.root(), after.root()) {
            (Some(old), Some(new)) => same_but(self.tree, old, &after, new, &path.steps, removed),
            _ => true,
        };
        if same_elsewhere {
            Ok(Changed { edits, text, tree: after })
        } else {
            Err(refuse(
                "a change that leaves every other entry as it is; an alias elsewhere may repeat this one",
            ))
        }
    }
}
