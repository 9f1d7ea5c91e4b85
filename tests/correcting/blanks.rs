//! Blanks for what is to be measured.

use undercroft::app::host::memory::Memory;
use undercroft::correct::blanks::blanks;
use undercroft::render::corrections::remark;
use undercroft::review::judged::judged;
use undercroft::review::{Explained, Input, review};

use crate::commands::{call, example};
use crate::promises::BOOKS;

#[test]
fn blanks_change_no_verdict_and_every_other_line_stays() {
    let mut entries = 0;
    for number in ["03", "05"] {
        let text = example(number);
        let input = Input { bytes: text.as_bytes(), explained: Explained::OnThePage, ..Input::default() };
        let of = review(&input, &BOOKS);
        let made = blanks(&of, &input, &BOOKS, &remark);
        entries += made.entries.len();
        let then = Input { bytes: made.text.as_bytes(), ..input.clone() };
        let (before, after) = (judged(&input, &BOOKS), judged(&then, &BOOKS));
        let comes = |judged: &undercroft::review::judged::Judged| {
            judged.clauses.iter().map(|(key, came)| (key.clone(), came.comes)).collect::<Vec<_>>()
        };
        assert_eq!(comes(&before), comes(&after), "{number}");
        assert_eq!(before.problems.len(), after.problems.len(), "{number}");
        for path in &made.entries {
            let (tree, _) = undercroft::yaml::scan::read(undercroft::review::DESIGN, &made.text);
            let (node, _) = path.resolve(&tree).unwrap();
            assert_eq!(tree.text(node), Some("unknown"), "{path}");
        }
        // A second time there is nothing to put in.
        let again = blanks(&review(&then, &BOOKS), &then, &BOOKS, &remark);
        assert_eq!(again.entries, [], "{number}");
    }
    assert!(entries >= 5, "{entries} blanks");
}

#[test]
fn a_blank_says_beside_it_what_to_measure_and_is_written_when_asked() {
    let text = "undercroft: 1\njob:\n  work: new system\n  stage: design\n  rulebooks:\n    epa-1994: adopted\nbefore_drilling:\n  vermiculite: no\n";
    let mut world = Memory::with([("design.yaml", text)]);
    let came = call(&mut world, &["correct", "design.yaml", "--blanks"]);
    assert!(came.told.contains("Nothing was written"), "{}", came.told);
    let came = call(&mut world, &["correct", "design.yaml", "--blanks", "--write"]);
    assert_eq!(came.status, 0, "{}", came.told);
    let after = String::from_utf8(world.files["design.yaml"].clone()).unwrap();
    let line = after.lines().find(|line| line.trim_start().starts_with("post_tension:")).unwrap();
    assert!(line.starts_with("  post_tension: unknown   # measure: "), "{line}");
    assert!(text.lines().all(|line| after.lines().any(|then| then == line)), "{after}");
}
