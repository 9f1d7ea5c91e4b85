//! Reviews as pages for a browser: whole in one file, every link of theirs leads somewhere, drawings and findings lead to
//! each other.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use serde_json::Value;
use undercroft::app::host::memory::Memory;

use crate::commands::{call, call_examples, example_paths};

/// The page of each example, made once.
fn pages() -> &'static [(String, String)] {
    static PAGES: LazyLock<Vec<(String, String)>> = LazyLock::new(|| {
        let page = |path: String| {
            let page = call_examples(&["review", "--as", "html", &path]).printed;
            (path, page)
        };
        example_paths().into_iter().map(page).collect()
    });
    &PAGES
}

/// What stands in quotation marks behind this.
fn values<'p>(page: &'p str, front: &str) -> Vec<&'p str> {
    page.match_indices(front).filter_map(|(at, _)| page[at + front.len()..].split('"').next()).collect()
}

#[test]
fn every_name_is_there_once_and_every_link_leads_to_one() {
    let seen: usize = pages().iter().map(|(path, page)| links_hold(path, page)).sum();
    assert!(seen > 100, "{seen}");
}

/// Sees that every name of a page is there once and every link leads to one, and counts the links.
pub(crate) fn links_hold(path: &str, page: &str) -> usize {
    let mut names = BTreeSet::new();
    for name in values(page, " id=\"") {
        assert!(names.insert(name), "{path}: {name} twice");
    }
    let links = values(page, "href=\"");
    for link in &links {
        let to = link.strip_prefix('#').unwrap_or_else(|| panic!("{path}: {link} leads out of the page"));
        assert!(names.contains(to), "{path}: nothing is called {to}");
    }
    links.len()
}

/// Every sort of page of an example.
fn every_sort(path: &str) -> Vec<(String, String)> {
    let sorts = [
        &["walkthrough", "--as", "html"][..],
        &["submittal", "--for", "permit"],
        &["submittal", "--for", "owner"],
        &["labels"],
    ];
    sorts
        .into_iter()
        .map(|sort| (format!("{sort:?} of {path}"), call_examples(&[sort, &[path]].concat()).printed))
        .collect()
}

#[test]
fn headings_go_down_one_step_at_a_time_and_what_is_wider_than_a_screen_can_be_moved_with_keys() {
    let more = example_paths().into_iter().flat_map(|path| every_sort(&path));
    for (name, page) in pages().iter().cloned().chain(more) {
        let mut last = 0;
        for rest in page.split("<h").skip(1) {
            let Some(depth) = rest.chars().next().and_then(|c| c.to_digit(10)) else { continue };
            assert!(depth <= last + 1, "{name}: {depth} below {last}: {}", &rest[..60.min(rest.len())]);
            last = depth;
        }
        assert!(last > 0 && page.matches("<h1").count() == 1, "{name}");
        // Tables and lines of a fixed length move within a frame that the keyboard reaches; many of them are no landmarks.
        assert!(!page.contains("role=\"region\""), "{name}");
        for front in ["<table", "class=\"measure\""] {
            for (at, _) in page.match_indices(front) {
                let frame = page[..at].rfind("<div class=\"wide\" tabindex=\"0\" role=\"group\" aria-label=");
                assert!(frame.is_some_and(|frame| !page[frame..at].contains("</div>")), "{name}: {front}");
            }
        }
    }
}

#[test]
fn what_was_counted_is_named() {
    let path = "examples/02-a-dozen-faults/design.yaml";
    let page = call_examples(&["walkthrough", "--as", "html", path]).printed;
    assert!(page.contains("number of radon tests above it after start-up: at least 0"), "{page}");
}

#[test]
fn a_page_needs_no_other_file_and_no_network() {
    for (path, page) in pages() {
        for (wanting, allowed) in [
            ("src=", &[][..]),
            ("@import", &[]),
            ("url(", &[]),
            ("http://", &["http://www.w3.org/2000/svg"]),
            ("https://", &[]),
            ("<link", &[]),
            ("<iframe", &[]),
        ] {
            for (at, _) in page.match_indices(wanting) {
                assert!(
                    allowed.iter().any(|one| page[at..].starts_with(one)),
                    "{path}: {}",
                    &page[at..at + 60]
                );
            }
        }
    }
}

#[test]
fn a_page_tells_every_finding_that_the_review_tells_in_full() {
    for (path, page) in pages() {
        let report: Value =
            serde_json::from_str(&call_examples(&["review", "--as", "json", path]).printed).unwrap();
        let findings = report["reviews"][0]["findings"].as_array().unwrap();
        let told: Vec<&Value> = findings
            .iter()
            .filter(|one| {
                ["unmet", "disputed", "advice not followed", "variance on file"]
                    .contains(&one["comes_to"].as_str().unwrap())
            })
            .collect();
        let anchors: BTreeSet<&str> = values(page, " id=\"").into_iter().collect();
        for finding in &told {
            let anchor = undercroft::render::papers::anchor("finding", finding["identity"].as_str().unwrap());
            assert!(anchors.contains(anchor.as_str()), "{path}: {anchor}");
        }
    }
}

#[test]
fn a_flag_on_a_drawing_and_its_finding_lead_to_each_other() {
    let mut seen = 0;
    for (path, page) in pages() {
        for (at, _) in page.match_indices("aria-label=\"finding") {
            let number =
                page[at + 19..].trim_start_matches(['s', ' ']).split(['"', '-', ',']).next().unwrap();
            let before = &page[..at];
            let to = before.rsplit("href=\"#").next().unwrap().split('"').next().unwrap();
            let article = page.split(&format!("id=\"{to}\"")).nth(1).unwrap();
            let article = article.split("</article>").next().unwrap();
            assert!(article.contains(&format!(">{number}</span>")), "{path}: finding {number}");
            assert!(article.contains("Shown on: <a href=\"#drawing-"), "{path}: finding {number}");
            seen += 1;
        }
    }
    assert!(seen > 10, "{seen}");
}

#[test]
fn a_file_that_cannot_be_taken_still_gives_a_page_that_says_why() {
    for (text, says) in [("job: <b>{", "In the file: 2 places to mend"), ("", "In the file: 1 place to mend")]
    {
        let mut world = Memory::with([("bad.yaml", text)]);
        let came = call(&mut world, &["review", "--as", "html", "bad.yaml"]);
        assert_eq!(came.status, 2);
        assert!(came.printed.contains(says) && !came.printed.contains("<b>"), "{}", came.printed);
    }
}
