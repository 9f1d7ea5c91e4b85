//! A town that keeps a book of its own on top of that of the parks office.

use std::fmt::Write as _;

use undercroft::base::problem::Problem;
use undercroft::base::text::Sources;
use undercroft::rulebook::bookcase::Bookcase;
use undercroft::rulebook::checked::{CheckedBook, CheckedRule};

use super::garden::{BOOK, RULE, vocabulary};

/// The book of a town that takes over the rules of the parks office.
pub(super) const TOWN: &str = "\
book: town
title: Rules of the town
publisher: The town
edition: first
legal_nature: A by-law of the town.
covers: Gardens in the town.
builds_on: parks
sources:
  by-law-7: {title: By-law 7, publisher: The town, year: 2025, read_at: the town hall, basis: read}
";

/// Where the rule of the parks office lies.
pub(super) const RULE_FILE: &str = "parks/hedges/hedge-clear-of-path.yaml";

/// Files of several books, and the texts they are places in.
pub(super) struct Desk {
    pub(super) sources: Sources,
    pub(super) books: Bookcase,
}

impl Desk {
    /// Puts up these files, in this order, all of them brought along.
    pub(super) fn of(files: &[(&str, &str)]) -> Self {
        let mut sources = Sources::new();
        let filed =
            files.iter().map(|(path, text)| (sources.add(*path, *text), (*path).to_owned())).collect();
        let books = Bookcase::of(Vec::new(), filed, &sources);
        Desk { sources, books }
    }

    /// The parks office with this rule, the town, and these files of the town.
    pub(super) fn town(rule: &str, more: &[(&str, &str)]) -> Self {
        let mut files = vec![
            ("parks/book.yaml", BOOK),
            (RULE_FILE, rule),
            ("parks/cases/plot.yaml", "beds: {}\n"),
            ("town/book.yaml", TOWN),
        ];
        files.extend(more);
        Desk::of(&files)
    }

    /// The book of this name, which has no fault.
    pub(super) fn book(&self, name: &str) -> &CheckedBook {
        match self.books.book(name, &self.sources, &vocabulary()).unwrap() {
            Ok(book) => book,
            Err(problems) => panic!("{}", self.shown(problems)),
        }
    }

    /// The rule of the town.
    pub(super) fn rule(&self) -> &CheckedRule {
        self.book("town").rule("hedge-clear-of-path").unwrap()
    }

    /// What is wrong with a book.
    pub(super) fn faults(&self, name: &str) -> &[Problem] {
        self.books.book(name, &self.sources, &vocabulary()).unwrap().unwrap_err()
    }

    /// What is wrong with the book of the town, in words.
    pub(super) fn refused(&self) -> String {
        self.shown(self.faults("town"))
    }

    /// The problems one below the other, with all their places.
    pub(super) fn shown(&self, problems: &[Problem]) -> String {
        let mut out = String::new();
        let place = |at: undercroft::base::text::Span| {
            let source = self.sources.get(at.source).unwrap();
            let line = source.line_column(at.start);
            let first = source.slice(at).lines().next().unwrap_or("");
            format!("{}:{}:{} «{first}»", source.name(), line.line, line.column)
        };
        for problem in problems {
            let _ = writeln!(out, "{} {}", place(problem.at), problem.kind.name());
            let _ = writeln!(out, "  found: {}", problem.found);
            if !problem.accepts.is_empty() {
                let _ = writeln!(out, "  accepted here: {}", problem.accepts);
            }
            if let Some(nearest) = &problem.nearest {
                let _ = writeln!(out, "  nearest: {nearest}");
            }
            for (at, what) in &problem.also {
                let _ = writeln!(out, "  also {} {what}", place(*at));
            }
        }
        out
    }
}

/// The fingerprint of a rule of the parks office.
pub(super) fn fingerprint(rule: &str) -> String {
    Desk::town(rule, &[]).book("parks").rules[0].fingerprint(&vocabulary())
}

/// An amendment of the rule of the parks office as it stands, with this in its middle.
pub(super) fn amendment(middle: &str) -> String {
    amendment_of("parks/hedge-clear-of-path", &fingerprint(RULE), middle)
}

/// An amendment of this rule, written against this fingerprint, with this in its middle.
pub(super) fn amendment_of(rule: &str, fingerprint: &str, middle: &str) -> String {
    format!(
        "amend: {rule}\nwritten_against: {fingerprint}\n{middle}because: Snow slides off high hedges.\n\
         decided: {{by: Town council, document: By-law 7, on: 2025-03-01}}\n"
    )
}
