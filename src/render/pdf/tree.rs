//! The tree of parts that a reader without eyes goes by: headings, paragraphs, lists, tables, drawings with what they
//! show in words. What adorns a page is not in it.

use std::num::NonZeroU16;

use krilla::tagging::{Identifier, ListNumbering, TableHeaderScope, Tag, TagGroup, TagKind, TagTree};

/// What a part is.
#[derive(Clone, Debug)]
pub(super) enum Kind {
    /// A heading: how deep, and its words.
    Heading(u8, String),
    Words,
    List,
    Item,
    Label,
    Body,
    Table,
    Caption,
    Head,
    Rows,
    Row,
    HeadCell,
    Cell,
    /// A drawing, and what it shows in words.
    Drawing(String),
    Link,
    /// A finding with all that belongs to it.
    Section,
}

enum Child {
    Part(usize),
    Leaf(Identifier),
}

struct Part {
    kind: Kind,
    children: Vec<Child>,
    /// The part it goes under as soon as it holds something, so that words that lead somewhere are read in their place.
    waits: Option<usize>,
}

/// The tree of parts.
#[derive(Default)]
pub(super) struct Tree {
    parts: Vec<Part>,
    roots: Vec<usize>,
}

impl Tree {
    /// Adds a part, under another or under none.
    pub(super) fn add(&mut self, kind: Kind, under: Option<usize>) -> usize {
        let number = self.parts.len();
        let waits = under.filter(|_| matches!(kind, Kind::Link));
        self.parts.push(Part { kind, children: Vec::new(), waits });
        if waits.is_some() {
            return number;
        }
        match under.and_then(|above| self.parts.get_mut(above)) {
            Some(above) => above.children.push(Child::Part(number)),
            None => self.roots.push(number),
        }
        number
    }

    /// Says what on a page belongs to a part.
    pub(super) fn holds(&mut self, part: usize, leaf: Identifier) {
        let Some(own) = self.parts.get_mut(part) else { return };
        own.children.push(Child::Leaf(leaf));
        let above = own.waits.take().and_then(|above| self.parts.get_mut(above));
        if let Some(above) = above {
            above.children.push(Child::Part(part));
        }
    }

    /// The tree as it is written. Parts without anything are left out.
    pub(super) fn written(&self) -> TagTree {
        let mut tree = TagTree::new().with_lang(Some("en".to_owned()));
        for root in &self.roots {
            if let Some(group) = self.group(*root) {
                tree.push(group);
            }
        }
        tree
    }

    fn group(&self, number: usize) -> Option<TagGroup> {
        let part = self.parts.get(number)?;
        let mut group = TagGroup::new(tag(&part.kind));
        for child in &part.children {
            match child {
                Child::Part(below) => {
                    if let Some(below) = self.group(*below) {
                        group.push(below);
                    }
                }
                Child::Leaf(leaf) => group.push(*leaf),
            }
        }
        (!group.children.is_empty()).then_some(group)
    }
}

fn tag(kind: &Kind) -> TagKind {
    match kind {
        Kind::Heading(depth, words) => {
            let level = NonZeroU16::new(u16::from(*depth)).unwrap_or(NonZeroU16::MIN);
            Tag::Hn(level, Some(words.clone())).into()
        }
        Kind::Words => Tag::P.into(),
        Kind::List => Tag::L(ListNumbering::None).into(),
        Kind::Item => Tag::LI.into(),
        Kind::Label => Tag::Lbl.into(),
        Kind::Body => Tag::LBody.into(),
        Kind::Table => Tag::Table.into(),
        Kind::Caption => Tag::Caption.into(),
        Kind::Head => Tag::THead.into(),
        Kind::Rows => Tag::TBody.into(),
        Kind::Row => Tag::TR.into(),
        Kind::HeadCell => Tag::TH(TableHeaderScope::Column).into(),
        Kind::Cell => Tag::TD.into(),
        Kind::Drawing(words) => Tag::Figure(Some(words.clone())).into(),
        Kind::Link => Tag::Link.into(),
        Kind::Section => Tag::Section.into(),
    }
}
