//! The walk round the house: everything that is to be looked at on site, once, in the order in which one comes there.

use std::collections::{BTreeMap, HashMap};

use super::{Explained, Input, Library, Review, review};
use crate::base::truth::Truth;
use crate::base::value::EntryPath;
use crate::facts::Facts;
use crate::facts::walked::{Stand, stand, stand_of_entry, stand_of_kind};
use crate::findings::Finding;
use crate::findings::finding::Subject;
use crate::findings::looked::{Eye, name_of_eye, name_of_finding, to_the_eye};
use crate::judge;
use crate::judge::verdict::{About, Verdict};
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

/// Whether a finding holds something that is not known or not yet due.
#[must_use]
pub fn is_to_be_looked_at(finding: &Finding) -> bool {
    let open = |verdict| matches!(verdict, Verdict::Undetermined | Verdict::NotYetDue);
    finding.clauses.iter().any(|clause| open(clause.verdict))
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
    let mut rows: Vec<(bool, Station, Row)> = Vec::new();
    for (at, finding) in now.findings.iter().enumerate().filter(|(_, one)| is_to_be_looked_at(one)) {
        let ahead_at = later.get(finding.identity.as_str()).copied();
        let station = if finding.stops() == Some(Stops::Drilling) {
            Station::BeforeDrilling
        } else {
            let more = ahead_at.and_then(|at| ahead.findings.get(at));
            Station::At(place(finding, more, &mut ask, &mut stood))
        };
        let open = finding.clauses.iter().any(|clause| clause.verdict == Verdict::Undetermined);
        let row =
            Row { name: name_of_finding(&finding.identity), of: Asked::Finding { now: at, ahead: ahead_at } };
        rows.push((open, station, row));
    }
    // What can be settled now comes before what comes due later.
    rows.sort_by_key(|(open, ..)| !open);
    for (_, station, row) in rows {
        stations.entry(station).or_default().push(row);
    }
    for eye in to_the_eye(&now.used) {
        let covered = |(book, _): &&(usize, String)| {
            now.used.get(*book).is_some_and(|used| judge::covers(used.book, &mut ask) != Truth::False)
        };
        let clauses: Vec<(usize, String)> = eye.clauses.iter().filter(covered).cloned().collect();
        if !clauses.is_empty() {
            let row = Row { name: name_of_eye(&eye.look_for), of: Asked::Eye(Eye { clauses, ..eye }) };
            stations.entry(Station::At(Stand::Nowhere)).or_default().push(row);
        }
    }
    let stations = stations.into_iter().collect();
    Walk { now, ahead, stations }
}

/// Where one stands to look at what a finding asks: at its thing, else at what it waits for.
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
    let clauses = finding.clauses.iter().chain(ahead.into_iter().flat_map(|one| &one.clauses));
    for missing in clauses.flat_map(|clause| &clause.missing) {
        let stand =
            stood.entry(missing.entry.clone()).or_insert_with(|| stand_of_entry(ask, &missing.entry)).clone();
        if stand != Stand::Nowhere {
            return stand;
        }
    }
    Stand::Nowhere
}
