//! Entries in words, for a page that tells many of them.

use std::cell::RefCell;
use std::collections::HashMap;
use std::rc::Rc;

use crate::base::value::EntryPath;
use crate::design::said::in_words;

/// Entries in words, each put together once for a page, however often it is told there.
#[derive(Debug, Default)]
pub struct Worded(RefCell<HashMap<EntryPath, Rc<str>>>);

impl Worded {
    /// The entry in words.
    pub(super) fn of(&self, entry: &EntryPath) -> Rc<str> {
        if let Some(words) = self.0.borrow().get(entry) {
            return Rc::clone(words);
        }
        let words: Rc<str> = in_words(entry.as_str()).into();
        self.0.borrow_mut().insert(entry.clone(), Rc::clone(&words));
        words
    }
}
