//! One declaration per key: from it come the reader, the JSON Schema and the description.
//!
//! ```text
//! record! {
//!     /// A hedge around a bed.
//!     pub struct Hedge = "hedge" {
//!         /// How high it is: `4 ft`.
//!         height: Measure<Length> = "height",
//!     }
//! }
//! ```
//!
//! makes `pub struct Hedge { pub here: Here, pub height: Entry<Measure<Length>> }`, which [`Reads`].
//! The word after `=` says what such a thing is called when another entry refers to it by name; it may be left
//! out. `apart (left right)` names keys that cannot both be stated. `alike (drop rise)` names keys that say one thing
//! in several ways, so that a later file which says it anew in one way does away with what was said in the others.
//! `short height` after it lets a person write the value of that one key alone: `hedge: 4 ft`.
//!
//! Division of labour with the check against the schema: shapes, keys and words of lists are judged there. What a
//! schema cannot know is judged here: quantities, dates, names. A value that cannot be read costs its own entry
//! and nothing else.

use std::borrow::Cow;

use serde_json::{Map, Value, json};

use super::entry::{Entry, Here, Item, ListOf, Meaning, Met, Named, OneOrList, State, Vouched};
use super::lay::{Onto, Said, Same, lay_named};
use super::name::References;
use super::schema::{Schemas, description, or_not_known, or_unknown};
use super::time::Moment;
use super::tree::{NodeId, NodeKind, Style, Tree};
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::{Source, Span};
use crate::base::value::EntryPath;

/// Something an entry can hold.
pub trait Reads: Sized + Same {
    /// What such a thing is called where another entry refers to it by name.
    const KIND: Option<&'static str> = None;

    /// Whether `none` always says something of it: that there is no such thing. Where it does not, the description of a
    /// key has to speak of the word `none`, or the word is refused there.
    const MAY_BE_NONE: bool = true;

    /// How it is written, for a message: `yes or no`.
    #[must_use]
    fn written_as() -> String {
        String::new()
    }

    /// Reads it from a node. `None` when it cannot be read: then either a problem was reported, or the node does
    /// not fit the schema, whose check reports it.
    fn read(reader: &mut Reader<'_>, node: NodeId, path: &EntryPath) -> Option<Self>;

    /// What it looks like in JSON Schema.
    fn schema(defs: &mut Schemas) -> Value;

    /// What it means, however it is written. A type that holds a single value has to say so.
    fn means(&self) -> Meaning {
        Meaning::Parts
    }

    /// Who answers for it, as far as it says itself.
    fn vouched(&self) -> Vouched {
        Vouched::default()
    }

    /// Walks through its entries, the outer before the inner.
    fn walk(&self, _meet: &mut dyn FnMut(Met)) {}

    /// Lays what a later file says over this. What is a single value is handed back: it replaces this whole.
    fn lay(&mut self, over: Self, _onto: &mut Onto) -> Option<Self> {
        Some(over)
    }

    /// What it says, in words and of whom, where the place alone does not show it.
    fn in_words(&self, place: Said) -> Said {
        place
    }

    /// What is kept of it in a list when nothing of it is known but why: for a record [`Record::blank`], else nothing.
    fn stand_in(_here: Here, _why: Blank) -> Option<Self> {
        None
    }
}

/// A set of keys, each an entry.
pub trait Record: Reads {
    /// The record of which nothing is known but why.
    fn blank(here: Here, why: Blank) -> Self;
}

/// Why nothing of a record is known.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Blank {
    /// Nothing is written.
    Missing,
    /// `unknown` is written for the whole of it.
    Unknown,
    /// `none` is written for the whole of it.
    None,
    /// What is written is no record.
    Unreadable,
    /// It may stand in lines that were not read.
    CutOff,
}

impl Blank {
    /// The state of every entry of such a record.
    #[must_use]
    pub fn state<T>(self) -> State<T> {
        match self {
            Blank::Missing => State::Missing,
            Blank::Unknown => State::Unknown,
            Blank::None => State::None,
            Blank::Unreadable | Blank::CutOff => State::Unreadable,
        }
    }
}

/// Reads entries from a tree and collects what is wrong with them.
pub struct Reader<'a> {
    source: &'a Source,
    tree: &'a Tree,
    /// What was wrong so far.
    pub problems: Vec<Problem>,
    /// Names given and names asked for, checked at the end.
    pub references: References,
    /// Moments, checked against the clocks of the place at the end.
    pub moments: Vec<Moment>,
    /// Values that were read although the schema does not list them: other spellings of one of its words.
    pub settled: Vec<Span>,
    /// Whether something was come across that the check against the schema has to tell of: a key that no record has,
    /// or a value that cannot be read and of which nothing was said yet. While it is not set, that check finds nothing.
    pub schema_has_more: bool,
}

impl<'a> Reader<'a> {
    /// A reader of this tree of this text.
    #[must_use]
    pub fn new(source: &'a Source, tree: &'a Tree) -> Self {
        Reader {
            source,
            tree,
            problems: Vec::new(),
            references: References::default(),
            moments: Vec::new(),
            settled: Vec::new(),
            schema_has_more: false,
        }
    }

    /// The tree that is read.
    #[must_use]
    pub fn tree(&self) -> &'a Tree {
        self.tree
    }

    /// Where a node stands.
    #[must_use]
    pub fn span(&self, node: NodeId) -> Span {
        self.tree.node(node).map_or(Span::new(self.tree.source, 0, 0), |node| node.span)
    }

    /// The text of a single value, trimmed.
    #[must_use]
    pub fn text(&self, node: NodeId) -> Option<&'a str> {
        self.tree.text(node).map(str::trim)
    }

    /// Where a part of a single value stands: the very bytes if it is written plainly, else the whole value.
    #[must_use]
    pub fn part(&self, node: NodeId, part: std::ops::Range<usize>) -> Span {
        let whole = self.span(node);
        let Some(text) = self.text(node) else { return whole };
        let written = self.source.slice(whole);
        match written.find(text) {
            Some(at) if text.get(part.clone()).is_some() => {
                let start = whole.start as usize + at;
                Span::new(whole.source, start + part.start, start + part.end)
            }
            _ => whole,
        }
    }

    /// Reports something wrong.
    pub fn report(&mut self, problem: Problem) {
        self.problems.push(problem);
    }

    /// Reports a single value that cannot be read.
    pub fn report_value(&mut self, node: NodeId, kind: ProblemKind, accepts: &str) {
        let found = self.text(node).unwrap_or("").to_owned();
        let at = self.span(node);
        self.report(Problem::new(kind, at).found(found).accepts(accepts));
    }

    /// Reports two entries of a record that cannot both be stated.
    pub fn not_both<A, B>(&mut self, one: &Entry<A>, other: &Entry<B>) {
        if one.known().is_some() && other.known().is_some() {
            let (first, second) =
                if one.at.start <= other.at.start { (one.at, other.at) } else { (other.at, one.at) };
            let found = self.source.slice(second).to_owned();
            let problem = Problem::new(ProblemKind::NotTogether, second)
                .found(found)
                .accepts(format!("either {} or {}, not both", one.key, other.key))
                .also(first, "stands beside this");
            self.report(problem);
        }
    }

    /// Whether the plain word `unknown` or `none` stands there, or nothing.
    fn plain_state<T>(&self, node: NodeId) -> Option<State<T>> {
        match &self.tree.node(node)?.kind {
            NodeKind::Nothing if !self.tree.is_whole(node) => Some(State::Unreadable),
            NodeKind::Twice => Some(State::Unreadable),
            NodeKind::Nothing => Some(State::Missing),
            NodeKind::Scalar { text, style: Style::Plain } => match text.as_str() {
                "unknown" => Some(State::Unknown),
                "none" => Some(State::None),
                "" | "~" | "null" => Some(State::Missing),
                _ => None,
            },
            _ => None,
        }
    }

    /// What stands at a node.
    pub fn state<T: Reads>(&mut self, node: NodeId, path: &EntryPath) -> State<T> {
        match self.plain_state(node) {
            Some(state) => state,
            None => {
                let told = self.problems.len();
                let read = T::read(self, node, path);
                self.schema_has_more |= read.is_none() && self.problems.len() == told;
                read.map_or(State::Unreadable, State::Known)
            }
        }
    }

    /// Notes whether a map has a key that is none of these.
    pub fn expect_keys(&mut self, node: NodeId, keys: &[&str]) {
        self.schema_has_more |= self.tree.pairs(node).iter().any(|pair| !keys.contains(&pair.key.as_str()));
    }

    /// What stands under a key of a record that is described so.
    pub fn entry<T: Reads>(
        &mut self,
        record: NodeId,
        key: &'static str,
        path: &EntryPath,
        doc: &[&str],
    ) -> Entry<T> {
        let Some(pair) = self.tree.get(record, key) else {
            let missing = Entry::missing(key, self.span(record));
            // Behind a fault in the file the key may well be written.
            let cut_off = !self.tree.is_whole(record);
            return if cut_off {
                Entry { state: State::Unreadable, whole: false, ..missing }
            } else {
                missing
            };
        };
        let (value, key_span) = (pair.value, pair.key_span);
        let mut state = self.state(value, &path.key(key));
        if matches!(state, State::None) && !takes_none::<T>(doc) {
            let problem = Problem::new(ProblemKind::NoneSaysNothing, self.span(value));
            self.report(problem.found("none").accepts(T::written_as()));
            state = State::Unreadable;
        }
        let at = if matches!(state, State::Missing) { key_span } else { self.span(value) };
        Entry { key, state, at, whole: self.tree.is_whole(value) }
    }

    /// A member of a list or of a set of named things. A record of which nothing can be read is kept as one of
    /// which nothing is known, so that no thing is ever lost from a list.
    fn item<T: Reads>(&mut self, name: String, name_at: Span, node: NodeId, path: EntryPath) -> Item<T> {
        let state = self.state::<T>(node, &path);
        let at = if matches!(state, State::Missing) { name_at } else { self.span(node) };
        let why = match state {
            State::Missing => Some(Blank::Missing),
            State::Unknown => Some(Blank::Unknown),
            State::Unreadable if !self.tree.is_whole(node) => Some(Blank::CutOff),
            State::Unreadable => Some(Blank::Unreadable),
            State::None | State::Known(_) => None,
        };
        let blank = why.and_then(|why| T::stand_in(Here { at, path: path.clone() }, why));
        Item { name, name_at, at, path, state: blank.map_or(state, State::Known) }
    }
}

/// No set of named things has more than this many in an honest file.
pub const MOST_THINGS: usize = 5_000;

impl<T: Reads> Reads for Named<T> {
    fn read(reader: &mut Reader<'_>, node: NodeId, path: &EntryPath) -> Option<Self> {
        let tree = reader.tree();
        let NodeKind::Map(pairs) = &tree.node(node)?.kind else { return None };
        if pairs.len() > MOST_THINGS {
            let first = pairs.first().map_or_else(|| reader.span(node), |pair| pair.key_span);
            let found = format!("{} things in one place", pairs.len());
            let accepts = format!("at most {MOST_THINGS} things in one place");
            reader.report(Problem::new(ProblemKind::TooLarge, first).found(found).accepts(accepts));
            return None;
        }
        let mut items = Vec::with_capacity(pairs.len());
        for pair in pairs {
            reader.check_name(&pair.key, pair.key_span);
            let own_path = path.key(&pair.key);
            if let Some(kind) = T::KIND {
                reader.references.declare(kind, &pair.key, pair.key_span, &own_path);
            }
            items.push(reader.item(pair.key.clone(), pair.key_span, pair.value, own_path));
        }
        Some(Named { items })
    }

    fn schema(defs: &mut Schemas) -> Value {
        let of = T::schema(defs);
        json!({ "type": "object", "additionalProperties": or_not_known(defs, of) })
    }

    fn walk(&self, meet: &mut dyn FnMut(Met)) {
        walk_items(&self.items, true, meet);
    }

    fn lay(&mut self, over: Self, onto: &mut Onto) -> Option<Self> {
        lay_named(self, over, onto);
        None
    }
}

impl<T: Reads> Reads for ListOf<T> {
    fn read(reader: &mut Reader<'_>, node: NodeId, path: &EntryPath) -> Option<Self> {
        let tree = reader.tree();
        let NodeKind::List(members) = &tree.node(node)?.kind else { return None };
        if !tree.is_whole(node) {
            return None; // half an outline is another outline
        }
        let mut items = Vec::with_capacity(members.len());
        for (at, member) in members.iter().enumerate() {
            let name = (at + 1).to_string();
            let own_path = path.item(at);
            items.push(reader.item(name, reader.span(*member), *member, own_path));
        }
        Some(ListOf { items })
    }

    fn schema(defs: &mut Schemas) -> Value {
        let of = T::schema(defs);
        json!({ "type": "array", "items": or_not_known(defs, of) })
    }

    fn walk(&self, meet: &mut dyn FnMut(Met)) {
        walk_items(&self.items, false, meet);
    }
}

impl<T: Reads> Reads for OneOrList<T> {
    fn read(reader: &mut Reader<'_>, node: NodeId, path: &EntryPath) -> Option<Self> {
        if matches!(reader.tree().node(node)?.kind, NodeKind::List(_)) {
            return ListOf::read(reader, node, path).map(OneOrList);
        }
        let at = reader.span(node);
        let before = reader.references.count();
        let only = T::read(reader, node, path);
        reader.references.or_list(before);
        let only = only?;
        let item =
            Item { name: "1".to_owned(), name_at: at, at, path: path.clone(), state: State::Known(only) };
        Some(OneOrList(ListOf { items: vec![item] }))
    }

    fn schema(defs: &mut Schemas) -> Value {
        let of = T::schema(defs);
        let list = ListOf::<T>::schema(defs);
        json!({ "anyOf": [of, list] })
    }

    fn walk(&self, meet: &mut dyn FnMut(Met)) {
        self.0.walk(meet);
    }
}

impl<T: Reads> Reads for Box<T> {
    const KIND: Option<&'static str> = T::KIND;
    const MAY_BE_NONE: bool = T::MAY_BE_NONE;

    fn written_as() -> String {
        T::written_as()
    }

    fn read(reader: &mut Reader<'_>, node: NodeId, path: &EntryPath) -> Option<Self> {
        T::read(reader, node, path).map(Box::new)
    }

    fn schema(defs: &mut Schemas) -> Value {
        T::schema(defs)
    }

    fn means(&self) -> Meaning {
        T::means(self)
    }

    fn vouched(&self) -> Vouched {
        T::vouched(self)
    }

    fn walk(&self, meet: &mut dyn FnMut(Met)) {
        T::walk(self, meet);
    }

    fn lay(&mut self, over: Self, onto: &mut Onto) -> Option<Self> {
        T::lay(self, *over, onto).map(Box::new)
    }

    fn in_words(&self, place: Said) -> Said {
        T::in_words(self, place)
    }

    fn stand_in(here: Here, why: Blank) -> Option<Self> {
        T::stand_in(here, why).map(Box::new)
    }
}

/// Walks through an entry of a record and what it holds.
pub fn walk_entry<T: Reads>(entry: &Entry<T>, of: &Here, meet: &mut dyn FnMut(Met)) {
    let path = of.path.key(entry.key);
    meet(Met {
        path,
        stands: entry.state.stands(),
        means: entry.state.means(),
        is_thing: false,
        vouched: entry.state.vouched(),
        at: entry.at,
    });
    if let Some(value) = entry.known() {
        value.walk(meet);
    }
}

/// Walks through the members of a list and what they hold.
fn walk_items<T: Reads>(items: &[Item<T>], is_thing: bool, meet: &mut dyn FnMut(Met)) {
    for item in items {
        let (path, stands, means) = (item.path.clone(), item.state.stands(), item.state.means());
        let vouched = item.state.vouched();
        meet(Met { path, stands, means, is_thing, vouched, at: item.at });
        if let Some(value) = item.state.known() {
            value.walk(meet);
        }
    }
}

/// The record that stands under a key; if there is none, the one of which nothing is known but why.
#[must_use]
pub fn section<T: Record>(entry: Entry<T>, path: EntryPath) -> T {
    let why = entry.why_blank();
    match entry.state {
        State::Known(record) => record,
        _ => T::blank(Here { at: entry.at, path }, why),
    }
}

/// The record that stands under a key of another; if there is none, the one of which nothing is known but why.
#[must_use]
pub fn inside<'a, T: Record + Clone>(entry: &'a Entry<T>, of: &Here) -> Cow<'a, T> {
    match &entry.state {
        State::Known(record) => Cow::Borrowed(record),
        _ => {
            let here = Here { at: entry.at, path: of.path.key(entry.key) };
            Cow::Owned(T::blank(here, entry.why_blank()))
        }
    }
}

impl<T: Reads> State<T> {
    /// What the value means, if one is known.
    fn means(&self) -> Meaning {
        self.known().map_or(Meaning::Parts, Reads::means)
    }

    /// Who answers for the value, if one is known.
    fn vouched(&self) -> Vouched {
        self.known().map_or_else(Vouched::default, Reads::vouched)
    }
}

impl<T> Entry<T> {
    /// Why nothing is known. `Missing` for a known value.
    fn why_blank(&self) -> Blank {
        match self.state {
            State::Missing | State::Known(_) => Blank::Missing,
            State::Unknown => Blank::Unknown,
            State::Unreadable if !self.whole => Blank::CutOff,
            State::Unreadable => Blank::Unreadable,
            State::None => Blank::None,
        }
    }
}

/// Whether `none` says something under a key that is described so.
fn takes_none<T: Reads>(doc: &[&str]) -> bool {
    T::MAY_BE_NONE || doc.iter().any(|line| line.contains("`none`"))
}

/// The schema of one key of a record: what it may hold, and its description.
pub fn key_schema<T: Reads>(defs: &mut Schemas, doc: &[&str]) -> Value {
    let of = T::schema(defs);
    let mut schema = described(doc);
    let of = if takes_none::<T>(doc) { or_not_known(defs, of) } else { or_unknown(defs, of) };
    if let Value::Object(of) = of {
        schema.extend(of);
    }
    Value::Object(schema)
}

/// The schema of a record: these keys and no others.
#[must_use]
pub fn record_schema(doc: &[&str], keys: Vec<(&'static str, Value)>) -> Value {
    let properties: Map<String, Value> =
        keys.into_iter().map(|(key, value)| (key.to_owned(), value)).collect();
    let mut schema = described(doc);
    schema.insert("type".to_owned(), "object".into());
    schema.insert("properties".to_owned(), Value::Object(properties));
    schema.insert("additionalProperties".to_owned(), false.into());
    Value::Object(schema)
}

/// The schema of what is described so, to be filled in.
fn described(doc: &[&str]) -> Map<String, Value> {
    let mut schema = Map::new();
    schema.insert("description".to_owned(), Value::String(description(doc)));
    schema
}

/// Where the schema of a record says which of its keys a value stands for that is written in place of the whole of it.
pub const SHORT_FOR: &str = "x-short-for";

/// Whether a record is written in its short form: one value instead of its keys, or that value with its particulars.
#[must_use]
pub fn is_short(reader: &Reader<'_>, node: NodeId) -> bool {
    match reader.tree().node(node).map(|node| &node.kind) {
        Some(NodeKind::Map(_)) => reader.tree().get(node, "value").is_some(),
        Some(NodeKind::Nothing | NodeKind::Twice) | None => false,
        Some(NodeKind::Scalar { .. } | NodeKind::List(_)) => true,
    }
}

/// Declares a record: a set of keys, each with its type, its spelling and its description.
#[macro_export]
macro_rules! record {
    (
        $(#[doc = $about:literal])+
        pub struct $Name:ident $(= $kind:literal)? $(, short $short:ident)? $(, apart $(($one:ident $other:ident))+)? $(, alike $(($($like:ident)+))+)? {
            $($(#[doc = $doc:literal])+ $field:ident: $T:ty = $key:literal,)*
        }
    ) => {
        $(#[doc = $about])+
        #[derive(Clone, PartialEq, Debug)]
        pub struct $Name {
            /// Where it stands.
            pub here: $crate::yaml::entry::Here,
            $($(#[doc = $doc])+ pub $field: $crate::yaml::entry::Entry<$T>,)*
        }

        impl $crate::yaml::record::Reads for $Name {
            $(const KIND: Option<&'static str> = Some($kind);)?

            fn read(
                reader: &mut $crate::yaml::record::Reader<'_>,
                node: $crate::yaml::tree::NodeId,
                path: &$crate::base::value::EntryPath,
            ) -> Option<Self> {
                let at = reader.span(node);
                let here = $crate::yaml::entry::Here { at, path: path.clone() };
                $(
                    if $crate::yaml::record::is_short(reader, node) {
                        let mut it = <Self as $crate::yaml::record::Record>::blank(here, $crate::yaml::record::Blank::Missing);
                        it.$short.state = reader.state(node, &path.key(it.$short.key));
                        return Some(it);
                    }
                )?
                if !matches!(reader.tree().node(node)?.kind, $crate::yaml::tree::NodeKind::Map(_)) {
                    return None;
                }
                let it = $Name { here, $($field: reader.entry(node, $key, path, &[$($doc),+]),)* };
                reader.expect_keys(node, &[$($key),*]);
                $($(reader.not_both(&it.$one, &it.$other);)+)?
                Some(it)
            }

            fn schema(defs: &mut $crate::yaml::schema::Schemas) -> serde_json::Value {
                let keys = defs.refer::<$Name>(stringify!($Name), |defs| {
                    let keys = vec![$(($key, $crate::yaml::record::key_schema::<$T>(defs, &[$($doc),+])),)*];
                    $crate::yaml::record::record_schema(&[$($about),+], keys)
                });
                $(
                    let (short, stands_for) = $Name::short_form(defs, |it| &it.$short);
                    let keys = serde_json::json!({ "anyOf": [keys, short], ($crate::yaml::record::SHORT_FOR): stands_for });
                )?
                keys
            }

            fn walk(&self, meet: &mut dyn FnMut($crate::yaml::entry::Met)) {
                $($crate::yaml::record::walk_entry(&self.$field, &self.here, meet);)*
            }

            fn lay(&mut self, over: Self, onto: &mut $crate::yaml::lay::Onto) -> Option<Self> {
                $($(
                    if $crate::yaml::lay::is_news(&self.$one, &over.$one) || $crate::yaml::lay::is_news(&self.$other, &over.$other) {
                        $crate::yaml::lay::give_way(&mut self.$one, &over.$one, &self.here, onto);
                        $crate::yaml::lay::give_way(&mut self.$other, &over.$other, &self.here, onto);
                    }
                )+)?
                $($(
                    if $($crate::yaml::lay::is_news(&self.$like, &over.$like))||+ {
                        $($crate::yaml::lay::give_way(&mut self.$like, &over.$like, &self.here, onto);)+
                    }
                )+)?
                $($crate::yaml::lay::lay_entry(&mut self.$field, over.$field, &self.here, onto);)*
                None
            }

            fn stand_in(here: $crate::yaml::entry::Here, why: $crate::yaml::record::Blank) -> Option<Self> {
                Some(<Self as $crate::yaml::record::Record>::blank(here, why))
            }
        }

        impl $crate::yaml::lay::Same for $Name {
            fn same(&self, other: &Self) -> bool {
                true $(&& $crate::yaml::lay::Same::same(&self.$field, &other.$field))*
            }
        }

        impl $crate::yaml::record::Record for $Name {
            fn blank(here: $crate::yaml::entry::Here, why: $crate::yaml::record::Blank) -> Self {
                let at = here.at;
                $Name {
                    here,
                    $($field: $crate::yaml::entry::Entry { key: $key, state: why.state(), at, whole: why != $crate::yaml::record::Blank::CutOff },)*
                }
            }
        }

        $(impl $crate::yaml::name::Names for $Name {
            const KINDS: &'static [&'static str] = &[$kind];
            const WHAT: &'static str = $kind;
        })?

        $(impl $Name {
            /// The schema of what may stand for the whole record, and the key for which it stands.
            fn short_form<T: $crate::yaml::record::Reads>(
                defs: &mut $crate::yaml::schema::Schemas,
                key: fn(&$Name) -> &$crate::yaml::entry::Entry<T>,
            ) -> (serde_json::Value, &'static str) {
                let _ = stringify!($short);
                let blank = <Self as $crate::yaml::record::Record>::blank(
                    $crate::yaml::entry::Here::nowhere(),
                    $crate::yaml::record::Blank::Missing,
                );
                (<T as $crate::yaml::record::Reads>::schema(defs), key(&blank).key)
            }
        })?
    };
}

pub use crate::record;

#[cfg(test)]
#[allow(unreachable_pub)]
mod tests;
