//! Loading a book: all of it or nothing, what it keeps, its digests and its cases.

use undercroft::base::number::Dimension;
use undercroft::base::problem::ProblemKind;
use undercroft::rulebook::cases::{Outcome, cases};
use undercroft::rulebook::checked::{Basis, CheckedBook, LimitWords, Obligation, Piece, Stage};
use undercroft::rulebook::corrections::{Change, To, pattern};

use super::broken_rules::shown;
use super::dice::Dice;
use super::garden::{BOOK, RULE, Shelf, vocabulary};

fn load(shelf: &Shelf) -> CheckedBook {
    CheckedBook::load(&shelf.files(), &vocabulary())
        .unwrap_or_else(|problems| panic!("{}", shown(&problems, &shelf.sources)))
}

fn refused(shelf: &Shelf) -> String {
    shown(&CheckedBook::load(&shelf.files(), &vocabulary()).unwrap_err(), &shelf.sources)
}

#[test]
fn a_sound_book_keeps_what_its_files_say() {
    let shelf = Shelf::with_rule(RULE);
    let book = load(&shelf);
    assert_eq!(book.name, "parks");
    assert_eq!(book.from.as_deref(), Some("2020-01-01"));
    assert!(!book.always);
    assert_eq!(book.sources[0].basis, Basis::Read);
    assert_eq!(book.left_to_the_eye, [("9".to_owned(), "whether the roses are pretty".to_owned())]);
    assert_eq!(book.not_held, [("12".to_owned(), "ponds".to_owned())]);
    assert_eq!(book.base_designs[0].name, "plot");
    let rule = book.rule("hedge-clear-of-path").unwrap();
    assert_eq!((rule.obligation, rule.due), (Obligation::Shall, Stage::Design));
    assert_eq!(rule.source.section, "4.2");
    assert_eq!(rule.each.as_ref().unwrap().name, "hedge");
    assert_eq!(rule.limits[0].value.dimension, Dimension::LENGTH);
    assert_eq!(rule.limits[1].words, Some(LimitWords::AtMost));
    assert_eq!(rule.corrections.len(), 2);
    let [Change::Set { path, to: To::Value(_) }] = &rule.corrections[0].changes[..] else { panic!() };
    assert_eq!(pattern(path), "hedges.*.height");
    assert_eq!(rule.corrections[1].changes, []);
    assert_eq!(rule.cautions, ["thorns"]);
    let values = rule.unmet.0.iter().filter(|piece| matches!(piece, Piece::Value(_))).count();
    assert_eq!(values, 4);
    assert_eq!(
        shelf.sources.slice(rule.requires.at),
        "hedge.clearance >= clearance\n  or hedge.height <= low"
    );
    assert!(shelf.sources.slice(rule.cases_at.unwrap()).starts_with("cases:\n"));
}

#[test]
fn every_field_of_a_rule_says_which_file_and_line_it_comes_from() {
    let shelf = Shelf::with_rule(RULE);
    let book = load(&shelf);
    let authors = &book.rules[0].authors;
    assert_eq!(authors.book, "parks");
    let said: Vec<String> = (authors.fields.iter())
        .map(|(field, author)| {
            let source = shelf.sources.get(author.at.source).unwrap();
            format!("{field} {}", source.line_column(author.at.start).line)
        })
        .collect();
    // Counted by hand in the text of the rule.
    let lines = [
        "applies 9",
        "because 7",
        "cautions 22",
        "corrections 17",
        "due 4",
        "each 8",
        "limits.clearance 11",
        "limits.clearance.words 11",
        "limits.low 12",
        "limits.low.words 12",
        "obligation 3",
        "requires 13",
        "rule 1",
        "source.basis 6",
        "source.document 6",
        "source.section 6",
        "subject 5",
        "title 2",
        "unmet 16",
    ];
    assert_eq!(said, lines);
    assert_eq!(authors.fields["limits.clearance"].text, "3 ft");
    assert!(authors.fields.values().all(|author| author.amendment.is_none() && author.replaced.is_none()));
}

#[test]
fn expressions_may_be_plain_quoted_or_in_blocks() {
    let plain = "requires: hedge.clearance >= clearance\n  or hedge.height <= low\n";
    let block = "requires: |\n  hedge.clearance >= clearance\n  or hedge.height <= low\n";
    assert!(RULE.contains(block));
    let book = load(&Shelf::with_rule(RULE));
    for written in [
        plain,
        "requires: >-\n  hedge.clearance >= clearance\n\n  or hedge.height <= low\n",
        "requires: \"hedge.clearance >= clearance \\\n  or hedge.height <= low\"\n",
        "requires: 'hedge.clearance >= clearance or hedge.height <= low'\n",
    ] {
        let shelf = Shelf::with_rule(&RULE.replace(block, written));
        let other = load(&shelf);
        assert_eq!(
            other.rules[0].fingerprint(&vocabulary()),
            book.rules[0].fingerprint(&vocabulary()),
            "{written}"
        );
        let broken = Shelf::with_rule(&RULE.replace(block, &written.replace("height", "hieght")));
        let problems = CheckedBook::load(&broken.files(), &vocabulary()).unwrap_err();
        assert_eq!(broken.sources.slice(problems[0].at), "hieght", "{written}");
    }
}

#[test]
fn one_fault_anywhere_and_there_is_no_book() {
    let second =
        RULE.replace("rule: hedge-clear-of-path", "rule: another").replace("hedge.height", "hedge.hieght");
    let shelf = Shelf::new(&[
        ("parks/hedges/another.yaml", &second),
        ("parks/hedges/hedge-clear-of-path.yaml", &RULE.replace("clearance >=", "clearence >=")),
        ("parks/book.yaml", &BOOK.replace("edition: second\n", "")),
        ("parks/README.md", "not a file of the book"),
        ("parks/stray.yaml", "x: 1"),
    ]);
    insta::assert_snapshot!(refused(&shelf));
}

#[test]
fn a_book_needs_its_file_and_a_name_of_its_own_for_each_rule() {
    let none = Shelf::new(&[("parks/hedges/hedge-clear-of-path.yaml", RULE)]);
    assert!(refused(&none).contains("without its file `book.yaml`"));
    let nothing = CheckedBook::load(&[], &vocabulary()).unwrap_err();
    assert_eq!(nothing[0].kind, ProblemKind::BadRule);
    let twice = Shelf::new(&[
        ("parks/book.yaml", BOOK),
        ("parks/hedges/hedge-clear-of-path.yaml", RULE),
        ("parks/paths/hedge-clear-of-path.yaml", RULE),
    ]);
    assert!(refused(&twice).contains("name-clash"));
    let renamed = Shelf::new(&[("gardens/book.yaml", BOOK)]);
    assert!(refused(&renamed).contains("name-differs-from-file"));
}

#[test]
fn a_book_may_lie_at_any_depth_and_with_any_line_ends() {
    let dos = (BOOK.replace('\n', "\r\n"), RULE.replace('\n', "\r\n"));
    let shelf = Shelf::new(&[
        ("rules/parks/book.yaml", &dos.0),
        ("rules/parks/hedges/hedge-clear-of-path.yaml", &dos.1),
    ]);
    let book = load(&shelf);
    assert_eq!(
        book.rules[0].fingerprint(&vocabulary()),
        load(&Shelf::with_rule(RULE)).rules[0].fingerprint(&vocabulary())
    );
    assert_eq!(book.digest(&vocabulary()), load(&Shelf::with_rule(RULE)).digest(&vocabulary()));
}

#[test]
fn broken_base_designs_and_cases_do_not_keep_a_book_from_loading() {
    let shelf = Shelf::with_rule(&RULE.replace("verdict: met", "verdict: [maybe"));
    let book = load(&shelf);
    assert!(cases(&book, &book.rules[0], &shelf.sources).is_err());
}

#[test]
fn cases_are_read_when_asked_for_with_their_places() {
    let shelf = Shelf::with_rule(RULE);
    let book = load(&shelf);
    let found = cases(&book, &book.rules[0], &shelf.sources).unwrap();
    assert_eq!(found.len(), 2);
    assert_eq!(found[0].claim, "a low hedge may stand close");
    assert_eq!(found[0].with[1].path, "hedges.front.corners");
    assert_eq!(found[0].with[1].text, "[[0 ft, 1 ft], [2 ft, 3 ft]]");
    assert_eq!(shelf.sources.slice(found[0].with[0].at), "1 ft");
    assert_eq!(found[0].thing.as_deref(), Some("front"));
    assert_eq!(found[0].verdict, Outcome::Met);
    assert_eq!(shelf.sources.slice(found[0].verdict_at), "met");
    assert_eq!(
        found[1].missing.iter().map(|(path, _)| path.as_str()).collect::<Vec<_>>(),
        ["hedges.front.height", "hedges.front.clearance"]
    );
    assert_eq!(found[1].stage, Some(Stage::Installed));
}

#[test]
fn what_is_said_of_broken_cases() {
    let mut page = String::new();
    for (from, to) in [
        ("from: plot", "from: plott"),
        ("verdict: met", "verdict: fine"),
        ("    at: front\n", "    att: front\n"),
        ("    verdict: met\n", ""),
        ("  - claim: a low", "  claim: a low"),
    ] {
        let shelf = Shelf::with_rule(&RULE.replacen(from, to, 1));
        let book = load(&shelf);
        let problems = cases(&book, &book.rules[0], &shelf.sources).unwrap_err();
        page +=
            &format!("# {} instead of {}\n{}\n", to.trim(), from.trim(), shown(&problems, &shelf.sources));
    }
    insta::assert_snapshot!(page);
}

/// The fingerprint of the rule and the digest of the book when this is changed in the rule.
fn digests(changes: &[(&str, &str)]) -> (String, String) {
    let rule = changes.iter().fold(RULE.to_owned(), |rule, (from, to)| {
        assert!(rule.contains(from), "{from}");
        rule.replace(from, to)
    });
    let book = load(&Shelf::with_rule(&rule));
    (book.rules[0].fingerprint(&vocabulary()), book.digest(&vocabulary()))
}

#[test]
fn a_fingerprint_is_of_the_meaning_alone() {
    let (fingerprint, digest) = digests(&[]);
    assert!(fingerprint.starts_with("r-") && fingerprint.len() == 66, "{fingerprint}");
    assert!(digest.starts_with("b-") && digest.len() == 66, "{digest}");
    let low = "  low: {value: 2 ft, words: at most}\n";
    let clearance = "  clearance: {value: 3 ft, words: at least}\n";
    for same in [
        vec![("title:", "# a comment\ntitle:")],
        vec![("verdict: met", "verdict: unmet")],
        vec![(clearance, ""), (low, &format!("{low}{clearance}"))],
        vec![("obligation: shall\ndue: design\n", "due: design\nobligation: shall\n")],
        vec![(
            "  hedge.clearance >= clearance\n  or hedge.height <= low",
            "  low >= hedge.height or clearance <= hedge.clearance",
        )],
        vec![("value: 3 ft", "value: 36 in")],
        vec![("hedge in hedges", "h in hedges"), ("hedge.", "h."), ("{hedge}", "{h}")],
    ] {
        assert_eq!(digests(&same), (fingerprint.clone(), digest.clone()), "{same:?}");
    }
}

#[test]
fn a_fingerprint_changes_with_every_part_of_the_meaning() {
    let (fingerprint, digest) = digests(&[]);
    for other in [
        ("obligation: shall", "obligation: should"),
        ("due: design", "due: installed"),
        ("due: design", "due: design\ndisputed: yes"),
        ("due: design", "due: design\nstops: start_up"),
        ("subject: hedges/paths", "subject: hedges/walks"),
        ("applies: open_to_visitors and hedge.in.sunny\n", ""),
        ("open_to_visitors and", "open_to_visitors or"),
        ("value: 3 ft", "value: 4 ft"),
        ("words: at most", "words: less than"),
        ("hedge.height <= low", "hedge.height < low"),
        ("hedge.in.sunny", "hedge.plant is yew"),
    ] {
        let (changed, _) = digests(&[other]);
        assert_ne!(changed, fingerprint, "{other:?}");
    }
    for words in [
        ("wets everybody", "scratches everybody"),
        ("is asked for", "is wanted"),
        ("[thorns]", "[bees]"),
        ("section: 4.2", "section: 4.3"),
    ] {
        let (same, changed) = digests(&[words]);
        assert_eq!(same, fingerprint, "{words:?}");
        assert_ne!(changed, digest, "{words:?}");
    }
}

#[test]
fn braces_in_messages_may_be_meant_as_such_and_values_may_be_worked_out() {
    let told = |message: &str| {
        let rule = RULE.lines().map(|line| if line.starts_with("unmet:") { message } else { line });
        load(&Shelf::with_rule(&rule.collect::<Vec<_>>().join("\n"))).rules[0].unmet.clone()
    };
    assert_eq!(told("unmet: '{{so}} it is'").0, [Piece::Words("{so} it is".to_owned())]);
    let worked_out =
        told("unmet: \"only {count of hedges}, {clearance - hedge.clearance} more is asked for; {motto}\"");
    let values = worked_out.0.iter().filter(|piece| matches!(piece, Piece::Value(_))).count();
    assert_eq!(values, 3);
    let sided = told("unmet: '{hedge} is {hedge.clearance, above or below or level with} the path'").0;
    let [Piece::Value(_), Piece::Words(_), Piece::Sided(_, sides), Piece::Words(rest)] = sided.as_slice()
    else {
        panic!("{sided:?}")
    };
    assert_eq!((sides.above.as_str(), sides.below.as_str()), ("above", "below"));
    assert_eq!((sides.level.as_deref(), rest.as_str()), (Some("level with"), " the path"));
    let block = told("unmet: |\n  {hedge} is too\n  near");
    assert_eq!(block.0.last(), Some(&Piece::Words(" is too near".to_owned())));
}

#[test]
fn no_change_to_a_file_brings_the_loader_down_and_every_place_lies_in_its_text() {
    const BITS: &[&str] =
        &["\n", "  ", ": ", "- ", "{", "}", "[", "'", "\"", "|", ">", "#", "é", "😀", "cases:", "\t", "\r"];
    let mut dice = Dice::new();
    let mut sound = 0;
    for round in 0..2_000 {
        let mut texts = [BOOK.to_owned(), RULE.to_owned()];
        let text = &mut texts[usize::from(round % 4 > 0)];
        for _ in 0..=dice.below(2) {
            let places: Vec<usize> = text.char_indices().map(|(at, _)| at).collect();
            let at = places[dice.below(places.len())];
            let end = (at + dice.below(4)).min(text.len());
            let end = (end..=text.len()).find(|end| text.is_char_boundary(*end)).unwrap();
            text.replace_range(at..end, BITS[dice.below(BITS.len())]);
        }
        let shelf = Shelf::new(&[
            ("parks/book.yaml", &texts[0]),
            ("parks/hedges/hedge-clear-of-path.yaml", &texts[1]),
            ("parks/cases/plot.yaml", "beds: {}\n"),
        ]);
        let problems = match CheckedBook::load(&shelf.files(), &vocabulary()) {
            Ok(book) => {
                sound += 1;
                cases(&book, &book.rules[0], &shelf.sources).err().unwrap_or_default()
            }
            Err(problems) => {
                assert!(!problems.is_empty());
                problems
            }
        };
        for problem in problems {
            let text = shelf.sources.get(problem.at.source).unwrap().text();
            assert!(text.get(problem.at.range()).is_some(), "{problem:?} in {text}");
        }
    }
    assert!(sound > 50, "{sound} of the changed books are still sound");
}
