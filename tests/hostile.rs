//! Files made to do harm are read within a second, and told about with a place.

use std::time::{Duration, Instant};

use undercroft::base::problem::ProblemKind;
use undercroft::base::text::SourceId;
use undercroft::yaml::path::Path;
use undercroft::yaml::scan::{LARGEST_FILE, read, read_bytes};
use undercroft::yaml::splice::put;
use undercroft::yaml::tree::{NodeId, Tree};
use undercroft::yaml::validate::{CompiledSchema, to_value, validate};

/// So many seconds; ten times as long where the program was built without optimization.
fn within(seconds: u64) -> Duration {
    Duration::from_secs(if cfg!(debug_assertions) { 10 * seconds } else { seconds })
}

/// Reads a text where the stack is small, checks it against a schema, follows every path, and drops it all.
fn within_a_second(text: &str) -> Vec<ProblemKind> {
    let text = text.to_owned();
    let work = move || {
        let start = Instant::now();
        let (tree, problems) = read(SourceId(0), &text);
        let taken = start.elapsed();
        for problem in &problems {
            assert!(text.get(problem.at.range()).is_some(), "{problem:?}");
        }
        let schema = CompiledSchema::new(serde_json::json!({ "type": "array" })).unwrap();
        drop(validate(&tree, &schema));
        if let Some(root) = tree.root() {
            drop(to_value(&tree, root));
            drop(Path::of_span(&tree, tree.node(root).unwrap().span));
        }
        if text.len() < 300_000 {
            drop(put(&tree, &text, &Path::root().key("a").key("b"), "1"));
        }
        drop(tree.clone());
        (taken, problems.iter().map(|problem| problem.kind).collect::<Vec<_>>())
    };
    let (taken, kinds) =
        std::thread::Builder::new().stack_size(2 * 1024 * 1024).spawn(work).unwrap().join().unwrap();
    assert!(taken < within(1), "{taken:?}");
    kinds
}

fn first(text: &str) -> ProblemKind {
    within_a_second(text)[0]
}

#[test]
fn aliases_that_repeat_each_other_are_stopped() {
    let mut lists = "a0: &a0 [x, x, x, x, x, x, x, x, x]\n".to_owned();
    let mut maps = "a0: &a0 {k: v}\n".to_owned();
    for level in 1..12 {
        let before = level - 1;
        let items = vec![format!("*a{before}"); 9].join(", ");
        lists.push_str(&format!("a{level}: &a{level} [{items}]\n"));
        maps.push_str(&format!("a{level}: &a{level} {{p: *a{before}, q: *a{before}, r: *a{before}}}\n"));
    }
    assert_eq!(first(&lists), ProblemKind::TooManyAliases);
    for level in 12..20 {
        maps.push_str(&format!("a{level}: &a{level} {{p: *a{0}, q: *a{0}, r: *a{0}}}\n", level - 1));
    }
    assert_eq!(first(&maps), ProblemKind::TooManyAliases);
    let long = format!("a: &a {}\nb: [{}]\n", "x".repeat(100_000), vec!["*a"; 1000].join(", "));
    assert_eq!(first(&long), ProblemKind::TooManyAliases);
}

#[test]
fn aliases_that_nest_each_other_are_stopped() {
    let mut chain = "- &a0 [x]\n".to_owned();
    for level in 1..2_000 {
        chain.push_str(&format!("- &a{level} [*a{}]\n", level - 1));
    }
    assert_eq!(first(&chain), ProblemKind::TooDeep);
    assert_eq!(first("a: &a [*a]\n"), ProblemKind::AliasToItself);
    assert_eq!(first("&a a: &b {c: *b}\n"), ProblemKind::AliasToItself);
}

#[test]
fn a_hundred_thousand_levels_are_refused() {
    let n = 100_000;
    assert_eq!(first(&"[".repeat(n)), ProblemKind::TooDeep);
    assert_eq!(first(&format!("a: {}{}\n", "[".repeat(n), "]".repeat(n))), ProblemKind::TooDeep);
    assert_eq!(first(&"{a: ".repeat(n)), ProblemKind::TooDeep);
    assert_eq!(first(&"- ".repeat(n)), ProblemKind::TooDeep);
    assert_eq!(first(&"? ".repeat(n)), ProblemKind::TooDeep);
    let steps: String = (0..1_000).map(|level| format!("{}a:\n", " ".repeat(level))).collect();
    assert_eq!(first(&steps), ProblemKind::TooDeep);
    assert_eq!(first(&format!("a: {}1{}\n", "[".repeat(60), "]".repeat(61))), ProblemKind::NotYaml);
}

#[test]
fn a_file_that_is_too_large_is_refused_before_it_is_read() {
    let line = vec![b'a'; 100_000_000];
    let start = Instant::now();
    let (tree, problems) = read_bytes(SourceId(0), &line);
    assert!(start.elapsed() < within(1), "{:?}", start.elapsed());
    assert_eq!((tree.nodes.len(), problems[0].kind), (0, ProblemKind::TooLarge));
    let (_, problems) = read_bytes(SourceId(0), &[b"\xff".as_slice(), &line].concat());
    assert_eq!(problems[0].kind, ProblemKind::TooLarge);
    assert_eq!(first(&format!("[{}]", "a,".repeat(400_000))), ProblemKind::TooLarge);
}

#[test]
fn the_largest_files_that_are_read_take_less_than_a_second() {
    let size = LARGEST_FILE - 100;
    assert_eq!(within_a_second(&format!("a: \"{}\"\n", "x".repeat(size))), []);
    assert_eq!(within_a_second(&format!("a: |\n{}", "  xxxxxxxxxxxxxxxxxx\n".repeat(size / 21))), []);
    assert_eq!(within_a_second(&format!("a: 1\n{}", "#\n".repeat(size / 2))), []);
    assert_eq!(within_a_second(&"# c\n".repeat(size / 4)), [ProblemKind::Empty]);
    assert_eq!(within_a_second(&"a".repeat(size)), []);
    assert_eq!(first(&"'".repeat(size - 1)), ProblemKind::NotClosed);
    assert_eq!(first(&"a: b:\n".repeat(size / 6)), ProblemKind::NotYaml);
    assert_eq!(first(&"\t\n".repeat(size / 2)), ProblemKind::Empty);
    assert_eq!(first(&"\ta: 1\n".repeat(size / 6)), ProblemKind::Tab);
    let keys: String = (0..40_000).map(|key| format!("k{key}: 1\n")).collect();
    assert_eq!(within_a_second(&keys), []);
    let repeated = within_a_second(&"k: 1\n".repeat(40_000));
    assert_eq!(repeated.len(), 39_999);
}

#[test]
fn zero_bytes_and_control_signs_stop_nothing() {
    assert_eq!(first("a: 1\n\0\0\0"), ProblemKind::NotText);
    assert_eq!(first(&"\0".repeat(1_000_000)), ProblemKind::NotText);
    let text = "\"\\u001b[31mred\": 1\nb\u{1b}[2J: x\nc: d: \u{202e}\u{9b}31m\n";
    let (tree, problems) = read(SourceId(0), text);
    assert_eq!(tree.pairs(NodeId(0))[0].key, "\u{1b}[31mred");
    assert_eq!(problems.iter().map(|problem| problem.kind).collect::<Vec<_>>(), [ProblemKind::NotYaml; 2]);
    assert_eq!(problems[0].found, "an invisible control sign (U+001B)");
    assert_eq!(problems[1].found, "c: d: \u{202e}\u{9b}31m", "what was found is kept as it is");
}

#[test]
fn four_thousand_wrong_entries_are_told_within_a_second() {
    let words =
        serde_json::json!({ "anyOf": [{ "enum": ["clay", "loam"] }, { "enum": ["unknown", "none", null] }] });
    let bed = serde_json::json!({ "type": "object", "properties": { "soil": words }, "additionalProperties": false });
    let schema = CompiledSchema::new(serde_json::json!({
        "type": "object",
        "additionalProperties": { "anyOf": [{ "type": "object", "additionalProperties": bed }, { "enum": ["unknown", "none", null] }] },
    }));
    let beds: String = (0..2_000).map(|bed| format!("  b{bed}: {{soil: mud, s{bed}: 1}}\n")).collect();
    let (tree, problems): (Tree, _) = read(SourceId(0), &format!("beds:\n{beds}"));
    assert_eq!(problems, []);
    let start = Instant::now();
    assert_eq!(validate(&tree, &schema.unwrap()).len(), 4_000);
    assert!(start.elapsed() < within(1), "{:?}", start.elapsed());
}
