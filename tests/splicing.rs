//! Edits of files change what they should and nothing else. Which values a changed file holds is told by a
//! second reader (serde_yaml), not by the one under test.

use serde_yaml::Value;
use undercroft::base::text::SourceId;
use undercroft::yaml::edits::Edits;
use undercroft::yaml::path::{Path, Step};
use undercroft::yaml::scan::read;
use undercroft::yaml::splice::{insert_key, lay_over, put, remove_key, set_value};
use undercroft::yaml::tree::Tree;

use crate::reading::{Dice, share};

fn tree(text: &str) -> Tree {
    let (tree, problems) = read(SourceId(0), text);
    assert_eq!(problems, [], "{text}");
    tree
}

fn set(text: &str, path: &str, new: &str) -> String {
    let edits = set_value(&tree(text), text, &Path::parse(path).unwrap(), new);
    edits.unwrap_or_else(|problem| panic!("{text}\n{path}: {new}\n{problem:?}")).apply(text)
}

fn insert(text: &str, parent: &str, key: &str, new: &str, after: Option<&str>) -> String {
    let edits = insert_key(&tree(text), text, &Path::parse(parent).unwrap(), key, new, after);
    edits.unwrap_or_else(|problem| panic!("{text}\n{parent} {key}: {new}\n{problem:?}")).apply(text)
}

fn remove(text: &str, path: &str) -> String {
    let edits = remove_key(&tree(text), text, &Path::parse(path).unwrap());
    edits.unwrap_or_else(|problem| panic!("{text}\n{path}\n{problem:?}")).apply(text)
}

#[test]
fn a_value_is_set_in_place_and_its_comment_stays() {
    assert_eq!(set("a: 1  # one\nb: 2\n", "a", "10 ft"), "a: 10 ft  # one\nb: 2\n");
    assert_eq!(
        set("beds: {north: {soil: loam}, south: x}\n", "beds.north.soil", "clay"),
        "beds: {north: {soil: clay}, south: x}\n"
    );
    assert_eq!(set("a:   # open\nb: 2\n", "a", "5"), "a: 5   # open\nb: 2\n");
    assert_eq!(set("a: {b: , c}\n", "a.c", "5"), "a: {b: , c: 5}\n");
    assert_eq!(set("rows:\n  - a\n  -\n  - c\n", "rows[1]", "b"), "rows:\n  - a\n  - b\n  - c\n");
    assert_eq!(set("a: [1, [2, 3]]\n", "a[1][0]", "x, y"), "a: [1, [\"x, y\", 3]]\n");
}

#[test]
fn a_section_gives_way_to_a_value_and_a_value_to_a_section() {
    assert_eq!(set("a:  # note\n  b: 1\n  c: 2\nd: 3\n", "a", "unknown"), "a: unknown  # note\nd: 3\n");
    assert_eq!(set("a: unknown  # note\nd: 3\n", "a", "b: 1\nc: 2"), "a:  # note\n  b: 1\n  c: 2\nd: 3\n");
    assert_eq!(set("a: 1\r\nd: 3\r\n", "a", "- x\n- y"), "a:\r\n  - x\r\n  - y\r\nd: 3\r\n");
    assert_eq!(set("a: {b: 1}\n", "a.b", "c: 1\nd: [2, 3]"), "a: {b: {c: 1, d: [2, 3]}}\n");
    assert_eq!(set("a:\n- 1\n- 2\nb: x\n", "a", "k: v"), "a:\n  k: v\nb: x\n");
    assert_eq!(set("- a: 1\n  b: 2\n- c\n", "[0]", "x: 1\ny: 2"), "- x: 1\n  y: 2\n- c\n");
}

#[test]
fn a_text_of_several_lines_fits_its_place() {
    assert_eq!(set("a: x # c\nb: 1\n", "a", "|\n  one\n  two"), "a: | # c\n  one\n  two\nb: 1\n");
    assert_eq!(set("a: |\n    one\n\n    two\nb: 1\n", "a", "gone"), "a: gone\nb: 1\n");
    assert_eq!(set("a: {b: 1}\n", "a.b", "|\n  one\n  two"), "a: {b: \"one\\ntwo\\n\"}\n");
}

#[test]
fn a_key_is_put_in_the_way_its_section_is_written() {
    assert_eq!(
        insert("a:\n    b: 1  # x\n\nc: 2\n", "a", "d", "3", None),
        "a:\n    b: 1  # x\n    d: 3\n\nc: 2\n"
    );
    assert_eq!(
        insert("a: {b: 1, c: 2}\n", "a", "d", "3 in, or so", None),
        "a: {b: 1, c: 2, d: \"3 in, or so\"}\n"
    );
    assert_eq!(insert("a: {b: 1, c: 2}\n", "a", "d", "3", Some("b")), "a: {b: 1, d: 3, c: 2}\n");
    assert_eq!(insert("a: {}\n", "a", "d", "3", None), "a: {d: 3}\n");
    assert_eq!(
        insert("a: {\n  b: 1, # x\n  c: 2 # y\n}\n", "a", "d", "3", None),
        "a: {\n  b: 1, # x\n  c: 2, # y\n  d: 3\n}\n"
    );
    assert_eq!(
        insert("a: {\n  b: 1,\n  c: 2,\n}\n", "a", "d", "3", Some("b")),
        "a: {\n  b: 1,\n  d: 3,\n  c: 2,\n}\n"
    );
    assert_eq!(insert("a: [b: 1]\n", "a[0]", "d", "3", None), "a: [{b: 1, d: 3}]\n");
    assert_eq!(insert("- a: 1\n  b: 2\n- c: 3", "[1]", "d", "4", None), "- a: 1\n  b: 2\n- c: 3\n  d: 4");
    assert_eq!(insert("a: 1\r\n", "", "b", "2", None), "a: 1\r\nb: 2\r\n");
    assert_eq!(insert("a: |+\n  x\n\nb: 1\n", "", "c", "2", Some("a")), "a: |+\n  x\n\nc: 2\nb: 1\n");
    assert_eq!(insert("a: 1\n", "", "no: 4", "x", None), "a: 1\n\"no: 4\": x\n");
    assert_eq!(insert("a:\nb: 1\n", "a", "c", "2", None), "a:\n  c: 2\nb: 1\n");
}

#[test]
fn sections_that_are_missing_are_made() {
    assert_eq!(insert("a: 1\n", "b.c", "d", "2", None), "a: 1\nb:\n  c:\n    d: 2\n");
    assert_eq!(insert("a: {x: 1}\n", "a.b.c", "d", "2", None), "a: {x: 1, b: {c: {d: 2}}}\n");
    let text = "a:\n  - x\n";
    let path = Path::parse("a[1]").unwrap();
    assert_eq!(
        put(&tree(text), text, &path, "k: 1\nl: 2").unwrap().apply(text),
        "a:\n  - x\n  - k: 1\n    l: 2\n"
    );
    assert_eq!(
        lay_over("# empty\n", &[("a.b", "1"), ("a.rows[0].x", "2")], &[]).unwrap(),
        "# empty\na:\n  b: 1\n  rows:\n    - x: 2\n"
    );
}

#[test]
fn a_key_goes_with_its_value_and_nothing_else() {
    assert_eq!(
        remove("a: 1\n# about b\nb:\n  c: 2\n  d: 3  # x\n\ne: 4\n", "b"),
        "a: 1\n# about b\n\ne: 4\n"
    );
    assert_eq!(remove("a: {b: 1, c: 2, d: 3}\n", "a.b"), "a: {c: 2, d: 3}\n");
    assert_eq!(remove("a: {b: 1, c: 2, d: 3}\n", "a.d"), "a: {b: 1, c: 2}\n");
    assert_eq!(remove("a: {b: 1}\n", "a.b"), "a: {}\n");
    assert_eq!(remove("a:\n  b: 1\nc: 2\n", "a.b"), "a: {}\nc: 2\n");
    assert_eq!(remove("- a: 1\n  b: 2\n- c\n", "[0].a"), "- b: 2\n- c\n");
    assert_eq!(remove("- a: 1\n  b: 2\n- c\n", "[0]"), "- c\n");
    assert_eq!(remove("a:\n  - 1\n", "a[0]"), "a: []\n");
    assert_eq!(remove("a: 1\r\nb: 2", "b"), "a: 1\r\n");
}

#[test]
fn what_cannot_be_done_safely_is_refused() {
    let refused = |text: &str, path: &str, new: &str| {
        put(&tree(text), text, &Path::parse(path).unwrap(), new)
            .map_err(|problem| problem.kind.name())
            .unwrap_err()
    };
    assert_eq!(refused("a: &m {x: 1}\nb: *m\n", "b.x", "2"), "wrong-shape");
    assert_eq!(refused("a: &m {x: 1}\nb: *m\n", "a.x", "2"), "bad-text");
    assert_eq!(refused("a: none\n", "a.b", "2"), "wrong-shape");
    assert_eq!(refused("a: 1\n", "a", "[1, 2"), "bad-text");
    assert_eq!(refused("a: {b: 1}\n", "a.b", "no. #4"), "bad-text");
    assert_eq!(refused("a: [1]\n", "a[3]", "2"), "unknown-name");
    let text = "a: 1\n";
    assert_eq!(
        insert_key(&tree(text), text, &Path::root(), "a", "2", None).unwrap_err().kind.name(),
        "duplicate-key"
    );
    assert_eq!(
        remove_key(&tree(text), text, &Path::parse("b").unwrap()).unwrap_err().kind.name(),
        "unknown-name"
    );
    assert_eq!(lay_over(text, &[("a..b", "1")], &[]).unwrap_err().kind.name(), "bad-text");
}

#[test]
fn edits_that_overlap_are_handed_back() {
    let text = "a: 1\nb: 2\n";
    let path = |path: &str| Path::parse(path).unwrap();
    let mut edits = set_value(&tree(text), text, &path("a"), "10").unwrap();
    let other = set_value(&tree(text), text, &path("b"), "20").unwrap();
    edits.join(other).unwrap();
    assert_eq!(edits.apply(text), "a: 10\nb: 20\n");
    let clash = set_value(&tree(text), text, &path("a"), "11").unwrap();
    assert_eq!(edits.join(clash.clone()), Err(clash));
    edits.join(edits.clone()).unwrap();
    assert_eq!(edits.apply(text), "a: 10\nb: 20\n");
}

/// A file of random sections, lists and texts in every style. Line ends and indentation are its own.
fn random_file(dice: &mut Dice) -> String {
    let width = 1 + dice.below(4);
    let mut out = String::new();
    if dice.below(8) == 0 {
        out.push('\u{feff}');
    }
    random_section(dice, &mut out, 0, width, 3);
    // The second reader drops the last line end of a text of several lines that the file does not end.
    if dice.below(6) == 0 && !out.contains(['|', '>']) {
        out = out.trim_end().to_owned();
    }
    match dice.below(3) {
        0 => out.replace('\n', "\r\n"),
        _ => out,
    }
}

fn random_word(dice: &mut Dice) -> &'static str {
    dice.one(&[
        "10 ft 6 in",
        "loam",
        "½ in",
        "unknown",
        "\"no. 4, wet\"",
        "'it''s'",
        "{}",
        "[]",
        "40 µm",
        "-5 degF",
        "x#y",
        "a:b",
    ])
}

fn random_flow(dice: &mut Dice, depth: usize) -> String {
    let count = dice.below(4);
    let list = dice.below(2) == 0;
    let entries: Vec<String> = (0..count)
        .map(|at| {
            let value = if depth > 0 && dice.below(3) == 0 {
                random_flow(dice, depth - 1)
            } else {
                random_word(dice).to_owned()
            };
            if list { value } else { format!("k{at}: {value}") }
        })
        .collect();
    let parting = dice.one(&[", ", ",", ",\n          "]);
    let inner = entries.join(parting);
    if list { format!("[{inner}]") } else { format!("{{{inner}}}") }
}

fn random_section(dice: &mut Dice, out: &mut String, column: usize, width: usize, depth: usize) {
    for at in 0..1 + dice.below(4) {
        if dice.below(5) == 0 {
            out.push_str(dice.one(&["\n", "# a note\n", "        # far in\n"]));
        }
        out.push_str(&format!(
            "{:column$}{}:",
            "",
            if dice.below(9) == 0 { format!("\"q {at}\"") } else { format!("k{at}") }
        ));
        random_value(dice, out, column, width, depth);
    }
}

fn random_value(dice: &mut Dice, out: &mut String, column: usize, width: usize, depth: usize) {
    let comment = dice.one(&["", "", "  # said", " # ü"]);
    let inner = column + width;
    match dice.below(if depth > 0 { 11 } else { 7 }) {
        0 => out.push_str(&format!("{comment}\n")),
        1 => out.push_str(&format!(" {}{comment}\n", random_flow(dice, 2))),
        2 => {
            let sign = dice.one(&["|", ">", "|-", "|+", ">-"]);
            out.push_str(&format!(
                " {sign}{comment}\n{:inner$}one: 1\n\n{:inner$}two # 2\n{}",
                "",
                "",
                dice.one(&["", "\n", "\n\n"])
            ));
        }
        3 => out.push_str(&format!("\n{:inner$}{}{comment}\n", "", random_word(dice))),
        4..=6 => out.push_str(&format!(" {}{comment}\n", random_word(dice))),
        7 | 8 => {
            out.push_str(&format!("{comment}\n"));
            random_section(dice, out, inner, width, depth - 1);
        }
        kind => {
            out.push_str(&format!("{comment}\n"));
            let dash = if kind == 9 { inner } else { column };
            for _ in 0..1 + dice.below(3) {
                out.push_str(&format!("{:dash$}-", ""));
                if dice.below(3) == 0 {
                    out.push_str(" first: 1\n");
                    out.push_str(&format!("{:1$}k9:", "", dash + 2));
                    random_value(dice, out, dash + 2, width, depth - 1);
                } else {
                    out.push_str(&format!(" {}\n", random_word(dice)));
                }
            }
        }
    }
}

/// What the second reader reads. It takes a byte order mark for a column of the first line, so it gets none.
fn second_reader(text: &str) -> Value {
    let text = text.trim_start_matches('\u{feff}');
    serde_yaml::from_str(text).unwrap_or_else(|error| panic!("{error}\n{text}"))
}

/// Every path of a file.
fn paths(value: &Value, here: &Path, out: &mut Vec<Path>) {
    out.push(here.clone());
    match value {
        Value::Mapping(map) => {
            map.iter().for_each(|(key, value)| paths(value, &here.key(key.as_str().unwrap()), out))
        }
        Value::Sequence(list) => {
            list.iter().enumerate().for_each(|(at, value)| paths(value, &here.item(at), out))
        }
        _ => {}
    }
}

fn value_at<'v>(value: &'v mut Value, steps: &[Step]) -> &'v mut Value {
    steps.iter().fold(value, |value, step| match step {
        Step::Key(key) => value.as_mapping_mut().unwrap().get_mut(key.as_str()).unwrap(),
        Step::Item(number) => value.as_sequence_mut().unwrap().get_mut(*number).unwrap(),
    })
}

/// Makes the edits, looks that the rest of the bytes is there, and that lines end as they did.
fn applied(text: &str, edits: &Edits) -> String {
    let out = edits.apply(text);
    let (mut kept, mut from) = (Vec::new(), 0);
    for edit in edits.as_slice() {
        kept.push(&text[from..edit.span.range().start]);
        from = edit.span.range().end;
    }
    kept.push(&text[from..]);
    let mut rest = out.as_str();
    for (part, edit) in kept.iter().zip(edits.as_slice().iter().map(|edit| edit.text.as_str()).chain([""])) {
        rest = rest.strip_prefix(part).unwrap().strip_prefix(edit).unwrap();
    }
    assert_eq!(rest, "");
    if text.contains("\r\n") {
        assert!(!out.replace("\r\n", "").contains('\n'), "{text:?}\n{out:?}");
    } else {
        assert!(!out.contains('\r'));
    }
    out
}

#[test]
fn a_change_changes_its_own_path_and_no_other() {
    let values = [
        "7 ft",
        "{a: 1, b: [x, \"y, z\"]}",
        "a: 1\nb:\n  - x\n  - c: 2\n",
        "- p\n- q: 1\n  r: 2\n",
        "|\n  one: 1\n  two\n",
        "'q # r'",
    ];
    let mut done = [0_usize; 3];
    for seed in 0..share(4_000) {
        let mut dice = Dice::new(seed);
        let text = random_file(&mut dice);
        let before: Value = second_reader(&text);
        let mut all = Vec::new();
        paths(&before, &Path::root(), &mut all);
        let path = all[dice.below(all.len())].clone();
        let new = dice.one(&values);
        let new_value: Value = serde_yaml::from_str(new).unwrap();
        let tree = tree(&text);
        let mut after = before.clone();
        let what = dice.below(3);
        let edits = match what {
            0 => {
                *value_at(&mut after, &path.steps) = new_value;
                set_value(&tree, &text, &path, new)
            }
            1 => {
                let Value::Mapping(map) = value_at(&mut after, &path.steps) else { continue };
                let keys: Vec<String> = map.keys().map(|key| key.as_str().unwrap().to_owned()).collect();
                map.insert("fresh".into(), new_value);
                let behind = if keys.is_empty() || dice.below(2) == 0 {
                    None
                } else {
                    Some(keys[dice.below(keys.len())].as_str())
                };
                insert_key(&tree, &text, &path, "fresh", new, behind)
            }
            _ => {
                let Some((parent, last)) = path.split_last() else { continue };
                match (value_at(&mut after, &parent.steps), last) {
                    (Value::Mapping(map), Step::Key(key)) => drop(map.shift_remove(key.as_str())),
                    (Value::Sequence(list), Step::Item(number)) => drop(list.remove(*number)),
                    _ => unreachable!(),
                }
                remove_key(&tree, &text, &path)
            }
        };
        let told = || format!("seed {seed}, {path}, {new:?}\n{text}\n{text:?}");
        let edits = edits.unwrap_or_else(|problem| panic!("{problem:?}\n{}", told()));
        let out = applied(&text, &edits);
        let read = second_reader(&out);
        assert_eq!(read, after, "{}\n=>\n{out}", told());
        done[what] += 1;
    }
    assert!(done.iter().all(|count| *count > 300), "{done:?}");
}
