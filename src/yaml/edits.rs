//! Edits of a text: sorted, apart from each other, and made from the back.

use crate::base::text::Span;

/// One change: this stretch becomes this text.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Edit {
    /// What is replaced; empty where something is put in.
    pub span: Span,
    /// What stands there afterwards.
    pub text: String,
}

/// Changes of one text, in the order they stand, none touching the inside of another.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Edits {
    list: Vec<Edit>,
}

impl Edits {
    /// These changes; the same ones back if two of them overlap or put something in at one place.
    pub fn new(mut list: Vec<Edit>) -> Result<Self, Vec<Edit>> {
        list.sort();
        list.dedup();
        let clash = list.windows(2).any(|two| match two {
            [first, second] => {
                let (first, second) = (first.span, second.span);
                first.source == second.source && (second.start < first.end || first == second)
            }
            _ => false,
        });
        if clash { Err(list) } else { Ok(Edits { list }) }
    }

    /// The changes, in order.
    #[must_use]
    pub fn as_slice(&self) -> &[Edit] {
        &self.list
    }

    /// Takes in more changes. A change that both have is made once. If any two overlap, nothing is taken in,
    /// and the others are handed back.
    pub fn join(&mut self, more: Edits) -> Result<(), Edits> {
        let mut list = self.list.clone();
        list.extend(more.list.iter().cloned());
        match Edits::new(list) {
            Ok(both) => {
                *self = both;
                Ok(())
            }
            Err(_) => Err(more),
        }
    }

    /// The text with all changes made. A stretch that does not fit the text changes nothing.
    #[must_use]
    pub fn apply(&self, text: &str) -> String {
        let mut out = text.to_owned();
        for edit in self.list.iter().rev() {
            if out.get(edit.span.range()).is_some() {
                out.replace_range(edit.span.range(), &edit.text);
            }
        }
        out
    }
}
