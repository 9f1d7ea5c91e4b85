//! The walk round the house: everything that is to be looked at on site, once, in the order in which one comes there. Before
//! anything is built that takes in each number that was drawn and that a requirement is met by.

use std::collections::{BTreeMap, HashMap};

use super::{DESIGN, Explained, Input, Library, Review, review};
use crate::base::number::Dimension;
use crate::base::truth::Truth;
use crate::base::value::EntryPath;
use crate::design::designed::is_designed;
use crate::facts::Facts;
use crate::facts::walked::{Stand, stand, stand_of_entry, stand_of_kind};
use crate::findings::Finding;
use crate::findings::finding::{Clause, Comes, Subject};
use crate::findings::looked::{Eye, name_of_eye, name_of_finding, to_the_eye};
use crate::judge;
use crate::judge::trace::Trace;
use crate::judge::verdict::{About, Decisive, Role, Verdict};
use crate::rulebook::checked::{Stage, Stops};

/// A walk.
#[derive(Debug)]
pub struct Walk<'l> {
    /// The review at the stage of the job.
    pub now: Review<'l>,
    /// The same at the last stage, where all is due.
    pub ahead: Review<'l>,
    /// The places, in the order in which one comes there, each with what is to be looked at.
    pub stations: Vec<(Station, Vec<Row>)>,
}

/// A place on the walk.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Station {
    /// What has to be known before anybody drills comes first, wherever it is.
    BeforeDrilling,
    /// A place.
    At(Stand),
    /// What books leave to the eye, wherever it is.
    ToTheEye,
}

/// Something to look at.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Row {
    /// The name under which it is written down what was seen.
    pub name: String,
    /// What it is.
    pub of: Asked,
}

/// What is asked.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Asked {
    /// A requirement of a thing.
    Finding {
        /// Its place among the findings of now.
        now: usize,
        /// Its place among those of the last stage.
        ahead: Option<usize>,
    },
    /// A clause that books leave to the eye.
    Eye(Eye),
}

/// Whether a finding holds something that is not known or not yet due, or is not as it has to be, a variance or no.
#[must_use]
pub fn is_to_be_looked_at(finding: &Finding) -> bool {
    let open = |verdict| matches!(verdict, Verdict::Undetermined | Verdict::NotYetDue);
    is_amiss(finding) || finding.clauses.iter().any(|clause| open(clause.verdict))
}

/// Whether a finding is not as it has to be: it may have been mended since.
fn is_amiss(finding: &Finding) -> bool {
    matches!(finding.comes(), Comes::Unmet | Comes::Disputed | Comes::Varied)
}

/// Whether a finding is met by numbers that were drawn and can be measured once they are built.
#[must_use]
pub fn is_to_be_measured(now: &Review<'_>, finding: &Finding, ahead: Option<&Finding>) -> bool {
    let met = |one: &Finding| one.counts() && one.comes() == Comes::Met;
    if now.stage != Stage::Design || !met(finding) {
        return false;
    }
    let work = now.design.job.work.known().copied();
    let drawn = |one: &Decisive| {
        one.origin.stated.iter().filter(|stated| stated.at.source == DESIGN).any(|stated| {
            let steps: Vec<&str> = stated.entry.as_str().split('.').collect();
            is_designed(&steps, work)
        })
    };
    let measured = |trace: &Trace| {
        trace.compared.iter().any(|one| {
            let facts = [one.left.fact, one.right.fact];
            one.role == Role::Requires
                && one.dimension != Dimension::ONE
                && trace.decisive.iter().any(|by| facts.contains(&Some((by.fact, by.thing))) && drawn(by))
        })
    };
    let clauses = ahead.filter(|one| met(one)).into_iter().flat_map(|one| &one.clauses);
    clauses.filter_map(|clause| clause.trace.as_deref()).any(measured)
}

/// The walk of one design.
#[must_use]
pub fn walk<'l>(input: &Input<'_>, library: &'l Library) -> Walk<'l> {
    let now = review(&Input { explained: Explained::OnThePage, ..input.clone() }, library);
    let last = Input { stage: Some(Stage::Operating), explained: Explained::Everything, ..input.clone() };
    let ahead = review(&last, library);
    let design = now.design.clone();
    let mut ask = Facts::new(&design);
    let later: HashMap<&str, usize> =
        ahead.findings.iter().enumerate().map(|(at, one)| (one.identity.as_str(), at)).collect();
    let mut stations: BTreeMap<Station, Vec<Row>> = BTreeMap::new();
    let mut stood: HashMap<EntryPath, Stand> = HashMap::new();
    let mut rows: Vec<Asking> = Vec::new();
    for (at, finding) in now.findings.iter().enumerate() {
        let ahead_at = later.get(finding.identity.as_str()).copied();
        let more = ahead_at.and_then(|at| ahead.findings.get(at));
        if !is_to_be_looked_at(finding) && !is_to_be_measured(&now, finding, more) {
            continue;
        }
        let station = if finding.stops() == Some(Stops::Drilling) {
            Station::BeforeDrilling
        } else {
            Station::At(place(finding, more, &mut ask, &mut stood))
        };
        let undetermined = |clause: &Clause| clause.verdict == Verdict::Undetermined;
        let open = is_amiss(finding) || finding.clauses.iter().any(undetermined);
        let turn = (!open, !is_to_be_looked_at(finding));
        let row =
            Row { name: name_of_finding(&finding.identity), of: Asked::Finding { now: at, ahead: ahead_at } };
        rows.push(Asking { turn, at: (station, asked(finding)), row });
    }
    // What can be settled now comes before what comes due later and what was drawn; what is asked alike of several things
    // in one place comes together, where the first of it does.
    rows.sort_by_key(|row| row.turn);
    let mut groups: BTreeMap<(Station, WhatIsAsked), Vec<Row>> = BTreeMap::new();
    let mut order = Vec::new();
    for Asking { at, row, .. } in rows {
        let group = groups.entry(at.clone()).or_default();
        if group.is_empty() {
            order.push(at);
        }
        group.push(row);
    }
    for key in order {
        let group = groups.remove(&key).unwrap_or_default();
        stations.entry(key.0).or_default().extend(group);
    }
    for eye in to_the_eye(&now.used) {
        let covered = |(book, _): &&(usize, String)| {
            now.used.get(*book).is_some_and(|used| judge::covers(used.book, &mut ask) != Truth::False)
        };
        let clauses: Vec<(usize, String)> = eye.clauses.iter().filter(covered).cloned().collect();
        if !clauses.is_empty() {
            let row = Row { name: name_of_eye(&eye.look_for), of: Asked::Eye(Eye { clauses, ..eye }) };
            stations.entry(Station::ToTheEye).or_default().push(row);
        }
    }
    let stations = stations.into_iter().collect();
    Walk { now, ahead, stations }
}

/// A row before it is brought together with what is asked alike at its station.
struct Asking {
    /// Whether it comes after what can be settled now, and after what was drawn.
    turn: (bool, bool),
    at: (Station, WhatIsAsked),
    row: Row,
}

/// By which rules something is asked, each by its book and its place in it, and what it comes to now.
type WhatIsAsked = Vec<(usize, usize, Verdict)>;

fn asked(finding: &Finding) -> WhatIsAsked {
    let of = |clause: &Clause| (clause.book, clause.rule, clause.verdict);
    finding.clauses.iter().map(of).collect()
}

/// Where one stands to look at what a finding asks: at its thing, else at what it waits for, else at what decides it.
fn place(
    finding: &Finding,
    ahead: Option<&Finding>,
    ask: &mut Facts<'_>,
    stood: &mut HashMap<EntryPath, Stand>,
) -> Stand {
    let thing = finding.clauses.iter().find_map(|clause| match clause.about {
        About::Thing(thing) => Some(thing),
        About::Whole | About::List => None,
    });
    let own = match (&finding.of, thing) {
        (Subject::List { kind }, _) => stand_of_kind(ask, kind),
        (_, Some(thing)) => stand(ask, thing),
        (_, None) => Stand::Nowhere,
    };
    if own != Stand::Nowhere {
        return own;
    }
    let clauses = || finding.clauses.iter().chain(ahead.into_iter().flat_map(|one| &one.clauses));
    let missing = clauses().flat_map(|clause| &clause.missing).map(|missing| &missing.entry);
    let decisive = clauses().filter_map(|clause| clause.trace.as_deref()).flat_map(|trace| &trace.decisive);
    let stated = decisive.filter(|one| one.role == Role::Requires).flat_map(|one| &one.origin.stated);
    let mut read_off = Stand::Nowhere;
    for entry in missing.chain(stated.map(|stated| &stated.entry)) {
        let stand = stood.entry(entry.clone()).or_insert_with(|| stand_of_entry(ask, entry)).clone();
        match stand {
            Stand::Nowhere => {}
            // What can be looked at in the house is not read off a paper.
            Stand::Papers => read_off = stand,
            _ => return stand,
        }
    }
    read_off
}
