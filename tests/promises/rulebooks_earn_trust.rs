//! Promise 15: rulebooks earn trust. Every rule has cases of every outcome that can occur, and at least 95 % of the
//! changes of a limit, a sign or a word are noticed by the cases, in each book and in all.

use undercroft::judge::mutants::Tried;
use undercroft::judge::prove::ProofReport;
use undercroft::render::terminal::{Look, proof};
use undercroft::review::Library;
use undercroft::review::proving::prove_book;

fn enough(tried: usize, noticed: usize) -> bool {
    noticed * 100 >= tried * 95
}

#[test]
fn every_outcome_has_a_case_and_changes_of_a_rule_are_noticed() {
    let library = Library::with(&[]);
    let (books, faults) = library.all();
    assert!(faults.is_empty(), "{faults:#?}");
    let page = |report: &ProofReport| proof::page(report, &library.sources, &Look::standard().wide(120));
    let (mut all_tried, mut all_noticed) = (0, 0);
    for book in books {
        let report = prove_book(&library, book, Tried::Everything).unwrap();
        // A rule whose cases lack an outcome, or come out otherwise, is named on the page of its book.
        assert!(report.holds(), "{}", page(&report));
        let (tried, noticed) = report.changes();
        assert!(tried >= book.rules.len() && enough(tried, noticed), "{}", page(&report));
        all_tried += tried;
        all_noticed += noticed;
    }
    assert!(all_tried > 700 && enough(all_tried, all_noticed), "{all_noticed} of {all_tried} noticed");
}
