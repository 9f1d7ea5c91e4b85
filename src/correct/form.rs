//! The walk round the house as field notes to type into: a blank for everything that is to be measured, and a line for
//! every requirement that is to be looked at. As it is, it changes no verdict.

use std::collections::{BTreeMap, BTreeSet};

use crate::base::value::{EntryPath, Missing, Reason};
use crate::design::designed::is_designed;
use crate::design::keys::{Key, way};
use crate::findings::Finding;
use crate::judge::verdict::{Role, Verdict};
use crate::review::judged::{Judged, judged};
use crate::review::walk::{Asked, Row, Station, Walk};
use crate::review::{DESIGN, Input, Library};
use crate::yaml::path::{Path, Step};

/// What is written at a blank.
const BLANK: &str = "unknown";

/// The name by which the form is known while it is tried.
const TRIED: &str = "the form";

/// No value that is longer than this is shown to be written anew.
const LONGEST: usize = 60;

/// What is said in a form.
pub trait Wording {
    /// What the form is of and how it is filled in.
    fn head(&self) -> Vec<String>;
    /// How a key under `job` is filled in.
    fn of_job(&self, key: &str) -> &'static str;
    /// What to measure for an entry, asked for by the rows of these numbers.
    fn to_measure(&self, entry: &str, rows: &[usize]) -> String;
    /// What to do about an entry that says something already.
    fn as_designed(&self, entry: &str, rows: &[usize]) -> String;
    /// How a requirement that was looked at is filled in.
    fn to_tick(&self) -> &'static str;
    /// A place on the walk.
    fn station(&self, station: &Station) -> String;
    /// A row.
    fn row(&self, row: &Row) -> String;
}

/// A form.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Form {
    /// The field notes.
    pub text: String,
    /// The entries that have a blank.
    pub blanks: Vec<EntryPath>,
    /// The entries that stand in it behind a `#`, because they say something already or because a blank would change a verdict.
    pub shown: Vec<EntryPath>,
}

/// An entry that rows ask for.
#[derive(Clone, Debug)]
struct Wanted {
    path: Path,
    /// What the design says there.
    says: Option<String>,
    rows: Vec<usize>,
}

/// The walk as field notes. The rows are counted from one over the whole walk.
#[must_use]
pub fn form(walk: &Walk<'_>, input: &Input<'_>, library: &Library, words: &dyn Wording) -> Form {
    let wanted = wanted(walk);
    let before = judged(input, library);
    let stands =
        |live: &BTreeSet<EntryPath>| stands(&before, &text(walk, &wanted, live, words), input, library);
    let blank: Vec<EntryPath> =
        wanted.iter().filter(|(_, one)| one.says.is_none()).map(|(entry, _)| entry.clone()).collect();
    let mut live = BTreeSet::new();
    take(&mut live, &blank, &stands);
    let text = text(walk, &wanted, &live, words);
    let shown = wanted.into_keys().filter(|entry| !live.contains(entry)).collect();
    Form { text, blanks: live.into_iter().collect(), shown }
}

/// Takes in as many of these as can be blanks without changing a verdict.
fn take(live: &mut BTreeSet<EntryPath>, more: &[EntryPath], stands: &dyn Fn(&BTreeSet<EntryPath>) -> bool) {
    if more.is_empty() {
        return;
    }
    let with: BTreeSet<EntryPath> = live.iter().chain(more).cloned().collect();
    if stands(&with) {
        *live = with;
    } else if more.len() > 1 {
        let (first, second) = more.split_at(more.len() / 2);
        take(live, first, stands);
        take(live, second, stands);
    }
}

/// Whether every verdict stays what it was, and nothing in the form is wrong.
fn stands(before: &Judged, text: &str, input: &Input<'_>, library: &Library) -> bool {
    let mut with = input.clone();
    with.field_notes.push((TRIED, text.as_bytes()));
    let after = judged(&with, library);
    after.problems.len() == before.problems.len()
        && before.clauses.len() == after.clauses.len()
        && after
            .clauses
            .iter()
            .all(|(key, came)| before.clauses.get(key).is_some_and(|was| was.comes == came.comes))
}

/// The entries that the rows of a walk ask for.
fn wanted(walk: &Walk<'_>) -> BTreeMap<EntryPath, Wanted> {
    let mut all = BTreeMap::new();
    let rows = walk.stations.iter().flat_map(|(_, rows)| rows);
    for (row, number) in rows.zip(1..) {
        let Asked::Finding { now, ahead } = &row.of else { continue };
        let now = walk.now.findings.get(*now);
        let ahead = ahead.and_then(|at| walk.ahead.findings.get(at));
        for missing in now.into_iter().chain(ahead).flat_map(missing_of) {
            note(&mut all, &missing.entry, None, number);
        }
        for (entry, says) in ahead.map(|finding| as_designed(finding, walk)).unwrap_or_default() {
            note(&mut all, &entry, Some(says), number);
        }
    }
    // What lies in another entry that is asked for stands for it.
    let outer: Vec<EntryPath> = all
        .keys()
        .filter(|entry| {
            let inside = format!("{entry}.");
            all.keys().any(|other| other.as_str().starts_with(&inside))
        })
        .cloned()
        .collect();
    all.retain(|entry, _| !outer.contains(entry));
    all
}

fn note(all: &mut BTreeMap<EntryPath, Wanted>, entry: &EntryPath, says: Option<String>, row: usize) {
    let Ok(path) = Path::parse(entry.as_str()) else { return };
    let keys = path.steps.iter().all(|step| matches!(step, Step::Key(_)));
    if path.steps.len() < 2 || !keys || way(entry.as_str()).is_none() || entry.as_str().starts_with("job.") {
        return;
    }
    let own = all.entry(entry.clone()).or_insert_with(|| Wanted { path, says: None, rows: Vec::new() });
    own.says = own.says.take().or(says);
    if own.rows.last() != Some(&row) {
        own.rows.push(row);
    }
}

/// What keeps the clauses of a finding open and can be written down.
fn missing_of(finding: &Finding) -> impl Iterator<Item = &Missing> {
    let open = finding.clauses.iter().filter(|clause| clause.verdict == Verdict::Undetermined);
    open.flat_map(|clause| &clause.missing).filter(|missing| {
        matches!(missing.reason, Reason::NotStated | Reason::StatedUnknown | Reason::NotSaidComplete)
    })
}

/// What is to be built and decides a requirement that comes due, with what the design says of it.
fn as_designed(finding: &Finding, walk: &Walk<'_>) -> Vec<(EntryPath, String)> {
    let work = walk.now.design.job.work.known().copied();
    let mut found = Vec::new();
    let traces = finding.clauses.iter().filter_map(|clause| clause.trace.as_deref());
    let decisive = traces.flat_map(|trace| &trace.decisive).filter(|one| one.role == Role::Requires);
    for stated in decisive.flat_map(|one| &one.origin.stated).filter(|stated| stated.at.source == DESIGN) {
        let steps: Vec<&str> = stated.entry.as_str().split('.').collect();
        let says = walk.now.sources.slice(stated.at).trim();
        let plain = !says.is_empty() && says.len() <= LONGEST && !says.contains(['\n', '#']);
        if plain && is_designed(&steps, work) {
            found.push((stated.entry.clone(), says.to_owned()));
        }
    }
    found
}

/// A key of the form with what stands under it.
#[derive(Default)]
struct Branch<'w> {
    inside: Vec<(String, Branch<'w>)>,
    leaf: Option<(&'w EntryPath, &'w Wanted)>,
}

impl<'w> Branch<'w> {
    fn put(&mut self, steps: &'w [Step], leaf: (&'w EntryPath, &'w Wanted)) {
        let Some((Step::Key(key), rest)) = steps.split_first() else {
            self.leaf = Some(leaf);
            return;
        };
        let at = self.inside.iter().position(|(own, _)| own == key).unwrap_or_else(|| {
            self.inside.push((key.clone(), Branch::default()));
            self.inside.len() - 1
        });
        if let Some((_, branch)) = self.inside.get_mut(at) {
            branch.put(rest, leaf);
        }
    }

    /// Puts keys into the order in which one writes them; names stay as they are.
    fn sort(&mut self, key: Option<&'static Key>) {
        let order = key.map(Key::order).unwrap_or_default();
        let place = |name: &str| order.iter().position(|known| *known == name).unwrap_or(usize::MAX);
        self.inside.sort_by_key(|(name, _)| place(name));
        for (name, branch) in &mut self.inside {
            branch.sort(key.and_then(|key| key.step(name)));
        }
    }

    fn write(&self, depth: usize, live: &BTreeSet<EntryPath>, words: &dyn Wording, out: &mut String) {
        let pad = "  ".repeat(depth);
        for (name, branch) in &self.inside {
            let key = written(name);
            match branch.leaf {
                Some((entry, one)) if live.contains(entry) => {
                    let remark = words.to_measure(entry.as_str(), &one.rows);
                    out.push_str(&format!("{pad}{key}: {BLANK}   # {remark}\n"));
                }
                Some((entry, one)) => {
                    let says = one.says.as_deref().unwrap_or(BLANK);
                    let remark = match &one.says {
                        Some(_) => words.as_designed(entry.as_str(), &one.rows),
                        None => words.to_measure(entry.as_str(), &one.rows),
                    };
                    out.push_str(&format!("{pad}# {key}: {says}   # {remark}\n"));
                }
                None => {
                    out.push_str(&format!("{pad}{key}:\n"));
                    branch.write(depth + 1, live, words, out);
                }
            }
        }
    }
}

/// A key as it is written.
fn written(key: &str) -> String {
    let plain = key.starts_with(|c: char| c.is_alphabetic())
        && key.chars().all(|c| c.is_alphanumeric() || matches!(c, '_' | '-' | ' '));
    if plain { key.to_owned() } else { format!("'{}'", key.replace('\'', "''")) }
}

fn text(
    walk: &Walk<'_>,
    wanted: &BTreeMap<EntryPath, Wanted>,
    live: &BTreeSet<EntryPath>,
    words: &dyn Wording,
) -> String {
    let mut out = String::new();
    for line in words.head() {
        out.push_str(&format!("# {line}\n"));
    }
    out.push_str("undercroft: 1\njob:\n");
    for key in ["date", "by", "stage"] {
        out.push_str(&format!("  {key}: {BLANK}   # {}\n", words.of_job(key)));
    }
    let mut top = Branch::default();
    for (entry, one) in wanted {
        top.put(&one.path.steps, (entry, one));
    }
    top.sort(Some(Key::top()));
    top.write(0, live, words, &mut out);
    if walk.stations.is_empty() {
        return out;
    }
    out.push_str(&format!("checked:   # {}\n", words.to_tick()));
    let mut number = 0;
    for (station, rows) in &walk.stations {
        out.push_str(&format!("  # {}\n", words.station(station)));
        for row in rows {
            number += 1;
            out.push_str(&format!("  {}:   # {number}. {}\n", row.name, words.row(row)));
        }
    }
    out
}
