//! Builds the tree from the parser's events: puts its places right, follows aliases within a budget,
//! finds repeated keys, and closes what a fault left open.

use std::collections::{HashMap, HashSet};
use std::ops::Range;

use super::events::{Event, Events, Fault, Read, ScalarStyle, StructureStyle};

use super::fault;
use super::scan::{DEEPEST, MOST_NODES};
use super::tree::{Comment, Node, NodeId, NodeKind, Pair, Style, Tree};
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::{SourceId, Span};

mod broken;

pub(super) use broken::Stop;

/// The most bytes of text that aliases may repeat.
const MOST_REPEATED_TEXT: usize = 4 * 1024 * 1024;

/// Among no more keys than this one is found by going through them.
const FEW: usize = 32;

/// What a mark (`&name`) stands for.
#[derive(Clone)]
enum Marked {
    /// This node.
    Node(NodeId),
    /// The text of a key.
    Word(String),
}

/// A key whose value comes next.
struct Key {
    text: String,
    span: Span,
    /// Whether it is fit to be a key and stands in its map for the first time.
    kept: bool,
}

/// What a list or map that is still open has got so far.
enum Holds {
    List(Vec<NodeId>),
    Map {
        pairs: Vec<Pair>,
        key: Option<Key>,
        /// Where the keys of the pairs first stand, once there are many.
        seen: HashMap<String, Span>,
        twice: Vec<String>,
    },
}

/// A list or map that is still open.
struct Frame {
    id: NodeId,
    holds: Holds,
    /// Where the last thing in it ends.
    end: usize,
}

pub(super) struct Builder<'t> {
    source: SourceId,
    text: &'t str,
    nodes: Vec<Node>,
    comments: Vec<Comment>,
    broken: Vec<NodeId>,
    /// The blocks that ended since the last value: a fault that stands right behind them may have ended them.
    just_ended: Vec<NodeId>,
    problems: Vec<Problem>,
    frames: Vec<Frame>,
    by_number: HashMap<usize, Marked>,
    by_name: HashMap<String, Marked>,
    /// Where the last thing ends that was read; the next stands after it.
    last_end: usize,
    /// The last single value, if nothing was read behind it.
    last_value: Option<NodeId>,
    repeated_text: usize,
}

impl<'t> Builder<'t> {
    pub(super) fn new(source: SourceId, text: &'t str) -> Self {
        Builder {
            source,
            text,
            nodes: Vec::new(),
            comments: Vec::new(),
            broken: Vec::new(),
            just_ended: Vec::new(),
            problems: Vec::new(),
            frames: Vec::new(),
            by_number: HashMap::new(),
            by_name: HashMap::new(),
            last_end: 0,
            last_value: None,
            repeated_text: 0,
        }
    }

    pub(super) fn finish(mut self) -> (Tree, Vec<Problem>) {
        self.comments.sort_by_key(|comment| comment.span);
        self.comments.dedup();
        self.warn_of_swallowed_values();
        self.broken.sort_unstable();
        self.broken.dedup();
        self.problems.sort_by_key(|problem| (problem.at, problem.kind));
        let tree =
            Tree { source: self.source, nodes: self.nodes, comments: self.comments, broken: self.broken };
        (tree, self.problems)
    }

    pub(super) fn add_problem(&mut self, problem: Problem) {
        self.problems.push(problem);
    }

    /// Whether there is neither a value nor a complaint.
    pub(super) fn holds_nothing(&mut self) -> bool {
        if let [Node { kind: NodeKind::Nothing, .. }] = self.nodes.as_slice() {
            self.nodes.clear();
        }
        self.nodes.is_empty() && self.problems.is_empty()
    }

    /// Opens a map at the margin, for pieces of a text that are read one by one.
    pub(super) fn open_root(&mut self) {
        let id = self.add(NodeKind::Map(Vec::new()), 0..0, false);
        let holds = Holds::Map { pairs: Vec::new(), key: None, seen: HashMap::new(), twice: Vec::new() };
        self.frames.push(Frame { id, holds, end: 0 });
    }

    pub(super) fn close_root(&mut self) {
        while !self.frames.is_empty() {
            self.close(None);
        }
        let first = self.nodes.first().and_then(|root| match &root.kind {
            NodeKind::Map(pairs) => pairs.first().map(|pair| pair.key_span.start),
            _ => None,
        });
        if let (Some(root), Some(start)) = (self.nodes.first_mut(), first) {
            root.span.start = start;
        }
    }

    fn span(&self, range: Range<usize>) -> Span {
        Span::new(self.source, range.start, range.end)
    }

    fn add(&mut self, kind: NodeKind, range: Range<usize>, flow: bool) -> NodeId {
        let id = NodeId(u32::try_from(self.nodes.len()).unwrap_or(u32::MAX));
        let span = self.span(range);
        self.nodes.push(Node { kind, span, flow });
        id
    }

    /// Reads one piece of the text. With `section`, the map at the margin is open already, and the keys of
    /// the piece go into it.
    pub(super) fn read_piece(&mut self, piece: Range<usize>, section: bool) -> Result<(), Stop> {
        let words = self.text.get(piece.clone()).unwrap_or("");
        self.take(Events::of(words, DEEPEST), piece, section)
    }

    /// Takes in the events of one piece of the text.
    pub(super) fn take<'e>(
        &mut self,
        events: impl Iterator<Item = Result<Read<'e>, Fault>>,
        piece: Range<usize>,
        section: bool,
    ) -> Result<(), Stop> {
        let floor = self.frames.len();
        self.by_number.clear();
        self.last_end = piece.start;
        self.last_value = None;
        let mut documents = 0;
        let mut entered = !section;
        let mut last: Option<Marked> = None;
        for read in events {
            let read = read.map_err(|told| {
                let at = piece.start + told.at;
                let open = self.open_bracket(floor);
                let problem = fault::explain(self.source, self.text, piece.clone(), &told.kind, at, open);
                Stop { problem: Box::new(problem), at }
            })?;
            let (event, bytes) = (read.event, read.range);
            let range = (piece.start + bytes.start).min(piece.end)..(piece.start + bytes.end).min(piece.end);
            if self.nodes.len() > MOST_NODES {
                let found = format!("more than {MOST_NODES} keys and values");
                return Err(Problem::new(ProblemKind::TooLarge, self.span(range)).found(found).into());
            }
            if let Some(tag) = read.tag {
                self.refuse_tag(piece.start + tag.start..piece.start + tag.end);
            }
            if !entered {
                match event {
                    Event::MappingStart(StructureStyle::Block, ..) => {
                        entered = true;
                        continue;
                    }
                    _ if event.is_node() => {
                        return Err(fault::not_a_key(self.source, self.text, piece).into());
                    }
                    _ => {}
                }
            }
            if !matches!(event, Event::Comment(..) | Event::SequenceEnd | Event::MappingEnd) {
                self.just_ended.clear();
            }
            match event {
                Event::Comment(..) => {
                    let span = self.span(range);
                    self.comments.push(Comment { span });
                }
                Event::DocumentStart(..) => {
                    documents += 1;
                    if documents > 1 {
                        let found = "a line of three dashes that starts a second document";
                        let problem = Problem::new(ProblemKind::SeveralDocuments, self.span(range));
                        return Err(problem.found(found).into());
                    }
                }
                Event::Scalar(text, style, ..) => last = Some(self.scalar(text.into_owned(), style, range)),
                Event::SequenceStart(style, ..) => last = Some(Marked::Node(self.open(false, style, range))),
                Event::MappingStart(style, ..) => last = Some(Marked::Node(self.open(true, style, range))),
                Event::SequenceEnd | Event::MappingEnd if self.frames.len() > floor => {
                    self.close(Some(range))
                }
                Event::Anchor(number, name) => {
                    self.last_end = self.last_end.max(range.end);
                    if let Some(marked) = last.clone() {
                        self.by_name.insert(name.into_owned(), marked.clone());
                        self.by_number.insert(number, marked);
                    }
                }
                Event::Alias(number) => {
                    let marked = self.by_number.get(&number).cloned();
                    self.alias(marked, range)?;
                }
                Event::UnresolvedAlias(name) => {
                    let marked = self.by_name.get(name.as_ref()).cloned();
                    self.alias(marked, range)?;
                }
                _ => {}
            }
        }
        Ok(())
    }

    /// The innermost bracket or brace that is still open.
    fn open_bracket(&self, floor: usize) -> Option<usize> {
        self.frames.iter().skip(floor).rev().find_map(|frame| {
            let start = self.nodes.get(frame.id.0 as usize)?.span.start as usize;
            let opens = self.text.get(start..)?.starts_with(['[', '{']);
            opens.then_some(start)
        })
    }

    /// A `!` at the start of a value is a tag, which leaves the value: say so, for it may have been a word.
    fn refuse_tag(&mut self, range: Range<usize>) {
        let found = self.text.get(range.clone()).unwrap_or("").to_owned();
        let at = self.span(range);
        self.problems.push(
            Problem::new(ProblemKind::BadText, at).found(found).accepts(
                "a value without `!` in front; put the whole value in quotes if the `!` belongs to it",
            ),
        );
    }

    /// Whether the next thing to come is a key.
    fn wants_key(&self) -> bool {
        matches!(self.frames.last(), Some(Frame { holds: Holds::Map { key: None, .. }, .. }))
    }

    fn scalar(&mut self, text: String, style: ScalarStyle, range: Range<usize>) -> Marked {
        let empty = range.is_empty() && style == ScalarStyle::Plain;
        let style = match style {
            ScalarStyle::SingleQuoted => Style::SingleQuoted,
            ScalarStyle::DoubleQuoted => Style::DoubleQuoted,
            ScalarStyle::Literal => Style::Literal,
            ScalarStyle::Folded => Style::Folded,
            ScalarStyle::Plain => Style::Plain,
        };
        let block = matches!(style, Style::Literal | Style::Folded);
        let range = if block { self.block_scalar(range) } else { range };
        if self.wants_key() {
            let text = if empty { String::new() } else { text };
            self.key(text.clone(), range, !empty && !block);
            return Marked::Word(text);
        }
        let (kind, range) = if empty {
            (NodeKind::Nothing, self.after_key(range.start))
        } else {
            (NodeKind::Scalar { text, style }, range)
        };
        let end = range.end;
        let id = self.add(kind, range, false);
        self.place(id, end);
        self.last_value = (style == Style::Plain).then_some(id);
        Marked::Node(id)
    }

    /// The place of a value that is not there: behind the colon of its key, or behind its dash.
    fn after_key(&self, at: usize) -> Range<usize> {
        if let Some(Frame { holds: Holds::Map { key: Some(key), .. }, .. }) = self.frames.last() {
            let key_end = key.span.end as usize;
            let rest = self.text.get(key_end..).unwrap_or("");
            let colon = rest.trim_start_matches([' ', '\t']);
            let end = if colon.starts_with(':') { key_end + (rest.len() - colon.len()) + 1 } else { key_end };
            let end = end.max(self.last_end);
            return end..end;
        }
        let at = at.min(self.text.len());
        at..at
    }

    /// The place of a `|` or `>` text: from its sign to the end of its last line that is not blank.
    fn block_scalar(&self, range: Range<usize>) -> Range<usize> {
        let start = self.indicator(['|', '>']).unwrap_or(range.start);
        let words = self.text.get(start..range.end.max(start)).unwrap_or("");
        let kept = words.trim_end_matches([' ', '\t', '\n', '\r']);
        // An empty one ends with its header; a comment behind the header is no part of it.
        let header_end = words.find(['\n', '\r', ' ', '\t']).unwrap_or(words.len());
        let end = if range.is_empty() { start + header_end } else { start + kept.len().max(header_end) };
        start..end
    }

    /// Looks from the end of what was read last for the sign that starts the next value, over spaces,
    /// comments, tags and marks.
    fn indicator(&self, wanted: [char; 2]) -> Option<usize> {
        let mut at = self.last_end;
        loop {
            let rest = self.text.get(at..)?;
            let c = rest.chars().next()?;
            match c {
                _ if wanted.contains(&c) => return Some(at),
                '#' => at += rest.find(['\n', '\r']).unwrap_or(rest.len()),
                '&' | '!' => at += rest.find([' ', '\t', '\n', '\r']).unwrap_or(rest.len()),
                ' ' | '\t' | '\n' | '\r' | ':' | '-' | '?' | ',' | '\u{feff}' => at += c.len_utf8(),
                _ => return None,
            }
        }
    }

    fn key(&mut self, text: String, range: Range<usize>, fit: bool) {
        let span = self.span(range.clone());
        self.last_end = range.end;
        self.last_value = None;
        if let Some(Frame { holds: Holds::Map { pairs, key, seen, twice }, end, .. }) = self.frames.last_mut()
        {
            *end = range.end;
            let repeated = if pairs.len() <= FEW {
                pairs.iter().find(|pair| pair.key == text).map(|pair| pair.key_span)
            } else {
                let new = pairs.iter().skip(seen.len());
                seen.extend(new.map(|pair| (pair.key.clone(), pair.key_span)));
                seen.get(&text).copied()
            };
            if fit && let Some(first) = repeated {
                twice.push(text.clone());
                self.problems.push(
                    Problem::new(ProblemKind::DuplicateKey, span)
                        .found(text.clone())
                        .also(first, "first written here"),
                );
            }
            *key = Some(Key { text, span, kept: fit && repeated.is_none() });
        }
        if !fit {
            self.unfit_key(span);
        }
    }

    fn unfit_key(&mut self, span: Span) {
        let words = self.text.get(span.range()).unwrap_or("");
        let found = if words.is_empty() { "nothing in front of the colon" } else { words };
        let problem = Problem::new(ProblemKind::KeyNotAWord, span).found(found);
        self.problems.push(problem);
    }

    fn open(&mut self, map: bool, style: StructureStyle, range: Range<usize>) -> NodeId {
        let flow = matches!(style, StructureStyle::Flow);
        let dash = || self.indicator(['-', '-']).filter(|dash| *dash <= range.start);
        let start = if map || flow { range.start } else { dash().unwrap_or(range.start) };
        let holds = if map {
            Holds::Map { pairs: Vec::new(), key: None, seen: HashMap::new(), twice: Vec::new() }
        } else {
            Holds::List(Vec::new())
        };
        let kind = if map { NodeKind::Map(Vec::new()) } else { NodeKind::List(Vec::new()) };
        let dashed = !map && !flow && self.text.get(start..).is_some_and(|rest| rest.starts_with('-'));
        let end = range.end.max(start + usize::from(dashed));
        let id = self.add(kind, start..end, flow);
        self.last_end = range.end.max(self.last_end);
        self.frames.push(Frame { id, holds, end });
        id
    }

    /// Closes the innermost list or map. `at` is where the parser saw its end; that of a block is too far.
    fn close(&mut self, at: Option<Range<usize>>) {
        let Some(frame) = self.frames.pop() else { return };
        let at_end = at.clone();
        let bracket = at.filter(|at| !at.is_empty()).map(|at| at.end);
        if bracket.is_none() && at_end.is_some() {
            self.just_ended.push(frame.id);
        }
        let end = bracket.unwrap_or(frame.end);
        let Frame { id, holds, .. } = frame;
        let holds = self.without_repeated(holds);
        if let Some(node) = self.nodes.get_mut(id.0 as usize) {
            let start = node.span.start as usize;
            node.span = Span::new(self.source, start, end.max(start));
            node.kind = match holds {
                Holds::List(items) => NodeKind::List(items),
                Holds::Map { pairs, .. } => NodeKind::Map(pairs),
            };
        }
        if self.wants_key() && at_end.is_none() {
            // A key that was never read to its end is no key at all.
            self.last_end = self.last_end.max(end);
        } else if self.wants_key() {
            let span = self.nodes.get(id.0 as usize).map_or(self.span(end..end), |node| node.span);
            self.key(String::new(), span.range(), false);
        } else {
            self.place(id, end);
        }
    }

    /// The values of keys that stand more than once taken out: nobody knows which is meant.
    fn without_repeated(&mut self, holds: Holds) -> Holds {
        let Holds::Map { mut pairs, key, seen, twice } = holds else { return holds };
        if !twice.is_empty() {
            let twice: HashSet<&str> = twice.iter().map(String::as_str).collect();
            for pair in pairs.iter_mut().filter(|pair| twice.contains(pair.key.as_str())) {
                pair.value = self.add(NodeKind::Twice, pair.key_span.range(), false);
            }
        }
        Holds::Map { pairs, key, seen, twice: Vec::new() }
    }

    /// Puts a value where it belongs: into the list, or under the key that waits for it.
    fn place(&mut self, id: NodeId, value_end: usize) {
        self.last_end = self.last_end.max(value_end);
        let Some(frame) = self.frames.last_mut() else { return };
        frame.end = frame.end.max(value_end);
        match &mut frame.holds {
            Holds::List(items) => items.push(id),
            Holds::Map { pairs, key, .. } => {
                if let Some(key) = key.take().filter(|key| key.kept) {
                    pairs.push(Pair { key: key.text, key_span: key.span, value: id });
                }
            }
        }
    }

    /// Repeats what an alias stands for. An alias to nothing is kept as the text it is.
    fn alias(&mut self, marked: Option<Marked>, range: Range<usize>) -> Result<(), Problem> {
        let span = self.span(range.clone());
        let words = self.text.get(range.clone()).unwrap_or("").to_owned();
        if self.wants_key() {
            self.key(String::new(), range, false);
            return Ok(());
        }
        let as_text = |text: String| NodeKind::Scalar { text, style: Style::Plain };
        let id = match marked {
            Some(Marked::Word(text)) => self.add(as_text(text), range.clone(), false),
            Some(Marked::Node(target)) => {
                if let Some(open) = self.frames.iter().find(|frame| frame.id == target) {
                    let holder = self.nodes.get(open.id.0 as usize).map_or(span, |node| node.span);
                    let start = Span { end: holder.start, ..holder };
                    return Err(Problem::new(ProblemKind::AliasToItself, span)
                        .found(words)
                        .accepts("an alias that stands outside of what it repeats")
                        .also(start, "what it repeats starts here"));
                }
                self.repeat(target, span, self.frames.len())?
            }
            None => {
                self.problems.push(
                    Problem::new(ProblemKind::UnknownName, span).found(words.clone()).accepts(
                        "a mark that is set further up with `&`; text that starts with `*` in quotes",
                    ),
                );
                self.add(as_text(words), range.clone(), false)
            }
        };
        self.place(id, range.end);
        Ok(())
    }

    /// A copy of a node and all in it, standing at `span`.
    fn repeat(&mut self, target: NodeId, span: Span, depth: usize) -> Result<NodeId, Problem> {
        if depth > 2 * DEEPEST {
            return Err(Problem::new(ProblemKind::TooDeep, span)
                .found("lists and keys nested through aliases")
                .accepts(format!("at most {DEEPEST} levels")));
        }
        let node = self.nodes.get(target.0 as usize).cloned();
        let Some(Node { kind, flow, .. }) = node else { return Ok(target) };
        if let NodeKind::Scalar { text, .. } = &kind {
            self.repeated_text += text.len();
        }
        if self.nodes.len() > MOST_NODES || self.repeated_text > MOST_REPEATED_TEXT {
            return Err(Problem::new(ProblemKind::TooManyAliases, span)
                .found("aliases that repeat each other until the file grows out of bounds")
                .accepts(format!("at most {MOST_NODES} keys and values with all repeats counted")));
        }
        let copy = self.add(NodeKind::Nothing, span.range(), flow);
        let kind = match kind {
            NodeKind::List(items) => {
                let mut copies = Vec::with_capacity(items.len());
                for item in items {
                    copies.push(self.repeat(item, span, depth + 1)?);
                }
                NodeKind::List(copies)
            }
            NodeKind::Map(pairs) => {
                let mut copies = Vec::with_capacity(pairs.len());
                for pair in pairs {
                    self.repeated_text += pair.key.len();
                    let value = self.repeat(pair.value, span, depth + 1)?;
                    copies.push(Pair { key: pair.key, key_span: span, value });
                }
                NodeKind::Map(copies)
            }
            single => single,
        };
        if let Some(node) = self.nodes.get_mut(copy.0 as usize) {
            node.kind = kind;
        }
        if self.broken.contains(&target) {
            self.broken.push(copy);
        }
        Ok(copy)
    }

    /// Warns where a `#` may have cut a value short: one space in front of it and a letter or digit right
    /// behind it, as in `wire: no. #10` or `unit: #4`, directly after a value without quotes or after a
    /// colon. A comment that two spaces set off, or that starts with a space, is taken as meant.
    fn warn_of_swallowed_values(&mut self) {
        let mut suspects: HashMap<u32, Span> = HashMap::new();
        for comment in &self.comments {
            let (before, after) = self.text.split_at_checked(comment.span.start as usize).unwrap_or(("", ""));
            let set_off =
                before.strip_suffix([' ', '\t']).is_none_or(|rest| rest.ends_with([' ', '\t', '\n', '\r']));
            let word = after.chars().nth(1).is_some_and(char::is_alphanumeric);
            if word && !set_off {
                suspects.insert(comment.span.start.saturating_sub(1), comment.span);
            }
        }
        if suspects.is_empty() {
            return;
        }
        for node in &self.nodes {
            let single = match &node.kind {
                NodeKind::Nothing => true,
                NodeKind::Scalar { style: Style::Plain, .. } => !node.span.is_empty(),
                _ => false,
            };
            let Some(comment) = suspects.get(&node.span.end).copied().filter(|_| single) else { continue };
            suspects.remove(&node.span.end);
            let words = |span: Span| self.text.get(span.range()).unwrap_or("").trim_end().to_owned();
            let value = words(node.span);
            let whole = if value.is_empty() { words(comment) } else { format!("{value} {}", words(comment)) };
            let read =
                if value.is_empty() { "read as nothing".to_owned() } else { format!("read as `{value}`") };
            let quoted = whole.replace('\'', "''");
            self.problems.push(
                Problem::new(ProblemKind::SwallowedByComment, comment)
                    .found(words(comment))
                    .accepts(format!(
                        "the value in quotes if the `#` belongs to it, as in '{quoted}'; a space behind the `#` if it is a comment"
                    ))
                    .also(node.span, read),
            );
        }
    }
}
