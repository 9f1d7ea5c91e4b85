//! Words on lines: broken where there is a space, and a word that is wider than a line within itself, so that nothing
//! runs out of the paper.

use super::face::{Faces, Weight};

/// With what words are written.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub(super) enum Tone {
    #[default]
    Ink,
    Quiet,
    /// Words that lead somewhere.
    Leads,
    /// White, on a black ground.
    Ground,
}

/// What stands for the page of a name until the pages are known. It is not broken.
pub(super) const SOME_PAGE: &str = "page\u{a0}888";

/// How words look, and where they belong.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub(super) struct Style {
    pub(super) weight: Weight,
    pub(super) tone: Tone,
    /// Whether a line is drawn under them.
    pub(super) under: bool,
    /// The place in the tree of parts that they belong to; without one they adorn the page.
    pub(super) part: Option<usize>,
    /// The name they lead to.
    pub(super) to: Option<String>,
    /// The name whose page they tell in place of [`SOME_PAGE`].
    pub(super) page_of: Option<String>,
}

/// Words of one look.
#[derive(Clone, Debug)]
pub(super) struct Span {
    pub(super) words: String,
    pub(super) style: Style,
}

/// Words of one look on one line.
#[derive(Clone, Debug)]
pub(super) struct Run {
    /// Where they begin, from where their slab does.
    pub(super) x: f64,
    /// The line that letters stand on, down from the top of their slab.
    pub(super) y: f64,
    pub(super) size: f64,
    pub(super) wide: f64,
    pub(super) words: String,
    pub(super) style: Style,
}

/// A letter, of which span it is, and how wide.
#[derive(Clone, Copy)]
struct Letter {
    letter: char,
    span: usize,
    wide: f64,
}

/// Words on lines no wider than this, each line beginning at nought.
pub(super) fn broken(faces: &Faces, spans: &[Span], size: f64, wide: f64) -> Vec<Vec<Run>> {
    let mut desk = Desk { spans, size, lines: Vec::new(), line: Vec::new(), filled: 0.0 };
    let mut gap: Vec<Letter> = Vec::new();
    let mut word: Vec<Letter> = Vec::new();
    for (number, span) in spans.iter().enumerate() {
        for letter in span.words.chars() {
            let one = Letter { letter, span: number, wide: faces.wide(letter, span.style.weight) * size };
            if letter == ' ' {
                if !word.is_empty() {
                    desk.put(&mut gap, &mut word, wide);
                }
                gap.push(one);
            } else {
                word.push(one);
            }
        }
    }
    desk.put(&mut gap, &mut word, wide);
    desk.end(false);
    desk.lines
}

struct Desk<'a> {
    spans: &'a [Span],
    size: f64,
    lines: Vec<Vec<Run>>,
    line: Vec<Letter>,
    filled: f64,
}

fn width(letters: &[Letter]) -> f64 {
    letters.iter().map(|one| one.wide).sum()
}

/// After how many letters a word that is wider than a line is broken: behind a stroke or stop if one is near the end.
fn break_within(word: &[Letter], wide: f64) -> usize {
    let mut filled = 0.0;
    let fits = word.iter().take_while(|one| {
        filled += one.wide;
        filled <= wide
    });
    let most = fits.count().max(1);
    let good = |letter: char| matches!(letter, '/' | '.' | '-' | '_' | ':' | ',' | ';' | '=' | '>');
    let near = word.iter().take(most).rposition(|one| good(one.letter)).map_or(0, |at| at + 1);
    if near * 2 > most { near } else { most }
}

impl Desk<'_> {
    /// Puts a word behind what stands on the line, or on the next.
    fn put(&mut self, gap: &mut Vec<Letter>, word: &mut Vec<Letter>, wide: f64) {
        let needs = width(gap) + width(word);
        if self.line.is_empty() {
            gap.clear();
        } else if self.filled + needs > wide && !word.is_empty() {
            gap.clear();
            self.end(true);
        }
        while self.line.is_empty() && width(word) > wide && word.len() > 1 {
            let rest = word.split_off(break_within(word, wide));
            self.line.append(word);
            *word = rest;
            self.end(false);
        }
        self.line.append(gap);
        self.line.append(word);
        self.filled = width(&self.line);
    }

    /// Ends the line. One that goes on behind a space keeps it, so that its words are read apart.
    fn end(&mut self, goes_on: bool) {
        let letters = std::mem::take(&mut self.line);
        self.filled = 0.0;
        let mut runs: Vec<Run> = Vec::new();
        let mut x = 0.0;
        for group in letters.chunk_by(|a, b| a.span == b.span) {
            let Some(span) = group.first().and_then(|one| self.spans.get(one.span)) else { continue };
            let wide = width(group);
            runs.push(Run {
                x,
                y: 0.0,
                size: self.size,
                wide,
                words: group.iter().map(|one| one.letter).collect(),
                style: span.style.clone(),
            });
            x += wide;
        }
        if let (true, Some(last)) = (goes_on, runs.last_mut()) {
            last.words.push(' ');
        }
        if !runs.is_empty() {
            self.lines.push(runs);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lines(words: &str, wide: f64) -> Vec<String> {
        let faces = Faces::read().unwrap();
        let spans = [Span { words: words.to_owned(), style: Style::default() }];
        let lines = broken(&faces, &spans, 10.0, wide);
        for line in &lines {
            let filled: f64 = line.iter().map(|run| run.wide).sum();
            assert!(filled <= wide, "{line:?}");
        }
        lines.iter().map(|line| line.iter().map(|run| run.words.as_str()).collect()).collect()
    }

    #[test]
    fn words_are_broken_at_spaces_and_within_themselves_only_where_they_must() {
        assert_eq!(lines("a pipe of four inches", 55.0), ["a pipe of ", "four inches"]);
        assert_eq!(lines("foundation.areas.main.corner", 80.0), ["foundation.areas.", "main.corner"]);
        let long = lines(&format!("so {}", "x".repeat(100)), 60.0);
        assert_eq!(long.concat(), format!("so {}", "x".repeat(100)));
        assert_eq!(lines("", 60.0), Vec::<String>::new());
    }

    #[test]
    fn a_line_narrower_than_a_letter_still_ends() {
        let faces = Faces::read().unwrap();
        let spans = [Span { words: "wide".to_owned(), style: Style::default() }];
        assert_eq!(broken(&faces, &spans, 10.0, 1.0).len(), 4);
    }
}
