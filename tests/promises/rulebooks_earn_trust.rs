//! Promise 15: rulebooks earn trust. Every rule has cases of every outcome that can occur, and at least 95 % of the
//! changes of a limit, a sign or a word are noticed by the cases of its book, and so of all the books together.

use std::collections::BTreeMap;

use undercroft::base::problem::{Problem, ProblemKind};
use undercroft::base::vocabulary::Vocabulary;
use undercroft::facts::ask::Ask;
use undercroft::facts::vocabulary;
use undercroft::judge::mutants;
use undercroft::judge::prove::{Act, Designs, ProofReport, RuleProof, prove_rule};
use undercroft::render::terminal::{Look, proof};
use undercroft::review::read_text;
use undercroft::rulebook::cases::Case;
use undercroft::rulebook::checked::CheckedBook;

use super::{BOOKS, Tried, by_all_hands, by_rule, every_case, stage_of};

/// The designs of the cases of a rule, in which nothing may be amiss but the name of a thing that a case takes away.
struct Clean(&'static [Tried]);

impl Designs for Clean {
    fn vocabulary(&self) -> &Vocabulary {
        vocabulary()
    }

    fn with_case(&mut self, _: &CheckedBook, case: &Case, act: Act<'_>) -> Result<(), Vec<Problem>> {
        let tried = self.0.iter().find(|tried| tried.case.at == case.at).unwrap();
        let (design, problems) = read_text(&tried.text);
        let amiss = problems.iter().any(|problem| problem.kind != ProblemKind::UnknownName);
        assert!(!amiss, "`{}` does not read: {problems:#?}", case.claim);
        act(&mut Ask::new(&design), stage_of(tried, &design));
        Ok(())
    }
}

/// What a rule comes to that a book writes or amends.
fn proof_of(cases: &'static [Tried]) -> (&'static str, RuleProof) {
    let Tried { book, rule, .. } = cases[0];
    let at = book.rules.iter().position(|own| std::ptr::eq(own, rule)).unwrap();
    let all: Vec<Case> = cases.iter().map(|tried| tried.case.clone()).collect();
    (&book.name, prove_rule(book, at, rule, &all, mutants::Tried::Everything, &mut Clean(cases)))
}

/// Where a book earns no trust, the page names what no case notices.
#[test]
fn every_book_does_what_its_cases_say_and_they_notice_its_changes() {
    let mut reports: BTreeMap<&str, ProofReport> = BTreeMap::new();
    let rules = by_rule(every_case());
    for (book, proof) in by_all_hands(&rules, |cases| proof_of(cases)) {
        let fresh = || ProofReport { book: book.to_owned(), rules: Vec::new() };
        reports.entry(book).or_insert_with(fresh).rules.push(proof);
    }
    let with_rules = BOOKS.all().0.into_iter().filter(|book| book.own_rules().next().is_some()).count();
    assert_eq!(reports.len(), with_rules);
    let mut wrong = String::new();
    for (book, report) in &mut reports {
        report.rules.sort_by_key(|rule| rule.rule);
        let own = BOOKS.book(book).unwrap().unwrap().own_rules().count();
        assert_eq!(report.rules.len(), own, "rules of {book} without a case");
        let (tried, noticed) = report.changes();
        if !report.holds() || noticed * 100 < tried * 95 {
            let page = proof::page(report, &BOOKS.sources, &Look::standard().wide(120));
            wrong.push_str(&format!("{book}: {noticed} of {tried}\n{page}\n"));
        }
        assert!(tried >= report.rules.len(), "{tried} of {book}");
    }
    assert!(wrong.is_empty(), "{wrong}");
}
