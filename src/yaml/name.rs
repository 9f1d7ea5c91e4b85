//! Names, what they refer to, and plain text.

use std::collections::{BTreeMap, BTreeSet};
use std::marker::PhantomData;

use serde_json::{Value, json};

use super::entry::Meaning;
use super::record::{Reader, Reads};
use super::schema::{Schemas, single_value};
use super::tree::NodeId;
use crate::base::near::nearest;
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::Span;
use crate::base::value::EntryPath;

/// Plain text: what stands there, trimmed.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Text(pub String);

impl Text {
    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// Whether text holds a character that would steer a terminal or turn the writing round.
fn steers(text: &str) -> bool {
    text.chars().any(|c| {
        (c.is_control() && c != '\n' && c != '\t')
            || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    })
}

impl Reads for Text {
    fn read(reader: &mut Reader<'_>, node: NodeId, _path: &EntryPath) -> Option<Self> {
        let text = reader.text(node)?;
        if steers(text) {
            reader.report_value(node, ProblemKind::BadText, "text without control characters");
            return None;
        }
        Some(Text(text.to_owned()))
    }

    fn means(&self) -> Meaning {
        Meaning::Value(self.0.clone())
    }

    fn schema(defs: &mut Schemas) -> Value {
        defs.refer::<Text>("text", |_| single_value())
    }
}

/// What a reference by name may point to.
pub trait Names {
    /// The kinds of thing whose names are taken.
    const KINDS: &'static [&'static str];
    /// Words that stand for themselves instead of a name.
    const WORDS: &'static [&'static str] = &[];
    /// What is wanted, for messages: `space`, `run or fan`.
    const WHAT: &'static str;
}

/// A reference by name to a thing of the file.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct NameOf<K> {
    /// The name, as written.
    pub name: String,
    /// Where it is written.
    pub at: Span,
    kind: PhantomData<fn() -> K>,
}

impl<K> NameOf<K> {
    /// The name, as written.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.name
    }
}

impl<K: Names> Reads for NameOf<K> {
    fn read(reader: &mut Reader<'_>, node: NodeId, path: &EntryPath) -> Option<Self> {
        let name = reader.text(node)?.to_owned();
        let at = reader.span(node);
        reader.references.ask::<K>(&name, at, path);
        Some(NameOf { name, at, kind: PhantomData })
    }

    fn means(&self) -> Meaning {
        Meaning::Name(self.name.clone())
    }

    fn schema(defs: &mut Schemas) -> Value {
        defs.refer::<K>(
            &format!("name_of_{}", std::any::type_name::<K>().rsplit("::").next().unwrap_or("")),
            |_| {
                let mut schema = single_value();
                if let Some(schema) = schema.as_object_mut() {
                    schema.insert("title".to_owned(), json!(format!("the name of a {}", K::WHAT)));
                }
                schema
            },
        )
    }
}

/// A name that was given to a thing.
#[derive(Clone, Debug)]
struct Given {
    kind: &'static str,
    name: String,
    at: Span,
    path: EntryPath,
}

/// A name that was asked for.
#[derive(Clone, Debug)]
struct Asked {
    kinds: &'static [&'static str],
    words: &'static [&'static str],
    what: &'static str,
    name: String,
    at: Span,
    path: EntryPath,
    /// Whether a list of names could stand there as well.
    or_list: bool,
}

/// The names given and asked for in one file.
#[derive(Clone, Debug, Default)]
pub struct References {
    given: Vec<Given>,
    asked: Vec<Asked>,
}

impl References {
    /// Notes a name given to a thing.
    pub fn declare(&mut self, kind: &'static str, name: &str, at: Span, path: &EntryPath) {
        self.given.push(Given { kind, name: name.to_owned(), at, path: path.clone() });
    }

    /// Notes a name asked for.
    pub fn ask<K: Names>(&mut self, name: &str, at: Span, path: &EntryPath) {
        self.asked.push(Asked {
            kinds: K::KINDS,
            words: K::WORDS,
            what: K::WHAT,
            name: name.to_owned(),
            at,
            path: path.clone(),
            or_list: false,
        });
    }

    /// How many names were asked for so far.
    #[must_use]
    pub fn count(&self) -> usize {
        self.asked.len()
    }

    /// Notes that a list could stand in place of each name that was asked for since.
    pub fn or_list(&mut self, since: usize) {
        self.asked.iter_mut().skip(since).for_each(|asked| asked.or_list = true);
    }

    /// The same of a file that lies over another: the names given in either can be asked for.
    #[must_use]
    pub fn check_over(&self, under: &References, text: &str) -> Vec<Problem> {
        let known: BTreeSet<&str> = under.given.iter().map(|given| given.path.as_str()).collect();
        let fresh = self.given.iter().filter(|given| !known.contains(given.path.as_str()));
        let given = under.given.iter().chain(fresh).cloned().collect();
        References { given, asked: self.asked.clone() }.check(text)
    }

    /// What is wrong with the names asked for: nothing has one, or several things do.
    ///
    /// A thing inside a named thing is not seen from inside another of the same kind; from elsewhere in the
    /// file every name is seen, and `outer.inner` says which of several is meant.
    ///
    /// Names that nothing has although `text` holds lines for things of those names are told in one problem: the lines
    /// were not read, and whatever keeps them from being read is told by itself.
    #[must_use]
    pub fn check(&self, text: &str) -> Vec<Problem> {
        let by_path: BTreeMap<&str, &Given> =
            self.given.iter().map(|given| (given.path.as_str(), given)).collect();
        let mut by_kind: BTreeMap<&str, Vec<Seen<'_>>> = BTreeMap::new();
        for given in &self.given {
            let outer = around(&given.path, &by_path).next();
            by_kind.entry(given.kind).or_default().push(Seen { given, outer });
        }
        let told = self.asked.iter().filter_map(|asked| check_one(asked, &by_kind, &by_path));
        let (mut told, unknown): (Vec<Problem>, Vec<Problem>) =
            told.partition(|problem| problem.kind != ProblemKind::UnknownName);
        let written = if unknown.is_empty() { BTreeMap::new() } else { keys_in(text) };
        let mut given: BTreeMap<&str, usize> = BTreeMap::new();
        self.given.iter().for_each(|one| *given.entry(one.name.as_str()).or_default() += 1);
        // Where more keys of that name are written than things were read, one of them was not read.
        let is_unread = |problem: &Problem| {
            let count = |of: &BTreeMap<&str, usize>| of.get(problem.found.as_str()).copied().unwrap_or(0);
            count(&written) > count(&given)
        };
        let (unread, unknown): (Vec<Problem>, Vec<Problem>) = unknown.into_iter().partition(is_unread);
        told.extend(of_nothing(unknown));
        told.extend(in_one(unread));
        told
    }
}

/// The words that stand in front of a colon, anywhere in a text, and how often.
fn keys_in(text: &str) -> BTreeMap<&str, usize> {
    let mut counts = BTreeMap::new();
    for (at, _) in text.match_indices(':') {
        let head = text.get(..at).unwrap_or("");
        let start = head.rfind(['\n', '{', ',', '[']).map_or(0, |start| start + 1);
        let key = head.get(start..).unwrap_or("").trim_matches([' ', '-', '"', '\'', '\t', '\r']);
        *counts.entry(key).or_default() += 1;
    }
    counts
}

/// Names that nothing has: where there is nothing of that sort at all and several names are asked for, in one problem
/// for each sort.
fn of_nothing(unknown: Vec<Problem>) -> Vec<Problem> {
    let (mut rest, mut sorts): (Vec<Problem>, BTreeMap<String, Vec<Problem>>) = (Vec::new(), BTreeMap::new());
    for problem in unknown {
        if problem.accepts.contains(HAS_NONE) {
            sorts.entry(problem.accepts.clone()).or_default().push(problem);
        } else {
            rest.push(problem);
        }
    }
    for (accepts, mut problems) in sorts {
        if problems.len() > 1
            && let Some(first) = problems.iter().map(|problem| problem.at).min()
        {
            let (found, _) = names_of(&problems);
            problems = vec![Problem::new(ProblemKind::UnknownName, first).found(found).accepts(accepts)];
        }
        rest.extend(problems);
    }
    rest.sort_by_key(|problem| problem.at);
    rest
}

/// The names that these problems are about, each with how often, and the first place.
fn names_of(problems: &[Problem]) -> (String, Option<Span>) {
    const SHOWN: usize = 6;
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for problem in problems {
        *counts.entry(problem.found.clone()).or_default() += 1;
    }
    let said = counts.iter().take(SHOWN).map(|(name, count)| match count {
        1 => name.clone(),
        _ => format!("{name} ({count} times)"),
    });
    let mut found = said.collect::<Vec<_>>().join(", ");
    if counts.len() > SHOWN {
        found.push_str(&format!(" and {} more", counts.len() - SHOWN));
    }
    (found, problems.iter().map(|problem| problem.at).min())
}

/// One problem for all the names that point at things that were not read.
fn in_one(unread: Vec<Problem>) -> Option<Problem> {
    let (found, first) = names_of(&unread);
    Some(Problem::new(ProblemKind::NamesUnread, first?).found(found))
}

/// What is wrong with one name that was asked for.
fn check_one(
    asked: &Asked,
    by_kind: &BTreeMap<&str, Vec<Seen<'_>>>,
    by_path: &BTreeMap<&str, &Given>,
) -> Option<Problem> {
    if asked.words.contains(&asked.name.as_str()) {
        return None;
    }
    let inside: Vec<&Given> = around(&asked.path, by_path).collect();
    // In the order given, whatever their kind.
    let mut of_kind: Vec<&Seen<'_>> =
        asked.kinds.iter().filter_map(|kind| by_kind.get(kind)).flatten().collect();
    if asked.kinds.len() > 1 {
        of_kind.sort_by_key(|seen| seen.given.at);
    }
    let of_kind = of_kind.into_iter();
    let seen: Vec<&Seen<'_>> = of_kind.filter(|seen| seen.is_seen_from(&inside)).collect();
    let called: Vec<&&Seen<'_>> = seen.iter().filter(|seen| seen.is_called(&asked.name)).collect();
    // Of several kinds that have the name, the one that stands first among the kinds wanted is meant.
    let meant_kind = asked.kinds.iter().find(|kind| called.iter().any(|seen| seen.given.kind == **kind));
    let of_that_kind = |seen: &&&&Seen<'_>| Some(&seen.given.kind) == meant_kind;
    let meant: Vec<&&Seen<'_>> = called.iter().filter(of_that_kind).copied().collect();
    match meant.as_slice() {
        [_] => None,
        [] => {
            let names =
                || seen.iter().map(|seen| seen.given.name.as_str()).chain(asked.words.iter().copied());
            let problem = Problem::new(ProblemKind::UnknownName, asked.at)
                .found(&asked.name)
                .accepts(accepted(asked.what, names()))
                .nearest(likely(asked, &names().collect::<Vec<_>>()));
            Some(problem)
        }
        several => {
            let full: Vec<String> = several.iter().map(|seen| seen.full_name()).collect();
            let mut problem = Problem::new(ProblemKind::NotTogether, asked.at)
                .found(&asked.name)
                .accepts(format!("one of several things with that name, written {}", full.join(" or ")));
            for seen in several {
                problem = problem.also(seen.given.at, "so called here");
            }
            Some(problem)
        }
    }
}

/// What was likely meant by a name that nothing has: several names without brackets, or one that is spelled alike. Of
/// those that are told apart by a number alone none is likelier than the others.
fn likely(asked: &Asked, names: &[&str]) -> Option<String> {
    let parts: Vec<&str> = asked.name.split(',').map(str::trim).collect();
    if asked.or_list && parts.len() > 1 && parts.iter().all(|part| names.contains(part)) {
        return Some(format!("[{}]", parts.join(", ")));
    }
    let stem = |name: &str| name.trim_end_matches(|c: char| c.is_ascii_digit()).to_owned();
    let near = nearest(&asked.name, names.iter().copied())?;
    let alike = names.iter().filter(|name| stem(name) == stem(&asked.name)).count();
    (stem(&near) != stem(&asked.name) || alike < 2).then_some(near)
}

/// The named things around a path, the innermost first.
fn around<'a>(path: &EntryPath, by_path: &BTreeMap<&str, &'a Given>) -> impl Iterator<Item = &'a Given> {
    let steps =
        std::iter::successors(Some(path.as_str()), |path| path.rsplit_once('.').map(|(outer, _)| outer));
    steps.skip(1).filter_map(|outer| by_path.get(outer).copied())
}

/// A name that was given, with the named thing it lies in.
struct Seen<'a> {
    given: &'a Given,
    outer: Option<&'a Given>,
}

impl Seen<'_> {
    fn is_seen_from(&self, inside: &[&Given]) -> bool {
        let Some(outer) = self.outer else { return true };
        !inside.iter().any(|own| own.kind == outer.kind && own.path != outer.path)
    }

    fn is_called(&self, name: &str) -> bool {
        self.given.name == name || (name.contains('.') && self.full_name() == name)
    }

    fn full_name(&self) -> String {
        match self.outer {
            Some(outer) => format!("{}.{}", outer.name, self.given.name),
            None => self.given.name.clone(),
        }
    }
}

/// What is said behind a sort of things of which the file has none.
const HAS_NONE: &str = "; the file has none";

/// What is accepted, with up to a dozen of the names there are.
fn accepted<'a>(what: &str, names: impl Iterator<Item = &'a str>) -> String {
    let names: Vec<&str> = names.collect();
    let article = if what.starts_with(['a', 'e', 'i', 'o']) { "an" } else { "a" };
    match names.as_slice() {
        [] => format!("the name of {article} {what}{HAS_NONE}"),
        some => {
            let shown = some.iter().take(12).copied().collect::<Vec<_>>().join(", ");
            let more = if some.len() > 12 { format!(" and {} more", some.len() - 12) } else { String::new() };
            format!("the name of {article} {what}: {shown}{more}")
        }
    }
}

impl Reader<'_> {
    /// Reports a name given to a thing that could not be referred to or would be taken for something else.
    pub fn check_name(&mut self, name: &str, at: Span) {
        let fit = |c: char| !c.is_control() && !".:[]{}\"\\*#".contains(c);
        let reserved = matches!(name, "unknown" | "none");
        if name.is_empty() || reserved || name.trim() != name || steers(name) || !name.chars().all(fit) {
            let problem = Problem::new(ProblemKind::BadText, at)
                .found(name.chars().filter(|c| !c.is_control()).collect::<String>())
                .accepts(
                    "a name of letters, digits, spaces, - and _, without . : [ ] { } \" \\ * #, and not the word \
                     unknown or none",
                );
            self.report(problem);
        }
    }
}
