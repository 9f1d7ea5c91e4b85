//! A review as a log of the open standard SARIF 2.1.0, which editors and other tools read: one run for each file, one
//! result for each clause and for each problem of a file. A result that a variance permits is suppressed by it.

mod uri;
mod wire;

use std::collections::BTreeMap;

use serde_json::{Value, json};

use crate::base::problem::{Problem, Weight};
use crate::base::text::Span;
use crate::base::value::Stated;
use crate::correct::{Corrections, Mend};
use crate::design::said::in_words;
use crate::findings::Exit;
use crate::findings::compare::account::Program;
use crate::findings::finding::{Clause, Comes, Finding};
use crate::judge::verdict::{Role, Verdict};
use crate::render::phrases;
use crate::render::tell::finding::{Background, citation, sentence_of, thing};
use crate::render::tell::numbers::Styles;
use crate::render::tell::spot;
use crate::render::tell::whole::IS_NOT;
use crate::render::terminal::Show;
use crate::render::terminal::sheet::{capital, sentence};
use crate::render::words;
use crate::review::{DESIGN, Review, SHOP, books};
use crate::rulebook::checked::CheckedRule;

use uri::uri;
pub use wire::Run;
use wire::{
    Artifact, ArtifactLocation, Automation, Change, Driver, Fix, Invocation, Location, Log, LogicalLocation,
    Message, Outcome, PhysicalLocation, Properties, Region, Replacement, Rule, Suppression, Tool,
};

/// Where the standard keeps its schema.
const SCHEMA: &str =
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

/// The whole log, as text with an end of line.
#[must_use]
pub fn log(runs: Vec<Run>) -> String {
    let log = Log { schema: SCHEMA, version: "2.1.0", runs };
    let mut text = super::json::to_text(&log);
    text.push('\n');
    text
}

/// One review as a run: what is not as asked, with its proven corrections, and what is not known; or everything.
#[must_use]
pub fn run(review: &Review<'_>, corrections: &Corrections<'_>, show: Show, program: &Program) -> Run {
    let styles = Styles::default();
    let background = Background {
        sources: &review.sources,
        styles: &styles,
        used: &review.used,
        vocabulary: books::vocabulary(),
        on_file: &review.variances,
        name_of: review,
    };
    let mut desk =
        Desk { review, corrections, background, show, rules: Vec::new(), numbers: BTreeMap::new() };
    let mut results: Vec<Outcome> =
        review.book_problems.iter().chain(&review.problems).map(|one| desk.problem(one)).collect();
    for finding in review.shown().iter() {
        results.extend(finding.clauses.iter().filter_map(|clause| desk.clause(finding, clause)));
    }
    Run {
        tool: Tool {
            driver: Driver { name: "Undercroft", version: program.version.clone(), rules: desk.rules },
        },
        automation_details: Automation { id: format!("review/{}", review.name()) },
        language: "en-US",
        column_kind: "unicodeCodePoints",
        invocations: vec![Invocation { execution_successful: review.exit() != Exit::CouldNotRead }],
        artifacts: artifacts(review),
        results,
        properties: properties(review),
    }
}

/// The files that were reviewed, each with the digest of its bytes.
fn artifacts(review: &Review<'_>) -> Vec<Artifact> {
    let digests = &review.digests;
    let shop = review.sources.get(SHOP).map(|shop| shop.name().to_owned());
    let shop = shop.zip(digests.shop.as_ref());
    let notes = digests.field_notes.iter().map(|(file, digest)| (file.clone(), digest));
    let all = std::iter::once((review.name().to_owned(), &digests.design)).chain(shop).chain(notes);
    all.map(|(name, digest)| Artifact {
        location: ArtifactLocation { uri: uri(&name), index: None },
        roles: vec!["analysisTarget"],
        source_language: "yaml",
        hashes: BTreeMap::from([("sha-256", digest.clone())]),
    })
    .collect()
}

/// What the standard has no word of its own for.
fn properties(review: &Review<'_>) -> Properties {
    let books: Vec<Value> = review
        .used
        .iter()
        .map(|used| {
            let book = used.book;
            json!({
                "name": book.name, "title": book.title, "edition": book.edition,
                "legalNature": book.legal_nature, "digest": book.digest(books::vocabulary()), "counts": used.standing.counts(),
            })
        })
        .collect();
    let mut kept = Properties::from([
        ("stage", json!(review.stage.word())),
        ("outcome", json!(super::json::exit_word(review.exit()))),
        ("rulebooks", Value::Array(books)),
        ("whatThisIsNot", json!(IS_NOT)),
    ]);
    if let Some(day) = &review.on {
        kept.insert("day", json!(day));
    }
    if review.narrowed.is_some() {
        kept.insert("partOnly", json!(true));
    }
    kept
}

struct Desk<'a> {
    review: &'a Review<'a>,
    corrections: &'a Corrections<'a>,
    background: Background<'a>,
    show: Show,
    rules: Vec<Rule>,
    numbers: BTreeMap<String, usize>,
}

impl<'a> Desk<'a> {
    /// The place of a rule among those that results name; it is written down when it is first named.
    fn numbered(&mut self, id: &str, rule: impl FnOnce() -> Rule) -> usize {
        if let Some(at) = self.numbers.get(id) {
            return *at;
        }
        let at = self.rules.len();
        self.rules.push(rule());
        self.numbers.insert(id.to_owned(), at);
        at
    }

    fn problem(&mut self, problem: &Problem) -> Outcome {
        let said = words::of(problem);
        let rule_id = format!("writing/{}", problem.kind.name().replace(' ', "-"));
        let text = |text: &str| Message { text: text.to_owned() };
        let rule_index = self.numbered(&rule_id, || Rule {
            id: rule_id.clone(),
            short_description: text(&sentence(&capital(problem.kind.name()))),
            full_description: text(&said.why),
            help: text(&said.why),
            properties: Properties::new(),
        });
        let also = problem.also.iter().filter_map(|(at, what)| self.location(*at, "", what)).collect();
        let parts = [said.what, said.why, said.todo];
        Outcome {
            kind: "fail",
            level: Some(if problem.kind.weight() == Weight::Doubt { "warning" } else { "error" }),
            message: Message { text: joined(&parts) },
            locations: self.location(problem.at, "", "").into_iter().collect(),
            related_locations: also,
            partial_fingerprints: BTreeMap::from([("problem/v1", format!("{rule_id} {}", problem.found))]),
            suppressions: Vec::new(),
            fixes: Vec::new(),
            properties: Properties::new(),
            rule_id,
            rule_index,
        }
    }

    fn clause(&mut self, finding: &Finding, clause: &Clause) -> Option<Outcome> {
        let kind = kind(clause);
        let open = matches!(clause.verdict, Verdict::Unmet | Verdict::Undetermined);
        if !open && self.show != Show::Everything {
            return None;
        }
        let rule = self.background.rule(clause)?;
        let book = self.background.used.get(clause.book)?.book;
        let rule_id = format!("{}/{}", book.name, rule.name);
        let source = citation(clause, clause.comes(), &self.background);
        let rule_index = self.numbered(&rule_id, || about(&rule_id, rule, source));
        let mut places = self.deciding(clause);
        let of = finding.entry.as_ref().map_or("", |entry| entry.as_str());
        if places.is_empty() {
            places.extend(finding.at.and_then(|at| self.location(at, of, "")));
        }
        let related_locations = places.split_off(places.len().min(1));
        Some(Outcome {
            level: (kind == "fail").then(|| level(clause)),
            kind,
            message: Message { text: self.said(finding, clause, rule) },
            locations: places,
            related_locations,
            partial_fingerprints: BTreeMap::from([("clause/v1", format!("{} {rule_id}", finding.identity))]),
            suppressions: self.suppression(clause).into_iter().collect(),
            fixes: if kind == "fail" && clause.variance.is_none() { self.fixes(finding) } else { Vec::new() },
            properties: Properties::from([
                ("finding", json!(finding.identity)),
                ("comesTo", json!(super::json::comes_word(clause.comes()))),
                ("obligation", json!(clause.obligation.word())),
                ("standing", json!(super::json::standing_word(clause.standing))),
                ("requirement", json!(rule.fingerprint(self.background.vocabulary))),
            ]),
            rule_id,
            rule_index,
        })
    }

    /// What was found, and what to do about it.
    fn said(&self, finding: &Finding, clause: &Clause, rule: &CheckedRule) -> String {
        let of = thing(finding, self.background.vocabulary);
        let title = if of.is_empty() { rule.title.clone() } else { format!("{} ({of})", rule.title) };
        let mut parts = vec![format!("{title}: {}.", phrases::comes(clause.comes()))];
        parts.push(sentence_of(clause, rule, &self.background));
        match clause.verdict {
            Verdict::Unmet if clause.variance.is_none() && !rule.corrections.is_empty() => {
                let ways: Vec<&str> = rule.corrections.iter().map(|one| one.title.as_str()).collect();
                parts.push(format!("To mend it: {}.", ways.join("; or ")));
            }
            Verdict::Undetermined => {
                let settles = |one| sentence(&spot::to_settle(one, self.background.sources));
                parts.extend(clause.missing.iter().map(settles));
            }
            _ => {}
        }
        joined(&parts)
    }

    /// The entries that decided, each once.
    fn deciding(&self, clause: &Clause) -> Vec<Location> {
        let decisive = clause.trace.iter().flat_map(|trace| &trace.decisive);
        let mut entries: Vec<&Stated> = Vec::new();
        for stated in decisive.filter(|one| one.role == Role::Requires).flat_map(|one| &one.origin.stated) {
            if !entries.iter().any(|known| known.at == stated.at) {
                entries.push(stated);
            }
        }
        let told = |stated: &&Stated| {
            self.location(stated.at, stated.entry.as_str(), &in_words(stated.entry.as_str()))
        };
        entries.iter().filter_map(told).collect()
    }

    /// The proven corrections of a finding.
    fn fixes(&self, finding: &Finding) -> Vec<Fix> {
        let of = |mend: &Mend| {
            let known = self.corrections.review.findings.get(mend.finding);
            known.is_some_and(|known| known.identity == finding.identity)
        };
        let offered = self.corrections.offered().filter(|(mend, ..)| of(mend));
        offered
            .filter_map(|(_, choice, proven)| {
                let replaced = proven.edits.as_slice().iter().map(|edit| {
                    let deleted_region = Region { snippet: None, ..self.region(edit.span)? };
                    Some(Replacement {
                        deleted_region,
                        inserted_content: Message { text: edit.text.clone() },
                    })
                });
                Some(Fix {
                    description: Message { text: sentence(&capital(&choice.title)) },
                    artifact_changes: vec![Change {
                        artifact_location: ArtifactLocation { uri: uri(self.review.name()), index: Some(0) },
                        replacements: replaced.collect::<Option<_>>()?,
                    }],
                })
            })
            .collect()
    }

    fn suppression(&self, clause: &Clause) -> Option<Suppression> {
        let variance = self.review.variances.get(clause.variance?)?;
        let until = variance.until.as_ref().map(|day| format!(" Until {day}.")).unwrap_or_default();
        let by = format!("Variance {} by {}: ", variance.document, variance.granted_by);
        Some(Suppression {
            kind: "inSource",
            status: "accepted",
            justification: format!("{by}{}{until}", sentence(variance.reason.trim())),
            location: self.location(variance.at, "", ""),
        })
    }

    /// A stretch of one of the files; nothing where it does not stand in a file of its own.
    fn location(&self, at: Span, entry: &str, says: &str) -> Option<Location> {
        let source = self.background.sources.get(at.source)?;
        let said = |text: &str| (!text.is_empty()).then(|| Message { text: text.to_owned() });
        Some(Location {
            physical_location: PhysicalLocation {
                artifact_location: ArtifactLocation {
                    uri: uri(source.name()),
                    index: (at.source == DESIGN).then_some(0),
                },
                region: self.region(at)?,
            },
            logical_locations: Some(entry)
                .filter(|entry| !entry.is_empty())
                .map(|entry| LogicalLocation { fully_qualified_name: entry.to_owned() })
                .into_iter()
                .collect(),
            message: said(says),
        })
    }

    fn region(&self, at: Span) -> Option<Region> {
        let source = self.background.sources.get(at.source)?;
        let (start, end) = (source.line_column(at.start), source.line_column(at.end));
        Some(Region {
            start_line: start.line,
            start_column: start.column,
            end_line: end.line,
            end_column: end.column,
            byte_offset: at.start,
            byte_length: at.len(),
            snippet: Some(Message { text: source.slice(at).to_owned() }),
        })
    }
}

fn about(id: &str, rule: &CheckedRule, source: String) -> Rule {
    let because = sentence(rule.because.trim());
    let reading = rule.interpretation.trim();
    let help = if reading.is_empty() { because.clone() } else { format!("{because} Read as: {reading}") };
    Rule {
        id: id.to_owned(),
        short_description: Message { text: sentence(&rule.title) },
        full_description: Message { text: because },
        help: Message { text: help },
        properties: Properties::from([
            ("source", json!(source)),
            ("basis", json!(rule.source.basis.word())),
            ("due", json!(rule.due.word())),
            ("cautions", json!(rule.cautions)),
        ]),
    }
}

/// What a clause comes to, in a word of the standard.
fn kind(clause: &Clause) -> &'static str {
    match clause.comes() {
        Comes::Unmet | Comes::NotFollowed | Comes::Varied => "fail",
        Comes::Disputed => "review",
        Comes::Open => "open",
        Comes::Met => "pass",
        Comes::NotApplicable => "notApplicable",
        Comes::NotYetDue => "informational",
    }
}

/// How a failure weighs: what does not bind, or is only advised, is a note.
fn level(clause: &Clause) -> &'static str {
    if clause.binds() { "error" } else { "note" }
}

/// Sentences one behind another, empty ones left out.
fn joined(parts: &[String]) -> String {
    let said: Vec<&str> = parts.iter().map(|part| part.trim()).filter(|part| !part.is_empty()).collect();
    said.join(" ")
}
