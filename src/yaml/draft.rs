//! A text that is changed step by step, with the edits of the text it was at first that come to the same.

use super::edits::{Edit, Edits};
use super::path::Path;
use super::scan;
use super::splice;
use super::tree::Tree;
use crate::base::problem::Problem;
use crate::base::text::{SourceId, Span};

/// A stretch of the text as it is now.
#[derive(Clone, PartialEq, Eq, Debug)]
enum Piece {
    /// What stood in the first text from one byte to another.
    Kept(usize, usize),
    /// What was put in.
    Fresh(String),
}

impl Piece {
    fn len(&self) -> usize {
        match self {
            Piece::Kept(start, end) => end - start,
            Piece::Fresh(text) => text.len(),
        }
    }

    /// What is left of it before and behind a byte inside of it.
    fn cut(self, at: usize) -> (Piece, Piece) {
        match self {
            Piece::Kept(start, end) => (Piece::Kept(start, start + at), Piece::Kept(start + at, end)),
            Piece::Fresh(text) => (
                Piece::Fresh(text.get(..at).unwrap_or("").to_owned()),
                Piece::Fresh(text.get(at..).unwrap_or("").to_owned()),
            ),
        }
    }
}

/// A text that is being changed.
#[derive(Clone, Debug)]
pub struct Draft {
    source: SourceId,
    pieces: Vec<Piece>,
    text: String,
    tree: Tree,
}

impl Draft {
    /// A text, unchanged so far.
    #[must_use]
    pub fn new(source: SourceId, text: &str) -> Self {
        let (tree, _) = scan::read(source, text);
        let pieces = vec![Piece::Kept(0, text.len())];
        Draft { source, pieces, text: text.to_owned(), tree }
    }

    /// The text as it is now.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The same as a tree.
    #[must_use]
    pub fn tree(&self) -> &Tree {
        &self.tree
    }

    /// Gives an entry that is there another value.
    ///
    /// # Errors
    /// When nothing stands there, or the value cannot stand there.
    pub fn set(&mut self, path: &Path, value: &str) -> Result<(), Problem> {
        let edits = splice::set_value(&self.tree, &self.text, path, value)?;
        self.make(&edits);
        Ok(())
    }

    /// Writes an entry that is not there: a key behind the key `after`, or the next entry of a list.
    ///
    /// # Errors
    /// When it is there already, or cannot stand there.
    pub fn add(&mut self, path: &Path, value: &str, after: Option<&str>) -> Result<(), Problem> {
        let edits = match path.split_last() {
            Some((parent, super::path::Step::Key(key))) => {
                splice::insert_key(&self.tree, &self.text, &parent, key, value, after)?
            }
            _ => splice::put(&self.tree, &self.text, path, value)?,
        };
        self.make(&edits);
        Ok(())
    }

    /// Takes an entry away.
    ///
    /// # Errors
    /// When nothing stands there, or something else would change with it.
    pub fn remove(&mut self, path: &Path) -> Result<(), Problem> {
        let edits = splice::remove_key(&self.tree, &self.text, path)?;
        self.make(&edits);
        Ok(())
    }

    /// Puts a remark behind an entry in its line, where the line ends with it.
    pub fn remark(&mut self, path: &Path, words: &str) {
        let node = path.resolve(&self.tree).and_then(|(node, _)| self.tree.node(node));
        let Some(end) = node.map(|node| node.span.end as usize) else { return };
        let rest = self.text.get(end..).unwrap_or("").split(['\n', '\r']).next().unwrap_or("");
        if rest.trim().is_empty() && !words.contains(['\n', '\r']) {
            let at = Span::new(self.source, end, end);
            let edit = Edit { span: at, text: format!("   # {words}") };
            self.make(&Edits::new(vec![edit]).unwrap_or_default());
        }
    }

    fn make(&mut self, edits: &Edits) {
        for edit in edits.as_slice().iter().rev() {
            self.replace(edit.span.range(), &edit.text);
        }
        self.text = edits.apply(&self.text);
        self.tree = scan::read(self.source, &self.text).0;
    }

    fn replace(&mut self, range: std::ops::Range<usize>, text: &str) {
        let (before, rest) = split(std::mem::take(&mut self.pieces), range.start);
        let (_, behind) = split(rest, range.end - range.start);
        self.pieces = before;
        if !text.is_empty() {
            self.pieces.push(Piece::Fresh(text.to_owned()));
        }
        self.pieces.extend(behind);
    }

    /// The edits of the first text that make this one of it.
    #[must_use]
    pub fn edits(&self, first: &str) -> Edits {
        let mut list = Vec::new();
        let (mut at, mut fresh) = (0, String::new());
        let end = Piece::Kept(first.len(), first.len());
        for piece in self.pieces.iter().chain([&end]) {
            match piece {
                Piece::Fresh(text) => fresh.push_str(text),
                Piece::Kept(start, stop) => {
                    if *start > at || !fresh.is_empty() {
                        let text = std::mem::take(&mut fresh);
                        list.push(Edit { span: Span::new(self.source, at, *start), text });
                    }
                    at = *stop;
                }
            }
        }
        // They come in order and apart from each other.
        Edits::new(list).unwrap_or_default()
    }
}

/// The pieces before a byte and those behind it.
fn split(pieces: Vec<Piece>, at: usize) -> (Vec<Piece>, Vec<Piece>) {
    let (mut before, mut behind) = (Vec::new(), Vec::new());
    let mut left = at;
    for piece in pieces {
        let length = piece.len();
        if left == 0 {
            behind.push(piece);
        } else if length <= left {
            before.push(piece);
            left -= length;
        } else {
            let (first, second) = piece.cut(left);
            before.push(first);
            behind.push(second);
            left = 0;
        }
    }
    (before, behind)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn edits_of_the_first_text_come_to_what_step_by_step_came_to() {
        let first = "a: 1 ft # one\nb: {c: x, d: y}\nlist:\n  - one\n";
        let mut draft = Draft::new(SourceId(0), first);
        let path = |text: &str| Path::parse(text).unwrap();
        draft.set(&path("a"), "2 ft 6 in").unwrap();
        draft.add(&path("b.e"), "new", Some("c")).unwrap();
        draft.set(&path("b.e"), "newer").unwrap();
        draft.remove(&path("b.d")).unwrap();
        draft.add(&path("list[1]"), "two", None).unwrap();
        draft.set(&path("a"), "3 ft").unwrap();
        let edits = draft.edits(first);
        assert_eq!(edits.apply(first), draft.text());
        assert_eq!(draft.text(), "a: 3 ft # one\nb: {c: x, e: newer}\nlist:\n  - one\n  - two\n");
        assert!(
            draft.edits(first).as_slice().iter().all(|edit| !edit.span.is_empty() || !edit.text.is_empty())
        );
    }

    #[test]
    fn a_text_that_nothing_was_done_to_has_no_edits() {
        let draft = Draft::new(SourceId(0), "a: 1\n");
        assert_eq!(draft.edits("a: 1\n").as_slice(), []);
    }
}
