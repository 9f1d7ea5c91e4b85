//! Reading goes on whatever the file holds: files changed at random are read without a panic, every place
//! lies in the text and holds what it should, and a second reader (serde_yaml) reads the same values.

use std::path::PathBuf;

use serde_yaml::Value;
use undercroft::base::problem::{Problem, ProblemKind, Weight};
use undercroft::base::text::{SourceId, Span};
use undercroft::yaml::path::Path;
use undercroft::yaml::scan::{read, read_bytes};
use undercroft::yaml::tree::{Node, NodeId, NodeKind, Style, Tree};

const SOURCE: SourceId = SourceId(7);

/// A file with something of everything.
const SAMPLE: &str = r#"# A garden; nothing in it is real.
garden: 1
owner: {name: "R. \"Fern\"", phone: 'it''s 555', zone: Europe/Vienna}   # ü
looked_for:
  beds: {within: 20 ft of gate, by: J. Ames, on: 2026-05-12}
shed: &shed {locked: yes, area: 4.5, at: [18 ft, 24 ft, 11 ft 8 in], temp: -5 °F, pores: 40 µm, joy: 😀}
twin: *shed
beds:
  north_bed:
    soil: ½ loam
    rows: [[leek, 12], [bean, {days: 40}], pea: 3]
    note: >
      Sown in rows,
      two to a bed.

      Water it.
    sown:
    - 2026-05
    - unknown
    -   depth: 3 1/2 in
        seen: ~
  "south bed": none
  empty: {}
  gone: []
text: |+
  kept: as it is # really
    further in

fenced: "over
  two lines\tand \u00fc"
plain: over
  two lines
last:
"#;

/// Numbers that look thrown and are the same in every run: xorshift.
pub(crate) struct Dice(u64);

impl Dice {
    /// Dice that fall their own way for every seed.
    pub(crate) fn new(seed: u64) -> Self {
        let mut dice = Dice(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ 0x2545_f491_4f6c_dd1d);
        dice.throw();
        dice
    }

    fn throw(&mut self) -> u64 {
        self.0 |= u64::from(self.0 == 0);
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    /// A number below a limit.
    pub(crate) fn below(&mut self, limit: usize) -> usize {
        (self.throw() >> 11) as usize % limit.max(1)
    }

    /// One of several.
    pub(crate) fn one<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.below(of.len())]
    }
}

/// How many random files a test looks at: its own share, or as many as `UNDERCROFT_MUTATIONS` says.
pub(crate) fn share(own: u64) -> u64 {
    std::env::var("UNDERCROFT_MUTATIONS").ok().and_then(|count| count.parse().ok()).unwrap_or(own)
}

/// The sample and every example and rule that is there.
fn seeds() -> Vec<(String, String)> {
    let mut seeds = vec![
        ("sample".to_owned(), SAMPLE.to_owned()),
        ("sample in CRLF".to_owned(), SAMPLE.replace('\n', "\r\n")),
    ];
    let mut folders: Vec<PathBuf> = ["examples", "rules"]
        .iter()
        .map(|name| PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(name))
        .collect();
    let mut files = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).into_iter().flatten().flatten() {
            let path = entry.path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "yaml") {
                files.push(path);
            }
        }
    }
    files.sort();
    seeds.extend(
        files.iter().map(|path| (path.display().to_string(), std::fs::read_to_string(path).unwrap())),
    );
    seeds
}

/// Half of the time the sample, else any of them.
fn pick<'s>(dice: &mut Dice, seeds: &'s [(String, String)]) -> &'s (String, String) {
    let among = if dice.below(2) == 0 { 2 } else { seeds.len() };
    &seeds[dice.below(among)]
}

/// Signs that mean something in YAML, and signs that take several bytes.
const SIGNS: [&str; 46] = [
    ": ", ":", "- ", "-", "? ", ",", "[", "]", "{", "}", "#", " #", "&a ", "*a", "&shed ", "*shed", "!",
    "!!str ", "|", ">", "|-\n", "|+\n", ">2\n", "'", "\"", "%", "@", "`", "\t", "\n", "\r", "\r\n", "  ",
    "\n\n", "---\n", "...\n", "~", "<<: ", "½", "°", "µ", "😀", "\u{feff}", "\0", "\u{2028}", "\u{85}",
];

/// The same bytes with a few changes: bits flipped, stretches left out or doubled, signs put in.
fn mutated(dice: &mut Dice, seed: &[u8]) -> Vec<u8> {
    let mut bytes = seed.to_vec();
    for _ in 0..1 + dice.below(4) {
        let at = dice.below(bytes.len() + 1);
        let most = dice.one(&[2, 12, 200]);
        let length = dice.below(most);
        let end = (at + length).min(bytes.len());
        match dice.below(8) {
            0 if at < bytes.len() => bytes[at] ^= 1 << dice.below(8),
            1 => drop(bytes.drain(at..end)),
            2 => {
                let again = bytes[at..end].to_vec();
                let to = dice.below(bytes.len() + 1);
                bytes.splice(to..to, again);
            }
            _ => {
                let sign = dice.one(&SIGNS).as_bytes().to_vec();
                bytes.splice(at..at + dice.below(2).min(bytes.len() - at), sign);
            }
        }
    }
    bytes
}

/// Whether a tree and its problems keep what is promised of them, whatever the text.
fn sound(text: &str, tree: &Tree, problems: &[Problem]) {
    let slice = |span: Span| {
        assert_eq!(span.source, SOURCE);
        text.get(span.range()).unwrap_or_else(|| panic!("{span:?} of {} bytes", text.len()))
    };
    for problem in problems {
        slice(problem.at);
        let todo = undercroft::render::words::of(problem).todo;
        assert!(todo.len() > 10, "{problem:?}");
        for (span, _) in &problem.also {
            slice(*span);
        }
    }
    assert!(
        problems.windows(2).all(|two| two[0].at.start <= two[1].at.start || two[0].kind.name() == "not-text")
    );
    for comment in &tree.comments {
        let words = slice(comment.span);
        assert!(words.starts_with('#') && !words.contains(['\n', '\r']), "{words:?}");
    }
    let costs = |problem: &Problem| problem.lost.is_some() || problem.kind.weight() == Weight::Whole;
    let lost = problems.iter().any(costs);
    let whole = tree.broken.is_empty();
    assert!(whole || lost, "{problems:?}");
    assert!(tree.broken.windows(2).all(|two| two[0] < two[1]));
    for (number, node) in tree.nodes.iter().enumerate() {
        let id = NodeId(u32::try_from(number).unwrap());
        let words = slice(node.span);
        if !words.starts_with('*') {
            let odd_keys = problems.iter().any(|problem| problem.kind == ProblemKind::KeyNotAWord);
            one_node(tree, id, node, words, odd_keys, &slice);
        }
    }
}

fn one_node<'t>(
    tree: &Tree,
    id: NodeId,
    node: &Node,
    words: &str,
    odd_keys: bool,
    slice: &dyn Fn(Span) -> &'t str,
) {
    let inside = |span: Span| assert!(node.span.contains(span), "{span:?} in {node:?}");
    match &node.kind {
        // What stands where a fault kept the value from being read is not a value.
        NodeKind::Nothing => assert!(words.is_empty() || !tree.is_whole(id), "{words:?}"),
        NodeKind::Twice => assert!(!words.is_empty()),
        NodeKind::Scalar { text, style: Style::Plain } => {
            let folded = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
            assert_eq!(folded(text), folded(words));
            assert!(
                words == text || words.contains(['\n', '\r', '\u{85}', '\u{2028}']),
                "{words:?} {text:?}"
            );
        }
        NodeKind::Scalar { text, style: Style::SingleQuoted | Style::DoubleQuoted } => {
            assert!(
                words.len() > 1
                    && words.starts_with(['"', '\''])
                    && words.chars().next() == words.chars().next_back(),
                "{words:?}"
            );
            if !words.contains(['\n', '\r']) {
                let (again, _) = read(SOURCE, words);
                assert_eq!(again.text(NodeId(0)), Some(text.as_str()), "{words:?}");
            }
        }
        NodeKind::Scalar { .. } => assert!(words.starts_with(['|', '>']), "{words:?}"),
        NodeKind::List(items) => {
            items.iter().for_each(|item| inside(tree.node(*item).unwrap().span));
            assert!(words.starts_with(if node.flow { '[' } else { '-' }), "{words:?}");
            assert!(!node.flow || !tree.is_whole(id) || words.ends_with(']'), "{words:?}");
        }
        NodeKind::Map(pairs) => {
            for pair in pairs {
                inside(pair.key_span);
                inside(tree.node(pair.value).unwrap().span);
                let key = slice(pair.key_span);
                assert!(
                    key == pair.key || key.starts_with(['"', '\'', '?']) || key.contains(['\n', '\r']),
                    "{key:?} {:?}",
                    pair.key
                );
            }
            assert!(
                !node.flow
                    || odd_keys
                    || !words.starts_with('{')
                    || !tree.is_whole(id)
                    || words.ends_with('}'),
                "{words:?}"
            );
        }
    }
}

/// A node's path leads to the node, and its place leads to the path.
fn paths_lead_back(tree: &Tree, id: NodeId, path: &Path) {
    assert_eq!(path.resolve(tree).map(|(node, _)| node), Some(id));
    assert_eq!(Path::from_pointer(tree, &path.to_pointer()).as_ref(), Some(path));
    assert_eq!(Path::parse(&path.to_string()).as_ref(), Ok(path));
    for pair in tree.pairs(id) {
        paths_lead_back(tree, pair.value, &path.key(pair.key.as_str()));
    }
    for (at, item) in tree.items(id).iter().enumerate() {
        paths_lead_back(tree, *item, &path.item(at));
    }
}

#[test]
fn the_seeds_are_read_whole_and_their_places_hold_what_they_should() {
    for (name, text) in seeds() {
        let (tree, problems) = read(SOURCE, &text);
        assert_eq!(problems, [], "{name}");
        sound(&text, &tree, &problems);
        paths_lead_back(&tree, NodeId(0), &Path::root());
        for node in &tree.nodes {
            for pair in match &node.kind {
                NodeKind::Map(pairs) => pairs.as_slice(),
                _ => &[],
            } {
                let (found, key) = Path::of_span(&tree, pair.key_span).resolve(&tree).unwrap();
                let alias = text[pair.key_span.range()].starts_with('*');
                assert!(alias || (found == pair.value && key == Some(pair.key_span)), "{name}: {}", pair.key);
            }
        }
    }
}

#[test]
fn no_change_of_a_file_stops_the_reading() {
    let seeds = seeds();
    let mut whole = 0;
    let count = share(3_000);
    for seed in 0..count {
        let mut dice = Dice::new(seed);
        let (name, text) = pick(&mut dice, &seeds);
        let bytes = mutated(&mut dice, text.as_bytes());
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let result = std::panic::catch_unwind(|| {
            let (tree, problems) = read_bytes(SOURCE, &bytes);
            sound(&text, &tree, &problems);
            if tree.root().is_some() {
                paths_lead_back(&tree, NodeId(0), &Path::root());
            }
            problems.is_empty()
        });
        whole += u64::from(result.unwrap_or_else(|_| panic!("seed {seed}, from {name}:\n{text}\n{text:?}")));
    }
    assert!(whole > count / 10, "only {whole} of {count} changed files were read without a problem");
}

/// Where the second reader differs from the first by rule and not by mistake: it follows YAML 1.1 in what
/// ends a line, counts a byte order mark as a column, and gives no line end to a text of several lines that
/// ends with the file.
fn readers_differ(text: &str) -> bool {
    text.contains(['\u{85}', '\u{2028}', '\u{2029}', '\u{feff}'])
        || (!text.ends_with(['\n', '\r']) && text.contains(['|', '>']))
}

/// Whether both readers read the same.
fn alike(tree: &Tree, id: NodeId, value: &Value) -> bool {
    match (&tree.node(id).unwrap().kind, value) {
        (NodeKind::Nothing, Value::Null) => true,
        (NodeKind::Scalar { text, .. }, Value::String(other)) => text == other,
        (NodeKind::Scalar { text, style: Style::Plain }, value) => serde_yaml::from_str::<Value>(text)
            .is_ok_and(|other| match (&other, value) {
                (Value::Number(a), Value::Number(b)) if a.is_nan() && b.is_nan() => true,
                _ => other == *value,
            }),
        (NodeKind::List(items), Value::Sequence(others)) => {
            items.len() == others.len()
                && items.iter().zip(others).all(|(item, other)| alike(tree, *item, other))
        }
        (NodeKind::Map(pairs), Value::Mapping(others)) => {
            let key = |text: &str, key: &Value| match key {
                Value::String(other) => text == other,
                other => serde_yaml::from_str::<Value>(text).is_ok_and(|text| text == *other),
            };
            let same = |(pair, (name, other)): (&undercroft::yaml::tree::Pair, (&Value, &Value))| {
                key(&pair.key, name) && alike(tree, pair.value, other)
            };
            pairs.len() == others.len() && pairs.iter().zip(others).all(same)
        }
        _ => false,
    }
}

#[test]
fn a_second_reader_reads_the_same_values() {
    let seeds = seeds();
    for (name, text) in &seeds {
        let (tree, _) = read(SOURCE, text);
        let value: Value = serde_yaml::from_str(text).unwrap_or_else(|error| panic!("{name}: {error}"));
        assert!(alike(&tree, NodeId(0), &value), "{name}");
    }
    let (mut both, count) = (0, share(3_000));
    for seed in 0..count {
        let mut dice = Dice::new(seed ^ 0xd1ff_0000_0000);
        let (name, text) = pick(&mut dice, &seeds);
        let Ok(text) = String::from_utf8(mutated(&mut dice, text.as_bytes())) else { continue };
        let (tree, problems) = read(SOURCE, &text);
        let clean = problems.iter().all(|problem| problem.kind.weight() == Weight::Doubt);
        let Ok(value) = serde_yaml::from_str::<Value>(&text) else { continue };
        if !clean || readers_differ(&text) {
            continue;
        }
        both += 1;
        assert!(alike(&tree, NodeId(0), &value), "seed {seed}, from {name}:\n{text}\n{text:?}\n{value:?}");
    }
    assert!(both > count / 20, "only {both} of {count} changed files were read by both");
}
