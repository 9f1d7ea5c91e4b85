//! From text to tree. Kept: every key and value with its place, the style of every value, every comment,
//! both places of a repeated key. Lost: tags and marks (`!tag`, `&mark`) once they are followed. Cannot
//! fail: what cannot be read becomes a problem, and the rest of the file is read all the same.
//!
//! A fault costs only the section it stands in. When the text as a whole is not sound YAML, it is cut
//! before every line that starts a key at the margin, and each piece is read alone; the section that holds
//! the fault keeps what was read before it and is listed as broken.

use super::build::Builder;
use super::noted::Noted;
use super::odd_line::{mark_broken, without_odd_lines};
use super::seems::seems;
use super::tree::{NodeId, NodeKind, Tree};
use crate::base::problem::{Problem, ProblemKind, Weight};
use crate::base::text::{SourceId, Span};

/// The largest file that is read, in bytes. A design of two thousand lines has a fortieth of that.
pub const LARGEST_FILE: usize = 4 * 1024 * 1024;

/// The most keys, values and lists that one file may hold, repeats through aliases included.
pub const MOST_NODES: usize = 100_000;

/// How deep lists and keys may be nested.
pub const DEEPEST: usize = 64;

/// After so many faults the rest of a file is left unread.
const MOST_FAULTS: usize = 20;

/// Reads bytes that may not be text. The places are those of the text that results when every bad byte
/// is shown as `\u{fffd}` (`String::from_utf8_lossy`), and that text is read as far as it goes.
#[must_use]
pub fn read_bytes(source: SourceId, bytes: &[u8]) -> (Tree, Vec<Problem>) {
    if bytes.len() > LARGEST_FILE {
        return (Tree::nothing(source), vec![too_large(source, bytes.len())]);
    }
    if let Some(what) = seems(bytes) {
        let problem = Problem::new(ProblemKind::NotText, Span::new(source, 0, 0)).found(what);
        return (Tree::nothing(source), vec![problem]);
    }
    let error = match std::str::from_utf8(bytes) {
        Ok(text) => return read(source, text),
        Err(error) => error,
    };
    let text = String::from_utf8_lossy(bytes);
    let start = error.valid_up_to();
    let at = Span::new(source, start, start + '\u{fffd}'.len_utf8());
    let count = text.matches('\u{fffd}').count();
    let found =
        if count == 1 { "the marked one".to_owned() } else { format!("{count}, the first of them marked") };
    let problem = Problem::new(ProblemKind::StrayBytes, at).found(found);
    let (tree, mut problems) = read(source, &text);
    let place = problems.partition_point(|one| one.at.start <= problem.at.start);
    problems.insert(place, problem);
    (tree, problems)
}

/// Reads a text. The tree holds all that could be read; the problems, in the order they stand, say what
/// could not.
#[must_use]
pub fn read(source: SourceId, text: &str) -> (Tree, Vec<Problem>) {
    read_noted(source, text, &[])
}

/// Reads a text of which the events may have been written down before ([`Source::noted`]): the same comes of it, in less
/// time.
///
/// [`Source::noted`]: crate::base::text::Source::noted
#[must_use]
pub fn read_noted(source: SourceId, text: &str, noted: &[u8]) -> (Tree, Vec<Problem>) {
    if text.len() > LARGEST_FILE {
        return (Tree::nothing(source), vec![too_large(source, text.len())]);
    }
    if let Some(nul) = text.find('\0') {
        let problem = Problem::new(ProblemKind::NotText, Span::new(source, nul, nul + 1))
            .found("a file for another program, or one that was damaged: it holds a zero byte");
        let (mut tree, mut problems) = read(source, text.get(..nul).unwrap_or(""));
        if !tree.nodes.is_empty() && tree.is_whole(NodeId(0)) {
            tree.broken = open_end(&tree);
        }
        problems.retain(|problem| problem.kind != ProblemKind::Empty);
        problems.push(problem);
        return (tree, problems);
    }
    let mut whole = Builder::new(source, text);
    let taken = match Noted::of(text, noted) {
        Some(events) => whole.take(events, 0..text.len(), false),
        None => whole.read_piece(0..text.len(), false),
    };
    let mut builder = match taken {
        Ok(()) => whole,
        Err(stop) => {
            if let Some((blanked, odd)) = without_odd_lines(source, text) {
                let (mut tree, mut problems) = read(source, &blanked);
                mark_broken(&mut tree, &odd);
                problems.extend(odd);
                problems.sort_by_key(|problem| (problem.at, problem.kind));
                return (tree, problems);
            }
            in_pieces(source, text).unwrap_or_else(|| {
                whole.break_off(stop, 0, text.len());
                whole
            })
        }
    };
    if builder.holds_nothing() {
        builder.add_problem(
            Problem::new(ProblemKind::Empty, Span::new(source, 0, text.len()))
                .found("nothing but spaces and comments"),
        );
    }
    builder.finish()
}

fn too_large(source: SourceId, length: usize) -> Problem {
    Problem::new(ProblemKind::TooLarge, Span::new(source, 0, 0))
        .found(format!("{length} bytes"))
        .accepts(format!("a file of at most {LARGEST_FILE} bytes"))
}

/// The nodes that were still open where a text breaks off: the last of each level.
fn open_end(tree: &Tree) -> Vec<NodeId> {
    let mut open = Vec::new();
    let mut at = tree.root();
    while let Some(id) = at {
        open.push(id);
        at = match tree.node(id).map(|node| &node.kind) {
            Some(NodeKind::List(items)) => items.last().copied(),
            Some(NodeKind::Map(pairs)) => pairs.last().map(|pair| pair.value),
            _ => None,
        }
        .filter(|next| *next > id);
    }
    open
}

/// Reads each section at the margin alone. Nothing if the text has no such sections.
fn in_pieces(source: SourceId, text: &str) -> Option<Builder<'_>> {
    let starts = section_starts(text);
    if starts.len() < 2 {
        return None;
    }
    let mut builder = Builder::new(source, text);
    builder.open_root();
    let mut faults = 0;
    for (at, start) in starts.iter().enumerate() {
        let start = if at == 0 { 0 } else { *start };
        let end = starts.get(at + 1).copied().unwrap_or(text.len());
        if let Err(stop) = builder.read_piece(start..end, true) {
            faults += 1;
            let ends = stop.problem.kind.weight() == Weight::Whole || faults >= MOST_FAULTS;
            builder.break_off(stop, 1, if ends { text.len() } else { end });
            if ends {
                break;
            }
        }
    }
    builder.close_root();
    Some(builder)
}

/// Where lines start that begin a key at the margin.
fn section_starts(text: &str) -> Vec<usize> {
    let mut starts = Vec::new();
    let mut line_start = 0;
    for line in text.split_inclusive(['\n', '\r']) {
        let words = line.trim_start_matches('\u{feff}');
        let margin = words.chars().next();
        if margin.is_some_and(|c| c.is_alphanumeric() || matches!(c, '"' | '\'' | '_')) && words.contains(':')
        {
            starts.push(line_start);
        }
        line_start += line.len();
    }
    starts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::problem::Lost;
    use crate::yaml::tree::{Pair, Style};

    const S: SourceId = SourceId(0);

    /// The tree in short: every value with the very words its place holds.
    fn sketch(text: &str, tree: &Tree, id: NodeId) -> String {
        let node = tree.node(id).unwrap();
        let words = &text[node.span.range()];
        let broken = if tree.is_whole(id) { "" } else { "?" };
        match &node.kind {
            NodeKind::Nothing => format!("nothing@{}{broken}", node.span.start),
            NodeKind::Twice => format!("twice {words}"),
            NodeKind::Scalar { text, style: Style::Plain } if text == words => text.clone(),
            NodeKind::Scalar { text, .. } => format!("{text:?} as {words:?}"),
            NodeKind::List(items) => {
                let items: Vec<_> = items.iter().map(|item| sketch(text, tree, *item)).collect();
                format!("[{}]{broken}", items.join(", "))
            }
            NodeKind::Map(pairs) => {
                let pair = |pair: &Pair| {
                    format!("{}: {}", &text[pair.key_span.range()], sketch(text, tree, pair.value))
                };
                format!("{{{}}}{broken}", pairs.iter().map(pair).collect::<Vec<_>>().join(", "))
            }
        }
    }

    fn clean(text: &str) -> String {
        let (tree, problems) = read(S, text);
        assert_eq!(problems, []);
        sketch(text, &tree, NodeId(0))
    }

    fn faulty(text: &str) -> (String, Vec<(ProblemKind, String, String)>) {
        let (tree, problems) = read(S, text);
        let sketch = tree.root().map_or_else(String::new, |root| sketch(text, &tree, root));
        let told = problems
            .iter()
            .map(|problem| (problem.kind, text[problem.at.range()].to_owned(), problem.accepts.clone()))
            .collect();
        (sketch, told)
    }

    #[test]
    fn every_value_stands_where_it_is_written() {
        assert_eq!(
            clean("a:\nb: ~\nd:   # x\ne:\n- 1\n-\n- - 2\n  - \"ü\"\nf: {a: , b, c: [x: y, {}, ]}\n"),
            "{a: nothing@2, b: ~, d: nothing@10, e: [1, nothing@25, [2, \"ü\" as \"\\\"ü\\\"\"]], \
             f: {a: nothing@47, b: nothing@51, c: [{x: y}, {}]}}"
        );
    }

    #[test]
    fn block_texts_reach_from_their_sign_to_their_last_line() {
        assert_eq!(
            clean(
                "a: |\n\n  text\n  more\n\n# c\nb: >-2\n    x\n\nc: | # note\n\nd: |+\n\nl:\n  - &m |-\n   last"
            ),
            "{a: \"\\ntext\\nmore\\n\" as \"|\\n\\n  text\\n  more\", b: \"  x\" as \">-2\\n    x\", c: \"\" as \"|\", \
             d: \"\\n\" as \"|+\", l: [\"last\" as \"|-\\n   last\"]}"
        );
    }

    #[test]
    fn lists_and_maps_end_with_their_last_entry() {
        let text = "a:\n  - x: 1\n    y:\n      z: 2\n\n# end\nb: {c: [1, 2]}\n";
        let (tree, _) = read(S, text);
        let a = tree.get(NodeId(0), "a").unwrap().value;
        assert_eq!(&text[tree.node(a).unwrap().span.range()], "- x: 1\n    y:\n      z: 2");
        let b = tree.get(NodeId(0), "b").unwrap().value;
        assert_eq!(&text[tree.node(b).unwrap().span.range()], "{c: [1, 2]}");
        assert!(tree.node(b).unwrap().flow && !tree.node(a).unwrap().flow);
    }

    #[test]
    fn line_ends_and_byte_order_marks_move_no_place() {
        assert_eq!(clean("\u{feff}a: 1\r\nb: 2\rc:\t\"x\"\r\n"), "{a: 1, b: 2, c: \"x\" as \"\\\"x\\\"\"}");
    }

    #[test]
    fn a_repeated_key_names_both_places_and_neither_counts() {
        let (tree, problems) = read(S, "{a: 1, b: 2, \"a\": 3}\n");
        let a = tree.get(NodeId(0), "a").unwrap().value;
        assert_eq!(tree.node(a).unwrap().kind, NodeKind::Twice);
        assert_eq!(tree.pairs(NodeId(0)).len(), 2);
        assert_eq!(problems[0].kind, ProblemKind::DuplicateKey);
        assert_eq!(problems[0].at.range(), 13..16);
        assert_eq!(problems[0].also[0].0.range(), 1..2);
    }

    #[test]
    fn an_alias_repeats_what_it_names_and_stands_where_it_is_written() {
        let text = "a: &m {x: 1}\nb: *m\n&k c: *k\n";
        let (tree, problems) = read(S, text);
        assert_eq!(problems, []);
        let b = tree.get(NodeId(0), "b").unwrap().value;
        assert_eq!(&text[tree.node(b).unwrap().span.range()], "*m");
        let x = tree.get(b, "x").unwrap();
        assert_eq!(tree.text(x.value), Some("1"));
        assert_eq!(&text[x.key_span.range()], "*m");
        assert_eq!(tree.text(tree.get(NodeId(0), "c").unwrap().value), Some("c"));
    }

    #[test]
    fn an_alias_to_nothing_is_kept_as_text_and_told() {
        let (sketch, told) = faulty("a: *important*\nb: 1\n");
        assert_eq!(sketch, "{a: *important*, b: 1}");
        assert_eq!(told[0].0, ProblemKind::UnknownName);
        assert_eq!(told[0].1, "*important*");
    }

    #[test]
    fn an_alias_within_what_it_repeats_is_refused() {
        let (_, told) = faulty("a: &m {x: *m}\n");
        assert_eq!((told[0].0, told[0].1.as_str()), (ProblemKind::AliasToItself, "*m"));
    }

    #[test]
    fn a_key_must_be_a_word() {
        let (sketch, told) = faulty("? [a, b]\n: 1\nc: 2\n: 3\n");
        assert_eq!(sketch, "{c: 2}");
        let places: Vec<_> = told.iter().map(|told| (told.0, told.1.as_str())).collect();
        assert_eq!(places, [(ProblemKind::KeyNotAWord, "[a, b]"), (ProblemKind::KeyNotAWord, "")]);
    }

    #[test]
    fn a_second_document_is_not_read() {
        let (sketch, told) = faulty("a: 1\n---\nb: 2\n");
        assert_eq!(sketch, "{a: 1}?");
        assert_eq!((told[0].0, told[0].1.as_str()), (ProblemKind::SeveralDocuments, "---"));
    }

    #[test]
    fn a_file_of_nothing_says_so() {
        for text in ["", "# only this\n", "---\n", "\u{feff}\r\n"] {
            let (tree, problems) = read(S, text);
            assert!(tree.nodes.is_empty());
            assert_eq!(problems.iter().map(|p| p.kind).collect::<Vec<_>>(), [ProblemKind::Empty], "{text:?}");
        }
    }

    #[test]
    fn a_comment_that_may_have_been_part_of_the_value_is_told() {
        for (text, comment) in [
            ("note: unit #4\n", "#4"),
            ("wire: 3 in #10 wire\n", "#10 wire"),
            ("unit: #4\n", "#4"),
            ("- no. #7\n", "#7"),
            ("{a: no. #7\n}\n", "#7"),
        ] {
            let (_, told) = faulty(text);
            assert_eq!(told.len(), 1, "{text}");
            assert_eq!((told[0].0, told[0].1.as_str()), (ProblemKind::SwallowedByComment, comment));
        }
        for text in [
            "a: 4 ft  #soil\n",
            "a: 4 ft # soil\n",
            "a: 4 ft #---\n",
            "a: \"4 ft\" #soil\n",
            "a: #soil\n  b: 1\n",
            "#soil\na: x#4\n",
            "a: [1] #soil\n",
        ] {
            assert_eq!(faulty(text).1, [], "{text}");
        }
    }

    #[test]
    fn the_quoted_form_offered_for_a_swallowed_value_is_right() {
        let (_, told) = faulty("note: it's unit #4\n");
        assert!(told[0].2.contains("'it''s unit #4'"), "{}", told[0].2);
    }

    #[test]
    fn a_fault_costs_only_its_own_section() {
        let text = "a: 1\nb:\n  x: 1\n  y: [1, 2\nc:2\nd: 'open\ne: {f: \"g\"}\nh: i: j\n";
        let (sketch, told) = faulty(text);
        assert_eq!(
            sketch,
            "{a: 1, b: {x: 1, y: [1]?}?, d: nothing@32?, e: {f: \"g\" as \"\\\"g\\\"\"}, h: nothing@54?}?"
        );
        let places: Vec<_> = told.iter().map(|told| told.1.as_str()).collect();
        assert_eq!(places, ["[1, 2", "c:2", "'open", "h: i: j"]);
    }

    #[test]
    fn marks_hold_from_one_section_to_the_next_when_the_file_has_a_fault() {
        let (sketch, told) = faulty("a: &m 5 ft\nb: c: d\ne: *m\n");
        assert!(sketch.contains("e: \"5 ft\" as \"*m\""), "{sketch}");
        assert_eq!(told.len(), 1);
    }

    #[test]
    fn what_is_wrong_is_told_at_its_place() {
        use ProblemKind as K;
        for (text, kind, place, hint) in [
            ("a:\n\tb: 1\n", K::Tab, "\tb: 1", ""),
            ("a:\n  b: c\n\td: 1\n", K::Tab, "\td: 1", ""),
            ("a: 1\nb:2\nc: 3\n", K::NoColon, "b:2", "b: 2"),
            ("a:\n  b: 1\n  c:2\n  d: 3\n", K::NoColon, "c:2", "c: 2"),
            ("a:\n  b: 1\n  cat dog\n  d: 3\n", K::NoColon, "cat dog", "cat: dog"),
            ("a:\n  b: 1\n  cat = dog\n  d: 3\n", K::NoColon, "cat = dog", "cat: dog"),
            ("a:\n  cat\n    d: 3\n", K::NoColon, "cat", "cat:"),
            ("a: 1\nb 2\n", K::NoColon, "b 2", "b: 2"),
            ("a: 'x\nb: 2\n", K::NotClosed, "'x", ""),
            ("a: [1, 2\nb: 3\n", K::NotClosed, "[1, 2", ""),
            ("a: {x: 1, y: 2\nb: 3\n", K::NotClosed, "{x: 1, y: 2", ""),
            ("a: {x: 1 y: 2}\nb: 3\n", K::NoComma, "y", ""),
            ("a:\n  b: {x\n  c: 1\n  d: 2\n", K::NotClosed, "{x", ""),
            ("a:\n  b: {x: 1\n      y: 2}\n  d: 2\n", K::NoComma, "y", ""),
            ("a: {x: 1, y: bath z: {u: 2}}\nb: 3\n", K::NoComma, "z", ""),
            ("a:\n  b: 1\n c: 2\n", K::NotInLine, "c: 2", ""),
            ("a: 1\n  b: 2\n", K::NotInLine, "b: 2", ""),
            ("a: x #y\n  z\n", K::NotYaml, "#y", "in quotes if the `#` belongs to it"),
            ("a: @x\n", K::NotYaml, "@x", "text that starts with `@` in quotes"),
            ("a: 6\" pipe\nb: \"6\" pipe\n", K::NotYaml, "pipe", "nothing behind the closing quote"),
            ("a: \"x\\q\"\n", K::NotYaml, "\"x\\q\"", "single quotes"),
            ("a: - x\n", K::NotYaml, "- x", "a line of its own"),
            ("a: b: c\n", K::NotYaml, "a: b: c", "one key to a line"),
            ("%YAML 1.2\n---\na: 1\n", K::NotYaml, "%YAML 1.2", "starts with `%`"),
            ("a: 1\nb: }\n", K::NotYaml, "}", "in quotes"),
        ] {
            let (_, problems) = read(S, text);
            let fault = problems.iter().find(|problem| problem.lost.is_some());
            let fault = fault.unwrap_or_else(|| panic!("{text:?}: {problems:?}"));
            assert_eq!((fault.kind, &text[fault.at.range()]), (kind, place), "{text:?}");
            let hints = format!("{} {}", fault.accepts, fault.nearest.as_deref().unwrap_or(""));
            assert!(hints.contains(hint), "{text:?}: {hints}");
        }
    }

    #[test]
    fn the_lines_and_the_section_that_are_not_read_are_told() {
        let lost = |text: &str| {
            read(S, text).1.into_iter().find_map(|problem| problem.lost).map(|lost| *lost).unwrap()
        };
        let here = |section: &[&str], first, last| Lost {
            section: section.iter().map(|key| (*key).to_owned()).collect(),
            first,
            last,
        };
        let text = "a: 1\nb:\n  c:\n    d: 1\n\te: 2\n    f: 3\n\n# on z\nz: 1\n";
        assert_eq!(lost(text), here(&["b", "c"], 5, 6));
        assert_eq!(lost("a: 1\nb 2\nc: 3\n"), here(&[], 2, 2));
    }

    #[test]
    fn bytes_that_are_no_text_are_placed_and_the_rest_is_read() {
        let (tree, problems) = read_bytes(S, b"a: 1\nb: \xbd in\nc: 2\n");
        assert_eq!(problems[0].kind, ProblemKind::StrayBytes);
        assert_eq!(problems[0].at.range(), 8..11);
        assert_eq!(tree.text(tree.get(NodeId(0), "c").unwrap().value), Some("2"));
        let (tree, problems) = read_bytes(S, b"\xff\xfea\0:\0");
        assert!(tree.nodes.is_empty());
        assert_eq!(problems[0].found, "text saved as UTF-16");
    }

    #[test]
    fn a_zero_byte_ends_the_reading() {
        let (sketch, told) = faulty("a: 1\nb: [x, \0y]\nc: 3\n");
        assert_eq!(sketch, "{a: 1, b: [x]?}?");
        assert_eq!(told.last().unwrap().0, ProblemKind::NotText);
    }

    #[test]
    fn a_tag_is_not_lost_in_silence() {
        let (sketch, told) = faulty("a: !careful here\n");
        assert_eq!(sketch, "{a: here}");
        assert_eq!((told[0].0, told[0].1.as_str()), (ProblemKind::BadText, "!careful"));
    }

    #[test]
    fn a_long_run_of_comment_lines_is_read() {
        let text = format!("{}a:\n{}  b: 1\n", "# x\n".repeat(500), "  # y\n".repeat(500));
        let (tree, problems) = read(S, &text);
        assert_eq!(problems, []);
        assert_eq!(tree.comments.len(), 1000);
    }
}
