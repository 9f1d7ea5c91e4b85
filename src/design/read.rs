//! A tree turned into a design. Never fails: what cannot be read is reported, and costs its own entry alone.

use std::collections::BTreeSet;
use std::sync::OnceLock;

use serde_json::{Value, json};

use super::check::check;
use super::model::DesignFile;
use super::model::building::Building;
use super::model::checked::Checked;
use super::model::foundation::Foundation;
use super::model::job::Job;
use super::model::membrane::Seals;
use super::model::papers::{Papers, Variance};
use super::model::readings::{Diagnostics, Round, StartUp};
use super::model::shop::ShopFile;
use super::model::site::{BeforeDrilling, LookedFor, Site};
use super::model::systems::System;
use super::model::tests::RadonTest;
use super::model::version::Version;
use super::notes::{Built, Head, Notes, differences, out_of_turn, says_what};
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::{Source, Span};
use crate::base::value::EntryPath;
use crate::yaml::entry::{Entry, Here, Named};
use crate::yaml::lay::Onto;
use crate::yaml::name::{References, Text};
use crate::yaml::record::{Blank, Reader, Reads, Record, section};
use crate::yaml::schema::Schemas;
use crate::yaml::time::{Moment, check_clocks};
use crate::yaml::tree::Tree;
use crate::yaml::validate::{CompiledSchema, validate};

/// A design that was read. Every section is there; one that the file does not have is one of which nothing is stated.
#[derive(Clone, PartialEq, Debug)]
pub struct Design {
    /// The whole file.
    pub here: Here,
    /// The version of the file format.
    pub version: Entry<Version>,
    /// What is done, by whom, under which rulebooks.
    pub job: Job,
    /// Where the building stands.
    pub site: Site,
    /// What was looked for.
    pub looked_for: LookedFor,
    /// What has to be known before the first hole is drilled.
    pub before_drilling: BeforeDrilling,
    /// The building above its foundation.
    pub building: Building,
    /// The foundation.
    pub foundation: Foundation,
    /// The systems, by name.
    pub systems: Entry<Named<System>>,
    /// Sealing work as a whole.
    pub seals: Seals,
    /// What was read and tried before the design was settled.
    pub diagnostics: Diagnostics,
    /// What was read and shown when the system was first left running.
    pub start_up: StartUp,
    /// Rounds after a test that did not come out.
    pub rounds: Entry<Named<Round>>,
    /// Radon tests.
    pub radon_tests: Entry<Named<RadonTest>>,
    /// Papers and upkeep.
    pub papers: Papers,
    /// Permitted departures.
    pub variances: Entry<Named<Variance>>,
    /// What was seen on site of requirements, by their names.
    pub checked: Entry<Named<Checked>>,
    /// Anything else worth keeping.
    pub notes: Entry<Text>,
    /// Entries in which field notes put something else in place of what was designed.
    pub overruled: BTreeSet<EntryPath>,
}

impl Design {
    /// The sections of a file, each of them there.
    fn of(file: DesignFile) -> Self {
        Design {
            here: file.here,
            version: file.version,
            job: section(file.job, EntryPath::new("job")),
            site: section(file.site, EntryPath::new("site")),
            looked_for: section(file.looked_for, EntryPath::new("looked_for")),
            before_drilling: section(file.before_drilling, EntryPath::new("before_drilling")),
            building: section(file.building, EntryPath::new("building")),
            foundation: section(file.foundation, EntryPath::new("foundation")),
            systems: file.systems,
            seals: section(file.seals, EntryPath::new("seals")),
            diagnostics: section(file.diagnostics, EntryPath::new("diagnostics")),
            start_up: section(file.start_up, EntryPath::new("start_up")),
            rounds: file.rounds,
            radon_tests: file.radon_tests,
            papers: section(file.papers, EntryPath::new("papers")),
            variances: file.variances,
            checked: file.checked,
            notes: file.notes,
            overruled: BTreeSet::new(),
        }
    }

    /// Whether field notes put something else in place of what was designed, at an entry or at one that holds it.
    #[must_use]
    pub fn is_overruled(&self, entry: &EntryPath) -> bool {
        let holds = |over: &EntryPath| {
            entry
                .as_str()
                .strip_prefix(over.as_str())
                .is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
        };
        self.overruled.iter().any(holds)
    }
}

/// The key of the version of the format.
const VERSION_KEY: &str = "undercroft";

/// Reads a design from the tree of its text. The problems stand in the order of their places; each fault is told once.
#[must_use]
pub fn read(source: &Source, tree: &Tree) -> (Design, Vec<Problem>) {
    let built = read_built(source, tree, &[]);
    (built.design, built.problems)
}

/// Reads a design and lays field notes over it, in the order of their days. The problems of each file stand in the
/// order of their places; each fault is told once.
#[must_use]
pub fn read_built(source: &Source, tree: &Tree, notes: &[(&Source, &Tree)]) -> Built {
    let mut found = Found::default();
    let mut file = read_file::<DesignFile>(source, tree, &mut found, None);
    let mut papers = Vec::with_capacity(notes.len());
    for (source, tree) in notes {
        let mut own = Found::default();
        let file = read_file::<DesignFile>(source, tree, &mut own, Some(&found.references));
        papers.push((Notes::of(source.name(), tree.source, file), own, *tree));
    }
    papers.sort_by(|(a, ..), (b, ..)| (a.head.on, &a.name).cmp(&(b.head.on, &b.name)));
    let mut heads = Vec::with_capacity(papers.len());
    let mut onto = Onto::default();
    onto.ask_what_is_new(says_what);
    for (paper, own, _) in &mut papers {
        own.by_reader.extend(out_of_turn(&file, paper, notes.len()));
        heads.push(paper.head.clone());
    }
    let designed = Head::of(&file, tree.source);
    for (paper, ..) in &mut papers {
        paper.lay_over(&mut file, &mut onto);
    }
    let mut design = Design::of(file);
    let zone = design.site.zone.known();
    let mut contradictions = check(&design);
    contradictions.append(&mut onto.problems);
    let mut problems = Vec::new();
    let papers = papers.into_iter().map(|(_, own, tree)| (own, tree));
    for (mut found, tree) in std::iter::once((found, tree)).chain(papers) {
        found.by_reader.extend(check_clocks(&found.moments, zone));
        let (own, others) = contradictions.into_iter().partition(|one| one.at.source == tree.source);
        contradictions = others;
        found.by_reader.extend::<Vec<Problem>>(own);
        problems.extend(found.all(tree, design_schema));
    }
    let differences = differences(onto, &designed, &heads);
    design.overruled =
        differences.iter().filter(|one| one.overrules()).map(|one| one.entry.clone()).collect();
    Built { design, problems, differences, designed, heads }
}

/// Reads a shop file from the tree of its text. The problems stand in the order of their places.
#[must_use]
pub fn read_shop(source: &Source, tree: &Tree) -> (ShopFile, Vec<Problem>) {
    let mut found = Found::default();
    let shop = read_file::<ShopFile>(source, tree, &mut found, None);
    let problems = found.all(tree, shop_schema);
    (shop, problems)
}

/// What was found while reading.
#[derive(Default)]
struct Found {
    by_reader: Vec<Problem>,
    references: References,
    moments: Vec<Moment>,
    settled: Vec<Span>,
    schema_has_more: bool,
}

impl Found {
    /// With what the schema finds: a fault that the reader told already is not told again. Where the reader came
    /// across nothing that is left to the schema, there is nothing to find, and the schema is not even made ready.
    fn all(self, tree: &Tree, schema: fn() -> Option<&'static CompiledSchema>) -> Vec<Problem> {
        let mut problems = self.by_reader;
        let schema = if self.schema_has_more { schema() } else { None };
        let mut told = Told::new(problems.iter().map(|problem| problem.at).chain(self.settled));
        for mut fault in schema.map(|schema| validate(tree, schema)).unwrap_or_default() {
            if fault.kind == ProblemKind::KeyMissing && fault.found == VERSION_KEY {
                fault = Problem::new(ProblemKind::NoVersion, fault.at);
            }
            if told.is_new(fault.at) {
                problems.push(fault);
            }
        }
        problems.sort_by(|a, b| (a.at, a.kind, &a.found).cmp(&(b.at, b.kind, &b.found)));
        problems.dedup();
        problems
    }
}

/// The places that something was told of. A fault is new when its place neither holds nor lies in one of them. Faults
/// are asked of in the order of their places, so that each takes a look at few others.
struct Told {
    /// Start and end of each place that the reader told of, by start; and the farthest end up to there.
    by_reader: Vec<(u32, u32, u32)>,
    /// The last place that was new, and the farthest end of all of them.
    last: Option<(u32, u32)>,
}

impl Told {
    fn new(told: impl Iterator<Item = Span>) -> Self {
        let mut places: Vec<(u32, u32)> = told.map(|at| (at.start, at.end)).collect();
        places.sort_unstable();
        let mut farthest = 0;
        let by_reader = places.into_iter().map(|(start, end)| {
            farthest = farthest.max(end);
            (start, end, farthest)
        });
        Told { by_reader: by_reader.collect(), last: None }
    }

    fn is_new(&mut self, at: Span) -> bool {
        let up_to = self.by_reader.partition_point(|known| known.0 <= at.start);
        let before = up_to.checked_sub(1).and_then(|last| self.by_reader.get(last));
        let lies_in = before.is_some_and(|known| known.2 >= at.end)
            || self.last.is_some_and(|(_, farthest)| farthest >= at.end);
        let from = self.by_reader.partition_point(|known| known.0 < at.start);
        let mut inside = self.by_reader.iter().skip(from).take_while(|known| known.0 <= at.end);
        let holds =
            inside.any(|known| known.1 <= at.end) || self.last.is_some_and(|(start, _)| start == at.start);
        if lies_in || holds {
            return false;
        }
        let farthest = self.last.map_or(at.end, |(_, farthest)| farthest.max(at.end));
        self.last = Some((at.start, farthest));
        true
    }
}

/// Reads the outermost record of a file. Names that it asks for may also be given in the file that it lies over.
fn read_file<T: Record>(source: &Source, tree: &Tree, found: &mut Found, under: Option<&References>) -> T {
    let path = EntryPath::new("");
    let whole = Span::new(tree.source, 0, source.text().len());
    let mut reader = Reader::new(source, tree);
    let file = tree.root().and_then(|root| T::read(&mut reader, root, &path));
    found.by_reader = match under {
        Some(under) => reader.references.check_over(under, source.text()),
        None => reader.references.check(source.text()),
    };
    found.by_reader.append(&mut reader.problems);
    found.moments = reader.moments;
    found.references = reader.references;
    found.settled = reader.settled;
    let has_version = tree.root().is_some_and(|root| tree.get(root, VERSION_KEY).is_some());
    found.schema_has_more = reader.schema_has_more || file.is_none() || !has_version;
    file.unwrap_or_else(|| T::blank(Here { at: whole, path }, Blank::Missing))
}

/// The JSON Schema of a file whose outermost record is `T`.
fn schema_of<T: Reads>(title: &str) -> Value {
    let mut defs = Schemas::default();
    let root = T::schema(&mut defs);
    let mut whole = defs.finish(title, root);
    if let Some(whole) = whole.as_object_mut() {
        whole.insert("required".to_owned(), json!([VERSION_KEY]));
    }
    whole
}

/// The JSON Schema of a design file, as it is written into the folder of schemas.
#[must_use]
pub fn design_schema_text() -> &'static Value {
    static TEXT: OnceLock<Value> = OnceLock::new();
    TEXT.get_or_init(|| schema_of::<DesignFile>("Undercroft design file"))
}

/// The JSON Schema of a file of field notes, as it is written into the folder of schemas: that of a design.
#[must_use]
pub fn field_notes_schema_text() -> Value {
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Undercroft field notes",
        "description": "What was found and built, in the form of a design file: only what was looked at is written. It lies over a design, which is left as it is. Under job it says the day (date), who took the notes (by) and the stage that the work had reached (stage).",
        "$ref": "design.schema.json",
    })
}

/// The JSON Schema of a shop file, as it is written into the folder of schemas.
#[must_use]
pub fn shop_schema_text() -> Value {
    schema_of::<ShopFile>("Undercroft shop file")
}

/// The schema of a design file, ready for use. It is there unless the types describe no sound schema, which the
/// tests rule out.
fn design_schema() -> Option<&'static CompiledSchema> {
    static SCHEMA: OnceLock<Option<CompiledSchema>> = OnceLock::new();
    SCHEMA.get_or_init(|| CompiledSchema::new(design_schema_text().clone()).ok()).as_ref()
}

/// The schema of a shop file, ready for use.
fn shop_schema() -> Option<&'static CompiledSchema> {
    static SCHEMA: OnceLock<Option<CompiledSchema>> = OnceLock::new();
    SCHEMA.get_or_init(|| CompiledSchema::new(shop_schema_text()).ok()).as_ref()
}
