//! Books side by side: which there are, which stands in the place of which, and which builds on which. A book
//! is read and checked when it is first asked for, after the books it builds on, and kept.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, OnceLock};

use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::{SourceId, Sources, Span};
use crate::base::vocabulary::Vocabulary;
use crate::yaml::scan;
use crate::yaml::tree::Tree;

use super::authors::Amendment;
use super::checked::{BaseDesign, CheckedBook};
use super::load::Below;

/// So many books may stand on each other.
const HIGHEST: usize = 12;

/// A book, read or not yet read.
#[derive(Debug)]
struct Volume {
    name: String,
    files: Vec<(SourceId, String)>,
    /// Its `book.yaml`.
    main: SourceId,
    always: bool,
    builds_on: Vec<String>,
    /// Where it names the books it builds on.
    builds_at: Span,
    /// The books whose designs its cases may start from, and where it names them.
    cases_from: Vec<String>,
    cases_from_at: Span,
    in_place_of: Option<String>,
    read: Read,
    /// The same as it was before its last amendments were decided, each from the day of a decision on; put up when a day
    /// before the last of them is first asked about.
    before: OnceLock<Vec<(String, Read)>>,
}

/// A book once it was read, or its faults.
type Read = OnceLock<Result<CheckedBook, Vec<Problem>>>;

impl Volume {
    /// The designs in its folder `cases`.
    fn designs(&self) -> impl Iterator<Item = BaseDesign> {
        self.files.iter().filter_map(|(source, path)| {
            let name =
                path.strip_prefix(self.name.as_str())?.strip_prefix("/cases/")?.strip_suffix(".yaml")?;
            Some(BaseDesign { name: name.to_owned(), book: self.name.clone(), source: *source })
        })
    }
}

/// All the books at hand.
#[derive(Debug, Default)]
pub struct Bookcase {
    volumes: Vec<Volume>,
    /// Where each book stands among the volumes, by its name.
    places: BTreeMap<String, usize>,
    /// On how many books each stands, one on the other; nothing for one that stands on a ring.
    heights: BTreeMap<String, usize>,
    /// What is wrong with how the books stand beside each other.
    pub problems: Vec<Problem>,
}

/// A file of a book with its path: the book's name, `/`, and the path in its folder.
pub type Filed = (SourceId, String);

impl Bookcase {
    /// Puts up books by their files: those that come with the program, and those that a person brings along.
    /// One that is brought may stand in the place of one that comes with the program if it says so.
    #[must_use]
    pub fn of(carried: Vec<Filed>, brought: Vec<Filed>, sources: &Sources) -> Self {
        let mut bookcase = Bookcase::default();
        bookcase.volumes = bookcase.bind(carried, sources);
        for volume in bookcase.bind(brought, sources) {
            let place = Span::new(volume.main, 0, 1);
            let there = bookcase.volumes.iter().position(|one| one.name == volume.name);
            match (there, &volume.in_place_of) {
                (None, None) => bookcase.volumes.push(volume),
                (Some(at), Some(named)) if *named == volume.name => {
                    if let Some(slot) = bookcase.volumes.get_mut(at) {
                        *slot = volume;
                    }
                }
                (Some(_), _) => bookcase.problems.push(
                    Problem::new(ProblemKind::BookShadows, place)
                        .found(format!("`{}`", volume.name))
                        .accepts(format!("`in_place_of: {}` in its book.yaml, or another name", volume.name)),
                ),
                (None, Some(named)) => bookcase.problems.push(
                    Problem::new(ProblemKind::BookShadows, place)
                        .found(format!("`{named}`, and no book of this name comes with the program"))
                        .accepts("a book without `in_place_of`"),
                ),
            }
        }
        let named = bookcase.volumes.iter().enumerate();
        bookcase.places = named.map(|(at, volume)| (volume.name.clone(), at)).collect();
        bookcase.heights = bookcase.measured();
        bookcase
    }

    /// How high each book stands, found from the ground up: those that are never reached stand on a ring.
    fn measured(&self) -> BTreeMap<String, usize> {
        let mut waiting: Vec<usize> = Vec::with_capacity(self.volumes.len());
        let mut above: Vec<Vec<usize>> = vec![Vec::new(); self.volumes.len()];
        let mut ready = Vec::new();
        for (at, volume) in self.volumes.iter().enumerate() {
            let below: BTreeSet<usize> =
                volume.builds_on.iter().filter_map(|name| self.places.get(name)).copied().collect();
            for one in &below {
                above.get_mut(*one).into_iter().for_each(|list| list.push(at));
            }
            if below.is_empty() {
                ready.push(at);
            }
            waiting.push(below.len());
        }
        let mut heights: Vec<usize> = vec![0; self.volumes.len()];
        let mut found = BTreeMap::new();
        while let Some(at) = ready.pop() {
            let height = heights.get(at).copied().unwrap_or(0);
            found.extend(self.volumes.get(at).map(|volume| (volume.name.clone(), height)));
            for next in above.get(at).into_iter().flatten() {
                if let Some(slot) = heights.get_mut(*next) {
                    *slot = height.saturating_add(1).max(*slot);
                }
                if let Some(left) = waiting.get_mut(*next) {
                    *left = left.saturating_sub(1);
                    if *left == 0 {
                        ready.push(*next);
                    }
                }
            }
        }
        found
    }

    /// Files put together into books. Of two books of one name in different places the first is kept.
    fn bind(&mut self, files: Vec<Filed>, sources: &Sources) -> Vec<Volume> {
        let mut books: BTreeMap<String, Vec<Filed>> = BTreeMap::new();
        for (id, path) in files {
            let Some((book, _)) = path.split_once('/') else { continue };
            books.entry(book.to_owned()).or_default().push((id, path));
        }
        let mut volumes = Vec::new();
        for (name, files) in books {
            let main = format!("{name}/book.yaml");
            let mut mains = files.iter().filter(|(_, path)| *path == main).map(|(id, _)| *id);
            let Some(main) = mains.next() else { continue };
            if let Some(other) = mains.next() {
                self.problems.push(
                    Problem::new(ProblemKind::NameClash, Span::new(other, 0, 1))
                        .found(format!("`{name}`"))
                        .accepts("one book of a name")
                        .also(Span::new(main, 0, 1), "the other book of this name"),
                );
                continue;
            }
            let (text, noted) = sources.get(main).map_or(("", &[][..]), |one| (one.text(), one.noted()));
            let (tree, _) = scan::read_noted(main, text, noted);
            let (builds_on, builds_at) = texts(&tree, "builds_on");
            let (cases_from, cases_from_at) = texts(&tree, "cases_from");
            volumes.push(Volume {
                name,
                files,
                main,
                always: texts(&tree, "always").0.iter().any(|text| matches!(text.as_str(), "yes" | "true")),
                builds_on,
                builds_at,
                cases_from,
                cases_from_at,
                in_place_of: texts(&tree, "in_place_of").0.into_iter().next(),
                read: OnceLock::new(),
                before: OnceLock::new(),
            });
        }
        volumes
    }

    /// The names of the books, in the order they were put up.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.volumes.iter().map(|volume| volume.name.as_str())
    }

    /// The names of the books that every review uses.
    pub fn always(&self) -> impl Iterator<Item = &str> {
        self.volumes.iter().filter(|volume| volume.always).map(|volume| volume.name.as_str())
    }

    /// The files of a book, each with its path.
    #[must_use]
    pub fn files(&self, name: &str) -> Option<&[Filed]> {
        self.volume(name).map(|volume| volume.files.as_slice())
    }

    fn volume(&self, name: &str) -> Option<&Volume> {
        self.volumes.get(*self.places.get(name)?)
    }

    /// The book of this name, read and checked; or its faults. There is none of this name when nothing comes.
    #[must_use]
    pub fn book(
        &self,
        name: &str,
        sources: &Sources,
        vocabulary: &Vocabulary,
    ) -> Option<Result<&CheckedBook, &[Problem]>> {
        let volume = self.volume(name)?;
        let read = volume.read.get_or_init(|| self.read(volume, None, sources, vocabulary));
        Some(read.as_ref().map_err(Vec::as_slice))
    }

    /// The same as it counts on a day, given as 2026-05-12: what is decided only afterwards is not in it. Without a day all
    /// of it counts.
    #[must_use]
    pub fn book_on(
        &self,
        name: &str,
        day: Option<&str>,
        sources: &Sources,
        vocabulary: &Vocabulary,
    ) -> Option<Result<&CheckedBook, &[Problem]>> {
        let whole = self.book(name, sources, vocabulary)?;
        let Some(day) = day else { return Some(whole) };
        let later = self.amendments(name, sources, vocabulary);
        if whole.is_err() || later.iter().all(|one| one.decided.on.as_str() <= day) {
            return Some(whole);
        }
        let volume = self.volume(name)?;
        let before = volume.before.get_or_init(|| {
            let days: BTreeSet<&str> = later.iter().map(|one| one.decided.on.as_str()).collect();
            let days = std::iter::once("").chain(days);
            days.map(|day| (day.to_owned(), OnceLock::new())).collect()
        });
        let (from, read) = before.iter().rev().find(|(from, _)| from.as_str() <= day)?;
        let read = read.get_or_init(|| self.read(volume, Some(from), sources, vocabulary));
        Some(read.as_ref().map_err(Vec::as_slice))
    }

    /// The amendments that made a book what it is: its own and those of the books it builds on.
    #[must_use]
    pub fn amendments(&self, name: &str, sources: &Sources, vocabulary: &Vocabulary) -> Vec<&Arc<Amendment>> {
        let Some(Ok(book)) = self.book(name, sources, vocabulary) else { return Vec::new() };
        let applied = book.rules.iter().flat_map(|rule| &rule.authors.amendments);
        let mut all: Vec<&Arc<Amendment>> =
            applied.chain(book.withdrawn.iter().map(|one| &one.amendment)).collect();
        // What is withdrawn here may have been amended below.
        for below in &book.builds_on {
            for one in self.amendments(below, sources, vocabulary) {
                if !all.contains(&one) {
                    all.push(one);
                }
            }
        }
        all
    }

    fn read(
        &self,
        volume: &Volume,
        until: Option<&str>,
        sources: &Sources,
        vocabulary: &Vocabulary,
    ) -> Result<CheckedBook, Vec<Problem>> {
        // Nothing of a ring is read: it has no end.
        if let Some(problem) = self.ring(volume) {
            return Err(vec![problem]);
        }
        let mut books = Vec::new();
        let mut problems = Vec::new();
        for name in &volume.builds_on {
            match self.book_on(name, until, sources, vocabulary) {
                Some(Ok(book)) => books.push(book),
                Some(Err(faults)) => {
                    problems.push(
                        Problem::new(ProblemKind::BookBelow, volume.builds_at)
                            .found(format!("`{name}`, which has a fault of its own")),
                    );
                    problems.extend(faults.iter().cloned());
                }
                None => problems.push(
                    Problem::new(ProblemKind::BookBelow, volume.builds_at)
                        .found(format!("`{name}`, which is not at hand"))
                        .accepts(super::expr::quoted(self.names().filter(|one| *one != volume.name)))
                        .nearest(crate::base::near::nearest(name, self.names())),
                ),
            }
        }
        let lent = self.lent(volume, &mut problems);
        if !problems.is_empty() {
            return Err(problems);
        }
        let files: Vec<(SourceId, &str, &str)> = volume
            .files
            .iter()
            .map(|(id, path)| (*id, path.as_str(), sources.get(*id).map_or("", |source| source.text())))
            .collect();
        CheckedBook::load_on(&files, Below { books: &books, lent: &lent, sources, until }, vocabulary)
    }

    /// The designs of the books from which the cases of this one may start.
    fn lent(&self, volume: &Volume, problems: &mut Vec<Problem>) -> Vec<BaseDesign> {
        let mut designs = Vec::new();
        for name in &volume.cases_from {
            match self.volume(name) {
                Some(lender) => designs.extend(lender.designs()),
                None => problems.push(
                    Problem::new(ProblemKind::BookBelow, volume.cases_from_at)
                        .found(format!("`{name}`, which is not at hand"))
                        .accepts(super::expr::quoted(self.names().filter(|one| *one != volume.name)))
                        .nearest(crate::base::near::nearest(name, self.names())),
                ),
            }
        }
        designs
    }

    /// What is told of a book that stands on itself, on a ring, or on too many others.
    fn ring(&self, volume: &Volume) -> Option<Problem> {
        match self.heights.get(&volume.name) {
            Some(height) if *height <= HIGHEST => None,
            Some(_) => Some(
                Problem::new(ProblemKind::BookBelow, volume.builds_at)
                    .found(format!("more than {HIGHEST} books on each other"))
                    .accepts(format!("at most {HIGHEST} books on each other")),
            ),
            None => {
                let Some(way) = self.way_back(volume) else {
                    let found = "a book that builds on itself, perhaps by way of others";
                    return Some(Problem::new(ProblemKind::BookBelow, volume.builds_at).found(found));
                };
                let mut problem = Problem::new(ProblemKind::BookRing, volume.builds_at)
                    .found(format!("`{}`", volume.name))
                    .accepts("a book that does not build on this one");
                for (name, at) in way {
                    problem = problem.also(at, format!("where {name} builds on the next"));
                }
                Some(problem)
            }
        }
    }

    /// The books through which a book comes back to itself, each with the place where it names the next; nothing
    /// when it does not.
    fn way_back<'a>(&'a self, volume: &'a Volume) -> Option<Vec<(&'a str, Span)>> {
        let mut came_from: BTreeMap<&str, &str> = BTreeMap::new();
        let mut open = vec![volume];
        while let Some(here) = open.pop() {
            for next in here.builds_on.iter().filter_map(|name| self.volume(name)) {
                if next.name == volume.name {
                    let mut way = Vec::new();
                    let mut at = here.name.as_str();
                    while at != volume.name {
                        way.extend(self.volume(at).map(|one| (one.name.as_str(), one.builds_at)));
                        at = came_from.get(at).copied().unwrap_or(&volume.name);
                    }
                    way.reverse();
                    return Some(way);
                }
                if !came_from.contains_key(next.name.as_str()) {
                    came_from.insert(&next.name, &here.name);
                    open.push(next);
                }
            }
        }
        None
    }
}

/// The text of a `book.yaml` under another name: the lines that give the old one and say that it stands in the
/// place of another are taken away. With `in_place` it stands in the place of the book of its name that comes
/// with the program.
#[must_use]
pub fn naming(text: &str, name: &str, in_place: bool) -> String {
    let is_one = |line: &str| ["book:", "in_place_of:"].iter().any(|key| line.starts_with(key));
    let mut named = String::with_capacity(text.len() + 40);
    let mut said = false;
    for line in text.split_inclusive('\n') {
        // The first key at the margin is where a name belongs, below what stands in comments above it.
        if !said
            && !line.starts_with(['#', '\u{feff}'])
            && !line.trim().is_empty()
            && line.trim_end() != "---"
        {
            said = true;
            named.push_str(&format!("book: {name}\n"));
            if in_place {
                named.push_str(&format!("in_place_of: {name}\n"));
            }
        }
        if !is_one(line) {
            named.push_str(line);
        }
    }
    named
}

/// The text or the texts under a key at the top of a file, and where they stand.
fn texts(tree: &Tree, key: &str) -> (Vec<String>, Span) {
    let nowhere = Span::new(tree.source, 0, 1);
    let Some(pair) = tree.root().and_then(|root| tree.get(root, key)) else { return (Vec::new(), nowhere) };
    let at = tree.node(pair.value).map_or(nowhere, |node| node.span);
    let one = tree.text(pair.value).into_iter();
    let many = tree.items(pair.value).iter().filter_map(|item| tree.text(*item));
    (one.chain(many).map(|text| text.trim().to_owned()).collect(), at)
}
