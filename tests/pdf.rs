//! Papers as PDF: read back with another reader, whole, in order, on the page, and the same whenever they are written.

pub(crate) mod reader;

use std::sync::LazyLock;

use undercroft::app::host::memory::Memory;
use undercroft::drawing::Paper as Size;
use undercroft::render::papers::{Item, Paper, Part, Table};
use undercroft::render::pdf;
use undercroft::render::tell::told::Weighs;

use crate::commands::{call, call_examples, call_with_their_books, example, example_paths, examples};
use reader::{Piece, Read};

/// The review of each example as PDF: its path, its bytes, what is read back, on letter paper for every other one and
/// on A4 for the rest.
static READ: LazyLock<Vec<(String, Vec<u8>, Read)>> = LazyLock::new(|| {
    let one = |(at, path): (usize, String)| {
        let bytes = written(&path, if at % 2 == 0 { "letter" } else { "a4" });
        let read = Read::of(&bytes);
        (path, bytes, read)
    };
    example_paths().into_iter().enumerate().map(one).collect()
});

fn written(path: &str, paper: &str) -> Vec<u8> {
    let mut world = examples();
    let came = call_with_their_books(
        &mut world,
        &["review", "--as", "pdf", "--paper", paper, "--out", "out.pdf", path],
    );
    assert_eq!(came.printed, "");
    assert_eq!(came.told, "Written into out.pdf.\n");
    world.files.remove("out.pdf").unwrap()
}

fn bare(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

/// What a page for a browser says, text by text, but for what a printer leaves out.
fn said_in_browser(page: &str) -> Vec<String> {
    let mut rest = page.split("<main").nth(1).unwrap().to_owned();
    for (from, to) in [
        ("<svg", "</svg>"),
        ("<form", "</form>"),
        ("<details", "</details>"),
        ("<script", "</script>"),
        ("<p class=\"drawn\"", "</p>"),
        ("<p class=\"running\"", "</p>"),
    ] {
        while let Some(at) = rest.find(from) {
            let end = rest[at..].find(to).unwrap() + at + to.len();
            rest.replace_range(at..end, "");
        }
    }
    let unescaped = |text: &str| {
        text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"").replace("&amp;", "&")
    };
    rest.split('<').filter_map(|tag| tag.split_once('>')).map(|(_, text)| bare(&unescaped(text))).collect()
}

/// What every sheet says that it is not.
const IS_NOT: &str = "Not a permit, not an approval, not a radon measurement.";

/// What holds of every PDF of ours.
fn is_sound(name: &str, read: &Read) {
    let many = read.pages.len();
    for (at, page) in read.pages.iter().enumerate() {
        let name = format!("{name}, page {}", at + 1);
        // A sixth of an inch at each edge, for printers.
        let edge = 12.0;
        for piece in &page.pieces {
            let Piece { x, y, wide, size, text, .. } = piece;
            let within =
                *x >= edge && x + wide <= page.wide - edge && *y >= edge && y + size <= page.high - edge;
            assert!(within || text.trim().is_empty(), "{name}: off the paper: {piece:?}");
            assert!(*size >= 6.99, "{name}: too small: {piece:?}");
        }
        let told = |piece: &&Piece| piece.part.is_some();
        assert!(page.pieces.iter().any(|piece| told(&piece)), "{name}: nothing is told");
        let adorns: String =
            page.pieces.iter().filter(|piece| !told(piece)).map(|piece| piece.text.as_str()).collect();
        assert!(adorns.contains(&format!("page {} of {many}", at + 1)), "{name}: {adorns}");
        assert!(adorns.contains(IS_NOT), "{name}: {adorns}");
        // Nothing that is told stands below a heading's place as the last of its page.
        let upright = page.wide < page.high;
        let last = page.pieces.iter().filter(told).min_by(|a, b| a.y.total_cmp(&b.y)).unwrap();
        let its_part = read.parts.iter().find(|part| part.at.contains(&(at, last.part.unwrap())));
        let its_part = its_part.unwrap();
        let is_heading = matches!(its_part.role.as_str(), "H1" | "H2" | "H3");
        let goes_on = its_part.at.iter().any(|(page, _)| *page > at);
        assert!(!upright || !is_heading || goes_on, "{name}: a heading at the foot: {last:?}");
    }
    for part in &read.parts {
        assert!(part.role != "Figure" || part.says.len() > 40, "{name}: a drawing without words");
    }
}

#[test]
fn every_page_holds_its_words_and_none_is_empty() {
    for (path, _, read) in READ.iter() {
        is_sound(path, read);
    }
}

#[test]
fn every_sheet_of_every_sort_says_what_it_was_made_of() {
    let tall = "examples/09-a-window-three-ways/design.yaml";
    let sorts = [
        &["review"][..],
        &["walkthrough"],
        &["drawings"],
        &["labels"],
        &["submittal", "--for", "permit"],
        &["submittal", "--for", "owner"],
    ];
    for sort in sorts {
        let mut world = examples();
        let came = call(&mut world, &[sort, &["--as", "pdf", "--out", "out.pdf", tall]].concat());
        assert_eq!(came.told, "Written into out.pdf.\n", "{sort:?}");
        let read = Read::of(&world.files.remove("out.pdf").unwrap());
        for (at, page) in read.pages.iter().enumerate() {
            let adorns = page.pieces.iter().filter(|piece| piece.part.is_none());
            let said: String = adorns.map(|piece| format!("{} ", piece.text)).collect();
            let said = bare(&said);
            for wanted in [
                IS_NOT,
                "Undercroft 0.",
                "Reviewed for 20 July 2026",
                "Design sha256",
                "work-safety (edition of",
            ] {
                assert!(said.contains(&bare(wanted)), "{sort:?}, page {}: {wanted} is not in {said}", at + 1);
            }
        }
    }
}

#[test]
fn a_pdf_tells_all_that_the_page_for_a_browser_tells() {
    let mut seen = 0;
    for (path, _, read) in READ.iter() {
        let page = call_examples(&["review", "--as", "html", path]).printed;
        let told = read.told();
        for text in said_in_browser(&page) {
            assert!(told.contains(&text), "{path}: {text}");
            seen += text.len();
        }
    }
    assert!(seen > 50_000, "{seen}");
}

#[test]
fn every_letter_of_the_examples_is_in_the_typeface() {
    for (path, _, read) in READ.iter() {
        let told = read.told();
        assert!(!told.contains("<U+") && !told.contains("hasnosignfor"), "{path}");
    }
}

#[test]
fn bookmarks_lead_to_the_pages_and_the_lines_that_they_name() {
    for (path, _, read) in READ.iter() {
        for mark in &read.marks {
            let page = &read.pages[mark.page];
            let drawn = page.wide > page.high;
            // Within two lines below where it leads.
            let near = page.pieces.iter().filter(|piece| {
                piece.part.is_some() && piece.y <= mark.y && (drawn || piece.y > mark.y - 60.0)
            });
            let near: String = near.map(|piece| bare(&piece.text)).collect();
            assert!(near.contains(&bare(&mark.words)), "{path}: {mark:?}: {near}");
        }
        let at_top: Vec<&str> =
            read.marks.iter().filter(|mark| mark.depth == 0).map(|mark| mark.words.as_str()).collect();
        assert!(at_top.contains(&"What this page is not"), "{path}: {at_top:?}");
        assert!(read.marks.iter().any(|mark| mark.depth == 1), "{path}");
    }
}

#[test]
fn drawings_and_findings_lead_to_each_other_and_tell_the_page() {
    let (_, _, read) = READ.iter().find(|(path, _, _)| path.contains("/02-")).unwrap();
    let drawn = |page: usize| read.pages[page].wide > read.pages[page].high;
    assert!(read.leads.iter().filter(|(from, to)| drawn(*from) && !drawn(*to)).count() >= 3);
    assert!(read.leads.iter().filter(|(from, to)| !drawn(*from) && drawn(*to)).count() >= 3);
    let plan = read.marks.iter().find(|mark| mark.words.starts_with("Plan:")).unwrap();
    assert!(read.told().contains(&format!("Shownon:Plan(page{})", plan.page + 1)));
    for (path, _, read) in READ.iter() {
        assert_eq!(read.pages.iter().filter(|page| page.wide > page.high).count(), 3, "{path}");
    }
}

#[test]
fn the_same_design_gives_the_same_bytes_without_a_clock() {
    let (path, bytes, _) = &READ[0];
    assert!(*bytes == written(path, "letter"));
    for word in [&b"CreationDate"[..], b"ModDate", b"xmp:CreateDate"] {
        assert!(!bytes.windows(word.len()).any(|at| at == word));
    }
}

#[test]
fn hostile_words_stay_words_and_are_shown_on_the_page() {
    let long = "x".repeat(3000);
    let title = format!("(a) Tj ET \\\\) <b> {long}");
    let text = undercroft::yaml::splice::lay_over(
        &example("02"),
        &[("job.title", &format!("'{title}'")), ("job.address", "'1 屋根 Lane \u{202e}left'")],
        &[],
    )
    .unwrap();
    let mut world = Memory::with([("bad.yaml", text)]);
    call(&mut world, &["review", "--as", "pdf", "--out", "bad.pdf", "bad.yaml"]);
    let read = Read::of(&world.files["bad.pdf"]);
    is_sound("hostile", &read);
    assert!(read.told().contains(&bare(&title)), "{}", &read.told()[..200]);
    assert!(read.told().contains("hasnosignforU+"), "what the typeface does not have is told");
}

/// A paper of one part.
fn paper(part: Part) -> Paper {
    Paper {
        title: "A paper".to_owned(),
        about: vec!["of a garden".to_owned()],
        parts: vec![Part::Heading(2, "A part".to_owned(), "part".to_owned()), part],
        foot: vec!["made by hand".to_owned()],
        running: vec![IS_NOT.to_owned()],
        quoted: Vec::new(),
    }
}

#[test]
fn the_head_of_a_table_stands_on_every_page_of_it_and_long_rows_go_on() {
    let row =
        |number: usize| vec![format!("row {number}"), "word ".repeat(if number == 40 { 3000 } else { 9 })];
    let table = Table {
        caption: "Rows".to_owned(),
        head: vec!["the first head".to_owned(), "the second head".to_owned()],
        rows: (0..90).map(row).collect(),
        shares: vec![1, 3],
        ruled: true,
    };
    for size in [Size::Letter, Size::A4] {
        let bytes = pdf::write(&paper(Part::Table(table.clone())), size).unwrap();
        let read = Read::of(&bytes);
        is_sound("table", &read);
        assert!(read.pages.len() > 5);
        for (at, page) in read.pages.iter().enumerate() {
            let has = |words: &str| page.pieces.iter().any(|piece| piece.text.contains(words));
            assert!(has("the second head") || !has("row "), "page {}", at + 1);
        }
        let told = read.told();
        assert!((0..90).all(|number| told.contains(&format!("row{number}"))));
        assert_eq!(told.matches("word").count(), 3000 + 89 * 9);
        // To a reader without eyes the head is there once.
        assert_eq!(told.matches("thesecondhead").count(), 1);
    }
}

#[test]
fn a_part_that_leads_nowhere_is_words_and_an_empty_paper_is_a_page() {
    let item = Item {
        weighs: Weighs::Open,
        words: "words".to_owned(),
        leads: vec![("no".to_owned(), "on".to_owned())],
    };
    let read = Read::of(&pdf::write(&paper(Part::List(vec![item])), Size::A4).unwrap());
    assert!(read.leads.is_empty() && read.told().contains("on(words)"));
    let empty = Paper {
        title: String::new(),
        about: Vec::new(),
        parts: Vec::new(),
        foot: Vec::new(),
        running: Vec::new(),
        quoted: Vec::new(),
    };
    assert_eq!(Read::of(&pdf::write(&empty, Size::Letter).unwrap()).pages.len(), 1);
}

#[test]
fn a_pdf_goes_into_a_new_file_and_nowhere_else() {
    let mut world = Memory::with([("house.yaml", example("01")), ("there.pdf", String::new())]);
    let commands = [
        &["review"][..],
        &["drawings"],
        &["walkthrough"],
        &["labels"],
        &["submittal", "--for", "permit"],
        &["submittal", "--for", "owner"],
    ];
    for command in commands {
        let asked = |more: &[&'static str]| [command, &["--as", "pdf"], more, &["house.yaml"]].concat();
        let came = call(&mut world, &asked(&[]));
        assert_eq!((came.status, came.printed.as_str()), (2, ""), "{command:?}");
        assert!(came.told.contains("--out"), "{}", came.told);
        let came = call(&mut world, &asked(&["--out", "there.pdf"]));
        assert_eq!(came.status, 2);
        assert!(came.told.contains("there.pdf is already there"), "{}", came.told);
        assert!(world.files["there.pdf"].is_empty());
        call(&mut world, &asked(&["--out", "new.pdf"]));
        is_sound("drawn", &Read::of(&world.files.remove("new.pdf").unwrap()));
    }
}
