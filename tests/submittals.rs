//! What is handed in for a permit, left with the owner, and put up: every clause once in the order of its code, names from
//! the design alone, labels at their true size.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::sync::LazyLock;

use proptest::prelude::*;
use undercroft::app::host::memory::Memory;
use undercroft::yaml::splice::lay_over;

use super::browser_pages::links_hold;
use super::commands::{call, call_examples, example};

const RANCH: &str = "examples/01-two-area-ranch/design.yaml";
const BUILT: &str = "examples/06-as-built-and-retested/design.yaml";
const NOTES: [&str; 4] = [
    "--field-notes",
    "examples/06-as-built-and-retested/installed.yaml",
    "--field-notes",
    "examples/06-as-built-and-retested/retested.yaml",
];

fn made(arguments: &[&str]) -> String {
    let came = call_examples(arguments);
    assert_eq!(came.status, 0, "{}", came.told);
    came.printed
}

fn permit() -> &'static str {
    static PAGE: LazyLock<String> = LazyLock::new(|| made(&["submittal", RANCH, "--for", "permit"]));
    &PAGE
}

fn owner() -> &'static str {
    static PAGE: LazyLock<String> =
        LazyLock::new(|| made(&[&["submittal", BUILT, "--for", "owner"][..], &NOTES].concat()));
    &PAGE
}

/// The paper for a design of its own.
fn of(design: &str, arguments: &[&str]) -> String {
    let mut world = Memory::with([("house.yaml", design)]);
    let came = call(&mut world, &[&arguments[..1], &["house.yaml"], &arguments[1..]].concat());
    assert_eq!(came.status, 0, "{}", came.told);
    came.printed
}

/// What stands between two marks, for each time they stand there.
fn between<'p>(page: &'p str, front: &str, back: &str) -> Vec<&'p str> {
    page.split(front).skip(1).filter_map(|rest| rest.split(back).next()).collect()
}

/// Text without its marks, entities read back.
fn plain(html: &str) -> String {
    let mut text = String::new();
    let mut inside = false;
    for c in html.chars() {
        match c {
            '<' => inside = true,
            '>' => inside = false,
            c if !inside => text.push(c),
            _ => {}
        }
    }
    text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
}

/// The tables of clauses: the rows of each, cell by cell.
fn clause_tables(page: &str) -> Vec<Vec<Vec<String>>> {
    let tables = between(page, "<table class=\"ruled\">", "</table>").into_iter();
    let clauses = tables.filter(|table| table.contains("<th scope=\"col\">who says so</th>"));
    clauses
        .map(|table| {
            let rows = between(table, "<tr>", "</tr>").into_iter().skip(1);
            rows.map(|row| between(row, "<td>", "</td>").into_iter().map(plain).collect()).collect()
        })
        .collect()
}

/// The numbers in the first section of a text, and the letters between them.
fn numbers(section: &str) -> Vec<(u64, String)> {
    let first = section.split([',', ';', ' ']).next().unwrap();
    let mut found = Vec::new();
    for part in first.split(|c: char| !c.is_ascii_alphanumeric()).filter(|part| !part.is_empty()) {
        let digits = part.trim_start_matches(|c: char| c.is_alphabetic());
        found.push((digits.parse().unwrap_or(u64::MAX), part.to_owned()));
    }
    found
}

#[test]
fn every_clause_of_an_adopted_book_stands_there_once_in_the_order_of_its_code() {
    // The files of the book, read by a second reader.
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("rules/pennsylvania-2019");
    let mut wanted = Vec::new();
    for topic in
        fs::read_dir(&folder).unwrap().map(|entry| entry.unwrap().path()).filter(|path| path.is_dir())
    {
        if topic.ends_with("cases") {
            continue;
        }
        for file in fs::read_dir(topic).unwrap() {
            let text = fs::read_to_string(file.unwrap().path()).unwrap();
            let rule: serde_yaml::Value = serde_yaml::from_str(&text).unwrap();
            wanted.push(rule["title"].as_str().unwrap().to_owned());
        }
    }
    wanted.sort();
    let tables = clause_tables(permit());
    let firsts: Vec<Vec<Vec<String>>> =
        tables.iter().map(|table| table.iter().filter(|row| !row[0].is_empty()).cloned().collect()).collect();
    let mut found: Vec<String> = firsts.iter().flatten().map(|row| row[1].clone()).collect();
    assert!(found.len() >= wanted.len() && wanted.len() > 40, "{} and {}", found.len(), wanted.len());
    // A title is followed by the things it is asked of and by the verb, and books that are always used stand there too.
    let is = |row: &str, title: &str| {
        row.strip_prefix(title).is_some_and(|rest| rest.starts_with(": ") || rest.starts_with(" ("))
    };
    for title in &wanted {
        let at = found.iter().position(|row| is(row, title));
        found.remove(at.unwrap_or_else(|| panic!("{title} is not there, or not often enough")));
    }
    assert!(!found.iter().any(|row| wanted.iter().any(|title| is(row, title))), "{found:?}");
    for table in &firsts {
        let sections: Vec<_> = table.iter().map(|row| numbers(&row[0])).collect();
        assert!(sections.is_sorted(), "{sections:?}");
    }
    assert!(
        tables.iter().flatten().all(|row| row.len() == 6 && row[5].is_empty()),
        "the inspector's column is blank"
    );
}

#[test]
fn a_clause_tells_its_verdict_its_numbers_and_who_says_so() {
    let rows: Vec<Vec<String>> = clause_tables(permit()).into_iter().flatten().collect();
    let height = rows
        .iter()
        .find(|row| row[1].starts_with("Discharge above the roof"))
        .or_else(|| rows.iter().find(|row| row[3].contains("needed: at least")));
    let height = height.unwrap();
    assert!(!height[2].is_empty() && height[3].contains("needed"), "{height:?}");
    assert_eq!(height[4], "as stated");
    assert!(rows.iter().any(|row| row[4].starts_with("found by J. Ames on ")), "who looked is not told");
    let value = "{value: 22 in, by: Q. Zorn, on: 2026-05-11, verified_by: W. Ibb}";
    let text = lay_over(&example("01"), &[("systems.main.discharge.above_roof", value)], &[]).unwrap();
    let measured = of(&text, &["submittal", "--for", "permit"]);
    let said = "measured by Q. Zorn on 11 May 2026, verified by W. Ibb";
    assert!(plain(&measured).contains(said));
}

/// A packet for a small design under one book.
fn permit_of(more: &str) -> String {
    of(
        &format!("undercroft: 1\njob: {{rulebooks: {{pennsylvania-2019: adopted}}}}\n{more}"),
        &["submittal", "--for", "permit"],
    )
}

/// What stands on the lines of the cover.
fn on_the_cover(page: &str) -> Vec<String> {
    let cover = page.split("What the review comes to").next().unwrap();
    between(cover, "<dd>", "</dd>").into_iter().map(plain).collect()
}

#[test]
fn a_design_without_names_has_a_cover_of_blanks() {
    let page = permit_of("");
    let lines = on_the_cover(&page);
    assert!(lines.len() > 15 && lines.iter().all(String::is_empty), "{lines:?}");
    assert!(page.contains("Which building and electrical codes are adopted here the design does not say"));
}

/// Words of the program's own that join what the design says.
const JOINING: [&str; 6] = ["until", "of", "in", "force", "since", "Conflict:"];

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, ..ProptestConfig::default() })]

    #[test]
    fn every_word_on_the_cover_stands_in_the_design(
        names in prop::collection::vec("[A-Z][a-zé]{2,9}( [A-Z][a-z]{2,9}){0,2}", 9),
        left_out in prop::collection::vec(any::<bool>(), 9),
    ) {
        let keys = ["title", "address", "number", "by", "licence", "owner", "contractor", "permits", "codes"];
        let mut design = "undercroft: 1\njob:\n  date: 2026-05-12\n".to_owned();
        for ((key, name), out) in keys.iter().zip(&names).zip(&left_out) {
            match *key {
                _ if *out => {}
                "contractor" => design.push_str(&format!("  contractor: {{name: {name}, licence: X{name}}}\n")),
                "permits" => design.push_str(&format!("  permits: {{building: {{number: {name}, until: 2026-09-01}}}}\n")),
                "codes" => design.push_str(&format!("  codes: {{electrical code: {{edition: {name}, on: 2020-01-01}}}}\n")),
                key => design.push_str(&format!("  {key}: {name}\n")),
            }
        }
        let page = of(&design, &["submittal", "--for", "permit"]);
        let lines = on_the_cover(&page);
        for word in lines.iter().flat_map(|line| line.split([' ', ','])).filter(|word| !word.is_empty()) {
            prop_assert!(design.contains(word) || JOINING.contains(&word), "{word} is not in the design");
        }
        for (name, out) in names.iter().zip(&left_out) {
            prop_assert!(*out || lines.iter().any(|line| line.contains(name)), "{name} is not on the cover");
        }
    }
}

#[test]
fn every_link_leads_somewhere_and_every_name_is_there_once() {
    for (called, page) in [("permit", permit()), ("owner", owner())] {
        links_hold(called, page);
    }
    links_hold("labels", &made(&["labels", RANCH]));
}

#[test]
fn the_same_design_gives_the_same_bytes() {
    assert_eq!(made(&["submittal", RANCH, "--for", "permit"]), permit());
}

#[test]
fn words_of_a_file_stay_words_on_every_paper() {
    let design = |words: &str| {
        let words = serde_json::to_string(words).unwrap();
        format!(
            "undercroft: 1\njob: {{title: {words}, address: {words}, by: {words}, owner: {words}, contractor: {{name: {words}, phone: {words}}}, permits: {{a: {words}}}, codes: {{b: {words}}}, rulebooks: {{pennsylvania-2019: adopted}}}}\nsystems: {{main: {{kind: active, fan: {{model: {words}}}, labels: {{l: {{on: pipe, text: {words}}}}}}}}}\n"
        )
    };
    let outline = |page: &str| -> Vec<String> {
        page.split('<').skip(1).map(|tag| tag.split([' ', '>']).next().unwrap_or("").to_owned()).collect()
    };
    for arguments in [&["submittal", "--for", "permit"][..], &["submittal", "--for", "owner"], &["labels"]] {
        let calm = of(&design("calm"), arguments);
        for words in
            ["</style><script>alert(1)</script>", "\"><img src=x onerror=alert(1)>", "\\0000e9</title>"]
        {
            let page = of(&design(words), arguments);
            assert_eq!(outline(&page), outline(&calm), "{words} on {arguments:?}");
        }
    }
}

#[test]
fn the_foot_of_every_sheet_says_what_it_is_not_and_what_it_was_made_of() {
    let others = [&["review", "--as", "html"][..], &["walkthrough", "--as", "html"], &["labels"]];
    let others = others.map(|arguments| call_examples(&[arguments, &[RANCH]].concat()).printed);
    for page in [permit(), owner()].into_iter().chain(others.iter().map(String::as_str)) {
        let foot = between(page, "@bottom-left { content: \"", "\"")[0];
        let mut said = String::new();
        let mut rest = foot;
        while let Some(c) = rest.chars().next() {
            if let Some(number) = rest
                .strip_prefix('\\')
                .and_then(|rest| rest.get(..6))
                .and_then(|hex| u32::from_str_radix(hex, 16).ok())
            {
                said.push(char::from_u32(number).unwrap());
                rest = &rest[8..];
            } else {
                said.push(c);
                rest = &rest[c.len_utf8()..];
            }
        }
        for wanted in [
            "Not a permit, not an approval, not a radon measurement",
            "pennsylvania-2019 (",
            "sha256 ",
            "Undercroft 0.",
            "Reviewed for ",
        ] {
            assert!(said.contains(wanted), "{wanted} is not in {said}");
        }
    }
}

#[test]
fn the_owner_reads_the_gauge_and_its_mark_and_no_word_of_the_trade() {
    let main = between(owner(), "<main", "</main>")[0];
    let said = plain(main);
    assert!(said.contains("1.5 in WC") && said.contains("in the basement"), "{said}");
    assert!(
        said.contains("Before the work: 11.8 pCi/L") && said.contains("After the work: 1.7 pCi/L"),
        "{said}"
    );
    for word in [
        "manometer",
        "epressuri",
        "sub-slab",
        "mitigation",
        "cfm",
        "schedule",
        "clause",
        "discharge",
        "shall",
    ] {
        assert!(!said.contains(word), "{word}");
    }
    let words = said.split_whitespace().count();
    assert!((300..900).contains(&words), "{words} words");
}

#[test]
fn the_owner_reads_what_is_still_to_be_done_where_something_is() {
    let faulty = made(&["submittal", "examples/02-a-dozen-faults/design.yaml", "--for", "owner"]);
    let said = between(&faulty, "What is still to be done</h2>", "<h2")[0];
    assert!(said.contains("are not met") && said.contains("Do not drill"), "{said}");
    assert!(faulty.contains("nothing shows whether the fan pulls"));
    assert!(!owner().contains("What is still to be done"));
}

#[test]
fn what_is_not_known_is_told_without_the_keys_of_the_file() {
    let page = made(&["submittal", "examples/02-a-dozen-faults/design.yaml", "--for", "permit"]);
    let rows: Vec<Vec<String>> = clause_tables(&page).into_iter().flatten().collect();
    let open: Vec<&Vec<String>> = rows.iter().filter(|row| row[2] == "can't tell yet").collect();
    assert!(open.len() > 5, "{}", open.len());
    for row in open {
        assert!(row[3].contains("open: ") && !row[3].contains('_') && !row[3].contains("add "), "{row:?}");
    }
    let none = rows.iter().find(|row| row[1].starts_with("Discharge kept clear of walls that rise")).unwrap();
    assert_eq!(
        (none[2].as_str(), none[3].as_str()),
        ("not applicable", "none of the sort that is asked about")
    );
    assert!(
        rows.iter().all(|row| !row[2].contains("disputed")),
        "whether it is disputed stands beside the verb"
    );
}

#[test]
fn a_next_test_is_named_only_where_records_or_rules_name_one() {
    let line = |page: &str| plain(between(page, "<dt>Test again by</dt>", "</dd>")[0]);
    assert!(line(owner()).starts_with("Left blank: the records name no day"), "{}", line(owner()));
    let planned =
        of("undercroft: 1\npapers: {upkeep: {next_test: 2028-03-01}}\n", &["submittal", "--for", "owner"]);
    assert!(line(&planned).starts_with("1 March 2028"), "{}", line(&planned));
    // Of the vapor standard for homes: within two years of the last test, so two years after 19 June 2026 at the latest.
    let tested = "undercroft: 1\njob: {rulebooks: {sgm-sf-vapor: adopted}}\nsite: {zone: America/New_York}\nradon_tests: {a: {of: air, when: after, start: 2026-06-16 09:00, stop: 2026-06-19 09:00, result: 1.7 pCi/L}}\n";
    let by_rule = line(&of(tested, &["submittal", "--for", "owner"]));
    assert!(by_rule.contains("24 months"), "{by_rule}");
}

#[test]
fn letters_are_as_high_as_asked_and_as_designed_whichever_is_more() {
    let house = |book: &str, letters: &str| {
        format!(
            "undercroft: 1\njob: {{rulebooks: {{{book}: adopted}}}}\nbuilding: {{spaces: {{hall: {{kind: hall, story: 1}}}}}}\nsystems: {{main: {{kind: active, runs: {{r: {{from: fan, through: [hall]}}}}, labels: {{l: {{on: pipe, in: hall, story: 1, says: [what it is]{letters}}}}}}}}}\n"
        )
    };
    // A quarter of an inch is 6.35 mm, half of one 12.7 mm.
    for (book, letters, wanted) in [
        ("sgm-sf-2020", "", "--letters: 6.35mm"),
        ("sgm-sf-2020", ", letters: 1/2 in", "--letters: 12.70mm"),
        ("pennsylvania-2019", ", letters: 1/2 in", "--letters: 12.70mm"),
        ("pennsylvania-2019", "", "--letters: 5.00mm"),
    ] {
        let page = of(&house(book, letters), &["labels"]);
        assert!(page.contains(wanted), "{book}{letters}");
    }
}

#[test]
fn a_label_says_what_is_asked_and_nothing_more() {
    let house = |books: &str| {
        format!(
            "undercroft: 1\njob: {{rulebooks: {{{books}}}}}\nsystems: {{main: {{kind: active, fan: {{in: attic}}, labels: none}}}}\nbuilding: {{spaces: {{attic: {{kind: attic}}}}}}\n"
        )
    };
    let fields =
        ["Installed by", "Telephone", "Licence or certificate no.", "Installed on", "tested for radon again"];
    let asked = of(&house("pennsylvania-2019: adopted"), &["labels"]);
    for field in fields {
        assert!(asked.contains(field), "{field}");
    }
    assert!(!asked.contains("Address") && !asked.contains("Circuit no."));
    let none = of(&house(""), &["labels"]);
    assert!(none.contains("The design has no label") && !none.contains("Telephone"));
    let information = of(&house("pennsylvania-2019: for information"), &["labels"]);
    assert!(!information.contains("Telephone"), "a book for information asks for no label");
}

#[test]
fn papers_go_into_a_new_file_and_over_none() {
    let mut world = Memory::with([("house.yaml", "undercroft: 1\n"), ("there.html", "mine")]);
    let into = |world: &mut Memory, name: &str| {
        call(world, &["submittal", "house.yaml", "--for", "owner", "--out", name])
    };
    assert_eq!(into(&mut world, "there.html").status, 2);
    assert_eq!(world.files["there.html"], b"mine");
    let came = into(&mut world, "new.html");
    assert!(came.status == 0 && came.printed.is_empty(), "{}", came.told);
    assert!(world.files["new.html"].starts_with(b"<!DOCTYPE html>"));
    let refused = call(&mut world, &["submittal", "none.yaml", "--for", "permit"]);
    assert_eq!((refused.status, refused.printed.as_str()), (2, ""));
}

#[test]
fn what_the_text_does_not_hold_or_leaves_to_the_eye_has_room_for_the_inspector() {
    let captions: BTreeSet<&str> = between(permit(), "<caption>", "</caption>").into_iter().collect();
    assert!(captions.contains("Not checked here: look at it yourself"), "{captions:?}");
    assert!(
        captions.contains("Not checked here: the text is not held, so read it in the code"),
        "{captions:?}"
    );
}

#[test]
fn the_owner_of_what_is_only_planned_reads_of_a_plan_and_of_nothing_that_was_read() {
    let page = made(&["submittal", RANCH, "--for", "owner"]);
    assert!(page.contains("What is to be built</h2>") && !page.contains("What was built</h2>"));
    assert!(page.contains("Still to come before the fan is left running"));
    assert!(page.contains("once what is still to be done is done, leave it on"));
    assert!(!owner().contains("What is to be built"));
    let unmarked = made(&["submittal", "examples/09-a-window-three-ways/design.yaml", "--for", "owner"]);
    assert!(unmarked.contains("The plan reckons with 2.4 in WC."));
    assert_eq!(unmarked.matches("2.4 in WC").count(), 1, "no mark of a gauge that nobody read");
    for from in
        ["from the pit of the sump", "on the drain pipes round the house", "from the hollows of a wall"]
    {
        assert!(unmarked.contains(from), "{from}");
    }
}

#[test]
fn the_owner_of_a_house_without_a_fan_is_told_of_no_gauge() {
    let page = made(&["submittal", "examples/10-new-home-two-rough-ins/design.yaml", "--for", "owner"]);
    assert!(page.contains("There is no fan.") && !page.contains("listen for the fan"));
}

#[test]
fn the_owner_reads_until_when_something_is_permitted_and_what_is_asked_in_return() {
    let page = made(&["submittal", "examples/07-variance-on-file/design.yaml", "--for", "owner"]);
    let said = between(&page, "What was permitted, and until when</h2>", "<h2")[0];
    for wanted in ["26-017", "31 May 2028", "radon test of the second year"] {
        assert!(said.contains(wanted), "{wanted} is not in {said}");
    }
}

#[test]
fn a_permit_tells_what_the_town_changed_with_the_old_figure_and_the_new_and_what_it_withdrew() {
    let page = made(&["submittal", "examples/08-a-towns-own-book/design.yaml", "--for", "permit"]);
    // As the ordinance of the example has it: section 2 raises 12 in to 24 in, section 4 withdraws the cord.
    let rows: Vec<Vec<String>> = clause_tables(&page).into_iter().flatten().collect();
    let height = rows.iter().find(|row| row[1].contains("well above its surface")).unwrap();
    for wanted in ["amended by Ordinance 2025-7, section 2", "24 in, before the amendment 12 in"] {
        assert!(height[1].contains(wanted), "{wanted} is not in {height:?}");
    }
    let changed = between(
        &page,
        "What this book changes of what it takes over from pennsylvania-2019</caption>",
        "</table>",
    );
    let [changed] = changed.as_slice() else { panic!("{} tables", changed.len()) };
    let changed = plain(changed);
    for wanted in [
        "(b)(6)(i)",
        "24 in, before the amendment 12 in",
        "Ordinance 2025-7, section 2, Board of Supervisors, 20 May 2025",
        "two feet of snow",
        "Fan cord short",
        "14.6.3",
        "Withdrawn: not asked any more",
        "It is not asked for twice",
    ] {
        assert!(changed.contains(wanted), "{wanted} is not in {changed}");
    }
    assert!(!permit().contains("What this book changes"), "a book that changes nothing tells of no change");
}

/// What a page tells outside of its drawings and of what stands at the foot of each of them.
fn undrawn(page: &str) -> String {
    let mut main = between(page, "<main", "</main>")[0].to_owned();
    while let Some(at) = main.find("<p class=\"running\"") {
        let end = at + main[at..].find("</p>").unwrap();
        main.replace_range(at..end, "");
    }
    let (first, rest) = main.split_once("<svg").unwrap_or((main.as_str(), ""));
    let behind =
        rest.split("<svg").map(|piece| piece.split_once("</svg>").map_or(piece, |(_, behind)| behind));
    plain(&std::iter::once(first).chain(behind).collect::<String>())
}

#[test]
fn papers_for_office_and_owner_speak_of_things_and_never_of_keys_lines_or_commands() {
    for name in super::commands::example_names() {
        for whom in ["permit", "owner"] {
            let said = undrawn(&made(&["submittal", &format!("examples/{name}/design.yaml"), "--for", whom]));
            for word in ["add under", "systems.main.", "foundation.areas.", "(line ", " --", "sha256"] {
                let at = said
                    .find(word)
                    .map(|at| said.chars().skip(at.saturating_sub(40)).take(120).collect::<String>());
                assert_eq!(at, None, "{name}, {whom}: {word}");
            }
        }
    }
    let takes = undrawn(permit());
    let takes = takes.split("Could not be counted, because something is not stated:").nth(1).unwrap();
    assert!(
        takes.trim_start().starts_with("the collars round the piers") && takes.contains("pier"),
        "{takes}"
    );
}

#[test]
fn a_permit_tells_what_of_it_is_new_as_far_as_the_file_does() {
    let takes = |number: &str| {
        let name =
            super::commands::example_names().into_iter().find(|name| name.starts_with(number)).unwrap();
        let page = made(&["submittal", &format!("examples/{name}/design.yaml"), "--for", "permit"]);
        plain(page.split("What it takes</h2>").nth(1).unwrap().split("<h2").next().unwrap())
    };
    assert!(takes("02").contains("all of this is there already, and the file names nothing new"));
    // The sump of a standing house may be older than its system; its pipe is not.
    let sump = takes("05");
    let (new, house) = sump.split_once("In the house. The file does not tell what of this is new").unwrap();
    assert!(new.contains("pipe, ") && !new.contains("sump lid, "), "{new}");
    assert!(house.contains("sump lid, "), "{house}");
    assert!(takes("10").trim_start().starts_with("All of this is new."));
}

#[test]
fn the_owner_reads_the_last_reading_with_its_day_beside_the_first_mark() {
    // Read off the field notes: 1.5 in WC at start-up on 8 June, 1.8 in WC after the crack was closed on 24 June.
    let blank = |label: &str| plain(between(owner(), &format!("<dt>{label}</dt>"), "</dd>")[0]);
    assert!(blank("Marked reading").starts_with("1.5 in WC"), "{}", blank("Marked reading"));
    assert!(blank("Last reading").starts_with("1.8 in WC, on 24 June 2026"), "{}", blank("Last reading"));
    let planned = made(&["submittal", RANCH, "--for", "owner"]);
    assert!(!planned.contains("Last reading"), "nobody has read what is not built");
}

#[test]
fn the_owner_is_told_what_the_alarm_says_and_what_to_do() {
    let page = made(&["submittal", "examples/08-a-towns-own-book/design.yaml", "--for", "owner"]);
    let said = plain(
        between(&page, "If the alarm sounds, the reading changes or the fan falls silent</h2>", "<h2")[0],
    );
    assert!(said.contains("not an alarm of smoke or of carbon monoxide"), "{said}");
    assert!(!owner().contains("If the alarm sounds,"), "there is none to sound");
}

#[test]
fn where_only_books_for_information_are_not_met_the_first_box_says_so() {
    let page = made(&["submittal", "examples/11-fan-in-the-basement/design.yaml", "--for", "permit"]);
    let front = plain(between(&page, "What the review comes to</h2>", "<table")[0]);
    assert!(front.contains("unmet or open in the books that count."), "{front}");
    let said =
        "clauses of sgm-sf-2020 are not met; that book is used for information and decides nothing here.";
    assert!(front.contains(said), "{front}");
    // Every clause of that book that has to be met and is not is counted, whatever the rest of its finding comes to.
    let json = made(&["review", "examples/11-fan-in-the-basement/design.yaml", "--as", "json"]);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let findings = json["reviews"][0]["findings"].as_array().unwrap();
    let clauses = findings.iter().flat_map(|finding| finding["clauses"].as_array().unwrap());
    let unmet = clauses.filter(|one| {
        one["requirement"].as_str().unwrap().starts_with("sgm-sf-2020/")
            && one["verdict"] == "unmet"
            && one["obligation"] == "shall"
            && one["disputed"] == false
    });
    let told = front.split(said).next().unwrap().trim_end().rsplit(|c: char| !c.is_ascii_digit()).next();
    assert_eq!(told, Some(unmet.count().to_string().as_str()), "{front}");
}

#[test]
fn a_label_names_the_document_of_its_section_and_says_what_is_disputed() {
    let page = made(&["labels", "examples/07-variance-on-file/design.yaml"]);
    let table = plain(between(&page, "Where each label goes, and who asks for it</caption>", "</table>")[0]);
    // Pennsylvania's regulation has no section 8.4.4: the standard that it is taken from has.
    let said = "pennsylvania-2019: Soil Gas Mitigation Standards for Existing Homes, with the revisions of December 2020, 8.4.4, shall, disputed whether it is a duty";
    assert!(table.contains(said), "{table}");
    assert!(table.contains("the floor above the ground floor") && !table.contains("storey"), "{table}");
}

#[test]
fn a_label_asks_only_for_what_can_be_done_and_has_no_mark_that_nobody_read() {
    let lid = made(&["labels", "examples/10-new-home-two-rough-ins/design.yaml"]);
    assert!(lid.contains("Keep it closed and tight") && !lid.contains("switch it off"));
    let planned = made(&["labels", "examples/09-a-window-three-ways/design.yaml"]);
    assert!(planned.contains("Marked at:") && !planned.contains("2.4 in WC"));
}
