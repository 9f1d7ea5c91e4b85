//! The first line of a section, set in otherwise than all the lines below it. The rest of such a section can be read,
//! and it is that one line that is wrong, not the next.

use crate::base::problem::{Lost, Problem, ProblemKind};
use crate::base::text::{SourceId, Span};

use super::tree::{NodeId, NodeKind, Tree};

/// So many lines that stand alike show where the lines of a section belong.
const ENOUGH: usize = 2;

/// A line of the text that says something.
#[derive(Clone, Copy)]
struct Line<'t> {
    /// Where its words start.
    start: usize,
    words: &'t str,
    margin: usize,
    number: usize,
}

impl<'t> Line<'t> {
    /// Its key, and what stands behind the colon without a remark.
    fn entry(self) -> Option<(&'t str, &'t str)> {
        let (key, value) = self.words.split_once(':')?;
        let plain = !key.is_empty() && key.chars().all(|c| c.is_alphanumeric() || matches!(c, '_' | '-'));
        let apart = value.is_empty() || value.starts_with(' ');
        let value = value.split(" #").next().unwrap_or(value).trim();
        (plain && apart).then_some((key, value))
    }
}

/// Text in which the odd lines are blanked out, every other byte at its place, with what is to be said of each.
pub(super) fn without_odd_lines(source: SourceId, text: &str) -> Option<(String, Vec<Problem>)> {
    let lines = lines(text);
    let mut blanked = text.to_owned();
    let mut problems = Vec::new();
    for at in 0..lines.len() {
        let Some((odd, next)) = odd_line(lines.get(at..).unwrap_or_default()) else { continue };
        let end = odd.start + odd.words.len();
        blanked.replace_range(odd.start..end, &" ".repeat(odd.words.len()));
        let section = section(lines.get(..=at).unwrap_or_default());
        let problem = Problem::new(ProblemKind::NotInLine, Span::new(source, odd.start, end))
            .found(odd.words)
            .also(
                Span::new(source, next.start, next.start + next.words.len()),
                "the lines below it stand here",
            )
            .lost(Lost { section, first: odd.number, last: odd.number });
        problems.push(problem);
    }
    (!problems.is_empty()).then_some((blanked, problems))
}

/// Lists the sections in which a line was blanked out as broken: what stood there may be anything.
pub(super) fn mark_broken(tree: &mut Tree, problems: &[Problem]) {
    for problem in problems {
        let mut at = tree.root();
        for key in problem.lost.iter().flat_map(|lost| &lost.section) {
            at = at.and_then(|at| tree.get(at, key)).map(|pair| pair.value);
        }
        tree.broken
            .extend(at.filter(|at| matches!(tree.node(*at).map(|node| &node.kind), Some(NodeKind::Map(_)))));
    }
    if !problems.is_empty() {
        tree.broken.push(NodeId(0));
    }
    tree.broken.sort_unstable();
    tree.broken.dedup();
}

/// The lines that are neither blank nor a remark.
fn lines(text: &str) -> Vec<Line<'_>> {
    let mut found = Vec::new();
    let mut at = 0;
    for (number, line) in text.split_inclusive('\n').enumerate() {
        let words = line.trim_start_matches(' ');
        let margin = line.len() - words.len();
        let trimmed = words.trim_end();
        if !trimmed.is_empty() && !trimmed.starts_with('#') {
            found.push(Line { start: at + margin, words: trimmed, margin, number: number + 1 });
        }
        at += line.len();
    }
    found
}

/// Whether below the first of these lines, the key of a section, one line with a whole entry stands otherwise than all
/// the others; with the line behind it.
fn odd_line<'t>(lines: &[Line<'t>]) -> Option<(Line<'t>, Line<'t>)> {
    let [head, odd, next, ..] = lines else { return None };
    let (_, nothing) = head.entry()?;
    let (_, value) = odd.entry()?;
    let inside = odd.margin > head.margin && next.margin > head.margin;
    if !nothing.is_empty()
        || !inside
        || odd.margin == next.margin
        || next.entry().is_none()
        || !is_whole(value)
    {
        return None;
    }
    let below = lines.get(2..)?.iter().take_while(|line| line.margin > head.margin);
    let (mut alike, mut like_it) = (0, 0);
    for line in below {
        alike += usize::from(line.margin == next.margin && line.entry().is_some());
        like_it += usize::from(line.margin == odd.margin);
    }
    // Further in than its siblings it stands where what belongs to one of them would.
    (alike >= ENOUGH && (like_it == 0 || odd.margin > next.margin)).then_some((*odd, *next))
}

/// Whether a value ends on its line, so that what stands further in below it cannot belong to it.
fn is_whole(value: &str) -> bool {
    let opened = |sign| value.matches(sign).count();
    !value.is_empty()
        && !value.starts_with(['|', '>', '&', '*', '!', '"', '\''])
        && opened('{') == opened('}')
        && opened('[') == opened(']')
}

/// The keys that lead to the section that the last of these lines begins.
fn section(lines: &[Line<'_>]) -> Vec<String> {
    let mut keys = Vec::new();
    let mut margin = usize::MAX;
    for line in lines.iter().rev().filter(|line| !line.words.starts_with('-')) {
        if line.margin < margin
            && let Some((key, _)) = line.entry()
        {
            keys.push(key.to_owned());
            margin = line.margin;
        }
    }
    keys.reverse();
    keys
}
