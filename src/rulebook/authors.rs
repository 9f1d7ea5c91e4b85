//! Who made a rule what it is: for each of its fields the file and place, the amendment if one put it there,
//! and what it replaced.

use std::collections::BTreeMap;
use std::ops::Deref;
use std::sync::{Arc, OnceLock};

use super::checked::Citation;
use crate::base::text::Span;

/// Whose decision an amendment rests on.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Debug, Default)]
pub struct Decision {
    /// Who decided.
    pub by: String,
    /// The document that says so.
    pub document: String,
    /// The day of the decision, as 2025-03-01.
    pub on: String,
}

/// One field that an amendment changes.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct FieldChange {
    /// The field: `obligation`, `limits.clearance`, `source.section`.
    pub field: String,
    /// What its author saw there; nothing when there was no such field.
    pub was: Option<String>,
    /// What is to stand there; nothing when the field is to go.
    pub to: Option<String>,
    /// Where the change stands: its field's name in the amendment.
    pub at: Span,
    /// Where the new value stands.
    pub to_at: Span,
}

/// A local change of a rule of another book.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Amendment {
    /// The book that makes the change.
    pub book: String,
    /// Its name: its file's name without the ending.
    pub name: String,
    /// The book whose rule is changed.
    pub of_book: String,
    /// The rule that is changed.
    pub of_rule: String,
    /// The fingerprint of the rule that its author read.
    pub written_against: String,
    /// What it changes, by field.
    pub changes: Vec<FieldChange>,
    /// Whether the rule is withdrawn.
    pub withdraws: bool,
    /// Why.
    pub because: String,
    /// Whose decision it is.
    pub decided: Decision,
    /// Where it stands.
    pub at: Span,
    /// Where its cases stand in its file, the key included.
    pub cases_at: Option<Span>,
}

/// Who put a field where it is.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Author {
    /// The book in whose file it stands.
    pub book: String,
    /// Where it stands; for a field that was taken away, where that is said.
    pub at: Span,
    /// What stands there, in the author's own characters; empty for a field that was taken away.
    pub text: String,
    /// The amendment that put it there; the rule's own file when there is none.
    pub amendment: Option<Arc<Amendment>>,
    /// What stood there before; nothing when it stands as it was first written, or is new.
    pub replaced: Option<Box<Author>>,
}

/// A field of a rule as it stands in its own file.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Field {
    /// Its path: `because`, `source.section`, `limits.clearance`, `limits.clearance.words`.
    pub path: String,
    /// Where it stands.
    pub at: Span,
    /// What stands there.
    pub text: String,
}

/// Who put each field there, by the field's path: `because`, `limits.clearance`, `limits.clearance.words`. Most rules are
/// never asked for it, so the fields of a rule's own file are put in order when the first one is.
#[derive(Clone, Debug, Default)]
pub struct Fields {
    book: String,
    written: Vec<Field>,
    by_path: OnceLock<BTreeMap<String, Author>>,
}

impl Fields {
    /// The fields of a rule's own file in this book.
    #[must_use]
    pub fn written(book: &str, written: Vec<Field>) -> Self {
        Fields { book: book.to_owned(), written, by_path: OnceLock::new() }
    }

    /// The same with another author of one field.
    #[must_use]
    pub fn with(self, path: String, author: Author) -> Self {
        let mut by_path = self.by_path.get().cloned().unwrap_or_else(|| self.in_order());
        by_path.insert(path, author);
        Fields { book: self.book, written: Vec::new(), by_path: OnceLock::from(by_path) }
    }

    fn in_order(&self) -> BTreeMap<String, Author> {
        let author = |Field { path, at, text }: &Field| {
            let (book, text) = (self.book.clone(), text.clone());
            (path.clone(), Author { book, at: *at, text, amendment: None, replaced: None })
        };
        self.written.iter().map(author).collect()
    }
}

impl Deref for Fields {
    type Target = BTreeMap<String, Author>;

    fn deref(&self) -> &Self::Target {
        self.by_path.get_or_init(|| self.in_order())
    }
}

impl PartialEq for Fields {
    fn eq(&self, other: &Self) -> bool {
        **self == **other
    }
}

impl Eq for Fields {}

/// Who made a rule what it is.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Authorship {
    /// The book in whose folder the rule's own file lies.
    pub book: String,
    /// Who put each field there, by the field's path: `because`, `limits.clearance`, `limits.clearance.words`.
    pub fields: Fields,
    /// The amendments that were applied, those of the deepest book first.
    pub amendments: Vec<Arc<Amendment>>,
}

impl Authorship {
    /// The fields that an amendment put there or took away, with who did it, by path.
    pub fn amended(&self) -> impl Iterator<Item = (&str, &Author)> {
        // Without an amendment there is nothing to look for.
        let fields = (!self.amendments.is_empty()).then_some(&self.fields);
        fields
            .into_iter()
            .flat_map(|fields| fields.iter())
            .filter(|(_, author)| author.amendment.is_some())
            .map(|(field, author)| (field.as_str(), author))
    }
}

/// A rule of a book below that an amendment takes out of force.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Withdrawn {
    /// The book in whose folder the rule's own file lies.
    pub book: String,
    /// The rule's name.
    pub rule: String,
    /// Its title.
    pub title: String,
    /// The clause that it carries.
    pub source: Citation,
    /// Where the rule stands.
    pub at: Span,
    /// The amendment that withdraws it.
    pub amendment: Arc<Amendment>,
}
