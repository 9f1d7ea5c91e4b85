//! Promise 9: the form for the walk round the house, and back. Everything that is not known, not yet due or left to the eye
//! stands in it once, in the order in which one walks; the field notes as they come change nothing; filled in, every answer
//! is found again with the name and the day of whoever looked.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use undercroft::base::text::Sources;
use undercroft::base::value::EntryPath;
use undercroft::correct::form::{Form, form};
use undercroft::drawing::Paper as Size;
use undercroft::facts::walked::{Room, Stand};
use undercroft::findings::Finding;
use undercroft::findings::compare::account::Program;
use undercroft::findings::finding::Comes;
use undercroft::findings::looked::{LookedAt, Saw, name_of_eye, name_of_finding};
use undercroft::judge::verdict::Verdict;
use undercroft::render::html;
use undercroft::render::tell::tell;
use undercroft::render::terminal::Show;
use undercroft::render::walkthrough::{InNotes, paper, told};
use undercroft::review::walk::{Asked, Station, Walk, is_to_be_measured, walk};
use undercroft::review::{Input, Review, review};
use undercroft::rulebook::checked::Stage;
use undercroft::yaml::path::Path as EntryOf;
use undercroft::yaml::scan;
use undercroft::yaml::splice::lay_over;

use super::{BOOKS, by_all_hands};
use unicode_width::UnicodeWidthStr;

use crate::commands::{call, call_examples, example, example_names, example_paths, examples};
use crate::drawings::LIBRARY;

/// Of the houses of the books' cases, each with one of the books that start from it, one in so many is walked round.
const ONE_IN: usize = 11;

/// The designs that are walked round: every example, and houses of the books' cases with their book adopted.
fn designs() -> Vec<(String, String)> {
    let mut all: Vec<(String, String)> =
        example_names().into_iter().map(|name| (name.clone(), example(&name))).collect();
    let (books, _) = BOOKS.all();
    let mut houses = BTreeSet::new();
    for book in books {
        for house in &book.base_designs {
            let text = BOOKS.sources.get(house.source).unwrap().text();
            if houses.insert((text, &book.name)) && houses.len().is_multiple_of(ONE_IN) {
                let adopted = format!("{{{}: adopted}}", book.name);
                let text = lay_over(text, &[("job.rulebooks", &adopted)], &[]).unwrap();
                all.push((format!("{} of {}", house.name, book.name), text));
            }
        }
    }
    all
}

fn input<'a>(text: &'a str, notes: &'a [&'a str]) -> Input<'a> {
    let field_notes = notes.iter().map(|text| ("walked.yaml", text.as_bytes())).collect();
    Input { name: "design.yaml", bytes: text.as_bytes(), field_notes, ..Input::default() }
}

fn walked(text: &str) -> (Walk<'static>, Form) {
    let input = input(text, &[]);
    let walk = walk(&input, &LIBRARY);
    let form = form(&walk, &input, &LIBRARY, &InNotes::of(&walk));
    (walk, form)
}

/// What every clause comes to.
fn verdicts(review: &Review<'_>) -> BTreeMap<String, Vec<(usize, usize, Verdict)>> {
    let of = |finding: &Finding| {
        let clauses = finding.clauses.iter().map(|one| (one.book, one.rule, one.verdict));
        let mut clauses: Vec<_> = clauses.collect();
        clauses.sort_unstable();
        (finding.identity.clone(), clauses)
    };
    review.findings.iter().map(of).collect()
}

/// Where a place comes on the walk: panel, basement, crawlspace, rooms, attic, outside, roof, papers, and what has no place.
fn turn(station: &Station) -> usize {
    match station {
        Station::BeforeDrilling => 0,
        Station::At(Stand::Panel) => 1,
        Station::At(Stand::In(Room::Basement, ..)) => 2,
        Station::At(Stand::In(Room::Crawlspace, ..)) => 3,
        Station::At(Stand::In(Room::Other, ..)) => 4,
        Station::At(Stand::In(Room::Attic, ..)) => 5,
        Station::At(Stand::Throughout) => 6,
        Station::At(Stand::Outside) => 7,
        Station::At(Stand::Roof) => 8,
        Station::At(Stand::Papers) => 9,
        Station::At(Stand::Nowhere) => 10,
        Station::ToTheEye => 11,
    }
}

/// What has to stand in the form of a review, by the names under which it is written down.
fn to_look_at(walk: &Walk<'_>) -> BTreeSet<String> {
    let review = &walk.now;
    let open = |finding: &&Finding| {
        let mut clauses = finding.clauses.iter();
        clauses.any(|one| matches!(one.verdict, Verdict::Undetermined | Verdict::NotYetDue))
    };
    // What is met by a number that was drawn is measured once it is built.
    let drawn = |finding: &&Finding| {
        let later = walk.ahead.findings.iter().find(|later| later.identity == finding.identity);
        is_to_be_measured(&walk.now, finding, later)
    };
    // What is not as it has to be may have been mended since.
    let amiss =
        |finding: &&Finding| matches!(finding.comes(), Comes::Unmet | Comes::Disputed | Comes::Varied);
    let wanted = |finding: &&Finding| amiss(finding) || open(finding) || drawn(finding);
    let findings = review.findings.iter().filter(wanted).map(|one| name_of_finding(&one.identity));
    // A book that does not cover the design asks nothing of it, and says so.
    let covers =
        |title: &str| !review.notes.iter().any(|note| note.starts_with(&format!("{title} does not cover")));
    let books = review.used.iter().map(|used| used.book).filter(|book| covers(&book.title));
    let eye = books.flat_map(|book| &book.left_to_the_eye).map(|(_, look_for)| name_of_eye(look_for));
    findings.chain(eye).collect()
}

/// Letters and digits alone, so that marks and entities are no matter.
fn bare(text: &str) -> String {
    let text = text.replace("&quot;", "").replace("&amp;", "").replace("&lt;", "").replace("&gt;", "");
    text.to_lowercase().chars().filter(|c| c.is_alphanumeric()).collect()
}

/// The form is whole, in order, and as it comes it changes nothing.
fn is_whole(name: &str, text: &str) -> usize {
    let (walk, form) = walked(text);
    let rows: Vec<&str> =
        walk.stations.iter().flat_map(|(_, rows)| rows).map(|row| row.name.as_str()).collect();
    let once: BTreeSet<String> = rows.iter().map(|row| (*row).to_owned()).collect();
    assert_eq!(once.len(), rows.len(), "{name}: a row stands twice");
    assert_eq!(once, to_look_at(&walk), "{name}");
    let turns: Vec<usize> = walk.stations.iter().map(|(station, _)| turn(station)).collect();
    assert!(turns.is_sorted(), "{name}: {turns:?}");

    // What is not as it has to be comes to the same on the walk as in the review.
    let lines: Vec<_> = told(&walk).into_iter().flat_map(|stop| stop.lines).collect();
    let reviewed = tell(&review(&input(text, &[]), &LIBRARY), Show::Everything);
    let unmet =
        |comes: &str| ["unmet", "not as asked", "variance on file"].iter().any(|own| comes.starts_with(own));
    for card in
        reviewed.sections.iter().flat_map(|section| &section.cards).filter(|card| unmet(&card.verdict))
    {
        // A variance that excuses nothing, and what was built otherwise, have cards that are no findings.
        let Some(at) = walk.now.findings.iter().position(|one| one.identity == card.identity) else {
            continue;
        };
        let named = name_of_finding(&walk.now.findings[at].identity);
        let line = lines.iter().find(|line| line.name == named);
        let line = line.unwrap_or_else(|| panic!("{name}: {named} is {} and has no row", card.verdict));
        assert_eq!(line.waits.trim_end_matches(", for information"), card.verdict, "{name}: {named}");
    }

    // The printed form has each row once, under its number, with clause, boxes and a line; what is asked alike of several
    // things stands in one article. Every book stands on it with its edition.
    let page = html::page(&paper::paper(&walk, &Program::own()), Size::Letter);
    let mut left = lines.iter();
    let mut number = 0;
    for article in page.split("<article").skip(1) {
        let own: Vec<_> = left.by_ref().take(article.matches("<div class=\"answer\"").count()).collect();
        assert!(!own.is_empty(), "{name}: {article}");
        assert_eq!(article.matches("class=\"tick\"").count(), 3 * own.len(), "{name}: {article}");
        assert_eq!(article.matches("class=\"line\"").count(), own.len(), "{name}: {article}");
        for line in &own {
            number += 1;
            assert!(
                article.contains(&format!("<span class=\"number\">{number}</span>")),
                "{name}: {article}"
            );
            assert_eq!((line.number, &line.title, &line.cited), (number, &own[0].title, &own[0].cited));
            for find in &line.find {
                assert!(bare(article).contains(&bare(&find.what)), "{name}: {find:?} in {article}");
            }
            for (_, words) in &line.numbers {
                assert!(bare(article).contains(&bare(words)), "{name}: {words} in {article}");
            }
        }
        assert!(!own[0].cited.is_empty() && own[0].clauses.len() == own[0].cited.len(), "{name}");
        for (clause, cited) in own[0].clauses.iter().zip(&own[0].cited) {
            let book = own[0].books.iter().find(|book| clause.starts_with(book.as_str())).unwrap();
            let edition = &LIBRARY.book(book).unwrap().as_ref().unwrap().edition;
            assert!(
                clause.contains(edition.as_str()) && cited.starts_with(book.as_str()),
                "{name}: {clause}"
            );
            assert!(bare(article).contains(&bare(cited)), "{name}: {cited}");
            assert!(bare(&page).contains(&bare(edition)), "{name}: {edition}");
        }
    }
    assert_eq!(number, rows.len(), "{name}");
    for (station, own) in told(&walk).iter().map(|stop| (&stop.heading, stop.lines.len())) {
        assert!(own > 0, "{name}: {station} has no row");
    }

    // As it comes it reads and changes nothing.
    let notes = [form.text.as_str()];
    let bare = review(&input(text, &[]), &LIBRARY);
    let laid = review(&input(text, &notes), &LIBRARY);
    assert_eq!(verdicts(&laid), verdicts(&bare), "{name}\n{}", form.text);
    let missing = |review: &Review<'_>| -> Vec<_> {
        let clauses = review.findings.iter().flat_map(|one| &one.clauses);
        clauses.flat_map(|one| one.missing.clone()).collect()
    };
    assert_eq!(missing(&laid), missing(&bare), "{name}\n{}", form.text);
    assert_eq!(laid.wanted, bare.wanted, "{name}\n{}", form.text);
    assert_eq!(laid.departures, bare.departures, "{name}\n{}", form.text);
    assert_eq!(laid.problems.len(), bare.problems.len(), "{name}: {:#?}\n{}", laid.problems, form.text);
    assert!(laid.looked.is_empty() && laid.stage == bare.stage && laid.on == bare.on, "{name}");
    comes_back(name, text, &walk, &form);
    rows.len()
}

/// How the row of this number is answered.
fn answer(number: usize) -> (&'static str, Saw) {
    match number % 3 {
        0 => ("no", Saw::Otherwise),
        1 => ("yes", Saw::AsItShouldBe),
        _ => ("unknown", Saw::CouldNotSee),
    }
}

/// The form with its head and every row filled in.
fn filled(walk: &Walk<'_>, form: &Form) -> String {
    let mut text = form.text.clone();
    for (key, says) in [("date", "2031-01-02"), ("by", "R. Cole"), ("stage", "operating")] {
        text = text.replacen(&format!("\n  {key}: unknown "), &format!("\n  {key}: {says} "), 1);
    }
    let rows = walk.stations.iter().flat_map(|(_, rows)| rows);
    for (number, row) in rows.enumerate() {
        let blank = format!("\n  {}:   #", row.name);
        assert_eq!(text.matches(&blank).count(), 1, "{}", row.name);
        text = text.replacen(&blank, &format!("\n  {}: {}   #", row.name, answer(number).0), 1);
    }
    text
}

/// What is typed in is found again, and nothing of it is lost.
fn comes_back(name: &str, text: &str, walk: &Walk<'_>, form: &Form) {
    let filled = filled(walk, form);
    let notes = [filled.as_str()];
    let laid = review(&input(text, &notes), &LIBRARY);
    assert_eq!(laid.stage, Stage::Operating, "{name}");
    let later = laid.findings.iter().flat_map(|finding| &finding.clauses);
    assert_eq!(later.filter(|one| one.verdict == Verdict::NotYetDue).count(), 0, "{name}");
    let rows: Vec<_> = walk.stations.iter().flat_map(|(_, rows)| rows).collect();
    assert_eq!(laid.looked.len(), rows.len(), "{name}");
    let page = tell(&laid, Show::OpenItems);
    let (_, seen) = page.lists.iter().find(|(heading, _)| heading == "Seen on site").unwrap();
    assert_eq!(seen.len(), rows.len(), "{name}");
    assert!(seen.iter().all(|line| line.contains("R. Cole, 2 January 2031 (walked.yaml, line ")), "{name}");
    for (number, row) in rows.iter().enumerate() {
        let found: Vec<_> = laid.looked.iter().filter(|one| one.name == row.name).collect();
        let [found] = found.as_slice() else { panic!("{name}: {} comes back {found:?}", row.name) };
        assert_eq!(found.saw, answer(number).1, "{name}: {}", row.name);
        assert_eq!((found.by.as_deref(), found.on.as_deref()), (Some("R. Cole"), Some("2031-01-02")));
        match (&row.of, &found.of) {
            (Asked::Finding { now, .. }, LookedAt::Finding(identity)) => {
                assert_eq!(*identity, walk.now.findings[*now].identity, "{name}");
                assert!(laid.findings.iter().any(|one| one.identity == *identity), "{name}: {identity}");
            }
            (Asked::Eye(eye), LookedAt::Eye(look_for)) => assert_eq!(*look_for, eye.look_for, "{name}"),
            (asked, found) => panic!("{name}: {asked:?} comes back as {found:?}"),
        }
    }
    // What was seen decides nothing.
    let not_ticked = filled.split_once("\nchecked:").map_or(filled.as_str(), |(before, _)| before);
    assert_eq!(verdicts(&review(&input(text, &[not_ticked]), &LIBRARY)), verdicts(&laid), "{name}");
}

#[test]
fn everything_stands_in_the_form_once_in_walking_order_and_comes_back() {
    let designs = designs();
    assert!(designs.len() > 16, "{}", designs.len());
    let rows = by_all_hands(&designs, |(name, text)| (name.clone(), is_whole(name, text)));
    let all: usize = rows.iter().map(|(_, rows)| rows).sum();
    assert!(all > 700, "{all}");
}

/// Measured in the house of an example, and taken out of its file.
const MEASURED: [(&str, &str); 5] = [
    ("01", "systems.main.discharge.above_roof"),
    ("01", "foundation.areas.crawl.membrane.thickness"),
    ("01", "systems.main.gauge.visible"),
    ("01", "before_drilling.radiant_tubing"),
    ("11", "systems.main.fan.in"),
];

#[test]
fn what_some_clause_waits_for_does_not_hide_that_the_finding_is_unmet() {
    // One book takes suspicion for enough, the other asks what came of the test.
    let (walk, _) = walked(&example("02"));
    let lines: Vec<_> = told(&walk).into_iter().flat_map(|stop| stop.lines).collect();
    let asbestos = lines.iter().find(|line| line.title == "No asbestos where the drill goes").unwrap();
    assert_eq!(asbestos.waits, "unmet");
    assert!(asbestos.clauses.iter().any(|clause| clause.contains("by this clause can't tell yet")));
}

#[test]
fn a_label_on_pipe_is_looked_at_where_it_is_and_not_in_any_room_of_its_storey() {
    // The label of the ground floor is in the closet that the riser passes; the kitchen is on the same storey.
    for number in ["07", "10"] {
        let (walk, _) = walked(&example(number));
        let stops = told(&walk);
        let here = stops.iter().find(|stop| {
            stop.lines.iter().any(|line| line.thing == "the ground floor" && line.title.contains("Label"))
        });
        assert_eq!(here.unwrap().heading, "Hall closet", "{number}");
    }
}

#[test]
fn what_was_drawn_is_to_be_measured_with_its_tolerance() {
    let (walk, _) = walked(&example("01"));
    let lines: Vec<_> = told(&walk).into_iter().flat_map(|stop| stop.lines).collect();
    // Drawn 22 in above the roof where 12 in are asked for: 10 in to spare. Drawn 17 ft 6 in above the ground
    // where 10 ft are asked for: 7 ft 6 in. A cord of 5 ft where 6 ft are allowed: 1 ft.
    for (title, spare) in [
        ("Discharge through the roof well above its surface", "up to 10 in less than stated is still enough"),
        ("Discharge high above the nearest ground", "up to 7 ft 6 in less than stated is still enough"),
        ("Fan cord short", "up to 1 ft more than stated is still right"),
    ] {
        let line = lines.iter().find(|line| line.title == title).unwrap();
        assert!(line.numbers.contains(&("tolerance".to_owned(), spare.to_owned())), "{line:?}");
        assert_eq!(line.waits, "met as drawn: measure it");
    }
}

#[test]
fn what_was_taken_out_of_a_design_and_is_typed_back_in_decides_as_it_did() {
    let mut tried = 0;
    for (number, entry) in MEASURED {
        let whole = example(number);
        let value = value_of(&whole, entry);
        let text = lay_over(&whole, &[], &[entry]).unwrap();
        let (_, form) = walked(&text);
        let path = EntryPath::new(entry);
        assert!(form.blanks.contains(&path), "{number}: {entry} has no blank\n{}", form.text);
        // On the day of the design, so that nothing but the entry is another.
        let day = value_of(&whole, "job.date");
        let filled = [(entry, value.as_str()), ("job.date", day.as_str()), ("job.by", "R. Cole")];
        let filled = lay_over(&form.text, &filled, &[]).unwrap();
        let laid = review(&input(&text, &[&filled]), &LIBRARY);
        assert_eq!(laid.problems, [], "{number}: {entry}");
        let open =
            |review: &Review<'_>| review.findings.iter().filter(|one| one.comes() == Comes::Open).count();
        let bare = review(&input(&text, &[]), &LIBRARY);
        let before = review(&input(&whole, &[]), &LIBRARY);
        assert!(open(&bare) > open(&before), "{number}: {entry} settles nothing");
        assert_eq!(verdicts(&laid), verdicts(&before), "{number}: {entry}");
        tried += 1;
    }
    assert_eq!(tried, MEASURED.len());
}

/// What a file says at an entry.
fn value_of(text: &str, entry: &str) -> String {
    let mut sources = Sources::new();
    let id = sources.add("a.yaml", text);
    let (tree, _) = scan::read(id, text);
    let (node, _) = EntryOf::parse(entry).unwrap().resolve(&tree).unwrap_or_else(|| panic!("no {entry}"));
    sources.slice(tree.node(node).unwrap().span).to_owned()
}

#[test]
fn the_form_needs_no_other_file_and_every_link_of_it_leads_somewhere() {
    let path = example_paths().remove(0);
    let page = call_examples(&["walkthrough", &path, "--as", "html"]).printed;
    let values = |front: &str| -> Vec<&str> {
        page.match_indices(front).filter_map(|(at, _)| page[at + front.len()..].split('"').next()).collect()
    };
    let ids = values(" id=\"");
    let once: BTreeSet<&str> = ids.iter().copied().collect();
    assert_eq!(once.len(), ids.len());
    let links = values("href=\"");
    assert!(links.len() > 4, "{links:?}");
    for link in links {
        assert!(link.strip_prefix('#').is_some_and(|to| once.contains(to)), "{link}");
    }
    for wanting in ["src=", "url(", "http://", "https://", "<link", "<input type=\"check"] {
        assert!(!page.contains(wanting), "{wanting}");
    }
}

#[test]
fn the_walk_on_a_terminal_keeps_to_its_width_and_the_notes_go_into_a_new_file_only() {
    let path = example_paths().remove(0);
    for width in ["40", "80", "160"] {
        let page = call_examples(&["walkthrough", &path, "--width", width]).printed;
        let most: usize = width.parse().unwrap();
        assert!(page.lines().all(|line| line.width() <= most), "{width}\n{page}");
    }
    let mut world = examples();
    let wanted = ["walkthrough", &path, "--as", "notes", "--out", "walked.yaml"];
    assert_eq!(call(&mut world, &wanted).status, 0);
    let written = world.files["walked.yaml"].clone();
    let came = call(&mut world, &["review", &path, "--field-notes", "walked.yaml"]);
    assert!(
        !came.printed.contains("place to mend") && !came.printed.contains("places to mend"),
        "{}",
        came.printed
    );
    assert_eq!(call(&mut world, &wanted).status, 2);
    assert_eq!(world.files["walked.yaml"], written);
}

/// The example beside which the walk lies, as a page and as field notes.
const BESIDE: &str = "03";

#[test]
fn the_walk_beside_an_example_is_as_the_program_makes_it() {
    let name = example_names().into_iter().find(|name| name.starts_with(BESIDE)).unwrap();
    let mut changed = Vec::new();
    for (form, file) in [("text", "walk.txt"), ("notes", "walk.yaml")] {
        let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(&name).join(file);
        let made =
            call_examples(&["walkthrough", &format!("examples/{name}/design.yaml"), "--as", form]).printed;
        if fs::read_to_string(&file).ok().as_deref() != Some(&made) {
            fs::write(&file, &made).unwrap();
            changed.push(form);
        }
    }
    assert!(changed.is_empty(), "written anew, look at them: {changed:?}");
}
