//! What a correction can say.

use undercroft::rulebook::checked::CheckedBook;
use undercroft::rulebook::corrections::{Change, pattern};

use super::garden::{RULE, Shelf, vocabulary};

const OLD: &str = "  - clip the hedge:\n      set: hedges.{hedge}.height\n      to: low\n";

/// The changes of the first correction of the rule when this stands in its place, and the digest of the book.
fn read(written: &str) -> (Vec<Change>, String) {
    assert!(RULE.contains(OLD));
    // The limit is shown, so that it is used whatever the correction names.
    let rule = RULE.replace(OLD, written).replace("is asked for.", "is asked for, or {low}.");
    let shelf = Shelf::with_rule(&rule);
    let book = CheckedBook::load(&shelf.files(), &vocabulary())
        .unwrap_or_else(|problems| panic!("{written}: {problems:?}"));
    (book.rules[0].corrections[0].changes.clone(), book.digest(&vocabulary()))
}

/// What a change does and where, in a few words.
fn said(changes: &[Change]) -> Vec<String> {
    let one = |change: &Change| match change {
        Change::Set { path, .. } => format!("set {}", pattern(path)),
        Change::Add { path, value } => format!("add {} as {}", pattern(path), pattern(value)),
        Change::Remove { path } => format!("remove {}", pattern(path)),
        Change::Reach { .. } => "reach".to_owned(),
    };
    changes.iter().map(one).collect()
}

#[test]
fn each_form_of_a_change_is_read() {
    for (written, wanted) in [
        ("  - clip: {set: \"hedges.{hedge}.height\", to: low}\n", &["set hedges.*.height"][..]),
        ("  - clip:\n      set: hedges.*.height\n      to: low - 1 ft\n", &["set hedges.*.height"]),
        (
            "  - replant:\n      set: hedges.{hedge}.plant\n      to: well-known box\n",
            &["set hedges.*.plant"],
        ),
        ("  - improve:\n      set: beds.{hedge.in}.soil\n      to: heavy_clay\n", &["set beds.*.soil"]),
        ("  - open: {set: open_to_visitors, to: no}\n", &["set open_to_visitors"]),
        ("  - widen:\n      set: beds.{hedge.in}.soil\n      as: sand\n", &["set beds.*.soil"]),
        ("  - reach it: {reach: hedge.height, to: low}\n", &["reach"]),
        ("  - take it out: {remove: \"hedges.{hedge}\"}\n", &["remove hedges.*"]),
        (
            "  - more:\n      - add: beds.new\n        as: \"{soil: sand, width: {low}, length: unknown, beside: {hedge.in.beside}}\"\n      - remove: hedges.{hedge}.in\n",
            &["add beds.new as {soil: sand, width: *, length: unknown, beside: *}", "remove hedges.*.in"],
        ),
        (
            "  - one more: {add: \"beds.{hedge.in}.hedges[]\", as: \"{hedge}\"}\n",
            &["add beds.*.hedges[] as *"],
        ),
    ] {
        assert_eq!(said(&read(written).0), wanted, "{written}");
    }
}

#[test]
fn a_book_says_something_else_when_a_change_does() {
    let digest = |written: &str| read(written).1;
    let one = digest("  - clip: {set: \"hedges.{hedge}.height\", to: low}\n");
    assert_eq!(one, digest("  - clip:\n      - set: hedges.{hedge}.height\n        to: low\n"), "layout");
    for other in [
        "  - clip\n",
        "  - clip: {reach: hedge.height, to: low}\n",
        "  - clip: {set: \"hedges.{hedge}.clearance\", to: low}\n",
        "  - clip: {set: \"hedges.{hedge}.height\", to: clearance}\n",
        "  - clip: {add: \"hedges.{hedge}.height\", as: \"{low}\"}\n",
        "  - clip: {remove: \"hedges.{hedge}.height\"}\n",
    ] {
        assert_ne!(one, digest(other), "{other}");
    }
}
