//! The tree of a file that was read: what stands where, in the writer's own words.
//!
//! Kept: the span of every key and value, the style of every scalar, every comment, both places of a
//! duplicate key. Nothing is resolved: whether `no` is a word or a truth value is for the entry to say
//! that wants one of them.

use crate::base::text::{SourceId, Span};

/// A node, by its place in its tree.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct NodeId(pub u32);

/// How a single value was written.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Style {
    /// Without quotes.
    Plain,
    /// `'…'`
    SingleQuoted,
    /// `"…"`
    DoubleQuoted,
    /// `|`
    Literal,
    /// `>`
    Folded,
}

/// One key with its value.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Pair {
    /// The key's text.
    pub key: String,
    /// Where the key stands, quotes included.
    pub key_span: Span,
    /// Its value.
    pub value: NodeId,
}

/// What a node is.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum NodeKind {
    /// Nothing was written: `key:` and no more.
    Nothing,
    /// The key stands more than once, so that nobody knows which value is meant. Its place is the first key.
    Twice,
    /// A single value.
    Scalar {
        /// Its text, quotes and folding resolved.
        text: String,
        /// How it was written.
        style: Style,
    },
    /// A list.
    List(Vec<NodeId>),
    /// Keys and values, in the order written; a repeated key is kept here once, without a value.
    Map(Vec<Pair>),
}

/// A node: what it is and where it stands.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Node {
    /// What it is.
    pub kind: NodeKind,
    /// Where it stands. For an alias, the place of the alias and not of what it repeats.
    pub span: Span,
    /// Whether it is written in the flow form, in brackets or braces.
    pub flow: bool,
}

/// A comment.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Comment {
    /// From the `#` to the end of the line.
    pub span: Span,
}

/// A file that was read.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Tree {
    /// The text it was read from.
    pub source: SourceId,
    /// Its nodes; the root is the first. Empty when nothing could be read.
    pub nodes: Vec<Node>,
    /// Its comments, in order.
    pub comments: Vec<Comment>,
    /// Nodes that hold a fault, so that not all that is written in them could be read; in order. A list
    /// or a map of names among them must not be taken as complete, and a key with nothing under it is
    /// unreadable, not empty.
    pub broken: Vec<NodeId>,
}

impl Tree {
    /// The tree of a text in which nothing could be read.
    #[must_use]
    pub fn nothing(source: SourceId) -> Self {
        Tree { source, nodes: Vec::new(), comments: Vec::new(), broken: Vec::new() }
    }

    /// Whether all that is written in a node was read.
    #[must_use]
    pub fn is_whole(&self, id: NodeId) -> bool {
        self.broken.binary_search(&id).is_err()
    }

    /// The outermost node.
    #[must_use]
    pub fn root(&self) -> Option<NodeId> {
        if self.nodes.is_empty() { None } else { Some(NodeId(0)) }
    }

    /// The node with this number.
    #[must_use]
    pub fn node(&self, id: NodeId) -> Option<&Node> {
        self.nodes.get(id.0 as usize)
    }

    /// The text of a single value.
    #[must_use]
    pub fn text(&self, id: NodeId) -> Option<&str> {
        match &self.node(id)?.kind {
            NodeKind::Scalar { text, .. } => Some(text),
            _ => None,
        }
    }

    /// The pairs of a map; empty for anything else.
    #[must_use]
    pub fn pairs(&self, id: NodeId) -> &[Pair] {
        match self.node(id).map(|node| &node.kind) {
            Some(NodeKind::Map(pairs)) => pairs,
            _ => &[],
        }
    }

    /// The members of a list; empty for anything else.
    #[must_use]
    pub fn items(&self, id: NodeId) -> &[NodeId] {
        match self.node(id).map(|node| &node.kind) {
            Some(NodeKind::List(items)) => items,
            _ => &[],
        }
    }

    /// The value under a key of a map.
    #[must_use]
    pub fn get(&self, id: NodeId, key: &str) -> Option<&Pair> {
        self.pairs(id).iter().find(|pair| pair.key == key)
    }

    /// Takes over a node of another tree with all that is in it. Its places stay those of the other's text.
    pub fn graft(&mut self, of: &Tree, id: NodeId) -> Option<NodeId> {
        let node = of.node(id)?;
        let kind = match &node.kind {
            NodeKind::Nothing => NodeKind::Nothing,
            NodeKind::Twice => NodeKind::Twice,
            NodeKind::Scalar { text, style } => NodeKind::Scalar { text: text.clone(), style: *style },
            NodeKind::List(items) => {
                NodeKind::List(items.iter().filter_map(|item| self.graft(of, *item)).collect())
            }
            NodeKind::Map(pairs) => {
                let taken = pairs.iter().filter_map(|pair| {
                    let value = self.graft(of, pair.value)?;
                    Some(Pair { key: pair.key.clone(), key_span: pair.key_span, value })
                });
                NodeKind::Map(taken.collect())
            }
        };
        Some(self.add(Node { kind, span: node.span, flow: node.flow }))
    }

    /// Puts a node beside the others; nothing refers to it yet.
    pub fn add(&mut self, node: Node) -> NodeId {
        let id = NodeId(u32::try_from(self.nodes.len()).unwrap_or(u32::MAX));
        self.nodes.push(node);
        id
    }

    /// Lets a key of a map have this value: in the place of the one it has, else behind the last key.
    pub fn put(&mut self, map: NodeId, new: Pair) {
        let Some(NodeKind::Map(pairs)) = self.nodes.get_mut(map.0 as usize).map(|node| &mut node.kind) else {
            return;
        };
        match pairs.iter_mut().find(|pair| pair.key == new.key) {
            Some(pair) => *pair = new,
            None => pairs.push(new),
        }
    }

    /// Takes a key of a map away.
    pub fn take_away(&mut self, map: NodeId, key: &str) {
        if let Some(NodeKind::Map(pairs)) = self.nodes.get_mut(map.0 as usize).map(|node| &mut node.kind) {
            pairs.retain(|pair| pair.key != key);
        }
    }
}
