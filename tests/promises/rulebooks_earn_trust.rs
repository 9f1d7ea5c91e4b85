//! Promise 15: rulebooks earn trust. Every rule has cases of every outcome that can occur, and at least 95 % of the
//! changes of a limit, a sign or a word are noticed by the cases of its book, and so of all the books together.

use undercroft::base::problem::{Problem, ProblemKind};
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

/// The designs of cases, in which nothing may be amiss but the name of a thing that a case takes away.
struct Clean<'l>(CaseDesigns<'l>);

impl Designs for Clean<'_> {
    fn vocabulary(&self) -> &Vocabulary {
        vocabulary()
    }

    fn with_case(&mut self, book: &CheckedBook, case: &Case, act: Act<'_>) -> Result<(), Vec<Problem>> {
        let text = self.0.text(book, case)?;
        let (design, problems) = read_text(&text);
        let amiss = problems.iter().any(|problem| problem.kind != ProblemKind::UnknownName);
        assert!(!amiss, "`{}` does not read: {problems:#?}", case.claim);
        act(&mut Ask::new(&design), case.stage.unwrap_or_else(|| stage(&design)));
        Ok(())
    }
}

/// What a book comes to, of the rules that it writes or amends.
fn proof_of(library: &Library, book: &CheckedBook) -> ProofReport {
    let mut designs = Clean(CaseDesigns::of(library));
    let rules = book.own_rules().map(|(at, rule)| {
        let cases = cases_of(library, book, rule).unwrap();
        prove_rule(book, at, rule, &cases, Tried::Everything, &mut designs)
    });
    ProofReport { book: book.name.clone(), rules: rules.collect() }
}

/// Proves every other book, those with the most rules first, so that two hands have about the same to do. Where one
/// earns no trust, the page names what no case notices.
fn earn_trust(hand: usize) {
    let library = Library::with(&[]);
    let (mut books, faults) = library.all();
    assert!(faults.is_empty(), "{faults:#?}");
    books.sort_by_key(|book| std::cmp::Reverse(book.own_rules().count()));
    let mut wrong = String::new();
    for book in books.iter().skip(hand).step_by(2) {
        let report = proof_of(&library, book);
        let (tried, noticed) = report.changes();
        if !report.holds() || noticed * 100 < tried * 95 {
            let page = proof::page(&report, &library.sources, &Look::standard().wide(120));
            wrong.push_str(&format!("{}: {noticed} of {tried}\n{page}\n", book.name));
        }
        assert!(tried >= report.rules.len(), "{} of {}", tried, book.name);
    }
    assert!(wrong.is_empty(), "{wrong}");
}

#[test]
fn every_other_book_does_what_its_cases_say_and_they_notice_its_changes() {
    earn_trust(0);
}

#[test]
fn and_so_do_those_between() {
    earn_trust(1);
}
