//! Promise 15: rulebooks earn trust. Every rule has cases of every outcome that can occur, and at least 95 % of the
//! changes of a limit, a sign or a word are noticed by the cases of its book, and so of all the books together.

use undercroft::base::problem::Problem;
use undercroft::base::vocabulary::Vocabulary;
use undercroft::facts::ask::Ask;
use undercroft::facts::vocabulary;
use undercroft::judge::mutants::Tried;
use undercroft::judge::prove::{Act, Designs, ProofReport, prove_rule};
use undercroft::render::terminal::{Look, proof};
use undercroft::review::proving::{CaseDesigns, cases_of};
use undercroft::review::{Library, read_text, stage};
use undercroft::rulebook::cases::Case;
use undercroft::rulebook::checked::CheckedBook;

/// The designs of cases, in which nothing at all may be amiss.
struct Clean<'l>(CaseDesigns<'l>);

impl Designs for Clean<'_> {
    fn vocabulary(&self) -> &Vocabulary {
        vocabulary()
    }

    fn with_case(&mut self, book: &CheckedBook, case: &Case, act: Act<'_>) -> Result<(), Vec<Problem>> {
        let text = self.0.text(book, case)?;
        let (design, problems) = read_text(&text);
        assert!(problems.is_empty(), "`{}` does not read: {problems:#?}", case.claim);
        act(&mut Ask::new(&design), case.stage.unwrap_or_else(|| stage(&design)));
        Ok(())
    }
}

/// Proves a book; where it earns no trust, with the page that names what no case notices.
fn earns_trust(name: &str) {
    let library = Library::with(&[]);
    let book = library.book(name).unwrap().unwrap();
    let mut designs = Clean(CaseDesigns::of(&library));
    let rules = book.rules.iter().enumerate().map(|(at, rule)| {
        let cases = cases_of(&library, book, rule).unwrap();
        prove_rule(book, at, rule, &cases, Tried::Everything, &mut designs)
    });
    let report = ProofReport { book: name.to_owned(), rules: rules.collect() };
    let (tried, noticed) = report.changes();
    let page = || proof::page(&report, &library.sources, &Look::standard().wide(120));
    assert!(report.holds(), "{}", page());
    assert!(tried >= report.rules.len() && noticed * 100 >= tried * 95, "{}", page());
}

#[test]
fn the_federal_guidance_does_what_its_cases_say_and_they_notice_its_changes() {
    earns_trust("epa-1994");
}

#[test]
fn the_rule_of_pennsylvania_does_what_its_cases_say_and_they_notice_its_changes() {
    earns_trust("pennsylvania-2019");
}

#[test]
fn work_safety_does_what_its_cases_say_and_they_notice_its_changes() {
    earns_trust("work-safety");
}

#[test]
fn there_is_no_book_besides_these() {
    let library = Library::with(&[]);
    assert_eq!(library.names().collect::<Vec<_>>(), ["epa-1994", "pennsylvania-2019", "work-safety"]);
}
