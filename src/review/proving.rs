//! The cases of the books, laid over their base designs and read like any other file.

use super::books::Library;
use super::run::{read_text, stage};
use crate::base::hands;
use crate::base::problem::{Problem, Weight};
use crate::base::vocabulary::Vocabulary;
use crate::design::Design;
use crate::facts::ask::Ask;
use crate::facts::vocabulary;
use crate::judge::mutants::Tried;
use crate::judge::prove::{Act, Designs, ProofReport, prove_rule};
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
        let base = book.base_design(&case.from, &case.book);
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
            .filter(|problem| problem.lost.is_some() || problem.kind.weight() == Weight::Whole)
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
    fn vocabulary(&self) -> &Vocabulary {
        vocabulary()
    }

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
    cases(book, rule, &library.sources)
}

/// Proves a book: every case is run, every limit moved, and what is to be tried is changed. The rules are
/// shared out among the processors; what comes out does not depend on how.
///
/// # Errors
/// The faults of cases that cannot be read.
pub fn prove_book(library: &Library, book: &CheckedBook, tried: Tried) -> Result<ProofReport, Vec<Problem>> {
    prove_rules(library, book, tried, |_| true)
}

/// Proves some rules of a book.
///
/// # Errors
/// The faults of cases that cannot be read.
pub fn prove_rules(
    library: &Library,
    book: &CheckedBook,
    tried: Tried,
    wanted: impl Fn(&CheckedRule) -> bool,
) -> Result<ProofReport, Vec<Problem>> {
    let mut all = Vec::with_capacity(book.rules.len());
    let mut faults = Vec::new();
    for (place, rule) in book.rules.iter().enumerate().filter(|(_, rule)| wanted(rule)) {
        match cases_of(library, book, rule) {
            Ok(cases) => all.push((place, rule, cases)),
            Err(problems) => faults.extend(problems),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let rules = hands::each(
        &all,
        || CaseDesigns::of(library),
        |designs, (place, rule, cases)| prove_rule(book, *place, rule, cases, tried, designs),
    );
    Ok(ProofReport { book: book.name.clone(), rules })
}
