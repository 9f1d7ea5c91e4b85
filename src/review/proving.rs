//! The cases of the books, laid over their base designs and read like any other file.

use super::books::Library;
use super::run::{read_text, stage};
use crate::base::problem::{Problem, Weight};
use crate::design::Design;
use crate::facts::ask::Ask;
use crate::judge::prove::{Act, Designs, ProofReport, prove};
use crate::rulebook::cases::{Case, cases};
use crate::rulebook::checked::{CheckedBook, CheckedRule, Stage};
use crate::yaml::splice::lay_over;

/// The designs of the cases of a library.
#[derive(Debug)]
pub struct CaseDesigns<'l> {
    library: &'l Library,
}

impl<'l> CaseDesigns<'l> {
    /// Those of this library.
    #[must_use]
    pub fn of(library: &'l Library) -> Self {
        CaseDesigns { library }
    }

    /// The text of a case: its base design with what it lays over and takes away.
    ///
    /// # Errors
    /// What is wrong with the case or its base design, at the place of the case.
    pub fn text(&self, book: &CheckedBook, case: &Case) -> Result<String, Vec<Problem>> {
        let base = book.base_designs.iter().find(|design| design.name == case.from);
        let text =
            base.and_then(|base| self.library.sources.get(base.source)).map_or("", |source| source.text());
        let with: Vec<(&str, &str)> =
            case.with.iter().map(|change| (change.path.as_str(), change.text.as_str())).collect();
        let missing: Vec<&str> = case.missing.iter().map(|(path, _)| path.as_str()).collect();
        lay_over(text, &with, &missing).map_err(|problem| vec![Problem { at: case.at, ..problem }])
    }

    /// The design of a case and the stage it is at.
    ///
    /// # Errors
    /// What is wrong with the case or its base design, at the place of the case.
    pub fn design(&self, book: &CheckedBook, case: &Case) -> Result<(Design, Stage), Vec<Problem>> {
        let text = self.text(book, case)?;
        let (design, problems) = read_text(&text);
        let broken: Vec<Problem> = problems
            .into_iter()
            .filter(|problem| problem.kind.weight() == Weight::Whole)
            .map(|problem| Problem { at: case.at, also: Vec::new(), ..problem })
            .collect();
        if !broken.is_empty() {
            return Err(broken);
        }
        let stage = case.stage.unwrap_or_else(|| stage(&design));
        Ok((design, stage))
    }
}

impl Designs for CaseDesigns<'_> {
    fn with_case(&mut self, book: &CheckedBook, case: &Case, act: Act<'_>) -> Result<(), Vec<Problem>> {
        let (design, stage) = self.design(book, case)?;
        act(&mut Ask::new(&design), stage);
        Ok(())
    }
}

/// The cases of a rule.
///
/// # Errors
/// Every fault of the cases.
pub fn cases_of(
    library: &Library,
    book: &CheckedBook,
    rule: &CheckedRule,
) -> Result<Vec<Case>, Vec<Problem>> {
    let text = library.sources.get(rule.at.source).map_or("", |source| source.text());
    cases(book, rule, text)
}

/// Proves a book: every case is run and every limit moved.
///
/// # Errors
/// The faults of cases that cannot be read.
pub fn prove_book(library: &Library, book: &CheckedBook) -> Result<ProofReport, Vec<Problem>> {
    let mut all = Vec::with_capacity(book.rules.len());
    let mut faults = Vec::new();
    for rule in &book.rules {
        match cases_of(library, book, rule) {
            Ok(cases) => all.push(cases),
            Err(problems) => faults.extend(problems),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    Ok(prove(book, &all, &mut CaseDesigns::of(library)))
}
