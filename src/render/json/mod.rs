//! A review as a report for machines. Its structures are its own: the inside of the program may change
//! without it, and what it says is checked against `schemas/review.schema.json`.

mod read;
mod record;
pub(super) mod wire;

use serde::Serialize;

use crate::base::number::Number;
use crate::base::problem::{Problem, Weight};
use crate::base::text::{Sources, Span};
use crate::base::value::{Missing, Reason};
use crate::findings::Exit;
use crate::findings::compare::account::{LimitSaid, Program, RuleSaid, Stated};
use crate::findings::departure::{Departs, Departure};
use crate::findings::finding::{Clause, Comes, Finding, Standing, Subject};
use crate::findings::looked::{Looked, LookedAt, Saw};
use crate::findings::variance::{Holds, OnFile};
use crate::judge::amount::Amount;
use crate::judge::message;
use crate::judge::trace::{Compared, Side, Trace};
use crate::judge::verdict::Verdict;
use crate::render::tell::finding::{Background, title};
use crate::render::tell::numbers::{Numbers, Styles};
use crate::render::words;
use crate::review::{Review, books, stated};
use crate::rulebook::checked::{CheckedRule, Stops};
use crate::yaml::entry::Stands;

pub use read::{NotAReview, account, accounts};
pub use record::{Recorded, Signed, record, recorded};
pub use wire::{Document, Report};

/// The version of the form of the report. It changes when a reader of the old one would go wrong.
pub const FORM: u32 = 1;

/// What a document of reviews says that it is.
const NAME_OF_FORM: &str = "undercroft review";

/// The whole document, as text with an end of line.
#[must_use]
pub fn document(reviews: Vec<Report>, program: &Program) -> String {
    let mut text = to_text(&whole(reviews, program));
    text.push('\n');
    text
}

fn whole(reviews: Vec<Report>, program: &Program) -> Document {
    Document { form: NAME_OF_FORM, version: FORM, program: self::program(program), reviews }
}

pub(super) fn program(program: &Program) -> wire::Program {
    wire::Program {
        name: env!("CARGO_PKG_NAME"),
        version: program.version.clone(),
        built_from: program.built_from.clone(),
    }
}

/// Structures of words, lists and numbers always have a text.
pub(super) fn to_text<T: Serialize>(value: &T) -> String {
    serde_json::to_string_pretty(value).unwrap_or_default()
}

/// One review as a report.
#[must_use]
pub fn report(review: &Review<'_>) -> Report {
    let styles = Styles::default();
    let background = Background {
        sources: &review.sources,
        styles: &styles,
        used: &review.used,
        vocabulary: books::vocabulary(),
        on_file: &review.variances,
        name_of: review,
    };
    let places = Places { sources: &review.sources };
    Report {
        file: review.name().to_owned(),
        job: wire::Job {
            title: review.job.title.clone(),
            work: review.job.work.clone(),
            stage: review.job.stage.clone(),
        },
        reviewed_at_stage: review.stage.word(),
        day: review.on.clone(),
        outcome: exit_word(review.exit()),
        digests: wire::Digests {
            design: format!("sha256:{}", review.digests.design),
            shop: review.digests.shop.as_ref().map(|shop| format!("sha256:{shop}")),
            field_notes: review
                .digests
                .field_notes
                .iter()
                .map(|(file, digest)| wire::FileDigest {
                    file: file.clone(),
                    digest: format!("sha256:{digest}"),
                })
                .collect(),
        },
        notes: review.notes.clone(),
        stated: stated(review).into_iter().map(said).collect(),
        books: review
            .used
            .iter()
            .zip(&review.coverage)
            .map(|(used, coverage)| book(used, coverage))
            .collect(),
        problems: review
            .book_problems
            .iter()
            .chain(&review.problems)
            .map(|one| places.problem(one))
            .collect(),
        part: part(review),
        findings: review.shown().iter().map(|one| finding(one, &background, &places)).collect(),
        variances: review.variances.iter().map(|one| places.variance(one)).collect(),
        departures: review.departures.iter().map(|one| places.departure(one)).collect(),
        looked: review.looked.iter().map(|one| places.looked(one)).collect(),
        next: review
            .wanted_here()
            .map(|wanted| wire::Next {
                entry: wanted.missing.entry.to_string(),
                write: wanted.write(),
                reason: reason_word(&wanted.missing.reason),
                place: wanted.missing.at.and_then(|at| places.place(at)),
                asked_for_by: wanted.asked_for_by.clone(),
                stops: wanted.stops.map(Stops::word),
            })
            .collect(),
    }
}

/// Which part of the review is told, if not all.
fn part(review: &Review<'_>) -> Option<wire::Part> {
    let narrowed = review.narrowed.as_ref()?;
    let asked = &narrowed.asked;
    Some(wire::Part {
        about: asked.about.clone(),
        places: asked.places.clone(),
        books: asked.books.clone(),
        due: asked.due.iter().map(|stage| stage.word()).collect(),
        weights: asked.weights.iter().map(|weight| weight.word()).collect(),
        of_findings: review.findings.len(),
    })
}

pub(super) fn exit_word(exit: Exit) -> &'static str {
    match exit {
        Exit::CouldNotRead => "could not read",
        Exit::Unmet => "unmet",
        Exit::Undetermined { .. } => "undetermined",
        Exit::NothingJudged => "nothing judged",
        Exit::NotInForce => "not in force",
        Exit::NotProven => "not proven",
        Exit::Met => "met",
    }
}

fn verdict_word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Met => "met",
        Verdict::Unmet => "unmet",
        Verdict::Undetermined => "undetermined",
        Verdict::NotApplicable => "not applicable",
        Verdict::NotYetDue => "not yet due",
        Verdict::Varied => "variance on file",
    }
}

pub(super) fn comes_word(comes: Comes) -> &'static str {
    match comes {
        Comes::Unmet => "unmet",
        Comes::Disputed => "disputed",
        Comes::Open => "undetermined",
        Comes::NotFollowed => "advice not followed",
        Comes::Met => "met",
        Comes::NotApplicable => "not applicable",
        Comes::NotYetDue => "not yet due",
        Comes::Varied => "variance on file",
    }
}

pub(super) fn standing_word(standing: Standing) -> &'static str {
    match standing {
        Standing::Always => "always",
        Standing::Adopted => "adopted",
        Standing::ByContract => "by contract",
        Standing::Withheld => "decides nothing",
        Standing::ForInformation => "for information",
    }
}

fn reason_word(reason: &Reason) -> &'static str {
    match reason {
        Reason::NotStated => "not stated",
        Reason::StatedUnknown => "stated unknown",
        Reason::Unreadable => "unreadable",
        Reason::CutOff => "cut off",
        Reason::NotSaidComplete => "not said complete",
        Reason::LookedOnly(_) => "looked only so far",
        Reason::Imprecise => "imprecise",
        Reason::TakenForGranted => "taken for granted",
        Reason::Reckoned => "only reckoned",
        Reason::Contradiction => "contradiction",
        Reason::Circular => "circular",
        Reason::NotComputable(_) => "not computable",
    }
}

fn weight_word(weight: Weight) -> &'static str {
    match weight {
        Weight::Doubt => "doubt",
        Weight::Entry => "entry",
        Weight::Whole => "whole",
    }
}

fn holds_word(holds: &Holds) -> &'static str {
    match holds {
        Holds::Live => "live",
        Holds::Refused(_) => "not possible",
        Holds::Incomplete(_) => "incomplete",
        Holds::NotYet => "not in force",
        Holds::Lapsed => "lapsed",
        Holds::Unused(_) => "unused",
        Holds::Outgrown { .. } => "outgrown",
    }
}

fn departs_word(departs: Departs) -> &'static str {
    match departs {
        Departs::Otherwise => "otherwise",
        Departs::NotThere => "not there",
        Departs::NotDesigned => "not designed",
        Departs::NotTold => "not told",
        Departs::SaidAnew => "said anew",
    }
}

fn stands_word(stands: Stands) -> &'static str {
    match stands {
        Stands::Missing => "missing",
        Stands::Unknown => "unknown",
        Stands::Unreadable => "unreadable",
        Stands::None => "none",
        Stands::Known => "known",
    }
}

pub(super) struct Places<'a> {
    pub(super) sources: &'a Sources,
}

impl Places<'_> {
    pub(super) fn place(&self, at: Span) -> Option<wire::Place> {
        let source = self.sources.get(at.source)?;
        let point = |byte: u32| {
            let position = source.line_column(byte);
            wire::Point { line: position.line, column: position.column, byte }
        };
        Some(wire::Place { file: source.name().to_owned(), start: point(at.start), end: point(at.end) })
    }

    pub(super) fn problem(&self, problem: &Problem) -> wire::Problem {
        let said = words::of(problem);
        wire::Problem {
            kind: problem.kind.name(),
            weight: weight_word(problem.kind.weight()),
            place: self.place(problem.at),
            found: problem.found.clone(),
            accepts: problem.accepts.clone(),
            nearest: problem.nearest.clone(),
            what: said.what,
            why: said.why,
            to_do: said.todo,
            also: problem
                .also
                .iter()
                .map(|(at, what)| wire::Also { place: self.place(*at), what: what.clone() })
                .collect(),
        }
    }

    fn variance(&self, one: &OnFile) -> wire::Variance {
        let (values, requirement_now) = match &one.holds {
            Holds::Outgrown { values, requirement } => (values.as_slice(), requirement.clone()),
            _ => (&[][..], None),
        };
        let lacking = match &one.holds {
            Holds::Incomplete(keys) => keys.as_slice(),
            _ => &[],
        };
        wire::Variance {
            identity: one.identity.clone(),
            holds: holds_word(&one.holds),
            requirement: one.requirement.clone(),
            thing: one.thing.clone(),
            document: one.document.clone(),
            reason: one.reason.clone(),
            granted_by: one.granted_by.clone(),
            self_granted: one.self_granted,
            on: one.on.clone(),
            until: one.until.clone(),
            conditions: one.conditions.clone(),
            finding: one.finding.clone(),
            lacking: lacking.iter().map(|key| (*key).to_owned()).collect(),
            changed: values
                .iter()
                .map(|change| wire::Changed {
                    what: change.what.clone(),
                    was: change.was.clone(),
                    is: change.is.clone(),
                })
                .collect(),
            requirement_now,
            place: self.place(one.at),
        }
    }

    fn departure(&self, one: &Departure) -> wire::Departure {
        wire::Departure {
            identity: one.identity.clone(),
            entry: one.entry.to_string(),
            departs: departs_word(one.departs()),
            said: one
                .said
                .iter()
                .map(|said| wire::Saying {
                    designed: said.designed,
                    stands: stands_word(said.stands),
                    words: said.words.clone(),
                    by: said.by.clone(),
                    on: said.on.clone(),
                    place: self.place(said.at),
                })
                .collect(),
            asked_by: one.asked_by.clone(),
        }
    }

    fn looked(&self, one: &Looked) -> wire::Looked {
        let (finding, look_for) = match &one.of {
            LookedAt::Finding(identity) => (Some(identity.clone()), None),
            LookedAt::Eye(look_for) => (None, Some(look_for.clone())),
            LookedAt::NotAsked => (None, None),
        };
        wire::Looked {
            name: one.name.clone(),
            finding,
            look_for,
            saw: match one.saw {
                Saw::AsItShouldBe => "as it should be",
                Saw::Otherwise => "not as it should be",
                Saw::CouldNotSee => "could not be seen",
            },
            note: one.note.clone(),
            by: one.by.clone(),
            on: one.on.clone(),
            place: self.place(one.at),
        }
    }

    pub(super) fn missing(&self, missing: &Missing) -> wire::Missing {
        wire::Missing {
            entry: missing.entry.to_string(),
            reason: reason_word(&missing.reason),
            detail: match &missing.reason {
                Reason::NotComputable(why) | Reason::LookedOnly(why) => Some(why.clone()),
                _ => None,
            },
            place: missing.at.and_then(|at| self.place(at)),
        }
    }
}

fn book(used: &crate::findings::Used<'_>, coverage: &crate::findings::Coverage) -> wire::Book {
    let book = used.book;
    let clauses = |list: &[(String, String)]| -> Vec<wire::Unchecked> {
        list.iter()
            .map(|(section, what)| wire::Unchecked { section: section.clone(), what: what.clone() })
            .collect()
    };
    wire::Book {
        name: book.name.clone(),
        title: book.title.clone(),
        publisher: book.publisher.clone(),
        edition: book.edition.clone(),
        standing: standing_word(used.standing),
        counts: used.standing.counts(),
        legal_nature: book.legal_nature.clone(),
        digest: book.digest(books::vocabulary()),
        requirements: coverage.requirements,
        in_force: used.in_force,
        proven: used.proven,
        covers_when: book.covers_when.as_ref().map_or_else(String::new, |covers| covers.text.clone()),
        rules: book.rules.iter().map(|one| rule(RuleSaid::of(one, book))).collect(),
        came: coverage.came.iter().map(|(comes, n)| (comes_word(*comes), *n)).collect(),
        met_on_trust: coverage.met_on_trust.clone(),
        left_to_the_eye: clauses(&book.left_to_the_eye),
        not_held: clauses(&book.not_held),
    }
}

fn rule(rule: RuleSaid) -> wire::Rule {
    let limit = |limit: LimitSaid| wire::Limit {
        name: limit.name,
        words: limit.words,
        shown: limit.shown,
        means: limit.means,
    };
    wire::Rule {
        name: rule.name,
        title: rule.title,
        subject: rule.subject,
        fingerprint: rule.fingerprint,
        obligation: rule.obligation,
        disputed: rule.disputed,
        due: rule.due,
        stops: rule.stops,
        document: rule.document,
        section: rule.section,
        basis: rule.basis,
        limits: rule.limits.into_iter().map(limit).collect(),
        each: rule.each,
        applies: rule.applies,
        requires: rule.requires,
        interpretation: rule.interpretation,
    }
}

/// What the name of a thing and a thing are called, beside a plain value.
const NAME: &str = "name";
const THING: &str = "thing";

fn said(one: Stated) -> wire::Stated {
    let is = match (one.is_thing, one.is_name) {
        (true, _) => THING,
        (false, true) => NAME,
        (false, false) => "value",
    };
    wire::Stated { entry: one.entry, is, says: one.says, means: one.means, line: one.line, file: one.file }
}

fn finding(finding: &Finding, background: &Background<'_>, places: &Places<'_>) -> wire::Finding {
    let (scope, kind, name) = match &finding.of {
        Subject::Whole => ("whole", None, None),
        Subject::Thing { kind, name } => ("thing", Some(kind.clone()), Some(name.clone())),
        Subject::List { kind } => ("list", Some(kind.clone()), None),
    };
    wire::Finding {
        identity: finding.identity.clone(),
        subject: finding.subject.clone(),
        title: title(finding, background),
        about: wire::About { scope, kind, name, entry: finding.entry.as_ref().map(ToString::to_string) },
        verdict: verdict_word(finding.verdict()),
        comes_to: comes_word(finding.comes()),
        counts: finding.counts(),
        stops: finding.stops().map(Stops::word),
        place: finding.at.and_then(|at| places.place(at)),
        clauses: finding.clauses.iter().filter_map(|one| clause(one, background, places)).collect(),
    }
}

fn clause(clause: &Clause, background: &Background<'_>, places: &Places<'_>) -> Option<wire::Clause> {
    let book = background.used.get(clause.book)?.book;
    let rule = background.rule(clause)?;
    let document = book.sources.iter().find(|source| source.name == rule.source.document);
    let said = match (&clause.trace, clause.verdict) {
        (Some(trace), Verdict::Unmet) => {
            Some(message::text(&trace.message, &mut Numbers::of(trace, background)))
        }
        _ => None,
    };
    Some(wire::Clause {
        requirement: format!("{}/{}", book.name, rule.name),
        fingerprint: rule.fingerprint(background.vocabulary),
        verdict: verdict_word(clause.shown()),
        comes_to: comes_word(clause.comes()),
        obligation: clause.obligation.word(),
        disputed: clause.disputed,
        standing: standing_word(clause.standing),
        due: rule.due.word(),
        document: document.map_or_else(|| rule.source.document.clone(), |source| source.title.clone()),
        section: rule.source.section.clone(),
        basis: clause.basis.word(),
        because: rule.because.trim().to_owned(),
        interpretation: rule.interpretation.clone(),
        amended: amended(rule, places),
        said,
        compared: clause.trace.as_ref().map(|trace| compared(trace, rule, background)).unwrap_or_default(),
        decided_by: clause
            .trace
            .as_ref()
            .map(|trace| decided_by(trace, background, places))
            .unwrap_or_default(),
        assumed: clause.trace.as_ref().map(|trace| trace.assumed.clone()).unwrap_or_default(),
        missing: clause.missing.iter().map(|one| places.missing(one)).collect(),
        variance: clause.variance.and_then(|at| background.on_file.get(at)).map(|one| one.identity.clone()),
        corrections: rule.corrections.iter().map(|one| one.title.clone()).collect(),
        cautions: rule.cautions.clone(),
    })
}

/// What amendments changed in a rule, the last one first for a field that was changed more than once.
fn amended(rule: &CheckedRule, places: &Places<'_>) -> Vec<wire::Amended> {
    let mut found = Vec::new();
    for (field, author) in rule.authors.amended() {
        let mut here = Some(author);
        while let Some(author) = here {
            here = author.replaced.as_deref();
            let Some(amendment) = &author.amendment else { continue };
            found.push(wire::Amended {
                field: field.to_owned(),
                was: here.map(|old| old.text.clone()).filter(|text| !text.is_empty()),
                is: Some(author.text.clone()).filter(|text| !text.is_empty()),
                place: places.place(author.at),
                by: amendment.decided.by.clone(),
                document: amendment.decided.document.clone(),
                on: amendment.decided.on.clone(),
                because: amendment.because.clone(),
            });
        }
    }
    found
}

fn compared(
    trace: &Trace,
    rule: &crate::rulebook::checked::CheckedRule,
    background: &Background<'_>,
) -> Vec<wire::Compared> {
    let numbers = Numbers::of(trace, background);
    let side = |one: &Compared, side: &Side, other: &Side| wire::Side {
        fact: side
            .fact
            .and_then(|(fact, _)| background.vocabulary.fact(fact))
            .map(|shape| shape.name.clone()),
        of: side.fact.map(|(_, thing)| background.name_of.name(thing)).filter(|name| !name.is_empty()),
        limit: side.limit.and_then(|id| rule.limit(id)).map(|limit| limit.name.clone()),
        shown: match side.limit.and_then(|id| rule.limit(id)) {
            Some(limit) => numbers.limit(&limit.value, other),
            None => numbers.side(
                side,
                other,
                one.dimension,
                other.limit.and_then(|id| rule.limit(id)).map(|limit| &limit.value),
            ),
        },
        low: low(&side.amount),
        high: high(&side.amount),
    };
    trace
        .compared
        .iter()
        .map(|one| wire::Compared {
            left: side(one, &one.left, &one.right),
            how: how_word(one.how),
            right: side(one, &one.right, &one.left),
            holds: match one.holds {
                crate::base::truth::Truth::True => Some(true),
                crate::base::truth::Truth::False => Some(false),
                crate::base::truth::Truth::Unknown => None,
            },
        })
        .collect()
}

fn low(amount: &Amount) -> Option<f64> {
    amount.low().map(|number: &Number| number.to_f64_bounds().0)
}

fn high(amount: &Amount) -> Option<f64> {
    amount.high().map(|number: &Number| number.to_f64_bounds().1)
}

fn how_word(how: crate::base::number::Comparison) -> &'static str {
    use crate::base::number::Comparison as C;
    match how {
        C::Equal => "equal",
        C::Less => "less than",
        C::AtMost => "at most",
        C::More => "more than",
        C::AtLeast => "at least",
    }
}

fn decided_by(trace: &Trace, background: &Background<'_>, places: &Places<'_>) -> Vec<wire::Decided> {
    trace
        .decisive
        .iter()
        .map(|one| wire::Decided {
            fact: background.vocabulary.fact(one.fact).map(|shape| shape.name.clone()).unwrap_or_default(),
            of: Some(background.name_of.name(one.thing)).filter(|name| !name.is_empty()),
            entries: one
                .origin
                .stated
                .iter()
                .map(|stated| wire::Entry { entry: stated.entry.to_string(), place: places.place(stated.at) })
                .collect(),
        })
        .collect()
}
