//! Variances: permitted departures that are on file, and whether each still holds.
//!
//! A variance holds for one requirement and one thing, from one day to another, against one meaning of the
//! requirement, and for the values that it excuses. As soon as any of these is another, the finding is back, and
//! what changed is told.

use std::collections::BTreeMap;

use crate::base::near::nearest;
use crate::base::number::{Number, Quantity, Style, show};
use crate::base::text::{Sources, Span};
use crate::base::time::Date;
use crate::base::value::{Answer, Value};
use crate::base::vocabulary::{Answers, FactType, Thing};
use crate::design::Design;
use crate::design::model::job::{Job, Person};
use crate::design::model::papers::Variance;
use crate::facts::catalogue::vocabulary;
use crate::judge::trace::{Trace, replay};
use crate::judge::verdict::{About, Role, Verdict};
use crate::rulebook::checked::{Stage, Stops};
use crate::yaml::entry::{Entry, State};
use crate::yaml::name::Text;

use super::finding::{Clause, Excused, Finding, Subject};
use super::gather::{Used, put_clauses_in_order};

/// Fewer characters of a fingerprint than this do not tell one meaning from another.
const LEAST_OF_A_FINGERPRINT: usize = 12;

/// A value that was excused and is no longer what it was.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Change {
    /// Which value.
    pub what: String,
    /// What it was when the variance was granted; nothing when the variance does not name it.
    pub was: Option<String>,
    /// What it is.
    pub is: String,
}

/// Why a variance excuses nothing.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Unused {
    /// No book that is used has the requirement.
    NoRequirement {
        /// The one that may be meant.
        nearest: Option<String>,
    },
    /// The requirement is not asked of a thing of this name.
    NoThing {
        /// The one that may be meant.
        nearest: Option<String>,
    },
    /// The requirement is not unmet there: this is what it comes to.
    Comes(Verdict),
}

/// How a variance stands on the day of the review.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Holds {
    /// It excuses an unmet requirement.
    Live,
    /// Work waits for the requirement, and nobody can excuse it.
    Refused(Stops),
    /// It does not say all that a variance has to say: these keys are missing.
    Incomplete(Vec<&'static str>),
    /// It is reviewed for no day, or for one before it was granted.
    NotYet,
    /// Its last day is over.
    Lapsed,
    /// It excuses nothing.
    Unused(Unused),
    /// What it excuses is no longer what it was.
    Outgrown {
        /// The values that changed.
        values: Vec<Change>,
        /// The fingerprint of the requirement as it is now, when that is not the one written in the variance.
        requirement: Option<String>,
    },
}

/// A variance as it stands.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct OnFile {
    /// What it is known by, in this review and the next.
    pub identity: String,
    /// Its name in the file.
    pub name: String,
    /// Where it stands.
    pub at: Span,
    /// The requirement, as book and rule.
    pub requirement: String,
    /// The thing; empty for the job as a whole.
    pub thing: String,
    /// The number of the document.
    pub document: String,
    /// Why it was granted.
    pub reason: String,
    /// Who granted it.
    pub granted_by: String,
    /// The day it was granted.
    pub on: Option<String>,
    /// Its last day; nothing when it has none.
    pub until: Option<String>,
    /// Whether it was granted by whoever drew up the design or does the work.
    pub self_granted: bool,
    /// What was asked in return.
    pub conditions: Vec<String>,
    /// How it stands.
    pub holds: Holds,
    /// The identity of the finding that it speaks of, if there is one.
    pub finding: Option<String>,
}

/// Holds the variances of a design against the findings: an unmet clause that a live one excuses is marked, and every
/// variance is given back with how it stands. The values that decided an unmet clause are kept with it.
pub fn variances(
    design: &Design,
    findings: &mut [Finding],
    used: &[Used<'_>],
    at_stage: (Stage, Option<&str>),
    sources: &Sources,
    answers: &mut dyn Answers,
) -> Vec<OnFile> {
    let (stage, on) = at_stage;
    let day = on.and_then(|on| Date::parse(on).ok());
    for clause in findings.iter_mut().flat_map(|finding| &mut finding.clauses) {
        if clause.verdict == Verdict::Unmet {
            let rule = used.get(clause.book).and_then(|used| used.book.rules.get(clause.rule));
            let fresh = match (&clause.trace, rule) {
                (None, Some(rule)) => Some(replay(rule, clause.about, stage, answers)),
                _ => None,
            };
            let Some(trace) = clause.trace.as_deref().or(fresh.as_ref()) else { continue };
            clause.excusable = excusable(trace, clause.about, sources, answers);
        }
    }
    let mut list = Vec::new();
    let items = design.variances.known().map(|named| named.items.as_slice()).unwrap_or_default();
    for item in items {
        let Some(variance) = item.state.known() else { continue };
        let mut on_file = described(&item.name, item.name_at, variance, &design.job);
        let at = list.len();
        on_file.holds = holds(variance, &mut on_file, findings, used, day);
        if on_file.holds == Holds::Live {
            mark(&on_file, at, findings, used);
        }
        list.push(on_file);
    }
    findings.iter_mut().for_each(put_clauses_in_order);
    list
}

fn text(entry: &Entry<Text>) -> String {
    match &entry.state {
        State::Known(text) => text.0.clone(),
        _ => String::new(),
    }
}

fn described(name: &str, at: Span, variance: &Variance, job: &Job) -> OnFile {
    let granted_by = variance.granted_by.known();
    OnFile {
        identity: format!("variance {name}"),
        name: name.to_owned(),
        at,
        requirement: text(&variance.rule),
        thing: text(&variance.thing),
        document: text(&variance.document),
        reason: text(&variance.reason),
        granted_by: granted_by.map(|person| text(&person.name)).unwrap_or_default(),
        on: variance.on.known().map(ToString::to_string),
        until: variance.until.known().map(ToString::to_string),
        self_granted: granted_by.is_some_and(|person| is_of_the_job(person, job)),
        conditions: variance.conditions.members().map(|one| one.0.clone()).collect(),
        holds: Holds::Live,
        finding: None,
    }
}

/// Whether a person is the one who drew up the design, or whoever does the work.
fn is_of_the_job(person: &Person, job: &Job) -> bool {
    let names = |person: &Person| [text(&person.name), text(&person.company)];
    let mut own = vec![text(&job.by)];
    own.extend(job.contractor.known().map(names).into_iter().flatten());
    let same = |a: &String, b: &String| !a.is_empty() && a.to_lowercase() == b.to_lowercase();
    names(person).iter().any(|name| own.iter().any(|other| same(name, other)))
}

/// How a variance stands; the finding it speaks of is noted in it.
fn holds(
    variance: &Variance,
    on_file: &mut OnFile,
    findings: &[Finding],
    used: &[Used<'_>],
    day: Option<Date>,
) -> Holds {
    let named = |(book, rule): (&str, &str)| format!("{book}/{rule}") == on_file.requirement;
    let all = || used.iter().flat_map(|used| used.book.rules.iter().map(move |rule| (used.book, rule)));
    let rule = all().find(|(book, rule)| named((&book.name, &rule.name))).map(|(_, rule)| rule);
    if let Some(stops) = rule.and_then(|rule| rule.stops) {
        return Holds::Refused(stops);
    }
    let lacking = lacking(variance);
    if !lacking.is_empty() {
        return Holds::Incomplete(lacking);
    }
    if day.is_none() || variance.on.known().copied() > day {
        return Holds::NotYet;
    }
    if variance.until.known().is_some_and(|until| Some(*until) < day) {
        return Holds::Lapsed;
    }
    let Some(rule) = rule else {
        let names: Vec<String> = all().map(|(book, rule)| format!("{}/{}", book.name, rule.name)).collect();
        let nearest = nearest(&on_file.requirement, names.iter().map(String::as_str));
        return Holds::Unused(Unused::NoRequirement { nearest });
    };
    let of_rule: Vec<(&Finding, &Clause)> = clauses(findings, used, &on_file.requirement).collect();
    let Some((finding, clause)) = of_rule.iter().find(|(finding, _)| name_of(finding) == on_file.thing)
    else {
        let names: Vec<&str> = of_rule.iter().map(|(finding, _)| name_of(finding)).collect();
        let nearest = match names.as_slice() {
            [only] => Some((*only).to_owned()),
            several => nearest(&on_file.thing, several.iter().copied()),
        };
        return Holds::Unused(Unused::NoThing { nearest: nearest.filter(|name| !name.is_empty()) });
    };
    on_file.finding = Some(finding.identity.clone());
    if clause.verdict != Verdict::Unmet {
        return Holds::Unused(Unused::Comes(clause.verdict));
    }
    let values = changes(variance, &clause.excusable);
    let written = text(&variance.written_against);
    let fingerprint = rule.fingerprint(vocabulary());
    let same = written.len() >= LEAST_OF_A_FINGERPRINT && fingerprint.starts_with(&written);
    if values.is_empty() && same {
        return Holds::Live;
    }
    Holds::Outgrown { values, requirement: (!same).then_some(fingerprint) }
}

/// The keys that a variance has to state and does not.
fn lacking(variance: &Variance) -> Vec<&'static str> {
    let known = [
        (variance.rule.key, variance.rule.known().is_some()),
        (variance.thing.key, variance.thing.known().is_some() || variance.thing.is_none()),
        (variance.excuses.key, variance.excuses.known().is_some()),
        (variance.written_against.key, variance.written_against.known().is_some()),
        (variance.reason.key, variance.reason.known().is_some()),
        (variance.document.key, variance.document.known().is_some()),
        (variance.granted_by.key, variance.granted_by.known().is_some()),
        (variance.on.key, variance.on.known().is_some()),
        (variance.until.key, variance.until.known().is_some() || variance.until.is_none()),
    ];
    known.into_iter().filter(|(_, known)| !known).map(|(key, _)| key).collect()
}

/// The clauses of one requirement with their findings.
fn clauses<'f>(
    findings: &'f [Finding],
    used: &'f [Used<'_>],
    requirement: &'f str,
) -> impl Iterator<Item = (&'f Finding, &'f Clause)> {
    findings
        .iter()
        .flat_map(|finding| finding.clauses.iter().map(move |clause| (finding, clause)))
        .filter(move |(_, clause)| requirement_of(clause, used).as_deref() == Some(requirement))
}

/// Book and rule of a clause, as a variance names them.
#[must_use]
pub fn requirement_of(clause: &Clause, used: &[Used<'_>]) -> Option<String> {
    let book = used.get(clause.book)?.book;
    Some(format!("{}/{}", book.name, book.rules.get(clause.rule)?.name))
}

/// The name of the thing of a finding, as a variance names it; empty for the whole.
#[must_use]
pub fn name_of(finding: &Finding) -> &str {
    match &finding.of {
        Subject::Thing { name, .. } => name,
        Subject::Whole | Subject::List { .. } => "",
    }
}

/// Marks the clause that a live variance excuses.
fn mark(on_file: &OnFile, at: usize, findings: &mut [Finding], used: &[Used<'_>]) {
    let its = |finding: &&mut Finding| Some(&finding.identity) == on_file.finding.as_ref();
    for clause in findings.iter_mut().filter(its).flat_map(|finding| &mut finding.clauses) {
        if requirement_of(clause, used).as_ref() == Some(&on_file.requirement) {
            clause.variance = clause.variance.or(Some(at));
        }
    }
}

/// The values that decided an unmet requirement, by what a variance calls them.
fn excusable(trace: &Trace, about: About, sources: &Sources, answers: &dyn Answers) -> Vec<Excused> {
    let about = match about {
        About::Thing(thing) => Some(thing),
        About::Whole | About::List => None,
    };
    let mut found: BTreeMap<String, Excused> = BTreeMap::new();
    for one in trace.decisive.iter().filter(|one| one.role == Role::Requires) {
        let Some(shape) = answers.vocabulary().fact(one.fact) else { continue };
        let Answer::Known { value, .. } = &one.value else { continue };
        let kind = answers.vocabulary().kind(one.thing.kind).map_or("", |kind| kind.name.as_str());
        let owner = answers.name_of(one.thing);
        let mut name =
            if about == Some(one.thing) { shape.name.clone() } else { format!("{} of {owner}", shape.name) };
        if found.contains_key(&name) {
            name = format!("{} of {kind} {owner}", shape.name);
        }
        let written = match one.origin.stated.as_slice() {
            [only] => sources.slice(only.at).trim_matches(['"', '\'', ' ']),
            _ => "",
        };
        let (words, number) = match (value, shape.of_type) {
            (Value::Number(number), FactType::Number(dimension)) => {
                let exact = |text: &str| {
                    Quantity::of_kind(text, dimension).is_some_and(|quantity| quantity.number == *number)
                };
                let words = if exact(written) {
                    written.to_owned()
                } else {
                    show(number, dimension, &Style::default_for(dimension))
                };
                (words, Some((number.clone(), dimension)))
            }
            (value, of_type) => (in_words(value, of_type, answers), None),
        };
        let declared = shape.formula.is_empty();
        found.insert(name.clone(), Excused { name, words, number, declared });
    }
    found.into_values().collect()
}

fn in_words(value: &Value, of_type: FactType, answers: &dyn Answers) -> String {
    let name = |thing: &Thing| answers.name_of(*thing);
    match (value, of_type) {
        (Value::Truth(truth), _) => if *truth { "yes" } else { "no" }.to_owned(),
        (Value::Word(word), FactType::Word(list)) => {
            let list = answers.vocabulary().word_list(list);
            list.and_then(|list| list.words.get(usize::from(word.0)))
                .map(|(word, _)| word.clone())
                .unwrap_or_default()
        }
        (Value::Thing(thing), _) => name(thing),
        (Value::Things(things), _) => {
            let mut names: Vec<String> = things.items.iter().map(name).collect();
            names.sort();
            if names.is_empty() { "none".to_owned() } else { names.join(", ") }
        }
        (Value::Text(text), _) => text.clone(),
        (Value::Number(_) | Value::Word(_), _) => String::new(),
    }
}

/// What of the excused values is no longer as it was.
fn changes(variance: &Variance, now: &[Excused]) -> Vec<Change> {
    let mut changes = Vec::new();
    for excused in now {
        let item = variance.excuses.known().and_then(|list| list.item(&excused.name));
        let was = item.map(|item| match &item.state {
            State::Known(text) => text.0.clone(),
            State::None => "none".to_owned(),
            State::Unknown => "unknown".to_owned(),
            State::Missing | State::Unreadable => String::new(),
        });
        if !was.as_ref().is_some_and(|was| excused.is(was)) {
            changes.push(Change { what: excused.name.clone(), was, is: excused.words.clone() });
        }
    }
    changes
}

impl Excused {
    /// Whether the words of a variance say this value: what is stated to the last digit, what is computed to the
    /// digits that are printed.
    #[must_use]
    pub fn is(&self, was: &str) -> bool {
        let Some((number, dimension)) = &self.number else { return self.words == was.trim() };
        let shown = |number: &Number| show(number, *dimension, &Style::default_for(*dimension));
        let read = Quantity::of_kind(was, *dimension).map(|quantity| quantity.number);
        if let (true, Some(read)) = (number.is_point(), &read) {
            let can_be_written =
                Quantity::of_kind(&self.words, *dimension).is_some_and(|quantity| quantity.number == *number);
            return if self.declared && can_be_written {
                read == number
            } else {
                shown(read) == shown(number)
            };
        }
        shown(number) == was.trim()
    }
}
