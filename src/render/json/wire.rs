//! The structures of the report, field by field as they are written.

use std::collections::BTreeMap;

use serde::Serialize;

/// The whole document.
#[derive(Clone, Debug, Serialize)]
pub struct Document {
    pub(super) form: &'static str,
    pub(super) version: u32,
    pub(super) program: Program,
    pub(super) reviews: Vec<Report>,
}

/// A program.
#[derive(Clone, Debug, Serialize)]
pub(in crate::render) struct Program {
    pub(super) name: &'static str,
    pub(super) version: String,
    pub(super) built_from: String,
}

/// One review.
#[derive(Clone, Debug, Serialize)]
pub struct Report {
    pub(super) file: String,
    pub(super) job: Job,
    pub(super) reviewed_at_stage: &'static str,
    pub(super) day: Option<String>,
    pub(super) outcome: &'static str,
    pub(super) digests: Digests,
    pub(super) notes: Vec<String>,
    pub(super) stated: Vec<Stated>,
    pub(super) books: Vec<Book>,
    pub(super) problems: Vec<Problem>,
    /// Which part of the review this is; left out when it is all of it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) part: Option<Part>,
    pub(super) findings: Vec<Finding>,
    pub(super) variances: Vec<Variance>,
    pub(super) departures: Vec<Departure>,
    /// Left out where nobody looked.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) looked: Vec<Looked>,
    pub(super) next: Vec<Next>,
}

/// The part of a review that was asked for.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Part {
    pub(super) about: Vec<String>,
    pub(super) places: Vec<String>,
    pub(super) books: Vec<String>,
    pub(super) due: Vec<&'static str>,
    pub(super) weights: Vec<&'static str>,
    pub(super) of_findings: usize,
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct Job {
    pub(super) title: Option<String>,
    pub(super) work: Option<String>,
    pub(super) stage: Option<String>,
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct Digests {
    pub(super) design: String,
    pub(super) shop: Option<String>,
    pub(super) field_notes: Vec<FileDigest>,
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct FileDigest {
    pub(super) file: String,
    pub(super) digest: String,
}

/// An entry of the design; on a line, which is no part of what it says.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Stated {
    pub(super) entry: String,
    pub(super) is: &'static str,
    pub(super) says: String,
    pub(super) means: String,
    pub(super) line: u32,
    pub(super) file: Option<String>,
}

/// A permitted departure, and how it stands.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Variance {
    pub(super) identity: String,
    pub(super) holds: &'static str,
    pub(super) requirement: String,
    pub(super) thing: String,
    pub(super) document: String,
    pub(super) reason: String,
    pub(super) granted_by: String,
    pub(super) self_granted: bool,
    pub(super) on: Option<String>,
    pub(super) until: Option<String>,
    pub(super) conditions: Vec<String>,
    pub(super) finding: Option<String>,
    pub(super) lacking: Vec<String>,
    pub(super) changed: Vec<Changed>,
    pub(super) requirement_now: Option<String>,
    pub(super) place: Option<Place>,
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct Changed {
    pub(super) what: String,
    pub(super) was: Option<String>,
    pub(super) is: String,
}

/// An entry of which design and field notes do not say the same.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Departure {
    pub(super) identity: String,
    pub(super) entry: String,
    pub(super) departs: &'static str,
    pub(super) said: Vec<Saying>,
    pub(super) asked_by: Vec<String>,
}

/// What was seen on site of a requirement.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Looked {
    pub(super) name: String,
    pub(super) finding: Option<String>,
    pub(super) look_for: Option<String>,
    pub(super) saw: &'static str,
    pub(super) note: Option<String>,
    pub(super) by: Option<String>,
    pub(super) on: Option<String>,
    pub(super) place: Option<Place>,
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct Saying {
    pub(super) designed: bool,
    pub(super) stands: &'static str,
    pub(super) words: String,
    pub(super) by: Option<String>,
    pub(super) on: Option<String>,
    pub(super) place: Option<Place>,
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct Book {
    pub(super) name: String,
    pub(super) title: String,
    pub(super) publisher: String,
    pub(super) edition: String,
    pub(super) standing: &'static str,
    pub(super) counts: bool,
    pub(super) legal_nature: String,
    pub(super) digest: String,
    pub(super) requirements: usize,
    pub(super) in_force: bool,
    pub(super) proven: bool,
    pub(super) covers_when: String,
    pub(super) rules: Vec<Rule>,
    pub(super) came: BTreeMap<&'static str, usize>,
    pub(super) met_on_trust: Vec<String>,
    pub(super) left_to_the_eye: Vec<Unchecked>,
    pub(super) not_held: Vec<Unchecked>,
}

/// A requirement as its book has it, whatever it came to.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Rule {
    pub(super) name: String,
    pub(super) title: String,
    pub(super) subject: String,
    pub(super) fingerprint: String,
    pub(super) obligation: String,
    pub(super) disputed: bool,
    pub(super) due: String,
    pub(super) stops: String,
    pub(super) document: String,
    pub(super) section: String,
    pub(super) basis: String,
    pub(super) limits: Vec<Limit>,
    pub(super) each: String,
    pub(super) applies: String,
    pub(super) requires: String,
    pub(super) interpretation: String,
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct Limit {
    pub(super) name: String,
    pub(super) words: String,
    pub(super) shown: String,
    pub(super) means: String,
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct Unchecked {
    pub(super) section: String,
    pub(super) what: String,
}

#[derive(Clone, Debug, Serialize)]
pub(in crate::render) struct Place {
    pub(super) file: String,
    pub(super) start: Point,
    pub(super) end: Point,
}

/// Line and column from one, the column in characters; the byte from nought.
#[derive(Clone, Debug, Serialize)]
pub(in crate::render) struct Point {
    pub(super) line: u32,
    pub(super) column: u32,
    pub(super) byte: u32,
}

#[derive(Clone, Debug, Serialize)]
pub(in crate::render) struct Problem {
    pub(super) kind: &'static str,
    pub(super) weight: &'static str,
    pub(super) place: Option<Place>,
    pub(super) found: String,
    pub(super) accepts: String,
    pub(super) nearest: Option<String>,
    pub(super) what: String,
    pub(super) why: String,
    pub(super) to_do: String,
    pub(super) also: Vec<Also>,
}

#[derive(Clone, Debug, Serialize)]
pub(in crate::render) struct Also {
    pub(super) place: Option<Place>,
    pub(super) what: String,
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct Finding {
    pub(super) identity: String,
    pub(super) subject: String,
    pub(super) title: String,
    pub(super) about: About,
    pub(super) verdict: &'static str,
    pub(super) comes_to: &'static str,
    pub(super) counts: bool,
    pub(super) stops: Option<&'static str>,
    pub(super) place: Option<Place>,
    pub(super) clauses: Vec<Clause>,
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct About {
    pub(super) scope: &'static str,
    pub(super) kind: Option<String>,
    pub(super) name: Option<String>,
    pub(super) entry: Option<String>,
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct Clause {
    pub(super) requirement: String,
    pub(super) fingerprint: String,
    pub(super) verdict: &'static str,
    pub(super) comes_to: &'static str,
    pub(super) obligation: &'static str,
    pub(super) disputed: bool,
    pub(super) standing: &'static str,
    pub(super) due: &'static str,
    pub(super) document: String,
    pub(super) section: String,
    pub(super) basis: &'static str,
    pub(super) because: String,
    pub(super) interpretation: String,
    pub(super) amended: Vec<Amended>,
    pub(super) said: Option<String>,
    pub(super) compared: Vec<Compared>,
    pub(super) decided_by: Vec<Decided>,
    pub(super) assumed: Vec<String>,
    pub(super) missing: Vec<Missing>,
    pub(super) variance: Option<String>,
    pub(super) corrections: Vec<String>,
    pub(super) cautions: Vec<String>,
}

/// What an amendment changed in a requirement, and whose decision it is.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Amended {
    pub(super) field: String,
    pub(super) was: Option<String>,
    pub(super) is: Option<String>,
    pub(super) place: Option<Place>,
    pub(super) by: String,
    pub(super) document: String,
    pub(super) on: String,
    pub(super) because: String,
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct Compared {
    pub(super) left: Side,
    pub(super) how: &'static str,
    pub(super) right: Side,
    pub(super) holds: Option<bool>,
}

/// One side of a comparison; its ends in SI base units.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Side {
    pub(super) fact: Option<String>,
    pub(super) of: Option<String>,
    pub(super) limit: Option<String>,
    pub(super) shown: String,
    pub(super) low: Option<f64>,
    pub(super) high: Option<f64>,
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct Decided {
    pub(super) fact: String,
    pub(super) of: Option<String>,
    pub(super) entries: Vec<Entry>,
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct Entry {
    pub(super) entry: String,
    pub(super) place: Option<Place>,
}

#[derive(Clone, Debug, Serialize)]
pub(in crate::render) struct Missing {
    pub(super) entry: String,
    pub(super) reason: &'static str,
    pub(super) detail: Option<String>,
    pub(super) place: Option<Place>,
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct Next {
    pub(super) entry: String,
    pub(super) write: Option<String>,
    pub(super) reason: &'static str,
    pub(super) place: Option<Place>,
    pub(super) asked_for_by: Vec<String>,
    pub(super) stops: Option<&'static str>,
}
