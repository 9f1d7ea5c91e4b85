//! A comparison as a report for machines. Its structures are its own; its form is `schemas/compare.schema.json`.

use serde::Serialize;

use super::{SideName, Sides};
use crate::findings::compare::account::{Account, Program, RuleSaid};
use crate::findings::compare::books::FieldMove;
use crate::findings::compare::stated::Unclear;
use crate::findings::compare::{
    BookChange, Cause, Change, ClauseChange, Comparison, Factor, FindingChange, How, OfBook, RuleChange,
    Turn, Why,
};
use crate::render::json::{comes_word, program, to_text, wire};

/// The version of the form. It changes when a reader of the old one would go wrong.
pub const FORM: u32 = 1;

#[derive(Serialize)]
struct Document<'a> {
    form: &'static str,
    version: u32,
    program: wire::Program,
    older: Side<'a>,
    newer: Side<'a>,
    moved: Vec<&'static str>,
    tried: bool,
    stated: Stated<'a>,
    books: Vec<Book<'a>>,
    variances: Vec<Variance<'a>>,
    findings: Vec<Finding<'a>>,
    as_before: usize,
}

#[derive(Serialize)]
struct Side<'a> {
    file: &'a str,
    is_review: bool,
    field_notes: &'a [String],
    day: Option<&'a str>,
    stage: &'a str,
    outcome: &'a str,
    program: wire::Program,
    digests: Vec<Digest<'a>>,
}

#[derive(Serialize)]
struct Digest<'a> {
    role: &'a str,
    digest: &'a str,
}

#[derive(Serialize)]
struct Stated<'a> {
    known: bool,
    bytes_moved: bool,
    entries: Vec<Entry<'a>>,
    renamed: Vec<Renamed<'a>>,
    unclear: Vec<Open<'a>>,
}

#[derive(Serialize)]
struct Entry<'a> {
    entry: &'a str,
    was: Option<&'a str>,
    is: Option<&'a str>,
    is_thing: bool,
    line: u32,
    file: Option<&'a str>,
}

#[derive(Serialize)]
struct Renamed<'a> {
    was: &'a str,
    is: &'a str,
}

#[derive(Serialize)]
struct Open<'a> {
    list: &'a str,
    went: &'a [String],
    came: &'a [String],
}

#[derive(Serialize)]
struct Book<'a> {
    name: &'a str,
    edition_was: Option<&'a str>,
    edition_is: Option<&'a str>,
    digest_was: Option<&'a str>,
    digest_is: Option<&'a str>,
    covers: Option<Field<'a>>,
    known: bool,
    rules: Vec<Rule<'a>>,
}

#[derive(Serialize)]
struct Rule<'a> {
    name: &'a str,
    subject: &'a str,
    title: &'a str,
    change: &'static str,
    fingerprint_was: Option<&'a str>,
    fingerprint_is: Option<&'a str>,
    limits: Vec<Field<'a>>,
    fields: Vec<Field<'a>>,
}

#[derive(Serialize)]
struct Field<'a> {
    field: &'a str,
    was: Option<&'a str>,
    is: Option<&'a str>,
}

#[derive(Serialize)]
struct Variance<'a> {
    name: &'a str,
    was: Option<&'a str>,
    is: Option<&'a str>,
}

#[derive(Serialize)]
struct Finding<'a> {
    identity: &'a str,
    identity_was: Option<&'a str>,
    turn: &'static str,
    title: &'a str,
    was: Option<&'static str>,
    is: Option<&'static str>,
    numbers: Vec<Number<'a>>,
    clauses: Vec<Clause<'a>>,
}

#[derive(Serialize)]
struct Number<'a> {
    fact: &'a str,
    of: &'a str,
    was: &'a str,
    is: &'a str,
}

#[derive(Serialize)]
struct Clause<'a> {
    requirement_was: Option<&'a str>,
    requirement_is: Option<&'a str>,
    was: Option<&'static str>,
    is: Option<&'static str>,
    known_by: &'static str,
    causes: Vec<Because<'a>>,
}

#[derive(Serialize)]
struct Because<'a> {
    moved: &'static str,
    entries: Vec<Entry<'a>>,
    surely: bool,
    variance: Option<&'a str>,
    book: Option<&'a str>,
    rule: Option<Rule<'a>>,
    was: Option<&'a str>,
    is: Option<&'a str>,
}

/// The comparison as text with an end of line.
#[must_use]
pub fn document(
    comparison: &Comparison,
    (old, new): (&Account, &Account),
    sides: &Sides,
    made_by: &Program,
) -> String {
    let stated = &comparison.stated;
    let document = Document {
        form: "undercroft comparison",
        version: FORM,
        program: program(made_by),
        older: side(&sides.old, old),
        newer: side(&sides.new, new),
        moved: comparison.moved.iter().map(|one| factor(*one)).collect(),
        tried: sides.tried,
        stated: Stated {
            known: stated.known,
            bytes_moved: stated.bytes_moved,
            entries: stated.entries.iter().map(entry).collect(),
            renamed: stated.renamed.iter().map(|one| Renamed { was: &one.was, is: &one.is }).collect(),
            unclear: stated.unclear.iter().map(open).collect(),
        },
        books: comparison.books.iter().map(book).collect(),
        variances: comparison
            .variances
            .iter()
            .map(|(name, was, is)| Variance { name, was: was.as_deref(), is: is.as_deref() })
            .collect(),
        findings: comparison.findings.iter().map(finding).collect(),
        as_before: comparison.as_before,
    };
    to_text(&document) + "\n"
}

fn side<'a>(name: &'a SideName, of: &'a Account) -> Side<'a> {
    Side {
        file: &name.file,
        is_review: name.is_review,
        field_notes: &name.notes,
        day: of.day.as_deref(),
        stage: &of.stage,
        outcome: &of.outcome,
        program: program(&of.program),
        digests: of.made_of.iter().map(|one| Digest { role: &one.role, digest: &one.digest }).collect(),
    }
}

fn factor(factor: Factor) -> &'static str {
    match factor {
        Factor::Design => "design",
        Factor::Variance => "variance",
        Factor::Book => "book",
        Factor::Date => "date",
        Factor::Program => "program",
    }
}

fn turn(turn: Turn) -> &'static str {
    match turn {
        Turn::New => "new",
        Turn::OpenOtherwise => "open otherwise",
        Turn::StillOpen => "still open",
        Turn::Settled => "settled",
        Turn::Otherwise => "otherwise",
        Turn::OtherNumbers => "other numbers",
    }
}

fn how(how: How) -> &'static str {
    match how {
        How::Only => "nothing else moved",
        How::Alone => "tried alone",
        How::Each => "tried, each alone",
        How::Together => "tried, only together",
        How::Told => "told by the reviews",
        How::OneOf => "one or several of these",
        How::NotTold => "not told",
    }
}

fn entry(change: &Change) -> Entry<'_> {
    Entry {
        entry: &change.entry,
        was: change.was.as_deref(),
        is: change.is.as_deref(),
        is_thing: change.is_thing,
        line: change.line,
        file: change.file.as_deref(),
    }
}

fn open(one: &Unclear) -> Open<'_> {
    Open { list: &one.list, went: &one.went, came: &one.came }
}

fn field(one: &FieldMove) -> Field<'_> {
    Field { field: &one.field, was: one.was.as_deref(), is: one.is.as_deref() }
}

fn book(change: &BookChange) -> Book<'_> {
    Book {
        name: &change.name,
        edition_was: change.was.as_ref().map(|was| was.0.as_str()),
        edition_is: change.is.as_ref().map(|is| is.0.as_str()),
        digest_was: change.was.as_ref().map(|was| was.1.as_str()),
        digest_is: change.is.as_ref().map(|is| is.1.as_str()),
        covers: change.covers.as_ref().map(field),
        known: change.known,
        rules: change.rules.iter().map(rule).collect(),
    }
}

fn rule(change: &RuleChange) -> Rule<'_> {
    let said = |pick: fn(&RuleSaid) -> &String| change.rule().map_or("", |rule| pick(rule).as_str());
    Rule {
        name: said(|rule| &rule.name),
        subject: said(|rule| &rule.subject),
        title: said(|rule| &rule.title),
        change: match (&change.was, &change.is) {
            (None, _) => "added",
            (_, None) => "withdrawn",
            _ if change.asks_otherwise() => "asked otherwise",
            _ => "told otherwise",
        },
        fingerprint_was: change.was.as_ref().map(|was| was.fingerprint.as_str()),
        fingerprint_is: change.is.as_ref().map(|is| is.fingerprint.as_str()),
        limits: change.limits.iter().map(field).collect(),
        fields: change.fields.iter().map(field).collect(),
    }
}

fn finding(change: &FindingChange) -> Finding<'_> {
    Finding {
        identity: &change.identity,
        identity_was: change.identity_was.as_deref(),
        turn: turn(change.turn),
        title: change.finding().map_or("", |one| one.title.as_str()),
        was: change.came().map(comes_word),
        is: change.comes().map(comes_word),
        numbers: change
            .numbers
            .iter()
            .map(|one| Number { fact: &one.fact, of: &one.of, was: &one.was, is: &one.is })
            .collect(),
        clauses: change.clauses.iter().map(clause).collect(),
    }
}

fn clause(change: &ClauseChange) -> Clause<'_> {
    let Why { causes, how: known } = &change.why;
    Clause {
        requirement_was: change.requirement_was.as_deref(),
        requirement_is: change.requirement_is.as_deref(),
        was: change.was.map(comes_word),
        is: change.is.map(comes_word),
        known_by: how(*known),
        causes: causes.iter().map(cause).collect(),
    }
}

fn cause(cause: &Cause) -> Because<'_> {
    let none = Because {
        moved: "",
        entries: Vec::new(),
        surely: true,
        variance: None,
        book: None,
        rule: None,
        was: None,
        is: None,
    };
    match cause {
        Cause::Design(entries) => {
            Because { moved: factor(Factor::Design), entries: entries.iter().map(entry).collect(), ..none }
        }
        Cause::SomeOfDesign(entries) => Because {
            moved: factor(Factor::Design),
            entries: entries.iter().map(entry).collect(),
            surely: false,
            ..none
        },
        Cause::Variance(name, entries) => Because {
            moved: factor(Factor::Variance),
            entries: entries.iter().map(entry).collect(),
            variance: Some(name.as_str()).filter(|name| !name.is_empty()),
            ..none
        },
        Cause::Book(book, moved) => Because {
            moved: factor(Factor::Book),
            book: Some(book.as_str()).filter(|book| !book.is_empty()),
            rule: match moved {
                OfBook::Rule(moved) => Some(rule(moved)),
                OfBook::Covers(_) | OfBook::Silent | OfBook::Something => None,
            },
            ..none
        },
        Cause::Date(was, is, variance) => Because {
            moved: factor(Factor::Date),
            variance: variance.as_deref(),
            was: was.as_deref(),
            is: is.as_deref(),
            ..none
        },
        Cause::Program(was, is) => {
            Because { moved: factor(Factor::Program), was: Some(was), is: Some(is), ..none }
        }
    }
}
