//! Books that build on books, books in the place of books, and what is said when that goes wrong.

use std::fmt::Write as _;

use undercroft::base::problem::ProblemKind;
use undercroft::base::text::Sources;
use undercroft::rulebook::bookcase::Bookcase;

use super::dice::Dice;
use super::garden::{BOOK, RULE, vocabulary};
use super::towns::{Desk, RULE_FILE, TOWN, amendment, amendment_of};

/// A book of this name that builds on these.
fn on(name: &str, below: &str) -> String {
    TOWN.replace("book: town", &format!("book: {name}"))
        .replace("builds_on: parks", &format!("builds_on: {below}"))
        .replace("by-law-7", &format!("by-law-of-{name}"))
}

/// The parks office and these books upon it.
fn upon(books: &[(&str, &str)], more: &[(&str, &str)]) -> Desk {
    let texts: Vec<(String, String)> =
        books.iter().map(|(name, below)| (format!("{name}/book.yaml"), on(name, below))).collect();
    let mut files =
        vec![("parks/book.yaml", BOOK), (RULE_FILE, RULE), ("parks/cases/plot.yaml", "beds: {}\n")];
    files.extend(texts.iter().map(|(path, text)| (path.as_str(), text.as_str())));
    files.extend(more);
    Desk::of(&files)
}

#[test]
fn a_book_higher_up_has_the_last_word() {
    let county = amendment("change: {limits.clearance: {was: 3 ft, to: 4 ft}}\n");
    let books = [("county", "parks"), ("town", "county")];
    let below = upon(&books, &[("county/amendments/a.yaml", &county)]);
    assert_eq!(below.rule().limits[0].value.to_string(), "4 ft");
    let fingerprint = &below.book("county").rules[0].fingerprint(&vocabulary());
    let town = amendment_of(
        "county/hedge-clear-of-path",
        fingerprint,
        "change: {limits.clearance: {was: 4 ft, to: 6 ft}}\n",
    );
    let files = [("county/amendments/a.yaml", county.as_str()), ("town/amendments/a.yaml", town.as_str())];
    let desk = upon(&books, &files);
    let rule = desk.rule();
    assert_eq!(rule.limits[0].value.to_string(), "6 ft");
    let author = &rule.authors.fields["limits.clearance"];
    let county = author.replaced.as_ref().unwrap();
    let parks = county.replaced.as_ref().unwrap();
    assert_eq!([&author.book, &county.book, &parks.book], ["town", "county", "parks"]);
    assert_eq!([&author.text, &county.text, &parks.text], ["6 ft", "4 ft", "3 ft"]);
    assert_eq!(rule.authors.amendments.len(), 2);
    // By the name of the book at the bottom it is not the rule that its author read.
    let past = amendment("change: {limits.clearance: {was: 3 ft, to: 6 ft}}\n");
    let desk = upon(&books, &[files[0], ("town/amendments/a.yaml", past.as_str())]);
    assert_eq!(desk.faults("town")[0].kind, ProblemKind::AmendsNothing);
    assert_eq!(desk.faults("town")[0].nearest.as_deref(), Some("county/hedge-clear-of-path"));
}

#[test]
fn rules_that_come_by_two_ways_are_one_when_they_agree_and_told_when_not() {
    let books = [("county", "parks"), ("water", "parks"), ("town", "[county, water]")];
    let desk = upon(&books, &[]);
    assert_eq!(desk.book("town").rules.len(), 1);
    let changed = amendment("change: {limits.clearance: {was: 3 ft, to: 4 ft}}\n");
    let desk = upon(&books, &[("county/amendments/a.yaml", &changed)]);
    assert_eq!(desk.faults("town")[0].kind, ProblemKind::RulesCollide, "{}", desk.refused());
    assert_eq!(desk.faults("town")[0].also.len(), 1, "both places");
    let withdrawn = amendment("withdraw: yes\n");
    let desk = upon(&books, &[("water/amendments/a.yaml", &withdrawn)]);
    assert_eq!(desk.faults("town")[0].kind, ProblemKind::RulesCollide, "{}", desk.refused());
    assert_eq!(desk.book("county").rules.len(), 1);
}

#[test]
fn cases_may_start_from_the_designs_of_a_book_that_is_named_and_take_nothing_else_of_it() {
    let shed = BOOK.replace("book: parks", "book: shed");
    let lends = |name: &str| {
        [
            ("parks/cases/plot.yaml", "beds: {}\n".to_owned()),
            ("shed/book.yaml", format!("{shed}cases_from: {name}\n")),
        ]
    };
    let desk_of = |name: &str| {
        let more = lends(name);
        let mut files = vec![("parks/book.yaml", BOOK), (RULE_FILE, RULE)];
        files.extend(more.iter().map(|(path, text)| (*path, text.as_str())));
        Desk::of(&files)
    };
    let desk = desk_of("parks");
    let shed = desk.book("shed");
    assert_eq!(shed.base_design("plot", "shed").map(|design| design.book.as_str()), Some("parks"));
    assert!(shed.rules.is_empty());
    let desk = desk_of("park");
    let fault = &desk.faults("shed")[0];
    assert_eq!(fault.kind, ProblemKind::BookBelow);
    assert_eq!(fault.nearest.as_deref(), Some("parks"));
}

#[test]
fn what_is_said_of_books_that_cannot_stand_on_each_other() {
    let mut page = String::new();
    let mut add = |what: &str, desk: &Desk, book: &str| {
        let _ = writeln!(page, "# {what}\n{}", desk.shown(desk.faults(book)));
    };
    add("a book that is not there", &upon(&[("town", "parcs")], &[]), "town");
    add("a book on itself", &upon(&[("town", "town")], &[]), "town");
    let ring = upon(&[("a", "b"), ("b", "c"), ("c", "a"), ("town", "a")], &[]);
    add("a ring of three", &ring, "b");
    add("a book on a ring", &ring, "town");
    let broken = Desk::of(&[
        ("parks/book.yaml", &BOOK.replace("edition: second\n", "")),
        (RULE_FILE, RULE),
        ("town/book.yaml", TOWN),
    ]);
    add("a book on one with a fault", &broken, "town");
    let document = TOWN.replace("by-law-7:", "by-law:");
    let clash = Desk::of(&[("parks/book.yaml", BOOK), (RULE_FILE, RULE), ("town/book.yaml", &document)]);
    add("another document of the same name", &clash, "town");
    let backwards = BOOK.replace("{from: 2020-01-01}", "{from: 2020-01-01, until: 2019-12-31}");
    add("a book that ends before it begins", &Desk::of(&[("parks/book.yaml", &backwards)]), "parks");
    let covers = BOOK.replace("covers: G", "covers_when: count of hedge >= 1\ncovers: G");
    add("what a book covers, misspelt", &Desk::of(&[("parks/book.yaml", &covers)]), "parks");
    let elsewhere = Desk::of(&[("parks/book.yaml", BOOK), ("parks/amendments/a/b.yaml", "amend: a/b\n")]);
    add("an amendment that lies too deep", &elsewhere, "parks");
    insta::assert_snapshot!(page);
}

#[test]
fn a_tower_of_books_is_read_and_one_too_high_is_refused() {
    let names: Vec<String> = (0..16).map(|at| format!("b{at:02}")).collect();
    let mut books: Vec<(&str, &str)> = vec![("b00", "parks")];
    books.extend(names.iter().zip(names.iter().skip(1)).map(|(below, name)| (name.as_str(), below.as_str())));
    let desk = upon(&books, &[]);
    assert_eq!(desk.book("b10").rules.len(), 1);
    assert_eq!(desk.faults("b15")[0].kind, ProblemKind::BookBelow);
}

#[test]
fn a_book_stands_in_the_place_of_one_that_comes_with_the_program_only_if_it_says_so() {
    let said = BOOK.replace("edition: second", "edition: ours\nin_place_of: parks");
    let unsaid = BOOK.replace("edition: second", "edition: ours");
    let shelf = |carried: &[(&str, &str)], brought: &[(&str, &str)]| {
        let mut sources = Sources::new();
        let mut file = |files: &[(&str, &str)]| -> Vec<_> {
            files.iter().map(|(path, text)| (sources.add(*path, *text), (*path).to_owned())).collect()
        };
        let (carried, brought) = (file(carried), file(brought));
        let books = Bookcase::of(carried, brought, &sources);
        let edition = books
            .book("parks", &sources, &vocabulary())
            .and_then(Result::ok)
            .map(|book| (book.edition.clone(), book.in_place));
        (edition, books.problems.iter().map(|problem| problem.kind).collect::<Vec<_>>())
    };
    let ours = [("parks/book.yaml", BOOK), (RULE_FILE, RULE)];
    let second = Some(("second".to_owned(), false));
    assert_eq!(shelf(&ours, &[("parks/book.yaml", &said)]), (Some(("ours".to_owned(), true)), vec![]));
    assert_eq!(shelf(&ours, &[("parks/book.yaml", &unsaid)]), (second, vec![ProblemKind::BookShadows]));
    assert_eq!(shelf(&[], &[("parks/book.yaml", &said)]), (None, vec![ProblemKind::BookShadows]));
    let other = said.replace("in_place_of: parks", "in_place_of: town");
    assert_eq!(shelf(&ours, &[("parks/book.yaml", &other)]).1, vec![ProblemKind::BookShadows]);
    let twice = [("parks/book.yaml", unsaid.as_str()), ("parks/book.yaml", unsaid.as_str())];
    assert_eq!(shelf(&[], &twice).1, vec![ProblemKind::NameClash]);
}

#[test]
fn what_a_book_covers_goes_before_each_of_its_rules_and_is_handed_on() {
    let covers = BOOK.replace("covers: G", "covers_when: some path in paths has (path.paved)\ncovers: G");
    let desk = Desk::of(&[("parks/book.yaml", &covers), (RULE_FILE, RULE), ("town/book.yaml", TOWN)]);
    for book in ["parks", "town"] {
        let rule = &desk.book(book).rules[0];
        assert_eq!(rule.conditions().count(), 2);
        assert_eq!(rule.variables, ["hedge", "path"]);
        assert_eq!(
            rule.fingerprint(&vocabulary()),
            super::towns::fingerprint(RULE),
            "it is the book's, not the rule's"
        );
    }
    let own = TOWN.replace("covers: G", "covers_when: open_to_visitors\ncovers: G");
    let desk = Desk::of(&[("parks/book.yaml", &covers), (RULE_FILE, RULE), ("town/book.yaml", &own)]);
    let rule = &desk.book("town").rules[0];
    assert_eq!((rule.conditions().count(), rule.variables.len()), (2, 1));
    assert_eq!(desk.sources.slice(rule.conditions().next().unwrap().at), "open_to_visitors");
}

/// The same books and rules, whatever order files and keys were read in.
#[test]
fn the_order_of_files_and_keys_changes_no_book() {
    let change = amendment(
        "change: {limits.clearance: {was: 3 ft, to: 5 ft}, obligation: {was: shall, to: should}}\n",
    );
    let own = RULE
        .replace("rule: hedge-clear-of-path", "rule: hedge-low")
        .replace("title: Hedges kept", "title: Low hedges kept");
    let files = [
        ("parks/book.yaml", BOOK.to_owned()),
        (RULE_FILE, RULE.to_owned()),
        ("parks/cases/plot.yaml", "beds: {}\n".to_owned()),
        ("town/book.yaml", TOWN.to_owned()),
        ("town/amendments/a.yaml", change),
        ("town/hedges/hedge-low.yaml", own),
    ];
    let load = |files: &[(&str, String)]| {
        let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (*path, text.as_str())).collect();
        let desk = Desk::of(&files);
        let town = desk.book("town");
        let rules: Vec<String> = town.rules.iter().map(|rule| rule.fingerprint(&vocabulary())).collect();
        (town.digest(&vocabulary()), rules)
    };
    let first = load(&files);
    let mut dice = Dice::new();
    for _ in 0..60 {
        let mut shuffled: Vec<(&str, String)> =
            files.iter().map(|(path, text)| (*path, shuffle_keys(text, &mut dice))).collect();
        for last in (1..shuffled.len()).rev() {
            shuffled.swap(last, dice.below(last + 1));
        }
        assert_eq!(load(&shuffled), first);
    }
}

/// The keys at the margin of a file in another order, the cases last.
fn shuffle_keys(text: &str, dice: &mut Dice) -> String {
    let mut blocks: Vec<String> = Vec::new();
    for line in text.split_inclusive('\n') {
        match blocks.last_mut() {
            Some(block) if line.starts_with(' ') => block.push_str(line),
            _ => blocks.push(line.to_owned()),
        }
    }
    let cases = blocks.iter().position(|block| block.starts_with("cases:")).map(|at| blocks.remove(at));
    for last in (1..blocks.len()).rev() {
        blocks.swap(last, dice.below(last + 1));
    }
    blocks.extend(cases);
    blocks.concat()
}
