//! The commands as a person calls them: what they print, what they write, with which status they leave. Run in
//! a world of memory, with the books and examples of the project.

use std::fs;
use std::path::Path;

use undercroft::app::host::memory::Memory;
use undercroft::cli::{Screen, run};
use undercroft::yaml::splice::lay_over;

/// What came of a call: status, what was printed, what was told beside it.
pub(crate) struct Came {
    pub(crate) status: u8,
    pub(crate) printed: String,
    pub(crate) told: String,
}

/// Calls the program in this world.
pub(crate) fn call(world: &mut Memory, arguments: &[&str]) -> Came {
    let arguments = std::iter::once("undercroft").chain(arguments.iter().copied()).map(Into::into);
    let status = run(arguments, world, Screen::default());
    Came { status, printed: std::mem::take(&mut world.printed), told: std::mem::take(&mut world.told) }
}

/// The folders of the examples, in order.
pub(crate) fn example_names() -> Vec<String> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let mut names: Vec<String> = fs::read_dir(root)
        .unwrap()
        .map(|entry| entry.unwrap())
        .filter(|entry| entry.path().join("design.yaml").is_file())
        .map(|entry| entry.file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    assert!(names.len() >= 4, "{names:?}");
    names
}

/// The text of an example whose folder begins with this number.
pub(crate) fn example(number: &str) -> String {
    let name = example_names().into_iter().find(|name| name.starts_with(number)).unwrap();
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name).join("design.yaml"))
        .unwrap()
}

/// A world with all examples, every file under its own path.
pub(crate) fn examples() -> Memory {
    fn put(world: &mut Memory, folder: &Path, name: &str) {
        for entry in fs::read_dir(folder).unwrap().map(|entry| entry.unwrap()) {
            let name = format!("{name}/{}", entry.file_name().to_string_lossy());
            if entry.path().is_dir() {
                put(world, &entry.path(), &name);
            } else if name.ends_with(".yaml") {
                world.files.insert(name, fs::read(entry.path()).unwrap());
            }
        }
    }
    let mut world = Memory::default();
    put(&mut world, &Path::new(env!("CARGO_MANIFEST_DIR")).join("examples"), "examples");
    world
}

/// The folders of rulebooks that examples bring along.
pub(crate) fn example_rulebooks() -> Vec<String> {
    let folder = |name| format!("examples/{name}/rulebooks");
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    example_names().into_iter().map(folder).filter(|folder| root.join(folder).is_dir()).collect()
}

/// Calls the program about examples in a world that holds them, with the rulebooks that they bring along.
pub(crate) fn call_with_their_books(world: &mut Memory, arguments: &[&str]) -> Came {
    let brought = example_rulebooks();
    let brought = brought.iter().flat_map(|folder| ["--rulebooks", folder]);
    call(world, &arguments.iter().copied().chain(brought).collect::<Vec<_>>())
}

/// The same in the world of the examples.
pub(crate) fn call_examples(arguments: &[&str]) -> Came {
    call_with_their_books(&mut examples(), arguments)
}

/// The paths of the designs in that world.
pub(crate) fn example_paths() -> Vec<String> {
    example_names().into_iter().map(|name| format!("examples/{name}/design.yaml")).collect()
}

fn with(text: &str, values: &[(&str, &str)], removals: &[&str]) -> String {
    lay_over(text, values, removals).unwrap()
}

#[test]
fn each_way_to_leave_has_its_own_status() {
    let clean = example("01");
    let faulty = example("02");
    let half = example("03");
    let post_tensioned = with(&clean, &[("before_drilling.post_tension", "yes")], &[]);
    let nobody_knows = with(&clean, &[("before_drilling.post_tension", "unknown")], &[]);
    let unread = with(&clean, &[("building.stories", "[1, 2]")], &[]);
    let no_book = with(&clean, &[], &["job.rulebooks"]);
    let for_information = with(&clean, &[("job.rulebooks", "{epa-1994: for information}")], &[]);
    let unknown_book = with(&clean, &[("job.rulebooks", "{pensylvania-2019: adopted}")], &[]);
    let mut world = Memory::with([
        ("clean.yaml", clean.as_str()),
        ("faulty.yaml", &faulty),
        ("half.yaml", &half),
        ("post.yaml", &post_tensioned),
        ("nobody.yaml", &nobody_knows),
        ("unread.yaml", &unread),
        ("nobook.yaml", &no_book),
        ("info.yaml", &for_information),
        ("unknown.yaml", &unknown_book),
        ("empty.yaml", ""),
        ("blank.yaml", "# nothing\n"),
        ("folder/inner.yaml", "undercroft: 1\n"),
    ]);
    world.files.insert("binary.yaml".into(), vec![0, 159, 146, 150, 0xff, 0xfe]);
    let table: &[(&[&str], u8)] = &[
        (&["--help"], 0),
        (&["review", "--help"], 0),
        (&["--version"], 0),
        (&["review", "clean.yaml"], 0),
        (&["review", "faulty.yaml"], 1),
        (&["review", "post.yaml"], 1),
        (&["review", "--accept-undetermined", "post.yaml"], 1),
        (&["review", "half.yaml"], 3),
        (&["review", "nobody.yaml"], 3),
        (&["review", "--accept-undetermined", "nobody.yaml"], 3),
        (&["review", "unread.yaml"], 2),
        (&["review", "nobook.yaml"], 3),
        (&["review", "info.yaml"], 3),
        (&["review", "unknown.yaml"], 2),
        (&["review", "empty.yaml"], 2),
        (&["review", "blank.yaml"], 2),
        (&["review", "binary.yaml"], 2),
        (&["review", "folder"], 2),
        (&["review", "absent.yaml"], 2),
        (&["review", "clean.yaml", "half.yaml"], 3),
        (&["review", "half.yaml", "faulty.yaml"], 1),
        (&["review", "faulty.yaml", "absent.yaml", "clean.yaml"], 2),
        (&["review", "--on", "yesterday", "clean.yaml"], 2),
        (&["review", "--shop", "absent.yaml", "clean.yaml"], 2),
        (&["review", "--rulebooks", "absent", "clean.yaml"], 2),
        (&["review", "--rulebooks", "folder", "clean.yaml"], 2),
        (&["review", "--colr", "clean.yaml"], 2),
        (&["reviw", "clean.yaml"], 2),
        (&["review"], 2),
        (&[], 2),
        (&["clause", "discharge-clear-of-openings"], 0),
        (&["clause", "no-such-thing-at-all"], 2),
        (&["rulebook", "list"], 0),
        (&["rulebook", "list", "clean.yaml"], 0),
        (&["rulebook", "words"], 0),
        (&["rulebook", "words", "opening"], 0),
        (&["rulebook", "words", "opning"], 2),
        (&["rulebook", "prove", "work-safety"], 0),
        (&["rulebook", "prove", "no-such-book"], 2),
        (&["site-visit", "--questions"], 0),
    ];
    for (arguments, status) in table {
        let came = call(&mut world, arguments);
        assert_eq!(came.status, *status, "{arguments:?}\n{}\n{}", came.printed, came.told);
        let said = format!("{}{}", came.printed, came.told);
        assert!(!said.is_empty(), "{arguments:?}");
        assert!(!said.chars().any(|c| c.is_control() && c != '\n'), "{arguments:?}: {said:?}");
    }
}

#[test]
fn undetermined_can_be_accepted_where_nothing_waits_for_it() {
    let text = with(&example("01"), &[], &["systems.main.discharge.direction"]);
    let mut world = Memory::with([("a.yaml", text.as_str())]);
    let came = call(&mut world, &["review", "a.yaml"]);
    assert_eq!(came.status, 3, "{}", came.printed);
    assert!(came.printed.contains("needs discharge: which way the gas leaves"), "{}", came.printed);
    let came = call(&mut world, &["review", "--accept-undetermined", "a.yaml"]);
    assert_eq!(came.status, 0, "{}", came.printed);
}

#[test]
fn a_file_that_cannot_be_read_is_told_with_what_lies_beside_it() {
    let mut world = examples();
    let came = call(&mut world, &["review", "examples/01-two-area-ranch/desing.yaml"]);
    assert!(came.told.contains("is not there"), "{}", came.told);
    assert!(came.told.contains("Perhaps examples/01-two-area-ranch/design.yaml was meant."), "{}", came.told);
    let came = call(&mut world, &["review", "examples/01-two-area-ranch"]);
    assert!(came.told.contains("is a folder, not a file"), "{}", came.told);
    assert!(came.told.contains("examples/01-two-area-ranch/design.yaml"), "{}", came.told);
}

#[test]
fn a_book_that_is_not_known_is_told_with_the_books_there_are() {
    let text = with(&example("01"), &[("job.rulebooks", "{pensylvania-2019: adopted}")], &[]);
    let mut world = Memory::with([("a.yaml", text.as_str())]);
    let came = call(&mut world, &["review", "a.yaml"]);
    assert!(came.printed.contains("Perhaps \"pennsylvania-2019\" was meant."), "{}", came.printed);
    assert!(came.printed.contains("epa-1994"), "{}", came.printed);
    assert!(came.printed.contains("Nothing was judged, which is never a success."), "{}", came.printed);
    let text = with(&example("01"), &[], &["job.rulebooks"]);
    let mut world = Memory::with([("a.yaml", text.as_str())]);
    let came = call(&mut world, &["review", "a.yaml"]);
    assert!(came.printed.contains("The design names no rulebook."), "{}", came.printed);
    assert!(came.printed.contains("pennsylvania-2019"), "{}", came.printed);
}

#[test]
fn a_broken_rulebook_gives_its_fault_on_its_own_line_and_no_verdict() {
    let text = with(&example("01"), &[("job.rulebooks", "{pennsylvania-2019: adopted, town: adopted}")], &[]);
    let book = "book: town\ntitle: Town\npublisher: Town\nedition: first\nin_force: {from: 2020-01-01}\nlegal_nature: Ordinance.\ncovers: All houses.\nsources:\n  act: {title: Act, publisher: Town, year: 2020, read_at: town hall, basis: read}\nleft_to_the_eye: []\nnot_held: []\n";
    let rule = "rule: no-cables\ntitle: No cables\nobligation: shall\ndue: design\nsubject: cables\nsource: {document: act, section: 1, basis: read}\nbecause: Cables hurt.\nrequires: not before_drilling.post_tenson\nunmet: There are cables.\n";
    let mut world = Memory::with([
        ("a.yaml", text.as_str()),
        ("books/town/book.yaml", book),
        ("books/town/drilling/no-cables.yaml", rule),
    ]);
    let came = call(&mut world, &["review", "--rulebooks", "books", "a.yaml"]);
    assert_eq!(came.status, 2);
    assert!(came.printed.contains("post_tenson"), "{}", came.printed);
    assert!(came.printed.contains("books/town/drilling/no-cables.yaml, line 8"), "{}", came.printed);
    assert!(!came.printed.contains("town: Town"), "{}", came.printed);
    assert!(came.printed.contains("The book town has 1 fault and gave no verdict."), "{}", came.printed);
    // The other books are judged all the same.
    assert!(came.printed.contains("29 met"), "{}", came.printed);
    let summary = call(&mut world, &["review", "--rulebooks", "books", "--show", "summary", "a.yaml"]);
    assert!(summary.printed.contains("The book town has 1 fault"), "{}", summary.printed);
    // Mended, the same book is used.
    world
        .files
        .insert("books/town/drilling/no-cables.yaml".into(), rule.replace("tenson", "tension").into_bytes());
    let came = call(&mut world, &["review", "--rulebooks", "books", "a.yaml"]);
    assert_eq!(came.status, 0, "{}", came.printed);
    // A folder that is the book itself will do.
    let came = call(&mut world, &["review", "--rulebooks", "books/town", "a.yaml"]);
    assert_eq!(came.status, 0, "{}{}", came.printed, came.told);
}

#[test]
fn the_shop_file_beside_a_design_is_read_and_a_link_is_not_followed_in_silence() {
    let text = example("01");
    let mut world =
        Memory::with([("job/design.yaml", text.as_str()), ("job/shop.yaml", "undercroft: 1\nfns: {}\n")]);
    let came = call(&mut world, &["review", "job/design.yaml"]);
    assert_eq!(came.status, 2, "{}", came.printed);
    assert!(came.printed.contains("job/shop.yaml, line 2"), "{}", came.printed);
    world.links.push("job/shop.yaml".into());
    let came = call(&mut world, &["review", "job/design.yaml"]);
    assert_eq!(came.status, 0, "{}", came.printed);
    assert!(
        came.printed.contains("job/shop.yaml is a link to another folder and was not read."),
        "{}",
        came.printed
    );
}

#[test]
fn the_day_is_an_argument_and_a_book_out_of_its_time_is_told() {
    let text = example("01");
    let mut world = Memory::with([("a.yaml", text.as_str())]);
    let came = call(&mut world, &["review", "a.yaml"]);
    assert!(came.printed.contains("reviewed for 12 May 2026"), "{}", came.printed);
    let came = call(&mut world, &["review", "--on", "2018-01-31", "a.yaml"]);
    assert!(came.printed.contains("reviewed for 31 January 2018"), "{}", came.printed);
    assert!(came.printed.contains("not in force on the day of this review"), "{}", came.printed);
}

#[test]
fn a_clause_is_shown_whole_or_found_by_a_word() {
    let mut world = Memory::default();
    let came = call(&mut world, &["clause", "discharge-clear-of-openings"]);
    for part in [
        "weight",
        "due",
        "numbers",
        "why",
        "clause",
        "how sure",
        "book",
        "Cases that prove it",
        "meaning",
        "r-",
    ] {
        assert!(came.printed.contains(part), "{part}:\n{}", came.printed);
    }
    for (name, number) in [
        ("epa-1994/discharge-above-ground", "at least 10 ft"),
        ("epa-1994/circuit-not-crowded", "at most 80 %"),
    ] {
        let came = call(&mut world, &["clause", name]);
        assert!(came.printed.contains(number), "{name} hides its number:\n{}", came.printed);
    }
    let came = call(&mut world, &["clause", "label"]);
    assert!(came.printed.lines().count() > 3, "{}", came.printed);
    let came = call(&mut world, &["clause", "discharge-clear-of-opnings"]);
    assert!(came.told.contains("Perhaps discharge-clear-of-openings was meant."), "{}", came.told);
}

#[test]
fn every_command_line_fault_is_said_without_a_programmers_words() {
    let mut world = Memory::with([("a.yaml", "undercroft: 1\n")]);
    for arguments in [
        &["review"][..],
        &["review", "--width", "20", "a.yaml"],
        &["review", "--width", "x", "a.yaml"],
        &["review", "--width"],
        &["review", "--as", "xml", "a.yaml"],
        &["review", "--on"],
        &["clause"],
        &["clause", "a", "b"],
        &["rulebook"],
        &["rulebook", "lst"],
        &["site-visit"],
        &["review", "--colr", "a.yaml"],
        &["frobnicate\u{1b}[31m"],
    ] {
        let came = call(&mut world, arguments);
        assert_eq!(came.status, 2, "{arguments:?}");
        let said = came.told.to_lowercase();
        for word in ["error", "argument", "unexpected", "invalid", "subcommand", "tip:"] {
            assert!(!said.contains(word), "{arguments:?}: {word}\n{}", came.told);
        }
        assert!(!came.told.contains('\u{1b}'), "{arguments:?}");
    }
}

#[test]
fn a_site_visit_left_blank_says_what_to_measure() {
    for foundation in ["slab", "crawlspace", "both", "sump"] {
        let mut world = Memory::default();
        let came = call(
            &mut world,
            &[
                "site-visit",
                "house.yaml",
                "--without-asking",
                "--answer",
                &format!("foundation={foundation}"),
                "--answer",
                "adopted=pennsylvania-2019",
                "--answer",
                "date=2026-05-12",
            ],
        );
        assert_eq!(came.status, 0, "{}", came.told);
        let came = call(&mut world, &["review", "house.yaml"]);
        assert_eq!(came.status, 3, "{foundation}\n{}", came.printed);
        assert!(came.printed.contains("What to measure or settle next"), "{}", came.printed);
        assert!(came.printed.contains("requirements ask for the entry"), "{}", came.printed);
        assert!(came.printed.contains("Do not drill: not known whether"), "{}", came.printed);
        assert!(!came.printed.contains("(unmet)"), "{foundation}\n{}", came.printed);
        // Nothing that is there is written over.
        let came = call(&mut world, &["site-visit", "house.yaml", "--without-asking"]);
        assert_eq!(came.status, 2);
        assert!(came.told.contains("already there"), "{}", came.told);
    }
}

#[test]
fn answering_the_questions_leads_to_the_first_verdicts() {
    let mut world = Memory::default();
    let typed = [
        "Ranch on Mill Road",
        "J. Ames",
        "12 May",
        "2026-05-12",
        "new sytem",
        "new system",
        "design",
        "pennsylvania-2019",
        "none",
        "epa-1994",
        "1",
        "both",
        "basement",
        "40 x 24",
        "40 ft x 24 ft",
        "gravel",
        "20 ft x 16 ft",
        "none",
        "yes",
        "no",
        "no",
        "no",
        "no",
        "no",
        "attic",
        "10 ft",
        "22 in",
        "up",
        "window",
        "kitchen",
        "yes",
        "6 ft",
        "6 ft",
        "1 ft",
        "yes",
        "yes",
    ];
    world.typed = typed.into_iter().map(str::to_owned).collect();
    let came = call(&mut world, &["site-visit", "house.yaml"]);
    assert_eq!(came.status, 0, "{}{}", came.printed, came.told);
    assert!(world.typed.is_empty(), "not all was asked: {:?}", world.typed);
    assert!(came.printed.contains("Perhaps new system was meant."), "{}", came.printed);
    let text = String::from_utf8(world.files["house.yaml"].clone()).unwrap();
    assert!(text.contains("straight: 6 ft") && text.contains("in: attic"), "{text}");
    let came = call(&mut world, &["review", "house.yaml"]);
    // A window that can be opened, 6 ft off and 1 ft down, is too near under the law of Pennsylvania.
    assert_eq!(came.status, 1, "{}", came.printed);
    assert!(came.printed.contains("6 ft"), "{}", came.printed);
    // The fan stands in an attic: what is above it and whether it is heated decides.
    assert!(came.printed.contains("building.spaces.attic"), "{}", came.printed);
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    for arguments in
        [&["review"][..], &["review", "--as", "json"], &["review", "--plain", "--show", "everything"]]
    {
        let paths = example_paths();
        let mut all: Vec<&str> = arguments.to_vec();
        all.extend(paths.iter().map(String::as_str));
        let first = call_examples(&all);
        let again = call_examples(&all);
        assert_eq!(first.printed, again.printed);
        assert_eq!(first.status, again.status);
    }
}
